"""Facts about lists: what a messy one becomes, and what is said about it."""

from __future__ import annotations

import csv
import datetime as dt
import io
import math
import re
import zipfile
from collections import Counter
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetcalc.intake.entries import ENTRY_COLUMNS, FLANGE_COLUMNS, PLAN_COLUMNS
from sheetcalc.intake.lists import ValveList, read_list

DEMO = Path(__file__).parents[2] / "demo" / "valves.csv"
STEM, BORE = "stem_diameter_entered", "box_bore_entered"
DEPTH, NOSE = "box_depth_entered", "nose_length_entered"
LENGTHS = [STEM, BORE, DEPTH, NOSE]
HEAD = "Tag,Units,Stem,Bore,Depth,Nose"


def from_csv(folder: Path, text: str, encoding: str = "utf-8", **how: Any) -> ValveList:
    """The list that a CSV text becomes."""
    path = folder / "list.csv"
    path.write_bytes(text.encode(encoding))
    return read_list(path, **how)


def from_rows(folder: Path, rows: list[list[Any]], **how: Any) -> ValveList:
    """The list that the first sheet of a workbook becomes; texts stay texts, even with an equals sign."""
    book = openpyxl.Workbook()
    fill(book.active, rows)
    path = folder / "list.xlsx"
    book.save(path)
    return read_list(path, **how)


def fill(sheet: Any, rows: list[list[Any]]) -> None:
    """Write rows into a sheet."""
    for at, row in enumerate(rows, 1):
        for column, value in enumerate(row, 1):
            cell = sheet.cell(at, column, value)
            if isinstance(value, str):
                cell.data_type = "s"


def kinds(valves: ValveList) -> list[str]:
    """The kinds of all findings that stand in a row of the list, in order."""
    return [finding.kind for finding in valves.findings if finding.row is not None]


def row(valves: ValveList, at: int = 0, names: list[str] | None = None) -> list[Any]:
    """Some cells of one valve."""
    return [valves.frame.loc[at, name] for name in names or ["tag", "unit_set", *LENGTHS]]


V1 = ["V1", "metric", 28.0, 44.0, 60.0, 25.0]

#: Lists that are ugly each in its own way, and mean the same valve. Each is a name and the text of a CSV file.
UGLY_TEXTS = {
    "plain": f"{HEAD}\nV1,mm,28,44,60,25\n",
    "windows line ends": f"{HEAD}\r\nV1,mm,28,44,60,25\r\n",
    "old line ends": f"{HEAD}\rV1,mm,28,44,60,25\r",
    "no last line end": f"{HEAD}\nV1,mm,28,44,60,25",
    "semicolons": "Tag;Units;Stem;Bore;Depth;Nose\nV1;mm;28,0;44,0;60;25\n",
    "tabs": "Tag\tUnits\tStem\tBore\tDepth\tNose\nV1\tmm\t28,0\t44\t60\t25\n",
    "all quoted": '"Tag","Units","Stem","Bore","Depth","Nose"\n"V1","mm","28","44","60","25"\n',
    "title above": f"Valves of the east wing, 3 May\nunits: see list,,\n\n{HEAD}\nV1,mm,28,44,60,25\n",
    "blank rows": f"\n\n{HEAD}\n\n,,,,,\nV1,mm,28,44,60,25\n,,,\n\n",
    "other order": "Nose;Depth;Bore;Stem;Unit;TAG NO.\n25;60;44;28;Metric;V1\n",
    "units in headers": "tag,stem dia [mm],stuffing-box bore (mm),box depth; mm,gland nose mm\nV1,28,44,60,25\n",
    "units in cells": "Tag,Stem,Bore,Depth,Nose\nV1,28 mm,44mm,60 MM,2.5 cm\n",
    "units row": "Tag,Stem,Bore,Depth,Nose\n,mm,mm,mm,mm\nV1,28,44,60,25\n",
    "inches in a metric row": f"{HEAD}\nV1,mm,28,44,60,0.984251968503937 in\n",
    "shouted": f"{HEAD.upper()}\nV1,METRIC,28,44,60,25\n",
    "odd spaces": "\u00a0Tag , Units,Stem\u00a0dia,Bore ,Depth,Nose\n V1 ,\u00a0mm,\u00a028 , 44,60\u00a0,\u202f25\n",
    "repeated header": f"{HEAD}\n{HEAD}\nV1,mm,28,44,60,25\n",
    "remark below": f"{HEAD},Note\nV1,mm,28,44,60,25,ok\n,,,,,,checked by the east wing\n",
    "signs": f"{HEAD}\nV1,mm,Ø28,+44,60.0,2.5e1\n",
}


@pytest.mark.parametrize("name", UGLY_TEXTS)
def test_ugly_text_lists(tmp_path: Path, name: str) -> None:
    """However a list is typed, the valve in it is the same."""
    valves = from_csv(tmp_path, UGLY_TEXTS[name])
    assert len(valves.rows) == 1
    assert V1[:2] == row(valves)[:2]
    assert pytest.approx(V1[2:], rel=1e-12) == row(valves)[2:]


@pytest.mark.parametrize("name", sorted(set(UGLY_TEXTS) - {"semicolons", "tabs", "other order"}))
def test_ugly_workbooks(tmp_path: Path, name: str) -> None:
    """The same ugly lists mean the same valve where they stand in a workbook."""
    valves = from_rows(tmp_path, list(csv.reader(io.StringIO(UGLY_TEXTS[name], newline=""))))
    assert len(valves.rows) == 1
    assert V1[:2] == row(valves)[:2]
    assert pytest.approx(V1[2:], rel=1e-12) == row(valves)[2:]


@pytest.mark.parametrize(
    ("encoding", "said"),
    [("utf-8-sig", []), ("utf-16", []), ("utf-8", []), ("cp1252", ["guessed-encoding"])],
)
def test_encodings(tmp_path: Path, encoding: str, said: list[str]) -> None:
    """Unicode is read as it is; Windows Latin is a guess, and that is said."""
    valves = from_csv(tmp_path, "Tag,Stem Ø (mm),Bore\nVé½,28,44\n", encoding)
    expected = ["Vé½", 28.0]
    assert expected == row(valves, names=["tag", STEM])
    assert said == [finding.kind for finding in valves.findings if finding.kind == "guessed-encoding"]


def test_shape_of_the_frame(tmp_path: Path) -> None:
    """The frame has exactly the entry columns in order, one row a valve, all cells as objects."""
    valves = from_csv(tmp_path, f"{HEAD}\nV1,mm,28,,60,25\n")
    assert list(ENTRY_COLUMNS) == list(valves.frame.columns)
    expected = ["object"]
    assert expected == sorted({str(kind) for kind in valves.frame.dtypes})
    assert list(valves.frame.index) == [0]
    assert math.isnan(row(valves, names=[BORE])[0])
    assert row(valves, names=["cut_style_entered"])[0] == ""
    assert valves.source == "list.csv"


def test_rows_and_verbatim_count_as_the_file_does(tmp_path: Path) -> None:
    """Rows count from 1 as in the file, blank ones too, and every cell is kept as it stood."""
    valves = from_csv(tmp_path, f'A title\n\n{HEAD}\n"V\n1",mm,28,,60, 25 \n\nV2,mm,28,44,60,25,\n')
    assert valves.rows == (4, 6)
    expected = (("V\n1", "mm", "28", "", "60", " 25 "), (("A title",), (), 6), "V\n1")
    assert expected == (
        valves.verbatim[3],
        (valves.verbatim[0], valves.verbatim[1], len(valves.verbatim)),
        row(valves)[0],
    )


