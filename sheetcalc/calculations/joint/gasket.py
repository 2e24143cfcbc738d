"""What the gasket feels: its stress, a second look at the bolt load by the rules of flange design, and what bolt stress may be wanted."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, row_exact, row_ignoring_case
from sheetcalc.calculations.joint.bolt_load import DESIGN, TARGET
from sheetcalc.calculations.joint.flange import PART, READING
from sheetcalc.declare.blocks import derive, derived
from sheetcalc.declare.quantity import Num, Text, get
from sheetcalc.reference.sources import cite


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
    excel='IF(OR(EXACT(INDEX({gasket_forms},{gasket_kind_row}),"spiral"),EXACT(INDEX({gasket_forms},{gasket_kind_row}),"flat"),'
    'EXACT(INDEX({gasket_forms},{gasket_kind_row}),"grooved")),INDEX({gasket_forms},{gasket_kind_row}),"")',
)
def gasket_form(gasket_forms: list[str], gasket_kind_row: Num) -> Any:
    """Whether the gasket is spiral, flat or grooved: which of the tables of gaskets has its size; there is none of grooved ones."""
    form = pick(gasket_kind_row, gasket_forms)
    return np.where((form == "spiral") | (form == "flat") | (form == "grooved"), form, "")


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


#: Of each figure of a kind of gasket: its column on Tables, title, symbol, coherent unit, the dimension it is read in, what it says.
_FIGURES: Final = {
    "gasket_least_stated": ("gasket_leasts", "Flange gasket stress, least stated", "", "", "the least stress it needs when it is fitted"),
    "gasket_most": ("gasket_mosts", "Flange gasket stress, greatest", "", "", "the stress it bears"),
    "gasket_factor": ("gasket_factors", "Flange gasket factor", "m", "", "how many times the pressure a designer wants on it in service"),
    "gasket_yield": ("gasket_yields", "Flange gasket seating stress", "y", "", "the stress that seats it, of design and not of assembly"),
    "gasket_temperature": ("gasket_temperatures", "Flange gasket, highest temperature", "", "", "the highest temperature it bears"),
    "gasket_pressure": ("gasket_pressures", "Flange gasket, highest pressure", "", "pressure", "the highest pressure it bears"),
    "gasket_pressure_temperature": (
        "gasket_pressure_temperatures",
        "Flange gasket, pressure times temperature",
        "",
        "",
        "the greatest product of both that it bears",
    ),
}
for _name, (_column, _title, _symbol, _measured, _says) in _FIGURES.items():
    derive(
        _name,
        (_column, "gasket_kind_row"),
        lambda column, row: pick(row, column),
        f"Of this kind of flange gasket {_says}; blank where none is stated.",
        title=_title,
        symbol=_symbol,
        unit=get(_column).unit,
        part=PART,
        source=get(_column).source,
        measured_as=_measured,
        excel=f"INDEX({{{_column}}},{{gasket_kind_row}})",
    )


@derived(
    title="Flange gasket stress, least for gas",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("gasket-limits"),
    excel='IF({fluid_gaseous}>0,INDEX({gasket_gas_leasts},{gasket_kind_row}),"")',
)
def gasket_least_gas(fluid_gaseous: Num, gasket_gas_leasts: Num, gasket_kind_row: Num) -> Any:
    """What this kind of flange gasket needs at least against a gas; blank for a liquid, and where it wants no more."""
    return np.where(fluid_gaseous > 0, pick(gasket_kind_row, gasket_gas_leasts), np.nan)


@derived(
    title="Flange gasket stress, least",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("gasket-seating"),
    optional=("gasket_least_gas",),
    excel="MAX({gasket_least_stated},{gasket_least_gas})",
)
def gasket_least(gasket_least_stated: Num, gasket_least_gas: Num) -> Num:
    """The stress that this kind of flange gasket needs at least when it is fitted, with this fluid."""
    return np.fmax(gasket_least_gas, gasket_least_stated)


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
