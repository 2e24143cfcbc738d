"""The torque of the gland nuts in two forms, the thread that is left, and what is missing or wrong with load, studs and torque."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick
from sheetcalc.calculations.valve.load import PART
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Num, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Load is refused",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stud-limit"),
    optional=("lubricant_burns", "gland_stress_share"),
    excel="SIGN({most_stress_stated}*(ROUND(MAX(0,{gland_stress_share})-1,{counting_digits})>0)+"
    "(ROUND({stud_governing_share}-1,{counting_digits})>0)+LEN({lubricant_burns}))",
)
def load_refused(
    most_stress_stated: Num, gland_stress_share: Num, counting_digits: float, stud_governing_share: Num, lubricant_burns: Flag
) -> Num:
    """1 where studs or packing would be loaded beyond their limits or the lubricant may burn, else 0; blank where a limit is not usable."""
    crushed = (most_stress_stated > 0) & above_zero(gland_stress_share - 1, counting_digits)
    return np.where(crushed | above_zero(stud_governing_share - 1, counting_digits) | lubricant_burns, 1.0, 0.0)


@derived(
    title="Torque of a nut",
    symbol="M",
    unit="N*mm",
    part=PART,
    source=cite("short-torque"),
    excel='IF({load_refused}=0,{stud_torque_worked},"")',
)
def stud_torque(load_refused: Num, stud_torque_worked: Num) -> Num:
    """The torque to be set on the wrench; blank where a limit would be passed."""
    return np.where(load_refused == 0, stud_torque_worked, np.nan)


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
    title="Torque by the long form",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("long-torque"),
    excel='IF({load_refused}=0,{nut_factor_long}*{stud_load}*{stud_diameter},"")',
)
def stud_torque_long(load_refused: Num, nut_factor_long: Num, stud_load: Num, stud_diameter: Num) -> Num:
    """The torque by the second method, to be held beside the first; blank where a limit would be passed."""
    return np.where(load_refused == 0, nut_factor_long * stud_diameter * stud_load, np.nan)


@derived(
    title="Long form over short form",
    symbol="",
    unit="1",
    part=PART,
    source=cite("torque-gap"),
    excel='IF({load_refused}=0,{nut_factor_long}/{nut_factor},"")',
)
def torque_forms_ratio(load_refused: Num, nut_factor_long: Num, nut_factor: Num) -> Num:
    """How the two methods compare: 1 where they agree."""
    return np.where(load_refused == 0, nut_factor_long / nut_factor, np.nan)


@derived(
    title="Thread left after compression",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("travel"),
    excel="{stud_thread_left}-{compression_travel}",
)
def stud_thread_spare(stud_thread_left: Num, compression_travel: Num) -> Num:
    """Thread below the nuts when the set is compressed: what later adjustment has."""
    return stud_thread_left - compression_travel


@fault(
    title="Pressure not given",
    part=PART,
    source=cite("worksheet-stress"),
    about=("line_pressure_entered",),
    optional=("load_wanted", "line_pressure_entered"),
    words="Line pressure is missing: without it the gland load stays blank.",
    excel='AND(ISNUMBER({load_wanted}),IFERROR({line_pressure_entered}="",0))',
)
def pressure_missing(load_wanted: Num, line_pressure_entered: Num) -> Any:
    """Says that no pressure is typed though a load is asked for."""
    return ~np.isnan(load_wanted) & np.isnan(line_pressure_entered)


@fault(
    title="Stud count not given",
    part=PART,
    source=cite("practice"),
    about=("gland_stud_count_entered",),
    optional=("load_wanted", "gland_stud_count_entered"),
    words="Gland stud count is missing: without it the load of a stud and its torque stay blank.",
    excel='AND(ISNUMBER({load_wanted}),NOT(EXACT({gland_kind},"packing nut")),IFERROR({gland_stud_count_entered}="",0))',
)
def stud_count_missing(load_wanted: Num, gland_kind: Text, gland_stud_count_entered: Num) -> Any:
    """Says that the number of studs is not typed though a load is asked for."""
    return ~np.isnan(load_wanted) & (gland_kind != "packing nut") & np.isnan(gland_stud_count_entered)


@fault(
    title="Grade not given",
    part=PART,
    source=cite("grades"),
    about=("gland_stud_grade",),
    optional=("load_wanted", "gland_stud_grade"),
    words="Gland stud grade is missing: without it the studs cannot be held against a limit, and no torque is given.",
    excel='AND(ISNUMBER({load_wanted}),EXACT({gland_kind},"studs"),IFERROR({gland_stud_grade}="",0))',
)
def grade_missing(load_wanted: Num, gland_kind: Text, gland_stud_grade: Text) -> Any:
    """Says that no grade is typed though a torque is asked for."""
    return ~np.isnan(load_wanted) & (gland_kind == "studs") & (gland_stud_grade == "")


@fault(
    title="Grade not known in this size",
    part=PART,
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
    source=cite("grades"),
    about=("gland_stud_grade",),
    optional=("stud_tensile", "stud_yield"),
    words="The grade's row states no tensile strength or no yield: type both on Tables; until then no torque is given.",
    excel="AND({grade_row}>0,COUNT({stud_tensile},{stud_yield})<2)",
)
def grade_no_limit(grade_row: Num, stud_tensile: Num, stud_yield: Num) -> Any:
    """Says that the strength of the grade is not known."""
    return (grade_row > 0) & (np.isnan(stud_tensile) | np.isnan(stud_yield))


@fault(
    title="Lubricant not named",
    part=PART,
    source=cite("nut-factor"),
    about=("stud_lubricant",),
    optional=("load_wanted", "stud_lubricant"),
    words="Stud lubricant is not named: no torque is given, since the dry figure overloads an oiled stud by a quarter.",
    excel='AND(ISNUMBER({load_wanted}),EXACT({gland_kind},"studs"),IFERROR({stud_lubricant}="",0))',
)
def lubricant_missing(load_wanted: Num, gland_kind: Text, stud_lubricant: Text) -> Any:
    """Says that nobody knows what is on the threads."""
    return ~np.isnan(load_wanted) & (gland_kind == "studs") & (stud_lubricant == "")


@fault(
    title="Lubricant not known",
    part=PART,
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
    source=cite("nut-factor"),
    about=("stud_lubricant",),
    optional=("nut_factor_low", "nut_factor_high"),
    words="The lubricant's row lacks a nut factor, or its low or high end: type all three on Tables; until then no torque is given.",
    excel="COUNT({lubricant_row},{nut_factor_low},{nut_factor_high})<3",
)
def lubricant_no_band(lubricant_row: Num, nut_factor_low: Num, nut_factor_high: Num) -> Any:
    """Says that nobody knows how friction scatters with this lubricant."""
    return ~np.isnan(lubricant_row) & (np.isnan(nut_factor_low) | np.isnan(nut_factor_high))


@fault(
    title="Lubricant not for oxygen",
    part=PART,
    source=cite("service"),
    about=("stud_lubricant", "fluid_kind_entered"),
    words="This lubricant may burn in oxygen, so no torque is given: no oil or grease there, on nuts neither. Name one made for it.",
    excel='AND(EXACT({fluid_kind},"oxygen"),INDEX({lubricants_for_oxygen},{lubricant_row})=0)',
)
def lubricant_burns(fluid_kind: Text, lubricants_for_oxygen: Num, lubricant_row: Num) -> Any:
    """Says that oil or grease would come near oxygen."""
    return (fluid_kind == "oxygen") & (pick(lubricant_row, lubricants_for_oxygen) == 0)


@fault(
    title="Studs over the limit",
    part=PART,
    source=cite("stud-limit"),
    about=("gland_stud_grade", "gland_stud_count_entered"),
    words="The studs would be loaded beyond a third of their tensile strength, so no torque is given: lower-stress packing, or the "
    "owner's engineer.",
    excel="ROUND({stud_worst_share}-1,{counting_digits})>0",
)
def studs_over_limit(stud_worst_share: Num, counting_digits: float) -> Flag:
    """Says that the torque could load the studs beyond the limit."""
    return above_zero(stud_worst_share - 1, counting_digits)


@fault(
    title="Studs over their yield",
    part=PART,
    source=cite("grades"),
    about=("gland_stud_grade", "gland_stud_count_entered"),
    words="The studs would be loaded beyond their yield, so no torque is given: lower-stress packing, or the owner's engineer.",
    excel="ROUND({stud_yield_share}-1,{counting_digits})>0",
)
def studs_over_yield(stud_yield_share: Num, counting_digits: float) -> Flag:
    """Says that the torque could stretch the studs for good."""
    return above_zero(stud_yield_share - 1, counting_digits)


@fault(
    title="Stress over what the packing bears",
    part=PART,
    source=cite("material-memory"),
    about=("line_pressure_entered", "packing_material"),
    words="The gland stress needed is more than the packing material bears, so no torque is given: choose another material.",
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
    source=cite("practice"),
    about=("gland_kind_entered",),
    words="A live-loaded gland: springs store energy. Their maker gives compression and torque; none is given here, nor flats.",
    excel='EXACT({gland_kind},"live-loaded")',
)
def springs_hold_gland(gland_kind: Text) -> Any:
    """Says that flats and torque come from the maker of the springs."""
    return gland_kind == "live-loaded"


@fault(
    title="Packing nut",
    part=PART,
    source=cite("practice"),
    about=("gland_kind_entered",),
    optional=("load_wanted",),
    words="A packing nut has no studs: the gland load is shown, and the maker of the valve gives its torque.",
    excel='AND(ISNUMBER({load_wanted}),EXACT({gland_kind},"packing nut"))',
)
def packing_nut_note(load_wanted: Num, gland_kind: Text) -> Any:
    """Says that no torque can be given for a packing nut."""
    return ~np.isnan(load_wanted) & (gland_kind == "packing nut")


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
