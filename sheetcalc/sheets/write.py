"""The one writer: a layout in, an Excel file out. Nothing else imports XlsxWriter.

Every warning and every refusal of the library becomes an error, and no text of a user can become a formula.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import io
import math
import re
import warnings
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final
from xml.sax.saxutils import quoteattr

import xlsxwriter
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from sheetcalc.errors import DeclarationError
from sheetcalc.sheets import style
from sheetcalc.sheets.common import VERSION
from sheetcalc.sheets.layout import Chart, Layout, Sheet, TableSpec, Validation, Value
from sheetcalc.sheets.output import PROPERTIES, WRITTEN
from sheetcalc.sheets.stream import Stream, Strings, escaped

#: Fixed, so that two builds are alike.
CREATED: Final = dt.datetime(2026, 11, 25, tzinfo=dt.UTC).replace(tzinfo=None)
_PAPERS: Final = {"A4": 9, "Letter": 1}
_MOST_PROMPT, _MOST_PROMPT_TITLE = 255, 32


def write(
    layout: Layout, path: Path, *, plain_formulas: bool = False, smallest: bool = False, progress: Callable[[int], None] | None = None
) -> None:
    """Write the layout to `path`, which must not be in use. `progress` is told how many cells were just written.

    The library makes all but the cells: frames of sheets, looks, charts, tables, names. Their cells go into the package as they
    are made. `plain_formulas` spells out the formulas that rows would share; `smallest` takes time to pack the file.
    Raises DeclarationError when the library warns or refuses, OSError when the disk does.
    """
    frame = io.BytesIO()
    options: dict[str, Any] = {
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
        "in_memory": True,
        # Widths of columns are counted in the default typeface: one that is missing is replaced by a wider one.
        "default_format_properties": {"font_name": style.FONT, "font_size": 10},
    }
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            workbook = xlsxwriter.Workbook(frame, options)
            _Frame(workbook, layout).write()
            workbook.close()
        except UserWarning as warning:
            message = f"XlsxWriter warns: {warning}"
            raise DeclarationError(message) from warning
    level = _SMALLEST if smallest else _QUICK
    with zipfile.ZipFile(frame) as made, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=level) as out:
        _fill(layout, made, out, plain=plain_formulas, progress=progress or (lambda _count: None))


#: How hard a file is packed.
_QUICK, _SMALLEST = 6, 9


def _fill(layout: Layout, made: zipfile.ZipFile, out: zipfile.ZipFile, *, plain: bool, progress: Callable[[int], None]) -> None:
    """The package with the cells in it: each part of the frame in its order, the sheets and their texts anew."""
    strings, digest = Strings(), hashlib.sha256()
    looks = _looks(made.read(_sheet_part(0)))
    sheets = {_sheet_part(place): sheet for place, sheet in enumerate(layout.sheets)}
    tables = {f"xl/tables/table{place}.xml": table for place, table in enumerate((t for s in layout.sheets for t in s.tables), start=1)}
    for name in made.namelist():
        frame = made.read(name).decode()
        if name in sheets:
            parts = _sheet(frame, Stream(sheets[name], looks, strings, plain=plain), progress)
        elif name in tables:
            parts = iter((_table(frame, tables[name]),))
        elif name == _TEXTS:
            parts = iter((strings.part(),))
        else:
            parts = iter((frame.replace(_UNKNOWN, digest.hexdigest()) if name == PROPERTIES else frame,))
        with out.open(name, "w") as part:
            for text in parts:
                data = text.encode()
                part.write(data)
                digest.update(data)


_TEXTS: Final = "xl/sharedStrings.xml"
#: What stands in the place of the digest until it is known.
_UNKNOWN: Final = "0" * 64
_DATA: Final = re.compile(r"<sheetData>.*</sheetData>|<sheetData/>", re.DOTALL)
_DIMENSION: Final = re.compile(r'<dimension ref="[^"]*"/>')
#: The column in which the first sheet of the frame has a cell of each look, so that the file says which number each has.
_LAST_COLUMN: Final = 16_383
_LOOK: Final = re.compile(rb'<c r="XFD([0-9]+)" s="([0-9]+)"')


def _sheet_part(place: int) -> str:
    return f"xl/worksheets/sheet{place + 1}.xml"


def _looks(part: bytes) -> dict[str, int]:
    found = {int(row): int(number) for row, number in _LOOK.findall(part)}
    return {name: found[row] for row, name in enumerate(style.STYLES, start=1)}


def _sheet(frame: str, stream: Stream, progress: Callable[[int], None]) -> Iterator[str]:
    before, after = _DATA.split(_DIMENSION.sub(f'<dimension ref="{stream.dimension}"/>', frame))
    yield f"{before}<sheetData>"
    yield from stream.rows(progress)
    yield f"</sheetData>{after}"


#: The text that stands for a table where it cannot be seen; older editions of the library do not know it.
_INSTEAD: Final = (
    '<extLst><ext uri="{{504A1905-F514-4f6f-8877-14C23A59335A}}"'
    ' xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main">'
    "<x14:table altText={name} altTextSummary={description}/></ext></extLst></table>"
)


def _table(frame: str, table: TableSpec) -> str:
    """The part of a table with its text, and with the formulas of its columns, which the library would write into each cell besides."""
    for place, text in enumerate(table.formulas, start=1):
        if text:
            column = re.compile(f'(<tableColumn id="{place}" [^>]*)/>')
            inside = f"<calculatedColumnFormula>{escaped(text)}</calculatedColumnFormula>"
            frame, done = column.subn(lambda found, inside=inside: f"{found[1]}>{inside}</tableColumn>", frame)  # type: ignore[misc]
            if done != 1:
                message = f"column {place} of table {table.name} is not where it should be"
                raise DeclarationError(message)
    return frame.removesuffix("</table>") + _INSTEAD.format(name=quoteattr(table.name), description=quoteattr(table.description))


def _taken(code: int | object, what: str) -> None:
    """Turn a refusal of the library, a negative code, into an error."""
    if isinstance(code, int) and code < 0:
        message = f"XlsxWriter refused {what}: {code}"
        raise DeclarationError(message)


class _Frame:
    """One workbook being written, without its cells but for those whose values a chart shows."""

    def __init__(self, workbook: Workbook, layout: Layout) -> None:
        self.workbook, self.layout = workbook, layout
        self.formats = {name: workbook.add_format(style.style(name)) for name in style.STYLES}
        self.sheets: dict[str, tuple[Worksheet, Sheet]] = {}

    def write(self) -> None:
        self.workbook.set_properties({"title": self.layout.title, "created": CREATED})
        for name, value in {"formula set": self.layout.formulas, "edition": self.layout.edition, WRITTEN: _UNKNOWN}.items():
            _taken(self.workbook.set_custom_property(name, value), f"property {name}")
        self.sheets = {sheet.name: (self.workbook.add_worksheet(sheet.name), sheet) for sheet in self.layout.sheets}
        for name, place in self.layout.names.items():
            _taken(self.workbook.define_name(name, f"={place}"), f"the name {name}")
        first, _sheet = next(iter(self.sheets.values()))
        for row, look in enumerate(self.formats.values()):
            first.write_blank(row, _LAST_COLUMN, None, look)
        first.write_string(0, 0, self.layout.title)  # so that there is a part for texts
        for worksheet, sheet in self.sheets.values():
            self._sheet(worksheet, sheet)

    def _sheet(self, worksheet: Worksheet, sheet: Sheet) -> None:
        worksheet.hide_gridlines(2)
        for column, width in sheet.widths.items():
            worksheet.set_column(column, column, width)
        for row, height in sheet.heights.items():
            worksheet.set_row(row, height)
        for table in sheet.tables:
            self._table(worksheet, table)
        for merge in sheet.merges:
            _taken(worksheet.merge_range(*merge, "", None), "a merge")
        linked = {(cell.row, cell.column): cell for cell in sheet.cells if (cell.row, cell.column) in sheet.links}
        for place, cell in linked.items():
            _taken(worksheet.write_url(*place, sheet.links[place], self.formats[cell.style], str(cell.value)), "a link")
        for validation in sheet.validations:
            _validate(worksheet, validation)
        for mark in sheet.marks:
            look = self.workbook.add_format(style.mark_style(mark.style))
            block = (mark.first_row, mark.first_column, mark.last_row, mark.last_column)
            options = {"type": "formula", "criteria": f"={mark.formula}", "format": look}
            _taken(worksheet.conditional_format(*block, options), "a mark")
        for chart in sheet.charts:
            self._chart(worksheet, chart)
        self._page(worksheet, sheet)

    def _shown(self, place: str) -> None:
        """The cells of a range, so that the library stores with a chart what it shows before anything is worked out."""
        found = _PLACE.fullmatch(place.removeprefix("="))
        if found is None:
            return
        worksheet, sheet = self.sheets[found["sheet"].strip("'")]
        first, last = (int(found[key] or found["first"]) - 1 for key in ("first", "last"))
        left, right = (column_number(found[key] or found["left"]) for key in ("left", "right"))
        for row in range(first, last + 1):
            for column in range(left, right + 1):
                value = _value_at(sheet, row, column)
                if isinstance(value, str) and value:
                    worksheet.write_string(row, column, value)
                elif isinstance(value, float) and math.isfinite(value):
                    worksheet.write_number(row, column, value)

    def _table(self, worksheet: Worksheet, table: TableSpec) -> None:
        last = (table.row + table.rows, table.column + len(table.headers) - 1)
        options = {
            "name": table.name,
            "columns": [{"header": header} for header in table.headers],
            "style": "Table Style Light 1",
            "banded_rows": False,
        }
        _taken(worksheet.add_table(table.row, table.column, *last, options), f"table {table.name}")

    def _drawing(self, chart: Chart) -> Any:
        """Points with their names on them, and lines, in a square without axes."""
        picture = self.workbook.add_chart({"type": "scatter"})
        for one in chart.lines:
            picture.add_series(
                {
                    "name": one.name,
                    "categories": f"={one.categories}",
                    "values": f"={one.values}",
                    "marker": {"type": "none"},
                    "line": {"color": one.line, "width": 1.25, "dash_type": one.pattern},
                }
            )
        for one in chart.points:
            mark = (
                {
                    "type": one.pattern,
                    "size": 30 if one.pattern == "square" else 22,
                    "fill": {"color": one.fill},
                    "border": {"color": one.line},
                }
                if one.fill
                else {"type": "none"}
            )
            named = one.name.startswith("=")
            font = {"name": style.FONT, "size": 10, "color": style.INK, "bold": bool(one.fill)}
            picture.add_series(
                {
                    "name": one.name,
                    "categories": f"={one.categories}",
                    "values": f"={one.values}",
                    "marker": mark,
                    "line": {"none": True},
                    **({"data_labels": {"series_name": True, "position": "center", "font": font}} if named else {}),
                }
            )
        for set_axis in (picture.set_x_axis, picture.set_y_axis):
            set_axis({"min": -1.5, "max": 1.5, "visible": False, "major_gridlines": {"visible": False}})
        picture.set_title({"name": chart.title, "name_font": {"name": style.FONT, "size": 11, "color": style.INK}, "overlay": False})
        picture.set_legend({"none": True})
        # As wide as high, so that a circle is one.
        share = 0.86
        picture.set_plotarea(
            {
                "layout": {
                    "x": (1 - share) / 2,
                    "y": 1 - 0.02 - share * chart.width / chart.height,
                    "width": share,
                    "height": share * chart.width / chart.height,
                }
            }
        )
        return picture

    def _chart(self, worksheet: Worksheet, chart: Chart) -> None:
        for one in (*chart.series, *chart.lines, *chart.points):
            for place in (one.name, one.categories, one.values):
                self._shown(place)
        if chart.points:
            self._placed(worksheet, chart, self._drawing(chart))
            return
        points = not chart.series
        picture = self.workbook.add_chart(
            {"type": "scatter", "subtype": "straight_with_markers"} if points else {"type": "column", "subtype": "stacked"}
        )
        for one in chart.series:
            fill = (
                {"pattern": {"pattern": one.pattern, "fg_color": one.fill, "bg_color": "#FFFFFF"}}
                if one.pattern
                else {"fill": {"color": one.fill}}
            )
            picture.add_series(
                {
                    "name": one.name,
                    "categories": f"={one.categories}",
                    "values": f"={one.values}",
                    "gap": chart.gap,
                    "border": {"color": one.line, "width": 0.75},
                    **fill,
                }
            )
        over = picture if points else self.workbook.add_chart({"type": "line"})
        for one in chart.lines:
            over.add_series(
                {
                    "name": one.name,
                    "categories": f"={one.categories}",
                    "values": f"={one.values}",
                    "line": {"color": one.line, "width": 1.75, "dash_type": one.pattern or "solid"},
                    "marker": {"type": "diamond", "size": 6, "fill": {"color": one.fill}, "border": {"color": one.line}}
                    if one.fill
                    else {"type": "none"},
                }
            )
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
        left = "   ".join(one for one in (sheet.footer, f"version {VERSION}", f"formulas {self.layout.formulas}") if one)
        worksheet.set_footer(f"&L{size}{left}&C{size}&A&R{size}page &P of &N")
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


_PLACE: Final = re.compile(
    r"(?P<sheet>'[^']+'|[A-Za-z_]+)!\$(?P<left>[A-Z]+)\$(?P<first>[0-9]+)(?::\$(?P<right>[A-Z]+)\$(?P<last>[0-9]+))?"
)


def column_number(letters: str) -> int:
    """The number of a column from its letters, from 0."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1


