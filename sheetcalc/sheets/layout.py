"""A layout: the frozen description of a workbook, made without any Excel library.

Rows and columns count from 0 here. Formulas carry no leading `=`. Every formula has the core's answer as its value.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

Value = float | str | None


def address(row: int, column: int, *, fixed: bool = True) -> str:
    """The address of a cell: `$C$5`, or `C5` when not fixed."""
    letters = column_letters(column)
    return f"${letters}${row + 1}" if fixed else f"{letters}{row + 1}"


def column_letters(column: int) -> str:
    """The letters of a column counted from 0.

    >>> column_letters(27)
    'AB'
    """
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def block(first_row: int, first_column: int, last_row: int, last_column: int) -> str:
    """The address of a block of cells, fixed."""
    return f"{address(first_row, first_column)}:{address(last_row, last_column)}"


@dataclass(frozen=True)
class Cell:
    """One cell: a text, a number, a blank to type into, or a formula with the core's answer."""

    row: int
    column: int
    value: Value
    style: str = "text"
    formula: str = ""


@dataclass(frozen=True)
class GridColumn:
    """One column of many like cells: values, and where `parts` is given the formula of each row.

    `str(row).join(parts)` is the formula of a row, `row` counting from 1 as a sheet does.
    """

    column: int
    values: Sequence[Value]
    style: str
    parts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Grid:
    """A block of rows with the same columns throughout."""

    first_row: int
    columns: tuple[GridColumn, ...]


@dataclass(frozen=True)
class TableSpec:
    """A table that its owner sorts, filters and grows. `formulas` are the column formulas, "" for an entry column."""

    name: str
    row: int
    column: int
    rows: int
    headers: tuple[str, ...]
    formulas: tuple[str, ...]
    description: str


@dataclass(frozen=True)
class Validation:
    """What may be typed into a block: a choice from a range of cells, or a number between two limits."""

    first_row: int
    first_column: int
    last_row: int
    last_column: int
    choices: str = ""
    low: float | None = None
    high: float | None = None
    whole: bool = False
    prompt_title: str = ""
    prompt: str = ""


@dataclass(frozen=True)
class Mark:
    """A conditional look: the style holds while the formula is true. The word in the cell says the same."""

    first_row: int
    first_column: int
    last_row: int
    last_column: int
    formula: str
    style: str


def state_marks(first_row: int, first_column: int, last_row: int, last_column: int, here: str) -> tuple[Mark, Mark]:
    """How the states look that are not READY, where `here` is the cell that says the state in the first row."""
    places = (first_row, first_column, last_row, last_column)
    return Mark(*places, f'{here}="STOP"', "stop"), Mark(*places, f'OR({here}="LOOK",{here}="SIZED",{here}="MISSING")', "warn")


def check_mark(first_row: int, column: int, last_row: int) -> Mark:
    """How checks look that say more than OK and notes, one below the other in a column."""
    here = f"${column_letters(column)}{first_row + 1}"
    return Mark(first_row, column, last_row, column, f'AND({here}<>"",LEFT({here},2)<>"OK")', "warn")


@dataclass(frozen=True)
class Series:
    """One layer of a stacked chart, or one line of it."""

    name: str
    categories: str
    values: str
    fill: str
    pattern: str = ""
    line: str = "#404040"


@dataclass(frozen=True)
class Chart:
    """A native chart: stacked columns with lines over them, points over dates where there are no columns, or a drawing."""

    row: int
    column: int
    title: str
    description: str
    axis: str
    series: tuple[Series, ...]
    width: int
    height: int
    #: Room between columns, in per cent of their width; and what the columns stand for, below them.
    gap: int = 0
    below: str = ""
    #: Lines over the columns; without columns, points at dates joined by lines.
    lines: tuple[Series, ...] = ()
    #: With points it is a drawing of radius 1 around its middle: each point bears its name and, where filled, a mark of its pattern.
    points: tuple[Series, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """One sheet: cells, and how it looks, prints and is guarded."""

    name: str
    cells: tuple[Cell, ...] = ()
    grids: tuple[Grid, ...] = ()
    tables: tuple[TableSpec, ...] = ()
    validations: tuple[Validation, ...] = ()
    marks: tuple[Mark, ...] = ()
    charts: tuple[Chart, ...] = ()
    widths: dict[int, float] = field(default_factory=dict)
    heights: dict[int, float] = field(default_factory=dict)
    freeze: tuple[int, int] | None = None
    repeat_rows: tuple[int, int] | None = None
    print_area: tuple[int, int, int, int] | None = None
    landscape: bool = True
    fit_width: int = 1
    fit_height: int = 0
    repeat_columns: tuple[int, int] | None = None
    protected: bool = True
    footer: str = ""
    selected: tuple[int, int] | None = None
    active: bool = False
    links: dict[tuple[int, int], str] = field(default_factory=dict)
    #: Blocks that are one cell to the eye, as first row, first column, last row, last column; for printed pages only.
    merges: tuple[tuple[int, int, int, int], ...] = ()
    #: Rows after which a new page begins; a spreadsheet heeds them only at a fixed `scale` in per cent (0: fitted to the page).
    breaks: tuple[int, ...] = ()
    scale: int = 0
    #: Points of the type in the footer.
    footer_size: int = 9
    #: Left, right, top and bottom in inches.
    margins: tuple[float, float, float, float] = (0.5, 0.5, 0.6, 0.75)


@dataclass(frozen=True)
class Layout:
    """A whole workbook: sheets in the order of an auditor, defined names, paper and properties."""

    title: str
    sheets: tuple[Sheet, ...]
    names: dict[str, str]
    paper: str
    #: The fingerprint of its formulas, and the key of its edition.
    formulas: str
    edition: str
