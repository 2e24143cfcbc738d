"""Facts about the kit list: small lists gathered by hand, edges, and what must tie for any list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcalc.calculations.outage.kit import GROUPS, MOST_CREWS
from sheetcalc.calculations.run import evaluate, evaluate_outage, issued_assumptions, read_entries
from sheetcalc.declare.quantity import Per

VALVE: Final[dict[str, object]] = {
    "unit_set": "metric", "stem_diameter_entered": 28, "box_bore_entered": 44, "box_depth_entered": 60, "nose_length_entered": 22,
    "gland_stud_thread": "M12", "packing_material": "graphite braid",
}  # fmt: skip
HELD: Final = {**VALVE, "maker_ring_count_entered": 12}
WRENCH, TAP, MANDREL, HOOK, BUSHING, BOLT_WRENCH, BOLT_TAP = range(1, 8)
#: Taken out of the line: class 150, NPS 4, bolts 5/8-11 (ASME B16.5), whose heavy nuts take 1 1/16 in (ASME B18.2.2).
OUT: Final = {**VALVE, "comes_out_entered": "yes", "flange_size": "NPS 4", "flange_class_entered": 150}


def kitted(
    valves: Sequence[Mapping[str, object]], outage: Mapping[str, object] | None = None, *, lines: int = 40,
    constants: Mapping[str, float | str] | None = None,
) -> dict[str, Any]:  # fmt: skip
    """The kit of a list: four people in crews of two, unless the outage says otherwise."""
    measured = pd.DataFrame([{k: v for k, v in valve.items() if k != "crew_number_entered"} for valve in valves], dtype=object)
    listed = pd.DataFrame({
        "position": np.arange(1.0, len(valves) + 1),
        "crew_number_entered": np.array([valve.get("crew_number_entered") for valve in valves], dtype=object),
    })  # fmt: skip
    frames = {
        Per.LISTED: listed, Per.OUTAGE: pd.DataFrame([{"outage_unit_set": "metric", **(outage or {})}], dtype=object),
        Per.TOOL: pd.DataFrame({"tool_number": np.arange(1.0, lines + 1)}),
    }  # fmt: skip
    return evaluate_outage(
        {per: read_entries(frame, per) for per, frame in frames.items()}, {per: len(frame) for per, frame in frames.items()},
        evaluate(read_entries(measured), len(valves), constants=constants), constants=constants,
    )  # fmt: skip


def lines_of(out: Mapping[str, Any], group: int, *names: str) -> list[tuple[Any, ...]]:
    """The lines of a group, each as the quantities asked for."""
    rows = np.flatnonzero(out["tool_group"] == group)
    return [tuple(out[name][row] for name in names) for row in rows]


def test_one_valve_needs_one_of_each() -> None:
    """M12 with an ISO hex nut takes 18 mm. Hook: 60 + 30 = 90 mm, up to 100; half of 8 mm. Sleeve: 44 - 1, 28 + 1 mm.

    Its length: a spacer of 16 mm leaves 44 mm to the seat of the first ring, which is 8 x 0.8 = 6.4 mm high; 44 - 6.4 + 30 = 67.6,
    up to 100.
    """
    out = kitted([VALVE])
    assert lines_of(out, WRENCH, "tool_item", "tool_words", "tool_valves", "tool_count") == [("wrench", "18 mm", 1, 1)]
    assert lines_of(out, TAP, "tool_item", "tool_words", "tool_count") == [("tap and die", "M12 x 1.75", 1)]
    assert lines_of(out, MANDREL, "tool_item", "tool_diameter", "tool_count") == [("mandrel", pytest.approx(28), 1)]
    assert lines_of(out, HOOK, "tool_item", "tool_hook_reach", "tool_thickness") == [("packing hook", 100, 4)]
    assert lines_of(out, BUSHING, "tool_item", "tool_outside", "tool_inside", "tool_length") == [
        ("tamping sleeve", pytest.approx(43), pytest.approx(29), 100)
    ]
    assert list(out["tool_code"][:6]) == ["WRENCH 18 mm", "TAP AND DIE M12 x 1.75", "MANDREL 28", "HOOK 100x4", "SLEEVE 43x29x100", ""]
    assert out["tools_total"][0] == 5
    assert list(out["check_tool"][:6]) == ["OK"] * 5 + [""]
    assert out["check_kit"][0] == "OK"


def test_a_size_stands_only_where_its_tool_has_it() -> None:
    """A wrench has no diameter, a mandrel no reach: each size is blank on the lines of the other groups."""
    out = kitted([VALVE])
    sizes = {"tool_diameter": MANDREL, "tool_hook_reach": HOOK, "tool_thickness": HOOK, "tool_outside": BUSHING, "tool_inside": BUSHING,
             "tool_length": BUSHING}  # fmt: skip
    for name, group in sizes.items():
        assert list(np.flatnonzero(~np.isnan(out[name])) + 1) == [group]
    assert list(out["tool_words"][2:]) == [""] * 38


def test_two_crews_carry_a_wrench_each() -> None:
    """Valves 1, 3 and 4 go to crews 1, 1 and 2, valve 2 is stopped: two wrenches of 18 mm for three valves."""
    out = kitted([VALVE, HELD, VALVE, VALVE])
    np.testing.assert_array_equal(out["job_crew"], [1, np.nan, 1, 2])
    assert lines_of(out, WRENCH, "tool_valves", "tool_crew_1", "tool_crew_2", "tool_crew_3", "tool_count") == [(3, 2, 1, 0, 2)]


def test_valves_of_one_crew_share_a_wrench() -> None:
    """Both valves are typed for crew 2: one wrench."""
    out = kitted([{**VALVE, "crew_number_entered": 2}] * 2)
    assert lines_of(out, WRENCH, "tool_valves", "tool_crew_1", "tool_crew_2", "tool_count") == [(2, 0, 2, 1)]


def test_the_last_crew_of_a_line_is_not_the_first_of_the_next() -> None:
    """Crew 6 needs the tool of line 1 and crew 1 that of line 2: each is counted in its own line and column alone."""
    out = kitted(
        [{**VALVE, "crew_number_entered": 6}, {**VALVE, "gland_stud_thread": "M16", "crew_number_entered": 1}], {"people_entered": 12}
    )
    crews = [f"tool_crew_{crew}" for crew in range(1, MOST_CREWS + 1)]
    assert lines_of(out, WRENCH, *crews) == [(0, 0, 0, 0, 0, 1), (1, 0, 0, 0, 0, 0)]


def test_fewer_crews_at_most_keep_lines_apart() -> None:
    """Where four crews are the most, columns 5 and 6 stay at 0 and take no valve of the next line."""
    out = kitted([VALVE, {**VALVE, "gland_stud_thread": "M16"}] * 2, {"people_entered": 12}, constants={"most_crews": 4})
    crews = [f"tool_crew_{crew}" for crew in range(1, MOST_CREWS + 1)]
    assert out["crew_count"][0] == 4
    assert lines_of(out, WRENCH, *crews, "tool_count") == [(1, 0, 1, 0, 0, 0, 2), (0, 1, 0, 1, 0, 0, 2)]
    assert out["check_kit"][0] == "OK"


def test_the_columns_are_as_many_as_there_can_be_crews() -> None:
    """The assumption of most crews is issued as the number of columns and cannot be set higher."""
    out = kitted([VALVE])
    assert issued_assumptions()["most_crews"] == MOST_CREWS
    assert f"tool_crew_{MOST_CREWS}" in out
    assert f"tool_crew_{MOST_CREWS + 1}" not in out


def test_flange_bolts_take_two_wrenches_and_one_tap_and_die() -> None:
    """One wrench turns the nut, the other holds the far one: 2, beside tap and die and the five tools of the gland, 8 in all."""
    out = kitted([OUT])
    assert lines_of(out, BOLT_WRENCH, "tool_item", "tool_words", "tool_valves", "tool_count") == [
        ("wrench for flange bolts", "1 1/16 in", 1, 2)
    ]
    assert lines_of(out, BOLT_TAP, "tool_item", "tool_words", "tool_valves", "tool_count") == [
        ("tap and die for flange bolts", "5/8-11 UNC", 1, 1)
    ]
    assert out["tools_total"][0] == 8
    assert lines_of(out, BOLT_WRENCH, "check_tool") == lines_of(out, BOLT_TAP, "check_tool") == [("OK",)]
    assert out["check_kit"][0] == "OK"


def test_each_crew_carries_two_wrenches_for_flange_bolts() -> None:
    """Valves 1 and 3 go to crew 1, valve 2 to crew 2: four wrenches and two taps and dies for three valves. One crew alone takes two."""
    out = kitted([OUT] * 3)
    assert lines_of(out, BOLT_WRENCH, "tool_valves", "tool_crew_1", "tool_crew_2", "tool_count") == [(3, 2, 1, 4)]
    assert lines_of(out, BOLT_TAP, "tool_valves", "tool_count") == [(3, 2)]
    assert lines_of(out, WRENCH, "tool_count") == [(2,)]
    shared = kitted([{**OUT, "crew_number_entered": 2}] * 3)
    assert lines_of(shared, BOLT_WRENCH, "tool_valves", "tool_crew_1", "tool_crew_2", "tool_count") == [(3, 0, 3, 2)]
    assert out["check_kit"][0] == shared["check_kit"][0] == "OK"


def test_other_flange_bolts_are_other_tools() -> None:
    """Class 300, NPS 4 has 3/4-10 (ASME B16.5), whose heavy nuts take 1 1/4 in (ASME B18.2.2)."""
    out = kitted([OUT, {**OUT, "flange_class_entered": 300}, {**OUT, "flange_size": "NPS 3"}])
    assert lines_of(out, BOLT_WRENCH, "tool_words", "tool_valves") == [("1 1/16 in", 2), ("1 1/4 in", 1)]
    assert lines_of(out, BOLT_TAP, "tool_words", "tool_valves") == [("5/8-11 UNC", 2), ("3/4-10 UNC", 1)]
    assert out["check_kit"][0] == "OK"


@pytest.mark.parametrize(
    "changed",
    [
        {"comes_out_entered": "no"}, {"comes_out_entered": None}, {"maker_ring_count_entered": 12}, {"flange_size": None},
        {"flange_class_entered": None}, {"flange_facing_entered": "wafer, lug or tapped"},
    ],
    ids=["stays", "nothing said", "stopped", "no size", "no class", "wafer"],
)  # fmt: skip
def test_a_valve_whose_flanges_are_not_opened_needs_no_tool_for_them(changed: dict[str, object]) -> None:
    """Nor does one whose bolts are not known."""
    out = kitted([{**OUT, **changed}, VALVE])
    assert lines_of(out, BOLT_WRENCH, "tool_code") == lines_of(out, BOLT_TAP, "tool_code") == []
    assert lines_of(out, WRENCH, "tool_valves") == [(1 if "maker_ring_count_entered" in changed else 2,)]
    assert out["check_kit"][0] == "OK"


def test_inch_and_metric_wrenches_are_two_tools() -> None:
    """An old DIN nut of M12 takes 19 mm, an ordinary 1/2 in nut 3/4 in (19.05 mm): near, and not the same wrench."""
    out = kitted([
        {**VALVE, "gland_nut_kind_entered": "old DIN hex"}, {**VALVE, "gland_stud_thread": "1/2-13 UNC", "gland_nut_kind_entered": "hex"},
    ])  # fmt: skip
    assert lines_of(out, WRENCH, "tool_words", "tool_valves") == [("19 mm", 1), ("3/4 in", 1)]
    assert lines_of(out, TAP, "tool_words") == [("M12 x 1.75",), ("1/2-13 UNC",)]


def test_only_packing_that_is_cut_needs_a_mandrel() -> None:
    """Braid is cut on a mandrel; rings come cut, and loose packing is poured."""
    made = {**VALVE, "packing_form_entered": "die-formed", "made_ring_height_entered": 8}
    loose = {**VALVE, "packing_form_entered": "loose", "packing_material": "loose graphite", "nose_length_entered": 60}
    out = kitted([VALVE, made, loose])
    assert list(out["kit_mandrel_code"]) == ["MANDREL 28", "", ""]
    assert lines_of(out, MANDREL, "tool_valves") == [(1,)]
    assert lines_of(out, HOOK, "tool_valves") == [(3,)]


def test_sizes_are_rounded_to_the_safe_side() -> None:
    """Stem 24, bore 43: a section of 9.5 mm and a hook of 4.75, so 4 mm; 70 + 30 mm reach just 100, and 70.1 + 30 need 150."""
    narrow = {**VALVE, "stem_diameter_entered": 24, "box_bore_entered": 43, "box_depth_entered": 70, "nose_length_entered": 40}
    out = kitted([narrow, {**narrow, "box_depth_entered": 70.1}])
    assert list(out["ordered"]) == [1, 1]
    assert lines_of(out, HOOK, "tool_hook_reach", "tool_thickness") == [(100, 4), (150, 4)]


def test_every_valve_of_a_line_can_be_worked_with_its_tool() -> None:
    """The hook of a line is long enough and thin enough for each of its valves, not only for the first."""
    valves = [{**VALVE, "box_depth_entered": depth, "nose_length_entered": 40} for depth in (55, 60, 69, 70, 71, 90)]
    out = kitted(valves)
    reach = dict(lines_of(out, HOOK, "tool_first", "tool_hook_reach"))
    thickness = dict(lines_of(out, HOOK, "tool_first", "tool_thickness"))
    length = dict(lines_of(out, BUSHING, "tool_first", "tool_length"))
    assert set(reach.values()) == {100, 150}
    for valve in np.flatnonzero(out["ordered"] == 1):
        assert reach[out["kit_hook_first"][valve]] >= out["hook_reach"][valve]
        assert thickness[out["kit_hook_first"][valve]] <= out["hook_thickness"][valve]
        assert length[out["kit_bushing_first"][valve]] >= out["bushing_length"][valve]


def test_sizes_finer_than_the_step_are_one() -> None:
    """Stems of 28 and 28.004 mm are one mandrel, 28.02 mm is another."""
    out = kitted([{**VALVE, "stem_diameter_entered": stem} for stem in (28, 28.004, 28.02)])
    assert lines_of(out, MANDREL, "tool_diameter", "tool_valves") == [(pytest.approx(28), 2), (pytest.approx(28.02), 1)]


def test_a_tool_that_cannot_be_made_is_named() -> None:
    """Steps of 5 mm leave nothing of a hook of 4 mm; clearances of 8 and 8 mm nothing of a sleeve in a space of 8 mm on each side."""
    out = kitted([VALVE], constants={"hook_thickness_step": 5})
    assert lines_of(out, HOOK, "tool_thickness", "check_tool")[0][0] == 0
    assert lines_of(out, HOOK, "check_tool")[0][0].startswith("The space is so narrow that the hook")
    tight = kitted([VALVE], constants={"bushing_box_clearance": 8, "bushing_stem_clearance": 8})
    assert lines_of(tight, BUSHING, "check_tool")[0][0].startswith("The space is narrower than the clearances")
    just = kitted([VALVE], constants={"bushing_box_clearance": 8, "bushing_stem_clearance": 7.5})
    assert lines_of(just, BUSHING, "check_tool") == [("OK",)]


def test_a_valve_without_a_crew_is_missed() -> None:
    """A crew that cannot be used leaves the valve with no crew: its tools' lines and the kit say so."""
    out = kitted([{**VALVE, "crew_number_entered": "both"}, VALVE])
    assert lines_of(out, WRENCH, "tool_valves", "tool_count", "tool_crewless") == [(2, 1, 1)]
    assert out["check_tool"][0].startswith("Valves that need this tool have no crew")
    assert out["kit_crewless"][0] == 5
    assert out["check_kit"][0].startswith("Some valves have no crew")


