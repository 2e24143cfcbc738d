"""The register of sheets: each says of itself in which workbooks it stands, where, what for, and what it needs.

A new sheet is one module that registers itself, and one test.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import import_module
from typing import Any, Final, Protocol

from sheetcalc.calculations.answers import Answers
from sheetcalc.errors import DeclarationError
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.layout import Sheet


class Book(StrEnum):
    """The kinds of workbook."""

    ONE = "one valve"
    LIST = "list of valves"
    FOLLOW = "follow-up"


class Purpose(StrEnum):
    """What a sheet is for: people work on it, print it, or audit by it. In that order they stand, but for the job card of one valve."""

    WORK = "work"
    PRINT = "print"
    AUDIT = "audit"


class Contents(Protocol):
    """What a workbook is made of, as the builders of its sheets read it."""

    @property
    def edition(self) -> Edition:
        """The edition, with the answers that the workbook holds."""
        ...


@dataclass(frozen=True)
class Registered:
    """A sheet of a kind of workbook: its name, its place among the others, its purpose, what the front page says of it."""

    book: Book
    name: str
    place: int
    purpose: Purpose
    says: Callable[[Answers], str]
    build: Callable[[Any], Sheet]
    #: Quantities without which it is not in the workbook, and what else must hold of it.
    needs: tuple[str, ...]
    when: Callable[[Any], bool]


_sheets: Final[dict[tuple[Book, str], Registered]] = {}


def register(
    book: Book,
    name: str,
    place: int,
    purpose: Purpose,
    says: str | Callable[[Answers], str],
    build: Callable[[Any], Sheet],
    *,
    needs: Sequence[str] = (),
    when: Callable[[Any], bool] = lambda _contents: True,
) -> None:
    """Take a sheet into the register. Raises DeclarationError where its workbook has one of that name or in that place."""
    if any(one.name == name or one.place == place for one in _sheets.values() if one.book is book):
        message = f"a sheet {name!r} of the workbook {book.value} takes a name or a place that is taken"
        raise DeclarationError(message)
    said = says if callable(says) else lambda _answers: says
    _sheets[book, name] = Registered(book, name, place, purpose, said, build, tuple(needs), when)


@cache
def of(book: Book) -> tuple[Registered, ...]:
    """The sheets of a kind of workbook, in their order. All modules beside this one are imported, so that each has registered."""
    package = import_module(__package__ or "")
    for module in pkgutil.iter_modules(package.__path__, f"{package.__name__}."):
        import_module(module.name)
    return tuple(sorted((one for one in _sheets.values() if one.book is book), key=lambda one: one.place))


def built(book: Book, contents: Contents) -> tuple[tuple[Registered, Sheet], ...]:
    """The sheets of a workbook with what is needed for each, in their order."""
    answers = contents.edition.answers
    wanted = (one for one in of(book) if all(name in answers for name in one.needs) and one.when(contents))
    return tuple((one, one.build(contents)) for one in wanted)
