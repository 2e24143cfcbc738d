"""The workbook for a list: Valves, which the planner owns, and Working, one row per valve with every formula."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Final

import pandas as pd

from sheetcalc.calculations.run import entry_names, evaluate, issued_assumptions, read_entries
from sheetcalc.calculations.shown import WITH_A_RULE
from sheetcalc.declare import formula
from sheetcalc.declare.quantity import Quantity, get
from sheetcalc.findings import Finding
from sheetcalc.sheets import assumptions, read_first, self_check, tables
from sheetcalc.sheets.common import ROW_MARK, answered, column_values, fingerprint, footer, in_names, plain, unit_shown
from sheetcalc.sheets.edition import Edition, choices_of, entry_style, entry_title
from sheetcalc.sheets.layout import (
    Cell,
    Grid,
    GridColumn,
    Layout,
    Mark,
    Sheet,
    TableSpec,
    Validation,
    Value,
    address,
    block,
    column_letters,
)  # fmt: skip
from sheetcalc.sheets.one_valve import ENTRY_GROUPS

VALVES, WORKING, ONE = "Valves", "Working", "One valve of the list"
FINDINGS, YOUR_LIST = "Findings", "Your list"
_HEADER: Final = 5
_FIRST: Final = 10

#: Answers in Valves, in the order in which they are read; lengths are shown in the edition's unit.
ANSWERS: Final = (
    "state", "all_trouble", "packing_section", "stocked_section", "section_advice", "ring_height", "rings_that_fit",
    "ring_count", "maker_count_difference", "spacer_height", "start_entry", "gland_gap_start", "compression_travel",
    "gland_gap_end", "follower_state", "cut_length", "bulk_length", "joint_step", "joint_angles", "flats_to_compress",
    "follower_tilt", "flats_to_even",
)  # fmt: skip
SPARE_BLANK: Final = 300
SPARE_PLAN: Final = 50
#: How far below the header of Valves Working looks: more rows than a list may have.
_FETCH_ROWS: Final = 20_000
#: Words that stand where a row of Valves has no row in Working.
NO_ROW: Final = "no row in Working"


@dataclass(frozen=True)
class Filled:
    """A list to be filled in: entries as the core reads them, what is carried along, findings, and the list as it came."""

    entries: pd.DataFrame
    source: str = ""
    carried: Mapping[str, Sequence[object]] = field(default_factory=dict)
    findings: Sequence[Finding] = ()
    verbatim: Sequence[Sequence[object]] = ()


def blank() -> Filled:
    """A list with no valve in it."""
    return Filled(pd.DataFrame(columns=list(entry_names())))


@dataclass(frozen=True)
class _Column:
    """A column of Valves: its header, and the entry, or the column of Working, that it holds."""

    header: str
    entry: str = ""
    working: str = ""
    style: str = "entry_number"
    width: float = 11.0
    band: str = ""


def entry_header(name: str) -> str:
    """The header of an entry in Valves. The overrides say that they hold for this valve only."""
    title = entry_title(get(name)).replace(",", "")
    return f"{title} here" if name in ENTRY_GROUPS[2][1] else title


@cache
def reserved_headers() -> frozenset[str]:
    """Headers that a carried column must not take, in both editions."""
    from sheetcalc.sheets.edition import EDITIONS  # noqa: PLC0415 - a name for the annotation is imported above

    return frozenset(column.header for edition in EDITIONS.values() for column in _columns(edition, ()))


def _shown(name: str) -> str:
    return f"{name}_shown" if get(name).unit == "mm" else name


def _columns(edition: Edition, carried: Sequence[str]) -> tuple[_Column, ...]:
    """The columns of Valves from left to right."""
    out: list[_Column] = []
    for band, names in zip(("ENTRIES ▸", "ENTRIES where they apply ▸"), (ENTRY_GROUPS[0][1], ENTRY_GROUPS[1][1]), strict=True):
        out += [_entry_column(name, edition, band) for name in names]
    for name in ANSWERS:
        out += _answer_columns(get(name), edition)
    out.append(_Column("Tag check", working="check_tag", style="answer_text", width=22, band="ANSWERS"))
    out += [_entry_column(name, edition, "ENTRIES for this valve only, instead of Assumptions ▸") for name in ENTRY_GROUPS[2][1]]
    out += [_Column(header, style="carried", width=18, band="CARRIED ALONG from your list, not used") for header in carried]
    return tuple(out)


def _entry_column(name: str, edition: Edition, band: str) -> _Column:
    return _Column(entry_header(name), entry=name, style=entry_style(get(name), edition), width=13, band=band)


def _answer_columns(quantity: Quantity, edition: Edition) -> list[_Column]:
    name, unit = quantity.name, unit_shown(quantity)
    if quantity.is_text:
        widths = {"state": 14, "all_trouble": 60, "section_advice": 26, "joint_angles": 24}
        style = {"state": "answer_state", "all_trouble": "answer_wrap"}.get(name, "answer_text")
        return [_Column(quantity.title, working=name, style=style, width=widths.get(name, 14), band="ANSWERS")]
    if quantity.unit != "mm":
        style = "answer_count" if unit == "–" and not name.startswith("flats") else "answer_2"
        title = quantity.title if unit == "–" else f"{quantity.title} ({unit})"
        return [_Column(title, working=name, style=style, band="ANSWERS")]
    style = "answer" if edition.unit_set == "metric" else "answer_in"
    out = [_Column(f"{quantity.title} ({edition.length_unit})", working=_shown(name), style=style, band="ANSWERS")]
    if edition.unit_set == "US" and name in WITH_A_RULE:
        out += [
            _Column(f"{quantity.title} (nearest 1/16 in)", working=f"{name}_sixteenths", style="answer_text", band="ANSWERS"),
            _Column(f"{quantity.title} (mm)", working=name, style="answer", band="ANSWERS"),
        ]
    return out


class _Working:
    """Where each quantity stands on Working, and the answers of the core for every row."""

    def __init__(self, edition: Edition, filled: Filled, spare: int) -> None:
        self.edition = edition
        self.count = len(filled.entries)
        self.rows = self.count + spare
        spare_rows = pd.DataFrame({"unit_set": [edition.unit_set] * spare}, columns=list(entry_names()))
        entries = pd.concat([filled.entries.astype(object), spare_rows.astype(object)], ignore_index=True)
        self.entries = entries.reindex(columns=list(entry_names()))
        self.typed = read_entries(self.entries)
        self.values = evaluate(self.typed, self.rows)
        self.names = [*entry_names(), *(q.name for q in answered())]
        shown = [f"{name}_shown" for name in ANSWERS if get(name).unit == "mm"]
        self.extra = [*shown, "tag_first_row", "tag_trouble", "check_tag"]
        self.column = {name: place for place, name in enumerate([*self.names, *self.extra], start=1)}
        self.last = _FIRST + self.rows - 1

    def range(self, name: str) -> str:
        """The whole column of a quantity."""
        column = self.column[name]
        return f"{WORKING}!{block(_FIRST, column, self.last, column)}"

    def place(self, name: str) -> str:
        """The cell of a quantity in the row of the formula."""
        return f"${column_letters(self.column[name])}{ROW_MARK}"

    @property
    def places(self) -> dict[str, str]:
        """Row-relative addresses for what stands in Working, defined names for the rest."""
        fixed = {name: name for name in [*assumptions.names(), *tables.names()]}
        return {**fixed, **{name: self.place(name) for name in self.names}}

    def fetch(self, name: str) -> tuple[str, ...]:
        """The formula parts that fetch an entry: a blank stays blank, an error value becomes text that no check accepts.

        The range is a plain one, since LibreOffice kept old answers of a table's own column after rows were deleted. It
        begins at the header, so that a row inserted above the first valve stays inside, and ends far below the table.
        """
        place = next(i for i, column in enumerate(_columns(self.edition, ())) if column.entry == name)
        whole = f"{VALVES}!{block(_HEADER, place, _HEADER + _FETCH_ROWS, place)}"
        number = f"$A{ROW_MARK}"
        inner = f'IF(INDEX({whole},1+{number})="","",INDEX({whole},1+{number}))'
        return tuple(f'IF({number}>ROWS({VALVES}[Tag]),"",IFERROR({inner},"#"))'.split(ROW_MARK))

    def extra_column(self, name: str) -> tuple[str, list[Value], str]:
        """Formula, answers and style of a column that only a list has."""
        if name == "tag_first_row":
            escaped = self.place("tag")
            for character in ("~", "*", "?"):
                escaped = f'SUBSTITUTE({escaped},"{character}","~{character}")'
            text = f'IF({self.place("tag")}="","",IFERROR(MATCH({escaped},{self.range("tag")},0),""))'
            first: dict[str, float] = {}
            tags = [str(tag) for tag in self.typed["tag"]]
            for number, tag in enumerate(tags, start=1):
                first.setdefault(tag.lower(), float(number))
            return text, [first[tag.lower()] if tag else None for tag in tags], "working"
        firsts = self.extra_column("tag_first_row")[1] if name != "tag_first_row" else []
        if name == "tag_trouble":
            text = (
                f'IF(AND({self.place("in_use")}=1,{self.place("tag")}=""),"Tag is missing.","")&'
                f'IF(SUM({self.place("tag_first_row")})<SIGN(SUM({self.place("tag_first_row")}))*$A{ROW_MARK},'
                '"This tag stands in an earlier row too.","")'
            )
            said: list[Value] = []
            for number, (first_row, used) in enumerate(zip(firsts, self.values["in_use"], strict=True), start=1):
                missing = "Tag is missing." if used == 1 and first_row is None else ""
                again = "This tag stands in an earlier row too." if first_row is not None and float(first_row) < number else ""
                said.append(missing + again)
            return text, said, "working_text"
        if name == "check_tag":
            trouble = self.extra_column("tag_trouble")[1]
            text = f'IF(COUNT({self.place("in_use")})=0,"",IF({self.place("tag_trouble")}="","OK",{self.place("tag_trouble")}))'
            used = self.values["in_use"]
            return text, ["" if u != u else (t or "OK") for u, t in zip(used, trouble, strict=True)], "working_text"  # noqa: PLR0124
        source = name.removesuffix("_shown")
        text = f'IF(COUNT({self.place(source)})=0,"",{self.place(source)}/list_length_factor)'
        factor = self.edition.length_factor
        return text, [None if v is None else float(v) / factor for v in column_values(self.values, source)], "working"

    def title(self, name: str) -> tuple[str, str, str, str]:
        """Title, symbol, unit and formula in names of a column, as they stand above it."""
        if name in self.column and name not in self.extra:
            quantity = get(name)
            text = "fetched from Valves, blank stays blank" if quantity.function is None else in_names(quantity)
            unit = "as typed" if quantity.function is None and not quantity.is_text else unit_shown(quantity)
            return quantity.title, quantity.symbol, unit, text
        said = {
            "tag_first_row": ("First row with this tag", "", "–", "the number of the first row whose tag is the same"),
            "tag_trouble": ("Tag: trouble", "", "", "says that the tag is missing or stands in an earlier row"),
            "check_tag": ("Check tag", "", "", '=IF(COUNT(in_use)=0,"",IF(tag_trouble="","OK",tag_trouble))'),
        }
        if name in said:
            return said[name]
        source = get(name.removesuffix("_shown"))
        text = f'=IF(COUNT({source.name})=0,"",{source.name}/list_length_factor)'
        return f"{source.title}, shown in Valves", source.symbol, self.edition.length_unit, text

    def sheet(self) -> Sheet:
        """The sheet."""
        cells = [
            Cell(0, 0, "Working", "title"),
            Cell(1, 0, "One row per valve, by position in Valves; one quantity per column, in mm and degrees. The same formula all along a "
                       "column; above it the formula in names.", "subtitle"),
            Cell(2, 0, "Millimetres in the unit of length that Valves shows:", "text"),
            Cell(2, 6, self.edition.length_factor, "number",
                 f'INDEX(unit_length_factors,MATCH("{self.edition.unit_set}",unit_set_names,0))'),
            *(Cell(_FIRST - 6 + i, 0, head, "head") for i, head in enumerate(("Kind", "Name", "Title", "Symbol", "Unit", "No."))),
        ]  # fmt: skip
        columns = [GridColumn(0, [float(i + 1) for i in range(self.rows)], "number")]
        places, widths = self.places, {0: 8.0}
        for name, column in self.column.items():
            title, symbol, unit, text = self.title(name)
            kind = get(name).kind.value if name not in self.extra else "list"
            heads = (kind, name, title, symbol, unit, text)
            cells += [Cell(_FIRST - 6 + i, column, head, "small" if i else "band") for i, head in enumerate(heads)]
            widths[column] = 15.0
            if name in self.extra:
                text, answers, style = self.extra_column(name)
                columns.append(GridColumn(column, answers, style, tuple(text.split(ROW_MARK))))
                continue
            quantity = get(name)
            style = "working_text" if quantity.is_text else "working"
            if quantity.function is None:
                columns.append(GridColumn(column, self._fetched(name), style, self.fetch(name)))
            else:
                parts = tuple(formula.render(quantity.guarded_excel, places).split(ROW_MARK))
                columns.append(GridColumn(column, column_values(self.values, name), style, parts))
        return Sheet(
            WORKING, tuple(cells), grids=(Grid(_FIRST, tuple(columns)),), widths=widths,
            heights={_FIRST - 4: 26.0, _FIRST - 1: 60.0}, freeze=(_FIRST, 2), repeat_rows=(_FIRST - 6, _FIRST - 1),
            footer=footer(WORKING), print_area=(0, 0, self.last, max(self.column.values())), fit_width=18, repeat_columns=(0, 1),
        )  # fmt: skip

    def _fetched(self, name: str) -> list[Value]:
        """An entry as the sheet holds it: a number, a text, or blank."""
        out: list[Value] = []
        for value in self.entries[name].tolist():
            if value is None or value is pd.NA or value != value:  # noqa: PLR0124 - NaN
                out.append("")
            else:
                out.append(value if isinstance(value, str) else float(value))
        return out


def layout(edition: Edition, filled: Filled, *, spare: int) -> Layout:
    """The list workbook: blank rows to type into, or a list filled in with the core's answers stored in every cell."""
    working = _Working(edition, filled, spare)
    choices = tables.names()
    names = {**assumptions.names(), **choices, "list_length_factor": f"{WORKING}!$G$3"}
    sheets = [
        _read_first(edition, working, filled), _valves(edition, working, filled), working.sheet(), _one(working),
        assumptions.sheet(issued_assumptions(), choices), tables.sheet(), self_check.sheet(),
    ]  # fmt: skip
    if filled.source:
        sheets[2:2] = [_findings(filled), _your_list(filled)]
    title = "Stem packing of a list of valves"
    return Layout(title, tuple(sheets), names, edition.paper, {"formula set": fingerprint(), "edition": edition.key})


