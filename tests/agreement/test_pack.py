"""The pack of an outage under a planner's hands: cells typed, cleared and added, and every formula cell follows, in both engines."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any, Final

import ironcalc
import numpy as np
import pandas as pd
import pytest
from agreement import office
from agreement.engine import TOLERANCE, Book, difference, formula_cells, poisoned
from agreement.office import Job
from told import Tell

from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Per
from sheetcalc.intake.lists import read_list
from sheetcalc.reference import tables
from sheetcalc.sheets import kit_list, log, order_list, valve_list
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.filled import Filled
from sheetcalc.sheets.layout import Layout, Value, column_letters
from sheetcalc.sheets.list_working import HEADER, VALVES, Working
from sheetcalc.sheets.outage_rows import FIRST
from sheetcalc.sheets.valves_columns import columns
from sheetcalc.sheets.write import write

DEMO: Final = Path(__file__).parents[2] / "demo" / "valves.csv"
SPARE: Final = 12
_OUTAGE: Final[dict[str, Value]] = {
    "outage_start_entered": 46500.0, "status_date_entered": 46400.0, "next_outage_entered": 46900.0, "chart_tag": "BH-101",
}  # fmt: skip


#: What is typed of the flanges of a valve that comes out of the line: gasket and grade are none that the demo's list has.
_FLANGES: Final[dict[str, Value]] = {
    "flange_size": "NPS 2", "flange_class_entered": 150.0, "flange_facing_entered": "raised face",
    "flange_material_entered": "1.1 carbon steel",
    "gasket_kind": "spiral wound with inner ring, graphite filler", "flange_bolt_grade": "ASTM A193 B7M", "flange_lubricant": "machine oil",
    "comes_out_entered": "yes",
}  # fmt: skip
#: Rows of the list (from 0) whose flanges are typed before the planner begins, and what is typed otherwise there.
_FLANGED: Final[dict[int, dict[str, Value]]] = {
    7: {}, 8: {"flange_studs_renewed_entered": "no"}, 10: {}, 12: {"comes_out_entered": None}, 21: {"flange_class_entered": 300.0},
}  # fmt: skip


def _log() -> pd.DataFrame:
    """Readings of some of the demo's valves, drawn from one seed: a gap that falls, read now and then, and a repack."""
    rng = np.random.default_rng(5)
    rows: list[dict[str, Any]] = []
    for number, tag in enumerate(("BH-101", "BH-102", "bh-103 ", "MH-201", "MH-202", "CE-301", "none such")):
        for at in range(int(rng.integers(1, 8))):
            gap = 9.0 - 0.4 * at * (number % 3) + round(float(rng.normal(0, 0.1)), 1)
            rows.append({
                "log_date_entered": 45800.0 + 70 * at, "log_tag": tag, "log_event_entered": "repack" if at == 1 else "read",
                "log_gap_1_entered": gap, "log_gap_2_entered": gap + 0.2, "log_leak_entered": 100.0 * number, "log_by": "crew",
            })  # fmt: skip
    return pd.DataFrame(rows, dtype=object)


@cache
def _before() -> tuple[Filled, Layout]:
    """The pack of the demo's list with a log, before the planner touches it. Stores hold the codes of the lines."""
    read = read_list(DEMO)
    frame = read.frame.astype(object)
    for row, otherwise in _FLANGED.items():
        for name, value in {**_FLANGES, **otherwise}.items():
            frame.at[row, name] = value
    filled = Filled(frame, read.source, read.carried, (), read.verbatim, _OUTAGE, log=_log())
    return filled, valve_list.layout(EDITIONS["metric"], filled, spare=SPARE)


@dataclass(frozen=True)
class Edit:
    """A value typed into a cell by the planner, or None to clear it; `keys` is what a person types where that differs."""

    sheet: str
    row: int
    column: int
    value: float | str | None
    keys: str = ""

    @property
    def address(self) -> str:
        """The cell as a sheet calls it."""
        return f"{column_letters(self.column)}{self.row + 1}"


def _places(filled: Filled) -> dict[str, int]:
    held = columns(EDITIONS["metric"], tuple(filled.carried))
    return {column.entry: place for place, column in enumerate(held) if column.entry}


_NEW: Final[dict[str, Value]] = {"tag": "NEW-1", "unit_set": "metric", "stem_diameter_entered": 28.0, "box_bore_entered": 44.0,
               "box_depth_entered": 60.0, "nose_length_entered": 25.0, "gland_stud_thread": "M12", "packing_material": "PTFE braid",
               "crew_number_entered": 2.0, "gasket": "sheet DN 50", "gasket_count_entered": 2.0}  # fmt: skip
