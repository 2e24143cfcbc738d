"""The command line: verbs only, no engineering."""

from __future__ import annotations

import contextlib
import datetime as dt
import signal
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import Any, Final, NoReturn

import click
import pandas as pd

import sheetcalc
from sheetcalc.calculations import kit, order_lines
from sheetcalc.calculations.follow_up import STATES
from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Kind, Per, Quantity, all_quantities, get
from sheetcalc.errors import ListError, SheetcalcError
from sheetcalc.findings import Finding, QuantityFinding
from sheetcalc.intake import maps
from sheetcalc.intake.lists import ValveList, read_list
from sheetcalc.intake.rows import DATE, LENGTH, NUMBER, TEXT, Brought, Known, Wanted, read_rows
from sheetcalc.reference import tables
from sheetcalc.sheets import follow_up_book, job_card, log, one_valve, order_list, valve_list
from sheetcalc.sheets.common import in_names, unit_shown
from sheetcalc.sheets.edition import EDITIONS, Edition, entry_title
from sheetcalc.sheets.layout import Layout, Value
from sheetcalc.sheets.valve_list import Filled, Working
from sheetcalc.sheets.write import beside, write
from sheetcalc.units import shown

#: The longest list that `plan` takes; DEVELOPERS.md says what was measured.
MOST_ROWS: Final = 5_000
#: The most cards of one workbook.
MOST_CARDS: Final = 2_000
#: The most readings that a workbook takes, and how many rows of its log stay free below those that are brought along.
MOST_READINGS: Final = 3_000
#: The most items of Stores that a pack brings along.
MOST_ITEMS: Final = 2_000
_FREE_READINGS: Final = 100
#: From this many valves on a progress bar is shown.
_LONG: Final = 500
_BAD_INPUT: Final = 2


@contextlib.contextmanager
def _plain_errors() -> Iterator[None]:
    """Faults of the input end in one sentence and exit code 2; a termination request cleans up like Ctrl-C."""

    def stop(_number: int, _frame: object) -> NoReturn:
        raise KeyboardInterrupt

    with contextlib.suppress(ValueError):  # not in the main thread
        signal.signal(signal.SIGTERM, stop)
    try:
        yield
    except SheetcalcError as error:
        click.echo(f"sheetcalc: {error}", err=True)
        sys.exit(_BAD_INPUT)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(sheetcalc.__version__, prog_name="sheetcalc")
def main() -> None:
    """Plan the repacking of valve stems in self-contained Excel workbooks with live formulas."""


_SHEET: Final = click.option("--sheet", metavar="NAME", help="Which sheet of an Excel list; the one that fits best otherwise.")
_UNITS: Final = click.option("--units", type=click.Choice(list(EDITIONS), case_sensitive=False),
                             help="In which units answers are shown, and on which paper; those of most rows otherwise.")  # fmt: skip
_REPLACE: Final = click.option("--replace", is_flag=True, help="Overwrite the workbook if it exists.")
_MAP: Final = click.option("--map", "texts", multiple=True, metavar="HEADER=ENTRY",
                           help='What a header of the list means, such as "Their header=stem_diameter", as often as wanted.')  # fmt: skip
_MAP_FILE: Final = click.option("--map-file", metavar="FILE", type=click.Path(path_type=Path),
                                help='A file with a line "Their header" = "stem_diameter" for each header.')  # fmt: skip
_SAVE_MAP: Final = click.option("--save-map", metavar="FILE", type=click.Path(path_type=Path),
                                help="Where to write what the headers were taken for, to be read with --map-file next time.")  # fmt: skip


@dataclass(frozen=True)
class _How:
    """How a list is to be read: which sheet, and what its headers mean."""

    sheet: str | None
    texts: tuple[str, ...]
    map_file: Path | None

    def read(self, valves: Path) -> ValveList:
        """Read a list in that way."""
        mapped: Mapping[str, str] = maps.read(self.map_file) if self.map_file is not None else {}
        return read_list(
            valves, sheet=self.sheet, most_rows=MOST_ROWS, reserved=valve_list.reserved_headers(), mapped=mapped,
            wanted=maps.typed(self.texts),
        )  # fmt: skip


