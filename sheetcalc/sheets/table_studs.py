"""The tables of grades and lubricants of studs and bolts, the user's own rows on top."""

from __future__ import annotations

from collections.abc import Callable

from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import cite
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.table_blocks import Block, Column, numbers, read, read_words, read_yes, texts


def studs(add: Callable[..., Block]) -> None:
    """The blocks of grades and lubricants: as typed, and as formulas read them."""
    grades, lubricants = reference.printed("gland_stud_grades"), reference.printed("stud_lubricants")
    own = reference.OWN_GRADES
    heads = ("Over, mm", "Up to, mm", "Tensile, MPa", "Yield, MPa", "Coldest, °C", "Look above, °C", "Hottest, °C")
    typed = add(
        "gland_stud_grades",
        Column("Grade", ("",) * own + tuple(r["grade"] for r in grades), "entry_text"),
        Column("Sizes", ("",) * own + tuple(r["sizes"] for r in grades), "entry_text"),
        *(
            Column(head, (None,) * own + tuple(plain(reference.figure(r[key])) for r in grades), "entry_number")
            for key, head in zip(reference.GRADE_FIGURES, heads, strict=True)
        ),
        Column("Source", ("your own",) * own + tuple(f"{cite(r['source']).grade.value}" for r in grades), "label"),
    )
    add(
        "grades_read",
        Column("Grade", texts("grade_names"), "working_text", "grade_names", read(typed, 0, "ISTEXT")),
        Column("No.", numbers("grade_numbers"), "number", "grade_numbers"),
        *(
            Column(head, numbers(name), "working", name, read(typed, 2 + i, "ISNUMBER"))
            for i, (name, head) in enumerate(zip(reference.GRADE_FIGURES.values(), heads, strict=True))
        ),
    )
    own = reference.OWN_LUBRICANTS
    frictions = ("Nut factor", "Scatter of the load", "Thread friction", "Nut friction")
    typed = add(
        "stud_lubricants",
        Column("Lubricant", ("",) * own + tuple(r["name"] for r in lubricants), "entry_text"),
        *(
            Column(head, (None,) * own + tuple(float(r[key]) for r in lubricants), "entry_number")
            for key, head in zip(reference.LUBRICANT_FIGURES, frictions, strict=True)
        ),
        Column("Dry (yes or no)", ("",) * own + tuple(r["dry"] for r in lubricants), "entry_text"),
        Column("Oxygen report, number or name", ("",) * own + tuple(r["oxygen_report"] for r in lubricants), "entry_text"),
        *(
            Column(head, (None,) * own + tuple(plain(reference.figure(r[key])) for r in lubricants), "entry_number")
            for key, head in zip(reference.LUBRICANT_REPORTS, ("Oxygen report to °C", "Oxygen report to bar"), strict=True)
        ),
    )
    dry = len(frictions) + 1
    add(
        "lubricants_read",
        Column("Lubricant", texts("lubricant_names"), "working_text", "lubricant_names", read(typed, 0, "ISTEXT")),
        *(
            Column(head, numbers(name), "working", name, read(typed, 1 + i, "ISNUMBER"))
            for i, (name, head) in enumerate(zip(reference.LUBRICANT_FIGURES.values(), frictions, strict=True))
        ),
        Column("Dry", numbers("lubricants_dry"), "working", "lubricants_dry", read_yes(typed, dry)),
        Column("Oxygen report", texts("lubricant_oxygen_reports"), "working_text", "lubricant_oxygen_reports", read_words(typed, dry + 1)),
        *(
            Column(f"Oxygen report to {unit}", numbers(name), "working", name, read(typed, dry + at, "ISNUMBER", factor))
            for at, name, unit, factor in (
                (2, "lubricant_oxygen_temperatures", "°C", ""),
                (3, "lubricant_oxygen_pressures", "MPa", "*INDEX(unit_pressure_factors,1)"),
            )
        ),
    )
