"""The torque of the gland nuts in two forms, the thread that is left, and what is missing or wrong with load, studs and torque."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick
from sheetcalc.calculations.oxygen import LUBRICANT_REPORTS, judged_by_report
from sheetcalc.calculations.valve.load import PART
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Pitch diameter of the stud",
    symbol="d_2",
    unit="mm",
    part=PART,
    source=cite("pitch-diameter"),
    excel="{stud_diameter}-{pitch_diameter_share}*{stud_pitch}",
)
def stud_pitch_diameter(stud_diameter: Num, pitch_diameter_share: float, stud_pitch: Num) -> Num:
    """The diameter at which the flanks of the thread bear."""
    return stud_diameter - pitch_diameter_share * stud_pitch


@derived(
    title="Bearing radius of the nut",
    symbol="r_n",
    unit="mm",
    part=PART,
    source=cite("nut-bearing"),
    excel="({wrench_size}+{stud_diameter}+{hole_allowance})/4",
)
def nut_bearing_radius(wrench_size: Num, stud_diameter: Num, hole_allowance: float) -> Num:
    """The mean radius between washer face and hole, at which the nut rubs."""
    return (wrench_size + (stud_diameter + hole_allowance)) / 4


@derived(
    title="Arm of the thread",
    unit="mm",
    part=PART,
    source=cite("long-torque"),
    excel="IF(ISNUMBER(INDEX({lubricant_thread_frictions},{lubricant_row})),{stud_pitch}/(2*PI())+"
    'INDEX({lubricant_thread_frictions},{lubricant_row})*{stud_pitch_diameter}/2/COS(RADIANS({thread_flank_angle})),"")',
)
def thread_arm(
    stud_pitch: Num, lubricant_thread_frictions: Num, lubricant_row: Num, stud_pitch_diameter: Num, thread_flank_angle: float
) -> Any:
    """Torque over load of the thread itself: its slope and its friction."""
    friction = pick(lubricant_row, lubricant_thread_frictions)
    return stud_pitch / (2 * np.pi) + friction * stud_pitch_diameter / (2 * np.cos(np.radians(thread_flank_angle)))


@derived(
    title="Nut factor by the long form",
    symbol="",
    unit="1",
    part=PART,
    source=cite("long-torque"),
    excel="IF(ISNUMBER(INDEX({lubricant_nut_frictions},{lubricant_row})),"
    '({thread_arm}+INDEX({lubricant_nut_frictions},{lubricant_row})*{nut_bearing_radius})/{stud_diameter},"")',
)
def nut_factor_long(thread_arm: Num, lubricant_nut_frictions: Num, lubricant_row: Num, nut_bearing_radius: Num, stud_diameter: Num) -> Any:
    """What the nut factor comes to from slope, thread friction and nut friction."""
    return (thread_arm + nut_bearing_radius * pick(lubricant_row, lubricant_nut_frictions)) / stud_diameter


@derived(
    title="Long form over short form",
    symbol="",
    unit="1",
    part=PART,
    source=cite("torque-gap"),
    excel='IF({stud_torque_worked}>0,{nut_factor_long}*{stud_load}*{stud_diameter}/{stud_torque_worked},"")',
)
def torque_forms_ratio(nut_factor_long: Num, stud_load: Num, stud_diameter: Num, stud_torque_worked: Num) -> Num:
    """How the two methods compare: 1 where they agree; blank where nothing is asked of the studs."""
    return np.where(stud_torque_worked > 0, nut_factor_long * stud_diameter * stud_load / stud_torque_worked, np.nan)


@derived(
    title="Torque by the long form",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("long-torque"),
    excel="{torque_forms_ratio}*{stud_torque}",
)
def stud_torque_long(torque_forms_ratio: Num, stud_torque: Num) -> Num:
    """The torque by the second method, to be held beside the first; blank where that is kept back."""
    return stud_torque * torque_forms_ratio


@derived(
    title="Thread left after compression",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("travel"),
    excel='IF(EXACT({gland_has_studs},"yes"),{stud_thread_left}-{compression_travel},"")',
)
def stud_thread_spare(gland_has_studs: Text, stud_thread_left: Num, compression_travel: Num) -> Num:
    """Thread below the nuts when the set is compressed: what later adjustment has."""
    return np.where(gland_has_studs == "yes", stud_thread_left - compression_travel, np.nan)


@fault(
    title="Least stress of the material not known",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("service"),
    about=("packing_material",),
    optional=("least_gland_stress_entered", "material_least_stress", "pressure_factor_entered", "material_pressure_factor"),
    words="The material's row states no least gland stress or no pressure factor: ask its maker and type both on Materials.",
    excel='AND({material_row}>0,OR(AND(IFERROR({least_gland_stress_entered}="",0),NOT(ISNUMBER({material_least_stress}))),'
    'AND(IFERROR({pressure_factor_entered}="",0),NOT(ISNUMBER({material_pressure_factor})))))',
)
def material_stress_missing(
    material_row: Num,
    least_gland_stress_entered: Num,
    material_least_stress: Num,
    pressure_factor_entered: Num,
    material_pressure_factor: Num,
) -> Any:
    """Says that nobody knows how hard this packing must be pressed, and the valve has no figure of its own."""
    no_stress = np.isnan(least_gland_stress_entered) & np.isnan(material_least_stress)
    no_factor = np.isnan(pressure_factor_entered) & np.isnan(material_pressure_factor)
    return (material_row > 0) & (no_stress | no_factor)


@fault(
    title="Greatest stress not stated",
    part=PART,
    gravity=Gravity.NOTE,
    source=cite("material-memory"),
    about=("packing_material",),
    words="The material's row states no greatest gland stress, so the stress is held against none.",
    excel="AND({gland_stress}>0,{most_stress_stated}=0)",
)
def most_stress_missing(gland_stress: Num, most_stress_stated: Num) -> Any:
    """Says that nobody knows how hard this packing may be pressed."""
    return (gland_stress > 0) & (most_stress_stated == 0)


@fault(
    title="Pressure not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque", "flange_bolt_torque"),
    source=cite("gland-stress"),
    about=("line_pressure_entered",),
    optional=("line_pressure_entered",),
    words="Line pressure missing.",
    excel='AND({in_use}=1,IFERROR({line_pressure_entered}="",0))',
)
def pressure_missing(in_use: Num, line_pressure_entered: Num) -> Any:
    """Says that no pressure is typed."""
    return (in_use == 1) & np.isnan(line_pressure_entered)


@fault(
    title="Stud count not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("practice"),
    about=("gland_stud_count_entered",),
    optional=("gland_stud_count_entered",),
    words="Gland stud count missing.",
    excel='AND({in_use}=1,EXACT({gland_kind},"studs"),IFERROR({gland_stud_count_entered}="",0))',
)
def stud_count_missing(in_use: Num, gland_kind: Text, gland_stud_count_entered: Num) -> Any:
    """Says that the number of studs is not typed."""
    return (in_use == 1) & (gland_kind == "studs") & np.isnan(gland_stud_count_entered)


@fault(
    title="Grade not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("grades"),
    about=("gland_stud_grade",),
    optional=("gland_stud_grade",),
    words="Gland stud grade missing.",
    excel='AND({in_use}=1,EXACT({gland_kind},"studs"),IFERROR({gland_stud_grade}="",0))',
)
def grade_missing(in_use: Num, gland_kind: Text, gland_stud_grade: Text) -> Any:
    """Says that no grade is typed."""
    return (in_use == 1) & (gland_kind == "studs") & (gland_stud_grade == "")


@fault(
    title="Grade not known in this size",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("grades"),
    about=("gland_stud_grade", "gland_stud_thread"),
    words="No row of the grades on Tables holds for this grade and thread: choose the grade from the list, or give it a row of its own.",
    excel="{grade_rows}=0",
)
def grade_not_known(grade_rows: Num) -> Any:
    """Says that the table has no strength for this grade in this size."""
    return grade_rows == 0


@fault(
    title="Grade stands twice",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("grades"),
    about=("gland_stud_grade", "gland_stud_thread"),
    words="More than one row of the grades on Tables holds for this grade and thread: keep one of them.",
    excel="{grade_rows}>1",
)
def grade_twice(grade_rows: Num) -> Flag:
    """Says that two rows contradict each other."""
    return grade_rows > 1


@fault(
    title="Grade without limit",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("grades"),
    about=("gland_stud_grade",),
    optional=("stud_tensile", "stud_yield"),
    words="The grade's row on Tables states no tensile strength or no yield: type both.",
    excel="AND({grade_row}>0,COUNT({stud_tensile},{stud_yield})<2)",
)
def grade_no_limit(grade_row: Num, stud_tensile: Num, stud_yield: Num) -> Any:
    """Says that the strength of the grade is not known."""
    return (grade_row > 0) & (np.isnan(stud_tensile) | np.isnan(stud_yield))


@fault(
    title="Lubricant not named",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("nut-factor"),
    about=("stud_lubricant",),
    optional=("stud_lubricant",),
    words="Stud lubricant missing (dry figures overload oiled studs by a quarter).",
    excel='AND({in_use}=1,EXACT({gland_kind},"studs"),IFERROR({stud_lubricant}="",0))',
)
def lubricant_missing(in_use: Num, gland_kind: Text, stud_lubricant: Text) -> Any:
    """Says that nobody knows what is on the threads."""
    return (in_use == 1) & (gland_kind == "studs") & (stud_lubricant == "")


@fault(
    title="Lubricant not known",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("nut-factor"),
    about=("stud_lubricant",),
    optional=("stud_lubricant", "lubricant_row"),
    words="Stud lubricant is none of the listed ones: choose it from the list on Tables, or give it a row of its own.",
    excel='AND(IFERROR({stud_lubricant}<>"",1),NOT(ISNUMBER({lubricant_row})))',
)
def lubricant_not_known(stud_lubricant: Text, lubricant_row: Num) -> Any:
    """Says that the lubricant is not in the table."""
    return (stud_lubricant != "") & np.isnan(lubricant_row)


@fault(
    title="Lubricant without its band",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("nut-factor"),
    about=("stud_lubricant",),
    optional=("nut_factor", "lubricant_scatter"),
    words="The lubricant's row on Tables lacks a nut factor, or its scatter, a share below one: type both.",
    excel='AND(EXACT({gland_kind},"studs"),COUNT({lubricant_row},{nut_factor},{lubricant_scatter})<3)',
)
def lubricant_no_band(gland_kind: Text, lubricant_row: Num, nut_factor: Num, lubricant_scatter: Num) -> Any:
    """Says that nobody knows how friction scatters with this lubricant."""
    unknown = np.isnan(nut_factor) | np.isnan(lubricant_scatter)
    return (gland_kind == "studs") & ~np.isnan(lubricant_row) & unknown


@derived(
    title="Studs are dry",
    unit="1",
    part=PART,
    source=cite("practice"),
    excel="INDEX({lubricants_dry},{lubricant_row})",
)
def lubricant_dry(lubricants_dry: Num, lubricant_row: Num) -> Any:
    """1 where nothing is on the gland studs that could burn, 0 where something is, blank where the lubricant's row does not say."""
    return pick(lubricant_row, lubricants_dry)


