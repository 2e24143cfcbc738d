"""The one sheet of packing size: three programs against the core, alone and copied into a workbook of somebody else."""

from __future__ import annotations

import re
from pathlib import Path

import ironcalc
import openpyxl
import pytest
from agreement import office
from agreement.engine import compare, difference
from agreement.valves import as_read
from openpyxl.workbook.defined_name import DefinedName
from told import Tell

from sheetcalc.declare.quantity import Derived, get
from sheetcalc.declare.source import Grade
from sheetcalc.sheets import packing_size, valve_list
from sheetcalc.sheets.common import in_names
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Layout, column_letters
from sheetcalc.sheets.write import write

#: Valves of the generated ones that are typed into the sheet.
_COUNT = 300


def _layout(unit_set: str, first: int = 0, count: int = _COUNT) -> Layout:
    edition = EDITIONS[unit_set].answering("packing")
    filled = valve_list.Filled(as_read().iloc[first : first + count].reset_index(drop=True))
    return packing_size.layout(packing_size.Worked(edition, filled, 5), filled)


@pytest.mark.parametrize("unit_set", EDITIONS)
def test_every_cell_agrees_in_ironcalc(unit_set: str, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell over generated valves gives the core's answer."""
    count, worst, wrong = compare(_layout(unit_set, 0 if unit_set == "metric" else _COUNT), tmp_path / "size.xlsx")

    assert wrong[:10] == []
    assert count > _COUNT * 150

    tell(f"IronCalc, packing size, {unit_set}: {_COUNT} valves, {count} formula cells, worst difference {worst:.2e}")


@pytest.mark.proof
@pytest.mark.parametrize("program", ["LibreOffice", "Gnumeric"])
def test_every_cell_agrees_in_another_program(program: str, tmp_path: Path, tell: Tell) -> None:
    """The same, poisoned, in two programs more."""
    office.require("ssconvert" if program == "Gnumeric" else "soffice")
    path = tmp_path / "size.xlsx"
    write(_layout("metric", 2 * _COUNT), path)
    path = office.for_gnumeric(path, tmp_path / "held") if program == "Gnumeric" else path
    done = (office.recalculate_in_gnumeric if program == "Gnumeric" else office.recalculate)([path], tmp_path / "done")
    found = office.compare(office.stored_values(path), office.formula_values(path, done[path.name]))

    assert found.different[:10] == ()
    assert found.compared == office.count_formulas(path)

    tell(f"{program}, packing size: {_COUNT} valves, {found}")


@pytest.mark.parametrize("unit_set", EDITIONS)
def test_each_formula_is_that_of_the_whole(unit_set: str) -> None:
    """With addresses put back to names, the formula of each column is the one that stands above it, and that every set has."""
    layout = _layout(unit_set, count=3)
    sheet = layout.sheets[0]
    named = {cell.column: str(cell.value) for cell in sheet.cells if cell.row == 2 and cell.value and cell.column > 20}
    answers = EDITIONS[unit_set].answering("packing").answers
    entries = {column.column: column for column in sheet.grids[0].columns if not column.parts}
    header = {cell.column: str(cell.value) for cell in sheet.cells if cell.row == 7}
    names = {column_letters(column): name for column, name in named.items()}
    typed = {valve_list.entry_header(name): name for name in answers.entries()}
    names |= {column_letters(column): typed[header[column]] for column in entries if header.get(column) in typed}

    def back(text: str) -> str:
        text = re.sub(r"\$([A-Z]+)\$[0-9]+(?::\$[A-Z]+\$[0-9]+)?", lambda found: names[found[1]], text)
        return re.sub(r"\$([A-Z]+)12345\b", lambda found: names[found[1]], text)

    checked = 0
    for column in sheet.grids[0].columns:
        name = named.get(column.column, "")
        if name and column.parts:
            assert "=" + back("12345".join(column.parts)) == in_names(answers.get(name, Derived)), name
            checked += 1

    assert checked == len(answers.worked_out())


def test_each_source_stands_with_its_grade() -> None:
    """Above every working column, constant and column of a table: what is from memory says so on this sheet too."""
    sheet = _layout("metric", count=3).sheets[0]
    named = {cell.column: str(cell.value) for cell in sheet.cells if cell.row == 2 and cell.value and cell.column > 20}
    said = {cell.column: str(cell.value) for cell in sheet.cells if cell.row == 5}
    memory = 0
    for column, name in named.items():
        source = get(name).source
        assert said[column] == f"{source.text} ({source.grade.value})", name
        memory += source.grade is Grade.MEMORY
    assert memory > 5


def test_it_names_nothing_outside_itself(tmp_path: Path) -> None:
    """No defined name, and neither a formula nor a choice that reads another sheet or a name."""
    path = tmp_path / "size.xlsx"
    write(_layout("US", count=5), path)
    book = openpyxl.load_workbook(path)
    sheet = book[packing_size.NAME]
    known = set(EDITIONS["US"].answering("packing").answers.names)
    read = [str(cell.value) for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    choices = [one.formula1 for one in sheet.data_validations.dataValidation if one.formula1]

    assert list(book.defined_names) == []
    assert len(read) > 1000
    assert len(choices) > 5
    for text in [*read, *choices]:
        bare = re.sub(r'"[^"]*"', '""', text)
        assert "!" not in bare, text
        assert not known & set(re.findall(r"[a-z][a-z0-9_]+", bare)), text


def test_copied_twice_into_another_workbook_it_goes_on_calculating(tmp_path: Path) -> None:
    """Into a workbook with a sheet and names of the same words, the source deleted, a constant edited in one copy alone."""
    office.require()
    own, source = tmp_path / "own.xlsx", tmp_path / "size.xlsx"
    book = openpyxl.Workbook()
    assert book.active is not None
    book.active.title = packing_size.NAME
    book.active["A1"], book.active["C1"], book.active["B2"] = "the planner's own", 2331, "=2*21"
    for name in ("stem_diameter", "box_bore", "section_tolerance", "unit_length_factors", "thread_names"):
        book.defined_names[name] = DefinedName(name, attr_text=f"'{packing_size.NAME}'!$C$1")
    book.save(own)
    layout = _layout("metric", count=40)
    write(layout, source)
    steps = []
    for number in (1, 2):
        poisoned = tmp_path / f"source{number}.xlsx"
        office.poison(source, poisoned)
        steps.append(office.copy_into(own, poisoned))
    constant = next(cell for cell in layout.sheets[0].cells if cell.row == 2 and cell.value == "waste_share_usual")
    steps.append(office.type_at(f"{packing_size.NAME}_2", f"{column_letters(constant.column)}4", "0.5"))
    done = office.act([office.Job("own-with-two", own, steps)], tmp_path / "office")["own-with-two"]
    assert not (tmp_path / "source1.xlsx").exists()
    first, second = (f"{packing_size.NAME}_{number}" for number in (2, 3))
    answers = {f"{column_letters(c.column)}{row + 9}": value for c in layout.sheets[0].grids[0].columns if c.parts
               for row, value in enumerate(c.values)}  # fmt: skip
    held = office.contents(done)
    bulk = next(cell.column for cell in layout.sheets[0].cells if cell.row == 2 and cell.value == "bulk_length")
    changed = 0
    for place, value in answers.items():
        assert office.difference(value, held[second, place].value) <= office.TOLERANCE, place
        is_same = office.difference(value, held[first, place].value) <= office.TOLERANCE
        changed += not is_same
        if not is_same and place.startswith(column_letters(bulk)) and isinstance(value, float):
            assert held[first, place].value > value  # type: ignore[operator]
    assert 0 < changed < 200
    model = ironcalc.load_from_xlsx(str(done))
    model.evaluate()
    for place, value in answers.items():
        letters, row = re.fullmatch(r"([A-Z]+)([0-9]+)", place).groups()  # type: ignore[union-attr]
        found = model.get_cell_value(2, int(row), ironcalc.column_number_from_name(letters))
        assert difference(value, found) <= office.TOLERANCE, place
