"""A person at the one-valve workbook: load and stem typed by defined name, own materials, and the chart of the stack.

The expected figures are worked out here by hand from the sources named, not by the core.
"""

from __future__ import annotations

import math
import re
import zipfile
from pathlib import Path
from typing import Any

import pytest
from agreement.engine import Book

from sheetcalc.calculations.answers import whole
from sheetcalc.declare.quantity import Fault, get
from sheetcalc.reference import tables
from sheetcalc.sheets import materials, one_valve
from sheetcalc.sheets import tables as tables_sheet
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import address
from sheetcalc.sheets.write import write

#: 28 mm stem in a 44 mm box, five rings of 8 mm, set by 0.30: the example of a stack whose bottom ring feels 0.7047 of the gland stress.
METRIC: dict[str, Any] = {
    "tag": "BH-101", "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60,
    "nose_length_entered": 22, "gland_stud_thread": "M12", "packing_material": "graphite braid", "packing_state_entered": "lubricated",
    "least_gland_stress_entered": 26.2, "line_pressure_entered": 20, "fluid_temperature_entered": 150, "fluid_kind_entered": "water",
    "stem_motion_entered": "rising", "gland_stud_count_entered": 2, "gland_stud_grade": "ISO 8.8", "stud_lubricant": "machine oil",
    "nut_factor_entered": 0.2,
}  # fmt: skip
#: By hand: 1 in stem, 1 1/2 in box, 300 psi, 3,800 psi, two 1/2 in studs, nut factor 0.2.
US: dict[str, Any] = {
    "tag": "CE-1", "unit_set": "US", "stem_diameter_entered": 1, "box_bore_entered": 1.5, "box_depth_entered": 2.5,
    "nose_length_entered": 1.5,
    "gland_stud_thread": "1/2-13 UNC", "packing_material": "die-formed graphite", "made_ring_height_entered": 0.25,
    "least_gland_stress_entered": 3800, "line_pressure_entered": 300, "fluid_temperature_entered": 350, "fluid_kind_entered": "water",
    "stem_motion_entered": "rising", "gland_stud_count_entered": 2, "gland_stud_grade": "ASTM A193 B7", "stud_lubricant": "none (dry)",
    "nut_factor_entered": 0.2,
}  # fmt: skip
#: What the studs of both say: stress and nut factor are their own, and nobody knows the greatest stress of a braid of graphite.
NOTED = "OK. " + " ".join(get(name, Fault).words for name in ("least_gland_stress_noted", "nut_factor_noted", "most_stress_missing"))
PSI, LBF, LBF_FT, INCH = 0.006894757293168361, 4.4482216152605, 1355.8179483314, 25.4


def _typed(book: Book, entries: dict[str, Any]) -> Book:
    for name, value in entries.items():
        book.type(name, value)
    book.recalculate()
    return book


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Book]:
    """The one-valve workbook of each edition."""
    folder = tmp_path_factory.mktemp("one")
    return {one.key: Book(one_valve.layout(one), folder / f"{one.key}.xlsx") for one in EDITIONS.values()}


def _row_of(index: int) -> int:
    """The row (from 1) of a material's boxed cells on Materials."""
    return materials.FIRST + index + 1


def _own(book: Book, **figures: Any) -> None:
    """Type the first own row of Materials: name, form, and figures by the column of the issued table."""
    columns = {"name": 1, "unit_set": 2, "form": 3, **{name: 4 + at for at, name in enumerate(tables.MATERIAL_FIGURES)}}
    words = (*tables.MATERIAL_FLUIDS, *tables.MATERIAL_MOTIONS)
    columns |= {name: 4 + len(tables.MATERIAL_FIGURES) + at for at, name in enumerate((*words, "oxygen_report", *tables.MATERIAL_REPORTS))}
    sheet = book.names.index(materials.NAME)
    for name, value in figures.items():
        column = columns[name] + 1
        if isinstance(value, str):
            book.model.update_cell_with_text(sheet, _row_of(0), column, value)
        else:
            book.model.update_cell_with_number(sheet, _row_of(0), column, float(value))
    book.recalculate()


def _clear_own(book: Book) -> None:
    for column in range(2, 33):
        book.model.clear_cell_contents(book.names.index(materials.NAME), _row_of(0), column)