_OWN_PLAN: Final = frozenset({"crew_number_entered", "gasket", "gasket_count_entered"})
#: Row of the list (from 0), entry, and what is typed there.
_IN_LIST: Final[tuple[tuple[int, str, Value], ...]] = (
    (0, "maker_ring_count_entered", 3.0), (1, "new_studs_entered", 2.0), (2, "job_day_entered", 4.0), (2, "crew_number_entered", 1.0),
    (3, "critical_entered", "yes"), (3, "job_hours_stated_entered", 9.5), (4, "packing_material", None),
    (7, "flange_size", "NPS 4"), (8, "flange_studs_renewed_entered", "yes"), (8, "flange_joint_count_entered", 1.0),
    (10, "comes_out_entered", "no"), (12, "comes_out_entered", "yes"), (21, "flange_facing_entered", "flat face"),
    *((22, name, value) for name, value in {**_FLANGES, "flange_class_entered": 600.0, "flange_studs_renewed_entered": "yes"}.items()),
    *((30, name, value) for name, value in _NEW.items()),
)  # fmt: skip
_CLEARED: Final = 6
_IN_STORES: Final = ((0, "store_pack_entered", 0.5), (0, "store_stock_entered", 0.25), (1, "store_pack_entered", 0.0),
                     (2, "store_lead_days_entered", 200.0), (3, "store_price_entered", 12.5))  # fmt: skip
_IN_LOG: Final[dict[str, tuple[Value, str]]] = {
    "log_date_entered": (46390.0, "2027-01-03"), "log_tag": ("BH-101", ""), "log_gap_1_entered": (2.5, ""), "log_gap_2_entered": (2.75, ""),
}  # fmt: skip


def _edits() -> list[Edit]:
    """All that the planner does."""
    filled, laid = _before()
    places = _places(filled)
    edits = [Edit(VALVES, HEADER + 1 + row, places[name], value) for row, name, value in _IN_LIST]
    edits += [Edit(VALVES, HEADER + 1 + _CLEARED, place, None) for place in places.values()]
    sources = order_list.sources()
    edits += [Edit(order_list.STORES, FIRST + row, sources[name].column, value) for row, name, value in _IN_STORES]
    names = [name for name, _width in log.READINGS.entries]
    last = log.HEADER + 1 + len(filled.log)
    edits += [Edit(log.LOG, last, names.index(name), value, keys) for name, (value, keys) in _IN_LOG.items()]
    sheet, place = laid.names["people_entered"].split("!")
    letters, row = place.strip("$").split("$")
    edits.append(Edit(sheet, int(row) - 1, ironcalc.column_number_from_name(letters) - 1, 6.0))
    # What the edits make necessary to order, the planner types into Stores as well, below the codes that stood there.
    codes = _codes(_after())
    return edits + [Edit(order_list.STORES, FIRST + row, 1, code) for row, code in enumerate(codes) if row >= len(_codes(laid))]


def _codes(laid: Layout) -> list[str]:
    """The codes on Stores."""
    stores = next(sheet for sheet in laid.sheets if sheet.name == order_list.STORES)
    return [str(code) for grid in stores.grids for column in grid.columns if column.column == 1 for code in column.values if code]


@cache
def _after() -> Layout:
    """The pack as it would have been laid out for what the cells hold now."""
    filled, laid = _before()
    frame = filled.entries.reindex(columns=[*entry_names(), *(n for n in entry_names(Per.LISTED) if n != "position")]).astype(object)
    frame = pd.concat([frame, pd.DataFrame([{}], columns=frame.columns, dtype=object)], ignore_index=True)
    for row, name, value in _IN_LIST:
        frame.at[row, name] = value
    frame.loc[_CLEARED] = None
    typed = pd.DataFrame({"store_code": _codes(laid)}, dtype=object).reindex(columns=list(entry_names(Per.STORE))).astype(object)
    for row, name, value in _IN_STORES:
        typed.at[row, name] = value
    reading = pd.DataFrame([{name: value for name, (value, _keys) in _IN_LOG.items()}], dtype=object)
    logged = pd.concat([filled.log, reading], ignore_index=True)
    changed = replace(filled, entries=frame, outage={**_OUTAGE, "people_entered": 6.0}, stores=typed, log=logged)
    return valve_list.layout(EDITIONS["metric"], changed, spare=SPARE - 1)


def _expected(laid: Layout) -> dict[tuple[str, int, int], Any]:
    return {(sheet.name, row, column): value for sheet in laid.sheets for row, column, value in formula_cells(sheet)}


#: What a change may leave alone: the sheets on which a formula cell must have changed for the test to mean anything.
_MOVED: Final = (VALVES, "Working", "Outage", "Order list", "Stores", "Kit list", "Labour", "Log", "Follow-up", "Gap chart", "Read first")


