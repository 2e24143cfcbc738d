"""One row of a list read into the entries of its valve, in the units of its own unit set."""

from __future__ import annotations

import math
import statistics
from typing import TYPE_CHECKING, Final

from sheetcalc.findings import (
    ConvertedUnit,
    DateInPlan,
    DateNotNumber,
    DateNotText,
    DateWasFraction,
    Finding,
    FormulaWithoutValue,
    FractionInMetricRow,
    GuessedComma,
    GuessedPercent,
    MissingTag,
    MissingUnitSet,
    NotANumber,
    PnFlange,
    RepeatedTag,
    UnitWithoutSet,
    UnknownUnit,
    UnknownUnitSet,
)
from sheetcalc.intake import choices
from sheetcalc.intake.cells import is_date, plain, says_not_given, says_nothing, written
from sheetcalc.intake.columns import Columns
from sheetcalc.intake.entries import (
    COUNT_COLUMNS,
    DIMENSIONS,
    FACTOR_COLUMNS,
    FREE_TEXT_COLUMNS,
    LENGTH_COLUMNS,
    MEASURED_AS,
    NUMBER_COLUMNS,
    PLAN_COLUMNS,
    SHARE_COLUMNS,
    TEXT_COLUMNS,
)
from sheetcalc.intake.files import Cells
from sheetcalc.intake.guesses import GuessedThousands, NotAPair, NotGiven, RoughNumber, TwoNumbers, UnitDoubt
from sheetcalc.intake.sizes import flange_size, is_pn
from sheetcalc.intake.values import Reading, numbered, pair, read_value
from sheetcalc.intake.valve_rows import Row
from sheetcalc.units import COHERENT, UNIT_SETS, factor, shown, zero

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

#: Fractions from this denominator on are read off an inch rule, not meant as half a millimetre.
_INCH_RULE: Final = 8
#: Which unit set a unit belongs to.
_KIND: Final = {"mm": "metric", "cm": "metric", "m": "metric", "in": "US", "ft": "US"}
_STEM: Final = "stem_diameter_entered"
_SIZE: Final = "flange_size"
#: Lengths that are so far apart between valves of one list as millimetres and inches are only where a unit is wrong.
_DOUBTED: Final = (_STEM, "box_bore_entered", "box_depth_entered")
_FAR: Final = 8
_NEAR: Final = 3
_LEAST_FOR_DOUBT: Final = 4


def read_row(row: Row, columns: Columns, cells: Cells, table: dict[str, list[object]]) -> None:
    """Read one valve into the table's columns."""
    row.tag = written(row.cell(columns.places.get("tag"))).strip()
    for name in TEXT_COLUMNS:
        if name != "unit_set":
            table[name].append(_text(row, name, columns))
        _check_text(row, name, columns, cells)
    names = (*DIMENSIONS, *COUNT_COLUMNS, *SHARE_COLUMNS, *FACTOR_COLUMNS, *NUMBER_COLUMNS)
    readings = {name: _read_number(row, name, columns, cells) for name in names}
    row_set = _unit_set(row, columns, readings)
    table["unit_set"].append(row_set)
    for name, reading in readings.items():
        place = columns.places.get(name)
        if place is None or reading.blank:
            table[name].append(math.nan)
        elif reading.number is None:
            table[name].append(written(row.cell(place)).strip())
        elif name in DIMENSIONS and reading.fault is None:
            table[name].append(_measurement(row, name, reading, row_set, columns))
        elif name in SHARE_COLUMNS + FACTOR_COLUMNS and reading.fault is None:
            table[name].append(_share(row, name, reading, columns, cells))
        else:
            table[name].append(reading.number)


def _text(row: Row, name: str, columns: Columns) -> str:
    """One text entry: as typed for people, in the listed words for codes, blank where the cell says that nothing is known."""
    place = columns.places.get(name)
    cell = row.cell(place)
    if name == "tag" or name in FREE_TEXT_COLUMNS:
        return written(cell).strip()
    code = _size(cell, columns)[0] if name == _SIZE else choices.code(name, cell)
    # A gasket called "none" is none: it must not be ordered. A size is a number.
    as_number = name in {"gasket", "gasket_kind", _SIZE}
    if place is not None and code and says_not_given(cell, number=as_number) and code == plain(cell):
        row.find(NotGiven, columns.headers[place].text, code)
        return ""
    return code


def _size(cell: object, columns: Columns) -> tuple[str, type[Finding] | None]:
    """The size of a flange in a cell, as its column has it, and what is to be said of it."""
    return flange_size(cell, said=columns.sizes_in, among_dn=columns.bare_dn)


