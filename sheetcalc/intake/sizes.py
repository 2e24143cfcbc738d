"""Sizes by name: the thread of a gland stud, and the nominal size of a flange."""

from __future__ import annotations

import re
from typing import Final

from sheetcalc.findings import Finding, SizeFromDn, UnclearSize
from sheetcalc.intake.cells import DASHES, SIGNS, VULGAR, plain
from sheetcalc.intake.guesses import GuessedNps
from sheetcalc.intake.values import read_value

#: Coarse pitch in mm of the metric threads that have a key.
COARSE_PITCH: Final = {
    6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3.0, 27: 3.0, 30: 3.5,
    33: 3.5, 36: 4.0, 39: 4.0,
}  # fmt: skip
#: Threads per inch of the inch threads that have a key: coarse to 1 in, eight from there on.
INCH_THREADS: Final = {
    "1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 13, "9/16": 12, "5/8": 11, "3/4": 10, "7/8": 9, "1": 8,
    "1 1/8": 8, "1 1/4": 8, "1 3/8": 8, "1 1/2": 8, "1 5/8": 8, "1 3/4": 8, "1 7/8": 8, "2": 8, "2 1/4": 8, "2 1/2": 8,
}  # fmt: skip
#: Nominal pipe sizes in inches that have a flange in the tables.
NPS: Final = {
    0.5: "1/2", 0.75: "3/4", 1.0: "1", 1.25: "1 1/4", 1.5: "1 1/2", 2.0: "2", 2.5: "2 1/2", 3.0: "3", 3.5: "3 1/2", 4.0: "4", 5.0: "5",
    6.0: "6", 8.0: "8", 10.0: "10", 12.0: "12", 14.0: "14", 16.0: "16", 18.0: "18", 20.0: "20", 22.0: "22", 24.0: "24",
}  # fmt: skip
#: The same sizes as DN (ISO 6708), and the NPS in inches of each, as ASME B36.10M pairs them.
DN: Final[dict[float, float]] = {
    15: 0.5, 20: 0.75, 25: 1.0, 32: 1.25, 40: 1.5, 50: 2.0, 65: 2.5, 80: 3.0, 90: 3.5, 100: 4.0, 125: 5.0, 150: 6.0, 200: 8.0, 250: 10.0,
    300: 12.0, 350: 14.0, 400: 16.0, 450: 18.0, 500: 20.0, 550: 22.0, 600: 24.0,
}  # fmt: skip
#: What a word or a unit beside a size says of it.
_KIND_OF_SIZE: Final = {"NPS": "NPS", "in": "NPS", "DN": "DN", "mm": "DN"}
#: Bare numbers that are an NPS, and a DN too: among bare numbers that can only be DN they may be either.
_EITHER: Final = frozenset({6.0, 8.0, 10.0, 20.0})
_SIZE: Final = re.compile(
    r"(?:(?P<before>nps|dn|nb)[\s.:-]*)?(?P<number>[^a-z]*?(?:\s*(?:mm|in(?:s|ch(?:es)?)?\.?))?)\s*(?P<after>nps|dn|nb)?",
    re.IGNORECASE | re.ASCII,
)
#: One size said twice, as DN and in inches: DN 50 (2").
_SIZE_TWICE: Final = (
    re.compile(r"(?P<dn>dn\s*-?\s*\d{2,3})\b(?:\s*mm)?\s*[/(=,;]\s*(?P<other>[^()]+?)\s*\)?", re.IGNORECASE | re.ASCII),
    re.compile(r"(?P<other>[^()]+?)\s*[/(=,;]\s*(?P<dn>dn\s*-?\s*\d{2,3})\b(?:\s*mm)?\s*\)?", re.IGNORECASE | re.ASCII),
)
#: A flange by its nominal pressure in bar, which no table of classes holds.
_PN: Final = re.compile(r"(?:din\s*|en\s*(?:1092(?:-\d)?\s*)?)?(?:pn|nd)\s*[-.:]?\s*\d{1,3}(?:[.,]\d)?", re.IGNORECASE | re.ASCII)
_METRIC_THREAD: Final = re.compile(r"M\s*(\d{1,2})(?:\s*[x×*-]\s*(\d(?:[.,]\d+)?))?", re.IGNORECASE | re.ASCII)
_INCH_THREAD: Final = re.compile(
    r"(?P<size>(?:\d(?:\s*-\s*|\s+))?\d{1,2}\s*/\s*\d{1,2}|\d)\s*(?:\"|″|”|''|in\.?|inch)?"
    r"(?:\s*[-x×]\s*(?P<pitch>\d{1,2})(?:\s*tpi)?)?[\s-]*(?P<series>UNC|8\s*-?\s*UN|UN)?(?:[\s-]*2[AB])?",
    re.IGNORECASE | re.ASCII,
)


