"""Facts about declaring a quantity, and about working one out for floats, arrays and Series."""

from __future__ import annotations

from typing import Any, Final

import numpy as np
import pandas as pd
import pytest

from sheetcalc.calculations.run import calculate
from sheetcalc.declare import formula
from sheetcalc.declare import quantity as declaring
from sheetcalc.declare.blocks import assumption, column, derived, entry, fault, gathered
from sheetcalc.declare.quantity import Check, Constant, Derived, Entry, Fault, Formula, Gathered, Quantity, all_quantities, get
from sheetcalc.declare.source import Grade, Source
from sheetcalc.errors import DeclarationError, UnknownNameError

SOURCE: Final = Source("test", "A test.", Grade.CHOICE)


@pytest.fixture
def names(monkeypatch: pytest.MonkeyPatch) -> dict[str, Quantity]:
    """A registry of its own for the test, with four quantities to read; the real one stays as it is."""
    registry: dict[str, Quantity] = {}
    monkeypatch.setattr(declaring, "_registry", registry)
    entry("length_1", title="Length 1", sentence="A length.", part="test", source=SOURCE, unit="mm")
    entry("length_2", title="Length 2", sentence="A length.", part="test", source=SOURCE, unit="mm")
    entry("word", title="Word", sentence="A word.", part="test", source=SOURCE, text=True)
    assumption("digits", 6.0, title="Digits", sentence="Digits.", source=SOURCE, part="test", limits=(1, 9))
    column("sizes", title="Sizes", sentence="Sizes on a shelf.", source=SOURCE, unit="mm")
    return registry


def _sum(excel: str = "{length_1}+{length_2}", **said: Any) -> Derived:
    """Declare the sum of the two lengths, with whatever is to be tried."""

    def total(length_1: Any, length_2: Any) -> Any:
        """Both lengths together."""
        return length_1 + length_2

    return derived(title="Total", excel=excel, source=SOURCE, part="test", unit="mm", **said)(total)


def _greeting() -> Derived:
    """Declare a text that needs a number and a text."""

    def greeting(length_1: Any, word: Any) -> Any:
        """The word where the length is above 0."""
        return np.where(length_1 > 0, word, np.array("none", dtype=object))

    excel = 'IF({length_1}>0,{word},"none")'
    return derived(title="Greeting", excel=excel, source=SOURCE, part="test", text=True)(greeting)


# --- what a declaration refuses ---------------------------------------------------------------------------------------


@pytest.mark.usefixtures("names")
@pytest.mark.parametrize("excel", ["{length_1}", "{length_1}+{length_2}+{digits}", "{length_1}+{length_3}", "1"])
def test_excel_text_and_python_must_read_the_same(excel: str) -> None:
    """A formula that reads fewer, more or other quantities than its function is refused, and both are named."""
    with pytest.raises(DeclarationError, match=r"total: the Excel text reads .*, Python \('length_1', 'length_2'\)"):
        _sum(excel)


def test_a_quantity_is_declared_once(names: dict[str, Quantity]) -> None:
    """A second declaration of a name is refused, and the first one stays."""
    first = _sum()
    with pytest.raises(DeclarationError, match="total is declared twice"):
        _sum("{length_2}+{length_1}")
    assert first is names["total"]


def test_an_optional_quantity_must_be_read(names: dict[str, Quantity]) -> None:
    """A name that is optional and not read is a slip of the pen, and nothing is declared."""
    with pytest.raises(DeclarationError, match=r"total: optional \['length_3'\] is not read"):
        _sum(optional=("length_1", "length_3"))
    assert "total" not in names


@pytest.mark.usefixtures("names")
@pytest.mark.parametrize("doc", [None, "", "Both lengths together", "Both lengths together\n\nIn mm."])
def test_a_quantity_explains_itself_in_a_sentence(doc: str | None) -> None:
    """Without a docstring, or with one whose first sentence has no full stop, a function is refused."""

    def total(length_1: Any) -> Any:
        return length_1

    total.__doc__ = doc
    with pytest.raises(DeclarationError, match="must end with a full stop"):
        derived(title="Total", excel="{length_1}", source=SOURCE, part="test", unit="mm")(total)


@pytest.mark.usefixtures("names")
def test_only_the_first_paragraph_is_the_sentence() -> None:
    """The explanation shown is the docstring up to its first blank line, on one line."""

    def total(length_1: Any) -> Any:
        """Both lengths
        together.

        More for the programmer.
        """  # noqa: D205 - a sentence over two lines is the point
        return length_1

    made = derived(title="Total", excel="{length_1}", source=SOURCE, part="test", unit="mm")(total)
    expected = "Both lengths together."
    assert expected == made.sentence


