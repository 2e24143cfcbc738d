"""Tests of the tests: every constant, comparison and name changed, one at a time; the agreement must notice each change.

The workbook of the agreement run compares each formula cell with the core. A changed formula is noticed when its own
cell differs on any of the generated valves, so each mutant is put beside its quantity's inputs and recalculated by
IronCalc on those valves.
"""

from __future__ import annotations

import dataclasses
import re
import sys
import zlib
from functools import cache
from typing import Any

import numpy as np
import pytest
from agreement.bench import Bench, differs, same
from agreement.mutants import NEVER_NEGATIVE, NEVER_NOUGHT, Mutant, conditions_of, excel_mutants, inner, python_mutants
from agreement.valves import SELDOM, as_read, generated, own_rows

from sheetcalc.calculations import arithmetic, entries, fitting, flange_load, load, material, section, state
from sheetcalc.calculations.run import answered_names, evaluate, issued_assumptions, read_entries
from sheetcalc.declare.quantity import Kind, Per, Quantity, get

#: Mutants that change nothing: name and change as patterns, and the reason. Found by hand, at most 3 % of all.
EQUIVALENT: tuple[tuple[str, str, str], ...] = (
    ("unit_row|packing_form|cut_style|stem_motion|packing_state|gland_kind|gland_nut_kind|stem_slides|stem_turns|nut_column|comes_out|"
     "flange_studs_renewed|valve_actuated", "0 -> 1 at .*",
     "the names are sorted and the name found is compared with the one typed, so an approximate search ends the same"),
    ("fluid_kind_chosen|stem_motion_chosen|flange_facing_chosen|flange_material_chosen",
     "{[a-z_]+_usual} -> {[a-z_]+_usual} at .*", "both are issued as not stated"),
    ("stocked_below|stocked_above|joint_row", "1 -> (2|1.01) at .*", "any positive search type means rising order"),
    (".*_sixteenths|state|material_slides|material_turns|material_fluid_words|material_verdict|most_stress_words|wrench_old_words|flange_wrench|"
     "flange_wrench_words|gasket_inner|gasket_outer",
     "(1 -> 1.01|2 -> 2.02) at .*", "INDEX and CHOOSE cut their place to a whole number"),
    (".*_parts", "{counting_digits} -> {inch_parts} at .*",
     "noise below the fifteenth digit is rounded away by this engine's ROUND as well"),
    ("rings_above_lantern", "2 -> 2.02 at .*", "up to 40 rings half of them rounds up alike"),
    ("stud_pitch|stud_area_depth", "0 -> 1 at .*", "threads per inch are 0 or at least 8"),
    ("thread_not_known|material_not_known|lubricant_not_known|flange_size_not_known|gasket_kind_not_known|flange_lubricant_not_known",
     "1 -> (2|1.01) at .*", "any number but 0 is true"),
    ("fluid_not_judged|wrench_not_listed|annulus_area",
     "{[a-z_]+} -> {[a-z_]+} at .*", "the two are above 0 together wherever both are known, as the guard wants"),
    ("lubricant_burns", "= -> <= at .*", "a flag is 0 or 1"),
    ("load_refused", "0 -> (1|\\(-1\\)) at .*", "only a share above 1 matters"),
    ("grade_twice|rings_idle|flange_grade_twice", "1 -> 1.01 at .*", "a count is whole"),
    ("bottom_ratio_equal", "{stem_friction_factor} -> {box_friction_factor} at .*", "the short form is shown only where the two are equal"),
    ("mean_stress_ratio", "> -> <> at .*", "the stress never rises on the way down"),
    ("thrust_share|turn_share", "= -> >= at .*", "flags are 0 or 1, and so is their product"),
    ("ring_1_joint", "360 -> .* at .*", "the first joint points to 0"),
    ("ring_2", "> -> <> at .*", "no ring has a number above the count"),
    ("stud_torque_worked", "= -> >= at .*", "of two cells no more than two are counted"),
    ("gasket_not_listed", "= -> <= at .*", "a count is never below 0"),
    ("single_leg_aslant", "< -> <> at .*", "no angle is above that of an upright leg"),
    ("lubricant_no_band|flange_lubricant_no_band", "{(flange_)?lubricant_row} -> {[a-z_]+} at .*",
    "without a row of the lubricant the formula is blank, with one the others decide"),
)  # fmt: skip
EQUIVALENT_GUARDS: tuple[tuple[str, str, str], ...] = (
    (".*_typed|maker_ring_count|stocked_below|gland_stud_count|flange_class|sling_legs|leg_length|hook_height",
     "(< -> >|[0-9] -> [0-9]) at .*",
     "the formula inside ends blank as well where its entry is no number; a text that looks like one is a number to this engine"),
    ("stocked_to_roll|no_stocked_section|cut_length|loose_fills|loose_has_no_rings|metre_mass|ph_missing|stud_torque_worked|lubricant_burns|"
     "grade_missing|lubricant_missing|springs_hold_gland|packing_nut_note|motion_missing|flange_uses_1500|flange_(ring|lap)_joint|"
     "flange_flat_face|flange_no_drilling|flange_cast_iron|flange_other_material|flange_asked|flange_(facing|material)_missing|"
     "flange_lubricant_burns|spiral_row|flat_row",
     "= -> < at .*", "a blank code equals no word, and what is chosen then is blank or silent as well"),
    ("material_row|lubricant_row|grade_row|flange_row|flange_thread_row|flange_grade_row|flange_lubricant_row|gasket_kind_row",
     "(= -> <|1 -> 0) at .*", "a name that is blank or an error value is found in no row"),
    ("few_rings_by_lantern|no_ring_fits|fluid_unsuitable|formed_ring_height|grade_row|stud_torque|grade_not_known|mandrel_diameter|"
     "flange_class_column|flange_bolt_row|flange_raised_row|flange_gaskets|flange_order_row|flange_grade_row|spiral_row|flat_row|"
     "gasket_(inner|outer|least|most|factor|yield)|flange_bolt_torque|flange_grade_not_known", "(< -> >|[0-9] -> [0-9]) at .*",
     "the formula inside stays blank or silent on a blank"),
    ("flange_bolt_yield|flange_lubricant_factor", "(< -> >|1 -> 0) at .*",
     "without a row the first condition is false, and this engine's AND then asks for no error of the second"),
)  # fmt: skip
EQUIVALENT_PYTHON: tuple[tuple[str, str, str], ...] = (
    ("rings_above_lantern", "2 -> 2.02.*", "up to 40 rings half of them rounds up alike"),
    ("stud_pitch|stud_area_depth|nut_column", "0 -> 1 .*", "threads per inch are 0 or at least 8"),
    ("state", "3 -> 3.03.*", "the place is cut to a whole number"),
    ("arithmetic.rounded", "(2.0 -> .*|51 -> .*).*", "the nudge of the last bit by a little more or less"),
    ("entries._believable", "Eq -> LtE.*", "what is left over from a whole number is never negative"),
    ("section._neighbour", "Eq -> GtE.*", "what an earlier list put there is overwritten by the list that is meant"),
    ("arithmetic.joined", "1 -> (2|0) \\(#[01]\\)", "all columns are of one length, whichever is asked"),
    ("arithmetic.joined", "1 -> 2 \\(#4\\)", "combinations that are numbered with gaps are told apart all the same"),
    ("shown._sixteenths", "1 -> 1.01.*", "the place is cut to a whole number"),
    ("material_turns|wrench_old_words", "(2 -> 2.02|1 -> 1.01) .*", "the place is cut to a whole number"),
    ("material_turns|wrench_old_words", "Mult -> Div .*", "2 times 1 is 2 over 1"),
    ("fluid_not_judged|wrench_not_listed|annulus_area", "[a-z_]+ -> [a-z_]+ .*",
     "the two are above 0 wherever both are known, as the guard wants"),
    ("lubricant_burns", "Eq -> LtE .*", "a flag is 0 or 1"),
    ("thrust_share|turn_share", "(Mult -> Div|Eq -> GtE) .*",
     "flags are 0 or 1: their product and their quotient are 1 together, and never more"),
    ("grade_twice|rings_idle|flange_grade_twice", "1 -> 1.01 .*", "a count is whole"),
    ("bottom_ratio_equal", "box_friction_factor -> stem_friction_factor .*", "the short form is shown only where the two are equal"),
    ("mean_stress_ratio", "Gt -> NotEq .*", "the stress never rises on the way down"),
    ("arithmetic.pick_in", "Eq -> GtE .*", "of the two kinds that a block holds, texts alone are at least as wide as texts"),
    ("arithmetic.pick_in", "0 -> (1|-1) .*", "where either is missing, row 0 or column 0 is left, and both are blank"),
)  # fmt: skip
#: How a mutant of a function may break down instead of answering.
_FAILS = (IndexError, KeyError, TypeError, ValueError, ZeroDivisionError)
_FIRST_TRY, _SECOND_TRY = 260, 1500
#: Rings are declared in a loop, so the mutants of one speak for all: of the second, and of the fifth where a whole turn shows.
_RING = re.compile(r"ring_([2-9]|10)(_.*)?")
_SPOKEN_FOR = {"": 2, "_depth": 2, "_stress": 2, "_joint": 5}


