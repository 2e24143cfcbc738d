"""Facts about the reading of one cell."""

from __future__ import annotations

import csv
import datetime as dt
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sheetcalc.findings import (
    DateNotNumber,
    DateWasFraction,
    Finding,
    GuessedNps,
    NotANumber,
    SizeFromDn,
    TwoNumbers,
    UnclearComma,
    UnclearSize,
    UnknownUnit,
)
from sheetcalc.intake import values

TABLES = Path(__file__).parents[2] / "sheetcalc" / "reference" / "tables"


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("5/16", 0.3125, ""),
        ('1-1/8"', 1.125, "in"),
        ("1 1/8 in", 1.125, "in"),
        ("28 mm", 28.0, "mm"),
        ("28mm", 28.0, "mm"),
        ("2.8 cm", 2.8, "cm"),
        ("28,5", 28.5, ""),
        ("1,234.5", 1234.5, ""),
        ("1.234,5", 1234.5, ""),
        ("1,234,567", 1234567.0, ""),
        ("1\u202f234,5", 1234.5, ""),
        ("28\u00a0mm", 28.0, "mm"),
        ("28\u202fmm", 28.0, "mm"),
        ("½", 0.5, ""),
        ("1⅝", 1.625, ""),
        ("1 ⅝ in", 1.625, "in"),
        ("1.125\u2033", 1.125, "in"),
        ("1.125''", 1.125, "in"),
        ("1.125 inches", 1.125, "in"),
        ("+28", 28.0, ""),
        ("\u22125", -5.0, ""),
        ("Ø28", 28.0, ""),
        ("Ø 28 mm", 28.0, "mm"),
        ("1e1", 10.0, ""),
        (".5", 0.5, ""),
        ("30 %", 30.0, "%"),
        ("30%", 30.0, "%"),
        ("1 ft", 1.0, "ft"),
        ("0.05 m", 0.05, "m"),
    ],
)
def test_number_as_people_type_it(text: str, number: float, unit: str) -> None:
    """A number is read however it is typed, and its unit with it."""
    reading = values.read_value(text)
    assert (number, unit, None) == (reading.number, reading.unit, reading.fault)


@pytest.mark.parametrize(
    "text",
    [
        "nan",
        "NaN",
        "inf",
        "-Infinity",
        "1e400",
        "1 9/8",
        "1/0",
        "1,2,3",
        "1.125.",
        "#N/A",
        "worn",
        "28 mm (worn)",
        "0x1A",
        "1_000",
        "28 m m",
        "#REF!",
        "=1+1",
        "TRUE",
        "1-1/8-8",
        "7" * 400,
    ],
)
def test_text_that_is_no_number(text: str) -> None:
    """What could be taken in no way, or in two ways, is no number."""
    reading = values.read_value(text)
    assert (None, NotANumber) == (reading.number, reading.fault)


@pytest.mark.parametrize("text", ["5 furlongs", "28 kg", "5'", "20 °"])
def test_unknown_unit(text: str) -> None:
    """A number with a unit that is no length we know is not read."""
    reading = values.read_value(text)
    assert (None, UnknownUnit) == (reading.number, reading.fault)


@pytest.mark.parametrize("text", ["", "  ", "\u00a0", "-", "\u2013", "--"])
def test_blank_cells(text: str) -> None:
    """Spaces and a lone dash say nothing, and are no fault."""
    reading = values.read_value(text)
    expected = (True, None, None)
    assert expected == (reading.blank, reading.number, reading.fault)


@pytest.mark.parametrize(
    "text",
    [
        "28/44", "28-30", "28 - 30", "28 – 30 mm", "28 x 44", "28x44", "28 to 30", "28...30", "28;44", "28 44", "28,5/44,0", "~28/44",
        "28 or 30?",
    ],
)  # fmt: skip
def test_two_numbers(text: str) -> None:
    """Two numbers in one cell are never a number, whatever stands between them."""
    reading = values.read_value(text)
    assert (None, TwoNumbers) == (reading.number, reading.fault)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("~28", 28.0, ""),
        ("≈ 28 mm", 28.0, "mm"),
        ("ca. 28,5", 28.5, ""),
        ("about 1 1/8 in", 1.125, "in"),
        ("approx. 28", 28.0, ""),
        ("28 approx", 28.0, ""),
        ("28?", 28.0, ""),
        ("28 (?)", 28.0, ""),
        ("28 mm (est.)", 28.0, "mm"),
        ("28*", 28.0, ""),
    ],
)
def test_rough_numbers(text: str, number: float, unit: str) -> None:
    """A number that its writer marked as rough is read, and the reading says so; a plain one is not called rough."""
    reading = values.read_value(text)
    assert (number, unit, True) == (reading.number, reading.unit, reading.rough)
    assert not values.read_value("28 mm").rough


@pytest.mark.parametrize("text", ["n/a", "N/A", "n.a.", "?", "??", "TBC", "tbd", "unknown", "not measured", "none", " nil "])
def test_words_for_nothing_known(text: str) -> None:
    """Words that say that nothing is known make a cell blank, and the reading says so; a bare blank says nothing."""
    reading = values.read_value(text)
    assert (reading.blank, reading.not_given, reading.number) == (True, True, None)
    assert not values.read_value("").not_given