@pytest.mark.usefixtures("names")
@pytest.mark.parametrize("words", ['Say "no".', "x" * 256, "One. Another."])
def test_a_fault_is_one_sentence_that_fits_into_a_text_of_a_formula(words: str) -> None:
    """Words with quotes, of more than 255 characters or of two sentences are refused."""

    def bad(length_1: Any) -> Any:
        """Says that there is a length."""
        return length_1 > 0

    with pytest.raises(DeclarationError, match="one sentence without quotes, of at most 255"):
        fault(title="Bad", words=words, excel="{length_1}>0", about=("length_1",), source=SOURCE, part="test")(bad)


@pytest.mark.parametrize("name", ["stem_diameter_entered", "counting_digits", "thread_names"])
def test_what_is_typed_or_looked_up_is_not_worked_out(name: str) -> None:
    """An entry, an assumption and a table column have no function, and say so to whoever asks for what is worked out."""
    assert not callable(get(name))
    with pytest.raises(DeclarationError, match=f"{name} is .*, not worked out"):
        get(name, Derived)


# --- finding a quantity -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wrong", "right"), [("packing_secton", "packing_section"), ("gland_gap", "gland_gap_end"), ("stocked_sction", "stocked_section")]
)
def test_a_misspelt_name_gets_a_hint(wrong: str, right: str) -> None:
    """The message repeats the wrong name and offers the right one."""
    with pytest.raises(UnknownNameError, match=f"No quantity is called '{wrong}'. Did you mean .*{right}"):
        get(wrong)


def test_a_name_like_no_other_gets_no_hint() -> None:
    """Nothing is guessed where nothing is near."""
    with pytest.raises(UnknownNameError, match=r"^No quantity is called 'zzzzzzzz'\.$"):
        get("zzzzzzzz")


@pytest.mark.parametrize(
    ("name", "kind", "said"),
    [
        ("packing_section", Entry, "packing_section is worked out, not entry"),
        ("packing_section", Fault, "packing_section is worked out, not fault"),
        ("stem_not_under_bore", Constant, "stem_not_under_bore is fault, not assumption"),
        ("every_packing_section", Derived, "every_packing_section is column, not worked out"),
        ("check_tilt", Fault, "check_tilt is check, not fault"),
    ],
)
def test_a_quantity_of_another_kind_is_refused(name: str, kind: type[Quantity], said: str) -> None:
    """Who asks for a kind gets no other: the message says what the quantity is and what was asked for."""
    with pytest.raises(DeclarationError, match=f"^{said}$"):
        get(name, kind)


@pytest.mark.parametrize(("name", "kind"), [("stem_not_under_bore", Fault), ("check_tilt", Check), ("counting_digits", Constant)])
def test_a_kind_is_refined_by_another(name: str, kind: type[Quantity]) -> None:
    """A quantity is found as what it is and as whatever that is a kind of, and is the same one."""
    assert isinstance(get(name, kind), kind)
    assert get(name) is get(name, kind)
    if issubclass(kind, Derived):
        assert get(name, Derived) is get(name)


def test_a_column_that_is_no_entry_is_refused() -> None:
    """A frame with a misspelt column is not worked out as though the column were absent."""
    with pytest.raises(UnknownNameError, match="No entry is called stem_diametre"):
        calculate(pd.DataFrame({"stem_diametre": [28.0]}))


@pytest.mark.parametrize("name", ["no_such_name", "packing_section", "stem_diameter_entered"])
def test_only_an_assumption_can_be_overridden(name: str) -> None:
    """A constant that does not exist, or is no constant, is refused by name."""
    with pytest.raises(UnknownNameError, match=name):
        calculate(pd.DataFrame({"tag": ["V"]}), constants={name: 1.0})


# --- guards -----------------------------------------------------------------------------------------------------------


@pytest.mark.usefixtures("names")
def test_the_guard_counts_numbers_and_compares_texts() -> None:
    """A quantity that needs a number and a text is guarded for both; table columns are not guarded at all."""
    made = _greeting()
    expected = (("length_1",), ("word",), 'IF(OR(COUNT({length_1})<1,IFERROR({word}="",1)),"",IF({length_1}>0,{word},"none"))')
    assert expected == (made.numbers_needed, made.texts_needed, made.guarded_excel)

    def largest(sizes: Any, length_1: Any) -> Any:
        """The largest size."""
        return np.max(sizes) + length_1 * 0

    looked = derived(title="Largest", excel="MAX({sizes})+{length_1}*0", source=SOURCE, part="test", unit="mm")(largest)
    assert looked.numbers_needed == ("length_1",)


