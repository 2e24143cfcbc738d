"""Facts about the command line: what it writes and says, and that nothing half-written or half-said is left by a fault."""

from __future__ import annotations

import contextlib
import csv
import datetime as dt
import math
import os
import re
import signal
import subprocess
import sys
import time
import zipfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import openpyxl
import pytest
from click.testing import CliRunner, Result
from reading import Page, cells, sheet_names

from sheetcalc import cli, planning
from sheetcalc.declare.quantity import Constant, Derived, Fault, Gravity, Quantity, all_quantities, get
from sheetcalc.sheets import output
from sheetcalc.sheets.common import explanation
from sheetcalc.sheets.write import write

ROOT: Final = Path(__file__).parents[1]
DEMO: Final = ROOT / "demo" / "valves.csv"
HEADER: Final = "Tag,Units,Stem dia,Box bore,Box depth,Nose length,Stud thread"
VALVE: Final = "V-1,metric,28,44,60,25,M12"
READY_MADE: Final = tuple(
    f"{book}-{edition}.xlsx"
    for edition in ("mm", "in")
    for book in ("packing-size", "one-valve", "valve-list", "one-valve-whole", "valve-list-whole", "follow-up")
)  # fmt: skip


@pytest.fixture(autouse=True)
def _own_signals(monkeypatch: pytest.MonkeyPatch) -> Any:
    """A command answers a termination request in its own way; the test run gets its old way back."""
    before = signal.getsignal(signal.SIGTERM)
    monkeypatch.setenv("COLUMNS", "200")
    yield
    signal.signal(signal.SIGTERM, before)


def run(*words: str | Path) -> Result:
    """A command as it is typed."""
    return CliRunner().invoke(cli.main, [str(word) for word in words])


def small_list(folder: Path, *rows: str) -> Path:
    """A list with a header and these rows."""
    path = folder / "list.csv"
    path.write_text("\n".join([HEADER, *rows]) + "\n", encoding="utf-8")
    return path


def left_in(folder: Path) -> dict[str, bytes]:
    """What stands in a folder, temporary files included."""
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if path.is_file()}


