"""What is missing for a torque of the flange bolts, and what is named and does not serve."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick
from sheetcalc.calculations.joint.bolt_load import DESIGN
from sheetcalc.calculations.joint.flange import PART, READING
from sheetcalc.calculations.oxygen import LUBRICANT_REPORTS, judged_by_report
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite

# --- what is missing for a torque ---


@fault(
    title="Kind of flange gasket not named",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("practice"),
    about=("gasket_kind",),
    optional=("gasket_kind",),
    words="Kind of flange gasket missing.",
    excel='AND({flange_asked}=1,IFERROR({gasket_kind}="",0))',
)
def gasket_kind_missing(flange_asked: Num, gasket_kind: Text) -> Any:
    """Says that nobody has named the gasket of the flange joints."""
    return (flange_asked == 1) & (gasket_kind == "")


@fault(
    title="Flange bolt grade not named",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("grades"),
    about=("flange_bolt_grade",),
    optional=("flange_bolt_grade",),
    words="Flange bolt grade missing.",
    excel='AND({flange_asked}=1,IFERROR({flange_bolt_grade}="",0))',
)
def flange_grade_missing(flange_asked: Num, flange_bolt_grade: Text) -> Any:
    """Says that nobody has named the grade of the flange bolts."""
    return (flange_asked == 1) & (flange_bolt_grade == "")


@fault(
    title="Flange bolt lubricant not named",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("nut-factor"),
    about=("flange_lubricant",),
    optional=("flange_lubricant",),
    words="Flange bolt lubricant missing.",
    excel='AND({flange_asked}=1,IFERROR({flange_lubricant}="",0))',
)
def flange_lubricant_missing(flange_asked: Num, flange_lubricant: Text) -> Any:
    """Says that nobody knows what is on the threads of the flange bolts."""
    return (flange_asked == 1) & (flange_lubricant == "")


# --- what is named and does not serve ---


@fault(
    title="Kind of flange gasket not known",
    part=PART,
    gravity=Gravity.STOP,
    source=READING,
    about=("gasket_kind",),
    optional=("gasket_kind", "gasket_kind_row"),
    words="Kind of flange gasket is none of the listed ones: choose it from the list on Tables, or give it a row of its own.",
    excel='AND({flange_asked}=1,IFERROR({gasket_kind}<>"",1),NOT(ISNUMBER({gasket_kind_row})))',
)
def gasket_kind_not_known(flange_asked: Num, gasket_kind: Text, gasket_kind_row: Num) -> Any:
    """Says that the gasket is not on Tables."""
    return (flange_asked == 1) & (gasket_kind != "") & np.isnan(gasket_kind_row)


@fault(
    title="Kind of flange gasket without form or least stress",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("gasket-kinds"),
    about=("gasket_kind",),
    optional=("gasket_kind_row", "gasket_form", "gasket_least"),
    words="The row of this kind of flange gasket on Tables lacks its form (spiral, flat or grooved) or its least stress: type both.",
    excel='AND({flange_asked}=1,ISNUMBER({gasket_kind_row}),OR({gasket_form}="",NOT(ISNUMBER({gasket_least}))))',
)
def gasket_kind_incomplete(flange_asked: Num, gasket_kind_row: Num, gasket_form: Text, gasket_least: Num) -> Any:
    """Says that the gasket's own row on Tables is not filled."""
    return (flange_asked == 1) & ~np.isnan(gasket_kind_row) & ((gasket_form == "") | np.isnan(gasket_least))


@fault(
    title="Flange gasket without dimensions",
    part=PART,
    gravity=Gravity.NOTE,
    source=cite("gasket-area"),
    about=("gasket_kind", "flange_size", "flange_class_entered"),
    optional=("flange_raised_row", "gasket_form", "spiral_row", "flat_row"),
    words="Tables have no dimensions of this kind of flange gasket in this size and class: no torque is given; take it from the owner's "
    "standard.",
    excel='AND({flange_asked}=1,ISNUMBER({flange_raised_row}),{gasket_form}<>"",COUNT({spiral_row},{flat_row})=0)',
)
def gasket_not_listed(flange_asked: Num, flange_raised_row: Num, gasket_form: Text, spiral_row: Num, flat_row: Num) -> Any:
    """Says that the flange's bolts are known and its gasket is not."""
    return (flange_asked == 1) & ~np.isnan(flange_raised_row) & (gasket_form != "") & np.isnan(spiral_row) & np.isnan(flat_row)


