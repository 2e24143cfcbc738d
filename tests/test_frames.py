"""Valves as a person has them in pandas: what `sheetcalc.calculate` takes, what it gives back, and what it refuses in one sentence."""

from __future__ import annotations

import datetime as dt
import doctest
import json
import math
import re
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

import sheetcalc
from sheetcalc.calculations import run
from sheetcalc.calculations.answers import PARTS_OF, answering, answers_named
from sheetcalc.declare.quantity import Per, get
from sheetcalc.errors import ListError, SheetcalcError, UnknownNameError
from sheetcalc.sheets.valves_columns import ANSWERS

ROOT: Final = Path(__file__).parents[1]
METRIC: Final[dict[str, Any]] = {
    "tag": "V-1", "unit_set": "metric", "stem_diameter": 28, "box_bore": 44, "box_depth": 60, "nose_length": 22, "gland_stud_thread": "M12",
}  # fmt: skip
US: Final[dict[str, Any]] = {
    "tag": "V-2", "unit_set": "US", "stem_diameter": 1.125, "box_bore": 1.75, "box_depth": 2.5, "nose_length": 1,
    "gland_stud_thread": "1/2-13 UNC",
}  # fmt: skip


def frame(**changed: Any) -> pd.DataFrame:
    """The metric valve and the one in inches, with some columns changed."""
    return pd.DataFrame([METRIC, US]).assign(**changed)


def own_names(valves: pd.DataFrame) -> pd.DataFrame:
    """The same with its columns named as the core names them."""
    ending = {name.removesuffix("_entered"): name for name in run.entry_names()}
    return valves.rename(columns=ending)


def one(**changed: Any) -> Any:
    """The metric valve with some entries changed, worked out: all that there is of it."""
    return sheetcalc.calculate([{**METRIC, **changed}], everything=True).iloc[0]


def refusal(valves: Any, **how: Any) -> str:
    """The one sentence with which a frame is refused."""
    with pytest.raises(SheetcalcError) as refused:
        sheetcalc.calculate(valves, **how)
    said = str(refused.value)
    assert "\n" not in said
    assert len(said) < 500
    return said


def assert_same(expected: pd.DataFrame, out: pd.DataFrame) -> None:
    """Two frames have the same columns, rows, types and values; `equals` takes a tenth of the time of pandas' own assertion."""
    if not expected.equals(out):
        pd.testing.assert_frame_equal(expected, out)


# --- what comes back --------------------------------------------------------------------------------------------------


def test_a_valve_is_worked_out_as_by_hand() -> None:
    """The section is half of bore less stem: (44 - 28) / 2 = 8 mm, and (1 3/4 - 1 1/8) / 2 = 5/16 in, which is 7.9375 mm."""
    assert sheetcalc.calculate(frame())["packing_section"].tolist() == pytest.approx([8, 5 / 16 * 25.4])


def test_a_frame_comes_back_with_its_entries_and_the_main_answers() -> None:
    """Carried columns stand at the left, then the entries under the names they were given, then the main answers of the set in order."""
    with pytest.warns(UserWarning, match="carried along"):
        out = sheetcalc.calculate(frame(area="B2").rename(columns={"box_bore": "box_bore_entered"}))
    entries = ["tag", "unit_set", "stem_diameter", "box_bore_entered", "box_depth", "nose_length", "gland_stud_thread"]
    assert list(out) == ["area", *entries, *(name for name in ANSWERS if name in answers_named("repack"))]
    assert out["area"].tolist() == ["B2", "B2"]
    assert out["stem_diameter"].tolist() == [28.0, 1.125]
    assert isinstance(out["state"].dtype, pd.CategoricalDtype)


@pytest.mark.parametrize("name", PARTS_OF)
def test_everything_of_a_set_comes_back(name: str) -> None:
    """All entries and all quantities of the set by their own names, each the core's own; of the whole exactly the core's columns."""
    out = sheetcalc.calculate(frame(), answers=name, everything=True)
    answers = answers_named(name)
    assert list(out) == [*answers.entries(), *answers.worked_out()]
    if name == "whole":
        assert_same(out, run.calculate(own_names(frame())))


