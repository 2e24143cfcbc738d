"""What a quantity is, and the registry of all of them.

A quantity is declared once, in one block: `derived` (a Python function with its Excel text beside it), `fault` (a
condition on both sides and one fixed sentence), `given` (what a person types), `assumption` (a constant that stands on
its own sheet), `column` (a column of a reference table). The Excel text and the Python function are written by hand
and are independent of each other: only so does their agreement prove anything.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property
from typing import Any, Final

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sheetcalc import units
from sheetcalc.declare import formula
from sheetcalc.declare.source import Source
from sheetcalc.errors import DeclarationError, UnknownNameError

#: Numbers inside the core: an array of floats, NaN where the sheet is blank.
Num = NDArray[np.float64]
#: Texts inside the core, "" where the sheet is blank: an object array, or pandas' Categorical, which compares alike.
Text = Any
#: Conditions: an array of booleans.
Flag = NDArray[np.bool_]


class Kind(StrEnum):
    """What a quantity is to the reader of a sheet. The words are printed."""

    ENTRY = "entry"
    ASSUMPTION = "assumption"
    TABLE = "table"
    DERIVED = "worked out"
    FAULT = "fault"
    CHECK = "check"
    COLUMN = "column"


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


#: Before the name of a quantity: its whole column, as a row of another kind (or of its own) reads it.
EVERY: Final = "every_"


@dataclass(frozen=True)
class Quantity:
    """One quantity: what it is called, how it is worked out on both sides, and where that comes from.

    Calling it works it out: floats give a float, arrays an array, a Series a Series with its index. A missing input
    (NaN, or "" for a text) gives NaN or "".
    """

    name: str
    title: str
    symbol: str
    unit: str
    sentence: str
    source: Source
    kind: Kind
    part: str
    excel: str = ""
    reads: tuple[str, ...] = ()
    optional: frozenset[str] = frozenset()
    is_text: bool = False
    guards: bool = True
    empirical: str = ""
    about: tuple[str, ...] = ()
    words: str = ""
    hold: bool = False
    limits: tuple[str, str] = ("", "")
    issued: float | str = ""
    #: The dimension in whose unit a user types and reads it, where the coherent unit does not say it by itself.
    measured_as: str = ""
    #: What there is one of it for: a valve, a line of the order, a reading of the log, the outage as a whole.
    per: Per = Per.VALVE
    #: The table column that an entry is chosen from, "" for a free one.
    choices: str = ""
    function: Callable[..., Any] | None = field(default=None, repr=False)

    @property
    def dimension(self) -> str | None:
        """The dimension in whose unit of the unit set it is typed and read; None for counts, shares, angles and texts."""
        return None if self.is_text else self.measured_as or units.dimension(self.unit)

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
        return tuple(name for name in self.reads if name not in self.optional and get(name).kind not in _WHOLE)

    @cached_property
    def _covered(self) -> frozenset[str]:
        return frozenset(self._needed)

    @cached_property
    def _faults_read(self) -> tuple[int, ...]:
        return tuple(place for place, name in enumerate(self.reads) if get(name).kind is Kind.FAULT)

    @cached_property
    def _said(self) -> pd.CategoricalDtype:
        """Blank and the sentence of a fault."""
        return pd.CategoricalDtype(["", self.words])

    @cached_property
    def guarded_excel(self) -> str:
        """The Excel text as it is written into a cell, names still in braces."""
        return self.guard(self.excel)

    def guard(self, text: str) -> str:
        """An Excel text wrapped in this quantity's guard against blanks."""
        typed = tuple(name for name in self.texts_needed if get(name).kind is Kind.ENTRY)
        return formula.guarded(text, self.numbers_needed, self.texts_needed, typed)

    def compute(self, values: Mapping[str, Any], length: int, blanks: dict[frozenset[str], Any] | None = None) -> Any:
        """The quantity for a whole list at once, from the arrays (or scalars) that it reads.

        `values` maps each name in `reads` to an array of `length`, to a scalar, or to a table's column; a fault that is read may
        be booleans or its words. `blanks` keeps, as long as the values are the same, where any of some names is blank. Returns an
        array of `length`: floats with NaN for blank, texts with "" for blank, or booleans for a fault.
        """
        if self.function is None:
            message = f"{self.name} is {self.kind.value} and is not worked out"
            raise DeclarationError(message)
        read = [values[name] for name in self.reads]
        for place in self._faults_read:
            read[place] = _flag(read[place])
        with np.errstate(all="ignore"):
            out = self.function(*read)
        blank = self._blank(values, {} if blanks is None else blanks)
        if self.kind is Kind.FAULT:
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
        """What `compute` gave, as people read it: the words of a fault, and texts as an object array."""
        if self.kind is Kind.FAULT:
            return np.where(held, np.array(self.words, dtype=object), np.array("", dtype=object))
        return np.asarray(held, dtype=object) if self.is_text else held

    def as_categories(self, held: Any) -> pd.Categorical:
        """A text that `compute` gave, as categories; a fault has blank and its words."""
        if self.kind is Kind.FAULT:
            return pd.Categorical.from_codes(held.view(np.int8), dtype=self._said, validate=False)
        return categorical(held)

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        """Work the quantity out for floats, arrays or Series; the kind that came in comes back."""
        if self.function is None:
            message = f"{self.name} is {self.kind.value} and is not worked out"
            raise DeclarationError(message)
        values = inspect.signature(self.function).bind(*args, **kwargs).arguments
        series = next((value for value in values.values() if isinstance(value, pd.Series)), None)
        per_valve = [v for k, v in values.items() if get(k).kind not in _WHOLE and np.ndim(v) > 0]
        length = len(per_valve[0]) if per_valve else 1
        plain = {name: _plain(value) for name, value in values.items()}
        out = self.shown(self.compute(plain, length))
        if series is not None:
            return pd.Series(out, index=series.index, name=self.name)
        if per_valve:
            return np.array(out)
        return str(out[0]) if self.is_text else float(out[0])


