"""The proof of what is not of a single valve: agreement, shares, sentences, branches and mutants over generated outages.

As in `test_mutants` each formula is put beside its inputs and recalculated by IronCalc, the unchanged one and each
mutant. What a formula reads of other rows is a whole column on a second sheet.
"""

from __future__ import annotations

import dataclasses
import itertools
import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import numpy as np
import pytest
from agreement import outages, trial
from agreement.bench import Bench, apart
from agreement.mutants import NEVER_NEGATIVE, NEVER_NOUGHT, Mutant, conditions_of
from agreement.outages import Outage, worked_out
from agreement.trial import NOTHING, Field, Verdict, split, spread
from told import Tell

from sheetcalc.calculations import gathering
from sheetcalc.calculations.answers import whole
from sheetcalc.calculations.outage import grouped, kit, order, reconciliation
from sheetcalc.calculations.run import answered_names, entry_names
from sheetcalc.declare.quantity import EVERY, Column, Constant, Derived, Entry, Every, Fault, Per, get

#: Mutants that change nothing: name and change as patterns, and the reason. Found by hand, at most 3 % of all.
EQUIVALENT: tuple[tuple[str, str, str], ...] = (
    ("form_row|critical|outage_unit_row|leak_limit_rule|confidence|confidence_column|log_event|log_torque_limit", "0 -> 1 at .*",
     "the names are sorted and the name found is compared with the one typed, so an approximate search ends the same"),
    ("(packing|end|spacer|gasket|stud|joint|bolt|(joint_)?grease|kit_[a-z_]+)_opens", "{position} -> {.*_first} at .*",
     "the two are equal there"),
    (".*_code|store_item|log_gap_missing", "(> -> <>|\\* -> /) at .*",
     "both factors are above 0, or one is a number from 0 on and the other 1"),
    ("braid_code", "{counting_digits} -> {[a-z_]+} at .*", "sections are listed in whole steps"),
    ("check_reconciliation|order_without_amount|out_hours_not_known", "= -> <= at .*", "a sum of sizes or a count is never below 0"),
    ("log_torque_code", "0 -> .* at .*", "an error value is none of the choices, so its answer is blank already"),
    ("hours_lost|torque_least|torque_most|line_length|line_mass|line_loose|log_out_of_order|log_middle_[a-z]+|log_gap|loss_rate|"
     "followed_sum_rr", "> -> <> at .*",
     "a count, a size or a sum of amounts is never below 0"),
    ("line_length", "0 -> 1 at .*", "no valve takes a millimetre of braid"),
    ("day_words|chart_words", "1 -> 1.01 at .*", "CHOOSE cuts its place to a whole number"),
    ("leak_limit_missing", "{leak_limit_row} -> {[a-z_]+} at .*",
     "where the limit is blank it is a text, above any number; else it is silent"),
    ("chart_end", "1 -> (2|1.01) at .*", "the next code is that of a later row of another valve, far above"),
    ("log_day", "{status_date} -> {log_date} at .*", "a blank status date is a text, above any date"),
    ("log_leak_code|log_torque_code", "{log_code} -> {[a-z_]+} at .*", "where the code is blank its blank is the answer"),
    ("log_restart|log_start", "0 -> .* at .*", "the start of the codes is far above"),
    ("log_tag_unknown", "<> -> >= at .*", "a blank key does not come through the guard"),
    ("log_out_of_order", "(>= -> >|< -> <=|1 -> 1.01|{log_day} -> {[a-z_]+}) at .*",
     "codes have a row in them from 1 on, and no row is out of order with itself; where the day is blank the row has no code"),
    ("last_repack", "> -> >= at .*", "no code is the start of the codes"),
    ("bolt_code", "{order_digits} -> {counting_digits} at .*", "whole steps of a length have no more digits"),
    ("job_day", "0 -> (1|\\(-1\\)) at .*", "a day that is an error value is no day, and takes no turn"),
    ("trouble_rank", "1 -> 1.01 at .*", "a gravity is a whole number"),
    ("line_unjudged", "> -> <> at .*", "a sum of 0 and 1 is never below 0"),
    ("first_gap_code", "1 -> 1.01 at .*", "SMALL cuts its place to a whole number"),
    ("followed_t", "1 -> (2|1.01) at .*", "any positive search type means rising order"),
)  # fmt: skip
EQUIVALENT_GUARDS: tuple[tuple[str, str, str], ...] = (
    (".*_typed|outage_start|status_date|next_outage|leak_limit_own|log_date", "(< -> >|[0-9] -> [0-9]) at .*",
     "the formula inside ends blank as well where its entry is no number"),
    ("ordered|order_length|packing_pieces|order_loose|critical_job|critical_waits|critical_position|kit_mandrel_steps|log_gap_missing|"
     "log_read_turned|out_ordered|bolt_code|flange_studs_not_ordered|out_hours_not_known", "= -> < at .*",
     "a blank code equals no word, and what is chosen then is blank or silent as well"),
    (".*_opens|packing_pieces|order_without_amount|end_pieces|critical_job|job_unplanned|critical_waits|kit_[a-z]+_code|"
     "store_pack_of_nothing|line_length|line_mass|line_loose|tool_too_thin|log_tag_missing|log_date_missing|followed_tag_missing|"
     "followed_twice|forecast_readings|last_leak|troubled_rank|critical_valve|out_ordered|flange_studs_not_ordered|out_hours_not_known",
     "(< -> >|[0-9] -> [0-9]) at .*", "its numbers are blank together, or the formula inside stays blank or silent on a blank"),
    ("order_waits", "(< -> >|1 -> 0) at .*", "a blank is not 0"),
    ("store_line|line_store|log_tag_unknown", "(= -> <|1 -> 0) at .*", "a name that is blank or an error value is found in no row"),
    ("gasket_code|chart_key|log_key|followed_key|store_code_twice|tag_first_row", "(= -> <|< -> >|1 -> 0) at .*",
     "an error value is fetched as a text, and a blank text stays blank"),
)  # fmt: skip
EQUIVALENT_PYTHON: tuple[tuple[str, str, str], ...] = (
    ("packing_code|order_lines._of_packing", "Eq -> LtE .*",
     "it is counted from 1, or from 0"),
    ("valves_on_lines|kit_lines.lambda of valves_on_wrench", "0 -> -1 .*", "the sum is the only one, the first and the last"),
    ("hours_lost", "Gt -> NotEq .*", "a size is never below 0"),
    ("line_unit_words", "line_kind -> outage_unit_row .*", "only its shape is asked, and the look-up spreads the one over the rows"),
    ("last_repack", "Gt -> GtE .*", "no code is the start of the codes"),
    ("bolt_code|order_lubricants._named", "Mult -> Div .*", "whether a valve is ordered and comes out is 1 or blank"),
    ("reconciliation.lambda of check_reconciliation", "Eq -> LtE .*", "a sum of sizes is never below 0"),
    ("order_lines._of_packing", "Gt -> NotEq .*", "a sum of amounts is never below 0"),
    ("gathering.first_with", "0 -> -?1 .*", "what stands in the place of a list without a row has no row either"),
    ("gathering.smallest", "1 -> .*", "the place before the first and behind the last are blank alike"),
    ("chart_end", "1 -> (2|1.01) .*", "the next code is that of a later row of another valve, far above"),
    ("log_out_of_order", ".*", "what is only grouped by valve and day, or never negative"),
    ("followed_t", "1.0 -> .*", "where the degrees of freedom are blank the guard blanks whatever is chosen"),
    ("kit.steps", "Eq -> LtE .*", "of two texts"),
    ("kit_lines.lambda of tool_count", "Gt -> NotEq .*", "a count is never below 0"),
    ("forecast.lambda of followed_sum_xx", "Gt -> NotEq .*", "a sum of squares is never below 0"),
    ("verdict._reason", "(Eq -> GtE|Gt -> NotEq) .*", "a flag is 0 or 1, a count is never below 0"),
    ("grouped.choose", "1.0 -> .*", "where the group is blank the guard blanks whatever is chosen"),
    ("bolt_code", "order_digits -> counting_digits .*", "whole steps of a length have no more digits"),
    ("trouble_rank", "1 -> 1.01 .*", "a gravity is a whole number"),
    ("line_unjudged", "Gt -> NotEq .*", "a sum of 0 and 1 is never below 0"),
)  # fmt: skip
#: Quantities that are answered on fewer than 30 % of the rows in use: name as a pattern, the least share, and the reason.
SELDOM: tuple[tuple[str, float, str], ...] = (
    ("packing_pieces|order_loose|end_(code|pieces|first)", 0.03, "one of several forms of packing, or asked for on few valves"),
    ("bolt_(code|pieces|first)", 0.1, "new flange studs are asked for on few valves"),
    ("joint_grease_.*", 0.01, "a lubricant of flange studs is mostly that of some gland studs too"),
    ("flange_grease_code|grease_place|shared_grease_.*", 0.05, "asks for known bolts of a valve that comes out, and for another lubricant"),
    ("order_waits", 0.05, "a valve with sizes seldom lacks its packing material"),
    (".*_opens", 0.03, "one valve alone opens a line"),
    ("order_length|day_in_turn|kit_mandrel_.*|kit_wrench_crew", 0.19, "nothing is ordered or planned for a valve without sizes"),
    ("(gasket|stud|joint|grease)_(code|pieces|first)|kit_bolt_.*", 0.2, "nor for a flange of one, and not every valve comes out"),
    ("line_(length|mass|loose|rings|section|designation|grade)", 0.03, "of one group of lines alone"),
    ("line_(cost|order_by)", 0.15, "a price or a date must be known, and something to be bought"),
    ("critical_job|critical_position|job_day_typed", 0.1, "typed for few valves"),
    ("tag_twice", 0.03, "most tags are there, and once"),
    ("job_torque", 0.08, "everything that a torque asks for must be typed"),
    ("day_words", 0.1, "most jobs are on the first days"),
    ("tool_(diameter|hook_reach|thickness|outside|inside|length)", 0.1, "of one group of tools alone"),
    ("log_flats|log_(torque|adjust|repack)_code", 0.04, "said in few rows of a log"),
    ("followed_wrong", 0.08, "most rows are right"),
    ("forecast_.*|gone_by_next_outage", 0.1, "asks for many readings of a gap that falls"),
    ("chart_loss", 0.2, "asks for a chart of several readings"),
    ("retorque_due|retorque_due_date|last_repack", 0.1, "asks for a repack in the log"),
)  # fmt: skip
#: Conditions that come out one way only: they stand there so that the quantity is read at all, or what they ask is a count.
ONE_WAY = {
    ("order_length", 'EXACT({packing_form},"braid")'), ("job", "{job_hours}>=0"), ("kit_wrench_code", "{ordered}=1"),
    ("kit_tap_code", "{ordered}=1"), ("check_labour", "ISNUMBER({jobs_total})"), ("check_critical", "ISNUMBER({valves_critical})"),
    ("check_kit", "ISNUMBER({kit_difference})"), ("check_log", "ISNUMBER({readings_in_use})"),
    ("leak_limit_idle", "AND({leak_limit_own}>0,{leak_limit_listed}>0)"), ("point_take_up", "{point_code}>0"),
}  # fmt: skip
#: Where a number stands in a row that is used.
USED: dict[Per, str] = {
    Per.LISTED: "in_use", Per.STORE: "store_in_use", Per.LINE: "line_group", Per.TROUBLE: "troubled_rank", Per.TOOL: "tool_group",
    Per.DAY: "day_in_use", Per.CRITICAL: "critical_valve", Per.READING: "log_in_use", Per.FOLLOWED: "followed_in_use",
}  # fmt: skip
#: What functions of quantities call. Functions that several quantities share are found by themselves.
_HELPERS = (
    (gathering, gathering.first_with), (gathering, gathering.smallest), (gathering, gathering.sum_where),
    (gathering, gathering.count_where), (gathering, gathering.count_below),
    (gathering, gathering.total), (gathering, gathering.counted), (gathering, gathering.first_row_of),
    (order, order.written), (grouped, grouped.choose),
)  # fmt: skip


