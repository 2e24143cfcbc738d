"""The command line: it asks and speaks, and knows no engineering.

What a verb needs is imported when the verb is called, so that help and a slip of typing are answered at once.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import signal
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from functools import reduce
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn

import click

import sheetcalc
from sheetcalc.errors import SheetcalcError

if TYPE_CHECKING:
    from sheetcalc.findings import Finding
    from sheetcalc.intake.lists import ValveList
    from sheetcalc.planning import Planned

_BAD_INPUT: Final = 2
#: The unit sets, in the order of their table.
UNIT_SETS: Final = ("metric", "US")


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


@contextlib.contextmanager
def _progress() -> Iterator[Callable[[str, float], None]]:
    """A bar on a terminal, from the start: what is being done, and how much of it is done."""
    hidden = not sys.stderr.isatty()
    with click.progressbar(length=1000, label="Starting", show_eta=False, file=sys.stderr, hidden=hidden) as bar:
        bar.render_progress()

        def tell(step: str, share: float) -> None:
            bar.label = step
            bar.update(int(share * 1000) - bar.pos)
            bar.render_progress()

        yield tell


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(sheetcalc.__version__, prog_name="sheetcalc")
def main() -> None:
    """Plan the repacking of valve stems in self-contained Excel workbooks with live formulas."""


def _path(*names: str, **options: Any) -> Callable[[Any], Any]:
    return click.option(*names, type=click.Path(path_type=Path), **options)


_LIST: Final = click.argument("valves", metavar="LIST", type=click.Path(path_type=Path))
_OUT: Final = _path("-o", "--output", "out", required=True, metavar="OUT.xlsx", help="The workbook to write.")
_WRITING: Final = (
    click.option(
        "--answers",
        metavar="SET",
        help="What the workbook answers: packing (one sheet), repack, or whole (with flanges and lift); by the list otherwise.",
    ),
    click.option(
        "--replace", is_flag=True, help="Replace a workbook that was written here; one that was changed since is kept under another name."
    ),
    click.option(
        "--plain-formulas",
        is_flag=True,
        help="Spell out every formula in its own cell, for a program that does not know shared ones; files are larger.",
    ),
)
_READING: Final = (
    click.option("--sheet", metavar="NAME", help="Which sheet of an Excel list; the one that fits best otherwise."),
    click.option(
        "--map",
        "texts",
        multiple=True,
        metavar="HEADER=ENTRY",
        help='What a header of the list means, such as "Their header=stem_diameter", as often as wanted.',
    ),
    _path("--map-file", metavar="FILE", help='A file with a line "Their header" = "stem_diameter" for each header.'),
    _path("--save-map", metavar="FILE", help="Where to write what the headers were taken for, to be read with --map-file next time."),
    click.option(
        "--units",
        type=click.Choice(UNIT_SETS, case_sensitive=False),
        help="In which units answers are shown, and on which paper; those of most rows otherwise.",
    ),
    *_WRITING,
)


def _options(*options: Callable[[Any], Any]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Options that several verbs have."""
    return lambda command: reduce(lambda made, option: option(made), reversed(options), command)


@main.command(epilog="Example: sheetcalc plan demo/valves.csv -o outage.xlsx")
@_LIST
@_path("-o", "--output", "out", metavar="OUT.xlsx", help="The workbook to write.")
@click.option("--dry", is_flag=True, help="Write no workbook: print what each column was taken for, first values and every finding.")
@_options(*_READING)
def plan(
    valves: Path,
    out: Path | None,
    sheet: str | None,
    texts: tuple[str, ...],
    map_file: Path | None,
    save_map: Path | None,
    units: str | None,
    *,
    dry: bool,
    **writing: Any,
) -> None:
    """Fill in the list workbook for a LIST of valves (CSV or Excel)."""
    if dry:
        _look_at(valves, sheet, texts, map_file, save_map, replace=writing["replace"])
        return
    if out is None:
        message = "Missing option '-o' / '--output': name the workbook to write, or look at the list with --dry."
        raise click.UsageError(message)
    with _plain_errors():
        with _progress() as tell:
            from sheetcalc import planning  # noqa: PLC0415

            how = planning.How(sheet, texts, map_file)
            planned = planning.plan(valves, out, how, units, save_map=save_map, tell=tell, **writing)
        _summary(planned, out)


def _look_at(
    valves: Path, sheet: str | None, texts: tuple[str, ...], map_file: Path | None, save_map: Path | None, *, replace: bool
) -> None:
    with _plain_errors():
        with _progress() as tell:
            from sheetcalc import planning  # noqa: PLC0415

            tell("Reading the list", 0.0)
            read, findings = planning.looked_at(valves, planning.How(sheet, texts, map_file))
            moved = planning.save_map_of(read, save_map, replace=replace, inputs=(valves, map_file))
        _look(read, findings)
        _say_moved((moved,))


