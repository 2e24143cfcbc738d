"""Oxygen, oxidisers and air: what is held against a report, a yes or a no, or the limit in air, and what nobody has judged.

The valves are of our own. That oil and most packings burn in oxygen, that a report is of the very product, and that graphite wastes
away in hot air are common practice; 450 degrees Celsius is from memory.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.run import evaluate, read_entries
from sheetcalc.declare.quantity import Fault, get
from sheetcalc.reference import tables

#: A dry gland that nothing is said against in water.
DRY: Final[dict[str, object]] = {
    "tag": "V-1", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
    "nose_length_entered": 25, "gland_stud_thread": "M12", "gland_stud_count_entered": 2, "gland_stud_grade": "ISO 8.8",
    "stud_lubricant": "none (dry)", "packing_material": "graphite braid", "stem_motion_entered": "rising", "fluid_kind_entered": "water",
    "fluid_temperature_entered": 60, "line_pressure_entered": 40,
}  # fmt: skip
#: A joint that is opened, bolted dry.
GASKET: Final = "spiral wound, graphite filler"
OUT: Final[dict[str, object]] = {
    "comes_out_entered": "yes", "flange_size": "NPS 3", "flange_class_entered": 300, "flange_facing_entered": "raised face",
    "flange_material_entered": "1.1 carbon steel", "gasket_kind": GASKET, "flange_bolt_grade": "ASTM A193 B7",
    "flange_lubricant": "none (dry)", "valve_mass_entered": 80, "sling_legs_entered": 2, "sling_angle_entered": 60,
    "leg_capacity_entered": 1000,
}  # fmt: skip
#: A report for 60 degrees Celsius and 40 bar, as formulas read it: number, temperature, pressure in MPa.
REPORT: Final[tuple[str, float, float]] = ("R 7", 60.0, 4.0)
NONE: Final[tuple[str, float, float]] = ("", math.nan, math.nan)
NO_REPORT: Final = "needs its maker's test report for this temperature and pressure"
TOO_LOW: Final = "does not reach this temperature and pressure"

Tables = dict[str, Any]


def put(held: Tables, names: tuple[str, ...], row: int, figures: tuple[object, ...]) -> None:
    """Type figures into one row of some columns of the tables."""
    for name, figure in zip(names, figures, strict=True):
        value = held.setdefault(name, tables.values()[name])
        held[name] = list(value) if isinstance(value, list) else np.array(value)
        held[name][row] = figure


def with_reports(
    packing: tuple[object, ...] = REPORT, paste: tuple[object, ...] = REPORT, gasket: tuple[object, ...] = REPORT, says: float = math.nan
) -> Tables:
    """The tables with graphite braid and a gasket reported, and with a paste of one's own that is, the latter in the first own row."""
    held: Tables = {}
    row = tables.values()["material_names"].index("graphite braid")
    reports = ("materials_oxygen_report", "materials_oxygen_report_temperature", "materials_oxygen_report_pressure")
    put(held, reports, row, packing)
    held["materials_fluids"] = np.array(tables.values()["materials_fluids"])
    held["materials_fluids"][row, tables.MATERIAL_FLUIDS.index("oxygen")] = says
    put(held, ("lubricant_names", "lubricant_factors", "lubricant_scatters"), 0, ("own paste", 0.15, 0.25))
    put(held, ("lubricant_oxygen_reports", "lubricant_oxygen_temperatures", "lubricant_oxygen_pressures"), 0, paste)
    names = ("gasket_oxygen_reports", "gasket_oxygen_temperatures", "gasket_oxygen_pressures")
    put(held, names, tables.values()["gasket_kind_names"].index(GASKET), gasket)
    return held


def judged(held: Tables | None = None, /, **changed: object) -> dict[str, Any]:
    """One valve worked out with those tables, the dry one with some entries changed."""
    values = evaluate({**read_entries(pd.DataFrame([{**DRY, **changed}])), **(held or {})}, 1)
    names = ("state", "stud_torque", "flange_bolt_torque", "all_stop", "all_look", "all_trouble", "material_verdict")
    return {name: values[name][0] for name in names}


