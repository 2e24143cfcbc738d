"""A valve list in: one tidy row a valve, and a finding for everything that was not plain.

Which unit a measurement is in is said by the first of these that speaks: the cell, a row of units below the header, the
header, the row's unit set. Which unit set a row has is said by its unit set cell, else by the units of its lengths
where they are all of one kind, else by the unit of its stem diameter. It is never assumed. Pressures and the like say
nothing of it: a valve in mm may well stand in a line in psi.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pandas as pd
from openpyxl.utils import get_column_letter

from sheetcalc.errors import ListError, TooManyRowsError
from sheetcalc.findings import (
    ConvertedUnit,
    DateNotText,
    ExtraCells,
    Finding,
    FormulaWithoutValue,
    FractionInMetricRow,
    GuessedComma,
    GuessedPercent,
    MissingHeader,
    MissingTag,
    MissingUnitSet,
    NotANumber,
    NotAValve,
    RenamedHeader,
    RepeatedHeader,
    RepeatedHeaderRow,
    RepeatedTag,
    UnitWithoutSet,
    UnknownHeader,
    UnknownUnit,
    UnknownUnitSet,
)
from sheetcalc.intake import headers, values
from sheetcalc.intake.files import HEADER_ROWS, Cells, no_header, read_cells
from sheetcalc.intake.headers import (
    COUNT_COLUMNS,
    DIMENSIONS,
    ENTRY_COLUMNS,
    FACTOR_COLUMNS,
    FREE_TEXT_COLUMNS,
    LENGTH_COLUMNS,
    MEASURED_AS,
    NEEDED,
    NUMBER_COLUMNS,
    SHARE_COLUMNS,
    TEXT_COLUMNS,
    Header,
)
from sheetcalc.intake.values import Reading
from sheetcalc.units import COHERENT, UNIT_SETS, factor, shown, zero

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

__all__ = ["ENTRY_COLUMNS", "ValveList", "read_list"]

#: The longest header that a table can have.
_LONGEST_HEADER: Final = 255
#: What cannot stand in the header of a table that formulas refer to.
_UNFIT: Final = str.maketrans({"[": "(", "]": ")", "#": " ", "'": " ", "@": " "})
#: Fractions from this denominator on are read off an inch rule, not meant as half a millimetre.
_INCH_RULE: Final = 8
#: Which unit set a unit belongs to.
_KIND: Final = {"mm": "metric", "cm": "metric", "m": "metric", "in": "US", "ft": "US"}
_STEM: Final = "stem_diameter_entered"


@dataclass(frozen=True)
class ValveList:
    """A list as it was understood.

    `source` is the file's name without its folder. `frame` has one row a valve and exactly ENTRY_COLUMNS, all of dtype
    object, with a RangeIndex: text entries are str ("" for blank), number entries a float in the unit of the row's unit
    set (such as mm or in, bar or psi), NaN for blank, or the user's own text where that is no number. `rows` is the row of each valve in
    the file, from 1; a line break inside quotes starts no row, as in a spreadsheet. `carried` holds the columns that
    are not understood: final header to cells, as they were, one a valve. `verbatim` is every cell of the source, row by
    row. `understood` maps their header to the entry column.
    """

    source: str
    frame: pd.DataFrame
    rows: tuple[int, ...]
    carried: dict[str, list[object]]
    verbatim: tuple[tuple[object, ...], ...]
    understood: dict[str, str]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class _Columns:
    """What the columns of a list are: the place of each entry, the unit of each place, and the others."""

    places: dict[str, int]
    units: dict[int, str]
    percents: frozenset[int]
    headers: tuple[Header, ...]
    first_row: int


@dataclass
class _Row:
    """One valve being read: its cells, and what was found out about them."""

    number: int
    cells: Sequence[object]
    tag: str = ""
    findings: list[Finding] = field(default_factory=list)

    def cell(self, place: int | None) -> object:
        """The cell at a place, None beyond the row's end."""
        return self.cells[place] if place is not None and place < len(self.cells) else None

    def find(self, kind: type[Finding], column: str = "", value: str = "") -> None:
        """Add a finding of this row."""
        self.findings.append(kind(row=self.number, column=column, value=value, tag=self.tag))


