"""The sheets Order list and Stores: what to buy and by when, and what the site says of each item."""

from __future__ import annotations

from typing import Final

from sheetcalc.calculations.run import entry_names
from sheetcalc.declare.quantity import Per, get
from sheetcalc.sheets.edition import entry_title
from sheetcalc.sheets.layout import Cell, Grid, GridColumn, Mark, Sheet, Value, column_letters
from sheetcalc.sheets.outage_rows import FIRST, Rows, Shown, Source, heights_for, one_value, shown, used_rows
from sheetcalc.sheets.register import Book, Purpose, register

ORDER_LIST, STORES = "Order list", "Stores"
_COLUMNS: Final = (
    Shown("line_number", 5, header="No."),
    Shown("line_item", 20, "answer_wrap"),
    Shown("line_material", 19, "answer_wrap", "Material"),
    Shown("line_designation", 22, "answer_wrap"),
    Shown("line_grade", 15, header="Grade"),
    Shown("line_section", 8, header="Section"),
    Shown("line_stem", 8, header="Stem"),
    Shown("line_bore", 8, header="Bore"),
    Shown("line_height", 8, header="Height or length"),
    Shown("line_rings", 6.5, header="Rings of a set"),
    Shown("line_valves", 7, header="Valves"),
    Shown("line_need", 8.5, "answer_amount", "Needed"),
    Shown("line_with_spares", 8.5, "answer_amount", "With spares"),
    Shown("line_unit_words", 6, header="Unit"),
    Shown("line_stock", 8, "answer_amount", "In stores"),
    Shown("line_to_buy", 8, "answer_amount", "To buy"),
    Shown("line_pack", 7, "answer_amount", "Pack"),
    Shown("line_packs", 7, "answer_bold", "Packs to buy"),
    Shown("line_order_by", 11, header="Order by"),
    Shown("line_price", 9, "answer_money", "Price of a pack"),
    Shown("line_cost", 9, "answer_money", "Cost"),
    Shown("line_mass", 8, header="Mass"),
    Shown("line_code", 28, "answer_wrap", "Order code, for Stores"),
    Shown("check_line", 36, "answer_wrap", "Check"),
)
_TIES: Final = (
    ("Valves", "valves_ordered", "valves_on_lines", "valves_difference"),
    ("Braid", "length_of_valves", "length_of_lines", "length_difference"),
    ("Mass of packing", "mass_of_valves", "mass_of_lines", "mass_difference"),
    ("Sets, rings and pieces", "pieces_of_valves", "pieces_of_lines", "pieces_difference"),
)
_FACTS: Final = (
    ("On site by", "needed_by", "answer_date"),
    ("Valves waiting as STOP or MISSING", "valves_waiting", "answer_count"),
    ("Valves waiting for a material", "valves_unnamed", "answer_count"),
    ("Cost of what is priced", "order_cost", "answer_money"),
)


def _tie_cells(rows: Rows) -> list[Cell]:
    """The reconciliation: by valves, by lines, and the difference, in a small block over the lines."""
    heads = ("Reconciliation", "By valves", "By lines", "Difference")
    cells = [Cell(3, 1 + column, head, "head") for column, head in enumerate(heads)]
    for row, (label, *names) in enumerate(_TIES, start=4):
        cells.append(Cell(row, 1, label, "label"))
        for column, name in enumerate(names, start=2):
            text, value = one_value(rows, name)
            cells.append(Cell(row, column, value, "answer", text))
    for row, (label, name, style) in enumerate(_FACTS, start=4):
        text, value = one_value(rows, name)
        cells += [Cell(row, column, label if column == 6 else "", "band") for column in range(6, 18)]  # noqa: PLR2004
        cells.append(Cell(row, 18, value, style, text))
    text, value = one_value(rows, "check_reconciliation")
    return [*cells, Cell(8, 1, value, "answer_state", text)]


