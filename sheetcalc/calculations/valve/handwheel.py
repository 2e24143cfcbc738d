"""Thrust or torque of the packing by the motion of the stem, the stem thread, and the pull at the handwheel rim.

The pull is that of the packing alone unless a thrust is typed: seat, wedge and pressure add to it.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero
from sheetcalc.calculations.given import given
from sheetcalc.calculations.valve.stem import PART
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Num
from sheetcalc.reference.sources import cite


@derived(
    title="Lead of the stem thread",
    symbol="l",
    unit="mm",
    part=PART,
    source=cite("power-screw"),
    excel="{stem_thread_starts}*{stem_thread_pitch}",
)
def stem_lead(stem_thread_starts: Num, stem_thread_pitch: Num) -> Num:
    """How far the stem goes in one turn."""
    return stem_thread_starts * stem_thread_pitch


@derived(
    title="Mean diameter of the stem thread",
    symbol="d_m",
    unit="mm",
    part=PART,
    source=cite("power-screw"),
    excel='IF(ROUND({stem_thread_diameter}-{stem_thread_pitch},{counting_digits})>0,{stem_thread_diameter}-{stem_thread_pitch}/2,"")',
)
def stem_thread_mean(stem_thread_diameter: Num, stem_thread_pitch: Num, counting_digits: float) -> Num:
    """The diameter at which the thread of the stem bears; blank where the pitch is not below the diameter."""
    below = above_zero(stem_thread_diameter - stem_thread_pitch, counting_digits)
    return np.where(below, stem_thread_diameter - stem_thread_pitch / 2, np.nan)


@derived(
    title="Path of the stem's surface in one turn",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("helix"),
    excel="SQRT((PI()*{stem_diameter})^2+{stem_lead}^2)",
)
def helix_length(stem_diameter: Num, stem_lead: Num) -> Num:
    """Length of the helix that a point of a rising and turning stem runs through in the packing in one turn."""
    return np.hypot(np.pi * stem_diameter, stem_lead)


@derived(
    title="Rise of the helix",
    symbol="",
    unit="1",
    part=PART,
    source=cite("helix"),
    excel="{stem_lead}/{helix_length}",
)
def helix_rise(stem_lead: Num, helix_length: Num) -> Num:
    """The part of that path that runs along the stem."""
    return stem_lead / helix_length


@derived(
    title="Turn of the helix",
    symbol="",
    unit="1",
    part=PART,
    source=cite("helix"),
    excel="PI()*{stem_diameter}/{helix_length}",
)
def helix_turn(stem_diameter: Num, helix_length: Num) -> Num:
    """The part of that path that runs around the stem."""
    return np.pi * stem_diameter / helix_length


@derived(
    title="Share of the friction along the stem",
    symbol="",
    unit="1",
    part=PART,
    source=cite("helix"),
    optional=("helix_rise",),
    excel="IF({stem_slides}*{stem_turns}=1,{helix_rise},{stem_slides})",
)
def thrust_share(stem_slides: Num, stem_turns: Num, helix_rise: Num) -> Num:
    """How much of the friction acts as thrust: all on a stem that only slides, none on one that only turns."""
    return np.where(stem_slides * stem_turns == 1, helix_rise, stem_slides)


@derived(
    title="Share of the friction around the stem",
    symbol="",
    unit="1",
    part=PART,
    source=cite("helix"),
    optional=("helix_turn",),
    excel="IF({stem_slides}*{stem_turns}=1,{helix_turn},{stem_turns})",
)
def turn_share(stem_slides: Num, stem_turns: Num, helix_turn: Num) -> Num:
    """How much of the friction acts as torque: none on a stem that only slides, all on one that only turns."""
    return np.where(stem_slides * stem_turns == 1, helix_turn, stem_turns)


@derived(
    title="Thrust of the packing",
    symbol="",
    unit="N",
    part=PART,
    source=cite("helix"),
    excel="{thrust_share}*{stem_friction}",
)
def stem_thrust_packing(thrust_share: Num, stem_friction: Num) -> Num:
    """The force along the stem that the packing asks for."""
    return thrust_share * stem_friction


given(
    "stem_thrust",
    title="Thrust on the stem",
    symbol="W",
    unit="N",
    part=PART,
    usual="stem_thrust_packing",
    low="0",
    high="largest_force",
    remedy="type the thrust that the stem thread must give, or clear the cell for that of the packing alone.",
    sentence="Force along the stem through its thread: of the packing alone, or a typed one with seat, wedge and pressure.",
)


@derived(
    title="Torque of the packing around the stem",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("helix"),
    excel="{turn_share}*{stem_friction_torque}",
)
def stem_turn_torque(turn_share: Num, stem_friction_torque: Num) -> Num:
    """The torque that the packing asks for on a stem that turns in it."""
    return turn_share * stem_friction_torque


@derived(
    title="Friction of the thread in its flank",
    symbol="",
    unit="1",
    part=PART,
    source=cite("power-screw"),
    excel="{stem_thread_friction}/COS(RADIANS({stem_thread_angle}))",
)
def flank_friction(stem_thread_friction: Num, stem_thread_angle: Num) -> Num:
    """Friction of the stem thread, made greater by the slope of its flanks."""
    return stem_thread_friction / np.cos(np.radians(stem_thread_angle))


@derived(
    title="Arm of the collar",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("power-screw"),
    excel="{collar_friction}*{collar_diameter}/2",
)
def collar_arm(collar_friction: Num, collar_diameter: Num) -> Num:
    """Torque over thrust of the collar."""
    return collar_friction * (collar_diameter / 2)


@derived(
    title="Way left by friction",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("power-screw"),
    excel="PI()*{stem_thread_mean}-{flank_friction}*{stem_lead}",
)
def thread_way(stem_thread_mean: Num, flank_friction: Num, stem_lead: Num) -> Num:
    """What friction leaves of the way around the thread in one turn; at 0 the thread locks."""
    return np.pi * stem_thread_mean - flank_friction * stem_lead


@derived(
    title="Arm of the thread, raising",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("power-screw"),
    excel="IF(ROUND({thread_way},{counting_digits})>0,{stem_thread_mean}/2*({stem_lead}+PI()*{flank_friction}*{stem_thread_mean})/"
    '{thread_way},"")',
)
def raise_arm(thread_way: Num, counting_digits: float, stem_thread_mean: Num, stem_lead: Num, flank_friction: Num) -> Num:
    """Torque over thrust of the thread when it works against the thrust; blank where friction would lock it."""
    arm = stem_thread_mean / 2 * (stem_lead + flank_friction * (np.pi * stem_thread_mean)) / thread_way
    return np.where(above_zero(thread_way, counting_digits), arm, np.nan)


@derived(
    title="Torque of the thread",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("power-screw"),
    optional=("raise_arm",),
    excel='IF({stem_thrust}>0,IFERROR({stem_thrust}*({raise_arm}+{collar_arm}),""),0)',
)
def screw_torque(stem_thrust: Num, raise_arm: Num, collar_arm: Num) -> Num:
    """The torque at the stem nut against the thrust, collar included; 0 where there is no thrust."""
    return np.where(stem_thrust > 0, stem_thrust * (raise_arm + collar_arm), stem_thrust * collar_arm)


@derived(
    title="Torque of the thread, with the thrust",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("power-screw"),
    excel="{stem_thrust}*({collar_arm}+{stem_thread_mean}/2*(PI()*{flank_friction}*{stem_thread_mean}-{stem_lead})/"
    "(PI()*{stem_thread_mean}+{flank_friction}*{stem_lead}))",
)
def lowering_torque(stem_thrust: Num, collar_arm: Num, stem_thread_mean: Num, flank_friction: Num, stem_lead: Num) -> Num:
    """The torque that moves the stem the way the thrust pushes it; negative where the thread runs back by itself."""
    around = np.pi * stem_thread_mean
    arm = stem_thread_mean / 2 * (flank_friction * around - stem_lead) / (around + flank_friction * stem_lead)
    return stem_thrust * (arm + collar_arm)


@derived(
    title="Efficiency of the thread",
    symbol="",
    unit="1",
    part=PART,
    source=cite("power-screw"),
    excel='IF({screw_torque}>0,{stem_thrust}*{stem_lead}/(2*PI()*{screw_torque}),"")',
)
def screw_efficiency(screw_torque: Num, stem_thrust: Num, stem_lead: Num) -> Num:
    """Work done on the stem over work done at the stem nut."""
    return np.where(screw_torque > 0, stem_thrust * stem_lead / (2 * np.pi * screw_torque), np.nan)


@derived(
    title="Torque at the handwheel",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("power-screw"),
    excel="{screw_torque}+{stem_turn_torque}",
)
def handwheel_torque(screw_torque: Num, stem_turn_torque: Num) -> Num:
    """What the hand must turn: the thread's share and that of a stem turning in the packing."""
    return screw_torque + stem_turn_torque


