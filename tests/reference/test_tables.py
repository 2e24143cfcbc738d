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

from sheetcalc import units
from sheetcalc.calculations.run import calculate
from sheetcalc.declare.source import Grade
from sheetcalc.reference import tables
from sheetcalc.reference.sources import all_sources

# --- threads ----------------------------------------------------------------------------------------------------------

#: Tensile stress area in square inches as printed. ASME B1.1, as listed in a handbook's table of ANSI inch thread stress areas, read
#: second-hand. 7/16-14 is listed there as 0.0163, a slip for 0.1063.
INCH_AREAS: Final = {
    "1/4-20 UNC": ".0318", "5/16-18 UNC": ".0524", "3/8-16 UNC": ".0775", "7/16-14 UNC": ".1063", "1/2-13 UNC": ".1419",
    "9/16-12 UNC": ".182", "5/8-11 UNC": ".226", "3/4-10 UNC": ".334", "7/8-9 UNC": ".462", "1-8 UNC": ".606",
    "1 1/8-8 UN": ".790", "1 1/4-8 UN": "1.000", "1 3/8-8 UN": "1.233", "1 1/2-8 UN": "1.492", "1 5/8-8 UN": "1.78",
    "1 3/4-8 UN": "2.08", "1 7/8-8 UN": "2.41", "2-8 UN": "2.77", "2 1/4-8 UN": "3.56", "2 1/2-8 UN": "4.44",
}  # fmt: skip
#: Stress area in square millimetres as printed. EN ISO 898-1, table of stress areas, as quoted in a secondary text.
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


def area_worked(thread: str) -> float:
    """The tensile area in square millimetres that a valve with that thread gets."""
    return float(calculate(pd.DataFrame([{"unit_set": "metric", "gland_stud_thread": thread}])).iloc[0]["stud_area"])


@pytest.mark.parametrize("thread", INCH_AREAS)
def test_a_valve_gets_the_printed_area_of_its_inch_thread(thread: str) -> None:
    """The area worked out for the studs of a valve is the printed one, for every inch thread."""
    printed = INCH_AREAS[thread]
    tolerance = half_last_digit(printed) * (2 if thread in ONE_OFF else 1)
    assert pytest.approx(float(printed), abs=tolerance, rel=0) == area_worked(thread) / 25.4**2


@pytest.mark.parametrize("thread", METRIC_AREAS)
def test_a_valve_gets_the_printed_area_of_its_metric_thread(thread: str) -> None:
    """The area worked out for the studs of a valve is the printed one, for every metric thread."""
    printed = METRIC_AREAS[thread]
    assert pytest.approx(float(printed), abs=half_last_digit(printed), rel=0) == area_worked(thread)


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
    """The table, the unit sets of the package and pint say the same about lengths in each set, in the same order."""
    rows = tables.printed("unit_sets")
    assert {row["name"]: row["length_unit"] for row in rows} == {name: one["length"] for name, one in units.UNIT_SETS.items()}
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    expected = [registry.Quantity(1, row["length_unit"]).to("mm").magnitude for row in rows]
    np.testing.assert_allclose(expected, tables.values()["unit_length_factors"], rtol=1e-12)


#: One typed unit of each set in MPa, N, N mm, kg and degrees Celsius, as NIST SP 811 (2008), appendix B.8, prints the US ones: psi
#: 6.894757 kPa, lbf 4.448222 N, lbf ft 1.355818 N m, lb 0.4535924 kg, a difference of 1 degree Fahrenheit 5/9 degree Celsius; a
#: foot is 0.3048 m.
UNIT_FACTORS: Final = {
    "length": ("1", "25.4"), "pressure": ("0.1", "0.006894757"), "stress": ("1", "0.006894757"), "force": ("1", "4.448222"),
    "torque": ("1000", "1355.818"), "mass": ("1", "0.4535924"), "temperature": ("1", "0.5555556"),
    "spool": ("1000", "304.8"),
}  # fmt: skip


@pytest.mark.parametrize("dimension", UNIT_FACTORS)
def test_a_unit_set_has_the_factors_of_print_and_of_pint(dimension: str) -> None:
    """Formulas read the printed factor within its rounding, and that of a registry of pint's own making."""
    found = tables.values()[f"unit_{dimension}_factors"]
    for printed, one in zip(UNIT_FACTORS[dimension], found, strict=True):
        assert pytest.approx(float(printed), abs=half_last_digit(printed), rel=0) == one
    registry: pint.UnitRegistry[Any] = pint.UnitRegistry()
    expected = []
    for one_set in units.UNIT_SETS.values():
        steps = [registry.Quantity(value, one_set[dimension]).to(units.COHERENT[dimension]).magnitude for value in (0, 1)]
        expected.append(steps[1] - steps[0])
    np.testing.assert_allclose(expected, found, rtol=1e-12)


