"""Valves as a pandas frame, worked out for a person: cells are read as he types them, and what comes back is what he asked for.

`sheetcalc.calculations.run.calculate` is the core's own: numbers and codes in, every quantity out.
"""

from __future__ import annotations

import datetime as dt
import math
import numbers
import warnings
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from typing import Any, Final

import numpy as np
import pandas as pd

from sheetcalc.calculations.answers import PARTS_OF, Answers, answering, answers_named, whole
from sheetcalc.calculations.run import entry_names, read_entries, worked_out
from sheetcalc.declare.quantity import Derived, Entry, Per, get, is_missing
from sheetcalc.errors import ListError, SheetcalcError, UnknownNameError, nearest
from sheetcalc.findings import (
    DateNotNumber,
    DateWasFraction,
    Finding,
    FractionInMetricRow,
    GuessedComma,
    PnFlange,
    UnclearComma,
    UnitWithoutSet,
    UnknownUnit,
)
from sheetcalc.intake import choices
from sheetcalc.intake.cells import says_nothing, written
from sheetcalc.intake.columns import Columns
from sheetcalc.intake.entries import ENTRY_COLUMNS, FREE_TEXT_COLUMNS
from sheetcalc.intake.files import Cells
from sheetcalc.intake.guesses import GuessedNps, GuessedThousands, RoughNumber, TwoNumbers
from sheetcalc.intake.headers import Header
from sheetcalc.intake.row_entries import read_row
from sheetcalc.intake.sizes import only_dn
from sheetcalc.intake.valve_rows import Row
from sheetcalc.sheets.common import unit_in, unit_shown
from sheetcalc.sheets.edition import entry_title
from sheetcalc.sheets.valves_columns import ANSWERS
from sheetcalc.units import UNIT_SETS

#: Why a cell was not read, where it is more than that it is no number.
_WHY: Final[dict[type[Finding], str]] = {
    DateNotNumber: "a date",
    DateWasFraction: "a date that may have been a fraction",
    PnFlange: "a PN, where a class is wanted",
    TwoNumbers: "two numbers",
    UnclearComma: "a comma of thousands or of decimals",
    UnitWithoutSet: "a unit in a row whose unit_set says neither metric nor US",
    UnknownUnit: "not a unit that is known here",
}
#: What is read although it may be meant otherwise, and how it was taken.
_GUESSES: Final[dict[type[Finding], str]] = {
    FractionInMetricRow: "a fraction of mm",
    GuessedComma: "a decimal comma",
    GuessedNps: "an NPS",
    GuessedThousands: "a mark of thousands",
    RoughNumber: "a number marked as rough",
}
_UNIT_SET: Final = "unit_set"
_SIZE: Final = "flange_size"
#: How many cells a sentence names, and how much of each it shows.
_NAMED: Final = 3
_LONGEST: Final = 40


