"""The order list against the valves: what was counted on both sides, and whether it ties."""

from __future__ import annotations

from typing import Final

import numpy as np

from sheetcalc.calculations.arithmetic import rounded
from sheetcalc.calculations.gathering import sum_where, total
from sheetcalc.calculations.outage.grouped import GATHERED, codes_of, groups_of, missing_of
from sheetcalc.calculations.outage.order import ALSO, GROUPS
from sheetcalc.declare.blocks import derive, derived, gathered
from sheetcalc.declare.quantity import Formula, Num, Per


def _sum_of(name: str, title: str, column: str, unit: str, sentence: str, measured_as: str = "") -> None:
    derive(
        name,
        (f"every_{column}",),
        total,
        sentence,
        title=title,
        unit=unit,
        part="reconciliation",
        source=GATHERED,
        per=Per.OUTAGE,
        excel=f"SUM({{every_{column}}})",
        measured_as=measured_as,
    )


def _counted(name: str, title: str, column: str, word: str, sentence: str) -> None:
    derive(
        name,
        (f"every_{column}",),
        lambda texts: float(np.sum(texts == word)),
        sentence,
        title=title,
        unit="1",
        part="reconciliation",
        source=GATHERED,
        per=Per.OUTAGE,
        excel=f'COUNTIF({{every_{column}}},"{word}")',
    )


_sum_of("valves_in_use", "Valves in the list", "in_use", "1", "Rows of Valves in which something is typed.")
_counted("valves_stop", "Valves STOP", "state", "STOP", "Unfit or unsafe as it stands: no torque, no order, no card.")
_counted("valves_missing", "Valves MISSING", "state", "MISSING", "The sizes cannot be had: nothing is ordered for them yet.")
_counted("valves_sized", "Valves SIZED", "state", "SIZED", "The sizes stand; not all of the load was judged, and its torque is blank.")
_counted("valves_look", "Valves LOOK", "state", "LOOK", "The figures stand: read first what is wrong in Valves.")
_counted("valves_ready", "Valves READY", "state", "READY", "Nothing to look at.")
derive(
    "valves_waiting",
    ("valves_stop", "valves_missing"),
    lambda stopped, sizeless: stopped + sizeless,
    "Valves that are stopped or have no sizes: nothing is ordered for them.",
    title="Valves waiting",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
    excel="{valves_stop}+{valves_missing}",
)
_sum_of(
    "valves_unnamed",
    "Valves without a material",
    "order_waits",
    "1",
    "Sizes stand, no packing material is named: nothing is ordered yet.",
)
_sum_of("valves_ordered", "Valves ordered", "ordered", "1", "Valves whose packing is on the order list.")
_sum_of("length_of_valves", "Braid of the valves", "order_length", "mm", "Length of braid, added up over the valves.", "spool")
_sum_of("length_of_lines", "Braid of the lines", "line_length", "mm", "Length of braid, added up over the lines.", "spool")
_sum_of("mass_of_valves", "Mass of the valves", "order_mass", "kg", "Mass of packing, added up over the valves.")
_sum_of("mass_of_lines", "Mass of the lines", "line_mass", "kg", "Mass of packing, added up over the lines.")
_sum_of(
    "pieces_of_lines",
    "Pieces of the lines",
    "line_pieces",
    "1",
    "Sets, rings, spacers, gaskets, studs and studs to be lubricated, added up over the lines.",
)
_sum_of("order_cost", "Cost of what is priced", "line_cost", "1", "Added up over the lines that have a price.")


def _pieces_of(codes: tuple[str, ...]) -> Formula:
    groups = groups_of(codes)
    columns = tuple(f"every_{group}_pieces" for group in (*groups, *(more for one, (_other, more) in ALSO.items() if one in groups)))
    text = ",".join(f"{{{column}}}" for column in columns)
    return Formula(reads=columns, excel=f"SUM({text})", function=lambda *held: sum(total(one) for one in held))


gathered(
    "pieces_of_valves",
    codes_of(GROUPS),
    _pieces_of,
    "Sets, rings, spacers, gaskets, studs and studs to be lubricated, added up over the valves.",
    title="Pieces of the valves",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
)


@derived(
    title="Valves on packing lines",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
    excel="SUMIF({every_line_group},1,{every_line_valves})",
)
def valves_on_lines(every_line_group: Num, every_line_valves: Num) -> float:
    """The valves of all packing lines: each ordered valve is on just one."""
    return float(sum_where(every_line_group, 1.0, every_line_valves)[0])


gathered(
    "lines_missing",
    codes_of(GROUPS),
    missing_of("line"),
    "More codes than the order list has lines.",
    title="Lines that are missing",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
)


for _name, _title, _one, _other, _sentence in (
    (
        "valves_left_over",
        "Valves neither ordered nor waiting",
        "valves_in_use-valves_ordered-valves_waiting-valves_unnamed",
        "",
        "Every valve is ordered, or waits as STOP, MISSING or for its material.",
    ),
    ("valves_difference", "Valves less those on packing lines", "valves_ordered-valves_on_lines", "", "Each is on one line."),
    ("length_difference", "Braid of the valves less that of the lines", "length_of_valves-length_of_lines", "mm", "No braid is lost."),
    ("mass_difference", "Mass of the valves less that of the lines", "mass_of_valves-mass_of_lines", "kg", "No packing is lost."),
    ("pieces_difference", "Pieces of the valves less those of the lines", "pieces_of_valves-pieces_of_lines", "", "No piece is lost."),
):
    _reads = tuple(_one.split("-"))
    derive(
        _name,
        _reads,
        lambda first, *others: first - sum(others),
        _sentence,
        title=_title,
        unit=_other or "1",
        part="reconciliation",
        source=GATHERED,
        per=Per.OUTAGE,
        measured_as="spool" if _other == "mm" else "",
        excel="-".join(f"{{{name}}}" for name in _reads),
    )

_DIFFERENCES: Final = (
    "valves_left_over",
    "valves_difference",
    "length_difference",
    "mass_difference",
    "pieces_difference",
    "lines_missing",
)
derive(
    "check_reconciliation",
    (*_DIFFERENCES, "counting_digits"),
    lambda *values: np.where(
        sum(np.abs(rounded(value, values[-1])) for value in values[:-1]) == 0,
        np.array("OK", dtype=object),
        "LOOK: the order list does not tie to the valves. Lines or rows are missing.",
    ),
    "OK where the order list has each valve once and nothing else.",
    title="Order list against valves",
    part="reconciliation",
    source=GATHERED,
    text=True,
    per=Per.OUTAGE,
    check=True,
    excel=f'IF({"+".join(f"ABS(ROUND({{{name}}},{{counting_digits}}))" for name in _DIFFERENCES)}=0,"OK",'
    '"LOOK: the order list does not tie to the valves. Lines or rows are missing.")',
)
