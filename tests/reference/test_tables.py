"""Facts about the reference tables, each held against something printed elsewhere.

No figure on the expected side comes from the package: areas, sizes, angles and widths are typed here from their
source, named beside each.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any, Final

import numpy as np
import pandas as pd
import pint
import pytest

import sheetcalc
from sheetcalc import units
from sheetcalc.reference import tables

# --- threads ----------------------------------------------------------------------------------------------------------

#: Tensile stress area in square inches as printed. ASME B1.1 as listed in a handbook table (engineersedge.com, "ANSI inch
#: size thread stress area"), read second-hand. 7/16-14 is listed there as 0.0163, a slip for 0.1063.
INCH_AREAS: Final = {
    "1/4-20 UNC": ".0318", "5/16-18 UNC": ".0524", "3/8-16 UNC": ".0775", "7/16-14 UNC": ".1063", "1/2-13 UNC": ".1419",
    "9/16-12 UNC": ".182", "5/8-11 UNC": ".226", "3/4-10 UNC": ".334", "7/8-9 UNC": ".462", "1-8 UNC": ".606",
    "1 1/8-8 UN": ".790", "1 1/4-8 UN": "1.000", "1 3/8-8 UN": "1.233", "1 1/2-8 UN": "1.492", "1 5/8-8 UN": "1.78",
    "1 3/4-8 UN": "2.08", "1 7/8-8 UN": "2.41", "2-8 UN": "2.77", "2 1/4-8 UN": "3.56", "2 1/2-8 UN": "4.44",
}  # fmt: skip
#: Stress area in square millimetres as printed. EN ISO 898-1 as quoted on a fastener page (address withheld), read there.
METRIC_AREAS: Final = {
    "M6": "20.1", "M8": "36.6", "M10": "58.0", "M12": "84.3", "M14": "115", "M16": "157", "M18": "192", "M20": "245",
    "M22": "303", "M24": "353", "M27": "459", "M30": "561", "M33": "694", "M36": "817", "M39": "976",
}  # fmt: skip


#: Listed one in the last digit off what the formula gives (1.2335 and 1.7747): a rounding of the printed table.
ONE_OFF: Final = {"1 3/8-8 UN", "1 5/8-8 UN"}


def half_last_digit(printed: str) -> float:
    """Half of the last printed digit: 0.05 for 20.1, 0.5 for 115."""
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


def mixed(text: str) -> Fraction:
    """A number such as `1 3/8` as a fraction."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def test_every_thread_has_a_printed_area() -> None:
    """The lists of areas and of threads are the same, row by row, so that no thread goes unchecked."""
    assert list(INCH_AREAS) == [row["designation"] for row in tables.printed("threads_inch")]
    assert list(METRIC_AREAS) == [row["designation"] for row in tables.printed("threads_metric")]


@pytest.mark.parametrize("row", tables.printed("threads_inch"), ids=lambda row: row["designation"])
def test_an_inch_pitch_gives_the_printed_area(row: dict[str, str]) -> None:
    """Diameter and threads per inch give the listed area by 0.7854 (D - 0.9743/n)^2, the formula of ASME B1.1."""
    printed = INCH_AREAS[row["designation"]]
    area = 0.7854 * (float(mixed(row["diameter_in"])) - 0.9743 / float(row["threads_per_inch"])) ** 2
    tolerance = half_last_digit(printed) * (2 if row["designation"] in ONE_OFF else 1)
    assert pytest.approx(float(printed), abs=tolerance, rel=0) == area


@pytest.mark.parametrize("row", tables.printed("threads_inch"), ids=lambda row: row["designation"])
def test_the_area_would_show_another_number_of_threads(row: dict[str, str]) -> None:
    """The check is sharp: with one thread per inch more or fewer the printed area does not come out."""
    printed = INCH_AREAS[row["designation"]]
    for wrong in (float(row["threads_per_inch"]) - 1, float(row["threads_per_inch"]) + 1):
        area = 0.7854 * (float(mixed(row["diameter_in"])) - 0.9743 / wrong) ** 2
        assert abs(float(printed) - area) > 2 * half_last_digit(printed)


@pytest.mark.parametrize("row", tables.printed("threads_metric"), ids=lambda row: row["designation"])
def test_a_metric_pitch_gives_the_printed_area(row: dict[str, str]) -> None:
    """Diameter and pitch give the listed area by pi/4 (d - 0.9382 P)^2, the formula of ISO 898-1."""
    printed = METRIC_AREAS[row["designation"]]
    area = math.pi / 4 * (float(row["diameter_mm"]) - 0.9382 * float(row["pitch_mm"])) ** 2
    assert pytest.approx(float(printed), abs=half_last_digit(printed), rel=0) == area


@pytest.mark.parametrize("row", tables.printed("threads_metric"), ids=lambda row: row["designation"])
def test_the_area_would_show_another_pitch(row: dict[str, str]) -> None:
    """The check is sharp: with the pitch a quarter of a millimetre off the printed area does not come out."""
    printed = METRIC_AREAS[row["designation"]]
    for wrong in (float(row["pitch_mm"]) - 0.25, float(row["pitch_mm"]) + 0.25):
        area = math.pi / 4 * (float(row["diameter_mm"]) - 0.9382 * wrong) ** 2
        assert abs(float(printed) - area) > half_last_digit(printed)


