"""Which entry a column of a list means: trade words in, entry names out.

A header is reduced to its set of words: case, accents, punctuation, word order and units do not count. Two lists of
phrases are held against it. A *weak* phrase (such as "Valve" for the tag) counts only where no other column of the list
says the same in plainer words, since such a word often heads something else.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from sheetcalc.intake.values import length_unit, plain

if TYPE_CHECKING:
    from collections.abc import Sequence

#: The text entries, in the order of the columns.
TEXT_COLUMNS: Final = (
    "tag",
    "unit_set",
    "gland_stud_thread",
    "packing_form_entered",
    "cut_style_entered",
    "section_list_entered",
)
#: Lengths, in the unit of the row's unit set (mm or in).
LENGTH_COLUMNS: Final = (
    "stem_diameter_entered",
    "box_bore_entered",
    "box_depth_entered",
    "nose_length_entered",
    "lantern_length_entered",
    "made_ring_height_entered",
    "gap_reading_1_entered",
    "gap_reading_2_entered",
    "gap_reading_distance_entered",
    "stud_spacing_entered",
    "least_take_up_entered",
    "least_entry_floor_entered",
    "spacer_step_entered",
)
#: Whole numbers of rings.
COUNT_COLUMNS: Final = ("maker_ring_count_entered", "preferred_ring_count_entered")
#: Shares of one: 30 % is 0.30.
SHARE_COLUMNS: Final = (
    "set_compression_entered",
    "seating_compression_entered",
    "least_entry_share_entered",
    "length_allowance_entered",
    "waste_share_entered",
)
#: Every column of the table that `read_list` gives, in order.
ENTRY_COLUMNS: Final = TEXT_COLUMNS + LENGTH_COLUMNS + COUNT_COLUMNS + SHARE_COLUMNS

#: Entries that nearly every answer needs, with the header that a missing one is reported under.
NEEDED: Final = {
    "tag": "Tag",
    "stem_diameter_entered": "Stem diameter",
    "box_bore_entered": "Box bore",
    "box_depth_entered": "Box depth",
    "nose_length_entered": "Nose length",
}

#: Words that mean one thing in a header, whichever is written.
_ALIKE: Final = {
    "dia": "diameter",
    "diam": "diameter",
    "dm": "diameter",
    "diameters": "diameter",
    "shaft": "stem",
    "spindle": "stem",
    "stems": "stem",
    "follower": "gland",
    "glands": "gland",
    "lip": "nose",
    "neck": "nose",
    "spigot": "nose",
    "snout": "nose",
    "len": "length",
    "lg": "length",
    "lgth": "length",
    "long": "length",
    "no": "count",
    "nos": "count",
    "nr": "count",
    "num": "count",
    "number": "count",
    "numbers": "count",
    "qty": "count",
    "quantity": "count",
    "bolt": "stud",
    "bolts": "stud",
    "studs": "stud",
    "stuffingbox": "box",
    "ring": "rings",
    "makers": "maker",
    "manufacturer": "maker",
    "manufacturers": "maker",
    "oem": "maker",
    "mfr": "maker",
    "vendor": "maker",
    "supplier": "maker",
    "preference": "preferred",
    "wanted": "preferred",
    "wish": "preferred",
    "desired": "preferred",
    "minimum": "least",
    "min": "least",
    "smallest": "least",
    "readings": "reading",
    "gaps": "gap",
    "percentage": "share",
    "fraction": "share",
    "hgt": "height",
    "ht": "height",
    "unitset": "units",
    "unit": "units",
    "centers": "centres",
    "center": "centres",
    "centre": "centres",
    "dist": "distance",
}
#: Words that say nothing about which measurement a header means. The second try leaves them out.
_EMPTY_WORDS: Final = frozenset(
    {"the", "of", "a", "an", "at", "for", "to", "and", "as", "or"} | {"stuffing", "measured", "actual", "found", "entered", "value"},
)

#: What each entry may be headed. The first phrase of each is the plain one.
_PHRASES: Final = {
    "tag": (
        "tag, tag no, tags, tag id, valve tag, valve tag no, valve no, valve id, valve number, tag name, tagname, "
        "tagno, kks, functional location, floc, position no, valve position no, armatur nr, repere, etiqueta, "
        "kennzeichen"
    ),
    "unit_set": (
        "unit set, units, unit, unit system, system of units, units of measure, uom, measuring units, mm or in, "
        "mm in, in mm, mm inch, inch mm, mm or inch, metric or us, metric us, metric inch, metric imperial, "
        "metric or imperial, measured in, einheit, einheiten, unite, unites, unidad"
    ),
    "gland_stud_thread": (
        "gland stud thread, stud thread, stud size, stud, gland stud, gland stud size, gland stud dia, stud dia, "
        "gland thread, stud thread size, eye bolt size, eyebolt, eyebolts, eye bolt, eyebolt thread, eye bolt "
        "thread, swing bolt, swing bolt size, gland nut thread, gewinde, filetage, rosca"
    ),
    "packing_form_entered": (
        "packing form, form of packing, packing type, type of packing, packing style, packing construction, braid "
        "or die formed, packing make up"
    ),
    "cut_style_entered": (
        "cut style, cut, style of cut, ring cut, joint style, ring joint, cut type, type of cut, butt or skive, cut of rings"
    ),
    "section_list_entered": (
        "section list, list of sections, stock list, stocked sizes, sizes stocked, stocked sections, section sizes, stock sizes"
    ),
    "stem_diameter_entered": (
        "stem diameter, stem, stem size, diameter of stem, diameter stem, d stem, stem d, stem outside diameter, "
        "stem od, od stem, od of stem, stem od measured, valve stem, valve stem diameter, valve stem size, rod "
        "diameter, stem width, spindel, spindeldurchmesser, spindel durchmesser, diametre tige, tige, diametro "
        "vastago, vastago, diametro stelo, stelo"
    ),
    "box_bore_entered": (
        "box bore, bore, box id, stuffing box bore, stuffing box id, stuffing box diameter, box diameter, box "
        "inside diameter, box internal diameter, box inner diameter, bore diameter, bore id, bore of box, packing "
        "box bore, packing box id, packing chamber bore, packing chamber diameter, chamber bore, packing box "
        "diameter, packing bore, box size, d box, box d, box width, bohrung, stopfbuchsbohrung, "
        "stopfbuchsdurchmesser, alesage, diametro caja"
    ),
    "box_depth_entered": (
        "box depth, depth, stuffing box depth, depth of box, depth of stuffing box, packing box depth, packing "
        "chamber depth, chamber depth, packing depth, bore depth, depth to bottom, box deep, box length, stuffing "
        "box length, depth box, stopfbuchstiefe, stopfbuchsentiefe, tiefe, profondeur, profundidad"
    ),
    "nose_length_entered": (
        "nose length, nose, gland nose, gland nose length, follower nose, follower nose length, follower length, "
        "gland length, length of nose, gland reach, nose reach, follower reach, gland projection, nose "
        "projection, gland insert length, bushing nose, gland bushing length, gland engagement, brillenlange, "
        "brille lange, longueur nez"
    ),
    "lantern_length_entered": (
        "lantern length, lantern, lantern ring, lantern ring length, lantern ring height, lantern height, lantern "
        "ring depth, lantern width, lantern ring width, lantern size"
    ),
    "made_ring_height_entered": (
        "made ring height, ring height, die formed ring height, formed ring height, height of ring, maker ring "
        "height, height of made ring, moulded ring height, molded ring height, preformed ring height"
    ),
    "gap_reading_1_entered": (
        "gap reading 1, gap 1, gap1, reading 1, gap a, gap at stud 1, gland gap 1, gap at nut 1, first gap, gap "
        "stud 1, gap one, gap reading a, gap left"
    ),
    "gap_reading_2_entered": (
        "gap reading 2, gap 2, gap2, reading 2, gap b, gap at stud 2, gland gap 2, gap at nut 2, second gap, gap "
        "stud 2, gap two, gap reading b, gap right"
    ),
    "gap_reading_distance_entered": (
        "gap reading distance, reading distance, gap distance, distance between readings, distance between gaps, "
        "distance of readings, gap reading spacing, reading spacing, gap spacing, distance apart of readings, "
        "distance between gap readings"
    ),
    "stud_spacing_entered": (
        "stud spacing, stud centres, gland stud spacing, gland stud centres, distance between studs, stud "
        "distance, bolt spacing, bolt centres, stud centre distance, centres of studs, stud centre to centre, "
        "spacing of studs, gland bolt spacing"
    ),
    "least_take_up_entered": "least take up, take up, take up left, least takeup, takeup, minimum take up",
    "least_entry_floor_entered": ("least entry floor, entry floor, least entry, minimum entry, least nose entry, least gland entry"),
    "spacer_step_entered": "spacer step, step of spacer, spacer increment, spacer steps, spacer length step",
    "maker_ring_count_entered": (
        "maker ring count, rings maker, no of rings maker, maker no of rings, ring count maker, maker rings, "
        "maker s rings, maker s no of rings, no of rings from maker, rings per maker, no rings drawing, rings on "
        "drawing, rings drawing, no of rings per drawing, maker s ring count, rings by maker, no of rings by "
        "maker, no of rings per maker, rings to maker s drawing, original rings, original no of rings"
    ),
    "preferred_ring_count_entered": (
        "preferred ring count, preferred rings, preferred no of rings, rings preferred, no of rings preferred, most rings"
    ),
    "set_compression_entered": ("set compression, compression, final compression, compression set, compression of set, compression final"),
    "seating_compression_entered": (
        "seating compression, compression seating, compression at seating, pre compression, precompression, "
        "seated compression, compression seated"
    ),
    "least_entry_share_entered": (
        "least entry share, entry share, minimum entry share, entry share of section, least entry share of section"
    ),
    "length_allowance_entered": (
        "length allowance, cut allowance, cutting allowance, ring length allowance, allowance, cut length allowance"
    ),
    "waste_share_entered": "waste share, waste, waste allowance, cutting waste, scrap, scrap share, wastage",
}
#: Phrases that count only where nothing plainer heads another column.
_WEAK_PHRASES: Final = {
    "tag": ("valve, valves, equipment, equipment no, equipment id, id, item no, item, asset, asset no, position, mark, valve name, name"),
    "unit_set": "system, metric, imperial, dimensions",
    "gland_stud_thread": "thread, thread size",
    "packing_form_entered": "braid, form",
    "cut_style_entered": "joint, joint type",
    "preferred_ring_count_entered": "rings, no of rings, ring count, number rings, packing rings, no of packing rings",
}

#: A longer text is a remark, not the header of a measurement.
_LONGEST: Final = 120
_BRACKETED: Final = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
_CAMEL: Final = re.compile(r"(?<=[a-z])(?=[A-Z][a-z])")
_DIAMETER_SIGN: Final = re.compile("[ØøΦφ⌀∅]")
_SPLIT_UNITS: Final = re.compile(r"\s*(?:[/|,;&]|\bor\b|\boder\b|\bou\b)\s*")
_LAST_WORD: Final = re.compile(r"^(?P<front>.*?)(?P<mark>[\s,;:/|_.-]+)(?P<unit>[^\s,;:/|_-]+|''|\")$", re.DOTALL)
_INCH_SIGN: Final = re.compile(r"^(?P<front>.*?\S)\s*(?:\"|″|”|'')$", re.DOTALL)
#: What a row of units has above a column without one.
_UNITLESS: Final = frozenset({"-", "\u2013", "text", "pcs", "pc", "ea", "no", "nr", "each", "1", "#"})
_PERCENT_WORDS: Final = frozenset({"%", "percent", "per cent", "pct", "prozent"})


@dataclass(frozen=True)
class Header:
    """What one header means.

    `text` is as the user wrote it, on one line. `entry` is a name of ENTRY_COLUMNS or "". `unit` is mm, cm, m, in, ft
    or ""; `percent` says that the header asks for per cent. `weak` says that a plainer header goes before this one.
    """

    text: str
    entry: str = ""
    unit: str = ""
    percent: bool = False
    weak: bool = False


def _words(text: str) -> tuple[str, ...]:
    """The words of a header in one spelling: no case, accents or punctuation."""
    text = _CAMEL.sub(" ", _DIAMETER_SIGN.sub(" diameter ", text)).replace("#", " no ")
    bare = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c)).casefold()
    return tuple(_ALIKE.get(word, word) for word in re.findall(r"[a-z0-9]+", bare))


def _phrases(lists: dict[str, str]) -> dict[frozenset[str], str]:
    """Word set to entry name."""
    return {frozenset(_words(phrase)): entry for entry, phrases in lists.items() for phrase in phrases.split(", ")}


_PLAIN: Final = _phrases(_PHRASES) | {frozenset(_words(name)): name for name in _PHRASES}
_WEAK: Final = _phrases(_WEAK_PHRASES)


def _unit_of(text: str) -> tuple[bool, str, bool]:
    """Whether a text is nothing but units, the one length unit that it names (or ""), and whether it is per cent."""
    text = plain(text).casefold().removeprefix("in ").strip()
    if text in _PERCENT_WORDS:
        return True, "", True
    units = [length_unit(part) for part in _SPLIT_UNITS.split(text)]
    if not all(units):
        return False, "", False
    return True, units[0] if len(set(units)) == 1 else "", False


def _split_unit(text: str) -> tuple[str, str, bool]:
    """A header without its unit, the unit ("" for none), and whether it asks for per cent."""
    for found in _BRACKETED.finditer(text):
        only_units, unit, percent = _unit_of(found.group(1))
        if only_units:
            return text[: found.start()] + " " + text[found.end() :], unit, percent
    bare = text.strip()
    if bare.endswith("%"):
        return re.sub(r"[\s,]+in\s*$", "", bare[:-1], flags=re.IGNORECASE), "", True
    sign = _INCH_SIGN.match(bare)
    if sign:
        return sign["front"], "in", False
    last = _LAST_WORD.match(bare)
    if last and length_unit(last["unit"]):
        # "Depth, mm" and "Depth in mm" are headers with a unit; so is "Depth in", where "in" itself is the unit.
        front = re.sub(r"[\s,]+in$", "", last["front"], flags=re.IGNORECASE)
        return front, length_unit(last["unit"]), False
    return bare, "", False


def _look_up(words: tuple[str, ...]) -> tuple[str, bool]:
    """Entry name and whether the match is weak; ("", False) for an unknown header."""
    everything = frozenset(words)
    telling = everything - _EMPTY_WORDS
    for known, weak in ((_PLAIN, False), (_WEAK, True)):
        for tried in (everything, telling):
            if tried in known:
                return known[tried], weak
    return "", False


@lru_cache(maxsize=4096)
def understand(text: str) -> Header:
    """What one header means by itself.

    Args:
        text: the header as written.

    Returns:
        The header's entry, unit and whether it asks for per cent; entry "" where nothing is known.
    """
    shown = plain(text)
    if len(shown) > _LONGEST:
        return Header(shown)
    entry, weak = _look_up(_words(shown))
    if entry in TEXT_COLUMNS:
        return Header(shown, entry, weak=weak)
    front, unit, percent = _split_unit(shown)
    bare_entry, bare_weak = _look_up(_words(front))
    if bare_entry:
        return Header(shown, bare_entry, unit if bare_entry in LENGTH_COLUMNS else "", percent, bare_weak)
    return Header(shown, entry, "", percent, weak)


def understand_row(cells: Sequence[object]) -> tuple[Header, ...]:
    """What the cells of one row mean as headers.

    Args:
        cells: one row of a file, any kinds of value.

    Returns:
        One Header a cell. A weak one has no entry where a plainer one of the same entry stands in the row, or an
        earlier weak one.
    """
    headers = [understand(cell) if isinstance(cell, str) else Header(plain(cell)) for cell in cells]
    taken = {header.entry for header in headers if not header.weak}
    said = []
    for header in headers:
        if header.weak and header.entry in taken:
            said.append(Header(header.text))
            continue
        taken.add(header.entry)
        said.append(header)
    return tuple(said)


def score(headers: Sequence[Header]) -> int:
    """How many different entries a row of headers gives; 0 where it is too little to be a header row.

    One known word alone may be a title, so one is enough only where it is the stem or the bore.
    """
    known = {header.entry for header in headers} - {""}
    if len(known) == 1 and not known & {"stem_diameter_entered", "box_bore_entered"}:
        return 0
    return len(known)


def units_row(cells: Sequence[object], headers: Sequence[Header]) -> tuple[tuple[str, bool], ...] | None:
    """The units that a row below the header gives.

    Args:
        cells: the row below the header.
        headers: the header row.

    Returns:
        For each header (unit, percent), or None where the row is no units row: it holds only units and blanks, and at
        least one length unit under a length or per cent under a share.
    """
    units: list[tuple[str, bool]] = []
    speaks = False
    for at, header in enumerate(headers):
        text = plain(cells[at]) if at < len(cells) else ""
        inner = _BRACKETED.fullmatch(text)
        text = inner.group(1) if inner else text
        if not text or text.casefold().strip(".") in _UNITLESS:
            units.append(("", False))
            continue
        only_units, unit, percent = _unit_of(text)
        if not only_units:
            return None
        speaks |= bool(unit) and header.entry in LENGTH_COLUMNS
        units.append((unit, percent))
    return tuple(units) if speaks else None
