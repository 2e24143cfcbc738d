"""The blocks in which quantities are declared: one for each kind, with everything that there is to say of it.

`derived` and `fault` stand over a Python function whose parameters are called after the quantities that it reads. Where one block
declares several quantities, `derive` and `gathered` are told what they read.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Sequence
from typing import Any

from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Check, Column, Constant, Derived, Entry, Fault, Formula, Gathered, Gravity, Per, register
from sheetcalc.declare.source import Source
from sheetcalc.errors import DeclarationError


def derive(
    name: str,
    reads: Sequence[str],
    function: Callable[..., Any],
    sentence: str,
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
    check: bool = False,
    empirical: str = "",
    measured_as: str = "",
    per: Per = Per.VALVE,
) -> Derived:
    """Declare a quantity that is worked out; `function` takes what it reads, in that order.

    `unit` is the coherent unit ("1" for a plain number); a pressure says `measured_as="pressure"`. `optional` reads may be
    blank. With `guards=False` the formula itself deals with blanks. `empirical` gives the reason why the dimension check cannot
    hold. `per` says what there is one of it for; a read called `every_x` is the whole column of x.
    """
    return register(
        (Check if check else Derived)(
            name=name,
            title=title,
            symbol=symbol,
            unit="" if text else unit,
            sentence=sentence,
            source=source,
            part=part,
            excel=excel,
            reads=tuple(reads),
            optional=frozenset(optional),
            is_text=text,
            guards=guards,
            empirical=empirical,
            measured_as=measured_as,
            per=per,
            function=function,
        )
    )


def derived(**said: Any) -> Callable[[Callable[..., Any]], Derived]:
    """Declare a quantity by its function: what `derive` takes, the name, the reads and the sentence being those of the function."""

    def declare(function: Callable[..., Any]) -> Derived:
        return derive(_name(function), _reads(function), function, _sentence(function), **said)

    return declare


def gathered(
    name: str,
    members: Sequence[str],
    build: Callable[[tuple[str, ...]], Formula],
    sentence: str,
    *,
    title: str,
    source: Source,
    part: str,
    symbol: str = "",
    unit: str = "",
    optional: Sequence[str] = (),
    text: bool = False,
    guards: bool = True,
    measured_as: str = "",
    per: Per = Per.VALVE,
    alone: bool = False,
) -> Gathered:
    """Declare a quantity that gathers a family; `build` gives both its hands for those of the members that are there.

    Where no member is there the quantity is not there either, unless it means something `alone`.
    """
    made = build(tuple(members))
    return register(
        Gathered(
            name=name,
            title=title,
            symbol=symbol,
            unit="" if text else unit,
            sentence=sentence,
            source=source,
            part=part,
            excel=made.excel,
            reads=made.reads,
            function=made.function,
            optional=frozenset(optional),
            is_text=text,
            guards=guards,
            measured_as=measured_as,
            per=per,
            members=tuple(members),
            build=build,
            alone=alone,
        )
    )


def fault_where(
    name: str,
    reads: Sequence[str],
    function: Callable[..., Any],
    sentence: str,
    *,
    title: str,
    words: str,
    excel: str,
    about: Sequence[str],
    source: Source,
    part: str,
    optional: Sequence[str] = (),
    gravity: Gravity = Gravity.LOOK,
    withholds: Sequence[str] = (),
    per: Per = Per.VALVE,
) -> Fault:
    """Declare a fault: one fixed sentence, spoken where the condition holds.

    `excel` is the condition as Excel text, the function the same condition in Python. `about` names the entries
    that a finding shows the values of, `withholds` the answers that are kept back where it speaks, besides those that every stop does.
    """
    if len(words) > formula.MOST_TEXT or '"' in words or (per is Per.VALVE and formula.SENTENCE_END in words):
        message = f"fault must be one sentence without quotes, of at most {formula.MOST_TEXT} characters: {words[:60]}"
        raise DeclarationError(message)
    return register(
        Fault(
            name=name,
            title=title,
            sentence=sentence,
            source=source,
            part=part,
            excel=f'IF({excel},"{words}","")',
            reads=tuple(reads),
            optional=frozenset(optional),
            is_text=True,
            about=tuple(about),
            words=words,
            gravity=gravity,
            withholds=tuple(withholds),
            per=per,
            function=function,
        )
    )


def fault(**said: Any) -> Callable[[Callable[..., Any]], Fault]:
    """Declare a fault by the function of its condition: what `fault_where` takes, the rest being those of the function."""

    def declare(function: Callable[..., Any]) -> Fault:
        return fault_where(_name(function), _reads(function), function, _sentence(function), **said)

    return declare


def _name(function: Callable[..., Any]) -> str:
    return str(getattr(function, "__name__", ""))


def _reads(function: Callable[..., Any]) -> tuple[str, ...]:
    return tuple(inspect.signature(function).parameters)


def _sentence(function: Callable[..., Any]) -> str:
    doc = inspect.getdoc(function) or ""
    return " ".join(doc.split("\n\n", maxsplit=1)[0].split())


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
) -> Constant:
    """Declare a constant of the workbook, editable on Assumptions, with the range in which it can be meant."""
    low, high = limits or ("", "")
    return register(
        Constant(
            name=name,
            title=title,
            symbol=symbol,
            unit="" if isinstance(issued, str) else unit,
            sentence=sentence,
            source=source,
            part=part,
            is_text=isinstance(issued, str),
            issued=issued,
            measured_as=measured_as,
            limits=(str(low), str(high)),
        )
    )


def entry(
    name: str,
    *,
    title: str,
    sentence: str,
    part: str,
    source: Source,
    unit: str = "",
    symbol: str = "",
    text: bool = False,
    measured_as: str = "",
    per: Per = Per.VALVE,
    choices: str = "",
) -> Entry:
    """Declare a cell that a person types into, or chooses from a table's column. `unit` is the coherent unit of what it becomes."""
    return register(
        Entry(
            name=name,
            title=title,
            symbol=symbol,
            unit=unit,
            sentence=sentence,
            source=source,
            part=part,
            is_text=text,
            measured_as=measured_as,
            per=per,
            choices=choices,
        )
    )


def column(name: str, *, title: str, sentence: str, source: Source, text: bool = False, unit: str = "") -> Column:
    """Declare a column (or block) of a reference table as something that formulas read."""
    return register(Column(name=name, title=title, unit=unit, sentence=sentence, source=source, part="tables", is_text=text))
