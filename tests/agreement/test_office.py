"""The workbooks recalculated by LibreOffice and Gnumeric, and a planner at work in a filled list, against the core."""

from __future__ import annotations

import math
import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest
import xlsxwriter
from agreement import office
from agreement.office import Job
from click.testing import CliRunner
from reading import Value
from told import Tell

from sheetcalc.calculations.run import answered_names, calculate, entry_names
from sheetcalc.cli import main
from sheetcalc.declare.quantity import get
from sheetcalc.planning import ready_made
from sheetcalc.sheets import form, one_valve, out_groups, valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.usable import usable_value
from sheetcalc.sheets.write import write

pytestmark = pytest.mark.office

LOCALES = ("en-US", "de-DE")
DEMO = "demo.xlsx"
NAMES = (*ready_made(), DEMO)
VALVE: dict[str, float | str] = {
    "tag": "BH-101", "unit_set": "metric", "stem_diameter_entered": 28.0, "box_bore_entered": 44.0, "box_depth_entered": 60.0,
    "nose_length_entered": 25.0, "gland_stud_thread": "M12", "maker_ring_count_entered": 5.0,
}  # fmt: skip


@pytest.fixture(scope="module", autouse=True)
def _libreoffice() -> None:
    office.require()


def book_of(name: str, folder: Path) -> Path:
    """A ready-made workbook, or the planned demo list."""
    if name != DEMO:
        return office.workbook(name, folder)
    demo = Path(__file__).parents[2] / "demo" / "valves.csv"
    ran = CliRunner().invoke(main, ["plan", str(demo), "-o", str(folder / DEMO)])
    assert ran.exit_code == 0, ran.output
    return folder / DEMO


# --- every formula cell -----------------------------------------------------------------------------------------------


#: Those that every run recalculates; the whole proof takes the others too, and all of them with a decimal comma.
_ALWAYS = {(DEMO, "en-US"), ("one-valve-mm.xlsx", "en-US")}


@pytest.mark.parametrize(
    ("name", "locale"),
    [
        pytest.param(name, locale, marks=[] if (name, locale) in _ALWAYS else pytest.mark.proof)
        for locale in LOCALES for name in NAMES
    ],
)  # fmt: skip
def test_every_formula_cell_agrees(name: str, locale: str, tmp_path: Path, tell: Tell) -> None:
    """LibreOffice finds in every formula cell of the file what the core stored there, in both locales."""
    path = book_of(name, tmp_path)
    done = office.recalculate([path], tmp_path / "office", locale=locale)[name]
    stored = office.stored_values(path)
    found = office.compare(stored, office.formula_values(path, done))
    tell(f"LibreOffice, {locale}, {name}: {found}")
    assert found.different == ()
    assert found.compared == office.count_formulas(path)
    assert found.numbers > (60 if name.startswith("packing-size") else 1000)


@pytest.mark.parametrize(
    "name",
    [
        "one-valve-mm.xlsx",
        *(pytest.param(one, marks=pytest.mark.proof) for one in ("one-valve-whole-in.xlsx", "follow-up-mm.xlsx", "packing-size-in.xlsx")),
    ],
)
def test_every_formula_cell_agrees_in_a_third_program(name: str, tmp_path: Path, tell: Tell) -> None:
    """Gnumeric finds in every formula cell what the core stored there, in the workbooks that refer to no column of a table."""
    office.require("ssconvert")
    path = office.for_gnumeric(office.workbook(name, tmp_path), tmp_path / "held")
    stored = office.stored_values(path)
    found = office.compare(stored, office.formula_values(path, office.recalculate_in_gnumeric([path], tmp_path / "gnumeric")[name]))
    tell(f"Gnumeric, {name}: {found}")
    assert found.different == ()
    assert found.compared == office.count_formulas(path)
    assert found.numbers > (60 if name.startswith("packing-size") else 1000)


# --- the proof proved -------------------------------------------------------------------------------------------------


@pytest.fixture
def canary(tmp_path: Path) -> Path:
    """A small workbook: 6*7 stored as 999, and a text with a decimal comma read as a number."""
    path = tmp_path / "canary.xlsx"
    with xlsxwriter.Workbook(str(path)) as workbook:
        sheet = workbook.add_worksheet("Canary")
        sheet.write_formula("A1", "=6*7", None, 999)
        sheet.write_formula("A2", '=IFERROR(VALUE("1,5"),"no number")', None, "stored")
    return path


