"""Labour of an outage: man-hours of each valve, its crew and its day, the load of each day, and the critical jobs.

Only a valve that is on the order has a job. A job without a day of its own is laid in the days in turn: the critical ones
first, then in the order of the list; each day keeps room for the longest job, so that what begins ends on its day where that
job takes no more than half of it.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, rounded, whole, whole_up
from sheetcalc.calculations.entries import given, given_code
from sheetcalc.calculations.gathering import count_where, counted, smallest, sum_where, total
from sheetcalc.calculations.state import declare_check
from sheetcalc.declare.blocks import derive, derived, entry, fault, gathered
from sheetcalc.declare.quantity import Formula, Num, Per, Text
from sheetcalc.reference.sources import cite

PART, DAYS, CRITICAL = "labour", "days", "critical"
TASKS, PLAN, GATHERED, ARITHMETIC = cite("labour-tasks"), cite("labour-plan"), cite("gathering"), cite("arithmetic")
_OR_CLEAR: Final = "or clear the cell."


def _sum_below(column: Num, limit: Any, amounts: Num) -> Any:
    """For each limit the sum of the amounts beside the numbers of a column that are below it; blank amounts count as nothing."""
    known = ~np.isnan(column)
    rising = np.argsort(column[known], kind="stable")
    sums = np.concatenate([[0.0], np.cumsum(np.nan_to_num(amounts[known][rising]))])
    return sums[np.searchsorted(column[known][rising], np.asarray(limit, dtype=np.float64), side="left")]


def _largest(column: Num) -> float:
    """The largest number of a column; 0 where it holds none, as in a sheet."""
    return float(np.max(column, initial=-np.inf, where=~np.isnan(column))) if counted(column) else 0.0


# --- the people ---

given(
    "people",
    title="People at the glands",
    symbol="",
    unit="1",
    part=PART,
    per=Per.OUTAGE,
    usual="people_usual",
    low="1",
    high="most_people",
    whole=True,
    remedy=f"type how many people work at the glands {_OR_CLEAR}",
    sentence="How many people work at the glands in each shift.",
)
given(
    "crew_size",
    title="People of a crew",
    symbol="",
    unit="1",
    part=PART,
    per=Per.OUTAGE,
    usual="crew_size_usual",
    low="1",
    high="most_people",
    whole=True,
    remedy=f"type how many people work together {_OR_CLEAR}",
    sentence="How many people work together at one valve.",
)
given(
    "shifts",
    title="Shifts in a day",
    symbol="",
    unit="1",
    part=PART,
    per=Per.OUTAGE,
    usual="shifts_usual",
    low="1",
    high="most_shifts",
    whole=True,
    remedy=f"type how many shifts a day has {_OR_CLEAR}",
    sentence="How many shifts a day has.",
)
given(
    "shift_hours",
    title="Hours of a shift",
    symbol="",
    unit="h",
    part=PART,
    per=Per.OUTAGE,
    usual="shift_hours_usual",
    low="1",
    high="longest_shift",
    remedy=f"type how many hours a shift has {_OR_CLEAR}",
    sentence="How long a shift is.",
)
given(
    "outage_days",
    title="Days of the outage",
    symbol="",
    unit="d",
    part=PART,
    per=Per.OUTAGE,
    usual="outage_days_usual",
    low="1",
    high="longest_outage",
    whole=True,
    remedy=f"type how many days the outage has {_OR_CLEAR}",
    sentence="How many days the outage has.",
)


@derived(
    title="Whole crews",
    unit="1",
    part=PART,
    source=ARITHMETIC,
    per=Per.OUTAGE,
    excel="INT(ROUND({people}/{crew_size},{counting_digits}))",
)
def crews_whole(people: Num, crew_size: Num, counting_digits: float) -> Num:
    """How many whole crews the people make up."""
    return whole(people / crew_size, counting_digits)


@derived(title="Crews", unit="1", part=PART, source=PLAN, per=Per.OUTAGE, excel="MAX(1,MIN({most_crews},{crews_whole}))")
def crew_count(most_crews: float, crews_whole: Num) -> Num:
    """How many crews share the jobs: at least one, and no more than the kit list counts tools for."""
    return np.clip(crews_whole, 1, most_crews)


@derived(
    title="Man-hours of a person in a day",
    unit="h",
    part=PART,
    source=ARITHMETIC,
    per=Per.OUTAGE,
    excel="{shifts}*{shift_hours}*{productive_share}",
)
def person_hours(shifts: Num, shift_hours: Num, productive_share: float) -> Num:
    """What one person in each shift does at the glands in a day."""
    return productive_share * shift_hours * shifts


@derived(title="Man-hours of a day", unit="h", part=PART, source=ARITHMETIC, per=Per.OUTAGE, excel="{people}*{person_hours}")
def day_capacity(people: Num, person_hours: Num) -> Num:
    """What all people do at the glands in a day."""
    return person_hours * people


@fault(
    title="Fewer people than a crew",
    part=PART,
    source=PLAN,
    about=("people_entered", "crew_size_entered"),
    per=Per.OUTAGE,
    words="There are fewer people than one crew needs: type more people, or a smaller crew.",
    excel="{people}<{crew_size}",
)
def people_too_few(people: Num, crew_size: Num) -> Any:
    """Says that not even one crew is whole."""
    return people < crew_size


@fault(
    title="More crews than the kit list has",
    part=PART,
    source=PLAN,
    about=("people_entered", "crew_size_entered"),
    per=Per.OUTAGE,
    words="The people make up more crews than the kit list counts tools for: the jobs are shared by the first of them.",
    excel="{crews_whole}>{most_crews}",
)
def crews_too_many(crews_whole: Num, most_crews: float) -> Any:
    """Says that some crews have no column in the kit list."""
    return crews_whole > most_crews


# --- man-hours of a valve ---


@derived(title="Man-hours of a valve, without rings", unit="h", part=PART, source=TASKS, per=Per.OUTAGE, excel="SUM({task_valve_hours})")
def hours_per_valve(task_valve_hours: Num) -> float:
    """Man-hours of all tasks that do not depend on the number of rings."""
    return total(task_valve_hours)


@derived(title="Man-hours of a ring", unit="h", part=PART, source=TASKS, per=Per.OUTAGE, excel="SUM({task_ring_hours})")
def hours_per_ring(task_ring_hours: Num) -> float:
    """Man-hours of all tasks for each ring of the set."""
    return total(task_ring_hours)


@fault(
    title="Task of less than no time",
    part=PART,
    source=TASKS,
    about=(),
    per=Per.OUTAGE,
    words="A task has man-hours below nought: correct it in the table of tasks.",
    excel="MIN({task_valve_hours},{task_ring_hours})<0",
)
def task_below_nothing(task_valve_hours: Num, task_ring_hours: Num) -> Any:
    """Says that a task takes hours away."""
    return bool(np.any(task_valve_hours < 0) or np.any(task_ring_hours < 0))


given_code(
    "critical",
    title="Critical",
    part=PART,
    names="yes_no_names",
    usual="critical_usual",
    remedy="type yes or no.",
    per=Per.LISTED,
    sentence="Whether the end of the outage waits for this valve.",
)


@derived(
    title="Rings of the job",
    unit="1",
    part=PART,
    source=TASKS,
    per=Per.LISTED,
    optional=("ring_count", "loose_fills"),
    excel="{ordered}*IF(ISNUMBER({ring_count}),{ring_count},SUM({loose_fills}))",
)
def job_rings(ordered: Num, ring_count: Num, loose_fills: Num) -> Num:
    """Rings to be fitted; for loose packing how often the box is filled."""
    return ordered * np.where(np.isnan(ring_count), np.nan_to_num(loose_fills), ring_count)


@derived(
    title="Man-hours out of the line and back",
    unit="h",
    part=PART,
    source=TASKS,
    per=Per.LISTED,
    optional=("out_hours",),
    excel='IF(EXACT({comes_out},"yes"),SUM({out_hours}),0)',
)
def job_out_hours(comes_out: Text, out_hours: Num) -> Num:
    """Man-hours of taking the valve out and putting it back, where it comes out; 0 where its size and class are not known."""
    return np.where(comes_out == "yes", np.nan_to_num(out_hours), 0.0)


def _hours_worked(more: tuple[str, ...]) -> Formula:
    reads = ("hours_per_valve", "hours_per_ring", "job_rings", *more)
    excel = "+".join(("{hours_per_valve}", "{hours_per_ring}*{job_rings}", *(f"{{{name}}}" for name in more)))
    return Formula(reads=reads, excel=excel, function=lambda valve, ring, rings, *others: rings * ring + sum(others, valve))


gathered(
    "job_hours_worked",
    ("job_out_hours",),
    _hours_worked,
    "From the table of tasks and the number of rings; for a valve that comes out also taking it out and putting it back.",
    alone=True,
    title="Man-hours of the job, worked out",
    unit="h",
    part=PART,
    source=TASKS,
    per=Per.LISTED,
)


given(
    "job_hours_stated",
    title="Hours for this valve",
    symbol="",
    unit="h",
    part=PART,
    per=Per.LISTED,
    usual="job_hours_worked",
    low="0",
    high="longest_job",
    remedy=f"type the man-hours of the whole job {_OR_CLEAR}",
    sentence="Man-hours of the whole job, out of the line and back if need be: as typed, else worked out.",
)


@derived(
    title="Man-hours of the job",
    unit="h",
    part=PART,
    source=TASKS,
    per=Per.LISTED,
    excel="{job_hours_stated}*{ordered}",
)
def job_hours(job_hours_stated: Num, ordered: Num) -> Num:
    """Man-hours of the job, for a valve that is ordered."""
    return ordered * job_hours_stated


@derived(title="Job", unit="1", part=PART, source=PLAN, per=Per.LISTED, excel='IF({job_hours}>=0,1,"")')
def job(job_hours: Num) -> Num:
    """1 where the valve has a job with man-hours."""
    return np.where(job_hours >= 0, 1.0, np.nan)


@derived(title="Critical job", unit="1", part=PART, source=PLAN, per=Per.LISTED, excel='IF(EXACT({critical},"yes"),{job},"")')
def critical_job(critical: Text, job: Num) -> Num:
    """1 where the job is critical."""
    return np.where(critical == "yes", job, np.nan)


# --- the crew ---


@derived(
    title="Crew in turn",
    unit="1",
    part=PART,
    source=PLAN,
    per=Per.LISTED,
    excel="1+MOD({position}-1,{crew_count})",
)
def crew_in_turn(position: Num, crew_count: Num) -> Num:
    """The crews take the valves in turn, in the order of the list."""
    return (position - 1) % crew_count + 1


given(
    "crew_number",
    title="Crew",
    symbol="",
    unit="1",
    part=PART,
    per=Per.LISTED,
    usual="crew_in_turn",
    low="1",
    high="most_crews",
    whole=True,
    remedy=f"type the number of the crew {_OR_CLEAR}",
    sentence="The number of the crew that does the job.",
)


@derived(title="Crew of the job", unit="1", part=PART, source=PLAN, per=Per.LISTED, excel="{crew_number}*{ordered}")
def job_crew(crew_number: Num, ordered: Num) -> Num:
    """The number of the crew, for a valve that is ordered."""
    return ordered * crew_number


@fault(
    title="No such crew",
    part=PART,
    source=PLAN,
    about=("crew_number_entered",),
    per=Per.LISTED,
    words="The people do not make up so many crews: type the number of a crew that there is, or more people.",
    excel="{crew_number_typed}>{crew_count}",
)
def crew_not_there(crew_number_typed: Num, crew_count: Num) -> Any:
    """Says that the typed crew is above the crews there are."""
    return crew_number_typed > crew_count


# --- the day ---

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
    return _sum_below(every_job_rank, job_rank, every_job_hours)


@derived(title="Longest job", unit="h", part=PART, source=PLAN, per=Per.OUTAGE, excel="MAX({every_job_hours})")
def hours_longest(every_job_hours: Num) -> float:
    """Man-hours of the longest job; 0 where there is none."""
    return _largest(every_job_hours)


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
    return rounded(_sum_below(every_day_number, day_number, every_day_room), counting_digits)


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
    remedy=f"type the number of the day, from 1, {_OR_CLEAR}",
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


# --- the outage ---


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
    return _largest(every_job_day_planned)


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


# --- the critical jobs ---

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
    """READY, LOOK, INCOMPLETE or HOLD."""
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
