"""Labour of an outage: the people, the man-hours of each valve, and its crew.

Only a valve that is on the order has a job.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import whole
from sheetcalc.calculations.gathering import total
from sheetcalc.calculations.given import given, given_code
from sheetcalc.declare.blocks import derived, fault, gathered
from sheetcalc.declare.quantity import Formula, Num, Per, Text
from sheetcalc.reference.sources import cite

PART, DAYS, CRITICAL = "labour", "days", "critical"
TASKS, PLAN, GATHERED, ARITHMETIC = cite("labour-tasks"), cite("labour-plan"), cite("gathering"), cite("arithmetic")
OR_CLEAR: Final = "or clear the cell."

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
    remedy=f"type how many people work at the glands {OR_CLEAR}",
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
    remedy=f"type how many people work together {OR_CLEAR}",
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
    remedy=f"type how many shifts a day has {OR_CLEAR}",
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
    remedy=f"type how many hours a shift has {OR_CLEAR}",
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
    remedy=f"type how many days the outage has {OR_CLEAR}",
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


@derived(
    title="Man-hours of a valve, without rings",
    unit="h",
    part=PART,
    source=TASKS,
    per=Per.OUTAGE,
    guards=False,
    excel="SUM({task_valve_minutes})/{hour_minutes}",
)
def hours_per_valve(task_valve_minutes: Num, hour_minutes: float) -> float:
    """Man-hours of all tasks that do not depend on the number of rings."""
    return total(task_valve_minutes) / hour_minutes


@derived(
    title="Man-hours of a ring",
    unit="h",
    part=PART,
    source=TASKS,
    per=Per.OUTAGE,
    guards=False,
    excel="SUM({task_ring_minutes})/{hour_minutes}",
)
def hours_per_ring(task_ring_minutes: Num, hour_minutes: float) -> float:
    """Man-hours of all tasks for each ring of the set."""
    return total(task_ring_minutes) / hour_minutes


@fault(
    title="Task of less than no time",
    part=PART,
    source=TASKS,
    about=(),
    per=Per.OUTAGE,
    words="A task has minutes below nought: correct it in the table of tasks.",
    excel="MIN({task_valve_minutes},{task_ring_minutes})<0",
)
def task_below_nothing(task_valve_minutes: Num, task_ring_minutes: Num) -> Any:
    """Says that a task takes hours away."""
    return bool(np.any(task_valve_minutes < 0) or np.any(task_ring_minutes < 0))


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
    title="Removal and refit, man-hours of the job",
    unit="h",
    part=PART,
    source=TASKS,
    per=Per.LISTED,
    optional=("out_hours",),
    excel='IF(EXACT({comes_out},"yes"),SUM({out_hours}),0)',
)
def job_out_hours(comes_out: Text, out_hours: Num) -> Num:
    """Man-hours of removal and refit, where the valve comes out; 0 where they are not known, which is said."""
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
    remedy=f"type the man-hours of the whole job {OR_CLEAR}",
    sentence="Man-hours of the whole job, out of the line and back if need be: as typed, else worked out.",
)


@fault(
    title="Man-hours of removal not known",
    part=PART,
    source=TASKS,
    about=("job_hours_stated_entered",),
    per=Per.LISTED,
    optional=("out_hours", "job_hours_stated_typed"),
    words="The valve comes out, and its man-hours are without removal and refit, since flange bolts or mass are not known: type them for "
    "the whole job.",
    excel='AND({ordered}=1,EXACT({comes_out},"yes"),COUNT({out_hours},{job_hours_stated_typed})=0)',
)
def out_hours_not_known(ordered: Num, comes_out: Text, out_hours: Num, job_hours_stated_typed: Num) -> Any:
    """Says that the job takes longer than its man-hours tell."""
    return (ordered == 1) & (comes_out == "yes") & np.isnan(out_hours) & np.isnan(job_hours_stated_typed)


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
    remedy=f"type the number of the crew {OR_CLEAR}",
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