def read_list(
    path: Path,
    *,
    sheet: str | None = None,
    most_rows: int | None = None,
    reserved: Collection[str] = (),
) -> ValveList:
    """Read a valve list, however it was typed.

    Args:
        path: a CSV or Excel file.
        sheet: the name of its sheet; None for the first one with a known header.
        most_rows: the most valves that the list may have; None for any number.
        reserved: headers that the workbook uses itself, so that no carried column may have them.

    Returns:
        The valves, what is carried along, and the findings in the order of the file.

    Raises:
        ListError: the list cannot be read at all; the sentence says what to do.
        TooManyRowsError: it has more valves than `most_rows`; the sentence says how to split it.
    """
    path = Path(path)
    cells = read_cells(path, sheet)
    header_at = _header_row(cells.rows, path.name)
    columns, findings = _columns(cells.rows, header_at)
    rows, row_findings = _valve_rows(cells, columns, header_at)
    _refuse_too_many(len(rows), most_rows, path.name)
    carried, carried_findings = _carry(cells, columns, rows, reserved)
    findings = [*cells.findings, *findings, *carried_findings]

    places = columns.places
    table: dict[str, list[object]] = {name: [] for name in ENTRY_COLUMNS}
    seen: set[str] = set()
    for row in rows:
        _read_row(row, columns, cells, table)
        _check_tag(row, columns, seen)
        row_findings.extend(row.findings)
    # A stable sort: the findings of one row stay in the order in which they were made.
    row_findings.sort(key=lambda finding: finding.row or 0)
    return ValveList(
        source=path.name,
        frame=pd.DataFrame({name: pd.Series(column, dtype=object) for name, column in table.items()}),
        rows=tuple(row.number for row in rows),
        carried=carried,
        verbatim=cells.rows,
        understood={columns.headers[at].text: name for at, name in sorted((at, name) for name, at in places.items())},
        findings=(*findings, *row_findings),
    )


# --- columns ----------------------------------------------------------------------------------------------------------


def _header_row(rows: Sequence[Sequence[object]], name: str) -> int:
    """The first of the rows that give most measurements."""
    scores = [headers.score(headers.understand_row(row)) for row in rows[:HEADER_ROWS]]
    if not any(scores):
        raise ListError(no_header(name))
    return scores.index(max(scores))


def _columns(rows: Sequence[Sequence[object]], header_at: int) -> tuple[_Columns, list[Finding]]:
    """What each column is, from the header and a row of units below it."""
    heads = headers.understand_row(rows[header_at])
    below = rows[header_at + 1] if header_at + 1 < len(rows) else ()
    below_units = headers.units_row(below, heads)
    places: dict[str, int] = {}
    units: dict[int, str] = {}
    percents: set[int] = set()
    findings: list[Finding] = []
    for at, head in enumerate(heads):
        if not head.entry:
            if head.text:
                findings.append(UnknownHeader(row=header_at + 1, column=head.text))
            continue
        if head.entry in places:
            findings.append(RepeatedHeader(row=header_at + 1, column=head.text))
            continue
        places[head.entry] = at
        unit, percent = below_units[at] if below_units else ("", False)
        if head.entry in MEASURED_AS and (unit or head.unit):
            units[at] = unit or head.unit
        if head.percent or percent:
            percents.add(at)
    findings.extend(MissingHeader(column=shown) for name, shown in NEEDED.items() if name not in places)
    first_row = header_at + (2 if below_units else 1)
    return _Columns(places, units, frozenset(percents), heads, first_row), findings


def _carry(
    cells: Cells,
    columns: _Columns,
    rows: Sequence[_Row],
    reserved: Collection[str],
) -> tuple[dict[str, list[object]], list[Finding]]:
    """The columns that are not understood, under headers that a table can have."""
    blank: object = "" if cells.is_text else None
    understood = set(columns.places.values())
    width = max([len(columns.headers), *(len(row.cells) for row in rows)])
    taken = {name.casefold() for name in reserved}
    carried: dict[str, list[object]] = {}
    findings: list[Finding] = []
    for at in range(width):
        if at in understood:
            continue
        own = columns.headers[at].text if at < len(columns.headers) else ""
        column = [blank if (cell := row.cell(at)) is None else cell for row in rows]
        if not own and all(values.is_blank(cell) for cell in column):
            continue
        name = _free_name(own, f"Column {get_column_letter(at + 1)}", taken)
        taken.add(name.casefold())
        carried[name] = column
        if name != own:
            findings.append(RenamedHeader(column=own, value=name))
    return carried, findings


def _free_name(own: str, otherwise: str, taken: Collection[str]) -> str:
    """A header that a table can have and that no other column has, as near to the user's own as can be."""
    fit = "".join(c if c.isprintable() else " " for c in own.translate(_UNFIT))
    fit = " ".join(fit.split())[:_LONGEST_HEADER].strip() or otherwise
    name, count = fit, 1
    while name.casefold() in taken:
        count += 1
        more = f" ({count})"
        name = fit[: _LONGEST_HEADER - len(more)].rstrip() + more
    return name


