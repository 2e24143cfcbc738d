"""Thousands of generated valves, and every published case, recalculated by LibreOffice, some by Gnumeric."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
from agreement import office
from agreement.alone import of_valves_alone, without_the_same
from agreement.live import telling_valves
from agreement.valves import COUNT, as_read
from told import Tell

from sheetcalc.calculations.run import entry_names
from sheetcalc.reference.cases import Case, published
from sheetcalc.sheets import follow_up, follow_up_book, log, one_valve, valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Layout, Value
from sheetcalc.sheets.write import write

pytestmark = [pytest.mark.office, pytest.mark.proof]

CHUNK = 1000
#: As many valves are typed into a workbook of their own each.
_TYPED = 30
#: Valves and readings of the pack that is compared whole.
_PACKED, _READINGS = 250, 1000


@pytest.fixture(autouse=True)
def _libreoffice() -> None:
    office.require()


def _log() -> pd.DataFrame:
    """A thousand readings of gaps, at every third valve of those that are packed."""
    rng = np.random.default_rng(3)
    return pd.DataFrame(
        {
            "log_date_entered": 46000.0 + rng.integers(0, 800, _READINGS),
            "log_tag": [f"t-{number}" for number in rng.integers(0, _PACKED // 3, _READINGS)],
            "log_event_entered": rng.choice(["read", "read", "adjust", "repack", ""], _READINGS),
            "log_gap_1_entered": rng.uniform(2, 12, _READINGS).round(1), "log_gap_2_entered": rng.uniform(2, 12, _READINGS).round(1),
        },
        dtype=object,
    )  # fmt: skip


@pytest.mark.parametrize("first", range(0, COUNT, CHUNK))
def test_list_rendering_agrees(first: int, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of Valves and Working over all generated valves is recalculated to the core's answer."""
    path = tmp_path / "list.xlsx"
    filled = valve_list.Filled(as_read().iloc[first : first + CHUNK].reset_index(drop=True))
    edition = EDITIONS["US" if first % (2 * CHUNK) else "metric"]
    working = valve_list.Working(edition, filled, 5)
    write(of_valves_alone(valve_list.layout(edition, filled, spare=5, working=working), working), path)
    done = office.recalculate([path], tmp_path / "office")[path.name]
    found = office.compare(office.stored_values(path), office.formula_values(path, done))

    assert found.different[:10] == ()
    assert found.compared == office.count_formulas(path)

    tell(f"LibreOffice, list rendering: {CHUNK} valves, {found.compared} formula cells, worst difference {found.worst:.2e}")


