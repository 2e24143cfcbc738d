"""The written workbooks as files: schema, limits of Excel, texts beside formulas, hostile texts, print and protection."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest
from openxml_audit import OpenXmlValidator

from sheetcalc import cli
from sheetcalc.calculations.run import entry_names
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import get
from sheetcalc.sheets import valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.write import PlainWorksheet, write

HOSTILE = ["=1+1", '=HYPERLINK("http://x")', "@x", "T" * 40, "V/1:[x]*?", "+1", "-1", "\ttab", "{=1}", "'quoted"]
_CELL_LIKE = re.compile(r"[A-Za-z]{1,3}[0-9]+|[RrCc]|[Rr][0-9]*[Cc][0-9]*")


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The ready-made workbooks, and a list filled with hostile tags."""
    folder = tmp_path_factory.mktemp("books")
    out = {}
    for name, layout in cli.ready_made().items():
        out[name] = folder / name
        write(layout(), out[name])
    frame = pd.DataFrame({name: [None] * len(HOSTILE) for name in entry_names()}, dtype=object)
    frame["tag"], frame["unit_set"], frame["stem_diameter_entered"], frame["box_bore_entered"] = HOSTILE, "metric", 28.0, 44.0
    filled = valve_list.Filled(frame, "=cmd.csv", {"=Note": HOSTILE}, (), [HOSTILE])
    out["hostile.xlsx"] = folder / "hostile.xlsx"
    write(valve_list.layout(EDITIONS["metric"], filled, spare=5), out["hostile.xlsx"])
    return out


def _sheets(path: Path) -> Iterator[Any]:
    """The worksheets, loosely typed: openpyxl's own types allow much that a written workbook never holds."""
    yield from openpyxl.load_workbook(path)


def _formulas(path: Path) -> Iterator[tuple[str, str]]:
    for sheet in _sheets(path):
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    yield f"{sheet.title}!{cell.coordinate}", str(cell.value)[1:]


def test_schema_audit_finds_nothing(books: dict[str, Path]) -> None:
    """Every workbook passes the schema audit without a finding."""
    for name, path in books.items():
        result = OpenXmlValidator(max_errors=20).validate(str(path))

        assert [str(error) for error in result.errors] == [], name


_ROW_NUMBER = re.compile(r"(?<=[A-Z])[0-9]+")
_LONG = 8000


def test_lint_of_written_formulas_finds_nothing(books: dict[str, Path]) -> None:
    """No written formula breaks a limit of Excel or leaves the safe set of functions; literals are held to the rule in Working."""
    for name, path in books.items():
        wrong = {}
        seen: set[str] = set()
        for place, text in _formulas(path):
            # Down a column formulas differ in the number of their row alone: one of each is enough, but for its length.
            alike = _ROW_NUMBER.sub("", text)
            if alike in seen and len(text) < _LONG:
                continue
            seen.add(alike)
            strict = place.startswith("Working!") and "INDEX(Valves!" not in text
            if found := formula.lint(text, literals=strict):
                wrong[place] = found

        assert dict(list(wrong.items())[:5]) == {}, name


def test_no_table_reference_in_validation_or_mark(books: dict[str, Path]) -> None:
    """Validations and conditional looks hold no table reference, which Excel would refuse to open."""
    for path in books.values():
        with zipfile.ZipFile(path) as package:
            for member in (one for one in package.namelist() if one.startswith("xl/worksheets/sheet")):
                text = package.read(member).decode()
                inside = re.findall(r"<(?:formula1|formula2)>([^<]*)<", text)
                inside += re.findall(r"<cfRule[^>]*>.*?<formula>([^<]*)<", text)

                assert [one for one in inside if "[" in one] == []


def test_the_text_beside_each_formula_is_its_formula(books: dict[str, Path]) -> None:
    """On the one-valve Working the printed formula is, letter for letter, the formula of the cell beside it."""
    sheet: Any = openpyxl.load_workbook(books["one-valve-mm.xlsx"])["Working"]
    seen = 0
    for row in sheet.iter_rows(min_row=6):
        if row[3].data_type == "f" and row[6].value:
            seen += 1

            assert row[6].data_type == "s"
            assert row[3].value == row[6].value

    assert seen > 150


