"""The gland load that the packing needs, and what the studs carry: stress, share of the limit, torque in two forms."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, either, pick, row_ignoring_case
from sheetcalc.calculations.entries import given, given_code
from sheetcalc.declare.blocks import derived, entry, fault
from sheetcalc.declare.quantity import Flag, Num, Text
from sheetcalc.reference.sources import cite

PART = "load"

given_code(
    "gland_kind",
    title="Kind of gland",
    part=PART,
    names="gland_kind_names",
    usual="gland_kind_usual",
    remedy="choose one from the list on Tables.",
    sentence="How the packing is pressed: studs, a packing nut, or springs.",
)
given(
    "gland_stud_count",
    title="Gland stud count",
    symbol="n_b",
    unit="1",
    part=PART,
    whole=True,
    low="1",
    high="largest_count",
    remedy="type a whole number of studs or clear the cell.",
    sentence="How many studs press the gland.",
)
gland_stud_grade = entry(
    "gland_stud_grade",
    title="Gland stud grade",
    text=True,
    part=PART,
    source=cite("reading"),
    sentence="Grade of the gland studs, written as on Tables, such as ASTM A193 B7 or ISO 8.8.",
)
stud_lubricant = entry(
    "stud_lubricant",
    title="Stud lubricant",
    text=True,
    part=PART,
    source=cite("reading"),
    sentence="What is on threads and nut faces, written as on Tables; without it there is no torque.",
)
given(
    "stud_thread_left",
    title="Thread left on the studs",
    symbol="",
    unit="mm",
    part=PART,
    low="0",
    high="largest_length",
    remedy="measure the thread that each nut can still run down, or clear the cell.",
    sentence="Thread below the gland nuts at finger tight, for them to run down.",
)
_OVERRIDE = "type a number in its range on Assumptions or clear the cell."
given(
    "least_gland_stress",
    title="Least gland stress",
    symbol="σ_min",
    unit="MPa",
    part=PART,
    usual="material_least_stress",
    low="smallest_stress",
    high="largest_stress",
    remedy=_OVERRIDE,
    sentence="The axial stress that the packing needs at least, whatever the pressure.",
)
given(
    "pressure_factor",
    title="Pressure factor",
    symbol="m",
    unit="1",
    part=PART,
    usual="material_pressure_factor",
    low="0",
    high="largest_factor",
    remedy=_OVERRIDE,
    sentence="The axial stress is at least this many times the line pressure.",
)
given(
    "most_gland_stress",
    title="Greatest gland stress",
    symbol="σ_max",
    unit="MPa",
    part=PART,
    usual="material_most_stress",
    low="smallest_stress",
    high="largest_stress",
    remedy=_OVERRIDE,
    sentence="The axial stress that the packing bears; blank where none is stated.",
)


@derived(
    title="Annulus area",
    symbol="A",
    unit="mm**2",
    part=PART,
    source=cite("worksheet-load"),
    excel='IF({packing_section}>0,PI()/4*({box_bore}^2-{stem_diameter}^2),"")',
)
def annulus_area(packing_section: Num, box_bore: Num, stem_diameter: Num) -> Num:
    """Area of the ring between stem and box, which the gland presses."""
    return np.where(packing_section > 0, np.pi * (box_bore - stem_diameter) * (box_bore + stem_diameter) / 4, np.nan)


@derived(
    title="Stress for the pressure",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("worksheet-stress"),
    excel="{pressure_factor}*{line_pressure}",
)
def pressure_stress(pressure_factor: Num, line_pressure: Num) -> Num:
    """The axial stress that the line pressure asks for."""
    return pressure_factor * line_pressure


@derived(
    title="Gland stress",
    symbol="σ_g",
    unit="MPa",
    part=PART,
    source=cite("worksheet-stress"),
    excel="MAX({pressure_stress},{least_gland_stress})",
)
def gland_stress(pressure_stress: Num, least_gland_stress: Num) -> Num:
    """The axial stress needed under the follower: the greater of what pressure and packing ask for."""
    return np.maximum(pressure_stress, least_gland_stress)


@derived(
    title="Greatest stress is stated",
    symbol="",
    unit="1",
    part=PART,
    source=cite("reading"),
    optional=("most_gland_stress_fault", "most_gland_stress"),
    excel='IF({most_gland_stress_fault}="",SIGN(MAX(0,{most_gland_stress})),"")',
)
def most_stress_stated(most_gland_stress_fault: Flag, most_gland_stress: Num) -> Num:
    """1 where a greatest stress is stated, 0 where none is, blank where it is typed and not usable."""
    return np.where(most_gland_stress_fault, np.nan, np.where(most_gland_stress > 0, 1.0, 0.0))


@derived(
    title="Greatest stress, in words",
    part=PART,
    source=cite("reading"),
    text=True,
    excel='IF({gland_stress}>0,CHOOSE(1+{most_stress_stated},"no maximum stated","compared with the greatest stress stated"),"")',
)
def most_stress_words(gland_stress: Num, most_stress_stated: Num) -> Text:
    """Whether the packing's greatest stress is known."""
    words = either(most_stress_stated > 0, "compared with the greatest stress stated", "no maximum stated")
    return either(gland_stress > 0, words, "")