@pytest.fixture(scope="module")
def earlier(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A workbook as an earlier run left it."""
    folder = tmp_path_factory.mktemp("earlier")
    assert run("plan", small_list(folder, VALVE), "-o", folder / "out.xlsx").exit_code == 0
    return (folder / "out.xlsx").read_bytes()


def column(sheet: Page, title: str, head_row: int) -> list[Any]:
    """The cells of a column below its head."""
    at = sheet.row(head_row).index(title)
    return [row[at] for row in sheet.rows(head_row + 1)]


def head_row(sheet: Page, title: str) -> int:
    """The row in which a head stands."""
    return min(row for (row, _column), cell in sheet.held.items() if cell.value == title)


# --- plan: what it says and writes ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Result, Path]:
    """The demo list, planned once."""
    out = tmp_path_factory.mktemp("demo") / "demo-valves.xlsx"
    return run("plan", DEMO, "-o", out), out


def test_the_demo_is_planned(demo: tuple[Result, Path]) -> None:
    """The command of demo/README.md succeeds, says nothing on the error side, and leaves the workbook alone."""
    result, out = demo
    assert (result.exit_code, result.stderr) == (0, "")
    assert [out.name] == list(left_in(out.parent))
    assert f"Written: {out}" == result.stdout.splitlines()[-1]


def test_the_summary_counts_what_the_list_has(demo: tuple[Result, Path]) -> None:
    """As many valves are read as the list has rows, and the states add up to them."""
    lines = demo[0].stdout.splitlines()
    with DEMO.open(encoding="utf-8", newline="") as file:
        rows = len(list(csv.DictReader(file)))
    assert lines[0] == f"{rows} valves read from valves.csv"
    states = {line.split()[0]: int(line.split()[1]) for line in lines[1:6]}
    assert list(states) == ["STOP", "MISSING", "SIZED", "LOOK", "READY"]
    assert rows == sum(states.values())


def test_the_summary_finds_what_the_readme_of_the_demo_tells(demo: tuple[Result, Path]) -> None:
    """The faults that demo/README.md lists by hand are those that the summary counts, no more and no fewer.

    Tilted: BH-104, MH-204, CE-305. One column carried along. Not judged: BH-106, whose grade nobody knows, and MH-202 without a
    lubricant. One each: worn box BH-110, short nose BH-112, maker's count MH-203 (whose rings also keep the follower out), no
    depth MH-206, stem and bore swapped MH-208, tag MH-207 twice, more than half of the box a spacer BH-109, studs over the limit
    MH-205, and flax in hot steam CE-305, its lowest rings idle; studs of a grade that states no temperature BH-106. Of those that
    come out: gasket too weak BH-107, slings too flat CE-302, mass estimated CE-309.
    """
    expected = {
        "follower_tilted": 3, "unknown-header": 1, "no_stocked_section": 1, "follower_bottoms": 1, "maker_count_misfit": 1,
        "follower_hardly_enters": 1, "box_depth_fault": 1, "stem_not_under_bore": 1, "repeated-tag": 1,
        "not_judged": 2, "spacer_fills_box": 1, "studs_over_limit": 1, "fluid_unsuitable": 1, "too_hot": 1, "rings_idle": 1,
        "gasket_over_pressure": 1, "sling_too_flat": 1, "valve_mass_estimated": 1, "stud_range_unstated": 1,
    }  # fmt: skip
    lines = demo[0].stdout.splitlines()
    place = next(at for at, line in enumerate(lines) if line.endswith(" findings, listed on the sheet Findings"))
    assert expected == {line.split()[1]: int(line.split()[0]) for line in lines[place + 1 : -1]}
    assert str(sum(expected.values())) == lines[place].split()[0]


def test_the_summary_matches_the_workbook(demo: tuple[Result, Path]) -> None:
    """States, answered valves and findings are as many in the workbook's stored values as the summary says."""
    result, out = demo
    valves, findings = Page(out, "Valves"), Page(out, "Findings")
    head = head_row(valves, "State")
    states = Counter(state for state in column(valves, "State", head) if state in {"STOP", "MISSING", "SIZED", "LOOK", "READY"})
    tags = [tag for tag in column(valves, "Tag", head) if tag]
    lines = result.stdout.splitlines()
    assert dict(states) == {line.split()[0]: int(line.split()[1]) for line in lines[1:6] if line.split()[1] != "0"}
    assert len(tags) == int(lines[0].split()[0])
    pairs = zip(column(valves, "Ring count", head), column(valves, "Gland gap at the end (mm)", head), strict=True)
    numbers = (int, float)
    answered = sum(isinstance(count, numbers) and isinstance(gap, numbers) for count, gap in pairs)
    assert f"{answered} valves with ring count and gland gap" == lines[6]
    kinds = [kind for kind in column(findings, "Kind", head_row(findings, "Row of your list")) if kind]
    place = next(at for at, line in enumerate(lines) if line.endswith(" findings, listed on the sheet Findings"))
    assert {line.split()[1]: int(line.split()[0]) for line in lines[place + 1 : -1]} == dict(Counter(kinds))


def test_findings_of_a_valve_stand_gravest_first(tmp_path: Path) -> None:
    """What stops a valve stands before what is to be looked at; all that is not asked is one finding, and a note is none."""
    path = tmp_path / "list.csv"
    path.write_text(f"{HEADER},Rings (maker),Packing material,Pressure\n{VALVE},12,graphite braid,10\n", encoding="utf-8")
    out = tmp_path / "out.xlsx"
    assert run("plan", path, "-o", out).exit_code == 0
    findings, valves = Page(out, "Findings"), Page(out, "Valves")
    head = head_row(findings, "Row of your list")
    pairs = zip(column(findings, "Row of your list", head), column(findings, "Kind", head), strict=True)
    kinds = [str(kind) for row, kind in pairs if row == 2]
    assert kinds.count("not_judged") == 1
    gravities = [get(kind, Fault).gravity for kind in kinds if kind != "not_judged"]
    assert gravities == sorted(gravities, key=list(Gravity).index)
    assert set(gravities) == {Gravity.STOP, Gravity.LOOK}
    said = str(column(valves, "What is wrong", head_row(valves, "State"))[0])
    assert "Gland stud grade missing." in said
    assert get("most_stress_missing", Fault).words in said


def test_every_valve_of_the_list_is_in_the_workbook(demo: tuple[Result, Path]) -> None:
    """The tags stand in Valves in the order of the list."""
    valves = Page(demo[1], "Valves")
    with DEMO.open(encoding="utf-8", newline="") as file:
        expected = [row["Tag"] for row in csv.DictReader(file)]
    assert expected == column(valves, "Tag", head_row(valves, "State"))[: len(expected)]


@pytest.mark.parametrize(
    ("rows", "words", "unit"),
    [
        (["V-1,US,1,1.5,2,1,1/2-13 UNC"], [], "in"),
        (["V-1,US,1,1.5,2,1,1/2-13 UNC"], ["--units", "metric"], "mm"),
        ([VALVE], [], "mm"),
        ([VALVE], ["--units", "us"], "in"),
        ([VALVE, "V-2,US,1,1.5,2,1,1/2-13 UNC"], [], "mm"),
    ],
)
def test_answers_are_in_the_units_of_most_rows_or_as_asked(tmp_path: Path, rows: list[str], words: list[str], unit: str) -> None:
    """Most rows decide, metric where they balance, and --units decides over them, in any case of its letters."""
    result = run("plan", small_list(tmp_path, *rows), "-o", tmp_path / "out.xlsx", *words)
    assert result.exit_code == 0, result.output
    assert head_row(Page(tmp_path / "out.xlsx", "Valves"), f"Gland gap at the end ({unit})") < 12


def test_a_new_workbook_has_the_rights_of_the_users_other_files(tmp_path: Path) -> None:
    """The finished file is not left as private as a temporary one."""
    other = tmp_path / "other"
    other.touch()
    assert run("plan", small_list(tmp_path, VALVE), "-o", tmp_path / "out.xlsx").exit_code == 0
    assert other.stat().st_mode == (tmp_path / "out.xlsx").stat().st_mode


# --- plan: what it refuses --------------------------------------------------------------------------------------------


def refused(result: Result, said: str) -> None:
    """A fault of the input ends in exit code 2 and one sentence: no traceback, and nothing on the other side."""
    lines = result.stderr.splitlines()
    assert (result.exit_code, result.stdout) == (2, ""), result.output
    assert 1 == len(lines), lines  # noqa: SIM300 - expected first
    assert lines[0].startswith("sheetcalc: ")
    assert lines[0].endswith(".")
    assert said in lines[0]
    assert "Traceback" not in result.output


# --- sets of answers --------------------------------------------------------------------------------------------------

#: A valve with what only the whole answers have a use for.
WITH_FLANGE: Final = ("Tag,Units,Stem dia,Box bore,Box depth,Nose length,Stud thread,Flange size,Class\n"
                      "V-1,metric,28,44,60,25,M12,NPS 4,150\n")  # fmt: skip


@pytest.mark.parametrize(("words", "is_whole"), [((), False), (("--answers", "whole"), True)])
def test_a_list_gets_the_answers_that_it_asks_for(tmp_path: Path, words: tuple[str, ...], *, is_whole: bool) -> None:
    """A list of glands gets what repacking asks; all there is, where that is said."""
    out = tmp_path / "out.xlsx"
    assert run("plan", small_list(tmp_path, VALVE), "-o", out, *words).exit_code == 0
    names = set(Page(out, "Working").row(6))
    assert "Order list" in sheet_names(out)
    assert "stud_torque" in names
    assert ("comes_out" in names) == is_whole


def test_a_list_with_flanges_gets_all_answers(tmp_path: Path) -> None:
    """A column that only the whole answers read asks for them."""
    (tmp_path / "list.csv").write_text(WITH_FLANGE, encoding="utf-8")
    assert run("plan", tmp_path / "list.csv", "-o", tmp_path / "out.xlsx").exit_code == 0
    assert "comes_out" in set(Page(tmp_path / "out.xlsx", "Working").row(6))


@pytest.mark.parametrize(("answers", "sheet"), [("packing", "Packing size"), ("repack", "Valves")])
def test_a_column_not_asked_for_is_carried_along_and_said(tmp_path: Path, answers: str, sheet: str) -> None:
    """With smaller answers a flange is no entry: its column stands at the right as it was typed, and a finding names it."""
    (tmp_path / "list.csv").write_text(WITH_FLANGE, encoding="utf-8")
    out = tmp_path / "out.xlsx"
    assert run("plan", tmp_path / "list.csv", "-o", out, "--answers", answers).exit_code == 0
    page = Page(out, sheet)
    head = head_row(page, "Stem diameter")
    carried = [title for title in page.row(head) if isinstance(title, str) and title.startswith(("Flange size", "Class"))]
    assert len(carried) == 2
    assert column(page, carried[0], head)[0] == "NPS 4"
    assert column(page, carried[1], head)[0] == 150
    findings = Page(out, "Findings")
    assert column(findings, "Kind", head_row(findings, "Row of your list")).count("not-asked-for") == 2


def test_packing_is_one_sheet_with_the_findings_behind_it(tmp_path: Path) -> None:
    """The sheet works alone; what was found, and the list as it came, stand behind it. Sizes alone make no valve READY."""
    out = tmp_path / "out.xlsx"
    assert run("plan", small_list(tmp_path, VALVE), "-o", out, "--answers", "packing").exit_code == 0
    assert sheet_names(out) == ["Packing size", "Findings", "Your list"]
    page = Page(out, "Packing size")
    head = head_row(page, "State")
    assert (column(page, "State", head)[0], column(page, "Ring count", head)[0]) == ("SIZED", 5)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("pack", "LIST", "--start", "2027-04-12", "-o", "OUT", "--answers", "packing"), "say --answers repack or whole"),
        (("cards", "LIST", "-o", "OUT", "--answers", "packing"), "say --answers repack or whole"),
        (("plan", "LIST", "-o", "OUT", "--answers", "repak"), "Did you mean repack"),
        (("blank", "-o", "FOLDER", "--answers", "hole"), "Did you mean whole"),
    ],
)
def test_answers_that_cannot_be_are_refused(tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    """In a sentence, with nothing written."""
    places = {"LIST": small_list(tmp_path, VALVE), "OUT": tmp_path / "out.xlsx", "FOLDER": tmp_path}
    result = run(*(places.get(word, word) for word in words))
    assert (result.exit_code, "Traceback" in result.output) == (2, False)
    assert said in result.stderr
    assert list(left_in(tmp_path)) == ["list.csv"]


def test_blank_writes_the_workbooks_of_one_set(tmp_path: Path) -> None:
    """Only those."""
    assert run("blank", "-o", tmp_path, "--answers", "packing").exit_code == 0
    assert sorted(left_in(tmp_path)) == ["packing-size-in.xlsx", "packing-size-mm.xlsx"]


def test_a_workbook_that_exists_is_left_as_it_is(tmp_path: Path) -> None:
    """Without --replace an existing file is refused, intact, and nothing else is written."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    out.write_bytes(b"the planner's own work")
    before = left_in(tmp_path)
    refused(run("plan", valves, "-o", out), "add --replace")
    assert before == left_in(tmp_path)


def test_a_workbook_that_exists_is_replaced_where_that_is_asked_for(tmp_path: Path, earlier: bytes) -> None:
    """With --replace a workbook takes the place of an earlier one in which nothing was changed, and nothing is kept of that."""
    valves, out = small_list(tmp_path, VALVE.replace("V-1", "V-2")), tmp_path / "out.xlsx"
    out.write_bytes(earlier)
    result = run("plan", valves, "-o", out, "--replace")
    assert result.exit_code == 0, result.output
    assert "Kept" not in result.stdout
    assert column(Page(out, "Valves"), "Tag", head_row(Page(out, "Valves"), "State"))[0] == "V-2"
    assert sorted(left_in(tmp_path)) == ["list.csv", "out.xlsx"]


def typed_into(path: Path) -> None:
    """A tag typed over in the file itself, all else left as it is."""
    held = {name: content.replace(b">V-1<", b">V-9<") for name, content in parts_of(path)}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in held.items():
            package.writestr(name, content)


def saved_by_another(path: Path) -> None:
    """The workbook read and written by another library."""
    openpyxl.load_workbook(path).save(path)


@pytest.mark.parametrize("change", [typed_into, saved_by_another])
@pytest.mark.parametrize("verb", [("plan",), ("cards",), ("pack", "--start", "2027-04-12")], ids=lambda verb: verb[0])
def test_a_workbook_that_was_changed_is_kept(tmp_path: Path, earlier: bytes, change: Callable[[Path], None], verb: tuple[str, ...]) -> None:
    """One of ours that somebody typed into, or another program saved, is first moved to a name that says when, and that is said."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    out.write_bytes(earlier)
    change(out)
    changed = out.read_bytes()
    result = run(*verb, valves, "-o", out, "--replace")
    assert result.exit_code == 0, result.output
    (kept,) = (path for path in tmp_path.iterdir() if "before" in path.name)
    assert re.fullmatch(r"out \(before \d{4}-\d\d-\d\d \d\d\.\d\d\.\d\d\)\.xlsx", kept.name)
    assert kept.read_bytes() == changed
    assert f"Kept: what stood there had been changed since it was written, and is now {kept}" in result.stdout.splitlines()
    assert output.is_as_written(out)


def test_a_blank_that_was_typed_into_is_kept(tmp_path: Path) -> None:
    """So with the ready-made workbooks: only the one that was changed is kept."""
    assert run("blank", "-o", tmp_path).exit_code == 0
    saved_by_another(tmp_path / "one-valve-mm.xlsx")
    result = run("blank", "-o", tmp_path, "--replace")
    assert result.exit_code == 0, result.output
    (kept,) = set(left_in(tmp_path)) - set(READY_MADE)
    assert kept.startswith("one-valve-mm (before ")
    assert result.stdout.count("Kept: ") == 1


@pytest.mark.parametrize("content", [b"the planner's own work", b"", b"PK\x05\x06" + bytes(18)], ids=["text", "empty", "empty package"])
def test_a_file_that_is_none_of_ours_is_never_replaced(tmp_path: Path, content: bytes) -> None:
    """Whatever is no workbook of ours stays, --replace or not."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    out.write_bytes(content)
    before = left_in(tmp_path)
    refused(run("plan", valves, "-o", out, "--replace"), "was not written by sheetcalc and is never replaced")
    assert before == left_in(tmp_path)


def test_a_workbook_of_another_program_is_never_replaced(tmp_path: Path) -> None:
    """A workbook that the planner made is none of ours."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    openpyxl.Workbook().save(out)
    before = left_in(tmp_path)
    refused(run("plan", valves, "-o", out, "--replace"), "was not written by sheetcalc and is never replaced")
    assert before == left_in(tmp_path)


#: How an input may be named again, so that the output would fall on it.
AGAIN: Final[dict[str, Callable[[Path], Path]]] = {
    "itself": lambda path: path,
    "another way": lambda path: path.parent / ".." / path.parent.name / path.name,
    "a link": lambda path: _linked(path, path.with_name("link.xlsx"), hard=False),
    "a second name of the file": lambda path: _linked(path, path.with_name("second.xlsx"), hard=True),
    "the case of its name": lambda path: path.with_name(path.name.upper()),
}


def _linked(path: Path, link: Path, *, hard: bool) -> Path:
    if hard:
        link.hardlink_to(path)
    else:
        link.symlink_to(path)
    return link


@pytest.mark.parametrize("again", AGAIN.values(), ids=AGAIN.keys())
@pytest.mark.parametrize("role", ["list", "--log", "--stores"])
def test_what_is_read_is_never_written_over(tmp_path: Path, earlier: bytes, role: str, again: Callable[[Path], Path]) -> None:
    """The list, the log and the stores are refused as the output, even where they are workbooks of ours, and however they are named."""
    held = tmp_path / "held.xlsx"
    held.write_bytes(earlier)
    out = again(held)
    words = [held] if role == "list" else [small_list(tmp_path, VALVE), role, held]
    before = left_in(tmp_path)
    result = run("pack", *words, "--start", "2027-04-12", "-o", out, "--replace")
    refused(result, "is one of the files that are read, and is never written over")
    assert before == left_in(tmp_path)


def test_no_map_falls_on_what_is_read(tmp_path: Path) -> None:
    """Neither the map that is read nor the list is where a map is saved, nor is the workbook itself."""
    valves, read, out = codes(tmp_path), tmp_path / "map.toml", tmp_path / "out.xlsx"
    assert run("plan", valves, "--dry", *MAPS, "--save-map", read).exit_code == 0
    before = left_in(tmp_path)
    for saved in (valves, read, out):
        words = ("plan", valves, "-o", out, "--map-file", read, "--save-map", saved, "--replace")
        refused(run(*words), "is one of the files that are read, and is never written over")
        assert before == left_in(tmp_path)


@pytest.mark.parametrize("lock", [".~lock.out.xlsx#", "~$out.xlsx"])
def test_a_workbook_that_is_open_elsewhere_is_left(tmp_path: Path, earlier: bytes, lock: str) -> None:
    """A spreadsheet program leaves a file beside one that it has open: that is told before the work is done."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    out.write_bytes(earlier)
    (tmp_path / lock).touch()
    before = left_in(tmp_path)
    refused(run("plan", valves, "-o", out, "--replace"), "is open elsewhere")
    assert before == left_in(tmp_path)


def test_a_folder_that_takes_no_file_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system lets nobody write, one sentence says so; the refusal is played, since a superuser may write everywhere."""

    def denied(**_options: Any) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.mkstemp", denied)
    refused(run("plan", small_list(tmp_path, VALVE), "-o", tmp_path / "out.xlsx"), "cannot be written: Permission denied")


def test_plain_formulas_are_spelt_out(tmp_path: Path) -> None:
    """Without the option rows share their formulas, with it none does; both hold the same."""
    valves = small_list(tmp_path, VALVE)
    made = [tmp_path / "shared.xlsx", tmp_path / "plain.xlsx"]
    assert [run("plan", valves, "-o", out, *words).exit_code for out, words in zip(made, ([], ["--plain-formulas"]), strict=True)] == [0, 0]
    shared = [sum(content.count(b't="shared"') for _name, content in parts_of(out)) for out in made]
    assert shared[0] > 1000
    assert shared[1] == 0
    held = [{(sheet, cell.place): cell.value for sheet, found in cells(out) for cell in found} for out in made]
    assert held[0] == held[1]


@pytest.mark.parametrize("replace", [[], ["--replace"]])
@pytest.mark.parametrize(
    ("out", "said"),
    [("missing/out.xlsx", "does not exist"), ("folder.xlsx", "is a folder"), ("out.xls", ".xlsx"), ("out", ".xlsx"), ("out.csv", ".xlsx")],
)
def test_a_place_that_cannot_be_written_to_is_refused(tmp_path: Path, out: str, said: str, replace: list[str]) -> None:
    """A missing folder, a folder in the file's place and another ending are refused, with or without --replace."""
    valves = small_list(tmp_path, VALVE)
    (tmp_path / "folder.xlsx").mkdir()
    before = left_in(tmp_path)
    refused(run("plan", valves, "-o", tmp_path / out, *replace), said)
    assert before == left_in(tmp_path)
    assert list((tmp_path / "folder.xlsx").iterdir()) == []
    assert not (tmp_path / "missing").exists()


def test_the_ending_may_be_in_capitals(tmp_path: Path) -> None:
    """OUT.XLSX is as good a name as out.xlsx."""
    assert run("plan", small_list(tmp_path, VALVE), "-o", tmp_path / "OUT.XLSX").exit_code == 0


BAD_LISTS: Final[dict[str, tuple[str, bytes | None, str]]] = {
    "missing": ("none.csv", None, "There is no file"),
    "empty": ("bad.csv", b"", "empty"),
    "blank": ("bad.csv", b"\n \n", "empty"),
    "no header": ("bad.csv", b"apples,pears\n1,2\n", "no row of known headers"),
    "not a workbook": ("bad.xlsx", b"PK\x03\x04 and then nothing", "cannot be read"),
    "text called a workbook": ("bad.xlsx", b"Tag,Stem\nV-1,28\n", "not an Excel workbook"),
    "empty workbook": ("bad.xlsx", b"", "empty"),
    "bytes": ("bad.csv", bytes(range(256)), "no readable text"),
    "another kind": ("bad.pdf", b"%PDF-1.7", "not read"),
}


@pytest.mark.parametrize(("name", "content", "said"), BAD_LISTS.values(), ids=BAD_LISTS.keys())
def test_a_list_that_cannot_be_read_is_refused(tmp_path: Path, earlier: bytes, name: str, content: bytes | None, said: str) -> None:
    """A missing, empty, unreadable or headless list ends in one sentence; nothing is written, and an old workbook stays."""
    out = tmp_path / "out.xlsx"
    out.write_bytes(earlier)
    if content is not None:
        (tmp_path / name).write_bytes(content)
    before = left_in(tmp_path)
    refused(run("plan", tmp_path / name, "-o", out, "--replace"), said)
    assert before == left_in(tmp_path)


def test_a_list_that_may_not_be_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list that the system does not hand out, for want of a right or because it is open elsewhere, ends in one sentence."""

    def denied(_path: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    valves = small_list(tmp_path, VALVE)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", denied)
        refused(run("plan", valves, "-o", tmp_path / "out.xlsx"), "cannot be opened")
    assert list(left_in(tmp_path)) == ["list.csv"]


def test_a_folder_is_no_list(tmp_path: Path) -> None:
    """A folder in the list's place ends in one sentence, and nothing is written."""
    refused(run("plan", tmp_path, "-o", tmp_path / "out.xlsx"), "not a file")
    assert left_in(tmp_path) == {}


def test_a_list_longer_than_the_limit_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """More rows than the stated limit are refused before anything is written; just as many are taken."""
    monkeypatch.setattr(planning, "MOST_ROWS", 3)
    out = tmp_path / "out.xlsx"
    rows = [f"V-{number},metric,28,44,60,25,M12" for number in range(4)]
    refused(run("plan", small_list(tmp_path, *rows), "-o", out), "3")
    assert list(left_in(tmp_path)) == ["list.csv"]
    assert run("plan", small_list(tmp_path, *rows[:3]), "-o", out).exit_code == 0


def test_an_unknown_sheet_is_refused(tmp_path: Path) -> None:
    """A sheet that the list does not have is named, with those that it has."""
    book = openpyxl.Workbook()
    book.save(tmp_path / "list.xlsx")
    refused(run("plan", tmp_path / "list.xlsx", "-o", tmp_path / "out.xlsx", "--sheet", "Valves 2"), "'Valves 2'")
    assert list(left_in(tmp_path)) == ["list.xlsx"]


# --- plan: looking, and maps ------------------------------------------------------------------------------------------


def codes(folder: Path) -> Path:
    """A list whose headers only its planner knows."""
    path = folder / "codes.csv"
    path.write_text("Code,Size,Hole (mm),Depth,Nose\nV-1,28 mm,44,60 mm,~25 mm\nV-2,20 mm,32,40 mm,n/a\n", encoding="utf-8")
    return path


MAPS: Final = ("--map", "Code=tag", "--map", "Size=stem_diameter", "--map", "Hole (mm)=box_bore_entered")


def test_a_look_writes_nothing_and_tells_all(tmp_path: Path) -> None:
    """--dry needs no -o: it tells each column, its unit, how surely it is known, first values, and every finding, and leaves no file."""
    result = run("plan", codes(tmp_path), "--dry", *MAPS)
    assert (result.exit_code, result.stderr) == (0, "")
    assert list(left_in(tmp_path)) == ["codes.csv"]
    lines = result.stdout.splitlines()
    assert lines[0] == "codes.csv: headers in row 1, 2 valves. No workbook was written."
    assert [line.split("  ")[0] for line in lines[2:7]] == list("ABCDE")
    expected = ["Hole (mm)", "box_bore", "mm", "mapped", "44 mm; 32 mm"]
    assert expected == [cell.strip() for cell in lines[4].split("  ") if cell.strip()][1:]
    assert "plain" in lines[5]
    assert any(line.startswith("  rough-number, row 2, V-1: Row 2, Nose: '~25 mm'") for line in lines)
    assert any(line.startswith("  not-given, row 3, V-2: Row 3, Nose: 'n/a'") for line in lines)
    place = next(at for at, line in enumerate(lines) if line.endswith(" findings"))
    assert int(lines[place].split()[0]) == len(lines) - place - 1 > 2


def test_a_look_tells_what_plan_finds(tmp_path: Path) -> None:
    """A look at the demo tells the findings that the workbook lists, one line each."""
    result = run("plan", DEMO, "--dry")
    lines = result.stdout.splitlines()
    place = next(at for at, line in enumerate(lines) if line.endswith(" findings"))
    looked = Counter(line.split()[0].strip(",:") for line in lines[place + 1 :])
    assert run("plan", DEMO, "-o", tmp_path / "out.xlsx").exit_code == 0
    sheet = Page(tmp_path / "out.xlsx", "Findings")
    assert looked == Counter(kind for kind in column(sheet, "Kind", head_row(sheet, "Row of your list")) if kind)


def test_a_look_at_headers_alone(tmp_path: Path) -> None:
    """A list without a valve can be looked at, though no workbook is made of it."""
    assert "0 valves" in run("plan", small_list(tmp_path), "--dry").stdout
    refused(run("plan", small_list(tmp_path), "-o", tmp_path / "out.xlsx"), "no valve below them")


def test_a_plan_without_a_place_is_refused(tmp_path: Path) -> None:
    """Without --dry the workbook has to be named."""
    result = run("plan", small_list(tmp_path, VALVE))
    assert (result.exit_code, result.stdout) == (2, "")
    assert "--dry" in result.stderr


def test_a_look_tells_the_sheet(tmp_path: Path) -> None:
    """Of a workbook with several sheets a look names the one that was chosen, and says that it was chosen."""
    book = openpyxl.Workbook()
    sheet = book.create_sheet("Valves")
    for row in (HEADER.split(","), ["V-1", "metric", 28, 44, 60, 25, "M12"]):
        sheet.append(row)
    book.save(tmp_path / "list.xlsx")
    said = run("plan", tmp_path / "list.xlsx", "--dry").stdout
    assert said.startswith("list.xlsx, sheet 'Valves': headers in row 1, 1 valves.")
    assert "  chosen-sheet: Nobody named a sheet" in said


@pytest.mark.parametrize("verb", ["plan", "cards"])
def test_a_map_is_used_saved_and_read_again(tmp_path: Path, verb: str) -> None:
    """What --map says fills the workbook; --save-map keeps it, and --map-file alone gives the same the next time."""
    valves, saved = codes(tmp_path), tmp_path / "map.toml"
    first = run(verb, valves, "-o", tmp_path / "first.xlsx", *MAPS, "--save-map", saved)
    assert first.exit_code == 0, first.output
    second = run(verb, valves, "-o", tmp_path / "second.xlsx", "--map-file", saved)
    assert second.exit_code == 0, second.output
    made = [Page(tmp_path / name, "Valves") for name in ("first.xlsx", "second.xlsx")]
    tags = [[tag for tag in column(sheet, "Tag", head_row(sheet, "State")) if tag] for sheet in made]
    assert tags == [["V-1", "V-2"]] * 2
    assert '"Hole (mm)" = "box_bore"' in saved.read_text(encoding="utf-8").splitlines()


def test_a_look_may_save_the_map_and_nothing_else(tmp_path: Path) -> None:
    """--save-map beside --dry writes the map alone; one that exists is left unless --replace is said, and kept if it was changed."""
    valves, saved = codes(tmp_path), tmp_path / "map.toml"
    assert run("plan", valves, "--dry", *MAPS, "--save-map", saved).exit_code == 0
    assert sorted(left_in(tmp_path)) == ["codes.csv", "map.toml"]
    refused(run("plan", valves, "--dry", *MAPS, "--save-map", saved), "add --replace")
    assert run("plan", valves, "--dry", *MAPS, "--save-map", saved, "--replace").exit_code == 0
    assert sorted(left_in(tmp_path)) == ["codes.csv", "map.toml"]
    own = f"# own remark\n{saved.read_text(encoding='utf-8')}"
    saved.write_text(own, encoding="utf-8")
    result = run("plan", valves, "--dry", *MAPS, "--save-map", saved, "--replace")
    assert result.exit_code == 0, result.output
    (kept,) = (path for path in tmp_path.iterdir() if "before" in path.name)
    assert kept.read_text(encoding="utf-8") == own
    assert str(kept) in result.stdout.splitlines()[-1]
    saved.write_text("own work", encoding="utf-8")
    refused(run("plan", valves, "--dry", *MAPS, "--save-map", saved, "--replace"), "never replaced")
    assert saved.read_text(encoding="utf-8") == "own work"


@pytest.mark.parametrize("verb", ["plan", "cards"])
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--map", "Size=stem_diamter"], "nearest are stem_diameter"),
        (["--map", "Sise=stem_diameter"], "'Sise' (nearest: Size"),
        (["--map", "Size"], "write it like"),
        (["--map", "Size=box_bore", "--map", "Hole (mm)=box_bore"], "both mapped to box_bore"),
        (["--map-file", "none.toml"], "no map file"),
    ],
)
def test_a_wrong_map_is_refused(tmp_path: Path, verb: str, words: list[str], said: str) -> None:
    """An unknown entry, a header that the list lacks and a missing file end in one sentence, and nothing is written."""
    refused(run(verb, codes(tmp_path), "-o", tmp_path / "out.xlsx", *MAPS[:2], *words), said)
    assert list(left_in(tmp_path)) == ["codes.csv"]


