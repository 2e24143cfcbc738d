"""The sheet Self-check: worked examples and cases frozen at issue, all computed live beside the expected value.

The cases carry the constants and tables as issued in cells of their own, so that an edited assumption does not turn
them red: they prove the formulas, not the user's figures.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import groupby
from typing import Final

import numpy as np
import pandas as pd

from sheetcalc.calculations.answers import Answers
from sheetcalc.calculations.run import evaluate, issued_assumptions, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Derived, Gathered, Quantity, get
from sheetcalc.declare.source import Grade
from sheetcalc.reference.cases import Case, Expected, published
from sheetcalc.sheets import tables
from sheetcalc.sheets.common import ROW_MARK, plain, unit_shown
from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Mark, Sheet, Value, address, block, column_letters
from sheetcalc.sheets.register import Book, Purpose, register

NAME: Final = "Self-check"
_FIRST: Final = 6
_HEADS: Final = (
    "Case",
    "What it shows",
    "Source",
    "Grade",
    "Quantity",
    "As printed",
    "Expected",
    "Live",
    "Difference",
    "Allowed",
    "Unit",
    "Result",
)
_EXPECTED, _LIVE, _DIFFERENCE, _ALLOWED, _RESULT = 6, 7, 8, 9, 11

#: Cases whose expected values are the core's own answers at issue: they notice a formula that has been changed since.
_FROZEN: Final[dict[str, dict[str, float | str]]] = {
    "frozen_metric": {
        "tag": "FROZEN 1",
        "unit_set": "metric",
        "stem_diameter_entered": 32,
        "box_bore_entered": 51.3,
        "box_depth_entered": 72,
        "nose_length_entered": 30,
        "gland_stud_thread": "M14",
        "gap_reading_1_entered": 9.5,
        "gap_reading_2_entered": 8.4,
        "stud_spacing_entered": 96,
        "cut_style_entered": "skive",
    },
    "frozen_us": {
        "tag": "FROZEN 2",
        "unit_set": "US",
        "stem_diameter_entered": 1.125,
        "box_bore_entered": 1.875,
        "box_depth_entered": 3.25,
        "nose_length_entered": 1.375,
        "gland_stud_thread": "5/8-11 UNC",
        "maker_ring_count_entered": 6,
        "section_list_entered": "both",
        "length_allowance_entered": 0.03,
    },
    "frozen_made": {
        "tag": "FROZEN 3",
        "unit_set": "metric",
        "stem_diameter_entered": 22,
        "box_bore_entered": 38,
        "box_depth_entered": 58,
        "nose_length_entered": 26,
        "gland_stud_thread": "M10",
        "packing_form_entered": "die-formed",
        "made_ring_height_entered": 7,
        "set_compression_entered": 0.2,
        "seating_compression_entered": 0.12,
    },
    "frozen_stop": {
        "tag": "FROZEN 4",
        "unit_set": "metric",
        "stem_diameter_entered": 28,
        "box_bore_entered": 44,
        "box_depth_entered": 40,
        "nose_length_entered": 22,
        "gland_stud_thread": "M12",
        "maker_ring_count_entered": 8,
    },
}
_FROZEN_QUANTITIES: Final = (
    "packing_section",
    "stocked_section",
    "ring_height",
    "rings_that_fit",
    "rings_most",
    "ring_count",
    "spacer_height",
    "start_entry",
    "gland_gap_start",
    "gland_gap_end",
    "cut_length",
    "bulk_length",
    "joint_step",
    "flats_to_compress",
    "flats_to_even",
    "state",
)


@dataclass(frozen=True)
class _Place:
    """Where the working block and the copies of the tables stand."""

    lines: int
    cases: int

    @property
    def head(self) -> int:
        return _FIRST + self.lines + 3

    @property
    def first(self) -> int:
        return self.head + 3

    @property
    def tables(self) -> int:
        return self.first + self.cases + 4


@cache
def _cases(answers: Answers) -> tuple[tuple[Case, Mapping[str, Value]], ...]:
    """Each case with the core's answers, those of the same constants worked out together; of its lines those that can be worked out."""
    frozen = [
        Case(
            key,
            "Frozen at issue: the core's own answers, to notice a formula changed since.",
            "this workbook's Python core at issue",
            Grade.CHOICE,
            dict(entries),
            {},
            (),
        )
        for key, entries in _FROZEN.items()
    ]
    cases = [case for case in (_within(case, answers) for case in (*published(), *frozen)) if case is not None]
    alike: dict[tuple[tuple[str, float | str], ...], list[int]] = {}
    for place, case in enumerate(cases):
        alike.setdefault(tuple(sorted(case.constants.items())), []).append(place)
    held: dict[int, Mapping[str, Value]] = {}
    for constants, places in alike.items():
        frame = pd.DataFrame([cases[place].entries for place in places], dtype=object)
        values = evaluate(read_entries(frame), len(places), constants=dict(constants), answers=answers)
        for row, place in enumerate(places):
            held[place] = {name: plain(values[name][row]) for name in answers.worked_out()}
    return tuple((_expecting(case, held[place]), held[place]) for place, case in enumerate(cases))


