"""The readings of the log: the code by which each is found, what counts since the last repack, the sums, and what is wrong with a row."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pandas as pd

from sheetcalc.calculations.arithmetic import above_zero, pick, rounded
from sheetcalc.calculations.gathering import count_below, smallest
from sheetcalc.calculations.outage.log import FITTED, LOGGED, PART, READING, SORTED, row_of
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derive, derived, fault
from sheetcalc.declare.quantity import Num, Per, Quantity, Text
from sheetcalc.reference.sources import cite


@derived(
    title="Start of the valve's codes",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel="{log_valve}*{day_base}*{row_base}",
)
def log_floor(log_valve: Num, day_base: float, row_base: float) -> Num:
    """A whole number below every code of this valve and above every code of those before it."""
    return log_valve * day_base * row_base


@derived(
    title="Code of the row",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    empirical="a number that sorts by valve, date and row",
    excel="{log_floor}+{log_day}*{row_base}+{log_number}",
)
def log_code(log_floor: Num, log_day: Num, row_base: float, log_number: Num) -> Num:
    """A whole number that sorts by valve, date and row."""
    return log_floor + log_day * row_base + log_number


def _declare_code(name: str, title: str, sentence: str, test: str, reads: tuple[str, ...], holds: Callable[..., Any]) -> Quantity:
    """The code of the row where it is of one kind, blank elsewhere: a column in which rows of that kind alone are counted."""
    return derive(
        name,
        ("log_code", *reads),
        lambda code, *values: np.where(holds(*values), code, np.nan),
        sentence,
        title=title,
        unit="1",
        part=PART,
        source=SORTED,
        per=Per.READING,
        guards=False,
        excel=f'IF(AND(ISNUMBER({{log_code}}),{test}),{{log_code}},"")',
    )


_declare_code(
    "log_gap_code",
    "Code where a gap is read",
    "The code of the row where it has a gap.",
    "ISNUMBER({log_gap})",
    ("log_gap",),
    lambda gap: ~np.isnan(gap),
)
_declare_code(
    "log_leak_code",
    "Code where a leak is read",
    "The code of the row where it has a leak reading.",
    "ISNUMBER({log_leak})",
    ("log_leak",),
    lambda leak: ~np.isnan(leak),
)
_declare_code(
    "log_torque_code",
    "Code where the torque limit is said",
    "The code of the row where yes or no is typed: a blank says nothing, and takes back no yes.",
    'IFERROR({log_torque_limit_entered}<>"",0),{log_torque_limit}<>""',
    ("log_torque_limit_entered", "log_torque_limit"),
    lambda entered, known: (entered != "") & (known != ""),
)
for _event, _what in (("adjust", "nuts are adjusted"), ("repack", "the box is repacked")):
    _declare_code(
        f"log_{_event}_code",
        f"Code where {_what}",
        f"The code of the row where {_what}.",
        f'EXACT({{log_event}},"{_event}")',
        ("log_event",),
        lambda known, word=_event: known == word,
    )


@derived(
    title="Torque limit reached",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.READING,
    excel='IF(EXACT({log_torque_limit},"yes"),1,0)',
)
def log_at_limit(log_torque_limit: Text) -> Num:
    """1 where the nuts are said to be at their torque limit, else 0."""
    return np.where(log_torque_limit == "yes", 1.0, 0.0)


@derived(
    title="Repacks up to the row",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel='COUNTIF({every_log_repack_code},"<"&({log_code}+1))',
)
def log_repacks_before(every_log_repack_code: Num, log_code: Num) -> Any:
    """How many repacks have a code up to that of this row, of whatever valve."""
    return count_below(every_log_repack_code, log_code + 1)


@derived(
    title="Code of the repack before",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel="MAX({log_floor},IFERROR(SMALL({every_log_repack_code},{log_repacks_before}),0))",
)
def log_restart(log_floor: Num, every_log_repack_code: Num, log_repacks_before: Num) -> Num:
    """The code of the valve's repack at or before this row; where there is none, the start of the valve's codes."""
    out: Num = np.fmax(log_floor, smallest(every_log_repack_code, log_repacks_before))
    return out


@derived(
    title="Gaps read before",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel='COUNTIF({every_log_gap_code},"<"&{log_gap_code})',
)
def log_gaps_before(every_log_gap_code: Num, log_gap_code: Num) -> Any:
    """How many gaps have a smaller code, of whatever valve."""
    return count_below(every_log_gap_code, log_gap_code)


@derived(
    title="Code of the reading before",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel="IFERROR(SMALL({every_log_gap_code},{log_gaps_before}),0)",
)
def log_previous(every_log_gap_code: Num, log_gaps_before: Num) -> Any:
    """The next smaller code of a gap, which may be another valve's; 0 where there is none."""
    return np.nan_to_num(smallest(every_log_gap_code, log_gaps_before))


