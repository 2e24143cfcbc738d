"""The checks in words, and the state of a valve: what a planner sorts by and a mechanic reads first.

Each check joins the faults of its part. It speaks on blanks, so it is never guarded; only a row in which nothing is
typed stays silent.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import either, speaks_of, word
from sheetcalc.declare.quantity import Flag, Kind, Num, Per, Quantity, Text, all_quantities, derived, get, in_terms_of, missing
from sheetcalc.reference.sources import cite

READING = cite("reading")


def _typed(values: Sequence[Any]) -> Any:
    out: Any = False
    for value in values:
        out = out | ~missing(value)
    return np.where(out, 1.0, np.nan)


def _declare_typed() -> tuple[str, ...]:
    """Whether anything is typed, for the entries of each part; returns the names."""
    entries = [q for q in all_quantities() if q.kind is Kind.ENTRY and q.per is Per.VALVE and q.name != "unit_set"]
    out = []
    for part in dict.fromkeys(q.part for q in entries):
        reads = tuple(q.name for q in entries if q.part == part)
        name, said = f"{part}_is_typed", f"1 where an entry of the part {part} is typed."
        derived(
            title=f"Typed in {part}", unit="1", part="valve", source=READING, guards=False,
            excel=f'IFERROR(IF({"&".join(f"{{{read}}}" for read in reads)}="","",1),1)',
        )(in_terms_of(lambda *values: _typed(values), name, reads, said))  # fmt: skip
        out.append(name)
    return tuple(out)


_TYPED: Final = _declare_typed()

in_use = derived(
    title="In use", unit="1", part="valve", source=READING, guards=False,
    excel=f'IF(COUNT({",".join(f"{{{name}}}" for name in _TYPED)})>0,1,"")',
)(in_terms_of(lambda *values: _typed(values), "in_use", _TYPED, "1 where anything but the unit set is typed."))  # fmt: skip


@derived(
    title="Unit set not known", part="valve", source=READING, text=True, guards=False, kind=Kind.DERIVED,
    excel='IF(AND(ISNUMBER({in_use}),NOT(ISNUMBER({unit_row}))),"Unit set is missing or not known: type metric (mm) or US (inches). '
          'Until then every answer stays blank.","")',
)  # fmt: skip
def unit_set_trouble(in_use: Num, unit_row: Num) -> Text:
    """Says that nobody can tell whether the lengths are in mm or in inches."""
    words = "Unit set is missing or not known: type metric (mm) or US (inches). Until then every answer stays blank."
    return either(np.isnan(in_use) | ~np.isnan(unit_row), "", words)


def declare_check(
    part: str, name: str, title: str, sentence: str, extra: tuple[str, ...] = (), *, per: Per = Per.VALVE, used: str = "in_use"
) -> tuple[Quantity, Quantity]:
    """The faults of a part joined, and the check that says OK or the joined faults where `used` is a number, always where it is ""."""
    faults = (*extra, *(q.name for q in all_quantities() if q.kind is Kind.FAULT and q.part == part and q.per is per))
    spoken = '&" "&'.join(f"{{{name}}}" for name in faults)
    trouble_name = f"{name.removeprefix('check_') if per is not Per.VALVE else part}_trouble"
    trouble = derived(
        title=f"{title}: trouble", part=part, source=READING, text=True, guards=False, excel=f"TRIM({spoken})", per=per,
    )(in_terms_of(speaks_of(faults), trouble_name, faults, f"All that is wrong: {sentence}"))  # fmt: skip
    guard = f"IF(ISNUMBER({{{used}}})," if used else "("
    check = derived(
        title=title, part=part, source=READING, text=True, guards=False, kind=Kind.CHECK, per=per,
        excel=f'{guard}IF({{{trouble_name}}}="","OK",{{{trouble_name}}})' + (',"")' if used else ")"),
    )(in_terms_of(_ok_or if used else _ok, name, (*([used] if used else []), trouble_name), sentence))  # fmt: skip
    return trouble, check


def _ok(trouble: Any) -> Any:
    return either(trouble == "", "OK", trouble)


def _ok_or(used: Any, trouble: Any) -> Any:
    return either(np.isnan(used), "", _ok(trouble))


declare_check("section", "check_section", "Check section", "OK, or what is wrong with stem, bore or section.", ("unit_set_trouble",))
declare_check("rings", "check_rings", "Check rings", "OK, or what is wrong with depth, lantern or ring count.")
declare_check("gap", "check_gap", "Check gap", "OK, or what is wrong with nose, take-up or compression.")
declare_check("cut", "check_cut", "Check cut", "OK, or what is wrong with the cut.")
declare_check("flats", "check_tilt", "Check tilt", "OK, or what is wrong with thread, gap readings or tilt.")
declare_check("material", "check_material", "Check material", "OK, or why the packing material does not suit or is not known to.")
declare_check("load", "check_studs", "Check studs", "OK, or what is wrong with gland load, studs or torque.")
declare_check("stack", "check_stack", "Check stack", "OK, or what is wrong with friction or the stress down the stack.")
declare_check("stem", "check_stem", "Check stem", "OK, or what is wrong with stem thread, handwheel or pull.")
declare_check("tools", "check_tools", "Check tools", "OK, or what is wrong with the kind of nut.")
declare_check("flange", "check_flange", "Check flange", "OK, or what is wrong with flange, bolts or gasket.")
declare_check("lift", "check_lift", "Check lift", "OK, or what is wrong with mass, slings or angle.")
#: The checks in the order of the job, and the troubles that they say.
CHECKS: Final = (
    "check_section", "check_rings", "check_gap", "check_cut", "check_tilt", "check_material", "check_studs", "check_stack",
    "check_stem", "check_tools", "check_flange", "check_lift",
)  # fmt: skip
_TROUBLES: Final = tuple(name for check in CHECKS for name in get(check).reads if name != "in_use")


all_trouble = derived(
    title="What is wrong", part="valve", source=READING, text=True, guards=False,
    excel=f"""TRIM({'&" "&'.join(f"{{{name}}}" for name in _TROUBLES)})""",
)(in_terms_of(speaks_of(_TROUBLES), "all_trouble", _TROUBLES, "Everything that is wrong with the valve, in words."))  # fmt: skip


@derived(
    title="Severity", unit="1", part="valve", source=READING, guards=False,
    excel='IF(ISNUMBER({in_use}),MAX(SIGN(LEN({all_trouble})),2*NOT(ISNUMBER({gland_gap_end}))),"")',
)  # fmt: skip
def severity(in_use: Num, all_trouble: Text, gland_gap_end: Num) -> Num:
    """0 where all is well, 1 where a check speaks, 2 where the gap (and so perhaps the ring count) is missing."""
    worst = np.where(np.isnan(gland_gap_end), 2.0, np.where(all_trouble != "", 1.0, 0.0))
    return np.where(np.isnan(in_use), np.nan, worst)


@derived(
    title="State", part="valve", source=READING, text=True, optional=("maker_count_misfit",),
    excel='IF({maker_count_misfit}<>"","HOLD",CHOOSE(1+{severity},"READY","LOOK","INCOMPLETE"))',
)  # fmt: skip
def state(maker_count_misfit: Flag, severity: Num) -> Text:
    """READY, LOOK (a check speaks), INCOMPLETE (no ring count or gap), or HOLD (no order, no card)."""
    return word(np.where(maker_count_misfit, 3, np.nan_to_num(severity)).astype(np.intp), ("READY", "LOOK", "INCOMPLETE", "HOLD"))