@pytest.mark.parametrize("edition", ["mm", "in"])
def test_a_metric_repack(books: dict[str, Book], edition: str) -> None:
    """Load, torque, share, bottom ratio and friction of a metric valve, typed by defined name into either edition."""
    book = _typed(books[edition], METRIC)
    area = math.pi / 4 * (44**2 - 28**2)
    load = 26.2 * area
    bottom = math.exp(-2 * 0.1 * 0.5 * 40 * 0.7 / 8)  # equal friction on stem and box
    torque = 0.2 * load / 2 * 12

    assert pytest.approx(load) == book.read("gland_load")
    assert pytest.approx(load / 2 / 84.27, rel=1e-4) == book.read("stud_stress")  # ISO 898-1 prints 84.3 mm2 for M12
    assert pytest.approx(load / 2 / 84.27 / (800 / 3), rel=1e-4) == book.read("stud_stress_share")
    assert pytest.approx(torque) == book.read("stud_torque")
    assert pytest.approx(0.3 * torque) == book.read("stud_torque_first")
    assert pytest.approx(bottom) == book.read("bottom_stress_ratio")
    assert round(bottom, 4) == 0.7047
    assert book.read("bottom_ratio_difference") == 0
    friction = 4 * math.pi * 28 * 0.1 * 0.5 * 26.2 * (1 - bottom) / (4 * 4 * 0.5 * 0.1 / 16)
    assert pytest.approx(friction) == book.read("stem_friction")
    assert book.read("check_studs") == NOTED


@pytest.mark.parametrize("edition", ["mm", "in"])
def test_a_us_repack(books: dict[str, Book], edition: str) -> None:
    """An example by hand in inches and psi: 3,730.64 lbf on the gland and 15.544 lbf ft on each nut."""
    book = _typed(books[edition], {**dict.fromkeys(METRIC), **US})

    assert pytest.approx(0.981748 * INCH**2, rel=1e-6) == book.read("annulus_area")
    assert pytest.approx(3730.64 * LBF, rel=1e-6) == book.read("gland_load")
    assert pytest.approx(15.544 * LBF_FT, rel=1e-4) == book.read("stud_torque")
    assert pytest.approx(3730.64 / 2 / 0.1419 * PSI, rel=1e-3) == book.read("stud_stress")
    assert pytest.approx(3730.64 / 2 / 0.1419 / (125000 / 3), rel=1e-3) == book.read("stud_stress_share")
    assert book.read("state") == "READY"


def test_an_own_material_goes_before_an_issued_one(books: dict[str, Book]) -> None:
    """A row of one's own with an issued name is used instead, and said to be one's own; cleared, the issued one is back."""
    book = _typed(books["mm"], {**dict.fromkeys(US), **METRIC, "least_gland_stress_entered": None})
    assert (book.read("material_origin"), book.read("gland_stress")) == ("issued", pytest.approx(37.9))
    _own(book, name="graphite braid", form="braid", unit_set="US", temperature_low=-100, temperature_high=700, pressure_high=2000, ph_low=0,
         ph_high=14, least_stress=4000, pressure_factor=1.5, friction_dry=0.2, friction_lubricated=0.1, lateral_ratio=0.5,
         density=1.2, water="yes", sliding="yes")  # fmt: skip

    assert book.read("material_origin") == "own"
    assert pytest.approx(4000 * PSI) == book.read("gland_stress")
    assert pytest.approx((700 - 32) / 1.8) == book.read("material_temperature_high")
    assert pytest.approx(2000 * PSI) == book.read("material_pressure_high")
    assert book.read("material_verdict") == "suits as far as stated"

    _clear_own(book)
    book.recalculate()
    assert book.read("material_origin") == "issued"


def test_an_own_material_with_missing_limits_does_not_pass(books: dict[str, Book]) -> None:
    """It says which limit is missing, and the verdict is not that it suits."""
    book = _typed(books["mm"], {**METRIC, "packing_material": "our own braid"})
    _own(book, name="our own braid", form="braid", unit_set="metric", temperature_high=200, least_stress=20, pressure_factor=1.5,
         friction_dry=0.2, friction_lubricated=0.1, lateral_ratio=0.5)  # fmt: skip

    said = book.read("check_material")
    assert [word for word in ("temperature limit", "pressure limit", "pH limit", "density") if f"states no {word}" not in said] == []
    assert "does not say whether it suits this kind of fluid" in said
    assert "friction" not in said
    assert book.read("material_verdict").startswith("not known")
    _clear_own(book)
    book.type("packing_material", "graphite braid")
    book.recalculate()


