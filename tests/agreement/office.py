"""LibreOffice as the second engine: it recalculates a copy of a workbook, or acts on it as a person would. Gnumeric is the third.

Both repeat the stored results of files that they did not write. So every formula cell of the copy first gets a poison as
its stored result, a full recalculation is asked for, and a result that still is the poison is an error here. Nothing is
believed from the exit code, which is 0 on failure too: files are looked at.
"""

from __future__ import annotations

import contextlib
import math
import os
import re
import shutil
import signal
import subprocess
import tempfile
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

import pytest
from reading import Value, cells, defined_names

from sheetcalc.planning import ready_made
from sheetcalc.sheets.write import write

Place = tuple[str, str]

#: What every formula cell of a copy holds before LibreOffice sees it; no answer is like it.
POISON: Final = 987654321.125
#: Values of the setting OOXMLRecalcMode.
ALWAYS, NEVER = 0, 1
#: The agreement that is asked for, relative for numbers beyond 1, absolute for smaller ones.
TOLERANCE: Final = 1e-9
_SECONDS: Final = 240
#: What a command belongs to.
_PROGRAMS: Final = {"soffice": "LibreOffice", "ssconvert": "Gnumeric"}
_FORMULA_CELL: Final = re.compile(
    rb'(<c r="[A-Z]+\d+"(?: s="\d+")?)(?: t="\w+")?(>(?:<f>[^<]*</f>|<f [^>]*/>|<f [^>]*>[^<]*</f>))<v>[^<]*</v></c>'
)
_POISONED: Final = f"<v>{POISON}</v>".encode()
_FORMULA: Final = re.compile(rb"<f[ >/]")


class OfficeError(Exception):
    """LibreOffice or Gnumeric did not do what was asked."""


def available(command: str = "soffice") -> bool:
    """Whether a program is installed."""
    return shutil.which(command) is not None


def require(command: str = "soffice") -> None:
    """Skip the test where LibreOffice, or Gnumeric's `ssconvert`, is not installed; in CI that is a failure."""
    if available(command):
        return
    reason = f"{_PROGRAMS[command]} ({command}) is not installed"
    if os.environ.get("CI"):
        pytest.fail(f"{reason}, and CI must prove the workbooks with it")
    pytest.skip(reason)


# --- reading ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Content:
    """What a cell of a file holds: its value or the stored result of its formula. An error value is NaN, like nothing."""

    value: Value
    is_formula: bool


@lru_cache(maxsize=4)
def contents(path: Path) -> Mapping[Place, Content]:
    """Every cell of the file that holds something, by sheet and address. A file is written once, so it is read once."""
    return {
        (sheet, cell.place): Content(cell.value, cell.formula is not None) for sheet, held in cells(path) for cell in held
    }  # fmt: skip


def named_cells(path: Path) -> dict[str, Place]:
    """Where each defined name of a single cell points."""
    out: dict[str, Place] = {}
    for name, target in defined_names(path).items():
        sheet, _mark, place = target.rpartition("!")
        if re.fullmatch(r"\$[A-Z]+\$\d+", place):
            out[name] = sheet.strip("'"), place.replace("$", "")
    return out


def stored_values(path: Path) -> dict[Place, Value]:
    """The stored result of every formula cell of a workbook."""
    return {place: held.value for place, held in contents(path).items() if held.is_formula}


def formula_values(original: Path, recalculated: Path) -> dict[Place, Value]:
    """What the formula cells of a workbook hold after recalculation.

    Raises OfficeError for a cell that is no formula any more.
    """
    after = contents(recalculated)
    places = stored_values(original)
    lost = [place for place in places if place not in after or not after[place].is_formula]
    if lost:
        message = f"{len(lost)} formula cells of {original.name} are none after recalculation, {lost[0]} first"
        raise OfficeError(message)
    return {place: after[place].value for place in places}


def count_formulas(path: Path) -> int:
    """The number of formula cells of a workbook, counted in the bytes of its sheets without reading the cells."""
    with zipfile.ZipFile(path) as archive:
        return sum(len(_FORMULA.findall(archive.read(name))) for name in archive.namelist() if name.startswith("xl/worksheets/sheet"))


# --- comparing --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Comparison:
    """What two sets of values have in common: cells compared, the worst difference of numbers, what differs in words."""

    compared: int
    numbers: int
    worst: float
    different: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.compared} cells compared, {self.numbers} of them numbers, worst difference {self.worst:.1e}"


