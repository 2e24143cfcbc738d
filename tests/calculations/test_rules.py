"""Facts of the trade that must hold for every valve, whatever its measurements; and what becomes of bad ones.

The properties are written from the geometry of a stuffing box and from the rules of the job, not from the formulas.
"""

from __future__ import annotations

import datetime as dt
import math
from fractions import Fraction
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from sheetcalc.calculations.run import calculate
from sheetcalc.declare.quantity import Fault, Gravity, get

#: What a planner reads off for a valve, in numbers. Blank in all of them is blank indeed.
ANSWERS: Final = (
    "packing_section", "stocked_section", "roll", "ring_height", "least_entry", "rings_that_fit", "rings_least", "rings_most", "ring_count",
    "stack_height", "spacer_room", "spacer_height", "start_entry", "gland_gap_start", "compression_travel", "gland_gap_end",
    "mean_length", "inner_length", "outer_length", "cut_length", "skive_extra", "bulk_length", "joint_step", "flats_to_compress",
)  # fmt: skip
#: Answers in words.
WORDS: Final = ("section_advice", "follower_state", "spacer_advice", "joint_angles")

METRIC: Final[dict[str, object]] = {
    "tag": "V-1", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
    "nose_length_entered": 22, "gland_stud_thread": "M12",
}  # fmt: skip
US: Final[dict[str, object]] = {
    "tag": "V-2", "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.75, "box_depth_entered": 2.5,
    "nose_length_entered": 1, "gland_stud_thread": "1/2-13 UNC",
}  # fmt: skip


def worked(**changed: object) -> Any:
    """One valve worked out: the metric one with some entries changed."""
    return calculate(pd.DataFrame([{**METRIC, **changed}])).iloc[0]


def answered(row: Any, names: tuple[str, ...] = ANSWERS) -> dict[str, float]:
    """Those of the numbers that are not blank."""
    return {name: float(row[name]) for name in names if not math.isnan(row[name])}


def test_the_plain_valves_have_every_answer() -> None:
    """Nothing is blank for a healthy valve in either unit set, so that a blank further down means something."""
    out = calculate(pd.DataFrame([METRIC, US]))
    for _, row in out.iterrows():
        assert set(ANSWERS) == set(answered(row))
        assert [name for name in WORDS if row[name] == ""] == []


# --- any valve --------------------------------------------------------------------------------------------------------


def valves_of(seed: int, count: int = 400) -> list[dict[str, Any]]:
    """Any valves: lengths in tenths of a millimetre, shares in hundredths, and None for what is not typed."""
    rng = np.random.default_rng(seed)

    def some(low: int, high: int, typed: float = 1.0) -> list[int | None]:
        drawn = zip(rng.integers(low, high, count), rng.random(count) < typed, strict=True)
        return [int(value) if here else None for value, here in drawn]

    columns = {
        "stem": some(60, 1500), "section": some(30, 256), "depth": some(100, 3000), "nose": some(50, 1200), "maker": some(1, 15, 0.5),
        "preferred": some(1, 13, 0.5), "seating": some(0, 26), "set": some(26, 51),
        "lantern": some(0, 400, 0.5), "port": some(20, 90), "made": some(20, 301, 0.4),
        "step": [[None, 0.5, 1, 5][pick] for pick in rng.integers(0, 4, count)],
        "cut": [["", "butt", "skive"][pick] for pick in rng.integers(0, 3, count)],
    }  # fmt: skip
    return [dict(zip(columns, row, strict=True)) for row in zip(*columns.values(), strict=True)]


def frame_of(valves: list[dict[str, Any]]) -> pd.DataFrame:
    """The list that a planner would type for these valves, in mm."""
    return pd.DataFrame(
        [
            {
                "tag": f"V-{place}", "unit_set": "metric", "gland_stud_thread": "M16",
                "stem_diameter_entered": one["stem"] / 10, "box_bore_entered": (one["stem"] + 2 * one["section"]) / 10,
                "box_depth_entered": one["depth"] / 10, "nose_length_entered": one["nose"] / 10,
                "maker_ring_count_entered": one["maker"], "preferred_ring_count_entered": one["preferred"],
                "seating_compression_entered": one["seating"] / 100, "set_compression_entered": one["set"] / 100,
                "lantern_length_entered": None if one["lantern"] is None else one["lantern"] / 10,
                "port_depth_entered": round(one["depth"] * one["port"] / 100) / 10,
                "spacer_step_entered": one["step"], "cut_style_entered": one["cut"], "section_list_entered": "both",
                "packing_form_entered": "die-formed" if one["made"] else "braid",
                "made_ring_height_entered": None if one["made"] is None else one["made"] / 10,
            }
            for place, one in enumerate(valves)
        ]
    )  # fmt: skip


def results(seed: int) -> pd.DataFrame:
    """Any valves worked out, those alone whose rings, lantern and entry have a depth to be in."""
    out = calculate(frame_of(valves_of(seed)))
    return out[out["spacer_room"].notna()]


#: Each example is a list of 400 valves; a failing seed is reported, and there is nothing to make smaller.
SEEDS: Final = st.integers(0, 2**32 - 1)
FEW: Final = settings(deadline=None, max_examples=8, phases=[Phase.generate])


def assert_close(expected: Any, found: Any, tolerance: float = 1e-9) -> None:
    """Two columns are the same but for noise."""
    np.testing.assert_allclose(found, expected, rtol=tolerance, atol=tolerance)


@given(SEEDS)
@FEW
def test_spacer_room_is_what_rings_and_entry_leave(seed: int) -> None:
    """Lantern, entry, rings and room make up the depth; the spacer takes whole steps of the room and leaves less than one."""
    out = results(seed)
    lantern = out["lantern_length_entered"].fillna(0)
    total = lantern + out["least_entry"] + out["ring_count"] * out["ring_height"] + out["spacer_room"]
    assert_close(out["box_depth_entered"], total)
    fitted = out[(out["spacer_height"] > 0) & ~(out["lantern_length_entered"] > 0)]
    steps = fitted["spacer_height"] / fitted["spacer_step"]
    assert_close(steps.round(), steps)
    assert (fitted["spacer_height"] <= fitted["spacer_room"] + 1e-6).all()
    assert (fitted["spacer_room"] - fitted["spacer_height"] < fitted["spacer_step"]).all()


@given(SEEDS)
@FEW
def test_a_spacer_is_fitted_from_6_mm_on(seed: int) -> None:
    """Cut to whole steps a spacer is fitted from 6 mm on, or from the section on where that is smaller (from memory)."""
    out = results(seed)
    out = out[~(out["lantern_length_entered"] > 0)]
    cut = np.floor((out["spacer_room"] / out["spacer_step"]).round(6)) * out["spacer_step"]
    assert_close(np.where(cut.round(6) >= np.minimum(6, out["packing_section"].round(6)), cut, 0), out["spacer_height"])


@given(SEEDS)
@FEW
def test_the_gap_closes_by_the_travel(seed: int) -> None:
    """The gap at the end and the travel together are the gap at finger tight."""
    out = results(seed)
    assert_close(out["gland_gap_start"], out["gland_gap_end"] + out["compression_travel"])
    assert (out["compression_travel"] > 0).all()


@given(SEEDS)
@FEW
def test_the_gap_is_the_nose_less_what_stands_in_the_box(seed: int) -> None:
    """At the end the nose reaches down to the set: below the face by depth less lantern, spacer and shortened stack."""
    out = results(seed)
    for gap, share in (("gland_gap_start", "seating_compression_entered"), ("gland_gap_end", "set_compression_entered")):
        filled = out["lantern_length_entered"].fillna(0) + out["spacer_height"] + out["ring_count"] * out["ring_height"] * (1 - out[share])
        assert_close(out["nose_length_entered"] - (out["box_depth_entered"] - filled), out[gap])


def gap_without_spacer(out: pd.DataFrame, rings: Any) -> Any:
    """The gap at the end with so many rings on the bare bottom."""
    stack = rings * out["ring_height"] * (1 - out["set_compression_entered"])
    return out["nose_length_entered"] - (out["packing_depth"] - stack)


@given(SEEDS)
@FEW
def test_the_least_rings_leave_the_take_up_and_one_fewer_does_not(seed: int) -> None:
    """Without a spacer so many rings keep the least gap, and with one ring less the follower comes too close to the box."""
    out = results(seed)
    assert (gap_without_spacer(out, out["rings_least"]) >= out["least_take_up"] - 1e-5).all()
    more = out[out["rings_least"] > 1]
    assert (gap_without_spacer(more, more["rings_least"] - 1) < more["least_take_up"]).all()


def exact(value: float) -> Fraction:
    """A number as it is typed or printed."""
    return Fraction(str(round(value, 6)))


