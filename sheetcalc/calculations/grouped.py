"""Like things of many valves gathered into the lines of one list: a group after the other, a line for each code.

A valve asks for a thing under a code. The first valve with a code opens a line, so that lines follow the valves without
anything being sorted. A list of several groups counts how many lines each group opens, and so knows for each line of its
own which group it belongs to and which valve opened it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick
from sheetcalc.calculations.gathering import count_where, counted, first_with, smallest
from sheetcalc.declare.quantity import Per, derived, entry, in_terms_of
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
    derived(
        title=f"{title}: first valve with this code", unit="1", part=part, source=GATHERED, per=Per.LISTED,
        excel=f"MATCH({wanted},{{every_{code}}},0)",
    )(
        in_terms_of(
            lambda _code, every: first_with(every), f"{name}_first", (code, f"every_{code}"),
            "The number of the first valve of the list with this code.",
        )
    )  # fmt: skip
    derived(
        title=f"{title}: opens a line", unit="1", part=part, source=GATHERED, per=Per.LISTED,
        excel=f'IF({{{name}_first}}={{position}},{{position}},"")',
    )(
        in_terms_of(
            lambda first, here: np.where(first == here, here, np.nan), f"{name}_opens", (f"{name}_first", "position"),
            "The number of the valve where it is the first with its code, else blank.",
        )
    )  # fmt: skip


def chosen_of(row: str, groups: Mapping[str, str], text: str) -> str:
    """Excel text that chooses by the group of the row; `text` is that of one group, with <> for its name."""
    return f"CHOOSE({{{row}_group}},{','.join(text.replace('<>', name) for name in groups)})"


def _ends(*values: Any) -> Any:
    return sum(values[:-1]) + counted(values[-1])


def _group(number: Any, *ends: Any) -> Any:
    return np.where(number > ends[-1], np.nan, 1 + sum((number > end).astype(float) for end in ends[:-1]))


def _place(number: Any, group: Any, *ends: Any) -> Any:
    return number - choose(group, 0.0, *ends)


def _first(group: Any, place: Any, *opens: Any) -> Any:
    return choose(group, *(smallest(one, place) for one in opens))


def _code(group: Any, first: Any, *codes: Any) -> Any:
    return choose(group, *(pick(first, list(one)) for one in codes))


def _valves(group: Any, first: Any, *firsts: Any) -> Any:
    return choose(group, *(count_where(one, first) for one in firsts))


def declare_lines(row: str, per: Per, part: str, groups: Mapping[str, str], *, what: str, code: str) -> tuple[str, ...]:
    """The lines of a list: `<row>_number`, `_group`, `_place`, `_first`, `_code`, `_valves`, and for each group `<row>s_to_<group>`.

    `groups` has each group's name as `declare_group` knows it, and what it is called; `what` names the list and `code` its codes in
    titles. Returns the names of the counts of lines up to the end of each group.
    """
    ends = tuple(f"{row}s_to_{name}" for name in groups)
    for at, (name, called) in enumerate(groups.items()):
        reads = (*ends[max(0, at - 1) : at], f"every_{name}_opens")
        derived(
            title=f"{what}, lines up to the group {called}", unit="1", part=part, source=GATHERED, per=Per.OUTAGE,
            excel="+".join([*(f"{{{read}}}" for read in reads[:-1]), f"COUNT({{{reads[-1]}}})"]),
        )(in_terms_of(_ends, ends[at], reads, "How many lines the list has up to the end of this group."))  # fmt: skip
    number, group, place, first = (f"{row}_{name}" for name in ("number", "group", "place", "first"))
    entry(number, title=f"{what}, line", unit="1", part=part, source=cite("reading"), per=per, sentence="The number of the line.")
    steps = "+".join(f"SIGN(MAX(0,{{{number}}}-{{{end}}}))" for end in ends[:-1])
    names = ", ".join(f"{at} {called}" for at, called in enumerate(groups.values(), start=1))
    derived(
        title=f"{what}, group of the line", unit="1", part=part, source=GATHERED, per=per,
        excel=f'IF({{{number}}}>{{{ends[-1]}}},"",1+{steps})',
    )(in_terms_of(_group, group, (number, *ends), f"Which group the line belongs to: {names}."))  # fmt: skip
    derived(
        title=f"{what}, place in the group", unit="1", part=part, source=GATHERED, per=per,
        excel=f"{{{number}}}-CHOOSE({{{group}}},0,{','.join(f'{{{end}}}' for end in ends[:-1])})",
    )(in_terms_of(_place, place, (number, group, *ends[:-1]), "The number of the line within its group."))  # fmt: skip
    derived(
        title=f"{what}, valve that opens the line", unit="1", part=part, source=GATHERED, per=per,
        excel=chosen_of(row, groups, f"SMALL({{every_<>_opens}},{{{place}}})"),
    )(
        in_terms_of(
            _first, first, (group, place, *(f"every_{name}_opens" for name in groups)), "The number of the first valve with the code.",
        )
    )  # fmt: skip
    derived(
        title=code, part=part, source=GATHERED, text=True, per=per, excel=chosen_of(row, groups, f"INDEX({{every_<>_code}},{{{first}}})"),
    )(in_terms_of(_code, f"{row}_code", (group, first, *(f"every_{name}_code" for name in groups)), "What like things share."))  # fmt: skip
    derived(
        title=f"{what}, valves of the line", unit="1", part=part, source=GATHERED, per=per,
        excel=chosen_of(row, groups, f"COUNTIF({{every_<>_first}},{{{first}}})"),
    )(
        in_terms_of(
            _valves, f"{row}_valves", (group, first, *(f"every_{name}_first" for name in groups)), "How many valves ask for it.",
        )
    )  # fmt: skip
    return ends
