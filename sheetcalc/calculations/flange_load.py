"""What flange bolts carry and what the gasket feels: torque in two forms, gasket stress, and a look at the load by the rules of design."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, row_exact, row_ignoring_case
from sheetcalc.calculations.entries import given
from sheetcalc.calculations.load import grade_matches
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Num, Text
from sheetcalc.reference.sources import cite

PART = "flange"
READING, DESIGN, TARGET = cite("reading"), cite("flange-design"), cite("flange-target")

_OVERRIDE = "type a number in its range on Assumptions or clear the cell."


def _above_nought(figures: Any) -> Any:
    """The figures above 0, blank in the place of others: nothing may be divided by a nought that a person typed on Tables."""
    return np.where(figures > 0, figures, np.nan)


# --- the bolts ---


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
    excel="MIN({flange_stress_most},{flange_yield_share_usual}*{flange_bolt_yield})",
)
def flange_bolt_stress_usual(flange_stress_most: float, flange_yield_share_usual: float, flange_bolt_yield: Num) -> Num:
    """The stress wanted in flange bolts where a valve names none: half their yield, and no more than is usual for the strongest."""
    return np.minimum(flange_bolt_yield * flange_yield_share_usual, flange_stress_most)


given(
    "flange_bolt_stress",
    title="Flange bolt stress",
    symbol="",
    unit="MPa",
    part=PART,
    usual="flange_bolt_stress_usual",
    low="smallest_bolt_stress",
    high="largest_bolt_stress",
    remedy=_OVERRIDE,
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
    remedy=_OVERRIDE,
    sentence="Torque over load and diameter of a flange bolt: what friction makes of the torque.",
)


@derived(
    title="Flange bolt nut factor, low",
    unit="1",
    part=PART,
    source=cite("nut-factor"),
    excel="IF(AND(ISNUMBER(INDEX({lubricant_factors_low},{flange_lubricant_row})),INDEX({lubricant_factors_low},{flange_lubricant_row})>0),"
    'MIN({flange_nut_factor},INDEX({lubricant_factors_low},{flange_lubricant_row})),"")',
)
def flange_nut_factor_low(lubricant_factors_low: Num, flange_lubricant_row: Num, flange_nut_factor: Num) -> Any:
    """The lowest nut factor of the lubricant's band: with it the same torque loads a flange bolt most."""
    return np.minimum(_above_nought(pick(flange_lubricant_row, lubricant_factors_low)), flange_nut_factor)


@derived(
    title="Flange bolt nut factor, high",
    unit="1",
    part=PART,
    source=cite("nut-factor"),
    excel="IF(ISNUMBER(INDEX({lubricant_factors_high},{flange_lubricant_row})),"
    'MAX({flange_nut_factor},INDEX({lubricant_factors_high},{flange_lubricant_row})),"")',
)
def flange_nut_factor_high(lubricant_factors_high: Num, flange_lubricant_row: Num, flange_nut_factor: Num) -> Any:
    """The highest nut factor of the lubricant's band: with it the same torque loads a flange bolt least."""
    return np.maximum(pick(flange_lubricant_row, lubricant_factors_high), flange_nut_factor)


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


# --- the gasket ---


@derived(
    title="Row of the flange gasket kind",
    unit="1",
    part=PART,
    source=READING,
    excel="IFERROR(IF(INDEX({gasket_kind_names},MATCH({gasket_kind},{gasket_kind_names},0))={gasket_kind},"
    'MATCH({gasket_kind},{gasket_kind_names},0),""),"")',
)
def gasket_kind_row(gasket_kind_names: list[str], gasket_kind: Text) -> Num:
    """The row of the gasket on Tables, your own before an issued one of the same name."""
    return row_ignoring_case(gasket_kind, gasket_kind_names)


@derived(
    title="Form of the flange gasket",
    part=PART,
    source=cite("gasket-kinds"),
    text=True,
    excel='IF(OR(EXACT(INDEX({gasket_forms},{gasket_kind_row}),"spiral"),EXACT(INDEX({gasket_forms},{gasket_kind_row}),"flat")),'
    'INDEX({gasket_forms},{gasket_kind_row}),"")',
)
def gasket_form(gasket_forms: list[str], gasket_kind_row: Num) -> Any:
    """Whether the gasket is spiral or flat: which of the tables of gaskets has its size."""
    form = pick(gasket_kind_row, gasket_forms)
    return np.where((form == "spiral") | (form == "flat"), form, "")


@derived(
    title="Row of the spiral-wound flange gasket",
    unit="1",
    part=PART,
    source=READING,
    excel='IF(EXACT({gasket_form},"spiral"),IFERROR(MATCH(INDEX({flange_keys},{flange_raised_row}),{spiral_keys},0),""),"")',
)
def spiral_row(gasket_form: Text, flange_keys: list[str], flange_raised_row: Num, spiral_keys: list[str]) -> Any:
    """The row of a spiral-wound gasket of this size and class between raised faces."""
    return np.where(gasket_form == "spiral", row_exact(pick(flange_raised_row, flange_keys), spiral_keys), np.nan)


