"""Facts about the labour of an outage: small lists worked by hand, edges, and what must hold for any list.

The minutes of the table of tasks are a model of the project's own, from memory: hours here are worked out from it by hand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcalc.calculations.run import evaluate, evaluate_outage, read_entries
from sheetcalc.declare.quantity import Per
from sheetcalc.reference import tables

VALVE: Final[dict[str, object]] = {
    "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60, "nose_length_entered": 22,
    "gland_stud_thread": "M12", "packing_material": "graphite braid",
}  # fmt: skip
#: Twelve rings of 8 mm cannot stand in a box of 60 mm: STOP.
HELD: Final = {**VALVE, "maker_ring_count_entered": 12}
DAYS: Final = 60


def planned(
    valves: Sequence[Mapping[str, object]], outage: Mapping[str, object] | None = None, *, days: int = DAYS, lines: int = 8,
    constants: Mapping[str, Any] | None = None,
) -> dict[str, Any]:  # fmt: skip
    """The labour of a list; what is no measurement of a valve is its plan."""
    plan = {"crew_number_entered", "job_day_entered", "job_hours_stated_entered", "critical_entered"}
    measured = pd.DataFrame([{k: v for k, v in valve.items() if k not in plan} for valve in valves], dtype=object)
    listed = pd.DataFrame([{name: valve.get(name) for name in plan} for valve in valves], dtype=object)
    listed["position"] = np.arange(1.0, len(valves) + 1)
    frames = {
        Per.LISTED: listed, Per.OUTAGE: pd.DataFrame([{"outage_unit_set": "metric", **(outage or {})}], dtype=object),
        Per.DAY: pd.DataFrame({"day_number": np.arange(1.0, days + 1)}),
        Per.CRITICAL: pd.DataFrame({"critical_place": np.arange(1.0, lines + 1)}),
    }  # fmt: skip
    return evaluate_outage(
        {per: read_entries(frame, per) for per, frame in frames.items()}, {per: len(frame) for per, frame in frames.items()},
        evaluate(read_entries(measured), len(valves)), constants=constants,
    )  # fmt: skip


def test_hours_come_from_the_tasks() -> None:
    """A valve takes 20 + 30 + 20 + 15 + 15 + 20 + 20 = 140 minutes, a ring 6 out and 5 in: 195 for five rings, 3.25 h; 184 for four."""
    out = planned([VALVE, {**VALVE, "maker_ring_count_entered": 4}])
    assert list(out["ring_count"]) == [5, 4]
    assert out["hours_per_valve"][0] == pytest.approx(140 / 60)
    assert out["hours_per_ring"][0] == pytest.approx(11 / 60)
    assert out["job_hours"] == pytest.approx([3.25, 184 / 60])


def test_the_gland_itself_takes_what_the_model_says() -> None:
    """Without travel, preparation, inspection, test and delay: 20 + 6 and 5 for each of five rings + 15 to adjust = 90 minutes."""
    held = tables.values()
    craft = [held["task_names"].index(task) for task in ("take out old packing and clean", "cut and fit rings", "tighten and stroke")]
    assert held["task_valve_minutes"][craft].sum() + 5 * held["task_ring_minutes"][craft].sum() == 90


#: NPS 4 class 150, 60 kg: two joints of eight bolts, 43 minutes each, and a lift of 30 + 0.2 x 60 = 42: 128 minutes.
OUT: Final = {
    **VALVE, "comes_out_entered": "yes", "flange_size": "NPS 4", "flange_class_entered": 150, "flange_facing_entered": "raised face",
    "flange_material_entered": "1.1 carbon steel", "valve_mass_entered": 60,
}  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "minutes"),
    [
        ({}, 128),  # two joints: 2 x 43 + 42
        ({"flange_joint_count_entered": 1}, 85),  # 43 + 42
        ({"flange_size": "NPS 6", "flange_class_entered": 300}, 156),  # twelve bolts: 2 x 57 + 42
        ({"valve_mass_entered": 100}, 136),  # 2 x 43 + 30 + 20
        ({"flange_facing_entered": None}, 128),  # bolts by size and class
    ],
    ids=["two joints", "one joint", "NPS 6", "heavier", "no facing"],
)
def test_a_valve_that_comes_out_takes_longer(changed: dict[str, object], minutes: float) -> None:
    """The 195 minutes of its tasks and those of removal and refit; the outage adds them up."""
    out = planned([{**OUT, **changed}, VALVE])
    assert list(out["job_rings"]) == [5, 5]
    assert out["job_out_hours"] * 60 == pytest.approx([minutes, 0])
    assert out["job_hours"] * 60 == pytest.approx([195 + minutes, 195])
    assert out["hours_of_valves"][0] * 60 == pytest.approx(390 + minutes)
    assert out["hours_of_days"][0] == pytest.approx(out["hours_of_valves"][0])
    assert list(out["check_plan"]) == ["OK", "OK"]
    assert out["check_labour"][0] == "OK"


@pytest.mark.parametrize("said", ["no", None])
def test_a_valve_that_stays_takes_what_it_took(said: str | None) -> None:
    """Flanges typed for a valve that stays in the line add nothing."""
    out = planned([{**OUT, "comes_out_entered": said}])
    assert out["out_hours"][0] == pytest.approx(128 / 60)
    assert out["job_out_hours"][0] == 0
    assert out["job_hours"][0] == pytest.approx(3.25)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"flange_size": None}, "Flange size missing."), ({"flange_class_entered": None}, "Flange class missing."),
        ({"flange_joint_count_entered": 2.5}, "Flange joints is typed but not usable"),
    ],
    ids=["no size", "no class", "half a joint"],
)  # fmt: skip
def test_where_the_flange_is_not_known_its_hours_are_nought_and_the_check_says_why(changed: dict[str, object], said: str) -> None:
    """The job keeps the 3.25 h of its tasks, and the checks of flange and plan speak."""
    out = planned([{**OUT, **changed}])
    assert np.isnan(out["out_hours"][0])
    assert out["job_out_hours"][0] == 0
    assert out["job_hours"][0] == pytest.approx(3.25)
    assert said in out["check_flange"][0]
    assert out["check_plan"][0].startswith("The valve comes out, and its man-hours are without removal and refit")
    assert out["state"][0] == "SIZED"


@pytest.mark.parametrize(
    "changed", [{"flange_facing_entered": "wafer, lug or tapped"}, {"flange_size": "NPS 2", "flange_class_entered": 900}]
)
def test_where_the_bolts_are_the_makers_the_hours_are_asked_for(changed: dict[str, object]) -> None:
    """No bolts by size and class: the plan says that removal is not in the hours, until those of the job are typed."""
    out = planned([{**OUT, **changed}, {**OUT, **changed, "job_hours_stated_entered": 6}, {**OUT, **changed, "comes_out_entered": "no"}])
    assert out["check_plan"][0].startswith("The valve comes out, and its man-hours are without removal and refit")
    assert list(out["check_plan"][1:]) == ["OK", "OK"]
    assert out["job_hours"] == pytest.approx([3.25, 6, 3.25])


@pytest.mark.parametrize("changed", [{"flange_size": "4 in"}, {"flange_class_entered": 400}])
def test_a_flange_that_is_typed_and_not_known_stops_the_job(changed: dict[str, object]) -> None:
    """Nobody knows which flanges are opened: no hours at all until size and class are put right."""
    out = planned([{**OUT, **changed}])
    assert out["state"][0] == "STOP"
    assert np.isnan(out["job_hours"][0])


def test_whether_it_comes_out_is_not_guessed() -> None:
    """A word that is neither yes nor no leaves the job without hours, and the outage says that some are missing."""
    out = planned([{**OUT, "comes_out_entered": "perhaps"}, VALVE])
    np.testing.assert_array_equal(np.isnan(out["job_hours"]), [True, False])
    assert "Remove valve from line is not one of the choices" in out["check_flange"][0]
    assert out["check_labour"][0].startswith("Some valves are ordered and have no man-hours")


def test_stated_hours_are_those_of_the_whole_job() -> None:
    """6 h typed for a valve that comes out are 6 h: nothing is added to them. A stopped valve has none, out of the line or not."""
    out = planned([{**OUT, "job_hours_stated_entered": 6}, {**HELD, **{k: v for k, v in OUT.items() if k not in VALVE}}])
    assert out["job_out_hours"] * 60 == pytest.approx([128, 128])
    np.testing.assert_array_equal(out["job_hours"], [6, np.nan])
    assert out["hours_of_valves"][0] == 6


def test_own_tasks_stand_below_and_add_nothing_while_empty() -> None:
    """The user's own rows are empty: blank names, blank hours."""
    held = tables.values()
    own = tables.OWN_TASKS
    assert held["task_names"][-own:] == [""] * own
    assert np.isnan(held["task_valve_minutes"][-own:]).all()
    assert np.isnan(held["task_ring_minutes"][-own:]).all()
    assert "" not in held["task_names"][:-own]


