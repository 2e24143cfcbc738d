"""Bolts and gaskets of the flanges, the wrench, and the order in which bolts are slackened and tightened."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick, pick_in, row_exact, together
from sheetcalc.calculations.joint.flange import FLANGES, PART, PRACTICE, READING
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Flange bolts",
    unit="1",
    part=PART,
    source=FLANGES,
    excel="INDEX({flange_counts},{flange_bolt_row})",
)
def flange_bolt_count(flange_counts: Num, flange_bolt_row: Num) -> Any:
    """How many bolts one flange joint has; blank where they are not those of size and class."""
    return pick(flange_bolt_row, flange_counts)


@derived(
    title="Flange bolt thread",
    part=PART,
    source=FLANGES,
    text=True,
    excel="INDEX({flange_threads},{flange_bolt_row})",
)
def flange_bolt_thread(flange_threads: list[str], flange_bolt_row: Num) -> Any:
    """The thread of the flange bolts."""
    return pick(flange_bolt_row, flange_threads)


@derived(
    title="Flange stud length",
    symbol="",
    unit="mm",
    part=PART,
    source=FLANGES,
    excel="INDEX({flange_stud_lengths},{flange_raised_row})",
)
def flange_bolt_length(flange_stud_lengths: Num, flange_raised_row: Num) -> Any:
    """The length of a stud between raised faces; blank for any other facing."""
    return pick(flange_raised_row, flange_stud_lengths)


@derived(
    title="Outside of the flange",
    symbol="",
    unit="mm",
    part=PART,
    source=FLANGES,
    excel="INDEX({flange_outsides},{flange_bolt_row})",
)
def flange_outside(flange_outsides: Num, flange_bolt_row: Num) -> Any:
    """Outside diameter of the flange."""
    return pick(flange_bolt_row, flange_outsides)


@derived(
    title="Bolt circle of the flange",
    symbol="",
    unit="mm",
    part=PART,
    source=FLANGES,
    excel="INDEX({flange_bolt_circles},{flange_bolt_row})",
)
def flange_bolt_circle(flange_bolt_circles: Num, flange_bolt_row: Num) -> Any:
    """Diameter of the circle through the middles of the bolts."""
    return pick(flange_bolt_row, flange_bolt_circles)


@derived(
    title="Row of the flange bolt thread",
    unit="1",
    part=PART,
    source=READING,
    excel='IFERROR(MATCH({flange_bolt_thread},{thread_names},0),"")',
)
def flange_thread_row(flange_bolt_thread: Text, thread_names: list[str]) -> Num:
    """The row of the flange bolts' thread among the threads."""
    return row_exact(flange_bolt_thread, thread_names)


@derived(
    title="Flange bolt diameter",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("threads"),
    excel="INDEX({thread_diameters},{flange_thread_row})",
)
def flange_bolt_diameter(thread_diameters: Num, flange_thread_row: Num) -> Any:
    """Outside diameter of the flange bolts' thread."""
    return pick(flange_thread_row, thread_diameters)


@derived(
    title="Flange bolt pitch",
    unit="mm",
    part=PART,
    source=cite("threads-inch"),
    excel="{inch_length}/INDEX({thread_per_inch},{flange_thread_row})",
)
def flange_bolt_pitch(inch_length: float, thread_per_inch: Num, flange_thread_row: Num) -> Any:
    """Pitch of the flange bolts, whose threads are all inch threads."""
    return inch_length / pick(flange_thread_row, thread_per_inch)


@derived(
    title="Tensile area of a flange bolt",
    symbol="",
    unit="mm**2",
    part=PART,
    source=cite("stress-area"),
    excel="PI()/4*({flange_bolt_diameter}-{inch_area_share}*{flange_bolt_pitch})^2",
)
def flange_bolt_area(flange_bolt_diameter: Num, inch_area_share: float, flange_bolt_pitch: Num) -> Num:
    """The area on which the stress in a flange bolt is reckoned."""
    radius = (flange_bolt_diameter - flange_bolt_pitch * inch_area_share) / 2
    return np.pi * radius**2


@derived(
    title="Wrench size for flange bolts",
    symbol="",
    unit="mm",
    part=PART,
    source=cite("wrench"),
    excel="INDEX({thread_widths},{flange_thread_row},1)",
)
def flange_wrench(thread_widths: Num, flange_thread_row: Num) -> Any:
    """Width across flats of the heavy hex nuts that flange bolts have."""
    return pick_in(flange_thread_row, np.ones_like(flange_thread_row), thread_widths)


