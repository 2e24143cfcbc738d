"""What a table of the sheet Tables is made of: its columns, where it stands, and the cells that hand on what is typed into it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sheetcalc.reference import tables as reference
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.layout import Value, address, block

LEFT: Final = 1
#: Title, note, source, how it was checked, and the heads of the columns.
HEAD_ROWS: Final = 5


@dataclass(frozen=True)
class Column:
    """A column of a block: its head, its values, how it looks, and the name that formulas know it by."""

    head: str
    values: tuple[Value, ...]
    style: str
    name: str = ""
    formulas: tuple[str, ...] = ()


@dataclass(frozen=True)
class Block:
    """A table: its card, the row in which it begins, and its columns."""

    card: reference.Card
    row: int
    columns: tuple[Column, ...]

    @property
    def first(self) -> int:
        """The row of its first values."""
        return self.row + HEAD_ROWS

    @property
    def last(self) -> int:
        """The row of its last values."""
        return self.first + len(self.columns[0].values) - 1

    def place(self, index: int, to: int | None = None) -> str:
        """The address of a column of the block, or of several beside each other."""
        return block(self.first, LEFT + index, self.last, LEFT + (index if to is None else to))


def printed(table: str, field: str) -> tuple[Value, ...]:
    """A field of a table as printed."""
    return tuple(row[field] for row in reference.printed(table))


def numbers(name: str) -> tuple[Value, ...]:
    """The numbers of a column that formulas read."""
    return tuple(plain(value) for value in reference.values()[name])


def texts(name: str) -> tuple[Value, ...]:
    """The texts of a column that formulas read."""
    return tuple(reference.values()[name])


def stocked(unit: str) -> tuple[Value, ...]:
    """The stock list of inch or of metric sizes as printed."""
    return floats(*{"inch": ("stocked_inch", "size_in"), "metric": ("stocked_metric", "size_mm")}[unit])


def padded(values: tuple[Value, ...], rows: int) -> tuple[Value, ...]:
    """A column made up to a number of rows with blanks."""
    return values + (None,) * (rows - len(values))


def floats(table: str, field: str) -> tuple[Value, ...]:
    """A field of a table as numbers."""
    return tuple(float(row[field]) for row in reference.printed(table))


def next_size(sizes: str, before: str) -> str:
    """The smallest size above the one before it, so that a size on both lists stands once: engines differ on doubles."""
    if not before:
        return f'IFERROR(SMALL({sizes},1),"")'
    return f'IFERROR(SMALL({sizes},1+SUMPRODUCT(({sizes}<>"")*({sizes}<={before}))),"")'


def read(typed: Block, index: int, test: str, factor: str = "") -> tuple[str, ...]:
    """Formulas that hand on what stands in a column of boxed cells, and leave blank what is none: an empty cell would count as 0."""
    cells = [address(row, LEFT + index) for row in range(typed.first, typed.last + 1)]
    return tuple(f'IF({test}({cell}),{cell}{factor},"")' for cell in cells)


def read_words(typed: Block, index: int) -> tuple[str, ...]:
    """Formulas that hand on a text, or a number as one: a report may be called by its number."""
    cells = [address(row, LEFT + index) for row in range(typed.first, typed.last + 1)]
    return tuple(f'IFERROR({cell}&"","")' for cell in cells)


def read_yes(typed: Block, index: int) -> tuple[str, ...]:
    """Formulas that make 1 of yes and 0 of no."""
    cells = [address(row, LEFT + index) for row in range(typed.first, typed.last + 1)]
    return tuple(f'IF({cell}="yes",1,IF({cell}="no",0,""))' for cell in cells)


def figures(table: str, field: str) -> tuple[Value, ...]:
    """Printed figures, None where none is printed."""
    return tuple(plain(reference.figure(row[field])) for row in reference.printed(table))
