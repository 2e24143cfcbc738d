"""Mutants of Excel texts and of Python functions, by fixed operators, one change each."""

from __future__ import annotations

import ast
import copy
import inspect
import re
import textwrap
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar

from sheetcalc.declare.quantity import Kind, Quantity, all_quantities, get

_TOKEN = re.compile(r'"(?:[^"]|"")*"|\{[a-z0-9_]+\}|<=|>=|<>|[<>=+\-*/]|[A-Z]+(?=\()|[0-9]+(?:\.[0-9]+)?|.', re.DOTALL)
_COMPARISONS = ("<=", ">=", "<>", "<", ">", "=")
_SWAPS = {"+": "-", "-": "+", "*": "/", "/": "*", "MIN": "MAX", "MAX": "MIN"}


@dataclass(frozen=True)
class Mutant:
    """One change: of which quantity, what was changed, and the changed text or function."""

    name: str
    change: str
    text: str = ""
    function: Callable[..., Any] | None = None


@cache
def _reads_all(name: str) -> frozenset[str]:
    """Everything that a quantity reads, directly or through others."""
    reads = get(name).reads
    return frozenset(reads).union(*(_reads_all(one) for one in reads))


def other_of_unit(quantity: Quantity, name: str, *, within: tuple[str, ...] = ()) -> str | None:
    """Another quantity of the same unit and kind: from the same formula if there is one, else the one declared nearest.

    One that reads the quantity itself is left out: the sheet would refuse it as a circle.
    """
    here = get(name)
    names = [
        q.name for q in all_quantities()
        if q.unit == here.unit and q.is_text == here.is_text and q.name not in {name, quantity.name}
        and (q.kind is Kind.TABLE) == (here.kind is Kind.TABLE) and (q.kind is Kind.ASSUMPTION) == (here.kind is Kind.ASSUMPTION)
        and quantity.name not in _reads_all(q.name)
    ]  # fmt: skip
    read = [one for one in (within or quantity.reads) if one in names]
    if read or within:
        return read[0] if read else None
    if here.kind is Kind.ASSUMPTION and not here.is_text:
        # The smallest: rounding to 16 digits where 6 are meant would be no change that anybody could see.
        constants = [one for one in names if get(one).issued != here.issued]
        return min(constants, key=lambda one: float(get(one).issued), default=None)
    order = [q.name for q in all_quantities()]
    return min(names, key=lambda one: abs(order.index(one) - order.index(name)), default=None)


def excel_mutants(quantity: Quantity, text: str, *, guard: bool = False) -> Iterator[Mutant]:
    """Every mutant of an Excel text. Sentences are not touched: a changed sentence is another sentence.

    With `guard` only comparisons and counts are changed: what a guard is made of.
    """
    tokens = _TOKEN.findall(text)
    for place, token in enumerate(tokens):
        for changed in _changes(quantity, tokens, place, guard=guard):
            mutated = "".join([*tokens[:place], changed, *tokens[place + 1 :]])
            if mutated != text:
                yield Mutant(quantity.name, f"{token} -> {changed} at {sum(map(len, tokens[:place]))}", mutated)


def _changes(quantity: Quantity, tokens: list[str], place: int, *, guard: bool) -> list[str]:
    token = tokens[place]
    if token in _COMPARISONS:
        # Nothing sorts before the empty text: <="" is ="" and >"" is <>"" by definition, so neither is a change.
        same = {"=": "<=", "<>": ">", "<=": "=", ">": "<>"}.get(token) if '""' in tokens[place - 1 : place + 2] else None
        return [one for one in _COMPARISONS if one not in {token, same}]
    if token[0].isdigit():
        value = float(token)
        return [f"{changed:.10g}" if changed >= 0 else f"({changed:.10g})" for changed in (value + 1, value - 1, value * 1.01)]
    if guard:
        return []
    if token in _SWAPS:
        unary = token in "+-" and (place == 0 or tokens[place - 1] in {"(", ",", *_COMPARISONS})
        return [] if unary else [_SWAPS[token]]
    if token.startswith("{"):
        other = other_of_unit(quantity, token[1:-1])
        return [f"{{{other}}}"] if other else []
    return []


class _Changer(ast.NodeTransformer):
    """Apply the change number `wanted` and count all that could be made."""

    _COMPARE = (ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Eq, ast.NotEq)
    _OPERATORS: ClassVar = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
    _CALLS: ClassVar = {"minimum": "maximum", "maximum": "minimum", "fmin": "fmax", "fmax": "fmin", "floor": "ceil", "ceil": "floor"}

    def __init__(self, wanted: int, quantity: Quantity | None, parameters: tuple[str, ...]) -> None:
        self.wanted, self.count, self.change = wanted, 0, ""
        self.quantity, self.parameters = quantity, parameters

    def _due(self, change: str) -> bool:
        self.count += 1
        if self.count - 1 == self.wanted:
            self.change = change
            return True
        return False

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        if len(node.ops) == 1 and isinstance(node.ops[0], self._COMPARE):
            # The order of texts has no meaning here: with a text only equal and unequal are changes.
            of_text = isinstance(node.comparators[0], ast.Constant) and isinstance(node.comparators[0].value, str)
            for other in (ast.Eq, ast.NotEq) if of_text else self._COMPARE:
                if not isinstance(node.ops[0], other) and self._due(f"{type(node.ops[0]).__name__} -> {other.__name__}"):
                    return ast.Compare(node.left, [other()], node.comparators)
        return node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        other = self._OPERATORS.get(type(node.op))
        if other is not None and self._due(f"{type(node.op).__name__} -> {other.__name__}"):
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
                if changed != node.value and self._due(f"{node.value} -> {changed}"):
                    return ast.Constant(changed)
        return node

    def visit_Name(self, node: ast.Name) -> ast.AST:
        if self.quantity is not None and isinstance(node.ctx, ast.Load) and node.id in self.parameters:
            other = other_of_unit(self.quantity, node.id, within=self.parameters)
            if other is not None and self._due(f"{node.id} -> {other}"):
                return ast.Name(other, node.ctx)
        return node


def python_mutants(function: Callable[..., Any], quantity: Quantity | None = None) -> Iterator[Mutant]:
    """Every mutant of a function's body, compiled in the globals of its module; the decorators and the docstring are left out."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    define = tree.body[0]
    if not isinstance(define, ast.FunctionDef):
        return
    define.decorator_list = []
    define.returns = None
    for argument in define.args.args:
        argument.annotation = None
    if ast.get_docstring(define) is not None:
        define.body = define.body[1:]
    parameters = tuple(inspect.signature(function).parameters)
    number = 0
    while True:
        changer = _Changer(number, quantity, parameters)
        mutated = copy.deepcopy(define)
        mutated.body = [changer.visit(statement) for statement in mutated.body]
        if not changer.change:
            return
        module = ast.fix_missing_locations(ast.Module([mutated], []))
        space: dict[str, Any] = dict(function.__globals__)
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