@pytest.mark.parametrize(
    ("dimension", "text", "number"),
    [("pressure", "1 600 kPa", 1600.0), ("force", "12 500 N", 12500.0), ("force", "1'200", 1200.0), ("length", "1’234.5", 1234.5)],
)
def test_other_marks_of_thousands(dimension: str, text: str, number: float) -> None:
    """A space or an apostrophe before three digits is a mark of thousands, and the reading says so; of a length no space is."""
    reading = values.read_value(text, dimension=dimension)
    assert (number, True) == (reading.number, reading.thousands)
    assert values.read_value("28 440").fault is TwoNumbers


@pytest.mark.parametrize(
    ("text", "fractions"),
    [
        ("16-May", ("5/16",)),
        ("May-16", ("5/16",)),
        ("5/16/2025", ("5/16",)),
        ("2025-05-16", ("5/16",)),
        ("16.05.2025", ("5/16",)),
        ("2025-05-16 00:00:00", ("5/16",)),
        ("8 Jan", ("1/8",)),
        ("1-Aug", ("1/8",)),
        ("3 Apr 2026", ("3/4",)),
        ("4-Mar", ("3/4",)),
        ("May-32", ("5/32",)),
        ("Jul-64", ("7/64",)),
        ("5-Mar", ()),
        ("3-Oct", ()),
        ("12.11.2026", ()),
    ],
)
def test_date_as_text(text: str, fractions: tuple[str, ...]) -> None:
    """A date in a text file is no number; the fraction of an inch rule that becomes such a date is named, where there is one."""
    reading = values.read_value(text)
    assert (None, DateWasFraction if fractions else DateNotNumber, fractions) == (reading.number, reading.fault, reading.fractions)


@pytest.mark.parametrize(
    ("cell", "fractions"),
    [
        (dt.datetime(2026, 5, 16), ("5/16",)),  # noqa: DTZ001 - a spreadsheet has no time zones
        (dt.date(2026, 8, 1), ("1/8",)),
        (dt.date(1932, 5, 1), ("5/32",)),
        (dt.date(2016, 1, 5), ("1 5/16", "5 1/16")),
        (dt.date(2026, 3, 5), ()),
        (dt.time(12, 0), ()),
    ],
)
def test_date_cell(cell: object, fractions: tuple[str, ...]) -> None:
    """A date of a spreadsheet is no number either, and its fraction is named in the same way."""
    reading = values.read_value(cell)
    assert (None, DateWasFraction if fractions else DateNotNumber, fractions) == (reading.number, reading.fault, reading.fractions)


@given(st.sampled_from([2, 4, 8, 16]), st.integers(min_value=0, max_value=7), st.integers(min_value=2017, max_value=2031))
def test_every_fraction_comes_back_from_its_date(bottom: int, half: int, year: int) -> None:
    """Each fraction of an inch down to 16ths that a spreadsheet turns into a date is the one that is named."""
    top = 2 * half + 1
    assume(top < bottom and top <= 12)
    months_first = dt.date(year, top, bottom)
    assert values.read_value(months_first).fractions == (f"{top}/{bottom}",)
    if bottom <= 12:
        assert values.read_value(dt.date(year, bottom, top)).fractions == (f"{top}/{bottom}",)


@pytest.mark.parametrize(
    ("text", "metric", "halves"),
    [
        ("28/44", True, ("28", "44")),
        ("28/44", False, ("28", "44")),
        ("28,5/44,0", False, ("28,5", "44,0")),
        ("28 / 44 mm", False, ("28 mm", "44 mm")),
        ("28 mm x 1.75 in", False, ("28 mm", "1.75 in")),
        ("28 x 44", True, ("28", "44")),
        ("1 1/8 x 1 3/4", False, ("1 1/8", "1 3/4")),
        ("1-1/8 / 1-3/4 in", False, ("1-1/8 in", "1-3/4 in")),
        ("27/32", True, ("27", "32")),
        ("27/32", False, None),
        ("5/8", False, None),
        ("28", True, None),
        ("28/44/60", True, None),
        ("28/worn", True, None),
        (28, True, None),
    ],
)
def test_pairs(text: object, metric: bool, halves: tuple[str, str] | None) -> None:  # noqa: FBT001
    """A cell of two numbers is parted where that is plain; what may be one fraction of an inch is not."""
    assert halves == values.pair(text, metric=metric)


@pytest.mark.parametrize("cell", [True, False, float("nan"), float("inf"), 10**400, object()])
def test_cell_that_is_no_number(cell: object) -> None:
    """A truth value, a number that is none, and one beyond all size are no measurements."""
    reading = values.read_value(cell)
    assert (None, NotANumber) == (reading.number, reading.fault)


