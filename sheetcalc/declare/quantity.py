"""What a quantity is, a type for each kind, and the registry of all of them.

A quantity is declared once, in one block (`sheetcalc.declare.blocks`). The Excel text and the Python function of what is worked
out are written by hand and are independent of each other: only so does their agreement prove anything.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from enum import StrEnum
from functools import cached_property
from typing import Any, ClassVar, Final, TypeVar, overload

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sheetcalc import units
from sheetcalc.declare import formula
from sheetcalc.declare.source import Source
from sheetcalc.errors import DeclarationError, UnknownNameError, nearest

#: Numbers inside the core: an array of floats, NaN where the sheet is blank.
Num = NDArray[np.float64]
#: Texts inside the core, "" where the sheet is blank: an object array, or pandas' Categorical, which compares alike.
Text = Any
#: Conditions: an array of booleans.
Flag = NDArray[np.bool_]


class Per(StrEnum):
    """What there is one of each quantity for. The words are printed."""

    VALVE = "valve"
    LISTED = "valve of the list"
    OUTAGE = "outage"
    STORE = "item in stores"
    LINE = "line of the order"
    TOOL = "tool"
    DAY = "day"
    READING = "reading"
    FOLLOWED = "valve followed"
    POINT = "point of the chart"
    TROUBLE = "valve in trouble"
    CRITICAL = "critical job"


class Gravity(StrEnum):
    """How grave a fault is, the gravest first, each with the state in which it leaves a valve. The words are printed."""

    #: Unfit or unsafe: no torque, no order, no card.
    STOP = "STOP"
    #: The sizes cannot be had.
    MISSING = "MISSING"
    #: The sizes stand; the load was not worked out, since an entry of it is blank.
    UNASKED = "SIZED"
    #: The figures stand; the sentence is to be read first.
    LOOK = "LOOK"
    #: Said, and changes nothing.
    NOTE = "READY"


#: Before the name of a quantity: its whole column, as a row of another kind (or of its own) reads it.
EVERY: Final = "every_"


@dataclass(frozen=True, kw_only=True)
class Quantity:
    """What all quantities have: a name, words for people, a unit, a source, and what there is one of it for."""

    #: What it is to the reader of a sheet; printed.
    kind: ClassVar[str] = ""

    name: str
    title: str
    sentence: str
    source: Source
    part: str
    symbol: str = ""
    #: The coherent unit, "1" for a plain number, "" for a text.
    unit: str = ""
    is_text: bool = False
    #: The dimension in whose unit a user types and reads it, where the coherent unit does not say it by itself.
    measured_as: str = ""
    per: Per = Per.VALVE
    #: The quantities that it is worked out from.
    reads: tuple[str, ...] = ()

    @property
    def dimension(self) -> str | None:
        """The dimension in whose unit of the unit set it is typed and read; None for counts, shares, angles and texts."""
        return None if self.is_text else self.measured_as or units.dimension(self.unit)


@dataclass(frozen=True, kw_only=True)
class Entry(Quantity):
    """What a person types, or chooses from the column `choices` of a table; a free cell where that is ""."""

    kind = "entry"

    choices: str = ""


@dataclass(frozen=True, kw_only=True)
class Constant(Quantity):
    """A constant of the workbook as issued, which a person may change within its limits."""

    kind = "assumption"

    issued: float | str
    limits: tuple[str, str] = ("", "")


@dataclass(frozen=True, kw_only=True)
class Column(Quantity):
    """A column (or block) of a reference table, which formulas read as a whole."""

    kind = "table"


@dataclass(frozen=True, kw_only=True)
class Every(Quantity):
    """The whole column of a quantity, as a row of another kind (or of its own) reads it."""

    kind = "column"


@dataclass(frozen=True, kw_only=True)
class Derived(Quantity):
    """What is worked out: an Excel text and a Python function, which know nothing of each other.

    Calling it works it out: floats give a float, arrays an array, a Series a Series with its index. A missing input
    (NaN, or "" for a text) gives NaN or "".
    """

    kind = "worked out"

    excel: str
    function: Callable[..., Any] = field(repr=False)
    #: What it reads that may be blank.
    optional: frozenset[str] = frozenset()
    #: Whether a blank that is no optional one makes it blank; else the formula deals with blanks by itself.
    guards: bool = True
    #: Why the dimension check cannot hold, "" where it does.
    empirical: str = ""

    @cached_property
    def numbers_needed(self) -> tuple[str, ...]:
        """The numeric quantities without which this one is blank."""
        return tuple(name for name in self._needed if not get(name).is_text)

    @cached_property
    def texts_needed(self) -> tuple[str, ...]:
        """The texts without which this one is blank."""
        return tuple(name for name in self._needed if get(name).is_text)

    @cached_property
    def _needed(self) -> tuple[str, ...]:
        if not self.guards:
            return ()
        return tuple(name for name in self.reads if name not in self.optional and not isinstance(get(name), WHOLE))

    @cached_property
    def _covered(self) -> frozenset[str]:
        return frozenset(self._needed)

    @cached_property
    def _faults_read(self) -> tuple[int, ...]:
        return tuple(place for place, name in enumerate(self.reads) if isinstance(get(name), Fault))

    @cached_property
    def guarded_excel(self) -> str:
        """The Excel text as it is written into a cell, names still in braces."""
        return self.guard(self.excel)

    def guard(self, text: str) -> str:
        """An Excel text wrapped in this quantity's guard against blanks."""
        typed = tuple(name for name in self.texts_needed if isinstance(get(name), Entry))
        return formula.guarded(text, self.numbers_needed, self.texts_needed, typed)

    def compute(self, values: Mapping[str, Any], length: int, blanks: dict[frozenset[str], Any] | None = None) -> Any:
        """The quantity for a whole list at once, from the arrays (or scalars) that it reads.

        `values` maps each name in `reads` to an array of `length`, to a scalar, or to a table's column; a fault that is read may
        be booleans or its words. `blanks` keeps, as long as the values are the same, where any of some names is blank. Returns an
        array of `length`: floats with NaN for blank, texts with "" for blank, or booleans for a fault.
        """
        read = [values[name] for name in self.reads]
        for place in self._faults_read:
            read[place] = _flag(read[place])
        with np.errstate(all="ignore"):
            out = self.function(*read)
        blank = self._blank(values, {} if blanks is None else blanks)
        if isinstance(self, Fault):
            out = np.asarray(out, dtype=bool) & ~np.asarray(blank, dtype=bool)
        elif self.is_text:
            out = _texts(out, blank)
        else:
            out = np.asarray(out, dtype=np.float64)
            # What is its own can be written into: memory asked for anew would be half of the time.
            is_own = out.flags.owndata and out.shape == (length,) and not any(out is one for one in read)
            out = _numbers(out, blank, is_own=is_own)
        return out if out.shape == (length,) else np.broadcast_to(out, (length,))

    def _blank(self, values: Mapping[str, Any], blanks: dict[frozenset[str], Any]) -> Any:
        """Where anything is blank that it needs; False where nothing is."""
        covered = self._covered
        if covered not in blanks:
            blank: Any = False
            for name in covered:
                blank = blank | missing(values[name])
            blanks[covered] = blank if np.any(blank) else False
        return blanks[covered]

    def shown(self, held: Any) -> Any:
        """What `compute` gave, as people read it: texts as an object array."""
        return np.asarray(held, dtype=object) if self.is_text else held

    def as_categories(self, held: Any) -> pd.Categorical:
        """A text that `compute` gave, as categories."""
        return categorical(held)

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        """Work the quantity out for floats, arrays or Series; the kind that came in comes back."""
        values = {**dict(zip(self.reads, args, strict=False)), **kwargs}
        if len(args) > len(self.reads) or set(values) != set(self.reads):
            message = f"{self.name} is worked out from {', '.join(self.reads)}"
            raise TypeError(message)
        series = next((value for value in values.values() if isinstance(value, pd.Series)), None)
        per_valve = [v for k, v in values.items() if not isinstance(get(k), WHOLE) and np.ndim(v) > 0]
        length = len(per_valve[0]) if per_valve else 1
        plain = {name: _plain(value) for name, value in values.items()}
        out = self.shown(self.compute(plain, length))
        if series is not None:
            return pd.Series(out, index=series.index, name=self.name)
        if per_valve:
            return np.array(out)
        return str(out[0]) if self.is_text else float(out[0])


