"""Formulas that rows share: the rule, held by a second reading of it, and what comes back when another library spells them out."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path
from typing import Final

import openpyxl
import pytest
from click.testing import CliRunner
from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token
from reading import SharedGroup, cells, defined_names, shared_groups
from told import Tell

from sheetcalc.cli import main
from sheetcalc.planning import ready_made
from sheetcalc.sheets.sharing import may_be_shared, objection
from sheetcalc.sheets.write import write

ROOT: Final = Path(__file__).parents[2]
DEMO: Final = "demo.xlsx"
NAMES: Final = (*ready_made(), DEMO)
OFTEN: Final = {"one-valve-mm.xlsx", "follow-up-in.xlsx"}
some = pytest.mark.parametrize("name", [name if name in OFTEN else pytest.param(name, marks=pytest.mark.proof) for name in NAMES])

# --- the rule ---------------------------------------------------------------------------------------------------------

#: Formulas that Excel does not share, and why. [MS-XLSB], section 2.5.98.98, tokens that a shared formula may not hold;
#: references to tables: tried, no source.
NOT_SHARED: Final = {
    "Tables!$A$1+A1": "sheet", "'Outage working'!A1": "sheet", "SUM('[book.xlsx]Sheet'!A1)": "sheet", "ROWS(Valves[Tag])": "table",
    "INDEX({1,2,3},A1)": "array", "IF(A1=#N/A,1,2)": "error", "IF(A1,#REF!,2)": "sheet", "_xlfn.IFS(A1,1)": "newer",
    "SUM(A1:INDEX(B1:B9,3))": "range", "SUM(OFFSET(A1,1,0):B2)": "range", "SUM(first_cell:B2)": "range", "SUM(A1:last_cell)": "range",
    "SUM(A:A)": "range", "SUM($1:$1)": "range", "SUM(A1:B2 B1:C2)": "intersection", "SUM((A1:B2,C1:C2))": "union",
    "INDEX((A1,B1),1)": "union", "A1,B1": "union",
}  # fmt: skip
#: Formulas that it does share.
SHARED: Final = (
    "A1+$B1*stem_diameter", 'IF(COUNT($A1,$B1)<2,"",$A1-$B1)', "SUM($A$1:$A1)", "INDEX(thread_names,MATCH($A1,thread_names,0))",
    '"a!b[c]{d}#N/A e:f, g"&A1', 'IF(A1="say ""no!""",(A1+1)*2,-1)', "MATCH(A1,CHOOSE(B1,one_list,other_list),1)", "ROUND(A1,6)",
)  # fmt: skip


@pytest.mark.parametrize(("text", "said"), NOT_SHARED.items())
def test_what_is_not_shared_is_refused_with_the_reason(text: str, said: str) -> None:
    """The rule and its second reading refuse the same, and the rule says why."""
    assert said in objection(text)
    assert second_reading(text, {"first_cell", "last_cell"}) != []


@pytest.mark.parametrize("text", SHARED)
def test_what_is_shared_is_taken(text: str) -> None:
    """Addresses on the same sheet, names, calls and whatever stands in quotes."""
    assert objection(text) == ""
    assert second_reading(text, {"stem_diameter", "thread_names", "one_list", "other_list"}) == []


@pytest.mark.parametrize(
    ("parts", "shared"),
    [
        (("$A", "+B", ""), True), (("SUM($A$1:$A", ")"), True), (("$A$", "+1"), False), (("ROW()-", ""), False), (("A", "0+1"), False),
        (("name_a", "+1"), False), (("Tables!A", ""), False), (("LOG", "(5)"), True), (("1+1",), True),
    ],
)  # fmt: skip
def test_the_row_must_be_that_of_a_relative_address(parts: tuple[str, ...], *, shared: bool) -> None:
    """A row that is fixed, that is a plain number or the end of a name would be the first row's in each row."""
    assert may_be_shared(parts) is shared


# --- what is written --------------------------------------------------------------------------------------------------

