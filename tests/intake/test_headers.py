"""Facts about the understanding of headers."""

from __future__ import annotations

import pytest

from sheetcalc.intake import headers


@pytest.mark.parametrize(
    ("text", "entry", "unit"),
    [
        ("Stem dia. [mm]", "stem_diameter_entered", "mm"),
        ("Stem Ø (in)", "stem_diameter_entered", "in"),
        ("STEM DIAMETER, mm", "stem_diameter_entered", "mm"),
        ("Stem\ndia (mm)", "stem_diameter_entered", "mm"),
        ("diameter of the stem", "stem_diameter_entered", ""),
        ("StemDia", "stem_diameter_entered", ""),
        ("stem_diameter", "stem_diameter_entered", ""),
        ('Stem "', "stem_diameter_entered", "in"),
        ("Diamètre tige", "stem_diameter_entered", ""),
        ("Spindeldurchmesser (mm)", "stem_diameter_entered", "mm"),
        ("Bore", "box_bore_entered", ""),
        ("Stuffing box ID", "box_bore_entered", ""),
        ("Box depth (as found), mm", "box_depth_entered", "mm"),
        ("Depth in mm", "box_depth_entered", "mm"),
        ("Depth in", "box_depth_entered", "in"),
        ("Gland nose", "nose_length_entered", ""),
        ("Follower length", "nose_length_entered", ""),
        ("Studs", "gland_stud_thread", ""),
        ("Stud Ø", "gland_stud_thread", ""),
        ("No. of rings (maker)", "maker_ring_count_entered", ""),
        ("Maker's rings", "maker_ring_count_entered", ""),
        ("Unit", "unit_set", ""),
        ("Units (mm/in)", "unit_set", ""),
        ("mm/in", "unit_set", ""),
        ("Tag #", "tag", ""),
        ("Valve No.", "tag", ""),
        ("Gap 1 (mm)", "gap_reading_1_entered", "mm"),
        ("Stud centres", "stud_spacing_entered", ""),
        ("Stem (mm/in)", "stem_diameter_entered", ""),
    ],
)
def test_trade_words(text: str, entry: str, unit: str) -> None:
    """A header in the words of the trade is understood, and its unit is taken from it."""
    header = headers.understand(text)
    assert (entry, unit) == (header.entry, header.unit)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "No.",
        "No. of studs",
        "Valve size",
        "Nominal bore",
        "Stem packing",
        "Stem length",
        "Location",
        "Kind",
        "Stem (ells)",
        "stem " * 100_000,
    ],
)
def test_other_words(text: str) -> None:
    """A header that only sounds like a measurement is not taken for one."""
    assert headers.understand(text).entry == ""


@pytest.mark.parametrize("name", headers.ENTRY_COLUMNS)
def test_entry_names_head_themselves(name: str) -> None:
    """Each entry is understood under its own name, with and without the ending."""
    found = {headers.understand(name).entry, headers.understand(name.removesuffix("_entered").replace("_", " ")).entry}
    assert {name} == found


@pytest.mark.parametrize("text", ["Set compression (%)", "Set compression, %", "Set compression in %"])
def test_per_cent_in_a_header(text: str) -> None:
    """A header can ask for per cent."""
    header = headers.understand(text)
    expected = ("set_compression_entered", True)
    assert expected == (header.entry, header.percent)


def test_weak_words_give_way() -> None:
    """The word Valve is the tag only where no plainer header is."""
    alone = [header.entry for header in headers.understand_row(["Valve", "Stem"])]
    beside = [header.entry for header in headers.understand_row(["Valve", "Tag", "Stem"])]
    expected = (["tag", "stem_diameter_entered"], ["", "tag", "stem_diameter_entered"])
    assert expected == (alone, beside)


@pytest.mark.parametrize(
    ("cells", "score"),
    [
        (["Valve"], 0),
        (["Tag"], 0),
        (["Stem"], 1),
        (["Bore", "Colour"], 1),
        (["Tag", "Stem", "Stem"], 2),
        ([1, None], 0),
    ],
)
def test_score_of_a_header_row(cells: list[object], score: int) -> None:
    """A row counts by its different measurements, and one word alone only for the stem or the bore."""
    assert score == headers.score(headers.understand_row(cells))


def test_units_row() -> None:
    """A row of nothing but units gives each column its unit; a row with a value is none."""
    heads = headers.understand_row(["Tag", "Stem", "Bore", "Waste"])
    expected = (("", False), ("mm", False), ("in", False), ("", True))
    assert expected == headers.units_row(["", "[mm]", "in", "%"], heads)
    assert headers.units_row(["V1", "mm", "in", "%"], heads) is None
    assert headers.units_row(["", "", "", ""], heads) is None