@derived(
    title="Pull at the rim",
    symbol="",
    unit="N",
    part=PART,
    source=cite("power-screw"),
    excel="{handwheel_torque}/{handwheel_radius}",
)
def rim_pull(handwheel_torque: Num, handwheel_radius: Num) -> Num:
    """The pull at the rim of the handwheel; packing alone, unless a thrust is typed."""
    return handwheel_torque / handwheel_radius


@derived(
    title="Pull at the rim, share of the greatest",
    symbol="",
    unit="1",
    part=PART,
    source=cite("rim-pull"),
    excel="{rim_pull}/{most_rim_pull}",
)
def rim_pull_share(rim_pull: Num, most_rim_pull: Num) -> Num:
    """The pull as a share of what is allowed."""
    return rim_pull / most_rim_pull


@fault(
    title="Stem thread not given",
    part=PART,
    source=cite("power-screw"),
    about=("stem_thread_diameter_entered", "stem_thread_pitch_entered"),
    optional=("stem_thread_diameter_entered", "stem_thread_pitch_entered"),
    words="A stem that rises needs the diameter and pitch of its thread for the pull at the handwheel: type both.",
    excel='AND({handwheel_radius}>0,{stem_slides}=1,OR(IFERROR({stem_thread_diameter_entered}="",0),IFERROR({stem_thread_pitch_entered}="",0)))',
)
def stem_thread_missing(handwheel_radius: Num, stem_slides: Num, stem_thread_diameter_entered: Num, stem_thread_pitch_entered: Num) -> Any:
    """Says that the thread of a rising stem is not typed though a handwheel is."""
    blank = np.isnan(stem_thread_diameter_entered) | np.isnan(stem_thread_pitch_entered)
    return (handwheel_radius > 0) & (stem_slides == 1) & blank