_ADDRESS: Final = re.compile(r"\$?[A-Z]{1,3}\$?[0-9]+(:\$?[A-Z]{1,3}\$?[0-9]+)?")


def second_reading(text: str, names: set[str]) -> list[str]:
    """What in a formula may not be shared, found in the tokens that openpyxl makes of it."""
    wrong, open_calls = [], []
    for token in Tokenizer(f"={text}").items:
        if token.subtype == Token.OPEN:
            open_calls.append(token.type)
        elif token.subtype == Token.CLOSE:
            open_calls.pop()
        is_place = token.type == Token.OPERAND and token.subtype == Token.RANGE
        if token.type == Token.WSPACE or (token.type == Token.OP_IN and token.value in {",", " ", ":"}):
            wrong.append(f"an operator between references: {token.value!r}")
        elif token.type == Token.ARRAY or (token.type == Token.OPERAND and token.subtype == Token.ERROR):
            wrong.append(f"an array or an error: {token.value}")
        elif token.type == Token.SEP and open_calls[-1:] != [Token.FUNC]:
            wrong.append("a union")
        elif token.type == Token.FUNC and ":" in token.value:
            wrong.append(f"a range that is worked out: {token.value}")
        elif is_place and not _ADDRESS.fullmatch(token.value) and token.value not in names:
            wrong.append(f"neither an address of the sheet nor a defined name: {token.value}")
        if "_xlfn" in token.value and token.type != Token.OPERAND:
            wrong.append(f"a newer function: {token.value}")
    return wrong


def book(name: str, folder: Path) -> Path:
    """A ready-made workbook as it is committed, or the demo list planned."""
    if name != DEMO:
        return ROOT / "workbooks" / name
    assert CliRunner().invoke(main, ["plan", str(ROOT / "demo" / "valves.csv"), "-o", str(folder / DEMO)]).exit_code == 0
    return folder / DEMO


@some
def test_every_shared_formula_keeps_to_the_rule(name: str, tmp_path: Path, tell: Tell) -> None:
    """Each one that is written passes the second reading, stands in the first row of its column's block, and all others refer to it."""
    path = book(name, tmp_path)
    names, counted = set(defined_names(path)), defaultdict[str, list[SharedGroup]](list)
    for group in shared_groups(path):
        first, last = (re.fullmatch(r"([A-Z]+)([0-9]+)", one) for one in group.block.split(":"))

        assert second_reading(group.text, names) == []
        assert first is not None
        assert last is not None
        assert (first[1], group.rows) == (last[1], list(range(int(first[2]), int(last[2]) + 1)))

        counted[group.sheet].append(group)

    assert sum(len(groups) for groups in counted.values()) > 100

    for sheet, groups in counted.items():
        tell(f"{name}, {sheet}: {len(groups)} shared formulas for {sum(len(one.rows) for one in groups)} cells")


@some
def test_shared_formulas_are_those_that_are_spelt_out(name: str, tmp_path: Path, tell: Tell) -> None:
    """What openpyxl reads from the workbook is, cell for cell, what stands in the workbook that spells out every formula."""
    spelt = tmp_path / "spelt.xlsx"
    if name == DEMO:
        words = ["plan", str(ROOT / "demo" / "valves.csv"), "-o", str(spelt), "--plain-formulas"]
        assert CliRunner().invoke(main, words).exit_code == 0
    else:
        write(ready_made()[name](), spelt, plain_formulas=True)
    expected = {(sheet, cell.place): cell.formula for sheet, held in cells(spelt) for cell in held if cell.formula is not None}
    workbook = openpyxl.load_workbook(book(name, tmp_path))
    found = {
        (sheet.title, cell.coordinate): str(cell.value)[1:]
        for sheet in workbook.worksheets for row in sheet.iter_rows() for cell in row if cell.data_type == "f"
    }  # fmt: skip

    assert "" not in expected.values()
    assert found == expected
    assert len(found) > 7000

    tell(f"{name}: {len(found)} formulas read back by openpyxl, equal to those spelt out")