# --- plan: what it survives -------------------------------------------------------------------------------------------

#: A shell's job in the background hands on that an interruption is ignored; a person's terminal does not.
START: Final = (
    "import signal, sys; signal.signal(signal.SIGINT, signal.default_int_handler); sys.dont_write_bytecode = True; "
    "from sheetcalc.cli import main; "
)
#: The limit on the size of a file stands in for a full disk: the system refuses each further byte in the same way.
FULL: Final = (
    "import resource, signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN); "
    "resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000)); main()"
)
UNIX: Final = pytest.mark.skipif(os.name != "posix", reason="limits and signals of POSIX")


def started(code: str, *words: str | Path, temporary: Path) -> subprocess.Popen[str]:
    """The command in a process of its own, with a folder for temporary files that can be looked into."""
    temporary.mkdir()
    environment = {**os.environ, "TMPDIR": str(temporary), "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}
    return subprocess.Popen(  # noqa: S603 - our own program
        [sys.executable, "-c", START + code, *map(str, words)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment,
    )  # fmt: skip


@UNIX
@pytest.mark.parametrize("replaces", [False, True], ids=["new", "replaced"])
def test_a_full_disk_leaves_the_old_workbook(tmp_path: Path, earlier: bytes, *, replaces: bool) -> None:
    """When the disk takes no more, the old file is intact, no half file is left, and one sentence says what happened."""
    old = earlier if replaces else None
    folder = out_folder(tmp_path, old)
    process = started(FULL, "plan", DEMO, "-o", folder / "out.xlsx", "--replace", temporary=tmp_path / "temporary")
    said, complaint = process.communicate(timeout=120)
    assert (process.returncode, said) == (2, "")
    assert "cannot be written" in complaint
    assert len(complaint.splitlines()) == 1
    assert ({} if old is None else {"out.xlsx": old}) == left_in(folder)


@UNIX
def test_a_full_disk_is_not_filled_with_temporary_files(tmp_path: Path) -> None:
    """What was written to the folder for temporary files is gone when the command gives up."""
    folder = out_folder(tmp_path, None)
    process = started(FULL, "plan", DEMO, "-o", folder / "out.xlsx", temporary=tmp_path / "temporary")
    process.communicate(timeout=120)
    assert process.returncode == 2
    assert list((tmp_path / "temporary").iterdir()) == []


def out_folder(parent: Path, old: bytes | None) -> Path:
    """A folder for the workbook, with an older one in it or not."""
    folder = parent / "out"
    folder.mkdir()
    if old is not None:
        (folder / "out.xlsx").write_bytes(old)
    return folder


ALOUD: Final = """
import contextlib
from sheetcalc import cli
tell = lambda step, share: share == 0 and print(step, file=sys.stderr, flush=True)
cli._progress = lambda: contextlib.nullcontext(tell)
main()
"""


def interrupted(tmp_path: Path, folder: Path, number: signal.Signals) -> tuple[int, str, str]:
    """A long list planned and stopped while it is made in memory: exit code and outputs. Its steps are told on the error side."""
    valves = small_list(tmp_path, *[f"V-{place},metric,28,44,60,25,M12" for place in range(600)])
    temporary = tmp_path / "temporary"
    process = started(ALOUD, "plan", valves, "-o", folder / "out.xlsx", "--replace", temporary=temporary)
    try:
        assert process.stderr is not None
        assert any("Writing" in line for line in iter(process.stderr.readline, ""))
        time.sleep(0.1)
        assert [name for name in left_in(folder) if name.endswith(".part")] != []
        process.send_signal(number)
        said, complaint = process.communicate(timeout=60)
    finally:
        process.kill()
    return process.returncode, said, complaint


@UNIX
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT], ids=["SIGTERM", "SIGINT"])
def test_an_interruption_leaves_no_half_workbook(tmp_path: Path, earlier: bytes, number: signal.Signals) -> None:
    """Stopped while it writes a long list, the command leaves the old file alone, and says no more than that it stopped."""
    folder = out_folder(tmp_path, earlier)
    code, said, complaint = interrupted(tmp_path, folder, number)
    assert code not in {0, 2}
    assert "Written" not in said
    assert "Traceback" not in complaint
    assert {"out.xlsx": earlier} == left_in(folder)