@main.command(epilog="Example: sheetcalc plan demo/valves.csv -o outage.xlsx")
@click.argument("valves", metavar="LIST", type=click.Path(path_type=Path))
@click.option("-o", "--output", "out", metavar="OUT.xlsx", type=click.Path(path_type=Path), help="The workbook to write.")
@click.option("--look", is_flag=True, help="Write no workbook: print what each column was taken for, first values and every finding.")
@_SHEET
@_MAP
@_MAP_FILE
@_SAVE_MAP
@_UNITS
@_REPLACE
def plan(
    valves: Path, out: Path | None, sheet: str | None, texts: tuple[str, ...], map_file: Path | None, save_map: Path | None,
    units: str | None, *, look: bool, replace: bool,
) -> None:  # fmt: skip
    """Fill in the list workbook for a LIST of valves (CSV or Excel)."""
    how = _How(sheet, texts, map_file)
    if look:
        with _plain_errors():
            read = how.read(valves)
            spoken = [] if read.frame.empty else _spoken(read, _results(read, Working(_edition_of(read), Filled(read.frame), 0)))
            _save_map(read, save_map, replace=replace)
            _look(read, _in_order((*read.findings, *spoken)))
        return
    if out is None:
        message = "Missing option '-o' / '--output': name the workbook to write, or look at the list with --look."
        raise click.UsageError(message)
    with _plain_errors():
        planned = _write_planned(valves, out, how, units, replace=replace, save_map=save_map)
        _summary(planned, out)


@main.command(epilog="Example: sheetcalc cards demo/valves.csv -o cards.xlsx --tag BH-101")
@click.argument("valves", metavar="LIST", type=click.Path(path_type=Path))
@click.option("-o", "--output", "out", required=True, metavar="CARDS.xlsx", type=click.Path(path_type=Path), help="The workbook to write.")
@click.option("--tag", "tags", multiple=True, metavar="TAG", help="A valve to make a card for, as often as wanted; all valves otherwise.")
@_SHEET
@_MAP
@_MAP_FILE
@_SAVE_MAP
@_UNITS
@_REPLACE
def cards(
    valves: Path, out: Path, tags: tuple[str, ...], sheet: str | None, texts: tuple[str, ...], map_file: Path | None, save_map: Path | None,
    units: str | None, *, replace: bool,
) -> None:  # fmt: skip
    """Write one job card a page for the valves of a LIST, with the list workbook behind them."""
    with _plain_errors():
        positions: list[int] = []

        def add(laid: Layout, planned: _Planned) -> Layout:
            positions.extend(_positions(planned.read, tags))
            return job_card.with_cards(laid, positions)

        how = _How(sheet, texts, map_file)
        planned = _write_planned(valves, out, how, units, replace=replace, save_map=save_map, change=add)
        _summary_of_cards(planned, positions, out)


_DATE: Final = click.DateTime(formats=["%Y-%m-%d"])


def _day(date: dt.datetime) -> float:
    """A date as a sheet counts it."""
    return float((date - dt.datetime(1899, 12, 30)).days)  # noqa: DTZ001 - a spreadsheet's dates have no time zone


@main.command(epilog="Example: sheetcalc pack demo/valves.csv --start 2027-04-12 -o outage.xlsx")
@click.argument("valves", metavar="LIST", type=click.Path(path_type=Path))
@click.option("--start", required=True, type=_DATE, metavar="DATE", help="The first day of the outage, as YYYY-MM-DD.")
@click.option("-o", "--output", "out", required=True, metavar="OUT.xlsx", type=click.Path(path_type=Path), help="The workbook to write.")
@click.option("--status", type=_DATE, metavar="DATE", help="The day on which the workbook is read, against which dates are late.")
@click.option("--next", "following", type=_DATE, metavar="DATE",
              help="When the next outage begins: forecasts of the log are held against it.")  # fmt: skip
