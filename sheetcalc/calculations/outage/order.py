"""What each valve of a list asks to be ordered, under a code that like items share.

A valve in state STOP or MISSING orders nothing, nor does one without a packing material: the order waits, and the reconciliation
counts them.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import pick, rounded, row_exact
from sheetcalc.calculations.given import given
from sheetcalc.declare.blocks import derive, derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "order"
ORDER = cite("order-practice")
#: The groups of the order list, in its order, with what they are called: what flanges need comes last.
GROUPS: Final = {
    "packing": "packing",
    "end": "braided end ring",
    "spacer": "spacer",
    "gasket": "gasket",
    "stud": "gland stud",
    "grease": "lubricant",
    "joint": "flange gasket",
    "bolt": "flange stud",
    "joint_grease": "lubricant of flange studs alone",
}
#: What of a group falls to the lines of another: flange studs that take the lubricant of gland studs.
ALSO: Final = {"joint_grease": ("grease", "shared_grease")}
position = entry(
    "position",
    title="Number in the list",
    unit="1",
    part="list",
    source=cite("reading"),
    per=Per.LISTED,
    sentence="The place of the valve's row, counted from 1.",
)
given(
    "end_ring_count",
    title="Braided end rings",
    symbol="",
    unit="1",
    part=PART,
    per=Per.LISTED,
    usual="0",
    low="0",
    high="largest_count",
    whole=True,
    remedy="type how many rings of the set are braided end rings or clear the cell.",
    sentence="How many of the rings of a die-formed set are braided end rings, top and bottom together: they are ordered apart.",
)
gasket = entry(
    "gasket",
    title="Gasket",
    text=True,
    part=PART,
    source=cite("reading"),
    per=Per.LISTED,
    sentence="The designation of a gasket to be renewed with this valve, as the site orders it.",
)
given(
    "gasket_count",
    title="Gaskets",
    symbol="",
    unit="1",
    part=PART,
    per=Per.LISTED,
    usual="1",
    low="0",
    high="largest_count",
    whole=True,
    remedy="type how many gaskets or clear the cell.",
    sentence="How many gaskets of that designation are needed.",
)
given(
    "new_studs",
    title="New gland studs",
    symbol="",
    unit="1",
    part=PART,
    per=Per.LISTED,
    usual="0",
    low="0",
    high="largest_count",
    whole=True,
    remedy="type how many gland studs are to be renewed or clear the cell.",
    sentence="How many gland studs are to be renewed, with their nuts.",
)


@derived(
    title="Ordered",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel='IF(AND({material_row}>0,{sizeless}=0),1,"")',
)
def ordered(material_row: Num, sizeless: Num) -> Num:
    """1 where the valve's packing is ordered: its material is named, its sizes stand and nothing stops it."""
    return np.where((material_row > 0) & (sizeless == 0), 1.0, np.nan)


@derived(
    title="Waits for a material",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    optional=("material_row",),
    excel='IF(AND(NOT(ISNUMBER({material_row})),{sizeless}=0),1,"")',
)
def order_waits(material_row: Num, sizeless: Num) -> Num:
    """1 where the sizes stand and nothing is ordered, since no packing material is named."""
    return np.where(np.isnan(material_row) & (sizeless == 0), 1.0, np.nan)


@derived(
    title="Row of the packing form",
    unit="1",
    part=PART,
    source=cite("reading"),
    per=Per.LISTED,
    excel="{ordered}*MATCH({packing_form},{packing_form_names},0)",
)
def form_row(ordered: Num, packing_form: Text, packing_form_names: list[str]) -> Num:
    """The row of the packing form on Tables, for a valve that is ordered."""
    return ordered * row_exact(packing_form, packing_form_names)


@derived(
    title="Unit of sizes in codes",
    unit="mm",
    part=PART,
    source=ORDER,
    per=Per.OUTAGE,
    guards=False,
    empirical="a millimetre where the unit set is not known",
    excel="IF(ISNUMBER({outage_length_factor}),{outage_length_factor},1)",
)
def order_unit(outage_length_factor: Num) -> Any:
    """What one of the unit is in which codes write a size: that of the outage, mm where its unit set is not known."""
    return np.where(np.isnan(outage_length_factor), 1.0, outage_length_factor)


