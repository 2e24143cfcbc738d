"""Ordinary valves, as a plant has hundreds of: none is stopped, and each says how many rings it takes.

The valves are of our own, from memory of what is usual at each size, no source: what is checked is that the rules let them through.
"""

from __future__ import annotations

from typing import Any, Final

import pandas as pd
from told import Tell

from sheetcalc.calculations.run import calculate

#: Valve, size, stem, bore, depth, nose, thread of the gland studs; lengths in mm where the thread is metric, else in inches.
_RISING: Final = (
    ("gate", "NPS 1/2", 10, 20, 32, 18, "M8"), ("gate", "NPS 3/4", 12, 22, 36, 18, "M8"), ("globe", "NPS 1", 14, 27, 42, 22, "M10"),
    ("globe", "NPS 1 1/2", 18, 31, 45, 22, "M10"), ("gate", "NPS 2", 20, 36, 52, 25, "M12"), ("gate", "NPS 3", 24, 40, 55, 26, "M12"),
    ("gate", "NPS 4", 28, 44, 60, 28, "M12"), ("gate", "NPS 6", 32, 52, 70, 34, "M16"), ("globe", "NPS 8", 36, 56, 75, 36, "M16"),
    ("gate", "NPS 10", 40, 60, 80, 38, "M16"), ("gate", "NPS 12", 45, 69, 90, 45, "M20"), ("gate", "NPS 16", 55, 79, 100, 48, "M20"),
    ("gate", "NPS 20", 60, 88, 115, 55, "M24"), ("gate", "NPS 24", 70, 102, 130, 62, "M24"),
    ("gate", "NPS 1/2", 3 / 8, 3 / 4, 1.25, 0.75, "5/16-18 UNC"), ("globe", "NPS 1", 1 / 2, 1, 1.625, 0.875, "3/8-16 UNC"),
    ("gate", "NPS 2", 3 / 4, 1.25, 2, 1.125, "1/2-13 UNC"), ("gate", "NPS 3", 1, 1.625, 2.25, 1.25, "1/2-13 UNC"),
    ("gate", "NPS 4", 1.125, 1.75, 2.375, 1.25, "1/2-13 UNC"), ("globe", "NPS 6", 1.25, 2, 2.75, 1.5, "5/8-11 UNC"),
    ("gate", "NPS 8", 1.375, 2.125, 3, 1.5, "5/8-11 UNC"), ("gate", "NPS 12", 1.75, 2.75, 3.625, 1.875, "3/4-10 UNC"),
    ("gate", "NPS 18", 2.25, 3.25, 4, 2, "7/8-9 UNC"), ("gate", "NPS 24", 2.75, 4, 5, 2.5, "1-8 UNC"),
)  # fmt: skip
_CONTROL: Final = (
    ("control", "NPS 1/2", 9, 19, 40, 20, "M8"), ("control", "NPS 1", 10, 22, 45, 22, "M8"), ("control", "NPS 2", 12, 25, 50, 24, "M10"),
    ("control", "NPS 3", 14, 27, 55, 25, "M10"), ("control", "NPS 6", 20, 36, 70, 30, "M12"), ("control", "NPS 8", 25, 41, 75, 32, "M12"),
    ("control", "NPS 1", 3 / 8, 7 / 8, 1.75, 0.875, "5/16-18 UNC"), ("control", "NPS 2", 1 / 2, 1, 2, 1, "3/8-16 UNC"),
    ("control", "NPS 4", 3 / 4, 1.25, 2.5, 1.125, "1/2-13 UNC"),
)  # fmt: skip
_QUARTER: Final = (
    ("ball", "NPS 1/2", 10, 18, 22, 14, "M6"), ("ball", "NPS 1", 14, 24, 28, 16, "M8"), ("ball", "NPS 3", 22, 35, 36, 20, "M10"),
    ("butterfly", "NPS 6", 20, 33, 38, 20, "M10"), ("butterfly", "NPS 12", 32, 48, 48, 26, "M12"), ("ball", "NPS 8", 45, 65, 60, 32, "M16"),
    ("butterfly", "NPS 24", 60, 84, 75, 40, "M20"), ("ball", "NPS 2", 5 / 8, 1, 1.125, 0.625, "5/16-18 UNC"),
    ("plug", "NPS 4", 1.25, 1.875, 1.75, 0.9375, "1/2-13 UNC"),
)  # fmt: skip
_INSTRUMENT: Final = (
    ("instrument", "NPS 1/4", 4, 10, 14, 8, ""), ("instrument", "NPS 1/4", 5, 11, 16, 9, ""), ("instrument", "NPS 1/2", 6, 12, 18, 10, ""),
    ("instrument", "NPS 1/2", 8, 16, 24, 13, ""), ("instrument", "NPS 1/4", 3 / 16, 7 / 16, 0.625, 0.375, ""),
    ("instrument", "NPS 1/2", 1 / 4, 5 / 8, 0.875, 0.5, ""),
)  # fmt: skip
#: What each family has besides: motion, material, fluid, degrees Celsius or Fahrenheit, bar or psi.
_SERVICE: Final[dict[str, tuple[str, str, str, float, float]]] = {
    "rising": ("rising", "graphite braid", "steam", 180, 10), "control": ("rising", "graphite braid", "steam", 160, 6),
    "quarter": ("quarter-turn", "PTFE braid", "water", 60, 10), "instrument": ("rising-rotating", "PTFE braid", "water", 60, 6),
}  # fmt: skip
_STUDS: Final[dict[str, Any]] = {"gland_stud_grade": "ASTM A193 B7", "stud_lubricant": "machine oil"}


