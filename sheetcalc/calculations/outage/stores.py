"""Stores: what a person types about an item, beside the item's code."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.gathering import first_row_of
from sheetcalc.calculations.given import given
from sheetcalc.calculations.outage.grouped import GATHERED, escaped
from sheetcalc.calculations.outage.order import ORDER
from sheetcalc.declare.blocks import derived, entry, fault
from sheetcalc.declare.quantity import Num, Per, Text
from sheetcalc.reference.sources import cite

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
