"""The core against plain numpy and against its own bare functions: seconds, ratios, and peak memory in MB, for made-up valves.

`python tests/benchmarks/core.py [--valves 20000] [--runs 2]`, as CI runs it. Two comparisons, each side in a process of its
own, the sides in turn; of the runs the fastest is shown.

- All quantities: `calculate` of the core, from the frame of entries to the frame of answers, against the same functions called
  one after the other on ready arrays, all answers kept.
- Section, rings, gap, cut, flats and their checks: `calculate` cut down to them, against `by_hand`, which is the same equations
  written straight down in numpy, without declarations, guards or registry.

Both sides must give the same values for every valve and every quantity, or the exit code is 1.
"""

from __future__ import annotations

import argparse
import multiprocessing
import resource
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from typing import Any, Final
from unittest.mock import patch

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sheetcalc.calculations import run
from sheetcalc.calculations.answers import Answers
from sheetcalc.declare.quantity import Derived, Fault, Gravity, all_quantities, get
from sheetcalc.reference import tables

Numbers = NDArray[np.float64]
Texts = NDArray[np.object_]
Flags = NDArray[np.bool_]

#: The ratios aimed at with 100,000 valves: core over numpy, and core over its bare functions.
AIMS: Final = {"numpy": 1.8, "bare functions": 2.5}
#: Valves compared at a time, so that the comparison itself needs little memory.
BLOCK: Final = 100_000
#: Kilobytes in a unit of ru_maxrss: it counts kB on Linux, bytes on macOS.
_RSS_KB: Final = 1.0 if sys.platform == "linux" else 1 / 1024


# --- the valves -------------------------------------------------------------------------------------------------------


def made_up(count: int, seed: int = 1) -> pd.DataFrame:
    """A list of `count` valves: lengths in mm where unit_set is metric and in inches where it is US.

    Most rows are sound; some entries are blank, some out of range, a few are text where a number belongs; overrides
    are rare.
    """
    rng = np.random.default_rng(seed)
    us = rng.random(count) < 0.4
    unit = np.where(us, 25.4, 1.0)

    def length(low: float, high: float) -> Numbers:
        mm = rng.uniform(low, high, count)
        return np.where(us, np.round(mm / 25.4 * 16) / 16, np.round(mm))

    def rare(values: Numbers, share: float) -> Numbers:
        return np.where(rng.random(count) < share, values, np.nan)

    def some_bad(values: Numbers) -> Numbers:
        chance = rng.random(count)
        return np.where(chance < 0.01, np.nan, np.where(chance < 0.015, 45_000.0, np.where(chance < 0.02, -1.0, values)))

    def choice(texts: Sequence[str], shares: Sequence[float]) -> Texts:
        return np.array(texts, dtype=object)[rng.choice(len(texts), count, p=shares)]

    section = np.where(us, rng.integers(2, 13, count) / 16, rng.choice([4, 5, 6, 6.5, 8, 8.3, 9, 10, 12, 14, 16], count))
    stem = length(10, 80)
    gap = length(6, 30)
    tilted = rng.choice([0.0, 0.1, 0.3, 1.0], count) / unit
    frame = {
        "tag": np.array([f"V-{number:07d}" for number in range(count)], dtype=object),
        "unit_set": np.where(us, choice(("US", "us"), (0.95, 0.05)), choice(("metric", "Metric"), (0.95, 0.05))),
        "stem_diameter_entered": some_bad(stem),
        "box_bore_entered": some_bad(np.round(stem + 2 * section, 4)),
        "box_depth_entered": some_bad(length(30, 120)),
        "nose_length_entered": some_bad(length(20, 60)),
        "gland_stud_thread": np.where(
            us,
            choice(("1/2-13 UNC", "5/8-11 UNC", "3/4-10 UNC", ""), (0.4, 0.4, 0.15, 0.05)),
            choice(("M12", "M16", "m16", ""), (0.5, 0.43, 0.02, 0.05)),
        ),
        "packing_form_entered": choice(("", "braid", "Die-formed", "rope"), (0.85, 0.06, 0.08, 0.01)),
        "maker_ring_count_entered": rare(rng.choice([4.0, 5.0, 5.0, 6.0, 5.5], count), 0.3),
        "made_ring_height_entered": rare(section, 0.1),
        "cut_style_entered": choice(("", "butt", "Skive", "scarf"), (0.85, 0.08, 0.06, 0.01)),
        "section_list_entered": choice(("", "inch", "Metric", "ours"), (0.9, 0.05, 0.04, 0.01)),
        "stud_spacing_entered": rare(length(60, 140), 0.5),
        "gap_reading_1_entered": rare(gap, 0.4),
        "gap_reading_2_entered": rare(gap + tilted, 0.4),
        "gap_reading_distance_entered": rare(length(60, 140), 0.1),
        "preferred_ring_count_entered": rare(rng.choice([4.0, 6.0, 4.5], count), 0.02),
        "set_compression_entered": rare(rng.choice([0.25, 0.35, 30.0], count), 0.02),
        "seating_compression_entered": rare(rng.choice([0.1, 0.15, 0.4], count), 0.02),
        "least_entry_floor_entered": rare(length(3, 8), 0.02),
        "least_entry_share_entered": rare(rng.choice([0.2, 0.3, 2.0], count), 0.02),
        "spacer_step_entered": rare(rng.choice([0.5, 2.0, 0.0], count) / unit, 0.02),
        "length_allowance_entered": rare(rng.choice([0.03, 0.05, 5.0], count), 0.02),
        "waste_share_entered": rare(rng.choice([0.05, 0.1, 8.0], count), 0.02),
        "least_take_up_entered": rare(length(3, 8), 0.02),
    }
    bad_units = rng.random(count)
    frame["unit_set"][bad_units < 0.01] = ""
    frame["unit_set"][bad_units < 0.005] = "imperial"
    worn = frame["stem_diameter_entered"].astype(object)
    worn[rng.random(count) < 0.002] = "worn"
    frame["stem_diameter_entered"] = worn
    out = pd.DataFrame({name: pd.Series(values, dtype=values.dtype) for name, values in frame.items()})
    out.loc[rng.random(count) < 0.005, :] = np.nan
    return out


