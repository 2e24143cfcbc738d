"""The first page of the job card, for the person at the gland. A valve that is stopped shows its tag and the reason."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any, Final

from sheetcalc.calculations.answers import Answers
from sheetcalc.calculations.valve.fitting import MOST_RINGS
from sheetcalc.declare.quantity import Gravity, get
from sheetcalc.sheets.card_page import (
    AROUND,
    LAST,
    LIMITS,
    TEXTS,
    WRAPPED,
    Cells,
    Merges,
    Page,
    Read,
    Values,
    first_sentences,
    literals,
    sentences_that_fit,
)
from sheetcalc.sheets.layout import Value, address
from sheetcalc.sheets.usable import usable_in, usable_value
from sheetcalc.units import UNIT_SETS

_TEXTS: Final[Mapping[str, Any]] = TEXTS["gland"]
#: The blocks of full width in which what stops a valve finds room, one after the other.
_STOP_BLOCKS: Final = 4
#: The first columns of the thirds of a row, each a title, a figure and a box.
_THIRDS: Final = (0, 4, 8)
_PRESSURES: Final = {"metric": "card_bar", "US": "card_psi"}
_TEMPERATURES: Final = {"metric": "card_celsius", "US": "card_fahrenheit"}
#: What stands in the place of a joint in the line of a lantern ring.
_LANTERN: Final = "lantern"


class _GlandPage(Page):
    """The parts of the page, from top to bottom."""

    def heading(self) -> None:
        """What valve it is, its state, what runs in it and what goes in."""
        states = TEXTS["states"]
        self.put(0, 3, _TEXTS["title"], "card_title")
        self.put(4, 5, self.state, "card_state", self.state_formula)
        words = "&".join(f'IF({self.here}="{state}","{said}","")' for state, said in states.items())
        self.put(6, LAST, states.get(self.state, ""), "card_words", words)
        self.next(18.0)
        self.identity()
        self.label(0, 0, "Fluid", "fluid")
        self.typed(1, 3, "fluid")
        self.word(4, 5, "fluid_kind")
        for at, unit_set in enumerate(self.sets):
            self.number(6 + 2 * at, 7 + 2 * at, "line_pressure", _PRESSURES[unit_set], unit_set)
            self.number(10 + at, 10 + at, "fluid_temperature", _TEMPERATURES[unit_set], unit_set)
        self.next()
        self.label(0, 1, "Packing material", "packing_material")
        self.typed(2, 5, "packing_material")
        self.label(6, 7, "Lubricant", "stud_lubricant")
        self.typed(8, LAST, "stud_lubricant")
        self.next()
        self.label(0, 1, "Isolation points", "isolation_points")
        self.typed(2, LAST, "isolation_points", "card_wrap")
        self.next(2 * WRAPPED + AROUND)

    def checks(self) -> None:
        """What is said of the valve, the gravest first; of one that is stopped all that stops it, however long."""
        said, stops, limit = self.read("all_trouble"), self.read("all_stop"), self.limits["all_trouble"]
        formula = (
            f'IF({self.here}="","",IF({self.here}="{Gravity.STOP}",{first_sentences(stops, limit, counted=False)},'
            f'IF({said}="","Nothing to look at.",{first_sentences(said, limit)})))'
        )
        most = int(LIMITS["all_trouble"])
        value = sentences_that_fit(str(self.values("all_trouble") or ""), most) or "Nothing to look at."
        if self.state == Gravity.STOP:
            value = sentences_that_fit(str(self.values("all_stop") or ""), most, counted=False)
        self.stops_said = [(address(self.row, 0), value)]
        self.put(0, LAST, value if self.state else "", "card_block", formula)
        self.next(3 * WRAPPED + AROUND)

    def block(self, text: str, lines: int) -> None:
        """Steps in a row of their own."""
        self.steps(LAST, text)
        self.next(lines * WRAPPED + AROUND)

    def steps(self, last: int, text: str, down: int = 1, chosen: str = "") -> None:
        """Steps, by a formula where they are `chosen`; of a stopped valve what else stops it and fits, in the last block all the rest."""
        stops, value = self.read("all_stop"), str(self.values("all_stop") or "")
        begin = "+".join(f"LEN({place})+1" for place, _said in self.stops_said)
        rest = f"MID({stops},{begin}+1,LEN({stops}))"
        value = value[sum(len(said) + 1 for _place, said in self.stops_said) :]
        if len(self.stops_said) < _STOP_BLOCKS - 1:
            rest = first_sentences(rest, self.limits["all_trouble"], counted=False)
            value = sentences_that_fit(value, int(LIMITS["all_trouble"]), counted=False)
        self.stops_said.append((address(self.row, 0), value))
        stopped = self.state == Gravity.STOP
        formula = f'IF({self.here}="{Gravity.STOP}",{rest},{chosen or literals(text)})'
        self.put(0, last, value if stopped else text, "card_block", formula, down=down)

    def holds(self) -> None:
        """What is signed before the valve is opened, and the cautions."""
        for line, (left, middle, right) in enumerate(_TEXTS["holds"]):
            if line:
                self.plain((0, 2, left, "card_label"), (3, 3, "", "card_box"))
            else:
                self.put(0, 3, left, "card_head_left")
            self.plain((4, 6, middle, "card_label"), (7, 7, "", "card_box"), (8, 10, right, "card_label"), (11, 11, "", "card_box"))
            self.next()
        caution = f"{_TEXTS['caution']} "
        formula = f'{literals(caution)}&IF({self.here}="","",{self.read("fluid_caution")})'
        value = caution + (str(self.values("fluid_caution") or "") if self.state else "")
        self.put(0, LAST, value, "card_block", formula)
        self.next(6 * WRAPPED + AROUND)

    def acceptance(self) -> None:
        """What stem, box, follower and bushing are held against, each with a box."""
        for line in _TEXTS["acceptance"]:
            for first, (title, name) in zip(_THIRDS, line, strict=True):
                self.label(first, first + 1, title, name)
                self.limit(first + 2, name)
                self.put(first + 3, first + 3, "", "card_box")
            self.next()

    def tables(self) -> None:
        """Planned and found on the left, ring by ring on the right."""
        self.heads(_TEXTS["planned_heads"])
        for line, (title, name, kind, limit) in enumerate(self.kept(_TEXTS["planned"]), start=1):
            self._planned(title, name, kind)
            if limit:
                self.put(4, 4, "", "card_box")
                self.limit(5, limit)
            else:
                self.put(4, 5, "", "card_box")
            self._ring(line)
            self.next()

    def _planned(self, title: str, name: str, kind: str) -> None:
        if name == "cut_length":
            style, skived = self.read("cut_style"), _TEXTS["skived"]
            cut = "" if self.is_off else str(self.values("cut_style") or "")
            formula = f'IF({self.off},"{title} ",IF({style}="skive","{skived}","{title} "&{style}))'
            self.put(0, 1, skived if cut == "skive" else f"{title} {cut}", "card_label", formula)
        elif kind == "rings":
            self._rings_title(title, name)
        else:
            self.put(0, 1, title, "card_label")
        if kind == "length":
            self.length(2, name)
        elif kind == "rings":
            self._rings(name)
            self.put(3, 3, "", "card_rule")
        else:
            self.plain((2, 2, "", "card_length"), (3, 3, "", "card_rule"))

    def _rings_title(self, title: str, count: str) -> None:
        """Rings or fills of loose packing, and where those are that have no line."""
        last, form, below = f"ring_{MOST_RINGS}", self.read("packing_form"), "rings_below_lantern"
        fills, words = _TEXTS["loose"], _TEXTS["more_rings"]
        known, held, lantern = self.values(last), self.values(count), self.values(below)
        more = isinstance(known, float) and isinstance(held, float) and held + isinstance(lantern, float) > known
        value = fills if self.values("packing_form") == "loose" else words if more else title
        rest = f'"{title}"'
        if last in self.there:
            items = f"SUM({self.read(count)})+COUNT({self.read(below)})"
            rest = f'IF(AND(COUNT({self.read(last)})=1,{items}>{self.read(last)}),"{words}",{rest})'
        formula = f'IF({self.off},"{title}",IF({form}="loose","{fills}",{rest}))'
        self.put(0, 1, title if self.is_off else value, "card_label", formula)

    def _rings(self, name: str) -> None:
        """The count of the rings, or the fills of loose packing."""
        form, fills, count = self.read("packing_form"), self.read("loose_fills"), self.read(name)
        held = self.values("loose_fills" if self.values("packing_form") == "loose" else name)
        self.put(2, 2, None if self.is_off else held, "card_count", f'IF({self.off},"",IF({form}="loose",{fills},{count}))')

    def _ring(self, ring: int) -> None:
        self._line(6, ring, "", "card_count")
        self._line(7, ring, "_joint", "card_count")
        for column, unit_set in enumerate(self.sets, start=8):
            self._line(column, ring, "_depth", self.look("ring_1_depth", unit_set, ""), unit_set)
        self._line(10, ring, "_stress", "card_count", self.sets[0])
        self.put(11, 11, "", "card_box")

    def _line(self, column: int, line: int, figure: str, style: str, unit_set: str = "") -> None:
        """A figure in a line of the ring table: of the ring of that number, of the lantern ring, or over that of the ring before."""
        name = f"ring_{line}{figure}"
        if line == 1 or not {name, "lantern_depth"} <= self.there.names:
            self.number(column, column, name, style, unit_set)
            return
        ring, before = (self._figure(one, unit_set) for one in (name, f"ring_{line - 1}{figure}"))
        lantern: tuple[str, Value] = {
            "_joint": (f'"{_LANTERN}"', _LANTERN),
            "_depth": self._figure("lantern_depth", unit_set),
        }.get(figure, ('""', None))
        below, held = self.read("rings_below_lantern"), self.values("rings_below_lantern")
        under = held if isinstance(held, float) else math.inf
        value = ring[1] if line <= under else lantern[1] if line == under + 1 else before[1]
        beneath = self.read(f"ring_{line - 1}")
        formula = f"IF(COUNT({below})=0,{ring[0]},IF({beneath}<{below},{ring[0]},IF({beneath}={below},{lantern[0]},{before[0]})))"
        self.put(column, column, None if self.is_off else value, style, f'IF({self.off},"",{formula})')

    def _figure(self, name: str, unit_set: str) -> tuple[str, Value]:
        """The formula and the value of a figure, in the unit of a unit set or as it is worked out."""
        place, value = self.read(name), self.values(name)
        if unit_set:
            return usable_in(get(name), place, unit_set), usable_value(get(name), value, unit_set)
        return f'IF(COUNT({place})=0,"",{place})', value

    def tightening(self) -> None:
        """The passes with boxes for readings, how to tighten below them, the tools on the right."""
        self.heads(_TEXTS["tighten_heads"])
        first, *tools = self.kept(_TEXTS["tools"])
        self.put(0, 1, "Finger tight", "card_label")
        self.number(2, 3, "flats_to_compress", "card_flats")
        self._readings()
        self._tool(*first)
        self.next()
        passes, retorques = _TEXTS["passes"], _TEXTS["retorques"]
        for (title, name), tool in zip(passes, tools[: len(passes)], strict=True):
            self.put(0, 1, title, "card_label")
            self._torque(name)
            self._tool(*tool)
            self.next()
        for (name, style), tool in zip(retorques, tools[len(passes) :], strict=True):
            self.constant(0, 1, name, style)
            self._torque("stud_torque")
            self._tool(*tool)
            self.next()
        self.label(0, 1, "Gaps within, {length_1} | {length_2}", "greatest_gap_difference")
        self.constant_length(2, "greatest_gap_difference")
        self._friction()
        self._wrench()
        self.next()
        words, nut = _TEXTS["tighten"], _TEXTS["tighten_nut"]
        said = nut if self.values("gland_kind") == "packing nut" else words
        chosen = f'IF(IF({self.off},"",{self.read("gland_kind")})="packing nut",{literals(nut)},{literals(words)})'
        self.steps(7, said, down=3, chosen=chosen)
        self.label(8, 9, "Tap and die", "tap_and_die")
        self.word(10, 11, "tap_and_die")
        self.next()
        self.plain((8, 9, "Packing batch", "card_label"), (10, 11, "", "card_box"))
        self.next()
        self.plain((8, 9, "Torque tool", "card_label"), (10, 11, "", "card_box"))
        self.next()

    def _readings(self) -> None:
        for column in range(4, 7):
            self.put(column, column, "", "card_box")
        self.put(7, 7, "□", "card_tick")

    def _torque(self, name: str) -> None:
        self.both_units(2, name, "card_figures")
        self._readings()

    def _tool(self, title: str, name: str) -> None:
        self.put(8, 9, title, "card_label")
        if name:
            self.length(10, name)
        else:
            self.plain((10, 10, "", "card_length"), (11, 11, "", "card_inch"))

    def _friction(self) -> None:
        """What a stem is stiff against, of the packing alone: the pull at the rim, else the friction; blank where the torque is."""
        if "stem_friction" not in self.there:
            self.plain((4, 5, "", "card_label"), (6, 7, "", "card_count"))
            return
        unit_set, (stem, rim) = self.sets[0], (self.in_units(one) for one in _TEXTS["friction"])
        torque, pull, thrust = (self.read(one) for one in ("stud_torque", "rim_pull", "stem_thrust_typed"))
        at_rim = isinstance(self.values("rim_pull"), float) and not isinstance(self.values("stem_thrust_typed"), float)
        is_blank = self.is_off or not isinstance(self.values("stud_torque"), float)
        test = f"COUNT({pull})-COUNT({thrust})=1"
        label = f'IF({self.off},"{stem}",IF(COUNT({torque})=0,"{stem}",IF({test},"{rim}","{stem}")))'
        self.put(4, 5, rim if at_rim and not is_blank else stem, "card_label", label)
        value = usable_value(get("stem_friction"), self.values("rim_pull" if at_rim else "stem_friction"), unit_set)
        shown = (usable_in(get("stem_friction"), one, unit_set) for one in (pull, self.read("stem_friction")))
        formula = f'IF({self.off},"",IF(COUNT({torque})=0,"",IF({test},{",".join(shown)})))'
        self.put(6, 7, None if is_blank else value, "card_count", formula)

    def tests(self) -> None:
        """The leak test with its result, the times of a stroke before and after, and what is done last."""
        unit_set = self.sets[0]
        self.plain((0, 0, "FINISH", "card_head_left"), (1, 2, "Leak test: fluid at", "card_label"))
        self.number(3, 4, "line_pressure", _PRESSURES[unit_set], unit_set)
        self.constant(5, 6, "leak_test_minutes", "card_minutes")
        self.constant_word(7, 9, "leak_test_limit")
        self.plain((10, 10, "Found", "card_label"), (11, 11, "", "card_box"))
        self.next()
        self.plain(*_TEXTS["tests"])
        self.next()

    def _wrench(self) -> None:
        """The wrench, and the one for an older nut where that differs."""
        if "wrench_words" not in self.there:
            self.plain((8, 9, "", "card_label"), (10, 11, "", "card_text"))
            return
        new, old = self.read("wrench_words"), self.read("wrench_old_words")
        older = "" if self.is_off else str(self.values("wrench_old_words") or "")
        self.put(
            8,
            9,
            "Wrench | old" if older else "Wrench",
            "card_label",
            f'IF({self.off},"Wrench",IF({old}="","Wrench","Wrench | old"))',
        )
        value = "" if self.is_off else str(self.values("wrench_words") or "") + (f", {older}" if older else "")
        self.put(10, 11, value, "card_text", f'IF({self.off},"",{new}&IF({old}="","",", "&{old}))')


def page(
    top: int, read: Read, values: Values, *, chosen: str = "", there: Answers, sets: Sequence[str] = tuple(UNIT_SETS)
) -> tuple[Cells, Merges, dict[int, float]]:
    """The cells, the blocks that are one cell to the eye, and the heights in points of one card whose first row is `top`.

    `read` gives the Excel reference of a quantity or an entry, `values` the core's answer in coherent units, None for
    blank. `chosen` is the Excel test that there is a valve at all; without one, there is. `there` says which quantities the
    workbook has, `sets` which unit set stands first. The sheet holds the cells of `aside` as well.
    """
    card = _GlandPage(top, read, values, chosen=chosen, there=there, sets=sets)
    card.heading()
    card.checks()
    card.holds()
    card.block(card.listed(_TEXTS["take_out"]), 3)
    card.acceptance()
    card.tables()
    card.block(card.listed(_TEXTS["fit"]), 3)
    card.tightening()
    card.tests()
    card.signatures()
    return card.cells, card.merges, card.heights