judged_by_report(
    "lubricant",
    what="stud lubricant",
    part=PART,
    row="lubricant_row",
    columns=LUBRICANT_REPORTS,
    passed_over=("lubricant_dry", 1),
    about="stud_lubricant",
    sheet="Tables",
    otherwise="leave threads and nuts dry",
)


@fault(
    title="Studs over the limit",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("stud-limit"),
    about=("gland_stud_grade", "gland_stud_count_entered"),
    words="The studs would be loaded beyond a third of their tensile strength: lower-stress packing, or the owner's engineer.",
    excel="ROUND({stud_stress_share}-1,{counting_digits})>0",
)
def studs_over_limit(stud_stress_share: Num, counting_digits: float) -> Flag:
    """Says that the load wanted is beyond the limit of the studs."""
    return above_zero(stud_stress_share - 1, counting_digits)


@fault(
    title="Studs over their yield",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("grades"),
    about=("gland_stud_grade", "gland_stud_count_entered"),
    words="The studs would be loaded beyond their yield: lower-stress packing, or the owner's engineer.",
    excel="ROUND({stud_yield_share}-1,{counting_digits})>0",
)
def studs_over_yield(stud_yield_share: Num, counting_digits: float) -> Flag:
    """Says that the torque could stretch the studs for good."""
    return above_zero(stud_yield_share - 1, counting_digits)