@UNIX
def test_an_interruption_leaves_no_temporary_files(tmp_path: Path) -> None:
    """Neither a first workbook begun nor what was written to the folder for temporary files is left by a stop."""
    folder = out_folder(tmp_path, None)
    interrupted(tmp_path, folder, signal.SIGTERM)
    assert left_in(folder) == {}
    assert list((tmp_path / "temporary").iterdir()) == []


# --- cards ------------------------------------------------------------------------------------------------------------


def tags_of(path: Path) -> list[list[Any]]:
    """The tags on each sheet of cards, from top to bottom."""
    sheets = [Page(path, name) for name in sheet_names(path) if name.startswith("Job cards")]
    return [[row[1] for row in sheet.rows() if row[0] == "Tag"] for sheet in sheets]


def test_the_demo_gets_a_card_for_every_valve(tmp_path: Path) -> None:
    """Every valve has a card in the order of the list, of two pages where it comes out; the list stands behind as `plan` writes it."""
    out = tmp_path / "cards.xlsx"
    result = run("cards", DEMO, "-o", out)
    assert (result.exit_code, result.stderr) == (0, "")
    with DEMO.open(encoding="utf-8", newline="") as file:
        valves = list(csv.DictReader(file))
    assert [[row["Tag"] for row in valves for _page in range(1 + (row["Comes out"] == "yes"))]] == tags_of(out)
    lines = result.stdout.splitlines()
    assert lines[:2] == [
        f"{len(valves)} valves read from valves.csv",
        f"{len(valves)} job cards, one a page, and a second page for 7 that come out of the line",
    ]
    assert "Stopped, so without figures: BH-107, BH-112, MH-203, MH-205, CE-305" in lines
    assert f"Written: {out}" == lines[-1]
    assert run("plan", DEMO, "-o", tmp_path / "plan.xlsx").exit_code == 0
    planned, carded = (sheet_names(tmp_path / name) for name in ("plan.xlsx", "cards.xlsx"))
    assert ["Job cards", *planned] == carded


