"""Whether fluid, temperature and pressure lie within the limits of the flange gasket, of a valve that comes out."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, pick_in, row_ignoring_case
from sheetcalc.calculations.joint.flange import PART, READING
from sheetcalc.calculations.oxygen import judged_by_report
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Gravity, Num, Text
from sheetcalc.reference.sources import cite

LIMITS = cite("gasket-limits")


@derived(
    title="Fluid is a gas",
    unit="1",
    part=PART,
    source=READING,
    excel='IF(EXACT({fluid_kind},"not stated"),"",INDEX({fluid_kind_gaseous},MATCH({fluid_kind},{fluid_kind_names},0)))',
)
def fluid_gaseous(fluid_kind: Text, fluid_kind_gaseous: Num, fluid_kind_names: list[str]) -> Any:
    """1 for gases and steam, which leak where a liquid does not, 0 for liquids; blank where the kind of fluid is not stated."""
    return pick(row_ignoring_case(fluid_kind, fluid_kind_names), fluid_kind_gaseous)


@derived(
    title="Flange gasket suits the fluid",
    unit="1",
    part=PART,
    source=LIMITS,
    excel="INDEX({gaskets_fluids},{gasket_kind_row},{fluid_column})",
)
def gasket_suits_fluid(gaskets_fluids: Num, gasket_kind_row: Num, fluid_column: Num) -> Any:
    """1 where the gasket's row says yes to this kind of fluid, 0 where it says no, blank where it says nothing."""
    return pick_in(gasket_kind_row, fluid_column, gaskets_fluids)


@derived(
    title="Pressure times temperature at the flange gasket",
    unit="1",
    part=PART,
    source=cite("gasket-product"),
    empirical="a product of MPa and degrees Celsius whose limits are given so",
    excel="{line_pressure}*MAX({gasket_product_floor},{fluid_temperature})",
)
def gasket_product(line_pressure: Num, gasket_product_floor: float, fluid_temperature: Num) -> Num:
    """Pressure in MPa times temperature in degrees Celsius, a cold fluid taken as one at room temperature."""
    return np.maximum(fluid_temperature, gasket_product_floor) * line_pressure


@fault(
    title="Too hot for the flange gasket",
    part=PART,
    gravity=Gravity.STOP,
    source=LIMITS,
    about=("fluid_temperature_entered", "gasket_kind"),
    words="The fluid is hotter than this kind of flange gasket bears: choose another kind.",
    excel="AND({flange_asked}=1,ROUND({fluid_temperature}-{gasket_temperature},{counting_digits})>0)",
)
def gasket_too_hot(flange_asked: Num, fluid_temperature: Num, gasket_temperature: Num, counting_digits: float) -> Any:
    """Says that the temperature is above the limit of the gasket."""
    return (flange_asked == 1) & above_zero(fluid_temperature - gasket_temperature, counting_digits)


@fault(
    title="Pressure above the limit of the flange gasket",
    part=PART,
    gravity=Gravity.STOP,
    source=LIMITS,
    about=("line_pressure_entered", "gasket_kind"),
    words="The line pressure is above what this kind of flange gasket bears: choose another kind.",
    excel="AND({flange_asked}=1,ROUND({line_pressure}-{gasket_pressure},{counting_digits})>0)",
)
def gasket_over_pressure(flange_asked: Num, line_pressure: Num, gasket_pressure: Num, counting_digits: float) -> Any:
    """Says that the pressure is above the limit of the gasket."""
    return (flange_asked == 1) & above_zero(line_pressure - gasket_pressure, counting_digits)


@fault(
    title="Pressure and temperature too high together for the flange gasket",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("gasket-product"),
    about=("line_pressure_entered", "fluid_temperature_entered", "gasket_kind"),
    words="Pressure and temperature together are more than this kind of flange gasket bears, though it bears each alone: choose "
    "another kind.",
    optional=("gasket_too_hot", "gasket_over_pressure"),
    excel='AND({flange_asked}=1,{gasket_too_hot}="",{gasket_over_pressure}="",'
    "ROUND({gasket_product}-{gasket_pressure_temperature},{counting_digits})>0)",
)
def gasket_over_product(
    flange_asked: Num,
    gasket_too_hot: Any,
    gasket_over_pressure: Any,
    gasket_product: Num,
    gasket_pressure_temperature: Num,
    counting_digits: float,
) -> Any:
    """Says that the product of pressure and temperature is above its limit, where each alone is not."""
    alone = gasket_too_hot | gasket_over_pressure
    return (flange_asked == 1) & ~alone & above_zero(gasket_product - gasket_pressure_temperature, counting_digits)


