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

from sheetcalc.calculations import given
from sheetcalc.calculations.arithmetic import pick, pick_in
from sheetcalc.calculations.joint import bolt_load, bolt_torque, bolts, flange, flange_faults, gasket, torque_faults
from sheetcalc.calculations.run import answered_names, read_entries, worked_out
from sheetcalc.calculations.valve import cut, entries, flats, material, section, studs, suitability, tools, torque
from sheetcalc.declare.quantity import Derived, Entry, Fault, get
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
     "lantern_length_entered": 20, "port_depth_entered": 80, "port_diameter_entered": 8, "maker_ring_count_entered": 6,
     "section_list_entered": "both"},
    {"tag": "rolled", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 45.8, "box_depth_entered": 70,
     "nose_length_entered": 30, "gland_stud_thread": "M12"},
    {"tag": "rising and turning", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 110,
     "nose_length_entered": 50, "gland_stud_thread": "M16", "maker_ring_count_entered": 10, "packing_material": "PTFE braid",
     "fluid_kind_entered": "chemical", "fluid_temperature_entered": 120, "fluid_ph_entered": 4, "line_pressure_entered": 25,
     "stem_motion_entered": "rising-rotating", "packing_state_entered": "lubricated", "gland_stud_count_entered": 2,
     "gland_stud_grade": "ISO 8.8", "stud_lubricant": "machine oil", "stud_thread_left_entered": 30,
     "stem_thread_diameter_entered": 32, "stem_thread_pitch_entered": 6, "handwheel_radius_entered": 180, "collar_diameter_entered": 40},
    {"tag": "all typed", "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.875, "box_depth_entered": 4.5,
     "nose_length_entered": 1.75, "gland_stud_thread": "5/8-11 UNC", "packing_material": "graphite braid with wire",
     "fluid_kind_entered": "steam", "fluid_temperature_entered": 660, "line_pressure_entered": 600, "stem_motion_entered": "rising",
     "gland_stud_count_entered": 2, "gland_stud_grade": "ASTM A193 B7", "stud_lubricant": "anti-seize paste",
     "stud_thread_left_entered": 1.25, "least_gland_stress_entered": 4000, "pressure_factor_entered": 2, "most_gland_stress_entered": 9000,
     "nut_factor_entered": 0.15, "stem_friction_factor_entered": 0.12, "box_friction_factor_entered": 0.15, "lateral_ratio_entered": 0.6,
     "least_bottom_share_entered": 0.4, "stem_thread_diameter_entered": 1.25, "stem_thread_pitch_entered": 0.25,
     "handwheel_radius_entered": 9, "collar_diameter_entered": 2, "stem_thread_starts_entered": 2, "stem_thread_friction_entered": 0.12,
     "collar_friction_entered": 0.1, "stem_thread_angle_entered": 14.5, "most_rim_pull_entered": 60, "stem_thrust_entered": 2000},
    {"tag": "loose", "unit_set": "metric", "stem_diameter_entered": 40, "box_bore_entered": 60, "box_depth_entered": 80,
     "nose_length_entered": 60, "gland_stud_thread": "M20", "packing_material": "loose graphite", "fluid_kind_entered": "water",
     "fluid_temperature_entered": -5, "line_pressure_entered": -0.5, "stem_motion_entered": "quarter-turn", "handwheel_radius_entered": 300,
     "gland_stud_count_entered": 4, "gland_stud_grade": "ISO A2-70", "stud_lubricant": "none (dry)",
     "gland_nut_kind_entered": "old DIN hex"},
    {"tag": "beyond limits", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
     "nose_length_entered": 22, "gland_stud_thread": "M8", "packing_material": "flax or ramie braid", "fluid_kind_entered": "chemical",
     "fluid_temperature_entered": 700, "fluid_ph_entered": 1, "line_pressure_entered": 400, "stem_motion_entered": "rising",
     "gland_stud_count_entered": 2, "gland_stud_grade": "ISO A2-50", "stud_lubricant": "none (dry)", "stud_thread_left_entered": 1,
     "nut_factor_entered": 0.5, "stem_friction_factor_entered": 0.9, "box_friction_factor_entered": 0.9, "lateral_ratio_entered": 0.9,
     "stem_thread_diameter_entered": 5, "stem_thread_pitch_entered": 6, "handwheel_radius_entered": 20, "stem_thrust_entered": 20000},
    {"tag": "cold", "unit_set": "US", "stem_diameter_entered": 1, "box_bore_entered": 1.75, "box_depth_entered": 2.5,
     "nose_length_entered": 1.5, "gland_stud_thread": "3/4-10 UNC", "packing_material": "PTFE braid", "fluid_kind_entered": "gas",
     "fluid_temperature_entered": -250, "line_pressure_entered": 100, "stem_motion_entered": "rotating",
     "gland_stud_count_entered": 2, "gland_stud_grade": "ASTM A193 B8 class 1", "stud_lubricant": "none (dry)",
     "stem_thread_diameter_entered": 1.25, "stem_thread_pitch_entered": 0.25, "handwheel_radius_entered": 1,
     "gland_nut_kind_entered": "hex", "stem_thrust_entered": 1000},
    {"tag": "out and back", "unit_set": "metric", "comes_out_entered": "yes", "flange_size": "NPS 4", "flange_class_entered": 300,
     "flange_joint_count_entered": 3, "flange_facing_entered": "raised face", "flange_material_entered": "steel",
     "gasket_kind": "flexible graphite sheet", "flange_bolt_grade": "ASTM A193 B7", "flange_lubricant": "machine oil",
     "line_pressure_entered": 12, "fluid_kind_entered": "water", "fluid_temperature_entered": 60, "valve_actuated_entered": "yes",
     "sling_legs_entered": 3, "leg_length_entered": 1500, "hook_height_entered": 1200, "leg_capacity_entered": 500},
    {"tag": "out and back, all typed", "unit_set": "US", "comes_out_entered": "yes", "flange_size": "NPS 12", "flange_class_entered": 150,
     "flange_joint_count_entered": 2, "flange_facing_entered": "raised face", "flange_material_entered": "steel",
     "gasket_kind": "spiral wound", "flange_bolt_grade": "ASTM A193 B7", "flange_lubricant": "anti-seize paste",
     "line_pressure_entered": 90, "fluid_kind_entered": "steam", "fluid_temperature_entered": 330, "flange_bolt_stress_entered": 50000,
     "flange_nut_factor_entered": 0.15, "valve_mass_entered": 1100, "sling_legs_entered": 2, "sling_angle_entered": 50,
     "leg_length_entered": 60, "hook_height_entered": 45, "leg_capacity_entered": 1000},
    {"tag": "out and wrong", "unit_set": "US", "comes_out_entered": "yes", "flange_size": "NPS 2", "flange_class_entered": 600,
     "flange_facing_entered": "raised face", "flange_material_entered": "steel", "gasket_kind": "elastomer sheet",
     "flange_bolt_grade": "ASTM A193 B8 class 1", "flange_lubricant": "none (dry)", "line_pressure_entered": 2000,
     "flange_bolt_stress_entered": 40000, "valve_mass_entered": 3000, "sling_legs_entered": 2, "sling_angle_entered": 35,
     "leg_length_entered": 40, "hook_height_entered": 41, "leg_capacity_entered": 500},
]  # fmt: skip

