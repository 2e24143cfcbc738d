"""The follow-up: for each valve the line through its gap readings since the last repack, when it runs out, and what to do.

The line is that of least squares. When it meets the least take-up is told with a range, by Fieller's theorem: the range is
where the confidence band of the line meets the least take-up. Nothing is foretold from too few readings, from a gap that
does not fall, or where the fall cannot be told from the scatter.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, pick, pick_in, rounded, row_exact, whole, whole_up
from sheetcalc.calculations.entries import given, given_code
from sheetcalc.calculations.gathering import count_below, count_where, counted, first_row_of, smallest, sum_where
from sheetcalc.calculations.grouped import escaped
from sheetcalc.calculations.log import FITTED, LOGGED, READING, SORTED, row_of, tag_key
from sheetcalc.calculations.state import declare_check
from sheetcalc.declare.blocks import derive, derived, entry, fault
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
    sentence="How surely the range of a forecast holds the date, if the loss goes on alike.",
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


# --- the last repack, the readings since, and the last of each kind ----------------------------------------------------


@derived(
    title="Start of the codes",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel="{followed_valve}*{day_base}*{row_base}",
)
def followed_floor(followed_valve: Num, day_base: float, row_base: float) -> Num:
    """A whole number below every code of this valve."""
    return followed_valve * day_base * row_base


@derived(
    title="End of the codes",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel="{followed_floor}+{day_base}*{row_base}",
)
def followed_ceiling(followed_floor: Num, day_base: float, row_base: float) -> Num:
    """A whole number above every code of this valve."""
    return followed_floor + day_base * row_base


#: What a row of the log can be, how it is called, and which code of it is the last of its kind.
for _kind, _what in (
    ("repack", "repack"),
    ("adjust", "adjustment"),
    ("gap", "gap read"),
    ("leak", "leak read"),
    ("torque", "word on torque"),
):
    derive(
        f"followed_last_{_kind}",
        (f"every_log_{_kind}_code", "followed_ceiling"),
        lambda codes, ceiling: np.nan_to_num(smallest(codes, count_below(codes, ceiling))),
        f"The greatest code of a {_what} up to this valve: an earlier valve's where it has none itself, 0 where none has.",
        title=f"Code of the last {_what}",
        unit="1",
        part=PART,
        source=SORTED,
        per=Per.FOLLOWED,
        excel=f'IFERROR(SMALL({{every_log_{_kind}_code}},COUNTIF({{every_log_{_kind}_code}},"<"&{{followed_ceiling}})),0)',
    )


@derived(
    title="Code from which readings count",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel="MAX({followed_floor},{followed_last_repack})",
)
def followed_restart(followed_floor: Num, followed_last_repack: Num) -> Num:
    """The code of the last repack; where there is none, the start of the valve's codes."""
    return np.maximum(followed_floor, followed_last_repack)


@derived(
    title="Last repack",
    unit="date",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel='IF({followed_last_repack}>{followed_floor},INDEX({every_log_date},MATCH({followed_last_repack},{every_log_repack_code},0)),"")',
)
def last_repack(followed_last_repack: Num, followed_floor: Num, every_log_date: Num, every_log_repack_code: Num) -> Num:
    """The date of the last repack in the log, up to the status date."""
    found = row_of(followed_last_repack, every_log_repack_code)
    return np.where(followed_last_repack > followed_floor, pick(found, every_log_date), np.nan)


@derived(
    title="Readings that count",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="COUNTIF({every_log_counted},{followed_valve})",
)
def readings(every_log_counted: Num, followed_valve: Num) -> Any:
    """How many gap readings of the valve there are since its last repack, the first one at the repack included."""
    return count_where(every_log_counted, followed_valve)


@derived(
    title="Code of the last gap that counts",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel='IF({readings}>0,{followed_last_gap},"")',
)
def last_gap_code(readings: Num, followed_last_gap: Num) -> Num:
    """The code of the last gap that counts."""
    return np.where(readings > 0, followed_last_gap, np.nan)


