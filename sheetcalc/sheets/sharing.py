"""Which formulas of a column may stand in a file once, shared by all its rows.

Excel itself shares only some: the published structure of its files ([MS-XLSB], section 2.5.98.98, rgce of a shared formula)
forbids references to other sheets, array constants, unions, intersections and ranges worked out from references, and error
literals. References to tables are known to fail. Relative addresses on the same sheet and defined names are fine.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

_TEXT: Final = re.compile(r'"(?:[^"]|"")*"')
_FORBIDDEN: Final = {
    "!": "a reference to a sheet",
    "[": "a reference to a table",
    "{": "an array constant",
    "#": "an error literal",
    "_xlfn": "a function newer than the rule",
}
_RANGE: Final = re.compile(r"(?<![A-Za-z0-9_.$])\$?[A-Z]{1,3}\$?[0-9]+:\$?[A-Z]{1,3}\$?[0-9]+(?![A-Za-z0-9_.(])")
#: What stands before the number of a row: the letters of a column, which is fixed or not, and no mark that fixes the row.
_BEFORE_ROW: Final = re.compile(r"(?:^|[^A-Za-z0-9_.$])\$?[A-Z]{1,3}$")


def objection(formula: str) -> str:
    """Why a formula, without its leading `=`, may not be shared by several cells; "" where it may."""
    bare = _TEXT.sub('""', formula)
    for sign, what in _FORBIDDEN.items():
        if sign in bare:
            return what
    if ":" in _RANGE.sub("A", bare):
        return "a range that is not two addresses"
    if re.search(r"\s", bare):
        return "a blank, which may be an intersection"
    calls: list[bool] = []
    for place, character in enumerate(bare):
        if character == "(":
            calls.append(place > 0 and (bare[place - 1].isalnum() or bare[place - 1] in "_."))
        elif character == ")" and calls:
            calls.pop()
        elif character == "," and not (calls and calls[-1]):
            return "a comma outside a call, which is a union"
    return ""


def may_be_shared(parts: Sequence[str]) -> bool:
    """Whether the formula of a column, in the parts between which the row stands, is one that its rows may share.

    The row must be that of a relative address: a fixed one, or a plain number, would be the first row's in every row.
    """
    relative = all(_BEFORE_ROW.search(part) for part in parts[:-1]) and not any(part[:1].isalnum() for part in parts[1:])
    return relative and not objection("1".join(parts))
