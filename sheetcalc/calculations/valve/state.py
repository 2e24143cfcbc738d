"""The checks in words, and the state of a valve: what a planner sorts by and a mechanic reads first.

Each check joins the faults of its part. It speaks on blanks, so it is never guarded; only a row in which nothing is
typed stays silent.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import either, said_of, word
from sheetcalc.declare.blocks import derive, derived, gathered
from sheetcalc.declare.quantity import Entry, Fault, Flag, Formula, Num, Per, Text, all_quantities, get, missing
from sheetcalc.reference.sources import cite

READING = cite("reading")


def _typed(*values: Any) -> Any:
    out: Any = False
    for value in values:
        out = out | ~missing(value)
    return np.where(out, 1.0, np.nan)


def _typed_in(entries: tuple[str, ...]) -> Formula:
    text = "&".join(f"{{{entry}}}" for entry in entries)
    return Formula(reads=entries, excel=f'IFERROR(IF({text}="","",1),1)', function=_typed)


def _typed_in_any(parts: tuple[str, ...]) -> Formula:
    text = ",".join(f"{{{part}}}" for part in parts)
    return Formula(reads=parts, excel=f'IF(COUNT({text})>0,1,"")', function=_typed)


def _declare_typed() -> tuple[str, ...]:
    """Whether anything is typed, for the entries of each part; returns the names."""
    entries = [q for q in all_quantities() if isinstance(q, Entry) and q.per is Per.VALVE and q.name != "unit_set"]
    out = []
    for part in dict.fromkeys(q.part for q in entries):
        out.append(f"{part}_is_typed")
        gathered(
            out[-1],
            tuple(q.name for q in entries if q.part == part),
            _typed_in,
            f"1 where an entry of the part {part} is typed.",
            title=f"Typed in {part}",
            unit="1",
            part="valve",
            source=READING,
            guards=False,
        )
    return tuple(out)


in_use = gathered(
    "in_use",
    _declare_typed(),
    _typed_in_any,
    "1 where anything but the unit set is typed.",
    title="In use",
    unit="1",
    part="valve",
    source=READING,
    guards=False,
)


@derived(
    title="Unit set not known",
    part="valve",
    source=READING,
    text=True,
    guards=False,
    excel='IF(AND(ISNUMBER({in_use}),NOT(ISNUMBER({unit_row}))),"Unit set is missing or not known: type metric (mm) or US (inches). '
    'Until then every answer stays blank.","")',
)
def unit_set_trouble(in_use: Num, unit_row: Num) -> Text:
    """Says that nobody can tell whether the lengths are in mm or in inches."""
    words = "Unit set is missing or not known: type metric (mm) or US (inches). Until then every answer stays blank."
    return either(np.isnan(in_use) | ~np.isnan(unit_row), "", words)


def declare_check(
    part: str, name: str, title: str, sentence: str, extra: tuple[str, ...] = (), *, per: Per = Per.VALVE, used: str = "in_use"
) -> None:
    """The faults of a part joined, and the check that says OK or the joined faults where `used` is a number, always where it is ""."""
    trouble_name = f"{name.removeprefix('check_') if per is not Per.VALVE else part}_trouble"
    gathered(
        trouble_name,
        (*extra, *(q.name for q in all_quantities() if isinstance(q, Fault) and q.part == part and q.per is per)),
        said_of,
        f"All that is wrong: {sentence}",
        title=f"{title}: trouble",
        part=part,
        source=READING,
        text=True,
        guards=False,
        per=per,
    )
    guard = f"IF(ISNUMBER({{{used}}})," if used else "("
    derive(
        name,
        (*([used] if used else []), trouble_name),
        _ok_or if used else _ok,
        sentence,
        title=title,
        part=part,
        source=READING,
        text=True,
        guards=False,
        check=True,
        per=per,
        excel=f'{guard}IF({{{trouble_name}}}="","OK",{{{trouble_name}}})' + (',"")' if used else ")"),
    )


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
    "check_section",
    "check_rings",
    "check_gap",
    "check_cut",
    "check_tilt",
    "check_material",
    "check_studs",
    "check_stack",
    "check_stem",
    "check_tools",
    "check_flange",
    "check_lift",
)
_TROUBLES: Final = tuple(name for check in CHECKS for name in get(check).reads if name != "in_use")


all_trouble = gathered(
    "all_trouble",
    _TROUBLES,
    said_of,
    "Everything that is wrong with the valve, in words.",
    title="What is wrong",
    part="valve",
    source=READING,
    text=True,
    guards=False,
)


@derived(
    title="Severity",
    unit="1",
    part="valve",
    source=READING,
    guards=False,
    excel='IF(ISNUMBER({in_use}),MAX(SIGN(LEN({all_trouble})),2*NOT(ISNUMBER({gland_gap_end}))),"")',
)
def severity(in_use: Num, all_trouble: Text, gland_gap_end: Num) -> Num:
    """0 where all is well, 1 where a check speaks, 2 where the gap (and so perhaps the ring count) is missing."""
    worst = np.where(np.isnan(gland_gap_end), 2.0, np.where(all_trouble != "", 1.0, 0.0))
    return np.where(np.isnan(in_use), np.nan, worst)


@derived(
    title="State",
    part="valve",
    source=READING,
    text=True,
    optional=("maker_count_misfit",),
    excel='IF({maker_count_misfit}<>"","HOLD",CHOOSE(1+{severity},"READY","LOOK","INCOMPLETE"))',
)
def state(maker_count_misfit: Flag, severity: Num) -> Text:
    """READY, LOOK (a check speaks), INCOMPLETE (no ring count or gap), or HOLD (no order, no card)."""
    return word(np.where(maker_count_misfit, 3, np.nan_to_num(severity)).astype(np.intp), ("READY", "LOOK", "INCOMPLETE", "HOLD"))
