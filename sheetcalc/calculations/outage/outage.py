"""The outage as a whole: its dates, its people, and the units in which it orders and reads."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import pick, row_ignoring_case
from sheetcalc.calculations.given import OUTAGE_FACTORS, given
from sheetcalc.calculations.valve.state import declare_check
from sheetcalc.declare.blocks import derive, derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text, get
from sheetcalc.reference.sources import cite

PART = "outage"
#: What a date cell that holds no date is told.
TYPE_A_DATE: Final = "type a date, in a cell that shows one, or clear the cell."

outage_name = entry(
    "outage_name",
    title="Name of the outage",
    text=True,
    part=PART,
    source=cite("reading"),
    per=Per.OUTAGE,
    sentence="What the site calls this outage, for the headings.",
)
outage_unit_set = entry(
    "outage_unit_set",
    title="Unit set of the outage",
    text=True,
    part=PART,
    source=cite("reading"),
    per=Per.OUTAGE,
    sentence="Metric (mm, m, kg) or US (in, ft, lb): in what the order list, stores and log are typed and read.",
)


@derived(
    title="Row of the outage's unit set",
    unit="1",
    part=PART,
    source=cite("reading"),
    guards=False,
    per=Per.OUTAGE,
    excel="IFERROR(IF(INDEX({unit_set_names},MATCH({outage_unit_set},{unit_set_names},0))={outage_unit_set},"
    'MATCH({outage_unit_set},{unit_set_names},0),""),"")',
)
def outage_unit_row(outage_unit_set: Text, unit_set_names: list[str]) -> Num:
    """The row of the unit set in its table, whatever the case it is typed in."""
    return row_ignoring_case(outage_unit_set, unit_set_names)


for _dimension, _name in OUTAGE_FACTORS.items():
    derive(
        _name,
        (f"unit_{_dimension}_factors", "outage_unit_row"),
        lambda column, row: pick(row, column),
        f"What one unit of the outage's set is in {get(f'unit_{_dimension}_factors').unit}.",
        title=f"Outage: unit of {'packing from a spool' if _dimension == 'spool' else _dimension}",
        unit=get(f"unit_{_dimension}_factors").unit,
        part=PART,
        source=cite("inch"),
        per=Per.OUTAGE,
        excel=f"INDEX({{unit_{_dimension}_factors}},{{outage_unit_row}})",
    )


@fault(
    title="Unit set of the outage not known",
    part=PART,
    source=cite("reading"),
    about=("outage_unit_set",),
    per=Per.OUTAGE,
    optional=("outage_unit_row",),
    excel="NOT(ISNUMBER({outage_unit_row}))",
    words="Unit set of the outage is missing or not known: type metric or US. Until then the order list and the log stay blank.",
)
def outage_unit_trouble(outage_unit_row: Num) -> Any:
    """Says that nobody can tell in which unit stores and log are typed."""
    return np.isnan(outage_unit_row)


def _date(name: str, title: str, sentence: str) -> None:
    given(
        name,
        title=title,
        symbol="",
        unit="date",
        part=PART,
        per=Per.OUTAGE,
        low="first_date",
        high="last_date",
        whole=True,
        remedy=TYPE_A_DATE,
        sentence=sentence,
    )


_date("outage_start", "Start of the outage", "The first day of the outage.")
_date("status_date", "Status date", "The day on which this workbook is read: typed, so that the same file says the same tomorrow.")
_date("next_outage", "Next outage", "When the next outage begins: what must last until then is judged by it.")
given(
    "spare_share",
    title="Spare share",
    symbol="",
    unit="1",
    part=PART,
    per=Per.OUTAGE,
    usual="spare_share_usual",
    low="0",
    high="1",
    remedy="type a share such as 0.1 or clear the cell.",
    sentence="What is ordered beyond what the valves need.",
)
given(
    "days_before_start",
    title="Days before the start",
    symbol="",
    unit="d",
    part=PART,
    per=Per.OUTAGE,
    usual="days_before_start_usual",
    low="0",
    high="longest_days",
    remedy="type the number of days or clear the cell.",
    sentence="How many days before the start everything must be on site, to be checked and kitted.",
)
given(
    "lead_days",
    title="Lead time",
    symbol="",
    unit="d",
    part=PART,
    per=Per.OUTAGE,
    usual="lead_days_usual",
    low="0",
    high="longest_days",
    remedy="type the number of days or clear the cell.",
    sentence="Days from order to delivery where Stores states none.",
)


@fault(
    title="Next outage before this one",
    part=PART,
    source=cite("reading"),
    about=("outage_start_entered", "next_outage_entered"),
    per=Per.OUTAGE,
    excel="{next_outage}<={outage_start}",
    words="The next outage begins before this one, or on the same day: type the later date.",
)
def next_outage_too_early(next_outage: Num, outage_start: Num) -> Any:
    """Says that the two dates are in the wrong order."""
    return next_outage <= outage_start


@derived(
    title="Needed on site by",
    unit="date",
    part=PART,
    source=cite("arithmetic"),
    per=Per.OUTAGE,
    excel="{outage_start}-{days_before_start}",
)
def needed_by(outage_start: Num, days_before_start: Num) -> Num:
    """The last day on which everything can arrive."""
    return outage_start - days_before_start


declare_check(PART, "check_outage", "Check outage", "OK, or what is wrong with what is typed for all of it.", per=Per.OUTAGE, used="")
