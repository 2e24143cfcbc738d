"""Opens a list file that may be broken or hostile, and gives its cells.

Everything that can go wrong in the file is a ListError with one sentence that says what to do. A workbook is looked
over as an archive first, since the reader behind it guards neither against archive bombs nor against entity bombs.
"""

from __future__ import annotations

import codecs
import csv
import html
import io
import re
import warnings
import zipfile
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import TYPE_CHECKING, Final, Protocol

import openpyxl
from openpyxl.utils import get_column_letter, range_boundaries

from sheetcalc.errors import ListError
from sheetcalc.findings import Finding, GuessedEncoding, NotReadOn
from sheetcalc.intake import header_rows
from sheetcalc.intake.cells import is_blank
from sheetcalc.intake.guesses import ChosenSheet, HiddenSheet, OpenElsewhere

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence
    from pathlib import Path

#: The largest file that is opened, in bytes. A list of 10,000 valves has about 1 MB.
MOST_BYTES: Final = 64 * 2**20
#: Limits of a workbook as an archive: parts, bytes of all parts unpacked, and unpacked over packed for parts of size.
MOST_MEMBERS: Final = 2_000
MOST_UNPACKED: Final = 256 * 2**20
MOST_RATIO: Final = 250
#: A part smaller than this may be packed as tightly as it likes.
SMALL_PART: Final = 2**20
#: Columns that are read, and blank rows after which a sheet counts as ended.
MOST_COLUMNS: Final = 1_000
BLANK_ROWS: Final = 200
#: The last row that a spreadsheet can have.
LAST_ROW: Final = 1_048_576
#: Rows in which the header is looked for.
HEADER_ROWS: Final = 30

_TEXT_ENDINGS: Final = frozenset({".csv", ".txt", ".tsv"})
_BOOK_ENDINGS: Final = frozenset({".xlsx", ".xlsm"})
_OLD_OFFICE: Final = b"\xd0\xcf\x11\xe0"
_ARCHIVE: Final = b"PK"
_DOCTYPE: Final = (b"<!DOCTYPE", "<!DOCTYPE".encode("utf-16-le"), "<!DOCTYPE".encode("utf-16-be"))
_FORMULA: Final = re.compile(rb"<(?:\w+:)?f[ >/]")
_BOOK_PART: Final = "xl/workbook.xml"
_RELATIONS_PART: Final = "xl/_rels/workbook.xml.rels"
_SHEET_TAG: Final = re.compile(rb"<(?:\w+:)?sheet\s[^>]*>")
_RELATION: Final = re.compile(rb"<(?:\w+:)?Relationship\s[^>]*>")
_MERGE: Final = re.compile(rb"<(?:\w+:)?mergeCell\s[^>]*?ref\s*=\s*[\"']([A-Z0-9:$]+)[\"']")
#: How the names of the locks of open files begin.
_LOCKS: Final = ("~$", ".~lock.")
#: Control characters that no text has; tab, line ends, vertical tab and form feed do occur.
_CONTROLS: Final = re.compile("[\x00-\x08\x0e-\x1f\x7f]")
#: What no text can hold, since a control character has been refused before.
_END_MARK: Final = "\x00end"
_SAVE_AGAIN: Final = "open it in a spreadsheet and save it again as .xlsx or as CSV UTF-8"


@dataclass(frozen=True)
class Cells:
    """The cells of one list, as they stand in the file.

    `rows` are the rows from the first on, of unlike lengths; `percents` the places (row, column from 0) of numbers that
    the spreadsheet shows with a % sign; `formulas` the places of formulas without a stored result; `is_text` says that
    the file was a text file; `sheet` is the name of the sheet, "" for a text file; `merged` holds the headings over
    several columns among the first rows: (row, column) from 0, to the last column.
    """

    rows: tuple[tuple[object, ...], ...]
    is_text: bool
    percents: frozenset[tuple[int, int]] = frozenset()
    formulas: frozenset[tuple[int, int]] = frozenset()
    findings: tuple[Finding, ...] = ()
    sheet: str = ""
    merged: Mapping[tuple[int, int], int] = field(default_factory=dict)


