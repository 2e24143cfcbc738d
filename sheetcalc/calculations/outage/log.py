"""The log of gap readings: a row for each time that somebody stood at a gland, in any order and of any valve.

A gap falls only when nuts turn, and starts anew at a repack. So each row gets a whole number that sorts by valve, date and
row: with it the reading before, the last repack and all that counts since are found by counting, without sorting the log.

The valves followed read the log, and the log reads nothing of theirs but their tags: with columns that lean on each other to
and fro, LibreOffice 7.4, which works out a column in several threads, read stale cells.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.gathering import first_row_of
from sheetcalc.calculations.given import given, given_code
from sheetcalc.calculations.outage.grouped import escaped
from sheetcalc.calculations.outage.outage import TYPE_A_DATE
from sheetcalc.declare.blocks import derive, derived, entry
from sheetcalc.declare.quantity import Flag, Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "log"
READING = cite("reading")
LOGGED = cite("follow-up")
SORTED = cite("sorted-log")
FITTED = cite("least-squares")
_NUMBER: Final = "type a number from 0 on or clear the cell."


def tag_key(tags: Text) -> Text:
    """Each tag as it is looked up: without spaces around it, single ones inside; a tag that is a number as a sheet writes it."""

    def one(tag: Any) -> str:
        plain = f"{tag:.15g}" if isinstance(tag, (int, float)) else str(tag)
        return " ".join(filter(None, plain.split(" ")))

    return np.array([one(tag) for tag in tags], dtype=object)


def row_of(wanted: Any, column: Num) -> Any:
    """For each number the row (from 1) of a column in which it stands; NaN for none. No number stands there twice."""
    held = np.flatnonzero(~np.isnan(column))
    rising = held[np.argsort(column[held])]
    place = np.searchsorted(column[rising], np.nan_to_num(wanted))
    inside = place < len(rising)
    found = np.append(rising, 0)[np.where(inside, place, len(rising))]
    return np.where(inside & (np.append(column, np.nan)[np.where(inside, found, -1)] == wanted), found + 1.0, np.nan)


log_number = entry(
    "log_number",
    title="Row of the log",
    unit="1",
    part=PART,
    source=READING,
    per=Per.READING,
    sentence="The place of the row in the log, counted from 1.",
)
given(
    "log_date",
    title="Date of the reading",
    symbol="",
    unit="date",
    part=PART,
    per=Per.READING,
    low="first_date",
    high="last_date",
    whole=True,
    remedy=TYPE_A_DATE,
    sentence="The day on which somebody stood at the gland.",
)
log_tag = entry(
    "log_tag",
    title="Tag of the valve read",
    text=True,
    part=PART,
    source=READING,
    per=Per.READING,
    sentence="The tag of the valve, as in the list of valves followed.",
)
given_code(
    "log_event",
    title="Event",
    part=PART,
    names="log_event_names",
    usual="log_event_usual",
    per=Per.READING,
    remedy="choose read, adjust or repack. Until then the row is not used.",
    sentence="What was done: read only, nuts adjusted, or the box repacked.",
)
for _stud in ("1", "2"):
    given(
        f"log_gap_{_stud}",
        title=f"Gap at stud {_stud}",
        symbol="",
        unit="mm",
        part=PART,
        per=Per.READING,
        low="0",
        high="largest_length",
        remedy="measure again and type the number or clear the cell.",
        sentence=f"The gap under the follower's flange at stud {_stud}, after what was done.",
    )
given(
    "log_flats",
    title="Flats turned",
    symbol="",
    unit="1",
    part=PART,
    per=Per.READING,
    low="0",
    high="largest_flats",
    remedy=_NUMBER,
    sentence="How many flats each nut was turned.",
)
given(
    "log_leak",
    title="Leak reading",
    symbol="",
    unit="1",
    part=PART,
    per=Per.READING,
    low="0",
    high="largest_leak",
    remedy=_NUMBER,
    sentence="What the leak detector showed at the stem, in parts per million.",
)
given_code(
    "log_torque_limit",
    title="Nuts at their torque limit",
    part=PART,
    names="yes_no_names",
    usual="log_torque_limit_usual",
    per=Per.READING,
    remedy="type yes or no.",
    sentence="Whether the gland nuts are at the torque that they may bear.",
)
log_by = entry(
    "log_by",
    title="Read by",
    text=True,
    part=PART,
    source=READING,
    per=Per.READING,
    sentence="Who stood at the gland.",
)

_ENTRIES: Final = (
    "log_date_entered",
    "log_tag",
    "log_event_entered",
    "log_gap_1_entered",
    "log_gap_2_entered",
    "log_flats_entered",
    "log_leak_entered",
    "log_torque_limit_entered",
    "log_by",
)


def _anything(*values: Any) -> Any:
    used: Any = False
    for value in values:
        used = used | (~np.isnan(value) if value.dtype.kind == "f" else value != "")
    return np.where(used, 1.0, np.nan)


log_in_use = derive(
    "log_in_use",
    _ENTRIES,
    _anything,
    "1 where anything is typed in the row.",
    title="Row of the log in use",
    unit="1",
    part=PART,
    source=READING,
    per=Per.READING,
    guards=False,
    excel=f'IFERROR(IF({"&".join(f"{{{name}}}" for name in _ENTRIES)}="","",1),1)',
)


@derived(title="Tag of the reading, looked up", text=True, part=PART, source=READING, per=Per.READING, excel="TRIM({log_tag})")
def log_key(log_tag: Text) -> Text:
    """The tag without stray spaces."""
    return tag_key(log_tag)


@derived(
    title="Valve of the reading",
    unit="1",
    part=PART,
    source=cite("gathering"),
    per=Per.READING,
    excel=f'IFERROR(MATCH({escaped("{log_key}")},{{every_followed_key}},0),"")',
)
def log_valve(log_key: Text, every_followed_key: Text) -> Num:
    """The number of the valve in the list of valves followed, whatever the case of its tag."""
    out: Num = first_row_of(log_key, every_followed_key)
    return out


@derived(
    title="Gap read",
    unit="mm",
    part=PART,
    source=LOGGED,
    per=Per.READING,
    guards=False,
    excel='IF(AND(COUNT({log_gap_1},{log_gap_2})>0,{log_gap_1_fault}&{log_gap_2_fault}=""),MIN({log_gap_1},{log_gap_2}),"")',
)
def log_gap(log_gap_1: Num, log_gap_2: Num, log_gap_1_fault: Flag, log_gap_2_fault: Flag) -> Num:
    """The smaller of the two gaps, which is the one that runs out; blank where one of them cannot be used."""
    return np.where(~(log_gap_1_fault | log_gap_2_fault), np.fmin(log_gap_1, log_gap_2), np.nan)


@derived(
    title="Gap difference read",
    unit="mm",
    part=PART,
    source=LOGGED,
    per=Per.READING,
    excel="ABS({log_gap_1}-{log_gap_2})",
)
def log_gap_difference(log_gap_1: Num, log_gap_2: Num) -> Num:
    """How far the two gaps differ: the follower stands askew by it."""
    return np.abs(log_gap_1 - log_gap_2)


@derived(
    title="Day that counts",
    unit="date",
    part=PART,
    source=LOGGED,
    per=Per.READING,
    guards=False,
    excel='IF(AND(ISNUMBER({log_date}),{log_event}<>"",OR(NOT(ISNUMBER({status_date})),{log_date}<={status_date})),{log_date},"")',
)
def log_day(log_date: Num, log_event: Text, status_date: Num) -> Num:
    """The date, where the event is known and the date is not after the status date."""
    past = np.isnan(status_date) | (log_date <= status_date)
    return np.where((log_event != "") & past, log_date, np.nan)
