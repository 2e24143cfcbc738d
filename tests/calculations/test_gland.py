"""What the kind of gland, the motion of the stem and the heat of the fluid change: packing nuts, rings wanted, bolts by their grade."""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.run import calculate
from sheetcalc.declare.quantity import Fault, Per, all_quantities

#: A valve with nothing to look at: stem 28, bore 44, depth 60, nose 22, M12.
VALVE: Final[dict[str, object]] = {
    "tag": "V", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
    "nose_length_entered": 22, "gland_stud_thread": "M12", "packing_material": "graphite braid", "fluid_kind_entered": "steam",
    "fluid_temperature_entered": 120, "line_pressure_entered": 40, "stem_motion_entered": "rising", "gland_stud_count_entered": 2,
    "gland_stud_grade": "ISO 8.8", "stud_lubricant": "machine oil",
}  # fmt: skip
#: The same valve out of the line, with everything typed of its flanges.
OUT: Final[dict[str, object]] = {
    **VALVE, "comes_out_entered": "yes", "flange_size": "NPS 3", "flange_class_entered": 300, "flange_facing_entered": "raised face",
    "flange_material_entered": "1.1 carbon steel",
    "gasket_kind": "spiral wound, graphite filler", "flange_bolt_grade": "ASTM A193 B7",
    "flange_lubricant": "machine oil", "valve_mass_entered": 80, "sling_legs_entered": 2, "sling_angle_entered": 60,
    "leg_capacity_entered": 500,
}  # fmt: skip
#: The beginnings of what is said of bolts.
SAID: Final = {"out_of_range": "The fluid is hotter or colder than", "relaxing": "So hot,", "range_unstated": "Tables do not state how hot"}


def worked(*rows: dict[str, object]) -> pd.DataFrame:
    """Answers of valves, one row each."""
    return calculate(pd.DataFrame(list(rows)))


def said(bolts: str, row: Any) -> str:
    """Which of the three sentences is spoken of the bolts; "" for none."""
    spoken = [key for key, words in SAID.items() if str(row[f"{bolts}_{key}"]).startswith(words)]
    assert len(spoken) <= 1
    return "".join(spoken)


# --- how hot and how cold ---------------------------------------------------------------------------------------------


def test_studs_of_8_8_at_500_degrees_are_spoken_of() -> None:
    """Class 8.8 is used to about 300 degrees Celsius: with a fluid of 500 gland studs ask for a look, flange bolts are a stop."""
    row = worked({**VALVE, "fluid_temperature_entered": 500}).iloc[0]
    assert (row["state"], said("stud", row)) == ("LOOK", "out_of_range")
    assert "ask the owner's engineer for a grade made for it" in row["check_studs"]
    out = worked({**OUT, "fluid_temperature_entered": 500, "gland_stud_grade": "ASTM A193 B16", "flange_bolt_grade": "ISO 8.8"}).iloc[0]
    assert (out["state"], said("flange_bolt", out)) == ("STOP", "out_of_range")
    assert math.isnan(out["flange_bolt_torque"])


