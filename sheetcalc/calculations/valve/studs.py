"""What the gland studs carry: stress, grade, lubricant and how friction scatters, and the share of the limits at worst."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import a_share, pick, row_ignoring_case
from sheetcalc.calculations.given import OVERRIDE, given
from sheetcalc.calculations.hot_bolting import declare_hot_bolting
from sheetcalc.calculations.valve.load import PART
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Gravity, Num, Text
from sheetcalc.reference.sources import cite


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


def grade_matches(names: Any, grade: Any, over: Any, diameter: Any, to: Any) -> Any:
    """Which rows (columns of the result) hold for each valve: the grade by name whatever its case, the diameter in between."""
    wanted = np.asarray(row_ignoring_case(grade, names))[:, None]
    key = np.asarray(row_ignoring_case(np.array(names, dtype=object), names))[None, :]
    size = np.asarray(diameter)[:, None]
    return (wanted == key) & (over[None, :] < size) & (size <= to[None, :])


@derived(
    title="Rows of the grade",
    unit="1",
    part=PART,
    source=cite("reading"),
    optional=("gland_stud_grade",),
    excel='IF(OR(EXACT({gland_has_studs},"no"),IFERROR({gland_stud_grade}="",0)),"",'
    "IFERROR(SUMPRODUCT(({grade_names}={gland_stud_grade})*({grade_over}<{stud_diameter})*({grade_to}>={stud_diameter})),0))",
    empirical="a table search in mm",
)
def grade_rows(
    gland_has_studs: Text, gland_stud_grade: Text, grade_names: list[str], grade_over: Num, stud_diameter: Num, grade_to: Num
) -> Any:
    """How many rows of the grades hold for this grade and diameter: one is wanted, and an error value pasted in has none."""
    found = grade_matches(grade_names, gland_stud_grade, grade_over, stud_diameter, grade_to).sum(axis=1)
    return np.where((gland_has_studs == "no") | (gland_stud_grade == ""), np.nan, found)


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
    found = grade_matches(grade_names, gland_stud_grade, grade_over, stud_diameter, grade_to)
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


declare_hot_bolting(
    "stud",
    "Gland studs",
    part=PART,
    row="grade_row",
    grade="gland_stud_grade",
    outside=Gravity.LOOK,
    words=(
        "The fluid is hotter or colder than gland studs of this grade may be: they run cooler than the fluid, so measure them in "
        "service, or ask the owner's engineer for a grade made for it.",
        "So hot, gland studs of this grade weaken or relax with time: read the gap again when hot and after some days, and tighten anew "
        "by the site's procedure.",
        "Tables do not state how hot or how cold gland studs of this grade may be: ask their maker, or give the grade a row of its own.",
    ),
)


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
    remedy=OVERRIDE,
    noted=True,
    sentence="Torque over load and diameter: what friction makes of the torque.",
)


@derived(
    title="Scatter of the load with the lubricant",
    symbol="e",
    unit="1",
    part=PART,
    source=cite("torque-scatter"),
    excel="IF(AND(INDEX({lubricant_scatters},{lubricant_row})>=0,INDEX({lubricant_scatters},{lubricant_row})<1),"
    'INDEX({lubricant_scatters},{lubricant_row}),"")',
)
def lubricant_scatter(lubricant_scatters: Num, lubricant_row: Num) -> Any:
    """By what share the load scatters at one torque; blank where the row states none, or none that can be."""
    return a_share(pick(lubricant_row, lubricant_scatters))


@derived(
    title="Nut factor, low",
    symbol="K_low",
    unit="1",
    part=PART,
    source=cite("torque-scatter"),
    excel="{nut_factor}/(1+{lubricant_scatter})",
)
def nut_factor_low(nut_factor: Num, lubricant_scatter: Num) -> Num:
    """The nut factor where friction is least: with it the same torque loads the stud most."""
    return nut_factor / (1 + lubricant_scatter)


@derived(
    title="Nut factor, high",
    symbol="K_high",
    unit="1",
    part=PART,
    source=cite("torque-scatter"),
    excel="{nut_factor}/(1-{lubricant_scatter})",
)
def nut_factor_high(nut_factor: Num, lubricant_scatter: Num) -> Num:
    """The nut factor where friction is greatest: with it the same torque loads the stud least."""
    return nut_factor / (1 - lubricant_scatter)


@derived(
    title="Torque worked out",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("short-torque"),
    optional=("lubricant_scatter",),
    excel='IF(AND(EXACT({gland_kind},"studs"),ISNUMBER({lubricant_scatter})),{nut_factor}*{stud_load}*{stud_diameter},"")',
)
def stud_torque_worked(gland_kind: Text, lubricant_scatter: Num, nut_factor: Num, stud_load: Num, stud_diameter: Num) -> Num:
    """The torque of a nut for the load wanted, before any limit; none without its scatter, for springs and packing nuts."""
    known = (gland_kind == "studs") & ~np.isnan(lubricant_scatter)
    return np.where(known, nut_factor * stud_load * stud_diameter, np.nan)


@derived(
    title="Least load of a stud at that torque",
    symbol="",
    unit="N",
    part=PART,
    source=cite("torque-scatter"),
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
    source=cite("torque-scatter"),
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
    excel="MAX({stud_stress_share},{stud_yield_share})",
)
def stud_governing_share(stud_stress_share: Num, stud_yield_share: Num) -> Num:
    """The greater of the two shares: above 1 no torque is given."""
    return np.maximum(stud_stress_share, stud_yield_share)


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
