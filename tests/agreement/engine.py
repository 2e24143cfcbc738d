"""IronCalc as the second reader of a workbook: load, recalculate, read, and type into cells by defined name."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import ironcalc

from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Layout, Sheet
from sheetcalc.sheets.write import write

#: What one comparison allows: files keep 15 or 16 digits.
TOLERANCE = 1e-9


#: Stored in every formula cell before the engine sees it, so that an echo of a stored value cannot pass.
POISON = -987654321.125


def _poisoned(sheet: Sheet) -> Sheet:
    """The sheet with a wrong stored value in every formula cell."""
    cells = tuple(Cell(c.row, c.column, POISON if c.formula else c.value, c.style, c.formula) for c in sheet.cells)
    grids = tuple(
        Grid(
            grid.first_row,
            tuple(GridColumn(c.column, [POISON] * len(c.values) if c.parts else c.values, c.style, c.parts) for c in grid.columns),
        )
        for grid in sheet.grids
    )
    return Sheet(**{**vars(sheet), "cells": cells, "grids": grids})


def poisoned(layout: Layout) -> Layout:
    """The layout with a wrong stored value in every formula cell."""
    return replace(layout, sheets=tuple(_poisoned(s) for s in layout.sheets))


def difference(one: object, other: object) -> float:
    """How far two cell contents are apart: 0 for equal texts or blanks, relative above 1, infinite for other kinds."""
    one = "" if one is None or one != one else one  # noqa: PLR0124 - NaN
    other = "" if other is None or other != other else other  # noqa: PLR0124 - NaN
    if isinstance(one, str) or isinstance(other, str):
        return 0.0 if one == other else math.inf
    a, b = float(one), float(other)  # type: ignore[arg-type]
    return abs(a - b) / max(1.0, abs(a), abs(b))


def formula_cells(sheet: Sheet) -> Iterator[tuple[int, int, Any]]:
    """Row, column (from 1) and the core's answer of every formula cell of a sheet."""
    for cell in sheet.cells:
        if cell.formula:
            yield cell.row + 1, cell.column + 1, cell.value
    for grid in sheet.grids:
        for column in grid.columns:
            if column.parts:
                for row, value in enumerate(column.values, start=grid.first_row + 1):
                    yield row, column.column + 1, value


class Book:
    """A workbook that was written, then loaded and recalculated by IronCalc."""

    def __init__(self, layout: Layout, path: Path) -> None:
        write(layout, path)
        self.layout = layout
        self.model = ironcalc.load_from_xlsx(str(path))
        self.names = [sheet.name for sheet in layout.sheets]
        self.model.evaluate()

    def value(self, sheet: str, row: int, column: int) -> Any:
        """The content of a cell, row and column from 1."""
        return self.model.get_cell_value(self.names.index(sheet), row, column)

    def cell(self, name: str) -> tuple[int, int, int]:
        """Sheet (from 0), row and column (from 1) of the cell of that defined name."""
        sheet, place = self.layout.names[name].rsplit("!", 1)
        _empty, letters, digits = place.split("$")
        return self.names.index(sheet.strip("'")), int(digits), ironcalc.column_number_from_name(letters)

    def read(self, name: str) -> Any:
        """The content of the cell of that defined name."""
        return self.model.get_cell_value(*self.cell(name))

    def type(self, name: str, value: object) -> None:
        """Put a number or text into the cell of that name, or clear it."""
        sheet, row, column = self.cell(name)
        if value is None or value == "" or value != value:  # noqa: PLR0124 - NaN
            self.model.clear_cell_contents(sheet, row, column)
        elif value == "#DIV/0!":
            self.model.update_cell_with_formula(sheet, row, column, "=1/0")
        elif isinstance(value, str):
            self.model.update_cell_with_text(sheet, row, column, value)
        else:
            self.model.update_cell_with_number(sheet, row, column, float(value))  # type: ignore[arg-type]

    def recalculate(self) -> None:
        """Work everything out again."""
        self.model.evaluate()


def compare(layout: Layout, path: Path) -> tuple[int, float, list[str]]:
    """Formula cells compared, the worst difference, and the cells that differ."""
    book = Book(poisoned(layout), path)
    compared, worst, wrong = 0, 0.0, []
    for sheet in layout.sheets:
        for row, column, answer in formula_cells(sheet):
            compared += 1
            gap = difference(book.value(sheet.name, row, column), answer)
            worst = max(worst, gap) if math.isfinite(gap) else worst
            if gap > TOLERANCE:
                wrong.append(f"{sheet.name}!R{row}C{column}: {book.value(sheet.name, row, column)!r} against {answer!r}")
    return compared, worst, wrong