@derived(
    title="Wrench for flange bolts",
    part=PART,
    source=cite("wrench"),
    text=True,
    excel="INDEX({thread_width_words},{flange_thread_row},1)",
)
def flange_wrench_words(thread_width_words: Any, flange_thread_row: Num) -> Any:
    """The wrench for flange bolts as it is marked; a second one holds the far nut."""
    return pick_in(flange_thread_row, np.ones_like(flange_thread_row), thread_width_words)


@derived(
    title="Tap and die for flange bolts",
    part=PART,
    source=cite("threads"),
    text=True,
    excel="INDEX({thread_tap_names},{flange_thread_row})",
)
def flange_tap_and_die(thread_tap_names: list[str], flange_thread_row: Num) -> Any:
    """The designation of the tap for the nuts and of the die for the studs of the flanges."""
    return pick(flange_thread_row, thread_tap_names)


@derived(
    title="Flange studs",
    unit="1",
    part=PART,
    source=cite("arithmetic"),
    excel="{flange_bolt_count}*{flange_joint_count}",
)
def flange_studs(flange_bolt_count: Num, flange_joint_count: Num) -> Num:
    """Studs of all flange joints of the valve."""
    return flange_joint_count * flange_bolt_count


@derived(title="Flange nuts", unit="1", part=PART, source=cite("arithmetic"), excel="2*{flange_studs}")
def flange_nuts(flange_studs: Num) -> Num:
    """Two nuts a stud."""
    return flange_studs + flange_studs


@derived(
    title="Flange gaskets",
    unit="1",
    part=PART,
    source=PRACTICE,
    optional=("flange_bolt_count",),
    excel='IF(ISNUMBER({flange_bolt_count}),{flange_joint_count},"")',
)
def flange_gaskets(flange_bolt_count: Num, flange_joint_count: Num) -> Num:
    """A new gasket for each flange joint that is opened."""
    return np.where(np.isnan(flange_bolt_count), np.nan, flange_joint_count)


@derived(
    title="Flange gasket",
    part=PART,
    source=READING,
    text=True,
    excel='INDEX({gasket_kind_names},{gasket_kind_row})&", "&INDEX({flange_keys},{flange_raised_row})',
)
def flange_gasket(gasket_kind_names: list[str], gasket_kind_row: Num, flange_keys: list[str], flange_raised_row: Num) -> Any:
    """The gasket as it is ordered, by kind, size and class; blank unless the faces are raised."""
    return together(pick(gasket_kind_row, gasket_kind_names), ", ", pick(flange_raised_row, flange_keys))


# --- in which order ---


@derived(
    title="Row of the flange bolt orders",
    unit="1",
    part=PART,
    source=READING,
    excel='IFERROR(MATCH({flange_bolt_count},{bolt_order_counts},0),"")',
)
def flange_order_row(flange_bolt_count: Num, bolt_order_counts: Num) -> Any:
    """Which order on Tables belongs to so many bolts; they are multiples of four."""
    return np.select([flange_bolt_count == one for one in bolt_order_counts], list(range(1, len(bolt_order_counts) + 1)), np.nan)


@derived(
    title="Order of slackening the flange bolts",
    part=PART,
    source=cite("slacken-order"),
    text=True,
    excel="INDEX({bolt_slacken_texts},{flange_order_row})",
)
def flange_slacken_order(bolt_slacken_texts: list[str], flange_order_row: Num) -> Any:
    """Bolt 1 is the lowest opposite the mechanic, so that the joint opens there and not towards him; nuts stay on."""
    return pick(flange_order_row, bolt_slacken_texts)


@derived(
    title="Cross order of tightening the flange bolts",
    part=PART,
    source=cite("bolt-orders"),
    text=True,
    excel="INDEX({bolt_cross_texts},{flange_order_row})",
)
def flange_cross_order(bolt_cross_texts: list[str], flange_order_row: Num) -> Any:
    """Bolts counted clockwise from the marked hole, each pass in this order."""
    return pick(flange_order_row, bolt_cross_texts)


@derived(
    title="Holding pair, first bolt",
    unit="1",
    part=PART,
    source=PRACTICE,
    optional=("flange_order_row",),
    excel='IF(ISNUMBER({flange_order_row}),{flange_bolt_count}/4+1,"")',
)
def flange_kept_1(flange_order_row: Num, flange_bolt_count: Num) -> Num:
    """Number of the bolt left in each flange until the sling is taut: a quarter of the way round from the marked hole."""
    return np.where(np.isnan(flange_order_row), np.nan, 1 + flange_bolt_count / 4)


@derived(
    title="Holding pair, second bolt",
    unit="1",
    part=PART,
    source=PRACTICE,
    excel="{flange_kept_1}+{flange_bolt_count}/2",
)
def flange_kept_2(flange_kept_1: Num, flange_bolt_count: Num) -> Num:
    """Number of the bolt opposite, the other of the pair."""
    return flange_bolt_count / 2 + flange_kept_1