def test_cards_are_made_for_the_tags_that_are_named(tmp_path: Path) -> None:
    """--tag names valves, as often as wanted, in that order, whatever their case; one named twice has one card."""
    out = tmp_path / "cards.xlsx"
    result = run("cards", DEMO, "-o", out, "--tag", "mh-203", "--tag", "BH-101", "--tag", "MH-203")
    assert result.exit_code == 0, result.output
    assert tags_of(out) == [["MH-203", "BH-101", "BH-101"]]
    assert "2 job cards, one a page, and a second page for 1 that comes out of the line" in result.stdout


def test_a_tag_that_stands_twice_has_two_cards(tmp_path: Path) -> None:
    """Where the list repeats a tag nobody can tell which valve is meant, so both have a card."""
    rows = [VALVE, "V-2,metric,28,44,60,25,M12", "V-1,metric,30,46,60,25,M12"]
    assert run("cards", small_list(tmp_path, *rows), "-o", tmp_path / "out.xlsx", "--tag", "V-1").exit_code == 0
    assert tags_of(tmp_path / "out.xlsx") == [["V-1", "V-1"]]


@pytest.mark.parametrize(
    ("tag", "said"),
    [("BH-1O1", "'BH-1O1' (nearest: BH-101, "), ("zzzzzz", "'zzzzzz' (none comes near)"), ("", "'' (none comes near)")],
)
def test_a_tag_that_the_list_lacks_is_refused_with_the_nearest(tmp_path: Path, tag: str, said: str) -> None:
    """A wrong tag is named with those that come nearest, a letter read for a figure included, and nothing is written."""
    refused(run("cards", DEMO, "-o", tmp_path / "out.xlsx", "--tag", "BH-101", "--tag", tag), said)
    assert left_in(tmp_path) == {}