def difference(expected: Value, actual: Value) -> float:
    """How far two values lie apart: relative beyond 1, absolute below, infinite where they are not of one kind.

    A blank and an empty text are the same; an error value is like nothing, not even like another one.
    """
    numbers = [one for one in (expected, actual) if isinstance(one, float)]
    if len(numbers) == 2:
        apart = abs(numbers[0] - numbers[1]) / max(1.0, *map(abs, numbers))
        return math.inf if math.isnan(apart) else apart
    same_kind = not numbers and isinstance(expected, bool) == isinstance(actual, bool)
    return 0.0 if same_kind and (expected or "") == (actual or "") else math.inf


def compare(expected: Mapping[Place, Value], actual: Mapping[Place, Value]) -> Comparison:
    """Compare values cell by cell; a cell that only one side has is different."""
    worst, numbers, different = 0.0, 0, []
    for place, value in expected.items():
        other = actual.get(place, math.nan)
        apart = difference(value, other)
        numbers += isinstance(value, float)
        if apart > TOLERANCE:
            different.append(f"{place[0]}!{place[1]}: expected {value!r}, got {other!r}")
        else:
            worst = max(worst, apart)
    different += [f"{place[0]}!{place[1]}: not expected" for place in actual if place not in expected]
    return Comparison(len(expected), numbers, worst, tuple(different))


# --- workbooks --------------------------------------------------------------------------------------------------------


def workbook(name: str, folder: Path) -> Path:
    """The ready-made workbook of that name: the one of the project where it is there, else one written to `folder`."""
    shipped = Path(__file__).parents[2] / "workbooks" / name
    if shipped.is_file():
        return shipped
    path = folder / name
    write(ready_made()[name](), path)
    return path


# --- running ----------------------------------------------------------------------------------------------------------


