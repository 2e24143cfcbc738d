"""The day of each job, and the load of each day.

A job without a day of its own is laid in the days in turn: the critical ones first, then in the order of the list; each day
keeps room for the longest job, so that what begins ends on its day where that job takes no more than half of it.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, rounded, whole_up
from sheetcalc.calculations.gathering import count_where, largest, sum_below, sum_where
from sheetcalc.calculations.given import given
from sheetcalc.calculations.outage.labour import ARITHMETIC, DAYS, GATHERED, OR_CLEAR, PART, PLAN
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

day_number = entry(
    "day_number",
    title="Day",
    unit="1",
    part=DAYS,
    source=cite("reading"),
    per=Per.DAY,
    sentence="The number of the day, from 1.",
)


@derived(
    title="Job without a day of its own",
    unit="1",
    part=PART,
    source=PLAN,
    per=Per.LISTED,
    optional=("job_day_entered",),
    excel='IF(IFERROR({job_day_entered}="",0),{job},"")',
)
def job_unplanned(job_day_entered: Num, job: Num) -> Num:
    """1 where no day is typed for the job, so that it takes its turn."""
    return np.where(np.isnan(job_day_entered), job, np.nan)


@derived(
    title="Rank of the job",
    unit="1",
    part=PART,
    source=PLAN,
    per=Per.LISTED,
    optional=("critical_job",),
    excel="{job_unplanned}*IF(ISNUMBER({critical_job}),{position},{position}+ROWS({every_position}))",
)
def job_rank(job_unplanned: Num, critical_job: Num, position: Num, every_position: Num) -> Num:
    """The order in which jobs without a day are done: the critical ones first, then by the list."""
    return job_unplanned * (position + np.where(np.isnan(critical_job), len(every_position), 0))


@derived(
    title="Man-hours before the job",
    unit="h",
    part=PART,
    source=PLAN,
    per=Per.LISTED,
    excel='SUMIF({every_job_rank},"<"&{job_rank},{every_job_hours})',
)
def hours_before(every_job_rank: Num, job_rank: Num, every_job_hours: Num) -> Any:
    """Man-hours of the jobs that take their turn before it."""
    return sum_below(every_job_rank, job_rank, every_job_hours)


@derived(title="Longest job", unit="h", part=PART, source=PLAN, per=Per.OUTAGE, excel="MAX({every_job_hours})")
def hours_longest(every_job_hours: Num) -> float:
    """Man-hours of the longest job; 0 where there is none."""
    return largest(every_job_hours)


@derived(
    title="Man-hours that may begin in a day",
    unit="h",
    part=PART,
    source=PLAN,
    per=Per.OUTAGE,
    excel="MAX({day_capacity}/2,{day_capacity}-{hours_longest})",
)
def hours_to_begin(day_capacity: Num, hours_longest: Num) -> Num:
    """What a day has less the longest job, so that the last job begun still ends in the day; at least half of the day."""
    return np.maximum(day_capacity / 2, day_capacity - hours_longest)


@derived(
    title="Man-hours with a day typed",
    unit="h",
    part=DAYS,
    source=PLAN,
    per=Per.DAY,
    excel="SUMIF({every_job_day_typed},{day_number},{every_job_hours})",
)
def day_hours_typed(every_job_day_typed: Num, day_number: Num, every_job_hours: Num) -> Any:
    """Man-hours of the jobs for which this day is typed."""
    return sum_where(every_job_day_typed, day_number, every_job_hours)


@derived(
    title="Man-hours left to begin",
    unit="h",
    part=DAYS,
    source=PLAN,
    per=Per.DAY,
    excel="MAX(0,{hours_to_begin}-{day_hours_typed})",
)
def day_room(hours_to_begin: Num, day_hours_typed: Num) -> Num:
    """Man-hours of jobs in turn that may begin in the day, beside those for which it is typed."""
    return np.maximum(0.0, hours_to_begin - day_hours_typed)


@derived(
    title="Man-hours that begin before",
    unit="h",
    part=DAYS,
    source=PLAN,
    per=Per.DAY,
    excel='ROUND(SUMIF({every_day_number},"<"&{day_number},{every_day_room}),{counting_digits})',
)
def day_begins(every_day_number: Num, day_number: Num, every_day_room: Num, counting_digits: float) -> Any:
    """Man-hours of jobs in turn that may begin before this day."""
    return rounded(sum_below(every_day_number, day_number, every_day_room), counting_digits)


@derived(
    title="Day in turn",
    unit="1",
    part=PART,
    source=PLAN,
    per=Per.LISTED,
    excel="SIGN({hours_to_begin})*SUMPRODUCT(1*({every_day_begins}<=ROUND({hours_before},{counting_digits})))",
)
def day_in_turn(hours_to_begin: Num, every_day_begins: Num, hours_before: Num, counting_digits: float) -> Any:
    """The last day with no more man-hours before it than the job has; the last day of all where the days do not suffice."""
    # Counted, since engines differ on which of equal ones a sorted look-up finds: full days begin alike.
    day = np.searchsorted(np.sort(every_day_begins[~np.isnan(every_day_begins)]), rounded(hours_before, counting_digits), side="right")
    return np.sign(hours_to_begin) * day


given(
    "job_day",
    title="Day of the job",
    symbol="",
    unit="1",
    part=PART,
    per=Per.LISTED,
    usual="day_in_turn",
    low="1",
    high="longest_outage",
    whole=True,
    remedy=f"type the number of the day, from 1, {OR_CLEAR}",
    sentence="The day of the outage on which the job is done.",
)


@derived(title="Day planned", unit="1", part=PART, source=PLAN, per=Per.LISTED, excel="{job_day}*{job}")
def job_day_planned(job_day: Num, job: Num) -> Num:
    """The day of the job: as typed, else in turn; blank where the valve has no job."""
    return job * job_day


@fault(
    title="Day after the end",
    part=PART,
    source=PLAN,
    about=("job_day_entered",),
    per=Per.LISTED,
    words="The day typed for this job is after the last day of the outage: change it, or the days of the outage.",
    excel="{job_day_typed}>{outage_days}",
)
def day_after_end(job_day_typed: Num, outage_days: Num) -> Any:
    """Says that a day is typed that the outage does not have."""
    return job_day_typed > outage_days


@fault(
    title="Critical valve without a job",
    part=PART,
    source=PLAN,
    about=("critical_entered",),
    per=Per.LISTED,
    optional=("job",),
    words="This valve is critical and has no job: it waits until what is wrong with it is put right.",
    excel='AND({in_use}=1,EXACT({critical},"yes"),NOT(ISNUMBER({job})))',
)
def critical_waits(in_use: Num, critical: Text, job: Num) -> Any:
    """Says that the outage waits for a valve that nobody can plan yet."""
    return (in_use == 1) & (critical == "yes") & np.isnan(job)


declare_check(PART, "check_plan", "Check plan", "OK, or what is wrong with crew, day or hours of the job.", per=Per.LISTED)


# --- the days ---


@derived(title="Date", unit="date", part=DAYS, source=ARITHMETIC, per=Per.DAY, excel="{outage_start}+{day_number}-1")
def day_date(outage_start: Num, day_number: Num) -> Num:
    """The date of the day; blank until the start of the outage is typed."""
    return outage_start - 1 + day_number


@derived(title="Jobs of the day", unit="1", part=DAYS, source=GATHERED, per=Per.DAY, excel="COUNTIF({every_job_day_planned},{day_number})")
def day_jobs(every_job_day_planned: Num, day_number: Num) -> Any:
    """How many jobs are planned for the day."""
    return count_where(every_job_day_planned, day_number)


@derived(
    title="Critical jobs of the day",
    unit="1",
    part=DAYS,
    source=GATHERED,
    per=Per.DAY,
    excel="SUMIF({every_job_day_planned},{day_number},{every_critical_job})",
)
def day_critical_jobs(every_job_day_planned: Num, day_number: Num, every_critical_job: Num) -> Any:
    """How many of them are critical."""
    return sum_where(every_job_day_planned, day_number, every_critical_job)


@derived(
    title="Man-hours planned",
    unit="h",
    part=DAYS,
    source=GATHERED,
    per=Per.DAY,
    excel="SUMIF({every_job_day_planned},{day_number},{every_job_hours})",
)
def day_hours(every_job_day_planned: Num, day_number: Num, every_job_hours: Num) -> Any:
    """Man-hours of the jobs of the day."""
    return sum_where(every_job_day_planned, day_number, every_job_hours)


@derived(title="Man-hours left", unit="h", part=DAYS, source=ARITHMETIC, per=Per.DAY, excel="{day_capacity}-{day_hours}")
def day_capacity_left(day_capacity: Num, day_hours: Num) -> Num:
    """What the people could do beyond the jobs of the day; below 0 where there are too few people."""
    return day_capacity - day_hours


@derived(
    title="People needed",
    unit="1",
    part=DAYS,
    source=ARITHMETIC,
    per=Per.DAY,
    excel="ROUNDUP(ROUND({day_hours}/{person_hours},{counting_digits}),0)",
)
def day_people_needed(day_hours: Num, person_hours: Num, counting_digits: float) -> Num:
    """How many people in each shift the jobs of the day take."""
    return whole_up(day_hours / person_hours, counting_digits)


@derived(
    title="Man-hours that the people have",
    unit="h",
    part=DAYS,
    source=ARITHMETIC,
    per=Per.DAY,
    excel="IF({day_number}<={outage_days},{day_capacity},0)",
)
def day_available(day_number: Num, outage_days: Num, day_capacity: Num) -> Num:
    """What all people do at the glands on this day; nothing after the outage ends."""
    return np.where(day_number <= outage_days, day_capacity, 0.0)


@derived(title="Load of the day", unit="1", part=DAYS, source=ARITHMETIC, per=Per.DAY, excel="{day_hours}/{day_capacity}")
def day_load(day_hours: Num, day_capacity: Num) -> Num:
    """Man-hours planned as a share of those that the people have."""
    return day_hours / day_capacity


@derived(
    title="State of the day, number",
    unit="1",
    part=DAYS,
    source=PLAN,
    per=Per.DAY,
    excel="SIGN({day_jobs})*MAX(1,2*(ROUND({day_hours}-{day_capacity},{counting_digits})>0),(2+1)*({day_number}>{outage_days}))",
)
def day_state(day_jobs: Num, day_hours: Num, day_capacity: Num, counting_digits: float, day_number: Num, outage_days: Num) -> Num:
    """0 no jobs, 1 within the people, 2 more hours than people, 3 after the end of the outage."""
    over = np.where(above_zero(day_hours - day_capacity, counting_digits), 2.0, 1.0)
    return np.where(day_jobs > 0, np.where(day_number > outage_days, 3.0, over), 0.0)


@derived(
    title="State of the day",
    part=DAYS,
    source=PLAN,
    text=True,
    per=Per.DAY,
    excel='CHOOSE(1+{day_state},"","within the people there are","more hours than people: add people, a shift or a day",'
    '"after the outage ends")',
)
def day_words(day_state: Num) -> Any:
    """Whether the people suffice for the jobs of the day; blank where there is none."""
    words = ["", "within the people there are", "more hours than people: add people, a shift or a day", "after the outage ends"]
    return np.array(words, dtype=object)[np.nan_to_num(day_state).astype(np.intp)]


@fault(
    title="More hours than people",
    part=DAYS,
    source=PLAN,
    about=(),
    per=Per.DAY,
    words="More hours than people: add people or a shift, or move jobs to another day.",
    excel="ROUND({day_hours}-{day_capacity},{counting_digits})>0",
)
def day_over(day_hours: Num, day_capacity: Num, counting_digits: float) -> Any:
    """Says that the jobs of the day take more hours than the people have."""
    return above_zero(day_hours - day_capacity, counting_digits)


@fault(
    title="Jobs after the end",
    part=DAYS,
    source=PLAN,
    about=(),
    per=Per.DAY,
    words="Jobs are planned after the outage ends: add people, a shift or days.",
    excel="AND({day_jobs}>0,{day_number}>{outage_days})",
)
def day_late(day_jobs: Num, day_number: Num, outage_days: Num) -> Any:
    """Says that the outage is over on a day that has jobs."""
    return (day_jobs > 0) & (day_number > outage_days)


@derived(
    title="Day in use",
    unit="1",
    part=DAYS,
    source=PLAN,
    per=Per.DAY,
    optional=("outage_days",),
    excel='IF(OR({day_jobs}>0,{day_number}<=SUM({outage_days})),1,"")',
)
def day_in_use(day_jobs: Num, day_number: Num, outage_days: Num) -> Num:
    """1 where the day lies in the outage or has jobs."""
    return np.where((day_jobs > 0) | (day_number <= np.nan_to_num(outage_days)), 1.0, np.nan)


declare_check(DAYS, "check_day", "Check day", "OK, or what is wrong with the plan of the day.", per=Per.DAY, used="day_in_use")
