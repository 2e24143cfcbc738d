"""Answers that are chosen from a few words: obvious spellings of each are made one."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Final

from sheetcalc.intake.cells import DASHES, plain
from sheetcalc.intake.sizes import flange_size, thread
from sheetcalc.intake.values import LONGEST

#: The spellings of each answer: of the unit sets, of what several entries share, and of each entry.
_SPELLINGS: Final = tomllib.loads(files("sheetcalc.intake").joinpath("choices.toml").read_text("utf-8"))
#: Entries that answer a question of yes or no: a lone dash is an answer there, not a blank.
_YES_NO: Final = ("critical_entered", "comes_out_entered", "flange_studs_renewed_entered", "valve_actuated_entered")
#: Entries that may say that they are not stated.
_NOT_STATED: Final = ("fluid_kind_entered", "stem_motion_entered", "flange_facing_entered", "flange_material_entered")


def _by_spelling(codes: dict[str, list[str]]) -> dict[str, str]:
    """Spelling to code."""
    return {text: code for code, spellings in codes.items() for text in spellings}


_UNIT_SETS: Final = _by_spelling(_SPELLINGS["unit_set"])
_SHARED: Final = dict.fromkeys(_YES_NO, "yes_no") | dict.fromkeys(_NOT_STATED, "not_stated")
#: The code of each spelling, by entry.
CODES: Final = {
    entry: _by_spelling(_SPELLINGS["shared"].get(_SHARED.get(entry), {})) | _by_spelling(codes)
    for entry, codes in _SPELLINGS["entries"].items()
}


def unit_set(cell: object) -> str:
    """The unit set that a cell names: "metric", "US" or "" for a blank.

    Anything else comes back as it was written, trimmed, so that it can be shown.
    """
    text = plain(cell)
    key = _key(text).replace(".", "")
    return _UNIT_SETS.get(key, text)


def code(entry: str, cell: object) -> str:
    """A text entry with obvious spellings made one.

    Args:
        entry: a text entry, such as gland_stud_thread or packing_form_entered.
        cell: any value.

    Returns:
        The code where the text is an obvious spelling of it, else the text as written, trimmed; "" for a lone dash, but
        "no" for one that answers a question.
    """
    text = plain(cell)
    if text in DASHES:
        return "no" if entry in _YES_NO else ""
    if len(text) > LONGEST:
        return text
    if entry == "gland_stud_thread":
        return thread(text)
    if entry == "flange_size":
        return flange_size(text)[0]
    return CODES.get(entry, {}).get(_key(text)) or text


def _key(text: str) -> str:
    """A text as a look-up key: no case, hyphens or underscores, and no accent on the few words that may have one."""
    return " ".join(text.casefold().replace("é", "e").strip("()[]").replace("-", " ").replace("_", " ").split())