@pytest.mark.parametrize(
    ("text", "number", "guessed"),
    [
        ("1,125", 1.125, True),
        ("12,500", 12.5, True),
        ("0,125", 0.125, False),
        ("28,5", 28.5, False),
        ("28,50", 28.5, False),
        ("1234,567", 1234.567, False),
        ("1.125", 1.125, False),
    ],
)
def test_one_comma_before_three_digits(text: str, number: float, guessed: bool) -> None:  # noqa: FBT001
    """One comma before three digits is a decimal comma; where it could part thousands, the reading says so."""
    reading = values.read_value(text)
    assert (number, guessed) == (reading.number, reading.guessed_comma)


@pytest.mark.parametrize(
    ("dimension", "text", "number", "unit"),
    [
        ("pressure", "16 bar", 16.0, "bar"),
        ("pressure", "16barg", 16.0, "bar"),
        ("pressure", "16 bar(g)", 16.0, "bar"),
        ("pressure", "16 bar (g)", 16.0, "bar"),
        ("pressure", "16 bar g", 16.0, "bar"),
        ("pressure", "16 bar gauge", 16.0, "bar"),
        ("pressure", "150 PSIG", 150.0, "psi"),
        ("pressure", "150 psi g.", 150.0, "psi"),
        ("pressure", "1600 kPa", 1600.0, "kPa"),
        ("pressure", "1.6 MPa", 1.6, "MPa"),
        ("pressure", "500 mbar", 500.0, "mbar"),
        ("pressure", "10 kg/cm²", 10.0, "kgf/cm^2"),
        ("pressure", "10 kgf/cm^2", 10.0, "kgf/cm^2"),
        ("pressure", "\u22120.5 barg", -0.5, "bar"),
        ("pressure", "1,234.5 psi", 1234.5, "psi"),
        ("pressure", "2 1/2 bar", 2.5, "bar"),
        ("temperature", "180 °C", 180.0, "degC"),
        ("temperature", "180 º C", 180.0, "degC"),
        ("temperature", "180\u2103", 180.0, "degC"),
        ("temperature", "180C", 180.0, "degC"),
        ("temperature", "180 deg C", 180.0, "degC"),
        ("temperature", "180 degC", 180.0, "degC"),
        ("temperature", "180 degrees Celsius", 180.0, "degC"),
        ("temperature", "-20 C", -20.0, "degC"),
        ("temperature", "356 °F", 356.0, "degF"),
        ("temperature", "356 deg. F", 356.0, "degF"),
        ("temperature", "453 K", 453.0, "K"),
        ("stress", "30 N/mm2", 30.0, "MPa"),
        ("stress", "30 N / mm²", 30.0, "MPa"),
        ("stress", "4.5 ksi", 4.5, "ksi"),
        ("force", "400 N", 400.0, "N"),
        ("force", "12,5 kN", 12.5, "kN"),
        ("force", "90 lbf", 90.0, "lbf"),
        ("force", "90 lbs", 90.0, "lbf"),
        ("force", "40 kgf", 40.0, "kgf"),
        ("angle", "15°", 15.0, "deg"),
        ("angle", "14 1/2 deg", 14.5, "deg"),
        ("time", "3 h", 3.0, "h"),
        ("time", "3,5 h", 3.5, "h"),
        ("time", "3.5hrs", 3.5, "h"),
        ("time", "3 man-hours", 3.0, "h"),
        ("time", "4 MH", 4.0, "h"),
        ("time", "1 1/2 hours", 1.5, "h"),
        ("time", "½ h", 0.5, "h"),
        ("time", "1½", 1.5, ""),
        ("mass", "50 kg", 50.0, "kg"),
        ("mass", "50kgs", 50.0, "kg"),
        ("mass", "110 lb", 110.0, "lb"),
        ("mass", "110 lbs.", 110.0, "lb"),
        ("mass", "1.2 t", 1.2, "t"),
        ("mass", "1,2 tonnes", 1.2, "t"),
        ("mass", "½ t", 0.5, "t"),
        ("mass", "50 kgf", 50.0, "kg"),
        ("mass", "1,234.5 kg", 1234.5, "kg"),
    ],
)
def test_units_of_other_measurements(dimension: str, text: str, number: float, unit: str) -> None:
    """Pressures, temperatures, stresses, forces and angles are read with their units, and gauge words are no part of them."""
    reading = values.read_value(text, dimension=dimension)
    assert (number, unit, None) == (reading.number, reading.unit, reading.fault)


