"""What a list orders: hand-worked amounts, the lines that they make, and what of a list says nothing of a valve."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcalc.calculations.run import calculate, evaluate, evaluate_outage, issued_assumptions, read_entries
from sheetcalc.declare.quantity import Derived, Per, get

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
    """Twelve rings by the maker do not fit (STOP), a box without a depth has no count (MISSING), one has no material: none is ordered."""
    held, bare = {**VALVE, "tag": "B", "maker_ring_count_entered": 12.0}, {**VALVE, "tag": "C", "box_depth_entered": None}
    unnamed = {**VALVE, "tag": "D", "packing_material": None}
    out = ordered([{**VALVE, "tag": "A"}, held, bare, unnamed])

    counts = ("valves_in_use", "valves_ordered", "valves_stop", "valves_missing", "valves_sized", "valves_unnamed", "valves_waiting")
    assert [out[name][0] for name in counts] == [4, 1, 1, 1, 2, 1, 2]
    assert out["line_valves"][0] == 1
    assert out["check_reconciliation"][0] == "OK"


def test_stores_lead_time_and_price_count() -> None:
    """Of 0.6718 m with spares half a metre lies in stores, so two packs of 0.1 m; ordered 100 days before 14 days before the start."""
    stores = [{"store_code": "BRAID graphite braid / 8", "store_pack_entered": 0.1, "store_stock_entered": 0.5, "store_price_entered": 4.0,
               "store_lead_days_entered": 100.0}]  # fmt: skip
    out = ordered([{**VALVE, "tag": "A"}], stores=stores, outage_start_entered=46500.0, status_date_entered=46387.0)

    assert out["line_code"][0] == "BRAID graphite braid / 8"
    assert out["line_to_buy"][0] == pytest.approx(5 * np.pi * 36 * 1.08 * 1.1 / 1000 - 0.5)
    assert (out["line_packs"][0], out["line_cost"][0]) == (2, 8)
    assert out["line_order_by"][0] == 46500 - 14 - 100
    assert "past" in out["check_line"][0]


def test_a_pack_of_nothing_is_said_and_counts_no_packs() -> None:
    """A spool of 0 m gives no number of packs, neither nought nor infinitely many."""
    out = ordered([{**VALVE, "tag": "A"}], stores=[{"store_code": "braid Graphite Braid / 8", "store_pack_entered": 0.0}])

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


#: Taken out of the line: class 300, NPS 4, eight studs 3/4-10 of 4.5 in for a joint (ASME B16.5, as an industry data book lists it).
OUT = {
    **VALVE, "comes_out_entered": "yes", "flange_size": "NPS 4", "flange_class_entered": 300.0, "flange_facing_entered": "raised face",
    "flange_material_entered": "1.1 carbon steel", "gasket_kind": "spiral wound, graphite filler", "flange_bolt_grade": "ASTM A193 B7",
}  # fmt: skip
NEW_STUDS = {**OUT, "flange_studs_renewed_entered": "yes"}
LUBRICANTS, GASKETS, STUDS, OTHER_LUBRICANTS = 6, 7, 8, 9


def lines_of(out: dict[str, Any], group: int, *names: str) -> list[tuple[Any, ...]]:
    """The lines of a group, each as the quantities asked for."""
    return [tuple(out[name][row] for name in names) for row in np.flatnonzero(out["line_group"] == group)]


def test_flange_gaskets_alike_share_a_line() -> None:
    """Two joints each of two valves and one of a third: 2 + 2 + 1 = 5 gaskets, a tenth for spares 5.5, so 6. Class 150 is another line.

    A gasket for each joint that is opened: common practice.
    """
    lower = {**OUT, "tag": "D", "flange_class_entered": 150.0}
    out = ordered([{**OUT, "tag": "A"}, {**OUT, "tag": "B"}, {**OUT, "tag": "C", "flange_joint_count_entered": 1.0}, lower])

    assert out["joint_pieces"].tolist() == [2, 2, 1, 2]
    assert lines_of(out, GASKETS, "line_item", "line_designation", "line_valves", "line_need", "line_with_spares") == [
        ("flange gasket", "spiral wound, graphite filler, NPS 4 class 300", 3, 5, 6),
        ("flange gasket", "spiral wound, graphite filler, NPS 4 class 150", 1, 2, 3),
    ]  # fmt: skip
    assert lines_of(out, STUDS, "line_item") == []
    assert out["check_reconciliation"][0] == "OK"


def test_gaskets_of_another_kind_or_size_are_another_line() -> None:
    """What is typed in capitals is the same kind; graphite sheet and NPS 6 are not."""
    kinds = ["spiral wound, graphite filler", "SPIRAL WOUND, graphite filler", "flexible graphite sheet", "spiral wound, graphite filler"]
    sizes = ["NPS 4", "NPS 4", "NPS 4", "NPS 6"]
    out = ordered([{**OUT, "gasket_kind": kind, "flange_size": size} for kind, size in zip(kinds, sizes, strict=True)])

    assert lines_of(out, GASKETS, "line_designation", "line_pieces") == [
        ("spiral wound, graphite filler, NPS 4 class 300", 4), ("flexible graphite sheet, NPS 4 class 300", 2),
        ("spiral wound, graphite filler, NPS 6 class 300", 2),
    ]  # fmt: skip
    assert out["check_reconciliation"][0] == "OK"


#: The same with all that its checks ask for, so that it is READY.
READY = {
    **OUT, "packing_material": "PTFE braid", "fluid_kind_entered": "water", "line_pressure_entered": 4.0, "fluid_temperature_entered": 80.0,
    "gland_stud_thread": "M12", "gland_stud_count_entered": 2.0, "gland_stud_grade": "ISO 8.8", "stud_lubricant": "machine oil",
    "flange_lubricant": "machine oil", "valve_mass_entered": 90.0, "sling_legs_entered": 2.0, "sling_angle_entered": 60.0,
    "leg_capacity_entered": 1000.0,
}  # fmt: skip


def test_only_a_valve_that_is_ordered_and_comes_out_gets_gaskets() -> None:
    """Two stay in the line, one is stopped, one has no depth, and one names a kind that Tables do not have: no gasket for them.

    Sized, the other two get theirs.
    """
    held, bare = {**NEW_STUDS, "maker_ring_count_entered": 12.0}, {**NEW_STUDS, "box_depth_entered": None}
    out = ordered([
        {**OUT, "comes_out_entered": "no"}, {**OUT, "comes_out_entered": None}, held, bare, OUT, READY, {**OUT, "gasket_kind": "straw"},
    ])  # fmt: skip

    assert list(out["state"][2:6]) == ["STOP", "MISSING", "SIZED", "SIZED"]
    np.testing.assert_array_equal(out["joint_pieces"], [np.nan, np.nan, np.nan, np.nan, 2, 2, np.nan])
    assert lines_of(out, GASKETS, "line_valves", "line_pieces") == [(2, 4)]
    assert lines_of(out, STUDS, "line_item") == []
    assert out["check_reconciliation"][0] == "OK"


def test_flange_studs_are_ordered_only_where_they_are_renewed() -> None:
    """Eight studs a joint: 2 x 8 and 1 x 8 of one line, 24 and no spares; 4.5 in are 114.3 mm. Another grade is another line."""
    other = {**NEW_STUDS, "tag": "D", "flange_bolt_grade": "ISO 8.8"}
    out = ordered([{**NEW_STUDS, "tag": "A"}, {**NEW_STUDS, "tag": "B", "flange_joint_count_entered": 1.0}, {**OUT, "tag": "C"}, other])

    np.testing.assert_array_equal(out["bolt_pieces"], [16, 8, np.nan, 16])
    assert lines_of(out, STUDS, "line_item", "line_designation", "line_height", "line_grade", "line_valves", "line_with_spares") == [
        ("flange studs, two nuts each", "3/4-10 UNC", pytest.approx(114.3), "ASTM A193 B7", 2, 24),
        ("flange studs, two nuts each", "3/4-10 UNC", pytest.approx(114.3), "ISO 8.8", 1, 16),
    ]
    assert lines_of(out, GASKETS, "line_pieces") == [(7,)]
    assert list(out["check_order"]) == ["OK"] * 4
    assert out["check_reconciliation"][0] == "OK"


def test_studs_without_a_grade_are_a_line_of_their_own() -> None:
    """No grade is named: the line stands apart from those of B7, and its grade is blank."""
    out = ordered([NEW_STUDS, {**NEW_STUDS, "flange_bolt_grade": None}])

    assert lines_of(out, STUDS, "line_grade", "line_pieces") == [("ASTM A193 B7", 16), ("", 16)]
    assert out["check_reconciliation"][0] == "OK"


@pytest.mark.parametrize(
    "changed",
    [
        {"comes_out_entered": "no"}, {"flange_size": None}, {"flange_class_entered": None}, {"flange_facing_entered": None},
        {"flange_facing_entered": "flat face"},
        {"flange_facing_entered": "wafer, lug or tapped"}, {"flange_size": "NPS 2", "flange_class_entered": 900.0},
    ],
    ids=["stays", "no size", "no class", "no facing", "flat face", "wafer", "class 1500 drilling"],
)  # fmt: skip
def test_flange_studs_that_nobody_can_order_are_said(changed: dict[str, Any]) -> None:
    """Neither gasket nor stud is ordered for such a valve; that new studs were asked for is not lost in silence."""
    out = ordered([{**NEW_STUDS, **changed}, {**OUT, **changed}, NEW_STUDS])

    assert out["ordered"].tolist() == [1, 1, 1]
    assert [out["joint_code"][row] + out["bolt_code"][row] for row in (0, 1)] == ["", ""]
    assert out["check_order"][0].startswith("New flange studs are asked for and none are on the order list")
    assert list(out["check_order"][1:]) == ["OK", "OK"]
    assert lines_of(out, GASKETS, "line_valves") == lines_of(out, STUDS, "line_valves") == [(1,)]
    assert out["check_reconciliation"][0] == "OK"


#: Two gland studs of M12, and flanges of eight studs a joint.
OILED = {**OUT, "gland_stud_thread": "M12", "gland_stud_count_entered": 2.0, "stud_lubricant": "machine oil"}


def test_a_lubricant_is_one_line_for_all_the_studs_that_it_serves() -> None:
    """Oil: gland studs of A and B (2 + 2), flanges of A (2 x 8) and of D (8): 28 for three valves. Paste: gland of C and D, flanges of B.

    No spares; a tin serves 100 studs, so one of each. The flange lubricant of C is dry: nothing.
    """
    out = ordered([
        {**OILED, "flange_lubricant": "machine oil"}, {**OILED, "flange_lubricant": "Anti-Seize Paste"},
        {**OILED, "stud_lubricant": "anti-seize paste", "flange_lubricant": "none (dry)"},
        {**OILED, "stud_lubricant": "anti-seize paste", "flange_lubricant": "machine oil", "flange_joint_count_entered": 1.0},
    ])  # fmt: skip

    names = ("line_item", "line_code", "line_valves", "line_need", "line_with_spares", "line_unit_words", "line_packs")
    assert lines_of(out, LUBRICANTS, *names) == [
        ("stud lubricant", "LUBRICANT machine oil", 3, 28, 28, "stud", 1),
        ("stud lubricant", "LUBRICANT anti-seize paste", 3, 20, 20, "stud", 1),
    ]
    assert lines_of(out, OTHER_LUBRICANTS, "line_code") == []
    assert out["check_reconciliation"][0] == "OK"


def test_a_lubricant_of_flange_studs_alone_has_its_line_too() -> None:
    """16 and 8 flange studs with paste, that no gland studs take: a line of its own behind that of the gland studs' oil."""
    pasted = {**OILED, "flange_lubricant": "anti-seize paste"}
    out = ordered([pasted, {**pasted, "stud_lubricant": None, "flange_joint_count_entered": 1.0}])

    assert lines_of(out, LUBRICANTS, "line_material", "line_valves", "line_need") == [("machine oil", 1, 2)]
    assert lines_of(out, OTHER_LUBRICANTS, "line_item", "line_material", "line_valves", "line_need", "line_packs") == [
        ("stud lubricant", "anti-seize paste", 2, 24, 1)
    ]
    assert out["check_reconciliation"][0] == "OK"