@pytest.mark.parametrize("row", tables.printed("threads_inch"), ids=lambda row: row["designation"])
def test_an_inch_designation_says_its_own_figures(row: dict[str, str]) -> None:
    """A designation is diameter, hyphen, threads per inch and series: UNC to 1 in, UN above (ASME B1.1)."""
    series = "UNC" if mixed(row["diameter_in"]) <= 1 else "UN"
    assert f"{row['diameter_in']}-{row['threads_per_inch']} {series}" == row["designation"]
    assert {"UNC": "UNC", "UN": "8UN"}[series] == row["series"]


@pytest.mark.parametrize("row", tables.printed("threads_metric"), ids=lambda row: row["designation"])
def test_a_metric_designation_says_its_own_diameter(row: dict[str, str]) -> None:
    """A coarse metric thread is called M and its diameter (ISO 261)."""
    assert f"M{row['diameter_mm']}" == row["designation"]


def test_formulas_read_the_threads_as_printed() -> None:
    """Each thread has threads per inch or a pitch, as its system is, and 0 for the other."""
    held = tables.values()
    expected = {row["designation"]: (float(row["threads_per_inch"]), 0.0) for row in tables.printed("threads_inch")}
    expected |= {row["designation"]: (0.0, float(row["pitch_mm"])) for row in tables.printed("threads_metric")}
    found = dict(zip(held["thread_names"], zip(held["thread_per_inch"], held["thread_pitches"], strict=True), strict=True))
    assert expected == found
    assert len(found) == len(held["thread_names"])


def test_no_thread_looks_like_a_number_or_a_date() -> None:
    """A spreadsheet makes a number or a date of 1/2 and of 1-8: each designation has letters that forbid it."""
    assert [name for name in tables.values()["thread_names"] if not name.startswith("M") and not name.endswith((" UNC", " UN"))] == []


# --- units ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("unit", "to"), [("in", "mm"), ("ft", "mm"), ("cm", "mm"), ("m", "mm"), ("mm", "in"), ("deg", "rad")])
def test_a_factor_is_that_of_pint(unit: str, to: str) -> None:
    """Factors agree with a registry of pint's own making."""
    expected = float(pint.UnitRegistry().Quantity(1, unit).to(to).magnitude)
    assert pytest.approx(expected, rel=1e-11) == units.factor(unit, to)


def test_an_inch_is_exact() -> None:
    """The international inch is 25.4 mm without a rest (NIST SP 811, 2008, appendix B.8)."""
    assert units.factor("in", "mm") == 25.4
    assert units.factor("mm", "mm") == 1.0


def test_the_unit_sets_are_as_printed() -> None:
    """The table, the unit sets of the package and pint say the same about each set, in the same order."""
    rows = tables.printed("unit_sets")
    assert {row["name"]: {"length": row["length_unit"]} for row in rows} == units.UNIT_SETS
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    expected = [registry.Quantity(1, row["length_unit"]).to("mm").magnitude for row in rows]
    np.testing.assert_allclose(expected, tables.values()["unit_length_factors"], rtol=1e-12)


@pytest.mark.parametrize("row", tables.printed("unit_sets"), ids=lambda row: row["name"])
def test_a_spacer_step_is_what_it_is_called(row: dict[str, str]) -> None:
    """The step in mm is the printed step, a fraction of the set's own unit."""
    size, unit = row["spacer_step_printed"].split()
    expected = float(mixed(size)) * {"mm": 1.0, "in": 25.4}[unit]
    assert expected == float(row["spacer_step_mm"])
    assert unit == row["length_unit"]


# --- stock ------------------------------------------------------------------------------------------------------------