@fault(
    title="Flange bolt grade not known in this size",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("grades"),
    about=("flange_bolt_grade", "flange_size"),
    words="No row of the grades on Tables holds for this flange bolt grade and size: choose the grade from the list, or give it a row "
    "of its own.",
    excel="AND({flange_asked}=1,{flange_grade_rows}=0)",
)
def flange_grade_not_known(flange_asked: Num, flange_grade_rows: Num) -> Any:
    """Says that Tables have no strength for the flange bolts."""
    return (flange_asked == 1) & (flange_grade_rows == 0)


@fault(
    title="Flange bolt grade stands twice",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("grades"),
    about=("flange_bolt_grade", "flange_size"),
    words="More than one row of the grades on Tables holds for this flange bolt grade and size: keep one of them.",
    excel="AND({flange_asked}=1,{flange_grade_rows}>1)",
)
def flange_grade_twice(flange_asked: Num, flange_grade_rows: Num) -> Any:
    """Says that two rows contradict each other on the flange bolts."""
    return (flange_asked == 1) & (flange_grade_rows > 1)


@fault(
    title="Flange bolt grade without yield",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("grades"),
    about=("flange_bolt_grade",),
    optional=("flange_grade_row", "flange_bolt_yield"),
    words="The row of the flange bolt grade on Tables states no yield: type it.",
    excel="AND({flange_asked}=1,AND(ISNUMBER({flange_grade_row}),NOT(ISNUMBER({flange_bolt_yield}))))",
)
def flange_grade_no_yield(flange_asked: Num, flange_grade_row: Num, flange_bolt_yield: Num) -> Any:
    """Says that the yield of the flange bolts is not known."""
    return (flange_asked == 1) & ~np.isnan(flange_grade_row) & np.isnan(flange_bolt_yield)


@fault(
    title="Flange bolt lubricant not known",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("nut-factor"),
    about=("flange_lubricant",),
    optional=("flange_lubricant", "flange_lubricant_row"),
    words="Flange bolt lubricant is none of the listed ones: choose it from the list on Tables, or give it a row of its own.",
    excel='AND({flange_asked}=1,IFERROR({flange_lubricant}<>"",1),NOT(ISNUMBER({flange_lubricant_row})))',
)
def flange_lubricant_not_known(flange_asked: Num, flange_lubricant: Text, flange_lubricant_row: Num) -> Any:
    """Says that the lubricant of the flange bolts is not on Tables."""
    return (flange_asked == 1) & (flange_lubricant != "") & np.isnan(flange_lubricant_row)


@fault(
    title="Flange bolt lubricant without its band",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=cite("nut-factor"),
    about=("flange_lubricant",),
    optional=("flange_nut_factor", "flange_lubricant_scatter"),
    words="The row of the flange bolt lubricant on Tables lacks a nut factor, or its scatter, a share below one: type both.",
    excel="AND({flange_asked}=1,COUNT({flange_lubricant_row},{flange_nut_factor},{flange_lubricant_scatter})<3)",
)
def flange_lubricant_no_band(flange_asked: Num, flange_lubricant_row: Num, flange_nut_factor: Num, flange_lubricant_scatter: Num) -> Any:
    """Says that nobody knows how friction scatters with this lubricant."""
    return (flange_asked == 1) & ~np.isnan(flange_lubricant_row) & (np.isnan(flange_nut_factor) | np.isnan(flange_lubricant_scatter))


@derived(
    title="Flange bolts are dry",
    unit="1",
    part=PART,
    source=cite("practice"),
    excel="INDEX({lubricants_dry},{flange_lubricant_row})",
)
def flange_lubricant_dry(lubricants_dry: Num, flange_lubricant_row: Num) -> Any:
    """1 where nothing is on the flange bolts that could burn, 0 where something is, blank where the lubricant's row does not say."""
    return pick(flange_lubricant_row, lubricants_dry)


judged_by_report(
    "flange_lubricant",
    what="flange bolt lubricant",
    part=PART,
    row="flange_lubricant_row",
    columns=LUBRICANT_REPORTS,
    passed_over=("flange_lubricant_dry", 1),
    about="flange_lubricant",
    sheet="Tables",
    otherwise="leave threads and nuts dry",
    asked=("flange_asked",),
)