@pytest.mark.parametrize(
    ("dimension", "text", "fault"),
    [
        ("pressure", "16 bara", UnknownUnit),
        ("pressure", "16 bar(a)", UnknownUnit),
        ("pressure", "16 bar abs", UnknownUnit),
        ("pressure", "150 psia", UnknownUnit),
        ("pressure", "150 lb", UnknownUnit),
        ("pressure", "16 mm", UnknownUnit),
        ("pressure", "10/16 bar", TwoNumbers),
        ("pressure", "10-16 bar", TwoNumbers),
        ("pressure", "PN 16", NotANumber),
        ("pressure", "150#", NotANumber),
        ("pressure", "1,500 psi", UnclearComma),
        ("temperature", "180 °", UnknownUnit),
        ("temperature", "180 bar", UnknownUnit),
        ("temperature", "1,050", UnclearComma),
        ("temperature", "20...180 °C", TwoNumbers),
        ("stress", "30 N/cm2", UnknownUnit),
        ("stress", "30 °C", UnknownUnit),
        ("force", "12,500 N", UnclearComma),
        ("force", "12 N m", NotANumber),
        ("angle", "14°30'", NotANumber),
        ("angle", "0.5 rad", UnknownUnit),
        ("time", "2:30", NotANumber),
        ("time", "2-3 h", TwoNumbers),
        ("time", "1/2", TwoNumbers),
        ("time", "90 min", UnknownUnit),
        ("time", "3 days", UnknownUnit),
        ("time", "3 mm", UnknownUnit),
        ("length", "28 h", UnknownUnit),
        ("mass", "2 tons", UnknownUnit),
        ("mass", "500 N", UnknownUnit),
        ("mass", "50 mm", UnknownUnit),
        ("mass", "1,200 kg", UnclearComma),
        ("mass", "40-50 kg", TwoNumbers),
        ("length", "3 t", UnknownUnit),
        ("pressure", "3 t", UnknownUnit),
        ("", "7 h", NotANumber),
        ("", "7 mm", NotANumber),
        ("", "7 bar", NotANumber),
        ("length", "28 bar", UnknownUnit),
        ("length", "28 N", UnknownUnit),
    ],
)
def test_bad_values_of_other_measurements(dimension: str, text: str, fault: type[Finding]) -> None:
    """An absolute pressure, a unit of something else, two numbers, and a comma that may part thousands are not read."""
    reading = values.read_value(text, dimension=dimension)
    assert (None, fault) == (reading.number, reading.fault)


@given(st.text(max_size=20), st.sampled_from([*values.UNITS, ""]))
def test_any_text_of_any_dimension(text: str, dimension: str) -> None:
    """No text raises, whatever is looked for in it, and a unit that is found is one of its dimension."""
    reading = values.read_value(text, dimension=dimension)
    assert [reading.number is not None, reading.blank, reading.fault is not None].count(True) == 1
    assert reading.unit in {"", "%"} or values.fits(reading.unit, dimension)


def test_words_after_a_count() -> None:
    """A count may be followed by the word for rings, a length may not."""
    as_count, as_length = values.read_value("5 rings", counts=True), values.read_value("5 rings")
    assert (5.0, None, None, UnknownUnit) == (as_count.number, as_count.fault, as_length.number, as_length.fault)
    assert [values.read_value(text, counts=True).number for text in ("2 studs", "4 off", "3 starts")] == [2.0, 4.0, 3.0]
    assert [values.read_value(text, counts=True).number for text in ("2 gaskets", "4 new", "3 end rings")] == [2.0, 4.0, 3.0]


@pytest.mark.parametrize(
    ("entry", "cell", "bare"),
    [
        ("crew_number_entered", "Crew 2", "2"),
        ("crew_number_entered", "crew no. 2", "2"),
        ("crew_number_entered", "TEAM 12", "12"),
        ("crew_number_entered", "#2", "2"),
        ("crew_number_entered", "2nd crew", "2"),
        ("job_day_entered", "Day 3", "3"),
        ("job_day_entered", "D3", "3"),
        ("job_day_entered", "3rd", "3"),
        ("crew_number_entered", "Crew A", "Crew A"),
        ("crew_number_entered", "Day 3", "Day 3"),
        ("crew_number_entered", "Crew 1 + 2", "Crew 1 + 2"),
        ("job_day_entered", "day -1", "day -1"),
        ("job_day_entered", "-1", "-1"),
        ("job_day_entered", "3 days", "3 days"),
        ("job_day_entered", 3, 3),
        ("new_studs_entered", "no. 3", "no. 3"),
    ],
)
def test_numbers_of_crews_and_days(entry: str, cell: object, bare: object) -> None:
    """The number of a crew or a day is taken from the word for it; a day before the first, a duration and anything else stay."""
    assert bare == values.numbered(entry, cell)


@pytest.mark.parametrize(
    ("entry", "cell", "bare"),
    [
        *(
            ("flange_class_entered", text, "150")
            for text in (
                "150", "150#", "150 #", "150 lb", "150LB", "150 lbs.", "CL150", "CL 150", "Cl. 150", "class 150", "Class: 150", "150 class",
                "ANSI 150", "ASME 150", "ANSI 150#", "ASME CL 150", "ANSI Class 150 lb", "ASME B16.5 class 150", "#150", "cl-150",
            )
        ),
        ("flange_class_entered", "1,500#", "1500"),
        ("flange_class_entered", "2500 lb", "2500"),
        ("flange_class_entered", 300, 300),
        *(
            ("flange_class_entered", text, text)
            for text in ("-150", "150 WOG", "150 psi", "150/300", "PN 16", "150 RF", "16 bar", "150 mm", "15.0", "Sch 80")
        ),
        ("sling_legs_entered", "4-leg", "4"),
        ("sling_legs_entered", "2 legs", "2"),
        ("sling_legs_entered", "2-legged chain sling", "2"),
        ("sling_legs_entered", "2 or 4 legs", "2 or 4 legs"),
    ],
)  # fmt: skip
def test_numbers_of_classes_and_legs(entry: str, cell: object, bare: object) -> None:
    """The number of a class or of legs is taken from the words about it; a pressure, a rating of another kind and two numbers stay."""
    assert bare == values.numbered(entry, cell)


