"""Slips of typing that make a plausible valve: columns swapped, a digit too many, the bolts of the flange taken for the gland's."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick
from sheetcalc.declare.blocks import fault
from sheetcalc.declare.quantity import Flag, Num, Text
from sheetcalc.reference.sources import cite

SLIPS = cite("slips")


@fault(
    title="Bore far wider than the stem",
    part="section",
    source=SLIPS,
    about=("stem_diameter_entered", "box_bore_entered"),
    words="The bore is more times as wide as the stem than packing usually is: one of the two may be a slip, so measure both again.",
    excel="ROUND({box_bore}-{slip_bore_ratio}*{stem_diameter},{counting_digits})>0",
)
def bore_far_wider(box_bore: Num, slip_bore_ratio: float, stem_diameter: Num, counting_digits: float) -> Flag:
    """Says that the section would be unusually thick for its stem."""
    return above_zero(box_bore - slip_bore_ratio * stem_diameter, counting_digits)


@fault(
    title="Spacer fills much of the box",
    part="rings",
    source=SLIPS,
    about=("box_depth_entered",),
    words="The spacer fills more than half of the box: the depth may have a digit too many, so measure it again.",
    excel="ROUND({spacer_height}-{slip_spacer_share}*{box_depth},{counting_digits})>0",
)
def spacer_fills_box(spacer_height: Num, slip_spacer_share: float, box_depth: Num, counting_digits: float) -> Flag:
    """Says that most of the box would be spacer."""
    return above_zero(spacer_height - slip_spacer_share * box_depth, counting_digits)


@fault(
    title="Nose longer than the box",
    part="gap",
    source=SLIPS,
    about=("nose_length_entered", "box_depth_entered"),
    words="The follower nose is longer than the box is deep: the two may be swapped, so measure both again.",
    excel="ROUND({nose_length}-{box_depth},{counting_digits})>0",
)
def nose_longer_than_box(nose_length: Num, box_depth: Num, counting_digits: float) -> Flag:
    """Says that depth and nose may have changed places."""
    return above_zero(nose_length - box_depth, counting_digits)


@fault(
    title="Follower hardly enters",
    part="gap",
    source=SLIPS,
    about=("nose_length_entered", "box_depth_entered"),
    words="At finger tight nearly the whole nose would stand out of the box: look at nose, depth and ring count again.",
    excel="ROUND({gland_gap_start}-{slip_gap_share}*{nose_length},{counting_digits})>0",
)
def follower_hardly_enters(gland_gap_start: Num, slip_gap_share: float, nose_length: Num, counting_digits: float) -> Flag:
    """Says that the gap is nearly as long as the nose."""
    return above_zero(gland_gap_start - slip_gap_share * nose_length, counting_digits)


@fault(
    title="Unusual count of gland studs",
    part="load",
    source=SLIPS,
    about=("gland_stud_count_entered",),
    words="A gland seldom has so few or so many studs: count them again, since the torque of each follows from their number.",
    excel='AND(EXACT({gland_kind},"studs"),OR({gland_stud_count}<{slip_least_studs},{gland_stud_count}>{slip_most_studs}))',
)
def stud_count_unusual(gland_kind: Text, gland_stud_count: Num, slip_least_studs: float, slip_most_studs: float) -> Any:
    """Says that the count of studs may be a slip, such as 20 for 2."""
    return (gland_kind == "studs") & ((gland_stud_count < slip_least_studs) | (gland_stud_count > slip_most_studs))


@fault(
    title="Gland studs as the flange's bolts",
    part="load",
    source=SLIPS,
    about=("gland_stud_count_entered", "gland_stud_thread", "flange_size", "flange_class_entered"),
    words="Count and thread of the gland studs are those of the flange bolts: the columns may be mixed up, so look at the gland again.",
    excel='AND(EXACT({gland_has_studs},"yes"),{gland_stud_count}=INDEX({flange_counts},{flange_row}),EXACT({gland_stud_thread},'
    "INDEX({flange_threads},{flange_row})))",
)
def studs_are_flange_bolts(
    gland_has_studs: Text, gland_stud_count: Num, flange_counts: Num, flange_row: Num, gland_stud_thread: Text, flange_threads: list[str]
) -> Any:
    """Says that the flange's bolts may have been typed as the gland's studs."""
    same = np.asarray(gland_stud_thread, dtype=object) == np.asarray(pick(flange_row, flange_threads), dtype=object)
    return (gland_has_studs == "yes") & (gland_stud_count == pick(flange_row, flange_counts)) & same