@fault(
    title="Flange bolts over their yield",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("grades"),
    about=("flange_bolt_stress_entered", "flange_bolt_grade"),
    words="The flange bolts would yield where friction is low: type a Flange bolt stress no higher than Greatest target of the flange "
    "bolts.",
    excel="AND({flange_asked}=1,ROUND({flange_yield_share}-1,{counting_digits})>0)",
)
def flange_over_yield(flange_asked: Num, flange_yield_share: Num, counting_digits: float) -> Any:
    """Says that the torque could stretch the flange bolts for good."""
    return (flange_asked == 1) & above_zero(flange_yield_share - 1, counting_digits)


@fault(
    title="Flange gasket crushed",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("gasket-seating"),
    about=("gasket_kind", "flange_bolt_stress_entered"),
    words="The flange gasket would be crushed: type a Flange bolt stress no higher than Greatest target of the flange bolts, or choose "
    "another gasket.",
    excel="AND({flange_asked}=1,ROUND({gasket_stress}-{gasket_most},{counting_digits})>0)",
)
def gasket_crushed(flange_asked: Num, gasket_stress: Num, gasket_most: Num, counting_digits: float) -> Any:
    """Says that the bolts would press the gasket beyond what it bears."""
    return (flange_asked == 1) & above_zero(gasket_stress - gasket_most, counting_digits)


@fault(
    title="Flange gasket not seated",
    part=PART,
    source=cite("gasket-seating"),
    about=("gasket_kind", "flange_bolt_stress_entered"),
    words="Flange gasket stress is below the least that this kind needs: raise the Flange bolt stress to Least target of the flange bolts "
    "if the grade takes it, or choose another gasket.",
    excel="AND({flange_asked}=1,ROUND({gasket_least}-{gasket_stress},{counting_digits})>0)",
)
def gasket_not_seated(flange_asked: Num, gasket_least: Num, gasket_stress: Num, counting_digits: float) -> Any:
    """Says that the bolts press the gasket too little."""
    return (flange_asked == 1) & above_zero(gasket_least - gasket_stress, counting_digits)


@fault(
    title="Flange gasket unloaded by the pressure",
    part=PART,
    source=cite("gasket-seating"),
    about=("gasket_kind", "line_pressure_entered"),
    optional=("gasket_not_seated",),
    words="With the pressure on, the flange gasket keeps less stress than this kind needs at least: raise the Flange bolt stress if grade "
    "and gasket take it, or ask the owner's engineer.",
    excel='AND({flange_asked}=1,{gasket_not_seated}="",ROUND({gasket_least}-{gasket_stress_pressed},{counting_digits})>0)',
)
def gasket_unloaded(
    flange_asked: Num, gasket_not_seated: Flag, gasket_least: Num, gasket_stress_pressed: Num, counting_digits: float
) -> Any:
    """Says that the pressure end load takes too much off a gasket that was seated."""
    return (flange_asked == 1) & ~gasket_not_seated & above_zero(gasket_least - gasket_stress_pressed, counting_digits)


@fault(
    title="Flange load below the designer's",
    part=PART,
    withholds=("flange_bolt_torque",),
    source=DESIGN,
    about=("flange_bolt_stress_entered", "line_pressure_entered"),
    words="The flange bolts load the joint less than the design rules of a pressure vessel code ask for, so no torque is given: look at "
    "stress, gasket and pressure, or ask the owner's engineer.",
    excel="AND({flange_asked}=1,ROUND({flange_load_ratio}-1,{counting_digits})<0)",
)
def flange_load_low(flange_asked: Num, flange_load_ratio: Num, counting_digits: float) -> Any:
    """Says that a flange designer would want more bolt load."""
    return (flange_asked == 1) & above_zero(1 - flange_load_ratio, counting_digits)


@fault(
    title="Flange bolt torque forms apart",
    part=PART,
    source=cite("torque-gap"),
    about=("flange_lubricant", "flange_nut_factor_entered"),
    words="The two forms of the flange bolt torque are far apart: look at nut factor and lubricant again before a wrench is set.",
    excel="AND({flange_asked}=1,ROUND(ABS({flange_torque_ratio}-1)-{greatest_torque_gap},{counting_digits})>0)",
)
def flange_torque_forms_apart(flange_asked: Num, flange_torque_ratio: Num, greatest_torque_gap: float, counting_digits: float) -> Any:
    """Says that the second method does not bear out the first for the flange bolts."""
    return (flange_asked == 1) & above_zero(np.abs(flange_torque_ratio - 1) - greatest_torque_gap, counting_digits)