#: Not checked: table searches, a scale with a zero of its own, a root of a length and whole turns in degrees, whose formulas
#: hold in one unit only and say so.
EMPIRICAL: Final = {
    "stocked_below", "stocked_above", "grade_rows", "grade_row", "flange_grade_rows", "flange_grade_row", "fluid_temperature",
    *(f"ring_{ring}_joint" for ring in range(1, 11)),
    "gasket_width_effective",
}  # fmt: skip

NUMBERS: Final = [name for name in answered_names() if not get(name).is_text]
CHECKED: Final = [name for name in NUMBERS if name not in EMPIRICAL]
FAULTS: Final = [name for name in answered_names() if isinstance(get(name), Fault)]


@cache
def values() -> dict[str, Any]:
    """Everything about the valves as the core has it, plain numbers in mm and degrees."""
    return worked_out(read_entries(pd.DataFrame(VALVES)), len(VALVES))


@pytest.fixture(autouse=True)
def _units_pass_through_tables(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a table look-up hand on the unit of its column: numpy's padding inside it would drop it."""

    def with_unit(look_up: Callable[..., Any]) -> Callable[..., Any]:
        def picked(*places: Any) -> Any:
            *rows, held = places
            if not isinstance(held, pint.Quantity):
                return look_up(*places)
            return registry.Quantity(look_up(*rows, held.magnitude), held.units)

        return picked

    valve = (cut, entries, flats, given, material, section, studs, suitability, tools, torque)
    for module in (*valve, bolt_load, bolt_torque, bolts, flange, flange_faults, gasket, torque_faults):
        monkeypatch.setattr(module, "pick", with_unit(pick))
    for module in (bolts, suitability, tools):
        monkeypatch.setattr(module, "pick_in", with_unit(pick_in))


def in_base_units(name: str, value: Any, reader: str = "") -> Any:
    """What a formula reads, as a pint quantity in base units; plain numbers, entries and texts as they are.

    An angle is typed in degrees in every unit set, with no factor beside it: the cell that takes the entry over gets it as an angle.
    """
    quantity = get(name)
    taken_over = reader == f"{name.removesuffix('_entered')}_typed" and quantity.dimension is None
    if quantity.is_text or quantity.unit in {"", "1"} or (isinstance(quantity, Entry) and not taken_over):
        return value
    return registry.Quantity(np.asarray(value, dtype=np.float64), quantity.unit).to_base_units()


def without_unit(value: Any) -> Any:
    """The bare number of a value, whatever unit it is in: what no formula may do."""
    return value.magnitude if isinstance(value, pint.Quantity) else value


def complaint(quantity: Derived, known: dict[str, Any]) -> str:
    """What is wrong with the dimensions of a quantity's function; "" when nothing is."""
    plain_in = [known[name] for name in quantity.reads]
    base_in = [in_base_units(name, known[name], quantity.name) for name in quantity.reads]
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
    assert complaint(get(name, Derived), values()) == ""


@pytest.mark.parametrize("name", CHECKED)
def test_a_number_was_there_to_compare(name: str) -> None:
    """At least one of the valves has an answer, so that the comparison is of numbers and not of blanks."""
    assert np.isfinite(values()[name]).any()


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_found_the_same_in_base_units(name: str) -> None:
    """A condition compares like with like: it speaks for the same valves in metres as in millimetres."""
    quantity = get(name, Fault)
    with np.errstate(all="ignore"):
        expected = np.asarray(quantity.function(*[values()[read] for read in quantity.reads]), dtype=bool)
        out = quantity.function(*[in_base_units(read, values()[read]) for read in quantity.reads])
    np.testing.assert_array_equal(expected, np.asarray(out, dtype=bool))


def test_most_numbers_are_checked(record_property: Callable[[str, object], None]) -> None:
    """Those left out are the ones that declare themselves empirical, and they are few."""
    assert {name for name in NUMBERS if get(name, Derived).empirical} == EMPIRICAL
    record_property("functions checked", len(CHECKED))
    record_property("functions left out", ", ".join(sorted(EMPIRICAL)))
    assert len(CHECKED) >= 60
    assert len(CHECKED) / len(NUMBERS) > 0.8


def test_an_empirical_quantity_gives_its_reason() -> None:
    """What is left out says why in words."""
    assert [name for name in sorted(EMPIRICAL) if len(get(name, Derived).empirical.split()) < 3] == []


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
    planted = dataclasses.replace(get("packing_section", Derived), function=wrong)
    assert said in complaint(planted, values())


def test_an_angle_in_the_wrong_unit_is_noticed() -> None:
    """A tilt worked out in radians and declared in degrees does not pass."""
    planted = dataclasses.replace(get("follower_tilt", Derived), function=lambda difference, distance: np.arctan(difference / distance))
    assert complaint(planted, values()) != ""
