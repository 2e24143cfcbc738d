"""The order list: a line for each code, in the order of the groups, rounded up to what is sold, with stores and dates.

Lines follow the valves: the first valve with a code opens its line, so that a count changed in Valves changes the line.
What a person types about an item stands in Stores beside the item's code, since a line may move.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import pick, pick_in, rounded, whole_up
from sheetcalc.calculations.entries import given
from sheetcalc.calculations.gathering import first_row_of, sum_where, total
from sheetcalc.calculations.grouped import GATHERED, by_group, choose, codes_of, declare_lines, escaped, groups_of, missing_of
from sheetcalc.calculations.order import GROUPS, ORDER
from sheetcalc.calculations.state import declare_check
from sheetcalc.declare.blocks import derive, derived, entry, fault, gathered
from sheetcalc.declare.quantity import Formula, Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "order list"
_AMOUNT: Final = "type a number from 0 on or clear the cell."

store_number = entry(
    "store_number",
    title="Row of Stores",
    unit="1",
    part="stores",
    source=cite("reading"),
    per=Per.STORE,
    sentence="The number of the row.",
)
store_code = entry(
    "store_code",
    title="Order code",
    text=True,
    part="stores",
    source=cite("reading"),
    per=Per.STORE,
    sentence="The code of the item, as the order list writes it.",
)
for _name, _title, _sentence in (
    ("store_pack", "Pack", "What is sold at a time, in the line's unit: a spool or coil, a container, a box of pieces."),
    ("store_stock", "In stores", "How much of it lies in stores and is free for this outage, in the line's unit."),
    ("store_price", "Price of a pack", "What one pack costs, in the site's currency."),
):
    given(
        _name,
        title=_title,
        symbol="",
        unit="1",
        part="stores",
        per=Per.STORE,
        low="0",
        high="largest_amount",
        remedy=_AMOUNT,
        sentence=_sentence,
    )
given(
    "store_lead_days",
    title="Lead time of the item",
    symbol="",
    unit="d",
    part="stores",
    per=Per.STORE,
    low="0",
    high="longest_days",
    remedy="type the number of days or clear the cell.",
    sentence="Days from order to delivery of this item.",
)


@derived(
    title="Row of Stores in use",
    unit="1",
    part="stores",
    source=cite("reading"),
    per=Per.STORE,
    guards=False,
    excel='IFERROR(IF({store_code}&{store_pack_entered}&{store_stock_entered}&{store_price_entered}&{store_lead_days_entered}="","",1),1)',
)
def store_in_use(
    store_code: Text, store_pack_entered: Num, store_stock_entered: Num, store_price_entered: Num, store_lead_days_entered: Num
) -> Any:
    """1 where anything is typed in the row."""
    numbers = (store_pack_entered, store_stock_entered, store_price_entered, store_lead_days_entered)
    used = store_code != ""
    for value in numbers:
        used = used | ~np.isnan(value)
    return np.where(used, 1.0, np.nan)


@fault(
    title="Pack of nothing",
    part="stores",
    source=ORDER,
    about=("store_pack_entered",),
    per=Per.STORE,
    words="A pack or spool of 0 cannot be counted: type its size. Until then the line has no number of packs.",
    excel="{store_pack}=0",
)
def store_pack_of_nothing(store_pack: Num) -> Any:
    """Says that a spool size of 0 is typed."""
    return store_pack == 0


@fault(
    title="Code in stores twice",
    part="stores",
    source=GATHERED,
    about=("store_code",),
    per=Per.STORE,
    words="This code stands in an earlier row of Stores too: that row is used.",
    excel=f"MATCH({escaped('{store_code}')},{{every_store_code}},0)<{{store_number}}",
)
def store_code_twice(store_code: Text, every_store_code: Text, store_number: Num) -> Any:
    """Says that a code is repeated."""
    return first_row_of(store_code, every_store_code) < store_number


declare_lines("line", Per.LINE, PART, GROUPS, what="Order", code="Code of the line")
gathered(
    "line_pieces",
    codes_of(GROUPS),
    by_group(
        "line",
        ("<>_first", "<>_pieces"),
        ("line_first",),
        "SUMIF({every_<>_first},{line_first},{every_<>_pieces})",
        lambda firsts, pieces, first: sum_where(firsts, first, pieces),
    ),
    "Sets, rings, spacers, gaskets or studs for all its valves; 0 where it is bought by length or mass.",
    title="Pieces of the line",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.LINE,
)


def _of_packing(group: Any, firsts: Any, first: Any, amounts: Any) -> Any:
    amount = sum_where(firsts, first, amounts)
    return np.where((group == 1) & (amount > 0), amount, np.nan)


def _packing_sum(name: str, title: str, unit: str, column: str, sentence: str, measured_as: str = "") -> None:
    amount = f"SUMIF({{every_packing_first}},{{line_first}},{{every_{column}}})"
    derive(
        name,
        ("line_group", "every_packing_first", "line_first", f"every_{column}"),
        _of_packing,
        sentence,
        title=title,
        unit=unit,
        part=PART,
        source=GATHERED,
        per=Per.LINE,
        measured_as=measured_as,
        excel=f'IF(({{line_group}}=1)*{amount}>0,{amount},"")',
    )


_packing_sum("line_length", "Braid of the line", "mm", "order_length", "Length of braid for all its valves, waste included.", "spool")
_packing_sum("line_mass", "Mass of the line", "kg", "order_mass", "Mass of the packing for all its valves.")
_packing_sum("line_loose", "Loose packing of the line", "kg", "order_loose", "Mass of loose packing for all its valves.")


@derived(
    title="How the line is bought",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    excel="CHOOSE({line_group},INDEX({form_kinds},INDEX({every_form_row},{line_first})),2,2,2,2,2,2)",
)
def line_kind(line_group: Num, form_kinds: Num, every_form_row: Num, line_first: Num) -> Any:
    """1 by length, 2 by the piece, 3 by mass."""
    return np.where(line_group == 1, pick(pick(line_first, every_form_row), form_kinds), 2.0)


@derived(
    title="Unit of the line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    excel="CHOOSE({line_kind},{outage_spool_factor},1,{outage_mass_unit})",
    empirical="a factor of the unit that the line is bought in",
)
def line_unit(line_kind: Num, outage_spool_factor: Num, outage_mass_unit: Num) -> Any:
    """What one of the unit in which the line is bought is in mm, pieces or kg."""
    return np.where(line_kind == 1, outage_spool_factor, np.where(line_kind == 2, 1.0, outage_mass_unit))  # noqa: PLR2004


@derived(
    title="Unit",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LINE,
    excel="INDEX({order_unit_words},{outage_unit_row},{line_kind})",
)
def line_unit_words(order_unit_words: Any, outage_unit_row: Num, line_kind: Num) -> Any:
    """The unit in which the line is bought: m or ft, pieces, kg or lb."""
    return pick_in(np.broadcast_to(outage_unit_row, line_kind.shape), line_kind, order_unit_words)


@derived(
    title="Needed by the valves",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    empirical="in the unit that the line is bought in",
    excel="IFERROR(CHOOSE({line_kind},{line_length},{line_pieces},{line_loose})/{line_unit},0)",
    optional=("line_length", "line_loose"),
)
def line_need(line_kind: Num, line_length: Num, line_pieces: Num, line_loose: Num, line_unit: Num) -> Any:
    """What the valves need, in the unit in which the line is bought."""
    return np.nan_to_num(np.select([line_kind == 1, line_kind == 2], [line_length, line_pieces], line_loose)) / line_unit  # noqa: PLR2004


@derived(
    title="Spare share of the line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    excel="CHOOSE({line_group},{spare_share},{spare_share},0,{spare_share},0,{spare_share},0)",
)
def line_spare_share(line_group: Num, spare_share: Num) -> Any:
    """Spares are for what is spoilt in fitting: packing, end rings and gaskets, not spacers and studs."""
    return choose(line_group, spare_share, spare_share, 0.0, spare_share, 0.0, spare_share, 0.0)


@derived(
    title="Needed with spares",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    empirical="in the unit that the line is bought in",
    excel="IF({line_kind}=2,ROUNDUP(ROUND({line_need}*(1+{line_spare_share}),{counting_digits}),0),{line_need}*(1+{line_spare_share}))",
)
def line_with_spares(line_kind: Num, line_need: Num, line_spare_share: Num, counting_digits: float) -> Num:
    """The same with the spare share; whole pieces."""
    more = line_need * (1 + line_spare_share)
    return np.where(line_kind == 2, whole_up(more, counting_digits), more)  # noqa: PLR2004


@derived(
    title="Row in Stores",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.LINE,
    excel=f'IFERROR(MATCH({escaped("{line_code}")},{{every_store_code}},0),"")',
)
def line_store(line_code: Text, every_store_code: Text) -> Any:
    """The row of Stores with the line's code; blank where there is none."""
    return first_row_of(line_code, every_store_code)


