"""The sheet Labour: the man-hours of each day against the people, the table of tasks, and the critical jobs."""

from __future__ import annotations

from typing import Final

from sheetcalc.declare.quantity import Per, get
from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import cite
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.layout import Cell, Chart, Mark, Series, Sheet, block, column_letters
from sheetcalc.sheets.outage_rows import FIRST, Rows, Shown, heights_for, one_value, shown, shown_cells, used_rows
from sheetcalc.sheets.register import Book, Purpose, register

LABOUR: Final = "Labour"
_COLUMNS: Final = (
    Shown("day_number", 6, header="Day"),
    Shown("day_date", 12),
    Shown("day_jobs", 7, "answer_some", "Jobs"),
    Shown("day_critical_jobs", 8, "answer_some", "Critical"),
    Shown("day_hours", 10, "answer_hours", "Man-hours"),
    Shown("day_available", 10, "answer_hours", "Available"),
    Shown("day_people_needed", 9, "answer_some", "People needed"),
    Shown("day_load", 12, "answer_percent", "Load"),
    Shown("check_day", 46, "answer_wrap", "Check"),
)
_CRITICAL: Final = (
    Shown("critical_tag", header="Tag"),
    Shown("critical_state", header="State"),
    Shown("critical_day", header="Day"),
    Shown("critical_hours", header="Man-hours"),
    Shown("critical_words", header="Plan"),
)
#: Where the chart, the tasks and the critical jobs begin, right of the days.
_RIGHT: Final = len(_COLUMNS) + 1
_TASKS: Final = FIRST + 20
_CHARTED: Final = 31
_SUMS: Final = (
    "people",
    "crew_count",
    "day_capacity",
    "jobs_total",
    "hours_of_valves",
    "hours_of_days",
    "days_needed",
    "finish_date",
)


def _task_rows() -> int:
    return len(reference.values()["task_names"])


def names() -> dict[str, str]:
    """Where the columns of the table of tasks stand, for formulas."""
    last = _TASKS + 1 + _task_rows()
    fields = {"task_names": _RIGHT, "task_valve_minutes": _RIGHT + 2, "task_ring_minutes": _RIGHT + 3}
    return {name: f"{LABOUR}!{block(_TASKS + 2, column, last, column)}" for name, column in fields.items()}


def task_cells() -> list[Cell]:
    """The tasks, their minutes to be changed, and empty rows for the site's own."""
    held = reference.values()
    printed = reference.printed("labour_tasks")
    card = reference.cards()["labour_tasks"]
    heads = ("Task", "", "Minutes per valve", "Minutes per ring", "Grade")
    cells = [
        Cell(_TASKS - 1, _RIGHT, card.title, "heading"),
        Cell(_TASKS, _RIGHT, f"{card.note} Change the minutes, or add your own (▸).", "quiet_line"),
        *(Cell(_TASKS + 1, _RIGHT + place, head, "head") for place, head in enumerate(heads)),
    ]
    for row, task in enumerate(held["task_names"]):
        at = _TASKS + 2 + row
        grade = cite(printed[row]["source"]).grade.value if row < len(printed) else "your own"
        cells += [
            Cell(at, _RIGHT - 1, "▸", "mark"),
            Cell(at, _RIGHT, task, "entry_text"),
            Cell(at, _RIGHT + 1, printed[row]["note"] if row < len(printed) else "", "small"),
            Cell(at, _RIGHT + 2, plain(held["task_valve_minutes"][row]), "entry_number"),
            Cell(at, _RIGHT + 3, plain(held["task_ring_minutes"][row]), "entry_number"),
            Cell(at, _RIGHT + 4, grade, "small"),
        ]
    return [*cells, Cell(_TASKS + 2 + _task_rows(), _RIGHT, f"Source: {card.source.text} ({card.source.grade.value})", "small")]