@derived(
    title="Code of the first gap that counts",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel='IF({readings}>0,SMALL({every_log_gap_code},1+COUNTIF({every_log_gap_code},"<"&{followed_restart})),"")',
)
def first_gap_code(readings: Num, every_log_gap_code: Num, followed_restart: Num) -> Num:
    """The code of the first gap that counts."""
    return np.where(readings > 0, smallest(every_log_gap_code, 1 + count_below(every_log_gap_code, followed_restart)), np.nan)


for _name, _column, _code, _title, _unit, _says in (
    ("first_reading_date", "log_date", "first_gap_code", "First reading", "date", "The date of the first gap that counts."),
    ("last_reading_date", "log_date", "last_gap_code", "Last reading", "date", "The date of the last gap that counts."),
    ("last_gap", "log_gap", "last_gap_code", "Last gap", "mm", "The smaller gap of the last reading that counts."),
    (
        "last_gap_difference",
        "log_gap_difference",
        "last_gap_code",
        "Last gap difference",
        "mm",
        "How far the two gaps differ at the last reading that counts; blank where one gap alone was read.",
    ),
):
    derive(
        _name,
        (f"every_{_column}", _code, "every_log_gap_code"),
        lambda column, code, codes: pick(row_of(code, codes), column),
        _says,
        title=_title,
        unit=_unit,
        part=PART,
        source=LOGGED,
        per=Per.FOLLOWED,
        excel=f"INDEX({{every_{_column}}},MATCH({{{_code}}},{{every_log_gap_code}},0))",
    )


@derived(
    title="Take-up left",
    unit="mm",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="{last_gap}-{followed_take_up}",
)
def take_up_left(last_gap: Num, followed_take_up: Num) -> Num:
    """How much the gland can still be drawn down before the least take-up is reached."""
    return last_gap - followed_take_up


# --- the line ---------------------------------------------------------------------------------------------------------


for _sum, _unit, _what in (
    ("x", "d", "days from the middle"),
    ("y", "mm", "gaps from the middle"),
    ("xx", "d**2", "squares of the days from the middle"),
    ("xy", "mm*d", "products of days and gap from the middle"),
    ("yy", "mm**2", "squares of the gaps from the middle"),
):
    derive(
        f"followed_all_{_sum}",
        ("every_log_counted", "followed_valve", f"every_log_{_sum}"),
        sum_where,
        f"The sum of the {_what}, over the readings that count.",
        title=f"Sum of the {_what}",
        unit=_unit,
        part=PART,
        source=FITTED,
        per=Per.FOLLOWED,
        excel=f"SUMIF({{every_log_counted}},{{followed_valve}},{{every_log_{_sum}}})",
    )


@derived(
    title="Mean date of the readings",
    unit="date",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    empirical="a day number and a number of days make a day number",
    excel='IF({readings}>0,{log_middle_date}+{followed_all_x}/{readings},"")',
)
def followed_mean_date(readings: Num, log_middle_date: Num, followed_all_x: Num) -> Num:
    """The mean of the dates that count."""
    return np.where(readings > 0, log_middle_date + followed_all_x / readings, np.nan)


@derived(
    title="Mean gap of the readings",
    unit="mm",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    excel='IF({readings}>0,{log_middle_gap}+{followed_all_y}/{readings},"")',
)
def followed_mean_gap(readings: Num, log_middle_gap: Num, followed_all_y: Num) -> Num:
    """The mean of the gaps that count."""
    return np.where(readings > 0, log_middle_gap + followed_all_y / readings, np.nan)


for _one, _two, _unit, _what in (
    ("x", "x", "d**2", "Squares of the days"),
    ("x", "y", "mm*d", "Products of days and gap"),
    ("y", "y", "mm**2", "Squares of the gaps"),
):
    _product = f"{{followed_all_{_one}}}^2" if _one == _two else f"{{followed_all_{_one}}}*{{followed_all_{_two}}}"
    derive(
        f"followed_sum_{_one}{_two}",
        ("readings", f"followed_all_{_one}{_two}", *dict.fromkeys((f"followed_all_{_one}", f"followed_all_{_two}"))),
        lambda count, both, *sides: np.where(count > 0, both - sides[0] * sides[-1] / count, np.nan),
        f"{_what} about their means, summed over the readings that count.",
        title=f"{_what} about the mean, sum",
        unit=_unit,
        part=PART,
        source=FITTED,
        per=Per.FOLLOWED,
        excel=f'IF({{readings}}>0,{{followed_all_{_one}{_two}}}-{_product}/{{readings}},"")',
    )


