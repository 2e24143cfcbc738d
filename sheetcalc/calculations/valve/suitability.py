"""Whether fluid, temperature, pressure, pH and motion lie within the material's limits."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, either, pick, pick_in, row_ignoring_case, said_of, word
from sheetcalc.calculations.valve.material import PART
from sheetcalc.declare.blocks import derived, fault, fault_where, gathered
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Column of the kind of fluid",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel='IF(EXACT({fluid_kind},"not stated"),"",INDEX({fluid_kind_columns},MATCH({fluid_kind},{fluid_kind_names},0)))',
)
def fluid_column(fluid_kind: Text, fluid_kind_columns: Num, fluid_kind_names: list[str]) -> Any:
    """Which column of a material's fluids is asked; blank where the kind of fluid is not stated."""
    return pick(row_ignoring_case(fluid_kind, fluid_kind_names), fluid_kind_columns)


@derived(
    title="Caution of the fluid",
    part=PART,
    source=cite("practice"),
    text=True,
    excel="INDEX({fluid_kind_cautions},MATCH({fluid_kind},{fluid_kind_names},0))",
)
def fluid_caution(fluid_kind_cautions: list[str], fluid_kind: Text, fluid_kind_names: list[str]) -> Any:
    """What this kind of fluid asks of the person at the gland."""
    return pick(row_ignoring_case(fluid_kind, fluid_kind_names), fluid_kind_cautions)


@derived(
    title="Material suits the fluid",
    unit="1",
    part=PART,
    source=cite("service"),
    excel="INDEX({materials_fluids},{material_row},{fluid_column})",
)
def material_suits_fluid(materials_fluids: Num, material_row: Num, fluid_column: Num) -> Any:
    """1 where the material's row says yes to this kind of fluid, 0 where it says no, blank where it says nothing."""
    return pick_in(material_row, fluid_column, materials_fluids)


def _code(motion: Text, names: list[str], column: Num) -> Any:
    return pick(row_ignoring_case(motion, names), column)


@derived(
    title="Stem slides",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel='IF(EXACT({stem_motion},"not stated"),"",INDEX({motion_slides},MATCH({stem_motion},{stem_motion_names},0)))',
)
def stem_slides(stem_motion: Text, motion_slides: Num, stem_motion_names: list[str]) -> Any:
    """1 where the stem slides through the packing, 0 where not, blank where its motion is not stated."""
    return _code(stem_motion, stem_motion_names, motion_slides)


@derived(
    title="Stem turns",
    unit="1",
    part=PART,
    source=cite("reading"),
    excel='IF(EXACT({stem_motion},"not stated"),"",INDEX({motion_turns},MATCH({stem_motion},{stem_motion_names},0)))',
)
def stem_turns(stem_motion: Text, motion_turns: Num, stem_motion_names: list[str]) -> Any:
    """1 where the stem turns in the packing, 0 where not, blank where its motion is not stated."""
    return _code(stem_motion, stem_motion_names, motion_turns)


@derived(
    title="Material suits a sliding stem",
    unit="1",
    part=PART,
    source=cite("service"),
    excel="INDEX({materials_motions},{material_row},1)",
)
def material_slides(materials_motions: Num, material_row: Num) -> Any:
    """1 where the material's row says yes to a stem that slides."""
    return pick_in(material_row, np.ones_like(material_row), materials_motions)


@derived(
    title="Material suits a turning stem",
    unit="1",
    part=PART,
    source=cite("service"),
    excel="INDEX({materials_motions},{material_row},2)",
)
def material_turns(materials_motions: Num, material_row: Num) -> Any:
    """1 where the material's row says yes to a stem that turns."""
    return pick_in(material_row, 2 * np.ones_like(material_row), materials_motions)


@derived(
    title="Material on the fluid",
    part=PART,
    source=cite("service"),
    text=True,
    excel='CHOOSE(1+{material_suits_fluid},"no","yes")',
)
def material_fluid_words(material_suits_fluid: Num) -> Text:
    """What the material's row says to this kind of fluid."""
    return either(material_suits_fluid > 0, "yes", "no")


