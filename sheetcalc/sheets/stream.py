"""The cells of a sheet as the text of its file, row after row: nothing holds a whole sheet as text, or an object a cell.

Formulas that several rows may share stand once (`sharing`), in the first of them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final
from xml.sax.saxutils import escape

from sheetcalc.errors import DeclarationError
from sheetcalc.sheets.layout import Cell, GridColumn, Sheet, Value, column_letters
from sheetcalc.sheets.sharing import may_be_shared

#: Rows that are put together at a time.
_ROWS: Final = 200
_MOST_TEXT: Final = 32_767
_ESCAPES: Final = re.compile(r"(_x[0-9a-fA-F]{4}_)")
_CONTROLS: Final = re.compile("[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]")
_PRESERVED: Final = ' xml:space="preserve"'
_SST: Final = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
    ' count="{count}" uniqueCount="{different}">'
)


def escaped(text: str) -> str:
    """A text as it stands in a part: its marks escaped, and what XML cannot hold written as a workbook writes it."""
    plain = _CONTROLS.sub(lambda found: f"_x{ord(found[0]):04X}_", _ESCAPES.sub(r"_x005F\1", text))
    return escape(plain)


_TEXT: Final = re.compile(r'("(?:[^"]|"")*")')


def at_home(sheet: str, formula: str) -> str:
    """A formula without the name of the sheet that it stands on: what it reads there needs none, and can so be shared."""
    if f"{sheet}!" not in formula and f"{sheet}'!" not in formula:
        return formula
    pieces = _TEXT.split(formula)
    own = re.compile(rf"(?<![A-Za-z0-9_.'])(?:{re.escape(sheet)}|'{re.escape(sheet)}')!")
    return "".join(piece if piece.startswith('"') else own.sub("", piece) for piece in pieces)


@dataclass
class Strings:
    """The texts of a workbook, each once, in the order in which they are met."""

    places: dict[str, int] = field(default_factory=dict)
    count: int = 0

    def place(self, text: str) -> int:
        """The number of a text, from 0. Raises DeclarationError for one longer than a cell takes."""
        if len(text) > _MOST_TEXT:
            message = f"a cell takes {_MOST_TEXT} characters: {text[:40]}..."
            raise DeclarationError(message)
        self.count += 1
        return self.places.setdefault(text, len(self.places))

    def part(self) -> str:
        """The part of the package that holds them."""
        said = (escaped(text) for text in self.places)
        texts = [f"<si><t{_PRESERVED if text != text.strip() else ''}>{text}</t></si>" for text in said]
        return f"{_SST.format(count=self.count, different=len(self.places))}{''.join(texts)}</sst>"


def _number(value: float, digits: int) -> str:
    return f"{value:.{digits}g}"


class Stream:
    """The cells of one sheet being written.

    `looks` gives the number of each style in the file, `plain` spells every formula out.
    """

    def __init__(self, sheet: Sheet, looks: Mapping[str, int], strings: Strings, *, plain: bool = False) -> None:
        self.looks, self.strings, self.plain = looks, strings, plain
        self.name, self.heights = sheet.name, sheet.heights
        self.single: dict[int, dict[int, Cell]] = {}
        for cell in _with_heads_and_merges(sheet):
            self.single.setdefault(cell.row, {})[cell.column] = cell
        columns = [(grid.first_row, column) for grid in sheet.grids for column in grid.columns]
        self.columns = sorted(columns, key=lambda one: one[1].column)
        self.groups: dict[int, int] = {}
        rows = [*self.single, *sheet.heights, *(first for first, _column in columns)]
        last = [*rows, *(first + len(column.values) - 1 for first, column in columns)]
        self.first, self.last = min(rows, default=0), max(last, default=-1)

    @property
    def dimension(self) -> str:
        """The block of cells that the sheet uses."""
        filled = {column for cells in self.single.values() for column in cells} | {column.column for _first, column in self.columns}
        if not filled:
            return "A1"
        rows = [*self.single, *(row for first, column in self.columns for row in (first, first + len(column.values) - 1))]
        return f"{column_letters(min(filled))}{min(rows) + 1}:{column_letters(max(filled))}{max(rows) + 1}"

    def rows(self, progress: Callable[[int], None]) -> Iterator[str]:
        """The rows, some at a time; `progress` is told how many cells of grids each time."""
        for start in range(self.first, self.last + 1, _ROWS):
            end = min(start + _ROWS, self.last + 1)
            here = [(first, column) for first, column in self.columns if first < end and first + len(column.values) > start]
            texts = [self._column(first, column, start, end) for first, column in here]
            places = [column.column for _first, column in here]
            out = []
            for row, cells in enumerate(zip(*texts, strict=True) if texts else [()] * (end - start), start=start):
                single = self.single.get(row)
                if single:
                    held = {place: cell for place, cell in zip(places, cells, strict=True) if cell}
                    held |= {place: self._cell(cell) for place, cell in single.items()}
                    inside = "".join(held[place] for place in sorted(held))
                else:
                    inside = "".join(cells)
                out.append(self._row(row, inside))
            yield "".join(out)
            progress(sum(min(end, first + len(column.values)) - max(start, first) for first, column in here))

    def _row(self, row: int, inside: str) -> str:
        height = self.heights.get(row)
        # As the library rounds it: to whole pixels, on which it places pictures.
        tall = "" if height is None else f' ht="{_number(int(4 / 3 * height + 0.5) * 0.75, 16)}" customHeight="1"'
        if not inside:
            return f'<row r="{row + 1}"{tall}/>' if tall else ""
        return f'<row r="{row + 1}"{tall}>{inside}</row>'

    def _column(self, first: int, column: GridColumn, start: int, end: int) -> list[str]:
        """The cells of a column of a grid in some rows, "" where it has none."""
        low, high = max(start, first), min(end, first + len(column.values))
        letters, look = column_letters(column.column), self.looks[column.style]
        held = column.values[low - first : high - first]
        if column.parts:
            cells = self._formulas(column, first, low, letters, look, held)
        else:
            cells = [self._plain(f'{letters}{row}" s="{look}"', value) for row, value in enumerate(held, start=low + 1)]
        return [*[""] * (low - start), *cells, *[""] * (end - high)]

    def _formulas(self, column: GridColumn, first: int, low: int, letters: str, look: int, held: Sequence[Value]) -> list[str]:
        bare = [at_home(self.name, part) for part in column.parts]
        parts = [escape(part) for part in bare]
        if self.plain or len(column.values) == 1 or not may_be_shared(bare):
            return [
                _formula_cell(f'{letters}{row}" s="{look}"', f"<f>{str(row).join(parts)}</f>", value)
                for row, value in enumerate(held, start=low + 1)
            ]
        group = self.groups.setdefault(id(column), len(self.groups))
        again = f'<f t="shared" si="{group}"/>'
        out = [_formula_cell(f'{letters}{row}" s="{look}"', again, value) for row, value in enumerate(held, start=low + 1)]
        if low == first:
            block = f"{letters}{first + 1}:{letters}{first + len(column.values)}"
            text = f'<f t="shared" ref="{block}" si="{group}">{str(first + 1).join(parts)}</f>'
            out[0] = _formula_cell(f'{letters}{first + 1}" s="{look}"', text, held[0])
        return out

    def _cell(self, cell: Cell) -> str:
        start = f'{column_letters(cell.column)}{cell.row + 1}" s="{self.looks[cell.style]}"'
        if not cell.formula:
            return self._plain(start, cell.value)
        return _formula_cell(start, f"<f>{escape(at_home(self.name, cell.formula))}</f>", cell.value)

    def _plain(self, start: str, value: Value) -> str:
        if isinstance(value, str):
            return f'<c r="{start} t="s"><v>{self.strings.place(value)}</v></c>' if value else f'<c r="{start}/>'
        if value is None or not math.isfinite(value):
            return f'<c r="{start}/>'
        return f'<c r="{start}><v>{_number(value, 16)}</v></c>'


def _formula_cell(start: str, formula: str, value: Value) -> str:
    """A cell with a formula and its stored result: fifteen digits, since the sixteenth may be another on another processor."""
    if isinstance(value, str) and value:
        return f'<c r="{start} t="str">{formula}<v>{escaped(value)}</v></c>'
    if value is None or isinstance(value, str) or not math.isfinite(value):
        return f'<c r="{start}>{formula}<v></v></c>'
    return f'<c r="{start}>{formula}<v>{_number(value, 15)}</v></c>'


def _with_heads_and_merges(sheet: Sheet) -> Iterator[Cell]:
    """The single cells of a sheet, and those that a table's header and a merged block stand for."""
    looks = {(cell.row, cell.column): cell.style for cell in sheet.cells} if sheet.merges else {}
    for first_row, first_column, last_row, last_column in sheet.merges:
        for row in range(first_row, last_row + 1):
            for column in range(first_column, last_column + 1):
                yield Cell(row, column, None, looks[first_row, first_column])
    for table in sheet.tables:
        for column, header in enumerate(table.headers, start=table.column):
            yield Cell(table.row, column, header, "head")
    yield from sheet.cells
