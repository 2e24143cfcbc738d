"""What all sheets share: formula texts, footers, the fingerprint of the formula set, and the cells of a block."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping
from functools import cache
from typing import Any, Final

import numpy as np

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Column, Constant, Derived, Fault, Quantity, all_quantities, get
from sheetcalc.reference import tables
from sheetcalc.sheets.layout import Value

VERSION: Final = "0.8.0"
CAUTIONS: Final = (
    "Trapped pressure: isolate, vent and drain, lock and tag, and prove zero energy before a gland nut is touched. Back the "
    "nuts off slowly and lift the follower; pressure can be trapped under old packing.",
    "Never trust a backseat to hold pressure unless the owner's procedure allows it.",
    "Hot surfaces, steam, condensate and chemical residue: cool down, wear eye and hand protection.",
    "Stored energy: springs of live-loaded glands and of actuators are secured first; air and power are locked out.",
    "Old packing may hold asbestos: have it identified and follow the local regulation before it is dug out.",
    "Weight: support the valve and its parts before the last bolts; never lift by stem, yoke or handwheel.",
    "The site's procedures, the valve maker's manual, local codes and licensed practice come before anything in this workbook.",
)

#: A position mark that no formula holds: it is where the row number goes.
ROW_MARK: Final = "\x00"


def plain(value: Any) -> Value:
    """A value as a layout holds it: a float, a text, or None for blank."""
    if value is None or isinstance(value, str):
        return value
    number = float(value)
    return None if np.isnan(number) else number


def column_values(values: Mapping[str, Any], name: str) -> list[Value]:
    """A column of the core's results as a layout holds it."""
    array = values[name]
    if get(name).is_text:
        return list(array)
    return [None if math.isnan(number) else number for number in array.tolist()]


def shown_in(quantity: Quantity, reference: str, unit_set: str) -> str:
    """The formula of a value shown in the unit of a unit set, from where it stands in the coherent unit."""
    row = 1 + list(units.UNIT_SETS).index(unit_set)
    zero = f"+INDEX(unit_temperature_zeros,{row})" if quantity.dimension == "temperature" else ""
    return f'IF(COUNT({reference})=0,"",{reference}/INDEX(unit_{quantity.dimension}_factors,{row}){zero})'


def shown_value(quantity: Quantity, value: Value, unit_set: str) -> Value:
    """The core's answer in the unit of a unit set; None for blank."""
    if not isinstance(value, float) or quantity.dimension is None:
        return None if value == "" else value
    unit, coherent = units.UNIT_SETS[unit_set][quantity.dimension], units.COHERENT[quantity.dimension]
    return value / units.factor(unit, coherent) + units.zero(unit, coherent)


def unit_in(quantity: Quantity, unit_set: str) -> str:
    """The unit in which a unit set shows a quantity."""
    return units.shown(units.UNIT_SETS[unit_set][quantity.dimension]) if quantity.dimension else unit_shown(quantity)


def in_names(quantity: Derived) -> str:
    """The formula of a quantity written in names, as it stands beside its cell."""
    return "=" + formula.render(quantity.guarded_excel, {name: name for name in quantity.reads})


def unit_shown(quantity: Quantity) -> str:
    """The unit as printed; texts have none."""
    return units.shown(quantity.unit)


def _hashed(held: Any, digits: int) -> str:
    return hashlib.sha256(json.dumps(held, ensure_ascii=True).encode()).hexdigest()[:digits]


def mark(quantity: Quantity) -> str:
    """Six hexadecimal digits that change with the formula of a quantity as it is written, its guard included, or with what is issued."""
    text = quantity.guarded_excel if isinstance(quantity, Derived) else ""
    held: Any = str(quantity.issued) if isinstance(quantity, Constant) else ""
    if isinstance(quantity, Column):
        held = np.asarray(tables.values()[quantity.name]).tolist()
    return _hashed([quantity.name, quantity.unit, text, held], 6)


@cache
def fingerprint(answers: Answers) -> str:
    """Twelve hexadecimal digits that change with any formula, constant or table of the set: those of all marks."""
    return _hashed([mark(answers.get(q.name)) for q in all_quantities() if q.name in answers], 12)


@cache
def wording(answers: Answers) -> str:
    """Six hexadecimal digits that change with any title, symbol, sentence or source of the set."""
    held = (q for q in all_quantities() if q.name in answers)
    return _hashed([[q.title, q.symbol, q.sentence, q.words if isinstance(q, Fault) else "", q.source.text] for q in held], 6)


def explanation(quantity: Quantity) -> list[tuple[str, str]]:
    """What there is to say of a quantity, line by line: what the line is, and what it says."""
    out = [
        ("Name", quantity.name),
        ("Title", quantity.title),
        ("Kind", quantity.kind),
        ("Symbol", quantity.symbol or "none"),
        ("Unit", unit_shown(quantity) or "text"),
        ("What", quantity.sentence),
    ]
    if isinstance(quantity, Derived):
        out += [("Formula", in_names(quantity)), ("Reads", ", ".join(quantity.reads))]
    if isinstance(quantity, Constant):
        low, high = quantity.limits
        out += [("Issued", str(quantity.issued)), ("Range", f"{low} to {high}" if low else "a text, or a choice on Tables")]
    return [*out, ("Source", quantity.source.text), ("Grade", quantity.source.grade.value)]