# --- unit sets and units ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "expected", "said"),
    [
        ("Tag,Stem,Bore\nV1,28,44\n", ["", 28.0, 44.0], ["missing-unit-set"]),
        ("Tag,Units,Stem,Bore\nV1,,28,44\n", ["", 28.0, 44.0], ["missing-unit-set"]),
        ("Tag,Units,Stem,Bore\nV1,ells,28,44\n", ["ells", 28.0, 44.0], ["unknown-unit-set"]),
        ("Tag,Units,Stem,Bore\nV1,ells,28 mm,44\n", ["ells", "28 mm", 44.0], ["unit-without-set", "unknown-unit-set"]),
        ('Tag,Stem,Bore\nV1,"1 1/8""",1.75\n', ["US", 1.125, 1.75], []),
        ("Tag,Stem (in),Bore\nV1,1.125,1.75\n", ["US", 1.125, 1.75], []),
        ("Tag,Stem,Bore\n,in,in\nV1,1.125,1.75\n", ["US", 1.125, 1.75], []),
        ("Tag,Stem,Bore\nV1,50.8 mm,3 in\n", ["metric", 50.8, 76.2], ["converted-unit"]),
        ("Tag,Stem,Bore,Depth\nV1,2 in,76.2 mm,3\n", ["US", 2.0, 3.0], ["converted-unit"]),
        (
            "Tag,Stem,Bore (mm),Depth (in)\nV1,2,76.2,3\n",
            ["", 2.0, "76.2 mm"],
            ["missing-unit-set"] + ["unit-without-set"] * 2,
        ),
        ("Tag,Units,Stem (mm),Bore (mm)\nV1,US,50.8,76.2\n", ["US", 2.0, 3.0], ["converted-unit"] * 2),
        ("Tag,Units,Stem (in),Bore\n,,mm,\nV1,mm,28,44\n", ["metric", 28.0, 44.0], []),
        ("Tag,Units,Stem (in),Bore\n,,mm,\nV1,mm,2 in,44\n", ["metric", 50.8, 44.0], ["converted-unit"]),
        ("Tag,Units,Stem,Bore\nV1,mm,0.028 m,4.4 cm\n", ["metric", 28.0, 44.0], ["converted-unit"] * 2),
        ("Tag,Units,Stem,Bore\nV1,mm,7/16,44\n", ["metric", 0.4375, 44.0], ["fraction-in-metric-row"]),
        ("Tag,Units,Stem,Bore\nV1,mm,28 1/2,44\n", ["metric", 28.5, 44.0], []),
        ("Tag,Units,Stem,Bore\nV1,mm,28 ells,44\n", ["metric", "28 ells", 44.0], ["unknown-unit"]),
        ("Tag,Units,Stem,Bore\nV1,mm,28 %,44\n", ["metric", "28 %", 44.0], ["unknown-unit"]),
    ],
)
def test_units(tmp_path: Path, text: str, expected: list[object], said: list[str]) -> None:
    """The cell's unit goes before that of a units row, that before the header's, that before the row's unit set."""
    valves = from_csv(tmp_path, text)
    assert expected == [
        pytest.approx(cell, rel=1e-14) if isinstance(cell, float) else cell for cell in row(valves, names=["unit_set", STEM, BORE])
    ]
    assert sorted(said) == sorted(kinds(valves))


def test_mm_to_inches_is_exact(tmp_path: Path) -> None:
    """28 mm in an inch row is 28/25.4, to the last digit."""
    valves = from_csv(tmp_path, "Tag,Units,Stem,Bore\nV1,US,28 mm,2\n")
    expected = [28 / 25.4]
    assert expected == row(valves, names=[STEM])


PRESSURE, TEMPERATURE = "line_pressure_entered", "fluid_temperature_entered"
STRESS, PULL = "most_gland_stress_entered", "most_rim_pull_entered"


@pytest.mark.parametrize(
    ("units", "header", "cell", "number", "said"),
    [
        # Factors: NIST SP 811 (2008), appendix B.8: psi 6.894 757 kPa, ksi 6.894 757 MPa, lbf 4.448 222 N, kgf/cm2
        # 98.066 5 kPa and kgf 9.806 65 N exactly; bar and mbar by definition. From memory.
        ("mm", "Pressure", "16", 16.0, []),
        ("mm", "Pressure", "16 barg", 16.0, []),
        ("mm", "Pressure", "1600 kPa", 16.0, ["converted-unit"]),
        ("mm", "Pressure", "1.6 MPa", 16.0, ["converted-unit"]),
        ("mm", "Pressure", "16000 mbar", 16.0, ["converted-unit"]),
        ("mm", "Pressure", "150 psig", 150 * 0.06894757, ["converted-unit"]),
        ("mm", "Pressure", "10 kg/cm2", 9.80665, ["converted-unit"]),
        ("mm", "Pressure (psi)", "150", 150 * 0.06894757, ["converted-unit"]),
        ("mm", "Pressure (psi)", "16 bar", 16.0, []),
        ("in", "Pressure", "150", 150.0, []),
        ("in", "Pressure [psig]", "150", 150.0, []),
        ("in", "Pressure", "10 bar", 1000 / 6.894757, ["converted-unit"]),
        ("in", "Pressure (kPa)", "1000", 1000 / 6.894757, ["converted-unit"]),
        ("mm", "Max gland stress", "30", 30.0, []),
        ("mm", "Max gland stress", "30 N/mm2", 30.0, []),
        ("mm", "Max gland stress (psi)", "4000", 4 * 6.894757, ["converted-unit"]),
        ("mm", "Max gland stress", "4 ksi", 4 * 6.894757, ["converted-unit"]),
        ("in", "Max gland stress", "4 ksi", 4000.0, ["converted-unit"]),
        ("in", "Max gland stress (MPa)", "30", 30_000 / 6.894757, ["converted-unit"]),
        ("mm", "Rim pull", "400", 400.0, []),
        ("mm", "Rim pull (kN)", "0.4", 400.0, ["converted-unit"]),
        ("mm", "Rim pull", "90 lbf", 90 * 4.448222, ["converted-unit"]),
        ("mm", "Rim pull", "40 kgf", 40 * 9.80665, ["converted-unit"]),
        ("in", "Rim pull", "90", 90.0, []),
        ("in", "Rim pull", "400 N", 400 / 4.448222, ["converted-unit"]),
        # Temperatures: NIST SP 811 (2008), appendix B.8: C = (F - 32) / 1.8 and C = K - 273.15. From memory.
        ("mm", "Temp", "180", 180.0, []),
        ("mm", "Temp (C)", "-20", -20.0, []),
        ("mm", "Temp", "212 °F", 100.0, ["converted-unit"]),
        ("mm", "Temp (degF)", "-40", -40.0, ["converted-unit"]),
        ("mm", "Temp", "373.15 K", 100.0, ["converted-unit"]),
        ("mm", "Temp (°F)", "180 C", 180.0, []),
        ("in", "Temp", "212", 212.0, []),
        ("in", "Temp", "0 °C", 32.0, ["converted-unit"]),
        ("in", "Temp (°C)", "100", 212.0, ["converted-unit"]),
        ("in", "Temp (K)", "273.15", 32.0, ["converted-unit"]),
    ],
)
def test_other_units(tmp_path: Path, units: str, header: str, cell: str, number: float, said: list[str]) -> None:
    """A pressure, temperature, stress or force comes in the unit of its row: the cell's unit goes before the header's."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;{units};28;{cell}\n")
    found = row(valves, names=[valves.understood[header]])
    assert [pytest.approx(number, rel=1e-6, abs=1e-9)] == found
    assert said == kinds(valves)


def test_temperatures_of_both_scales_are_exact(tmp_path: Path) -> None:
    """The round temperatures stay round on the other scale."""
    valves = from_csv(tmp_path, "Tag,Units,Stem,Temp\nV1,mm,28,212 F\nV2,in,1,100 C\nV3,in,1,-40 C\nV4,mm,28,32 F\n")
    expected = [100.0, 212.0, -40.0, 0.0]
    assert expected == list(valves.frame[TEMPERATURE])


def test_units_row_of_all_kinds(tmp_path: Path) -> None:
    """A row of units goes before the headers, and gives each column its own."""
    valves = from_csv(tmp_path, "Tag,Stem,Pressure (bar),Temp,Rim pull\n,in,psi,°C,N\nV1,1.125,150,100,445\n")
    expected = ["US", 1.125, 150.0, 212.0, pytest.approx(445 / 4.448222, rel=1e-6)]
    assert expected == row(valves, names=["unit_set", STEM, PRESSURE, TEMPERATURE, PULL])
    assert kinds(valves) == ["converted-unit"] * 2


def test_pressure_says_nothing_of_the_unit_set(tmp_path: Path) -> None:
    """A row without a unit set does not get one from its pressure, and what has a unit there stays a text with it."""
    valves = from_csv(tmp_path, "Tag,Stem,Pressure (psi),Temp,Rim pull\nV1,28,150,180 °C,400\n")
    expected = (["", 28.0, "150 psi", "180 °C", 400.0], ["missing-unit-set"] + ["unit-without-set"] * 2)
    assert expected == (row(valves, names=["unit_set", STEM, PRESSURE, TEMPERATURE, PULL]), sorted(kinds(valves)))


def test_text_with_its_unit_is_read_again(tmp_path: Path) -> None:
    """What was kept as text with the header's unit is understood once the row has its unit set."""
    first = from_csv(tmp_path, "Tag,Stem,Pressure (kg/cm2),Temp (F)\nV1,28,10,212\n")
    kept = row(first, names=[PRESSURE, TEMPERATURE])
    second = from_csv(tmp_path, f"Tag,Units,Stem,Pressure,Temp\nV1,mm,28,{kept[0]},{kept[1]}\n")
    expected = [pytest.approx(9.80665, rel=1e-12), 100.0]
    assert expected == row(second, names=[PRESSURE, TEMPERATURE])


