"""What happens when a person types into the one-valve workbook: LibreOffice reads the keys as it would at a desk."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass, field
from pathlib import Path

import pandas as pd
import pytest
from agreement import office
from agreement.office import Job
from reading import Value

from sheetcalc.calculations.run import answered_names, calculate, entry_names

pytestmark = [pytest.mark.office, pytest.mark.proof]

STEM = "stem_diameter_entered"
STEM_SPEAKS = "Stem diameter is missing, not a number, or outside its believable range"

_METRIC = {
    "tag": "BH-101", STEM: "28", "box_bore_entered": "44", "box_depth_entered": "60", "nose_length_entered": "25",
    "gland_stud_thread": "M12",
}  # fmt: skip
_METRIC_READ: dict[str, Value] = {
    "tag": "BH-101", "unit_set": "metric", STEM: 28.0, "box_bore_entered": 44.0, "box_depth_entered": 60.0,
    "nose_length_entered": 25.0, "gland_stud_thread": "M12",
}  # fmt: skip
_US = {
    "tag": "CE-301", STEM: "7/16", "box_bore_entered": "15/16", "box_depth_entered": "1 1/2", "nose_length_entered": "0 7/8",
    "gland_stud_thread": "1/2-13 UNC", "gap_reading_1_entered": "39/64", "gap_reading_2_entered": "19/32",
    "stud_spacing_entered": "2 3/4",
}  # fmt: skip
_US_READ: dict[str, Value] = {
    "tag": "CE-301", "unit_set": "US", STEM: 0.4375, "box_bore_entered": 0.9375, "box_depth_entered": 1.5,
    "nose_length_entered": 0.875, "gland_stud_thread": "1/2-13 UNC", "gap_reading_1_entered": 0.609375,
    "gap_reading_2_entered": 0.59375, "stud_spacing_entered": 2.75,
}  # fmt: skip


@dataclass(frozen=True)
class Case:
    """Keys typed over those of a plain valve, "" to clear the cell afterwards; and what the cells then hold."""

    key: str
    edition: str
    typed: dict[str, str] = field(default_factory=dict)
    read: dict[str, Value] = field(default_factory=dict)
    locale: str = "en-US"

    @property
    def steps(self) -> list[str]:
        """The steps of the person."""
        plain = _METRIC if self.edition == "mm" else _US
        return [
            *(office.type_named(name, text) for name, text in {**plain, **{n: t for n, t in self.typed.items() if t}}.items()),
            *(office.clear_named(name) for name, text in self.typed.items() if not text),
        ]

    @property
    def entries(self) -> dict[str, Value]:
        """What every entry cell holds afterwards."""
        plain = _METRIC_READ if self.edition == "mm" else _US_READ
        return {name: {**plain, **self.read}.get(name) for name in entry_names()}


CASES = (
    Case("plain-mm", "mm"),
    Case("plain-in", "in"),
    Case("fraction-mm", "mm", {"nose_length_entered": "12 1/2"}, {"nose_length_entered": 12.5}),
    Case("hyphen-in", "in", {STEM: "1-1/8"}, {STEM: "1-1/8"}),
    Case("inch-mark-in", "in", {STEM: '7/16"'}, {STEM: '7/16"'}),
    Case("unit-mm", "mm", {STEM: "28 mm"}, {STEM: "28 mm"}),
    Case("comma-mm", "mm", {STEM: "28,5"}, {STEM: "28,5"}),
    Case("cleared-mm", "mm", {STEM: ""}, {STEM: None}),
    Case("swapped-mm", "mm", {STEM: "44", "box_bore_entered": "28"}, {STEM: 44.0, "box_bore_entered": 28.0}),
    Case("formula-tag-mm", "mm", {"tag": "=1+1"}, {"tag": "=1+1"}),
    Case("formula-mm", "mm", {STEM: "=14*2"}, {STEM: 28.0}),
    Case("error-mm", "mm", {STEM: "=1/0"}, {STEM: math.nan}),
    Case("plain-german", "in", locale="de-DE"),
    Case("comma-german", "mm", {STEM: "28,5"}, {STEM: 28.5}, "de-DE"),
    Case("point-german", "mm", {STEM: "28.5"}, {STEM: "28.5"}, "de-DE"),
    Case("unit-german", "mm", {STEM: "28 mm"}, {STEM: "28 mm"}, "de-DE"),
)
DATE = Case("date-mm", "mm", {STEM: "7/16"})
LOCKED = Case("locked-mm", "mm", {"packing_section": "9"})
EVERY = (*CASES, DATE, LOCKED)


@dataclass(frozen=True)
class Sheet:
    """A saved workbook, read by defined name."""

    path: Path

    def read(self) -> dict[str, Value]:
        """What the cell of each defined name holds."""
        held = office.contents(self.path)
        return {name: held[place].value if place in held else None for name, place in office.named_cells(self.path).items()}


@pytest.fixture(scope="module")
def typed_cells(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Value]]:
    """What each defined name holds after each case: one start of LibreOffice for each locale."""
    office.require()
    folder = tmp_path_factory.mktemp("typing")
    blanks = {edition: office.workbook(f"one-valve-whole-{edition}.xlsx", folder) for edition in ("mm", "in")}
    saved: dict[str, Path] = {}
    for locale in ("en-US", "de-DE"):
        jobs = [Job(case.key, blanks[case.edition], case.steps) for case in EVERY if case.locale == locale]
        saved |= office.act(jobs, folder / locale, locale=locale)
    return {key: Sheet(path).read() for key, path in saved.items()}


def _different(sheet: dict[str, Value], entries: dict[str, Value]) -> office.Comparison:
    """Every quantity of the sheet against the core for those entries; an error value is no number to either."""
    typed = {name: "#" if isinstance(value, float) and math.isnan(value) else value for name, value in entries.items()}
    core = calculate(pd.DataFrame([typed], dtype=object)).iloc[0]
    expected: dict[office.Place, Value] = {}
    for name in answered_names():
        value = core[name]
        expected["Working", name] = value if isinstance(value, str) else None if math.isnan(value) else float(value)
    return office.compare(expected, {("Working", name): sheet[name] for name in answered_names()})


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.key)
def test_cells_hold_what_was_meant(case: Case, typed_cells: dict[str, dict[str, Value]]) -> None:
    """Each entry cell holds the number, or the text, that the keys make in its format and locale."""
    expected = case.entries
    actual = {name: typed_cells[case.key][name] for name in entry_names()}
    assert [(name, repr(value)) for name, value in expected.items()] == [(name, repr(value)) for name, value in actual.items()]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.key)
def test_answers_are_those_of_the_core(case: Case, typed_cells: dict[str, dict[str, Value]]) -> None:
    """Every quantity of the workbook is what the core finds for what the cells hold."""
    found = _different(typed_cells[case.key], case.entries)
    assert found.different == ()
    assert found.compared == len(answered_names())


@pytest.mark.parametrize("key", ["plain-in", "plain-german"])
def test_fraction_is_a_number_in_the_inch_edition(key: str, typed_cells: dict[str, dict[str, Value]]) -> None:
    """7/16 typed as the stem diameter is 0.4375 in or 11.1125 mm; with a bore of 15/16 the packing is 1/4 in."""
    sheet = typed_cells[key]
    assert sheet[STEM] == 0.4375
    assert sheet["stem_diameter"] == pytest.approx(11.1125)
    assert sheet["packing_section"] == pytest.approx(6.35)
    assert sheet["check_section"] == "OK"


def test_fraction_becomes_a_date_in_the_millimetre_edition_and_is_named(typed_cells: dict[str, dict[str, Value]]) -> None:
    """7/16 typed into a plain number cell is the 16th of July, which the check names, and no section comes of it."""
    sheet = typed_cells[DATE.key]
    serial = sheet[STEM]
    assert isinstance(serial, float)
    day = dt.date(1899, 12, 30) + dt.timedelta(days=serial)
    assert (day.month, day.day) == (7, 16)
    assert serial > 40_000
    assert str(sheet["check_section"]).startswith(STEM_SPEAKS)
    assert sheet["packing_section"] == ""
    assert _different(sheet, {**DATE.entries, STEM: serial}).different == ()


@pytest.mark.parametrize(
    "key", ["unit-mm", "unit-german", "comma-mm", "point-german", "hyphen-in", "inch-mark-in", "cleared-mm", "error-mm"]
)
def test_what_is_no_number_is_named(key: str, typed_cells: dict[str, dict[str, Value]]) -> None:
    """A unit, the other locale's comma or point, a hyphen, an inch mark, a blank and an error value are named, never guessed."""
    sheet = typed_cells[key]
    assert str(sheet["check_section"]).startswith(STEM_SPEAKS)
    assert (sheet["stem_diameter"], sheet["packing_section"], sheet["state"]) == ("", "", "INCOMPLETE")