@pytest.mark.parametrize(
    ("column", "value", "name"),
    [
        (None, None, "repack"), ("fluid_temperature", 20, "repack"), ("flange_size", "NPS 2", "whole"), ("comes_out", "yes", "whole"),
        ("valve_mass", 40, "whole"), ("sling_legs_entered", 2, "whole"), ("gasket", "x", "repack"),
    ],
)  # fmt: skip
def test_the_columns_say_which_set_is_meant(column: str | None, value: object, name: str) -> None:
    """Without a word about it the answers are repack, and whole where a column is of a flange, a lift or a valve that comes out."""
    out = sheetcalc.calculate(frame(**({column: value} if column else {})))
    assert [one for one in out if one in ANSWERS] == [one for one in ANSWERS if one in answers_named(name)]


def test_names_give_exactly_what_is_named() -> None:
    """Named quantities come back alone, in that order and each once; a set stands for its main answers, an entry for what was read."""
    out = sheetcalc.calculate(frame(), answers=["cut_length", "stem_diameter", "tag", "box_bore_entered", "cut_length"])
    assert list(out) == ["cut_length", "stem_diameter", "tag", "box_bore_entered"]
    assert out["stem_diameter"].tolist() == pytest.approx([28, 1.125 * 25.4])
    assert out["box_bore_entered"].tolist() == [44, 1.75]
    assert out["cut_length"].tolist() == pytest.approx([math.pi * 36, math.pi * 25.4 * (1.125 + 1.75) / 2])
    main = [name for name in ANSWERS if name in answers_named("packing")]
    assert list(sheetcalc.calculate(frame(), answers=["tag", "packing", "stud_torque"])) == ["tag", *main, "stud_torque"]
    assert list(sheetcalc.calculate(frame(), answers="cut_length")) == ["cut_length"]


def test_the_state_is_the_same_beside_few_answers() -> None:
    """Who asks for the state alone gets that of the whole valve, not of as many checks as happen to be read."""
    for valves in (frame(), frame(flange_size="NPS 99"), frame(box_depth=5)):
        usual = sheetcalc.calculate(valves)
        few = sheetcalc.calculate(valves, answers=["state", "all_trouble"])
        assert few.astype(str).to_dict() == usual[["state", "all_trouble"]].astype(str).to_dict()


@pytest.mark.parametrize("index", [["a", "b"], [7, 7], pd.to_datetime(["2025-01-01", "2025-01-02"])])
def test_the_index_stays(index: Any) -> None:
    """The result has the index of the frame, labels that stand twice included, and the frame itself is left alone."""
    valves = frame(note=[1, 2]).set_axis(pd.Index(index))
    before = valves.copy()
    with pytest.warns(UserWarning, match="carried along"):
        out = sheetcalc.calculate(valves)
    assert out.index.equals(valves.index)
    out.loc[:, ["note", "stem_diameter"]] = 0
    assert_same(before, valves)


def test_units_and_titles_stand_beside() -> None:
    """Every column but those carried along has its unit as printed and its title; an entry has the unit of the row's unit set."""
    out = sheetcalc.calculate(frame(line_pressure=10, set_compression="30 %", gasket="x"))
    units = out.attrs["units"]
    assert units.keys() == out.attrs["titles"].keys() == set(out) - {"gasket"}
    told = {"stem_diameter": "mm or in, as unit_set says", "line_pressure": "bar or psi, as unit_set says", "set_compression": "–",
            "tag": "", "cut_length": "mm", "gland_load": "N", "gland_stress": "MPa", "stud_torque": "N·mm",
            "packing_mass": "kg", "joint_step": "°", "ring_count": "–", "state": ""}  # fmt: skip
    assert told.items() <= units.items()
    assert out.attrs["titles"]["stem_diameter"] == "Stem diameter"
    assert json.dumps(out.attrs)


@pytest.mark.parametrize(
    "valves", [pd.DataFrame(), [], {}, frame().iloc[:0], {"tag": [], "stem_diameter": []}, pd.DataFrame({"tag": pd.Series([], dtype=str)})]
)
def test_a_frame_without_rows_gives_one_without_rows(valves: Any) -> None:
    """No valves, no answers: the columns are those that there would be with valves."""
    out = sheetcalc.calculate(valves)
    assert len(out) == 0
    assert list(out) == [*valves, *(name for name in ANSWERS if name in answers_named("repack"))]
    assert list(sheetcalc.calculate(valves, answers="whole", everything=True)) == [*run.entry_names(), *run.answered_names()]


