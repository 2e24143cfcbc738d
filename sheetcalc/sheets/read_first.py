"""The sheet Read first: what the workbook is for, how to use it, cautions, version, and whether all checks pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sheetcalc.calculations.answers import Answers
from sheetcalc.sheets import assumptions, self_check
from sheetcalc.sheets.common import CAUTIONS
from sheetcalc.sheets.edition import Edition, answers_of, issue_of
from sheetcalc.sheets.layout import Cell, Mark, Sheet, Value

NAME: Final = "Read first"
_TOP: Final = 4
#: The last column of the sheet, and how many characters stand across it.
_LAST: Final = 4
_ACROSS: Final = 150
_Merge = tuple[int, int, int, int]


@dataclass(frozen=True)
class Line:
    """A line of the summary: what is counted, the live formula, the core's answer, and what it means."""

    label: str
    formula: str
    value: Value
    meaning: str
    #: The formula of the words OK / LOOK beside it is true where this holds of {cell}; "" for a bare count.
    wrong_when: str = ""

    @property
    def is_wrong(self) -> bool:
        """Whether the core's answer asks to be looked at: a count above 0, or words other than OK."""
        if not self.wrong_when:
            return False
        return not self.value.startswith("OK") if isinstance(self.value, str) else bool(self.value)


def checks(answers: Answers, *, self_checked: bool) -> list[Line]:
    """The lines that every workbook has, and that of Self-check where there is one."""
    checked = Line(
        "Self-check lines that do not pass",
        self_check.fail_count(answers),
        0.0,
        "Anything but 0: do not use this workbook, a formula or a program is at fault.",
        "{cell}>0",
    )
    return [
        *([checked] if self_checked else []),
        Line("Assumptions out of range", assumptions.wrong_count(answers), 0.0, "Correct them on Assumptions.", "{cell}>0"),
        Line(
            "Assumptions changed since issue",
            assumptions.changed_count(answers),
            0.0,
            "Not wrong: the person who signs should know of each.",
        ),
    ]


def sheet(
    *,
    title: str,
    purpose: str,
    how: Sequence[str],
    extra: Sequence[Line],
    contents: Sequence[tuple[str, str]],
    edition: Edition,
    worst: Sequence[Sequence[tuple[str, Value]]] = (),
    heading: tuple[str, Value] | None = None,
    self_checked: bool = True,
) -> Sheet:
    """The sheet, with the lines of the workbook's own kind before those that all have.

    `worst` are the rows of what is in trouble: formula and answer of tag, state and words; `heading` those of a name beside the title.
    """
    cells = [
        Cell(0, 1, title, "title"),
        Cell(1, 1, purpose, "wrap"),
        Cell(2, 1, issue_of(edition), "subtitle"),
        Cell(3, 1, answers_of(edition), "quiet_line"),
    ]
    if heading is not None:
        cells.append(Cell(0, 4, heading[1], "title", heading[0]))
    heights: dict[int, float] = {1: 14.0 * -(-len(purpose) // _ACROSS)}
    merges: list[_Merge] = [(1, 1, 1, _LAST)]
    links: dict[tuple[int, int], str] = {}
    row = _TOP
    cells.append(Cell(row, 1, "Are all checks passing?", "heading"))
    row += 1
    first_line = row
    lines = [*extra, *checks(edition.answers, self_checked=self_checked)]
    wrong: list[str] = []
    for line in lines:
        here = f"$C${row + 1}"
        look = "answer_wrap" if isinstance(line.value, str) else "answer_count"
        cells += [Cell(row, 1, line.label, "label"), Cell(row, 2, line.value, look, line.formula)]
        if line.wrong_when:
            test = line.wrong_when.format(cell=here)
            wrong.append(test)
            cells.append(Cell(row, 3, "LOOK" if line.is_wrong else "OK", "answer_state", f'IF({test},"LOOK","OK")'))
        cells.append(Cell(row, 4, line.meaning, "quiet"))
        heights[row] = 14.0 * max(-(-len(line.meaning) // 72), -(-len(str(line.value)) // 30))
        row += 1
    bad = any(line.is_wrong for line in lines)
    words = ('"LOOK: see the finding above"', '"All checks pass"')
    cells += [
        Cell(row, 1, "All together", "label"),
        Cell(row, 2, (words[0] if bad else words[1]).strip('"'), "answer_text", f"IF(OR({','.join(wrong)}),{words[0]},{words[1]})"),
    ]
    last_line = row
    row += 2
    if worst:
        row = _worst(cells, heights, row, worst)
    row = _list(cells, heights, row, "How to use it", how, merges)
    row = _list(cells, heights, row, "Before you touch a valve", CAUTIONS, merges)
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
            Cell(at, 0, "▸", "mark"),
            Cell(at, 1, f"{who} by", "label"),
            Cell(at, 2, "", "entry_text"),
            Cell(at, 3, "Date", "label"),
            Cell(at, 4, "", "entry_date"),
        ]
        heights[at] = 22.0
    return Sheet(
        NAME,
        tuple(cells),
        widths={0: 3, 1: 40, 2: 30, 3: 10, 4: 62},
        heights=heights,
        landscape=True,
        links=links,
        marks=(
            Mark(first_line, 3, last_line, 3, f'$D{first_line + 1}="LOOK"', "warn"),
            Mark(last_line, 2, last_line, 2, f'LEFT($C${last_line + 1},4)="LOOK"', "warn"),
        ),
        footer=title,
        print_area=(0, 0, row + 3, _LAST),
        merges=tuple(merges),
    )


def _worst(cells: list[Cell], heights: dict[int, float], row: int, worst: Sequence[Sequence[tuple[str, Value]]]) -> int:
    """The valves in trouble, the worst first; returns the row after them."""
    cells.append(Cell(row, 1, f"The first {len(worst)} in trouble, the worst first", "heading"))
    for number, (tag, state, words) in enumerate(worst, start=1):
        cells += [
            Cell(row + number, 0, f"{number}", "mark"),
            Cell(row + number, 1, tag[1], "answer_text", tag[0]),
            Cell(row + number, 2, state[1], "answer_text", state[0]),
            Cell(row + number, 3, "", "label"),
            Cell(row + number, 4, words[1], "answer_wrap", words[0]),
        ]
        heights[row + number] = 14.0 * max(1, -(-len(str(words[1] or "")) // 62))
    return row + len(worst) + 2


def _list(cells: list[Cell], heights: dict[int, float], row: int, head: str, texts: Sequence[str], merges: list[_Merge]) -> int:
    """A heading and numbered lines under it, each across the sheet; returns the row after them."""
    cells.append(Cell(row, 1, head, "heading"))
    for number, text in enumerate(texts, start=1):
        cells += [Cell(row + number, 0, f"{number}", "mark"), Cell(row + number, 1, text, "wrap")]
        merges.append((row + number, 1, row + number, _LAST))
        heights[row + number] = 14.0 * -(-len(text) // _ACROSS)
    return row + len(texts) + 2
