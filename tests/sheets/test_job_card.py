"""The job card: what it holds, that it fits its paper in type of 11 points, that a stop blanks it, and both engines on it."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest
from agreement import engine, office

from sheetcalc.calculations.answers import Answers, whole
from sheetcalc.calculations.run import entry_names, evaluate, issued_assumptions, read_entries
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Column, Constant, Fault, Gravity, Per, all_quantities, get
from sheetcalc.reference import tables
from sheetcalc.sheets import card_gland, card_page, card_removal, job_card, one_valve, style, valve_list
from sheetcalc.sheets.common import VERSION
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.sheets.layout import Cell, Layout, Sheet, Value, address
from sheetcalc.sheets.write import write

METRIC: Final = EDITIONS["metric"]
#: Width and height in inches: ISO 216 (A4, 210 by 297 mm) and ANSI/ASME Y14.1 (Letter), from memory.
PAPERS: Final = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}
#: Thousandths of the type size, from Adobe's metrics of Helvetica, from memory; Arial and Liberation Sans have the same.
_HELVETICA: Final = {
    **dict.fromkeys("0123456789abdeghnopqu_<>=+", 556), **dict.fromkeys("cksvxyzJ", 500), **dict.fromkeys("ijl'", 222),
    **dict.fromkeys(" !,./:;ftI|", 278), **dict.fromkeys("()-r", 333), **dict.fromkeys("ABEKPSVXY", 667), **dict.fromkeys("CDHNRUw", 722),
    **dict.fromkeys("FTZL", 611), **dict.fromkeys("GOQ", 778), "M": 833, "m": 833, "W": 944, "…": 1000, "□": 604, "°": 400, "·": 333,
    "'": 191, "~": 584, "*": 389, "?": 556, "#": 556, "L": 556, "<": 584, ">": 584, "=": 584, "+": 584, '"': 355,
}  # fmt: skip
#: Bold letters are wider by no more than this.
_BOLD: Final = 1.1
#: What a cell keeps free left and right, in points, and the share of a line that a printer may need more.
_PADDING, _SHARE = 4.0, 0.98

VALVE: Final[dict[str, float | str]] = {
    "tag": "30-HV-20145-A", "unit_set": "metric", "place": "Unit 30, platform 2", "fluid": "Boiler feed water",
    "isolation_points": "HV-20144 and HV-20146 shut and locked, drain DV-20145 open", "stem_diameter_entered": 28.0,
    "box_bore_entered": 44.0, "box_depth_entered": 60.0, "nose_length_entered": 22.0, "gland_stud_thread": "M12",
    "line_pressure_entered": 10.0, "fluid_temperature_entered": 250.0, "fluid_kind_entered": "steam", "stem_motion_entered": "rising",
    "packing_material": "graphite braid", "gland_stud_count_entered": 4.0, "gland_stud_grade": "ISO 8.8",
    "stud_lubricant": "anti-seize paste",
}  # fmt: skip
US: Final[dict[str, float | str]] = {
    **VALVE, "tag": "US-3", "unit_set": "US", "stem_diameter_entered": 1.0, "box_bore_entered": 1.5, "box_depth_entered": 6.0,
    "nose_length_entered": 2.0, "gland_stud_thread": "1/2-13 UNC", "line_pressure_entered": 600.0, "fluid_temperature_entered": 700.0,
    "gland_stud_grade": "ASTM A193 B7", "preferred_ring_count_entered": 12.0,
}  # fmt: skip
#: With a lantern ring at its port.
LANTERN: Final[dict[str, float | str]] = {
    **VALVE, "tag": "LANTERN", "stem_diameter_entered": 25.0, "box_bore_entered": 38.0, "box_depth_entered": 95.0,
    "nose_length_entered": 25.0, "lantern_length_entered": 15.0, "port_depth_entered": 45.0,
}  # fmt: skip
#: As large as stems come (from memory: 250 mm), as hot and under as much pressure as a listed material bears; and with a material not
#: named, at the greatest believable pressure.
LARGE: Final[dict[str, float | str]] = {
    **VALVE, "tag": "LARGE", "stem_diameter_entered": 250.0, "box_bore_entered": 300.0, "box_depth_entered": 400.0,
    "nose_length_entered": 350.0, "gland_stud_thread": "M39", "line_pressure_entered": 400.0, "fluid_temperature_entered": 550.0,
    "packing_material": "graphite braid with wire", "gland_stud_count_entered": 8.0, "gland_stud_grade": "ISO 12.9",
}  # fmt: skip
UNNAMED: Final[dict[str, float | str]] = {**LARGE, "tag": "UNNAMED", "packing_material": "", "line_pressure_entered": 1000.0}
#: Stopped by its thread, its heat, for this material and for any, its pressure, its fluid and its count.
STOPPED: Final[dict[str, float | str]] = {
    **LARGE, "tag": "STOPPED", "gland_stud_thread": "M64", "line_pressure_entered": 1000.0, "fluid_temperature_entered": 1000.0,
    "fluid_kind_entered": "oxygen", "stud_lubricant": "none (dry)", "maker_ring_count_entered": 40.0,
}  # fmt: skip
WORDY: Final[dict[str, float | str]] = {
    **VALVE, "tag": "L" * 60, "place": "p" * 90, "fluid": "o" * 50, "isolation_points": "valve " * 60, "cut_style_entered": "skive",
    "gap_reading_1_entered": 10.0, "gap_reading_2_entered": 12.0, "gap_reading_distance_entered": 100.0,
    "stud_spacing_entered": 100.0,
}  # fmt: skip
#: A valve that comes out of the line, with everything known; one of the largest flanges, in inches; and one with much to be said.
OUT: Final[dict[str, float | str]] = {
    **VALVE, "tag": "OUT-1", "comes_out_entered": "yes", "flange_size": "NPS 8", "flange_class_entered": 300.0,
    "flange_facing_entered": "raised face", "flange_material_entered": "1.1 carbon steel",
    "gasket_kind": "spiral wound with inner ring, graphite filler",
    "flange_bolt_grade": "ASTM A193 B8M class 2", "flange_lubricant": "anti-seize paste", "valve_mass_entered": 385.0,
    "sling_legs_entered": 2.0, "leg_length_entered": 1200.0, "hook_height_entered": 1000.0, "leg_capacity_entered": 1000.0,
}  # fmt: skip
OUT_US: Final[dict[str, float | str]] = {
    **US, **{name: OUT[name] for name in OUT if name.startswith(("comes", "flange", "gasket"))}, "tag": "OUT-2", "flange_size": "NPS 20",
    "flange_class_entered": 600.0, "valve_mass_entered": 12345.6, "sling_legs_entered": 4.0, "sling_angle_entered": 60.0,
    "leg_capacity_entered": 9000.0, "flange_bolt_grade": "ASTM A193 B7",
}  # fmt: skip
OUT_WORDY: Final[dict[str, float | str]] = {
    **WORDY, "tag": "OUT-3", "comes_out_entered": "yes", "flange_size": "NPS 24", "flange_class_entered": 600.0, "gasket_kind": "k" * 90,
    "flange_bolt_grade": "g" * 50, "flange_lubricant": "l" * 50, "sling_legs_entered": 3.0, "sling_angle_entered": 20.0,
}  # fmt: skip
#: The same with flanges that are listed, so that nothing stops it and its checks are printed.
OUT_SIZED: Final[dict[str, float | str]] = {
    **OUT_WORDY, "tag": "OUT-4", "gasket_kind": "spiral wound, graphite filler", "flange_bolt_grade": "ASTM A193 B7",
    "flange_lubricant": "machine oil",
}  # fmt: skip
#: Seven valves: one stopped, one in inches with more rings than lines, loose packing, one not measured, one without a tag.
VALVES: Final[tuple[dict[str, float | str], ...]] = (
    VALVE, {**VALVE, "tag": "STOP-1", "maker_ring_count_entered": 9.0}, US, {**VALVE, "tag": "LOOSE", "packing_material": "loose graphite"},
    {"tag": "EMPTY", "unit_set": "metric"}, {"unit_set": "metric"}, WORDY,
)  # fmt: skip
#: The cell of the state.
_STATE: Final = (0, 4)


def worked_out(typed: dict[str, float | str]) -> dict[str, Any]:
    """Every quantity of one valve."""
    return evaluate(read_entries(pd.DataFrame([typed])), 1)


def one(typed: dict[str, float | str]) -> Sheet:
    """The card of one valve."""
    return job_card.sheet_for_one(worked_out(typed), whole())


def list_layout(*valves: dict[str, float | str], edition: str = "metric", spare: int = 3) -> Layout:
    """The list workbook of these valves, without a card that it may have of its own."""
    frame = pd.DataFrame({name: [valve.get(name, "") for valve in valves] for name in entry_names()}, dtype=object)
    layout = valve_list.layout(EDITIONS[edition], valve_list.Filled(frame, "list.csv"), spare=spare)
    return replace(layout, sheets=tuple(sheet for sheet in layout.sheets if sheet.name != job_card.NAME))


def with_all(*valves: dict[str, float | str], edition: str = "metric") -> Layout:
    """The list workbook with the cards of all its valves and the card that fills itself."""
    layout = list_layout(*valves, edition=edition)
    card = job_card.sheet_for_list(job_card.WorkingSheet.of(layout), whole())
    cards = job_card.with_cards(layout, range(len(valves)), whole())
    return replace(cards, sheets=(*cards.sheets, card))


def printed(sheet: Sheet) -> Iterator[Cell]:
    """The cells of the page itself."""
    assert sheet.print_area is not None
    top, left, bottom, right = sheet.print_area
    return (cell for cell in sheet.cells if top <= cell.row <= bottom and left <= cell.column <= right)


def held(sheet: Sheet) -> dict[tuple[int, int], Value]:
    """What the cells of the page hold."""
    return {(cell.row, cell.column): cell.value for cell in printed(sheet)}


def beside(sheet: Sheet, title: str, along: int = 1) -> Value:
    """What stands in the nearest filled place to the right of a title, or in a further one."""
    at = next(cell for cell in printed(sheet) if cell.value == title)
    right = sorted((cell.column, cell.value) for cell in printed(sheet) if cell.row == at.row and cell.column > at.column)
    return right[along - 1][1]


# --- the look ---------------------------------------------------------------------------------------------------------


def test_every_style_of_the_card_has_eleven_points_or_more() -> None:
    """No style of the card is smaller than 11 points, and black and white is enough: no coloured type, no dark ground."""
    names = [name for name in style.STYLES if name.startswith("card_")]
    assert len(names) > 10
    assert [name for name in names if style.style(name)["font_size"] < 11] == []
    assert {style.style(name)["font_color"] for name in names} == {style.INK}


def test_every_printed_cell_has_a_style_of_the_card() -> None:
    """Nothing on the page is set in a smaller type of another sheet, the footer neither: on the one card, the cards, and the one chosen."""
    sheets = with_all(*VALVES).sheets
    for sheet in (one(VALVE), sheets[0], sheets[-1]):
        used = {cell.style for cell in printed(sheet)}
        assert [name for name in used if not name.startswith("card_")] == []
        assert sheet.footer_size >= 11


@pytest.mark.parametrize("paper", PAPERS)
def test_the_page_fits_the_paper_without_shrinking(paper: str) -> None:
    """Rows and columns at full size stay inside the margins, with columns as wide as the digits of 10 point Arial make them.

    A spreadsheet on the screen takes a digit for 7 pixels, and on paper for 5.56 points (Helvetica), 6 % more.
    """
    sheet = one(VALVE)
    assert sheet.print_area is not None
    left, right, top, bottom = sheet.margins
    width, height = PAPERS[paper][0] - left - right, PAPERS[paper][1] - top - bottom
    (below,) = sheet.breaks
    columns = range(sheet.print_area[1], sheet.print_area[3] + 1)
    for rows in (range(sheet.print_area[0], below), range(below, sheet.print_area[2] + 1)):
        assert sum(sheet.heights[row] for row in rows) / 72 <= 0.99 * height
    pixels = sum(sheet.widths[column] * 7 + 5 for column in columns)
    assert pixels / 96 <= 0.95 * width
    assert pixels / 7 * 5.56 / 72 <= width
    assert (sheet.scale, sheet.landscape) == (100, False)


def measure(text: str, size: float, *, bold: bool) -> float:
    """The length of a text in points."""
    return sum(_HELVETICA[character] for character in text) * size / 1000 * (_BOLD if bold else 1)


def lines_of(text: str, width: float, look: dict[str, Any]) -> int:
    """The lines of a text that wraps between words."""
    lines, line = 1, ""
    for word in text.split(" "):
        longer = f"{line} {word}" if line else word
        if line and measure(longer, look["font_size"], bold=look.get("bold", False)) > width:
            lines, line = lines + 1, word
        else:
            line = longer
    return lines


def shown(cell: Cell) -> str:
    """A cell as it is read, numbers by the format of their cell."""
    if not isinstance(cell.value, float):
        return str(cell.value or "")
    look = style.style(cell.style)["num_format"]
    if look == style.FRACTION:
        whole, part = divmod(Fraction(cell.value).limit_denominator(99), 1)
        return f"{whole} {part.numerator:2}/{part.denominator:<2}"  # each ? of the format keeps the room of a digit
    if look == "General":
        return f"{cell.value:.10g}"
    before, digits, after = re.fullmatch(r'(?:"([^"]*)")?([0.]+)(?:"([^"]*)")?', look).groups("")  # type: ignore[union-attr]
    return f"{before}{cell.value:.{len(digits.partition('.')[2])}f}{after}"


def cut(sheet: Sheet) -> list[str]:
    """Texts and numbers of a page that do not fit their cells."""
    blocks = {merge[:2]: merge[2:] for merge in sheet.merges}
    out = []
    for cell in printed(sheet):
        last_row, last_column = blocks.get((cell.row, cell.column), (cell.row, cell.column))
        width = sum(sheet.widths[at] * 7 + 5 for at in range(cell.column, last_column + 1)) * 0.75 - _PADDING
        height = sum(sheet.heights[at] for at in range(cell.row, last_row + 1))
        look, text = style.style(cell.style), shown(cell)
        if look.get("text_wrap"):
            # A line of 11 point Arial is 17 pixels high on the screen, and a row keeps 2 besides.
            fits = lines_of(text, width * _SHARE, look) * 12.75 + 1.5 <= height
        else:
            fits = measure(text, look["font_size"], bold=look.get("bold", False)) + look.get("indent", 0) * 6 <= width
        if not fits:
            out.append(f"{cell.row},{cell.column}: {text}")
    return out


@pytest.mark.parametrize(
    "typed",
    [
        *VALVES,
        LANTERN,
        LARGE,
        UNNAMED,
        STOPPED,
        OUT,
        OUT_US,
        OUT_WORDY,
        OUT_SIZED,
        {**US, "stud_lubricant": "x" * 40, "packing_material": "n" * 40},
    ],
)
def test_nothing_on_the_page_is_cut(typed: dict[str, float | str]) -> None:
    """Every text and number fits its place, those of wordy planners and of a very large valve included."""
    assert cut(one(typed)) == []
    assert cut(job_card.sheet_for_one(worked_out(typed), whole(), EDITIONS["US"].sets)) == []


def test_a_text_too_long_for_its_place_is_found() -> None:
    """The check for cut texts does find one, in a line, in a wrapped block, and for a number."""
    sheet = one(VALVE)
    longer = [
        replace(cell, value=str(cell.value) + " and so on" * 9) if cell.style in {"card_bold", "card_block"} else cell
        for cell in sheet.cells
    ]
    longer = [replace(cell, value=123456.7) if cell.style == "card_length" else cell for cell in longer]
    found = cut(replace(sheet, cells=tuple(longer)))
    assert {"30-HV-20145-A", "FIT", "123456.7"} <= {word for text in found for word in text.split()}


def test_what_the_checks_say_fits_whatever_they_say() -> None:
    """As many sentences as are shown of any number stay within the three lines; two that stop a valve are shown whole."""
    faults = [q for q in all_quantities() if isinstance(q, Fault) and q.per is Per.VALVE]
    words, stops = [q.words for q in faults], [q.words for q in faults if q.gravity is Gravity.STOP]
    draw = random.Random(3)  # noqa: S311 - no secret
    limit = int(card_page.LIMITS["all_trouble"])
    widths = card_page.widths(METRIC.sets)
    width = (sum(widths.values()) * 7 + 5 * len(widths)) * 0.75 - _PADDING
    look = style.style("card_block")
    said = [card_page.sentences_that_fit(" ".join(draw.sample(words, 1 + at % 12)), limit) for at in range(500)]
    assert max(lines_of(one, width * _SHARE, look) for one in said) == 3
    for both in (" ".join(draw.sample(stops, 2)) for _ in range(500)):
        first = card_page.sentences_that_fit(both, limit, counted=False)
        rest = both[len(first) + 1 :]
        assert f"{first} {rest}".strip() == both
        assert max(lines_of(one, width * _SHARE, look) for one in (first, rest)) <= 3


@pytest.mark.parametrize("kind", [str(name) for name in tables.values()["fluid_kind_names"]])
def test_the_caution_of_each_fluid_fits(kind: str) -> None:
    """The cautions with that of the fluid stay within their block, and it is there."""
    sheet = one({**VALVE, "fluid_kind_entered": kind})
    said = tables.values()["fluid_kind_cautions"][list(tables.values()["fluid_kind_names"]).index(kind)]
    assert [text for text in held(sheet).values() if str(text).endswith(str(said))] != []
    assert cut(sheet) == []


# --- what it holds ----------------------------------------------------------------------------------------------------


def test_the_page_reads_known_quantities_and_no_others() -> None:
    """Every name that the page asks for is a quantity or an entry, asked of the core as well as of the sheet."""
    asked: set[str] = set()
    answers = worked_out(VALVE)
    read = card_page.read_one(answers, 0)

    def place(name: str) -> str:
        asked.add(name)
        return name

    valued: set[str] = set()

    def value(name: str) -> Value:
        valued.add(name)
        return read(name)

    card_gland.page(0, place, value, there=whole())
    card_removal.second_page(0, place, value, there=whole())
    known = {quantity.name for quantity in all_quantities()}
    assert asked - known == set()
    assert valued - known == set()
    assert {
        "tag",
        "isolation_points",
        "all_trouble",
        "all_stop",
        "fluid_caution",
        "ring_10_stress",
        "stud_torque_first",
        "loose_fills",
    } <= asked


def test_the_names_in_its_formulas_are_known() -> None:
    """Formulas hold nothing but functions of the safe set, known names, constants and texts; no literal but 0, 1 and 2."""
    names = {q.name for q in all_quantities()}
    seen = 0
    for cell in one(VALVE).cells:
        if cell.formula:
            seen += 1
            assert formula.lint(cell.formula) == []
            bare = re.sub(r'"(?:[^"]|"")*"', "", cell.formula)
            assert set(re.findall(r"\b[a-z][a-z0-9_]*\b", bare)) <= names
    assert seen > 100


def test_figures_are_shown_in_both_units() -> None:
    """Lengths stand in mm and in inches, torque in N·m and lbf·ft, pressure in bar and psi, temperature in °C and °F.

    25.4 mm to the inch; 1 lbf·ft is 1.3558179 N·m and 1 psi 0.0689476 bar (NIST SP 811, from memory).
    """
    sheet, answers = one(VALVE), worked_out(VALVE)
    assert beside(sheet, "Stem diameter") == 28.0
    assert beside(sheet, "Stem diameter", 2) == pytest.approx(28 / 25.4)
    assert beside(sheet, "Gap at the end") == pytest.approx(float(answers["gland_gap_end"][0]), abs=0.25)
    torque = float(answers["stud_torque"][0]) / 1000
    for along, exact in ((1, torque), (2, torque / 1.3558179)):
        assert 0.9 * exact < float(str(beside(sheet, "Pass 3", along))) <= exact
    values = held(sheet).values()
    numbers = [value for value in values if isinstance(value, float)]
    assert [n for n in numbers if math.isclose(n, 10 / 0.0689476, rel_tol=1e-5)] != []
    assert [n for n in numbers if math.isclose(n, 250 * 9 / 5 + 32)] != []


def test_a_skived_ring_has_both_its_lengths() -> None:
    """A stem of 28 with 8 mm packing: 113.1 mm along the middle, shown as 113, 8 mm more from tip to tip. A butt joint has one length."""
    skived, butt = one({**VALVE, "cut_style_entered": "skive"}), one(VALVE)
    lengths = [beside(skived, title) for title in ("Mean length, skive", "Skive, tip to tip")]
    assert lengths == [113.0, 121.0]
    assert [beside(butt, title) for title in ("Cut length butt", "Skive, tip to tip")] == [113.0, None]


def test_a_packing_nut_is_turned_by_itself() -> None:
    """Five rings of 8 mm travel 4 mm from 0.20 to 0.30: a nut of M36, pitch 4, turns by six flats; M12 studs take 4 / (1.75 / 6)."""
    studs = one(VALVE)
    nut = one({**VALVE, "gland_kind_entered": "packing nut", "gland_stud_thread": "M36", "gland_stud_count_entered": ""})
    assert beside(studs, "Finger tight") == pytest.approx(13.714, abs=0.001)
    assert beside(nut, "Finger tight") == pytest.approx(6)
    assert ["gaps kept equal" in " ".join(map(str, held(sheet).values())) for sheet in (studs, nut)] == [True, False]


def test_a_stop_shows_the_tag_and_the_reason_and_no_figure() -> None:
    """Where a stop speaks no number stands anywhere on the page, no step, and no tool; the state says so in words."""
    sheet = one({**VALVE, "maker_ring_count_entered": 9.0})
    values = held(sheet)
    assert values[_STATE] == "STOP"
    assert "30-HV-20145-A" in values.values()
    assert "no card: do not start, ask the planner" in values.values()
    assert get("maker_count_misfit", Fault).words in values.values()
    assert [value for value in values.values() if isinstance(value, float)] == []
    words = " ".join(str(value) for value in values.values())
    assert [text for text in ("TAKE OUT", "FIT ", "Log the gaps", "M12", "18 mm", "flats are", "none seen") if text in words] == []


def test_a_valve_not_measured_shows_no_figure_of_its_own() -> None:
    """Without measurements only constants stand there: strokes, days, minutes, the greatest difference of the gaps, three of acceptance."""
    sheet = one({"tag": "EMPTY", "unit_set": "metric"})
    constants = issued_assumptions()
    names = ("retorque_strokes", "retorque_days", "leak_test_minutes", "pit_depth_most", "stem_taper_most", "follower_box_most")
    gap = float(constants["greatest_gap_difference"])
    numbers = [value for value in held(sheet).values() if isinstance(value, float)]
    assert sorted([*(float(constants[name]) for name in names), gap, gap / 25.4]) == sorted(numbers)
    assert held(sheet)[_STATE] == "MISSING"


def test_an_empty_form_has_no_figure_and_no_state() -> None:
    """Where nothing is typed the page is a form."""
    values = held(one({"unit_set": "metric"}))
    assert values[_STATE] == ""
    assert [value for value in values.values() if isinstance(value, float)] == []


def test_loose_packing_shows_fills_and_no_rings() -> None:
    """The line of the rings says fills for loose packing, and the lines of the rings are blank."""
    typed = {**VALVE, "packing_material": "loose graphite"}
    sheet = one(typed)
    assert beside(sheet, "Fills, loose") == float(worked_out(typed)["loose_fills"][0])
    rings = [cell.value for cell in printed(sheet) if cell.formula and "ring_" in cell.formula and "ring_count" not in cell.formula]
    assert len(rings) == 50
    assert set(rings) == {None}


def test_a_lantern_ring_has_a_line_between_its_rings() -> None:
    """Worked by hand: on a spacer of 28 mm rings seated to 5.2 mm end 61.8, 56.6 and 51.4 below the face, the lantern 36.4, then 31.2.

    Each is shown to the nearest half millimetre, as a rule reads it.
    """
    sheet = one(LANTERN)
    top = next(cell.row for cell in printed(sheet) if cell.value == "Ring") + 1
    lines = [[held(sheet).get((top + line, column)) for column in (6, 7, 8)] for line in range(10)]
    assert [line[0] for line in lines] == [1.0, 2.0, 3.0, None, 4.0, 5.0, 6.0, 7.0, None, None]
    assert [line[1] for line in lines][2:5] == [180.0, "lantern", 270.0]
    depths = [line[2] for line in lines]
    assert depths[:8] == [62.0, 56.5, 51.5, 36.5, 31.0, 26.0, 21.0, 15.5]
    assert depths[8:] == [None, None]


def test_more_rings_than_lines_are_told() -> None:
    """With twelve rings ten have a line, and the page says where the others are."""
    assert beside(one(US), "Rings: see Working") == 12.0
    assert "Rings: see Working" not in held(one(VALVE)).values()


def test_all_that_a_card_must_carry_is_there() -> None:
    """The hold points, cautions and steps that the trade's order asks for stand on the page (common practice, no source)."""
    words = " ".join(str(value) for value in held(one(OUT)).values()).lower()
    wanted = (
        "permit signed on",
        "zero energy",
        "isolated, locked, tagged",
        "vented and drained",
        "gauge at zero",
        "air, power, spring",
        "position noted",
        "cool enough",
        "trapped",
        "backseat",
        "springs store",
        "hot",
        "asbestos",
        "0.1 f/cc over 8 h",
        "1.0 f/cc over 30 min",
        "site procedure",
        "local codes",
        "licensed practice",
        "oxygen: no oil",
        "hold the follower up",
        "point away from the stem",
        "count",
        "within acceptance",
        "spacer or bushing found",
        "measure again",
        "tap nuts, die studs",
        "mandrel",
        "pattern",
        "joints as listed",
        "finger tight",
        "one flat at a time",
        "whichever is first",
        "forecast",
        "leak test",
        "actuator retest",
        "flow arrow",
        "flanges in line",
        "blank the open ends",
        "moves freely",
        "opens | closes",
        "packing batch",
        "log the gaps",
        "work order",
        "done by",
        "checked",
        "released by",
        "torque tool",
        "lubricant",
        "old",
    )
    assert [one for one in wanted if one not in words] == []


