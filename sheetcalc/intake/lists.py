"""A valve list in: one tidy row a valve, and a finding for everything that was not plain.

Which unit a measurement is in is said by the first of these that speaks: the cell, a row of units below the header, the
header, the row's unit set. Which unit set a row has is said by its unit set cell, else by the units of its lengths
where they are all of one kind, else by the unit of its stem diameter. It is never assumed. Pressures and the like say
nothing of it: a valve in mm may well stand in a line in psi.

Rows that add up others, notes and headings between the valves are passed over, each with a finding. What the user says
of a header with a map goes before what its words say.
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pandas as pd

from sheetcalc.errors import ListError, TooManyRowsError
from sheetcalc.intake import header_rows, maps
from sheetcalc.intake.carried import carry, looked_at
from sheetcalc.intake.columns import check_map, columns_of
from sheetcalc.intake.entries import CARRY, ENTRY_COLUMNS, PLAN_COLUMNS
from sheetcalc.intake.files import HEADER_ROWS, no_header, read_cells
from sheetcalc.intake.headers import fold
from sheetcalc.intake.row_entries import check_tag, doubt_units, read_row
from sheetcalc.intake.sizes import only_dn
from sheetcalc.intake.valve_list import Column, ValveList
from sheetcalc.intake.valve_rows import valve_rows

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

__all__ = ["ENTRY_COLUMNS", "PLAN_COLUMNS", "Column", "ValveList", "read_list"]


def read_list(
    path: Path,
    *,
    sheet: str | None = None,
    most_rows: int | None = None,
    reserved: Collection[str] = (),
    mapped: Mapping[str, str] | None = None,
    wanted: Mapping[str, str] | None = None,
) -> ValveList:
    """Read a valve list, however it was typed.

    Args:
        path: a CSV or Excel file.
        sheet: the name of its sheet; None for the one that fits best.
        most_rows: the most valves that the list may have; None for any number.
        reserved: headers that the workbook uses itself, so that no carried column may have them.
        mapped: what headers mean, from a map file: header as written, to an entry (with or without `_entered`) or
            "carry". A header that the list lacks is a finding.
        wanted: the same, asked for outright: it goes before `mapped`, and a header that the list lacks is an error.

    Returns:
        The valves, what is carried along, and the findings in the order of the file.

    Raises:
        ListError: the list cannot be read at all, or a map names what is not there; the sentence says what to do.
        TooManyRowsError: it has more valves than `most_rows`; the sentence says how to split it.
    """
    path = Path(path)
    asked = maps.checked(wanted or {})
    # What is asked for outright takes an entry from the map of a file.
    kept = {text: entry for text, entry in maps.checked(mapped or {}).items() if entry == CARRY or entry not in asked.values()}
    folded = {fold(text): entry for text, entry in (kept | asked).items()}
    cells = read_cells(path, sheet, folded)
    found = header_rows.find(cells.rows[:HEADER_ROWS], folded, cells.merged)
    if found is None:
        raise ListError(no_header(path.name))
    map_findings = check_map(cells, found, mapped or {}, wanted or {}, path.name)
    columns, findings = columns_of(cells.rows, found)
    rows, row_findings = valve_rows(cells, columns, found)
    columns = replace(columns, bare_dn=any(only_dn(row.cell(columns.places.get("flange_size"))) for row in rows))
    _refuse_too_many(len(rows), most_rows, path.name)
    carried, carried_findings = carry(cells, columns, rows, reserved)
    findings = [*cells.findings, *map_findings, *findings, *carried_findings]

    places = columns.places
    table: dict[str, list[object]] = {name: [] for name in ENTRY_COLUMNS}
    seen: set[str] = set()
    for row in rows:
        read_row(row, columns, cells, table)
        check_tag(row, columns, seen)
    doubt_units(rows, columns, table)
    for row in rows:
        row_findings.extend(row.findings)
    # A stable sort: the findings of one row stay in the order in which they were made.
    row_findings.sort(key=lambda finding: finding.row or 0)
    return ValveList(
        source=path.name,
        frame=pd.DataFrame({name: pd.Series(column, dtype=object) for name, column in table.items()}),
        rows=tuple(row.number for row in rows),
        carried=carried,
        verbatim=cells.rows,
        understood={columns.headers[at].text: name for at, name in sorted((at, name) for name, at in places.items())},
        findings=(*findings, *row_findings),
        sheet=cells.sheet,
        header_rows=(found.at + 1, found.at + found.lines),
        columns=looked_at(columns, rows, table),
    )


def _refuse_too_many(count: int, most_rows: int | None, name: str) -> None:
    """Raise where a list has more valves than a workbook is meant for."""
    if most_rows is None or count <= most_rows:
        return
    files = math.ceil(count / max(most_rows, 1))
    message = (
        f"{name} has {count:,} valves and a workbook takes {most_rows:,}: split it into {files} files of at most {most_rows:,} rows each."
    )
    raise TooManyRowsError(message)