def test_comma_is_a_number_in_a_comma_locale(typed_cells: dict[str, dict[str, Value]]) -> None:
    """28,5 typed in a German LibreOffice is 28.5 mm: with a bore of 44 the packing is 7.75 mm."""
    sheet = typed_cells["comma-german"]
    assert (sheet["stem_diameter"], sheet["packing_section"]) == (28.5, 7.75)


def test_swapped_stem_and_bore_are_named(typed_cells: dict[str, dict[str, Value]]) -> None:
    """A stem of 44 in a box of 28 gives a sentence and no section."""
    sheet = typed_cells["swapped-mm"]
    assert sheet["packing_section"] == ""
    assert len(str(sheet["check_section"])) > len("OK")
    assert sheet["state"] == "INCOMPLETE"


def test_tag_that_looks_like_a_formula_stays_text(typed_cells: dict[str, dict[str, Value]]) -> None:
    """=1+1 typed as a tag stays those four characters, and the answers are those of any other tag."""
    assert typed_cells["formula-tag-mm"]["tag"] == "=1+1"
    formula, plain = ({n: v for n, v in typed_cells[key].items() if n != "tag"} for key in ("formula-tag-mm", "plain-mm"))
    assert formula == plain


def test_locked_answer_is_kept(typed_cells: dict[str, dict[str, Value]]) -> None:
    """A 9 typed over the packing section on the protected sheet Working is refused: its formula still says 8 mm."""
    assert typed_cells[LOCKED.key] == typed_cells["plain-mm"]
    assert typed_cells[LOCKED.key]["packing_section"] == 8.0