def test_a_valve_may_be_a_series_or_a_dict() -> None:
    """One valve as a Series, named by its name, or as a dict; columns as a dict of lists; valves as a list of dicts: all the same."""
    expected = sheetcalc.calculate(frame(), everything=True)
    for valves in (frame().to_dict("list"), frame().to_dict("records"), tuple(frame().to_dict("records"))):
        assert_same(expected, sheetcalc.calculate(valves, everything=True))
    single = sheetcalc.calculate(pd.Series(METRIC, name="pump 3"), everything=True)
    assert list(single.index) == ["pump 3"]
    for out in (single, sheetcalc.calculate(METRIC, everything=True), sheetcalc.calculate(pd.Series(METRIC), everything=True)):
        assert out.iloc[0].astype(str).equals(expected.iloc[0].astype(str).rename(out.index[0]))


# --- cells ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cell", "number"),
    [
        ("1 1/8", 1.125), ("1-1/8", 1.125), ('7/16"', 0.4375), (" 44 ", 44), ("28 mm", 28 / 25.4), ("2.8 cm", 28 / 25.4), ("1,5", 1.5),
        (Fraction(9, 8), 1.125), (Decimal("1.125"), 1.125), (np.float32(1.125), 1.125), (np.int64(2), 2), (2, 2), ("1.125 in", 1.125),
    ],
)  # fmt: skip
def test_a_length_is_read_as_typed(cell: object, number: float) -> None:
    """Fractions, units and spaces are read as a planner types them, into the unit of the row; the answers are those of the bare number."""
    typed = sheetcalc.calculate([{**US, "stem_diameter": cell}], everything=True)
    assert typed["stem_diameter_entered"].tolist() == [number]
    bare = sheetcalc.calculate([{**US, "stem_diameter": number}], everything=True)
    assert_same(bare, typed)


@pytest.mark.parametrize(
    ("entry", "cell", "number"),
    [
        ("line_pressure", "1 MPa", 10), ("line_pressure", "10 bar", 10), ("line_pressure", "1'000", 1000), ("set_compression", "30 %", 0.3),
        ("set_compression", "0.3", 0.3), ("gland_stud_count", "2 studs", 2), ("most_rim_pull", "0.2 kN", 200),
        ("flange_class", "Class 300", 300), ("fluid_temperature", "212 °F", 100),
    ],
)  # fmt: skip
@pytest.mark.filterwarnings("ignore:Read, though")
def test_other_measures_are_read_as_typed(entry: str, cell: str, number: float) -> None:
    """Pressures, temperatures, forces, shares, counts and classes are read with their units and words."""
    assert one(**{entry: cell})[f"{entry}_entered"] == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize(
    ("entry", "cell", "code"),
    [
        ("unit_set", "mm", "metric"), ("unit_set", "inch", "US"), ("gland_stud_thread", "m12", "M12"), ("comes_out_entered", True, "yes"),
        ("comes_out_entered", np.False_, "no"), ("comes_out_entered", "Y", "yes"), ("flange_size", "DN 50", "NPS 2"), ("tag", 101.0, "101"),
        ("cut_style_entered", "square cut", "butt"), ("cut_style_entered", "sqare", "sqare"), ("unit_set", "metrik", "metrik"),
        ("tag", None, ""), ("tag", pd.NA, ""), ("tag", math.nan, ""), ("packing_form_entered", "-", ""),
    ],
)  # fmt: skip
def test_a_choice_may_be_spelt_as_people_spell_it(entry: str, cell: object, code: str) -> None:
    """Obvious spellings of a choice are made one; what is misspelt goes on, for the checks to speak of."""
    assert one(**{entry: cell})[entry] == code


def test_a_misspelt_choice_is_for_the_checks() -> None:
    """A unit set or a cut style that nobody knows stops nothing: the state is worked out, and the trouble says what is wrong."""
    assert "Cut style is not one of the choices" in one(cut_style="sqare")["all_trouble"]
    assert "Unit set is missing or not known" in one(unit_set="metrik")["all_trouble"]


