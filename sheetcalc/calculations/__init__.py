"""The engineering: a room for each part of the job, a module for each step, one function for each quantity.

Importing the package declares every quantity, in the order of the job: that is the order of the columns of Working,
and the checks need all faults before them.
"""

from importlib import import_module
from typing import Final

#: The modules that declare, in the order of the job, each with the room that it is in; "" where all rooms share it.
_ROOMS: Final = (
    ("", ("assumptions",)),
    (
        "valve",
        (
            "entries",
            "material",
            "suitability",
            "oxidation",
            "section",
            "rings",
            "count",
            "lantern",
            "gap",
            "cut",
            "flats",
            "load",
            "studs",
            "torque",
            "stack",
            "stem",
            "handwheel",
            "fitting",
            "acceptance",
            "tools",
        ),
    ),
    (
        "joint",
        (
            "flange",
            "rating",
            "bolts",
            "flange_faults",
            "bolt_load",
            "gasket",
            "bolt_torque",
            "gasket_limits",
            "torque_faults",
            "hot_bolting",
            "removal",
            "lift",
        ),
    ),
    # What is shown of valve and joint, and what the checks of both say.
    ("valve", ("slips", "state")),
    (
        "outage",
        (
            "outage",
            "order",
            "order_lubricants",
            "order_pieces",
            "tags",
            "stores",
            "order_lines",
            "order_items",
            "reconciliation",
            "labour",
            "days",
            "finish",
            "critical",
            "kit",
            "kit_lines",
            "troubles",
            "log",
            "readings",
            "follow_up",
            "last_readings",
            "forecast",
            "verdict",
            "chart",
        ),
    ),
)
#: The same without their rooms. The first module of a part is called as the part is, so that this is the order of the parts too.
PARTS: Final = tuple(part for _room, parts in _ROOMS for part in parts)

for _room, _parts in _ROOMS:
    for _part in _parts:
        import_module(".".join(filter(None, (__name__, _room, _part))))