@pytest.mark.parametrize(
    ("cell", "is_pn"),
    [("PN16", True), ("PN 40", True), ("pn-6", True), ("DIN PN 16", True), ("EN 1092-1 PN16", True), ("PN 2.5", True), ("150", False),
     ("PN", False), ("16", False), (16, False), ("CL 150 / PN 20", False)],
)  # fmt: skip
def test_nominal_pressures(cell: object, is_pn: bool) -> None:  # noqa: FBT001
    """A flange of a nominal pressure is known by its two letters; a bare number never is one."""
    assert is_pn is values.is_pn(cell)


@pytest.mark.parametrize(
    ("cell", "name", "finding"),
    [
        *(
            (text, "NPS 2", None)
            for text in ('2"', "2 in", "2 inch", "2 ins", "2''", "NPS 2", "NPS2", "nps-2", '2" NPS', '2" NB', "2.0 in", "NPS 2.0")
        ),
        *((text, "NPS 1 1/2", None) for text in ("1-1/2", '1 1/2"', "1½", '1½"', "1.1/2", 'NPS 1-1/2"', "NPS 1.5", "1.5 in", '1,5"')),
        *((text, "NPS 3/4", None) for text in ("3/4", '3/4"', "¾", "0.75 in")),
        *((text, "NPS 2", SizeFromDn) for text in ("DN 50", "DN50", "dn-50", "50 DN", "DN 50 mm", "50 mm", "50 NB", "NB 50")),
        *((text, "NPS 2", None) for text in ('DN 50 (2")', '2" (DN 50)', 'DN50/2"', "DN 50 = NPS 2", '2" / DN 50 mm')),
        ("2", "NPS 2", GuessedNps),
        (2, "NPS 2", GuessedNps),
        (2.0, "NPS 2", GuessedNps),
        (1.5, "NPS 1 1/2", GuessedNps),
        ("1.5", "NPS 1 1/2", GuessedNps),
        ("2,5", "NPS 2 1/2", GuessedNps),
        ("20", "NPS 20", GuessedNps),
        ("24", "NPS 24", GuessedNps),
        *(
            (text, text, UnclearSize)
            for text in (
                "15", "25", "32", "50", "80", "100", "7", "26", "NPS 26", "NPS 7", "DN 175", "DN 2", 'DN 2"', "NPS 50 mm", "2 NB", "20 NB",
                "NPS 2 NB", "2x1", '2" x 1"', "DN 50/40", 'DN 50 (3")', "2/3", "~2", "2?", "-2", "1,500", '2" 150#', "threaded", "2 ft",
                "2 m", "50 %",
            )
        ),
        ("", "", None),
        (" - ", "", None),
        (None, "", None),
        ("  NPS   50 ", "NPS 50", UnclearSize),
    ],
)  # fmt: skip
def test_sizes_of_flanges(cell: object, name: str, finding: type[Finding] | None) -> None:
    """A size with its name or unit is read, a bare one that can be an NPS is guessed; what may be two sizes or is none stays."""
    assert (name, finding) == values.flange_size(cell)
    assert name == values.code("flange_size", cell)


@pytest.mark.parametrize(
    ("cell", "said", "name", "finding"),
    [
        ("50", "DN", "NPS 2", SizeFromDn),
        (50, "DN", "NPS 2", SizeFromDn),
        ("20", "DN", "NPS 3/4", SizeFromDn),
        ("20", "NPS", "NPS 20", None),
        ("2", "NPS", "NPS 2", None),
        ("1.5", "NPS", "NPS 1 1/2", None),
        ("2", "DN", "2", UnclearSize),
        ("50", "NPS", "50", UnclearSize),
        ('2"', "DN", "NPS 2", None),
        ("1 1/2", "DN", "NPS 1 1/2", None),
        ("DN 50", "NPS", "NPS 2", SizeFromDn),
        ("NPS 20", "DN", "NPS 20", None),
    ],
)
def test_sizes_below_a_header_that_says_how(cell: object, said: str, name: str, finding: type[Finding] | None) -> None:
    """The header says what a bare number is; what the cell itself says goes before it."""
    assert (name, finding) == values.flange_size(cell, said=said)


