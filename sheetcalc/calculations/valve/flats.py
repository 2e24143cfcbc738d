"""Flats of the gland nuts for the travel, and the tilt of the follower with the flats that even it."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, row_exact
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite

PART = "flats"


@derived(
    title="Row of the thread",
    unit="1",
    part=PART,
    source=cite("reading"),
    guards=False,
    excel="IFERROR(IF(EXACT(INDEX({thread_names},MATCH({gland_stud_thread},{thread_names},0)),{gland_stud_thread}),"
    'MATCH({gland_stud_thread},{thread_names},0),""),"")',
)
def thread_row(thread_names: list[str], gland_stud_thread: Text) -> Num:
    """The row of the gland stud thread in its table, only if written just as there."""
    return row_exact(gland_stud_thread, thread_names)


@derived(
    title="Threads per inch",
    unit="1",
    part=PART,
    source=cite("threads-inch"),
    excel="INDEX({thread_per_inch},{thread_row})",
)
def stud_threads_per_inch(thread_per_inch: Num, thread_row: Num) -> Any:
    """Threads per inch of an inch thread, 0 for a metric one."""
    return pick(thread_row, thread_per_inch)


@derived(
    title="Metric pitch",
    unit="mm",
    part=PART,
    source=cite("threads-metric"),
    excel="INDEX({thread_pitches},{thread_row})",
)
def stud_metric_pitch(thread_pitches: Num, thread_row: Num) -> Any:
    """The pitch of a metric thread, 0 for an inch one."""
    return pick(thread_row, thread_pitches)


@derived(
    title="Stud pitch",
    symbol="p",
    unit="mm",
    part=PART,
    source=cite("threads-inch"),
    excel="IF({stud_threads_per_inch}>0,{inch_length}/{stud_threads_per_inch},{stud_metric_pitch})",
)
def stud_pitch(stud_threads_per_inch: Num, inch_length: float, stud_metric_pitch: Num) -> Num:
    """How far the nut goes in one turn."""
    return np.where(stud_threads_per_inch > 0, inch_length / stud_threads_per_inch, stud_metric_pitch)


@derived(
    title="Advance per flat",
    unit="mm",
    part=PART,
    source=cite("flats"),
    excel="{stud_pitch}/{flats_per_turn}",
)
def advance_per_flat(stud_pitch: Num, flats_per_turn: float) -> Num:
    """How far the nut goes in one flat, a sixth of a turn."""
    return stud_pitch / flats_per_turn


@derived(
    title="Flats to compress",
    symbol="N_f",
    unit="1",
    part=PART,
    source=cite("travel"),
    optional=("all_stop",),
    excel='IF(AND({all_stop}="",NOT(EXACT({gland_kind},"live-loaded"))),{compression_travel}/{advance_per_flat},"")',
)
def flats_to_compress(all_stop: Text, gland_kind: Text, compression_travel: Num, advance_per_flat: Num) -> Num:
    """Flats per nut from finger tight to the compressed set: a forecast, one flat at a time, nuts in turn; none with springs."""
    turned = (all_stop == "") & (gland_kind != "live-loaded")
    return np.where(turned, compression_travel / advance_per_flat, np.nan)


@derived(
    title="Turns of the packing nut to compress",
    symbol="",
    unit="1",
    part=PART,
    source=cite("travel"),
    optional=("all_stop",),
    excel='IF(AND({all_stop}="",EXACT({gland_kind},"packing nut")),{compression_travel}/{stud_pitch},"")',
)
def nut_turns(all_stop: Text, gland_kind: Text, compression_travel: Num, stud_pitch: Num) -> Num:
    """Turns of a packing nut from finger tight to the compressed set, by the pitch of its own thread: a forecast."""
    turned = (all_stop == "") & (gland_kind == "packing nut")
    return np.where(turned, compression_travel / stud_pitch, np.nan)


@derived(
    title="Gap difference",
    unit="mm",
    part=PART,
    source=cite("tilt"),
    excel="ABS({gap_reading_1}-{gap_reading_2})",
)
def gap_difference(gap_reading_1: Num, gap_reading_2: Num) -> Num:
    """Difference of the two gaps where they were read."""
    return np.abs(gap_reading_1 - gap_reading_2)


@derived(
    title="Gap difference at the studs",
    unit="mm",
    part=PART,
    source=cite("tilt"),
    excel='IF(EXACT({gland_has_studs},"yes"),{gap_difference}*{stud_spacing}/{gap_reading_distance},"")',
)
def gap_difference_at_studs(gland_has_studs: Text, gap_difference: Num, stud_spacing: Num, gap_reading_distance: Num) -> Num:
    """The same difference carried over to the centres of the studs."""
    return np.where(gland_has_studs == "yes", gap_difference * stud_spacing / gap_reading_distance, np.nan)


@derived(
    title="Follower tilt",
    symbol="θ",
    unit="deg",
    part=PART,
    source=cite("tilt"),
    excel="ATAN({gap_difference}/{gap_reading_distance})*360/(2*PI())",
)
def follower_tilt(gap_difference: Num, gap_reading_distance: Num) -> Num:
    """Angle by which the follower leans."""
    return np.degrees(np.arctan(gap_difference / gap_reading_distance))


@derived(
    title="Flats to even up",
    symbol="N_e",
    unit="1",
    part=PART,
    source=cite("tilt"),
    excel='IF(EXACT({gland_has_studs},"yes"),({gap_reading_1}-{gap_reading_2})/{advance_per_flat}*{stud_spacing}/'
    '{gap_reading_distance},"")',
)
def flats_to_even(
    gland_has_studs: Text, gap_reading_1: Num, gap_reading_2: Num, advance_per_flat: Num, stud_spacing: Num, gap_reading_distance: Num
) -> Num:
    """Flats that even the follower: positive, tighten nut 1; negative, nut 2. Never slacken under pressure."""
    flats = (gap_reading_1 - gap_reading_2) / advance_per_flat * stud_spacing / gap_reading_distance
    return np.where(gland_has_studs == "yes", flats, np.nan)


@fault(
    title="Thread not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("practice"),
    about=("gland_stud_thread",),
    optional=("gland_stud_thread",),
    words="Gland stud thread missing.",
    excel='AND({in_use}=1,EXACT({gland_kind},"studs"),IFERROR({gland_stud_thread}="",0))',
)
def thread_missing(in_use: Num, gland_kind: Text, gland_stud_thread: Text) -> Any:
    """Says that no thread is typed."""
    return (in_use == 1) & (gland_kind == "studs") & (gland_stud_thread == "")


@fault(
    title="Thread not known",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("reading"),
    about=("gland_stud_thread",),
    optional=("gland_stud_thread", "thread_row"),
    words="Gland stud thread is none of the listed ones: choose it from the list on Tables, letter for letter, such as M12.",
    excel='AND(EXACT({gland_has_studs},"yes"),IFERROR({gland_stud_thread}<>"",1),NOT(ISNUMBER({thread_row})))',
)
def thread_not_known(gland_has_studs: Text, gland_stud_thread: Text, thread_row: Num) -> Any:
    """Says that the thread is not in the table."""
    return (gland_has_studs == "yes") & (gland_stud_thread != "") & np.isnan(thread_row)


@fault(
    title="Thread of the packing nut not known",
    part=PART,
    source=cite("reading"),
    about=("gland_stud_thread", "gland_kind_entered"),
    optional=("gland_stud_thread", "thread_row"),
    words="The packing nut's thread is none of the listed ones, so neither turns nor flats are given: look at it again, or clear the cell.",
    excel='AND(EXACT({gland_kind},"packing nut"),IFERROR({gland_stud_thread}<>"",1),NOT(ISNUMBER({thread_row})))',
)
def nut_thread_not_known(gland_kind: Text, gland_stud_thread: Text, thread_row: Num) -> Any:
    """Says that the thread typed for a packing nut is not in the table, which has coarse ones alone."""
    return (gland_kind == "packing nut") & (gland_stud_thread != "") & np.isnan(thread_row)


@fault(
    title="Readings incomplete",
    part=PART,
    source=cite("tilt"),
    about=("gap_reading_1_entered", "gap_reading_2_entered"),
    optional=("gap_reading_1", "gap_reading_2", "gap_reading_distance", "stud_spacing"),
    words="Gap readings need both gaps and the stud spacing: type what is missing or clear the readings.",
    excel='AND(EXACT({gland_has_studs},"yes"),OR(ISNUMBER({gap_reading_1}),ISNUMBER({gap_reading_2})),NOT(AND(ISNUMBER({gap_reading_1}),'
    "ISNUMBER({gap_reading_2}),ISNUMBER({gap_reading_distance}),ISNUMBER({stud_spacing}))))",
)
def readings_incomplete(gland_has_studs: Text, gap_reading_1: Num, gap_reading_2: Num, gap_reading_distance: Num, stud_spacing: Num) -> Any:
    """Says that a pair of gap readings lacks a part."""
    some = ~np.isnan(gap_reading_1) | ~np.isnan(gap_reading_2)
    every = ~np.isnan(gap_reading_1) & ~np.isnan(gap_reading_2)
    return (gland_has_studs == "yes") & some & ~(every & ~np.isnan(gap_reading_distance) & ~np.isnan(stud_spacing))


@fault(
    title="Follower tilted",
    part=PART,
    source=cite("tilt-limit"),
    about=("gap_reading_1_entered", "gap_reading_2_entered"),
    words="The follower is tilted: tighten the nut on the wider gap, one flat at a time, read both gaps again, and never slacken a nut "
    "under pressure.",
    excel="ROUND({gap_difference_at_studs}-{greatest_gap_difference},{counting_digits})>0",
)
def follower_tilted(gap_difference_at_studs: Num, greatest_gap_difference: float, counting_digits: float) -> Flag:
    """Says that the gaps differ too much."""
    return above_zero(gap_difference_at_studs - greatest_gap_difference, counting_digits)