# --- bad cells --------------------------------------------------------------------------------------------------------


def test_bad_cells_keep_their_text_and_good_rows_go_on(tmp_path: Path) -> None:
    """What cannot be read stays as the user's own text, with a finding of place and value; other cells are read."""
    valves = from_csv(tmp_path, f"{HEAD}\nV1,mm,worn,44,60,25\nV2,mm,28,44,16-Jul,25\nV3,mm,28,44,60,25\n")
    read = [
        ["V1", "metric", "worn", 44.0, 60.0, 25.0],
        ["V2", "metric", 28.0, 44.0, "16-Jul", 25.0],
        ["V3", "metric", 28.0, 44.0, 60.0, 25.0],
    ]
    assert read == [row(valves, at) for at in range(3)]
    found = [(f.kind, f.row, f.column, f.value, f.tag) for f in valves.findings]
    expected = [("not-a-number", 2, "Stem", "worn", "V1"), ("date-was-fraction", 3, "Depth", "16-Jul is a date, probably 7/16", "V2")]
    assert expected == found


@pytest.mark.parametrize(
    ("header", "cell", "kept", "kind"),
    [
        ("Pressure", "16 bara", "16 bara", "unknown-unit"),
        ("Pressure", "16 mm", "16 mm", "unknown-unit"),
        ("Pressure", "12 %", "12 %", "unknown-unit"),
        ("Pressure", "10/16", "10/16", "two-numbers"),
        ("Pressure", "1,500", "1,500", "unclear-comma"),
        ("Pressure", "vacuum", "vacuum", "not-a-number"),
        ("Temp", "180 bar", "180 bar", "unknown-unit"),
        ("Temp", "hot", "hot", "not-a-number"),
        ("Rim pull", "12,500 N", "12,500 N", "unclear-comma"),
        ("Rim pull", "400 N m", "400 N m", "not-a-number"),
        ("Max gland stress", "30 °C", "30 °C", "unknown-unit"),
        ("Stem thread pitch", "8 tpi", "8 tpi", "unknown-unit"),
        ("Handwheel radius", "150 bar", "150 bar", "unknown-unit"),
        ("No of studs", "two", "two", "not-a-number"),
        ("No of studs", "2 mm", "2 mm", "not-a-number"),
        ("pH", "6/8", "6/8", "two-numbers"),
        ("pH", "7 bar", "7 bar", "not-a-number"),
        ("pH", "12 %", "12 %", "not-a-number"),
        ("Nut factor", "0.2 mm", "0.2 mm", "not-a-number"),
        ("Flank angle", "14°30'", "14°30'", "not-a-number"),
    ],
)
def test_bad_cells_of_every_kind(tmp_path: Path, header: str, cell: str, kept: str, kind: str) -> None:
    """A cell that cannot be read stays as text, with a finding of its place, and the rest of the row is read."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;mm;28;{cell}\n")
    expected = ([28.0, kept], [(kind, 2, header, cell, "V1")])
    found = [(f.kind, f.row, f.column, f.value, f.tag) for f in valves.findings if f.row]
    assert expected == (row(valves, names=[STEM, valves.understood[header]]), found)


def test_cells_of_a_spreadsheet(tmp_path: Path) -> None:
    """A truth value is no number, nor is a date, and an error stays as its text."""
    cells: list[list[Any]] = [HEAD.split(","), ["V1", "mm", True, dt.datetime(2026, 5, 16), "#N/A", 25]]  # noqa: DTZ001
    valves = from_rows(tmp_path, cells)
    expected = (["V1", "metric", "TRUE", "2026-05-16", "#N/A", 25.0], ["not-a-number", "date-was-fraction", "not-a-number"])
    assert expected == (row(valves), kinds(valves))
    assert tuple(cells[1]) == valves.verbatim[1]


def test_date_for_a_text(tmp_path: Path) -> None:
    """A tag or thread that a spreadsheet made a date is kept as text, and named."""
    valves = from_rows(tmp_path, [["Tag", "Units", "Stem", "Studs"], [dt.date(2013, 1, 2), "mm", 28, dt.date(2013, 1, 2)]])
    expected = (["2013-01-02", "2013-01-02"], ["date-not-text", "date-not-text"])
    assert expected == (row(valves, names=["tag", "gland_stud_thread"]), kinds(valves))


def test_formula_without_its_result(tmp_path: Path) -> None:
    """A formula whose result is not stored does not pass for a blank."""
    book = openpyxl.Workbook()
    book.worksheets[0].append(HEAD.split(","))
    book.worksheets[0].append(["V1", "mm", "=14*2", 44, 60, 25])
    book.save(tmp_path / "list.xlsx")
    valves = read_list(tmp_path / "list.xlsx")
    expected = (["V1", "metric", "=14*2", *V1[3:]], ["formula-without-value"])
    assert expected == (row(valves), kinds(valves))
    assert valves.verbatim[1][2] == "=14*2"


def test_guessed_comma_is_said(tmp_path: Path) -> None:
    """A comma that could part thousands is read as a decimal comma, and that is said."""
    valves = from_csv(tmp_path, "Tag;Units;Stem\nV1;in;1,125\nV2;in;1,25\n")
    expected = ([1.125, 1.25], ["guessed-comma"])
    assert expected == (list(valves.frame[STEM]), kinds(valves))


def test_comma_that_split_a_number(tmp_path: Path) -> None:
    """A row with more cells than headers is named: its values may stand in the wrong column."""
    valves = from_csv(tmp_path, f"{HEAD}\nV1,mm,28,5,44,60,25\nV2,mm,28,44,60,25\n")
    expected = [("extra-cells", 2, "25")]
    assert expected == [(f.kind, f.row, f.value) for f in valves.findings if f.row]
    assert valves.carried == {"Column G": ["25", ""]}


@pytest.mark.parametrize(
    ("header", "cell", "share", "said"),
    [
        ("Set compression", "0.30", 0.30, []),
        ("Set compression", "30 %", 0.30, []),
        ("Set compression", "30", 0.30, ["guessed-percent"]),
        ("Set compression (%)", "30", 0.30, []),
        ("Set compression (%)", "30 %", 0.30, []),
        ("Set compression (%)", "0,30", 0.30, ["guessed-percent"]),
        ("Waste %", "1", 0.01, []),
        ("Waste %", "0", 0.0, []),
        ("Waste", "5 mm", "5 mm", ["not-a-number"]),
    ],
)
def test_shares(tmp_path: Path, header: str, cell: str, share: object, said: list[str]) -> None:
    """A share is read as one, in per cent or not; where that was guessed, a finding says so."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;mm;28;{cell}\n")
    name = "waste_share_entered" if header.startswith("Waste") else "set_compression_entered"
    expected = [share]
    assert expected == row(valves, names=[name])
    assert said == kinds(valves)