def _within(case: Case, answers: Answers) -> Case | None:
    """What a workbook can show of a case: its lines whose quantities are there, None where there are none.

    What gathers a family is expected only where all that the case types is there: else it may say less.
    """
    whole = all(name in answers for name in case.entries)
    expected = tuple(one for one in case.expected if one.name in answers and (whole or not _gathers(one.name)))
    if (case.expected and not expected) or (not case.expected and not whole):
        return None
    return replace(case, expected=expected, entries={name: value for name, value in case.entries.items() if name in answers})


@cache
def _gathers(name: str) -> bool:
    """Whether a quantity gathers a family, or reads what does."""
    return isinstance(get(name), Gathered) or any(_gathers(read) for read in get(name).reads)


def _expecting(case: Case, answers: Mapping[str, Value]) -> Case:
    """A case frozen at issue with the core's answers as what is expected; another as it is."""
    if case.expected:
        return case
    expected = []
    for name in (one for one in _FROZEN_QUANTITIES if one in answers):
        value = answers[name]
        tolerance = 1e-9 * max(1.0, abs(value)) if isinstance(value, float) else 0.0
        expected.append(Expected(name, "", "" if value is None else value, tolerance))
    return replace(case, expected=tuple(expected))


@cache
def _lines(answers: Answers) -> list[tuple[int, Case, Expected, Value]]:
    """One line for each expected value: the case's row in the working block, the case, what is expected, the core's answer."""
    cases = enumerate(_cases(answers))
    return [(index, case, expected, values[expected.name]) for index, (case, values) in cases for expected in case.expected]


def fail_count(answers: Answers) -> str:
    """A formula that counts the lines that do not pass."""
    place = f"'{NAME}'!{block(_FIRST, _RESULT, _FIRST + len(_lines(answers)) - 1, _RESULT)}"
    return f'ROWS({place})-COUNTIF({place},"pass")'


def sheet(answers: Answers) -> Sheet:
    """The sheet."""
    lines = _lines(answers)
    place = _Place(len(lines), len(_cases(answers)))
    columns = _columns(answers)
    places = {name: f"${column_letters(column)}{ROW_MARK}" for name, column in columns.items()}
    table_cells, table_places = _table_copies(place, answers)
    cells = [
        Cell(0, 0, "Self-check", "title"),
        Cell(1, 0, "Worked examples and cases frozen at issue, computed live by the formulas of this workbook.", "subtitle"),
        Cell(2, 0, "They use the constants and tables as issued, so your own changes do not alter them.", "subtitle"),
        Cell(3, 0, "Lines that do not pass:", "text"),
        Cell(3, 1, 0.0, "plain_number", fail_count(answers).replace(f"'{NAME}'!", "")),
        *(Cell(_FIRST - 1, column, head, "head") for column, head in enumerate(_HEADS)),
    ]
    for row, (index, case, expected, got) in enumerate(lines, start=_FIRST):
        live = address(place.first + index, columns[expected.name])
        cells += _line(row, case, expected, got, live)
    cells += _working_heads(place, columns)
    cells += table_cells
    last = _FIRST + len(lines) - 1
    return Sheet(
        NAME,
        tuple(cells),
        grids=_working(place, columns, {**places, **table_places}, answers),
        marks=(Mark(_FIRST, _RESULT, last, _RESULT, f'$L{_FIRST + 1}<>"pass"', "stop"),),
        widths={0: 24, 1: 52, 2: 40, 3: 16, 4: 22, 5: 12, 6: 14, 7: 14, 8: 12, 9: 12, 10: 6, 11: 9},
        heights={_FIRST - 1: 20, **dict.fromkeys(range(_FIRST, last + 1), 36.0), place.head + 1: 40},
        freeze=(_FIRST, 0),
        repeat_rows=(_FIRST - 1, _FIRST - 1),
        print_area=(0, 0, last, len(_HEADS) - 1),
        footer=NAME,
    )