def _quantities(per: Per) -> tuple[Derived, ...]:
    return tuple(get(name, Derived) for name in answered_names(per))


def _pers() -> list[Per]:
    return [per for per in Per if per in worked_out()]


def _tampered(outage: Outage, changed: dict[str, float]) -> Outage:
    """An outage in which something came out as it never should, and all that is worked out from it."""
    values = dict(outage.values)
    reached = set(changed)
    for name, value in changed.items():
        values[name] = values[EVERY + name] = np.array([value])
    for name in whole().order:
        quantity = get(name)
        reads = {read.removeprefix(EVERY) for read in quantity.reads}
        if isinstance(quantity, Derived) and quantity.per in outage.lengths and name not in changed and reads & reached:
            values[name] = values[EVERY + name] = quantity.shown(quantity.compute(values, outage.lengths[quantity.per]))
            reached.add(name)
    return dataclasses.replace(outage, values=values, left_out=frozenset(changed))


#: Not put to the trial of inputs that do not belong together: a quantity, and why it relies on what belongs together.
TOGETHER: dict[str, str] = {
    **{
        f"{group}_first": "the core reads the code of the row itself in the column of all codes"
        for group in (*order.GROUPS, *(f"kit_{name}" for name in kit.GROUPS))
    },
    "log_out_of_order": "the core reads the code of the row itself in the column of all codes",
    "tag_first_row": "the core reads the tag of the row itself in the column of all tags",
    "followed_valve": "the number of the row is always there, and no guard asks for it",
    "log_torque_code": "an error value is none of the choices, so it never stands beside one",
}


