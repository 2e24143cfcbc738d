"""Tests of the tests: every constant, comparison and name changed, one at a time; the agreement must notice each change.

The workbook of the agreement run compares each formula cell with the core. A changed formula is noticed when its own
cell differs on any of the generated valves, so each mutant is put beside its quantity's inputs and recalculated by
IronCalc on those valves.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable
from functools import cache
from typing import Any

import ironcalc
import numpy as np
import pytest
from agreement.engine import TOLERANCE
from agreement.mutants import Mutant, conditions_of, excel_mutants, python_mutants
from agreement.valves import as_read, generated

from sheetcalc.calculations import arithmetic, cut, entries, flats, gap, rings, section, shown, state
from sheetcalc.calculations.run import answered_names, evaluate, issued_assumptions, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Kind, Quantity, get
from sheetcalc.sheets.layout import block, column_letters

#: Mutants that change nothing: name and change as patterns, and the reason. Found by hand, at most 3 % of all.
EQUIVALENT: tuple[tuple[str, str, str], ...] = (
    ("unit_row|packing_form|cut_style", "0 -> 1 at .*",
     "the names are sorted and the name found is compared with the one typed, so an approximate search ends the same"),
    ("section_column", "{section_list} -> {section_list_chosen} at .*", "MATCH ignores case, and other texts are blank before"),
    ("stocked_below|stocked_above|joint_row", "1 -> (2|1.01) at .*", "any positive search type means rising order"),
    (".*_sixteenths|state|stocked_above", "1 -> 1.01 at .*", "INDEX and CHOOSE cut their place to a whole number"),
    ("stocked_above", "{packing_section} -> {stocked_below} at .*", "the size at or below has the same place in the list"),
    ("stocked_nearest", "<= -> = at .*", "the nearest distance is never above the distance to the size above"),
    ("rings_above_lantern", "> -> <> at .*", "a lantern length is never negative"),
    ("rings_above_lantern", "2 -> 2.02 at .*", "up to 40 rings half of them rounds up alike"),
    ("stud_pitch", "(> -> <>|0 -> 1) at .*", "threads per inch are 0 or at least 8"),
    ("thread_not_known", "1 -> (2|1.01) at .*", "any number but 0 is true"),
    ("thread_not_known", "{thread_row} -> {stud_threads_per_inch} at .*", "the two are blank together"),
)  # fmt: skip
EQUIVALENT_GUARDS: tuple[tuple[str, str, str], ...] = (
    (".*_typed|stem_diameter|box_bore|box_depth|nose_length|maker_ring_count|made_ring_height|stud_spacing|stocked_below",
     "(< -> >|[0-9] -> [0-9]) at .*", "the formula inside ends blank as well where its entry is no number"),
    ("stocked_to_roll|no_stocked_section|undersize_travel|cut_length", "= -> < at .*", "no form compares equal to braid when it is blank"),
    ("stocked_nearest|stocked_to_roll|joint_gap_bound|stud_pitch|few_rings_by_lantern|no_ring_fits", "(< -> >|[0-9] -> [0-9]) at .*",
     "its numbers are blank together, or the formula inside stays blank or silent on a blank"),
)  # fmt: skip
EQUIVALENT_PYTHON: tuple[tuple[str, str, str], ...] = (
    ("rings_above_lantern", "Gt -> NotEq.*", "a lantern length is never negative"),
    ("rings_above_lantern", "2 -> 2.02.*", "up to 40 rings half of them rounds up alike"),
    ("stud_pitch", "(0 -> 1|Gt -> NotEq).*", "threads per inch are 0 or at least 8"),
    ("state", "3 -> 3.03.*", "the place is cut to a whole number"),
    ("arithmetic.rounded", "(2.0 -> .*|51 -> .*).*", "the nudge of the last bit by a little more or less"),
    ("entries._believable", "Eq -> LtE.*", "what is left over from a whole number is never negative"),
    ("section._neighbour", "Eq -> GtE.*", "what an earlier list put there is overwritten by the list that is meant"),
    ("arithmetic.joined", "1 -> (2|0) \\(#[01]\\)", "all columns are of one length, whichever is asked"),
    ("shown._sixteenths", "1 -> 1.01.*", "the place is cut to a whole number"),
)  # fmt: skip
_FIRST_TRY = 260


@cache
def _values() -> dict[str, Any]:
    valves = as_read()
    return evaluate(read_entries(valves), len(valves))


@cache
def _typed_cells(name: str) -> tuple[Any, ...]:
    """An entry as it stands in a cell: numbers, texts, None for an empty cell."""
    return tuple(None if v is None or v == "" or v != v else v for v in generated()[name])  # noqa: PLR0124 - NaN


class _Bench:
    """A sheet with the inputs of formulas in columns and their mutants beside them, for some of the valves."""

    def __init__(self, rows: np.ndarray[Any, Any]) -> None:
        self.rows = rows
        self.model = ironcalc.create("bench")
        self.model.add_sheet("T")
        self.column: dict[str, int] = {}
        self.places: dict[str, str] = {}
        self.free = 1

    def _put(self, sheet: int, row: int, column: int, value: Any) -> None:
        if value is None or (isinstance(value, float) and value != value):  # noqa: PLR0124 - NaN
            self.model.update_cell_with_formula(sheet, row, column, '=""')
        elif isinstance(value, str):
            if value:
                self.model.update_cell_with_text(sheet, row, column, value)
            else:
                self.model.update_cell_with_formula(sheet, row, column, '=""')
        else:
            self.model.update_cell_with_number(sheet, row, column, float(value))

    def place(self, name: str) -> str:
        """Where an input stands, put there when first asked for. A row mark stands for the row."""
        if name in self.places:
            return self.places[name]
        quantity = get(name)
        if quantity.kind is Kind.TABLE:
            held = np.asarray(_values()[name], dtype=object)
            held = held.reshape(len(held), -1)
            first = self.column.setdefault("next table", 1)
            for row, line in enumerate(held, start=1):
                for offset, value in enumerate(line):
                    self._put(1, row, first + offset, value)
            self.column["next table"] = first + held.shape[1]
            self.places[name] = f"T!{block(0, first - 1, len(held) - 1, first + held.shape[1] - 2)}"
            return self.places[name]
        column = self.free
        self.free += 1
        for at, valve in enumerate(self.rows, start=1):
            if quantity.kind is Kind.ASSUMPTION:
                self._put(0, at, column, issued_assumptions()[name])
            elif quantity.kind is Kind.ENTRY:
                value = _typed_cells(name)[valve]
                if value == "#DIV/0!":
                    self.model.update_cell_with_formula(0, at, column, "=1/0")
                elif value is not None:
                    self._put(0, at, column, value)
            else:
                self._put(0, at, column, _values()[name][valve])
        self.places[name] = f"${column_letters(column - 1)}\x00"
        return self.places[name]

    def run(self, texts: list[str]) -> list[list[Any]]:
        """The results of each formula on every row."""
        first = self.free
        for offset, text in enumerate(texts):
            rendered = formula.render(text, {name: self.place(name) for name in formula.names_in(text)}).split("\x00")
            self.free = max(self.free, first)
            column = 2000 + offset
            for at in range(1, len(self.rows) + 1):
                self.model.update_cell_with_formula(0, at, column, "=" + str(at).join(rendered))
        self.model.evaluate()
        return [[self.model.get_cell_value(0, at, 2000 + k) for at in range(1, len(self.rows) + 1)] for k in range(len(texts))]


def _differs(got: Iterable[Any], want: Iterable[Any]) -> bool:
    for one, other in zip(got, want, strict=True):
        a = "" if one is None else one
        b = "" if other is None or other != other else other  # noqa: PLR0124 - NaN
        if isinstance(a, str) or isinstance(b, str) or isinstance(a, bool):
            if a != b:
                return True
        elif abs(a - b) > TOLERANCE * max(1.0, abs(a), abs(b)):
            return True
    return False


@cache
def _telling_rows(quantity: Quantity) -> np.ndarray[Any, Any]:
    """All valves, those first that differ in answers and in inputs: most mutants show on few rows."""
    rng = np.random.default_rng(7)
    order = rng.permutation(len(generated()))
    answer = _values()[quantity.name]
    key = np.array([str(v) if isinstance(v, str) else ("" if v != v else f"{v:.3g}") for v in answer[order]])  # noqa: PLR0124
    _once, first = np.unique(key, return_index=True)
    chosen = order[np.sort(first)][: _FIRST_TRY // 2]
    rest = order[~np.isin(order, chosen)]
    return np.concatenate([chosen, rest])


def test_the_bench_agrees_before_anything_is_changed() -> None:
    """Put beside its inputs on the bench, every unchanged formula gives the core's answers."""
    for name in answered_names():
        quantity = get(name)
        rows = _telling_rows(quantity)[:_FIRST_TRY]
        got = _Bench(rows).run([quantity.guarded_excel])[0]

        assert not _differs(got, _values()[name][rows]), name