#: What is found is held against these of a stem of 28 that rises in a box of 44, in mm: the clearances of the API 589 fixture (read in a
#: preview), the others from memory; and of a stem of 6 that turns in a box of 12, where a quarter of the section is less.
ACCEPTED: Final[tuple[tuple[dict[str, float | str], dict[str, float], tuple[float, float]], ...]] = (
    ({}, {"Run-out most, ": 0.10, "Pits, deepest": 0.10, "Taper, most": 0.10, "Follower-box, dia.": 0.50, "Follower-stem": 1.40,
          "Bushing-stem": 1.45}, (27.75, 44.40)),
    ({"stem_diameter_entered": 6.0, "box_bore_entered": 12.0, "box_depth_entered": 20.0, "nose_length_entered": 8.0,
      "stem_motion_entered": "quarter-turn"},
     {"Run-out most, ": 0.05, "Pits, deepest": 0.10, "Taper, most": 0.10, "Follower-box, dia.": 0.50, "Follower-stem": 0.75,
      "Bushing-stem": 0.75}, (5.75, 12.40)),
)  # fmt: skip


@pytest.mark.parametrize(("changed", "wanted", "limits"), ACCEPTED)
def test_each_acceptance_figure_stands_beside_a_box(
    changed: dict[str, float | str], wanted: dict[str, float], limits: tuple[float, float]
) -> None:
    """In mm, in inches where US units stand first (25.4 mm to the inch); the least stem and the widest box beside their own boxes."""
    for edition, unit, inch in ((METRIC, "mm", 1.0), (EDITIONS["US"], "in", 25.4)):
        sheet = job_card.sheet_for_one(worked_out({**VALVE, **changed}), whole(), edition.sets)
        cells = {(cell.row, cell.column): cell for cell in printed(sheet)}
        for title, figure in wanted.items():
            row, column = next(at for at, cell in cells.items() if cell.value in {title, f"{title}{unit}"})
            assert float(shown(cells[row, column + 2])) == pytest.approx(figure / inch, abs=0.0005 if inch > 1 else 0)
            assert (cells[row, column + 3].style, cells[row, column + 3].value) == ("card_box", "")
        for title, figure in zip(("Stem diameter", "Box bore"), limits, strict=True):
            row = next(at[0] for at, cell in cells.items() if cell.value == title)
            assert (cells[row, 4].style, cells[row, 4].value) == ("card_box", "")
            assert float(shown(cells[row, 5])) == pytest.approx(figure / inch, abs=0.0005 if inch > 1 else 0)