@pytest.mark.parametrize("cell", ["n/a", "?", "unknown", None, math.nan, pd.NA, pd.NaT, "", "  ", "-", Decimal("NaN")])
def test_a_blank_is_a_blank(cell: object) -> None:
    """A cell that says that nothing is known counts as none; its words come back as they were typed, and no number with them."""
    row = one(nose_length=cell)
    assert row["nose_length_entered"] == cell if isinstance(cell, str) and cell.strip("- ") else math.isnan(row["nose_length_entered"])
    blank = one(nose_length=None).drop("nose_length_entered")
    assert row.drop("nose_length_entered").astype(str).equals(blank.astype(str))


def test_the_units_of_the_cells_say_the_unit_set_of_a_row_without() -> None:
    """A row that says no unit set has that of its lengths, as in a list; without any unit the checks ask for it."""
    bare = {name: cell for name, cell in METRIC.items() if name != "unit_set"}
    out = sheetcalc.calculate([{**bare, "stem_diameter": "28 mm"}, {**bare, "stem_diameter": "1.125 in"}, bare], everything=True)
    assert out["unit_set"].tolist() == ["metric", "US", ""]
    assert out["stem_diameter"].iloc[0] == 28
    assert math.isnan(out["stem_diameter"].iloc[2])


@pytest.mark.parametrize("dtype", [object, "string", "category", "str"])
def test_texts_of_any_dtype_are_read(dtype: Any) -> None:
    """A file read as texts throughout, in whichever dtype pandas keeps them, gives what its numbers give."""
    expected = sheetcalc.calculate(frame(), everything=True)
    assert_same(expected, sheetcalc.calculate(frame().astype(str).astype(dtype), everything=True))


@pytest.mark.parametrize("dtype", ["Int64", "Float64", "int8", "uint16", "float32", "Sparse[float64]"])
def test_numbers_of_any_dtype_are_read(dtype: str) -> None:
    """Numbers in whichever dtype pandas keeps them are the same numbers."""
    out = sheetcalc.calculate(frame(unit_set="metric", box_bore=pd.Series([44, 50]).astype(dtype)))  # type: ignore[call-overload]
    assert out["packing_section"].iloc[0] == 8


def test_a_guess_is_said() -> None:
    """What may be meant otherwise is read, and a warning says which cell was taken for what."""
    with pytest.warns(UserWarning, match=re.escape("nose_length, row 'b': '~1' (as a number marked as rough, 1)")):
        sheetcalc.calculate(frame(nose_length=[22, "~1"]).set_axis(["a", "b"]))
    with pytest.warns(UserWarning, match=re.escape("flange_size, row 1: '2' (as an NPS, NPS 2)")):
        sheetcalc.calculate(frame(flange_size=["", 2]))
    with pytest.warns(UserWarning, match="a fraction of mm"):
        sheetcalc.calculate(frame(nose_length=["7/16", 1]))


# --- refused ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "valves", [None, 5, "valves.csv", Path("valves.csv"), [1, 2], [METRIC, None], {1, 2}, np.zeros((2, 2)), pd.Series([1, 2])]
)
def test_what_is_no_frame_is_refused(valves: Any) -> None:
    """Anything else than valves as a frame is refused with what is wanted."""
    assert refusal(valves).startswith(
        "A DataFrame, a dict of columns, a list of dicts or a Series (one valve, its index the entries) is wanted"
    )


def test_a_dict_of_unequal_columns_is_refused() -> None:
    """Columns that make no table are refused."""
    assert "make no table" in refusal({"tag": ["a", "b"], "box_bore": [1]})
    assert "more than one level" in refusal(pd.DataFrame({("tag", "a"): ["V"]}))


@pytest.mark.parametrize(("first", "second"), [("stem_diameter", "stem_diameter_entered"), ("stem_diameter", "stem_diameter"), ("x", "x")])
def test_two_columns_for_one_thing_are_refused(first: str, second: str) -> None:
    """Which of two columns is meant is not guessed."""
    assert f"{first} " in refusal(pd.DataFrame([[1, 2]], columns=[first, second]))


def test_an_unknown_column_is_carried_along_and_said() -> None:
    """It comes back as it was, and a warning names it with the nearest entry."""
    valves = frame(stem_dia=[1, 2], zzz=[None, {}])
    is_none = "is not an entry and is carried along."
    said = f"Column 'stem_dia' {is_none} Did you mean stem_diameter? Column 'zzz' {is_none}"
    with pytest.warns(UserWarning, match=re.escape(said)) as warned:
        out = sheetcalc.calculate(valves)
    assert len(warned) == 1
    assert warned[0].filename == __file__
    assert list(out)[:2] == ["stem_dia", "zzz"]
    assert out["zzz"].tolist() == [None, {}]
    with pytest.warns(UserWarning, match="is left out"):
        assert list(sheetcalc.calculate(valves, answers=["state"])) == ["state"]