def test_the_dry_gland_is_ready_in_water() -> None:
    """So that what is said below is said of oxygen, oxidisers and air alone."""
    row = judged()
    assert (row["state"], row["stud_torque"] > 0, row["material_verdict"]) == ("READY", True, "suits as far as stated")


#: What used to pass: each of these was READY with a torque of 41 N·m.
PASSED_ONCE: Final[list[tuple[dict[str, object], str]]] = [
    ({"fluid_kind_entered": "oxygen", "line_pressure_entered": 200, "fluid_temperature_entered": 540}, NO_REPORT),
    ({"fluid_kind_entered": "oxidising", "line_pressure_entered": 10, "fluid_temperature_entered": 80, "fluid_ph_entered": 0},
     "does not suit this kind of fluid"),
    ({"fluid_kind_entered": "air", "line_pressure_entered": 10, "fluid_temperature_entered": 540}, "where air or oxygen reaches it"),
    ({"fluid_kind_entered": "gas", "line_pressure_entered": 10, "fluid_temperature_entered": 540}, "where air or oxygen reaches it"),
]  # fmt: skip


@pytest.mark.parametrize(("service", "said"), PASSED_ONCE)
def test_graphite_is_not_passed_in_hot_oxygen_acid_or_air(service: dict[str, object], said: str) -> None:
    """Oxygen at 200 bar and 540 degrees, nitric acid of 98 % at 80, air and gas at 540: a stop, no torque, and a sentence that says why."""
    row = judged(**service)
    assert (row["state"], row["material_verdict"]) == ("STOP", "does not suit")
    assert math.isnan(row["stud_torque"])
    assert said in row["all_stop"]


@pytest.mark.parametrize("material", [name for name in tables.values()["material_names"] if name])
@pytest.mark.parametrize("lubricant", ["none (dry)", "machine oil", "anti-seize paste"])
def test_no_issued_material_is_passed_in_oxygen(material: str, lubricant: str) -> None:
    """Whatever the family and the lubricant, cold and at next to no pressure: a stop."""
    service = {"fluid_kind_entered": "oxygen", "fluid_temperature_entered": 20, "line_pressure_entered": 0.1}
    row = judged(packing_material=material, stud_lubricant=lubricant, **service)
    assert row["state"] == "STOP"
    assert math.isnan(row["stud_torque"])
    assert ("In oxygen the stud lubricant" in row["all_stop"]) == (lubricant != "none (dry)")


OXYGEN: Final[dict[str, object]] = {"fluid_kind_entered": "oxygen"}


@pytest.mark.parametrize("says", [1.0, math.nan])
@pytest.mark.parametrize("missing", range(3))
def test_a_report_has_number_temperature_and_pressure(missing: int, says: float) -> None:
    """With one of the three blank there is none, for packing and lubricant alike, though the material's row says yes to oxygen."""
    part = tuple(blank if place == missing else one for place, (one, blank) in enumerate(zip(REPORT, NONE, strict=True)))
    for name, held in (("packing material", with_reports(packing=part, says=says)), ("stud lubricant", with_reports(paste=part))):
        row = judged(held, **OXYGEN, stud_lubricant="own paste")
        assert (row["state"], math.isnan(row["stud_torque"])) == ("STOP", True)
        assert row["all_stop"].startswith(f"In oxygen the {name} {NO_REPORT}")


