"""The chart of one valve followed."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import count_below, first_row_of, smallest
from sheetcalc.calculations.outage.follow_up import CHART
from sheetcalc.calculations.outage.grouped import escaped
from sheetcalc.calculations.outage.log import FITTED, LOGGED, READING, SORTED, row_of, tag_key
from sheetcalc.declare.blocks import derive, derived, entry
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite


@derived(title="Tag of the chart, looked up", text=True, part=CHART, source=READING, per=Per.OUTAGE, excel="TRIM({chart_tag})")
def chart_key(chart_tag: Text) -> Text:
    """The tag without stray spaces."""
    return tag_key(chart_tag)


@derived(
    title="Number of the valve of the chart",
    unit="1",
    part=CHART,
    source=cite("gathering"),
    per=Per.OUTAGE,
    excel=f'IFERROR(MATCH({escaped("{chart_key}")},{{every_followed_key}},0),"")',
)
def chart_valve(chart_key: Text, every_followed_key: Text) -> Any:
    """The number of the valve in the list of valves followed."""
    return first_row_of(chart_key, every_followed_key)


for _name, _of, _unit, _title in (
    ("chart_readings", "readings", "1", "Readings"),
    ("chart_last_gap", "followed_last_gap", "1", "Code of the last reading"),
    ("chart_mean_date", "followed_mean_date", "date", "Mean date"),
    ("chart_mean_gap", "followed_mean_gap", "mm", "Mean gap"),
    ("chart_loss", "loss_rate", "mm/d", "Loss in a day"),
    ("chart_take_up", "followed_take_up", "mm", "Least take-up"),
):
    derive(
        _name,
        (f"every_{_of}", "chart_valve"),
        lambda column, row: pick(row, column),
        f"{_title} of the valve that the chart shows.",
        title=f"{_title}, valve of the chart",
        unit=_unit,
        part=CHART,
        source=LOGGED,
        per=Per.OUTAGE,
        excel=f"INDEX({{every_{_of}}},{{chart_valve}})",
    )


@derived(
    title="Gaps up to the last of the chart",
    unit="1",
    part=CHART,
    source=SORTED,
    per=Per.OUTAGE,
    excel='IF({chart_readings}>0,COUNTIF({every_log_gap_code},"<"&({chart_last_gap}+1)),"")',
)
def chart_end(chart_readings: Num, every_log_gap_code: Num, chart_last_gap: Num) -> Num:
    """The place of the valve's last gap among all gaps by code."""
    return np.where(chart_readings > 0, count_below(every_log_gap_code, chart_last_gap + 1), np.nan)


@derived(
    title="Readings on the chart",
    unit="1",
    part=CHART,
    source=LOGGED,
    per=Per.OUTAGE,
    optional=("chart_end",),
    excel='IF(ISNUMBER({chart_end}),MIN({chart_readings},ROWS({every_point_number})),"")',
)
def chart_shown(chart_end: Num, chart_readings: Num, every_point_number: Num) -> Num:
    """How many readings the chart shows: the last ones, where there are more than it has points."""
    return np.where(np.isnan(chart_end), np.nan, np.minimum(chart_readings, len(every_point_number)))


#: What is said of the chart: of no tag first, then of each step that was come to.
CHART_WORDS: Final = (
    "Type a tag to see its chart.",
    "This tag is not in the list of valves followed: choose one of them.",
    "No gap reading of this valve counts yet.",
    "All readings are of one date: the line is their mean.",
    "",
)
_CHART_STEPS: Final = ("chart_valve", "chart_shown", "chart_loss")

derive(
    "chart_words",
    ("chart_key", *_CHART_STEPS),
    lambda key, *steps: np.array(CHART_WORDS, dtype=object)[
        (key != "").astype(np.intp) + sum((~np.isnan(step)).astype(np.intp) for step in steps)
    ],
    "What the chart lacks, if anything.",
    title="Chart, in words",
    text=True,
    part=CHART,
    source=READING,
    per=Per.OUTAGE,
    guards=False,
    excel="CHOOSE(1+SIGN(LEN({chart_key}))+COUNT("
    + ",".join(f"{{{name}}}" for name in _CHART_STEPS)
    + "),"
    + ",".join(f'"{words}"' for words in CHART_WORDS)
    + ")",
)

point_number = entry(
    "point_number",
    title="Point of the chart",
    unit="1",
    part=CHART,
    source=READING,
    per=Per.POINT,
    sentence="The number of the point.",
)


@derived(
    title="Code of the point",
    unit="1",
    part=CHART,
    source=SORTED,
    per=Per.POINT,
    excel="SMALL({every_log_gap_code},{chart_end}-{chart_shown}+MIN({point_number},{chart_shown}))",
)
def point_code(every_log_gap_code: Num, chart_end: Num, chart_shown: Num, point_number: Num) -> Any:
    """The code of the gap that the point shows; points beyond the last reading repeat it, since a chart draws no blanks."""
    return smallest(every_log_gap_code, chart_end - chart_shown + np.minimum(point_number, chart_shown))


for _name, _column, _title, _unit, _says in (
    ("point_date", "log_date", "Date of the point", "date", "When the gap was read."),
    ("point_gap", "log_gap", "Gap of the point", "mm", "The gap that was read."),
):
    derive(
        _name,
        (f"every_{_column}", "point_code", "every_log_gap_code"),
        lambda column, code, codes: pick(row_of(code, codes), column),
        _says,
        title=_title,
        unit=_unit,
        part=CHART,
        source=LOGGED,
        per=Per.POINT,
        excel=f"INDEX({{every_{_column}}},MATCH({{point_code}},{{every_log_gap_code}},0))",
    )


@derived(
    title="Line at the point",
    unit="mm",
    part=CHART,
    source=FITTED,
    per=Per.POINT,
    optional=("chart_loss",),
    empirical="a day number less a day number is a number of days",
    excel="{chart_mean_gap}-SUM({chart_loss})*({point_date}-{chart_mean_date})",
)
def point_line(chart_mean_gap: Num, chart_loss: Num, point_date: Num, chart_mean_date: Num) -> Num:
    """The fitted line at the date of the point; the mean gap where no line can be fitted."""
    return chart_mean_gap - np.nan_to_num(chart_loss) * (point_date - chart_mean_date)


@derived(
    title="Least take-up at the point",
    unit="mm",
    part=CHART,
    source=LOGGED,
    per=Per.POINT,
    optional=("chart_take_up",),
    excel='IF({point_code}>0,{chart_take_up},"")',
)
def point_take_up(point_code: Num, chart_take_up: Num) -> Num:
    """The gap at which the gland has run out of adjustment, for the chart."""
    return np.where(point_code > 0, chart_take_up, np.nan)