def calculate(
    frame: pd.DataFrame | pd.Series[Any] | Mapping[Any, Any] | Iterable[Mapping[Any, Any]],
    *,
    answers: str | Iterable[str] | None = None,
    everything: bool = False,
    constants: Mapping[str, float | str] | None = None,
) -> pd.DataFrame:
    """Work out valves.

    Args:
        frame: a row a valve: a DataFrame, a dict of columns, a list of dicts; or one valve as a Series or a dict. A column is an entry
            by its name, with or without `_entered` (`tag`, `unit_set`, `stem_diameter`, ...). Cells are numbers in the unit of the
            row's `unit_set` (metric: mm, bar, MPa, N, kg, °C; US: in, psi, lbf, lb, °F), or texts as one types them (`1 1/8`, `28 mm`,
            `10 bar`, `30 %`). A row without a unit set has that of the units in its cells. Other columns are carried along, with a
            warning unless they are of a list's order and plan.
        answers: the name of a set (packing, repack, whole); or names of quantities and sets, of which a set stands for its main answers.
            None is repack, or whole where a column is of a flange, a lift or a valve that comes out.
        everything: whether all entries and all quantities that were worked out come back, by their own names.
        constants: assumptions other than as issued, by name.

    Returns:
        A frame with the index of `frame`: what is carried along, the entries that were given, under the names that they were given,
        and the main answers of the set; exactly the quantities that are named, where `answers` names any. Entries are the numbers and
        codes that were read, in the unit of the row's unit set, or the text as typed where it says that nothing is known; answers are
        in coherent units (mm, MPa, N, N·mm, kg, °), NaN or "" where something is missing, texts as categories. No number is infinite.
        `attrs["units"]` and `attrs["titles"]` say of each column but those carried along its unit and what it is.

    Raises:
        ListError: `frame` is nothing of the kind, has a column twice, or cells that cannot be read.
        UnknownNameError: no quantity, set or assumption has that name.
        SheetcalcError: `constants` is no dict, or the value of an assumption not of its kind.

    Warns:
        UserWarning: columns that are no entries; cells that were read in one way and may be meant in another.
    """
    table = _table(frame)
    places, others, unknown = _columns(table)
    wanted, names = _wanted(answers, places)
    _refuse_constants(constants or {})
    read = _Read(table.index, {entry: str(table.columns[at]) for entry, at in places.items()})
    read.take({entry: table.iloc[:, at] for entry, at in places.items()})
    for said in (_unknown_words(unknown, carried=everything or names is None), read.guess_words()):
        if said:
            warnings.warn(said, UserWarning, stacklevel=2)
    values = worked_out(read.typed(), len(table), constants=constants, answers=wanted)

    if everything:
        entries = [one for one in entry_names() if one in wanted or one in places]
        shown = {name: name for name in (*entries, *wanted.worked_out())}
    elif names is None:
        shown = {read.given[entry]: entry for entry in places} | {name: name for name in _main(wanted)}
    else:
        others, shown = [], {name: name for name in names}
    carried = {table.columns[at]: table.iloc[:, at].array.copy() for at in others}
    clash = [str(label) for label in carried if label in shown]
    if clash:
        message = f"{_few(clash)}: no entry, but the name of an answer, so rename such a column or leave it out."
        raise ListError(message)
    columns = {label: _column(name, read, values) for label, name in shown.items()}
    out = pd.DataFrame({**carried, **columns}, index=table.index, copy=False)
    out.attrs = {"units": {label: _unit(name) for label, name in shown.items()}}
    out.attrs["titles"] = {label: entry_title(get(name)) for label, name in shown.items()}
    return out


# --- what is given and what is wanted ----------------------------------------------------------------------------------


def _table(frame: Any) -> pd.DataFrame:
    """What was given as a frame with a row a valve."""
    if isinstance(frame, pd.DataFrame):
        out = frame
    elif isinstance(frame, pd.Series) and any(label in _aliases() for label in frame.index):
        out = pd.DataFrame([frame.to_list()], columns=frame.index, index=[0 if frame.name is None else frame.name])
    elif isinstance(frame, Mapping):
        is_one = bool(frame) and not any(pd.api.types.is_list_like(one) for one in frame.values())
        try:
            out = pd.DataFrame([frame] if is_one else dict(frame))
        except (TypeError, ValueError) as wrong:
            message = f"The columns of the dict make no table: {str(wrong).rstrip('.')}."
            raise ListError(message) from None
    elif isinstance(frame, (list, tuple)) and all(isinstance(one, Mapping) for one in frame):
        out = pd.DataFrame(list(frame))
    else:
        what = "a Series without an entry in its index" if isinstance(frame, pd.Series) else " ".join(repr(frame).split())[:_LONGEST]
        message = f"A DataFrame, a dict of columns, a list of dicts or a Series (one valve, its index the entries) is wanted, not {what}."
        raise ListError(message)
    if out.columns.nlevels > 1:
        message = "The columns have more than one level: give each one name."
        raise ListError(message)
    return out


