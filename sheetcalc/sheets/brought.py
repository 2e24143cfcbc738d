"""The sheets that say where a filled workbook comes from: the findings, and the list as it came."""

from __future__ import annotations

from sheetcalc.sheets.filled import Filled
from sheetcalc.sheets.front_page import FINDINGS, YOUR_LIST
from sheetcalc.sheets.layout import Cell, Sheet
from sheetcalc.sheets.register import Book, Purpose, register


def findings(filled: Filled) -> Sheet:
    """What was found in the list: place, value, words and remedy."""
    heads = ("Row of your list", "Tag", "Column", "What stands there", "Kind", "What is found", "What to do")
    cells = [
        Cell(0, 0, "Findings", "title"),
        Cell(1, 0, f"What was found in {filled.source} when this workbook was made. It stays so; the checks in Valves follow.", "subtitle"),
        *(Cell(3, column, head, "head") for column, head in enumerate(heads)),
    ]
    heights = {3: 30.0}
    for row, finding in enumerate(filled.findings, start=4):
        where = float(finding.row) if finding.row else ""
        said = (where, finding.tag, finding.column, finding.value, finding.kind, finding.said, finding.to_do)
        cells += [Cell(row, column, value, "label_wrap") for column, value in enumerate(said)]
        lines = ((finding.said, 56), (finding.to_do, 40), (finding.column, 24), (finding.value, 20), (finding.kind, 24))
        heights[row] = 14.0 * max(1, *(-(-len(text) // width) for text, width in lines))
    if not filled.findings:
        cells.append(Cell(4, 0, "None.", "text"))
    return Sheet(
        FINDINGS,
        tuple(cells),
        widths={0: 9, 1: 16, 2: 26, 3: 22, 4: 26, 5: 60, 6: 44},
        heights=heights,
        freeze=(4, 0),
        repeat_rows=(3, 3),
        footer=FINDINGS,
    )


def your_list(filled: Filled) -> Sheet:
    """The list as it came, so that nothing of it is lost."""
    cells = [
        Cell(0, 0, "Your list", "title"),
        Cell(1, 0, f"{filled.source} as it came, cell by cell, as text. Column A is the row there.", "subtitle"),
    ]
    widest = 0
    for number, line in enumerate(filled.verbatim, start=1):
        cells.append(Cell(number + 2, 0, float(number), "number"))
        widest = max(widest, len(line))
        texts = ("" if value is None else str(value)[:32000] for value in line)
        cells += [Cell(number + 2, place, text, "carried") for place, text in enumerate(texts, start=1)]
    return Sheet(
        YOUR_LIST,
        tuple(cells),
        widths={0: 7} | dict.fromkeys(range(1, widest + 1), 16.0),
        freeze=(3, 1),
        footer=YOUR_LIST,
    )


register(
    Book.LIST,
    FINDINGS,
    20,
    Purpose.WORK,
    "what was found in the list, with place, value and remedy",
    lambda book: findings(book.filled),
    when=lambda book: bool(book.filled.source),
)
register(
    Book.LIST,
    YOUR_LIST,
    30,
    Purpose.WORK,
    "the list as it came, cell by cell",
    lambda book: your_list(book.filled),
    when=lambda book: bool(book.filled.source),
)
