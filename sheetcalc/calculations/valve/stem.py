"""What the stem feels: friction of the packing, and the pressure; and what is typed of its thread and handwheel."""

from __future__ import annotations

import numpy as np

from sheetcalc.calculations.arithmetic import rounded
from sheetcalc.calculations.given import OVERRIDE, given
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num
from sheetcalc.reference.sources import cite

PART = "stem"

_CLEAR = "measure again and type the number, or clear the cell."
given(
    "stem_thread_diameter",
    title="Stem thread diameter",
    symbol="d_t",
    unit="mm",
    part=PART,
    low="smallest_diameter",
    high="largest_diameter",
    remedy=_CLEAR,
    sentence="Outside diameter of the thread of the stem.",
)
given(
    "stem_thread_pitch",
    title="Stem thread pitch",
    symbol="p_t",
    unit="mm",
    part=PART,
    low="smallest_step",
    high="largest_length",
    remedy=_CLEAR,
    sentence="Pitch of the thread of the stem, from one turn to its neighbour.",
)
given(
    "handwheel_radius",
    title="Handwheel radius",
    symbol="R_h",
    unit="mm",
    part=PART,
    low="smallest_length",
    high="largest_length",
    remedy="measure from the middle of the stem to the rim and type the number; 0 is none.",
    sentence="From the middle of the stem to the rim of the handwheel, or to the hand on a lever.",
)
given(
    "collar_diameter",
    title="Thrust collar diameter",
    symbol="d_c",
    unit="mm",
    part=PART,
    usual="0",
    low="0",
    high="largest_diameter",
    remedy=_CLEAR,
    sentence="Mean diameter of the collar of the stem nut, if it rubs.",
)
given(
    "stem_thread_starts",
    title="Stem thread starts",
    symbol="",
    unit="1",
    part=PART,
    usual="stem_thread_starts_usual",
    whole=True,
    low="1",
    high="largest_count",
    remedy=OVERRIDE,
    sentence="Number of starts of the stem thread.",
)
given(
    "stem_thread_friction",
    title="Stem thread friction",
    symbol="μ_t",
    unit="1",
    part=PART,
    usual="stem_thread_friction_usual",
    low="0",
    high="1",
    remedy=OVERRIDE,
    sentence="Friction factor of the stem in its nut.",
)
given(
    "collar_friction",
    title="Collar friction",
    symbol="μ_c",
    unit="1",
    part=PART,
    usual="collar_friction_usual",
    low="0",
    high="1",
    remedy=OVERRIDE,
    sentence="Friction factor of the thrust collar.",
)
given(
    "stem_thread_angle",
    title="Stem thread flank angle",
    symbol="α",
    unit="deg",
    part=PART,
    usual="stem_thread_angle_usual",
    low="0",
    high="largest_angle",
    remedy=OVERRIDE,
    sentence="Half of the thread angle of the stem thread.",
)
given(
    "most_rim_pull",
    title="Greatest pull at the rim",
    symbol="",
    unit="N",
    part=PART,
    usual="most_rim_pull_usual",
    low="1",
    high="largest_force",
    remedy=OVERRIDE,
    sentence="The pull at the rim that is allowed.",
)


@derived(
    title="Friction of the packing, even stress",
    symbol="F_u",
    unit="N",
    part=PART,
    source=cite("stem-friction-even"),
    excel="PI()*{stem_diameter}*{stem_friction_factor}*{lateral_ratio}*{gland_stress}*{set_height}",
)
def stem_friction_uniform(stem_diameter: Num, stem_friction_factor: Num, lateral_ratio: Num, gland_stress: Num, set_height: Num) -> Num:
    """Friction on the stem if the gland stress reached every ring: the most that it can be."""
    contact = stem_friction_factor * lateral_ratio * gland_stress
    return np.pi * stem_diameter * set_height * contact


@derived(
    title="Decay over the set",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stack-decay"),
    excel="{stress_decay}*{set_height}",
)
def decay_over_set(stress_decay: Num, set_height: Num) -> Num:
    """The exponent by which the stress falls from follower to bottom."""
    return stress_decay * set_height


@derived(
    title="Mean stress over gland stress",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stem-friction"),
    excel="IF(ROUND({decay_over_set},{counting_digits})>0,(1-EXP(-{decay_over_set}))/{decay_over_set},1)",
)
def mean_stress_ratio(decay_over_set: Num, counting_digits: float) -> Num:
    """Mean axial stress of the set over the stress at the follower; 1 without friction."""
    falls = rounded(decay_over_set, counting_digits) > 0
    return np.where(falls, -np.expm1(-decay_over_set) / decay_over_set, 1.0)


@derived(
    title="Friction of the packing",
    symbol="F_p",
    unit="N",
    part=PART,
    source=cite("stem-friction"),
    excel="{stem_friction_uniform}*{mean_stress_ratio}",
)
def stem_friction(stem_friction_uniform: Num, mean_stress_ratio: Num) -> Num:
    """Friction on the stem with the stress falling down the stack."""
    return stem_friction_uniform * mean_stress_ratio


@derived(
    title="Friction torque on a turning stem",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("stem-friction"),
    excel="{stem_friction}*{stem_diameter}/2",
)
def stem_friction_torque(stem_friction: Num, stem_diameter: Num) -> Num:
    """The torque of the packing on a stem that only turns."""
    return stem_friction * stem_diameter / 2


@derived(
    title="Pressure thrust on the stem",
    symbol="",
    unit="N",
    part=PART,
    source=cite("pressure-thrust"),
    excel="PI()/4*{stem_diameter}^2*{line_pressure}",
)
def pressure_thrust(stem_diameter: Num, line_pressure: Num) -> Num:
    """What the line pressure pushes the stem out with: often more than the packing."""
    return np.pi * (stem_diameter / 2) ** 2 * line_pressure