def test_every_dimension_has_its_factors() -> None:
    """No dimension of the unit sets goes unchecked above."""
    assert [set(UNIT_FACTORS)] * 3 == [set(one) for one in (units.COHERENT, *units.UNIT_SETS.values())]


#: A temperature in degrees Celsius and Fahrenheit: freezing, boiling, equal readings (NIST SP 811, B.9: (t_F - 32)/1.8).
TEMPERATURES: Final = [(0, 32), (100, 212), (-40, -40), (550, 1022)]


@pytest.mark.parametrize(("celsius", "fahrenheit"), TEMPERATURES)
def test_a_temperature_is_read_on_its_own_scale(celsius: float, fahrenheit: float) -> None:
    """Water freezes at 32 degrees Fahrenheit: the zero of the scale is taken off before the factor."""
    frame = pd.DataFrame({"unit_set": ["metric", "US"], "fluid_temperature_entered": [celsius, fahrenheit]})
    np.testing.assert_allclose([celsius, celsius], calculate(frame)["fluid_temperature"], atol=1e-9)
    assert tables.values()["unit_temperature_zeros"].tolist() == [0, 32]
    assert pytest.approx(celsius, abs=1e-9) == tables.coherent(fahrenheit, "temperature", "US")


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
METRIC_STOCK: Final = [
    "3", "4", "5", "6", "6.5", "7", "8", "9.5", "10", "11", "12", "12.7", "14", "15", "16", "18", "19", "20", "22", "25",
]  # fmt: skip


def test_the_stock_lists_are_those_of_the_trade() -> None:
    """Inch and metric squares are the usual ones, each once and in rising order."""
    assert [Fraction(size) for size in INCH_STOCK] == [Fraction(row["size_in"]) for row in tables.printed("stocked_inch")]
    assert [row["size_mm"] for row in tables.printed("stocked_metric")] == METRIC_STOCK


def test_formulas_search_the_stock_in_rising_order() -> None:
    """The three columns that a section is looked up in hold inch, metric and both, each size once, and blanks below."""
    inch = [float(Fraction(size) * Fraction(254, 10)) for size in INCH_STOCK]
    metric = [float(size) for size in METRIC_STOCK]
    columns = [tables.values()[f"sorted_{name}_sizes"] for name in ("inch", "metric", "all")]
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
    out = calculate(frame).iloc[0]
    assert (housing, stocked) == (out["packing_section"], out["stocked_section"])
    assert out["section_advice"] == "Use as stocked."


# --- nuts -------------------------------------------------------------------------------------------------------------

#: Width across flats in inches of heavy hex nuts. ASME B18.2.2, as listed with the rule 1.5 D + 1/8 in in a
#: secondary text; that of 1 7/8 is from the rule there, not from the list.
HEAVY_HEX: Final = {
    "1/4": "1/2", "5/16": "9/16", "3/8": "11/16", "7/16": "3/4", "1/2": "7/8", "9/16": "15/16", "5/8": "1 1/16", "3/4": "1 1/4",
    "7/8": "1 7/16", "1": "1 5/8", "1 1/8": "1 13/16", "1 1/4": "2", "1 3/8": "2 3/16", "1 1/2": "2 3/8", "1 5/8": "2 9/16",
    "1 3/4": "2 3/4", "1 7/8": "2 15/16", "2": "3 1/8", "2 1/4": "3 1/2", "2 1/2": "3 7/8",
}  # fmt: skip
#: Ordinary hex nuts in inches, read in BS 1768, Table 2, which stops at 1 1/2 in.
HEX: Final = {
    "1/4": "7/16", "5/16": "1/2", "3/8": "9/16", "7/16": "11/16", "1/2": "3/4", "9/16": "7/8", "5/8": "15/16", "3/4": "1 1/8",
    "7/8": "1 5/16", "1": "1 1/2", "1 1/8": "1 11/16", "1 1/4": "1 7/8", "1 3/8": "2 1/16", "1 1/2": "2 1/4",
}  # fmt: skip
#: Metric nuts in mm: ISO 4032 from an open table of hex nuts, and the widths of the older DIN 934 that differ from it.
ISO_HEX: Final = {
    "M6": 10, "M8": 13, "M10": 16, "M12": 18, "M14": 21, "M16": 24, "M18": 27, "M20": 30, "M22": 34, "M24": 36, "M27": 41, "M30": 46,
    "M33": 50, "M36": 55, "M39": 60,
}  # fmt: skip
OLD_DIN_APART: Final = {"M10": 17, "M12": 19, "M14": 22, "M22": 32}


