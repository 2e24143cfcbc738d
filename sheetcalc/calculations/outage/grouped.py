"""Like things of many valves gathered into the lines of one list: a group after the other, a line for each code.

A valve asks for a thing under a code. The first valve with a code opens a line, so that lines follow the valves without
anything being sorted. A list of several groups counts how many lines each group opens, and so knows for each line of its
own which group it belongs to and which valve opened it.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from functools import reduce
from itertools import islice
from operator import add
from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import count_where, counted, first_with, smallest
from sheetcalc.declare.blocks import derive, entry, gathered
from sheetcalc.declare.quantity import Formula, Per
from sheetcalc.reference.sources import cite

GATHERED = cite("gathering")


def escaped(wanted: str) -> str:
    """Excel text of a text that MATCH is to find letter for letter: no character in it is taken for a wildcard."""
    for character in ("~", "*", "?"):
        wanted = f'SUBSTITUTE({wanted},"{character}","~{character}")'
    return wanted


def choose(group: Any, *values: Any) -> Any:
    """CHOOSE: of each row's values the one of its group."""
    place = np.nan_to_num(group, nan=1.0).astype(np.intp) - 1
    return np.choose(place, [np.broadcast_to(value, place.shape) for value in values])


def declare_group(name: str, title: str, part: str, *, user_text: bool = False) -> None:
    """The first valve of each code, where it is the first and where it opens a line: `<name>_first`, `<name>_opens`.

    `user_text` where the code `<name>_code` holds text of the user, in which a character could be taken for a wildcard.
    """
    code = f"{name}_code"
    wanted = escaped(f"{{{code}}}") if user_text else f"{{{code}}}"
    derive(
        f"{name}_first",
        (code, f"every_{code}"),
        lambda _code, every: first_with(every),
        "The number of the first valve of the list with this code.",
        title=f"{title}: first valve with this code",
        unit="1",
        part=part,
        source=GATHERED,
        per=Per.LISTED,
        excel=f"MATCH({wanted},{{every_{code}}},0)",
    )
    derive(
        f"{name}_opens",
        (f"{name}_first", "position"),
        lambda first, here: np.where(first == here, here, np.nan),
        "The number of the valve where it is the first with its code, else blank.",
        title=f"{title}: opens a line",
        unit="1",
        part=part,
        source=GATHERED,
        per=Per.LISTED,
        excel=f'IF({{{name}_first}}={{position}},{{position}},"")',
    )


def codes_of(groups: Iterable[str]) -> tuple[str, ...]:
    """The members of a list's family: the code of each group. A group whose code is not there has no lines."""
    return tuple(f"{name}_code" for name in groups)


def groups_of(codes: Iterable[str]) -> tuple[str, ...]:
    """The groups whose codes are there."""
    return tuple(code.removesuffix("_code") for code in codes)


def by_group(
    row: str,
    columns: Sequence[str],
    reads: Sequence[str],
    text: str,
    function: Callable[..., Any],
    also: Mapping[str, tuple[str, str]] | None = None,
) -> Callable[[tuple[str, ...]], Formula]:
    """What a line takes by its group: `text` is that of one group, with <> for its name.

    `columns` are the columns of each group that it reads, `reads` what else of the line; `function` takes them in that order. Where a
    group of `also` is there, the lines of another group count those columns too that begin with the second name.
    """

    def build(codes: tuple[str, ...]) -> Formula:
        groups = groups_of(codes)
        terms = [(name, *(more for one, (other, more) in (also or {}).items() if other == name and one in groups)) for name in groups]
        every = tuple(f"every_{column.replace('<>', term)}" for of_group in terms for term in of_group for column in columns)

        def chosen(group: Any, *values: Any) -> Any:
            others, held = values[: len(reads)], iter(values[len(reads) :])
            each = [[function(*islice(held, len(columns)), *others) for _term in of_group] for of_group in terms]
            return choose(group, *(reduce(add, one) for one in each))

        choices = ",".join("+".join(text.replace("<>", term) for term in of_group) for of_group in terms)
        return Formula(reads=(f"{row}_group", *reads, *every), excel=f"CHOOSE({{{row}_group}},{choices})", function=chosen)

    return build


def last_end(row: str, groups: Iterable[str], there: Container[str]) -> str:
    """The count of all lines of a list: that up to the end of its last group which is there."""
    return [end for end in (f"{row}s_to_{name}" for name in groups) if end in there][-1]