@derived(
    title="Material in the order",
    part=PART,
    source=cite("reading"),
    text=True,
    per=Per.LISTED,
    guards=False,
    excel='IF(ISNUMBER({material_row}),INDEX({material_names},{material_row}),"")',
)
def order_material(material_row: Num, material_names: list[str]) -> Any:
    """The material as Materials write it; blank where none of them is named."""
    return pick(material_row, material_names)


@derived(
    title="Braided end rings of the set",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel='IF(AND(EXACT({packing_form},"die-formed"),{end_ring_count}<{ring_count}),{end_ring_count}*{ordered},0)',
)
def end_rings(packing_form: Text, end_ring_count: Num, ring_count: Num, ordered: Num) -> Num:
    """How many rings of a die-formed set are ordered as braided end rings; 0 for any other packing."""
    return np.where((packing_form == "die-formed") & (end_ring_count < ring_count), end_ring_count * ordered, 0.0)


@fault(
    title="End rings not ordered",
    part=PART,
    source=ORDER,
    about=("end_ring_count_entered",),
    per=Per.LISTED,
    words="Braided end rings are typed for packing that is no die-formed set, or as many as the whole set: none are ordered.",
    excel="AND({end_ring_count}>0,{end_rings}=0)",
)
def end_rings_not_ordered(end_ring_count: Num, end_rings: Num) -> Any:
    """Says that end rings are typed where there can be none."""
    return (end_ring_count > 0) & (end_rings == 0)


@derived(
    title="Rings of the set without end rings",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel="{ring_count}-{end_rings}",
)
def set_rings(ring_count: Num, end_rings: Num) -> Num:
    """How many rings the packing itself has."""
    return ring_count - end_rings


#: What a size in a code is worked out from, besides the size.
SIZING: Final = ("order_step", "order_unit", "order_digits", "counting_digits")


def steps(size: str) -> str:
    """Excel text of a size in whole steps: rounded twice, since 3/8 in is just between two steps but for noise."""
    return f"ROUND(ROUND({size}/{{order_step}},{{counting_digits}}),0)"


def sized(size: str, *, whole: bool = False) -> str:
    """Excel text of a size in mm as codes write it, with a point in every locale; a `whole` one need not be put into steps first."""
    exact = size if whole else f"{steps(size)}*{{order_step}}"
    return f'SUBSTITUTE(ROUND({exact}/{{order_unit}},{{order_digits}}),",",".")'


def in_steps(size: Any, step: float, digits: float) -> Any:
    """A size in whole steps."""
    return rounded(rounded(np.asarray(size, dtype=np.float64) / step, digits))


def written(size: Any, order_unit: Any, order_digits: float) -> Any:
    """A size in mm as codes write it: in the unit of the order, no nought at its end; "" where it is missing."""
    number = np.atleast_1d(np.asarray(size, dtype=np.float64) / order_unit)
    digits = int(order_digits)
    return np.array(["" if np.isnan(one) else f"{one:.{digits}f}".rstrip("0").rstrip(".") for one in number], dtype=object)


def in_code(size: Any, order_step: float, order_unit: Any, order_digits: float, counting_digits: float) -> Any:
    """A measured size as codes write it; such as differ by less than a step are one."""
    return written(in_steps(size, order_step, counting_digits) * order_step, order_unit, order_digits)


def counted_in_code(count: Num) -> Any:
    """A whole number as codes write it."""
    return written(count, 1.0, 1.0)