def test_wrong_stored_value_is_corrected(canary: Path, tmp_path: Path) -> None:
    """A wrong stored result does not come back: 6*7 stored as 999 is recalculated to 42, and the comparison says so."""
    done = office.recalculate([canary], tmp_path / "office")["canary.xlsx"]
    stored, found = office.stored_values(canary), office.formula_values(canary, done)
    assert stored["Canary", "A1"] == 999
    assert found["Canary", "A1"] == 42
    assert office.compare(stored, found).different[0] == "Canary!A1: expected 999.0, got 42.0"


def test_a_third_program_corrects_a_wrong_stored_value(canary: Path, tmp_path: Path) -> None:
    """Nor does it come back from Gnumeric."""
    office.require("ssconvert")
    done = office.recalculate_in_gnumeric([canary], tmp_path / "gnumeric")["canary.xlsx"]
    assert office.formula_values(canary, done)["Canary", "A1"] == 42


def test_surviving_poison_is_an_error(canary: Path, tmp_path: Path) -> None:
    """Where LibreOffice is told never to recalculate it repeats the poison, and that is refused."""
    with pytest.raises(office.OfficeError, match=r"2 formula cells of canary\.xlsx were not recalculated"):
        office.recalculate([canary], tmp_path / "office", mode=office.NEVER)


@pytest.mark.parametrize(("locale", "read"), [("en-US", "no number"), ("de-DE", 1.5)])
def test_locale_is_the_one_asked_for(locale: str, read: Value, canary: Path, tmp_path: Path) -> None:
    """The text 1,5 is a number for a German LibreOffice and none for an American one: the two passes do differ."""
    done = office.recalculate([canary], tmp_path / "office", locale=locale)["canary.xlsx"]
    assert office.formula_values(canary, done)["Canary", "A2"] == read


@pytest.mark.proof
def test_changed_formula_is_noticed(tmp_path: Path) -> None:
    """One divisor changed in one formula of a filled workbook, by one in a hundred thousand, shows in the comparison."""
    path, changed = tmp_path / "valve.xlsx", tmp_path / "changed.xlsx"
    write(one_valve.layout(EDITIONS["metric"], VALVE), path)
    where = office.named_cells(path)["packing_section"]
    done = 0
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(changed, "w") as target:
        for member in source.namelist():
            data = source.read(member)
            if member.startswith("xl/worksheets/sheet"):
                cell = re.compile(rb'(<c r="%s"[^>]*><f>[^<]*/)2([^<]*</f>)' % where[1].encode())
                data, here = cell.subn(rb"\g<1>2.00002\2", data)
                done += here
            target.writestr(member, data)
    assert done == 1
    stored = office.stored_values(path)
    files = office.recalculate([path, changed], tmp_path / "office")
    same = office.compare(stored, office.formula_values(path, files["valve.xlsx"]))
    found = office.compare(stored, office.formula_values(changed, files["changed.xlsx"]))
    assert same.different == ()
    assert any(one.startswith(f"Working!{where[1]}: expected 8.0, got 7.9999") for one in found.different)
    assert len(found.different) > 5


def test_broken_file_is_an_error(tmp_path: Path) -> None:
    """A file that LibreOffice cannot open is an error, though LibreOffice itself ends as if all were well."""
    broken = tmp_path / "broken.xlsx"
    with zipfile.ZipFile(broken, "w") as archive:
        archive.writestr("[Content_Types].xml", "<Types")
    with pytest.raises(office.OfficeError, match=r"No broken\.xlsx was written"):
        office.recalculate([broken], tmp_path / "office")


def test_failing_step_is_an_error(canary: Path, tmp_path: Path) -> None:
    """A step on a name that the workbook lacks ends in an error, not in a file without that step."""
    with pytest.raises(office.OfficeError, match="A step failed: line"):
        office.act([Job("missing", canary, [office.type_named("no_such_name", "1")])], tmp_path / "office")


@pytest.mark.proof
def test_own_reader_agrees_with_openpyxl(tmp_path: Path) -> None:
    """The reader of this proof finds what openpyxl finds, in a file of XlsxWriter and in one of LibreOffice."""
    made = book_of("one-valve-in.xlsx", tmp_path)
    for path in (made, office.recalculate([made], tmp_path / "office", locale="de-DE")[made.name]):
        book = openpyxl.load_workbook(path, data_only=True)
        theirs = {
            (sheet.title, cell.coordinate): float(cell.value) if isinstance(cell.value, int) else cell.value
            for sheet in book.worksheets for row in sheet.iter_rows() for cell in row if cell.value not in {None, ""}
        }  # fmt: skip
        ours = {place: held.value for place, held in office.contents(path).items() if held.value not in {None, ""}}
        assert len(ours) > 5000
        assert ours == theirs