class _Rows(Protocol):
    """A sheet that is read row by row."""

    def reset_dimensions(self) -> None:
        """Forget the size that the sheet claims to have."""

    def iter_rows(self) -> Iterable[Sequence[object]]:
        """The rows, each with its cells."""


@dataclass
class _Sheet:
    """What is gathered while one sheet is read."""

    rows: list[tuple[object, ...]] = field(default_factory=list)
    percents: set[tuple[int, int]] = field(default_factory=set)
    findings: list[Finding] = field(default_factory=list)

    def add(self, at: int, cells: Sequence[object], values: list[object]) -> None:
        """Add the row at a place from 0: its cells, and their values without the blanks at the end."""
        if len(values) > MOST_COLUMNS:
            self.findings.append(NotReadOn(row=at + 1, value=f"column {get_column_letter(MOST_COLUMNS + 1)}"))
            del values[MOST_COLUMNS:]
        self.rows.append(tuple(values))
        for column, value in enumerate(values):
            if isinstance(value, (int, float)) and "%" in str(getattr(cells[column], "number_format", "")):
                self.percents.add((at, column))


def read_cells(path: Path, sheet: str | None = None, mapped: Mapping[str, str] | None = None) -> Cells:
    """All cells of a list.

    Args:
        path: a CSV (.csv, .txt, .tsv) or Excel file (.xlsx, .xlsm).
        sheet: the name of a sheet; None for the one that fits best.
        mapped: headers that the user explains, as for `header_rows.find`: they tell a header row too.

    Returns:
        The cells, and findings about the file as a whole.

    Raises:
        ListError: the file is missing, empty, too large, unreadable, of another kind, or has no such sheet.
    """
    if path.name.startswith(_LOCKS):
        message = f"{path.name} is the lock that a spreadsheet leaves beside an open file: name the list itself."
        raise ListError(message)
    cells = _cells_of(path, sheet, mapped or {})
    locks = [OpenElsewhere(value=lock) for lock in (f"~${path.name}", f".~lock.{path.name}#") if path.with_name(lock).exists()]
    return replace(cells, findings=(*locks, *cells.findings))


def _cells_of(path: Path, sheet: str | None, mapped: Mapping[str, str]) -> Cells:
    """The cells of a file by its kind."""
    ending = path.suffix.lower()
    data = _bytes_of(path)
    if data.startswith(_OLD_OFFICE) or ending == ".xls":
        message = (
            f"{path.name} is in the old .xls form or has a password: open it in a spreadsheet, take the password off and save it as .xlsx."
        )
        raise ListError(message)
    if ending in _BOOK_ENDINGS:
        return _read_book(data, path.name, sheet, mapped)
    if ending not in _TEXT_ENDINGS:
        message = f"{path.name} ends in {ending or 'nothing'}, which is not read: save the list as .xlsx or .csv."
        raise ListError(message)
    if sheet is not None:
        message = f"{path.name} is a text file and has no sheet {sheet!r}: leave the sheet's name out."
        raise ListError(message)
    return _read_text(data, path.name, mapped)


def _bytes_of(path: Path) -> bytes:
    """The bytes of a file that is there, is a file, and is neither empty nor too large."""
    try:
        if not path.exists():
            message = f"There is no file {path}: check the name and the folder."
            raise ListError(message)
        if not path.is_file():
            message = f"{path} is a folder or a device, not a file: name the list itself."
            raise ListError(message)
        size = path.stat().st_size
        if size > MOST_BYTES:
            message = (
                f"{path.name} has {size // 2**20} MB, more than the {MOST_BYTES // 2**20} MB that are read: "
                "save the valve list alone in a file of its own."
            )
            raise ListError(message)
        data = path.read_bytes()
    except (OSError, ValueError) as error:
        message = f"{path.name} cannot be opened: close it elsewhere, or ask for the right to read it."
        raise ListError(message) from error
    if not data.strip():
        message = f"{path.name} is empty: save the list again and look whether it has rows."
        raise ListError(message)
    return data


# --- text files -------------------------------------------------------------------------------------------------------


