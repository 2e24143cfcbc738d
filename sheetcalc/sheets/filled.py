"""What a workbook of a list is filled in with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from sheetcalc.findings import Finding
from sheetcalc.sheets.layout import Value


@dataclass(frozen=True)
class Filled:
    """A list to be filled in: entries as the core reads them, what is carried along, findings, and the list as it came."""

    entries: pd.DataFrame
    source: str = ""
    carried: Mapping[str, Sequence[object]] = field(default_factory=dict)
    findings: Sequence[Finding] = ()
    verbatim: Sequence[Sequence[object]] = ()
    #: What is typed for the outage as a whole, and its rows of Stores and of the log, by entry.
    outage: Mapping[str, Value] = field(default_factory=dict)
    stores: pd.DataFrame = field(default_factory=pd.DataFrame)
    log: pd.DataFrame = field(default_factory=pd.DataFrame)


def as_typed(column: pd.Series[Any]) -> list[Value]:
    """Entries as a sheet holds them: numbers, texts, or blank."""
    blank = column.isna() | (column == "")
    return ["" if empty else one if isinstance(one, str) else float(one) for one, empty in zip(column.tolist(), blank, strict=True)]
