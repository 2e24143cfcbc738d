"""Facts about the entries of a list."""

from __future__ import annotations

import pytest

from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Per, get
from sheetcalc.intake import entries

STEM = "stem_diameter_entered"


def test_the_columns_are_the_entries_that_are_declared() -> None:
    """The columns of the plan are what is typed for a row of the list, the others what is typed for a valve, each once."""
    assert tuple(name for name in entry_names(Per.LISTED) if name != "position") == entries.PLAN_COLUMNS
    others = [name for name in entries.ENTRY_COLUMNS if name not in entries.PLAN_COLUMNS]
    assert sorted(others) == sorted(entry_names(Per.VALVE))
    assert len(entries.ENTRY_COLUMNS) == len(set(entries.ENTRY_COLUMNS)) == len(others) + len(entries.PLAN_COLUMNS)
    assert set(entries.TEXT_COLUMNS) == {name for name in entries.ENTRY_COLUMNS if get(name).is_text}
    assert {name: str(get(name).dimension) for name in entries.DIMENSIONS} == entries.DIMENSIONS
    assert [get(name).unit for name, dimension in entries.MEASURED_AS.items() if dimension == "time"] == ["h"]


@pytest.mark.parametrize(
    ("name", "entry"),
    [
        ("stem_diameter", STEM),
        ("stem_diameter_entered", STEM),
        (" Stem Diameter ", STEM),
        ("stem-diameter", STEM),
        ("tag", "tag"),
        ("carry", entries.CARRY),
        ("stem", ""),
        ("", ""),
    ],
)
def test_names_of_entries(name: str, entry: str) -> None:
    """An entry is named with or without its ending; a word of the trade alone is no name."""
    assert entry == entries.entry_named(name)
