"""The sheets that a person at the gland fills in: Log, a row for each reading, and Valves followed where there is no list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Per, get
from sheetcalc.sheets.common import ROW_MARK
from sheetcalc.sheets.edition import Edition, choices_of, entry_style, entry_title
from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Mark, Sheet, TableSpec, Validation, Value, address, block, column_letters
from sheetcalc.sheets.outage_rows import Rows, Shown, Source, used_rows
from sheetcalc.sheets.register import Book, Purpose, register

LOG, FOLLOWED = "Log", "Valves followed"
#: The row of the headers, as on Valves.
HEADER: Final = 5
#: How far below the header the rows are looked for: more than a log may have.
_FETCH_ROWS: Final = 9_000
_NO_ROW: Final = "no row in Outage working"


@dataclass(frozen=True)
class _Typed:
    """A table that a person owns: the kind of its rows, its name in formulas, its entries and the answers beside them."""

    sheet: str
    table: str
    per: Per
    number: str
    entries: tuple[tuple[str, float], ...]
    answers: tuple[Shown, ...]
    said: tuple[str, ...]


READINGS: Final = _Typed(
    LOG,
    "Readings",
    Per.READING,
    "log_number",
    (
        ("log_date_entered", 13),
        ("log_tag", 16),
        ("log_event_entered", 12),
        ("log_gap_1_entered", 11),
        ("log_gap_2_entered", 11),
        ("log_flats_entered", 10),
        ("log_leak_entered", 12),
        ("log_torque_limit_entered", 13),
        ("log_by", 16),
    ),
    (Shown("check_reading", 70, "answer_wrap"),),
    (
        "A row for each time that somebody stood at a gland (▸), in any order. Event: read, adjust or repack. Gaps are read after what was "
        "done.",
        "A gap falls only when nuts turn; a repack begins anew. Gaps are in the unit set typed on Outage:",
    ),
)
FOLLOWED_VALVES: Final = _Typed(
    FOLLOWED,
    "Followed",
    Per.FOLLOWED,
    "followed_number",
    (("followed_tag", 18), ("followed_take_up_entered", 14)),
    (Shown("followed_state", 24, "answer_state"), Shown("check_followed", 70, "answer_wrap")),
    (
        "The valves whose gaps are logged (▸), each tag once, with the gap that must be left for adjustment; blank stands for the usual "
        "one.",
        "Lengths are in the unit set typed on Outage:",
    ),
)


def sources(typed: _Typed) -> dict[str, Source]:
    """How Outage working fetches the entries: by position, a blank stays blank, an error value becomes text that no check accepts."""
    columns = [name for name, _width in typed.entries]
    wanted = {name for name in entry_names(typed.per) if name != typed.number}
    if set(columns) != wanted:
        message = f"{typed.sheet} has no column for {', '.join(sorted(wanted ^ set(columns)))}"
        raise KeyError(message)
    out: dict[str, Source] = {}
    for place, name in enumerate(columns):
        whole = f"'{typed.sheet}'!{block(HEADER, place, HEADER + _FETCH_ROWS, place)}"
        number = f"ROW()-{ROW_OF_FIRST}"
        inner = f'IF(INDEX({whole},1+{number})="","",INDEX({whole},1+{number}))'
        out[name] = Source(parts=(f'IFERROR({inner},"#")',))
    return out


#: The row above the first row of Outage working, as a sheet counts: there the number of a row is its row less this.
ROW_OF_FIRST: Final = 10


def sheet(rows: Rows, edition: Edition, typed: _Typed, choices: dict[str, str]) -> Sheet:
    """The sheet of a table that a person owns; its answers only fetch from Outage working, by position."""
    count = rows.lengths[typed.per]
    position = f"ROW()-ROW({address(HEADER, 0)})"
    grid: list[GridColumn] = []
    headers, formulas, widths = [], [], {}
    validations: list[Validation] = []
    for place, (name, width) in enumerate(typed.entries):
        quantity = get(name)
        style = "entry_date" if quantity.unit == "date" else entry_style(quantity, edition)
        grid.append(GridColumn(place, [_blank(value) for value in rows.answers(name)], style))
        headers.append(entry_title(quantity))
        formulas.append("")
        widths[place] = float(width)
        source = choices.get(name) or choices_of(name)
        if source:
            validations.append(Validation(HEADER + 1, place, HEADER + count, place, choices=source))
    for place, one in enumerate(typed.answers, start=len(typed.entries)):
        whole = rows.range(one.name)
        text = f'IF({position}>ROWS({whole}),"{_NO_ROW}",INDEX({whole},{position}))'
        grid.append(GridColumn(place, rows.answers(one.name), one.style, (text,)))
        headers.append(one.header or get(one.name).title)
        formulas.append(text)
        widths[place] = one.width
    check, last = len(headers) - 1, HEADER + count
    letter = column_letters(check)
    used = max(used_rows(rows, typed.entries[0][0]), 20)
    return Sheet(
        typed.sheet,
        tuple(_heads(rows, typed, edition, count)),
        grids=(Grid(HEADER + 1, tuple(grid)),),
        tables=(TableSpec(typed.table, HEADER, 0, count, tuple(headers), tuple(formulas), f"{typed.sheet}: entries and checks."),),
        validations=tuple(validations),
        widths=widths,
        heights={HEADER: 44.0, **_heights(rows, typed)},
        marks=(Mark(HEADER + 1, check, last, check, f'AND(${letter}{HEADER + 2}<>"",${letter}{HEADER + 2}<>"OK")', "warn"),),
        freeze=(HEADER + 1, 2),
        repeat_rows=(HEADER, HEADER),
        protected=False,
        selected=(HEADER + 1, 0),
        footer=typed.sheet,
        print_area=(0, 0, HEADER + used, check),
    )


def _heads(rows: Rows, typed: _Typed, edition: Edition, count: int) -> Sequence[Cell]:
    unit = rows.one("outage_unit_row")
    shown = {1.0: "mm", 2.0: "in"}.get(unit, "?") if isinstance(unit, float) else "?"
    return [
        Cell(0, 0, typed.sheet, "title"),
        Cell(1, 0, typed.said[0], "subtitle"),
        Cell(
            2,
            0,
            f"{typed.said[1]} {shown}.",
            "subtitle",
            f'"{typed.said[1]} "&IF(COUNT(outage_unit_row)=0,"?",CHOOSE(outage_unit_row,"mm","in"))&"."',
        ),
        Cell(3, 0, f"{edition.title} {count} rows are ready. Sort, filter and paste values as you like.", "subtitle"),
    ]


def _heights(rows: Rows, typed: _Typed) -> dict[int, float]:
    one = typed.answers[-1]
    return {
        HEADER + 1 + row: 14.0 * -(-len(text) // int(one.width))
        for row, text in enumerate(rows.answers(one.name))
        if isinstance(text, str) and len(text) > one.width
    }


def _blank(value: Value) -> Value:
    return None if value == "" else value


def pack_sources(valves_tag: str, valves_take_up: str) -> dict[str, Source]:
    """How Outage working fetches the valves followed from the row of the same number of Working, in the outage's units."""
    tag, take_up = f"{valves_tag}{ROW_MARK}", f"{valves_take_up}{ROW_MARK}"
    return {
        "followed_tag": Source(parts=tuple(f'IF({tag}="","",{tag})'.split(ROW_MARK))),
        "followed_take_up_entered": Source(
            parts=tuple(f'IF(COUNT({take_up},outage_length_factor)<2,"",{take_up}/outage_length_factor)'.split(ROW_MARK))
        ),
    }


register(
    Book.LIST,
    LOG,
    100,
    Purpose.WORK,
    "a row for each gap reading, yours to fill in",
    lambda book: sheet(book.rows, book.edition, READINGS, {"log_tag": book.tags}),
)
register(
    Book.FOLLOW,
    LOG,
    10,
    Purpose.WORK,
    "a row for each gap reading, yours to fill in",
    lambda book: sheet(book.rows, book.edition, READINGS, {"log_tag": book.tags}),
)
register(
    Book.FOLLOW,
    FOLLOWED,
    20,
    Purpose.WORK,
    "the tags that are followed, yours to fill in",
    lambda book: sheet(book.rows, book.edition, FOLLOWED_VALVES, {}),
)
