"""Facts about Excel text with names in braces: read, rendered, guarded, and held to the limits of Excel and our rules.

The limits of 255, 8,192 and 64 are those of Excel 2007 and later (Microsoft, "Excel specifications and limits"), from memory.
"""

from __future__ import annotations

from typing import Final

import pytest

from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Derived, all_quantities

WITH_EXCEL: Final = [quantity for quantity in all_quantities() if isinstance(quantity, Derived)]
#: The longest address that a sheet of this kind can have.
LONGEST: Final = "'One valve of the list'!$XFD$1048576"


# --- names and places -------------------------------------------------------------------------------------------------


def test_names_stand_once_in_the_order_of_their_first_appearance() -> None:
    """A name that is read twice is one name."""
    expected = ("box_bore", "stem_diameter")
    assert expected == formula.names_in("IF({box_bore}>{stem_diameter},({box_bore}-{stem_diameter})/2,1)")


@pytest.mark.parametrize("text", ["1+2", "{Bore}", "{2nd}", "{}", "{box bore}"])
def test_what_is_no_name_is_not_read_as_one(text: str) -> None:
    """Only small letters, digits and underscores in braces are a name, a letter first."""
    assert formula.names_in(text) == ()


def test_each_name_is_replaced_by_its_place() -> None:
    """The same name gets the same place wherever it stands, and the rest of the text stays as it is."""
    places = {"gap_1": "$F7", "gap_10": "$G7"}
    expected = 'IF($F7>$G7,$F7,"")'
    assert expected == formula.render('IF({gap_1}>{gap_10},{gap_1},"")', places)


def test_a_name_without_a_place_is_refused() -> None:
    """A layout that forgot a quantity is not written."""
    with pytest.raises(KeyError, match="box_bore"):
        formula.render("{box_bore}-{stem_diameter}", {"stem_diameter": "A1"})


# --- guards -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("numbers", "words", "expected"),
    [
        ([], [], "{a}+{b}"),
        (["a"], [], 'IF(COUNT({a})<1,"",{a}+{b})'),
        (["a", "b"], [], 'IF(COUNT({a},{b})<2,"",{a}+{b})'),
        ([], ["a"], 'IF({a}="","",{a}+{b})'),
        ([], ["a", "b"], 'IF(OR({a}="",{b}=""),"",{a}+{b})'),
        (["a"], ["b"], 'IF(OR(COUNT({a})<1,{b}=""),"",{a}+{b})'),
    ],
)
def test_a_blank_in_gives_a_blank_out(numbers: list[str], words: list[str], expected: str) -> None:
    """Numbers are counted, texts compared with the empty text, and a formula that needs nothing is left alone."""
    assert expected == formula.guarded("{a}+{b}", numbers, words)


def test_an_error_value_pasted_into_a_text_counts_as_blank() -> None:
    """A text that a person types may be #N/A from elsewhere: its guard does not pass the error on."""
    expected = 'IF(OR(IFERROR({a}="",1),{b}=""),"",{a}&{b})'
    assert expected == formula.guarded("{a}&{b}", [], ["a", "b"], ["a"])


@pytest.mark.parametrize("quantity", WITH_EXCEL, ids=lambda quantity: quantity.name)
def test_a_declared_formula_reads_just_what_python_reads(quantity: Derived) -> None:
    """The names in the guarded text are the parameters of the function, no more and no fewer."""
    assert set(quantity.reads) == set(formula.names_in(quantity.guarded_excel))


# --- lint -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("quantity", WITH_EXCEL, ids=lambda quantity: quantity.name)
def test_nothing_is_wrong_with_a_declared_formula(quantity: Derived) -> None:
    """Every declared formula keeps the limits and the rules, in names and with the longest addresses."""
    in_names = formula.render(quantity.guarded_excel, {name: name for name in quantity.reads})
    in_addresses = formula.render(quantity.guarded_excel, dict.fromkeys(quantity.reads, LONGEST))
    assert formula.lint(in_names) == []
    assert formula.lint(in_addresses) == []


