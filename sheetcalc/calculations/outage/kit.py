"""The tools of each valve: sizes in whole steps, and the codes that like tools share."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import rounded, whole, whole_up
from sheetcalc.calculations.outage.grouped import GATHERED, declare_group
from sheetcalc.calculations.outage.order import sized, written
from sheetcalc.declare.blocks import derive, derived
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "kit"
KIT = cite("kit-practice")
#: The groups of the kit list, in its order, with what they are called.
GROUPS: Final = {
    "wrench": "wrench",
    "tap": "tap and die",
    "mandrel": "mandrel",
    "hook": "packing hook",
    "bushing": "tamping sleeve",
    "bolt_wrench": "wrench for flange bolts",
    "bolt_tap": "tap and die for flange bolts",
}
#: Crews that have a column in the kit list; the assumption of most crews can only be lower.
MOST_CREWS: Final = 6
#: The groups as the columns of a list know them.
LISTED: Final = {f"kit_{name}": title for name, title in GROUPS.items()}


# --- sizes in whole steps, for a valve that is ordered ---


def _nearest(exact: Any, digits: float) -> Any:
    return rounded(rounded(exact, digits))


def _declare_steps(name: str, title: str, size: str, step: str, sentence: str, *, rounding: str = "nearest", only: str = "") -> None:
    """A size of a tool in whole steps: the nearest, or the next one up or down."""
    excel = {
        "nearest": f"ROUND(ROUND({{{size}}}/{{{step}}},{{counting_digits}}),0)",
        "up": f"ROUNDUP(ROUND({{{size}}}/{{{step}}},{{counting_digits}}),0)",
        "down": f"INT(ROUND({{{size}}}/{{{step}}},{{counting_digits}}))",
    }[rounding]
    reads = ("ordered", size, step, "counting_digits", *(["packing_form"] if only else []))

    def steps(ordered: Any, length: Any, unit: Any, *others: Any) -> Any:
        # The nearest is rounded twice: 3/8 in is just between two steps but for noise.
        count = {"nearest": _nearest, "up": whole_up, "down": whole}[rounding](length / unit, others[0])
        return np.where(others[-1] == only, ordered * count, np.nan) if only else ordered * count

    counted_steps = f"{{ordered}}*{excel}"
    derive(
        name,
        reads,
        steps,
        sentence,
        title=title,
        unit="1",
        part=PART,
        source=KIT,
        per=Per.LISTED,
        excel=f'IF(EXACT({{packing_form}},"{only}"),{counted_steps},"")' if only else counted_steps,
    )


_declare_steps(
    "kit_mandrel_steps",
    "Mandrel in steps",
    "mandrel_diameter",
    "order_step",
    "Diameter of the mandrel in whole steps, where packing is cut from a spool.",
    only="braid",
)
_declare_steps(
    "kit_reach_steps", "Hook's reach in steps", "hook_reach", "tool_step", "Reach of the hook in whole steps, rounded up.", rounding="up"
)
_declare_steps(
    "kit_thickness_steps",
    "Hook's thickness in steps",
    "hook_thickness",
    "hook_thickness_step",
    "Thickness of the hook in whole steps, rounded down.",
    rounding="down",
)
_declare_steps(
    "kit_outside_steps", "Tamping sleeve's OD in steps", "bushing_outside", "order_step", "Outside of the sleeve in whole steps."
)
_declare_steps("kit_inside_steps", "Tamping sleeve's ID in steps", "bushing_inside", "order_step", "Inside of the sleeve in whole steps.")
_declare_steps(
    "kit_length_steps",
    "Tamping sleeve's length in steps",
    "bushing_length",
    "tool_step",
    "Length of the sleeve in whole steps, rounded up.",
    rounding="up",
)


# --- codes that like tools share ---


@derived(
    title="Wrench, kit code",
    part=PART,
    source=KIT,
    text=True,
    per=Per.LISTED,
    excel='IF({ordered}=1,"WRENCH "&{wrench_words},"")',
)
def kit_wrench_code(ordered: Num, wrench_words: Text) -> Any:
    """What wrenches of one marking share: an inch and a metric wrench of one width are two tools."""
    return np.where(ordered == 1, "WRENCH " + wrench_words, "")


@derived(
    title="Tap and die, kit code",
    part=PART,
    source=KIT,
    text=True,
    per=Per.LISTED,
    excel='IF({ordered}=1,"TAP AND DIE "&{tap_and_die},"")',
)
def kit_tap_code(ordered: Num, tap_and_die: Text) -> Any:
    """What taps and dies of one thread share."""
    return np.where(ordered == 1, "TAP AND DIE " + tap_and_die, "")


def _declare_sized(name: str, title: str, word: str, sizes: dict[str, str], sentence: str) -> None:
    """The code of a tool that is made to size: its word and its sizes; `sizes` has the steps of each size and what a step is."""
    reads = tuple(dict.fromkeys((*sizes, *sizes.values(), "order_unit", "order_digits")))

    def code(*values: Any) -> Any:
        held = dict(zip(reads, values, strict=True))
        lengths = [written(held[count] * held[step], held["order_unit"], held["order_digits"]) for count, step in sizes.items()]
        return sum(("x" + length for length in lengths[1:]), f"{word} " + lengths[0])

    written_sizes = '&"x"&'.join(sized(f"{{{count}}}*{{{step}}}", whole=True) for count, step in sizes.items())
    derive(
        name,
        reads,
        code,
        sentence,
        title=title,
        part=PART,
        source=KIT,
        text=True,
        per=Per.LISTED,
        excel=f'"{word} "&{written_sizes}',
    )


_declare_sized(
    "kit_mandrel_code", "Mandrel, kit code", "MANDREL", {"kit_mandrel_steps": "order_step"}, "What mandrels of one diameter share."
)
_declare_sized(
    "kit_hook_code",
    "Packing hook, kit code",
    "HOOK",
    {"kit_reach_steps": "tool_step", "kit_thickness_steps": "hook_thickness_step"},
    "What hooks of one reach and thickness share.",
)
_declare_sized(
    "kit_bushing_code",
    "Tamping sleeve, kit code",
    "SLEEVE",
    {"kit_outside_steps": "order_step", "kit_inside_steps": "order_step", "kit_length_steps": "tool_step"},
    "What tamping sleeves of one outside, inside and length share.",
)


@derived(
    title="Wrench for flange bolts, kit code",
    part=PART,
    source=KIT,
    text=True,
    per=Per.LISTED,
    optional=("out_ordered",),
    excel='IF(ISNUMBER({out_ordered}),"FLANGE WRENCH "&{flange_wrench_words},"")',
)
def kit_bolt_wrench_code(out_ordered: Num, flange_wrench_words: Text) -> Any:
    """What wrenches for flange bolts of one marking share."""
    return np.where(np.isnan(out_ordered), "", "FLANGE WRENCH " + flange_wrench_words)


@derived(
    title="Tap and die for flange bolts, kit code",
    part=PART,
    source=KIT,
    text=True,
    per=Per.LISTED,
    optional=("out_ordered",),
    excel='IF(ISNUMBER({out_ordered}),"FLANGE TAP AND DIE "&{flange_tap_and_die},"")',
)
def kit_bolt_tap_code(out_ordered: Num, flange_tap_and_die: Text) -> Any:
    """What taps and dies for flange bolts of one thread share."""
    return np.where(np.isnan(out_ordered), "", "FLANGE TAP AND DIE " + flange_tap_and_die)


for _name, _title in GROUPS.items():
    declare_group(f"kit_{_name}", f"Kit, {_title}", PART)
    derive(
        f"kit_{_name}_crew",
        (f"kit_{_name}_first", "job_crew", "every_position"),
        lambda first, crew, every: first + (crew - 1) * len(every),
        "A number that the valves of one crew that need the same tool share.",
        title=f"Kit, {_title}: crew's need",
        unit="1",
        part=PART,
        source=GATHERED,
        per=Per.LISTED,
        excel=f"{{kit_{_name}_first}}+({{job_crew}}-1)*ROWS({{every_position}})",
    )


@derived(title="Torque of the job", unit="N*mm", part=PART, source=cite("arithmetic"), per=Per.LISTED, excel="{stud_torque}*{ordered}")
def job_torque(stud_torque: Num, ordered: Num) -> Num:
    """Torque of the gland studs, for a valve that is ordered."""
    return ordered * stud_torque
