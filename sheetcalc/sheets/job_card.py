"""The job card: one printed page per valve for the person at the gland, and a second one where the valve comes out of the line.

The pages are described once and used three ways: for the valve of the one-valve workbook, for the valve of a list that is
chosen from a drop-down, and for many valves of a list one below the other. A workbook that has only some of the quantities
has a card of those alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final, Protocol

from sheetcalc.calculations.answers import Answers
from sheetcalc.sheets.card_gland import page
from sheetcalc.sheets.card_page import ASIDE, LAST, Cells, Merges, Read, Values, aside, read_one, widths
from sheetcalc.sheets.card_removal import second_page
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Cell, Layout, Mark, Sheet, Validation, address, block
from sheetcalc.sheets.register import Book, Purpose, register
from sheetcalc.units import UNIT_SETS

NAME, CARDS = "Job card", "Job cards"
#: More cards on one sheet than this could pass what a spreadsheet takes in page breaks, 1,023 (a card has up to two pages).
MOST_ON_A_SHEET: Final = 500
#: Left, right, top and bottom in inches: there is no footer.
MARGINS: Final = (0.3, 0.3, 0.35, 0.3)
#: Rows above the card of a list: the choice of the tag.
_ABOVE: Final = 2
_MORE: Final = "… see the sheet Working"


class Rows(Protocol):
    """The sheet Working of a list, as a card reads it."""

    @property
    def values(self) -> Mapping[str, Any]:
        """What each quantity and entry holds, valve by valve."""
        ...

    def range(self, name: str) -> str:
        """The whole column of a quantity, its sheet named."""
        ...

    def cell(self, name: str, position: int) -> str:
        """The cell of a quantity in the row of the valve at a position from 0, its sheet named."""
        ...


@dataclass(frozen=True)
class WorkingSheet:
    """The sheet Working of a finished layout of a list, read back: where each quantity stands and what it holds."""

    sheet: Sheet

    @classmethod
    def of(cls, layout: Layout) -> WorkingSheet:
        """The sheet Working of a layout."""
        return cls(next(sheet for sheet in layout.sheets if sheet.name == "Working"))

    @cached_property
    def _columns(self) -> dict[str, int]:
        row = next(cell.row for cell in self.sheet.cells if cell.column == 0 and cell.value == "Name")
        return {str(cell.value): cell.column for cell in self.sheet.cells if cell.row == row and cell.column}

    @cached_property
    def values(self) -> Mapping[str, Any]:
        """What each column holds."""
        held = {column.column: column.values for column in self.sheet.grids[0].columns}
        return {name: held[column] for name, column in self._columns.items()}

    def range(self, name: str) -> str:
        """The whole column of a quantity."""
        first, column = self.sheet.grids[0].first_row, self._columns[name]
        return f"{self.sheet.name}!{block(first, column, first + len(self.values[name]) - 1, column)}"

    def cell(self, name: str, position: int) -> str:
        """The cell of a quantity in the row of a valve."""
        return f"{self.sheet.name}!{address(self.sheet.grids[0].first_row + position, self._columns[name])}"


def _marks(first: int, last: int) -> tuple[Mark, ...]:
    here = f"$E{first + 1}"
    return (
        Mark(first, 4, last, 5, f'{here}="HOLD"', "stop"),
        Mark(first, 4, last, 5, f'OR({here}="LOOK",{here}="INCOMPLETE")', "warn"),
    )


def _pages(
    top: int, read: Read, values: Values, *, chosen: str = "", there: Answers, sets: Sequence[str], second: bool
) -> tuple[Cells, Merges, dict[int, float], list[int]]:
    """The first page and, where it is wanted, the second one below it; and the row in which each begins."""
    cells: Cells = []
    merges: Merges = []
    heights: dict[int, float] = {}
    tops = []
    for make in (page, second_page) if second else (page,):
        tops.append(top)
        new, blocks, high = make(top, read, values, chosen=chosen, more=_MORE, there=there, sets=sets)
        cells += new
        merges += blocks
        heights |= high
        top = max(high) + 1
    return cells, merges, heights, tops


def _sheet(
    name: str, cells: Cells, heights: dict[int, float], tops: Sequence[int], marks: tuple[Mark, ...], sets: Sequence[str], **others: Any
) -> Sheet:
    """A sheet with pages that begin in these rows; `sets` says which unit set stands first."""
    return Sheet(
        name,
        tuple(cells),
        heights=heights,
        marks=marks,
        widths={**widths(sets), LAST + 1: 4.0, ASIDE: 42.0, ASIDE + 1: 12.0},
        landscape=False,
        breaks=tuple(tops[1:]),
        scale=100,
        print_area=(tops[0], 0, max(heights), LAST),
        margins=MARGINS,
        footer="",
        footer_size=11,
        **others,
    )


def _marks_of(tops: Sequence[int]) -> tuple[Mark, ...]:
    return tuple(mark for top in tops for mark in _marks(top, top))


def sheet_for_one(values: Mapping[str, Any], there: Answers, sets: Sequence[str] = tuple(UNIT_SETS)) -> Sheet:
    """The card of the one-valve workbook. `values` holds an array of length 1 for each quantity; references are names.

    `there` says which quantities the workbook has, `sets` which unit set stands first.
    """
    cells, merges, heights, tops = _pages(0, lambda name: name, read_one(values, 0), there=there, sets=sets, second="comes_out" in there)
    return _sheet(NAME, [*cells, *aside(there)], heights, tops, _marks_of(tops), sets, merges=tuple(merges))


def sheet_for_list(rows: Rows, there: Answers, sets: Sequence[str] = tuple(UNIT_SETS)) -> Sheet:
    """The card of a list workbook: it fills itself for the tag chosen from a drop-down, at first the first one.

    `there` says which quantities the workbook has; `tag` is one of them. `sets` says which unit set stands first.
    """
    tags = ["" if tag is None else str(tag) for tag in rows.values["tag"]]
    position = next((place for place, tag in enumerate(tags) if tag), None)
    typed_at, row_at = address(0, 1), address(0, 8)
    escaped = typed_at
    for character in ("~", "*", "?"):
        escaped = f'SUBSTITUTE({escaped},"{character}","~{character}")'
    place = "not in the list" if position is None else float(position + 1)
    found = f'IF({typed_at}="","not in the list",IFERROR(MATCH({escaped},{rows.range("tag")},0),"not in the list"))'
    above = [
        Cell(0, 0, "▸ Tag", "card_words"),
        Cell(0, 1, "" if position is None else tags[position], "entry_text"),
        Cell(0, 5, "Row in Working", "card_words"),
        Cell(0, 8, place, "working", found),
    ]
    values: Values = (lambda _name: None) if position is None else read_one(rows.values, position)
    cells, merges, heights, tops = _pages(
        _ABOVE,
        lambda name: f"INDEX({rows.range(name)},{row_at})",
        values,
        chosen=f"COUNT({row_at})=1",
        there=there,
        sets=sets,
        second="comes_out" in there,
    )
    return _sheet(
        NAME,
        [*above, *cells, *aside(there)],
        {0: 20.0, 1: 8.0, **heights},
        tops,
        _marks_of(tops),
        sets,
        merges=((0, 1, 0, 4), (0, 8, 0, LAST), *merges),
        validations=(Validation(0, 1, 0, 1, choices=rows.range("tag")),),
        selected=(0, 1),
    )


def sheets_for_cards(rows: Rows, positions: Sequence[int], there: Answers, sets: Sequence[str] = tuple(UNIT_SETS)) -> tuple[Sheet, ...]:
    """One card for each position in the list, each on a page of its own, or two; so many a sheet as a spreadsheet takes."""
    parts = [positions[start : start + MOST_ON_A_SHEET] for start in range(0, len(positions), MOST_ON_A_SHEET)]
    named = ((part, CARDS if number == 1 else f"{CARDS} {number}") for number, part in enumerate(parts, start=1))
    return tuple(_cards(rows, part, name, there, sets) for part, name in named)


def with_cards(layout: Layout, positions: Sequence[int], there: Answers) -> Layout:
    """The layout of a list with the cards of these valves before its other sheets; it opens on the first card."""
    sets = next(edition.sets for edition in EDITIONS.values() if edition.key == layout.edition)
    first, *others = sheets_for_cards(WorkingSheet.of(layout), positions, there, sets)
    behind = (replace(sheet, active=False) for sheet in layout.sheets)
    return replace(layout, title=f"Job cards. {layout.title}", sheets=(replace(first, active=True), *others, *behind))


def _cards(rows: Rows, positions: Sequence[int], name: str, there: Answers, sets: Sequence[str]) -> Sheet:
    cells: Cells = aside(there)
    merges: Merges = []
    heights: dict[int, float] = {}
    tops: list[int] = []
    top = 0
    for position in positions:
        values = read_one(rows.values, position)
        comes_out = "comes_out" in there and values("comes_out") == "yes"
        new, blocks, high, begins = _pages(
            top,
            lambda quantity, at=position: rows.cell(quantity, at),  # type: ignore[misc]
            values,
            there=there,
            sets=sets,
            second=comes_out,
        )
        cells += new
        merges += blocks
        heights |= high
        tops += begins
        top = max(high) + 1
    return _sheet(name, cells, heights, tops, _marks(0, top - 1), sets, merges=tuple(merges))


def _said_of_one(answers: Answers) -> str:
    if "comes_out" in answers:
        return "a page for the person at the gland, and a second one for a valve that comes out: print them"
    return "a page for the person at the gland: print it"


def _said_of_list(answers: Answers) -> str:
    more = ", a second one if the valve comes out" if "comes_out" in answers else ""
    return f"choose a tag: a page for the person at the gland{more}"


register(Book.ONE, NAME, 40, Purpose.PRINT, _said_of_one, lambda book: sheet_for_one(book.values, book.edition.answers, book.edition.sets))
register(
    Book.LIST,
    NAME,
    40,
    Purpose.PRINT,
    _said_of_list,
    lambda book: sheet_for_list(book.working, book.edition.answers, book.edition.sets),
)
