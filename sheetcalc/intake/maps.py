"""What the user says of his headers: a map from header to entry, typed or kept in a small file.

The file is TOML with one line a header, `"Their header" = "stem_diameter"`, so that it can be read and mended by hand.
"""

from __future__ import annotations

import tomllib
from difflib import get_close_matches
from typing import TYPE_CHECKING, Final

from sheetcalc.errors import ListError
from sheetcalc.intake.entries import CARRY, ENTRY_COLUMNS, entry_named
from sheetcalc.intake.headers import fold

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from sheetcalc.intake.valve_list import ValveList


#: A map is a page of text; a larger file is something else.
_MOST_BYTES: Final = 2**20


def checked(said: Mapping[str, str]) -> dict[str, str]:
    """A map with the entries under their full names.

    Raises:
        ListError: a name is none of an entry, or two headers are given the same one.
    """
    out: dict[str, str] = {}
    for header, name in said.items():
        entry = entry_named(name)
        if not entry:
            message = f"{header!r} cannot be mapped to {name!r}, which is no entry: {_nearest(name)}."
            raise ListError(message)
        twice = next((other for other, one in out.items() if one == entry and entry != CARRY and fold(other) != fold(header)), None)
        if twice is not None:
            message = f"{twice!r} and {header!r} are both mapped to {name}: one column gives a measurement, so name one of them."
            raise ListError(message)
        out[header] = entry
    return out


def _nearest(name: str) -> str:
    """The entries whose names come nearest, in words."""
    short = [one.removesuffix("_entered") for one in ENTRY_COLUMNS]
    key = "_".join(name.casefold().replace("-", " ").split()).removesuffix("_entered")
    words = set(key.split("_"))
    near = get_close_matches(key, short, 3, 0.5) or [one for one in short if words & set(one.split("_"))][:3]
    if near:
        return f"the nearest are {', '.join(near)}"
    return f"entries are {', '.join(short[:8])} and so on, and {CARRY} leaves a column alone"


def typed(texts: Iterable[str]) -> dict[str, str]:
    """The map of options such as "Their header=stem_diameter".

    Raises:
        ListError: a text has no equals sign, or a header is mapped twice.
    """
    out: dict[str, str] = {}
    for text in texts:
        # A header may hold an equals sign, the name of an entry does not.
        header, sign, name = text.rpartition("=")
        if not sign or not header.strip() or not name.strip():
            message = f'--map {text!r} does not say which header means what: write it like "Their header=stem_diameter".'
            raise ListError(message)
        if fold(header) in map(fold, out):
            message = f"--map names the header {header.strip()!r} twice: name it once."
            raise ListError(message)
        out[header.strip()] = name.strip()
    return out


def read(path: Path) -> dict[str, str]:
    """The map that a file holds.

    Raises:
        ListError: the file is missing, cannot be read, or is no list of headers and entries.
    """
    try:
        if path.stat().st_size > _MOST_BYTES:
            message = f"{path} is far too large for a map of headers: name the file that --save-map wrote."
            raise ListError(message)
        held = tomllib.loads(path.read_bytes().decode("utf-8-sig"))
    except FileNotFoundError as error:
        message = f"There is no map file {path}: check the name, or write one with --save-map."
        raise ListError(message) from error
    except (OSError, ValueError) as error:
        message = f'{path} cannot be read as a map: each line must be like "Their header" = "stem_diameter".'
        raise ListError(message) from error
    wrong = next((header for header, name in held.items() if not isinstance(name, str)), None)
    if wrong is not None:
        message = f'{path} says of {wrong!r} something that is no name of an entry: write it in quotes, such as "stem_diameter".'
        raise ListError(message)
    return held


def is_one(path: Path) -> bool:
    """Whether a file is a map that can be read."""
    try:
        read(path)
    except ListError:
        return False
    return True


def text_of(valves: ValveList) -> str:
    """The map file of a list as it was understood: a line for each column with one entry, the others as remarks."""
    lines = [f"# What the headers of {_one_line(valves.source)} mean. Entries are named as `sheetcalc explain` names them."]
    seen: set[str] = set()
    for column in valves.columns:
        if not column.header or fold(column.header) in seen:
            continue
        seen.add(fold(column.header))
        if len(column.entries) == 1:
            lines.append(f"{_quoted(column.header)} = {_quoted(column.entries[0].removesuffix('_entered'))}")
        elif column.entries:
            lines.append(f"# {_quoted(column.header)} holds two measurements, which its own words say.")
        elif column.sure == "mapped":
            lines.append(f"{_quoted(column.header)} = {_quoted(CARRY)}")
        else:
            lines.append(f"# {_quoted(column.header)} = {_quoted(CARRY)}")
    return "\n".join(lines) + "\n"


def _one_line(text: str) -> str:
    """A text without what would end a remark."""
    return "".join(c if c.isprintable() else " " for c in text)


def _quoted(text: str) -> str:
    """A text as TOML writes it."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else f"\\U{ord(c):08X}" for c in escaped) + '"'