def test_every_tag_that_the_list_lacks_is_named(tmp_path: Path) -> None:
    """All wrong tags are told at once."""
    result = run("cards", DEMO, "-o", tmp_path / "out.xlsx", "--tag", "no-1", "--tag", "BH-101", "--tag", "no-2")
    refused(result, "'no-1'")
    assert "'no-2'" in result.stderr
    assert "'BH-101'" not in result.stderr


@pytest.mark.parametrize(("words", "paper"), [([], 9), (["--units", "us"], 1)])
def test_the_units_of_the_cards_decide_their_paper(tmp_path: Path, words: list[str], paper: int) -> None:
    """A metric workbook is on A4 and a US one on Letter; cards print at full size and end where the next begins."""
    rows = [VALVE, "V-2,metric,28,44,60,25,M12", "V-3,metric,28,44,60,25,M12"]
    assert run("cards", small_list(tmp_path, *rows), "-o", tmp_path / "out.xlsx", *words).exit_code == 0
    sheet: Any = openpyxl.load_workbook(tmp_path / "out.xlsx")["Job cards"]
    setup = sheet.page_setup
    assert (int(setup.paperSize), setup.orientation, int(setup.scale or 100)) == (paper, "portrait", 100)
    assert not sheet.sheet_properties.pageSetUpPr or not sheet.sheet_properties.pageSetUpPr.fitToPage
    starts = [int(row[0].row) for row in sheet.iter_rows() if row[0].value == "Job card: stem packing"]
    assert [start - 1 for start in starts[1:]] == [one.id for one in sheet.row_breaks.brk]


def test_more_cards_than_one_workbook_takes_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too many cards end in one sentence; as many as the limit are made, and named valves of a longer list are."""
    monkeypatch.setattr(planning, "MOST_CARDS", 2)
    valves = small_list(tmp_path, *[f"V-{number},metric,28,44,60,25,M12" for number in range(3)])
    refused(run("cards", valves, "-o", tmp_path / "out.xlsx"), "--tag")
    assert list(left_in(tmp_path)) == ["list.csv"]
    assert run("cards", valves, "-o", tmp_path / "out.xlsx", "--tag", "V-2", "--tag", "V-0").exit_code == 0
    assert tags_of(tmp_path / "out.xlsx") == [["V-2", "V-0"]]


def test_cards_leave_a_workbook_that_exists(tmp_path: Path) -> None:
    """Without --replace an existing file is refused and intact."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    out.write_bytes(b"the planner's own work")
    before = left_in(tmp_path)
    refused(run("cards", valves, "-o", out), "add --replace")
    assert before == left_in(tmp_path)


