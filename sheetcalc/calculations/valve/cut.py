"""Cutting: length of a ring, what a spool must give, and where the joints point."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite

PART = "cut"


@derived(
    title="Mean length",
    symbol="L",
    unit="mm",
    part=PART,
    source=cite("mobley-section"),
    excel="PI()*({stem_diameter}+{packing_section})",
)
def mean_length(stem_diameter: Num, packing_section: Num) -> Num:
    """Length of a ring along its middle."""
    return np.pi * (stem_diameter + packing_section)


@derived(
    title="Inner length",
    symbol="Lᵢ",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="PI()*({box_bore}-2*{packing_section})",
)
def inner_length(box_bore: Num, packing_section: Num) -> Num:
    """Length of a ring where it touches the stem."""
    return np.pi * (box_bore - 2 * packing_section)


@derived(
    title="Outer length",
    symbol="Lₒ",
    unit="mm",
    part=PART,
    source=cite("geometry"),
    excel="PI()*({stem_diameter}+2*{packing_section})",
)
def outer_length(stem_diameter: Num, packing_section: Num) -> Num:
    """Length of a ring where it touches the box."""
    return np.pi * (stem_diameter + 2 * packing_section)


@derived(
    title="Cut length",
    symbol="L_c",
    unit="mm",
    part=PART,
    source=cite("allowance"),
    excel='IF(EXACT({packing_form},"braid"),{mean_length}*(1+{length_allowance}),"")',
)
def cut_length(packing_form: Text, mean_length: Num, length_allowance: Num) -> Num:
    """Length to which a ring of braid is cut; made rings are not cut."""
    return np.where(packing_form == "braid", mean_length * (1 + length_allowance), np.nan)


@derived(
    title="Skive extra",
    symbol="x",
    unit="mm",
    part=PART,
    source=cite("skive"),
    excel='IF(EXACT({cut_style},"skive"),{packing_section},0)',
)
def skive_extra(cut_style: Text, packing_section: Num) -> Num:
    """What the first end of a spool piece costs when rings are cut at 45 degrees."""
    return np.where(cut_style == "skive", packing_section, 0.0)


@derived(
    title="Skive, tip to tip",
    symbol="L_t",
    unit="mm",
    part=PART,
    source=cite("skive"),
    excel='IF(EXACT({cut_style},"skive"),{cut_length}+{skive_extra},"")',
)
def tip_length(cut_style: Text, cut_length: Num, skive_extra: Num) -> Num:
    """Length of a ring cut at 45 degrees from tip to tip, where its cut length is that along the middle."""
    return np.where(cut_style == "skive", cut_length + skive_extra, np.nan)


@derived(
    title="Bulk length",
    symbol="B_l",
    unit="mm",
    part=PART,
    source=cite("waste"),
    optional=("all_stop",),
    excel='IF({all_stop}="",{ring_count}*{cut_length}*(1+{waste_share})+{skive_extra},"")',
)
def bulk_length(all_stop: Text, ring_count: Num, cut_length: Num, waste_share: Num, skive_extra: Num) -> Num:
    """Length of braid to take from the spool for this valve; blank while anything stops the valve."""
    length = ring_count * cut_length * (1 + waste_share) + skive_extra
    return np.where(all_stop == "", length, np.nan)


@derived(
    title="Largest gap at ring joint",
    unit="mm",
    part=PART,
    source=cite("wedge"),
    excel="{outer_length}-{mean_length}",
)
def joint_gap_bound(outer_length: Num, mean_length: Num) -> Num:
    """The widest v-shaped gap that a joint cut flat can show outside; cutting on a mandrel avoids it."""
    return outer_length - mean_length


@derived(
    title="Row of the joint step",
    unit="1",
    part=PART,
    source=cite("stagger"),
    excel="MATCH({ring_count},{joint_ring_counts},1)",
)
def joint_row(ring_count: Num, joint_ring_counts: Num) -> Any:
    """The row of the joint table that holds for this many rings."""
    return np.searchsorted(joint_ring_counts, ring_count, side="right")


@derived(
    title="Joint step",
    symbol="φ",
    unit="deg",
    part=PART,
    source=cite("stagger"),
    excel="INDEX({joint_steps},{joint_row})",
)
def joint_step(joint_steps: Num, joint_row: Num) -> Any:
    """By how much each joint is turned against the one below."""
    return pick(joint_row, joint_steps)


@derived(
    title="Joint angles",
    part=PART,
    source=cite("stagger"),
    text=True,
    excel="INDEX({joint_angle_texts},{joint_row})",
)
def joint_angles(joint_angle_texts: list[str], joint_row: Num) -> Any:
    """Where the joints point in degrees, ring after ring from the bottom."""
    return pick(joint_row, joint_angle_texts)
