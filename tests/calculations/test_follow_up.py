"""Facts about the log and the follow-up: the line, the range of its forecast, and what is said of a gland.

The line is held against certified values and against numpy's own least squares, Student's t against the integral of its
density, the range against where the confidence band meets the least take-up, and against what a confidence promises.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.outage.forecast import FORECAST_WORDS
from sheetcalc.calculations.outage.verdict import REASONS, STATES
from sheetcalc.calculations.run import evaluate_outage, read_entries
from sheetcalc.declare.quantity import Per
from sheetcalc.reference import tables

#: 2020-01-01 as a spreadsheet counts days.
DAY: Final = 43831.0
POINTS: Final = 24
#: Without the least scatter, and with as little rounded away as Assumptions allow: bare statistics.
EXACT: Final[dict[str, float | str]] = {"least_reading_spread": 0.0, "counting_digits": 9.0}


def follow(
    log: Sequence[dict[str, Any]], valves: Sequence[dict[str, Any] | str] = ("V-1",), *,
    constants: dict[str, float | str] | None = None, **outage: Any,
) -> dict[str, Any]:  # fmt: skip
    """Everything about a log, worked out with nothing but the log, the valves followed, the outage and the points of the chart."""
    followed = [{"followed_tag": one} if isinstance(one, str) else one for one in valves]
    frames = {
        Per.READING: pd.DataFrame([{"log_number": row, **one} for row, one in enumerate(log, start=1)]),
        Per.FOLLOWED: pd.DataFrame([{"followed_number": row, **one} for row, one in enumerate(followed, start=1)]),
        Per.OUTAGE: pd.DataFrame([{"outage_unit_set": "metric", **outage}]),
        Per.POINT: pd.DataFrame({"point_number": np.arange(1.0, POINTS + 1)}),
    }
    typed = {per: read_entries(frame.astype(object).where(frame.notna(), ""), per) for per, frame in frames.items()}
    return evaluate_outage(typed, {per: len(frame) for per, frame in frames.items()}, constants=constants)


def read(day: float, gap: float | str | None, tag: str = "V-1", **more: Any) -> dict[str, Any]:
    """A row of the log: so many days after the first day, a gap at one stud."""
    return {"log_date_entered": DAY + day, "log_tag": tag, "log_gap_1_entered": gap, **more}


def series(days: Sequence[float], gaps: Sequence[float], tag: str = "V-1") -> list[dict[str, Any]]:
    """A log of one valve."""
    return [read(day, gap, tag) for day, gap in zip(days, gaps, strict=True)]


def said(out: dict[str, Any], name: str, row: int = 0) -> Any:
    """One answer."""
    return out[name][row]


# --- Student's t ------------------------------------------------------------------------------------------------------


def inside(t: float, freedom: float) -> float:
    """The share of Student's t between -t and t, by Simpson's rule over the density."""
    x = np.linspace(0.0, t, 40001)
    scale = math.exp(math.lgamma((freedom + 1) / 2) - math.lgamma(freedom / 2)) / math.sqrt(freedom * math.pi)
    density = scale * (1 + x**2 / freedom) ** (-(freedom + 1) / 2)
    weights = np.ones(len(x))
    weights[1:-1:2], weights[2:-1:2] = 4, 2
    return 2 * float(np.sum(weights * density)) * float(x[1] - x[0]) / 3


@pytest.mark.parametrize("row", tables.printed("t_values"), ids=lambda row: row["freedom"])
def test_a_printed_t_holds_its_share(row: dict[str, str]) -> None:
    """Half a unit of the last printed digit on either side of each value the integral is below, and above, the share it stands for."""
    for confidence in tables.printed("confidences"):
        share = float(confidence["share"])
        printed = row[f"t{confidence['name'].split()[0]}"]
        half = 0.5 * 10.0 ** -len(printed.partition(".")[2])

        assert len(printed.partition(".")[2]) == 3
        assert confidence["name"] == f"{round(100 * share)} percent"
        assert inside(float(printed) - half, float(row["freedom"])) < share < inside(float(printed) + half, float(row["freedom"]))


def test_degrees_of_freedom_are_in_order() -> None:
    """The search for the next lower row needs a rising column; from 1 to 30 none is left out."""
    freedoms = tables.values()["t_freedoms"]
    assert list(freedoms[:30]) == list(range(1, 31))
    assert (np.diff(freedoms) > 0).all()


@pytest.mark.parametrize(("count", "row"), [(3, 1), (12, 10), (32, 30), (38, 30), (41, 30), (42, 40), (61, 40), (150, 120)])
def test_between_two_rows_the_fewer_degrees_count(count: int, row: int) -> None:
    """The range is never narrower than it should be: the next lower degrees of freedom have the greater t."""
    out = follow(series(range(count), [10 - 0.01 * day for day in range(count)]), confidence_entered="95 percent")
    printed = next(one["t95"] for one in tables.printed("t_values") if one["freedom"] == str(row))
    assert said(out, "followed_t") == float(printed)


# --- the line ---------------------------------------------------------------------------------------------------------

#: Norris, a data set of the Statistical Reference Datasets of NIST for linear regression, as pairs of x and y; from memory. Its
#: certified values (also from memory) come out of it to all digits below, which they would not if one figure were wrong.
NORRIS: Final = (
    (0.2, 0.1), (337.4, 338.8), (118.2, 118.1), (884.6, 888.0), (10.1, 9.2), (226.5, 228.1), (666.3, 668.5), (996.3, 998.5),
    (448.6, 449.1), (777.0, 778.9), (558.2, 559.2), (0.4, 0.3), (0.6, 0.1), (775.5, 778.1), (666.9, 668.8), (338.0, 339.3),
    (447.5, 448.9), (11.6, 10.8), (556.0, 557.7), (228.1, 228.3), (995.8, 998.0), (887.6, 888.8), (120.2, 119.6), (0.3, 0.3),
    (0.3, 0.6), (556.8, 557.6), (339.1, 339.3), (887.2, 888.0), (999.0, 998.5), (779.0, 778.9), (11.1, 10.2), (118.3, 117.6),
    (229.2, 228.9), (669.1, 668.4), (448.9, 449.2), (0.5, 0.2),
)  # fmt: skip
SLOPE, INTERCEPT, RESIDUAL = 1.00211681802045, -0.262323073774029, 0.884796396144373
#: Certified standard deviations of intercept and slope.
INTERCEPT_SD, SLOPE_SD = 0.232818234301152, 0.429796848199937e-3


def test_the_data_of_norris_are_written_down_right() -> None:
    """Numpy's least squares gives every certified value of the set, standard deviations included, from the pairs above."""
    x, y = np.array(NORRIS).T
    design = np.column_stack([np.ones_like(x), x])
    (intercept, slope), (square,), *_ = np.linalg.lstsq(design, y)
    spread = math.sqrt(square / (len(x) - 2))
    deviations = spread * np.sqrt(np.diag(np.linalg.inv(design.T @ design)))

    assert len(NORRIS) == 36
    assert pytest.approx([SLOPE, INTERCEPT, RESIDUAL, INTERCEPT_SD, SLOPE_SD], rel=1e-11) == [slope, intercept, spread, *deviations]