for _name, _title, _unit, _column in (
    ("line_stock", "In stores", "1", "store_stock"),
    ("line_price", "Price of a pack", "1", "store_price"),
    ("line_pack_stated", "Pack as stated", "1", "store_pack"),
    ("line_lead_stated", "Lead time as stated", "d", "store_lead_days"),
):
    derive(
        _name,
        (f"every_{_column}", "line_store"),
        lambda column, row: pick(row, column),
        f"{_title}, from the item's row in Stores.",
        title=f"Line: {_title[0].lower()}{_title[1:]}",
        unit=_unit,
        part=PART,
        source=GATHERED,
        per=Per.LINE,
        excel=f"INDEX({{every_{_column}}},{{line_store}})",
    )


@derived(
    title="Pack entry in Stores",
    unit="1",
    part=PART,
    source=GATHERED,
    per=Per.LINE,
    optional=("line_store",),
    guards=False,
    excel="IF(ISNUMBER({line_store}),IFERROR(SIGN(LEN(INDEX({every_store_pack_entered},{line_store}))),1),0)",
)
def line_pack_typed(line_store: Num, every_store_pack_entered: Num) -> Any:
    """1 where Stores says something of the pack."""
    return np.where(np.isnan(pick(line_store, every_store_pack_entered)), 0.0, 1.0)


