"""The flanges of a valve that comes out of the line: what is typed of them, and where size and class stand on Tables."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick, row_exact, row_ignoring_case, together
from sheetcalc.calculations.given import given, given_code
from sheetcalc.declare.blocks import derived, entry
from sheetcalc.declare.quantity import Gravity, Num, Text
from sheetcalc.reference.sources import cite

PART = "flange"
FLANGES, READING, PRACTICE = cite("flanges"), cite("reading"), cite("practice")

_CHOOSE = "choose one from the list on Tables."
given_code(
    "comes_out",
    title="Remove valve from line",
    part=PART,
    names="yes_no_names",
    usual="comes_out_usual",
    gravity=Gravity.LOOK,
    remedy="choose yes or no.",
    sentence="Whether the valve comes out of the line, so that its flanges are opened.",
)
flange_size = entry(
    "flange_size",
    title="Flange size",
    text=True,
    part=PART,
    source=READING,
    choices="flange_size_names",
    sentence="Nominal size of the flanges, written as on Tables, such as NPS 2.",
)
given(
    "flange_class",
    title="Flange class",
    symbol="",
    unit="1",
    part=PART,
    whole=True,
    low="1",
    high="largest_class",
    where="comes_out",
    remedy="type one of the classes on Tables or clear the cell.",
    sentence="Pressure class of the flanges, such as 150.",
)
given(
    "flange_joint_count",
    title="Flange joints",
    symbol="",
    unit="1",
    part=PART,
    whole=True,
    usual="flange_joint_count_usual",
    gravity=Gravity.LOOK,
    low="1",
    high="largest_joint_count",
    remedy="type how many flange joints are opened or clear the cell.",
    sentence="How many flange joints are opened to take the valve out.",
)
given_code(
    "flange_facing",
    title="Facing of the flanges",
    part=PART,
    names="flange_facing_names",
    usual="flange_facing_usual",
    where="comes_out",
    remedy=_CHOOSE,
    sentence="How the faces of the flanges are made: only raised faces get a torque.",
)
given_code(
    "flange_material",
    title="Material of the flanges",
    part=PART,
    names="flange_material_names",
    usual="flange_material_usual",
    where="comes_out",
    remedy=_CHOOSE,
    sentence="What flanges and valve ends are made of: only steel gets a torque.",
)
gasket_kind = entry(
    "gasket_kind",
    title="Kind of flange gasket",
    text=True,
    part=PART,
    source=READING,
    choices="gasket_kind_names",
    sentence="The gasket of the flange joints, written as on Tables; without it there is no torque.",
)
flange_bolt_grade = entry(
    "flange_bolt_grade",
    title="Flange bolt grade",
    text=True,
    part=PART,
    source=READING,
    choices="grade_names",
    sentence="Grade of the flange bolts, written as on Tables, such as ASTM A193 B7.",
)
flange_lubricant = entry(
    "flange_lubricant",
    title="Flange bolt lubricant",
    text=True,
    part=PART,
    source=READING,
    choices="lubricant_names",
    sentence="What is on threads and nut faces of the flange bolts, written as on Tables; without it there is no torque.",
)
given_code(
    "flange_studs_renewed",
    title="New flange studs",
    part=PART,
    names="yes_no_names",
    usual="flange_studs_renewed_usual",
    gravity=Gravity.LOOK,
    remedy="choose yes or no.",
    sentence="Whether the flange studs and their nuts are replaced by new ones.",
)


# --- where size and class stand on Tables ---


@derived(
    title="Row of the flange size",
    unit="1",
    part=PART,
    source=READING,
    guards=False,
    excel="IFERROR(IF(EXACT(INDEX({flange_size_names},MATCH({flange_size},{flange_size_names},0)),{flange_size}),"
    'MATCH({flange_size},{flange_size_names},0),""),"")',
)
def flange_size_row(flange_size_names: list[str], flange_size: Text) -> Num:
    """The row of the flange size on Tables, only if written just as there."""
    return row_exact(flange_size, flange_size_names)


@derived(
    title="Column of the flange class",
    unit="1",
    part=PART,
    source=READING,
    excel='IFERROR(MATCH({flange_class},{flange_classes},0),"")',
)
def flange_class_column(flange_class: Num, flange_classes: Num) -> Any:
    """Which of the classes on Tables it is; blank where it is none of them."""
    return np.select([flange_class == one for one in flange_classes], list(range(1, len(flange_classes) + 1)), np.nan)


@derived(
    title="Flange, size and class",
    part=PART,
    source=READING,
    text=True,
    excel='INDEX({flange_size_names},{flange_size_row})&" class "&INDEX({flange_classes},{flange_class_column})',
)
def flange_key(flange_size_names: list[str], flange_size_row: Num, flange_classes: Num, flange_class_column: Num) -> Any:
    """Size and class together, as the flanges on Tables are called."""
    names = [f"{one:.0f}" for one in flange_classes]
    return together(pick(flange_size_row, flange_size_names), " class ", pick(flange_class_column, names))


@derived(
    title="Row of the flange",
    unit="1",
    part=PART,
    source=READING,
    excel='IFERROR(MATCH({flange_key},{flange_keys},0),"")',
)
def flange_row(flange_key: Text, flange_keys: list[str]) -> Num:
    """The row of the flange on Tables; blank where size and class do not stand there together."""
    return row_exact(flange_key, flange_keys)


@derived(
    title="Flange drilled by size and class",
    unit="1",
    part=PART,
    source=cite("flange-facings"),
    excel="INDEX({facing_drillings},MATCH({flange_facing},{flange_facing_names},0))",
)
def flange_drilling(facing_drillings: Num, flange_facing: Text, flange_facing_names: list[str]) -> Any:
    """1 where the bolts are those of size and class, 0 where the valve's maker says."""
    return pick(row_ignoring_case(flange_facing, flange_facing_names), facing_drillings)


@derived(
    title="Flange with a raised face",
    unit="1",
    part=PART,
    source=cite("flange-facings"),
    excel="INDEX({facing_torques},MATCH({flange_facing},{flange_facing_names},0))",
)
def flange_raised(facing_torques: Num, flange_facing: Text, flange_facing_names: list[str]) -> Any:
    """1 where the facing is one for which stud length, gasket and torque follow from size and class, else 0."""
    return pick(row_ignoring_case(flange_facing, flange_facing_names), facing_torques)


@derived(
    title="Row of the flange bolts",
    unit="1",
    part=PART,
    source=READING,
    excel='IF(AND({flange_drilling}=1,ISNUMBER(INDEX({flange_counts},{flange_row}))),{flange_row},"")',
)
def flange_bolt_row(flange_drilling: Num, flange_counts: Num, flange_row: Num) -> Any:
    """The same row where the bolts that stand there are those of this valve: not for a wafer, nor where another class's drilling holds."""
    counted = ~np.isnan(pick(flange_row, flange_counts))
    return np.where((flange_drilling == 1) & counted, flange_row, np.nan)


@derived(
    title="Row of the flange with a raised face",
    unit="1",
    part=PART,
    source=READING,
    excel='IF({flange_raised}=1,{flange_bolt_row},"")',
)
def flange_raised_row(flange_raised: Num, flange_bolt_row: Num) -> Num:
    """The same row where the faces are raised: only there do stud length and gasket follow from size and class."""
    return np.where(flange_raised == 1, flange_bolt_row, np.nan)