@click.option("--name", default="", metavar="TEXT", help="What the site calls the outage, for the headings.")
@click.option("--log", "log_file", metavar="FILE", type=click.Path(path_type=Path),
              help="Readings of gland gaps to bring along: a CSV, or a workbook with a sheet Log such as the last outage's pack.")
@click.option("--stores", "stores_file", metavar="FILE", type=click.Path(path_type=Path),
              help="What lies in stores by order code, to bring along: a CSV, or a workbook with a sheet Stores.")
@_SHEET
@_MAP
@_MAP_FILE
@_SAVE_MAP
@_UNITS
@_REPLACE
def pack(
    valves: Path, start: dt.datetime, out: Path, status: dt.datetime | None, following: dt.datetime | None, name: str,
    log_file: Path | None, stores_file: Path | None, sheet: str | None, texts: tuple[str, ...], map_file: Path | None,
    save_map: Path | None, units: str | None, *, replace: bool,
) -> None:  # fmt: skip
    """Write the whole pack of an outage for a LIST: order list, kit, labour, log, and a job card a page for every valve."""
    outage: dict[str, Value] = {"outage_start_entered": _day(start), "outage_name": name}
    if status is not None:
        outage["status_date_entered"] = _day(status)
    if following is not None:
        outage["next_outage_entered"] = _day(following)

    def add(laid: Layout, planned: _Planned) -> Layout:
        count = len(planned.read.frame)
        return job_card.with_cards(laid, range(count)) if count <= MOST_CARDS else laid

    with _plain_errors():
        how = _How(sheet, texts, map_file)
        planned = _write_planned(valves, out, how, units, replace=replace, save_map=save_map, change=add, outage=outage,
                                 beside_list=_Beside(log_file, stores_file))  # fmt: skip
        _summary_of_pack(planned, out)


@dataclass(frozen=True)
class _Beside:
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
        "store_price_entered": None, "store_lead_days_entered": frozenset({"d", "day", "days"}), "log_leak_entered": frozenset({"ppm"}),
        "store_pack_entered": frozenset(own), "store_stock_entered": frozenset(own),
    }  # fmt: skip
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
    )  # fmt: skip


@dataclass(frozen=True)
class _Planned:
    """A list that was read and worked out, what is typed for the outage, and the rows of its workbook."""

    read: ValveList
    working: Working
    results: Any
    findings: tuple[Finding, ...]
    outage: Mapping[str, Value]
    log: Brought | None = None
    stores: Brought | None = None

    def filled(self) -> Filled:
        """All that the workbook is filled in with."""
        read = self.read
        return Filled(
            read.frame, read.source, read.carried, self.findings, read.verbatim, self.outage, _frame(self.stores), _log_frame(self.log)
        )  # fmt: skip


def _frame(brought: Brought | None) -> pd.DataFrame:
    return pd.DataFrame() if brought is None else brought.frame


def _log_frame(brought: Brought | None) -> pd.DataFrame:
    """The readings, with blank rows below them, so that the log can go on where it is longer than the rows that are ready anyway."""
    frame = _frame(brought)
    return frame.reindex(range(min(MOST_READINGS, len(frame) + _FREE_READINGS))) if len(frame) else frame


def _planned(valves: Path, how: _How, units: str | None, outage: Mapping[str, Value], beside_list: _Beside) -> _Planned:
    """Read a list and work it out."""
    read = how.read(valves)
    if read.frame.empty:
        message = f"{read.source} has headers but no valve below them: nothing was written."
        raise ListError(message)
    edition = EDITIONS[units] if units else _edition_of(read)
    logged, stored = beside_list.read(edition)
    working = Working(edition, Filled(read.frame, outage=outage, stores=_frame(stored), log=_log_frame(logged)), valve_list.SPARE_PLAN)
    results = _results(read, working)
    found = [finding for brought in (logged, stored) if brought is not None for finding in brought.findings]
    return _Planned(read, working, results, (*_in_order((*read.findings, *_spoken(read, results))), *found), outage, logged, stored)


