"""What the item of each line is: material, sizes, designation; and the line of each item in stores."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import first_row_of
from sheetcalc.calculations.outage.grouped import GATHERED, choose, codes_of, escaped, groups_of
from sheetcalc.calculations.outage.order import GROUPS, ORDER
from sheetcalc.calculations.outage.order_lines import PART
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derived, gathered
from sheetcalc.declare.quantity import Formula, Num, Per, Text


def _of_first(name: str, title: str, sources: dict[str, str], sentence: str, *, text: bool = False, unit: str = "") -> None:
    """A figure of the valve that opens the line, by group; of packing only where it comes as rings, which share it."""
    blank: Any = np.array("", dtype=object) if text else np.nan
    with_kind = "packing" in sources and not text

    def build(codes: tuple[str, ...]) -> Formula:
        groups = groups_of(codes)
        held = {group: f"INDEX({{every_{sources[group]}}},{{line_first}})" for group in groups if group in sources}
        columns = tuple(dict.fromkeys(sources[group] for group in held))
        if with_kind:
            held["packing"] = f'IF({{line_kind}}=2,{held["packing"]},"")'

        def chosen(group: Any, *values: Any) -> Any:
            kind, first, *every = values if with_kind else (None, *values)
            figures = {column: pick(first, list(one) if text else one) for column, one in zip(columns, every, strict=True)}
            of_group = [figures[sources[one]] if one in held else blank for one in groups]
            if with_kind:
                of_group[0] = np.where(kind == 2, of_group[0], np.nan)  # noqa: PLR2004
            return choose(group, *of_group)

        reads = ("line_group", *(["line_kind"] if with_kind else []), "line_first", *(f"every_{one}" for one in columns))
        choices = ",".join(held.get(group, '""') for group in groups)
        return Formula(reads=reads, excel=f"CHOOSE({{line_group}},{choices})", function=chosen)

    gathered(name, codes_of(GROUPS), build, sentence, title=title, unit=unit, text=text, part=PART, source=GATHERED, per=Per.LINE)


@derived(
    title="Item",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LINE,
    excel='CHOOSE({line_group},INDEX({every_packing_form},{line_first})&" packing","braided end rings","spacer","gasket","gland studs",'
    '"stud lubricant","flange gasket","flange studs, two nuts each","stud lubricant")',
)
def line_item(line_group: Num, every_packing_form: Text, line_first: Num) -> Any:
    """What it is."""
    form = np.asarray(pick(line_first, list(every_packing_form))) + " packing"
    lubricant = "stud lubricant"
    others = ("braided end rings", "spacer", "gasket", "gland studs", lubricant, "flange gasket", "flange studs, two nuts each", lubricant)
    return choose(line_group, form, *(np.array(word, dtype=object) for word in others))


_of_first(
    "line_material",
    "Material of the line",
    {
        "packing": "packing_material",
        "end": "packing_material",
        "spacer": "spacer_made_of",
        "grease": "stud_lubricant",
        "joint_grease": "flange_lubricant",
    },
    "The packing material, as in Valves, that of spacers, or the lubricant.",
    text=True,
)
_of_first(
    "line_stem",
    "Stem of the line",
    {"packing": "stem_diameter", "end": "stem_diameter", "spacer": "stem_diameter"},
    "Stem diameter, where the item is made to it.",
    unit="mm",
)
_of_first(
    "line_bore",
    "Bore of the line",
    {"packing": "box_bore", "end": "box_bore", "spacer": "box_bore"},
    "Box bore, where it is made to it.",
    unit="mm",
)
_of_first(
    "line_height",
    "Height or length of a piece",
    {"packing": "ring_height", "spacer": "spacer_height", "bolt": "flange_bolt_length"},
    "Height of one ring or of the spacer, or length of a flange stud.",
    unit="mm",
)
_of_first("line_rings", "Rings of a set", {"packing": "set_rings"}, "How many rings each set has.", unit="1")
_of_first(
    "line_designation",
    "Designation",
    {"spacer": "spacer_words", "gasket": "gasket", "stud": "gland_stud_thread", "joint": "flange_gasket", "bolt": "flange_bolt_thread"},
    "Gasket, thread, or to what a spacer is turned.",
    text=True,
)
_of_first(
    "line_grade",
    "Grade of the line",
    {"stud": "gland_stud_grade", "bolt": "flange_bolt_grade"},
    "Grade of the studs, as in Valves.",
    text=True,
)


@derived(
    title="Section of the line",
    unit="mm",
    part=PART,
    source=GATHERED,
    per=Per.LINE,
    excel='IF({line_kind}=1,INDEX({every_stocked_section},{line_first}),"")',
)
def line_section(line_kind: Num, every_stocked_section: Num, line_first: Num) -> Any:
    """The stocked section of braid."""
    return np.where(line_kind == 1, pick(line_first, every_stocked_section), np.nan)


@derived(
    title="Line of the item in stores",
    unit="1",
    part="stores",
    source=GATHERED,
    per=Per.STORE,
    excel=f'IFERROR(MATCH({escaped("{store_code}")},{{every_line_code}},0),"")',
)
def store_line(store_code: Text, every_line_code: Text) -> Any:
    """The line of the order with this code; blank where there is none."""
    return first_row_of(store_code, every_line_code)


@derived(
    title="Item in stores",
    part="stores",
    source=GATHERED,
    text=True,
    per=Per.STORE,
    optional=("store_line",),
    excel='IF(SUM({store_line})*{store_in_use}>0,TRIM(INDEX({every_line_item},{store_line})&" "&'
    'INDEX({every_line_material},{store_line})&" "&INDEX({every_line_designation},{store_line})),"not on the order list now")',
)
def store_item(store_line: Num, every_line_item: Text, every_line_material: Text, every_line_designation: Text, store_in_use: Num) -> Any:
    """What the code stands for on the order list."""
    words = [pick(store_line, list(column)) for column in (every_line_item, every_line_material, every_line_designation)]
    said = np.array([" ".join(" ".join(parts).split()) for parts in zip(*words, strict=True)], dtype=object)
    return np.where(np.isnan(store_line), "not on the order list now", np.where(store_in_use == 1, said, ""))


@derived(
    title="Unit in stores",
    part="stores",
    source=GATHERED,
    text=True,
    per=Per.STORE,
    excel="INDEX({every_line_unit_words},{store_line})",
)
def store_unit(every_line_unit_words: Text, store_line: Num) -> Any:
    """The unit of the line, in which pack and stock are typed."""
    return pick(store_line, list(every_line_unit_words))


declare_check("stores", "check_store", "Check stores", "OK, or what is wrong with a row of Stores.", per=Per.STORE, used="store_in_use")
declare_check(PART, "check_line", "Check line", "OK, or what is wrong with a line of the order.", per=Per.LINE, used="line_group")
declare_check("order", "check_order", "Check order", "OK, or what is wrong with what is typed for the order.", per=Per.LISTED)
