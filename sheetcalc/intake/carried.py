"""What became of the columns of a list: which are carried along, and what each was taken for."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from openpyxl.utils import get_column_letter

from sheetcalc.findings import Finding, RenamedHeader
from sheetcalc.intake.cells import is_blank, plain
from sheetcalc.intake.columns import Columns
from sheetcalc.intake.entries import DIMENSIONS, TEXT_COLUMNS
from sheetcalc.intake.files import Cells
from sheetcalc.intake.headers import Header
from sheetcalc.intake.valve_list import Column
from sheetcalc.intake.valve_rows import Row
from sheetcalc.units import UNIT_SETS, shown

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

#: The longest header that a table can have.
_LONGEST_HEADER: Final = 255
#: What cannot stand in the header of a table that formulas refer to.
_UNFIT: Final = str.maketrans({"[": "(", "]": ")", "#": " ", "'": " ", "@": " "})
#: How many first values a look shows.
_FIRST_VALUES: Final = 3


def carry(
    cells: Cells,
    columns: Columns,
    rows: Sequence[Row],
    reserved: Collection[str],
) -> tuple[dict[str, list[object]], list[Finding]]:
    """The columns that are not understood, under headers that a table can have."""
    blank: object = "" if cells.is_text else None
    understood = set(columns.places.values())
    width = max([len(columns.headers), *(len(row.cells) for row in rows)])
    taken = {name.casefold() for name in reserved}
    carried: dict[str, list[object]] = {}
    findings: list[Finding] = []
    for at in range(width):
        if at in understood:
            continue
        own = columns.headers[at].text if at < len(columns.headers) else ""
        column = [blank if (cell := row.cell(at)) is None else cell for row in rows]
        if not own and all(is_blank(cell) for cell in column):
            continue
        name = free_name(own, f"Column {get_column_letter(at + 1)}", taken)
        taken.add(name.casefold())
        carried[name] = column
        if name != own:
            findings.append(RenamedHeader(column=own, value=name))
    return carried, findings


def free_name(own: str, otherwise: str, taken: Collection[str]) -> str:
    """A header that a table can have and that no other column has, as near to the user's own as can be."""
    fit = "".join(c if c.isprintable() else " " for c in own.translate(_UNFIT))
    fit = " ".join(fit.split())[:_LONGEST_HEADER].strip() or otherwise
    name, count = fit, 1
    while name.casefold() in taken:
        count += 1
        more = f" ({count})"
        name = fit[: _LONGEST_HEADER - len(more)].rstrip() + more
    return name


def looked_at(columns: Columns, rows: Sequence[Row], table: Mapping[str, Sequence[object]]) -> tuple[Column, ...]:
    """Every column of the list with what it was taken for, and its first values."""
    entries: dict[int, list[str]] = {}
    for name, at in columns.places.items():
        entries.setdefault(at, []).append(name)
    out = []
    for at in range(max([len(columns.headers), *(len(row.cells) for row in rows)])):
        head = columns.headers[at] if at < len(columns.headers) else Header("")
        names = tuple(entries.get(at, ()))
        if names:
            sets = table["unit_set"]
            first = [", ".join(_as_read(table[name][place], name, sets[place]) for name in names) for place in range(len(rows))]
        else:
            first = [plain(row.cell(at)) for row in rows]
        told = tuple(one for one in first if one.strip(", "))[:_FIRST_VALUES]
        if head.text or told:
            sure = head.sure if names or head.mapped else "unknown"
            out.append(Column(get_column_letter(at + 1), head.text, names, columns.units.get(at, ""), sure, told))
    return tuple(out)


def _as_read(value: object, name: str, unit_set: object) -> str:
    """One value as it was read: a number with the unit of its row, or a text in quotes where a number is wanted."""
    if isinstance(value, float):
        if math.isnan(value):
            return ""
        unit = UNIT_SETS.get(str(unit_set), {}).get(DIMENSIONS.get(name, ""), "")
        return f"{value:.6g} {shown(unit)}".strip()
    return repr(value) if name not in TEXT_COLUMNS and value != "" else str(value)
