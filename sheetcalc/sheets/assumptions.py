"""The sheet Assumptions: every constant with unit, range, source and grade; issued, current, changed."""

from __future__ import annotations

from collections.abc import Mapping

from sheetcalc.calculations.answers import Answers
from sheetcalc.calculations.run import issued_assumptions
from sheetcalc.declare.quantity import Constant, Entry, all_quantities, get
from sheetcalc.sheets.common import unit_shown
from sheetcalc.sheets.layout import Cell, Mark, Sheet, Validation, address, block
from sheetcalc.sheets.register import Book, Purpose, register

NAME = "Assumptions"
_FIRST = 5
_HEADS = (
    "",
    "Constant",
    "Name in formulas",
    "Current",
    "Unit",
    "Issued",
    "Changed?",
    "Low",
    "High",
    "In range?",
    "What it is",
    "Source",
    "Grade",
)
_CURRENT, _ISSUED, _CHANGED, _LOW, _HIGH, _RANGE = 3, 5, 6, 7, 8, 9


def _choices(quantity: Constant) -> str:
    """The table column that a text constant is chosen from: that of the entry for which it stands in, or its namesake.

    "" for one that may be any text.
    """
    readers = [read for one in all_quantities() if quantity.name in one.reads for read in one.reads if read != quantity.name]
    namesake = [one.name for one in all_quantities() if one.name == f"{quantity.name.removesuffix('_usual')}_entered"]
    held = (get(name) for name in (*readers, *namesake))
    return next((one.choices for one in held if isinstance(one, Entry) and one.choices), "")


def names(answers: Answers) -> dict[str, str]:
    """Where each constant stands."""
    return {q.name: f"{NAME}!{address(_FIRST + i, _CURRENT)}" for i, q in enumerate(answers.constants())}


def changed_count(answers: Answers) -> str:
    """A formula that counts the constants that differ from what was issued."""
    return f'COUNTIF({NAME}!{_column(_CHANGED, answers)},"changed")'


def wrong_count(answers: Answers) -> str:
    """A formula that counts the constants that are out of their range."""
    return f'ROWS({NAME}!{_column(_RANGE, answers)})-COUNTIF({NAME}!{_column(_RANGE, answers)},"in range")'


def _column(column: int, answers: Answers) -> str:
    return block(_FIRST, column, _FIRST + len(answers.constants()) - 1, column)


def sheet(answers: Answers, issued: Mapping[str, float | str], choices: Mapping[str, str]) -> Sheet:
    """The sheet. `issued` holds the values by name, `choices` the addresses of the tables' name columns."""
    cells = [
        Cell(0, 1, "Assumptions", "title"),
        Cell(1, 1, "Every constant of the formulas. Change the boxed cells in column D; the column beside says so.", "subtitle"),
        Cell(2, 1, "A figure graded 'from memory' is a default to be replaced by your own.", "subtitle"),
        *(Cell(_FIRST - 1, column, head, "head") for column, head in enumerate(_HEADS) if head),
    ]
    validations, heights = [], {_FIRST - 1: 30.0}
    for row, quantity in enumerate(answers.constants(), start=_FIRST):
        cells += _row(row, quantity, issued[quantity.name], choices)
        heights[row] = 38.0
        if quantity.is_text and _choices(quantity):
            validations.append(Validation(row, _CURRENT, row, _CURRENT, choices=choices[_choices(quantity)]))
    last = _FIRST + len(answers.constants()) - 1
    return Sheet(
        NAME,
        tuple(cells),
        validations=tuple(validations),
        marks=(
            Mark(_FIRST, _CHANGED, last, _CHANGED, f'$G{_FIRST + 1}="changed"', "warn"),
            Mark(_FIRST, _RANGE, last, _RANGE, f'$J{_FIRST + 1}<>"in range"', "warn"),
        ),
        widths={0: 3, 1: 34, 2: 27, 3: 13, 4: 7, 5: 11, 6: 11, 7: 9, 8: 9, 9: 12, 10: 46, 11: 50, 12: 18},
        heights=heights,
        freeze=(_FIRST, 3),
        repeat_rows=(_FIRST - 1, _FIRST - 1),
        footer=NAME,
    )


def _row(row: int, quantity: Constant, value: float | str, choices: Mapping[str, str]) -> list[Cell]:
    current, issued = address(row, _CURRENT), address(row, _ISSUED)
    low, high = address(row, _LOW), address(row, _HIGH)
    entry = "entry_text" if quantity.is_text else "entry_number"
    if quantity.is_text and not _choices(quantity):
        fits = f'IF(ISTEXT({current}),"in range","not a text")'
    elif quantity.is_text:
        fits = f'IF(ISNUMBER(MATCH({current},{choices[_choices(quantity)]},0)),"in range","not a choice")'
    else:
        fits = f'IF(COUNT({current})=0,"not a number",IF(AND({current}>={low},{current}<={high}),"in range","out of range"))'
    limits = [float(limit) if limit else None for limit in quantity.limits]
    return [
        Cell(row, 0, "▸", "mark"),
        Cell(row, 1, quantity.title, "label_wrap"),
        Cell(row, 2, quantity.name, "label"),
        Cell(row, _CURRENT, value, entry),
        Cell(row, 4, unit_shown(quantity), "label"),
        Cell(row, _ISSUED, value, "label" if quantity.is_text else "number"),
        Cell(row, _CHANGED, "as issued", "label", f'IF({current}={issued},"as issued","changed")'),
        Cell(row, _LOW, limits[0], "number"),
        Cell(row, _HIGH, limits[1], "number"),
        Cell(row, _RANGE, "in range", "label", fits),
        Cell(row, 10, quantity.sentence, "small"),
        Cell(row, 11, quantity.source.text, "small"),
        Cell(row, 12, quantity.source.grade.value, "small"),
    ]


for _book in (Book.ONE, Book.LIST):
    register(
        _book,
        NAME,
        180,
        Purpose.AUDIT,
        "every constant, yours to change",
        lambda book: sheet(book.edition.answers, issued_assumptions(), book.choices),
    )
register(
    Book.FOLLOW,
    NAME,
    180,
    Purpose.AUDIT,
    "every constant, yours to change",
    lambda book: sheet(book.edition.answers, issued_assumptions(), book.choices),
)
