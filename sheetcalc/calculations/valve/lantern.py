"""The lantern ring: which set of rings, on which spacer, holds it at its port from finger tight to the end.

Rings under the lantern shorten as the set is compressed, so that it sinks: it must stand a little above the middle of the port
at finger tight and a little below it at the end, and the whole port must face it all the while.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, rounded, whole, whole_up
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite

PART = "rings"


@derived(
    title="Lantern may stand off its port by",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("port"),
    excel='IF({lantern_length}>0,({lantern_length}-{port_diameter})/2,"")',
)
def lantern_play(lantern_length: Num, port_diameter: Num) -> Num:
    """How far the middle of the lantern may be from that of its port with the whole port still facing it."""
    return np.where(lantern_length > 0, (lantern_length - port_diameter) / 2, np.nan)


@derived(
    title="Foot of the lantern over the bottom",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("port"),
    excel='IF({lantern_length}>0,{box_depth}-{port_depth}-{lantern_length}/2,"")',
)
def lantern_foot(box_depth: Num, port_depth: Num, lantern_length: Num) -> Num:
    """How high over the bare bottom the lantern must stand for its middle to be that of the port."""
    return np.where(lantern_length > 0, box_depth - port_depth - lantern_length / 2, np.nan)


@derived(
    title="Seated ring height",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("seat-depth"),
    excel="{ring_height}*(1-{seating_compression})",
)
def seated_height(ring_height: Num, seating_compression: Num) -> Num:
    """Height of a ring after it is seated on its own."""
    return ring_height - seating_compression * ring_height


@derived(
    title="Set ring height",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("window"),
    excel="{ring_height}*(1-{set_compression})",
)
def ring_height_set(ring_height: Num, set_compression: Num) -> Num:
    """How high a ring is at the end."""
    return ring_height - set_compression * ring_height


@derived(
    title="Most rings below the lantern",
    symbol="",
    unit="1",
    part=PART,
    source=cite("lantern"),
    optional=("maker_ring_count_entered", "maker_ring_count"),
    excel='IF(ISNUMBER({maker_ring_count}),{maker_ring_count}-1,IF(IFERROR({maker_ring_count_entered}="",0),{largest_count},""))',
)
def lantern_most(maker_ring_count_entered: Num, maker_ring_count: Num, largest_count: float) -> Num:
    """All but one of the maker's count; blank where that cannot be used."""
    ours = np.isnan(maker_ring_count) & np.isnan(maker_ring_count_entered)
    return np.where(ours, largest_count, maker_ring_count - 1)


@derived(
    title="Room under the rings by the lantern",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("lantern"),
    optional=("maker_ring_count",),
    excel="IF(ISNUMBER({maker_ring_count}),{packing_depth}-{maker_ring_count}*{seated_height}-"
    "MAX({least_entry},{ring_height}-{seated_height}),{packing_depth}-{least_entry}-{least_rings_by_lantern}*{ring_height})",
)
def lantern_room(  # the parameters are what the formula reads
    maker_ring_count: Num,
    packing_depth: Num,
    seated_height: Num,
    least_entry: Num,
    ring_height: Num,
    least_rings_by_lantern: float,
) -> Num:
    """Room for the spacer under a maker's count seated one by one, else for spacer and rings below under three that go in free."""
    free = packing_depth - least_rings_by_lantern * ring_height - least_entry
    let_follower_in = packing_depth - maker_ring_count * seated_height - least_entry
    let_last_in = packing_depth - (maker_ring_count - 1) * seated_height - ring_height
    return np.where(np.isnan(maker_ring_count), free, np.minimum(let_follower_in, let_last_in))


@derived(
    title="Room that a ring below takes",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("lantern"),
    optional=("maker_ring_count",),
    excel="IF(ISNUMBER({maker_ring_count}),0,{ring_height})",
)
def lantern_ring_room(maker_ring_count: Num, ring_height: Num) -> Num:
    """Its height before it is seated; 0 where a maker's count is in the reckoning already."""
    return np.where(np.isnan(maker_ring_count), ring_height, 0.0)