@derived(
    title="Row of the flat flange gasket",
    unit="1",
    part=PART,
    source=READING,
    excel='IF(EXACT({gasket_form},"flat"),IFERROR(MATCH(INDEX({flange_keys},{flange_raised_row}),{flat_keys},0),""),"")',
)
def flat_row(gasket_form: Text, flange_keys: list[str], flange_raised_row: Num, flat_keys: list[str]) -> Any:
    """The row of a flat ring gasket of this size and class between raised faces."""
    return np.where(gasket_form == "flat", row_exact(pick(flange_raised_row, flange_keys), flat_keys), np.nan)


@derived(
    title="Inside of the flange gasket",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("gasket-area"),
    optional=("spiral_row", "flat_row"),
    excel="IFERROR(CHOOSE(COUNT({spiral_row})+2*COUNT({flat_row}),INDEX({spiral_inners},{spiral_row}),"
    'INDEX({flat_gasket_inners},{flange_size_row})),"")',
)
def gasket_inner(spiral_row: Num, flat_row: Num, spiral_inners: Num, flat_gasket_inners: Num, flange_size_row: Num) -> Any:
    """Inside of the winding; of a flat gasket the outside of the pipe."""
    flat = np.where(np.isnan(flat_row), np.nan, pick(flange_size_row, flat_gasket_inners))
    return np.where(np.isnan(spiral_row), flat, pick(spiral_row, spiral_inners))


@derived(
    title="Outside of the flange gasket",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("gasket-area"),
    optional=("spiral_row", "flat_row"),
    excel="IFERROR(CHOOSE(COUNT({spiral_row})+2*COUNT({flat_row}),INDEX({spiral_outers},{spiral_row}),"
    'MIN(INDEX({flat_outers},{flat_row}),INDEX({raised_face_diameters},{flange_size_row}))),"")',
)
def gasket_outer(
    spiral_row: Num, flat_row: Num, spiral_outers: Num, flat_outers: Num, raised_face_diameters: Num, flange_size_row: Num
) -> Any:
    """Outside of the winding; of a flat gasket its own outside, or that of the raised face where it is less."""
    flat = np.minimum(pick(flange_size_row, raised_face_diameters), pick(flat_row, flat_outers))
    return np.where(np.isnan(spiral_row), flat, pick(spiral_row, spiral_outers))


@derived(
    title="Area of the flange gasket",
    symbol="",
    unit="mm**2",
    part=PART,
    source=cite("gasket-area"),
    excel="PI()/4*({gasket_outer}^2-{gasket_inner}^2)",
)
def gasket_area(gasket_outer: Num, gasket_inner: Num) -> Num:
    """The area that the bolts press: of the winding alone, or of a flat gasket under the raised face."""
    return np.pi * (gasket_outer - gasket_inner) * (gasket_outer + gasket_inner) / 4


@derived(
    title="Flange gasket stress",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("gasket-area"),
    excel="{flange_load}/{gasket_area}",
)
def gasket_stress(flange_load: Num, gasket_area: Num) -> Num:
    """The stress on the gasket when the joint has been tightened and no pressure is on."""
    return flange_load / gasket_area


@derived(
    title="Flange gasket stress, least",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("gasket-seating"),
    excel='IF(ISNUMBER(INDEX({gasket_leasts},{gasket_kind_row})),INDEX({gasket_leasts},{gasket_kind_row}),"")',
)
def gasket_least(gasket_leasts: Num, gasket_kind_row: Num) -> Any:
    """The stress that this kind of flange gasket needs at least when it is fitted."""
    return pick(gasket_kind_row, gasket_leasts)


@derived(
    title="Flange gasket stress, greatest",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("gasket-seating"),
    excel='IF(ISNUMBER(INDEX({gasket_mosts},{gasket_kind_row})),INDEX({gasket_mosts},{gasket_kind_row}),"")',
)
def gasket_most(gasket_mosts: Num, gasket_kind_row: Num) -> Any:
    """The stress that this kind of flange gasket bears; blank where none is stated."""
    return pick(gasket_kind_row, gasket_mosts)


@derived(
    title="Flange gasket factor",
    symbol="m",
    unit="1",
    part=PART,
    source=cite("gasket-kinds"),
    excel='IF(ISNUMBER(INDEX({gasket_factors},{gasket_kind_row})),INDEX({gasket_factors},{gasket_kind_row}),"")',
)
def gasket_factor(gasket_factors: Num, gasket_kind_row: Num) -> Any:
    """How many times the pressure is wanted on the flange gasket in service, a figure of design."""
    return pick(gasket_kind_row, gasket_factors)


