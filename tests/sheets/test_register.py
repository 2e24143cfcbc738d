"""The register of sheets: each workbook has the sheets that its answers need, in the order that they say."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sheetcalc.declare.quantity import all_quantities
from sheetcalc.errors import DeclarationError
from sheetcalc.sheets import one_valve, register, valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Sheet
from sheetcalc.sheets.register import Book, Purpose


@pytest.fixture
def clean() -> Iterator[None]:
    """The register as it was, whatever a test puts into it."""
    register.of(Book.ONE)
    before = dict(register._sheets)
    yield
    register._sheets.clear()
    register._sheets.update(before)
    register.of.cache_clear()


@pytest.mark.parametrize("book", Book)
def test_what_people_work_on_stands_before_what_an_auditor_reads(book: Book) -> None:
    """Sheets to work on and to print come first, those for the auditor last; each needs quantities that there are."""
    sheets = register.of(book)
    purposes = [one.purpose for one in sheets]
    assert len(sheets) >= 8
    assert Purpose.AUDIT not in purposes[: purposes.index(Purpose.AUDIT)]
    assert set(purposes[purposes.index(Purpose.AUDIT) :]) == {Purpose.AUDIT}
    known = {quantity.name for quantity in all_quantities()}
    assert {name for one in sheets for name in one.needs} <= known


@pytest.mark.parametrize("answers", ["repack", "whole"])
def test_a_workbook_has_the_sheets_that_its_answers_need(answers: str) -> None:
    """Remove and refit stands in the whole one-valve workbook and in no other; the front page names each sheet, and none besides."""
    edition = EDITIONS["metric"].answering(answers)
    layout = one_valve.layout(edition)
    names = [sheet.name for sheet in layout.sheets]
    assert ("Remove and refit" in names) == (answers == "whole")
    assert [cell.value for cell in layout.sheets[0].cells if str(cell.value).startswith(f"Answers: {answers}.")] != []
    links = {link.split("'")[1] for link in layout.sheets[0].links.values()}
    assert links == set(names[1:])


def test_findings_stand_in_a_list_that_was_filled_in() -> None:
    """A blank list has no findings to show, and no list as it came."""
    layout = valve_list.layout(EDITIONS["metric"].answering("repack"), valve_list.blank(), spare=3)
    names = [sheet.name for sheet in layout.sheets]
    assert "Findings" not in names
    assert "Your list" not in names
    assert names.index("Valves") < names.index("Order list") < names.index("Working")


@pytest.mark.usefixtures("clean")
def test_a_new_sheet_registers_itself() -> None:
    """One call, and it stands in its place with a line on the front page."""
    register.register(Book.ONE, "Notes", 45, Purpose.WORK, "room for notes", lambda _book: Sheet("Notes"))
    register.of.cache_clear()
    layout = one_valve.layout(EDITIONS["metric"].answering("repack"))
    names = [sheet.name for sheet in layout.sheets]
    assert names[names.index("Job card") + 1] == "Notes"
    assert "room for notes" in [cell.value for cell in layout.sheets[0].cells]


@pytest.mark.usefixtures("clean")
def test_a_name_or_a_place_is_taken_once() -> None:
    """Two sheets of one workbook neither share a name nor a place; a sheet of another workbook may have both."""
    for name, place in (("Job card", 46), ("Notes", 40)):
        with pytest.raises(DeclarationError, match="takes a name or a place that is taken"):
            register.register(Book.ONE, name, place, Purpose.WORK, "", lambda _book: Sheet("Notes"))
    register.register(Book.FOLLOW, "Job card", 41, Purpose.WORK, "", lambda _book: Sheet("Job card"))
