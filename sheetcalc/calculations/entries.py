"""What a person types about a valve, and how it becomes a value to reckon with.

`given` declares all cells of one measurement in one block: the entry as typed (`x_entered`), where an assumption can
stand in for it also the typed value in coherent units (`x_typed`), the value used (`x`), and the fault that speaks
when the entry cannot be used (`x_fault`). A wrong entry gives a blank and a sentence, never the assumption in silence.
In the core an entry that is not a number is an infinity: a sheet has none, so nothing can be mistaken for it.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import at_least_zero, either, pick, row_ignoring_case
from sheetcalc.declare.blocks import derive, derived, entry, fault_where
from sheetcalc.declare.quantity import Flag, Num, Per, Quantity, Text, get, missing
from sheetcalc.reference import tables as _tables  # noqa: F401 - declares the table columns read here
from sheetcalc.reference.sources import cite

READING = cite("reading")
BELIEVABLE = cite("believable")


def _blank_test(name: str) -> str:
    """Excel text that is true for an empty entry, and false for an error value pasted into it."""
    return f'IFERROR({{{name}}}="",0)'


def _is_blank(entered: Any) -> Flag:
    out: Flag = missing(entered)
    return out


#: What a typed number of each dimension is multiplied by: the quantity of that name, which follows the row's unit set.
UNIT_FACTORS: Final = {
    "length": "length_factor",
    "pressure": "pressure_unit",
    "stress": "stress_unit",
    "force": "force_unit",
    "temperature": "temperature_unit",
    "mass": "mass_unit",
}
#: The same for what is typed in the unit set of the outage: declared there.
OUTAGE_FACTORS: Final = {"length": "outage_length_factor", "spool": "outage_spool_factor", "mass": "outage_mass_unit"}
_COHERENT_WORDS: Final = {
    "length": "Millimetres",
    "pressure": "Megapascals",
    "stress": "Megapascals",
    "force": "Newtons",
    "temperature": "Degrees Celsius",
    "mass": "Kilograms",
}


def _believable(entered: Any, low: Any, high: Any, digits: Any, factor: Any, zero: Any, *, whole: bool) -> Any:
    """The entry in coherent units between its limits. A limit given as the text 0 or 1 is one of the entry as typed.

    Only a converted number is compared with rounding: what is typed carries no noise, and then `digits` is None.
    """
    number = np.where(np.isfinite(entered), entered, np.nan)
    value = (number - zero) * factor
    above = number - float(low) if isinstance(low, str) else value - low
    below = float(high) - number if isinstance(high, str) else high - value
    good = (above >= 0 if digits is None or isinstance(low, str) else at_least_zero(above, digits)) & (
        below >= 0 if digits is None or isinstance(high, str) else at_least_zero(below, digits)
    )
    if whole:
        good = good & (number % 1 == 0)
    return np.where(good, value, np.nan)


def _limit_test(converted: str, limit: str, comparison: str, *, rounds: bool) -> str:
    """Excel text that compares an entry with a limit; a converted number carries noise, a number as typed none."""
    return f"ROUND({converted}-{{{limit}}},{{counting_digits}}){comparison}0" if rounds else f"{converted}{comparison}{{{limit}}}"


def given(
    name: str,
    *,
    title: str,
    symbol: str,
    unit: str,
    sentence: str,
    part: str,
    low: str,
    high: str,
    remedy: str,
    usual: str = "",
    required: bool = False,
    whole: bool = False,
    measured_as: str = "",
    per: Per = Per.VALVE,
) -> Quantity:
    """Declare a measurement that a person types, in the unit of the row's unit set where it has a dimension.

    What belongs to no valve is typed in the unit set of the outage. `low` and `high` name the assumptions between which it is
    believed (or are "0" or "1"); `usual` names the quantity that stands in where nothing is typed. Returns the quantity
    of the value used, in the coherent unit.
    """
    entered = f"{name}_entered"
    typed_in = entry(
        entered,
        title=f"{title}, entered",
        symbol=symbol,
        unit=unit,
        sentence=f"{sentence[:-1]}, as typed.",
        part=part,
        source=READING,
        measured_as=measured_as,
        per=per,
    ).dimension
    units_of = "" if per in {Per.VALVE, Per.LISTED} else "outage_"
    factor = (OUTAGE_FACTORS if units_of else UNIT_FACTORS)[typed_in] if typed_in else ""
    zero = "temperature_zero" if typed_in == "temperature" else ""
    limits = [limit for limit in (low, high) if limit not in {"0", "1"}]
    reads = (entered, *([zero] if zero else []), *([factor] if factor else []), *limits, *(["counting_digits"] if factor else []))
    cell = f"{{{entered}}}"
    converted = f"({cell}-{{{zero}}})*{{{factor}}}" if zero else f"{cell}*{{{factor}}}" if factor else cell
    tests = [
        f"{cell}>={low}" if low in {"0", "1"} else _limit_test(converted, low, ">=", rounds=bool(factor)),
        f"{cell}<={high}" if high in {"0", "1"} else _limit_test(converted, high, "<=", rounds=bool(factor)),
        *([f"ROUND({cell},0)={cell}"] if whole else []),
    ]

    def typed(*values: Any) -> Any:
        by_name = dict(zip(reads, values, strict=True))
        return _believable(
            by_name[entered],
            by_name.get(low, low),
            by_name.get(high, high),
            by_name.get("counting_digits"),
            by_name.get(factor, 1.0),
            by_name.get(zero, 0.0),
            whole=whole,
        )

    used_name = f"{name}_typed" if usual else name
    says = {"title": title, "symbol": symbol, "unit": unit, "sentence": sentence, "part": part, "measured_as": measured_as, "per": per}
    used = _declare_typed(used_name, says, reads, converted, tests, typed)
    if usual:
        used = _declare_choice(name, says, usual)
    row = f"{units_of}unit_row" if factor else ""
    _declare_fault(name, says, remedy, required=required, unit_row=row, usual=bool(usual))
    return used


def _declare_typed(name: str, says: dict[str, Any], reads: tuple[str, ...], converted: str, tests: list[str], function: Any) -> Quantity:
    """The entry in coherent units, blank where it is no number or outside its believable range."""
    alone = name.endswith("_typed")
    doc = f"{says['sentence'][:-1]}, typed for this valve alone." if alone else says["sentence"]
    return derive(
        name,
        reads,
        function,
        doc,
        title=f"{says['title']}, typed" if alone else says["title"],
        symbol=says["symbol"],
        unit=says["unit"],
        part=says["part"],
        source=BELIEVABLE,
        measured_as=says["measured_as"],
        per=says["per"],
        empirical="a scale with a zero of its own" if "temperature_zero" in reads else "",
        excel=f'IFERROR(IF(AND({",".join(tests)}),{converted},""),"")',
    )


def _declare_choice(name: str, says: dict[str, Any], usual: str) -> Quantity:
    """The value used: the valve's own where one is typed, else the usual one."""
    entered, typed = f"{name}_entered", f"{name}_typed"
    literal = usual in {"0", "1"}
    reads = (entered, typed) if literal else (entered, usual, typed)
    other = usual if literal else f"{{{usual}}}"

    def chosen(entry_cell: Any, *values: Any) -> Any:
        return np.where(_is_blank(entry_cell), float(usual) if literal else values[0], values[-1])

    return derive(
        name,
        reads,
        chosen,
        says["sentence"],
        title=says["title"],
        symbol=says["symbol"],
        unit=says["unit"],
        part=says["part"],
        source=READING,
        guards=False,
        measured_as=says["measured_as"],
        per=says["per"],
        excel=f"IF({_blank_test(entered)},{other},{{{typed}}})",
    )


