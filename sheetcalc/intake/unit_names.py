"""Units as people spell them: alone, after a number, or in a header."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files
from typing import Final

from sheetcalc.intake.cells import plain

#: The spellings of each unit, by dimension; a stress is spelt as a pressure.
_SPELLINGS: Final[dict[str, dict[str, list[str]]]] = tomllib.loads(files("sheetcalc.intake").joinpath("units.toml").read_text("utf-8"))
_UNIT_NAMES: Final = {text: unit for units in _SPELLINGS.values() for unit, spellings in units.items() for text in spellings}
_LENGTH_NAMES: Final = frozenset(text for spellings in _SPELLINGS["length"].values() for text in spellings)
#: The units that a measurement may be given in, by dimension, under the names that `sheetcalc.units` knows.
UNITS: Final = {dimension: frozenset(units) for dimension, units in (_SPELLINGS | {"stress": _SPELLINGS["pressure"]}).items()}
#: A weight in a column for a force can only mean the force, and the other way.
_MEANT: Final = {("kg", "force"): "kgf", ("lb", "force"): "lbf", ("kgf", "mass"): "kg", ("lbf", "mass"): "lb"}
#: What says that a number is per cent.
PERCENT_WORDS: Final = frozenset({"%", "percent", "per cent", "pct"})
_PERCENT_HEADS: Final = PERCENT_WORDS | {"prozent"}
#: Spellings of one unit made one: the sign for degrees, squares, and gauge pressure, with or without brackets.
_ONE_SPELLING: Final = (
    (re.compile("\u2103"), "°C"),
    (re.compile("\u2109"), "°F"),
    (re.compile("[\u00ba\u02da]"), "°"),
    (re.compile(r"²|\^\s*2"), "2"),
    (re.compile(r"(?:°|\bdeg(?:ree)?s?(?![a-z]))\.?\s*(celsius|fahrenheit|[CFK])\b(?!\w)", re.IGNORECASE), r"°\1"),
    (
        re.compile(r"\b(m?bar|psi|kpa|mpa|kgf?/cm2)(?:\s*\(\s*(?:g|ga|gauge)\s*\)|\s*(?:g|ga|gauge)(?!\w))", re.IGNORECASE),
        r"\1g",
    ),
)
#: A part of a text in brackets of any kind.
BRACKETED: Final = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
_SPLIT_UNITS: Final = re.compile(r"\s*(?:[/|,;&]|\bor\b|\boder\b|\bou\b)\s*")
#: The last word of a header, at first with strokes and hyphens inside, as in N/mm2.
_LAST_WORDS: Final = (
    re.compile(r"^(?P<front>.*?)(?P<mark>[\s,;:]+)(?P<unit>\S+)$", re.DOTALL),
    re.compile(r"^(?P<front>.*?)(?P<mark>[\s,;:/|_.-]+)(?P<unit>[^\s,;:/|_-]+|''|\")$", re.DOTALL),
)
_INCH_SIGN: Final = re.compile(r"^(?P<front>.*?\S)\s*(?:\"|″|”|'')$", re.DOTALL)


def one_spelling(text: str) -> str:
    """A text with the units in it in one spelling: "deg C" and "º C" are "°C", "bar (g)" is "barg", "mm²" is "mm2"."""
    for pattern, spelling in _ONE_SPELLING:
        text = pattern.sub(spelling, text)
    return text


def unit_name(text: str) -> str:
    """The unit of any dimension that a text spells, as `sheetcalc.units` names it (mm, bar, degC), or ""."""
    key = one_spelling(plain(text)).casefold().rstrip(".")
    # Spaces and points inside, as in "lb / sq. in", are let pass but in lengths: "m m" may be anything.
    bare = key.replace(" ", "").replace(".", "")
    return _UNIT_NAMES.get(key) or ("" if bare in _LENGTH_NAMES else _UNIT_NAMES.get(bare, ""))


def fits(unit: str, dimension: str) -> bool:
    """Whether a unit is one of a dimension, a key of UNITS, or can only mean one of it: "kg" in a column for a force."""
    return meant(unit, dimension) in UNITS[dimension]


def meant(unit: str, dimension: str) -> str:
    """The unit that a word for a weight means in a column for a force, or for a force in one for a mass; any other as it is."""
    return _MEANT.get((unit, dimension), unit)


def unit_of(text: str) -> tuple[bool, str, bool]:
    """Whether a text is nothing but units, the one unit that it names (or ""), and whether it is per cent."""
    text = plain(text).casefold().removeprefix("in ").strip()
    if text in _PERCENT_HEADS:
        return True, "", True
    if unit_name(text):
        return True, unit_name(text), False
    units = [unit_name(part) for part in _SPLIT_UNITS.split(text)]
    if not all(units):
        return False, "", False
    return True, units[0] if len(set(units)) == 1 else "", False


def split_unit(text: str) -> tuple[str, str, bool]:
    """A header without its unit, the unit ("" for none), and whether it asks for per cent."""
    text = one_spelling(text)
    for found in BRACKETED.finditer(text):
        only_units, unit, percent = unit_of(found.group(1))
        if only_units:
            return text[: found.start()] + " " + text[found.end() :], unit, percent
    bare = text.strip()
    if bare.endswith("%"):
        return re.sub(r"[\s,]+in\s*$", "", bare[:-1], flags=re.IGNORECASE), "", True
    sign = _INCH_SIGN.match(bare)
    if sign:
        return sign["front"], "in", False
    for pattern in _LAST_WORDS:
        last = pattern.match(bare)
        if last and unit_name(last["unit"]):
            # "Depth, mm" and "Depth in mm" are headers with a unit; so is "Depth in", where "in" itself is the unit.
            front = re.sub(r"[\s,]+in$", "", last["front"], flags=re.IGNORECASE)
            return front, unit_name(last["unit"]), False
    return bare, "", False