def _shaken(outage: Outage, per: Per, seed: int) -> Outage:
    """An outage whose rows have inputs of other rows, each on its own, and some blanks: what each function promises by itself.

    Numbers of rows and whole columns stay. For the outage itself each input is that of another outage.
    """
    rng = np.random.default_rng([20261127, seed])
    length = outage.lengths[per]
    held, cells = dict(outage.values), dict(outage.cells)
    names = {read for quantity in _quantities(per) for read in quantity.reads if not read.startswith(EVERY)}
    cells |= {EVERY + name: column for name, column in cells.items()}
    pers = {per, *([Per.VALVE] if per is Per.LISTED else [])}
    for name in sorted(one for one in names if get(one).per in pers and not isinstance(get(one), (Column, Constant))):
        if per is Per.OUTAGE:
            other = outages.generated()[int(rng.integers(0, len(outages.generated())))]
            held[name] = other.values[name]
            if name in cells:
                cells[name] = other.cells[name]
        else:
            order = np.arange(length) if outages.numbered(name) else rng.permutation(length)
            held[name] = held[name][order]
            if name in cells:
                cells[name] = [cells[name][at] for at in order]
        if not isinstance(get(name), Entry) or outages.numbered(name):
            blank = rng.random(length) < 0.12
            if name in cells:
                cells[name] = [None if empty else cell for cell, empty in zip(cells[name], blank, strict=True)]
            held[name] = np.where(blank, np.array("" if get(name).is_text else np.nan, dtype=held[name].dtype), held[name])
    answers, left_out = {}, set(TOGETHER)
    for quantity in _quantities(per):
        try:
            answers[quantity.name] = quantity.shown(quantity.compute(held, length))
        except IndexError:  # a row of another outage that this one does not have
            left_out.add(quantity.name)
    return dataclasses.replace(outage, values=held, cells=cells, answers=answers, left_out=frozenset(left_out))


