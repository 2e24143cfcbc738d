"""The follow-up: what the site sets for it, and the valves that are followed."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick, row_exact
from sheetcalc.calculations.gathering import first_row_of
from sheetcalc.calculations.given import given, given_code
from sheetcalc.calculations.outage.grouped import escaped
from sheetcalc.calculations.outage.log import LOGGED, READING, tag_key
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "follow-up"
CHART = "chart"
RANGE = cite("fieller")
LEAK = cite("leak-limits")

# --- what the site sets -----------------------------------------------------------------------------------------------

given_code(
    "leak_limit_rule",
    title="Leak limit, rule",
    part=PART,
    names="leak_limit_names",
    usual="leak_limit_usual",
    per=Per.OUTAGE,
    remedy="choose one from the list on Tables.",
    sentence="The rule that says from which leak reading on a valve leaks.",
)
given(
    "leak_limit_own",
    title="Leak limit of the site",
    symbol="",
    unit="1",
    part=PART,
    per=Per.OUTAGE,
    low="1",
    high="largest_leak",
    remedy="type parts per million or clear the cell.",
    sentence="The leak reading, in parts per million, from which on a valve leaks by the site's own rule.",
)
given_code(
    "confidence",
    title="Confidence of the range",
    part=PART,
    names="confidence_names",
    usual="confidence_usual",
    per=Per.OUTAGE,
    remedy="choose one from the list on Tables.",
    sentence="How surely the range of a forecast holds the date, at the same rate of loss.",
)
chart_tag = entry(
    "chart_tag",
    title="Valve of the chart",
    text=True,
    part=CHART,
    source=READING,
    per=Per.OUTAGE,
    sentence="The tag of the valve that the chart shows.",
)


@derived(
    title="Leak limit, row",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.OUTAGE,
    excel="MATCH({leak_limit_rule},{leak_limit_names},0)",
)
def leak_limit_row(leak_limit_rule: Text, leak_limit_names: list[str]) -> Num:
    """The row of the rule on Tables."""
    return row_exact(leak_limit_rule, leak_limit_names)


@derived(
    title="Leak limit of the rule",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.OUTAGE,
    excel="INDEX({leak_limit_figures},{leak_limit_row})",
)
def leak_limit_listed(leak_limit_figures: Num, leak_limit_row: Num) -> Any:
    """The figure of the rule in parts per million; blank where the site sets it."""
    return pick(leak_limit_row, leak_limit_figures)


@derived(
    title="Leak limit",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.OUTAGE,
    optional=("leak_limit_listed", "leak_limit_own"),
    excel='IF(EXACT({leak_limit_rule},"site\'s own"),{leak_limit_own},{leak_limit_listed})',
)
def leak_limit(leak_limit_rule: Text, leak_limit_own: Num, leak_limit_listed: Num) -> Num:
    """The leak reading from which on a valve leaks: that of the rule, or the site's own, in parts per million."""
    return np.where(leak_limit_rule == "site's own", leak_limit_own, leak_limit_listed)


@fault(
    title="Own leak limit not typed",
    part=PART,
    source=LEAK,
    about=("leak_limit_own_entered",),
    per=Per.OUTAGE,
    optional=("leak_limit",),
    words="The site's own leak limit is chosen and no usable figure is typed: type it in parts per million. Until then no leak is judged.",
    excel="AND({leak_limit_row}>0,NOT(ISNUMBER({leak_limit})))",
)
def leak_limit_missing(leak_limit_row: Num, leak_limit: Num) -> Any:
    """Says that the limit that is chosen is not known."""
    return (leak_limit_row > 0) & np.isnan(leak_limit)


@fault(
    title="Own leak limit not used",
    part=PART,
    source=LEAK,
    about=("leak_limit_own_entered", "leak_limit_rule_entered"),
    per=Per.OUTAGE,
    words="A leak limit of the site is typed and another rule is chosen: it is not used. Choose the site's own, or clear it.",
    excel="AND({leak_limit_own}>0,{leak_limit_listed}>0)",
)
def leak_limit_idle(leak_limit_own: Num, leak_limit_listed: Num) -> Any:
    """Says that a figure is typed for nothing."""
    return (leak_limit_own > 0) & (leak_limit_listed > 0)


