"""Facts about rounding, counting, joining and looking up as a spreadsheet does it.

A sheet's ROUND goes half away from zero on the decimal that it shows. Python's `decimal` with ROUND_HALF_UP on the
shortest decimal of a float is that, and is the judge here.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any, Final

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sheetcalc.calculations.arithmetic import (
    above_zero,
    at_least_zero,
    each_text,
    joined,
    pick,
    pick_in,
    rounded,
    row_exact,
    row_ignoring_case,
    whole,
    whole_up,
)
from sheetcalc.units import registry

DIGITS: Final = 6


def judged(value: float, digits: int) -> float:
    """The value rounded half away from zero by decimals: ROUND_HALF_UP of `decimal` is that for either sign."""
    return float(Decimal(repr(value)).quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP))


def texts(*said: str) -> Any:
    """Texts as the core holds them."""
    return np.array(said, dtype=object)


# --- rounding ---------------------------------------------------------------------------------------------------------


@given(st.integers(-(10**13), 10**13), st.integers(0, 9), st.integers(0, 9))
@example(1005, 3, 2)
@example(-1005, 3, 2)
@example(25, 1, 0)
@example(-25, 1, 0)
@example(12345678912345, 9, 8)
def test_a_decimal_is_rounded_half_away_from_zero(number: int, places: int, digits: int) -> None:
    """Every decimal that a person can type is rounded as on paper, up to 14 figures in the rounded number."""
    value = float(Decimal(number).scaleb(-places))
    if abs(value) * 10**digits < 1e14:
        expected = judged(value, digits)
        assert expected == rounded(value, digits)


@given(st.integers(-(10**9), 10**9), st.integers(0, 8))
def test_a_tie_goes_away_from_zero(number: int, digits: int) -> None:
    """A five right behind the last digit kept is always rounded away from zero, never to even."""
    value = float(Decimal(10 * number + (5 if number >= 0 else -5)).scaleb(-digits - 1))
    expected = float(Decimal(number + (1 if number >= 0 else -1)).scaleb(-digits))
    assert expected == rounded(value, digits)


@given(st.floats(-1e6, 1e6), st.integers(0, 7))
@example(2.497, 0)
def test_any_float_is_rounded_to_the_nearest(value: float, digits: int) -> None:
    """Results of sums and quotients move by no more than half of the last digit kept, noise aside."""
    assert abs(Fraction(float(rounded(value, digits))) - Fraction(value)) <= Fraction(1, 2 * 10**digits) + Fraction(abs(value)) / 2**50


@given(st.floats(-1e6, 1e6), st.integers(0, 7))
def test_rounding_twice_changes_nothing(value: float, digits: int) -> None:
    """What is rounded stays as it is."""
    once = rounded(value, digits)
    assert once == rounded(once, digits)


def test_a_whole_list_is_rounded_at_once() -> None:
    """Arrays are rounded place by place; a blank stays blank, and an infinity what it is."""
    expected = [1.01, -1.01, 0.0, np.nan, np.inf]
    np.testing.assert_array_equal(expected, rounded(np.array([1.005, -1.005, 0.004, np.nan, np.inf]), 2))


def test_a_length_with_a_unit_is_rounded_in_mm() -> None:
    """Digits are counted in millimetres, in whatever unit the length comes."""
    assert rounded(registry.Quantity(0.0080049, "m"), 2) == 8.0
    assert rounded(registry.Quantity(1.0, "in"), 1) == 25.4


# --- comparing --------------------------------------------------------------------------------------------------------


def test_noise_is_no_difference() -> None:
    """18.3 less 12.1 is not more than 6.2, though in floats it is: the example on which engines differ."""
    assert 18.3 - 12.1 > 6.2
    assert not above_zero(18.3 - 12.1 - 6.2, DIGITS)
    assert at_least_zero(6.2 - (18.3 - 12.1), DIGITS)


@pytest.mark.parametrize(
    ("difference", "above", "least"),
    [(0.0, False, True), (4e-7, False, True), (-4e-7, False, True), (5e-7, True, True), (-5e-7, False, False), (1.0, True, True)],
)
def test_a_difference_counts_from_half_of_the_last_digit(difference: float, above: bool, least: bool) -> None:  # noqa: FBT001
    """With six digits half a millionth is the first difference that is seen, on either side."""
    assert (above, least) == (bool(above_zero(difference, DIGITS)), bool(at_least_zero(difference, DIGITS)))


def test_a_blank_is_neither_above_nor_at_least_zero() -> None:
    """A missing value satisfies no comparison."""
    assert not above_zero(np.nan, DIGITS)
    assert not at_least_zero(np.nan, DIGITS)


# --- counting ---------------------------------------------------------------------------------------------------------

RINGS: Final = range(1, 13)


def _multiples() -> dict[str, list[tuple[float, int]]]:
    """Quotients of a depth that is an exact multiple of a section, as floats, with the count they stand for.

    Every float is what a person types: the shortest decimal of an exact fraction, or that times or over 25.4.
    """
    out: dict[str, list[tuple[float, int]]] = {
        "0.1 mm grid": [(float(Fraction(n * s, 10)) / float(Fraction(s, 10)), n) for s in range(1, 251) for n in RINGS],
        "0.1 mm grid, depth less 3.2": [
            ((float(Fraction(n * s, 10) + Fraction(16, 5)) - 3.2) / float(Fraction(s, 10)), n) for s in range(1, 251) for n in RINGS
        ],
        "0.05 mm grid": [(float(Fraction(n * s, 20)) / float(Fraction(s, 20)), n) for s in range(1, 501) for n in RINGS],
        "sixteenths in inches": [((n * s / 16) / (s / 16), n) for s in range(1, 33) for n in RINGS],
        "sixteenths in mm": [((n * s / 16 * 25.4) / (s / 16 * 25.4), n) for s in range(1, 33) for n in RINGS],
        "1/8 in less": [((n * s / 16 * 25.4 + 3.175 - 3.175) / (s / 16 * 25.4), n) for s in range(1, 33) for n in RINGS],
        "mm in inches": [((float(Fraction(n * s, 2)) / 25.4) / (float(Fraction(s, 2)) / 25.4), n) for s in range(1, 51) for n in RINGS],
    }
    return out


MULTIPLES: Final = _multiples()


@pytest.mark.parametrize("grid", MULTIPLES)
def test_no_ring_is_lost_on_an_exact_multiple(grid: str) -> None:
    """A depth of n sections holds n rings, for every section of the grid and up to twelve rings; nor is one made up."""
    quotients = np.array([quotient for quotient, _ in MULTIPLES[grid]])
    expected = np.array([count for _, count in MULTIPLES[grid]], dtype=np.float64)
    np.testing.assert_array_equal(expected, whole(quotients, DIGITS))
    np.testing.assert_array_equal(expected, whole_up(quotients, DIGITS))


def test_a_bare_floor_does_lose_rings() -> None:
    """The grids are hard enough: without rounding first, some exact multiples lose a ring."""
    lost = {grid: sum(np.floor(quotient) < count for quotient, count in pairs) for grid, pairs in MULTIPLES.items()}
    assert lost["0.1 mm grid"] > 100
    assert lost["0.1 mm grid, depth less 3.2"] > 100
    assert lost["0.05 mm grid"] > 100
    # Sixteenths are exact in binary, and so are their quotients.
    assert lost["sixteenths in inches"] == 0


@given(st.integers(1, 10_000), st.integers(1, 500))
@settings(max_examples=300)
def test_a_part_of_a_ring_is_no_ring(depth: int, section: int) -> None:
    """Whole rings are counted as whole numbers of tenths say, both down and up."""
    quotient = (depth / 10) / (section / 10)
    expected = (depth // section, -(-depth // section))
    assert expected == (int(whole(quotient, DIGITS)), int(whole_up(quotient, DIGITS)))


# --- joining ----------------------------------------------------------------------------------------------------------


@given(
    st.integers(1, 5).flatmap(
        lambda width: st.lists(st.tuples(*[st.sampled_from(["", "", "A.", "B c.", "D."])] * width), min_size=1, max_size=12)
    )
)
@example([("A.",), ("B c.",)])
@example([("A.", ""), ("B c.", "")])
@example([("A.", "D."), ("B c.", "A.")])
def test_each_valve_gets_its_own_sentences(rows: list[tuple[str, ...]]) -> None:
    """The sentences of a row are joined by single spaces in their order, blanks left out, whatever stands in other rows."""
    expected = [" ".join(said for said in row if said) for row in rows]
    assert expected == list(joined(*(texts(*column) for column in zip(*rows, strict=True))))


def test_two_valves_with_different_sentences_are_not_mixed_up() -> None:
    """Where each of two valves has a sentence of its own, neither gets the other's."""
    expected = ["Stem is wrong.", "Bore is wrong."]
    assert expected == list(joined(texts("Stem is wrong.", "Bore is wrong."), texts("", "")))


