"""Mutants of Excel texts and of Python functions, by fixed operators, one change each."""

from __future__ import annotations

import ast
import copy
import inspect
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, ClassVar

from sheetcalc.declare.quantity import EVERY, Column, Constant, Every, Per, Quantity, all_quantities, get

_TOKEN = re.compile(r'"(?:[^"]|"")*"|\{[a-z0-9_]+\}|<=|>=|<>|[<>=+\-*/]|[A-Z]+(?=\()|[0-9]+(?:\.[0-9]+)?|.', re.DOTALL)
_COMPARISONS = ("<=", ">=", "<>", "<", ">", "=")
_SWAPS = {"+": "-", "-": "+", "*": "/", "/": "*", "MIN": "MAX", "MAX": "MIN"}


#: What is never below nought, whatever is typed: there >0 is <>0 and =0 is <=0 by definition, and those changes are not made.
NEVER_NEGATIVE: dict[str, str] = {
    **dict.fromkeys(("stem_slides", "stem_turns", "material_suits_fluid", "material_slides", "material_turns", "load_unjudged", "sizeless",
                     "most_stress_stated", "flange_drilling", "flange_raised", "flange_refused", "flange_material_allows", "fluid_in_air",
                     "lubricant_dry", "flange_lubricant_dry", "gasket_suits_fluid", "fluid_gaseous"), "0 or 1"),
    **dict.fromkeys(("grade_rows", "stud_threads_per_inch", "flange_grade_rows", "flange_objections", "lantern_seat"),
                    "a number of things"),
    **dict.fromkeys(("lantern_length", "seating_compression", "least_bottom_share", "stem_thrust", "most_gland_stress"), "believed from 0"),
    **dict.fromkeys(("jobs_missing", "kit_difference", "tools_missing", "kit_crewless", "tool_crewless", "day_jobs", "days_needed",
                     "readings_with_faults", "followed_with_faults", "readings", "readings_in_use", "chart_readings"),
                    "a number of things"),
    **dict.fromkeys(("log_flats", "job_hours", "tool_thickness"), "believed from 0, or made of that"),
    **dict.fromkeys(("line_pack_typed", "lifted_by_hand"), "0 or 1"),
    **dict.fromkeys(("end_ring_count", "new_studs", "store_pack", "line_to_buy", "line_pack", "line_packs", "end_rings",
                     "spacer_height"), "typed from 0, or made of that"),
    **dict.fromkeys(("gland_stress", "stress_decay", "least_entry", "screw_torque", "stud_torque_worked"), "made of what is not below 0"),
}  # fmt: skip
#: What is never nought either: there also >=0 and >-1 are >0 by definition.
NEVER_NOUGHT: dict[str, str] = {
    **dict.fromkeys(("material_row", "fluid_column", "thread_row", "nut_column", "grade_row", "line_group", "line_kind",
                     "leak_limit_row", "outage_unit_row", "gravity"), "counted from 1"),
    **dict.fromkeys(("ring_count", "maker_ring_count", "leak_limit_own", "sling_legs"), "believed from 1"),
    "leak_limit_listed": "a figure above 0, or none", "point_code": "has a row of the log in it",
    "handwheel_radius": "believed from 1 mm", "packing_section": "blank unless above 0",
}  # fmt: skip


#: What is 1 or blank: to be multiplied by it is to be divided by it, and =1 is <=1 and >=1 by definition.
ONE_OR_BLANK = frozenset({"flange_asked", "count_is_ours", "ordered", "job", "in_use", "store_in_use", "log_in_use", "followed_in_use"})
#: Why a change is left out: it says the same by definition. Those of a quantity's own are above.
OF_BLANK = "nothing sorts before the empty text"
OF_COUNT = "no more is counted than there is"
OF_ONE = "1 or blank"
OF_ROWS = "columns of the same rows are of one length"
OF_TRUTH = "any number but 0 is true"
OF_TEXTS = "the order of texts has no meaning here"
#: What the list above calls 0 or 1: of these =1 is >=1 by definition.
_FLAGS = frozenset(name for name, reason in NEVER_NEGATIVE.items() if reason == "0 or 1")
#: Of what is counted or believed from 1, =1 is <=1 by definition.
_COUNTED = frozenset(name for name, reason in NEVER_NOUGHT.items() if reason in {"counted from 1", "believed from 1"})


