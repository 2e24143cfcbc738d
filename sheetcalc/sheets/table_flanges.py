"""The tables of flanged valves: flanges and their bolts, gaskets, choices, orders of tightening."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sheetcalc.reference import tables as reference
from sheetcalc.reference.sources import cite
from sheetcalc.sheets.common import plain
from sheetcalc.sheets.table_blocks import Block, Column, figures, floats, numbers, printed, read, read_words, read_yes, texts

#: Lengths of a flange: head, column of the CSV in inches, and the column in mm that formulas read.
FLANGE_LENGTHS: Final = (
    ("Stud length", "stud_length_in", "flange_stud_lengths"),
    ("Flange outside", "outside_in", "flange_outsides"),
    ("Bolt circle", "bolt_circle_in", "flange_bolt_circles"),
)
#: Heads of the figures of a gasket: those of its stress, those of its service; and of a flange material.
_STRESS_HEADS: Final = ("Least stress, MPa", "Least for gas, MPa", "Greatest stress, MPa", "Factor m", "Seating stress y, MPa")
_SERVICE_HEADS: Final = ("Greatest °C", "Greatest bar", "Greatest bar x °C", "Oxygen report to °C", "Oxygen report to bar")
_MATERIAL_HEADS: Final = ("Ratings before", "Least °C", "Look above °C", "Greatest °C", "Straight lines to °C")


def gaskets(add: Callable[..., Block]) -> None:
    """The kinds of gasket: their stress, their service, and both as formulas read them."""
    kinds, own = reference.printed("gasket_kinds"), reference.OWN_GASKETS
    fluids = reference.MATERIAL_FLUIDS
    stress = list(zip(_STRESS_HEADS, reference.GASKET_FIGURES.values(), strict=True))
    service = list(zip(_SERVICE_HEADS, reference.GASKET_SERVICE.items(), strict=True))

    def origin(head: str, key: str) -> Column:
        grades = (cite(row[key]).grade.value if row[key] else "" for row in kinds)
        return Column(head, ("your own",) * own + tuple(grades), "label")

    typed = add(
        "gasket_kinds",
        Column("Kind of gasket", texts("gasket_kind_names"), "entry_text"),
        Column("Form", texts("gasket_forms"), "entry_text"),
        *(Column(head, numbers(name), "entry_number") for head, name in stress),
        origin("Stresses from", "stress_source"),
        origin("m and y from", "factor_source"),
    )
    names = read(typed, 0, "ISTEXT")
    kind = Column("Kind of gasket", texts("gasket_kind_names"), "working_text", formulas=names)
    served = add(
        "gasket_service",
        kind,
        *(
            Column(head, (None,) * own + tuple(plain(reference.figure(row[key])) for row in kinds), "entry_number")
            for head, (key, _read) in service
        ),
        Column("Oxygen report, number or name", texts("gasket_oxygen_reports"), "entry_text"),
        origin("From", "limits_source"),
    )
    suits = add(
        "gasket_fluids",
        kind,
        *(Column(f"For {one}", ("",) * own + tuple(row[one] for row in kinds), "entry_text") for one in fluids),
    )
    add(
        "gasket_kinds_read",
        Column("Kind of gasket", texts("gasket_kind_names"), "working_text", "gasket_kind_names", names),
        Column("Form", texts("gasket_forms"), "working_text", "gasket_forms", read(typed, 1, "ISTEXT")),
        *(Column(head, numbers(name), "working", name, read(typed, 2 + i, "ISNUMBER")) for i, (head, name) in enumerate(stress)),
    )
    add(
        "gasket_service_read",
        kind,
        *(
            Column(
                head.replace("bar", "MPa"),
                numbers(name),
                "working",
                name,
                read(served, 1 + i, "ISNUMBER", "" if factor == 1 else "*INDEX(unit_pressure_factors,1)"),
            )
            for i, (head, (_key, (name, factor))) in enumerate(service)
        ),
        Column(
            "Oxygen report", texts("gasket_oxygen_reports"), "working_text", "gasket_oxygen_reports", read_words(served, 1 + len(service))
        ),
    )
    held = reference.values()["gaskets_fluids"]
    add(
        "gasket_fluids_read",
        kind,
        *(
            Column(f"For {one}", tuple(plain(v) for v in held[:, i]), "working", "gaskets_fluids", read_yes(suits, 1 + i))
            for i, one in enumerate(fluids)
        ),
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
    gaskets(add)
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
        *(
            Column(head, numbers(name), "number", name)
            for head, name in zip(_MATERIAL_HEADS, reference.FLANGE_MATERIAL_FIGURES.values(), strict=True)
        ),
        Column("Meaning", printed("flange_materials", "meaning"), "label"),
    )
    add("rating_temperatures", Column("Up to, °C", numbers("rating_temperatures"), "number", "rating_temperatures"))
    add(
        "flange_ratings",
        Column("Group", printed("flange_ratings", "group"), "label"),
        Column("Up to, °C", floats("flange_ratings", "temperature_c"), "number"),
        *(
            Column(f"Class {one:g}, MPa", tuple(plain(bar) for bar in values["flange_ratings"][:, i]), "number", "flange_ratings")
            for i, one in enumerate(values["flange_classes"])
        ),
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
