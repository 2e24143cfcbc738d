"""Reference tables: CSV as printed, a card each in cards.toml, and the columns that formulas read.

A table is shown on the sheet Tables just as it stands here. What formulas look up is a named column or block of it,
declared as a quantity of kind table, so that the reads of a formula are the reads of the core.
"""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any, Final

import numpy as np

from sheetcalc import units
from sheetcalc.declare.blocks import column
from sheetcalc.declare.quantity import Quantity
from sheetcalc.declare.source import Source
from sheetcalc.reference.sources import cite

_FOLDER: Final = files("sheetcalc.reference").joinpath("tables")


@dataclass(frozen=True)
class Card:
    """What a table is: title, edition and source, what it was checked with, what a user may edit."""

    name: str
    title: str
    note: str
    source: Source
    checked_with: str
    editable: bool


@cache
def cards() -> dict[str, Card]:
    """The card of each table, in the order in which they stand on the sheet."""
    text = _FOLDER.joinpath("cards.toml").read_text(encoding="utf-8")
    return {
        name: Card(name, card["title"], card["note"], cite(card["source"]), card["checked_with"], card.get("editable", False))
        for name, card in tomllib.loads(text).items()
    }


@cache
def printed(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a table as printed: texts by column name."""
    text = _FOLDER.joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _numbers(name: str, field: str, factor: float = 1.0) -> list[float]:
    return [float(row[field]) * factor for row in printed(name)]


def _texts(name: str, field: str) -> list[str]:
    return [row[field] for row in printed(name)]


def _sorted(sizes: list[float]) -> np.ndarray:
    """Sizes in rising order, each once and freed of noise as on the sheet, padded to the length of the block there."""
    once = sorted({round(size, 6) for size in sizes})
    return np.array(once + [np.nan] * (2 * STOCK_ROWS - len(once)))


#: Rows of the stock lists on Tables: room for the user's own sizes.
STOCK_ROWS: Final = 25
#: The greatest number of rings that a ring count is looked for among.
MOST_COUNT: Final = 40
#: Empty rows for the user's own materials, grades, lubricants and gaskets; they stand above the issued ones and go before them.
OWN_MATERIALS: Final = 8
OWN_GRADES: Final = 6
OWN_LUBRICANTS: Final = 4
OWN_GASKETS: Final = 4
#: Empty rows for the user's own tasks, below the issued ones.
OWN_TASKS: Final = 4

#: The figures of a material by the column of its CSV: the dimension in whose unit of the unit set they are typed.
MATERIAL_FIGURES: Final = {
    "temperature_low": "temperature",
    "temperature_high": "temperature",
    "temperature_high_air": "temperature",
    "pressure_high": "pressure",
    "ph_low": "",
    "ph_high": "",
    "least_stress": "stress",
    "pressure_factor": "",
    "most_stress": "stress",
    "set_compression": "",
    "seating_compression": "",
    "friction_dry": "",
    "friction_lubricated": "",
    "lateral_ratio": "",
    "density": "density",
}
#: Yes-or-no columns of a material, in the order of their blocks.
MATERIAL_FLUIDS: Final = ("water", "steam", "oil", "gas", "chemical", "oxygen", "oxidising")
MATERIAL_MOTIONS: Final = ("sliding", "turning")
#: How far the test report of a material for oxygen reaches; its number or name is the text `oxygen_report` beside it.
MATERIAL_REPORTS: Final = {"oxygen_report_temperature": "temperature", "oxygen_report_pressure": "pressure"}
#: Figures of a grade and of a lubricant.
GRADE_FIGURES: Final = {
    "over_mm": "grade_over",
    "to_mm": "grade_to",
    "tensile_mpa": "grade_tensiles",
    "yield_mpa": "grade_yields",
    "temperature_least": "grade_temperatures_least",
    "temperature_look": "grade_temperatures_look",
    "temperature_most": "grade_temperatures_most",
}
LUBRICANT_FIGURES: Final = {
    "nut_factor": "lubricant_factors",
    "scatter": "lubricant_scatters",
    "thread_friction": "lubricant_thread_frictions",
    "nut_friction": "lubricant_nut_frictions",
}
#: How far the test report of a lubricant for oxygen reaches: the column that formulas read, and what makes the printed unit coherent.
LUBRICANT_REPORTS: Final = {
    "oxygen_report_temperature_c": ("lubricant_oxygen_temperatures", 1.0),
    "oxygen_report_pressure_bar": ("lubricant_oxygen_pressures", units.factor("bar", "MPa")),
}

#: Figures of a material of flanges: where its group stands among the ratings, and temperatures.
FLANGE_MATERIAL_FIGURES: Final = {
    "rating_row": "material_rating_rows",
    "least_c": "material_temperatures_least",
    "look_c": "material_temperatures_look",
    "most_c": "material_temperatures_most",
    "convex_from_c": "material_ratings_convex",
}
#: Figures of a kind of gasket: those of its stress, and those of its service with what makes the printed unit coherent.
GASKET_FIGURES: Final = {
    "least_mpa": "gasket_leasts",
    "gas_least_mpa": "gasket_gas_leasts",
    "most_mpa": "gasket_mosts",
    "factor": "gasket_factors",
    "yield_mpa": "gasket_yields",
}
GASKET_SERVICE: Final = {
    "temperature_high": ("gasket_temperatures", 1.0),
    "pressure_high_bar": ("gasket_pressures", units.factor("bar", "MPa")),
    "bar_celsius": ("gasket_pressure_temperatures", units.factor("bar", "MPa")),
    "oxygen_report_temperature_c": ("gasket_oxygen_temperatures", 1.0),
    "oxygen_report_pressure_bar": ("gasket_oxygen_pressures", units.factor("bar", "MPa")),
}


def own_and(issued: list[Any], own: int) -> list[Any]:
    """A column with its empty own rows above: NaN above numbers, "" above texts."""
    return [*[np.nan if isinstance(issued[0], float) else ""] * own, *issued]


def figure(text: str) -> float:
    """A printed figure as a number; NaN where none is printed."""
    return float(text) if text else np.nan


def yes(text: str) -> float:
    """1 for yes, 0 for no, NaN where neither is said."""
    return {"yes": 1.0, "no": 0.0}.get(text, np.nan)


def coherent(value: float, dimension: str, unit_set: str) -> float:
    """A figure typed in a unit set as formulas read it."""
    if not dimension:
        return value
    if dimension == "density":
        return value * units.factor("g/cm**3", "kg/mm**3")
    unit, to = units.UNIT_SETS[unit_set][dimension], units.COHERENT[dimension]
    return (value - units.zero(unit, to)) * units.factor(unit, to)


def inches(text: str) -> float:
    """A printed size in inches, such as 1 1/16, in mm; NaN where none is printed."""
    return float(sum(Fraction(part) for part in text.split())) * units.factor("in", "mm") if text else np.nan


@cache
def values() -> dict[str, Any]:
    """What each table quantity holds: a list of texts, an array of numbers, or a block (rows x columns) of either."""
    return {**_units(), **_sections(), **_threads(), **_materials(), **_studs(), **_choices(), **_tasks(), **_flanges(), **_gaskets()}


def _units() -> dict[str, Any]:
    sets = units.UNIT_SETS
    factors = {
        f"unit_{name}_factors": np.array([units.factor(one[name], to) for one in sets.values()]) for name, to in units.COHERENT.items()
    }
    return {
        "unit_set_names": list(sets),
        **factors,
        "unit_temperature_zeros": np.array([units.zero(one["temperature"], "degC") for one in sets.values()]),
        "unit_section_columns": np.array([{"metric": 2.0, "US": 1.0}[name] for name in sets]),
        "unit_spacer_steps": np.array(_numbers("unit_sets", "spacer_step_mm")),
        "unit_rule_steps": np.array(_numbers("unit_sets", "rule_step")),
        "unit_stress_steps": np.array(_numbers("unit_sets", "stress_step")),
    }


def _sections() -> dict[str, Any]:
    inch = _numbers("stocked_inch", "size_in", units.factor("in", "mm"))
    metric = _numbers("stocked_metric", "size_mm")
    return {
        "sorted_inch_sizes": _sorted(inch),
        "sorted_metric_sizes": _sorted(metric),
        "sorted_all_sizes": _sorted(inch + metric),
        "section_list_names": _texts("section_lists", "name"),
        "section_list_columns": np.array([figure(row["choice_column"]) for row in printed("section_lists")]),
    }


def _threads() -> dict[str, Any]:
    inch, metric = printed("threads_inch"), printed("threads_metric")
    widths = [(inches(r["heavy_hex_in"]), inches(r["hex_in"]), np.nan) for r in inch]
    widths += [(np.nan, figure(r["iso_hex_mm"]), figure(r["old_din_hex_mm"])) for r in metric]
    words = [(*(f"{r[key]} in" if r[key] else "" for key in ("heavy_hex_in", "hex_in")), "") for r in inch]
    words += [("", f"{r['iso_hex_mm']} mm", f"{r['old_din_hex_mm']} mm") for r in metric]
    return {
        "thread_names": [r["designation"] for r in (*inch, *metric)],
        "thread_per_inch": np.array([*_numbers("threads_inch", "threads_per_inch"), *[0.0] * len(metric)]),
        "thread_pitches": np.array([*[0.0] * len(inch), *_numbers("threads_metric", "pitch_mm")]),
        "thread_diameters": np.array([inches(r["diameter_in"]) for r in inch] + _numbers("threads_metric", "diameter_mm")),
        "thread_tap_names": [r["designation"] for r in inch] + [f"{r['designation']} x {r['pitch_mm']}" for r in metric],
        "thread_widths": np.array(widths),
        "thread_width_words": np.array(words, dtype=object),
    }


def _materials() -> dict[str, Any]:
    rows, own = printed("packing_materials"), OWN_MATERIALS
    figures = {
        f"materials_{name}": np.array(own_and([coherent(figure(row[name]), dimension, "metric") for row in rows], own))
        for name, dimension in {**MATERIAL_FIGURES, **MATERIAL_REPORTS}.items()
    }
    high, air = figures["materials_temperature_high"], figures["materials_temperature_high_air"]
    figures["materials_temperature_high_air"] = np.where(np.isnan(air), high, air)
    blocks = {
        name: np.array([[np.nan] * len(columns)] * own + [[yes(row[one]) for one in columns] for row in rows])
        for name, columns in (("materials_fluids", MATERIAL_FLUIDS), ("materials_motions", MATERIAL_MOTIONS))
    }
    return {
        "material_names": own_and([row["name"] for row in rows], own),
        "material_origins": ["own"] * own + ["issued"] * len(rows),
        "material_forms": own_and([row["form"] for row in rows], own),
        **figures,
        **blocks,
        "materials_oxygen_report": own_and([row["oxygen_report"] for row in rows], own),
    }


def _studs() -> dict[str, Any]:
    grades, lubricants = printed("gland_stud_grades"), printed("stud_lubricants")
    return {
        "grade_names": own_and([row["grade"] for row in grades], OWN_GRADES),
        "grade_numbers": np.arange(1.0, OWN_GRADES + len(grades) + 1),
        **{name: np.array(own_and([figure(row[key]) for row in grades], OWN_GRADES)) for key, name in GRADE_FIGURES.items()},
        "lubricant_names": own_and([row["name"] for row in lubricants], OWN_LUBRICANTS),
        **{name: np.array(own_and([figure(row[key]) for row in lubricants], OWN_LUBRICANTS)) for key, name in LUBRICANT_FIGURES.items()},
        "lubricants_dry": np.array(own_and([yes(row["dry"]) for row in lubricants], OWN_LUBRICANTS)),
        "lubricant_oxygen_reports": own_and([row["oxygen_report"] for row in lubricants], OWN_LUBRICANTS),
        **{
            name: np.array(own_and([figure(row[key]) * factor for row in lubricants], OWN_LUBRICANTS))
            for key, (name, factor) in LUBRICANT_REPORTS.items()
        },
    }


def _flanges() -> dict[str, Any]:
    flanges, orders = printed("flanges"), printed("bolt_orders")
    classes = list(dict.fromkeys(row["class"] for row in flanges))
    crossed = [[float(number) for number in row["cross"].split("-")] for row in orders]
    most = max(len(order) for order in crossed)
    return {
        "flange_size_names": _texts("flange_sizes", "name"),
        "raised_face_diameters": np.array([figure(row["raised_face_mm"]) for row in printed("flange_sizes")]),
        "flat_gasket_inners": np.array([inches(row["pipe_outside_in"]) for row in printed("flange_sizes")]),
        "flange_classes": np.array([float(name) for name in classes]),
        "flange_keys": _texts("flanges", "key"),
        "flange_counts": np.array([figure(row["bolts"]) for row in flanges]),
        "flange_threads": _texts("flanges", "thread"),
        "flange_stud_lengths": np.array([inches(row["stud_length_in"]) for row in flanges]),
        "flange_outsides": np.array([inches(row["outside_in"]) for row in flanges]),
        "flange_bolt_circles": np.array([inches(row["bolt_circle_in"]) for row in flanges]),
        "flange_facing_names": _texts("flange_facings", "name"),
        "facing_drillings": np.array(_numbers("flange_facings", "drilling")),
        "facing_torques": np.array(_numbers("flange_facings", "torque")),
        "flange_material_names": _texts("flange_materials", "name"),
        "material_torques": np.array(_numbers("flange_materials", "torque")),
        **{name: np.array([figure(row[key]) for row in printed("flange_materials")]) for key, name in FLANGE_MATERIAL_FIGURES.items()},
        "rating_temperatures": np.unique(_numbers("flange_ratings", "temperature_c")),
        "flange_ratings": np.array([[figure(row[name]) / 10 for name in classes] for row in printed("flange_ratings")]),
        "bolt_order_counts": np.array(_numbers("bolt_orders", "bolts")),
        "bolt_cross_texts": _texts("bolt_orders", "cross"),
        "bolt_slacken_texts": _texts("bolt_orders", "slacken"),
        "bolt_cross_orders": np.array([order + [np.nan] * (most - len(order)) for order in crossed]),
    }


def _gaskets() -> dict[str, Any]:
    kinds, own = printed("gasket_kinds"), OWN_GASKETS
    return {
        "spiral_keys": _texts("spiral_gaskets", "key"),
        "spiral_inners": np.array(_numbers("spiral_gaskets", "d2_mm")),
        "spiral_outers": np.array(_numbers("spiral_gaskets", "d3_mm")),
        "flat_keys": _texts("flat_gaskets", "key"),
        "flat_outers": np.array([inches(row["outside_in"]) for row in printed("flat_gaskets")]),
        "gasket_kind_names": own_and([row["name"] for row in kinds], own),
        "gasket_forms": own_and([row["form"] for row in kinds], own),
        **{name: np.array(own_and([figure(row[key]) for row in kinds], own)) for key, name in GASKET_FIGURES.items()},
        **{name: np.array(own_and([figure(row[key]) * factor for row in kinds], own)) for key, (name, factor) in GASKET_SERVICE.items()},
        "gasket_oxygen_reports": own_and([row["oxygen_report"] for row in kinds], own),
        "gaskets_fluids": np.array([[np.nan] * len(MATERIAL_FLUIDS)] * own + [[yes(row[one]) for one in MATERIAL_FLUIDS] for row in kinds]),
    }


def _tasks() -> dict[str, Any]:
    own = OWN_TASKS
    return {
        "task_names": [*_texts("labour_tasks", "task"), *[""] * own],
        "task_valve_minutes": np.array([*_numbers("labour_tasks", "minutes_per_valve"), *[np.nan] * own]),
        "task_ring_minutes": np.array([*_numbers("labour_tasks", "minutes_per_ring"), *[np.nan] * own]),
    }


def _choices() -> dict[str, Any]:
    return {
        "packing_form_names": _texts("packing_forms", "name"),
        "form_kinds": np.array(_numbers("packing_forms", "bought_by")),
        "order_unit_words": np.array(
            [[row[key] for key in ("by_length", "by_piece", "by_mass", "by_stud")] for row in printed("unit_sets")], dtype=object
        ),
        "cut_style_names": _texts("cut_styles", "name"),
        "ring_numbers": np.arange(1.0, MOST_COUNT + 1),
        "joint_ring_counts": np.array(_numbers("joint_steps", "rings_from")),
        "joint_steps": np.array(_numbers("joint_steps", "step_deg")),
        "joint_angle_texts": _texts("joint_steps", "angles"),
        "fluid_kind_names": _texts("fluid_kinds", "name"),
        "fluid_kind_columns": np.array([figure(row["column"]) for row in printed("fluid_kinds")]),
        "fluid_kind_gaseous": np.array([figure(row["gaseous"]) for row in printed("fluid_kinds")]),
        "fluid_kind_airs": np.array(_numbers("fluid_kinds", "in_air")),
        "fluid_kind_cautions": _texts("fluid_kinds", "caution"),
        "stem_motion_names": _texts("stem_motions", "name"),
        "motion_slides": np.array([figure(row["slides"]) for row in printed("stem_motions")]),
        "motion_turns": np.array([figure(row["turns"]) for row in printed("stem_motions")]),
        "motion_rings": np.array(_numbers("stem_motions", "rings")),
        "gland_kind_names": _texts("gland_kinds", "name"),
        "packing_state_names": _texts("packing_states", "name"),
        "yes_no_names": _texts("yes_no", "name"),
        **_follow_up(),
        "nut_kind_names": _texts("nut_kinds", "name"),
        "nut_kind_columns": np.array([figure(row["width_column"]) for row in printed("nut_kinds")]),
    }


def _follow_up() -> dict[str, Any]:
    return {
        "log_event_names": _texts("log_events", "name"),
        "leak_limit_names": _texts("leak_limits", "name"),
        "leak_limit_figures": np.array([figure(row["ppm"]) for row in printed("leak_limits")]),
        "confidence_names": _texts("confidences", "name"),
        "t_freedoms": np.array(_numbers("t_values", "freedom")),
        "t_values": np.array([[float(row[key]) for key in ("t80", "t90", "t95", "t99")] for row in printed("t_values")]),
    }


def _declare() -> dict[str, Quantity]:
    said = tomllib.loads(_FOLDER.joinpath("columns.toml").read_text(encoding="utf-8"))
    return {
        name: column(
            name,
            title=card["title"],
            sentence=card["sentence"],
            source=cite(card["source"]),
            unit=card.get("unit", ""),
            text=card.get("text", False),
        )
        for name, card in said.items()
    }


COLUMNS: Final = _declare()
