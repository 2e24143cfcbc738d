"""A valve list in: one tidy row a valve, and a finding for everything that was not plain.

Which unit a measurement is in is said by the first of these that speaks: the cell, a row of units below the header, the
header, the row's unit set. Which unit set a row has is said by its unit set cell, else by the units of its lengths
where they are all of one kind, else by the unit of its stem diameter. It is never assumed. Pressures and the like say
nothing of it: a valve in mm may well stand in a line in psi.

Rows that add up others, notes and headings between the valves are passed over, each with a finding. What the user says
of a header with a map goes before what its words say.
"""

from __future__ import annotations

import math
import re
import statistics
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pandas as pd
from openpyxl.utils import get_column_letter

from sheetcalc.errors import ListError, TooManyRowsError
from sheetcalc.findings import (
    ConvertedUnit,
    DateInPlan,
    DateNotNumber,
    DateNotText,
    DateWasFraction,
    ExtraCells,
    Finding,
    FormulaWithoutValue,
    FractionInMetricRow,
    GuessedComma,
    GuessedPercent,
    GuessedThousands,
    HeadingUnit,
    JoinedHeaders,
    MapNotUsed,
    MissingHeader,
    MissingTag,
    MissingUnitSet,
    MisspeltHeader,
    NotANumber,
    NotAPair,
    NotAValve,
    NoteRow,
    NotGiven,
    PairHeader,
    PnFlange,
    RenamedHeader,
    RepeatedHeader,
    RepeatedHeaderRow,
    RepeatedTag,
    RoughNumber,
    TagOnly,
    TotalsRow,
    TwoNumbers,
    UnitDoubt,
    UnitWithoutSet,
    UnknownHeader,
    UnknownUnit,
    UnknownUnitSet,
    WeakHeader,
)
from sheetcalc.intake import headers, maps, values
from sheetcalc.intake.files import HEADER_ROWS, Cells, no_header, read_cells
from sheetcalc.intake.headers import (
    COUNT_COLUMNS,
    DIMENSIONS,
    ENTRY_COLUMNS,
    FACTOR_COLUMNS,
    FLANGE_COLUMNS,
    FREE_TEXT_COLUMNS,
    LENGTH_COLUMNS,
    MEASURED_AS,
    NEEDED,
    NUMBER_COLUMNS,
    PLAN_COLUMNS,
    SHARE_COLUMNS,
    TEXT_COLUMNS,
    Header,
)
from sheetcalc.intake.values import Reading
from sheetcalc.units import COHERENT, UNIT_SETS, factor, shown, zero

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

__all__ = ["ENTRY_COLUMNS", "PLAN_COLUMNS", "Column", "ValveList", "read_list"]

#: The longest header that a table can have.
_LONGEST_HEADER: Final = 255
#: What cannot stand in the header of a table that formulas refer to.
_UNFIT: Final = str.maketrans({"[": "(", "]": ")", "#": " ", "'": " ", "@": " "})
#: Fractions from this denominator on are read off an inch rule, not meant as half a millimetre.
_INCH_RULE: Final = 8
#: Which unit set a unit belongs to.
_KIND: Final = {"mm": "metric", "cm": "metric", "m": "metric", "in": "US", "ft": "US"}
_STEM: Final = "stem_diameter_entered"
_SIZE: Final = "flange_size"
#: What stands at the head of a row that adds up others.
_TOTALS: Final = re.compile(
    r"(?:(?:grand|sub|overall)[\s-]*)?(?:totals?|sum|average|avg\.?|mean|count|summe|gesamt|insgesamt|totaux|suma)"
    r"(?:\s+(?:of\s+)?(?:valves?|rows?|all|area|unit|page|rings?|weights?|mass|(?:man[\s-]?|labou?r\s)?hours|gaskets?|studs?|crews?|days?))?\s*[:=]?\s*\d*(?:\s*(?:valves?|no\.?|off|pcs))?",
    re.IGNORECASE,
)
#: How a note begins, or a line of signatures below a table.
_NOTE: Final = re.compile(
    r"(?:notes?|n\.?b|remarks?|legend|key|abbreviations?|comments?|source|prepared|checked|approved|issued|signed|revision|rev|page|"
    r"end of|see|dimensions|all dimensions|all sizes|attention|caution|bemerkung|remarque|nota)(?:\b.*)?|[*†‡§].*|\(?\d{1,2}[).]\s.*",
    re.IGNORECASE | re.DOTALL,
)
#: A text of more words or letters is no tag.
_MOST_TAG_WORDS: Final = 4
_LONGEST_TAG: Final = 40
#: Lengths that are so far apart between valves of one list as millimetres and inches are only where a unit is wrong.
_DOUBTED: Final = (_STEM, "box_bore_entered", "box_depth_entered")
_FAR: Final = 8
_NEAR: Final = 3
_LEAST_FOR_DOUBT: Final = 4
#: How many first values a look shows.
_FIRST_VALUES: Final = 3