def wrench(thread: str, kind: str = "") -> Any:
    """The wrench of a valve with that thread and kind of nut: its width in mm, and its words."""
    row = calculate(pd.DataFrame([{"unit_set": "metric", "gland_stud_thread": thread, "gland_nut_kind_entered": kind}])).iloc[0]
    return row["wrench_size"], row["wrench_words"], row["wrench_old_words"]


@pytest.mark.parametrize("row", tables.printed("threads_inch"), ids=lambda row: row["designation"])
def test_an_inch_nut_takes_the_listed_wrench(row: dict[str, str]) -> None:
    """Heavy hex by thread and by name, ordinary hex where one is listed; an inch nut has no old DIN width."""
    size, thread = row["diameter_in"], row["designation"]
    heavy = (float(mixed(HEAVY_HEX[size])) * 25.4, f"{HEAVY_HEX[size]} in", "")
    for kind in ("", "by thread", "heavy hex"):
        found = wrench(thread, kind)
        assert pytest.approx(heavy[0], rel=1e-12) == found[0]
        assert heavy[1:] == found[1:]
    ordinary = wrench(thread, "hex")
    if size in HEX:
        assert pytest.approx(float(mixed(HEX[size])) * 25.4, rel=1e-12) == ordinary[0]
        assert (f"{HEX[size]} in", "") == ordinary[1:]
    else:
        assert math.isnan(ordinary[0])
        assert ordinary[1:] == ("", "")
    assert math.isnan(wrench(thread, "old DIN hex")[0])


@pytest.mark.parametrize("row", tables.printed("threads_metric"), ids=lambda row: row["designation"])
def test_a_metric_nut_takes_the_listed_wrench(row: dict[str, str]) -> None:
    """ISO hex by thread and by name; the old DIN width, and its words where it differs; a metric nut has no heavy hex."""
    thread = row["designation"]
    old = OLD_DIN_APART.get(thread, ISO_HEX[thread])
    words = f"{old} mm" if thread in OLD_DIN_APART else ""
    for kind in ("", "by thread", "hex"):
        assert (float(ISO_HEX[thread]), f"{ISO_HEX[thread]} mm", words) == wrench(thread, kind)
    assert (float(old), f"{old} mm", words) == wrench(thread, "old DIN hex")
    assert math.isnan(wrench(thread, "heavy hex")[0])


#: Where 1.5 D + 1/8 in is not the listed width: 19/32 against 9/16, 25/32 against 3/4, 31/32 against 15/16 (worked by hand).
NOT_BY_RULE: Final = {"5/16": "19/32", "7/16": "25/32", "9/16": "31/32"}


@pytest.mark.parametrize("row", tables.printed("threads_inch"), ids=lambda row: row["designation"])
def test_the_rule_for_heavy_hex_holds_but_for_three(row: dict[str, str]) -> None:
    """A heavy hex nut is 1.5 D + 1/8 in wide (ASME B18.2.2, second-hand), but for 5/16, 7/16 and 9/16, which are 1/32 in less."""
    size = row["diameter_in"]
    rule = mixed(size) * Fraction(3, 2) + Fraction(1, 8)
    if size in NOT_BY_RULE:
        assert Fraction(NOT_BY_RULE[size]) == rule
    assert mixed(row["heavy_hex_in"]) == (rule - Fraction(1, 32) if size in NOT_BY_RULE else rule)


def test_a_tap_is_named_with_its_pitch() -> None:
    """A tap is marked as the thread: inch threads as designated, metric ones with their pitch (ISO 261 coarse)."""
    names = dict(zip(tables.values()["thread_names"], tables.values()["thread_tap_names"], strict=True))
    assert (names["1/2-13 UNC"], names["M12"], names["M8"], names["M16"]) == ("1/2-13 UNC", "M12 x 1.75", "M8 x 1.25", "M16 x 2")


# --- grades of studs --------------------------------------------------------------------------------------------------