#: Grade, fluid in degrees Celsius, and what is said of bolts of it. Figures as in tests/reference/test_tables.py: 46 CFR 56.25-20(b)
#: for carbon steel (400 F), ISO 3506-1:2020, scope, for A2 and A4 (second-hand), ASTM A193 and A320 and ISO 898-1 from memory.
EDGES: Final = [
    *((grade, fluid, words) for grade in ("ASTM A193 B7", "ASTM A193 B7M") for fluid, words in (
        (-48, ""), (-48.1, "out_of_range"), (400, ""), (400.1, "relaxing"), (538, "relaxing"), (538.1, "out_of_range"))),
    ("ASTM A193 B16", -29, ""), ("ASTM A193 B16", -29.1, "out_of_range"), ("ASTM A193 B16", 540, ""),
    ("ASTM A193 B16", 540.1, "relaxing"), ("ASTM A193 B16", 593, "relaxing"), ("ASTM A193 B16", 593.1, "out_of_range"),
    *((grade, fluid, words) for grade in ("ASTM A193 B8 class 1", "ASTM A193 B8M class 1") for fluid, words in (
        (-198, ""), (-198.1, "out_of_range"), (538, ""), (538.1, "relaxing"), (816, "relaxing"), (816.1, "out_of_range"))),
    *((grade, fluid, words) for grade in ("ASTM A193 B8 class 2", "ASTM A193 B8M class 2") for fluid, words in (
        (-198, ""), (-198.1, "out_of_range"), (538, ""), (538.1, "out_of_range"))),
    ("ASTM A307 grade B", 204, ""), ("ASTM A307 grade B", 204.1, "out_of_range"), ("ASTM A307 grade B", 0, ""),
    ("ASTM A307 grade B", -0.1, "range_unstated"),
    ("ASTM A320 L7", -101, ""), ("ASTM A320 L7", -101.1, "out_of_range"), ("ASTM A320 L7", 400, ""), ("ASTM A320 L7", 400.1, "relaxing"),
    ("ASTM A320 L7", 538, "relaxing"), ("ASTM A320 L7", 538.1, "out_of_range"),
    ("ISO 8.8", -50, ""), ("ISO 8.8", -50.1, "out_of_range"), ("ISO 8.8", 150, ""), ("ISO 8.8", 150.1, "relaxing"),
    ("ISO 8.8", 300, "relaxing"), ("ISO 8.8", 300.1, "out_of_range"),
    *((grade, fluid, words) for grade in ("ISO A2-50", "ISO A2-70", "ISO A4-80") for fluid, words in (
        (-196, ""), (-196.1, "out_of_range"), (150, ""), (150.1, "relaxing"), (300, "relaxing"), (300.1, "out_of_range"))),
    *((grade, fluid, "range_unstated") for grade in ("ISO 10.9", "ISO 12.9", "unknown") for fluid in (-30, 20, 500)),
]  # fmt: skip
#: A look is what they are worth, but where flange bolts are out of their range, and where gland studs, which run cooler, relax.
GRAVITIES: Final = {("flange_bolt", "out_of_range"): "stop", ("stud", "relaxing"): "note"}


@pytest.mark.parametrize("bolts", ["stud", "flange_bolt"])
def test_each_grade_speaks_just_beyond_its_temperatures(bolts: str) -> None:
    """On a limit nothing more is said, a tenth of a degree beyond it is; the same in degrees Fahrenheit; a stop is a stop of its own."""
    entry = {"stud": "gland_stud_grade", "flange_bolt": "flange_bolt_grade"}[bolts]
    other = {"stud": "flange_bolt_grade", "flange_bolt": "gland_stud_grade"}[bolts]
    # NPS 2 has 5/8 in bolts, a size of every grade.
    rows = [{**OUT, "flange_size": "NPS 2", "flange_class_entered": 150, other: "ASTM A193 B7", entry: grade,
             "fluid_temperature_entered": fluid} for grade, fluid, _words in EDGES]  # fmt: skip
    out = worked(*rows)
    assert [(*edge[:2], said(bolts, row)) for edge, (_, row) in zip(EDGES, out.iterrows(), strict=True)] == EDGES
    inches = worked(*({"unit_set": "US", "gland_stud_thread": "1/2-13 UNC", "comes_out_entered": "yes", "flange_size": "NPS 2",
                       "flange_class_entered": 150, entry: grade, "fluid_temperature_entered": fluid * 1.8 + 32}
                      for grade, fluid, _words in EDGES))  # fmt: skip
    assert [said(bolts, row) for _, row in inches.iterrows()] == [words for *_edge, words in EDGES]
    for (_grade, _fluid, words), (_, row) in zip(EDGES, out.iterrows(), strict=True):
        for gravity in ("stop", "look", "note"):
            speaks = words != "" and GRAVITIES.get((bolts, words), "look") == gravity
            assert (str(row[f"{bolts}_{words}"]) in row[f"all_{gravity}"] if words else False) == speaks


def test_bolts_of_a_valve_that_stays_are_not_held_against_the_heat() -> None:
    """What a list names for every valve is judged where the valve comes out."""
    hot = {**OUT, "fluid_temperature_entered": 500, "gland_stud_grade": "ASTM A193 B16", "flange_bolt_grade": "ISO 8.8"}
    out = worked(hot, {**hot, "comes_out_entered": "no"}, {**hot, "comes_out_entered": None})
    assert [said("flange_bolt", row) for _, row in out.iterrows()] == ["out_of_range", "", ""]


def test_without_a_temperature_nothing_is_said_of_it_and_the_valve_is_sized() -> None:
    """A temperature that is not typed is asked for; it neither passes nor fails the bolts."""
    row = worked({**OUT, "fluid_temperature_entered": None, "flange_bolt_grade": "ISO 10.9"}).iloc[0]
    assert (row["state"], said("stud", row), said("flange_bolt", row)) == ("SIZED", "", "")


