"""What may burn in oxygen: it passes by a test report of that very product, which reaches the temperature and pressure of the service."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick
from sheetcalc.declare.blocks import derive, fault_where
from sheetcalc.declare.quantity import Gravity
from sheetcalc.reference.sources import cite

SOURCE: Final = cite("oxygen-tests")
#: Report, temperature and pressure of the lubricants on Tables.
LUBRICANT_REPORTS: Final = ("lubricant_oxygen_reports", "lubricant_oxygen_temperatures", "lubricant_oxygen_pressures")


def _asked(value: int, fluid_kind: Any, excuse: Any, *asked: Any) -> Any:
    """Where a report is asked: in oxygen, without the excuse, where each question of those asked is 1."""
    out = (fluid_kind == "oxygen") & (excuse != value)
    for one in asked:
        out = out & (one == 1)
    return out


def _unproved(value: int, *held: Any) -> Any:
    *asking, report, row, temperature, pressure = held
    return _asked(value, *asking) & ((pick(row, report) == "") | np.isnan(temperature) | np.isnan(pressure))


def _beyond(value: int, *held: Any) -> Any:
    *asking, temperature, hottest, pressure, most, digits = held
    return _asked(value, *asking) & (above_zero(temperature - hottest, digits) | above_zero(pressure - most, digits))


def judged_by_report(
    name: str,
    *,
    what: str,
    part: str,
    row: str,
    columns: tuple[str, str, str],
    passed_over: tuple[str, int],
    about: str,
    sheet: str,
    otherwise: str,
    asked: Sequence[str] = (),
) -> None:
    """Declare how far the report of a thing reaches, and that it is missing or does not reach the service: both are a stop.

    `columns` hold report, temperature and pressure of each row of the table. Nothing is said where the quantity `passed_over` has
    that value, nor where one of `asked` is not 1.
    """
    reports, temperatures, pressures = columns
    reaches = f"{name}_oxygen_temperature", f"{name}_oxygen_pressure"
    for one, column, title, unit, measured in (
        (reaches[0], temperatures, "temperature", "degC", ""), (reaches[1], pressures, "pressure", "MPa", "pressure"),
    ):  # fmt: skip
        derive(
            one,
            (column, row),
            lambda held, place: pick(place, held),
            f"The highest {title} for which the oxygen report of the {what} holds.",
            title=f"Oxygen report of the {what}: {title}",
            unit=unit,
            part=part,
            source=SOURCE,
            measured_as=measured,
            excel=f"INDEX({{{column}}},{{{row}}})",
        )
    excuse, value = passed_over
    first = ("fluid_kind", excuse, *asked)
    tests = "".join(f"{{{one}}}=1," for one in asked)
    in_oxygen = f'{tests}EXACT({{fluid_kind}},"oxygen"),NOT({{{excuse}}}={value})'
    fault_where(
        f"{name}_no_report",
        (*first, reports, row, *reaches),
        lambda *held: _unproved(value, *held),
        f"Says that nobody has shown that the {what} does not burn in oxygen.",
        title=f"No oxygen report of the {what}",
        part=part,
        gravity=Gravity.STOP,
        source=SOURCE,
        about=(about, "fluid_kind_entered"),
        optional=(excuse, *reaches),
        words=f"In oxygen the {what} needs its maker's test report for this temperature and pressure: type it on {sheet}, or {otherwise}.",
        excel=f'AND({in_oxygen},OR(INDEX({{{reports}}},{{{row}}})="",COUNT({",".join(f"{{{one}}}" for one in reaches)})<2))',
    )
    service = ("fluid_temperature", "line_pressure")
    over = ",".join(f"ROUND({{{asks}}}-{{{holds}}},{{counting_digits}})>0" for asks, holds in zip(service, reaches, strict=True))
    fault_where(
        f"{name}_report_low",
        (*first, service[0], reaches[0], service[1], reaches[1], "counting_digits"),
        lambda *held: _beyond(value, *held),
        f"Says that the {what} was tested for less than the service.",
        title=f"Oxygen report of the {what} too low",
        part=part,
        gravity=Gravity.STOP,
        source=SOURCE,
        about=(about, "fluid_temperature_entered", "line_pressure_entered"),
        optional=(excuse,),
        words=f"The oxygen test report of the {what} does not reach this temperature and pressure: ask its maker for one, or {otherwise}.",
        excel=f"AND({in_oxygen},OR({over}))",
    )
