"""The sheets Follow-up and Gap chart: what each gland asks for next, and the gap of one valve over time."""

from __future__ import annotations

from typing import Final

from sheetcalc.calculations.outage.verdict import STATES
from sheetcalc.declare.quantity import Per, get
from sheetcalc.sheets.layout import Cell, Chart, Mark, Series, Sheet, Validation, Value, block, column_letters
from sheetcalc.sheets.outage_rows import FIRST, Rows, Shown, heights_for, one_value, shown, shown_cells, used_rows
from sheetcalc.sheets.register import Book, Purpose, register

FOLLOW_UP, GAP_CHART = "Follow-up", "Gap chart"
_COLUMNS: Final = (
    Shown("followed_number", 6, header="No."),
    Shown("followed_tag", 16, header="Tag"),
    Shown("followed_state", 22, "answer_state", "State"),
    Shown("followed_reason", 52, "answer_wrap"),
    Shown("readings", 9, "answer_some"),
    Shown("last_reading_date", 12),
    Shown("last_gap", 9, header="Last gap"),
    Shown("last_gap_difference", 10, header="Gap difference"),
    Shown("take_up_left", 9),
    Shown("loss_per_year", 10, header="Loss in a year"),
    Shown("residual_spread", 10, header="Scatter"),
    Shown("forecast_from", 12),
    Shown("forecast_date", 12),
    Shown("forecast_to", 12),
    Shown("forecast_words", 40, "answer_wrap"),
    Shown("last_repack", 12),
    Shown("retorque_due_date", 12),
    Shown("last_leak", 9, header="Last leak (ppm)"),
    Shown("check_followed", 40, "answer_wrap", "Check"),
)
_COUNTS: Final = ("followed_act", "followed_repack", "followed_adjust", "followed_leave", "followed_unread")
_FACTS: Final = ("status_date", "next_outage", "leak_limit", "readings_in_use")
#: Where the tag of the chart is typed: beside the chart itself.
_TAG: Final = (2, 2)
_POINTS: Final = (
    Shown("point_date", header="Date"),
    Shown("point_gap", header="Gap read"),
    Shown("point_line", header="Fitted line"),
    Shown("point_take_up", header="Least take-up"),
)
_FIRST_POINT: Final = 30


def typed_elsewhere() -> dict[str, str]:
    """Entries of the outage that are typed on these sheets, by name."""
    return {"chart_tag": f"'{GAP_CHART}'!${column_letters(_TAG[1])}${_TAG[0] + 1}"}


def sheet(rows: Rows) -> Sheet:
    """The sheet Follow-up."""
    cells, grid = shown(rows, Per.FOLLOWED, _COLUMNS, 0)
    cells += [
        Cell(0, 0, FOLLOW_UP, "title"),
        Cell(
            1,
            0,
            "What each gland asks for, from its readings in Log. A forecast is a range, as sure as the confidence chosen on "
            "Outage, and only at the same rate of loss.",
            "subtitle",
        ),
        Cell(2, 0, "Tightening in service only by the site's procedure; never slacken a nut under pressure.", "subtitle"),
    ]
    for row, name in enumerate(_COUNTS, start=3):
        text, value = one_value(rows, name)
        cells += [Cell(row, 3, get(name).title, "band"), Cell(row, 4, value, "answer_count", text)]
    for row, name in enumerate(_FACTS, start=3):
        text, value = one_value(rows, name)
        style = "answer_date" if get(name).unit == "date" else "answer_count"
        cells += [Cell(row, column, get(name).title if column == 6 else "", "band") for column in range(6, 11)]  # noqa: PLR2004
        cells.append(Cell(row, 11, value, style, text))
    text, value = one_value(rows, "check_log")
    cells.append(Cell(7, 6, value, "text", text))
    state, last = 2, FIRST + rows.lengths[Per.FOLLOWED] - 1
    check = len(_COLUMNS) - 1
    letter = column_letters(check)
    return Sheet(
        FOLLOW_UP,
        tuple(cells),
        grids=(grid,),
        widths={place: one.width for place, one in enumerate(_COLUMNS)},
        heights={FIRST - 1: 44.0, **heights_for(rows, ("forecast_words", 34), ("followed_reason", 46), ("check_followed", 34))},
        freeze=(FIRST, 2),
        repeat_rows=(FIRST - 1, FIRST - 1),
        marks=(
            Mark(FIRST, state, last, state, f'$C{FIRST + 1}="{STATES[0]}"', "stop"),
            Mark(FIRST, state, last, state, f'OR($C{FIRST + 1}="{STATES[1]}",$C{FIRST + 1}="{STATES[2]}")', "warn"),
            Mark(FIRST, check, last, check, f'AND(${letter}{FIRST + 1}<>"",${letter}{FIRST + 1}<>"OK")', "warn"),
            Mark(7, 6, 7, 6, 'LEFT($G$8,2)<>"OK"', "warn"),
        ),
        footer=FOLLOW_UP,
        print_area=(0, 0, FIRST + max(used_rows(rows, "followed_valve"), 12), check),
    )


def chart_sheet(rows: Rows, tag: Value) -> Sheet:
    """The sheet Gap chart: a tag is chosen, its gaps and the line through them are drawn."""
    text, value = one_value(rows, "chart_words")
    cells = [
        Cell(0, 0, GAP_CHART, "title"),
        Cell(1, 0, "Choose a tag: its gaps since the last repack, and the line through them.", "subtitle"),
        Cell(_TAG[0], 0, "▸", "mark"),
        Cell(_TAG[0], 1, "Tag", "label"),
        Cell(*_TAG, tag, "entry_text"),
        Cell(3, 1, value, "text", text),
        Cell(_FIRST_POINT - 2, 1, "Rows beyond the last reading repeat it.", "quiet_line"),
        *shown_cells(rows, Per.POINT, _POINTS, _FIRST_POINT, 1),
    ]
    last = _FIRST_POINT + rows.lengths[Per.POINT] - 1

    def series(name: str, column: int, fill: str, line: str, dash: str = "") -> Series:
        place = f"'{GAP_CHART}'!{{}}"
        return Series(
            name,
            place.format(block(_FIRST_POINT, 1, last, 1)),
            place.format(block(_FIRST_POINT, column, last, column)),
            fill,
            dash,
            line,
        )

    chart = Chart(
        4,
        1,
        "Gap over time",
        "Points: gaps read. Dashed: the fitted line. Red: the least take-up, where adjustment runs out.",
        "gap",
        (),
        820,
        460,
        below="date",
        lines=(
            series("gap read", 2, "#33475B", "#33475B"),
            series("fitted line", 3, "", "#5A6168", "dash"),
            series("least take-up", 4, "", "#B03A2E"),
        ),
    )
    return Sheet(
        GAP_CHART,
        tuple(cells),
        charts=(chart,),
        widths={0: 3, 1: 14, 2: 20, 3: 14, 4: 14, 5: 14},
        validations=(Validation(*_TAG, *_TAG, choices=rows.range("followed_tag")),),
        footer=GAP_CHART,
        selected=_TAG,
        fit_height=1,
        heights={_FIRST_POINT - 1: 30.0},
        print_area=(0, 0, last, 12),
    )


for _book, _first in ((Book.LIST, 110), (Book.FOLLOW, 30)):
    register(_book, FOLLOW_UP, _first, Purpose.PRINT, "what each gland asks for, and when it runs out", lambda book: sheet(book.rows))
    register(
        _book,
        GAP_CHART,
        _first + 10,
        Purpose.WORK,
        "the gap of one valve over time",
        lambda book: chart_sheet(book.rows, book.typed.get("chart_tag", "")),
    )