def test_bare_sizes_among_bare_dn() -> None:
    """A bare 20 beside a bare 50 is as likely DN 20, so nothing is read; a bare 2 or 24 can be no DN."""
    found = [values.flange_size(text, among_dn=True) for text in ("20", "8", "2", "24", "NPS 20", '20"')]
    assert found == [
        ("20", UnclearSize),
        ("8", UnclearSize),
        ("NPS 2", GuessedNps),
        ("NPS 24", GuessedNps),
        ("NPS 20", None),
        ("NPS 20", None),
    ]
    assert [values.only_dn(cell) for cell in ("50", 80, "15", "20", "2", "DN 50", "", None, "x")] == [True, True, True, *[False] * 6]


def test_sizes_agree_with_the_tables() -> None:
    """The sizes that are recognised are those of the table of flanges, in every way of writing them, and each has one DN."""
    with (TABLES / "flange_sizes.csv").open(encoding="utf-8", newline="") as file:
        names = [row["name"] for row in csv.DictReader(file)]
    assert names == [f"NPS {text}" for text in values.NPS.values()]
    bare = [name.removeprefix("NPS ") for name in names]
    assert list(values.NPS) == [float(sum(map(Fraction, text.split()))) for text in bare]
    for write in ("NPS {}", "nps{}", '{}"', "{} in"):
        assert names == [values.flange_size(write.format(text))[0] for text in bare]
    assert names == [values.flange_size(f"DN {size}")[0] for size in values.DN]


def test_pairs_of_nps_and_dn() -> None:
    """Up to NPS 3 1/2 the pairs are those of ASME B36.10M, from memory; from NPS 4 on a DN counts 25 to the inch, as it says there."""
    small = {15: "1/2", 20: "3/4", 25: "1", 32: "1 1/4", 40: "1 1/2", 50: "2", 65: "2 1/2", 80: "3", 90: "3 1/2"}
    assert small == {size: values.NPS[nps] for size, nps in values.DN.items() if nps < 4}
    assert [nps for nps in values.NPS if nps >= 4] == [size / 25 for size in values.DN if size >= 100]


@given(st.text(max_size=20), st.sampled_from(["", "NPS", "DN"]))
def test_any_text_as_a_size(text: str, said: str) -> None:
    """No text raises as the size of a flange: it is one of the names, or stays as typed on one line with its finding, or is blank."""
    name, finding = values.flange_size(text, said=said)
    known = {f"NPS {one}" for one in values.NPS.values()}
    assert name in known if finding is not UnclearSize and name else name in {values.plain(text), ""}


@given(st.integers(min_value=1, max_value=1600), st.sampled_from(["", '"', " in", "\u2033"]), st.sampled_from(" -"))
def test_sixteenths_come_back(sixteenths: int, unit: str, joint: str) -> None:
    """Every sixteenth of an inch up to 100 in, written as on a rule, is read exactly."""
    whole, part = divmod(Fraction(sixteenths, 16), 1)
    text = f"{whole}{joint}{part}" if whole and part else str(whole or part)
    assert sixteenths / 16 == values.read_value(text + unit).number


@given(st.integers(min_value=-99_999, max_value=99_999), st.integers(min_value=0, max_value=9999))
def test_decimal_comma_means_the_same_as_a_point(whole: int, decimals: int) -> None:
    """A number with one comma is the number with a point."""
    assert float(f"{whole}.{decimals}") == values.read_value(f"{whole},{decimals}").number


@given(st.floats(min_value=1000, max_value=999_999).map(lambda number: round(number, 2)))
def test_grouped_thousands_come_back(number: float) -> None:
    """Thousands in groups are read in both manners, where a decimal mark shows which is which."""
    english = f"{number:,.2f}"
    swapped = english.translate(str.maketrans(",.", ".,"))
    assert (number, number) == (values.read_value(english).number, values.read_value(swapped).number)


@given(st.text(max_size=80))
def test_any_text_is_a_number_a_blank_or_a_fault(text: str) -> None:
    """No text raises, and each is one thing only: a number, a blank or a fault."""
    reading = values.read_value(text)
    assert [reading.number is not None, reading.blank, reading.fault is not None].count(True) == 1


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("m12", "M12"),
        ("M 16", "M16"),
        ("M12x1.75", "M12"),
        ("M12 x 1,75", "M12"),
        ('1/2"-13', "1/2-13 UNC"),
        ("1/2-13unc", "1/2-13 UNC"),
        ("½-13", "1/2-13 UNC"),
        ("1/2 UNC", "1/2-13 UNC"),
        ("5/8-11 UNC-2A", "5/8-11 UNC"),
        ("1-8", "1-8 UNC"),
        ("1-1/8-8", "1 1/8-8 UN"),
        ('1 1/8"-8UN', "1 1/8-8 UN"),
        ("1 1/8 8UN", "1 1/8-8 UN"),
    ],
)
def test_threads_in_obvious_spellings(text: str, key: str) -> None:
    """An obvious spelling of a thread becomes its key."""
    assert key == values.thread(text)


@pytest.mark.parametrize("text", ["M12x1.25", "M99", "1/2", "1/2-20 UNF", "1/2-20", "1 1/8-7 UNC", "M12 studs", "12", ""])
def test_other_threads_stay(text: str) -> None:
    """A fine, unknown or half-given thread stays as it was written."""
    assert text == values.thread(text)


