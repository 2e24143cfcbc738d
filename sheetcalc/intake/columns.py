"""What the columns of a list are, from its header, the units around it and the user's map."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING

from sheetcalc.errors import ListError
from sheetcalc.findings import Finding, MissingHeader, RepeatedHeader, UnknownHeader
from sheetcalc.intake.cells import plain
from sheetcalc.intake.entries import LENGTH_COLUMNS, MEASURED_AS, NEEDED
from sheetcalc.intake.files import Cells
from sheetcalc.intake.guesses import HeadingUnit, JoinedHeaders, MapNotUsed, MisspeltHeader, PairHeader, WeakHeader
from sheetcalc.intake.header_rows import Found, heading_unit, units_row
from sheetcalc.intake.headers import Header, fold, size_said
from sheetcalc.units import shown

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


@dataclass(frozen=True)
class Columns:
    """What the columns of a list are: the place of each entry, the unit of each place, the columns of two, and the others.

    `sizes_in` is how the sizes of flanges are given, "NPS", "DN" or "" for unsaid; `bare_dn` says that some can only be DN.
    """

    places: dict[str, int]
    units: dict[int, str]
    percents: frozenset[int]
    headers: tuple[Header, ...]
    first_row: int
    pairs: frozenset[int] = frozenset()
    sizes_in: str = ""
    bare_dn: bool = False


def check_map(
    cells: Cells,
    found: Found,
    mapped: Mapping[str, str],
    wanted: Mapping[str, str],
    name: str,
) -> list[Finding]:
    """Speak of the headers of a map that the list does not have; raise for those that were asked for outright."""
    # Of two lines a map may name what they say together, or the lower one.
    lowest = map(plain, cells.rows[found.at + found.lines - 1])
    texts = [header.text for header in found.headers if header.text]
    held = {fold(text): text for text in [*lowest, *texts] if text}
    lacking = [text for text in wanted if fold(text) not in held]
    if lacking:
        said = "; ".join(f"{text!r} ({_nearest(text, held, texts)})" for text in lacking)
        message = f"{name} has no header {said}: write it as it stands in the list."
        raise ListError(message)
    return [MapNotUsed(column=text, value=_nearest(text, held, texts)) for text in mapped if fold(text) not in held]


def _nearest(text: str, held: Mapping[str, str], texts: Sequence[str]) -> str:
    """The headers of a list that come nearest to one that it lacks, in words; all of a few where none comes near."""
    near = [held[key] for key in get_close_matches(fold(text), list(held), 3, 0.5)]
    return f"nearest: {', '.join(near)}" if near else f"it has: {', '.join(texts[:12])}"


def columns_of(rows: Sequence[Sequence[object]], found: Found) -> tuple[Columns, list[Finding]]:
    """What each column is, from the header, a row of units below it, and what stands above it."""
    heads, header_at = found.headers, found.at
    below_at = header_at + found.lines
    below_units = units_row(rows[below_at] if below_at < len(rows) else (), heads)
    findings: list[Finding] = []
    if found.lines > 1:
        findings.append(JoinedHeaders(row=header_at + 1, value=f"rows {header_at + 1} and {header_at + found.lines}"))
    places = _places(heads)
    held = set(places.values())
    units: dict[int, str] = {}
    percents: set[int] = set()
    above = "" if "unit_set" in places else _unit_above(rows[:header_at])
    for at, head in enumerate(heads):
        if at not in held:
            kind = RepeatedHeader if head.entry else UnknownHeader
            # What the user asked to be carried along is no riddle.
            if head.text and not (head.mapped and not head.entry):
                findings.append(kind(row=header_at + 1, column=head.text))
            continue
        unit, percent = below_units[at] if below_units else ("", False)
        findings.extend(_guesses(head, header_at))
        if head.entry in MEASURED_AS and (unit or head.unit):
            units[at] = unit or head.unit
            if head.from_above and not unit:
                findings.append(HeadingUnit(row=header_at + 1, column=head.text, value=shown(head.unit)))
        elif head.entry in LENGTH_COLUMNS and above:
            units[at] = above
            findings.append(HeadingUnit(row=header_at + 1, column=head.text, value=shown(above)))
        if head.percent or percent:
            percents.add(at)
    findings.extend(MissingHeader(column=title) for name, title in NEEDED.items() if name not in places)
    pairs = frozenset(at for at in held if heads[at].second)
    below = rows[below_at] if below_units else ()
    sizes_in = _sizes_in(places.get("flange_size"), heads, below)
    return Columns(places, units, frozenset(percents), heads, below_at + (1 if below_units else 0), pairs, sizes_in), findings


def _sizes_in(place: int | None, heads: Sequence[Header], below: Sequence[object]) -> str:
    """How the column of the flange sizes says that they are given, in its header or in a row of units below it."""
    if place is None:
        return ""
    return size_said(heads[place].text, plain(below[place]) if place < len(below) else "")


def _places(heads: Sequence[Header]) -> dict[str, int]:
    """The column of each entry: what the user said goes first, then columns of one entry, then those of two."""
    places: dict[str, int] = {}
    for at, head in sorted(enumerate(heads), key=lambda one: (not one[1].mapped, bool(one[1].second))):
        entries = [entry for entry in (head.entry, head.second) if entry]
        if not any(entry in places for entry in entries):
            places.update(dict.fromkeys(entries, at))
    return places


def _guesses(head: Header, header_at: int) -> list[Finding]:
    """What is to be said of a header that was not plain."""
    if head.sure != "weak":
        return []
    if head.second:
        return [PairHeader(row=header_at + 1, column=head.text, value=f"{_title(head.entry)}, {_title(head.second)}")]
    kind = MisspeltHeader if head.misspelt else WeakHeader
    return [kind(row=header_at + 1, column=head.text, value=_title(head.entry))]


def _title(entry: str) -> str:
    """An entry in words."""
    return entry.removesuffix("_entered").replace("_", " ")


def _unit_above(rows: Sequence[Sequence[object]]) -> str:
    """The unit of all lengths that the lines above the table give, such as "All dimensions in mm"; "" for none or for two."""
    said = {heading_unit(cell) for row in rows for cell in row if isinstance(cell, str) and " " in cell.strip()}
    said.discard("")
    return next(iter(said)) if len(said) == 1 else ""