def poison(path: Path, copy: Path) -> int:
    """Copy a workbook with the poison as the stored result of every formula cell; returns how many there are.

    Raises OfficeError when a formula cell was missed.
    """
    done = 0
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(copy, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as target:
        for name in source.namelist():
            data = source.read(name)
            if name.startswith("xl/worksheets/sheet"):
                data, here = _FORMULA_CELL.subn(rb"\1\2" + _POISONED + b"</c>", data)
                done += here
            target.writestr(name, data)
    wanted = count_formulas(path)
    if done != wanted:
        message = f"{path.name} has {wanted} formula cells and {done} were poisoned"
        raise OfficeError(message)
    return done


_CELL_AND_FORMULA: Final = re.compile(rb"(<c [^>]*>)(<f[^>]*?(?:/>|>[^<]*</f>))(<v></v>)?")
_TRIES: Final = b"SUMPRODUCT(MAX("
_SHARED: Final = re.compile(rb' si="([0-9]+)"')


def for_gnumeric(path: Path, folder: Path) -> Path:
    """A copy in which what tries a column of ring counts is no formula but what is stored.

    Gnumeric does not cut each number of a column to a whole one, as Excel and LibreOffice do.
    """
    copy = _empty(folder) / path.name
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(copy, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as target:
        for name in source.namelist():
            data = source.read(name)
            if name.startswith("xl/worksheets/sheet"):
                formulas = [formula for _cell, formula, _blank in _CELL_AND_FORMULA.findall(data) if _TRIES in formula]
                groups = {group for formula in formulas for group in _SHARED.findall(formula.split(b">")[0])}

                def bare(found: re.Match[bytes], groups: set[bytes] = groups) -> bytes:
                    if _TRIES not in found[2] and not groups & set(_SHARED.findall(found[2].split(b">")[0])):
                        return found[0]
                    return found[1] + b'<f>""</f><v></v>' if found[3] else found[1]  # an empty text, not an empty cell

                data = _CELL_AND_FORMULA.sub(bare, data)
            target.writestr(name, data)
    assert count_formulas(copy) > 0.98 * count_formulas(path)
    return copy


def refuse_poison(path: Path) -> None:
    """Raise OfficeError when a formula cell still holds what was stored before the file was opened."""
    with zipfile.ZipFile(path) as archive:
        held = sum(archive.read(name).count(_POISONED) for name in archive.namelist() if name.startswith("xl/worksheets/sheet"))
    if held:
        message = f"{held} formula cells of {path.name} were not recalculated"
        raise OfficeError(message)


_SETTINGS: Final = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>{mode}</value></prop></item>
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop></item>
<item oor:path="/org.openoffice.Setup/Office"><prop oor:name="ooSetupInstCompleted" oor:op="fuse"><value>true</value></prop></item>
</oor:items>
"""
_LIBRARIES: Final = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:libraries PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "libraries.dtd">
<library:libraries xmlns:library="http://openoffice.org/2000/library" xmlns:xlink="http://www.w3.org/1999/xlink">
<library:library library:name="Standard" library:link="false"/>
</library:libraries>
"""
_LIBRARY: Final = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false"
 library:passwordprotected="false">{element}</library:library>
"""
_MODULE: Final = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Module1" script:language="StarBasic">{code}</script:module>
"""


@contextlib.contextmanager
def _profile(locale: str, mode: int, macro: str = "") -> Iterator[Path]:
    """A fresh private profile, with a macro if one is given."""
    with tempfile.TemporaryDirectory(prefix="office-", ignore_cleanup_errors=True) as folder:
        user = Path(folder) / "user"
        standard = user / "basic" / "Standard"
        standard.mkdir(parents=True)
        (user / "registrymodifications.xcu").write_text(_SETTINGS.format(mode=mode, locale=locale), encoding="utf-8")
        if macro:
            for kind, element in (("script", '<library:element library:name="Module1"/>'), ("dialog", "")):
                (standard.parent / f"{kind}.xlc").write_text(_LIBRARIES, encoding="utf-8")
                (standard / f"{kind}.xlb").write_text(_LIBRARY.format(element=element), encoding="utf-8")
            (standard / "Module1.xba").write_text(_MODULE.format(code=escape(macro)), encoding="utf-8")
        yield Path(folder)


def _run(profile: Path, *arguments: str) -> str:
    """Run LibreOffice without a window; returns what it said. It is ended with all its parts after too long a time."""
    command = shutil.which("soffice")
    if command is None:
        message = "soffice is not installed"
        raise OfficeError(message)
    line = [command, "--headless", "--norestore", "--nologo", f"-env:UserInstallation={profile.as_uri()}", *arguments]
    with subprocess.Popen(  # noqa: S603 - a fixed program, our own arguments
        line, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace", start_new_session=True
    ) as process:  # fmt: skip
        try:
            return process.communicate(timeout=_SECONDS)[0]
        except subprocess.TimeoutExpired as error:
            os.killpg(process.pid, signal.SIGKILL)
            message = f"LibreOffice was not done after {_SECONDS} seconds"
            raise OfficeError(message) from error


def _written(path: Path, said: str) -> Path:
    """The file, which must be there: the folders that it is written to start empty.

    Raises OfficeError when it is missing or still holds the poison.
    """
    if not path.is_file() or not zipfile.is_zipfile(path):
        message = f"No {path.name} was written: {said.strip()}"
        raise OfficeError(message)
    refuse_poison(path)
    return path


def _empty(folder: Path) -> Path:
    folder.mkdir(parents=True)
    return folder


def recalculate(paths: Sequence[Path], folder: Path, *, locale: str = "en-US", mode: int = ALWAYS) -> dict[str, Path]:
    """Recalculate poisoned copies of workbooks in one start of LibreOffice; returns the new files by name.

    `folder` must not exist. Raises OfficeError when a file is not written or not recalculated.
    """
    poisoned, done = _empty(folder / "poisoned"), _empty(folder / "recalculated")
    for path in paths:
        poison(path, poisoned / path.name)
    with _profile(locale, mode) as profile:
        names = [str(poisoned / path.name) for path in paths]
        said = _run(profile, "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(done), *names)
    return {path.name: _written(done / path.name, said) for path in paths}


def recalculate_in_gnumeric(paths: Sequence[Path], folder: Path) -> dict[str, Path]:
    """Recalculate poisoned copies of workbooks in Gnumeric, the third program; returns the new files by name.

    It does not know references to the columns of a table, so lists are not for it. `folder` must not exist. Raises
    OfficeError when a file is not written or not recalculated.
    """
    poisoned, done = _empty(folder / "poisoned"), _empty(folder / "recalculated")
    said = ""
    for path in paths:
        poison(path, poisoned / path.name)
        line = ["ssconvert", "--recalc", str(poisoned / path.name), str(done / path.name)]
        said = subprocess.run(line, capture_output=True, text=True, errors="replace", check=False, timeout=_SECONDS).stderr  # noqa: S603
    return {path.name: _written(done / path.name, said) for path in paths}


# --- acting as a person -----------------------------------------------------------------------------------------------

_BASIC: Final = """
Function Named(doc, name)
    Named = doc.NamedRanges.getByName(name).ReferredCells.getCellByPosition(0, 0)
End Function

Function At(doc, sheet, address)
    At = doc.Sheets.getByName(sheet).getCellRangeByName(address)
End Function

Sub Clear(cells)
    cells.clearContents(1 + 2 + 4 + 16)
End Sub

Sub SortBy(cells, column, ascending)
    Dim fields(0) As New com.sun.star.table.TableSortField
    fields(0).Field = column
    fields(0).IsAscending = ascending
    Dim how(1) As New com.sun.star.beans.PropertyValue
    how(0).Name = "SortFields"
    how(0).Value = fields()
    how(1).Name = "ContainsHeader"
    how(1).Value = False
    cells.sort(how())
End Sub

Function Opened(place)
    Dim hidden(0) As New com.sun.star.beans.PropertyValue
    hidden(0).Name = "Hidden"
    ' LibreOffice copies no sheet into a hidden document; without a window nothing is seen anyway.
    hidden(0).Value = False
    Opened = StarDesktop.loadComponentFromURL(ConvertToURL(place), "_blank", 0, hidden())
End Function

Sub CopyInto(doc, title, place)
    Dim source As Object
    source = Opened(place)
    Dim how(2) As New com.sun.star.beans.PropertyValue
    how(0).Name = "DocName"
    how(0).Value = title
    how(1).Name = "Index"
    how(1).Value = 32767
    how(2).Name = "Copy"
    how(2).Value = True
    createUnoService("com.sun.star.frame.DispatchHelper").executeDispatch(source.CurrentController.Frame, ".uno:Move", "", 0, how())
    source.close(True)
    Kill(place)
End Sub

Sub Save(doc, place)
    Dim as_excel(0) As New com.sun.star.beans.PropertyValue
    as_excel(0).Name = "FilterName"
    as_excel(0).Value = "Calc MS Excel 2007 XML"
    doc.storeToURL(ConvertToURL(place), as_excel())
    doc.close(True)
End Sub

Sub Main
    On Error GoTo Failed
    Dim doc As Object
%s
    StarDesktop.terminate()
    Exit Sub
Failed:
    Dim number As Integer
    number = FreeFile
    Open %s For Output As #number
    Print #number, "line " & Erl & ": " & Error$
    Close #number
    StarDesktop.terminate()
End Sub
"""


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def type_named(name: str, text: str) -> str:
    """A step: type a text into the cell of a defined name, as a person does in the profile's locale."""
    return f"Named(doc, {_quoted(name)}).FormulaLocal = {_quoted(text)}"


def clear_named(name: str) -> str:
    """A step: empty the cell of a defined name."""
    return f"Clear(Named(doc, {_quoted(name)}))"


def insert_rows(sheet: str, before: int, count: int) -> str:
    """A step: insert whole blank rows before one that is numbered as the sheet does."""
    return f"doc.Sheets.getByName({_quoted(sheet)}).Rows.insertByIndex({before - 1}, {count})"


def type_at(sheet: str, address: str, text: str) -> str:
    """A step: type a text into a cell."""
    return f"At(doc, {_quoted(sheet)}, {_quoted(address)}).FormulaLocal = {_quoted(text)}"


def clear_at(sheet: str, block: str) -> str:
    """A step: empty a block of cells."""
    return f"Clear(At(doc, {_quoted(sheet)}, {_quoted(block)}))"


def delete_rows(sheet: str, first: int, count: int) -> str:
    """A step: delete whole rows, the first numbered as the sheet does."""
    return f"doc.Sheets.getByName({_quoted(sheet)}).Rows.removeByIndex({first - 1}, {count})"


def sort(sheet: str, block: str, column: int, *, ascending: bool) -> str:
    """A step: sort a block without its header by its column, counted from 0."""
    return f"SortBy(At(doc, {_quoted(sheet)}, {_quoted(block)}), {column}, {ascending})"


def copy_into(path: Path, source: Path) -> str:
    """A step: copy the first sheet of another workbook behind those of the one at `path`, by the command of the menu.

    The source is deleted afterwards, so that nothing can still read it.
    """
    return f"CopyInto(doc, {_quoted(path.stem)}, {_quoted(str(source))})"


@dataclass(frozen=True)
class Job:
    """What a person does with a workbook from opening to saving."""

    name: str
    path: Path
    steps: Sequence[str]


def act(jobs: Sequence[Job], folder: Path, *, locale: str = "en-US") -> dict[str, Path]:
    """Do jobs one after the other, each on a poisoned copy, in one start of LibreOffice; returns the saved files by job.

    `folder` must not exist. Raises OfficeError when a step fails, a file is not written or not recalculated.
    """
    poisoned, done = _empty(folder / "poisoned"), _empty(folder / "done")
    lines: list[str] = []
    for path in {job.path for job in jobs}:
        poison(path, poisoned / path.name)
    for job in jobs:
        lines += [f"doc = Opened({_quoted(str(poisoned / job.path.name))})", *job.steps]
        lines.append(f"Save(doc, {_quoted(str(done / f'{job.name}.xlsx'))})")
    fault = folder / "fault.txt"
    with _profile(locale, ALWAYS, _BASIC % ("\n".join(f"    {line}" for line in lines), _quoted(str(fault)))) as profile:
        said = _run(profile, "macro:///Standard.Module1.Main")
    if fault.is_file():
        message = f"A step failed: {fault.read_text(encoding='utf-8', errors='replace').strip()}"
        raise OfficeError(message)
    return {job.name: _written(done / f"{job.name}.xlsx", said) for job in jobs}
