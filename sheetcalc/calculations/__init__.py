"""The engineering: one module for each part of the job, one function for each quantity.

Importing the package declares every quantity, in the order of the job: that is the order of the columns of Working,
and the checks need all faults before them.
"""

from importlib import import_module
from typing import Final

PARTS: Final = (
    "assumptions",
    "entries",
    "material",
    "section",
    "rings",
    "gap",
    "cut",
    "flats",
    "load",
    "stack",
    "stem",
    "fitting",
    "tools",
    "flange",
    "flange_load",
    "removal",
    "lift",
    "shown",
    "state",
    "outage",
    "order",
    "tags",
    "order_lines",
    "labour",
    "kit",
    "troubles",
    "log",
    "follow_up",
)

for _part in PARTS:
    import_module(f"{__name__}.{_part}")