def test_a_log_gives_the_certified_line_of_norris() -> None:
    """Typed as a log (ten days for one of x, the gap a metre less y) the set gives its certified slope, intercept and spread."""
    days, gaps = [round(10 * x) for x, _y in NORRIS], [round(1000 - y, 1) for _x, y in NORRIS]
    end = 10_000.0
    out = follow(series(days, gaps), status_date_entered=DAY + end, constants=EXACT)

    assert said(out, "readings") == 36
    assert pytest.approx(SLOPE / 10, rel=1e-12) == said(out, "loss_rate")
    assert pytest.approx(1000 - INTERCEPT - SLOPE * end / 10, rel=1e-10) == said(out, "fitted_gap")
    assert pytest.approx(RESIDUAL, rel=1e-10) == said(out, "residual_spread")
    # The variance of the slope is s^2 / Sxx, so that the noise g is (t times its standard deviation over the slope) squared.
    # The table has no 34 degrees of freedom, so that the t of 30 counts: 1.697.
    assert pytest.approx((1.697 * SLOPE_SD / SLOPE) ** 2, rel=1e-9) == said(out, "forecast_noise")


def generated(count: int, seed: int) -> tuple[list[dict[str, Any]], list[tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]]]:
    """Logs of so many valves, rows of all valves shuffled together, and the days and gaps of each."""
    rng = np.random.default_rng(seed)
    rows, each = [], []
    for valve in range(count):
        days = rng.integers(0, 1500, size=rng.integers(3, 15)).astype(float)
        days[0], days[1] = 3.0, 1200.0
        gaps = np.round(np.abs(rng.uniform(12, 25) - rng.uniform(-0.001, 0.01) * days + rng.normal(0, 0.4, size=len(days))), 2)
        each.append((days, gaps))
        rows += series(days.tolist(), gaps.tolist(), f"V-{valve}")
    return [rows[place] for place in rng.permutation(len(rows))], each