# --- the same equations in plain numpy --------------------------------------------------------------------------------


def read_by_hand(frame: pd.DataFrame) -> dict[str, Any]:
    """The columns as arrays: texts with "" for blank, numbers with NaN for blank and infinity for what is no number."""
    out: dict[str, Any] = {}
    for name in frame.columns:
        column = frame[name]
        if name in {"tag", "unit_set", "gland_stud_thread", "packing_form_entered", "cut_style_entered", "section_list_entered"}:
            out[name] = column.fillna("").to_numpy(dtype=object)
        elif column.dtype == object:
            numbers = pd.to_numeric(column, errors="coerce").to_numpy(dtype=np.float64, copy=True)
            numbers[np.isnan(numbers) & column.notna().to_numpy()] = np.inf
            out[name] = numbers
        else:
            out[name] = column.to_numpy(dtype=np.float64)
    return out


def _round(value: Any, digits: int = 6) -> Any:
    scale = 10.0**digits
    size = np.abs(value) * scale
    return np.copysign(np.floor(size + size * 2.0**-51 + 0.5), value) / scale


def _row(texts: Texts, names: Sequence[str], *, any_case: bool = True) -> NDArray[np.intp]:
    """The row of each text among the names, from 1; 0 for none of them."""
    rows = {name.lower() if any_case else name: row for row, name in enumerate(names, start=1)}
    codes, different = pd.factorize(texts)
    return np.array([rows.get(text.lower() if any_case else text, 0) for text in different], dtype=np.intp)[codes]


def _at(row: NDArray[np.intp], column: Any) -> Numbers:
    out: Numbers = np.concatenate([[np.nan], column])[row]
    return out


def _text_at(row: Any, texts: Sequence[str]) -> Texts:
    out: Texts = np.array(["", *texts], dtype=object)[row]
    return out


def _fits(entered: Numbers, factor: Any, low: float, high: float, *, whole: bool = False) -> Numbers:
    value = entered * factor
    good = (_round(value - low) >= 0) & (_round(high - value) >= 0)
    if whole:
        good &= _round(value - _round(value, 0)) == 0
    return np.where(good, value, np.nan)