#: Grade, the first and the last of the sizes of a row, least tensile strength and yield in ksi. ASTM A193, Table 2, by
#: three secondary tables. One of them has 96 ksi for the yield of B8M class 2 to 3/4 in; the lower is used.
A193: Final = [
    ("ASTM A193 B7", "1/4-20 UNC", "2 1/2-8 UN", 125, 105), ("ASTM A193 B7M", "1/4-20 UNC", "2 1/2-8 UN", 100, 80),
    ("ASTM A193 B16", "1/4-20 UNC", "2 1/2-8 UN", 125, 105),
    ("ASTM A193 B8 class 1", "1/4-20 UNC", "2 1/2-8 UN", 75, 30), ("ASTM A193 B8M class 1", "1/4-20 UNC", "2 1/2-8 UN", 75, 30),
    ("ASTM A193 B8 class 2", "1/4-20 UNC", "3/4-10 UNC", 125, 100), ("ASTM A193 B8 class 2", "7/8-9 UNC", "1-8 UNC", 115, 80),
    ("ASTM A193 B8 class 2", "1 1/8-8 UN", "1 1/4-8 UN", 105, 65), ("ASTM A193 B8 class 2", "1 3/8-8 UN", "1 1/2-8 UN", 100, 50),
    ("ASTM A193 B8M class 2", "1/4-20 UNC", "3/4-10 UNC", 110, 95), ("ASTM A193 B8M class 2", "7/8-9 UNC", "1-8 UNC", 100, 80),
    ("ASTM A193 B8M class 2", "1 1/8-8 UN", "1 1/4-8 UN", 95, 65), ("ASTM A193 B8M class 2", "1 3/8-8 UN", "1 1/2-8 UN", 90, 50),
]  # fmt: skip
#: The same in MPa. ISO 898-1 (8.8 to and over 16 mm, 10.9, 12.9) and ISO 3506-1 (class 70 to M20), from secondary tables of bolts.
ISO: Final = [
    ("ISO 8.8", "M6", "M16", 800, 640), ("ISO 8.8", "M18", "M39", 830, 660), ("ISO 10.9", "M6", "M39", 1040, 940),
    ("ISO 12.9", "M6", "M39", 1220, 1100), ("ISO A2-50", "M6", "M39", 500, 210), ("ISO A2-70", "M6", "M20", 700, 450),
    ("ISO A4-80", "M6", "M20", 800, 600),
]  # fmt: skip
#: From memory: ASTM A320 L7 as A193 B7, 125 and 105 ksi to 2 1/2 in, and ASTM A307 grade B, 60 ksi and no yield.
MEMORY: Final = [
    ("ASTM A320 L7", "1/4-20 UNC", "2 1/2-8 UN", 125, 105), ("ASTM A307 grade B", "1/4-20 UNC", "2 1/2-8 UN", 60, math.nan),
]  # fmt: skip
#: The fluid's temperature in degrees Celsius by grade: least, from where on to look, most. 46 CFR 56.25-20(b) has 400 F (204) for
#: carbon-steel bolts. ISO 3506-1:2020, scope, names -196 and 300 for A2 and A4, and 150 up to where nothing is to be asked (second-
#: hand). ASTM A193 and A320 and ISO 898-1 from memory; 10.9, 12.9 and an unknown grade state nothing.
BOLT_TEMPERATURES: Final[dict[str, tuple[float | None, float | None, float | None]]] = {
    "ASTM A193 B7": (-48, 400, 538), "ASTM A193 B7M": (-48, 400, 538), "ASTM A193 B16": (-29, 540, 593),
    "ASTM A193 B8 class 1": (-198, 538, 816), "ASTM A193 B8M class 1": (-198, 538, 816),
    "ASTM A193 B8 class 2": (-198, None, 538), "ASTM A193 B8M class 2": (-198, None, 538),
    "ASTM A307 grade B": (None, None, 204), "ASTM A320 L7": (-101, 400, 538), "ISO 8.8": (-50, 150, 300),
    "ISO 10.9": (None, None, None), "ISO 12.9": (None, None, None),
    "ISO A2-50": (-196, 150, 300), "ISO A2-70": (-196, 150, 300), "ISO A4-80": (-196, 150, 300), "unknown": (None, None, None),
}  # fmt: skip
#: One ksi in MPa (NIST SP 811, 2008, appendix B.8).
KSI: Final = 6.894757


def strength(grade: str, thread: str) -> tuple[float, float]:
    """Tensile strength and yield in MPa of the studs of a valve; NaN where the tables have none."""
    row = calculate(pd.DataFrame([{"unit_set": "metric", "gland_stud_thread": thread, "gland_stud_grade": grade}])).iloc[0]
    return float(row["stud_tensile"]), float(row["stud_yield"])


