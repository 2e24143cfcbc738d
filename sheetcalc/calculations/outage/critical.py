"""The critical jobs: a row for each, with its day and what stands against it."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import counted, smallest
from sheetcalc.calculations.outage.labour import CRITICAL, GATHERED, PLAN
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derive, derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

critical_place = entry(
    "critical_place",
    title="Number among the critical",
    unit="1",
    part=CRITICAL,
    source=cite("reading"),
    per=Per.CRITICAL,
    sentence="The number of the row, from 1.",
)


@derived(
    title="Critical valve, number in the list",
    unit="1",
    part=CRITICAL,
    source=GATHERED,
    per=Per.LISTED,
    excel='IF(EXACT({critical},"yes"),{position}*{in_use},"")',
)
def critical_position(critical: Text, position: Num, in_use: Num) -> Num:
    """The number of the valve where it is critical, with a job or without."""
    return np.where(critical == "yes", in_use * position, np.nan)


@derived(
    title="Number of the critical valve",
    unit="1",
    part=CRITICAL,
    source=GATHERED,
    per=Per.CRITICAL,
    excel='IFERROR(SMALL({every_critical_position},{critical_place}),"")',
)
def critical_valve(every_critical_position: Num, critical_place: Num) -> Any:
    """The critical valves in the order of the list."""
    return smallest(every_critical_position, critical_place)


@derived(
    title="Tag of the critical valve",
    part=CRITICAL,
    source=GATHERED,
    text=True,
    per=Per.CRITICAL,
    excel='INDEX({every_tag},{critical_valve})&""',
)
def critical_tag(every_tag: Text, critical_valve: Num) -> Any:
    """The name by which the valve is known on site."""
    return pick(critical_valve, [str(tag) for tag in every_tag])


for _name, _title, _column, _unit, _sentence in (
    ("critical_day", "Day of the critical job", "job_day_planned", "1", "The day on which it is planned; blank where it has no job."),
    ("critical_hours", "Man-hours of the critical job", "job_hours", "h", "Man-hours of the job; blank where it has none."),
):
    derive(
        _name,
        (f"every_{_column}", "critical_valve"),
        lambda column, row: pick(row, column),
        _sentence,
        title=_title,
        unit=_unit,
        part=CRITICAL,
        source=GATHERED,
        per=Per.CRITICAL,
        excel=f"INDEX({{every_{_column}}},{{critical_valve}})",
    )


@derived(
    title="State of the critical valve",
    part=CRITICAL,
    source=GATHERED,
    text=True,
    per=Per.CRITICAL,
    excel="INDEX({every_state},{critical_valve})",
)
def critical_state(every_state: Text, critical_valve: Num) -> Any:
    """READY, LOOK, SIZED, MISSING or STOP."""
    return pick(critical_valve, list(every_state))


@derived(
    title="Plan of the critical job, number",
    unit="1",
    part=CRITICAL,
    source=PLAN,
    per=Per.CRITICAL,
    optional=("critical_day",),
    excel="SIGN({critical_valve})+IF(ISNUMBER({critical_day}),1+({critical_day}>{outage_days}),0)",
)
def critical_case(critical_valve: Num, critical_day: Num, outage_days: Num) -> Num:
    """1 without a day, 2 in the outage, 3 after its end."""
    return np.sign(critical_valve) + np.where(np.isnan(critical_day), 0.0, np.where(critical_day > outage_days, 2.0, 1.0))


@derived(
    title="Plan of the critical job",
    part=CRITICAL,
    source=PLAN,
    text=True,
    per=Per.CRITICAL,
    excel='CHOOSE({critical_case},"no day: put right what its checks say","planned in the outage","planned after the outage ends")',
)
def critical_words(critical_case: Num) -> Any:
    """Whether the critical job is planned in the days of the outage."""
    words = ["", "no day: put right what its checks say", "planned in the outage", "planned after the outage ends"]
    return np.array(words, dtype=object)[np.nan_to_num(critical_case).astype(np.intp)]


@derived(title="Critical valves", unit="1", part=CRITICAL, source=GATHERED, per=Per.OUTAGE, excel="COUNT({every_critical_position})")
def valves_critical(every_critical_position: Num) -> float:
    """How many valves are critical, with a job or without."""
    return counted(every_critical_position)


@fault(
    title="Critical list too short",
    part=CRITICAL,
    source=GATHERED,
    about=(),
    per=Per.OUTAGE,
    words="There are more critical valves than this list has lines: look for the others in the list of valves.",
    excel="{valves_critical}>COUNT({every_critical_place})",
)
def critical_list_short(valves_critical: Num, every_critical_place: Num) -> Any:
    """Says that critical valves are not shown."""
    return valves_critical > counted(every_critical_place)


@fault(
    title="Critical valves not planned",
    part=CRITICAL,
    source=PLAN,
    about=(),
    per=Per.OUTAGE,
    words="Critical valves have no job: put right what their checks say.",
    excel="{valves_critical}>{jobs_critical}",
)
def critical_not_planned(valves_critical: Num, jobs_critical: Num) -> Any:
    """Says that the outage waits for valves that nobody can plan yet."""
    return valves_critical > jobs_critical


declare_check(
    CRITICAL,
    "check_critical",
    "Check critical jobs",
    "OK, or what is wrong with the list of critical jobs.",
    per=Per.OUTAGE,
    used="valves_critical",
)
