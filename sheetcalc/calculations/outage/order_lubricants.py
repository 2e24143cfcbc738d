"""What lubricants the valves ask for: one line for each, whether gland studs or flange studs take it, by the studs that it serves."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import first_row_of
from sheetcalc.calculations.outage.grouped import GATHERED, escaped
from sheetcalc.calculations.outage.order import ORDER, PART
from sheetcalc.declare.blocks import derive, derived, gathered
from sheetcalc.declare.quantity import Formula, Num, Per, Text

#: What the table of lubricants calls threads without any.
DRY: Final = "none (dry)"


def _named(studs: Num, there: Num, names: list[str], row: Num) -> Any:
    name = np.asarray(pick(row, names), dtype=object)
    return np.where((studs * there > 0) & (name != DRY), "LUBRICANT " + name, "")


for _name, _of, _reads in (
    ("grease_code", "gland studs", ("gland_stud_count", "ordered", "lubricant_names", "lubricant_row")),
    ("flange_grease_code", "flange studs", ("flange_studs", "out_ordered", "lubricant_names", "flange_lubricant_row")),
):
    _studs, _there, _names, _row = (f"{{{read}}}" for read in _reads)
    derive(
        _name,
        _reads,
        _named,
        "What like lubricants share, as Tables write them; blank for dry threads.",
        title=f"Lubricant of {_of}, order code",
        text=True,
        part=PART,
        source=ORDER,
        per=Per.LISTED,
        excel=f'IF(AND({_studs}*{_there}>0,NOT(EXACT(INDEX({_names},{_row}),"{DRY}"))),"LUBRICANT "&INDEX({_names},{_row}),"")',
    )


@derived(
    title="Valve whose gland studs take the lubricant of these flanges",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.LISTED,
    excel=f'IFERROR(MATCH({escaped("{flange_grease_code}")},{{every_grease_code}},0),"")',
)
def grease_place(flange_grease_code: Text, every_grease_code: Text) -> Any:
    """The number of the first valve whose gland studs take it: both are one line."""
    return first_row_of(flange_grease_code, every_grease_code)


@derived(
    title="Lubricant of flange studs alone, order code",
    text=True,
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    guards=False,
    excel='IF(ISNUMBER({grease_place}),"",{flange_grease_code})',
)
def joint_grease_code(grease_place: Num, flange_grease_code: Text) -> Any:
    """What lubricants share that no gland studs take."""
    return np.where(np.isnan(grease_place), flange_grease_code, "")


@derived(
    title="Flange studs of such a lubricant",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    guards=False,
    excel='IF({joint_grease_code}="","",{flange_studs})',
)
def joint_grease_pieces(joint_grease_code: Text, flange_studs: Num) -> Num:
    """How many studs of this valve the line serves."""
    return np.where(joint_grease_code == "", np.nan, flange_studs)


@derived(
    title="Lubricant of flange studs, line of another valve's gland studs",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.LISTED,
    guards=False,
    excel='IF({grease_place}={grease_first},"",{grease_place})',
)
def shared_grease_first(grease_place: Num, grease_first: Num) -> Num:
    """The number of the valve that opens the line; blank where the valve's own gland studs ask for it already."""
    return np.where(grease_place == grease_first, np.nan, grease_place)


@derived(
    title="Flange studs on that line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
    guards=False,
    excel='IF(ISNUMBER({shared_grease_first}),{flange_studs},"")',
)
def shared_grease_pieces(shared_grease_first: Num, flange_studs: Num) -> Num:
    """How many studs of this valve it serves besides."""
    return np.where(np.isnan(shared_grease_first), np.nan, flange_studs)


def _gland_studs(flange: tuple[str, ...]) -> Formula:
    """The gland studs; where flanges are worked out, also those flange studs of the valve that take the same lubricant."""
    if "flange_studs" not in flange:
        return Formula(
            reads=("grease_first", "gland_stud_count"),
            excel='IF({grease_first}>0,{gland_stud_count},"")',
            function=lambda first, studs: np.where(first > 0, studs, np.nan),
        )
    return Formula(
        reads=("gland_stud_count", "grease_first", *flange),
        excel="{gland_stud_count}+IF({grease_place}={grease_first},{flange_studs},0)",
        function=lambda studs, first, place, more: np.where(np.isnan(first), np.nan, studs) + np.where(place == first, more, 0.0),
    )


gathered(
    "grease_pieces",
    ("grease_place", "flange_studs"),
    _gland_studs,
    "How many studs of this valve the line of its gland studs serves.",
    alone=True,
    optional=("grease_place", "flange_studs"),
    title="Studs of the gland studs' lubricant",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LISTED,
)
