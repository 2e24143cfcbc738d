"""What we raise.

SheetcalcError                base: one clear sentence for the person at the keyboard
├── DeclarationError          a quantity, source or table is declared wrongly (a fault of ours)
├── ListError                 a valve list cannot be read at all
├── TooManyRowsError          a list is longer than the stated limit
├── OutputError               a workbook cannot be written where it was asked for
└── UnknownNameError          no quantity, command column or table has that name
"""

from __future__ import annotations

from collections.abc import Iterable


class SheetcalcError(Exception):
    """The base of everything that this package raises on purpose."""


class DeclarationError(SheetcalcError):
    """A quantity, source or table is declared in a way that cannot hold."""


class ListError(SheetcalcError):
    """A valve list cannot be read: missing, empty, unreadable, or no known header."""


class TooManyRowsError(ListError):
    """A valve list has more rows than the workbook is meant for."""


class OutputError(SheetcalcError):
    """A workbook cannot be written: the place exists, is missing, or is full."""


class UnknownNameError(SheetcalcError):
    """A name that no quantity has."""


def nearest(name: str, known: Iterable[str], most: int = 3) -> str:
    """What a sentence about an unknown name ends with: the names nearest to it, at `most` so many, "" where none is near."""
    import difflib  # noqa: PLC0415 - only when something is misspelt

    near = difflib.get_close_matches(name, list(known), n=most, cutoff=0.5)
    return f" Did you mean {', '.join(near)}?" if near else ""