def _spoken(code: Any, words: Sequence[str]) -> Texts:
    """The sentences whose bit is set in each code, joined; each different code is joined once."""
    codes, different = pd.factorize(code)
    said = [" ".join(text for bit, text in enumerate(words) if one >> bit & 1) for one in different.tolist()]
    return np.array(said, dtype=object)[codes]


def _coded(flags: Sequence[Flags]) -> NDArray[np.int64]:
    code = np.zeros(len(flags[0]), dtype=np.int64)
    for bit, flag in enumerate(flags):
        code |= flag.astype(np.int64) << bit
    return code


def by_hand(e: Mapping[str, Any], c: Mapping[str, Any], t: Mapping[str, Any], words: Mapping[str, str]) -> dict[str, Any]:  # noqa: C901, PLR0915 - straight down on purpose
    """Every quantity from the entries `e`, the assumptions `c` and the tables `t`; `words` are the fault sentences.

    Lengths are in mm, angles in degrees.
    """
    v: dict[str, Any] = dict(e)
    size = len(e["tag"])
    isnan, where, nan = np.isnan, np.where, np.nan
    blank = np.array("", dtype=object)

    # unit set, whether the row is in use
    unit = _row(e["unit_set"], t["unit_set_names"])
    known = unit > 0
    v["unit_row"] = where(known, unit, nan)
    v["length_factor"] = factor = _at(unit, t["unit_length_factors"])
    v["spacer_step_usual"] = _at(unit, t["unit_spacer_steps"])
    used = np.zeros(size, dtype=bool)
    for name, entered in e.items():
        if name != "unit_set":
            used |= ~isnan(entered) if entered.dtype.kind == "f" else entered != ""
    v["in_use"] = where(used, 1.0, nan)
    faults: dict[str, Flags] = {"unit_set_fault": used & ~known}

    # what is measured
    low, high = c["smallest_diameter"], c["largest_diameter"]
    short, long = c["smallest_length"], c["largest_length"]
    for name, least, most in (
        ("stem_diameter", low, high), ("box_bore", low, high), ("box_depth", short, long), ("nose_length", short, long),
    ):  # fmt: skip
        v[name] = _fits(e[f"{name}_entered"], factor, least, most)
        faults[f"{name}_fault"] = used & known & isnan(v[name])
    for name, key, least, most in (
        ("made_ring_height", "made_ring_height", short, long),
        ("stud_spacing", "stud_spacing", short, long), ("gap_reading_1", "gap_reading_1", 0, long),
        ("gap_reading_2", "gap_reading_2", 0, long), ("gap_reading_distance_typed", "gap_reading_distance", short, long),
        ("least_entry_floor_typed", "least_entry_floor", 0, long), ("spacer_step_typed", "spacer_step", c["smallest_step"], long),
        ("least_take_up_typed", "least_take_up", 0, long),
    ):  # fmt: skip
        v[name] = _fits(e[f"{key}_entered"], factor, least, most)
        faults[f"{key}_fault"] = ~isnan(e[f"{key}_entered"]) & known & isnan(v[name])
    for name, key, least, most, whole in (
        ("maker_ring_count", "maker_ring_count", 1, c["largest_count"], True),
        ("preferred_ring_count_typed", "preferred_ring_count", 1, c["largest_count"], True),
        ("set_compression_typed", "set_compression", c["smallest_compression"], c["largest_compression"], False),
        ("seating_compression_typed", "seating_compression", 0, c["largest_compression"], False),
        ("least_entry_share_typed", "least_entry_share", 0, 1, False),
        ("length_allowance_typed", "length_allowance", 0, 1, False), ("waste_share_typed", "waste_share", 0, 1, False),
    ):  # fmt: skip
        v[name] = _fits(e[f"{key}_entered"], 1.0, least, most, whole=whole)
        faults[f"{key}_fault"] = ~isnan(e[f"{key}_entered"]) & isnan(v[name])
    motion = t["stem_motion_names"].index(c["stem_motion_usual"])  # nobody says another
    v["motion_ring_count"] = np.full(size, t["motion_rings"][motion])
    for key, usual in (
        ("gap_reading_distance", v["stud_spacing"]), ("spacer_step", v["spacer_step_usual"]),
        ("preferred_ring_count", v["motion_ring_count"]),
        *((key, c[f"{key}_usual"]) for key in (
            "set_compression", "seating_compression", "least_entry_share", "length_allowance", "waste_share",
        )),
    ):  # fmt: skip
        v[key] = where(isnan(e[f"{key}_entered"]), usual, v[f"{key}_typed"])

    # what is chosen
    rows: dict[str, NDArray[np.intp]] = {}
    for key in ("packing_form", "cut_style", "section_list"):
        entered, names = e[f"{key}_entered"], t[f"{key}_names"]
        empty = entered == ""
        v[f"{key}_chosen"] = where(empty, np.array(c[f"{key}_usual"], dtype=object), entered)
        usual_row = [name.lower() for name in names].index(c[f"{key}_usual"].lower()) + 1
        rows[key] = where(empty, usual_row, _row(entered, names))
        v[key] = _text_at(rows[key], names)
        faults[f"{key}_fault"] = ~empty & (rows[key] == 0)
    braid, form_known = rows["packing_form"] == 1, rows["packing_form"] > 0

    # section
    stem, bore = v["stem_diameter"], v["box_bore"]
    between = _round(bore - stem)
    v["packing_section"] = section = where(between > 0, (bore - stem) / 2, nan)
    faults["stem_not_under_bore"] = between <= 0
    faults["bore_far_wider"] = _round(bore - c["slip_bore_ratio"] * stem) > 0
    v["section_nearness"] = near = np.minimum(c["section_tolerance"], c["section_tolerance_share"] * section)
    v["section_roll"] = most_roll = np.minimum(c["greatest_roll"], c["greatest_roll_share"] * section)
    small = c["small_floor_share"] * section
    v["unit_section_column"] = _at(unit, t["unit_section_columns"])
    column = where(rows["section_list"] == 1, v["unit_section_column"], _at(rows["section_list"], t["section_list_columns"]))
    v["section_column"] = where(known & (rows["section_list"] > 0), column, nan)
    wanted = _round(section)
    below, above = np.full(size, nan), np.full(size, nan)
    for place, name in enumerate(("inch", "metric", "all"), start=1):
        sizes = t[f"sorted_{name}_sizes"]
        listed = sizes[~isnan(sizes)]
        here = v["section_column"] == place
        found = np.searchsorted(listed, wanted[here], side="right")
        padded = np.concatenate([[nan], listed, [nan]])
        below[here], above[here] = padded[found], padded[found + 1]
    missing = isnan(section)
    below[missing] = above[missing] = nan
    v["stocked_below"], v["stocked_above"] = below, above
    v["below_distance"], v["above_distance"] = section - below, above - section
    v["nearest_distance"] = nearest = np.fmin(v["below_distance"], v["above_distance"])
    v["stocked_nearest"] = where(_round(nearest - v["above_distance"]) >= 0, above, below)
    v["stocked_nearest"][isnan(nearest)] = nan
    v["stocked_to_roll"] = where(braid & (_round(most_roll - v["above_distance"]) >= 0), above, nan)
    v["stocked_section"] = stocked = where(
        isnan(nearest), nan, where(_round(near - nearest) >= 0, v["stocked_nearest"], v["stocked_to_roll"])
    )
    v["roll"] = stocked - section
    advice = _round(v["roll"] - near) > 0
    v["section_advice"] = _text_at(
        where(isnan(v["roll"]), 0, where(advice, 1, 2)), ("Roll flat to just under the width.", "Use as stocked.")
    )
    v["braid_ring_height"] = stocked**2 * (1 + v["length_allowance"]) / section
    v["ring_height"] = height = where(form_known, where(braid, v["braid_ring_height"], v["made_ring_height"]), nan)
    faults["no_stocked_section"] = braid & (section > 0) & isnan(stocked)
    faults["made_ring_height_missing"] = form_known & ~braid & isnan(v["made_ring_height"]) & ~faults["made_ring_height_fault"]

    # rings
    has_room = _round(v["box_depth"])
    v["packing_depth"] = depth = where(has_room > 0, v["box_depth"], nan)
    v["least_entry_floor_small"] = np.minimum(c["least_entry_floor_usual"], small)
    v["least_entry_floor"] = where(isnan(e["least_entry_floor_entered"]), v["least_entry_floor_small"], v["least_entry_floor_typed"])
    v["least_entry"] = entry = np.maximum(v["least_entry_floor"], v["least_entry_share"] * section)
    v["rings_that_fit_exact"] = exact = (depth - entry) / height
    v["rings_that_fit"] = fit = np.maximum(0, np.floor(_round(exact)))
    seating = v["seating_compression"]
    v["rings_that_seat"] = seat = np.maximum(0, np.floor(_round((depth - np.maximum(entry, seating * height)) / (height * (1 - seating)))))
    v["least_take_up_usual"] = np.maximum(np.minimum(c["least_take_up_floor"], small), c["least_take_up_share"] * section)
    v["least_take_up"] = take_up = where(isnan(e["least_take_up_entered"]), v["least_take_up_usual"], v["least_take_up_typed"])
    nose, compression, step = v["nose_length"], v["set_compression"], v["spacer_step"]
    v["spacer_least"] = spacer_least = np.minimum(c["least_spacer"], section)
    v["rings_least"] = np.maximum(1, np.ceil(_round((depth + take_up - nose) / (height * (1 - compression)))))
    served: Any = 0.0
    for tried in range(1, int(c["largest_count"]) + 1):
        left = depth - entry - tried * height
        cut = np.floor(_round(left / step)) * step
        under = where(_round(cut - spacer_least) >= 0, cut, 0.0)
        end = nose - (depth - under - tried * height * (1 - compression))
        good = (_round(left) >= 0) & (_round(end - take_up) >= 0) & (tried <= v["preferred_ring_count"])
        served = where(good, tried, served)
    unknown = isnan(depth + entry + height + step + spacer_least + nose + compression + take_up + v["preferred_ring_count"])
    v["rings_most"] = served = where(unknown, nan, served)
    least_count = np.minimum(2, v["preferred_ring_count"])
    v["ring_count_worked"] = worked = where(served >= least_count, served, nan)
    ours = isnan(e["maker_ring_count_entered"])
    v["ring_count"] = rings = where(known, where(ours, worked, v["maker_ring_count"]), nan)
    v["maker_count_difference"] = v["maker_ring_count"] - worked
    v["stack_height"] = stack = rings * height
    v["spacer_room"] = room = depth - entry - stack
    cut = np.floor(_round(room / step)) * step
    v["spacer_height"] = spacer = where(isnan(room) | isnan(step), nan, where(_round(cut - spacer_least) >= 0, cut, 0.0))
    v["start_entry"] = start = depth - spacer - stack
    lost = where(braid, rings * np.maximum(0, stocked - height), 0.0)
    v["undersize_travel"] = where(form_known & ~isnan(rings) & ~isnan(stocked) & ~isnan(height), lost, nan)
    compulsory = where(v["rings_least"] > fit, 1, 2)
    v["spacer_advice"] = _text_at(
        where(isnan(v["rings_least"]) | isnan(fit), 0, compulsory),
        ("Compulsory: rings alone would bottom.", "Not needed: rings could fill the box."),
    )
    faults["no_ring_fits"] = ours & (fit < least_count)
    faults["nose_too_short"] = ours & (fit >= least_count) & (served < least_count)
    faults["rings_fewer"] = ours & (v["preferred_ring_count"] - worked >= 2)
    faults["maker_count_misfit"] = v["maker_ring_count"] > seat
    faults["spacer_fills_box"] = _round(spacer - c["slip_spacer_share"] * v["box_depth"]) > 0
    whole_count = _round(exact, 0)
    wished = where(isnan(v["preferred_ring_count"]), nan, np.fmax(v["preferred_ring_count"], v["maker_ring_count"]))
    off = _round(np.abs(exact - whole_count) * height - c["measuring_tolerance"])
    faults["count_on_edge"] = (_round(exact) > 0) & (off <= 0) & (whole_count <= wished)

    # gap
    v["gland_gap_start"] = nose - (start + seating * stack)
    v["compression_travel"] = travel = (compression - seating) * stack
    v["gland_gap_end"] = gap = v["gland_gap_start"] - travel
    rounded_gap = _round(gap)
    v["follower_state"] = _text_at(where(isnan(gap), 0, where(rounded_gap > 0, 2, 1)), ("bottomed", "free"))
    faults["follower_bottoms"] = _round(np.minimum(v["gland_gap_start"], gap)) <= 0
    faults["take_up_short"] = (rounded_gap > 0) & (_round(gap - take_up) < 0)
    faults["entry_short"] = (rings <= seat) & (_round(start - entry) < 0)
    faults["nose_longer_than_box"] = _round(nose - v["box_depth"]) > 0
    faults["follower_hardly_enters"] = _round(v["gland_gap_start"] - c["slip_gap_share"] * nose) > 0
    faults["seating_not_below_set"] = _round(compression - seating) <= 0

    # cut
    has_section = section > 0
    v["mean_length"] = np.pi * (stem + section)
    v["inner_length"] = where(has_section, np.pi * stem, nan)
    v["outer_length"] = where(has_section, np.pi * bore, nan)
    v["cut_length"] = where(braid, v["mean_length"] * (1 + v["length_allowance"]), nan)
    skived = where(rows["cut_style"] == 2, section, 0.0)
    v["skive_extra"] = where((rows["cut_style"] > 0) & ~isnan(section), skived, nan)
    v["tip_length"] = where(rows["cut_style"] == 2, v["cut_length"] + v["skive_extra"], nan)
    v["joint_gap_bound"] = v["outer_length"] - v["mean_length"]
    joint = where(isnan(rings), 0, np.searchsorted(t["joint_ring_counts"], rings, side="right"))
    v["joint_row"] = where(joint > 0, joint, nan)
    v["joint_step"] = _at(joint, t["joint_steps"])
    v["joint_angles"] = _text_at(joint, t["joint_angle_texts"])

    # flats and tilt
    thread = _row(e["gland_stud_thread"], t["thread_names"], any_case=False)
    v["thread_row"] = where(thread > 0, thread, nan)
    v["stud_threads_per_inch"] = per_inch = _at(thread, t["thread_per_inch"])
    v["stud_metric_pitch"] = _at(thread, t["thread_pitches"])
    v["stud_pitch"] = where(per_inch > 0, c["inch_length"] / per_inch, v["stud_metric_pitch"])
    v["advance_per_flat"] = advance = v["stud_pitch"] / c["flats_per_turn"]
    first, second, spacing, distance = v["gap_reading_1"], v["gap_reading_2"], v["stud_spacing"], v["gap_reading_distance"]
    v["gap_difference"] = difference = np.abs(first - second)
    v["gap_difference_at_studs"] = difference * spacing / distance
    v["follower_tilt"] = np.degrees(np.arctan(difference / distance))
    v["flats_to_even"] = (first - second) / advance * spacing / distance
    no_thread = e["gland_stud_thread"] == ""
    faults["thread_missing"] = used & no_thread
    faults["thread_not_known"] = ~no_thread & (thread == 0)
    no_first, no_second = isnan(first), isnan(second)
    faults["readings_incomplete"] = ~(no_first & no_second) & (no_first | no_second | isnan(distance) | isnan(spacing))
    faults["follower_tilted"] = _round(v["gap_difference_at_studs"] - c["greatest_gap_difference"]) > 0

    # sentences and checks
    for name, flag in faults.items():
        v[name] = where(flag, np.array(words[name], dtype=object), blank)
    ok = np.array("OK", dtype=object)
    for part, (check, names) in checks().items():
        spoken = [name for name in names if name in faults]
        code = _coded([faults[name] for name in spoken])
        v[f"{part}_trouble"] = trouble = _spoken(code, [words[name] for name in spoken])
        v[check] = where(used, where(code == 0, ok, trouble), blank)
    return v


