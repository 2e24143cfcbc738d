"""Workbook against core, recalculated by IronCalc: both renderings, thousands of generated valves."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from agreement.alone import of_valves_alone, without_the_same
from agreement.engine import TOLERANCE, Book, compare, difference, formula_cells
from agreement.live import telling_valves
from agreement.valves import COUNT, as_read, generated
from told import Tell

from sheetcalc.calculations.run import answered_names, calculate, entry_names
from sheetcalc.declare.quantity import Constant, get
from sheetcalc.reference.cases import published
from sheetcalc.sheets import one_valve, valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Cell, Layout, Sheet

CHUNK = 1000
#: Valves of each pack that is compared whole.
_PACKED = 150


def _formula_count(layout: Layout) -> int:
    return sum(1 for sheet in layout.sheets for _cell in formula_cells(sheet))


@pytest.mark.proof
@pytest.mark.parametrize("first", range(0, COUNT, CHUNK))
def test_list_rendering_agrees(first: int, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of Valves and Working over all generated valves gives the core's answer."""
    filled = valve_list.Filled(as_read().iloc[first : first + CHUNK].reset_index(drop=True))
    edition = EDITIONS["metric" if first % (2 * CHUNK) == 0 else "US"]
    working = valve_list.Working(edition, filled, 5)
    layout = of_valves_alone(valve_list.layout(edition, filled, spare=5, working=working), working)
    count, worst, wrong = compare(layout, tmp_path / "list.xlsx")

    assert wrong[:10] == []
    assert count == _formula_count(layout)

    tell(f"IronCalc, list rendering: {CHUNK} valves, {count} formula cells, worst difference {worst:.2e}")


