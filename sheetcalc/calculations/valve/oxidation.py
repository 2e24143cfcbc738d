"""Where air, oxygen or an oxidising chemical reaches the packing: what that takes off its limits, and what it then asks for."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, pick_in, row_ignoring_case
from sheetcalc.calculations.oxygen import judged_by_report
from sheetcalc.calculations.valve.material import PART
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Fluid is air",
    unit="1",
    part=PART,
    source=cite("graphite-in-air"),
    excel="INDEX({fluid_kind_airs},MATCH({fluid_kind},{fluid_kind_names},0))",
)
def fluid_in_air(fluid_kind_airs: Num, fluid_kind: Text, fluid_kind_names: list[str]) -> Any:
    """1 where this kind of fluid is air, holds oxygen or may do so, 0 where not, or where it is not stated."""
    return pick(row_ignoring_case(fluid_kind, fluid_kind_names), fluid_kind_airs)


@fault(
    title="Too hot for the material in air",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("graphite-in-air"),
    about=("fluid_temperature_entered", "fluid_kind_entered", "packing_material"),
    optional=("too_hot",),
    words="The fluid is hotter than the packing material bears where air or oxygen reaches it: choose another material.",
    excel='AND({fluid_in_air}=1,{too_hot}="",ROUND({fluid_temperature}-{material_temperature_high_air},{counting_digits})>0)',
)
def too_hot_in_air(
    fluid_in_air: Num, too_hot: Flag, fluid_temperature: Num, material_temperature_high_air: Num, counting_digits: float
) -> Any:
    """Says that the temperature is above the material's limit in air."""
    return (fluid_in_air == 1) & ~too_hot & above_zero(fluid_temperature - material_temperature_high_air, counting_digits)


@fault(
    title="Chemical may oxidise",
    part=PART,
    source=cite("oxidisers"),
    about=("fluid_kind_entered", "packing_material"),
    words="The packing material is not stated to bear oxidisers, which burn or rot graphite, aramid and natural fibre: make sure that the "
    "chemical does not oxidise.",
    excel='AND(EXACT({fluid_kind},"chemical"),NOT(INDEX({materials_fluids},{material_row},'
    'INDEX({fluid_kind_columns},MATCH("oxidising",{fluid_kind_names},0)))=1))',
)
def chemical_may_oxidise(
    fluid_kind: Text, materials_fluids: Num, material_row: Num, fluid_kind_columns: Num, fluid_kind_names: list[str]
) -> Any:
    """Says that nobody has asked whether the chemical oxidises, though the material may not bear that."""
    column = fluid_kind_columns[fluid_kind_names.index("oxidising")]
    return (fluid_kind == "chemical") & (pick_in(material_row, np.full_like(material_row, column), materials_fluids) != 1)


judged_by_report(
    "material",
    what="packing material",
    part=PART,
    row="material_row",
    columns=("materials_oxygen_report", "materials_oxygen_report_temperature", "materials_oxygen_report_pressure"),
    passed_over=("material_suits_fluid", 0),
    about="packing_material",
    sheet="Materials",
    otherwise="choose another material",
)
