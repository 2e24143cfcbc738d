"""Tests of the tests: every constant, comparison and name changed, one at a time; the agreement must notice each change.

The workbook of the agreement run compares each formula cell with the core. A changed formula is noticed when its own
cell differs on any of the generated valves, so each mutant is put beside its quantity's inputs and recalculated by
IronCalc on those valves.
"""

from __future__ import annotations

import dataclasses
import re
import zlib
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
import pytest
from agreement import trial
from agreement.bench import differs, same
from agreement.edges import edge_field
from agreement.mutants import NEVER_NEGATIVE, NEVER_NOUGHT, Mutant, conditions_of, python_mutants
from agreement.trial import FAILS, NOTHING, Field, Trial, Verdict, split, spread
from agreement.valves import SELDOM, as_read, generated, own_rows
from told import Tell

from sheetcalc.calculations import arithmetic, given, oxygen
from sheetcalc.calculations.joint import bolt_load
from sheetcalc.calculations.run import answered_names, issued_assumptions, read_entries, worked_out
from sheetcalc.calculations.valve import fitting, section, studs, suitability
from sheetcalc.declare import quantity
from sheetcalc.declare.quantity import Column, Constant, Derived, Entry, Fault, Per, categorical, get

#: Mutants that change nothing: name and change as patterns, and the reason. Found by hand, at most 3 % of all.
EQUIVALENT: tuple[tuple[str, str, str], ...] = (
    ("unit_row|packing_form|cut_style|stem_motion|packing_state|gland_kind|gland_nut_kind|stem_slides|stem_turns|nut_column|motion_ring_count|comes_out|"
     "flange_studs_renewed|valve_actuated", "0 -> 1 at .*",
     "the names are sorted and the name found is compared with the one typed, so an approximate search ends the same"),
    ("fluid_kind_chosen|stem_motion_chosen|flange_facing_chosen|flange_material_chosen",
     "{[a-z_]+_usual} -> {[a-z_]+_usual} at .*", "both are issued as not stated"),
    ("stocked_below|stocked_above|joint_row", "1 -> (2|1.01) at .*", "any positive search type means rising order"),
    ("state|material_slides|material_turns|material_fluid_words|material_verdict|most_stress_words|wrench_old_words|flange_wrench|"
     "flange_wrench_words|gasket_inner|gasket_outer",
     "(1 -> 1.01|2 -> 2.02) at .*", "INDEX and CHOOSE cut their place to a whole number"),
    ("(nut_)?thread_not_known|material_not_known|lubricant_not_known|flange_size_not_known|gasket_kind_not_known|flange_lubricant_not_known",
     "1 -> (2|1.01) at .*", "any number but 0 is true"),
    ("fluid_not_judged|wrench_not_listed|annulus_area",
     "{[a-z_]+} -> {[a-z_]+} at .*", "the two are above 0 together wherever both are known, as the guard wants"),
    ("grade_twice|rings_idle|flange_grade_twice", "1 -> 1.01 at .*", "a count is whole"),
    ("bottom_ratio_equal", "{stem_friction_factor} -> {box_friction_factor} at .*", "the short form is shown only where the two are equal"),
    ("mean_stress_ratio", "> -> <> at .*", "the stress never rises on the way down"),
    ("thrust_share|turn_share", "= -> >= at .*", "flags are 0 or 1, and so is their product"),
    ("ring_1_joint", "360 -> .* at .*", "the first joint points to 0"),
    ("ring_2", "> -> <> at .*", "no ring has a number above the count"),
    ("gasket_not_listed|flange_group_missing|in_use", "(= -> <=|> -> <>) at .*", "a count is never below 0"),
    ("flange_group_missing", "{flange_asked} -> {flange_material_allows} at .*", "the guard wants it to be asked about"),
    ("flange_rating_(above|share|temperature)", "1 -> 1.01 at .*", "INDEX cuts its place to a whole number"),
    ("flange_rating_place", "{rating_temperatures} -> {material_ratings_convex} at .*", "ratings end where straight lines do"),
    ("single_leg_aslant", "< -> <> at .*", "no angle is above that of an upright leg"),
    ("lubricant_no_band|flange_lubricant_no_band", "{(flange_)?lubricant_row} -> {[a-z_]+} at .*",
    "without a row of the lubricant the formula is blank, with one the others decide"),
    ("rings_most|lantern_seat", "(>= -> >|<= -> <) at .*", "no figure stands just half a digit of noise from an edge"),
    ("rings_most", "> -> <> at .*", "a sum of truths is never below 0"),
    ("lantern_seat", "(1 -> 1.01|0 -> 1) at .*", "one over a whole number is turned over again, and rounded"),
    ("lantern_misses_port", "({lantern_seat} -> {rings_below_lantern}|0 -> \\(-1\\)) at .*",
     "it is asked only whether there is a seat, which the guard asks too"),
    ("ring_count", "(0 -> \\(-1\\)|> -> <>) at .*", "the greater of 0 and a length is never below 0"),
    ("motion_rings_missing", "({in_use} -> {count_is_ours}|{count_is_ours} -> {in_use}|<> -> >=) at .*",
     "both are 1 or blank, and a motion that is blank is left to the guard"),
    ("(stud|flange_bolt)_(out_of_range|relaxing|range_unstated)", "(> -> <>|= -> <=) at .*",
     "neither a count nor what is over the lesser or under the greater of two is ever below 0"),
    ("ring_1_depth", "(- -> \\+|{[a-z_0-9]+} -> {[a-z_0-9]+}|> -> >?=) at .*", "three rings or more stand under every lantern"),
)  # fmt: skip
EQUIVALENT_GUARDS: tuple[tuple[str, str, str], ...] = (
    (".*_typed|maker_ring_count|stocked_below|gland_stud_count|flange_class|sling_legs|leg_length|hook_height",
     "(< -> >|[0-9] -> [0-9]) at .*",
     "the formula inside ends blank as well where its entry is no number; a text that looks like one is a number to this engine"),
    ("stocked_to_roll|no_stocked_section|cut_length|tip_length|loose_fills|loose_has_no_rings|metre_mass|ph_missing|stud_torque_worked|"
     "chemical_may_oxidise|(material|gasket|(flange_)?lubricant)_(no_report|report_low)|grade_missing|lubricant_missing|springs_hold_gland|"
     "packing_nut_note|motion_missing|flange_uses_1500|flange_(ring|lap)_joint|sling_overloaded|stud_count_unusual|studs_are_flange_bolts|"
     "flange_flat_face|nut_turns|gap_difference_at_studs|flats_to_even|(nut_)?thread_not_known|readings_incomplete|stud_thread_spare|"
     "lubricant_no_band|motion_rings_missing|flange_heat_row|flange_no_drilling|flange_cast_iron|flange_other_material|flange_asked|"
     "flange_(facing|material)_missing|spiral_row|flat_row",
     "= -> < at .*", "a blank code equals no word, and what is chosen then is blank or silent as well"),
    ("material_row|motion_ring_count|lubricant_row|grade_row|flange_row|flange_thread_row|flange_grade_row|flange_lubricant_row|gasket_kind_row",
     "(= -> <|1 -> 0) at .*", "a name that is blank or an error value is found in no row"),
    ("motion_rings_missing|flange_heat_row|few_rings_by_lantern|no_ring_fits|(flange_)?lubricant_scatter|fluid_unsuitable|"
     "formed_ring_height|grade_row|stud_torque|grade_not_known|mandrel_diameter|"
     "flange_class_column|flange_bolt_row|flange_raised_row|flange_gaskets|flange_order_row|flange_grade_row|spiral_row|flat_row|"
     "gasket_(inner|outer|unsuitable|fluid_not_judged|limits_missing|design_unknown)|flange_(rating_place|group_missing)|flange_bolt_torque|flange_grade_not_known",
     "(< -> >|[0-9] -> [0-9]) at .*",
     "the formula inside stays blank or silent on a blank"),
    ("unit_set_fault|(thread|stud_count|stem_motion|fluid_kind|temperature|pressure|material|lubricant|grade)_missing|packing_nut_note|"
     "flange_(facing|material|grade|lubricant)_missing|flange_(lubricant_not_known|grade_no_yield)|gasket_(kind_.*|not_listed)|.*_noted",
     "(< -> >|1 -> 0|= -> <) at .*", "without its 1, or its figure, the formula inside is silent as well"),
    ("flange_bolt_yield|flange_lubricant_factor", "(< -> >|1 -> 0) at .*",
     "without a row the first condition is false, and this engine's AND then asks for no error of the second"),
    ("lantern_most", "(< -> >|1 -> 0) at .*", "a constant is always there"),
)  # fmt: skip
EQUIVALENT_PYTHON: tuple[tuple[str, str, str], ...] = (
    ("arithmetic.rounded", "(2.0 -> .*|51 -> .*).*", "the nudge of the last bit by a little more or less"),
    ("given._believable", "Eq -> LtE.*", "what is left over from a whole number is never negative"),
    ("section._neighbour", "Eq -> GtE.*", "what an earlier list put there is overwritten by the list that is meant"),
    ("arithmetic.joined", "1 -> (2|0) \\(#[01]\\)", "all columns are of one length, whichever is asked"),
    ("arithmetic.joined", "(1 -> (2|1.01)|Gt -> (Lt|LtE|GtE|NotEq)) .*", "combinations are numbered anew sooner, and are the same"),
    ("arithmetic.either", "0 -> -1 .*", "of one word the first is the last"),
    ("quantity.categorical", "(0 -> (1|-1)|Lt -> (LtE|NotEq)) .*", "texts that are numbered once more are the same"),
    ("material_verdict", "(3 -> 3.03|2 -> 2.02|1 -> 1.01).*", "the place is cut to a whole number"),
    ("material_verdict", "0 -> (1|-1) .*", "without a row of the material the guard blanks whatever is chosen"),
    ("material_turns|wrench_old_words", "(2 -> 2.02|1 -> 1.01) .*", "the place is cut to a whole number"),
    ("material_turns|wrench_old_words", "Mult -> Div .*", "2 times 1 is 2 over 1"),
    ("fluid_not_judged|wrench_not_listed|annulus_area", "[a-z_]+ -> [a-z_]+ .*",
     "the two are above 0 wherever both are known, as the guard wants"),
    ("thrust_share|turn_share", "(Mult -> Div|Eq -> GtE) .*",
     "flags are 0 or 1: their product and their quotient are 1 together, and never more"),
    ("grade_twice|rings_idle|flange_grade_twice", "1 -> 1.01 .*", "a count is whole"),
    ("bottom_ratio_equal", "box_friction_factor -> stem_friction_factor .*", "the short form is shown only where the two are equal"),
    ("mean_stress_ratio", "Gt -> NotEq .*", "the stress never rises on the way down"),
    ("arithmetic.pick_in", "Eq -> GtE .*", "of the two kinds that a block holds, texts alone are at least as wide as texts"),
    ("rings_most|lantern_seat", "2 -> .* \\(#[0-2]\\)", "digits are cut to a whole number"),
    ("flange_lubricant_no_band", "flange_lubricant_row -> .*", "without a row of the lubricant the guard keeps it silent"),
    ("least_take_up_usual", "Gt -> GtE .*", "where the two are equal either is the answer"),
    ("lantern_misses_port", "0 -> -1 .*", "a number of rings is never below 0"),
    ("motion_rings_missing", "(in_use|count_is_ours) -> (in_use|count_is_ours) .*", "both are 1 or blank"),
    ("state.function", "Eq -> LtE .*", "a flag is 0 or 1"),
    ("flange_group_missing", "flange_asked -> flange_material_allows .*", "the guard wants it to be asked about"),
    ("flange_rating_share", "1 -> 1.01 .*", "the place is cut to a whole number"),
    ("oxygen._asked", "Eq -> (LtE|GtE) .*", "what is asked is 1 or blank"),
)  # fmt: skip
_FIRST_TRY, _SECOND_TRY = 260, 1500
#: Rings are declared in a loop, so the mutants of one speak for all: of the second, and of the fifth where a whole turn
# shows, or a lantern.
_RING = re.compile(r"ring_([2-9]|10)(_.*)?")
_SPOKEN_FOR = {"": 2, "_depth": 5, "_stress": 2, "_joint": 5}


