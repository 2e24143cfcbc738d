"""Reference tables: CSV as printed, a card each in cards.toml, and the columns that formulas read.

A table is shown on the sheet Tables just as it stands here. What formulas look up is a named column or block of it,
declared as a quantity of kind table, so that the reads of a formula are the reads of the core.
"""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Final

import numpy as np

from sheetcalc import units
from sheetcalc.declare.quantity import Kind, Quantity, all_quantities, column
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
        name: Card(
            name, card["title"], card["note"], cite(card["source"]), card["checked_with"], card.get("editable", False)
        )
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


def _sorted(sizes: list[float]) -> list[float]:
    """Sizes in rising order, each once and freed of noise as on the sheet, padded to the length of the block there."""
    once = sorted({round(size, 6) for size in sizes})
    return once + [np.nan] * (2 * STOCK_ROWS - len(once))


#: Rows of the stock lists on Tables: room for the user's own sizes.
STOCK_ROWS: Final = 25


@cache
def values() -> dict[str, Any]:
    """What each table quantity holds: a list of texts, an array of numbers, or a block of numbers (rows x columns)."""
    inch_mm = units.factor("in", "mm")
    inch = _numbers("stocked_inch", "size_in", inch_mm)
    metric = _numbers("stocked_metric", "size_mm")
    choices = [_sorted(sizes) for sizes in (inch, metric, inch + metric)]
    inch_threads, metric_threads = _texts("threads_inch", "designation"), _texts("threads_metric", "designation")
    return {
        "unit_set_names": list(units.UNIT_SETS),
        "unit_length_factors": np.array([units.factor(u["length"], "mm") for u in units.UNIT_SETS.values()]),
        "unit_section_columns": np.array([{"metric": 2.0, "US": 1.0}[name] for name in units.UNIT_SETS]),
        "unit_spacer_steps": np.array([float(row["spacer_step_mm"]) for row in printed("unit_sets")]),
        "section_choices": np.array(choices).T,
        "section_list_names": _texts("section_lists", "name"),
        "section_list_columns": np.array(
            [float(row["choice_column"] or "nan") for row in printed("section_lists")]
        ),
        "packing_form_names": _texts("packing_forms", "name"),
        "cut_style_names": _texts("cut_styles", "name"),
        "thread_names": inch_threads + metric_threads,
        "thread_per_inch": np.array([*_numbers("threads_inch", "threads_per_inch"), *[0.0] * len(metric_threads)]),
        "thread_pitches": np.array([*[0.0] * len(inch_threads), *_numbers("threads_metric", "pitch_mm")]),
        "joint_ring_counts": np.array(_numbers("joint_steps", "rings_from")),
        "joint_steps": np.array(_numbers("joint_steps", "step_deg")),
        "joint_angle_texts": _texts("joint_steps", "angles"),
        "inch_part_names": _texts("inch_parts", "name"),
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


def column_quantities() -> tuple[Quantity, ...]:
    """Every table column that formulas read."""
    return tuple(quantity for quantity in all_quantities() if quantity.kind is Kind.TABLE)