#: For each number of rings below, by the table of numbers: the spacer under them.
_CUT = "INT(({lantern_foot}-{ring_numbers}*{ring_height_set})/{spacer_step}+{counting_half})*{spacer_step}"
_SPACER = f"({_CUT}*({_CUT}>={{spacer_least}}-{{counting_half}}))"


@derived(
    title="Rings below the lantern to face its port",
    symbol="",
    unit="1",
    part=PART,
    source=cite("lantern"),
    excel="IFERROR(ROUND(1/SUMPRODUCT(MAX(({ring_numbers}>={least_rings_by_lantern})*({ring_numbers}<={lantern_most})*"
    f"({_SPACER}>={{lantern_foot}}-{{ring_numbers}}*MIN({{ring_height_set}},{{seated_height}})-{{lantern_play}}-{{counting_half}})*"
    f"({_SPACER}<={{lantern_foot}}-{{ring_numbers}}*MAX({{ring_height_set}},{{seated_height}})+{{lantern_play}}+{{counting_half}})*"
    f"({_SPACER}<={{lantern_room}}-{{ring_numbers}}*{{lantern_ring_room}}+{{counting_half}})/{{ring_numbers}})),0),0)",
)
def lantern_seat(  # the parameters are what the formula reads
    ring_numbers: Num,
    least_rings_by_lantern: float,
    lantern_most: Num,
    lantern_foot: Num,
    ring_height_set: Num,
    spacer_step: Num,
    counting_half: float,
    spacer_least: Num,
    seated_height: Num,
    lantern_play: Num,
    lantern_room: Num,
    lantern_ring_room: Num,
) -> Any:
    """The fewest rings, three or more, that on their spacer hold the lantern at its port, seated and set; 0 where none do.

    Over it three must go in free, or what the maker's count leaves when each ring is seated before the next.
    """
    digits = rounded(-np.log10(2 * counting_half))
    fewest: Any = 0.0
    for below in ring_numbers[::-1]:
        cut = whole((lantern_foot - below * ring_height_set) / spacer_step, digits) * spacer_step
        spacer = np.where(at_least_zero(cut - spacer_least, digits), cut, 0 * cut)
        serves = (below >= least_rings_by_lantern) & (below <= lantern_most)
        serves = serves & at_least_zero(lantern_room - below * lantern_ring_room - spacer, digits)
        for height in (seated_height, ring_height_set):
            serves = serves & at_least_zero(lantern_play - np.abs(lantern_foot - spacer - below * height), digits)
        fewest = np.where(serves, below, fewest)
    return fewest


@derived(
    title="Spacer under the lantern's rings",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("port"),
    excel="IF({lantern_seat}>0,IF(ROUND(INT(ROUND(({lantern_foot}-{lantern_seat}*{ring_height_set})/{spacer_step},{counting_digits}))*"
    "{spacer_step}-{spacer_least},{counting_digits})>=0,INT(ROUND(({lantern_foot}-{lantern_seat}*{ring_height_set})/{spacer_step},"
    '{counting_digits}))*{spacer_step},0),"")',
)
def lantern_spacer(
    lantern_seat: Num,
    lantern_foot: Num,
    ring_height_set: Num,
    spacer_step: Num,
    counting_digits: float,
    spacer_least: Num,
) -> Num:
    """The spacer that lifts the lantern to its port, cut down to a whole step; 0 where that is too low to be fitted."""
    cut = whole((lantern_foot - lantern_seat * ring_height_set) / spacer_step, counting_digits) * spacer_step
    spacer = np.where(at_least_zero(cut - spacer_least, counting_digits), cut, 0 * cut)
    return np.where(lantern_seat > 0, spacer, np.nan)


