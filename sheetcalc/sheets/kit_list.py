"""The sheet Kit list: what the crews carry, each tool once with its size, and how many valves of each crew need it."""

from __future__ import annotations

from typing import Final

from sheetcalc.calculations.outage.kit import MOST_CREWS
from sheetcalc.declare.quantity import Per, get
from sheetcalc.sheets.layout import Cell, Mark, Sheet, column_letters
from sheetcalc.sheets.outage_rows import FIRST, Rows, Shown, heights_for, one_value, shown, unit_cell, used_rows
from sheetcalc.sheets.register import Book, Purpose, register

KIT_LIST: Final = "Kit list"
_COLUMNS: Final = (
    Shown("tool_number", 5, header="No."),
    Shown("tool_item", 27),
    Shown("tool_words", 18, header="Marked"),
    Shown("tool_diameter", 10, header="Diameter"),
    Shown("tool_hook_reach", 9, header="Reach at least"),
    Shown("tool_thickness", 10, header="Thickness at most"),
    Shown("tool_outside", 9, header="Outside"),
    Shown("tool_inside", 9, header="Inside"),
    Shown("tool_length", 9, header="Length at least"),
    Shown("tool_count", 9, "answer_bold", "Take"),
    Shown("tool_valves", 8, header="Valves"),
    *(Shown(f"tool_crew_{crew}", 7.5, "answer_some", header=f"Crew {crew}") for crew in range(1, MOST_CREWS + 1)),
    Shown("tool_code", 28, header="Kit code"),
    Shown("check_tool", 44, "answer_wrap", "Check"),
)
#: What every crew takes whatever the valves are: common practice, no source.
_ALWAYS: Final = (
    "Every crew also takes: locks, tags and the job cards; gauge or drain hose for the zero-energy proof; steel rule, calliper and depth "
    "gauge; mirror and lamp; torque wrench; knife, cutting board and tape;",
    "wire brush, lint-free rags and cleaner that suits the fluid; penetrating oil; the stud lubricant that the card names; eye and hand "
    "protection; bags and labels for small parts; containers for old packing.",
)


def sheet(rows: Rows) -> Sheet:
    """The sheet."""
    cells, grid = shown(rows, Per.TOOL, _COLUMNS, 0)
    text, name = one_value(rows, "outage_name")
    cells += [
        Cell(0, 0, KIT_LIST, "title"),
        Cell(0, 5, name, "title", text),
        Cell(1, 0, "One tool a line; beside it how many valves of each crew need it, and one to take for each crew that does.", "subtitle"),
        Cell(2, 0, _ALWAYS[0], "text"),
        Cell(3, 0, _ALWAYS[1], "text"),
    ]
    for row, (label, name_of) in enumerate((("Least torque", "torque_least"), ("Greatest torque", "torque_most")), start=5):
        said, value = one_value(rows, name_of)
        cells += [Cell(row, 1, label, "label"), Cell(row, 2, value, "answer_2", said), unit_cell(rows, get(name_of), row, 3)]
    said, value = one_value(rows, "check_kit")
    cells += [Cell(7, 1, get("check_kit").title, "label"), Cell(7, 2, value, "answer_text", said)]
    check, last = len(_COLUMNS) - 1, FIRST + rows.lengths[Per.TOOL] - 1
    letter = column_letters(check)
    return Sheet(
        KIT_LIST,
        tuple(cells),
        grids=(grid,),
        widths={place: one.width for place, one in enumerate(_COLUMNS)},
        heights={FIRST - 1: 44.0, **heights_for(rows, ("check_tool", 42))},
        freeze=(FIRST, 2),
        repeat_rows=(FIRST - 1, FIRST - 1),
        marks=(
            Mark(FIRST, check, last, check, f'AND(${letter}{FIRST + 1}<>"",${letter}{FIRST + 1}<>"OK")', "warn"),
            Mark(7, 2, 7, 2, '$C$8<>"OK"', "warn"),
        ),
        footer=KIT_LIST,
        print_area=(0, 0, FIRST + max(used_rows(rows, "tool_group"), 12), check),
    )


register(Book.LIST, KIT_LIST, 80, Purpose.PRINT, "what each crew carries, with sizes", lambda book: sheet(book.rows))