@derived(
    title="Pack of the line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    empirical="in the unit that the line is bought in",
    optional=("line_pack_stated",),
    excel="IF({line_pack_typed}=1,{line_pack_stated},CHOOSE({line_kind},{spool_length_usual},1,{container_mass_usual})/{line_unit})",
)
def line_pack(
    line_pack_typed: Num, line_pack_stated: Num, line_kind: Num, spool_length_usual: float, container_mass_usual: float, line_unit: Num
) -> Num:
    """What is sold at a time, in the unit of the line: as Stores says, else the usual spool, one piece or the usual container."""
    usual = np.select([line_kind == 1, line_kind == 2], [spool_length_usual, 1.0], container_mass_usual) / line_unit  # noqa: PLR2004
    return np.where(line_pack_typed == 1, line_pack_stated, usual)


@derived(
    title="To buy",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    empirical="in the unit that the line is bought in",
    optional=("line_stock",),
    excel="MAX(0,{line_with_spares}-SUM({line_stock}))",
)
def line_to_buy(line_with_spares: Num, line_stock: Num) -> Num:
    """What stores do not have."""
    return np.maximum(0.0, line_with_spares - np.nan_to_num(line_stock))


@derived(
    title="Packs to buy",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    excel='IF({line_pack}>0,ROUNDUP(ROUND({line_to_buy}/{line_pack},{counting_digits}),0),"")',
)
def line_packs(line_pack: Num, line_to_buy: Num, counting_digits: float) -> Num:
    """Whole spools, containers or boxes."""
    return np.where(line_pack > 0, whole_up(line_to_buy / line_pack, counting_digits), np.nan)


@derived(
    title="Cost",
    unit="1",
    part=PART,
    source=cite("arithmetic"),
    per=Per.LINE,
    excel="{line_packs}*{line_price}",
)
def line_cost(line_packs: Num, line_price: Num) -> Num:
    """Packs times their price; blank where no price is typed."""
    return line_packs * line_price


@derived(
    title="Lead time of the line",
    unit="d",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    optional=("line_lead_stated",),
    excel="IF(ISNUMBER({line_lead_stated}),{line_lead_stated},{lead_days})",
)
def line_lead(line_lead_stated: Num, lead_days: Num) -> Num:
    """As Stores says, else that of the outage."""
    return np.where(np.isnan(line_lead_stated), lead_days, line_lead_stated)


@derived(
    title="Order by",
    unit="date",
    part=PART,
    source=cite("arithmetic"),
    per=Per.LINE,
    excel='IF({line_packs}>0,{needed_by}-{line_lead},"")',
)
def line_order_by(line_packs: Num, needed_by: Num, line_lead: Num) -> Num:
    """The last day on which it can be ordered; blank where nothing is bought."""
    return np.where(line_packs > 0, needed_by - line_lead, np.nan)