#: Codes in which a character could be taken for a wildcard, each behind one that it would find.
_WILD = ["J ab, NPS 2", "J a*, NPS 2", "J a?, NPS 2", "J a~*, NPS 2", "J a~, NPS 2", "J A*, nps 2", "J axb", "J a*b"]
#: Inputs of a quantity that stand just on an edge, or beyond what outages bring about: one row for each value.
_LAST = 73050.0
_EDGES: dict[str, dict[str, Any]] = {
    "gone_by_next_outage": {"forecast_from": [46000.0, 46001.0, 45999.0], "next_outage": 46000.0},
    "retorque_due": {
        "status_date": 46100.0,
        "retorque_due_date": [46100.0, 46101.0, 46099.0, 46100.3, 46099.5, 46100.0 + 1e-8, 46100.00001, 46090.0, 46090.0],
        "followed_last_adjust": [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 5.0, 6.0], "followed_restart": [5.0] * 9,
    },
    **{
        name: {read: [_LAST, _LAST + 0.3, _LAST - 0.3, _LAST + 1e-8, _LAST + 1e-5, _LAST + 1.0, _LAST - 1.0, _LAST + 1.005, 46000.0]}
        for name, read in (("forecast_date", "forecast_exact"), ("forecast_from", "forecast_early"))
    },
    "forecast_half": {
        "forecast_noise": [1.0, 1 - 1e-9, 0.995, 0.5, 1.2, 1.005, 1 - 1e-5], "followed_t": [2.0] * 7, "spread_used": [0.1] * 7,
        "forecast_loss": [0.02] * 7, "readings": [5.0] * 7, "forecast_reach": [100.0] * 7, "followed_sum_xx": [900.0] * 7,
    },
    "loss_rate": {"followed_sum_xx": [0.0, 1e-8, 1e-5, 0.5, 1.0, 2.0, 900.0], "followed_sum_xy": [-3.0] * 7},
    "followed_t": {"followed_freedom": [1.0, 2.0, 29.0, 30.0, 31.0, 35.0, 59.0, 90.0, 1000.0], "confidence_column": 1.0},
    "people_too_few": {"people": [2.0, 1.0, 3.0], "crew_size": [2.0, 2.0, 2.0]},
    "crews_too_many": {"crews_whole": [6.0, 7.0, 5.0]},
    "next_outage_past": {"next_outage": [46000.0, 46001.0, 45999.0], "status_date": [46000.0] * 3},
    "next_outage_too_early": {"next_outage": [46000.0, 46001.0, 45999.0], "outage_start": [46000.0] * 3},
    "hours_lost": {"hours_difference": [0.0, 0.5, -0.5, 1.0, -2.0, 1e-8, 1e-5, 0.04]},
    "kit_has_no_crew": {"kit_crewless": [0.0, 1.0, 2.0]},
    "kit_lines_short": {"tools_missing": [0.0, 1.0, 2.0]},
    "kit_not_tied": {"kit_difference": [0.0, 1.0, 2.0]},
    "log_in_use": {
        "log_date_entered": [np.nan], "log_tag": [""], "log_event_entered": [""], "log_gap_1_entered": [np.nan],
        "log_gap_2_entered": [np.nan], "log_flats_entered": [np.nan], "log_leak_entered": [np.nan], "log_torque_limit_entered": [""],
        "log_by": ["J. Doe"],
    },
    "readings_wrong": {"readings_with_faults": [0.0, 1.0, 2.0]},
    "leak_limit_idle": {"leak_limit_own": [1.0, 5.0], "leak_limit_listed": [1.0, 500.0]},
    "day_state": {
        "day_hours": [10.0, 10.0 + 1e-8, 10.00001, 9.0, 11.0], "day_capacity": 10.0, "day_jobs": [1.0] * 5, "outage_days": 9.0,
    },
    "day_over": {"day_hours": [10.0, 10.0 + 1e-8, 10.00001, 9.0, 11.0], "day_capacity": 10.0},
    "log_gap": {
        "log_gap_1": [1.0, np.nan, np.nan], "log_gap_2": [np.nan, 1.0, np.nan], "log_gap_1_fault": [""] * 3, "log_gap_2_fault": [""] * 3,
    },
    "log_read_turned": {"log_event": ["read"] * 3, "log_flats": [0.0, 1.0, 0.5]},
    # What never comes about, since another quantity stands before it, yet each formula promises by itself.
    "log_gap_missing#1": {"log_in_use": [1.0, -1.0], "outage_unit_row": 0.0, "log_event": ["read"] * 2, "log_gap": [np.nan] * 2},
    "log_gap_missing#2": {"log_in_use": [1.0, -1.0, 2.0], "outage_unit_row": -1.0, "log_event": ["read"] * 3, "log_gap": [np.nan] * 3},
    "leak_limit_idle#1": {"leak_limit_own": [5.0, -1.0], "leak_limit_listed": [-1.0, 5.0]},
    "job": {"job_hours": [-0.5, 0.0, 1.0]},
    "stud_code": {
        "new_studs": [-1.0, 0.5], "ordered": [1.0, 1.0], "thread_row": [3.0, 3.0], "order_grade": [" / ISO 8.8"] * 2,
    },
    "box_code": {"stem_diameter": [28.005, 28.005 - 2e-6], "box_bore": [44.005, 44.005 - 2e-6]},
    "set_code": {"box_code": ["28x44"] * 2, "ring_height": [8.005, 8.005 - 2e-6], "set_rings": [5.0] * 2},
    "gasket_code": {"gasket_count": [-1.0, 0.5], "ordered": [1.0, 1.0], "gasket": ["DN25", "DN25"]},
    "bolt_code": {
        "flange_studs_renewed": ["yes"] * 4, "flange_thread_row": [3.0] * 4, "out_ordered": [1.0] * 4,
        "order_flange_grade": [" / ISO 8.8"] * 4, "flange_bolt_length": [88.905, 88.905 - 1e-10, 88.905 - 2e-6, 88.905 - 1e-5],
    },
    "grease_code": {"gland_stud_count": [-1.0, 0.0, 0.5], "ordered": [1.0] * 3, "lubricant_row": [6.0] * 3},
    "flange_grease_code": {"flange_studs": [-1.0, 0.0, 0.5], "out_ordered": [1.0] * 3, "flange_lubricant_row": [6.0] * 3},
    "joint_first": {"joint_code": _WILD, "every_joint_code": _WILD},
    "valves_with_bolt_tap": {
        "every_kit_bolt_tap_code": ["FLANGE TAP AND DIE M16", ""], "every_kit_bolt_wrench_code": ["", "FLANGE WRENCH 24 mm"],
    },
    "spacer_code": {"spacer_height": [-6.0, 0.5, 6.0, 6.005 - 2e-6], "ordered": [1.0] * 4, "box_code": ["28x44"] * 4},
    "spacer_made_of": {"spacer_height": [-6.0, 0.0, 0.5, 6.0]},
    "spacer_words": {
        "spacer_height": [-6.0, 0.0, 0.5, 6.0], "stem_diameter": [28.0, 28.0, 28.005, 28.005 - 2e-6],
        "box_bore": [44.0, 44.0, 44.005, 44.005 - 2e-6],
    },
    "spacer_pieces": {"spacer_height": [0.5, 0.0], "ordered": [1.0, 1.0]},
    "tool_too_thin": {"tool_thickness": [-1.0, 0.0, 1.0]},
    "point_take_up": {"point_code": [0.5, 0.0], "chart_take_up": 3.0},
    "line_pack_unusable": {"line_to_buy": [-0.5, 0.0], "line_packs": [np.nan, np.nan]},
    "followed_take_up_typed": {"followed_take_up_entered": [0.0, 0.004, -0.004, -1.0], "outage_length_factor": 25.4},
    "status_date_fault": {"status_date_entered": [np.inf], "status_date": [np.nan]},
    "log_gap_2": {"log_gap_2_entered": [1000.0, 300.0, 78.7401574803, 78.741, 59.0669, 59.05512, 5.0, 0.0], "outage_length_factor": 25.4},
    "status_date_missing": {"readings_in_use": [0.0, 1.0, 2.0, 2.0], "status_date_entered": [np.nan, np.nan, np.nan, np.inf]},
    "followed_sum_rr": {"followed_sum_xx": [0.0, 1e-8, 1e-5, 0.04, 0.5, 1.0, 2.0, 900.0], "followed_valve": [1.0] * 8},
    "forecast_to": {"forecast_late": [_LAST, _LAST + 0.3, _LAST - 0.3, _LAST + 1e-8, _LAST + 1e-5, _LAST + 1.0, _LAST - 1.0, 46000.2]},
    "followed_freedom": {"readings": [1.0, 2.0, 2.01, 3.0]},
}  # fmt: skip
for _entered in (name for per in worked_out() for name in entry_names(per)):
    if not get(_entered).is_text and not get(_entered).dimension and not outages.numbered(_entered):
        _low, _high, _whole = outages._limits(_entered)
        _STEPS = (0.0, 0.004, -0.004, 0.5, -0.5, 1.0, -1.0)
        _EDGES[outages._used(_entered).name] = {_entered: [at + by for at in (_low, _high) for by in _STEPS]}


