"""The sheet Outage working: the rows of an outage that are no valves, one block of columns for each kind of row.

Lines of the order, tools, days, readings and the rest stand beside each other, each from the same first row, so that a
row here and the row of the same number on the sheet that shows it belong together.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.calculations.run import present_names
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import EVERY, Check, Column, Constant, Derived, Per, Quantity, get
from sheetcalc.reference import tables as reference
from sheetcalc.sheets.common import ROW_MARK, column_values, in_names, mark, plain, unit_in, unit_shown
from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Sheet, Value, block, column_letters
from sheetcalc.sheets.register import Book, Purpose, register

OUTAGE, WORKING_ROWS = "Outage", "Outage working"
#: The first row of every block, here and on the sheets that show it.
FIRST: Final = 10
_QUOTED: Final = f"'{WORKING_ROWS}'"


@dataclass(frozen=True)
class Source:
    """Where an entry of a row comes from: typed on another sheet in the row of the same number, or fetched by a formula."""

    sheet: str = ""
    column: int = 0
    parts: tuple[str, ...] = ()


@dataclass
class Rows:
    """Where every quantity of the outage stands, and the answers of the core."""

    set: Answers
    lengths: Mapping[Per, int]
    values: Mapping[str, Any]
    #: What formulas call by name: constants and columns of tables.
    names: frozenset[str]
    #: The answers of the valves, where there are valves: the range of a column of their sheet.
    of_valves: Callable[[str], str] | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)
    #: What was typed, letter for letter, where it is more than the core's number.
    typed: Mapping[str, Sequence[Value]] = field(default_factory=dict)
    #: The parts of the outage itself that the workbook has; all where none is named.
    parts: frozenset[str] = frozenset()
    column: dict[str, int] = field(init=False)

    def __post_init__(self) -> None:
        """Give each quantity its column, with an empty one between the blocks."""
        self.column = {}
        at = 0
        for per in self.lengths:
            if per in {Per.OUTAGE, Per.LISTED}:
                continue
            for name in (*self.entries(per), *self.answered(per)):
                self.column[name] = at
                at += 1
            at += 1

    @property
    def pers(self) -> frozenset[Per]:
        """The kinds of rows that there are."""
        return frozenset(self.lengths) | ({Per.VALVE} if self.of_valves else frozenset())

    def entries(self, per: Per) -> tuple[str, ...]:
        """What is typed for a kind of row, in order."""
        return tuple(name for name in self.set.entries(per) if self._has(get(name)))

    def answered(self, per: Per) -> tuple[str, ...]:
        """What is worked out for a kind of row, in order."""
        return tuple(name for name in present_names(self.pers, self.set) if get(name).per is per and self._has(get(name)))

    def _has(self, quantity: Quantity) -> bool:
        return quantity.per is not Per.OUTAGE or not self.parts or quantity.part in self.parts

    def range(self, name: str) -> str:
        """The whole column of a quantity, wherever it stands."""
        quantity = get(name)
        if quantity.per in {Per.VALVE, Per.LISTED}:
            assert self.of_valves is not None  # noqa: S101 - such a name is present only where there are valves
            return self.of_valves(name)
        last = FIRST + self.lengths[quantity.per] - 1
        source = self.sources.get(name, Source())
        if source.sheet:
            return f"{source.sheet}!{block(FIRST, source.column, last, source.column)}"
        column = self.column[name]
        return f"{_QUOTED}!{block(FIRST, column, last, column)}"

    def place(self, name: str) -> str:
        """The cell of a quantity in the row of the formula, seen from Outage working, which has a copy of what is typed elsewhere."""
        return f"${column_letters(self.column[name])}{ROW_MARK}"

    def shown(self, name: str) -> str:
        """The cell of a quantity in the row of the formula, seen from another sheet."""
        source = self.sources.get(name, Source())
        if source.sheet:
            return f"{source.sheet}!${column_letters(source.column)}{ROW_MARK}"
        return f"{_QUOTED}!{self.place(name)}"

    def where(self, quantity: Quantity) -> dict[str, str]:
        """What stands for each name in the formula of a quantity: for its own row, for whole columns, for the outage."""
        out: dict[str, str] = {}
        for read in quantity.reads:
            if read.startswith(EVERY):
                out[read] = self.range(read.removeprefix(EVERY))
            elif get(read).per is Per.OUTAGE and not isinstance(get(read), (Constant, Column)):
                out[read] = read
            else:
                out[read] = read if read in self.names else self.place(read)
        return out

    def formula(self, name: str) -> tuple[str, ...]:
        """The formula of a quantity, in parts around the row number."""
        quantity = self.set.get(name)
        if not isinstance(quantity, Derived):
            return self.sources[name].parts
        return tuple(formula.render(quantity.guarded_excel, self.where(quantity)).split(ROW_MARK))

    def answers(self, name: str) -> list[Value]:
        """The core's answers, or the entries as typed, of a column."""
        return list(self.typed[name]) if name in self.typed else column_values(self.values, name)

    def one(self, name: str) -> Value:
        """The core's answer for the outage as a whole."""
        value = np.atleast_1d(self.values[name])[0]
        return plain(value) if not isinstance(value, str) else value

    def sheet(self) -> Sheet:
        """The sheet."""
        cells = [
            Cell(0, 0, WORKING_ROWS, "title"),
            Cell(
                1,
                0,
                "Lines of the order, tools, days, readings and the rest, a block of columns each, in mm, kg, days and hours. The "
                "same formula all along a column; above it the formula in names.",
                "subtitle",
            ),
        ]
        columns: list[Grid] = []
        widths: dict[int, float] = {}
        per: Per | None = None
        for name, column in self.column.items():
            quantity = self.set.get(name)
            if quantity.per is not per:
                per = quantity.per
                cells.append(Cell(FIRST - 7, column, f"One row for each {per.value}", "heading"))
            source = self.sources.get(name, Source())
            said = _said(quantity, source)
            heads = (quantity.kind, name, quantity.title, quantity.symbol, _unit(quantity), said)
            cells += [Cell(FIRST - 6 + i, column, head, "small" if i else "band") for i, head in enumerate(heads)]
            cells.append(Cell(FIRST - 8, column, mark(quantity), "small"))
            widths[column] = 15.0
            style = "working_text" if quantity.is_text else "working"
            if source.sheet:
                parts = tuple(f'IF({self.shown(name)}="","",{self.shown(name)})'.split(ROW_MARK))
            else:
                parts = self.formula(name) if isinstance(quantity, Derived) or source.parts else ()
            columns.append(Grid(FIRST, (GridColumn(column, self.answers(name), style, parts),)))
        # Rows in which nothing is worked out are not printed: a blank log would fill hundreds of pages.
        last = FIRST + max(24, *(used_rows(self, name) for name in self.column if isinstance(get(name), Check)))
        return Sheet(
            WORKING_ROWS,
            tuple(cells),
            grids=tuple(columns),
            widths=widths,
            heights={FIRST - 4: 26.0, FIRST - 1: 104.0},
            freeze=(FIRST, 0),
            repeat_rows=(FIRST - 7, FIRST - 1),
            footer=WORKING_ROWS,
            print_area=(0, 0, last, max(self.column.values())),
            fit_width=20,
        )


