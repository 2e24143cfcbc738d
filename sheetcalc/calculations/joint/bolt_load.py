"""What flange bolts carry: grade, lubricant and how friction scatters, the load of the joint, and the stress at worst."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import a_share, pick, row_ignoring_case
from sheetcalc.calculations.given import OVERRIDE, given
from sheetcalc.calculations.joint.flange import PART, READING
from sheetcalc.calculations.valve.studs import grade_matches
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite

DESIGN, TARGET = cite("flange-design"), cite("flange-target")


def _above_nought(figures: Any) -> Any:
    """The figures above 0, blank in the place of others: nothing may be divided by a nought that a person typed on Tables."""
    return np.where(figures > 0, figures, np.nan)


@derived(
    title="Rows of the flange bolt grade",
    unit="1",
    part=PART,
    source=READING,
    optional=("flange_bolt_grade",),
    excel='IF(IFERROR({flange_bolt_grade}="",0),"",IFERROR(SUMPRODUCT(({grade_names}={flange_bolt_grade})*'
    "({grade_over}<{flange_bolt_diameter})*({grade_to}>={flange_bolt_diameter})),0))",
    empirical="a table search in mm",
)
def flange_grade_rows(grade_names: list[str], flange_bolt_grade: Text, grade_over: Num, flange_bolt_diameter: Num, grade_to: Num) -> Any:
    """How many rows of the grades hold for the flange bolts' grade and diameter: one is wanted."""
    found = grade_matches(grade_names, flange_bolt_grade, grade_over, flange_bolt_diameter, grade_to).sum(axis=1)
    return np.where(flange_bolt_grade == "", np.nan, found)


@derived(
    title="Row of the flange bolt grade",
    unit="1",
    part=PART,
    source=READING,
    excel="IF({flange_grade_rows}=1,SUMPRODUCT(({grade_names}={flange_bolt_grade})*({grade_over}<{flange_bolt_diameter})*"
    '({grade_to}>={flange_bolt_diameter})*{grade_numbers}),"")',
    empirical="a table search in mm",
)
def flange_grade_row(
    flange_grade_rows: Num,
    grade_names: list[str],
    flange_bolt_grade: Text,
    grade_over: Num,
    flange_bolt_diameter: Num,
    grade_to: Num,
    grade_numbers: Num,
) -> Any:
    """The one row of the grades that holds for the flange bolts; blank where none or several do."""
    found = grade_matches(grade_names, flange_bolt_grade, grade_over, flange_bolt_diameter, grade_to)
    return np.where(flange_grade_rows == 1, (found * grade_numbers).sum(axis=1), np.nan)


@derived(
    title="Yield of the flange bolts",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("grades"),
    excel="IF(AND(ISNUMBER(INDEX({grade_yields},{flange_grade_row})),INDEX({grade_yields},{flange_grade_row})>0),"
    'INDEX({grade_yields},{flange_grade_row}),"")',
)
def flange_bolt_yield(grade_yields: Num, flange_grade_row: Num) -> Any:
    """Least yield of the flange bolts' grade in their size; blank where its row states none, or nought."""
    return _above_nought(pick(flange_grade_row, grade_yields))


@derived(
    title="Flange bolt stress, usual",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("flange-stress"),
    optional=("flange_target_gasket",),
    excel="MIN({flange_stress_most},{flange_yield_share_usual}*{flange_bolt_yield},{flange_target_gasket})",
)
def flange_bolt_stress_usual(
    flange_stress_most: float, flange_yield_share_usual: float, flange_bolt_yield: Num, flange_target_gasket: Num
) -> Num:
    """The stress wanted in flange bolts where a valve names none: half their yield, and no more than is usual nor than the gasket bears."""
    return np.fmin(np.minimum(flange_bolt_yield * flange_yield_share_usual, flange_stress_most), flange_target_gasket)


given(
    "flange_bolt_stress",
    title="Flange bolt stress",
    symbol="",
    unit="MPa",
    part=PART,
    usual="flange_bolt_stress_usual",
    low="smallest_bolt_stress",
    high="largest_bolt_stress",
    remedy=OVERRIDE,
    noted=True,
    where="comes_out",
    sentence="The stress wanted in each flange bolt.",
)


@derived(
    title="Row of the flange bolt lubricant",
    unit="1",
    part=PART,
    source=READING,
    excel="IFERROR(IF(INDEX({lubricant_names},MATCH({flange_lubricant},{lubricant_names},0))={flange_lubricant},"
    'MATCH({flange_lubricant},{lubricant_names},0),""),"")',
)
def flange_lubricant_row(lubricant_names: list[str], flange_lubricant: Text) -> Num:
    """The row of the flange bolts' lubricant on Tables, your own before an issued one of the same name."""
    return row_ignoring_case(flange_lubricant, lubricant_names)


@derived(
    title="Nut factor of the flange bolt lubricant",
    unit="1",
    part=PART,
    source=cite("nut-factor"),
    excel="IF(AND(ISNUMBER(INDEX({lubricant_factors},{flange_lubricant_row})),INDEX({lubricant_factors},{flange_lubricant_row})>0),"
    'INDEX({lubricant_factors},{flange_lubricant_row}),"")',
)
def flange_lubricant_factor(lubricant_factors: Num, flange_lubricant_row: Num) -> Any:
    """The usual nut factor with the lubricant of the flange bolts; blank where its row states none, or nought."""
    return _above_nought(pick(flange_lubricant_row, lubricant_factors))