def _declare_fault(name: str, says: dict[str, Any], remedy: str, *, required: bool, unit_row: str, usual: bool) -> None:
    """The sentence for an entry that is missing though it is needed, or typed and not usable."""
    title = says["title"]
    entered, used = f"{name}_entered", f"{name}_typed" if usual else name
    if required:
        words = f"{title} is missing, not a number, or outside its believable range: {remedy}"
        reads: tuple[str, ...] = ("in_use", *([unit_row] if unit_row else []), used)
        excel = f"AND({','.join(f'ISNUMBER({{{one}}})' for one in reads[:-1])},NOT(ISNUMBER({{{used}}})))"
        condition = _speaks_when_needed
    else:
        words = f"{title} is typed but not usable: {remedy}"
        reads = (entered, *([unit_row] if unit_row else []), used)
        known = f"ISNUMBER({{{unit_row}}}),NOT(ISNUMBER({{{used}}}))" if unit_row else f"NOT(ISNUMBER({{{used}}}))"
        excel = f"AND(NOT({_blank_test(entered)}),{known})"
        condition = _speaks_when_typed
    fault_where(
        f"{name}_fault",
        reads,
        condition,
        f"Says that {title[0].lower()}{title[1:]} cannot be used as typed.",
        title=f"{title}, fault",
        words=words,
        excel=excel,
        about=(entered,),
        source=BELIEVABLE,
        part=says["part"],
        optional=reads,
        per=says["per"],
    )