def _no_change(name: str, comparison: str, number: float = 0) -> tuple[str, ...]:
    """The comparisons with 0 that say the same of a quantity as the given one, and "0 - 1" where -1 in the place of 0 does."""
    if number == 1 and comparison == "=" and name in ONE_OR_BLANK:
        return ("<=", ">=")
    if number == 1 and name in _COUNTED:
        return {"=": ("<=",), ">": ("<>",)}.get(comparison, ())
    if number != 0:
        return (">=",) if number == 1 and comparison == "=" and name in _FLAGS else ()
    if name in NEVER_NOUGHT:
        return {">": ("<>", ">=", "0 - 1")}.get(comparison, ())
    return {">": ("<>",), "=": ("<=",)}.get(comparison, ()) if name in NEVER_NEGATIVE else ()


def _why(name: str) -> str:
    """Why a comparison of that quantity by itself has its like."""
    return OF_ONE if name in ONE_OR_BLANK else {**NEVER_NEGATIVE, **NEVER_NOUGHT}[name]


@dataclass(frozen=True)
class Mutant:
    """One change: of which quantity, what was changed, and the changed text or function.

    `left_out` is the reason why a change that says the same by definition is not tried.
    """

    name: str
    change: str
    text: str = ""
    function: Callable[..., Any] | None = None
    left_out: str = ""


@cache
def _reads_all(name: str) -> frozenset[str]:
    """Everything that a quantity reads, directly or through others; of a whole column what one of it reads."""
    reads = tuple(read.removeprefix(EVERY) for read in get(name.removeprefix(EVERY)).reads)
    return frozenset(reads).union(*(_reads_all(one) for one in reads))


def _readable(quantity: Quantity, here: Quantity) -> Iterator[Quantity]:
    """What could stand in the place of `here`: of a whole column those of the same rows, else what is there for each row."""
    pers = {quantity.per, Per.OUTAGE, *([Per.VALVE] if quantity.per is Per.LISTED else [])}
    for one in all_quantities():
        if isinstance(here, Every):
            if one.per is here.per and not isinstance(one, (Column, Constant)):
                yield get(EVERY + one.name)
        elif isinstance(one, (Column, Constant)) or (one.per in pers if quantity.per is not Per.VALVE else one.per is Per.VALVE):
            yield one


def other_of_unit(quantity: Quantity, name: str, *, within: tuple[str, ...] = ()) -> str | None:
    """Another quantity of the same unit and kind: from the same formula if there is one, else the one declared nearest.

    One that reads the quantity itself is left out: the sheet would refuse it as a circle. So is one that is worked out from
    the name, or the name from it, in one step: the two may well be the same. A whole column is replaced by a whole column.
    """
    here = get(name)
    plain = name.removeprefix(EVERY)
    its_own = get(plain).reads
    names = [
        q.name for q in _readable(quantity, here)
        if q.unit == here.unit and q.is_text == here.is_text and q.name.removeprefix(EVERY) not in {plain, quantity.name}
        and (isinstance(q, Column)) == (isinstance(here, Column)) and (isinstance(q, Constant)) == (isinstance(here, Constant))
        and quantity.name not in _reads_all(q.name)
        and (q.name in quantity.reads or (plain not in get(q.name.removeprefix(EVERY)).reads and q.name.removeprefix(EVERY) not in its_own))
    ]  # fmt: skip
    read = [one for one in (within or quantity.reads) if one in names]
    if read or within:
        return read[0] if read else None
    if isinstance(here, Constant) and not here.is_text:
        # The smallest: rounding to 16 digits where 6 are meant would be no change that anybody could see.
        issued = {one: get(one, Constant).issued for one in names}
        constants = [one for one in names if issued[one] != here.issued]
        return min(constants, key=lambda one: float(issued[one]), default=None)
    order = _order()
    return min(names, key=lambda one: abs(order[one.removeprefix(EVERY)] - order[plain]), default=None)


@cache
def _order() -> dict[str, int]:
    return {quantity.name: place for place, quantity in enumerate(all_quantities())}


def excel_mutants(quantity: Quantity, text: str, *, guard: bool = False) -> Iterator[Mutant]:
    """Every mutant of an Excel text. Sentences are not touched: a changed sentence is another sentence.

    With `guard` only comparisons and counts are changed: what a guard is made of.
    """
    tokens = _TOKEN.findall(text)
    for place, token in enumerate(tokens):
        for changed, left_out in _changes(quantity, tokens, place, guard=guard):
            mutated = "".join([*tokens[:place], changed, *tokens[place + 1 :]])
            if mutated != text:
                yield Mutant(quantity.name, f"{token} -> {changed} at {sum(map(len, tokens[:place]))}", mutated, left_out=left_out)


