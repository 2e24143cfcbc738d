"""The workbook for a list: Valves, which the planner owns, and Working, one row per valve with every formula."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import pandas as pd

from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Derived, get, is_missing
from sheetcalc.sheets import follow_up, front_page, outage, outage_plan, tables
from sheetcalc.sheets.common import column_values, fingerprint, plain, shown_in, shown_value
from sheetcalc.sheets.edition import Edition, choices_of
from sheetcalc.sheets.filled import Filled
from sheetcalc.sheets.front_page import FINDINGS, ONE, YOUR_LIST
from sheetcalc.sheets.layout import (
    Cell,
    Grid,
    GridColumn,
    Layout,
    Sheet,
    TableSpec,
    Validation,
    Value,
    address,
    column_letters,
    state_marks,
)
from sheetcalc.sheets.list_working import HEADER, VALVES, Working
from sheetcalc.sheets.outage_rows import Rows
from sheetcalc.sheets.register import Book, Purpose, built, register
from sheetcalc.sheets.valves_columns import ANSWERS, columns, entry_header, reserved_headers

__all__ = [
    "ANSWERS",
    "FINDINGS",
    "ONE",
    "SPARE_BLANK",
    "SPARE_PLAN",
    "VALVES",
    "YOUR_LIST",
    "Filled",
    "Working",
    "blank",
    "entry_header",
    "layout",
    "reserved_headers",
]

SPARE_BLANK: Final = 300
SPARE_PLAN: Final = 50
#: Words that stand where a row of Valves has no row in Working.
NO_ROW: Final = "no row in Working"


def blank() -> Filled:
    """A list with no valve in it."""
    return Filled(pd.DataFrame(columns=list(entry_names())))


@dataclass(frozen=True)
class _Contents:
    """What the workbook is made of: the list as typed, worked out, and the outage that follows from it."""

    edition: Edition
    filled: Filled
    working: Working
    choices: Mapping[str, str]
    elsewhere: Mapping[str, str]

    @property
    def rows(self) -> Rows:
        """The rows of the outage."""
        return self.working.outage

    @property
    def typed(self) -> Mapping[str, Value]:
        """What is typed for the outage as a whole."""
        return {"outage_unit_set": self.edition.unit_set, **self.filled.outage}

    @property
    def tags(self) -> str:
        """Where the tags stand that a row of the log is chosen from."""
        return self.working.range("tag")


def layout(edition: Edition, filled: Filled, *, spare: int, working: Working | None = None) -> Layout:
    """The list workbook: blank rows to type into, or a list filled in with the core's answers stored in every cell.

    `working` hands over what was already worked out for the same list.
    """
    working = working or Working(edition, filled, spare)
    answers = edition.answers
    elsewhere = follow_up.typed_elsewhere()
    names = {**outage_plan.names(answers), **outage.cells_of(working.outage, elsewhere)}
    sheets = built(Book.LIST, _Contents(edition, filled, working, tables.names(answers), elsewhere))
    front = front_page.sheet(edition, working, [(one.name, one.says(answers)) for one, _sheet in sheets])
    held = (front, *(front_page.with_way_back(sheet) for _one, sheet in sheets))
    return Layout("Stem packing of a list of valves", held, names, edition.paper, fingerprint(answers), edition.key)


def _valves(edition: Edition, working: Working, filled: Filled) -> Sheet:
    held = columns(edition, tuple(filled.carried))
    first = HEADER + 1
    cells = [
        Cell(0, 0, "Valves", "title"),
        Cell(1, 1, f"{edition.title} Boxed columns are for typing (▸), grey ones are answers. {working.rows} rows are ready.", "subtitle"),
        Cell(2, 1, "Each row says its own unit set. Answers in lengths are shown in the unit named in their header.", "subtitle"),
    ]
    bands: set[str] = set()
    grid: list[GridColumn] = []
    position = f"ROW()-ROW({VALVES}[[#Headers],[Tag]])"
    formulas = []
    for place, column in enumerate(held):
        new = column.band not in bands or held[place - 1].band != column.band
        bands.add(column.band)
        cells.append(Cell(HEADER - 1, place, column.band if new else "", "band"))
        text = ""
        if column.working:
            whole = working.range(column.working)
            text = f'IF({position}>ROWS({whole}),"{NO_ROW}",INDEX({whole},{position}))'
            grid.append(GridColumn(place, _answers(working, column.working), column.style, (text,)))
        elif column.entry:
            grid.append(GridColumn(place, working.fetched(column.entry), column.style))
        else:
            kept = [_carried(value) for value in filled.carried[column.header]]
            grid.append(GridColumn(place, kept + [None] * (working.rows - len(kept)), column.style))
        formulas.append(text)
    validations = tuple(
        Validation(first, place, first + working.rows - 1, place, choices=choices_of(column.entry))
        for place, column in enumerate(held)
        if column.entry and choices_of(column.entry)
    )
    # Excel fits a row to wrapped text only when it is typed; a row filled in here needs its height said.
    troubles = working.values["all_trouble"]
    heights = {first + row: 14.0 * -(-len(text) // 62) for row, text in enumerate(troubles) if len(text) > 62}  # noqa: PLR2004
    headers = tuple(column.header for column in held)
    state = headers.index("State")
    letter = column_letters(state)
    last = first + working.rows - 1
    return Sheet(
        VALVES,
        tuple(cells),
        grids=(Grid(first, tuple(grid)),),
        tables=(
            TableSpec(
                "Valves",
                HEADER,
                0,
                working.rows,
                headers,
                tuple(formulas),
                "Valves: entries on the left, answers fetched from Working, overrides and carried columns on the right.",
            ),
        ),
        validations=validations,
        marks=(*state_marks(first, state, last, state, f"${letter}{first + 1}"),),
        widths={place: column.width for place, column in enumerate(held)} | {0: 18},
        heights={HEADER: 60.0, **heights},
        freeze=(first, 1),
        repeat_rows=(HEADER - 1, HEADER),
        protected=False,
        active=True,
        selected=(first, 0),
        footer=VALVES,
        fit_width=12,
        repeat_columns=(0, 0),
        print_area=(0, 0, HEADER + max(working.count, 20), len(held) - len(filled.carried) - 1),
    )


def _answers(working: Working, name: str) -> list[Value]:
    if name in working.extra:
        return working.extra_column(name)[1]
    return column_values(working.values, name)


def _carried(value: object) -> Value:
    if is_missing(value):
        return None
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else str(value)


def _one(working: Working) -> Sheet:
    """One valve of the list, downwards, for the engineer who audits it."""
    heads = ("Kind", "Quantity", "Symbol", "Value", "Unit", "US", "Formula in names", "What it is", "Source", "Grade")
    tag = next((plain(value) for value in working.typed["tag"] if value != ""), "")
    typed_at, row_at = address(2, 3), address(3, 3)
    escaped = typed_at
    for character in ("~", "*", "?"):
        escaped = f'SUBSTITUTE({escaped},"{character}","~{character}")'
    found = 0
    if tag:
        found = next(i for i, one in enumerate(working.typed["tag"]) if str(one).lower() == str(tag).lower())
    cells = [
        Cell(0, 0, ONE, "title"),
        Cell(1, 0, "Choose a tag: everything about that valve, downwards.", "subtitle"),
        Cell(2, 0, "▸", "mark"),
        Cell(2, 1, "Tag", "label"),
        Cell(2, 3, tag, "entry_text"),
        Cell(3, 1, "Its row in Working", "label"),
        Cell(
            3,
            3,
            float(found + 1) if tag else "not in the list",
            "working",
            f'IF({typed_at}="","not in the list",IFERROR(MATCH({escaped},{working.range("tag")},0),"not in the list"))',
        ),
        *(Cell(5, column, head, "head") for column, head in enumerate(heads)),
    ]
    heights = {5: 20.0}
    row, part = 6, ""
    for name in (*working.names, *working.listed):
        quantity = get(name)
        if quantity.part != part:
            part = quantity.part
            cells += [Cell(row, column, part if column == 0 else "", "band") for column in range(len(heads))]
            row += 1
        held = column_values(working.values, name) if isinstance(quantity, Derived) else working.fetched(name)
        value = (held[found] if tag else "") or ("" if held[found] is None or held[found] == "" else 0.0)
        value = value if tag else ""
        whole = working.range(name)
        text = working.title(name)[3]
        cells += [
            Cell(row, 0, quantity.kind, "label"),
            Cell(row, 1, quantity.title, "label_wrap"),
            Cell(row, 2, quantity.symbol, "label"),
            Cell(row, 3, value, "working_wrap" if quantity.is_text else "working", f'IF(COUNT({row_at})=0,"",INDEX({whole},{row_at}))'),
            Cell(row, 4, working.title(name)[2], "label"),
            Cell(row, 6, text, "formula"),
            Cell(row, 7, quantity.sentence, "small"),
            Cell(row, 8, quantity.source.text, "small"),
            Cell(row, 9, quantity.source.grade.value, "small"),
        ]
        if quantity.dimension and isinstance(quantity, Derived):
            us = shown_value(quantity, value, "US") if isinstance(value, float) else ""
            cells.append(Cell(row, 5, us, "answer_in", shown_in(quantity, address(row, 3), "US")))
        else:
            cells.append(Cell(row, 5, "", "label"))
        heights[row] = 13.0 * max(2, -(-len(text) // 62), -(-len(quantity.source.text) // 44))
        row += 1
    return Sheet(
        ONE,
        tuple(cells),
        validations=(Validation(2, 3, 2, 3, choices=working.range("tag")),),
        widths={0: 11, 1: 30, 2: 8, 3: 18, 4: 8, 5: 10, 6: 58, 7: 40, 8: 42, 9: 17},
        heights=heights,
        freeze=(6, 2),
        repeat_rows=(5, 5),
        footer=ONE,
        selected=(2, 3),
    )


register(
    Book.LIST,
    VALVES,
    10,
    Purpose.WORK,
    "entries and answers, one row per valve",
    lambda book: _valves(book.edition, book.working, book.filled),
)
register(
    Book.LIST, ONE, 170, Purpose.AUDIT, "choose a tag: symbol, value, unit, formula, source, downwards", lambda book: _one(book.working)
)
