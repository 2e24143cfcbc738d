"""Rounding, comparing and looking up as a spreadsheet does it.

Measured values carry floating-point noise, so worked-out values are compared only as a rounded difference against 0,
and a quotient is rounded before it becomes a whole count.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import pandas as pd

from sheetcalc.declare.quantity import Flag, Num, Text
from sheetcalc.units import coherent_magnitude


def rounded(value: Any, digits: float = 0) -> Any:
    """The plain number rounded half away from zero, as a sheet's ROUND does.

    The nudge by one part in 2^51 makes 1.005 round to 1.01: a sheet rounds the decimal that it shows, not the binary.
    """
    plain = coherent_magnitude(value)
    scale = 10.0**digits
    size = np.abs(plain) * scale
    return np.copysign(np.floor(size + size * 2.0**-51 + 0.5), plain) / scale


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
    codes, different = pd.factorize(np.asarray(texts, dtype=object), use_na_sentinel=False)
    found = [missing if text == "" else look_up(text) for text in different]
    return np.array(found, dtype=object if isinstance(missing, str) else np.float64)[codes]


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
    if isinstance(column, list) and all(isinstance(one, str) for one in column):
        padded: Any = np.array(["", *column], dtype=object)
    else:
        padded = np.concatenate([[np.nan], np.asarray(column, dtype=np.float64)])
    return padded[np.nan_to_num(row).astype(np.intp)]


def pick_in(row: Num, column: Num, block: Any) -> Any:
    """The entry of a block of a table in each row and column (from 1); NaN or "" where either is missing."""
    held = np.asarray(coherent_magnitude(block))
    texts = held.dtype == object
    padded = np.full((held.shape[0] + 1, held.shape[1] + 1), "" if texts else np.nan, dtype=held.dtype)
    padded[1:, 1:] = held
    missing = np.isnan(row) | np.isnan(column)
    return padded[np.where(missing, 0, row).astype(np.intp), np.where(missing, 0, column).astype(np.intp)]


def joined(*texts: Text) -> Text:
    """Sentences joined by single spaces, blanks left out; each different combination is joined once.

    After each column a combination is numbered anew, so that numbers stay small however many columns speak.
    """
    said: list[str] = [""]
    codes: Any = np.zeros(np.shape(texts[-1]), dtype=np.int64)
    for text in texts:
        column = np.asarray(text, dtype=object)
        speaking = np.flatnonzero(column != "")
        if not speaking.size:
            continue
        which, different = pd.factorize(column[speaking])
        sentences, base = ["", *different], len(different) + 1
        codes = codes * base
        codes[speaking] += which + 1
        codes, combinations = pd.factorize(codes)
        said = [f"{said[one // base]} {sentences[one % base]}".strip() for one in combinations.tolist()]
    out: Text = np.array(said, dtype=object)[codes]
    return out