@dataclass(frozen=True)
class Column:
    """What one column was understood as.

    `letter` is its place as a spreadsheet names it, `header` the header as written. `entries` are names of
    ENTRY_COLUMNS: none for a column that is carried along, two for one that holds two. `unit` is what header, row of
    units or heading say, "" where each row or cell says it. `sure` is plain, weak, mapped or unknown. `first` are the
    first values as they were read, with the unit of their row.
    """

    letter: str
    header: str
    entries: tuple[str, ...]
    unit: str
    sure: str
    first: tuple[str, ...]


@dataclass(frozen=True)
class ValveList:
    """A list as it was understood.

    `source` is the file's name without its folder. `frame` has one row a valve and exactly ENTRY_COLUMNS, all of dtype
    object, with a RangeIndex: text entries are str ("" for blank), number entries a float in the unit of the row's unit
    set (such as mm or in, bar or psi), NaN for blank, or the user's own text where that is no number. `rows` is the row of each valve in
    the file, from 1; a line break inside quotes starts no row, as in a spreadsheet. `carried` holds the columns that
    are not understood: final header to cells, as they were, one a valve. `verbatim` is every cell of the source, row by
    row. `understood` maps their header to the entry column. `sheet` is the name of the sheet, "" for a text file;
    `header_rows` are the first and the last row of the header, from 1; `columns` says of each column what it was taken
    for.
    """

    source: str
    frame: pd.DataFrame
    rows: tuple[int, ...]
    carried: dict[str, list[object]]
    verbatim: tuple[tuple[object, ...], ...]
    understood: dict[str, str]
    findings: tuple[Finding, ...]
    sheet: str = ""
    header_rows: tuple[int, int] = (1, 1)
    columns: tuple[Column, ...] = ()


@dataclass(frozen=True)
class _Columns:
    """What the columns of a list are: the place of each entry, the unit of each place, the columns of two, and the others.

    `sizes_in` is how the sizes of flanges are given, "NPS", "DN" or "" for unsaid; `bare_dn` says that some can only be DN.
    """

    places: dict[str, int]
    units: dict[int, str]
    percents: frozenset[int]
    headers: tuple[Header, ...]
    first_row: int
    pairs: frozenset[int] = frozenset()
    sizes_in: str = ""
    bare_dn: bool = False


@dataclass
class _Row:
    """One valve being read: its cells, and what was found out about them."""

    number: int
    cells: Sequence[object]
    tag: str = ""
    findings: list[Finding] = field(default_factory=list)

    def cell(self, place: int | None) -> object:
        """The cell at a place, None beyond the row's end."""
        return self.cells[place] if place is not None and place < len(self.cells) else None

    def find(self, kind: type[Finding], column: str = "", value: str = "") -> None:
        """Add a finding of this row."""
        self.findings.append(kind(row=self.number, column=column, value=value, tag=self.tag))


