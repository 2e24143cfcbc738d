"""The sheet Tables: reference data as printed, each with its source, and the columns that formulas read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

import numpy as np

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import cite
from sheetcalc.sheets import materials
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.layout import Cell, Sheet, Value, address, block

NAME = "Tables"
_LEFT: Final = 1
#: Title, note, source, how it was checked, and the heads of the columns.
_HEAD_ROWS: Final = 5
#: Lengths of a flange: head, column of the CSV in inches, and the column in mm that formulas read.
FLANGE_LENGTHS: Final = (
    ("Stud length", "stud_length_in", "flange_stud_lengths"),
    ("Flange outside", "outside_in", "flange_outsides"),
    ("Bolt circle", "bolt_circle_in", "flange_bolt_circles"),
)


@dataclass(frozen=True)
class _Column:
    """A column of a block: its head, its values, how it looks, and the name that formulas know it by."""

    head: str
    values: tuple[Value, ...]
    style: str
    name: str = ""
    formulas: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Block:
    card: reference.Card
    row: int
    columns: tuple[_Column, ...]

    @property
    def first(self) -> int:
        return self.row + _HEAD_ROWS

    @property
    def last(self) -> int:
        return self.first + len(self.columns[0].values) - 1

    def place(self, index: int, to: int | None = None) -> str:
        """The address of a column of the block, or of several beside each other."""
        return block(self.first, _LEFT + index, self.last, _LEFT + (index if to is None else to))


def _printed(table: str, field: str) -> tuple[Value, ...]:
    return tuple(row[field] for row in reference.printed(table))


def _numbers(name: str) -> tuple[Value, ...]:
    return tuple(plain(value) for value in reference.values()[name])


def _texts(name: str) -> tuple[Value, ...]:
    return tuple(reference.values()[name])


def stocked(unit: str) -> tuple[Value, ...]:
    """The stock list of inch or of metric sizes as printed."""
    return _floats(*{"inch": ("stocked_inch", "size_in"), "metric": ("stocked_metric", "size_mm")}[unit])


def padded(values: tuple[Value, ...], rows: int) -> tuple[Value, ...]:
    """A column made up to a number of rows with blanks."""
    return values + (None,) * (rows - len(values))


def _floats(table: str, field: str) -> tuple[Value, ...]:
    return tuple(float(row[field]) for row in reference.printed(table))


def next_size(sizes: str, before: str) -> str:
    """The smallest size above the one before it, so that a size on both lists stands once: engines differ on doubles."""
    if not before:
        return f'IFERROR(SMALL({sizes},1),"")'
    return f'IFERROR(SMALL({sizes},1+SUMPRODUCT(({sizes}<>"")*({sizes}<={before}))),"")'


def _read(typed: _Block, index: int, test: str) -> tuple[str, ...]:
    """Formulas that hand on what stands in a column of boxed cells, and leave blank what is none: an empty cell would count as 0."""
    cells = [address(row, _LEFT + index) for row in range(typed.first, typed.last + 1)]
    return tuple(f'IF({test}({cell}),{cell},"")' for cell in cells)


def _read_yes(typed: _Block, index: int) -> tuple[str, ...]:
    """Formulas that make 1 of yes and 0 of no."""
    cells = [address(row, _LEFT + index) for row in range(typed.first, typed.last + 1)]
    return tuple(f'IF({cell}="yes",1,IF({cell}="no",0,""))' for cell in cells)


def _figures(table: str, field: str) -> tuple[Value, ...]:
    """Printed figures, None where none is printed."""
    return tuple(plain(reference.figure(row[field])) for row in reference.printed(table))


def _flanges(add: Callable[..., _Block]) -> None:
    """The blocks of flanged valves: flanges and their bolts, gaskets, choices, orders, hours."""
    values = reference.values()
    add("flange_sizes",
        _Column("Size", _texts("flange_size_names"), "label", "flange_size_names"),
        _Column("Raised face, mm", _numbers("raised_face_diameters"), "number", "raised_face_diameters"),
        _Column("Pipe outside, in", _figures("flange_sizes", "pipe_outside_in"), "number"),
        _Column("Pipe outside, mm", _numbers("flat_gasket_inners"), "working", "flat_gasket_inners"))  # fmt: skip
    add("flange_classes", _Column("Class", _numbers("flange_classes"), "number", "flange_classes"))
    add("flanges",
        _Column("Flange", _texts("flange_keys"), "label", "flange_keys"),
        _Column("Bolts", _numbers("flange_counts"), "number", "flange_counts"),
        _Column("Thread", _texts("flange_threads"), "label", "flange_threads"),
        *(_Column(f"{head}, in", _figures("flanges", field), "number") for head, field, _name in FLANGE_LENGTHS),
        _Column("Remark", _printed("flanges", "remark"), "label"),
        *(_Column(f"{head}, mm", _numbers(name), "working", name) for head, _field, name in FLANGE_LENGTHS))  # fmt: skip
    add("spiral_gaskets",
        _Column("Flange", _texts("spiral_keys"), "label", "spiral_keys"),
        _Column("Inner ring, inside, mm", _figures("spiral_gaskets", "d1_mm"), "number"),
        _Column("Winding, inside, mm", _numbers("spiral_inners"), "number", "spiral_inners"),
        _Column("Winding, outside, mm", _numbers("spiral_outers"), "number", "spiral_outers"),
        _Column("Centring ring, outside, mm", _figures("spiral_gaskets", "d4_mm"), "number"))  # fmt: skip
    add("flat_gaskets",
        _Column("Flange", _texts("flat_keys"), "label", "flat_keys"),
        _Column("Outside, in", _figures("flat_gaskets", "outside_in"), "number"),
        _Column("Outside, mm", _numbers("flat_outers"), "working", "flat_outers"))  # fmt: skip
    kinds, own = reference.printed("gasket_kinds"), reference.OWN_GASKETS
    heads = ("Least stress, MPa", "Greatest stress, MPa", "Factor m", "Seating stress y, MPa")
    typed = add("gasket_kinds",
        _Column("Kind of gasket", _texts("gasket_kind_names"), "entry_text"),
        _Column("Form: spiral or flat", _texts("gasket_forms"), "entry_text"),
        *(_Column(head, _numbers(name), "entry_number") for head, name in zip(heads, reference.GASKET_FIGURES.values(), strict=True)),
        _Column("m and y from", ("your own",) * own + tuple(cite(row["factor_source"]).grade.value for row in kinds), "label"))  # fmt: skip
    add("gasket_kinds_read",
        _Column("Kind of gasket", _texts("gasket_kind_names"), "working_text", "gasket_kind_names", _read(typed, 0, "ISTEXT")),
        _Column("Form", _texts("gasket_forms"), "working_text", "gasket_forms", _read(typed, 1, "ISTEXT")),
        *(_Column(head, _numbers(name), "working", name, _read(typed, 2 + i, "ISNUMBER"))
          for i, (head, name) in enumerate(zip(heads, reference.GASKET_FIGURES.values(), strict=True))))  # fmt: skip
    add("flange_facings",
        _Column("Facing", _texts("flange_facing_names"), "label", "flange_facing_names"),
        _Column("Bolts by size and class", _numbers("facing_drillings"), "number", "facing_drillings"),
        _Column("Torque worked out", _numbers("facing_torques"), "number", "facing_torques"),
        _Column("Meaning", _printed("flange_facings", "meaning"), "label"))  # fmt: skip
    add("flange_materials",
        _Column("Material", _texts("flange_material_names"), "label", "flange_material_names"),
        _Column("Torque worked out", _numbers("material_torques"), "number", "material_torques"),
        _Column("Meaning", _printed("flange_materials", "meaning"), "label"))  # fmt: skip
    crossed = values["bolt_cross_orders"]
    add("bolt_orders",
        _Column("Bolts", _numbers("bolt_order_counts"), "number", "bolt_order_counts"),
        _Column("Tightening, crosswise", _texts("bolt_cross_texts"), "label", "bolt_cross_texts"))  # fmt: skip
    add("slacken_orders",
        _Column("Bolts", _numbers("bolt_order_counts"), "number"),
        _Column("Slackening, far side first", _texts("bolt_slacken_texts"), "label", "bolt_slacken_texts"))  # fmt: skip
    add("bolt_places",
        _Column("Bolts", _numbers("bolt_order_counts"), "number"),
        *(_Column(f"Place {i + 1}", tuple(plain(v) for v in crossed[:, i]), "number", "bolt_cross_orders")
          for i in range(crossed.shape[1])))  # fmt: skip
    for name, row in (("bolt_up_hours", "bolt_up_row"), ("handling_hours", "handling_row")):
        add(name,
            _Column("Size", _texts("flange_size_names"), "label"),
            *(_Column(f"Class {one:g}, h", tuple(plain(v) for v in values[name][:, i]), "number", name)
              for i, one in enumerate(values["flange_classes"])),
            _Column("Printed row, NPS", _printed("removal_hours", row), "label"))  # fmt: skip


#: The column that formulas read of what is typed in a table, where it is read elsewhere.
_READ_AS: Final = {
    "stocked_sections": "sorted_all_sizes", "gland_stud_grades": "grade_names", "stud_lubricants": "lubricant_names",
    "gasket_kinds": "gasket_kind_names",
}  # fmt: skip
#: Tables that every workbook has: sheets show values in their units.
_OF_UNITS: Final = frozenset({"unit_sets", "unit_factors"})


@cache
def blocks(answers: Answers) -> tuple[_Block, ...]:
    """The tables one under the other, those of which the workbook reads a column."""
    card, rows = reference.cards(), reference.STOCK_ROWS
    inch, metric = stocked("inch"), stocked("metric")
    out: list[_Block] = []
    at = 4

    def add(name: str, *columns: _Column) -> _Block:
        nonlocal at
        block = _Block(card[name], at, columns)
        read = {_READ_AS.get(name, ""), *(column.name for column in columns)}
        if name in _OF_UNITS or not read.isdisjoint(answers.names):
            out.append(block)
            at = block.last + 3
        return block

    add("unit_sets",
        _Column("Unit set", _texts("unit_set_names"), "label", "unit_set_names"),
        _Column("Length unit", _printed("unit_sets", "length_unit"), "label"),
        _Column("mm in one", _numbers("unit_length_factors"), "number", "unit_length_factors"),
        _Column("Stock list", _numbers("unit_section_columns"), "number", "unit_section_columns"),
        _Column("Spacer step, mm", _numbers("unit_spacer_steps"), "number", "unit_spacer_steps"),
        _Column("Spacer step, printed", _printed("unit_sets", "spacer_step_printed"), "label"),
        *(_Column(f"Bought by {what}", _printed("unit_sets", f"by_{what}"), "label", "order_unit_words")
          for what in ("length", "piece", "mass")))  # fmt: skip
    add("unit_factors",
        _Column("Unit set", _texts("unit_set_names"), "label"),
        *(_Column(f"{name.capitalize()}: {units.shown(coherent)} in one", _numbers(f"unit_{name}_factors"), "number",
        f"unit_{name}_factors")
          for name, coherent in units.COHERENT.items() if name != "length"),
        _Column("Temperature at 0 °C", _numbers("unit_temperature_zeros"), "number", "unit_temperature_zeros"))  # fmt: skip
    inch_mm = reference.values()["unit_length_factors"][1]
    first = at + _HEAD_ROWS
    add("stocked_sections",
        _Column("No.", tuple(float(i + 1) for i in range(rows)), "number"),
        _Column("Inch list (in)", padded(inch, rows), "entry_fraction"),
        _Column("Inch list (mm)", tuple(None if v is None else round(float(v) * inch_mm, 6) for v in padded(inch, rows)), "working",
                formulas=tuple(f'IF(COUNT({address(first + i, 2)})=0,"",ROUND({address(first + i, 2)}*inch_length,counting_digits))'
                               for i in range(rows))),
        _Column("Metric list (mm)", padded(metric, rows), "entry_number"))  # fmt: skip
    ranges = [block(first, a, first + rows - 1, b) for a, b in ((3, 3), (4, 4), (3, 4))]
    sorted_first = at + _HEAD_ROWS
    add("sorted_sections",
        _Column("No.", tuple(float(i + 1) for i in range(2 * rows)), "number"),
        *(_Column(head, _numbers(name), "working", name,
                  tuple(next_size(ranges[i], "" if k == 0 else address(sorted_first + k - 1, 2 + i)) for k in range(2 * rows)))
          for i, (head, name) in enumerate((("Inch list (mm)", "sorted_inch_sizes"), ("Metric list (mm)", "sorted_metric_sizes"),
                                            ("Both (mm)", "sorted_all_sizes")))))  # fmt: skip
    add("section_lists",
        _Column("Stock list", _texts("section_list_names"), "label", "section_list_names"),
        _Column("Sorted column", _numbers("section_list_columns"), "number", "section_list_columns"),
        _Column("Meaning", _printed("section_lists", "meaning"), "label"))  # fmt: skip
    add("packing_forms",
        _Column("Packing form", _texts("packing_form_names"), "label", "packing_form_names"),
        _Column("Meaning", _printed("packing_forms", "meaning"), "label"),
        _Column("Bought by: 1 length, 2 piece, 3 mass", _numbers("form_kinds"), "number", "form_kinds"))  # fmt: skip
    add("cut_styles",
        _Column("Cut style", _texts("cut_style_names"), "label", "cut_style_names"),
        _Column("Meaning", _printed("cut_styles", "meaning"), "label"))  # fmt: skip
    inch_threads, metric_threads = reference.printed("threads_inch"), reference.printed("threads_metric")
    add("threads",
        _Column("Thread", _texts("thread_names"), "label", "thread_names"),
        _Column("Series", tuple(r["series"] for r in inch_threads) + ("coarse",) * len(metric_threads), "label"),
        _Column("Diameter, printed",
                tuple(f"{r['diameter_in']} in" for r in inch_threads) + tuple(f"{r['diameter_mm']} mm" for r in metric_threads),
                "label"),
        _Column("Threads per inch", _numbers("thread_per_inch"), "number", "thread_per_inch"),
        _Column("Pitch, mm", _numbers("thread_pitches"), "number", "thread_pitches"),
        _Column("Diameter, mm", _numbers("thread_diameters"), "working", "thread_diameters"),
        _Column("Tap and die", _texts("thread_tap_names"), "label", "thread_tap_names"))  # fmt: skip
    widths = reference.values()["thread_widths"]
    words = reference.values()["thread_width_words"]
    kinds = ("heavy hex", "hex", "old DIN hex")
    add("nut_widths",
        _Column("Thread", _texts("thread_names"), "label"),
        *(_Column(f"{kind[0].upper()}{kind[1:]}, mm", tuple(plain(v) for v in widths[:, i]), "working", "thread_widths") for i,
        kind in enumerate(kinds)),
        *(_Column(f"{kind[0].upper()}{kind[1:]}, wrench", tuple(words[:, i]), "label", "thread_width_words") for i,
        kind in enumerate(kinds)))  # fmt: skip
    add("nut_kinds",
        _Column("Kind of nut", _texts("nut_kind_names"), "label", "nut_kind_names"),
        _Column("Column of widths", _numbers("nut_kind_columns"), "number", "nut_kind_columns"),
        _Column("Meaning", _printed("nut_kinds", "meaning"), "label"))  # fmt: skip
    grades, lubricants = reference.printed("gland_stud_grades"), reference.printed("stud_lubricants")
    own = reference.OWN_GRADES
    typed = add("gland_stud_grades",
        _Column("Grade", ("",) * own + tuple(r["grade"] for r in grades), "entry_text"),
        _Column("Sizes", ("",) * own + tuple(r["sizes"] for r in grades), "entry_text"),
        *(_Column(head, (None,) * own + tuple(plain(reference.figure(r[key])) for r in grades), "entry_number")
          for key, head in (("over_mm", "Over, mm"), ("to_mm", "Up to, mm"), ("tensile_mpa", "Tensile, MPa"), ("yield_mpa", "Yield, MPa"))),
        _Column("Source", ("your own",) * own + tuple(f"{cite(r['source']).grade.value}" for r in grades), "label"))  # fmt: skip
    add("grades_read",
        _Column("Grade", _texts("grade_names"), "working_text", "grade_names", _read(typed, 0, "ISTEXT")),
        _Column("No.", _numbers("grade_numbers"), "number", "grade_numbers"),
        *(_Column(head, _numbers(name), "working", name, _read(typed, 2 + i, "ISNUMBER"))
          for i, (name, head) in enumerate(zip(reference.GRADE_FIGURES.values(), ("Over, mm", "Up to, mm", "Tensile, MPa", "Yield, MPa"),
                                               strict=True))))  # fmt: skip
    own = reference.OWN_LUBRICANTS
    heads = ("Nut factor, low", "Nut factor", "Nut factor, high", "Thread friction", "Nut friction")
    typed = add("stud_lubricants",
        _Column("Lubricant", ("",) * own + tuple(r["name"] for r in lubricants), "entry_text"),
        *(_Column(head, (None,) * own + tuple(float(r[key]) for r in lubricants), "entry_number")
          for key, head in zip(reference.LUBRICANT_FIGURES, heads, strict=True)),
        _Column("For oxygen (yes or no)", ("",) * own + tuple(r["for_oxygen"] for r in lubricants), "entry_text"))  # fmt: skip
    add("lubricants_read",
        _Column("Lubricant", _texts("lubricant_names"), "working_text", "lubricant_names", _read(typed, 0, "ISTEXT")),
        *(_Column(head, _numbers(name), "working", name, _read(typed, 1 + i, "ISNUMBER"))
          for i, (name, head) in enumerate(zip(reference.LUBRICANT_FIGURES.values(), heads, strict=True))),
        _Column("For oxygen", _numbers("lubricants_for_oxygen"), "working", "lubricants_for_oxygen", _read_yes(typed, 6)))  # fmt: skip
    for card_name, title, column in (
        ("gland_kinds", "Kind of gland", "gland_kind_names"),
        ("packing_states", "State", "packing_state_names"),
    ):
        add(card_name, _Column(title, _texts(column), "label", column), _Column("Meaning", _printed(card_name, "meaning"), "label"))
    add("fluid_kinds",
        _Column("Kind of fluid", _texts("fluid_kind_names"), "label", "fluid_kind_names"),
        _Column("Column of Materials", _numbers("fluid_kind_columns"), "number", "fluid_kind_columns"),
        _Column("Caution", _texts("fluid_kind_cautions"), "label", "fluid_kind_cautions"))  # fmt: skip
    add("stem_motions",
        _Column("Motion of the stem", _texts("stem_motion_names"), "label", "stem_motion_names"),
        _Column("Slides", _numbers("motion_slides"), "number", "motion_slides"),
        _Column("Turns", _numbers("motion_turns"), "number", "motion_turns"),
        _Column("Meaning", _printed("stem_motions", "meaning"), "label"))  # fmt: skip
    add("yes_no",
        _Column("Answer", _texts("yes_no_names"), "label", "yes_no_names"),
        _Column("Meaning", _printed("yes_no", "meaning"), "label"))  # fmt: skip
    add("log_events",
        _Column("Event", _texts("log_event_names"), "label", "log_event_names"),
        _Column("Meaning", _printed("log_events", "meaning"), "label"))  # fmt: skip
    add("leak_limits",
        _Column("Rule", _texts("leak_limit_names"), "label", "leak_limit_names"),
        _Column("Leak from, ppm", _numbers("leak_limit_figures"), "number", "leak_limit_figures"),
        _Column("Source", tuple(cite(str(key)).grade.value for key in _printed("leak_limits", "source")), "label"))  # fmt: skip
    add("confidences",
        _Column("Confidence", _texts("confidence_names"), "label", "confidence_names"),
        _Column("Share", _floats("confidences", "share"), "number"))  # fmt: skip
    add("t_values",
        _Column("Degrees of freedom", _numbers("t_freedoms"), "number", "t_freedoms"),
        *(_Column(str(head), tuple(plain(v) for v in reference.values()["t_values"][:, i]), "number", "t_values")
          for i, head in enumerate(_texts("confidence_names"))))  # fmt: skip
    _flanges(add)
    add("joint_steps",
        _Column("From rings", _numbers("joint_ring_counts"), "number", "joint_ring_counts"),
        _Column("Step, degrees", _numbers("joint_steps"), "number", "joint_steps"),
        _Column("Joints at", _texts("joint_angle_texts"), "label", "joint_angle_texts"))  # fmt: skip
    add("inch_parts",
        _Column("Sixteenths", tuple(float(i) for i in range(16)), "number"),
        _Column("Read as", _texts("inch_part_names"), "label", "inch_part_names"))  # fmt: skip
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
        Cell(0, _LEFT, "Tables", "title"),
        Cell(1, _LEFT, "Reference data as printed. The boxed cells (▸) are yours to change; keep the rest as it is.", "subtitle"),
        Cell(2, _LEFT, "Threads, choices and sizes are looked up letter for letter.", "subtitle"),
    ]
    heights: dict[int, float] = {}
    for one in blocks(answers):
        card = one.card
        cells += [
            Cell(one.row, _LEFT, card.title, "heading"),
            Cell(one.row + 1, _LEFT, card.note, "text"),
            Cell(one.row + 2, _LEFT, f"Source: {card.source.text} ({card.source.grade.value})", "origin"),
            Cell(one.row + 3, _LEFT, f"Checked with: {card.checked_with}.", "origin"),
        ]  # fmt: skip
        heights[one.first - 1] = 28.0
        for index, column in enumerate(one.columns, start=_LEFT):
            cells.append(Cell(one.first - 1, index, column.head, "head"))
            for row, value in enumerate(column.values, start=one.first):
                # An empty cell counts as 0 where formulas read it, so that what is blank is an empty text.
                blank = '""' if column.name and (value is None or value == "") else ""
                formula = column.formulas[row - one.first] if column.formulas else blank
                cells.append(Cell(row, index, "" if formula and value is None else value, column.style, formula))
        if card.editable:
            cells += [Cell(row, 0, "▸", "mark") for row in range(one.first, one.last + 1)]
    return Sheet(
        NAME, tuple(cells), widths={0: 3, 1: 22, 2: 17, 3: 19, 4: 17, 5: 17, 6: 22, 7: 30}, heights=heights,
        print_area=(0, 0, blocks(answers)[-1].last, 7), footer=NAME, freeze=(3, 0),
    )  # fmt: skip


def frozen_columns() -> dict[str, Any]:
    """The values of each named column, for the copy that Self-check keeps: texts, numbers, or a block."""
    return {name: np.asarray(value) if not isinstance(value, list) else value for name, value in reference.values().items()}
