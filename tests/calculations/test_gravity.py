"""Gravity: the gravest first, no figure on a rotten premise, and knowing less never looks better.

The properties are those of the job and not of the formulas; how the sentences stand is told from each fault's own gravity.
"""

from __future__ import annotations

from collections import Counter
from typing import Any, Final

import numpy as np
import pandas as pd
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from told import Tell

from sheetcalc.calculations.run import calculate
from sheetcalc.declare.quantity import Fault, Gravity, Per, all_quantities

SEEDS: Final = st.integers(0, 2**32 - 1)
SOME: Final = settings(deadline=None, max_examples=12, phases=[Phase.generate])
#: The states, the gravest first.
STATES: Final = ["STOP", "MISSING", "SIZED", "LOOK", "READY"]

#: What the load of the gland, or of the flange joints, is worked out from: each entry with the torque that it serves.
GLAND: Final = (
    "packing_material", "stem_motion_entered", "gland_stud_count_entered", "gland_stud_thread", "gland_stud_grade", "stud_lubricant",
)  # fmt: skip
BOTH: Final = ("fluid_kind_entered", "fluid_temperature_entered", "line_pressure_entered", "fluid_ph_entered")
FLANGE: Final = (
    "flange_size", "flange_class_entered", "flange_facing_entered", "flange_material_entered", "gasket_kind", "flange_bolt_grade",
    "flange_lubricant",
)  # fmt: skip
LOAD_ENTRIES: Final = (*GLAND, *BOTH, *FLANGE)
TEXTS: Final = ("packing_material", "stem_motion_entered", "gland_stud_thread", "gland_stud_grade", "stud_lubricant",
    "fluid_kind_entered", "flange_size", "flange_facing_entered", "flange_material_entered", "gasket_kind", "flange_bolt_grade",
    "flange_lubricant")  # fmt: skip
TORQUES: Final = ("stud_torque", "stud_torque_long", "flange_bolt_torque", "flange_bolt_torque_long")


def plausible(seed: int, count: int = 300) -> pd.DataFrame:
    """Valves as a list has them with everything typed that the load asks for; half of them come out; in a third one entry is left out."""
    rng = np.random.default_rng(seed)

    def one_of(*values: object) -> Any:
        return rng.choice(np.array(values, dtype=object), count)

    section = rng.choice([5.0, 6.0, 8.0, 10.0, 12.0], count)
    stem = rng.integers(10, 60, count) * 1.0
    frame = pd.DataFrame(
        {
            "tag": [f"V-{place}" for place in range(count)], "unit_set": "metric", "stem_diameter_entered": stem,
            "box_bore_entered": stem + 2 * section, "box_depth_entered": section * rng.integers(4, 10, count) + rng.integers(0, 8, count),
            "nose_length_entered": section * rng.integers(2, 5, count), "gland_stud_thread": one_of("M12", "M16", "M20", "5/8-11 UNC"),
            "packing_material": one_of("graphite braid", "graphite braid", "graphite braid", "PTFE braid"),
            "fluid_kind_entered": one_of(*["water"] * 3, *["chemical"] * 4, "steam", "gas", "air", "inert gas", "oxidising", "oxygen"),
            "fluid_ph_entered": 7.0,
            "fluid_temperature_entered": rng.choice([5.0, 20.0, 60.0, 90.0, 180.0, 240.0, 420.0, -40.0], count),
            "line_pressure_entered": rng.choice([-0.5, 2.0, 6.0, 10.0, 16.0, 25.0, 63.0, 400.0], count, p=[0.02, *[0.16] * 6, 0.02]),
            "stem_motion_entered": one_of("rising", "rising-rotating", "quarter-turn"),
            "gland_stud_count_entered": rng.choice([2.0, 2.0, 4.0, 12.0], count), "gland_stud_grade": one_of("ISO 8.8", "ASTM A193 B7"),
            "stud_lubricant": one_of("machine oil", "anti-seize paste", "none (dry)"),
            "gap_reading_1_entered": 10.0, "gap_reading_2_entered": 10.0 + rng.choice([0.0, 0.0, 2.0], count),
            "stud_spacing_entered": 100.0, "comes_out_entered": one_of("yes", "no"), "flange_size": one_of("NPS 3", "NPS 4", "NPS 6"),
            "flange_class_entered": rng.choice([150.0, 300.0], count), "flange_facing_entered": "raised face",
            "flange_material_entered": "1.1 carbon steel",
            "gasket_kind": one_of("spiral wound, graphite filler", "spiral wound with inner ring, graphite filler"),
            "flange_bolt_grade": "ASTM A193 B7", "flange_lubricant": one_of("machine oil", "anti-seize paste"),
            "valve_mass_entered": 80.0, "sling_legs_entered": 2.0, "sling_angle_entered": 60.0, "leg_capacity_entered": 1000.0,
        }
    ).astype(object)  # fmt: skip
    for row in np.flatnonzero(rng.random(count) < 0.33):
        _clear(frame, row, LOAD_ENTRIES[rng.integers(len(LOAD_ENTRIES))])
    return frame


def _clear(frame: pd.DataFrame, rows: Any, name: str) -> None:
    frame.loc[rows, name] = "" if name in TEXTS else None


def _asked(out: pd.DataFrame, name: str) -> Any:
    """Where the load depends on an entry: pH of chemicals, studs where there are some, flanges where the valve comes out."""
    if name == "fluid_ph_entered":
        return out["fluid_kind"] == "chemical"
    if name in FLANGE:
        return out["comes_out"] == "yes"
    return np.ones(len(out), dtype=bool)


def _torques_of(name: str) -> tuple[str, ...]:
    return TORQUES if name in BOTH else TORQUES[2:] if name in FLANGE else TORQUES[:2]