@derived(
    title="Material on the motion",
    part=PART,
    source=cite("service"),
    text=True,
    excel='IF(OR(AND({stem_slides}>0,{material_slides}=0),AND({stem_turns}>0,{material_turns}=0)),"no","yes")',
)
def material_motion_words(stem_slides: Num, material_slides: Num, stem_turns: Num, material_turns: Num) -> Text:
    """What the material's row says to the motion of this stem."""
    bad = (stem_slides > material_slides) | (stem_turns > material_turns)
    return either(bad, "no", "yes")


@fault(
    title="Material not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque",),
    source=cite("service"),
    about=("packing_material",),
    optional=("packing_material",),
    words="Packing material missing.",
    excel='AND({in_use}=1,IFERROR({packing_material}="",0))',
)
def material_missing(in_use: Num, packing_material: Text) -> Any:
    """Says that no material is chosen."""
    return (in_use == 1) & (packing_material == "")


@fault(
    title="Material not known",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("packing_material",),
    optional=("packing_material", "material_row"),
    words="Packing material is none of the listed ones: choose it from Materials, or give it a row of its own there.",
    excel='AND(IFERROR({packing_material}<>"",1),NOT(ISNUMBER({material_row})))',
)
def material_not_known(packing_material: Text, material_row: Num) -> Any:
    """Says that the material is not on Materials."""
    return (packing_material != "") & np.isnan(material_row)


@fault(
    title="Form not that of the material",
    part=PART,
    source=cite("practice"),
    about=("packing_form_entered", "packing_material"),
    words="The packing form typed is not the form of the packing material: clear the form or choose another material.",
    excel="NOT(EXACT({packing_form},{material_form}))",
)
def form_conflict(packing_form: Text, material_form: Text) -> Any:
    """Says that form and material contradict each other."""
    return np.asarray(packing_form) != np.asarray(material_form)


_MISSING: Final = (
    ("temperature", "temperature limit", ("temperature_low", "temperature_high", "temperature_high_air")),
    ("pressure", "pressure limit", ("pressure_high",)),
    ("ph", "pH limit", ("ph_low", "ph_high")),
    ("friction", "friction factor", ("friction_dry", "friction_lubricated")),
    ("ratio", "lateral ratio", ("lateral_ratio",)),
    ("density", "density", ("density",)),
)


def _some_missing(row: Any, *figures: Any) -> Any:
    out: Any = False
    for figure in figures:
        out = out | np.isnan(figure)
    return ~np.isnan(row) & out


for _name, _title, _figures in _MISSING:
    _reads = ("material_row", *(f"material_{one}" for one in _figures))
    _counted = ",".join(f"{{{one}}}" for one in _reads[1:])
    fault_where(
        f"material_{_name}_missing",
        _reads,
        _some_missing,
        f"Says that the {_title} of the material is not on Materials.",
        title=f"Material without {_title}",
        part=PART,
        source=cite("service"),
        about=("packing_material",),
        optional=_reads,
        words=f"The material's row states no {_title}: ask its maker and type it on Materials.",
        excel=f"AND(ISNUMBER({{material_row}}),COUNT({_counted})<{len(_figures)})",
    )


@fault(
    title="Temperature not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque", "flange_bolt_torque"),
    source=cite("service"),
    about=("fluid_temperature_entered",),
    optional=("fluid_temperature_entered",),
    words="Fluid temperature missing.",
    excel='AND({in_use}=1,IFERROR({fluid_temperature_entered}="",0))',
)
def temperature_missing(in_use: Num, fluid_temperature_entered: Num) -> Any:
    """Says that no temperature is typed."""
    return (in_use == 1) & np.isnan(fluid_temperature_entered)


@fault(
    title="pH not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("stud_torque", "flange_bolt_torque"),
    source=cite("service"),
    about=("fluid_ph_entered", "fluid_kind_entered"),
    optional=("fluid_ph_entered",),
    words="pH of the chemical missing.",
    excel='AND(EXACT({fluid_kind},"chemical"),IFERROR({fluid_ph_entered}="",0))',
)
def ph_missing(fluid_kind: Text, fluid_ph_entered: Num) -> Any:
    """Says that a chemical has no pH."""
    return (fluid_kind == "chemical") & np.isnan(fluid_ph_entered)


