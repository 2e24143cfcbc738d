"""A printed page of the job card as it is filled from top to bottom: its measures, its words, and the kinds of cells on it."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib.resources import files
from typing import Any, Final

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.calculations.run import issued_assumptions
from sheetcalc.declare.formula import MOST_TEXT, SENTENCE_END
from sheetcalc.declare.quantity import Constant, Gravity, get
from sheetcalc.reference.sources import cite
from sheetcalc.sheets.common import VERSION, fingerprint, shown_in, shown_value
from sheetcalc.sheets.layout import Cell, Value, address
from sheetcalc.sheets.usable import look_of, usable_in, usable_value

#: The fixed words of the card, its limits and its lines.
TEXTS: Final[Mapping[str, Any]] = tomllib.loads(files("sheetcalc.sheets").joinpath("card.toml").read_text(encoding="utf-8"))
#: Points of a row with one line, of a line in a wrapped cell, and what such a cell needs besides.
LINE, WRAPPED, AROUND = 14.25, 12.75, 2.25

_PIXELS: Final = (68, 75, 48, 63, 64, 52, 43, 51, 46, 63, 59, 63)
#: The first of two columns that have a figure in both units: a fraction of an inch takes more room.
_PAIRS: Final = (2, 8, 10)
#: The last column of the page.
LAST: Final = len(_PIXELS) - 1
#: Where the constants of the page stand, to the right of what is printed.
ASIDE: Final = LAST + 2
#: How many characters of a text from outside fit their place, by the quantity that is the text.
LIMITS: Final[Mapping[str, float]] = {name: limit["most"] for name, limit in TEXTS["limits"].items()}

#: The styles of the page for those of other sheets.
_LOOKS: Final = {
    "answer_2": "card_length",
    "answer_fraction": "card_fraction",
    "answer_in": "card_inch",
    "answer_fine": "card_fine",
    "answer_figures": "card_figures",
    "answer_count": "card_count",
}

Cells = list[Cell]
Merges = list[tuple[int, int, int, int]]
#: Gives the Excel reference of a quantity.
Read = Callable[[str], str]
#: Gives the core's answer for a quantity, None for blank.
Values = Callable[[str], Value]


def widths(sets: Sequence[str]) -> dict[int, float]:
    """Widths of the columns of the page, in characters as a sheet counts them; `sets` says which unit set stands first."""
    pixels = list(_PIXELS)
    for at in _PAIRS if sets[0] == "US" else ():
        pixels[at : at + 2] = pixels[at + 1], pixels[at]
    return {column: round((wide - 5) / 7, 4) for column, wide in enumerate(pixels)}


def _held(value: object) -> Value:
    """A value of the core as a layout holds it: a number, a text, or None for blank."""
    if value is None or isinstance(value, str):
        return value or None
    number = float(value)  # type: ignore[arg-type]
    return number if math.isfinite(number) else None


def read_one(values: Mapping[str, Any], position: int) -> Values:
    """The answers of the valve at a position."""
    return lambda name: _held(values[name][position])


def literals(text: str) -> str:
    """A long text as Excel literals, each within what one may hold."""
    words, parts = text.split(" "), [""]
    for word in words:
        if len(parts[-1]) + len(word) >= MOST_TEXT:
            parts.append("")
        parts[-1] += f"{word} "
    parts[-1] = parts[-1][:-1]
    return "&".join(f'"{part}"' for part in parts)


def _limited(there: Answers) -> list[str]:
    return [name for name in LIMITS if name in there]


def aside(there: Answers) -> Cells:
    """What stands to the right of the page: how many characters fit, and where the limits of its caution are from."""
    cells = [Cell(0, ASIDE, "Not printed: characters that fit the card", "band"), Cell(0, ASIDE + 1, "", "band")]
    for row, name in enumerate(_limited(there), start=1):
        cells += [Cell(row, ASIDE, f"of {TEXTS['limits'][name]['of']}", "label"), Cell(row, ASIDE + 1, LIMITS[name], "number")]
    source = cite(TEXTS["gland"]["caution_source"])
    return [*cells, Cell(len(_limited(there)) + 2, ASIDE, f"Asbestos: {source.text} ({source.grade.value})", "label")]


#: What stands after the sentences that fit, and their number.
MORE: Final = " more: ask the planner."


def _count(text: str) -> str:
    return f'(LEN({text})-LEN(SUBSTITUTE({text},"{SENTENCE_END}","")))/{len(SENTENCE_END)}'


def first_sentences(said: str, limit: str, *, counted: bool = True) -> str:
    """Excel text of as many whole sentences as fit, the first one always, and, if `counted`, of how many are left out."""
    kept = f"MAX(1,{_count(f'LEFT({said},{limit}+1)')})"
    cut = f'LEFT({said},FIND("|",SUBSTITUTE({said},"{SENTENCE_END}","|",{kept})))'
    rest = f'&" And "&(1+{_count(said)}-{kept})&"{MORE}"' if counted else ""
    return f"IF(LEN({said})>{limit},IFERROR({cut}{rest},{said}),{said})"


def sentences_that_fit(said: str, most: int, *, counted: bool = True) -> str:
    """The same in Python."""
    sentences = said.split(SENTENCE_END)
    if len(said) <= most or len(sentences) == 1:
        return said
    kept = max(1, said[: most + 1].count(SENTENCE_END))
    return f"{SENTENCE_END.join(sentences[:kept])}." + (f" And {len(sentences) - kept}{MORE}" if counted else "")


class Page:
    """One page being filled. What the workbook does not have is an empty text to a formula, and leaves its own cells empty."""

    def __init__(self, top: int, read: Read, values: Values, *, chosen: str, there: Answers, sets: Sequence[str]) -> None:
        self.row, self.there, self.sets = top, there, sets
        self.units = {f"{of}_{at}": units.shown(units.UNIT_SETS[one][of]) for at, one in enumerate(sets, start=1) for of in units.COHERENT}
        self.read: Read = lambda name: read(name) if name in there else '""'
        self.values: Values = lambda name: values(name) if name in there else None
        self.limits = {name: address(row, ASIDE + 1) for row, name in enumerate(_limited(there), start=1)}
        self.cells: Cells = []
        self.merges: Merges = []
        self.heights: dict[int, float] = {}
        self.here = address(top, 4)
        self.state_formula = f'IF({chosen},{read("state")},"")' if chosen else read("state")
        self.state = str(values("state") or "")
        self.off = f'OR({self.here}="",{self.here}="{Gravity.STOP}")'
        self.is_off = self.state in {"", Gravity.STOP}

    def put(self, first: int, last: int, value: Value, style: str, formula: str = "", *, down: int = 1) -> None:
        """A cell, or a block that is one to the eye, in the current row."""
        if last > first or down > 1:
            self.merges.append((self.row, first, self.row + down - 1, last))
        self.cells.append(Cell(self.row, first, value, style, formula))

    def next(self, height: float = LINE) -> None:
        """Go on to the next row."""
        self.heights[self.row] = height
        self.row += 1

    def plain(self, *parts: tuple[int, int, str, str]) -> None:
        """Cells with fixed texts or to write in."""
        for first, last, text, style in parts:
            self.put(first, last, text, style)

    def heads(self, parts: Iterable[tuple[int, int, str]]) -> None:
        """The heads of columns, in a row of their own."""
        for first, last, text in parts:
            self.put(first, last, self.in_units(text), "card_head")
        self.next()

    def label(self, first: int, last: int, text: str, name: str) -> None:
        """The title of a quantity."""
        self.put(first, last, self.in_units(text) if name in self.there else "", "card_label")

    def in_units(self, text: str) -> str:
        """A text with the units of the page, such as {mass_1} for that of a mass in the unit set that stands first."""
        return text.format_map(self.units)

    def kept(self, lines: Sequence[Sequence[str]]) -> list[Sequence[str]]:
        """The lines whose quantity the workbook has, and empty ones below them for the others."""
        kept = [line for line in lines if line[1] in self.there]
        return [*kept, *([""] * len(line) for line in lines[len(kept) :])]

    def number(self, first: int, last: int, name: str, style: str, unit_set: str = "") -> None:
        """A figure of the valve in the unit of a unit set, or as it is worked out; blank on a stop and where the core has none."""
        if name not in self.there:
            self.put(first, last, "", style)
            return
        place, value = self.read(name), self.values(name)
        shown = usable_value(get(name), value, unit_set) if unit_set else value
        text = usable_in(get(name), place, unit_set) if unit_set else f'IF(COUNT({place})=0,"",{place})'
        self.put(first, last, None if self.is_off or not isinstance(value, float) else shown, style, f'IF({self.off},"",{text})')

    def length(self, first: int, name: str) -> None:
        """A length in both units."""
        self.both_units(first, name, "")

    def both_units(self, first: int, name: str, style: str) -> None:
        """A figure in the unit of the set that stands first, and beside it in that of the other."""
        for column, unit_set in enumerate(self.sets, start=first):
            self.number(column, column, name, self.look(name, unit_set, style), unit_set)

    def look(self, name: str, unit_set: str, usual: str) -> str:
        """How a figure looks in the unit of a unit set."""
        quantity = get(name)
        if quantity.dimension == "length":
            usual = {"metric": "card_length", "US": "card_inch"}[unit_set]
        look = look_of(quantity, unit_set, usual)
        return _LOOKS.get(look, look)

    def constant(self, first: int, last: int, name: str, style: str) -> None:
        """An assumption; blank where a stop speaks."""
        if name not in self.there:
            self.put(first, last, "", style)
            return
        held = None if self.is_off else float(issued_assumptions()[name])
        self.put(first, last, held, style, f'IF({self.off},"",{name})')

    def constant_length(self, first: int, name: str) -> None:
        """An assumption that is a length, in both units."""
        for column, unit_set in enumerate(self.sets, start=first):
            if unit_set == "metric" or name not in self.there:
                self.constant(column, column, name, self.look(name, unit_set, ""))
                continue
            inches = None if self.is_off else float(issued_assumptions()[name]) / units.factor("in", "mm")
            self.put(column, column, inches, "card_inch", f'IF({self.off},"",{name}/inch_length)')

    def limit(self, column: int, name: str) -> None:
        """What is found is held against this length, of the valve or an assumption: in the unit of the set that stands first."""
        unit_set = self.sets[0]
        style = self.look(name, unit_set, "") if name else ""
        if name not in self.there or not isinstance(get(name), Constant):
            self.number(column, column, name, style, unit_set)
            return
        held = None if self.is_off else shown_value(get(name), float(issued_assumptions()[name]), unit_set)
        self.put(column, column, held, style, f'IF({self.off},"",{shown_in(get(name), name, unit_set)})')

    def constant_word(self, first: int, last: int, name: str) -> None:
        """An assumption in words, with dots where it is too long for its place; blank where a stop speaks."""
        if name not in self.there:
            self.put(first, last, "", "card_text")
            return
        limit, held, most = self.limits[name], str(issued_assumptions()[name]), int(LIMITS[name])
        value = f"{held[:most]}…" if len(held) > most else held
        text = f'LEFT({name},{limit})&IF(LEN({name})>{limit},"…","")'
        self.put(first, last, None if self.is_off else value, "card_text", f'IF({self.off},"",{text})')

    def word(self, first: int, last: int, name: str, style: str = "card_text") -> None:
        """A text that was worked out; blank where a stop speaks."""
        if name not in self.there:
            self.put(first, last, "", style)
            return
        self.put(first, last, None if self.is_off else self.values(name), style, f'IF({self.off},"",{self.read(name)})')

    def typed(self, first: int, last: int, name: str, style: str = "card_text") -> None:
        """A text as typed, where a stop speaks too, with dots where it is too long for its place."""
        if name not in self.there:
            self.put(first, last, "", style)
            return
        place, limit = self.read(name), self.limits[name]
        value, most = self.values(name), int(LIMITS[name])
        if isinstance(value, str) and len(value) > most:
            value = f"{value[:most]}…"
        text = f'IFERROR(CHOOSE(1+SIGN(LEN({place}))+(LEN({place})>{limit}),"",{place},LEFT({place},{limit})&"…"),"#")'
        self.put(first, last, value if self.state else None, style, f'IF({self.here}="","",{text})')

    def listed(self, steps: Iterable[str]) -> str:
        """Steps as one text, with squares to tick."""
        return "  □ ".join(self.in_units(step) for step in steps)

    def steps(self, last: int, text: str) -> None:
        """What is to be done, from the left edge to a column; blank where a stop speaks."""
        stopped = f'{self.here}="{Gravity.STOP}"'
        self.put(0, last, "" if self.state == Gravity.STOP else text, "card_block", f'IF({stopped},"",{literals(text)})')

    def block(self, text: str, lines: int) -> None:
        """What is to be done, in a row of its own."""
        self.steps(LAST, text)
        self.next(lines * WRAPPED + AROUND)

    def identity(self) -> None:
        """Tag and place, work order and date, and by which formulas."""
        self.label(0, 0, "Tag", "tag")
        self.typed(1, 4, "tag", "card_bold")
        self.label(5, 5, "Place", "place")
        self.typed(6, LAST, "place")
        self.next()
        self.plain((0, 1, "Work order", "card_label"), (2, 4, "", "card_box"), (5, 5, "Date", "card_label"), (6, 7, "", "card_box"))
        self.put(8, LAST, f"v{VERSION}, set {fingerprint(self.there)}", "card_text")
        self.next()

    def signatures(self) -> None:
        """Who did it, who checked it, who releases the valve."""
        self.plain(*TEXTS["foot"]["signatures"])
        self.next(19.5)