def _check_text(row: Row, name: str, columns: Columns, cells: Cells) -> None:
    """Speak of a text cell that holds a date, or a formula without its result, and of a size that was not plain."""
    place = columns.places.get(name)
    if place is None:
        return
    cell = row.cell(place)
    if is_date(cell):
        row.find(DateNotText, columns.headers[place].text, plain(cell))
    elif (row.number - 1, place) in cells.formulas:
        row.find(FormulaWithoutValue, columns.headers[place].text, plain(cell))
    elif name == _SIZE and not says_not_given(cell, number=True):
        size, kind = _size(cell, columns)
        if kind is not None:
            text = plain(cell)
            row.find(kind, columns.headers[place].text, text if size == text else f"{text} was read as {size}")


def _read_number(row: Row, name: str, columns: Columns, cells: Cells) -> Reading:
    """Read one number cell, with its findings."""
    place = columns.places.get(name)
    if place is None:
        return Reading(blank=True)
    cell = row.cell(place)
    column = columns.headers[place].text
    shown = written(cell).strip()
    if (row.number - 1, place) in cells.formulas:
        # A column of two measurements comes here twice.
        if not any(isinstance(one, FormulaWithoutValue) and one.column == column for one in row.findings):
            row.find(FormulaWithoutValue, column, shown)
        return Reading()
    if place in columns.pairs:
        reading = _half(row, name, columns)
    elif name == "flange_class_entered" and is_pn(cell):
        # Kept as text it would be called a faulty class in every valve that stays in its line.
        reading = Reading(blank=True, fault=PnFlange)
    else:
        bare = numbered(name, cell)
        reading = read_value(bare, counts=name in COUNT_COLUMNS, dimension=MEASURED_AS.get(name, ""))
    if reading.unit == "%" and name not in SHARE_COLUMNS + FACTOR_COLUMNS:
        reading = Reading(fault=UnknownUnit if name in MEASURED_AS else NotANumber)
    if name in NUMBER_COLUMNS + PLAN_COLUMNS and name not in MEASURED_AS and reading.bottom > 1:
        # A pH of 6/8 is two limits, and crew 1/2 is two crews.
        reading = Reading(fault=TwoNumbers)
    if name in PLAN_COLUMNS and reading.fault in {DateNotNumber, DateWasFraction}:
        # Nobody types a fraction of an inch for a day.
        reading = Reading(fault=DateInPlan)
    _speak(row, column, shown, reading)
    return reading


def _speak(row: Row, column: str, text: str, reading: Reading) -> None:
    """Speak of what was not plain in the reading of one cell."""
    if reading.fault is DateWasFraction:
        text = f"{text} is a date, probably {' or '.join(reading.fractions)}"
    if reading.fault:
        # Both halves of a cell of two have the same fault: it is said once.
        if not any(isinstance(one, reading.fault) and one.column == column for one in row.findings):
            row.find(reading.fault, column, text)
    else:
        guesses: tuple[tuple[type[Finding], bool], ...] = (
            (GuessedComma, reading.guessed_comma),
            (GuessedThousands, reading.thousands),
            (RoughNumber, reading.rough),
            (NotGiven, reading.not_given),
        )
        for kind, made in guesses:
            if made and not any(isinstance(one, kind) and one.column == column for one in row.findings):
                row.find(kind, column, text)


def _half(row: Row, name: str, columns: Columns) -> Reading:
    """One of the two measurements of a cell under a header of two."""
    place = columns.places[name]
    cell = row.cell(place)
    if says_nothing(cell) or says_not_given(cell, number=True):
        return read_value(cell)
    says = columns.places.get("unit_set")
    row_set = choices.unit_set(row.cell(says)) if says is not None else ""
    both = pair(cell, metric=columns.units.get(place) in {"mm", "cm"} or row_set == "metric")
    if both is None:
        whole = read_value(cell)
        return Reading(fault=DateWasFraction if whole.fault is DateWasFraction else NotAPair, fractions=whole.fractions)
    return read_value(both[0 if columns.headers[place].entry == name else 1])


