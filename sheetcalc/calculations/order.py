"""What each valve of a list asks to be ordered, under a code that like items share.

A valve in state HOLD or INCOMPLETE orders nothing: the order waits for it, and the reconciliation counts it.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import rounded, row_exact
from sheetcalc.calculations.entries import given
from sheetcalc.calculations.grouped import declare_group
from sheetcalc.declare.blocks import derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "order"
ORDER = cite("order-practice")

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
    excel='IF(OR(EXACT({state},"READY"),EXACT({state},"LOOK")),1,"")',
)
def ordered(state: Text) -> Num:
    """1 where the valve's packing is ordered: its state is READY or LOOK."""
    return np.where((state == "READY") | (state == "LOOK"), 1.0, np.nan)


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
    return np.array(["" if n != n else str(int(n)) for n in np.atleast_1d(number)], dtype=object)  # noqa: PLR0124 - NaN


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


@derived(
    title="End rings, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel='IF({end_rings}>0,"M"&{material_number}&"E"&{box_code},"")',
)
def end_code(end_rings: Num, material_number: Num, box_code: Text) -> Any:
    """What braided end rings for one material of set, stem and bore share."""
    return np.where(end_rings > 0, "M" + coded(material_number) + "E" + box_code, "")


@derived(title="End rings to order", unit="1", part=PART, source=ORDER, per=Per.LISTED, excel='IF({end_rings}>0,{end_rings},"")')
def end_pieces(end_rings: Num) -> Num:
    """Braided end rings for this valve."""
    return np.where(end_rings > 0, end_rings, np.nan)


@derived(
    title="Spacer, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel=f'IF({{spacer_height}}*{{ordered}}>0,"P"&{{box_code}}&"x"&{steps("{spacer_height}")},"")',
)
def spacer_code(spacer_height: Num, ordered: Num, box_code: Text, order_step: float, counting_digits: float) -> Any:
    """What spacers for one stem, bore and height share."""
    return np.where(spacer_height * ordered > 0, "P" + box_code + "x" + coded(spacer_height, order_step, counting_digits), "")


@derived(
    title="Spacers to order",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel='IF({spacer_height}>0,{ordered},"")',
)
def spacer_pieces(spacer_height: Num, ordered: Num) -> Num:
    """One spacer where the box wants one."""
    return np.where(spacer_height > 0, ordered, np.nan)


@derived(
    title="Gasket, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel='IF({gasket_count}*{ordered}>0,"G "&{gasket},"")',
)
def gasket_code(gasket_count: Num, ordered: Num, gasket: Text) -> Any:
    """What gaskets of one designation share."""
    return np.where(gasket_count * ordered > 0, "G " + gasket, "")


@derived(
    title="Gaskets to order",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel='IF({gasket_code}="","",{gasket_count})',
    guards=False,
)
def gasket_pieces(gasket_code: Text, gasket_count: Num) -> Num:
    """Gaskets for this valve."""
    return np.where(gasket_code == "", np.nan, gasket_count)


@derived(
    title="Number of the grade",
    unit="1",
    part=PART,
    source=cite("reading"),
    per=Per.LISTED,
    guards=False,
    excel="IF(ISNUMBER({grade_row}),{grade_row},0)",
)
def grade_number(grade_row: Num) -> Num:
    """The row of the grade on Tables; 0 where none is named."""
    return np.where(np.isnan(grade_row), 0.0, grade_row)


@derived(
    title="Studs, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel='IF({new_studs}*{ordered}>0,"T"&{thread_row}&"g"&{grade_number},"")',
)
def stud_code(new_studs: Num, ordered: Num, thread_row: Num, grade_number: Num) -> Any:
    """What gland studs of one thread and grade share."""
    return np.where(new_studs * ordered > 0, "T" + coded(thread_row) + "g" + coded(grade_number), "")


@fault(
    title="Studs without a thread",
    part=PART,
    source=ORDER,
    about=("new_studs_entered", "gland_stud_thread"),
    per=Per.LISTED,
    words="New gland studs are typed and no thread that the tables know: they are not on the order list. Choose the thread.",
    excel="AND({new_studs}>0,NOT(ISNUMBER({thread_row})))",
    optional=("thread_row",),
)
def studs_without_thread(new_studs: Num, thread_row: Num) -> Any:
    """Says that studs cannot be ordered without their thread."""
    return (new_studs > 0) & np.isnan(thread_row)


