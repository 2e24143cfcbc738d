"""The packing section: the space between stem and box, the stocked size that fills it, and the ring that comes of it."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, either, pick, rounded, row_ignoring_case
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite
from sheetcalc.units import coherent_magnitude

PART = "section"


@derived(
    title="Packing section",
    symbol="s",
    unit="mm",
    part=PART,
    source=cite("mobley-section"),
    excel='IF(ROUND({box_bore}-{stem_diameter},{counting_digits})>0,({box_bore}-{stem_diameter})/2,"")',
)
def packing_section(box_bore: Num, stem_diameter: Num, counting_digits: float) -> Num:
    """The square that fills the gap between stem and box wall."""
    between = box_bore - stem_diameter
    return np.where(above_zero(between, counting_digits), between / 2, np.nan)


@fault(
    title="Stem not under bore",
    part=PART,
    source=cite("geometry"),
    gravity=Gravity.MISSING,
    about=("stem_diameter_entered", "box_bore_entered"),
    words="Stem diameter is not below box bore: the two may be swapped, or one is wrong: measure both again.",
    excel="ROUND({box_bore}-{stem_diameter},{counting_digits})<=0",
)
def stem_not_under_bore(box_bore: Num, stem_diameter: Num, counting_digits: float) -> Flag:
    """Says that the stem cannot be in that box."""
    return ~above_zero(box_bore - stem_diameter, counting_digits)


@derived(
    title="Stock list of the unit set",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel="INDEX({unit_section_columns},{unit_row})",
)
def unit_section_column(unit_section_columns: Num, unit_row: Num) -> Any:
    """The stock list that belongs to the valve's unit set."""
    return pick(unit_row, unit_section_columns)


@derived(
    title="Stock list used",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel='IF(EXACT({section_list},"by unit set"),{unit_section_column},'
    "INDEX({section_list_columns},MATCH({section_list},{section_list_names},0)))",
)
def section_column(section_list: Text, section_list_names: list[str], unit_section_column: Num, section_list_columns: Num) -> Any:
    """Which column of the sorted stock lists the section is chosen from."""
    named = pick(row_ignoring_case(section_list, section_list_names), section_list_columns)
    return np.where(section_list == "by unit set", unit_section_column, named)


#: The list to search. Excel's INDEX would give a column of one block as shortly, but not every program searches in that.
_CHOSEN = "CHOOSE({section_column},{sorted_inch_sizes},{sorted_metric_sizes},{sorted_all_sizes})"
_FOUND = f"MATCH(ROUND({{packing_section}},{{counting_digits}}),{_CHOSEN},1)"


def _neighbour(section: Any, lists: tuple[Any, ...], column: Any, step: int) -> Any:
    """The listed size at or below the section (step 0) or the one after it (step 1), each list searched once."""
    wanted = np.atleast_1d(np.asarray(coherent_magnitude(section), dtype=np.float64))
    columns = np.broadcast_to(np.asarray(column, dtype=np.float64), wanted.shape)
    out = np.full(wanted.shape, np.nan)
    for place, listed in enumerate(lists):
        sizes = coherent_magnitude(listed)
        sizes = sizes[~np.isnan(sizes)]
        padded = np.concatenate([[np.nan], sizes, [np.nan]])
        here = columns == place + 1
        out[here] = padded[np.searchsorted(sizes, wanted[here], side="right") + step]
    return out


@derived(
    title="Stocked size at or below",
    unit="mm",
    part=PART,
    source=cite("reading"),
    excel=f'IFERROR(INDEX({_CHOSEN},{_FOUND}),"")',
    empirical="a table search in mm",
)
def stocked_below(
    packing_section: Num,
    counting_digits: float,
    section_column: Num,
    sorted_inch_sizes: Num,
    sorted_metric_sizes: Num,
    sorted_all_sizes: Num,
) -> Any:
    """The largest stocked size that does not exceed the section."""
    lists = (sorted_inch_sizes, sorted_metric_sizes, sorted_all_sizes)
    return _neighbour(rounded(packing_section, counting_digits), lists, section_column, 0)


