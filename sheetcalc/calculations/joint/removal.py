"""Man-hours of taking a flanged valve out of the line and putting it back, from figures for new installation."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick_in
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite

PART = "removal"


@derived(
    title="Man-hours of a bolt-up, new-installation figure",
    unit="h",
    part=PART,
    source=cite("removal-hours"),
    excel="INDEX({bolt_up_hours},{flange_size_row},{flange_class_column})",
)
def bolt_up_hours_one(bolt_up_hours: Num, flange_size_row: Num, flange_class_column: Num) -> Any:
    """Man-hours of making one bolted joint of this size and class, as for new work."""
    return pick_in(flange_size_row, flange_class_column, bolt_up_hours)


@derived(
    title="Man-hours of handling the valve, new-installation figure",
    unit="h",
    part=PART,
    source=cite("actuated-handling"),
    excel='INDEX({handling_hours},{flange_size_row},{flange_class_column})*IF(EXACT({valve_actuated},"yes"),1+{actuated_handling_more},1)',
)
def handling_hours_one(
    handling_hours: Num, flange_size_row: Num, flange_class_column: Num, valve_actuated: Text, actuated_handling_more: float
) -> Any:
    """Man-hours of handling a valve of this size and class without its bolt-ups, as for new work; more with an actuator."""
    hours = pick_in(flange_size_row, flange_class_column, handling_hours)
    return hours + np.where(valve_actuated == "yes", actuated_handling_more, 0.0) * hours


@derived(
    title="Man-hours of putting back, new-installation figures",
    unit="h",
    part=PART,
    source=cite("removal-hours"),
    excel="{flange_joint_count}*{bolt_up_hours_one}+{handling_hours_one}",
)
def out_hours_back(flange_joint_count: Num, bolt_up_hours_one: Num, handling_hours_one: Num) -> Num:
    """Putting the valve back counts as a new installation: its bolt-ups and its handling."""
    return handling_hours_one + bolt_up_hours_one * flange_joint_count


@derived(
    title="Man-hours out and back, new-installation figures with the share of taking out",
    unit="h",
    part=PART,
    source=cite("removal-share"),
    excel="(1+{removal_share})*{out_hours_back}",
)
def out_hours(removal_share: float, out_hours_back: Num) -> Num:
    """Taking the valve out, as a share of a new installation, and putting it back as one whole."""
    return out_hours_back + removal_share * out_hours_back
