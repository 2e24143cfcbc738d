"""The ring count: the maker's where one is given, else the largest that fits and leaves the take-up, with its spacer."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, pick, rounded, row_ignoring_case, whole
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite

PART = "rings"
#: For each number of rings in the table: what is left over, and the spacer cut from it to whole steps.
_ROOM = "({packing_depth}-{least_entry}-{ring_numbers}*{ring_height})"
_SPACER = f"INT({_ROOM}/{{spacer_step}}+{{counting_half}})*{{spacer_step}}"
#: The least spacer that leaves the take-up; the take-up is short by so much on the bare bottom.
_SHORT = "({least_take_up}-{nose_length}+{packing_depth}-{ring_numbers}*{ring_height}*(1-{set_compression}))"


@derived(
    title="Rings wanted by the motion",
    unit="1",
    part=PART,
    source=cite("motion-rings"),
    excel='IFERROR(INDEX({ring_numbers},MATCH(INDEX({motion_rings},MATCH({stem_motion},{stem_motion_names},0)),{ring_numbers},0)),"")',
)
def motion_ring_count(ring_numbers: Num, motion_rings: Num, stem_motion: Text, stem_motion_names: list[str]) -> Any:
    """How many rings Tables want for a stem of this motion, where nobody says otherwise; blank where that is no count."""
    wanted = pick(row_ignoring_case(stem_motion, stem_motion_names), motion_rings)
    return np.where(np.isin(wanted, ring_numbers), wanted, np.nan)


@derived(
    title="Most rings",
    symbol="n_max",
    unit="1",
    part=PART,
    source=cite("window"),
    excel="SUMPRODUCT(MAX({ring_numbers}*({ring_numbers}<={preferred_ring_count})*("
    f"({_ROOM}>=-{{counting_half}})*({_SHORT}<={{counting_half}})+"
    f"({_SPACER}>={{spacer_least}}-{{counting_half}})*({_SPACER}>={_SHORT}-{{counting_half}})>0)))",
)
def rings_most(  # the parameters are what the formula reads
    ring_numbers: Num,
    preferred_ring_count: Num,
    packing_depth: Num,
    least_entry: Num,
    ring_height: Num,
    spacer_step: Num,
    counting_half: float,
    spacer_least: Num,
    nose_length: Num,
    set_compression: Num,
    least_take_up: Num,
) -> Any:
    """The most rings, no more than wanted, that let the follower in and leave the least take-up, each number with its spacer; 0 if none.

    A spacer is cut to whole steps, so that a number may leave too little where one more or one fewer does not.
    """
    digits = rounded(-np.log10(2 * counting_half))
    most: Any = 0.0
    for rings in ring_numbers:
        room = packing_depth - least_entry - rings * ring_height
        cut = whole(room / spacer_step, digits) * spacer_step
        spacer = np.where(at_least_zero(cut - spacer_least, digits), cut, 0 * cut)
        entry_at_end = packing_depth - spacer - rings * ring_height * (1 - set_compression)
        serves = at_least_zero(room, digits) & at_least_zero(nose_length - entry_at_end - least_take_up, digits)
        most = np.where(serves & (rings <= preferred_ring_count), rings, most)
    return most


@derived(
    title="Ring count worked out",
    unit="1",
    part=PART,
    source=cite("ring-count"),
    excel='IF(AND({lantern_length}=0,{rings_most}>=MIN(2,{preferred_ring_count})),{rings_most},"")',
)
def ring_count_worked(lantern_length: Num, rings_most: Num, preferred_ring_count: Num) -> Num:
    """The most rings, at least two unless one is wanted; blank where there are not so many, or a lantern decides."""
    return np.where((lantern_length == 0) & (rings_most >= np.minimum(2, preferred_ring_count)), rings_most, np.nan)


@derived(
    title="Rings are counted here",
    symbol="",
    unit="1",
    part=PART,
    source=cite("ring-count"),
    guards=False,
    excel='IF(IFERROR({maker_ring_count_entered}="",0),IF(ISNUMBER({lantern_length}),IF({lantern_length}>0,"",1),""),"")',
)
def count_is_ours(maker_ring_count_entered: Num, lantern_length: Num) -> Num:
    """1 where neither the maker states a count nor a lantern decides it."""
    return np.where(np.isnan(maker_ring_count_entered) & (lantern_length == 0), 1.0, np.nan)


@derived(
    title="Ring count wanted",
    unit="1",
    part=PART,
    source=cite("ring-count"),
    guards=False,
    excel='IF(ISNUMBER({unit_row}),IF(IFERROR({maker_ring_count_entered}="",0),{ring_count_worked},{maker_ring_count}),"")',
)
def ring_count_wanted(unit_row: Num, maker_ring_count_entered: Num, ring_count_worked: Num, maker_ring_count: Num) -> Num:
    """The maker's number where one is given, else the count worked out; blank while the unit set is not known."""
    count = np.where(np.isnan(maker_ring_count_entered), ring_count_worked, maker_ring_count)
    return np.where(np.isnan(unit_row), np.nan, count)