def _said(quantity: Quantity, source: Source) -> str:
    if isinstance(quantity, Derived):
        return in_names(quantity)
    if source.sheet:
        return f"typed on {source.sheet}, blank stays blank"
    return "fetched, blank stays blank" if source.parts else "the number of the row"


def _unit(quantity: Quantity) -> str:
    return "as typed" if not isinstance(quantity, Derived) and quantity.dimension else unit_shown(quantity)


@dataclass(frozen=True)
class Shown:
    """A column of a sheet that shows rows: of which quantity, its look and width, and a header of its own if it wants one."""

    name: str
    width: float = 12.0
    style: str = ""
    header: str = ""


_STYLES: Final = {"date": "answer_date", "h": "answer_2", "d": "answer_count"}


def _style(quantity: Quantity) -> str:
    if quantity.is_text:
        return "answer_text"
    return _STYLES.get(quantity.unit, "answer" if quantity.dimension else "answer_count")


def unit_words(quantity: Quantity) -> str:
    """A formula that gives the unit in which the outage reads a quantity."""
    first, second = (unit_in(quantity, one) for one in units.UNIT_SETS)
    return f'IF(COUNT(outage_unit_row)=0,"?",CHOOSE(outage_unit_row,"{first}","{second}"))'


def _unit_value(rows: Rows, quantity: Quantity) -> str:
    number = rows.one("outage_unit_row")
    return unit_in(quantity, list(units.UNIT_SETS)[int(number) - 1]) if isinstance(number, float) else "?"