#: Figures of a row of one's own (least, look, most), the fluid, and what is said: a limit that is not stated is asked for on the side
#: where it counts, and above 0 degrees Celsius always the greatest. By hand.
OWN: Final = [
    ((-60, 200, 350), 350, "relaxing"), ((-60, 200, 350), 200, ""), ((-60, None, 350), 350, ""), ((None, None, None), 20, "range_unstated"),
    ((-60, None, None), 20, "range_unstated"), ((-60, None, None), -60, "range_unstated"), ((None, 200, 350), -1, "range_unstated"),
    ((None, 200, 350), 1, ""), ((None, 200, 350), 351, "out_of_range"), ((-60, None, 350), -61, "out_of_range"),
]  # fmt: skip


@pytest.mark.parametrize(("figures", "fluid", "words"), OWN, ids=str)
def test_a_row_of_ones_own_states_its_temperatures(
    figures: tuple[float | None, ...], fluid: float, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What stands in the three columns of an own row is used for gland studs and flange bolts alike."""
    from sheetcalc.reference import tables  # noqa: PLC0415 - the table is changed for this test alone

    held = {name: (list(one) if isinstance(one, list) else np.array(one)) for name, one in tables.values().items()}
    held["grade_names"][0] = "own"
    for name, figure in {"grade_over": 0.0, "grade_to": 60.0, "grade_tensiles": 900.0, "grade_yields": 700.0}.items():
        held[name][0] = figure
    for key, limit in zip(("least", "look", "most"), figures, strict=True):
        held[f"grade_temperatures_{key}"][0] = math.nan if limit is None else limit
    monkeypatch.setattr(tables, "values", lambda: held)
    row = worked({**OUT, "gland_stud_grade": "own", "flange_bolt_grade": "OWN", "fluid_temperature_entered": fluid}).iloc[0]
    assert (said("stud", row), said("flange_bolt", row)) == (words, words)


# --- packing nuts -----------------------------------------------------------------------------------------------------

#: Everything of studs typed so that it would be complained about.
BAD_STUDS: Final[dict[str, object]] = {
    "gland_stud_count_entered": "two", "gland_stud_grade": "iron", "stud_thread_left_entered": "?", "stud_spacing_entered": "wide",
    "gap_reading_1_entered": 8, "gap_reading_2_entered": 4,
}  # fmt: skip


@pytest.mark.parametrize("studs", [
    BAD_STUDS, {**BAD_STUDS, "gland_stud_count_entered": 20, "stud_thread_left_entered": 1, "gland_stud_grade": "unknown"},
    {**BAD_STUDS, "gland_stud_count_entered": None, "gland_stud_grade": None, "gland_stud_thread": None, "stud_lubricant": None},
    {"gland_stud_count_entered": 1, "gland_stud_grade": "ISO 10.9", "stud_spacing_entered": 90, "gap_reading_1_entered": 8,
     "gap_reading_2_entered": 4, "fluid_temperature_entered": 400},
    {"gland_stud_count_entered": 8, "gland_stud_thread": "5/8-11 UNC", "flange_size": "NPS 4", "flange_class_entered": 150},
], ids=lambda studs: str(studs["gland_stud_count_entered"]))  # fmt: skip
def test_of_a_packing_nut_nothing_is_said_of_studs(studs: dict[str, object]) -> None:
    """Whatever stands in the entries of studs, right, wrong or nothing: no sentence speaks of a stud; with studs each of these does."""
    nut, gland = (
        row for _, row in worked(*({**VALVE, **studs, "gland_kind_entered": kind} for kind in ("packing nut", "studs"))).iterrows()
    )
    assert (nut["state"], "stud" in nut["all_trouble"].lower()) == ("READY", False)
    assert "stud" in gland["all_trouble"].lower()


def test_every_fault_of_studs_is_silent_or_about_the_lubricant(monkeypatch: pytest.MonkeyPatch) -> None:
    """No fault whose words name a stud speaks of any packing nut, but for what is on the threads: oil and oxygen stay apart."""
    from agreement.valves import generated, own_rows  # noqa: PLC0415 - the generated valves are large

    from sheetcalc.reference import tables  # noqa: PLC0415 - the tables are filled for this test alone

    valves, held = generated(1500).assign(gland_kind_entered="packing nut"), {**tables.values(), **own_rows()}
    monkeypatch.setattr(tables, "values", lambda: held)
    out = calculate(valves)
    of_studs = [q.name for q in all_quantities() if isinstance(q, Fault) and q.per is Per.VALVE and "stud" in q.words.lower()
                and not q.name.startswith("lubricant") and not q.name.startswith("flange")]  # fmt: skip
    assert len(of_studs) > 12
    assert [name for name in of_studs if (out[name] != "").any()] == []
    assert out[["stud_load", "stud_torque", "flats_to_even", "stud_thread_spare", "wrench_size"]].isna().all(axis=None)
    assert out["nut_turns"].notna().sum() > 100


#: Thread of the nut and its pitch in mm (ISO 261 coarse; 12 threads per inch for none of them, 8 for 1 in), and turns for 4 mm of
#: travel by hand: five rings of 8 mm seated by 0.20 and set at 0.30.
TURNS: Final = [("M12", 4 / 1.75), ("M24", 4 / 3), ("M36", 4 / 4), ("1-8 UNC", 4 / 3.175)]


@pytest.mark.parametrize(("thread", "turns"), TURNS)
def test_a_packing_nut_is_turned_by_travel_over_pitch(thread: str, turns: float) -> None:
    """The typed thread is the nut's own; flats are six times the turns; the torque stays with its maker."""
    row = worked({**VALVE, "gland_stud_thread": thread, "gland_kind_entered": "packing nut"}).iloc[0]
    assert pytest.approx((4, turns, 6 * turns)) == (row["compression_travel"], row["nut_turns"], row["flats_to_compress"])
    assert math.isnan(row["stud_torque"])
    assert math.isnan(worked({**VALVE, "gland_stud_thread": thread}).iloc[0]["nut_turns"])


@pytest.mark.parametrize(("thread", "state"), [("", "READY"), ("1 1/4-12 UNF", "LOOK"), ("M30 x 1.5", "LOOK")])
def test_a_packing_nut_needs_no_thread_and_one_that_is_not_listed_gives_no_turns(thread: str, state: str) -> None:
    """Packing nuts have fine threads as often as not: without one on Tables nothing is missing but the turns."""
    row = worked({**VALVE, "gland_stud_thread": thread, "gland_kind_entered": "packing nut"}).iloc[0]
    assert (row["state"], row["ring_count"], row["gland_gap_end"]) == (state, 5, pytest.approx(6))
    assert ("The packing nut's thread is none of the listed ones" in row["check_tilt"]) == (state == "LOOK")
    assert np.isnan([row["nut_turns"], row["flats_to_compress"]]).all()


# --- rings wanted -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("motion", "rings"), [
    ("quarter-turn", 4), ("Quarter-Turn", 4), ("rising", 5), ("rising-rotating", 5), ("rotating", 5), ("not stated", 5), (None, 5), ("", 5),
])  # fmt: skip
@pytest.mark.parametrize("pressure", [1, 100])
def test_the_motion_of_the_stem_wants_its_rings(motion: str | None, rings: float, pressure: float) -> None:
    """A deep box takes four rings for a quarter-turn and five for any other motion (from memory), whatever the pressure."""
    deep = {**VALVE, "box_depth_entered": 120, "nose_length_entered": 30, "stem_motion_entered": motion, "line_pressure_entered": pressure}
    sizes_alone = {name: one for name, one in deep.items() if name != "packing_material"}
    for row in (worked(deep).iloc[0], worked(sizes_alone).iloc[0]):
        assert (row["motion_ring_count"], row["preferred_ring_count"], row["ring_count"]) == (rings, rings, rings)
    typed = worked({**deep, "preferred_ring_count_entered": 6}, {**deep, "maker_ring_count_entered": 3})
    assert typed["ring_count"].tolist() == [6, 3]


@pytest.mark.parametrize("figure", [math.nan, 0.0, 4.5, 41.0, -4.0])
def test_a_motion_without_a_whole_number_of_rings_has_no_count(figure: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the row on Tables was cleared, or holds what is no count, that is said, and no number stands in for it in silence."""
    from sheetcalc.reference import tables  # noqa: PLC0415 - the table is changed for this test alone

    held = {**tables.values(), "motion_rings": np.array([5.0, figure, 5.0, 5.0, 5.0])}
    monkeypatch.setattr(tables, "values", lambda: held)
    turned = {**VALVE, "stem_motion_entered": "quarter-turn"}
    out = worked(turned, {**turned, "preferred_ring_count_entered": 4}, {**turned, "maker_ring_count_entered": 4}, VALVE)
    assert [math.isnan(one) for one in out["ring_count"]] == [True, False, False, False]
    assert out["state"].tolist() == ["MISSING", "READY", "READY", "READY"]
    assert ["Tables state no whole number of rings" in one for one in out["check_rings"]] == [True, False, False, False]
