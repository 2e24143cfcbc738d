"""What each valve asks for besides packing: end rings, spacer, gasket and studs, and what it needs if it comes out of the line."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.outage.grouped import declare_group
from sheetcalc.calculations.outage.order import GROUPS, ORDER, PART, in_code, sized
from sheetcalc.declare.blocks import derive, derived, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite


@derived(
    title="End rings, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    optional=("order_material",),
    excel='IF({end_rings}>0,"END RING "&{order_material}&" / "&{box_code},"")',
)
def end_code(end_rings: Num, order_material: Text, box_code: Text) -> Any:
    """What braided end rings for one material of set, stem and bore share."""
    return np.where(end_rings > 0, "END RING " + np.asarray(order_material, dtype=object) + " / " + box_code, "")


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
    excel=f'IF({{spacer_height}}*{{ordered}}>0,"SPACER "&{{box_code}}&"x"&{sized("{spacer_height}")},"")',
)
def spacer_code(
    spacer_height: Num, ordered: Num, box_code: Text, order_step: float, order_unit: Num, order_digits: float, counting_digits: float
) -> Any:
    """What spacers for one stem, bore and height share."""
    code = "SPACER " + box_code + "x" + in_code(spacer_height, order_step, order_unit, order_digits, counting_digits)
    return np.where(spacer_height * ordered > 0, code, "")


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
    title="Spacer, how wide",
    part=PART,
    source=cite("spacer-fit"),
    text=True,
    per=Per.LISTED,
    excel='IF({spacer_height}>0,"inside "&'
    f'{sized("({stem_diameter}+{spacer_stem_clearance})")}&", outside "&{sized("({box_bore}-{spacer_box_clearance})")},"")',
)
def spacer_words(
    spacer_height: Num,
    stem_diameter: Num,
    spacer_stem_clearance: float,
    order_step: float,
    counting_digits: float,
    order_unit: Num,
    order_digits: float,
    box_bore: Num,
    spacer_box_clearance: float,
) -> Any:
    """To what a spacer is turned, clearances taken off, so that it goes over the stem and into the box."""
    sizing = (order_step, order_unit, order_digits, counting_digits)
    inside, outside = (in_code(size, *sizing) for size in (stem_diameter + spacer_stem_clearance, box_bore - spacer_box_clearance))
    return np.where(spacer_height > 0, "inside " + inside + ", outside " + outside, "")


@derived(
    title="Spacer, material",
    part=PART,
    source=cite("spacer-fit"),
    text=True,
    per=Per.LISTED,
    optional=("spacer_material",),
    excel='IF({spacer_height}>0,{spacer_material},"")',
)
def spacer_made_of(spacer_height: Num, spacer_material: str) -> Any:
    """What a spacer is made of, where the box wants one."""
    return np.where(spacer_height > 0, spacer_material, "")


@derived(
    title="Gasket, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    excel='IF({gasket_count}*{ordered}>0,"GASKET "&{gasket},"")',
)
def gasket_code(gasket_count: Num, ordered: Num, gasket: Text) -> Any:
    """What gaskets of one designation share."""
    return np.where(gasket_count * ordered > 0, "GASKET " + gasket, "")


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


def _declare_grade(name: str, title: str, row: str) -> None:
    """The grade of studs as Tables write it, with the stroke before it that sets it apart in a code."""
    derive(
        name,
        (row, "grade_names"),
        lambda at, names: np.where(np.isnan(at), "", " / " + np.asarray(pick(at, names), dtype=object)),
        "The grade as Tables write it, after a stroke; blank where none of them is named.",
        title=title,
        part=PART,
        source=cite("reading"),
        text=True,
        per=Per.LISTED,
        guards=False,
        excel=f'IF(ISNUMBER({{{row}}})," / "&INDEX({{grade_names}},{{{row}}}),"")',
    )


_declare_grade("order_grade", "Grade of gland studs, in the code", "grade_row")
_declare_grade("order_flange_grade", "Grade of flange studs, in the code", "flange_grade_row")


@derived(
    title="Studs, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    optional=("order_grade",),
    excel='IF({new_studs}*{ordered}>0,"STUD "&INDEX({thread_names},{thread_row})&{order_grade},"")',
)
def stud_code(new_studs: Num, ordered: Num, thread_names: list[str], thread_row: Num, order_grade: Text) -> Any:
    """What gland studs of one thread and grade share."""
    code = "STUD " + np.asarray(pick(thread_row, thread_names), dtype=object) + np.asarray(order_grade, dtype=object)
    return np.where(new_studs * ordered > 0, code, "")


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
    excel='IF(ISNUMBER({out_ordered}),"FLANGE GASKET "&{flange_gasket},"")',
)
def joint_code(out_ordered: Num, flange_gasket: Text) -> Any:
    """What flange gaskets of one kind, size and class share: a joint that is opened gets a new one."""
    return np.where(np.isnan(out_ordered), "", "FLANGE GASKET " + flange_gasket)


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
    title="Flange studs, order code",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LISTED,
    optional=("order_flange_grade",),
    excel='IF(EXACT({flange_studs_renewed},"yes"),"FLANGE STUD "&INDEX({thread_names},{flange_thread_row}*{out_ordered})&" x "&'
    f'{sized("{flange_bolt_length}")}&{{order_flange_grade}},"")',
)
def bolt_code(
    flange_studs_renewed: Text,
    thread_names: list[str],
    flange_thread_row: Num,
    out_ordered: Num,
    flange_bolt_length: Num,
    order_step: float,
    order_unit: Num,
    order_digits: float,
    counting_digits: float,
    order_flange_grade: Text,
) -> Any:
    """What flange studs of one thread, length and grade share."""
    length = in_code(flange_bolt_length, order_step, order_unit, order_digits, counting_digits)
    thread = np.asarray(pick(flange_thread_row * out_ordered, thread_names), dtype=object)
    code = "FLANGE STUD " + thread + " x " + length + np.asarray(order_flange_grade, dtype=object)
    return np.where(flange_studs_renewed == "yes", code, "")


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
    declare_group(_name, f"Order, {_title}", PART, user_text=_name != "spacer")