@dataclass(frozen=True, kw_only=True)
class Check(Derived):
    """What a part of the job says: OK, or what is wrong."""

    kind = "check"


@dataclass(frozen=True, kw_only=True)
class Fault(Derived):
    """A condition on both sides and one fixed sentence, spoken where it holds. Inside the core it is a boolean."""

    kind = "fault"

    words: str
    #: The entries that a finding shows the values of.
    about: tuple[str, ...] = ()
    gravity: Gravity = Gravity.LOOK
    #: The answers that it keeps back where it speaks, besides those that every stop does.
    withholds: tuple[str, ...] = ()

    @cached_property
    def _said(self) -> pd.CategoricalDtype:
        """Blank and the sentence."""
        return pd.CategoricalDtype(["", self.words])

    def shown(self, held: Any) -> Any:
        """The words where it speaks, else ""."""
        return np.where(held, np.array(self.words, dtype=object), np.array("", dtype=object))

    def as_categories(self, held: Any) -> pd.Categorical:
        """The words as categories."""
        return pd.Categorical.from_codes(held.view(np.int8), dtype=self._said, validate=False)


@dataclass(frozen=True, kw_only=True)
class Formula:
    """Both hands of a quantity: what it reads, the Excel text of it and the function of the same values in the same order."""

    reads: tuple[str, ...]
    excel: str
    function: Callable[..., Any] = field(repr=False)


