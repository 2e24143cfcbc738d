"""The front page of an outage: the valves in trouble, the worst first, in words."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import smallest
from sheetcalc.declare.blocks import derived, entry
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "troubles"
READING = cite("reading")


@derived(
    title="Class of trouble",
    unit="1",
    part=PART,
    source=READING,
    per=Per.LISTED,
    excel='IF(EXACT({state},"HOLD"),0,CHOOSE(1+{severity},"",2,1))',
)
def trouble_class(state: Text, severity: Num) -> Num:
    """0 HOLD, 1 INCOMPLETE, 2 LOOK; blank where all is well."""
    return np.where(state == "HOLD", 0.0, np.select([severity == 1, severity == 2], [2.0, 1.0], np.nan))  # noqa: PLR2004


@derived(
    title="Rank of trouble",
    unit="1",
    part=PART,
    source=READING,
    per=Per.LISTED,
    excel="{trouble_class}*ROWS({every_position})+{position}",
)
def trouble_rank(trouble_class: Num, every_position: Num, position: Num) -> Num:
    """The lower, the worse; equal troubles in the order of the list."""
    return trouble_class * len(every_position) + position


trouble_place = entry(
    "trouble_place",
    title="Trouble",
    unit="1",
    part=PART,
    source=READING,
    per=Per.TROUBLE,
    sentence="Counted from the worst.",
)


@derived(
    title="Rank of the valve in trouble",
    unit="1",
    part=PART,
    source=READING,
    per=Per.TROUBLE,
    excel='IFERROR(SMALL({every_trouble_rank},{trouble_place}),"")',
)
def troubled_rank(every_trouble_rank: Num, trouble_place: Num) -> Any:
    """The rank of the valve in this place; blank where there are not so many."""
    return smallest(every_trouble_rank, trouble_place)


@derived(
    title="Valve in trouble",
    unit="1",
    part=PART,
    source=READING,
    per=Per.TROUBLE,
    excel="MATCH({troubled_rank},{every_trouble_rank},0)",
)
def troubled_valve(troubled_rank: Num, every_trouble_rank: Num) -> Any:
    """Its number in the list."""
    rows = {rank: float(row) for row, rank in enumerate(every_trouble_rank.tolist(), start=1) if not np.isnan(rank)}
    return np.array([rows.get(rank, np.nan) for rank in troubled_rank.tolist()])


@derived(title="Tag in trouble", part=PART, source=READING, text=True, per=Per.TROUBLE, excel="INDEX({every_tag},{troubled_valve})")
def troubled_tag(every_tag: Text, troubled_valve: Num) -> Any:
    """Its tag."""
    return pick(troubled_valve, [str(tag) for tag in every_tag])


@derived(title="State in trouble", part=PART, source=READING, text=True, per=Per.TROUBLE, excel="INDEX({every_state},{troubled_valve})")
def troubled_state(every_state: Text, troubled_valve: Num) -> Any:
    """HOLD, INCOMPLETE or LOOK."""
    return pick(troubled_valve, list(every_state))


@derived(
    title="Trouble in words",
    part=PART,
    source=READING,
    text=True,
    per=Per.TROUBLE,
    excel="INDEX({every_all_trouble},{troubled_valve})",
)
def troubled_words(every_all_trouble: Text, troubled_valve: Num) -> Any:
    """What is wrong with it."""
    return pick(troubled_valve, list(every_all_trouble))