@derived(
    title="Days between first and last reading",
    unit="d",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    empirical="a day number less a day number is a number of days",
    excel="{last_reading_date}-{first_reading_date}",
)
def reading_days(last_reading_date: Num, first_reading_date: Num) -> Num:
    """How long the gland has been watched since the last repack."""
    return last_reading_date - first_reading_date


@derived(
    title="Loss of gap in a day",
    unit="mm/d",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    excel='IF(ROUND({followed_sum_xx},{counting_digits})>0,(0-{followed_sum_xy})/{followed_sum_xx},"")',
)
def loss_rate(followed_sum_xx: Num, counting_digits: float, followed_sum_xy: Num) -> Num:
    """By how much the fitted line falls in a day, negative where the gap grows; blank where all readings are of one date."""
    return np.where(above_zero(followed_sum_xx, counting_digits), (0 - followed_sum_xy) / followed_sum_xx, np.nan)


@derived(
    title="Loss of gap in a year",
    unit="mm",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    empirical="a rate in a day times the days of a year",
    excel="{loss_rate}*{days_per_year}",
)
def loss_per_year(loss_rate: Num, days_per_year: float) -> Num:
    """By how much the fitted line falls in a year."""
    return loss_rate * days_per_year


@derived(
    title="Gap of the line at the status date",
    unit="mm",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    empirical="a day number less a day number is a number of days",
    excel="{followed_mean_gap}-{loss_rate}*({status_date}-{followed_mean_date})",
)
def fitted_gap(followed_mean_gap: Num, loss_rate: Num, status_date: Num, followed_mean_date: Num) -> Num:
    """What the fitted line says that the gap is on the status date."""
    return followed_mean_gap - loss_rate * (status_date - followed_mean_date)


@derived(
    title="Degrees of freedom",
    unit="1",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    excel='IF({readings}>2,{readings}-2,"")',
)
def followed_freedom(readings: Num) -> Num:
    """Readings beyond the two that any line goes through."""
    return np.where(readings > 2, readings - 2, np.nan)  # noqa: PLR2004 - a line goes through two points


@derived(
    title="Squares of the distances from the line, sum",
    unit="mm**2",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    empirical="rounded in square millimetres",
    excel="IF(ROUND({followed_sum_xx},{counting_digits})>0,"
    'ROUND({followed_sum_yy}-{followed_sum_xy}^2/{followed_sum_xx},{counting_digits}),"")',
)
def followed_sum_rr(followed_sum_xx: Num, counting_digits: float, followed_sum_yy: Num, followed_sum_xy: Num) -> Num:
    """What the fitted line leaves of the squares of the gaps, freed of noise: readings on a line leave nothing."""
    left = rounded(followed_sum_yy - followed_sum_xy**2 / followed_sum_xx, counting_digits)
    return np.where(above_zero(followed_sum_xx, counting_digits), left, np.nan)


@derived(
    title="Scatter about the line",
    unit="mm",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    excel="SQRT({followed_sum_rr}/{followed_freedom})",
)
def residual_spread(followed_sum_rr: Num, followed_freedom: Num) -> Num:
    """The residual standard deviation of the gaps about the fitted line."""
    return np.sqrt(followed_sum_rr / followed_freedom)


@derived(
    title="Scatter that is reckoned with",
    unit="mm",
    part=PART,
    source=cite("reading-spread"),
    per=Per.FOLLOWED,
    excel="MAX({residual_spread},{least_reading_spread})",
)
def spread_used(residual_spread: Num, least_reading_spread: float) -> Num:
    """The scatter, yet no less than that of a gap read with a rule: few readings may lie on a line by chance."""
    return np.maximum(residual_spread, least_reading_spread)


# --- when the line runs out -------------------------------------------------------------------------------------------