def test_every_grade_is_held_against_print() -> None:
    """The rows are those listed here, one by one, and one without figures for studs of an unknown grade."""
    rows = tables.printed("gland_stud_grades")
    assert sorted(row["grade"] for row in rows) == sorted([one[0] for one in (*A193, *MEMORY, *ISO)] + ["unknown"])
    assert (rows[-1]["tensile_mpa"], rows[-1]["yield_mpa"]) == ("", "")
    assert {row["source"] for row in rows} <= set(all_sources())


@pytest.mark.parametrize("row", tables.printed("gland_stud_grades"), ids=lambda row: f"{row['grade']} {row['sizes']}")
def test_a_grade_has_its_temperatures(row: dict[str, str]) -> None:
    """Every row of a grade, whatever its size, has the three figures of the list; what that does not state is blank."""
    figures = [row[f"temperature_{key}"] for key in ("least", "look", "most")]
    assert figures == ["" if one is None else str(one) for one in BOLT_TEMPERATURES[row["grade"]]]


@pytest.mark.parametrize(("grade", "first", "last", "tensile", "proof"), [*A193, *MEMORY], ids=str)
def test_an_astm_stud_has_the_strength_of_its_size(grade: str, first: str, last: str, tensile: float, proof: float) -> None:
    """First and last size of each range have the printed ksi, to a tenth of an MPa."""
    for thread in (first, last):
        assert pytest.approx((tensile * KSI, proof * KSI), abs=0.05, nan_ok=True) == strength(grade, thread)


@pytest.mark.parametrize(("grade", "first", "last", "tensile", "proof"), ISO, ids=str)
def test_an_iso_stud_has_the_strength_of_its_size(grade: str, first: str, last: str, tensile: float, proof: float) -> None:
    """First and last size of each range have the printed MPa."""
    for thread in (first, last):
        assert (float(tensile), float(proof)) == strength(grade, thread)


@pytest.mark.parametrize(
    ("grade", "thread"),
    [("ISO A2-70", "M22"), ("ISO A4-80", "M22"), ("ASTM A193 B8 class 2", "1 5/8-8 UN"), ("ASTM A193 B8M class 2", "1 5/8-8 UN")],
)
def test_a_grade_has_no_strength_beyond_its_sizes(grade: str, thread: str) -> None:
    """Class 70 ends at M20 and class 2 at 1 1/2 in: what the tables do not print is not made up."""
    assert [math.isnan(one) for one in strength(grade, thread)] == [True, True]


@pytest.mark.parametrize("grade", sorted({row["grade"] for row in tables.printed("gland_stud_grades")}))
def test_no_two_rows_of_a_grade_hold_for_one_thread(grade: str) -> None:
    """For every thread a grade has one row or none, so that a stud has one strength."""
    threads = tables.values()["thread_names"]
    frame = pd.DataFrame({"unit_set": "metric", "gland_stud_thread": threads, "gland_stud_grade": grade})
    out = calculate(frame)
    assert set(out["grade_rows"]) <= {0.0, 1.0}
    assert (out["grade_rows"] == 1).any()
    assert (out["grade_twice"] == "").all()


def test_the_yield_is_below_the_strength() -> None:
    """No steel yields above the stress at which it breaks: the two columns are not swapped."""
    rows = [row for row in tables.printed("gland_stud_grades") if row["yield_mpa"]]
    assert [row["grade"] for row in rows if not float(row["yield_mpa"]) < float(row["tensile_mpa"])] == []


# --- lubricants -------------------------------------------------------------------------------------------------------

#: Scatter of the load at one torque: 35 % unlubricated, 25 % lubricated on threads and turning face (NASA-STD-5020B, 2021, table 3, p. 25).
SCATTERS: Final = {"none (dry)": 0.35, "machine oil": 0.25, "anti-seize paste": 0.25}


def test_nut_factors_and_their_scatter() -> None:
    """Dry about 0.20, lubricated 0.11 to 0.15 (NASA TM-106943, p. 4), oil up to 0.18 (Shigley, table 8-15, as quoted)."""
    rows = {row["name"]: row for row in tables.printed("stud_lubricants")}
    assert {name: float(row["scatter"]) for name, row in rows.items()} == SCATTERS
    assert float(rows["none (dry)"]["nut_factor"]) == 0.20
    assert 0.11 <= float(rows["anti-seize paste"]["nut_factor"]) <= 0.15
    assert 0.15 <= float(rows["machine oil"]["nut_factor"]) <= 0.18