@pytest.mark.parametrize(
    ("expected", "actual", "apart"),
    [
        (1000.0, 1000.0 + 1e-6, 1e-9), (0.001, 0.001 + 1e-9, 1e-9), (None, "", 0.0), ("OK", "OK", 0.0), (True, True, 0.0),
        (0.0, None, math.inf), (None, 0.0, math.inf), (1.0, True, math.inf), (1.0, "1", math.inf), ("OK", "ok", math.inf),
        (math.nan, math.nan, math.inf), (None, math.nan, math.inf), ("", False, math.inf),
    ],
)  # fmt: skip
def test_difference(expected: Value, actual: Value, apart: float) -> None:
    """Numbers differ by size, a blank is like an empty text, and nothing is like a value of another kind or an error."""
    assert office.difference(expected, actual) == pytest.approx(apart, rel=1e-6)


def test_missing_libreoffice_fails_in_ci_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without LibreOffice these tests are skipped with a reason; in CI they fail instead."""
    monkeypatch.setattr(office, "available", lambda _command: False)
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="not installed"):
        office.require()
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="CI must prove"):
        office.require()


# --- a planner at work ------------------------------------------------------------------------------------------------

Row = dict[str, Value]
_HEADER, _FIRST, _WORKING_NAMES, _WORKING_FIRST = 6, 7, 6, 11
_GROUPS = (form.ENTRY_GROUPS[:2], form.LOAD_GROUPS[:3], out_groups.OUT_GROUPS[:2])
_BLOCKS = tuple(name for groups in _GROUPS for _head, names in groups for name in names)


def _in_row(path: Path, sheet: str, row: int) -> dict[str, Value]:
    """The cells of a row by column letters."""
    return {place.removesuffix(str(row)): held.value for (one, place), held in office.contents(path).items()
            if one == sheet and re.fullmatch(rf"[A-Z]+{row}", place)}  # fmt: skip


def _columns(path: Path) -> dict[str, str]:
    """The letters of each column of Valves by header."""
    return {str(value): letters for letters, value in _in_row(path, "Valves", _HEADER).items()}


def _entries(path: Path, count: int) -> list[Row]:
    """What is typed in Valves, row by row."""
    held, columns = office.contents(path), _columns(path)
    where = {name: columns[valve_list.entry_header(name)] for name in entry_names()}
    return [
        {name: one.value if (one := held.get(("Valves", f"{letters}{row}"))) else None for name, letters in where.items()}
        for row in range(_FIRST, _FIRST + count)
    ]


def _by_core(rows: list[Row]) -> pd.DataFrame:
    return calculate(pd.DataFrame(rows, columns=list(entry_names()), dtype=object))


def _plain(value: Any) -> Value:
    return value if isinstance(value, str) else None if math.isnan(value) else float(value)


def _answers(path: Path, core: pd.DataFrame, count: int) -> tuple[dict[office.Place, Value], dict[office.Place, Value]]:
    """Answers in Valves, and all quantities on Working: those of the core, and those of the file."""
    held, columns = office.contents(path), _columns(path)
    expected: dict[office.Place, Value] = {}
    for name in valve_list.ANSWERS:
        title = get(name).title.replace(",", "") if not get(name).is_text else get(name).title
        letters = next(columns[one] for one in columns if one == title or one.startswith(f"{title} ("))
        answers = {f"{letters}{_FIRST + i}": usable_value(get(name), _plain(core[name].iloc[i]), "metric") for i in range(count)}
        expected |= {("Valves", place): answer for place, answer in answers.items()}
    for letters, said in _in_row(path, "Working", _WORKING_NAMES).items():
        if said in answered_names():
            expected |= {("Working", f"{letters}{_WORKING_FIRST + i}"): _plain(core[said].iloc[i]) for i in range(len(core))}
    return expected, {place: held[place].value if place in held else None for place in expected}


_ROWS = 30 + valve_list.SPARE_PLAN
_BY_HAND: Row = {"tag": "NEW-1", "unit_set": "metric", "stem_diameter_entered": 28.0, "box_bore_entered": 44.0,
                 "box_depth_entered": 60.0, "nose_length_entered": 25.0, "gland_stud_thread": "M12"}  # fmt: skip
_IN_INCHES: Row = {"tag": "=1+1", "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.75,
                   "box_depth_entered": 2.0, "nose_length_entered": 1.0, "gland_stud_thread": "1/2-13 UNC"}  # fmt: skip
_TYPED = {"stem_diameter_entered": "1 1/8", "box_bore_entered": "1 3/4"}


def _sorted(rows: list[Row]) -> list[Row]:
    tagged = [row for row in rows if row["tag"]]
    return sorted(tagged, key=lambda row: str(row["tag"]), reverse=True) + [row for row in rows if not row["tag"]]


def _deleted(rows: list[Row]) -> list[Row]:
    return rows[:2] + rows[5:]


def _inserted(rows: list[Row]) -> list[Row]:
    return [*rows[:3], dict.fromkeys(entry_names()), *rows[3:-1]]


def _typed(rows: list[Row]) -> list[Row]:
    blank: Row = dict.fromkeys(entry_names())
    return [
        {**rows[0], "stem_diameter_entered": 30.0}, {**rows[1], **dict.fromkeys(_BLOCKS)}, *rows[2:30],
        {**blank, **_BY_HAND}, {**blank, **_IN_INCHES}, *rows[32:],
    ]  # fmt: skip


#: What the planner does, and what the list of entries is afterwards.
_DEEDS: dict[str, Callable[[list[Row]], list[Row]]] = {"sorted": _sorted, "deleted": _deleted, "inserted": _inserted, "typed": _typed}


@pytest.fixture(scope="module")
def planner(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The demo list before and after each deed of a planner."""
    path = book_of(DEMO, tmp_path_factory.mktemp("demo"))
    columns = _columns(path)
    letters = {name: columns[valve_list.entry_header(name)] for name in entry_names()}
    rightmost = max(columns.values(), key=lambda one: (len(one), one))
    new = [
        office.type_at("Valves", f"{letters[name]}{_FIRST + at}", _TYPED.get(name, str(value)) if row is _IN_INCHES else str(value))
        for at, row in ((30, _BY_HAND), (31, _IN_INCHES))
        for name, value in row.items()
    ]
    steps = {
        "sorted": [office.sort("Valves", f"A{_FIRST}:{rightmost}{_FIRST + _ROWS - 1}", 0, ascending=False)],
        "deleted": [office.delete_rows("Valves", _FIRST + 2, 3)],
        "inserted": [office.insert_rows("Valves", _FIRST + 3, 1)],
        "typed": [
            office.type_at("Valves", f"{letters['stem_diameter_entered']}{_FIRST}", "30"),
            office.clear_at("Valves", f"{letters[_BLOCKS[0]]}{_FIRST + 1}:{letters[_BLOCKS[-1]]}{_FIRST + 1}"),
            *new,
        ],
    }
    jobs = [Job(deed, path, steps[deed]) for deed in _DEEDS]
    return {DEMO: path, **office.act(jobs, tmp_path_factory.mktemp("planner") / "list")}