def test_the_line_is_that_of_numpy() -> None:
    """Loss, level and spread of 200 logs are those of numpy's least squares on the same readings."""
    rows, each = generated(200, 3)
    out = follow(rows, [f"V-{valve}" for valve in range(200)], status_date_entered=DAY + 2000, constants=EXACT)
    assert (out["readings"] == [len(days) for days, _gaps in each]).all()
    for valve, (days, gaps) in enumerate(each):
        level, slope = np.polynomial.polynomial.polyfit(days - 2000, gaps, 1)
        left = float(np.sum((gaps - level - slope * (days - 2000)) ** 2))

        assert pytest.approx(-slope, rel=1e-9, abs=1e-12) == said(out, "loss_rate", valve)
        assert pytest.approx(-slope * 365.25, rel=1e-9, abs=1e-9) == said(out, "loss_per_year", valve)
        assert pytest.approx(level, rel=1e-9) == said(out, "fitted_gap", valve)
        # What the line leaves is rounded to the ninth decimal.
        assert pytest.approx(left, rel=0, abs=1e-9) == said(out, "residual_spread", valve) ** 2 * (len(days) - 2)


def test_the_order_of_rows_does_not_matter() -> None:
    """A log typed backwards, or valve by valve, foretells the same."""
    rows, each = generated(30, 5)
    tags = [f"V-{valve}" for valve in range(len(each))]
    one, other = follow(rows, tags, status_date_entered=DAY + 2000), follow(rows[::-1], tags, status_date_entered=DAY + 2000)
    for name in ("readings", "loss_rate", "residual_spread", "forecast_date", "forecast_from", "forecast_to"):
        np.testing.assert_allclose(one[name], other[name], rtol=1e-9)


# --- the range --------------------------------------------------------------------------------------------------------


def band_end(days: np.ndarray[Any, Any], gaps: np.ndarray[Any, Any], level: float, t: float, sign: float) -> float:
    """Where the lower (-1) or upper (+1) edge of the confidence band of the line meets a level: halved again and again.

    The band is that of numpy's design matrix: the fit and t times its standard error, at any day.
    """
    middle = days.mean()
    design = np.column_stack([np.ones_like(days), days - middle])
    fit, (square,), *_ = np.linalg.lstsq(design, gaps)
    covariance = square / (len(days) - 2) * np.linalg.inv(design.T @ design)

    def above(day: float) -> float:
        at = np.array([1.0, day - middle])
        return float(at @ fit + sign * t * math.sqrt(at @ covariance @ at) - level)

    low, high = -1e10, 1e10
    assert above(low) > 0 > above(high)
    for _ in range(150):
        half = (low + high) / 2
        low, high = (half, high) if above(half) > 0 else (low, half)
    return low


@pytest.mark.parametrize(("confidence", "column"), [("80 percent", "t80"), ("", "t90"), ("95 Percent", "t95"), ("99 percent", "t99")])
def test_the_range_is_where_the_band_meets_the_take_up(confidence: str, column: str) -> None:
    """The ends of the range are the days on which the edges of the band reach the least take-up, found without Fieller's formula."""
    rows, each = generated(200, 11)
    valves = [{"followed_tag": f"V-{valve}", "followed_take_up_entered": 2 + valve % 3} for valve in range(200)]
    out = follow(rows, valves, confidence_entered=confidence, constants=EXACT)
    met = 0
    for valve, (days, gaps) in enumerate(each):
        if math.isnan(said(out, "forecast_half", valve)):
            continue
        t = next(float(one[column]) for one in tables.printed("t_values") if one["freedom"] == str(len(days) - 2))
        met += 1
        for name, sign in (("forecast_early", -1.0), ("forecast_late", 1.0)):
            end = DAY + band_end(days, gaps, 2 + valve % 3, t, sign)
            # Far out the edge runs nearly level, and the day is as uncertain as the last digit of the gap.
            assert pytest.approx(end, rel=1e-7) == said(out, name, valve)
    assert met > 100


def test_no_range_where_the_slope_may_be_nought() -> None:
    """A range is blank just where the confidence interval of the slope (numpy's) reaches 0 or the gap does not fall."""
    rows, each = generated(200, 23)
    out = follow(rows, [f"V-{valve}" for valve in range(200)], constants=EXACT)
    told = []
    for valve, (days, gaps) in enumerate(each):
        design = np.column_stack([np.ones_like(days), days - days.mean()])
        fit, (square,), *_ = np.linalg.lstsq(design, gaps)
        t = next(float(one["t90"]) for one in tables.printed("t_values") if one["freedom"] == str(len(days) - 2))
        surely = -fit[1] - t * math.sqrt(square / (len(days) - 2) / np.sum((days - days.mean()) ** 2)) > 0
        told.append(surely)

        assert surely == (not math.isnan(said(out, "forecast_half", valve)))
        words = FORECAST_WORDS[3 if fit[1] >= 0 else 4]
        assert surely or said(out, "forecast_words", valve) == words
    assert 20 < sum(told) < 180