@derived(
    title="Flange gasket seating stress",
    symbol="y",
    unit="MPa",
    part=PART,
    source=cite("gasket-kinds"),
    excel='IF(ISNUMBER(INDEX({gasket_yields},{gasket_kind_row})),INDEX({gasket_yields},{gasket_kind_row}),"")',
)
def gasket_yield(gasket_yields: Num, gasket_kind_row: Num) -> Any:
    """The stress that seats the flange gasket, a figure of design and not of assembly."""
    return pick(gasket_kind_row, gasket_yields)


# --- a second look at the bolt load, by the rules of flange design ---


@derived(
    title="Basic width of the flange gasket",
    symbol="b₀",
    unit="mm",
    part=PART,
    source=DESIGN,
    excel="({gasket_outer}-{gasket_inner})/4",
)
def gasket_width_basic(gasket_outer: Num, gasket_inner: Num) -> Num:
    """Half the width of the flange gasket under the raised face."""
    return (gasket_outer - gasket_inner) / 2 / 2


@derived(
    title="Effective width of the flange gasket",
    symbol="b",
    unit="mm",
    part=PART,
    source=cite("flange-width"),
    excel="IF(ROUND({gasket_width_basic}-{gasket_width_limit},{counting_digits})>0,"
    "{gasket_width_factor}*SQRT({gasket_width_basic}),{gasket_width_basic})",
    empirical="a root of a length, whose factor holds in mm",
)
def gasket_width_effective(gasket_width_basic: Num, gasket_width_limit: float, counting_digits: float, gasket_width_factor: float) -> Num:
    """The width over which a wide flange gasket is taken to seal; a narrow one seals over its basic width."""
    wide = above_zero(gasket_width_basic - gasket_width_limit, counting_digits)
    return np.where(wide, np.sqrt(gasket_width_basic) * gasket_width_factor, gasket_width_basic)


@derived(
    title="Reaction diameter of the flange gasket",
    symbol="G",
    unit="mm",
    part=PART,
    source=DESIGN,
    excel="{gasket_outer}-2*{gasket_width_effective}",
)
def gasket_reaction_diameter(gasket_outer: Num, gasket_width_effective: Num) -> Num:
    """Where the flange gasket is taken to bear: the outside less twice the effective width, which for a narrow one is its mean diameter."""
    return gasket_outer - (gasket_width_effective + gasket_width_effective)


@derived(
    title="Pressure end load of the flange joint",
    symbol="H",
    unit="N",
    part=PART,
    source=DESIGN,
    excel="PI()/4*{gasket_reaction_diameter}^2*MAX(0,{line_pressure})",
)
def flange_end_load(gasket_reaction_diameter: Num, line_pressure: Num) -> Num:
    """The force with which the pressure pushes the flange joint open; a vacuum does not."""
    return np.pi * (gasket_reaction_diameter / 2) ** 2 * np.maximum(line_pressure, 0)


@derived(
    title="Operating load of the flange joint",
    symbol="W_m1",
    unit="N",
    part=PART,
    source=DESIGN,
    excel="{flange_end_load}+2*PI()*{gasket_width_effective}*{gasket_reaction_diameter}*{gasket_factor}*MAX(0,{line_pressure})",
)
def flange_operating_load(
    flange_end_load: Num, gasket_width_effective: Num, gasket_reaction_diameter: Num, gasket_factor: Num, line_pressure: Num
) -> Num:
    """The bolt load that a flange designer wants in service, for all bolts of a joint."""
    on_gasket = np.maximum(line_pressure, 0) * gasket_factor
    return gasket_reaction_diameter * (2 * gasket_width_effective) * np.pi * on_gasket + flange_end_load


@derived(
    title="Seating load of the flange joint",
    symbol="W_m2",
    unit="N",
    part=PART,
    source=DESIGN,
    excel="PI()*{gasket_width_effective}*{gasket_reaction_diameter}*{gasket_yield}",
)
def flange_seating_load(gasket_width_effective: Num, gasket_reaction_diameter: Num, gasket_yield: Num) -> Num:
    """The bolt load that a flange designer wants to seat the gasket, for all bolts of a joint."""
    return gasket_yield * (np.pi * gasket_reaction_diameter) * gasket_width_effective


@derived(
    title="Flange load over that of appendix 2",
    symbol="",
    unit="1",
    part=PART,
    source=DESIGN,
    excel='IFERROR({flange_load}/MAX({flange_operating_load},{flange_seating_load}),"")',
)
def flange_load_ratio(flange_load: Num, flange_operating_load: Num, flange_seating_load: Num) -> Num:
    """The load of the flange joint over the greater of the two, blank where neither is any: a check of the bolt load, not a design."""
    ratio = flange_load / np.maximum(flange_seating_load, flange_operating_load)
    return np.where(np.isfinite(ratio), ratio, np.nan)


