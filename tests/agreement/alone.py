"""Workbooks cut down: a list to its valves, since so motley ones would order thousands of lines, and a form to what is typed."""

from __future__ import annotations

from dataclasses import replace

from sheetcalc.sheets.layout import Grid, Layout
from sheetcalc.sheets.list_working import VALVES, WORKING, Working
from sheetcalc.sheets.valves_columns import columns


def of_valves_alone(layout: Layout, working: Working) -> Layout:
    """The layout without the columns and sheets of order and plan, whose lines grow with the square of so motley a list."""
    gone = {working.column[name] for name in working.listed}
    answers = {place for place, column in enumerate(columns(working.edition, ())) if column.working in working.listed}
    sheets = []
    for sheet in layout.sheets:
        if sheet.name in {VALVES, WORKING}:
            dropped = gone if sheet.name == WORKING else answers
            grids = tuple(Grid(grid.first_row, tuple(c for c in grid.columns if c.column not in dropped)) for grid in sheet.grids)
            cells = tuple(cell for cell in sheet.cells if not cell.formula)
            tables = tuple(
                replace(table, formulas=tuple("" if at in answers else text for at, text in enumerate(table.formulas)))
                for table in sheet.tables
            )
            sheets.append(replace(sheet, grids=grids, cells=cells, tables=tables))
        elif sheet.name in {"Assumptions", "Materials", "Tables"}:
            sheets.append(sheet)
    kept = {name: place for name, place in layout.names.items() if place.startswith(("Assumptions!", "Materials!", "Tables!"))}
    return replace(layout, sheets=tuple(sheets), names=kept)


def without_the_same(layout: Layout) -> Layout:
    """A one-valve workbook without what is the same whatever is typed: the cases of Self-check, and the front page that counts them."""
    return replace(layout, sheets=tuple(sheet for sheet in layout.sheets if sheet.name not in {"Read first", "Self-check"}))
