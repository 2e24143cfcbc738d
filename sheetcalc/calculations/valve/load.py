"""What is typed of gland and studs, the gland load that the packing needs, and each stud's share of it."""

from __future__ import annotations

import numpy as np

from sheetcalc.calculations.arithmetic import either
from sheetcalc.calculations.given import OVERRIDE, given, given_code
from sheetcalc.declare.blocks import derived, entry
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
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


@derived(
    title="Gland has studs",
    part=PART,
    source=cite("reading"),
    text=True,
    guards=False,
    excel='IF(EXACT({gland_kind},"packing nut"),"no","yes")',
)
def gland_has_studs(gland_kind: Text) -> Text:
    """No where a packing nut presses the packing: then nothing is said of studs."""
    return either(gland_kind == "packing nut", "no", "yes")


given(
    "gland_stud_count",
    title="Gland stud count",
    symbol="n_b",
    unit="1",
    part=PART,
    whole=True,
    low="1",
    high="largest_count",
    where="gland_has_studs",
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
    gravity=Gravity.LOOK,
    where="gland_has_studs",
    remedy="measure the thread that each nut can still run down, or clear the cell.",
    sentence="Thread below the gland nuts at finger tight, for them to run down.",
)
given(
    "least_gland_stress",
    title="Least gland stress",
    symbol="σ_min",
    unit="MPa",
    part=PART,
    usual="material_least_stress",
    low="smallest_stress",
    high="largest_stress",
    remedy=OVERRIDE,
    noted=True,
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
    remedy=OVERRIDE,
    noted=True,
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
    remedy=OVERRIDE,
    noted=True,
    sentence="The axial stress that the packing bears; blank where none is stated.",
)


@derived(
    title="Annulus area",
    symbol="A",
    unit="mm**2",
    part=PART,
    source=cite("gland-load"),
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
    source=cite("gland-stress"),
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
    source=cite("gland-stress"),
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
    source=cite("gland-load"),
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
    source=cite("gland-load"),
    excel='IF(EXACT({gland_kind},"packing nut"),"",{gland_load}/{gland_stud_count})',
)
def stud_load(gland_kind: Text, gland_load: Num, gland_stud_count: Num) -> Num:
    """The share of the gland load that each stud carries."""
    return np.where(gland_kind == "packing nut", np.nan, gland_load / gland_stud_count)