def read_list(
    path: Path,
    *,
    sheet: str | None = None,
    most_rows: int | None = None,
    reserved: Collection[str] = (),
    mapped: Mapping[str, str] | None = None,
    wanted: Mapping[str, str] | None = None,
) -> ValveList:
    """Read a valve list, however it was typed.

    Args:
        path: a CSV or Excel file.
        sheet: the name of its sheet; None for the one that fits best.
        most_rows: the most valves that the list may have; None for any number.
        reserved: headers that the workbook uses itself, so that no carried column may have them.
        mapped: what headers mean, from a map file: header as written, to an entry (with or without `_entered`) or
            "carry". A header that the list lacks is a finding.
        wanted: the same, asked for outright: it goes before `mapped`, and a header that the list lacks is an error.

    Returns:
        The valves, what is carried along, and the findings in the order of the file.

    Raises:
        ListError: the list cannot be read at all, or a map names what is not there; the sentence says what to do.
        TooManyRowsError: it has more valves than `most_rows`; the sentence says how to split it.
    """
    path = Path(path)
    asked = maps.checked(wanted or {})
    # What is asked for outright takes an entry from the map of a file.
    kept = {text: entry for text, entry in maps.checked(mapped or {}).items() if entry == headers.CARRY or entry not in asked.values()}
    folded = {headers.fold(text): entry for text, entry in (kept | asked).items()}
    cells = read_cells(path, sheet, folded)
    found = headers.find(cells.rows[:HEADER_ROWS], folded, cells.merged)
    if found is None:
        raise ListError(no_header(path.name))
    map_findings = _check_map(cells, found, mapped or {}, wanted or {}, path.name)
    columns, findings = _columns(cells.rows, found)
    rows, row_findings = _valve_rows(cells, columns, found)
    columns = replace(columns, bare_dn=any(values.only_dn(row.cell(columns.places.get(_SIZE))) for row in rows))
    _refuse_too_many(len(rows), most_rows, path.name)
    carried, carried_findings = _carry(cells, columns, rows, reserved)
    findings = [*cells.findings, *map_findings, *findings, *carried_findings]

    places = columns.places
    table: dict[str, list[object]] = {name: [] for name in ENTRY_COLUMNS}
    seen: set[str] = set()
    for row in rows:
        _read_row(row, columns, cells, table)
        _check_tag(row, columns, seen)
    _doubt_units(rows, columns, table)
    for row in rows:
        row_findings.extend(row.findings)
    # A stable sort: the findings of one row stay in the order in which they were made.
    row_findings.sort(key=lambda finding: finding.row or 0)
    return ValveList(
        source=path.name,
        frame=pd.DataFrame({name: pd.Series(column, dtype=object) for name, column in table.items()}),
        rows=tuple(row.number for row in rows),
        carried=carried,
        verbatim=cells.rows,
        understood={columns.headers[at].text: name for at, name in sorted((at, name) for name, at in places.items())},
        findings=(*findings, *row_findings),
        sheet=cells.sheet,
        header_rows=(found.at + 1, found.at + found.lines),
        columns=_looked_at(columns, rows, table),
    )


# --- columns ----------------------------------------------------------------------------------------------------------


def _check_map(
    cells: Cells, found: headers.Found, mapped: Mapping[str, str], wanted: Mapping[str, str], name: str,
) -> list[Finding]:  # fmt: skip
    """Speak of the headers of a map that the list does not have; raise for those that were asked for outright."""
    # Of two lines a map may name what they say together, or the lower one.
    lowest = map(values.plain, cells.rows[found.at + found.lines - 1])
    texts = [header.text for header in found.headers if header.text]
    held = {headers.fold(text): text for text in [*lowest, *texts] if text}
    lacking = [text for text in wanted if headers.fold(text) not in held]
    if lacking:
        said = "; ".join(f"{text!r} ({_nearest(text, held, texts)})" for text in lacking)
        message = f"{name} has no header {said}: write it as it stands in the list."
        raise ListError(message)
    return [MapNotUsed(column=text, value=_nearest(text, held, texts)) for text in mapped if headers.fold(text) not in held]


def _nearest(text: str, held: Mapping[str, str], texts: Sequence[str]) -> str:
    """The headers of a list that come nearest to one that it lacks, in words; all of a few where none comes near."""
    near = [held[key] for key in get_close_matches(headers.fold(text), list(held), 3, 0.5)]
    return f"nearest: {', '.join(near)}" if near else f"it has: {', '.join(texts[:12])}"


def _columns(rows: Sequence[Sequence[object]], found: headers.Found) -> tuple[_Columns, list[Finding]]:
    """What each column is, from the header, a row of units below it, and what stands above it."""
    heads, header_at = found.headers, found.at
    below_at = header_at + found.lines
    below_units = headers.units_row(rows[below_at] if below_at < len(rows) else (), heads)
    findings: list[Finding] = []
    if found.lines > 1:
        findings.append(JoinedHeaders(row=header_at + 1, value=f"rows {header_at + 1} and {header_at + found.lines}"))
    places = _places(heads)
    held = set(places.values())
    units: dict[int, str] = {}
    percents: set[int] = set()
    above = "" if "unit_set" in places else _unit_above(rows[:header_at])
    for at, head in enumerate(heads):
        if at not in held:
            kind = RepeatedHeader if head.entry else UnknownHeader
            # What the user asked to be carried along is no riddle.
            if head.text and not (head.mapped and not head.entry):
                findings.append(kind(row=header_at + 1, column=head.text))
            continue
        unit, percent = below_units[at] if below_units else ("", False)
        findings.extend(_guesses(head, header_at))
        if head.entry in MEASURED_AS and (unit or head.unit):
            units[at] = unit or head.unit
            if head.from_above and not unit:
                findings.append(HeadingUnit(row=header_at + 1, column=head.text, value=shown(head.unit)))
        elif head.entry in LENGTH_COLUMNS and above:
            units[at] = above
            findings.append(HeadingUnit(row=header_at + 1, column=head.text, value=shown(above)))
        if head.percent or percent:
            percents.add(at)
    findings.extend(MissingHeader(column=title) for name, title in NEEDED.items() if name not in places)
    pairs = frozenset(at for at in held if heads[at].second)
    below = rows[below_at] if below_units else ()
    sizes_in = _sizes_in(places.get(_SIZE), heads, below)
    return _Columns(places, units, frozenset(percents), heads, below_at + (1 if below_units else 0), pairs, sizes_in), findings


