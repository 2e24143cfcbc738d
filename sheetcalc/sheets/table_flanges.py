"""The tables of flanged valves: flanges and their bolts, gaskets, choices, orders of tightening."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import cite
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.table_blocks import Block, Column, figures, numbers, printed, read, texts

#: Lengths of a flange: head, column of the CSV in inches, and the column in mm that formulas read.
FLANGE_LENGTHS: Final = (
    ("Stud length", "stud_length_in", "flange_stud_lengths"),
    ("Flange outside", "outside_in", "flange_outsides"),
    ("Bolt circle", "bolt_circle_in", "flange_bolt_circles"),
)


def flanges(add: Callable[..., Block]) -> None:
    """The blocks of flanged valves: flanges and their bolts, gaskets, choices, orders."""
    values = reference.values()
    add(
        "flange_sizes",
        Column("Size", texts("flange_size_names"), "label", "flange_size_names"),
        Column("Raised face, mm", numbers("raised_face_diameters"), "number", "raised_face_diameters"),
        Column("Pipe outside, in", figures("flange_sizes", "pipe_outside_in"), "number"),
        Column("Pipe outside, mm", numbers("flat_gasket_inners"), "working", "flat_gasket_inners"),
    )
    add("flange_classes", Column("Class", numbers("flange_classes"), "number", "flange_classes"))
    add(
        "flanges",
        Column("Flange", texts("flange_keys"), "label", "flange_keys"),
        Column("Bolts", numbers("flange_counts"), "number", "flange_counts"),
        Column("Thread", texts("flange_threads"), "label", "flange_threads"),
        *(Column(f"{head}, in", figures("flanges", field), "number") for head, field, _name in FLANGE_LENGTHS),
        Column("Remark", printed("flanges", "remark"), "label"),
        *(Column(f"{head}, mm", numbers(name), "working", name) for head, _field, name in FLANGE_LENGTHS),
    )
    add(
        "spiral_gaskets",
        Column("Flange", texts("spiral_keys"), "label", "spiral_keys"),
        Column("Inner ring, inside, mm", figures("spiral_gaskets", "d1_mm"), "number"),
        Column("Winding, inside, mm", numbers("spiral_inners"), "number", "spiral_inners"),
        Column("Winding, outside, mm", numbers("spiral_outers"), "number", "spiral_outers"),
        Column("Centring ring, outside, mm", figures("spiral_gaskets", "d4_mm"), "number"),
    )
    add(
        "flat_gaskets",
        Column("Flange", texts("flat_keys"), "label", "flat_keys"),
        Column("Outside, in", figures("flat_gaskets", "outside_in"), "number"),
        Column("Outside, mm", numbers("flat_outers"), "working", "flat_outers"),
    )
    kinds, own = reference.printed("gasket_kinds"), reference.OWN_GASKETS
    heads = ("Least stress, MPa", "Greatest stress, MPa", "Factor m", "Seating stress y, MPa")
    typed = add(
        "gasket_kinds",
        Column("Kind of gasket", texts("gasket_kind_names"), "entry_text"),
        Column("Form: spiral or flat", texts("gasket_forms"), "entry_text"),
        *(Column(head, numbers(name), "entry_number") for head, name in zip(heads, reference.GASKET_FIGURES.values(), strict=True)),
        Column("m and y from", ("your own",) * own + tuple(cite(row["factor_source"]).grade.value for row in kinds), "label"),
    )
    add(
        "gasket_kinds_read",
        Column("Kind of gasket", texts("gasket_kind_names"), "working_text", "gasket_kind_names", read(typed, 0, "ISTEXT")),
        Column("Form", texts("gasket_forms"), "working_text", "gasket_forms", read(typed, 1, "ISTEXT")),
        *(
            Column(head, numbers(name), "working", name, read(typed, 2 + i, "ISNUMBER"))
            for i, (head, name) in enumerate(zip(heads, reference.GASKET_FIGURES.values(), strict=True))
        ),
    )
    add(
        "flange_facings",
        Column("Facing", texts("flange_facing_names"), "label", "flange_facing_names"),
        Column("Bolts by size and class", numbers("facing_drillings"), "number", "facing_drillings"),
        Column("Torque worked out", numbers("facing_torques"), "number", "facing_torques"),
        Column("Meaning", printed("flange_facings", "meaning"), "label"),
    )
    add(
        "flange_materials",
        Column("Material", texts("flange_material_names"), "label", "flange_material_names"),
        Column("Torque worked out", numbers("material_torques"), "number", "material_torques"),
        Column("Meaning", printed("flange_materials", "meaning"), "label"),
    )
    crossed = values["bolt_cross_orders"]
    add(
        "bolt_orders",
        Column("Bolts", numbers("bolt_order_counts"), "number", "bolt_order_counts"),
        Column("Tightening, crosswise", texts("bolt_cross_texts"), "label", "bolt_cross_texts"),
    )
    add(
        "slacken_orders",
        Column("Bolts", numbers("bolt_order_counts"), "number"),
        Column("Slackening, far side first", texts("bolt_slacken_texts"), "label", "bolt_slacken_texts"),
    )
    add(
        "bolt_places",
        Column("Bolts", numbers("bolt_order_counts"), "number"),
        *(Column(f"Place {i + 1}", tuple(plain(v) for v in crossed[:, i]), "number", "bolt_cross_orders") for i in range(crossed.shape[1])),
    )