def test_a_missing_list_of_things_is_named(books: dict[str, Book]) -> None:
    """Blank stud count, grade and lubricant, an unknown thread, a wheel of radius 0 and friction above 1: blanks and a sentence each."""
    book = _typed(books["mm"], METRIC)
    for name, value, answer, check, said in (
        ("gland_stud_count_entered", None, "stud_torque", "check_studs", "Gland stud count missing"),
        ("gland_stud_grade", None, "stud_torque", "check_studs", "Gland stud grade missing"),
        ("gland_stud_grade", "unknown", "stud_torque", "check_studs", "states no tensile strength"),
        ("stud_lubricant", None, "stud_torque", "check_studs", "Stud lubricant missing"),
        ("packing_material", None, "stud_torque", "check_material", "Packing material missing"),
        ("line_pressure_entered", None, "stud_torque", "check_studs", "Line pressure missing"),
        ("fluid_temperature_entered", None, "stud_torque", "check_material", "Fluid temperature missing"),
        ("fluid_kind_entered", None, "stud_torque", "check_material", "Kind of fluid not stated"),
        ("stem_motion_entered", None, "stud_torque", "check_material", "Motion of the stem not stated"),
        ("gland_stud_thread", "M13", "stud_torque", "check_tilt", "none of the listed ones"),
        ("lateral_ratio_entered", 1.2, "bottom_stress_ratio", "check_stack", "Lateral ratio is typed but not usable"),
        ("stem_friction_factor_entered", -0.1, "stem_friction", "check_stack", "Friction on the stem is typed but not usable"),
        ("line_pressure_entered", -1.2, "gland_load", "check_material", "Line pressure is typed but not usable"),
        ("fluid_temperature_entered", 900, "", "check_material", "hotter than every listed material bears"),
        ("handwheel_radius_entered", 0, "rim_pull", "check_stem", "Handwheel radius is typed but not usable"),
    ):
        book.type(name, value)
        book.recalculate()

        assert said in book.read(check), name
        assert answer == "" or book.read(answer) == "", name

        book.type(name, METRIC.get(name))
    book.recalculate()
    assert book.read("check_studs") == NOTED


def test_the_chart_follows_lateral_ratio_and_ring_count(books: dict[str, Book], tmp_path: Path) -> None:
    """The chart on Load shows the stress on each ring from live cells, which move when K or the ring count is typed."""
    book = _typed(books["mm"], METRIC)
    before = [book.read(f"ring_{ring}_stress") for ring in range(1, 7)]
    assert before[5] == ""
    assert sorted(before[:5]) == before[:5]

    book.type("lateral_ratio_entered", 0.9)
    book.recalculate()
    steeper = [book.read(f"ring_{ring}_stress") for ring in range(1, 7)]
    assert all(after < earlier for after, earlier in zip(steeper[:4], before[:4], strict=True))
    assert pytest.approx(26.2 * math.exp(-2 * 0.1 * 0.9 * 5.6 / 8)) == steeper[3]

    book.type("lateral_ratio_entered", None)
    book.type("maker_ring_count_entered", 3)
    book.recalculate()
    assert [book.read(f"ring_{ring}_stress") == "" for ring in range(1, 6)] == [False, False, False, True, True]
    book.type("maker_ring_count_entered", None)

    path = tmp_path / "one-valve.xlsx"
    write(book.layout, path)
    load = next(sheet for sheet in book.layout.sheets if sheet.name == "Load")
    shown = ((cell, re.match(r"IF\(COUNT\((ring_[0-9]+_stress)\)", cell.formula)) for cell in load.cells)
    places = {found[1]: address(cell.row, cell.column) for cell, found in shown if found}
    with zipfile.ZipFile(path) as archive:
        drawn = "".join(archive.read(name).decode() for name in archive.namelist() if "charts/chart" in name)
    assert f"<c:f>Load!{places['ring_1_stress']}:{places['ring_10_stress']}</c:f>" in drawn


def test_an_own_material_that_does_not_suit_the_motion(books: dict[str, Book]) -> None:
    """A material whose row says no to a stem that turns is refused for a quarter-turn valve, its row silent on sliding or not."""
    book = _typed(books["mm"], {**METRIC, "packing_material": "our own braid", "stem_motion_entered": "quarter-turn"})
    _own(book, name="our own braid", form="braid", unit_set="metric", turning="no")
    assert "does not suit the motion" in book.read("check_material")
    assert book.read("material_verdict") == "does not suit"

    book.type("stem_motion_entered", "rising")
    book.recalculate()
    assert "does not say whether it suits the motion" in book.read("check_material")
    _clear_own(book)
    _typed(book, METRIC)