def test_the_text_above_each_column_of_a_list_is_its_formula_in_names(books: dict[str, Path]) -> None:
    """Above each column of a list's Working stands its formula in names; addresses put for the names give the cell's formula."""
    sheet: Any = openpyxl.load_workbook(books["valve-list-mm.xlsx"])["Working"]
    place = {sheet.cell(6, column).value: column for column in range(2, sheet.max_column + 1)}
    other: Any = openpyxl.load_workbook(books["valve-list-mm.xlsx"])["Outage working"]
    days = {cell.value: openpyxl.utils.get_column_letter(cell.column) for cell in other[6] if str(cell.value).startswith("day_")}
    of_days = "'Outage working'!${0}$11:${0}$70"
    seen = 0
    for name, column in place.items():
        text = str(sheet.cell(10, column).value)
        if text.startswith("=") and name in place and not name.endswith("_shown") and name != "check_tag":
            here = {n: f"${openpyxl.utils.get_column_letter(c)}11" for n, c in place.items()} | {"position": "$A11"}
            here |= {f"every_{n}": f"Working!{cell[:-2]}$11:{cell[:-2]}$310" for n, cell in here.items()}
            here |= {f"every_{n}": of_days.format(c) for n, c in days.items()}
            wanted = formula.render(get(name).guarded_excel, {n: here.get(n, n) for n in get(name).reads})
            seen += 1

            assert str(sheet.cell(11, column).value) == f"={wanted}"
            assert text == "=" + formula.render(get(name).guarded_excel, {n: n for n in get(name).reads})

    assert seen > 150


def test_defined_names_are_no_cell_addresses(books: dict[str, Path]) -> None:
    """No defined name looks like a cell of today's Excel."""
    for path in books.values():
        names = list(openpyxl.load_workbook(path).defined_names)

        assert [name for name in names if _CELL_LIKE.fullmatch(name)] == []
        assert len(names) > 30


def test_hostile_texts_stay_text(books: dict[str, Path]) -> None:
    """Tags and carried texts that look like formulas are stored as plain text, just as written."""
    workbook: Any = openpyxl.load_workbook(books["hostile.xlsx"])
    valves = workbook["Valves"]
    last = max(c for c in range(1, valves.max_column + 1) if valves.cell(6, c).value)

    assert [valves.cell(7 + i, 1).value for i in range(len(HOSTILE))] == HOSTILE
    assert [valves.cell(7 + i, last).value for i in range(len(HOSTILE))] == HOSTILE
    assert {valves.cell(7 + i, column).data_type for i in range(len(HOSTILE)) for column in (1, last)} == {"s"}
    assert [workbook["Your list"].cell(4, 2 + i).value for i in range(len(HOSTILE))] == HOSTILE


def test_nothing_is_hidden_and_every_sheet_prints(books: dict[str, Path]) -> None:
    """No sheet, row or column is hidden; each sheet has paper, orientation, a fitted width and a footer with page numbers."""
    for name, path in books.items():
        paper = 1 if "-in" in name else 9
        for sheet in _sheets(path):
            hidden: list[Any] = [d for d in (*sheet.row_dimensions.values(), *sheet.column_dimensions.values()) if d.hidden]

            assert (sheet.sheet_state, hidden) == ("visible", [])
            assert int(sheet.page_setup.paperSize) == paper
            # A sheet with page breaks of its own has a fixed scale instead, since fitting would overrule them.
            fitted = bool(sheet.sheet_properties.pageSetUpPr.fitToPage)
            assert fitted or (int(sheet.page_setup.scale or 100) <= 100 and len(sheet.row_breaks) > 0), sheet.title
            assert "version" in sheet.oddFooter.left.text
            assert sheet.protection.sheet is (sheet.title not in {"Valves", "Log", "Valves followed"})
            assert sheet.protection.password is None


def test_the_list_has_three_hundred_spare_rows(books: dict[str, Path]) -> None:
    """The blank list is ready for 300 valves."""
    sheet: Any = openpyxl.load_workbook(books["valve-list-mm.xlsx"])["Valves"]
    table = sheet.tables["Valves"]

    assert table.ref.split(":")[1][-3:] == str(6 + 300)
    assert table.ref.startswith("A6:")


def test_formulas_taken_as_they_are_give_the_same_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Leaving out the library's search for newer functions changes no byte of a workbook."""
    layout = valve_list.layout(EDITIONS["US"], valve_list.blank(), spare=3)
    write(layout, tmp_path / "plain.xlsx")
    monkeypatch.delattr(PlainWorksheet, "_prepare_formula")
    write(layout, tmp_path / "searched.xlsx")
    with zipfile.ZipFile(tmp_path / "plain.xlsx") as plain, zipfile.ZipFile(tmp_path / "searched.xlsx") as searched:
        assert plain.namelist() == searched.namelist()
        assert [plain.read(one) for one in plain.namelist()] == [searched.read(one) for one in searched.namelist()]
