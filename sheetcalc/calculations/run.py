"""The evaluator: every quantity of a whole list of valves, in the order that their reads give."""

from __future__ import annotations

import datetime as dt
import numbers
from collections.abc import Mapping
from functools import cache
from typing import Any, Final

import numpy as np
import pandas as pd

from sheetcalc.calculations.answers import Answers, whole
from sheetcalc.declare.quantity import EVERY, Column, Constant, Derived, Entry, Per, all_quantities, categorical, get
from sheetcalc.errors import UnknownNameError
from sheetcalc.reference import tables

#: Excel counts days from here, its wrong leap day of 1900 included.
_EXCEL_EPOCH: Final = pd.Timestamp(1899, 12, 30)
#: What an empty cell may be.
_NOTHING: Final = (type(None), type(pd.NA), type(pd.NaT))


def entry_names(per: Per = Per.VALVE) -> tuple[str, ...]:
    """The quantities that a person types, in the order of declaration."""
    return whole().entries(per)


def answered_names(per: Per = Per.VALVE) -> tuple[str, ...]:
    """The quantities that are worked out, each after those that it reads: one column of a working sheet each."""
    return whole().worked_out(per)


def issued_assumptions() -> dict[str, float | str]:
    """Every assumption as issued."""
    return {constant.name: constant.issued for constant in whole().constants()}


def _numbers(column: pd.Series[Any]) -> Any:
    """What a sheet's cells of that content are to a formula that needs numbers: NaN if empty, infinite if no number."""
    if column.dtype.kind in "fiu":
        return column.to_numpy(dtype=np.float64, na_value=np.nan)
    cells = column.to_numpy(dtype=object)
    out = np.full(len(cells), np.inf)
    codes, kinds = pd.factorize(column.map(type, na_action=None).to_numpy(dtype=object))
    for code, kind in enumerate(kinds):
        here = codes == code
        if kind in _NOTHING:
            out[here] = np.nan
        elif issubclass(kind, str):
            out[here & (cells == "")] = np.nan
        elif issubclass(kind, numbers.Real) and not issubclass(kind, (bool, np.bool_)):
            out[here] = cells[here].astype(np.float64)
        elif issubclass(kind, dt.date):  # a date and time too
            out[here] = [(pd.Timestamp(one).tz_localize(None) - _EXCEL_EPOCH) / pd.Timedelta(days=1) for one in cells[here]]
    return out


def _texts(column: pd.Series[Any]) -> Any:
    """The cells as texts, "" where empty; what is no text stays what it is."""
    out = column.to_numpy(dtype=object, copy=True)
    out[column.isna().to_numpy()] = ""
    return out


def read_entries(frame: pd.DataFrame, per: Per = Per.VALVE) -> dict[str, Any]:
    """The entry columns of a frame as the core reads them; a column that is absent is blank throughout.

    Raises UnknownNameError for a column that is no entry of that kind of row.
    """
    unknown = [str(name) for name in frame.columns if name not in entry_names(per)]
    if unknown:
        known = ", ".join(entry_names(per))
        message = f"No entry is called {', '.join(unknown)}. Entries are: {known}."
        raise UnknownNameError(message)
    out: dict[str, Any] = {}
    for name in entry_names(per):
        text = get(name).is_text
        if name not in frame:
            out[name] = np.full(len(frame), "", dtype=object) if text else np.full(len(frame), np.nan)
        else:
            out[name] = _texts(frame[name]) if text else _numbers(frame[name])
    return out


def worked_out(
    typed: Mapping[str, Any],
    length: int,
    *,
    constants: Mapping[str, float | str] | None = None,
    answers: Answers | None = None,
) -> dict[str, Any]:
    """Every quantity as formulas read them: what `evaluate` gives, but faults are booleans and texts are categories."""
    changed = dict(constants or {})
    for name in changed:
        if not isinstance(get(name), Constant):
            message = f"{name} is not an assumption"
            raise UnknownNameError(message)
    answers = answers or whole()
    texts = {name: categorical(value) for name, value in typed.items() if name in entry_names() and get(name).is_text}
    values: dict[str, Any] = {**tables.values(), **issued_assumptions(), **changed, **typed, **texts}
    blanks: dict[frozenset[str], Any] = {}
    for name in answers.worked_out():
        values[name] = answers.get(name, Derived).compute(values, length, blanks)
    return values