def test_share_with_a_percent_format(tmp_path: Path) -> None:
    """A cell that a spreadsheet shows as 30 % holds 0.30, also under a header that asks for per cent."""
    book = openpyxl.Workbook()
    fill(book.active, [["Tag", "Units", "Stem", "Set compression (%)"], ["V1", "mm", 28, 0.3]])
    book.worksheets[0]["D2"].number_format = "0%"
    book.save(tmp_path / "list.xlsx")
    valves = read_list(tmp_path / "list.xlsx")
    expected = [0.3]
    assert expected == row(valves, names=["set_compression_entered"])
    assert kinds(valves) == []


def test_counts(tmp_path: Path) -> None:
    """A ring count may be followed by its word, and has no unit."""
    valves = from_csv(tmp_path, "Tag,Units,Stem,Rings (maker),Preferred rings\nV1,mm,28,5 rings,5 mm\n")
    expected = ([5.0, "5 mm"], ["not-a-number"])
    assert expected == (row(valves, names=["maker_ring_count_entered", "preferred_ring_count_entered"]), kinds(valves))


def test_counts_of_studs_and_starts(tmp_path: Path) -> None:
    """The number of studs is no thread, and the thread is no number."""
    valves = from_csv(tmp_path, "Tag,Units,Stem,Studs,No of studs,Thread starts\nV1,mm,28,M12,2 off,1\n")
    expected = ["M12", 2.0, 1.0]
    assert expected == row(valves, names=["gland_stud_thread", "gland_stud_count_entered", "stem_thread_starts_entered"])
    assert kinds(valves) == []


@pytest.mark.parametrize(
    ("header", "cell", "number", "said"),
    [
        ("Nut factor", "0.17", 0.17, []),
        ("Nut factor", "17 %", 0.17, []),
        ("Nut factor (%)", "17", 0.17, []),
        ("Friction on stem", "0,12", 0.12, []),
        ("Lateral ratio", "12", 12.0, []),
        ("Collar friction", "1.2", 1.2, []),
        ("Bottom share", "12 %", 0.12, []),
        ("Bottom share", "12", 0.12, ["guessed-percent"]),
        ("Pressure factor", "1.5", 1.5, []),
        ("Pressure factor", "2,25", 2.25, []),
        ("pH", "7", 7.0, []),
        ("Flank angle (°)", "15", 15.0, []),
        ("Flank angle", "14.5 deg", 14.5, []),
    ],
)
def test_factors(tmp_path: Path, header: str, cell: str, number: float, said: list[str]) -> None:
    """A factor may be given in per cent but is never guessed to be; a pH and an angle are as typed."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;in;28;{cell}\n")
    expected = ([number], said)
    assert expected == (row(valves, names=[valves.understood[header]]), kinds(valves))


# --- the plan of the outage -------------------------------------------------------------------------------------------

HOURS, CREW, DAY = "job_hours_stated_entered", "crew_number_entered", "job_day_entered"


def test_a_row_of_the_plan(tmp_path: Path) -> None:
    """What is to be ordered and planned for a valve is read beside its measurements, in one word or number each."""
    heads = f"{HEAD};End rings;Gasket;No of gaskets;New studs;Critical path;Man-hours;Crew;Planned day".replace(",", ";")
    valves = from_csv(tmp_path, f"{heads}\nV1;mm;28;44;60;25;2 rings; 90 x 110  x 2 ;1 off;2 studs;X;3,5 h;Crew 2;Day 3\n")
    expected = [2.0, "90 x 110 x 2", 1.0, 2.0, "yes", 3.5, 2.0, 3.0]
    assert (V1, expected, ["weak-header"]) == (row(valves), row(valves, names=list(PLAN_COLUMNS)), kinds(valves))


def test_cells_of_a_spreadsheet_for_the_plan(tmp_path: Path) -> None:
    """A truth value answers a question, a whole number is one; a date is no day and a time of the clock no man-hours."""
    heads = ["Tag", "Stem (mm)", "Critical path", "Man-hours", "Crew", "Planned day"]
    first = ["V1", 28, True, 2.5, 2, dt.datetime(2026, 5, 16)]  # noqa: DTZ001 - a spreadsheet has no time zones
    valves = from_rows(tmp_path, [heads, first, ["V2", 28, False, dt.time(2, 30), 1.0, 3]])
    names = ["critical_entered", HOURS, CREW, DAY]
    assert (row(valves, 0, names), row(valves, 1, names)) == (["yes", 2.5, 2.0, "2026-05-16"], ["no", "02:30:00", 1.0, 3.0])
    found = [(f.kind, f.row, f.column) for f in valves.findings if f.row]
    assert found == [("date-in-plan", 2, "Planned day"), ("date-in-plan", 3, "Man-hours")]
    assert "number of the day" in valves.findings[-1].to_do


@pytest.mark.parametrize(
    ("header", "cell", "kept", "said"),
    [
        ("Planned day", "16-May", "16-May", ["date-in-plan"]),
        ("Planned day", "2026-05-16", "2026-05-16", ["date-in-plan"]),
        ("Planned day", "5/16/2026", "5/16/2026", ["date-in-plan"]),
        ("Planned day", "Monday", "Monday", ["not-a-number"]),
        ("Planned day", "day -1", "day -1", ["not-a-number"]),
        ("Planned day", "-1", -1.0, []),
        ("Planned day", "1/2", "1/2", ["two-numbers"]),
        ("Planned day", "3-4", "3-4", ["two-numbers"]),
        ("Planned day", "3 %", "3 %", ["not-a-number"]),
        ("Man-hours", "2:30", "2:30", ["not-a-number"]),
        ("Man-hours", "2 to 3 h", "2 to 3 h", ["two-numbers"]),
        ("Man-hours", "~3 h", 3.0, ["rough-number"]),
        ("Man-hours", "2 days", "2 days", ["unknown-unit"]),
        ("Man-hours", "50 %", "50 %", ["unknown-unit"]),
        ("Man-hours (h)", "3,5", 3.5, []),
        ("Crew", "1 & 2", "1 & 2", ["two-numbers"]),
        ("Crew", "night", "night", ["not-a-number"]),
        ("No of gaskets", "two", "two", ["not-a-number"]),
        ("New studs", "yes", "yes", ["not-a-number"]),
        ("Critical path", "perhaps", "perhaps", []),
        ("Critical path", "-", "no", []),
        ("Critical path", "tbc", "", ["not-given"]),
        ("Gasket", "none", "", ["not-given"]),
        ("Gasket", "1/2", "1/2", []),
    ],
)
def test_cells_of_the_plan(tmp_path: Path, header: str, cell: str, kept: object, said: list[str]) -> None:
    """What is plain is read; a date, a clock time, two numbers and other words stay as typed, with their finding."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;mm;28;{cell}\n")
    assert ([28.0, kept], said) == (row(valves, names=[STEM, valves.understood[header]]), kinds(valves))


