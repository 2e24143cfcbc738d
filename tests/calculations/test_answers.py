"""Sets of answers: closed, one within the other, and the core gives the same with any of them."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.answers import PARTS_OF, Answers, answers_named, whole
from sheetcalc.calculations.run import evaluate, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Derived, Entry, Fault, Gathered, Per, all_quantities, get
from sheetcalc.errors import UnknownNameError

SMALLER = [answers_named(name) for name in PARTS_OF if PARTS_OF[name]]
#: Valves with their gland alone, as a maker's sheet may show it, one in inches, one with a fault, one of which nothing is typed.
VALVES: list[dict[str, Any]] = [
    {"tag": "A", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
     "nose_length_entered": 25, "gland_stud_thread": "M12"},
    {"tag": "B", "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.75, "box_depth_entered": 3,
     "nose_length_entered": 1, "gland_stud_thread": "1/2-13 UNC", "maker_ring_count_entered": 6},
    {"tag": "C", "unit_set": "metric", "stem_diameter_entered": 44, "box_bore_entered": 28, "box_depth_entered": 60},
    {"unit_set": "metric"},
]  # fmt: skip


@pytest.mark.parametrize("answers", SMALLER, ids=lambda one: one.name)
def test_a_set_has_all_that_its_quantities_read(answers: Answers) -> None:
    """Nothing in it reads what is not in it, and every entry that is in it is read or carried."""
    for name in answers.names:
        assert all(read in answers for read in answers.get(name).reads), name
    read = {one for name in answers.names for one in answers.get(name).reads}
    carried = {"tag", "place", "fluid", "isolation_points"}
    assert set(answers.entries()) - read <= carried


def test_each_set_is_within_the_next() -> None:
    """Packing is less than repack, and that less than all there is."""
    packing, repack = SMALLER
    assert packing.names < repack.names < whole().names
    assert whole().names == {quantity.name for quantity in all_quantities()}


def test_a_set_leaves_out_what_it_does_not_ask() -> None:
    """No set but the whole one knows of flanges and lift, and packing nothing of an outage."""
    packing, repack = SMALLER
    for name in repack.names:
        assert get(name).part not in {"flange", "lift", "removal"}, name
    assert {get(name).per for name in packing.names} == {Per.VALVE}
    assert "comes_out" not in repack
    assert "stud_torque" in repack
    assert "stud_torque" not in packing


@pytest.mark.parametrize("answers", SMALLER, ids=lambda one: one.name)
def test_a_fault_is_in_when_all_that_it_reads_is_in(answers: Answers) -> None:
    """Of the parts that a set answers, no fault is left out whose reads are in."""
    for quantity in all_quantities():
        if isinstance(quantity, Fault) and quantity.part in PARTS_OF[answers.name] and all(read in answers for read in quantity.reads):
            assert quantity.name in answers


@pytest.mark.parametrize("answers", SMALLER, ids=lambda one: one.name)
def test_only_what_gathers_a_family_depends_on_the_set(answers: Answers) -> None:
    """Every other quantity is the registered one; a gathering one reads in both hands the members that are in."""
    for name in answers.names:
        quantity = answers.get(name)
        if isinstance(quantity, Gathered):
            assert set(formula.names_in(quantity.excel)) == set(quantity.reads)
            assert set(quantity.members) == {one for one in get(name, Gathered).members if one in answers}
        else:
            assert quantity is get(name)


@pytest.mark.parametrize("answers", SMALLER, ids=lambda one: one.name)
def test_the_core_gives_the_same_with_a_smaller_set(answers: Answers) -> None:
    """Where nothing is typed that the set does not know, each quantity is the one of the whole set, but for words of faults left out."""
    typed = read_entries(pd.DataFrame(VALVES, dtype=object))
    smaller, larger = evaluate(typed, len(VALVES), answers=answers), evaluate(typed, len(VALVES))
    worked = answers.worked_out()
    assert len(worked) > 100
    said = {name for name in worked if _gathers(name)}
    for name in worked:
        if name not in said:
            np.testing.assert_array_equal(smaller[name], larger[name], err_msg=name)


def _gathers(name: str) -> bool:
    quantity = get(name)
    return isinstance(quantity, Gathered) or (isinstance(quantity, Derived) and any(_gathers(read) for read in quantity.reads))


def test_knowing_less_does_not_hide_a_fault_of_the_set() -> None:
    """The swapped valve is not READY in any set."""
    typed = read_entries(pd.DataFrame(VALVES, dtype=object))
    for answers in (*SMALLER, whole()):
        state = evaluate(typed, len(VALVES), answers=answers)["state"]
        assert state[2] not in {"READY", ""}, answers.name
        assert state[3] == ""


def test_an_unknown_set_is_refused_with_the_nearest_name() -> None:
    """One sentence."""
    with pytest.raises(UnknownNameError, match=r"No set of answers is called 'repak'.*Did you mean repack"):
        answers_named("repak")


def test_an_entry_is_no_member_of_a_set_by_itself() -> None:
    """A family of entries, such as whether anything is typed, does not pull in entries that nothing else reads."""
    packing = SMALLER[0]
    for name in packing.entries():
        assert isinstance(get(name), Entry)
    assert "stud_lubricant" not in packing
    assert "load_is_typed" not in packing or "gland_kind_entered" in packing
