"""An edition of a workbook: the unit set it starts with, its paper, and how its entry cells look."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final

from sheetcalc import units
from sheetcalc.calculations.answers import Answers, answers_named, whole
from sheetcalc.declare.quantity import Entry, Quantity, get
from sheetcalc.sheets.common import VERSION, fingerprint, wording


@dataclass(frozen=True)
class Edition:
    """Which unit set a workbook starts with, and what it answers. The formulas are the same in both unit sets."""

    key: str
    unit_set: str
    paper: str
    title: str
    answers: Answers = field(default_factory=whole)

    @property
    def sets(self) -> tuple[str, ...]:
        """Both unit sets, its own first."""
        return tuple(sorted(units.UNIT_SETS, key=lambda one: one != self.unit_set))

    def answering(self, name: str) -> Edition:
        """The same edition with a set of answers by name."""
        return replace(self, answers=answers_named(name))


EDITIONS: Final = {
    "metric": Edition("mm", "metric", "A4", "Millimetre edition."),
    "US": Edition("in", "US", "Letter", "Inch edition."),
}

#: Keys of tables that are typed letter for letter.
_KEYS: Final = {
    "unit_set": "unit_set_names",
    "outage_unit_set": "unit_set_names",
    "gland_stud_thread": "thread_names",
    "packing_material": "material_names",
    "gland_stud_grade": "grade_names",
    "stud_lubricant": "lubricant_names",
    "flange_class_entered": "flange_classes",
}


#: Entries in words, which may need more than a line.
LONG_TEXTS: Final = frozenset({"place", "fluid", "isolation_points"})


def choices_of(entry: str) -> str:
    """The table column that an entry's drop-down shows; "" for a free entry."""
    return _KEYS.get(entry, "") or get(entry, Entry).choices


def entry_title(quantity: Quantity) -> str:
    """The title of an entry without the word that tells it from the value used."""
    return quantity.title.removesuffix(", entered")


def entry_style(quantity: Quantity, edition: Edition) -> str:
    """Text cells for keys and words, fraction cells for lengths in the inch edition, so that 7/16 is no date; else numbers."""
    if quantity.is_text:
        return "entry_long" if quantity.name in LONG_TEXTS else "entry_text"
    return "entry_fraction" if quantity.unit == "mm" and edition.unit_set == "US" else "entry_number"


def prompt(quantity: Quantity) -> str:
    """What a person reads when the entry cell is chosen."""
    said = quantity.sentence.replace(", as typed.", ".")
    return f"{said} Type a fraction as 0 7/16 or 1 1/8." if quantity.unit == "mm" else said


#: What each set of answers is, and how to get another.
_ANSWERS: Final = {
    "packing": "Answers: packing. For material, load, stem, tools and a job card take one-valve or valve-list (--answers repack).",
    "repack": "Answers: repack. For flanges, lift and removal take the workbook with -whole in its name (--answers whole), for the packing "
    "alone packing-size (--answers packing).",
    "whole": "Answers: whole. Without flanges, lift and removal take the workbook without -whole in its name (--answers repack).",
}


def answers_of(edition: Edition) -> str:
    """Which answers a workbook holds, and how to get others; "" for one that has no others."""
    return _ANSWERS.get(edition.answers.name, "")


def issue_of(edition: Edition) -> str:
    """Which issue of which formulas and words a workbook is."""
    return f"{edition.title}   Version {VERSION}   Formula set {fingerprint(edition.answers)}   Words {wording(edition.answers)}"