def largest_set(row: Any) -> float:
    """The most rings, no more than wanted, that fit free and leave the take-up, each number tried on every spacer of whole steps.

    By exact fractions, from what is typed; a spacer below 6 mm or the section is not fitted. NaN where fewer than two serve (or one
    where one is wanted).
    """
    section = (exact(row["box_bore_entered"]) - exact(row["stem_diameter_entered"])) / 2
    wanted = 5 if math.isnan(row["preferred_ring_count_entered"]) else int(row["preferred_ring_count_entered"])
    step = exact(1 if math.isnan(row["spacer_step_entered"]) else row["spacer_step_entered"])
    braid = row["packing_form_entered"] == "braid"
    ring = exact(row["stocked_section"]) ** 2 / section if braid else exact(row["made_ring_height_entered"])
    entry = max(section / 4, min(exact(3.175), section / 2))
    take_up = max(section / 4, min(Fraction(3), section / 2))
    for rings in range(wanted, min(2, wanted) - 1, -1):
        room = exact(row["box_depth_entered"]) - entry - rings * ring
        steps = [Fraction(0)] if room >= 0 else []
        if room // step * step >= min(Fraction(6), section):
            steps.append(room // step * step)
        for spacer in steps:
            bottom = exact(row["box_depth_entered"]) - spacer
            nose_in_box = bottom - rings * ring * (1 - exact(row["set_compression_entered"]))
            if exact(row["nose_length_entered"]) - nose_in_box >= take_up:
                return float(rings)
    return math.nan


@given(SEEDS)
@FEW
def test_our_count_is_the_largest_that_fits_and_leaves_the_take_up(seed: int) -> None:
    """Neither a count by the maker nor a lantern: the set that trying every number and its spacers finds; none is named by a check."""
    out = calculate(frame_of(valves_of(seed)))
    out = out[out["maker_ring_count_entered"].isna() & ~(out["lantern_length_entered"] > 0) & out["ring_height"].notna()]
    expected = [largest_set(row) for _, row in out.iterrows()]
    assert_close(expected, out["ring_count"])
    none = out["ring_count"].isna()
    assert out.loc[none, "check_rings"].str.contains("too shallow for a set|No set of rings leaves the least take-up").all()
    assert not out.loc[~none, "check_rings"].str.contains("too shallow for a set|No set of rings leaves the least take-up").any()
    wanted = out["preferred_ring_count_entered"].fillna(5)
    assert (out["check_rings"].str.contains("Two rings or more below the preferred") == (wanted - out["ring_count"] >= 2)).all()
    assert (out.loc[~none, "gland_gap_end"] >= out.loc[~none, "least_take_up"] - 1e-6).all()


def set_round_a_lantern(row: Any) -> tuple[float, float, float, float]:
    """Rings below, rings above, spacer and gap at the end of the first set that serves, by exact fractions; NaN where none does."""
    section = (exact(row["box_bore_entered"]) - exact(row["stem_diameter_entered"])) / 2
    step = exact(1 if math.isnan(row["spacer_step_entered"]) else row["spacer_step_entered"])
    braid = row["packing_form_entered"] == "braid"
    ring = exact(row["stocked_section"]) ** 2 / section if braid else exact(row["made_ring_height_entered"])
    seating, setting = exact(row["seating_compression_entered"]), exact(row["set_compression_entered"])
    box, nose, port = (exact(row[f"{name}_entered"]) for name in ("box_depth", "nose_length", "port_depth"))
    lantern, maker = exact(row["lantern_length_entered"]), row["maker_ring_count_entered"]
    entry = max(section / 4, min(exact(3.175), section / 2))
    take_up = max(section / 4, min(Fraction(3), section / 2))
    for below in range(3, 41):
        spacer = (box - port - lantern / 2 - below * ring * (1 - setting)) // step * step
        spacer = spacer if spacer >= min(Fraction(6), section) else Fraction(0)
        off = [box - spacer - below * ring * (1 - share) - lantern / 2 - port for share in (seating, setting)]
        if max(map(abs, off)) > lantern / 4:  # half of what a lantern has over a port of half its length
            continue

        def gap(above: int, middle: Fraction) -> Fraction:
            return nose - (middle - lantern / 2 - above * ring * (1 - setting))

        if math.isnan(maker):
            if spacer + lantern + (below + 3) * ring + entry > box:
                continue
            above = next(rings for rings in range(3, 2000) if gap(rings, port + off[1]) >= take_up)
            if spacer + lantern + (below + above) * ring + entry > box:
                break  # more below need no fewer in all
            fits = True
        else:
            above = int(maker) - below
            stack = spacer + lantern + (int(maker) - 1) * ring * (1 - seating)
            fits = above >= 1 and stack + max(ring, ring * (1 - seating) + entry) <= box
        if fits:
            return below, above, float(spacer), float(gap(above, port + off[1]))
    return (math.nan,) * 4


@given(SEEDS)
@FEW
def test_the_first_set_that_holds_a_lantern_at_its_port_is_taken(seed: int) -> None:
    """From three rings below it up, each number on its spacer, with as many above as leave the take-up or as the maker's count leaves."""
    out = calculate(frame_of(valves_of(seed)))
    known = out["ring_height"].notna() & out["packing_depth"].notna()
    out = out[known & (out["lantern_length_entered"] > 0)]
    expected = [set_round_a_lantern(row) for _, row in out.iterrows()]
    assert_close(expected, out[["rings_below_lantern", "rings_above_lantern", "spacer_height", "gland_gap_end"]])
    none = out["ring_count"].isna()
    assert (out["check_rings"].str.contains(get("lantern_misses_port", Fault).words, regex=False) == none).all()
    assert get("lantern_misses_port", Fault).gravity is Gravity.STOP
    few = out["check_rings"].str.contains(get("few_rings_by_lantern", Fault).words, regex=False)
    assert (few == (out["rings_above_lantern"] < 3)).all()


#: A valve with a lantern ring at its port, the worked example of the cases.
LANTERN: Final[dict[str, object]] = {
    "stem_diameter_entered": 25, "box_bore_entered": 38, "box_depth_entered": 95, "nose_length_entered": 25, "lantern_length_entered": 15,
    "port_depth_entered": 45,
}  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "fault", "gravity"),
    [
        ({"port_depth_entered": None}, "port_depth_missing", Gravity.MISSING),
        ({"port_depth_entered": 95}, "port_outside_box", Gravity.STOP),
        ({"port_depth_entered": 120}, "port_outside_box", Gravity.STOP),
        ({"port_depth_entered": 20}, "lantern_misses_port", Gravity.STOP),  # no room for three rings above
        ({"port_diameter_entered": 14}, "lantern_misses_port", Gravity.STOP),  # half a millimetre of play, and the set sinks by 1.95
        ({"maker_ring_count_entered": 12}, "lantern_misses_port", Gravity.STOP),
        ({"lantern_length_entered": 95}, "lantern_fills_box", Gravity.STOP),
    ],
)
def test_a_lantern_that_cannot_stand_at_its_port_is_named(changed: dict[str, object], fault: str, gravity: Gravity) -> None:
    """One sentence says why, and there is neither a count nor a gap."""
    row = worked(**{**LANTERN, **changed})
    assert row["check_rings"] == get(fault, Fault).words
    assert get(fault, Fault).gravity is gravity
    assert answered(row, ("ring_count", "rings_below_lantern", "spacer_height", "gland_gap_end", "bulk_length")) == {}


def test_without_a_lantern_nothing_is_asked_of_a_port() -> None:
    """A port depth that is typed for nothing is not used, and loose packing is poured round a lantern wherever it stands."""
    assert answered(worked(port_depth_entered=900)) == answered(worked())
    assert "port" not in worked(port_depth_entered=900)["check_rings"]
    assert "port" not in worked(**{**LANTERN, "port_depth_entered": None, "packing_form_entered": "loose"})["check_rings"]


@given(SEEDS)
@FEW
def test_a_makers_count_stands(seed: int) -> None:
    """A count that the maker states is used as it is."""
    out = results(seed)
    made = out[out["maker_ring_count_entered"].notna() & out["ring_count"].notna()]
    assert len(made)
    assert (made["ring_count"] == made["maker_ring_count_entered"]).all()


@given(SEEDS)
@FEW
def test_a_bottomed_follower_is_never_passed_over(seed: int) -> None:
    """A gap of nothing or less, at finger tight or at the end, is named by a sentence that stops the valve."""
    out = results(seed)
    smallest = out[["gland_gap_start", "gland_gap_end"]].min(axis=1)
    assert (out["check_gap"].str.contains(get("follower_bottoms", Fault).words, regex=False) == (smallest <= 5e-7)).all()
    assert get("follower_bottoms", Fault).gravity is Gravity.STOP


@given(SEEDS)
@FEW
def test_a_makers_count_that_does_not_fit_stops_the_valve(seed: int) -> None:
    """A maker's count that does not go into the depth ring after seated ring is stopped, and no braid is ordered for it."""
    out = results(seed)
    made = out[out["maker_ring_count_entered"].notna() & ~(out["lantern_length_entered"] > 0)]
    seated = made["ring_height"] * (1 - made["seating_compression_entered"])
    count = made["maker_ring_count_entered"]
    needed = np.maximum(count * seated + made["least_entry"], (count - 1) * seated + made["ring_height"])
    misfit = needed > made["packing_depth"] + 1e-5
    assert (made.loc[misfit, "state"] == "STOP").all()
    assert made.loc[misfit, "bulk_length"].isna().all()
    assert made.loc[misfit, "check_rings"].str.contains("not even with each ring seated").all()
    fits = ~misfit & (needed < made["packing_depth"] - 1e-5)
    assert (made.loc[fits, "maker_count_misfit"] == "").all()
    free = count * made["ring_height"] + made["least_entry"]
    said = made["check_gap"].str.contains("seat each one by one")
    assert said[fits & (free > made["packing_depth"] + 1e-5)].all()
    assert not said[misfit | (free < made["packing_depth"] - 1e-5)].any()


@given(SEEDS)
@FEW
def test_a_ready_valve_keeps_its_take_up(seed: int) -> None:
    """READY is said only where every check says OK, the follower enters far enough and the least gap is left."""
    out = results(seed)
    ready = out[out["state"] == "READY"]
    checks = [str(name) for name in out if str(name).startswith("check_")]
    assert (ready[checks] == "OK").all(axis=None)
    assert (ready["gland_gap_end"] >= ready["least_take_up"] - 1e-6).all()
    assert (ready["start_entry"] >= ready["least_entry"] - 1e-6).all()


@given(SEEDS)
@FEW
def test_every_valve_is_worked_out_on_its_own(seed: int) -> None:
    """A valve gets the same answers and the same words alone as in its list."""
    frame = frame_of(valves_of(seed, 12))
    out = calculate(frame)
    for place in range(len(frame)):
        alone = calculate(frame.iloc[[place]])
        pd.testing.assert_frame_equal(alone, out.iloc[[place]], check_categorical=False)