@main.command(epilog="Example: sheetcalc cards demo/valves.csv -o cards.xlsx --tag BH-101")
@_LIST
@_OUT
@click.option("--tag", "tags", multiple=True, metavar="TAG", help="A valve to make a card for, as often as wanted; all valves otherwise.")
@_options(*_READING)
def cards(
    valves: Path,
    out: Path,
    tags: tuple[str, ...],
    sheet: str | None,
    texts: tuple[str, ...],
    map_file: Path | None,
    save_map: Path | None,
    units: str | None,
    **writing: Any,
) -> None:
    """Write one job card a page for the valves of a LIST, with the list workbook behind them."""
    with _plain_errors():
        with _progress() as tell:
            from sheetcalc import planning  # noqa: PLC0415

            how = planning.How(sheet, texts, map_file)
            planned, positions = planning.cards(valves, out, how, tags, units, save_map=save_map, tell=tell, **writing)
        _summary_of_cards(planned, positions, out)


_DATE: Final = click.DateTime(formats=["%Y-%m-%d"])


def _day(date: dt.datetime) -> float:
    """A date as a sheet counts it."""
    return float((date - dt.datetime(1899, 12, 30)).days)  # noqa: DTZ001 - a spreadsheet's dates have no time zone


@main.command(epilog="Example: sheetcalc pack demo/valves.csv --start 2027-04-12 -o outage.xlsx")
@_LIST
@click.option("--start", required=True, type=_DATE, metavar="DATE", help="The first day of the outage, as YYYY-MM-DD.")
@_OUT
@click.option("--status", type=_DATE, metavar="DATE", help="The day on which the workbook is read, against which dates are late.")
@click.option(
    "--next", "following", type=_DATE, metavar="DATE", help="When the next outage begins: forecasts of the log are held against it."
)
@click.option("--name", default="", metavar="TEXT", help="What the site calls the outage, for the headings.")
@_path(
    "--log",
    "log_file",
    metavar="FILE",
    help="Readings of gland gaps to bring along: a CSV, or a workbook with a sheet Log such as the last outage's pack.",
)
@_path(
    "--stores",
    "stores_file",
    metavar="FILE",
    help="What lies in stores by order code, to bring along: a CSV, or a workbook with a sheet Stores.",
)
@_options(*_READING)
def pack(
    valves: Path,
    start: dt.datetime,
    out: Path,
    status: dt.datetime | None,
    following: dt.datetime | None,
    name: str,
    log_file: Path | None,
    stores_file: Path | None,
    sheet: str | None,
    texts: tuple[str, ...],
    map_file: Path | None,
    save_map: Path | None,
    units: str | None,
    **writing: Any,
) -> None:
    """Write the whole pack of an outage for a LIST: order list, kit, labour, log, and a job card a page for every valve."""
    outage: dict[str, float | str | None] = {"outage_start_entered": _day(start), "outage_name": name}
    if status is not None:
        outage["status_date_entered"] = _day(status)
    if following is not None:
        outage["next_outage_entered"] = _day(following)
    with _plain_errors():
        with _progress() as tell:
            from sheetcalc import planning  # noqa: PLC0415

            how, alongside = planning.How(sheet, texts, map_file), planning.Alongside(log_file, stores_file)
            planned = planning.pack(valves, out, how, units, save_map=save_map, outage=outage, alongside=alongside, tell=tell, **writing)
        _summary_of_pack(planned, out)


@main.command(epilog="Example: sheetcalc blank -o workbooks")
@_path("-o", "--output", "folder", required=True, metavar="FOLDER", help="Where to write; made if missing.")
@_options(*_WRITING)
def blank(folder: Path, **writing: Any) -> None:
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
        with _progress() as tell:
            from sheetcalc import planning  # noqa: PLC0415

            made, moved = planning.ready_made(writing.pop("answers")), []
            for place, (name, laid) in enumerate(made.items()):

                def told(step: str, share: float, name: str = name, place: int = place) -> None:
                    tell(f"{name}: {step}", (place + share) / len(made))

                moved.append(planning.blank(folder / name, laid, tell=told, **writing))
        _say_moved(moved)
        for name in made:
            click.echo(f"Written: {folder / name}")


@main.command(epilog="Example: sheetcalc explain gland_gap_end")
@click.argument("name")
def explain(name: str) -> None:
    """Say what a quantity is: title, symbol, unit, formula, what it reads, source and grade."""
    with _plain_errors():
        import sheetcalc.calculations  # noqa: F401, PLC0415 - declares every quantity
        from sheetcalc.declare.quantity import get  # noqa: PLC0415
        from sheetcalc.sheets.common import explanation  # noqa: PLC0415

        for label, said in explanation(get(name)):
            click.echo(f"{label:<9} {said}")