@pytest.mark.parametrize(("confidence", "share"), [("80 percent", 0.8), ("90 percent", 0.9), ("99 percent", 0.99)])
def test_the_range_keeps_what_its_confidence_promises(confidence: str, share: float) -> None:
    """Of 1,200 glands whose true line is known, the range holds the true day as often as it says, within four standard errors."""
    rng = np.random.default_rng(101)
    days = np.array([0.0, 30, 60, 90, 150, 200, 270, 365])
    rows = []
    for valve in range(1200):
        rows += series(days.tolist(), (12 - 0.01 * days + rng.normal(0, 0.3, len(days))).tolist(), f"V-{valve}")
    out = follow(rows, [f"V-{valve}" for valve in range(1200)], confidence_entered=confidence, constants=EXACT)
    truth = DAY + (12 - 3) / 0.01
    known = ~np.isnan(out["forecast_half"])
    held = (out["forecast_early"] <= truth) & (truth <= out["forecast_late"])

    assert known.mean() > 0.995
    assert abs(held[known].mean() - share) < 4 * math.sqrt(share * (1 - share) / 1200)


def test_a_range_is_a_round_of_whole_days() -> None:
    """The range shown is that of Fieller rounded outwards, the forecast rounded to the day before."""
    rows, _each = generated(60, 7)
    out = follow(rows, [f"V-{valve}" for valve in range(60)])
    shown = ~np.isnan(out["forecast_to"])
    assert shown.sum() > 10
    np.testing.assert_array_equal(out["forecast_date"][shown], np.floor(out["forecast_exact"][shown]))
    np.testing.assert_array_equal(out["forecast_from"][shown], np.maximum(36526, np.floor(out["forecast_early"][shown])))
    np.testing.assert_array_equal(out["forecast_to"][shown], np.ceil(out["forecast_late"][shown]))


def test_readings_on_a_line_are_no_certainty() -> None:
    """Three readings that happen to lie on a line have a scatter of their own all the same, and so a range."""
    out = follow(series([0, 100, 200], [12, 10, 8]))
    bare = follow(series([0, 100, 200], [12, 10, 8]), constants=EXACT)

    assert pytest.approx(DAY + 450) == said(out, "forecast_exact")
    assert said(out, "forecast_early") < DAY + 440
    assert said(out, "forecast_late") > DAY + 460
    assert pytest.approx(DAY + 450) == said(bare, "forecast_early")


def test_a_day_beyond_belief_is_not_shown() -> None:
    """A loss so slow that the line runs out in the next century has no date, and says so; an end beyond belief is blank."""
    slow = follow(series([0, 1000, 2000], [30, 29.9, 29.8]), constants=EXACT)
    assert said(slow, "forecast_exact") > 73050
    assert math.isnan(said(slow, "forecast_date"))
    assert math.isnan(said(slow, "forecast_from"))
    assert said(slow, "forecast_words") == FORECAST_WORDS[5]
    wide = follow(series([0, 50, 100, 150], [10, 9.7, 9.5, 9.4]), confidence_entered="95 percent")
    assert said(wide, "forecast_late") > 73050
    assert math.isnan(said(wide, "forecast_to"))
    assert said(wide, "forecast_from") < said(wide, "forecast_date")
    assert said(wide, "forecast_words") == FORECAST_WORDS[6]


# --- which readings count ---------------------------------------------------------------------------------------------


def test_two_readings_have_a_loss_and_no_forecast() -> None:
    """A line through two points says nothing of its scatter."""
    out = follow(series([0, 100], [12, 10]))
    assert pytest.approx(0.02) == said(out, "loss_rate")
    assert math.isnan(said(out, "forecast_date"))
    assert said(out, "forecast_words") == FORECAST_WORDS[1]
    assert said(out, "followed_state") == "leave"


def test_readings_of_one_date_have_no_line() -> None:
    """Three readings of a day have a mean and no slope."""
    out = follow(series([5, 5, 5], [12, 11, 10]), chart_tag="V-1")
    assert math.isnan(said(out, "loss_rate"))
    assert math.isnan(said(out, "residual_spread"))
    assert said(out, "forecast_words") == FORECAST_WORDS[2]
    assert said(out, "last_gap") == 10
    assert set(out["point_line"]) == {11.0}
    assert said(out, "chart_words").startswith("All readings are of one date")


