"""The job card: one printed page per valve for the person at the gland, and a second one where the valve comes out of the line.

The pages are described once and used three ways: for the valve of the one-valve workbook, for the valve of a list that is
chosen from a drop-down, and for many valves of a list one below the other. A valve on hold shows its tag and the reason,
and no figure to work by.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final, Protocol

from sheetcalc import units
from sheetcalc.calculations.fitting import MOST_RINGS
from sheetcalc.calculations.run import issued_assumptions
from sheetcalc.calculations.shown import WITH_A_RULE
from sheetcalc.declare.formula import MOST_TEXT
from sheetcalc.declare.quantity import get
from sheetcalc.sheets.common import VERSION, fingerprint, shown_in, shown_value
from sheetcalc.sheets.layout import Cell, Layout, Mark, Sheet, Validation, Value, address, block

NAME, CARDS = "Job card", "Job cards"
#: More cards on one sheet than this could pass what a spreadsheet takes in page breaks, 1,023 (a card has up to two pages).
MOST_ON_A_SHEET: Final = 500
#: Points of a row with one line, of a line in a wrapped cell, and what such a cell needs besides.
LINE, WRAPPED, AROUND = 14.25, 12.75, 2.25
#: Left, right, top and bottom in inches: the footer keeps clear below.
MARGINS: Final = (0.3, 0.3, 0.35, 0.5)

_PIXELS: Final = (68, 77, 52, 52, 64, 57, 42, 52, 52, 52, 59, 57)
#: Widths of the columns of the page, in characters as a sheet counts them.
WIDTHS: Final = {column: round((pixels - 5) / 7, 4) for column, pixels in enumerate(_PIXELS)}
_LAST: Final = len(_PIXELS) - 1
#: Where the constants of the page stand, to the right of what is printed.
_ASIDE: Final = _LAST + 2
#: How many characters of a text from outside fit their place. Longer ones end in dots, and the sheet named has them in full.
LIMITS: Final = {
    "tag": ("tag", 22.0), "place": ("place", 34.0), "fluid": ("fluid", 19.0), "isolation_points": ("isolation points", 115.0),
    "packing_material": ("packing material", 25.0), "stud_lubricant": ("stud lubricant", 23.0),
    "all_trouble": ("what the checks say", 235.0), "flange_gasket": ("flange gasket", 60.0),
    "flange_bolt_grade": ("flange bolt grade", 20.0), "flange_lubricant": ("flange lubricant", 20.0),
    "check_flange": ("check flange", 210.0), "check_lift": ("check lift", 210.0),
}  # fmt: skip

_CAUTION: Final = (
    "CAUTION. Pressure can stay trapped under old packing: slacken slowly, lift the follower, stand aside. Never trust a backseat unless "
    "the owner's procedure says so. Springs store energy; surfaces may be hot; parts are heavy. "
    "Old packing may hold asbestos (OSHA 29 CFR 1910.1001: 0.1 f/cc over 8 h, 1.0 f/cc over 30 min): identify, wet, take out by hand, "
    "contain. Site procedure, maker's manual, local codes and licensed practice come first. "
)  # fmt: skip
_TAKE_OUT: Final = (
    "TAKE OUT  □ Oil nuts, wait (oxygen: no oil).  □ Back nuts off slowly; hold the follower up.  □ Hook out ring by ring, point away "
    "from the stem; count.  □ Clean.  □ Stem and box within acceptance? Spacer or bushing found?  □ Measure again, write under Found.  "
    "□ Chase threads with die and tap."
)  # fmt: skip
_FIT: Final = (
    "FIT  □ Cut on the mandrel, never on the stem; the first ring is the pattern. Ready-made rings: keep their order, look for cracks. "
    "Loose: pour and press, fill by fill.  □ Spacer in; rings one at a time, joints as listed, each seated to its depth.  □ Follower "
    "square, nuts finger tight, gaps read."
)  # fmt: skip
_TIGHTEN: Final = (
    "One flat at a time in turn; equal gaps at all studs, tilt from readings. Stop at torque, final gap or stiff stem, whichever "
    "is first; flats are a forecast. Never slacken under pressure; in service by site procedure."
)  # fmt: skip
_FINISH: Final = (
    "FINISH  □ Stroke: it moves freely.  □ Leak test.  □ Actuator retest: friction changed.  □ Valve was out: flow arrow, flanges in "
    "line, open ends blanked till then.  □ Retorque as listed.  □ Gaps into the log."
)  # fmt: skip
#: The hold points, row by row; the first place is the heading.
_HOLDS: Final = (
    ("HOLD POINTS: sign first", "Vented and drained", "Air, power, spring safe"),
    ("Permit; supervisor permits", "Tried: no energy left", "Valve position noted"),
    ("Isolated, locked, tagged", "Gauge at zero", "Cool enough to work"),
)  # fmt: skip
#: The left table: title, quantity and kind. `cut_style` and loose packing change the titles of two lines.
_PLANNED: Final = (
    ("Stem diameter", "stem_diameter", "length"), ("Box bore", "box_bore", "length"), ("Depth, bare bottom", "box_depth", "length"),
    ("Packing section", "stocked_section", "length"), ("Rings", "ring_count", "rings"), ("Spacer; any found?", "spacer_height", "length"),
    ("Cut length", "cut_length", "length"), ("Gap, finger tight", "gland_gap_start", "length"),
    ("Gap at the end", "gland_gap_end", "length"), ("Take-up, at least", "least_take_up", "length"),
    ("Flats a nut, forecast", "flats_to_compress", "flats"),
)  # fmt: skip
_PASSES: Final = (("Pass 1", "stud_torque_first"), ("Pass 2", "stud_torque_second"), ("Pass 3", "stud_torque"))
_TOOLS: Final = (
    ("Mandrel", "mandrel_diameter"), ("Bushing, out", "bushing_outside"), ("Bushing, in", "bushing_inside"),
    ("Bushing, long", "bushing_length"), ("Hook, reach", "hook_reach"), ("Hook, thick", "hook_thickness"),
)  # fmt: skip
_OUT_CAUTION: Final = (
    "CAUTION. Both sides isolated, drained and proved at zero energy; pressure and liquid can stay between seats and in dead legs. Stand "
    "aside of the joint. Support valve and both pipe ends before a nut is slackened: a line may spring. The centre of gravity is uneven: "
    "try the lift by a hand's breadth. Never sling by stem, yoke or handwheel; nobody under the load; a competent rigger decides. Old "
    "gaskets may hold asbestos. The site's procedures, the maker's manual and local codes come first."
)  # fmt: skip
_OUT_TAKE: Final = (
    "TAKE OUT  □ Mark on each flange the lowest hole on the side away from you as 1; count clockwise, seen from the valve.  □ Mark flow "
    "arrow and position.  □ Oil the nuts, wait (oxygen: no oil).  □ Slacken all in the order below, nuts left on, until both joints are "
    "seen open and drained.  □ In each flange the two named bolts stay.  □ Sling on and taut, then the last two.  □ Blank the open ends; "
    "tag the parts."
)  # fmt: skip
_OUT_BACK: Final = (
    "PUT BACK  □ Faces clean, no scratch across.  □ New gasket in each joint, its marking read, no grease on it.  □ Flow arrow right.  "
    "□ Studs and nuts run free by hand, lubricant as named on thread and nut face (oxygen: only what is made for it).  □ Flanges in line: "
    "offset, gap and holes as below, without pulling by the bolts.  □ Snug by hand in the tightening order, gap even all round."
)  # fmt: skip
_OUT_FINISH: Final = (
    "THEN  □ Round and round at the full torque until no nut turns.  □ At least a thread beyond each nut.  □ Blanks and tags off.  □ Leak "
    "test by site procedure.  □ Retighten cold only, never under pressure.  □ Stroke, and actuator retest."
)  # fmt: skip
#: The left table of the second page: title, quantity and kind.
_OUT_LEFT: Final = (
    ("Bolts a flange", "flange_bolt_count", "count"), ("Stud length", "flange_bolt_length", "length"),
    ("Wrench, two of them", "flange_wrench", "length"), ("Gaskets", "flange_gaskets", "count"), ("Studs in all", "flange_studs", "count"),
    ("Nuts in all", "flange_nuts", "count"),
)  # fmt: skip
_OUT_RIGHT: Final = (
    ("Mass to lift, kg | lb", "valve_mass", "card_count"), ("Legs counted", "legs_counted", "card_count"),
    ("Angle from level, °", "sling_angle", "card_length"), ("Load of a leg, kg | lb", "leg_tension", "card_count"),
    ("Capacity of a leg, kg | lb", "leg_capacity", "card_count"), ("Share of the capacity", "leg_share", "card_mass"),
)  # fmt: skip
_OUT_PASSES: Final = (("Pass 1", "flange_torque_first"), ("Pass 2", "flange_torque_second"), ("Pass 3", "flange_bolt_torque"))
#: Limits of alignment with boxes for what is found: ASME PCC-1 Appendix E, as read second-hand.
_ALIGNED: Final = (("Offset, most", "flange_offset_most"), ("Gap uneven", "flange_uneven_most"), ("Holes off by", "flange_holes_most"))
_STAYS: Final = "this valve stays in the line: nothing on this page is needed"
_COMES_OUT: Final = "the valve comes out of the line: this page with the first one"
_STATE_WORDS: Final = {
    "READY": "no check speaks", "LOOK": "read first what the checks say", "INCOMPLETE": "a figure is missing: do not start",
    "HOLD": "no card: do not start, ask the planner",
}  # fmt: skip

Cells = list[Cell]
Merges = list[tuple[int, int, int, int]]


class Rows(Protocol):
    """The sheet Working of a list, as a card reads it."""

    @property
    def values(self) -> Mapping[str, Any]:
        """What each quantity and entry holds, valve by valve."""
        ...

    def range(self, name: str) -> str:
        """The whole column of a quantity, its sheet named."""
        ...

    def cell(self, name: str, position: int) -> str:
        """The cell of a quantity in the row of the valve at a position from 0, its sheet named."""
        ...


@dataclass(frozen=True)
class WorkingSheet:
    """The sheet Working of a finished layout of a list, read back: where each quantity stands and what it holds."""

    sheet: Sheet

    @classmethod
    def of(cls, layout: Layout) -> WorkingSheet:
        """The sheet Working of a layout."""
        return cls(next(sheet for sheet in layout.sheets if sheet.name == "Working"))

    @cached_property
    def _columns(self) -> dict[str, int]:
        row = next(cell.row for cell in self.sheet.cells if cell.column == 0 and cell.value == "Name")
        return {str(cell.value): cell.column for cell in self.sheet.cells if cell.row == row and cell.column}

    @cached_property
    def values(self) -> Mapping[str, Any]:
        """What each column holds."""
        held = {column.column: column.values for column in self.sheet.grids[0].columns}
        return {name: held[column] for name, column in self._columns.items()}

    def range(self, name: str) -> str:
        """The whole column of a quantity."""
        first, column = self.sheet.grids[0].first_row, self._columns[name]
        return f"{self.sheet.name}!{block(first, column, first + len(self.values[name]) - 1, column)}"

    def cell(self, name: str, position: int) -> str:
        """The cell of a quantity in the row of a valve."""
        return f"{self.sheet.name}!{address(self.sheet.grids[0].first_row + position, self._columns[name])}"


def _held(value: object) -> Value:
    """A value of the core as a layout holds it: a number, a text, or None for blank."""
    if value is None or isinstance(value, str):
        return value or None
    number = float(value)  # type: ignore[arg-type]
    return number if math.isfinite(number) else None


def read_one(values: Mapping[str, Any], position: int) -> Callable[[str], Value]:
    """The answers of the valve at a position."""
    return lambda name: _held(values[name][position])


def _literals(text: str) -> str:
    """A long text as Excel literals, each within what one may hold."""
    words, parts = text.split(" "), [""]
    for word in words:
        if len(parts[-1]) + len(word) >= MOST_TEXT:
            parts.append("")
        parts[-1] += f"{word} "
    parts[-1] = parts[-1][:-1]
    return "&".join(f'"{part}"' for part in parts)


def _limit(name: str) -> str:
    return address(list(LIMITS).index(name) + 1, _ASIDE + 1)


def aside() -> Cells:
    """The constants of the page, to the right of it: how many characters fit."""
    cells = [Cell(0, _ASIDE, "Not printed: characters that fit the card", "band"), Cell(0, _ASIDE + 1, "", "band")]
    for row, (title, most) in enumerate(LIMITS.values(), start=1):
        cells += [Cell(row, _ASIDE, f"of {title}", "label"), Cell(row, _ASIDE + 1, most, "number")]
    return cells


class _Page:
    """One page being filled from top to bottom."""

    def __init__(self, top: int, read: Callable[[str], str], values: Callable[[str], Value], chosen: str, more: str) -> None:
        self.top, self.row = top, top
        self.read, self.values, self.more = read, values, more
        self.cells: Cells = []
        self.merges: Merges = []
        self.heights: dict[int, float] = {}
        self.here = address(top, 4)
        self.state_formula = f'IF({chosen},{read("state")},"")' if chosen else read("state")
        self.state = str(values("state") or "")
        self.off = f'OR({self.here}="",{self.here}="HOLD")'
        self.is_off = self.state in {"", "HOLD"}

    def put(
        self, first: int, last: int, value: Value, style: str, formula: str = "", *, row: int | None = None, down: int = 1
    ) -> None:
        """A cell, or a block that is one to the eye, in the current row."""
        at = self.row if row is None else row
        if last > first or down > 1:
            self.merges.append((at, first, at + down - 1, last))
        self.cells.append(Cell(at, first, value, style, formula))

    def next(self, height: float = LINE) -> None:
        """Go on to the next row."""
        self.heights[self.row] = height
        self.row += 1

    def plain(self, *parts: tuple[int, int, str, str]) -> None:
        """Cells with fixed texts or to write in."""
        for first, last, text, style in parts:
            self.put(first, last, text, style)

    def number(self, first: int, last: int, name: str, style: str, unit_set: str = "") -> None:
        """A figure of the valve in the unit of a unit set, or as it is worked out; blank on hold and where the core has none."""
        place, value = self.read(name), self.values(name)
        shown = shown_value(get(name), value, unit_set) if unit_set else value
        text = shown_in(get(name), place, unit_set) if unit_set else f'IF(COUNT({place})=0,"",{place})'
        self.put(first, last, None if self.is_off or not isinstance(value, float) else shown, style, f'IF({self.off},"",{text})')

    def constant(self, first: int, last: int, name: str, style: str) -> None:
        """An assumption; blank on hold."""
        held = None if self.is_off else float(issued_assumptions()[name])
        self.put(first, last, held, style, f'IF({self.off},"",{name})')

    def length(self, first: int, name: str) -> None:
        """A length in mm and beside it in inches."""
        self.number(first, first, name, "card_length")
        self.number(first + 1, first + 1, name, "card_inch", "US")

    def word(self, first: int, last: int, name: str, style: str = "card_text") -> None:
        """A text that was worked out; blank on hold."""
        self.put(first, last, None if self.is_off else self.values(name), style, f'IF({self.off},"",{self.read(name)})')

    def typed(self, first: int, last: int, name: str, style: str = "card_text") -> None:
        """A text as typed, on hold too, with dots where it is too long for its place."""
        place, limit = self.read(name), _limit(name)
        value, most = self.values(name), int(LIMITS[name][1])
        if isinstance(value, str) and len(value) > most:
            value = f"{value[:most]}…"
        text = f'IFERROR(CHOOSE(1+SIGN(LEN({place}))+(LEN({place})>{limit}),"",{place},LEFT({place},{limit})&"…"),"#")'
        self.put(first, last, value if self.state else None, style, f'IF({self.here}="","",{text})')

    # --- the parts of the page, from top to bottom --------------------------------------------------------------------

    def identity(self) -> None:
        """Tag and place, work order and date, and by which formulas."""
        self.put(0, 0, "Tag", "card_label")
        self.typed(1, 4, "tag", "card_bold")
        self.put(5, 5, "Place", "card_label")
        self.typed(6, _LAST, "place")
        self.next()
        self.plain((0, 1, "Work order", "card_label"), (2, 4, "", "card_box"), (5, 5, "Date", "card_label"), (6, 7, "", "card_box"))
        self.put(8, _LAST, f"v{VERSION}, set {fingerprint()}", "card_text")
        self.next()

    def heading(self) -> None:
        """What valve it is, its state, what runs in it and what goes in."""
        self.put(0, 3, "Job card: stem packing", "card_title")
        self.put(4, 5, self.state, "card_state", self.state_formula)
        words = "&".join(f'IF({self.here}="{state}","{said}","")' for state, said in _STATE_WORDS.items())
        self.put(6, _LAST, _STATE_WORDS.get(self.state, ""), "card_words", words)
        self.next(18.0)
        self.identity()
        self.put(0, 0, "Fluid", "card_label")
        self.typed(1, 3, "fluid")
        self.word(4, 5, "fluid_kind")
        self.number(6, 7, "line_pressure", "card_bar", "metric")
        self.number(8, 9, "line_pressure", "card_psi", "US")
        self.number(10, 10, "fluid_temperature", "card_celsius")
        self.number(11, 11, "fluid_temperature", "card_fahrenheit", "US")
        self.next()
        self.put(0, 1, "Packing material", "card_label")
        self.typed(2, 5, "packing_material")
        self.put(6, 7, "Lubricant", "card_label")
        self.typed(8, _LAST, "stud_lubricant")
        self.next()
        self.put(0, 1, "Isolation points", "card_label")
        self.typed(2, _LAST, "isolation_points", "card_wrap")
        self.next(2 * WRAPPED + AROUND)

    def checks(self) -> None:
        """What the checks say, and on hold the reason of the hold."""
        said, held, limit = self.read("all_trouble"), self.read("maker_count_misfit"), _limit("all_trouble")
        formula = (
            f'IF({self.here}="","","The checks say: ")&IF({self.here}="READY","nothing.","")&IF({self.here}="HOLD",{held},"")'
            f'&IF({self.off},"",LEFT({said},{limit})&IF(LEN({said})>{limit},"{self.more}",""))'
        )
        text, most = str(self.values("all_trouble") or ""), int(LIMITS["all_trouble"][1])
        words = f"{text[:most]}{self.more}" if len(text) > most else text
        if self.is_off:
            words = str(self.values("maker_count_misfit") or "") if self.state else ""
        value = f"The checks say: {'nothing.' if self.state == 'READY' else ''}{words}" if self.state else ""
        self.put(0, _LAST, value, "card_block", formula)
        self.next(3 * WRAPPED + AROUND)

    def holds(self) -> None:
        """What is signed before the valve is opened, and the cautions."""
        for line, (left, middle, right) in enumerate(_HOLDS):
            if line:
                self.plain((0, 2, left, "card_label"), (3, 3, "", "card_box"))
            else:
                self.put(0, 3, left, "card_head_left")
            self.plain((4, 6, middle, "card_label"), (7, 7, "", "card_box"), (8, 10, right, "card_label"), (11, 11, "", "card_box"))
            self.next()
        formula = f'{_literals(_CAUTION)}&IF({self.here}="","",{self.read("fluid_caution")})'
        value = _CAUTION + (str(self.values("fluid_caution") or "") if self.state else "")
        self.put(0, _LAST, value, "card_block", formula)
        self.next(6 * WRAPPED + AROUND)
        self.block(_TAKE_OUT, 3)

    def block(self, text: str, lines: int) -> None:
        """Steps with squares to tick, in one wrapped cell."""
        self.steps(_LAST, text)
        self.next(lines * WRAPPED + AROUND)

    def steps(self, last: int, text: str, down: int = 1) -> None:
        """What is to be done, from the left edge to a column; blank on hold."""
        self.put(0, last, "" if self.state == "HOLD" else text, "card_block", f'IF({self.here}="HOLD","",{_literals(text)})', down=down)

    def tables(self) -> None:
        """Planned and found on the left, ring by ring on the right."""
        heads = (
            (0, 1, "Planned"), (2, 2, "mm"), (3, 3, "in"), (4, 4, "1/16 in"), (5, 5, "Found"),
            (6, 6, "Ring"), (7, 7, "Joint °"), (8, 9, "Depth mm in"), (10, 10, "MPa"), (11, 11, "Found"),
        )  # fmt: skip
        for first, last, text in heads:
            self.put(first, last, text, "card_head")
        self.next()
        for line, (title, name, kind) in enumerate(_PLANNED, start=1):
            self._planned(title, name, kind)
            self._ring(line)
            self.next()

    def _planned(self, title: str, name: str, kind: str) -> None:
        if name == "cut_length":
            style = self.read("cut_style")
            cut = "" if self.is_off else str(self.values("cut_style") or "")
            self.put(0, 1, f"{title} {cut}", "card_label", f'"{title} "&IF({self.off},"",{style})')
        elif kind == "rings":
            loose = not self.is_off and self.values("packing_form") == "loose"
            form = self.read("packing_form")
            self.put(0, 1, "Fills, loose" if loose else title, "card_label",
            f'IF({self.off},"{title}",IF({form}="loose","Fills, loose","{title}"))')
        else:
            self.put(0, 1, title, "card_label")
        if kind == "length":
            self.length(2, name)
            if name in WITH_A_RULE:
                self.word(4, 4, f"{name}_sixteenths", "card_rule")
            else:
                self.put(4, 4, "", "card_rule")
        elif kind == "rings":
            form, fills, count = self.read("packing_form"), self.read("loose_fills"), self.read(name)
            held = self.values("loose_fills" if self.values("packing_form") == "loose" else name)
            self.put(2, 2, None if self.is_off else held, "card_count", f'IF({self.off},"",IF({form}="loose",{fills},{count}))')
            self.plain((3, 3, "", "card_rule"), (4, 4, "", "card_rule"))
        else:
            self.number(2, 2, name, "card_length")
            self.plain((3, 3, "", "card_rule"), (4, 4, "", "card_rule"))
        self.put(5, 5, "", "card_box")

    def _ring(self, ring: int) -> None:
        if ring > MOST_RINGS:
            last, count = self.read(f"ring_{MOST_RINGS}"), self.read("ring_count")
            known, held = self.values(f"ring_{MOST_RINGS}"), self.values("ring_count")
            more = not self.is_off and isinstance(known, float) and isinstance(held, float) and held > known
            words = "More rings: see the sheet Working"
            formula = f'IF({self.off},"",IF(AND(COUNT({last})=1,{count}>{last}),"{words}",""))'
            self.put(6, _LAST, words if more else "", "card_text", formula)
            return
        self.number(6, 6, f"ring_{ring}", "card_count")
        self.number(7, 7, f"ring_{ring}_joint", "card_count")
        self.length(8, f"ring_{ring}_depth")
        self.number(10, 10, f"ring_{ring}_stress", "card_length")
        self.put(11, 11, "", "card_box")

    def tightening(self) -> None:
        """The passes with boxes for readings, how to tighten below them, the tools on the right."""
        heads = ((0, 1, "Tighten"), (2, 2, "N·m"), (3, 3, "lbf·ft"), (4, 4, "Gap 1"), (5, 5, "Gap 2"), (6, 6, "Flats"), (7, 7, "Done"))
        for first, last, text in (*heads, (8, 9, "Tools"), (10, 10, "mm"), (11, 11, "in")):
            self.put(first, last, text, "card_head")
        self.next()
        self.put(0, 1, "Finger tight", "card_label")
        self.plain((2, 2, "", "card_rule"), (3, 3, "", "card_rule"))
        self._readings()
        self._tool(0)
        self.next()
        for tool, (title, name) in enumerate(_PASSES, start=1):
            self.put(0, 1, title, "card_label")
            self._torque(name)
            self._tool(tool)
            self.next()
        for tool, (name, style) in enumerate((("retorque_strokes", "card_strokes"), ("retorque_days", "card_days")), start=4):
            self.constant(0, 1, name, style)
            self._torque("stud_torque")
            self._tool(tool)
            self.next()
        self.put(0, 3, "Gaps may differ at most, mm | in", "card_label")
        self.constant(4, 4, "greatest_gap_difference", "card_length")
        inches = None if self.is_off else float(issued_assumptions()["greatest_gap_difference"]) / units.factor("in", "mm")
        self.put(5, 5, inches, "card_inch", f'IF({self.off},"",greatest_gap_difference/inch_length)')
        self.plain((6, 7, "", "card_label"))
        self._wrench()
        self.next()
        self.steps(7, _TIGHTEN, down=3)
        self.put(8, 9, "Tap and die", "card_label")
        self.word(10, 11, "tap_and_die")
        self.next()
        self.put(8, 9, "Mass, kg | lb", "card_label")
        self.number(10, 10, "packing_mass", "card_mass")
        self.number(11, 11, "packing_mass", "card_mass", "US")
        self.next()
        self.plain((8, 9, "Torque tool", "card_label"), (10, 11, "", "card_box"))
        self.next()

    def _readings(self) -> None:
        for column in range(4, 7):
            self.put(column, column, "", "card_box")
        self.put(7, 7, "□", "card_tick")

    def _torque(self, name: str) -> None:
        self.number(2, 2, name, "card_length", "metric")
        self.number(3, 3, name, "card_length", "US")
        self._readings()

    def _tool(self, place: int) -> None:
        title, name = _TOOLS[place]
        self.put(8, 9, title, "card_label")
        self.length(10, name)

    def _wrench(self) -> None:
        """The wrench, and the one for an older nut where that differs."""
        new, old = self.read("wrench_words"), self.read("wrench_old_words")
        older = "" if self.is_off else str(self.values("wrench_old_words") or "")
        self.put(8, 9, "Wrench | old" if older else "Wrench", "card_label", f'IF({self.off},"Wrench",IF({old}="","Wrench","Wrench | old"))')
        value = "" if self.is_off else str(self.values("wrench_words") or "") + (f", {older}" if older else "")
        self.put(10, 11, value, "card_text", f'IF({self.off},"",{new}&IF({old}="","",", "&{old}))')

    def signatures(self) -> None:
        """Who did it, who checked it, who releases the valve."""
        self.plain(
            (0, 0, "Done by", "card_label"), (1, 3, "date", "card_sign"), (4, 4, "Checked", "card_label"), (5, 6, "date", "card_sign"),
            (7, 8, "Released by", "card_label"), (9, _LAST, "date", "card_sign"),
        )  # fmt: skip
        self.next(19.5)


class _SecondPage(_Page):
    """The page of a valve that comes out of the line; blank below its heading for one that stays."""

    def __init__(self, top: int, read: Callable[[str], str], values: Callable[[str], Value], chosen: str, more: str) -> None:
        super().__init__(top, read, values, chosen, more)
        self.stays = f'{read("comes_out")}<>"yes"'
        self.does_stay = values("comes_out") != "yes"
        # Without a valve the reference is an error value, which OR would hand on.
        self.off = f'OR({self.here}="",{self.here}="HOLD",IFERROR({self.stays},1))'
        self.is_off = self.is_off or self.does_stay

    def clipped(self, first: int, last: int, name: str, style: str = "card_text") -> None:
        """A text of the valve, with dots where it is too long; blank on hold."""
        place, limit, most = self.read(name), _limit(name), int(LIMITS[name][1])
        value = str(self.values(name) or "")
        shown = f"{value[:most]}…" if len(value) > most else value
        text = f'IFERROR(LEFT({place},{limit})&IF(LEN({place})>{limit},"…",""),"#")'
        self.put(first, last, "" if self.is_off else shown, style, f'IF({self.off},"",{text})')

    def heading(self) -> None:
        """What valve it is, and whether it comes out at all."""
        self.put(0, 3, "Job card: out and back", "card_title")
        self.put(4, 5, self.state, "card_state", self.state_formula)
        text = f'IF({self.here}="","",IF({self.stays},"{_STAYS}","{_COMES_OUT}"))'
        self.put(6, _LAST, (_STAYS if self.does_stay else _COMES_OUT) if self.state else "", "card_words_wrap", text)
        self.next(2 * WRAPPED + AROUND)
        self.identity()
        self.put(0, 1, "Flanges", "card_label")
        self.word(2, 5, "flange_key")
        self.put(6, 7, "Facing", "card_label")
        self.word(8, _LAST, "flange_facing")
        self.next()
        self.put(0, 1, "Gasket, new", "card_label")
        self.clipped(2, _LAST, "flange_gasket")
        self.next()
        for title, name in (("Check flange", "check_flange"), ("Check lift", "check_lift")):
            self.put(0, 1, title, "card_label")
            self.clipped(2, _LAST, name, "card_wrap")
            self.next(3 * WRAPPED + AROUND)

    def figures(self) -> None:
        """Bolts and wrench on the left, the lift on the right."""
        heads = ((0, 2, "Bolts and gaskets"), (3, 3, "mm"), (4, 4, "in"), (5, 5, "Found"), (6, 9, "Lift"), (10, 10, ""), (11, 11, ""))
        for first, last, text in heads:
            self.put(first, last, text, "card_head")
        self.next()
        self.put(0, 2, "Thread, tap and die", "card_label")
        self.word(3, 4, "flange_bolt_thread")
        self.put(5, 5, "", "card_box")
        self.word(6, _LAST, "mass_words", "card_wrap")
        self.next(2 * WRAPPED + AROUND)
        for (title, name, kind), (right, figure, style) in zip(_OUT_LEFT, _OUT_RIGHT, strict=True):
            self.put(0, 2, title, "card_label")
            if kind == "length":
                self.length(3, name)
            else:
                self.number(3, 3, name, "card_count")
                self.put(4, 4, "", "card_rule")
            self.put(5, 5, "", "card_box")
            self.put(6, 9, right, "card_label")
            if get(figure).dimension:
                self.number(10, 10, figure, style, "metric")
                self.number(11, 11, figure, style, "US")
            else:
                self.number(10, 10, figure, style)
                self.put(11, 11, "", "card_rule")
            self.next()
        self.put(0, 2, "Wrench", "card_label")
        self.word(3, 5, "flange_wrench_words")
        self.put(6, 7, "Grade", "card_label")
        self.clipped(8, _LAST, "flange_bolt_grade")
        self.next()

    def orders(self) -> None:
        """In what order the bolts are slackened, and which two stay."""
        self.put(0, 2, "Slacken in this order", "card_label")
        self.word(3, _LAST, "flange_slacken_order", "card_wrap")
        self.next(2 * WRAPPED + AROUND)
        self.put(0, 2, "These two stay", "card_label")
        self.number(3, 3, "flange_kept_1", "card_count")
        self.number(4, 4, "flange_kept_2", "card_count")
        self.put(5, _LAST, "in each flange, till the sling is taut", "card_text")
        self.next()

    def torque(self) -> None:
        """The tightening order, the passes with boxes for both flanges, and the limits of alignment beside them."""
        self.put(0, 2, "Tighten in this order", "card_label")
        self.word(3, _LAST, "flange_cross_order", "card_wrap")
        self.next(2 * WRAPPED + AROUND)
        heads = ((0, 1, "Tighten joint"), (2, 2, "N·m"), (3, 3, "lbf·ft"), (4, 4, "A"), (5, 5, "B"),
                 (6, 7, "In line"), (8, 8, "mm"), (9, 9, "in"), (10, 10, "A"), (11, 11, "B"))  # fmt: skip
        for first, last, text in heads:
            self.put(first, last, text, "card_head")
        self.next()
        for (title, name), (limit_title, limit) in zip(_OUT_PASSES, _ALIGNED, strict=True):
            self.put(0, 1, title, "card_label")
            self.number(2, 2, name, "card_length", "metric")
            self.number(3, 3, name, "card_length", "US")
            self.plain((4, 4, "□", "card_tick"), (5, 5, "□", "card_tick"))
            self.put(6, 7, limit_title, "card_label")
            self.constant(8, 8, limit, "card_length")
            inches = None if self.is_off else float(issued_assumptions()[limit]) / units.factor("in", "mm")
            self.put(9, 9, inches, "card_inch", f'IF({self.off},"",{limit}/inch_length)')
            self.plain((10, 10, "", "card_box"), (11, 11, "", "card_box"))
            self.next()
        self.put(0, 1, "Pass 4, round", "card_label")
        self.number(2, 2, "flange_bolt_torque", "card_length", "metric")
        self.number(3, 3, "flange_bolt_torque", "card_length", "US")
        self.plain((4, 4, "□", "card_tick"), (5, 5, "□", "card_tick"), (6, 7, "Lubricant", "card_label"))
        self.clipped(8, _LAST, "flange_lubricant")
        self.next()
        self.plain((0, 1, "Torque tool", "card_label"), (2, 5, "", "card_box"), (6, 9, "Gasket marking read", "card_label"),
                   (10, _LAST, "", "card_box"))  # fmt: skip
        self.next()

    def steps(self, last: int, text: str, down: int = 1) -> None:
        """What is to be done; blank on hold, and for a valve that stays."""
        self.put(0, last, "" if self.is_off else text, "card_block", f'IF({self.off},"",{_literals(text)})', down=down)


def second_page(
    top: int, read: Callable[[str], str], values: Callable[[str], Value], *, chosen: str = "", more: str
) -> tuple[Cells, Merges, dict[int, float]]:
    """The page of a valve that comes out of the line, as `page` makes the first one."""
    card = _SecondPage(top, read, values, chosen, more)
    card.heading()
    card.block(_OUT_CAUTION, 5)
    card.figures()
    card.block(_OUT_TAKE, 5)
    card.orders()
    card.block(_OUT_BACK, 5)
    card.torque()
    card.block(_OUT_FINISH, 3)
    card.signatures()
    return card.cells, card.merges, card.heights


def _both(
    top: int, read: Callable[[str], str], values: Callable[[str], Value], *, chosen: str = "", more: str
) -> tuple[Cells, Merges, dict[int, float], int]:
    """Both pages one below the other, and the first row of the second one."""
    cells, merges, heights = page(top, read, values, chosen=chosen, more=more)
    below = max(heights) + 1
    others = second_page(below, read, values, chosen=chosen, more=more)
    return [*cells, *others[0]], [*merges, *others[1]], heights | others[2], below


def page(
    top: int, read: Callable[[str], str], values: Callable[[str], Value], *, chosen: str = "", more: str
) -> tuple[Cells, Merges, dict[int, float]]:
    """The cells, the blocks that are one cell to the eye, and the heights in points of one card whose first row is `top`.

    `read` gives the Excel reference of a quantity or an entry, `values` the core's answer in coherent units, None for
    blank. `chosen` is the Excel test that there is a valve at all; without one, there is. `more` ends what the checks
    say where it is too long. The sheet holds the cells of `aside` as well.
    """
    card = _Page(top, read, values, chosen, more)
    card.heading()
    card.checks()
    card.holds()
    card.tables()
    card.block(_FIT, 3)
    card.tightening()
    card.block(_FINISH, 2)
    card.signatures()
    return card.cells, card.merges, card.heights


def _see(sheet: str) -> str:
    return f"… see the sheet {sheet}"


def _footer() -> str:
    return f"version {VERSION}   formulas {fingerprint()}"


def _marks(first: int, last: int) -> tuple[Mark, ...]:
    here = f"$E{first + 1}"
    return (
        Mark(first, 4, last, 5, f'{here}="HOLD"', "stop"),
        Mark(first, 4, last, 5, f'OR({here}="LOOK",{here}="INCOMPLETE")', "warn"),
    )


def _widths() -> dict[int, float]:
    return {**WIDTHS, _LAST + 1: 4.0, _ASIDE: 42.0, _ASIDE + 1: 12.0}


def sheet_for_one(values: Mapping[str, Any]) -> Sheet:
    """The card of the one-valve workbook. `values` holds an array of length 1 for each quantity; references are names."""
    cells, merges, heights, below = _both(0, lambda name: name, read_one(values, 0), more=_see("Working"))
    return Sheet(
        NAME, (*cells, *aside()), merges=tuple(merges), heights=heights, widths=_widths(), marks=(*_marks(0, 0), *_marks(below, below)),
        landscape=False, breaks=(below,), scale=100, print_area=(0, 0, max(heights), _LAST), margins=MARGINS, footer=_footer(),
        footer_size=11,
    )  # fmt: skip


#: Rows above the card of a list: the choice of the tag.
_ABOVE: Final = 2


def sheet_for_list(rows: Rows) -> Sheet:
    """The card of a list workbook: it fills itself for the tag chosen from a drop-down, at first the first one."""
    tags = ["" if tag is None else str(tag) for tag in rows.values["tag"]]
    position = next((place for place, tag in enumerate(tags) if tag), None)
    typed_at, row_at = address(0, 1), address(0, 8)
    escaped = typed_at
    for character in ("~", "*", "?"):
        escaped = f'SUBSTITUTE({escaped},"{character}","~{character}")'
    above = [
        Cell(0, 0, "▸ Tag", "card_words"), Cell(0, 1, "" if position is None else tags[position], "entry_text"),
        Cell(0, 5, "Row in Working", "card_words"),
        Cell(0, 8, "not in the list" if position is None else float(position + 1), "working",
             f'IF({typed_at}="","not in the list",IFERROR(MATCH({escaped},{rows.range("tag")},0),"not in the list"))'),
    ]  # fmt: skip
    values: Callable[[str], Value] = (lambda _name: None) if position is None else read_one(rows.values, position)
    cells, merges, heights, below = _both(
        _ABOVE, lambda name: f"INDEX({rows.range(name)},{row_at})", values, chosen=f"COUNT({row_at})=1", more=_see("Working")
    )  # fmt: skip
    return Sheet(
        NAME, (*above, *cells, *aside()), merges=((0, 1, 0, 4), (0, 8, 0, _LAST), *merges),
        heights={0: 20.0, 1: 8.0, **heights}, widths=_widths(), marks=(*_marks(_ABOVE, _ABOVE), *_marks(below, below)), landscape=False,
        breaks=(below,), scale=100,
        validations=(Validation(0, 1, 0, 1, choices=rows.range("tag")),), selected=(0, 1),
        print_area=(_ABOVE, 0, max(heights), _LAST), margins=MARGINS, footer=_footer(), footer_size=11,
    )  # fmt: skip


def sheets_for_cards(rows: Rows, positions: Sequence[int]) -> tuple[Sheet, ...]:
    """One card for each position in the list, each on a page of its own, or two; so many a sheet as a spreadsheet takes."""
    parts = [positions[start : start + MOST_ON_A_SHEET] for start in range(0, len(positions), MOST_ON_A_SHEET)]
    return tuple(_cards(rows, part, CARDS if number == 1 else f"{CARDS} {number}") for number, part in enumerate(parts, start=1))


def with_cards(layout: Layout, positions: Sequence[int]) -> Layout:
    """The layout of a list with the cards of these valves before its other sheets; it opens on the first card."""
    first, *others = sheets_for_cards(WorkingSheet.of(layout), positions)
    behind = (replace(sheet, active=False) for sheet in layout.sheets)
    return replace(layout, title=f"Job cards. {layout.title}", sheets=(replace(first, active=True), *others, *behind))


def _cards(rows: Rows, positions: Sequence[int], name: str) -> Sheet:
    cells: Cells = aside()
    merges: Merges = []
    heights: dict[int, float] = {}
    breaks: list[int] = []
    top = 0
    for position in positions:
        values = read_one(rows.values, position)
        for one in (page, *([second_page] if values("comes_out") == "yes" else [])):
            new, blocks, high = one(
                top, lambda quantity, at=position: rows.cell(quantity, at), values, more=_see("Working")  # type: ignore[misc]
            )
            cells += new
            merges += blocks
            heights |= high
            top = max(high) + 1
            breaks.append(top)
    return Sheet(
        name, tuple(cells), merges=tuple(merges), heights=heights, widths=_widths(), marks=_marks(0, top - 1), landscape=False,
        breaks=tuple(breaks[:-1]), scale=100, print_area=(0, 0, top - 1, _LAST), margins=MARGINS, footer=_footer(), footer_size=11,
    )  # fmt: skip
