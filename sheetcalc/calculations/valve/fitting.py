"""Fitting and tightening: where each ring's joint points, how deep it sits, what it feels, and the torque of each pass."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.declare.blocks import derive, derived
from sheetcalc.declare.quantity import Num
from sheetcalc.reference.sources import cite

PART = "fitting"
#: Rings that have a line of their own in the fitting table.
MOST_RINGS: Final = 10


@derived(
    title="Depth to the bottom ring's seat",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("seat-depth"),
    excel="{box_depth}-{spacer_height}",
)
def seat_floor(box_depth: Num, spacer_height: Num) -> Num:
    """From the face of the box down to what the first ring sits on."""
    return box_depth - spacer_height


def _number(count: Any, before: Any) -> Any:
    return np.where(count > before, before + 1, np.nan)


def _depth(number: Any, floor: Any, height: Any, below: Any, lantern: Any) -> Any:
    over_lantern = np.where(number > below, lantern, lantern * 0)  # without a lantern `below` is blank, and no ring is over it
    return floor - number * height - over_lantern


def _angle(number: Any, step: Any) -> Any:
    return np.mod((number - 1) * step, 360)


def _stress(stress: Any, decay: Any, count: Any, number: Any, height: Any) -> Any:
    return stress * np.exp(-decay * height * (1 - number / count))


def _declare_ring(ring: int) -> None:
    """The line of a ring in the fitting table; blank above the last ring."""
    number, before = f"ring_{ring}", f"ring_{ring - 1}"
    said = f"Ring {ring} from the bottom"
    if ring == 1:
        derive(
            number,
            ("ring_count",),
            lambda count: _number(count, 0),
            "1 where there is a ring at all.",
            title=f"{said}",
            unit="1",
            part=PART,
            source=cite("seat-depth"),
            excel='IF({ring_count}>0,1,"")',
        )
    else:
        derive(
            number,
            ("ring_count", before),
            _number,
            f"{ring} where there are so many rings, else blank.",
            title=f"{said}",
            unit="1",
            part=PART,
            source=cite("seat-depth"),
            excel=f'IF({{ring_count}}>{{{before}}},{{{before}}}+1,"")',
        )
    derive(
        f"{number}_joint",
        (number, "joint_step"),
        _angle,
        f"Where the joint of ring {ring} points.",
        title=f"{said}: joint at",
        unit="deg",
        part=PART,
        source=cite("stagger"),
        excel=f"MOD(({{{number}}}-1)*{{joint_step}},360)",
        empirical="a whole turn in degrees",
    )
    derive(
        f"{number}_depth",
        (number, "seat_floor", "seated_height", "rings_below_lantern", "lantern_length"),
        _depth,
        f"From the face of the box down to the top of ring {ring} after it is seated.",
        title=f"{said}: depth to its top",
        unit="mm",
        part=PART,
        source=cite("seat-depth"),
        optional=("rings_below_lantern",),
        excel=f"{{seat_floor}}-{{{number}}}*{{seated_height}}-IF({{{number}}}>{{rings_below_lantern}},{{lantern_length}},0)",
    )
    derive(
        f"{number}_stress",
        ("gland_stress", "stress_decay", "ring_count", number, "set_height"),
        _stress,
        f"Axial stress on top of ring {ring} when the set is compressed.",
        title=f"{said}: stress at its top",
        unit="MPa",
        part=PART,
        source=cite("stack-decay"),
        excel=f"{{gland_stress}}*EXP(-({{stress_decay}}*{{set_height}}*(1-{{{number}}}/{{ring_count}})))",
    )


for _ring in range(1, MOST_RINGS + 1):
    _declare_ring(_ring)


@derived(
    title="Lantern ring: depth to its top",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("seat-depth"),
    excel="{seat_floor}-{rings_below_lantern}*{seated_height}-{lantern_length}",
)
def lantern_depth(seat_floor: Num, rings_below_lantern: Num, seated_height: Num, lantern_length: Num) -> Num:
    """From the face of the box down to the top of the lantern ring on the seated rings below it."""
    return seat_floor - rings_below_lantern * seated_height - lantern_length


@derived(
    title="Torque of the first pass",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("passes"),
    excel="{first_pass_share}*{stud_torque}",
)
def stud_torque_first(first_pass_share: float, stud_torque: Num) -> Num:
    """What the wrench is set to in the first pass."""
    return first_pass_share * stud_torque


@derived(
    title="Torque of the second pass",
    symbol="",
    unit="N*mm",
    part=PART,
    source=cite("passes"),
    excel="{second_pass_share}*{stud_torque}",
)
def stud_torque_second(second_pass_share: float, stud_torque: Num) -> Num:
    """What the wrench is set to in the second pass; the third is the torque itself."""
    return second_pass_share * stud_torque
