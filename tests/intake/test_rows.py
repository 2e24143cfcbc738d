"""Facts about what a site brings along for Log and Stores: read strictly, nothing guessed, nothing lost in silence."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any, Final

import openpyxl
import pytest
from openpyxl.utils.datetime import to_excel

from sheetcalc.errors import ListError, TooManyRowsError
from sheetcalc.findings import AmbiguousDate, DateNotRead
from sheetcalc.intake.rows import DATE, LENGTH, TEXT, Brought, Known, Wanted, read_day, read_rows

LOG: Final = Wanted(
    "Log",
    (
        Known("log_date_entered", "Date of the reading", DATE),
        Known("log_tag", "Tag of the valve read", TEXT),
        Known("log_event_entered", "Event", TEXT),
        Known("log_gap_1_entered", "Gap at stud 1", LENGTH, frozenset({"mm"})),
        Known("log_leak_entered", "Leak reading", units=frozenset({"ppm"})),
        Known("log_by", "Read by", TEXT),
    ),
    ("log_date_entered", "log_tag"),
    "mm",
    frozenset({"Check reading"}),
    most_rows=5,
)
STORES: Final = Wanted(
    "Stores",
    (
        Known("store_code", "Order code", TEXT),
        Known("store_pack_entered", "Pack", units=frozenset({"m", "kg", "piece"})),
        Known("store_price_entered", "Price of a pack", units=None),
        Known("store_lead_days_entered", "Lead time of the item", units=frozenset({"d", "days"})),
    ),
    ("store_code",),
    "mm",
    frozenset({"Item in stores", "Unit", "Check"}),
    unit_header="Unit",
    other_units=frozenset({"ft", "lb"}),
)
HEAD: Final = "Date of the reading,Tag of the valve read,Event,Gap at stud 1,Leak reading,Read by"
ROW: Final = "2027-02-03,V-1,read,9.4,120,KV"


def from_csv(folder: Path, *lines: str, wanted: Wanted = LOG) -> Brought:
    """What a text file of these lines brings along."""
    path = folder / "brought.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return read_rows(path, wanted)


def from_book(folder: Path, *rows: list[Any], sheet: str = "Log", wanted: Wanted = LOG) -> Brought:
    """What a workbook with these rows on a sheet brings along; another sheet stands before it."""
    made = openpyxl.Workbook()
    assert made.active is not None
    made.active.append(["Tag", "Stem diameter", "Box bore"])
    there = made.create_sheet(sheet)
    for row in rows:
        there.append(row)
    path = folder / "brought.xlsx"
    made.save(path)
    return read_rows(path, wanted)


def said(brought: Brought) -> list[tuple[str, str]]:
    """Kind and value of each finding."""
    return [(one.kind, one.value) for one in brought.findings]


def values(brought: Brought) -> list[Any]:
    """The first row that was brought along."""
    return list(brought.frame.to_numpy().tolist()[0])


def serial(day: dt.date) -> float:
    """The number of a day in a spreadsheet, as openpyxl has it: an open library that writes dates into workbooks."""
    return float(to_excel(day))  # type: ignore[no-untyped-call]


def at(*parts: int) -> dt.datetime:
    """A date with its time, as a spreadsheet holds it: without a time zone."""
    return dt.datetime(*parts)  # type: ignore[arg-type]  # noqa: DTZ001


# --- headers ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "head",
    [
        HEAD,
        "DATE OF  THE READING,tag ofthe valve read,event,Gap at stud 1 (mm),Leak reading [ppm],read by",
        "log_date_entered,log_tag,log_event_entered,log_gap_1_entered,log_leak_entered,log_by",
        "log_date,LOG_TAG,log_event,log_gap_1 (millimetres),log_leak,log_by",
    ],
)
def test_a_header_is_that_of_the_sheet_or_the_name_of_the_entry(tmp_path: Path, head: str) -> None:
    """Case, spaces and the unit in brackets do not count, nor does the ending of an entry's name."""
    brought = from_csv(tmp_path, head, ROW)
    assert [serial(dt.date(2027, 2, 3)), "V-1", "read", 9.4, 120.0, "KV"] == values(brought)
    assert (said(brought), brought.rows, brought.source) == ([], (2,), "brought.csv")


def test_the_columns_are_those_of_the_entries_in_any_order(tmp_path: Path) -> None:
    """The frame has every entry in its order, blank where the file has no such column."""
    brought = from_csv(tmp_path, "Tag of the valve read,Date of the reading", "V-1,2027-02-03")
    assert [one.entry for one in LOG.columns] == list(brought.frame.columns)
    assert values(brought)[2:] == [None] * 4


