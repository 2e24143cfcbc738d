"""The second page of the job card, for a valve that comes out of the line; blank below its heading for one that stays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from sheetcalc.calculations.answers import Answers
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
from sheetcalc.units import UNIT_SETS

_TEXTS: Final[Mapping[str, Any]] = TEXTS["removal"]


class _RemovalPage(Page):
    """The parts of the page, from top to bottom."""

    def __init__(self, top: int, read: Read, values: Values, *, chosen: str, there: Answers, sets: Sequence[str]) -> None:
        super().__init__(top, read, values, chosen=chosen, there=there, sets=sets)
        self.stays = f'{read("comes_out")}<>"yes"'
        self.does_stay = values("comes_out") != "yes"
        # Without a valve the reference is an error value, which OR would hand on.
        self.off = f'OR({self.here}="",{self.here}="{Gravity.STOP}",IFERROR({self.stays},1))'
        self.is_off = self.is_off or self.does_stay

    def clipped(self, first: int, last: int, name: str, style: str = "card_text") -> None:
        """A text of the valve, with dots where it is too long; blank where a stop speaks."""
        if name not in self.there:
            self.put(first, last, "", style)
            return
        place, limit, most = self.read(name), self.limits[name], int(LIMITS[name])
        value = str(self.values(name) or "")
        shown = f"{value[:most]}…" if len(value) > most else value
        text = f'IFERROR(LEFT({place},{limit})&IF(LEN({place})>{limit},"…",""),"#")'
        self.put(first, last, "" if self.is_off else shown, style, f'IF({self.off},"",{text})')

    def said(self, first: int, last: int, name: str) -> None:
        """What a check says, as far as whole sentences fit; blank where a stop speaks."""
        if name not in self.there:
            self.put(first, last, "", "card_wrap")
            return
        value = sentences_that_fit(str(self.values(name) or ""), int(LIMITS[name]))
        text = first_sentences(self.read(name), self.limits[name])
        self.put(first, last, "" if self.is_off else value, "card_wrap", f'IF({self.off},"",{text})')

    def heading(self) -> None:
        """What valve it is, and whether it comes out at all."""
        stays, comes_out = _TEXTS["stays"], _TEXTS["comes_out"]
        self.put(0, 3, _TEXTS["title"], "card_title")
        self.put(4, 5, self.state, "card_state", self.state_formula)
        text = f'IF({self.here}="","",IF({self.stays},"{stays}","{comes_out}"))'
        self.put(6, LAST, (stays if self.does_stay else comes_out) if self.state else "", "card_words_wrap", text)
        self.next(2 * WRAPPED + AROUND)
        self.identity()
        self.label(0, 1, "Flanges", "flange_key")
        self.word(2, 5, "flange_key")
        self.label(6, 7, "Facing", "flange_facing")
        self.word(8, LAST, "flange_facing")
        self.next()
        self.label(0, 1, "Gasket, new", "flange_gasket")
        self.clipped(2, LAST, "flange_gasket")
        self.next()
        for title, name in self.kept(_TEXTS["checks"]):
            self.put(0, 1, title, "card_label")
            self.said(2, LAST, name)
            self.next(3 * WRAPPED + AROUND)

    def holds(self) -> None:
        """What is signed before the line is opened, the valve lifted and the place left."""
        permit, rigger, blanks = _TEXTS["holds"]
        by_hand, hand = _TEXTS["by_hand"], self.read("lifted_by_hand")
        self.plain((0, 2, permit, "card_label"), (3, 3, "", "card_box"))
        value = by_hand if not self.is_off and self.values("lifted_by_hand") == 1 else rigger
        self.put(4, 6, value, "card_label", f'IF({self.off},"{rigger}",IF({hand}=1,"{by_hand}","{rigger}"))')
        self.plain((7, 7, "", "card_box"), (8, 10, blanks, "card_label"), (11, 11, "", "card_box"))
        self.next()

    def figures(self) -> None:
        """Bolts and wrench on the left, the lift on the right."""
        self.heads(_TEXTS["figures_heads"])
        self.label(0, 1, "Thread, tap and die", "flange_bolt_thread")
        self.word(2, 3, "flange_bolt_thread")
        self.put(4, 5, "", "card_box")
        self.word(6, LAST, "mass_words", "card_wrap")
        self.next(2 * WRAPPED + AROUND)
        for bolts, lift in zip(self.kept(_TEXTS["bolts"]), self.kept(_TEXTS["lift"]), strict=True):
            self._bolts(*bolts)
            self._lift(*lift)
            self.next()
        self.label(0, 2, "Wrench", "flange_wrench_words")
        self.word(3, 5, "flange_wrench_words")
        self.label(6, 7, "Grade", "flange_bolt_grade")
        self.clipped(8, LAST, "flange_bolt_grade")
        self.next()

    def _bolts(self, title: str, name: str, kind: str) -> None:
        self.put(0, 1, title, "card_label")
        if kind == "length":
            self.length(2, name)
        else:
            if kind:
                self.number(2, 2, name, "card_count")
            else:
                self.put(2, 2, "", "card_count")
            self.put(3, 3, "", "card_rule")
        self.put(4, 5, "", "card_box")

    def _lift(self, title: str, name: str, style: str) -> None:
        self.put(6, 9, self.in_units(title), "card_label")
        if not name:
            self.plain((10, 10, "", "card_rule"), (11, 11, "", "card_rule"))
        elif get(name).dimension:
            self.both_units(10, name, style)
        else:
            self.number(10, 10, name, style)
            self.put(11, 11, "", "card_rule")

    def orders(self) -> None:
        """In what order the bolts are slackened, and which are the holding pair."""
        self.label(0, 2, "Slacken in this order", "flange_slacken_order")
        self.word(3, LAST, "flange_slacken_order", "card_wrap")
        self.next(2 * WRAPPED + AROUND)
        self.label(0, 2, "Holding pair", "flange_kept_1")
        self.number(3, 3, "flange_kept_1", "card_count")
        self.number(4, 4, "flange_kept_2", "card_count")
        self.put(5, LAST, _TEXTS["kept"], "card_text")
        self.next()

    def torque(self) -> None:
        """The tightening order, the passes with boxes for both flanges, and the limits of alignment beside them."""
        self.label(0, 2, "Tighten in this order", "flange_cross_order")
        self.word(3, LAST, "flange_cross_order", "card_wrap")
        self.next(2 * WRAPPED + AROUND)
        self.heads(_TEXTS["torque_heads"])
        for (title, name), (limit_title, limit) in zip(_TEXTS["passes"], _TEXTS["aligned"], strict=True):
            self._pass(title, name)
            self.label(6, 7, limit_title, limit)
            self.constant_length(8, limit)
            self.plain((10, 10, "", "card_box"), (11, 11, "", "card_box"))
            self.next()
        self._pass("Pass 4, round", "flange_bolt_torque")
        self.label(6, 7, "Lubricant", "flange_lubricant")
        self.clipped(8, LAST, "flange_lubricant")
        self.next()
        self.plain((0, 1, "Torque tool", "card_label"), (2, 5, "", "card_box"))
        self.plain((6, 9, "Gasket marking read", "card_label"), (10, LAST, "", "card_box"))
        self.next()

    def _pass(self, title: str, name: str) -> None:
        self.put(0, 1, title, "card_label")
        self.both_units(2, name, "card_figures")
        self.plain((4, 4, "□", "card_tick"), (5, 5, "□", "card_tick"))

    def steps(self, last: int, text: str, down: int = 1) -> None:
        """What is to be done; blank where a stop speaks, and for a valve that stays."""
        self.put(0, last, "" if self.is_off else text, "card_block", f'IF({self.off},"",{literals(text)})', down=down)


def second_page(
    top: int, read: Read, values: Values, *, chosen: str = "", there: Answers, sets: Sequence[str] = tuple(UNIT_SETS)
) -> tuple[Cells, Merges, dict[int, float]]:
    """The page of a valve that comes out of the line, as `page` makes the first one; the workbook has `comes_out`."""
    card = _RemovalPage(top, read, values, chosen=chosen, there=there, sets=sets)
    card.heading()
    card.block(_TEXTS["caution"], 5)
    card.holds()
    card.figures()
    card.block(card.listed(_TEXTS["take_out"]), 5)
    card.orders()
    card.block(card.listed(_TEXTS["put_back"]), 5)
    card.torque()
    card.block(card.listed(_TEXTS["finish"]), 3)
    card.signatures()
    return card.cells, card.merges, card.heights