def _changes(quantity: Quantity, tokens: list[str], place: int, *, guard: bool) -> list[tuple[str, str]]:
    """What a token may be changed to, and why that is not tried where it is not."""
    token = tokens[place]
    if token in _COMPARISONS:
        return _other_comparisons(tokens, place)
    if token[0].isdigit():
        return _other_numbers(tokens, place, guard=guard)
    if guard:
        return []
    if token in _SWAPS:
        of_one = token == "*" and tokens[place + 1][1:-1] in ONE_OR_BLANK
        return [(_SWAPS[token], OF_ONE if of_one else "")]
    if token.startswith("{"):
        other = other_of_unit(quantity, token[1:-1])
        return [(f"{{{other}}}", OF_ROWS if tokens[place - 2 : place] == ["ROWS", "("] else "")] if other else []
    return []


def _other_comparisons(tokens: list[str], place: int) -> list[tuple[str, str]]:
    token = tokens[place]
    left_out: dict[str, str] = {}
    if _with_number(tokens, place):
        name = tokens[place - 1][1:-1]
        left_out |= {one: _why(name) for one in _no_change(name, token, float(tokens[place + 1]))}
    if '""' in tokens[place - 1 : place + 2]:
        # <="" is ="" and >"" is <>"".
        left_out[{"=": "<=", "<>": ">", "<=": "=", ">": "<>"}.get(token, "")] = OF_BLANK
    if token == "<" and _counts_all(tokens, place):
        left_out["<>"] = OF_COUNT
    return [(one, left_out.get(one, "")) for one in _COMPARISONS if one != token]


def _counts_all(tokens: list[str], place: int) -> bool:
    """Whether it is asked there if a COUNT is below the number of what it counts: it is never above, so <> would say the same."""
    found = re.search(r"COUNT\(([^()]*)\)$", "".join(tokens[:place]))
    return found is not None and tokens[place + 1] == str(len(found[1].split(",")))


def _other_numbers(tokens: list[str], place: int, *, guard: bool) -> list[tuple[str, str]]:
    value = float(tokens[place])
    # What IFERROR falls back on in a guard is asked for its truth.
    truth = guard and value == 1 and tokens[place + 1 : place + 2] == [")"] and tokens[place - 1] == ","
    alone = value == 0 and place > 1 and _with_number(tokens, place - 1)
    name = tokens[place - 2][1:-1] if alone else ""
    below = alone and "0 - 1" in _no_change(name, tokens[place - 1])
    out = []
    for changed in (value + 1, value - 1, value * 1.01):
        left_out = OF_TRUTH if truth and changed else _why(name) if below and changed < 0 else ""
        out.append((f"{changed:.10g}" if changed >= 0 else f"({changed:.10g})", left_out))
    return out


def _with_number(tokens: list[str], place: int) -> bool:
    """Whether the comparison at that place is of a quantity by itself with 0 or 1."""
    before, after = tokens[place - 2 : place - 1], tokens[place + 2 : place + 3]
    alone = before in ([], ["("], [","]) and after in ([], [")"], [","])
    return alone and tokens[place - 1].startswith("{") and tokens[place + 1 : place + 2] in (["0"], ["1"])


class _Changer(ast.NodeTransformer):
    """Apply the change number `wanted` and count all that could be made."""

    _COMPARE = (ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Eq, ast.NotEq)
    _SIGNS: ClassVar = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "=", ast.NotEq: "<>"}
    _OPERATORS: ClassVar = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
    _CALLS: ClassVar = {"minimum": "maximum", "maximum": "minimum", "fmin": "fmax", "fmax": "fmin", "floor": "ceil", "ceil": "floor"}

    def __init__(self, wanted: int, quantity: Quantity | None, parameters: tuple[str, ...]) -> None:
        self.wanted, self.count, self.change = wanted, 0, ""
        self.left_out: list[tuple[str, str]] = []
        self.quantity, self.parameters = quantity, parameters
        self.from_one: tuple[ast.expr, str] | None = None

    def _due(self, change: str) -> bool:
        self.count += 1
        if self.count - 1 == self.wanted:
            self.change = change
            return True
        return False

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        left, right, sign = node.left, node.comparators[0], self._SIGNS.get(type(node.ops[0]), "")
        alike: dict[str, str] = {}
        if isinstance(left, ast.Name) and isinstance(right, ast.Constant) and isinstance(right.value, (int, float)):
            alike = {one: _why(left.id) for one in _no_change(left.id, sign, right.value)}
        if isinstance(right, ast.Constant) and isinstance(right.value, str):
            alike = dict.fromkeys(set(self._SIGNS.values()) - {"=", "<>"}, OF_TEXTS)
        self.from_one = (right, alike["0 - 1"]) if "0 - 1" in alike else None
        self.generic_visit(node)
        self.from_one = None
        if len(node.ops) == 1 and isinstance(node.ops[0], self._COMPARE):
            for other in self._COMPARE:
                if isinstance(node.ops[0], other):
                    continue
                change = f"{type(node.ops[0]).__name__} -> {other.__name__}"
                if self._SIGNS[other] in alike:
                    self.left_out.append((change, alike[self._SIGNS[other]]))
                elif self._due(change):
                    return ast.Compare(node.left, [other()], node.comparators)
        return node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        other = self._OPERATORS.get(type(node.op))
        right = node.right
        of_one = isinstance(node.op, ast.Mult) and (
            (isinstance(right, ast.Name) and right.id in ONE_OR_BLANK) or (isinstance(right, ast.Constant) and right.value == 1)
        )
        if other is None:
            return node
        change = f"{type(node.op).__name__} -> {other.__name__}"
        if of_one:
            self.left_out.append((change, OF_ONE))
        elif self._due(change):
            return ast.BinOp(node.left, other(), node.right)
        return node

    def visit_Attribute(self, node: ast.Attribute) -> ast.AST:
        self.generic_visit(node)
        other = self._CALLS.get(node.attr)
        if other is not None and self._due(f"{node.attr} -> {other}"):
            return ast.Attribute(node.value, other, node.ctx)
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        if isinstance(node.value, (int, float)) and not isinstance(node.value, bool):
            for changed in (node.value + 1, node.value - 1, node.value * 1.01):
                if self.from_one is not None and node is self.from_one[0] and changed < 0:
                    self.left_out.append((f"{node.value} -> {changed}", self.from_one[1]))
                elif changed != node.value and self._due(f"{node.value} -> {changed}"):
                    return ast.Constant(changed)
        return node

    def visit_Name(self, node: ast.Name) -> ast.AST:
        if self.quantity is not None and isinstance(node.ctx, ast.Load) and node.id in self.parameters:
            other = other_of_unit(self.quantity, node.id, within=self.parameters)
            if other is not None and self._due(f"{node.id} -> {other}"):
                return ast.Name(other, node.ctx)
        return node