def thread(text: str) -> str:
    """The key of a thread, such as `M12`, `1/2-13 UNC` or `1 1/8-8 UN`.

    Args:
        text: a thread as people write it. A pitch must be the coarse one (inch: coarse to 1 in, eight threads over it).

    Returns:
        The key where the text plainly means one that has a key, else the text as it was written.
    """
    bare = text.translate(SIGNS)
    metric = _METRIC_THREAD.fullmatch(bare)
    if metric:
        size, pitch = int(metric[1]), metric[2]
        known = COARSE_PITCH.get(size)
        plain_pitch = pitch is None or float(pitch.replace(",", ".")) == known
        return f"M{size}" if known and plain_pitch else text
    for sign, fraction in VULGAR.items():
        bare = bare.replace(sign, f" {fraction}")
    inch = _INCH_THREAD.fullmatch(bare.strip())
    if not inch:
        return text
    diameter = re.sub(r"[\s-]+", " ", re.sub(r"\s*/\s*", "/", inch["size"]))
    known_pitch = INCH_THREADS.get(diameter)
    series = re.sub(r"[\s-]", "", inch["series"] or "").upper()
    right_series = series in ("", _series(diameter), f"8{_series(diameter)}")
    # Without a pitch the series must say that the coarse one is meant: a bare 1/2 may have any thread.
    right_pitch = int(inch["pitch"]) == known_pitch if inch["pitch"] else bool(series)
    if not (known_pitch and right_pitch and right_series):
        return text
    return f"{diameter}-{known_pitch} {_series(diameter)}"


def _series(size: str) -> str:
    """The series in a thread's key: UNC to 1 in, UN over it."""
    return "UNC" if "/" in size.partition(" ")[0] or size == "1" else "UN"


def flange_size(cell: object, *, said: str = "", among_dn: bool = False) -> tuple[str, type[Finding] | None]:
    """The nominal size of a flange, such as `NPS 2` or `NPS 1 1/2`.

    Args:
        cell: a size as people write it: with NPS, DN or an inch sign, or bare.
        said: how the header says that sizes are given: "NPS", "DN" or "".
        among_dn: whether other cells of the column hold bare numbers that can only be DN.

    Returns:
        The name and None; with SizeFromDn where a DN gave it, with GuessedNps where a bare number was taken for an NPS.
        What is none of these sizes, or may be two, comes back as written, trimmed, with UnclearSize.
    """
    text = plain(cell)
    if not text or text in DASHES:
        return "", None
    name, finding = _one_size(text, said, among_dn=among_dn)
    if name:
        return name, finding
    for pattern in _SIZE_TWICE:
        twice = pattern.fullmatch(text)
        if twice:
            first, second = (_one_size(twice[part], "", among_dn=False)[0] for part in ("dn", "other"))
            if first and first == second:
                return first, None
    return text, UnclearSize


def _one_size(text: str, said: str, *, among_dn: bool) -> tuple[str, type[Finding] | None]:
    """The name of a size that is said once, with its finding; "" where it is none or may be two."""
    found = _SIZE.fullmatch(text)
    if not found or (found["before"] and found["after"]):
        return "", None
    # The old British way of writing: 1.1/2.
    reading = read_value(re.sub(r"^(\d)\.(?=\d/\d)", r"\1 ", found["number"]))
    if reading.number is None or reading.rough or reading.guessed_comma or reading.unit not in {"", "in", "mm"}:
        return "", None
    number, word = reading.number, (found["before"] or found["after"] or "").upper()
    as_nps, as_dn = NPS.get(number, ""), NPS.get(DN.get(number, 0.0), "")
    kinds = {_KIND_OF_SIZE[one] for one in (word, reading.unit) if one in _KIND_OF_SIZE}
    if not kinds:
        # No DN has a fraction. A nominal bore is given in mm as often as in inches, whatever the header says.
        bore = {"DN"} if as_dn and not as_nps else set()
        kinds = {"NPS"} if reading.bottom > 1 else bore if word else {said} - {""}
    if kinds == {"DN"}:
        return (f"NPS {as_dn}", SizeFromDn) if as_dn else ("", None)
    if kinds == {"NPS"}:
        return (f"NPS {as_nps}", None) if as_nps else ("", None)
    guessed = as_nps and not kinds and not word and not (among_dn and number in _EITHER)
    return (f"NPS {as_nps}", GuessedNps) if guessed else ("", None)


def only_dn(cell: object) -> bool:
    """Whether a cell holds a bare number that can be a DN and no NPS."""
    number = read_value(cell, dimension="").number
    return number in DN and number not in NPS


def is_pn(cell: object) -> bool:
    """Whether a cell names a flange by its nominal pressure, such as "PN 16"."""
    return isinstance(cell, str) and _PN.fullmatch(plain(cell)) is not None