derive(
    "braid_code",
    ("stocked_section", *SIZING),
    in_code,
    "The stocked section.",
    title="Size of braid, in the code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=sized("{stocked_section}"),
)
derive(
    "box_code",
    ("stem_diameter", "box_bore", *SIZING),
    lambda stem, bore, *sizing: in_code(stem, *sizing) + "x" + in_code(bore, *sizing),
    "Stem and bore.",
    title="Box, in the code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=f'{sized("{stem_diameter}")}&"x"&{sized("{box_bore}")}',
)
derive(
    "set_code",
    ("box_code", "ring_height", "set_rings", *SIZING),
    lambda box, height, rings, *sizing: box + "x" + in_code(height, *sizing) + " / rings " + counted_in_code(rings),
    "Stem, bore and height of a ring, and the number of rings.",
    title="Size of a set, in the code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=f'{{box_code}}&"x"&{sized("{ring_height}")}&" / rings "&{{set_rings}}',
)


@derived(
    title="Packing, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    optional=("order_material", "braid_code", "set_code"),
    excel='CHOOSE({form_row},"BRAID ","DIE-FORMED ","LOOSE ","MOULDED ")&{order_material}&'
    'CHOOSE({form_row}," / "&{braid_code}," / "&{set_code},""," / "&{set_code})',
)
def packing_code(order_material: Text, form_row: Num, braid_code: Text, set_code: Text) -> Any:
    """What packings of one material, form and size share; the forms are in the order of their table."""
    form = np.asarray(pick(form_row, ["BRAID ", "DIE-FORMED ", "LOOSE ", "MOULDED "]), dtype=object)
    sizes = np.select([form_row == 1, form_row == 2 + 1], [" / " + braid_code, np.array("", dtype=object)], " / " + set_code)
    return form + np.asarray(order_material, dtype=object) + sizes


@derived(
    title="Braid to order",
    unit="mm",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    measured_as="spool",
    excel='IF(EXACT({packing_form},"braid"),{bulk_length}*{ordered},"")',
)
def order_length(packing_form: Text, bulk_length: Num, ordered: Num) -> Num:
    """Length of braid for this valve, waste included."""
    return np.where(packing_form == "braid", bulk_length * ordered, np.nan)


@derived(
    title="Packing to order, pieces",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel='IF(OR(EXACT({packing_form},"die-formed"),EXACT({packing_form},"moulded")),{ordered},"")',
)
def packing_pieces(packing_form: Text, ordered: Num) -> Num:
    """One set where the packing comes as rings."""
    return np.where((packing_form == "die-formed") | (packing_form == "moulded"), ordered, np.nan)


@derived(
    title="Packing to order, mass",
    unit="kg",
    part=PART,
    source=cite("mass"),
    per=Per.LISTED,
    optional=("set_rings", "ring_count"),
    excel="{packing_mass}*{ordered}*IF(ISNUMBER({set_rings}),{set_rings}/{ring_count},1)",
)
def order_mass(packing_mass: Num, ordered: Num, set_rings: Num, ring_count: Num) -> Num:
    """Mass of the packing of this valve, without braided end rings."""
    return packing_mass * ordered * np.where(np.isnan(set_rings), 1.0, set_rings / ring_count)


@derived(
    title="Loose packing to order",
    unit="kg",
    part=PART,
    source=cite("mass"),
    per=Per.LISTED,
    optional=("order_mass",),
    excel='IF(EXACT({packing_form},"loose"),{order_mass},"")',
)
def order_loose(packing_form: Text, order_mass: Num) -> Num:
    """Mass of loose packing for this valve."""
    return np.where(packing_form == "loose", order_mass, np.nan)


@fault(
    title="Nothing to order",
    part=PART,
    source=ORDER,
    about=(),
    per=Per.LISTED,
    optional=("order_length", "packing_pieces", "order_loose"),
    words="How much packing this valve needs is not known, so the order list holds none for it: see what is wrong in the row.",
    excel="AND({ordered}=1,COUNT({order_length},{packing_pieces},{order_loose})=0)",
)
def order_without_amount(ordered: Num, order_length: Num, packing_pieces: Num, order_loose: Num) -> Any:
    """Says that a valve is ordered for and no amount can be worked out."""
    return (ordered == 1) & np.isnan(order_length) & np.isnan(packing_pieces) & np.isnan(order_loose)