def _survivors(quantity: Quantity, mutants: list[Mutant]) -> list[Mutant]:
    alive = mutants
    rows = _telling_rows(quantity)
    for lot in (rows[:_FIRST_TRY], rows[_FIRST_TRY:]):
        if not alive:
            break
        got = _Bench(lot).run([mutant.text for mutant in alive])
        want = _values()[quantity.name][lot]
        alive = [mutant for mutant, column in zip(alive, got, strict=True) if not _differs(column, want)]
    return alive


def _judge(kind: str, made: int, survivors: list[Mutant], listed: tuple[tuple[str, str, str], ...]) -> None:
    """Print made, killed and equivalent ones with their reason; fail on a survivor without one and on a reason without use."""
    used, unknown = set(), []
    print(f"\n{kind}: {made} mutants made, {made - len(survivors)} killed, {len(survivors)} equivalent")
    for mutant in survivors:
        fits = [one for one in listed if re.fullmatch(one[0], mutant.name) and re.fullmatch(one[1].replace("{", "\\{"), mutant.change)]
        used.update(fits[:1])
        print(f"  {mutant.name}: {mutant.change}: {fits[0][2] if fits else 'NO REASON LISTED'}")
        if not fits:
            unknown.append((mutant.name, mutant.change))

    assert unknown == []
    assert [entry for entry in listed if entry not in used] == []


