"""The sheet Working of a list: one row per valve by position, one column per quantity, every formula in full."""

from __future__ import annotations

from typing import Final

import numpy as np
import pandas as pd

from sheetcalc.calculations.run import evaluate, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import EVERY, Derived, Per, get
from sheetcalc.sheets import assumptions, log, outage_plan, tables
from sheetcalc.sheets.common import ROW_MARK, column_values, in_names, mark, unit_in, unit_shown
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.filled import Filled, as_typed
from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Sheet, Value, address, block, column_letters
from sheetcalc.sheets.register import Book, Purpose, register
from sheetcalc.sheets.usable import usable_in, usable_value
from sheetcalc.sheets.valves_columns import ANSWERS, columns, listed_entries

VALVES, WORKING = "Valves", "Working"
#: The row of the headers of Valves, and the first row of valves on Working.
HEADER: Final = 5
FIRST: Final = 10
#: How far below the header of Valves Working looks: more rows than a list may have.
_FETCH_ROWS: Final = 20_000


class Working:
    """Where each quantity stands on Working, and the answers of the core for every row."""

    def __init__(self, edition: Edition, filled: Filled, spare: int) -> None:
        self.edition, self.answers = edition, edition.answers
        typed, listed = self.answers.entries(), listed_entries(self.answers)
        self.count = len(filled.entries)
        self.rows = self.count + spare
        every = [*typed, *listed]
        spare_rows = pd.DataFrame({"unit_set": [edition.unit_set] * spare}, columns=every)
        entries = pd.concat([filled.entries.astype(object), spare_rows.astype(object)], ignore_index=True)
        self.entries = entries.reindex(columns=every)
        self.typed = read_entries(self.entries[list(typed)])
        numbered = self.entries[list(listed)].assign(position=np.arange(1.0, self.rows + 1))
        self.values = evaluate(self.typed, self.rows, answers=self.answers)
        self.names = [*typed, *self.answers.worked_out()]
        followed = log.pack_sources(*(f"{WORKING}!${column_letters(1 + self.names.index(one))}" for one in ("tag", "least_take_up")))
        self.outage = outage_plan.rows(edition, filled, self.values, read_entries(numbered, Per.LISTED), self.range, followed)
        self.values = {**self.values, **self.outage.values}
        self.listed = [*listed, *self.outage.answered(Per.LISTED)]
        self.extra = [f"{name}_shown" for name in ANSWERS if name in self.answers and get(name).dimension]
        self.column = {"position": 0}
        self.column |= {name: place for place, name in enumerate([*self.names, *self.listed, *self.extra], start=1)}
        self.last = FIRST + self.rows - 1

    def range(self, name: str) -> str:
        """The whole column of a quantity."""
        column = self.column[name]
        return f"{WORKING}!{block(FIRST, column, self.last, column)}"

    def cell(self, name: str, position: int) -> str:
        """The cell of a quantity in the row of a valve, by its position from 0."""
        return f"{WORKING}!{address(FIRST + position, self.column[name])}"

    def place(self, name: str) -> str:
        """The cell of a quantity in the row of the formula."""
        return f"${column_letters(self.column[name])}{ROW_MARK}"

    @property
    def places(self) -> dict[str, str]:
        """Row-relative addresses for what stands in Working, ranges for whole columns, defined names for the rest."""
        of_outage = (*self.answers.entries(Per.OUTAGE), *self.outage.answered(Per.OUTAGE))
        fixed = {name: name for name in [*assumptions.names(self.answers), *tables.names(self.answers), *of_outage]}
        columns = {read for name in self.listed for read in self.answers.get(name).reads if read.startswith(EVERY)}
        every = {read: self.outage.range(read.removeprefix(EVERY)) for read in sorted(columns)}
        return {**fixed, **every, **{name: self.place(name) for name in ("position", *self.names, *self.listed)}}

    def fetch(self, name: str) -> tuple[str, ...]:
        """The formula parts that fetch an entry: a blank stays blank, an error value becomes text that no check accepts.

        The range is a plain one, since LibreOffice kept old answers of a table's own column after rows were deleted. It
        begins at the header, so that a row inserted above the first valve stays inside, and ends far below the table.
        """
        place = next(i for i, column in enumerate(columns(self.edition, ())) if column.entry == name)
        whole = f"{VALVES}!{block(HEADER, place, HEADER + _FETCH_ROWS, place)}"
        number = f"$A{ROW_MARK}"
        inner = f'IF(INDEX({whole},1+{number})="","",INDEX({whole},1+{number}))'
        return tuple(f'IF({number}>ROWS({VALVES}[Tag]),"",IFERROR({inner},"#"))'.split(ROW_MARK))

    def extra_column(self, name: str) -> tuple[str, list[Value], str]:
        """Formula, answers and style of a column that only a list has."""
        source = get(name.removesuffix("_shown"))
        held = column_values(self.values, source.name)
        text = usable_in(source, self.place(source.name), self.edition.unit_set)
        return text, [usable_value(source, value, self.edition.unit_set) for value in held], "working"

    def title(self, name: str) -> tuple[str, str, str, str]:
        """Title, symbol, unit and formula in names of a column, as they stand above it."""
        if name in self.column and name not in self.extra:
            quantity = self.answers.get(name)
            text = in_names(quantity) if isinstance(quantity, Derived) else "fetched from Valves, blank stays blank"
            unit = unit_shown(quantity) if isinstance(quantity, Derived) or quantity.is_text else "as typed"
            return quantity.title, quantity.symbol, unit, text
        source = get(name.removesuffix("_shown"))
        text = "=" + usable_in(source, source.name, self.edition.unit_set)
        return f"{source.title}, shown in Valves", source.symbol, unit_in(source, self.edition.unit_set), text

    def sheet(self) -> Sheet:
        """The sheet."""
        cells = [
            Cell(0, 0, "Working", "title"),
            Cell(
                1,
                0,
                "One row per valve, by position in Valves; one quantity per column, in mm, N, MPa, N·mm, kg and degrees. The same "
                "formula all along a column; above it the formula in names.",
                "subtitle",
            ),
            *(Cell(FIRST - 7 + i, 0, head, "head") for i, head in enumerate(("Mark", "Kind", "Name", "Title", "Symbol", "Unit", "No."))),
        ]
        columns = [GridColumn(0, [float(i + 1) for i in range(self.rows)], "number")]
        places, widths = self.places, {0: 8.0}
        for name, column in self.column.items():
            if name == "position":
                continue
            title, symbol, unit, text = self.title(name)
            kind = get(name).kind if name not in self.extra else "list"
            heads = (kind, name, title, symbol, unit, text)
            cells += [Cell(FIRST - 6 + i, column, head, "small" if i else "band") for i, head in enumerate(heads)]
            cells.append(Cell(FIRST - 7, column, "" if name in self.extra else mark(self.answers.get(name)), "small"))
            widths[column] = 15.0
            if name in self.extra:
                text, answers, style = self.extra_column(name)
                columns.append(GridColumn(column, answers, style, tuple(text.split(ROW_MARK))))
                continue
            quantity = self.answers.get(name)
            style = "working_text" if quantity.is_text else "working"
            if isinstance(quantity, Derived):
                parts = tuple(formula.render(quantity.guarded_excel, places).split(ROW_MARK))
                columns.append(GridColumn(column, column_values(self.values, name), style, parts))
            else:
                columns.append(GridColumn(column, self.fetched(name), style, self.fetch(name)))
        return Sheet(
            WORKING,
            tuple(cells),
            grids=(Grid(FIRST, tuple(columns)),),
            widths=widths,
            heights={FIRST - 4: 26.0, FIRST - 1: 60.0},
            freeze=(FIRST, 2),
            repeat_rows=(FIRST - 6, FIRST - 1),
            footer=WORKING,
            print_area=(0, 0, self.last, max(self.column.values())),
            fit_width=40,
            repeat_columns=(0, 1),
        )

    def fetched(self, name: str) -> list[Value]:
        """An entry as the sheet holds it: a number, a text, or blank."""
        return as_typed(self.entries[name])


register(Book.LIST, WORKING, 150, Purpose.AUDIT, "every quantity of every valve", lambda book: book.working.sheet())