for _name, _read, _title, _words, _kept in (
    ("fluid_kind_missing", "fluid_kind", "Kind of fluid not stated", "Kind of fluid not stated.", ("stud_torque", "flange_bolt_torque")),
    ("stem_motion_missing", "stem_motion", "Motion of the stem not stated", "Motion of the stem not stated.", ("stud_torque",)),
):
    fault_where(
        _name,
        ("in_use", _read),
        lambda in_use, stated: (in_use == 1) & (stated == "not stated"),
        f"Says that nobody has chosen it: {_title[0].lower()}{_title[1:]}.",
        title=_title,
        part=PART,
        gravity=Gravity.UNASKED,
        withholds=_kept,
        source=cite("service"),
        about=(f"{_read}_entered",),
        words=_words,
        excel=f'AND({{in_use}}=1,EXACT({{{_read}}},"not stated"))',
    )


@fault(
    title="Fluid not judged by the material",
    part=PART,
    source=cite("service"),
    about=("fluid_kind_entered", "packing_material"),
    optional=("material_suits_fluid",),
    words="The material's row does not say whether it suits this kind of fluid: ask its maker and type yes or no on Materials.",
    excel='AND({material_row}>0,{fluid_column}>0,NOT(EXACT({fluid_kind},"oxygen")),NOT(ISNUMBER({material_suits_fluid})))',
)
def fluid_not_judged(material_row: Num, fluid_column: Num, fluid_kind: Text, material_suits_fluid: Num) -> Any:
    """Says that a material is silent on the kind of fluid; in oxygen its test report is asked instead."""
    return (material_row > 0) & (fluid_column > 0) & (fluid_kind != "oxygen") & np.isnan(material_suits_fluid)


@fault(
    title="Motion not judged by the material",
    part=PART,
    source=cite("service"),
    about=("stem_motion_entered", "packing_material"),
    optional=("material_slides", "material_turns"),
    words="The material's row does not say whether it suits the motion of this stem: ask its maker and type yes or no on Materials.",
    excel="AND({material_row}>0,OR(AND({stem_slides}>0,NOT(ISNUMBER({material_slides}))),"
    "AND({stem_turns}>0,NOT(ISNUMBER({material_turns})))))",
)
def motion_not_judged(material_row: Num, stem_slides: Num, material_slides: Num, stem_turns: Num, material_turns: Num) -> Any:
    """Says that a material is silent on the motion of the stem."""
    silent = (stem_slides > 0) & np.isnan(material_slides) | (stem_turns > 0) & np.isnan(material_turns)
    return (material_row > 0) & silent


@fault(
    title="Too hot for every material",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("fluid_temperature_entered",),
    words="The fluid is hotter than every listed material bears: ask the owner's engineer.",
    excel="ROUND({fluid_temperature}-IF({fluid_in_air}=1,MAX({materials_temperature_high_air}),MAX({materials_temperature_high})),"
    "{counting_digits})>0",
)
def too_hot_for_all(
    fluid_temperature: Num, fluid_in_air: Num, materials_temperature_high_air: Num, materials_temperature_high: Num, counting_digits: float
) -> Flag:
    """Says that no row of Materials bears the temperature."""
    hottest = np.where(fluid_in_air == 1, np.nanmax(materials_temperature_high_air), np.nanmax(materials_temperature_high))
    return above_zero(fluid_temperature - hottest, counting_digits)


@fault(
    title="Too hot for the material",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("fluid_temperature_entered", "packing_material"),
    words="The fluid is hotter than the packing material bears: choose another material.",
    excel="ROUND({fluid_temperature}-{material_temperature_high},{counting_digits})>0",
)
def too_hot(fluid_temperature: Num, material_temperature_high: Num, counting_digits: float) -> Flag:
    """Says that the temperature is above the material's limit."""
    return above_zero(fluid_temperature - material_temperature_high, counting_digits)


@fault(
    title="Too cold for the material",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("fluid_temperature_entered", "packing_material"),
    words="The fluid is colder than the packing material bears: choose another material.",
    excel="ROUND({material_temperature_low}-{fluid_temperature},{counting_digits})>0",
)
def too_cold(material_temperature_low: Num, fluid_temperature: Num, counting_digits: float) -> Flag:
    """Says that the temperature is below the material's limit."""
    return above_zero(material_temperature_low - fluid_temperature, counting_digits)


