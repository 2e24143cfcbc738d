"""Facts about dimensions: every number is worked out once more in base units by pint, and must come out the same.

In base units a length is in metres and an angle in radians, so a millimetre hidden in a formula, a length added to a
plain number, or a forgotten factor shows. Entries are plain numbers, since the unit that they are in is typed too.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from functools import cache
from typing import Any, Final

import numpy as np
import pandas as pd
import pint
import pytest
from pint.facets.numpy.numpy_func import implement_func

from sheetcalc.calculations import cut, entries, flats, section
from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.run import answered_names, evaluate, read_entries
from sheetcalc.declare.quantity import Kind, Quantity, get
from sheetcalc.units import registry

# Pint knows numpy's minimum and maximum, and not yet the two that pass over a blank; they treat units alike.
for _name in ("fmin", "fmax"):
    implement_func("ufunc", _name, input_units="all_consistent", output_unit="match_input")  # type: ignore[no-untyped-call]

#: Healthy and odd valves in both unit sets: every number has an answer in at least one of them.
VALVES: Final[list[dict[str, object]]] = [
    {"tag": "plain", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
     "nose_length_entered": 22, "gland_stud_thread": "M12"},
    {"tag": "tilted", "unit_set": "metric", "stem_diameter_entered": 20, "box_bore_entered": 33.4, "box_depth_entered": 47.3,
     "nose_length_entered": 31, "gland_stud_thread": "M10", "gap_reading_1_entered": 12, "gap_reading_2_entered": 11.1,
     "gap_reading_distance_entered": 90, "stud_spacing_entered": 70, "cut_style_entered": "skive", "length_allowance_entered": 0.04},
    {"tag": "inches", "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.875, "box_depth_entered": 3.5,
     "nose_length_entered": 1.25, "gland_stud_thread": "1/2-13 UNC", "spacer_step_entered": 0.125, "least_entry_share_entered": 0.5,
     "least_entry_floor_entered": 0.1, "least_take_up_entered": 0.2, "set_compression_entered": 0.28, "seating_compression_entered": 0.18,
     "preferred_ring_count_entered": 4, "waste_share_entered": 0.1},
    {"tag": "made", "unit_set": "metric", "stem_diameter_entered": 50, "box_bore_entered": 75, "box_depth_entered": 120,
     "nose_length_entered": 40, "gland_stud_thread": "M20", "packing_form_entered": "die-formed", "made_ring_height_entered": 10.5,
     "lantern_length_entered": 20, "maker_ring_count_entered": 6, "section_list_entered": "both"},
    {"tag": "rolled", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 45.8, "box_depth_entered": 70,
     "nose_length_entered": 30, "gland_stud_thread": "M12"},
]  # fmt: skip

#: Not checked: a table search and numbers of inches, whose formulas hold in one unit only and say so.
EMPIRICAL: Final = {
    "stocked_below", "stocked_above",
    "stocked_section_in", "stocked_section_parts", "spacer_height_in", "spacer_height_parts", "cut_length_in", "cut_length_parts",
    "gland_gap_start_in", "gland_gap_start_parts", "gland_gap_end_in", "gland_gap_end_parts",
}  # fmt: skip

NUMBERS: Final = [name for name in answered_names() if not get(name).is_text]
CHECKED: Final = [name for name in NUMBERS if name not in EMPIRICAL]
FAULTS: Final = [name for name in answered_names() if get(name).kind is Kind.FAULT]


@cache
def values() -> dict[str, Any]:
    """Everything about the valves as the core has it, plain numbers in mm and degrees."""
    return evaluate(read_entries(pd.DataFrame(VALVES)), len(VALVES))


@pytest.fixture(autouse=True)
def _units_pass_through_tables(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a table look-up hand on the unit of its column: numpy's padding inside it would drop it."""

    def with_unit(look_up: Callable[[Any, Any], Any]) -> Callable[[Any, Any], Any]:
        def picked(row: Any, column: Any) -> Any:
            if not isinstance(column, pint.Quantity):
                return look_up(row, column)
            return registry.Quantity(look_up(row, column.magnitude), column.units)

        return picked

    for module in (cut, entries, flats, section):
        monkeypatch.setattr(module, "pick", with_unit(pick))


def in_base_units(name: str, value: Any) -> Any:
    """What a formula reads, as a pint quantity in base units; plain numbers, entries and texts as they are."""
    quantity = get(name)
    if quantity.is_text or quantity.kind is Kind.ENTRY or quantity.unit in {"", "1"}:
        return value
    return registry.Quantity(np.asarray(value, dtype=np.float64), quantity.unit).to_base_units()


