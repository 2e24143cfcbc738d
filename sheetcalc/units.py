"""One unit registry, the unit sets, and how units are shown.

Inside, one coherent set is used: mm, N, MPa, N mm, kg, degrees Celsius. A factor is asked of pint, never written into a
formula.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import pint

registry: Final[pint.UnitRegistry[Any]] = pint.UnitRegistry()
# A sheet counts dates in days.
registry.define("date = day")

#: The coherent unit of each dimension that a user types or reads in his own unit.
COHERENT: Final = {
    "length": "mm",
    "pressure": "MPa",
    "stress": "MPa",
    "force": "N",
    "torque": "N*mm",
    "mass": "kg",
    "temperature": "degC",
    "spool": "mm",
}

#: What each unit set types and reads, by dimension. The order is the order of the rows on Tables.
UNIT_SETS: Final = {
    "metric": {
        "length": "mm",
        "pressure": "bar",
        "stress": "MPa",
        "force": "N",
        "torque": "N*m",
        "mass": "kg",
        "temperature": "degC",
        "spool": "m",
    },
    "US": {
        "length": "in",
        "pressure": "psi",
        "stress": "psi",
        "force": "lbf",
        "torque": "lbf*ft",
        "mass": "lb",
        "temperature": "degF",
        "spool": "ft",
    },
}

#: How a unit is printed where pint's own name would read oddly.
_SHOWN: Final = {
    "deg": "°",
    "1": "–",
    "": "",
    "degC": "°C",
    "degF": "°F",
    "delta_degC": "°C",
    "N*mm": "N·mm",
    "N*m": "N·m",
    "lbf*ft": "lbf·ft",
    "mm**2": "mm²",
    "mm**3": "mm³",
    "1/mm": "1/mm",
    "kg/mm**3": "kg/mm³",
    "g/cm**3": "g/cm³",
}


@cache
def factor(unit: str, to: str) -> float:
    """What a value in `unit` is multiplied by to be in `to`; both are pint names of one dimension.

    A temperature's factor is that of a difference: its zero is `zero`. Fifteen digits, as many as a file keeps.

    >>> factor("in", "mm")
    25.4
    """
    scale = registry.Quantity(1, _difference(unit)).m_as(_difference(to))
    return float(f"{float(scale):.15g}")


def _difference(unit: str) -> str:
    return f"delta_{unit}" if unit in {"degC", "degF"} else unit


@cache
def zero(unit: str, to: str) -> float:
    """What a value in `unit` reads at nought in `to`: 32 for degrees Fahrenheit and Celsius, 0 for what has no offset.

    >>> zero("degF", "degC")
    32.0
    """
    if _difference(unit) == unit:
        return 0.0
    return float(round(registry.Quantity(0, to).m_as(unit), 9))


def dimension(unit: str) -> str | None:
    """The dimension that a user types in his own unit: "length" for mm, None for counts, shares and text.

    What is in MPa is taken for a stress; a pressure has the same unit and says so itself.
    """
    return next((name for name, coherent in COHERENT.items() if coherent == unit and name != "pressure"), None)


def shown(unit: str) -> str:
    """A unit as a sheet prints it."""
    return _SHOWN.get(unit, unit)


def coherent_magnitude(value: Any) -> Any:
    """The plain number of a value in coherent units; a value without a unit comes back as it is."""
    if not isinstance(value, pint.Quantity):
        return value
    for unit in ("mm", "MPa", "N", "N*mm", "kg", "delta_degC"):
        if value.is_compatible_with(unit):
            return value.m_as(unit)
    return value.m_as("")
