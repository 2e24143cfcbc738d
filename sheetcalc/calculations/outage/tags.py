"""The tags of a list: each valve has one, and none stands twice, or cards and orders cannot be told apart."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import either
from sheetcalc.calculations.gathering import first_with
from sheetcalc.calculations.outage.grouped import escaped
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "tag"
READING = cite("reading")
_MISSING, _AGAIN = "Tag is missing.", "This tag stands in an earlier row too."


@derived(
    title="First row with this tag",
    unit="1",
    part=PART,
    source=cite("gathering"),
    per=Per.LISTED,
    excel=f'IFERROR(MATCH({escaped("{tag}")},{{every_tag}},0),"")',
)
def tag_first_row(tag: Text, every_tag: Text) -> Num:  # noqa: ARG001 - the tag of a row is one of all of them
    """The number of the first row whose tag is the same, whatever the case of its letters."""
    return np.where([isinstance(one, str) for one in every_tag], first_with(every_tag), np.nan)


@derived(
    title="Tag not to be told apart",
    part=PART,
    source=READING,
    text=True,
    guards=False,
    per=Per.LISTED,
    excel=f'IF(SUM({{tag_first_row}})<SIGN(SUM({{tag_first_row}}))*{{position}},"{_AGAIN}",'
    f'IF(AND({{in_use}}=1,{{tag}}=""),"{_MISSING}",""))',
)
def tag_twice(in_use: Num, tag: Text, tag_first_row: Num, position: Num) -> Any:
    """Says that the tag stands in an earlier row too, or that it is missing."""
    return either(tag_first_row < position, _AGAIN, either((in_use == 1) & (tag == ""), _MISSING, ""))


declare_check("tag", "check_tag", "Tag check", "OK, or that the tag is missing or stands twice.", ("tag_twice",), per=Per.LISTED)
