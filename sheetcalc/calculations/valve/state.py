"""The checks in words, and the state of a valve: what a planner sorts by and a mechanic reads first.

Each check joins the faults of its part. It speaks on blanks, so it is never guarded; only a row in which nothing is
typed stays silent.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import each_text, either, pick, said_of
from sheetcalc.declare.blocks import derive, derived, fault, gathered
from sheetcalc.declare.quantity import Entry, Fault, Formula, Gravity, Num, Per, Text, all_quantities, get, missing
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


@fault(
    title="Unit set not known",
    part="section",
    gravity=Gravity.MISSING,
    source=READING,
    about=("unit_set",),
    optional=("unit_row",),
    words="Unit set is missing or not known: type metric (mm) or US (inches), since until then every answer stays blank.",
    excel="AND({in_use}=1,NOT(ISNUMBER({unit_row})))",
)
def unit_set_fault(in_use: Num, unit_row: Num) -> Any:
    """Says that nobody can tell whether the lengths are in mm or in inches."""
    return (in_use == 1) & np.isnan(unit_row)


_GRAVEST_FIRST: Final = tuple(Gravity)


def _faults(per: Per = Per.VALVE, part: str = "") -> list[Fault]:
    """The faults of one kind of row, the gravest first and equal ones in the order of the job."""
    faults = [q for q in all_quantities() if isinstance(q, Fault) and q.per is per and part in {"", q.part}]
    return sorted(faults, key=lambda q: _GRAVEST_FIRST.index(q.gravity))


def declare_check(
    part: str, name: str, title: str, sentence: str, extra: tuple[str, ...] = (), *, per: Per = Per.VALVE, used: str = "in_use"
) -> None:
    """What is wrong in a part, and the check that says it, or OK and the notes; where `used` is a number, always where it is ""."""
    faults, notes = ([q.name for q in _faults(per, part) if (q.gravity is Gravity.NOTE) == noted] for noted in (False, True))
    spoken = name.removeprefix("check_") if per is not Per.VALVE else part
    said = [(f"{spoken}_trouble", f"{title}: trouble", (*extra, *faults))]
    said += [(f"{spoken}_notes", f"{title}: notes", tuple(notes))] if notes else []
    for gathering, its_title, members in said:
        gathered(
            gathering,
            members,
            said_of,
            f"All that is said: {sentence}",
            title=its_title,
            part=part,
            source=READING,
            text=True,
            guards=False,
            per=per,
        )
    trouble, *noted = (gathering for gathering, _title, _members in said)
    fine = f'IF({{{noted[0]}}}="","OK","OK. "&{{{noted[0]}}})' if noted else '"OK"'
    says = f'IF({{{trouble}}}="",{fine},{{{trouble}}})'
    derive(
        name,
        (*([used] if used else []), trouble, *noted),
        _ok_or if used else _ok,
        sentence,
        title=title,
        part=part,
        source=READING,
        text=True,
        guards=False,
        check=True,
        per=per,
        excel=f'IF(ISNUMBER({{{used}}}),{says},"")' if used else f"({says})",
    )


def _ok(trouble: Any, *noted: Any) -> Any:
    fine: Any = "OK"
    for notes in noted:
        fine = each_text(notes, lambda text: f"OK. {text}", "OK")
    return either(trouble == "", fine, trouble)


def _ok_or(used: Any, trouble: Any, *noted: Any) -> Any:
    return either(np.isnan(used), "", _ok(trouble, *noted))


declare_check("section", "check_section", "Check section", "OK, or what is wrong with stem, bore or section.")
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
#: The checks in the order of the job.
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


def _declare_said() -> tuple[str, ...]:
    """What the faults of each gravity say, all parts together; returns the names, the gravest first."""
    out = []
    for gravity in Gravity:
        said = gravity.name.lower()
        out.append(f"all_{said}")
        gathered(
            out[-1],
            tuple(q.name for q in _faults() if q.gravity is gravity),
            said_of,
            f"All that is said of the gravity {said}.",
            title=f"Said: {said}",
            part="valve",
            source=READING,
            text=True,
            guards=False,
        )
    return tuple(out)


_SAID: Final = _declare_said()


@derived(
    title="Not judged",
    part="valve",
    source=READING,
    text=True,
    excel='"Not judged: "&{all_unasked}',
)
def not_judged(all_unasked: Text) -> Text:
    """What the load was not worked out for want of."""
    return each_text(all_unasked, lambda text: f"Not judged: {text}", "")


all_trouble = gathered(
    "all_trouble",
    tuple("not_judged" if name == "all_unasked" else name for name in _SAID),
    said_of,
    "Everything that is said of the valve, the gravest first.",
    title="What is wrong",
    part="valve",
    source=READING,
    text=True,
    guards=False,
)


def _unjudged(judging: tuple[str, ...]) -> Formula:
    """1 where anything of the load is not judged; 1 throughout where a workbook holds sizes alone, so that nothing is asked."""
    if judging:
        return Formula(reads=("all_unasked",), excel='IF({all_unasked}="",0,1)', function=lambda said: np.where(said == "", 0.0, 1.0))
    return Formula(reads=(), excel="1", function=lambda: np.ones(1))


load_unjudged = gathered(
    "load_unjudged",
    ("material_missing",),
    _unjudged,
    "1 where the load is not judged: an entry of it is blank, or this workbook holds sizes alone.",
    title="Load is not judged",
    unit="1",
    part="valve",
    source=READING,
    guards=False,
    alone=True,
)


@derived(
    title="No sizes to go by",
    unit="1",
    part="valve",
    source=READING,
    optional=("all_stop", "all_missing", "gland_gap_end"),
    excel='{in_use}*OR({all_stop}<>"",{all_missing}<>"",NOT(ISNUMBER({gland_gap_end})))',
)
def sizeless(in_use: Num, all_stop: Text, all_missing: Text, gland_gap_end: Num) -> Num:
    """1 where the valve is stopped, or its sizes cannot be had: nothing is ordered or planned for it."""
    return in_use * np.where((all_stop == "") & (all_missing == "") & ~np.isnan(gland_gap_end), 0.0, 1.0)


@derived(
    title="Gravity",
    unit="1",
    part="valve",
    source=READING,
    optional=("all_stop", "all_look"),
    excel='1+({all_stop}<>"")+{sizeless}+MAX({sizeless},{load_unjudged})+MAX({sizeless},{load_unjudged},SIGN(LEN({all_look})))',
)
def gravity(all_stop: Text, sizeless: Num, load_unjudged: Num, all_look: Text) -> Num:
    """The gravest of what is said: 5 stop, 4 the sizes are missing, 3 the load is not judged, 2 look, 1 ready."""
    worst = np.select([all_stop != "", sizeless > 0, load_unjudged > 0, all_look != ""], [5.0, 4.0, 3.0, 2.0], 1.0)
    return np.asarray(worst, dtype=np.float64)


#: The states by their gravity, from 1.
STATES: Final = tuple(str(one) for one in reversed(Gravity))


@derived(
    title="State",
    part="valve",
    source=READING,
    text=True,
    excel='CHOOSE({gravity},"' + '","'.join(STATES) + '")',
)
def state(gravity: Num) -> Text:
    """READY, LOOK (read it first), SIZED (the load is not judged), MISSING (no sizes) or STOP (no torque, no order, no card)."""
    return pick(gravity, list(STATES))


def _declare_kept_back(name: str, worked: str, title: str, sentence: str, symbol: str, *, only: str = "") -> None:
    """An answer that stops keep back, and the faults that say that they withhold it; with `only` just where that is 0."""

    def build(faults: tuple[str, ...]) -> Formula:
        said = "&".join(f"{{{one}}}" for one in ("all_stop", *faults))
        clear = f'AND({{{only}}}=0,{said}="")' if only else f'{said}=""'
        conditions = (only,) if only else ()
        reads = (worked, *conditions, "all_stop", *faults)

        def function(figure: Any, *held: Any) -> Any:
            allowed: Any = held[0] == 0 if only else True
            stop, *spoken = held[len(conditions) :]
            return np.where(allowed & (stop == "") & ~np.logical_or.reduce([*spoken, np.zeros(len(figure), dtype=bool)]), figure, np.nan)

        return Formula(reads=reads, excel=f'IF({clear},{{{worked}}},"")', function=function)

    quantity = get(worked)
    keepers = tuple(q.name for q in _faults() if name in q.withholds)
    gathered(
        name,
        keepers,
        build,
        sentence,
        title=title,
        symbol=symbol,
        unit=quantity.unit,
        part=quantity.part,
        source=quantity.source,
        optional=("all_stop", *keepers),
        alone=True,
    )


_declare_kept_back(
    "stud_torque",
    "stud_torque_worked",
    "Torque of a nut",
    "The torque to be set on the wrench; blank where anything stops the valve or the load is not judged.",
    "M",
)
_declare_kept_back(
    "flange_bolt_torque",
    "flange_bolt_torque_worked",
    "Flange bolt torque",
    "The torque to be set on the wrench; blank where anything stops the valve or something is not known.",
    "",
    only="flange_refused",
)