@cache
def _mutated_names() -> tuple[str, ...]:
    """The quantities of which mutants are made: all that are worked out, but for rings that another speaks for."""
    found = {name: _RING.fullmatch(name) for name in answered_names()}
    return tuple(name for name, ring in found.items() if ring is None or int(ring[1]) == _SPOKEN_FOR[ring[2] or ""])


@cache
def _held() -> dict[str, Any]:
    """Everything about the valves as functions read it."""
    valves = as_read()
    return worked_out({**read_entries(valves), **own_rows()}, len(valves))


@cache
def _values() -> dict[str, Any]:
    """The same as a sheet shows it."""
    return _shown(_held())


def _shown(held: dict[str, Any]) -> dict[str, Any]:
    out = dict(held)
    for name, value in held.items():
        quantity = get(name)
        if isinstance(quantity, Derived):
            out[name] = quantity.shown(value)
        elif isinstance(quantity, Entry) and quantity.is_text:
            out[name] = np.asarray(value, dtype=object)
    return out


@cache
def _typed_cells(name: str) -> tuple[Any, ...]:
    """An entry as it stands in a cell: numbers, texts, None for an empty cell."""
    return tuple(None if v is None or v == "" or v != v else v for v in generated()[name])  # noqa: PLR0124 - NaN