@pytest.mark.parametrize(
    ("column", "hours", "minutes"), [("task_valve_minutes", "hours_per_valve", 140), ("task_ring_minutes", "hours_per_ring", 11)]
)
def test_own_tasks_count_and_one_of_less_than_no_time_is_named(column: str, hours: str, minutes: float) -> None:
    """An own task of 6 minutes adds them; one of -6 minutes takes them away, and the check says so."""
    for more, said in ((6.0, "OK"), (-6.0, "A task has minutes below nought")):
        changed = tables.values()[column].copy()
        changed[-1] = more
        out = planned([VALVE], constants={column: changed})
        assert out[hours][0] * 60 == pytest.approx(minutes + more)
        assert out["check_labour"][0].startswith(said)


def test_loose_packing_is_filled_as_often_as_its_box_takes() -> None:
    """Loose packing has no rings: each fill counts as one, 11 minutes beside the 140 of the valve."""
    loose = {**VALVE, "packing_form_entered": "loose", "packing_material": "loose graphite", "nose_length_entered": 60}
    out = planned([loose])
    assert np.isnan(out["ring_count"][0])
    assert out["job_rings"][0] == out["loose_fills"][0] > 0
    assert out["job_hours"][0] * 60 == pytest.approx(140 + 11 * out["loose_fills"][0])