#: A handwheel of 200 mm radius on a stem thread of 28 by 5.
HANDWHEEL: Final[dict[str, float | str]] = {
    "stem_thread_diameter_entered": 28.0, "stem_thread_pitch_entered": 5.0, "handwheel_radius_entered": 200.0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "title", "name"),
    [
        ({}, "Stem friction", "stem_friction"),
        (HANDWHEEL, "Pull at rim", "rim_pull"),
        # A typed thrust has seat and pressure in it, so its pull is not that of the packing.
        ({**HANDWHEEL, "stem_thrust_entered": 9000.0}, "Stem friction", "stem_friction"),
    ],
)
def test_a_stiff_stem_has_its_expected_friction(changed: dict[str, float | str], title: str, name: str) -> None:
    """The pull at the rim of the packing alone, else its friction on the stem, in N or in lbf (4.4482216 N, from memory)."""
    typed = {**VALVE, **changed}
    answers = worked_out(typed)
    expected = float(answers[name][0])
    assert "stiff stem (above)" in " ".join(str(value) for value in held(one(typed)).values())
    assert beside(one(typed), f"{title}, N") == pytest.approx(expected)
    in_us = job_card.sheet_for_one(answers, whole(), EDITIONS["US"].sets)
    assert beside(in_us, f"{title}, lbf") == pytest.approx(expected / 4.4482216)