def _read_text(data: bytes, name: str, mapped: Mapping[str, str]) -> Cells:
    """The cells of a CSV file, whichever of comma, semicolon and tab parts them."""
    if data.startswith(_ARCHIVE):
        message = f"{name} is a workbook or an archive, not text: give it its right ending, such as .xlsx."
        raise ListError(message)
    text, findings = _decode(data, name)
    if not text.strip():
        message = f"{name} is empty: save the list again and look whether it has rows."
        raise ListError(message)
    delimiter = max(",;\t", key=lambda mark: _known_headers(text, mark, mapped))
    rows: list[tuple[object, ...]] = []
    for at, row in enumerate(_csv_rows(text, delimiter, name)):
        if not any(map(str.strip, row)):
            continue
        if len(rows) + BLANK_ROWS < at:
            findings.append(NotReadOn(row=at + 1, value=f"row {at + 1}"))
            break
        if any(map(str.strip, row[MOST_COLUMNS:])):
            findings.append(NotReadOn(row=at + 1, value=f"column {get_column_letter(MOST_COLUMNS + 1)}"))
        rows.extend(() for _ in range(at - len(rows)))
        rows.append(tuple(row[:MOST_COLUMNS]))
    return Cells(tuple(rows), is_text=True, findings=tuple(findings))


def _decode(data: bytes, name: str) -> tuple[str, list[Finding]]:
    """The text of a file in UTF-8, UTF-16 with its mark, or Windows Latin where that gives plain text."""
    findings: list[Finding] = []
    has_mark = data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    for encoding in ("utf-16",) if has_mark else ("utf-8-sig", "cp1252"):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if _CONTROLS.search(text):
            break
        if encoding == "cp1252":
            findings.append(GuessedEncoding(value="Windows Latin (cp1252)"))
        return text, findings
    message = f"{name} is no readable text: {_SAVE_AGAIN}."
    raise ListError(message)


def _known_headers(text: str, delimiter: str, mapped: Mapping[str, str]) -> int:
    """How many measurements the best header of the first rows gives, were the cells parted like this."""
    rows: list[Sequence[object]] = []
    try:
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
            if len(rows) >= HEADER_ROWS:
                break
            rows.append(row[:MOST_COLUMNS])
    except csv.Error:
        return 0
    found = header_rows.find(rows, mapped)
    return found.score if found else 0


def _csv_rows(text: str, delimiter: str, name: str) -> Iterator[list[str]]:
    """The rows of a CSV text; a line break inside quotes stays in its cell, as in a spreadsheet."""
    last: list[str] = []
    try:
        # The mark at the end comes back as a row of its own, unless a quote before it was never closed.
        for row in csv.reader(io.StringIO(f"{text}\n{_END_MARK}", newline=""), delimiter=delimiter):
            last = row
            if row != [_END_MARK]:
                yield row
    except csv.Error as error:
        message = f"{name} is no proper CSV, since one of its cells is far too long: {_SAVE_AGAIN}."
        raise ListError(message) from error
    if last != [_END_MARK]:
        message = f"{name} has a quote that is never closed: close it, or {_SAVE_AGAIN}."
        raise ListError(message)


# --- workbooks --------------------------------------------------------------------------------------------------------


def _read_book(data: bytes, name: str, sheet: str | None, mapped: Mapping[str, str]) -> Cells:
    """The cells of the sheet of a workbook that holds the list."""
    try:
        has_formulas = _look_over(data, name)
        with warnings.catch_warnings():
            # The reader warns of parts that it does not keep, such as validations. Nothing is written back here.
            warnings.simplefilter("ignore")
            return _read_sheets(data, name, sheet, mapped, has_formulas=has_formulas)
    except ListError:
        raise
    except Exception as error:
        # A broken archive raises nearly anything.
        message = f"{name} cannot be read as a workbook: {_SAVE_AGAIN}."
        raise ListError(message) from error