def test_a_stopped_valve_or_one_without_sizes_has_no_hours() -> None:
    """Nothing is planned for a valve that is not ordered, whatever is typed for it."""
    typed = {"job_hours_stated_entered": 6, "job_day_entered": 1, "crew_number_entered": 1}
    out = planned([{**HELD, **typed}, {"tag": "V-2", **typed}, VALVE])
    assert list(out["state"]) == ["STOP", "MISSING", "SIZED"]
    for name in ("job_hours", "job_day_planned", "job_crew"):
        assert list(np.isnan(out[name])) == [True, True, False]
    assert out["jobs_total"][0] == 1
    assert out["hours_of_valves"][0] == pytest.approx(3.25)
    assert out["check_labour"][0] == "OK"


#: Four people, crews of two, one shift of 4 h, three quarters of it at the glands: 3 h a person, 12 h a day, two crews.
PEOPLE: Final = {
    "people_entered": 4, "crew_size_entered": 2, "shift_hours_entered": 4, "outage_days_entered": 3, "outage_start_entered": 46000,
}  # fmt: skip
SIX: Final = (
    {**VALVE, "tag": "V-1", "job_hours_stated_entered": 5},
    {**VALVE, "tag": "V-2", "job_hours_stated_entered": 4},
    {**VALVE, "tag": "V-3", "job_hours_stated_entered": 3, "critical_entered": "YES"},
    {**HELD, "tag": "V-4", "job_hours_stated_entered": 6},
    {**VALVE, "tag": "V-5", "job_hours_stated_entered": 5, "job_day_entered": 1},
    {**VALVE, "tag": "V-6", "job_hours_stated_entered": 5, "crew_number_entered": 1},
)


