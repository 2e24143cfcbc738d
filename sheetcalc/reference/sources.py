"""The sources, read from sources.toml."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from sheetcalc.declare.source import Grade, Source
from sheetcalc.errors import DeclarationError

_GRADES = {
    "standard": Grade.STANDARD,
    "read": Grade.READ,
    "second-hand": Grade.SECOND_HAND,
    "practice": Grade.PRACTICE,
    "derived": Grade.DERIVED,
    "memory": Grade.MEMORY,
    "choice": Grade.CHOICE,
}


def grade(word: str) -> Grade:
    """The grade that a TOML file names by its short word. Raises DeclarationError for another word."""
    try:
        return _GRADES[word]
    except KeyError:
        message = f"{word!r} is no grade; use one of {', '.join(_GRADES)}"
        raise DeclarationError(message) from None


@cache
def all_sources() -> dict[str, Source]:
    """Every source by its key."""
    text = files("sheetcalc.reference").joinpath("sources.toml").read_text(encoding="utf-8")
    return {key: Source(key, card["text"], grade(card["grade"])) for key, card in tomllib.loads(text).items()}


def cite(key: str) -> Source:
    """The source of that key. Raises DeclarationError when sources.toml has none."""
    try:
        return all_sources()[key]
    except KeyError:
        message = f"sources.toml has no source {key!r}"
        raise DeclarationError(message) from None
