"""Facts about the reading of one cell."""

from __future__ import annotations

import csv
import datetime as dt
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcalc.findings import DateNotNumber, NotANumber, UnknownUnit
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
        "28-30",
        "28/44",
        "1 9/8",
        "1/0",
        "1,2,3",
        "1.125.",
        "n/a",
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


@pytest.mark.parametrize("text", ["16-May", "May-16", "5/16/2025", "2025-05-16", "16.05.2025", "2025-05-16 00:00:00"])
def test_date_as_text(text: str) -> None:
    """A date in a text file is named as one, since a spreadsheet may have made it of a fraction."""
    reading = values.read_value(text)
    assert (None, DateNotNumber) == (reading.number, reading.fault)


@pytest.mark.parametrize(
    ("cell", "serial"),
    [(dt.datetime(2026, 5, 16), 46158.0), (dt.date(2026, 5, 16), 46158.0), (dt.time(12, 0), 0.5)],  # noqa: DTZ001
)
def test_date_cell(cell: object, serial: float) -> None:
    """A date cell gives the serial number that a spreadsheet holds there, and the fault."""
    reading = values.read_value(cell)
    assert (serial, DateNotNumber) == (reading.number, reading.fault)


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


def test_words_after_a_count() -> None:
    """A count may be followed by the word for rings, a length may not."""
    as_count, as_length = values.read_value("5 rings", counts=True), values.read_value("5 rings")
    assert (5.0, None, None, UnknownUnit) == (as_count.number, as_count.fault, as_length.number, as_length.fault)


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
        ("packing_form_entered", "shredded", "shredded"),
        ("cut_style_entered", "Square cut", "butt"),
        ("cut_style_entered", "DIAGONAL", "skive"),
        ("cut_style_entered", "wavy", "wavy"),
        ("section_list_entered", "Inches", "inch"),
        ("section_list_entered", "by unit set", "by unit set"),
        ("section_list_entered", "mm", "metric"),
        ("section_list_entered", "either", "both"),
        ("gland_stud_thread", " m12 ", "M12"),
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


def test_numbers_as_text() -> None:
    """A number that stands for a text loses no digit and gains no point."""
    expected = ["101", "101", "101.5", "TRUE", ""]
    assert expected == [values.written(cell) for cell in (101, 101.0, 101.5, True, None)]
