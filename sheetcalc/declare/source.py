"""A source and its grade: where a figure or a formula comes from, and how sure we are of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How a source was come by. The words are printed on the sheets."""

    STANDARD = "exact by definition"
    READ = "read in the source"
    SECOND_HAND = "read second-hand"
    PRACTICE = "common practice, no source"
    DERIVED = "derived by algebra"
    MEMORY = "from memory, edit it"
    CHOICE = "our choice"


@dataclass(frozen=True)
class Source:
    """One source: a stable key, what it is (edition, table, page) and its grade."""

    key: str
    text: str
    grade: Grade
