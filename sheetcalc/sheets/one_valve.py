"""The workbook for one valve: entries and answers on one page with the box in section, and everything behind it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

import pandas as pd

from sheetcalc.calculations import PARTS
from sheetcalc.calculations.answers import Answers
from sheetcalc.calculations.run import evaluate, read_entries
from sheetcalc.declare.quantity import Derived, Quantity, get
from sheetcalc.sheets import assumptions, read_first, register, tables
from sheetcalc.sheets.common import column_values, fingerprint, in_names, mark, plain, unit_in, unit_shown
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.form import (
    ANSWERS,
    CHECKS,
    ENTRY,
    ENTRY_GROUPS,
    FIRST,
    HINT,
    INCHES,
    LOAD,
    LOAD_CHECKS,
    MM,
    OUT,
    OUT_AND_BACK,
    TITLE,
    UNIT,
    VALVE,
    answer_style,
    entry_cells,
    entry_places,
    usable_cell,
)
from sheetcalc.sheets.layout import Cell, Chart, Layout, Series, Sheet, Value, address, block, check_mark, state_marks
from sheetcalc.sheets.out_groups import OUT_CHECKS

WORKING = "Working"

_RINGS_BELOW, _RINGS_ABOVE = 6, 12


def _by_part(answers: Answers) -> list[Derived]:
    """The quantities part by part, as the job goes; within a part each after those that it reads."""
    parts = ("valve", *PARTS)
    return sorted((answers.get(name, Derived) for name in answers.worked_out()), key=lambda quantity: parts.index(quantity.part))


def _working_rows(answers: Answers) -> dict[str, int]:
    """The row of each worked-out quantity on Working; each part has a heading row before it."""
    rows: dict[str, int] = {}
    row, part = 5, ""
    for quantity in _by_part(answers):
        if quantity.part != part:
            part, row = quantity.part, row + 1
        rows[quantity.name] = row
        row += 1
    return rows


@dataclass(frozen=True)
class _Contents:
    """What the workbook is made of: what is typed, what the core worked out, and where that stands on Working."""

    edition: Edition
    typed: Mapping[str, float | str]
    values: Mapping[str, Any]
    rows: Mapping[str, int]
    picture: _Picture
    choices: Mapping[str, str]


def layout(edition: Edition, entries: Mapping[str, float | str] | None = None) -> Layout:
    """The one-valve workbook, blank or with entries typed in (in the units of their unit set)."""
    typed: dict[str, float | str] = {"unit_set": edition.unit_set, **(entries or {})}
    answers = edition.answers
    values = evaluate(read_entries(pd.DataFrame([typed])), 1, answers=answers)
    rows, choices = _working_rows(answers), tables.names(answers)
    names = {
        **{name: f"'{sheet}'!{address(row, column)}" for name, (sheet, row, column) in entry_places(answers).items()},
        **{name: f"{WORKING}!{address(row, 3)}" for name, row in rows.items()},
        **assumptions.names(answers),
        **choices,
    }
    picture = _Picture(values, max(rows.values()) + 4)
    sheets = register.built(register.Book.ONE, _Contents(edition, typed, values, rows, picture, choices))
    first = read_first.sheet(
        title="Stem packing of one valve",
        purpose="From a few measurements of a valve's stuffing box: packing section, ring count, spacer, cut length, gland gap, "
        "gland load, torque, what the stem feels, and a job card, with each formula, unit and source in view.",
        how=_HOW,
        contents=[(one.name, one.says(answers)) for one, _sheet in sheets],
        edition=edition,
        extra=[
            read_first.Line(
                "Checks of the valve that speak",
                _speaking(answers),
                _speaking_value(values, answers),
                f"Read the sentences on {VALVE}.",
                "{cell}>0",
            )
        ],
    )
    held = (first, *(sheet for _one, sheet in sheets))
    return Layout("Stem packing of one valve", held, names, edition.paper, fingerprint(answers), edition.key)


_HOW: Final = (
    f"On {VALVE} choose the unit set, then type into the boxed cells marked ▸. A fraction is typed as 0 7/16 or 1 1/8.",
    "Each check says OK, or in words what is wrong and what to do. A missing or unbelievable number leaves answers blank.",
    "A value under 'For this valve only' takes the place of the one on Assumptions. Clear the cell to go back.",
    "Depth is measured to the bare bottom of the box; write down a bushing or spacer that is found there.",
    "Flats are a forecast. Stop at the torque, the final gap or a stiff stem, whichever comes first; one flat at a time, nuts in turn.",
    "Sheets are protected without a password, against slips only. No macro, no link, no network is used.",
)


def _checks(answers: Answers) -> list[str]:
    return [name for name in (*CHECKS, *LOAD_CHECKS, *OUT_CHECKS) if name in answers]


def _speaking(answers: Answers) -> str:
    return "+".join(f"(LEN({name})>2)" for name in _checks(answers))


def _speaking_value(values: Mapping[str, Any], answers: Answers) -> float:
    return float(sum(len(str(values[name][0])) > 2 for name in _checks(answers)))  # noqa: PLR2004 - longer than OK


def _valve(edition: Edition, typed: Mapping[str, float | str], values: Mapping[str, Any], picture: _Picture) -> Sheet:
    cells = [
        Cell(0, TITLE, "Stem packing of one valve", "title"),
        Cell(1, TITLE, f"{edition.title} Type into the boxed cells marked ▸; everything else follows.", "subtitle"),
        Cell(2, TITLE, "Site procedure, maker's manual and local codes come first. Cautions: see Read first.", "subtitle"),
        *(
            Cell(FIRST - 1, column, head, "head")
            for column, head in (
                (TITLE, "Entry"),
                (ENTRY, "Value"),
                (UNIT, "Unit"),
                (HINT, "What it is"),
                (OUT, "Answer"),
                (MM, "Value"),
                (INCHES, "Inches" if edition.unit_set == "metric" else "mm"),
            )
        ),
    ]
    entered, validations = entry_cells(ENTRY_GROUPS, edition, typed, values)
    cells += entered
    last_entry = FIRST - 1 + sum(1 + len(entries) for _head, entries in ENTRY_GROUPS)
    row = FIRST
    for head, answers in ANSWERS:
        cells += [Cell(row, column, head if column == OUT else "", "band") for column in range(OUT, INCHES + 1)]
        row += 1
        for name in answers:
            cells += _answer(row, get(name), values, edition)
            row += 1
    cells += [Cell(row, column, "State and checks" if column == OUT else "", "band") for column in range(OUT, INCHES + 1)]
    state_row = row + 1
    cells += [Cell(state_row, OUT, "State", "label"), Cell(state_row, MM, plain(values["state"][0]), "answer_state", "state")]
    check_row = max(last_entry, state_row) + 2
    cells += [Cell(check_row - 1, column, "Checks" if column == TITLE else "", "band") for column in range(TITLE, INCHES + 10)]
    for offset, name in enumerate(CHECKS):
        cells += [
            Cell(check_row + offset, TITLE, get(name).title, "label"),
            Cell(check_row + offset, ENTRY, plain(values[name][0]), "text", name),
        ]
    heights = dict.fromkeys(range(FIRST, check_row - 1), 22.0) | {FIRST - 1: 20.0} | {check_row + i: 18.0 for i in range(5)}
    return Sheet(
        VALVE,
        tuple(cells),
        validations=tuple(validations),
        marks=(
            check_mark(check_row, ENTRY, check_row + len(CHECKS) - 1),
            *state_marks(state_row, MM, state_row, MM, f"$H${state_row + 1}"),
        ),
        charts=(picture.chart(FIRST - 1, INCHES + 2),),
        widths={0: 3, 1: 27, 2: 14, 3: 6, 4: 44, 5: 2, 6: 31, 7: 14, 8: 11, 9: 2},
        heights=heights,
        freeze=(FIRST, 0),
        fit_height=1,
        active=True,
        selected=(FIRST + 1, ENTRY),
        print_area=(0, 0, check_row + len(CHECKS), INCHES + 9),
        footer=VALVE,
    )


def _answer(row: int, quantity: Quantity, values: Mapping[str, Any], edition: Edition) -> list[Cell]:
    unit = "–" if quantity.is_text else unit_in(quantity, edition.unit_set)
    title = Cell(row, OUT, quantity.title if unit == "–" else f"{quantity.title} ({unit})", "label")
    if quantity.dimension is None:
        return [title, Cell(row, MM, plain(values[quantity.name][0]), answer_style(quantity), quantity.name)]
    return [title, *(usable_cell(row, MM + at, quantity, values, one) for at, one in enumerate(edition.sets))]


def _working(answers: Answers, values: Mapping[str, Any], rows: Mapping[str, int], picture: _Picture) -> Sheet:
    heads = ("Kind", "Quantity", "Symbol", "Value", "Unit", "Name", "Formula", "What it is", "Source", "Grade", "Mark")
    forms = f"{VALVE}, {LOAD} and {OUT_AND_BACK}" if "comes_out" in answers else f"{VALVE} and {LOAD}"
    cells = [
        Cell(0, 0, "Working", "title"),
        Cell(
            1,
            0,
            "Every quantity in mm, N, MPa, N·mm, kg and degrees. The name beside each value is the name that formulas know it by.",
            "subtitle",
        ),
        Cell(
            2,
            0,
            f"Entries stand on {forms}, constants on Assumptions, columns of tables on Materials and Tables.",
            "subtitle",
        ),
        *(Cell(4, column, head, "head") for column, head in enumerate(heads)),
    ]
    heights: dict[int, float] = {4: 20.0}
    part = ""
    for quantity in _by_part(answers):
        row = rows[quantity.name]
        if quantity.part != part:
            part = quantity.part
            cells += [Cell(row - 1, column, part if column == 0 else "", "band") for column in range(len(heads))]
        value: Value = column_values(values, quantity.name)[0]
        text = in_names(quantity)
        cells += [
            Cell(row, 0, quantity.kind, "label"),
            Cell(row, 1, quantity.title, "label_wrap"),
            Cell(row, 2, quantity.symbol, "label"),
            Cell(row, 3, value, "working_wrap" if quantity.is_text else "working", text_formula(quantity)),
            Cell(row, 4, unit_shown(quantity), "label"),
            Cell(row, 5, quantity.name, "label"),
            Cell(row, 6, text, "formula"),
            Cell(row, 7, quantity.sentence, "small"),
            Cell(row, 8, quantity.source.text, "small"),
            Cell(row, 9, quantity.source.grade.value, "small"),
            Cell(row, 10, mark(quantity), "small"),
        ]
        heights[row] = 13.0 * max(2, -(-len(text) // 62), -(-len(quantity.source.text) // 44))
    cells += picture.cells()
    return Sheet(
        WORKING,
        tuple(cells),
        widths={0: 11, 1: 30, 2: 8, 3: 18, 4: 6, 5: 27, 6: 58, 7: 40, 8: 42, 9: 17, 10: 7},
        heights=heights,
        freeze=(5, 2),
        repeat_rows=(4, 4),
        footer=WORKING,
    )


def text_formula(quantity: Derived) -> str:
    """The formula of a quantity on a one-case sheet: written in defined names."""
    return in_names(quantity)[1:]


class _Picture:
    """The box in section as a native chart, heights to scale, fed by live cells below Working."""

    def __init__(self, values: Mapping[str, Any], row: int) -> None:
        self.row = row
        self.value = {
            name: plain(values[name][0])
            for name in (
                "box_depth",
                "nose_length",
                "spacer_height",
                "ring_height",
                "seating_compression",
                "ring_count",
                "rings_below_lantern",
                "rings_above_lantern",
                "lantern_length",
            )
        }

    def _number(self, name: str) -> float:
        value = self.value[name]
        return value if isinstance(value, float) and value > 0 else 0.0

    def _helpers(self) -> list[tuple[str, str, float]]:
        """Live helper values: height of a seated ring, rings below the lantern, rings above it."""
        known = self.value["ring_height"] is not None and self.value["seating_compression"] is not None
        seated = self._number("ring_height") * (1 - self._number("seating_compression")) if known else 0.0
        below = self._number("rings_below_lantern")
        above = self._number("rings_above_lantern") if self.value["rings_above_lantern"] is not None else self._number("ring_count")
        return [
            ("Height of a seated ring", "IF(COUNT(ring_height,seating_compression)<2,0,ring_height*(1-seating_compression))", seated),
            ("Rings below the lantern", "MAX(0,rings_below_lantern)", below),
            ("Rings above it, or all", "IF(COUNT(rings_above_lantern)=1,rings_above_lantern,MAX(0,ring_count))", above),
        ]

    def _layers(self) -> list[tuple[str, int, str, float, str]]:
        """Each layer: name, ring number, formula in its column, value, and where it shows: wall, stem or packing."""
        seated, below, above = (address(self.row + 2 + i, 3) for i in range(3))
        seated_value, below_value, above_value = (value for _label, _formula, value in self._helpers())
        layers = [
            ("Box wall", 0, "MAX(0,box_depth)", self._number("box_depth"), "wall"),
            ("Stem", 0, "MAX(0,box_depth)+MAX(0,nose_length)", self._number("box_depth") + self._number("nose_length"), "stem"),
            ("Spacer", 0, "MAX(0,spacer_height)", self._number("spacer_height"), "packing"),
        ]
        for count, total, value in ((_RINGS_BELOW, below, below_value), (_RINGS_ABOVE, above, above_value)):
            where = "below" if total == below else "above"
            for k in range(1, count + 1):
                number = "$B{row}"
                shown = seated_value if value >= k else 0.0
                layers.append((f"Ring {k} {where}", k, f"IF({number}<={total},{seated},0)", shown, "packing"))
            if where == "below":
                layers.append(("Lantern ring", 0, "MAX(0,lantern_length)", self._number("lantern_length"), "packing"))
        layers.append(("Follower nose", 0, "MAX(0,nose_length)", self._number("nose_length"), "packing"))
        return layers

    @property
    def _first(self) -> int:
        return self.row + 7

    def cells(self) -> list[Cell]:
        """The cells that feed the chart."""
        out = [
            Cell(self.row, 0, "Picture of the box: nuts finger tight on seated rings, heights in mm", "heading"),
            Cell(self.row + 1, 0, "At most twelve rings above and six below a lantern are drawn.", "text"),
        ]
        for offset, (label, text, value) in enumerate(self._helpers()):
            out += [Cell(self.row + 2 + offset, 1, label, "label"), Cell(self.row + 2 + offset, 3, value, "working", text)]
        heads = ("Layer", "Ring", "Wall", "Packing", "Stem", "Packing ", "Wall ")
        out += [Cell(self._first - 1, column, head, "head") for column, head in enumerate(heads)]
        for row, (label, number, text, value, where) in enumerate(self._layers(), start=self._first):
            out += [Cell(row, 0, label, "label"), Cell(row, 1, float(number), "number")]
            filled = {"wall": (2, 6), "stem": (4,), "packing": (3, 5)}[where]
            for column in range(2, 7):
                here = column in filled
                out.append(Cell(row, column, value if here else 0.0, "working", text.format(row=row + 1) if here else ""))
        return out

    def chart(self, row: int, column: int) -> Chart:
        """The chart, placed at a cell of Valve."""
        looks = {
            "Box wall": ("#6B7680", "wide_upward_diagonal"),
            "Stem": ("#D5DADF", ""),
            "Spacer": ("#A58B5B", "small_check"),
            "Lantern ring": ("#FFFFFF", "dotted_grid"),
            "Follower nose": ("#8FA3B5", ""),
        }
        categories = f"{WORKING}!{block(self._first - 1, 2, self._first - 1, 6)}"
        series = []
        for at, (label, number, _text, _value, _where) in enumerate(self._layers(), start=self._first):
            fill, pattern = looks.get(label, ("#3D4A55" if number % 2 else "#55636F", ""))
            series.append(Series(f"={WORKING}!{address(at, 0)}", categories, f"{WORKING}!{block(at, 2, at, 6)}", fill, pattern))
        return Chart(
            row,
            column,
            "The box in section, finger tight",
            "Section through the stuffing box drawn as five columns: wall, packing, stem, packing, wall. From the bottom: spacer, "
            "rings, lantern ring if any, follower nose. Heights are to scale in mm; the nose stands above the wall by the gland gap.",
            "mm from the bottom of the box",
            tuple(series),
            430,
            640,
        )


register.register(
    register.Book.ONE,
    VALVE,
    10,
    register.Purpose.WORK,
    "type the measurements, read the answers, look at the box in section",
    lambda book: _valve(book.edition, book.typed, book.values, book.picture),
)
register.register(
    register.Book.ONE,
    WORKING,
    150,
    register.Purpose.AUDIT,
    "every quantity: symbol, value, unit, formula, what it is, source",
    lambda book: _working(book.edition.answers, book.values, book.rows, book.picture),
)
