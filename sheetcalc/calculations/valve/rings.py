"""How many rings fit, how many are wanted, and what fills the rest of the box."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, either, whole, whole_up
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite

PART = "rings"


@derived(
    title="Depth for packing",
    symbol="Hₚ",
    unit="mm",
    part=PART,
    source=cite("lantern"),
    excel='IF(ROUND({box_depth}-{lantern_length},{counting_digits})>0,{box_depth}-{lantern_length},"")',
)
def packing_depth(box_depth: Num, lantern_length: Num, counting_digits: float) -> Num:
    """Depth of the box less the lantern ring."""
    left = box_depth - lantern_length
    return np.where(above_zero(left, counting_digits), left, np.nan)


@derived(
    title="Minimum entry",
    symbol="e",
    unit="mm",
    part=PART,
    source=cite("first-entry"),
    excel="MAX({least_entry_floor},{least_entry_share}*{packing_section})",
)
def least_entry(least_entry_floor: Num, least_entry_share: Num, packing_section: Num) -> Num:
    """How far the follower must stand in the box on the free rings, so that it is guided."""
    return np.maximum(least_entry_floor, least_entry_share * packing_section)


@derived(
    title="Rings that fit, exact",
    unit="1",
    part=PART,
    source=cite("geometry"),
    excel="({packing_depth}-{least_entry})/{ring_height}",
)
def rings_that_fit_exact(packing_depth: Num, least_entry: Num, ring_height: Num) -> Num:
    """The quotient of the depth left for rings and the height of one, before it becomes a whole count."""
    return (packing_depth - least_entry) / ring_height


@derived(
    title="Rings that fit",
    symbol="n_f",
    unit="1",
    part=PART,
    source=cite("geometry"),
    excel="MAX(0,INT(ROUND({rings_that_fit_exact},{counting_digits})))",
)
def rings_that_fit(rings_that_fit_exact: Num, counting_digits: float) -> Num:
    """Whole rings that go into the box with the follower still entering far enough."""
    return np.maximum(0, whole(rings_that_fit_exact, counting_digits))


@derived(
    title="Least rings without a spacer",
    symbol="n_min",
    unit="1",
    part=PART,
    source=cite("window"),
    excel="MAX(1,ROUNDUP(ROUND(({packing_depth}+{least_take_up}-{nose_length})/({ring_height}*(1-{set_compression})),"
    "{counting_digits}),0))",
)
def rings_least(
    packing_depth: Num,
    least_take_up: Num,
    nose_length: Num,
    ring_height: Num,
    set_compression: Num,
    counting_digits: float,
) -> Num:
    """Without a spacer, the fewest rings that keep the follower from using up its nose."""
    missing = packing_depth + least_take_up - nose_length
    return np.maximum(1, whole_up(missing / (ring_height * (1 - set_compression)), counting_digits))


@derived(
    title="Height of the rings",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="{ring_count}*{ring_height}",
)
def ring_stack(ring_count: Num, ring_height: Num) -> Num:
    """Free height of all rings on top of each other."""
    return ring_count * ring_height


@derived(
    title="Fills of loose packing",
    symbol="",
    unit="1",
    part=PART,
    source=cite("loose-fills"),
    excel='IF(AND(EXACT({packing_form},"loose"),{seating_compression}>0,{least_entry}>0,ROUND({packing_depth}-{least_entry},{counting_digits})>0),'
    'ROUNDUP(ROUND(LN({least_entry}/{packing_depth})/LN({seating_compression}),{counting_digits}),0),"")',
)
def loose_fills(packing_form: Text, seating_compression: Num, least_entry: Num, packing_depth: Num, counting_digits: float) -> Num:
    """How often loose packing is poured to the brim and pressed until only the minimum entry of the follower is left."""
    fills = whole_up(np.log(least_entry / packing_depth) / np.log(seating_compression), counting_digits)
    room = above_zero(packing_depth - least_entry, counting_digits)
    return np.where((packing_form == "loose") & (seating_compression > 0) & (least_entry > 0) & room, fills, np.nan)


@derived(
    title="Room left over the loose packing",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("loose-fills"),
    excel="{packing_depth}*{seating_compression}^{loose_fills}",
)
def loose_room(packing_depth: Num, seating_compression: Num, loose_fills: Num) -> Num:
    """Depth left for the follower when the last fill is pressed."""
    return packing_depth * seating_compression**loose_fills


@derived(
    title="Height of all fills",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("loose-fills"),
    excel="({packing_depth}-{loose_room})/(1-{seating_compression})",
)
def loose_height(packing_depth: Num, loose_room: Num, seating_compression: Num) -> Num:
    """Heights of all fills as poured, added up: what is pressed to the packed height."""
    return (packing_depth - loose_room) / (1 - seating_compression)


@derived(
    title="Stack height",
    symbol="S",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    optional=("loose_height", "ring_stack"),
    excel='IF(EXACT({packing_form},"loose"),{loose_height},{ring_stack})',
)
def stack_height(packing_form: Text, loose_height: Num, ring_stack: Num) -> Num:
    """Free height of all rings on top of each other, or of all fills of loose packing."""
    return np.where(packing_form == "loose", loose_height, ring_stack)


@derived(
    title="Spacer room",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="{packing_depth}-{least_entry}-{stack_height}",
)
def spacer_room(packing_depth: Num, least_entry: Num, stack_height: Num) -> Num:
    """Depth left over below the rings; negative where the rings do not fit."""
    return packing_depth - least_entry - stack_height


@derived(
    title="Least spacer of this section",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("small-sections"),
    excel="MIN({least_spacer},{packing_section})",
)
def spacer_least(least_spacer: float, packing_section: Num) -> Num:
    """The lowest spacer that is fitted: no lower than a ring where rings are small."""
    return np.minimum(least_spacer, packing_section)


@derived(
    title="Spacer for the room left over",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("spacer"),
    excel="IF(ROUND(INT(ROUND({spacer_room}/{spacer_step},{counting_digits}))*{spacer_step}-{spacer_least},{counting_digits})>=0,"
    "INT(ROUND({spacer_room}/{spacer_step},{counting_digits}))*{spacer_step},0)",
)
def room_spacer(spacer_room: Num, spacer_step: Num, counting_digits: float, spacer_least: Num) -> Num:
    """The spacer for the room left over, cut down to a whole step; 0 where that is too low to be fitted."""
    cut = whole(spacer_room / spacer_step, counting_digits) * spacer_step
    return np.where(at_least_zero(cut - spacer_least, counting_digits), cut, 0.0)


@derived(
    title="Spacer height",
    symbol="z_s",
    unit="mm",
    part=PART,
    source=cite("spacer"),
    optional=("rings_below_lantern", "lantern_spacer", "room_spacer"),
    excel='IF(AND({lantern_length}>0,NOT(EXACT({packing_form},"loose"))),IF(ISNUMBER({rings_below_lantern}),{lantern_spacer},""),{room_spacer})',
)
def spacer_height(lantern_length: Num, packing_form: Text, rings_below_lantern: Num, lantern_spacer: Num, room_spacer: Num) -> Num:
    """The spacer at the bottom of a deep box: for the room left over, or what lifts a lantern to its port."""
    lifted = np.where(np.isnan(rings_below_lantern), np.nan, lantern_spacer)
    return np.where((lantern_length > 0) & (packing_form != "loose"), lifted, room_spacer)


@derived(
    title="Start entry",
    symbol="e₀",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="{packing_depth}-{spacer_height}-{stack_height}",
)
def start_entry(packing_depth: Num, spacer_height: Num, stack_height: Num) -> Num:
    """How far the follower nose would stand in the box on the free rings."""
    return packing_depth - spacer_height - stack_height


@derived(
    title="Travel lost to undersize",
    unit="mm",
    part=PART,
    source=cite("equal-volume"),
    excel='IF(EXACT({packing_form},"braid"),{ring_count}*MAX(0,{stocked_section}-{ring_height}),0)',
)
def undersize_travel(packing_form: Text, ring_count: Num, stocked_section: Num, ring_height: Num) -> Num:
    """How much lower the stack is because thin braid spreads to fill the width; it is taken from the take-up."""
    lost = ring_count * np.maximum(0, stocked_section - ring_height)
    return np.where(packing_form == "braid", lost, 0.0)


@derived(
    title="Whether a spacer is needed",
    part=PART,
    source=cite("window"),
    text=True,
    excel='IF({lantern_length}>0,"As the lantern needs it to face its port.",IF({rings_least}>{rings_that_fit},'
    '"Compulsory: rings alone would bottom.","Not needed: rings could fill the box."))',
)
def spacer_advice(lantern_length: Num, rings_least: Num, rings_that_fit: Num) -> Text:
    """Whether the box could be filled by rings alone."""
    alone = either(rings_least > rings_that_fit, "Compulsory: rings alone would bottom.", "Not needed: rings could fill the box.")
    return either(lantern_length > 0, "As the lantern needs it to face its port.", alone)


@fault(
    title="Loose packing has no rings",
    part=PART,
    source=cite("practice"),
    about=("maker_ring_count_entered", "packing_form_entered"),
    words="Loose packing has no rings, so the ring count is not used: clear it, or correct the form of the packing.",
    excel='AND(EXACT({packing_form},"loose"),{maker_ring_count}>0)',
)
def loose_has_no_rings(packing_form: Text, maker_ring_count: Num) -> Any:
    """Says that a ring count is typed for loose packing."""
    return (packing_form == "loose") & (maker_ring_count > 0)