@derived(
    title="Rings wanted above the lantern",
    symbol="",
    unit="1",
    part=PART,
    source=cite("lantern"),
    optional=("maker_ring_count",),
    excel="IF(ISNUMBER({maker_ring_count}),{maker_ring_count}-{lantern_seat},MAX({least_rings_by_lantern},ROUNDUP(ROUND("
    "({least_take_up}-{nose_length}+{packing_depth}-{lantern_spacer})/{ring_height_set}-{lantern_seat},{counting_digits}),0)))",
)
def lantern_over(  # the parameters are what the formula reads
    maker_ring_count: Num,
    least_rings_by_lantern: float,
    least_take_up: Num,
    nose_length: Num,
    packing_depth: Num,
    lantern_spacer: Num,
    ring_height_set: Num,
    lantern_seat: Num,
    counting_digits: float,
) -> Any:
    """Rings between lantern and follower: what the maker's count leaves, else the fewest from three up that leave the take-up."""
    height_wanted = least_take_up - nose_length + packing_depth - lantern_spacer
    ours = whole_up(height_wanted / ring_height_set - lantern_seat, counting_digits)
    return np.where(np.isnan(maker_ring_count), np.maximum(ours, least_rings_by_lantern), maker_ring_count - lantern_seat)


@derived(
    title="Rings below the lantern",
    symbol="n_b",
    unit="1",
    part=PART,
    source=cite("lantern"),
    optional=("maker_ring_count",),
    excel="IF(OR(ISNUMBER({maker_ring_count}),ROUND({packing_depth}-{least_entry}-{lantern_spacer}-"
    '({lantern_seat}+{lantern_over})*{ring_height},{counting_digits})>=0),{lantern_seat},"")',
)
def rings_below_lantern(  # the parameters are what the formula reads
    maker_ring_count: Num,
    packing_depth: Num,
    least_entry: Num,
    lantern_spacer: Num,
    lantern_seat: Num,
    lantern_over: Num,
    ring_height: Num,
    counting_digits: float,
) -> Any:
    """Rings under the lantern; blank where no set serves, since the rings over it would not go in free."""
    entry = packing_depth - lantern_spacer - (lantern_seat + lantern_over) * ring_height
    free = at_least_zero(entry - least_entry, counting_digits)
    return np.where(free | ~np.isnan(maker_ring_count), lantern_seat, np.nan)


@derived(
    title="Rings below and above the lantern",
    symbol="",
    unit="1",
    part=PART,
    source=cite("lantern"),
    excel="{rings_below_lantern}+{lantern_over}",
)
def lantern_rings(rings_below_lantern: Num, lantern_over: Num) -> Num:
    """All rings of a set with a lantern; blank where none serves."""
    return rings_below_lantern + lantern_over


@derived(
    title="Rings above the lantern",
    symbol="n_a",
    unit="1",
    part=PART,
    source=cite("lantern"),
    excel="{lantern_rings}-{rings_below_lantern}",
)
def rings_above_lantern(lantern_rings: Num, rings_below_lantern: Num) -> Num:
    """Rings between lantern and follower; blank where no set serves."""
    return lantern_rings - rings_below_lantern


@derived(
    title="Lantern below its port at finger tight",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("port"),
    excel="{lantern_foot}-{lantern_spacer}-{rings_below_lantern}*{seated_height}",
)
def lantern_error_seated(lantern_foot: Num, lantern_spacer: Num, rings_below_lantern: Num, seated_height: Num) -> Num:
    """How far the middle of the lantern is below that of its port on seated rings; negative above it."""
    return lantern_foot - lantern_spacer - rings_below_lantern * seated_height


@derived(
    title="Lantern below its port at the end",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("port"),
    excel="{lantern_foot}-{lantern_spacer}-{rings_below_lantern}*{ring_height_set}",
)
def lantern_error_set(lantern_foot: Num, lantern_spacer: Num, rings_below_lantern: Num, ring_height_set: Num) -> Num:
    """How far the middle of the lantern is below that of its port on the compressed set; negative above it."""
    return lantern_foot - lantern_spacer - rings_below_lantern * ring_height_set


