"""Facts about sources: what is said to come from print can be followed to it, and whatever cannot says that it is no source."""

from __future__ import annotations

import ast
import re
import tokenize
import tomllib
from collections import Counter
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Final

import pytest
from told import Tell

from sheetcalc.declare.source import Grade
from sheetcalc.reference import tables
from sheetcalc.reference.cases import Case, published
from sheetcalc.reference.sources import all_sources, cite

TESTS: Final = Path(__file__).parents[1]
REFERENCE: Final = Path(str(files("sheetcalc.reference")))
#: Grades of what somebody else printed; the others say that it is ours, remembered, or what people do.
PRINTED: Final = frozenset({Grade.STANDARD, Grade.READ, Grade.SECOND_HAND})
#: What holds by definition and was fixed by nobody who could be named.
DEFINITIONS: Final = frozenset({"definition", "calendar"})
#: Who wrote it and which it is: the number of a standard, law or report; a book as `A. B. Author, Title`; a body or a magazine and a title.
WORK: Final = re.compile(
    r"\b(?:EN ISO \d+|ISO \d+|DIN \d+|BS \d+|ASME B\d+\.\d+|ASME VIII|ASME PCC-\d|ASTM [A-G]\d+|API \d+|NIST SP \d+|NASA-STD-\w+"
    r"|NASA TM-\d+|NAVEDTRA \d+|\d+ CFR \d+|paper [A-Z]+\d{4}-\d+|[A-Z]\. (?:[A-Z]\. )?[A-Z][a-z]+, [A-Z][a-z]+"
    r"|[A-Z][a-z]+ Institute, [A-Z][a-z]+|[A-Z][A-Za-z]+ \(magazine\), .*\barticle\b)"
)
#: Where to look in it: a year or an edition, a page, a numbered part, or a part by its name.
PLACE: Final = re.compile(
    r"\b(?:(?:19|20)\d\d\b|\d+(?:st|nd|rd|th) edition|pp?\. \d|(?:sheet|table|Table|section|appendix|example|article no\.) [A-Z]?\d"
    r"|\d+ CFR [\d. ]*\d|tables? of [a-z]|part on [a-z]|article on [a-z]|coarse pitches)"
)
#: What is no name of a source: a place kept back, a name on a network, somebody who looked it over.
NO_NAME: Final = re.compile(
    r"withheld|\b[\w-]+\.(?:com|org|net|edu|gov|mil|int|info|biz|io|tech|eu|us|uk|de|fr|it|nl|ru|ua|cn|id)\b|www\.|://|\breview(?:s|ed|ers?)?\b",
    re.IGNORECASE,
)


def strays(text: str, grade: Grade) -> list[str]:
    """What keeps a reader from following a source."""
    found = [f"{match[0]} is no name of a source" for match in NO_NAME.finditer(text)]
    if grade in PRINTED:
        found += [] if WORK.search(text) else ["no author or body with a title or a number"]
        found += [] if PLACE.search(text) else ["no year, edition or place"]
    return found


def said() -> dict[str, tuple[str, Grade]]:
    """Every source and every worked example that must be followed: its words and its grade."""
    sources = {key: (source.text, source.grade) for key, source in all_sources().items() if key not in DEFINITIONS}
    return {**sources, **{case.key: (case.source, case.grade) for case in published()}}


@pytest.mark.parametrize("key", list(said()))
def test_a_source_can_be_followed_or_says_that_it_is_none(key: str) -> None:
    """What was printed names a work and a place in it; practice, memory, algebra and choice need none, but name no false one."""
    assert strays(*said()[key]) == []


@pytest.mark.parametrize(
    ("text", "grade", "wrong"),
    [
        ("API 599:2020, 5.6: a third of the tensile strength.", Grade.READ, 0),
        ("M. J. Neale, The Tribology Handbook, sheet B25.4.", Grade.READ, 0),
        ("A maker's sheet (address withheld).", Grade.READ, 3),
        ("A maker's sheet (address withheld).", Grade.PRACTICE, 1),
        ("A handbook table (handbook.example.com) of 2001.", Grade.SECOND_HAND, 2),
        ("Worked example of the trade review: simple arithmetic.", Grade.DERIVED, 1),
        ("API 599, secondary text.", Grade.SECOND_HAND, 1),
        ("Table 3 of a secondary text, p. 12.", Grade.SECOND_HAND, 1),
        ("Common practice.", Grade.PRACTICE, 0),
        ("Common practice.", Grade.READ, 2),
    ],
)
def test_a_source_that_cannot_be_followed_is_told_from_one_that_can(text: str, grade: Grade, wrong: int) -> None:
    """A place kept back, a name on a network, a missing work and a missing place are each found."""
    assert len(strays(text, grade)) == wrong