@given(SEEDS)
@FEW
def test_inches_and_millimetres_give_one_answer(seed: int) -> None:
    """The same valve typed in inches has the same answers, where stock list and spacer step are the same."""
    metric = frame_of(valves_of(seed))
    metric["spacer_step_entered"] = metric["spacer_step_entered"].fillna(1)
    inches = metric.assign(unit_set="US")
    lengths = [str(name) for name in metric if str(name).removesuffix("_entered") in {
        "stem_diameter", "box_bore", "box_depth", "nose_length", "lantern_length", "port_depth", "spacer_step", "made_ring_height"
    }]  # fmt: skip
    inches[lengths] = metric[lengths].astype(float) / 25.4
    expected, out = calculate(metric), calculate(inches)
    assert_close(expected[list(ANSWERS)], out[list(ANSWERS)], 1e-7)
    assert list(expected["state"]) == list(out["state"])
    assert list(expected["all_trouble"]) == list(out["all_trouble"])


@given(st.integers(0, 300), st.integers(0, 300), st.integers(200, 3000), st.integers(200, 3000))
@settings(deadline=None, max_examples=40)
def test_swapping_the_readings_turns_the_correction_round(first: int, second: int, distance: int, spacing: int) -> None:
    """With the readings swapped the other nut is turned by as many flats; the tilt is the same. Equal gaps need none."""
    readings = {"gap_reading_distance_entered": distance / 10, "stud_spacing_entered": spacing / 10}
    one = worked(gap_reading_1_entered=first / 10, gap_reading_2_entered=second / 10, **readings)
    two = worked(gap_reading_1_entered=second / 10, gap_reading_2_entered=first / 10, **readings)
    assert (-one["flats_to_even"], one["follower_tilt"]) == (two["flats_to_even"], two["follower_tilt"])
    assert (first > second, first == second) == (one["flats_to_even"] > 0, one["flats_to_even"] == 0)
    # Turning nut 1 by these flats of 1.75/6 mm closes the difference carried over to the studs.
    closed = one["flats_to_even"] * 1.75 / 6
    assert pytest.approx((first - second) / 10 * spacing / distance, abs=1e-9) == closed


@pytest.mark.parametrize("grid", ["mm", "in"])
def test_no_ring_is_lost_on_an_exact_depth(grid: str) -> None:
    """A box as deep as n rings holds n rings, for every ring height of a grid: tenths of a mm, or sixteenths of an inch."""
    parts, unit = (10, "metric") if grid == "mm" else (16, "US")
    pairs = [(height, count) for height in range(16, 255 if grid == "mm" else 40) for count in range(1, 13)]
    frame = pd.DataFrame(
        {
            "unit_set": unit, "stem_diameter_entered": 30, "box_bore_entered": [30 + 2 * height / parts for height, _ in pairs],
            "box_depth_entered": [height * count / parts for height, count in pairs],
            "packing_form_entered": "die-formed", "made_ring_height_entered": [height / parts for height, _ in pairs],
            "least_entry_floor_entered": 0, "least_entry_share_entered": 0,
        }
    )  # fmt: skip
    expected = [float(count) for _, count in pairs]
    assert expected == calculate(frame)["rings_that_fit"].tolist()


@pytest.mark.parametrize("grid", ["mm", "in"])
def test_no_ring_is_lost_with_the_usual_entry(grid: str) -> None:
    """A box as deep as n rings and an entry of 1/8 in (3.175 mm) holds n rings: depths are typed as decimals."""
    if grid == "mm":
        pairs = [(height / 10, count) for height in range(30, 127) for count in range(1, 13)]
        depths = [round(height * count + 3.175, 3) for height, count in pairs]
    else:
        pairs = [(height / 16, count) for height in range(2, 9) for count in range(1, 13)]
        depths = [height * count + 1 / 8 for height, count in pairs]
    frame = pd.DataFrame(
        {
            "unit_set": "metric" if grid == "mm" else "US", "stem_diameter_entered": 20, "box_depth_entered": depths,
            "box_bore_entered": [20 + 2 * height for height, _ in pairs], "packing_form_entered": "die-formed",
            "made_ring_height_entered": [height for height, _ in pairs], "least_entry_share_entered": 0,
        }
    )  # fmt: skip
    expected = [float(count) for _, count in pairs]
    assert expected == calculate(frame)["rings_that_fit"].tolist()


# --- rules about the section ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "stocked", "advice"),
    [
        (8.0, 8.0, "Use as stocked."), (8.3, 8.0, "Use as stocked."), (7.7, 8.0, "Use as stocked."),  # within 0.3 mm
        (8.9, 9.5, "Roll flat"), (8.7, 9.5, "Roll flat"), (13.3, 14.0, "Roll flat"),  # the next larger is at most 0.8 mm over
        (8.6, None, ""), (13.1, None, ""), (26.0, None, ""), (2.0, None, ""),  # neither near nor to be rolled
        (7.0, 7.0, "Use as stocked."), (15.0, 15.0, "Use as stocked."), (19.0, 19.0, "Use as stocked."),
        (2.75, 3.0, "Use as stocked."), (2.7, 3.0, "Roll flat"), (2.6, None, ""), (2.2, None, ""),  # a tenth, then 15 % of the width
    ],
)  # fmt: skip
def test_the_stocked_section_is_near_or_can_be_rolled(width: float, stocked: float | None, advice: str) -> None:
    """The nearest size within 0.3 mm, else the next larger up to 0.8 mm over, else made rings; less with thin ones (from memory)."""
    row = worked(box_bore_entered=28 + 2 * width)
    if stocked is None:
        assert "order made rings" in row["check_section"]
        assert answered(row, ("stocked_section", "ring_height", "ring_count", "gland_gap_end")) == {}
    else:
        assert stocked == row["stocked_section"]
        assert row["section_advice"].startswith(advice)


@pytest.mark.parametrize(
    ("width", "entry", "take_up", "spacer"),
    [(3.0, 1.5, 1.5, 3.0), (5.0, 2.5, 2.5, 5.0), (8.0, 3.175, 3.0, 6.0), (20.0, 5.0, 5.0, 6.0)],
)
def test_floors_shrink_with_the_section(width: float, entry: float, take_up: float, spacer: float) -> None:
    """Entry and take-up: a quarter of the section, but at least 1/8 in and 3 mm, or half of a thin section; a spacer: 6 mm or the section.

    Worked by hand from those rules, which are from memory where they hold for thin sections.
    """
    row = worked(box_bore_entered=28 + 2 * width, box_depth_entered=150)
    assert (entry, take_up, spacer) == (row["least_entry"], row["least_take_up"], row["spacer_least"])


def test_a_typed_floor_stands_with_any_section() -> None:
    """What a person types for one valve is not cut down."""
    row = worked(box_bore_entered=34, least_entry_floor_entered=2.5, least_take_up_entered=4)
    assert (row["least_entry"], row["least_take_up"]) == (2.5, 4.0)


def test_only_braid_is_rolled() -> None:
    """A die-formed ring is not taken from the next larger stock, and needs the height that its maker states."""
    row = worked(box_bore_entered=28 + 17.8, packing_form_entered="die-formed")
    assert answered(row, ("stocked_to_roll", "ring_height", "ring_count")) == {}
    assert "made ring height" in row["check_section"]
    assert worked(packing_form_entered="die-formed", made_ring_height_entered=7.5)["ring_height"] == 7.5


# --- unit set ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("typed", ["", None, "imperial", "inch", "mm", "metric ", "US*", 1, math.nan])
def test_without_a_unit_set_every_answer_is_blank(typed: object) -> None:
    """A blank or unknown unit set is never taken for mm: no answer, and a check that says what to type."""
    row = worked(unit_set=typed)
    assert answered(row) == {}
    assert [name for name in WORDS if row[name] != ""] == []
    assert row["state"] == "MISSING"
    assert "Unit set" in row["check_section"]
    assert "type metric (mm) or US (inches)" in row["check_section"]


@pytest.mark.parametrize("typed", ["METRIC", "Metric", "metric"])
def test_a_unit_set_may_be_typed_in_any_case(typed: str) -> None:
    """Capitals and small letters mean the same unit set."""
    assert worked(unit_set=typed)["packing_section"] == 8.0


def test_a_makers_count_does_not_answer_without_a_unit_set() -> None:
    """Every answer stays blank without a unit set, as the check says, also where the maker states a ring count."""
    assert answered(worked(unit_set="", maker_ring_count_entered=5)) == {}


def test_an_empty_row_is_silent() -> None:
    """A row in which nothing is typed, or the unit set alone, has neither answers nor complaints."""
    out = calculate(pd.DataFrame([{"unit_set": ""}, {"unit_set": "metric"}, {"unit_set": "US"}]))
    checks = [str(name) for name in out if str(name).startswith("check_")]
    assert len(checks) == 12
    assert (out[[*checks, "all_trouble"]] == "").all(axis=None)
    assert [answered(row) for _, row in out.iterrows()] == [{}, {}, {}]


# --- bad measurements -------------------------------------------------------------------------------------------------

#: What must not be taken for a measurement. 46219 is what a spreadsheet makes of 7/16 in 2026: the 16th of July.
BAD: Final[dict[str, object]] = {
    "zero": 0, "negative": -28, "text": "abc", "text with unit": "28 mm", "fraction as text": "7/16", "date as number": 46219,
    "date": dt.date(2026, 7, 16), "date and time": dt.datetime(2026, 7, 16), "huge": 1e9, "tiny": 1e-9,  # noqa: DTZ001 - as read
    "infinite": math.inf, "blank": None, "blank text": "", "not a number": math.nan, "true": True,
}  # fmt: skip
#: The entries that every valve needs: which check speaks, and which answers cannot be given without them.
NEEDED: Final = {
    "stem_diameter_entered": ("Stem diameter", "check_section", ANSWERS),
    "box_bore_entered": ("Box bore", "check_section", ANSWERS),
    "box_depth_entered": ("Box depth", "check_rings", (
        "rings_that_fit", "rings_least", "rings_most", "ring_count", "stack_height", "spacer_room", "spacer_height", "start_entry",
        "gland_gap_start", "compression_travel", "gland_gap_end", "bulk_length", "joint_step", "flats_to_compress",
    )),
    "nose_length_entered": ("Nose length", "check_gap", ("rings_least", "rings_most", "ring_count", "gland_gap_start", "gland_gap_end")),
}  # fmt: skip
#: Needed by the answers above in part only: without the others they stand, since they do not depend on it.
EXCEPT: Final = {"stem_diameter_entered": {"least_entry"}, "box_bore_entered": {"least_entry"}}