def _rank(out: pd.DataFrame) -> Any:
    """How good the state is: 0 for STOP to 4 for READY."""
    return out["state"].astype(str).map(STATES.index).to_numpy()


@given(SEEDS)
@SOME
def test_knowing_less_never_looks_better(seed: int) -> None:
    """With a load entry blank the state is at most SIZED and its torque blank; clearing one never raises READY, LOOK or SIZED."""
    frame = plausible(seed)
    before = calculate(frame)
    free = _rank(before) >= STATES.index("SIZED")
    for name in LOAD_ENTRIES:
        cleared = frame.copy()
        _clear(cleared, slice(None), name)
        after = calculate(cleared)
        asked = _asked(before, name)
        assert (_rank(after)[asked] <= STATES.index("SIZED")).all(), name
        assert after.loc[asked, list(_torques_of(name))].isna().all(axis=None), name
        better = free & asked & (_rank(after) > _rank(before))
        assert not better.any(), (name, before["tag"][better].tolist())


def test_each_pair_of_gravity_and_cleared_entry_was_met(tell: Tell) -> None:
    """Each entry was cleared from READY, LOOK and SIZED at least five times, the examples above being enough for it."""
    met: Counter[tuple[str, str]] = Counter()
    for seed in range(4):
        frame = plausible(seed)
        out = calculate(frame)
        for name in LOAD_ENTRIES:
            typed = frame[name].notna() & (frame[name] != "")
            met.update((state, name) for state in out.loc[_asked(out, name) & typed, "state"].astype(str))
    for state in ("READY", "LOOK", "SIZED"):
        few = min((met[state, name], name) for name in LOAD_ENTRIES)
        print(few)
        tell(f"gravity: from {state} each load entry was cleared {few[0]} times or more ({few[1]} the fewest)")
        assert few[0] >= 5


@given(SEEDS)
@SOME
def test_more_pressure_never_looks_better(seed: int) -> None:
    """More pressure above 0 never raises the state nor makes a torque appear."""
    frame = plausible(seed)
    frame["line_pressure_entered"] = frame["line_pressure_entered"].map(lambda bar: max(float(bar or 0), 0.5))
    before = calculate(frame)
    for factor in (1.01, 1.7, 5.0, 40.0):
        after = calculate(frame.assign(line_pressure_entered=frame["line_pressure_entered"] * factor))
        _no_better(before, after)


@given(SEEDS)
@SOME
def test_farther_from_room_temperature_never_looks_better(seed: int) -> None:
    """A temperature farther from 20 degrees Celsius, either way, never raises the state nor makes a torque appear."""
    frame = plausible(seed)
    away = frame["fluid_temperature_entered"].map(lambda celsius: float(celsius or 20) - 20)
    frame["fluid_temperature_entered"] = 20 + away
    before = calculate(frame)
    for factor in (1.01, 1.5, 3.0, 8.0):
        _no_better(before, calculate(frame.assign(fluid_temperature_entered=20 + away * factor)))


def _no_better(before: pd.DataFrame, after: pd.DataFrame) -> None:
    better = _rank(after) > _rank(before)
    assert not better.any(), pd.concat([before["all_trouble"][better], after["all_trouble"][better]], axis=1).to_dict("records")[:2]
    for torque in TORQUES:
        assert not (before[torque].isna() & after[torque].notna()).any(), torque


#: The faults of a valve, as they are declared.
FAULTS: Final = [q for q in all_quantities() if isinstance(q, Fault) and q.per is Per.VALVE]
ORDER: Final = list(Gravity)


def _said(row: pd.Series[Any]) -> str:
    """What a valve has to say, from its faults one by one: the gravest first, equal ones in the order of the job."""
    spoken = [q for q in FAULTS if row[q.name] != ""]
    by_gravity = {gravity: " ".join(q.words for q in spoken if q.gravity is gravity) for gravity in ORDER}
    if by_gravity[Gravity.UNASKED]:
        by_gravity[Gravity.UNASKED] = f"Not judged: {by_gravity[Gravity.UNASKED]}"
    return " ".join(said for said in by_gravity.values() if said)


@given(SEEDS)
@SOME
def test_the_gravest_is_said_first(seed: int) -> None:
    """Sentences stand in order of gravity, then of the job, all that are spoken and no other; the state is the worst."""
    out = calculate(plausible(seed, 100))
    for _, row in out.iterrows():
        assert row["all_trouble"] == _said(row)
        worst = min([ORDER.index(q.gravity) for q in FAULTS if row[q.name] != ""], default=len(ORDER) - 1)
        assert row["state"] == ORDER[worst]


@given(SEEDS)
@SOME
def test_a_stopped_valve_has_no_figure_to_work_by(seed: int) -> None:
    """Sizes and gaps stand on Working; torque, flats and the length to order are kept back."""
    out = calculate(plausible(seed))
    stopped = out[out["state"] == "STOP"]
    assert len(stopped) > 0
    assert stopped[[*TORQUES, "flats_to_compress", "bulk_length", "stud_torque_first", "flange_torque_first"]].isna().all(axis=None)
    assert stopped[["stocked_section", "ring_count", "gland_gap_start", "gland_gap_end"]].notna().all(axis=None)


def test_a_sentence_of_a_fault_is_one_sentence() -> None:
    """No fault says two, so that whole ones can be left out where space ends, and each of what was not asked keeps a torque back."""
    assert [q.name for q in FAULTS if ". " in q.words or "|" in q.words or not q.words.endswith(".")] == []
    assert [q.name for q in FAULTS if q.gravity is Gravity.UNASKED and not q.withholds] == []
    assert {name for q in FAULTS for name in q.withholds} == {"stud_torque", "flange_bolt_torque"}
