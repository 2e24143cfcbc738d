"""What is wrong with size, class, facing and material of the flanges.

It is said of a valve that comes out, since lists name them for every valve.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.joint.flange import FLANGES, PART, PRACTICE, READING
from sheetcalc.declare.blocks import derived, fault, fault_where
from sheetcalc.declare.quantity import Gravity, Num, Text
from sheetcalc.reference.sources import cite


@fault(
    title="Flange size not known",
    part=PART,
    gravity=Gravity.STOP,
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
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=PRACTICE,
    about=("flange_size", "comes_out_entered"),
    optional=("flange_size", "comes_out"),
    words="Flange size missing.",
    excel='AND(IFERROR({flange_size}="",0),EXACT({comes_out},"yes"))',
)
def flange_size_missing(flange_size: Text, comes_out: Text) -> Any:
    """Says that no flange size is typed though the valve comes out."""
    return (flange_size == "") & (comes_out == "yes")


@fault(
    title="Flange class not given",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=PRACTICE,
    about=("flange_class_entered", "comes_out_entered"),
    optional=("comes_out", "flange_class_entered"),
    words="Flange class missing.",
    excel='AND(EXACT({comes_out},"yes"),IFERROR({flange_class_entered}="",0))',
)
def flange_class_missing(comes_out: Text, flange_class_entered: Num) -> Any:
    """Says that no flange class is typed though the valve comes out."""
    return (comes_out == "yes") & np.isnan(flange_class_entered)


@fault(
    title="Flange class not known",
    part=PART,
    gravity=Gravity.STOP,
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
    gravity=Gravity.NOTE,
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
        gravity=Gravity.NOTE,
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
    excel='IF(AND(EXACT({comes_out},"yes"),OR({flange_raised}=1,EXACT({flange_facing},"not stated")),OR({flange_material_allows}=1,'
    'EXACT({flange_material},"not stated"))),1,"")',
)
def flange_asked(comes_out: Text, flange_raised: Num, flange_facing: Text, flange_material_allows: Num, flange_material: Text) -> Num:
    """1 where the valve comes out and facing and material, as far as stated, get a torque: only then is it asked for the rest."""
    raised = (flange_raised == 1) | (flange_facing == "not stated")
    steel = (flange_material_allows == 1) | (flange_material == "not stated")
    return np.where((comes_out == "yes") & raised & steel, 1.0, np.nan)


@fault(
    title="Facing of the flanges not stated",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=PRACTICE,
    about=("flange_facing_entered",),
    words="Facing of the flanges not stated.",
    excel='AND({flange_asked}=1,EXACT({flange_facing},"not stated"))',
)
def flange_facing_missing(flange_asked: Num, flange_facing: Text) -> Any:
    """Says that nobody has named the facing of the flanges."""
    return (flange_asked == 1) & (flange_facing == "not stated")


@fault(
    title="Material of the flanges not stated",
    part=PART,
    gravity=Gravity.UNASKED,
    withholds=("flange_bolt_torque",),
    source=PRACTICE,
    about=("flange_material_entered",),
    words="Material of the flanges not stated (cast iron would break).",
    excel='AND({flange_asked}=1,EXACT({flange_material},"not stated"))',
)
def flange_material_missing(flange_asked: Num, flange_material: Text) -> Any:
    """Says that nobody has named the material of the flanges."""
    return (flange_asked == 1) & (flange_material == "not stated")