@pytest.mark.parametrize("unit", ["metric", "US"])
@pytest.mark.parametrize("bad", BAD)
@pytest.mark.parametrize("entry", NEEDED)
def test_a_bad_measurement_gives_blanks_and_a_sentence(entry: str, bad: str, unit: str) -> None:
    """Nothing that needs it is answered, the state is MISSING, and the check names the field and what to do."""
    title, check, blanks = NEEDED[entry]
    row = calculate(pd.DataFrame([{**(METRIC if unit == "metric" else US), entry: BAD[bad]}])).iloc[0]
    assert answered(row, blanks) == {}
    assert row["state"] == "MISSING"
    expected = f"{title} is missing, not a number, or outside its believable range: measure again and type the number"
    assert expected in row[check]
    assert "0 7/16" in row[check]


@pytest.mark.parametrize(("stem", "bore"), [(44, 28), (44, 44), (44.0000001, 44), (0.1 + 0.2 + 43.7, 44)])
def test_a_stem_as_thick_as_its_box_gives_blanks_and_a_sentence(stem: float, bore: float) -> None:
    """Stem and bore swapped, or equal but for noise: every answer is blank, and the check says to measure both again."""
    row = worked(stem_diameter_entered=stem, box_bore_entered=bore)
    assert answered(row) == {}
    assert row["state"] == "MISSING"
    assert "Stem diameter is not below box bore" in row["check_section"]
    assert "measure both again." in row["check_section"]


@pytest.mark.parametrize(
    ("changed", "check", "said"),
    [
        ({"gland_stud_thread": ""}, "check_tilt", "Gland stud thread missing."),
        ({"gland_stud_thread": "m12"}, "check_tilt", "choose it from the list on Tables"),
        ({"gland_stud_thread": "M*"}, "check_tilt", "choose it from the list on Tables"),
        ({"gland_stud_thread": "~M12"}, "check_tilt", "choose it from the list on Tables"),
    ],
)
def test_without_a_known_thread_there_are_no_flats(changed: dict[str, object], check: str, said: str) -> None:
    """No thread, or one not written as on Tables: the flats are blank, the rest stands, and the check says what to do."""
    row = worked(**changed)
    assert math.isnan(row["flats_to_compress"])
    # What cannot be used stops the valve, so that nothing is ordered either; what is missing leaves it sized.
    unusable = changed["gland_stud_thread"] != ""
    assert set(ANSWERS) - {"flats_to_compress", *(["bulk_length"] if unusable else [])} == set(answered(row))
    assert (row["state"], said in row[check]) == ("STOP" if unusable else "SIZED", True)


# --- overrides --------------------------------------------------------------------------------------------------------

#: Entries that an assumption stands in for when they are blank; the usual value, and an answer that needs them.
OVERRIDES: Final[dict[str, tuple[float, str, str]]] = {
    "preferred_ring_count": (5, "check_rings", "ring_count"),
    "set_compression": (0.30, "check_gap", "gland_gap_end"),
    "seating_compression": (0.20, "check_gap", "gland_gap_start"),
    "least_entry_floor": (3.175, "check_rings", "rings_that_fit"),
    "least_entry_share": (0.25, "check_rings", "rings_that_fit"),
    "least_take_up": (3, "check_gap", "rings_least"),
    "spacer_step": (1, "check_rings", "spacer_height"),
    "length_allowance": (0, "check_cut", "cut_length"),
    "waste_share": (0.08, "check_cut", "bulk_length"),
    "lantern_length": (0, "check_rings", "rings_that_fit"),
}


@pytest.mark.parametrize("name", OVERRIDES)
def test_a_blank_override_means_the_usual_value(name: str) -> None:
    """Where nothing is typed the assumption is used, and nothing is complained about."""
    usual, check, _ = OVERRIDES[name]
    row = worked()
    assert (usual, "OK") == (row[name], row[check])


@pytest.mark.parametrize("typed", [-1, 1e9, 46219, "abc", "30 %", math.inf, True])
@pytest.mark.parametrize("name", OVERRIDES)
def test_an_unusable_override_never_means_the_usual_value(name: str, typed: object) -> None:
    """What is typed and not usable gives a blank and a sentence with what to do, never the assumption in silence."""
    _, check, answer = OVERRIDES[name]
    row = worked(**{f"{name}_entered": typed})
    assert answered(row, (name, answer)) == {}
    assert "is typed but not usable: type " in row[check]
    assert "clear the cell." in row[check]
    assert row["state"] != "READY"


@pytest.mark.parametrize("typed", [2.5, 0, 41])
@pytest.mark.parametrize("name", ["maker_ring_count", "preferred_ring_count"])
def test_a_ring_count_is_a_whole_number_from_1_to_40(name: str, typed: float) -> None:
    """Half a ring, no ring and more rings than 40 (our choice) are no count; 1 and 40 are."""
    row = worked(**{f"{name}_entered": typed})
    assert answered(row, (name, "ring_count", "stack_height")) == {}
    assert "is typed but not usable" in row["check_rings"]
    assert [worked(**{f"{name}_entered": good})[name] for good in (1, 40)] == [1.0, 40.0]


@pytest.mark.parametrize(
    ("name", "check", "answer"),
    [
        ("packing_form", "check_section", "ring_height"),
        ("cut_style", "check_cut", "bulk_length"),
        ("section_list", "check_section", "stocked_section"),
    ],
)
@pytest.mark.parametrize("typed", ["zigzag", "b*", "?utt", "butt ", "0", 7])
def test_an_unknown_choice_never_means_the_usual_one(name: str, check: str, answer: str, typed: object) -> None:
    """A choice that is not in its list gives a blank and a sentence that points to Tables."""
    row = worked(**{f"{name}_entered": typed})
    assert row[name] == ""
    assert answered(row, (answer,)) == {}
    assert "is not one of the choices: choose one from the list on Tables." in row[check]


def test_seating_must_stay_below_setting() -> None:
    """Rings seated as hard as they are meant to be set leave nothing to tighten: the check says so."""
    row = worked(seating_compression_entered=0.3)
    assert "Seating compression must be below set compression" in row["all_look"]


# --- gland load and studs ---------------------------------------------------------------------------------------------

#: A valve with everything typed that load, studs, stack, stem and tools need, and nothing to complain about.
LOADED: Final[dict[str, object]] = {
    **METRIC, "packing_material": "graphite braid", "fluid_kind_entered": "steam", "fluid_temperature_entered": 150,
    "line_pressure_entered": 40, "stem_motion_entered": "rising", "gland_stud_count_entered": 2, "gland_stud_grade": "ISO 8.8",
    "stud_lubricant": "machine oil", "stem_thread_diameter_entered": 28, "stem_thread_pitch_entered": 5, "handwheel_radius_entered": 250,
}  # fmt: skip
#: What the load part and those after it answer for it.
LOAD_ANSWERS: Final = (
    "annulus_area", "gland_stress", "gland_load", "stud_load", "stud_stress", "stud_torque", "stud_torque_long", "stud_torque_first",
    "set_height", "bottom_stress_ratio", "bottom_stress", "bottom_stress_over_pressure", "rings_useful", "stem_friction_uniform",
    "stem_friction", "pressure_thrust", "stem_thrust", "screw_torque", "handwheel_torque", "rim_pull", "wrench_size", "packing_mass",
    "metre_mass", "bushing_outside", "bushing_inside", "bushing_length", "hook_reach", "hook_thickness",
)  # fmt: skip


def loaded(**changed: object) -> Any:
    """One valve with a gland load worked out: the one above with some entries changed."""
    return calculate(pd.DataFrame([{**LOADED, **changed}])).iloc[0]


def loads_of(seed: int, count: int = 400) -> pd.DataFrame:
    """Any valves with a gland load: frictions and ratios in hundredths, pressures from vacuum to 300 bar, studs from 1 to 8."""
    rng = np.random.default_rng(seed)
    stem, section = rng.integers(60, 800, count) / 10, rng.integers(30, 256, count) / 10
    grades = ["ISO 8.8", "ISO A2-50", "ASTM A193 B7", "ASTM A193 B8 class 1"]
    return pd.DataFrame(
        {
            "tag": [f"V-{place}" for place in range(count)], "unit_set": "metric", "stem_diameter_entered": stem,
            "box_bore_entered": stem + 2 * section, "box_depth_entered": rng.integers(400, 2000, count) / 10, "nose_length_entered": 60,
            "gland_stud_thread": [["M8", "M12", "M16", "1-8 UNC"][pick] for pick in rng.integers(0, 4, count)],
            "packing_form_entered": "die-formed", "made_ring_height_entered": section, "packing_material": "die-formed graphite",
            "maker_ring_count_entered": rng.integers(1, 11, count), "set_compression_entered": rng.integers(11, 51, count) / 100,
            "fluid_kind_entered": "water", "fluid_temperature_entered": 100.0,
            "line_pressure_entered": rng.integers(-1, 301, count), "gland_stud_count_entered": rng.integers(1, 9, count),
            "gland_stud_grade": [grades[pick] for pick in rng.integers(0, 4, count)],
            "stud_lubricant": [["none (dry)", "machine oil", "anti-seize paste"][pick] for pick in rng.integers(0, 3, count)],
            "stem_friction_factor_entered": rng.integers(1, 60, count) / 100,
            "box_friction_factor_entered": rng.integers(1, 60, count) / 100,
            "lateral_ratio_entered": rng.integers(10, 101, count) / 100,
            "stem_motion_entered": [["rising", "rising-rotating", "rotating", "quarter-turn"][pick] for pick in rng.integers(0, 4, count)],
            "stem_thread_diameter_entered": stem, "stem_thread_pitch_entered": rng.integers(20, 60, count) / 10,
            "handwheel_radius_entered": rng.integers(80, 500, count),
        }
    )  # fmt: skip