def test_threads_agree_with_the_tables() -> None:
    """Each thread that is recognised stands in the reference tables and each of theirs is a key."""
    with (TABLES / "threads_metric.csv").open(encoding="utf-8", newline="") as file:
        metric = {row["designation"]: float(row["pitch_mm"]) for row in csv.DictReader(file)}
    with (TABLES / "threads_inch.csv").open(encoding="utf-8", newline="") as file:
        inch = {row["designation"]: float(row["threads_per_inch"]) for row in csv.DictReader(file)}
    known = {values.thread(f"M{size}x{pitch}"): pitch for size, pitch in values.COARSE_PITCH.items()}
    known |= {values.thread(f"{size}-{pitch}"): float(pitch) for size, pitch in values.INCH_THREADS.items()}
    assert known == {key: (metric | inch).get(key) for key in known}
    assert list(metric | inch) == [values.thread(key) for key in metric | inch]


@pytest.mark.parametrize(
    ("entry", "text", "code"),
    [
        ("packing_form_entered", "Braided", "braid"),
        ("packing_form_entered", "die formed", "die-formed"),
        ("packing_form_entered", "Die-Formed", "die-formed"),
        ("packing_form_entered", "Pre-formed rings", "die-formed"),
        ("packing_form_entered", "Moulded", "moulded"),
        ("packing_form_entered", "molded rings", "moulded"),
        ("packing_form_entered", "die-molded", "die-formed"),
        ("packing_form_entered", "shredded", "loose"),
        ("packing_form_entered", "Bulk", "loose"),
        ("packing_form_entered", "woven", "woven"),
        ("fluid_kind_entered", "Not stated", "not stated"),
        ("fluid_kind_entered", "STEAM", "steam"),
        ("fluid_kind_entered", "O2", "oxygen"),
        ("fluid_kind_entered", "Chemicals", "chemical"),
        ("fluid_kind_entered", "Natural gas", "gas"),
        ("fluid_kind_entered", "slurry", "slurry"),
        ("stem_motion_entered", "rising stem", "rising"),
        ("stem_motion_entered", "Rising/Rotating", "rising-rotating"),
        ("stem_motion_entered", "rising, rotating", "rising-rotating"),
        ("stem_motion_entered", "non-rising", "rotating"),
        ("stem_motion_entered", "1/4 turn", "quarter-turn"),
        ("stem_motion_entered", "¼-turn", "quarter-turn"),
        ("stem_motion_entered", "Quarter Turn", "quarter-turn"),
        ("stem_motion_entered", "multi-turn", "multi-turn"),
        ("packing_state_entered", "lubed", "lubricated"),
        ("packing_state_entered", "Un-lubricated", "dry"),
        ("packing_state_entered", "DRY", "dry"),
        ("gland_kind_entered", "live loaded", "live-loaded"),
        ("gland_kind_entered", "Bolted", "studs"),
        ("gland_kind_entered", "Gland nut", "packing nut"),
        ("gland_kind_entered", "clamped", "clamped"),
        ("gland_nut_kind_entered", "heavy", "heavy hex"),
        ("gland_nut_kind_entered", "Hexagon", "hex"),
        ("gland_nut_kind_entered", "DIN 934", "old DIN hex"),
        ("gland_nut_kind_entered", "by thread", "by thread"),
        ("gland_nut_kind_entered", "square", "square"),
        ("packing_material", "  Heavy graphite braid ", "Heavy graphite braid"),
        ("gland_stud_grade", "b7 ", "b7"),
        ("stud_lubricant", "Lubed", "Lubed"),
        ("stud_lubricant", "-", ""),
        ("cut_style_entered", "Square cut", "butt"),
        ("cut_style_entered", "DIAGONAL", "skive"),
        ("cut_style_entered", "wavy", "wavy"),
        ("section_list_entered", "Inches", "inch"),
        ("section_list_entered", "by unit set", "by unit set"),
        ("section_list_entered", "mm", "metric"),
        ("section_list_entered", "either", "both"),
        ("gland_stud_thread", " m12 ", "M12"),
        *(("critical_entered", text, "yes") for text in ("Yes", "y", "X", "TRUE", "1", "ja", "Oui")),
        *(("critical_entered", text, "no") for text in ("NO", "n", "-", "–", "False", "0", "Nein")),
        ("critical_entered", "perhaps", "perhaps"),
        ("critical_entered", "", ""),
        ("gasket", " 90 x 110  x 2 ", "90 x 110 x 2"),
        ("gasket", "-", ""),
        *(
            ("comes_out_entered", text, "yes")
            for text in ("Yes", "y", "X", "TRUE", "1", "ja", "To be removed", "OUT", "off-line", "Workshop")
        ),
        *(("comes_out_entered", text, "no") for text in ("NO", "n", "-", "0", "in line", "In-situ", "stays")),
        ("comes_out_entered", "perhaps", "perhaps"),
        *(("flange_studs_renewed_entered", text, "yes") for text in ("Yes", "new", "Renew", "x")),
        *(("flange_studs_renewed_entered", text, "no") for text in ("No", "re-use", "old", "–")),
        ("flange_studs_renewed_entered", "8", "8"),
        *(("valve_actuated_entered", text, "yes") for text in ("yes", "Pneumatic", "MOV", "electric", "Motor operated")),
        *(("valve_actuated_entered", text, "no") for text in ("no", "none", "Manual", "Hand-wheel", "-")),
        ("valve_actuated_entered", "gearbox", "gearbox"),
        *(("flange_facing_entered", text, "raised face") for text in ("RF", "rf", "raised", "Raised Face", "R.F.", "(RF)")),
        *(("flange_facing_entered", text, "flat face") for text in ("FF", "flat", "Full face")),
        *(("flange_facing_entered", text, "ring joint") for text in ("RTJ", "RJ", "Ring type joint", "ring-joint")),
        *(("flange_facing_entered", text, "lap joint") for text in ("LJ", "lapped", "Lap-joint")),
        *(("flange_facing_entered", text, "wafer, lug or tapped") for text in ("Wafer", "lug", "LUGGED", "wafer/lug", "tapped")),
        *(("flange_facing_entered", text, "not stated") for text in ("unknown", "?", "Not stated")),
        ("flange_facing_entered", "tongue and groove", "tongue and groove"),
        *(
            ("flange_material_entered", text, "steel")
            for text in ("CS", "Carbon steel", "WCB", "A105", "SS", "stainless", "Alloy steel", "316L", "A216 WCB")
        ),
        *(("flange_material_entered", text, "cast iron") for text in ("CI", "cast iron", "Ductile Iron", "DI")),
        *(("flange_material_entered", text, "other") for text in ("bronze", "FRP", "PVC")),
        ("flange_material_entered", "iron or steel", "iron or steel"),
        *(("gasket_kind", text, "spiral wound") for text in ("SW", "spiral", "Spiral wound", "SWG", "spiral-wound")),
        *(
            ("gasket_kind", text, "spiral wound with inner ring")
            for text in ("SWG IR", "spiral wound with inner ring", "Spiral wound + inner ring", "SWG/IR")
        ),
        *(("gasket_kind", text, "flexible graphite sheet") for text in ("graphite", "Graphite sheet", "expanded graphite")),
        *(("gasket_kind", text, "elastomer sheet") for text in ("rubber", "EPDM", "Neoprene", "rubber sheet")),
        ("gasket_kind", " Our  own sheet ", "Our own sheet"),
        ("gasket_kind", "compressed fibre", "compressed fibre"),
        ("flange_bolt_grade", " b7 ", "b7"),
        ("flange_lubricant", "Lubed", "Lubed"),
        ("flange_lubricant", "-", ""),
    ],
)
def test_codes(entry: str, text: str, code: str) -> None:
    """An obvious word becomes the code; any other stays as it was written."""
    assert code == values.code(entry, text)