def in_outage_units(rows: Rows, quantity: Quantity, reference: str, value: Value) -> tuple[str, Value]:
    """The formula and the answer of a value in the unit that the outage reads it in."""
    if quantity.dimension is None:
        return f'IF({reference}="","",{reference})', value
    name = f"unit_{quantity.dimension}_factors"
    number = rows.one("outage_unit_row")
    text = f'IF(COUNT({reference},outage_unit_row)<2,"",{reference}/INDEX({name},outage_unit_row))'
    if not isinstance(value, float) or not isinstance(number, float):
        return text, None
    return text, value / float(reference_factor(name, int(number)))


def reference_factor(name: str, row: int) -> float:
    """A factor of the unit tables by its row from 1."""
    return float(reference.values()[name][row - 1])


def header(rows: Rows, quantity: Quantity, row: int, column: int, said: str = "") -> Cell:
    """The header of a shown column; the unit in it follows the unit set of the outage."""
    title = (said or quantity.title).replace('"', "'")
    if quantity.dimension is None:
        unit = unit_shown(quantity)
        return Cell(row, column, f"{title} ({unit})" if unit not in {"", "–", "date"} else title, "head")
    return Cell(row, column, f"{title} ({_unit_value(rows, quantity)})", "head", f'"{title} ("&{unit_words(quantity)}&")"')


def shown(rows: Rows, per: Per, columns: Sequence[Shown], first_column: int, *, first_row: int = FIRST) -> tuple[list[Cell], Grid]:
    """The headers, and the grid of cells that show columns of Outage working in the units of the outage."""
    cells, grid = [], []
    for place, one in enumerate(columns, start=first_column):
        quantity = get(one.name)
        if quantity.per is not per:
            message = f"{one.name} is of {quantity.per.value}, not of {per.value}"
            raise KeyError(message)
        cells.append(header(rows, quantity, first_row - 1, place, one.header))
        texts, answers = "", []
        for value in rows.answers(one.name):
            texts, answer = in_outage_units(rows, quantity, rows.shown(one.name), value)
            answers.append("" if answer is None else answer)
        grid.append(GridColumn(place, answers, one.style or _style(quantity), tuple(texts.split(ROW_MARK))))
    return cells, Grid(first_row, tuple(grid))


def shown_cells(rows: Rows, per: Per, columns: Sequence[Shown], first_row: int, first_column: int) -> list[Cell]:
    """The same cell by cell, where the rows do not stand beside those of Outage working; the headers in the row above."""
    cells: list[Cell] = []
    for place, one in enumerate(columns, start=first_column):
        quantity = get(one.name)
        cells.append(header(rows, quantity, first_row - 1, place, one.header))
        answers = rows.answers(one.name)
        for row in range(rows.lengths[per]):
            where = rows.shown(one.name).replace(ROW_MARK, str(FIRST + 1 + row))
            text, value = in_outage_units(rows, quantity, where, answers[row])
            cells.append(Cell(first_row + row, place, value, one.style or _style(quantity), text))
    return cells


def unit_cell(rows: Rows, quantity: Quantity, row: int, column: int) -> Cell:
    """The unit in which the outage reads a quantity."""
    return Cell(row, column, _unit_value(rows, quantity), "label", unit_words(quantity))


def heights_for(rows: Rows, *columns: tuple[str, int]) -> dict[int, float]:
    """The heights of rows whose words take more than a line of so many characters in any of some columns."""
    out: dict[int, float] = {}
    for name, width in columns:
        for row, text in enumerate(rows.answers(name), start=FIRST):
            if isinstance(text, str) and len(text) > width:
                out[row] = max(out.get(row, 0.0), 14.0 * -(-len(text) // width))
    return out


def one_value(rows: Rows, name: str) -> tuple[str, Value]:
    """The formula and the answer of a value of the outage, in the unit that the outage reads it in."""
    return in_outage_units(rows, get(name), name, rows.one(name))


def used_rows(rows: Rows, name: str) -> int:
    """How many rows of a block are in use: up to the last that has an answer in a column."""
    used = [row for row, value in enumerate(rows.answers(name), start=1) if value not in {None, ""}]
    return max(used, default=0)


register(
    Book.LIST, WORKING_ROWS, 160, Purpose.AUDIT, "lines, tools, days and readings, with their formulas", lambda book: book.rows.sheet()
)
register(Book.FOLLOW, WORKING_ROWS, 60, Purpose.AUDIT, "readings and valves, with their formulas", lambda book: book.rows.sheet())