def test_the_plan_alone_is_no_valve(tmp_path: Path) -> None:
    """A row with nothing but a gasket, a crew, a day or hours is no valve, nor are their totals; a tag beside them makes it one."""
    text = "Tag,Stem (mm),Gasket,Hours,Crew,Day\nV1,28,,3,1,1\n,,,,2,\n,,DN 50,4,,\nV2,,,4,2,\nTotal hours,,,7,,\n"
    valves = from_csv(tmp_path, text)
    said = [(f.kind, f.row) for f in valves.findings if f.row and f.kind != "weak-header"]
    assert (valves.rows, list(valves.frame[HOURS])) == ((2, 5), [3.0, 4.0])
    assert said == [("not-a-valve", 3), ("not-a-valve", 4), ("missing-unit-set", 5), ("totals-row", 6)]


def test_the_plan_can_be_parted_from_the_measurements(tmp_path: Path) -> None:
    """A list without a plan has its columns all the same, each blank, at the side of the others."""
    valves = from_csv(tmp_path, f"{HEAD}\nV1,mm,28,44,60,25\n")
    held = dict(zip(PLAN_COLUMNS, row(valves, names=list(PLAN_COLUMNS)), strict=True))
    assert [name for name, value in held.items() if value != "" and not math.isnan(value)] == []
    others = valves.frame.drop(columns=list(PLAN_COLUMNS))
    assert list(others.columns) == [name for name in ENTRY_COLUMNS if name not in PLAN_COLUMNS]


# --- a valve that comes out of the line -------------------------------------------------------------------------------

SIZE, CLASS, MASS = "flange_size", "flange_class_entered", "valve_mass_entered"


def test_a_row_of_flanges_and_a_lift(tmp_path: Path) -> None:
    """What is said of flanges and the sling is read beside the measurements, each in its word or the unit of its row."""
    heads = f"{HEAD};Comes out;Flange size;Flange class;No of flanges;Flange facing;Flange material;Flange gasket type;Flange bolt grade"
    heads += (
        ";Flange bolt lubricant;New flange bolts;Flange bolt stress;Flange nut factor;Flange pressure limit (bar);Actuated;Valve weight"
    )
    heads += ";Sling legs"
    heads += ";Sling angle from horizontal;Leg length;Hook height;Leg SWL"
    cells = "V1;mm;28;44;60;25;Y;DN 50;CL300;2 joints;RF;WCB;SW;B7;Moly paste;re-use;50 ksi;0,16;40;-;1.2 t;2-leg;60°;2 m;1800 mm;2205 lb"
    valves = from_csv(tmp_path, f"{heads.replace(',', ';')}\n{cells}\n")
    expected = ["yes", "NPS 2", 300.0, 2.0, "raised face", "1.1 carbon steel", "spiral wound, graphite filler", "B7", "Moly paste", "no"]
    # NIST SP 811 (2008), appendix B.8: ksi 6.894 757 MPa, pound 0.453 592 37 kg. From memory.
    expected += [pytest.approx(50 * 6.894757, rel=1e-6), 0.16, 40.0, "no", pytest.approx(1200), 2.0, 60.0, 2000.0, 1800.0]
    assert ([*expected, pytest.approx(2205 * 0.45359237, rel=1e-12)], V1) == (row(valves, names=list(FLANGE_COLUMNS)), row(valves))
    assert kinds(valves) == ["size-from-dn"] + ["converted-unit"] * 4
    assert valves.carried == {}


@pytest.mark.parametrize(
    ("units", "header", "cell", "number", "said"),
    [
        # NIST SP 811 (2008), appendix B.8: pound 0.453 592 37 kg exactly, tonne 1000 kg. From memory.
        ("mm", "Valve weight", "50", 50.0, []),
        ("mm", "Valve weight", "50 kg", 50.0, []),
        ("mm", "Valve weight", "110 lb", 110 * 0.45359237, ["converted-unit"]),
        ("mm", "Valve weight (lb)", "110", 110 * 0.45359237, ["converted-unit"]),
        ("mm", "Valve weight", "1.2 t", 1200.0, ["converted-unit"]),
        ("mm", "Valve weight (t)", "1.2", 1200.0, ["converted-unit"]),
        ("mm", "Valve weight (t)", "50 kg", 50.0, []),
        ("in", "Valve weight", "110", 110.0, []),
        ("in", "Valve weight", "50 kg", 50 / 0.45359237, ["converted-unit"]),
        ("in", "Leg capacity (t)", "1", 1000 / 0.45359237, ["converted-unit"]),
        ("in", "WT kg", "50", 50 / 0.45359237, ["weak-header", "converted-unit"]),
        ("mm", "Hook height (m)", "3.5", 3500.0, ["converted-unit"]),
        ("in", "Leg length", "6 ft", 72.0, ["converted-unit"]),
        ("mm", "Rim pull (kg)", "40", 40 * 9.80665, ["converted-unit"]),
    ],
)
def test_masses_and_lengths_of_a_lift(tmp_path: Path, units: str, header: str, cell: str, number: float, said: list[str]) -> None:
    """A mass comes in kg or lb, a length of the lift in mm or in: the cell's unit goes before the header's."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;{units};28;{cell}\n")
    assert [pytest.approx(number, rel=1e-6)] == row(valves, names=[valves.understood[header]])
    assert said == kinds(valves)


@pytest.mark.parametrize(
    ("header", "cell", "kept", "said"),
    [
        ("Flange size", "2", "NPS 2", ["guessed-nps"]),
        ("Flange size", '"2"""', "NPS 2", []),
        ("Flange size", "50", "50", ["unclear-size"]),
        ("Flange size", "none", "", ["not-given"]),
        ("Flange size", "tbc", "", ["not-given"]),
        ("Flange size (DN)", "50", "NPS 2", ["size-from-dn"]),
        ("Flange size (mm)", "20", "NPS 3/4", ["size-from-dn"]),
        ("Flange size (in)", "20", "NPS 20", []),
        ("DN", "50", "NPS 2", ["size-from-dn"]),
        ("DN", "2", "2", ["unclear-size"]),
        ("Line size", "NPS 2", "NPS 2", ["weak-header"]),
        ("Flange class", "150#", 150.0, []),
        ("Flange class", "Class 600", 600.0, []),
        ("Flange class", "150/300", "150/300", ["two-numbers"]),
        ("Flange class", "150 WOG", "150 WOG", ["not-a-number"]),
        ("Flange class", "16 bar", "16 bar", ["not-a-number"]),
        ("Flange facing", "tbc", "", ["not-given"]),
        ("Flange gasket type", "none", "", ["not-given"]),
        ("Valve weight", "1,200 kg", "1,200 kg", ["unclear-comma"]),
        ("Valve weight", "1 200 kg", 1200.0, ["guessed-thousands"]),
        ("Valve weight", "~50", 50.0, ["rough-number"]),
        ("Valve weight", "2 tons", "2 tons", ["unknown-unit"]),
        ("Sling legs", "4", 4.0, []),
        ("Sling legs", "2 or 4", "2 or 4", ["two-numbers"]),
        ("Sling angle from horizontal", "60 deg", 60.0, []),
        ("Sling angle from horizontal", "0.5 rad", "0.5 rad", ["unknown-unit"]),
        ("Flange nut factor", "17 %", 0.17, []),
        ("Flange nut factor", "12", 12.0, []),
    ],
)
def test_cells_of_flanges_and_lift(tmp_path: Path, header: str, cell: str, kept: object, said: list[str]) -> None:
    """What is plain is read; what was guessed, may be two things or is none stands with its finding."""
    valves = from_csv(tmp_path, f"Tag;Units;Stem;{header}\nV1;mm;28;{cell}\n")
    assert ([28.0, kept], said) == (row(valves, names=[STEM, valves.understood[header]]), kinds(valves))