@dataclass(frozen=True, kw_only=True)
class Gathered(Derived):
    """What gathers a family (anything typed, the faults of a part, the groups of an order): it reads the members that are there.

    That is the only way in which a quantity depends on what else a workbook holds. Both hands follow from one declaration:
    `build` gives them for any of the `members`, in their order. As registered, it reads all of them.
    """

    members: tuple[str, ...]
    build: Callable[[tuple[str, ...]], Formula] = field(repr=False)

    #: Whether it means something without any member.
    alone: bool = False

    def among(self, there: Iterable[str]) -> Gathered:
        """The same quantity where only some of its members are there."""
        present = frozenset(there)
        kept = tuple(name for name in self.members if name in present)
        if kept == self.members:
            return self
        made = self.build(kept)
        optional = self.optional & frozenset(made.reads)
        return replace(self, members=kept, reads=made.reads, excel=made.excel, function=made.function, optional=optional)


#: What a formula reads as a whole, so that no guard counts it.
WHOLE: Final = (Column, Every)


def missing(value: Any) -> Any:
    """Where a value is blank: NaN, the empty text, or a fault that does not speak."""
    kind = value.dtype.kind if isinstance(value, (np.ndarray, np.generic)) else "f" if isinstance(value, float) else "O"
    return np.isnan(value) if kind == "f" else ~value if kind == "b" else value == ""


def is_missing(cell: object) -> bool:
    """Whether a single cell is blank: None, NaN, pandas' NA or NaT, or the empty text."""
    if isinstance(cell, str):
        return cell == ""
    return cell is None or cell is pd.NA or cell is pd.NaT or (isinstance(cell, (float, np.floating, Decimal)) and math.isnan(cell))