def test_whole_pack_agrees(tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of every sheet of a pack of generated valves with a log of a thousand readings."""
    valves = as_read().iloc[:_PACKED].reset_index(drop=True)
    valves["tag"] = [f"T-{number}" for number in range(_PACKED)]
    outage: dict[str, Value] = {
        "outage_start_entered": 46900.0, "status_date_entered": 46700.0, "next_outage_entered": 47300.0, "chart_tag": "T-5",
    }  # fmt: skip
    path = tmp_path / "pack.xlsx"
    write(valve_list.layout(EDITIONS["metric"], valve_list.Filled(valves, outage=outage, log=_log()), spare=5), path)
    done = office.recalculate([path], tmp_path / "office")[path.name]
    found = office.compare(office.stored_values(path), office.formula_values(path, done))

    assert found.different[:10] == ()
    assert found.compared == office.count_formulas(path)

    tell(f"LibreOffice, whole pack: {_PACKED} valves, {_READINGS} readings, {found.compared} formula cells, worst {found.worst:.2e}")


@pytest.mark.parametrize("program", ["LibreOffice", "Gnumeric"])
def test_one_valve_rendering_agrees(program: str, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of one-valve workbooks, of the most telling generated valves, is recalculated to the core's answer.

    What is the same in all of them, front page and self-check, is recalculated with the ready-made ones.
    """
    paths = []
    for number, row in enumerate(as_read().iloc[telling_valves()[:_TYPED]].to_dict("records")):
        entries = {str(name): value for name, value in row.items() if value is not None and value == value}  # noqa: PLR0124 - NaN
        paths.append(tmp_path / f"one-{number}.xlsx")
        layout = one_valve.layout(EDITIONS["US" if number % 2 else "metric"], {"unit_set": "", **entries})
        write(without_the_same(layout), paths[-1])
    if program == "Gnumeric":
        office.require("ssconvert")
        paths = [office.for_gnumeric(path, tmp_path / "held" / path.stem) for path in paths]
    done = (office.recalculate_in_gnumeric if program == "Gnumeric" else office.recalculate)(paths, tmp_path / "done")
    compared, worst = 0, 0.0
    for path in paths:
        found = office.compare(office.stored_values(path), office.formula_values(path, done[path.name]))

        assert found.different[:10] == ()

        compared, worst = compared + found.compared, max(worst, found.worst)
    tell(f"{program}, one-valve rendering: {len(paths)} valves, {compared} formula cells, worst difference {worst:.2e}")


def test_a_filled_follow_up_agrees_in_two_programs(tmp_path: Path, tell: Tell) -> None:
    """A thousand readings and the tags they belong to, typed into the follow-up workbook: Gnumeric finds what LibreOffice finds."""
    office.require("ssconvert")
    path, readings = tmp_path / "follow-up.xlsx", _log()
    tags = pd.DataFrame({"followed_tag": [f"T-{number}" for number in range(_PACKED // 3)]})
    write(_typed(follow_up_book.layout(EDITIONS["metric"]), {log.READINGS: readings, log.FOLLOWED_VALVES: tags}), path)
    by_office = office.formula_values(path, office.recalculate([path], tmp_path / "office")[path.name])
    found = office.compare(by_office, office.formula_values(path, office.recalculate_in_gnumeric([path], tmp_path / "gnumeric")[path.name]))

    assert found.different[:10] == ()
    assert found.compared == office.count_formulas(path)
    assert len({value for (sheet, _place), value in by_office.items() if sheet == follow_up.FOLLOW_UP}) > _PACKED

    tell(f"Gnumeric and LibreOffice, follow-up of {_READINGS} readings: {found}")


def _typed(layout: Layout, frames: Mapping[Any, pd.DataFrame]) -> Layout:
    """The follow-up workbook with rows typed into its tables; the stored answers are still those of blank ones."""
    held = {typed.sheet: (typed, frame) for typed, frame in frames.items()}
    sheets = []
    for sheet in layout.sheets:
        if sheet.name in held:
            typed, frame = held[sheet.name]
            (grid,) = sheet.grids
            names = dict(enumerate(name for name, _width in typed.entries))
            columns = [
                replace(column, values=[*frame[names[column.column]], *column.values[len(frame) :]])
                if names.get(column.column) in frame else column
                for column in grid.columns
            ]  # fmt: skip
            sheets.append(replace(sheet, grids=(replace(grid, columns=tuple(columns)),)))
        else:
            sheets.append(sheet)
    return replace(layout, sheets=tuple(sheets))


def test_published_cases(tmp_path: Path, tell: Tell) -> None:
    """Every published case, written as a row of a list and recalculated from poison, gives the printed value without the core."""
    plain: list[Case] = [case for case in published() if not case.constants]
    entries = pd.DataFrame([case.entries for case in plain]).reindex(columns=list(entry_names()))
    filled, path = valve_list.Filled(entries), tmp_path / "cases.xlsx"
    write(valve_list.layout(EDITIONS["metric"], filled, spare=1), path)
    values = office.formula_values(path, office.recalculate([path], tmp_path / "office")[path.name])
    working = valve_list.Working(EDITIONS["metric"], filled, 1)
    wrong, counted = [], 0
    for position, case in enumerate(plain):
        for expected in case.expected:
            sheet, address = working.cell(expected.name, position).replace("$", "").split("!")
            got = values[sheet, address]
            counted += 1
            if isinstance(expected.value, str):
                good = (got or "") == expected.value
            else:
                good = isinstance(got, float) and abs(got - expected.value) <= expected.tolerance
            if not good:
                wrong.append(f"{case.key} {expected.name}: {got!r} against {expected.value!r}")

    assert wrong == []
    assert counted == sum(len(case.expected) for case in plain) > len(plain)

    tell(f"Published values read from LibreOffice: {counted}")
