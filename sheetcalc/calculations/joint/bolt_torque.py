"""The torque of the flange bolts in two forms, and what stands against it."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.joint.bolt_load import TARGET
from sheetcalc.calculations.joint.flange import PART
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Material of the flanges allows a torque",
    unit="1",
    part=PART,
    source=cite("flange-facings"),
    excel="INDEX({material_torques},{flange_material_row})",
)
def flange_material_allows(material_torques: Num, flange_material_row: Num) -> Any:
    """1 where flanges of the material may get a torque from size and class, else 0."""
    return pick(flange_material_row, material_torques)


@derived(
    title="Reasons against a flange bolt torque",
    unit="1",
    part=PART,
    source=TARGET,
    excel='2-{flange_raised}-{flange_material_allows}+NOT(EXACT({comes_out},"yes"))',
)
def flange_objections(flange_raised: Num, flange_material_allows: Num, comes_out: Text) -> Any:
    """How many things speak against a torque from us: facing, material, and that the valve stays in the line."""
    stays = np.where(comes_out == "yes", 0.0, 1.0)
    return stays + (1 - flange_material_allows) + (1 - flange_raised)


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


@derived(
    title="Flange bolt torque by the long form",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("long-torque"),
    excel="{flange_torque_ratio}*{flange_bolt_torque}",
)
def flange_bolt_torque_long(flange_torque_ratio: Num, flange_bolt_torque: Num) -> Num:
    """The flange bolt torque by the second method, to be held beside the first; blank where the first is."""
    return flange_bolt_torque * flange_torque_ratio
