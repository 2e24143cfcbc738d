"""How what a person types becomes a value to reckon with.

`given` declares all cells of one measurement in one block: the entry as typed (`x_entered`), where an assumption can
stand in for it also the typed value in coherent units (`x_typed`), the value used (`x`), and the fault that speaks
when the entry cannot be used (`x_fault`). A wrong entry gives a blank and a sentence, never the assumption in silence.
In the core an entry that is not a number is an infinity: a sheet has none, so nothing can be mistaken for it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import at_least_zero, either, pick, row_ignoring_case
from sheetcalc.declare.blocks import derive, entry, fault_where
from sheetcalc.declare.quantity import Flag, Gravity, Per, Quantity, missing
from sheetcalc.reference.sources import cite

READING = cite("reading")
BELIEVABLE = cite("believable")
#: What is told of a number that stands in for one on Assumptions.
OVERRIDE: Final = "type a number in its range on Assumptions or clear the cell."
#: How grave it is, by its part, that an entry cannot be used as it is typed: without it there are no sizes, or the load would rest on
#: what nobody meant. Anything else can be read past.
_UNUSABLE: Final = {
    **dict.fromkeys(("section", "rings", "gap", "cut"), Gravity.MISSING),
    **dict.fromkeys(("material", "load", "flange"), Gravity.STOP),
}


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
    gravity: Gravity | None = None,
    noted: bool = False,
    where: str = "",
) -> Quantity:
    """Declare a measurement that a person types, in the unit of the row's unit set where it has a dimension.

    What belongs to no valve is typed in the unit set of the outage. `low` and `high` name the assumptions between which it is
    believed (or are "0" or "1"); `usual` names the quantity that stands in where nothing is typed. An entry that
    cannot be used is as grave as its part makes it, unless `gravity` says otherwise; with `noted` a usable one is told of. `where`
    names a yes or no without whose yes nothing is said of it. Returns the quantity of the value used, in the coherent unit.
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
    grave = gravity or _UNUSABLE.get(part, Gravity.LOOK)
    _declare_fault(name, says, remedy, grave, required=required, unit_row=row, usual=bool(usual), where=where)
    if noted:
        _declare_note(name, says)
    return used


def _declare_note(name: str, says: dict[str, Any]) -> None:
    """The note that a valve has a figure of its own instead of the usual one."""
    title = says["title"]
    fault_where(
        f"{name}_noted",
        (f"{name}_typed",),
        lambda own: ~np.isnan(own),
        f"Says that {title[0].lower()}{title[1:]} is the valve's own.",
        title=f"{title}, own",
        words=f"{title} is typed for this valve, in place of the usual one.",
        gravity=Gravity.NOTE,
        excel=f"ISNUMBER({{{name}_typed}})",
        about=(f"{name}_entered",),
        source=READING,
        part=says["part"],
        per=says["per"],
    )


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


def _declare_fault(
    name: str, says: dict[str, Any], remedy: str, gravity: Gravity, *, required: bool, unit_row: str, usual: bool, where: str
) -> None:
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
    if where:
        reads, excel, condition = (where, *reads), f'AND(EXACT({{{where}}},"yes"),{excel[4:]}', _only_where(condition)
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
        gravity=gravity,
        optional=reads,
        per=says["per"],
    )


def _only_where(condition: Callable[..., Any]) -> Callable[..., Any]:
    return lambda said, *values: (said == "yes") & condition(*values)


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


def given_code(
    name: str,
    *,
    title: str,
    sentence: str,
    part: str,
    names: str,
    usual: str,
    remedy: str,
    per: Per = Per.VALVE,
    gravity: Gravity | None = None,
    where: str = "",
) -> Quantity:
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
    reads = (where, name) if where else (name,)
    fault_where(
        f"{name}_fault",
        reads,
        _only_where(_is_blank) if where else _is_blank,
        f"Says that {title[0].lower()}{title[1:]} is none of the choices.",
        title=f"{title}, fault",
        words=words,
        excel=f'AND(EXACT({{{where}}},"yes"),{{{name}}}="")' if where else f'{{{name}}}=""',
        about=(entered,),
        source=READING,
        part=part,
        gravity=gravity or _UNUSABLE.get(part, Gravity.LOOK),
        optional=reads,
        per=per,
    )
    return used
