"""Facts about files that cannot be read: each is refused with one sentence that says what to do."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcalc.errors import ListError, TooManyRowsError
from sheetcalc.intake.lists import read_list

GOOD = "Tag,Units,Stem,Bore,Depth,Nose\nV1,mm,28,44,60,25\n"
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 512


def book(rows: list[list[object]], title: str = "List") -> bytes:
    """A workbook with one sheet, as bytes."""
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    sheet.title = title
    for row in rows:
        sheet.append(row)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def with_part(data: bytes, name: str, content: bytes) -> bytes:
    """A workbook with one of its parts replaced or added."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            if part != name:
                new.writestr(part, old.read(part))
        new.writestr(name, content)
    return out.getvalue()


PLAIN = book([["Tag", "Stem"], ["V1", 28]])
DOCTYPE = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'

BAD_FILES = {
    "empty.csv": (b"", "is empty"),
    "blank.csv": (b"\n  \n", "is empty"),
    "mark.csv": (b"\xef\xbb\xbf\n", "is empty"),
    "no-header.csv": (b"a,b\n1,2\n", "name the columns"),
    "one-word.csv": (b"Tag\nV1\n", "name the columns"),
    "binary.csv": (bytes(range(256)) * 4, "no readable text"),
    "nul.csv": (b"Tag,Stem\nV1,2\x008\n", "no readable text"),
    "cp1252-hole.csv": (b"Tag,Stem\nV\xe9\x81,28\n", "no readable text"),
    "utf-16-without-mark.csv": (GOOD.encode("utf-16-le"), "no readable text"),
    "utf-16-cut.csv": (GOOD.encode("utf-16")[:-1], "no readable text"),
    "open-quote.csv": (b'Tag,Stem,Bore\nV1,"28,44\nV2,28,44\n', "quote that is never closed"),
    "long-cell.csv": (b"Tag,Stem,Bore\nV1," + b"9" * 200_000 + b",44\n", "far too long"),
    "book.csv": (PLAIN, "right ending"),
    "old.csv": (OLE, "save it as .xlsx"),
    "old.xls": (OLE, "save it as .xlsx"),
    "text.xls": (GOOD.encode(), "save it as .xlsx"),
    "locked.xlsx": (OLE, "take the password off"),
    "list.ods": (b"PK\x03\x04", "save the list as .xlsx or .csv"),
    "list": (GOOD.encode(), "save the list as .xlsx or .csv"),
    "text.xlsx": (GOOD.encode(), "is not an Excel workbook"),
    "cut.xlsx": (PLAIN[: len(PLAIN) // 2], "cannot be read as a workbook"),
    "only-pk.xlsx": (b"PK\x03\x04", "cannot be read as a workbook"),
    "no-book.xlsx": (with_part(PLAIN, "xl/workbook.xml", b"<a/>"), "cannot be read as a workbook|name the columns"),
    "bad-sheet.xlsx": (with_part(PLAIN, "xl/worksheets/sheet1.xml", b"<worksheet><"), "cannot be read as a workbook"),
    "no-header.xlsx": (book([["a", "b"], [1, 2]]), "name the columns"),
    "no-cells.xlsx": (book([]), "name the columns"),
    "sheet-entities.xlsx": (with_part(PLAIN, "xl/worksheets/sheet1.xml", DOCTYPE), "document type"),
    "style-entities.xlsx": (with_part(PLAIN, "xl/styles.xml", DOCTYPE), "document type"),
    "type-entities.xlsx": (with_part(PLAIN, "[Content_Types].xml", DOCTYPE), "document type"),
    "wide-entities.xlsx": (with_part(PLAIN, "xl/styles.xml", DOCTYPE.decode().encode("utf-16")), "document type"),
    "late-entities.xlsx": (with_part(PLAIN, "a.xml", b" " * (2**20 - 4) + DOCTYPE[21:]), "document type|unpacks"),
    "bomb.xlsx": (with_part(PLAIN, "xl/media/a.bin", b"\x00" * 2**24), "unpacks to far more"),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_bad_file_is_one_sentence(tmp_path: Path, name: str) -> None:
    """Whatever is wrong with a file, the error is ours, names the file and says what to do, on one line."""
    data, sentence = BAD_FILES[name]
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(ListError, match=sentence) as raised:
        read_list(path)
    said = str(raised.value)
    expected = (True, 1, True)
    assert expected == (name in said, len(said.splitlines()), said.endswith("."))


def test_many_parts(tmp_path: Path) -> None:
    """An archive of thousands of parts is no list."""
    path = tmp_path / "parts.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        for at in range(2_001):
            archive.writestr(f"{at}.xml", "")
    with pytest.raises(ListError, match="unpacks to far more"):
        read_list(path)


def test_missing_file(tmp_path: Path) -> None:
    """A file that is not there is said to be so."""
    with pytest.raises(ListError, match=r"no file .*nowhere\.csv: check the name"):
        read_list(tmp_path / "nowhere.csv")


def test_folder(tmp_path: Path) -> None:
    """A folder is no list, even with the ending of one."""
    folder = tmp_path / "folder.csv"
    folder.mkdir()
    with pytest.raises(ListError, match="is a folder"):
        read_list(folder)


def test_name_that_no_file_can_have() -> None:
    """A name with a NUL is refused like any other that cannot be opened."""
    with pytest.raises(ListError, match=r"no file|cannot be opened"):
        read_list(Path("a\x00.csv"))


def test_file_that_is_too_large(tmp_path: Path) -> None:
    """A huge file is refused before it is read."""
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.seek(65 * 2**20)
        file.write(b"\n")
    with pytest.raises(ListError, match="more than the 64 MB"):
        read_list(path)


def test_no_such_sheet(tmp_path: Path) -> None:
    """A sheet that is not there is refused with the names of those that are."""
    path = tmp_path / "list.xlsx"
    path.write_bytes(PLAIN)
    with pytest.raises(ListError, match="no sheet 'Valves': name one of List"):
        read_list(path, sheet="Valves")


def test_the_nearest_sheet_is_named(tmp_path: Path) -> None:
    """A sheet's name that is nearly right is refused with the one that comes nearest, of several."""
    made = openpyxl.Workbook()
    for title in ("Valves east", "Spares"):
        made.create_sheet(title).append(["Tag", "Stem"])
    made.save(tmp_path / "list.xlsx")
    with pytest.raises(ListError, match=r"no sheet 'Valve east': name one of Sheet, Valves east, Spares, such as 'Valves east'\."):
        read_list(tmp_path / "list.xlsx", sheet="Valve east")


def test_a_sheet_without_a_header_that_was_named(tmp_path: Path) -> None:
    """A sheet that was asked for is read or refused; another one is not taken in its place."""
    made = openpyxl.Workbook()
    made.create_sheet("Cover").append(["Outage"])
    made.create_sheet("Valves").append(["Tag", "Stem"])
    made.save(tmp_path / "list.xlsx")
    with pytest.raises(ListError, match="name the columns"):
        read_list(tmp_path / "list.xlsx", sheet="Cover")


@pytest.mark.parametrize("name", ["~$list.xlsx", ".~lock.list.xlsx#"])
def test_the_lock_of_an_open_list_is_no_list(tmp_path: Path, name: str) -> None:
    """The file that a spreadsheet leaves beside an open one is refused with what it is."""
    path = tmp_path / name
    path.write_bytes(b"A. Marsh" + b"\x00" * 100)
    with pytest.raises(ListError, match="lock that a spreadsheet leaves"):
        read_list(path)


@pytest.mark.parametrize("lock", ["~$list.xlsx", ".~lock.list.xlsx#"])
def test_a_list_that_is_open_elsewhere_is_read_and_said(tmp_path: Path, lock: str) -> None:
    """A list whose lock stands beside it is read as it was saved, and a finding says that it may be older than it looks."""
    path = tmp_path / "list.xlsx"
    path.write_bytes(PLAIN)
    kinds = [finding.kind for finding in read_list(path).findings]
    (tmp_path / lock).write_bytes(b"A. Marsh")
    said = read_list(path).findings
    assert kinds == [finding.kind for finding in said[1:]]
    assert (said[0].kind, said[0].value) == ("open-elsewhere", lock)


def test_sheet_of_a_text_file(tmp_path: Path) -> None:
    """A text file has no sheets."""
    path = tmp_path / "list.csv"
    path.write_text(GOOD, encoding="utf-8")
    with pytest.raises(ListError, match="leave the sheet's name out"):
        read_list(path, sheet="List")


def test_too_many_rows(tmp_path: Path) -> None:
    """A list beyond the limit is refused with how to split it; blank rows and remarks do not count."""
    path = tmp_path / "long.csv"
    path.write_text("Tag,Stem\n" + "".join(f"V{at},28\n\n" for at in range(25)), encoding="utf-8")
    with pytest.raises(TooManyRowsError, match=r"has 25 valves .* split it into 3 files of at most 10 rows"):
        read_list(path, most_rows=10)
    assert len(read_list(path, most_rows=25).rows) == 25


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(["list.xlsx", "list.csv"]), st.integers(min_value=0), st.binary(min_size=1, max_size=20))
def test_damaged_file(tmp_path_factory: pytest.TempPathFactory, name: str, at: int, junk: bytes) -> None:
    """A file with some bytes overwritten is read, or refused in our own words."""
    data = PLAIN if name.endswith("xlsx") else GOOD.encode()
    at %= len(data)
    path = tmp_path_factory.mktemp("damaged") / name
    path.write_bytes(data[:at] + junk + data[at + len(junk) :])
    try:
        outcome = read_list(path).source
    except ListError as error:
        outcome = str(error)
    assert name in outcome