def _sizes_in(place: int | None, heads: Sequence[Header], below: Sequence[object]) -> str:
    """How the column of the flange sizes says that they are given, in its header or in a row of units below it."""
    if place is None:
        return ""
    return headers.size_said(heads[place].text, values.plain(below[place]) if place < len(below) else "")


def _places(heads: Sequence[Header]) -> dict[str, int]:
    """The column of each entry: what the user said goes first, then columns of one entry, then those of two."""
    places: dict[str, int] = {}
    for at, head in sorted(enumerate(heads), key=lambda one: (not one[1].mapped, bool(one[1].second))):
        entries = [entry for entry in (head.entry, head.second) if entry]
        if not any(entry in places for entry in entries):
            places.update(dict.fromkeys(entries, at))
    return places


def _guesses(head: Header, header_at: int) -> list[Finding]:
    """What is to be said of a header that was not plain."""
    if head.sure != "weak":
        return []
    if head.second:
        return [PairHeader(row=header_at + 1, column=head.text, value=f"{_title(head.entry)}, {_title(head.second)}")]
    kind = MisspeltHeader if head.misspelt else WeakHeader
    return [kind(row=header_at + 1, column=head.text, value=_title(head.entry))]


def _title(entry: str) -> str:
    """An entry in words."""
    return entry.removesuffix("_entered").replace("_", " ")


def _unit_above(rows: Sequence[Sequence[object]]) -> str:
    """The unit of all lengths that the lines above the table give, such as "All dimensions in mm"; "" for none or for two."""
    said = {headers.heading_unit(cell) for row in rows for cell in row if isinstance(cell, str) and " " in cell.strip()}
    said.discard("")
    return next(iter(said)) if len(said) == 1 else ""


def _looked_at(columns: _Columns, rows: Sequence[_Row], table: Mapping[str, Sequence[object]]) -> tuple[Column, ...]:
    """Every column of the list with what it was taken for, and its first values."""
    entries: dict[int, list[str]] = {}
    for name, at in columns.places.items():
        entries.setdefault(at, []).append(name)
    out = []
    for at in range(max([len(columns.headers), *(len(row.cells) for row in rows)])):
        head = columns.headers[at] if at < len(columns.headers) else Header("")
        names = tuple(entries.get(at, ()))
        if names:
            sets = table["unit_set"]
            first = [", ".join(_as_read(table[name][place], name, sets[place]) for name in names) for place in range(len(rows))]
        else:
            first = [values.plain(row.cell(at)) for row in rows]
        told = tuple(one for one in first if one.strip(", "))[:_FIRST_VALUES]
        if head.text or told:
            sure = head.sure if names or head.mapped else "unknown"
            out.append(Column(get_column_letter(at + 1), head.text, names, columns.units.get(at, ""), sure, told))
    return tuple(out)


def _as_read(value: object, name: str, unit_set: object) -> str:
    """One value as it was read: a number with the unit of its row, or a text in quotes where a number is wanted."""
    if isinstance(value, float):
        if math.isnan(value):
            return ""
        unit = UNIT_SETS.get(str(unit_set), {}).get(DIMENSIONS.get(name, ""), "")
        return f"{value:.6g} {shown(unit)}".strip()
    return repr(value) if name not in TEXT_COLUMNS and value != "" else str(value)