def test_only_dry_studs_go_with_oxygen() -> None:
    """No oil or grease comes near oxygen, on nuts neither (common practice, no source), and no report is made up."""
    rows = tables.printed("stud_lubricants")
    assert [row["name"] for row in rows if row["dry"] != "no"] == ["none (dry)"]
    assert {row["oxygen_report"] + "".join(row[one] for one in tables.LUBRICANT_REPORTS) for row in rows} == {""}


@pytest.mark.parametrize("row", tables.printed("stud_lubricants"), ids=lambda row: row["name"])
def test_the_frictions_of_a_lubricant_come_to_its_nut_factor(row: dict[str, str]) -> None:
    """Frictions from memory beside a factor from print: for a 5/8-11 heavy hex stud the long form is in its band.

    Pitch 1/11 in, pitch diameter 0.625 - 0.649519/11 in, bearing radius 0.4375 in.
    """
    pitch_radius = (0.625 - 0.649519 / 11) / 2
    thread, nut = float(row["thread_friction"]), float(row["nut_friction"])
    factor = (1 / 11 / (2 * math.pi) + thread * pitch_radius / math.cos(math.pi / 6) + nut * 0.4375) / 0.625
    middle, scatter = float(row["nut_factor"]), float(row["scatter"])
    assert middle / (1 + scatter) <= factor <= middle / (1 - scatter)


# --- packing materials ------------------------------------------------------------------------------------------------

MATERIALS: Final = {row["name"]: row for row in tables.printed("packing_materials")}
SOURCES: Final = {row["name"]: row for row in tables.printed("packing_material_sources")}
UNKNOWN: Final = ("braid of unknown make", "rings of unknown make")
GRAPHITE: Final = ("graphite braid", "graphite braid with wire", "die-formed graphite")
BRAIDS: Final = (
    "graphite braid", "graphite braid with wire", "graphite and PTFE braid", "PTFE braid", "aramid braid", "flax or ramie braid",
)  # fmt: skip

#: Figures of each source from outside: source key, column, and what is printed for each material (one number, or a range).
#: neale-materials: The Tribology Handbook, sheet B25.1, Table 25.1. set-compression-braid: 25 to 35 %, and seating: 15 to 20 %, common
#: practice of makers and merchants. graphite-friction and graphite-density: Valve World, 0.16 dry, 0.1 lubricated, 1.3 to 1.8 g/cm3.
#: ptfe-friction: 0.03. lateral-ratio: PVS2017-3518, 0.50. solid-ptfe-ratio: Zappe, p. 21, 0.85.
READ: Final[dict[tuple[str, str], dict[str, tuple[float, float]]]] = {
    ("neale-materials", "temperature_high"): {
        **dict.fromkeys(GRAPHITE, (550, 550)), "graphite and PTFE braid": (250, 250), "PTFE braid": (250, 250), "aramid braid": (250, 250),
        "solid PTFE": (250, 250), "flax or ramie braid": (120, 120),
    },
    ("set-compression-braid", "set_compression"): dict.fromkeys(
        ("graphite braid", "graphite and PTFE braid", "PTFE braid", "aramid braid", "flax or ramie braid"), (0.25, 0.35)
    ),
    ("seating", "seating_compression"): dict.fromkeys(BRAIDS, (0.15, 0.20)),
    ("graphite-friction", "friction_dry"): {"die-formed graphite": (0.16, 0.16)},
    ("graphite-friction", "friction_lubricated"): {"die-formed graphite": (0.1, 0.1)},
    ("ptfe-friction", "friction_lubricated"): {"PTFE braid": (0.03, 0.03), "solid PTFE": (0.03, 0.03)},
    ("lateral-ratio", "lateral_ratio"): dict.fromkeys((*BRAIDS, "die-formed graphite", "loose graphite"), (0.5, 0.5)),
    ("solid-ptfe-ratio", "lateral_ratio"): {"solid PTFE": (0.85, 0.85)},
    ("graphite-density", "density"): {"die-formed graphite": (1.3, 1.8)},
}  # fmt: skip


def test_every_figure_from_outside_is_checked() -> None:
    """Whatever figure cites a source that was read, second-hand too, is in the list above, and of those the list has every figure."""
    read = {key for key, source in all_sources().items() if source.grade in {Grade.READ, Grade.SECOND_HAND}} | {key for key, _ in READ}
    cited = {(name, column, key) for name, row in SOURCES.items() for column, key in row.items() if key in read}
    assert {(name, column, key) for (key, column), figures in READ.items() for name in figures} == cited