def test_every_mutant_of_an_excel_text_is_killed() -> None:
    """A changed constant, comparison, operator or name in any Excel text or its guard is noticed; equivalent ones are listed.

    In a guard COUNT<n and COUNT<>n are the same by definition, so that change is not made.
    """
    made, survivors = 0, []
    guards_made, guard_survivors = 0, []
    for name in answered_names():
        quantity = get(name)
        mutants = [Mutant(m.name, m.change, quantity.guard(m.text)) for m in excel_mutants(quantity, quantity.excel)]
        made += len(mutants)
        survivors += _survivors(quantity, mutants)
        around = quantity.guard("\x01")
        if around == "\x01":
            continue
        changed = [m for m in excel_mutants(quantity, around, guard=True) if not m.change.startswith("< -> <>")]
        mutants = [Mutant(name, m.change, m.text.replace("\x01", quantity.excel)) for m in changed]
        guards_made += len(mutants)
        guard_survivors += _survivors(quantity, mutants)
    _judge("Excel texts", made, survivors, EQUIVALENT)
    _judge("Guards", guards_made, guard_survivors, EQUIVALENT_GUARDS)

    assert len(survivors) <= 0.03 * made
    assert len(survivors) + len(guard_survivors) <= 0.03 * (made + guards_made)


def test_every_branch_is_taken() -> None:
    """The condition of every IF in a declared formula comes out both true and false on at least 20 generated valves."""
    rows = np.arange(len(generated()))
    rare: list[str] = []
    taken = 0
    for name in answered_names():
        quantity = get(name)
        tests = conditions_of(quantity.excel)
        if not tests:
            continue
        values = _values()
        answered = np.ones(len(rows), dtype=bool)
        for read in quantity.numbers_needed:
            answered &= np.broadcast_to(~np.isnan(values[read]), answered.shape)
        for read in quantity.texts_needed:
            answered &= values[read] != ""
        bench = _Bench(rows[answered])
        for test, column in zip(tests, bench.run([f"IF({test},1,2)" for test in tests]), strict=True):
            yes, no = sum(v == 1 for v in column), sum(v == 2 for v in column)
            taken += 2
            if min(yes, no) < 20:
                rare.append(f"{name}: {test}: true {yes}, false {no}")
    print(f"\nBranches of IF counted: {taken}")

    assert rare == []