def test_too_few_lines_are_noticed() -> None:
    """Five tools on four lines: one is missing, and the kit does not tie to the valves."""
    out = kitted([VALVE], lines=4)
    assert out["tools_missing"][0] == 1
    assert out["kit_difference"][0] == 1
    assert out["check_kit"][0].startswith("There are more tools than the kit list has lines")
    assert "does not tie" in out["check_kit"][0]


def test_torques_of_the_list() -> None:
    """The least and the greatest over the valves that are ordered and have one; blank where none has."""
    studs = {
        **VALVE, "packing_material": "PTFE braid", "fluid_kind_entered": "water", "line_pressure_entered": 4,
        "fluid_temperature_entered": 80, "stem_motion_entered": "rising",
        "gland_stud_count_entered": 2, "gland_stud_grade": "ISO 8.8", "stud_lubricant": "machine oil",
    }  # fmt: skip
    out = kitted([studs, {**studs, "stem_diameter_entered": 20, "box_bore_entered": 32}, VALVE, {**studs, "maker_ring_count_entered": 12}])
    first, second = out["stud_torque"][:2]
    assert list(out["ordered"][:2]) == [1, 1]
    assert out["state"][3] == "STOP"
    assert first != second
    assert (out["torque_least"][0], out["torque_most"][0]) == (min(first, second), max(first, second))
    none = kitted([VALVE])
    assert np.isnan(none["torque_least"][0])
    assert np.isnan(none["torque_most"][0])


