"""Facts about constants.toml: what is read from it is held against units and arithmetic, and its fields against their meaning."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any, Final

import pytest

from sheetcalc import units
from sheetcalc.calculations.run import issued_assumptions

CONSTANTS: Final[dict[str, dict[str, Any]]] = tomllib.loads(
    files("sheetcalc.reference").joinpath("constants.toml").read_text(encoding="utf-8")
)


def test_every_constant_is_declared_as_it_stands_in_the_file() -> None:
    """The file alone says which constants there are, in which order and of what value."""
    assert [(name, card["issued"]) for name, card in CONSTANTS.items()] == list(issued_assumptions().items())


@pytest.mark.parametrize("name", CONSTANTS)
def test_a_constant_is_a_number_with_a_point_and_a_range_or_a_choice(name: str) -> None:
    """A whole number would be printed, and counted in the fingerprint, otherwise than the float that formulas read."""
    card = CONSTANTS[name]
    if isinstance(card["issued"], str):
        assert {"unit", "limits"}.isdisjoint(card)
    else:
        assert isinstance(card["issued"], float)
        assert len(card["limits"]) == 2


@pytest.mark.parametrize(
    ("name", "exact"),
    [
        ("inch_length", units.factor("in", "mm")),
        ("metre", units.factor("m", "mm")),
        ("cubic_density", units.factor("g/cm**3", "kg/mm**3")),
        ("stud_tensile_share", 1 / 3),
        ("counting_half", 10 ** -CONSTANTS["counting_digits"]["issued"] / 2),
    ],
)
def test_a_constant_that_follows_from_others_is_the_nearest_float(name: str, exact: float) -> None:
    """What is a unit or a fraction is written out in the file to the last digit."""
    assert CONSTANTS[name]["issued"] == exact