def _carry(
    cells: Cells,
    columns: _Columns,
    rows: Sequence[_Row],
    reserved: Collection[str],
) -> tuple[dict[str, list[object]], list[Finding]]:
    """The columns that are not understood, under headers that a table can have."""
    blank: object = "" if cells.is_text else None
    understood = set(columns.places.values())
    width = max([len(columns.headers), *(len(row.cells) for row in rows)])
    taken = {name.casefold() for name in reserved}
    carried: dict[str, list[object]] = {}
    findings: list[Finding] = []
    for at in range(width):
        if at in understood:
            continue
        own = columns.headers[at].text if at < len(columns.headers) else ""
        column = [blank if (cell := row.cell(at)) is None else cell for row in rows]
        if not own and all(values.is_blank(cell) for cell in column):
            continue
        name = _free_name(own, f"Column {get_column_letter(at + 1)}", taken)
        taken.add(name.casefold())
        carried[name] = column
        if name != own:
            findings.append(RenamedHeader(column=own, value=name))
    return carried, findings


def _free_name(own: str, otherwise: str, taken: Collection[str]) -> str:
    """A header that a table can have and that no other column has, as near to the user's own as can be."""
    fit = "".join(c if c.isprintable() else " " for c in own.translate(_UNFIT))
    fit = " ".join(fit.split())[:_LONGEST_HEADER].strip() or otherwise
    name, count = fit, 1
    while name.casefold() in taken:
        count += 1
        more = f" ({count})"
        name = fit[: _LONGEST_HEADER - len(more)].rstrip() + more
    return name


# --- rows -------------------------------------------------------------------------------------------------------------


def _valve_rows(cells: Cells, columns: _Columns, found: headers.Found) -> tuple[list[_Row], list[Finding]]:
    """The rows that are valves, and findings about those that are not and yet hold something."""
    tells = [at for name, at in columns.places.items() if name not in {"unit_set", *FREE_TEXT_COLUMNS, *PLAN_COLUMNS, *FLANGE_COLUMNS}]
    repeats = {tuple(map(values.plain, line)) for line in cells.rows[found.at : found.at + found.lines]}
    width = max(len(line) for line in cells.rows[found.at : found.at + found.lines])
    rows: list[_Row] = []
    findings: list[Finding] = []
    after_gap = False
    for at in range(columns.first_row, len(cells.rows)):
        row = _Row(at + 1, cells.rows[at])
        texts = tuple(map(values.plain, row.cells))
        said = ", ".join(text for text in texts if text)
        if not said:
            after_gap = bool(rows)
            continue
        if not any(not _says_nothing(row.cell(place)) for place in tells):
            findings.append(_remark(row, said))
        elif texts in repeats:
            findings.append(RepeatedHeaderRow(row=row.number))
        elif _is_total(row, columns, rows):
            findings.append(TotalsRow(row=row.number, value=said))
        elif _is_note(row, columns, after_gap=after_gap):
            findings.append(NoteRow(row=row.number, value=said))
        else:
            rows.append(row)
            after_gap = False
            extra = [text for text in texts[width:] if text]
            if cells.is_text and extra:
                row.find(ExtraCells, value=", ".join(extra))
            tag = columns.places.get("tag")
            if tag is not None and [text for text in texts if text] == [values.plain(row.cell(tag))]:
                row.find(TagOnly, columns.headers[tag].text, values.plain(row.cell(tag)))
    return rows, findings


def _remark(row: _Row, said: str) -> Finding:
    """What is to be said of a row with nothing under a header that makes a valve."""
    adds_up = any(map(_names_total, row.cells)) and any(_number(row, at) is not None for at in range(len(row.cells)))
    return (TotalsRow if adds_up else NotAValve)(row=row.number, value=said)


def _names_total(cell: object) -> bool:
    """Whether a cell says that its row adds up others."""
    return isinstance(cell, str) and _TOTALS.fullmatch(values.plain(cell)) is not None


def _number(row: _Row, place: int) -> float | None:
    """The number at a place, however it is typed; None for any other cell."""
    return values.read_value(row.cell(place)).number


def _is_total(row: _Row, columns: _Columns, above: Sequence[_Row]) -> bool:
    """Whether a row adds up those above: it says so where its tag would be or in a cell without one, or its numbers do."""
    tag = row.cell(columns.places.get("tag"))
    if _names_total(tag):
        return True
    if not _says_nothing(tag):
        return False
    if any(map(_names_total, row.cells)):
        return True
    # A row without a tag and a word, in which two numbers or more are the sums of their columns.
    filled = [at for at, cell in enumerate(row.cells) if not _says_nothing(cell)]
    numbers = {at: number for at in filled if (number := _number(row, at)) is not None}
    if "tag" not in columns.places or len(numbers) < len(filled) or len(numbers) < 2:  # noqa: PLR2004 - more than chance
        return False
    parts = {at: [part for one in above if (part := _number(one, at))] for at in numbers}
    # The sum of one number is that number: a second valve of the same size is no total.
    return all(len(parts[at]) > 1 and math.isclose(number, math.fsum(parts[at]), rel_tol=1e-9) for at, number in numbers.items())


