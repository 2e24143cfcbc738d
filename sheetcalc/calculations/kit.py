"""The kit list: the tools of the job, like ones gathered into a line, with the valves and the crews that need each.

Lines follow the valves as those of the order list do: the first valve that needs a tool opens its line. A crew carries one of each,
of wrenches for flange bolts two.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, rounded, whole, whole_up, word
from sheetcalc.calculations.gathering import count_where, counted, sum_where, total
from sheetcalc.calculations.grouped import GATHERED, choose, declare_group, declare_lines
from sheetcalc.calculations.order import coded
from sheetcalc.calculations.state import declare_check
from sheetcalc.declare.quantity import Num, Per, Text, derived, fault, in_terms_of
from sheetcalc.reference.sources import cite

PART = "kit"
KIT = cite("kit-practice")
#: The groups of the kit list, in its order, with what they are called.
GROUPS: Final = {
    "wrench": "wrench", "tap": "tap and die", "mandrel": "mandrel", "hook": "packing hook", "bushing": "tamping bushing",
    "bolt_wrench": "wrench for flange bolts", "bolt_tap": "tap and die for flange bolts",
}  # fmt: skip
#: Crews that have a column in the kit list; the assumption of most crews can only be lower.
MOST_CREWS: Final = 6


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
    derived(
        title=title, unit="1", part=PART, source=KIT, per=Per.LISTED,
        excel=f'IF(EXACT({{packing_form}},"{only}"),{counted_steps},"")' if only else counted_steps,
    )(in_terms_of(steps, name, reads, sentence))  # fmt: skip


_declare_steps("kit_mandrel_steps", "Mandrel in steps", "mandrel_diameter", "order_step",
               "Diameter of the mandrel in whole steps, where packing is cut from a spool.", only="braid")  # fmt: skip
_declare_steps("kit_reach_steps", "Hook's reach in steps", "hook_reach", "tool_step", "Reach of the hook in whole steps, rounded up.",
               rounding="up")  # fmt: skip
_declare_steps("kit_thickness_steps", "Hook's thickness in steps", "hook_thickness", "hook_thickness_step",
               "Thickness of the hook in whole steps, rounded down.", rounding="down")  # fmt: skip
_declare_steps("kit_outside_steps", "Bushing's outside in steps", "bushing_outside", "order_step", "Outside of the bushing in whole steps.")
_declare_steps("kit_inside_steps", "Bushing's inside in steps", "bushing_inside", "order_step", "Inside of the bushing in whole steps.")
_declare_steps("kit_length_steps", "Bushing's length in steps", "bushing_length", "tool_step",
               "Length of the bushing in whole steps, rounded up.", rounding="up")  # fmt: skip


# --- codes that like tools share ---


@derived(
    title="Wrench, kit code", part=PART, source=KIT, text=True, per=Per.LISTED, excel='IF({ordered}=1,"W "&{wrench_words},"")',
)  # fmt: skip
def kit_wrench_code(ordered: Num, wrench_words: Text) -> Any:
    """What wrenches of one marking share: an inch and a metric wrench of one width are two tools."""
    return np.where(ordered == 1, "W " + wrench_words, "")


@derived(
    title="Tap and die, kit code", part=PART, source=KIT, text=True, per=Per.LISTED, excel='IF({ordered}=1,"T "&{tap_and_die},"")',
)  # fmt: skip
def kit_tap_code(ordered: Num, tap_and_die: Text) -> Any:
    """What taps and dies of one thread share."""
    return np.where(ordered == 1, "T " + tap_and_die, "")


@derived(title="Mandrel, kit code", part=PART, source=KIT, text=True, per=Per.LISTED, excel='"D"&{kit_mandrel_steps}')
def kit_mandrel_code(kit_mandrel_steps: Num) -> Any:
    """What mandrels of one diameter share."""
    return "D" + coded(kit_mandrel_steps)


@derived(
    title="Packing hook, kit code", part=PART, source=KIT, text=True, per=Per.LISTED,
    excel='"H"&{kit_reach_steps}&"t"&{kit_thickness_steps}',
)  # fmt: skip
def kit_hook_code(kit_reach_steps: Num, kit_thickness_steps: Num) -> Any:
    """What hooks of one reach and thickness share."""
    return "H" + coded(kit_reach_steps) + "t" + coded(kit_thickness_steps)


@derived(
    title="Tamping bushing, kit code", part=PART, source=KIT, text=True, per=Per.LISTED,
    excel='"B"&{kit_outside_steps}&"x"&{kit_inside_steps}&"l"&{kit_length_steps}',
)  # fmt: skip
def kit_bushing_code(kit_outside_steps: Num, kit_inside_steps: Num, kit_length_steps: Num) -> Any:
    """What bushings of one outside, inside and length share."""
    return "B" + coded(kit_outside_steps) + "x" + coded(kit_inside_steps) + "l" + coded(kit_length_steps)


@derived(
    title="Wrench for flange bolts, kit code", part=PART, source=KIT, text=True, per=Per.LISTED, optional=("out_ordered",),
    excel='IF(ISNUMBER({out_ordered}),"FW "&{flange_wrench_words},"")',
)  # fmt: skip
def kit_bolt_wrench_code(out_ordered: Num, flange_wrench_words: Text) -> Any:
    """What wrenches for flange bolts of one marking share."""
    return np.where(np.isnan(out_ordered), "", "FW " + flange_wrench_words)


@derived(
    title="Tap and die for flange bolts, kit code", part=PART, source=KIT, text=True, per=Per.LISTED, optional=("out_ordered",),
    excel='IF(ISNUMBER({out_ordered}),"FT "&{flange_tap_and_die},"")',
)  # fmt: skip
def kit_bolt_tap_code(out_ordered: Num, flange_tap_and_die: Text) -> Any:
    """What taps and dies for flange bolts of one thread share."""
    return np.where(np.isnan(out_ordered), "", "FT " + flange_tap_and_die)


for _name, _title in GROUPS.items():
    declare_group(f"kit_{_name}", f"Kit, {_title}", PART)
    derived(
        title=f"Kit, {_title}: crew's need", unit="1", part=PART, source=GATHERED, per=Per.LISTED,
        excel=f"{{kit_{_name}_first}}+({{job_crew}}-1)*ROWS({{every_position}})",
    )(
        in_terms_of(
            lambda first, crew, every: first + (crew - 1) * len(every), f"kit_{_name}_crew",
            (f"kit_{_name}_first", "job_crew", "every_position"), "A number that the valves of one crew that need the same tool share.",
        )
    )  # fmt: skip


@derived(title="Torque of the job", unit="N*mm", part=PART, source=cite("arithmetic"), per=Per.LISTED, excel="{stud_torque}*{ordered}")
def job_torque(stud_torque: Num, ordered: Num) -> Num:
    """Torque of the gland studs, for a valve that is ordered."""
    return ordered * stud_torque


# --- the lines ---

_LISTED: Final = {f"kit_{name}": title for name, title in GROUPS.items()}
_ENDS: Final = declare_lines("tool", Per.TOOL, PART, _LISTED, what="Kit", code="Kit code")
#: How many lines the list has in all.
TOOLS: Final = _ENDS[-1]


@derived(
    title="Tool", part=PART, source=KIT, text=True, per=Per.TOOL,
    excel='CHOOSE({tool_group},"wrench","tap and die","mandrel","packing hook","tamping bushing","wrench for flange bolts",'
          '"tap and die for flange bolts")',
)  # fmt: skip
def tool_item(tool_group: Num) -> Any:
    """What it is."""
    return word(np.nan_to_num(tool_group), ("", *GROUPS.values()))


@derived(
    title="Marking of the tool", part=PART, source=GATHERED, text=True, per=Per.TOOL,
    excel='CHOOSE({tool_group},INDEX({every_wrench_words},{tool_first}),INDEX({every_tap_and_die},{tool_first}),"","","",'
          "INDEX({every_flange_wrench_words},{tool_first}),INDEX({every_flange_tap_and_die},{tool_first}))",
)  # fmt: skip
def tool_words(
    tool_group: Num, every_wrench_words: Text, tool_first: Num, every_tap_and_die: Text, every_flange_wrench_words: Text,
    every_flange_tap_and_die: Text,
) -> Any:  # fmt: skip
    """The wrench, or tap and die, as it is marked; blank for what is made to size."""
    none = np.array("", dtype=object)
    marked = [every_wrench_words, every_tap_and_die, every_flange_wrench_words, every_flange_tap_and_die]
    wrench, tap, other_wrench, other_tap = (pick(tool_first, list(column)) for column in marked)
    return choose(tool_group, wrench, tap, none, none, none, other_wrench, other_tap)


def _declare_size(name: str, title: str, group: str, steps: str, step: str, sentence: str) -> None:
    """A size of one group of tools, in whole steps of its first valve: all valves of the line have the same."""
    place = list(GROUPS).index(group) + 1
    sizes = ['""'] * len(GROUPS)
    sizes[place - 1] = f"INDEX({{every_{steps}}},{{tool_first}})*{{{step}}}"
    derived(
        title=title, unit="mm", part=PART, source=KIT, per=Per.TOOL,
        excel=f"CHOOSE({{tool_group}},{','.join(sizes)})",
    )(
        in_terms_of(
            lambda of, column, first, unit: np.where(of == place, pick(first, column) * unit, np.nan), name,
            ("tool_group", f"every_{steps}", "tool_first", step), sentence,
        )
    )  # fmt: skip


_declare_size("tool_diameter", "Diameter of a mandrel", "mandrel", "kit_mandrel_steps", "order_step", "As thick as the stem.")
_declare_size("tool_hook_reach", "Reach of a hook", "hook", "kit_reach_steps", "tool_step",
              "At least what the deepest of its valves needs.")  # fmt: skip
_declare_size("tool_thickness", "Thickness of a hook", "hook", "kit_thickness_steps", "hook_thickness_step",
              "At most what the narrowest of its valves allows.")  # fmt: skip
_declare_size("tool_outside", "Outside of a bushing", "bushing", "kit_outside_steps", "order_step", "A little less than the bore.")
_declare_size("tool_inside", "Inside of a bushing", "bushing", "kit_inside_steps", "order_step", "A little more than the stem.")
_declare_size("tool_length", "Length of a bushing", "bushing", "kit_length_steps", "tool_step",
              "At least what the deepest of its valves needs.")  # fmt: skip


def _declare_crew(crew: int) -> None:
    """The column of a crew: how many of its valves need the tool."""
    key, before = (f"tool_crew_{one}_key" if one > 1 else "tool_first" for one in (crew, crew - 1))
    if crew > 1:
        derived(
            title=f"Tool and crew {crew}", unit="1", part=PART, source=GATHERED, per=Per.TOOL,
            excel=f"{{{before}}}+ROWS({{every_position}})",
        )(
            in_terms_of(
                lambda number, every: number + len(every), key, (before, "every_position"),
                f"What the valves of crew {crew} that need the tool share: as many more than the crew before as the list has rows.",
            )
        )  # fmt: skip
    derived(
        title=f"Valves of crew {crew}", unit="1", part=PART, source=GATHERED, per=Per.TOOL,
        excel=f"CHOOSE({{tool_group}},{','.join(f'COUNTIF({{every_kit_{name}_crew}},{{{key}}})' for name in GROUPS)})",
    )(
        in_terms_of(
            lambda group, wanted, *needs: choose(group, *(count_where(one, wanted) for one in needs)), f"tool_crew_{crew}",
            ("tool_group", key, *(f"every_kit_{name}_crew" for name in GROUPS)), f"How many valves of crew {crew} need the tool.",
        )
    )  # fmt: skip


for _crew in range(1, MOST_CREWS + 1):
    _declare_crew(_crew)
_CREWS: Final = tuple(f"tool_crew_{crew}" for crew in range(1, MOST_CREWS + 1))


@derived(
    title="Tools of a crew", unit="1", part=PART, source=KIT, per=Per.TOOL, excel="CHOOSE({tool_group},1,1,1,1,1,2,1)",
)  # fmt: skip
def tool_each(tool_group: Num) -> Any:
    """One; two wrenches for flange bolts, since one holds the far nut."""
    return choose(tool_group, 1.0, 1.0, 1.0, 1.0, 1.0, 2.0, 1.0)


derived(
    title="Tools needed", unit="1", part=PART, source=KIT, per=Per.TOOL,
    excel=f"{{tool_each}}*({'+'.join(f'SIGN({{{name}}})' for name in _CREWS)})",
)(
    in_terms_of(
        lambda each, *crews: each * np.sum(np.vstack(crews) > 0, axis=0), "tool_count", ("tool_each", *_CREWS),
        "What a crew takes, for each crew with a valve that needs it.",
    )
)  # fmt: skip
derived(
    title="Valves of the tool without a crew", unit="1", part=PART, source=GATHERED, per=Per.TOOL,
    excel="{tool_valves}-" + "-".join(f"{{{name}}}" for name in _CREWS),
)(
    in_terms_of(
        lambda valves, *crews: valves - sum(crews), "tool_crewless", ("tool_valves", *_CREWS),
        "Valves that need the tool and have no crew, since the crew typed cannot be used.",
    )
)  # fmt: skip


@fault(
    title="Hook too thin", part=PART, source=KIT, about=(), per=Per.TOOL,
    words="The space is so narrow that the hook rounds down to nothing: take a thin one as it is, or a finer step on Assumptions.",
    excel="{tool_thickness}<=0",
)  # fmt: skip
def tool_too_thin(tool_thickness: Num) -> Any:
    """Says that no hook of a whole step is thin enough."""
    return tool_thickness <= 0


@fault(
    title="Bushing without a wall", part=PART, source=KIT, about=(), per=Per.TOOL,
    words="The space is narrower than the clearances of the bushing: press the rings with the follower, or change the clearances.",
    excel="ROUND({tool_inside}-{tool_outside},{counting_digits})>=0",
)  # fmt: skip
def tool_no_wall(tool_inside: Num, tool_outside: Num, counting_digits: float) -> Any:
    """Says that a bushing of this size would have no wall."""
    return ~above_zero(tool_outside - tool_inside, counting_digits)


@fault(
    title="Tool without a crew", part=PART, source=GATHERED, about=(), per=Per.TOOL,
    words="Valves that need this tool have no crew: correct the crews typed in the list, or the people.", excel="{tool_crewless}>0",
)  # fmt: skip
def tool_has_no_crew(tool_crewless: Num) -> Any:
    """Says that no crew carries the tool for some valves."""
    return tool_crewless > 0


declare_check(PART, "check_tool", "Check tool", "OK, or what is wrong with a line of the kit.", per=Per.TOOL, used="tool_group")


# --- the kit against the valves ---

for _at, (_name, _title) in enumerate(GROUPS.items(), start=1):
    _number = {1: "1", 2: "2", 3: "2+1", 4: "4", 5: "4+1", 6: "4+2", 7: "4+2+1"}[_at]
    derived(
        title=f"Valves that need a {_title}", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE,
        excel=f'ROWS({{every_kit_{_name}_code}})-COUNTIF({{every_kit_{_name}_code}},"")',
    )(
        in_terms_of(
            lambda codes: float(np.sum(codes != "")), f"valves_with_{_name}", (f"every_kit_{_name}_code",),
            "Valves with a code of this group, counted in the list.",
        )
    )  # fmt: skip
    derived(
        title=f"Valves on the lines of the group {_title}", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE,
        excel=f"SUMIF({{every_tool_group}},{_number},{{every_tool_valves}})",
    )(
        in_terms_of(
            lambda groups, valves, at=_at: float(sum_where(groups, float(at), valves)[0]), f"valves_on_{_name}",
            ("every_tool_group", "every_tool_valves"), "Valves of the lines of this group, added up.",
        )
    )  # fmt: skip
derived(
    title="Valves that the kit list does not tie to", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE,
    excel="+".join(f"ABS({{valves_with_{name}}}-{{valves_on_{name}}})" for name in GROUPS),
)(
    in_terms_of(
        lambda *counts: sum(abs(one - other) for one, other in zip(counts[::2], counts[1::2], strict=True)), "kit_difference",
        tuple(f"valves_{what}_{name}" for name in GROUPS for what in ("with", "on")), "No valve is lost or counted twice, in any group.",
    )
)  # fmt: skip


@derived(
    title="Kit lines that are missing", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE,
    excel=f"MAX(0,{{{TOOLS}}}-COUNT({{every_tool_number}}))",
)  # fmt: skip
def tools_missing(tools_to_kit_bolt_tap: Num, every_tool_number: Num) -> Num:
    """More tools than the kit list has lines."""
    return np.maximum(0, tools_to_kit_bolt_tap - counted(every_tool_number))


@derived(title="Needs without a crew", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE, excel="SUM({every_tool_crewless})")
def kit_crewless(every_tool_crewless: Num) -> float:
    """How often a valve needs a tool and has no crew to carry it."""
    return total(every_tool_crewless)


@derived(title="Tools of all lines", unit="1", part=PART, source=GATHERED, per=Per.OUTAGE, excel="SUM({every_tool_count})")
def tools_total(every_tool_count: Num) -> float:
    """How many tools are carried in all."""
    return total(every_tool_count)


for _name, _function, _title, _sentence in (
    ("torque_least", "MIN", "Least torque", "The least torque of gland studs, for the choice of a torque wrench."),
    ("torque_most", "MAX", "Greatest torque", "The greatest torque of gland studs, for the choice of a torque wrench."),
):  # fmt: skip
    derived(
        title=_title, unit="N*mm", part=PART, source=GATHERED, per=Per.OUTAGE,
        excel=f'IF(COUNT({{every_job_torque}})>0,{_function}({{every_job_torque}}),"")',
    )(
        in_terms_of(
            lambda column, best={"MIN": np.fmin, "MAX": np.fmax}[_function]: best.reduce(column, initial=np.nan), _name,
            ("every_job_torque",), _sentence,
        )
    )  # fmt: skip


@fault(
    title="Kit list too short", part=PART, source=GATHERED, about=(), per=Per.OUTAGE,
    words="There are more tools than the kit list has lines: split the list of valves.", excel="{tools_missing}>0",
)  # fmt: skip
def kit_lines_short(tools_missing: Num) -> Any:
    """Says that tools are not shown."""
    return tools_missing > 0


@fault(
    title="Kit against valves", part=PART, source=GATHERED, about=(), per=Per.OUTAGE,
    words="The kit list does not tie to the valves: lines or rows are missing.", excel="{kit_difference}>0",
)  # fmt: skip
def kit_not_tied(kit_difference: Num) -> Any:
    """Says that a valve is on no line of its tool, or on two."""
    return kit_difference > 0


@fault(
    title="Kit without a crew", part=PART, source=GATHERED, about=(), per=Per.OUTAGE,
    words="Some valves have no crew to carry their tools: correct the crews typed in the list, or the people.", excel="{kit_crewless}>0",
)  # fmt: skip
def kit_has_no_crew(kit_crewless: Num) -> Any:
    """Says that some valves are left out of the crews' tools."""
    return kit_crewless > 0


declare_check(
    PART, "check_kit", "Check kit", "OK, or where the kit list does not tie to the valves.", per=Per.OUTAGE, used="kit_difference"
)