def _speaks_when_needed(*values: Any) -> Any:
    *present, used = values
    known: Any = True
    for value in present:
        known = known & ~np.isnan(value)
    return known & np.isnan(used)


def _speaks_when_typed(entered: Any, *values: Any) -> Any:
    *present, used = values
    known: Any = ~np.isnan(entered)
    for value in present:
        known = known & ~np.isnan(value)
    return known & np.isnan(used)


def given_code(name: str, *, title: str, sentence: str, part: str, names: str, usual: str, remedy: str, per: Per = Per.VALVE) -> Quantity:
    """Declare a choice from a table's names, with the usual one where nothing is typed. Case does not matter.

    Returns the quantity of the name as the table writes it, "" where the typed one is none of them.
    """
    entered, chosen = f"{name}_entered", f"{name}_chosen"
    entry(
        entered,
        title=f"{title}, entered",
        sentence=f"{sentence[:-1]}, as typed.",
        part=part,
        source=READING,
        text=True,
        per=per,
        choices=names,
    )
    derive(
        chosen,
        (entered, usual),
        lambda e, u: either(_is_blank(e), u, e),
        f"{title}: what is typed, else the usual one.",
        title=f"{title}, chosen",
        part=part,
        per=per,
        source=READING,
        text=True,
        guards=False,
        excel=f'IFERROR(IF({{{entered}}}="",{{{usual}}},{{{entered}}}),"#")',
    )
    used = derive(
        name,
        (chosen, names),
        lambda c, keys: pick(row_ignoring_case(c, keys), keys),
        sentence,
        title=title,
        part=part,
        source=READING,
        text=True,
        guards=False,
        per=per,
        excel=f"IFERROR(IF(INDEX({{{names}}},MATCH({{{chosen}}},{{{names}}},0))={{{chosen}}},"
        f'INDEX({{{names}}},MATCH({{{chosen}}},{{{names}}},0)),""),"")',
    )
    words = f"{title} is not one of the choices: {remedy}"
    fault_where(
        f"{name}_fault",
        (name,),
        lambda used_name: used_name == "",
        f"Says that {title[0].lower()}{title[1:]} is none of the choices.",
        title=f"{title}, fault",
        words=words,
        excel=f'{{{name}}}=""',
        about=(entered,),
        source=READING,
        part=part,
        optional=(name,),
        per=per,
    )
    return used


tag = entry(
    "tag",
    title="Tag",
    text=True,
    part="valve",
    source=READING,
    sentence="The name by which the valve is known on site.",
)
unit_set = entry(
    "unit_set",
    title="Unit set",
    text=True,
    part="valve",
    source=READING,
    sentence="Metric (lengths in mm) or US (lengths in inches).",
)


@derived(
    title="Row of the unit set",
    unit="1",
    part="valve",
    source=READING,
    guards=False,
    excel='IFERROR(IF(INDEX({unit_set_names},MATCH({unit_set},{unit_set_names},0))={unit_set},MATCH({unit_set},{unit_set_names},0),""),"")',
)
def unit_row(unit_set: Text, unit_set_names: list[str]) -> Num:
    """The row of the unit set in its table, whatever the case it is typed in."""
    return row_ignoring_case(unit_set, unit_set_names)


