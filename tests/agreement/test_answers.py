"""A list of a smaller set of answers: its formulas are those of the whole, and what gathers a family is recalculated in full."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from agreement import office
from agreement.engine import compare
from agreement.valves import as_read
from told import Tell

from sheetcalc.calculations.answers import answers_named
from sheetcalc.declare.quantity import Derived, Gathered, get
from sheetcalc.sheets import valve_list
from sheetcalc.sheets.common import in_names
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Layout, Sheet, column_letters
from sheetcalc.sheets.write import write

#: Valves of the generated ones.
_COUNT = 200


def _list(unit_set: str, first: int, count: int = _COUNT) -> Layout:
    """The whole pack of generated valves, of which only what repacking asks is typed in."""
    edition = EDITIONS[unit_set].answering("repack")
    valves = as_read().iloc[first : first + count].reset_index(drop=True)
    valves["tag"] = [f"T-{number}" for number in range(count)]
    outage = {"outage_start_entered": 46900.0, "status_date_entered": 46700.0, "next_outage_entered": 47300.0}
    return valve_list.layout(edition, valve_list.Filled(valves, outage=outage), spare=5)


def _sheet(layout: Layout, name: str) -> Sheet:
    return next(sheet for sheet in layout.sheets if sheet.name == name)


def test_each_formula_of_the_list_is_that_of_the_whole() -> None:
    """Addresses put back to names, each column of Working has the formula of its quantity; all but gathering ones the registered one."""
    answers = answers_named("repack")
    sheet = _sheet(_list("metric", 0, 5), "Working")
    named = {cell.column: str(cell.value) for cell in sheet.cells if cell.row == 5 and cell.column}
    letters = {column_letters(column): name for column, name in named.items()} | {"A": "position"}

    def back(text: str) -> str:
        text = re.sub(r"Working!\$([A-Z]+)\$[0-9]+:\$[A-Z]+\$[0-9]+", lambda found: f"every_{letters[found[1]]}", text)
        text = re.sub(r"(?:'[^']+'|[A-Za-z]+)!\$([A-Z]+)\$[0-9]+:\$[A-Z]+\$[0-9]+", "every_of_another", text)
        return re.sub(r"\$([A-Z]+)98765\b", lambda found: letters[found[1]], text)

    same = gathers = 0
    for column in sheet.grids[0].columns:
        name = named.get(column.column, "")
        if not column.parts or name not in answers or not isinstance(get(name), Derived):
            continue
        said = back("98765".join(column.parts))
        wanted = in_names(answers.get(name, Derived))[1:]
        if "every_of_another" in said:
            wanted = re.sub(r"\bevery_day_[a-z_]+", "every_of_another", wanted)

        assert said == wanted, name

        if isinstance(get(name), Gathered):
            gathers += 1
        else:
            same += 1
            assert answers.get(name) is get(name)
    assert same > 550
    assert gathers > 20


@pytest.mark.proof
@pytest.mark.parametrize("unit_set", EDITIONS)
def test_a_pack_of_repacking_agrees_in_ironcalc(unit_set: str, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of every sheet."""
    count, worst, wrong = compare(_list(unit_set, 0 if unit_set == "metric" else _COUNT), tmp_path / "list.xlsx")

    assert wrong[:10] == []

    tell(f"IronCalc, pack of repacking, {unit_set}: {_COUNT} valves, {count} formula cells, worst difference {worst:.2e}")


@pytest.mark.proof
def test_a_pack_of_repacking_agrees_in_libreoffice(tmp_path: Path, tell: Tell) -> None:
    """The same, poisoned, in LibreOffice."""
    office.require()
    path = tmp_path / "list.xlsx"
    write(_list("metric", 2 * _COUNT), path)
    found = office.compare(
        office.stored_values(path), office.formula_values(path, office.recalculate([path], tmp_path / "done")[path.name])
    )

    assert found.different[:10] == ()
    assert found.compared == office.count_formulas(path)

    tell(f"LibreOffice, pack of repacking: {_COUNT} valves, {found}")