#: Squares commonly stocked, from memory; the ends of the inch list are those of NAVEDTRA 14119 (graphite filament braid, 1/8 to 1 in).
INCH_STOCK: Final = ["1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "7/8", "1"]
METRIC_STOCK: Final = ["3", "4", "5", "6", "6.5", "8", "9.5", "10", "11", "12", "12.7", "14", "16", "18", "20", "22", "25"]


def test_the_stock_lists_are_those_of_the_trade() -> None:
    """Inch and metric squares are the usual ones, each once and in rising order."""
    assert [Fraction(size) for size in INCH_STOCK] == [Fraction(row["size_in"]) for row in tables.printed("stocked_inch")]
    assert [row["size_mm"] for row in tables.printed("stocked_metric")] == METRIC_STOCK


def test_formulas_search_the_stock_in_rising_order() -> None:
    """The three columns that a section is looked up in hold inch, metric and both, each size once, and blanks below."""
    inch = [float(Fraction(size) * Fraction(254, 10)) for size in INCH_STOCK]
    metric = [float(size) for size in METRIC_STOCK]
    columns = tables.values()["section_choices"].T
    for expected, column in zip((inch, metric, sorted({round(size, 6) for size in inch + metric})), columns, strict=True):
        np.testing.assert_allclose(expected, column[: len(expected)], atol=1e-6, rtol=0)
        assert np.isnan(column[len(expected) :]).all()
        assert (np.diff(column[: len(expected)]) > 0).all()


#: Shaft in mm, radial housing in mm, stocked square in mm. M. J. Neale, The Tribology Handbook, sheet B25.3, Table 25.2,
#: all braids. A 12.5 mm housing takes the 12.7 mm (1/2 in) square, as does a rule of the trade (from memory).
HOUSINGS: Final = [
    (10, 3.0, 3.0), (12, 3.0, 3.0), (15, 5.0, 5.0), (18, 5.0, 5.0), (20, 6.5, 6.5), (25, 6.5, 6.5), (30, 8.0, 8.0), (50, 8.0, 8.0),
    (60, 10.0, 10.0), (90, 10.0, 10.0), (100, 12.5, 12.7), (150, 12.5, 12.7),
]  # fmt: skip


@pytest.mark.parametrize(("shaft", "housing", "stocked"), HOUSINGS)
def test_a_handbook_housing_finds_a_stocked_size(shaft: float, housing: float, stocked: float) -> None:
    """A shaft with the housing that the handbook gives it takes a stocked square as it is."""
    frame = pd.DataFrame([{"unit_set": "metric", "stem_diameter_entered": shaft, "box_bore_entered": shaft + 2 * housing}])
    out = sheetcalc.calculate(frame).iloc[0]
    assert (housing, stocked) == (out["packing_section"], out["stocked_section"])
    assert out["section_advice"] == "Use as stocked."


# --- joints and rules -------------------------------------------------------------------------------------------------

#: Rings and joint step: 180, 120 and 90 degrees for two, three and four or more (maker's sheet, address withheld).
STEPS: Final = [(1, 0), (2, 180), (3, 120), (4, 90)]


def test_joint_steps_are_those_of_the_makers_sheet() -> None:
    """The table holds the steps of the maker's sheet, one row for each."""
    assert [(int(row["rings_from"]), int(row["step_deg"])) for row in tables.printed("joint_steps")] == STEPS


def test_joints_stand_at_least_a_quarter_turn_apart() -> None:
    """From two rings on neighbouring joints are 90 degrees or more apart (The Tribology Handbook, sheet B25.4)."""
    assert [row for row in tables.printed("joint_steps") if int(row["rings_from"]) > 1 and int(row["step_deg"]) < 90] == []


@pytest.mark.parametrize("row", tables.printed("joint_steps"), ids=lambda row: row["rings_from"])
def test_the_words_about_joints_follow_the_step(row: dict[str, str]) -> None:
    """Joint k stands at (k - 1) steps, whole turns dropped; after the fourth ring the angles begin again."""
    rings, step = int(row["rings_from"]), int(row["step_deg"])
    expected = ", ".join(str(k * step % 360) for k in range(rings)) + (", then again from 0" if rings == 4 else "")
    assert expected == row["angles"]


def test_sixteenths_are_reduced_fractions() -> None:
    """Each sixteenth is named as Python's fractions reduce it; none is a blank."""
    expected = ["", *(str(Fraction(part, 16)) for part in range(1, 16))]
    assert expected == [row["name"] for row in tables.printed("inch_parts")]
    assert [str(part) for part in range(16)] == [row["sixteenths"] for row in tables.printed("inch_parts")]


@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        ("4", "4"), ("4 1/16", "4 1/16"), ("4 1/8", "4 1/8"), ("4 5/16", "4 5/16"), ("5", "5"), ("7 15/16", "7 15/16"),
        ("12 1/2", "12 1/2"),
        ("4 1/32", "4 1/16"), ("4 31/32", "5"), ("4 3/64", "4 1/16"), ("4 1/64", "4"),
        ("1/2", "0 1/2"), ("15/16", "0 15/16"), ("1/64", "0"),
    ],
)  # fmt: skip
def test_an_inch_answer_is_named_to_the_nearest_sixteenth(inches: str, shown: str) -> None:
    """A length is shown as it is read and typed: whole inches, also none, and a reduced fraction; a half goes up."""
    length = float(mixed(inches))
    # Bore 4, stem 2, depth 8, one ring of 1, a spacer of 7: the follower starts at the face, and the gap is the whole nose.
    frame = pd.DataFrame(
        [{
            "unit_set": "US", "stem_diameter_entered": 2, "box_bore_entered": 4, "box_depth_entered": 8, "maker_ring_count_entered": 1,
            "nose_length_entered": length, "spacer_step_entered": 1, "seating_compression_entered": 0,
            "set_compression_entered": 0.5, "least_entry_floor_entered": 0, "least_entry_share_entered": 0,
        }]
    )  # fmt: skip
    limits = {"smallest_length": 0.1}
    out = sheetcalc.calculate(frame, constants=limits).iloc[0]
    assert pytest.approx(length) == out["gland_gap_start_in"]
    assert shown == out["gland_gap_start_sixteenths"]