def _on_edges(outage: Outage, per: Per) -> Iterator[Outage]:
    """An outage for each quantity whose inputs are chosen; of the outage itself one for each row of them."""
    for called, inputs in _EDGES.items():
        name = called.split("#", maxsplit=1)[0]
        if get(name).per is not per:
            continue
        count = max(len(value) for value in inputs.values() if isinstance(value, list))
        for lot in range(count) if per is Per.OUTAGE else [None]:
            held, cells = dict(outage.values), dict(outage.cells)
            for read, value in inputs.items():
                chosen = [value] if not isinstance(value, list) else value if lot is None else value[lot : lot + 1]
                held[read] = np.array(chosen, dtype=object if isinstance(chosen[0], str) else np.float64)
                if isinstance(get(read), Entry):
                    cells[read] = [None if one != one else "#DIV/0!" if one == np.inf else one for one in chosen]  # noqa: PLR0124 - NaN
            length = count if lot is None else 1
            held |= {
                read: held[read][:length]
                for read in get(name).reads
                if read not in inputs and get(read).per is per and not isinstance(get(read), (Column, Constant, Every))
            }
            yield dataclasses.replace(
                outage, values=held, cells=cells, lengths={**outage.lengths, per: length},
                answers={name: get(name, Derived).shown(get(name, Derived).compute(held, length))},
                left_out=frozenset(answered_names(per)) - {name},
            )  # fmt: skip


