"""Worked examples as data: what goes in, what must come out, and where that is printed.

They stand on Self-check in every workbook, and the tests run them through the core and through both engines.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from sheetcalc import units
from sheetcalc.declare.quantity import get
from sheetcalc.declare.source import Grade
from sheetcalc.reference.sources import grade


@dataclass(frozen=True)
class Expected:
    """One expected value: as printed, and in the coherent unit with the tolerance of its rounding."""

    name: str
    printed: str
    value: float | str
    tolerance: float


@dataclass(frozen=True)
class Case:
    """One worked example."""

    key: str
    sentence: str
    source: str
    grade: Grade
    entries: dict[str, float | str]
    constants: dict[str, float | str]
    expected: tuple[Expected, ...]


def _expected(name: str, said: float | str | list[float | str]) -> Expected:
    """Read `[9.43, "in", 0.01]` (value, unit, tolerance in that unit), a text, or a bare whole count."""
    if isinstance(said, str):
        return Expected(name, said, said, 0.0)
    if not isinstance(said, list):
        return Expected(name, f"{said:g}", float(said), 1e-9)
    value, unit, tolerance = float(said[0]), str(said[1]), float(said[2])
    coherent = get(name).unit
    factor = units.factor(unit, coherent) if unit not in {"", coherent} else 1.0
    return Expected(name, f"{said[0]} {unit}".strip(), value * factor, tolerance * factor)


@cache
def published() -> tuple[Case, ...]:
    """Every worked example of the folder cases, file by file in the order of their names."""
    folder = files("sheetcalc.reference").joinpath("cases")
    cases = []
    for file in sorted(folder.iterdir(), key=lambda one: one.name):
        for key, card in tomllib.loads(file.read_text(encoding="utf-8")).items():
            cases.append(
                Case(
                    key,
                    card["sentence"],
                    card["source"],
                    grade(card["grade"]),
                    card["entries"],
                    card.get("constants", {}),
                    tuple(_expected(name, said) for name, said in card["expected"].items()),
                )
            )
    return tuple(cases)
