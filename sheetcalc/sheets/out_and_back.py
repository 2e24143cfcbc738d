"""The sheet Remove and refit: flanges, bolts, gaskets, torque, lift of one valve that comes out of the line, its holes as a live chart."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, Final

from sheetcalc.declare.quantity import get
from sheetcalc.reference import tables as reference
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.form import (
    ENTRY,
    FIRST,
    HEADS,
    HINT,
    OTHER,
    OTHER_UNIT,
    OUT,
    OUT_AND_BACK,
    TITLE,
    VALUE,
    VALUE_UNIT,
    answer_in_both,
    entry_cells,
)
from sheetcalc.sheets.layout import Cell, Chart, Series, Sheet, address, block, check_mark
from sheetcalc.sheets.out_groups import OUT_ANSWERS, OUT_CHECKS, OUT_GROUPS
from sheetcalc.sheets.register import Book, Purpose, register

#: Answers whose words need more than a line.
_TALL: Final = frozenset({"flange_slacken_order", "flange_cross_order", "flange_gasket", "mass_words"})
#: Letters of a title that fit a line.
_TITLE: Final = 48
#: The first row of the picture, under the entries.
_PICTURE: Final = FIRST + sum(1 + len(entries) for _head, entries in OUT_GROUPS) + 1
_PICTURE_ROWS: Final = 21
_NOTES: Final = (
    "Holes are numbered clockwise, seen from the valve. Mark as 1 the lowest hole on the side away from you; do so on each flange.",
    "Slackened in their order, nuts left on, until both joints are open and drained. Squares: the holding pair, till the sling is taut.",
    "The number outside a hole is its turn in tightening: pass 1, pass 2, pass 3, then circular passes until no nut moves.",
)


class _Picture:
    """The holes of a flange as a native chart: numbered, with the turn of each in tightening, fed by live cells right of the page."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.value = {name: plain(values[name][0]) for name in ("flange_bolt_count", "flange_order_row", "flange_kept_1", "flange_kept_2")}
        self.orders = reference.values()["bolt_cross_orders"]
        self.most = int(self.orders.shape[1])

    def _holes(self) -> list[tuple[str, float | None]]:
        """The hole of each turn of tightening, as formula and value; then the holding pair."""
        row = self.value["flange_order_row"]
        out: list[tuple[str, float | None]] = []
        for turn in range(self.most):
            text = f'IF(COUNT(flange_order_row)=0,"",INDEX(bolt_cross_orders,flange_order_row,{address(FIRST + turn, _ASIDE)}))'
            hole = plain(self.orders[int(row) - 1, turn]) if isinstance(row, float) else None
            out.append((text, hole if isinstance(hole, float) else None))
        for name in ("flange_kept_1", "flange_kept_2"):
            held = self.value[name]
            out.append((f'IF(COUNT({name})=0,"",{name})', held if isinstance(held, float) else None))
        return out

    def cells(self) -> list[Cell]:
        """The cells that feed the chart."""
        heads = ("Turn", "Hole", "Angle, rad", "Across", "Up", "Across, turn", "Up, turn", "Hole, name", "Turn, name", "", "Circle", "")
        out = [
            Cell(FIRST - 3, _ASIDE, "Not printed: what the picture of the holes is drawn from, on a bolt circle of radius 1", "heading"),
            Cell(FIRST - 2, _ASIDE, "What is not there is drawn outside the picture.", "text"),
            *(Cell(FIRST - 1, _ASIDE + column, head, "head") for column, head in enumerate(heads) if head or column == len(heads) - 1),
        ]
        count = self.value["flange_bolt_count"]
        for place, (text, hole) in enumerate(self._holes()):
            row = FIRST + place
            is_turn, shown = place < self.most, hole is not None
            number, angle, across, up = (address(row, _ASIDE + column) for column in range(1, 5))
            radians = math.pi * ((1 - 2 * (hole - 1)) / count - 1 / 2) if hole is not None and isinstance(count, float) else None
            x, y = (4.0, 4.0) if radians is None else (math.cos(radians), math.sin(radians))
            out += [
                Cell(row, _ASIDE, float(place + 1) if is_turn else "held", "number" if is_turn else "label"),
                Cell(row, _ASIDE + 1, hole, "working", text),
                Cell(row, _ASIDE + 2, radians, "working", f'IF(COUNT({number})=0,"",PI()*((1-2*({number}-1))/flange_bolt_count-1/2))'),
                Cell(row, _ASIDE + 3, x, "working", f"IF(COUNT({angle})=0,4,COS({angle}))"),
                Cell(row, _ASIDE + 4, y, "working", f"IF(COUNT({angle})=0,4,SIN({angle}))"),
            ]
            if is_turn:
                turn = address(row, _ASIDE)
                out += [
                    Cell(row, _ASIDE + 5, x * (1 + 1 / 4), "working", f"{across}*(1+1/4)"),
                    Cell(row, _ASIDE + 6, y * (1 + 1 / 4), "working", f"{up}*(1+1/4)"),
                    Cell(row, _ASIDE + 7, f"{hole:.0f}" if shown else " ", "label", f'IF(COUNT({number})=0," ",{number}&"")'),
                    Cell(row, _ASIDE + 8, str(place + 1) if shown else " ", "label", f'IF(COUNT({number})=0," ",{turn}&"")'),
                ]
        for step in range(_STEPS + 1):
            corner = 2 * math.pi * step / _STEPS
            out += [
                Cell(FIRST + step, _ASIDE + 10 + place, round(at(corner), 6), "number") for place, at in enumerate((math.cos, math.sin))
            ]
        return out

    def chart(self) -> Chart:
        """The chart, under the entries."""

        def at(place: int, column: int) -> str:
            return f"'{OUT_AND_BACK}'!{address(FIRST + place, _ASIDE + column)}"

        across, up = (f"'{OUT_AND_BACK}'!{block(FIRST, _ASIDE + column, FIRST + _STEPS, _ASIDE + column)}" for column in (10, 11))
        circle = Series("bolt circle", across, up, "", "dash", "#9AA3AB")
        kept = [Series("holding pair", at(self.most + place, 3), at(self.most + place, 4), "#9DB2C6", "square") for place in (0, 1)]
        holes = [Series(f"={at(place, 7)}", at(place, 3), at(place, 4), "#E4E9ED", "circle", "#33475B") for place in range(self.most)]
        turns = [Series(f"={at(place, 8)}", at(place, 5), at(place, 6), "") for place in range(self.most)]
        return Chart(
            _PICTURE,
            TITLE,
            "Holes by number; outside: turn in tightening",
            "The holes of the flange seen from the valve, numbered clockwise from the lowest on the far side. The number outside each is "
            "its turn in tightening. Squares mark the holding pair, left in until the sling is taut.",
            "",
            (),
            450,
            474,
            lines=(circle,),
            points=(*kept, *holes, *turns),
        )