@derived(
    title="Flange gasket stress under pressure",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("gasket-area"),
    excel="({flange_load}-{flange_end_load})/{gasket_area}",
)
def gasket_stress_pressed(flange_load: Num, flange_end_load: Num, gasket_area: Num) -> Num:
    """What is left on the flange gasket when the pressure end load has been taken off."""
    return flange_load / gasket_area - flange_end_load / gasket_area


# --- what bolt stress may be wanted ---


@derived(
    title="Greatest target by the flange bolt grade",
    symbol="",
    unit="MPa",
    part=PART,
    source=TARGET,
    excel="{flange_bolt_yield}*{flange_nut_factor_low}/{flange_nut_factor}",
)
def flange_target_yield(flange_bolt_yield: Num, flange_nut_factor_low: Num, flange_nut_factor: Num) -> Num:
    """The flange bolt stress that reaches the yield where friction is at the low end of its band."""
    return flange_nut_factor_low / flange_nut_factor * flange_bolt_yield


@derived(
    title="Greatest target by the flange gasket",
    symbol="",
    unit="MPa",
    part=PART,
    source=TARGET,
    excel="{gasket_most}*{gasket_area}/({flange_bolt_count}*{flange_bolt_area})",
)
def flange_target_gasket(gasket_most: Num, gasket_area: Num, flange_bolt_count: Num, flange_bolt_area: Num) -> Num:
    """The flange bolt stress that brings the gasket to the greatest stress it bears; blank where none is stated."""
    return gasket_area / flange_bolt_area * gasket_most / flange_bolt_count


@derived(
    title="Greatest target of the flange bolts",
    symbol="",
    unit="MPa",
    part=PART,
    source=TARGET,
    optional=("flange_target_gasket",),
    excel="MIN({flange_target_yield},{flange_target_gasket})",
)
def flange_target_most(flange_target_yield: Num, flange_target_gasket: Num) -> Num:
    """The greatest flange bolt stress that grade and gasket take; of the grade alone where the gasket states no maximum."""
    return np.fmin(flange_target_gasket, flange_target_yield)


@derived(
    title="Least target of the flange bolts",
    symbol="",
    unit="MPa",
    part=PART,
    source=TARGET,
    excel="{gasket_least}*{gasket_area}/({flange_bolt_count}*{flange_bolt_area})",
)
def flange_target_least(gasket_least: Num, gasket_area: Num, flange_bolt_count: Num, flange_bolt_area: Num) -> Num:
    """The flange bolt stress that just brings the gasket to the least stress it needs."""
    return gasket_area / flange_bolt_area * gasket_least / flange_bolt_count


# --- the torque ---


@derived(
    title="Material of the flanges allows a torque",
    unit="1",
    part=PART,
    source=cite("flange-facings"),
    excel="INDEX({material_torques},MATCH({flange_material},{flange_material_names},0))",
)
def flange_material_allows(material_torques: Num, flange_material: Text, flange_material_names: list[str]) -> Any:
    """1 where flanges of the material may get a torque from size and class, else 0."""
    return pick(row_ignoring_case(flange_material, flange_material_names), material_torques)


@derived(
    title="Reasons against a flange bolt torque",
    unit="1",
    part=PART,
    source=TARGET,
    optional=("flange_bolt_count", "flange_over_yield", "gasket_crushed", "flange_lubricant_burns"),
    excel='IF(ISNUMBER({flange_bolt_count}),2-{flange_raised}-{flange_material_allows}+({flange_over_yield}<>"")+({gasket_crushed}<>"")+'
    '({flange_lubricant_burns}<>""),"")',
)
def flange_objections(
    flange_bolt_count: Num,
    flange_raised: Num,
    flange_material_allows: Num,
    flange_over_yield: Flag,
    gasket_crushed: Flag,
    flange_lubricant_burns: Flag,
) -> Any:
    """How many things forbid a torque: facing, material, bolts beyond yield, gasket crushed, lubricant in oxygen."""
    spoken = 1.0 * flange_over_yield + gasket_crushed + flange_lubricant_burns
    return np.where(np.isnan(flange_bolt_count), np.nan, spoken + (1 - flange_material_allows) + (1 - flange_raised))