def without_unit(value: Any) -> Any:
    """The bare number of a value, whatever unit it is in: what no formula may do."""
    return value.magnitude if isinstance(value, pint.Quantity) else value


def complaint(quantity: Quantity, known: dict[str, Any]) -> str:
    """What is wrong with the dimensions of a quantity's function; "" when nothing is."""
    assert quantity.function is not None
    plain_in = [known[name] for name in quantity.reads]
    base_in = [in_base_units(name, known[name]) for name in quantity.reads]
    with np.errstate(all="ignore"):
        plain = np.asarray(quantity.function(*plain_in), dtype=np.float64)
        try:
            out = quantity.function(*base_in)
        except (pint.DimensionalityError, pint.OffsetUnitCalculusError, pint.UnitStrippedWarning) as error:
            return f"{quantity.name}: {error}"
    if isinstance(out, pint.Quantity):
        try:
            out = out.m_as("" if quantity.unit == "1" else quantity.unit)
        except pint.DimensionalityError as error:
            return f"{quantity.name}: {error}"
    elif quantity.unit != "1":
        return f"{quantity.name}: a plain number comes out instead of {quantity.unit}"
    if not np.allclose(out, plain, rtol=1e-9, atol=1e-9, equal_nan=True):
        return f"{quantity.name}: {out} in base units, {plain} in {quantity.unit}"
    return ""


@pytest.mark.parametrize("name", CHECKED)
def test_a_number_comes_out_the_same_in_base_units(name: str) -> None:
    """The function gives the declared dimension, and the same size whatever the unit of what it reads."""
    assert complaint(get(name), values()) == ""


@pytest.mark.parametrize("name", CHECKED)
def test_a_number_was_there_to_compare(name: str) -> None:
    """At least one of the valves has an answer, so that the comparison is of numbers and not of blanks."""
    assert np.isfinite(values()[name]).any()


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_found_the_same_in_base_units(name: str) -> None:
    """A condition compares like with like: it speaks for the same valves in metres as in millimetres."""
    quantity = get(name)
    assert quantity.function is not None
    with np.errstate(all="ignore"):
        expected = np.asarray(quantity.function(*[values()[read] for read in quantity.reads]), dtype=bool)
        out = quantity.function(*[in_base_units(read, values()[read]) for read in quantity.reads])
    np.testing.assert_array_equal(expected, np.asarray(out, dtype=bool))


def test_most_numbers_are_checked(record_property: Callable[[str, object], None]) -> None:
    """Those left out are the ones that declare themselves empirical, and they are few."""
    assert {name for name in NUMBERS if get(name).empirical} == EMPIRICAL
    record_property("functions checked", len(CHECKED))
    record_property("functions left out", ", ".join(sorted(EMPIRICAL)))
    assert len(CHECKED) >= 60
    assert len(CHECKED) / len(NUMBERS) > 0.8


def test_an_empirical_quantity_gives_its_reason() -> None:
    """What is left out says why in words."""
    assert [name for name in sorted(EMPIRICAL) if len(get(name).empirical.split()) < 3] == []


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda box_bore, stem_diameter, _digits: box_bore * stem_diameter, "Cannot convert"),
        (lambda box_bore, stem_diameter, _digits: box_bore - stem_diameter / box_bore, "Cannot convert"),
        (lambda box_bore, _stem, _digits: box_bore + 3.175, "Cannot convert"),
        (lambda box_bore, _stem, _digits: without_unit(box_bore), "a plain number comes out instead of mm"),
        (lambda box_bore, _stem, _digits: box_bore * np.sin(without_unit(box_bore)), "in base units"),
        (lambda box_bore, stem_diameter, _digits: box_bore / stem_diameter, "Cannot convert"),
        (lambda box_bore, _stem, _digits: np.asarray(box_bore), "strip"),
    ],
    ids=["product", "length less share", "hidden millimetres", "unit dropped", "unit hidden", "share", "unit stripped"],
)
def test_a_wrong_function_is_noticed(wrong: Callable[..., Any], said: str) -> None:
    """A formula of the wrong dimension in the place of the section does not pass."""
    planted = dataclasses.replace(get("packing_section"), function=wrong)
    assert said in complaint(planted, values())


def test_an_angle_in_the_wrong_unit_is_noticed() -> None:
    """A tilt worked out in radians and declared in degrees does not pass."""
    planted = dataclasses.replace(get("follower_tilt"), function=lambda difference, distance: np.arctan(difference / distance))
    assert complaint(planted, values()) != ""