def _is_note(row: _Row, columns: _Columns, *, after_gap: bool) -> bool:
    """Whether a row with a text where its tag would be is a note or a heading.

    A row with a number under a measurement never is. In the table itself a row is a note where nothing but that text
    stands in it and it reads like one, or has no figure as nearly every tag has. Below a gap other texts may stand
    beside it, such as a name beside "Checked by".
    """
    place = columns.places.get("tag")
    if place is None:
        return False
    measured = {at for name, at in columns.places.items() if name not in TEXT_COLUMNS + PLAN_COLUMNS}
    if any(_number(row, at) is not None for at in measured):
        return False
    tag = values.plain(row.cell(place))
    if not tag:
        return False
    others = [at for at in range(len(row.cells)) if at != place and not _says_nothing(row.cell(at))]
    reads_like_one = len(tag) > _LONGEST_TAG or len(tag.split()) > _MOST_TAG_WORDS or _NOTE.fullmatch(tag) is not None
    # Who writes n/a under a measurement speaks of a valve.
    speaks_of_a_valve = any(at in measured and values.says_not_given(row.cell(at), number=True) for at in others)
    alone = not others or (after_gap and not speaks_of_a_valve)
    return alone and (reads_like_one or not re.search(r"\d", tag))


def _says_nothing(cell: object) -> bool:
    """Whether a cell is blank or holds only a dash."""
    return values.is_blank(cell) or (isinstance(cell, str) and not cell.strip().strip("-–—"))


def _refuse_too_many(count: int, most_rows: int | None, name: str) -> None:
    """Raise where a list has more valves than a workbook is meant for."""
    if most_rows is None or count <= most_rows:
        return
    files = math.ceil(count / max(most_rows, 1))
    message = (
        f"{name} has {count:,} valves and a workbook takes {most_rows:,}: split it into {files} files of at most {most_rows:,} rows each."
    )
    raise TooManyRowsError(message)


def _read_row(row: _Row, columns: _Columns, cells: Cells, table: dict[str, list[object]]) -> None:
    """Read one valve into the table's columns."""
    row.tag = values.written(row.cell(columns.places.get("tag"))).strip()
    for name in TEXT_COLUMNS:
        if name != "unit_set":
            table[name].append(_text(row, name, columns))
        _check_text(row, name, columns, cells)
    names = (*DIMENSIONS, *COUNT_COLUMNS, *SHARE_COLUMNS, *FACTOR_COLUMNS, *NUMBER_COLUMNS)
    readings = {name: _read_number(row, name, columns, cells) for name in names}
    row_set = _unit_set(row, columns, readings)
    table["unit_set"].append(row_set)
    for name, reading in readings.items():
        place = columns.places.get(name)
        if place is None or reading.blank:
            table[name].append(math.nan)
        elif reading.number is None:
            table[name].append(values.written(row.cell(place)).strip())
        elif name in DIMENSIONS and reading.fault is None:
            table[name].append(_measurement(row, name, reading, row_set, columns))
        elif name in SHARE_COLUMNS + FACTOR_COLUMNS and reading.fault is None:
            table[name].append(_share(row, name, reading, columns, cells))
        else:
            table[name].append(reading.number)


def _text(row: _Row, name: str, columns: _Columns) -> str:
    """One text entry: as typed for people, in the listed words for codes, blank where the cell says that nothing is known."""
    place = columns.places.get(name)
    cell = row.cell(place)
    if name == "tag" or name in FREE_TEXT_COLUMNS:
        return values.written(cell).strip()
    code = _size(cell, columns)[0] if name == _SIZE else values.code(name, cell)
    # A gasket called "none" is none: it must not be ordered. A size is a number.
    as_number = name in {"gasket", "gasket_kind", _SIZE}
    if place is not None and code and values.says_not_given(cell, number=as_number) and code == values.plain(cell):
        row.find(NotGiven, columns.headers[place].text, code)
        return ""
    return code


def _size(cell: object, columns: _Columns) -> tuple[str, type[Finding] | None]:
    """The size of a flange in a cell, as its column has it, and what is to be said of it."""
    return values.flange_size(cell, said=columns.sizes_in, among_dn=columns.bare_dn)