@pytest.mark.parametrize("says", [1.0, math.nan])
def test_a_report_that_just_reaches_the_service_passes(says: float) -> None:
    """60 degrees and 40 bar against a report for 60 and 40, typed in Fahrenheit and psi too; nothing is said of the fluid."""
    held = with_reports(says=says)
    for service in ({}, {"fluid_temperature_entered": 20, "line_pressure_entered": -0.5}):
        for lubricant in ("none (dry)", "own paste"):
            row = judged(held, **OXYGEN, stud_lubricant=lubricant, **service)
            assert (row["state"], row["stud_torque"] > 0, row["material_verdict"]) == ("READY", True, "suits as far as stated")
    us = {"unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.75, "box_depth_entered": 2.5, "nose_length_entered": 1,
          "gland_stud_thread": "1/2-13 UNC", "fluid_temperature_entered": 140, "line_pressure_entered": 40 / 0.06894757}  # fmt: skip
    assert judged(held, **OXYGEN, stud_lubricant="own paste", **us)["all_stop"] == ""
    assert TOO_LOW in judged(held, **OXYGEN, **{**us, "fluid_temperature_entered": 140.1})["all_stop"]


@pytest.mark.parametrize("beyond", [{"fluid_temperature_entered": 60.1}, {"line_pressure_entered": 40.1}])
def test_a_report_below_the_service_does_not_pass(beyond: dict[str, object]) -> None:
    """A tenth of a degree or of a bar over it is a stop that says so, and not that there is none."""
    row = judged(with_reports(), **OXYGEN, **beyond, stud_lubricant="own paste")
    assert (row["state"], math.isnan(row["stud_torque"]), row["material_verdict"]) == ("STOP", True, "does not suit")
    for name in ("packing material", "stud lubricant"):
        assert f"The oxygen test report of the {name} {TOO_LOW}" in row["all_stop"]
    assert NO_REPORT not in row["all_stop"]


def test_a_material_that_burns_is_not_saved_by_a_report() -> None:
    """A no in the row of the material is a stop of its own, and the report is not spoken of."""
    for report in (REPORT, NONE):
        row = judged(with_reports(packing=report, says=0.0), **OXYGEN)
        assert row["all_stop"] == "The packing material does not suit this kind of fluid: choose another material."


@pytest.mark.parametrize("blank", ["fluid_temperature_entered", "line_pressure_entered"])
def test_without_the_service_a_report_is_asked_all_the_same(blank: str) -> None:
    """With temperature or pressure left open the missing report is a stop still, and one that is there leaves the load not judged."""
    assert judged(**OXYGEN, **{blank: None})["state"] == "STOP"
    row = judged(with_reports(), **OXYGEN, **{blank: None})
    assert (row["state"], math.isnan(row["stud_torque"])) == ("SIZED", True)


@pytest.mark.parametrize(
    ("lubricant", "report", "said"),
    [
        ("none (dry)", NONE, ""), ("own paste", REPORT, ""), ("own paste", NONE, NO_REPORT), ("machine oil", REPORT, NO_REPORT),
        ("own paste", ("R 7", 60.0, 3.9), TOO_LOW), ("own paste", ("R 7", 59.0, 4.0), TOO_LOW),
    ],
)  # fmt: skip
def test_gland_studs_and_flange_bolts_are_judged_alike(lubricant: str, report: tuple[object, ...], said: str) -> None:
    """Dry threads pass, a paste with a report that reaches passes; an own row with nothing typed of oxygen stops gland and flange."""
    held = with_reports(paste=report)
    gland = judged(held, **OXYGEN, stud_lubricant=lubricant)
    flange = judged(held, **OXYGEN, **{**OUT, "flange_lubricant": lubricant})
    for row, torque, name in ((gland, "stud_torque", "stud lubricant"), (flange, "flange_bolt_torque", "flange bolt lubricant")):
        assert math.isnan(row[torque]) == bool(said)
        assert [one for one in (NO_REPORT, TOO_LOW) if f"{name} {one}" in row["all_stop"]] == ([said] if said else [])