@pytest.mark.parametrize("mark", [";", "\t"])
def test_a_text_file_may_part_its_cells_otherwise(tmp_path: Path, mark: str) -> None:
    """Semicolon and tab are seen by the sheet's own headers."""
    brought = from_csv(tmp_path, mark.join(("Order code", "Pack")), mark.join(("BRAID PTFE braid / 8", "8,5")), wanted=STORES)
    assert values(brought)[:2] == ["BRAID PTFE braid / 8", 8.5]


def test_no_usable_header_is_refused_and_the_expected_ones_are_named(tmp_path: Path) -> None:
    """The sentence says what lacks and how the columns are to be headed."""
    with pytest.raises(ListError) as error:
        from_csv(tmp_path, "Tag,Gap", "V-1,9.4")
    assert "brought.csv has no column Date of the reading and Tag of the valve read" in str(error.value)
    assert ", ".join(one.title for one in LOG.columns) in str(error.value)


def test_a_log_without_dates_is_refused(tmp_path: Path) -> None:
    """One header that must be there is not enough."""
    with pytest.raises(ListError, match="has no column Date of the reading among"):
        from_csv(tmp_path, "Tag of the valve read,Event", "V-1,read")


def test_a_column_given_twice_is_refused(tmp_path: Path) -> None:
    """Nobody can tell which of two columns is meant."""
    with pytest.raises(ListError, match="two columns for 'Gap at stud 1'"):
        from_csv(tmp_path, f"{HEAD},log_gap_1", f"{ROW},9.1")


@pytest.mark.parametrize(("head", "unit"), [("Gap at stud 1 (in)", "in"), ("Gap at stud 1 (inches)", "inches")])
def test_a_header_with_another_unit_is_refused(tmp_path: Path, head: str, unit: str) -> None:
    """Nothing is converted: the file is refused, with both units."""
    with pytest.raises(ListError, match=f"says {unit} for 'Gap at stud 1' and the workbook takes mm there"):
        from_csv(tmp_path, f"Date of the reading,Tag of the valve read,{head}", "2027-02-03,V-1,0.4")


def test_a_lead_time_in_weeks_is_refused(tmp_path: Path) -> None:
    """Weeks would pass for days; the currency of a price is free."""
    with pytest.raises(ListError, match="says weeks for 'Lead time of the item'"):
        from_csv(tmp_path, "Order code,Lead time of the item (weeks)", "BRAID PTFE braid / 8,4", wanted=STORES)
    head = "Order code,Price of a pack (EUR),Lead time of the item (days)"
    priced = from_csv(tmp_path, head, "BRAID PTFE braid / 8,46.5,28", wanted=STORES)
    assert values(priced)[2:] == [46.5, 28.0]


def test_a_column_that_is_not_understood_is_named(tmp_path: Path) -> None:
    """Its header, or its letter, and how much stands in it; columns that the sheet works out itself are passed over."""
    brought = from_csv(tmp_path, f"{HEAD},Weather,,Check reading", f"{ROW},rain,wet,OK", f"{ROW},,,OK")
    assert said(brought) == [("column-left-behind", "1"), ("column-left-behind", "1")]
    assert [one.column for one in brought.findings] == ["Weather", "column H"]
    assert all("Weather" in one.said or "column H" in one.said for one in brought.findings)


def test_a_finding_names_its_file_and_no_row_of_the_list(tmp_path: Path) -> None:
    """The row is that of the file and stands in the sentence, since findings of the list are told by their row."""
    (found,) = from_csv(tmp_path, HEAD, "03/04/2027,V-1,read,9.4,,").findings
    assert (found.row, found.tag, found.column) == (None, "V-1", "Date of the reading")
    assert found.said.startswith("brought.csv: Row 2, Date of the reading: in '03/04/2027' nothing says")


# --- rows -------------------------------------------------------------------------------------------------------------


def test_empty_rows_are_skipped_and_the_rows_of_the_file_are_kept(tmp_path: Path) -> None:
    """A row in which no column that is read has anything is none."""
    brought = from_csv(tmp_path, f"{HEAD},Weather", f"{ROW},", ",,,,,,", "", ",,,,,,rain", f"{ROW},")
    assert brought.rows == (2, 6)
    assert len(brought.frame) == 2


def test_as_many_rows_as_fit_are_taken_and_one_more_is_refused(tmp_path: Path) -> None:
    """The limit itself is let through, and the sentence names both numbers."""
    assert len(from_csv(tmp_path, HEAD, *[ROW] * 5).frame) == 5
    with pytest.raises(TooManyRowsError, match="has 6 rows and the sheet Log takes 5"):
        from_csv(tmp_path, HEAD, *[ROW] * 6)


def test_a_split_decimal_comma_is_seen(tmp_path: Path) -> None:
    """A row with more cells than the header is named, since a comma may have parted a number."""
    assert said(from_csv(tmp_path, HEAD, "2027-02-03,V-1,read,9,4,120,KV")) == [("extra-cells", "")]