@pytest.mark.parametrize("changed", [{"stud_lubricant": ""}, {"maker_ring_count_entered": 9.0}, {"packing_material": ""}])
def test_friction_is_blank_where_the_torque_is(changed: dict[str, float | str]) -> None:
    """Of a valve that is stopped, or of whose load something is not stated, neither is shown, though a handwheel is typed."""
    sheet = one({**VALVE, **HANDWHEEL, **changed})
    assert (beside(sheet, "Pass 3"), beside(sheet, "Stem friction, N")) == (None, None)
    assert "Pull at rim, N" not in held(sheet).values()


def test_the_leak_test_says_what_with_how_long_and_up_to_what() -> None:
    """The fluid at its pressure, for the minutes of Assumptions, its limit and a box; times of a stroke before and after."""
    sheet = one(VALVE)
    row = next(cell.row for cell in printed(sheet) if cell.value == "FINISH")
    cells = [cell for cell in printed(sheet) if cell.row == row]
    assert [shown(cell) for cell in cells] == [
        "FINISH", "Leak test: fluid at", "10.0 bar", "for 10 min", "none seen, or site rule", "Found", "",
    ]  # fmt: skip
    assert cells[-1].style == "card_box"
    assert [cell.value for cell in printed(sheet) if cell.row == row + 1][:3] == ["Opens | closes, s", "before", "after"]
    in_us = job_card.sheet_for_one(worked_out(US), whole(), EDITIONS["US"].sets)
    assert "600 psi" in [shown(cell) for cell in printed(in_us) if cell.row == row]