@derived(
    title="Stocked size above",
    unit="mm",
    part=PART,
    source=cite("reading"),
    excel=f'IFERROR(INDEX({_CHOSEN},1+IFERROR({_FOUND},0)),"")',
    empirical="a table search in mm",
)
def stocked_above(
    packing_section: Num,
    counting_digits: float,
    section_column: Num,
    sorted_inch_sizes: Num,
    sorted_metric_sizes: Num,
    sorted_all_sizes: Num,
) -> Any:
    """The smallest stocked size that exceeds the section."""
    lists = (sorted_inch_sizes, sorted_metric_sizes, sorted_all_sizes)
    return _neighbour(rounded(packing_section, counting_digits), lists, section_column, 1)


@derived(
    title="Distance to the size below",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="{packing_section}-{stocked_below}",
)
def below_distance(packing_section: Num, stocked_below: Num) -> Num:
    """How far the stocked size at or below falls short of the section."""
    return packing_section - stocked_below


@derived(
    title="Distance to the size above",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="{stocked_above}-{packing_section}",
)
def above_distance(stocked_above: Num, packing_section: Num) -> Num:
    """How far the stocked size above exceeds the section."""
    return stocked_above - packing_section


@derived(
    title="Distance to the nearest size",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    guards=False,
    excel='IF(OR(ISNUMBER({below_distance}),ISNUMBER({above_distance})),MIN({below_distance},{above_distance}),"")',
)
def nearest_distance(below_distance: Num, above_distance: Num) -> Num:
    """How far the nearest stocked size is from the section."""
    return np.fmin(below_distance, above_distance)


@derived(
    title="Nearest stocked size",
    unit="mm",
    part=PART,
    source=cite("reading"),
    optional=("above_distance", "stocked_above", "stocked_below"),
    excel="IF(AND(ISNUMBER({above_distance}),ROUND(SUM({above_distance})-{nearest_distance},{counting_digits})<=0),"
    "{stocked_above},{stocked_below})",
)
def stocked_nearest(above_distance: Num, nearest_distance: Num, counting_digits: float, stocked_above: Num, stocked_below: Num) -> Num:
    """The stocked size nearest to the section; of two equally near the larger, which fills the space."""
    upper = at_least_zero(nearest_distance - above_distance, counting_digits)
    return np.where(upper, stocked_above, stocked_below)


@derived(
    title="Greatest roll of this section",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("small-sections"),
    excel="MIN({greatest_roll},{greatest_roll_share}*{packing_section})",
)
def section_roll(greatest_roll: float, greatest_roll_share: float, packing_section: Num) -> Num:
    """How much thicker than this box width a braid may be and still be rolled flat to fit."""
    return np.minimum(greatest_roll, greatest_roll_share * packing_section)


@derived(
    title="Tolerance of this section",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("small-sections"),
    excel="MIN({section_tolerance},{section_tolerance_share}*{packing_section})",
)
def section_nearness(section_tolerance: float, section_tolerance_share: float, packing_section: Num) -> Num:
    """How near to this box width a stocked size is used as it is."""
    return np.minimum(section_tolerance, section_tolerance_share * packing_section)


@derived(
    title="Size to roll",
    unit="mm",
    part=PART,
    source=cite("greatest-roll"),
    excel='IF(AND(EXACT({packing_form},"braid"),ROUND({above_distance}-{section_roll},{counting_digits})<=0),{stocked_above},"")',
)
def stocked_to_roll(
    packing_form: Text,
    above_distance: Num,
    section_roll: Num,
    counting_digits: float,
    stocked_above: Num,
) -> Num:
    """The next larger braid where it is little enough larger to be rolled flat."""
    rollable = (packing_form == "braid") & at_least_zero(section_roll - above_distance, counting_digits)
    return np.where(rollable, stocked_above, np.nan)


@derived(
    title="Stocked section",
    symbol="sₙ",
    unit="mm",
    part=PART,
    source=cite("section-tolerance"),
    optional=("stocked_nearest", "stocked_to_roll"),
    excel="IF(ROUND({nearest_distance}-{section_nearness},{counting_digits})<=0,{stocked_nearest},{stocked_to_roll})",
)
def stocked_section(
    nearest_distance: Num, section_nearness: Num, counting_digits: float, stocked_nearest: Num, stocked_to_roll: Num
) -> Num:
    """The stocked size to order: the nearest if near enough, else the next larger braid, rolled; else blank."""
    near = at_least_zero(section_nearness - nearest_distance, counting_digits)
    return np.where(near, stocked_nearest, stocked_to_roll)


