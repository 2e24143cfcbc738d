"""A list of valves as it was understood."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from sheetcalc.findings import Finding


@dataclass(frozen=True)
class Column:
    """What one column was understood as.

    `letter` is its place as a spreadsheet names it, `header` the header as written. `entries` are names of
    ENTRY_COLUMNS: none for a column that is carried along, two for one that holds two. `unit` is what header, row of
    units or heading say, "" where each row or cell says it. `sure` is plain, weak, mapped or unknown. `first` are the
    first values as they were read, with the unit of their row.
    """

    letter: str
    header: str
    entries: tuple[str, ...]
    unit: str
    sure: str
    first: tuple[str, ...]


@dataclass(frozen=True)
class ValveList:
    """A list as it was understood.

    `source` is the file's name without its folder. `frame` has one row a valve and exactly ENTRY_COLUMNS, all of dtype
    object, with a RangeIndex: text entries are str ("" for blank), number entries a float in the unit of the row's unit
    set (such as mm or in, bar or psi), NaN for blank, or the user's own text where that is no number. `rows` is the row of each valve in
    the file, from 1; a line break inside quotes starts no row, as in a spreadsheet. `carried` holds the columns that
    are not understood: final header to cells, as they were, one a valve. `verbatim` is every cell of the source, row by
    row. `understood` maps their header to the entry column. `sheet` is the name of the sheet, "" for a text file;
    `header_rows` are the first and the last row of the header, from 1; `columns` says of each column what it was taken
    for.
    """

    source: str
    frame: pd.DataFrame
    rows: tuple[int, ...]
    carried: dict[str, list[object]]
    verbatim: tuple[tuple[object, ...], ...]
    understood: dict[str, str]
    findings: tuple[Finding, ...]
    sheet: str = ""
    header_rows: tuple[int, int] = (1, 1)
    columns: tuple[Column, ...] = ()
