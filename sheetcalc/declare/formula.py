"""Excel text with {names}: read, checked and rendered.

A formula is written as an engineer would type it, with each quantity that it reads in braces. `render` puts an
address or a defined name in the place of each. `lint` knows the limits of Excel and the rules of this project.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

_NAME: Final = re.compile(r"\{([a-z][a-z0-9_]*)\}")

#: Functions that Excel 2010, LibreOffice 7 and IronCalc all have and agree on.
FUNCTIONS: Final = frozenset(
    {
        "ABS",
        "AND",
        "ATAN",
        "CHOOSE",
        "COLUMN",
        "COS",
        "COUNT",
        "COUNTA",
        "COUNTIF",
        "DEGREES",
        "EXACT",
        "EXP",
        "IF",
        "IFERROR",
        "INDEX",
        "INT",
        "ISNUMBER",
        "ISTEXT",
        "LEFT",
        "LEN",
        "LN",
        "LOG10",
        "MATCH",
        "MAX",
        "MIN",
        "MOD",
        "NOT",
        "OR",
        "PI",
        "RADIANS",
        "ROUND",
        "ROUNDDOWN",
        "ROUNDUP",
        "ROW",
        "ROWS",
        "SIGN",
        "SIN",
        "SMALL",
        "SQRT",
        "SUBSTITUTE",
        "SUM",
        "SUMIF",
        "SUMPRODUCT",
        "TRIM",
    }
)
#: Literals that may stand in a declared formula: 0, 1, 2, the 4 of pi/4, whole turns in degrees.
LITERALS: Final = frozenset({"0", "1", "2", "4", "360"})
MOST_TEXT, MOST_LENGTH, MOST_NESTING = 255, 8192, 64

_TEXT: Final = re.compile(r'"(?:[^"]|"")*"')
_CALL: Final = re.compile(r"([A-Za-z_][A-Za-z0-9_.]*)\(")
_SHEET_REFERENCE: Final = re.compile(r"(?:'[^']*'|[A-Za-z_]+)!")
_TABLE_REFERENCE: Final = re.compile(r"[A-Za-z_]+\[(?:\[[^\]]*\]|[^\[\]]|,)*\]")
_ADDRESS: Final = re.compile(r"\$?[A-Z]{1,3}\$?[0-9]+")
_NUMBER: Final = re.compile(r"(?<![A-Za-z0-9_.$])(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_GUARD: Final = re.compile(r"COUNT\(([^()]*)\)<([0-9]+)")


def names_in(text: str) -> tuple[str, ...]:
    """The quantities that a formula reads, each once, in the order of their first appearance."""
    return tuple(dict.fromkeys(_NAME.findall(text)))


def render(text: str, places: Mapping[str, str]) -> str:
    """The formula with each {name} replaced by where that quantity stands.

    Raises KeyError for a name without a place: a layout that forgot one must not be written.
    """
    return _NAME.sub(lambda match: places[match[1]], text)


def guarded(text: str, numbers: Sequence[str], words: Sequence[str], typed: Sequence[str] = ()) -> str:
    """The formula wrapped so that a blank in, gives a blank out.

    A number is missing when COUNT does not count it, a text when it is "". Texts that are `typed` by a person may also
    be an error value pasted in, which counts as missing.
    """
    tests = [f'IFERROR({{{name}}}="",1)' if name in typed else f'{{{name}}}=""' for name in words]
    if numbers:
        tests.insert(0, f"COUNT({','.join(f'{{{name}}}' for name in numbers)})<{len(numbers)}")
    if not tests:
        return text
    test = tests[0] if len(tests) == 1 else f"OR({','.join(tests)})"
    return f'IF({test},"",{text})'


def lint(formula: str, *, literals: bool = True) -> list[str]:
    """What is wrong with a written formula, in words; an empty list when nothing is.

    Formula without its leading `=`. With `literals` the numbers in it are held to the rule as well.
    """
    wrong = []
    if len(formula) > MOST_LENGTH:
        wrong.append(f"longer than {MOST_LENGTH} characters: {len(formula)}")
    wrong += [f"text literal over {MOST_TEXT} characters: {text[:40]}..." for text in _TEXT.findall(formula) if len(text) - 2 > MOST_TEXT]
    bare = _TEXT.sub('""', formula)
    if "{" in bare or "}" in bare:
        wrong.append("array braces or an unfilled name")
    bare = _TABLE_REFERENCE.sub("T", _SHEET_REFERENCE.sub("", bare))
    depth = deepest = 0
    closed_first = False
    for character in bare:
        depth += (character == "(") - (character == ")")
        deepest = max(deepest, depth)
        closed_first = closed_first or depth < 0
    if depth or closed_first:
        wrong.append("brackets do not match")
    if deepest > MOST_NESTING:
        wrong.append(f"nested deeper than {MOST_NESTING}: {deepest}")
    wrong += [f"function not in the safe set: {name}" for name in _CALL.findall(bare) if name not in FUNCTIONS]
    if re.search(r"\b(TRUE|FALSE)\b", bare):
        wrong.append("bare TRUE or FALSE")
    if re.search(r"(?:^|[=(,<>+*/&-])-(?:[^,()]|\([^()]*\))*\^", bare):
        wrong.append("negative base of a power without brackets")
    if literals:
        wrong += _wrong_literals(bare)
    return wrong


def _wrong_literals(bare: str) -> list[str]:
    """Numbers that should be named assumptions. A guard may hold the count of its arguments."""
    wrong = [
        f"guard counts {found} of {len(arguments.split(','))} arguments"
        for arguments, found in _GUARD.findall(bare)
        if int(found) != len(arguments.split(",")) and int(found) > 2  # noqa: PLR2004 - 1 and 2 may be meant
    ]
    rest = _ADDRESS.sub("A", _GUARD.sub("COUNT()", bare))
    return wrong + [f"literal {number}: name it as an assumption" for number in _NUMBER.findall(rest) if number not in LITERALS]