def test_jobs_are_laid_in_the_days() -> None:
    """The longest job is 5 h, so that 12 - 5 = 7 h may begin in a day, on day 1 two beside the 5 h typed for it.

    In turn stand V-3 (critical), V-1, V-2, V-6, with 0, 3, 8 and 12 h before them. Days begin at 0, 2, 9, 16 h:
    V-3 day 1, V-1 and V-2 day 2, V-6 day 3.
    """
    out = planned(SIX, PEOPLE)
    assert out["day_capacity"][0] == 12
    assert out["hours_to_begin"][0] == 7
    np.testing.assert_array_equal(out["job_rank"], [7, 8, 3, np.nan, np.nan, 12])
    np.testing.assert_array_equal(out["hours_before"], [3, 8, 0, np.nan, np.nan, 12])
    np.testing.assert_array_equal(out["day_begins"][:4], [0, 2, 9, 16])
    np.testing.assert_array_equal(out["job_day_planned"], [2, 2, 1, np.nan, 1, 3])
    assert list(out["check_plan"]) == ["OK"] * 6


def test_days_add_up_their_jobs() -> None:
    """Day 1: 3 + 5 h, day 2: 5 + 4 h, day 3: 5 h. A person does 3 h: 8/3 and 9/3 take three people, 5/3 two."""
    out = planned(SIX, PEOPLE)
    assert list(out["day_hours"][:4]) == [8, 9, 5, 0]
    assert list(out["day_jobs"][:4]) == [2, 2, 1, 0]
    assert list(out["day_critical_jobs"][:4]) == [1, 0, 0, 0]
    assert list(out["day_capacity_left"][:4]) == [4, 3, 7, 12]
    assert list(out["day_people_needed"][:4]) == [3, 3, 2, 0]
    assert out["day_load"][:4] == pytest.approx([8 / 12, 9 / 12, 5 / 12, 0])
    assert list(out["day_date"][:3]) == [46000, 46001, 46002]
    assert list(out["day_words"][:4]) == ["within the people there are"] * 3 + [""]
    assert list(out["check_day"][:4]) == ["OK"] * 3 + [""]


def test_the_outage_adds_up_its_days() -> None:
    """22 h of five jobs, one of them critical, done on the third day: 46000 + 2."""
    out = planned(SIX, PEOPLE)
    assert [out[name][0] for name in ("hours_of_valves", "hours_of_days", "hours_difference")] == [22, 22, 0]
    assert [out[name][0] for name in ("jobs_total", "jobs_critical", "jobs_missing", "days_needed", "finish_date")] == [5, 1, 0, 3, 46002]
    assert out["check_labour"][0] == "OK"


def test_crews_take_the_valves_in_turn() -> None:
    """Two crews: 1, 2, 1, none for the stopped valve, 1, and the crew that is typed instead of the second."""
    out = planned(SIX, PEOPLE)
    assert out["crew_count"][0] == 2
    np.testing.assert_array_equal(out["job_crew"], [1, 2, 1, np.nan, 1, 1])


def test_a_shorter_outage_is_overrun() -> None:
    """In two days the third day's job is after the end: day, outage and the valves' typed days say so."""
    out = planned([*SIX, {**VALVE, "job_day_entered": 3}], {**PEOPLE, "outage_days_entered": 2})
    assert out["day_words"][2] == "after the outage ends"
    assert out["check_day"][2].startswith("Jobs are planned after the outage ends")
    assert out["check_labour"][0].startswith("The jobs run past the days of the outage")
    assert out["check_plan"][5] == "OK"
    assert out["check_plan"][6].startswith("The day typed for this job is after the last day")


