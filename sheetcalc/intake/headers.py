"""Which entry a column of a list means: trade words in, entry names out.

A header is reduced to its set of words: case, accents, punctuation, word order and units do not count. Two lists of
phrases are held against it. A *weak* phrase (such as "Valve" for the tag) counts only where no other column of the list
says the same in plainer words, since such a word often heads something else. A *weakest* one (such as "Material")
gives way to a weak one too. A header may also be spelt with a slip, or head two measurements at once ("Stem/bore"). What
the user says with a map goes before all of that.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from sheetcalc.intake.cells import plain
from sheetcalc.intake.entries import (
    CARRY,
    COUNT_COLUMNS,
    DIMENSIONS,
    FACTOR_COLUMNS,
    FLANGE_COLUMNS,
    LENGTH_COLUMNS,
    MEASURED_AS,
    PLAN_COLUMNS,
    SHARE_COLUMNS,
    TEXT_COLUMNS,
)
from sheetcalc.intake.phrases import EMPTY_WORDS, corrected, look_up, words_of
from sheetcalc.intake.unit_names import UNITS, fits, meant, split_unit, unit_name

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

#: A longer text is a remark, not the header of a measurement.
_LONGEST: Final = 120
#: Entries whose weak words mean nothing else in a list of valves, once no fuller words stand beside them.
_CLEAR_ALONE: Final = frozenset(
    {"line_pressure_entered", "fluid_temperature_entered", "stem_thread_pitch_entered", "stem_thread_starts_entered"},
)
#: The rank of a header that is spelt with a slip: each kind of phrase goes before it.
_MISSPELT: Final = 3
_PAIR_MARK: Final = re.compile(r"\s*(?:[/&+×]|\bx\b|\band\b)\s*", re.IGNORECASE)


@dataclass(frozen=True)
class Header:
    """What one header means.

    `text` is as the user wrote it, on one line. `entry` is a name of ENTRY_COLUMNS or "". `unit` is a unit of the
    entry's dimension, such as mm, bar or degC, or ""; `percent` says that the header asks for per cent. `weak` says how
    many kinds of plainer header go before this one. `second` is the other entry of a column that holds two. `mapped`
    says that the user's map decided, `from_above` that the unit stands in a heading above.
    """

    text: str
    entry: str = ""
    unit: str = ""
    percent: bool = False
    weak: int = 0
    second: str = ""
    mapped: bool = False
    from_above: bool = False

    @property
    def sure(self) -> str:
        """How sure the meaning is, in one word: plain, weak, mapped or unknown."""
        if self.mapped:
            return "mapped"
        if not self.entry:
            return "unknown"
        return "weak" if self.misspelt or self.second or (self.weak and self.entry not in _CLEAR_ALONE) else "plain"

    @property
    def misspelt(self) -> bool:
        """Whether a word had to be corrected for it."""
        return self.weak >= _MISSPELT


@lru_cache(maxsize=4096)
def understand(text: str) -> Header:
    """What one header means by itself.

    Args:
        text: the header as written.

    Returns:
        The header's entry, unit and whether it asks for per cent; entry "" where nothing is known, or where the entry
        cannot be in the unit that the header gives.
    """
    shown = plain(text)
    if len(shown) > _LONGEST:
        return Header(shown)
    # "Bore/depth" is two measurements, though the words of it are one phrase.
    pair = _pair(shown)
    if pair is not None:
        return pair
    header = _by_words(shown)
    return header if header.entry else _misspelt(shown)


def _by_words(shown: str) -> Header:
    """What a header means by the phrases that are known."""
    entry, weak = look_up(words_of(shown))
    if entry in TEXT_COLUMNS:
        return Header(shown, entry, weak=weak)
    front, unit, percent = split_unit(shown)
    bare_entry, bare_weak = look_up(words_of(front))
    if bare_entry and not _goes_with(bare_entry, unit, percent=percent):
        # The K of "Nut factor K" is no kelvin but part of the name; "Waste (mm)" and "Pressure (%)" are not understood.
        return Header(shown, entry, weak=weak) if words_of(front) != words_of(shown) else Header(shown)
    if bare_entry:
        return Header(shown, bare_entry, _own_unit(bare_entry, unit), percent, bare_weak)
    # "WT kg" means a weight by its unit: alone it may be the thickness of a wall. The hours of "Man-hours" are no unit.
    return Header(shown, entry, _own_unit(entry, unit) if DIMENSIONS.get(entry) == "mass" else "", percent, weak)


def _misspelt(shown: str) -> Header:
    """What a header means once its slips are put right; without an entry where that does not help."""
    front, unit, percent = split_unit(shown)
    words = words_of(front)
    right = corrected(words)
    entry, weak = look_up(right) if right != words else ("", 0)
    # A slip in a word that means little by itself is no ground for anything.
    if not entry or weak or not _goes_with(entry, unit, percent=percent):
        return Header(shown)
    return Header(shown, entry, _own_unit(entry, unit), percent, _MISSPELT)


def _pair(shown: str) -> Header | None:
    """A header of two lengths, such as "Stem/bore (mm)"; None where it is no such thing."""
    front, unit, percent = split_unit(shown)
    parts = _PAIR_MARK.split(front.strip())
    if percent or len(parts) != 2:  # noqa: PLR2004 - a pair
        return None
    # Beside a stem, a bare "box" is its bore.
    first, second = (look_up(words_of("box bore" if part.strip().casefold() == "box" else part)) for part in parts)
    lengths = first[0] in LENGTH_COLUMNS and second[0] in LENGTH_COLUMNS and first[0] != second[0]
    if not lengths or first[1] or second[1] or (unit and not fits(unit, "length")):
        return None
    return Header(shown, first[0], unit, second=second[0])


def _goes_with(entry: str, unit: str, *, percent: bool) -> bool:
    """Whether an entry can be in that unit or in per cent, so that a header with both means it."""
    if percent:
        return entry in SHARE_COLUMNS + FACTOR_COLUMNS
    if entry in MEASURED_AS:
        return not unit or fits(unit, MEASURED_AS[entry])
    # "Stud size (mm)" is a thread all the same, but "New studs (mm)" is no number of studs.
    counted = entry in COUNT_COLUMNS and entry not in PLAN_COLUMNS
    return not unit or ((entry in TEXT_COLUMNS or counted) and unit in UNITS["length"])


def _own_unit(entry: str, unit: str) -> str:
    """The unit that a header gives to an entry, as its dimension understands it; "" where the entry has none or cannot be in that one."""
    dimension = MEASURED_AS.get(entry, "")
    return meant(unit, dimension) if unit and dimension and fits(unit, dimension) else ""


def fold(header: object) -> str:
    """A header as the key of a map: neither case nor spaces count."""
    return plain(header).casefold()


def as_mapped(header: Header, others: Sequence[str], mapped: Mapping[str, str]) -> Header:
    """The header as the user's map has it, looked up under its own text and then under the others."""
    if not mapped:
        return header
    entry = next((mapped[key] for key in map(fold, (header.text, *others)) if key and key in mapped), "")
    if entry == CARRY:
        return Header(header.text, mapped=True)
    if not entry:
        return header
    _, unit, percent = split_unit(header.text)
    return Header(header.text, entry, _own_unit(entry, unit), percent and _goes_with(entry, "", percent=True), mapped=True)