@fault(
    title="Pitch not below diameter",
    part=PART,
    source=cite("power-screw"),
    about=("stem_thread_diameter_entered", "stem_thread_pitch_entered"),
    words="The pitch of the stem thread is not below its diameter, so the two may be swapped: measure both again.",
    excel="ROUND({stem_thread_diameter}-{stem_thread_pitch},{counting_digits})<=0",
)
def stem_thread_odd(stem_thread_diameter: Num, stem_thread_pitch: Num, counting_digits: float) -> Flag:
    """Says that the thread of the stem cannot be so."""
    return ~above_zero(stem_thread_diameter - stem_thread_pitch, counting_digits)


@fault(
    title="Stem thread locks",
    part=PART,
    source=cite("power-screw"),
    about=("stem_thread_pitch_entered", "stem_thread_friction_entered"),
    words="With this pitch and friction the stem thread could not be turned at all: measure the thread again and look at its friction.",
    excel="ROUND({thread_way},{counting_digits})<=0",
)
def stem_thread_locks(thread_way: Num, counting_digits: float) -> Flag:
    """Says that friction would lock the thread, so that no torque can be worked out."""
    return ~above_zero(thread_way, counting_digits)


@fault(
    title="Pull at the rim over the greatest",
    part=PART,
    source=cite("rim-pull"),
    about=("handwheel_radius_entered", "packing_material"),
    words="The pull at the handwheel rim is more than is allowed: look at friction and gland stress, or ask the owner's engineer.",
    excel="ROUND({rim_pull_share}-1,{counting_digits})>0",
)
def rim_pull_over(rim_pull_share: Num, counting_digits: float) -> Flag:
    """Says that a person would have to pull too hard."""
    return above_zero(rim_pull_share - 1, counting_digits)