@fault(
    title="Ordered too late",
    part=PART,
    source=ORDER,
    about=(),
    per=Per.LINE,
    words="The last day to order is past: find a shorter delivery, or move the start.",
    excel="{line_order_by}<{status_date}",
)
def line_late(line_order_by: Num, status_date: Num) -> Any:
    """Says that the lead time is longer than what is left until everything must be on site."""
    return line_order_by < status_date


@fault(
    title="Pack not known",
    part=PART,
    source=ORDER,
    about=(),
    per=Per.LINE,
    optional=("line_packs",),
    words="The pack typed in Stores cannot be used: correct it, or clear the cell.",
    excel="AND({line_to_buy}>=0,NOT(ISNUMBER({line_packs})))",
)
def line_pack_unusable(line_to_buy: Num, line_packs: Num) -> Any:
    """Says that the packs cannot be counted."""
    return (line_to_buy >= 0) & np.isnan(line_packs)


@fault(
    title="Material of the line not named",
    part=PART,
    source=ORDER,
    about=(),
    per=Per.LINE,
    words="No packing material is named for these valves: name it in Valves before ordering.",
    excel="AND({line_group}=1,INDEX({every_material_number},{line_first})=0)",
)
def line_material_missing(line_group: Num, every_material_number: Num, line_first: Num) -> Any:
    """Says that nobody has said what the packing is made of."""
    return (line_group == 1) & (pick(line_first, every_material_number) == 0)


def _of_first(name: str, title: str, sources: dict[str, str], sentence: str, *, text: bool = False, unit: str = "") -> None:
    """A figure of the valve that opens the line, by group; of packing only where it comes as rings, which share it."""
    blank: Any = np.array("", dtype=object) if text else np.nan
    with_kind = "packing" in sources and not text

    def build(codes: tuple[str, ...]) -> Formula:
        groups = groups_of(codes)
        held = {group: f"INDEX({{every_{sources[group]}}},{{line_first}})" for group in groups if group in sources}
        columns = tuple(dict.fromkeys(sources[group] for group in held))
        if with_kind:
            held["packing"] = f'IF({{line_kind}}=2,{held["packing"]},"")'

        def chosen(group: Any, *values: Any) -> Any:
            kind, first, *every = values if with_kind else (None, *values)
            figures = {column: pick(first, list(one) if text else one) for column, one in zip(columns, every, strict=True)}
            of_group = [figures[sources[one]] if one in held else blank for one in groups]
            if with_kind:
                of_group[0] = np.where(kind == 2, of_group[0], np.nan)  # noqa: PLR2004
            return choose(group, *of_group)

        reads = ("line_group", *(["line_kind"] if with_kind else []), "line_first", *(f"every_{one}" for one in columns))
        choices = ",".join(held.get(group, '""') for group in groups)
        return Formula(reads=reads, excel=f"CHOOSE({{line_group}},{choices})", function=chosen)

    gathered(name, codes_of(GROUPS), build, sentence, title=title, unit=unit, text=text, part=PART, source=GATHERED, per=Per.LINE)


@derived(
    title="Item",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LINE,
    excel='CHOOSE({line_group},INDEX({every_packing_form},{line_first})&" packing","braided end rings","spacer","gasket","gland studs",'
    '"flange gasket","flange studs, two nuts each")',
)
def line_item(line_group: Num, every_packing_form: Text, line_first: Num) -> Any:
    """What it is."""
    form = np.asarray(pick(line_first, list(every_packing_form))) + " packing"
    others = ("braided end rings", "spacer", "gasket", "gland studs", "flange gasket", "flange studs, two nuts each")
    return choose(line_group, form, *(np.array(word, dtype=object) for word in others))


_of_first(
    "line_material",
    "Packing material of the line",
    {"packing": "packing_material", "end": "packing_material"},
    "The material, as in Valves.",
    text=True,
)
_of_first(
    "line_stem",
    "Stem of the line",
    {"packing": "stem_diameter", "end": "stem_diameter", "spacer": "stem_diameter"},
    "Stem diameter, where the item is made to it.",
    unit="mm",
)
_of_first(
    "line_bore",
    "Bore of the line",
    {"packing": "box_bore", "end": "box_bore", "spacer": "box_bore"},
    "Box bore, where it is made to it.",
    unit="mm",
)
_of_first(
    "line_height",
    "Height or length of a piece",
    {"packing": "ring_height", "spacer": "spacer_height", "bolt": "flange_bolt_length"},
    "Height of one ring or of the spacer, or length of a flange stud.",
    unit="mm",
)
_of_first("line_rings", "Rings of a set", {"packing": "set_rings"}, "How many rings each set has.", unit="1")
_of_first(
    "line_designation",
    "Designation",
    {"gasket": "gasket", "stud": "gland_stud_thread", "joint": "flange_gasket", "bolt": "flange_bolt_thread"},
    "Gasket or thread.",
    text=True,
)
_of_first(
    "line_grade",
    "Grade of the line",
    {"stud": "gland_stud_grade", "bolt": "flange_bolt_grade"},
    "Grade of the studs, as in Valves.",
    text=True,
)


