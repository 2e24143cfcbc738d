"""The sheet Outage: what is typed once for all, the people and the dates, and every figure of the outage as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sheetcalc.declare.quantity import Check, Derived, Per, Quantity, get
from sheetcalc.sheets.common import in_names, unit_in, unit_shown
from sheetcalc.sheets.edition import Edition, choices_of, entry_title, prompt
from sheetcalc.sheets.layout import Cell, Mark, Sheet, Validation, Value, address
from sheetcalc.sheets.outage_rows import OUTAGE, Rows, one_value, unit_words
from sheetcalc.sheets.register import Book, Purpose, register

_FIRST: Final = 4
_MARK, _TITLE, _VALUE, _UNIT, _SHOWN, _SHOWN_UNIT, _FORMULA, _WHAT, _SOURCE, _GRADE = range(10)
_HEADS: Final = ("", "Figure", "Value", "Unit", "As read", "", "Formula in names", "What it is", "Source", "Grade")
#: Headings of the parts, in the order in which a planner types and reads.
_PARTS: Final = {
    "outage": "The outage and its order",
    "labour": "People",
    "follow-up": "Follow-up",
    "order list": "Lines of the order",
    "reconciliation": "Does the order tie to the valves?",
    "kit": "Kit",
    "days": "Days",
    "log": "Log",
    "chart": "Chart",
}


def _in_parts(names: tuple[str, ...]) -> list[tuple[str, list[str]]]:
    found: dict[str, list[str]] = {}
    for name in names:
        found.setdefault(get(name).part, []).append(name)
    known = [*_PARTS, *(part for part in found if part not in _PARTS)]
    return [(_PARTS.get(part, part.capitalize()), found[part]) for part in known if part in found]


def _lines(rows: Rows, elsewhere: Mapping[str, str]) -> tuple[dict[str, int], dict[int, str]]:
    """The row of each entry and answer, and the headings by row. What is typed `elsewhere` has none."""
    entries = tuple(name for name in rows.entries(Per.OUTAGE) if name not in elsewhere)
    places: dict[str, int] = {}
    heads: dict[int, str] = {}
    at = _FIRST
    for group in (entries, rows.answered(Per.OUTAGE)):
        for head, names in _in_parts(group):
            heads[at] = head
            places |= {name: at + 1 + place for place, name in enumerate(names)}
            at += len(names) + 1
        at += 2
    return places, heads


def cells_of(rows: Rows, elsewhere: Mapping[str, str]) -> dict[str, str]:
    """The address of each entry and answer of the outage: its defined name. `elsewhere` are those typed on other sheets."""
    return {name: f"{OUTAGE}!{address(row, _VALUE)}" for name, row in _lines(rows, elsewhere)[0].items()} | dict(elsewhere)


def sheet(rows: Rows, edition: Edition, typed: Mapping[str, Value], elsewhere: Mapping[str, str]) -> Sheet:
    """The sheet, without the entries that are typed elsewhere."""
    answered = rows.answered(Per.OUTAGE)
    places, heads = _lines(rows, elsewhere)
    first_answer = places[answered[0]] - 1
    cells = [
        Cell(0, _TITLE, "Outage", "title"),
        Cell(1, _TITLE, "What is typed once for the whole outage (▸). Below it every figure of the outage, with its formula.", "subtitle"),
        Cell(2, _TITLE, f"{edition.title} Units here, on the order list and in the log follow the unit set typed below.", "subtitle"),
        *(Cell(first_answer - 1, column, head, "head") for column, head in enumerate(_HEADS) if head),
    ]
    heights: dict[int, float] = {first_answer - 1: 20.0}
    validations: list[Validation] = []
    for row, head in heads.items():
        cells += [Cell(row, column, head if column == _TITLE else "", "band") for column in range(_TITLE, _GRADE + 1)]
    for name in (one for one in rows.entries(Per.OUTAGE) if one not in elsewhere):
        cells += _entry(get(name), places[name], typed.get(name, ""), rows)
        source = choices_of(name)
        validations.append(
            Validation(
                places[name],
                _VALUE,
                places[name],
                _VALUE,
                choices=source,
                prompt_title=entry_title(get(name))[:32],
                prompt=prompt(get(name))[:255],
            )
        )
    for name in answered:
        row = places[name]
        cells += _answer(rows.set.get(name, Derived), row, rows)
        text = in_names(rows.set.get(name, Derived))
        widths = ((text, 62), (get(name).source.text, 44), (get(name).sentence, 46), (str(rows.one(name) or ""), 26))
        heights[row] = 13.0 * max(-(-len(text) // width) for text, width in widths)
    return Sheet(
        OUTAGE,
        tuple(cells),
        validations=tuple(validations),
        heights=heights,
        marks=tuple(
            Mark(places[name], _VALUE, places[name], _VALUE, f'LEFT({address(places[name], _VALUE)},2)<>"OK"', "warn")
            for name in answered
            if isinstance(get(name), Check)
        ),
        widths={_MARK: 3, _TITLE: 38, _VALUE: 24, _UNIT: 8, _SHOWN: 14, _SHOWN_UNIT: 8, _FORMULA: 58, _WHAT: 42, _SOURCE: 42, _GRADE: 17},
        freeze=(_FIRST, 2),
        footer=OUTAGE,
        selected=(_FIRST + 1, _VALUE),
    )


def _entry(quantity: Quantity, row: int, value: Value, rows: Rows) -> list[Cell]:
    style = "entry_date" if quantity.unit == "date" else "entry_text" if quantity.is_text else "entry_number"
    if quantity.dimension:
        number = rows.one("outage_unit_row")
        unit = unit_in(quantity, ("metric", "US")[int(number) - 1]) if isinstance(number, float) else "?"
        unit_cell = Cell(row, _UNIT, unit, "label", unit_words(quantity))
    else:
        unit_cell = Cell(row, _UNIT, "" if quantity.is_text or quantity.unit == "1" else unit_shown(quantity), "label")
    return [
        Cell(row, _MARK, "▸", "mark"),
        Cell(row, _TITLE, entry_title(quantity), "label"),
        Cell(row, _VALUE, value, style),
        unit_cell,
        Cell(row, _SHOWN, quantity.sentence.replace(", as typed.", "."), "quiet_line"),
    ]


def _answer(quantity: Derived, row: int, rows: Rows) -> list[Cell]:
    value = rows.one(quantity.name)
    style = "working_wrap" if quantity.is_text else "working_date" if quantity.unit == "date" else "working"
    cells = [
        Cell(row, _TITLE, quantity.title, "label_wrap"),
        Cell(row, _VALUE, value, style, "".join(_formula(quantity, rows))),
        Cell(row, _UNIT, unit_shown(quantity), "label"),
        Cell(row, _FORMULA, in_names(quantity), "formula"),
        Cell(row, _WHAT, quantity.sentence, "small"),
        Cell(row, _SOURCE, quantity.source.text, "small"),
        Cell(row, _GRADE, quantity.source.grade.value, "small"),
        Cell(row, _SHOWN, "", "label"),
        Cell(row, _SHOWN_UNIT, "", "label"),
    ]
    if quantity.dimension:
        text, shown = one_value(rows, quantity.name)
        unit = unit_in(quantity, ("metric", "US")[int(number) - 1]) if isinstance(number := rows.one("outage_unit_row"), float) else "?"
        cells[-2:] = [Cell(row, _SHOWN, shown, "answer", text), Cell(row, _SHOWN_UNIT, unit, "label", unit_words(quantity))]
    return cells


def _formula(quantity: Quantity, rows: Rows) -> tuple[str, ...]:
    return rows.formula(quantity.name)


register(
    Book.LIST,
    OUTAGE,
    50,
    Purpose.WORK,
    "dates, people and units, typed once; every figure of the outage with its formula",
    lambda book: sheet(book.rows, book.edition, book.typed, book.elsewhere),
)
register(
    Book.FOLLOW,
    OUTAGE,
    50,
    Purpose.WORK,
    "dates, leak limit and units, typed once; every figure with its formula",
    lambda book: sheet(book.rows, book.edition, book.typed, book.elsewhere),
)