def sheet(rows: Rows) -> Sheet:
    """The sheet."""
    cells, grid = shown(rows, Per.DAY, _COLUMNS, 0)
    text, name = one_value(rows, "outage_name")
    cells += [
        Cell(0, 0, LABOUR, "title"),
        Cell(0, 4, name, "title", text),
        Cell(1, 0, "Jobs of valves that are READY or LOOK: on the day typed in Valves, else in turn, critical ones first.", "subtitle"),
        Cell(
            2,
            0,
            "Man-hours are a model of ours, from memory: your own records come first. A valve that comes out adds its joints and its lift.",
            "subtitle",
        ),
    ]
    for place, one in enumerate(_SUMS):
        said, value = one_value(rows, one)
        row, column = 3 + place % 4, 0 if place < 4 else 4  # noqa: PLR2004 - two blocks of four
        style = "answer_date" if get(one).unit == "date" else "answer_2" if get(one).unit == "h" else "answer_count"
        cells += [Cell(row, column + i, get(one).title if i == 0 else "", "band") for i in range(3)]
        cells.append(Cell(row, column + 3, value, style, said))
    said, value = one_value(rows, "check_labour")
    cells += [Cell(7, 0, get("check_labour").title, "band"), *(Cell(7, i, "", "band") for i in (1, 2)), Cell(7, 3, value, "text", said)]
    critical = _TASKS + _task_rows() + 5
    cells += task_cells()
    cells.append(Cell(critical, _RIGHT, "Critical jobs", "heading"))
    said, value = one_value(rows, "check_critical")
    cells += [Cell(critical, _RIGHT + 2, value, "text", said)]
    cells += shown_cells(rows, Per.CRITICAL, _CRITICAL, critical + 2, _RIGHT)
    check, last = len(_COLUMNS) - 1, FIRST + rows.lengths[Per.DAY] - 1
    letter = column_letters(check)
    days = max(used_rows(rows, "day_in_use"), 10)
    return Sheet(
        LABOUR,
        tuple(cells),
        grids=(grid,),
        charts=(_chart(),),
        widths={
            **{place: one.width for place, one in enumerate(_COLUMNS)},
            _RIGHT - 1: 3,
            _RIGHT: 38,
            _RIGHT + 1: 56,
            _RIGHT + 2: 12,
            _RIGHT + 3: 12,
            _RIGHT + 4: 30,
        },
        heights={FIRST - 1: 32.0, **heights_for(rows, ("check_day", 44)), _TASKS + 1: 30.0, _TASKS + 2 + _task_rows(): 24.0},
        freeze=(FIRST, 2),
        marks=(
            Mark(FIRST, check, last, check, f'AND(${letter}{FIRST + 1}<>"",${letter}{FIRST + 1}<>"OK")', "warn"),
            Mark(7, 3, 7, 3, 'LEFT($D$8,2)<>"OK"', "warn"),
        ),
        merges=((_TASKS + 2 + _task_rows(), _RIGHT, _TASKS + 2 + _task_rows(), _RIGHT + 4),),
        footer=LABOUR,
        print_area=(0, 0, max(FIRST + days, critical + 2 + max(used_rows(rows, "critical_valve"), 4)), _RIGHT + 4),
        fit_height=1,
    )


def _chart() -> Chart:
    """Man-hours of each day as columns, what the people have as a line."""
    last = FIRST + _CHARTED - 1
    categories = f"{LABOUR}!{block(FIRST, 0, last, 0)}"

    def series(name: str, column: int, fill: str, line: str) -> Series:
        return Series(name, categories, f"{LABOUR}!{block(FIRST, column, last, column)}", fill, line=line)

    return Chart(
        FIRST - 1,
        _RIGHT,
        "Man-hours of each day",
        "Columns: man-hours of the jobs of each day. Line: man-hours that the people have.",
        "man-hours",
        (series("jobs", 4, "#7A8FA3", "#33475B"),),
        760,
        380,
        gap=60,
        below="day of the outage",
        lines=(series("people have", 5, "", "#B03A2E"),),
    )


register(Book.LIST, LABOUR, 90, Purpose.PRINT, "man-hours of each day against the people, critical jobs", lambda book: sheet(book.rows))