#: The check of each part that is worked out by hand.
CHECKS: Final = {"section": "check_section", "rings": "check_rings", "gap": "check_gap", "cut": "check_cut", "flats": "check_tilt"}


@cache
def checks() -> dict[str, tuple[str, tuple[str, ...]]]:
    """The check of each part and the faults that it joins, the gravest first: data that both sides use."""
    run.answered_names()
    faults = sorted((one for one in all_quantities() if isinstance(one, Fault)), key=lambda one: list(Gravity).index(one.gravity))
    return {part: (check, tuple(one.name for one in faults if one.part == part)) for part, check in CHECKS.items()}


def fault_words() -> dict[str, str]:
    """The sentence of each fault, by name: data that both sides use."""
    return {quantity.name: quantity.words for quantity in all_quantities() if isinstance(quantity, Fault)}


# --- the two sides, each in a process of its own ----------------------------------------------------------------------


@dataclass(frozen=True)
class Cost:
    """Seconds of one side, and MB: what the process held at most, and what it held before."""

    read: float
    reckon: float
    frame: float
    peak: float
    before: float

    @property
    def whole(self) -> float:
        """Seconds from the frame of entries to the frame of answers."""
        return self.read + self.reckon + self.frame


def peak_mb() -> float:
    """The most memory that this process has held so far, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * _RSS_KB / 1024


def framed(values: Mapping[str, Any], index: pd.Index[Any]) -> pd.DataFrame:
    """Arrays as a frame, texts as objects."""
    return pd.DataFrame({name: pd.Series(array, index=index, dtype=array.dtype, copy=False) for name, array in values.items()}, copy=False)


@cache
def compared() -> tuple[str, ...]:
    """The quantities that are worked out by hand as well, in the core's order, with those that they read.

    By hand there are section, rings, gap, cut, flats and their checks; the verdicts over all parts would read the others too.
    """
    with np.errstate(all="ignore"):
        hand = by_hand(read_by_hand(made_up(10)), run.issued_assumptions(), tables.values(), fault_words())
    wanted = {name for name in hand if name in run.answered_names()}
    for name in reversed(run.answered_names()):
        if name in wanted:
            wanted.update(one for one in get(name).reads if isinstance(get(one), Derived))
    return tuple(name for name in run.answered_names() if name in wanted)


def cost_of_all(count: int) -> Cost:
    """What one call of `calculate` costs, its first two steps timed from outside."""
    frame = made_up(count)
    run.calculate(frame.head(10))
    seconds: dict[str, float] = {}

    def timed(function: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            start = time.perf_counter()
            out = function(*args, **kwargs)
            seconds[function.__name__] = time.perf_counter() - start
            return out

        return call

    before = peak_mb()
    with patch.object(run, "read_entries", timed(run.read_entries)), patch.object(run, "worked_out", timed(run.worked_out)):
        start = time.perf_counter()
        results = run.calculate(frame)
        whole = time.perf_counter() - start
    peak = peak_mb()
    del results
    read, reckon = seconds["read_entries"], seconds["worked_out"]
    return Cost(read, reckon, whole - read - reckon, peak, before)


def cost_of_part(count: int) -> Cost:
    """The same for the quantities alone that are also done by hand."""
    given = {one.name for one in all_quantities() if not isinstance(one, Derived)}
    part = Answers("part", frozenset({*compared(), *given}))
    patch.object(run, "whole", lambda: part).start()  # this process works out nothing else
    return cost_of_all(count)


def cost_of_bare(count: int) -> Cost:
    """What the functions cost by themselves, called on ready arrays, all answers kept: no reading, no guards, no frame."""
    frame = made_up(count)
    values = run.worked_out(run.read_entries(frame), count)
    calls = [(get(name, Derived).function, [values[read] for read in get(name).reads]) for name in run.answered_names()]
    before = peak_mb()
    with np.errstate(all="ignore"):
        start = time.perf_counter()
        answers = [function(*read) for function, read in calls]
        whole = time.perf_counter() - start
    peak = peak_mb()
    del answers
    return Cost(0.0, whole, 0.0, peak, before)


def cost_of_numpy(count: int) -> Cost:
    """What plain numpy costs, in the same three steps."""
    frame = made_up(count)
    constants, held, words = run.issued_assumptions(), tables.values(), fault_words()
    with np.errstate(all="ignore"):
        by_hand(read_by_hand(frame.head(10)), constants, held, words)
        before = peak_mb()
        marks = [time.perf_counter()]
        entries = read_by_hand(frame)
        marks.append(time.perf_counter())
        values = by_hand(entries, constants, held, words)
        marks.append(time.perf_counter())
        results = framed(values, frame.index)
        marks.append(time.perf_counter())
    peak = peak_mb()
    del results
    read, reckon, build = np.diff(marks).tolist()
    return Cost(read, reckon, build, peak, before)


def differences(count: int) -> dict[str, int]:
    """In how many of `count` valves each quantity differs between the two; only those that do. -1: one side lacks it."""
    frame = made_up(count)
    constants, held, words = run.issued_assumptions(), tables.values(), fault_words()
    out: dict[str, int] = {}
    for first in range(0, count, BLOCK):
        block = frame.iloc[first : first + BLOCK]
        core = run.calculate(block)
        with np.errstate(all="ignore"):
            hand = by_hand(read_by_hand(block), constants, held, words)
        out |= dict.fromkeys(set(hand) - set(core.columns), -1)
        for name in core.columns:
            if name not in hand:
                continue
            ours = core[name].to_numpy()
            same = ours == hand[name] if get(name).is_text else _near(ours, hand[name])
            wrong = int(np.sum(~np.asarray(same, dtype=bool)))
            if wrong:
                out[name] = out.get(name, 0) + wrong
    return out


def _near(ours: Any, hand: Any) -> Any:
    return np.isclose(ours, hand, rtol=1e-12, atol=1e-12, equal_nan=True)


def bare_differences(count: int) -> dict[str, int]:
    """In how many valves a bare function gives another value than `calculate`, where that has one; only those that do."""
    frame = made_up(count)
    core, values = run.calculate(frame), run.worked_out(run.read_entries(frame), count)
    out: dict[str, int] = {}
    with np.errstate(all="ignore"):
        for name in run.answered_names():
            quantity = get(name, Derived)
            bare, ours = quantity.function(*[values[read] for read in quantity.reads]), core[name].to_numpy()
            if isinstance(quantity, Fault):
                wrong = (ours != "") & ~np.broadcast_to(bare, ours.shape)
            elif quantity.is_text:
                wrong = (ours != "") & (ours != np.broadcast_to(np.asarray(bare, dtype=object), ours.shape))
            else:
                wrong = ~np.isnan(ours) & ~_near(ours, np.broadcast_to(bare, ours.shape))
            if np.any(wrong):
                out[name] = int(np.sum(wrong))
    return out


def in_own_process(function: Callable[[int], Any], count: int) -> Any:
    """The result of a function called in a fresh process, so that one side's memory is not the other's."""
    with ProcessPoolExecutor(max_workers=1, mp_context=multiprocessing.get_context("spawn")) as pool:
        return pool.submit(function, count).result()


def main() -> int:
    """Measure, compare, print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0] if __doc__ else "")
    parser.add_argument("--valves", type=int, default=20_000, help="valves in the list")
    parser.add_argument("--runs", type=int, default=2, help="runs of each side, in turn; the fastest is shown")
    chosen = parser.parse_args()
    print(f"{chosen.valves:,} valves, fastest of {chosen.runs} runs each")
    sides = (("all quantities", cost_of_all, "bare functions", cost_of_bare), ("part of them", cost_of_part, "numpy", cost_of_numpy))
    for called, core, other_called, other in sides:
        runs = [(in_own_process(core, chosen.valves), in_own_process(other, chosen.valves)) for _ in range(chosen.runs)]
        ours, theirs = (min(costs, key=lambda one: one.whole) for costs in zip(*runs, strict=True))
        print(f"\n{called:<24}{'core':>10}{other_called:>16}{'ratio':>8}")
        for title, mine, its in (
            ("read entries, s", ours.read, theirs.read), ("work out, s", ours.reckon, theirs.reckon),
            ("build the frame, s", ours.frame, theirs.frame), ("whole, s", ours.whole, theirs.whole), ("peak, MB", ours.peak, theirs.peak),
            ("peak less input, MB", ours.peak - ours.before, theirs.peak - theirs.before),
        ):  # fmt: skip
            print(f"{title:<24}{mine:>10.2f}{its:>16.2f}{mine / its if its else float('nan'):>8.2f}")
        print(f"aim with 100,000 valves: {AIMS[other_called]} times; microseconds a valve: {ours.whole / chosen.valves * 1e6:.2f}")
    wrong = in_own_process(differences, chosen.valves) | in_own_process(bare_differences, chosen.valves)
    if wrong:
        print("Values differ (quantity, valves; -1 where one side lacks it):")
        for name, number in sorted(wrong.items(), key=lambda pair: -pair[1]):
            print(f"  {name:<32}{number:>9}")
        return 1
    print("Same values on both sides, every quantity of every valve.")
    return 0


if __name__ == "__main__":
    sys.exit(main())
