"""How hot and how cold bolts of a grade may be: the same figures and the same questions for gland studs and for flange bolts."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick
from sheetcalc.declare.blocks import derive, fault_where
from sheetcalc.declare.quantity import Gravity
from sheetcalc.reference.sources import cite

_SOURCE: Final = cite("bolt-temperatures")
#: Each figure of a grade, with its title and what it says.
_FIGURES: Final = (
    ("least", "lowest temperature", "The fluid should be no colder than this with bolts of the grade."),
    ("look", "look above", "Above this fluid temperature bolts of the grade weaken or relax with time."),
    ("most", "highest temperature", "The fluid should be no hotter than this with bolts of the grade."),
)


def _outside(fluid: Any, least: Any, most: Any, digits: float) -> Any:
    return above_zero(np.fmax(fluid - most, least - fluid), digits)


def _relaxing(fluid: Any, look: Any, most: Any, digits: float) -> Any:
    return above_zero(fluid - look, digits) & ~above_zero(fluid - most, digits)


def _not_stated(fluid: Any, row: Any, least: Any, most: Any, digits: float) -> Any:
    return ~np.isnan(row) & (np.isnan(most) | (np.isnan(least) & above_zero(-fluid, digits)))


def declare_hot_bolting(bolts: str, called: str, *, part: str, row: str, grade: str, outside: Gravity, words: tuple[str, str, str]) -> None:
    """The temperatures of the bolts' grade, from its row, and what is said where the fluid is beyond them, or they are not stated.

    `words` are said outside of the range, above the temperature that asks for a look, and where the grade's row states no limit on
    that side: heat always asks for one, cold below 0 degrees Celsius. Bolts that run cooler than the fluid are not stopped, and what
    relaxes them is no more than a note.
    """
    for key, title, sentence in _FIGURES:
        derive(
            f"{bolts}_temperature_{key}",
            (f"grade_temperatures_{key}", row),
            lambda column, row: pick(row, column),
            sentence,
            title=f"{called}, {title}",
            unit="degC",
            part=part,
            source=_SOURCE,
            excel=f"INDEX({{grade_temperatures_{key}}},{{{row}}})",
        )
    least, look, most = (f"{{{bolts}_temperature_{key}}}" for key, _title, _sentence in _FIGURES)
    fluid, digits = "{fluid_temperature}", "{counting_digits}"
    hotter = f"ROUND({fluid}-MIN({fluid},{most}),{digits})"
    questions: tuple[tuple[str, str, Gravity, tuple[str, ...], Callable[..., Any], str], ...] = (
        ("out_of_range", "outside of their temperatures", outside, ("least", "most"), _outside,
         f"ROUND(MAX({fluid}-MIN({fluid},{most}),MAX({fluid},{least})-{fluid}),{digits})>0"),
        ("relaxing", "so hot that they relax", Gravity.LOOK if outside is Gravity.STOP else Gravity.NOTE, ("look", "most"), _relaxing,
         f"AND(ROUND({fluid}-{look},{digits})>0,{hotter}=0)"),
        ("range_unstated", "without a temperature limit", Gravity.LOOK, (row, "least", "most"), _not_stated,
         f"OR(COUNT({{{row}}},{most})<2,AND(ROUND({fluid},{digits})<0,COUNT({least})=0))"),
    )  # fmt: skip
    for (key, title, gravity, others, function, excel), said in zip(questions, words, strict=True):
        fault_where(
            f"{bolts}_{key}",
            ("fluid_temperature", *(one if one == row else f"{bolts}_temperature_{one}" for one in others), "counting_digits"),
            function,
            f"Says that the {called.lower()} are {title}.",
            title=f"{called} {title}",
            words=said,
            excel=excel,
            about=(grade, "fluid_temperature_entered"),
            source=_SOURCE,
            part=part,
            gravity=gravity,
            optional=tuple(f"{bolts}_temperature_{one}" for one in ("least", "most") if one in others),
        )