@pytest.mark.parametrize(
    "changed",
    [
        {"stud_lubricant": "none (dry)"}, {"stud_lubricant": "NONE (DRY)"}, {"stud_lubricant": None}, {"stud_lubricant": "butter"},
        {"gland_stud_count_entered": None}, {"maker_ring_count_entered": 12.0}, {"box_depth_entered": None}, {"packing_material": None},
        {"comes_out_entered": "no", "stud_lubricant": None, "flange_lubricant": "machine oil"},
    ],
    ids=["dry", "dry in capitals", "blank", "not known", "no count", "stopped", "no sizes", "no material", "stays in the line"],
)  # fmt: skip
def test_no_lubricant_is_ordered_where_none_is_called_for(changed: dict[str, Any]) -> None:
    """Dry threads, a lubricant or a number of studs that is not known, a valve that is not ordered for, flanges that stay shut."""
    out = ordered([{**OILED, **changed}, OILED])

    assert lines_of(out, LUBRICANTS, "line_valves", "line_need") == [(1, 2)]
    assert lines_of(out, OTHER_LUBRICANTS, "line_code") == []
    assert out["check_reconciliation"][0] == "OK"


def test_tins_are_counted_by_what_stores_say() -> None:
    """18 studs of one valve, less the ten that a tin in stores still serves: eight, in tins for five, two of them."""
    stores = [{"store_code": "lubricant Machine Oil", "store_pack_entered": 5.0, "store_stock_entered": 10.0}]
    out = ordered([{**OILED, "flange_lubricant": "machine oil"}], stores=stores)

    assert lines_of(out, LUBRICANTS, "line_need", "line_to_buy", "line_packs") == [(18, 8, 2)]
    assert (out["store_item"][0], out["store_unit"][0]) == ("stud lubricant machine oil", "stud")


