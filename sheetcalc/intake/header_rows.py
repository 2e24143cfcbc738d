"""Which row of a list is its header: one row or two, the units below it, and those of a heading above it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from sheetcalc.intake.cells import is_blank, plain
from sheetcalc.intake.entries import FLANGE_COLUMNS, FREE_TEXT_COLUMNS, MEASURED_AS, PLAN_COLUMNS
from sheetcalc.intake.headers import Header, as_mapped, give_way, understand, understand_row
from sheetcalc.intake.phrases import ABOUT_LENGTHS
from sheetcalc.intake.unit_names import BRACKETED, fits, meant, split_unit, unit_name, unit_of
from sheetcalc.intake.values import read_value

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

#: Entries whose words stand on cover sheets and in other lists too: a row of these alone is no header row.
_ANYWHERE: Final = frozenset(
    {*FREE_TEXT_COLUMNS, "line_pressure_entered", "fluid_temperature_entered", "packing_material", "fluid_kind_entered", "fluid_ph_entered"}
)
#: What a row of units has above a column without one.
_UNITLESS: Final = frozenset({"-", "\u2013", "text", "pcs", "pc", "ea", "no", "nr", "each", "1", "#", "ph", "nps", "dn", "class"})


@dataclass(frozen=True)
class Found:
    """The header of a list: its row from 0, how many rows it has, what each column is, and how many entries it gives."""

    at: int
    lines: int
    headers: tuple[Header, ...]
    score: int


def find(
    rows: Sequence[Sequence[object]],
    mapped: Mapping[str, str] | None = None,
    merged: Mapping[tuple[int, int], int] | None = None,
) -> Found | None:
    """The header of a list: the first of the rows, or pairs of rows, that give most entries.

    Args:
        rows: the rows in which the header may stand.
        mapped: as for `understand_row`.
        merged: headings over several columns, where the file says so: (row, column) from 0, to the last column.

    Returns:
        The header, or None where no row is one.
    """
    best: Found | None = None
    single = [understand_row(row, mapped) for row in rows]
    scores = [score(row) for row in single]
    for at, row in enumerate(single):
        tried = [Found(at, 1, row, scores[at])]
        if at + 1 < len(rows):
            joined = _joined(rows[at], rows[at + 1], mapped or {}, {key[1]: last for key, last in (merged or {}).items() if key[0] == at})
            if joined is not None and score(joined) >= max(scores[at], scores[at + 1]) and _says_more(rows, single, at, joined):
                tried.insert(0, Found(at, 2, joined, score(joined)))
        for one in tried:
            if one.score > (best.score if best else 0):
                best = one
    return best


def score(headers: Sequence[Header]) -> int:
    """How many different entries a row of headers gives; 0 where it is too little to be a header row.

    One known word alone may be a title, so one is enough only where it is the stem or the bore. Place, fluid, pressure
    and the like are not enough by themselves, since a cover sheet has them too. Crew, day and the like do not count at
    all, so that a plan of the work is not taken for the list of the valves. All that is said of flanges and the lift
    counts as one entry, and only where some of it is plain: an index of valves has much of it, and no measurement of a
    box.
    """
    known = {entry for header in headers for entry in (header.entry, header.second)} - {"", *PLAN_COLUMNS, *FLANGE_COLUMNS}
    if known <= _ANYWHERE:
        return 0
    count = len(known) + any(header.entry in FLANGE_COLUMNS and header.sure in {"plain", "mapped"} for header in headers)
    if count == 1 and not known & {"stem_diameter_entered", "box_bore_entered"}:
        return 0
    return count


def _says_more(rows: Sequence[Sequence[object]], single: Sequence[tuple[Header, ...]], at: int, joined: tuple[Header, ...]) -> bool:
    """Whether two rows read together say more than the better of the two says alone."""
    upper, lower = single[at], single[at + 1]
    alone = upper if score(upper) >= score(lower) else lower
    if score(joined) > score(alone):
        return True
    both = [(one, alone[place] if place < len(alone) else Header("")) for place, one in enumerate(joined)]
    if any(one.entry and (one.entry != other.entry or one.unit != other.unit) for one, other in both):
        return True
    # A lower line that only goes on with the words of the upper one, and so is no valve.
    below = [place for place, cell in enumerate(rows[at + 1]) if not is_blank(cell)]
    return alone is upper and bool(below) and all(place < len(joined) and joined[place].entry for place in below)


def _joined(
    above: Sequence[object],
    below: Sequence[object],
    mapped: Mapping[str, str],
    merged: Mapping[int, int],
) -> tuple[Header, ...] | None:
    """Two rows read as one header; None where the lower one is a row of units, of numbers, or of a valve."""
    upper = understand_row(above, mapped)
    if [plain(cell) for cell in above] == [plain(cell) for cell in below] or units_row(below, upper) or not any(map(plain, below)):
        return None
    out: list[Header] = []
    group, reach = "", -1
    for at in range(max(len(above), len(below))):
        own = plain(above[at]) if at < len(above) else ""
        cell = below[at] if at < len(below) else None
        if own:
            # Where the file does not say how far a heading reaches, it reaches to the next one.
            group, reach = own, merged.get(at, -1 if merged else max(len(above), len(below)))
        header = _one_of_two(own, group if own or at <= reach else "", plain(cell), mapped)
        alone = upper[at].entry if at < len(upper) else ""
        is_value = not is_blank(cell) and read_value(cell).number is not None
        # Below "Tag" stands a tag; below the looser "Valve" may stand the header of another column of the valve.
        is_tag = alone == "tag" and plain(cell) and (not upper[at].weak or re.search(r"\d", plain(cell)))
        if (is_value or is_tag) and (not header.entry or (alone and header.entry != alone)):
            return None
        out.append(header)
    return give_way(out)


def _one_of_two(own: str, group: str, lower: str, mapped: Mapping[str, str]) -> Header:
    """One header of two lines: its own upper text, the heading that it stands below, and its lower text."""
    if not lower:
        return as_mapped(understand(own), (), mapped)
    if not group:
        return as_mapped(understand(lower), (), mapped)
    text = f"{group} {lower}"
    header = as_mapped(understand(text), (lower,), mapped)
    if header.mapped or header.entry:
        return header
    alone = understand(lower)
    if not alone.entry:
        return Header(text)
    unit = heading_unit(group)
    if unit and not alone.unit and fits(unit, MEASURED_AS.get(alone.entry, "length")) and alone.entry in MEASURED_AS:
        return replace(alone, unit=unit, from_above=True)
    return alone


def heading_unit(text: str) -> str:
    """The unit that a heading over several columns, or a line above the table, gives to the lengths below it; "" for none."""
    shown = plain(text).rstrip(".:;!")
    only_units, unit, _ = unit_of(shown)
    if not only_units:
        front, unit, _ = split_unit(shown)
        words = re.findall(r"[^\W_]+", front.casefold())
        # The unit may stand in the middle too, as in "All dimensions in mm unless noted"; "in" is a plain word there.
        inner = {unit_name(word) for word in words if word not in ABOUT_LENGTHS}
        unit = unit or (next(iter(inner)) if len(inner) == 1 else "")
        if inner - {unit}:
            return ""
    return unit if unit and fits(unit, "length") else ""


def units_row(cells: Sequence[object], headers: Sequence[Header]) -> tuple[tuple[str, bool], ...] | None:
    """The units that a row below the header gives.

    Args:
        cells: the row below the header.
        headers: the header row.

    Returns:
        For each header (unit, percent), or None where the row is no units row: it holds only units and blanks, at
        least one of them under a measurement that can have it, and none under a measurement that cannot.
    """
    units: list[tuple[str, bool]] = []
    speaks = False
    for at, header in enumerate(headers):
        text = plain(cells[at]) if at < len(cells) else ""
        inner = BRACKETED.fullmatch(text)
        text = inner.group(1) if inner else text
        if not text or text.casefold().strip(".") in _UNITLESS:
            units.append(("", False))
            continue
        only_units, unit, percent = unit_of(text)
        dimension = MEASURED_AS.get(header.entry, "")
        if not only_units or (dimension and unit and not fits(unit, dimension)):
            return None
        speaks |= bool(unit and dimension)
        units.append((meant(unit, dimension), percent))
    return tuple(units) if speaks else None