def test_nothing_to_say_is_blank() -> None:
    """Blanks alone are joined to a blank, and a list of no valves to no sentence."""
    assert list(joined(texts("", ""), texts("", ""))) == ["", ""]
    assert list(joined(texts(), texts())) == []


def test_many_columns_can_be_joined() -> None:
    """As many sentences as a valve can have faults are kept apart."""
    columns = [texts(f"Fault {place}.", "") for place in range(40)]
    expected = [" ".join(f"Fault {place}." for place in range(40)), ""]
    assert expected == list(joined(*columns))


def test_many_columns_of_many_sentences_can_be_joined() -> None:
    """Thirteen columns with forty sentences each have more combinations than a whole number of the machine can count."""
    rng = np.random.default_rng(3)
    rows = [[f"c{column} s{int(one)}." if one else "" for column, one in enumerate(line)] for line in rng.integers(0, 41, (300, 13))]
    expected = [" ".join(filter(None, row)) for row in rows]
    assert expected == list(joined(*(texts(*column) for column in zip(*rows, strict=True))))


# --- looking up -------------------------------------------------------------------------------------------------------

THREADS: Final = ["1/2-13 UNC", "M10", "M12", "M14"]


@pytest.mark.parametrize("typed", ["m12", "M*", "~M12", "M1?", "M12 ", " M12", "M 12", "M", "M120", "\uff2d12", "12", "M12x1.75"])
def test_a_thread_is_found_letter_for_letter_only(typed: str) -> None:
    """Other case, wildcards, the mark before a wildcard, spaces and parts of a name find no thread."""
    assert np.isnan(row_exact(texts(typed), THREADS)).all()


