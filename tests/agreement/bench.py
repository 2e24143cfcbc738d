"""A bench for formulas: their inputs in columns, or as whole columns on a second sheet, and IronCalc to work them out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

import ironcalc
import numpy as np
from agreement.engine import TOLERANCE

from sheetcalc.calculations.run import issued_assumptions
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import EVERY, Column, Constant, Entry, Every, Per, get
from sheetcalc.sheets.layout import block, column_letters

#: The column from which on the formulas stand.
_FORMULAS = 2000


class Bench:
    """A sheet with the inputs of formulas in columns and the formulas beside them, for some rows of one kind.

    `values` holds the core's answers by name, `typed` gives what stands in the cells of an entry: numbers, texts, None for
    an empty cell, "" for one that fetches an empty cell. What there is one of for all rows, and whole columns, stand on a second sheet.
    """

    def __init__(self, rows: Iterable[int], values: Mapping[str, Any], typed: Callable[[str], Sequence[Any]], per: Per = Per.VALVE) -> None:
        self.rows = [int(row) for row in rows]
        self.values, self.typed, self.per = values, typed, per
        self.model = ironcalc.create("bench")
        self.model.add_sheet("T")
        self.places: dict[str, str] = {}
        self.free = 1
        self.free_beside = 1

    def _put(self, sheet: int, row: int, column: int, value: Any, *, typed: bool = False) -> None:
        """One cell: a blank answer is the empty text, a blank entry is left empty."""
        if typed and value is None:
            return
        if value is None or (isinstance(value, str) and not value) or value != value:  # noqa: PLR0124 - NaN
            self.model.update_cell_with_formula(sheet, row, column, '=""')
        elif typed and value == "#DIV/0!":
            self.model.update_cell_with_formula(sheet, row, column, "=1/0")
        elif isinstance(value, str):
            self.model.update_cell_with_text(sheet, row, column, value)
        elif isinstance(value, bool):
            self.model.update_cell_with_bool(sheet, row, column, value)
        else:
            self.model.update_cell_with_number(sheet, row, column, float(value))

    def _beside(self, held: Any, *, typed: bool = False) -> str:
        """Where a whole block stands on the second sheet, put there."""
        held = np.asarray(held, dtype=object)
        held = held.reshape(len(held), -1)
        first = self.free_beside
        self.free_beside += held.shape[1]
        for row, line in enumerate(held, start=1):
            for offset, value in enumerate(line):
                self._put(1, row, first + offset, value, typed=typed)
        return f"T!{block(0, first - 1, len(held) - 1, first + held.shape[1] - 2)}"

    def place(self, name: str) -> str:
        """Where an input stands, put there when first asked for. A row mark stands for the row."""
        if name not in self.places:
            self.places[name] = self._placed(name)
        return self.places[name]

    def _placed(self, name: str) -> str:
        quantity = get(name)
        if isinstance(quantity, Column):
            return self._beside(self.values[name])
        entry = isinstance(get(name.removeprefix(EVERY)), Entry) if isinstance(quantity, Every) else isinstance(quantity, Entry)
        held = self.typed(name) if entry else self.values.get(name)
        if isinstance(quantity, Every):
            return self._beside(held, typed=entry)
        if isinstance(quantity, Constant):
            return self._beside([self.values.get(name, issued_assumptions()[name])]).split(":", maxsplit=1)[0]
        if quantity.per is Per.OUTAGE and self.per is not Per.OUTAGE:
            return self._beside(held, typed=entry).split(":", maxsplit=1)[0]
        assert held is not None
        column = self.free
        self.free += 1
        for at, row in enumerate(self.rows, start=1):
            self._put(0, at, column, held[row], typed=entry)
        return f"${column_letters(column - 1)}\x00"

    def run(self, texts: Sequence[str]) -> list[list[Any]]:
        """The results of each formula on every row."""
        for offset, text in enumerate(texts):
            rendered = formula.render(text, {name: self.place(name) for name in formula.names_in(text)}).split("\x00")
            for at in range(1, len(self.rows) + 1):
                self.model.update_cell_with_formula(0, at, _FORMULAS + offset, "=" + str(at).join(rendered))
        for at in range(1, len(self.rows) + 1):  # a formula that takes a whole row finds no empty cell to run on into
            self.model.update_cell_with_text(0, at, _FORMULAS + len(texts), "beside")
        self.model.evaluate()
        places = range(1, len(self.rows) + 1)
        return [[self.model.get_cell_value(0, at, _FORMULAS + offset) for at in places] for offset in range(len(texts))]


def differs(got: Iterable[Any], want: Iterable[Any]) -> bool:
    """Whether any answer of the engine is another than the core's."""
    return any(apart(one, other) for one, other in zip(got, want, strict=True))


def apart(one: Any, other: Any) -> bool:
    """Whether an answer of the engine is another than the core's: texts letter for letter, numbers beyond noise."""
    a = "" if one is None else one
    b = "" if other is None or other != other else other  # noqa: PLR0124 - NaN
    if isinstance(a, str) or isinstance(b, str) or isinstance(a, bool):
        return bool(a != b)
    return bool(abs(a - b) > TOLERANCE * max(1.0, abs(a), abs(b)))


def same(one: Any, other: Any) -> bool:
    """Whether two answers of the core are the same."""
    a, b = np.asarray(one), np.asarray(other)
    if a.dtype.kind == "O" or b.dtype.kind == "O":
        return bool((a == b).all())
    return bool(np.allclose(a, b, rtol=TOLERANCE, atol=TOLERANCE, equal_nan=True))