@cache
def _module_of(path: str) -> ast.Module:
    return ast.parse(Path(path).read_text(encoding="utf-8"))


def _definition(function: Callable[..., Any]) -> ast.FunctionDef | None:
    """A function as it is written, bare: without decorators, annotations and docstring; a lambda as a function of one line."""
    code = function.__code__
    names = code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
    for node in ast.walk(_module_of(inspect.getfile(function))):
        if isinstance(node, ast.FunctionDef) and node.name == code.co_name:
            first = min([node.lineno, *(one.lineno for one in node.decorator_list)])
            define = copy.deepcopy(node)
        elif isinstance(node, ast.Lambda) and code.co_name == "<lambda>":
            first = node.lineno
            body: list[ast.stmt] = [ast.Return(copy.deepcopy(node.body))]
            define = ast.FunctionDef("of_one_line", copy.deepcopy(node.args), body, [])
        else:
            continue
        arguments = [*define.args.args, *define.args.kwonlyargs]
        if first != code.co_firstlineno or tuple(one.arg for one in arguments) != names:
            continue
        define.decorator_list = []
        define.returns = None
        for argument in (*arguments, define.args.vararg):
            if argument is not None:
                argument.annotation = None
        if isinstance(node, ast.FunctionDef) and ast.get_docstring(define) is not None:
            define.body = define.body[1:]
        return define
    return None


def python_mutants(function: Callable[..., Any], quantity: Quantity | None = None) -> Iterator[Mutant]:
    """Every mutant of a function's body, compiled among what the function itself can see."""
    define = _definition(function)
    if define is None:
        return
    enclosed = dict(zip(function.__code__.co_freevars, (cell.cell_contents for cell in function.__closure__ or ()), strict=True))
    parameters = tuple(inspect.signature(function).parameters)
    number = 0
    while True:
        changer = _Changer(number, quantity, parameters)
        mutated = copy.deepcopy(define)
        mutated.body = [changer.visit(statement) for statement in mutated.body]
        if not changer.change:
            yield from (Mutant(define.name, change, left_out=reason) for change, reason in changer.left_out)
            return
        module = ast.fix_missing_locations(ast.Module([mutated], []))
        space: dict[str, Any] = {**function.__globals__, **enclosed}
        exec(compile(module, f"<mutant of {define.name}>", "exec"), space)  # noqa: S102 - our own source, changed on purpose
        yield Mutant(define.name, f"{changer.change} (#{number})", function=space[define.name])
        number += 1


def conditions_of(text: str) -> list[str]:
    """The first argument of every IF in an Excel text, outermost first."""
    tokens = _TOKEN.findall(text)
    out = []
    for place, token in enumerate(tokens):
        if token == "IF" and tokens[place + 1] == "(":
            depth, inner = 0, []
            for one in tokens[place + 2 :]:
                if one == "," and depth == 0:
                    break
                depth += (one == "(") - (one == ")")
                inner.append(one)
            out.append("".join(inner))
    return out
