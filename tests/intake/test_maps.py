"""Facts about maps: what the user says of his headers, typed or kept in a file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetcalc.errors import ListError
from sheetcalc.intake import maps
from sheetcalc.intake.lists import read_list

STEM, BORE = "stem_diameter_entered", "box_bore_entered"
LIST = "Code,Size,Hole (mm),Note,Bore\nV-1,28 mm,44,worn,big\n"


@pytest.fixture
def codes(tmp_path: Path) -> Path:
    """A list whose headers only its planner knows."""
    path = tmp_path / "codes.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def test_typed_maps() -> None:
    """A header may hold an equals sign itself: the last one parts it from the entry."""
    assert maps.typed(["Their header=stem_diameter", " A = B = tag "]) == {"Their header": "stem_diameter", "A = B": "tag"}


@pytest.mark.parametrize("text", ["Stem", "=stem_diameter", "Stem=", " = "])
def test_a_typed_map_without_two_sides(text: str) -> None:
    """What names no header or no entry is refused with how to write it."""
    with pytest.raises(ListError, match="write it like"):
        maps.typed([text])


def test_a_header_typed_twice() -> None:
    """One header cannot be mapped twice, whatever its case."""
    with pytest.raises(ListError, match="twice"):
        maps.typed(["Size=stem_diameter", "SIZE=box_bore"])


@pytest.mark.parametrize(
    ("name", "said"), [("stem_diamter", "stem_diameter"), ("bore", "box_bore"), ("xyzzy", "and so on"), ("", "and so on")]
)
def test_an_unknown_entry_is_refused_with_the_nearest(codes: Path, name: str, said: str) -> None:
    """An entry that does not exist is named, with those that come nearest."""
    with pytest.raises(ListError, match=f"'Size' cannot be mapped.*{said}"):
        read_list(codes, wanted={"Size": name})


def test_two_headers_of_one_entry(codes: Path) -> None:
    """Two headers cannot be told to give one measurement; of a file's map the typed one takes its place."""
    with pytest.raises(ListError, match="both mapped to stem_diameter"):
        read_list(codes, wanted={"Size": "stem_diameter", "Hole (mm)": "stem_diameter"})
    read = read_list(codes, wanted={"Code": "tag", "Hole (mm)": "stem_diameter"}, mapped={"Size": "stem_diameter"})
    assert (read.frame.loc[0, STEM], next(iter(read.carried))) == (44.0, "Size")


def test_a_header_that_the_list_lacks(codes: Path) -> None:
    """Asked for outright it is an error with the nearest headers; from a file it is a finding, since lists differ."""
    with pytest.raises(ListError, match=r"no header 'Sise' \(nearest: Size\)"):
        read_list(codes, wanted={"Code": "tag", "Sise": "stem_diameter"})
    with pytest.raises(ListError, match=r"no header 'Q' \(it has: Code, Size,"):
        read_list(codes, wanted={"Code": "tag", "Size": "stem_diameter", "Q": "place"})
    read = read_list(codes, wanted={"Code": "tag", "Size": "stem_diameter"}, mapped={"Sise": "place"})
    assert [(f.kind, f.column, f.value) for f in read.findings if f.kind == "map-not-used"] == [("map-not-used", "Sise", "nearest: Size")]


def test_a_mapped_list(codes: Path) -> None:
    """Each column is what the map says: its unit is still read from its header, and a header's own words do not count."""
    read = read_list(codes, wanted={"code": "tag", "size": "stem_diameter", "hole (mm)": "box_bore", "bore": "carry"})
    assert [read.frame.loc[0, name] for name in ("tag", STEM, BORE)] == ["V-1", 28.0, 44.0]
    assert read.carried == {"Note": ["worn"], "Bore": ["big"]}
    assert [column.sure for column in read.columns] == ["mapped", "mapped", "mapped", "unknown", "mapped"]
    assert [f.column for f in read.findings if f.kind == "unknown-header"] == ["Note"]


def test_a_saved_map_is_read_again(tmp_path: Path, codes: Path) -> None:
    """What was understood of a list is the same when its saved map is all that is said."""
    first = read_list(codes, wanted={"Code": "tag", "Size": "stem_diameter", "Hole (mm)": "box_bore", "Bore": "carry"})
    saved = tmp_path / "map.toml"
    saved.write_text(maps.text_of(first), encoding="utf-8")
    held = maps.read(saved)
    assert held == {"Code": "tag", "Size": "stem_diameter", "Hole (mm)": "box_bore", "Bore": "carry"}
    second = read_list(codes, mapped=held)
    assert first.understood == second.understood
    assert first.frame.equals(second.frame)


def test_a_map_saved_from_headers_in_two_lines(tmp_path: Path) -> None:
    """The map of headers that stand in two lines names what they say together, and is read again."""
    path = tmp_path / "two.csv"
    path.write_text("Tag,Stem,Box,\n,dia (mm),bore (mm),depth (mm)\nV-1,28,44,60\n", encoding="utf-8")
    first = read_list(path)
    (tmp_path / "map.toml").write_text(maps.text_of(first), encoding="utf-8")
    second = read_list(path, mapped=maps.read(tmp_path / "map.toml"))
    assert [column.sure for column in second.columns] == ["mapped"] * 4
    assert first.frame.equals(second.frame)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "no map file"),
        (b"Stem = ", "each line must be like"),
        (b"Their header = 'tag'", "each line must be like"),
        (b"\xff\xfe", "each line must be like"),
        (b'"Size" = 5', "write it in quotes"),
        (b'["Size"]\na = "b"', "write it in quotes"),
        (b"#" * (2**20 + 1), "far too large"),
    ],
)
def test_bad_map_files(tmp_path: Path, content: bytes | None, said: str) -> None:
    """A map file that is missing, broken or something else is refused in one sentence that names it."""
    path = tmp_path / "map.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(ListError, match=said) as raised:
        maps.read(path)
    assert ("map.toml" in str(raised.value), len(str(raised.value).splitlines())) == (True, 1)


@given(st.text(min_size=1, max_size=30))
def test_any_header_can_be_saved(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    """Whatever a header holds, its line of the map is read back as it was written."""
    path = tmp_path_factory.mktemp("any") / "map.toml"
    path.write_text(f'{maps._quoted(text)} = "tag"\n', encoding="utf-8", newline="")
    assert {text: "tag"} == maps.read(path)