@cache
def _aliases() -> dict[str, str]:
    """The entry of a valve that each name means, with and without its ending."""
    return {alias: name for name in entry_names() for alias in (name, name.removesuffix("_entered"))}


def _columns(table: pd.DataFrame) -> tuple[dict[str, int], list[int], list[str]]:
    """The place of each entry, the places of the other columns, and the names of those that nobody knows."""
    of_lists = {alias for name in entry_names(Per.LISTED) for alias in (name, name.removesuffix("_entered"))}
    places: dict[str, int] = {}
    others: list[int] = []
    unknown: list[str] = []
    seen: set[Any] = set()
    labels: list[Any] = list(table.columns)
    for at, label in enumerate(labels):
        entry = _aliases().get(label, "") if isinstance(label, str) else ""
        if label in seen or entry in places:
            two = f"{labels[places[entry]]} and {label} are" if entry in places else f"{label} is"
            message = f"{two} there twice, for one thing: keep one column of them."
            raise ListError(message)
        seen.add(label)
        if entry:
            places[entry] = at
            continue
        others.append(at)
        if label not in of_lists:
            unknown.append(str(label))
    return places, others, unknown


def _unknown_words(unknown: list[str], *, carried: bool) -> str:
    """The warning of columns that are no entries, "" where there are none."""
    names = [name.removesuffix("_entered") for name in entry_names()]
    does = "carried along" if carried else "left out"
    near = {one: nearest("_".join(one.casefold().split()).removesuffix("_entered"), names, 1) for one in unknown}
    return " ".join(f"Column {one!r} is not an entry and is {does}.{said}" for one, said in near.items())


def _wanted(answers: Any, entries: Iterable[str]) -> tuple[Answers, list[str] | None]:
    """What is to be worked out, and the names that were asked for one by one, None where a set was."""
    repack = answers_named("repack")
    usual = repack if all(entry in repack for entry in entries) else whole()
    if answers is None:
        return usual, None
    if isinstance(answers, str):
        if answers in PARTS_OF:
            return answers_named(answers), None
        answers = [answers]
    asked = list(answers) if isinstance(answers, Iterable) else [answers]
    if not all(isinstance(name, str) for name in asked):
        message = f"answers is the name of a set ({', '.join(PARTS_OF)}) or several names, not {repr(answers)[:_LONGEST]}."
        raise UnknownNameError(message)
    wanted = answering(asked, usual.name)
    names = [one for name in asked for one in (_main(answers_named(name)) if name in PARTS_OF else [name])]
    return wanted, list(dict.fromkeys(names))


def _main(answers: Answers) -> list[str]:
    """The main answers of a set, in the order in which they are read."""
    return [name for name in ANSWERS if name in answers]


def _refuse_constants(constants: Any) -> None:
    """Refuse what is no assumption, and a value of the wrong kind."""
    if not isinstance(constants, Mapping):
        message = f"constants is a dict of assumptions by name, not {repr(constants)[:_LONGEST]}."
        raise SheetcalcError(message)
    known = {one.name: one.issued for one in whole().constants()}
    for name, value in constants.items():
        if name not in known:
            message = f"No assumption is called {name!r}.{nearest(str(name), known)}"
            raise UnknownNameError(message)
        is_text = isinstance(known[name], str)
        if not (isinstance(value, str) if is_text else _is_number(value) and math.isfinite(value)):
            message = f"The assumption {name} is {'a text' if is_text else 'a number'}, not {value!r}."
            raise SheetcalcError(message)


# --- what comes back ---------------------------------------------------------------------------------------------------


def _column(name: str, read: _Read, values: Mapping[str, Any]) -> Any:
    """A column of the result."""
    quantity = get(name)
    if isinstance(quantity, Entry):
        return read.echo(name)
    if isinstance(quantity, Derived) and quantity.is_text:
        return quantity.as_categories(values[name])
    return values[name]