def test_a_pn_is_left_out_and_said(tmp_path: Path) -> None:
    """A flange of a nominal pressure gives no class: the cell is blank, so that no check calls it faulty, and a finding says why."""
    valves = from_csv(tmp_path, f"{HEAD},Flange class\nV1,mm,28,44,60,25,PN 16\nV2,mm,28,44,60,25,150\n")
    assert [math.isnan(value) for value in valves.frame[CLASS]] == [True, False]
    assert [(f.kind, f.row, f.column, f.value, f.tag) for f in valves.findings] == [("pn-flange", 2, "Flange class", "PN 16", "V1")]


def test_how_a_size_was_read_is_said(tmp_path: Path) -> None:
    """A finding of a size says what stands there and which size was made of it; one that was kept is shown as typed."""
    valves = from_csv(tmp_path, "Tag,Stem (mm),Flange size\nV1,28,DN 40\nV2,28,6\nV3,28,2x1\n")
    said = [(f.kind, f.value) for f in valves.findings if f.row]
    assert said == [("size-from-dn", "DN 40 was read as NPS 1 1/2"), ("guessed-nps", "6 was read as NPS 6"), ("unclear-size", "2x1")]


def test_bare_sizes_that_can_only_be_dn_make_others_doubtful(tmp_path: Path) -> None:
    """A bare 20 in a column with a bare 50 is kept, since it may be DN 20; with NPS alone beside it, it is read as NPS 20."""
    first = from_csv(tmp_path, "Tag,Stem (mm),Flange size\nV1,28,50\nV2,28,20\nV3,28,2\n")
    second = from_csv(tmp_path, "Tag,Stem (mm),Flange size\nV1,28,24\nV2,28,20\nV3,28,DN 50\n")
    assert (list(first.frame[SIZE]), kinds(first)) == (["50", "20", "NPS 2"], ["unclear-size"] * 2 + ["guessed-nps"])
    assert (list(second.frame[SIZE]), kinds(second)) == (["NPS 24", "NPS 20", "NPS 2"], ["guessed-nps"] * 2 + ["size-from-dn"])


def test_cells_of_a_spreadsheet_for_flanges(tmp_path: Path) -> None:
    """Numbers and truth values of a spreadsheet are read too; a date where a size was typed is named, and not called unclear."""
    heads = ["Tag", "Stem (mm)", "Comes out", "Flange size", "Flange class"]
    first = ["V1", 28, True, 1.5, 150]
    second = ["V2", 28, False, dt.datetime(2026, 4, 3), 300.0]  # noqa: DTZ001 - a spreadsheet has no time zones
    valves = from_rows(tmp_path, [heads, first, second])
    names = ["comes_out_entered", SIZE, CLASS]
    assert (row(valves, 0, names), row(valves, 1, names)) == (["yes", "NPS 1 1/2", 150.0], ["no", "2026-04-03", 300.0])
    assert kinds(valves) == ["guessed-nps", "date-not-text"]


def test_a_formula_for_a_size_is_named_once(tmp_path: Path) -> None:
    """A formula whose result is not stored is not called an unclear size as well."""
    book = openpyxl.Workbook()
    book.worksheets[0].append(["Tag", "Flange size", "Stem (mm)"])
    book.worksheets[0].append(["V1", "=1+1", 28])
    book.save(tmp_path / "list.xlsx")
    assert kinds(read_list(tmp_path / "list.xlsx")) == ["formula-without-value"]


def test_flanges_and_weights_alone_are_no_valve(tmp_path: Path) -> None:
    """A row with nothing but a size, a class or a sum of weights is no valve; a tag beside them makes it one."""
    text = "Tag,Units,Stem,Flange size,Flange class,Valve weight\nV1,mm,28,NPS 2,150,20\n,,,,,20\n,,,NPS 2,150,\nV2,mm,,NPS 3,150,30\n"
    valves = from_csv(tmp_path, f"{text}Total weight,,,,,50\n")
    said = [(f.kind, f.row) for f in valves.findings if f.row]
    assert (valves.rows, list(valves.frame[MASS])) == ((2, 5), [20.0, 30.0])
    assert said == [("not-a-valve", 3), ("not-a-valve", 4), ("totals-row", 6)]


def test_the_lift_says_nothing_of_the_unit_set(tmp_path: Path) -> None:
    """A row without a unit set does not get one from the height of its hook or its weight; both stay texts with their units."""
    valves = from_csv(tmp_path, "Tag,Stem,Hook height (ft),Valve weight (lb)\nV1,28,12,110\n")
    expected = (["", 28.0, "12 ft", "110 lb"], ["missing-unit-set"] + ["unit-without-set"] * 2)
    assert expected == (row(valves, names=["unit_set", STEM, "hook_height_entered", MASS]), sorted(kinds(valves)))


def test_an_index_of_valves_is_not_taken_for_the_list(tmp_path: Path) -> None:
    """A sheet with much of flanges and weights and nothing of a box is passed over for one with measurements."""
    book = openpyxl.Workbook()
    fill(
        book.active, [["Tag", "Flange size", "Flange class", "Facing", "Flange material", "Weight"], *[["V1", 2, 150, "RF", "CS", 20]] * 9]
    )
    fill(book.create_sheet("Boxes"), [["Tag", "Stem (mm)", "Bore (mm)"], ["V1", 28, 44]])
    book.save(tmp_path / "list.xlsx")
    assert read_list(tmp_path / "list.xlsx").sheet == "Boxes"


# --- tags -------------------------------------------------------------------------------------------------------------

HOSTILE = [
    "=1+1",
    '=HYPERLINK("http://a.invalid","b")',
    "@x",
    "+1",
    "-1",
    "V/1:[x]*?",
    "T" * 40,
    "<b>",
    "{x}",
    "%s",
    "日本",
]


@pytest.mark.parametrize("tag", HOSTILE)
def test_hostile_tags_stay_as_written(tmp_path: Path, tag: str) -> None:
    """A tag is text, whatever it looks like, from either kind of file and in every finding."""
    quoted = tag.replace('"', '""')
    first = from_csv(tmp_path, f'Tag,Units,Stem\n"{quoted}",mm,worn\n')
    second = from_rows(tmp_path, [["Tag", "Units", "Stem"], [tag, "mm", "worn"]])
    expected = ([[tag], [tag]], [tag, tag])
    assert expected == (
        [row(first, names=["tag"]), row(second, names=["tag"])],
        [valves.findings[-1].tag for valves in (first, second)],
    )
    assert "'worn'" in first.findings[0].said + "".join(finding.said for finding in first.findings)


def test_numbers_as_tags(tmp_path: Path) -> None:
    """A number that is a tag becomes its text."""
    valves = from_rows(tmp_path, [["Tag", "Stem (mm)"], [101, 28], [102.0, 28], ["007", 28]])
    expected = ["101", "102", "007"]
    assert expected == list(valves.frame["tag"])


def test_repeated_and_missing_tags(tmp_path: Path) -> None:
    """The later of two rows with one tag is named, case and outer spaces aside, and so is a row without a tag."""
    valves = from_csv(tmp_path, "Tag,Stem (mm)\nV1,28\n v1 ,28\n,28\nV2,28\nV1,28\n")
    found = [(f.kind, f.row, f.value) for f in valves.findings if f.row]
    expected = (
        [("repeated-tag", 3, "v1"), ("missing-tag", 4, ""), ("repeated-tag", 6, "V1")],
        ["V1", "v1", "", "V2", "V1"],
    )
    assert expected == (found, list(valves.frame["tag"]))


# --- columns ----------------------------------------------------------------------------------------------------------


