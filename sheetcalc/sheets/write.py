"""The one writer: a layout in, an Excel file out. Nothing else imports XlsxWriter.

Every warning and every refusal of the library becomes an error, and no text of a user can become a formula.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import io
import math
import os
import tempfile
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

import xlsxwriter
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from sheetcalc.errors import DeclarationError, OutputError
from sheetcalc.sheets import style
from sheetcalc.sheets.layout import Cell, Chart, Grid, Layout, Sheet, TableSpec, Validation, Value

#: Fixed, so that two builds are alike.
CREATED: Final = dt.datetime(2026, 11, 25, tzinfo=dt.UTC).replace(tzinfo=None)
_PAPERS: Final = {"A4": 9, "Letter": 1}
_MOST_PROMPT, _MOST_PROMPT_TITLE = 255, 32


@contextlib.contextmanager
def beside(path: Path, *, replace: bool) -> Iterator[Path]:
    """A temporary file next to `path` that takes its place when all went well, and is gone when not.

    Raises OutputError when the folder is missing, when `path` exists and is not to be replaced, or when the disk will
    not take it.
    """
    if path.is_dir():
        message = f"{path} is a folder: name a file for the workbook."
        raise OutputError(message)
    if not path.parent.is_dir():
        message = f"The folder {path.parent} does not exist: make it first, or name another."
        raise OutputError(message)
    if path.exists() and not replace:
        message = f"{path} exists and is left as it is: name another file, or add --replace."
        raise OutputError(message)
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.stem}-", suffix=".part")
        os.close(handle)
    except OSError as error:
        message = f"{path} cannot be written: {error.strerror}."
        raise OutputError(message) from error
    temporary = Path(name)
    try:
        yield temporary
        # mkstemp makes the file private; the finished one gets what the user's own files get.
        umask = os.umask(0)
        os.umask(umask)
        temporary.chmod(0o666 & ~umask)
        temporary.replace(path)
    except OSError as error:
        message = f"{path} cannot be written: {error.strerror or error}. Nothing was changed."
        raise OutputError(message) from error
    finally:
        temporary.unlink(missing_ok=True)


def write(layout: Layout, path: Path, *, progress: Callable[[int], None] | None = None) -> None:
    """Write the layout to `path`, which must not be in use. `progress` is told how many cells were just written.

    Raises DeclarationError when XlsxWriter warns or refuses, OSError when the disk does.
    """
    # Made in memory first: a full disk then fails in one plain write, and the library leaves no files of its own behind.
    made = io.BytesIO()
    options: dict[str, Any] = {
        "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True,
        # Widths of columns are counted in the default typeface: one that is missing is replaced by a wider one.
        "default_format_properties": {"font_name": style.FONT, "font_size": 10},
    }  # fmt: skip
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            workbook = xlsxwriter.Workbook(made, options)
            _Writer(workbook, layout, progress or (lambda _count: None)).write()
            workbook.close()
        except UserWarning as warning:
            message = f"XlsxWriter warns: {warning}"
            raise DeclarationError(message) from warning
    path.write_bytes(made.getbuffer())


class PlainWorksheet(Worksheet):  # type: ignore[misc]
    """A worksheet that takes formulas as they are.

    The library searches each formula some thirty times for functions newer than 2010 and for table shorthand, most of
    the time that a long list takes; the safe set has neither. A test compares the files written both ways.
    """

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:  # noqa: ARG002, FBT001, FBT002
        return formula.removeprefix("=")


def _taken(code: int | object, what: str) -> None:
    """Turn a refusal of the library, a negative code, into an error."""
    if isinstance(code, int) and code < 0:
        message = f"XlsxWriter refused {what}: {code}"
        raise DeclarationError(message)


def _stored(value: Value) -> float | str:
    """What is stored as the result of a formula: blank where the core has none. NaN would make an invalid file."""
    if value is None or (isinstance(value, float) and not math.isfinite(value)):
        return ""
    return value


class _Writer:
    """One workbook being written."""

    def __init__(self, workbook: Workbook, layout: Layout, progress: Callable[[int], None]) -> None:
        self.workbook, self.layout, self.progress = workbook, layout, progress
        self.formats = {name: workbook.add_format(style.style(name)) for name in style.STYLES}

    def write(self) -> None:
        self.workbook.set_properties({"title": self.layout.title, "created": CREATED})
        for name, value in self.layout.properties.items():
            _taken(self.workbook.set_custom_property(name, value), f"property {name}")
        sheets = [(self.workbook.add_worksheet(sheet.name, PlainWorksheet), sheet) for sheet in self.layout.sheets]
        for name, place in self.layout.names.items():
            _taken(self.workbook.define_name(name, f"={place}"), f"the name {name}")
        for worksheet, sheet in sheets:
            self._sheet(worksheet, sheet)

    def _sheet(self, worksheet: Worksheet, sheet: Sheet) -> None:
        worksheet.hide_gridlines(2)
        for column, width in sheet.widths.items():
            worksheet.set_column(column, column, width)
        for row, height in sheet.heights.items():
            worksheet.set_row(row, height)
        for table in sheet.tables:
            self._table(worksheet, table)
        looks = {(cell.row, cell.column): cell.style for cell in sheet.cells} if sheet.merges else {}
        for merge in sheet.merges:
            _taken(worksheet.merge_range(*merge, "", self.formats[looks[merge[:2]]]), "a merge")
        for cell in sheet.cells:
            self._cell(worksheet, cell, sheet.links.get((cell.row, cell.column)))
        for grid in sheet.grids:
            self._grid(worksheet, grid)
        for validation in sheet.validations:
            _validate(worksheet, validation)
        for mark in sheet.marks:
            look = self.workbook.add_format(style.mark_style(mark.style))
            place = (mark.first_row, mark.first_column, mark.last_row, mark.last_column)
            options = {"type": "formula", "criteria": f"={mark.formula}", "format": look}
            _taken(worksheet.conditional_format(*place, options), "a mark")
        for chart in sheet.charts:
            self._chart(worksheet, chart)
        self._page(worksheet, sheet)

    def _cell(self, worksheet: Worksheet, cell: Cell, link: str | None) -> None:
        look = self.formats[cell.style]
        if link is not None:
            code: Any = worksheet.write_url(cell.row, cell.column, link, look, str(cell.value))
        elif cell.formula:
            code = worksheet.write_formula(cell.row, cell.column, f"={cell.formula}", look, _stored(cell.value))
        else:
            code = self._plain(worksheet, cell.row, cell.column, cell.value, cell.style)
        _taken(code, f"cell {cell.row + 1},{cell.column + 1}")

    def _plain(self, worksheet: Worksheet, row: int, column: int, value: Value, name: str) -> Any:
        look = self.formats[name]
        if isinstance(value, str):
            return worksheet.write_string(row, column, value, look) if value else worksheet.write_blank(row, column, None, look)
        if value is None or not math.isfinite(value):
            return worksheet.write_blank(row, column, None, look)
        return worksheet.write_number(row, column, value, look)

    def _grid(self, worksheet: Worksheet, grid: Grid) -> None:
        for column in grid.columns:
            look, place = self.formats[column.style], column.column
            if column.parts:
                parts = [f"={column.parts[0]}", *column.parts[1:]]
                for row, value in enumerate(column.values, start=grid.first_row):
                    code = worksheet.write_formula(row, place, str(row + 1).join(parts), look, _stored(value))
                    _taken(code, f"column {place + 1}")
            else:
                for row, value in enumerate(column.values, start=grid.first_row):
                    _taken(self._plain(worksheet, row, place, value, column.style), f"column {place + 1}")
            self.progress(len(column.values))

    def _table(self, worksheet: Worksheet, table: TableSpec) -> None:
        columns = [
            {"header": header, "header_format": self.formats["head"], **({"formula": f"={formula}"} if formula else {})}
            for header, formula in zip(table.headers, table.formulas, strict=True)
        ]
        last = (table.row + table.rows, table.column + len(table.headers) - 1)
        options = {
            "name": table.name, "columns": columns, "style": "Table Style Light 1", "banded_rows": False,
            "title": table.name, "description": table.description,
        }  # fmt: skip
        _taken(worksheet.add_table(table.row, table.column, *last, options), f"table {table.name}")

    def _drawing(self, chart: Chart) -> Any:
        """Points with their names on them, and lines, in a square without axes."""
        picture = self.workbook.add_chart({"type": "scatter"})
        for one in chart.lines:
            picture.add_series({
                "name": one.name, "categories": f"={one.categories}", "values": f"={one.values}", "marker": {"type": "none"},
                "line": {"color": one.line, "width": 1.25, "dash_type": one.pattern},
            })  # fmt: skip
        for one in chart.points:
            mark = {"type": one.pattern, "size": 30 if one.pattern == "square" else 22, "fill": {"color": one.fill}, "border": {
                "color": one.line}} if one.fill else {"type": "none"}
            named = one.name.startswith("=")
            font = {"name": style.FONT, "size": 10, "color": style.INK, "bold": bool(one.fill)}
            picture.add_series({
                "name": one.name, "categories": f"={one.categories}", "values": f"={one.values}", "marker": mark, "line": {"none": True},
                **({"data_labels": {"series_name": True, "position": "center", "font": font}} if named else {}),
            })  # fmt: skip
        for set_axis in (picture.set_x_axis, picture.set_y_axis):
            set_axis({"min": -1.5, "max": 1.5, "visible": False, "major_gridlines": {"visible": False}})
        picture.set_title({"name": chart.title, "name_font": {"name": style.FONT, "size": 11, "color": style.INK}, "overlay": False})
        picture.set_legend({"none": True})
        # As wide as high, so that a circle is one.
        share = 0.86
        picture.set_plotarea({"layout": {"x": (1 - share) / 2, "y": 1 - 0.02 - share * chart.width / chart.height, "width": share,
                                         "height": share * chart.width / chart.height}})  # fmt: skip
        return picture

    def _chart(self, worksheet: Worksheet, chart: Chart) -> None:
        if chart.points:
            self._placed(worksheet, chart, self._drawing(chart))
            return
        points = not chart.series
        picture = self.workbook.add_chart({"type": "scatter", "subtype": "straight_with_markers"} if points else {
            "type": "column", "subtype": "stacked"
        })
        for one in chart.series:
            fill = {"pattern": {"pattern": one.pattern, "fg_color": one.fill, "bg_color": "#FFFFFF"}} if one.pattern else {
                "fill": {"color": one.fill}
            }
            picture.add_series({
                "name": one.name, "categories": f"={one.categories}", "values": f"={one.values}", "gap": chart.gap,
                "border": {"color": one.line, "width": 0.75}, **fill,
            })  # fmt: skip
        over = picture if points else self.workbook.add_chart({"type": "line"})
        for one in chart.lines:
            over.add_series({
                "name": one.name, "categories": f"={one.categories}", "values": f"={one.values}",
                "line": {"color": one.line, "width": 1.75, "dash_type": one.pattern or "solid"},
                "marker": {"type": "diamond", "size": 6, "fill": {"color": one.fill}, "border": {"color": one.line}} if one.fill else {
                    "type": "none"
                },
            })  # fmt: skip
        if chart.lines and not points:
            picture.combine(over)
        font = {"name": style.FONT, "size": 9, "color": style.INK}
        picture.set_title({"name": chart.title, "name_font": {**font, "size": 11}, "overlay": False})
        picture.set_y_axis({"name": chart.axis, "name_font": font, "num_font": font, "major_gridlines": {"visible": False}, "min": 0})
        dates = {"num_format": "yyyy-mm-dd"} if points else {}
        picture.set_x_axis({"num_font": font, **dates, **({"name": chart.below, "name_font": font} if chart.below else {})})
        picture.set_legend({"position": "bottom", "font": font} if chart.lines else {"none": True})
        self._placed(worksheet, chart, picture)

    def _placed(self, worksheet: Worksheet, chart: Chart, picture: Any) -> None:
        picture.set_size({"width": chart.width, "height": chart.height})
        _taken(
            worksheet.insert_chart(chart.row, chart.column, picture, {"description": chart.description, "object_position": 2}),
            "a chart",
        )

    def _page(self, worksheet: Worksheet, sheet: Sheet) -> None:
        worksheet.set_paper(_PAPERS[self.layout.paper])
        if sheet.landscape:
            worksheet.set_landscape()
        if sheet.scale:
            worksheet.set_print_scale(sheet.scale)
            worksheet.set_h_pagebreaks(list(sheet.breaks))
        else:
            worksheet.fit_to_pages(sheet.fit_width, sheet.fit_height)
        worksheet.set_margins(*sheet.margins)
        size = f"&{sheet.footer_size}"
        worksheet.set_footer(f"&L{size}{sheet.footer}&C{size}&A&R{size}page &P of &N")
        if sheet.freeze:
            worksheet.freeze_panes(*sheet.freeze)
        if sheet.repeat_rows:
            worksheet.repeat_rows(*sheet.repeat_rows)
        if sheet.repeat_columns:
            worksheet.repeat_columns(*sheet.repeat_columns)
        if sheet.print_area:
            worksheet.print_area(*sheet.print_area)
        if sheet.selected:
            worksheet.set_selection(*sheet.selected, *sheet.selected)
        if sheet.active:
            worksheet.activate()
        if sheet.protected:
            worksheet.protect("", {"format_columns": True, "format_rows": True, "select_locked_cells": True})


def _validate(worksheet: Worksheet, validation: Validation) -> None:
    place = (validation.first_row, validation.first_column, validation.last_row, validation.last_column)
    options: dict[str, Any] = {"error_type": "warning", "error_title": "Look again", "ignore_blank": True}
    if validation.choices:
        options |= {"validate": "list", "source": f"={validation.choices}", "error_message": "Choose one from the list."}
    elif validation.low is not None and validation.high is not None:
        options |= {
            "validate": "integer" if validation.whole else "decimal", "criteria": "between",
            "minimum": validation.low, "maximum": validation.high,
            "error_message": f"Expected a number from {validation.low:g} to {validation.high:g}.",
        }  # fmt: skip
    else:
        options |= {"validate": "any"}
    if validation.prompt:
        if len(validation.prompt) > _MOST_PROMPT or len(validation.prompt_title) > _MOST_PROMPT_TITLE:
            message = f"prompt too long: {validation.prompt_title}"
            raise DeclarationError(message)
        options |= {"input_title": validation.prompt_title, "input_message": validation.prompt}
    _taken(worksheet.data_validation(*place, options), "a validation")
