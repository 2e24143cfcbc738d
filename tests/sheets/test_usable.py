"""Answers as they can be used: worked by hand, as properties, and each formula against its answer in a spreadsheet engine."""

from __future__ import annotations

import re
from typing import Any, Final

import ironcalc
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcalc import units
from sheetcalc.calculations.run import issued_assumptions
from sheetcalc.declare.quantity import get
from sheetcalc.reference import tables
from sheetcalc.sheets.usable import usable_in, usable_value

#: Newton millimetres in a pound-force foot: 4.4482216152605 N (BIPM) times 304.8 mm.
LBF_FT: Final = 4.4482216152605 * 304.8
TORQUE, CUT, GAP, STRESS, SECTION = "stud_torque", "cut_length", "gland_gap_end", "gland_stress", "packing_section"
#: Quantity, the answer in mm, N mm or MPa, unit set, and how it is shown: worked out by hand.
SHOWN: Final[tuple[tuple[str, float, str, float], ...]] = (
    (TORQUE, 127_800.0, "metric", 120.0), (TORQUE, 41_100.0, "metric", 41.0), (TORQUE, 9_940.0, "metric", 9.9),
    (TORQUE, 570.0, "metric", 0.57), (TORQUE, 1_000_000.0, "metric", 1000.0), (TORQUE, 0.0, "metric", 0.0),
    (TORQUE, 39_999.999_999_99, "metric", 40.0), (TORQUE, 39_999.0, "metric", 39.0), (TORQUE, 99_999.999_999_9, "metric", 100.0),
    (TORQUE, 99_900.0, "metric", 99.0), (TORQUE, 73.2 * LBF_FT, "US", 73.0), (TORQUE, 269.5 * LBF_FT, "US", 260.0),
    (CUT, 113.0973, "metric", 113.0), (CUT, 113.3, "metric", 113.5), (CUT, 113.25, "metric", 113.5), (CUT, 0.2, "metric", 0.0),
    (CUT, 113.25 - 1e-11, "metric", 113.5),
    (CUT, 113.0973, "US", 4.4375),  # 4.4527 in are 142.48 thirty-seconds, so 142, which are 4 7/16
    (GAP, 6.2, "metric", 6.0), (GAP, 0.1, "metric", 0.5), (GAP, -0.1, "metric", -0.5), (GAP, -1.8, "metric", -2.0),
    (GAP, 0.0, "metric", 0.0), (GAP, 1e-14, "metric", 0.0), (GAP, 0.1, "US", 0.03125), (GAP, -0.1, "US", -0.03125),
    (GAP, 25.4, "US", 1.0),
    (STRESS, 26.2, "metric", 26.0), (STRESS, 26.200088, "US", 3800.0), (STRESS, 26.5, "metric", 27.0),
    (SECTION, 7.9375, "metric", 7.9375), (SECTION, 7.9375, "US", 0.3125),
)  # fmt: skip


@pytest.mark.parametrize(("name", "value", "unit_set", "expected"), SHOWN)
def test_worked_by_hand(name: str, value: float, unit_set: str, expected: float) -> None:
    """Torque is cut after two figures, lengths go to 0.5 mm or 1/32 in, a gap is never nought unless it is, stress to 1 MPa or 10 psi."""
    assert usable_value(get(name), value, unit_set) == pytest.approx(expected, abs=1e-9)


def test_blank_stays_blank() -> None:
    """Where there is no answer none is shown."""
    assert [usable_value(get(name), None, one) for name in (TORQUE, CUT, GAP, STRESS) for one in units.UNIT_SETS] == [None] * 8


@given(st.floats(min_value=50.0, max_value=1e7), st.sampled_from(list(units.UNIT_SETS)))
def test_no_torque_is_more_than_worked_out(torque: float, unit_set: str) -> None:
    """Never above, but for noise below the sixth decimal, and within a tenth: the second figure is at least 1 in 10."""
    exact = torque / {"metric": 1000.0, "US": LBF_FT}[unit_set]
    shown = usable_value(get(TORQUE), torque, unit_set)
    assert isinstance(shown, float)
    assert 0.9 * exact <= shown <= exact + 1e-6


@given(st.floats(min_value=-500.0, max_value=500.0), st.sampled_from([("metric", 1.0, 0.5), ("US", 25.4, 1 / 32)]))
def test_a_gap_keeps_its_sign_and_its_nearest_step(gap: float, how: tuple[str, float, float]) -> None:
    """Half a step off at most, but for a small one, which is a whole step."""
    unit_set, unit, step = how
    shown = usable_value(get(GAP), gap, unit_set)
    assert isinstance(shown, float)
    if abs(gap) > 1e-6:
        assert shown * gap > 0
    assert abs(shown - gap / unit) <= max(step / 2, step - abs(gap) / unit) + 1e-6


def _evaluated(texts: list[str], values: list[float | None]) -> list[Any]:
    """What an engine makes of formulas about the cell A1, A2 ..., tables and constants being numbers."""
    held = tables.values()
    model = ironcalc.create("usable")
    for row, (text, value) in enumerate(zip(texts, values, strict=True), start=1):
        if value is not None:
            model.set_user_input(0, row, 1, repr(value))
        plain = re.sub(r"INDEX\((unit_\w+),(\d)\)", lambda found: repr(float(held[found[1]][int(found[2]) - 1])), text)
        model.set_user_input(0, row, 2, "=" + plain.replace("counting_digits", str(issued_assumptions()["counting_digits"])))
    model.evaluate()
    return [model.get_cell_value(0, row, 2) for row in range(1, len(texts) + 1)]


def test_formulas_show_the_same() -> None:
    """Each formula gives the answer of the core, at the figures worked by hand and all along the scale."""
    scale = [0.1 * 1.37**power for power in range(60)]
    asked = [(name, value, unit_set) for name, value, unit_set, _expected in SHOWN]
    asked += [(name, value * (1000 if name == TORQUE else 1), one) for name in (TORQUE, CUT, GAP, STRESS) for value in scale
              for one in units.UNIT_SETS]  # fmt: skip
    got = _evaluated([usable_in(get(name), f"A{row}", one) for row, (name, _value, one) in enumerate(asked, start=1)],
                     [value for _name, value, _one in asked])  # fmt: skip
    expected = [usable_value(get(name), value, one) for name, value, one in asked]
    assert [float(one) for one in got] == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert _evaluated([usable_in(get(TORQUE), "A1", "metric")], [None]) == [""]