@derived(
    title="Roll",
    unit="mm",
    part=PART,
    source=cite("rolling"),
    excel="{stocked_section}-{packing_section}",
)
def roll(stocked_section: Num, packing_section: Num) -> Num:
    """How much the stocked packing exceeds the width of the box; negative where it falls short."""
    return stocked_section - packing_section


@derived(
    title="What to do with the section",
    part=PART,
    source=cite("rolling"),
    text=True,
    excel='IF(ROUND({roll}-{section_nearness},{counting_digits})>0,"Roll flat to just under the width.","Use as stocked.")',
)
def section_advice(roll: Num, section_nearness: Num, counting_digits: float) -> Text:
    """Whether the stocked packing is used as it is or rolled flat first."""
    over = above_zero(roll - section_nearness, counting_digits)
    return either(over, "Roll flat to just under the width.", "Use as stocked.")


@derived(
    title="Braid ring height",
    unit="mm",
    part=PART,
    source=cite("equal-volume"),
    excel="{stocked_section}^2*(1+{length_allowance})/{packing_section}",
)
def braid_ring_height(stocked_section: Num, length_allowance: Num, packing_section: Num) -> Num:
    """Free height of a ring of braid pressed from its stocked square into the width of the box."""
    return stocked_section**2 * (1 + length_allowance) / packing_section


@derived(
    title="Height of a formed ring",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("practice"),
    excel='IF(EXACT({packing_form},"loose"),"",{made_ring_height})',
)
def formed_ring_height(packing_form: Text, made_ring_height: Num) -> Num:
    """Free height of a die-formed or moulded ring, as its maker states it; loose packing has no rings."""
    return np.where(packing_form == "loose", np.nan, made_ring_height)


@derived(
    title="Ring height",
    symbol="h",
    unit="mm",
    part=PART,
    source=cite("equal-volume"),
    optional=("braid_ring_height", "formed_ring_height"),
    excel='IF(EXACT({packing_form},"braid"),{braid_ring_height},{formed_ring_height})',
)
def ring_height(packing_form: Text, braid_ring_height: Num, formed_ring_height: Num) -> Num:
    """Free height of one ring in the box: of braid by equal volume, of a made ring as its maker states."""
    return np.where(packing_form == "braid", braid_ring_height, formed_ring_height)


@fault(
    title="No stocked section",
    part=PART,
    source=cite("greatest-roll"),
    gravity=Gravity.MISSING,
    about=("stem_diameter_entered", "box_bore_entered"),
    optional=("packing_section", "stocked_section"),
    words="No stocked size is near this width and the next larger would need too much rolling: order made rings.",
    excel='AND(EXACT({packing_form},"braid"),ISNUMBER({packing_section}),NOT(ISNUMBER({stocked_section})))',
)
def no_stocked_section(packing_form: Text, packing_section: Num, stocked_section: Num) -> Any:
    """Says that no stocked braid fills the space."""
    return (packing_form == "braid") & ~np.isnan(packing_section) & np.isnan(stocked_section)


@fault(
    title="Made ring height missing",
    part=PART,
    source=cite("practice"),
    gravity=Gravity.MISSING,
    about=("made_ring_height_entered",),
    optional=("made_ring_height", "made_ring_height_fault"),
    words="Die-formed or moulded rings need the free height of one ring as their maker states it: type it as made ring height.",
    excel='AND(NOT(EXACT({packing_form},"braid")),NOT(EXACT({packing_form},"loose")),NOT(ISNUMBER({made_ring_height})),'
    '{made_ring_height_fault}="")',
)
def made_ring_height_missing(packing_form: Text, made_ring_height: Num, made_ring_height_fault: Flag) -> Any:
    """Says that a made ring has no height."""
    formed = (packing_form != "braid") & (packing_form != "loose")
    return formed & np.isnan(made_ring_height) & ~made_ring_height_fault