_HOW: Final = (
    "Valves is yours: type or paste values into the boxed columns, sort, filter. Its answers only fetch from Working by position.",
    "Every row says its unit set: metric (lengths in mm) or US (lengths in inches). Without it a row stays blank. Rows may differ.",
    "A fraction is typed as 0 5/16 or 1 1/8. Paste values only, so that the cells keep their look.",
    "What is wrong stands in words beside the state. READY: no check speaks. LOOK: read it. INCOMPLETE: no ring count or gap. HOLD: do "
    "not order, issue no card.",
    "Before sorting on an answer filter out blank tags: an empty answer sorts as text.",
    "More rows: unprotect Working (no password), copy its last row down as far as needed and give column A the next numbers; then "
    "drag the corner of the table in Valves down as far, and copy its answers down.",
    "Flats are a forecast. Stop at the torque, the final gap or a stiff stem, whichever comes first; one flat at a time, nuts in turn.",
    "Sheets but Valves are protected without a password, against slips only. No macro, no link, no network is used.",
)


def _read_first(edition: Edition, working: _Working, filled: Filled) -> Sheet:
    states = working.values["state"]
    used = float((working.values["in_use"] == 1).sum())

    def count(state: str, meaning: str) -> read_first.Line:
        return read_first.Line(f"Valves {state}", f'COUNTIF({working.range("state")},"{state}")', float((states == state).sum()), meaning)

    lines = [
        read_first.Line("Valves in use", f'COUNT({working.range("in_use")})', used, "Rows of Valves in which something is typed."),
        count("READY", "No check speaks."),
        count("LOOK", "A check speaks: read what is wrong in Valves."),
        count("INCOMPLETE", "No ring count or no gap: a measurement is missing or wrong."),
        count("HOLD", "The maker's ring count does not fit: no order, no card."),
        read_first.Line(
            "Rows of Valves beyond Working", f"MAX(0,ROWS({VALVES}[Tag])-ROWS({working.range('tag')}))", 0.0,
            "Rows added in Valves without a row in Working have no answer: see How to use it.", "{cell}>0"),
        read_first.Line(
            "Tags missing or repeated",
            f'COUNT({working.range("in_use")})-COUNTIF({working.range("check_tag")},"OK")',
            used - sum(one == "OK" for one in working.extra_column("check_tag")[1]),
            "Correct the tag in Valves.", "{cell}>0"),
    ]  # fmt: skip
    contents = [(VALVES, "entries and answers, one row per valve")]
    if filled.source:
        contents += [
            (FINDINGS, "what was found in the list, with place, value and remedy"),
            (YOUR_LIST, f"{filled.source} as it came, cell by cell"),
        ]
    contents += [
        (WORKING, "every quantity of every valve"), (ONE, "choose a tag: symbol, value, unit, formula, source, downwards"),
        (assumptions.NAME, "every constant, yours to change"), (tables.NAME, "stocked sections (yours to change), threads, choices"),
        (self_check.NAME, "worked examples, computed live"),
    ]  # fmt: skip
    return read_first.sheet(
        title="Stem packing of a list of valves",
        purpose="For every valve of a list: packing section, ring count, spacer, cut length, gland gap, flats of the nuts, with each "
                "formula, unit and source in view.",
        how=_HOW, extra=lines, contents=contents, edition=edition.title,
    )  # fmt: skip