def test_long_texts_end_with_where_the_rest_stands() -> None:
    """A text that does not fit ends in dots, and what is said ends in the number of the sentences left out."""
    sheet = one({**WORDY, "stem_diameter_entered": 999999.0, "nose_length_entered": 999999.0, "box_depth_entered": 999999.0})
    texts = [str(value) for value in held(sheet).values()]
    assert "L" * int(card_page.LIMITS["tag"]) + "…" in texts
    assert [text for text in texts if re.search(r"\. And [0-9]+ more: ask the planner\.$", text)] != []


def test_all_that_stops_a_valve_is_on_its_card() -> None:
    """The first sentences stand where the checks speak and the others in the place of the steps; nothing but stops is said."""
    texts = [str(value) for value in held(one(STOPPED)).values()]
    answers = worked_out(STOPPED)
    stops = str(answers["all_stop"][0])
    assert " ".join(text for text in texts if len(text) > 50 and text in stops) == stops
    assert stops.count(". ") == 5
    assert [text for text in texts if "TAKE OUT" in text or "Not judged" in text] == []


def test_long_names_of_rows_of_ones_own_fit() -> None:
    """Gasket and grade named at length in rows of one's own end in dots on the second page."""
    answers = {
        **worked_out(OUT),
        "flange_gasket": np.array(["k" * 90], dtype=object),
        "flange_bolt_grade": np.array(["g" * 50], dtype=object),
    }
    sheet = job_card.sheet_for_one(answers, whole())
    assert {f"{'k' * 60}…", f"{'g' * 20}…"} <= {str(value) for value in held(sheet).values()}
    assert cut(sheet) == []