# --- what is said of it ---


def _say_moved(moved: Iterable[Path | None]) -> None:
    """Say where files went that stood in the way and that somebody may want back."""
    for path in moved:
        if path is not None:
            click.echo(f"Kept: what stood there had been changed since it was written, and is now {path}")


def _look(read: ValveList, findings: tuple[Finding, ...]) -> None:
    """Print what was understood of a list, and every finding."""
    from sheetcalc.units import shown  # noqa: PLC0415

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


def _summary(planned: Planned, out: Path) -> None:
    read, results, findings = planned.read, planned.results, planned.findings
    click.echo(f"{len(read.frame)} valves read from {read.source}")
    _states(results)
    answered = int((results["ring_count"].notna() & results["gland_gap_end"].notna()).sum())
    click.echo(f"{answered} valves with ring count and gland gap")
    click.echo(f"{len(findings)} findings, listed on the sheet Findings")
    for kind, count in sorted(Counter(one.kind for one in findings).items(), key=lambda pair: (-pair[1], pair[0])):
        click.echo(f"  {count:>6}  {kind}")
    _say_moved(planned.moved)
    click.echo(f"Written: {out}")


def _summary_of_pack(planned: Planned, out: Path) -> None:
    """What the pack holds, and whether its totals tie to the valves."""
    from sheetcalc.calculations.outage.verdict import STATES  # noqa: PLC0415
    from sheetcalc.planning import MOST_CARDS  # noqa: PLC0415

    one, count = planned.one, len(planned.read.frame)
    click.echo(f"{count} valves read from {planned.read.source}")
    _states(planned.results)
    click.echo(f"{len(planned.findings)} findings, listed on the sheet Findings")
    late = int((planned.column("line_late") != "").sum())
    click.echo(f"Order list: {planned.line_count} lines{f', {late} of them past their last day to order' if late else ''}")
    click.echo(f"  against the valves: {one('check_reconciliation')}")
    click.echo(f"Kit list: {planned.tool_count} tools; {one('check_kit')}")
    if planned.stores is not None:
        checks = [text for text in planned.column("check_store") if text not in {"", "OK"}]
        click.echo(f"Stores: {len(planned.stores.frame)} rows from {planned.stores.source}, {len(checks)} of them to look at")
    if planned.log is not None:
        wrong = int(one("readings_with_faults") or 0)
        click.echo(f"Log: {len(planned.log.frame)} rows from {planned.log.source}, {wrong} of them to look at")
        states = Counter(state for state in planned.column("followed_state") if state)
        click.echo(f"  Follow-up: {', '.join(f'{states[state]} {state}' for state in STATES)}")
    hours, days = one("hours_of_valves"), one("days_needed")
    click.echo(f"Labour: {hours:.1f} man-hours of {one('jobs_total'):.0f} jobs on {days:.0f} days; {one('check_labour')}")
    if count <= MOST_CARDS:
        click.echo(f"{count} job cards, {_pages(planned.results)}")
    else:
        click.echo(f"No pages of job cards, since one workbook takes {MOST_CARDS}: choose a tag on Job card, or use sheetcalc cards --tag.")
    _say_moved(planned.moved)
    click.echo(f"Written: {out}")


def _pages(results: Any) -> str:
    """How many pages a card has."""
    out = int((results["comes_out"] == "yes").sum()) if "comes_out" in results else 0
    return f"one a page, and a second page for {out} that {'comes' if out == 1 else 'come'} out of the line" if out else "one a page"


def _states(results: Any) -> None:
    from sheetcalc.calculations.valve.state import STATES  # noqa: PLC0415

    states = Counter(results["state"])
    for state in reversed(STATES):
        click.echo(f"  {state:<11}{states.get(state, 0):>6}")


def _summary_of_cards(planned: Planned, positions: list[int], out: Path) -> None:
    click.echo(f"{len(planned.read.frame)} valves read from {planned.read.source}")
    results = planned.results.iloc[positions]
    click.echo(f"{len(positions)} job cards, {_pages(results)}")
    _states(results)
    if (results["state"] == "STOP").any():
        stopped = ", ".join(str(tag) or "(no tag)" for tag in results.loc[results["state"] == "STOP", "tag"])
        click.echo(f"Stopped, so without figures: {stopped}")
    click.echo(f"{len(planned.findings)} findings, listed on the sheet Findings")
    _say_moved(planned.moved)
    click.echo(f"Written: {out}")


if __name__ == "__main__":
    main()
