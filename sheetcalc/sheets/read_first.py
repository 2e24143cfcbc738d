"""The sheet Read first: what the workbook is for, how to use it, cautions, version, and whether all checks pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sheetcalc.sheets import assumptions, self_check
from sheetcalc.sheets.common import CAUTIONS, VERSION, fingerprint, footer
from sheetcalc.sheets.layout import Cell, Mark, Sheet, Value

NAME: Final = "Read first"
_TOP: Final = 4


@dataclass(frozen=True)
class Line:
    """A line of the summary: what is counted, the live formula, the core's answer, and what it means."""

    label: str
    formula: str
    value: Value
    meaning: str
    #: The formula of the words OK / LOOK beside it is true where this holds of {cell}; "" for a bare count.
    wrong_when: str = ""


def checks() -> list[Line]:
    """The lines that every workbook has."""
    return [
        Line("Self-check lines that do not pass", self_check.fail_count(), 0.0,
             "Anything but 0: do not use this workbook, a formula or a program is at fault.", "{cell}>0"),
        Line("Assumptions out of range", assumptions.wrong_count(), 0.0, "Correct them on Assumptions.", "{cell}>0"),
        Line("Assumptions changed since issue", assumptions.changed_count(), 0.0,
             "Not wrong: the person who signs should know of each."),
    ]  # fmt: skip


def sheet(
    *, title: str, purpose: str, how: Sequence[str], extra: Sequence[Line], contents: Sequence[tuple[str, str]], edition: str
) -> Sheet:
    """The sheet, with the lines of the workbook's own kind before those that all have."""
    cells = [
        Cell(0, 1, title, "title"),
        Cell(1, 1, purpose, "text"),
        Cell(2, 1, f"{edition}   Version {VERSION}   Formula set {fingerprint()}", "subtitle"),
    ]
    heights, links = {1: 18.0}, {}
    row = _TOP
    cells.append(Cell(row, 1, "Are all checks passing?", "heading"))
    row += 1
    first_line = row
    lines = [*extra, *checks()]
    wrong: list[str] = []
    for line in lines:
        here = f"$C${row + 1}"
        cells += [Cell(row, 1, line.label, "label"), Cell(row, 2, line.value, "answer_count", line.formula)]
        if line.wrong_when:
            test = line.wrong_when.format(cell=here)
            wrong.append(test)
            bad = isinstance(line.value, float) and line.value > 0
            cells.append(Cell(row, 3, "LOOK" if bad else "OK", "answer_state", f'IF({test},"LOOK","OK")'))
        cells.append(Cell(row, 4, line.meaning, "quiet"))
        heights[row] = 26.0
        row += 1
    bad = any(line.wrong_when and isinstance(line.value, float) and line.value > 0 for line in lines)
    words = ('"LOOK: a check above speaks"', '"All checks pass"')
    cells += [
        Cell(row, 1, "All together", "label"),
        Cell(row, 2, (words[0] if bad else words[1]).strip('"'), "answer_text", f"IF(OR({','.join(wrong)}),{words[0]},{words[1]})"),
    ]
    last_line = row
    row += 2
    row = _list(cells, heights, row, "How to use it", how, 32.0)
    row = _list(cells, heights, row, "Before you touch a valve", CAUTIONS, 32.0)
    cells.append(Cell(row, 1, "What is where", "heading"))
    row += 1
    for name, what in contents:
        cells += [Cell(row, 1, name, "link"), Cell(row, 2, what, "text")]
        links[row, 1] = f"internal:'{name}'!A1"
        row += 1
    row += 1
    cells.append(Cell(row, 1, "Signed", "heading"))
    for offset, who in enumerate(("Prepared", "Checked", "Approved")):
        at = row + 1 + offset
        cells += [
            Cell(at, 0, "▸", "mark"), Cell(at, 1, f"{who} by", "label"), Cell(at, 2, "", "entry_text"),
            Cell(at, 3, "Date", "label"), Cell(at, 4, "", "entry_date"),
        ]  # fmt: skip
        heights[at] = 22.0
    return Sheet(
        NAME, tuple(cells), widths={0: 3, 1: 40, 2: 30, 3: 10, 4: 62}, heights=heights, landscape=True, links=links,
        marks=(
            Mark(first_line, 3, last_line, 3, f'$D{first_line + 1}="LOOK"', "warn"),
            Mark(last_line, 2, last_line, 2, f'LEFT($C${last_line + 1},4)="LOOK"', "warn"),
        ),
        footer=footer(title), fit_height=1,
    )  # fmt: skip


def _list(cells: list[Cell], heights: dict[int, float], row: int, head: str, texts: Sequence[str], height: float) -> int:
    """A heading and numbered lines under it; returns the row after them."""
    cells.append(Cell(row, 1, head, "heading"))
    for number, text in enumerate(texts, start=1):
        cells += [Cell(row + number, 0, f"{number}", "mark"), Cell(row + number, 1, text, "text")]
        heights[row + number] = 16.0 if len(text) < 130 else height  # noqa: PLR2004 - the width of the sheet
    return row + len(texts) + 2