@derived(
    title="Student's t",
    unit="1",
    part=PART,
    source=cite("student-t"),
    per=Per.FOLLOWED,
    excel="INDEX({t_values},MATCH({followed_freedom},{t_freedoms},1),{confidence_column})",
)
def followed_t(t_values: Any, followed_freedom: Num, t_freedoms: Num, confidence_column: Num) -> Any:
    """The two-sided value for the degrees of freedom; between two of the table that of the fewer, which is the greater."""
    row = np.searchsorted(t_freedoms, np.nan_to_num(followed_freedom, nan=1.0), side="right")
    return pick_in(row.astype(np.float64), np.broadcast_to(confidence_column, row.shape), t_values)


@derived(
    title="Slope for the forecast",
    unit="mm/d",
    part=PART,
    source=cite("forecast-practice"),
    per=Per.FOLLOWED,
    excel='IF({readings}>={least_readings},{loss_rate},"")',
)
def forecast_slope(readings: Num, least_readings: float, loss_rate: Num) -> Num:
    """The loss in a day where there are readings enough."""
    return np.where(readings >= least_readings, loss_rate, np.nan)


@derived(
    title="Loss for the forecast",
    unit="mm/d",
    part=PART,
    source=cite("forecast-practice"),
    per=Per.FOLLOWED,
    excel='IF(ROUND({forecast_slope},{counting_digits})>0,{forecast_slope},"")',
)
def forecast_loss(forecast_slope: Num, counting_digits: float) -> Num:
    """The loss in a day where the gap falls."""
    return np.where(above_zero(forecast_slope, counting_digits), forecast_slope, np.nan)


@derived(
    title="Days from the mean date to the least take-up",
    unit="d",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    excel="({followed_mean_gap}-{followed_take_up})/{forecast_loss}",
)
def forecast_reach(followed_mean_gap: Num, followed_take_up: Num, forecast_loss: Num) -> Num:
    """How many days after the mean date the fitted line is at the least take-up."""
    return (followed_mean_gap - followed_take_up) / forecast_loss


@derived(
    title="Noise of the slope",
    symbol="g",
    unit="1",
    part=PART,
    source=RANGE,
    per=Per.FOLLOWED,
    excel="({followed_t}*{spread_used}/{forecast_loss})^2/{followed_sum_xx}",
)
def forecast_noise(followed_t: Num, spread_used: Num, forecast_loss: Num, followed_sum_xx: Num) -> Num:
    """The square of the half width of the slope's confidence interval over the slope: at 1 or more there may be no fall at all."""
    return (followed_t * spread_used / forecast_loss) ** 2 / followed_sum_xx


@derived(
    title="Half of the range",
    unit="d",
    part=PART,
    source=RANGE,
    per=Per.FOLLOWED,
    excel="IF(ROUND(1-{forecast_noise},{counting_digits})>0,{followed_t}*{spread_used}/{forecast_loss}"
    '*SQRT((1-{forecast_noise})/{readings}+{forecast_reach}^2/{followed_sum_xx})/(1-{forecast_noise}),"")',
)
def forecast_half(
    forecast_noise: Num,
    counting_digits: float,
    followed_t: Num,
    spread_used: Num,
    forecast_loss: Num,
    readings: Num,
    forecast_reach: Num,
    followed_sum_xx: Num,
) -> Num:
    """Half of the days between the early and the late end; blank where the fall cannot be told from the scatter."""
    sure = 1 - forecast_noise
    inside = sure / readings + forecast_reach**2 / followed_sum_xx
    half = followed_t * spread_used / forecast_loss * np.sqrt(inside) / sure
    return np.where(above_zero(sure, counting_digits), half, np.nan)


@derived(
    title="Day of the forecast",
    unit="date",
    part=PART,
    source=FITTED,
    per=Per.FOLLOWED,
    optional=("forecast_half",),
    empirical="a day number and a number of days make a day number",
    excel='IF(ISNUMBER({forecast_half}),{followed_mean_date}+{forecast_reach},"")',
)
def forecast_exact(forecast_half: Num, followed_mean_date: Num, forecast_reach: Num) -> Num:
    """When the fitted line is at the least take-up, with its fraction of a day."""
    return np.where(np.isnan(forecast_half), np.nan, followed_mean_date + forecast_reach)