def test_a_gap_that_grows_has_no_forecast() -> None:
    """A line that rises never reaches the take-up; and the rise is asked about."""
    out = follow(series([0, 100, 200, 300], [10, 11, 12, 13]))
    assert pytest.approx(-0.01) == said(out, "loss_rate")
    assert said(out, "forecast_words") == FORECAST_WORDS[3]
    assert math.isnan(said(out, "forecast_from"))
    assert [bool(words) for words in out["log_gap_grown"]] == [False, True, True, True]


@pytest.mark.parametrize(("gap", "spoken"), [(10.3, False), (10.31, True), (9.0, False)])
def test_a_gap_may_grow_by_what_a_reading_errs(gap: float, spoken: bool) -> None:  # noqa: FBT001 - a column of a table
    """Up to the tolerance a growth is taken for the reading."""
    out = follow(series([0, 100], [10, gap]))
    assert bool(said(out, "log_gap_grown", 1)) is spoken


def test_a_later_reading_is_compared_with_the_one_before_it_by_date() -> None:
    """Rows out of order are sorted by date: 11 stands before 10 in time, so nothing grew."""
    out = follow(series([100, 0], [10, 11]))
    assert not out["log_gap_grown"].any()
    assert [bool(words) for words in out["log_out_of_order"]] == [False, True]


def test_each_row_before_an_earlier_one_is_out_of_order() -> None:
    """Not only the first row that steps back speaks, and other valves do not matter; the readings count all the same."""
    log = [*series([10, 50, 20, 30, 60], [9, 8, 8, 8, 8]), read(5, 9.0, "V-2"), read(5, 9.0, "V-2")]
    out = follow(log, ["V-1", "V-2"])
    assert [bool(words) for words in out["log_out_of_order"]] == [False, False, True, True, False, False, False]
    assert list(out["readings"]) == [5, 2]


def test_a_reading_of_the_future_does_not_count() -> None:
    """What is dated after the status date waits, a repack too; on the status date it counts."""
    log = [*series([0, 50, 100], [12, 11, 10]), read(101, 9), read(102, 15, log_event_entered="repack")]
    out = follow(log, status_date_entered=DAY + 100)
    assert said(out, "readings") == 3
    assert said(out, "last_gap") == 10
    assert math.isnan(said(out, "last_repack"))
    assert [bool(words) for words in out["log_date_late"]] == [False, False, False, True, True]


def test_without_a_status_date_everything_counts() -> None:
    """A blank status date leaves no row out, and is asked for."""
    out = follow(series([0, 50, 20000], [12, 11, 10]))
    assert said(out, "readings") == 3
    assert math.isnan(said(out, "fitted_gap"))
    assert "Status date is missing" in said(out, "check_log")


def test_readings_start_anew_at_a_repack() -> None:
    """Only the last repack and what came after it count; a gap on the row of the repack is the first."""
    log = [
        *series([0, 50], [12, 11]), read(60, 15, log_event_entered="repack"), *series([70, 80], [14.8, 14.6]),
        read(90, None, log_event_entered="Repack"), *series([100, 110, 120], [15, 14.9, 14.8]),
    ]  # fmt: skip
    out = follow(log, status_date_entered=DAY + 200)
    assert said(out, "readings") == 3
    assert said(out, "last_repack") == DAY + 90
    assert said(out, "first_reading_date") == DAY + 100
    assert pytest.approx(0.01) == said(out, "loss_rate")
    assert not out["log_gap_grown"].any()

    early = follow(log, status_date_entered=DAY + 85)
    assert said(early, "readings") == 3
    assert said(early, "first_reading_date") == DAY + 60
    assert pytest.approx((15 - 14.6) / 20) == said(early, "loss_rate")


def test_on_the_day_of_a_repack_the_row_decides() -> None:
    """A reading of the same date counts only below the repack, since it was typed after it."""
    before, after = read(60, 4), read(60, 15)
    repack = read(60, None, log_event_entered="repack")
    assert said(follow([before, repack]), "readings") == 0
    assert said(follow([repack, after]), "readings") == 1
    out = follow([before, repack, after])
    assert said(out, "last_gap") == 15
    assert list(np.nan_to_num(out["log_counts"])) == [0, 0, 1]


def test_readings_of_one_day_come_in_the_order_of_their_rows() -> None:
    """Of two gaps of a day that of the lower row is the last, before and after an adjustment."""
    out = follow([read(0, 12), read(10, 11), read(10, 10.5, log_event_entered="adjust", log_flats_entered=2)])
    assert said(out, "last_gap") == 10.5
    assert said(out, "readings") == 3