def test_missing_headers(tmp_path: Path) -> None:
    """Each of the needed measurements that has no column is named once."""
    valves = from_csv(tmp_path, "Stem (mm)\n28\n29\n")
    found = [finding.column for finding in valves.findings if finding.kind == "missing-header"]
    expected = (["Tag", "Box bore", "Box depth", "Nose length"], [28.0, 29.0])
    assert expected == (found, list(valves.frame[STEM]))
    assert "missing-tag" not in kinds(valves)


def test_second_column_of_one_measurement(tmp_path: Path) -> None:
    """The first column of a measurement is used, the second carried along and named."""
    valves = from_csv(tmp_path, "Tag,Stem (mm),Stem dia\nV1,28,30\n")
    assert ("repeated-header", "Stem dia") in [(f.kind, f.column) for f in valves.findings]
    expected = ([28.0], {"Stem dia": ["30"]}, {"Tag": "tag", "Stem (mm)": STEM})
    assert expected == (list(valves.frame[STEM]), valves.carried, valves.understood)


def test_carried_columns_get_headers_that_a_table_can_have(tmp_path: Path) -> None:
    """Headers of carried columns are unlike each other and the reserved ones, without brackets, and not too long."""
    long = "x" * 300
    heads = ["Note", "note", "Answer", "[A] #1 'b' @c", "", "##", long, long, "Empty"]
    text = "Tag,Stem (mm)," + ",".join(f'"{head}"' for head in heads) + "\nV1,28,a,b,c,d,e,f,g,h,\n"
    valves = from_csv(tmp_path, text, reserved={"ANSWER"})
    expected = ["Note", "note (2)", "Answer (2)", "(A) 1 b c", "Column G", "Column H", "x" * 255, "x" * 251 + " (2)"]
    assert [*expected, "Empty"] == list(valves.carried)
    assert list("abcdefgh") == [cells[0] for cells in list(valves.carried.values())[:-1]]
    assert len(expected) - 1 == kinds_of_all(valves)["renamed-header"]


def kinds_of_all(valves: ValveList) -> Counter[str]:
    """How often each kind of finding occurs."""
    return Counter(finding.kind for finding in valves.findings)


def test_carried_cells_stay_as_they_were(tmp_path: Path) -> None:
    """Cells of carried columns keep their kind."""
    day = dt.datetime(2026, 5, 16)  # noqa: DTZ001 - a spreadsheet has no time zones
    valves = from_rows(tmp_path, [["Tag", "Stem (mm)", "Note", "Due"], ["V1", 28, 1.5, day], ["V2", 28, None, None]])
    expected = {"Note": [1.5, None], "Due": [day, None]}
    assert expected == valves.carried


def test_remarks_are_no_valves(tmp_path: Path) -> None:
    """A row with nothing under an understood header is no valve; it is named and kept."""
    valves = from_csv(tmp_path, f"{HEAD},Note\nV1,mm,28,44,60,25,\n,,,,,,east wing\n,mm,,,,,\n,,-,,,,\n")
    assert valves.rows == (2,)
    found = [(f.row, f.value) for f in valves.findings if f.kind == "not-a-valve"]
    expected = ([(3, "east wing"), (4, "mm"), (5, "-")], ("", "", "", "", "", "", "east wing"))
    assert expected == (found, valves.verbatim[2])


def test_texts_become_codes(tmp_path: Path) -> None:
    """Obvious words in the text entries become the codes, others stay."""
    names = ["gland_stud_thread", "packing_form_entered", "cut_style_entered", "section_list_entered"]
    valves = from_csv(tmp_path, "Tag,Stem (mm),Studs,Packing form,Cut,Section list\nV1,28,m12,Braided,diagonal,either one\n")
    expected = ["M12", "braid", "skive", "either one"]
    assert expected == row(valves, names=names)


def test_texts_of_the_valve(tmp_path: Path) -> None:
    """Texts for people are kept as typed but for the spaces around them, names as typed on one line, codes in the listed words."""
    heads = ["Tag", "Stem (mm)", "Location", "Medium", "Lock points", "Fluid class", "Stem type", "Packing", "Lubrication of packing"]
    heads += ["Gland type", "Stud grade", "Thread lubricant", "Nut kind"]
    cells = ["V1", 28, " hall  2\nnorth ", "Wash water ", "HV-1\nHV-2", "Steam", "¼ turn", " PTFE  braid", "lubed"]
    cells += ["live loaded", "ISO 8.8", "Machine oil ", "heavy"]
    valves = from_rows(tmp_path, [heads, cells])
    expected = ["hall  2\nnorth", "Wash water", "HV-1\nHV-2", "steam", "quarter-turn", "PTFE braid", "lubricated"]
    expected += ["live-loaded", "ISO 8.8", "Machine oil", "heavy hex"]
    names = ["place", "fluid", "isolation_points", "fluid_kind_entered", "stem_motion_entered", "packing_material"]
    names += ["packing_state_entered", "gland_kind_entered", "gland_stud_grade", "stud_lubricant", "gland_nut_kind_entered"]
    assert expected == row(valves, names=names)
    assert valves.carried == {}


def test_place_alone_is_no_valve(tmp_path: Path) -> None:
    """A row with a place alone is a heading between the valves."""
    valves = from_csv(tmp_path, "Tag,Stem (mm),Location\n,,East wing\nV1,28,hall\n")
    found = [(f.kind, f.row, f.value) for f in valves.findings if f.row]
    expected = ((3,), [("not-a-valve", 2, "East wing")])
    assert expected == (valves.rows, found)


def test_handwheel_diameter_is_carried(tmp_path: Path) -> None:
    """A handwheel's diameter is not taken for its radius."""
    valves = from_csv(tmp_path, "Tag,Stem (mm),Handwheel dia (mm)\nV1,28,300\n")
    assert ("unknown-header", "Handwheel dia (mm)") in [(f.kind, f.column) for f in valves.findings]
    assert valves.carried == {"Handwheel dia (mm)": ["300"]}
    assert math.isnan(row(valves, names=["handwheel_radius_entered"])[0])


def test_two_pressures(tmp_path: Path) -> None:
    """Of a design and an operating pressure the first is used, and that is said."""
    valves = from_csv(tmp_path, "Tag,Stem (mm),Design pressure,Operating pressure\nV1,28,16,9\n")
    expected = ([16.0], {"Operating pressure": ["9"]})
    assert expected == (row(valves, names=[PRESSURE]), valves.carried)
    assert ("repeated-header", "Operating pressure") in [(f.kind, f.column) for f in valves.findings]


# --- workbooks --------------------------------------------------------------------------------------------------------


def test_first_sheet_with_a_header(tmp_path: Path) -> None:
    """The list is looked for on each sheet, and can be named, in any case of letters."""
    book = openpyxl.Workbook()
    fill(book.active, [["A cover sheet"]])
    for title, stem in (("East", 28), ("West", 30)):
        fill(book.create_sheet(title), [["Tag", "Stem (mm)"], ["V1", stem]])
    path = tmp_path / "list.xlsx"
    book.save(path)
    stems = [read_list(path, sheet=name).frame[STEM].tolist() for name in (None, "West", "west")]
    expected = [[28.0], [30.0], [30.0]]
    assert expected == stems


def test_the_sheet_that_was_chosen_is_said(tmp_path: Path) -> None:
    """Of several sheets the chosen one is named, with what it and each other one hold; one that was named is not said."""
    book = openpyxl.Workbook()
    fill(book.active, [["A cover sheet"]])
    fill(book.create_sheet("Old"), [["Tag", "Stem (mm)"], ["V1", 28], ["V2", 28]])
    fill(book.create_sheet("New"), [["Tag", "Stem (mm)", "Bore (mm)"], ["V1", 30, 44]])
    path = tmp_path / "list.xlsx"
    book.save(path)
    chosen, named = read_list(path), read_list(path, sheet="Old")
    said = "'New' (3 entries in its headers, 1 rows below); the others: 'Sheet' (no known headers), "
    said += "'Old' (2 entries in its headers, 2 rows below)"
    assert ("New", [said]) == (chosen.sheet, [f.value for f in chosen.findings if f.kind == "chosen-sheet"])
    assert (named.sheet, [f for f in named.findings if f.kind == "chosen-sheet"]) == ("Old", [])