for _end, _title, _sign in (("early", "Early", "-"), ("late", "Late", "+")):
    derive(
        f"forecast_{_end}",
        ("followed_mean_date", "forecast_reach", "forecast_noise", "forecast_half"),
        lambda mean, reach, noise, half, sign=(-1.0 if _sign == "-" else 1.0): mean + reach / (1 - noise) + sign * half,
        f"The {_end} end of the range, with its fraction of a day.",
        title=f"{_title} end of the range, day",
        unit="date",
        part=PART,
        source=RANGE,
        per=Per.FOLLOWED,
        empirical="a day number and a number of days make a day number",
        excel=f"{{followed_mean_date}}+{{forecast_reach}}/(1-{{forecast_noise}}){_sign}{{forecast_half}}",
    )


@derived(
    title="Runs out of adjustment",
    unit="date",
    part=PART,
    source=cite("forecast-practice"),
    per=Per.FOLLOWED,
    excel='IF(ROUND({forecast_exact}-{last_date},{counting_digits})<=0,INT(ROUND({forecast_exact},{counting_digits})),"")',
)
def forecast_date(forecast_exact: Num, last_date: float, counting_digits: float) -> Num:
    """The day on which the fitted line reaches the least take-up, if the loss goes on alike."""
    return np.where(at_least_zero(last_date - forecast_exact, counting_digits), whole(forecast_exact, counting_digits), np.nan)


@derived(
    title="Runs out, from",
    unit="date",
    part=PART,
    source=RANGE,
    per=Per.FOLLOWED,
    excel="IF(ROUND({forecast_early}-{last_date},{counting_digits})<=0,"
    'MAX({first_date},INT(ROUND({forecast_early},{counting_digits}))),"")',
)
def forecast_from(forecast_early: Num, last_date: float, counting_digits: float, first_date: float) -> Num:
    """The early end of the range at the chosen confidence, a whole day; no earlier than a date is believed."""
    day = np.maximum(first_date, whole(forecast_early, counting_digits))
    return np.where(at_least_zero(last_date - forecast_early, counting_digits), day, np.nan)


@derived(
    title="Runs out, to",
    unit="date",
    part=PART,
    source=RANGE,
    per=Per.FOLLOWED,
    excel="IF(ROUND({forecast_late}-{last_date},{counting_digits})<=0,"
    'MAX({first_date},ROUNDUP(ROUND({forecast_late},{counting_digits}),0)),"")',
)
def forecast_to(forecast_late: Num, last_date: float, counting_digits: float, first_date: float) -> Num:
    """The late end of the range at the chosen confidence, a whole day; blank where it is beyond the dates believed."""
    day = np.maximum(first_date, whole_up(forecast_late, counting_digits))
    return np.where(at_least_zero(last_date - forecast_late, counting_digits), day, np.nan)


@derived(
    title="Readings enough",
    unit="1",
    part=PART,
    source=cite("forecast-practice"),
    per=Per.FOLLOWED,
    excel='IF({readings}>={least_readings},{readings},"")',
)
def forecast_readings(readings: Num, least_readings: float) -> Num:
    """The number of readings where it is enough for a forecast."""
    return np.where(readings >= least_readings, readings, np.nan)


#: What is said of a forecast: of no reading first, then of each step that was come to.
FORECAST_WORDS: Final = (
    "No gap reading counts yet.",
    "Too few readings since the last repack for a forecast: go on reading.",
    "All readings are of one date: no forecast.",
    "The gap does not fall: no forecast.",
    "The fall of the gap cannot be told from the scatter of the readings: no forecast yet.",
    "The gland runs out of adjustment later than dates are believed: no date is shown.",
    "If the loss goes on alike. A range that is blank at its end goes on beyond the dates believed.",
)
_STEPS: Final = ("last_gap_code", "forecast_readings", "forecast_slope", "forecast_loss", "forecast_half", "forecast_date")