@fault(
    title="Flange gasket not for this fluid",
    part=PART,
    gravity=Gravity.STOP,
    source=LIMITS,
    about=("fluid_kind_entered", "gasket_kind"),
    words="This kind of flange gasket does not suit this kind of fluid: choose another kind.",
    excel="AND({flange_asked}=1,{gasket_suits_fluid}=0)",
)
def gasket_unsuitable(flange_asked: Num, gasket_suits_fluid: Num) -> Any:
    """Says that the gasket's row says no to the kind of fluid."""
    return (flange_asked == 1) & (gasket_suits_fluid == 0)


@fault(
    title="Fluid not judged by the flange gasket",
    part=PART,
    source=LIMITS,
    about=("fluid_kind_entered", "gasket_kind"),
    optional=("gasket_kind_row", "fluid_column", "gasket_suits_fluid"),
    words="The flange gasket's row on Tables does not say whether it suits this kind of fluid: ask its maker and type yes or no there.",
    excel='AND({flange_asked}=1,NOT(EXACT({fluid_kind},"oxygen")),COUNT({gasket_kind_row},{fluid_column},{gasket_suits_fluid})=2)',
)
def gasket_fluid_not_judged(flange_asked: Num, fluid_kind: Text, gasket_kind_row: Num, fluid_column: Num, gasket_suits_fluid: Num) -> Any:
    """Says that the gasket's row is silent on the kind of fluid; oxygen is judged by a report."""
    unknown = np.sum([np.isnan(one) for one in (gasket_kind_row, fluid_column, gasket_suits_fluid)], axis=0)
    return (flange_asked == 1) & (fluid_kind != "oxygen") & (unknown == 1)


judged_by_report(
    "gasket",
    what="flange gasket",
    part=PART,
    row="gasket_kind_row",
    columns=("gasket_oxygen_reports", "gasket_oxygen_temperatures", "gasket_oxygen_pressures"),
    passed_over=("gasket_suits_fluid", 0),
    about="gasket_kind",
    sheet="Tables",
    otherwise="choose another kind",
    asked=("flange_asked",),
)


@fault(
    title="Flange gasket without limits",
    part=PART,
    source=LIMITS,
    about=("gasket_kind",),
    optional=("gasket_temperature", "gasket_pressure"),
    words="The flange gasket's row on Tables states no highest temperature, or for a flat one no highest pressure: ask its maker and "
    "type both.",
    excel='AND({flange_asked}=1,OR(NOT(ISNUMBER({gasket_temperature})),AND(EXACT({gasket_form},"flat"),NOT(ISNUMBER({gasket_pressure})))))',
)
def gasket_limits_missing(flange_asked: Num, gasket_temperature: Num, gasket_form: Text, gasket_pressure: Num) -> Any:
    """Says that nobody knows what the gasket bears; winding and grooved metal bear the pressure of the class."""
    silent = np.isnan(gasket_temperature) | (gasket_form == "flat") & np.isnan(gasket_pressure)
    return (flange_asked == 1) & silent


@fault(
    title="Flange load not held against the design rules",
    part=PART,
    gravity=Gravity.NOTE,
    source=cite("flange-design"),
    about=("gasket_kind",),
    optional=("gasket_factor", "gasket_yield"),
    words="The flange gasket's row on Tables has no m and y, so the bolt load was not held against the design rules.",
    excel="AND({flange_refused}=0,COUNT({gasket_factor},{gasket_yield})<2)",
)
def gasket_design_unknown(flange_refused: Num, gasket_factor: Num, gasket_yield: Num) -> Any:
    """Says of a torque that the second look at the bolt load could not be had."""
    return (flange_refused == 0) & (np.isnan(gasket_factor) | np.isnan(gasket_yield))