def test_a_definition_is_exact() -> None:
    """What needs no print to be followed to is exact by definition."""
    assert {all_sources()[key].grade for key in DEFINITIONS} == {Grade.STANDARD}


@pytest.mark.parametrize("case", [case for case in published() if case.grade in PRINTED], ids=lambda case: case.key)
def test_a_work_is_graded_alike_wherever_it_is_named(case: Case) -> None:
    """A worked example from a work that a source names too has a grade that a source gives it."""
    works = WORK.findall(case.source)
    grades = {source.grade for source in all_sources().values() if any(work in source.text for work in works)}
    assert case.grade in grades or not grades


def strings() -> Iterator[tuple[str, str]]:
    """Every text of the reference files, sources and worked examples apart, with where it stands: cards, columns, constants, tables."""
    for file in sorted(REFERENCE.rglob("*.csv")):
        yield from ((f"{file.name}, line {number}", line) for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1))
    for file in (REFERENCE / "constants.toml", REFERENCE / "tables" / "cards.toml", REFERENCE / "tables" / "columns.toml"):
        for name, card in tomllib.loads(file.read_text(encoding="utf-8")).items():
            yield from ((f"{file.name}, {name}, {field}", str(text)) for field, text in card.items())


def remarks(file: Path) -> Iterator[tuple[str, str]]:
    """The comments and docstrings of a module, with where they stand."""
    with file.open("rb") as text:
        for token in tokenize.tokenize(text.readline):
            if token.type == tokenize.COMMENT:
                yield f"{file.name}, line {token.start[0]}", token.string
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            yield f"{file.name}, {getattr(node, 'name', 'module')}", ast.get_docstring(node) or ""


def test_no_text_of_a_table_names_what_is_no_source() -> None:
    """Cards, notes and sentences keep no place back and name no network."""
    texts = list(strings())
    assert len(texts) > 1000
    assert [(where, match[0]) for where, text in texts if (match := NO_NAME.search(text))] == []


def test_no_remark_of_a_test_names_what_is_no_source() -> None:
    """What a test says of where its figures are from can be followed as well."""
    modules = [*sorted((TESTS / "reference").glob("test_*.py")), *sorted((TESTS / "calculations").glob("test_*.py"))]
    found = {(file.name, match[0]) for file in modules for _, text in remarks(file) if (match := NO_NAME.search(text))}
    assert len(modules) > 10
    assert found == set()


def test_every_source_column_of_a_table_cites() -> None:
    """A column of sources holds keys of sources.toml, or nothing where no figure stands."""
    columns = [
        (file.stem, column, row[column])
        for file in sorted(REFERENCE.rglob("*.csv"))
        for row in tables.printed(file.stem)
        for column in row
        if column.endswith("source") and row[column]
    ]
    assert len(columns) > 30
    assert [one for one in columns if one[2] not in all_sources()] == []


def test_the_limits_of_the_card_are_those_of_their_source() -> None:
    """What the caution of the card says of asbestos stands in the source that the card names, which can be followed."""
    card = tomllib.loads(files("sheetcalc.sheets").joinpath("card.toml").read_text(encoding="utf-8"))["gland"]
    source = cite(card["caution_source"])
    (limits,) = re.findall(r"\(OSHA (29 CFR [\d.]+\d): ([\d.]+) f/cc over (\d+ h), ([\d.]+) f/cc over (\d+ min)\)", card["caution"])
    law, long, hours, short, minutes = limits
    assert source.text.startswith(f"{law}(c): {long} fibres per cm3 over {hours}, {short} over {minutes};")


def test_sources_by_grade(tell: Tell) -> None:
    """The number of sources of each grade is printed; practice and memory are never called read."""
    counts = Counter(source.grade for source in all_sources().values())
    tell(f"Sources by grade: {', '.join(f'{count} {grade.value}' for grade, count in counts.most_common())}")
    claims = re.compile(r"common practice|from memory|as remembered")
    wrong = [key for key, source in all_sources().items() if source.grade is Grade.READ and claims.search(source.text)]
    assert wrong == []
