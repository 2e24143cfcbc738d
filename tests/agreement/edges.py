"""Rows on which an answer is about to change: found by halving, one input at a time, with the core as the judge.

A comparison is told from its neighbours only where it stands on its edge, and few valves do. So for each quantity rows of all
kinds are taken, one input is moved towards that of another row until the answer changes, and rows are made just before and
just after that place; and each entry is emptied, and holds something that is no number.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

import numpy as np
import pandas as pd
from agreement.trial import Field

from sheetcalc.declare.quantity import Column, Constant, Derived, Entry, Every, Per, categorical, get

#: Rows that an input is moved from, the edges kept of each input, and how far from the edge rows are made, on either side.
_BASES, _KEPT = 120, 24
#: Of texts and truths so many others are put in the place of a row's own.
_OTHERS = 6
#: By which share of itself an input is moved, beside the way to another row's value.
_NEAR = (-0.4, -0.05, 0.05, 0.4)
#: How far beyond nought it is moved as well, to either side.
_BEYOND = 0.0037
_OFFSETS = (3e-8, 3e-7, 2e-5, 4e-3, 0.3)
_HALVINGS = 60
#: What an entry may hold that is no answer: empty, an error value, and where it should be a number a TRUE.
_ODD_CELLS: tuple[tuple[Any, str, float], ...] = ((None, "", np.nan), ("#DIV/0!", "#", np.inf), (True, "", np.inf))

Typed = Callable[[str], Sequence[Any]]


def _plain(value: Any) -> Any:
    return (
        np.asarray(value, dtype=object) if isinstance(value, pd.Categorical) or np.asarray(value).dtype.kind == "O" else np.asarray(value)
    )


def _kinds(value: Any) -> Any:
    """What tells rows of one input apart: the text, or whether a number is missing, below 0, 0, or above it."""
    plain = _plain(value)
    if plain.dtype.kind == "O":
        return np.unique(plain.astype(str), return_inverse=True)[1] % 9
    return np.where(np.isnan(plain), 2.0, np.sign(np.nan_to_num(plain))) if plain.dtype.kind == "f" else plain.astype(float)


def _varied(reads: Sequence[str]) -> list[str]:
    return [one for one in reads if not isinstance(get(one), (Column, Constant, Every)) and get(one).per is not Per.OUTAGE]


def _bases(quantity: Derived, values: Mapping[str, Any], inputs: Sequence[str], rng: Any) -> Any:
    """Rows of as many kinds as there are, each kind by one or more rows."""
    kinds = np.stack([_kinds(values[one]) for one in (quantity.name, *inputs)], axis=1)
    order = rng.permutation(len(kinds))
    _kind, place = np.unique(kinds[order], axis=0, return_inverse=True)
    place = place.reshape(-1)
    # The first of each kind, then the second of each, and so on.
    turn = pd.Series(place).groupby(place).cumcount().to_numpy()
    mixed = order[np.argsort(turn, kind="stable")]
    # As many again of those that have an answer.
    answer = _plain(values[quantity.name])
    answered = ~np.isnan(answer) if answer.dtype.kind == "f" else answer != ""
    return np.unique(np.concatenate([mixed[:_BASES], mixed[answered[mixed]][:_BASES]]))


def _key(answer: Any) -> Any:
    """What is compared of an answer: a text, a truth, or a number to nine digits, a blank as one."""
    plain = _plain(answer)
    if plain.dtype.kind != "f":
        return plain
    with np.errstate(all="ignore"):
        size = np.where((plain == 0) | ~np.isfinite(plain), 1.0, np.abs(plain))
        return np.round(np.nan_to_num(plain / size, nan=2.0) * np.round(np.log(size), 9), 9)


class _Mover:
    """The answers of a quantity on some rows with one input moved."""

    def __init__(self, quantity: Derived, held: Mapping[str, Any], bases: Any, inputs: Sequence[str]) -> None:
        self.quantity = quantity
        self.held = {**held, **{one: _rows(held[one], bases) for one in inputs}}
        self.length = len(bases)

    def answers(self, name: str, values: Any) -> Any:
        return self.quantity.compute({**self.held, name: values}, self.length)

    def edges(self, name: str, partners: Any) -> Iterator[tuple[int, float]]:
        """Where the answer changes on the way from each row's own value to its partner's: the row, and the value just before."""
        own = np.asarray(self.held[name], dtype=np.float64)
        known = np.isfinite(own) & np.isfinite(partners)
        low, high = np.where(known, own, 0.0), np.where(known, partners, 0.0)
        first, last = self.answers(name, low), self.answers(name, high)
        blank = isinstance(first, np.ndarray) and first.dtype.kind == "f"
        by_blank = (np.isnan(first) != np.isnan(last)) if blank else np.zeros(self.length, dtype=bool)

        def alike(answer: Any) -> Any:
            same = _key(answer) == _key(first)
            return np.where(by_blank, np.isnan(answer) == np.isnan(first), same) if blank else same

        moved = known & ~alike(last)
        for _turn in range(_HALVINGS):
            middle = (low + high) / 2
            stays = alike(self.answers(name, middle))
            low, high = np.where(stays, middle, low), np.where(stays, high, middle)
        yield from ((int(at), float(low[at])) for at in np.flatnonzero(moved))


def _rows(value: Any, at: Any) -> Any:
    return categorical(_plain(value)[at]) if isinstance(value, pd.Categorical) else np.asarray(value)[at]


def _whole(value: Any) -> bool:
    finite = value[np.isfinite(value)]
    return bool((finite == np.round(finite)).all()) and len(finite) > 0


def edge_field(quantity: Derived, field: Field) -> Field:
    """Rows about to change of one quantity, made from those of a field."""
    rng = np.random.default_rng([20261129, zlib.crc32(quantity.name.encode())])
    inputs = [one for one in _varied(quantity.reads) if one in field.held]
    bases = _bases(quantity, field.values, inputs, rng)
    mover = _Mover(quantity, field.held, bases, inputs)
    made: list[tuple[int, str, Any, Any]] = []  # the base, what is moved, what functions read, what stands in the cell
    for name in inputs:
        made += _odd(name, len(bases)) if isinstance(get(name), Entry) else []
        column = np.asarray(field.held[name]) if not isinstance(field.held[name], pd.Categorical) else np.empty(0, dtype=object)
        if column.dtype.kind != "f" and isinstance(get(name), Derived):
            own = _plain(mover.held[name])
            for other in rng.permutation(pd.unique(_plain(field.held[name])))[:_OTHERS]:
                made += [(int(at), name, other, other) for at in rng.permutation(np.flatnonzero(own != other))[:_KEPT]]
        if column.dtype.kind != "f" or not np.isfinite(column).any():
            continue
        least, most = float(np.min(column[np.isfinite(column)])), float(np.max(column[np.isfinite(column)]))
        if _whole(column):
            own = np.asarray(mover.held[name])
            for at in rng.permutation(np.flatnonzero(np.isfinite(own)))[: 2 * _KEPT]:
                near = {max(least, own[at] - 1), min(most, own[at] + 1)} - {own[at]}
                made += [(int(at), name, one, float(one)) for one in sorted(near)]
            continue
        own = np.asarray(mover.held[name], dtype=np.float64)
        there = [rng.choice(column[np.isfinite(column)], len(bases)), *(own * (1 + share) for share in _NEAR)]
        there += [np.full(len(bases), beyond) for beyond in (_BEYOND, -_BEYOND)]
        found = [one for partners in there for one in mover.edges(name, np.clip(partners, least, most))]
        for at in rng.permutation(len(found))[:_KEPT]:
            base, edge = found[at]
            near = {min(most, max(least, edge + sign * offset)) for offset in _OFFSETS for sign in (1, -1)}
            made += [(base, name, one, one) for one in sorted(near)]
    return _field_of(quantity, field, bases, inputs, made)


def _odd(name: str, bases: int) -> list[tuple[int, str, Any, Any]]:
    text = get(name).is_text
    odd = _ODD_CELLS[:2] if text else _ODD_CELLS
    return [(at, name, word if text else number, cell) for at in range(min(bases, _KEPT)) for cell, word, number in odd]


def _field_of(quantity: Derived, field: Field, bases: Any, inputs: Sequence[str], made: Sequence[tuple[int, str, Any, Any]]) -> Field:
    rows = bases[[base for base, *_rest in made]] if made else bases[:0]
    held, cells = dict(field.held), {}
    for name in inputs:
        column = _plain(_rows(field.held[name], rows)).copy()
        typed = [field.typed(name)[at] for at in rows] if isinstance(get(name), Entry) else []
        for place, (_base, moved, value, cell) in enumerate(made):
            if moved == name:
                column[place] = value
                if typed:
                    typed[place] = cell
        held[name] = categorical(column) if isinstance(field.held[name], pd.Categorical) else column
        cells[name] = typed
    shown = {**field.values, **{one: _shown(one, held[one]) for one in inputs}}
    answer = quantity.shown(quantity.compute(held, len(rows)))
    return Field(field.per, len(rows), shown, held, cells.__getitem__, {quantity.name: answer}, field.left_out)


def _shown(name: str, value: Any) -> Any:
    quantity = get(name)
    if isinstance(quantity, Derived):
        return quantity.shown(value)
    return np.asarray(value, dtype=object) if quantity.is_text else value