@derived(
    title="Gland load",
    symbol="F",
    unit="N",
    part=PART,
    source=cite("worksheet-load"),
    excel="{gland_stress}*{annulus_area}",
)
def gland_load(gland_stress: Num, annulus_area: Num) -> Num:
    """The force on the follower."""
    return gland_stress * annulus_area


@derived(
    title="Load of a stud",
    symbol="F_b",
    unit="N",
    part=PART,
    source=cite("worksheet-load"),
    excel='IF(EXACT({gland_kind},"packing nut"),"",{gland_load}/{gland_stud_count})',
)
def stud_load(gland_kind: Text, gland_load: Num, gland_stud_count: Num) -> Num:
    """The share of the gland load that each stud carries."""
    return np.where(gland_kind == "packing nut", np.nan, gland_load / gland_stud_count)


@derived(
    title="Stud diameter",
    symbol="d_b",
    unit="mm",
    part=PART,
    source=cite("threads"),
    excel="INDEX({thread_diameters},{thread_row})",
)
def stud_diameter(thread_diameters: Num, thread_row: Num) -> Any:
    """Outside diameter of the stud's thread."""
    return pick(thread_row, thread_diameters)


@derived(
    title="Depth of the tensile area",
    unit="mm",
    part=PART,
    source=cite("stress-area"),
    excel="IF({stud_threads_per_inch}>0,{inch_area_share},{metric_area_share})*{stud_pitch}",
)
def stud_area_depth(stud_threads_per_inch: Num, inch_area_share: float, metric_area_share: float, stud_pitch: Num) -> Num:
    """How much less than the stud's diameter that of its tensile area is."""
    return stud_pitch * np.where(stud_threads_per_inch > 0, inch_area_share, metric_area_share)


@derived(
    title="Tensile area of a stud",
    symbol="A_s",
    unit="mm**2",
    part=PART,
    source=cite("stress-area"),
    excel="PI()/4*({stud_diameter}-{stud_area_depth})^2",
)
def stud_area(stud_diameter: Num, stud_area_depth: Num) -> Num:
    """The area on which the stress in a thread is reckoned."""
    return np.pi * ((stud_diameter - stud_area_depth) / 2) ** 2


@derived(
    title="Stud stress",
    symbol="σ_b",
    unit="MPa",
    part=PART,
    source=cite("stress-area"),
    excel="{stud_load}/{stud_area}",
)
def stud_stress(stud_load: Num, stud_area: Num) -> Num:
    """The stress in a stud at the load wanted."""
    return stud_load / stud_area


def _grade_matches(names: Any, grade: Any, over: Any, diameter: Any, to: Any) -> Any:
    """Which rows (columns of the result) hold for each valve: the grade by name whatever its case, the diameter in between."""
    wanted = np.asarray(row_ignoring_case(grade, names))[:, None]
    key = np.asarray(row_ignoring_case(np.array(names, dtype=object), names))[None, :]
    size = np.asarray(diameter)[:, None]
    return (wanted == key) & (over[None, :] < size) & (size <= to[None, :])


#: For the bolts of a flange, which look their grade up in the same way.
grade_matches = _grade_matches


@derived(
    title="Rows of the grade",
    unit="1",
    part=PART,
    source=cite("reading"),
    optional=("gland_stud_grade",),
    excel='IF(IFERROR({gland_stud_grade}="",0),"",'
    "IFERROR(SUMPRODUCT(({grade_names}={gland_stud_grade})*({grade_over}<{stud_diameter})*({grade_to}>={stud_diameter})),0))",
    empirical="a table search in mm",
)
def grade_rows(grade_names: list[str], gland_stud_grade: Text, grade_over: Num, stud_diameter: Num, grade_to: Num) -> Any:
    """How many rows of the grades hold for this grade and diameter: one is wanted, and an error value pasted in has none."""
    found = _grade_matches(grade_names, gland_stud_grade, grade_over, stud_diameter, grade_to).sum(axis=1)
    return np.where(gland_stud_grade == "", np.nan, found)


