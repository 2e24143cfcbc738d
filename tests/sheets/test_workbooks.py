"""The written workbooks as files: schema, limits of Excel, texts beside formulas, hostile texts, print and protection.

The ready-made ones are taken as they are committed: `tests/test_cli.py` holds that against what is written today.
"""

from __future__ import annotations

import re
import zipfile
from pathlib import Path
from typing import Final

import openpyxl
import pandas as pd
import pytest
import xlsxwriter
from openxml_audit import OpenXmlValidator
from reading import Page, cells, defined_names, frames

from sheetcalc.calculations.answers import answers_named
from sheetcalc.calculations.run import entry_names
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Derived
from sheetcalc.planning import ready_made
from sheetcalc.sheets import valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Cell, Layout, Sheet, column_letters
from sheetcalc.sheets.write import write

ROOT: Final = Path(__file__).parents[2]
HOSTILE_TEXTS: Final = ["=1+1", '=HYPERLINK("http://x")', "@x", "T" * 40, "V/1:[x]*?", "+1", "-1", "\ttab", "{=1}", "'quoted"]
HOSTILE: Final = "hostile.xlsx"
ONE: Final = "one-valve-mm.xlsx"
LIST: Final = "valve-list-mm.xlsx"
_CELL_LIKE: Final = re.compile(r"[A-Za-z]{1,3}[0-9]+|[RrCc]|[Rr][0-9]*[Cc][0-9]*")
_MAIN: Final = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"

NAMES: Final = [*ready_made(), HOSTILE]
#: Every run looks at these; the whole proof at the others too.
OFTEN: Final = [ONE, "follow-up-in.xlsx", HOSTILE]


def some(often: list[str]) -> pytest.MarkDecorator:
    """A test for each workbook, those that are not named left to the whole proof."""
    return pytest.mark.parametrize("name", [name if name in often else pytest.param(name, marks=pytest.mark.proof) for name in NAMES])


def book(name: str, folder: Path) -> Path:
    """A ready-made workbook, or a list filled in with hostile tags."""
    if name != HOSTILE:
        return ROOT / "workbooks" / name
    frame = pd.DataFrame({name: [None] * len(HOSTILE_TEXTS) for name in entry_names()}, dtype=object)
    frame["tag"], frame["unit_set"], frame["stem_diameter_entered"], frame["box_bore_entered"] = HOSTILE_TEXTS, "metric", 28.0, 44.0
    filled = valve_list.Filled(frame, "=cmd.csv", {"=Note": HOSTILE_TEXTS}, (), [HOSTILE_TEXTS])
    write(valve_list.layout(EDITIONS["metric"], filled, spare=5), folder / HOSTILE)
    return folder / HOSTILE


@some(["follow-up-in.xlsx"])
def test_schema_audit_finds_nothing(name: str, tmp_path: Path) -> None:
    """The workbook passes the schema audit without a finding."""
    result = OpenXmlValidator(max_errors=20).validate(str(book(name, tmp_path)))

    assert [str(error) for error in result.errors] == []


_ROW_NUMBER: Final = re.compile(r"(?<=[A-Z])[0-9]+")
_LONG: Final = 8000


@some(OFTEN)
def test_lint_of_written_formulas_finds_nothing(name: str, tmp_path: Path) -> None:
    """No written formula breaks a limit of Excel or leaves the safe set of functions; literals are held to the rule in Working."""
    wrong: dict[str, list[str]] = {}
    seen: set[str] = set()
    for sheet, held in cells(book(name, tmp_path)):
        for cell in held:
            if not cell.formula:
                continue
            # Down a column formulas differ in the number of their row alone: one of each is enough, but for its length.
            alike = _ROW_NUMBER.sub("", cell.formula)
            if alike in seen and len(cell.formula) < _LONG:
                continue
            seen.add(alike)
            strict = sheet == "Working" and "INDEX(Valves!" not in cell.formula
            if found := formula.lint(cell.formula, literals=strict):
                wrong[f"{sheet}!{cell.place}"] = found

    assert dict(list(wrong.items())[:5]) == {}
    assert len(seen) > 100


