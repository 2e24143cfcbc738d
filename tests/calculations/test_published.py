"""Facts from print: every worked example of the reference folder comes out of the core as it is printed."""

from __future__ import annotations

import math
from collections import Counter
from typing import Final

import pandas as pd
import pytest
from told import Tell

import sheetcalc
from sheetcalc.declare.quantity import Constant, Entry, get
from sheetcalc.declare.source import Grade
from sheetcalc.reference.cases import Case, Expected, published

CASES: Final = published()
PAIRS: Final = [(case, expected) for case in CASES for expected in case.expected]


def answer(case: Case, name: str) -> float | str:
    """What the core makes of a case, by the way that a user of the package goes."""
    frame = pd.DataFrame([case.entries])
    out = sheetcalc.calculate(frame, answers=[name], constants=case.constants)[name].iloc[0]
    return str(out) if get(name).is_text else float(out)


@pytest.mark.parametrize(("case", "expected"), PAIRS, ids=[f"{case.key}-{expected.name}" for case, expected in PAIRS])
def test_a_worked_example_comes_out_as_printed(case: Case, expected: Expected) -> None:
    """The answer is the printed one within its rounding; a printed blank is a blank."""
    found = answer(case, expected.name)
    if isinstance(expected.value, str):
        shown = "" if isinstance(found, float) and math.isnan(found) else found
        assert expected.value == shown, case.sentence
    else:
        assert pytest.approx(expected.value, abs=expected.tolerance * (1 + 1e-9), rel=0) == found, case.sentence


def test_every_case_expects_something() -> None:
    """No case passes for want of an expected value, and no two cases have the same key."""
    assert [case.key for case in CASES if not case.expected] == []
    assert len(CASES) == len({case.key for case in CASES})


@pytest.mark.parametrize("case", CASES, ids=[case.key for case in CASES])
def test_a_case_says_where_it_is_from(case: Case) -> None:
    """Each case has a sentence, a source in words, and inputs that are entries."""
    assert case.sentence.endswith(".")
    assert len(case.source.split()) > 1
    assert [name for name in case.entries if not isinstance(get(name), Entry)] == []
    assert [name for name in case.constants if not isinstance(get(name), Constant)] == []


@pytest.mark.parametrize(("case", "expected"), PAIRS, ids=[f"{case.key}-{expected.name}" for case, expected in PAIRS])
def test_a_tolerance_is_that_of_print(case: Case, expected: Expected) -> None:
    """No expected number may be off by more than one in a hundred, so that a case cannot pass for want of sharpness."""
    if not isinstance(expected.value, str):
        assert expected.tolerance <= 0.01 * abs(expected.value), case.sentence


def test_expected_values_by_grade(tell: Tell) -> None:
    """The number of expected values of each grade is printed, and some of them were read in their source."""
    counts = Counter(case.grade for case, _ in PAIRS)
    tell(f"Published values by grade of their source: {', '.join(f'{count} {grade.value}' for grade, count in counts.most_common())}")
    assert counts[Grade.READ] > 0
    assert counts[Grade.CHOICE] == 0
    assert len(PAIRS) == counts.total()
