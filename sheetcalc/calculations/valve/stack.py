"""Stress down the stack: how much of the gland stress reaches the bottom ring, and when a further ring adds nothing."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import at_least_zero, either, rounded, whole
from sheetcalc.calculations.given import given
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Flag, Num, Text
from sheetcalc.reference.sources import cite

PART = "stack"

_OVERRIDE = "type a number from 0 to 1 or clear the cell."
given(
    "stem_friction_factor",
    title="Friction on the stem",
    symbol="μ_s",
    unit="1",
    part=PART,
    usual="material_friction",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="Friction factor between packing and stem.",
)
given(
    "box_friction_factor",
    title="Friction on the box",
    symbol="μ_b",
    unit="1",
    part=PART,
    usual="material_friction",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="Friction factor between packing and box.",
)
given(
    "lateral_ratio",
    title="Lateral ratio",
    symbol="K_l",
    unit="1",
    part=PART,
    usual="material_lateral_ratio",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="Lateral over axial stress in the packing.",
)
given(
    "least_bottom_share",
    title="Least bottom share",
    symbol="",
    unit="1",
    part=PART,
    usual="least_bottom_share_usual",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="A further ring is taken to add nothing where the bottom one feels less than this share.",
)


@derived(
    title="Set height",
    symbol="S_c",
    unit="mm",
    part=PART,
    source=cite("travel"),
    excel="{stack_height}*(1-{set_compression})",
)
def set_height(stack_height: Num, set_compression: Num) -> Num:
    """Height of the compressed set, on which stress and friction are reckoned."""
    return stack_height * (1 - set_compression)


@derived(
    title="Stress decay",
    symbol="k",
    unit="1/mm",
    part=PART,
    source=cite("stack-decay"),
    excel="{lateral_ratio}*PI()*({stem_friction_factor}*{stem_diameter}+{box_friction_factor}*{box_bore})/{annulus_area}",
)
def stress_decay(
    lateral_ratio: Num, stem_friction_factor: Num, stem_diameter: Num, box_friction_factor: Num, box_bore: Num, annulus_area: Num
) -> Num:
    """By which share of itself the axial stress falls in a millimetre of packing, friction on stem and box together."""
    rubbing = stem_friction_factor * stem_diameter + box_friction_factor * box_bore
    return lateral_ratio * np.pi * rubbing / annulus_area


@derived(
    title="Bottom stress ratio",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stack-decay"),
    excel="EXP(-({stress_decay}*{set_height}))",
)
def bottom_stress_ratio(stress_decay: Num, set_height: Num) -> Num:
    """Axial stress under the last ring over the stress at the follower."""
    return np.exp(-stress_decay * set_height)


@derived(
    title="Bottom stress ratio, equal coefficients",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stack-decay"),
    excel='IF({stem_friction_factor}={box_friction_factor},EXP(-(2*{stem_friction_factor}*{lateral_ratio}*{set_height}/{packing_section})),"")',
)
def bottom_ratio_equal(
    stem_friction_factor: Num, box_friction_factor: Num, lateral_ratio: Num, set_height: Num, packing_section: Num
) -> Num:
    """The same ratio by the short form, which holds where stem and box rub alike; blank where they do not."""
    falls = np.exp(-2 * box_friction_factor * lateral_ratio * set_height / packing_section)
    return np.where(stem_friction_factor == box_friction_factor, falls, np.nan)


@derived(
    title="Difference of the two forms",
    symbol="",
    unit="1",
    part=PART,
    source=cite("stack-decay"),
    excel="ROUND({bottom_stress_ratio}-{bottom_ratio_equal},{counting_digits})",
)
def bottom_ratio_difference(bottom_stress_ratio: Num, bottom_ratio_equal: Num, counting_digits: float) -> Num:
    """General form less short form: 0 where both are right."""
    out: Num = rounded(bottom_stress_ratio - bottom_ratio_equal, counting_digits)
    return out


@derived(
    title="Bottom stress",
    symbol="σ_bot",
    unit="MPa",
    part=PART,
    source=cite("stack-decay"),
    excel="{gland_stress}*{bottom_stress_ratio}",
)
def bottom_stress(gland_stress: Num, bottom_stress_ratio: Num) -> Num:
    """Axial stress under the last ring."""
    return gland_stress * bottom_stress_ratio


@derived(
    title="Bottom stress over line pressure",
    symbol="",
    unit="1",
    part=PART,
    source=cite("bottom-pressure"),
    excel='IF({line_pressure}>0,{bottom_stress}/{line_pressure},"")',
)
def bottom_stress_over_pressure(line_pressure: Num, bottom_stress: Num) -> Num:
    """Axial; not a leak limit; the highest contact is at the follower. Blank at no pressure and at vacuum."""
    return np.where(line_pressure > 0, bottom_stress / line_pressure, np.nan)


@derived(
    title="Rings that still add",
    symbol="",
    unit="1",
    part=PART,
    source=cite("bottom-share"),
    excel="IF(AND({stress_decay}>0,{least_bottom_share}>0),"
    'INT(ROUND(-LN({least_bottom_share})/({stress_decay}*{ring_height}*(1-{set_compression})),{counting_digits})),"")',
)
def rings_useful(stress_decay: Num, least_bottom_share: Num, ring_height: Num, set_compression: Num, counting_digits: float) -> Num:
    """The ring count beyond which another ring adds nothing, by the share typed; blank without friction."""
    height = ring_height * (1 - set_compression)
    rings = whole(-np.log(least_bottom_share) / (stress_decay * height), counting_digits)
    return np.where((stress_decay > 0) & (least_bottom_share > 0), rings, np.nan)


@derived(
    title="Stress needed for bottom = pressure",
    symbol="",
    unit="MPa",
    part=PART,
    source=cite("stack-decay"),
    excel='IF({line_pressure}>0,{line_pressure}/{bottom_stress_ratio},"")',
)
def stress_for_bottom(line_pressure: Num, bottom_stress_ratio: Num) -> Num:
    """The gland stress at which the bottom ring would just feel the line pressure."""
    return np.where(line_pressure > 0, line_pressure / bottom_stress_ratio, np.nan)


@derived(
    title="Stress down the stack, in words",
    part=PART,
    source=cite("bottom-pressure"),
    text=True,
    excel='IF(ROUND({bottom_stress_ratio}-{least_bottom_share},{counting_digits})<0,"Much is lost on the way down.",'
    '"Most reaches the bottom ring.")',
)
def stack_words(bottom_stress_ratio: Num, least_bottom_share: Num, counting_digits: float) -> Text:
    """Whether the bottom ring feels at least the share typed."""
    enough = at_least_zero(bottom_stress_ratio - least_bottom_share, counting_digits)
    return either(enough, "Most reaches the bottom ring.", "Much is lost on the way down.")


@fault(
    title="Bottom stress under the pressure",
    part=PART,
    source=cite("bottom-pressure"),
    about=("line_pressure_entered", "packing_material"),
    words="The axial stress under the last ring is below the line pressure, which is no leak limit: look at friction and ring count.",
    excel="ROUND({bottom_stress_over_pressure}-{least_pressure_ratio},{counting_digits})<0",
)
def bottom_under_pressure(bottom_stress_over_pressure: Num, least_pressure_ratio: float, counting_digits: float) -> Flag:
    """Says that the bottom rings may be idle."""
    return ~at_least_zero(bottom_stress_over_pressure - least_pressure_ratio, counting_digits)


@fault(
    title="More rings than add",
    part=PART,
    source=cite("bottom-share"),
    about=("maker_ring_count_entered", "preferred_ring_count_entered"),
    words="With this friction the lowest rings add little: fewer rings over a spacer would do, if the maker's drawing lets them.",
    excel="{ring_count}>MAX(1,{rings_useful})",
)
def rings_idle(ring_count: Num, rings_useful: Num) -> Any:
    """Says that there are more rings than friction lets the gland reach."""
    return ring_count > np.maximum(1, rings_useful)