def _check_text(row: _Row, name: str, columns: _Columns, cells: Cells) -> None:
    """Speak of a text cell that holds a date, or a formula without its result, and of a size that was not plain."""
    place = columns.places.get(name)
    if place is None:
        return
    cell = row.cell(place)
    if values.is_date(cell):
        row.find(DateNotText, columns.headers[place].text, values.plain(cell))
    elif (row.number - 1, place) in cells.formulas:
        row.find(FormulaWithoutValue, columns.headers[place].text, values.plain(cell))
    elif name == _SIZE and not values.says_not_given(cell, number=True):
        size, kind = _size(cell, columns)
        if kind is not None:
            text = values.plain(cell)
            row.find(kind, columns.headers[place].text, text if size == text else f"{text} was read as {size}")


def _read_number(row: _Row, name: str, columns: _Columns, cells: Cells) -> Reading:
    """Read one number cell, with its findings."""
    place = columns.places.get(name)
    if place is None:
        return Reading(blank=True)
    cell = row.cell(place)
    column = columns.headers[place].text
    shown = values.written(cell).strip()
    if (row.number - 1, place) in cells.formulas:
        # A column of two measurements comes here twice.
        if not any(isinstance(one, FormulaWithoutValue) and one.column == column for one in row.findings):
            row.find(FormulaWithoutValue, column, shown)
        return Reading()
    if place in columns.pairs:
        reading = _half(row, name, columns)
    elif name == "flange_class_entered" and values.is_pn(cell):
        # Kept as text it would be called a faulty class in every valve that stays in its line.
        reading = Reading(blank=True, fault=PnFlange)
    else:
        bare = values.numbered(name, cell)
        reading = values.read_value(bare, counts=name in COUNT_COLUMNS, dimension=MEASURED_AS.get(name, ""))
    if reading.unit == "%" and name not in SHARE_COLUMNS + FACTOR_COLUMNS:
        reading = Reading(fault=UnknownUnit if name in MEASURED_AS else NotANumber)
    if name in NUMBER_COLUMNS + PLAN_COLUMNS and name not in MEASURED_AS and reading.bottom > 1:
        # A pH of 6/8 is two limits, and crew 1/2 is two crews.
        reading = Reading(fault=TwoNumbers)
    if name in PLAN_COLUMNS and reading.fault in {DateNotNumber, DateWasFraction}:
        # Nobody types a fraction of an inch for a day.
        reading = Reading(fault=DateInPlan)
    _speak(row, column, shown, reading)
    return reading


def _speak(row: _Row, column: str, text: str, reading: Reading) -> None:
    """Speak of what was not plain in the reading of one cell."""
    if reading.fault is DateWasFraction:
        text = f"{text} is a date, probably {' or '.join(reading.fractions)}"
    if reading.fault:
        # Both halves of a cell of two have the same fault: it is said once.
        if not any(isinstance(one, reading.fault) and one.column == column for one in row.findings):
            row.find(reading.fault, column, text)
    else:
        guesses: tuple[tuple[type[Finding], bool], ...] = (
            (GuessedComma, reading.guessed_comma), (GuessedThousands, reading.thousands), (RoughNumber, reading.rough),
            (NotGiven, reading.not_given),
        )  # fmt: skip
        for kind, made in guesses:
            if made and not any(isinstance(one, kind) and one.column == column for one in row.findings):
                row.find(kind, column, text)


def _half(row: _Row, name: str, columns: _Columns) -> Reading:
    """One of the two measurements of a cell under a header of two."""
    place = columns.places[name]
    cell = row.cell(place)
    if values.is_blank(cell) or _says_nothing(cell) or values.says_not_given(cell, number=True):
        return values.read_value(cell)
    says = columns.places.get("unit_set")
    row_set = values.unit_set(row.cell(says)) if says is not None else ""
    both = values.pair(cell, metric=columns.units.get(place) in {"mm", "cm"} or row_set == "metric")
    if both is None:
        whole = values.read_value(cell)
        return Reading(fault=DateWasFraction if whole.fault is DateWasFraction else NotAPair, fractions=whole.fractions)
    return values.read_value(both[0 if columns.headers[place].entry == name else 1])