@derived(
    title="Section of the line",
    unit="mm",
    part=PART,
    source=GATHERED,
    per=Per.LINE,
    excel='IF({line_kind}=1,INDEX({every_stocked_section},{line_first}),"")',
)
def line_section(line_kind: Num, every_stocked_section: Num, line_first: Num) -> Any:
    """The stocked section of braid."""
    return np.where(line_kind == 1, pick(line_first, every_stocked_section), np.nan)


@derived(
    title="Line of the item in stores",
    unit="1",
    part="stores",
    source=GATHERED,
    per=Per.STORE,
    excel=f'IFERROR(MATCH({escaped("{store_code}")},{{every_line_code}},0),"")',
)
def store_line(store_code: Text, every_line_code: Text) -> Any:
    """The line of the order with this code; blank where there is none."""
    return first_row_of(store_code, every_line_code)


@derived(
    title="Item in stores",
    part="stores",
    source=GATHERED,
    text=True,
    per=Per.STORE,
    optional=("store_line",),
    excel='IF(SUM({store_line})*{store_in_use}>0,TRIM(INDEX({every_line_item},{store_line})&" "&'
    'INDEX({every_line_material},{store_line})&" "&INDEX({every_line_designation},{store_line})),"not on the order list now")',
)
def store_item(store_line: Num, every_line_item: Text, every_line_material: Text, every_line_designation: Text, store_in_use: Num) -> Any:
    """What the code stands for on the order list."""
    words = [pick(store_line, list(column)) for column in (every_line_item, every_line_material, every_line_designation)]
    said = np.array([" ".join(" ".join(parts).split()) for parts in zip(*words, strict=True)], dtype=object)
    return np.where(np.isnan(store_line), "not on the order list now", np.where(store_in_use == 1, said, ""))


@derived(
    title="Unit in stores",
    part="stores",
    source=GATHERED,
    text=True,
    per=Per.STORE,
    excel="INDEX({every_line_unit_words},{store_line})",
)
def store_unit(every_line_unit_words: Text, store_line: Num) -> Any:
    """The unit of the line, in which pack and stock are typed."""
    return pick(store_line, list(every_line_unit_words))


declare_check("stores", "check_store", "Check stores", "OK, or what is wrong with a row of Stores.", per=Per.STORE, used="store_in_use")
declare_check(PART, "check_line", "Check line", "OK, or what is wrong with a line of the order.", per=Per.LINE, used="line_group")
declare_check("order", "check_order", "Check order", "OK, or what is wrong with what is typed for the order.", per=Per.LISTED)


def _sum_of(name: str, title: str, column: str, unit: str, sentence: str, measured_as: str = "") -> None:
    derive(
        name,
        (f"every_{column}",),
        total,
        sentence,
        title=title,
        unit=unit,
        part="reconciliation",
        source=GATHERED,
        per=Per.OUTAGE,
        excel=f"SUM({{every_{column}}})",
        measured_as=measured_as,
    )


def _counted(name: str, title: str, column: str, word: str, sentence: str) -> None:
    derive(
        name,
        (f"every_{column}",),
        lambda texts: float(np.sum(texts == word)),
        sentence,
        title=title,
        unit="1",
        part="reconciliation",
        source=GATHERED,
        per=Per.OUTAGE,
        excel=f'COUNTIF({{every_{column}}},"{word}")',
    )