def test_a_day_with_too_much_typed_is_over() -> None:
    """13 h typed for a day of 12 h: over, and 1 h is missing; 12 h are just within. A person does 3 h: five people, four people."""
    valves = [{**VALVE, "job_hours_stated_entered": hours, "job_day_entered": day} for hours, day in ((13, 1), (12, 2))]
    out = planned(valves, PEOPLE)
    assert list(out["day_words"][:2]) == ["more hours than people: add people, a shift or a day", "within the people there are"]
    assert out["check_day"][0].startswith("More hours than people")
    assert out["check_day"][1] == "OK"
    assert list(out["day_capacity_left"][:2]) == [-1, 0]
    assert list(out["day_people_needed"][:2]) == [5, 4]


def test_a_full_day_takes_no_job_in_turn() -> None:
    """12 h are typed for days 1 and 2, so that the job in turn goes to day 3 though nothing stands before it."""
    full = {**VALVE, "job_hours_stated_entered": 12}
    out = planned([{**full, "job_day_entered": 1}, {**full, "job_day_entered": 2}, {**VALVE, "job_hours_stated_entered": 4}], PEOPLE)
    assert list(out["day_begins"][:4]) == [0, 0, 0, 6]
    assert out["job_day_planned"][2] == 3


def test_nobody_is_refused() -> None:
    """With no people nothing can be planned in turn, and the outage says what to type; a typed day stays."""
    out = planned([VALVE, {**VALVE, "job_day_entered": 2}], {"people_entered": 0})
    for name in ("people", "crew_count", "day_capacity"):
        assert np.isnan(out[name][0])
    np.testing.assert_array_equal(out["job_day_planned"], [np.nan, 2])
    assert "type how many people work at the glands" in out["check_labour"][0]
    assert "The days do not tie to the valves" in out["check_labour"][0]
    # A shift of 10 h, three quarters of it at the glands: the 3.25 h of day 2 take one person.
    assert list(out["day_people_needed"][:3]) == [0, 1, 0]
    assert np.isnan(out["job_crew"]).all()


def test_people_and_crews() -> None:
    """Three people make one crew of two; one makes none, which is said; fourteen make seven, of which six are used."""
    few, many = "There are fewer people than one crew needs", "The people make up more crews"
    for people, crews, said in ((3, 1, "OK"), (1, 1, few), (14, 6, many)):
        out = planned([VALVE], {"people_entered": people, "crew_size_entered": 2})
        assert out["crew_count"][0] == crews
        assert out["check_labour"][0].startswith(said)


@pytest.mark.parametrize(
    ("entry", "value", "said", "blank"),
    [
        ("crew_number_entered", 0, "Crew is typed but not usable", "job_crew"),
        ("crew_number_entered", 1.5, "Crew is typed but not usable", "job_crew"),
        ("crew_number_entered", 3, "The people do not make up so many crews", ""),
        ("job_day_entered", 61, "Day of the job is typed but not usable", "job_day_planned"),
        ("job_day_entered", "Monday", "Day of the job is typed but not usable", "job_day_planned"),
        ("job_hours_stated_entered", -1, "Hours for this valve is typed but not usable", "job_hours"),
        ("critical_entered", "perhaps", "Critical is not one of the choices", ""),
    ],
)
def test_what_cannot_be_used_is_said(entry: str, value: object, said: str, blank: str) -> None:
    """A slip gives a sentence and a blank, never the usual value in silence, and the totals say that something is missing."""
    out = planned([{**VALVE, entry: value}, VALVE])
    assert out["check_plan"][0].startswith(said)
    assert out["check_plan"][1] == "OK"
    if blank:
        assert np.isnan(out[blank][0])
    missing = {"job_day_planned": "The days do not tie", "job_hours": "Some valves are ordered and have no man-hours"}
    assert out["check_labour"][0].startswith(missing.get(blank, "OK"))