for _dimension, _name in UNIT_FACTORS.items():
    _one = f"{_COHERENT_WORDS[_dimension]} in one typed unit of {_dimension}."
    derive(
        _name,
        (f"unit_{_dimension}_factors", "unit_row"),
        lambda column, row: pick(row, column),
        _one,
        title="Length factor" if _dimension == "length" else f"Unit of {_dimension}",
        unit=get(f"unit_{_dimension}_factors").unit,
        part="valve",
        source=cite("inch"),
        excel=f"INDEX({{unit_{_dimension}_factors}},{{unit_row}})",
    )


@derived(
    title="Temperature zero",
    unit="1",
    part="valve",
    source=cite("inch"),
    excel="INDEX({unit_temperature_zeros},{unit_row})",
)
def temperature_zero(unit_temperature_zeros: Num, unit_row: Num) -> Any:
    """What a thermometer of the unit set reads at 0 degrees Celsius."""
    return pick(unit_row, unit_temperature_zeros)


@derived(
    title="Spacer step of the unit set",
    symbol="",
    unit="mm",
    part="rings",
    source=cite("spacer"),
    excel="INDEX({unit_spacer_steps},{unit_row})",
)
def spacer_step_usual(unit_spacer_steps: Num, unit_row: Num) -> Any:
    """The step to which spacers are cut where a valve names none: 1 mm or 1/16 in."""
    return pick(unit_row, unit_spacer_steps)


_TYPE_IT = "measure again and type the number (a fraction as 0 5/16)."

given(
    "stem_diameter",
    title="Stem diameter",
    symbol="d",
    unit="mm",
    part="section",
    required=True,
    low="smallest_diameter",
    high="largest_diameter",
    remedy=_TYPE_IT,
    sentence="Diameter of the stem where the packing runs, not on the thread.",
)
given(
    "box_bore",
    title="Box bore",
    symbol="D",
    unit="mm",
    part="section",
    required=True,
    low="smallest_diameter",
    high="largest_diameter",
    remedy=_TYPE_IT,
    sentence="Bore of the stuffing box, worn places included.",
)
given(
    "box_depth",
    title="Box depth",
    symbol="H",
    unit="mm",
    part="rings",
    required=True,
    low="smallest_length",
    high="largest_length",
    remedy=_TYPE_IT,
    sentence="Depth of the stuffing box from its face to the bare bottom.",
)
given(
    "nose_length",
    title="Nose length",
    symbol="N",
    unit="mm",
    part="gap",
    required=True,
    low="smallest_length",
    high="largest_length",
    remedy=_TYPE_IT,
    sentence="Length of the follower nose that can enter the box, below its flange.",
)
gland_stud_thread = entry(
    "gland_stud_thread",
    title="Gland stud thread",
    text=True,
    part="flats",
    source=READING,
    sentence="Thread of the gland studs, written as on Tables, such as M12 or 1/2-13 UNC.",
)
given_code(
    "packing_form",
    title="Packing form",
    part="section",
    names="packing_form_names",
    usual="packing_form_default",
    remedy="choose one from the list on Tables.",
    sentence="Braid from a spool, die-formed rings, moulded rings, or loose packing.",
)
given(
    "maker_ring_count",
    title="Ring count by the maker",
    symbol="n_m",
    unit="1",
    part="rings",
    whole=True,
    low="1",
    high="largest_count",
    remedy="type a whole number of rings or clear the cell.",
    sentence="The number of rings that the valve's maker states.",
)
given(
    "lantern_length",
    title="Lantern length",
    symbol="L_l",
    unit="mm",
    part="rings",
    usual="0",
    low="0",
    high="largest_length",
    remedy="type its length or clear the cell.",
    sentence="Length of a lantern ring in the box, if there is one.",
)
given(
    "made_ring_height",
    title="Made ring height",
    symbol="h_m",
    unit="mm",
    part="section",
    low="smallest_length",
    high="largest_length",
    remedy="type the maker's free height of one ring or clear the cell.",
    sentence="Free height of one die-formed ring, as its maker states it.",
)
given_code(
    "cut_style",
    title="Cut style",
    part="cut",
    names="cut_style_names",
    usual="cut_style_usual",
    remedy="choose one from the list on Tables.",
    sentence="How the ends of a ring are cut: butt or skive.",
)
given_code(
    "section_list",
    title="Stock list",
    part="section",
    names="section_list_names",
    usual="section_list_usual",
    remedy="choose one from the list on Tables.",
    sentence="The stock list that the section is chosen from.",
)
given(
    "stud_spacing",
    title="Stud spacing",
    symbol="C",
    unit="mm",
    part="flats",
    low="smallest_length",
    high="largest_length",
    remedy="type the distance between the gland studs or clear the cell.",
    sentence="Distance between the centres of the two gland studs.",
)
given(
    "gap_reading_1",
    title="Gap reading 1",
    symbol="g₁",
    unit="mm",
    part="flats",
    low="0",
    high="largest_length",
    remedy="read the gap again at nut 1 or clear the cell.",
    sentence="Gap between gland flange and box face on the side of nut 1.",
)
given(
    "gap_reading_2",
    title="Gap reading 2",
    symbol="g₂",
    unit="mm",
    part="flats",
    low="0",
    high="largest_length",
    remedy="read the gap again at nut 2 or clear the cell.",
    sentence="Gap between gland flange and box face on the side of nut 2.",
)
given(
    "gap_reading_distance",
    title="Distance of the gap readings",
    symbol="B",
    unit="mm",
    part="flats",
    usual="stud_spacing",
    low="smallest_length",
    high="largest_length",
    remedy="type the distance between the two places where the gap was read, or clear the cell.",
    sentence="Distance between the two places where the gap was read; the stud spacing if read at the studs.",
)

