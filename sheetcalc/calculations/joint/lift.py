"""Lifting the valve: its mass, typed or estimated from memory, and what each leg of the sling bears.

An estimate never passes as checked: a sentence stands beside it until a mass is typed.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, either
from sheetcalc.calculations.given import given, given_code
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Gravity, Num, Text
from sheetcalc.reference.sources import cite

PART = "lift"
MEMORY: Final = cite("mass-estimate")
SLING: Final = cite("sling-load")

given_code(
    "valve_actuated",
    title="Valve has an actuator",
    part=PART,
    names="yes_no_names",
    usual="valve_actuated_usual",
    remedy="choose yes or no.",
    sentence="Whether a motor or a diaphragm works the valve, and comes out of the line with it.",
)


@derived(
    title="Mass estimate, from memory",
    symbol="",
    unit="kg",
    part=PART,
    source=MEMORY,
    excel="{mass_estimate_share}*{steel_density}*{flange_outside}^(2+1)",
)
def mass_estimate(mass_estimate_share: float, steel_density: float, flange_outside: Num) -> Num:
    """A bare steel gate valve with flanges of this size, without actuator: from memory, and as much as half or double off."""
    return steel_density * flange_outside**3 * mass_estimate_share


@derived(
    title="Mass estimate, low end, from memory",
    symbol="",
    unit="kg",
    part=PART,
    source=MEMORY,
    excel="{mass_estimate_low_share}*{mass_estimate}",
)
def mass_estimate_low(mass_estimate_low_share: float, mass_estimate: Num) -> Num:
    """A light valve of this size may weigh as little as this."""
    return mass_estimate * mass_estimate_low_share


@derived(
    title="Mass estimate, high end, from memory",
    symbol="",
    unit="kg",
    part=PART,
    source=MEMORY,
    excel="{mass_estimate_high_share}*{mass_estimate}",
)
def mass_estimate_high(mass_estimate_high_share: float, mass_estimate: Num) -> Num:
    """A heavy valve of this size may weigh as much as this: it is lifted by this figure until its mass is typed."""
    return mass_estimate * mass_estimate_high_share


given(
    "valve_mass",
    title="Mass of the valve",
    symbol="m_v",
    unit="kg",
    part=PART,
    usual="mass_estimate_high",
    low="smallest_mass",
    high="largest_mass",
    remedy="type what the valve weighs with all that hangs on the sling, or clear the cell.",
    sentence="What hangs on the sling, with actuator and the liquid left inside.",
)
given(
    "sling_legs",
    title="Sling legs",
    symbol="n_s",
    unit="1",
    part=PART,
    whole=True,
    low="1",
    high="largest_sling_legs",
    remedy="type the whole number of legs of one sling or clear the cell.",
    sentence="How many legs of a sling the valve hangs on.",
)
_MEASURE: Final = "measure again and type the number, or clear the cell."
given(
    "leg_length",
    title="Length of a sling leg",
    symbol="L_s",
    unit="mm",
    part=PART,
    low="smallest_sling_length",
    high="largest_sling_length",
    remedy=_MEASURE,
    sentence="From the hook to where a leg is made fast to the valve.",
)
given(
    "hook_height",
    title="Height of the hook",
    symbol="h_s",
    unit="mm",
    part=PART,
    low="smallest_sling_length",
    high="largest_sling_length",
    remedy=_MEASURE,
    sentence="How high the hook is above the points where the legs are made fast.",
)


@derived(
    title="Sling angle by length and height",
    symbol="",
    unit="deg",
    part=PART,
    source=cite("sling-triangle"),
    excel='IF(ROUND({leg_length}-{hook_height},{counting_digits})<0,"",'
    "2*DEGREES(ATAN(MIN({hook_height},{leg_length})/({leg_length}+SQRT({leg_length}^2-MIN({hook_height},{leg_length})^2)))))",
)
def sling_angle_reckoned(leg_length: Num, hook_height: Num, counting_digits: float) -> Num:
    """The angle of a leg from the horizontal, by its length and the height of the hook; blank where the hook is too high for it."""
    reaches = at_least_zero(leg_length - hook_height, counting_digits)
    return np.where(reaches, np.degrees(np.arcsin(np.minimum(hook_height, leg_length) / leg_length)), np.nan)


@derived(
    title="Sling angle, usual",
    symbol="",
    unit="deg",
    part=PART,
    source=SLING,
    guards=False,
    excel="IF({sling_legs}=1,{largest_sling_angle},{sling_angle_reckoned})",
)
def sling_angle_usual(sling_legs: Num, largest_sling_angle: float, sling_angle_reckoned: Num) -> Num:
    """Upright for a single leg, else the angle by length and height."""
    return np.where(sling_legs == 1, largest_sling_angle, sling_angle_reckoned)


given(
    "sling_angle",
    title="Sling angle",
    symbol="θ_s",
    unit="deg",
    part=PART,
    usual="sling_angle_usual",
    low="smallest_sling_angle",
    high="largest_sling_angle",
    remedy="type the angle of a leg from the horizontal, upright being a right angle, or clear the cell.",
    sentence="Angle of the legs from the horizontal, not from the vertical.",
)
given(
    "leg_capacity",
    title="Capacity of a sling leg",
    symbol="m_l",
    unit="kg",
    part=PART,
    low="smallest_mass",
    high="largest_mass",
    remedy="type what one leg may lift by its tag, or clear the cell.",
    sentence="What one leg may lift by its tag, in the hitch in which it is used.",
)


@derived(
    title="Lifted by hand",
    symbol="",
    unit="1",
    part=PART,
    source=cite("one-person"),
    excel="IF(ROUND({valve_mass_typed}-{one_person_mass},{counting_digits})<=0,1,0)",
)
def lifted_by_hand(valve_mass_typed: Num, one_person_mass: float, counting_digits: float) -> Num:
    """1 where the typed mass is one that a person lifts alone, 0 where it is more; blank where it is an estimate."""
    return np.where(above_zero(valve_mass_typed - one_person_mass, counting_digits), 0.0, 1.0)


@derived(
    title="Mass of the valve, in words",
    part=PART,
    source=MEMORY,
    text=True,
    optional=("lifted_by_hand",),
    excel='CHOOSE(COUNT({valve_mass},{lifted_by_hand}),"an estimate, the high end: weigh the valve or ask its maker",'
    'IF({lifted_by_hand}=1,"as typed: lifted by hand","as typed"))',
)
def mass_words(valve_mass: Num, lifted_by_hand: Num) -> Text:
    """Where the mass is from: typed, and light enough to be lifted by hand or not, or an estimate that nobody has checked."""
    typed = either(lifted_by_hand > 0, "as typed: lifted by hand", "as typed")
    return either(np.isnan(lifted_by_hand) & ~np.isnan(valve_mass), "an estimate, the high end: weigh the valve or ask its maker", typed)


@derived(
    title="Sling legs counted",
    symbol="",
    unit="1",
    part=PART,
    source=cite("rigid-legs"),
    excel="MIN({sling_legs},{rigid_legs})",
)
def legs_counted(sling_legs: Num, rigid_legs: float) -> Num:
    """On a rigid load two legs may bear all, however many there are."""
    return np.minimum(sling_legs, rigid_legs)


@derived(
    title="Sling angle, least that is allowed",
    symbol="",
    unit="deg",
    part=PART,
    source=cite("sling-angle"),
    guards=False,
    excel="IF({sling_legs}=1,{largest_sling_angle},{least_sling_angle})",
)
def sling_angle_least(sling_legs: Num, largest_sling_angle: float, least_sling_angle: float) -> Num:
    """A single leg hangs upright; others may lean."""
    return np.where(sling_legs == 1, largest_sling_angle, least_sling_angle)


@derived(
    title="Load of a sling leg",
    symbol="T_s",
    unit="kg",
    part=PART,
    source=SLING,
    excel='IF(ROUND({sling_angle}-{sling_angle_least},{counting_digits})<0,"",{valve_mass}/({legs_counted}*SIN(RADIANS({sling_angle}))))',
)
def leg_tension(sling_angle: Num, sling_angle_least: Num, counting_digits: float, valve_mass: Num, legs_counted: Num) -> Num:
    """What each leg counted bears, as a mass, since slings are tagged so; blank where the legs lie too flat or a single one is aslant."""
    allowed = at_least_zero(sling_angle - sling_angle_least, counting_digits)
    return np.where(allowed, valve_mass / legs_counted / np.sin(np.radians(sling_angle)), np.nan)


@derived(
    title="Load of a sling leg, share of its capacity",
    symbol="",
    unit="1",
    part=PART,
    source=SLING,
    excel="{leg_tension}/{leg_capacity}",
)
def leg_share(leg_tension: Num, leg_capacity: Num) -> Num:
    """The load of a leg as a share of what it may lift."""
    return leg_tension / leg_capacity


# --- what a valve that comes out needs ---


@fault(
    title="Mass of the valve not given",
    part=PART,
    source=cite("practice"),
    about=("valve_mass_entered",),
    optional=("comes_out", "valve_mass_entered", "mass_estimate_high"),
    words="The valve comes out and its mass is not known: weigh it or ask its maker, and type it with actuator and liquid.",
    excel='AND(EXACT({comes_out},"yes"),IFERROR({valve_mass_entered}="",0),NOT(ISNUMBER({mass_estimate_high})))',
)
def valve_mass_missing(comes_out: Text, valve_mass_entered: Num, mass_estimate_high: Num) -> Any:
    """Says that there is neither a mass nor a flange to estimate it from."""
    return (comes_out == "yes") & np.isnan(valve_mass_entered) & np.isnan(mass_estimate_high)


@fault(
    title="Mass of the valve is an estimate",
    part=PART,
    source=MEMORY,
    about=("valve_mass_entered",),
    optional=("comes_out", "sling_legs", "valve_mass_entered", "mass_estimate_high"),
    words="The mass of the valve is an estimate from memory for a bare gate valve, and may be far off: weigh the valve or ask its "
    "maker before it is lifted.",
    excel='AND(OR(EXACT({comes_out},"yes"),ISNUMBER({sling_legs})),IFERROR({valve_mass_entered}="",0),ISNUMBER({mass_estimate_high}))',
)
def valve_mass_estimated(comes_out: Text, sling_legs: Num, valve_mass_entered: Num, mass_estimate_high: Num) -> Any:
    """Says that the mass is an estimate, where the valve comes out or a sling is typed."""
    lifted = (comes_out == "yes") | ~np.isnan(sling_legs)
    return lifted & np.isnan(valve_mass_entered) & ~np.isnan(mass_estimate_high)


@fault(
    title="Actuator not in the estimate",
    part=PART,
    source=MEMORY,
    about=("valve_actuated_entered", "valve_mass_entered"),
    optional=("comes_out", "sling_legs", "valve_actuated", "valve_mass_entered", "mass_estimate_high"),
    words="The estimate of the mass leaves the actuator out, which may weigh as much as the valve: type the mass of both together.",
    excel='AND(OR(EXACT({comes_out},"yes"),ISNUMBER({sling_legs})),EXACT({valve_actuated},"yes"),IFERROR({valve_mass_entered}="",0),'
    "ISNUMBER({mass_estimate_high}))",
)
def actuator_not_estimated(comes_out: Text, sling_legs: Num, valve_actuated: Text, valve_mass_entered: Num, mass_estimate_high: Num) -> Any:
    """Says that the valve is heavier than the estimate by its actuator."""
    lifted = (comes_out == "yes") | ~np.isnan(sling_legs)
    return lifted & (valve_actuated == "yes") & np.isnan(valve_mass_entered) & ~np.isnan(mass_estimate_high)


@fault(
    title="Sling legs not given",
    part=PART,
    source=cite("practice"),
    about=("sling_legs_entered",),
    optional=("comes_out", "lifted_by_hand", "sling_legs_entered"),
    words="The valve comes out and the number of sling legs is missing: without it no load of a leg is given.",
    excel='AND(EXACT({comes_out},"yes"),NOT({lifted_by_hand}=1),IFERROR({sling_legs_entered}="",0))',
)
def sling_legs_missing(comes_out: Text, lifted_by_hand: Num, sling_legs_entered: Num) -> Any:
    """Says that nobody knows how a valve is to hang that is too heavy for one person."""
    return (comes_out == "yes") & (lifted_by_hand != 1) & np.isnan(sling_legs_entered)


@fault(
    title="Sling angle not given",
    part=PART,
    source=cite("practice"),
    about=("sling_angle_entered", "leg_length_entered", "hook_height_entered"),
    optional=("comes_out", "lifted_by_hand", "sling_angle_entered", "sling_angle_usual", "leg_length_entered", "hook_height_entered"),
    words="The valve comes out and the angle of the sling legs is missing: type it, or the length of a leg and the height of the hook.",
    excel='AND(EXACT({comes_out},"yes"),NOT({lifted_by_hand}=1),IFERROR({sling_angle_entered}="",0),NOT(ISNUMBER({sling_angle_usual})),'
    'OR(IFERROR({leg_length_entered}="",0),IFERROR({hook_height_entered}="",0)))',
)
def sling_angle_missing(
    comes_out: Text,
    lifted_by_hand: Num,
    sling_angle_entered: Num,
    sling_angle_usual: Num,
    leg_length_entered: Num,
    hook_height_entered: Num,
) -> Any:
    """Says that the angle is neither typed nor to be worked out; a single leg hangs upright and needs none."""
    half = np.isnan(leg_length_entered) | np.isnan(hook_height_entered)
    return (comes_out == "yes") & (lifted_by_hand != 1) & np.isnan(sling_angle_entered) & np.isnan(sling_angle_usual) & half


@fault(
    title="Capacity of a sling leg not given",
    part=PART,
    source=cite("practice"),
    about=("leg_capacity_entered",),
    optional=("comes_out", "lifted_by_hand", "leg_capacity_entered"),
    words="The valve comes out and the capacity of a sling leg is missing: read it off the tag, for the hitch that is used.",
    excel='AND(EXACT({comes_out},"yes"),NOT({lifted_by_hand}=1),IFERROR({leg_capacity_entered}="",0))',
)
def leg_capacity_missing(comes_out: Text, lifted_by_hand: Num, leg_capacity_entered: Num) -> Any:
    """Says that nobody knows what the sling may lift."""
    return (comes_out == "yes") & (lifted_by_hand != 1) & np.isnan(leg_capacity_entered)


# --- what cannot be lifted so ---


@fault(
    title="Hook too high for the legs",
    part=PART,
    source=cite("sling-triangle"),
    about=("leg_length_entered", "hook_height_entered"),
    words="The hook is said to be higher above the valve than a sling leg is long, which cannot be: measure both again.",
    excel="ROUND({hook_height}-{leg_length},{counting_digits})>0",
)
def hook_too_high(hook_height: Num, leg_length: Num, counting_digits: float) -> Flag:
    """Says that a leg would not reach from the hook to the valve."""
    return above_zero(hook_height - leg_length, counting_digits)


@fault(
    title="Sling angles apart",
    part=PART,
    source=cite("sling-angle-gap"),
    about=("sling_angle_entered", "leg_length_entered", "hook_height_entered"),
    words="The sling angle is not that of leg length and hook height: measure all three again, the angle from the horizontal.",
    excel="ROUND(ABS({sling_angle}-{sling_angle_reckoned})-{sling_angle_gap},{counting_digits})>0",
)
def sling_angles_apart(sling_angle: Num, sling_angle_reckoned: Num, sling_angle_gap: float, counting_digits: float) -> Flag:
    """Says that two ways to the angle do not bear each other out."""
    return above_zero(np.abs(sling_angle - sling_angle_reckoned) - sling_angle_gap, counting_digits)


@fault(
    title="Single sling leg aslant",
    part=PART,
    source=SLING,
    about=("sling_legs_entered", "sling_angle_entered"),
    words="A single sling leg hangs upright, so no load is given at another angle: clear the angle, or type the number of legs again.",
    excel="AND({sling_legs}=1,ROUND({sling_angle}-{largest_sling_angle},{counting_digits})<0)",
)
def single_leg_aslant(sling_legs: Num, sling_angle: Num, largest_sling_angle: float, counting_digits: float) -> Any:
    """Says that a load on one leg cannot hang at that angle."""
    return (sling_legs == 1) & above_zero(largest_sling_angle - sling_angle, counting_digits)


@fault(
    title="Sling legs too flat",
    part=PART,
    source=cite("sling-angle"),
    about=("sling_angle_entered", "leg_length_entered"),
    optional=("sling_legs",),
    words="The sling legs lie too flat to lift with, so no load of a leg is given: longer legs, a higher hook or a spreader.",
    excel="AND(NOT({sling_legs}=1),ROUND({sling_angle}-{least_sling_angle},{counting_digits})<0)",
)
def sling_too_flat(sling_legs: Num, sling_angle: Num, least_sling_angle: float, counting_digits: float) -> Any:
    """Says that the legs lie flatter than any sling is used; a single leg has a sentence of its own."""
    return ~(sling_legs == 1) & above_zero(least_sling_angle - sling_angle, counting_digits)


@fault(
    title="Sling legs flat",
    part=PART,
    source=cite("sling-angle-warned"),
    about=("sling_angle_entered", "leg_length_entered"),
    optional=("sling_legs",),
    words="The sling legs lie flat and bear far more than upright ones: longer legs or a higher hook if there is room.",
    excel="AND(NOT({sling_legs}=1),ROUND({sling_angle}-{least_sling_angle},{counting_digits})>=0,"
    "ROUND({sling_angle}-{warn_sling_angle},{counting_digits})<0)",
)
def sling_flat(sling_legs: Num, sling_angle: Num, least_sling_angle: float, counting_digits: float, warn_sling_angle: float) -> Any:
    """Says that the legs are allowed to lie so, and that it is not well."""
    allowed = at_least_zero(sling_angle - least_sling_angle, counting_digits)
    return ~(sling_legs == 1) & allowed & above_zero(warn_sling_angle - sling_angle, counting_digits)


@fault(
    title="Sling leg overloaded",
    part=PART,
    gravity=Gravity.STOP,
    source=SLING,
    about=("leg_capacity_entered", "valve_mass_entered", "sling_angle_entered"),
    words="A sling leg would bear more than it may lift: a stronger sling, or legs that stand steeper.",
    excel='AND(EXACT({comes_out},"yes"),ROUND({leg_share}-1,{counting_digits})>0)',
)
def sling_overloaded(comes_out: Text, leg_share: Num, counting_digits: float) -> Any:
    """Says that the load of a leg is above its capacity, of a valve that is to be lifted."""
    return (comes_out == "yes") & above_zero(leg_share - 1, counting_digits)
