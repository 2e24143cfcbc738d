"""What to do with each valve followed, and why: by leak, torque, take-up and forecast; and how many valves ask for what."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, pick
from sheetcalc.calculations.gathering import count_where, counted
from sheetcalc.calculations.outage.follow_up import LEAK, PART
from sheetcalc.calculations.outage.log import LOGGED, row_of
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derive, derived, fault
from sheetcalc.declare.quantity import Num, Per
from sheetcalc.reference.sources import cite

# --- leak, torque, retorque, tilt -------------------------------------------------------------------------------------


@derived(
    title="Last leak",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.FOLLOWED,
    excel='IF({followed_last_leak}>={followed_restart},INDEX({every_log_leak},MATCH({followed_last_leak},{every_log_leak_code},0)),"")',
)
def last_leak(followed_last_leak: Num, followed_restart: Num, every_log_leak: Num, every_log_leak_code: Num) -> Num:
    """The last leak reading since the last repack, in parts per million."""
    return np.where(followed_last_leak >= followed_restart, pick(row_of(followed_last_leak, every_log_leak_code), every_log_leak), np.nan)


@derived(
    title="Leak at the limit or over it",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.FOLLOWED,
    excel="IF({last_leak}>={leak_limit},1,0)",
)
def leak_over_limit(last_leak: Num, leak_limit: Num) -> Num:
    """1 where the last leak reading is at the limit or over it; that the limit itself counts is from memory."""
    return np.where(last_leak >= leak_limit, 1.0, 0.0)


@derived(
    title="Nuts at the torque limit",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="IF({followed_last_torque}>={followed_restart},"
    'INDEX({every_log_at_limit},MATCH({followed_last_torque},{every_log_torque_code},0)),"")',
)
def torque_at_limit(followed_last_torque: Num, followed_restart: Num, every_log_at_limit: Num, every_log_torque_code: Num) -> Num:
    """1 where the last row that says yes or no since the last repack says yes, 0 where it says no."""
    there = followed_last_torque >= followed_restart
    return np.where(there, pick(row_of(followed_last_torque, every_log_torque_code), every_log_at_limit), np.nan)


@derived(
    title="Retorque due on",
    unit="date",
    part=PART,
    source=cite("retorque"),
    per=Per.FOLLOWED,
    empirical="a day number and a number of days make a day number",
    excel="{last_repack}+{retorque_days}",
)
def retorque_due_date(last_repack: Num, retorque_days: float) -> Num:
    """When the nuts are to be looked at again after the last repack."""
    return last_repack + retorque_days


@derived(
    title="Retorque due",
    unit="1",
    part=PART,
    source=cite("retorque"),
    per=Per.FOLLOWED,
    excel="IF(AND(ROUND({status_date}-{retorque_due_date},{counting_digits})>=0,{followed_last_adjust}<={followed_restart}),1,0)",
)
def retorque_due(status_date: Num, retorque_due_date: Num, counting_digits: float, followed_last_adjust: Num, followed_restart: Num) -> Num:
    """1 where the day of the retorque has come and no adjustment is logged since the repack."""
    come = at_least_zero(status_date - retorque_due_date, counting_digits)
    return np.where(come & ~(followed_last_adjust > followed_restart), 1.0, 0.0)


@derived(
    title="Follower askew",
    unit="1",
    part=PART,
    source=cite("tilt-limit"),
    per=Per.FOLLOWED,
    excel="IF(ROUND({last_gap_difference}-{greatest_gap_difference},{counting_digits})>0,1,0)",
)
def tilt_over(last_gap_difference: Num, greatest_gap_difference: float, counting_digits: float) -> Num:
    """1 where the gaps of the last reading differ by more than they may."""
    return np.where(above_zero(last_gap_difference - greatest_gap_difference, counting_digits), 1.0, 0.0)


@derived(
    title="Take-up gone",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="IF(ROUND({take_up_left},{counting_digits})<=0,1,0)",
)
def take_up_gone(take_up_left: Num, counting_digits: float) -> Num:
    """1 where the last gap is at the least take-up or below."""
    return np.where(above_zero(take_up_left, counting_digits), 0.0, 1.0)


# --- what to do -------------------------------------------------------------------------------------------------------

#: The states by their rank, the gravest first.
STATES: Final = ("act now", "repack at next outage", "adjust", "leave", "no reading")
#: Why, in the order in which it is asked: what must hold in Excel text, the rank of the state, and the sentence.
REASONS: Final = (
    ("SUM({torque_at_limit})", 1, "The nuts are at their torque limit: do not tighten further. Tell the owner's engineer, and repack."),
    (
        "SUM({leak_over_limit})*SUM({take_up_gone})",
        1,
        "The leak is at its limit or over it and no take-up is left: tightening cannot help. Tell the owner's engineer, and repack.",
    ),
    ("SUM({take_up_gone})", 2, "The gap is at the least take-up: plan the repack for the next outage."),
    (
        "SUM({gone_by_next_outage})",
        2,
        "The gland may run out of adjustment before the next outage: plan the repack for it, and read the gap more often.",
    ),
    (
        "SUM({leak_over_limit})*SIGN({readings})",
        3,
        "The leak is at its limit or over it and take-up is left: tighten evenly, one flat at a time, in service only by the site's "
        "procedure. Then measure again.",
    ),
    (
        "SUM({leak_over_limit})",
        3,
        "The leak is at its limit or over it and no gap is known since the last repack: read both gaps, then tighten, in service only by "
        "the site's procedure.",
    ),
    (
        "SUM({tilt_over})",
        3,
        "The follower is askew: tighten the nut on the wider gap, one flat at a time, in service only by the site's procedure. Never "
        "slacken a nut under pressure.",
    ),
    (
        "SUM({retorque_due})",
        3,
        "The retorque after the repack is due and no adjustment is logged: do it, in service only by the site's procedure, and log it.",
    ),
    ("SIGN({readings})", 4, "Nothing asks for work: go on reading the gap."),
)
_LAST_REASON: Final = (5, "No gap is read since the last repack, or none at all: read both gaps and log them.")
_FLAGS: Final = (
    "torque_at_limit",
    "leak_over_limit",
    "take_up_gone",
    "gone_by_next_outage",
    "readings",
    "tilt_over",
    "retorque_due",
)


def _first_true(tests: tuple[str, ...]) -> str:
    """Excel text for the place of the first of some tests that is 1, and one more than there are where none is."""
    return f"1+(1-{tests[0]})*({_first_true(tests[1:])})" if len(tests) > 1 else f"1+(1-{tests[0]})"


def _reason(torque: Any, leak: Any, gone: Any, by_next: Any, count: Any, tilt: Any, retorque: Any) -> Any:
    """The place of the first reason that holds."""
    leaks, bottomed = leak == 1, gone == 1
    held = [
        torque == 1,
        leaks & bottomed,
        bottomed,
        by_next == 1,
        leaks & (count > 0),
        leaks,
        tilt == 1,
        retorque == 1,
        count > 0,
        np.ones(np.shape(count), dtype=bool),
    ]
    return np.argmax(np.array(held), axis=0) + 1.0


derive(
    "followed_reason_number",
    _FLAGS,
    _reason,
    "Which of the reasons, from the gravest on, is the first that holds.",
    title="Number of the reason",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    optional=tuple(flag for flag in _FLAGS if flag != "readings"),
    excel=_first_true(tuple(test for test, _rank, _words in REASONS)),
)

_RANKS: Final = (*(rank for _test, rank, _words in REASONS), _LAST_REASON[0])
#: Small ranks as they may stand in a formula.
_WRITTEN: Final = {1: "1", 2: "2", 3: "2+1", 4: "4", 5: "4+1"}
derive(
    "followed_rank",
    ("followed_reason_number",),
    lambda number: np.array([np.nan, *_RANKS])[np.nan_to_num(number).astype(np.intp)],
    "The rank of the state: act now first, no reading last.",
    title="Rank of the state",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="CHOOSE({followed_reason_number}," + ",".join(_WRITTEN[rank] for rank in _RANKS) + ")",
)


@derived(
    title="State of the valve followed",
    text=True,
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel='CHOOSE({followed_rank},"act now","repack at next outage","adjust","leave","no reading")',
)
def followed_state(followed_rank: Num) -> Any:
    """Act now, repack at next outage, adjust, leave, or no reading."""
    return np.array(["", *STATES], dtype=object)[np.nan_to_num(followed_rank).astype(np.intp)]


_SENTENCES: Final = (*(words for _test, _rank, words in REASONS), _LAST_REASON[1])
derive(
    "followed_reason",
    ("followed_reason_number",),
    lambda number: np.array(["", *_SENTENCES], dtype=object)[np.nan_to_num(number).astype(np.intp)],
    "Why the valve is in its state, and what to do.",
    title="Why, and what to do",
    text=True,
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="CHOOSE({followed_reason_number}," + ",".join(f'"{words}"' for words in _SENTENCES) + ")",
)

# --- counts -----------------------------------------------------------------------------------------------------------

for _rank, (_name, _state) in enumerate(zip(("act", "repack", "adjust", "leave", "unread"), STATES, strict=True), start=1):
    derive(
        f"followed_{_name}",
        ("every_followed_rank",),
        lambda ranks, rank=_rank: count_where(ranks, float(rank)),
        f"How many valves followed are in the state: {_state}.",
        title=f"Valves to {_state}" if _name != "unread" else "Valves without a reading",
        unit="1",
        part=PART,
        source=cite("gathering"),
        per=Per.OUTAGE,
        excel=f"COUNTIF({{every_followed_rank}},{_WRITTEN[_rank]})",
    )

for _name, _of, _title, _says in (
    ("readings_in_use", "log_in_use", "Rows of the log in use", "How many rows of the log are in use."),
    ("readings_with_faults", "log_wrong", "Rows of the log to look at", "In how many rows of the log something is wrong."),
    ("followed_with_faults", "followed_wrong", "Valves followed to look at", "In how many rows of the valves followed something is wrong."),
):
    derive(
        _name,
        (f"every_{_of}",),
        counted,
        _says,
        title=_title,
        unit="1",
        part=PART,
        source=cite("gathering"),
        per=Per.OUTAGE,
        excel=f"COUNT({{every_{_of}}})",
    )


@fault(
    title="Rows of the log are wrong",
    part=PART,
    source=LOGGED,
    about=("log_number",),
    per=Per.OUTAGE,
    words="In some rows of the log something is wrong: each says what.",
    excel="{readings_with_faults}>0",
)
def readings_wrong(readings_with_faults: Num) -> Any:
    """Says that rows of the log want a look."""
    return readings_with_faults > 0


@fault(
    title="Rows of the valves followed are wrong",
    part=PART,
    source=LOGGED,
    about=("followed_number",),
    per=Per.OUTAGE,
    words="In some rows of the valves followed something is wrong: each says what.",
    excel="{followed_with_faults}>0",
)
def followed_list_wrong(followed_with_faults: Num) -> Any:
    """Says that rows of the valves followed want a look."""
    return followed_with_faults > 0


@fault(
    title="Status date not typed",
    part=PART,
    source=LOGGED,
    about=("status_date_entered",),
    per=Per.OUTAGE,
    optional=("status_date_entered",),
    words="Status date is missing: every dated row of the log counts, and neither a retorque nor the gap of today is worked out.",
    excel='AND({readings_in_use}>0,IFERROR({status_date_entered}="",0))',
)
def status_date_missing(readings_in_use: Num, status_date_entered: Num) -> Any:
    """Says what is lost without a status date."""
    return (readings_in_use > 0) & np.isnan(status_date_entered)


declare_check(
    PART,
    "check_log",
    "Check log",
    "OK, or what is wrong with the log and the follow-up as a whole.",
    ("outage_unit_trouble", "status_date_fault", "next_outage_fault"),
    per=Per.OUTAGE,
    used="readings_in_use",
)