@derived(
    title="Row of the grade",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel="IF({grade_rows}=1,SUMPRODUCT(({grade_names}={gland_stud_grade})*({grade_over}<{stud_diameter})*"
    '({grade_to}>={stud_diameter})*{grade_numbers}),"")',
    empirical="a table search in mm",
)
def grade_row(
    grade_rows: Num,
    grade_names: list[str],
    gland_stud_grade: Text,
    grade_over: Num,
    stud_diameter: Num,
    grade_to: Num,
    grade_numbers: Num,
) -> Any:
    """The one row of the grades that holds for this grade and diameter; blank where none or several do."""
    found = _grade_matches(grade_names, gland_stud_grade, grade_over, stud_diameter, grade_to)
    return np.where(grade_rows == 1, (found * grade_numbers).sum(axis=1), np.nan)


@derived(
    title="Tensile strength of the studs",
    symbol="R_m",
    unit="MPa",
    part=PART,
    source=cite("grades"),
    excel="INDEX({grade_tensiles},{grade_row})",
)
def stud_tensile(grade_tensiles: Num, grade_row: Num) -> Any:
    """Least tensile strength of the studs' grade in their size."""
    return pick(grade_row, grade_tensiles)


@derived(
    title="Yield of the studs",
    symbol="R_e",
    unit="MPa",
    part=PART,
    source=cite("grades"),
    excel="INDEX({grade_yields},{grade_row})",
)
def stud_yield(grade_yields: Num, grade_row: Num) -> Any:
    """Least yield of the studs' grade in their size."""
    return pick(grade_row, grade_yields)


@derived(
    title="Stud stress limit",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("stud-limit"),
    excel="{stud_tensile_share}*{stud_tensile}",
)
def stud_stress_limit(stud_tensile_share: float, stud_tensile: Num) -> Num:
    """What a gland stud may bear: a third of its least tensile strength."""
    return stud_tensile_share * stud_tensile


@derived(
    title="Stud stress, share of the limit",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stud-limit"),
    excel="{stud_stress}/{stud_stress_limit}",
)
def stud_stress_share(stud_stress: Num, stud_stress_limit: Num) -> Num:
    """The stress at the load wanted as a share of the limit."""
    return stud_stress / stud_stress_limit


@derived(
    title="Row of the lubricant",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel="IFERROR(IF(INDEX({lubricant_names},MATCH({stud_lubricant},{lubricant_names},0))={stud_lubricant},"
    'MATCH({stud_lubricant},{lubricant_names},0),""),"")',
)
def lubricant_row(lubricant_names: list[str], stud_lubricant: Text) -> Num:
    """The row of the lubricant on Tables, your own before an issued one of the same name."""
    return row_ignoring_case(stud_lubricant, lubricant_names)


@derived(
    title="Nut factor of the lubricant",
    unit="1",
    part=PART,
    source=cite("nut-factor"),
    excel="INDEX({lubricant_factors},{lubricant_row})",
)
def lubricant_factor(lubricant_factors: Num, lubricant_row: Num) -> Any:
    """The usual nut factor with the lubricant named."""
    return pick(lubricant_row, lubricant_factors)


given(
    "nut_factor",
    title="Nut factor",
    symbol="K",
    unit="1",
    part=PART,
    usual="lubricant_factor",
    low="smallest_nut_factor",
    high="1",
    remedy=_OVERRIDE,
    sentence="Torque over load and diameter: what friction makes of the torque.",
)


@derived(
    title="Nut factor, low",
    symbol="K_low",
    unit="1",
    part=PART,
    source=cite("nut-factor"),
    excel='IF(ISNUMBER(INDEX({lubricant_factors_low},{lubricant_row})),MIN({nut_factor},INDEX({lubricant_factors_low},{lubricant_row})),"")',
)
def nut_factor_low(nut_factor: Num, lubricant_factors_low: Num, lubricant_row: Num) -> Any:
    """The lowest nut factor of the lubricant's band: with it the same torque loads the stud most."""
    return np.minimum(nut_factor, pick(lubricant_row, lubricant_factors_low))


