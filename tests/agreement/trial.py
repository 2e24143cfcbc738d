"""Mutants on trial, of valves and of outages alike: what each changed formula and function is tried on, and the verdict.

A formula is put beside its inputs and recalculated by IronCalc, a function is called; a mutant that answers as the core does
wherever it is tried has survived, and needs a reason. The verdicts of all shards are told together at the end of the run.
"""

from __future__ import annotations

import dataclasses
import inspect
import itertools
import json
import re
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import pytest
from agreement.bench import Bench, differs, same
from agreement.mutants import Mutant, excel_mutants, python_mutants

from sheetcalc.declare.quantity import Derived, Per, get

#: How a mutant of a function may break down instead of answering.
FAILS = (IndexError, KeyError, TypeError, ValueError, ZeroDivisionError)
#: Name and change as patterns, and the reason why such mutants change nothing. Found by hand, at most 3 % of all.
Reasons = tuple[tuple[str, str, str], ...]
#: The greatest share of mutants that may change nothing, with and without those that are left out by definition.
MOST_EQUIVALENT = 0.03


@dataclass(frozen=True, eq=False)
class Field:
    """Rows of one kind: their inputs as formulas and functions read them, and what the core answers to them."""

    per: Per
    length: int
    #: Everything by name, as a sheet shows it, and as functions read it.
    values: Mapping[str, Any]
    held: Mapping[str, Any]
    #: The cells of an entry: numbers, texts, None for an empty cell.
    typed: Callable[[str], Sequence[Any]]
    answers: Mapping[str, Any]
    #: What is not judged here.
    left_out: frozenset[str] = frozenset()
    #: The rows of each quantity that are judged, all where nothing is said.
    sound: Mapping[str, Any] = field(default_factory=dict)

    def bench(self, rows: Any = None) -> Bench:
        """Rows of the field, all where none are named, put beside formulas."""
        return Bench(range(self.length) if rows is None else rows, self.values, self.typed, self.per)

    def computed(self, quantity: Derived) -> Any:
        """What a function answers here, in words where it speaks."""
        return quantity.shown(quantity.compute(self.held, self.length))

    def tells(self, quantity: Derived) -> bool:
        """Whether a changed function answers otherwise here, or not at all."""
        if quantity.name in self.left_out:
            return False
        try:
            return not same(self.computed(quantity), self.answers[quantity.name])
        except FAILS:
            return True


#: A field and the rows of it that are tried, all where none are named.
Trial = tuple[Field, Any]


def survivors(trials: Iterable[Trial], mutants: Sequence[Mutant]) -> list[Mutant]:
    """The mutants of formulas that no trial tells from the core."""
    alive = list(mutants)
    for ground, rows in trials:
        asked = [mutant for mutant in alive if mutant.name not in ground.left_out]
        if not asked:
            continue
        got = ground.bench(rows).run([mutant.text for mutant in asked])
        told = set()
        for mutant, column in zip(asked, got, strict=True):
            want = ground.answers[mutant.name] if rows is None else ground.answers[mutant.name][rows]
            sound = ground.sound.get(mutant.name, itertools.repeat(True))  # noqa: FBT003
            if differs(itertools.compress(column, sound), itertools.compress(want, sound)):
                told.add(id(mutant))
        alive = [mutant for mutant in alive if id(mutant) not in told]
    return alive


def of_text(quantity: Derived) -> list[Mutant]:
    """Every mutant of a quantity's formula, guarded as it is written."""
    return [dataclasses.replace(one, text=quantity.guard(one.text)) for one in excel_mutants(quantity, quantity.excel)]


def of_guard(quantity: Derived) -> list[Mutant]:
    """Every mutant of the guard around a quantity's formula."""
    around = quantity.guard("\x01")
    if around == "\x01":
        return []
    return [dataclasses.replace(one, text=one.text.replace("\x01", quantity.excel)) for one in excel_mutants(quantity, around, guard=True)]