# --- rows -------------------------------------------------------------------------------------------------------------


def _valve_rows(cells: Cells, columns: _Columns, header_at: int) -> tuple[list[_Row], list[Finding]]:
    """The rows that are valves, and findings about those that are not and yet hold something."""
    tells = [at for name, at in columns.places.items() if name not in {"unit_set", *FREE_TEXT_COLUMNS}]
    heads = tuple(head.text for head in columns.headers)
    rows: list[_Row] = []
    findings: list[Finding] = []
    for at in range(columns.first_row, len(cells.rows)):
        row = _Row(at + 1, cells.rows[at])
        if any(not _says_nothing(row.cell(place)) for place in tells):
            texts = tuple(map(values.plain, row.cells))
            if texts == heads:
                findings.append(RepeatedHeaderRow(row=row.number))
                continue
            rows.append(row)
            extra = [text for text in texts[len(cells.rows[header_at]) :] if text]
            if cells.is_text and extra:
                row.find(ExtraCells, value=", ".join(extra))
        else:
            said = [values.plain(cell) for cell in row.cells if not values.is_blank(cell)]
            if said:
                findings.append(NotAValve(row=row.number, value=", ".join(said)))
    return rows, findings


def _says_nothing(cell: object) -> bool:
    """Whether a cell is blank or holds only a dash."""
    return values.is_blank(cell) or (isinstance(cell, str) and not cell.strip().strip("-–—"))


def _refuse_too_many(count: int, most_rows: int | None, name: str) -> None:
    """Raise where a list has more valves than a workbook is meant for."""
    if most_rows is None or count <= most_rows:
        return
    files = math.ceil(count / max(most_rows, 1))
    message = (
        f"{name} has {count:,} valves and a workbook takes {most_rows:,}: split it into {files} files of at most {most_rows:,} rows each."
    )
    raise TooManyRowsError(message)


def _read_row(row: _Row, columns: _Columns, cells: Cells, table: dict[str, list[object]]) -> None:
    """Read one valve into the table's columns."""
    row.tag = values.written(row.cell(columns.places.get("tag"))).strip()
    for name in TEXT_COLUMNS:
        if name != "unit_set":
            cell = row.cell(columns.places.get(name))
            as_typed = name == "tag" or name in FREE_TEXT_COLUMNS
            table[name].append(values.written(cell).strip() if as_typed else values.code(name, cell))
        _check_text(row, name, columns, cells)
    names = (*DIMENSIONS, *COUNT_COLUMNS, *SHARE_COLUMNS, *FACTOR_COLUMNS, *NUMBER_COLUMNS)
    readings = {name: _read_number(row, name, columns, cells) for name in names}
    row_set = _unit_set(row, columns, readings)
    table["unit_set"].append(row_set)
    for name, reading in readings.items():
        place = columns.places.get(name)
        if place is None or reading.blank:
            table[name].append(math.nan)
        elif reading.number is None:
            table[name].append(values.written(row.cell(place)).strip())
        elif name in DIMENSIONS and reading.fault is None:
            table[name].append(_measurement(row, name, reading, row_set, columns))
        elif name in SHARE_COLUMNS + FACTOR_COLUMNS and reading.fault is None:
            table[name].append(_share(row, name, reading, columns, cells))
        else:
            table[name].append(reading.number)


def _check_text(row: _Row, name: str, columns: _Columns, cells: Cells) -> None:
    """Speak of a text cell that holds a date, or a formula without its result."""
    place = columns.places.get(name)
    if place is None:
        return
    cell = row.cell(place)
    if values.is_date(cell):
        row.find(DateNotText, columns.headers[place].text, values.plain(cell))
    if (row.number - 1, place) in cells.formulas:
        row.find(FormulaWithoutValue, columns.headers[place].text, values.plain(cell))


