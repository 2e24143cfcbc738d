"""The columns of the sheet Valves: entries that the planner owns, answers fetched from Working, and what is carried along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from sheetcalc.calculations.answers import Answers
from sheetcalc.declare.quantity import Per, Quantity, get
from sheetcalc.sheets.common import unit_in
from sheetcalc.sheets.edition import EDITIONS, Edition, entry_style, entry_title
from sheetcalc.sheets.form import COUNTS, ENTRY_GROUPS, LOAD_GROUPS
from sheetcalc.sheets.out_groups import OUT_GROUPS
from sheetcalc.sheets.usable import look_of

#: Answers in Valves, in the order in which they are read; lengths are shown in the edition's unit.
ANSWERS: Final = (
    "state",
    "all_trouble",
    "packing_section",
    "stocked_section",
    "section_advice",
    "ring_height",
    "rings_that_fit",
    "ring_count",
    "maker_count_difference",
    "rings_below_lantern",
    "rings_above_lantern",
    "spacer_height",
    "start_entry",
    "gland_gap_start",
    "compression_travel",
    "gland_gap_end",
    "follower_state",
    "cut_length",
    "tip_length",
    "bulk_length",
    "joint_step",
    "joint_angles",
    "flats_to_compress",
    "nut_turns",
    "follower_tilt",
    "flats_to_even",
    "material_verdict",
    "gland_stress",
    "gland_load",
    "stud_stress_share",
    "stud_yield_share",
    "stud_torque",
    "stud_torque_long",
    "bottom_stress_ratio",
    "bottom_stress_over_pressure",
    "stem_friction",
    "rim_pull",
    "rim_pull_share",
    "wrench_words",
    "tap_and_die",
    "packing_mass",
    "flange_bolt_count",
    "flange_bolt_thread",
    "flange_bolt_length",
    "flange_wrench_words",
    "flange_gasket",
    "flange_bolt_torque",
    "gasket_stress",
    "leg_tension",
    "out_hours",
)
#: Answers about the order and the job, which only a list has.
PLAN_ANSWERS: Final = ("packing_code", "job_day_planned", "job_crew", "job_hours", "check_order", "check_plan")
#: Entries that take the place of an assumption or of a material's figure for one valve.
OVERRIDES: Final = (*ENTRY_GROUPS[2][1], *LOAD_GROUPS[3][1], *OUT_GROUPS[2][1])


def listed_entries(answers: Answers) -> tuple[str, ...]:
    """Entries of a row of the list that no one-valve workbook has: for the order and the plan."""
    return tuple(name for name in answers.entries(Per.LISTED) if name != "position")


@dataclass(frozen=True)
class Column:
    """A column of Valves: its header, and the entry, or the column of Working, that it holds."""

    header: str
    entry: str = ""
    working: str = ""
    style: str = "entry_number"
    width: float = 12.5
    band: str = ""


def entry_header(name: str) -> str:
    """The header of an entry in Valves. The overrides say that they hold for this valve only."""
    title = entry_title(get(name)).replace(",", "")
    return f"{title} here" if name in OVERRIDES else title


@cache
def reserved_headers() -> frozenset[str]:
    """Headers that a carried column must not take, in both editions."""
    return frozenset(column.header for edition in EDITIONS.values() for column in columns(edition, ()))


def _shown(name: str) -> str:
    return f"{name}_shown" if get(name).dimension else name


def columns(edition: Edition, carried: Sequence[str]) -> tuple[Column, ...]:
    """The columns of Valves from left to right."""
    answers = edition.answers

    def entries(names: Sequence[str], band: str) -> list[Column]:
        return [_entry_column(name, edition, f"{band} ▸") for name in names if name in answers]

    def answered(names: Sequence[str]) -> list[Column]:
        return [_answer_column(get(name), edition) for name in names if name in answers]

    out = [column for band, names in _ENTRY_BANDS for column in entries(names, band)]
    out += answered(ANSWERS)
    if "check_tag" in answers:
        out.append(Column("Tag check", working="check_tag", style="answer_text", width=34, band="ANSWERS"))
    out += entries(listed_entries(answers), "ENTRIES order and plan")
    out += answered(PLAN_ANSWERS)
    out += entries(OVERRIDES, "ENTRIES for this valve only, instead of Assumptions and Materials")
    out += [Column(header, style="carried", width=18, band="CARRIED ALONG from your list, not used") for header in carried]
    return tuple(out)


_ENTRY_BANDS: Final = (
    ("ENTRIES", ENTRY_GROUPS[0][1]),
    ("ENTRIES where they apply", ENTRY_GROUPS[1][1]),
    ("ENTRIES service and packing", LOAD_GROUPS[0][1]),
    ("ENTRIES gland and studs", LOAD_GROUPS[1][1]),
    ("ENTRIES stem thread and handwheel", LOAD_GROUPS[2][1]),
    ("ENTRIES flanges of a valve that comes out", OUT_GROUPS[0][1]),
    ("ENTRIES lift", OUT_GROUPS[1][1]),
)


def _entry_column(name: str, edition: Edition, band: str) -> Column:
    wide = {
        "place": 28.0,
        "isolation_points": 28.0,
        "packing_material": 24.0,
        "gland_stud_grade": 20.0,
        "stud_lubricant": 18.0,
        "gasket_kind": 24.0,
        "flange_bolt_grade": 20.0,
        "flange_lubricant": 18.0,
    }
    return Column(entry_header(name), entry=name, style=entry_style(get(name), edition), width=wide.get(name, 13.0), band=band)


_TEXT_WIDTHS: Final = {
    "state": 14,
    "all_trouble": 60,
    "section_advice": 26,
    "joint_angles": 32,
    "material_verdict": 26,
    "packing_code": 30,
    "flange_gasket": 34,
    "check_order": 34,
    "check_plan": 34,
}


def _answer_column(quantity: Quantity, edition: Edition) -> Column:
    name = quantity.name
    if quantity.is_text:
        style = {"state": "answer_state", "all_trouble": "answer_wrap"}.get(name, "answer_text")
        return Column(quantity.title, working=name, style=style, width=_TEXT_WIDTHS.get(name, 14), band="ANSWERS")
    unit = unit_in(quantity, edition.unit_set)
    title = quantity.title.replace(",", "") if unit == "–" else f"{quantity.title.replace(',', '')} ({unit})"
    if quantity.dimension != "length":
        share = name.endswith(("_share", "_ratio", "_over_pressure"))
        half = (unit != "–" or name.startswith(("flats", "nut_turns"))) and name not in COUNTS
        usual = "answer" if name == "packing_mass" else "answer_share" if share else "answer_2" if half else "answer_count"
    else:
        usual = "answer" if edition.unit_set == "metric" else "answer_in"
    return Column(title, working=_shown(name), style=look_of(quantity, edition.unit_set, usual), band="ANSWERS")