def test_order_and_plan_are_carried_without_a_word() -> None:
    """What a list says of order and plan says nothing of a valve: it comes back, and nothing else changes."""
    plan = {name.removesuffix("_entered"): ["a", 1] for name in run.entry_names(Per.LISTED)}
    out = sheetcalc.calculate(frame(**plan))
    assert list(out)[: len(plan)] == list(plan)
    assert_same(sheetcalc.calculate(frame()), out.drop(columns=list(plan)))


@pytest.mark.filterwarnings("ignore:Column")
def test_a_column_with_the_name_of_an_answer_is_refused() -> None:
    """A result that is worked out once more would have two columns of one name."""
    assert "state" in refusal(sheetcalc.calculate(frame()))


@pytest.mark.parametrize(
    ("cell", "why"),
    [
        ("28/44", "two numbers"), ("abc", "not a number"), ("28 bar", "not a unit that is known here"), (math.inf, "not a finite number"),
        (-math.inf, "not a finite number"), ("inf", "not a number"), ("#N/A", "not a number"), ("16 May 2020", "a date"),
        (10**400, "not a finite number"), ("1e400", "not a number"), ("2020-05-16", "a date"),
    ],
)  # fmt: skip
def test_a_cell_that_cannot_be_read_is_named(cell: object, why: str) -> None:
    """Column, row, value and reason are said, and what to do; no infinity goes on in silence."""
    said = refusal(frame(stem_diameter=[28, cell]).set_axis(["a", "b"]))
    assert said.startswith("Not read: stem_diameter, row 'b': ")
    assert f"({why}" in said
    assert "Type a number, with its unit" in said


def test_many_bad_cells_are_counted() -> None:
    """Three are named and the others counted."""
    said = refusal(pd.DataFrame({"stem_diameter": ["abc"] * 10, "flange_class": "PN 16", "line_pressure": "1,125"}))
    assert said.count("row") - said.count("row's") == 3
    assert "and 27 more" in said
    assert "unit_set says neither metric nor US" in refusal([{"line_pressure": "10 bar"}])
    assert "a PN" in refusal([{"unit_set": "US", "flange_class": "PN 16"}])


@pytest.mark.parametrize("cell", [[1], {"a": 1}, True, np.True_, dt.date(2025, 1, 1), pd.Timestamp(2025, 1, 1), 1j, object(), b"28"])
def test_a_wrong_type_is_refused(cell: object) -> None:
    """A list, a dict, a truth value, a date and the like are no measurement: column and row are said."""
    valves = frame(stem_diameter=pd.Series([28, cell], dtype=object))
    assert refusal(valves).startswith("stem_diameter, row 1: ")
    assert type(cell).__name__ in refusal(valves)
    assert refusal(frame(tag=pd.Series(["a", [1]], dtype=object))).startswith("tag, row 1: [1] is of the type list; a text is wanted")


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ("repak", "Did you mean repack"), (["cut_lenght"], "Did you mean cut_length"), (5, "answers is the name of a set"),
        (["zzzz"], "zzzz"), (["counting_digits"], "counting_digits"), (["gasket"], "gasket"),
        ([None], "None"), ([["a"]], "several names"), ({"tag", "stat"}, "state"),
    ],
)  # fmt: skip
def test_an_unknown_answer_is_refused(answers: Any, said: str) -> None:
    """No set and no quantity of a valve has that name: the nearest is said."""
    with pytest.raises(UnknownNameError, match=said):
        sheetcalc.calculate(frame(), answers=answers)


def test_an_assumption_may_be_another() -> None:
    """A constant by its name changes the answers as it does in the core; another name or kind of value is refused with the nearest."""
    changed: dict[str, float | str] = {"stem_motion_usual": "quarter-turn", "cut_style_usual": "skive", "waste_share_usual": 0.1}
    assert sheetcalc.calculate(frame(), constants=changed)["ring_count"].tolist() == [4, 4]
    out = sheetcalc.calculate(frame(), answers="whole", everything=True, constants=changed)
    assert_same(out, run.calculate(own_names(frame()), constants=changed))
    assert "Did you mean counting_digits" in refusal(frame(), constants={"counting_digit": 1})
    assert "is a number, not 'x'" in refusal(frame(), constants={"counting_digits": "x"})
    assert "a dict of assumptions by name" in refusal(frame(), constants=[1])
    assert "is a number, not inf" in refusal(frame(), constants={"counting_digits": math.inf})
    assert "is a text, not 1" in refusal(frame(), constants={"cut_style_usual": 1})


