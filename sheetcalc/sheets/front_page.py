"""Read first of a list: the front page of the outage, with counts by state, the worst troubles and a link to every sheet."""

from __future__ import annotations

from typing import Final

from sheetcalc.declare.quantity import Check, Per, get
from sheetcalc.sheets import (
    assumptions,
    follow_up,
    job_card,
    kit_list,
    labour,
    log,
    materials,
    order_list,
    outage_rows,
    read_first,
    self_check,
    tables,
)
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.layout import Cell, Sheet, Value, column_letters
from sheetcalc.sheets.list_working import VALVES, WORKING, Working
from sheetcalc.sheets.outage_rows import FIRST, OUTAGE, Rows, one_value

ONE, FINDINGS, YOUR_LIST = "One valve of the list", "Findings", "Your list"
_HOW: Final = (
    "Valves is yours: type or paste values into the boxed columns, sort, filter. Its answers only fetch from Working by position.",
    "Every row says its unit set: metric (lengths in mm) or US (lengths in inches). Without it a row stays blank. Rows may differ.",
    "A fraction is typed as 0 5/16 or 1 1/8. Paste values only, so that the cells keep their look.",
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
#: What each sheet is for, in the order in which the workbook has them.
_CONTENTS: Final = {
    VALVES: "entries and answers, one row per valve",
    job_card.NAME: "choose a tag: a page for the person at the gland, a second one if the valve comes out",
    FINDINGS: "what was found in the list, with place, value and remedy", YOUR_LIST: "the list as it came, cell by cell",
    OUTAGE: "dates, people and units, typed once; every figure of the outage with its formula",
    order_list.ORDER_LIST: "what to buy, how much and by when, tied to the valves", order_list.STORES: "pack, stock, price, lead time",
    kit_list.KIT_LIST: "what each crew carries, with sizes", labour.LABOUR: "man-hours of each day against the people, critical jobs",
    log.LOG: "a row for each gap reading, yours to fill in", follow_up.FOLLOW_UP: "what each gland asks for, and when it runs out",
    follow_up.GAP_CHART: "the gap of one valve over time", WORKING: "every quantity of every valve",
    outage_rows.WORKING_ROWS: "lines, tools, days and readings, with their formulas",
    ONE: "choose a tag: symbol, value, unit, formula, source, downwards", assumptions.NAME: "every constant, yours to change",
    materials.NAME: "packing materials and their limits, yours to change",
    tables.NAME: "stocked sections, grades and lubricants (yours to change), threads, choices",
    self_check.NAME: "worked examples, computed live",
}  # fmt: skip
#: Counts and checks of the outage as a whole, in the order in which they stand on the front page.
_COUNTS: Final = ("valves_in_use", "valves_ready", "valves_look", "valves_incomplete", "valves_hold")
_BACK: Final = "Back to Read first"


def sheet(edition: Edition, working: Working, names: tuple[str, ...]) -> Sheet:
    """The sheet, with a line for each sheet of `names` that comes after it."""
    rows = working.outage
    return read_first.sheet(
        title="Stem packing of a list of valves",
        purpose="For every valve of a list: packing, ring count, spacer, cut length, gland gap, load, torque and a job card; for the "
                "outage: what to order, to carry, and who and how long.",
        how=_HOW, extra=_lines(working), contents=[(name, _CONTENTS.get(name, "")) for name in names], edition=edition,
        worst=_worst(rows), heading=one_value(rows, "outage_name"),
    )  # fmt: skip


def _lines(working: Working) -> list[read_first.Line]:
    rows = working.outage
    lines = [read_first.Line(get(name).title, name, rows.one(name), get(name).sentence) for name in _COUNTS]
    lines += [
        read_first.Line(
            "Rows of Valves beyond Working", f"MAX(0,ROWS({VALVES}[Tag])-ROWS({working.range('tag')}))", 0.0,
            "Rows added in Valves without a row in Working have no answer: see How to use it.", "{cell}>0"),
    ]  # fmt: skip
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
                    f"{quantity.title}: rows with something to read", f'ROWS({whole})-COUNTIF({whole},"OK")-COUNTIF({whole},"")',
                    count, quantity.sentence, "{cell}>0",
                )
            )  # fmt: skip
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