def _unit(name: str) -> str:
    """The unit of a column as it is printed: of an entry the unit of either unit set, of a text ""."""
    quantity = get(name)
    if not isinstance(quantity, Entry) or quantity.dimension is None:
        return unit_shown(quantity)
    return f"{' or '.join(unit_in(quantity, one) for one in UNIT_SETS)}, as {_UNIT_SET} says"


# --- cells -------------------------------------------------------------------------------------------------------------


@dataclass
class _Read:
    """Entries as they are read: numbers and texts by entry, and the cells that say in words that there is no number.

    `given` is the name under which each entry was given, `labels` are those of the rows.
    """

    labels: pd.Index[Any]
    given: Mapping[str, str]
    numbers: dict[str, Any] = field(default_factory=dict)
    texts: dict[str, Any] = field(default_factory=dict)
    words: dict[str, dict[int, str]] = field(default_factory=dict)
    _guesses: list[str] = field(default_factory=list)
    _faults: list[str] = field(default_factory=list)

    def take(self, columns: Mapping[str, pd.Series[Any]]) -> None:
        """Read all columns. Raises ListError where a cell cannot be read."""
        self.texts = {name: self._texts(name, column) for name, column in columns.items() if get(name).is_text}
        typed = {name: self._numbers(name, column) for name, column in columns.items() if not get(name).is_text}
        rows: dict[int, dict[str, str]] = {}
        for name, cells in typed.items():
            for at, cell in cells.items():
                rows.setdefault(at, {})[name] = cell
        sets = self.texts.get(_UNIT_SET, np.full(len(self.labels), "", dtype=object))
        for at in sorted(rows):
            sets[at] = self._row(at, {_UNIT_SET: sets[at], **rows[at]})
        self.texts[_UNIT_SET] = sets
        if self._faults:
            message = (
                f"Not read: {_few(self._faults)}. Type a number, with its unit where that is not the row's, such as 28, 1 1/8 or "
                "28 mm, and leave the cell blank where there is none."
            )
            raise ListError(message)

    def typed(self) -> dict[str, Any]:
        """Every entry as the core reads it, blank where it was not given."""
        return read_entries(pd.DataFrame({**self.texts, **self.numbers}, index=range(len(self.labels))))

    def echo(self, name: str) -> Any:
        """An entry as it comes back: what was read, or the words that say that there is nothing to read."""
        length = len(self.labels)
        if get(name).is_text:
            return pd.Series(self.texts.get(name, np.full(length, "", dtype=object)), index=self.labels, dtype=object)
        held = self.numbers.get(name, np.full(length, np.nan))
        if self.words.get(name):
            held = held.astype(object)
            for at, cell in self.words[name].items():
                held[at] = cell
        return held

    def guess_words(self) -> str:
        """The warning of what was read in one way and may be meant in another, "" where nothing was."""
        return f"Read, though it may be meant otherwise: {_few(self._guesses)}." if self._guesses else ""

    def _place(self, name: str, at: int) -> str:
        label = self.labels[at]
        return f"{self.given[name]}, row {label!r}" if isinstance(label, str) else f"{self.given[name]}, row {label}"

    def _said(self, name: str, at: int, cell: object, why: str) -> str:
        text = written(cell)
        return f"{self._place(name, at)}: {text if len(text) <= _LONGEST else text[:_LONGEST] + '…'!r} ({why})"

    def _refuse(self, name: str, at: int, cell: object) -> ListError:
        wanted = "a text" if get(name).is_text else "a number, or a text such as 1 1/8 or 28 mm"
        return ListError(f"{self._place(name, at)}: {repr(cell)[:_LONGEST]} is of the type {type(cell).__name__}; {wanted} is wanted.")

    def _numbers(self, name: str, column: pd.Series[Any]) -> dict[int, str]:
        """Take the cells of a column that are numbers; returns those that are texts, by their place."""
        texts: dict[int, str] = {}
        if column.dtype.kind in "fiu":
            held = column.to_numpy(dtype=np.float64, na_value=np.nan, copy=True)
        else:
            held = np.full(len(column), np.nan)
            for at, cell in enumerate(column.to_numpy(dtype=object)):
                if isinstance(cell, str):
                    if not says_nothing(cell):
                        texts[at] = cell
                elif _is_number(cell) or isinstance(cell, Decimal):
                    held[at] = _as_float(cell)
                elif not is_missing(cell):
                    raise self._refuse(name, at, cell)
        self._faults += [self._said(name, at, held[at], "not a finite number") for at in np.flatnonzero(np.isinf(held)).tolist()]
        self.numbers[name] = held
        return texts

    def _texts(self, name: str, column: pd.Series[Any]) -> Any:
        """A column of texts, with obvious spellings of a choice made one."""
        out = np.full(len(column), "", dtype=object)
        for at, cell in enumerate(column.to_numpy(dtype=object)):
            if not is_missing(cell):
                if not isinstance(cell, (str, numbers.Real, Decimal, np.bool_, dt.date)):
                    raise self._refuse(name, at, cell)
                out[at] = written(cell).strip()
        if name == "tag" or name in FREE_TEXT_COLUMNS:
            return out
        codes, different = pd.factorize(out)
        if name == _UNIT_SET:
            return np.array([choices.unit_set(one) for one in different], dtype=object)[codes]
        bare_dn = name == _SIZE and any(map(only_dn, different))
        meant = []
        for code, cell in enumerate(different):
            code_of, found = _as_lists_do({name: cell}, bare_dn=bare_dn)
            meant.append(code_of[name])
            why = next((_GUESSES[type(one)] for one in found if type(one) in _GUESSES), "")
            if why:
                self._guesses.append(self._said(name, int(np.argmax(codes == code)), cell, f"as {why}, {meant[-1]}"))
        return np.array(meant, dtype=object)[codes]

    def _row(self, at: int, cells: Mapping[str, str]) -> str:
        """Take the numbers of a row that were typed as texts; returns the row's unit set."""
        held, findings = _as_lists_do(cells)
        for name, cell in cells.items():
            if name == _UNIT_SET:
                continue
            found = [type(one) for one in findings if one.column == name]
            value = held[name]
            guess = next((_GUESSES[one] for one in found if one in _GUESSES), "")
            if not isinstance(value, float) or math.isinf(value) or PnFlange in found:
                why = next((_WHY[one] for one in found if one in _WHY), "not a number")
                self._faults.append(self._said(name, at, cell, why))
            elif math.isnan(value):
                self.words.setdefault(name, {})[at] = cell
            else:
                self.numbers[name][at] = value
                if guess:
                    self._guesses.append(self._said(name, at, cell, f"as {guess}, {value:g}"))
        return str(held[_UNIT_SET])