def own_and_shared(names: Iterable[str]) -> tuple[list[Derived], list[list[Derived]]]:
    """The quantities with a function of their own, and those that share one, together."""
    own: list[Derived] = []
    shared: dict[Any, list[Derived]] = {}
    for quantity in (get(name, Derived) for name in names):
        if quantity.function.__name__ == quantity.name:
            own.append(quantity)
        else:
            shared.setdefault(quantity.function.__code__, []).append(quantity)
    return own, list(shared.values())


def split(mutants: Iterable[Mutant]) -> tuple[list[Mutant], list[Mutant]]:
    """Those to be tried, and those that say the same by definition."""
    made = list(mutants)
    return [one for one in made if not one.left_out], [one for one in made if one.left_out]


def changed(quantity: Derived, mutant: Mutant) -> Derived:
    """A quantity with the function of a mutant in the place of its own."""
    assert mutant.function is not None
    return dataclasses.replace(quantity, function=mutant.function)


def tells(mutant: Mutant, quantity: Derived, fields: Iterable[Field], by_hand: Callable[[str, Mutant], bool]) -> bool:
    """Whether a mutant of a quantity's own function is noticed, in a field or by what was worked out by hand."""
    return by_hand(quantity.name, mutant) or any(one.tells(changed(quantity, mutant)) for one in fields)


def of_own_function(quantity: Derived, fields: Callable[[Derived], Iterable[Field]], by_hand: Callable[[str, Mutant], bool]) -> Verdict:
    """The verdict on a quantity's own function."""
    tried, left_out = split(python_mutants(quantity.function, quantity))
    return Verdict(len(tried), [one for one in tried if not tells(one, quantity, fields(quantity), by_hand)], left_out)


def of_shared_function(
    quantities: Sequence[Derived], fields: Callable[[Derived], Iterable[Field]], by_hand: Callable[[str, Mutant], bool]
) -> Verdict:
    """The verdict on a function that works out several quantities: a mutant is noticed where one of them is another."""
    function = quantities[0].function
    where = function.__module__.rsplit(".", 1)[1]
    called = f"lambda of {quantities[0].name}" if function.__code__.co_name == "<lambda>" else function.__code__.co_name
    made = [split(python_mutants(quantity.function)) for quantity in quantities]
    alive = []
    for each in zip(*(tried for tried, _left_out in made), strict=True):
        noticed = (
            by_hand(function.__name__, mutant) or any(one.tells(changed(quantity, mutant)) for one in fields(quantity))
            for mutant, quantity in zip(each, quantities, strict=True)
        )
        if not any(noticed):
            alive.append(Mutant(f"{where}.{called}", each[0].change))
    return Verdict(len(made[0][0]), alive, made[0][1])


def of_helper(
    patch: pytest.MonkeyPatch, module: Any, helper: Any, everything: Callable[[], Iterable[tuple[Derived, Field]]],
    by_hand: Callable[[str, Mutant], bool],
) -> Verdict:  # fmt: skip
    """The verdict on a function that functions call: a mutant is noticed where any quantity is another, wherever it is used."""
    tried, left_out = split(python_mutants(inspect.unwrap(helper)))
    where, alive = module.__name__.rsplit(".", 1)[1], []
    for mutant in tried:
        if hasattr(helper, "__wrapped__"):  # one that keeps its answers, and is asked without that at times
            mutant.function.__wrapped__ = mutant.function  # type: ignore[union-attr]
        with patch.context() as patched:
            for part in [held for name, held in list(sys.modules.items()) if name.startswith("sheetcalc.")]:
                for attribute, held in list(vars(part).items()):
                    if held is helper:
                        patched.setattr(part, attribute, mutant.function)
            if not by_hand(helper.__name__, mutant) and not any(one.tells(quantity) for quantity, one in everything()):
                alive.append(Mutant(f"{where}.{mutant.name}", mutant.change))
    return Verdict(len(tried), alive, left_out)


# --- the verdict ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Verdict:
    """How many mutants were tried, which of them survived, and which were left out since they say the same by definition."""

    tried: int
    alive: list[Mutant]
    left_out: list[Mutant]

    def __add__(self, other: Verdict) -> Verdict:
        """Both together."""
        return Verdict(self.tried + other.tried, self.alive + other.alive, self.left_out + other.left_out)