def test_a_thread_is_found_in_its_row() -> None:
    """Rows count from 1; a blank and what is no text find nothing."""
    expected = [3.0, 1.0, np.nan, np.nan, np.nan, 4.0]
    np.testing.assert_array_equal(expected, row_exact(np.array(["M12", "1/2-13 UNC", "", 12, None, "M14"], dtype=object), THREADS))


@pytest.mark.parametrize(("typed", "row"), [("metric", 1), ("METRIC", 1), ("us", 2), ("Us", 2), ("US", 2)])
def test_a_code_is_found_whatever_its_case(typed: str, row: int) -> None:
    """Codes such as the unit set are known in capitals and small letters alike."""
    assert [row] == list(row_ignoring_case(texts(typed), ["metric", "US"]))


@pytest.mark.parametrize("typed", ["", "metrics", "m*", "U?", " US", "imperial"])
def test_a_code_that_is_none_is_not_found(typed: str) -> None:
    """Wildcards, spaces and other words are no code."""
    assert np.isnan(row_ignoring_case(texts(typed), ["metric", "US"])).all()


def test_an_entry_is_picked_by_its_row() -> None:
    """Rows count from 1; without a row a number is NaN and a text blank."""
    rows = np.array([2.0, np.nan, 1.0])
    np.testing.assert_array_equal([1.75, np.nan, 1.5], pick(rows, [1.5, 1.75]))
    assert list(pick(rows, ["M10", "M12"])) == ["M12", "", "M10"]


def test_of_two_codes_that_differ_in_case_only_the_first_is_found() -> None:
    """A sheet's MATCH stops at the first row that fits, so a user's own row above goes before an issued one of the same name."""
    keys = ["Oil", "", "paste", "OIL", "Paste", "paste"]
    typed = texts("oil", "OIL", "Oil", "PASTE", "Paste", "")
    np.testing.assert_array_equal([1.0, 1.0, 1.0, 3.0, 3.0, np.nan], row_ignoring_case(typed, keys))


#: A block of two rows and three columns, as widths across flats are held.
BLOCK: Final = [[1.0, 2.0, np.nan], [4.0, 5.0, 6.0]]


def test_an_entry_of_a_block_is_picked_by_row_and_column() -> None:
    """Rows and columns count from 1; where either is missing, or the block has no figure, a number is NaN."""
    rows = np.array([1.0, 2.0, 2.0, 1.0, np.nan, 1.0, np.nan])
    columns = np.array([1.0, 1.0, 3.0, 3.0, 1.0, np.nan, np.nan])
    expected = [1.0, 4.0, 6.0, np.nan, np.nan, np.nan, np.nan]
    np.testing.assert_array_equal(expected, pick_in(rows, columns, np.array(BLOCK)))


def test_a_text_of_a_block_is_picked_by_row_and_column() -> None:
    """A block of texts gives a text, blank where row or column is missing."""
    block = np.array([["a", "b"], ["c", ""]], dtype=object)
    assert list(pick_in(np.array([1.0, 2.0, 2.0, np.nan, 1.0]), np.array([2.0, 1.0, 2.0, 1.0, np.nan]), block)) == ["b", "c", "", "", ""]


def test_a_block_with_a_unit_gives_coherent_numbers() -> None:
    """Widths held in inches are picked in mm."""
    np.testing.assert_allclose([50.8, 127.0], pick_in(np.array([1.0, 2.0]), np.array([2.0, 2.0]), registry.Quantity(np.array(BLOCK), "in")))


@given(st.integers(1, 6), st.integers(1, 6), st.data())
def test_every_place_of_a_block_is_found(height: int, width: int, data: st.DataObject) -> None:
    """Row r and column c of a block whose entries say where they stand give back r and c."""
    block = np.array([[10 * row + column for column in range(1, width + 1)] for row in range(1, height + 1)], dtype=np.float64)
    row, column = data.draw(st.integers(1, height)), data.draw(st.integers(1, width))
    assert [10 * row + column] == list(pick_in(np.array([float(row)]), np.array([float(column)]), block))


def test_a_look_up_is_done_once_for_each_text() -> None:
    """However long the list, each different text is looked up once, and blanks not at all."""
    asked: list[object] = []

    def length(text: object) -> float:
        asked.append(text)
        return float(len(str(text)))

    out = each_text(texts("ab", "", "c", "ab", ""), length, np.nan)
    np.testing.assert_array_equal([2.0, np.nan, 1.0, 2.0, np.nan], out)
    assert sorted(map(str, asked)) == ["ab", "c"]