def missing(value: Any) -> Any:
    """Where a value is blank: NaN, the empty text, or a fault that does not speak."""
    kind = value.dtype.kind if isinstance(value, (np.ndarray, np.generic)) else "f" if isinstance(value, float) else "O"
    return np.isnan(value) if kind == "f" else ~value if kind == "b" else value == ""


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
#: Kinds that a formula reads as a whole, so that no guard counts them.
_WHOLE: Final = (Kind.TABLE, Kind.COLUMN)


def register(quantity: Quantity) -> Quantity:
    """Take a quantity into the registry, in the order of declaration; refuse what cannot hold."""
    if quantity.name in _registry:
        message = f"{quantity.name} is declared twice"
        raise DeclarationError(message)
    if set(formula.names_in(quantity.excel)) != set(quantity.reads):
        message = f"{quantity.name}: the Excel text reads {formula.names_in(quantity.excel)}, Python {quantity.reads}"
        raise DeclarationError(message)
    if quantity.optional - set(quantity.reads):
        message = f"{quantity.name}: optional {sorted(quantity.optional - set(quantity.reads))} is not read"
        raise DeclarationError(message)
    if not quantity.sentence.endswith("."):
        message = f"{quantity.name}: the first sentence of its docstring must end with a full stop"
        raise DeclarationError(message)
    _registry[quantity.name] = quantity
    return quantity


def get(name: str) -> Quantity:
    """The quantity of that name, or its whole column. Raises UnknownNameError, with the nearest names, when there is none."""
    try:
        return _registry[name] if name in _registry else _every(_registry[name.removeprefix(EVERY)])
    except KeyError:
        import difflib  # noqa: PLC0415 - only when something is misspelt

        near = difflib.get_close_matches(name, _registry, n=3, cutoff=0.5)
        hint = f" Did you mean {', '.join(near)}?" if near else ""
        message = f"No quantity is called {name!r}.{hint}"
        raise UnknownNameError(message) from None


def _every(quantity: Quantity) -> Quantity:
    """The whole column of a quantity, as something that a formula reads."""
    return replace(
        quantity, name=EVERY + quantity.name, title=f"{quantity.title}, every one", kind=Kind.COLUMN, excel="", reads=(),
        optional=frozenset(), function=None,
    )  # fmt: skip


def all_quantities() -> tuple[Quantity, ...]:
    """Every quantity, in the order of declaration."""
    return tuple(_registry.values())


def in_terms_of(function: Callable[..., Any], name: str, reads: tuple[str, ...], doc: str) -> Any:
    """A function whose parameters are called after the quantities that it reads, where one block declares several."""

    def named(*values: Any) -> Any:
        return function(*values)

    named.__name__ = name
    named.__doc__ = doc
    named.__signature__ = inspect.Signature(  # type: ignore[attr-defined]
        [inspect.Parameter(one, inspect.Parameter.POSITIONAL_OR_KEYWORD) for one in reads]
    )
    return named


def _sentence(function: Callable[..., Any]) -> str:
    doc = inspect.getdoc(function) or ""
    return " ".join(doc.split("\n\n", maxsplit=1)[0].split())