@derived(
    title="Studs to order",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    guards=False,
    excel='IF({stud_code}="","",{new_studs})',
)
def stud_pieces(stud_code: Text, new_studs: Num) -> Num:
    """Gland studs for this valve."""
    return np.where(stud_code == "", np.nan, new_studs)


# --- what a valve that comes out of the line needs ---


@derived(
    title="Ordered, and out of the line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    excel='IF(EXACT({comes_out},"yes"),{ordered},"")',
)
def out_ordered(comes_out: Text, ordered: Num) -> Num:
    """1 where the valve is ordered for and comes out of the line."""
    return np.where(comes_out == "yes", ordered, np.nan)


@derived(
    title="Flange gasket, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    optional=("out_ordered",),
    excel='IF(ISNUMBER({out_ordered}),"J "&{flange_gasket},"")',
)
def joint_code(out_ordered: Num, flange_gasket: Text) -> Any:
    """What flange gaskets of one kind, size and class share: a joint that is opened gets a new one."""
    return np.where(np.isnan(out_ordered), "", "J " + flange_gasket)


@derived(
    title="Flange gaskets to order",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    guards=False,
    excel='IF({joint_code}="","",{flange_gaskets})',
)
def joint_pieces(joint_code: Text, flange_gaskets: Num) -> Num:
    """One for each joint of this valve."""
    return np.where(joint_code == "", np.nan, flange_gaskets)


@derived(
    title="Number of the grade of flange bolts",
    unit="1",
    part=PART,
    source=cite("reading"),
    per=Per.LISTED,
    guards=False,
    excel="IF(ISNUMBER({flange_grade_row}),{flange_grade_row},0)",
)
def flange_grade_number(flange_grade_row: Num) -> Num:
    """The row of the grade on Tables; 0 where none is named."""
    return np.where(np.isnan(flange_grade_row), 0.0, flange_grade_row)


@derived(
    title="Flange studs, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel='IF(EXACT({flange_studs_renewed},"yes"),"F"&{flange_thread_row}*{out_ordered}&"x"&'
    f'{steps("{flange_bolt_length}")}&"g"&{{flange_grade_number}},"")',
)
def bolt_code(
    flange_studs_renewed: Text,
    flange_thread_row: Num,
    out_ordered: Num,
    flange_bolt_length: Num,
    order_step: float,
    counting_digits: float,
    flange_grade_number: Num,
) -> Any:
    """What flange studs of one thread, length and grade share."""
    code = "F" + coded(flange_thread_row * out_ordered) + "x" + coded(flange_bolt_length, order_step, counting_digits)
    return np.where(flange_studs_renewed == "yes", code + "g" + coded(flange_grade_number), "")


@derived(
    title="Flange studs to order",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    guards=False,
    excel='IF({bolt_code}="","",{flange_studs})',
)
def bolt_pieces(bolt_code: Text, flange_studs: Num) -> Num:
    """Studs of all joints of this valve, each with two nuts."""
    return np.where(bolt_code == "", np.nan, flange_studs)


@fault(
    title="Flange studs not ordered",
    part=PART,
    source=ORDER,
    about=("flange_studs_renewed_entered", "comes_out_entered"),
    per=Per.LISTED,
    words="New flange studs are asked for and none are on the order list: the valve must come out, with size, class and raised face known.",
    excel='AND({ordered}=1,EXACT({flange_studs_renewed},"yes"),{bolt_code}="")',
    optional=("bolt_code",),
)
def flange_studs_not_ordered(ordered: Num, flange_studs_renewed: Text, bolt_code: Text) -> Any:
    """Says that studs are asked for that nobody can order."""
    return (ordered == 1) & (flange_studs_renewed == "yes") & (bolt_code == "")


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
for _name, _title in GROUPS.items():
    declare_group(_name, f"Order, {_title}", PART, user_text=_name in {"gasket", "joint"})