def test_without_valves_there_is_no_kit() -> None:
    """Rows in which nothing is typed, and a valve stopped, need no tool."""
    out = kitted([{}, HELD, {}])
    assert np.isnan(out["tool_group"]).all()
    assert list(out["tool_item"]) == [""] * 40
    assert out["tools_total"][0] == 0
    assert out["check_kit"][0] == "OK"


_ANY: Final = st.fixed_dictionaries({
    "stem_diameter_entered": st.sampled_from([20, 24, 28]), "gland_stud_thread": st.sampled_from(["M10", "M12", "1/2-13 UNC", "M99"]),
    "box_depth_entered": st.sampled_from([60, 75, 110]), "maker_ring_count_entered": st.sampled_from([None, 4, 30]),
    "packing_form_entered": st.sampled_from([None, "moulded", "loose"]), "crew_number_entered": st.sampled_from([None, 1, 2, "both"]),
    "comes_out_entered": st.sampled_from(["yes", "no"]), "flange_size": st.sampled_from(["NPS 2", "NPS 4", "NPS 9"]),
    "flange_class_entered": st.sampled_from([150, 300, 900]),
})  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(valves=st.lists(_ANY, min_size=1, max_size=12))
def test_each_group_ties_to_its_valves(valves: list[dict[str, object]]) -> None:
    """Each code has one line, with as many valves and crews as a plain count over the list finds."""
    bores = [int(str(valve["stem_diameter_entered"])) + 16 for valve in valves]
    full = [{**VALVE, "box_bore_entered": bore, "nose_length_entered": 40, **valve} for bore, valve in zip(bores, valves, strict=True)]
    out = kitted(full, lines=80)
    for number, name in enumerate(GROUPS, start=1):
        codes, crews = out[f"kit_{name}_code"], out["job_crew"]
        held = Counter(code for code in codes if code)
        rows = lines_of(out, number, "tool_code", "tool_valves", "tool_count")
        assert {code: valves for code, valves, _count in rows} == held
        assert len(rows) == len(held)
        for code, _valves, count in rows:
            carrying = {crew for one, crew in zip(codes, crews, strict=True) if one == code and not np.isnan(crew)}
            assert count == len(carrying) * (2 if number == BOLT_WRENCH else 1)
        assert out[f"valves_with_{name}"][0] == out[f"valves_on_{name}"][0] == sum(held.values())
    assert out["kit_difference"][0] == 0
    assert out["tools_missing"][0] == 0