@pytest.mark.proof
@pytest.mark.parametrize("deed", ["sorted", "deleted", "inserted", "typed"])
def test_answers_follow_the_planner(deed: str, planner: dict[str, Path]) -> None:
    """After sorting, deleting, inserting, typing and clearing rows each valve's answers are those of the core for its entries."""
    before = _entries(planner[DEMO], _ROWS)
    rows = _DEEDS[deed](before)
    assert rows != before
    assert _entries(planner[deed], len(rows)) == rows
    blank: Row = dict.fromkeys(entry_names())
    core = _by_core(rows + [blank] * (_ROWS - len(rows)))
    expected, actual = _answers(planner[deed], core, len(rows))
    found = office.compare(expected, actual)
    assert found.different == ()
    assert found.compared == len(rows) * len(valve_list.ANSWERS) + _ROWS * len(answered_names())
    assert found.numbers > 2000


@pytest.mark.proof
def test_typed_row_is_answered(planner: dict[str, Path]) -> None:
    """A valve of 28 in 44 mm typed into a spare row needs packing of 8 mm; one of 1 1/8 in 1 3/4 in 7.9375 mm, shown in mm."""
    columns = _columns(planner["typed"])
    letters = columns["Packing section (mm)"]
    held = office.contents(planner["typed"])
    assert [held["Valves", f"{letters}{row}"].value for row in (_FIRST + 30, _FIRST + 31)] == [8.0, 7.9375]
    assert held["Valves", f"{columns['Tag']}{_FIRST + 31}"] == office.Content("=1+1", is_formula=False)


@pytest.mark.proof
def test_cleared_row_is_silent(planner: dict[str, Path]) -> None:
    """A row whose entries are cleared has no state, no trouble and no tag check."""
    columns = _columns(planner["typed"])
    held = office.contents(planner["typed"])
    said = {one: held["Valves", f"{columns[one]}{_FIRST + 1}"].value for one in ("State", get("all_trouble").title, "Tag check")}
    assert set(said.values()) == {""}