@derived(
    title="Gap before",
    unit="mm",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel='IF({log_previous}>={log_restart},INDEX({every_log_gap},MATCH({log_previous},{every_log_gap_code},0)),"")',
)
def log_previous_gap(log_previous: Num, log_restart: Num, every_log_gap: Num, every_log_gap_code: Num) -> Num:
    """The gap of the same valve at the reading before, since the last repack; blank at the first."""
    return np.where(log_previous >= log_restart, pick(row_of(log_previous, every_log_gap_code), every_log_gap), np.nan)


@derived(
    title="Code from which the valve counts",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.READING,
    excel="MAX({log_floor},IFERROR(SMALL({every_log_repack_code},"
    'COUNTIF({every_log_repack_code},"<"&({log_floor}+{day_base}*{row_base}))),0))',
)
def log_start(log_floor: Num, every_log_repack_code: Num, day_base: float, row_base: float) -> Num:
    """The code of the valve's last repack; where there is none, the start of its codes."""
    repacks = count_below(every_log_repack_code, log_floor + day_base * row_base)
    out: Num = np.fmax(log_floor, smallest(every_log_repack_code, repacks))
    return out


@derived(
    title="Counts for the forecast",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.READING,
    excel='IF({log_gap_code}>={log_start},1,"")',
)
def log_counts(log_gap_code: Num, log_start: Num) -> Num:
    """1 where the gap takes part in the forecast: on the row of the valve's last repack, or after it."""
    return np.where(log_gap_code >= log_start, 1.0, np.nan)


@derived(
    title="Valve that it counts for",
    unit="1",
    part=PART,
    source=cite("gathering"),
    per=Per.READING,
    excel="{log_counts}*{log_valve}",
)
def log_counted(log_counts: Num, log_valve: Num) -> Num:
    """The number of the valve where the reading counts."""
    return log_counts * log_valve


@derived(
    title="Middle of the log's dates",
    unit="date",
    part=PART,
    source=FITTED,
    per=Per.OUTAGE,
    excel='IF(COUNT({every_log_day})>0,ROUND(SUM({every_log_day})/COUNT({every_log_day}),0),"")',
)
def log_middle_date(every_log_day: Num) -> Any:
    """A whole day in the middle of the log, from which days are counted so that sums lose no digits."""
    days = every_log_day[~np.isnan(every_log_day)]
    return rounded(days.sum() / len(days)) if len(days) else np.nan


@derived(
    title="Middle of the log's gaps",
    unit="mm",
    part=PART,
    source=FITTED,
    per=Per.OUTAGE,
    excel='IF(COUNT({every_log_gap})>0,SUM({every_log_gap})/COUNT({every_log_gap}),"")',
)
def log_middle_gap(every_log_gap: Num) -> Any:
    """The mean of all gaps of the log, from which gaps are counted so that sums lose no digits."""
    gaps = every_log_gap[~np.isnan(every_log_gap)]
    return gaps.sum() / len(gaps) if len(gaps) else np.nan


@derived(
    title="Days from the middle",
    symbol="x",
    unit="d",
    part=PART,
    source=FITTED,
    per=Per.READING,
    empirical="a day number less a day number is a number of days",
    excel="{log_counts}*({log_day}-{log_middle_date})",
)
def log_x(log_counts: Num, log_day: Num, log_middle_date: Num) -> Num:
    """Days from the middle of the log, where the reading counts."""
    return log_counts * (log_day - log_middle_date)


@derived(
    title="Gap from the middle",
    symbol="y",
    unit="mm",
    part=PART,
    source=FITTED,
    per=Per.READING,
    excel="{log_counts}*({log_gap}-{log_middle_gap})",
)
def log_y(log_counts: Num, log_gap: Num, log_middle_gap: Num) -> Num:
    """The gap from the middle of all gaps, where the reading counts."""
    return log_counts * (log_gap - log_middle_gap)


for _one, _two, _unit, _title in (
    ("x", "x", "d**2", "Days squared"),
    ("x", "y", "mm*d", "Days times gap"),
    ("y", "y", "mm**2", "Gap squared"),
):
    derive(
        f"log_{_one}{_two}",
        tuple(dict.fromkeys((f"log_{_one}", f"log_{_two}"))),
        lambda *sides: sides[0] * sides[-1],
        f"{_title}, both from the middle, where the reading counts.",
        title=f"{_title}, from the middle",
        unit=_unit,
        part=PART,
        source=FITTED,
        per=Per.READING,
        excel=f"{{log_{_one}}}^2" if _one == _two else f"{{log_{_one}}}*{{log_{_two}}}",
    )


@fault(
    title="Reading without a tag",
    part=PART,
    source=LOGGED,
    about=("log_tag",),
    per=Per.READING,
    optional=("log_key",),
    words="Tag is missing: type the tag of the valve. Until then the row is not used.",
    excel='AND(ISNUMBER({log_in_use}),{log_key}="")',
)
def log_tag_missing(log_in_use: Num, log_key: Text) -> Any:
    """Says that nobody can tell which valve was read."""
    return ~np.isnan(log_in_use) & (log_key == "")


