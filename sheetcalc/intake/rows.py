"""Reads what a site already has of a sheet that it fills in: a log of readings, or what lies in stores.

It is stricter than the reading of a list of valves: the headers are those of the sheet itself, nothing is converted and
nothing is guessed. What cannot be read plainly stays a text, so that the check of the sheet speaks of it.
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, NoReturn

import pandas as pd
from openpyxl.utils import get_column_letter

from sheetcalc.errors import ListError, TooManyRowsError
from sheetcalc.findings import (
    AmbiguousDate,
    ColumnLeftBehind,
    DateNotNumber,
    DateNotRead,
    DateNotText,
    DateWasFraction,
    ExtraCells,
    FileFinding,
    Finding,
    FormulaWithoutValue,
    UnclearComma,
    UnitNotOfOutage,
)
from sheetcalc.intake.cells import is_blank, is_date, plain
from sheetcalc.intake.date_fractions import MONTHS
from sheetcalc.intake.files import HEADER_ROWS, Cells, read_cells
from sheetcalc.intake.guesses import NotGiven
from sheetcalc.intake.headers import fold
from sheetcalc.intake.unit_names import UNITS, unit_name
from sheetcalc.intake.values import read_value

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

TEXT, NUMBER, LENGTH, DATE = "text", "number", "length", "date"
#: Text files have no sheets; any other file is a workbook, or is refused as what it is.
_TEXT_ENDINGS: Final = frozenset({".csv", ".txt", ".tsv"})
#: Day 0 of a spreadsheet, its wrong leap day of 1900 included.
_DAY_ZERO: Final = dt.date(1899, 12, 30)
_MONTH: Final = (
    r"(?P<month>jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?"
    r"|dec(?:ember)?)"
)
_TIME: Final = r"(?:[T ]+\d{1,2}:\d{2}\S*)?"
_YEAR_FIRST: Final = re.compile(rf"(?P<year>\d{{4}})([-/.])(?P<month>\d{{1,2}})\2(?P<day>\d{{1,2}}){_TIME}", re.ASCII)
_YEAR_LAST: Final = re.compile(rf"(?P<one>\d{{1,2}}) ?([-/.]) ?(?P<two>\d{{1,2}}) ?\2 ?(?P<year>\d{{4}}){_TIME}", re.ASCII)
_NAMED: Final = (
    re.compile(rf"(?P<day>\d{{1,2}})[ .-]*{_MONTH}[ .,-]*(?P<year>\d{{4}})", re.ASCII | re.IGNORECASE),
    re.compile(rf"{_MONTH}\.? ?(?P<day>\d{{1,2}})(?:, ?| )(?P<year>\d{{4}})", re.ASCII | re.IGNORECASE),
)
_DAY_NUMBER: Final = re.compile(r"\d{5}", re.ASCII)
_BRACKET: Final = re.compile(r"(?P<title>.*\S)\s*[(\[](?P<unit>[^()\[\]]*)[)\]]")
#: What our own sheets put beside a row that is for typing.
_MARK: Final = "▸"
#: The most characters that a cell of a workbook may be given.
_LONGEST_CELL: Final = 32_000
_MONTHS_OF_A_YEAR: Final = 12


@dataclass(frozen=True)
class Known:
    """A column that is read: its entry, its header, what stands in it, and which units its header may name in brackets.

    `units` None lets any words stand in the brackets, such as the currency of a price; an empty one lets none.
    """

    entry: str
    title: str
    kind: str = NUMBER
    units: frozenset[str] | None = frozenset()


@dataclass(frozen=True)
class Wanted:
    """What is read: the sheet in a workbook, its columns, and what must be there.

    `answers` are headers of the sheet that are worked out there and therefore passed over; `unit_header` that one of them
    under which each row says its unit, with the `other_units` that no row of this outage can have.
    """

    sheet: str
    columns: tuple[Known, ...]
    needed: tuple[str, ...]
    length: str
    answers: frozenset[str] = frozenset()
    most_rows: int | None = None
    unit_header: str = ""
    other_units: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Brought:
    """What a file brings along: a frame with a column for each entry, the row of the file of each, and findings."""

    source: str
    frame: pd.DataFrame
    rows: tuple[int, ...]
    findings: tuple[FileFinding, ...]


@dataclass
class _Reader:
    """One file while it is read."""

    name: str
    cells: Cells
    wanted: Wanted
    findings: list[Finding] = field(default_factory=list)

    def refuse(self, words: str) -> NoReturn:
        """Refuse the file with a sentence that begins with its name."""
        message = f"{self.name} {words}"
        raise ListError(message)


def of_file(finding: Finding, name: str) -> FileFinding:
    """A finding as it stands among those of a list: with the name of the file that it is of, and without a row of the list."""
    return FileFinding(
        column=finding.column, value=finding.value, tag=finding.tag, file=name, found=finding.kind, words=finding.said, advice=finding.to_do
    )


def read_rows(path: Path, wanted: Wanted) -> Brought:
    """What a file has of a sheet that the site fills in.

    Args:
        path: a CSV file, or a workbook of which the sheet named in `wanted` is read.
        wanted: which columns are read, in which unit.

    Returns:
        The rows that have anything in a column that is read. Numbers and dates are numbers where they can be read plainly,
        and the text as it stands otherwise; a blank cell is None.

    Raises:
        ListError: the file cannot be opened, has no such sheet, no usable header, a column twice, or another unit.
        TooManyRowsError: it has more rows than the sheet takes.
    """
    sheet = None if path.suffix.lower() in _TEXT_ENDINGS else wanted.sheet
    mapped = {fold(text): one.entry for one in wanted.columns for text in (one.title, one.entry)}
    cells = read_cells(path, sheet, mapped)
    reader = _Reader(path.name, cells, wanted, list(cells.findings))
    at, places = _header(reader)
    _check_unit_above(reader, at)
    _left_behind(reader, at, places)
    titles = {one.entry: one.title for one in wanted.columns}
    table: dict[str, list[object]] = {one.entry: [] for one in wanted.columns}
    rows: list[int] = []
    for number, row in enumerate(cells.rows[at + 1 :], start=at + 2):
        held = {entry: row[place] if place < len(row) else None for entry, place in places.items()}
        if all(is_blank(cell) for cell in held.values()):
            continue
        rows.append(number)
        _check_row(reader, at, number, held)
        tag = next((plain(held.get(one)) for one in wanted.needed if _kind(wanted, one) == TEXT), "")
        for known in wanted.columns:
            value, fault, said = _read(reader, known, held.get(known.entry), (number - 1, places.get(known.entry, -1)))
            table[known.entry].append(value)
            if fault is not None:
                reader.findings.append(fault(row=number, column=titles[known.entry], value=said, tag=tag))
    _refuse_too_many(reader, len(rows))
    findings = tuple(of_file(one, path.name) for one in sorted(reader.findings, key=lambda one: one.row or 0))
    return Brought(path.name, pd.DataFrame(table, dtype=object), tuple(rows), findings)


def _refuse_too_many(reader: _Reader, count: int) -> None:
    most, sheet = reader.wanted.most_rows, reader.wanted.sheet
    if most is not None and count > most:
        message = f"{reader.name} has {count:,} rows and the sheet {sheet} takes {most:,}: leave out what this outage does not need."
        raise TooManyRowsError(message)


def _kind(wanted: Wanted, entry: str) -> str:
    return next(one.kind for one in wanted.columns if one.entry == entry)


# --- headers ----------------------------------------------------------------------------------------------------------


def _key(header: object) -> str:
    """A header as it is looked up: neither case nor spaces count."""
    return "".join(plain(header).casefold().split())


def _lookup(wanted: Wanted) -> dict[str, Known]:
    """Every way in which a column may be headed: its title, and the name of its entry with and without its ending."""
    return {_key(text): one for one in wanted.columns for text in (one.title, one.entry, one.entry.removesuffix("_entered"))}


def _understood(cell: object, known: Mapping[str, Known]) -> tuple[Known | None, str]:
    """The column that a header means and the words in its brackets, where those may be a unit of it."""
    if not isinstance(cell, str):
        return None, ""
    whole = known.get(_key(cell))
    if whole is not None:
        return whole, ""
    found = _BRACKET.fullmatch(plain(cell))
    column = known.get(_key(found["title"])) if found else None
    if found is None or column is None or column.units == frozenset():
        return None, ""
    return column, found["unit"].strip()


def _header(reader: _Reader) -> tuple[int, dict[str, int]]:
    """The row of the header, from 0, and the place of each entry: the first row that gives most of them."""
    wanted, known = reader.wanted, _lookup(reader.wanted)
    best, found = 0, [(-1, *_understood(None, known))]
    for at, row in enumerate(reader.cells.rows[:HEADER_ROWS]):
        here = [(place, *_understood(cell, known)) for place, cell in enumerate(row)]
        if sum(column is not None for _, column, _ in here) > sum(column is not None for _, column, _ in found):
            best, found = at, here
    places: dict[str, int] = {}
    for place, column, unit in found:
        if column is None:
            continue
        if column.entry in places:
            reader.refuse(f"has two columns for {column.title!r}: delete or rename one of them.")
        if unit and column.units is not None and unit.casefold() not in column.units and unit_name(unit) not in column.units:
            expected = " or ".join(sorted(column.units))
            reader.refuse(
                f"says {unit} for {column.title!r} and the workbook takes {expected} there: convert the column, or choose another --units."
            )
        places[column.entry] = place
    lacking = [one.title for one in wanted.columns if one.entry in wanted.needed and one.entry not in places]
    if lacking:
        expected = ", ".join(one.title for one in wanted.columns)
        reader.refuse(
            f"has no column {' and '.join(lacking)} among its first {HEADER_ROWS} rows: head the columns as the sheet {wanted.sheet} does, "
            f"{expected}."
        )
    return best, places


def _check_unit_above(reader: _Reader, header_at: int) -> None:
    """Refuse a sheet that says above its header that its lengths are in another unit, as our own sheet Log does."""
    for row in reader.cells.rows[:header_at]:
        for cell in row:
            unit = unit_name(cell) if isinstance(cell, str) else ""
            if unit in UNITS["length"] and unit != reader.wanted.length:
                reader.refuse(
                    f"says above its headers that its lengths are in {unit} and the workbook takes {reader.wanted.length}: convert them, "
                    "or choose another --units."
                )


def _left_behind(reader: _Reader, header_at: int, places: Mapping[str, int]) -> None:
    """A finding for each column that has a header of its own, or anything in it, and is none that is read."""
    rows = reader.cells.rows
    head, below = rows[header_at], rows[header_at + 1 :]
    answers = {_key(text) for text in reader.wanted.answers}
    # In a text file cells beyond the header are more likely a number that its own comma has split: `_check_row` says so.
    width = len(head) if reader.cells.is_text else max(map(len, rows[header_at:]))
    for place in sorted(set(range(width)) - set(places.values())):
        title = plain(head[place]) if place < len(head) else ""
        filled = sum(1 for row in below if place < len(row) and not is_blank(row[place]) and row[place] != _MARK)
        if _key(title) in answers or not (title or filled):
            continue
        reader.findings.append(
            ColumnLeftBehind(row=header_at + 1, column=title or f"column {get_column_letter(place + 1)}", value=f"{filled}")
        )


# --- cells ------------------------------------------------------------------------------------------------------------


def _check_row(reader: _Reader, header_at: int, number: int, held: Mapping[str, object]) -> None:
    """What is said of a row as a whole: cells beyond the header of a text file, a unit of the other set."""
    row, wanted = reader.cells.rows[number - 1], reader.wanted
    width = len(reader.cells.rows[header_at])
    if reader.cells.is_text and any(not is_blank(cell) for cell in row[width:]):
        reader.findings.append(ExtraCells(row=number))
    head = [_key(cell) for cell in reader.cells.rows[header_at]]
    place = head.index(_key(wanted.unit_header)) if wanted.unit_header and _key(wanted.unit_header) in head else len(row)
    unit = plain(row[place]) if place < len(row) else ""
    if unit in wanted.other_units and any(_kind(wanted, one) == NUMBER and not is_blank(cell) for one, cell in held.items()):
        reader.refuse(
            f"says {unit} in row {number}, a unit that this outage does not use: convert what is typed there, or choose another --units."
        )


def _read(reader: _Reader, known: Known, cell: object, at: tuple[int, int]) -> tuple[object, type[Finding] | None, str]:
    """What a cell says: its value, the finding's class where something is to be said, and what that shows."""
    if is_blank(cell):
        return None, None, ""
    text = plain(cell)
    if len(text) > _LONGEST_CELL:
        reader.refuse(f"has a cell of {len(text):,} characters in row {at[0] + 1}, more than a sheet holds: shorten it.")
    if at in reader.cells.formulas:
        return text, FormulaWithoutValue, text
    if known.kind == TEXT:
        return text, DateNotText if is_date(cell) else None, text
    if known.kind == DATE:
        number, fault = read_day(cell)
        return (text if number is None else number), fault, text
    return _number(reader, known, cell, text)


