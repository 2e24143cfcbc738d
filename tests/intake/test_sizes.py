"""Facts about the names of threads and flange sizes."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcalc.findings import Finding, SizeFromDn, UnclearSize
from sheetcalc.intake import cells, choices, sizes
from sheetcalc.intake.guesses import GuessedNps

TABLES = Path(__file__).parents[2] / "sheetcalc" / "reference" / "tables"


@pytest.mark.parametrize(
    ("cell", "is_pn"),
    [
        ("PN16", True),
        ("PN 40", True),
        ("pn-6", True),
        ("DIN PN 16", True),
        ("EN 1092-1 PN16", True),
        ("PN 2.5", True),
        ("150", False),
        ("PN", False),
        ("16", False),
        (16, False),
        ("CL 150 / PN 20", False),
    ],
)
def test_nominal_pressures(cell: object, is_pn: bool) -> None:  # noqa: FBT001
    """A flange of a nominal pressure is known by its two letters; a bare number never is one."""
    assert is_pn is sizes.is_pn(cell)


@pytest.mark.parametrize(
    ("cell", "name", "finding"),
    [
        *(
            (text, "NPS 2", None)
            for text in ('2"', "2 in", "2 inch", "2 ins", "2''", "NPS 2", "NPS2", "nps-2", '2" NPS', '2" NB', "2.0 in", "NPS 2.0")
        ),
        *((text, "NPS 1 1/2", None) for text in ("1-1/2", '1 1/2"', "1½", '1½"', "1.1/2", 'NPS 1-1/2"', "NPS 1.5", "1.5 in", '1,5"')),
        *((text, "NPS 3/4", None) for text in ("3/4", '3/4"', "¾", "0.75 in")),
        *((text, "NPS 2", SizeFromDn) for text in ("DN 50", "DN50", "dn-50", "50 DN", "DN 50 mm", "50 mm", "50 NB", "NB 50")),
        *((text, "NPS 2", None) for text in ('DN 50 (2")', '2" (DN 50)', 'DN50/2"', "DN 50 = NPS 2", '2" / DN 50 mm')),
        ("2", "NPS 2", GuessedNps),
        (2, "NPS 2", GuessedNps),
        (2.0, "NPS 2", GuessedNps),
        (1.5, "NPS 1 1/2", GuessedNps),
        ("1.5", "NPS 1 1/2", GuessedNps),
        ("2,5", "NPS 2 1/2", GuessedNps),
        ("20", "NPS 20", GuessedNps),
        ("24", "NPS 24", GuessedNps),
        *(
            (text, text, UnclearSize)
            for text in (
                "15",
                "25",
                "32",
                "50",
                "80",
                "100",
                "7",
                "26",
                "NPS 26",
                "NPS 7",
                "DN 175",
                "DN 2",
                'DN 2"',
                "NPS 50 mm",
                "2 NB",
                "20 NB",
                "NPS 2 NB",
                "2x1",
                '2" x 1"',
                "DN 50/40",
                'DN 50 (3")',
                "2/3",
                "~2",
                "2?",
                "-2",
                "1,500",
                '2" 150#',
                "threaded",
                "2 ft",
                "2 m",
                "50 %",
            )
        ),
        ("", "", None),
        (" - ", "", None),
        (None, "", None),
        ("  NPS   50 ", "NPS 50", UnclearSize),
    ],
)
def test_sizes_of_flanges(cell: object, name: str, finding: type[Finding] | None) -> None:
    """A size with its name or unit is read, a bare one that can be an NPS is guessed; what may be two sizes or is none stays."""
    assert (name, finding) == sizes.flange_size(cell)
    assert name == choices.code("flange_size", cell)


@pytest.mark.parametrize(
    ("cell", "said", "name", "finding"),
    [
        ("50", "DN", "NPS 2", SizeFromDn),
        (50, "DN", "NPS 2", SizeFromDn),
        ("20", "DN", "NPS 3/4", SizeFromDn),
        ("20", "NPS", "NPS 20", None),
        ("2", "NPS", "NPS 2", None),
        ("1.5", "NPS", "NPS 1 1/2", None),
        ("2", "DN", "2", UnclearSize),
        ("50", "NPS", "50", UnclearSize),
        ('2"', "DN", "NPS 2", None),
        ("1 1/2", "DN", "NPS 1 1/2", None),
        ("DN 50", "NPS", "NPS 2", SizeFromDn),
        ("NPS 20", "DN", "NPS 20", None),
    ],
)
def test_sizes_below_a_header_that_says_how(cell: object, said: str, name: str, finding: type[Finding] | None) -> None:
    """The header says what a bare number is; what the cell itself says goes before it."""
    assert (name, finding) == sizes.flange_size(cell, said=said)


def test_bare_sizes_among_bare_dn() -> None:
    """A bare 20 beside a bare 50 is as likely DN 20, so nothing is read; a bare 2 or 24 can be no DN."""
    found = [sizes.flange_size(text, among_dn=True) for text in ("20", "8", "2", "24", "NPS 20", '20"')]
    assert found == [
        ("20", UnclearSize),
        ("8", UnclearSize),
        ("NPS 2", GuessedNps),
        ("NPS 24", GuessedNps),
        ("NPS 20", None),
        ("NPS 20", None),
    ]
    assert [sizes.only_dn(cell) for cell in ("50", 80, "15", "20", "2", "DN 50", "", None, "x")] == [True, True, True, *[False] * 6]


def test_sizes_agree_with_the_tables() -> None:
    """The sizes that are recognised are those of the table of flanges, in every way of writing them, and each has one DN."""
    with (TABLES / "flange_sizes.csv").open(encoding="utf-8", newline="") as file:
        names = [row["name"] for row in csv.DictReader(file)]
    assert names == [f"NPS {text}" for text in sizes.NPS.values()]
    bare = [name.removeprefix("NPS ") for name in names]
    assert list(sizes.NPS) == [float(sum(map(Fraction, text.split()))) for text in bare]
    for write in ("NPS {}", "nps{}", '{}"', "{} in"):
        assert names == [sizes.flange_size(write.format(text))[0] for text in bare]
    assert names == [sizes.flange_size(f"DN {size}")[0] for size in sizes.DN]


def test_pairs_of_nps_and_dn() -> None:
    """Up to NPS 3 1/2 the pairs are those of ASME B36.10M, from memory; from NPS 4 on a DN counts 25 to the inch, as it says there."""
    small = {15: "1/2", 20: "3/4", 25: "1", 32: "1 1/4", 40: "1 1/2", 50: "2", 65: "2 1/2", 80: "3", 90: "3 1/2"}
    assert small == {size: sizes.NPS[nps] for size, nps in sizes.DN.items() if nps < 4}
    assert [nps for nps in sizes.NPS if nps >= 4] == [size / 25 for size in sizes.DN if size >= 100]


@given(st.text(max_size=20), st.sampled_from(["", "NPS", "DN"]))
def test_any_text_as_a_size(text: str, said: str) -> None:
    """No text raises as the size of a flange: it is one of the names, or stays as typed on one line with its finding, or is blank."""
    name, finding = sizes.flange_size(text, said=said)
    known = {f"NPS {one}" for one in sizes.NPS.values()}
    assert name in known if finding is not UnclearSize and name else name in {cells.plain(text), ""}


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("m12", "M12"),
        ("M 16", "M16"),
        ("M12x1.75", "M12"),
        ("M12 x 1,75", "M12"),
        ('1/2"-13', "1/2-13 UNC"),
        ("1/2-13unc", "1/2-13 UNC"),
        ("½-13", "1/2-13 UNC"),
        ("1/2 UNC", "1/2-13 UNC"),
        ("5/8-11 UNC-2A", "5/8-11 UNC"),
        ("1-8", "1-8 UNC"),
        ("1-1/8-8", "1 1/8-8 UN"),
        ('1 1/8"-8UN', "1 1/8-8 UN"),
        ("1 1/8 8UN", "1 1/8-8 UN"),
    ],
)
def test_threads_in_obvious_spellings(text: str, key: str) -> None:
    """An obvious spelling of a thread becomes its key."""
    assert key == sizes.thread(text)


@pytest.mark.parametrize("text", ["M12x1.25", "M99", "1/2", "1/2-20 UNF", "1/2-20", "1 1/8-7 UNC", "M12 studs", "12", ""])
def test_other_threads_stay(text: str) -> None:
    """A fine, unknown or half-given thread stays as it was written."""
    assert text == sizes.thread(text)


def test_threads_agree_with_the_tables() -> None:
    """Each thread that is recognised stands in the reference tables and each of theirs is a key."""
    with (TABLES / "threads_metric.csv").open(encoding="utf-8", newline="") as file:
        metric = {row["designation"]: float(row["pitch_mm"]) for row in csv.DictReader(file)}
    with (TABLES / "threads_inch.csv").open(encoding="utf-8", newline="") as file:
        inch = {row["designation"]: float(row["threads_per_inch"]) for row in csv.DictReader(file)}
    known = {sizes.thread(f"M{size}x{pitch}"): pitch for size, pitch in sizes.COARSE_PITCH.items()}
    known |= {sizes.thread(f"{size}-{pitch}"): float(pitch) for size, pitch in sizes.INCH_THREADS.items()}
    assert known == {key: (metric | inch).get(key) for key in known}
    assert list(metric | inch) == [sizes.thread(key) for key in metric | inch]
