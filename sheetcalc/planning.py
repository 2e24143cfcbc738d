"""The product as Python: a list is read and worked out, and its workbook written. The command line only asks and speaks."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import partial
from pathlib import Path
from typing import Any, Final

import pandas as pd

from sheetcalc.calculations.answers import PARTS_OF, Answers, answers_named
from sheetcalc.calculations.outage import kit, order
from sheetcalc.calculations.outage.grouped import last_end
from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Fault, Gravity, Per, all_quantities, get, is_missing
from sheetcalc.errors import ListError, SheetcalcError
from sheetcalc.findings import Finding, NotAskedFor, QuantityFinding
from sheetcalc.intake import maps
from sheetcalc.intake.carried import free_name
from sheetcalc.intake.lists import ValveList, read_list
from sheetcalc.intake.rows import DATE, LENGTH, NUMBER, TEXT, Brought, Known, Wanted, read_rows
from sheetcalc.reference import tables
from sheetcalc.sheets import follow_up_book, job_card, log, one_valve, order_list, packing_size, valve_list
from sheetcalc.sheets.edition import EDITIONS, Edition, entry_title
from sheetcalc.sheets.layout import Layout, Value
from sheetcalc.sheets.outage_rows import Rows
from sheetcalc.sheets.output import Output
from sheetcalc.sheets.valve_list import Filled, Working
from sheetcalc.sheets.write import write

#: The longest list that is taken; DEVELOPERS.md says what was measured.
MOST_ROWS: Final = 5_000
#: The most cards of one workbook.
MOST_CARDS: Final = 2_000
#: The most readings that a workbook takes, and how many rows of its log stay free below those that are brought along.
MOST_READINGS: Final = 3_000
#: The most items of Stores that a pack brings along.
MOST_ITEMS: Final = 2_000
_FREE_READINGS: Final = 100

#: Told what is being done now, and which share of it is done.
Tell = Callable[[str, float], None]


def _silent(_step: str, _share: float) -> None:
    """Tell nobody."""


@dataclass(frozen=True)
class How:
    """How a list is to be read: which sheet, and what its headers mean."""

    sheet: str | None = None
    texts: tuple[str, ...] = ()
    map_file: Path | None = None

    def read(self, valves: Path) -> ValveList:
        """Read a list in that way."""
        mapped: Mapping[str, str] = maps.read(self.map_file) if self.map_file is not None else {}
        return read_list(
            valves,
            sheet=self.sheet,
            most_rows=MOST_ROWS,
            reserved=valve_list.reserved_headers(),
            mapped=mapped,
            wanted=maps.typed(self.texts),
        )


@dataclass(frozen=True)
class Alongside:
    """The files that are read beside a list: a log and what lies in stores, where they are named."""

    log: Path | None = None
    stores: Path | None = None

    def read(self, edition: Edition) -> tuple[Brought | None, Brought | None]:
        """What they bring along, in the units of an edition."""
        wanted = (_wanted(Per.READING, edition), _wanted(Per.STORE, edition))
        logged, stored = (read_rows(path, one) if path else None for path, one in zip((self.log, self.stores), wanted, strict=True))
        return logged, stored


def _wanted(per: Per, edition: Edition) -> Wanted:
    """The columns of Log or Stores that are read from a file, headed as the sheet heads them."""
    words = tables.values()["order_unit_words"]
    own, other = (set(words[row]) for row in ((0, 1) if edition.unit_set == "metric" else (1, 0)))
    units: dict[str, frozenset[str] | None] = {
        "store_price_entered": None,
        "store_lead_days_entered": frozenset({"d", "day", "days"}),
        "log_leak_entered": frozenset({"ppm"}),
        "store_pack_entered": frozenset(own),
        "store_stock_entered": frozenset(own),
    }
    columns = []
    for name in entry_names(per):
        quantity = get(name)
        if name in {"log_number", "store_number"}:
            continue
        kind = TEXT if quantity.is_text else {"date": DATE, "mm": LENGTH}.get(quantity.unit, NUMBER)
        allowed = frozenset({edition.key}) if kind == LENGTH else units.get(name, frozenset())
        columns.append(Known(name, entry_title(quantity), kind, allowed))
    if per is Per.READING:
        needed, answers = ("log_date_entered", "log_tag"), frozenset({get("check_reading").title})
        return Wanted(log.LOG, tuple(columns), needed, edition.key, answers, MOST_READINGS)
    answers = frozenset({get("store_item").title, "Unit", "Check"})
    other_units = frozenset(other - own)
    return Wanted(
        order_list.STORES, tuple(columns), ("store_code",), edition.key, answers, MOST_ITEMS, unit_header="Unit", other_units=other_units
    )


@dataclass(frozen=True)
class Planned:
    """A list that was read and worked out, what is typed for the outage, and the rows of its workbook."""

    read: ValveList
    working: Working | packing_size.Worked
    results: pd.DataFrame
    findings: tuple[Finding, ...]
    outage: Mapping[str, Value]
    log: Brought | None = None
    stores: Brought | None = None
    #: Where files went that stood in the way and had been changed since they were written.
    moved: tuple[Path, ...] = ()

    def filled(self) -> Filled:
        """All that the workbook is filled in with."""
        read = self.read
        return Filled(
            read.frame, read.source, read.carried, self.findings, read.verbatim, self.outage, _frame(self.stores), _log_frame(self.log)
        )

    def column(self, name: str) -> Any:
        """What was worked out for every row of its kind, spare ones included."""
        return self.working.values[name]

    def one(self, name: str) -> Any:
        """What was worked out once for the whole outage."""
        return self.outage_rows.one(name)

    @property
    def outage_rows(self) -> Rows:
        """What there is of the outage as a whole."""
        if not isinstance(self.working, Working):
            message = "the answers packing have nothing to do with an outage"
            raise TypeError(message)
        return self.working.outage

    @property
    def line_count(self) -> int:
        """Lines of the order list."""
        return int(self.column(last_end("line", order.GROUPS, self.working.answers))[0])

    @property
    def tool_count(self) -> int:
        """Lines of the kit list."""
        return int(self.column(last_end("tool", kit.LISTED, self.working.answers))[0])


def _frame(brought: Brought | None) -> pd.DataFrame:
    return pd.DataFrame() if brought is None else brought.frame


def _log_frame(brought: Brought | None) -> pd.DataFrame:
    """The readings, with blank rows below them, so that the log can go on where it is longer than the rows that are ready anyway."""
    frame = _frame(brought)
    return frame.reindex(range(min(MOST_READINGS, len(frame) + _FREE_READINGS))) if len(frame) else frame


def _answers_for(read: ValveList) -> str:
    """The set of answers that a list asks for: all, where it has a column that only those read."""
    repack = answers_named("repack")
    return "repack" if all(entry in repack for entry in read.understood.values()) else "whole"


def _with_the_rest_carried(read: ValveList, answers: Answers) -> ValveList:
    """The list with columns that the answers have no use for carried along, and a finding for each."""
    carried, findings = dict(read.carried), list(read.findings)
    taken = {name.casefold() for name in (*valve_list.reserved_headers(), *carried)}
    for header, entry in read.understood.items():
        if entry not in answers:
            name = free_name(header, entry, taken)
            taken.add(name.casefold())
            carried[name] = read.frame[entry].tolist()
            findings.append(NotAskedFor(column=header, value=entry_title(get(entry))))
    return dataclasses.replace(read, carried=carried, findings=tuple(findings))


def _worked(edition: Edition, filled: Filled, spare: int) -> Working | packing_size.Worked:
    """A list worked out for the workbook of its set of answers."""
    return packing_size.Worked(edition, filled, spare) if edition.answers.name == "packing" else Working(edition, filled, spare)


def looked_at(valves: Path, how: How) -> tuple[ValveList, tuple[Finding, ...]]:
    """A list as it was understood, and everything that was found in it; an empty one is taken too."""
    read = how.read(valves)
    if read.frame.empty:
        return read, _in_order(read.findings)
    edition = _edition_of(read).answering(_answers_for(read))
    spoken = _spoken(read, _results(read, _worked(edition, Filled(read.frame), 0)))
    return read, _in_order((*read.findings, *spoken))


def _planned(valves: Path, how: How, units: str | None, answers: str | None, outage: Mapping[str, Value], alongside: Alongside) -> Planned:
    """Read a list and work it out."""
    read = how.read(valves)
    if read.frame.empty:
        message = f"{read.source} has headers but no valve below them: nothing was written."
        raise ListError(message)
    edition = (EDITIONS[units] if units else _edition_of(read)).answering(answers or _answers_for(read))
    read = _with_the_rest_carried(read, edition.answers)
    logged, stored = alongside.read(edition)
    working = _worked(edition, Filled(read.frame, outage=outage, stores=_frame(stored), log=_log_frame(logged)), valve_list.SPARE_PLAN)
    results = _results(read, working)
    found = [finding for brought in (logged, stored) if brought is not None for finding in brought.findings]
    return Planned(read, working, results, (*_in_order((*read.findings, *_spoken(read, results))), *found), outage, logged, stored)


def _results(read: ValveList, working: Working | packing_size.Worked) -> pd.DataFrame:
    """What was worked out for each valve of the list, its order and its job included."""
    names = [*working.names, *working.listed]
    return pd.DataFrame({name: pd.Series(working.values[name][: len(read.frame)], index=read.frame.index) for name in names})


def plan(
    valves: Path,
    out: Path,
    how: How,
    units: str | None = None,
    *,
    answers: str | None = None,
    replace: bool = False,
    plain_formulas: bool = False,
    save_map: Path | None = None,
    tell: Tell = _silent,
    change: Callable[[Layout, Planned], Layout] | None = None,
    outage: Mapping[str, Value] | None = None,
    alongside: Alongside = Alongside(),
) -> Planned:
    """Write the list workbook, with a change to its layout if there is one, and its map; returns what it was made of.

    `units` is the unit set in which answers are shown, that of most rows where it is None; `answers` names the set of answers, that
    which the columns of the list ask for where it is None; `plain_formulas` spells out every formula. Raises SheetcalcError in one
    sentence.
    """
    if out.suffix.lower() != ".xlsx":
        message = f"{out} does not end in .xlsx: a workbook is written, so name it so."
        raise SheetcalcError(message)
    inputs = (valves, how.map_file, alongside.log, alongside.stores)
    if save_map is not None:  # refused before the work, not behind it
        Output(save_map, replace=replace, inputs=inputs, ours=maps.is_one)
    with Output(out, replace=replace, inputs=(*inputs, save_map)) as output:
        tell("Reading the list", 0.0)
        planned = _planned(valves, how, units, answers, outage or {}, alongside)
        tell("Laying out the sheets", 0.0)
        laid = _laid(planned, only_plan=change is None)
        if change is not None:
            laid = change(laid, planned)
        _write(laid, output.temporary, tell, plain_formulas=plain_formulas)
        moved = save_map_of(planned.read, save_map, replace=replace, inputs=inputs)
    return dataclasses.replace(planned, moved=tuple(one for one in (output.moved, moved) if one is not None))


def _laid(planned: Planned, *, only_plan: bool) -> Layout:
    """The workbook of a list. Raises SheetcalcError where a pack or cards are wanted of the answers that have none."""
    working, filled = planned.working, planned.filled()
    if isinstance(working, Working):
        return valve_list.layout(working.edition, filled, spare=valve_list.SPARE_PLAN, working=working)
    if only_plan:
        return packing_size.layout(working, filled)
    message = "Job cards and order lists need more than the answers packing: say --answers repack or whole."
    raise SheetcalcError(message)


def cards(
    valves: Path, out: Path, how: How, tags: Sequence[str] = (), units: str | None = None, **options: Any
) -> tuple[Planned, list[int]]:
    """Write the list workbook with a job card a page for the valves of those tags, or for all; returns their places in the list too."""
    positions: list[int] = []

    def add(laid: Layout, planned: Planned) -> Layout:
        positions.extend(_positions(planned.read, tags))
        return job_card.with_cards(laid, positions, planned.working.answers)

    return plan(valves, out, how, units, change=add, **options), positions


def pack(valves: Path, out: Path, how: How, units: str | None = None, **options: Any) -> Planned:
    """Write the list workbook with a job card a page for every valve, as far as one workbook takes them."""

    def add(laid: Layout, planned: Planned) -> Layout:
        count = len(planned.read.frame)
        return job_card.with_cards(laid, range(count), planned.working.answers) if count <= MOST_CARDS else laid

    return plan(valves, out, how, units, change=add, **options)


def blank(
    path: Path, laid: Callable[[], Layout], *, replace: bool = False, plain_formulas: bool = False, tell: Tell = _silent
) -> Path | None:
    """Write one of the ready-made workbooks; returns where one went that stood there and had been typed into."""
    with Output(path, replace=replace) as output:
        tell("Laying out the sheets", 0.0)
        _write(laid(), output.temporary, tell, plain_formulas=plain_formulas, smallest=True)
    return output.moved


def _write(laid: Layout, path: Path, tell: Tell, **options: bool) -> None:
    cells = sum(len(column.values) for sheet in laid.sheets for grid in sheet.grids for column in grid.columns)
    done = 0

    def written(count: int) -> None:
        nonlocal done
        done += count
        tell("Writing", done / cells)

    tell("Writing", 0.0)
    write(laid, path, progress=written, **options)
    tell("Writing", 1.0)


def save_map_of(read: ValveList, path: Path | None, *, replace: bool, inputs: Iterable[Path | None] = ()) -> Path | None:
    """Write what the headers of a list were taken for, where that is asked for; returns where another map went that stood there."""
    if path is None:
        return None
    text = maps.text_of(read)
    with Output(
        path, replace=replace, inputs=inputs, ours=maps.is_one, as_written=lambda held: held.read_text(encoding="utf-8") == text
    ) as output:
        output.temporary.write_text(text, encoding="utf-8")
    return output.moved


def _positions(read: ValveList, tags: Sequence[str]) -> list[int]:
    """The rows of the tags asked for, in that order, whatever the case of their letters; every row where none is.

    Raises ListError that names the tags which the list lacks, each with the nearest ones.
    """
    places: dict[str, list[int]] = {}
    held: dict[str, str] = {}
    for position, tag in enumerate(read.frame["tag"]):
        key = str(tag).strip().lower()
        places.setdefault(key, []).append(position)
        held.setdefault(key, str(tag))
    lacking = [tag for tag in dict.fromkeys(tags) if not tag.strip() or tag.strip().lower() not in places]
    if lacking:
        said = "; ".join(f"'{tag}' ({_nearest(tag, held)})" for tag in lacking)
        message = f"{read.source} has no valve with the tag {said}. Nothing was written."
        raise ListError(message)
    asked = dict.fromkeys(tag.strip().lower() for tag in tags)
    positions = [position for tag in asked for position in places[tag]] if tags else list(range(len(read.frame)))
    if len(positions) > MOST_CARDS:
        message = f"{len(positions)} cards are asked for and one workbook takes {MOST_CARDS}: name valves with --tag or split the list."
        raise ListError(message)
    return positions


#: Letters that are easily read, or typed, for a figure.
_MISREAD: Final = str.maketrans("oil", "011")
_NEAR: Final = 0.5


def _nearest(tag: str, held: dict[str, str]) -> str:
    """The three tags of a list that come nearest to one that it lacks, in words."""
    wanted = tag.strip().lower().translate(_MISREAD)
    alike = {key: SequenceMatcher(None, wanted, key.translate(_MISREAD)).ratio() for key in held if key}
    near = [held[key] for key in sorted(alike, key=lambda key: (-alike[key], key)) if alike[key] >= _NEAR][:3]
    return f"nearest: {', '.join(near)}" if near else "none comes near"


def _edition_of(read: ValveList) -> Edition:
    """The edition of most rows; metric where they balance."""
    counts = read.frame["unit_set"].value_counts()
    return EDITIONS["US"] if counts.get("US", 0) > counts.get("metric", 0) else EDITIONS["metric"]


def _spoken(read: ValveList, results: pd.DataFrame) -> list[Finding]:
    """A finding for each fault that speaks, with the value of the entries that it is about, and one for all that was not asked.

    A note changes nothing, so it is no finding.
    """
    out: list[Finding] = []
    kept: list[Gravity] = [gravity for gravity in Gravity if gravity not in {Gravity.UNASKED, Gravity.NOTE}]
    faults = [q for q in all_quantities() if isinstance(q, Fault) and q.name in results and q.gravity in kept]
    for quantity in faults:
        speaking = results.index[results[quantity.name] != ""]
        for place in speaking:
            row = read.frame.loc[place]
            value = ", ".join(f"{get(name).title.removesuffix(', entered')} {_said(row[name])}" for name in quantity.about)
            out.append(
                QuantityFinding(
                    row=read.rows[place],
                    column=", ".join(get(name).title.removesuffix(", entered") for name in quantity.about),
                    value=value,
                    tag=str(row["tag"]),
                    fault=quantity.name,
                    fault_title=quantity.title,
                    words=quantity.words,
                    rank=list(Gravity).index(quantity.gravity),
                )
            )
    unjudged = get("not_judged")
    if unjudged.name in results:
        for place in results.index[results[unjudged.name] != ""]:
            words = str(results.loc[place, unjudged.name])
            tag = str(read.frame.loc[place, "tag"])
            out.append(
                QuantityFinding(
                    row=read.rows[place],
                    tag=tag,
                    fault=unjudged.name,
                    fault_title=unjudged.title,
                    words=words,
                    rank=list(Gravity).index(Gravity.UNASKED),
                )
            )
    return out


def _said(value: object) -> str:
    if is_missing(value):
        return "blank"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _in_order(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda one: (one.row or 0, one.rank, one.kind)))


def ready_made(answers: str | None = None) -> dict[str, Callable[[], Layout]]:
    """The blank workbooks by file name, of one set of answers or all that there are."""
    if answers:
        answers_named(answers)
    out: dict[str, Callable[[], Layout]] = {}
    for edition in EDITIONS.values():
        for name in (answers,) if answers else PARTS_OF:
            of = edition.answering(name)
            for book, laid in _BLANKS[name].items():
                out[f"{book}-{edition.key}.xlsx"] = partial(laid, of)
        if not answers:
            out[f"follow-up-{edition.key}.xlsx"] = partial(follow_up_book.layout, edition)
    return out


def _blank_list(edition: Edition) -> Layout:
    return valve_list.layout(edition, valve_list.blank(), spare=valve_list.SPARE_BLANK)


def _blank_size(edition: Edition) -> Layout:
    return packing_size.layout(packing_size.Worked(edition, valve_list.blank(), packing_size.SPARE_BLANK), valve_list.blank())


#: The blank workbooks of each set of answers.
_BLANKS: Final[dict[str, dict[str, Callable[[Edition], Layout]]]] = {
    "packing": {"packing-size": _blank_size},
    "repack": {"one-valve": one_valve.layout, "valve-list": _blank_list},
    "whole": {"one-valve-whole": one_valve.layout, "valve-list-whole": _blank_list},
}