def test_temperatures_of_an_own_grade_are_typed_on_tables(books: dict[str, Book]) -> None:
    """A row of one's own to 120 degrees Celsius, a look from 100: at 110 the look is asked for, at 150 the studs are beyond it."""
    book = _typed(books["mm"], METRIC)
    grades = next(one for one in tables_sheet.blocks(whole()) if one.card.name == "gland_stud_grades")
    sheet, row = book.names.index("Tables"), grades.first + 1
    book.model.update_cell_with_text(sheet, row, 2, "our own")
    for column, number in ((4, 0), (5, 20), (6, 800), (7, 640), (8, -20), (9, 100), (10, 120)):
        book.model.update_cell_with_number(sheet, row, column, float(number))
    said = {}
    for celsius in (100, 110, 150):
        _typed(book, {"gland_stud_grade": "our own", "fluid_temperature_entered": celsius})
        said[celsius] = (bool(book.read("stud_relaxing")), bool(book.read("stud_out_of_range")), bool(book.read("stud_range_unstated")))
    assert said == {100: (False, False, False), 110: (True, False, False), 150: (False, True, False)}
    book.model.clear_cell_contents(sheet, row, 10)
    book.recalculate()
    assert book.read("stud_range_unstated")
    for column in (2, 4, 5, 6, 7, 8, 9, 10):
        book.model.clear_cell_contents(sheet, row, column)
    _typed(book, METRIC)


def test_rings_of_a_motion_are_changed_on_tables(books: dict[str, Book]) -> None:
    """The boxed cell of quarter-turn says how many rings are wanted; cleared, it leaves no count and a sentence."""
    book = _typed(books["mm"], {**METRIC, "stem_motion_entered": "quarter-turn"})
    motions = next(one for one in tables_sheet.blocks(whole()) if one.card.name == "stem_motions")
    column = 2 + [one.head for one in motions.columns].index("Rings wanted")
    sheet, row = book.names.index("Tables"), motions.first + 2
    counts = [book.read("ring_count")]
    for rings in (3.0, 5.0):
        book.model.update_cell_with_number(sheet, row, column, rings)
        book.recalculate()
        counts.append(book.read("ring_count"))
    assert counts == [4, 3, 5]
    book.model.clear_cell_contents(sheet, row, column)
    book.recalculate()
    assert (book.read("ring_count"), book.read("state")) == ("", "MISSING")
    assert "Tables state no whole number of rings" in book.read("check_rings")
    book.model.update_cell_with_number(sheet, row, column, 4.0)
    _typed(book, METRIC)


def test_a_grade_that_stands_twice_gives_no_torque(books: dict[str, Book]) -> None:
    """An own row of the grades beside an issued one of the same name and size is named, and nothing is chosen between them."""
    book = _typed(books["mm"], METRIC)
    grades = next(one for one in tables_sheet.blocks(whole()) if one.card.name == "gland_stud_grades")
    sheet = book.names.index("Tables")
    book.model.update_cell_with_text(sheet, grades.first + 1, 2, "ISO 8.8")
    for column, number in ((4, 0), (5, 20), (6, 800), (7, 640)):
        book.model.update_cell_with_number(sheet, grades.first + 1, column, float(number))
    book.recalculate()

    assert "More than one row" in book.read("check_studs")
    assert book.read("stud_torque") == ""
    for column in (2, 4, 5, 6, 7):
        book.model.clear_cell_contents(sheet, grades.first + 1, column)
    book.recalculate()
    assert book.read("check_studs") == NOTED


#: A braid of one's own that suits everything and states all of its limits.
OWN: dict[str, Any] = {
    "name": "our own braid", "form": "braid", "unit_set": "US", "temperature_low": -100, "temperature_high": 700, "pressure_high": 2000,
    "ph_low": 0, "ph_high": 14, "least_stress": 4000, "pressure_factor": 1.5, "friction_dry": 0.2, "friction_lubricated": 0.1,
    "lateral_ratio": 0.5, "density": 1.2, "gas": "yes", "oxygen": "yes", "sliding": "yes",
}  # fmt: skip
OXYGEN: dict[str, Any] = {
    **METRIC, "packing_material": "our own braid", "stud_lubricant": "none (dry)", "fluid_kind_entered": "oxygen",
    "fluid_temperature_entered": 60, "line_pressure_entered": 40,
}  # fmt: skip


