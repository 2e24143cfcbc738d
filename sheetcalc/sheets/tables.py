"""The sheet Tables: reference data as printed, each with its source, and the columns that formulas read."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import numpy as np

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import cite
from sheetcalc.sheets import materials
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.layout import Cell, Sheet, address, block
from sheetcalc.sheets.register import Book, Purpose, register
from sheetcalc.sheets.table_blocks import (
    HEAD_ROWS,
    LEFT,
    Block,
    Column,
    floats,
    next_size,
    numbers,
    padded,
    printed,
    stocked,
    texts,
)
from sheetcalc.sheets.table_flanges import flanges
from sheetcalc.sheets.table_studs import studs

NAME: Final = "Tables"
#: The column that formulas read of what is typed in a table, where it is read elsewhere.
_READ_AS: Final = {
    "stocked_sections": "sorted_all_sizes",
    "gland_stud_grades": "grade_names",
    "stud_lubricants": "lubricant_names",
    "gasket_kinds": "gasket_kind_names",
    "gasket_service": "gasket_temperatures",
    "gasket_fluids": "gaskets_fluids",
}
#: Tables that every workbook has: sheets show values in their units.
_OF_UNITS: Final = frozenset({"unit_sets", "unit_factors"})


@cache
def blocks(answers: Answers) -> tuple[Block, ...]:
    """The tables one under the other, those of which the workbook reads a column."""
    card, rows = reference.cards(), reference.STOCK_ROWS
    inch, metric = stocked("inch"), stocked("metric")
    out: list[Block] = []
    at = 4

    def add(name: str, *columns: Column) -> Block:
        nonlocal at
        block = Block(card[name], at, columns)
        read = {_READ_AS.get(name, ""), *(column.name for column in columns)}
        if name in _OF_UNITS or not read.isdisjoint(answers.names):
            out.append(block)
            at = block.last + 3
        return block

    add(
        "unit_sets",
        Column("Unit set", texts("unit_set_names"), "label", "unit_set_names"),
        Column("Length unit", printed("unit_sets", "length_unit"), "label"),
        Column("mm in one", numbers("unit_length_factors"), "number", "unit_length_factors"),
        Column("Stock list", numbers("unit_section_columns"), "number", "unit_section_columns"),
        Column("Spacer step, mm", numbers("unit_spacer_steps"), "number", "unit_spacer_steps"),
        Column("Spacer step, printed", printed("unit_sets", "spacer_step_printed"), "label"),
        Column("Shown to", numbers("unit_rule_steps"), "number", "unit_rule_steps"),
        Column("Stress shown to", numbers("unit_stress_steps"), "number", "unit_stress_steps"),
        *(
            Column(f"Bought by {what}", printed("unit_sets", f"by_{what}"), "label", "order_unit_words")
            for what in ("length", "piece", "mass", "stud")
        ),
    )
    add(
        "unit_factors",
        Column("Unit set", texts("unit_set_names"), "label"),
        *(
            Column(
                f"{name.capitalize()}: {units.shown(coherent)} in one", numbers(f"unit_{name}_factors"), "number", f"unit_{name}_factors"
            )
            for name, coherent in units.COHERENT.items()
            if name != "length"
        ),
        Column("Temperature at 0 °C", numbers("unit_temperature_zeros"), "number", "unit_temperature_zeros"),
    )
    inch_mm = reference.values()["unit_length_factors"][1]
    first = at + HEAD_ROWS
    add(
        "stocked_sections",
        Column("No.", tuple(float(i + 1) for i in range(rows)), "number"),
        Column("Inch list (in)", padded(inch, rows), "entry_fraction"),
        Column(
            "Inch list (mm)",
            tuple(None if v is None else round(float(v) * inch_mm, 6) for v in padded(inch, rows)),
            "working",
            formulas=tuple(
                f'IF(COUNT({address(first + i, 2)})=0,"",ROUND({address(first + i, 2)}*inch_length,counting_digits))' for i in range(rows)
            ),
        ),
        Column("Metric list (mm)", padded(metric, rows), "entry_number"),
    )
    ranges = [block(first, a, first + rows - 1, b) for a, b in ((3, 3), (4, 4), (3, 4))]
    sorted_first = at + HEAD_ROWS
    add(
        "sorted_sections",
        Column("No.", tuple(float(i + 1) for i in range(2 * rows)), "number"),
        *(
            Column(
                head,
                numbers(name),
                "working",
                name,
                tuple(next_size(ranges[i], "" if k == 0 else address(sorted_first + k - 1, 2 + i)) for k in range(2 * rows)),
            )
            for i, (head, name) in enumerate(
                (("Inch list (mm)", "sorted_inch_sizes"), ("Metric list (mm)", "sorted_metric_sizes"), ("Both (mm)", "sorted_all_sizes"))
            )
        ),
    )
    add(
        "section_lists",
        Column("Stock list", texts("section_list_names"), "label", "section_list_names"),
        Column("Sorted column", numbers("section_list_columns"), "number", "section_list_columns"),
        Column("Meaning", printed("section_lists", "meaning"), "label"),
    )
    add(
        "packing_forms",
        Column("Packing form", texts("packing_form_names"), "label", "packing_form_names"),
        Column("Meaning", printed("packing_forms", "meaning"), "label"),
        Column("Bought by: 1 length, 2 piece, 3 mass", numbers("form_kinds"), "number", "form_kinds"),
    )
    add(
        "cut_styles",
        Column("Cut style", texts("cut_style_names"), "label", "cut_style_names"),
        Column("Meaning", printed("cut_styles", "meaning"), "label"),
    )
    inch_threads, metric_threads = reference.printed("threads_inch"), reference.printed("threads_metric")
    add(
        "threads",
        Column("Thread", texts("thread_names"), "label", "thread_names"),
        Column("Series", tuple(r["series"] for r in inch_threads) + ("coarse",) * len(metric_threads), "label"),
        Column(
            "Diameter, printed",
            tuple(f"{r['diameter_in']} in" for r in inch_threads) + tuple(f"{r['diameter_mm']} mm" for r in metric_threads),
            "label",
        ),
        Column("Threads per inch", numbers("thread_per_inch"), "number", "thread_per_inch"),
        Column("Pitch, mm", numbers("thread_pitches"), "number", "thread_pitches"),
        Column("Diameter, mm", numbers("thread_diameters"), "working", "thread_diameters"),
        Column("Tap and die", texts("thread_tap_names"), "label", "thread_tap_names"),
    )
    widths = reference.values()["thread_widths"]
    words = reference.values()["thread_width_words"]
    kinds = ("heavy hex", "hex", "old DIN hex")
    add(
        "nut_widths",
        Column("Thread", texts("thread_names"), "label"),
        *(
            Column(f"{kind[0].upper()}{kind[1:]}, mm", tuple(plain(v) for v in widths[:, i]), "working", "thread_widths")
            for i, kind in enumerate(kinds)
        ),
        *(
            Column(f"{kind[0].upper()}{kind[1:]}, wrench", tuple(words[:, i]), "label", "thread_width_words")
            for i, kind in enumerate(kinds)
        ),
    )
    add(
        "nut_kinds",
        Column("Kind of nut", texts("nut_kind_names"), "label", "nut_kind_names"),
        Column("Column of widths", numbers("nut_kind_columns"), "number", "nut_kind_columns"),
        Column("Meaning", printed("nut_kinds", "meaning"), "label"),
    )
    studs(add)
    for card_name, title, column in (
        ("gland_kinds", "Kind of gland", "gland_kind_names"),
        ("packing_states", "State", "packing_state_names"),
    ):
        add(card_name, Column(title, texts(column), "label", column), Column("Meaning", printed(card_name, "meaning"), "label"))
    add(
        "fluid_kinds",
        Column("Kind of fluid", texts("fluid_kind_names"), "label", "fluid_kind_names"),
        Column("Column of Materials", numbers("fluid_kind_columns"), "number", "fluid_kind_columns"),
        Column("Is a gas", numbers("fluid_kind_gaseous"), "number", "fluid_kind_gaseous"),
        Column("Air reaches it", numbers("fluid_kind_airs"), "number", "fluid_kind_airs"),
        Column("Caution", texts("fluid_kind_cautions"), "label", "fluid_kind_cautions"),
    )
    add(
        "stem_motions",
        Column("Motion of the stem", texts("stem_motion_names"), "label", "stem_motion_names"),
        Column("Slides", numbers("motion_slides"), "number", "motion_slides"),
        Column("Turns", numbers("motion_turns"), "number", "motion_turns"),
        Column("Rings wanted", numbers("motion_rings"), "entry_number", "motion_rings"),
        Column("Meaning", printed("stem_motions", "meaning"), "label"),
    )
    add(
        "yes_no",
        Column("Answer", texts("yes_no_names"), "label", "yes_no_names"),
        Column("Meaning", printed("yes_no", "meaning"), "label"),
    )
    add(
        "log_events",
        Column("Event", texts("log_event_names"), "label", "log_event_names"),
        Column("Meaning", printed("log_events", "meaning"), "label"),
    )
    add(
        "leak_limits",
        Column("Rule", texts("leak_limit_names"), "label", "leak_limit_names"),
        Column("Leak from, ppm", numbers("leak_limit_figures"), "number", "leak_limit_figures"),
        Column("Source", tuple(cite(str(key)).grade.value for key in printed("leak_limits", "source")), "label"),
    )
    add(
        "confidences",
        Column("Confidence", texts("confidence_names"), "label", "confidence_names"),
        Column("Share", floats("confidences", "share"), "number"),
    )
    add(
        "t_values",
        Column("Degrees of freedom", numbers("t_freedoms"), "number", "t_freedoms"),
        *(
            Column(str(head), tuple(plain(v) for v in reference.values()["t_values"][:, i]), "number", "t_values")
            for i, head in enumerate(texts("confidence_names"))
        ),
    )
    flanges(add)
    add("ring_numbers", Column("Rings", numbers("ring_numbers"), "number", "ring_numbers"))
    add(
        "joint_steps",
        Column("From rings", numbers("joint_ring_counts"), "number", "joint_ring_counts"),
        Column("Step, degrees", numbers("joint_steps"), "number", "joint_steps"),
        Column("Joints at", texts("joint_angle_texts"), "label", "joint_angle_texts"),
    )
    return tuple(out)


def names(answers: Answers) -> dict[str, str]:
    """Where each table column that formulas read stands; a name over several columns spans them."""
    out: dict[str, str] = materials.names() if materials.is_in(answers) else {}
    for one in blocks(answers):
        for index, column in enumerate(one.columns):
            if column.name and column.name not in out:
                last = max(i for i, other in enumerate(one.columns) if other.name == column.name)
                out[column.name] = f"{NAME}!{one.place(index, last)}"
    return out


def sheet(answers: Answers) -> Sheet:
    """The sheet."""
    cells: list[Cell] = [
        Cell(0, LEFT, "Tables", "title"),
        Cell(1, LEFT, "Reference data as printed. The boxed cells (▸) are yours to change; keep the rest as it is.", "subtitle"),
        Cell(2, LEFT, "Threads, choices and sizes are looked up letter for letter.", "subtitle"),
    ]
    heights: dict[int, float] = {}
    for one in blocks(answers):
        card = one.card
        cells += [
            Cell(one.row, LEFT, card.title, "heading"),
            Cell(one.row + 1, LEFT, card.note, "text"),
            Cell(one.row + 2, LEFT, f"Source: {card.source.text} ({card.source.grade.value})", "origin"),
            Cell(one.row + 3, LEFT, f"Checked with: {card.checked_with}.", "origin"),
        ]
        heights[one.first - 1] = 28.0
        for index, column in enumerate(one.columns, start=LEFT):
            cells.append(Cell(one.first - 1, index, column.head, "head"))
            for row, value in enumerate(column.values, start=one.first):
                # An empty cell counts as 0 where formulas read it, so that what is blank is an empty text.
                blank = '""' if column.name and (value is None or value == "") else ""
                formula = column.formulas[row - one.first] if column.formulas else blank
                cells.append(Cell(row, index, "" if formula and value is None else value, column.style, formula))
        if card.editable:
            cells += [Cell(row, 0, "▸", "mark") for row in range(one.first, one.last + 1)]
    return Sheet(
        NAME,
        tuple(cells),
        widths={0: 3, 1: 22, 2: 17, 3: 19, 4: 17, 5: 17, 6: 22, 7: 30, 8: 17, 9: 17, 10: 17},
        heights=heights,
        print_area=(0, 0, blocks(answers)[-1].last, 10),
        footer=NAME,
        freeze=(3, 0),
    )


def frozen_columns() -> dict[str, Any]:
    """The values of each named column, for the copy that Self-check keeps: texts, numbers, or a block."""
    return {name: np.asarray(value) if not isinstance(value, list) else value for name, value in reference.values().items()}


for _book in (Book.ONE, Book.LIST):
    register(
        _book,
        NAME,
        200,
        Purpose.AUDIT,
        "stocked sections, grades and lubricants (yours to change), threads, choices",
        lambda book: sheet(book.edition.answers),
    )
register(Book.FOLLOW, NAME, 200, Purpose.AUDIT, "leak limits, confidence, events and units", lambda book: sheet(book.edition.answers))
