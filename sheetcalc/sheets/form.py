"""What the sheets of one valve share: which entries and answers stand where, and the cells that a person types into."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from sheetcalc import units
from sheetcalc.calculations.answers import Answers
from sheetcalc.declare.quantity import Quantity, get
from sheetcalc.sheets.common import plain, unit_in, unit_shown
from sheetcalc.sheets.edition import Edition, choices_of, entry_style, entry_title, prompt
from sheetcalc.sheets.layout import Cell, Validation
from sheetcalc.sheets.out_groups import OUT_GROUPS
from sheetcalc.sheets.usable import look_of, usable_in, usable_value

VALVE, LOAD, OUT_AND_BACK = "Valve", "Load", "Remove and refit"
#: Columns: mark, title, entry, unit and hint; then the answers.
MARK, TITLE, ENTRY, UNIT, HINT, OUT, MM, INCHES = 0, 1, 2, 3, 4, 6, 7, 8
#: The first row below the heads.
FIRST: Final = 5

#: Entries in the order in which a person measures, under the headings of the sheet.
ENTRY_GROUPS: Final = (
    (
        "Measure these",
        (
            "tag",
            "unit_set",
            "stem_diameter_entered",
            "box_bore_entered",
            "box_depth_entered",
            "nose_length_entered",
            "gland_stud_thread",
            "packing_form_entered",
            "maker_ring_count_entered",
        ),
    ),
    (
        "Where it applies",
        (
            "lantern_length_entered",
            "port_depth_entered",
            "port_diameter_entered",
            "made_ring_height_entered",
            "cut_style_entered",
            "section_list_entered",
            "stud_spacing_entered",
            "gap_reading_1_entered",
            "gap_reading_2_entered",
            "gap_reading_distance_entered",
        ),
    ),
    (
        "For this valve only, instead of Assumptions",
        (
            "preferred_ring_count_entered",
            "set_compression_entered",
            "seating_compression_entered",
            "least_take_up_entered",
            "least_entry_floor_entered",
            "least_entry_share_entered",
            "spacer_step_entered",
            "length_allowance_entered",
            "waste_share_entered",
        ),
    ),
)
#: The same for load and stem, on a sheet of their own.
LOAD_GROUPS: Final = (
    (
        "Service and packing",
        (
            "place",
            "fluid",
            "isolation_points",
            "fluid_kind_entered",
            "line_pressure_entered",
            "fluid_temperature_entered",
            "fluid_ph_entered",
            "stem_motion_entered",
            "packing_material",
            "packing_state_entered",
        ),
    ),
    (
        "Gland and studs",
        (
            "gland_kind_entered",
            "gland_stud_count_entered",
            "gland_stud_grade",
            "stud_lubricant",
            "gland_nut_kind_entered",
            "stud_thread_left_entered",
        ),
    ),
    (
        "Stem thread and handwheel",
        (
            "stem_thread_diameter_entered",
            "stem_thread_pitch_entered",
            "handwheel_radius_entered",
            "collar_diameter_entered",
            "stem_thrust_entered",
        ),
    ),
    (
        "For this valve only, instead of Materials and Assumptions",
        (
            "least_gland_stress_entered",
            "most_gland_stress_entered",
            "pressure_factor_entered",
            "nut_factor_entered",
            "stem_friction_factor_entered",
            "box_friction_factor_entered",
            "lateral_ratio_entered",
            "least_bottom_share_entered",
            "stem_thread_starts_entered",
            "stem_thread_friction_entered",
            "stem_thread_angle_entered",
            "collar_friction_entered",
            "most_rim_pull_entered",
        ),
    ),
)
ANSWERS: Final = (
    ("Section", ("packing_section", "stocked_section", "ring_height", "section_advice")),
    (
        "Rings and spacer",
        (
            "rings_that_fit",
            "rings_least",
            "rings_most",
            "ring_count",
            "maker_count_difference",
            "spacer_height",
            "spacer_advice",
            "start_entry",
            "rings_above_lantern",
            "rings_below_lantern",
            "lantern_error_seated",
            "lantern_error_set",
        ),
    ),
    ("Gland gap", ("gland_gap_start", "compression_travel", "gland_gap_end", "least_take_up", "follower_state")),
    ("Cutting", ("cut_length", "tip_length", "bulk_length", "joint_gap_bound", "joint_step", "joint_angles")),
    ("Nuts and follower", ("advance_per_flat", "flats_to_compress", "nut_turns", "follower_tilt", "flats_to_even")),
)
CHECKS: Final = ("check_section", "check_rings", "check_gap", "check_cut", "check_tilt")
#: Answers of the sheet Load.
LOAD_ANSWERS: Final = (
    (
        "Packing against the service",
        (
            "material_verdict",
            "fluid_temperature",
            "material_temperature_low",
            "material_temperature_high",
            "line_pressure",
            "material_pressure_high",
            "fluid_ph",
            "material_ph_low",
            "material_ph_high",
            "fluid_kind",
            "material_fluid_words",
            "stem_motion",
            "material_motion_words",
            "material_origin",
        ),
    ),
    (
        "Gland load",
        ("annulus_area", "least_gland_stress", "pressure_stress", "gland_stress", "most_gland_stress", "most_stress_words", "gland_load"),
    ),
    (
        "Studs and torque",
        (
            "stud_load",
            "stud_area",
            "stud_stress",
            "stud_tensile",
            "stud_yield",
            "stud_stress_limit",
            "stud_stress_share",
            "nut_factor_low",
            "nut_factor",
            "nut_factor_high",
            "stud_torque",
            "stud_load_low",
            "stud_load_high",
            "stud_yield_share",
            "stud_torque_long",
            "torque_forms_ratio",
            "stud_thread_spare",
        ),
    ),
    (
        "Stress down the stack",
        (
            "set_height",
            "bottom_stress_ratio",
            "bottom_stress",
            "bottom_stress_over_pressure",
            "stress_for_bottom",
            "bottom_ratio_difference",
            "rings_useful",
            "stack_words",
        ),
    ),
    (
        "Stem and handwheel, packing alone unless a thrust is typed",
        (
            "stem_friction_uniform",
            "stem_friction",
            "pressure_thrust",
            "stem_thrust",
            "stem_turn_torque",
            "handwheel_torque",
            "screw_efficiency",
            "rim_pull",
            "rim_pull_share",
        ),
    ),
    (
        "Tools and packing",
        (
            "wrench_words",
            "wrench_old_words",
            "tap_and_die",
            "mandrel_diameter",
            "bushing_outside",
            "bushing_inside",
            "bushing_length",
            "hook_reach",
            "hook_thickness",
            "packing_volume",
            "packing_mass",
            "metre_mass",
            "loose_fills",
        ),
    ),
)
LOAD_CHECKS: Final = ("check_material", "check_studs", "check_stack", "check_stem", "check_tools")
#: The same for a valve that comes out of the line.
FORMS: Final = ((VALVE, ENTRY_GROUPS), (LOAD, LOAD_GROUPS), (OUT_AND_BACK, OUT_GROUPS))


Groups = tuple[tuple[str, tuple[str, ...]], ...]


def there(groups: Sequence[tuple[str, Sequence[str]]], answers: Answers) -> Groups:
    """Groups of names as far as a workbook has them: no heading stands alone."""
    held = ((head, tuple(name for name in names if name in answers)) for head, names in groups)
    return tuple((head, names) for head, names in held if names)


def entry_places(answers: Answers) -> dict[str, tuple[str, int, int]]:
    """The sheet, row and column of each entry cell."""
    places: dict[str, tuple[str, int, int]] = {}
    for sheet, groups in FORMS:
        row = FIRST
        for _head, entries in there(groups, answers):
            row += 1
            for name in entries:
                places[name] = (sheet, row, ENTRY)
                row += 1
    missing = set(answers.entries()) - set(places)
    if missing:
        message = f"no place on the sheets {', '.join(sheet for sheet, _groups in FORMS)} for {', '.join(sorted(missing))}"
        raise KeyError(message)
    return places


def entry_cells(
    groups: Sequence[tuple[str, Sequence[str]]], edition: Edition, typed: Mapping[str, float | str], values: Mapping[str, Any]
) -> tuple[list[Cell], list[Validation]]:
    """The entry cells of a sheet under their headings, each with its unit, what it is, and its choices."""
    cells: list[Cell] = []
    validations: list[Validation] = []
    row = FIRST
    for head, entries in there(groups, edition.answers):
        cells += [Cell(row, column, head if column == TITLE else "", "band") for column in range(TITLE, HINT + 1)]
        row += 1
        for name in entries:
            quantity = get(name)
            cells += [
                Cell(row, MARK, "▸", "mark"),
                Cell(row, TITLE, entry_title(quantity), "label"),
                Cell(row, ENTRY, typed.get(name, ""), entry_style(quantity, edition)),
                _unit_cell(row, quantity, values),
                Cell(row, HINT, quantity.sentence.replace(", as typed.", "."), "hint"),
            ]
            validations.append(
                Validation(
                    row, ENTRY, row, ENTRY, choices=choices_of(name), prompt_title=entry_title(quantity)[:32], prompt=prompt(quantity)
                )
            )
            row += 1
    return cells, validations


def _unit_cell(row: int, quantity: Quantity, values: Mapping[str, Any]) -> Cell:
    """The unit of an entry follows the unit set that is typed."""
    if quantity.dimension is None:
        plain_unit = "share" if quantity.name in SHARES else unit_shown(quantity) if quantity.unit not in {"", "1"} else ""
        return Cell(row, UNIT, plain_unit, "label")
    known = values["unit_row"][0] == values["unit_row"][0]
    words = [unit_in(quantity, one) for one in units.UNIT_SETS]
    value = words[int(values["unit_row"][0]) - 1] if known else "?"
    return Cell(row, UNIT, value, "label", f'IF(COUNT(unit_row)=0,"?",CHOOSE(unit_row,"{words[0]}","{words[1]}"))')


#: Entries that are a share of one.
SHARES: Final = frozenset(
    f"{name}_entered"
    for name in (
        "set_compression",
        "seating_compression",
        "least_entry_share",
        "length_allowance",
        "waste_share",
        "least_bottom_share",
    )
)


def answer_style(quantity: Quantity) -> str:
    """How an answer looks."""
    if quantity.is_text:
        return "answer_text"
    if quantity.unit == "1":
        return "answer_2" if quantity.name.startswith(("flats", "nut_turns")) else "answer_count"
    return "answer"


#: Columns of an answer in the units of both unit sets.
VALUE, VALUE_UNIT, OTHER, OTHER_UNIT = OUT + 1, OUT + 2, OUT + 3, OUT + 4
#: The heads of a sheet with entries on the left and such answers on the right, by column.
HEADS: Final = {
    TITLE: "Entry",
    ENTRY: "Value",
    UNIT: "Unit",
    HINT: "What it is",
    OUT: "Answer",
    VALUE: "Value",
    VALUE_UNIT: "Unit",
    OTHER: "Value",
    OTHER_UNIT: "Unit",
}
#: Plain numbers that are whole counts, and no shares.
COUNTS: Final = frozenset(
    {
        "flange_bolt_count",
        "flange_gaskets",
        "flange_studs",
        "flange_nuts",
        "flange_kept_1",
        "flange_kept_2",
        "legs_counted",
    }
)
#: How a number is shown by its dimension and unit set; other numbers by `answer`.
_LOOKS: Final = {
    ("pressure", "metric"): "answer_2",
    ("pressure", "US"): "answer_count",
    ("force", "metric"): "answer_count",
    ("force", "US"): "answer_count",
    ("torque", "metric"): "answer_2",
    ("torque", "US"): "answer_2",
    ("temperature", "metric"): "answer_count",
    ("temperature", "US"): "answer_count",
    ("length", "US"): "answer_in",
    ("mass", "metric"): "answer_in",
    ("mass", "US"): "answer_in",
}


def answer_in_both(row: int, quantity: Quantity, values: Mapping[str, Any], sets: Sequence[str]) -> list[Cell]:
    """An answer in the units of both unit sets, that of the edition first, so that nobody converts by hand."""
    name, value = quantity.name, plain(values[quantity.name][0])
    title = Cell(row, OUT, quantity.title, "label")
    if quantity.is_text:
        return [title, Cell(row, VALUE, value, "answer_text", name)]
    if quantity.dimension is None:
        style = "answer_share" if quantity.unit == "1" and name not in COUNTS else answer_style(quantity)
        unit = "" if quantity.unit == "1" else unit_shown(quantity)
        return [title, Cell(row, VALUE, value, style, name), Cell(row, VALUE_UNIT, unit, "unit")]
    out = [title]
    for unit_set, column in zip(sets, (VALUE, OTHER), strict=True):
        out += [usable_cell(row, column, quantity, values, unit_set), Cell(row, column + 1, unit_in(quantity, unit_set), "unit")]
    return out


def usable_cell(row: int, column: int, quantity: Quantity, values: Mapping[str, Any], unit_set: str) -> Cell:
    """An answer as it can be used, in the unit of a unit set."""
    usual = "answer_2" if quantity.part == "lift" else _LOOKS.get((str(quantity.dimension), unit_set), "answer")
    look = look_of(quantity, unit_set, usual)
    value = usable_value(quantity, plain(values[quantity.name][0]), unit_set)
    return Cell(row, column, value, look, usable_in(quantity, quantity.name, unit_set))
