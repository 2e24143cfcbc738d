"""Rounding, comparing and looking up as a spreadsheet does it.

Measured values carry floating-point noise, so worked-out values are compared only as a rounded difference against 0,
and a quotient is rounded before it becomes a whole count.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from typing import Any, Final

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sheetcalc.declare.quantity import Flag, Formula, Num, Text, categorical, get
from sheetcalc.units import coherent_magnitude


def rounded(value: Any, digits: float = 0) -> Any:
    """The plain number rounded half away from zero, as a sheet's ROUND does.

    The nudge by one part in 2^51 makes 1.005 round to 1.01: a sheet rounds the decimal that it shows, not the binary.
    """
    plain = coherent_magnitude(value)
    scale = 10.0**digits
    size = np.abs(plain) * scale
    return np.copysign(np.floor(size + size * 2.0**-51 + 0.5), plain) / scale


def a_share(figures: Any) -> Any:
    """The figures from 0 to below 1, blank in the place of others."""
    return np.where((figures >= 0) & (figures < 1), figures, np.nan)


def above_zero(difference: Any, digits: float) -> Flag:
    """Whether a difference of worked-out values is above 0 beyond noise."""
    out: Flag = rounded(difference, digits) > 0
    return out


def at_least_zero(difference: Any, digits: float) -> Flag:
    """Whether a difference of worked-out values is 0 or more, noise aside."""
    out: Flag = rounded(difference, digits) >= 0
    return out


def whole(quotient: Any, digits: float) -> Num:
    """The whole number below a quotient that has been freed of noise."""
    out: Num = np.floor(rounded(quotient, digits))
    return out


def whole_up(quotient: Any, digits: float) -> Num:
    """The whole number at or above a quotient that has been freed of noise."""
    out: Num = np.ceil(rounded(quotient, digits))
    return out


def each_text(texts: Text, look_up: Callable[[object], Any], missing: Any) -> Any:
    """`look_up` done once for each different text, whatever the length of the list; blank texts give `missing`."""
    held = categorical(texts)
    found = [missing if text == "" else look_up(text) for text in held.categories]
    return np.array(found, dtype=object if isinstance(missing, str) else np.float64)[held.codes]


def word(place: Any, words: Sequence[str]) -> Text:
    """Of a few texts the one at each place, from 0."""
    return _placed(place, *_different(tuple(words)))


def _placed(place: Any, kinds: pd.CategoricalDtype, number: NDArray[np.signedinteger[Any]]) -> Text:
    return pd.Categorical.from_codes(number[np.asarray(place, dtype=np.intp)], dtype=kinds, validate=False)


def _numbered(words: Sequence[str]) -> tuple[pd.CategoricalDtype, NDArray[np.signedinteger[Any]]]:
    """The different ones of some texts, and which of them each is."""
    number = {one: place for place, one in enumerate(dict.fromkeys(words))}
    small = np.min_scalar_type(-len(words))
    return pd.CategoricalDtype(pd.Index(list(number), dtype=object)), np.array([number[one] for one in words], dtype=small)


#: The same, kept for the next time: the columns of tables and the words of formulas come again and again.
_different: Final = lru_cache(maxsize=500)(_numbered)


def either(condition: Any, one: Any, other: Any) -> Text:
    """Of each row one text or the other; both a text for all rows, or a column."""
    first, second = (word(0, [held]) if isinstance(held, str) else categorical(held) for held in (one, other))
    words = (*first.categories, *second.categories)
    return word(np.where(condition, first.codes, np.asarray(second.codes, dtype=np.intp) + len(first.categories)), words)


def row_ignoring_case(texts: Text, keys: Sequence[str]) -> Num:
    """The row (from 1) of each text among the keys whatever its case, the first of equal ones; NaN when it is none of them."""
    rows: dict[str, int] = {}
    for row, key in enumerate(keys, start=1):
        rows.setdefault(key.lower(), row)
    out: Num = each_text(texts, lambda text: rows.get(text.lower(), np.nan) if isinstance(text, str) else np.nan, np.nan)
    return out


def row_exact(texts: Text, keys: Sequence[str]) -> Num:
    """The row (from 1) of each text among the keys, letter for letter; NaN when it is none of them."""
    rows = {key: row for row, key in enumerate(keys, start=1)}
    out: Num = each_text(texts, lambda text: rows.get(text, np.nan) if isinstance(text, str) else np.nan, np.nan)
    return out


def pick(row: Num, column: Sequence[Any] | Num) -> Any:
    """The entry of a column in each row (from 1); NaN, or "" for a column of texts, where the row is missing."""
    place = np.nan_to_num(row).astype(np.intp)
    if isinstance(column, list) and all(isinstance(one, str) for one in column):
        return word(place, ("", *column))
    return np.concatenate([[np.nan], np.asarray(column, dtype=np.float64)])[place]


def pick_in(row: Num, column: Num, block: Any) -> Any:
    """The entry of a block of a table in each row and column (from 1); NaN or "" where either is missing."""
    held = np.asarray(coherent_magnitude(block))
    missing = np.isnan(row) | np.isnan(column)
    place = np.where(missing, 0, (row - 1) * held.shape[1] + column).astype(np.intp)
    if held.dtype == object:
        return word(place, ("", *held.ravel()))
    return np.concatenate([[np.nan], held.ravel()])[place]


def together(first: Text, between: str, second: Text) -> Text:
    """Two texts of each row made into one."""
    one, other = categorical(first), categorical(second)
    words = [f"{a}{between}{b}" for a in one.categories for b in other.categories]
    return _placed(np.asarray(one.codes, dtype=np.intp) * len(other.categories) + other.codes, *_numbered(words))


#: So many combinations of sentences have a number each; beyond, they are numbered anew.
_MOST_COMBINATIONS: Final = 2**62


def joined(*columns: Any, said: Sequence[str] = ()) -> Text:
    """Sentences joined by single spaces, blanks left out; each different combination is joined once.

    A column is of texts, or of booleans that say where its sentence in `said` is spoken.
    """
    codes: Any = np.zeros(np.shape(columns[-1]), dtype=np.int64)
    combinations, size = [""], 1
    pending: list[Sequence[str]] = []
    for place, column in enumerate(columns):
        if isinstance(column, np.ndarray) and column.dtype.kind == "b":
            which, sentences = column, ("", said[place])
        else:
            held = categorical(column)
            which, sentences = held.codes, tuple(held.categories)
        if not any(sentences) or (sentences[0] == "" and not np.any(which)):
            continue  # none speaks
        if size > _MOST_COMBINATIONS // len(sentences):
            codes, combinations = _spelt(codes, combinations, pending)
            pending, size = [], len(combinations)
        codes = codes * len(sentences) + which
        pending.append(sentences)
        size *= len(sentences)
    codes, combinations = _spelt(codes, combinations, pending)
    return _placed(codes, *_numbered(combinations))


def _spelt(codes: Any, combinations: Sequence[str], pending: Sequence[Sequence[str]]) -> tuple[Any, list[str]]:
    """Combinations numbered from 0 in the order in which they are met, and each in words."""
    codes, different = pd.factorize(codes)
    out = []
    for number in different.tolist():
        parts: list[str] = []
        rest = number
        for sentences in reversed(pending):
            rest, place = divmod(rest, len(sentences))
            parts.append(sentences[place])
        out.append(" ".join(filter(None, (combinations[rest], *reversed(parts)))))
    return codes, out


def said_of(names: Sequence[str]) -> Formula:
    """What the named faults and texts say, joined."""

    @cache
    def said() -> tuple[str, ...]:
        return tuple(getattr(get(name), "words", "") for name in names)  # some are declared later

    excel = f"""TRIM({'&" "&'.join(f"{{{name}}}" for name in names)})"""
    return Formula(reads=tuple(names), excel=excel, function=lambda *columns: joined(*columns, said=said()))