@cache
def _mutated_names() -> tuple[str, ...]:
    """The quantities of which mutants are made: all that are worked out, but for rings that another speaks for."""
    found = {name: _RING.fullmatch(name) for name in answered_names()}
    return tuple(name for name, ring in found.items() if ring is None or int(ring[1]) == _SPOKEN_FOR[ring[2] or ""])


@cache
def _values() -> dict[str, Any]:
    valves = as_read()
    return evaluate({**read_entries(valves), **own_rows()}, len(valves))


@cache
def _typed_cells(name: str) -> tuple[Any, ...]:
    """An entry as it stands in a cell: numbers, texts, None for an empty cell."""
    return tuple(None if v is None or v == "" or v != v else v for v in generated()[name])  # noqa: PLR0124 - NaN


def _bench(rows: np.ndarray[Any, Any]) -> Bench:
    return Bench(rows, _values(), _typed_cells)


#: Rows whose inputs do not belong together, and the quantities that are not put to that trial, since they rely on what does.
_SHAKEN = 1200
_TOGETHER: dict[str, str] = {
    **dict.fromkeys(("grade_row", "flange_grade_row"), "one row never holds for a grade that is an error value"),
    **dict.fromkeys(("gasket_inner", "gasket_outer"), "a gasket is a spiral one or a flat one, never both"),
}


