"""Read first of a list: the front page of the outage, with counts by state, the worst troubles and a link to every sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sheetcalc.declare.quantity import Check, Per, get
from sheetcalc.sheets import outage_rows, read_first
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.layout import Cell, Sheet, Value, column_letters
from sheetcalc.sheets.list_working import VALVES, Working
from sheetcalc.sheets.outage_rows import FIRST, Rows, one_value

ONE, FINDINGS, YOUR_LIST = "One valve of the list", "Findings", "Your list"
_HOW: Final = (
    "Valves is yours: type or paste values into the boxed columns, sort, filter. Its answers only fetch from Working by position.",
    "Every row says its unit set: metric (lengths in mm) or US (lengths in inches). Without it a row stays blank. Rows may differ.",
    "A fraction is typed as 0 7/16 or 1 1/8. Paste values only, so that the cells keep their look.",
    "What is wrong stands in words beside the state. READY: no check speaks. LOOK: read it. INCOMPLETE: no ring count or gap. HOLD: do "
    "not order, issue no card.",
    "Type the start of the outage, the people and the dates on Outage; what stores have, prices and lead times on Stores. The order list, "
    "the kit list and the days follow Valves.",
    "Before sorting on an answer filter out blank tags: an empty answer sorts as text.",
    "More rows: unprotect Working (no password), copy its last row down as far as needed and give column A the next numbers; then "
    "drag the corner of the table in Valves down as far, and copy its answers down. Order, kit and days leave such rows out.",
    "Flats are a forecast. Stop at the torque, the final gap or a stiff stem, whichever comes first; one flat at a time, nuts in turn.",
    "Sheets but Valves and Log are protected without a password, against slips only. No macro, no link, no network is used.",
)
#: Counts and checks of the outage as a whole, in the order in which they stand on the front page.
_COUNTS: Final = ("valves_in_use", "valves_ready", "valves_look", "valves_incomplete", "valves_hold")
_BACK: Final = "Back to Read first"


def sheet(edition: Edition, working: Working, contents: Sequence[tuple[str, str]]) -> Sheet:
    """The sheet, with a line for each sheet that comes after it: its name and what it is for."""
    rows = working.outage
    return read_first.sheet(
        title="Stem packing of a list of valves",
        purpose="For every valve of a list: packing, ring count, spacer, cut length, gland gap, load, torque and a job card; for the "
        "outage: what to order, to carry, and who and how long.",
        how=_HOW,
        extra=_lines(working),
        contents=contents,
        edition=edition,
        worst=_worst(rows),
        heading=one_value(rows, "outage_name"),
    )


def _lines(working: Working) -> list[read_first.Line]:
    rows = working.outage
    lines = [read_first.Line(get(name).title, name, rows.one(name), get(name).sentence) for name in _COUNTS]
    lines += [
        read_first.Line(
            "Rows of Valves beyond Working",
            f"MAX(0,ROWS({VALVES}[Tag])-ROWS({working.range('tag')}))",
            0.0,
            "Rows added in Valves without a row in Working have no answer: see How to use it.",
            "{cell}>0",
        ),
    ]
    for name in rows.answered(Per.OUTAGE):
        quantity = get(name)
        if isinstance(quantity, Check):
            lines.append(read_first.Line(quantity.title, name, rows.one(name), quantity.sentence, 'LEFT({cell},2)<>"OK"'))
    return [*lines, *_spoken(rows)]


def _spoken(rows: Rows) -> list[read_first.Line]:
    """How many rows of each kind have a check that speaks."""
    out = []
    for per in rows.lengths:
        for name in rows.answered(per):
            quantity = get(name)
            if not isinstance(quantity, Check) or per in {Per.OUTAGE, Per.VALVE}:
                continue
            whole = rows.range(name)
            count = float(sum(1 for one in rows.answers(name) if one not in {"", "OK", None}))
            out.append(
                read_first.Line(
                    f"{quantity.title}: rows with something to read",
                    f'ROWS({whole})-COUNTIF({whole},"OK")-COUNTIF({whole},"")',
                    count,
                    quantity.sentence,
                    "{cell}>0",
                )
            )
    return out


def _worst(rows: Rows) -> list[list[tuple[str, Value]]]:
    """Tag, state and words of the valves in trouble."""
    out = []
    for place in range(rows.lengths[Per.TROUBLE]):
        line: list[tuple[str, Value]] = []
        for name in ("troubled_tag", "troubled_state", "troubled_words"):
            cell = f"'{outage_rows.WORKING_ROWS}'!${column_letters(rows.column[name])}${FIRST + place + 1}"
            value = rows.answers(name)[place]
            line.append((f'IF({cell}="","",{cell})', value))
        out.append(line)
    return out


def with_way_back(sheet: Sheet) -> Sheet:
    """The sheet with a link to Read first in its first row, right of what stands there."""
    taken = [cell.column for cell in sheet.cells if cell.row == 0]
    column = max([4, *(place + 5 for place in taken)])
    while any(first <= 0 <= last and left <= column <= right for first, left, last, right in sheet.merges):
        column += 1
    links = {**sheet.links, (0, column): f"internal:'{read_first.NAME}'!A1"}
    return Sheet(**{**vars(sheet), "cells": (*sheet.cells, Cell(0, column, _BACK, "link")), "links": links})
