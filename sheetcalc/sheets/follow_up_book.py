"""The ready-made workbook that follows valves without a list of them: log, follow-up, chart, and nothing that they do not need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sheetcalc.declare.quantity import Check, Per, get
from sheetcalc.sheets import follow_up, front_page, log, outage, outage_plan, read_first, tables
from sheetcalc.sheets.common import fingerprint
from sheetcalc.sheets.edition import Edition
from sheetcalc.sheets.layout import Layout, Value
from sheetcalc.sheets.outage_rows import Rows
from sheetcalc.sheets.register import Book, built

TITLE: Final = "Gland gaps followed between outages"
VALVES, READINGS = 200, 1_000
_HOW: Final = (
    "Type the tags on Valves followed, each once, and the gap that must be left for adjustment where it is not the usual one.",
    "Type the status date, the next outage and the leak limit on Outage. The status date is typed so that the same file says the same "
    "tomorrow.",
    "Log has a row for each time that somebody stood at a gland: date, tag, event, the gap at each stud after what was done, flats turned, "
    "leak, by whom. Rows may stand in any order; a repack begins anew.",
    "Follow-up says for each valve what it asks for: leave, adjust, repack at the next outage, or act now; and when it runs out of "
    "adjustment, as a range. None is claimed from fewer than three readings.",
    "Gap chart draws the gaps of the tag that is chosen there.",
    "Log and Valves followed are yours; the other sheets are protected without a password, against slips only. No macro, no link, no "
    "network is used.",
)


@dataclass(frozen=True)
class _Contents:
    """What the workbook is made of."""

    edition: Edition
    rows: Rows
    choices: Mapping[str, str]
    elsewhere: Mapping[str, str]
    tags: str

    @property
    def typed(self) -> Mapping[str, Value]:
        """What is typed for the outage as a whole."""
        return {"outage_unit_set": self.edition.unit_set}


def layout(edition: Edition) -> Layout:
    """The workbook, blank."""
    edition = outage_plan.edition_that_follows(edition)
    rows = outage_plan.follow_up_rows(edition, VALVES, READINGS)
    elsewhere = follow_up.typed_elsewhere()
    answers = edition.answers
    tags = f"'{log.FOLLOWED}'!$A${log.HEADER + 2}:$A${log.HEADER + 1 + VALVES}"
    sheets = built(Book.FOLLOW, _Contents(edition, rows, tables.names(answers), elsewhere, tags))
    counts = ("followed_act", "followed_repack", "followed_adjust", "followed_leave", "followed_unread", "readings_in_use")
    checks = [name for name in rows.answered(Per.OUTAGE) if isinstance(get(name), Check)]
    lines = [
        *(read_first.Line(get(name).title, name, rows.one(name), get(name).sentence) for name in counts),
        *(read_first.Line(get(name).title, name, rows.one(name), get(name).sentence, 'LEFT({cell},2)<>"OK"') for name in checks),
    ]
    front = read_first.sheet(
        title=TITLE,
        purpose="A log of gland gaps, and for each valve when its gland runs out of adjustment and what to do.",
        how=_HOW,
        extra=lines,
        contents=[(one.name, one.says(answers)) for one, _sheet in sheets],
        edition=edition,
        heading=None,
        self_checked=False,
    )
    names = {**outage_plan.names(answers), **outage.cells_of(rows, elsewhere)}
    known = {name: place for name, place in names.items() if not place.startswith(("Labour!", "Materials!"))}
    return Layout(
        TITLE,
        (front, *(front_page.with_way_back(sheet) for _one, sheet in sheets)),
        known,
        edition.paper,
        fingerprint(answers),
        edition.key,
    )