#: The only thing said of it: a note, which leaves it READY.
UNBOUNDED: Final = "The material's row states no greatest gland stress, so the stress is held against none."


def test_the_loaded_valve_has_every_answer() -> None:
    """Nothing is blank and nothing is complained about, so that a blank or a sentence further down means something."""
    row = loaded()
    assert set(LOAD_ANSWERS) == set(answered(row, LOAD_ANSWERS))
    assert (row["all_trouble"], row["material_verdict"], row["state"]) == (UNBOUNDED, "suits as far as stated", "READY")


def test_sizes_alone_are_sized_and_what_was_not_judged_is_said() -> None:
    """A valve of which only the sizes are typed has them; what the load wants is named once, and there is no torque."""
    row = worked()
    assert row["state"] == "SIZED"
    assert row["all_trouble"] == (
        "Not judged: Packing material missing. Fluid temperature missing. Kind of fluid not stated. Motion of the stem not stated. "
        "Line pressure missing. Gland stud count missing. Gland stud grade missing. Stud lubricant missing (dry figures overload oiled "
        "studs by a quarter)."
    )
    assert answered(row, ("stud_torque", "flange_bolt_torque")) == {}
    assert row["material_verdict"] == ""


@given(SEEDS)
@FEW
def test_the_gland_pays_for_friction_and_bottom(seed: int) -> None:
    """What the gland presses is held by stem, box and bottom: stem and box share by friction and diameter; the walls in balance."""
    frame = loads_of(seed)
    out = calculate(frame)
    assert out["bottom_stress_ratio"].between(0, 1, inclusive="neither").all()
    on_stem = frame["stem_friction_factor_entered"] * frame["stem_diameter_entered"]
    on_box = frame["box_friction_factor_entered"] * frame["box_bore_entered"]
    lost = (out["gland_stress"] - out["bottom_stress"]) * out["annulus_area"]
    assert_close(lost * on_stem / (on_stem + on_box), out["stem_friction"], 1e-7)


@given(SEEDS)
@FEW
def test_friction_with_decay_is_less_than_with_even_stress(seed: int) -> None:
    """The stress falls down the stack, so the stem feels less than if the gland stress reached every ring, and more than nothing."""
    out = calculate(loads_of(seed))
    assert (out["stem_friction"] < out["stem_friction_uniform"]).all()
    assert (out["stem_friction"] > out["stem_friction_uniform"] * out["bottom_stress_ratio"]).all()


@given(SEEDS)
@FEW
def test_the_short_form_agrees_where_stem_and_box_rub_alike(seed: int) -> None:
    """With equal friction both forms of the bottom ratio agree to a millionth; with different friction the short one is blank."""
    frame = loads_of(seed)
    frame["box_friction_factor_entered"] = frame["stem_friction_factor_entered"]
    out = calculate(frame)
    np.testing.assert_allclose(out["bottom_ratio_equal"], out["bottom_stress_ratio"], atol=1e-6, rtol=0)
    assert (out["bottom_ratio_difference"] == 0).all()
    apart = calculate(frame.assign(box_friction_factor_entered=frame["stem_friction_factor_entered"] + 0.01))
    assert apart["bottom_ratio_equal"].isna().all()


@pytest.mark.parametrize("friction", [0.03, 0.1, 0.16])
def test_more_rings_leave_the_bottom_less(friction: float) -> None:
    """With every further ring the bottom feels less, by the same share each time: a constant quotient."""
    frame = pd.DataFrame([{**LOADED, "maker_ring_count_entered": rings} for rings in range(1, 13)])
    frame["stem_friction_factor_entered"] = frame["box_friction_factor_entered"] = friction
    ratio = calculate(frame)["bottom_stress_ratio"].to_numpy()
    assert (np.diff(ratio) < 0).all()
    assert_close(ratio[1:], ratio[:-1] * ratio[0])


def test_without_friction_all_of_it_reaches_the_bottom() -> None:
    """Friction 0 is a number like any other: the bottom feels the gland stress, the stem nothing, and no ring is idle."""
    row = loaded(stem_friction_factor_entered=0, box_friction_factor_entered=0)
    assert (row["bottom_stress_ratio"], row["stem_friction"], row["mean_stress_ratio"], row["check_stack"]) == (1, 0, 1, "OK")
    assert math.isnan(row["rings_useful"])


@given(SEEDS)
@FEW
def test_the_stress_falls_ring_by_ring(seed: int) -> None:
    """The top ring feels the gland stress, the bottom ring passes on the bottom stress, and each ring takes the same share."""
    out = calculate(loads_of(seed))
    for _, row in out.iloc[:40].iterrows():
        rings = int(row["ring_count"])
        stresses = [row["bottom_stress"], *(row[f"ring_{ring}_stress"] for ring in range(1, rings + 1))]
        assert_close(row["gland_stress"], stresses[-1])
        assert_close(np.full(rings, row["bottom_stress_ratio"] ** (1 / rings)), np.array(stresses[:-1]) / np.array(stresses[1:]), 1e-7)


@given(SEEDS)
@FEW
def test_a_ring_is_useful_while_the_bottom_feels_half(seed: int) -> None:
    """So many rings leave the bottom half of the gland stress (our choice), and one ring more does not."""
    frame = loads_of(seed)
    out = calculate(frame)
    # The share that one ring passes on, from the whole set.
    one = out["bottom_stress_ratio"] ** (1 / out["ring_count"])
    assert (one ** out["rings_useful"] >= 0.5 - 1e-5).all()
    assert (one ** (out["rings_useful"] + 1) < 0.5 + 1e-5).all()
    idle = out["ring_count"] > np.maximum(1, out["rings_useful"])
    assert out.loc[idle, "check_stack"].str.contains("the lowest rings add little").all()
    assert not out.loc[~idle, "check_stack"].str.contains("the lowest rings add little").any()


#: Nut factor of each lubricant, and by how much of it the load scatters (NASA-STD-5020B, table 3; factors of the project's own table).
FACTORS: Final = {"none (dry)": 0.20, "machine oil": 0.16, "anti-seize paste": 0.13}
SCATTERS: Final = {"none (dry)": 0.35, "machine oil": 0.25, "anti-seize paste": 0.25}
#: Diameter in mm, area in square mm (ISO 898-1; ASME B1.1, 0.606 square inches).
STUDS: Final = {"M8": (8, 36.6), "M12": (12, 84.3), "M16": (16, 157), "1-8 UNC": (25.4, 0.606 * 25.4**2)}
#: Tensile strength and yield in MPa (ISO 898-1 and ISO 3506-1; ASTM A193 in ksi, second-hand). M8 to 1 in.
STRENGTHS: Final = {
    "ISO A2-50": (500, 210), "ASTM A193 B7": (125 * 6.894757, 105 * 6.894757), "ASTM A193 B8 class 1": (75 * 6.894757, 30 * 6.894757),
}  # fmt: skip


@given(SEEDS)
@FEW
def test_no_torque_is_given_that_could_overload_a_stud(seed: int) -> None:
    """The torque stays within a third of tensile, and at the low end of friction within yield; else it is blank and a sentence says so.

    Areas are printed to three figures, so within half of a percent of the limit either is right.
    """
    out = calculate(loads_of(seed))
    diameter = out["gland_stud_thread"].map(lambda thread: STUDS[thread][0])
    area = out["gland_stud_thread"].map(lambda thread: STUDS[thread][1])
    # 8.8 has 800 and 640 MPa to 16 mm, 830 and 660 above (ISO 898-1).
    big = (out["gland_stud_thread"] == "1-8 UNC") & (out["gland_stud_grade"] == "ISO 8.8")
    tensile = out["gland_stud_grade"].map(lambda grade: STRENGTHS.get(grade, (800, 640))[0]).mask(big, 830)
    proof = out["gland_stud_grade"].map(lambda grade: STRENGTHS.get(grade, (800, 640))[1]).mask(big, 660)
    usual = out["stud_torque_worked"] / (out["stud_lubricant"].map(FACTORS) * diameter) / area
    share = np.maximum(usual / (tensile / 3), usual * (1 + out["stud_lubricant"].map(SCATTERS)) / proof)
    over, within = share > 1.005, share < 0.995
    assert over.any()
    unstopped = within & out["state"].isin(["READY", "LOOK"])
    assert unstopped.any()
    assert out.loc[over, ["stud_torque", "stud_torque_long", "stud_torque_first", "stud_torque_second"]].isna().all(axis=None)
    assert out.loc[over, "check_studs"].str.contains("lower-stress packing, or the owner's engineer").all()
    assert (out.loc[over, "state"] == "STOP").all()
    assert out.loc[unstopped, "stud_torque"].notna().all()
    assert not out.loc[within, "check_studs"].str.contains("would be loaded beyond").any()


@given(SEEDS)
@FEW
def test_studs_share_the_load(seed: int) -> None:
    """All studs together carry the gland load, which is stress times annulus; at least 1.5 times the pressure and the floor."""
    frame = loads_of(seed)
    out = calculate(frame)
    assert_close(out["gland_load"], out["stud_load"] * frame["gland_stud_count_entered"])
    area = np.pi / 4 * (frame["box_bore_entered"] ** 2 - frame["stem_diameter_entered"] ** 2)
    assert_close(out["gland_load"], out["gland_stress"] * area, 1e-8)
    # 26.2 MPa and 1.5 times the pressure in MPa: usual figures of the packing, from memory.
    assert_close(np.maximum(26.2, 1.5 * frame["line_pressure_entered"] / 10), out["gland_stress"])


