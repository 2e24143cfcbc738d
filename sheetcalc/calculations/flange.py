"""The flanges of a valve that comes out of the line: bolts, wrench, gaskets, and the order in which bolts are slackened and tightened."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick, pick_in, row_exact, row_ignoring_case, together
from sheetcalc.calculations.entries import given, given_code
from sheetcalc.declare.blocks import derived, entry, fault, fault_where
from sheetcalc.declare.quantity import Num, Text
from sheetcalc.reference.sources import cite

PART = "flange"
FLANGES, READING, PRACTICE = cite("flanges"), cite("reading"), cite("practice")

_CHOOSE = "choose one from the list on Tables."
given_code(
    "comes_out",
    title="Flanged valve comes out",
    part=PART,
    names="yes_no_names",
    usual="comes_out_usual",
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
    remedy=_CHOOSE,
    sentence="How the faces of the flanges are made: only raised faces get a torque.",
)
given_code(
    "flange_material",
    title="Material of the flanges",
    part=PART,
    names="flange_material_names",
    usual="flange_material_usual",
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


# --- bolts and gaskets ---


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
    """Bolts counted clockwise from the lowest on the far side, so that trapped pressure leaves away from the mechanic; nuts stay on."""
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
    title="Flange bolt that stays, first",
    unit="1",
    part=PART,
    source=PRACTICE,
    optional=("flange_order_row",),
    excel='IF(ISNUMBER({flange_order_row}),{flange_bolt_count}/4+1,"")',
)
def flange_kept_1(flange_order_row: Num, flange_bolt_count: Num) -> Num:
    """Number of a bolt that stays in each flange until the sling is taut: a quarter of the way round from the marked hole."""
    return np.where(np.isnan(flange_order_row), np.nan, 1 + flange_bolt_count / 4)


@derived(
    title="Flange bolt that stays, second",
    unit="1",
    part=PART,
    source=PRACTICE,
    excel="{flange_kept_1}+{flange_bolt_count}/2",
)
def flange_kept_2(flange_kept_1: Num, flange_bolt_count: Num) -> Num:
    """Number of the bolt opposite, which stays as well."""
    return flange_bolt_count / 2 + flange_kept_1


# --- what is wrong with size, class, facing and material: said of a valve that comes out, since lists name them for every valve ---


@fault(
    title="Flange size not known",
    part=PART,
    source=READING,
    about=("flange_size", "comes_out_entered"),
    optional=("comes_out", "flange_size", "flange_size_row"),
    words="Flange size is none of the listed ones: choose it from the list on Tables, letter for letter, such as NPS 2.",
    excel='AND(EXACT({comes_out},"yes"),IFERROR({flange_size}<>"",1),NOT(ISNUMBER({flange_size_row})))',
)
def flange_size_not_known(comes_out: Text, flange_size: Text, flange_size_row: Num) -> Any:
    """Says that the flange size is not on Tables."""
    return (comes_out == "yes") & (flange_size != "") & np.isnan(flange_size_row)


@fault(
    title="Flange size not given",
    part=PART,
    source=PRACTICE,
    about=("flange_size", "comes_out_entered"),
    optional=("flange_size", "comes_out"),
    words="Flange size is missing: without it bolts, gaskets and torque of the flanges stay blank.",
    excel='AND(IFERROR({flange_size}="",0),EXACT({comes_out},"yes"))',
)
def flange_size_missing(flange_size: Text, comes_out: Text) -> Any:
    """Says that no flange size is typed though the valve comes out."""
    return (flange_size == "") & (comes_out == "yes")


@fault(
    title="Flange class not given",
    part=PART,
    source=PRACTICE,
    about=("flange_class_entered", "comes_out_entered"),
    optional=("comes_out", "flange_class_entered"),
    words="Flange class is missing: without it bolts, gaskets and torque of the flanges stay blank.",
    excel='AND(EXACT({comes_out},"yes"),IFERROR({flange_class_entered}="",0))',
)
def flange_class_missing(comes_out: Text, flange_class_entered: Num) -> Any:
    """Says that no flange class is typed though the valve comes out."""
    return (comes_out == "yes") & np.isnan(flange_class_entered)


@fault(
    title="Flange class not known",
    part=PART,
    source=FLANGES,
    about=("flange_class_entered",),
    optional=("comes_out", "flange_class", "flange_class_column"),
    words="Flange class is none of those on Tables: type one of them, or take bolts and torque from the owner's standard.",
    excel='AND(EXACT({comes_out},"yes"),ISNUMBER({flange_class}),NOT(ISNUMBER({flange_class_column})))',
)
def flange_class_not_known(comes_out: Text, flange_class: Num, flange_class_column: Num) -> Any:
    """Says that the tables do not have this class."""
    return (comes_out == "yes") & ~np.isnan(flange_class) & np.isnan(flange_class_column)


@fault(
    title="Flange not listed",
    part=PART,
    source=FLANGES,
    about=("flange_size", "flange_class_entered"),
    optional=("comes_out", "flange_size_row", "flange_class_column", "flange_row"),
    words="This flange size is not on Tables in this class: look at both again, or take bolts and torque from the owner's standard.",
    excel='AND(EXACT({comes_out},"yes"),ISNUMBER({flange_size_row}),ISNUMBER({flange_class_column}),NOT(ISNUMBER({flange_row})))',
)
def flange_not_listed(comes_out: Text, flange_size_row: Num, flange_class_column: Num, flange_row: Num) -> Any:
    """Says that size and class are known and do not stand on Tables together."""
    return (comes_out == "yes") & ~np.isnan(flange_size_row) & ~np.isnan(flange_class_column) & np.isnan(flange_row)


@fault(
    title="Flange with the drilling of class 1500",
    part=PART,
    source=FLANGES,
    about=("flange_size", "flange_class_entered"),
    words="Class 900 below NPS 3 has the drilling of class 1500, which is not on Tables: take bolts, gasket and torque of the flanges "
    "from the owner's standard.",
    excel='AND(EXACT({comes_out},"yes"),NOT(ISNUMBER(INDEX({flange_counts},{flange_row}))))',
)
def flange_uses_1500(comes_out: Text, flange_row: Num, flange_counts: Num) -> Any:
    """Says that the flange stands on Tables without bolts."""
    return (comes_out == "yes") & np.isnan(pick(flange_row, flange_counts))


def _out_with(choice: str) -> Callable[[Any, Any], Any]:
    return lambda comes_out, chosen: (comes_out == "yes") & (chosen == choice)


_RING = "Ring joint: studs are longer and the gasket is a metal ring in a groove, so no stud length, gasket or torque is given: take them "
_REFUSED = (
    ("flange_ring_joint", "Flange with a ring joint", "flange_facing", "ring joint", _RING + "from the owner's standard."),
    (
        "flange_lap_joint",
        "Flange with a lap joint",
        "flange_facing",
        "lap joint",
        "Lap joint: studs are longer by both laps, so no stud length, gasket or torque is given: take them from the owner's standard.",
    ),
    (
        "flange_flat_face",
        "Flange with a flat face",
        "flange_facing",
        "flat face",
        "Flat face: the whole face bears, so no stud length, gasket or torque is given: take them from the owner's procedure, and never "
        "pull a raised face against it.",
    ),
    (
        "flange_no_drilling",
        "Flange bolts by the valve's maker",
        "flange_facing",
        "wafer, lug or tapped",
        "Wafer, lug or tapped: bolts pass the valve or end in it, so none are given, nor gasket or torque: take them from its maker.",
    ),
    (
        "flange_cast_iron",
        "Flange of cast iron",
        "flange_material",
        "cast iron",
        "Cast iron flanges break when bolts pull them over a raised face, so no torque is given: take it from the owner's procedure.",
    ),
    (
        "flange_other_material",
        "Flange of another material",
        "flange_material",
        "other",
        "Flanges of another material than steel get no torque here: take it from their maker's sheet.",
    ),
)
for _name, _title, _read, _choice, _words in _REFUSED:
    fault_where(
        _name,
        ("comes_out", _read),
        _out_with(_choice),
        f"Says what follows for the flanges from {_choice}.",
        title=_title,
        part=PART,
        source=cite("flange-facings"),
        about=(f"{_read}_entered",),
        words=_words,
        excel=f'AND(EXACT({{comes_out}},"yes"),EXACT({{{_read}}},"{_choice}"))',
    )


@derived(
    title="Flange is asked about",
    unit="1",
    part=PART,
    source=READING,
    optional=("flange_bolt_count",),
    excel='IF(AND(EXACT({comes_out},"yes"),ISNUMBER({flange_bolt_count})),1,"")',
)
def flange_asked(comes_out: Text, flange_bolt_count: Num) -> Num:
    """1 where the valve comes out and its flange bolts are known: only then what is missing for a torque is asked for."""
    return np.where((comes_out == "yes") & ~np.isnan(flange_bolt_count), 1.0, np.nan)


@fault(
    title="Facing of the flanges not stated",
    part=PART,
    source=PRACTICE,
    about=("flange_facing_entered",),
    optional=("flange_asked",),
    words="Facing of the flanges is not stated: stud length, gasket and torque stay blank until it is.",
    excel='AND(ISNUMBER({flange_asked}),EXACT({flange_facing},"not stated"))',
)
def flange_facing_missing(flange_asked: Num, flange_facing: Text) -> Any:
    """Says that nobody has named the facing of the flanges."""
    return ~np.isnan(flange_asked) & (flange_facing == "not stated")


@fault(
    title="Material of the flanges not stated",
    part=PART,
    source=PRACTICE,
    about=("flange_material_entered",),
    optional=("flange_asked",),
    words="Material of the flanges is not stated: no torque is given until it is, since cast iron would break.",
    excel='AND(ISNUMBER({flange_asked}),EXACT({flange_material},"not stated"))',
)
def flange_material_missing(flange_asked: Num, flange_material: Text) -> Any:
    """Says that nobody has named the material of the flanges."""
    return ~np.isnan(flange_asked) & (flange_material == "not stated")