# --- dates ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cell", "day"),
    [
        ("2027-04-12", dt.date(2027, 4, 12)),
        ("2027-04-12 14:30", dt.date(2027, 4, 12)),
        ("2027-04-12T14:30:00", dt.date(2027, 4, 12)),
        ("2027/04/12", dt.date(2027, 4, 12)),
        ("13/04/2027", dt.date(2027, 4, 13)),
        ("04/13/2027", dt.date(2027, 4, 13)),
        ("13.4.2027", dt.date(2027, 4, 13)),
        ("13-04-2027", dt.date(2027, 4, 13)),
        ("04/04/2027", dt.date(2027, 4, 4)),
        ("3 Apr 2027", dt.date(2027, 4, 3)),
        ("03-APR-2027", dt.date(2027, 4, 3)),
        ("April 3, 2027", dt.date(2027, 4, 3)),
        ("29/02/2028", dt.date(2028, 2, 29)),
        (at(2027, 4, 12, 23, 59), dt.date(2027, 4, 12)),
        (dt.date(2027, 4, 12), dt.date(2027, 4, 12)),
    ],
)
def test_a_plain_date_is_the_day_that_a_spreadsheet_counts(cell: object, day: dt.date) -> None:
    """Day numbers against those of openpyxl, an open library that writes dates into workbooks."""
    assert (serial(day), None) == read_day(cell)


def test_day_numbers_stay_what_they_are() -> None:
    """A cell that lost its look as a date holds the number itself."""
    assert (read_day(46489), read_day("46489")) == ((46489.0, None), (46489.0, None))


@pytest.mark.parametrize("cell", ["03/04/2027", "3.4.2027", "03-04-2027", "12/1/2027"])
def test_an_ambiguous_date_is_not_guessed(tmp_path: Path, cell: str) -> None:
    """It stays as text, and a finding says why."""
    assert (None, AmbiguousDate) == read_day(cell)
    brought = from_csv(tmp_path, HEAD, f"{cell},V-1,read,9.4,,", "13/04/2027,V-1,read,9.4,,")
    assert cell == brought.frame["log_date_entered"][0]
    assert [("ambiguous-date", cell)] == said(brought)


@pytest.mark.parametrize("cell", ["31/02/2027", "2027-13-01", "13/04/27", "soon", "Apr 2027", "14/13/2027", True, dt.time(12)])
def test_what_is_no_date_is_said(cell: object) -> None:
    """A day that no calendar has, a year of two figures and words are no dates."""
    assert (None, DateNotRead) == read_day(cell)


# --- numbers and texts ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cell", "value"),
    [("9.4", 9.4), ('"9,4"', 9.4), ("9 3/8", 9.375), ("5/8", 0.625), ("9.4 mm", 9.4), ("-1", -1.0), ("", None)],
)
def test_a_gap_is_read(tmp_path: Path, cell: str, value: float | None) -> None:
    """Decimal comma, fraction and the outage's own unit are plain; what is out of range is for the sheet's check."""
    brought = from_csv(tmp_path, HEAD, f"2027-02-03,V-1,read,{cell},,")
    assert (value, []) == (brought.frame["log_gap_1_entered"][0], said(brought))


@pytest.mark.parametrize("cell", ["about nine", "9.4/9.2", "~9.4", "9.4 bar", "30 %"])
def test_what_is_no_plain_number_stays_a_text(tmp_path: Path, cell: str) -> None:
    """The sheet's own check speaks of it."""
    assert cell == from_csv(tmp_path, HEAD, f"2027-02-03,V-1,read,{cell},,").frame["log_gap_1_entered"][0]


def test_another_unit_in_a_cell_is_not_converted(tmp_path: Path) -> None:
    """The text stays, and a finding says that the unit is not the outage's."""
    brought = from_csv(tmp_path, HEAD, '2027-02-03,V-1,read,"3/8 in",,')
    assert (brought.frame["log_gap_1_entered"][0], said(brought)) == ("3/8 in", [("unit-not-of-outage", "3/8 in")])


@pytest.mark.parametrize("column", ["Gap at stud 1", "Leak reading"])
def test_a_comma_before_three_digits_is_not_guessed(tmp_path: Path, column: str) -> None:
    """It may part thousands or decimals, in a leak above all."""
    brought = from_csv(tmp_path, f"Date of the reading,Tag of the valve read,{column}", '2027-02-03,V-1,"1,200"')
    assert (said(brought), [v for v in values(brought)[2:] if v is not None]) == ([("unclear-comma", "1,200")], ["1,200"])