@pytest.mark.parametrize(
    ("changed", "said", "state"),
    [
        ({"stud_lubricant": ""}, "Stud lubricant missing", "SIZED"),
        ({"stud_lubricant": "butter"}, "Stud lubricant is none of the listed ones", "STOP"),
        ({"stud_lubricant": "machine*"}, "Stud lubricant is none of the listed ones", "STOP"),
        ({"gland_stud_grade": ""}, "Gland stud grade missing.", "SIZED"),
        ({"gland_stud_grade": "ISO 4.6"}, "No row of the grades on Tables holds for this grade and thread", "STOP"),
        ({"gland_stud_grade": "ISO 8*"}, "No row of the grades on Tables holds for this grade and thread", "STOP"),
        ({"gland_stud_grade": "ISO A2-70", "gland_stud_thread": "M24"}, "No row of the grades on Tables holds", "STOP"),
        ({"gland_stud_grade": "unknown"}, "states no tensile strength or no yield", "SIZED"),
        ({"gland_stud_count_entered": None}, "Gland stud count missing.", "SIZED"),
        ({"gland_stud_count_entered": 0}, "Gland stud count is typed but not usable", "STOP"),
        ({"gland_stud_count_entered": 1.5}, "Gland stud count is typed but not usable", "STOP"),
        ({"line_pressure_entered": None}, "Line pressure missing.", "SIZED"),
        ({"fluid_temperature_entered": None}, "Fluid temperature missing.", "SIZED"),
        ({"fluid_kind_entered": ""}, "Kind of fluid not stated.", "SIZED"),
        ({"stem_motion_entered": "not stated"}, "Motion of the stem not stated.", "SIZED"),
        ({"packing_material": ""}, "Packing material missing.", "SIZED"),
        ({"gland_kind_entered": "packing nut"}, "Packing nut: the gland load is shown", "READY"),
        ({"gland_kind_entered": "live-loaded"}, "springs store energy", "READY"),
        ({"gland_kind_entered": "bolted"}, "Kind of gland is not one of the choices", "STOP"),
        ({"most_gland_stress_entered": 30}, "more than the packing material bears", "STOP"),
        ({"nut_factor_entered": 0.04}, "Nut factor is typed but not usable", "STOP"),
        ({"nut_factor_entered": 1.01}, "Nut factor is typed but not usable", "STOP"),
        ({"nut_factor_entered": "0,2"}, "Nut factor is typed but not usable", "STOP"),
        ({"gland_stud_thread": "M7"}, "Gland stud thread is none of the listed ones", "STOP"),
        ({"gland_stud_thread": ""}, "Gland stud thread missing.", "SIZED"),
    ],
)  # fmt: skip
def test_without_its_needs_there_is_no_torque(changed: dict[str, object], said: str, state: str) -> None:
    """A wrench is never set by a guess: what is missing or not known leaves the torque blank, with a sentence; rings and gap stand.

    What is blank leaves the valve sized, what cannot be used stops it, and what is not ours to give does not hinder it.
    """
    row = loaded(**changed)
    torques = ("stud_torque", "stud_torque_long", "stud_torque_first", "stud_torque_second")
    assert answered(row, torques) == {}
    assert said in row["all_trouble"]
    assert row["state"] == state
    assert {"ring_count", "gland_gap_end"} <= set(answered(row))


@pytest.mark.parametrize("grade", ["iso 8.8", "ISO 8.8", "Iso 8.8"])
def test_grade_and_lubricant_are_known_in_any_case(grade: str) -> None:
    """Capitals and small letters name the same grade, lubricant and material."""
    row = loaded(gland_stud_grade=grade, stud_lubricant="MACHINE OIL", packing_material="Graphite Braid")
    assert row["stud_torque"] == loaded()["stud_torque"]
    assert row["all_trouble"] == UNBOUNDED


def test_springs_leave_flats_and_torque_to_their_maker() -> None:
    """A live-loaded gland has its load, but neither flats nor torque from us; a packing nut has no load of a stud either."""
    springs = loaded(gland_kind_entered="live-loaded")
    assert answered(springs, ("flats_to_compress", "stud_torque_worked", "stud_torque", "stud_torque_long")) == {}
    assert springs["gland_load"] == loaded()["gland_load"]
    nut = loaded(gland_kind_entered="packing nut")
    assert answered(nut, ("stud_load", "stud_stress", "stud_torque_worked", "stud_torque")) == {}
    assert nut["gland_load"] == loaded()["gland_load"]
    assert "stud" not in nut["check_studs"]


def test_the_packing_says_whether_its_greatest_stress_is_known() -> None:
    """Where no maximum is stated that is said, and no share is shown; where one is, the share is that of the stress."""
    row = loaded()
    assert (row["most_stress_words"], math.isnan(row["gland_stress_share"])) == ("no maximum stated", True)
    # PTFE braid: 17 MPa of at most 40 MPa, both from memory.
    stated = loaded(packing_material="PTFE braid", fluid_kind_entered="water", fluid_temperature_entered=100)
    assert stated["most_stress_words"] == "compared with the greatest stress stated"
    assert pytest.approx(17 / 40) == stated["gland_stress_share"]


def test_studs_must_keep_thread_for_the_travel() -> None:
    """4 mm of travel need 4 mm of thread below the nut; a tenth less is named."""
    enough, short = loaded(stud_thread_left_entered=4), loaded(stud_thread_left_entered=3.9)
    assert pytest.approx(0, abs=1e-9) == enough["stud_thread_spare"]
    assert enough["check_studs"] == f"OK. {UNBOUNDED}"
    assert "would run out of thread" in short["check_studs"]


@pytest.mark.parametrize(("unit", "pressure"), [("metric", -1), ("metric", -0.5), ("metric", 0), ("US", -14.7), ("US", -14.5)])
def test_a_vacuum_is_a_pressure(unit: str, pressure: float) -> None:
    """Full vacuum, -1 bar or -14.7 psi gauge, is legitimate: the floor governs the load, and the stem is drawn in, not out."""
    row = calculate(pd.DataFrame([{**(METRIC if unit == "metric" else US), "packing_material": "graphite braid",
        "fluid_temperature_entered": 200, "line_pressure_entered": pressure}])).iloc[0]  # fmt: skip
    assert row["line_pressure_fault"] == ""
    assert row["gland_stress"] == 37.9
    assert math.copysign(1, row["pressure_thrust"]) == (1 if pressure == 0 else -1)
    assert answered(row, ("bottom_stress_over_pressure", "stress_for_bottom")) == {}


@pytest.mark.parametrize(("unit", "pressure"), [("metric", -1.02), ("metric", -20), ("US", -15), ("metric", 1001), ("metric", "40 bar")])
def test_less_than_nothing_is_no_pressure(unit: str, pressure: object) -> None:
    """Below full vacuum, above what is believed, or no number: the load stays blank, and the check says what to type."""
    row = loaded(unit_set=unit, line_pressure_entered=pressure)
    assert answered(row, ("line_pressure", "gland_stress", "gland_load", "stud_torque", "pressure_thrust")) == {}
    assert "Line pressure is typed but not usable: type the gauge pressure" in row["check_material"]


# --- overrides of the load --------------------------------------------------------------------------------------------

#: Overrides of material and assumptions: the check that speaks, and an answer that needs them.
LOAD_OVERRIDES: Final = {
    "least_gland_stress": ("check_studs", "gland_load"), "pressure_factor": ("check_studs", "gland_load"),
    "most_gland_stress": ("check_studs", "stud_torque"), "nut_factor": ("check_studs", "stud_torque"),
    "stem_friction_factor": ("check_stack", "stem_friction"), "box_friction_factor": ("check_stack", "bottom_stress"),
    "lateral_ratio": ("check_stack", "bottom_stress"), "least_bottom_share": ("check_stack", "rings_useful"),
    "stem_thread_starts": ("check_stem", "rim_pull"), "stem_thread_friction": ("check_stem", "rim_pull"),
    "collar_friction": ("check_stem", "rim_pull"), "stem_thread_angle": ("check_stem", "rim_pull"),
    "collar_diameter": ("check_stem", "rim_pull"), "stem_thrust": ("check_stem", "rim_pull"),
    "most_rim_pull": ("check_stem", "rim_pull_share"),
}  # fmt: skip


@pytest.mark.parametrize("typed", [-1, 1e9, "abc", "30 %", math.inf, True])
@pytest.mark.parametrize("name", LOAD_OVERRIDES)
def test_an_unusable_override_of_the_load_never_means_the_usual_value(name: str, typed: object) -> None:
    """What is typed and not usable gives blanks and a sentence, never the figure of the material or the assumption in silence."""
    check, answer = LOAD_OVERRIDES[name]
    row = loaded(**{f"{name}_entered": typed})
    assert "is typed but not usable: " in row[check]
    assert answered(row, (name, answer)) == {}


@pytest.mark.parametrize("typed", [-0.01, 1.01])
@pytest.mark.parametrize(
    "name",
    ["stem_friction_factor", "box_friction_factor", "lateral_ratio", "least_bottom_share", "stem_thread_friction", "collar_friction"],
)
def test_a_friction_or_ratio_lies_between_0_and_1(name: str, typed: float) -> None:
    """Beyond either end it is named and nothing is reckoned with it; the ends themselves are taken."""
    check, answer = LOAD_OVERRIDES[name]
    row = loaded(**{f"{name}_entered": typed})
    assert answered(row, (name, answer)) == {}
    assert "is typed but not usable" in row[check]
    assert [loaded(**{f"{name}_entered": end})[name] for end in (0, 1)] == [0, 1]


