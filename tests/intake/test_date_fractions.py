"""Facts about dates that a spreadsheet made of fractions."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sheetcalc.findings import DateNotNumber, DateWasFraction
from sheetcalc.intake import values


@pytest.mark.parametrize(
    ("text", "fractions"),
    [
        ("16-Jul", ("7/16",)),
        ("Jul-16", ("7/16",)),
        ("7/16/2025", ("7/16",)),
        ("2025-07-16", ("7/16",)),
        ("16.07.2025", ("7/16",)),
        ("2025-07-16 00:00:00", ("7/16",)),
        ("8 Jan", ("1/8",)),
        ("1-Aug", ("1/8",)),
        ("3 Apr 2026", ("3/4",)),
        ("4-Mar", ("3/4",)),
        ("May-32", ("5/32",)),
        ("Jul-64", ("7/64",)),
        ("5-Mar", ()),
        ("3-Oct", ()),
        ("12.11.2026", ()),
    ],
)
def test_date_as_text(text: str, fractions: tuple[str, ...]) -> None:
    """A date in a text file is no number; the fraction of an inch rule that becomes such a date is named, where there is one."""
    reading = values.read_value(text)
    assert (None, DateWasFraction if fractions else DateNotNumber, fractions) == (reading.number, reading.fault, reading.fractions)


@pytest.mark.parametrize(
    ("cell", "fractions"),
    [
        (dt.datetime(2026, 7, 16), ("7/16",)),  # noqa: DTZ001 - a spreadsheet has no time zones
        (dt.date(2026, 8, 1), ("1/8",)),
        (dt.date(1932, 5, 1), ("5/32",)),
        (dt.date(2016, 1, 7), ("1 7/16", "7 1/16")),
        (dt.date(2026, 3, 5), ()),
        (dt.time(12, 0), ()),
    ],
)
def test_date_cell(cell: object, fractions: tuple[str, ...]) -> None:
    """A date of a spreadsheet is no number either, and its fraction is named in the same way."""
    reading = values.read_value(cell)
    assert (None, DateWasFraction if fractions else DateNotNumber, fractions) == (reading.number, reading.fault, reading.fractions)


@given(st.sampled_from([2, 4, 8, 16]), st.integers(min_value=0, max_value=7), st.integers(min_value=2017, max_value=2031))
def test_every_fraction_comes_back_from_its_date(bottom: int, half: int, year: int) -> None:
    """Each fraction of an inch down to 16ths that a spreadsheet turns into a date is the one that is named."""
    top = 2 * half + 1
    assume(top < bottom and top <= 12)
    months_first = dt.date(year, top, bottom)
    assert values.read_value(months_first).fractions == (f"{top}/{bottom}",)
    if bottom <= 12:
        assert values.read_value(dt.date(year, bottom, top)).fractions == (f"{top}/{bottom}",)