@pytest.mark.parametrize(("key", "column"), READ, ids=str)
def test_a_figure_that_was_read_is_as_printed(key: str, column: str) -> None:
    """Each figure is the printed one, or lies in the printed range."""
    printed = READ[key, column]
    assert {name: (low <= float(MATERIALS[name][column]) <= high) for name, (low, high) in printed.items()} == dict.fromkeys(printed, True)


def test_the_sources_of_the_materials_stand_beside_their_figures() -> None:
    """Both tables have the same materials, columns and order."""
    assert list(MATERIALS) == list(SOURCES)
    assert {tuple(row) for row in MATERIALS.values()} == {tuple(row) for row in SOURCES.values()}
    assert len(MATERIALS) == len(tables.printed("packing_materials"))


@pytest.mark.parametrize("name", MATERIALS)
def test_every_figure_of_a_material_has_a_source_and_no_blank_has_one(name: str) -> None:
    """A figure, a yes or a no cites a source of sources.toml; where nothing is stated no source is either."""
    wrong = [
        column for column, said in MATERIALS[name].items()
        if column != "name" and (SOURCES[name][column] in all_sources()) is not bool(said)
    ]  # fmt: skip
    assert wrong == []
    assert [column for column, key in SOURCES[name].items() if column != "name" and key and key not in all_sources()] == []


@pytest.mark.parametrize("name", UNKNOWN)
def test_packing_of_unknown_make_has_a_form_and_no_figures(name: str) -> None:
    """What nobody knows is not made up."""
    assert [column for column, said in MATERIALS[name].items() if said] == ["name", "form"]


@pytest.mark.parametrize("name", [one for one in MATERIALS if one not in UNKNOWN])
def test_the_figures_of_a_material_are_possible(name: str) -> None:
    """Limits in their order, seating below setting, oil no rougher than dry, shares below 1, and yes or no for each fluid and motion."""
    row = MATERIALS[name]
    at = {column: float(said) for column, said in row.items() if column in tables.MATERIAL_FIGURES and said}
    assert set(tables.MATERIAL_FIGURES) - set(at) <= {"most_stress", "temperature_high_air"}
    assert at["temperature_low"] < 20 < at.get("temperature_high_air", at["temperature_high"]) <= at["temperature_high"]
    assert 0 <= at["ph_low"] < 7 < at["ph_high"] <= 14
    assert 0 < at["seating_compression"] < at["set_compression"] < 1
    assert 0 < at["friction_lubricated"] <= at["friction_dry"] < 1
    assert 0 < at["lateral_ratio"] < 1
    assert at["least_stress"] < at.get("most_stress", math.inf)
    assert {row[one] for one in (*tables.MATERIAL_FLUIDS, *tables.MATERIAL_MOTIONS) if one != "oxygen"} <= {"yes", "no"}
    assert row["form"] in tables.values()["packing_form_names"]


def test_no_issued_material_goes_with_oxygen() -> None:
    """Oxygen asks for a test of the very product (ASTM G63 ranks by such): no family is passed, and no report is made up."""
    reports = ("oxygen_report", *tables.MATERIAL_REPORTS)
    assert [name for name, row in MATERIALS.items() if row["oxygen"] == "yes" or any(row[one] for one in reports)] == []
    # Fibre burns, and braid with PTFE is run in with oil (from memory).
    assert [name for name, row in MATERIALS.items() if row["oxygen"]] == [name for name in BRAIDS if name not in GRAPHITE]


def test_graphite_wastes_away_in_air_and_stands_no_oxidiser() -> None:
    """Pure graphite bears some 450 degrees in air (from memory); of all families PTFE alone stands oxidisers (from memory)."""
    pure = {name: row["temperature_high_air"] for name, row in MATERIALS.items() if row["temperature_high_air"]}
    assert pure == dict.fromkeys((*GRAPHITE, "loose graphite"), "450")
    assert [name for name, row in MATERIALS.items() if row["oxidising"] == "yes"] == ["PTFE braid", "solid PTFE"]
    assert [name for name, row in MATERIALS.items() if row["oxidising"] == ""] == list(UNKNOWN)


