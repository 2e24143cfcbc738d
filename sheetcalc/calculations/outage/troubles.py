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
    title="Rank of trouble",
    unit="1",
    part=PART,
    source=READING,
    per=Per.LISTED,
    excel='IF({gravity}>1,{position}-{gravity}*ROWS({every_position}),"")',
)
def trouble_rank(gravity: Num, position: Num, every_position: Num) -> Num:
    """The lower, the graver; equal troubles in the order of the list. Blank where there is nothing to look at."""
    return np.where(gravity > 1, position - gravity * len(every_position), np.nan)


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
    """STOP, MISSING, SIZED or LOOK."""
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