def test_a_hidden_sheet_is_taken_last_and_said(tmp_path: Path) -> None:
    """A hidden sheet is not taken where one that is shown has rows; named, it is read and called hidden."""
    book = openpyxl.Workbook()
    fill(book.active, [["Tag", "Stem (mm)"], ["V1", 28]])
    fill(book.create_sheet("Old"), [["Tag", "Stem (mm)", "Bore (mm)"], ["V1", 30, 44]])
    book["Old"].sheet_state = "hidden"
    path = tmp_path / "list.xlsx"
    book.save(path)
    assert [read_list(path).sheet, read_list(path, sheet="Old").sheet] == ["Sheet", "Old"]
    said = [[f.value for f in read_list(path, sheet=name).findings if f.kind == "hidden-sheet"] for name in (None, "Old")]
    assert said == [[], ["Old"]]


def test_the_columns_as_they_were_understood(tmp_path: Path) -> None:
    """Each column says what it was taken for, in which unit, how surely, and its first three values with their units."""
    rows = [f"V{at},{20 + at},1 1/{2**at} in,red" for at in range(1, 5)]
    valves = from_csv(tmp_path, "\n".join(["Item,Stem (mm),Bore,Colour", *rows]))
    said = [(one.letter, one.header, one.entries, one.unit, one.sure, one.first) for one in valves.columns]
    assert said == [
        ("A", "Item", ("tag",), "", "weak", ("V1", "V2", "V3")),
        ("B", "Stem (mm)", (STEM,), "mm", "plain", ("21 mm", "22 mm", "23 mm")),
        ("C", "Bore", (BORE,), "", "plain", ("38.1 mm", "31.75 mm", "28.575 mm")),
        ("D", "Colour", (), "", "unknown", ("red", "red", "red")),
    ]
    assert (valves.header_rows, valves.sheet) == ((1, 1), "")


def test_cover_sheet_is_passed_over(tmp_path: Path) -> None:
    """A sheet that speaks of place, fluid and pressure alone is not the list."""
    book = openpyxl.Workbook()
    fill(book.active, [["Location", "Medium", "Pressure", "Temp"], ["East wing", "water", 16, 80]])
    fill(book.create_sheet("List"), [["Tag", "Units", "Stem", "Pressure"], ["V1", "mm", 28, "150 psi"]])
    book.save(tmp_path / "list.xlsx")
    valves = read_list(tmp_path / "list.xlsx")
    expected = ["V1", 28.0, pytest.approx(150 * 0.06894757, rel=1e-6)]
    assert expected == row(valves, names=["tag", STEM, PRESSURE])


def test_far_away_cell(tmp_path: Path) -> None:
    """One cell in the last corner of a sheet costs no time and is reported."""
    book = openpyxl.Workbook()
    fill(book.active, [["Tag", "Stem (mm)"], ["V1", 28]])
    book.worksheets[0]["XFD1048576"] = "far"
    book.save(tmp_path / "list.xlsx")
    valves = read_list(tmp_path / "list.xlsx")
    expected = ((2, ["V1"]), ["not-read-on"])
    assert expected == (
        (len(valves.verbatim), list(valves.frame["tag"])),
        [f.kind for f in valves.findings if f.value == "row 1048576"],
    )


def test_far_right_cell(tmp_path: Path) -> None:
    """Cells beyond the thousandth column are reported."""
    book = openpyxl.Workbook()
    fill(book.active, [["Tag", "Stem (mm)"], ["V1", 28]])
    book.worksheets[0]["XFD2"] = "far"
    book.save(tmp_path / "list.xlsx")
    found = [(f.kind, f.row, f.value) for f in read_list(tmp_path / "list.xlsx").findings]
    assert ("not-read-on", 2, "column ALM") in found


def test_wrong_size_of_a_sheet(tmp_path: Path) -> None:
    """A sheet that claims to be smaller than it is loses no cell."""
    rows: list[list[Any]] = [["Tag", "Stem (mm)"], *[[f"V{at}", 28] for at in range(5)]]
    from_rows(tmp_path, rows)
    path = tmp_path / "list.xlsx"
    out = io.BytesIO()
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(out, "w") as new:
        for part in old.namelist():
            new.writestr(part, re.sub(rb'<dimension ref="[^"]*"', b'<dimension ref="A1:A2"', old.read(part)))
    path.write_bytes(out.getvalue())
    assert len(read_list(path).rows) == 5


def test_long_gap_in_a_text_file(tmp_path: Path) -> None:
    """Hundreds of blank rows end a list; what stands below them is reported."""
    valves = from_csv(tmp_path, "Tag,Stem (mm)\nV1,28\n" + "\n" * 199 + "V2,28\n" + "\n" * 300 + "V3,28\n")
    expected = (["V1", "V2"], ["row 503"])
    assert expected == (list(valves.frame["tag"]), [f.value for f in valves.findings if f.kind == "not-read-on"])


# --- the demo ---------------------------------------------------------------------------------------------------------


def test_demo_list() -> None:
    """The demo list is read with just the faults that were put into it."""
    valves = read_list(DEMO)
    by_tag = valves.frame.drop_duplicates("tag").set_index("tag")
    expected = (
        (30, {"metric": 21, "US": 9}),
        ["Kind"],
        [("unknown-header", "Kind"), ("repeated-tag", "Tag")],
        [28.5, 1.125],
        ["MH-206"],
        ["MH-208"],
    )
    assert expected == (
        (len(valves.rows), dict(Counter(valves.frame["unit_set"]))),
        list(valves.carried),
        [(finding.kind, finding.column) for finding in valves.findings],
        [by_tag.loc[tag, STEM] for tag in ("BH-105", "CE-301")],
        list(by_tag.index[by_tag[DEPTH].isna()]),
        list(by_tag.index[by_tag[STEM] > by_tag[BORE]]),
    )


def test_demo_readme_names_the_rows() -> None:
    """Each row that the demo's README names holds the tag that it says."""
    rows = dict(zip(read_list(DEMO).rows, read_list(DEMO).frame["tag"], strict=True))
    named = re.findall(r"^\| (\d+) \| (\S+) \|", DEMO.with_name("README.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert len(named) == 19
    assert {int(at): tag for at, tag in named} == {int(at): rows[int(at)] for at, _ in named}


# --- any list ---------------------------------------------------------------------------------------------------------

CELLS = st.text(st.characters(codec="utf-8", exclude_characters='"\r\n', exclude_categories=["Cc", "Cs"]), max_size=12)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(CELLS, min_size=5, max_size=5), max_size=8))
def test_nothing_is_lost(tmp_path_factory: pytest.TempPathFactory, cells: list[list[str]]) -> None:
    """Whatever stands in the cells, each is kept, each valve has its row, and each finding reads as a sentence."""
    lines = [["Tag", "Units", "Stem", "Bore", "Note"], *cells]
    text = "\n".join(",".join(f'"{cell}"' for cell in line) for line in lines)
    valves = from_csv(tmp_path_factory.mktemp("any"), text)
    kept = [tuple(line) for line in lines]
    while not any(map(str.strip, kept[-1])):
        kept.pop()
    assert [line if any(map(str.strip, line)) else () for line in kept] == list(valves.verbatim)
    assert len(valves.rows) == len(valves.frame) == len(next(iter(valves.carried.values())))
    assert all(finding.said and finding.to_do for finding in valves.findings)