def _look_over(data: bytes, name: str) -> bool:
    """Refuse an archive that is no plain workbook; True where a sheet has formulas."""
    if not data.startswith(_ARCHIVE):
        message = f"{name} is not an Excel workbook, whatever its ending says: {_SAVE_AGAIN}."
        raise ListError(message)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = archive.infolist()
        too_tight = any(part.file_size > SMALL_PART and part.file_size > MOST_RATIO * max(part.compress_size, 1) for part in parts)
        if len(parts) > MOST_MEMBERS or too_tight or sum(part.file_size for part in parts) > MOST_UNPACKED:
            message = f"{name} unpacks to far more than a list needs: copy the list into a new workbook and save that."
            raise ListError(message)
        # Every part has to be looked at, so nothing here may stop at the first formula.
        return sum(_scan_part(archive, part, name) for part in parts) > 0


def _scan_part(archive: zipfile.ZipFile, part: zipfile.ZipInfo, name: str) -> bool:
    """Refuse a part with a document type, which may hide an entity bomb; True where the part has formulas."""
    has_formulas = False
    with archive.open(part) as stream:
        kept = b""
        while block := stream.read(2**20):
            seen = kept + block
            if any(mark in seen for mark in _DOCTYPE):
                message = f"{name} has a part with a document type, which no workbook needs: {_SAVE_AGAIN}."
                raise ListError(message)
            has_formulas = has_formulas or _FORMULA.search(seen) is not None
            # A mark may lie across two blocks.
            kept = block[-32:]
    return has_formulas


def _read_sheets(data: bytes, name: str, sheet: str | None, mapped: Mapping[str, str], *, has_formulas: bool) -> Cells:
    """The cells of the sheet asked for, or of the one that fits best."""
    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    try:
        names = [one.title for one in book.worksheets]
        hidden = {one.title for one in book.worksheets if one.sheet_state != "visible"}
        wanted = names if sheet is None else [_sheet_named(sheet, names, name)]
        gathered = {title: _gather(_rows_of(book[title]), mapped, look_for_header=sheet is None) for title in wanted}
    finally:
        book.close()
    fits = {title: _fit(found, mapped, seen=title not in hidden) for title, found in gathered.items() if found is not None}
    if not fits:
        message = no_header(name)
        raise ListError(message)
    # The first of those that fit alike.
    title = max(fits, key=lambda one: fits[one])
    found = gathered[title]
    if found is None:
        message = no_header(name)
        raise ListError(message)
    findings: list[Finding] = [HiddenSheet(value=title)] if title in hidden else []
    if sheet is None and len(names) > 1:
        findings.append(ChosenSheet(value=_chosen(title, names, fits)))
    places = _uncalculated(data, title, found.rows) if has_formulas else {}
    rows = [list(row) for row in found.rows]
    for (at, column), formula in places.items():
        rows[at][column] = formula
    return Cells(
        tuple(map(tuple, rows)),
        is_text=False,
        percents=frozenset(found.percents),
        formulas=frozenset(places),
        findings=(*findings, *found.findings),
        sheet=title,
        merged=_merged(data, title),
    )


def _fit(found: _Sheet, mapped: Mapping[str, str], *, seen: bool) -> tuple[bool, bool, int, int]:
    """How well a sheet fits: whether it is shown and has rows below its header, then its entries, then its rows."""
    header = header_rows.find(found.rows[:HEADER_ROWS], mapped)
    below = 0 if header is None else sum(1 for row in found.rows[header.at + header.lines :] if row)
    return below > 0, seen, header.score if header else 0, below


def _chosen(title: str, names: Sequence[str], fits: Mapping[str, tuple[bool, bool, int, int]]) -> str:
    """What a finding says of the sheet that was chosen: what it has, and what the others have."""
    said = []
    for one in sorted(names, key=lambda name: name != title):
        words = "no known headers" if one not in fits else f"{fits[one][2]} entries in its headers, {fits[one][3]} rows below"
        said.append(f"{one!r} ({words})")
    return f"{said[0]}; the others: {', '.join(said[1:])}"