def test_a_cell_that_says_not_known_is_blank_and_said(tmp_path: Path) -> None:
    """A dash is a blank; words that say so are a finding."""
    brought = from_csv(tmp_path, HEAD, "2027-02-03,V-1,read,-,n/a,")
    assert (values(brought)[3:5], said(brought)) == ([None, None], [("not-given", "n/a")])


# --- workbooks --------------------------------------------------------------------------------------------------------


def test_the_sheet_of_a_workbook_is_taken_wherever_its_header_stands(tmp_path: Path) -> None:
    """Real dates become day numbers, a number in the column of tags its text, and the marks beside rows are nothing."""
    brought = from_book(
        tmp_path,
        ["Log"],
        [],
        ["Gaps are in:", None, "mm"],
        ["", *HEAD.split(",")],
        ["▸", at(2027, 2, 3), 101, "read", 9.4, 0, None],
        ["▸"],
        [None, at(2027, 2, 4, 8, 15), "V-1", "read", "9,2", None, "KV"],
    )
    days = [serial(dt.date(2027, 2, 3)), serial(dt.date(2027, 2, 4))]
    assert [[days[0], "101", "read", 9.4, 0.0, None], [days[1], "V-1", "read", 9.2, None, "KV"]] == brought.frame.to_numpy().tolist()
    assert (brought.rows, said(brought)) == ((5, 7), [])


def test_a_log_in_the_other_unit_is_refused_by_what_stands_above_it(tmp_path: Path) -> None:
    """The sheet Log says its unit above its headers, not in them."""
    with pytest.raises(ListError, match="lengths are in in and the workbook takes mm"):
        from_book(tmp_path, ["Gaps are in:", "in"], HEAD.split(","), ["2027-02-03", "V-1"])


def test_stores_in_the_other_unit_are_refused(tmp_path: Path) -> None:
    """The unit of each row stands beside it on Stores; where nothing is typed in the row it does not matter."""
    head = ["Order code", "Pack", "Unit", "Check"]
    rows = ["BRAID PTFE braid / 8", 8, "m", "OK"], ["BRAID graphite braid / 8", None, "ft", "OK"]
    good = from_book(tmp_path, head, *rows, sheet="Stores", wanted=STORES)
    assert list(good.frame["store_code"]) == ["BRAID PTFE braid / 8", "BRAID graphite braid / 8"]
    with pytest.raises(ListError, match="says ft in row 2"):
        from_book(tmp_path, head, ["BRAID PTFE braid / 8", 8, "ft", "OK"], sheet="Stores", wanted=STORES)


def test_a_formula_without_its_result_is_said(tmp_path: Path) -> None:
    """It would pass for a blank cell."""
    brought = from_book(tmp_path, HEAD.split(","), ["2027-02-03", "V-1", "read", "=9+0.4", 120])
    assert (said(brought), brought.frame["log_gap_1_entered"][0]) == ([("formula-without-value", "=9+0.4")], "=9+0.4")


def test_a_date_where_a_number_or_a_tag_is_wanted_is_said(tmp_path: Path) -> None:
    """A spreadsheet makes dates of fractions and of tags."""
    brought = from_book(tmp_path, HEAD.split(","), [at(2027, 2, 3), at(2026, 5, 1), "read", at(2026, 5, 16)])
    assert sorted(one.kind for one in brought.findings) == ["date-not-text", "date-was-fraction"]
    assert brought.frame["log_gap_1_entered"][0] == "2026-05-16"


def test_a_workbook_without_the_sheet_is_refused(tmp_path: Path) -> None:
    """The sentence names the sheets that there are."""
    with pytest.raises(ListError, match="has no sheet 'Log': name one of Sheet, Readings"):
        from_book(tmp_path, HEAD.split(","), sheet="Readings")


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("missing.csv", None, "There is no file"),
        ("empty.csv", b"", "is empty"),
        ("words.xlsx", b"Date,Tag", "is not an Excel workbook"),
        ("old.xls", b"\xd0\xcf\x11\xe0" + bytes(64), "old .xls form"),
        ("log.pdf", b"%PDF", "which is not read"),
    ],
)
def test_a_file_that_cannot_be_opened_is_refused(tmp_path: Path, name: str, content: bytes | None, words: str) -> None:
    """The sentences are those of a list that cannot be opened."""
    if content is not None:
        (tmp_path / name).write_bytes(content)
    with pytest.raises(ListError, match=words):
        read_rows(tmp_path / name, LOG)


def test_a_lock_beside_the_file_is_said_with_its_name(tmp_path: Path) -> None:
    """Findings of the file as a whole are brought along too."""
    (tmp_path / ".~lock.brought.csv#").write_text("somebody", encoding="utf-8")
    (found,) = from_csv(tmp_path, HEAD, ROW).findings
    assert (found.kind, found.said.startswith("brought.csv: A lock file")) == ("open-elsewhere", True)
