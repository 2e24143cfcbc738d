"""Gathering rows of one kind into rows of another, as a spreadsheet does it with MATCH, SMALL, SUMIF and COUNTIF."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from sheetcalc.declare.quantity import Num, Text


def first_with(keys: Text) -> Num:
    """The number (from 1) of the first row that holds the same text, whatever its case; NaN for a blank one."""
    lower = np.array([str(key).lower() for key in keys], dtype=object)
    codes, different = pd.factorize(lower)
    first = np.full(len(different), np.inf)
    np.minimum.at(first, codes, np.arange(1.0, len(codes) + 1))
    out: Num = np.where(lower == "", np.nan, first[codes]) if len(codes) else np.full(0, np.nan)
    return out


def smallest(column: Num, place: Any) -> Any:
    """The smallest, second smallest ... number of a column, by place from 1; NaN where there are not so many."""
    held = np.sort(column[~np.isnan(column)])
    wanted = np.asarray(place, dtype=np.float64)
    there = (wanted >= 1) & (wanted <= len(held))
    return np.where(there, np.append(held, np.nan)[np.where(there, wanted - 1, -1).astype(np.intp)], np.nan)


def sum_where(column: Num, wanted: Any, amounts: Num) -> Any:
    """For each wanted number the sum of the amounts beside it; blank amounts count as nothing."""
    known = ~np.isnan(column)
    totals = pd.Series(np.nan_to_num(amounts[known])).groupby(column[known]).sum()
    return totals.reindex(np.atleast_1d(wanted)).fillna(0.0).to_numpy()


def count_where(column: Num, wanted: Any) -> Any:
    """For each wanted number how often it stands in a column."""
    return sum_where(column, wanted, np.ones(len(column)))


def count_below(column: Num, limit: Any) -> Any:
    """For each limit how many numbers of a column are below it."""
    return np.searchsorted(np.sort(column[~np.isnan(column)]), np.asarray(limit, dtype=np.float64), side="left") * 1.0


def total(column: Num) -> float:
    """The sum of a column, blanks left out."""
    return float(np.nansum(column))


def counted(column: Num) -> float:
    """How many numbers stand in a column."""
    return float(np.sum(~np.isnan(column)))


def first_row_of(wanted: Text, column: Text) -> Any:
    """For each text the number (from 1) of the first row of a column that holds it, whatever the case; NaN for none or a blank."""
    rows: dict[str, float] = {}
    for row, key in enumerate(column, start=1):
        rows.setdefault(str(key).lower(), float(row))
    return np.array([rows.get(str(key).lower(), np.nan) if key != "" else np.nan for key in np.atleast_1d(wanted)])


def sum_below(column: Num, limit: Any, amounts: Num) -> Any:
    """For each limit the sum of the amounts beside the numbers of a column that are below it; blank amounts count as nothing."""
    known = ~np.isnan(column)
    rising = np.argsort(column[known], kind="stable")
    sums = np.concatenate([[0.0], np.cumsum(np.nan_to_num(amounts[known][rising]))])
    return sums[np.searchsorted(column[known][rising], np.asarray(limit, dtype=np.float64), side="left")]


def largest(column: Num) -> float:
    """The largest number of a column; 0 where it holds none, as in a sheet."""
    return float(np.max(column, initial=-np.inf, where=~np.isnan(column))) if counted(column) else 0.0
