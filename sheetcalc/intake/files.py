"""Opens a list file that may be broken or hostile, and gives its cells.

Everything that can go wrong in the file is a ListError with one sentence that says what to do. A workbook is looked
over as an archive first, since the reader behind it guards neither against archive bombs nor against entity bombs.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
import warnings
import zipfile
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, Protocol

import openpyxl
from openpyxl.utils import get_column_letter

from sheetcalc.errors import ListError
from sheetcalc.findings import Finding, GuessedEncoding, NotReadOn
from sheetcalc.intake import headers
from sheetcalc.intake.values import is_blank

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
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
    the file was a text file.
    """

    rows: tuple[tuple[object, ...], ...]
    is_text: bool
    percents: frozenset[tuple[int, int]] = frozenset()
    formulas: frozenset[tuple[int, int]] = frozenset()
    findings: tuple[Finding, ...] = ()


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


def read_cells(path: Path, sheet: str | None = None) -> Cells:
    """All cells of a list.

    Args:
        path: a CSV (.csv, .txt, .tsv) or Excel file (.xlsx, .xlsm).
        sheet: the name of a sheet; None for the first one that has a known header.

    Returns:
        The cells, and findings about the file as a whole.

    Raises:
        ListError: the file is missing, empty, too large, unreadable, of another kind, or has no such sheet.
    """
    ending = path.suffix.lower()
    data = _bytes_of(path)
    if data.startswith(_OLD_OFFICE) or ending == ".xls":
        message = (
            f"{path.name} is in the old .xls form or has a password: open it in a spreadsheet, take the password off and save it as .xlsx."
        )
        raise ListError(message)
    if ending in _BOOK_ENDINGS:
        return _read_book(data, path.name, sheet)
    if ending not in _TEXT_ENDINGS:
        message = f"{path.name} ends in {ending or 'nothing'}, which is not read: save the list as .xlsx or .csv."
        raise ListError(message)
    if sheet is not None:
        message = f"{path.name} is a text file and has no sheet {sheet!r}: leave the sheet's name out."
        raise ListError(message)
    return _read_text(data, path.name)


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


def _read_text(data: bytes, name: str) -> Cells:
    """The cells of a CSV file, whichever of comma, semicolon and tab parts them."""
    if data.startswith(_ARCHIVE):
        message = f"{name} is a workbook or an archive, not text: give it its right ending, such as .xlsx."
        raise ListError(message)
    text, findings = _decode(data, name)
    if not text.strip():
        message = f"{name} is empty: save the list again and look whether it has rows."
        raise ListError(message)
    delimiter = max(",;\t", key=lambda mark: _known_headers(text, mark))
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


def _known_headers(text: str, delimiter: str) -> int:
    """How many measurements the best of the first rows gives, were the cells parted like this."""
    most = 0
    try:
        for at, row in enumerate(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)):
            if at >= HEADER_ROWS:
                break
            most = max(most, headers.score(headers.understand_row(row[:MOST_COLUMNS])))
    except csv.Error:
        return 0
    return most


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


def _read_book(data: bytes, name: str, sheet: str | None) -> Cells:
    """The cells of the sheet of a workbook that holds the list."""
    try:
        has_formulas = _look_over(data, name)
        with warnings.catch_warnings():
            # The reader warns of parts that it does not keep, such as validations. Nothing is written back here.
            warnings.simplefilter("ignore")
            return _read_sheets(data, name, sheet, has_formulas=has_formulas)
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


def _read_sheets(data: bytes, name: str, sheet: str | None, *, has_formulas: bool) -> Cells:
    """The cells of the sheet asked for, or of the first with a known header."""
    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    try:
        names = [one.title for one in book.worksheets]
        wanted = names if sheet is None else [_sheet_named(sheet, names, name)]
        for title in wanted:
            found = _gather(_rows_of(book[title]), look_for_header=sheet is None)
            if found is None:
                continue
            places = _uncalculated(data, title, found.rows) if has_formulas else {}
            rows = [list(row) for row in found.rows]
            for (at, column), formula in places.items():
                rows[at][column] = formula
            return Cells(
                tuple(map(tuple, rows)),
                is_text=False,
                percents=frozenset(found.percents),
                formulas=frozenset(places),
                findings=tuple(found.findings),
            )
    finally:
        book.close()
    message = no_header(name)
    raise ListError(message)


def no_header(name: str) -> str:
    """The sentence for a list without a known header."""
    return (
        f"{name} has no row of known headers among its first {HEADER_ROWS} rows: "
        "name the columns, such as Tag, Stem diameter, Box bore, Box depth, Nose length."
    )


def _sheet_named(sheet: str, names: Sequence[str], name: str) -> str:
    """The sheet of that name; case does not count where no other sheet differs by it alone."""
    if sheet in names:
        return sheet
    alike = [one for one in names if one.casefold() == sheet.casefold()]
    if len(alike) == 1:
        return alike[0]
    message = f"{name} has no sheet {sheet!r}: name one of {', '.join(names)}."
    raise ListError(message)


def _rows_of(sheet: _Rows) -> Iterator[Sequence[object]]:
    """The rows of a sheet as cells, whatever size the sheet claims to have."""
    sheet.reset_dimensions()
    return iter(sheet.iter_rows())


def _gather(rows: Iterable[Sequence[object]], *, look_for_header: bool) -> _Sheet | None:
    """The rows of a sheet up to its end; None where a header is looked for and the first rows have none."""
    found = _Sheet()
    header_seen = not look_for_header
    for at, cells in zip(range(LAST_ROW), rows, strict=False):
        if not header_seen and at >= HEADER_ROWS:
            return None
        values = _trimmed(cells)
        if not values:
            continue
        if len(found.rows) + BLANK_ROWS < at:
            found.findings.append(NotReadOn(row=at + 1, value=f"row {at + 1}"))
            break
        found.rows.extend(() for _ in range(at - len(found.rows)))
        found.add(at, cells, values)
        header_seen = header_seen or headers.score(headers.understand_row(values)) > 0
    return found if header_seen else None


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