@pytest.mark.parametrize("typed", ["zigzag", "s*", "?ry", "studs ", "0", 7])
@pytest.mark.parametrize(
    ("name", "check", "answer"),
    [
        ("gland_kind", "check_studs", "stud_torque"), ("gland_kind", "check_studs", "flats_to_compress"),
        ("packing_state", "check_material", "stem_friction"), ("stem_motion", "check_rings", "rim_pull"),
        ("stem_motion", "check_rings", "ring_count"), ("gland_nut_kind", "check_tools", "wrench_size"),
    ],
)  # fmt: skip
def test_an_unknown_choice_of_the_load_never_means_the_usual_one(name: str, check: str, answer: str, typed: object) -> None:
    """A choice that is not in its list gives a blank and a sentence that says to choose one."""
    row = loaded(**{f"{name}_entered": typed})
    assert row[name] == ""
    assert answered(row, (answer,)) == {}
    assert "is not one of the choices: choose " in row[check]


# --- the packing material ---------------------------------------------------------------------------------------------

ARAMID: Final[dict[str, object]] = {"packing_material": "aramid braid", "fluid_kind_entered": "water", "fluid_temperature_entered": 60}
#: What a valve asks of a material, and the reason why it is refused. Temperatures: The Tribology Handbook, sheet B25.1, Table 25.1
#: (graphite 550, aramid 250, ramie 120). The rest is from memory or common practice.
REFUSED: Final[list[tuple[dict[str, object], str]]] = [
    ({"fluid_temperature_entered": 551}, "hotter than the packing material bears"),
    ({"fluid_temperature_entered": 251, "packing_material": "aramid braid", "fluid_kind_entered": "water"}, "hotter than the packing"),
    ({"fluid_temperature_entered": 121, "packing_material": "flax or ramie braid", "fluid_kind_entered": "water"}, "hotter than the"),
    ({"fluid_temperature_entered": 900}, "hotter than every listed material bears: ask the owner's engineer"),
    ({"fluid_temperature_entered": -201, "fluid_kind_entered": "gas"}, "colder than the packing material bears"),
    ({"line_pressure_entered": 301}, "The line pressure is above the packing material's limit"),
    ({**ARAMID, "fluid_ph_entered": 13}, "The pH of the fluid is outside"),
    ({**ARAMID, "fluid_ph_entered": 2}, "The pH of the fluid is outside"),
    ({"packing_material": "PTFE braid", "fluid_kind_entered": "oxygen", "fluid_temperature_entered": 20}, "does not suit this kind"),
]  # fmt: skip


@pytest.mark.parametrize(("changed", "said"), REFUSED, ids=[said for _, said in REFUSED])
def test_a_material_beyond_its_limits_does_not_suit(changed: dict[str, object], said: str) -> None:
    """Too hot, too cold, too much pressure, too sour, too alkaline or the wrong fluid: the verdict is no, and the check says why."""
    row = loaded(**changed)
    assert row["material_verdict"] == "does not suit"
    assert said in row["check_material"]
    assert said in row["all_stop"]
    assert row["state"] == "STOP"
    assert answered(row, ("stud_torque", "stud_torque_long", "flats_to_compress", "bulk_length")) == {}
    assert {"stocked_section", "ring_count", "gland_gap_start", "gland_gap_end"} <= set(answered(row))


@pytest.mark.parametrize(("material", "limit"), [("graphite braid", 550), ("aramid braid", 250), ("flax or ramie braid", 120)])
def test_a_material_suits_up_to_its_limit(material: str, limit: float) -> None:
    """The printed temperature itself is borne, in degrees Fahrenheit too."""
    row = loaded(packing_material=material, fluid_kind_entered="water", fluid_temperature_entered=limit, line_pressure_entered=10)
    assert row["material_verdict"] == "suits as far as stated"
    frame = pd.DataFrame([{**US, "packing_material": material, "fluid_kind_entered": "water", "line_pressure_entered": 100,
        "stem_motion_entered": "rising", "fluid_temperature_entered": limit * 1.8 + 32 + hotter} for hotter in (0, 0.1)])  # fmt: skip
    assert calculate(frame)["material_verdict"].tolist() == ["suits as far as stated", "does not suit"]


@pytest.mark.parametrize("material", ["braid of unknown make", "rings of unknown make"])
def test_a_material_without_limits_is_not_passed(material: str) -> None:
    """Each limit that is not stated is named, the verdict is not known, and neither load nor torque is made up."""
    row = loaded(packing_material=material)
    assert row["material_verdict"] == "not known: a limit or the service is missing"
    for missing in ("temperature limit", "pressure limit", "pH limit", "friction factor", "lateral ratio", "density"):
        assert f"The material's row states no {missing}: ask its maker" in row["check_material"]
    assert "The material's row states no least gland stress or no pressure factor: ask its maker" in row["not_judged"]
    # Rings need their maker's height before there are sizes.
    assert row["state"] == ("SIZED" if material.startswith("braid") else "MISSING")
    assert "does not say whether it suits this kind of fluid" in row["check_material"]
    assert "does not say whether it suits the motion of this stem" in row["check_material"]
    assert answered(row, ("gland_stress", "gland_load", "stud_torque", "bottom_stress_ratio", "stem_friction", "packing_mass")) == {}


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"fluid_temperature_entered": None}, "Fluid temperature missing."),
        ({"fluid_temperature_entered": "hot"}, "Fluid temperature is typed but not usable"),
        ({"fluid_temperature_entered": -300}, "Fluid temperature is typed but not usable"),
        ({"fluid_kind_entered": "chemical"}, "pH of the chemical missing."),
        ({"fluid_kind_entered": "chemical", "fluid_ph_entered": 15}, "pH of the fluid is typed but not usable"),
        ({"line_pressure_entered": "40 bar"}, "Line pressure is typed but not usable"),
        ({"fluid_kind_entered": "juice"}, "Kind of fluid is not one of the choices"),
    ],
)  # fmt: skip
def test_a_material_is_not_passed_without_the_service(changed: dict[str, object], said: str) -> None:
    """Where temperature or the pH of a chemical is missing, or what is typed is not usable, nobody can say that the material suits."""
    row = loaded(**changed)
    assert said in row["check_material"]
    assert row["material_verdict"] == "not known: a limit or the service is missing"


def test_a_material_must_be_listed() -> None:
    """A load without a material, or with one that is not on Materials, is named; nothing is taken from another row."""
    unknown = "none of the listed ones"
    for typed, said in (("", "Packing material missing."), ("graphit", unknown), ("graphite*", unknown)):
        row = loaded(packing_material=typed)
        assert said in row["check_material"]
        assert row["material_verdict"] == ""
        assert answered(row, ("gland_stress", "stud_torque", "material_density")) == {}


def test_form_and_material_must_agree() -> None:
    """Braid cut from a spool cannot be die-formed graphite: the check says so."""
    row = loaded(packing_material="die-formed graphite", packing_form_entered="braid")
    assert "is not the form of the packing material" in row["check_material"]
    assert loaded(packing_material="die-formed graphite", made_ring_height_entered=8)["packing_form"] == "die-formed"


def test_lubricated_packing_rubs_less() -> None:
    """Graphite rubs with 0.16 dry and 0.1 lubricated (Valve World); where nothing is said dry is taken, the greater pull."""
    usual, dry, oiled = (loaded(packing_state_entered=one) for one in ("", "dry", "lubricated"))
    assert [row["stem_friction_factor"] for row in (usual, dry, oiled)] == [0.16, 0.16, 0.1]
    assert usual["rim_pull"] == dry["rim_pull"] > oiled["rim_pull"]


# --- the stem ---------------------------------------------------------------------------------------------------------


@given(SEEDS)
@FEW
def test_friction_acts_along_the_path_of_the_stem(seed: int) -> None:
    """Thrust and pull around the stem together are the friction, by Pythagoras: full thrust and full torque are never added.

    In one turn the packing takes friction times the path of the surface: the lead for a stem that slides, the circumference for
    one that turns, the helix for both.
    """
    out = calculate(loads_of(seed))
    around = out["stem_turn_torque"] / (out["stem_diameter"] / 2)
    assert_close(out["stem_friction"] ** 2, out["stem_thrust_packing"] ** 2 + around**2, 1e-8)
    motion = out["stem_motion_entered"]
    sliding, turning, both = motion == "rising", motion.isin(["rotating", "quarter-turn"]), motion == "rising-rotating"
    assert (out.loc[sliding, "stem_turn_torque"] == 0).all()
    assert (out.loc[turning, "stem_thrust_packing"] == 0).all()
    lead, circle = out["stem_thread_pitch_entered"], np.pi * out["stem_diameter_entered"]
    work = out["stem_thrust_packing"] * lead + 2 * np.pi * out["stem_turn_torque"]
    path = lead.where(sliding, circle.where(turning, np.sqrt(lead**2 + circle**2)))
    assert_close((out["stem_friction"] * path)[sliding | both | turning], work[sliding | both | turning], 1e-8)


@pytest.mark.parametrize("starts", [1, 2, 3])
@pytest.mark.parametrize("friction", [0, 0.05, 0.2])
def test_a_screw_makes_no_work(starts: int, friction: float) -> None:
    """Without friction a turn costs thrust times lead, up as down; with friction more is put in than comes out."""
    row = loaded(stem_thrust_entered=8000, stem_thread_friction_entered=friction, stem_thread_starts_entered=starts)
    out_of_it = 8000 * 5 * starts
    put_in = 2 * math.pi * row["screw_torque"]
    if friction == 0:
        assert pytest.approx(out_of_it) == put_in
        assert pytest.approx(-row["screw_torque"]) == row["lowering_torque"]
        assert pytest.approx(1) == row["screw_efficiency"]
    else:
        assert put_in > out_of_it
        assert pytest.approx(out_of_it / put_in) == row["screw_efficiency"]
        assert -row["screw_torque"] < row["lowering_torque"] < row["screw_torque"]


def test_a_collar_and_sloping_flanks_add_to_the_torque() -> None:
    """The collar adds thrust times friction times its radius; an Acme flank presses harder than a square one."""
    bare = loaded(stem_thrust_entered=8000)
    collar = loaded(stem_thrust_entered=8000, collar_diameter_entered=40, collar_friction_entered=0.1)
    assert pytest.approx(bare["screw_torque"] + 8000 * 0.1 * 20) == collar["screw_torque"]
    square = loaded(stem_thrust_entered=8000, stem_thread_angle_entered=0)
    assert square["screw_torque"] < bare["screw_torque"]