@fault(
    title="Lantern fills the box",
    part=PART,
    source=cite("lantern"),
    gravity=Gravity.STOP,
    about=("lantern_length_entered", "box_depth_entered"),
    words="The lantern ring is as long as the box is deep: measure both again.",
    excel="ROUND({box_depth}-{lantern_length},{counting_digits})<=0",
)
def lantern_fills_box(box_depth: Num, lantern_length: Num, counting_digits: float) -> Flag:
    """Says that a lantern ring leaves no room for packing."""
    return ~above_zero(box_depth - lantern_length, counting_digits)


@fault(
    title="Port depth missing",
    part=PART,
    source=cite("port"),
    gravity=Gravity.MISSING,
    about=("port_depth_entered", "lantern_length_entered"),
    optional=("port_depth", "port_depth_fault"),
    words="A lantern ring must face its port: measure from the face of the box to the middle of the port and type it as port depth.",
    excel='AND({lantern_length}>0,NOT(EXACT({packing_form},"loose")),NOT(ISNUMBER({port_depth})),{port_depth_fault}="")',
)
def port_depth_missing(lantern_length: Num, packing_form: Text, port_depth: Num, port_depth_fault: Flag) -> Any:
    """Says that nobody can tell where the lantern must stand."""
    return (lantern_length > 0) & (packing_form != "loose") & np.isnan(port_depth) & ~port_depth_fault


@fault(
    title="Port outside the box",
    part=PART,
    source=cite("port"),
    gravity=Gravity.STOP,
    about=("port_depth_entered", "box_depth_entered"),
    words="The middle of the port is as deep as the bottom of the box or deeper: measure both again from the face of the box.",
    excel="AND({lantern_length}>0,ROUND({box_depth}-{port_depth},{counting_digits})<=0)",
)
def port_outside_box(lantern_length: Num, box_depth: Num, port_depth: Num, counting_digits: float) -> Any:
    """Says that the port cannot be where it is said to be."""
    return (lantern_length > 0) & ~above_zero(box_depth - port_depth, counting_digits)


@fault(
    title="Lantern misses its port",
    part=PART,
    source=cite("lantern"),
    gravity=Gravity.STOP,
    about=("port_depth_entered", "port_diameter_entered", "lantern_length_entered", "box_depth_entered", "nose_length_entered"),
    words="No set with three rings or more below and above, on a spacer or not, fits, holds the lantern at its port and leaves the "
    "take-up: measure port, lantern, box and nose again, check a maker's count, or ask the owner's engineer.",
    optional=("rings_below_lantern",),
    excel="AND({lantern_seat}>=0,NOT(ISNUMBER({rings_below_lantern})),ROUND({box_depth}-{port_depth},{counting_digits})>0)",
)
def lantern_misses_port(lantern_seat: Num, rings_below_lantern: Num, box_depth: Num, port_depth: Num, counting_digits: float) -> Any:
    """Says that no set brings the lantern to its port."""
    return (lantern_seat >= 0) & np.isnan(rings_below_lantern) & above_zero(box_depth - port_depth, counting_digits)


@fault(
    title="Few rings by the lantern",
    part=PART,
    source=cite("lantern"),
    about=("lantern_length_entered", "maker_ring_count_entered"),
    words="Fewer rings than usual stand above the lantern ring: follow the maker's drawing.",
    excel="{rings_above_lantern}<{least_rings_by_lantern}",
)
def few_rings_by_lantern(rings_above_lantern: Num, least_rings_by_lantern: float) -> Flag:
    """Says that a maker's count leaves few rings above the lantern; below it never stand fewer than usual."""
    return rings_above_lantern < least_rings_by_lantern