def derived(
    *,
    title: str,
    excel: str,
    source: Source,
    part: str,
    symbol: str = "",
    unit: str = "",
    optional: Sequence[str] = (),
    text: bool = False,
    guards: bool = True,
    kind: Kind = Kind.DERIVED,
    empirical: str = "",
    measured_as: str = "",
    per: Per = Per.VALVE,
) -> Callable[[Callable[..., Any]], Quantity]:
    """Declare a quantity by its function; the parameters are the quantities that it reads.

    `unit` is the coherent unit ("1" for a plain number); a pressure says `measured_as="pressure"`. `optional` parameters
    may be blank. With `guards=False` the formula itself deals with blanks. `empirical` gives the reason why the dimension
    check cannot hold. `per` says what there is one of it for; a read called `every_x` is the whole column of x.
    """

    def declare(function: Callable[..., Any]) -> Quantity:
        return register(
            Quantity(
                name=getattr(function, "__name__", ""),
                title=title,
                symbol=symbol,
                unit="" if text else unit,
                sentence=_sentence(function),
                source=source,
                kind=kind,
                part=part,
                excel=excel,
                reads=tuple(inspect.signature(function).parameters),
                optional=frozenset(optional),
                is_text=text,
                guards=guards,
                empirical=empirical,
                measured_as=measured_as,
                per=per,
                function=function,
            )
        )

    return declare


def fault(
    *,
    title: str,
    words: str,
    excel: str,
    about: Sequence[str],
    source: Source,
    part: str,
    optional: Sequence[str] = (),
    hold: bool = False,
    per: Per = Per.VALVE,
) -> Callable[[Callable[..., Any]], Quantity]:
    """Declare a fault: one fixed sentence, spoken where the condition holds.

    `excel` is the condition as Excel text, the function the same condition in Python. `about` names the entries
    that a finding shows the values of. `hold` stops the valve: no order line, no card.
    """
    if len(words) > formula.MOST_TEXT or '"' in words:
        message = f"fault sentence must have no quotes and at most {formula.MOST_TEXT} characters: {words[:60]}"
        raise DeclarationError(message)

    def declare(function: Callable[..., Any]) -> Quantity:
        return register(
            Quantity(
                name=getattr(function, "__name__", ""),
                title=title,
                symbol="",
                unit="",
                sentence=_sentence(function),
                source=source,
                kind=Kind.FAULT,
                part=part,
                excel=f'IF({excel},"{words}","")',
                reads=tuple(inspect.signature(function).parameters),
                optional=frozenset(optional),
                is_text=True,
                about=tuple(about),
                words=words,
                hold=hold,
                per=per,
                function=function,
            )
        )

    return declare


def assumption(
    name: str,
    issued: float | str,
    *,
    title: str,
    sentence: str,
    source: Source,
    part: str,
    unit: str = "1",
    symbol: str = "",
    limits: tuple[float, float] | None = None,
    measured_as: str = "",
) -> Quantity:
    """Declare a constant of the workbook, editable on Assumptions, with the range in which it can be meant."""
    low, high = limits or ("", "")
    return register(
        Quantity(
            name=name,
            title=title,
            symbol=symbol,
            unit="" if isinstance(issued, str) else unit,
            sentence=sentence,
            source=source,
            kind=Kind.ASSUMPTION,
            part=part,
            is_text=isinstance(issued, str),
            issued=issued,
            measured_as=measured_as,
            limits=(str(low), str(high)),
        )
    )


def entry(
    name: str, *, title: str, sentence: str, part: str, source: Source, unit: str = "", symbol: str = "", text: bool = False,
    measured_as: str = "", per: Per = Per.VALVE, choices: str = "",
) -> Quantity:  # fmt: skip
    """Declare a cell that a person types into, or chooses from a table's column. `unit` is the coherent unit of what it becomes."""
    return register(
        Quantity(
            name=name, title=title, symbol=symbol, unit=unit, sentence=sentence, source=source,
            kind=Kind.ENTRY, part=part, is_text=text, measured_as=measured_as, per=per, choices=choices,
        )
    )  # fmt: skip


def column(name: str, *, title: str, sentence: str, source: Source, text: bool = False, unit: str = "") -> Quantity:
    """Declare a column (or block) of a reference table as something that formulas read."""
    return register(
        Quantity(
            name=name, title=title, symbol="", unit=unit, sentence=sentence, source=source,
            kind=Kind.TABLE, part="tables", is_text=text,
        )
    )  # fmt: skip
