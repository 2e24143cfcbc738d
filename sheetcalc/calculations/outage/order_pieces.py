"""What each valve asks for besides packing: end rings, spacer, gasket and studs, and what it needs if it comes out of the line."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.outage.grouped import declare_group
from sheetcalc.calculations.outage.order import GROUPS, ORDER, PART, coded, steps
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite


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


for _name, _title in GROUPS.items():
    declare_group(_name, f"Order, {_title}", PART, user_text=_name in {"gasket", "joint"})