def evaluate(
    typed: Mapping[str, Any],
    length: int,
    *,
    constants: Mapping[str, float | str] | None = None,
    answers: Answers | None = None,
) -> dict[str, Any]:
    """Every quantity of a set (all there are by default) from the entries: arrays of `length` by name; assumptions and tables as they are.

    Faults and other texts are words, "" where there are none. `constants` overrides assumptions by name.
    """
    answers = answers or whole()
    values = worked_out(typed, length, constants=constants, answers=answers)
    return {**values, **typed, **{name: get(name, Derived).shown(values[name]) for name in answers.worked_out()}}


@cache
def present_names(pers: frozenset[Per], answers: Answers | None = None) -> tuple[str, ...]:
    """What can be worked out for rows of these kinds alone: the quantities all of whose reads are there too, in order."""
    answers = answers or whole()
    known = {q.name for q in all_quantities() if isinstance(q, (Constant, Column)) or (isinstance(q, Entry) and q.per in pers)}
    out: list[str] = []
    for name in answers.order:
        quantity = answers.get(name)
        if not isinstance(quantity, Derived) or quantity.per not in pers or {r.removeprefix(EVERY) for r in quantity.reads} - known:
            continue
        known.add(name)
        out.append(name)
    return tuple(out)


def evaluate_outage(
    typed: Mapping[Per, Mapping[str, Any]],
    lengths: Mapping[Per, int],
    valves: Mapping[str, Any] | None = None,
    *,
    constants: Mapping[str, float | str] | None = None,
    answers: Answers | None = None,
) -> dict[str, Any]:
    """Every quantity that is not of a valve alone: the order, the kit, the labour and the log.

    `typed` holds the entries of each kind of row as arrays of its length in `lengths` (1 for the outage itself), `valves`
    what `evaluate` gave, where there are valves. Kinds of row without a length are left out, and so is what reads them.
    Returns arrays by name.
    """
    values: dict[str, Any] = {**tables.values(), **issued_assumptions(), **(valves or {}), **(constants or {})}
    for entries in typed.values():
        values |= entries
    values |= {EVERY + name: value for name, value in values.items()}
    pers = frozenset(lengths) | ({Per.VALVE} if valves is not None else frozenset())
    answers = answers or whole()
    for name in present_names(pers, answers):
        quantity = answers.get(name, Derived)
        if quantity.per is not Per.VALVE:
            values[name] = values[EVERY + name] = quantity.shown(quantity.compute(values, lengths[quantity.per]))
    return {name: value for name, value in values.items() if not name.startswith(EVERY)}


def calculate(frame: pd.DataFrame, *, constants: Mapping[str, float | str] | None = None) -> pd.DataFrame:
    """Work out every quantity of every valve.

    `frame` has one row per valve and any of the entry columns (`tag`, `unit_set`, `stem_diameter_entered`, ...);
    lengths are in mm where unit_set is metric and in inches where it is US. Columns for order and plan, as a list has them, say
    nothing of a valve and are left out. `constants` overrides assumptions.
    Returns a frame with the same index and one column for each entry and each quantity: coherent units (mm, degrees),
    NaN or "" where something is missing, the reason in the `check_` columns. What is worked out in words comes as categories.
    Raises UnknownNameError for a column or constant that does not exist.
    """
    alone = frame.drop(columns=list(entry_names(Per.LISTED)), errors="ignore")
    typed = read_entries(alone)
    values = worked_out(typed, len(frame), constants=constants)
    out = {
        name: pd.Series(held, index=frame.index, dtype=object, copy=False) if get(name).is_text else held for name, held in typed.items()
    }
    out |= {name: get(name, Derived).as_categories(values[name]) if get(name).is_text else values[name] for name in answered_names()}
    return pd.DataFrame(out, index=frame.index, copy=False)