#: What no outage brings about unless a sheet is damaged: that is what the reconciliation is there for.
_DAMAGES: tuple[dict[str, float], ...] = (
    *(
        {name: size} for name in reconciliation._DIFFERENCES for size in (1.0, -2.0, 1e-5, 1e-8)
        if name != "lines_missing" or size > 0
    ),
    *({one: 3.0, other: -3.0} for one, other in itertools.combinations(reconciliation._DIFFERENCES[:-1], 2)),
    *({name: 3.0, "lines_missing": 3.0} for name in reconciliation._DIFFERENCES[:-1]),
)  # fmt: skip


@cache
def _outages(per: Per) -> tuple[Outage, ...]:
    """The outages by which quantities of that kind are judged: some small ones first, since most mutants show there."""
    every = outages.generated()
    large, small = every[: outages.LARGE], every[outages.LARGE :]
    if per is Per.OUTAGE:
        damaged = [_tampered(large[0], damage) for damage in _DAMAGES]
        return (*small[:6], *damaged, *(_shaken(outage, per, seed) for seed, outage in enumerate(small[:90])), *_on_edges(large[0], per),
                *large, *small[6:])  # fmt: skip
    shaken = [_shaken(outage, per, seed) for seed, outage in enumerate((*small[:8], *large[:4]))]
    return (*small[:6], *large[:2], *shaken, *_on_edges(large[0], per), *large[2:], *small[6:])