@fault(
    title="Next outage in the past",
    part=PART,
    source=LOGGED,
    about=("next_outage_entered",),
    per=Per.OUTAGE,
    words="The next outage is not after the status date: type when the next one begins, since forecasts are held against it.",
    excel="{next_outage}<={status_date}",
)
def next_outage_past(next_outage: Num, status_date: Num) -> Any:
    """Says that forecasts are held against a day that is over."""
    return next_outage <= status_date


@derived(
    title="Column of the confidence",
    unit="1",
    part=PART,
    source=cite("student-t"),
    per=Per.OUTAGE,
    excel="MATCH({confidence},{confidence_names},0)",
)
def confidence_column(confidence: Text, confidence_names: list[str]) -> Num:
    """Which column of Student's t belongs to the confidence."""
    return row_exact(confidence, confidence_names)


# --- the valves followed ----------------------------------------------------------------------------------------------

followed_number = entry(
    "followed_number",
    title="Number of the valve followed",
    unit="1",
    part=PART,
    source=READING,
    per=Per.FOLLOWED,
    sentence="The place of the valve in the list of valves followed, counted from 1.",
)
followed_tag = entry(
    "followed_tag",
    title="Tag of the valve followed",
    text=True,
    part=PART,
    source=READING,
    per=Per.FOLLOWED,
    sentence="The tag under which the log speaks of the valve.",
)
given(
    "followed_take_up",
    title="Least take-up of the valve followed",
    symbol="",
    unit="mm",
    part=PART,
    per=Per.FOLLOWED,
    usual="least_take_up_floor",
    low="0",
    high="largest_length",
    remedy="type the gap that must be left or clear the cell.",
    sentence="The gap at which the gland has run out of adjustment.",
)


@derived(title="Tag, looked up", text=True, part=PART, source=READING, per=Per.FOLLOWED, excel="TRIM({followed_tag})")
def followed_key(followed_tag: Text) -> Text:
    """The tag without stray spaces."""
    return tag_key(followed_tag)


@derived(
    title="Valve followed, in use",
    unit="1",
    part=PART,
    source=READING,
    per=Per.FOLLOWED,
    guards=False,
    excel='IFERROR(IF({followed_tag}&{followed_take_up_entered}="","",1),1)',
)
def followed_in_use(followed_tag: Text, followed_take_up_entered: Num) -> Num:
    """1 where anything is typed in the row."""
    return np.where((followed_tag != "") | ~np.isnan(followed_take_up_entered), 1.0, np.nan)


@derived(
    title="Valve followed, number",
    unit="1",
    part=PART,
    source=READING,
    per=Per.FOLLOWED,
    guards=False,
    excel='IF({followed_key}="","",{followed_number})',
)
def followed_valve(followed_key: Text, followed_number: Num) -> Num:
    """The number of the valve where it has a tag."""
    return np.where(followed_key == "", np.nan, followed_number)


@fault(
    title="Valve followed without a tag",
    part=PART,
    source=LOGGED,
    about=("followed_tag",),
    per=Per.FOLLOWED,
    optional=("followed_key",),
    words="Tag is missing: type it, so that the log can speak of this valve.",
    excel='AND({followed_in_use}=1,{followed_key}="")',
)
def followed_tag_missing(followed_in_use: Num, followed_key: Text) -> Any:
    """Says that a valve has no name."""
    return (followed_in_use == 1) & (followed_key == "")


@fault(
    title="Valve followed twice",
    part=PART,
    source=cite("gathering"),
    about=("followed_tag",),
    per=Per.FOLLOWED,
    words="This tag stands in an earlier row too: all readings go to that row. Clear this one.",
    excel=f"MATCH({escaped('{followed_key}')},{{every_followed_key}},0)<{{followed_number}}",
)
def followed_twice(followed_key: Text, every_followed_key: Text, followed_number: Num) -> Any:
    """Says that a tag is repeated."""
    return first_row_of(followed_key, every_followed_key) < followed_number


declare_check(
    PART,
    "check_followed",
    "Check valve followed",
    "OK, or what is wrong with a row of the valves followed.",
    per=Per.FOLLOWED,
    used="followed_in_use",
)


@derived(
    title="Valve followed to look at",
    unit="1",
    part=PART,
    source=READING,
    per=Per.FOLLOWED,
    guards=False,
    excel='IF({followed_trouble}="","",1)',
)
def followed_wrong(followed_trouble: Text) -> Num:
    """1 where something is wrong with the row."""
    return np.where(followed_trouble == "", np.nan, 1.0)