_OVERRIDE = "type a number in its range on Assumptions or clear the cell."
given(
    "preferred_ring_count",
    title="Preferred ring count",
    symbol="n_p",
    unit="1",
    part="rings",
    whole=True,
    usual="preferred_ring_count_usual",
    low="1",
    high="largest_count",
    remedy=_OVERRIDE,
    sentence="The number of rings wanted where the maker states none.",
)
given(
    "set_compression",
    title="Set compression",
    symbol="c",
    unit="1",
    part="gap",
    usual="set_compression_default",
    low="smallest_compression",
    high="largest_compression",
    remedy=_OVERRIDE,
    sentence="By how much of its free height the set is shortened at the final gland stress.",
)
given(
    "seating_compression",
    title="Seating compression",
    symbol="c₀",
    unit="1",
    part="gap",
    usual="seating_compression_default",
    low="0",
    high="largest_compression",
    remedy=_OVERRIDE,
    sentence="By how much of its free height each ring is shortened when it is seated.",
)
given(
    "least_entry_floor",
    title="Least entry, floor",
    symbol="e_f",
    unit="mm",
    part="rings",
    usual="least_entry_floor_usual",
    low="0",
    high="largest_length",
    remedy=_OVERRIDE,
    sentence="The follower stands at least this far in the box on the free rings.",
)
given(
    "least_entry_share",
    title="Least entry, share",
    symbol="q_e",
    unit="1",
    part="rings",
    usual="least_entry_share_usual",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="The follower stands at least this share of the section in the box.",
)
given(
    "spacer_step",
    title="Spacer step",
    symbol="z",
    unit="mm",
    part="rings",
    usual="spacer_step_usual",
    low="smallest_step",
    high="largest_length",
    remedy=_OVERRIDE,
    sentence="The step to which spacers are cut.",
)
given(
    "length_allowance",
    title="Length allowance",
    symbol="a",
    unit="1",
    part="cut",
    usual="length_allowance_usual",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="How much longer than its mean length a ring is cut.",
)
given(
    "waste_share",
    title="Waste",
    symbol="w",
    unit="1",
    part="cut",
    usual="waste_share_usual",
    low="0",
    high="1",
    remedy=_OVERRIDE,
    sentence="What is added to the bulk length for ends and spoilt rings.",
)