def _as_lists_do(cells: Mapping[str, str], *, bare_dn: bool = False) -> tuple[dict[str, object], list[Finding]]:
    """Cells by entry as a row of a list is read, and what was found; findings name the entry as their column."""
    row = Row(1, tuple(cells.values()))
    places = {entry: at for at, entry in enumerate(cells)}
    columns = Columns(places, {}, frozenset(), tuple(Header(entry, entry) for entry in cells), 1, bare_dn=bare_dn)
    # A number is taken as it is typed: nobody guesses here that a share of 30 is one of 30 %.
    as_typed = frozenset((0, at) for at in places.values())
    table: dict[str, list[object]] = {name: [] for name in ENTRY_COLUMNS}
    read_row(row, columns, Cells((tuple(row.cells),), is_text=True, percents=as_typed), table)
    return {entry: table[entry][0] for entry in cells}, row.findings


def _is_number(cell: object) -> bool:
    return isinstance(cell, numbers.Real) and not isinstance(cell, bool)


def _as_float(cell: Any) -> float:
    """A number as a float, infinite where it is none that a float can be."""
    try:
        return float(cell)
    except (OverflowError, ValueError):
        return math.inf


def _few(said: list[str]) -> str:
    more = len(said) - _NAMED
    return "; ".join(said[:_NAMED]) + (f"; and {more} more" if more > 0 else "")
