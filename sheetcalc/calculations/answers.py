"""Sets of answers: which quantities a workbook or a calculation holds. Each has what its answers read, and nothing else.

A set is named here by the parts of the job that it answers. A quantity that gathers a family reads those of its members that are
in. A fault is in when all that it reads, down to the entries, is in.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache, cached_property
from graphlib import TopologicalSorter
from typing import Final, overload

from sheetcalc.declare.quantity import (
    EVERY,
    Constant,
    Derived,
    Entry,
    Fault,
    Gathered,
    Per,
    Q,
    Quantity,
    all_quantities,
    get,
)
from sheetcalc.errors import UnknownNameError, nearest

#: The parts of the job that each set answers; () for all of them. Each is within the next.
PARTS_OF: Final[dict[str, tuple[str, ...]]] = {
    "packing": ("section", "rings", "gap", "cut", "flats"),
    "repack": ("section", "rings", "gap", "cut", "flats", "material", "load", "stack", "stem", "fitting", "tools"),
    "whole": (),
}
#: What no quantity reads and a sheet shows all the same: entries in words, constants of the job card, one of Materials.
_CARRIED: Final = {
    "packing": ("tag",),
    "repack": (
        *("tag", "place", "fluid", "isolation_points", "cubic_density", "retorque_strokes"),
        *("stem_taper_most", "pit_depth_most", "bore_unround_most", "metal_removed_most", "follower_box_most"),
        *("leak_test_minutes", "leak_test_limit"),
    ),
}


@cache
def order() -> tuple[str, ...]:
    """The names of all quantities, each after those that it reads, otherwise as declared.

    Raises graphlib.CycleError when quantities read each other in a circle.
    """
    graph = {quantity.name: [read.removeprefix(EVERY) for read in quantity.reads] for quantity in all_quantities()}
    TopologicalSorter(graph).prepare()
    placed: dict[str, None] = {}

    def place(name: str) -> None:
        for read in graph[name]:
            if read not in placed:
                place(read)
        placed.setdefault(name)

    for name in graph:
        place(name)
    return tuple(placed)


@dataclass(frozen=True)
class Answers:
    """Quantities of which all that they read is among them too."""

    name: str
    names: frozenset[str]
    _held: dict[str, Quantity] = field(default_factory=dict, repr=False, compare=False)

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and name.removeprefix(EVERY) in self.names

    @overload
    def get(self, name: str) -> Quantity: ...
    @overload
    def get(self, name: str, kind: type[Q]) -> Q: ...
    def get(self, name: str, kind: type[Quantity] = Quantity) -> Quantity:
        """The quantity of that name as it is here: what gathers a family reads the members that are in."""
        if name not in self._held:
            quantity = get(name)
            self._held[name] = quantity.among(self.names) if isinstance(quantity, Gathered) else quantity
        quantity = self._held[name]
        return quantity if isinstance(quantity, kind) else get(name, kind)

    @cached_property
    def order(self) -> tuple[str, ...]:
        """The names, each after those that it reads, otherwise as declared."""
        return tuple(name for name in order() if name in self.names)

    @cached_property
    def _entries(self) -> dict[Per, tuple[str, ...]]:
        typed = [q for q in all_quantities() if isinstance(q, Entry) and q.name in self.names]
        return {per: tuple(q.name for q in typed if q.per is per) for per in Per}

    def entries(self, per: Per = Per.VALVE) -> tuple[str, ...]:
        """What a person types, in the order of declaration."""
        return self._entries[per]

    @cached_property
    def _worked_out(self) -> dict[Per, tuple[str, ...]]:
        worked = [name for name in self.order if isinstance(get(name), Derived)]
        return {per: tuple(name for name in worked if get(name).per is per) for per in Per}

    def worked_out(self, per: Per = Per.VALVE) -> tuple[str, ...]:
        """What is worked out, each after those that it reads: one column of a working sheet each."""
        return self._worked_out[per]

    def constants(self) -> tuple[Constant, ...]:
        """The constants, in the order of declaration."""
        return tuple(q for q in all_quantities() if isinstance(q, Constant) and q.name in self.names)


@cache
def _entries_behind(name: str) -> frozenset[str]:
    """The entries without which a quantity cannot be worked out; those of a family are left to its members."""
    quantity = get(name.removeprefix(EVERY))
    if isinstance(quantity, Entry):
        return frozenset((quantity.name,))
    if isinstance(quantity, Gathered):
        return frozenset()
    return frozenset().union(*(_entries_behind(read) for read in quantity.reads))


def _closed(goals: Iterable[str], parts: tuple[str, ...]) -> frozenset[str]:
    """The goals and all that they read; of families those members whose entries are in, of faults those of the parts alone."""
    names: set[str] = set()
    waiting = list(goals)
    while waiting:
        while waiting:
            name = waiting.pop().removeprefix(EVERY)
            if name not in names:
                names.add(name)
                quantity = get(name)
                waiting += () if isinstance(quantity, Gathered) else quantity.reads
        for name in [one for one in names if isinstance(get(one), Gathered)]:
            family = get(name, Gathered)
            waiting += (one for one in family.members if one not in names and _belongs(one, names, parts))
            there = {*names, *waiting}
            if family.alone or not there.isdisjoint(family.members):
                waiting += (read for read in family.among(there).reads if read.removeprefix(EVERY) not in names)
    return frozenset(name for name in names if not _is_empty(name, names))


def _belongs(name: str, names: set[str], parts: tuple[str, ...]) -> bool:
    member = get(name)
    if isinstance(member, Entry):
        return False
    if isinstance(member, Gathered):
        return any(one in names or _belongs(one, names, parts) for one in member.members)
    return _entries_behind(name) <= names and (not isinstance(member, Fault) or member.per is not Per.VALVE or member.part in parts)


def _is_empty(name: str, names: set[str]) -> bool:
    """Whether a quantity gathers a family of which no member is there, and means nothing without."""
    family = get(name)
    return isinstance(family, Gathered) and not family.alone and names.isdisjoint(family.members)


@cache
def answers_named(name: str) -> Answers:
    """The set of that name. Raises UnknownNameError with the nearest."""
    if name not in PARTS_OF:
        message = f"No set of answers is called {name!r}: there are {', '.join(PARTS_OF)}.{nearest(name, PARTS_OF)}"
        raise UnknownNameError(message)
    parts = PARTS_OF[name]
    if not parts:
        return Answers(name, frozenset(q.name for q in all_quantities()))
    of_parts = [q for q in all_quantities() if isinstance(q, Derived) and not isinstance(q, Fault) and q.per is Per.VALVE]
    goals = [q.name for q in of_parts if q.part in parts]
    names = _closed(["state", "all_trouble", *_CARRIED[name], *goals], parts)
    if name == "packing":
        return Answers(name, names)
    listed = [q.name for q in all_quantities() if isinstance(q, Entry) and q.per is not Per.VALVE]
    known = names | set(listed)
    outage = [q.name for q in all_quantities() if q.per is not Per.VALVE and _entries_behind(q.name) <= known]
    return Answers(name, _closed([*names, *listed, *outage], parts))


def whole() -> Answers:
    """All that there is."""
    return answers_named("whole")


def following(names: Iterable[str]) -> Answers:
    """What a workbook has that only follows valves: the quantities of its rows, and all that they read."""
    return Answers("follow-up", _closed(names, ()))


def answering(names: Iterable[str], within: str = "repack") -> Answers:
    """What quantities of a valve read, and nothing else; the name of a set stands for all of it.

    What gathers a family, such as the state, reads those members that it reads in the set `within`, or in the whole where a name is
    not in that: it says of a valve the same beside few answers as beside many.
    Raises UnknownNameError, with the nearest, for a name of neither a quantity nor a set, or of a quantity that a valve has none of.
    """
    goals: set[str] = set()
    of_valves = {q.name for q in all_quantities() if isinstance(q, (Entry, Derived)) and q.per is Per.VALVE}
    for name in names:
        if name in PARTS_OF:
            goals |= answers_named(name).names
        elif name in of_valves:
            goals.add(name)
        else:
            message = (
                f"No answer about a valve is called {name!r}, nor a set of answers.{nearest(str(name), (*PARTS_OF, *sorted(of_valves)))}"
            )
            raise UnknownNameError(message)
    around = answers_named(within)
    around = around if goals <= around.names else whole()
    closed: set[str] = set()
    waiting = list(goals)
    while waiting:
        name = waiting.pop().removeprefix(EVERY)
        if name not in closed:
            closed.add(name)
            quantity = around.get(name)
            waiting += quantity.reads
            waiting += quantity.members if isinstance(quantity, Gathered) else ()
    return Answers("asked", frozenset(closed))