derive(
    "forecast_words",
    ("readings", *_STEPS),
    lambda _readings, *steps: np.array(FORECAST_WORDS, dtype=object)[sum((~np.isnan(step)).astype(np.intp) for step in steps)],
    "What a forecast rests on, or why there is none.",
    title="Forecast, in words",
    text=True,
    part=PART,
    source=cite("forecast-practice"),
    per=Per.FOLLOWED,
    optional=_STEPS,
    excel="CHOOSE(COUNT({readings},"
    + ",".join(f"{{{name}}}" for name in _STEPS)
    + "),"
    + ",".join(f'"{words}"' for words in FORECAST_WORDS)
    + ")",
)


@derived(
    title="Runs out before the next outage",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="IF({forecast_from}<{next_outage},1,0)",
)
def gone_by_next_outage(forecast_from: Num, next_outage: Num) -> Num:
    """1 where the range begins before the next outage."""
    return np.where(forecast_from < next_outage, 1.0, 0.0)


# --- leak, torque, retorque, tilt -------------------------------------------------------------------------------------


@derived(
    title="Last leak",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.FOLLOWED,
    excel='IF({followed_last_leak}>={followed_restart},INDEX({every_log_leak},MATCH({followed_last_leak},{every_log_leak_code},0)),"")',
)
def last_leak(followed_last_leak: Num, followed_restart: Num, every_log_leak: Num, every_log_leak_code: Num) -> Num:
    """The last leak reading since the last repack, in parts per million."""
    return np.where(followed_last_leak >= followed_restart, pick(row_of(followed_last_leak, every_log_leak_code), every_log_leak), np.nan)


@derived(
    title="Leak at the limit or over it",
    unit="1",
    part=PART,
    source=LEAK,
    per=Per.FOLLOWED,
    excel="IF({last_leak}>={leak_limit},1,0)",
)
def leak_over_limit(last_leak: Num, leak_limit: Num) -> Num:
    """1 where the last leak reading is at the limit or over it; that the limit itself counts is from memory."""
    return np.where(last_leak >= leak_limit, 1.0, 0.0)


@derived(
    title="Nuts at the torque limit",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="IF({followed_last_torque}>={followed_restart},"
    'INDEX({every_log_at_limit},MATCH({followed_last_torque},{every_log_torque_code},0)),"")',
)
def torque_at_limit(followed_last_torque: Num, followed_restart: Num, every_log_at_limit: Num, every_log_torque_code: Num) -> Num:
    """1 where the last row that says yes or no since the last repack says yes, 0 where it says no."""
    there = followed_last_torque >= followed_restart
    return np.where(there, pick(row_of(followed_last_torque, every_log_torque_code), every_log_at_limit), np.nan)


@derived(
    title="Retorque due on",
    unit="date",
    part=PART,
    source=cite("retorque"),
    per=Per.FOLLOWED,
    empirical="a day number and a number of days make a day number",
    excel="{last_repack}+{retorque_days}",
)
def retorque_due_date(last_repack: Num, retorque_days: float) -> Num:
    """When the nuts are to be looked at again after the last repack."""
    return last_repack + retorque_days


@derived(
    title="Retorque due",
    unit="1",
    part=PART,
    source=cite("retorque"),
    per=Per.FOLLOWED,
    excel="IF(AND(ROUND({status_date}-{retorque_due_date},{counting_digits})>=0,{followed_last_adjust}<={followed_restart}),1,0)",
)
def retorque_due(status_date: Num, retorque_due_date: Num, counting_digits: float, followed_last_adjust: Num, followed_restart: Num) -> Num:
    """1 where the day of the retorque has come and no adjustment is logged since the repack."""
    come = at_least_zero(status_date - retorque_due_date, counting_digits)
    return np.where(come & ~(followed_last_adjust > followed_restart), 1.0, 0.0)


@derived(
    title="Follower askew",
    unit="1",
    part=PART,
    source=cite("tilt-limit"),
    per=Per.FOLLOWED,
    excel="IF(ROUND({last_gap_difference}-{greatest_gap_difference},{counting_digits})>0,1,0)",
)
def tilt_over(last_gap_difference: Num, greatest_gap_difference: float, counting_digits: float) -> Num:
    """1 where the gaps of the last reading differ by more than they may."""
    return np.where(above_zero(last_gap_difference - greatest_gap_difference, counting_digits), 1.0, 0.0)