@fault(
    title="Tag not followed",
    part=PART,
    source=LOGGED,
    about=("log_tag",),
    per=Per.READING,
    optional=("log_valve",),
    words="Tag is not in the list of valves followed: correct it, or add the valve to that list. Until then the row is not used.",
    excel='AND({log_key}<>"",NOT(ISNUMBER({log_valve})))',
)
def log_tag_unknown(log_key: Text, log_valve: Num) -> Any:
    """Says that the valve is in no list."""
    return (log_key != "") & np.isnan(log_valve)


@fault(
    title="Reading without a date",
    part=PART,
    source=LOGGED,
    about=("log_date_entered",),
    per=Per.READING,
    optional=("log_date_entered",),
    words="Date is missing: type the day of the reading. Until then the row is not used.",
    excel='AND(ISNUMBER({log_in_use}),IFERROR({log_date_entered}="",0))',
)
def log_date_missing(log_in_use: Num, log_date_entered: Num) -> Any:
    """Says that no date is typed."""
    return ~np.isnan(log_in_use) & np.isnan(log_date_entered)


@fault(
    title="Reading after the status date",
    part=PART,
    source=LOGGED,
    about=("log_date_entered",),
    per=Per.READING,
    words="Date is after the status date: correct it, or set the status date on. Until then the row is not used.",
    excel="{log_date}>{status_date}",
)
def log_date_late(log_date: Num, status_date: Num) -> Any:
    """Says that the reading is of a day that has not come."""
    return log_date > status_date


@fault(
    title="Reading without a gap",
    part=PART,
    source=LOGGED,
    about=("log_gap_1_entered", "log_gap_2_entered"),
    per=Per.READING,
    optional=("log_gap",),
    words="No usable gap, though the gland was read: type the gap at each stud.",
    excel='AND({log_in_use}*{outage_unit_row}>0,EXACT({log_event},"read"),NOT(ISNUMBER({log_gap})))',
)
def log_gap_missing(log_in_use: Num, outage_unit_row: Num, log_event: Text, log_gap: Num) -> Any:
    """Says that a reading reads nothing, where the unit of a gap is known."""
    return (log_in_use * outage_unit_row > 0) & (log_event == "read") & np.isnan(log_gap)


@fault(
    title="Reading out of order",
    part=PART,
    source=LOGGED,
    about=("log_date_entered",),
    per=Per.READING,
    words="Date is before that of an earlier row of the same valve: check it. The reading is used all the same, by its date.",
    excel="SUMPRODUCT(({every_log_code}>={log_floor}+({log_day}+1)*{row_base})*({every_log_code}<{log_floor}+{day_base}*{row_base})"
    "*({every_log_number}<{log_number}))>0",
)
def log_out_of_order(
    every_log_code: Num, log_floor: Num, log_day: Num, row_base: float, day_base: float, every_log_number: Num, log_number: Num
) -> Any:
    """Says that the log goes back in time."""
    codes = pd.Series(every_log_code).dropna()
    rows = pd.DataFrame({"row": every_log_number[codes.index], "valve": codes // (day_base * row_base), "day": codes // row_base})
    rows = rows.sort_values("row")
    latest = rows.groupby("valve")["day"].cummax()
    late = np.full(len(every_log_code), np.nan)
    late[latest.index] = latest
    here = log_floor // row_base + log_day
    return np.where(log_number == every_log_number, late, np.nan) > here


@fault(
    title="Gap grown",
    part=PART,
    source=cite("gap-growth"),
    about=("log_gap_1_entered", "log_gap_2_entered"),
    per=Per.READING,
    words="The gap has grown since the reading before, without a repack: check the tag and the gap, or log the repack.",
    excel="ROUND({log_gap}-{log_previous_gap}-{greatest_gap_growth},{counting_digits})>0",
)
def log_gap_grown(log_gap: Num, log_previous_gap: Num, greatest_gap_growth: float, counting_digits: float) -> Any:
    """Says that a gap went the wrong way."""
    return above_zero(log_gap - log_previous_gap - greatest_gap_growth, counting_digits)


@fault(
    title="Nuts turned in a reading",
    part=PART,
    source=LOGGED,
    about=("log_flats_entered", "log_event_entered"),
    per=Per.READING,
    words="Flats are turned, and the event is called read: call it adjust.",
    excel='AND(EXACT({log_event},"read"),{log_flats}>0)',
)
def log_read_turned(log_event: Text, log_flats: Num) -> Any:
    """Says that an adjustment is called a reading."""
    return (log_event == "read") & (log_flats > 0)


declare_check(
    PART,
    "check_reading",
    "Check reading",
    "OK, or what is wrong with a row of the log.",
    per=Per.READING,
    used="log_in_use",
)


@derived(
    title="Row of the log to look at",
    unit="1",
    part=PART,
    source=READING,
    per=Per.READING,
    guards=False,
    excel='IF({reading_trouble}="","",1)',
)
def log_wrong(reading_trouble: Text) -> Num:
    """1 where something is wrong with the row."""
    return np.where(reading_trouble == "", np.nan, 1.0)