@cache
def _sound(per: Per) -> tuple[dict[str, Any], ...]:
    """For each outage the rows of each quantity that are judged: where inputs do not belong together a formula may find no row."""
    out = []
    for outage in _outages(per):
        asked = [quantity for quantity in _quantities(per) if quantity.name not in outage.left_out]
        if outage.answers is None:
            out.append({quantity.name: np.ones(outage.lengths[per], dtype=bool) for quantity in asked})
            continue
        got = _bench(outage, per).run([quantity.guarded_excel for quantity in asked])
        out.append({
            quantity.name: np.array([not (isinstance(one, str) and one.startswith("#")) for one in column])
            for quantity, column in zip(asked, got, strict=True)
        })  # fmt: skip
    return tuple(out)


def _bench(outage: Outage, per: Per) -> Bench:
    return Bench(range(outage.lengths[per]), outage.values, outage.typed, per)


def _met(quantity: Derived, value: Any) -> Any:
    return (value != "") if quantity.is_text else ~np.isnan(value)


# --- what the outages meet --------------------------------------------------------------------------------------------


@pytest.mark.proof
def test_shares_and_sentences_are_met() -> None:
    """Each quantity is answered on 30 % of the rows in use or on what is said of it, each sentence spoken 20 times."""
    low, rare, used = {}, {}, set()
    for per in _pers():
        for quantity in _quantities(per):
            rows = met = 0
            for outage in outages.generated():
                there = _met(quantity, outage.values[quantity.name])
                in_use = ~np.isnan(outage.values[USED[per]]) if per in USED else np.ones(outage.lengths[per], dtype=bool)
                rows, met = rows + int(in_use.sum()), met + int((there & in_use).sum())
            if isinstance(quantity, Fault) or quantity.name.endswith("_trouble"):
                if met < 20:
                    rare[quantity.name] = met
                continue
            seldom = next((one for one in SELDOM if re.fullmatch(one[0], quantity.name)), None)
            if met < 0.30 * rows and seldom is not None:
                used.add(seldom)
            if met < (0.30 if seldom is None else seldom[1]) * rows:
                low[quantity.name] = round(met / rows, 3)

    assert low == {}
    assert rare == {}
    assert used == set(SELDOM)


@pytest.mark.proof
@pytest.mark.parametrize("per", _pers())
def test_the_bench_agrees_before_anything_is_changed(per: Per, tell: Tell) -> None:
    """Put beside its inputs on the bench, every unchanged formula gives the core's answers in every outage."""
    wrong: list[str] = []
    compared = 0
    for number, (outage, sound) in enumerate(zip(_outages(per), _sound(per), strict=True)):
        quantities = [get(name, Derived) for name in sound]
        got = _bench(outage, per).run([quantity.guarded_excel for quantity in quantities])
        for quantity, column in zip(quantities, got, strict=True):
            compared += int(sound[quantity.name].sum())
            wrong += [
                f"{quantity.name}, outage {number}, row {row}: {one!r} against {other!r}"
                for row, (one, other) in enumerate(zip(column, outage.answer(quantity.name), strict=True))
                if sound[quantity.name][row] and apart(one, other)
            ][:2]  # fmt: skip
    tell(f"IronCalc, {per}: {len(_quantities(per))} quantities, {len(_outages(per))} outages, {compared} cells compared one by one")

    assert wrong[:30] == []


@pytest.mark.proof
def test_every_branch_is_taken(tell: Tell) -> None:
    """The condition of every IF comes out both true and false at least 20 times over the outages."""
    rare: list[str] = []
    branches = 0
    for per in _pers():
        asked = [(quantity, test) for quantity in _quantities(per) for test in conditions_of(quantity.excel)]
        counts = np.zeros((len(asked), 2), dtype=int)
        for outage in outages.generated():
            got = _bench(outage, per).run([quantity.guard(f"IF({test},1,2)") for quantity, test in asked])
            counts += np.array([[column.count(1), column.count(2)] for column in got], dtype=int).reshape(-1, 2)
        branches += 2 * len(asked)
        for (quantity, test), (yes, no) in zip(asked, counts.tolist(), strict=True):
            if (quantity.name, test) in ONE_WAY:
                assert min(yes, no) == 0, quantity.name
                assert max(yes, no) >= 20, quantity.name
            elif min(yes, no) < 20:
                rare.append(f"{quantity.name}: {test}: true {yes}, false {no}")
    tell(f"IronCalc, branches of IF of an outage taken at least 20 times: {branches}")

    assert rare == []