def test_the_smaller_gap_counts() -> None:
    """Of two gaps the smaller is used; where one cannot be used the reading has no gap, since it might be the smaller."""
    out = follow([
        read(0, 12, log_gap_2_entered=11.5), read(1, 12), read(2, None, log_gap_2_entered=11), read(3, 12, log_gap_2_entered="wide"),
        read(4, None),
    ])  # fmt: skip
    np.testing.assert_array_equal(out["log_gap"], [11.5, 12, 11, np.nan, np.nan])
    np.testing.assert_array_equal(out["log_gap_difference"], [0.5, np.nan, np.nan, np.nan, np.nan])
    assert [bool(words) for words in out["log_gap_missing"]] == [False, False, False, True, True]


def test_gaps_are_typed_in_the_unit_of_the_outage() -> None:
    """A log in inches gives what the same log in millimetres gives; a wrong unit set gives nothing and says so."""
    mm = follow(series([0, 50, 100], [12.7, 11.43, 10.16]), [{"followed_tag": "V-1", "followed_take_up_entered": 5.08}])
    inch = follow(series([0, 50, 100], [0.5, 0.45, 0.4]), [{"followed_tag": "V-1", "followed_take_up_entered": 0.2}], outage_unit_set="us")
    for name in ("last_gap", "take_up_left", "loss_rate", "loss_per_year", "forecast_exact", "forecast_early"):
        assert pytest.approx(said(mm, name), rel=1e-9) == said(inch, name)
        assert math.isfinite(said(mm, name))
    none = follow(series([0, 50, 100], [0.5, 0.45, 0.4]), outage_unit_set="")
    assert said(none, "readings") == 0
    assert said(none, "check_log").startswith("Unit set of the outage is missing")
    assert not none["log_gap_missing"].any()


# --- tags -------------------------------------------------------------------------------------------------------------


def test_a_tag_is_found_whatever_its_case_and_spaces() -> None:
    """Case and stray spaces do not part a reading from its valve, and nothing in a tag is a wildcard."""
    tags = ["V-1", "V*", "V?2", "A~1", " B  7 "]
    log = [read(0, 10, tag) for tag in ("v-1 ", "V*", "v?2", "A~1", "B 7", "V-", "A1")]
    out = follow(log, tags)
    np.testing.assert_array_equal(out["log_valve"], [1, 2, 3, 4, 5, np.nan, np.nan])


def test_a_reading_of_no_valve_is_not_used() -> None:
    """A tag that is missing or unknown is said, with what to do, and counts for no valve."""
    out = follow([read(0, 10, ""), read(0, 10, "V-9"), read(0, 10)])
    assert said(out, "check_reading", 0).startswith("Tag is missing")
    assert said(out, "check_reading", 1).startswith("Tag is not in the list")
    assert said(out, "check_reading", 2) == "OK"
    assert said(out, "readings") == 1
    assert said(out, "readings_in_use") == 3
    assert said(out, "readings_with_faults") == 2


def test_a_valve_followed_twice_has_its_readings_once() -> None:
    """The earlier row has all readings, the later one none and a sentence."""
    out = follow(series([0, 10], [9, 8]), ["V-1", "v-1", {"followed_take_up_entered": 3}])
    np.testing.assert_array_equal(out["readings"], [2, 0, np.nan])
    assert said(out, "check_followed", 0) == "OK"
    assert said(out, "check_followed", 1).startswith("This tag stands in an earlier row too")
    assert said(out, "check_followed", 2).startswith("Tag is missing")
    assert said(out, "followed_state", 2) == ""
    assert said(out, "followed_with_faults") == 2


def test_a_row_that_cannot_be_used_says_why() -> None:
    """Each slip in a row has its sentence."""
    log: list[dict[str, Any]] = [
        {"log_tag": "V-1", "log_gap_1_entered": 9}, read(0.5, 9), read(0, 9, log_event_entered="looked"),
        read(0, 9, log_torque_limit_entered="perhaps"), read(0, 9, log_leak_entered=-1), read(0, 9, log_flats_entered=3), {},
    ]  # fmt: skip
    out = follow(log)
    starts = ["Date is missing", "Date of the reading is typed but", "Event is not", "Nuts at their torque limit is not", "Leak reading is",
              "Flats are turned"]  # fmt: skip
    for row, start in enumerate(starts):
        assert said(out, "check_reading", row).startswith(start)
    assert said(out, "check_reading", 6) == ""
    assert said(out, "readings") == 3


# --- what to do -------------------------------------------------------------------------------------------------------