@pytest.mark.usefixtures("names")
def test_an_optional_reading_is_not_guarded() -> None:
    """An optional quantity may be blank, and without guards nothing is wrapped."""
    optional = _sum(optional=("length_2",))
    assert optional.numbers_needed == ("length_1",)
    assert optional.guarded_excel == 'IF(COUNT({length_1})<1,"",{length_1}+{length_2})'


@pytest.mark.usefixtures("names")
def test_a_formula_that_guards_itself_is_not_wrapped() -> None:
    """With `guards=False` the text stands as it is written."""
    bare = _sum(guards=False)
    assert (bare.numbers_needed, bare.excel) == ((), bare.guarded_excel)


# --- what gathers a family --------------------------------------------------------------------------------------------


def _whole(**said: Any) -> Gathered:
    """Declare the sum of those lengths that are there, rounded; the digits are read whichever they are."""

    def build(there: tuple[str, ...]) -> Formula:
        text = "+".join(f"{{{name}}}" for name in there) or "0"
        reads = ("digits", *there)
        return Formula(reads=reads, excel=f"ROUND({text},{{digits}})", function=lambda digits, *held: np.round(sum(held), int(digits)))

    words = "All lengths together."
    return gathered("whole", ("length_1", "length_2"), build, words, title="Whole", source=SOURCE, part="test", unit="mm", **said)


@pytest.mark.usefixtures("names")
def test_a_family_is_gathered_as_far_as_it_is_there() -> None:
    """Members that are not there are not read, by neither hand, and what is no member makes no difference."""
    made = _whole(optional=("length_1", "length_2")).among({"length_2", "word"})

    assert (made.members, made.reads, made.excel) == (("length_2",), ("digits", "length_2"), "ROUND({length_2},{digits})")
    assert made.optional == {"length_2"}
    assert (made(6.0, 5.0), made(digits=6.0, length_2=5.0)) == (5.0, 5.0)
    assert get("whole", Gathered).reads == ("digits", "length_1", "length_2")


@pytest.mark.usefixtures("names")
@pytest.mark.parametrize("there", [[], ["length_1"], ["length_2"], ["length_2", "length_1"]])
def test_both_hands_of_a_gathered_family_agree(there: list[str]) -> None:
    """Whichever members are there, the formula reads what the function reads, and is guarded for just that."""
    made = _whole().among(there)

    assert set(made.reads) == set(formula.names_in(made.excel))
    assert made.numbers_needed == made.reads
    assert made(6.0, *[4.0 for _name in there]) == 4.0 * len(there)
    assert [name for name in made.members if name not in there] == []


@pytest.mark.usefixtures("names")
def test_a_family_that_is_all_there_is_itself() -> None:
    """Where every member is there nothing is built anew, in whatever order they are named."""
    made = _whole()

    assert made.among(["word", "length_2", "length_1"]) is made


@pytest.mark.parametrize("quantity", [q for q in all_quantities() if isinstance(q, Gathered)], ids=lambda quantity: quantity.name)
def test_a_family_without_its_last_member_reads_the_same_with_both_hands(quantity: Gathered) -> None:
    """Each declared family can do without one of its members: formula and function still read the same, and nothing of that one."""
    gone = quantity.members[-1]
    made = quantity.among(quantity.members[:-1])

    assert set(made.reads) == set(formula.names_in(made.excel))
    assert gone not in made.reads


# --- kinds and blanks -------------------------------------------------------------------------------------------------

#: A stem of 28 in a bore of 44: half the difference is 8 (Mobley, Root Cause Failure Analysis, pp. 237-238, the rule).
SECTION: Final = get("packing_section", Derived)


def test_floats_give_a_float() -> None:
    """Plain numbers in, a plain number out: not an array of one."""
    out = SECTION(44.0, 28.0, 6.0)
    assert (float, 8.0) == (type(out), out)


def test_keywords_may_stand_in_any_order() -> None:
    """A quantity is called by the names of what it reads, too."""
    out = SECTION(counting_digits=6, stem_diameter=28, box_bore=44)
    assert (float, 8.0) == (type(out), out)


def test_an_array_gives_an_array() -> None:
    """An array in, an array of the same length out; a plain number beside it holds for each."""
    out = SECTION(np.array([44.0, 45.0, 28.0]), 28.0, 6.0)
    assert isinstance(out, np.ndarray)
    np.testing.assert_array_equal([8.0, 8.5, np.nan], out)