def _judge(got: Mapping[tuple[str, int, int], Any], what: str, tell: Tell) -> None:
    """Every formula cell of the pack that was edited says what the core says of the edited entries."""
    before, after = _expected(_before()[1]), _expected(_after())
    wrong, worst = [], 0.0
    for place, value in got.items():
        # A list with fewer kinds of things would have had fewer rows ready: what is beyond them is blank but for its number.
        beyond = float(place[1] - FIRST) if place[2] == 1 and place[0] in {order_list.ORDER_LIST, kit_list.KIT_LIST} else ""
        gap = difference(value, after.get(place, beyond))
        worst = max(worst, gap) if math.isfinite(gap) else worst
        if gap > TOLERANCE:
            wrong.append(f"{place}: {value!r} against {after.get(place, beyond)!r}")

    assert wrong[:10] == []
    assert set(got) == set(before)

    moved = {place[0] for place, value in before.items() if difference(value, after.get(place, "")) > TOLERANCE}

    assert set(_MOVED) <= moved

    changed = sum(difference(value, after.get(place, "")) > TOLERANCE for place, value in before.items())
    tell(f"{what}, pack after {len(_edits())} edits: {len(got)} formula cells, {changed} of them changed, worst difference {worst:.2e}")


def test_the_edits_reach_the_flanges() -> None:
    """Another size, a valve that comes out, studs renewed: new codes of gaskets and of studs, 3 1/4 in and 4 1/4 in (ASME B16.5)."""
    new = set(_codes(_after())) - set(_codes(_before()[1]))

    assert {code for code in new if code.startswith("FLANGE GASKET ")} == {
        "FLANGE GASKET spiral wound with inner ring, graphite filler, NPS 4 class 150",
        "FLANGE GASKET spiral wound with inner ring, graphite filler, NPS 2 class 600",
    }  # fmt: skip
    assert sorted(code.split(" x ")[1].split(" / ")[0] for code in new if code.startswith("FLANGE STUD")) == ["107.95", "82.55"]


def test_there_are_lines_for_all_flanges() -> None:
    """A list with a flange of each size and class has a line for each: more kinds of gaskets and studs than any spare lines hold."""
    bolted = [key for key, count in zip(tables.values()["flange_keys"], tables.values()["flange_counts"], strict=True) if count > 0]
    valve = {**{name: value for name, value in _NEW.items() if name not in _OWN_PLAN}, **_FLANGES, "flange_studs_renewed_entered": "yes"}
    rows = [{**valve, "tag": key, "flange_size": key.split(" class ")[0], "flange_class_entered": float(key.split()[-1])} for key in bolted]
    outage = Working(EDITIONS["metric"], Filled(pd.DataFrame(rows, dtype=object)), SPARE).outage

    assert int((outage.values["line_item"] == "flange gasket").sum()) == len(bolted) > 60
    assert int((outage.values["line_item"] == "flange studs, two nuts each").sum()) > 40
    assert outage.one("check_reconciliation") == "OK"
    assert outage.one("check_kit") == "OK"


@pytest.mark.proof
def test_ironcalc_follows_the_planner(tmp_path: Path, tell: Tell) -> None:
    """Typed into IronCalc, each edit goes through to order list, kit, labour, follow-up and front page."""
    laid = _before()[1]
    book = Book(poisoned(laid), tmp_path / "pack.xlsx")
    for edit in _edits():
        sheet = book.names.index(edit.sheet)
        if edit.value is None:
            book.model.clear_cell_contents(sheet, edit.row + 1, edit.column + 1)
        elif isinstance(edit.value, str):
            book.model.update_cell_with_text(sheet, edit.row + 1, edit.column + 1, edit.value)
        else:
            book.model.update_cell_with_number(sheet, edit.row + 1, edit.column + 1, edit.value)
    book.recalculate()

    _judge({place: book.value(*place) for place in _expected(laid)}, "IronCalc", tell)


@pytest.mark.proof
@pytest.mark.office
def test_libreoffice_follows_the_planner(tmp_path: Path, tell: Tell) -> None:
    """The same typed into LibreOffice by a macro."""
    office.require()
    laid = _before()[1]
    path = tmp_path / "pack.xlsx"
    write(laid, path)
    steps: list[str] = []
    for edit in _edits():
        if edit.value is None:
            steps.append(office.clear_at(edit.sheet, f"{edit.address}:{edit.address}"))
        else:
            steps.append(office.type_at(edit.sheet, edit.address, edit.keys or str(edit.value)))
    saved = office.act([Job("pack", path, steps)], tmp_path / "saved")["pack"]
    held = office.contents(saved)

    def read(sheet: str, row: int, column: int) -> Any:
        there = held.get((sheet, f"{column_letters(column - 1)}{row}"))
        return "" if there is None else there.value

    _judge({place: read(*place) for place in _expected(laid)}, "LibreOffice", tell)
