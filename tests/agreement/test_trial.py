"""The judge of mutants judged: what it holds against a run once all shards of a kind are in."""

from __future__ import annotations

from collections import Counter

import pytest
from agreement.mutants import Mutant
from agreement.trial import Tally, Verdict, give, judged, told_wrong

REASONS = (("ring_.*", "0 -> 1 .*", "no ring has that number"), ("state", ".*", "never so"))
ALIVE = [Mutant("ring_3", "0 -> 1 at 7"), Mutant("ring_3", "{a} -> {b} at 7")]


def test_a_survivor_needs_a_reason() -> None:
    """A reason fits by name and by change; a survivor that none fits is told."""
    unknown, used = judged(Verdict(9, ALIVE, []), REASONS)

    assert unknown == [("ring_3", "{a} -> {b} at 7")]
    assert used == {0: 1}


def test_a_shard_with_a_survivor_without_a_reason_fails() -> None:
    """It fails by itself, and is counted all the same."""
    told: list[object] = []
    with pytest.raises(AssertionError, match="no reason is listed"):
        give(lambda _name, value: told.append(value), ("valves", "texts"), 1, Verdict(9, ALIVE, []), REASONS)

    assert len(told) == 1


def _tally(seen: int, tried: int, used: dict[int, int]) -> Tally:
    return Tally(2, [list(one) for one in REASONS], seen, tried, Counter(used))


@pytest.mark.parametrize(
    ("tally", "said"),
    [
        (_tally(1, 10, {0: 9}), []), (_tally(2, 1000, {0: 9, 1: 1}), []), (_tally(2, 1000, {0: 9}), ["no use for the reason of state"]),
        (_tally(2, 100, {0: 3, 1: 1}), ["more than 3%"]),
    ],
    ids=["not all are in", "well", "a reason idle", "too many"],
)  # fmt: skip
def test_all_shards_together_are_judged(tally: Tally, said: list[str]) -> None:
    """Once all are in, a reason without use and too many equivalent mutants are wrong; before, nothing is said."""
    wrong = told_wrong({("valves", "texts"): tally})

    assert [any(words in line for line in wrong) for words in said] == [True] * len(said)
    assert len(wrong) == len(said)


def test_guards_are_held_against_the_limit_with_their_formulas() -> None:
    """Few mutants of guards may be alike so long as those of the formulas make up for it."""
    guards = _tally(2, 100, {0: 3, 1: 1})

    assert len(told_wrong({("valves", "guards"): guards, ("valves", "texts"): _tally(2, 100, {0: 1, 1: 1})})) == 0
    assert len(told_wrong({("valves", "guards"): guards, ("valves", "texts"): _tally(2, 20, {0: 1, 1: 1})})) == 2
