"""One unit registry, the unit sets, and how units are shown.

Inside, every length is in mm. A factor is asked of pint, never written into a formula.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import pint

registry: Final[pint.UnitRegistry[Any]] = pint.UnitRegistry()

#: The coherent unit of each dimension that a user types in his own unit.
COHERENT: Final = {"length": "mm"}

#: What each unit set types and reads, by dimension. The order is the order of the rows on Tables.
UNIT_SETS: Final = {
    "metric": {"length": "mm"},
    "US": {"length": "in"},
}

#: How a unit is printed where pint's own name would read oddly.
_SHOWN: Final = {"deg": "°", "1": "–", "": ""}


@cache
def factor(unit: str, to: str) -> float:
    """What a value in `unit` is multiplied by to be in `to`; both are pint names of one dimension.

    >>> factor("in", "mm")
    25.4
    """
    return float(round(registry.Quantity(1, unit).to(to).magnitude, 12))


def dimension(unit: str) -> str | None:
    """The dimension that a user types in his own unit: "length" for mm, None for counts, shares and text."""
    return next((name for name, coherent in COHERENT.items() if coherent == unit), None)


def shown(unit: str) -> str:
    """A unit as a sheet prints it."""
    return _SHOWN.get(unit, unit)


def coherent_magnitude(value: Any) -> Any:
    """The plain number of a value in coherent units; a value without a unit comes back as it is."""
    if not isinstance(value, pint.Quantity):
        return value
    if value.check("[length]"):
        return value.m_as("mm")
    return value.m_as("")
