"""`sheetcalc plan` against bare XlsxWriter: seconds, their ratio, peak memory in MB and file size in kB.

Run by hand: `python tests/benchmarks/writing.py [--valves 5000] [--runs 2] [--sizes 500 2500 5000]`. One side is the
whole command, from a CSV file of made-up valves to the finished workbook. The other side writes the very same cells,
formulas with their stored answers and formats included, from flat lists prepared beforehand: only XlsxWriter's own
calls and `close()` are timed, without tables, widths or checks on what the library returns. Each side runs in a process
of its own, the two in turn; of the runs the fastest is shown. Starting Python and importing is counted on neither side.

Then the steps of the command, and what it costs at the sizes of list from which the row limit was set.
"""

from __future__ import annotations

import argparse
import contextlib
import csv
import multiprocessing
import random
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final
from unittest.mock import patch

import xlsxwriter

from sheetcalc import planning
from sheetcalc.sheets import style, valve_list
from sheetcalc.sheets.layout import Layout, Sheet, Value

#: Valves of the lists whose cost is shown besides, unless others are asked for.
SIZES: Final = (500, 2_500, 5_000)
#: Kilobytes in a unit of ru_maxrss: it counts kB on Linux, bytes on macOS.
_RSS_KB: Final = 1.0 if sys.platform == "linux" else 1 / 1024
#: What `plan` calls, in its order: the module or object that holds the name, the name, and what it does.
STEPS: Final[tuple[tuple[Any, str, str], ...]] = (
    (planning, "read_list", "read the list"),
    (planning, "Working", "work out"),
    (planning, "_spoken", "collect findings"),
    (valve_list, "layout", "lay out"),
    (planning, "write", "write"),
)


# --- the list ---------------------------------------------------------------------------------------------------------

HEADERS: Final = (
    "Tag", "Kind", "Units", "Stem dia", "Stuffing box bore", "Box depth", "Gland nose", "Stud thread", "Rings (maker)",
    "Gap 1", "Gap 2", "Distance between readings", "Stud centres", "Location",
)  # fmt: skip


def write_list(path: Path, count: int, seed: int = 1) -> None:
    """A CSV file of `count` made-up valves: two in five in inches, some with readings, a few blank or bad cells."""
    rng = random.Random(seed)  # noqa: S311 - made-up valves
    with path.open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(HEADERS)
        for number in range(count):
            out.writerow(_valve(rng, number))


def _valve(rng: random.Random, number: int) -> list[object]:
    """One row: lengths in mm or in inches as its unit set says."""
    in_inches = rng.random() < 0.4

    def length(mm: float) -> float:
        return round(mm / 25.4 * 16) / 16 if in_inches else round(mm)

    section = rng.choice((0.25, 0.3125, 0.375, 0.5)) if in_inches else rng.choice((5, 6, 8, 10, 12))
    stem = length(rng.uniform(12, 60))
    row: list[object] = [
        f"V-{number:05d}", rng.choice(("gate", "globe")), "US" if in_inches else "metric",
        stem, stem + 2 * section, length(rng.uniform(45, 110)), length(rng.uniform(22, 50)),
        rng.choice(("1/2-13 UNC", "5/8-11 UNC")) if in_inches else rng.choice(("M12", "M16")),
        rng.choice((4, 5, 6)) if rng.random() < 0.3 else "", "", "", "", "", f"line {rng.randrange(90)}, level {rng.randrange(9)}",
    ]  # fmt: skip
    if rng.random() < 0.3:
        gap = rng.uniform(8, 14)
        readings = (gap, gap + rng.choice((0, 0.2, 0.3)), 96, 76)
        row[9:13] = [round(mm / 25.4, 3) if in_inches else round(mm, 1) for mm in readings]
    if rng.random() < 0.02:
        row[rng.randrange(3, 8)] = rng.choice(("", "worn", "?", 45000))
    return row


# --- the command ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Cost:
    """What one side cost: seconds in all and by step, MB held at most and before, kB of the file, cells written."""

    seconds: float
    peak: float
    before: float
    size: float
    steps: dict[str, float] = field(default_factory=dict)
    cells: int = 0