NOTHING = Verdict(0, [], [])


def judged(verdict: Verdict, reasons: Reasons) -> tuple[list[tuple[str, str]], Counter[int]]:
    """The survivors that no reason fits, and how often each reason, by its place, fits one."""
    unknown, used = [], Counter[int]()
    for mutant in verdict.alive:
        place = next((at for at, one in enumerate(reasons) if _fits(one, mutant)), None)
        if place is None:
            unknown.append((mutant.name, mutant.change))
        else:
            used[place] += 1
    return unknown, used


def _fits(reason: tuple[str, str, str], mutant: Mutant) -> bool:
    name, change, _why = reason
    return bool(re.fullmatch(name, mutant.name) and re.fullmatch(change.replace("{", "\\{"), mutant.change))


#: The property under which a shard hands its verdict to the end of the run.
PROPERTY = "mutants"


def give(record: Callable[[str, object], None], kind: tuple[str, str], shards: int, verdict: Verdict, reasons: Reasons) -> None:
    """Fail on a survivor without a reason, and hand the rest to the end of the run, where all shards of a kind are judged together."""
    unknown, used = judged(verdict, reasons)
    left_out = Counter(mutant.left_out for mutant in verdict.left_out)
    told = {"kind": kind, "shards": shards, "tried": verdict.tried, "used": used, "left out": left_out, "reasons": reasons}
    record(PROPERTY, json.dumps(told))

    assert unknown == [], f"no reason is listed for {unknown}"


@dataclass
class Tally:
    """The verdicts of the shards of one kind, as they came in."""

    shards: int
    reasons: list[list[str]]
    seen: int = 0
    tried: int = 0
    used: Counter[int] = field(default_factory=Counter)
    left_out: Counter[str] = field(default_factory=Counter)

    def take(self, told: Mapping[str, Any]) -> None:
        """One more shard."""
        self.seen += 1
        self.tried += told["tried"]
        self.used.update({int(place): count for place, count in told["used"].items()})
        self.left_out.update(told["left out"])

    @property
    def share(self) -> float:
        """What share of all mutants says the same, those left out by definition counted too."""
        same_said = self.used.total() + self.left_out.total()
        return same_said / max(1, self.tried + self.left_out.total())

    def lines(self) -> list[str]:
        """What there is to say."""
        alive = self.used.total()
        out = [
            f"{self.seen} of {self.shards} shards: {self.tried} mutants tried, {self.tried - alive} killed, {alive} equivalent "
            f"({alive / max(1, self.tried):.1%}); {self.left_out.total()} more left out by definition ({self.share:.1%} with them)"
        ]
        out += [f"  {count:>4} left out: {reason}" for reason, count in self.left_out.most_common()]
        for place, count in self.used.most_common():
            name, _change, why = self.reasons[place]
            out.append(f"  {count:>4} equivalent, {name}: {why}")
        return out


def told_wrong(tallies: Mapping[tuple[str, str], Tally]) -> list[str]:
    """What is wrong once all shards of a kind are in: reasons without use, and too many equivalent ones.

    A guard is small and has more of them by itself: it is held against the limit together with the formula that it guards.
    """
    out = []
    whole = {kind: tally for kind, tally in tallies.items() if tally.seen >= tally.shards}
    for (subject, hand), tally in whole.items():
        called = f"{subject}, {hand}"
        out += [f"{called}: no use for the reason of {one[0]}: {one[1]}" for at, one in enumerate(tally.reasons) if not tally.used[at]]
        together = [tally, *([whole[subject, "texts"]] if hand == "guards" and (subject, "texts") in whole else [])]
        if sum(one.used.total() for one in together) > MOST_EQUIVALENT * sum(one.tried for one in together):
            out.append(f"{called}: more than {MOST_EQUIVALENT:.0%} of the mutants tried are equivalent")
    return out


def spread(names: Sequence[Any], shards: int) -> list[list[Any]]:
    """Names dealt out to shards, so that costly neighbours part."""
    return [list(names[place::shards]) for place in range(shards)]
