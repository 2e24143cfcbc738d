"""What a list orders: hand-worked amounts, the lines that they make, and what of a list says nothing of a valve."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest

import sheetcalc
from sheetcalc.calculations.run import evaluate, evaluate_outage, read_entries
from sheetcalc.declare.quantity import Per

#: A stem of 28 in a box of 44 and 60 deep takes five rings of 8 mm over a spacer of 16: worked out by hand, as all figures here are.
VALVE = {
    "unit_set": "metric", "stem_diameter_entered": 28.0, "box_bore_entered": 44.0, "box_depth_entered": 60.0, "nose_length_entered": 22.0,
    "packing_material": "graphite braid",
}  # fmt: skip


def ordered(
    rows: list[dict[str, Any]], listed: list[dict[str, Any]] | None = None, *, stores: list[dict[str, Any]] | None = None, **outage: Any
) -> dict[str, Any]:
    """The order of a small list, with twelve lines and six rows of Stores."""
    valves = evaluate(read_entries(pd.DataFrame(rows, dtype=object)), len(rows))
    typed = pd.DataFrame(listed or [{}] * len(rows), dtype=object).assign(position=np.arange(1.0, len(rows) + 1))
    kept = pd.DataFrame(stores or [{}], dtype=object).reindex(range(6)).assign(store_number=np.arange(1.0, 7))
    entries = {
        Per.LISTED: read_entries(typed, Per.LISTED), Per.STORE: read_entries(kept, Per.STORE),
        Per.OUTAGE: read_entries(pd.DataFrame([{"outage_unit_set": "metric", **outage}], dtype=object), Per.OUTAGE),
        Per.LINE: read_entries(pd.DataFrame({"line_number": np.arange(1.0, 13)}), Per.LINE),
    }  # fmt: skip
    lengths = {Per.LISTED: len(rows), Per.OUTAGE: 1, Per.STORE: 6, Per.LINE: 12}
    return evaluate_outage(entries, lengths, valves)


def test_two_valves_alike_make_one_line_of_braid_and_one_of_spacers() -> None:
    """Each needs five rings of pi (28 + 8) mm, waste 8 %: 5 x 113.097 x 1.08 = 610.73 mm; two of them and a tenth for spares 1.3436 m."""
    out = ordered([{**VALVE, "tag": "A"}, {**VALVE, "tag": "B"}])

    assert list(out["line_item"][:3]) == ["braid packing", "spacer", ""]
    assert out["line_valves"][:2].tolist() == [2.0, 2.0]
    assert out["line_need"][0] == pytest.approx(2 * 5 * np.pi * 36 * 1.08 / 1000)
    assert out["line_with_spares"][0] == pytest.approx(2 * 5 * np.pi * 36 * 1.08 * 1.1 / 1000)
    # A coil of 8 m suffices; spacers are made to measure and get no spares.
    assert out["line_packs"][:2].tolist() == [1.0, 2.0]
    assert out["check_reconciliation"][0] == "OK"


def test_what_waits_is_not_ordered_and_is_counted() -> None:
    """A maker's count of eight rings does not fit (HOLD), and a box without a depth has no count (INCOMPLETE): neither is ordered."""
    held, bare = {**VALVE, "tag": "B", "maker_ring_count_entered": 8.0}, {**VALVE, "tag": "C", "box_depth_entered": None}
    out = ordered([{**VALVE, "tag": "A"}, held, bare])

    assert [out[name][0] for name in ("valves_in_use", "valves_ordered", "valves_hold", "valves_incomplete")] == [3, 1, 1, 1]
    assert out["line_valves"][0] == 1
    assert out["check_reconciliation"][0] == "OK"


def test_stores_lead_time_and_price_count() -> None:
    """Of 0.6718 m with spares half a metre lies in stores, so two packs of 0.1 m; ordered 100 days before 14 days before the start."""
    stores = [{"store_code": "M9B800", "store_pack_entered": 0.1, "store_stock_entered": 0.5, "store_price_entered": 4.0,
               "store_lead_days_entered": 100.0}]  # fmt: skip
    out = ordered([{**VALVE, "tag": "A"}], stores=stores, outage_start_entered=46500.0, status_date_entered=46387.0)

    assert out["line_code"][0] == "M9B800"
    assert out["line_to_buy"][0] == pytest.approx(5 * np.pi * 36 * 1.08 * 1.1 / 1000 - 0.5)
    assert (out["line_packs"][0], out["line_cost"][0]) == (2, 8)
    assert out["line_order_by"][0] == 46500 - 14 - 100
    assert "past" in out["check_line"][0]


def test_a_pack_of_nothing_is_said_and_counts_no_packs() -> None:
    """A spool of 0 m gives no number of packs, neither nought nor infinitely many."""
    out = ordered([{**VALVE, "tag": "A"}], stores=[{"store_code": "m9b800", "store_pack_entered": 0.0}])

    assert np.isnan(out["line_packs"][0])
    assert "pack" in out["check_store"][0].lower()
    assert "Stores" in out["check_line"][0]


def test_braided_end_rings_are_lines_of_their_own() -> None:
    """A die-formed set of five with two end rings is a set of three and two rings apart; for braid they are said and not ordered."""
    formed = {**VALVE, "packing_form_entered": "die-formed", "made_ring_height_entered": 8.0}
    out = ordered([{**formed, "tag": "A"}, {**VALVE, "tag": "B"}], [{"end_ring_count_entered": 2.0}, {"end_ring_count_entered": 2.0}])

    items = dict(zip(out["line_item"], range(12), strict=True))
    assert out["line_rings"][items["die-formed packing"]] == 3
    assert out["line_pieces"][items["braided end rings"]] == 2
    assert out["check_order"][0] == "OK"
    assert "end rings" in out["check_order"][1]


def test_columns_for_order_and_plan_say_nothing_of_a_valve() -> None:
    """A frame as a list gives it, crew and gasket included, is calculated as one without them."""
    frame = pd.DataFrame([{**VALVE, "tag": "A"}], dtype=object)
    with_plan = frame.assign(gasket="sheet", crew_number_entered=2.0)

    pd.testing.assert_frame_equal(sheetcalc.calculate(frame), sheetcalc.calculate(with_plan))