@some(OFTEN)
def test_no_table_reference_in_validation_or_mark(name: str, tmp_path: Path) -> None:
    """Validations and conditional looks hold no table reference, which Excel would refuse to open."""
    with zipfile.ZipFile(book(name, tmp_path)) as package:
        texts = [one.text or "" for _sheet, frame in frames(package) for part in ("formula1", "formula2", "formula")
                 for one in frame.iter(f"{_MAIN}{part}")]  # fmt: skip

    assert [one for one in texts if "[" in one] == []


def test_the_text_beside_each_formula_is_its_formula() -> None:
    """On the one-valve Working the printed formula is, letter for letter, the formula of the cell beside it."""
    page, seen = Page(ROOT / "workbooks" / ONE, "Working"), 0
    for row in range(6, page.last_row + 1):
        if page.formula(row, 4) is not None and page.at(row, 7):
            seen += 1

            assert page.formula(row, 7) is None
            assert f"={page.formula(row, 4)}" == page.at(row, 7)

    assert seen > 150


def test_the_text_above_each_column_of_a_list_is_its_formula_in_names() -> None:
    """Above each column of a list's Working stands its formula in names; addresses put for the names give the cell's formula."""
    page, other = Page(ROOT / "workbooks" / LIST, "Working"), Page(ROOT / "workbooks" / LIST, "Outage working")
    place = {page.at(6, column): column for column in range(2, page.last_column + 1)}
    days = {str(other.at(6, c)): column_letters(c - 1) for c in range(1, other.last_column + 1) if str(other.at(6, c)).startswith("day_")}
    of_days = "'Outage working'!${0}$11:${0}$70"
    seen, answers = 0, answers_named("repack")
    for name, column in place.items():
        text = str(page.at(10, column))
        if text.startswith("=") and not str(name).endswith("_shown"):
            here = {n: f"${column_letters(c - 1)}11" for n, c in place.items()} | {"position": "$A11"}
            here |= {f"every_{n}": f"{cell[:-2]}$11:{cell[:-2]}$310" for n, cell in here.items()}
            here |= {f"every_{n}": of_days.format(c) for n, c in days.items()}
            quantity = answers.get(str(name), Derived)
            wanted = formula.render(quantity.guarded_excel, {n: here.get(n, n) for n in quantity.reads})
            seen += 1

            assert page.formula(11, column) == wanted
            assert text == "=" + formula.render(quantity.guarded_excel, {n: n for n in quantity.reads})

    assert seen > 150


@pytest.mark.parametrize("name", NAMES)
def test_defined_names_are_no_cell_addresses(name: str, tmp_path: Path) -> None:
    """No defined name looks like a cell of today's Excel."""
    names = list(defined_names(book(name, tmp_path)))

    assert [one for one in names if _CELL_LIKE.fullmatch(one)] == []
    assert len(names) > 30 or name.startswith("packing-size")


def test_hostile_texts_stay_text(tmp_path: Path) -> None:
    """Tags and carried texts that look like formulas are stored as plain text, just as written."""
    path = book(HOSTILE, tmp_path)
    workbook = openpyxl.load_workbook(path, read_only=True)
    rows = list(workbook["Valves"].iter_rows(min_row=6, max_row=6 + len(HOSTILE_TEXTS)))
    theirs = list(workbook["Your list"].iter_rows(min_row=4, max_row=4))
    workbook.close()
    last = max(at for at, cell in enumerate(rows[0]) if cell.value)

    assert [row[0].value for row in rows[1:]] == HOSTILE_TEXTS
    assert [row[last].value for row in rows[1:]] == HOSTILE_TEXTS
    assert {row[at].data_type for row in rows[1:] for at in (0, last)} == {"s"}
    assert [cell.value for cell in theirs[0][1 : 1 + len(HOSTILE_TEXTS)]] == HOSTILE_TEXTS


#: Texts that XML or a workbook cannot hold as they are.
ODD_TEXTS: Final = [
    "a\tb", "two\nlines", "a\rb", "\x01\x1f", " before", "after ", "<b> & 'c' \"d\"", "_x0041_", "_x005F_x0041_", "\ufffe",
    "Ø 1⅛ in",
]  # fmt: skip