# --- many cards -------------------------------------------------------------------------------------------------------


def test_cards_are_shared_out_over_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """So many cards stand on a sheet as a spreadsheet takes, the others on further sheets, with a break between two cards."""
    monkeypatch.setattr(job_card, "MOST_ON_A_SHEET", 3)
    sheets = job_card.sheets_for_cards(job_card.WorkingSheet.of(list_layout(*VALVES)), range(7), whole())
    assert [sheet.name for sheet in sheets] == ["Job cards", "Job cards 2", "Job cards 3"]
    assert [len(sheet.breaks) for sheet in sheets] == [2, 2, 0]
    assert {sheet.scale for sheet in sheets} == {100}
    rows = sheets[0].breaks[0]
    assert sheets[0].breaks == (rows, 2 * rows)


def test_cards_stand_before_the_list_which_stays_whole() -> None:
    """The other sheets follow unchanged but for the one that was open, and the workbook opens on the cards."""
    layout = list_layout(*VALVES)
    cards = job_card.with_cards(layout, [2, 0], whole())
    assert [sheet.name for sheet in cards.sheets] == ["Job cards", *(sheet.name for sheet in layout.sheets)]
    assert [sheet.name for sheet in cards.sheets if sheet.active] == ["Job cards"]
    assert cards.names == layout.names
    tags = [cell.value for cell in cards.sheets[0].cells if cell.style == "card_bold"]
    assert tags == ["US-3", "30-HV-20145-A"]


def test_working_read_back_says_what_the_list_has() -> None:
    """The sheet Working of a layout gives the same references and answers as the list has that it was made from."""
    layout = list_layout(*VALVES)
    rows = job_card.WorkingSheet.of(layout)
    assert rows.values["tag"][2] == "US-3"
    place = rows.cell("gland_gap_end", 0)
    first, last = rows.range("gland_gap_end").split(":")
    assert place == first
    assert int(last.rpartition("$")[2]) - int(first.rpartition("$")[2]) == len(VALVES) + 3 - 1
    assert rows.values["gland_gap_end"][0] == pytest.approx(float(worked_out(VALVE)["gland_gap_end"][0]))


# --- workbooks with some of the quantities ----------------------------------------------------------------------------

#: The quantities of a valve that comes out of the line.
_OF_OUT: Final = {quantity.name for quantity in all_quantities() if quantity.part in {"flange", "lift", "removal"}}
#: What a workbook with a card always has: the state and the troubles for the card, the tag for the choice of a valve.
_ALWAYS: Final = {"state", "all_trouble", "tag"}


def in_line(name: str) -> bool:
    """A workbook for valves that stay in the line has this quantity."""
    return name not in _OF_OUT


def bare(name: str) -> bool:
    """A workbook with as little as a card can have, its tables and constants aside, has this quantity."""
    return name in _ALWAYS or isinstance(get(name), (Column, Constant))


def some(there: Callable[[str], bool]) -> Answers:
    """A set with the quantities of which that holds."""
    return Answers("some", frozenset(quantity.name for quantity in all_quantities() if there(quantity.name)))


def named(sheet: Sheet) -> set[str]:
    """The names in the formulas of a sheet, texts aside."""
    bare_texts = (re.sub(r'"(?:[^"]|"")*"', "", cell.formula) for cell in sheet.cells)
    return {name for text in bare_texts for name in re.findall(r"\b[a-z][a-z0-9_]*\b", text)}


class Asked:
    """The sheet Working of a list that has some of the quantities, and which of them were asked for."""

    def __init__(self, layout: Layout, there: Callable[[str], bool]) -> None:
        self.whole = job_card.WorkingSheet.of(layout)
        self.values = {name: held for name, held in self.whole.values.items() if there(name)}
        self.asked: set[str] = set()

    def range(self, name: str) -> str:
        """The whole column of a quantity."""
        self.asked.add(name)
        return self.whole.range(name)

    def cell(self, name: str, position: int) -> str:
        """The cell of a quantity in the row of a valve."""
        self.asked.add(name)
        return self.whole.cell(name, position)


def some_sheets(there: Callable[[str], bool]) -> tuple[tuple[Sheet, ...], set[str]]:
    """The card of one valve, the one that fills itself, and two cards, all of valves that come out; and the names in their formulas."""
    values = {name: held for name, held in worked_out(OUT).items() if there(name)}
    rows = Asked(list_layout(OUT, OUT_US), there)
    single = job_card.sheet_for_one(values, some(there))
    sheets = (single, job_card.sheet_for_list(rows, some(there)), *job_card.sheets_for_cards(rows, range(2), some(there)))
    return sheets, named(single) | {name for sheet in sheets[1:] for name in named(sheet)} | rows.asked


def test_a_card_of_everything_names_the_flange_and_the_lift() -> None:
    """With every quantity there the formulas name those of a valve that comes out, so that the tests below look at something."""
    sheets, names = some_sheets(lambda _name: True)
    assert {"comes_out", "flange_bolt_torque", "check_lift", "leg_tension", "flange_offset_most"} <= names
    assert [len(sheet.breaks) for sheet in sheets] == [1, 1, 3]


def test_a_workbook_for_valves_in_the_line_has_no_second_page() -> None:
    """Without flange, lift and removal no formula names one of theirs, each valve has one page, and nothing speaks of another."""
    sheets, names = some_sheets(in_line)
    assert names & _OF_OUT == set()
    assert [len(sheet.breaks) for sheet in sheets] == [0, 0, 1]
    for sheet in sheets:
        words = " ".join(str(cell.value) for cell in sheet.cells)
        assert [text for text in ("page", "Valve was out", "out of the line", "of flange", "of check lift") if text in words] == []
        assert ("Actuator retest" in words, "of tag" in words) == (True, True)