def test_formulas_read_the_materials_as_printed() -> None:
    """Bar becomes MPa and g/cm3 kg/mm3; your own rows stand above, empty; a blank stays a blank."""
    held = tables.values()
    own = len(held["material_names"]) - len(MATERIALS)
    assert own > 0
    assert held["material_names"] == [""] * own + list(MATERIALS)
    assert held["material_origins"] == ["own"] * own + ["issued"] * len(MATERIALS)
    factors = {"pressure_high": 0.1, "density": 1e-6}
    for column in (*tables.MATERIAL_FIGURES, *tables.MATERIAL_REPORTS):
        said = [row[column] or row["temperature_high"] * (column == "temperature_high_air") for row in MATERIALS.values()]
        printed = [float(one) * factors.get(column, 1) if one else math.nan for one in said]
        np.testing.assert_allclose([math.nan] * own + printed, held[f"materials_{column}"], rtol=1e-12)
    for block, columns in (("materials_fluids", tables.MATERIAL_FLUIDS), ("materials_motions", tables.MATERIAL_MOTIONS)):
        answers = [[{"yes": 1.0, "no": 0.0, "": math.nan}[row[one]] for one in columns] for row in MATERIALS.values()]
        np.testing.assert_array_equal([[math.nan] * len(columns)] * own + answers, held[block])


def test_the_users_own_rows_of_studs_are_empty() -> None:
    """Above the issued grades and lubricants stand rows without a name and without a figure."""
    held = tables.values()
    for names, issued, figures in (
        ("grade_names", "gland_stud_grades", tuple(tables.GRADE_FIGURES.values())),
        (
            "lubricant_names",
            "stud_lubricants",
            (*tables.LUBRICANT_FIGURES.values(), "lubricants_dry", "lubricant_oxygen_temperatures", "lubricant_oxygen_pressures"),
        ),
    ):
        own = len(held[names]) - len(tables.printed(issued))
        assert own > 0
        assert held[names][:own] == [""] * own
        assert [figure for figure in figures if not np.isnan(held[figure][:own]).all()] == []
    assert held["grade_numbers"].tolist() == list(range(1, len(held["grade_names"]) + 1))


# --- choices ----------------------------------------------------------------------------------------------------------

#: Whether a stem slides and turns, by its motion: what the words mean.
MOTIONS: Final = {
    "not stated": ("", ""), "rising": ("1", "0"), "rotating": ("0", "1"), "rising-rotating": ("1", "1"), "quarter-turn": ("0", "1"),
}  # fmt: skip
#: Rings wanted, from memory: four for a quarter-turn, five for every other motion and where none is stated.
WANTED: Final = {name: "4" if name == "quarter-turn" else "5" for name in MOTIONS}


def test_a_motion_slides_and_turns_as_its_name_says() -> None:
    """Rising stems slide, rotating and quarter-turn ones turn, and where nothing is stated nothing is assumed."""
    assert {row["name"]: (row["slides"], row["turns"]) for row in tables.printed("stem_motions")} == MOTIONS


def test_a_quarter_turn_wants_a_ring_less() -> None:
    """The rings of each motion are those listed, whole and within the four to six that a maker recommends for valve stems."""
    assert {row["name"]: row["rings"] for row in tables.printed("stem_motions")} == WANTED
    assert tables.values()["motion_rings"].tolist() == [float(row["rings"]) for row in tables.printed("stem_motions")]
    assert set(tables.values()["motion_rings"]) <= {4.0, 5.0, 6.0}


#: Kinds of fluid that read the column of another, and those that are air, hold oxygen, or may do so: what the words mean.
READ_AS: Final = {"air": "gas", "inert gas": "gas"}
IN_AIR: Final = ["gas", "air", "oxygen", "oxidising"]


def test_each_kind_of_fluid_reads_its_own_column() -> None:
    """The number beside a kind of fluid is the place of its name among the columns of the materials; each has a caution."""
    rows = tables.printed("fluid_kinds")
    assert [row["name"] for row in rows if row["column"] == ""] == ["not stated"]
    named = [row for row in rows if row["column"]]
    assert [tables.MATERIAL_FLUIDS[int(row["column"]) - 1] for row in named] == [READ_AS.get(row["name"], row["name"]) for row in named]
    assert {row["name"] for row in named} == {*tables.MATERIAL_FLUIDS, *READ_AS}
    assert [row["name"] for row in rows if row["in_air"] == "1"] == IN_AIR
    assert [row["name"] for row in rows if row["in_air"] not in {"0", "1"}] == []
    assert [row["name"] for row in rows if not row["caution"].endswith(".")] == []


# --- joints and rules -------------------------------------------------------------------------------------------------

#: Rings and joint step: a turn over two, three and four rings, and not less than 90 degrees (M. J. Neale, The Tribology Handbook,
#: 2nd edition, 1995, sheet B25.4); arithmetic.
STEPS: Final = [(1, 0), (2, 180), (3, 120), (4, 90)]


def test_joints_stand_evenly_round_the_stem() -> None:
    """The table holds a row for one, two, three and four or more rings, each with its even share of a turn."""
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