def test_odd_texts_are_written_as_the_library_writes_them(tmp_path: Path) -> None:
    """What a user may have typed stands in a plain cell as XlsxWriter puts it there, and so it does as the stored result of a formula."""
    held = [Cell(row, 0, text, "label") for row, text in enumerate(ODD_TEXTS)]
    held += [Cell(row, 1, text, "working_text", formula="1+1") for row, text in enumerate(ODD_TEXTS)]
    write(Layout("Odd", (Sheet("Odd", tuple(held)),), {}, "A4", "", ""), tmp_path / "ours.xlsx")
    with xlsxwriter.Workbook(tmp_path / "theirs.xlsx") as workbook:
        sheet = workbook.add_worksheet("Odd")
        for row, text in enumerate(ODD_TEXTS):
            sheet.write_string(row, 0, text)
    said = []
    for name in ("ours.xlsx", "theirs.xlsx"):
        with zipfile.ZipFile(tmp_path / name) as package:
            said.append(re.findall(rb"(<si><t[^>]*>)(.*?)</t></si>", package.read("xl/sharedStrings.xml"), re.DOTALL))
    with zipfile.ZipFile(tmp_path / "ours.xlsx") as package:
        results = re.findall(rb"</f><v>(.*?)</v>", package.read("xl/worksheets/sheet1.xml"), re.DOTALL)

    assert said[0] == said[1]
    assert results == [text for _mark, text in said[0]]
    assert len(results) == len(ODD_TEXTS)


def test_a_half_of_a_character_is_written(tmp_path: Path) -> None:
    """Half of a surrogate pair, which no file can hold, does not stop a workbook."""
    write(Layout("Odd", (Sheet("Odd", (Cell(0, 0, "a\ud800", "label"),)),), {}, "A4", "", ""), tmp_path / "odd.xlsx")
    assert Page(tmp_path / "odd.xlsx", "Odd").at(1, 1) == "a_xD800_"


_HIDDEN: Final = re.compile(rb'<(?:row|col) [^>]*hidden="(?:1|true)"')


@some(OFTEN)
def test_nothing_is_hidden_and_every_sheet_prints(name: str, tmp_path: Path) -> None:
    """No sheet, row or column is hidden; each sheet has paper, orientation, a fitted width and a footer with page numbers."""
    paper = "1" if "-in" in name else "9"
    with zipfile.ZipFile(book(name, tmp_path)) as package:
        parts = [one for one in package.namelist() if one.startswith("xl/worksheets/sheet")]
        assert [one for one in parts if _HIDDEN.search(package.read(one))] == []
        assert b"state=" not in re.sub(rb"<calcPr[^>]*>", b"", package.read("xl/workbook.xml"))
        for title, frame in frames(package):
            setup = frame.find(f"{_MAIN}pageSetup")
            assert setup is not None
            assert setup.get("paperSize", "1") == paper
            # A sheet with page breaks of its own has a fixed scale instead, since fitting would overrule them; so has a card of one page.
            fitted = frame.find(f"{_MAIN}sheetPr/{_MAIN}pageSetUpPr") is not None
            breaks = frame.find(f"{_MAIN}rowBreaks")
            assert fitted or (int(setup.get("scale", "100")) <= 100 and (breaks is not None or title == "Job card")), title
            assert "version" in (frame.findtext(f"{_MAIN}headerFooter/{_MAIN}oddFooter") or "")
            guard = frame.find(f"{_MAIN}sheetProtection")
            assert (guard is not None) is (title not in {"Valves", "Log", "Valves followed"})
            assert guard is None or guard.get("password") is None


def test_the_list_has_three_hundred_spare_rows() -> None:
    """The blank list is ready for 300 valves."""
    with zipfile.ZipFile(ROOT / "workbooks" / LIST) as package:
        tables = [package.read(one).decode() for one in package.namelist() if one.startswith("xl/tables/")]

    assert [re.findall(r' ref="A6:[A-Z]+(\d+)"', one)[:1] for one in tables if 'name="Valves"' in one] == [[str(6 + 300)]]