def test_the_page_is_otherwise_the_same_without_them() -> None:
    """Without flange, lift and removal the first page differs in the digits of its formulas alone."""
    every = one(OUT)
    alone = job_card.sheet_for_one(worked_out(OUT), some(in_line))
    first = [cell for cell in printed(every) if cell.row < every.breaks[0]]
    different = [cell for cell, other in zip(first, printed(alone), strict=True) if cell != other]
    assert [str(cell.value).split()[0] for cell in different] == [f"v{VERSION},"]
    assert alone.heights == {row: height for row, height in every.heights.items() if row < every.breaks[0]}


def test_any_quantity_may_be_missing() -> None:
    """Whichever quantity or constant a card names, one without it does not name it, keeps its rows, and finds its limits."""
    values = worked_out(OUT)
    every = job_card.sheet_for_one(values, whole())
    tried = [
        name for name in named(every) - _ALWAYS if not isinstance(get(name), Column) and name not in {"inch_length", "counting_digits"}
    ]
    assert len(tried) > 100
    for gone in tried:
        there = some(lambda name, gone=gone: name != gone)  # type: ignore[misc]
        sheet = job_card.sheet_for_one({name: held for name, held in values.items() if name != gone}, there)
        assert gone not in named(sheet)
        limits = {address(cell.row, cell.column) for cell in sheet.cells if cell.style == "number"}
        used = {at for cell in sheet.cells for at in re.findall(r"\$O\$\d+", cell.formula)}
        if gone == "comes_out":
            assert (sheet.breaks, used <= limits) == ((), True)
        else:
            assert (sheet.heights, used) == (every.heights, limits)


def test_lines_move_up_where_one_is_missing() -> None:
    """A line whose quantity is missing leaves no hole: those below it move up, and an empty one stands last."""
    values = worked_out(VALVE)
    sheet = job_card.sheet_for_one(values, some(lambda name: name not in {"box_bore", "mandrel_diameter"}))
    titles = [cell.value for cell in printed(sheet) if cell.style == "card_label" and cell.column in {0, 8}]
    assert [text for text in ("Box bore", "Mandrel") if text in titles] == []
    assert titles[titles.index("Stem diameter") + 1] == "Depth, bare bottom"
    assert titles[titles.index("Finger tight") + 1] == "Sleeve OD"
    assert beside(sheet, "Sleeve OD") == float(values["bushing_outside"][0])


@pytest.mark.parametrize("there", [in_line, bare])
def test_a_card_of_some_quantities_is_recalculated_as_stored(there: Callable[[str], bool], tmp_path: Path) -> None:
    """IronCalc finds what is stored on the card of a valve in the line, and on one with as little as a card can have."""
    card = job_card.sheet_for_one(worked_out(VALVE), some(there))
    layout = one_valve.layout(METRIC, VALVE)
    sheets = tuple(sheet for sheet in layout.sheets if sheet.name != job_card.NAME)
    count, different = differences(engine.Book(replace(layout, sheets=(*sheets, card)), tmp_path / "some.xlsx"), card)
    assert different == []
    assert count > 10
    assert cut(card) == []


# --- both engines -----------------------------------------------------------------------------------------------------


def differences(book: engine.Book, sheet: Sheet) -> tuple[int, list[str]]:
    """How many formula cells of a sheet were compared, and where the engine has another answer than is stored."""
    out, count = [], 0
    for row, column, value in engine.formula_cells(sheet):
        count += 1
        found = book.value(sheet.name, row, column)
        if engine.difference(value, found) > engine.TOLERANCE:
            out.append(f"{sheet.name} {row},{column}: expected {value!r}, got {found!r}")
    return count, out


@pytest.mark.parametrize(
    "typed", [VALVES[0], *(pytest.param(typed, marks=pytest.mark.proof) for typed in (*VALVES[1:], LANTERN, LARGE, STOPPED))]
)
def test_the_card_of_one_valve_is_recalculated_as_stored(typed: dict[str, float | str], tmp_path: Path) -> None:
    """IronCalc finds in every formula cell of the card what the core stored there."""
    layout = one_valve.layout(METRIC, typed)
    card = one(typed)
    sheets = tuple(sheet for sheet in layout.sheets if sheet.name != job_card.NAME)
    count, different = differences(engine.Book(replace(layout, sheets=(*sheets, card)), tmp_path / "one.xlsx"), card)
    assert different == []
    assert count > 100


@pytest.mark.proof
@pytest.mark.parametrize("edition", EDITIONS)
def test_the_cards_of_a_list_are_recalculated_as_stored(edition: str, tmp_path: Path) -> None:
    """IronCalc finds what the core stored in every formula cell of seven cards and of the one that fills itself."""
    layout = with_all(*VALVES, edition=edition)
    book = engine.Book(layout, tmp_path / "list.xlsx")
    compared = 0
    for sheet in (layout.sheets[0], layout.sheets[-1]):
        count, different = differences(book, sheet)
        compared += count
        assert different == []
    assert compared > 800


@pytest.mark.proof
def test_the_card_fills_itself_for_the_tag_that_is_chosen(tmp_path: Path) -> None:
    """Another tag typed gives that valve's card, whatever its case; a tag that the list lacks and none at all give a blank one."""
    layout = with_all(*VALVES)
    card = layout.sheets[-1]
    place = len(layout.sheets) - 1
    book = engine.Book(layout, tmp_path / "list.xlsx")
    assert card.selected == (0, 1)

    def now(tag: str) -> dict[tuple[int, int], Any]:
        book.model.update_cell_with_text(place, 1, 2, tag)
        book.recalculate()
        return {(cell.row, cell.column): book.value(card.name, cell.row + 1, cell.column + 1) for cell in printed(card) if cell.formula}

    cards = layout.sheets[0]
    rows = cards.breaks[0]
    for position, tag in ((2, "us-3"), (1, "STOP-1"), (3, "LOOSE")):
        wanted = {
            (cell.row - position * rows + 2, cell.column): cell.value
            for cell in printed(cards)
            if cell.formula and position * rows <= cell.row < (position + 1) * rows
        }
        found = {place: value for place, value in now(tag).items() if place[0] < rows + 2}
        assert found.keys() == wanted.keys()
        assert [at for at, value in wanted.items() if engine.difference(value, found[at]) > engine.TOLERANCE] == []
    for tag in ("NOT-THERE", ""):
        assert [value for value in now(tag).values() if isinstance(value, float)] == []


@pytest.fixture
def libreoffice() -> None:
    """LibreOffice, or a reason to skip."""
    office.require()