def _valves(edition: Edition, working: _Working, filled: Filled) -> Sheet:
    columns = _columns(edition, tuple(filled.carried))
    first = _HEADER + 1
    cells = [
        Cell(0, 0, "Valves", "title"),
        Cell(1, 0, f"{edition.title} Boxed columns are for typing (▸), grey ones are answers. {working.rows} rows are ready.", "subtitle"),
        Cell(2, 0, "Each row says its own unit set. Answers in lengths are shown in the unit named in their header.", "subtitle"),
    ]
    bands: set[str] = set()
    grid: list[GridColumn] = []
    position = f"ROW()-ROW({VALVES}[[#Headers],[Tag]])"
    formulas = []
    for place, column in enumerate(columns):
        new = column.band not in bands or columns[place - 1].band != column.band
        bands.add(column.band)
        cells.append(Cell(_HEADER - 1, place, column.band if new else "", "band"))
        text = ""
        if column.working:
            whole = working.range(column.working)
            text = f'IF({position}>ROWS({whole}),"{NO_ROW}",INDEX({whole},{position}))'
            grid.append(GridColumn(place, _answers(working, column.working), column.style, (text,)))
        elif column.entry:
            grid.append(GridColumn(place, working._fetched(column.entry), column.style))  # noqa: SLF001 - one module
        else:
            held = [_carried(value) for value in filled.carried[column.header]]
            grid.append(GridColumn(place, held + [None] * (working.rows - len(held)), column.style))
        formulas.append(text)
    validations = tuple(
        Validation(first, place, first + working.rows - 1, place, choices=choices_of(column.entry))
        for place, column in enumerate(columns)
        if column.entry and choices_of(column.entry)
    )
    # Excel fits a row to wrapped text only when it is typed; a row filled in here needs its height said.
    troubles = working.values["all_trouble"]
    heights = {first + row: 14.0 * -(-len(text) // 62) for row, text in enumerate(troubles) if len(text) > 62}  # noqa: PLR2004
    headers = tuple(column.header for column in columns)
    state = headers.index("State")
    letter = column_letters(state)
    last = first + working.rows - 1
    return Sheet(
        VALVES, tuple(cells), grids=(Grid(first, tuple(grid)),),
        tables=(TableSpec("Valves", _HEADER, 0, working.rows, headers, tuple(formulas),
                          "Valves: entries on the left, answers fetched from Working, overrides and carried columns on the right."),),
        validations=validations,
        marks=(
            Mark(first, state, last, state, f'${letter}{first + 1}="HOLD"', "stop"),
            Mark(first, state, last, state, f'OR(${letter}{first + 1}="LOOK",${letter}{first + 1}="INCOMPLETE")', "warn"),
        ),
        widths={place: column.width for place, column in enumerate(columns)} | {0: 18},
        heights={_HEADER: 46.0, **heights}, freeze=(first, 1), repeat_rows=(_HEADER - 1, _HEADER), protected=False, active=True,
        selected=(first, 0), footer=footer(VALVES), fit_width=4, repeat_columns=(0, 0),
        print_area=(0, 0, _HEADER + max(working.count, 20), len(columns) - len(filled.carried) - 1),
    )  # fmt: skip


def _answers(working: _Working, name: str) -> list[Value]:
    if name in working.extra:
        return working.extra_column(name)[1]
    return column_values(working.values, name)


def _carried(value: object) -> Value:
    if value is None or value != value:  # noqa: PLR0124 - NaN
        return None
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else str(value)


def _findings(filled: Filled) -> Sheet:
    heads = ("Row of your list", "Tag", "Column", "What stands there", "Kind", "What is found", "What to do")
    cells = [
        Cell(0, 0, "Findings", "title"),
        Cell(1, 0, f"What was found in {filled.source} when this workbook was made. It stays so; the checks in Valves follow.", "subtitle"),
        *(Cell(3, column, head, "head") for column, head in enumerate(heads)),
    ]
    heights = {3: 30.0}
    for row, finding in enumerate(filled.findings, start=4):
        where = float(finding.row) if finding.row else ""
        said = (where, finding.tag, finding.column, finding.value, finding.kind, finding.said, finding.to_do)
        cells += [Cell(row, column, value, "label_wrap") for column, value in enumerate(said)]
        heights[row] = 14.0 * max(1, -(-len(finding.said) // 62), -(-len(finding.to_do) // 44))
    if not filled.findings:
        cells.append(Cell(4, 0, "None.", "text"))
    return Sheet(
        FINDINGS, tuple(cells), widths={0: 9, 1: 16, 2: 26, 3: 22, 4: 26, 5: 60, 6: 44}, heights=heights,
        freeze=(4, 0), repeat_rows=(3, 3), footer=footer(FINDINGS),
    )  # fmt: skip


def _your_list(filled: Filled) -> Sheet:
    cells = [
        Cell(0, 0, "Your list", "title"),
        Cell(1, 0, f"{filled.source} as it came, cell by cell, as text. Column A is the row there.", "subtitle"),
    ]
    widest = 0
    for number, line in enumerate(filled.verbatim, start=1):
        cells.append(Cell(number + 2, 0, float(number), "number"))
        widest = max(widest, len(line))
        texts = ("" if value is None else str(value)[:32000] for value in line)
        cells += [Cell(number + 2, place, text, "carried") for place, text in enumerate(texts, start=1)]
    return Sheet(
        YOUR_LIST, tuple(cells), widths={0: 7} | dict.fromkeys(range(1, widest + 1), 16.0), freeze=(3, 1), footer=footer(YOUR_LIST),
    )  # fmt: skip


def _one(working: _Working) -> Sheet:
    """One valve of the list, downwards, for the engineer who audits it."""
    heads = ("Kind", "Quantity", "Symbol", "Value", "Unit", "Inches", "Formula in names", "What it is", "Source", "Grade")
    tag = next((plain(value) for value in working.typed["tag"] if value != ""), "")
    typed_at, row_at = address(2, 3), address(3, 3)
    escaped = typed_at
    for character in ("~", "*", "?"):
        escaped = f'SUBSTITUTE({escaped},"{character}","~{character}")'
    found = 0
    if tag:
        found = next(i for i, one in enumerate(working.typed["tag"]) if str(one).lower() == str(tag).lower())
    cells = [
        Cell(0, 0, ONE, "title"),
        Cell(1, 0, "Choose a tag: everything about that valve, downwards.", "subtitle"),
        Cell(2, 0, "▸", "mark"), Cell(2, 1, "Tag", "label"), Cell(2, 3, tag, "entry_text"),
        Cell(3, 1, "Its row in Working", "label"),
        Cell(3, 3, float(found + 1) if tag else "not in the list", "working",
             f'IF({typed_at}="","not in the list",IFERROR(MATCH({escaped},{working.range("tag")},0),"not in the list"))'),
        *(Cell(5, column, head, "head") for column, head in enumerate(heads)),
    ]  # fmt: skip
    heights = {5: 20.0}
    row, part = 6, ""
    for name in working.names:
        quantity = get(name)
        if quantity.part != part:
            part = quantity.part
            cells += [Cell(row, column, part if column == 0 else "", "band") for column in range(len(heads))]
            row += 1
        held = working._fetched(name) if quantity.function is None else column_values(working.values, name)  # noqa: SLF001
        value = (held[found] if tag else "") or ("" if held[found] is None or held[found] == "" else 0.0)
        value = value if tag else ""
        whole = working.range(name)
        text = working.title(name)[3]
        inch_factor = float(issued_assumptions()["inch_length"])
        cells += [
            Cell(row, 0, quantity.kind.value, "label"), Cell(row, 1, quantity.title, "label_wrap"), Cell(row, 2, quantity.symbol, "label"),
            Cell(row, 3, value, "working_wrap" if quantity.is_text else "working", f'IF(COUNT({row_at})=0,"",INDEX({whole},{row_at}))'),
            Cell(row, 4, working.title(name)[2], "label"),
            Cell(row, 6, text, "formula"), Cell(row, 7, quantity.sentence, "small"), Cell(row, 8, quantity.source.text, "small"),
            Cell(row, 9, quantity.source.grade.value, "small"),
        ]  # fmt: skip
        if quantity.unit == "mm" and quantity.function is not None:
            here = address(row, 3)
            inches = value / inch_factor if isinstance(value, float) else ""
            cells.append(Cell(row, 5, inches, "answer_in", f'IF(COUNT({here})=0,"",{here}/inch_length)'))
        else:
            cells.append(Cell(row, 5, "", "label"))
        heights[row] = 13.0 * max(2, -(-len(text) // 62), -(-len(quantity.source.text) // 44))
        row += 1
    return Sheet(
        ONE, tuple(cells),
        validations=(Validation(2, 3, 2, 3, choices=working.range("tag")),),
        widths={0: 11, 1: 30, 2: 8, 3: 18, 4: 8, 5: 10, 6: 58, 7: 40, 8: 42, 9: 17}, heights=heights,
        freeze=(6, 2), repeat_rows=(5, 5), footer=footer(ONE), selected=(2, 3),
    )  # fmt: skip