@derived(
    title="Ring count",
    symbol="n",
    unit="1",
    part=PART,
    source=cite("ring-count"),
    optional=("packing_form", "ring_count_wanted", "lantern_rings", "lantern_length"),
    excel='IF(EXACT({packing_form},"loose"),"",IF(MAX(0,{lantern_length})>0,{lantern_rings},{ring_count_wanted}))',
)
def ring_count(packing_form: Text, lantern_length: Num, lantern_rings: Num, ring_count_wanted: Num) -> Num:
    """The maker's number where one is given, else the count worked out, with a lantern for both sides of it; loose packing has no rings."""
    return np.where(packing_form == "loose", np.nan, np.where(lantern_length > 0, lantern_rings, ring_count_wanted))


@derived(
    title="Maker's count minus ours",
    unit="1",
    part=PART,
    source=cite("ring-count"),
    excel="{maker_ring_count}-{ring_count_worked}",
)
def maker_count_difference(maker_ring_count: Num, ring_count_worked: Num) -> Num:
    """How many rings more (or fewer) the maker states than are worked out here."""
    return maker_ring_count - ring_count_worked


@derived(
    title="Rings that fit, seated one by one",
    unit="1",
    part=PART,
    source=cite("seated-fit"),
    excel="MAX(0,INT(ROUND(({packing_depth}-MAX({least_entry},{seating_compression}*{ring_height}))/"
    "({ring_height}*(1-{seating_compression})),{counting_digits})))",
)
def rings_that_seat(packing_depth: Num, least_entry: Num, seating_compression: Num, ring_height: Num, counting_digits: float) -> Num:
    """Whole rings that go in one by one, each seated before the next: the last enters free, and the follower far enough after it."""
    seated = ring_height * (1 - seating_compression)
    let_follower_in = whole((packing_depth - least_entry) / seated, counting_digits)
    let_last_in = 1 + whole((packing_depth - ring_height) / seated, counting_digits)
    return np.maximum(0, np.minimum(let_follower_in, let_last_in))


@fault(
    title="Rings by the motion not stated",
    part=PART,
    source=cite("motion-rings"),
    gravity=Gravity.MISSING,
    about=("stem_motion_entered", "preferred_ring_count_entered"),
    optional=("motion_ring_count", "preferred_ring_count_entered"),
    words="Tables state no whole number of rings for this motion of the stem: type it there, or a preferred ring count for this valve.",
    excel='AND({in_use}=1,{count_is_ours}=1,{stem_motion}<>"",NOT(ISNUMBER({motion_ring_count})),'
    'IFERROR({preferred_ring_count_entered}="",0))',
)
def motion_rings_missing(
    in_use: Num, count_is_ours: Num, stem_motion: Text, motion_ring_count: Num, preferred_ring_count_entered: Num
) -> Any:
    """Says that nobody has stated how many rings are wanted: the table's row was cleared, or holds no count."""
    nobody = np.isnan(motion_ring_count) & np.isnan(preferred_ring_count_entered)
    return (in_use == 1) & (count_is_ours == 1) & (stem_motion != "") & nobody


