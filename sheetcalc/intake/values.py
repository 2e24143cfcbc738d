"""One cell of a list: what number or text stands there, and in which unit.

What can be read in more than one way is read in the way that suits a stuffing box, and the reading says so. A comma
followed by exactly three digits (`1,125`) is a decimal comma: no length, count or share of this job reaches a thousand.
A pressure, a temperature, a stress, a force or a mass may, so there nothing is guessed and the cell stays a text. `1,234.5` and
`1.234,5` are plain, and are thousands.

Two numbers in one cell (`28/44`, `28-30`) are never a number: which is meant is not guessed. A date is never read, but
the fraction that a spreadsheet makes such a date of is named.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from sheetcalc.findings import DateNotNumber, DateWasFraction, Finding, NotANumber, UnclearComma, UnknownUnit
from sheetcalc.intake.cells import DASHES, SIGNS, VULGAR, plain, says_not_given
from sheetcalc.intake.date_fractions import DATE, date_fractions, fractions_of_text
from sheetcalc.intake.guesses import TwoNumbers
from sheetcalc.intake.unit_names import PERCENT_WORDS, fits, meant, one_spelling, unit_name

#: The number of a crew or a day with the word for it: "Crew 2", "day no. 3", "2nd". A hyphen is none of it, since day -1 is one before.
_NUMBERED: Final = {
    entry: re.compile(
        rf"(?:(?:(?:{words})\b\.?\s*)?(?:no|nr)\.?|(?:{words}))?\s*[:#]?\s*(?P<number>\d{{1,4}})(?:(?:st|nd|rd|th)(?:\s+(?:{words}))?)?",
        re.IGNORECASE | re.ASCII,
    )
    for entry, words in {"crew_number_entered": "crew|team|gang", "job_day_entered": "day|d"}.items()
} | {
    # "Class 300", "ANSI 150#", "600 lb"; the comma of "1,500" parts thousands, since no class has a fraction.
    "flange_class_entered": re.compile(
        r"(?:(?:asme|ansi|b\s*16\.5|pressure|flange|class|cl|#)(?:[\s.:#-]+|(?=\d)))*(?P<number>\d{2,4}|\d,\d{3})"
        r"\s*(?:#|lbs?\.?|pounds?|class|cl\.?|ansi|asme)?",
        re.IGNORECASE | re.ASCII,
    ),
    "sling_legs_entered": re.compile(
        r"(?P<number>\d{1,2})\s*-?\s*(?:legs?|legged)(?:\s+(?:chain\s+|wire\s+rope\s+)?(?:slings?|bridles?))?", re.IGNORECASE | re.ASCII
    ),
}
_SIMPLE: Final = re.compile(r"[+-]?\d{1,15}(?:\.\d*)?", re.ASCII)
_NUMBER: Final = re.compile(
    r"""(?P<sign>[+-]?)\s*(?:[ØøΦ⌀∅]\s*)?(?:
        (?:(?P<whole>\d{1,6})(?:\s*-\s*|\s+))?(?P<top>\d{1,6})\s*/\s*(?P<bottom>\d{1,6})(?![\d.,/])
      | (?P<decimal>(?:\d|[.,](?=\d))(?:[\d.,]*\d)?\.?(?:[eE][+-]?\d{1,3}(?!\w))?)
    )\s*(?P<rest>.*)""",
    re.VERBOSE | re.DOTALL | re.ASCII,
)
_GROUPED: Final = re.compile(r"\d{1,3}(?:[\u00a0\u202f\u2009]\d{3})+(?![\d/\u00a0\u202f\u2009])")
#: What marks a number as rough or doubtful, before and after it.
_ROUGH: Final = re.compile(
    r"(?P<before>(?:~|≈|≅|approx\.?|approximately|about|abt\.?|around|circa|ca\.?|c\.|roughly|say|est\.?|rund|etwa|env\.?)\s*)?(?P<number>.*?)"
    r"(?P<after>\s*(?:\?+|\(\?+\)|\*+|~|\(?(?:approx\.?|about|ca\.?|est\.?|estimated|or so|rough|roughly)\)?))?",
    re.IGNORECASE | re.DOTALL,
)
_PLAIN_NUMBER: Final = r"[Øø⌀]?\s*[+-]?\d{1,7}(?:[.,]\d{1,4})?"
#: Two numbers with something between them, and perhaps a unit after each.
_TWO: Final = re.compile(
    rf"(?P<first>{_PLAIN_NUMBER})\s*(?P<unit>(?!(?:x|to|and|or|bis)\b)[a-z°\"″]{{1,4}})?(?:\s*(?:/|-|–|x|×|\.\.+|…|;|\||&|\bto\b|\band\b|\bor\b|\bbis\b)\s*|\s+)"
    rf"(?P<second>{_PLAIN_NUMBER})\s*(?P<rest>\D*)",
    re.IGNORECASE | re.ASCII,
)
#: What parts the two numbers of a pair, from the plainest on: a stroke may belong to a fraction.
_PAIR_MARKS: Final = (r"\s*[x×;|&]\s*", r"\s+/\s+", r"\s*/\s*")
_APOSTROPHES: Final = re.compile(r"(?<![\d'])\d{1,3}(?:['’]\d{3})+(?!\d)")
_SPACED: Final = re.compile(r"(?<![\d ])\d{1,3}(?: \d{3})+(?! ?[\d/]|[.,]\d{3})")
_COUNT_WORDS: Final = frozenset(
    {"rings", "ring", "pcs", "pc", "ea", "off", "no", "nos", "x", "studs", "stud", "bolts", "bolt", "starts", "start"}
    | {"gasket", "gaskets", "end rings", "new", "new studs", "joint", "joints", "flange", "flanges", "flanged joints"}
)
#: A text that looks like a unit, known or not; absolute pressures are such, since no gauge pressure is made of them here.
_UNIT_LIKE: Final = re.compile(r"[^\W\d_]+\.?(?:\s*/\s*[^\W\d_]+2?)?(?:\s*\(?\s*a(?:bs(?:olute)?\.?)?\s*\)?)?|°\w?|'|\u2032")
#: A longer text is a remark, not a measurement or a code.
LONGEST: Final = 60
#: What may be less than one and typed as a fraction.
_WITH_FRACTIONS: Final = frozenset({"length", ""})
#: What may well be a thousand and more, so that a comma before three digits says nothing.
_BEYOND_A_THOUSAND: Final = frozenset({"pressure", "stress", "temperature", "force", "mass"})
#: The finest division of an inch rule.
_FINEST: Final = 128


@dataclass(frozen=True)
class Reading:
    """What one cell says.

    `number` is None where the cell is blank or no number; `unit` is one of UNITS, "%" or "" as the cell itself states;
    `fault` is the finding's class where it could not be read; `guessed_comma` says that a comma was taken for a decimal
    one; `bottom` is the denominator of a fraction, 1 for none; `blank` says that nothing stands there, and `not_given`
    that it says so in words. `rough` says that the number is marked as rough, `thousands` that a space or an apostrophe
    was taken for a mark of thousands. `fractions` are what a date may have been typed as, the likeliest first.
    """

    number: float | None = None
    unit: str = ""
    fault: type[Finding] | None = None
    guessed_comma: bool = False
    bottom: int = 1
    blank: bool = False
    not_given: bool = False
    rough: bool = False
    thousands: bool = False
    fractions: tuple[str, ...] = ()


_BLANK: Final = Reading(blank=True)
_NO_NUMBER: Final = Reading(fault=NotANumber)


def read_value(cell: object, *, counts: bool = False, dimension: str = "length") -> Reading:
    """What number stands in a cell, and in which unit.

    Args:
        cell: a value of a spreadsheet, or the text of a CSV cell.
        counts: whether words such as "rings" and "pcs" may follow the number.
        dimension: a key of UNITS, whose units may follow the number; "" for a number that has no unit.

    Returns:
        The number in the cell's own unit; a share stays as written (30 for "30 %", unit "%"). A date is no number: its
        fault is DateWasFraction where a spreadsheet makes such a date of a fraction, else DateNotNumber. Never raises.
    """
    if cell is None or isinstance(cell, str):
        return _read_text(cell or "", counts, dimension)
    if isinstance(cell, (dt.date, dt.time, dt.timedelta)):
        return _read_date(cell)
    if isinstance(cell, bool) or not isinstance(cell, (int, float)):
        return _NO_NUMBER
    try:
        number = float(cell)
    except OverflowError:
        number = math.inf
    return Reading(number) if math.isfinite(number) else _NO_NUMBER


def _read_date(cell: dt.date | dt.time | dt.timedelta) -> Reading:
    """A date of a spreadsheet: no number, but perhaps a fraction once."""
    if not isinstance(cell, dt.date):
        return Reading(fault=DateNotNumber)
    return _was(date_fractions(cell.day, cell.month, cell.year))


def _was(fractions: tuple[str, ...]) -> Reading:
    """The reading of a date that may have been one of these fractions."""
    return Reading(fault=DateWasFraction if fractions else DateNotNumber, fractions=fractions)


@lru_cache(maxsize=65536)
def _read_text(text: str, counts: bool, dimension: str) -> Reading:  # noqa: FBT001 - positional for the cache
    """`read_value` of a text."""
    if _SIMPLE.fullmatch(text):
        return Reading(float(text))
    if len(text.strip()) > LONGEST:
        return _NO_NUMBER
    bare = plain(_GROUPED.sub(lambda found: re.sub(r"\D", "", found.group()), text)).translate(SIGNS)
    for sign, fraction in VULGAR.items():
        if dimension in {"time", "mass"} and bare.startswith(sign):
            # A typed 1/2 may be one hour or two, this sign is half of one.
            bare = f"0 {fraction}{bare[1:]}"
        bare = bare.replace(sign, f" {fraction}")
    bare = bare.strip()
    if not bare or bare in DASHES:
        return _BLANK
    if says_not_given(bare, number=True):
        return Reading(blank=True, not_given=True)
    if DATE.fullmatch(bare):
        return _was(fractions_of_text(bare))
    reading = _read_bare(bare, counts, dimension)
    return _read_marked(bare, counts, dimension, reading) if reading.fault in {NotANumber, UnknownUnit} else reading


def _read_bare(bare: str, counts: bool, dimension: str) -> Reading:  # noqa: FBT001 - as `_read_text`
    """The reading of a text in plain signs without a mark of doubt."""
    joined = _APOSTROPHES.sub(lambda found: re.sub(r"\D", "", found.group()), bare)
    if dimension in _BEYOND_A_THOUSAND:
        # Of a length nobody knows whether "28 440" is one number or two.
        joined = _SPACED.sub(lambda found: found.group().replace(" ", ""), joined)
    found = _NUMBER.fullmatch(joined)
    reading = _number(found, counts=counts, dimension=dimension) if found else _NO_NUMBER
    if reading.number is not None and joined != bare:
        return replace(reading, thousands=True)
    return reading


def _read_marked(bare: str, counts: bool, dimension: str, reading: Reading) -> Reading:  # noqa: FBT001 - as `_read_text`
    """What is no plain number: a number with a mark of doubt, or two numbers."""
    marked = _ROUGH.fullmatch(bare)
    if marked and (marked["before"] or marked["after"]):
        rough = _read_bare(marked["number"].strip(), counts, dimension)
        if rough.number is not None:
            return replace(rough, rough=True)
        bare = marked["number"].strip()
    two = _TWO.fullmatch(bare)
    if two and float(two["second"].strip("Øø⌀ ").replace(",", ".")):
        rests = [one_spelling(rest).strip() for rest in (two["unit"], two["rest"]) if rest]
        if all(unit_name(rest) or (counts and rest.casefold() in _COUNT_WORDS) for rest in rests if rest):
            return Reading(fault=TwoNumbers)
    return reading


def pair(cell: object, *, metric: bool) -> tuple[str, str] | None:
    """The two measurements of a cell under a header of two, as texts with their units.

    Args:
        cell: any value.
        metric: whether the column or the row is in mm, so that 28/32 cannot be a fraction of an inch.

    Returns:
        Both texts, the unit at the end given to both where the first has none; None where the cell is not plainly two
        numbers.
    """
    if not isinstance(cell, str):
        return None
    text = plain(cell).translate(SIGNS)
    for mark in _PAIR_MARKS:
        parts = re.split(mark, text, flags=re.IGNORECASE)
        if len(parts) != 2:  # noqa: PLR2004 - a pair
            continue
        readings = [read_value(part) for part in parts]
        if any(one.number is None for one in readings):
            return None
        if mark == _PAIR_MARKS[-1] and not metric and _fraction_too(parts):
            return None
        unit = readings[1].unit
        first = f"{parts[0]} {unit}" if unit and not readings[0].unit else parts[0]
        return first, parts[1]
    return None


def _fraction_too(parts: list[str]) -> bool:
    """Whether two parts of a text with one stroke may as well be one fraction of an inch."""
    if not all(re.match(r"\d+(?![\d.,])", part) for part in parts):
        return False
    top, bottom = (int(re.match(r"\d+", part).group()) for part in parts)  # type: ignore[union-attr]
    return top < bottom <= _FINEST and bottom.bit_count() == 1 and top % 2 == 1


def _number(found: re.Match[str], *, counts: bool, dimension: str) -> Reading:
    """The reading of a number with what follows it."""
    if found["bottom"] and not found["whole"] and dimension not in _WITH_FRACTIONS:
        # A pressure of 10/16 is two pressures.
        return _NO_NUMBER
    number, guessed, bottom = _fraction(found) if found["bottom"] else (*_decimal(found["decimal"]), 1)
    if number is None or not math.isfinite(number):
        return _NO_NUMBER
    number = -number if found["sign"] == "-" else number
    unit, fault = _unit(found["rest"], counts=counts, dimension=dimension)
    if guessed and dimension in _BEYOND_A_THOUSAND:
        fault = fault or UnclearComma
    if fault:
        return Reading(fault=fault)
    return Reading(number, unit, guessed_comma=guessed, bottom=bottom)


def _fraction(found: re.Match[str]) -> tuple[float | None, bool, int]:
    """A fraction of an inch rule: halves to 128ths; others, such as 28/44, are two numbers in one cell."""
    whole, top, bottom = int(found["whole"] or 0), int(found["top"]), int(found["bottom"])
    on_a_rule = 1 < bottom <= _FINEST and bottom.bit_count() == 1
    if not on_a_rule or (found["whole"] and top >= bottom):
        return None, False, 1
    return whole + top / bottom, False, bottom


def _decimal(text: str) -> tuple[float | None, bool]:
    """A number with points, commas or both, and whether its comma was guessed to be a decimal one."""
    mantissa, mark, exponent = text.partition("e") if "e" in text else text.partition("E")
    guessed = False
    if "," in mantissa and "." in mantissa:
        decimal = max(",.", key=mantissa.rfind)
        group = "." if decimal == "," else ","
        head, _, tail = mantissa.rpartition(decimal)
        mantissa = f"{head.replace(group, '')}.{tail}" if _is_grouped(head, group) else ""
    elif mantissa.count(",") == 1:
        head, _, tail = mantissa.partition(",")
        guessed = len(tail) == 3 and re.fullmatch(r"[1-9]\d{0,2}", head) is not None  # noqa: PLR2004 - a group of thousands
        mantissa = f"{head}.{tail}"
    elif "," in mantissa or mantissa.count(".") > 1:
        group = "," if "," in mantissa else "."
        mantissa = mantissa.replace(group, "") if _is_grouped(mantissa, group) else ""
    try:
        return float(mantissa + mark + exponent), guessed
    except ValueError:
        return None, False


def _is_grouped(text: str, group: str) -> bool:
    """Whether a text is digits in groups of three."""
    return re.fullmatch(rf"\d{{1,3}}(?:{re.escape(group)}\d{{3}})+", text, re.ASCII) is not None


def _unit(rest: str, *, counts: bool, dimension: str) -> tuple[str, type[Finding] | None]:
    """The unit that follows a number ("" for none), or the fault where no unit is understood."""
    if not rest:
        return "", None
    if counts and rest.casefold().rstrip(".") in _COUNT_WORDS:
        return "", None
    if rest.casefold() in PERCENT_WORDS:
        return "%", None
    unit = unit_name(rest)
    if unit and dimension and fits(unit, dimension):
        return meant(unit, dimension), None
    return "", UnknownUnit if dimension and (unit or _UNIT_LIKE.fullmatch(one_spelling(rest))) else NotANumber


def numbered(entry: str, cell: object) -> object:
    """The bare number that stands with the word for it, such as "Crew 2", "Class 150" or "4-leg"; any other cell as it is."""
    found = _NUMBERED[entry].fullmatch(plain(cell).translate(SIGNS)) if entry in _NUMBERED and isinstance(cell, str) else None
    return found["number"].replace(",", "") if found else cell
