"""Tools and sundries with their sizes: wrench, tap and die, mandrel, tamping sleeve, hook, and the mass of the packing."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import either, pick, pick_in, row_ignoring_case
from sheetcalc.calculations.given import given_code
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite

PART = "tools"

given_code(
    "gland_nut_kind",
    title="Kind of gland nut",
    part=PART,
    names="nut_kind_names",
    usual="gland_nut_kind_usual",
    remedy="choose one from the list on Tables.",
    sentence="Heavy hex, ordinary hex, or the older DIN width.",
)


@derived(
    title="Column of the nut width",
    unit="1",
    part=PART,
    source=cite("wrench"),
    excel='IF(EXACT({gland_has_studs},"no"),"",IF(EXACT({gland_nut_kind},"by thread"),2-SIGN({stud_threads_per_inch}),'
    "INDEX({nut_kind_columns},MATCH({gland_nut_kind},{nut_kind_names},0))))",
)
def nut_column(
    gland_has_studs: Text, gland_nut_kind: Text, stud_threads_per_inch: Num, nut_kind_columns: Num, nut_kind_names: list[str]
) -> Any:
    """Which width across flats is meant: by the thread, heavy hex on inch threads and ISO hex on metric ones; a packing nut has its own."""
    by_thread = np.where(stud_threads_per_inch > 0, 1.0, 2.0)
    named = pick(row_ignoring_case(gland_nut_kind, nut_kind_names), nut_kind_columns)
    return np.where(gland_has_studs == "no", np.nan, np.where(gland_nut_kind == "by thread", by_thread, named))


@derived(
    title="Wrench size",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("wrench"),
    excel="INDEX({thread_widths},{thread_row},{nut_column})",
)
def wrench_size(thread_widths: Num, thread_row: Num, nut_column: Num) -> Any:
    """Width across flats of the gland nuts."""
    return pick_in(thread_row, nut_column, thread_widths)


@derived(
    title="Wrench",
    part=PART,
    source=cite("wrench"),
    text=True,
    excel="INDEX({thread_width_words},{thread_row},{nut_column})",
)
def wrench_words(thread_width_words: Any, thread_row: Num, nut_column: Num) -> Any:
    """The wrench as it is marked."""
    return pick_in(thread_row, nut_column, thread_width_words)


@derived(
    title="Wrench for an old DIN nut",
    part=PART,
    source=cite("wrench"),
    text=True,
    excel='IF(OR(EXACT({gland_has_studs},"no"),EXACT(INDEX({thread_width_words},{thread_row},2),INDEX({thread_width_words},{thread_row},2+1))),'
    '"",INDEX({thread_width_words},{thread_row},2+1))',
)
def wrench_old_words(gland_has_studs: Text, thread_width_words: Any, thread_row: Num) -> Any:
    """The wrench that fits an older metric nut, where its width differs from that of the ISO nut."""
    iso = pick_in(thread_row, 2 * np.ones_like(thread_row), thread_width_words)
    old = pick_in(thread_row, np.full_like(thread_row, 2 + 1), thread_width_words)
    return either((gland_has_studs == "no") | (np.asarray(iso) == np.asarray(old)), "", old)


@derived(
    title="Tap and die",
    part=PART,
    source=cite("threads"),
    text=True,
    excel="INDEX({thread_tap_names},{thread_row})",
)
def tap_and_die(thread_tap_names: list[str], thread_row: Num) -> Any:
    """The designation of the tap for the nuts and of the die for the studs."""
    return pick(thread_row, thread_tap_names)


@derived(
    title="Mandrel",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("practice"),
    excel="{stem_diameter}",
)
def mandrel_diameter(stem_diameter: Num) -> Num:
    """A round bar as thick as the stem, on which the packing is wrapped and cut; never the stem itself."""
    return stem_diameter


@derived(
    title="Tamping sleeve OD",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("bushing"),
    excel="{box_bore}-{bushing_box_clearance}",
)
def bushing_outside(box_bore: Num, bushing_box_clearance: float) -> Num:
    """Outside diameter of the sleeve in two halves that seats the rings."""
    return box_bore - bushing_box_clearance


@derived(
    title="Tamping sleeve ID",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("bushing"),
    excel="{stem_diameter}+{bushing_stem_clearance}",
)
def bushing_inside(stem_diameter: Num, bushing_stem_clearance: float) -> Num:
    """Inside diameter of that sleeve."""
    return stem_diameter + bushing_stem_clearance


@derived(
    title="Tamping sleeve length",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("bushing"),
    excel="{seat_floor}-{seated_height}+{tool_reach}",
)
def bushing_length(seat_floor: Num, seated_height: Num, tool_reach: float) -> Num:
    """Long enough to seat the bottom ring and still be held outside."""
    return seat_floor - seated_height + tool_reach


@derived(
    title="Packing hook, reach",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("hook"),
    excel="{box_depth}+{tool_reach}",
)
def hook_reach(box_depth: Num, tool_reach: float) -> Num:
    """How long a hook must be to reach the bottom ring."""
    return box_depth + tool_reach


@derived(
    title="Packing hook, thickness at most",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("hook"),
    excel="{hook_share}*{packing_section}",
)
def hook_thickness(hook_share: float, packing_section: Num) -> Num:
    """A thicker hook would scratch stem or box."""
    return hook_share * packing_section


@derived(
    title="Volume of braid",
    symbol="",
    unit="mm**3",
    part=PART,
    source=cite("geometry"),
    excel="{bulk_length}*{stocked_section}^2",
)
def braid_volume(bulk_length: Num, stocked_section: Num) -> Num:
    """Volume of the braid taken from the spool, waste included."""
    return bulk_length * stocked_section**2


@derived(
    title="Volume of packing",
    symbol="V",
    unit="mm**3",
    part=PART,
    source=cite("geometry"),
    optional=("braid_volume",),
    excel='IF(EXACT({packing_form},"braid"),{braid_volume},{annulus_area}*{stack_height})',
)
def packing_volume(packing_form: Text, braid_volume: Num, annulus_area: Num, stack_height: Num) -> Num:
    """Volume of the packing as it is bought: braid with its waste, rings and loose packing before they are pressed."""
    return np.where(packing_form == "braid", braid_volume, stack_height * annulus_area)


@derived(
    title="Mass of packing",
    symbol="m",
    unit="kg",
    part=PART,
    source=cite("mass"),
    excel="{material_density}*{packing_volume}",
)
def packing_mass(material_density: Num, packing_volume: Num) -> Num:
    """Mass of the packing for this valve."""
    return material_density * packing_volume


@derived(
    title="Mass of a metre of braid",
    symbol="",
    unit="kg",
    part=PART,
    source=cite("mass"),
    excel='IF(EXACT({packing_form},"braid"),{material_density}*{stocked_section}^2*{metre},"")',
)
def metre_mass(packing_form: Text, material_density: Num, stocked_section: Num, metre: float) -> Num:
    """What a metre from the spool weighs."""
    return np.where(packing_form == "braid", material_density * metre * stocked_section**2, np.nan)


@fault(
    title="No width listed",
    part=PART,
    source=cite("wrench"),
    about=("gland_nut_kind_entered", "gland_stud_thread"),
    optional=("wrench_size",),
    words="No width across flats is listed for this kind of nut on this thread: choose another kind, or measure the nut.",
    excel="AND({thread_row}>0,{nut_column}>0,NOT(ISNUMBER({wrench_size})))",
)
def wrench_not_listed(thread_row: Num, nut_column: Num, wrench_size: Num) -> Any:
    """Says that the table has no such nut."""
    return (thread_row > 0) & (nut_column > 0) & np.isnan(wrench_size)
