"""Facts about the row of a list that is its header."""

from __future__ import annotations

import pytest

from sheetcalc.intake import header_rows, headers

STEM, BORE = "stem_diameter_entered", "box_bore_entered"


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("Dimensions (mm)", "mm"),
        ("All dimensions in mm", "mm"),
        ("All dims. in mm unless noted", "mm"),
        ("Sizes [in]", "in"),
        ("All lengths in inches.", "in"),
        ("mm", "mm"),
        ("Dimensions", ""),
        ("Valves of line 3 in", ""),
        ("East wing in m", ""),
        ("All sizes in mm or inch", ""),
        ("Pressures (bar)", ""),
    ],
)
def test_units_of_headings(text: str, unit: str) -> None:
    """A heading gives its unit to the lengths below it where it speaks of nothing but lengths and one unit."""
    assert unit == header_rows.heading_unit(text)


@pytest.mark.parametrize(
    ("rows", "at", "lines", "entries"),
    [
        ([["Tag", "Stem"], ["V1", 28]], 0, 1, ["tag", STEM]),
        ([["Tag", "Stem", "Note"], ["V1", 28, "depth"]], 0, 1, ["tag", STEM, ""]),
        ([["Tag", "Stem", "Note"], ["", "", "depth"], ["V1", 28, ""]], 0, 2, ["tag", STEM, "box_depth_entered"]),
        ([["Tag", "Stem"], ["", "dia."], ["V1", 28]], 0, 2, ["tag", STEM]),
        ([["Tag", "Stem"], ["", "mm"], ["V1", 28]], 0, 1, ["tag", STEM]),
        ([["Tag", "Stem", "Bore"], ["Tag", "Stem", "Bore"]], 0, 1, ["tag", STEM, BORE]),
        ([["A list"], ["Tag", "Stem", "Bore"], ["V1", 28, 44]], 1, 1, ["tag", STEM, BORE]),
        ([["", "Stem", "", "Bore"], ["Tag", "dia", "thread pitch", "dia"]], 0, 2, ["tag", STEM, "stem_thread_pitch_entered", BORE]),
        ([["Valve", "", "Stem"], ["Size", "Tag", "dia"], ["DN 50", "V1", 28]], 0, 2, ["flange_size", "tag", STEM]),
        ([["Valve", "", "Stem"], ["Kind", "Tag", "dia"], ["gate", "V1", 28]], 0, 2, ["", "tag", STEM]),
        (
            [["Tag", "Stem", "Flange", ""], ["", "", "size", "class"], ["V1", 28, 2, 150]],
            0,
            2,
            ["tag", STEM, "flange_size", "flange_class_entered"],
        ),
    ],
)
def test_the_header_is_found_in_one_line_or_two(rows: list[list[object]], at: int, lines: int, entries: list[str]) -> None:
    """Two lines are a header where together they say more than one does; a valve below the header is no part of it."""
    found = header_rows.find(rows)
    assert found is not None
    assert (at, lines, entries) == (found.at, found.lines, [header.entry for header in found.headers])


def test_no_header_is_found_in_other_rows() -> None:
    """Rows of a cover sheet are no header, read together or not."""
    assert header_rows.find([["Outage"], ["Location", "Medium"], ["hall", "water"]]) is None
    assert header_rows.find([]) is None


@pytest.mark.parametrize(
    ("cells", "score"),
    [
        (["Location", "Medium", "Pressure", "Temp"], 0),
        (["Tag", "Location", "Medium"], 3),
        (["Tag", "Crew", "Day", "Hours", "Critical"], 0),
        (["Tag", "Stem", "Crew", "Day"], 2),
        (["Valve"], 0),
        (["Tag"], 0),
        (["Stem"], 1),
        (["Bore", "Colour"], 1),
        (["Tag", "Stem", "Stem"], 2),
        (["Tag", "Flange size", "Flange class", "Facing", "Weight"], 2),
        (["Tag", "Line size", "Rating", "Weight"], 0),
        (["Flange size", "Flange class", "Facing"], 0),
        (["Tag", "Stem", "Flange size", "Flange class"], 3),
        ([1, None], 0),
    ],
)
def test_score_of_a_header_row(cells: list[object], score: int) -> None:
    """A row counts by its different measurements; one word alone only for the stem or the bore, and a cover sheet's words never."""
    assert score == header_rows.score(headers.understand_row(cells))


def test_units_row() -> None:
    """A row of nothing but units gives each column its unit; a row with a value is none."""
    heads = headers.understand_row(["Tag", "Stem", "Bore", "Waste"])
    expected = (("", False), ("mm", False), ("in", False), ("", True))
    assert expected == header_rows.units_row(["", "[mm]", "in", "%"], heads)
    assert header_rows.units_row(["V1", "mm", "in", "%"], heads) is None
    assert header_rows.units_row(["", "", "", ""], heads) is None


def test_units_row_of_all_kinds() -> None:
    """A row of units may hold pressures and temperatures; one under the wrong measurement makes it none."""
    heads = headers.understand_row(["Tag", "Stem", "Pressure", "Temp", "pH", "Note"])
    expected = (("", False), ("", False), ("bar", False), ("degC", False), ("", False), ("kN", False))
    assert expected == header_rows.units_row(["", "", "bar(g)", "[°C]", "pH", "kN"], heads)
    assert header_rows.units_row(["", "mm", "°C", "bar", "", ""], heads) is None
    assert header_rows.units_row(["", "mm", "bara", "°C", "", ""], heads) is None


def test_units_row_of_flanges_and_lift() -> None:
    """A row of units gives a weight its unit, a force or a length below it makes it none, and NPS or DN below a size is let pass."""
    heads = headers.understand_row(["Tag", "Stem", "Flange size", "Flange class", "Weight", "Rim pull"])
    expected = (("", False), ("mm", False), ("", False), ("lb", False), ("kg", False), ("kgf", False))
    assert expected == header_rows.units_row(["", "mm", "DN", "lb", "kg", "kg"], heads)
    assert header_rows.units_row(["", "mm", "", "", "N", ""], heads) is None
    assert header_rows.units_row(["", "mm", "", "", "mm", ""], heads) is None


def test_units_row_of_the_plan() -> None:
    """A row of units may hold the hours of the man-hours, and hours below a length make it none."""
    heads = headers.understand_row(["Tag", "Stem", "Man-hours", "Crew"])
    expected = (("", False), ("mm", False), ("h", False), ("", False))
    assert expected == header_rows.units_row(["", "mm", "hrs", "no."], heads)
    assert header_rows.units_row(["", "h", "mm", ""], heads) is None