@pytest.mark.proof
def test_what_is_never_negative_is_not() -> None:
    """The quantities on which comparisons with 0 are the same by definition are never below 0, or never 0, in any outage."""
    for name in (one for one in (*NEVER_NEGATIVE, *NEVER_NOUGHT) if get(one).per is not Per.VALVE):
        least = min(np.nanmin([*outage.values[name], np.inf]) for outage in outages.generated())

        assert least > 0 if name in NEVER_NOUGHT else least >= 0, name


# --- mutants ----------------------------------------------------------------------------------------------------------


@cache
def _fields(per: Per) -> tuple[Field, ...]:
    """The outages as fields for quantities of that kind."""
    return tuple(
        Field(
            per, outage.lengths[per], outage.values, outage.values, outage.typed,
            outage.values if outage.answers is None else outage.answers, outage.left_out, sound,
        )
        for outage, sound in zip(_outages(per), _sound(per), strict=True)
    )  # fmt: skip


def _of(quantity: Derived) -> tuple[Field, ...]:
    return _fields(quantity.per)


def _not_by_hand(_name: str, _mutant: Mutant) -> bool:
    return False


#: The quantities of each kind of row in lots of at most so many, which are tried together.
_LOT = 12
_LOTS = [list(answered_names(per)[at : at + _LOT]) for per in _pers() for at in range(0, len(answered_names(per)), _LOT)]


@pytest.mark.proof
@pytest.mark.parametrize("names", _LOTS, ids=lambda names: f"{get(names[0]).per.name.lower()}-{names[0]}")
@pytest.mark.parametrize(
    ("hand", "mutants_of", "reasons"), [("texts", trial.of_text, EQUIVALENT), ("guards", trial.of_guard, EQUIVALENT_GUARDS)]
)
def test_every_mutant_of_an_excel_text_is_killed(
    names: list[str], hand: str, mutants_of: Callable[[Derived], list[Mutant]], reasons: trial.Reasons, record_property: Any
) -> None:
    """A changed constant, comparison, operator or name in any Excel text or its guard is noticed; equivalent ones are listed."""
    tried, left_out = split(mutant for name in names for mutant in mutants_of(get(name, Derived)))
    alive = trial.survivors(((field, None) for field in _of(get(names[0], Derived))), tried)
    trial.give(record_property, ("outages", hand), len(_LOTS), Verdict(len(tried), alive, left_out), reasons)


_OWN, _SHARED = trial.own_and_shared([name for per in _pers() for name in answered_names(per)])
_PYTHON_SHARDS = 8
_ALL_PYTHON = 2 * _PYTHON_SHARDS + len(_HELPERS)


@pytest.mark.proof
@pytest.mark.parametrize("quantities", spread(_OWN, _PYTHON_SHARDS), ids=range(_PYTHON_SHARDS))
def test_every_mutant_of_a_quantity_s_own_function_is_killed(quantities: list[Derived], record_property: Any) -> None:
    """A changed constant, comparison, operator or name in the core is noticed against the answers that the engine confirms."""
    verdict = sum((trial.of_own_function(quantity, _of, _not_by_hand) for quantity in quantities), NOTHING)
    trial.give(record_property, ("outages", "Python"), _ALL_PYTHON, verdict, EQUIVALENT_PYTHON)


@pytest.mark.proof
@pytest.mark.parametrize("lot", spread(_SHARED, _PYTHON_SHARDS), ids=range(_PYTHON_SHARDS))
def test_every_mutant_of_a_shared_function_is_killed(lot: list[list[Derived]], record_property: Any) -> None:
    """The same of the functions that work out several quantities."""
    verdict = sum((trial.of_shared_function(quantities, _of, _not_by_hand) for quantities in lot), NOTHING)
    trial.give(record_property, ("outages", "Python"), _ALL_PYTHON, verdict, EQUIVALENT_PYTHON)


def _everything() -> Iterator[tuple[Derived, Field]]:
    for per in _pers():
        for field in _fields(per)[:20]:
            yield from ((quantity, field) for quantity in _quantities(per))


@pytest.mark.proof
@pytest.mark.parametrize(("module", "helper"), _HELPERS, ids=lambda one: one.__name__)
def test_every_mutant_of_a_helper_is_killed(module: Any, helper: Any, monkeypatch: pytest.MonkeyPatch, record_property: Any) -> None:
    """The same of what those functions call."""
    verdict = trial.of_helper(monkeypatch, module, helper, _everything, _not_by_hand)
    trial.give(record_property, ("outages", "Python"), _ALL_PYTHON, verdict, EQUIVALENT_PYTHON)
