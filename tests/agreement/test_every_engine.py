"""Every quantity, branch and sentence on each engine: a few valves and outages, chosen so that they meet them all."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from agreement import live, office
from agreement.engine import TOLERANCE, Book, difference, poisoned
from agreement.live import Live
from agreement.mutants import conditions_of
from agreement.outages import worked_out
from agreement.test_mutants import _ONE_WAY
from agreement.test_outage_mutants import ONE_WAY
from told import Tell

from sheetcalc.calculations.run import answered_names
from sheetcalc.declare.quantity import Derived, Fault, get
from sheetcalc.sheets.layout import address
from sheetcalc.sheets.write import write

#: What an engine made of a cell: its sheet, row and column from 0.
Read = Callable[[str, int, int], Any]


def _by_ironcalc(books: Sequence[Live], folder: Path) -> list[Read]:
    def reader(book: Book) -> Read:
        return lambda sheet, row, column: book.value(sheet, row + 1, column + 1)

    return [reader(Book(poisoned(one.layout), folder / "live.xlsx")) for one in books]


def _by_libreoffice(books: Sequence[Live], folder: Path) -> list[Read]:
    office.require()
    paths = [folder / f"live-{number}.xlsx" for number in range(len(books))]
    for one, path in zip(books, paths, strict=True):
        write(one.layout, path)
    done = office.recalculate(paths, folder / "office")

    def reader(path: Path) -> Read:
        held = office.formula_values(path, done[path.name])
        return lambda sheet, row, column: held[sheet, address(row, column, fixed=False)]

    return [reader(path) for path in paths]


@pytest.mark.parametrize("engine", [_by_ironcalc, pytest.param(_by_libreoffice, marks=pytest.mark.office)])
def test_every_quantity_branch_and_sentence_is_met(
    engine: Callable[[Sequence[Live], Path], list[Read]], tmp_path: Path, tell: Tell
) -> None:
    """Each formula gives the core's answer; each quantity is answered, each sentence spoken, each condition true and false."""
    books = [live.of_valves(), *live.of_outages()]
    compared, wrong, met = 0, [], set()
    ways: dict[tuple[str, str], set[Any]] = defaultdict(set)
    for one, read in zip(books, engine(books, tmp_path), strict=True):
        for name, (sheet, column) in one.columns.items():
            for row, answer in enumerate(one.answers[name]):
                got = read(sheet, row, column)
                compared += 1
                if difference(got, answer) > TOLERANCE:
                    wrong.append(f"{name}, row {row}: {got!r} against {answer!r}")
                elif got not in {"", None}:
                    met.add(name)
        for condition, (sheet, column) in one.conditions.items():
            ways[condition] |= {read(sheet, row, column) for row in range(len(one.answers[condition[0]]))}
    asked = {*answered_names(), *(name for per in worked_out() for name in answered_names(per))}
    one_way = sorted(condition for condition, seen in ways.items() if not {1.0, 2.0} <= seen and condition not in {*_ONE_WAY, *ONE_WAY})
    sentences = [name for name in asked if isinstance(get(name), Fault)]
    counts = f"{len(met)} quantities, {len(sentences)} sentences, {2 * len(ways)} branches met"
    tell(f"{engine.__name__[4:]}: {len(books)} live workbooks, {compared} cells compared; {counts}")

    assert wrong[:10] == []
    assert set() == asked - met
    assert one_way == [], repr(one_way)
    assert set(ways) == {(name, test) for name in asked for test in conditions_of(get(name, Derived).excel)}