given(
    "flange_nut_factor",
    title="Flange bolt nut factor",
    symbol="",
    unit="1",
    part=PART,
    usual="flange_lubricant_factor",
    low="smallest_nut_factor",
    high="1",
    remedy=OVERRIDE,
    noted=True,
    where="comes_out",
    sentence="Torque over load and diameter of a flange bolt: what friction makes of the torque.",
)


@derived(
    title="Scatter of the load with the lubricant of the flange bolts",
    symbol="",
    unit="1",
    part=PART,
    source=cite("torque-scatter"),
    excel="IF(AND(INDEX({lubricant_scatters},{flange_lubricant_row})>=0,INDEX({lubricant_scatters},{flange_lubricant_row})<1),"
    'INDEX({lubricant_scatters},{flange_lubricant_row}),"")',
)
def flange_lubricant_scatter(lubricant_scatters: Num, flange_lubricant_row: Num) -> Any:
    """By what share the load scatters at one torque; blank where the row states none, or none that can be."""
    return a_share(pick(flange_lubricant_row, lubricant_scatters))


@derived(
    title="Flange bolt nut factor, low",
    unit="1",
    part=PART,
    source=cite("torque-scatter"),
    excel="{flange_nut_factor}/(1+{flange_lubricant_scatter})",
)
def flange_nut_factor_low(flange_nut_factor: Num, flange_lubricant_scatter: Num) -> Num:
    """The nut factor where friction is least: with it the same torque loads a flange bolt most."""
    return flange_nut_factor / (1 + flange_lubricant_scatter)


@derived(
    title="Flange bolt nut factor, high",
    unit="1",
    part=PART,
    source=cite("torque-scatter"),
    excel="{flange_nut_factor}/(1-{flange_lubricant_scatter})",
)
def flange_nut_factor_high(flange_nut_factor: Num, flange_lubricant_scatter: Num) -> Num:
    """The nut factor where friction is greatest: with it the same torque loads a flange bolt least."""
    return flange_nut_factor / (1 - flange_lubricant_scatter)


@derived(
    title="Load of a flange bolt",
    symbol="",
    unit="N",
    part=PART,
    source=cite("stress-area"),
    excel="{flange_bolt_stress}*{flange_bolt_area}",
)
def flange_bolt_load(flange_bolt_stress: Num, flange_bolt_area: Num) -> Num:
    """The force in one flange bolt at the stress wanted."""
    return flange_bolt_area * flange_bolt_stress


@derived(
    title="Load of a flange joint",
    symbol="",
    unit="N",
    part=PART,
    source=cite("arithmetic"),
    excel="{flange_bolt_count}*{flange_bolt_load}",
)
def flange_load(flange_bolt_count: Num, flange_bolt_load: Num) -> Num:
    """The force of all bolts of one flange joint."""
    return flange_bolt_load * flange_bolt_count


@derived(
    title="Least load of a flange bolt at that torque",
    symbol="",
    unit="N",
    part=PART,
    source=cite("nut-factor"),
    excel="{flange_bolt_load}*{flange_nut_factor}/{flange_nut_factor_high}",
)
def flange_bolt_load_low(flange_bolt_load: Num, flange_nut_factor: Num, flange_nut_factor_high: Num) -> Num:
    """What a flange bolt carries where friction is at the high end of its band."""
    return flange_nut_factor / flange_nut_factor_high * flange_bolt_load


@derived(
    title="Greatest load of a flange bolt at that torque",
    symbol="",
    unit="N",
    part=PART,
    source=cite("nut-factor"),
    excel="{flange_bolt_load}*{flange_nut_factor}/{flange_nut_factor_low}",
)
def flange_bolt_load_high(flange_bolt_load: Num, flange_nut_factor: Num, flange_nut_factor_low: Num) -> Num:
    """What a flange bolt carries where friction is at the low end of its band."""
    return flange_nut_factor / flange_nut_factor_low * flange_bolt_load


@derived(
    title="Flange bolt stress at worst",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("nut-factor"),
    excel="{flange_bolt_stress}*{flange_nut_factor}/{flange_nut_factor_low}",
)
def flange_bolt_stress_worst(flange_bolt_stress: Num, flange_nut_factor: Num, flange_nut_factor_low: Num) -> Num:
    """The stress that the torque makes where friction is at the low end of its band."""
    return flange_nut_factor / flange_nut_factor_low * flange_bolt_stress


@derived(
    title="Flange bolt stress at worst, share of the yield",
    symbol="",
    unit="1",
    part=PART,
    source=cite("grades"),
    excel="{flange_bolt_stress_worst}/{flange_bolt_yield}",
)
def flange_yield_share(flange_bolt_stress_worst: Num, flange_bolt_yield: Num) -> Num:
    """The stress at worst as a share of the yield: above one no torque is given."""
    return flange_bolt_stress_worst / flange_bolt_yield