@pytest.mark.parametrize(("report", "said"), [(REPORT, ""), (NONE, NO_REPORT), (("R 7", 60.0, 3.9), TOO_LOW)])
def test_a_flange_gasket_is_judged_as_the_packing_is(report: tuple[object, ...], said: str) -> None:
    """The gasket of a valve that comes out needs a report that reaches; of one that stays nothing is asked."""
    held = with_reports(gasket=report)
    out, stays = (judged(held, **OXYGEN, **{**OUT, "comes_out_entered": one}) for one in ("yes", "no"))
    assert [one for one in (NO_REPORT, TOO_LOW) if f"flange gasket {one}" in out["all_stop"]] == ([said] if said else [])
    assert stays["all_stop"] == ""


@pytest.mark.parametrize("name", ["lubricant", "flange_lubricant"])
def test_the_lubricant_is_asked_in_oxygen_alone(name: str) -> None:
    """In water oil is ordinary, and nothing is said of flange bolts that are not undone."""
    entry = {"lubricant": "stud_lubricant", "flange_lubricant": "flange_lubricant"}[name]
    assert judged(**{**OUT, entry: "machine oil"})["all_stop"] == ""
    stays = judged(with_reports(), **OXYGEN, **{**OUT, "flange_lubricant": "machine oil", "comes_out_entered": "no"})
    assert stays["all_stop"] == ""


@pytest.mark.parametrize(("fluid", "bears"), [("air", 450), ("gas", 450), ("inert gas", 550), ("steam", 550), ("water", 550), ("oil", 550)])
def test_graphite_bears_less_where_air_reaches_it(fluid: str, bears: float) -> None:
    """Its limit is 450 degrees in air, and in gas that nobody has called inert; elsewhere the printed one (Tribology Handbook, B25.1)."""
    at, over = (judged(fluid_kind_entered=fluid, fluid_temperature_entered=one) for one in (bears, bears + 0.1))
    assert (at["all_stop"], over["state"], over["material_verdict"]) == ("", "STOP", "does not suit")
    assert ("where air or oxygen reaches it" in over["all_stop"]) == (bears == 450)
    # None of the issued materials bears more.
    assert "hotter than every listed material bears" in over["all_stop"]


def test_a_material_with_one_limit_has_it_in_air_too() -> None:
    """PTFE bears 250 degrees, in air as elsewhere, and says it once."""
    for fluid in ("air", "water"):
        row = judged(packing_material="PTFE braid", fluid_kind_entered=fluid, fluid_temperature_entered=251)
        assert row["all_stop"] == "The fluid is hotter than the packing material bears: choose another material."


@pytest.mark.parametrize("material", [name for name in tables.values()["material_names"] if name])
def test_a_chemical_is_asked_whether_it_oxidises(material: str) -> None:
    """It is, but for PTFE, which stands oxidisers (from memory); the pH says nothing of it. An oxidiser itself stops the others."""
    service = {"packing_material": material, "fluid_ph_entered": 7, "fluid_temperature_entered": 20, "line_pressure_entered": 1}
    words = get("chemical_may_oxidise", Fault).words
    assert (words in judged(**service, fluid_kind_entered="chemical")["all_look"]) == (material not in {"PTFE braid", "solid PTFE"})
    assert words not in judged(**service, fluid_kind_entered="oil")["all_look"]
    row = judged(**service, fluid_kind_entered="oxidising")
    if material.endswith("of unknown make"):
        assert "does not say whether it suits this kind of fluid" in row["all_look"]
    else:
        assert ("does not suit this kind of fluid" in row["all_stop"]) == ("PTFE" not in material or "graphite" in material)


def test_a_row_of_ones_own_that_says_nothing_of_oxidisers_is_asked_too() -> None:
    """What is not stated is no yes."""
    held = with_reports()
    row = tables.values()["material_names"].index("graphite braid")
    service = {"fluid_kind_entered": "chemical", "fluid_ph_entered": 7}
    for says, state in ((math.nan, "LOOK"), (0.0, "LOOK"), (1.0, "READY")):
        held["materials_fluids"][row, tables.MATERIAL_FLUIDS.index("oxidising")] = says
        assert judged(held, **service)["state"] == state