def peak_mb() -> float:
    """The most memory that this process has held so far, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * _RSS_KB / 1024


@contextlib.contextmanager
def _folder(count: int) -> Iterator[tuple[Path, Path]]:
    """A list of `count` valves in a folder that goes away, and where its workbook goes."""
    with tempfile.TemporaryDirectory() as folder:
        given = Path(folder, "valves.csv")
        write_list(given, count)
        yield given, Path(folder, "valves.xlsx")


def _plan(given: Path, out: Path) -> None:
    """What the command does."""
    planning.plan(given, out, planning.How())


def cost_of_plan(count: int) -> Cost:
    """The whole command on a list of `count` valves, and each of its steps timed from outside."""
    steps: dict[str, float] = {}

    def timed(function: Callable[..., Any], title: str) -> Callable[..., Any]:
        def call(*args: Any, **kwargs: Any) -> Any:
            start = time.perf_counter()
            out = function(*args, **kwargs)
            steps[title] = time.perf_counter() - start
            return out

        return call

    with _folder(count) as (given, out), contextlib.ExitStack() as patched:
        for holder, name, title in STEPS:
            patched.enter_context(patch.object(holder, name, timed(getattr(holder, name), title)))
        before = peak_mb()
        start = time.perf_counter()
        _plan(given, out)
        seconds = time.perf_counter() - start
        steps["the rest"] = seconds - sum(steps.values())
        return Cost(seconds, peak_mb(), before, out.stat().st_size / 1024, steps)


# --- the same cells, bare ---------------------------------------------------------------------------------------------


@dataclass
class Flat:
    """The cells of one sheet as flat lists: row and column from 0, what stands there, and the name of the format."""

    name: str
    formulas: list[tuple[int, int, str, str, float | str]] = field(default_factory=list)
    strings: list[tuple[int, int, str, str]] = field(default_factory=list)
    numbers: list[tuple[int, int, float, str]] = field(default_factory=list)
    blanks: list[tuple[int, int, str]] = field(default_factory=list)

    def add(self, row: int, column: int, value: Value, look: str, formula: str) -> None:
        """Add a cell to the list of its kind."""
        if formula:
            self.formulas.append((row, column, f"={formula}", look, "" if value is None else value))
        elif value is None or value == "":
            self.blanks.append((row, column, look))
        elif isinstance(value, str):
            self.strings.append((row, column, value, look))
        else:
            self.numbers.append((row, column, value, look))

    @property
    def cells(self) -> int:
        """How many cells the sheet has."""
        return len(self.formulas) + len(self.strings) + len(self.numbers) + len(self.blanks)


def flattened(sheet: Sheet) -> Flat:
    """All cells of a sheet, single ones and grids."""
    out = Flat(sheet.name)
    for cell in sheet.cells:
        out.add(cell.row, cell.column, cell.value, cell.style, cell.formula)
    for grid in sheet.grids:
        for column in grid.columns:
            for row, value in enumerate(column.values, start=grid.first_row):
                out.add(row, column.column, value, column.style, str(row + 1).join(column.parts))
    return out


def planned(given: Path, out: Path) -> Layout:
    """The layout that the command would write."""
    laid: list[Layout] = []
    with patch.object(planning, "write", lambda layout, _path, **_options: laid.append(layout)):
        _plan(given, out)
    return laid[0]


def cost_of_bare(count: int) -> Cost:
    """XlsxWriter alone on the cells of the same workbook."""
    with _folder(count) as (given, out):
        sheets = [flattened(sheet) for sheet in planned(given, out).sheets]
        before = peak_mb()
        start = time.perf_counter()
        workbook = xlsxwriter.Workbook(str(out), {"strings_to_formulas": False, "strings_to_urls": False})
        looks = {name: workbook.add_format(style.style(name)) for name in style.STYLES}
        for sheet in sheets:
            worksheet = workbook.add_worksheet(sheet.name)
            for row, column, formula, look, value in sheet.formulas:
                worksheet.write_formula(row, column, formula, looks[look], value)
            for row, column, text, look in sheet.strings:
                worksheet.write_string(row, column, text, looks[look])
            for row, column, number, look in sheet.numbers:
                worksheet.write_number(row, column, number, looks[look])
            for row, column, look in sheet.blanks:
                worksheet.write_blank(row, column, None, looks[look])
        workbook.close()
        seconds = time.perf_counter() - start
        cells = sum(sheet.cells for sheet in sheets)
        return Cost(seconds, peak_mb(), before, out.stat().st_size / 1024, cells=cells)


# --- figures ----------------------------------------------------------------------------------------------------------


def in_own_process(function: Callable[[int], Cost], count: int) -> Cost:
    """The cost of a side measured in a fresh process, so that one side's memory is not the other's."""
    with ProcessPoolExecutor(max_workers=1, mp_context=multiprocessing.get_context("spawn")) as pool:
        return pool.submit(function, count).result()


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0] if __doc__ else "")
    parser.add_argument("--valves", type=int, default=5_000, help="valves in the list")
    parser.add_argument("--runs", type=int, default=2, help="runs of each side, in turn; the fastest is shown")
    parser.add_argument("--sizes", type=int, nargs="*", default=SIZES, help="valves of the lists whose cost is shown besides")
    chosen = parser.parse_args()
    plans: list[Cost] = []
    bares: list[Cost] = []
    for _ in range(chosen.runs):
        plans.append(in_own_process(cost_of_plan, chosen.valves))
        bares.append(in_own_process(cost_of_bare, chosen.valves))
    plan, bare = min(plans, key=lambda one: one.seconds), min(bares, key=lambda one: one.seconds)
    print(f"{chosen.valves:,} valves, {bare.cells:,} cells, fastest of {chosen.runs} runs each")
    print(f"{'':<20}{'plan':>10}{'bare':>10}{'ratio':>8}")
    for title, ours, theirs in (
        ("seconds", plan.seconds, bare.seconds),
        ("file, kB", plan.size, bare.size),
        ("peak, MB", plan.peak, bare.peak),
        ("held before, MB", plan.before, bare.before),
    ):
        print(f"{title:<20}{ours:>10.2f}{theirs:>10.2f}{ours / theirs:>8.2f}")
    print(f"\n{'step of plan':<20}{'seconds':>10}{'share':>8}{'of bare':>9}")
    for title, seconds in plan.steps.items():
        print(f"{title:<20}{seconds:>10.2f}{seconds / plan.seconds:>8.0%}{seconds / bare.seconds:>9.2f}")
    print(f"\n{'valves':>8}{'seconds':>10}{'peak MB':>10}{'file kB':>10}")
    for size in chosen.sizes:
        cost = plan if size == chosen.valves else in_own_process(cost_of_plan, size)
        print(f"{size:>8,}{cost.seconds:>10.2f}{cost.peak:>10.0f}{cost.size:>10.0f}")


if __name__ == "__main__":
    main()