@pytest.mark.proof
@pytest.mark.office
@pytest.mark.usefixtures("libreoffice")
@pytest.mark.parametrize("locale", ["en-US", "de-DE"])
def test_libreoffice_recalculates_the_cards_as_stored(locale: str, tmp_path: Path) -> None:
    """LibreOffice finds the same, also with a decimal comma, and for a tag with the signs that stand for any letter."""
    layout = with_all({**VALVE, "tag": "30-HV-1*?~5"}, {**VALVE, "tag": "30-HV-1xx5"}, *VALVES[1:])
    path = tmp_path / "cards.xlsx"
    write(layout, path)
    out = office.recalculate([path], tmp_path / "out", locale=locale)[path.name]
    stored, found = office.stored_values(path), office.formula_values(path, out)
    cards = {"Job cards", "Job card"}
    compared = office.compare(
        {at: value for at, value in stored.items() if at[0] in cards}, {at: value for at, value in found.items() if at[0] in cards}
    )
    assert compared.different == ()
    assert compared.numbers > 300


def pages(layout: Layout, folder: Path) -> int:
    """The pages that LibreOffice prints of a workbook."""
    path = folder / "pages.xlsx"
    write(layout, path)
    with office._profile("en-US", office.ALWAYS) as profile:
        said = office._run(profile, "--convert-to", "pdf", "--outdir", str(folder), str(path))
    pdf = path.with_suffix(".pdf")
    assert pdf.is_file(), said
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf.read_bytes()))


def behind(layout: Layout) -> Layout:
    """The sheets behind the cards cut down to one cell each, since their pages are not looked at."""
    names = {sheet.name for sheet in layout.sheets if sheet.name.startswith("Job card")}
    return replace(
        layout,
        sheets=tuple(
            sheet if sheet.name in names else replace(sheet, print_area=(0, 0, 0, 0), charts=(), repeat_rows=None, repeat_columns=None)
            for sheet in layout.sheets
        ),
    )


@pytest.mark.proof
@pytest.mark.office
@pytest.mark.usefixtures("libreoffice")
@pytest.mark.parametrize("edition", EDITIONS)
def test_seven_cards_are_seven_pages(edition: str, tmp_path: Path) -> None:
    """Each card prints on one page at full size, on A4 and on Letter; the card that fills itself has its second page besides."""
    layout = behind(with_all(*VALVES, edition=edition))
    rest = replace(layout, sheets=tuple(sheet for sheet in layout.sheets if not sheet.name.startswith("Job card")))
    assert pages(layout, tmp_path) - pages(rest, tmp_path) == 7 + 2


@pytest.mark.proof
@pytest.mark.office
@pytest.mark.usefixtures("libreoffice")
@pytest.mark.parametrize("edition", EDITIONS)
def test_a_valve_that_comes_out_has_two_pages(edition: str, tmp_path: Path) -> None:
    """Of three valves the two that come out print on two pages each; so does the card that fills itself."""
    layout = behind(with_all(OUT, VALVE, OUT_US, edition=edition))
    rest = replace(layout, sheets=tuple(sheet for sheet in layout.sheets if not sheet.name.startswith("Job card")))
    assert pages(layout, tmp_path) - pages(rest, tmp_path) == 5 + 2


def second(sheet: Sheet) -> Sheet:
    """The second page of the card of one valve."""
    assert sheet.print_area is not None
    return replace(sheet, print_area=(sheet.breaks[0], *sheet.print_area[1:]))


def test_the_second_page_carries_what_taking_out_needs() -> None:
    """Bolts, the orders, the holding pair, torque and lift; NPS 8 class 300 has 12 bolts of 7/8 in (ASME B16.5, read second-hand)."""
    page = second(one(OUT))
    texts = " ".join(str(cell.value) for cell in printed(page))
    assert beside(page, "Bolts a flange") == 12.0
    assert beside(page, "Thread, tap and die") == "7/8-9 UNC"
    assert beside(page, "Slacken in this order") == "1-2-12-3-11-4-10-5-9-6-8-7"
    assert (beside(page, "Holding pair"), beside(page, "Holding pair", 2)) == (4.0, 10.0)
    assert beside(page, "Tighten in this order") == "1-7-4-10-2-8-5-11-3-9-6-12"
    assert beside(page, "Mass to lift, kg | lb") == 385.0
    for word in (
        "Support valve and both pipe ends",
        "until both joints are seen open",
        "Never sling by stem, yoke or handwheel",
        "New gasket in each joint",
        "oxygen",
        "off-centre",
        "Sling on and taut, then the holding pair",
    ):
        assert word in texts


@pytest.mark.parametrize(("mass", "said"), [(385.0, "HOLD: rigger, lift plan"), (20.0, "HOLD: lifted by hand")])
def test_the_second_page_has_hold_points_of_its_own(mass: float, said: str) -> None:
    """Permit, lift and blanks each have a box to sign; a valve that one person lifts needs no rigger, and its card says so."""
    page = second(one({**OUT, "valve_mass_entered": mass}))
    row = next(cell.row for cell in printed(page) if cell.value == "HOLD: line-break permit")
    cells = [cell for cell in printed(page) if cell.row == row]
    assert [cell.value for cell in cells] == ["HOLD: line-break permit", "", said, "", "HOLD: blanks fitted", ""]
    assert [cell.style for cell in cells] == ["card_label", "card_box"] * 3
    assert ("as typed: lifted by hand" in [cell.value for cell in printed(page)]) == (mass <= 20)


def test_the_second_page_is_blank_for_a_valve_that_stays() -> None:
    """Without a yes the page says that it is not needed and shows no step and no figure, though flange and mass are typed; so on hold."""
    for typed in ({**OUT, "comes_out_entered": "no"}, {**OUT, "comes_out_entered": ""}, {**OUT, "maker_ring_count_entered": 9.0}):
        page = second(one(typed))
        assert [cell.value for cell in printed(page) if isinstance(cell.value, float)] == []
        assert [cell.value for cell in printed(page) if str(cell.value).startswith(("TAKE OUT", "PUT BACK", "CAUTION"))] == []
    assert any("nothing on this page is needed" in str(cell.value) for cell in printed(second(one(VALVE))))


@pytest.mark.proof
def test_the_second_pages_are_recalculated_as_stored(tmp_path: Path) -> None:
    """IronCalc finds the same on the pages of valves that come out and of one that stays."""
    for typed in (OUT, OUT_US, OUT_WORDY, OUT_SIZED, {**OUT, "comes_out_entered": "no"}):
        layout = one_valve.layout(METRIC, typed)
        card = next(sheet for sheet in layout.sheets if sheet.name == job_card.NAME)
        count, different = differences(engine.Book(layout, tmp_path / "one.xlsx"), card)
        assert different == []
        assert count > 150
