"""The gland gap: what a rule reads at finger tight and at the end, and whether take-up is left."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, either
from sheetcalc.calculations.given import given
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite

PART = "gap"


@derived(
    title="Least take-up, usual",
    unit="mm",
    part=PART,
    source=cite("take-up"),
    excel="MAX(MIN({least_take_up_floor},{small_floor_share}*{packing_section}),{least_take_up_share}*{packing_section})",
)
def least_take_up_usual(least_take_up_floor: float, small_floor_share: float, packing_section: Num, least_take_up_share: float) -> Num:
    """The gap to be left for later adjustment where a valve names none."""
    floor = np.where(least_take_up_floor > small_floor_share * packing_section, small_floor_share * packing_section, least_take_up_floor)
    return np.maximum(floor, least_take_up_share * packing_section)


given(
    "least_take_up",
    title="Least take-up",
    symbol="t",
    unit="mm",
    part=PART,
    usual="least_take_up_usual",
    low="0",
    high="largest_length",
    remedy="type a number in its range on Assumptions or clear the cell.",
    sentence="The gap that must be left for later adjustment.",
)


@derived(
    title="Gland gap at finger tight",
    symbol="G₁",
    unit="mm",
    part=PART,
    source=cite("travel"),
    excel="{nose_length}-({start_entry}+{seating_compression}*{stack_height})",
)
def gland_gap_start(nose_length: Num, start_entry: Num, seating_compression: Num, stack_height: Num) -> Num:
    """What a rule reads between gland flange and box face when the nuts are finger tight on seated rings."""
    return nose_length - (start_entry + seating_compression * stack_height)


@derived(
    title="Compression travel",
    symbol="u",
    unit="mm",
    part=PART,
    source=cite("travel"),
    excel="({set_compression}-{seating_compression})*{stack_height}",
)
def compression_travel(set_compression: Num, seating_compression: Num, stack_height: Num) -> Num:
    """How far the follower still goes from finger tight to the compressed set."""
    return (set_compression - seating_compression) * stack_height


@derived(
    title="Gland gap at the end",
    symbol="G₂",
    unit="mm",
    part=PART,
    source=cite("travel"),
    excel="{gland_gap_start}-{compression_travel}",
)
def gland_gap_end(gland_gap_start: Num, compression_travel: Num) -> Num:
    """What a rule reads on the compressed set, all of it room for later turns of the nuts. At 0 the follower flange touches the box."""
    return gland_gap_start - compression_travel


@derived(
    title="Follower",
    part=PART,
    source=cite("travel"),
    text=True,
    excel='IF(ROUND({gland_gap_end},{counting_digits})<=0,"bottomed","free")',
)
def follower_state(gland_gap_end: Num, counting_digits: float) -> Text:
    """Whether the follower flange rests on the box before the packing is compressed."""
    bottomed = ~above_zero(gland_gap_end, counting_digits)
    return either(bottomed, "bottomed", "free")


@fault(
    title="Follower bottoms",
    part=PART,
    source=cite("travel"),
    gravity=Gravity.STOP,
    about=("nose_length_entered", "box_depth_entered"),
    words="The follower would rest on the box before the packing is compressed: fit a spacer or another ring count, or ask "
    "the owner's engineer for a longer follower.",
    excel="ROUND(MIN({gland_gap_start},{gland_gap_end}),{counting_digits})<=0",
)
def follower_bottoms(gland_gap_start: Num, gland_gap_end: Num, counting_digits: float) -> Any:
    """Says that no gap is left at finger tight, or no adjustment after it."""
    return ~above_zero(gland_gap_start, counting_digits) | ~above_zero(gland_gap_end, counting_digits)


@fault(
    title="Take-up short",
    part=PART,
    source=cite("take-up"),
    about=("nose_length_entered", "box_depth_entered"),
    words="Less take-up is left than wanted: look at ring count and spacer again before packing is ordered.",
    excel="AND(ROUND({gland_gap_end},{counting_digits})>0,ROUND({gland_gap_end}-{least_take_up},{counting_digits})<0)",
)
def take_up_short(gland_gap_end: Num, counting_digits: float, least_take_up: Num) -> Flag:
    """Says that little adjustment is left."""
    left = above_zero(gland_gap_end, counting_digits)
    return left & ~at_least_zero(gland_gap_end - least_take_up, counting_digits)


@fault(
    title="Entry short",
    part=PART,
    source=cite("first-entry"),
    about=("box_depth_entered", "maker_ring_count_entered"),
    words="The rings fit only if each is seated before the next goes in: seat each one by one, and see that the follower enters far "
    "enough after the last.",
    excel="AND({ring_count}<={rings_that_seat},ROUND({start_entry}-{least_entry},{counting_digits})<0)",
)
def entry_short(ring_count: Num, rings_that_seat: Num, start_entry: Num, least_entry: Num, counting_digits: float) -> Any:
    """Says that the follower would not be guided by the box over free rings, though it is over seated ones."""
    return (ring_count <= rings_that_seat) & ~at_least_zero(start_entry - least_entry, counting_digits)


@fault(
    title="Seating not below set",
    part=PART,
    source=cite("travel"),
    about=("seating_compression_entered", "set_compression_entered"),
    words="Seating compression must be below set compression: correct one of them.",
    excel="ROUND({set_compression}-{seating_compression},{counting_digits})<=0",
)
def seating_not_below_set(set_compression: Num, seating_compression: Num, counting_digits: float) -> Flag:
    """Says that the rings would be seated harder than they are meant to be in the end."""
    return ~above_zero(set_compression - seating_compression, counting_digits)
