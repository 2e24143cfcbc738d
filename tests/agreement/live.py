"""A few valves and outages as a workbook in which all is live: every quantity, and beside it every condition of an IF.

It has no look: a sheet for each kind of row, a column for each quantity, and a sheet of constants and tables, those of the user
filled in. Its rows are chosen so that each quantity is answered, each sentence spoken and each condition true and false.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import numpy as np
from agreement import outages, valves
from agreement.mutants import conditions_of

from sheetcalc.calculations.run import answered_names, entry_names, evaluate, issued_assumptions, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import EVERY, Column, Constant, Derived, Entry, Per, get, missing
from sheetcalc.sheets.common import ROW_MARK
from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Layout, Sheet, Value, address, block, column_letters

_FIXED = "Fixed"


@dataclass(frozen=True)
class Live:
    """The workbook, where each quantity and each condition stands, and what the core answers."""

    layout: Layout
    columns: Mapping[str, tuple[str, int]]
    conditions: Mapping[tuple[str, str], tuple[str, int]]
    answers: Mapping[str, Any]


def _sheet_of(per: Per) -> str:
    """Valves, and what is typed of them for the order, stand in the same rows."""
    return "Valves" if per in {Per.VALVE, Per.LISTED} else per.name.capitalize()


@dataclass
class _Maker:
    values: Mapping[str, Any]
    typed: Mapping[str, Sequence[Any]]
    lengths: Mapping[Per, int]
    places: dict[str, tuple[str, int]] = field(default_factory=dict)
    cells: dict[str, list[Cell]] = field(default_factory=dict)
    grids: dict[str, list[GridColumn]] = field(default_factory=dict)
    free: dict[str, int] = field(default_factory=dict)
    fixed: dict[str, str] = field(default_factory=dict)

    def column(self, sheet: str, width: int = 1) -> int:
        """The next free column of a sheet."""
        first = self.free.get(sheet, 0)
        self.free[sheet] = first + width
        return first

    def put(self, sheet: str, row: int, column: int, value: Any, *, typed: bool) -> None:
        """A cell with an input: an empty one where nothing is typed, else a blank is the empty text, as a formula gives it."""
        cells = self.cells.setdefault(sheet, [])
        if value is None or (isinstance(value, float) and value != value):  # noqa: PLR0124 - NaN
            if not typed:
                cells.append(Cell(row, column, "", "working", '""'))
        elif value == "":
            cells.append(Cell(row, column, "", "working", '""'))
        elif value == "#DIV/0!":
            cells.append(Cell(row, column, "", "working", "1/0"))
        else:
            cells.append(Cell(row, column, value if isinstance(value, str) else float(value), "working"))

    def fix(self, name: str) -> None:
        """A constant, or the column or block of a table."""
        held = np.asarray(self.values[name], dtype=object)
        held = held.reshape(len(held), -1) if held.ndim else held.reshape(1, 1)
        first = self.column(_FIXED, held.shape[1])
        for row, line in enumerate(held):
            for offset, value in enumerate(line):
                self.put(_FIXED, row, first + offset, value, typed=False)
        last = (len(held) - 1, first + held.shape[1] - 1)
        one = isinstance(get(name), Constant)
        self.fixed[name] = f"{_FIXED}!{address(0, first) if one else block(0, first, *last)}"

    def place(self, name: str, sheet: str) -> str:
        """Where a formula on a sheet finds what it reads: on its own row, else a whole column, or the one cell there is."""
        if name in self.fixed:
            return self.fixed[name]
        plain = name.removeprefix(EVERY)
        where, column = self.places[plain]
        if name.startswith(EVERY):
            return f"{where}!{block(0, column, self.lengths[get(plain).per] - 1, column)}"
        return f"${column_letters(column)}{ROW_MARK}" if where == sheet else f"{where}!{address(0, column)}"

    def formula(self, text: str, sheet: str) -> tuple[str, ...]:
        """A formula in the parts between which the row stands."""
        return tuple(formula.render(text, {name: self.place(name, sheet) for name in formula.names_in(text)}).split(ROW_MARK))

    def grid(self, sheet: str, text: str, held: Sequence[Value]) -> int:
        """A column of formulas."""
        column = self.column(sheet)
        self.grids.setdefault(sheet, []).append(GridColumn(column, held, "working", self.formula(text, sheet)))
        return column


def live(worked: Sequence[Derived], values: Mapping[str, Any], typed: Mapping[str, Sequence[Any]], lengths: Mapping[Per, int]) -> Live:
    """All of `worked` as formulas; what else they read as cells, what is typed as it is typed."""
    maker = _Maker(values, typed, lengths)
    names = {quantity.name for quantity in worked}
    reads = dict.fromkeys(read for quantity in worked for read in quantity.reads)
    for name in reads:
        if isinstance(get(name), (Column, Constant)):
            maker.fix(name)
    for name in dict.fromkeys(read.removeprefix(EVERY) for read in reads):
        if name not in names and name not in maker.fixed:
            sheet, entry = _sheet_of(get(name).per), isinstance(get(name), Entry)
            column = maker.column(sheet)
            maker.places[name] = sheet, column
            for row, value in enumerate(typed[name] if entry else values[name]):
                maker.put(sheet, row, column, value, typed=entry)
    for quantity in worked:  # a formula may read what stands further right
        sheet = _sheet_of(quantity.per)
        maker.places[quantity.name] = sheet, maker.column(sheet)
    for quantity in worked:
        sheet, column = maker.places[quantity.name]
        held = [None if v != v else v for v in np.atleast_1d(values[quantity.name]).tolist()]  # noqa: PLR0124 - NaN
        text = maker.formula(quantity.guarded_excel, sheet)
        maker.grids.setdefault(sheet, []).append(GridColumn(column, held, "working", text))
    conditions = {}
    for quantity in worked:
        sheet = _sheet_of(quantity.per)
        for test in conditions_of(quantity.excel):
            blank: list[Value] = [""] * lengths[quantity.per]
            conditions[quantity.name, test] = sheet, maker.grid(sheet, quantity.guard(f"IF({test},1,2)"), blank)
    sheets = [_FIXED, *dict.fromkeys(_sheet_of(per) for per in lengths)]
    laid = tuple(
        Sheet(name, tuple(maker.cells.get(name, [])), grids=(Grid(0, tuple(maker.grids.get(name, []))),), protected=False)
        for name in sheets
    )
    answers = {quantity.name: np.atleast_1d(values[quantity.name]) for quantity in worked}
    return Live(Layout("Live", laid, {}, "A4", "", ""), {name: maker.places[name] for name in names}, conditions, answers)


# --- which rows ---


#: A text that comes in more ways than this is a code or several sentences: that it is there is what matters.
_MOST_WORDS = 40


def _classes(name: str, columns: Sequence[Any]) -> list[list[tuple[Any, Any]]]:
    """What columns of a quantity show, each with the rows that show it: blank, texts one by one, and where a number lies."""
    if not get(name).is_text:
        return [
            [
                ((name, "blank"), np.isnan(held)), ((name, "nought"), held == 0), ((name, "some"), np.abs(held) > 0),
            ]
            for held in columns
        ]  # fmt: skip
    texts = [np.asarray(held, dtype=object).astype(str) for held in columns]
    words = set().union(*(set(held.tolist()) for held in texts))
    if len(words) > _MOST_WORDS:
        return [[((name, ""), held == ""), ((name, "said"), held != "")] for held in texts]
    return [[((name, one), held == one) for one in words] for held in texts]


def _may_be_missing(quantity: Derived, values: Mapping[str, Any]) -> Iterator[Any]:
    """The rows in which what a quantity may do without is missing, and all else that it reads is there."""
    needed = [~missing(values[name]) for name in (*quantity.numbers_needed, *quantity.texts_needed)]
    for name in sorted(quantity.optional):
        if needed and not isinstance(get(name), (Column, Constant)):
            yield np.logical_and.reduce(np.broadcast_arrays(missing(values[name]), *needed))


def _left_blank(quantity: Derived, values: Mapping[str, Any]) -> Any:
    """The rows in which all that a quantity needs is there, and its own condition leaves it blank."""
    needed = [~missing(values[name]) for name in quantity.texts_needed] + [np.isfinite(values[name]) for name in quantity.numbers_needed]
    return np.logical_and.reduce(np.broadcast_arrays(missing(values[quantity.name]), *needed))


def _needs(quantity: Derived) -> bool:
    return bool(quantity.numbers_needed or quantity.texts_needed)


def _cover(shown: Any, cost: Any) -> list[int]:
    """A few columns of a table of booleans that show, between them, all that any column shows, at little cost."""
    missing, chosen = shown.any(axis=1), []
    while missing.any():
        best = int((shown[missing].sum(axis=0) / cost).argmax())
        chosen.append(best)
        missing &= ~shown[:, best]
    return chosen


#: Valves taken besides, so that conditions between quantities come out both ways.
_MORE = 150


@cache
def _worked_out() -> dict[str, Any]:
    frame = valves.as_read()
    return evaluate({**read_entries(frame), **valves.own_rows()}, len(frame))


@cache
def telling_valves() -> list[int]:
    """Some three hundred of the generated valves, the most telling first."""
    values = _worked_out()
    shown = np.array([
        *(rows for name in answered_names() for _what, rows in _classes(name, [values[name]])[0]),
        *(rows for name in answered_names() for rows in _may_be_missing(get(name, Derived), values)),
        *(_left_blank(get(name, Derived), values) for name in answered_names() if _needs(get(name, Derived))),
        values["gland_stud_thread"] == "m12",  # which a search finds, and which is no thread
    ])  # fmt: skip
    chosen = _cover(shown, 1)
    more = np.random.default_rng(11).permutation(shown.shape[1])
    return [*chosen, *[int(row) for row in more if row not in set(chosen)][:_MORE]]


@cache
def of_valves() -> Live:
    """The telling valves."""
    rows, kept = telling_valves(), (Column, Constant)
    here = {name: value if isinstance(get(name), kept) else value[rows] for name, value in _worked_out().items()}
    cells = valves.generated().iloc[rows]
    typed = {name: [None if v is None or v == "" or v != v else v for v in cells[name]] for name in entry_names()}  # noqa: PLR0124 - NaN
    return live([get(name, Derived) for name in answered_names()], here, typed, {Per.VALVE: len(rows)})


@cache
def of_outages() -> tuple[Live, ...]:
    """Some of the generated outages, what is asked of a valve alone as it was worked out."""
    every = outages.generated()[outages.LARGE - 1 :]
    names = [name for per in outages.worked_out() for name in answered_names(per)]
    shown: dict[Any, Any] = {}
    for name in names:
        there = [place for place, outage in enumerate(every) if name in outage.values]
        for place, classes in zip(there, _classes(name, [np.atleast_1d(every[one].values[name]) for one in there]), strict=True):
            for what, rows in classes:
                if rows.any():
                    shown.setdefault(what, np.zeros(len(every), dtype=bool))[place] = True
            if _left_blank(get(name, Derived), every[place].values).any():
                shown.setdefault((name, "left blank"), np.zeros(len(every), dtype=bool))[place] = True
    constants = issued_assumptions()
    out = []
    cost = np.array([sum(outage.lengths.values()) for outage in every])
    for place in _cover(np.array(list(shown.values())), cost):
        outage = every[place]
        worked = [get(name, Derived) for name in names if name in outage.values]
        lengths = {**outage.lengths, Per.VALVE: outage.lengths[Per.LISTED]}
        out.append(live(worked, {**constants, **outage.values}, outage.cells, lengths))
    return tuple(out)