def _frame() -> pd.DataFrame:
    rows: list[dict[str, Any]] = []
    for family, valves in (("rising", _RISING), ("control", _CONTROL), ("quarter", _QUARTER), ("instrument", _INSTRUMENT)):
        motion, material, fluid, degrees, bar = _SERVICE[family]
        for kind, size, stem, bore, depth, nose, thread in valves:
            us = "UNC" in thread or bore < 2
            gland: dict[str, Any] = {"gland_kind_entered": "packing nut"}
            if thread:
                gland = {"gland_stud_count_entered": 2.0, "gland_stud_thread": thread} | _STUDS
            rows.append({
                "tag": f"{kind} {size}", "unit_set": "US" if us else "metric", "stem_diameter_entered": float(stem),
                "box_bore_entered": float(bore), "box_depth_entered": float(depth), "nose_length_entered": float(nose),
                "packing_material": material, "fluid_kind_entered": fluid, "stem_motion_entered": motion, "section_list_entered": "both",
                "fluid_temperature_entered": degrees * 1.8 + 32 if us else float(degrees),
                "line_pressure_entered": bar * 14.5 if us else float(bar), **gland,
            })  # fmt: skip
    return pd.DataFrame(rows).astype(object)


def test_no_ordinary_valve_is_stopped(tell: Tell) -> None:
    """Rising, control, quarter-turn and instrument valves, NPS 1/4 to 24: each gets rings, a gap above 0 and an order line."""
    frame = _frame()
    out = calculate(frame)
    for row in range(len(out)):
        one = out.iloc[row]
        tell(
            f"{frame['tag'].iloc[row]}: stem {frame['stem_diameter_entered'].iloc[row]:g}, section {one['packing_section']:.4g} mm, "
            f"{one['ring_count']:g} rings, spacer {one['spacer_height']:.3g} mm, gap {one['gland_gap_start']:.1f} to "
            f"{one['gland_gap_end']:.1f} mm, {one['state']}. {one['all_look']}"
        )

    assert len(out) >= 43
    assert out.loc[out["state"].isin(["STOP", "MISSING", "SIZED"]), ["all_trouble"]].to_numpy().tolist() == []
    assert (out["gland_gap_end"] > 0).all()
    assert (out["ring_count"] >= 2).all()
    assert (out["bulk_length"] > 0).all()