def _unit_set(row: _Row, columns: _Columns, readings: dict[str, Reading]) -> str:
    """The unit set of a row: what it says, else what its lengths say, else ""."""
    place = columns.places.get("unit_set")
    said = values.unit_set(row.cell(place)) if not _says_nothing(row.cell(place)) else ""
    if said:
        if said not in UNIT_SETS and place is not None:
            row.find(UnknownUnitSet, columns.headers[place].text, said)
        return said
    kinds = {}
    for name in LENGTH_COLUMNS:
        reading = readings[name]
        unit = reading.unit or columns.units.get(columns.places.get(name, -1), "")
        if unit and reading.number is not None and reading.fault is None:
            kinds[name] = _KIND[unit]
    if len(set(kinds.values())) == 1:
        return next(iter(kinds.values()))
    if _STEM in kinds:
        return kinds[_STEM]
    row.find(MissingUnitSet, columns.headers[place].text if place is not None else "")
    return ""


def _measurement(row: _Row, name: str, reading: Reading, row_set: str, columns: _Columns) -> object:
    """One measurement in the unit of its row, or as text where the row has no unit set and the measurement a unit."""
    number, place = reading.number, columns.places[name]
    if number is None:
        return math.nan
    column, column_unit = columns.headers[place].text, columns.units.get(place, "")
    unit = reading.unit or column_unit
    typed = values.written(row.cell(place)).strip()
    with_unit = typed if reading.unit or not unit else f"{typed} {shown(unit)}"
    if row_set not in UNIT_SETS:
        if not unit:
            return number
        row.find(UnitWithoutSet, column, with_unit)
        return with_unit
    dimension = DIMENSIONS[name]
    wanted = UNIT_SETS[row_set][dimension]
    if not unit:
        if wanted == "mm" and reading.bottom >= _INCH_RULE:
            row.find(FractionInMetricRow, column, typed)
        return number
    if unit == wanted:
        return number
    row.find(ConvertedUnit, column, with_unit)
    return _converted(number, unit, wanted, COHERENT[dimension])


def _converted(number: float, unit: str, wanted: str, coherent: str) -> float:
    """A number in another unit, by way of the coherent one: its factors are exact, so that 28 mm in inches is 28/25.4."""
    if coherent != "degC":
        return number * factor(unit, coherent) / factor(wanted, coherent)
    # Kelvin has its zero at nothing, so it is where Celsius starts in it that counts.
    celsius = number + zero(coherent, "K") if unit == "K" else (number - zero(unit, coherent)) / factor(coherent, unit)
    return celsius * factor(coherent, wanted) + zero(wanted, coherent)


def _share(row: _Row, name: str, reading: Reading, columns: _Columns, cells: Cells) -> object:
    """One share of one: a sign, the cell's format, the header and at last the size say whether it was per cent.

    The size says it for shares alone: of a factor nobody thinks in per cent.
    """
    number, place = math.nan if reading.number is None else reading.number, columns.places[name]
    if reading.unit == "%":
        return number / 100
    if number == 0 or (row.number - 1, place) in cells.percents:
        return number
    asks_percent = place in columns.percents
    as_percent = number >= 1 if asks_percent else number > 1 and name in SHARE_COLUMNS
    if as_percent != asks_percent:
        row.find(GuessedPercent, columns.headers[place].text, values.written(row.cell(place)).strip())
    return number / 100 if as_percent else number


def _check_tag(row: _Row, columns: _Columns, seen: set[str]) -> None:
    """Speak of a tag that is missing or stands in an earlier row."""
    place = columns.places.get("tag")
    if place is None:
        # The missing column has been reported once for the whole list.
        return
    column = columns.headers[place].text
    if not row.tag:
        row.find(MissingTag, column)
        return
    key = values.plain(row.tag).casefold()
    if key in seen:
        row.find(RepeatedTag, column, row.tag)
    seen.add(key)


def _doubt_units(rows: Sequence[_Row], columns: _Columns, table: Mapping[str, list[object]]) -> None:
    """Speak of bare lengths that suit the other valves of their unit set only in the other unit."""
    for name in _DOUBTED:
        place = columns.places.get(name)
        if place is None:
            continue
        lengths = [value if isinstance(value, float) and value > 0 else math.nan for value in table[name]]
        for unit_set, other in (("metric", 25.4), ("US", 1 / 25.4)):
            own = [at for at, value in enumerate(lengths) if table["unit_set"][at] == unit_set and not math.isnan(value)]
            if len(own) < _LEAST_FOR_DOUBT:
                continue
            middle = statistics.median(lengths[at] for at in own)
            for at in own:
                value = lengths[at]
                is_far = value * _FAR < middle if other > 1 else value > middle * _FAR
                would_suit = middle / _NEAR < value * other < middle * _NEAR
                if is_far and would_suit and not values.read_value(rows[at].cell(place)).unit:
                    rows[at].find(UnitDoubt, columns.headers[place].text, values.written(rows[at].cell(place)).strip())
