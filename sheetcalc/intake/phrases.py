"""The words of headers: which entry a set of words means, and which word a misspelt one is."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from difflib import get_close_matches
from functools import lru_cache
from importlib.resources import files
from typing import Final

from sheetcalc.intake.entries import PLAN_COLUMNS

_SAID: Final = tomllib.loads(files("sheetcalc.intake").joinpath("headers.toml").read_text("utf-8"))
#: The phrases of each entry, by how plain they are: "plain", "weak" or "weakest".
PHRASES: Final[dict[str, dict[str, list[str]]]] = _SAID["phrases"]
#: Words that mean one thing in a header, whichever is written.
_ALIKE: Final[dict[str, str]] = {other: word for word, others in _SAID["alike"].items() for other in others}
#: Words that say nothing about which measurement a header means. The second try leaves them out.
EMPTY_WORDS: Final = frozenset(_SAID["empty_words"])
#: Words of a heading that speaks of the lengths below it, such as "All dimensions in mm".
ABOUT_LENGTHS: Final = EMPTY_WORDS | frozenset(_SAID["about_lengths"])
#: What speaks of a measurement as of any other, but of a plan as of what came of it: actual hours are none that are planned.
_CAME_OF_IT: Final = frozenset({"actual", "found", "measured"})
#: Letters with points between them, as in I.D. and U.O.M.
_DOTTED: Final = re.compile(r"\b(?:[A-Za-z]\.){1,3}[A-Za-z]\b")
_CAMEL: Final = re.compile(r"(?<=[a-z])(?=[A-Z][a-z])")
_DIAMETER_SIGN: Final = re.compile("[ØøΦφ⌀∅]")
#: Words shorter than this are neither corrected nor corrections: too many others are like them, as steam is like stem.
_LEAST_CORRECTED: Final = 5
_ALIKE_ENOUGH: Final = 0.82


def words_of(text: str) -> tuple[str, ...]:
    """The words of a header in one spelling: no case, accents or punctuation."""
    text = _CAMEL.sub(" ", _DIAMETER_SIGN.sub(" diameter ", text)).replace("#", " no ")
    text = _DOTTED.sub(lambda found: found.group().replace(".", ""), text)
    bare = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c)).casefold()
    return tuple(_ALIKE.get(word, word) for word in re.findall(r"[a-z0-9]+", bare))


def _of_rank(rank: str) -> dict[frozenset[str], str]:
    """Word set to entry name, of the phrases that are as plain as that."""
    return {frozenset(words_of(phrase)): entry for entry, ranks in PHRASES.items() for phrase in ranks.get(rank, ())}


#: The phrases from the plain ones to the weakest; an entry's own name is a plain one.
_RANKS: Final = (
    _of_rank("plain") | {frozenset(words_of(name)): name for name in PHRASES},
    _of_rank("weak"),
    _of_rank("weakest"),
)
#: Every word that means something in a header: what a misspelt one is corrected to.
_VOCABULARY: Final = frozenset({word for known in _RANKS for words in known for word in words} | set(_ALIKE))


def look_up(words: tuple[str, ...]) -> tuple[str, int]:
    """Entry name and how weak the match is; ("", 0) for an unknown header."""
    everything = frozenset(words)
    telling = everything - EMPTY_WORDS
    for weak, known in enumerate(_RANKS):
        for tried in (everything, telling):
            if tried in known:
                return ("", 0) if _no_plan(known[tried], everything) else (known[tried], weak)
    return "", 0


def _no_plan(entry: str, words: frozenset[str]) -> bool:
    """Whether the words only sound like that entry of the plan: actual hours, or the number of (people of) a crew."""
    if entry == "crew_number_entered" and {"count", "of"} <= words and "the" not in words:
        return True
    return entry in PLAN_COLUMNS and bool(words & _CAME_OF_IT)


def corrected(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words with slips of one or two letters put right; the same words where there is none."""
    return tuple(map(_put_right, words))


@lru_cache(maxsize=4096)
def _put_right(word: str) -> str:
    """One word with its slip put right: the first letter and nearly the length must be the same."""
    if len(word) < _LEAST_CORRECTED or not word.isalpha() or word in _VOCABULARY or word in EMPTY_WORDS:
        return word
    alike = [one for one in sorted(_VOCABULARY) if one[0] == word[0] and len(one) >= _LEAST_CORRECTED and abs(len(one) - len(word)) <= 1]
    near = get_close_matches(word, alike, 1, _ALIKE_ENOUGH)
    return _ALIKE.get(near[0], near[0]) if near else word