@derived(
    title="Take-up gone",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="IF(ROUND({take_up_left},{counting_digits})<=0,1,0)",
)
def take_up_gone(take_up_left: Num, counting_digits: float) -> Num:
    """1 where the last gap is at the least take-up or below."""
    return np.where(above_zero(take_up_left, counting_digits), 0.0, 1.0)


# --- what to do -------------------------------------------------------------------------------------------------------

#: The states by their rank, the gravest first.
STATES: Final = ("act now", "repack at next outage", "adjust", "leave", "no reading")
#: Why, in the order in which it is asked: what must hold in Excel text, the rank of the state, and the sentence.
REASONS: Final = (
    ("SUM({torque_at_limit})", 1, "The nuts are at their torque limit: do not tighten further. Tell the owner's engineer, and repack."),
    (
        "SUM({leak_over_limit})*SUM({take_up_gone})",
        1,
        "The leak is at its limit or over it and no take-up is left: tightening cannot help. Tell the owner's engineer, and repack.",
    ),
    ("SUM({take_up_gone})", 2, "The gap is at the least take-up: plan the repack for the next outage."),
    (
        "SUM({gone_by_next_outage})",
        2,
        "The gland may run out of adjustment before the next outage: plan the repack for it, and read the gap more often.",
    ),
    (
        "SUM({leak_over_limit})*SIGN({readings})",
        3,
        "The leak is at its limit or over it and take-up is left: tighten evenly, one flat at a time, in service only by the site's "
        "procedure. Then measure again.",
    ),
    (
        "SUM({leak_over_limit})",
        3,
        "The leak is at its limit or over it and no gap is known since the last repack: read both gaps, then tighten, in service only by "
        "the site's procedure.",
    ),
    (
        "SUM({tilt_over})",
        3,
        "The follower is askew: tighten the nut on the wider gap, one flat at a time, in service only by the site's procedure. Never "
        "slacken a nut under pressure.",
    ),
    (
        "SUM({retorque_due})",
        3,
        "The retorque after the repack is due and no adjustment is logged: do it, in service only by the site's procedure, and log it.",
    ),
    ("SIGN({readings})", 4, "Nothing asks for work: go on reading the gap."),
)
_LAST_REASON: Final = (5, "No gap is read since the last repack, or none at all: read both gaps and log them.")
_FLAGS: Final = (
    "torque_at_limit",
    "leak_over_limit",
    "take_up_gone",
    "gone_by_next_outage",
    "readings",
    "tilt_over",
    "retorque_due",
)


def _first_true(tests: tuple[str, ...]) -> str:
    """Excel text for the place of the first of some tests that is 1, and one more than there are where none is."""
    return f"1+(1-{tests[0]})*({_first_true(tests[1:])})" if len(tests) > 1 else f"1+(1-{tests[0]})"


def _reason(torque: Any, leak: Any, gone: Any, by_next: Any, count: Any, tilt: Any, retorque: Any) -> Any:
    """The place of the first reason that holds."""
    leaks, bottomed = leak == 1, gone == 1
    held = [
        torque == 1,
        leaks & bottomed,
        bottomed,
        by_next == 1,
        leaks & (count > 0),
        leaks,
        tilt == 1,
        retorque == 1,
        count > 0,
        np.ones(np.shape(count), dtype=bool),
    ]
    return np.argmax(np.array(held), axis=0) + 1.0


derive(
    "followed_reason_number",
    _FLAGS,
    _reason,
    "Which of the reasons, from the gravest on, is the first that holds.",
    title="Number of the reason",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    optional=tuple(flag for flag in _FLAGS if flag != "readings"),
    excel=_first_true(tuple(test for test, _rank, _words in REASONS)),
)

_RANKS: Final = (*(rank for _test, rank, _words in REASONS), _LAST_REASON[0])
#: Small ranks as they may stand in a formula.
_WRITTEN: Final = {1: "1", 2: "2", 3: "2+1", 4: "4", 5: "4+1"}
derive(
    "followed_rank",
    ("followed_reason_number",),
    lambda number: np.array([np.nan, *_RANKS])[np.nan_to_num(number).astype(np.intp)],
    "The rank of the state: act now first, no reading last.",
    title="Rank of the state",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="CHOOSE({followed_reason_number}," + ",".join(_WRITTEN[rank] for rank in _RANKS) + ")",
)


