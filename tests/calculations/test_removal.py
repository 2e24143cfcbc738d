"""Facts about the man-hours of taking a flanged valve out and putting it back.

The figures are those of J. S. Page, Estimator's Piping Man-Hour Manual, 5th edition, bolt-ups and handling of valves (pages 100 and 101
of a scan), for new installation; the share for taking out is from memory.
"""

from __future__ import annotations

import math
from typing import Any, Final

import pandas as pd
import pytest

from sheetcalc.calculations.run import answered_names, calculate
from sheetcalc.declare.quantity import get

HOURS: Final = ("bolt_up_hours_one", "handling_hours_one", "out_hours_back", "out_hours")
#: Size, class, man-hours of a bolt-up, man-hours of handling: as Page prints them.
PAGE: Final = [
    ("NPS 1", 150, 0.7, 0.3), ("NPS 1", 300, 0.8, 0.3), ("NPS 2", 900, 1.0, 1.3), ("NPS 3", 300, 0.9, 1.5), ("NPS 3", 600, 1.0, 2.0),
    ("NPS 4", 150, 1.2, 1.7), ("NPS 4", 300, 1.4, 2.0), ("NPS 4", 600, 1.5, 2.6), ("NPS 4", 900, 1.7, 2.6),
    ("NPS 12", 150, 3.4, 4.3), ("NPS 12", 300, 3.8, 5.1), ("NPS 12", 600, 4.1, 6.3), ("NPS 12", 900, 4.7, 6.3),
    ("NPS 24", 150, 6.6, 8.5), ("NPS 24", 300, 7.4, 10.3), ("NPS 24", 600, 7.9, 13.6), ("NPS 24", 900, 9.1, 13.6),
]  # fmt: skip


def worked(constants: dict[str, float] | None = None, /, **typed: object) -> Any:
    """The hours of one valve."""
    frame = pd.DataFrame([{"unit_set": "metric", **typed}], dtype=object)
    return calculate(frame, constants=constants).iloc[0]


@pytest.mark.parametrize(("size", "pressure_class", "bolt_up", "handling"), PAGE)
@pytest.mark.parametrize("unit_set", ["metric", "US"])
def test_hours_are_those_of_the_manual(size: str, pressure_class: int, bolt_up: float, handling: float, unit_set: str) -> None:
    """Page's figures; putting back is two bolt-ups and the handling, whatever the unit set."""
    row = worked(unit_set=unit_set, flange_size=size, flange_class_entered=pressure_class)
    assert row["bolt_up_hours_one"] == bolt_up
    assert row["handling_hours_one"] == handling
    assert row["out_hours_back"] == pytest.approx(2 * bolt_up + handling)


@pytest.mark.parametrize(("joints", "back"), [(1, 2.9), (2, 4.1), (3, 5.3), (4, 6.5), (None, 4.1)])
def test_each_joint_has_a_bolt_up(joints: int | None, back: float) -> None:
    """NPS 4 class 150 by hand: 1.2 h a joint and 1.7 h for the valve; two joints where none are typed."""
    row = worked(flange_size="NPS 4", flange_class_entered=150, flange_joint_count_entered=joints)
    assert row["out_hours_back"] == pytest.approx(back)


@pytest.mark.parametrize(("actuated", "handling"), [("yes", 3.825), ("YES", 3.825), ("no", 1.7), (None, 1.7)])
def test_an_actuator_adds_to_the_handling_alone(actuated: str | None, handling: float) -> None:
    """Page: motor or diaphragm operated add 125 %, so 1.7 h become 3.825 h; the bolt-ups stay."""
    row = worked(flange_size="NPS 4", flange_class_entered=150, valve_actuated_entered=actuated)
    assert row["handling_hours_one"] == pytest.approx(handling)
    assert row["bolt_up_hours_one"] == 1.2
    assert row["out_hours_back"] == pytest.approx(2.4 + handling)


def test_taking_out_is_a_share_of_a_new_installation() -> None:
    """From memory half to four fifths, so out and back are 1.5 to 1.8 times the new installation; with 0.65, 4.1 h give 6.765 h."""
    row = worked(flange_size="NPS 4", flange_class_entered=150)
    assert row["out_hours"] == pytest.approx(6.765)
    for size, pressure_class, *_hours in PAGE:
        row = worked(flange_size=size, flange_class_entered=pressure_class)
        assert 1.5 <= row["out_hours"] / row["out_hours_back"] <= 1.8
    for share, hours in ((0.5, 6.15), (1.0, 8.2)):
        assert worked({"removal_share": share}, flange_size="NPS 4", flange_class_entered=150)["out_hours"] == pytest.approx(hours)


@pytest.mark.parametrize(
    "typed",
    [
        {}, {"flange_size": "NPS 4"}, {"flange_class_entered": 150}, {"flange_size": "4 in", "flange_class_entered": 150},
        {"flange_size": "NPS 4", "flange_class_entered": 400}, {"flange_size": "NPS 4", "flange_class_entered": "low"},
    ],
    ids=["nothing", "no class", "no size", "size not listed", "class not listed", "class no number"],
)  # fmt: skip
def test_without_size_and_class_there_are_no_hours(typed: dict[str, object]) -> None:
    """Blank, not nought."""
    row = worked(**typed)
    assert [name for name in HOURS if not math.isnan(row[name])] == []


def test_a_slip_gives_no_hours_that_need_it() -> None:
    """Joints or an actuator typed wrong leave blank what is made of them, and not the usual in silence."""
    joints = worked(flange_size="NPS 4", flange_class_entered=150, flange_joint_count_entered=2.5)
    assert [name for name in HOURS if math.isnan(joints[name])] == ["out_hours_back", "out_hours"]
    actuated = worked(flange_size="NPS 4", flange_class_entered=150, valve_actuated_entered="perhaps")
    assert [name for name in HOURS if math.isnan(actuated[name])] == ["handling_hours_one", "out_hours_back", "out_hours"]


def test_a_larger_size_or_class_never_takes_less() -> None:
    """As in any such table: hours rise, or stay, with size and with class, for every size that is listed."""
    sizes = ["NPS 1/2", "NPS 1", "NPS 2", "NPS 3", "NPS 4", "NPS 6", "NPS 8", "NPS 10", "NPS 12", "NPS 16", "NPS 20", "NPS 24"]
    classes = [150, 300, 600, 900]
    frame = pd.DataFrame([{"flange_size": size, "flange_class_entered": one} for size in sizes for one in classes])
    hours = calculate(frame)["out_hours"].to_numpy().reshape(len(sizes), len(classes))
    assert (hours > 0).all()
    assert (hours[1:] >= hours[:-1]).all()
    assert (hours[:, 1:] >= hours[:, :-1]).all()
    assert (hours[1:, 0] > hours[:-1, 0]).sum() >= len(sizes) - 2


def test_titles_say_what_the_figures_are_for() -> None:
    """Nobody may take them for measured times of a repair: each title says that they are of new installation."""
    names = [name for name in answered_names() if get(name).part == "removal"]
    assert set(names) == set(HOURS)
    assert [name for name in names if "new-installation figure" not in get(name).title] == []
    assert "share of taking out" in get("out_hours").title
