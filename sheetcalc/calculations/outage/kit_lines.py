"""The kit list: the tools of the job, like ones gathered into a line, with the valves and the crews that need each.

Lines follow the valves as those of the order list do: the first valve that needs a tool opens its line. A crew carries one of each,
of wrenches for flange bolts two.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, word
from sheetcalc.calculations.gathering import count_where, sum_where, total
from sheetcalc.calculations.outage.grouped import GATHERED, by_group, choose, codes_of, declare_lines, groups_of, missing_of
from sheetcalc.calculations.outage.kit import GROUPS, KIT, LISTED, MOST_CREWS, PART
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derive, derived, fault, gathered
from sheetcalc.declare.quantity import Formula, Num, Per

declare_lines("tool", Per.TOOL, PART, LISTED, what="Kit", code="Kit code")


@derived(
    title="Tool",
    part=PART,
    source=KIT,
    text=True,
    per=Per.TOOL,
    excel='CHOOSE({tool_group},"wrench","tap and die","mandrel","packing hook","tamping sleeve","wrench for flange bolts",'
    '"tap and die for flange bolts")',
)
def tool_item(tool_group: Num) -> Any:
    """What it is."""
    return word(np.nan_to_num(tool_group), ("", *GROUPS.values()))


#: Where the marking of a group's tools stands, for those that have one.
_MARKINGS: Final = {
    "kit_wrench": "wrench_words",
    "kit_tap": "tap_and_die",
    "kit_bolt_wrench": "flange_wrench_words",
    "kit_bolt_tap": "flange_tap_and_die",
}


def _marking(codes: tuple[str, ...]) -> Formula:
    groups = groups_of(codes)
    columns = tuple(f"every_{_MARKINGS[group]}" for group in groups if group in _MARKINGS)
    choices = ",".join(f"INDEX({{every_{_MARKINGS[group]}}},{{tool_first}})" if group in _MARKINGS else '""' for group in groups)

    def chosen(of: Any, first: Any, *every: Any) -> Any:
        marked = iter(every)
        none = np.array("", dtype=object)
        return choose(of, *(pick(first, list(next(marked))) if group in _MARKINGS else none for group in groups))

    return Formula(reads=("tool_group", "tool_first", *columns), excel=f"CHOOSE({{tool_group}},{choices})", function=chosen)


gathered(
    "tool_words",
    codes_of(LISTED),
    _marking,
    "The wrench, or tap and die, as it is marked; blank for what is made to size.",
    title="Marking of the tool",
    text=True,
    part=PART,
    source=GATHERED,
    per=Per.TOOL,
)


def _declare_size(name: str, title: str, group: str, steps: str, step: str, sentence: str) -> None:
    """A size of one group of tools, in whole steps of its first valve: all valves of the line have the same."""
    place = list(GROUPS).index(group) + 1
    sizes = ['""'] * len(GROUPS)
    sizes[place - 1] = f"INDEX({{every_{steps}}},{{tool_first}})*{{{step}}}"
    derive(
        name,
        ("tool_group", f"every_{steps}", "tool_first", step),
        lambda of, column, first, unit: np.where(of == place, pick(first, column) * unit, np.nan),
        sentence,
        title=title,
        unit="mm",
        part=PART,
        source=KIT,
        per=Per.TOOL,
        excel=f"CHOOSE({{tool_group}},{','.join(sizes)})",
    )


_declare_size("tool_diameter", "Diameter of a mandrel", "mandrel", "kit_mandrel_steps", "order_step", "As thick as the stem.")
_declare_size(
    "tool_hook_reach", "Reach of a hook", "hook", "kit_reach_steps", "tool_step", "At least what the deepest of its valves needs."
)
_declare_size(
    "tool_thickness",
    "Thickness of a hook",
    "hook",
    "kit_thickness_steps",
    "hook_thickness_step",
    "At most what the narrowest of its valves allows.",
)
_declare_size("tool_outside", "Outside of a sleeve", "bushing", "kit_outside_steps", "order_step", "A little less than the bore.")
_declare_size("tool_inside", "Inside of a sleeve", "bushing", "kit_inside_steps", "order_step", "A little more than the stem.")
_declare_size(
    "tool_length", "Length of a sleeve", "bushing", "kit_length_steps", "tool_step", "At least what the deepest of its valves needs."
)


def _declare_crew(crew: int) -> None:
    """The column of a crew: how many of its valves need the tool."""
    key, before = (f"tool_crew_{one}_key" if one > 1 else "tool_first" for one in (crew, crew - 1))
    if crew > 1:
        derive(
            key,
            (before, "every_position"),
            lambda number, every: number + len(every),
            f"What the valves of crew {crew} that need the tool share: as many more than the crew before as the list has rows.",
            title=f"Tool and crew {crew}",
            unit="1",
            part=PART,
            source=GATHERED,
            per=Per.TOOL,
            excel=f"{{{before}}}+ROWS({{every_position}})",
        )
    gathered(
        f"tool_crew_{crew}",
        codes_of(LISTED),
        by_group("tool", ("<>_crew",), (key,), f"COUNTIF({{every_<>_crew}},{{{key}}})", count_where),
        f"How many valves of crew {crew} need the tool.",
        title=f"Valves of crew {crew}",
        unit="1",
        part=PART,
        source=GATHERED,
        per=Per.TOOL,
    )


for _crew in range(1, MOST_CREWS + 1):
    _declare_crew(_crew)
_CREWS: Final = tuple(f"tool_crew_{crew}" for crew in range(1, MOST_CREWS + 1))


@derived(
    title="Tools of a crew",
    unit="1",
    part=PART,
    source=KIT,
    per=Per.TOOL,
    excel="CHOOSE({tool_group},1,1,1,1,1,2,1)",
)
def tool_each(tool_group: Num) -> Any:
    """One; two wrenches for flange bolts, since one holds the far nut."""
    return choose(tool_group, 1.0, 1.0, 1.0, 1.0, 1.0, 2.0, 1.0)


derive(
    "tool_count",
    ("tool_each", *_CREWS),
    lambda each, *crews: each * np.sum(np.vstack(crews) > 0, axis=0),
    "What a crew takes, for each crew with a valve that needs it.",
    title="Tools needed",
    unit="1",
    part=PART,
    source=KIT,
    per=Per.TOOL,
    excel=f"{{tool_each}}*({'+'.join(f'SIGN({{{name}}})' for name in _CREWS)})",
)
derive(
    "tool_crewless",
    ("tool_valves", *_CREWS),
    lambda valves, *crews: valves - sum(crews),
    "Valves that need the tool and have no crew, since the crew typed cannot be used.",
    title="Valves of the tool without a crew",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.TOOL,
    excel="{tool_valves}-" + "-".join(f"{{{name}}}" for name in _CREWS),
)


@fault(
    title="Hook too thin",
    part=PART,
    source=KIT,
    about=(),
    per=Per.TOOL,
    words="The space is so narrow that the hook rounds down to nothing: take a thin one as it is, or a finer step on Assumptions.",
    excel="{tool_thickness}<=0",
)
def tool_too_thin(tool_thickness: Num) -> Any:
    """Says that no hook of a whole step is thin enough."""
    return tool_thickness <= 0


@fault(
    title="Tamping sleeve without a wall",
    part=PART,
    source=KIT,
    about=(),
    per=Per.TOOL,
    words="The space is narrower than the clearances of the tamping sleeve: press the rings with the follower, or change the clearances.",
    excel="ROUND({tool_inside}-{tool_outside},{counting_digits})>=0",
)
def tool_no_wall(tool_inside: Num, tool_outside: Num, counting_digits: float) -> Any:
    """Says that a sleeve of this size would have no wall."""
    return ~above_zero(tool_outside - tool_inside, counting_digits)


@fault(
    title="Tool without a crew",
    part=PART,
    source=GATHERED,
    about=(),
    per=Per.TOOL,
    words="Valves that need this tool have no crew: correct the crews typed in the list, or the people.",
    excel="{tool_crewless}>0",
)
def tool_has_no_crew(tool_crewless: Num) -> Any:
    """Says that no crew carries the tool for some valves."""
    return tool_crewless > 0


declare_check(PART, "check_tool", "Check tool", "OK, or what is wrong with a line of the kit.", per=Per.TOOL, used="tool_group")


# --- the kit against the valves ---

for _at, (_name, _title) in enumerate(GROUPS.items(), start=1):
    _number = {1: "1", 2: "2", 3: "2+1", 4: "4", 5: "4+1", 6: "4+2", 7: "4+2+1"}[_at]
    derive(
        f"valves_with_{_name}",
        (f"every_kit_{_name}_code",),
        lambda codes: float(np.sum(codes != "")),
        "Valves with a code of this group, counted in the list.",
        title=f"Valves that need a {_title}",
        unit="1",
        part=PART,
        source=GATHERED,
        per=Per.OUTAGE,
        excel=f'ROWS({{every_kit_{_name}_code}})-COUNTIF({{every_kit_{_name}_code}},"")',
    )
    gathered(
        f"valves_on_{_name}",
        (f"kit_{_name}_code",),
        lambda _codes, at=_at, number=_number: Formula(  # type: ignore[misc]
            reads=("every_tool_group", "every_tool_valves"),
            excel=f"SUMIF({{every_tool_group}},{number},{{every_tool_valves}})",
            function=lambda groups, valves: float(sum_where(groups, float(at), valves)[0]),
        ),
        "Valves of the lines of this group, added up.",
        title=f"Valves on the lines of the group {_title}",
        unit="1",
        part=PART,
        source=GATHERED,
        per=Per.OUTAGE,
    )


def _difference(codes: tuple[str, ...]) -> Formula:
    groups = tuple(code.removeprefix("kit_").removesuffix("_code") for code in codes)
    reads = tuple(f"valves_{what}_{name}" for name in groups for what in ("with", "on"))
    excel = "+".join(f"ABS({{valves_with_{name}}}-{{valves_on_{name}}})" for name in groups)
    return Formula(
        reads=reads,
        excel=excel,
        function=lambda *counts: sum(map(abs, np.subtract(counts[::2], counts[1::2]))),
    )


gathered(
    "kit_difference",
    codes_of(LISTED),
    _difference,
    "No valve is lost or counted twice, in any group.",
    title="Valves that the kit list does not tie to",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.OUTAGE,
)
gathered(
    "tools_missing",
    codes_of(LISTED),
    missing_of("tool"),
    "More tools than the kit list has lines.",
    title="Kit lines that are missing",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.OUTAGE,
)


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
):
    derive(
        _name,
        ("every_job_torque",),
        lambda column, best={"MIN": np.fmin, "MAX": np.fmax}[_function]: best.reduce(column, initial=np.nan),
        _sentence,
        title=_title,
        unit="N*mm",
        part=PART,
        source=GATHERED,
        per=Per.OUTAGE,
        excel=f'IF(COUNT({{every_job_torque}})>0,{_function}({{every_job_torque}}),"")',
    )


@fault(
    title="Kit list too short",
    part=PART,
    source=GATHERED,
    about=(),
    per=Per.OUTAGE,
    words="There are more tools than the kit list has lines: split the list of valves.",
    excel="{tools_missing}>0",
)
def kit_lines_short(tools_missing: Num) -> Any:
    """Says that tools are not shown."""
    return tools_missing > 0


@fault(
    title="Kit against valves",
    part=PART,
    source=GATHERED,
    about=(),
    per=Per.OUTAGE,
    words="The kit list does not tie to the valves: lines or rows are missing.",
    excel="{kit_difference}>0",
)
def kit_not_tied(kit_difference: Num) -> Any:
    """Says that a valve is on no line of its tool, or on two."""
    return kit_difference > 0


@fault(
    title="Kit without a crew",
    part=PART,
    source=GATHERED,
    about=(),
    per=Per.OUTAGE,
    words="Some valves have no crew to carry their tools: correct the crews typed in the list, or the people.",
    excel="{kit_crewless}>0",
)
def kit_has_no_crew(kit_crewless: Num) -> Any:
    """Says that some valves are left out of the crews' tools."""
    return kit_crewless > 0


declare_check(
    PART, "check_kit", "Check kit", "OK, or where the kit list does not tie to the valves.", per=Per.OUTAGE, used="kit_difference"
)