def _merged(data: bytes, title: str) -> dict[tuple[int, int], int]:
    """The headings over several columns among the first rows of a sheet, as `Cells.merged` has them.

    The reader that goes row by row leaves them out, so they are looked for in the sheet's own part. Every part has been
    looked over before, so none of them holds an entity bomb.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        if not {_BOOK_PART, _RELATIONS_PART} <= set(archive.namelist()):
            return {}
        sheets = {_attribute(tag, b"name"): _attribute(tag, rb"\w+:id") for tag in _SHEET_TAG.findall(archive.read(_BOOK_PART))}
        parts = {_attribute(tag, b"Id"): _attribute(tag, b"Target") for tag in _RELATION.findall(archive.read(_RELATIONS_PART))}
        part = parts.get(sheets.get(title, ""), "")
        part = part.lstrip("/") if part.startswith("/") else f"xl/{part}"
        if part not in archive.namelist():
            return {}
        out = {}
        for reference in _MERGE.findall(archive.read(part)):
            first_column, first_row, last_column, _ = range_boundaries(reference.decode())
            if first_column and first_row and last_column and first_row <= HEADER_ROWS and last_column > first_column:
                out[first_row - 1, first_column - 1] = last_column - 1
        return out


def _attribute(tag: bytes, name: bytes) -> str:
    """An attribute of an XML tag, "" where it has none."""
    found = re.search(rb"\s" + name + rb"\s*=\s*(?:\"([^\"]*)\"|'([^']*)')", tag)
    return html.unescape((found[1] or found[2] or b"").decode("utf-8", "replace")) if found else ""


def no_header(name: str) -> str:
    """The sentence for a list without a known header."""
    return (
        f"{name} has no row of known headers among its first {HEADER_ROWS} rows: "
        "name the columns, such as Tag, Stem diameter, Box bore, Box depth, Nose length."
    )


def _sheet_named(sheet: str, names: Sequence[str], name: str) -> str:
    """The sheet of that name; case and outer spaces do not count where no other sheet differs by them alone."""
    if sheet in names:
        return sheet
    alike = [one for one in names if one.strip().casefold() == sheet.strip().casefold()]
    if len(alike) == 1:
        return alike[0]
    near = get_close_matches(sheet.strip().casefold(), [one.casefold() for one in names], 1)
    first = next((f", such as {one!r}" for one in names if near and one.casefold() == near[0]), "")
    message = f"{name} has no sheet {sheet!r}: name one of {', '.join(names)}{first}."
    raise ListError(message)


def _rows_of(sheet: _Rows) -> Iterator[Sequence[object]]:
    """The rows of a sheet as cells, whatever size the sheet claims to have."""
    sheet.reset_dimensions()
    return iter(sheet.iter_rows())


def _gather(rows: Iterable[Sequence[object]], mapped: Mapping[str, str], *, look_for_header: bool) -> _Sheet | None:
    """The rows of a sheet up to its end; None where a header is looked for and the first rows have none."""
    found = _Sheet()
    header_seen = not look_for_header
    for at, cells in zip(range(LAST_ROW), rows, strict=False):
        if not header_seen and at >= HEADER_ROWS:
            if header_rows.find(found.rows, mapped) is None:
                return None
            header_seen = True
        values = _trimmed(cells)
        if not values:
            continue
        if len(found.rows) + BLANK_ROWS < at:
            found.findings.append(NotReadOn(row=at + 1, value=f"row {at + 1}"))
            break
        found.rows.extend(() for _ in range(at - len(found.rows)))
        found.add(at, cells, values)
    return found if header_seen or header_rows.find(found.rows[:HEADER_ROWS], mapped) is not None else None


def _trimmed(cells: Sequence[object]) -> list[object]:
    """The values of a row without the blank ones at its end."""
    values = [getattr(cell, "value", None) for cell in cells]
    while values and is_blank(values[-1]):
        values.pop()
    return values


def _uncalculated(
    data: bytes,
    title: str,
    rows: Sequence[Sequence[object]],
) -> dict[tuple[int, int], str]:
    """Formulas without a stored result, by place from 0: the text of each. Such a cell would pass for a blank one."""
    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False)
    try:
        places = {}
        for at, cells in zip(range(len(rows)), _rows_of(book[title]), strict=False):
            for column, cell in enumerate(cells[: len(rows[at])]):
                value = getattr(cell, "value", None)
                if rows[at][column] is None and getattr(cell, "data_type", "") == "f":
                    # The formula of an array is an object with a text.
                    places[at, column] = str(getattr(value, "text", value))
        return places
    finally:
        book.close()