def test_columns_for_order_and_plan_say_nothing_of_a_valve() -> None:
    """A frame as a list gives it, crew and gasket included, is calculated as one without them."""
    frame = pd.DataFrame([{**VALVE, "tag": "A"}], dtype=object)
    with_plan = frame.assign(gasket="sheet", crew_number_entered=2.0)

    pd.testing.assert_frame_equal(calculate(frame), calculate(with_plan))


@pytest.mark.parametrize(
    ("unit_set", "codes"),
    [
        ("metric", ["BRAID graphite braid / 8", "SPACER 28x44x16", "SPACER 28.58x44.45x16", "STUD M12 / ISO 8.8"]),
        ("US", ["BRAID graphite braid / 0.315", "SPACER 1.102x1.732x0.63", "SPACER 1.125x1.75x0.63", "STUD M12 / ISO 8.8"]),
    ],
)
def test_a_code_says_what_the_thing_is(unit_set: str, codes: list[str]) -> None:
    """Sizes in the unit of the outage: 28 mm are 1.102 in, and 1 1/8 in is 28.575 mm, written 28.58, or 1.125 in. Both take 8 mm braid."""
    studs = {"gland_stud_thread": "M12", "gland_stud_count_entered": 2.0, "gland_stud_grade": "iso 8.8"}
    inch = {**VALVE, "unit_set": "US", "stem_diameter_entered": 1.125, "box_bore_entered": 1.75, "box_depth_entered": 60 / 25.4,
            "nose_length_entered": 22 / 25.4, "section_list_entered": "metric", "spacer_step_entered": 1 / 25.4}  # fmt: skip
    out = ordered([{**VALVE, **studs}, inch], [{"new_studs_entered": 2.0}, {}], outage_unit_set=unit_set)

    assert [code for code in out["line_code"] if code] == codes
    assert out["check_reconciliation"][0] == "OK"