def test_a_job_of_no_hours_is_a_job() -> None:
    """0 h stated is a statement, not a blank."""
    out = planned([{**VALVE, "job_hours_stated_entered": 0}])
    assert [out["jobs_total"][0], out["hours_of_valves"][0], out["job_day_planned"][0]] == [1, 0, 1]


def test_critical_valves_are_listed_with_or_without_a_job() -> None:
    """In the order of the list: one planned, one stopped, one after the end; what is not critical or empty is left out."""
    valves: list[dict[str, object]] = [
        VALVE, {**VALVE, "tag": "V-2", "critical_entered": "yes"}, {**HELD, "tag": "V-3", "critical_entered": "yes"},
        {"critical_entered": "yes"}, {**VALVE, "tag": "V-5", "critical_entered": "yes", "job_day_entered": 9},
    ]  # fmt: skip
    out = planned(valves, {"outage_days_entered": 4})
    np.testing.assert_array_equal(out["critical_valve"][:4], [2, 3, 5, np.nan])
    assert list(out["critical_tag"][:4]) == ["V-2", "V-3", "V-5", ""]
    assert list(out["critical_state"][:4]) == ["SIZED", "STOP", "SIZED", ""]
    np.testing.assert_array_equal(out["critical_day"][:4], [1, np.nan, 9, np.nan])
    assert out["critical_hours"][0] == pytest.approx(3.25)
    assert list(out["critical_words"][:4]) == [
        "planned in the outage", "no day: put right what its checks say", "planned after the outage ends", "",
    ]  # fmt: skip
    assert out["check_plan"][2].startswith("This valve is critical and has no job")
    assert out["check_plan"][3] == ""
    assert out["check_critical"][0].startswith("Critical valves have no job")
    assert "more critical valves than this list has lines" in planned(valves, lines=2)["check_critical"][0]
    assert planned(valves[:2], lines=1)["check_critical"][0] == "OK"


def test_without_valves_there_is_nothing_to_do() -> None:
    """A list of empty rows has no jobs, no days and no complaint."""
    out = planned([{}, {}], {"outage_start_entered": 46000})
    assert [out[name][0] for name in ("jobs_total", "hours_of_valves", "hours_of_days", "days_needed")] == [0, 0, 0, 0]
    assert np.isnan(out["finish_date"][0])
    assert out["check_labour"][0] == "OK"
    assert list(out["check_plan"]) == ["", ""]


@settings(max_examples=60, deadline=None)
@given(
    hours=st.lists(st.integers(0, 24).map(lambda quarters: quarters / 4), min_size=1, max_size=40),
    people=st.integers(2, 12), shift=st.integers(4, 12), data=st.data(),
)  # fmt: skip
def test_a_plan_holds(hours: list[float], people: int, shift: int, data: st.DataObject) -> None:
    """No hour is lost; jobs in turn never overfill a day that could hold two of the longest; critical jobs come first."""
    critical = data.draw(st.lists(st.booleans(), min_size=len(hours), max_size=len(hours)))
    valves = [
        {**VALVE, "job_hours_stated_entered": one, "critical_entered": "yes" if urgent else "no"}
        for one, urgent in zip(hours, critical, strict=True)
    ]
    out = planned(valves, {"people_entered": people, "shift_hours_entered": shift, "outage_days_entered": DAYS})
    assert out["hours_of_days"][0] == pytest.approx(sum(hours))
    capacity = people * shift * 0.75
    if 2 * max(hours) <= capacity:
        assert max(out["day_hours"]) <= capacity + 1e-9
        assert out["days_needed"][0] <= 1 + sum(hours) / (capacity - max(hours))
    urgent_days = [day for day, urgent in zip(out["job_day_planned"], critical, strict=True) if urgent]
    other_days = [day for day, urgent in zip(out["job_day_planned"], critical, strict=True) if not urgent]
    if urgent_days and other_days:
        assert max(urgent_days) <= min(other_days)