@pytest.mark.parametrize(
    ("text", "unit_set"),
    [
        ("mm", "metric"),
        ("Metric", "metric"),
        ("SI", "metric"),
        ("M", "metric"),
        ("in", "US"),
        ("Inches", "US"),
        ('"', "US"),
        ("us", "US"),
        ("U.S.", "US"),
        ("Imperial", "US"),
        ("USCS", "US"),
        ("", ""),
        ("cubits", "cubits"),
    ],
)
def test_unit_sets(text: str, unit_set: str) -> None:
    """Usual words for a unit set become metric or US; any other stays."""
    assert unit_set == values.unit_set(text)


@pytest.mark.parametrize(
    ("entry", "table"),
    [
        ("packing_form_entered", "packing_forms"),
        ("cut_style_entered", "cut_styles"),
        ("section_list_entered", "section_lists"),
        ("fluid_kind_entered", "fluid_kinds"),
        ("stem_motion_entered", "stem_motions"),
        ("packing_state_entered", "packing_states"),
        ("gland_kind_entered", "gland_kinds"),
        ("gland_nut_kind_entered", "nut_kinds"),
        ("critical_entered", "yes_no"),
        ("comes_out_entered", "yes_no"),
        ("flange_studs_renewed_entered", "yes_no"),
        ("valve_actuated_entered", "yes_no"),
        ("flange_facing_entered", "flange_facings"),
        ("flange_material_entered", "flange_materials"),
        ("gasket_kind", "gasket_kinds"),
    ],
)
def test_codes_agree_with_the_tables(entry: str, table: str) -> None:
    """Each code is a name of the reference table, each name of the table is kept, in any case of letters."""
    with (TABLES / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        names = [row["name"] for row in csv.DictReader(file)]
    assert names == [values.code(entry, name.upper()) for name in names]
    assert set(names) == set(values._CODES[entry].values())


def test_numbers_as_text() -> None:
    """A number that stands for a text loses no digit and gains no point."""
    expected = ["101", "101", "101.5", "TRUE", ""]
    assert expected == [values.written(cell) for cell in (101, 101.0, 101.5, True, None)]