def test_a_series_gives_a_series_with_its_index() -> None:
    """A Series in, a Series out under the same labels, called after the quantity."""
    bores = pd.Series([44.0, 45.0], index=["BH-1", "BH-2"], name="bore")
    expected = pd.Series([8.0, 8.5], index=["BH-1", "BH-2"], name="packing_section")
    pd.testing.assert_series_equal(expected, SECTION(bores, 28.0, 6.0))


def test_a_result_can_be_changed_without_changing_another() -> None:
    """What comes back is the caller's own: writable, and no view of what went in."""
    bores = np.array([44.0, 45.0])
    out = SECTION(bores, 28.0, 6.0)
    out[0] = -1
    assert list(bores) == [44.0, 45.0]


def test_an_empty_list_gives_an_empty_answer() -> None:
    """No valves, no answers, and no error."""
    assert len(SECTION(np.array([]), np.array([]), 6.0)) == 0
    assert len(SECTION(pd.Series([], dtype=float), 28.0, 6.0)) == 0
    assert len(calculate(pd.DataFrame({"tag": []}))) == 0


@pytest.mark.parametrize(("bore", "stem"), [(np.nan, 28.0), (44.0, np.nan), (np.nan, np.nan)])
def test_a_missing_number_gives_a_blank(bore: float, stem: float) -> None:
    """A missing measurement is NaN on the way out, whichever it is."""
    assert np.isnan(SECTION(bore, stem, 6.0))


def test_a_blank_blanks_its_own_valve_alone() -> None:
    """In a list the valves beside a blank are worked out."""
    out = SECTION(np.array([44.0, np.nan, 46.0]), np.array([28.0, 28.0, np.nan]), 6.0)
    np.testing.assert_array_equal([8.0, np.nan, np.nan], out)


@pytest.mark.usefixtures("names")
@pytest.mark.parametrize(
    ("length", "word", "expected"), [(1.0, "yes", "yes"), (0.0, "yes", "none"), (np.nan, "yes", ""), (1.0, "", ""), (np.nan, "", "")]
)
def test_a_text_is_blank_where_a_reading_is(length: float, word: str, expected: str) -> None:
    """A text is "" where a number or a text that it needs is missing; a plain text comes back as one."""
    out = _greeting()(length, word)
    assert (str, expected) == (type(out), out)


@pytest.mark.usefixtures("names")
def test_texts_come_back_in_the_kind_that_came_in() -> None:
    """Arrays give an array of texts, a Series a Series with its index."""
    made = _greeting()
    words = np.array(["yes", "", "yes"], dtype=object)
    assert list(made(np.array([1.0, 1.0, np.nan]), words)) == ["yes", "", ""]
    series = made(pd.Series([1.0, 0.0, 1.0], index=[7, 8, 9]), pd.Series(words, index=[7, 8, 9]))
    assert series.to_dict() == {7: "yes", 8: "", 9: "yes"}


@pytest.mark.usefixtures("names")
def test_an_optional_blank_reaches_the_function() -> None:
    """An optional reading may be missing: the function then sees the blank and the answer stands."""

    def count(length_1: Any, length_2: Any) -> Any:
        """How many of the two are there."""
        return 1.0 + ~np.isnan(length_2) + 0 * length_1

    made = derived(
        title="Count", excel="COUNT({length_1},{length_2})", source=SOURCE, part="test", unit="1", optional=("length_2",)
    )(count)  # fmt: skip
    np.testing.assert_array_equal([1.0, 2.0, np.nan], made(np.array([5.0, 5.0, np.nan]), np.array([np.nan, 5.0, 5.0])))


def test_a_fault_speaks_its_words_or_is_silent() -> None:
    """A fault gives its one sentence where the condition holds, and "" otherwise and on blanks."""
    made = get("stem_not_under_bore", Fault)
    expected = ["", made.words, made.words, ""]
    assert expected == list(made(np.array([44.0, 28.0, 28.0, np.nan]), np.array([28.0, 44.0, 28.0, 28.0]), 6.0))
    assert made.words == made(28.0, 44.0, 6.0)


def test_a_division_by_zero_raises_nothing() -> None:
    """Numbers out of a formula's domain give no error and no warning, be they floats or arrays."""
    exact = get("rings_that_fit_exact", Derived)
    assert not np.isfinite(exact(np.array([60.0]), 3.175, 0.0)).any()
    assert not np.isfinite(exact(60.0, 3.175, 0.0))


def test_quantities_stand_in_the_order_of_their_declaration() -> None:
    """What a person types about a stem stands before the section, and the state of the valve after all checks."""
    order = [quantity.name for quantity in all_quantities()]
    wanted = ["counting_digits", "stem_diameter_entered", "stem_diameter", "packing_section", "ring_count", "check_tilt", "state"]
    assert wanted == sorted(wanted, key=order.index)