def _unit_set(row: Row, columns: Columns, readings: dict[str, Reading]) -> str:
    """The unit set of a row: what it says, else what its lengths say, else ""."""
    place = columns.places.get("unit_set")
    said = choices.unit_set(row.cell(place)) if not says_nothing(row.cell(place)) else ""
    if said:
        if said not in UNIT_SETS and place is not None:
            row.find(UnknownUnitSet, columns.headers[place].text, said)
        return said
    kinds = {}
    for name in LENGTH_COLUMNS:
        reading = readings[name]
        unit = reading.unit or columns.units.get(columns.places.get(name, -1), "")
        if unit and reading.number is not None and reading.fault is None:
            kinds[name] = _KIND[unit]
    if len(set(kinds.values())) == 1:
        return next(iter(kinds.values()))
    if _STEM in kinds:
        return kinds[_STEM]
    row.find(MissingUnitSet, columns.headers[place].text if place is not None else "")
    return ""


def _measurement(row: Row, name: str, reading: Reading, row_set: str, columns: Columns) -> object:
    """One measurement in the unit of its row, or as text where the row has no unit set and the measurement a unit."""
    number, place = reading.number, columns.places[name]
    if number is None:
        return math.nan
    column, column_unit = columns.headers[place].text, columns.units.get(place, "")
    unit = reading.unit or column_unit
    typed = written(row.cell(place)).strip()
    with_unit = typed if reading.unit or not unit else f"{typed} {shown(unit)}"
    if row_set not in UNIT_SETS:
        if not unit:
            return number
        row.find(UnitWithoutSet, column, with_unit)
        return with_unit
    dimension = DIMENSIONS[name]
    wanted = UNIT_SETS[row_set][dimension]
    if not unit:
        if wanted == "mm" and reading.bottom >= _INCH_RULE:
            row.find(FractionInMetricRow, column, typed)
        return number
    if unit == wanted:
        return number
    row.find(ConvertedUnit, column, with_unit)
    return _converted(number, unit, wanted, COHERENT[dimension])


def _converted(number: float, unit: str, wanted: str, coherent: str) -> float:
    """A number in another unit, by way of the coherent one: its factors are exact, so that 28 mm in inches is 28/25.4."""
    if coherent != "degC":
        return number * factor(unit, coherent) / factor(wanted, coherent)
    # Kelvin has its zero at nothing, so it is where Celsius starts in it that counts.
    celsius = number + zero(coherent, "K") if unit == "K" else (number - zero(unit, coherent)) / factor(coherent, unit)
    return celsius * factor(coherent, wanted) + zero(wanted, coherent)


def _share(row: Row, name: str, reading: Reading, columns: Columns, cells: Cells) -> object:
    """One share of one: a sign, the cell's format, the header and at last the size say whether it was per cent.

    The size says it for shares alone: of a factor nobody thinks in per cent.
    """
    number, place = math.nan if reading.number is None else reading.number, columns.places[name]
    if reading.unit == "%":
        return number / 100
    if number == 0 or (row.number - 1, place) in cells.percents:
        return number
    asks_percent = place in columns.percents
    as_percent = number >= 1 if asks_percent else number > 1 and name in SHARE_COLUMNS
    if as_percent != asks_percent:
        row.find(GuessedPercent, columns.headers[place].text, written(row.cell(place)).strip())
    return number / 100 if as_percent else number


def check_tag(row: Row, columns: Columns, seen: set[str]) -> None:
    """Speak of a tag that is missing or stands in an earlier row."""
    place = columns.places.get("tag")
    if place is None:
        # The missing column has been reported once for the whole list.
        return
    column = columns.headers[place].text
    if not row.tag:
        row.find(MissingTag, column)
        return
    key = plain(row.tag).casefold()
    if key in seen:
        row.find(RepeatedTag, column, row.tag)
    seen.add(key)


def doubt_units(rows: Sequence[Row], columns: Columns, table: Mapping[str, list[object]]) -> None:
    """Speak of bare lengths that suit the other valves of their unit set only in the other unit."""
    for name in _DOUBTED:
        place = columns.places.get(name)
        if place is None:
            continue
        lengths = [value if isinstance(value, float) and value > 0 else math.nan for value in table[name]]
        for unit_set, other in (("metric", 25.4), ("US", 1 / 25.4)):
            own = [at for at, value in enumerate(lengths) if table["unit_set"][at] == unit_set and not math.isnan(value)]
            if len(own) < _LEAST_FOR_DOUBT:
                continue
            middle = statistics.median(lengths[at] for at in own)
            for at in own:
                value = lengths[at]
                is_far = value * _FAR < middle if other > 1 else value > middle * _FAR
                would_suit = middle / _NEAR < value * other < middle * _NEAR
                if is_far and would_suit and not read_value(rows[at].cell(place)).unit:
                    rows[at].find(UnitDoubt, columns.headers[place].text, written(rows[at].cell(place)).strip())