def test_a_report_for_oxygen_is_typed_beside_the_material(books: dict[str, Book]) -> None:
    """In the unit set of its row, by a name or a number; 140 degrees Fahrenheit and 581 psi reach 60 and 40 bar (40.06), and 41 not."""
    book = _typed(books["mm"], OXYGEN)
    _own(book, **OWN)
    for part in ({"oxygen_report": 4711}, {"oxygen_report_temperature": 140}, {"oxygen_report_pressure": 581}):
        assert "In oxygen the packing material needs its maker's test report" in book.read("check_material")
        assert (book.read("state"), book.read("stud_torque")) == ("STOP", "")
        _own(book, **part)

    assert (book.read("state"), book.read("material_verdict")) == ("READY", "suits as far as stated")
    assert pytest.approx(60) == book.read("material_oxygen_temperature")
    assert pytest.approx(581 * PSI) == book.read("material_oxygen_pressure")

    for name, value in (("fluid_temperature_entered", 61), ("line_pressure_entered", 41)):
        _typed(book, {**OXYGEN, name: value})
        assert "The oxygen test report of the packing material does not reach" in book.read("check_material")
        assert book.read("stud_torque") == ""
    _clear_own(book)
    _typed(book, METRIC)


def test_a_limit_in_air_is_typed_beside_the_material(books: dict[str, Book]) -> None:
    """Blank it is that of the material, 700 degrees Fahrenheit; typed it holds in air alone; a text is no limit and does not pass."""
    book = _typed(books["mm"], {**OXYGEN, "fluid_kind_entered": "air", "fluid_temperature_entered": 360})
    _own(book, **OWN)
    assert pytest.approx((700 - 32) / 1.8) == book.read("material_temperature_high_air")
    assert book.read("material_verdict") == "suits as far as stated"

    _own(book, temperature_high_air=600)
    assert pytest.approx((600 - 32) / 1.8) == book.read("material_temperature_high_air")
    assert "where air or oxygen reaches it" in book.read("check_material")
    _typed(book, {"fluid_kind_entered": "inert gas"})
    assert book.read("material_verdict") == "suits as far as stated"

    _own(book, temperature_high_air="600 F")
    assert "states no temperature limit" in book.read("check_material")
    assert book.read("material_verdict").startswith("not known")
    _clear_own(book)
    _typed(book, METRIC)


def test_a_report_for_oxygen_is_typed_beside_the_lubricant(books: dict[str, Book]) -> None:
    """An own row is asked for its report in degrees Celsius and bar; one that says yes to dry needs none."""
    book = _typed(books["mm"], {**OXYGEN, "stud_lubricant": "our own paste"})
    _own(book, **OWN, oxygen_report="R 1", oxygen_report_temperature=400, oxygen_report_pressure=2000)
    paste = next(one for one in tables_sheet.blocks(whole()) if one.card.name == "stud_lubricants")
    sheet, columns = book.names.index("Tables"), {column.head: at for at, column in enumerate(paste.columns, start=2)}

    def put(head: str, value: str | float) -> None:
        if isinstance(value, str):
            book.model.update_cell_with_text(sheet, paste.first + 1, columns[head], value)
        else:
            book.model.update_cell_with_number(sheet, paste.first + 1, columns[head], value)
        book.recalculate()

    for head, value in (("Lubricant", "our own paste"), ("Nut factor", 0.15), ("Scatter of the load", 0.25)):
        put(head, value)
    for head, value in (("Oxygen report, number or name", 12.0), ("Oxygen report to °C", 60.0), ("Oxygen report to bar", 39.0)):
        assert "In oxygen the stud lubricant needs its maker's test report" in book.read("check_studs")
        assert book.read("stud_torque") == ""
        put(head, value)
    assert pytest.approx(3.9) == book.read("lubricant_oxygen_pressure")
    assert "The oxygen test report of the stud lubricant does not reach" in book.read("check_studs")
    put("Oxygen report to bar", 40.0)
    assert (book.read("state"), book.read("stud_torque") > 0) == ("READY", True)

    put("Oxygen report to bar", 1.0)
    put("Dry (yes or no)", "yes")
    assert (book.read("state"), book.read("stud_torque") > 0) == ("READY", True)
    for column in columns.values():
        book.model.clear_cell_contents(sheet, paste.first + 1, column)
    _clear_own(book)
    _typed(book, METRIC)