@derived(
    title="Nut factor, high",
    symbol="K_high",
    unit="1",
    part=PART,
    source=cite("nut-factor"),
    excel='IF(ISNUMBER(INDEX({lubricant_factors_high},{lubricant_row})),MAX({nut_factor},INDEX({lubricant_factors_high},{lubricant_row})),"")',
)
def nut_factor_high(nut_factor: Num, lubricant_factors_high: Num, lubricant_row: Num) -> Any:
    """The highest nut factor of the lubricant's band: with it the same torque loads the stud least."""
    return np.maximum(nut_factor, pick(lubricant_row, lubricant_factors_high))


@derived(
    title="Torque worked out",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("short-torque"),
    optional=("nut_factor_low", "nut_factor_high"),
    excel='IF(AND(EXACT({gland_kind},"studs"),COUNT({nut_factor_low},{nut_factor_high})=2),{nut_factor}*{stud_load}*{stud_diameter},"")',
)
def stud_torque_worked(
    gland_kind: Text, nut_factor_low: Num, nut_factor_high: Num, nut_factor: Num, stud_load: Num, stud_diameter: Num
) -> Num:
    """The torque of a nut for the load wanted, before any limit; none without the band, for springs and packing nuts."""
    known = (gland_kind == "studs") & ~np.isnan(nut_factor_low) & ~np.isnan(nut_factor_high)
    return np.where(known, nut_factor * stud_load * stud_diameter, np.nan)


@derived(
    title="Least load of a stud at that torque",
    symbol="",
    unit="N",
    part=PART,
    source=cite("nut-factor"),
    excel="{stud_torque_worked}/({nut_factor_high}*{stud_diameter})",
)
def stud_load_low(stud_torque_worked: Num, nut_factor_high: Num, stud_diameter: Num) -> Num:
    """What a stud carries where friction is at the high end of its band."""
    return stud_torque_worked / (nut_factor_high * stud_diameter)


@derived(
    title="Greatest load of a stud at that torque",
    symbol="",
    unit="N",
    part=PART,
    source=cite("nut-factor"),
    excel="{stud_torque_worked}/({nut_factor_low}*{stud_diameter})",
)
def stud_load_high(stud_torque_worked: Num, nut_factor_low: Num, stud_diameter: Num) -> Num:
    """What a stud carries where friction is at the low end of its band."""
    return stud_torque_worked / (nut_factor_low * stud_diameter)


@derived(
    title="Stud stress at worst",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("stud-limit"),
    excel="{stud_load_high}/{stud_area}",
)
def stud_stress_worst(stud_load_high: Num, stud_area: Num) -> Num:
    """The stress that the torque makes where friction is at the low end of its band."""
    return stud_load_high / stud_area


@derived(
    title="Stress at worst, share of the limit",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stud-limit"),
    excel="{stud_stress_worst}/{stud_stress_limit}",
)
def stud_worst_share(stud_stress_worst: Num, stud_stress_limit: Num) -> Num:
    """The stress at worst as a share of a third of the tensile strength."""
    return stud_stress_worst / stud_stress_limit


@derived(
    title="Stress at worst, share of the yield",
    symbol="",
    unit="1",
    part=PART,
    source=cite("grades"),
    excel="{stud_stress_worst}/{stud_yield}",
)
def stud_yield_share(stud_stress_worst: Num, stud_yield: Num) -> Num:
    """The stress at worst as a share of the yield."""
    return stud_stress_worst / stud_yield


@derived(
    title="Share that decides",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stud-limit"),
    excel="MAX({stud_worst_share},{stud_yield_share})",
)
def stud_governing_share(stud_worst_share: Num, stud_yield_share: Num) -> Num:
    """The greater of the two shares: above 1 no torque is given."""
    return np.maximum(stud_worst_share, stud_yield_share)


@derived(
    title="Gland stress, share of the greatest",
    symbol="",
    unit="1",
    part=PART,
    source=cite("material-memory"),
    excel='IF({most_gland_stress}>0,{gland_stress}/{most_gland_stress},"")',
)
def gland_stress_share(most_gland_stress: Num, gland_stress: Num) -> Num:
    """The gland stress as a share of what the packing bears; blank where no maximum is stated."""
    return np.where(most_gland_stress > 0, gland_stress / most_gland_stress, np.nan)


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