def categorical(texts: Any) -> pd.Categorical:
    """A column of texts in which each different one stands once, in the order of their first appearance."""
    if isinstance(texts, pd.Categorical):
        return texts
    plain = np.asarray(texts, dtype=object)
    codes, different = pd.factorize(plain)
    if codes.min(initial=0) < 0:  # a None or a NaN among them
        codes, different = pd.factorize(np.where(codes < 0, "", plain))
    return pd.Categorical.from_codes(codes, categories=pd.Index(different, dtype=object), validate=False)


def _texts(out: Any, blank: Any) -> Any:
    if isinstance(out, pd.Categorical):
        if blank is False:
            return out
        if "" not in out.categories:
            out = out.add_categories([""])
        codes = np.where(blank, out.categories.get_loc(""), out.codes)
        return pd.Categorical.from_codes(codes, dtype=out.dtype, validate=False)
    out = np.asarray(out, dtype=object)
    return out if blank is False else np.where(blank, np.array("", dtype=object), out)


def _numbers(out: Any, blank: Any, *, is_own: bool) -> Any:
    if blank is False:
        return out
    if is_own:
        np.copyto(out, np.nan, where=blank)
        return out
    return np.where(blank, np.nan, out)


def _flag(value: Any) -> Any:
    """A fault as the core reads it: whether it speaks."""
    return value if np.asarray(value).dtype.kind == "b" else np.asarray(value, dtype=object) != ""


def _plain(value: Any) -> Any:
    """A Series as its array; a number as numpy's own, which divides by nought without an exception."""
    if isinstance(value, pd.Series):
        return value.to_numpy()
    return np.float64(value) if isinstance(value, (int, float)) else value


_registry: Final[dict[str, Quantity]] = {}


Q = TypeVar("Q", bound=Quantity)


def register(quantity: Q) -> Q:
    """Take a quantity into the registry, in the order of declaration; refuse what cannot hold."""
    if quantity.name in _registry:
        message = f"{quantity.name} is declared twice"
        raise DeclarationError(message)
    if isinstance(quantity, Derived):
        _refuse_mismatch(quantity)
    if not quantity.sentence.endswith("."):
        message = f"{quantity.name}: the first sentence of its docstring must end with a full stop"
        raise DeclarationError(message)
    _registry[quantity.name] = quantity
    return quantity


def _refuse_mismatch(quantity: Derived) -> None:
    if set(formula.names_in(quantity.excel)) != set(quantity.reads):
        message = f"{quantity.name}: the Excel text reads {formula.names_in(quantity.excel)}, Python {quantity.reads}"
        raise DeclarationError(message)
    if quantity.optional - set(quantity.reads):
        message = f"{quantity.name}: optional {sorted(quantity.optional - set(quantity.reads))} is not read"
        raise DeclarationError(message)


@overload
def get(name: str) -> Quantity: ...
@overload
def get(name: str, kind: type[Q]) -> Q: ...
def get(name: str, kind: type[Quantity] = Quantity) -> Quantity:
    """The quantity of that name, or its whole column.

    Raises UnknownNameError, with the nearest names, when there is none, and DeclarationError when it is of another `kind`.
    """
    try:
        quantity = _registry[name] if name in _registry else _every(_registry[name.removeprefix(EVERY)])
    except KeyError:
        message = f"No quantity is called {name!r}.{nearest(name, _registry)}"
        raise UnknownNameError(message) from None
    if not isinstance(quantity, kind):
        message = f"{name} is {quantity.kind}, not {kind.kind}"
        raise DeclarationError(message)
    return quantity


def _every(quantity: Quantity) -> Every:
    """The whole column of a quantity, as something that a formula reads."""
    return Every(
        name=EVERY + quantity.name,
        title=f"{quantity.title}, every one",
        sentence=quantity.sentence,
        source=quantity.source,
        part=quantity.part,
        symbol=quantity.symbol,
        unit=quantity.unit,
        is_text=quantity.is_text,
        measured_as=quantity.measured_as,
        per=quantity.per,
    )


def all_quantities() -> tuple[Quantity, ...]:
    """Every quantity, in the order of declaration."""
    return tuple(_registry.values())