@derived(
    title="Flange bolt torque is refused",
    symbol="",
    unit="1",
    part=PART,
    source=TARGET,
    optional=("flange_yield_share", "gasket_stress", "gasket_least", "flange_nut_factor_high"),
    excel="IF(AND({flange_objections}=0,COUNT({flange_yield_share},{gasket_stress},{gasket_least},{flange_nut_factor_high})<4),"
    '"",SIGN({flange_objections}))',
)
def flange_refused(
    flange_objections: Num, flange_yield_share: Num, gasket_stress: Num, gasket_least: Num, flange_nut_factor_high: Num
) -> Any:
    """1 where a torque would be wrong, 0 where all that it must be held against is known and holds, blank where something is not known."""
    unknown = np.isnan(flange_yield_share) | np.isnan(gasket_stress) | np.isnan(gasket_least) | np.isnan(flange_nut_factor_high)
    return np.where(flange_objections > 0, 1.0, np.where(unknown, np.nan, 0.0))


@derived(
    title="Flange bolt torque worked out",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("short-torque"),
    excel="{flange_nut_factor}*{flange_bolt_load}*{flange_bolt_diameter}",
)
def flange_bolt_torque_worked(flange_nut_factor: Num, flange_bolt_load: Num, flange_bolt_diameter: Num) -> Num:
    """The torque of a flange nut for the load wanted, before it is held against anything: not for the wrench."""
    return flange_bolt_diameter * flange_bolt_load * flange_nut_factor


@derived(
    title="Flange bolt torque",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("short-torque"),
    excel='IF({flange_refused}=0,{flange_bolt_torque_worked},"")',
)
def flange_bolt_torque(flange_refused: Num, flange_bolt_torque_worked: Num) -> Num:
    """The torque to be set on the wrench; blank where it is refused or something is not known."""
    return np.where(flange_refused == 0, flange_bolt_torque_worked, np.nan)


@derived(
    title="Flange bolt torque, first pass",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("passes"),
    excel="{flange_first_share}*{flange_bolt_torque}",
)
def flange_torque_first(flange_first_share: float, flange_bolt_torque: Num) -> Num:
    """The torque of the first pass, in cross order."""
    return flange_bolt_torque * flange_first_share


@derived(
    title="Flange bolt torque, second pass",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("passes"),
    excel="{flange_second_share}*{flange_bolt_torque}",
)
def flange_torque_second(flange_second_share: float, flange_bolt_torque: Num) -> Num:
    """The torque of the second pass, in cross order."""
    return flange_bolt_torque * flange_second_share


@derived(
    title="Pitch diameter of a flange bolt",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("pitch-diameter"),
    excel="{flange_bolt_diameter}-{pitch_diameter_share}*{flange_bolt_pitch}",
)
def flange_pitch_diameter(flange_bolt_diameter: Num, pitch_diameter_share: float, flange_bolt_pitch: Num) -> Num:
    """The diameter at which the flanks of the flange bolt's thread bear."""
    return flange_bolt_diameter - flange_bolt_pitch * pitch_diameter_share


@derived(
    title="Bearing radius of a flange nut",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("nut-bearing"),
    excel="({flange_wrench}+{flange_bolt_diameter}+{hole_allowance})/4",
)
def flange_nut_radius(flange_wrench: Num, flange_bolt_diameter: Num, hole_allowance: float) -> Num:
    """The mean radius between washer face and hole, at which a flange nut rubs."""
    return ((flange_bolt_diameter + hole_allowance) / 2 + flange_wrench / 2) / 2


@derived(
    title="Arm of the flange bolt thread",
    unit="mm",
    part=PART,
    source=cite("long-torque"),
    excel="IF(ISNUMBER(INDEX({lubricant_thread_frictions},{flange_lubricant_row})),{flange_bolt_pitch}/(2*PI())+"
    'INDEX({lubricant_thread_frictions},{flange_lubricant_row})*{flange_pitch_diameter}/2/COS(RADIANS({thread_flank_angle})),"")',
)
def flange_thread_arm(
    lubricant_thread_frictions: Num,
    flange_lubricant_row: Num,
    flange_bolt_pitch: Num,
    flange_pitch_diameter: Num,
    thread_flank_angle: float,
) -> Any:
    """Torque over load of a flange bolt's thread itself: its slope and its friction."""
    friction = pick(flange_lubricant_row, lubricant_thread_frictions) / np.cos(np.radians(thread_flank_angle))
    return flange_bolt_pitch / np.pi / 2 + friction * flange_pitch_diameter / 2


@derived(
    title="Flange bolt nut factor by the long form",
    symbol="",
    unit="1",
    part=PART,
    source=cite("long-torque"),
    excel="IF(ISNUMBER(INDEX({lubricant_nut_frictions},{flange_lubricant_row})),({flange_thread_arm}+"
    'INDEX({lubricant_nut_frictions},{flange_lubricant_row})*{flange_nut_radius})/{flange_bolt_diameter},"")',
)
def flange_nut_factor_long(
    lubricant_nut_frictions: Num, flange_lubricant_row: Num, flange_thread_arm: Num, flange_nut_radius: Num, flange_bolt_diameter: Num
) -> Any:
    """What the nut factor of a flange bolt comes to from slope, thread friction and nut friction."""
    face = flange_nut_radius * pick(flange_lubricant_row, lubricant_nut_frictions)
    return face / flange_bolt_diameter + flange_thread_arm / flange_bolt_diameter


