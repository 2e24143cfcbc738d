"""The order list: a line for each code, in the order of the groups, rounded up to what is sold, with stores and dates.

Lines follow the valves: the first valve with a code opens its line, so that a count changed in Valves changes the line.
What a person types about an item stands in Stores beside the item's code, since a line may move.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sheetcalc.calculations.arithmetic import pick, pick_in, whole_up
from sheetcalc.calculations.gathering import first_row_of, sum_where
from sheetcalc.calculations.outage.grouped import GATHERED, by_group, choose, codes_of, declare_lines, escaped
from sheetcalc.calculations.outage.order import ALSO, GROUPS, ORDER
from sheetcalc.declare.blocks import derive, derived, fault, gathered
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

PART = "order list"


declare_lines("line", Per.LINE, PART, GROUPS, what="Order", code="Code of the line", also=ALSO)
gathered(
    "line_pieces",
    codes_of(GROUPS),
    by_group(
        "line",
        ("<>_first", "<>_pieces"),
        ("line_first",),
        "SUMIF({every_<>_first},{line_first},{every_<>_pieces})",
        lambda firsts, pieces, first: sum_where(firsts, first, pieces),
        ALSO,
    ),
    "Sets, rings, spacers, gaskets or studs for all its valves, or studs that it serves; 0 where it is bought by length or mass.",
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
    excel="CHOOSE({line_group},INDEX({form_kinds},INDEX({every_form_row},{line_first})),2,2,2,2,4,2,2,4)",
)
def line_kind(line_group: Num, form_kinds: Num, every_form_row: Num, line_first: Num) -> Any:
    """1 by length, 2 by the piece, 3 by mass, 4 by the studs that it serves."""
    packing = pick(pick(line_first, every_form_row), form_kinds)
    return choose(line_group, packing, 2.0, 2.0, 2.0, 2.0, 4.0, 2.0, 2.0, 4.0)


@derived(
    title="Unit of the line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    excel="CHOOSE({line_kind},{outage_spool_factor},1,{outage_mass_unit},1)",
    empirical="a factor of the unit that the line is bought in",
)
def line_unit(line_kind: Num, outage_spool_factor: Num, outage_mass_unit: Num) -> Any:
    """What one of the unit in which the line is bought is in mm, pieces or kg."""
    return choose(line_kind, outage_spool_factor, 1.0, outage_mass_unit, 1.0)


@derived(
    title="Unit",
    part=PART,
    source=ORDER,
    text=True,
    per=Per.LINE,
    excel="INDEX({order_unit_words},{outage_unit_row},{line_kind})",
)
def line_unit_words(order_unit_words: Any, outage_unit_row: Num, line_kind: Num) -> Any:
    """The unit in which the line is bought: m or ft, pieces, kg or lb, studs."""
    return pick_in(np.broadcast_to(outage_unit_row, line_kind.shape), line_kind, order_unit_words)


@derived(
    title="Needed by the valves",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    empirical="in the unit that the line is bought in",
    excel="IFERROR(CHOOSE({line_kind},{line_length},{line_pieces},{line_loose},{line_pieces})/{line_unit},0)",
    optional=("line_length", "line_loose"),
)
def line_need(line_kind: Num, line_length: Num, line_pieces: Num, line_loose: Num, line_unit: Num) -> Any:
    """What the valves need, in the unit in which the line is bought."""
    return np.nan_to_num(choose(line_kind, line_length, line_pieces, line_loose, line_pieces)) / line_unit


@derived(
    title="Spare share of the line",
    unit="1",
    part=PART,
    source=ORDER,
    per=Per.LINE,
    excel="CHOOSE({line_group},{spare_share},{spare_share},0,{spare_share},0,0,{spare_share},0,0)",
)
def line_spare_share(line_group: Num, spare_share: Num) -> Any:
    """Spares are for what is spoilt in fitting: packing, end rings and gaskets, not spacers, studs and lubricants."""
    return choose(line_group, spare_share, spare_share, 0.0, spare_share, 0.0, 0.0, spare_share, 0.0, 0.0)


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
    excel="IF({line_pack_typed}=1,{line_pack_stated},"
    "CHOOSE({line_kind},{spool_length_usual},1,{container_mass_usual},{tin_studs_usual})/{line_unit})",
)
def line_pack(
    line_pack_typed: Num,
    line_pack_stated: Num,
    line_kind: Num,
    spool_length_usual: float,
    container_mass_usual: float,
    tin_studs_usual: float,
    line_unit: Num,
) -> Num:
    """What is sold at a time, in the unit of the line: as Stores says, else the usual spool, one piece, the usual container or tin."""
    usual = choose(line_kind, spool_length_usual, 1.0, container_mass_usual, tin_studs_usual) / line_unit
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
    title="Load of the line not judged",
    part=PART,
    source=ORDER,
    about=(),
    per=Per.LINE,
    words="Not judged: for some of these valves an entry of the load is missing, see Valves. Whether this packing suits them is not known.",
    excel="AND({line_group}=1,SUMIF({every_packing_first},{line_first},{every_load_unjudged})>0)",
)
def line_unjudged(line_group: Num, every_packing_first: Num, line_first: Num, every_load_unjudged: Num) -> Any:
    """Says that packing is ordered for valves whose service nobody has typed."""
    return (line_group == 1) & (sum_where(every_packing_first, line_first, every_load_unjudged) > 0)
