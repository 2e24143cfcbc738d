"""The packing material: what is typed of fluid, stem and packing, the row on Materials, and what follows from it."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import either, pick, row_ignoring_case
from sheetcalc.calculations.given import given, given_code
from sheetcalc.declare.blocks import derive, derived, entry
from sheetcalc.declare.quantity import Gravity, Num, Text, get
from sheetcalc.reference.sources import cite

PART = "material"

place = entry(
    "place",
    title="Place",
    text=True,
    part="valve",
    source=cite("reading"),
    sentence="Where the valve stands, for the card.",
)
isolation_points = entry(
    "isolation_points",
    title="Isolation points",
    text=True,
    part="valve",
    source=cite("reading"),
    sentence="The valves, blinds and switches that are locked and tagged, for the card.",
)
fluid = entry(
    "fluid",
    title="Fluid",
    text=True,
    part="valve",
    source=cite("reading"),
    sentence="What runs through the valve, for the card.",
)
given_code(
    "fluid_kind",
    title="Kind of fluid",
    part=PART,
    names="fluid_kind_names",
    usual="fluid_kind_usual",
    remedy="choose one from the list on Tables.",
    sentence="What kind of fluid the packing must bear.",
)
given(
    "line_pressure",
    title="Line pressure",
    symbol="P",
    unit="MPa",
    part=PART,
    measured_as="pressure",
    low="full_vacuum",
    high="largest_pressure",
    remedy="type the gauge pressure in the unit of the row; a vacuum is negative, down to -1 bar.",
    sentence="Greatest gauge pressure at the stem; negative for a vacuum.",
)
given(
    "fluid_temperature",
    title="Fluid temperature",
    symbol="T",
    unit="degC",
    part=PART,
    low="lowest_temperature",
    high="highest_temperature",
    remedy="type the temperature in the unit of the row or clear the cell.",
    sentence="Highest temperature of the fluid at the stem.",
)
given(
    "fluid_ph",
    title="pH of the fluid",
    symbol="pH",
    unit="1",
    part=PART,
    low="0",
    high="highest_ph",
    remedy="type a number from 0 to 14 or clear the cell.",
    sentence="The pH of the fluid, where it matters.",
)
given_code(
    "stem_motion",
    title="Motion of the stem",
    part="rings",
    gravity=Gravity.STOP,
    names="stem_motion_names",
    usual="stem_motion_usual",
    remedy="choose one from the list on Tables.",
    sentence="Whether the stem slides, turns, or both.",
)
packing_material = entry(
    "packing_material",
    title="Packing material",
    text=True,
    part=PART,
    source=cite("reading"),
    sentence="The family of packing, written as on Materials.",
)
given_code(
    "packing_state",
    title="State of the packing",
    part=PART,
    names="packing_state_names",
    usual="packing_state_usual",
    remedy="choose dry or lubricated.",
    sentence="Whether the packing runs dry or carries a lubricant.",
)


@derived(
    title="Row of the material",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel="IFERROR(IF(INDEX({material_names},MATCH({packing_material},{material_names},0))={packing_material},"
    'MATCH({packing_material},{material_names},0),""),"")',
)
def material_row(material_names: list[str], packing_material: Text) -> Num:
    """The row of the material on Materials, your own before an issued one of the same name."""
    return row_ignoring_case(packing_material, material_names)


@derived(
    title="Origin of the material",
    part=PART,
    source=cite("reading"),
    text=True,
    excel="INDEX({material_origins},{material_row})",
)
def material_origin(material_origins: list[str], material_row: Num) -> Any:
    """Whether the row used is your own or as issued."""
    return pick(material_row, material_origins)


@derived(
    title="Form of the material",
    part=PART,
    source=cite("practice"),
    text=True,
    excel="INDEX({material_forms},{material_row})",
)
def material_form(material_forms: list[str], material_row: Num) -> Any:
    """The form in which the material comes."""
    return pick(material_row, material_forms)


#: Title, symbol, coherent unit and the dimension in which it is read, of each figure of a material.
_FIGURES: Final = {
    "temperature_low": ("lowest temperature", "T_min", ""),
    "temperature_high": ("highest temperature", "T_max", ""),
    "temperature_high_air": ("highest temperature in air", "", ""),
    "pressure_high": ("highest pressure", "P_max", "pressure"),
    "ph_low": ("lowest pH", "", ""),
    "ph_high": ("highest pH", "", ""),
    "least_stress": ("least gland stress", "", ""),
    "pressure_factor": ("pressure factor", "", ""),
    "most_stress": ("greatest gland stress", "", ""),
    "set_compression": ("set compression", "", ""),
    "seating_compression": ("seating compression", "", ""),
    "friction_dry": ("friction, dry", "", ""),
    "friction_lubricated": ("friction, lubricated", "", ""),
    "lateral_ratio": ("lateral ratio", "", ""),
    "density": ("density", "ρ", ""),
}

for _name, (_title, _symbol, _measured) in _FIGURES.items():
    derive(
        f"material_{_name}",
        (f"materials_{_name}", "material_row"),
        lambda column, row: pick(row, column),
        f"{_title[0].upper()}{_title[1:]} of the material, from its row on Materials.",
        title=f"Material: {_title}",
        symbol=_symbol,
        unit=get(f"materials_{_name}").unit,
        part=PART,
        source=get(f"materials_{_name}").source,
        measured_as=_measured,
        excel=f"INDEX({{materials_{_name}}},{{material_row}})",
    )


@derived(
    title="Packing form by the material",
    part=PART,
    source=cite("reading"),
    text=True,
    guards=False,
    excel='IF({material_form}="",{packing_form_usual},{material_form})',
)
def packing_form_default(material_form: Text, packing_form_usual: str) -> Text:
    """The form of the material, else the usual one."""
    return either(material_form == "", packing_form_usual, material_form)


@derived(
    title="Set compression by the material",
    unit="1",
    part=PART,
    source=cite("set-compression-braid"),
    guards=False,
    excel="IF(ISNUMBER({material_set_compression}),{material_set_compression},{set_compression_usual})",
)
def set_compression_default(material_set_compression: Num, set_compression_usual: float) -> Num:
    """The set compression of the material, else the usual one."""
    return np.where(np.isnan(material_set_compression), set_compression_usual, material_set_compression)


@derived(
    title="Seating compression by the material",
    unit="1",
    part=PART,
    source=cite("seating"),
    guards=False,
    excel="IF(ISNUMBER({material_seating_compression}),{material_seating_compression},{seating_compression_usual})",
)
def seating_compression_default(material_seating_compression: Num, seating_compression_usual: float) -> Num:
    """The seating compression of the material, else the usual one."""
    return np.where(np.isnan(material_seating_compression), seating_compression_usual, material_seating_compression)


@derived(
    title="Friction factor of the packing",
    symbol="μ",
    unit="1",
    part=PART,
    source=cite("material-figures"),
    optional=("material_friction_dry", "material_friction_lubricated"),
    excel='IF(EXACT({packing_state},"dry"),{material_friction_dry},{material_friction_lubricated})',
)
def material_friction(packing_state: Text, material_friction_dry: Num, material_friction_lubricated: Num) -> Num:
    """The friction factor of the material as it is fitted, dry or lubricated."""
    return np.where(packing_state == "dry", material_friction_dry, material_friction_lubricated)