_sum_of("valves_in_use", "Valves in the list", "in_use", "1", "Rows of Valves in which something is typed.")
_counted("valves_ready", "Valves READY", "state", "READY", "No check speaks.")
_counted("valves_look", "Valves LOOK", "state", "LOOK", "A check speaks: read what is wrong in Valves.")
_counted("valves_incomplete", "Valves INCOMPLETE", "state", "INCOMPLETE", "No ring count or no gap: nothing is ordered for them yet.")
_counted("valves_hold", "Valves HOLD", "state", "HOLD", "The maker's ring count does not fit: no order, no card.")
_sum_of("valves_ordered", "Valves ordered", "ordered", "1", "Valves whose packing is on the order list.")
_sum_of("length_of_valves", "Braid of the valves", "order_length", "mm", "Length of braid, added up over the valves.", "spool")
_sum_of("length_of_lines", "Braid of the lines", "line_length", "mm", "Length of braid, added up over the lines.", "spool")
_sum_of("mass_of_valves", "Mass of the valves", "order_mass", "kg", "Mass of packing, added up over the valves.")
_sum_of("mass_of_lines", "Mass of the lines", "line_mass", "kg", "Mass of packing, added up over the lines.")
_sum_of("pieces_of_lines", "Pieces of the lines", "line_pieces", "1", "Sets, rings, spacers, gaskets and studs, added up over the lines.")
_sum_of("order_cost", "Cost of what is priced", "line_cost", "1", "Added up over the lines that have a price.")


def _pieces_of(codes: tuple[str, ...]) -> Formula:
    columns = tuple(f"every_{group}_pieces" for group in groups_of(codes))
    text = ",".join(f"{{{column}}}" for column in columns)
    return Formula(reads=columns, excel=f"SUM({text})", function=lambda *held: sum(total(one) for one in held))


gathered(
    "pieces_of_valves",
    codes_of(GROUPS),
    _pieces_of,
    "Sets, rings, spacers, gaskets and studs, added up over the valves.",
    title="Pieces of the valves",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
)


@derived(
    title="Valves on packing lines",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
    excel="SUMIF({every_line_group},1,{every_line_valves})",
)
def valves_on_lines(every_line_group: Num, every_line_valves: Num) -> float:
    """The valves of all packing lines: each ordered valve is on just one."""
    return float(sum_where(every_line_group, 1.0, every_line_valves)[0])


gathered(
    "lines_missing",
    codes_of(GROUPS),
    missing_of("line"),
    "More codes than the order list has lines.",
    title="Lines that are missing",
    unit="1",
    part="reconciliation",
    source=GATHERED,
    per=Per.OUTAGE,
)


for _name, _title, _one, _other, _sentence in (
    (
        "valves_left_over",
        "Valves neither ordered nor waiting",
        "valves_in_use-valves_ordered-valves_incomplete-valves_hold",
        "",
        "Every valve is ordered, or waits as INCOMPLETE or HOLD.",
    ),
    ("valves_difference", "Valves less those on packing lines", "valves_ordered-valves_on_lines", "", "Each is on one line."),
    ("length_difference", "Braid of the valves less that of the lines", "length_of_valves-length_of_lines", "mm", "No braid is lost."),
    ("mass_difference", "Mass of the valves less that of the lines", "mass_of_valves-mass_of_lines", "kg", "No packing is lost."),
    ("pieces_difference", "Pieces of the valves less those of the lines", "pieces_of_valves-pieces_of_lines", "", "No piece is lost."),
):
    _reads = tuple(_one.split("-"))
    derive(
        _name,
        _reads,
        lambda first, *others: first - sum(others),
        _sentence,
        title=_title,
        unit=_other or "1",
        part="reconciliation",
        source=GATHERED,
        per=Per.OUTAGE,
        measured_as="spool" if _other == "mm" else "",
        excel="-".join(f"{{{name}}}" for name in _reads),
    )

_DIFFERENCES: Final = (
    "valves_left_over",
    "valves_difference",
    "length_difference",
    "mass_difference",
    "pieces_difference",
    "lines_missing",
)
derive(
    "check_reconciliation",
    (*_DIFFERENCES, "counting_digits"),
    lambda *values: np.where(
        sum(np.abs(rounded(value, values[-1])) for value in values[:-1]) == 0,
        np.array("OK", dtype=object),
        "LOOK: the order list does not tie to the valves. Lines or rows are missing.",
    ),
    "OK where the order list has each valve once and nothing else.",
    title="Order list against valves",
    part="reconciliation",
    source=GATHERED,
    text=True,
    per=Per.OUTAGE,
    check=True,
    excel=f'IF({"+".join(f"ABS(ROUND({{{name}}},{{counting_digits}}))" for name in _DIFFERENCES)}=0,"OK",'
    '"LOOK: the order list does not tie to the valves. Lines or rows are missing.")',
)