def _read_number(row: _Row, name: str, columns: _Columns, cells: Cells) -> Reading:
    """Read one number cell, with its findings."""
    place = columns.places.get(name)
    if place is None:
        return Reading(blank=True)
    cell = row.cell(place)
    column = columns.headers[place].text
    shown = values.written(cell).strip()
    if (row.number - 1, place) in cells.formulas:
        row.find(FormulaWithoutValue, column, shown)
        return Reading()
    reading = values.read_value(cell, counts=name in COUNT_COLUMNS, dimension=MEASURED_AS.get(name, ""))
    if reading.unit == "%" and name not in SHARE_COLUMNS + FACTOR_COLUMNS:
        reading = Reading(fault=UnknownUnit if name in MEASURED_AS else NotANumber)
    if name in NUMBER_COLUMNS and name not in MEASURED_AS and reading.bottom > 1:
        # A pH of 6/8 is two limits.
        reading = Reading(fault=NotANumber)
    if reading.fault:
        row.find(reading.fault, column, shown)
    elif reading.guessed_comma:
        row.find(GuessedComma, column, shown)
    return reading


def _unit_set(row: _Row, columns: _Columns, readings: dict[str, Reading]) -> str:
    """The unit set of a row: what it says, else what its lengths say, else ""."""
    place = columns.places.get("unit_set")
    said = values.unit_set(row.cell(place)) if not _says_nothing(row.cell(place)) else ""
    if said:
        if said not in UNIT_SETS and place is not None:
            row.find(UnknownUnitSet, columns.headers[place].text, said)
        return said
    kinds = {}
    for name in LENGTH_COLUMNS:
        reading = readings[name]
        unit = reading.unit or columns.units.get(columns.places.get(name, -1), "")
        if unit and reading.number is not None and reading.fault is None:
            kinds[name] = _KIND[unit]
    if len(set(kinds.values())) == 1:
        return next(iter(kinds.values()))
    if _STEM in kinds:
        return kinds[_STEM]
    row.find(MissingUnitSet, columns.headers[place].text if place is not None else "")
    return ""


def _measurement(row: _Row, name: str, reading: Reading, row_set: str, columns: _Columns) -> object:
    """One measurement in the unit of its row, or as text where the row has no unit set and the measurement a unit."""
    number, place = reading.number, columns.places[name]
    if number is None:
        return math.nan
    column, column_unit = columns.headers[place].text, columns.units.get(place, "")
    unit = reading.unit or column_unit
    typed = values.written(row.cell(place)).strip()
    with_unit = typed if reading.unit or not unit else f"{typed} {shown(unit)}"
    if row_set not in UNIT_SETS:
        if not unit:
            return number
        row.find(UnitWithoutSet, column, with_unit)
        return with_unit
    dimension = DIMENSIONS[name]
    wanted = UNIT_SETS[row_set][dimension]
    if not unit:
        if wanted == "mm" and reading.bottom >= _INCH_RULE:
            row.find(FractionInMetricRow, column, typed)
        return number
    if unit == wanted:
        return number
    row.find(ConvertedUnit, column, with_unit)
    return _converted(number, unit, wanted, COHERENT[dimension])


def _converted(number: float, unit: str, wanted: str, coherent: str) -> float:
    """A number in another unit, by way of the coherent one: its factors are exact, so that 28 mm in inches is 28/25.4."""
    if coherent != "degC":
        return number * factor(unit, coherent) / factor(wanted, coherent)
    # Kelvin has its zero at nothing, so it is where Celsius starts in it that counts.
    celsius = number + zero(coherent, "K") if unit == "K" else (number - zero(unit, coherent)) / factor(coherent, unit)
    return celsius * factor(coherent, wanted) + zero(wanted, coherent)


def _share(row: _Row, name: str, reading: Reading, columns: _Columns, cells: Cells) -> object:
    """One share of one: a sign, the cell's format, the header and at last the size say whether it was per cent.

    The size says it for shares alone: of a factor nobody thinks in per cent.
    """
    number, place = math.nan if reading.number is None else reading.number, columns.places[name]
    if reading.unit == "%":
        return number / 100
    if number == 0 or (row.number - 1, place) in cells.percents:
        return number
    asks_percent = place in columns.percents
    as_percent = number >= 1 if asks_percent else number > 1 and name in SHARE_COLUMNS
    if as_percent != asks_percent:
        row.find(GuessedPercent, columns.headers[place].text, values.written(row.cell(place)).strip())
    return number / 100 if as_percent else number


def _check_tag(row: _Row, columns: _Columns, seen: set[str]) -> None:
    """Speak of a tag that is missing or stands in an earlier row."""
    place = columns.places.get("tag")
    if place is None:
        # The missing column has been reported once for the whole list.
        return
    column = columns.headers[place].text
    if not row.tag:
        row.find(MissingTag, column)
        return
    key = values.plain(row.tag).casefold()
    if key in seen:
        row.find(RepeatedTag, column, row.tag)
    seen.add(key)