def sheet(rows: Rows) -> Sheet:
    """The sheet Order list."""
    cells, grid = shown(rows, Per.LINE, _COLUMNS, 0)
    text, name = one_value(rows, "outage_name")
    cells += [
        Cell(0, 0, "Order list", "title"),
        Cell(0, 5, name, "title", text),
        Cell(
            1,
            0,
            "Follows Valves: change a count there and the lines follow. Pack, stock, price and lead time are typed in Stores.",
            "subtitle",
        ),
        *_tie_cells(rows),
    ]
    last = FIRST + rows.lengths[Per.LINE] - 1
    check = column_letters(len(_COLUMNS) - 1)
    return Sheet(
        ORDER_LIST,
        tuple(cells),
        grids=(grid,),
        widths={place: one.width for place, one in enumerate(_COLUMNS)},
        heights={
            FIRST - 1: 32.0,
            **heights_for(rows, ("check_line", 34), ("line_item", 20), ("line_material", 18), ("line_designation", 21), ("line_code", 27)),
        },
        freeze=(FIRST, 2),
        repeat_rows=(FIRST - 1, FIRST - 1),
        marks=(
            Mark(FIRST, len(_COLUMNS) - 1, last, len(_COLUMNS) - 1, f'AND(${check}{FIRST + 1}<>"",${check}{FIRST + 1}<>"OK")', "warn"),
            Mark(8, 1, 8, 1, '$B$9<>"OK"', "warn"),
        ),
        footer=ORDER_LIST,
        print_area=(0, 0, FIRST + max(used_rows(rows, "line_group"), 12), len(_COLUMNS) - 1),
    )


_ENTRIES: Final = ("store_code", "store_pack_entered", "store_stock_entered", "store_price_entered", "store_lead_days_entered")
_STORE_WIDTHS: Final = (32.0, 12.0, 12.0, 12.0, 12.0)


def sources() -> dict[str, Source]:
    """Where the entries of Stores are typed."""
    return {name: Source(STORES, place) for place, name in enumerate(_ENTRIES, start=1)}


def stores(rows: Rows) -> Sheet:
    """The sheet Stores: one row for each item of which the site has something to say."""
    assert set(_ENTRIES) | {"store_number"} == set(entry_names(Per.STORE))  # noqa: S101 - an entry without a column would be lost
    count = rows.lengths[Per.STORE]
    columns = [GridColumn(0, ["▸"] * count, "mark")]
    cells = [
        Cell(0, 0, "Stores", "title"),
        Cell(
            1,
            0,
            "What the site says of an item (▸): the code as the order list writes it, and what is known of pack, stock, price and "
            "lead time.",
            "subtitle",
        ),
        Cell(
            2,
            0,
            "Pack and stock are in the unit of the line, named at the right. A blank cell stands for the usual figure on Assumptions.",
            "subtitle",
        ),
    ]
    for place, name in enumerate(_ENTRIES, start=1):
        quantity = get(name)
        unit = f" ({quantity.unit})" if quantity.unit not in {"", "1"} else ""
        cells.append(Cell(FIRST - 1, place, f"{entry_title(quantity)}{unit}", "head"))
        look = "entry_text" if quantity.is_text else "entry_number"
        columns.append(GridColumn(place, [_typed(value) for value in rows.answers(name)], look))
    answers = (Shown("store_item", 34), Shown("store_unit", 8, header="Unit"), Shown("check_store", 60, "answer_wrap", "Check"))
    heads, grid = shown(rows, Per.STORE, answers, len(_ENTRIES) + 1)
    widths = dict(enumerate((3.0, *_STORE_WIDTHS, *(one.width for one in answers))))
    check, last = len(widths) - 1, FIRST + count - 1
    letter = column_letters(check)
    return Sheet(
        STORES,
        (*cells, *heads),
        grids=(Grid(FIRST, tuple(columns)), grid),
        widths=widths,
        heights={FIRST - 1: 30.0, **heights_for(rows, ("check_store", 54))},
        freeze=(FIRST, 2),
        marks=(Mark(FIRST, check, last, check, f'AND(${letter}{FIRST + 1}<>"",${letter}{FIRST + 1}<>"OK")', "warn"),),
        repeat_rows=(FIRST - 1, FIRST - 1),
        footer=STORES,
        selected=(FIRST, 1),
        print_area=(0, 0, FIRST + max(used_rows(rows, "store_in_use"), 12), check),
    )


def _typed(value: Value) -> Value:
    return None if value == "" else value


register(Book.LIST, ORDER_LIST, 60, Purpose.PRINT, "what to buy, how much and by when, tied to the valves", lambda book: sheet(book.rows))
register(Book.LIST, STORES, 70, Purpose.WORK, "pack, stock, price, lead time", lambda book: stores(book.rows))
