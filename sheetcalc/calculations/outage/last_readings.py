"""Of each valve followed: the last repack, the readings since, and the last of each kind."""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import count_below, count_where, smallest
from sheetcalc.calculations.outage.follow_up import PART
from sheetcalc.calculations.outage.log import LOGGED, SORTED, row_of
from sheetcalc.declare.blocks import derive, derived
from sheetcalc.declare.quantity import Num, Per


@derived(
    title="Start of the codes",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel="{followed_valve}*{day_base}*{row_base}",
)
def followed_floor(followed_valve: Num, day_base: float, row_base: float) -> Num:
    """A whole number below every code of this valve."""
    return followed_valve * day_base * row_base


@derived(
    title="End of the codes",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel="{followed_floor}+{day_base}*{row_base}",
)
def followed_ceiling(followed_floor: Num, day_base: float, row_base: float) -> Num:
    """A whole number above every code of this valve."""
    return followed_floor + day_base * row_base


#: What a row of the log can be, how it is called, and which code of it is the last of its kind.
for _kind, _what in (
    ("repack", "repack"),
    ("adjust", "adjustment"),
    ("gap", "gap read"),
    ("leak", "leak read"),
    ("torque", "word on torque"),
):
    derive(
        f"followed_last_{_kind}",
        (f"every_log_{_kind}_code", "followed_ceiling"),
        lambda codes, ceiling: np.nan_to_num(smallest(codes, count_below(codes, ceiling))),
        f"The greatest code of a {_what} up to this valve: an earlier valve's where it has none itself, 0 where none has.",
        title=f"Code of the last {_what}",
        unit="1",
        part=PART,
        source=SORTED,
        per=Per.FOLLOWED,
        excel=f'IFERROR(SMALL({{every_log_{_kind}_code}},COUNTIF({{every_log_{_kind}_code}},"<"&{{followed_ceiling}})),0)',
    )


@derived(
    title="Code from which readings count",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel="MAX({followed_floor},{followed_last_repack})",
)
def followed_restart(followed_floor: Num, followed_last_repack: Num) -> Num:
    """The code of the last repack; where there is none, the start of the valve's codes."""
    return np.maximum(followed_floor, followed_last_repack)


@derived(
    title="Last repack",
    unit="date",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel='IF({followed_last_repack}>{followed_floor},INDEX({every_log_date},MATCH({followed_last_repack},{every_log_repack_code},0)),"")',
)
def last_repack(followed_last_repack: Num, followed_floor: Num, every_log_date: Num, every_log_repack_code: Num) -> Num:
    """The date of the last repack in the log, up to the status date."""
    found = row_of(followed_last_repack, every_log_repack_code)
    return np.where(followed_last_repack > followed_floor, pick(found, every_log_date), np.nan)


@derived(
    title="Readings that count",
    unit="1",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="COUNTIF({every_log_counted},{followed_valve})",
)
def readings(every_log_counted: Num, followed_valve: Num) -> Any:
    """How many gap readings of the valve there are since its last repack, the first one at the repack included."""
    return count_where(every_log_counted, followed_valve)


@derived(
    title="Code of the last gap that counts",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel='IF({readings}>0,{followed_last_gap},"")',
)
def last_gap_code(readings: Num, followed_last_gap: Num) -> Num:
    """The code of the last gap that counts."""
    return np.where(readings > 0, followed_last_gap, np.nan)


@derived(
    title="Code of the first gap that counts",
    unit="1",
    part=PART,
    source=SORTED,
    per=Per.FOLLOWED,
    excel='IF({readings}>0,SMALL({every_log_gap_code},1+COUNTIF({every_log_gap_code},"<"&{followed_restart})),"")',
)
def first_gap_code(readings: Num, every_log_gap_code: Num, followed_restart: Num) -> Num:
    """The code of the first gap that counts."""
    return np.where(readings > 0, smallest(every_log_gap_code, 1 + count_below(every_log_gap_code, followed_restart)), np.nan)


for _name, _column, _code, _title, _unit, _says in (
    ("first_reading_date", "log_date", "first_gap_code", "First reading", "date", "The date of the first gap that counts."),
    ("last_reading_date", "log_date", "last_gap_code", "Last reading", "date", "The date of the last gap that counts."),
    ("last_gap", "log_gap", "last_gap_code", "Last gap", "mm", "The smaller gap of the last reading that counts."),
    (
        "last_gap_difference",
        "log_gap_difference",
        "last_gap_code",
        "Last gap difference",
        "mm",
        "How far the two gaps differ at the last reading that counts; blank where one gap alone was read.",
    ),
):
    derive(
        _name,
        (f"every_{_column}", _code, "every_log_gap_code"),
        lambda column, code, codes: pick(row_of(code, codes), column),
        _says,
        title=_title,
        unit=_unit,
        part=PART,
        source=LOGGED,
        per=Per.FOLLOWED,
        excel=f"INDEX({{every_{_column}}},MATCH({{{_code}}},{{every_log_gap_code}},0))",
    )


@derived(
    title="Take-up left",
    unit="mm",
    part=PART,
    source=LOGGED,
    per=Per.FOLLOWED,
    excel="{last_gap}-{followed_take_up}",
)
def take_up_left(last_gap: Num, followed_take_up: Num) -> Num:
    """How much the gland can still be drawn down before the least take-up is reached."""
    return last_gap - followed_take_up