@fault(
    title="Pressure above the material's limit",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("line_pressure_entered", "packing_material"),
    words="The line pressure is above the packing material's limit: choose another material.",
    excel="ROUND({line_pressure}-{material_pressure_high},{counting_digits})>0",
)
def pressure_over_material(line_pressure: Num, material_pressure_high: Num, counting_digits: float) -> Flag:
    """Says that the pressure is above the material's limit."""
    return above_zero(line_pressure - material_pressure_high, counting_digits)


@fault(
    title="pH outside the material's limits",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("fluid_ph_entered", "packing_material"),
    words="The pH of the fluid is outside the packing material's limits: choose another material.",
    excel="OR({fluid_ph}<{material_ph_low},{fluid_ph}>{material_ph_high})",
)
def ph_outside(fluid_ph: Num, material_ph_low: Num, material_ph_high: Num) -> Flag:
    """Says that the pH is outside the material's limits."""
    return (fluid_ph < material_ph_low) | (fluid_ph > material_ph_high)


@fault(
    title="Material not for this fluid",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("fluid_kind_entered", "packing_material"),
    words="The packing material does not suit this kind of fluid: choose another material.",
    excel="{material_suits_fluid}=0",
)
def fluid_unsuitable(material_suits_fluid: Num) -> Any:
    """Says that the material's row says no to the kind of fluid."""
    return material_suits_fluid == 0


@fault(
    title="Material not for this motion",
    part=PART,
    gravity=Gravity.STOP,
    source=cite("service"),
    about=("stem_motion_entered", "packing_material"),
    optional=("material_slides", "material_turns"),
    words="The packing material does not suit the motion of this stem: choose another material.",
    excel="OR(AND({stem_slides}>0,{material_slides}=0),AND({stem_turns}>0,{material_turns}=0))",
)
def motion_unsuitable(stem_slides: Num, material_slides: Num, stem_turns: Num, material_turns: Num) -> Any:
    """Says that the material's row says no to the motion of the stem."""
    return (stem_slides > 0) & (material_slides == 0) | (stem_turns > 0) & (material_turns == 0)


_REFUSALS: Final = (
    "too_hot",
    "too_hot_in_air",
    "too_cold",
    "pressure_over_material",
    "ph_outside",
    "fluid_unsuitable",
    "motion_unsuitable",
    "material_no_report",
    "material_report_low",
)
_GAPS: Final = (
    *(f"material_{name}_missing" for name, _title, _figures in _MISSING),
    "temperature_missing",
    "pressure_missing",
    "ph_missing",
    "fluid_kind_missing",
    "stem_motion_missing",
    "fluid_not_judged",
    "motion_not_judged",
    "fluid_temperature_fault",
    "fluid_ph_fault",
    "line_pressure_fault",
    "fluid_kind_fault",
    "stem_motion_fault",
)

for _name, _faults, _doc in (
    ("material_refusals", _REFUSALS, "Why the material does not suit."),
    ("material_gaps", _GAPS, "What is not known about the material or the service."),
):
    gathered(
        _name,
        _faults,
        said_of,
        _doc,
        title=_doc[:-1],
        part=PART,
        source=cite("service"),
        text=True,
        guards=False,
    )


@derived(
    title="Verdict on the material",
    part=PART,
    source=cite("service"),
    text=True,
    optional=("material_refusals", "material_gaps"),
    excel='CHOOSE(SIGN({material_row})+MAX(2*SIGN(LEN({material_refusals})),SIGN(LEN({material_gaps}))),"suits as far as stated",'
    '"not known: a limit or the service is missing","does not suit")',
)
def material_verdict(material_row: Num, material_refusals: Text, material_gaps: Text) -> Text:
    """Whether fluid, temperature, pressure, pH and motion, as far as they are stated, lie in the limits of the material."""
    words = ("", "suits as far as stated", "not known: a limit or the service is missing", "does not suit")
    place = np.where(material_refusals != "", 3, np.where(material_gaps != "", 2, 1))
    return word(np.where(material_row > 0, place, 0), words)