@cache
def _shaken_cells(name: str) -> tuple[Any, ...]:
    """What stands in the cells of an entry of other rows."""
    return _shaken_entry(name)[0]


@cache
def _shaken_entry(name: str) -> tuple[tuple[Any, ...], Any]:
    """An entry of other rows: what stands in the cells, and what the core reads there. Some numbers are a TRUE, which is none."""
    rng = np.random.default_rng([20261128, zlib.crc32(name.encode())])
    order = rng.permutation(len(generated()))[:_SHAKEN]
    cells = [_typed_cells(name)[at] for at in order]
    held = _values()[name][order]
    for at in () if get(name).is_text else np.flatnonzero(rng.random(_SHAKEN) < 0.02):
        cells[at], held[at] = True, np.inf
    return tuple(cells), held


@cache
def _shaken() -> dict[str, Any]:
    """Inputs of other rows, each on its own, and some blanks: what each formula and each function promises by itself."""
    held = dict(_values())
    for name in sorted({read for one in answered_names() for read in get(one).reads}):
        if get(name).kind is Kind.ENTRY:
            held[name] = _shaken_entry(name)[1]
        elif get(name).kind not in {Kind.TABLE, Kind.ASSUMPTION}:
            rng = np.random.default_rng([20261129, zlib.crc32(name.encode())])
            value = held[name][rng.permutation(len(generated()))[:_SHAKEN]]
            held[name] = np.where(rng.random(_SHAKEN) < 0.12, np.array("" if get(name).is_text else np.nan, dtype=value.dtype), value)
    return held


def _shaken_bench() -> Bench:
    return Bench(range(_SHAKEN), _shaken(), _shaken_cells)