_GOOD: Final = [read(0, 12), read(100, 11.5), read(200, 11.1), read(300, 10.4)]
#: For each reason, in the order in which they are asked: what the log adds, and the state.
_CASES: Final[tuple[tuple[list[dict[str, Any]], str], ...]] = (
    ([*_GOOD, read(301, 10.4, log_torque_limit_entered="yes", log_leak_entered=9)], "act now"),
    ([*_GOOD, read(301, 3.0, log_leak_entered=500)], "act now"),
    ([*_GOOD, read(301, 2.9, log_leak_entered=499)], "repack at next outage"),
    ([read(0, 12), read(100, 10.5), read(200, 9), read(300, 7.4)], "repack at next outage"),
    ([*_GOOD, read(301, 10.4, log_leak_entered=500)], "adjust"),
    ([*_GOOD, read(301, None, log_event_entered="repack"), read(301, None, log_leak_entered=800)], "adjust"),
    ([*_GOOD, read(301, 10.4, log_gap_2_entered=10.91)], "adjust"),
    ([*_GOOD, read(301, 15, log_event_entered="repack", log_gap_2_entered=15.5)], "adjust"),
    (_GOOD, "leave"),
    ([], "no reading"),
)


@pytest.mark.parametrize("place", range(len(_CASES)))
def test_each_reason_has_its_state(place: int) -> None:
    """Each reason is met by a log made for it, and says its own sentence."""
    log, state = _CASES[place]
    out = follow([*log, read(0, 9, "V-2")], ["V-1", "V-2"], status_date_entered=DAY + 310, next_outage_entered=DAY + 600)
    assert said(out, "followed_reason_number") == place + 1
    assert said(out, "followed_state") == state
    if place < len(REASONS):
        assert said(out, "followed_reason") == REASONS[place][2]
        assert STATES[REASONS[place][1] - 1] == state
    names = dict(zip(STATES, ("followed_act", "followed_repack", "followed_adjust", "followed_leave", "followed_unread"), strict=True))
    counts = {name: said(out, name) for name in names.values()}
    assert counts == {name: (name == names[state]) + (name == "followed_leave") for name in counts}


def test_without_a_next_outage_only_what_is_gone_is_repacked() -> None:
    """A forecast alone sets no repack where nobody knows when the next outage is."""
    log = _CASES[3][0]
    assert said(follow(log, status_date_entered=DAY + 310), "followed_state") == "leave"
    late = follow(log, status_date_entered=DAY + 310, next_outage_entered=DAY + 311)
    assert said(late, "followed_state") == "leave"
    assert math.isnan(said(follow(log, status_date_entered=DAY + 310), "gone_by_next_outage"))


def test_a_repack_ends_what_was_before_it() -> None:
    """Leak, torque and tilt of the old packing do not speak of the new one."""
    log = [read(0, 2, log_torque_limit_entered="yes", log_leak_entered=20000), read(5, 15, log_event_entered="repack"),
           read(9, 14.5, log_event_entered="adjust", log_flats_entered=1)]  # fmt: skip
    out = follow(log, status_date_entered=DAY + 100)
    assert math.isnan(said(out, "last_leak"))
    assert math.isnan(said(out, "torque_at_limit"))
    assert said(out, "followed_state") == "leave"


def test_a_blank_takes_no_torque_limit_back() -> None:
    """Nuts that were said to be at their limit are so until somebody says no, or the box is repacked."""
    log = [read(0, 9, log_torque_limit_entered="Yes"), read(10, 8.9)]
    assert said(follow(log), "followed_state") == "act now"
    assert said(follow([*log, read(20, 8.8, log_torque_limit_entered="no")]), "followed_state") == "leave"


@pytest.mark.parametrize(("after", "adjusted", "due"), [(2, None, 0), (3, None, 1), (400, None, 1), (400, 3, 0), (400, -1, 1)])
def test_a_retorque_is_due_until_it_is_logged(after: int, adjusted: int | None, due: int) -> None:
    """Three days after the repack (the assumption) it is due, until an adjustment after the repack is logged."""
    log = [read(50, 15, log_event_entered="repack")]
    if adjusted is not None:
        log.append(read(50 + adjusted, 14.8, log_event_entered="adjust"))
    out = follow(log, status_date_entered=DAY + 50 + after)
    assert said(out, "retorque_due_date") == DAY + 53
    assert said(out, "retorque_due") == due