def _results(read: ValveList, working: Working) -> Any:
    """What was worked out for each valve of the list, its order and its job included."""
    names = [*working.names, *working.listed]
    return pd.DataFrame({name: pd.Series(working.values[name][: len(read.frame)], index=read.frame.index) for name in names})


def _write_planned(
    valves: Path, out: Path, how: _How, units: str | None, *, replace: bool, save_map: Path | None = None,
    change: Callable[[Layout, _Planned], Layout] | None = None, outage: Mapping[str, Value] | None = None,
    beside_list: _Beside = _Beside(),
) -> _Planned:  # fmt: skip
    """Write the list workbook, with a change to its layout if there is one, and its map; returns what it was made of."""
    _check_suffix(out)
    with beside(out, replace=replace) as temporary:
        planned = _planned(valves, how, units, outage or {}, beside_list)
        read = planned.read
        laid = valve_list.layout(planned.working.edition, planned.filled(), spare=valve_list.SPARE_PLAN, working=planned.working)
        if change is not None:
            laid = change(laid, planned)
        with _progress(laid, len(read.frame)) as tell:
            write(laid, temporary, progress=tell)
        _save_map(read, save_map, replace=replace)
    return planned


def _save_map(read: ValveList, path: Path | None, *, replace: bool) -> None:
    """Write what the headers of a list were taken for, where that is asked for."""
    if path is not None:
        with beside(path, replace=replace) as temporary:
            temporary.write_text(maps.text_of(read), encoding="utf-8")


def _look(read: ValveList, findings: tuple[Finding, ...]) -> None:
    """Print what was understood of a list, and every finding."""
    first, last = read.header_rows
    sheet = f", sheet {read.sheet!r}" if read.sheet else ""
    headers = f"headers in row {first}" if first == last else f"headers in rows {first} to {last}"
    click.echo(f"{read.source}{sheet}: {headers}, {len(read.frame)} valves. No workbook was written.")
    lines = [("", "Header", "Taken for", "Unit", "How sure", "First values as read")]
    for column in read.columns:
        entries = " and ".join(one.removesuffix("_entered") for one in column.entries) or "carried along"
        lines.append((column.letter, column.header or "(none)", entries, shown(column.unit) or "-", column.sure, "; ".join(column.first)))
    cells = [[_short(cell) for cell in line] for line in lines]
    widths = [max(len(line[at]) for line in cells) for at in range(len(lines[0]) - 1)]
    for line in cells:
        click.echo("  ".join([*(cell.ljust(width) for cell, width in zip(line, widths, strict=False)), line[-1]]).rstrip())
    click.echo(f"{len(findings)} findings")
    for finding in findings:
        row, tag = f", row {finding.row}" if finding.row else "", f", {_short(finding.tag)}" if finding.tag else ""
        click.echo(f"  {finding.kind}{row}{tag}: {_one_line(finding.said)} {finding.to_do}")


_WIDEST: Final = 48