_HELPERS = (
    (arithmetic, arithmetic.rounded), (arithmetic, arithmetic.above_zero), (arithmetic, arithmetic.at_least_zero),
    (arithmetic, arithmetic.whole), (arithmetic, arithmetic.whole_up), (arithmetic, arithmetic.pick),
    (arithmetic, arithmetic.row_exact), (arithmetic, arithmetic.row_ignoring_case), (arithmetic, arithmetic.joined),
    (entries, entries._believable), (entries, entries._speaks_when_needed), (entries, entries._speaks_when_typed),
    (section, section._neighbour), (shown, shown._sixteenths), (state, state._typed), (state, state._ok_or),
)  # fmt: skip


def _same(one: Any, other: Any) -> bool:
    a, b = np.asarray(one), np.asarray(other)
    if a.dtype.kind == "O" or b.dtype.kind == "O":
        return bool((a == b).all())
    return bool(np.allclose(a, b, rtol=TOLERANCE, atol=TOLERANCE, equal_nan=True))


def _noticed(mutant: Mutant, quantity: Quantity) -> bool:
    changed = dataclasses.replace(quantity, function=mutant.function)
    try:
        return not _same(changed.compute(_values(), len(generated())), _values()[quantity.name])
    except (IndexError, KeyError, TypeError, ValueError, ZeroDivisionError):
        return True


def test_every_mutant_of_a_python_function_is_killed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A changed constant, comparison, operator or name in the core is noticed against the answers that both engines confirm."""
    made, survivors = 0, []
    shared = {id(function) for _module, function in _HELPERS}
    for name in answered_names():
        quantity = get(name)
        if quantity.function is None or quantity.function.__name__ != name or id(quantity.function) in shared:
            continue
        for mutant in python_mutants(quantity.function, quantity):
            made += 1
            if not _noticed(mutant, quantity):
                survivors.append(mutant)
    for module, helper in _HELPERS:
        for mutant in python_mutants(helper):
            made += 1
            if not _noticed_anywhere(monkeypatch, helper, mutant):
                survivors.append(Mutant(f"{module.__name__.rsplit('.', 1)[1]}.{mutant.name}", mutant.change))
    _judge("Python", made, survivors, EQUIVALENT_PYTHON)

    assert len(survivors) <= 0.03 * made


#: Decimal halves that a double holds a little too low; rounded by hand to two digits, half away from nought.
_HALVES = np.array([1.005, 2.675, 1.015, 0.5, -2.5, 8.345])


def _noticed_anywhere(monkeypatch: pytest.MonkeyPatch, helper: Any, mutant: Mutant) -> bool:
    """Whether any quantity changes when a helper is replaced by its mutant wherever it is used."""
    if helper is arithmetic.rounded and not _same(mutant.function(_HALVES, 2), [1.01, 2.68, 1.02, 0.5, -2.5, 8.35]):  # type: ignore[misc]
        return True
    with monkeypatch.context() as patched:
        for part in (arithmetic, cut, entries, flats, gap, rings, section, shown, state):
            for attribute, held in list(vars(part).items()):
                if held is helper:
                    patched.setattr(part, attribute, mutant.function)
        for name in answered_names():
            quantity = get(name)
            held_inside = [cell.cell_contents for cell in getattr(quantity.function, "__closure__", None) or ()]
            if quantity.function is helper or helper in held_inside:
                if _noticed(mutant, quantity):
                    return True
                continue
            try:
                if not _same(quantity.compute(_values(), len(generated())), _values()[name]):
                    return True
            except (IndexError, KeyError, TypeError, ValueError, ZeroDivisionError):
                return True
    return False
