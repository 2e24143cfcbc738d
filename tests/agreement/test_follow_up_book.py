"""The certified line of a published data set, typed as a log into the ready-made follow-up workbook, read from both engines."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import pytest
from agreement import office
from agreement.engine import Book
from agreement.office import Job
from calculations.test_follow_up import NORRIS, RESIDUAL, SLOPE

from sheetcalc.sheets import follow_up_book, log, outage_plan
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import column_letters
from sheetcalc.sheets.outage_rows import FIRST, WORKING_ROWS
from sheetcalc.sheets.write import write

#: A day for each tenth of x, from here on; the gap is a metre less y, so that it falls.
_DAY: Final = 40_000


def _typed() -> list[tuple[str, int, int, float | str]]:
    """Sheet, row and column from 0, and what is typed: the tag once, and a row of the log for each pair."""
    names = [name for name, _width in log.READINGS.entries]
    cells: list[tuple[str, int, int, float | str]] = [(log.FOLLOWED, log.HEADER + 1, 0, "N-1")]
    for row, (x, y) in enumerate(NORRIS, start=log.HEADER + 1):
        held: dict[str, float | str] = {
            "log_date_entered": float(_DAY + round(10 * x)), "log_tag": "N-1", "log_gap_1_entered": round(1000 - y, 1),
        }  # fmt: skip
        cells += [(log.LOG, row, names.index(name), value) for name, value in held.items()]
    return cells


def _judge(read: Callable[[int, int], Any]) -> None:
    """`read` takes row and column from 1 on Outage working."""
    rows = outage_plan.follow_up_rows(EDITIONS["metric"], follow_up_book.VALVES, follow_up_book.READINGS)
    got = {name: read(FIRST + 1, rows.column[name] + 1) for name in ("readings", "loss_rate", "residual_spread")}

    assert got["readings"] == len(NORRIS)
    assert got["loss_rate"] == pytest.approx(SLOPE / 10, rel=1e-11)
    # Squares are rounded to the counting digits before they are added up, so the spread is good to fewer places.
    assert got["residual_spread"] == pytest.approx(RESIDUAL, rel=1e-6)


def test_ironcalc_gives_the_certified_line(tmp_path: Path) -> None:
    """Typed into IronCalc."""
    book = Book(follow_up_book.layout(EDITIONS["metric"]), tmp_path / "follow-up.xlsx")
    for sheet, row, column, value in _typed():
        place = (book.names.index(sheet), row + 1, column + 1)
        if isinstance(value, str):
            book.model.update_cell_with_text(*place, value)
        else:
            book.model.update_cell_with_number(*place, value)
    book.recalculate()

    _judge(lambda row, column: book.value(WORKING_ROWS, row, column))


@pytest.mark.proof
@pytest.mark.office
def test_libreoffice_gives_the_certified_line(tmp_path: Path) -> None:
    """Typed into LibreOffice, dates as a person types them."""
    office.require()
    path = tmp_path / "follow-up.xlsx"
    write(follow_up_book.layout(EDITIONS["metric"]), path)
    day = dt.date(1899, 12, 30)
    steps = [
        office.type_at(
            sheet, f"{column_letters(column)}{row + 1}",
            (day + dt.timedelta(days=value)).isoformat() if column == 0 and isinstance(value, float) else str(value),
        )
        for sheet, row, column, value in _typed()
    ]  # fmt: skip
    saved = office.act([Job("follow-up", path, steps)], tmp_path / "saved")["follow-up"]
    held = office.contents(saved)

    _judge(lambda row, column: held[WORKING_ROWS, f"{column_letters(column - 1)}{row}"].value)
