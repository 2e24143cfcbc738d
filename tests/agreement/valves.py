"""Generated valves for the agreement of workbook and core: believable ones, exact boundaries, blanks and bad values.

Everything is drawn from one seed. Measurements are made in coherent units (mm, MPa, N, degrees Celsius) and handed over
in the units of the row's unit set, as a planner's list would have them. `own_rows` fills the user's own rows of the
tables: only so can a material refuse a motion, or a grade stand twice.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pandas as pd

from sheetcalc import units
from sheetcalc.calculations.run import entry_names, evaluate, read_entries
from sheetcalc.declare.quantity import Constant, get
from sheetcalc.reference import tables

COUNT = 6000
SEED = 20261125

#: The dimension of each number that is typed in a unit of the unit set.
_DIMENSIONS = {name: str(get(name).dimension) for name in entry_names() if get(name).dimension}
#: The text 28 is no number here, though a sheet that multiplies it would make it one.
# A text such as "28" is left to LibreOffice: IronCalc counts a text that looks like a number, as Excel and LibreOffice do not.
_BAD: tuple[Any, ...] = (
    "see drawing", 46158.0, 1e9, 0.0, -5.0, None, "28,5 mm?", 1e300, "#DIV/0!", "n.a.",
    -1e9, -46158.0, 2e8, 7e9, -1e7, 1e8, -3e9, -2e7, 3e8, -6e8, 9e8, 4e9,
)  # fmt: skip

#: Quantities that honest valves cannot answer on 30 % of the rows: name as a pattern, the least share, and the reason.
SELDOM: tuple[tuple[str, float, str], ...] = (
    ("ring_([6-9]|10)(_.*)?", 0.03, "few stuffing boxes take so many rings"),
    ("ring_[1-5]_stress", 0.15, "a ring of that number and everything that the gland stress asks for must be typed"),
    ("loose_.*", 0.05, "loose packing is one of four forms and the least usual one"),
    ("bottom_ratio_.*", 0.15, "the short form holds only where stem and box rub alike"),
    ("lantern_.*|rings_(below|above)_lantern", 0.02, "few boxes have a lantern ring, and few ports are where a set can hold one"),
    (
        "bulk_length|braid_volume|packing_mass",
        0.12,
        "a stop keeps it back, and so much must be typed that many of these valves are stopped",
    ),
    ("flange_bolt_torque(_long)?|flange_torque_(first|second)", 0.12, "a stop keeps it back, and few of these valves come out"),
    (
        "flange_(bolt_stress|nut_factor)_typed|flat_row",
        0.1,
        "most joints that suit their service have nothing typed over, and spiral gaskets",
    ),
    ("gasket_(pressure|pressure_temperature|least_gas)|flange_rating_typed", 0.015, "few kinds of gasket and few valves state it"),
    ("flats_to_compress|stud_torque_long", 0.25, "a stop keeps it back, and there are none with springs"),
    ("all_unasked|not_judged", 0.25, "of most valves everything is typed that the load asks for"),
    ("flange_lubricant_oxygen_.*", 0.15, "few of these valves come out, and few lubricants have a report"),
    ("material_most_stress", 0.2, "most issued materials state none"),
    ("material_refusals", 0.08, "most materials suit their service"),
    ("handwheel_torque|rim_pull(_share)?|maker_count_difference", 0.2, "a set of rings must serve, and much else be typed"),
    ("tip_length", 0.05, "few rings are cut askew, and only braid is cut"),
    ("tools_is_typed", 0.2, "one entry alone"),
    ("nut_turns", 0.01, "few glands are pressed by a packing nut, and a stop keeps it back"),
    ("wrench_old_words", 0.03, "only some metric nuts had another width in the older standard"),
)


#: A flange whose bolts are given another number, and winding gaskets with the basic width that they are given, by size and class.
_ODD_FLANGE = "NPS 22 class 150"
_WINDINGS = {"NPS 10 class 150": 6.35, "NPS 12 class 300": 6.351}


def own_rows() -> dict[str, Any]:
    """The tables with own rows of materials, grades, lubricants and gaskets filled as a user might: whole, partly, of an issued name.

    Of flanges three figures are changed, and grades, lubricants and gaskets that only flanges use stand below the issued ones, some
    with figures that nobody should type.
    """
    held: dict[str, Any] = {name: (list(value) if isinstance(value, list) else np.array(value)) for name, value in tables.values().items()}

    def fill(row: int, **figures: Any) -> None:
        for name, value in figures.items():
            held[name][row] = value

    def below(kind: str, *rows: dict[str, Any]) -> None:
        for name in [one for one in held if one.startswith(kind)]:
            text = isinstance(held[name], list)
            if not text and held[name].ndim > 1:
                held[name] = np.vstack([held[name], np.full((len(rows), held[name].shape[1]), np.nan)])
                continue
            more = [row.get(name, "" if text else np.nan) for row in rows]
            held[name] = [*held[name], *more] if text else np.append(held[name], np.array(more, dtype=np.float64))

    whole = {
        "materials_temperature_low": -80.0, "materials_temperature_high": 300.0, "materials_pressure_high": 16.0, "materials_ph_low": 2.0,
        "materials_ph_high": 12.0, "materials_least_stress": 20.0, "materials_pressure_factor": 1.4, "materials_most_stress": 45.0,
        "materials_set_compression": 0.27, "materials_seating_compression": 0.13, "materials_friction_dry": 0.14,
        "materials_friction_lubricated": 0.08, "materials_lateral_ratio": 0.55, "materials_density": 1.25e-6,
        "materials_temperature_high_air": 150.0, "materials_oxygen_report": "R 12", "materials_oxygen_report_temperature": 120.0,
        "materials_oxygen_report_pressure": 12.0,
    }  # fmt: skip
    no, yes, unsaid = 0.0, 1.0, np.nan
    fill(0, material_names="shop bare")
    fill(1, material_names="PTFE braid", material_forms="braid", **{**whole, "materials_ph_low": np.nan})
    fill(2, material_names="shop braid", material_forms="braid", **whole)
    fill(3, material_names="shop rings", material_forms="die-formed", **{**whole, "materials_temperature_low": np.nan,
         "materials_pressure_factor": np.nan, "materials_density": np.nan, "materials_friction_lubricated": np.nan,
         "materials_seating_compression": np.nan, "materials_temperature_high_air": 300.0, "materials_oxygen_report": ""})  # fmt: skip
    fill(4, material_names="shop loose", material_forms="loose", **{**whole, "materials_set_compression": 0.5,
         "materials_seating_compression": 0.4, "materials_most_stress": 0.0,
         "materials_oxygen_report_temperature": np.nan})  # fmt: skip
    fill(5, material_names="shop braid for turning", material_forms="braid", **{**whole, "materials_temperature_high": np.nan,
         "materials_ph_high": np.nan, "materials_least_stress": np.nan, "materials_seating_compression": 0.0,
         "materials_friction_dry": np.nan, "materials_temperature_high_air": np.nan,
         "materials_oxygen_report_pressure": np.nan})  # fmt: skip
    fill(6, material_names="shop braid for sliding", material_forms="braid", **{**whole, "materials_pressure_high": np.nan,
         "materials_lateral_ratio": np.nan, "materials_most_stress": np.nan, "materials_least_stress": 0.0,
         "materials_set_compression": np.nan})  # fmt: skip
    held["materials_fluids"][:7] = [
        [unsaid] * 7, [yes, no, yes, unsaid, yes, unsaid, yes], [yes] * 7, [no, yes, unsaid, yes, no, yes, no], [unsaid] * 7,
        [yes, no, yes, no, yes, no, unsaid], [no, yes, no, yes, no, yes, yes],
    ]  # fmt: skip
    # Two of the issued rows, reported as a user might.
    for name, report in (("graphite braid", ("4711", 320.0, 25.0)), ("die-formed graphite", ("R 9", 90.0, 4.0))):
        row = held["material_names"].index(name, tables.OWN_MATERIALS)
        fill(row, materials_oxygen_report=report[0], materials_oxygen_report_temperature=report[1],
             materials_oxygen_report_pressure=report[2])  # fmt: skip
    held["materials_motions"][:7] = [
        [unsaid, no], [yes, yes], [yes, yes], [yes, unsaid], [unsaid, yes], [no, yes], [yes, no],
    ]  # fmt: skip
    # Motions of which nobody can say how many rings they want.
    below("stem_motion", *({"stem_motion_names": f"shop {one}"} for one in ("cleared", "halves", "many", "none")))
    below("motion_", *({"motion_slides": 1.0, "motion_turns": 0.0, "motion_rings": one} for one in (np.nan, 4.5, 41.0, 0.0)))
    # The two of one name meet at the diameter of 5/8 in; the fourth stands beside an issued one of the same name.
    fill(0, grade_names="shop rod", grade_over=0.0, grade_to=60.0, grade_tensiles=500.0, grade_temperatures_least=-40.0)
    fill(1, grade_names="shop bar", grade_over=0.0, grade_to=15.875, grade_tensiles=700.0, grade_yields=200.0,
         grade_temperatures_look=80.0)  # fmt: skip
    fill(2, grade_names="shop bar", grade_over=15.875, grade_to=30.0, grade_tensiles=640.0, grade_yields=190.0)
    fill(3, grade_names="ISO 12.9", grade_over=0.0, grade_to=20.0, grade_tensiles=1220.0, grade_yields=1100.0)
    fill(4, grade_names="shop pin", grade_over=0.0, grade_to=60.0, grade_yields=300.0, grade_temperatures_look=100.0,
         grade_temperatures_most=200.0)  # fmt: skip
    fill(0, lubricant_names="shop grease", lubricant_factors=0.14, lubricant_scatters=1.5, lubricant_nut_frictions=0.11)
    fill(1, lubricant_names="machine oil", lubricant_factors=0.18, lubricant_scatters=0.2,
         lubricant_thread_frictions=0.13, lubricant_nut_frictions=0.11, lubricants_dry=no)  # fmt: skip
    fill(2, lubricant_names="shop oxygen paste", lubricant_factors=0.15, lubricant_scatters=0.0,
         lubricant_thread_frictions=0.11, lubricant_nut_frictions=0.12, lubricants_dry=no, lubricant_oxygen_reports="R 3",
         lubricant_oxygen_temperatures=90.0, lubricant_oxygen_pressures=2.5)  # fmt: skip
    fill(3, lubricant_names="shop wax", lubricant_factors=0.18, lubricant_scatters=1.0, lubricant_thread_frictions=0.12,
         lubricants_dry=yes, lubricant_oxygen_reports="R 4", lubricant_oxygen_temperatures=20.0)  # fmt: skip
    fill(held["lubricant_names"].index("anti-seize paste"), lubricant_oxygen_reports="R 5", lubricant_oxygen_temperatures=150.0,
         lubricant_oxygen_pressures=8.0)  # fmt: skip
    fill(1, gasket_kind_names="shop sheet", gasket_forms="flat", gasket_leasts=14.0, gasket_gas_leasts=30.0, gasket_mosts=80.0,
         gasket_factors=2.5, gasket_yields=18.0, gasket_temperatures=200.0, gasket_pressures=5.0, gasket_pressure_temperatures=300.0,
         gasket_oxygen_reports="R 8", gasket_oxygen_temperatures=90.0, gasket_oxygen_pressures=2.5)  # fmt: skip
    fill(2, gasket_kind_names="Spiral wound, graphite filler", gasket_forms="spiral", gasket_leasts=60.0, gasket_mosts=260.0,
         gasket_factors=3.0, gasket_yields=69.0, gasket_temperatures=430.0, gasket_oxygen_reports="R 9", gasket_oxygen_temperatures=150.0,
         gasket_oxygen_pressures=8.0)  # fmt: skip
    held["gaskets_fluids"][1:3] = [[yes, yes, unsaid, yes, yes, unsaid, no], [yes, yes, yes, yes, unsaid, yes, no]]
    fill(3, gasket_kind_names="shop sheet without least", gasket_forms="flat", gasket_mosts=80.0, gasket_factors=1.0,
         gasket_yields=0.0)  # fmt: skip
    sizes = {"grade_names": "shop bolt", "grade_tensiles": 500.0}
    below("grade", {**sizes, "grade_over": 0.0, "grade_to": 20.0, "grade_yields": 0.0},
          {**sizes, "grade_over": 20.0, "grade_to": 30.0, "grade_yields": 0.5},
          {**sizes, "grade_over": 30.0, "grade_to": 102.0, "grade_yields": -200.0})  # fmt: skip
    held["grade_numbers"] = np.arange(1.0, len(held["grade_names"]) + 1)
    rubs = {"lubricant_scatters": 0.3, "lubricant_thread_frictions": 0.12, "lubricant_nut_frictions": 0.12, "lubricants_dry": no}
    below("lubricant", {**rubs, "lubricant_names": "shop soap", "lubricant_factors": 0.0},
          {**rubs, "lubricant_names": "shop tallow", "lubricant_factors": 0.16, "lubricant_scatters": -0.1},
          {**rubs, "lubricant_names": "shop chalk", "lubricant_factors": -0.16},
          {"lubricant_names": "shop dust", "lubricant_factors": 0.17},
          {"lubricant_names": "shop paint", "lubricant_factors": 0.16, "lubricant_scatters": 0.25, "lubricants_dry": no,
           "lubricant_oxygen_temperatures": 90.0, "lubricant_oxygen_pressures": 2.5})  # fmt: skip
    below("gasket", {"gasket_kind_names": "shop bare"},
          {"gasket_kind_names": "shop sheet without form", "gasket_leasts": 20.0, "gasket_mosts": 80.0},
          {"gasket_kind_names": "shop winding", "gasket_forms": "spiral", "gasket_leasts": 60.0, "gasket_factors": 3.0},
          {"gasket_kind_names": "shop ring", "gasket_forms": "flat", "gasket_leasts": 10.0, "gasket_yields": 10.0})  # fmt: skip
    # So many bolts are in no order on Tables, and two windings are just as wide as is narrow, or hardly more.
    held["flange_counts"][held["flange_keys"].index(_ODD_FLANGE)] = 18.0
    for key, width in _WINDINGS.items():
        row = held["spiral_keys"].index(key)
        held["spiral_outers"][row] = held["spiral_inners"][row] + 4 * width
    changed = [name for name in held if name.startswith(("material", "grade", "lubricant", "gasket", "stem_motion", "motion_"))]
    return {name: held[name] for name in (*changed, "flange_counts", "spiral_outers")}


def _maybe(rng: np.random.Generator, share: float, values: Any) -> Any:
    """The values in a share of the rows, blank in the others."""
    out = np.asarray(values, dtype=object).copy()
    out[rng.random(len(out)) >= share] = None
    return out


def _named(rng: np.random.Generator, names: list[str], weights: list[float], wrong: tuple[str, ...], count: int) -> Any:
    """Names of a table by their weights, some in another case, and a few that the table does not know."""
    known = rng.choice(np.array(names, dtype=object), count, p=np.array(weights) / sum(weights))
    cased = np.array([name.upper() if n == 0 else name.capitalize() if n == 1 else name for name, n in zip(known, rng.integers(0, 8,
    count), strict=True)],
                     dtype=object)  # fmt: skip
    return np.where(rng.random(count) < 0.04, rng.choice(np.array([*wrong, "#DIV/0!"], dtype=object), count), cased)


def _believable(rng: np.random.Generator, count: int) -> pd.DataFrame:
    """Valves as a plant has them, in mm, with overrides and readings on many."""
    frame = pd.DataFrame({name: np.full(count, None, dtype=object) for name in entry_names()})
    section = rng.choice(np.arange(30, 131), count) / 10
    frame["tag"] = [f"V-{number}" for number in range(1, count + 1)]
    frame["unit_set"] = rng.choice(np.array(["metric", "US", "Metric", "us"], dtype=object), count, p=[0.45, 0.45, 0.05, 0.05])
    stem = rng.integers(40, 800, count) / 10 + 6
    frame["stem_diameter_entered"] = stem
    frame["box_bore_entered"] = stem + 2 * section
    depth = section * rng.integers(2, 17, count) + rng.integers(0, 400, count) / 20
    frame["box_depth_entered"] = depth
    frame["nose_length_entered"] = rng.integers(30, 800, count) / 10 + 4
    threads = np.array([*tables.values()["thread_names"], "m12", "M*", "~M12", "M12 ", "#DIV/0!"], dtype=object)
    often = [0.95 / (len(threads) - 5)] * (len(threads) - 5) + [0.01] * 5
    frame["gland_stud_thread"] = _maybe(rng, 0.98, rng.choice(threads, count, p=often))
    forms = ["braid", "BRAID", "die-formed", "Die-formed", "loose", "Loose", "moulded", "rope", "b*", "~braid", "die-f?rmed", "#DIV/0!"]
    often = [0.28, 0.22, 0.16, 0.08, 0.06, 0.06, 0.07, 0.02, 0.0125, 0.0125, 0.0125, 0.0125]
    frame["packing_form_entered"] = _maybe(rng, 0.6, rng.choice(np.array(forms, dtype=object), count, p=often))
    frame["made_ring_height_entered"] = _maybe(rng, 0.6, section * rng.choice([0.8, 1.0, 1.2], count))
    frame["maker_ring_count_entered"] = _maybe(rng, 0.64, rng.choice(np.arange(1.0, 13.0), count, p=[0.06] * 4 + [0.13] * 4 + [0.06] * 4))
    frame["lantern_length_entered"] = _maybe(rng, 0.68, rng.choice([0.0, 8.0, 12.5, 20.0, 400.0], count, p=[0.85, 0.05, 0.04, 0.04, 0.02]))
    cuts = np.array(["butt", "skive", "SKIVE", "Butt", "square", "b*", "~skive", "s?ive", "#DIV/0!"], dtype=object)
    frame["cut_style_entered"] = _maybe(rng, 0.6, rng.choice(cuts, count))
    lists = np.array(["by unit set", "By Unit Set", "inch", "metric", "both", "BOTH", "mine", "i*", "~both", "#DIV/0!"], dtype=object)
    often = [0.15, 0.05, 0.2, 0.2, 0.2, 0.14, 0.015, 0.015, 0.015, 0.015]
    frame["section_list_entered"] = _maybe(rng, 0.7, rng.choice(lists, count, p=often))
    gap = rng.integers(0, 300, count) / 20
    frame["gap_reading_1_entered"] = _maybe(rng, 0.75, gap)
    frame["gap_reading_2_entered"] = _maybe(rng, 0.75, np.abs(gap + rng.integers(-30, 31, count) / 20))
    frame["stud_spacing_entered"] = _maybe(rng, 0.85, rng.integers(60, 200, count).astype(float))
    frame["gap_reading_distance_entered"] = _maybe(rng, 0.45, rng.integers(50, 220, count).astype(float))
    frame = frame.astype(object)
    overrides = {
        "preferred_ring_count_entered": rng.integers(1, 13, count).astype(float),
        "set_compression_entered": rng.choice([0.05, 0.2, 0.25, 0.3, 0.35], count),
        "seating_compression_entered": rng.choice([0.0, 0.1, 0.15, 0.2, 0.3], count),
        "least_take_up_entered": rng.choice([0.0, 2.0, 3.0, 6.35, 12.0], count),
        "least_entry_floor_entered": rng.choice([0.0, 2.0, 3.175, 6.0], count),
        "least_entry_share_entered": rng.choice([0.0, 0.25, 0.5, 1.0], count),
        "spacer_step_entered": rng.choice([0.5, 1.0, 1.5875, 3.0, 5.0], count),
        "length_allowance_entered": rng.choice([0.0, 0.03, 0.05, 0.07], count),
        "waste_share_entered": rng.choice([0.0, 0.05, 0.08, 0.10], count),
    }
    for name, values in overrides.items():
        frame[name] = _maybe(rng, 0.44, values)
    _service(frame, rng, count)
    _ports(frame, depth, section)
    return frame


def _ports(frame: pd.DataFrame, depth: Any, section: Any) -> None:
    """Lantern rings with ports that a set of rings can hold them at, on a spacer or not, and some that none can."""
    rng = np.random.default_rng(SEED + 2)
    count = len(frame)
    lantern = np.round(rng.choice([1.0, 1.5, 2.0, 3.0], count) * section)
    over_bottom = 0.7 * section * rng.integers(3, 6, count) + rng.choice([0.0, 0.4, -0.4, 2.0, 6.0, 6.3, 14.2, 30.0], count)
    port = np.maximum(depth - lantern / 2 - over_bottom, 1.0)
    port = np.where(rng.random(count) < 0.1, rng.integers(5, 100, count), port)
    held = rng.random(count) < 0.2
    frame["lantern_length_entered"] = [
        (float(new) if here else old) for here, new, old in zip(held, lantern, frame["lantern_length_entered"], strict=True)
    ]
    frame["port_depth_entered"] = _maybe(rng, 0.9, np.round(port, 2))
    frame["port_diameter_entered"] = _maybe(rng, 0.45, np.round(lantern * rng.choice([0.1, 0.3, 0.5, 1.0], count), 1))
    deeper = held & (rng.random(count) < 0.7)
    frame["box_depth_entered"] = np.where(deeper, depth + 4 * section, depth)
    few = held & (rng.random(count) < 0.25)
    frame.loc[few, "maker_ring_count_entered"] = pd.Series(rng.integers(3, 6, count) * 1.0, dtype=object)[few]
    frame["port_depth_entered"] = [
        (None if one is None else float(one) + (4 * wide if more else 0.0))
        for one, wide, more in zip(frame["port_depth_entered"], section, deeper, strict=True)
    ]


def _service(frame: pd.DataFrame, rng: np.random.Generator, count: int) -> None:
    """Fluid, material, studs and stem of the valves, in coherent units."""
    for name in ("place", "isolation_points", "fluid"):
        frame[name] = _maybe(rng, 0.4, rng.choice(np.array(["Boiler house", "P-101, E-7", "wet steam", "#DIV/0!"], dtype=object), count))
    names = tables.values()
    frame["fluid_kind_entered"] = _maybe(rng, 0.85, _named(
        rng, names["fluid_kind_names"], [1, 3, 3, 2, 1.5, 1.5, 1, 4, 3.3, 1], ("lava", "st*", "~oil", "?as"), count))  # fmt: skip
    pressure = rng.choice([0.0, 0.6, 1.0, 1.6, 4.0, 6.4, 10.0, 16.0, 25.0, 32.0, -0.05], count)
    frame["line_pressure_entered"] = _maybe(rng, 0.96, pressure)
    frame["fluid_temperature_entered"] = _maybe(
        rng, 0.88, rng.choice([-250.0, -120.0, -40.0, 0.0, 20.0, 90.0, 180.0, 260.0, 400.0, 480.0, 560.0], count)
    )
    frame["fluid_ph_entered"] = _maybe(rng, 0.7, rng.integers(0, 29, count) / 2)
    frame["stem_motion_entered"] = _maybe(rng, 0.93, _named(
        rng, [*own_rows()["stem_motion_names"]], [1, 2, 4, 6, 2, *[0.12] * 4], ("waving", "ris*", "~rising", "ri?ing"), count))  # fmt: skip
    materials = [name for name in names["material_names"] if name]
    own = [name for name in own_rows()["material_names"][: tables.OWN_MATERIALS] if name and name not in materials]
    weights = [
        {
            "PTFE braid": 3.0,
            "flax or ramie braid": 2.0,
            "solid PTFE": 1.5,
            "loose graphite": 1.0,
            "braid of unknown make": 0.7,
            "rings of unknown make": 0.7,
        }.get(name, 1.2)
        for name in materials
    ]
    frame["packing_material"] = _maybe(rng, 0.97, _named(
        rng, [*materials, *own],
        [*weights, *(1.0 if name == "shop braid for sliding" else 0.5 for name in own)],
        ("straw", "graph*", "~PTFE braid", "PTFE braid "), count))  # fmt: skip
    frame["packing_state_entered"] = _maybe(rng, 0.6, _named(rng, names["packing_state_names"], [1, 2], ("damp", "d*", "~dry"), count))
    frame["gland_kind_entered"] = _maybe(rng, 0.6, _named(rng, names["gland_kind_names"], [1, 1, 20], ("screws", "st*", "~studs"), count))
    frame["gland_stud_count_entered"] = _maybe(rng, 0.97, rng.choice([2.0, 4.0, 6.0, 8.0, 12.0], count))
    own_grades = [name for name in own_rows()["grade_names"][: tables.OWN_GRADES] if name]
    grades = [*dict.fromkeys([name for name in names["grade_names"] if name] + own_grades)]
    weights = [{"ISO 12.9": 0.5, "unknown": 0.4, "ASTM A193 B7": 7.0, "shop rod": 0.4, "shop pin": 0.4}.get(name, 1.0) for name in grades]
    frame["gland_stud_grade"] = _maybe(rng, 0.97, _named(rng, grades, weights, ("steel", "ISO*", "~ISO 8.8", "ISO 8.?"), count))
    lubricants = [name for name in [*names["lubricant_names"], *own_rows()["lubricant_names"][: tables.OWN_LUBRICANTS]] if name]
    lubricants = [*dict.fromkeys(lubricants)]
    lubricants.append("shop tallow")
    weights = [0.18 if name in {"shop grease", "shop wax", "shop tallow"} else 1.0 for name in lubricants]
    frame["stud_lubricant"] = _maybe(rng, 0.97, _named(rng, lubricants, weights, ("butter", "anti*", "~machine oil", "none ?dry?"), count))
    frame["stud_thread_left_entered"] = _maybe(rng, 0.75, rng.integers(0, 120, count) / 4)
    frame["gland_nut_kind_entered"] = _maybe(rng, 0.3, _named(rng, names["nut_kind_names"], [4, 1, 3, 1], ("wing", "h*", "~hex"), count))
    frame["stem_thread_diameter_entered"] = _maybe(rng, 0.95, rng.integers(20, 140, count) / 2)
    frame["stem_thread_pitch_entered"] = _maybe(rng, 0.95, rng.choice([2.0, 3.0, 4.0, 5.0, 6.0, 6.35, 12.0, 20.0], count))
    frame["handwheel_radius_entered"] = _maybe(rng, 0.93, rng.integers(8, 80, count) * 5.0)
    overrides = {
        "least_gland_stress_entered": rng.choice([3.0, 7.0, 14.0, 26.2, 37.9], count),
        "pressure_factor_entered": rng.choice([0.0, 1.0, 1.5, 2.0], count),
        "most_gland_stress_entered": rng.choice([20.0, 40.0, 60.0, 80.0], count),
        "nut_factor_entered": rng.choice([0.1, 0.13, 0.16, 0.2, 0.22, 0.3], count),
        "stem_friction_factor_entered": rng.choice([0.0, 0.05, 0.1, 0.16], count),
        "box_friction_factor_entered": rng.choice([0.0, 0.05, 0.1, 0.16], count),
        "lateral_ratio_entered": rng.choice([0.0, 0.4, 0.5, 0.85], count),
        "least_bottom_share_entered": rng.choice([0.0, 0.3, 0.5, 0.8, 1.0], count),
        "collar_diameter_entered": rng.integers(0, 60, count).astype(float),
        "stem_thread_starts_entered": rng.choice([1.0, 2.0, 3.0], count),
        "stem_thread_friction_entered": rng.choice([0.0, 0.08, 0.2, 1.0], count),
        "collar_friction_entered": rng.choice([0.0, 0.08, 0.2], count),
        "stem_thread_angle_entered": rng.choice([0.0, 14.5, 15.0, 30.0, 45.0], count),
        "most_rim_pull_entered": rng.choice([10.0, 100.0, 250.0, 400.0], count),
        "stem_thrust_entered": rng.choice([0.0, 500.0, 6400.0], count),
    }
    for name, values in overrides.items():
        frame[name] = _maybe(rng, 0.4, values)


#: Parts of the valve that comes out of the line: drawn and spoilt apart, since no answer of the packing depends on them.
_OUT_PARTS = frozenset({"flange", "lift"})


def _out_and_back(frame: pd.DataFrame) -> None:
    """Flanges, bolts, gaskets and lifting gear of the valves, in coherent units."""
    count, rng, names = len(frame), np.random.default_rng(SEED + 1), tables.values()
    yes_no = ("maybe", "y*", "~yes", "n?")
    frame["comes_out_entered"] = _maybe(rng, 0.9, _named(rng, names["yes_no_names"], [1, 2], yes_no, count))
    keys = [*names["spiral_keys"]] * 4 + [*names["flange_keys"]]
    split = [str(keys[one]).split(" class ") for one in rng.integers(0, len(keys), count)]
    sizes = np.array([size for size, _of in split], dtype=object)
    wrong = np.array(["NPS *", "nps 2", "~NPS 2", "NPS ?", "DN 50", "#DIV/0!", "NPS 3 1/2", "NPS 22"], dtype=object)
    frame["flange_size"] = _maybe(rng, 0.98, np.where(rng.random(count) < 0.05, rng.choice(wrong, count), sizes))
    classes = np.array([float(one) for _size, one in split])
    frame["flange_class_entered"] = _maybe(
        rng, 0.98, np.where(rng.random(count) < 0.04, rng.choice([400.0, 900.0, 1500.0, 16.0], count), classes)
    )
    frame["flange_joint_count_entered"] = _maybe(rng, 0.4, rng.choice([1.0, 2.0, 3.0, 4.0], count))
    frame["flange_facing_entered"] = _maybe(rng, 0.97, _named(
        rng, names["flange_facing_names"], [1, 50, 2, 2, 2, 2], ("smooth", "rais*", "~raised face", "?lat face"), count))  # fmt: skip
    frame["flange_material_entered"] = _maybe(rng, 0.97, _named(
        rng, names["flange_material_names"], [1, 30, 7, 7, 6, 4, 2, 2], ("wood", "st*", "~steel", "?teel"), count))  # fmt: skip
    frame["flange_rating_entered"] = _maybe(rng, 0.1, rng.choice([0.0, 1.0, 2.5, 6.4, 16.0], count))
    held = own_rows()
    kinds = [*dict.fromkeys([name for name in [*names["gasket_kind_names"], *held["gasket_kind_names"]] if name])]
    weights = [2.0 if "spiral" in name.lower() or name == "shop sheet" else 0.2 if name.startswith("shop") else 0.8 for name in kinds]
    frame["gasket_kind"] = _maybe(
        rng, 0.97, _named(rng, kinds, weights, ("cork", "spir*", "~elastomer sheet", "spiral?wound, graphite filler"), count)
    )
    grades = [*dict.fromkeys([name for name in [*names["grade_names"], *held["grade_names"]] if name])]
    weights = [{"ISO 12.9": 0.5, "unknown": 0.4, "ASTM A193 B7": 30.0, "shop rod": 0.4, "shop pin": 1.0}.get(name, 0.7) for name in grades]
    frame["flange_bolt_grade"] = _maybe(rng, 0.97, _named(rng, grades, weights, ("steel", "ISO*", "~ISO 8.8", "ISO 8.?"), count))
    lubricants = [*dict.fromkeys([name for name in [*names["lubricant_names"], *held["lubricant_names"]] if name])]
    weights = [0.1 if name.startswith("shop") and name != "shop oxygen paste" else 1.0 for name in lubricants]
    frame["flange_lubricant"] = _maybe(rng, 0.97, _named(
        rng, lubricants, weights, ("butter", "anti*", "~machine oil", "none ?dry?"), count))  # fmt: skip
    frame["flange_studs_renewed_entered"] = _maybe(rng, 0.5, _named(rng, names["yes_no_names"], [1, 1], yes_no, count))
    frame["flange_bolt_stress_entered"] = _maybe(rng, 0.4, rng.choice([20.0, 60.0, 103.4, 140.0, 207.0, 276.0, 345.0, 480.0], count))
    frame["flange_nut_factor_entered"] = _maybe(rng, 0.45, rng.choice([0.1, 0.13, 0.16, 0.2, 0.22, 0.3], count))
    frame["valve_actuated_entered"] = _maybe(rng, 0.6, _named(rng, names["yes_no_names"], [2, 1], yes_no, count))
    frame["valve_mass_entered"] = _maybe(rng, 0.5, rng.choice([12.0, 20.0, 20.4, 385.0, 900.0], count))
    frame["sling_legs_entered"] = _maybe(rng, 0.95, rng.choice([1.0, 2.0, 3.0, 4.0], count, p=[0.1, 0.5, 0.2, 0.2]))
    frame["sling_angle_entered"] = _maybe(rng, 0.5, rng.choice([15.0, 30.0, 40.0, 45.0, 60.0, 75.0, 90.0], count))
    length = rng.integers(10, 60, count) * 50.0
    frame["leg_length_entered"] = _maybe(rng, 0.85, length)
    frame["hook_height_entered"] = _maybe(rng, 0.85, np.round(length * rng.choice([0.4, 0.6, 0.7, 0.8, 0.95, 1.0, 1.1], count), 1))
    frame["leg_capacity_entered"] = _maybe(rng, 0.9, rng.choice([100.0, 500.0, 1000.0, 2000.0], count))


def _rated(frame: pd.DataFrame, rows: np.ndarray[Any, Any]) -> None:
    """Most flanges bear their service: another class's pressure or a material's cold would stop nearly every valve."""
    rng = np.random.default_rng(SEED + 4)
    for row in rows[rng.random(len(rows)) < _RATED]:
        pressure, celsius = frame.at[row, "line_pressure_entered"], frame.at[row, "fluid_temperature_entered"]
        if isinstance(pressure, float):
            bears = {150.0: 1.0, 300.0: 2.5, 600.0: 6.4}.get(float(str(frame.at[row, "flange_class_entered"] or 0)), 10.0)
            frame.at[row, "line_pressure_entered"] = min(pressure, bears)
        if isinstance(celsius, float) and celsius > 90:
            frame.at[row, "gasket_kind"] = "spiral wound, graphite filler"
        if isinstance(celsius, float) and not -29 <= celsius <= 425:
            frame.at[row, "flange_material_entered"] = "2.1 stainless 304"


def _spoil_out_and_back(frame: pd.DataFrame, rows: np.ndarray[Any, Any]) -> None:
    """What is no believable number in the entries of flanges and lift, on some of these rows; all is in the units of the row by then."""
    rng = np.random.default_rng(SEED + 2)
    numeric = [name for name in entry_names() if not get(name).is_text and get(name).part in _OUT_PARTS]
    spoils: list[tuple[str, Any, bool]] = [(name, value, False) for name in numeric for value in _BAD]
    spoils += [(name, value, coherent and name in _DIMENSIONS) for name in numeric for value, coherent in _limits(name)]
    known = [row for row in rows if str(frame.at[row, "unit_set"]).lower() in {"us", "metric"}]
    for row, (name, value, coherent) in zip(rng.choice(known, len(spoils), replace=False), spoils, strict=True):
        unit_set = "US" if str(frame.at[row, "unit_set"]).lower() == "us" else "metric"
        frame.at[row, "comes_out_entered"] = "yes"
        frame.at[row, name] = _as_typed(value, _DIMENSIONS[name], unit_set) if coherent else value


#: A valve that answers everything about flanges and lift, to be put on an edge of them.
_SOUND_OUT: dict[str, Any] = {
    "comes_out_entered": "yes", "flange_facing_entered": "raised face", "flange_material_entered": "1.1 carbon steel",
    "flange_bolt_grade": "ASTM A193 B7", "flange_lubricant": "machine oil", "line_pressure_entered": 1.0, "fluid_kind_entered": "oil",
    "valve_mass_entered": 120.0, "sling_legs_entered": 2.0, "sling_angle_entered": 60.0, "leg_capacity_entered": 500.0,
}  # fmt: skip
_KINDS_OF_OUT = 23
#: What is typed and cannot be used, with what else is then missing or asked: a blank must not be mistaken for it, nor it for a blank.
_WRONG_OUT: tuple[tuple[str, dict[str, Any]], ...] = (
    ("valve_mass_entered", {}), ("valve_mass_entered", {"flange_size": None}), ("valve_mass_entered", {"valve_actuated_entered": "yes"}),
    ("flange_bolt_stress_entered", {}), ("flange_nut_factor_entered", {}), ("flange_joint_count_entered", {}), ("flange_class_entered", {}),
    ("sling_legs_entered", {}), ("sling_angle_entered", {}), ("leg_capacity_entered", {}), ("line_pressure_entered", {}),
    ("leg_length_entered", {"sling_angle_entered": None, "hook_height_entered": 800.0}),
    ("hook_height_entered", {"sling_angle_entered": None, "leg_length_entered": 1000.0}),
)  # fmt: skip
#: Entries of the lift with their limits, and what stands on a limit, near it, or beyond it in one unit and not in another.
_LIMITS_OF_OUT = (
    ("valve_mass_entered", "smallest_mass", "largest_mass"), ("leg_capacity_entered", "smallest_mass", "largest_mass"),
    ("leg_length_entered", "smallest_sling_length", "largest_sling_length"),
    ("hook_height_entered", "smallest_sling_length", "largest_sling_length"),
)  # fmt: skip


def _put_on_edges_of_out(  # noqa: C901, PLR0912, PLR0915 - one branch for each kind of edge, straight down
    frame: pd.DataFrame, rows: np.ndarray[Any, Any]
) -> None:
    """Rows in which a comparison of flange, gasket or lift stands exactly on its edge; the core says where that is."""
    rng = np.random.default_rng(SEED + 3)
    keys = [str(one) for one in tables.values()["spiral_keys"]]
    for place, row in enumerate(rows):
        for name in entry_names():
            if get(name).part in _OUT_PARTS:
                frame.at[row, name] = None
        for name, value in _SOUND_OUT.items():
            frame.at[row, name] = value
        size, rating = str(rng.choice(keys)).split(" class ")
        frame.at[row, "flange_size"], frame.at[row, "flange_class_entered"] = size, float(rating)
        kinds = (
            ("flexible graphite sheet", "elastomer sheet", "shop sheet")
            if place % _KINDS_OF_OUT == 1
            else ("spiral wound, graphite filler", "spiral wound with inner ring, graphite filler", "flexible graphite sheet")
        )
        frame.at[row, "gasket_kind"] = kinds[place // _KINDS_OF_OUT % len(kinds)]
        if place % _KINDS_OF_OUT in {9, 10}:
            frame.at[row, "leg_length_entered"], frame.at[row, "hook_height_entered"] = 1000.0, 800.0
    typed = frame.loc[rows].reset_index(drop=True)
    for name, column in _typed_in_unit_sets(typed, list(_DIMENSIONS)).items():
        typed[name] = column
    values = evaluate({**read_entries(typed), **own_rows()}, len(typed))
    for place, row in enumerate(rows):
        turn, kind = divmod(place, _KINDS_OF_OUT)
        edge, odd = _EDGES[turn % len(_EDGES)], turn // len(_EDGES) % 2

        def found(name: str, place: int = place) -> float:
            return float(values[name][place])

        def put(name: str, value: float, row: Any = row) -> None:
            frame.at[row, name] = value

        if kind == 0:  # the bolt yields just at worst
            put("flange_bolt_stress_entered", found("flange_target_yield") * (1 + edge / 10))
        elif kind == 1:  # the gasket bears just the stress
            put("flange_bolt_stress_entered", found("flange_target_gasket") * (1 + edge))
        elif kind == 2:  # the gasket is just seated
            put("flange_bolt_stress_entered", found("flange_target_least") * (1 + edge))
        elif kind == 3:  # just seated still under pressure
            left = found("flange_load") - found("gasket_least") * found("gasket_area") * (1 + edge / 10)
            put("line_pressure_entered", max(0.0, left / (np.pi / 4 * found("gasket_reaction_diameter") ** 2)))
        elif kind == 4:  # the bolts carry just what the second look asks for
            put("flange_bolt_stress_entered", found("flange_bolt_stress") / found("flange_load_ratio") * (1 + edge))
        elif kind == 5:  # the forms of the torque differ by just the limit
            either = 0.25 if odd else -0.25
            put("flange_nut_factor_entered", found("flange_nut_factor_long") / (1 + either + edge / 4))
        elif kind == 6:  # a leg carries just its capacity
            put("leg_capacity_entered", found("leg_tension") / (1 + edge))
        elif kind == 7:  # just as flat as is allowed, or is warned of
            put("sling_angle_entered", (30.0 if odd else 45.0) + edge)
        elif kind == 8:  # one leg, upright or nearly
            put("sling_legs_entered", 1.0)
            put("sling_angle_entered", 90.0 - abs(edge))
        elif kind == 9:  # the angle typed and that of length and height differ by just what is allowed
            put("sling_angle_entered", found("sling_angle_reckoned") + (3.0 + edge) * (1 if odd else -1))
        elif kind == 10:  # the hook is just as high as the leg is long
            put("leg_length_entered", 1000.0 if odd else 100.0)
            put("hook_height_entered", (1000.0 if odd else 100.0) + (edge if turn % 4 else 4e-7))
            frame.at[row, "sling_angle_entered"] = None if turn % 3 else 60.0
        elif kind == 11:  # no mass typed, with an actuator or without
            frame.at[row, "valve_mass_entered"] = None
            frame.at[row, "valve_actuated_entered"] = ("yes", "no", None, "YES")[turn % 4]
        elif kind == 12:  # one thing missing that a valve that comes out must have
            missing = ("flange_facing_entered", "flange_material_entered", "gasket_kind", "flange_bolt_grade", "flange_lubricant",
                       "line_pressure_entered", "sling_legs_entered", "sling_angle_entered", "leg_capacity_entered", "flange_size",
                       "flange_class_entered")  # fmt: skip
            frame.at[row, missing[turn % len(missing)]] = None
            frame.at[row, "comes_out_entered"] = "YES" if turn % 3 else "yes"
        elif kind == 13:  # something in oxygen
            frame.at[row, "fluid_kind_entered"] = "Oxygen" if turn % 2 else "oxygen"
            frame.at[row, "flange_lubricant"] = ("machine oil", "shop oxygen paste", "none (dry)", "anti-seize paste")[turn % 4]
            frame.at[row, "gasket_kind"] = "shop sheet" if turn % 4 == 1 else "spiral wound, graphite filler"
            put("fluid_temperature_entered", (90.0 if turn % 4 == 1 else 150.0) + (abs(edge) if turn % 3 else 0.0))
            put("line_pressure_entered", (2.5 if turn % 4 == 1 else 8.0) + (0.0 if turn % 3 else abs(edge) / 10))
        elif kind == 14:  # grades at the edge of their sizes, or without a figure
            grades = ("shop bar", "shop bolt", "shop pin", "shop rod", "unknown", "ISO A2-70", "shop bar", *("ISO 12.9",) * 6)
            frame.at[row, "flange_bolt_grade"] = grades[turn % len(grades)]
            if grades[turn % len(grades)] in {"shop bar", "ISO 12.9"}:
                frame.at[row, "flange_size"], frame.at[row, "flange_class_entered"] = "NPS 2", 150.0
        elif kind == 15:  # something typed that is no number
            name, others = _WRONG_OUT[turn % len(_WRONG_OUT)]
            for one, value in {**others, name: ("#DIV/0!", "n.a.")[turn // len(_WRONG_OUT) % 2]}.items():
                frame.at[row, one] = value
        elif kind == 16:  # a size and a class that no row has together
            frame.at[row, "flange_size"], frame.at[row, "flange_class_entered"] = ("NPS 22", "NPS 3 1/2")[turn % 2], 900.0
        elif kind == 17:  # so many bolts that no order on Tables is theirs
            frame.at[row, "flange_size"], rating = _ODD_FLANGE.split(" class ")
            put("flange_class_entered", float(rating))
        elif kind == 18:  # masses and lengths at their limits
            name, least, most = _LIMITS_OF_OUT[turn % len(_LIMITS_OF_OUT)]
            low, high = (float(get(one, Constant).issued) for one in (least, most))
            values_near = (low / 2, low, low - 0.3, high, high + 0.3, high + 0.004, high * 1.5, high - 0.3, low * 1.5, low + 0.004)
            put(name, values_near[turn // len(_LIMITS_OF_OUT) % len(values_near)])
        elif kind == 19:  # just as much pressure times temperature as the gasket bears
            frame.at[row, "gasket_kind"] = "shop sheet" if odd else "PTFE sheet, filled"
            put("fluid_temperature_entered", 190.0 if odd else 240.0)
            put(
                "line_pressure_entered",
                (300.0 if odd else 1200.0) / (190.0 if odd else 240.0) * (1 + (edge if turn % 3 else abs(edge)) / 10),
            )
        elif kind == 20:  # just so hot that carbon steel is not for long
            put("fluid_temperature_entered", 425.0 + edge)
            put("line_pressure_entered", 0.5)
        elif kind == 21:  # just so much as the flanges bear, somewhere along their table
            put("fluid_temperature_entered", (44.0, 120.0, 500.0, 500.0 + abs(edge), 520.0, 310.0)[turn % 6])
            frame.at[row, "flange_rating_entered"] = None if turn % 5 else 2.0
        elif kind == 22:  # as cold or as hot as the bolts' grade bears, or as asks for a look
            put("fluid_temperature_entered", found(f"flange_bolt_temperature_{('least', 'look', 'most')[turn % 3]}") + edge)


_KEPT_ON_BOUNDARIES = frozenset({
    "tag", "unit_set", "stem_diameter_entered", "gland_stud_thread", "stem_motion_entered", *(name for name in entry_names() if
    get(name).part in {"material", "load", "stem", "stack", *_OUT_PARTS}),
}) - {"packing_material"}  # fmt: skip


def _put_on_boundaries(  # noqa: C901, PLR0912, PLR0915 - one branch for each kind of edge, straight down
    frame: pd.DataFrame, rows: np.ndarray[Any, Any], rng: np.random.Generator
) -> None:
    """Rows in which a count or a comparison of the box stands exactly on its edge."""
    for place, row in enumerate(rows):
        clean = {name: None for name in entry_names() if name not in _KEPT_ON_BOUNDARIES}
        for name, value in clean.items():
            frame.at[row, name] = value
        if "quarter" in str(frame.at[row, "stem_motion_entered"]).lower():  # which wants a ring fewer than the edges are made for
            frame.at[row, "stem_motion_entered"] = "rotating"
        stem = float(str(frame.at[row, "stem_diameter_entered"]))
        section = float(rng.choice([5.0, 6.5, 8.0, 10.0, 12.0, 6.35, 7.9375, 9.525, 12.7]))
        kind = place % 16
        us = str(frame.at[row, "unit_set"]).lower() == "us"
        if us and section in {5.0, 6.5, 8.0, 10.0, 12.0}:
            section = 9.525
        if not us and section in {6.35, 7.9375, 9.525}:
            section = 8.0
        entry = max(min(3.175, 0.5 * section), 0.25 * section)
        count = int(rng.integers(2, 9))
        depth, nose = entry + count * section, 60.0
        if kind == 1:  # the section tolerance exactly, below and above
            frame.at[row, "box_bore_entered"] = stem + 2 * (section + float(rng.choice([0.3, -0.3])))
        elif kind == 2:  # the greatest roll exactly: 12.7 is followed by 14, so 13.2 is rolled from 14 by 0.8
            section, depth = 13.2, 60.0
            frame.at[row, "section_list_entered"] = "metric"
        elif kind == 3:  # the least spacer exactly
            depth = entry + 5 * section + 6.0
        elif kind == 4:  # the follower just bottoms, or leaves just the least take-up
            depth = entry + 5 * section
            frame.at[row, "maker_ring_count_entered"] = 5.0
            nose = entry + 0.3 * 5 * section + float(rng.choice([0.0, max(3.0, 0.25 * section)]))
        elif kind == 5:  # the gaps differ at the studs by just the limit
            frame.at[row, "gap_reading_1_entered"], frame.at[row, "gap_reading_2_entered"] = 8.0, 7.5
            frame.at[row, "stud_spacing_entered"] = 100.0
        elif kind == 6:  # seating equals set
            frame.at[row, "seating_compression_entered"] = frame.at[row, "set_compression_entered"] = 0.25
        elif kind == 7:  # the lantern is as long as the box
            frame.at[row, "lantern_length_entered"] = depth
            if not us and place % 32 == 7:  # or just the least spacer would bring it to its port, with no room for that, or too wide a port
                section, foot = 8.0, 2.1 * 8 + 6.0
                wide = place % 64 == 7
                depth = entry + 6 * section + (40 if wide else 4) + 1.5 * section
                typed: dict[str, Any] = {
                    "lantern_length_entered": 1.5 * section, "port_depth_entered": depth - 0.75 * section - foot,
                    "port_diameter_entered": (0.9 if wide else 0.5) * section,
                    "packing_form_entered": "die-formed", "made_ring_height_entered": section,
                }  # fmt: skip
                for name, value in typed.items():
                    frame.at[row, name] = value
        elif kind == 8:  # stem equals bore, or the bore is just four times as wide
            section = float(rng.choice([0.0, 0.1, 0.25, 0.4, -0.1, -0.4, 1.5 * stem, 1.51 * stem, 1.55 * stem, 1.6 * stem, 2 * stem]))
        elif kind == 9:  # the maker's count is just what fits, or one more
            frame.at[row, "maker_ring_count_entered"] = float(count + int(rng.integers(0, 2)))
        elif kind == 10:  # midway between two stocked sizes
            section = float(rng.choice([6.25, 10.5, 11.5]))
            frame.at[row, "section_list_entered"] = "metric"
        elif kind == 11:  # the take-up count exactly: nose = entry + take-up + rings x height x compression
            depth, nose = 150.0, entry + max(3.0, 0.25 * section) + int(rng.integers(1, 5)) * section * 0.3
        elif kind == 12:  # the least count exactly
            nose = depth + max(3.0, 0.25 * section) - int(rng.integers(1, 4)) * section * 0.7
        elif kind == 13:  # a hair below a stocked size
            section = 8.0 - float(rng.choice([0.0004, 0.004, 0.04])) if not us else 7.9375 - float(rng.choice([0.0004, 0.004, 0.04]))
        elif kind == 14:  # no room for a ring at all, or the measuring tolerance exactly
            depth = float(rng.choice([entry, entry - 0.2, entry + 0.1, entry + 5 * section + 0.25, entry + 5 * section - 0.25]))
            if place % 64 == 14:  # or one ring but for noise: it is counted, and nobody is told that none fits
                depth = entry + section - 1e-8
        elif kind == 15:  # low rings, where a tenth of a ring lies within the measuring tolerance
            section = 3.175 if us else 3.0
            depth = 0.5 * section + float(rng.choice([5, 6])) * section + float(rng.choice([0.24, 0.2, 0.0]))
        if frame.at[row, "box_bore_entered"] is None:
            frame.at[row, "box_bore_entered"] = stem + 2 * section
        frame.at[row, "box_depth_entered"], frame.at[row, "nose_length_entered"] = depth, nose


#: The share of valves whose flanges bear the pressure and temperature drawn for them.
_RATED = 0.9
#: What stands exactly on the edge, a hair off within noise, or just beyond it on either side.
_EDGES = (0.0, 0.0, 1e-9, -1e-9, 2e-5, -2e-5, 4e-3, -4e-3, 0.3, -0.3, 0.9, -0.9)


#: Materials with a service that each bears: kind of fluid, highest temperature in degrees Celsius and pressure in MPa.
_SERVICES = (
    ("graphite braid", "steam", 300.0, 6.0), ("PTFE braid", "water", 120.0, 2.0), ("aramid braid", "water", 90.0, 2.0),
    ("die-formed graphite", "steam", 300.0, 6.0), ("loose graphite", "oil", 150.0, 2.0), ("graphite braid", "chemical", 90.0, 4.0),
    ("graphite braid", "gas", 400.0, 6.0), ("die-formed graphite", "inert gas", 500.0, 6.0), ("PTFE braid", "oxidising", 120.0, 2.0),
    ("graphite braid", "oxygen", 80.0, 2.0),
)  # fmt: skip


#: Of those the share whose nose, slings and joints serve as well.
_PLAIN = 0.7
#: And so many of which there is nothing to be said.
_QUIET = 150


def _suited(frame: pd.DataFrame, rows: np.ndarray[Any, Any], rng: np.random.Generator) -> None:
    """Valves whose packing suits their service and whose studs hold: a stop elsewhere would keep their answers back."""
    for place, row in enumerate(rows):
        quiet = place >= len(rows) - _QUIET
        if quiet:
            _sound(frame, row, place, rng)
        material, fluid, hottest, most = _SERVICES[int(rng.integers(0, len(_SERVICES)))]
        us = str(frame.at[row, "unit_set"]).lower() == "us"
        typed: dict[str, Any] = {
            "packing_material": material, "fluid_kind_entered": fluid, "fluid_temperature_entered": float(rng.uniform(10, hottest)),
            "line_pressure_entered": float(rng.uniform(0.1, most)), "fluid_ph_entered": 7.0, "packing_form_entered": None,
            "stem_motion_entered": str(rng.choice(["rising", "rising-rotating", "quarter-turn"])), "gland_kind_entered": None,
            "gland_stud_count_entered": float(rng.choice([2.0, 4.0, 8.0])),
            "gland_stud_grade": str(rng.choice(["ASTM A193 B7", "ISO 8.8"])),
            "gland_stud_thread": str(rng.choice(["3/4-10 UNC", "1-8 UNC"] if us else ["M20", "M24", "M30"])),
            "stud_lubricant": str(rng.choice(["machine oil" if fluid != "oxygen" else "shop oxygen paste", "anti-seize paste",
            "none (dry)"])), "packing_state_entered": None, "made_ring_height_entered": 8.0,
        }  # fmt: skip
        if rng.random() < _PLAIN:
            depth, bore = (float(str(frame.at[row, name])) for name in ("box_depth_entered", "box_bore_entered"))
            section = (bore - float(str(frame.at[row, "stem_diameter_entered"]))) / 2
            typed |= {"nose_length_entered": min(0.6 * depth, 5 * section), "gap_reading_2_entered": frame.at[row, "gap_reading_1_entered"],
                      "leg_capacity_entered": 5000.0, "flange_bolt_stress_entered": None, "gasket_kind": "spiral wound, graphite filler",
                      "flange_lubricant": "machine oil" if fluid != "oxygen" else "none (dry)",
                      "flange_bolt_grade": "ASTM A193 B7", "flange_nut_factor_entered": None,
                      "flange_facing_entered": "raised face", "flange_material_entered": "1.1 carbon steel"}  # fmt: skip
        bears = {"150.0": 1.0, "16.0": 1.0}.get(str(frame.at[row, "flange_class_entered"]), 3.9)
        typed["line_pressure_entered"] = min(typed["line_pressure_entered"], bears)
        if rng.random() < 0.03:  # a row of one's own asks for no stress, nor does the pressure
            typed |= {"packing_material": "shop braid for sliding", "fluid_kind_entered": "steam", "line_pressure_entered": 0.0,
                      "stem_motion_entered": "rising", "least_gland_stress_entered": None}  # fmt: skip
        if place % 20 == 7:  # a packing nut, of some the thread is fine
            typed |= {"gland_kind_entered": "packing nut", "gland_stud_count_entered": None}
            typed |= {"gland_stud_thread": "M30 x 1.5"} if place % 100 == 7 else {}
        for name in ("packing_material", "fluid_kind_entered"):
            if set("*~?") & set(str(frame.at[row, name])):  # with a mark that a search may take for another name
                del typed[name]
        for name, value in typed.items():
            frame.at[row, name] = value
        # A count that stops the valve is left to the others.
        if quiet or rng.random() < 0.6:
            frame.at[row, "maker_ring_count_entered"] = None


def _sound(frame: pd.DataFrame, row: Any, place: int, rng: np.random.Generator) -> None:
    """A valve that answers everything, to be put on an edge of load, stack or stem."""
    for name in entry_names():
        if name not in {"tag", "unit_set"}:
            frame.at[row, name] = None
    stem, section = float(rng.integers(15, 60)), float(rng.choice([6.35, 9.525, 12.7]))
    materials = ("aramid braid", "flax or ramie braid", "PTFE braid", "graphite braid", "shop braid")
    us = str(frame.at[row, "unit_set"]).lower() == "us"
    typed: dict[str, Any] = {
        "stem_diameter_entered": stem, "box_bore_entered": stem + 2 * section, "box_depth_entered": 9.6 * section,
        "nose_length_entered": 90.0, "gland_stud_thread": str(rng.choice(["5/8-11 UNC", "3/4-10 UNC"] if us else ["M12", "M16", "M20"])),
        "section_list_entered": "both", "maker_ring_count_entered": float(rng.integers(2, 8)), "fluid_kind_entered": "oil",
        "line_pressure_entered": 4.0,
        "fluid_temperature_entered": 60.0, "fluid_ph_entered": 7.0, "stem_motion_entered": str(rng.choice(["rising", "rising-rotating",
        "rotating"])),
        "packing_material": materials[place % len(materials)], "gland_stud_count_entered": 2.0, "gland_stud_grade": "ASTM A193 B7",
        "stud_lubricant": str(rng.choice(["machine oil", "anti-seize paste", "none (dry)"])), "stud_thread_left_entered": 30.0,
        "stem_thread_diameter_entered": 24.0, "stem_thread_pitch_entered": 5.0, "handwheel_radius_entered": 150.0,
        "least_gland_stress_entered": 14.0, "stem_friction_factor_entered": 0.12, "box_friction_factor_entered": 0.09,
    }  # fmt: skip
    for name, value in typed.items():
        frame.at[row, name] = value


_KINDS_OF_LOAD = 35
#: Entries of which an error value must not pass for a blank, since then another value would stand in, or a sentence be spoken.
_STOOD_IN_FOR = (
    "most_gland_stress_entered", "stem_thrust_entered", "least_gland_stress_entered", "pressure_factor_entered", "nut_factor_entered",
    "stem_friction_factor_entered", "box_friction_factor_entered", "lateral_ratio_entered", "least_take_up_entered",
    "gap_reading_distance_entered", "maker_ring_count_entered", "stem_thread_diameter_entered", "stem_thread_pitch_entered",
)  # fmt: skip


def _put_on_edges_of_load(  # noqa: C901, PLR0912, PLR0915 - one branch for each kind of edge, straight down
    frame: pd.DataFrame, rows: np.ndarray[Any, Any], rng: np.random.Generator
) -> None:
    """Rows in which a comparison of material, load, stack or stem stands exactly on its edge; the core says where that is."""
    for place, row in enumerate(rows):
        turn, kind = divmod(place, _KINDS_OF_LOAD)
        _sound(frame, row, turn, rng)
        if kind in {0, 1, 2, 22}:  # what the pressure asks for must not stand in the way of a chosen gland stress
            frame.at[row, "pressure_factor_entered"] = 0.0
        if kind == 1:
            frame.at[row, "gland_stud_grade"] = "shop bar"
            frame.at[row, "gland_stud_thread"] = "5/8-11 UNC" if turn % 2 else "M16"
    typed = frame.loc[rows].reset_index(drop=True)
    for name, column in _typed_in_unit_sets(typed, list(_DIMENSIONS)).items():
        typed[name] = column
    values = evaluate({**read_entries(typed), **own_rows()}, len(typed))
    for place, row in enumerate(rows):
        turn, kind = divmod(place, _KINDS_OF_LOAD)
        edge = _EDGES[turn % len(_EDGES)]

        def found(name: str, place: int = place) -> float:
            return float(values[name][place])

        def put(name: str, value: float, row: Any = row) -> None:
            frame.at[row, name] = value

        if kind == 0:  # the studs carry just a third of their tensile strength
            put("least_gland_stress_entered", found("gland_stress") / found("stud_stress_share") * (1 + edge))
        elif kind == 1:  # or just their yield
            put("least_gland_stress_entered", found("gland_stress") / found("stud_yield_share") * (1 + edge))
        elif kind == 2:  # the bottom ring feels just the line pressure
            put("line_pressure_entered", found("bottom_stress") / (1 + edge))
        elif kind == 3:  # the packing bears just the gland stress
            put("most_gland_stress_entered", found("gland_stress") / (1 + edge))
        elif kind == 4:  # as hot as the material bears, or as the hottest of all
            hottest = float(np.nanmax(own_rows()["materials_temperature_high"]))
            put("fluid_temperature_entered", (hottest if turn % 5 == 0 else found("material_temperature_high")) + edge)
        elif kind == 5:  # as cold as the material bears
            put("fluid_temperature_entered", found("material_temperature_low") + edge)
        elif kind == 6:  # the material's limit of pH
            put("fluid_ph_entered", found("material_ph_low" if turn % 2 else "material_ph_high") + round(edge, 3))
        elif kind == 7:  # the material's limit of pressure, or none at all
            put("line_pressure_entered", (found("material_pressure_high") if turn % 3 else 0.0) + edge / 10)
        elif kind == 8:  # full vacuum
            put("line_pressure_entered", -0.1014 + edge / 10)
        elif kind == 9:  # the pull at the rim is just what is allowed
            put("most_rim_pull_entered", found("rim_pull") / (1 + edge))
        elif kind == 10:  # the thread of the studs is just used up
            put("stud_thread_left_entered", found("compression_travel") + edge)
        elif kind == 11:  # the forms of the torque differ by just the limit
            either = 0.25 if turn % 2 else -0.25
            put("nut_factor_entered", found("nut_factor_long") / (1 + either + edge / 4))
        elif kind == 12:  # the bottom ring feels just the share typed, so the rings are just as many as add
            put("least_bottom_share_entered", min(1.0, found("bottom_stress_ratio") * (1 + edge / 4)))
        elif kind == 13:  # one ring less or more than adds
            share = found("bottom_stress_ratio") ** ((found("ring_count") + float(rng.integers(-1, 2))) / found("ring_count"))
            put("least_bottom_share_entered", min(1.0, share))
        elif kind == 14:  # the pitch of the stem thread equals its diameter
            put("stem_thread_pitch_entered", 24.0 + edge)
        elif kind == 15:  # loose packing in a box just as deep as the least entry
            frame.at[row, "packing_material"] = None
            frame.at[row, "packing_form_entered"] = "loose"
            put("least_entry_floor_entered", found("box_depth") - edge)
        elif kind == 16:  # loose packing that is pressed to the least entry by a whole number of fills
            frame.at[row, "packing_material"] = "loose graphite" if turn % 2 else "shop loose"
            pressed = float(rng.choice([0.35, 0.4, 0.5]))
            put("seating_compression_entered", pressed)
            put("set_compression_entered", pressed + 0.05)
            put("least_entry_floor_entered", found("box_depth") * pressed ** float(rng.integers(1, 5)) * (1 + edge / 10))
        elif kind == 17:  # next to no friction: the stress hardly falls
            slight = float(rng.choice([1e-9, 1e-8, 1e-7, 4e-7, 1e-6, 1e-5]))
            put("stem_friction_factor_entered", slight)
            put("box_friction_factor_entered", slight)
            put("least_bottom_share_entered", 1.0)
        elif kind == 18:  # friction locks the thread of the stem, or just not
            put("stem_thread_friction_entered", 1.0)
            put("stem_thread_angle_entered", 0.0)
            put("stem_thread_starts_entered", 2.0)
            put("stem_thread_pitch_entered", np.pi * 24.0 / (2 + np.pi / 2) * (1 + edge / 10))
        elif kind == 19:  # no thrust, no friction, no pressure, or a stem that runs back by itself
            put(
                str(
                    rng.choice(["stem_thrust_entered", "collar_friction_entered", "stem_thread_friction_entered", "line_pressure_entered"])
                ),
                0.0,
            )
        elif kind == 20:  # two stud threads at the edge of a grade's sizes
            frame.at[row, "gland_stud_grade"] = str(rng.choice(["shop bar", "ISO 12.9"]))
            frame.at[row, "gland_stud_thread"] = str(rng.choice(["5/8-11 UNC", "5/8-11 UNC", "M30", "M33", "M10"]))
        elif kind == 21:  # a whole unit more or less than the material bears
            put("fluid_temperature_entered", found("material_temperature_high") + float(rng.choice([-1.5, -0.5, 0.5, 1.5])))
            put("line_pressure_entered", found("material_pressure_high") + float(rng.choice([-1.5, -0.5, 0.5, 1.5])))
        elif kind == 22:  # next to no stress asked for, or next to none borne
            put("least_gland_stress_entered", float(rng.choice([0.1, 0.1, 0.5, 14.0])))
            put("most_gland_stress_entered", float(rng.choice([0.1, 0.5, 20.0])))
        elif kind == 24:  # the smallest handwheel, motion or thread not stated
            put("handwheel_radius_entered", 1.0 + max(0.0, edge))
            frame.at[row, "stem_motion_entered"] = "not stated" if turn % 2 else "rising"
            frame.at[row, "stem_thread_pitch_entered"] = None
        elif kind == 25:  # a coarse thread of three starts, which friction locks
            put("stem_thread_starts_entered", 3.0)
            put("stem_thread_pitch_entered", 15.0)
            put("stem_thread_friction_entered", float(rng.choice([0.9, 1.0])))
            put("stem_thread_angle_entered", 30.0)
        elif kind == 26:  # something typed that is no number, where a usual value would stand in
            frame.at[row, "stem_motion_entered"] = "rising"
            name = str(_STOOD_IN_FOR[turn % len(_STOOD_IN_FOR)])
            frame.at[row, name] = "#DIV/0!" if turn < len(_STOOD_IN_FOR) else "n.a."
        elif kind == 27:  # a chemical without a pH that can be used
            frame.at[row, "fluid_kind_entered"] = "chemical"
            frame.at[row, "fluid_ph_entered"] = (None, "n.a.", "#DIV/0!", 19.0)[turn % 4]
        elif kind == 29:  # a packing nut, however it is written, needs no stud count
            frame.at[row, "gland_kind_entered"] = ("Packing nut", "PACKING NUT", "packing nut", "Live-loaded")[turn % 4]
            frame.at[row, "gland_stud_count_entered"] = None
        elif kind == 34:  # as cold or as hot as the studs' grade bears, or as asks for a look
            put("fluid_temperature_entered", found(f"stud_temperature_{('least', 'look', 'most')[turn % 3]}") + edge)
        elif kind == 28:  # loose packing, poured and not pressed
            frame.at[row, "packing_material"] = "shop braid for turning"
            frame.at[row, "packing_form_entered"] = "LOOSE"
        elif kind in {30, 33}:  # as hot as the material bears in air, or as the hottest of all does
            frame.at[row, "packing_material"] = ("graphite braid", "PTFE braid", "die-formed graphite", "graphite braid")[turn % 4]
            frame.at[row, "fluid_kind_entered"] = ("air", "gas", "Oxygen", "inert gas", "AIR")[turn % 5 if kind == 30 else 1]
            put("fluid_temperature_entered", (150.0 if turn % 4 == 1 else 450.0) + (edge if kind == 30 else abs(edge) + 20 * (turn % 2)))
        elif kind in {31, 32}:  # the report of packing or lubricant just reaches the service, or is not there
            frame.at[row, "fluid_kind_entered"] = "oxygen" if turn % 7 else "OXYGEN"
            frame.at[row, "packing_material"] = ("shop braid", "die-formed graphite")[turn % 2] if kind == 31 else "graphite braid"
            if kind == 31 and turn % 5 == 4:
                frame.at[row, "packing_material"] = ("loose graphite", "graphite braid with wire")[turn % 2]
            frame.at[row, "stud_lubricant"] = ("shop oxygen paste", "anti-seize paste")[turn % 2] if kind == 32 else "none (dry)"
            bears = {31: ((120.0, 12.0), (90.0, 4.0)), 32: ((90.0, 2.5), (150.0, 8.0))}[kind][turn % 2]
            put("fluid_temperature_entered", bears[0] + (abs(edge) if turn // 2 % 2 else 0.0))
            put("line_pressure_entered", bears[1] + (0.0 if turn // 2 % 2 else (abs(edge) if turn % 3 else edge) / 10))
        elif kind == 23:  # friction on stem and box alike, or nearly
            put("box_friction_factor_entered", 0.12 + float(rng.choice([0.0, 0.0, 1e-9, 0.01])))


def _typed_in_unit_sets(frame: pd.DataFrame, names: list[str]) -> dict[str, list[Any]]:
    """Coherent numbers as they are typed in the unit set of each row; what is no number stays as it is."""
    sets = ["US" if str(one).lower() == "us" else "metric" for one in frame["unit_set"]]
    return {name: [_as_typed(value, _DIMENSIONS[name], one) for value, one in zip(frame[name], sets, strict=True)] for name in names}


def _as_typed(value: Any, dimension: str, unit_set: str) -> Any:
    if isinstance(value, str) or value is None:
        return value
    unit, to = units.UNIT_SETS[unit_set][dimension], units.COHERENT[dimension]
    return float(value) / units.factor(unit, to) + units.zero(unit, to)


def _limits(name: str) -> list[tuple[float, bool]]:
    """The ends of the believable range of an entry and what lies close to either side, and whether they are in the coherent unit."""
    plain = name.removesuffix("_entered")
    used = get(f"{plain}_typed" if f"{plain}_typed" in _names() else plain)
    edges = [(float(one.issued), True) for one in map(get, used.reads) if isinstance(one, Constant) and one.name != "counting_digits"]
    edges += [(0.0, False), (1.0, False)]
    return [(edge + step, coherent) for edge, coherent in edges for step in (0.0, -0.5, 0.5, 0.004, -0.004, -1.5, 1.5)]


@cache
def _names() -> frozenset[str]:
    from sheetcalc.declare.quantity import all_quantities  # noqa: PLC0415 - used once

    return frozenset(q.name for q in all_quantities())


@cache
def generated(count: int = COUNT) -> pd.DataFrame:
    """The valves as entries, one row each, in the units of their own unit set."""
    rng = np.random.default_rng(SEED)
    frame = _believable(rng, count)
    order = rng.permutation(count)
    box, load = count // 10, count // 10
    spoilt = order[box + load : box + load + (7 * count) // 20]
    _put_on_boundaries(frame, order[:box], rng)
    _put_on_edges_of_load(frame, order[box : box + load], rng)
    _out_and_back(frame)
    _rated(frame, order[box + load :])
    _suited(frame, order[box + load : (8 * count) // 10], np.random.default_rng([SEED, count]))
    alone_in_row = 3 * len(entry_names())
    out = order[-alone_in_row - 3 * count // 20 : -alone_in_row]
    _put_on_edges_of_out(frame, out)
    for name, values in _typed_in_unit_sets(frame, list(_DIMENSIONS)).items():
        frame[name] = np.array(values, dtype=object)
    numeric = [name for name in entry_names() if not get(name).is_text and get(name).part not in _OUT_PARTS]
    spoils: list[tuple[str, Any, bool]] = [(name, value, False) for name in numeric for value in _BAD]
    spoils += [(name, value, coherent and name in _DIMENSIONS) for name in numeric for value, coherent in _limits(name)]
    spoils += [("unit_set", value, False) for value in (None, "mm?", "m*", "~US", "m?tric", "#DIV/0!")] * 12
    # A limit in the coherent unit shows most where the typed unit is another one.
    in_us = [row for row in spoilt if str(frame.at[row, "unit_set"]).lower() == "us"]
    first = [spoil for spoil in spoils if spoil[2]]
    rest = [spoil for spoil in spoils if not spoil[2]]
    taken = dict(zip(in_us, first, strict=False))
    free = [row for row in spoilt if row not in taken]
    for row, (name, value, coherent) in [*taken.items(), *((row, rest[at % len(rest)]) for at, row in enumerate(free))]:
        frame.at[row, name] = _as_typed(value, _DIMENSIONS[name], "US") if coherent else value
    _spoil_out_and_back(frame, order[box + load : -len(out) - alone_in_row])
    # Rows in which one thing alone is typed, and rows in which nothing is.
    for place, row in enumerate(order[-alone_in_row:]):
        alone = entry_names()[place // 2] if place < 2 * len(entry_names()) else ""
        for name in entry_names():
            if name not in {"unit_set", alone}:
                frame.at[row, name] = None
        if alone and alone != "unit_set" and place % 2:
            frame.at[row, alone] = "x"  # for a number this is something typed that cannot be used
        elif alone and alone != "unit_set" and frame[alone].isna()[row]:
            frame.at[row, alone] = "x" if get(alone).is_text else 1.0
    return frame


def as_read(count: int = COUNT) -> pd.DataFrame:
    """The valves with each error value as formulas see it: a text that nothing accepts."""
    return generated(count).replace("#DIV/0!", "#")