@cache
def _telling_rows(quantity: Quantity) -> np.ndarray[Any, Any]:
    """All valves, those first that differ in answers and in inputs: most mutants show on few rows."""
    rng = np.random.default_rng(7)
    order = rng.permutation(len(generated()))
    answer = _values()[quantity.name]
    key = np.array([str(v) if isinstance(v, str) else ("" if v != v else f"{v:.3g}") for v in answer[order]])  # noqa: PLR0124
    _once, first = np.unique(key, return_index=True)
    chosen = order[np.sort(first)][: _FIRST_TRY // 2]
    rest = order[~np.isin(order, chosen)]
    return np.concatenate([chosen, rest])


def test_shares_sentences_and_edges_are_met() -> None:
    """With own rows filled, each quantity is answered on 30 % of the valves or what is said of it, each sentence spoken 20 times."""
    low, rare, used = {}, {}, set()
    for name in answered_names():
        quantity, values = get(name), _values()[name]
        met = (values != "") if quantity.is_text else ~np.isnan(values)
        if quantity.kind is Kind.FAULT or name.endswith("_trouble"):
            if met.sum() < 20:
                rare[name] = int(met.sum())
            continue
        seldom = next((one for one in SELDOM if re.fullmatch(one[0], name)), None)
        if met.mean() < 0.30 and seldom is not None:
            used.add(seldom)
            print(f"  {name:<34} {met.mean():>7.1%}  {seldom[2]}")
        if met.mean() < (0.30 if seldom is None else seldom[1]):
            low[name] = round(float(met.mean()), 3)

    assert low == {}
    assert rare == {}
    assert used == set(SELDOM)


#: Where two are equal but for noise, a comparison stands on its edge: a quantity, and a number or another quantity.
_EDGES: tuple[tuple[str, float | str], ...] = (
    ("stud_worst_share", 1.0), ("stud_yield_share", 1.0), ("gland_stress_share", 1.0), ("rim_pull_share", 1.0),
    ("bottom_stress_over_pressure", "least_pressure_ratio"), ("bottom_stress_ratio", "least_bottom_share"), ("ring_count", "rings_useful"),
    ("fluid_temperature", "material_temperature_high"), ("fluid_temperature", "material_temperature_low"), ("fluid_ph", "material_ph_low"),
    ("fluid_ph", "material_ph_high"), ("line_pressure", "material_pressure_high"), ("line_pressure", "full_vacuum"), ("line_pressure", 0.0),
    ("stud_thread_spare", 0.0), ("torque_forms_ratio", 1.25), ("torque_forms_ratio", 0.75), ("stem_thread_diameter", "stem_thread_pitch"),
    ("packing_depth", "least_entry"), ("loose_room", "least_entry"), ("stem_friction_factor", "box_friction_factor"),
    ("rings_that_fit_exact", "rings_that_fit"), ("nearest_distance", "section_tolerance"), ("above_distance", "greatest_roll"),
    ("spacer_room", "least_spacer"), ("gland_gap_end", 0.0), ("gland_gap_end", "least_take_up"),
    ("gap_difference_at_studs", "greatest_gap_difference"), ("set_compression", "seating_compression"), ("box_depth", "lantern_length"),
    ("stem_diameter", "box_bore"), ("below_distance", "above_distance"), ("flange_yield_share", 1.0), ("gasket_stress", "gasket_most"),
    ("gasket_stress", "gasket_least"), ("gasket_stress_pressed", "gasket_least"), ("flange_load_ratio", 1.0), ("flange_torque_ratio", 1.25),
    ("flange_torque_ratio", 0.75), ("leg_share", 1.0), ("sling_angle", "least_sling_angle"), ("sling_angle", "warn_sling_angle"),
    ("hook_height", "leg_length"), ("gasket_width_basic", "gasket_width_limit"),
)  # fmt: skip


def test_valves_stand_on_exact_edges() -> None:
    """At least 500 generated valves stand on the exact edge of a comparison, and each edge is met by 3 at least."""
    on_any, rare = np.zeros(len(generated()), dtype=bool), {}
    for name, edge in _EDGES:
        gap = np.abs(_values()[name] - (_values()[edge] if isinstance(edge, str) else edge))
        on = gap < 10.0 ** -issued_assumptions()["counting_digits"] / 2  # type: ignore[operator]
        print(f"  {name} at {edge}: {on.sum()} valves, {(on & (gap > 0)).sum()} of them but for noise")
        # What nearly every valve meets, such as equal friction, makes no edge row of it.
        on_any |= on if on.mean() < 0.05 else False
        if on.sum() < 3:
            rare[name, edge] = int(on.sum())

    assert rare == {}
    assert on_any.sum() >= 500


def test_the_bench_agrees_before_anything_is_changed() -> None:
    """Put beside its inputs on the bench, every unchanged formula gives the core's answers; of other rows' inputs as well, but for four."""
    for name in answered_names():
        quantity = get(name)
        rows = _telling_rows(quantity)[:_FIRST_TRY]
        got = _bench(rows).run([quantity.guarded_excel])[0]

        assert not differs(got, _values()[name][rows]), name

        got = _shaken_bench().run([quantity.guarded_excel])[0]

        assert differs(got, quantity.compute(_shaken(), _SHAKEN)) == (name in _TOGETHER), f"{name} with inputs of other rows"


def _survivors(quantity: Quantity, mutants: list[Mutant]) -> list[Mutant]:
    alive = mutants
    rows = _telling_rows(quantity)
    for lot in (rows[:_FIRST_TRY], rows[_FIRST_TRY:_SECOND_TRY], rows[_SECOND_TRY:]):
        if not alive:
            break
        got = _bench(lot).run([mutant.text for mutant in alive])
        want = _values()[quantity.name][lot]
        alive = [mutant for mutant, column in zip(alive, got, strict=True) if not differs(column, want)]
    if alive and quantity.name not in _TOGETHER:
        got = _shaken_bench().run([mutant.text for mutant in alive])
        want = quantity.compute(_shaken(), _SHAKEN)
        alive = [mutant for mutant, column in zip(alive, got, strict=True) if not differs(column, want)]
    return alive


def _judge(kind: str, made: int, survivors: list[Mutant], listed: tuple[tuple[str, str, str], ...]) -> list[tuple[str, ...]]:
    """Print made, killed and equivalent ones with their reason; return a survivor without one and a reason without use."""
    used, unknown = set(), []
    print(f"\n{kind}: {made} mutants made, {made - len(survivors)} killed, {len(survivors)} equivalent")
    for mutant in survivors:
        fits = [one for one in listed if re.fullmatch(one[0], mutant.name) and re.fullmatch(one[1].replace("{", "\\{"), mutant.change)]
        used.update(fits[:1])
        print(f"  {mutant.name}: {mutant.change}: {fits[0][2] if fits else 'NO REASON LISTED'}")
        if not fits:
            unknown.append((mutant.name, mutant.change))
    return unknown + [entry for entry in listed if entry not in used]


def test_every_mutant_of_an_excel_text_is_killed() -> None:
    """A changed constant, comparison, operator or name in any Excel text or its guard is noticed; equivalent ones are listed.

    In a guard COUNT<n and COUNT<>n are the same by definition, so that change is not made.
    """
    made, survivors = 0, []
    guards_made, guard_survivors = 0, []
    for name in _mutated_names():
        quantity = get(name)
        mutants = [Mutant(m.name, m.change, quantity.guard(m.text)) for m in excel_mutants(quantity, quantity.excel)]
        made += len(mutants)
        survivors += _survivors(quantity, mutants)
        around = quantity.guard("\x01")
        if around == "\x01":
            continue
        changed = excel_mutants(quantity, around, guard=True)
        mutants = [Mutant(name, m.change, m.text.replace("\x01", quantity.excel)) for m in changed]
        guards_made += len(mutants)
        guard_survivors += _survivors(quantity, mutants)
    wrong = _judge("Excel texts", made, survivors, EQUIVALENT)
    wrong += _judge("Guards", guards_made, guard_survivors, EQUIVALENT_GUARDS)

    assert wrong == []
    assert len(survivors) <= 0.03 * made
    assert len(survivors) + len(guard_survivors) <= 0.03 * (made + guards_made)


def test_rings_are_declared_alike() -> None:
    """From ring 2 on, Excel text, guard and function of a ring are those of the mutated one but for the number: it speaks for all."""
    counted = 0
    for name in answered_names():
        found = _RING.fullmatch(name)
        if found is None:
            continue
        ring, part = int(found[1]), found[2] or ""
        spoken = _SPOKEN_FOR[part]
        one, other = get(name), get(f"ring_{spoken}{part}")
        text = one.guarded_excel.replace(f"{{ring_{ring}}}", "{here}").replace(f"{{ring_{ring - 1}}}", "{below}")

        assert text == other.guarded_excel.replace(f"{{ring_{spoken}}}", "{here}").replace(f"{{ring_{spoken - 1}}}", "{below}")
        assert inner(one) is inner(other)
        assert [re.sub(r"_[0-9]+", "", read) for read in one.reads] == [re.sub(r"_[0-9]+", "", read) for read in other.reads]

        counted += 1
    assert counted == len(_SPOKEN_FOR) * (fitting.MOST_RINGS - 1)


def test_what_is_never_negative_is_not() -> None:
    """The quantities on which comparisons with 0 are the same by definition are never below 0, or never 0, on any generated valve."""
    for name in (one for one in (*NEVER_NEGATIVE, *NEVER_NOUGHT) if get(one).per is Per.VALVE):
        least = np.nanmin(_values()[name])

        assert least > 0 if name in NEVER_NOUGHT else least >= 0, name


#: Conditions that are true wherever the guard lets the formula speak: they stand there so that the quantity is read at all.
_NEVER_FALSE = {("annulus_area", "{packing_section}>0"), ("ring_1", "{ring_count}>0")}


def test_every_branch_is_taken() -> None:
    """The condition of every IF comes out both true and false on at least 20 valves, but for two that cannot be false."""
    rows = np.arange(len(generated()))
    rare: list[str] = []
    taken = 0
    for name in answered_names():
        quantity = get(name)
        tests = conditions_of(quantity.excel)
        if not tests:
            continue
        values = _values()
        answered = np.ones(len(rows), dtype=bool)
        for read in quantity.numbers_needed:
            answered &= np.broadcast_to(~np.isnan(values[read]), answered.shape)
        for read in quantity.texts_needed:
            answered &= values[read] != ""
        bench = _bench(rows[answered])
        for test, column in zip(tests, bench.run([f"IF({test},1,2)" for test in tests]), strict=True):
            yes, no = sum(v == 1 for v in column), sum(v == 2 for v in column)
            if (name, test) in _NEVER_FALSE:
                assert no == 0
                assert yes >= 20
                continue
            taken += 2
            if min(yes, no) < 20:
                rare.append(f"{name}: {test}: true {yes}, false {no}")
    print(f"\nBranches of IF counted: {taken}", *rare, sep="\n  ")

    assert rare == []


#: What functions of quantities call. Functions that several quantities share are found by themselves.
_HELPERS = (
    (arithmetic, arithmetic.rounded), (arithmetic, arithmetic.above_zero), (arithmetic, arithmetic.at_least_zero),
    (arithmetic, arithmetic.whole), (arithmetic, arithmetic.whole_up), (arithmetic, arithmetic.each_text), (arithmetic, arithmetic.pick),
    (arithmetic, arithmetic.pick_in), (arithmetic, arithmetic.row_exact), (arithmetic, arithmetic.row_ignoring_case),
    (entries, entries._believable), (entries, entries._is_blank), (section, section._neighbour),
    (state, state._typed), (material, material._code), (load, load._grade_matches),
    (flange_load, flange_load._above_nought),
)  # fmt: skip


#: Worked out by hand: what no valve brings about, since another quantity stands before it, yet each function promises by itself.
# Decimal halves that a double holds a little too low are rounded half away from nought.
_BY_HAND: dict[str, tuple[tuple[Any, ...], Any]] = {
    "rounded": ((np.array([1.005, 2.675, 1.015, 0.5, -2.5, 8.345]), 2), [1.01, 2.68, 1.02, 0.5, -2.5, 8.35]),
    "pick_in": ((np.array([np.nan, 1.0]), np.array([1.0, 1.0]), np.array([["a"]], dtype=object)), np.array(["", "a"], dtype=object)),
    "_number": ((np.array([5.0, 7.0]), np.array([7.0, 5.0])), [np.nan, 6.0]),
    "bottom_ratio_difference": ((np.array([0.75]), np.array([0.5]), 6.0), [0.25]),
    "load_refused": ((np.array([0.0, 1.0]), np.array([2.0, 2.0]), 6.0, np.array([0.5, 0.5]), np.array(["", ""], dtype=object)), [0.0, 1.0]),
}
#: The reads in whose order a quantity's values stand above.
_READS_BY_HAND = {
    "bottom_ratio_difference": ("bottom_stress_ratio", "bottom_ratio_equal", "counting_digits"),
    "load_refused": ("most_stress_stated", "gland_stress_share", "counting_digits", "stud_governing_share", "lubricant_burns"),
}


def _wrong_by_hand(name: str, mutant: Mutant) -> bool:
    if name not in _BY_HAND or mutant.function is None:
        return False
    given, expected = _BY_HAND[name]
    try:
        return not same(mutant.function(*given), expected)
    except _FAILS:
        return True


def test_functions_give_what_is_worked_out_by_hand() -> None:
    """The unchanged functions pass what their mutants must fail."""
    for module, name in ((arithmetic, "rounded"), (arithmetic, "pick_in"), (fitting, "_number")):
        given, expected = _BY_HAND[name]

        assert same(getattr(module, name)(*given), expected)

    for name, reads in _READS_BY_HAND.items():
        given, expected = _BY_HAND[name]

        assert get(name).reads == reads
        assert same(inner(get(name))(*given), expected)


def _noticed(mutant: Mutant, quantity: Quantity) -> bool:
    changed = dataclasses.replace(quantity, function=mutant.function)
    try:
        if _wrong_by_hand(inner(quantity).__name__, mutant):
            return True
        if not same(changed.compute(_values(), len(generated())), _values()[quantity.name]):
            return True
        return quantity.name not in _TOGETHER and not same(changed.compute(_shaken(), _SHAKEN), quantity.compute(_shaken(), _SHAKEN))
    except _FAILS:
        return True


def _shared() -> dict[Any, list[Quantity]]:
    """The functions that are no quantity's own, by their code, each with the quantities that it works out."""
    out: dict[Any, list[Quantity]] = {}
    for name in _mutated_names():
        quantity = get(name)
        if inner(quantity).__name__ != name:
            out.setdefault(inner(quantity).__code__, []).append(quantity)
    return out


def test_every_mutant_of_a_python_function_is_killed(monkeypatch: pytest.MonkeyPatch) -> None:
    """A changed constant, comparison, operator or name in the core is noticed against the answers that both engines confirm."""
    survivors: list[Mutant] = []
    made = 0
    for name in _mutated_names():
        quantity = get(name)
        if inner(quantity).__name__ == name:
            mutants = list(python_mutants(inner(quantity), quantity))
            made += len(mutants)
            survivors += [mutant for mutant in mutants if not _noticed(mutant, quantity)]
    for code, quantities in _shared().items():
        changed = list(zip(*[list(python_mutants(inner(quantity))) for quantity in quantities], strict=True))
        made += len(changed)
        where = inner(quantities[0]).__module__.rsplit(".", 1)[1]
        called = f"lambda of {quantities[0].name}" if code.co_name == "<lambda>" else code.co_name
        for each in changed:
            if not any(_noticed(mutant, quantity) for mutant, quantity in zip(each, quantities, strict=True)):
                survivors.append(Mutant(f"{where}.{called}", each[0].change))
    for module, helper in _HELPERS:
        mutants = list(python_mutants(helper))
        made += len(mutants)
        where = module.__name__.rsplit(".", 1)[1]
        survivors += [Mutant(f"{where}.{one.name}", one.change) for one in mutants if not _noticed_anywhere(monkeypatch, helper, one)]
    wrong = _judge("Python", made, survivors, EQUIVALENT_PYTHON)

    assert wrong == []
    assert len(survivors) <= 0.03 * made


def _noticed_anywhere(monkeypatch: pytest.MonkeyPatch, helper: Any, mutant: Mutant) -> bool:
    """Whether any quantity changes when a helper is replaced by its mutant wherever it is used."""
    if _wrong_by_hand(helper.__name__, mutant):
        return True
    with monkeypatch.context() as patched:
        for part in [held for name, held in list(sys.modules.items()) if name.startswith("sheetcalc.calculations.")]:
            for attribute, held in list(vars(part).items()):
                if held is helper:
                    patched.setattr(part, attribute, mutant.function)
        for name in _mutated_names():
            try:
                if not same(get(name).compute(_values(), len(generated())), _values()[name]):
                    return True
            except _FAILS:
                return True
    return False
