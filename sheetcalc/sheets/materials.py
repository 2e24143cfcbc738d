"""The sheet Materials: families of packing with their limits, the user's own rows on top, and the source of each figure."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.declare.quantity import get
from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import all_sources
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.layout import Cell, Mark, Sheet, Validation, Value, address, block
from sheetcalc.sheets.register import Book, Purpose, register

NAME: Final = "Materials"
_MARK, _NAME, _UNITS, _FORM, _FIGURES = 0, 1, 2, 3, 4
FIRST: Final = 8

_FLUIDS_AT: Final = _FIGURES + len(reference.MATERIAL_FIGURES)
_MOTIONS_AT: Final = _FLUIDS_AT + len(reference.MATERIAL_FLUIDS)
_REPORT: Final = _MOTIONS_AT + len(reference.MATERIAL_MOTIONS)
_LAST_COLUMN: Final = _REPORT + len(reference.MATERIAL_REPORTS)
_YES: Final = (3, _MOTIONS_AT)
#: The columns of figures, each with its name and the dimension in whose unit it is typed.
_NUMBERS: Final = {
    **dict(enumerate(reference.MATERIAL_FIGURES.items(), start=_FIGURES)),
    **dict(enumerate(reference.MATERIAL_REPORTS.items(), start=_REPORT + 1)),
}
_COLUMN_OF: Final = {name: column for column, (name, _dimension) in _NUMBERS.items()}
#: The columns of texts, each by the name that formulas know it by.
_TEXTS: Final = {_NAME: "material_names", _FORM: "material_forms", _REPORT: "materials_oxygen_report"}
#: What may be missing: no other limit in air, no maximum of the stress, and what oxygen asks for.
_MAY_BE_BLANK: Final = frozenset({
    _COLUMN_OF["temperature_high_air"], _COLUMN_OF["most_stress"], _FLUIDS_AT + reference.MATERIAL_FLUIDS.index("oxygen"),
    *range(_REPORT, _LAST_COLUMN + 1),
})  # fmt: skip


def _rows() -> int:
    return reference.OWN_MATERIALS + len(reference.printed("packing_materials"))


def _sources_row() -> int:
    return FIRST + _rows() + 3


def _source_keys() -> list[str]:
    """The keys of all sources of the figures, each once, in the order of their first use."""
    keys = [key for row in reference.printed("packing_material_sources") for name, key in row.items() if name != "name" and key]
    return list(dict.fromkeys(keys))


def _live_row() -> int:
    """The first row of the block that formulas read."""
    return _sources_row() + 3 + len(reference.printed("packing_material_sources")) + len(_source_keys()) + 6


def is_in(answers: Answers) -> bool:
    """Whether the workbook has the sheet: something is said of the material of a valve."""
    return "packing_material" in answers


def names() -> dict[str, str]:
    """Where each column of the materials that formulas read stands."""
    first, last = _live_row(), _live_row() + _rows() - 1

    def place(column: int, to: int | None = None) -> str:
        return f"{NAME}!{block(first, column, last, column if to is None else to)}"

    return {
        **{name: place(column) for column, name in _TEXTS.items()},
        "material_origins": place(_MARK),
        **{f"materials_{name}": place(column) for name, column in _COLUMN_OF.items()},
        "materials_fluids": place(_FLUIDS_AT, _MOTIONS_AT - 1),
        "materials_motions": place(_MOTIONS_AT, _REPORT - 1),
    }


def _unit_words(dimension: str) -> str:
    if dimension == "density":
        return "g/cm³"
    shown = dict.fromkeys(units.shown(one[dimension]) for one in units.UNIT_SETS.values())
    return " or ".join(shown)


@cache
def _heads() -> tuple[str, ...]:
    figures = {}
    for column, (name, dimension) in _NUMBERS.items():
        title = get(f"materials_{name}").title.removesuffix(" of the materials")
        figures[column] = f"{title} ({_unit_words(dimension)})" if dimension else title
    words = (*(one.capitalize() for one in reference.MATERIAL_FLUIDS), "Stem slides", "Stem turns", "Oxygen report, number or name")
    heads = {**dict(enumerate(("", "Packing material", "Unit set", "Form"))), **figures, **dict(enumerate(words, start=_FLUIDS_AT))}
    return tuple(heads[column] for column in range(_LAST_COLUMN + 1))


def _live(column: int, row: int, source_row: int) -> str:
    """The formula of a cell that formulas read: what is typed in the row above, in coherent units."""
    cell = address(source_row, column, fixed=False)
    if column in _TEXTS:  # a report may be called by its number
        return f'IFERROR({cell}&"","")' if column == _REPORT else f'IF(ISTEXT({cell}),{cell},"")'
    if column == _UNITS:
        return f'IFERROR(MATCH({cell},unit_set_names,0),"")'
    if column not in _NUMBERS:
        return f'IF({cell}="yes",1,IF({cell}="no",0,""))'
    name, dimension = _NUMBERS[column]
    if dimension in {"", "density"}:
        return f'IF(ISNUMBER({cell}),{cell}{"*cubic_density" if dimension else ""},"")'
    unit = address(row, _UNITS, fixed=False)
    scale = f"INDEX(unit_{dimension}_factors,{unit})"
    number = f"({cell}-INDEX(unit_temperature_zeros,{unit}))" if dimension == "temperature" else cell
    read, other = f'IF(COUNT({cell},{unit})=2,{number}*{scale},"")', address(row, _COLUMN_OF["temperature_high"], fixed=False)
    return f'IF({cell}="",{other},{read})' if name == "temperature_high_air" else read


def _live_value(column: int, index: int, unit_set: str) -> Value:
    held = reference.values()
    own = index < reference.OWN_MATERIALS
    if column == _UNITS:
        return float(list(units.UNIT_SETS).index(unit_set if own else "metric") + 1)
    if column in _TEXTS:
        return str(held[_TEXTS[column]][index])
    if column in _NUMBERS:
        return plain(held[f"materials_{_NUMBERS[column][0]}"][index])
    if column >= _MOTIONS_AT:
        return plain(held["materials_motions"][index, column - _MOTIONS_AT])
    return plain(held["materials_fluids"][index, column - _FLUIDS_AT])


def _typed(index: int, unit_set: str) -> list[tuple[int, Value, str]]:
    """The boxed cells of a row: column, what stands there as issued, and the look."""
    own = index < reference.OWN_MATERIALS
    row = {} if own else reference.printed("packing_materials")[index - reference.OWN_MATERIALS]
    out: list[tuple[int, Value, str]] = [
        (_NAME, row.get("name", ""), "entry_text"),
        (_UNITS, unit_set if own else "metric", "entry_text"),
        (_FORM, row.get("form", ""), "entry_text"),
    ]
    for name, column in _COLUMN_OF.items():
        number = reference.figure(row.get(name, ""))
        out.append((column, None if np.isnan(number) else number, "entry_number"))
    words = (*reference.MATERIAL_FLUIDS, *reference.MATERIAL_MOTIONS, "oxygen_report")
    return out + [(_FLUIDS_AT + at, row.get(name, ""), "entry_text") for at, name in enumerate(words)]


def _sources() -> list[Cell]:
    """The key of the source of each figure, and below what each key means."""
    at, card = _sources_row(), reference.cards()["packing_material_sources"]
    cells = [
        Cell(at, _NAME, card.title, "heading"),
        Cell(at + 1, _NAME, card.note, "text"),
        *(Cell(at + 2, column, head, "head") for column, head in enumerate(_heads()) if column),
    ]
    row = at + 3
    for line in reference.printed("packing_material_sources"):
        keys = [line["name"], "", *list(line.values())[1:]]
        cells += [Cell(row, column, key, "small") for column, key in enumerate(keys, start=_NAME)]
        row += 1
    row += 1
    for key in _source_keys():
        source = all_sources()[key]
        cells += [Cell(row, _NAME, key, "label"), Cell(row, _UNITS, f"{source.text} ({source.grade.value})", "origin")]
        row += 1
    return cells


def sheet(edition: Edition) -> Sheet:
    """The sheet; the empty rows start with the unit set of the edition."""
    card, live_card = reference.cards()["packing_materials"], reference.cards()["packing_materials_read"]
    rows, heads = _rows(), _heads()
    cells = [
        Cell(0, _NAME, "Packing materials", "title"),
        Cell(1, _NAME, card.note, "subtitle"),
        Cell(
            2,
            _NAME,
            "The boxed cells (▸) are yours. A limit left blank is not known, and such a material does not pass as suitable; a blank one in "
            "air is that beside it.",
            "subtitle",
        ),
        Cell(3, _NAME, f"Source: {card.source.text} ({card.source.grade.value}); each figure has its own below.", "origin"),
        Cell(4, _NAME, f"Checked with: {card.checked_with}.", "origin"),
        Cell(_YES[0], _YES[1], "yes", "label"),
        Cell(_YES[0] + 1, _YES[1], "no", "label"),
        Cell(FIRST - 2, _FLUIDS_AT, "suits this fluid", "band"),
        Cell(FIRST - 2, _MOTIONS_AT, "suits a stem that", "band"),
        Cell(FIRST - 2, _REPORT, "tested for oxygen", "band"),
        *(Cell(FIRST - 1, column, head, "head") for column, head in enumerate(heads) if column),
    ]
    cells += _sources()
    live = _live_row()
    cells += [
        Cell(live - 3, _NAME, live_card.title, "heading"),
        Cell(live - 2, _NAME, live_card.note, "text"),
        *(Cell(live - 1, column, head.split(" (")[0] or "Origin", "head") for column, head in enumerate(heads)),
    ]
    for index in range(rows):
        row, read = FIRST + index, live + index
        own = index < reference.OWN_MATERIALS
        cells += [Cell(row, _MARK, "▸ own" if own else "▸", "mark"), Cell(read, _MARK, "own" if own else "issued", "label")]
        cells += [Cell(row, column, value, look) for column, value, look in _typed(index, edition.unit_set)]
        for column in range(_NAME, _LAST_COLUMN + 1):
            value = _live_value(column, index, edition.unit_set)
            style = "working_text" if column in _TEXTS else "answer_tiny" if column == _COLUMN_OF["density"] else "working"
            cells.append(Cell(read, column, value, style, _live(column, read, row)))
    last = FIRST + rows - 1
    validations = [
        Validation(FIRST, _UNITS, last, _UNITS, choices="unit_set_names"),
        Validation(FIRST, _FORM, last, _FORM, choices="packing_form_names"),
        Validation(FIRST, _FLUIDS_AT, last, _REPORT - 1, choices=block(_YES[0], _YES[1], _YES[0] + 1, _YES[1])),
    ]
    widths = {_MARK: 6.0, _NAME: 24.0, _UNITS: 8.0, _FORM: 12.0} | dict.fromkeys(range(_FIGURES, _LAST_COLUMN + 1), 9.0)
    return Sheet(
        NAME,
        tuple(cells),
        validations=tuple(validations),
        marks=tuple(
            Mark(FIRST, column, last, column, f'AND($B{FIRST + 1}<>"",{address(FIRST, column, fixed=False)}="")', "warn")
            for column in range(_FIGURES, _LAST_COLUMN + 1)
            if column not in _MAY_BE_BLANK
        ),
        widths=widths,
        heights={FIRST - 1: 60.0, _sources_row() + 2: 60.0, live - 1: 46.0}
        | {_sources_row() + 3 + at: 24.0 for at in range(len(reference.printed("packing_material_sources")))},
        freeze=(FIRST, 2),
        print_area=(0, 0, live + rows - 1, _LAST_COLUMN),
        footer=NAME,
    )


for _book in (Book.ONE, Book.LIST):
    register(
        _book,
        NAME,
        190,
        Purpose.AUDIT,
        "packing materials and their limits, yours to change",
        lambda book: sheet(book.edition),
        needs=("packing_material",),
    )