#: Rows whose inputs do not belong together, and the quantities that are not put to that trial, since they rely on what does.
_SHAKEN = 1200
_TOGETHER: dict[str, str] = {
    **dict.fromkeys(("grade_row", "flange_grade_row"), "one row never holds for a grade that is an error value"),
    **dict.fromkeys(("gasket_inner", "gasket_outer"), "a gasket is a spiral one or a flat one, never both"),
    "gravity": "a valve that is stopped, or has something missing, has no sizes to go by",
}
#: The same where one input is moved by itself.
_TOGETHER_ON_EDGES: dict[str, str] = {
    **_TOGETHER,
    "flange_rating_temperature": "half of its last digit is cut off or rounded up by noise",
    "bottom_ratio_difference": "half of its last digit is cut off or rounded up by noise",
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
    held = dict(_held())
    for name in sorted({read for one in answered_names() for read in get(one).reads}):
        if isinstance(get(name), Entry):
            held[name] = _shaken_entry(name)[1]
        elif not isinstance(get(name), (Column, Constant)):
            rng = np.random.default_rng([20261129, zlib.crc32(name.encode())])
            value = held[name][rng.permutation(len(generated()))[:_SHAKEN]]
            held[name] = _some_blank(value, rng.random(_SHAKEN) < 0.12)
    return held


def _some_blank(value: Any, blank: Any) -> Any:
    if isinstance(value, pd.Categorical):
        return categorical(np.where(blank, "", np.asarray(value, dtype=object)))
    return np.where(blank, False if value.dtype.kind == "b" else np.nan, value) if value.dtype.kind in "bf" else np.where(blank, "", value)


@cache
def _field() -> Field:
    """All generated valves."""
    return Field(Per.VALVE, len(generated()), _values(), _held(), _typed_cells, _values())


@cache
def _shaken_field() -> Field:
    answers = {name: get(name, Derived).shown(get(name, Derived).compute(_shaken(), _SHAKEN)) for name in answered_names()}
    return Field(Per.VALVE, _SHAKEN, _shown(_shaken()), _shaken(), _shaken_cells, answers, frozenset(_TOGETHER))


@cache
def _edge_field(name: str) -> Field:
    """Rows on which that quantity's answer is about to change."""
    return dataclasses.replace(edge_field(get(name, Derived), _field()), left_out=frozenset(_TOGETHER_ON_EDGES))


@cache
def _telling_rows(quantity: Derived) -> np.ndarray[Any, Any]:
    """All valves, those first that differ in answers and in inputs: most mutants show on few rows."""
    rng = np.random.default_rng(7)
    order = rng.permutation(len(generated()))
    answer = _values()[quantity.name]
    key = np.array([str(v) if isinstance(v, str) else ("" if v != v else f"{v:.3g}") for v in answer[order]])  # noqa: PLR0124
    _once, first = np.unique(key, return_index=True)
    chosen = order[np.sort(first)][: _FIRST_TRY // 2]
    rest = order[~np.isin(order, chosen)]
    return np.concatenate([chosen, rest])


@pytest.mark.proof
def test_shares_sentences_and_edges_are_met(tell: Tell) -> None:
    """With own rows filled, each quantity is answered on 30 % of the valves or what is said of it, each sentence spoken 20 times."""
    low, rare, used, spoken = {}, {}, set(), []
    for name in answered_names():
        quantity, values = get(name), _values()[name]
        met = (values != "") if quantity.is_text else ~np.isnan(values)
        if isinstance(quantity, Fault) or name.endswith("_trouble"):
            spoken.append(int(met.sum()))
            if met.sum() < 20:
                rare[name] = int(met.sum())
            continue
        seldom = next((one for one in SELDOM if re.fullmatch(one[0], name)), None)
        if met.mean() < 0.30 and seldom is not None:
            used.add(seldom)
        if met.mean() < (0.30 if seldom is None else seldom[1]):
            low[name] = round(float(met.mean()), 3)

    tell(f"Sentences of a valve: {len(spoken)}, each spoken on {min(spoken)} of the generated valves or more")

    assert low == {}
    assert rare == {}
    assert used == set(SELDOM)


#: Where two are equal but for noise, a comparison stands on its edge: a quantity, and a number or another quantity.
_EDGES: tuple[tuple[str, float | str], ...] = (
    ("stud_stress_share", 1.0), ("stud_yield_share", 1.0), ("gland_stress_share", 1.0), ("rim_pull_share", 1.0),
    ("bottom_stress_over_pressure", "least_pressure_ratio"), ("bottom_stress_ratio", "least_bottom_share"), ("ring_count", "rings_useful"),
    ("fluid_temperature", "material_temperature_high"), ("fluid_temperature", "material_temperature_low"), ("fluid_ph", "material_ph_low"),
    ("fluid_ph", "material_ph_high"), ("line_pressure", "material_pressure_high"), ("line_pressure", "full_vacuum"), ("line_pressure", 0.0),
    ("stud_thread_spare", 0.0), ("torque_forms_ratio", 1.25), ("torque_forms_ratio", 0.75), ("stem_thread_diameter", "stem_thread_pitch"),
    ("packing_depth", "least_entry"), ("loose_room", "least_entry"), ("stem_friction_factor", "box_friction_factor"),
    ("rings_that_fit_exact", "rings_that_fit"), ("nearest_distance", "section_nearness"), ("above_distance", "section_roll"),
    ("spacer_room", "spacer_least"), ("gland_gap_end", 0.0), ("gland_gap_end", "least_take_up"),
    ("gap_difference_at_studs", "greatest_gap_difference"), ("set_compression", "seating_compression"), ("box_depth", "lantern_length"),
    ("stem_diameter", "box_bore"), ("below_distance", "above_distance"), ("flange_yield_share", 1.0), ("gasket_stress", "gasket_most"),
    ("gasket_stress", "gasket_least"), ("gasket_stress_pressed", "gasket_least"), ("flange_load_ratio", 1.0), ("flange_torque_ratio", 1.25),
    ("flange_torque_ratio", 0.75), ("leg_share", 1.0), ("sling_angle", "least_sling_angle"), ("sling_angle", "warn_sling_angle"),
    ("hook_height", "leg_length"), ("gasket_width_basic", "gasket_width_limit"),
)  # fmt: skip


@pytest.mark.proof
def test_valves_stand_on_exact_edges(tell: Tell) -> None:
    """At least 500 generated valves stand on the exact edge of a comparison, and each edge is met by 3 at least."""
    on_any, rare = np.zeros(len(generated()), dtype=bool), {}
    for name, edge in _EDGES:
        gap = np.abs(_values()[name] - (_values()[edge] if isinstance(edge, str) else edge))
        on = gap < 10.0 ** -issued_assumptions()["counting_digits"] / 2  # type: ignore[operator]
        # What nearly every valve meets, such as equal friction, makes no edge row of it.
        on_any |= on if on.mean() < 0.05 else False
        if on.sum() < 3:
            rare[name, edge] = int(on.sum())

    tell(f"Valves on an exact edge of a comparison: {on_any.sum()}")

    assert rare == {}
    assert on_any.sum() >= 500


@pytest.mark.proof
def test_the_bench_agrees_before_anything_is_changed() -> None:
    """Put beside its inputs on the bench, every unchanged formula gives the core's answers; of other rows' inputs as well, and on edges."""
    for name in answered_names():
        quantity = get(name, Derived)
        rows = _telling_rows(quantity)[:_FIRST_TRY]
        got = _field().bench(rows).run([quantity.guarded_excel])[0]

        assert not differs(got, _values()[name][rows]), name

        got = _shaken_field().bench().run([quantity.guarded_excel])[0]

        assert differs(got, _shaken_field().answers[name]) == (name in _TOGETHER), f"{name} with inputs of other rows"

        got = _edge_field(name).bench().run([quantity.guarded_excel])[0]

        assert name in _TOGETHER_ON_EDGES or not differs(got, _edge_field(name).answers[name]), f"{name} where it is about to change"


def _trials(quantity: Derived) -> Iterator[Trial]:
    """On what a formula is tried: most mutants show on the first few rows."""
    rows = _telling_rows(quantity)
    yield from ((_field(), lot) for lot in (rows[:_FIRST_TRY], rows[_FIRST_TRY:_SECOND_TRY], rows[_SECOND_TRY:]))
    yield _shaken_field(), None
    yield _edge_field(quantity.name), None


def _fields(quantity: Derived) -> Iterator[Field]:
    yield from (_field(), _shaken_field())
    yield _edge_field(quantity.name)


def _of_formula(quantity: Derived, mutants: list[Mutant]) -> Verdict:
    tried, left_out = split(mutants)
    return Verdict(len(tried), trial.survivors(_trials(quantity), tried), left_out)


_SHARDS = 24


@pytest.mark.proof
@pytest.mark.parametrize("names", spread(_mutated_names(), _SHARDS), ids=range(_SHARDS))
@pytest.mark.parametrize(
    ("hand", "mutants_of", "reasons"), [("texts", trial.of_text, EQUIVALENT), ("guards", trial.of_guard, EQUIVALENT_GUARDS)]
)
def test_every_mutant_of_an_excel_text_is_killed(
    names: list[str], hand: str, mutants_of: Callable[[Derived], list[Mutant]], reasons: trial.Reasons, record_property: Any
) -> None:
    """A changed constant, comparison, operator or name in any Excel text or its guard is noticed; equivalent ones are listed."""
    verdict = sum((_of_formula(one, mutants_of(one)) for one in (get(name, Derived) for name in names)), NOTHING)
    trial.give(record_property, ("valves", hand), _SHARDS, verdict, reasons)


def test_rings_are_declared_alike() -> None:
    """From ring 2 on, Excel text, guard and function of a ring are those of the mutated one but for the number: it speaks for all."""
    counted = 0
    for name in answered_names():
        found = _RING.fullmatch(name)
        if found is None:
            continue
        ring, part = int(found[1]), found[2] or ""
        spoken = _SPOKEN_FOR[part]
        one, other = get(name, Derived), get(f"ring_{spoken}{part}", Derived)
        text = one.guarded_excel.replace(f"{{ring_{ring}}}", "{here}").replace(f"{{ring_{ring - 1}}}", "{below}")

        assert text == other.guarded_excel.replace(f"{{ring_{spoken}}}", "{here}").replace(f"{{ring_{spoken - 1}}}", "{below}")
        assert one.function is other.function
        assert [re.sub(r"_[0-9]+", "", read) for read in one.reads] == [re.sub(r"_[0-9]+", "", read) for read in other.reads]

        counted += 1
    assert counted == len(_SPOKEN_FOR) * (fitting.MOST_RINGS - 1)


@pytest.mark.proof
def test_what_is_never_negative_is_not() -> None:
    """The quantities on which comparisons with 0 are the same by definition are never below 0, or never 0, on any generated valve."""
    for name in (one for one in (*NEVER_NEGATIVE, *NEVER_NOUGHT) if get(one).per is Per.VALVE):
        least = np.nanmin(_values()[name])

        assert least > 0 if name in NEVER_NOUGHT else least >= 0, name


#: Conditions that are true wherever the guard lets the formula speak: they stand there so that the quantity is read at all.
#: Conditions that come out one way only: they stand there so that the quantity is read at all, or for a site's own constants.
_ONE_WAY = {
    ("annulus_area", "{packing_section}>0"), ("ring_1", "{ring_count}>0"),
    *((f"ring_{ring}_depth", f"{{ring_{ring}}}>{{rings_below_lantern}}") for ring in (1, 2, 3)),
    *((f"{name}_noted", f"ISNUMBER({{{name}_typed}})") for name in (
        "least_gland_stress", "pressure_factor", "most_gland_stress", "nut_factor", "flange_bolt_stress", "flange_nut_factor",
        "flange_rating",
    )),
}  # fmt: skip


@pytest.mark.proof
def test_every_branch_is_taken(tell: Tell) -> None:
    """The condition of every IF comes out both true and false on at least 20 valves, but for those that cannot."""
    rows = np.arange(len(generated()))
    rare: list[str] = []
    taken = 0
    for name in answered_names():
        quantity = get(name, Derived)
        tests = conditions_of(quantity.excel)
        if not tests:
            continue
        values = _values()
        answered = np.ones(len(rows), dtype=bool)
        for read in quantity.numbers_needed:
            answered &= np.broadcast_to(~np.isnan(values[read]), answered.shape)
        for read in quantity.texts_needed:
            answered &= values[read] != ""
        bench = _field().bench(rows[answered])
        for test, column in zip(tests, bench.run([f"IF({test},1,2)" for test in tests]), strict=True):
            yes, no = sum(v == 1 for v in column), sum(v == 2 for v in column)
            if (name, test) in _ONE_WAY:
                assert min(yes, no) == 0
                assert max(yes, no) >= 20
                continue
            taken += 2
            if min(yes, no) < 20:
                rare.append(f"{name}: {test}: true {yes}, false {no}")
    tell(f"IronCalc, branches of IF of a valve taken at least 20 times: {taken}")

    assert rare == []


#: What functions of quantities call. Functions that several quantities share are found by themselves.
_HELPERS = (
    *((arithmetic, one) for one in (
        arithmetic.rounded, arithmetic.above_zero, arithmetic.at_least_zero, arithmetic.whole, arithmetic.whole_up, arithmetic.each_text,
        arithmetic.word, arithmetic._placed, arithmetic._numbered, arithmetic.either, arithmetic.together, arithmetic.joined,
        arithmetic._spelt, arithmetic.pick, arithmetic.pick_in, arithmetic.row_exact, arithmetic.row_ignoring_case,
    )),
    (given, given._believable), (given, given._is_blank), (section, section._neighbour),
    (oxygen, oxygen._asked), (oxygen, oxygen._unproved), (oxygen, oxygen._beyond),
    (suitability, suitability._code), (studs, studs.grade_matches), (bolt_load, bolt_load._above_nought),
    *((quantity, one) for one in (
        quantity.missing, quantity.categorical, quantity._texts, quantity._numbers, quantity._flag,
    )),
)  # fmt: skip


def _texts(*held: str | None) -> Any:
    return np.array(held, dtype=object)


#: Worked out by hand: what no valve brings about, since another quantity stands before it, yet each function promises by itself.
# Decimal halves that a double holds a little too low are rounded half away from nought.
_BY_HAND: dict[str, tuple[tuple[Any, ...], Any]] = {
    "rounded": ((np.array([1.005, 2.675, 1.015, 0.5, -2.5, 8.345]), 2), [1.01, 2.68, 1.02, 0.5, -2.5, 8.35]),
    "pick_in": ((np.array([np.nan, 1.0]), np.array([1.0, 1.0]), np.array([["a"]], dtype=object)), np.array(["", "a"], dtype=object)),
    "categorical": ((_texts("a", None, "b", "a"),), _texts("a", "", "b", "a")),
    "_flag": ((_texts("", "It leaks."),), np.array([False, True])),
    # Of thirteen columns of forty-one words there are more combinations than a whole number of the machine can count.
    "joined": (
        (
            pd.Categorical(["Ever."] * 42, categories=["Ever.", ""]),
            *(_texts("", *(f"{column}.{row}" for row in range(1, 41)), f"{column}.1") for column in range(13)),
            _texts("Once.", *[""] * 41),
        ),
        _texts("Ever. Once.", *(" ".join(["Ever.", *(f"{column}.{row}" for column in range(13))]) for row in (*range(1, 41), 1))),
    ),
    "_number": ((np.array([5.0, 7.0]), np.array([7.0, 5.0])), [np.nan, 6.0]),
    "bottom_ratio_difference": ((np.array([0.75]), np.array([0.5]), 6.0), [0.25]),
}
#: The reads in whose order a quantity's values stand above.
_READS_BY_HAND = {
    "bottom_ratio_difference": ("bottom_stress_ratio", "bottom_ratio_equal", "counting_digits"),
}


def _wrong_by_hand(name: str, mutant: Mutant) -> bool:
    if name not in _BY_HAND or mutant.function is None:
        return False
    given, expected = _BY_HAND[name]
    try:
        return not same(mutant.function(*given), expected)
    except FAILS:
        return True


def test_functions_give_what_is_worked_out_by_hand() -> None:
    """The unchanged functions pass what their mutants must fail."""
    for module, name in (
        (arithmetic, "rounded"), (arithmetic, "pick_in"), (fitting, "_number"), (arithmetic, "joined"), (quantity, "categorical"),
        (quantity, "_flag"),
    ):  # fmt: skip
        given, expected = _BY_HAND[name]

        assert same(getattr(module, name)(*given), expected)

    for name, reads in _READS_BY_HAND.items():
        given, expected = _BY_HAND[name]

        assert get(name).reads == reads
        assert same(get(name, Derived).function(*given), expected)


_OWN, _SHARED = trial.own_and_shared(_mutated_names())
_PYTHON_SHARDS = 8
_ALL_PYTHON = _PYTHON_SHARDS + 1 + len(_HELPERS)


@pytest.mark.proof
@pytest.mark.parametrize("quantities", spread(_OWN, _PYTHON_SHARDS), ids=range(_PYTHON_SHARDS))
def test_every_mutant_of_a_quantity_s_own_function_is_killed(quantities: list[Derived], record_property: Any) -> None:
    """A changed constant, comparison, operator or name in the core is noticed against the answers that both engines confirm."""
    verdict = sum((trial.of_own_function(quantity, _fields, _wrong_by_hand) for quantity in quantities), NOTHING)
    trial.give(record_property, ("valves", "Python"), _ALL_PYTHON, verdict, EQUIVALENT_PYTHON)


@pytest.mark.proof
def test_every_mutant_of_a_shared_function_is_killed(record_property: Any) -> None:
    """The same of the functions that work out several quantities."""
    verdict = sum((trial.of_shared_function(quantities, _fields, _wrong_by_hand) for quantities in _SHARED), NOTHING)
    trial.give(record_property, ("valves", "Python"), _ALL_PYTHON, verdict, EQUIVALENT_PYTHON)


@pytest.mark.proof
@pytest.mark.parametrize(("module", "helper"), _HELPERS, ids=lambda one: one.__name__)
def test_every_mutant_of_a_helper_is_killed(module: Any, helper: Any, monkeypatch: pytest.MonkeyPatch, record_property: Any) -> None:
    """The same of what those functions call."""
    everything = [(get(name, Derived), _field()) for name in _mutated_names()]
    verdict = trial.of_helper(monkeypatch, module, helper, lambda: everything, _wrong_by_hand)
    trial.give(record_property, ("valves", "Python"), _ALL_PYTHON, verdict, EQUIVALENT_PYTHON)


#: How many quantities are drawn for the sample that every run tries, and how many mutants of each.
_SAMPLE, _OF_EACH = 60, 2


def test_a_sample_of_mutants_is_killed() -> None:
    """Of some quantities, drawn by a seed, a few changes of formula, guard and function are noticed, or have their reason."""
    rng = np.random.default_rng(20261128)
    drawn = [get(str(name), Derived) for name in rng.choice(_mutated_names(), _SAMPLE, replace=False)]

    def some(mutants: Iterable[Mutant]) -> list[Mutant]:
        tried = split(mutants)[0]
        return [tried[at] for at in rng.permutation(len(tried))[:_OF_EACH]]

    tried, unknown = 0, []
    for one in drawn:
        for made, reasons in ((trial.of_text(one), EQUIVALENT), (trial.of_guard(one), EQUIVALENT_GUARDS)):
            mutants = some(made)
            tried += len(mutants)
            unknown += trial.judged(Verdict(0, trial.survivors(_trials(one), mutants), []), reasons)[0]
        if one in _OWN:
            mutants = some(python_mutants(one.function, one))
            tried += len(mutants)
            alive = [mutant for mutant in mutants if not trial.tells(mutant, one, _fields(one), _wrong_by_hand)]
            unknown += trial.judged(Verdict(0, alive, []), EQUIVALENT_PYTHON)[0]

    assert unknown == []
    assert tried > _SAMPLE
