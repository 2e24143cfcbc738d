"""Labour of the outage as a whole: its jobs and man-hours, how many days they need, and when they are done."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import rounded
from sheetcalc.calculations.gathering import counted, largest, total
from sheetcalc.calculations.outage.labour import ARITHMETIC, GATHERED, PART, PLAN
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derived, fault
from sheetcalc.declare.quantity import Num, Per


@derived(title="Jobs", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE, excel="COUNT({every_job_hours})")
def jobs_total(every_job_hours: Num) -> float:
    """How many valves have a job with man-hours."""
    return counted(every_job_hours)


@derived(title="Critical jobs", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE, excel="SUM({every_critical_job})")
def jobs_critical(every_critical_job: Num) -> float:
    """How many of the jobs are critical."""
    return total(every_critical_job)


@derived(
    title="Valves ordered without a job",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.OUTAGE,
    excel="SUM({every_ordered})-{jobs_total}",
)
def jobs_missing(every_ordered: Num, jobs_total: Num) -> Num:
    """Valves that are ordered and have no man-hours, since what is typed for them cannot be used."""
    return total(every_ordered) - jobs_total


@derived(title="Man-hours of the valves", unit="h", part=PART, source=GATHERED, per=Per.OUTAGE, excel="SUM({every_job_hours})")
def hours_of_valves(every_job_hours: Num) -> float:
    """Man-hours, added up over the valves."""
    return total(every_job_hours)


@derived(title="Man-hours of the days", unit="h", part=PART, source=GATHERED, per=Per.OUTAGE, excel="SUM({every_day_hours})")
def hours_of_days(every_day_hours: Num) -> float:
    """Man-hours, added up over the days."""
    return total(every_day_hours)


@derived(
    title="Man-hours of the valves less those of the days",
    unit="h",
    part=PART,
    source=GATHERED,
    per=Per.OUTAGE,
    excel="{hours_of_valves}-{hours_of_days}",
)
def hours_difference(hours_of_valves: Num, hours_of_days: Num) -> Num:
    """No job is lost."""
    return hours_of_valves - hours_of_days


@derived(title="Last day with a job", unit="1", part=PART, source=PLAN, per=Per.OUTAGE, excel="MAX({every_job_day_planned})")
def days_needed(every_job_day_planned: Num) -> float:
    """The number of the last day that has a job; 0 where there is none."""
    return largest(every_job_day_planned)


@derived(
    title="Last job done on",
    unit="date",
    part=PART,
    source=ARITHMETIC,
    per=Per.OUTAGE,
    excel='IF({days_needed}>0,{outage_start}+{days_needed}-1,"")',
)
def finish_date(days_needed: Num, outage_start: Num) -> Num:
    """The date of the last day that has a job."""
    return np.where(days_needed > 0, outage_start - 1 + days_needed, np.nan)


@fault(
    title="Jobs past the outage",
    part=PART,
    source=PLAN,
    about=("outage_days_entered",),
    per=Per.OUTAGE,
    words="The jobs run past the days of the outage: add people, a shift or days, or take valves out.",
    excel="{days_needed}>{outage_days}",
)
def jobs_past_end(days_needed: Num, outage_days: Num) -> Any:
    """Says that the days do not suffice."""
    return days_needed > outage_days


@fault(
    title="Days against valves",
    part=PART,
    source=GATHERED,
    about=(),
    per=Per.OUTAGE,
    words="The days do not tie to the valves: some jobs have no day. Read the check of the plan in the list.",
    excel="ABS(ROUND({hours_difference},{counting_digits}))>0",
)
def hours_lost(hours_difference: Num, counting_digits: float) -> Any:
    """Says that a job is in no day."""
    return np.abs(rounded(hours_difference, counting_digits)) > 0


@fault(
    title="Hours missing",
    part=PART,
    source=GATHERED,
    about=(),
    per=Per.OUTAGE,
    words="Some valves are ordered and have no man-hours: read the check of the plan in the list.",
    excel="{jobs_missing}>0",
)
def hours_missing(jobs_missing: Num) -> Any:
    """Says that an ordered valve is not in the labour."""
    return jobs_missing > 0


declare_check(PART, "check_labour", "Check labour", "OK, or what is wrong with people, hours or days.", per=Per.OUTAGE, used="jobs_total")