def test_valves_next_to_each_other_do_not_mix() -> None:
    """Each valve has its own last repack, leak, torque and adjustment, though another valve's row is nearer in time or in the log."""
    log = [
        read(10, 15, "A", log_event_entered="repack", log_leak_entered=700), read(11, 14, "A", log_event_entered="adjust"),
        read(10, 12, "B"), read(12, 9, "C", log_torque_limit_entered="yes"), read(1, 15, "C", log_event_entered="repack"),
    ]  # fmt: skip
    out = follow(log, ["A", "B", "C", "D"], status_date_entered=DAY + 100)
    np.testing.assert_array_equal(out["last_repack"], [DAY + 10, np.nan, DAY + 1, np.nan])
    np.testing.assert_array_equal(out["last_leak"], [700, np.nan, np.nan, np.nan])
    np.testing.assert_array_equal(out["torque_at_limit"], [np.nan, np.nan, 1, np.nan])
    np.testing.assert_array_equal(out["retorque_due"], [0, np.nan, 1, np.nan])
    np.testing.assert_array_equal(out["readings"], [2, 1, 2, 0])
    assert list(out["followed_state"]) == ["adjust", "leave", "act now", "no reading"]


# --- limits of leak ---------------------------------------------------------------------------------------------------


def test_the_name_of_a_rule_says_its_figure() -> None:
    """A figure on Tables is the one that stands in the name of its rule; the site's own has none. No name looks like a number."""
    for row in tables.printed("leak_limits"):
        assert row["ppm"] == ("" if row["name"] == "site's own" else row["name"].rsplit(", ", 1)[1].removesuffix(" ppm"))


def test_the_site_sets_its_own_limit() -> None:
    """The rule chosen gives the limit; the site's own figure holds where it is chosen, and is asked for."""
    assert said(follow(_GOOD), "leak_limit") == 500
    assert said(follow(_GOOD, leak_limit_rule_entered="40 cfr 61.242-7, 10000 ppm"), "leak_limit") == 10000
    assert said(follow(_GOOD, leak_limit_rule_entered="site's own", leak_limit_own_entered=250), "leak_limit") == 250
    without = follow(_GOOD, leak_limit_rule_entered="site's own", status_date_entered=DAY + 400)
    assert math.isnan(said(without, "leak_limit"))
    assert said(without, "check_log").startswith("The site's own leak limit is chosen")
    idle = follow(_GOOD, leak_limit_own_entered=250, status_date_entered=DAY + 400)
    assert said(idle, "leak_limit") == 500
    assert said(idle, "check_log").startswith("A leak limit of the site is typed")
    unknown = follow(_GOOD, leak_limit_rule_entered="any", leak_limit_own_entered=250)
    assert math.isnan(said(unknown, "leak_limit"))


def test_a_next_outage_that_is_over_is_said() -> None:
    """Forecasts held against a past day would set every valve at ease."""
    out = follow(_GOOD, status_date_entered=DAY + 400, next_outage_entered=DAY + 400)
    assert said(out, "check_log").startswith("The next outage is not after the status date")
    assert said(follow(_GOOD, status_date_entered=DAY + 400, next_outage_entered=DAY + 401), "check_log") == "OK"


# --- the chart --------------------------------------------------------------------------------------------------------


def test_the_chart_shows_the_readings_in_time() -> None:
    """Readings stand in the order of their dates, with line and take-up; the points left over repeat the last."""
    out = follow([*series([200, 0, 100], [8.2, 12, 10]), read(50, 3, "V-2")], ["V-2", "V-1"], chart_tag=" v-1")
    np.testing.assert_array_equal(out["point_date"], [DAY, DAY + 100, *[DAY + 200] * 22])
    np.testing.assert_array_equal(out["point_gap"], [12, 10, *[8.2] * 22])
    line = np.polynomial.polynomial.polyval(out["point_date"] - DAY, np.polynomial.polynomial.polyfit([0, 100, 200], [12, 10, 8.2], 1))
    np.testing.assert_allclose(out["point_line"], line)
    assert set(out["point_take_up"]) == {3.0}
    assert said(out, "chart_words") == ""


def test_a_chart_of_many_readings_shows_the_last() -> None:
    """Where there are more readings than points the latest are shown."""
    out = follow(series(range(30), [20 - 0.1 * day for day in range(30)]), chart_tag="V-1")
    np.testing.assert_array_equal(out["point_date"], DAY + np.arange(6, 30))


@pytest.mark.parametrize(("tag", "words"), [("", "Type a tag"), ("V-9", "This tag is not in the list"), ("V-2", "No gap reading")])
def test_a_chart_of_nothing_is_blank_and_says_why(tag: str, words: str) -> None:
    """Without readings every point is blank."""
    out = follow(_GOOD, ["V-1", "V-2"], chart_tag=tag)
    assert said(out, "chart_words").startswith(words)
    for name in ("point_date", "point_gap", "point_line", "point_take_up"):
        assert np.isnan(out[name]).all()
