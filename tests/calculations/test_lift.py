"""Facts about lifting a valve: loads of sling legs from print, an estimate that never passes as checked, and each sentence.

Loads are held against figures of training and safety papers, the estimate only against a few masses that are remembered.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.run import answered_names, calculate, issued_assumptions
from sheetcalc.declare.quantity import Derived, Fault, get

#: One pound in kilograms (NIST SP 811, 2008, appendix B.8).
POUND: Final = 0.45359237
METRIC: Final[dict[str, object]] = {
    "tag": "V-1", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
    "nose_length_entered": 22, "gland_stud_thread": "M12",
}  # fmt: skip
US: Final[dict[str, object]] = {
    "tag": "V-2", "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.75, "box_depth_entered": 2.5,
    "nose_length_entered": 1, "gland_stud_thread": "1/2-13 UNC",
}  # fmt: skip
#: All that is asked of a valve that comes out: silent, and its legs stand steep enough.
LIFTED: Final[dict[str, object]] = {
    "comes_out_entered": "yes", "valve_mass_entered": 100, "sling_legs_entered": 2, "sling_angle_entered": 60, "leg_capacity_entered": 100,
}  # fmt: skip
FLANGED: Final[dict[str, object]] = {"flange_size": "NPS 4", "flange_class_entered": 150}
FAULTS: Final = tuple(name for name in answered_names() if get(name).part == "lift" and isinstance(get(name), Fault))
ANSWERS: Final = tuple(
    name for name in answered_names()
    if get(name).part == "lift" and type(get(name)) is Derived and get(name).unit and name != "sling_angle_least"
)  # fmt: skip


def worked(base: dict[str, object] = METRIC, /, **changed: object) -> Any:
    """One valve worked out, with some entries changed."""
    return calculate(pd.DataFrame([{**base, **changed}], dtype=object)).iloc[0]


def lifted(base: dict[str, object] = METRIC, /, **changed: object) -> Any:
    """A valve of which all is typed that lifting asks for, with some of it changed."""
    return worked({**base, **LIFTED}, **changed)


def spoken(row: Any) -> set[str]:
    """The faults of lifting that speak."""
    return {name for name in FAULTS if row[name] != ""}


def pounds(kilograms: float) -> float:
    """A mass as a US tag states it."""
    return kilograms / POUND


# --- what a leg bears -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("load", "angle", "printed", "off"),
    [
        # NAVEDTRA 14080, two legs: 1,000 lb is 500 lb a leg upright and 1,000 lb at 30 degrees from the horizontal.
        (1000, 90, 500, 0.5), (1000, 30, 1000, 0.5),
        # The same by arithmetic to two decimals: 850 lb on two legs at 30 degrees, whose sine is a half.
        (850, 30, 850.00, 0.005),
        # Michigan State University, page on rigging, its year not noted: 1,000 lb a leg upright are 1,154 lb at 30 degrees from
        # the vertical and 2,000 lb at 60 (the first cut, not rounded, so that one in the last digit is allowed).
        (2000, 60, 1154, 1), (2000, 30, 2000, 0.5),
        # Multipliers of 1/sine by arithmetic: 60 degrees 1.1547, 45 degrees 1.4142, 30 degrees 2.0.
        (2, 60, 1.1547, 0.00005), (2, 45, 1.4142, 0.00005), (2, 30, 2.0, 0.05),
        # Sines by arithmetic, in percent: 75 degrees 96.6, 60 degrees 86.6, 45 degrees 70.7: what a leg of 100 lb holds by half.
        (2 * 96.6, 75, 100, 0.05), (2 * 86.6, 60, 100, 0.05), (2 * 70.7, 45, 100, 0.05),
    ],
)  # fmt: skip
@pytest.mark.parametrize("unit_set", ["metric", "US"])
def test_two_legs_bear_what_print_says(load: float, angle: float, printed: float, off: float, unit_set: str) -> None:
    """Load over two sines, the angle from the horizontal; a load in kg gives the same figures as one in lb."""
    base = US if unit_set == "US" else METRIC
    row = lifted(base, valve_mass_entered=load, sling_angle_entered=angle, leg_capacity_entered=load)
    found = pounds(row["leg_tension"]) if unit_set == "US" else row["leg_tension"]
    assert found == pytest.approx(printed, abs=off)
    assert row["leg_share"] == pytest.approx(printed / load, abs=off / load)


@pytest.mark.parametrize(
    ("leg", "height"), [(5, 3), (5, 4), (13, 12), (1.5, 1.5), (1.2, 0.9)],
    ids=["3-4-5 flat", "3-4-5 steep", "5-12-13", "upright", "any"],
)  # fmt: skip
def test_length_over_height_gives_the_same_load(leg: float, height: float) -> None:
    """The other form of the rule, W/n times L/H (arithmetic): without any sine, in metres and in feet."""
    metric = lifted(
        valve_mass_entered=850, sling_angle_entered=None, leg_length_entered=1000 * leg, hook_height_entered=1000 * height,
        leg_capacity_entered=2000,
    )  # fmt: skip
    inches = lifted(
        US, valve_mass_entered=850, sling_angle_entered=None, leg_length_entered=12 * leg, hook_height_entered=12 * height,
        leg_capacity_entered=2000,
    )  # fmt: skip
    assert metric["leg_tension"] == pytest.approx(850 / 2 * leg / height)
    assert pounds(inches["leg_tension"]) == pytest.approx(850 / 2 * leg / height)


def test_the_angle_of_a_leg_is_that_of_the_triangle() -> None:
    """A 3-4-5 triangle has an angle whose tangent is 3/4 (arithmetic: 36.869898 degrees); a hook as high as the leg is long is upright."""
    flat = worked(leg_length_entered=1000, hook_height_entered=600)
    assert flat["sling_angle_reckoned"] == pytest.approx(36.869898, abs=5e-7)
    assert worked(US, leg_length_entered=20, hook_height_entered=20)["sling_angle_reckoned"] == 90
    noisy = worked(leg_length_entered=1000, hook_height_entered=1000.0000001)
    assert noisy["sling_angle_reckoned"] == 90
    assert spoken(noisy) == set()


@pytest.mark.parametrize(("legs", "counted"), [(1, 1), (2, 2), (3, 2), (4, 2)])
def test_more_than_two_legs_count_as_two(legs: int, counted: int) -> None:
    """A rigid load may hang on two of its legs: from memory, a topic of DOE-STD-1090 that was not read."""
    row = lifted(sling_legs_entered=legs, sling_angle_entered=None if legs == 1 else 60)
    assert row["legs_counted"] == counted
    assert row["leg_tension"] == pytest.approx(100 / counted / (1 if legs == 1 else math.sqrt(3) / 2))


def test_a_single_leg_hangs_upright_and_bears_all() -> None:
    """One leg needs no angle and no height: it bears the whole load."""
    for angle in (None, 90):
        row = lifted(sling_legs_entered=1, sling_angle_entered=angle)
        assert row["sling_angle"] == 90
        assert row["leg_tension"] == 100
        assert spoken(row) == set()


def test_a_load_that_is_a_mass_is_read_in_the_unit_set() -> None:
    """The same valve in lb, typed to the digit, bears the same: 1 lb is 0.45359237 kg exactly."""
    kilograms = lifted(valve_mass_entered=453.59237, leg_capacity_entered=362.873896)
    in_pounds = lifted(US, valve_mass_entered=1000, leg_capacity_entered=800)
    for name in ("valve_mass", "leg_capacity", "leg_tension", "leg_share"):
        assert in_pounds[name] == pytest.approx(kilograms[name], rel=1e-12), name


def test_any_sling() -> None:
    """The upright parts of the legs counted lift the load; no leg bears less than its part; flat legs and one aslant give nothing."""
    rng = np.random.default_rng(11)
    count = 2000
    frame = pd.DataFrame({
        "unit_set": rng.choice(["metric", "US"], count), "valve_mass_entered": rng.uniform(1, 9000, count),
        "sling_legs_entered": rng.integers(1, 5, count), "sling_angle_entered": rng.uniform(1, 90, count).round(1),
    })  # fmt: skip
    frame.loc[::7, "sling_angle_entered"] = 90
    frame.loc[::11, "sling_angle_entered"] = 30
    out = calculate(frame)
    single = frame["sling_legs_entered"] == 1
    given = np.where(single, frame["sling_angle_entered"] == 90, frame["sling_angle_entered"] >= 30)
    assert 300 < given.sum() < count - 300
    np.testing.assert_array_equal(given, out["leg_tension"].notna())
    held = out[given]
    legs = np.where(single[given], 1, 2)
    upright = held["leg_tension"] * np.sin(np.deg2rad(held["sling_angle_entered"].astype(float))) * legs
    np.testing.assert_allclose(upright, held["valve_mass"], rtol=1e-12)
    assert (held["leg_tension"] >= held["valve_mass"] / legs * (1 - 1e-12)).all()
    said = (out["single_leg_aslant"] != "") | (out["sling_too_flat"] != "")
    np.testing.assert_array_equal(said, ~given)


# --- the estimate -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "pressure_class", "remembered"), [("NPS 4", 150, 50), ("NPS 12", 150, 340), ("NPS 4", 600, 120)],
)  # fmt: skip
def test_the_band_holds_masses_that_are_remembered(size: str, pressure_class: int, remembered: float) -> None:
    """Bare flanged steel gate valves, kg, from memory: 50, 340 and 120. No list was read, and no more is claimed than the band."""
    row = worked(flange_size=size, flange_class_entered=pressure_class)
    assert row["mass_estimate_low"] < remembered < row["mass_estimate_high"]
    assert row["mass_estimate_high"] == pytest.approx(4 * row["mass_estimate_low"])


def test_the_estimate_is_a_share_of_a_cube_of_steel() -> None:
    """NPS 4 class 150 has flanges of 9 in (ASME B16.5, second-hand); steel has 0.2836 lb/in3 (from memory): 0.53 of 729 in3 is 109.6 lb."""
    for base in (METRIC, US):
        row = worked(base, **FLANGED)
        assert pounds(row["mass_estimate"]) == pytest.approx(109.6, abs=0.1)
        assert row["valve_mass"] == row["mass_estimate_high"]
        assert row["mass_words"] == "an estimate, the high end: weigh the valve or ask its maker"


def test_a_typed_mass_goes_before_the_estimate() -> None:
    """What is typed is used and called so; what is typed wrong gives no mass, and never the estimate in silence."""
    row = lifted(**FLANGED, valve_mass_entered=61)
    assert (row["valve_mass"], row["mass_words"]) == (61, "as typed")
    assert spoken(row) == set()
    wrong = lifted(**FLANGED, valve_mass_entered=-61)
    assert math.isnan(wrong["valve_mass"])
    assert math.isnan(wrong["leg_tension"])
    assert wrong["mass_words"] == ""
    assert spoken(wrong) == {"valve_mass_fault"}


def test_an_estimate_never_passes_as_checked() -> None:
    """Of any valves whose mass is not typed, none that comes out or has a sling is called OK; a load of an estimate says so."""
    rng = np.random.default_rng(5)
    count = 1500
    frame = pd.DataFrame({
        "unit_set": rng.choice(["metric", "US"], count), "comes_out_entered": rng.choice(["yes", "no", ""], count),
        "flange_size": rng.choice(["NPS 2", "NPS 4", "NPS 12", ""], count), "flange_class_entered": rng.choice([150.0, 600.0], count),
        "valve_actuated_entered": rng.choice(["yes", "no", ""], count), "valve_mass_entered": rng.choice([np.nan, 200.0], count),
        "sling_legs_entered": rng.choice([np.nan, 1.0, 2.0, 4.0], count), "sling_angle_entered": rng.choice([np.nan, 90.0], count),
        "leg_capacity_entered": rng.choice([np.nan, 9999.0], count),
    })  # fmt: skip
    out = calculate(frame)
    estimated = frame["valve_mass_entered"].isna() & (frame["flange_size"] != "")
    hangs = (frame["comes_out_entered"] == "yes") | frame["sling_legs_entered"].notna()
    np.testing.assert_array_equal(out["valve_mass_estimated"] != "", estimated & hangs)
    np.testing.assert_array_equal(out["actuator_not_estimated"] != "", estimated & hangs & (frame["valve_actuated_entered"] == "yes"))
    assert (out.loc[estimated & hangs, "check_lift"] != "OK").all()
    assert (out.loc[estimated & out["leg_tension"].notna(), "valve_mass_estimated"] != "").all()
    assert (out.loc[frame["valve_mass_entered"].notna() & (frame["comes_out_entered"] == "no"), "check_lift"] == "OK").any()


# --- sentences --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("base", [METRIC, US], ids=["metric", "US"])
def test_a_valve_of_which_nothing_is_said_stays_blank_and_silent(base: dict[str, object]) -> None:
    """Nothing of flange and lift is typed: no number, no word, OK. So it is where the valve stays in, whatever its flanges."""
    row = worked(base)
    assert [name for name in ANSWERS if not math.isnan(row[name])] == []
    assert row["mass_words"] == ""
    assert spoken(row) == set()
    assert row["check_lift"] == "OK"
    stays = worked(base, **FLANGED, comes_out_entered="no", valve_actuated_entered="yes")
    assert stays["check_lift"] == "OK"


def test_a_lifted_valve_with_all_that_is_asked_for_is_silent() -> None:
    """The plain case, from which each case below differs by what deserves its sentence."""
    for base in (METRIC, US):
        row = lifted(base)
        assert spoken(row) == set()
        assert row["check_lift"] == "OK"
        assert set(ANSWERS) - {name for name in ANSWERS if not math.isnan(row[name])} <= {
            "mass_estimate", "mass_estimate_low", "mass_estimate_high", "leg_length", "hook_height", "sling_angle_reckoned",
            "sling_angle_usual",
        }  # fmt: skip


#: What is typed beside the plain case, and the faults that must speak, no others.
DESERVED: Final[list[tuple[dict[str, object], set[str]]]] = [
    ({"valve_mass_entered": None}, {"valve_mass_missing"}),
    ({"valve_mass_entered": None, **FLANGED, "leg_capacity_entered": 500}, {"valve_mass_estimated"}),
    ({"valve_mass_entered": None, **FLANGED, "leg_capacity_entered": 500, "valve_actuated_entered": "yes"},
     {"valve_mass_estimated", "actuator_not_estimated"}),
    ({"valve_mass_entered": None, **FLANGED, "leg_capacity_entered": 500, "comes_out_entered": "no"}, {"valve_mass_estimated"}),
    ({"valve_actuated_entered": "yes"}, set()),
    ({"sling_legs_entered": None}, {"sling_legs_missing"}),
    ({"sling_angle_entered": None}, {"sling_angle_missing"}),
    ({"sling_angle_entered": None, "leg_length_entered": 1000}, {"sling_angle_missing"}),
    ({"sling_angle_entered": None, "hook_height_entered": 900}, {"sling_angle_missing"}),
    ({"sling_angle_entered": None, "leg_length_entered": 1000, "hook_height_entered": 900}, set()),
    ({"leg_capacity_entered": None}, {"leg_capacity_missing"}),
    ({"leg_length_entered": 1000, "hook_height_entered": 1001}, {"hook_too_high"}),
    ({"sling_angle_entered": None, "leg_length_entered": 1000, "hook_height_entered": 1001}, {"hook_too_high"}),
    # sin 62 = 0.88295 and sin 64 = 0.89879: 60 typed is within 3 degrees of the first alone.
    ({"leg_length_entered": 1000, "hook_height_entered": 882.95}, set()),
    ({"leg_length_entered": 1000, "hook_height_entered": 898.79}, {"sling_angles_apart"}),
    ({"sling_legs_entered": 1}, {"single_leg_aslant"}),
    ({"sling_legs_entered": 1, "sling_angle_entered": 20}, {"single_leg_aslant"}),
    ({"sling_legs_entered": 1, "sling_angle_entered": None, "leg_length_entered": 1000, "hook_height_entered": 900},
     {"sling_angles_apart"}),
    ({"sling_angle_entered": 29.9}, {"sling_too_flat"}),
    ({"sling_angle_entered": None, "leg_length_entered": 1000, "hook_height_entered": 490}, {"sling_too_flat"}),
    ({"sling_angle_entered": 30}, {"sling_flat"}),
    ({"sling_angle_entered": 44.9}, {"sling_flat"}),
    ({"sling_angle_entered": 45}, set()),
    # sin 60 = 0.8660254: a leg bears 57.7350 of 100.
    ({"leg_capacity_entered": 57.74}, set()),
    ({"leg_capacity_entered": 57.73}, {"sling_overloaded"}),
    ({"sling_angle_entered": 90, "leg_capacity_entered": 50}, set()),
]  # fmt: skip
#: A valve that one person lifts, typed just as heavy as that, and hardly heavier; 20 kg is from memory.
BY_HAND: Final[list[tuple[dict[str, object], set[str]]]] = [
    ({"valve_mass_entered": 20}, set()),
    ({"valve_mass_entered": 20.0000001}, set()),
    ({"valve_mass_entered": 20.01}, {"sling_legs_missing", "sling_angle_missing", "leg_capacity_missing"}),
    # A sling that is typed is judged all the same.
    ({"valve_mass_entered": 20, "sling_legs_entered": 1, "leg_capacity_entered": 19}, {"sling_overloaded"}),
    ({"valve_mass_entered": 20, "sling_legs_entered": 1, "sling_angle_entered": 60}, {"single_leg_aslant"}),
    ({"valve_mass_entered": 20, "sling_legs_entered": 2, "sling_angle_entered": 20}, {"sling_too_flat"}),
    ({"valve_mass_entered": -20}, {"valve_mass_fault", "sling_legs_missing", "sling_angle_missing", "leg_capacity_missing"}),
]
#: What is never said where the valve stays in the line.
ONLY_LIFTED: Final = {"valve_mass_missing", "sling_legs_missing", "sling_angle_missing", "leg_capacity_missing", "sling_overloaded"}


@pytest.mark.parametrize(("typed", "deserved"), DESERVED)
@pytest.mark.parametrize("base", [METRIC, US], ids=["metric", "US"])
def test_each_sentence_is_spoken_by_what_deserves_it(typed: dict[str, object], deserved: set[str], base: dict[str, object]) -> None:
    """The faults listed and no others, joined in the check; where the valve stays in, no lift is asked for or stopped."""
    if base is US:
        lengths = ("leg_length_entered", "hook_height_entered")
        typed = {name: value / 25 if name in lengths and isinstance(value, (int, float)) else value for name, value in typed.items()}
    row = lifted(base, **typed)
    assert spoken(row) == deserved
    assert row["check_lift"] == (" ".join(get(name, Fault).words for name in FAULTS if name in deserved) or "OK")
    assert spoken(lifted(base, **{**typed, "comes_out_entered": "no"})) == deserved - ONLY_LIFTED


@pytest.mark.parametrize(("typed", "deserved"), BY_HAND)
def test_a_valve_that_one_person_lifts_is_asked_for_no_sling(typed: dict[str, object], deserved: set[str]) -> None:
    """No legs, angle or capacity are asked for up to the mass of one person, in kg or typed in lb; a typed sling is judged."""
    row = worked(comes_out_entered="yes", **typed)
    assert spoken(row) == deserved
    masses = ("valve_mass_entered", "leg_capacity_entered")
    in_pounds = {name: pounds(float(str(value))) if name in masses else value for name, value in typed.items()}
    assert spoken(worked(US, comes_out_entered="yes", **in_pounds)) == deserved
    words = {1.0: "as typed: lifted by hand", 0.0: "as typed"}
    assert row["mass_words"] == words.get(row["lifted_by_hand"], "")


def test_an_estimate_is_never_lifted_by_hand() -> None:
    """The smallest flange that is listed may belong to a light valve, but its mass is not typed: the sling is asked for."""
    row = worked(comes_out_entered="yes", flange_size="NPS 1/2", flange_class_entered=150)
    assert row["mass_estimate_high"] < issued_assumptions()["one_person_mass"]
    assert math.isnan(row["lifted_by_hand"])
    assert spoken(row) == {"valve_mass_estimated", "sling_legs_missing", "sling_angle_missing", "leg_capacity_missing"}


def test_the_mass_of_one_person_can_be_edited() -> None:
    """A site that lets nobody lift more than 15 kg has it."""
    frame = pd.DataFrame([{**METRIC, "comes_out_entered": "yes", "valve_mass_entered": 18}], dtype=object)
    assert calculate(frame).iloc[0]["check_lift"] == "OK"
    assert "sling legs is missing" in calculate(frame, constants={"one_person_mass": 15}).iloc[0]["check_lift"]


def test_every_sentence_has_a_case() -> None:
    """No fault of lifting is left without a valve that deserves it, here or among the slips below."""
    met = {name for _typed, deserved in DESERVED for name in deserved} | {f"{name.removesuffix('_entered')}_fault" for name, _ in SLIPS}
    assert met == set(FAULTS)


#: Slips: an entry and what cannot be meant by it.
SLIPS: Final[list[tuple[str, object]]] = [
    ("valve_mass_entered", -100), ("valve_mass_entered", 0), ("valve_mass_entered", "heavy"), ("valve_mass_entered", 60000),
    ("sling_legs_entered", 2.5), ("sling_legs_entered", 0), ("sling_legs_entered", 5), ("sling_legs_entered", "two"),
    ("sling_angle_entered", 0), ("sling_angle_entered", 90.5), ("sling_angle_entered", -60), ("sling_angle_entered", "steep"),
    ("leg_length_entered", 0), ("leg_length_entered", -1000), ("leg_length_entered", "long"), ("leg_length_entered", 30000),
    ("hook_height_entered", 0), ("hook_height_entered", -500), ("hook_height_entered", "high"), ("hook_height_entered", 30000),
    ("leg_capacity_entered", 0), ("leg_capacity_entered", -500), ("leg_capacity_entered", "1 t"),
    ("valve_actuated_entered", "perhaps"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "slip"), SLIPS)
@pytest.mark.parametrize("base", [METRIC, US], ids=["metric", "US"])
@pytest.mark.parametrize("comes_out", ["yes", "no", None])
def test_a_slip_speaks_whether_the_valve_comes_out_or_not(name: str, slip: object, base: dict[str, object], comes_out: str | None) -> None:
    """What is typed wrong is named and gives no number, and no missing sentence is spoken of it besides."""
    row = worked(base, **{**LIFTED, "comes_out_entered": comes_out, name: slip})
    assert spoken(row) == {f"{name.removesuffix('_entered')}_fault"}
    if name != "valve_actuated_entered":
        assert math.isnan(row[name.removesuffix("_entered")])


def test_case_and_unit_set_of_what_is_typed() -> None:
    """YES is yes; a row without unit set has no mass and leaves the word to the sentence about the unit set."""
    assert spoken(worked(comes_out_entered="YES")) >= {"valve_mass_missing", "sling_legs_missing"}
    row = lifted(unit_set=None)
    assert math.isnan(row["valve_mass"])
    assert math.isnan(row["leg_tension"])
    assert "Unit set is missing" in row["all_trouble"]
    assert spoken(row) == set()


def test_a_sentence_about_lifting_counts_for_the_state() -> None:
    """What lifting says is part of what is wrong with the valve: the same valve with steep legs has no word of it."""
    flat, steep = lifted(sling_angle_entered=20), lifted()
    assert flat["sling_too_flat"] in flat["all_trouble"]
    assert "sling" not in steep["all_trouble"]
    assert flat["sling_too_flat"] in flat["all_look"]
    # A sling that is overloaded is unsafe.
    assert lifted(leg_capacity_entered=1)["state"] == "STOP"


def test_the_angles_of_refusing_and_warning_can_be_edited() -> None:
    """A site that wants 60 degrees has it: the limits are assumptions."""
    frame = pd.DataFrame([{**METRIC, **LIFTED, "sling_angle_entered": 50}], dtype=object)
    stricter = calculate(frame, constants={"least_sling_angle": 60}).iloc[0]
    warned = calculate(frame, constants={"warn_sling_angle": 60}).iloc[0]
    assert (issued_assumptions()["least_sling_angle"], issued_assumptions()["warn_sling_angle"]) == (30, 45)
    assert spoken(stricter) == {"sling_too_flat"}
    assert math.isnan(stricter["leg_tension"])
    assert spoken(warned) == {"sling_flat"}
    assert warned["leg_tension"] == pytest.approx(50 / math.sin(math.radians(50)))
