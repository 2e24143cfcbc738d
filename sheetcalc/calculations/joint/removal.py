"""Man-hours of taking a flanged valve out of the line and putting it back, by a model of ours: the user's own records come first."""

from __future__ import annotations

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num
from sheetcalc.reference.sources import cite

PART = "removal"


@derived(
    title="Times longer with large flange bolts",
    unit="1",
    part=PART,
    source=cite("joint-minutes"),
    excel="IF(ROUND({flange_bolt_diameter}-(1+1/2)*{inch_length},{counting_digits})>0,{joint_largest_bolts},"
    "IF(ROUND({flange_bolt_diameter}-{inch_length},{counting_digits})>0,{joint_large_bolts},1))",
)
def joint_times(
    flange_bolt_diameter: Num, inch_length: float, counting_digits: float, joint_largest_bolts: float, joint_large_bolts: float
) -> Num:
    """How many times longer a joint takes with bolts above an inch, and above an inch and a half."""
    above, far_above = (above_zero(flange_bolt_diameter - inches * inch_length, counting_digits) for inches in (1, 1.5))
    times = np.select([far_above, above], [joint_largest_bolts, joint_large_bolts], 1.0)
    return np.where(np.isnan(flange_bolt_diameter), np.nan, times)


@derived(
    title="Man-hours of a flange joint",
    unit="h",
    part=PART,
    source=cite("joint-minutes"),
    excel="({joint_minutes}+{flange_bolt_count}*({joint_bolt_minutes}+{joint_rounds}*{joint_round_minutes}))*{joint_times}/{hour_minutes}",
)
def joint_hours(
    joint_minutes: float,
    flange_bolt_count: Num,
    joint_bolt_minutes: float,
    joint_rounds: float,
    joint_round_minutes: float,
    joint_times: Num,
    hour_minutes: float,
) -> Num:
    """Opening one joint and making it again: so long for the joint, for each bolt, and for each bolt in each round."""
    bolt = joint_round_minutes * joint_rounds + joint_bolt_minutes
    return joint_times / hour_minutes * (flange_bolt_count * bolt + joint_minutes)


@derived(
    title="Man-hours of lifting the valve",
    unit="h",
    part=PART,
    source=cite("lift-minutes"),
    excel="({lift_minutes}+{lift_mass_minutes}*{valve_mass})/{hour_minutes}",
)
def lift_hours(lift_minutes: float, lift_mass_minutes: float, valve_mass: Num, hour_minutes: float) -> Num:
    """Lifting the valve out and back: so long for any valve, and more by its mass, as typed or estimated."""
    return valve_mass * lift_mass_minutes / hour_minutes + lift_minutes / hour_minutes


@derived(
    title="Removal and refit, man-hours",
    unit="h",
    part=PART,
    source=cite("joint-minutes"),
    excel="{flange_joint_count}*{joint_hours}+{lift_hours}",
)
def out_hours(flange_joint_count: Num, joint_hours: Num, lift_hours: Num) -> Num:
    """Its flange joints and its lift; not draining, blanks, scaffold, nor taking off an actuator."""
    return lift_hours + joint_hours * flange_joint_count