@derived(
    title="Flange bolt torque by the long form",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("long-torque"),
    excel='IF({flange_refused}=0,{flange_nut_factor_long}*{flange_bolt_load}*{flange_bolt_diameter},"")',
)
def flange_bolt_torque_long(flange_refused: Num, flange_nut_factor_long: Num, flange_bolt_load: Num, flange_bolt_diameter: Num) -> Num:
    """The flange bolt torque by the second method, to be held beside the first; blank where the first is."""
    return np.where(flange_refused == 0, flange_bolt_diameter * flange_bolt_load * flange_nut_factor_long, np.nan)


@derived(
    title="Flange bolt torque, long form over short form",
    symbol="",
    unit="1",
    part=PART,
    source=cite("torque-gap"),
    excel='IF({flange_refused}=0,{flange_nut_factor_long}/{flange_nut_factor},"")',
)
def flange_torque_ratio(flange_refused: Num, flange_nut_factor_long: Num, flange_nut_factor: Num) -> Num:
    """How the two methods compare: 1 where they agree."""
    return np.where(flange_refused == 0, flange_nut_factor_long / flange_nut_factor, np.nan)


# --- what is missing for a torque ---


@fault(
    title="Kind of flange gasket not named",
    part=PART,
    source=cite("practice"),
    about=("gasket_kind",),
    optional=("flange_asked", "gasket_kind"),
    words="Kind of flange gasket is not named: no gasket is ordered and no torque is given.",
    excel='AND(ISNUMBER({flange_asked}),IFERROR({gasket_kind}="",0))',
)
def gasket_kind_missing(flange_asked: Num, gasket_kind: Text) -> Any:
    """Says that nobody has named the gasket of the flange joints."""
    return ~np.isnan(flange_asked) & (gasket_kind == "")


@fault(
    title="Flange bolt grade not named",
    part=PART,
    source=cite("grades"),
    about=("flange_bolt_grade",),
    optional=("flange_asked", "flange_bolt_grade"),
    words="Flange bolt grade is not named: without it the bolts cannot be held against their yield, and no torque is given.",
    excel='AND(ISNUMBER({flange_asked}),IFERROR({flange_bolt_grade}="",0))',
)
def flange_grade_missing(flange_asked: Num, flange_bolt_grade: Text) -> Any:
    """Says that nobody has named the grade of the flange bolts."""
    return ~np.isnan(flange_asked) & (flange_bolt_grade == "")


@fault(
    title="Flange bolt lubricant not named",
    part=PART,
    source=cite("nut-factor"),
    about=("flange_lubricant",),
    optional=("flange_asked", "flange_lubricant"),
    words="Flange bolt lubricant is not named: no torque is given, since the dry figure overloads an oiled bolt by a quarter.",
    excel='AND(ISNUMBER({flange_asked}),IFERROR({flange_lubricant}="",0))',
)
def flange_lubricant_missing(flange_asked: Num, flange_lubricant: Text) -> Any:
    """Says that nobody knows what is on the threads of the flange bolts."""
    return ~np.isnan(flange_asked) & (flange_lubricant == "")


@fault(
    title="Pressure for the flange joint not given",
    part=PART,
    source=DESIGN,
    about=("line_pressure_entered",),
    optional=("flange_asked", "line_pressure_entered"),
    words="Line pressure is missing: without it the flange gasket's stress under pressure stays blank and is not checked.",
    excel='AND(ISNUMBER({flange_asked}),IFERROR({line_pressure_entered}="",0))',
)
def flange_pressure_missing(flange_asked: Num, line_pressure_entered: Num) -> Any:
    """Says that no pressure is typed though flange joints are opened."""
    return ~np.isnan(flange_asked) & np.isnan(line_pressure_entered)


# --- what is named and does not serve ---


@fault(
    title="Kind of flange gasket not known",
    part=PART,
    source=READING,
    about=("gasket_kind",),
    optional=("gasket_kind", "gasket_kind_row"),
    words="Kind of flange gasket is none of the listed ones: choose it from the list on Tables, or give it a row of its own.",
    excel='AND(IFERROR({gasket_kind}<>"",1),NOT(ISNUMBER({gasket_kind_row})))',
)
def gasket_kind_not_known(gasket_kind: Text, gasket_kind_row: Num) -> Any:
    """Says that the gasket is not on Tables."""
    return (gasket_kind != "") & np.isnan(gasket_kind_row)


