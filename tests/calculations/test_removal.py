"""Facts about the man-hours of taking a flanged valve out and putting it back.

The model is the project's own, from memory (15 minutes a joint, 1 a bolt, 0.5 a bolt and round; 30 a lift and 0.2 a kilogram): the hours
here are worked out from it by hand.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.run import answered_names, calculate, issued_assumptions
from sheetcalc.declare.quantity import get
from sheetcalc.declare.source import Grade
from sheetcalc.sheets.card_page import TEXTS

HOURS: Final = ("joint_times", "joint_hours", "lift_hours", "out_hours")
#: NPS 4 class 150: eight bolts of 5/8 in. A joint takes 15 + 8 x 3.5 = 43 minutes; 60 kg take 30 + 12 = 42.
FLANGED: Final[dict[str, object]] = {"flange_size": "NPS 4", "flange_class_entered": 150, "valve_mass_entered": 60}


def worked(constants: dict[str, float] | None = None, /, **typed: object) -> Any:
    """The hours of one valve."""
    frame = pd.DataFrame([{"unit_set": "metric", **typed}], dtype=object)
    return calculate(frame, constants=constants).iloc[0]


@pytest.mark.parametrize(
    ("size", "pressure_class", "minutes"),
    [
        ("NPS 1", 150, 29),  # four of 1/2 in: 15 + 4 x 3.5
        ("NPS 4", 150, 43),  # eight of 5/8 in: 15 + 8 x 3.5
        ("NPS 12", 150, 57),  # twelve of 7/8 in: 15 + 12 x 3.5
        ("NPS 14", 150, 57),  # twelve of 1 in, which is not above: the same
        ("NPS 12", 300, 106.5),  # sixteen of 1 1/8 in: 1.5 (15 + 16 x 3.5)
        ("NPS 24", 300, 148.5),  # 24 of 1 1/2 in, which is not above: 1.5 (15 + 24 x 3.5)
        ("NPS 18", 600, 170),  # twenty of 1 5/8 in: 2 (15 + 20 x 3.5)
        ("NPS 24", 900, 170),  # twenty of 2 1/2 in: the same
    ],
)
def test_a_joint_takes_what_its_bolts_take(size: str, pressure_class: int, minutes: float) -> None:
    """Counts and diameters as ASME B16.5 has them; a bolt just as thick as the limit is not above it."""
    row = worked(flange_size=size, flange_class_entered=pressure_class)
    assert row["joint_hours"] * 60 == pytest.approx(minutes)


@pytest.mark.parametrize(("joints", "minutes"), [(1, 85), (2, 128), (3, 171), (4, 214), (None, 128)])
def test_each_joint_counts_and_the_lift_once(joints: int | None, minutes: float) -> None:
    """42 minutes for the lift and 43 a joint; two joints where none are typed."""
    assert worked(**FLANGED, flange_joint_count_entered=joints)["out_hours"] * 60 == pytest.approx(minutes)


def test_a_lift_goes_by_the_mass_that_is_lifted() -> None:
    """100 lb are 45.36 kg: 30 + 9.07 minutes. Without a mass the high end of the estimate counts."""
    assert worked(**{**FLANGED, "unit_set": "US", "valve_mass_entered": 100})["lift_hours"] * 60 == pytest.approx(39.07, abs=0.005)
    estimated = worked(**{**FLANGED, "valve_mass_entered": None})
    assert estimated["lift_hours"] * 60 == pytest.approx(30 + 0.2 * estimated["mass_estimate_high"])


def test_the_rounds_are_those_of_the_card() -> None:
    """All bolts are slackened once; the card has its passes crosswise and one round after them."""
    assert issued_assumptions()["joint_rounds"] == 1 + len(TEXTS["removal"]["passes"]) + 1


@pytest.mark.parametrize(
    ("changed", "minutes"),
    [
        ({"joint_minutes": 30.0}, 158), ({"joint_bolt_minutes": 2.0}, 144), ({"joint_round_minutes": 1.0}, 168),
        ({"joint_rounds": 4.0}, 120), ({"lift_minutes": 60.0}, 158), ({"lift_mass_minutes": 0.5}, 146), ({"joint_large_bolts": 3.0}, 128),
    ],
)  # fmt: skip
def test_the_model_can_be_changed(changed: dict[str, float], minutes: float) -> None:
    """Of 128 minutes: 2 x 15 more, 2 x 8, 2 x 8 x 2.5, less 2 x 8 x 0.5, 30 more, 60 x 0.3; what is for larger bolts changes nothing."""
    assert worked(changed, **FLANGED)["out_hours"] * 60 == pytest.approx(minutes)


@pytest.mark.parametrize(
    "typed",
    [
        {}, {"flange_size": "NPS 4"}, {"flange_class_entered": 150}, {"flange_size": "4 in", "flange_class_entered": 150},
        {"flange_size": "NPS 4", "flange_class_entered": 400}, {"flange_size": "NPS 4", "flange_class_entered": "low"},
        {**FLANGED, "flange_facing_entered": "wafer, lug or tapped"}, {"flange_size": "NPS 2", "flange_class_entered": 900},
    ],
    ids=["nothing", "no class", "no size", "size not listed", "class not listed", "class no number", "wafer", "class 1500 drilling"],
)  # fmt: skip
def test_where_the_bolts_are_not_known_there_are_no_hours(typed: dict[str, object]) -> None:
    """Blank, not nought; a lift alone, of a mass that is typed, is not passed off as the whole."""
    row = worked(**typed)
    assert [name for name in HOURS if not math.isnan(row[name])] == (["lift_hours"] if "valve_mass_entered" in typed else [])


def test_a_slip_gives_no_hours_that_need_it() -> None:
    """Joints or a mass typed wrong leave blank what is made of them, and not the usual in silence."""
    joints = worked(**FLANGED, flange_joint_count_entered=2.5)
    assert [name for name in HOURS if math.isnan(joints[name])] == ["out_hours"]
    mass = worked(**{**FLANGED, "valve_mass_entered": -1})
    assert [name for name in HOURS if math.isnan(mass[name])] == ["lift_hours", "out_hours"]


def test_more_bolts_or_more_mass_never_take_less() -> None:
    """Over all sizes and classes that are listed, with the mass as estimated."""
    sizes = ["NPS 3", "NPS 4", "NPS 6", "NPS 8", "NPS 10", "NPS 12", "NPS 16", "NPS 20", "NPS 24"]
    frame = pd.DataFrame([{"flange_size": size, "flange_class_entered": one} for size in sizes for one in (150, 300, 600, 900)])
    out = calculate(frame)
    for name, more in (("joint_hours", "flange_bolt_count"), ("lift_hours", "valve_mass")):
        for _thick, alike in out.groupby("joint_times"):
            hours, counted = alike[name].to_numpy(), alike[more].to_numpy()
            assert (hours > 0).all()
            assert (np.diff(hours[np.argsort(counted, kind="stable")]) >= -1e-12).all()


def test_the_hours_say_that_they_are_ours() -> None:
    """Nobody may take them for measured times: each rests on memory, and every minute of the model says so where it can be changed."""
    names = [name for name in answered_names() if get(name).part == "removal"]
    assert set(names) == set(HOURS)
    assert {get(name).source.grade.value for name in names} == {get("joint_minutes").source.grade.value} == {Grade.MEMORY.value}
    minutes = [name for name in issued_assumptions() if name.startswith(("joint_", "lift_")) and name.endswith("_minutes")]
    assert len(minutes) == 5
    assert [name for name in minutes if not get(name).sentence.endswith("Ours: your own records come first.")] == []