# --- explain ----------------------------------------------------------------------------------------------------------


def test_explain_says_all_about_a_quantity() -> None:
    """Each part stands on a line of its own, in the order in which a reader asks."""
    result = run("explain", "gland_gap_end")
    parts = {line.split(maxsplit=1)[0]: line.split(maxsplit=1)[1] for line in result.stdout.splitlines()}
    assert list(parts) == ["Name", "Title", "Kind", "Symbol", "Unit", "What", "Formula", "Reads", "Source", "Grade"]
    assert (result.exit_code, parts["Symbol"], parts["Unit"]) == (0, "G₂", "mm")
    assert parts["Reads"] == "gland_gap_start, compression_travel"
    assert parts["Formula"] == '=IF(COUNT(gland_gap_start,compression_travel)<2,"",gland_gap_start-compression_travel)'


@pytest.mark.parametrize("quantity", all_quantities(), ids=lambda quantity: quantity.name)
def test_every_quantity_can_be_explained(quantity: Quantity) -> None:
    """No part is empty, and sentence, source and grade are those declared."""
    parts = dict(explanation(quantity))
    assert [label for label, said in parts.items() if not said] == []
    assert (quantity.sentence, quantity.source.text, quantity.source.grade.value) == (parts["What"], parts["Source"], parts["Grade"])
    assert ("Formula" in parts, "Issued" in parts) == (isinstance(quantity, Derived), isinstance(quantity, Constant))


def test_explain_shows_the_range_of_an_assumption() -> None:
    """An assumption is explained with its issued value and the range in which it can be meant."""
    result = run("explain", "greatest_roll")
    low, high = get("greatest_roll", Constant).limits
    assert f"Range     {low} to {high}" in result.stdout.splitlines()
    assert "Issued    0.8" in result.stdout.splitlines()


def test_explain_helps_with_a_misspelt_name() -> None:
    """A name that no quantity has is refused with the nearest ones."""
    result = run("explain", "gland_gap_ned")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "Did you mean gland_gap_end" in result.stderr


def test_help_is_given_without_what_a_verb_needs() -> None:
    """The command line alone imports none of the libraries that take their time; `explain` none that is for workbooks."""
    script = "import sys; from sheetcalc.cli import main; main({words!r}, standalone_mode=False); print(*sys.modules, file=sys.stderr)"
    slow = {"numpy", "pandas", "pint", "xlsxwriter", "openpyxl"}
    for words, left_out in ((["--help"], slow), (["explain", "ring_count"], {"xlsxwriter", "openpyxl"})):
        ran = subprocess.run([sys.executable, "-c", script.format(words=words)], capture_output=True, text=True, check=True)  # noqa: S603
        assert set() == left_out & set(ran.stderr.split()), words


def test_a_bar_is_shown_on_a_terminal_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal each step is named as it begins; elsewhere the error side stays clean."""
    words = ("plan", small_list(tmp_path, VALVE), "-o", tmp_path / "out.xlsx", "--replace")
    assert run(*words).stderr == ""
    steps: list[str] = []
    with monkeypatch.context() as patch:
        patch.setattr(cli, "_progress", lambda: contextlib.nullcontext(lambda step, _share: steps.append(step)))
        run(*words)
    assert list(dict.fromkeys(steps)) == ["Reading the list", "Laying out the sheets", "Writing"]


def test_the_version_is_told() -> None:
    """--version says the name and a version of three numbers."""
    name, version = run("--version").stdout.replace(", version", "").split()
    assert (name, len(version.split("."))) == ("sheetcalc", 3)


# --- blank ------------------------------------------------------------------------------------------------------------


def parts_of(path: Path) -> list[tuple[str, bytes]]:
    """The parts of a workbook in their order, unpacked: packed bytes vary with the packing library."""
    with zipfile.ZipFile(path) as archive:
        return [(part.filename, archive.read(part)) for part in archive.infolist()]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The ready-made workbooks, written once into a folder that was not there."""
    folder = tmp_path_factory.mktemp("blank") / "new" / "workbooks"
    result = run("blank", "-o", folder)
    assert result.exit_code == 0, result.output
    assert sorted(f"Written: {folder / name}" for name in READY_MADE) == sorted(result.stdout.splitlines())
    return folder


def test_blank_writes_the_workbooks_of_every_set(made: Path) -> None:
    """The one sheet, one valve and a list of both sets, and a follow-up, each in mm and in inches, and nothing else in the folder."""
    assert len(READY_MADE) == 12
    assert sorted(READY_MADE) == sorted(left_in(made))


def test_two_builds_are_alike(made: Path, tmp_path: Path) -> None:
    """The same workbook written again has the same parts with the same bytes in the same order."""
    write(planning.ready_made()["one-valve-in.xlsx"](), tmp_path / "again.xlsx")
    assert parts_of(made / "one-valve-in.xlsx") == parts_of(tmp_path / "again.xlsx")


@pytest.mark.parametrize("name", READY_MADE)
def test_the_ready_made_workbooks_are_up_to_date(made: Path, name: str) -> None:
    """What stands in workbooks/ is what the command writes: part by part, letter for letter but for the last bit of a stored number.

    numpy takes its loops by what the processor can do, so powers and exponentials differ in the last bit from one to another.
    """
    held = ROOT / "workbooks" / name
    assert held.is_file(), f"{held} is missing: write it with `sheetcalc blank -o workbooks`"
    expected, found = parts_of(made / name), parts_of(held)
    assert [part for part, _ in expected] == [part for part, _ in found]
    assert [part for part, content in expected if not alike(content, dict(found)[part])] == []


_NUMBER: Final = re.compile(rb"(<c (?![^>]* t=)[^>]*>(?:<f[^>]*>[^<]*</f>|<f[^>]*/>)?<v>)([0-9.eE+-]+)(?=</v>)")


#: What the parts of a workbook come to, noise included.
_DIGEST: Final = re.compile(rb"(?<=>)[0-9a-f]{64}(?=<)")


def alike(one: bytes, other: bytes) -> bool:
    """Whether two parts of a workbook hold the same, but for noise in the numbers of their cells, and for what the parts come to."""
    one, other = _DIGEST.sub(b"", one), _DIGEST.sub(b"", other)
    if one == other:
        return True
    if _NUMBER.sub(rb"\1", one) != _NUMBER.sub(rb"\1", other):
        return False
    pairs = zip(_NUMBER.findall(one), _NUMBER.findall(other), strict=True)
    return all(math.isclose(float(a), float(b), rel_tol=1e-12) for (_cell, a), (_same, b) in pairs)


@pytest.mark.parametrize(
    ("changed", "same"),
    [
        ('<c r="A1" s="3"><f>B1^2</f><v>24.428800132191995</v></c>', True), ('<c r="A1" s="3"><f>B1^2</f><v>24.42880013</v></c>', False),
        ('<c r="A1" s="3"><f>B1^3</f><v>24.428800132192</v></c>', False), ('<c r="A1" s="4"><f>B1^2</f><v>24.428800132192</v></c>', False),
        ('<c r="A1" s="3"><v>24.428800132192</v></c>', False), ('<c r="A1" s="3" t="str"><f>B1^2</f><v>24.4 mm</v></c>', False),
    ],
)  # fmt: skip
def test_only_the_last_bits_of_a_number_may_differ(changed: str, *, same: bool) -> None:
    """A formula, a style, a text, or a number that is really another, is a difference."""
    assert alike(b'<c r="A1" s="3"><f>B1^2</f><v>24.428800132192</v></c>', changed.encode()) is same