@fault(
    title="Kind of flange gasket without form or least stress",
    part=PART,
    source=cite("gasket-kinds"),
    about=("gasket_kind",),
    optional=("gasket_kind_row", "gasket_form", "gasket_least"),
    words="The row of this kind of flange gasket lacks its form, spiral or flat, or its least stress: type both on Tables; until then no "
    "torque is given.",
    excel='AND(ISNUMBER({gasket_kind_row}),OR({gasket_form}="",NOT(ISNUMBER({gasket_least}))))',
)
def gasket_kind_incomplete(gasket_kind_row: Num, gasket_form: Text, gasket_least: Num) -> Any:
    """Says that the gasket's own row on Tables is not filled."""
    return ~np.isnan(gasket_kind_row) & ((gasket_form == "") | np.isnan(gasket_least))


@fault(
    title="Flange gasket without dimensions",
    part=PART,
    source=cite("gasket-area"),
    about=("gasket_kind", "flange_size", "flange_class_entered"),
    optional=("flange_raised_row", "gasket_form", "spiral_row", "flat_row"),
    words="Tables have no dimensions of this kind of flange gasket in this size and class: no torque is given; take it from the owner's "
    "standard.",
    excel='AND(ISNUMBER({flange_raised_row}),{gasket_form}<>"",COUNT({spiral_row},{flat_row})=0)',
)
def gasket_not_listed(flange_raised_row: Num, gasket_form: Text, spiral_row: Num, flat_row: Num) -> Any:
    """Says that the flange's bolts are known and its gasket is not."""
    return ~np.isnan(flange_raised_row) & (gasket_form != "") & np.isnan(spiral_row) & np.isnan(flat_row)


@fault(
    title="Flange bolt grade not known in this size",
    part=PART,
    source=cite("grades"),
    about=("flange_bolt_grade", "flange_size"),
    words="No row of the grades on Tables holds for this flange bolt grade and size: choose the grade from the list, or give it a row "
    "of its own.",
    excel="{flange_grade_rows}=0",
)
def flange_grade_not_known(flange_grade_rows: Num) -> Any:
    """Says that Tables have no strength for the flange bolts."""
    return flange_grade_rows == 0


@fault(
    title="Flange bolt grade stands twice",
    part=PART,
    source=cite("grades"),
    about=("flange_bolt_grade", "flange_size"),
    words="More than one row of the grades on Tables holds for this flange bolt grade and size: keep one of them.",
    excel="{flange_grade_rows}>1",
)
def flange_grade_twice(flange_grade_rows: Num) -> Flag:
    """Says that two rows contradict each other on the flange bolts."""
    return flange_grade_rows > 1


@fault(
    title="Flange bolt grade without yield",
    part=PART,
    source=cite("grades"),
    about=("flange_bolt_grade",),
    optional=("flange_grade_row", "flange_bolt_yield"),
    words="The row of the flange bolt grade states no yield: type it on Tables; until then no torque is given.",
    excel="AND(ISNUMBER({flange_grade_row}),NOT(ISNUMBER({flange_bolt_yield})))",
)
def flange_grade_no_yield(flange_grade_row: Num, flange_bolt_yield: Num) -> Any:
    """Says that the yield of the flange bolts is not known."""
    return ~np.isnan(flange_grade_row) & np.isnan(flange_bolt_yield)


@fault(
    title="Flange bolt lubricant not known",
    part=PART,
    source=cite("nut-factor"),
    about=("flange_lubricant",),
    optional=("flange_lubricant", "flange_lubricant_row"),
    words="Flange bolt lubricant is none of the listed ones: choose it from the list on Tables, or give it a row of its own.",
    excel='AND(IFERROR({flange_lubricant}<>"",1),NOT(ISNUMBER({flange_lubricant_row})))',
)
def flange_lubricant_not_known(flange_lubricant: Text, flange_lubricant_row: Num) -> Any:
    """Says that the lubricant of the flange bolts is not on Tables."""
    return (flange_lubricant != "") & np.isnan(flange_lubricant_row)


@fault(
    title="Flange bolt lubricant without its band",
    part=PART,
    source=cite("nut-factor"),
    about=("flange_lubricant",),
    optional=("flange_nut_factor_low", "flange_nut_factor_high"),
    words="The row of the flange bolt lubricant lacks a nut factor, or its low or high end: type all three on Tables; until then no "
    "torque is given.",
    excel="COUNT({flange_lubricant_row},{flange_nut_factor_low},{flange_nut_factor_high})<3",
)
def flange_lubricant_no_band(flange_lubricant_row: Num, flange_nut_factor_low: Num, flange_nut_factor_high: Num) -> Any:
    """Says that nobody knows how friction scatters on the flange bolts."""
    return ~np.isnan(flange_lubricant_row) & (np.isnan(flange_nut_factor_low) | np.isnan(flange_nut_factor_high))