def _value_at(sheet: Sheet, row: int, column: int) -> Value:
    for cell in sheet.cells:
        if (cell.row, cell.column) == (row, column):
            return cell.value
    for grid in sheet.grids:
        for one in grid.columns:
            if one.column == column and grid.first_row <= row < grid.first_row + len(one.values):
                return one.values[row - grid.first_row]
    return None


def _validate(worksheet: Worksheet, validation: Validation) -> None:
    place = (validation.first_row, validation.first_column, validation.last_row, validation.last_column)
    options: dict[str, Any] = {"error_type": "warning", "error_title": "Look again", "ignore_blank": True}
    if validation.choices:
        options |= {"validate": "list", "source": f"={validation.choices}", "error_message": "Choose one from the list."}
    elif validation.low is not None and validation.high is not None:
        options |= {
            "validate": "integer" if validation.whole else "decimal",
            "criteria": "between",
            "minimum": validation.low,
            "maximum": validation.high,
            "error_message": f"Expected a number from {validation.low:g} to {validation.high:g}.",
        }
    else:
        options |= {"validate": "any"}
    if validation.prompt:
        if len(validation.prompt) > _MOST_PROMPT or len(validation.prompt_title) > _MOST_PROMPT_TITLE:
            message = f"prompt too long: {validation.prompt_title}"
            raise DeclarationError(message)
        options |= {"input_title": validation.prompt_title, "input_message": validation.prompt}
    _taken(worksheet.data_validation(*place, options), "a validation")