def test_blank_leaves_workbooks_that_exist(made: Path) -> None:
    """Without --replace the workbooks of a folder are refused and intact."""
    before = left_in(made)
    refused(run("blank", "-o", made), "add --replace")
    assert before == left_in(made)


def test_blank_wants_a_folder(tmp_path: Path) -> None:
    """A file in the folder's place is refused and intact."""
    (tmp_path / "file").write_text("own work", encoding="utf-8")
    refused(run("blank", "-o", tmp_path / "file"), "name a folder")
    refused(run("blank", "-o", tmp_path / "file" / "in it"), "cannot be made")
    assert left_in(tmp_path) == {"file": b"own work"}


# --- pack: what a site already has ------------------------------------------------------------------------------------

PACK: Final = ("pack", DEMO, "--start", "2027-04-12", "--status", "2027-02-22")
LOG_FILE, STORES_FILE = DEMO.with_name("log.csv"), DEMO.with_name("stores.csv")


def typed_in(sheet: Page, first_head: str, columns: int) -> list[tuple[Any, ...]]:
    """What stands in the rows below a header, as far as something does, in so many columns from the one of that head."""
    at = head_row(sheet, first_head)
    place = sheet.row(at).index(first_head)
    rows = (row[place : place + columns] for row in sheet.rows(at + 1))
    return [tuple(None if cell == "" else cell for cell in row) for row in rows if any(cell not in {None, ""} for cell in row)]


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Result, Path]:
    """The pack of the demo with its log and stores, written once."""
    out = tmp_path_factory.mktemp("pack") / "outage.xlsx"
    return run(*PACK, "--log", LOG_FILE, "--stores", STORES_FILE, "-o", out), out


def test_a_pack_brings_log_and_stores_along(packed: tuple[Result, Path]) -> None:
    """Every row of both files stands on its sheet, in order, its date a real one and its numbers numbers."""
    result, out = packed
    assert (result.exit_code, result.stderr) == (0, "")
    for path, sheet, first in ((LOG_FILE, "Log", "Date of the reading"), (STORES_FILE, "Stores", "Order code")):
        with path.open(encoding="utf-8", newline="") as file:
            wanted = list(csv.reader(file))[1:]
        held = typed_in(Page(out, sheet), first, len(wanted[0]))
        shown = [["" if cell is None else cell for cell in row] for row in held][: len(wanted)]  # below stand the codes of other lines
        if sheet == "Log":
            wanted = [[str((dt.date.fromisoformat(row[0]) - dt.date(1899, 12, 30)).days), *row[1:]] for row in wanted]
        assert [[cell if isinstance(one, str) else float(cell) for cell, one in zip(*both, strict=True)]
                for both in zip(wanted, shown, strict=True)] == shown  # fmt: skip


def test_the_demo_shows_each_state_that_its_readme_tells(packed: tuple[Result, Path]) -> None:
    """The states of demo/README.md by tag, every state among them, and the rows of the log in which something is wrong."""
    follow_up, log = Page(packed[1], "Follow-up"), Page(packed[1], "Log")
    text = DEMO.with_name("README.md").read_text(encoding="utf-8")
    told = dict(re.findall(r"^\| ([A-Z]{2}-\d+) \| ([a-z ]+) \|", text, re.MULTILINE))
    assert set(told.values()) == {"act now", "repack at next outage", "adjust", "leave", "no reading"}
    head = head_row(follow_up, "State")
    states = dict(zip(column(follow_up, "Tag", head), column(follow_up, "State", head), strict=True))
    assert told == {tag: states[tag] for tag in told}
    checks = column(log, "Check reading", head_row(log, "Check reading"))
    wrong = [row for row, words in enumerate(checks, start=2) if words not in {None, "", "OK"}]
    assert wrong == [int(row) for row in re.findall(r"\brow (\d+),", text)]
    assert "Log: 44 rows from log.csv, 4 of them to look at" in packed[0].stdout.splitlines()


def test_a_filled_in_pack_is_brought_along_in_its_turn(packed: tuple[Result, Path], tmp_path: Path) -> None:
    """The sheets Log and Stores of a pack give the same rows again, and nothing is found fault with that was not before."""
    again = run(*PACK, "--next", "2028-04-10", "--log", packed[1], "--stores", packed[1], "-o", tmp_path / "again.xlsx")
    assert (again.exit_code, again.stderr) == (0, "")
    for sheet, head, columns in (("Log", "Date of the reading", 10), ("Stores", "Order code", 8)):
        first, second = (typed_in(Page(path, sheet), head, columns) for path in (packed[1], tmp_path / "again.xlsx"))
        assert first == second
    found = [next(line for line in one.stdout.splitlines() if " findings, " in line) for one in (packed[0], again)]
    assert found[0] == found[1]
    follow_up = [next(line for line in one.stdout.splitlines() if "Follow-up:" in line) for one in (packed[0], again)]
    assert ["1 repack at next outage" in follow_up[0], "2 repack at next outage" in follow_up[1]] == [True, True]


def test_findings_of_a_log_join_those_of_the_list(tmp_path: Path) -> None:
    """They stand on Findings after those of the list, with the name of their file and without a row of the list."""
    path, out = tmp_path / "readings.csv", tmp_path / "out.xlsx"
    path.write_text("Date of the reading,Tag of the valve read,Weather\n03/04/2027,V-1,rain\n", encoding="utf-8")
    result = run("pack", small_list(tmp_path, VALVE), "--start", "2027-04-12", "--log", path, "-o", out)
    assert result.exit_code == 0, result.output
    sheet = Page(out, "Findings")
    head = head_row(sheet, "Kind")
    kinds, words = column(sheet, "Kind", head), column(sheet, "What is found", head)
    assert kinds[-2:] == ["column-left-behind", "ambiguous-date"]
    assert [text.startswith("readings.csv: ") for text in words] == [False] * (len(words) - 2) + [True] * 2
    assert column(sheet, "Row of your list", head)[-2:] == [None, None]
    assert f"{len(kinds)} findings, listed on the sheet Findings" in result.stdout.splitlines()
    assert typed_in(Page(out, "Log"), "Date of the reading", 2) == [("03/04/2027", "V-1")]


def test_what_does_not_fit_the_outage_is_refused(tmp_path: Path) -> None:
    """A log in mm for a workbook in inches, and more items than Stores has rows, are told in a sentence, and nothing is written."""
    valves, out = small_list(tmp_path, VALVE), tmp_path / "out.xlsx"
    stores = tmp_path / "stores.csv"
    stores.write_text("Order code\n" + "".join(f"X{number}\n" for number in range(2001)), encoding="utf-8")
    before = left_in(tmp_path)
    words = ("pack", valves, "--start", "2027-04-12", "-o", out)
    refused(run(*words, "--units", "US", "--log", LOG_FILE), "says mm for 'Gap at stud 1' and the workbook takes in there")
    refused(run(*words, "--stores", stores), "stores.csv has 2,001 rows and the sheet Stores takes 2,000")
    refused(run(*words, "--log", tmp_path / "none.csv"), "There is no file")
    assert before == left_in(tmp_path)
