"""The sheet Packing size: a row for each valve, on one sheet that works alone.

A planner moves or copies it into a workbook of his own, as often as he likes, and it goes on calculating: every formula and every
choice reads plain addresses of the same sheet, and no defined name, since the other workbook may have a name of the same word.
Entries and answers stand on the left, every quantity with its formula to the right, the constants above, the tables beyond.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np
import pandas as pd

from sheetcalc import units
from sheetcalc.calculations.run import evaluate, issued_assumptions, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Constant, Derived, Quantity, get
from sheetcalc.reference import tables as reference
from sheetcalc.sheets import brought, tables
from sheetcalc.sheets.common import (
    ROW_MARK,
    column_values,
    fingerprint,
    in_names,
    mark,
    plain,
    unit_shown,
)
from sheetcalc.sheets.edition import Edition, answers_of, choices_of, entry_title, issue_of, prompt
from sheetcalc.sheets.filled import Filled, as_typed
from sheetcalc.sheets.layout import (
    Cell,
    Grid,
    GridColumn,
    Layout,
    Mark,
    Sheet,
    Validation,
    Value,
    address,
    block,
    column_letters,
    state_marks,
)
from sheetcalc.sheets.table_blocks import next_size, padded, stocked
from sheetcalc.sheets.usable import usable_in, usable_value
from sheetcalc.sheets.valves_columns import Column, columns

NAME: Final = "Packing size"
#: The heads above each column, the last of them its title; then the rows of valves.
_HEADS: Final = ("Mark", "Kind", "Name", "Symbol", "Unit", "Source", "Formula in names", "Title")
_HEADER: Final = len(_HEADS) - 1
_FIRST: Final = _HEADER + 1
#: Rows that a blank sheet has ready, and those below a list.
SPARE_BLANK: Final = 50
SPARE_PLAN: Final = 20
#: What a constant has above its columns: its value stands in the row of the symbol.
_VALUE: Final = _HEADS.index("Symbol")
#: What stands first, so that a screen shows it without scrolling: the measurements, then what they come to.
_SEEN_FIRST: Final = (
    "tag",
    "unit_set",
    "stem_diameter_entered",
    "box_bore_entered",
    "box_depth_entered",
    "nose_length_entered",
    "gland_stud_thread",
    "state",
    "stocked_section",
    "ring_count",
    "cut_length",
    "tip_length",
    "spacer_height",
    "gland_gap_start",
    "gland_gap_end",
    "all_trouble",
)
#: The width of those columns, in characters, where it is not their own.
_NARROW: Final = 9.5
#: The most characters of such a column, in which words are wrapped.
_WORDS: Final = 36.0
_CAUTION: Final = (
    "Before you touch a valve: isolate, vent, drain, lock, tag, prove zero energy; pressure can stay under old packing. Hot surfaces, "
    "stored energy, weight; old packing may hold asbestos. Site procedures, the valve maker's manual, local codes and licensed practice "
    "come first."
)
_HOW: Final = (
    "Type into the boxed columns, one row a valve; a fraction as 0 7/16 or 1 1/8. Every row says its unit set. State says SIZED, LOOK, "
    "MISSING or STOP, and beside it what is wrong.",
    "Into your own workbook: move or copy this sheet there by your spreadsheet's own command. More rows: unprotect (no password), fill the "
    "last row down to the last column with a name above it; never delete or insert rows or columns.",
)
_CALLED: Final = re.compile(r"\bunit_[a-z]+_(?:factors|zeros|steps)\b|\bcounting_digits\b")


@dataclass(frozen=True)
class _Places:
    """Where everything stands on the sheet, by column."""

    left: Mapping[str, int]
    working: Mapping[str, int]
    constants: Mapping[str, int]
    tables: Mapping[str, str]

    def of(self, name: str) -> str:
        """The cell or the range of a quantity, as the formula of a row reads it."""
        if name in self.tables:
            return self.tables[name]
        if name in self.constants:
            return address(_VALUE, self.constants[name])
        column = self.working[name] if name in self.working else self.left[name]
        return f"${column_letters(column)}{ROW_MARK}"

    def parts(self, quantity: Derived) -> tuple[str, ...]:
        """The formula of a quantity, in parts around the row."""
        places = {name: self.of(name) for name in quantity.reads}
        return tuple(formula.render(quantity.guarded_excel, places).split(ROW_MARK))

    def shown(self, name: str, unit_set: str) -> tuple[str, ...]:
        """The formula of an answer in the unit of a unit set."""
        here = self.of(name)
        text = usable_in(get(name), here, unit_set) if get(name).dimension else f'IF({here}="","",{here})'
        return tuple(_CALLED.sub(lambda found: self.of(found[0]), text).split(ROW_MARK))


class Worked:
    """The rows of the sheet, and the answers of the core for each."""

    #: What a valve has in an outage: nothing here.
    listed: tuple[str, ...] = ()

    def __init__(self, edition: Edition, filled: Filled, spare: int) -> None:
        self.edition, self.answers, self.spare = edition, edition.answers, spare
        self.rows = len(filled.entries) + spare
        typed = list(self.answers.entries())
        spare_rows = pd.DataFrame({"unit_set": [edition.unit_set] * spare}, columns=typed)
        entries = pd.concat([filled.entries.astype(object), spare_rows.astype(object)], ignore_index=True)
        self.entries = entries.reindex(columns=typed)
        self.values = evaluate(read_entries(self.entries), self.rows, answers=self.answers)
        self.names = (*typed, *self.answers.worked_out())


def layout(worked: Worked, filled: Filled) -> Layout:
    """The workbook: the sheet, and behind it what was found in a list that it was filled from."""
    edition = worked.edition
    sheets = [_sheet(worked, filled)]
    if filled.source:
        sheets += [brought.findings(filled), brought.your_list(filled)]
    answers = edition.answers
    return Layout("Packing size of valves", tuple(sheets), {}, edition.paper, fingerprint(answers), edition.key)


def _left(edition: Edition, carried: Sequence[str]) -> list[Column]:
    """Entries and answers: what is to be seen at once, then the rest in the order of a list."""
    held = columns(edition, carried)
    by_name = {column.entry or column.working.removesuffix("_shown"): column for column in reversed(held)}
    first = [
        replace(column, width=min(column.width, _WORDS) if get(name).is_text else _NARROW)
        for name, column in ((name, by_name[name]) for name in _SEEN_FIRST)
    ]
    return first + [column for column in held if column not in [by_name[name] for name in _SEEN_FIRST]]


def _sheet(worked: Worked, filled: Filled) -> Sheet:
    edition, answers, rows, values, entries = worked.edition, worked.answers, worked.rows, worked.values, worked.entries
    left = _left(edition, tuple(filled.carried))
    names = answers.worked_out()
    working = {name: len(left) + 1 + at for at, name in enumerate(names)}
    constants = {one.name: len(left) + len(names) + 2 + at for at, one in enumerate(answers.constants())}
    held = _Tables(edition, constants)
    typed = {column.entry: place for place, column in enumerate(left) if column.entry}
    places = _Places(typed, working, constants, held.places)
    grid: list[GridColumn] = []
    cells: list[Cell] = [*_words(edition), *_constants(edition, constants), *held.cells]
    validations: list[Validation] = []
    for place, column in enumerate(left):
        new = not place or column.band != left[place - 1].band
        cells.append(Cell(_HEADER - 1, place, column.band if new else "", "band"))
        cells.append(Cell(_HEADER, place, column.header, "head"))
        if column.entry:
            grid.append(GridColumn(place, as_typed(entries[column.entry]), column.style))
            validations.append(_validation(column.entry, place, rows, places))
        elif column.working:
            grid.append(_answer(column, place, values, places, edition.unit_set))
        else:
            kept = [*filled.carried[column.header], *[None] * worked.spare]
            grid.append(GridColumn(place, as_typed(pd.Series(kept, dtype=object)), column.style))
    for name, place in working.items():
        quantity = answers.get(name, Derived)
        heads = (mark(quantity), quantity.kind, name, quantity.symbol, unit_shown(quantity), _graded(quantity), in_names(quantity))
        cells += [Cell(row, place, head, "small" if row else "origin") for row, head in enumerate(heads)]
        cells.append(Cell(_HEADER, place, quantity.title, "head"))
        style = "working_text" if quantity.is_text else "working"
        grid.append(GridColumn(place, column_values(values, name), style, places.parts(quantity)))
    last = _FIRST + rows - 1
    state = _SEEN_FIRST.index("state")
    here = address(_FIRST, state, fixed=False)
    return Sheet(
        NAME,
        tuple(cells),
        grids=(Grid(_FIRST, tuple(grid)),),
        validations=tuple(validations),
        marks=(
            *state_marks(_FIRST, state, last, state, f"${here}"),
            *_out_of_range(constants),
        ),
        widths={place: column.width for place, column in enumerate(left)}
        | dict.fromkeys([*working.values(), *constants.values()], 13.0)
        | {len(left): 2.0},
        heights=dict.fromkeys(range(_HEADER), 15.0) | {0: 24.0, 2: 28.0, 3: 28.0, 4: 28.0, _HEADER: 48.0} | _tall(values["all_trouble"]),
        merges=tuple((row, 1, row, _ACROSS) for row in range(1, 5)),
        freeze=(_FIRST, 1),
        repeat_rows=(_HEADER - 1, _HEADER),
        print_area=(0, 0, _FIRST + max(len(filled.entries), 20) - 1, len(_SEEN_FIRST) - 1),
        footer=NAME,
        active=True,
        selected=(_FIRST, 0),
    )


def _tall(troubles: Sequence[str]) -> dict[int, float]:
    """The heights of rows whose words take more than a line: a spreadsheet fits a row to them only when it is typed."""
    lines = {_FIRST + row: math.ceil(len(text) / _WORDS) for row, text in enumerate(troubles)}
    return {row: 14.0 * count for row, count in lines.items() if count > 1}


#: The last column across which the words above the rows stand.
_ACROSS: Final = 13


def _words(edition: Edition) -> list[Cell]:
    """What stands above the rows on the left."""
    lines = (
        ("Packing size", "title"),
        (issue_of(edition), "subtitle"),
        (_CAUTION, "wrap"),
        (_HOW[0], "wrap"),
        (_HOW[1], "wrap"),
        (answers_of(edition), "quiet_line"),
    )
    return [Cell(row, 1 if row else 0, text, look) for row, (text, look) in enumerate(lines)]


def _validation(name: str, place: int, rows: int, places: _Places) -> Validation:
    choices = choices_of(name)
    where = (_FIRST, place, _FIRST + rows - 1, place)
    return Validation(
        *where,
        choices=places.tables[choices] if choices else "",
        prompt_title=entry_title(get(name))[:32],
        prompt=prompt(get(name))[:255],
    )


def _answer(column: Column, place: int, values: Mapping[str, Any], places: _Places, unit_set: str) -> GridColumn:
    """A column of answers on the left: what a working column holds, lengths in the unit of the edition."""
    name = column.working.removesuffix("_shown")
    held = column_values(values, name)
    if column.working != name:
        return GridColumn(place, [usable_value(get(name), one, unit_set) for one in held], column.style, places.shown(name, unit_set))
    here = places.of(name)
    return GridColumn(place, held, column.style, tuple(f'IF({here}="","",{here})'.split(ROW_MARK)))


def _graded(quantity: Quantity) -> str:
    """Where a quantity comes from, and how far that can be relied on."""
    return f"{quantity.source.text} ({quantity.source.grade.value})"


def _constants(edition: Edition, constants: Mapping[str, int]) -> Iterator[Cell]:
    """The constants, above the rows: boxed cells to be changed, each with its range, unit and source."""
    issued = issued_assumptions()
    for one in edition.answers.constants():
        column = constants[one.name]
        value = issued[one.name]
        low, high = one.limits
        said = (mark(one), one.kind, one.name, None, unit_shown(one), _graded(one), f"{low} to {high}" if low else "a choice", one.title)
        for row, text in enumerate(said):
            if row == _VALUE:
                yield Cell(row, column, value, "entry_text" if one.is_text else "entry_number")
            else:
                yield Cell(row, column, text, "head" if row == _HEADER else "small")


def _out_of_range(constants: Mapping[str, int]) -> Iterator[Mark]:
    """A mark on each constant that is out of its range."""
    for name, column in constants.items():
        low, high = (float(limit) if limit else None for limit in get(name, Constant).limits)
        if low is not None:
            cell = address(_VALUE, column)
            yield Mark(_VALUE, column, _VALUE, column, f"OR(COUNT({cell})=0,{cell}<{low:.15g},{cell}>{high:.15g})", "warn")


class _Tables:
    """The columns of tables that the formulas read, beyond the constants, and where each stands.

    A pad is a formula: an empty cell would count as 0.
    """

    def __init__(self, edition: Edition, constants: Mapping[str, int]) -> None:
        self.cells: list[Cell] = []
        self.places: dict[str, str] = {}
        self._column = max(constants.values()) + 2
        self._stock({name: address(_VALUE, column) for name, column in constants.items()})
        for name, held in tables.frozen_columns().items():
            if name not in self.places and (name in edition.answers or name in _FOR_UNITS):
                style = "entry_number" if name in _CHANGED else ""
                self.places[name] = self._add(name, get(name).title, [plain(one) for one in np.asarray(held, dtype=object)], style)

    def _add(self, name: str, title: str, values: Sequence[Value], style: str = "", formulas: Sequence[str] = ()) -> str:
        """Add a column; returns where its values stand."""
        column, self._column = self._column, self._column + 1
        source = _graded(get(name)) if name else "boxed cells: your own sizes"
        said = ("", "table", name, "", "", source, "", title)
        self.cells += [Cell(row, column, text, "head" if row == _HEADER else "small") for row, text in enumerate(said)]
        for row, value in enumerate(values):
            blank = value is None or value == ""
            look = style or ("working_text" if isinstance(value, str) else "working")
            text = formulas[row] if formulas else '""' if blank and not style else ""
            self.cells.append(Cell(_FIRST + row, column, None if blank and not text else "" if blank else value, look, text))
        return block(_FIRST, column, _FIRST + len(values) - 1, column)

    def _stock(self, constants: Mapping[str, str]) -> None:
        """The stock lists, to be changed, and their sizes in rising order by formulas, as on the sheet Tables."""
        held = reference.values()
        count, inch_mm = reference.STOCK_ROWS, units.factor("in", "mm")
        inch, metric = (padded(stocked(unit), count) for unit in ("inch", "metric"))
        at = self._column
        self._add("", "Inch list (in)", inch, "entry_fraction")
        each = [address(_FIRST + row, at) for row in range(count)]
        turned = [f'IF(COUNT({one})=0,"",ROUND({one}*{constants["inch_length"]},{constants["counting_digits"]}))' for one in each]
        self._add("", "Inch list (mm)", [None if one is None else round(float(one) * inch_mm, 6) for one in inch], "", turned)
        self._add("", "Metric list (mm)", metric, "entry_number")
        lists = {"sorted_inch_sizes": (1, 1), "sorted_metric_sizes": (2, 2), "sorted_all_sizes": (1, 2)}
        for name, (first, last) in lists.items():
            sizes = block(_FIRST, at + first, _FIRST + count - 1, at + last)
            above = [""] + [address(_FIRST + row, self._column) for row in range(2 * count - 1)]
            formulas = [next_size(sizes, before) for before in above]
            self.places[name] = self._add(name, get(name).title, [plain(one) for one in held[name]], "working", formulas)


#: The columns of tables that a planner may change.
_CHANGED: Final = frozenset({"motion_rings"})
#: The columns of tables that answers are shown by.
_FOR_UNITS: Final = frozenset({"unit_length_factors", "unit_rule_steps"})