@derived(
    title="State of the valve followed",
    text=True,
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel='CHOOSE({followed_rank},"act now","repack at next outage","adjust","leave","no reading")',
)
def followed_state(followed_rank: Num) -> Any:
    """Act now, repack at next outage, adjust, leave, or no reading."""
    return np.array(["", *STATES], dtype=object)[np.nan_to_num(followed_rank).astype(np.intp)]


_SENTENCES: Final = (*(words for _test, _rank, words in REASONS), _LAST_REASON[1])
derive(
    "followed_reason",
    ("followed_reason_number",),
    lambda number: np.array(["", *_SENTENCES], dtype=object)[np.nan_to_num(number).astype(np.intp)],
    "Why the valve is in its state, and what to do.",
    title="Why, and what to do",
    text=True,
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="CHOOSE({followed_reason_number}," + ",".join(f'"{words}"' for words in _SENTENCES) + ")",
)

# --- counts -----------------------------------------------------------------------------------------------------------

for _rank, (_name, _state) in enumerate(zip(("act", "repack", "adjust", "leave", "unread"), STATES, strict=True), start=1):
    derive(
        f"followed_{_name}",
        ("every_followed_rank",),
        lambda ranks, rank=_rank: count_where(ranks, float(rank)),
        f"How many valves followed are in the state: {_state}.",
        title=f"Valves to {_state}" if _name != "unread" else "Valves without a reading",
        unit="1",
        part=PART,
        source=cite("gathering"),
        per=Per.OUTAGE,
        excel=f"COUNTIF({{every_followed_rank}},{_WRITTEN[_rank]})",
    )

for _name, _of, _title, _says in (
    ("readings_in_use", "log_in_use", "Rows of the log in use", "How many rows of the log are in use."),
    ("readings_with_faults", "log_wrong", "Rows of the log to look at", "In how many rows of the log something is wrong."),
    ("followed_with_faults", "followed_wrong", "Valves followed to look at", "In how many rows of the valves followed something is wrong."),
):
    derive(
        _name,
        (f"every_{_of}",),
        counted,
        _says,
        title=_title,
        unit="1",
        part=PART,
        source=cite("gathering"),
        per=Per.OUTAGE,
        excel=f"COUNT({{every_{_of}}})",
    )


@fault(
    title="Rows of the log are wrong",
    part=PART,
    source=LOGGED,
    about=("log_number",),
    per=Per.OUTAGE,
    words="In some rows of the log something is wrong: each says what.",
    excel="{readings_with_faults}>0",
)
def readings_wrong(readings_with_faults: Num) -> Any:
    """Says that rows of the log want a look."""
    return readings_with_faults > 0


@fault(
    title="Rows of the valves followed are wrong",
    part=PART,
    source=LOGGED,
    about=("followed_number",),
    per=Per.OUTAGE,
    words="In some rows of the valves followed something is wrong: each says what.",
    excel="{followed_with_faults}>0",
)
def followed_list_wrong(followed_with_faults: Num) -> Any:
    """Says that rows of the valves followed want a look."""
    return followed_with_faults > 0


@fault(
    title="Status date not typed",
    part=PART,
    source=LOGGED,
    about=("status_date_entered",),
    per=Per.OUTAGE,
    optional=("status_date_entered",),
    words="Status date is missing: every dated row of the log counts, and neither a retorque nor the gap of today is worked out.",
    excel='AND({readings_in_use}>0,IFERROR({status_date_entered}="",0))',
)
def status_date_missing(readings_in_use: Num, status_date_entered: Num) -> Any:
    """Says what is lost without a status date."""
    return (readings_in_use > 0) & np.isnan(status_date_entered)


declare_check(
    PART,
    "check_log",
    "Check log",
    "OK, or what is wrong with the log and the follow-up as a whole.",
    ("outage_unit_trouble", "status_date_fault", "next_outage_fault"),
    per=Per.OUTAGE,
    used="readings_in_use",
)

# --- the chart of one valve -------------------------------------------------------------------------------------------


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