@fault(
    title="Too few rings fit",
    part=PART,
    source=cite("geometry"),
    gravity=Gravity.STOP,
    about=("box_depth_entered",),
    words="The box is too shallow for a set of rings with the follower entering far enough: measure its depth to the bare bottom "
    "again, or type the ring count that the valve's maker states.",
    excel="AND({count_is_ours}=1,{rings_that_fit}<MIN(2,{preferred_ring_count}))",
)
def no_ring_fits(count_is_ours: Num, rings_that_fit: Num, preferred_ring_count: Num) -> Any:
    """Says that the box is too shallow for two rings, or for one where one is wanted."""
    return (count_is_ours == 1) & (rings_that_fit < np.minimum(2, preferred_ring_count))


@fault(
    title="Nose too short for any set",
    part=PART,
    source=cite("window"),
    gravity=Gravity.STOP,
    about=("nose_length_entered", "box_depth_entered"),
    words="No set of rings leaves the least take-up under this follower nose, with or without a spacer: measure nose and depth again, "
    "or ask the owner's engineer for a longer follower.",
    excel="AND({count_is_ours}=1,{rings_that_fit}>=MIN(2,{preferred_ring_count}),{rings_most}<MIN(2,{preferred_ring_count}))",
)
def nose_too_short(count_is_ours: Num, rings_that_fit: Num, preferred_ring_count: Num, rings_most: Num) -> Any:
    """Says that rings go in, but that no number of them leaves the least take-up."""
    least = np.minimum(2, preferred_ring_count)
    return (count_is_ours == 1) & (rings_that_fit >= least) & (rings_most < least)


@fault(
    title="Fewer rings than wanted",
    part=PART,
    source=cite("ring-count"),
    about=("box_depth_entered", "nose_length_entered"),
    words="Two rings or more below the preferred number are all that fit and leave the take-up: measure depth and nose again, and look "
    "for the count on the maker's drawing.",
    excel="AND({count_is_ours}=1,{preferred_ring_count}-{ring_count_worked}>=2)",
)
def rings_fewer(count_is_ours: Num, preferred_ring_count: Num, ring_count_worked: Num) -> Any:
    """Says that the set worked out has two rings fewer than wanted, or fewer still."""
    return (count_is_ours == 1) & (preferred_ring_count - ring_count_worked >= 2)  # noqa: PLR2004 - as the sentence says


@fault(
    title="Maker's count does not fit",
    part=PART,
    source=cite("seated-fit"),
    gravity=Gravity.STOP,
    about=("maker_ring_count_entered", "box_depth_entered"),
    words="The ring count that the maker states does not fit the box as measured, not even with each ring seated before the next: "
    "check depth, section and the maker's drawing.",
    excel="{maker_ring_count}>{rings_that_seat}",
)
def maker_count_misfit(maker_ring_count: Num, rings_that_seat: Num) -> Flag:
    """Stops a valve whose maker's ring count does not fit as measured, even seated."""
    return maker_ring_count > rings_that_seat


@fault(
    title="Count on the edge",
    part=PART,
    source=cite("measuring"),
    about=("box_depth_entered",),
    optional=("maker_ring_count",),
    words="The depth is within measuring tolerance of one ring more or fewer: measure stem, bore and depth again before cutting.",
    excel="AND(ROUND({rings_that_fit_exact},{counting_digits})>0,"
    "ROUND(ABS({rings_that_fit_exact}-ROUND({rings_that_fit_exact},0))*{ring_height}-{measuring_tolerance},"
    "{counting_digits})<=0,{lantern_length}=0,ROUND({rings_that_fit_exact},0)<=MAX({preferred_ring_count},{maker_ring_count}))",
)
def count_on_edge(  # the parameters are what the formula reads
    rings_that_fit_exact: Num,
    counting_digits: float,
    ring_height: Num,
    measuring_tolerance: float,
    lantern_length: Num,
    preferred_ring_count: Num,
    maker_ring_count: Num,
) -> Any:
    """Says that a small error of measurement would change the ring count."""
    nearest = rounded(rings_that_fit_exact, 0)
    off = np.abs(rings_that_fit_exact - nearest) * ring_height
    close = above_zero(rings_that_fit_exact, counting_digits) & at_least_zero(measuring_tolerance - off, counting_digits)
    return close & (lantern_length == 0) & (nearest <= np.fmax(preferred_ring_count, maker_ring_count))
