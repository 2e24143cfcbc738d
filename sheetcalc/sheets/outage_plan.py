"""How many rows of each kind an outage has, where their entries come from, and what the core says of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

import numpy as np
import pandas as pd

from sheetcalc.calculations.answers import Answers, following
from sheetcalc.calculations.outage import kit, order
from sheetcalc.calculations.outage.grouped import last_end
from sheetcalc.calculations.run import entry_names, evaluate_outage, present_names, read_entries
from sheetcalc.declare.quantity import Per, get, is_missing
from sheetcalc.sheets import assumptions, labour, log, order_list, tables
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.filled import Filled
from sheetcalc.sheets.layout import Value
from sheetcalc.sheets.outage_rows import Rows, Source

#: Lines of the order and tools kept ready beyond those that the list asks for, and the fewest that there are.
_SPARE_LINES, _LEAST_LINES = 20, 60
#: Valves in trouble on the front page, days of an outage at most, and critical jobs shown.
TROUBLES, DAYS, CRITICAL, POINTS = 10, 60, 20, 24
#: Rows of the log that are ready: the least, the most, and how many for a valve.
_LEAST_LOG, _MOST_LOG, _LOG_PER_VALVE = 300, 3_000, 2
#: What of the outage itself a workbook has that only follows valves.
FOLLOW_UP_PARTS: Final = frozenset({"outage", "follow-up", "log", "chart"})
#: The numbered entry of each kind of row.
_NUMBERED: Final = {
    Per.STORE: "store_number",
    Per.LINE: "line_number",
    Per.TOOL: "tool_number",
    Per.DAY: "day_number",
    Per.CRITICAL: "critical_place",
    Per.TROUBLE: "trouble_place",
    Per.READING: "log_number",
    Per.FOLLOWED: "followed_number",
    Per.POINT: "point_number",
}


def names(answers: Answers) -> dict[str, str]:
    """Where the constants and the columns of tables stand that formulas call by name."""
    return {**assumptions.names(answers), **tables.names(answers), **labour.names()}


def rows(
    edition: Edition,
    filled: Filled,
    valves: Mapping[str, Any],
    listed: Mapping[str, Any],
    of_valves: Callable[[str], str],
    followed: Mapping[str, Source],
) -> Rows:
    """The rows of the outage of a list of valves: as many lines as its codes ask for, and some more.

    `followed` says how the valves followed are fetched from the list.
    """
    outage = {"outage_unit_set": edition.unit_set, **filled.outage}
    lengths = {
        Per.LISTED: len(listed["position"]),
        Per.OUTAGE: 1,
        Per.STORE: 1,
        Per.LINE: 1,
        Per.TOOL: 1,
        Per.DAY: DAYS,
        Per.CRITICAL: CRITICAL,
        Per.TROUBLE: TROUBLES,
        Per.READING: 1,
        Per.FOLLOWED: 1,
        Per.POINT: POINTS,
    }
    typed: dict[Per, Mapping[str, Any]] = {Per.LISTED: listed, Per.OUTAGE: read_entries(pd.DataFrame([outage]), Per.OUTAGE)}
    # What the valves ask for says how many lines there must be: with one line of each kind it is known already.
    answers = edition.answers
    known = evaluate_outage({**_numbered(lengths), **typed}, lengths, valves, answers=answers)
    lengths[Per.LINE] = max(_LEAST_LINES, int(known[last_end("line", order.GROUPS, answers)][0]) + _SPARE_LINES)
    lengths[Per.STORE] = lengths[Per.LINE]
    lengths[Per.TOOL] = max(_LEAST_LINES, int(known[last_end("tool", kit.LISTED, answers)][0]) + _SPARE_LINES)
    log_rows = max(_LEAST_LOG, min(_MOST_LOG, _LOG_PER_VALVE * lengths[Per.LISTED]), len(filled.log))
    lengths |= {Per.READING: log_rows, Per.FOLLOWED: lengths[Per.LISTED]}
    typed = {**_numbered(lengths), **typed}
    stores = _with_codes(filled.stores, evaluate_outage(typed, lengths, valves, answers=answers)["line_code"])
    lengths[Per.STORE] = max(lengths[Per.STORE], len(stores))
    typed[Per.STORE], held = _typed_rows(Per.STORE, stores, lengths[Per.STORE])
    typed[Per.READING], logged = _typed_rows(Per.READING, filled.log, log_rows)
    typed[Per.FOLLOWED] = {
        **typed[Per.FOLLOWED],
        "followed_tag": valves["tag"],
        "followed_take_up_entered": valves["least_take_up"] / known["outage_length_factor"],
    }
    sources = {**order_list.sources(), **log.sources(log.READINGS), **followed}
    values = evaluate_outage(typed, lengths, valves, answers=answers)
    return Rows(answers, lengths, values, frozenset(names(answers)), of_valves, sources, {**held, **logged})


def edition_that_follows(edition: Edition) -> Edition:
    """The edition of a workbook that follows valves without a list of them: it has what its rows read, and nothing else."""
    pers = frozenset({Per.OUTAGE, Per.READING, Per.FOLLOWED, Per.POINT})
    there = (*present_names(pers), *(name for per in pers for name in entry_names(per)))
    held = [name for name in there if get(name).per is not Per.OUTAGE or get(name).part in FOLLOW_UP_PARTS]
    return replace(edition, answers=following(held))


def follow_up_rows(edition: Edition, valves: int, readings: int) -> Rows:
    """The rows of a workbook that follows valves without a list of them."""
    lengths = {Per.OUTAGE: 1, Per.READING: readings, Per.FOLLOWED: valves, Per.POINT: POINTS}
    typed = {**_numbered(lengths), Per.OUTAGE: read_entries(pd.DataFrame([{"outage_unit_set": edition.unit_set}]), Per.OUTAGE)}
    sources = {**log.sources(log.READINGS), **log.sources(log.FOLLOWED_VALVES)}
    answers = edition.answers
    values = evaluate_outage(typed, lengths, answers=answers)
    return Rows(answers, lengths, values, frozenset(names(answers)), None, sources, parts=FOLLOW_UP_PARTS)


def _typed_rows(per: Per, frame: pd.DataFrame, count: int) -> tuple[dict[str, Any], dict[str, list[Value]]]:
    """The rows of a frame as the core reads them, and as the cells hold them, made up to a count with blank ones."""
    whole = frame.reindex(columns=list(entry_names(per)), index=range(count)).assign(**{_NUMBERED[per]: np.arange(1.0, count + 1)})
    return read_entries(whole, per), {name: [_cell(value) for value in whole[name].tolist()] for name in entry_names(per)}


def _numbered(lengths: Mapping[Per, int]) -> dict[Per, Mapping[str, Any]]:
    """Rows in which nothing is typed, with their numbers."""
    return {
        per: read_entries(pd.DataFrame({name: np.arange(1.0, lengths[per] + 1)}), per) for per, name in _NUMBERED.items() if per in lengths
    }


def _with_codes(stores: pd.DataFrame, codes: Sequence[str]) -> pd.DataFrame:
    """What is typed in Stores, and below it the code of every other line, so that a planner need only add figures."""
    known = {str(code).lower() for code in stores.get("store_code", ())}
    new = pd.DataFrame({"store_code": [code for code in codes if code != "" and code.lower() not in known]}, dtype=object)
    return pd.concat([stores, new], ignore_index=True) if len(stores) else new


def _cell(value: object) -> Value:
    """An entry as a sheet holds it: a number, a text, or blank."""
    if is_missing(value):
        return None
    return value if isinstance(value, str) else float(value)  # type: ignore[arg-type]
