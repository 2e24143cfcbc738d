"""What pressure the flanges bear at the temperature of the fluid: the rating of their class and group of material.

It is judged wherever class and material are typed, whether the valve comes out or not.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import above_zero, pick, pick_in, rounded, row_ignoring_case
from sheetcalc.calculations.given import OVERRIDE, given
from sheetcalc.calculations.joint.flange import PART, READING
from sheetcalc.declare.blocks import derive, derived, fault
from sheetcalc.declare.quantity import Gravity, Num, Text, get
from sheetcalc.reference.sources import cite

RATINGS = cite("flange-ratings")


@derived(
    title="Row of the material of the flanges",
    unit="1",
    part=PART,
    source=READING,
    excel="MATCH({flange_material},{flange_material_names},0)",
)
def flange_material_row(flange_material: Text, flange_material_names: list[str]) -> Num:
    """Where the material of the flanges stands on Tables."""
    return row_ignoring_case(flange_material, flange_material_names)


_FIGURES: Final = {
    "flange_material_least": ("material_temperatures_least", "Lowest temperature of the flange material"),
    "flange_material_look": ("material_temperatures_look", "Temperature of the flange material to be looked at"),
    "flange_material_most": ("material_temperatures_most", "Highest temperature of the flange material"),
    "flange_rating_convex": ("material_ratings_convex", "Temperature from which ratings are convex"),
    "flange_rating_group": ("material_rating_rows", "Rows before the ratings of the group"),
}
for _name, (_column, _title) in _FIGURES.items():
    derive(
        _name,
        (_column, "flange_material_row"),
        lambda column, row: pick(row, column),
        f"{_title}, from its row on Tables; blank where none is stated.",
        title=_title,
        unit=get(_column).unit,
        part=PART,
        source=get(_column).source,
        excel=f"INDEX({{{_column}}},{{flange_material_row}})",
    )


@derived(
    title="Temperature of the flange rating",
    unit="degC",
    part=PART,
    source=RATINGS,
    empirical="a scale with a zero of its own",
    excel="ROUND(MAX({fluid_temperature},INDEX({rating_temperatures},1)),{counting_digits})",
)
def flange_rating_temperature(fluid_temperature: Num, rating_temperatures: Num, counting_digits: float) -> Num:
    """The temperature at which the rating is read: below the first one listed the rating is that of the first."""
    out: Num = rounded(np.maximum(fluid_temperature, rating_temperatures[0]), counting_digits)
    return out


@derived(
    title="Place of the temperature among the ratings",
    unit="1",
    empirical="a table search in degrees Celsius",
    part=PART,
    source=RATINGS,
    excel='IF({flange_rating_temperature}>MAX({rating_temperatures}),"",'
    "MIN(COUNT({rating_temperatures})-1,MATCH({flange_rating_temperature},{rating_temperatures})))",
)
def flange_rating_place(flange_rating_temperature: Num, rating_temperatures: Num) -> Any:
    """Which of the listed temperatures is the next one below; blank beyond the last."""
    listed = np.asarray(rating_temperatures, dtype=float)
    place = np.minimum(np.searchsorted(listed, flange_rating_temperature, side="right"), len(listed) - 1)
    return np.where(flange_rating_temperature <= listed[-1], place.astype(float), np.nan)


for _name, _more, _title in (
    ("flange_rating_below", 0, "Flange rating, next below"),
    ("flange_rating_above", 1, "Flange rating, next above"),
):
    derive(
        _name,
        ("flange_ratings", "flange_rating_group", "flange_rating_place", "flange_class_column"),
        lambda ratings, before, place, column, more=_more: pick_in(before + place + more, column, ratings),
        f"The rating of group and class at the listed temperature next {'above' if _more else 'below'}.",
        title=_title,
        unit="MPa",
        part=PART,
        source=RATINGS,
        measured_as="pressure",
        excel=f"INDEX({{flange_ratings}},{{flange_rating_group}}+{{flange_rating_place}}{'+1' * _more},{{flange_class_column}})",
    )


@derived(
    title="Share of the step between ratings",
    unit="1",
    part=PART,
    source=RATINGS,
    empirical="a share of a step on a scale with a zero of its own",
    excel="({flange_rating_temperature}-INDEX({rating_temperatures},{flange_rating_place}))/"
    "(INDEX({rating_temperatures},{flange_rating_place}+1)-INDEX({rating_temperatures},{flange_rating_place}))",
)
def flange_rating_share(flange_rating_temperature: Num, rating_temperatures: Num, flange_rating_place: Num) -> Any:
    """How far the temperature is from the listed one below to that above."""
    low, high = pick(flange_rating_place, rating_temperatures), pick(flange_rating_place + 1, rating_temperatures)
    return (flange_rating_temperature - low) / (high - low)


@derived(
    title="Share of the step, where ratings are convex",
    unit="1",
    part=PART,
    source=RATINGS,
    excel="IF({flange_rating_temperature}>{flange_rating_convex},1,{flange_rating_share})",
)
def flange_rating_step(flange_rating_convex: Num, flange_rating_temperature: Num, flange_rating_share: Num) -> Any:
    """The same; the whole step where a straight line between the two would give more than the flanges bear."""
    return np.where(flange_rating_temperature > flange_rating_convex, 1.0, flange_rating_share)


@derived(
    title="Flange pressure limit by Tables",
    unit="MPa",
    part=PART,
    source=RATINGS,
    measured_as="pressure",
    excel="{flange_rating_below}+{flange_rating_step}*({flange_rating_above}-{flange_rating_below})",
)
def flange_rating_table(flange_rating_below: Num, flange_rating_step: Num, flange_rating_above: Num) -> Num:
    """The greatest pressure of class and group of material at this temperature, on a straight line between the listed ones."""
    return (1 - flange_rating_step) * flange_rating_below + flange_rating_step * flange_rating_above


given(
    "flange_rating",
    title="Flange pressure limit",
    symbol="",
    unit="MPa",
    part=PART,
    measured_as="pressure",
    usual="flange_rating_table",
    low="0",
    high="largest_pressure",
    remedy=OVERRIDE,
    noted=True,
    sentence="The greatest pressure that the flanges bear at the temperature of the fluid.",
)


@fault(
    title="Pressure above the flange rating",
    part=PART,
    gravity=Gravity.STOP,
    source=RATINGS,
    about=("line_pressure_entered", "fluid_temperature_entered", "flange_class_entered", "flange_material_entered"),
    words="The line pressure is above what these flanges bear at this temperature: look at pressure, temperature, class and material "
    "again, then ask the owner's engineer.",
    excel="ROUND({line_pressure}-{rating_slack}*{flange_rating},{counting_digits})>0",
)
def flange_over_rated(line_pressure: Num, rating_slack: float, flange_rating: Num, counting_digits: float) -> Any:
    """Says that the pressure is above the rating, beyond what its rounding explains."""
    return above_zero(line_pressure - flange_rating * rating_slack, counting_digits)


@fault(
    title="Too hot for the flanges",
    part=PART,
    gravity=Gravity.STOP,
    source=RATINGS,
    about=("fluid_temperature_entered", "flange_material_entered"),
    words="The fluid is hotter than flanges of this material are rated for here: look at both again, then ask the owner's engineer.",
    excel="ROUND({fluid_temperature}-{flange_material_most},{counting_digits})>0",
)
def flange_too_hot(fluid_temperature: Num, flange_material_most: Num, counting_digits: float) -> Any:
    """Says that the temperature is beyond the ratings of the material."""
    return above_zero(fluid_temperature - flange_material_most, counting_digits)


@fault(
    title="Too cold for the flanges",
    part=PART,
    gravity=Gravity.STOP,
    source=RATINGS,
    about=("fluid_temperature_entered", "flange_material_entered"),
    words="The fluid is colder than flanges of this material are rated for, and they may be brittle: look at both again, then ask the "
    "owner's engineer.",
    excel="ROUND({flange_material_least}-{fluid_temperature},{counting_digits})>0",
)
def flange_too_cold(flange_material_least: Num, fluid_temperature: Num, counting_digits: float) -> Any:
    """Says that the temperature is below the ratings of the material."""
    return above_zero(flange_material_least - fluid_temperature, counting_digits)


@fault(
    title="Flanges hot for long",
    part=PART,
    source=cite("flange-notes"),
    about=("fluid_temperature_entered", "flange_material_entered"),
    optional=("flange_too_hot",),
    words="Carbon steel so hot for long loses strength as its carbide turns to graphite: ask the owner's engineer "
    "whether these flanges stay.",
    excel='AND({flange_too_hot}="",ROUND({fluid_temperature}-{flange_material_look},{counting_digits})>0)',
)
def flange_hot_for_long(flange_too_hot: Any, fluid_temperature: Num, flange_material_look: Num, counting_digits: float) -> Any:
    """Says that the material is not meant for long use at this temperature."""
    return ~flange_too_hot & above_zero(fluid_temperature - flange_material_look, counting_digits)


@fault(
    title="Flanges without a rating",
    part=PART,
    withholds=("flange_bolt_torque",),
    source=RATINGS,
    about=("flange_material_entered",),
    optional=("flange_rating_group", "flange_rating_typed"),
    words="Steel whose group is not named has no rating here, so no torque: choose the group of the flange material, or type "
    "Flange pressure limit.",
    excel="AND({flange_asked}=1,{flange_material_allows}=1,COUNT({flange_rating_group},{flange_rating_typed})=0)",
)
def flange_group_missing(flange_asked: Num, flange_material_allows: Num, flange_rating_group: Num, flange_rating_typed: Num) -> Any:
    """Says that nobody knows what pressure the flanges bear."""
    unknown = np.isnan(flange_rating_group) & np.isnan(flange_rating_typed)
    return (flange_asked == 1) & (flange_material_allows == 1) & unknown
