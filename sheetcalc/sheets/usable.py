"""Answers as they can be used on cards and main sheets: lengths as a rule reads them, torque as a wrench is set, stress in round numbers.

Working keeps every digit. Like the units themselves the rounding is done where an answer is shown, so both unit sets have it.
"""

from __future__ import annotations

from decimal import ROUND_DOWN, Decimal
from enum import Enum
from typing import Final

from sheetcalc.calculations.arithmetic import rounded
from sheetcalc.calculations.run import issued_assumptions
from sheetcalc.calculations.valve.fitting import MOST_RINGS
from sheetcalc.declare.quantity import Quantity
from sheetcalc.reference import tables
from sheetcalc.sheets.common import shown_in, shown_value
from sheetcalc.sheets.layout import Value
from sheetcalc.units import UNIT_SETS


class Use(Enum):
    """What is done with an answer."""

    RULE = "cut or read with a rule: the nearest 0.5 mm or 1/32 in"
    GAP = "the same, and never nought unless it is"
    SECTION = "packing as it is sold: 0.1 mm or 0.001 in"
    GAUGE = "held against a micrometer or a dial gauge: 0.01 mm or 0.001 in"
    WRENCH = "set on a torque wrench: two figures, never more than worked out"
    STRESS = "the nearest 1 MPa or 10 psi"
    PLAIN = "shown as it is"


_USES: Final = {
    Use.RULE: (
        "spacer_height",
        "start_entry",
        "cut_length",
        "tip_length",
        "bulk_length",
        "joint_gap_bound",
        "mandrel_diameter",
        "bushing_outside",
        "bushing_inside",
        "bushing_length",
        "hook_reach",
        "hook_thickness",
        "flange_bolt_length",
        "lantern_depth",
        *(f"ring_{ring}_depth" for ring in range(1, MOST_RINGS + 1)),
    ),
    Use.GAP: ("gland_gap_start", "gland_gap_end", "compression_travel", "least_take_up"),
    Use.SECTION: ("packing_section", "stocked_section", "ring_height"),
    Use.GAUGE: (
        "stem_least",
        "bore_most",
        "stem_runout_most",
        "stem_bend_allowed",
        "stem_taper_most",
        "pit_depth_most",
        "follower_box_most",
        "follower_clearance",
        "bottom_clearance",
    ),
    Use.WRENCH: (
        *(f"stud_torque{which}" for which in ("_first", "_second", "", "_long")),
        *(f"flange_torque{which}" for which in ("_first", "_second")),
        *(f"flange_bolt_torque{which}" for which in ("", "_long")),
    ),
}
_USE_OF: Final = {name: use for use, names in _USES.items() for name in names}
#: Of these the format of the cell rounds enough.
_AS_IT_IS: Final = {Use.PLAIN, Use.SECTION, Use.GAUGE}
#: The style of such an answer, in a metric cell and in one of the US set. Others look as their sheet says.
_LOOKS: Final = {
    Use.RULE: ("answer_2", "answer_fraction"),
    Use.GAP: ("answer_2", "answer_fraction"),
    Use.SECTION: ("answer_2", "answer_in"),
    Use.GAUGE: ("answer_fine", "answer_in"),
    Use.WRENCH: ("answer_figures", "answer_figures"),
    Use.STRESS: ("answer_count", "answer_count"),
}


def use_of(quantity: Quantity) -> Use:
    """What is done with an answer."""
    return _USE_OF.get(quantity.name, Use.STRESS if quantity.dimension == "stress" else Use.PLAIN)


def look_of(quantity: Quantity, unit_set: str, usual: str) -> str:
    """The style of an answer in the unit of a unit set; `usual` where it is shown as it is."""
    return _LOOKS.get(use_of(quantity), (usual, usual))[list(UNIT_SETS).index(unit_set)]


def usable_in(quantity: Quantity, reference: str, unit_set: str) -> str:
    """The formula of an answer as it can be used, in the unit of a unit set, from where it stands in the coherent unit."""
    use, row = use_of(quantity), 1 + list(UNIT_SETS).index(unit_set)
    if use in _AS_IT_IS:
        return shown_in(quantity, reference, unit_set)
    exact = f"{reference}/INDEX(unit_{quantity.dimension}_factors,{row})"
    if use is Use.WRENCH:
        text = f"IF(ROUND({exact},counting_digits)>0,ROUNDDOWN(ROUND({exact},counting_digits),1-INT(LOG10({exact}))),0)"
        return f'IF(COUNT({reference})=0,"",{text})'
    step = f"INDEX(unit_{'stress' if use is Use.STRESS else 'rule'}_steps,{row})"
    steps = f"ROUND(ROUND({exact}/{step},counting_digits),0)"
    if use is Use.GAP:
        steps = f"SIGN(ROUND({reference},counting_digits))*MAX(1,ABS({steps}))"
    return f'IF(COUNT({reference})=0,"",{steps}*{step})'


def usable_value(quantity: Quantity, value: Value, unit_set: str) -> Value:
    """The core's answer as it can be used, in the unit of a unit set; None for blank."""
    use, exact = use_of(quantity), shown_value(quantity, value, unit_set)
    if use in _AS_IT_IS or not isinstance(exact, float):
        return exact
    digits = int(float(issued_assumptions()["counting_digits"]))
    if use is Use.WRENCH:
        return _two_figures(float(rounded(exact, digits)))
    of_units = tables.values()["unit_stress_steps" if use is Use.STRESS else "unit_rule_steps"]
    step = float(of_units[list(UNIT_SETS).index(unit_set)])
    nearest = float(rounded(rounded(exact / step, digits))) * step
    if use is Use.GAP and nearest == 0 and rounded(value, digits) != 0:
        return step if exact > 0 else -step
    return nearest + 0.0  # no minus before a nought


def _two_figures(torque: float) -> float:
    """The decimal number cut after its second figure."""
    if torque <= 0:
        return 0.0
    held = Decimal(repr(torque))
    return float(held.quantize(Decimal(1).scaleb(held.adjusted() - 1), rounding=ROUND_DOWN))