@pytest.mark.proof
@pytest.mark.parametrize("edition", list(EDITIONS.values()), ids=lambda one: one.key)
def test_whole_pack_agrees(edition: Any, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of every sheet of a pack of generated valves, order list, kit, labour and front page included."""
    chunk = as_read().iloc[: 2 * _PACKED].iloc[int(edition.unit_set == "US") :: 2].reset_index(drop=True)
    layout = valve_list.layout(edition, valve_list.Filled(chunk, outage={"outage_start_entered": 46500.0}), spare=5)
    count, worst, wrong = compare(layout, tmp_path / "pack.xlsx")

    assert wrong[:10] == []
    assert count == _formula_count(layout)

    tell(f"IronCalc, whole pack, {edition.key}: {len(chunk)} valves, {count} formula cells, worst difference {worst:.2e}")


@pytest.mark.proof
def test_one_valve_rendering_agrees(tmp_path: Path, tell: Tell) -> None:
    """Typed by defined name into the one-valve workbook, the most telling of the generated valves give the core's answers."""
    valves = generated().iloc[telling_valves()]
    results = calculate(as_read().iloc[telling_valves()])
    book = Book(without_the_same(one_valve.layout(EDITIONS["metric"])), tmp_path / "one.xlsx")
    held: dict[str, object] = {"unit_set": "metric"}
    names, wrong, worst = answered_names(), [], 0.0
    places = {name: book.cell(name) for name in names}
    expected = {name: results[name].tolist() for name in names}
    for place, row in enumerate(valves.to_dict("records")):
        for name in entry_names():
            value = row[name]
            value = None if value is None or value == "" or value != value else value  # noqa: PLR0124 - NaN
            if held.get(name) != value:
                book.type(name, value)
                held[name] = value
        book.recalculate()
        for name in names:
            gap = difference(book.model.get_cell_value(*places[name]), expected[name][place])
            worst = max(worst, gap) if math.isfinite(gap) else worst
            if gap > TOLERANCE:
                wrong.append(f"{row['tag']} {name}: {book.read(name)!r} against {expected[name][place]!r}")

    assert wrong[:10] == []

    tell(f"IronCalc, one-valve rendering: {len(valves)} valves, {len(valves) * len(names)} answers, worst difference {worst:.2e}")


@pytest.mark.proof
@pytest.mark.parametrize("edition", list(EDITIONS.values()), ids=lambda one: one.key)
def test_blank_workbooks_agree(edition: Any, tmp_path: Path, tell: Tell) -> None:
    """Every formula cell of the ready-made workbooks, self-check and picture included, gives the stored value."""
    for layout in (one_valve.layout(edition), valve_list.layout(edition, valve_list.blank(), spare=valve_list.SPARE_BLANK)):
        count, worst, wrong = compare(layout, tmp_path / "blank.xlsx")

        assert wrong[:10] == []
        assert count == _formula_count(layout)

        tell(f"IronCalc, {layout.title}, {edition.key}: {count} formula cells, worst difference {worst:.2e}")


def test_an_altered_formula_is_noticed(tmp_path: Path) -> None:
    """A formula that is changed after the core has answered shows up in the comparison."""
    layout = one_valve.layout(EDITIONS["metric"], {"stem_diameter_entered": 28, "box_bore_entered": 44})
    sheets = [
        Sheet(**{**vars(s), "cells": tuple(
            Cell(c.row, c.column, c.value, c.style, c.formula.replace("/2", "/4")) if c.formula.startswith("IF(COUNT(box_bore,stem") else c
            for c in s.cells)})
        for s in layout.sheets
    ]  # fmt: skip

    _count, _worst, wrong = compare(replace(layout, sheets=tuple(sheets)), tmp_path / "altered.xlsx")

    assert any("4.0 against 8.0" in line for line in wrong)


def test_published_cases_typed_into_the_workbook(tmp_path: Path, tell: Tell) -> None:
    """Every published case, typed into the one-valve workbook, gives the printed value without the core in between."""
    book = Book(one_valve.layout(EDITIONS["metric"]), tmp_path / "published.xlsx")
    wrong, counts = [], 0
    for case in published():
        for name in entry_names():
            book.type(name, case.entries.get(name))
        for name, value in case.constants.items():
            book.type(name, value)
        book.recalculate()
        for expected in case.expected:
            got = book.read(expected.name)
            counts += 1
            if isinstance(expected.value, str):
                good = got == expected.value
            else:
                good = isinstance(got, float) and abs(got - expected.value) <= expected.tolerance
            if not good:
                wrong.append(f"{case.key} {expected.name}: {got!r} against {expected.value!r}")
        for name in case.constants:
            book.type(name, get(name, Constant).issued)

    assert wrong == []
    assert counts == sum(len(case.expected) for case in published())

    tell(f"Published values typed into the workbook and read from IronCalc: {counts}")


@pytest.mark.parametrize(
    ("edition", "entries", "expected"),
    [
        ("metric", {"unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
                    "nose_length_entered": 22}, {"packing_section": 8.0, "ring_count": 5.0, "gland_gap_end": 6.0}),
        ("US", {"unit_set": "US", "stem_diameter_entered": 2, "box_bore_entered": 4}, {"packing_section": 25.4, "ring_count": ""}),
        ("metric", {"unit_set": "metric", "stem_diameter_entered": None, "box_bore_entered": 44},
         {"packing_section": "", "cut_length": ""}),
        ("metric", {"unit_set": "metric", "stem_diameter_entered": 44, "box_bore_entered": 28}, {"packing_section": "", "cut_length": ""}),
    ],
    ids=["metric", "US", "blank", "swapped"],
)  # fmt: skip
def test_set_by_defined_name(edition: str, entries: dict[str, Any], expected: dict[str, Any], tmp_path: Path) -> None:
    """Entries set by defined name give the worked answers; a blank and a swap give blanks and a sentence."""
    book = Book(one_valve.layout(EDITIONS[edition]), tmp_path / "named.xlsx")
    for name, value in entries.items():
        book.type(name, value)
    book.recalculate()

    for name, value in expected.items():
        assert difference(book.read(name), value) < TOLERANCE, name
    if expected["packing_section"] == "":
        assert book.read("check_section").startswith("Stem diameter is")