def test_without_a_unit_set_codes_are_in_mm() -> None:
    """The sentence about the unit set speaks, and no line is lost."""
    out = ordered([VALVE], outage_unit_set="furlongs")

    assert list(out["line_code"][:2]) == ["BRAID graphite braid / 8", "SPACER 28x44x16"]


@pytest.mark.parametrize(
    ("names", "row", "code"), [("material_names", "material_row", "order_material"), ("grade_names", "grade_row", "order_grade")]
)
def test_a_code_does_not_follow_the_order_of_a_table(names: str, row: str, code: str) -> None:
    """With the rows of Materials or Tables turned round each material and grade keeps its word, so last year's stores stay its own."""
    rows = np.array([1.0, 2.0, 3.0])
    said, turned = (
        list(get(code, Derived).compute({names: column, row: rows}, 3)) for column in (["one", "two", "three"], ["three", "two", "one"])
    )
    assert said == turned[::-1]
    assert len(set(said)) == 3


SIZING = {name: issued_assumptions()[name] for name in ("order_step", "order_digits", "counting_digits")}


@given(st.integers(min_value=100, max_value=100_000), st.sampled_from([1.0, 25.4]), st.floats(min_value=-1e-9, max_value=1e-9))
def test_sizes_alike_have_one_code_and_others_their_own(steps: int, unit: float, noise: float) -> None:
    """A size in steps of 0.01 mm with noise is written alike; 0.03 mm more, above a thousandth of an inch, is written otherwise."""
    sizes = np.array([steps * 0.01, steps * 0.01 + noise, (steps + 3) * 0.01])
    alike, again, other = get("braid_code", Derived).compute({"stocked_section": sizes, "order_unit": unit, **SIZING}, 3)
    assert alike == again != other
    assert float(alike) * unit == pytest.approx(steps * 0.01, abs=0.0005 * unit)


@pytest.mark.parametrize(("unit_set", "said"), [("metric", "inside 28.8, outside 43.6"), ("US", "inside 1.134, outside 1.717")])
def test_a_spacer_is_turned_to_go_in(unit_set: str, said: str) -> None:
    """0.8 mm more than the stem of 28 and 0.4 mm less than the bore of 44: 28.8 and 43.6 mm, 1.134 and 1.717 in; its material beside it."""
    out = ordered([VALVE], outage_unit_set=unit_set)

    place = list(out["line_item"]).index("spacer")
    assert (out["line_designation"][place], out["line_material"][place]) == (said, "split carbon, or as the engineer says")
    assert [out["line_designation"][0], out["line_material"][0]] == ["", "graphite braid"]