# --- any valves -------------------------------------------------------------------------------------------------------

_LENGTH: Final = st.one_of(st.none(), st.floats(-1e9, 1e9), st.integers(0, 4000).map(lambda tenths: tenths / 10))
_VALVE: Final = st.fixed_dictionaries(
    {"unit_set": st.sampled_from(["metric", "US", "", "furlongs"])},
    optional={
        **dict.fromkeys(("stem_diameter", "box_bore", "box_depth", "nose_length", "gap_reading_1", "made_ring_height"), _LENGTH),
        **dict.fromkeys(("set_compression", "line_pressure", "fluid_temperature", "maker_ring_count", "gland_stud_count"), _LENGTH),
        "gland_stud_thread": st.sampled_from(["", "M12", "M99"]), "packing_material": st.sampled_from(["", "graphite braid"]),
        "flange_class": st.sampled_from([150, 151]), "valve_mass": _LENGTH, "hook_height": _LENGTH,
    },
)  # fmt: skip


@settings(deadline=None, max_examples=8, phases=[Phase.generate])
@given(st.lists(_VALVE, min_size=1, max_size=60))
def test_numbers_give_what_the_core_gives(valves: list[dict[str, Any]]) -> None:
    """Of the same numbers all is the same as in the core, the numbers written as texts too, and nothing is infinite."""
    table = pd.DataFrame(valves)
    expected = run.calculate(own_names(table))
    as_texts = table.map(lambda cell: "" if cell is None or cell != cell else repr(float(cell)) if not isinstance(cell, str) else cell)  # noqa: PLR0124
    for typed in (table, as_texts):
        out = sheetcalc.calculate(typed, answers="whole", everything=True)
        assert_same(expected, out)
        assert not np.isinf(out.select_dtypes("number").to_numpy()).any()


@settings(deadline=None, max_examples=10, phases=[Phase.generate])
@given(st.sets(st.sampled_from(sorted(run.answered_names())), min_size=1, max_size=3))
def test_a_closure_gives_what_the_whole_gives(names: set[str]) -> None:
    """Each quantity that is asked for by name is that of the whole, though only what it reads is worked out."""
    valves = own_names(frame(comes_out="yes"))
    closed = answering(names, "whole")
    assert names <= closed.names
    assert all({read.removeprefix("every_") for read in closed.get(name).reads} <= closed.names for name in closed.names)
    out, core = sheetcalc.calculate(valves, answers=sorted(names)), run.calculate(valves)
    assert_same(core[sorted(names)].astype(object), out.astype(object))


def test_a_closure_is_small() -> None:
    """The section reads stem, bore and unit set, and no load."""
    closed = answering(["packing_section"])
    assert set(closed.entries()) == {"unit_set", "stem_diameter_entered", "box_bore_entered"}
    assert len(closed.worked_out()) < 20
    assert all(get(name).per is Per.VALVE for name in closed.worked_out())


# --- the README -------------------------------------------------------------------------------------------------------


def test_the_examples_of_the_readme_run() -> None:
    """What the README shows of Python can be typed, and gives what it shows."""
    blocks = re.findall(r"(?ms)^```[^\n]*\n(>>> .*?)^```", (ROOT / "README.md").read_text(encoding="utf-8"))
    example = doctest.DocTestParser().get_doctest("\n".join(blocks), {}, "README.md", "README.md", 0)
    done = doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE).run(example)
    assert done.attempted >= 4
    assert done.failed == 0


def test_calculate_is_the_one_for_people() -> None:
    """The package hands out this one; the core keeps its own."""
    assert sheetcalc.calculate.__module__ == "sheetcalc.frames"
    assert run.calculate is not sheetcalc.calculate
    with pytest.raises(ListError):
        sheetcalc.calculate(pd.DataFrame({"stem_diameter": ["abc"]}))