@fault(
    title="Stress over what the packing bears",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("material-memory"),
    about=("line_pressure_entered", "packing_material"),
    words="The gland stress needed is more than the packing material bears: choose another material.",
    excel="ROUND({gland_stress_share}-1,{counting_digits})>0",
)
def stress_over_material(gland_stress_share: Num, counting_digits: float) -> Flag:
    """Says that the packing would be crushed."""
    return above_zero(gland_stress_share - 1, counting_digits)


@fault(
    title="Torque forms apart",
    part=PART,
    source=cite("torque-gap"),
    about=("stud_lubricant", "nut_factor_entered"),
    words="The two forms of the torque are far apart: look at nut factor, lubricant and kind of nut again before a wrench is set.",
    excel="ROUND(ABS({torque_forms_ratio}-1)-{greatest_torque_gap},{counting_digits})>0",
)
def torque_forms_apart(torque_forms_ratio: Num, greatest_torque_gap: float, counting_digits: float) -> Flag:
    """Says that the second method does not bear out the first."""
    return above_zero(np.abs(torque_forms_ratio - 1) - greatest_torque_gap, counting_digits)


@fault(
    title="Springs hold the gland",
    part=PART,
    gravity=Gravity.NOTE,
    source=cite("practice"),
    about=("gland_kind_entered",),
    words="Live-loaded gland, springs store energy: their maker gives compression and torque, so none are given here, nor flats.",
    excel='EXACT({gland_kind},"live-loaded")',
)
def springs_hold_gland(gland_kind: Text) -> Any:
    """Says that flats and torque come from the maker of the springs."""
    return gland_kind == "live-loaded"


@fault(
    title="Packing nut",
    part=PART,
    gravity=Gravity.NOTE,
    source=cite("practice"),
    about=("gland_kind_entered",),
    words="Packing nut: the gland load is shown, and the maker of the valve gives its torque.",
    excel='AND({in_use}=1,EXACT({gland_kind},"packing nut"))',
)
def packing_nut_note(in_use: Num, gland_kind: Text) -> Any:
    """Says that no torque can be given for a packing nut."""
    return (in_use == 1) & (gland_kind == "packing nut")


@fault(
    title="Stud thread runs out",
    part=PART,
    source=cite("travel"),
    about=("stud_thread_left_entered",),
    words="The nuts would run out of thread before the set is compressed: longer studs by the owner's engineer, or another spacer.",
    excel="ROUND({stud_thread_spare},{counting_digits})<0",
)
def stud_thread_short(stud_thread_spare: Num, counting_digits: float) -> Any:
    """Says that the thread below the nuts is shorter than the travel."""
    return above_zero(-stud_thread_spare, counting_digits)
