"""Which rows of a list are valves: totals, notes and headings between them are passed over, each with a finding."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from sheetcalc.findings import ExtraCells, Finding, NotAValve, RepeatedHeaderRow
from sheetcalc.intake.cells import plain, says_not_given, says_nothing
from sheetcalc.intake.columns import Columns
from sheetcalc.intake.entries import FLANGE_COLUMNS, FREE_TEXT_COLUMNS, PLAN_COLUMNS, TEXT_COLUMNS
from sheetcalc.intake.files import Cells
from sheetcalc.intake.guesses import NoteRow, TagOnly, TotalsRow
from sheetcalc.intake.header_rows import Found
from sheetcalc.intake.values import read_value

if TYPE_CHECKING:
    from collections.abc import Sequence

#: What stands at the head of a row that adds up others.
_TOTALS: Final = re.compile(
    r"(?:(?:grand|sub|overall)[\s-]*)?(?:totals?|sum|average|avg\.?|mean|count|summe|gesamt|insgesamt|totaux|suma)"
    r"(?:\s+(?:of\s+)?(?:valves?|rows?|all|area|unit|page|rings?|weights?|mass|(?:man[\s-]?|labou?r\s)?hours|gaskets?|studs?|crews?|days?))?\s*[:=]?\s*\d*(?:\s*(?:valves?|no\.?|off|pcs))?",
    re.IGNORECASE,
)
#: How a note begins, or a line of signatures below a table.
_NOTE: Final = re.compile(
    r"(?:notes?|n\.?b|remarks?|legend|key|abbreviations?|comments?|source|prepared|checked|approved|issued|signed|revision|rev|page|"
    r"end of|see|dimensions|all dimensions|all sizes|attention|caution|bemerkung|remarque|nota)(?:\b.*)?|[*†‡§].*|\(?\d{1,2}[).]\s.*",
    re.IGNORECASE | re.DOTALL,
)
#: A text of more words or letters is no tag.
_MOST_TAG_WORDS: Final = 4
_LONGEST_TAG: Final = 40


@dataclass
class Row:
    """One valve being read: its cells, and what was found out about them."""

    number: int
    cells: Sequence[object]
    tag: str = ""
    findings: list[Finding] = field(default_factory=list)

    def cell(self, place: int | None) -> object:
        """The cell at a place, None beyond the row's end."""
        return self.cells[place] if place is not None and place < len(self.cells) else None

    def find(self, kind: type[Finding], column: str = "", value: str = "") -> None:
        """Add a finding of this row."""
        self.findings.append(kind(row=self.number, column=column, value=value, tag=self.tag))


def valve_rows(cells: Cells, columns: Columns, found: Found) -> tuple[list[Row], list[Finding]]:
    """The rows that are valves, and findings about those that are not and yet hold something."""
    tells = [at for name, at in columns.places.items() if name not in {"unit_set", *FREE_TEXT_COLUMNS, *PLAN_COLUMNS, *FLANGE_COLUMNS}]
    repeats = {tuple(map(plain, line)) for line in cells.rows[found.at : found.at + found.lines]}
    width = max(len(line) for line in cells.rows[found.at : found.at + found.lines])
    rows: list[Row] = []
    findings: list[Finding] = []
    after_gap = False
    for at in range(columns.first_row, len(cells.rows)):
        row = Row(at + 1, cells.rows[at])
        texts = tuple(map(plain, row.cells))
        said = ", ".join(text for text in texts if text)
        if not said:
            after_gap = bool(rows)
            continue
        if not any(not says_nothing(row.cell(place)) for place in tells):
            findings.append(_remark(row, said))
        elif texts in repeats:
            findings.append(RepeatedHeaderRow(row=row.number))
        elif _is_total(row, columns, rows):
            findings.append(TotalsRow(row=row.number, value=said))
        elif _is_note(row, columns, after_gap=after_gap):
            findings.append(NoteRow(row=row.number, value=said))
        else:
            rows.append(row)
            after_gap = False
            extra = [text for text in texts[width:] if text]
            if cells.is_text and extra:
                row.find(ExtraCells, value=", ".join(extra))
            tag = columns.places.get("tag")
            if tag is not None and [text for text in texts if text] == [plain(row.cell(tag))]:
                row.find(TagOnly, columns.headers[tag].text, plain(row.cell(tag)))
    return rows, findings


def _remark(row: Row, said: str) -> Finding:
    """What is to be said of a row with nothing under a header that makes a valve."""
    adds_up = any(map(_names_total, row.cells)) and any(_number(row, at) is not None for at in range(len(row.cells)))
    return (TotalsRow if adds_up else NotAValve)(row=row.number, value=said)


def _names_total(cell: object) -> bool:
    """Whether a cell says that its row adds up others."""
    return isinstance(cell, str) and _TOTALS.fullmatch(plain(cell)) is not None


def _number(row: Row, place: int) -> float | None:
    """The number at a place, however it is typed; None for any other cell."""
    return read_value(row.cell(place)).number


def _is_total(row: Row, columns: Columns, above: Sequence[Row]) -> bool:
    """Whether a row adds up those above: it says so where its tag would be or in a cell without one, or its numbers do."""
    tag = row.cell(columns.places.get("tag"))
    if _names_total(tag):
        return True
    if not says_nothing(tag):
        return False
    if any(map(_names_total, row.cells)):
        return True
    # A row without a tag and a word, in which two numbers or more are the sums of their columns.
    filled = [at for at, cell in enumerate(row.cells) if not says_nothing(cell)]
    numbers = {at: number for at in filled if (number := _number(row, at)) is not None}
    if "tag" not in columns.places or len(numbers) < len(filled) or len(numbers) < 2:  # noqa: PLR2004 - more than chance
        return False
    parts = {at: [part for one in above if (part := _number(one, at))] for at in numbers}
    # The sum of one number is that number: a second valve of the same size is no total.
    return all(len(parts[at]) > 1 and math.isclose(number, math.fsum(parts[at]), rel_tol=1e-9) for at, number in numbers.items())


def _is_note(row: Row, columns: Columns, *, after_gap: bool) -> bool:
    """Whether a row with a text where its tag would be is a note or a heading.

    A row with a number under a measurement never is. In the table itself a row is a note where nothing but that text
    stands in it and it reads like one, or has no figure as nearly every tag has. Below a gap other texts may stand
    beside it, such as a name beside "Checked by".
    """
    place = columns.places.get("tag")
    if place is None:
        return False
    measured = {at for name, at in columns.places.items() if name not in TEXT_COLUMNS + PLAN_COLUMNS}
    if any(_number(row, at) is not None for at in measured):
        return False
    tag = plain(row.cell(place))
    if not tag:
        return False
    others = [at for at in range(len(row.cells)) if at != place and not says_nothing(row.cell(at))]
    reads_like_one = len(tag) > _LONGEST_TAG or len(tag.split()) > _MOST_TAG_WORDS or _NOTE.fullmatch(tag) is not None
    # Who writes n/a under a measurement speaks of a valve.
    speaks_of_a_valve = any(at in measured and says_not_given(row.cell(at), number=True) for at in others)
    alone = not others or (after_gap and not speaks_of_a_valve)
    return alone and (reads_like_one or not re.search(r"\d", tag))
