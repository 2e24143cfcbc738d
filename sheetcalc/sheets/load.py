"""The sheet Load: service, gland load, studs, stress down the stack and stem of one valve, with the stack as a live chart."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from sheetcalc.calculations.valve.fitting import MOST_RINGS
from sheetcalc.declare.quantity import get
from sheetcalc.sheets.common import plain, unit_in
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.form import (
    ENTRY,
    FIRST,
    HEADS,
    HINT,
    LOAD,
    LOAD_ANSWERS,
    LOAD_CHECKS,
    LOAD_GROUPS,
    OTHER,
    OTHER_UNIT,
    OUT,
    TITLE,
    UNIT,
    VALUE,
    VALUE_UNIT,
    answer_in_both,
    entry_cells,
    usable_cell,
)
from sheetcalc.sheets.layout import Cell, Chart, Mark, Series, Sheet, address, block, check_mark
from sheetcalc.sheets.register import Book, Purpose, register

#: The table of the rings, under the entries: its first row, and its heads by column.
_RINGS: Final = FIRST + sum(1 + len(entries) for _head, entries in LOAD_GROUPS) + 2
_RING_HEADS: Final = {TITLE: "Ring from the bottom", ENTRY: "Depth to its top", UNIT: "Joint °", HINT: "Stress at its top"}


def _rings(values: Mapping[str, Any], unit_set: str) -> tuple[list[Cell], Chart]:
    """A line for each ring, and the chart of the stress that each feels."""
    dimensioned = {ENTRY: get("ring_1_depth"), HINT: get("ring_1_stress")}
    units_in = {column: f", {unit_in(quantity, unit_set)}" for column, quantity in dimensioned.items()}
    cells = [Cell(_RINGS, column, f"{head}{units_in.get(column, '')}", "head") for column, head in _RING_HEADS.items()]
    for ring in range(1, MOST_RINGS + 1):
        for column, name in ((TITLE, f"ring_{ring}"), (UNIT, f"ring_{ring}_joint")):
            cells.append(Cell(_RINGS + ring, column, plain(values[name][0]), "answer_count", name))
        for column, name in ((ENTRY, f"ring_{ring}_depth"), (HINT, f"ring_{ring}_stress")):
            cells.append(usable_cell(_RINGS + ring, column, get(name), values, unit_set))
    last = _RINGS + MOST_RINGS
    cells += [
        Cell(last + 1, TITLE, "Under the bottom ring", "label"),
        usable_cell(last + 1, HINT, get("bottom_stress"), values, unit_set),
        Cell(last + 2, TITLE, "Lantern ring, over the rings below it", "label"),
        usable_cell(last + 2, ENTRY, get("lantern_depth"), values, unit_set),
        Cell(last + 3, TITLE, "At most ten rings have a line; loose packing has none. Depths are those after seating.", "origin"),
    ]
    series = Series(
        f"={LOAD}!{address(_RINGS, HINT)}",
        f"{LOAD}!{block(_RINGS + 1, TITLE, last, TITLE)}",
        f"{LOAD}!{block(_RINGS + 1, HINT, last, HINT)}",
        "#55636F",
    )
    chart = Chart(
        last + 5,
        TITLE,
        "Axial stress on top of each ring",
        "Columns: the axial stress on top of each ring, from the bottom ring on the left to the ring under the follower. The lower the "
        "columns on the left, the less of the gland stress reaches the bottom.",
        unit_in(get("ring_1_stress"), unit_set),
        (series,),
        700,
        330,
        gap=40,
        below="ring, counted from the bottom",
    )
    return cells, chart


def sheet(edition: Edition, typed: Mapping[str, float | str], values: Mapping[str, Any]) -> Sheet:
    """The sheet, with the core's answers stored in every cell."""
    cells = [
        Cell(0, TITLE, "Gland load, studs, stack and stem of one valve", "title"),
        Cell(
            1,
            TITLE,
            f"{edition.title} Measure the box on Valve first. Answers stand in both unit sets beside each other.",
            "subtitle",
        ),
        Cell(
            2,
            TITLE,
            "Site procedure, maker's manual and local codes come first. Most figures of packing are from memory: see Materials.",
            "subtitle",
        ),
        *(Cell(FIRST - 1, column, head, "head") for column, head in HEADS.items()),
    ]
    entered, validations = entry_cells(LOAD_GROUPS, edition, typed, values)
    cells += entered
    row = FIRST
    for head, answers in LOAD_ANSWERS:
        cells += [Cell(row, column, head if column == OUT else "", "band") for column in range(OUT, OTHER_UNIT + 1)]
        row += 1
        for name in answers:
            cells += answer_in_both(row, get(name), values, edition.sets)
            row += 1
    rings, chart = _rings(values, edition.unit_set)
    cells += rings
    check_row = max(row, _RINGS + MOST_RINGS + 22) + 1
    cells += [Cell(check_row - 1, column, "Checks" if column == TITLE else "", "band") for column in range(TITLE, OTHER_UNIT + 1)]
    for offset, name in enumerate(LOAD_CHECKS):
        cells += [
            Cell(check_row + offset, TITLE, get(name).title, "label"),
            Cell(check_row + offset, ENTRY, plain(values[name][0]), "text", name),
        ]
    last = check_row + len(LOAD_CHECKS) - 1
    verdict = FIRST + 1
    return Sheet(
        LOAD,
        tuple(cells),
        validations=tuple(validations),
        charts=(chart,),
        marks=(
            check_mark(check_row, ENTRY, last),
            Mark(verdict, VALUE, verdict, VALUE, f'OR(LEFT($H${verdict + 1},4)="does",LEFT($H${verdict + 1},3)="not")', "warn"),
        ),
        widths={0: 3, 1: 29, 2: 20, 3: 7, 4: 44, 5: 2, OUT: 36, VALUE: 15, VALUE_UNIT: 8, OTHER: 13, OTHER_UNIT: 8},
        heights=dict.fromkeys(range(FIRST, last + 1), 17.0) | dict.fromkeys((FIRST + 1, FIRST + 3), 28.0) | {FIRST - 1: 20.0, _RINGS: 20.0},
        freeze=(FIRST, 0),
        repeat_rows=(FIRST - 1, FIRST - 1),
        scale=65,
        breaks=(_RINGS - 1,),
        print_area=(0, 0, last, OTHER_UNIT),
        footer=LOAD,
        selected=(FIRST + 1, ENTRY),
    )


register(
    Book.ONE,
    LOAD,
    20,
    Purpose.WORK,
    "service, packing material, gland load, torque, stress down the stack, stem and handwheel",
    lambda book: sheet(book.edition, book.typed, book.values),
)