BAD: Final = {
    "text over 255": ('IF(A1=1,"' + "x" * 256 + '","")', "text literal over 255"),
    "length over 8192": ("+".join(["A1"] * 2732), "longer than 8192"),
    "nesting over 64": ("ABS(" * 65 + "A1" + ")" * 65, "nested deeper than 64"),
    "volatile function": ("OFFSET(A1,1,1)", "function not in the safe set: OFFSET"),
    "function of no old Excel": ("XLOOKUP(A1,B1:B9,C1:C9)", "function not in the safe set: XLOOKUP"),
    "function in small letters": ("today()+A1", "function not in the safe set: today"),
    "engineering constant": ("A1*3.7", "literal 3.7"),
    "whole constant": ("A1*25", "literal 25"),
    "constant without its nought": ("A1*.7", "literal"),
    "constant in powers of ten": ("A1*1e3", "literal 1e3"),
    "bare TRUE": ("IF(A1=TRUE,1,0)", "bare TRUE"),
    "bare FALSE": ("MATCH(A1,B1:B9,FALSE)", "bare TRUE or FALSE"),
    "negative base": ("-2^2", "negative base"),
    "negative base inside": ("IF(A1>0,-A1^2,0)", "negative base"),
    "negative base in brackets": ("-(A1+B1)^2", "negative base"),
    "array braces": ("SUM({1,2})", "array braces"),
    "unfilled name": ("{box_bore}/2", "array braces or an unfilled name"),
    "guard counts too many": ('IF(COUNT(A1,B1,C1)<4,"",A1)', "guard counts 4 of 3"),
    "guard counts too few": ('IF(COUNT(A1,B1,C1,D1)<3,"",A1)', "guard counts 3 of 4"),
    "bracket not closed": ("ABS(A1", "brackets do not match"),
    "bracket not opened": ("A1)", "brackets do not match"),
    "brackets the wrong way round": ("A1)+(A2", "brackets do not match"),
}


@pytest.mark.parametrize(("text", "said"), BAD.values(), ids=BAD.keys())
def test_a_bad_formula_is_noticed(text: str, said: str) -> None:
    """Each rule has an example that breaks it and nothing else, and the complaint says which."""
    found = formula.lint(text)
    assert 1 == len(found), found  # noqa: SIM300 - expected first
    assert said in found[0]


GOOD: Final = {
    "text of 255": 'IF(A1=1,"' + "x" * 255 + '","")',
    "length of 8192": "+".join(["A1"] * 2731),
    "nesting of 64": "ABS(" * 64 + "A1" + ")" * 64,
    "words in a text": 'IF(A1=1,"TRUE is 3.7 or {so} in OFFSET(","")',
    "doubled quotes": 'IF(A1="say ""3.7""",1,0)',
    "allowed numbers": "PI()/4*A1^2+360*1-0",
    "bracketed negative base": "(-A1)^2",
    "a difference, not a sign": "A1-B1^2",
    "numbers in names and addresses": "gap_reading_25+$AB$37+B12",
    "a guard of many": 'IF(COUNT(A1,B1,C1,D1,E1)<5,"",A1)',
    "table and sheet references": "INDEX(Valves[[#Data],[Gap 25 (mm)]],1)+Tables!$B$37+'One valve'!C9",
}


@pytest.mark.parametrize("text", GOOD.values(), ids=GOOD.keys())
def test_a_good_formula_is_let_through(text: str) -> None:
    """What is just within a limit, or only looks like a fault, is no fault."""
    assert formula.lint(text) == []


def test_literals_are_let_through_where_they_are_asked_to_be() -> None:
    """A formula of a sheet's own making may hold numbers; all other rules stay."""
    assert formula.lint("A1*3.7", literals=False) == []
    expected = ["bare TRUE or FALSE"]
    assert expected == formula.lint("IF(TRUE,3.7,0)", literals=False)
