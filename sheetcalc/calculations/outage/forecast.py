"""The line through the gap readings of a valve since its last repack, and when it runs out.

The line is that of least squares. When it meets the least take-up is told with a range, by Fieller's theorem: the range is
where the confidence band of the line meets the least take-up. Nothing is foretold from too few readings, from a gap that
does not fall, or where the fall cannot be told from the scatter.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, at_least_zero, pick_in, rounded, whole, whole_up
from sheetcalc.calculations.gathering import sum_where
from sheetcalc.calculations.outage.follow_up import PART, RANGE
from sheetcalc.calculations.outage.log import FITTED, LOGGED
from sheetcalc.declare.blocks import derive, derived
from sheetcalc.declare.quantity import Num, Per
from sheetcalc.reference.sources import cite

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
    """The day on which the fitted line reaches the least take-up, at the same rate of loss."""
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
    "At the same rate of loss. A range with a blank end goes on beyond the forecast horizon.",
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
