"""Generated valves for the agreement of workbook and core: believable ones, exact boundaries, blanks and bad values.

Everything is drawn from one seed. Lengths are made in mm and handed over in the unit of the row's unit set, as a
planner's list would have them.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pandas as pd

from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import get
from sheetcalc.reference import tables

COUNT = 6000
SEED = 20261125

_LENGTHS = tuple(name for name in entry_names() if get(name).unit == "mm")
#: The text 28 is no number here, though a sheet that multiplies it would make it one.
# A text such as "28" is left to LibreOffice: IronCalc counts a text that looks like a number, as Excel and LibreOffice do not.
_BAD: tuple[Any, ...] = ("see drawing", 46158.0, 1e9, 0.0, -5.0, None, "28,5 mm?", 1e300, "#DIV/0!")


def _maybe(rng: np.random.Generator, share: float, values: Any) -> Any:
    """The values in a share of the rows, blank in the others."""
    out = np.asarray(values, dtype=object).copy()
    out[rng.random(len(out)) >= share] = None
    return out


def _believable(rng: np.random.Generator, count: int) -> pd.DataFrame:
    """Valves as a plant has them, in mm, with overrides and readings on many."""
    frame = pd.DataFrame({name: np.full(count, None, dtype=object) for name in entry_names()})
    section = rng.choice(np.arange(30, 131), count) / 10
    frame["tag"] = [f"V-{number}" for number in range(1, count + 1)]
    frame["unit_set"] = rng.choice(np.array(["metric", "US", "Metric", "us"], dtype=object), count, p=[0.45, 0.45, 0.05, 0.05])
    stem = rng.integers(40, 800, count) / 10 + 6
    frame["stem_diameter_entered"] = stem
    frame["box_bore_entered"] = stem + 2 * section
    depth = section * rng.integers(2, 13, count) + rng.integers(0, 400, count) / 20
    frame["box_depth_entered"] = depth
    frame["nose_length_entered"] = rng.integers(30, 800, count) / 10 + 4
    threads = np.array([*tables.values()["thread_names"], "m12", "M*", "~M12", "M12 ", "#DIV/0!"], dtype=object)
    frame["gland_stud_thread"] = _maybe(rng, 0.95, rng.choice(threads, count))
    forms = np.array(["braid", "BRAID", "die-formed", "Die-formed", "rope", "b*", "~braid", "die-f?rmed", "#DIV/0!"], dtype=object)
    frame["packing_form_entered"] = _maybe(rng, 0.6, rng.choice(forms, count, p=[0.28, 0.26, 0.2, 0.17, 0.03, 0.015, 0.015, 0.015, 0.015]))
    frame["made_ring_height_entered"] = _maybe(rng, 0.6, section * rng.choice([0.8, 1.0, 1.2], count))
    frame["maker_ring_count_entered"] = _maybe(rng, 0.64, rng.integers(1, 8, count).astype(float))
    frame["lantern_length_entered"] = _maybe(rng, 0.6, rng.choice([0.0, 8.0, 12.5, 20.0, 400.0], count, p=[0.1, 0.4, 0.3, 0.18, 0.02]))
    cuts = np.array(["butt", "skive", "SKIVE", "Butt", "square", "b*", "~skive", "s?ive", "#DIV/0!"], dtype=object)
    frame["cut_style_entered"] = _maybe(rng, 0.6, rng.choice(cuts, count))
    lists = np.array(["by unit set", "By Unit Set", "inch", "metric", "both", "BOTH", "mine", "i*", "~both", "#DIV/0!"], dtype=object)
    often = [0.15, 0.05, 0.2, 0.2, 0.2, 0.14, 0.015, 0.015, 0.015, 0.015]
    frame["section_list_entered"] = _maybe(rng, 0.7, rng.choice(lists, count, p=often))
    gap = rng.integers(0, 300, count) / 20
    frame["gap_reading_1_entered"] = _maybe(rng, 0.75, gap)
    frame["gap_reading_2_entered"] = _maybe(rng, 0.75, np.abs(gap + rng.integers(-30, 31, count) / 20))
    frame["stud_spacing_entered"] = _maybe(rng, 0.85, rng.integers(60, 200, count).astype(float))
    frame["gap_reading_distance_entered"] = _maybe(rng, 0.45, rng.integers(50, 220, count).astype(float))
    frame = frame.astype(object)
    overrides = {
        "preferred_ring_count_entered": rng.integers(1, 9, count).astype(float),
        "set_compression_entered": rng.choice([0.05, 0.2, 0.25, 0.3, 0.35], count),
        "seating_compression_entered": rng.choice([0.0, 0.1, 0.15, 0.2, 0.3], count),
        "least_take_up_entered": rng.choice([0.0, 2.0, 3.0, 6.35, 12.0], count),
        "least_entry_floor_entered": rng.choice([0.0, 2.0, 3.175, 6.0], count),
        "least_entry_share_entered": rng.choice([0.0, 0.25, 0.5, 1.0], count),
        "spacer_step_entered": rng.choice([0.5, 1.0, 1.5875, 3.0, 5.0], count),
        "length_allowance_entered": rng.choice([0.0, 0.03, 0.05, 0.07], count),
        "waste_share_entered": rng.choice([0.0, 0.05, 0.08, 0.10], count),
    }
    for name, values in overrides.items():
        frame[name] = _maybe(rng, 0.42, values)
    return frame


def _put_on_boundaries(  # noqa: C901, PLR0912, PLR0915 - one branch for each kind of edge, straight down
    frame: pd.DataFrame, rows: np.ndarray[Any, Any], rng: np.random.Generator
) -> None:
    """Rows in which a count or a comparison stands exactly on its edge."""
    for place, row in enumerate(rows):
        clean = {name: None for name in entry_names() if name not in {"tag", "unit_set", "stem_diameter_entered", "gland_stud_thread"}}
        for name, value in clean.items():
            frame.at[row, name] = value
        stem = float(str(frame.at[row, "stem_diameter_entered"]))
        section = float(rng.choice([5.0, 6.5, 8.0, 10.0, 12.0, 6.35, 7.9375, 9.525, 12.7]))
        kind = place % 16
        us = str(frame.at[row, "unit_set"]).lower() == "us"
        if us and section in {5.0, 6.5, 8.0, 10.0, 12.0}:
            section = 9.525
        if not us and section in {6.35, 7.9375, 9.525}:
            section = 8.0
        entry = max(3.175, 0.25 * section)
        count = int(rng.integers(2, 9))
        depth, nose = entry + count * section, 60.0
        if kind == 1:  # the section tolerance exactly, below and above
            frame.at[row, "box_bore_entered"] = stem + 2 * (section + float(rng.choice([0.3, -0.3])))
        elif kind == 2:  # the greatest roll exactly: 12.7 is followed by 14, so 13.2 is rolled from 14 by 0.8
            section, depth = 13.2, 60.0
            frame.at[row, "section_list_entered"] = "metric"
        elif kind == 3:  # the least spacer exactly
            depth = entry + 5 * section + 6.0
        elif kind == 4:  # the follower just bottoms, or leaves just the least take-up
            depth = entry + 5 * section
            frame.at[row, "maker_ring_count_entered"] = 5.0
            nose = entry + 0.3 * 5 * section + float(rng.choice([0.0, max(3.0, 0.25 * section)]))
        elif kind == 5:  # the gaps differ at the studs by just the limit
            frame.at[row, "gap_reading_1_entered"], frame.at[row, "gap_reading_2_entered"] = 8.0, 7.5
            frame.at[row, "stud_spacing_entered"] = 100.0
        elif kind == 6:  # seating equals set
            frame.at[row, "seating_compression_entered"] = frame.at[row, "set_compression_entered"] = 0.25
        elif kind == 7:  # the lantern is as long as the box
            frame.at[row, "lantern_length_entered"] = depth
        elif kind == 8:  # stem equals bore
            section = float(rng.choice([0.0, 0.1, 0.25, 0.4, -0.1, -0.4]))
        elif kind == 9:  # the maker's count is just what fits, or one more
            frame.at[row, "maker_ring_count_entered"] = float(count + int(rng.integers(0, 2)))
        elif kind == 10:  # midway between two stocked sizes
            section = float(rng.choice([6.25, 10.5, 11.5]))
            frame.at[row, "section_list_entered"] = "metric"
        elif kind == 11:  # the take-up count exactly: nose = entry + take-up + rings x height x compression
            depth, nose = 150.0, entry + max(3.0, 0.25 * section) + int(rng.integers(1, 5)) * section * 0.3
        elif kind == 12:  # the least count exactly
            nose = depth + max(3.0, 0.25 * section) - int(rng.integers(1, 4)) * section * 0.7
        elif kind == 13:  # a hair below a stocked size
            section = 8.0 - float(rng.choice([0.0004, 0.004, 0.04])) if not us else 7.9375 - float(rng.choice([0.0004, 0.004, 0.04]))
        elif kind == 14:  # no room for a ring at all, or the measuring tolerance exactly
            depth = float(rng.choice([entry, entry + 5 * section + 0.25, entry + 5 * section - 0.25]))
            if place % 64 == 14:  # or one ring but for noise: it is counted, and nobody is told that none fits
                depth = entry + section - 1e-8
        elif kind == 15:  # low rings, where a tenth of a ring lies within the measuring tolerance
            section = 3.175 if us else 3.0
            depth = 3.175 + 5 * section + float(rng.choice([0.24, 0.2, 0.0]))
        if frame.at[row, "box_bore_entered"] is None:
            frame.at[row, "box_bore_entered"] = stem + 2 * section
        frame.at[row, "box_depth_entered"], frame.at[row, "nose_length_entered"] = depth, nose


def _limits(name: str) -> list[float]:
    """The ends of the believable range of an entry and what lies close to either side of them, in the coherent unit."""
    plain = name.removesuffix("_entered")
    used = get(f"{plain}_typed" if f"{plain}_typed" in _names() else plain)
    edges = [float(get(one).issued) for one in used.reads if get(one).kind.value == "assumption" and one != "counting_digits"]
    edges += [0.0, 1.0]
    return [edge + step for edge in edges for step in (0.0, -0.5, 0.5, 0.004, -0.004, -1.5, 1.5)]


@cache
def _names() -> frozenset[str]:
    from sheetcalc.declare.quantity import all_quantities  # noqa: PLC0415 - used once

    return frozenset(q.name for q in all_quantities())


@cache
def generated(count: int = COUNT) -> pd.DataFrame:
    """The valves as entries, one row each, in the units of their own unit set."""
    rng = np.random.default_rng(SEED)
    frame = _believable(rng, count)
    order = rng.permutation(count)
    boundary, spoilt = order[: count // 8], order[count // 8 : count // 8 + (7 * count) // 20]
    _put_on_boundaries(frame, boundary, rng)
    for name in _LENGTHS:
        us = frame["unit_set"].str.lower() == "us"
        frame.loc[us, name] = [None if v is None else float(v) / 25.4 for v in frame.loc[us, name]]
    numeric = [name for name in entry_names() if not get(name).is_text]
    spoils: list[tuple[str, Any]] = [(name, value) for name in numeric for value in (*_BAD, *_limits(name))]
    spoils += [("unit_set", value) for value in (None, "mm?", "m*", "~US", "#DIV/0!")] * 6
    for place, row in enumerate(spoilt):
        name, value = spoils[place % len(spoils)]
        in_inches = name in _LENGTHS and str(frame.at[row, "unit_set"]).lower() == "us" and isinstance(value, float) and value < 40000
        frame.at[row, name] = value / 25.4 if in_inches else value
    # Rows in which one thing alone is typed, and rows in which nothing is.
    for place, row in enumerate(order[-4 * len(entry_names()) :]):
        alone = entry_names()[place // 2] if place < 2 * len(entry_names()) else ""
        for name in entry_names():
            if name not in {"unit_set", alone}:
                frame.at[row, name] = None
        if alone and alone != "unit_set" and frame.at[row, alone] is None:
            frame.at[row, alone] = "x" if get(alone).is_text else 1.0
    return frame


def as_read(count: int = COUNT) -> pd.DataFrame:
    """The valves with each error value as formulas see it: a text that nothing accepts."""
    return generated(count).replace("#DIV/0!", "#")