def missing_of(row: str) -> Callable[[tuple[str, ...]], Formula]:
    """How many lines there are beyond those that the list has room for."""

    def build(codes: tuple[str, ...]) -> Formula:
        last, number = f"{row}s_to_{groups_of(codes)[-1]}", f"every_{row}_number"
        excel = f"MAX(0,{{{last}}}-COUNT({{{number}}}))"
        return Formula(reads=(last, number), excel=excel, function=lambda end, numbers: np.maximum(0, end - counted(numbers)))

    return build


def _ends(*values: Any) -> Any:
    return sum(values[:-1]) + counted(values[-1])


def _group(number: Any, *ends: Any) -> Any:
    return np.where(number > ends[-1], np.nan, 1 + sum((number > end).astype(float) for end in ends[:-1]))


def _place(number: Any, group: Any, *ends: Any) -> Any:
    return number - choose(group, 0.0, *ends)


def declare_lines(
    row: str,
    per: Per,
    part: str,
    groups: Mapping[str, str],
    *,
    what: str,
    code: str,
    also: Mapping[str, tuple[str, str]] | None = None,
) -> None:
    """The lines of a list: `<row>_number`, `_group`, `_place`, `_first`, `_code`, `_valves`, and for each group `<row>s_to_<group>`.

    `groups` has each group's name as `declare_group` knows it, and what it is called; `what` names the list and `code` its codes in
    titles; `also` is that of `by_group`.
    """
    ends = tuple(f"{row}s_to_{name}" for name in groups)
    for at, (name, called) in enumerate(groups.items()):
        reads = (*ends[max(0, at - 1) : at], f"every_{name}_opens")
        derive(
            ends[at],
            reads,
            _ends,
            "How many lines the list has up to the end of this group.",
            title=f"{what}, lines up to the group {called}",
            unit="1",
            part=part,
            source=GATHERED,
            per=Per.OUTAGE,
            excel="+".join([*(f"{{{read}}}" for read in reads[:-1]), f"COUNT({{{reads[-1]}}})"]),
        )
    number, group, place, first = (f"{row}_{name}" for name in ("number", "group", "place", "first"))
    entry(number, title=f"{what}, line", unit="1", part=part, source=cite("reading"), per=per, sentence="The number of the line.")

    def group_of(there: tuple[str, ...]) -> Formula:
        *before, last = (f"{row}s_to_{name}" for name in groups_of(there))
        steps = "+".join(f"SIGN(MAX(0,{{{number}}}-{{{end}}}))" for end in before)
        return Formula(reads=(number, *before, last), excel=f'IF({{{number}}}>{{{last}}},"",1+{steps})', function=_group)

    def place_of(there: tuple[str, ...]) -> Formula:
        before = tuple(f"{row}s_to_{name}" for name in groups_of(there))[:-1]
        ends = ",".join(f"{{{end}}}" for end in before)
        return Formula(reads=(number, group, *before), excel=f"{{{number}}}-CHOOSE({{{group}}},0,{ends})", function=_place)

    names = ", ".join(f"{at} {called}" for at, called in enumerate(groups.values(), start=1))
    said = (
        (group, group_of, f"Which group the line belongs to: {names}.", f"{what}, group of the line", "1"),
        (place, place_of, "The number of the line within its group.", f"{what}, place in the group", "1"),
        (
            first,
            by_group(row, ("<>_opens",), (place,), f"SMALL({{every_<>_opens}},{{{place}}})", smallest),
            "The number of the first valve with the code.",
            f"{what}, valve that opens the line",
            "1",
        ),
        (
            f"{row}_code",
            by_group(row, ("<>_code",), (first,), f"INDEX({{every_<>_code}},{{{first}}})", lambda codes, at: pick(at, list(codes))),
            "What like things share.",
            code,
            "",
        ),
        (
            f"{row}_valves",
            by_group(row, ("<>_first",), (first,), f"COUNTIF({{every_<>_first}},{{{first}}})", count_where, also),
            "How many valves ask for it.",
            f"{what}, valves of the line",
            "1",
        ),
    )
    for name, build, sentence, title, unit in said:
        gathered(name, codes_of(groups), build, sentence, title=title, unit=unit, text=not unit, part=part, source=GATHERED, per=per)