def test_a_longer_lever_needs_less_pull() -> None:
    """The pull at the rim times its radius is the torque, and over 300 N (from memory) it is named."""
    row = loaded()
    assert pytest.approx(row["handwheel_torque"]) == row["rim_pull"] * 250
    assert row["check_stem"] == "OK"
    short = loaded(handwheel_radius_entered=20)
    assert pytest.approx(12.5 * row["rim_pull"]) == short["rim_pull"]
    assert "more than is allowed" in short["check_stem"]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"handwheel_radius_entered": 0}, "Handwheel radius is typed but not usable: measure from the middle of the stem"),
        ({"handwheel_radius_entered": -10}, "Handwheel radius is typed but not usable"),
        ({"stem_thread_pitch_entered": None}, "A stem that rises needs the diameter and pitch of its thread"),
        ({"stem_thread_diameter_entered": None}, "A stem that rises needs the diameter and pitch of its thread"),
        ({"stem_thread_diameter_entered": 5, "stem_thread_pitch_entered": 28}, "The pitch of the stem thread is not below its diameter"),
        ({"stem_thread_pitch_entered": 0}, "Stem thread pitch is typed but not usable"),
    ],
)  # fmt: skip
def test_without_its_needs_there_is_no_pull(changed: dict[str, object], said: str) -> None:
    """What is missing or cannot be leaves the pull at the rim blank, and the check says what to do."""
    row = loaded(**changed)
    assert math.isnan(loaded(stem_motion_entered="")["rim_pull"])
    assert math.isnan(row["rim_pull"])
    assert said in row["check_stem"]


@pytest.mark.parametrize("motion", ["quarter-turn", "rotating"])
def test_a_stem_that_only_turns_needs_no_thread(motion: str) -> None:
    """Its packing asks for friction times half of the diameter at the handwheel, and for no thrust."""
    row = loaded(
        stem_motion_entered=motion, stem_thread_diameter_entered=None, stem_thread_pitch_entered=None, handwheel_radius_entered=400
    )  # fmt: skip
    assert (row["stem_thrust_packing"], row["screw_torque"], row["check_stem"]) == (0, 0, "OK")
    assert pytest.approx(row["stem_friction"] * 28 / 2) == row["handwheel_torque"]


# --- fitting and tools ------------------------------------------------------------------------------------------------


@given(SEEDS)
@FEW
def test_rings_stand_on_each_other(seed: int) -> None:
    """From the bottom up each seated ring ends its own height higher, a lantern in between; the gap starts where the top ring ends."""
    out = results(seed)
    out = out[(out["ring_count"] >= 1) & (out["ring_count"] <= 10)]
    assert len(out) > 20
    for _, row in out.iloc[:60].iterrows():
        rings, lantern = int(row["ring_count"]), float(np.nan_to_num(row["lantern_length_entered"]))
        below = int(row["rings_below_lantern"]) if lantern > 0 else rings
        depths = np.array([row[f"ring_{ring}_depth"] for ring in range(1, rings + 1)])
        rise = np.full(rings, row["ring_height"] * (1 - row["seating_compression"]))
        if below < rings:
            rise[below] += lantern
        assert_close(row["box_depth_entered"] - row["spacer_height"] - np.cumsum(rise), depths)
        assert_close(row["nose_length_entered"] - depths[-1], row["gland_gap_start"])
        beyond = [f"ring_{ring}_{what}" for ring in range(rings + 1, 11) for what in ("depth", "joint", "stress")]
        assert row[beyond].isna().all()


@pytest.mark.parametrize(("rings", "step"), [(1, 0), (2, 180), (3, 120), (4, 90), (5, 90), (10, 90)])
def test_joints_go_round(rings: int, step: int) -> None:
    """Ring k points to (k - 1) steps, whole turns dropped; the steps are a turn over the rings, from four on a quarter."""
    row = worked(maker_ring_count_entered=rings)
    expected = [float((ring - 1) * step % 360) for ring in range(1, rings + 1)]
    assert expected == [row[f"ring_{ring}_joint"] for ring in range(1, rings + 1)]


@given(SEEDS)
@FEW
def test_loose_packing_is_poured_and_pressed_until_the_box_is_full(seed: int) -> None:
    """Poured to the brim and pressed, again and again, until no more than the entry is left: counted here fill by fill.

    Packed height and room make up the depth; what was poured is pressed to the packed height.
    """
    rng = np.random.default_rng(seed)
    frame = pd.DataFrame(
        {
            "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44,
            "box_depth_entered": rng.integers(200, 2000, 60) / 10,
            "nose_length_entered": 80, "packing_form_entered": "loose", "seating_compression_entered": rng.integers(10, 51, 60) / 100,
            "set_compression_entered": 0.6, "least_entry_floor_entered": rng.integers(30, 150, 60) / 10, "least_entry_share_entered": 0,
        }
    )  # fmt: skip
    out = calculate(frame)
    for _, row in out.iterrows():
        room, poured, fills = row["box_depth_entered"], 0.0, 0
        while room > row["least_entry_floor_entered"] + 1e-5:
            poured, room, fills = poured + room, room * row["seating_compression_entered"], fills + 1
        assert fills == row["loose_fills"]
        assert_close([room, poured], [row["loose_room"], row["loose_height"]])
        assert_close(row["box_depth_entered"], row["loose_height"] * (1 - row["seating_compression_entered"]) + row["loose_room"])
        assert_close(row["nose_length_entered"] - room, row["gland_gap_start"])


def test_loose_packing_has_no_rings() -> None:
    """It is neither counted nor cut: rings, lengths and joints are blank, and its fills are not."""
    row = loaded(packing_material="loose graphite", line_pressure_entered=20, nose_length_entered=60)
    assert answered(row, ("ring_height", "ring_count", "cut_length", "bulk_length", "ring_1_depth", "metre_mass")) == {}
    assert set(answered(row, ("loose_fills", "stack_height", "gland_gap_end", "packing_mass", "stud_torque"))) == {
        "loose_fills", "stack_height", "gland_gap_end", "packing_mass", "stud_torque"
    }  # fmt: skip
    assert answered(loaded(), ("loose_fills", "loose_room", "loose_height")) == {}


@given(SEEDS)
@FEW
def test_tools_fit_the_box(seed: int) -> None:
    """The bushing goes over the stem and into the box with play and stands out on the seated bottom ring; the hook is thin and long."""
    out = results(seed)
    assert (out["bushing_inside"] > out["stem_diameter_entered"]).all()
    assert (out["bushing_outside"] < out["box_bore_entered"]).all()
    # The bottom ring is the first, and nothing is above it yet.
    some = out[out["ring_count"] >= 1]
    lantern_first = (some["rings_below_lantern"] == 0) & (some["lantern_length_entered"] > 0)
    assert_close(np.full(len(some), 30.0)[~lantern_first], (some["bushing_length"] - some["ring_1_depth"])[~lantern_first])
    assert (out["hook_reach"] > out["box_depth_entered"]).all()
    assert (out["hook_thickness"] < out["packing_section"]).all()
    assert (out["mandrel_diameter"] == out["stem_diameter_entered"]).all()


def test_a_spool_and_a_ring_weigh_what_their_volume_does() -> None:
    """Braid: metres from the spool times the mass of a metre. Made rings: 1.4 g/cm3 (from memory) times annulus and free height."""
    braid = loaded()
    assert pytest.approx(braid["bulk_length"] / 1000 * braid["metre_mass"]) == braid["packing_mass"]
    made = loaded(packing_material="die-formed graphite", made_ring_height_entered=8, maker_ring_count_entered=5)
    volume = math.pi / 4 * (4.4**2 - 2.8**2) * 4.0
    assert pytest.approx(1.4 * volume / 1000) == made["packing_mass"]
    assert math.isnan(made["metre_mass"])


@pytest.mark.parametrize(("kind", "thread"), [("heavy hex", "M12"), ("old DIN hex", "1/2-13 UNC"), ("hex", "2-8 UN")])
def test_a_nut_that_is_not_listed_is_named(kind: str, thread: str) -> None:
    """There is no heavy hex for a metric thread, no old DIN width for an inch one: no wrench is made up."""
    row = worked(gland_stud_thread=thread, gland_nut_kind_entered=kind)
    assert (math.isnan(row["wrench_size"]), row["wrench_words"]) == (True, "")
    assert "No width across flats is listed" in row["check_tools"]


def test_psi_and_bar_give_one_answer() -> None:
    """The same valves typed in inches, psi, lbf and degrees Fahrenheit have the same loads, torques and pulls.

    Factors by NIST SP 811 (2008), appendix B.8: 1 psi = 6.894757 kPa, 1 lbf = 4.448222 N, so agreement is to a millionth.
    """
    metric = loads_of(7, 60).assign(spacer_step_entered=1, fluid_temperature_entered=150.0, stem_thrust_entered=5000.0)
    factors = {
        "stem_diameter": 25.4, "box_bore": 25.4, "box_depth": 25.4, "nose_length": 25.4, "made_ring_height": 25.4, "spacer_step": 25.4,
        "stem_thread_diameter": 25.4, "stem_thread_pitch": 25.4, "handwheel_radius": 25.4, "line_pressure": 0.06894757,
        "stem_thrust": 4.448222,
    }  # fmt: skip
    inches = metric.assign(unit_set="US", fluid_temperature_entered=302.0)
    for name, factor in factors.items():
        inches[f"{name}_entered"] = metric[f"{name}_entered"].astype(float) / factor
    expected, out = calculate(metric), calculate(inches)
    names = [name for name in LOAD_ANSWERS if name != "metre_mass"]
    assert expected[names].notna().any().all()
    np.testing.assert_allclose(out[names].to_numpy(), expected[names].to_numpy(), rtol=2e-6)
    assert list(expected["all_trouble"]) == list(out["all_trouble"])
