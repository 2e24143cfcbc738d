"""What each valve of a list asks to be ordered, under a code that like items share.

A valve in state STOP or MISSING orders nothing, nor does one without a packing material: the order waits, and the reconciliation
counts them.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import rounded, row_exact
from sheetcalc.calculations.given import given
from sheetcalc.declare.blocks import derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "order"
ORDER = cite("order-practice")
#: The groups of the order list, in its order, with what they are called.
GROUPS: Final = {
    "packing": "packing",
    "end": "braided end ring",
    "spacer": "spacer",
    "gasket": "gasket",
    "stud": "gland stud",
    "joint": "flange gasket",
    "bolt": "flange stud",
}
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
    title="Number of the material",
    unit="1",
    part=PART,
    source=cite("reading"),
    per=Per.LISTED,
    guards=False,
    excel="IF(ISNUMBER({material_row}),{material_row},0)",
)
def material_number(material_row: Num) -> Num:
    """The row of the material on Materials; 0 where none is named."""
    return np.where(np.isnan(material_row), 0.0, material_row)


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


def steps(size: str) -> str:
    """Excel text of a size in whole steps: rounded twice, since 3/8 in is just between two steps but for noise."""
    return f"ROUND(ROUND({size}/{{order_step}},{{counting_digits}}),0)"


def coded(value: Any, step: float = 1.0, digits: float = 0) -> Any:
    """A size in whole steps, written as a sheet writes a whole number; "" where it is missing."""
    number = rounded(rounded(np.asarray(value, dtype=np.float64) / step, digits))
    return np.array(["" if np.isnan(n) else str(int(n)) for n in np.atleast_1d(number)], dtype=object)


@derived(
    title="Size of braid, coded",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=f'"B"&{steps("{stocked_section}")}',
)
def braid_code(stocked_section: Num, order_step: float, counting_digits: float) -> Any:
    """The stocked section in whole steps."""
    return "B" + coded(stocked_section, order_step, counting_digits)


@derived(
    title="Box in the order, coded",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=f'{steps("{stem_diameter}")}&"x"&{steps("{box_bore}")}',
)
def box_code(stem_diameter: Num, order_step: float, counting_digits: float, box_bore: Num) -> Any:
    """Stem and bore in whole steps."""
    return coded(stem_diameter, order_step, counting_digits) + "x" + coded(box_bore, order_step, counting_digits)


@derived(
    title="Size of a set, coded",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=f'"S"&{{box_code}}&"x"&{steps("{ring_height}")}&"n"&{{set_rings}}',
)
def set_code(box_code: Text, ring_height: Num, order_step: float, counting_digits: float, set_rings: Num) -> Any:
    """Stem, bore and height of a ring in whole steps, and the number of rings."""
    return "S" + box_code + "x" + coded(ring_height, order_step, counting_digits) + "n" + coded(set_rings)


@derived(
    title="Packing, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    optional=("braid_code", "set_code"),
    excel='"M"&{material_number}&CHOOSE({form_row},{braid_code},{set_code},"L",{set_code})',
)
def packing_code(material_number: Num, form_row: Num, braid_code: Text, set_code: Text) -> Any:
    """What packings of one material, form and size share; the forms are in the order of their table."""
    sizes = np.select([form_row == 1, form_row == 2 + 1], [braid_code, np.array("L", dtype=object)], set_code)
    return "M" + coded(material_number) + sizes


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