@fault(
    title="Flange bolt lubricant not for oxygen",
    part=PART,
    source=cite("service"),
    about=("flange_lubricant", "fluid_kind_entered"),
    words="This flange bolt lubricant is not stated to be safe in oxygen, so no torque is given: no oil or grease there, on nuts neither. "
    "Name one made for it.",
    excel='AND(EXACT({fluid_kind},"oxygen"),NOT(INDEX({lubricants_for_oxygen},{flange_lubricant_row})=1))',
)
def flange_lubricant_burns(fluid_kind: Text, lubricants_for_oxygen: Num, flange_lubricant_row: Num) -> Any:
    """Says that oil or grease would come near oxygen, or that nobody has said that it would not."""
    return (fluid_kind == "oxygen") & (pick(flange_lubricant_row, lubricants_for_oxygen) != 1)


@fault(
    title="Flange bolts over their yield",
    part=PART,
    source=cite("grades"),
    about=("flange_bolt_stress_entered", "flange_bolt_grade"),
    words="The flange bolts would yield where friction is low, so no torque is given: type a Flange bolt stress no higher than Greatest "
    "target of the flange bolts.",
    excel="ROUND({flange_yield_share}-1,{counting_digits})>0",
)
def flange_over_yield(flange_yield_share: Num, counting_digits: float) -> Flag:
    """Says that the torque could stretch the flange bolts for good."""
    return above_zero(flange_yield_share - 1, counting_digits)


@fault(
    title="Flange gasket crushed",
    part=PART,
    source=cite("gasket-seating"),
    about=("gasket_kind", "flange_bolt_stress_entered"),
    words="The flange gasket would be crushed, so no torque is given: type a Flange bolt stress no higher than Greatest target of the "
    "flange bolts, or choose another gasket.",
    excel="ROUND({gasket_stress}-{gasket_most},{counting_digits})>0",
)
def gasket_crushed(gasket_stress: Num, gasket_most: Num, counting_digits: float) -> Flag:
    """Says that the bolts would press the gasket beyond what it bears."""
    return above_zero(gasket_stress - gasket_most, counting_digits)


@fault(
    title="Flange gasket not seated",
    part=PART,
    source=cite("gasket-seating"),
    about=("gasket_kind", "flange_bolt_stress_entered"),
    words="Flange gasket stress is below the least that this kind needs: raise the Flange bolt stress to Least target of the flange bolts "
    "if the grade takes it, or choose another gasket.",
    excel="ROUND({gasket_least}-{gasket_stress},{counting_digits})>0",
)
def gasket_not_seated(gasket_least: Num, gasket_stress: Num, counting_digits: float) -> Flag:
    """Says that the bolts press the gasket too little."""
    return above_zero(gasket_least - gasket_stress, counting_digits)


@fault(
    title="Flange gasket unloaded by the pressure",
    part=PART,
    source=cite("gasket-seating"),
    about=("gasket_kind", "line_pressure_entered"),
    optional=("gasket_not_seated",),
    words="With the pressure on, the flange gasket keeps less stress than this kind needs at least: raise the Flange bolt stress if grade "
    "and gasket take it, or ask the owner's engineer.",
    excel='AND({gasket_not_seated}="",ROUND({gasket_least}-{gasket_stress_pressed},{counting_digits})>0)',
)
def gasket_unloaded(gasket_not_seated: Flag, gasket_least: Num, gasket_stress_pressed: Num, counting_digits: float) -> Any:
    """Says that the pressure end load takes too much off a gasket that was seated."""
    return ~gasket_not_seated & above_zero(gasket_least - gasket_stress_pressed, counting_digits)


@fault(
    title="Flange load below the designer's",
    part=PART,
    source=DESIGN,
    about=("flange_bolt_stress_entered", "line_pressure_entered"),
    words="The flange bolts load the joint less than the design rules of a pressure vessel code ask for; this is a check and not a design: "
    "look at stress, gasket and pressure, or ask the owner's engineer.",
    excel="ROUND({flange_load_ratio}-1,{counting_digits})<0",
)
def flange_load_low(flange_load_ratio: Num, counting_digits: float) -> Any:
    """Says that a flange designer would want more bolt load."""
    return above_zero(1 - flange_load_ratio, counting_digits)


@fault(
    title="Flange bolt torque forms apart",
    part=PART,
    source=cite("torque-gap"),
    about=("flange_lubricant", "flange_nut_factor_entered"),
    words="The two forms of the flange bolt torque are far apart: look at nut factor and lubricant again before a wrench is set.",
    excel="ROUND(ABS({flange_torque_ratio}-1)-{greatest_torque_gap},{counting_digits})>0",
)
def flange_torque_forms_apart(flange_torque_ratio: Num, greatest_torque_gap: float, counting_digits: float) -> Flag:
    """Says that the second method does not bear out the first for the flange bolts."""
    return above_zero(np.abs(flange_torque_ratio - 1) - greatest_torque_gap, counting_digits)