def understand_row(cells: Sequence[object], mapped: Mapping[str, str] | None = None) -> tuple[Header, ...]:
    """What the cells of one row mean as headers.

    Args:
        cells: one row of a file, any kinds of value.
        mapped: what the user says of some headers: text as `fold` makes it, to a name of ENTRY_COLUMNS or CARRY.

    Returns:
        One Header a cell. A weak one has no entry where a plainer one of the same entry stands in the row, or an
        earlier one as weak; any has none where the map gives its entry to another column.
    """
    headers = [understand(cell) if isinstance(cell, str) else Header(plain(cell)) for cell in cells]
    return give_way([as_mapped(header, (), mapped or {}) for header in headers])


def give_way(headers: Sequence[Header]) -> tuple[Header, ...]:
    """The headers of one row, of which the weaker ones give way to the plainer of the same entry."""
    headers = _of_flanges(headers)
    plainest: dict[str, int] = {}
    for header in headers:
        plainest[header.entry] = min(header.weak, plainest.get(header.entry, header.weak))
    taken: set[str] = set()
    said = []
    for header in headers:
        if header.weak and (header.weak > plainest[header.entry] or header.entry in taken):
            said.append(Header(header.text))
            continue
        taken.add(header.entry)
        said.append(header)
    return tuple(said)


def _of_flanges(headers: Sequence[Header]) -> Sequence[Header]:
    """The headers of one row, of which a type of gasket is that of the flanges where the row speaks of flanges.

    Alone it is the gasket that is ordered. Which of the two it is stays a guess.
    """
    entries = {header.entry for header in headers}
    if not entries & set(FLANGE_COLUMNS) or "gasket_kind" in entries:
        return headers
    return [
        replace(header, entry="gasket_kind", weak=1)
        if header.entry == "gasket" and not header.mapped and frozenset(words_of(header.text)) - EMPTY_WORDS == {"gasket", "type"}
        else header
        for header in headers
    ]


def size_said(text: str, below: str = "") -> str:
    """How a header says that its sizes are given: "NPS", "DN", or "" where neither or both are said.

    Args:
        text: the header as written.
        below: what a row of units says below it.
    """
    said = set()
    for one in (text, below):
        words = set(words_of(one))
        said |= {name for name in ("NPS", "DN") if name.casefold() in words}
        unit = unit_name(one) or split_unit(plain(one))[1]
        said |= {"NPS"} if unit == "in" else {"DN"} if unit == "mm" else set()
    return next(iter(said)) if len(said) == 1 else ""