#: The first column of the cells that feed the picture, right of the page.
_ASIDE: Final = OTHER_UNIT + 2
#: Corners of the circle that is drawn.
_STEPS: Final = 60


def sheet(edition: Edition, typed: Mapping[str, float | str], values: Mapping[str, Any]) -> Sheet:
    """The sheet, with the core's answers stored in every cell."""
    picture = _Picture(values)
    cells = [
        *picture.cells(),
        Cell(0, TITLE, "Out of the line and back: flanges, bolts, gaskets and lift of one valve", "title"),
        Cell(
            1,
            TITLE,
            f"{edition.title} Only for a valve that comes out. Answers stand in both unit sets beside each other.",
            "subtitle",
        ),
        Cell(
            2,
            TITLE,
            "Site procedure, maker's manual, local codes and the rigger come first. Man-hours are new-installation figures.",
            "subtitle",
        ),
        *(Cell(FIRST - 1, column, head, "head") for column, head in HEADS.items()),
    ]
    entered, validations = entry_cells(OUT_GROUPS, edition, typed, values)
    cells += entered
    heights = dict.fromkeys(range(FIRST, _PICTURE), 22.0) | {FIRST - 1: 20.0}
    merges = []
    row = FIRST
    breaks = [_PICTURE - 1]
    for head, answers in OUT_ANSWERS:
        breaks += [row] if head == "Lift" else []
        cells += [Cell(row, column, head if column == OUT else "", "band") for column in range(OUT, OTHER_UNIT + 1)]
        row += 1
        for name in answers:
            new = answer_in_both(row, get(name), values, edition.sets)
            if get(name).is_text:
                merges.append((row, VALUE, row, OTHER_UNIT))
                new[1] = Cell(row, VALUE, new[1].value, "answer_wrap" if name in _TALL else "answer_text", new[1].formula)
            if len(get(name).title) > _TITLE:
                new[0] = Cell(row, OUT, get(name).title, "label_wrap")
            cells += new
            heights.setdefault(row, 17.0)
            if name in _TALL or len(get(name).title) > _TITLE:
                heights[row] = 28.0
            row += 1
    for offset, note in enumerate(_NOTES):
        cells.append(Cell(_PICTURE + _PICTURE_ROWS + offset, TITLE, note, "hint"))
        merges.append((_PICTURE + _PICTURE_ROWS + offset, TITLE, _PICTURE + _PICTURE_ROWS + offset, HINT))
        heights[_PICTURE + _PICTURE_ROWS + offset] = 24.0
    check_row = max(row, _PICTURE + _PICTURE_ROWS + len(_NOTES)) + 1
    cells += [Cell(check_row - 1, column, "Checks" if column == TITLE else "", "band") for column in range(TITLE, OTHER_UNIT + 1)]
    for offset, name in enumerate(OUT_CHECKS):
        at = check_row + offset
        cells += [Cell(at, TITLE, get(name).title, "label"), Cell(at, ENTRY, plain(values[name][0]), "label_wrap", name)]
        merges.append((at, ENTRY, at, OTHER_UNIT))
        heights[at] = 44.0
    last = check_row + len(OUT_CHECKS) - 1
    return Sheet(
        OUT_AND_BACK,
        tuple(cells),
        validations=tuple(validations),
        charts=(picture.chart(),),
        merges=tuple(merges),
        marks=(check_mark(check_row, ENTRY, last),),
        widths=dict.fromkeys(range(_ASIDE, _ASIDE + 12), 11.0)
        | {0: 3, 1: 29, 2: 24, 3: 7, 4: 40, 5: 2, OUT: 46, VALUE: 15, VALUE_UNIT: 8, OTHER: 13, OTHER_UNIT: 8},
        heights=heights,
        freeze=(FIRST, 0),
        repeat_rows=(FIRST - 1, FIRST - 1),
        scale=61,
        breaks=tuple(breaks),
        print_area=(0, 0, last, OTHER_UNIT),
        footer=OUT_AND_BACK,
        selected=(FIRST + 1, ENTRY),
    )


register(
    Book.ONE,
    OUT_AND_BACK,
    30,
    Purpose.WORK,
    "for a valve that comes out of the line: bolts, wrench, gaskets, order of slackening and tightening, torque, lift",
    lambda book: sheet(book.edition, book.typed, book.values),
    needs=("comes_out",),
)