def _line(row: int, case: Case, expected: Expected, got: Value, live: str) -> list[Cell]:
    wanted, shown, gap = address(row, _EXPECTED), address(row, _LIVE), address(row, _DIFFERENCE)
    quantity = get(expected.name)
    difference: Value
    if isinstance(expected.value, str):
        difference, result = "", "pass" if (got or "") == expected.value else "FAIL"
        test = f'IF({shown}={wanted},"pass","FAIL")'
        gap_formula = ""
    else:
        difference = abs(got - expected.value) if isinstance(got, float) else ""
        result = "pass" if isinstance(difference, float) and difference <= expected.tolerance else "FAIL"
        test = f'IF(COUNT({gap})=0,"FAIL",IF({gap}<={address(row, _ALLOWED)},"pass","FAIL"))'
        gap_formula = f'IF(COUNT({shown},{wanted})<2,"",ABS({shown}-{wanted}))'
    style = "working_text" if quantity.is_text else "working"
    return [
        Cell(row, 0, case.key, "label"),
        Cell(row, 1, case.sentence, "small"),
        Cell(row, 2, case.source, "small"),
        Cell(row, 3, case.grade.value, "small"),
        Cell(row, 4, expected.name, "label"),
        Cell(row, 5, expected.printed, "label"),
        Cell(row, _EXPECTED, expected.value, style),
        Cell(row, _LIVE, got, style, f'IF({live}="","",{live})'),
        Cell(row, _DIFFERENCE, difference, "working", gap_formula),
        Cell(row, _ALLOWED, expected.tolerance, "number"),
        Cell(row, 10, unit_shown(quantity), "label"),
        Cell(row, _RESULT, result, "answer_state", test),
    ]


@cache
def _needed(answers: Answers) -> tuple[frozenset[str], ...]:
    """What each case has in its row: the expected values and what they read, directly or not."""

    @cache
    def read_by(name: str) -> frozenset[str]:
        return frozenset((name,)).union(*(read_by(read) for read in answers.get(name).reads))

    return tuple(frozenset().union(*(read_by(one.name) for one in case.expected)) for case, _values in _cases(answers))


def _columns(answers: Answers) -> dict[str, int]:
    """Where each quantity that a case needs stands in the working block: entries, constants as issued, then what is worked out."""
    needed = frozenset().union(*_needed(answers))
    names = [*answers.entries(), *(constant.name for constant in answers.constants()), *answers.worked_out()]
    return {name: column for column, name in enumerate((name for name in names if name in needed), start=1)}


def _working_heads(place: _Place, columns: Mapping[str, int]) -> list[Cell]:
    cells = [
        Cell(
            place.head,
            0,
            "Working of the cases: of entries, constants as issued and formulas of Working those that each case needs",
            "heading",
        ),
        Cell(place.first - 1, 0, "Case", "head"),
    ]
    return cells + [Cell(place.first - 1, column, name, "head") for name, column in columns.items()]


def _working(place: _Place, columns: Mapping[str, int], places: Mapping[str, str], answers: Answers) -> tuple[Grid, ...]:
    cases, held = _cases(answers), issued_assumptions()
    out = [Grid(place.first, (GridColumn(0, [case.key for case, _values in cases], "label"),))]
    for name, column in columns.items():
        quantity = answers.get(name)
        parts = tuple(formula.render(quantity.guarded_excel, places).split(ROW_MARK)) if isinstance(quantity, Derived) else ()
        for first, last in _runs([name in needed for needed in _needed(answers)]):
            here = cases[first:last]
            values = [values[name] if parts else _given(quantity, case, held) for case, values in here]
            style = "working_text" if quantity.is_text else "working"
            out.append(Grid(place.first + first, (GridColumn(column, values, style, parts),)))
    return tuple(out)


def _runs(there: list[bool]) -> Iterator[tuple[int, int]]:
    """The first of each run of rows that are there, and the one behind its last."""
    for is_there, places in groupby(range(len(there)), key=there.__getitem__):
        if is_there:
            run = list(places)
            yield run[0], run[-1] + 1


def _given(quantity: Quantity, case: Case, held: Mapping[str, float | str]) -> Value:
    """An entry, else a constant changed for the case, else the constant as issued."""
    value = case.entries.get(quantity.name, case.constants.get(quantity.name, held.get(quantity.name)))
    return value if isinstance(value, str) or value is None else float(value)


def _table_copies(place: _Place, answers: Answers) -> tuple[list[Cell], dict[str, str]]:
    """A copy of each table column as issued, and where it stands. A pad is a formula: an empty cell would count as 0."""
    cells = [Cell(place.tables, 0, "Tables as issued", "heading")]
    places: dict[str, str] = {}
    column, first = 1, place.tables + 2
    needed = frozenset().union(*_needed(answers))
    for name, held in tables.frozen_columns().items():
        if name not in needed:
            continue
        block_of = np.asarray(held, dtype=object)
        block_of = block_of.reshape(len(block_of), -1)
        cells.append(Cell(first - 1, column, name, "head"))
        for row, line in enumerate(block_of, start=first):
            for offset, one in enumerate(line):
                value = plain(one)
                blank = value is None or value == ""
                style = "working_text" if isinstance(value, str) else "working"
                cells.append(Cell(row, column + offset, "" if blank else value, style, '""' if blank else ""))
        places[name] = block(first, column, first + len(block_of) - 1, column + block_of.shape[1] - 1)
        column += block_of.shape[1]
    return cells, places


for _book in (Book.ONE, Book.LIST):
    register(_book, NAME, 210, Purpose.AUDIT, "worked examples, computed live", lambda book: sheet(book.edition.answers))