def _number(reader: _Reader, known: Known, cell: object, text: str) -> tuple[object, type[Finding] | None, str]:
    """A number that is plainly one; the text of the cell otherwise."""
    reading = read_value(cell, dimension="length" if known.kind == LENGTH else "")
    if reading.blank:
        return None, NotGiven if reading.not_given else None, text
    if reading.fault in {DateNotNumber, DateWasFraction, UnclearComma}:
        fractions = f", perhaps once {' or '.join(reading.fractions)}" if reading.fractions else ""
        return text, reading.fault, f"{text}{fractions}"
    if reading.number is None or reading.rough or reading.thousands:
        return text, None, text
    if reading.guessed_comma:
        return text, UnclearComma, text
    own = {"", reader.wanted.length if known.kind == LENGTH else ""}
    return (reading.number, None, text) if reading.unit in own else (text, UnitNotOfOutage, text)


def read_day(cell: object) -> tuple[float | None, type[Finding] | None]:
    """The whole day of a cell as a spreadsheet counts it, or the class of the finding that says why there is none.

    A date of a spreadsheet, a date with its year first, with the month in words, or with its year last is read, the last only
    where it is plain which of the two figures is the day. A time of the day is passed over. A number is a day number.
    """
    if isinstance(cell, dt.date):
        return _days(cell.date() if isinstance(cell, dt.datetime) else cell), None
    if isinstance(cell, str):
        return _day_in_words(plain(cell))
    return (None, DateNotRead) if isinstance(cell, bool) or not isinstance(cell, (int, float)) else (float(cell), None)


def _day_in_words(text: str) -> tuple[float | None, type[Finding] | None]:
    """`read_day` of a text."""
    if _DAY_NUMBER.fullmatch(text):
        return float(text), None
    last = _YEAR_LAST.fullmatch(text)
    if last:
        one, two = int(last["one"]), int(last["two"])
        if one != two and max(one, two) <= _MONTHS_OF_A_YEAR:
            return None, AmbiguousDate
        day, month = (one, two) if two <= _MONTHS_OF_A_YEAR else (two, one)
        return _day_of(int(last["year"]), month, day)
    found = next(filter(None, (pattern.fullmatch(text) for pattern in (_YEAR_FIRST, *_NAMED))), None)
    if found is None:
        return None, DateNotRead
    month_said = found["month"]
    month = int(month_said) if month_said.isdecimal() else MONTHS.index(month_said[:3].casefold()) + 1
    return _day_of(int(found["year"]), month, int(found["day"]))


def _day_of(year: int, month: int, day: int) -> tuple[float | None, type[Finding] | None]:
    try:
        return _days(dt.date(year, month, day)), None
    except ValueError:
        return None, DateNotRead


def _days(date: dt.date) -> float:
    return float((date - _DAY_ZERO).days)
