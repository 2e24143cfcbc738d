"""Facts about the reading of one cell."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcalc.findings import Finding, NotANumber, UnclearComma, UnknownUnit
from sheetcalc.intake import cells, unit_names, values
from sheetcalc.intake.guesses import TwoNumbers


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("7/16", 0.4375, ""),
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
        "28/44",
        "28-30",
        "28 - 30",
        "28 – 30 mm",
        "28 x 44",
        "28x44",
        "28 to 30",
        "28...30",
        "28;44",
        "28 44",
        "28,5/44,0",
        "~28/44",
        "28 or 30?",
    ],
)
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


@given(st.text(max_size=20), st.sampled_from([*unit_names.UNITS, ""]))
def test_any_text_of_any_dimension(text: str, dimension: str) -> None:
    """No text raises, whatever is looked for in it, and a unit that is found is one of its dimension."""
    reading = values.read_value(text, dimension=dimension)
    assert [reading.number is not None, reading.blank, reading.fault is not None].count(True) == 1
    assert reading.unit in {"", "%"} or unit_names.fits(reading.unit, dimension)


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
                "150",
                "150#",
                "150 #",
                "150 lb",
                "150LB",
                "150 lbs.",
                "CL150",
                "CL 150",
                "Cl. 150",
                "class 150",
                "Class: 150",
                "150 class",
                "ANSI 150",
                "ASME 150",
                "ANSI 150#",
                "ASME CL 150",
                "ANSI Class 150 lb",
                "ASME B16.5 class 150",
                "#150",
                "cl-150",
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
)
def test_numbers_of_classes_and_legs(entry: str, cell: object, bare: object) -> None:
    """The number of a class or of legs is taken from the words about it; a pressure, a rating of another kind and two numbers stay."""
    assert bare == values.numbered(entry, cell)


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


def test_numbers_as_text() -> None:
    """A number that stands for a text loses no digit and gains no point."""
    expected = ["101", "101", "101.5", "TRUE", ""]
    assert expected == [cells.written(cell) for cell in (101, 101.0, 101.5, True, None)]