def _one_line(text: str) -> str:
    """A text of the user without line ends and control characters, which would garble a terminal."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def _short(text: str) -> str:
    """A text of the user that fits into a column."""
    line = _one_line(text)
    return line if len(line) <= _WIDEST else f"{line[: _WIDEST - 1]}…"


def _positions(read: ValveList, tags: tuple[str, ...]) -> list[int]:
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


def _check_suffix(out: Path) -> None:
    if out.suffix.lower() != ".xlsx":
        message = f"{out} does not end in .xlsx: a workbook is written, so name it so."
        raise SheetcalcError(message)


def _edition_of(read: ValveList) -> Edition:
    """The edition of most rows; metric where they balance."""
    counts = read.frame["unit_set"].value_counts()
    return EDITIONS["US"] if counts.get("US", 0) > counts.get("metric", 0) else EDITIONS["metric"]


def _spoken(read: ValveList, results: Any) -> list[Finding]:
    """A finding for each fault quantity that speaks, with the value of the entries that it is about."""
    out: list[Finding] = []
    faults = [q for q in all_quantities() if q.kind is Kind.FAULT and q.name in results]
    for quantity in faults:
        speaking = results.index[results[quantity.name] != ""]
        for place in speaking:
            row = read.frame.loc[place]
            value = ", ".join(f"{get(name).title.removesuffix(', entered')} {_said(row[name])}" for name in quantity.about)
            out.append(
                QuantityFinding(
                    row=read.rows[place], column=", ".join(get(name).title.removesuffix(", entered") for name in quantity.about),
                    value=value, tag=str(row["tag"]), fault=quantity.name, fault_title=quantity.title, words=quantity.words,
                )
            )  # fmt: skip
    return out


def _said(value: object) -> str:
    if value is None or value == "" or value != value:  # noqa: PLR0124 - NaN
        return "blank"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _in_order(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda one: (one.row or 0, one.kind)))


@contextlib.contextmanager
def _progress(laid: Layout, valves: int) -> Iterator[Callable[[int], None] | None]:
    """A bar over the cells of the grids, for lists long enough to wait for."""
    if valves < _LONG:
        yield None
        return
    cells = sum(len(column.values) for sheet in laid.sheets for grid in sheet.grids for column in grid.columns)
    with click.progressbar(length=cells, label="Writing", file=sys.stderr) as bar:
        yield bar.update


def _summary(planned: _Planned, out: Path) -> None:
    read, results, findings = planned.read, planned.results, planned.findings
    click.echo(f"{len(read.frame)} valves read from {read.source}")
    _states(results)
    answered = int((results["ring_count"].notna() & results["gland_gap_end"].notna()).sum())
    click.echo(f"{answered} valves with ring count and gland gap")
    click.echo(f"{len(findings)} findings, listed on the sheet Findings")
    for kind, count in sorted(Counter(one.kind for one in findings).items(), key=lambda pair: (-pair[1], pair[0])):
        click.echo(f"  {count:>6}  {kind}")
    click.echo(f"Written: {out}")


def _summary_of_pack(planned: _Planned, out: Path) -> None:
    """What the pack holds, and whether its totals tie to the valves."""
    rows, count = planned.working.outage, len(planned.read.frame)
    click.echo(f"{count} valves read from {planned.read.source}")
    _states(planned.results)
    click.echo(f"{len(planned.findings)} findings, listed on the sheet Findings")
    lines, late = int(rows.values[order_lines.LINES][0]), int((rows.values["line_late"] != "").sum())
    click.echo(f"Order list: {lines} lines{f', {late} of them past their last day to order' if late else ''}")
    click.echo(f"  against the valves: {rows.one('check_reconciliation')}")
    click.echo(f"Kit list: {int(rows.values[kit.TOOLS][0])} tools; {rows.one('check_kit')}")
    if planned.stores is not None:
        checks = [text for text in rows.values["check_store"] if text not in {"", "OK"}]
        click.echo(f"Stores: {len(planned.stores.frame)} rows from {planned.stores.source}, {len(checks)} of them to look at")
    if planned.log is not None:
        wrong = int(rows.one("readings_with_faults") or 0)
        click.echo(f"Log: {len(planned.log.frame)} rows from {planned.log.source}, {wrong} of them to look at")
        states = Counter(state for state in rows.values["followed_state"] if state)
        click.echo(f"  Follow-up: {', '.join(f'{states[state]} {state}' for state in STATES)}")
    hours, days = rows.one("hours_of_valves"), rows.one("days_needed")
    click.echo(f"Labour: {hours:.1f} man-hours of {rows.one('jobs_total'):.0f} jobs on {days:.0f} days; {rows.one('check_labour')}")
    if count <= MOST_CARDS:
        click.echo(f"{count} job cards, {_pages(planned.results)}")
    else:
        click.echo(f"No pages of job cards, since one workbook takes {MOST_CARDS}: choose a tag on Job card, or use sheetcalc cards --tag.")
    click.echo(f"Written: {out}")


def _pages(results: Any) -> str:
    """How many pages a card has."""
    out = int((results["comes_out"] == "yes").sum())
    return f"one a page, and a second page for {out} that {'comes' if out == 1 else 'come'} out of the line" if out else "one a page"


def _states(results: Any) -> None:
    states = Counter(results["state"])
    for state in ("READY", "LOOK", "INCOMPLETE", "HOLD"):
        click.echo(f"  {state:<11}{states.get(state, 0):>6}")


def _summary_of_cards(planned: _Planned, positions: list[int], out: Path) -> None:
    click.echo(f"{len(planned.read.frame)} valves read from {planned.read.source}")
    results = planned.results.iloc[positions]
    click.echo(f"{len(positions)} job cards, {_pages(results)}")
    _states(results)
    if (results["state"] == "HOLD").any():
        held = ", ".join(str(tag) or "(no tag)" for tag in results.loc[results["state"] == "HOLD", "tag"])
        click.echo(f"On hold, so without figures: {held}")
    click.echo(f"{len(planned.findings)} findings, listed on the sheet Findings")
    click.echo(f"Written: {out}")


@main.command(epilog="Example: sheetcalc blank -o workbooks")
@click.option("-o", "--output", "folder", required=True, metavar="FOLDER", type=click.Path(path_type=Path),
              help="Where to write; made if missing.")  # fmt: skip
@click.option("--replace", is_flag=True, help="Overwrite workbooks that exist.")
def blank(folder: Path, *, replace: bool) -> None:
    """Write the blank ready-made workbooks, for sites without Python."""
    with _plain_errors():
        if folder.exists() and not folder.is_dir():
            message = f"{folder} is a file: name a folder."
            raise SheetcalcError(message)
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            message = f"The folder {folder} cannot be made: {error.strerror}."
            raise SheetcalcError(message) from error
        for name, laid in ready_made().items():
            with beside(folder / name, replace=replace) as temporary:
                write(laid(), temporary)
            click.echo(f"Written: {folder / name}")


def ready_made() -> dict[str, Callable[[], Layout]]:
    """The blank workbooks by file name."""
    out: dict[str, Callable[[], Layout]] = {}
    for edition in EDITIONS.values():
        out[f"one-valve-{edition.key}.xlsx"] = lambda edition=edition: one_valve.layout(edition)  # type: ignore[misc]
        out[f"valve-list-{edition.key}.xlsx"] = lambda edition=edition: valve_list.layout(  # type: ignore[misc]
            edition, valve_list.blank(), spare=valve_list.SPARE_BLANK
        )
        out[f"follow-up-{edition.key}.xlsx"] = lambda edition=edition: follow_up_book.layout(edition)  # type: ignore[misc]
    return out


@main.command(epilog="Example: sheetcalc explain gland_gap_end")
@click.argument("name")
def explain(name: str) -> None:
    """Say what a quantity is: title, symbol, unit, formula, what it reads, source and grade."""
    with _plain_errors():
        for label, said in explanation(get(name)):
            click.echo(f"{label:<9} {said}")


def explanation(quantity: Quantity) -> list[tuple[str, str]]:
    """What `explain` prints, line by line."""
    out = [
        ("Name", quantity.name), ("Title", quantity.title), ("Kind", quantity.kind.value), ("Symbol", quantity.symbol or "none"),
        ("Unit", unit_shown(quantity) or "text"), ("What", quantity.sentence),
    ]  # fmt: skip
    if quantity.excel:
        out += [("Formula", in_names(quantity)), ("Reads", ", ".join(quantity.reads))]
    if quantity.kind is Kind.ASSUMPTION:
        low, high = quantity.limits
        out += [("Issued", str(quantity.issued)), ("Range", f"{low} to {high}" if low else "a choice on Tables")]
    return [*out, ("Source", quantity.source.text), ("Grade", quantity.source.grade.value)]


if __name__ == "__main__":
    main()
