"""Facts about answers that are chosen from a few words."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from sheetcalc.intake import choices

TABLES = Path(__file__).parents[2] / "sheetcalc" / "reference" / "tables"


@pytest.mark.parametrize(
    ("entry", "text", "code"),
    [
        ("packing_form_entered", "Braided", "braid"),
        ("packing_form_entered", "die formed", "die-formed"),
        ("packing_form_entered", "Die-Formed", "die-formed"),
        ("packing_form_entered", "Pre-formed rings", "die-formed"),
        ("packing_form_entered", "Moulded", "moulded"),
        ("packing_form_entered", "molded rings", "moulded"),
        ("packing_form_entered", "die-molded", "die-formed"),
        ("packing_form_entered", "shredded", "loose"),
        ("packing_form_entered", "Bulk", "loose"),
        ("packing_form_entered", "woven", "woven"),
        ("fluid_kind_entered", "Not stated", "not stated"),
        ("fluid_kind_entered", "STEAM", "steam"),
        ("fluid_kind_entered", "O2", "oxygen"),
        ("fluid_kind_entered", "Chemicals", "chemical"),
        ("fluid_kind_entered", "Natural gas", "gas"),
        ("fluid_kind_entered", "Instrument air", "air"),
        ("fluid_kind_entered", "N2", "inert gas"),
        ("fluid_kind_entered", "HNO3", "oxidising"),
        ("fluid_kind_entered", "Salpetersäure", "oxidising"),
        ("fluid_kind_entered", "slurry", "slurry"),
        ("stem_motion_entered", "rising stem", "rising"),
        ("stem_motion_entered", "Rising/Rotating", "rising-rotating"),
        ("stem_motion_entered", "rising, rotating", "rising-rotating"),
        ("stem_motion_entered", "non-rising", "rotating"),
        ("stem_motion_entered", "1/4 turn", "quarter-turn"),
        ("stem_motion_entered", "¼-turn", "quarter-turn"),
        ("stem_motion_entered", "Quarter Turn", "quarter-turn"),
        ("stem_motion_entered", "multi-turn", "multi-turn"),
        ("packing_state_entered", "lubed", "lubricated"),
        ("packing_state_entered", "Un-lubricated", "dry"),
        ("packing_state_entered", "DRY", "dry"),
        ("gland_kind_entered", "live loaded", "live-loaded"),
        ("gland_kind_entered", "Bolted", "studs"),
        ("gland_kind_entered", "Gland nut", "packing nut"),
        ("gland_kind_entered", "clamped", "clamped"),
        ("gland_nut_kind_entered", "heavy", "heavy hex"),
        ("gland_nut_kind_entered", "Hexagon", "hex"),
        ("gland_nut_kind_entered", "DIN 934", "old DIN hex"),
        ("gland_nut_kind_entered", "by thread", "by thread"),
        ("gland_nut_kind_entered", "square", "square"),
        ("packing_material", "  Heavy graphite braid ", "Heavy graphite braid"),
        ("gland_stud_grade", "b7 ", "b7"),
        ("stud_lubricant", "Lubed", "Lubed"),
        ("stud_lubricant", "-", ""),
        ("cut_style_entered", "Square cut", "butt"),
        ("cut_style_entered", "DIAGONAL", "skive"),
        ("cut_style_entered", "wavy", "wavy"),
        ("section_list_entered", "Inches", "inch"),
        ("section_list_entered", "by unit set", "by unit set"),
        ("section_list_entered", "mm", "metric"),
        ("section_list_entered", "either", "both"),
        ("gland_stud_thread", " m12 ", "M12"),
        *(("critical_entered", text, "yes") for text in ("Yes", "y", "X", "TRUE", "1", "ja", "Oui")),
        *(("critical_entered", text, "no") for text in ("NO", "n", "-", "–", "False", "0", "Nein")),
        ("critical_entered", "perhaps", "perhaps"),
        ("critical_entered", "", ""),
        ("gasket", " 90 x 110  x 2 ", "90 x 110 x 2"),
        ("gasket", "-", ""),
        *(
            ("comes_out_entered", text, "yes")
            for text in ("Yes", "y", "X", "TRUE", "1", "ja", "To be removed", "OUT", "off-line", "Workshop")
        ),
        *(("comes_out_entered", text, "no") for text in ("NO", "n", "-", "0", "in line", "In-situ", "stays")),
        ("comes_out_entered", "perhaps", "perhaps"),
        *(("flange_studs_renewed_entered", text, "yes") for text in ("Yes", "new", "Renew", "x")),
        *(("flange_studs_renewed_entered", text, "no") for text in ("No", "re-use", "old", "–")),
        ("flange_studs_renewed_entered", "8", "8"),
        *(("valve_actuated_entered", text, "yes") for text in ("yes", "Pneumatic", "MOV", "electric", "Motor operated")),
        *(("valve_actuated_entered", text, "no") for text in ("no", "none", "Manual", "Hand-wheel", "-")),
        ("valve_actuated_entered", "gearbox", "gearbox"),
        *(("flange_facing_entered", text, "raised face") for text in ("RF", "rf", "raised", "Raised Face", "R.F.", "(RF)")),
        *(("flange_facing_entered", text, "flat face") for text in ("FF", "flat", "Full face")),
        *(("flange_facing_entered", text, "ring joint") for text in ("RTJ", "RJ", "Ring type joint", "ring-joint")),
        *(("flange_facing_entered", text, "lap joint") for text in ("LJ", "lapped", "Lap-joint")),
        *(("flange_facing_entered", text, "wafer, lug or tapped") for text in ("Wafer", "lug", "LUGGED", "wafer/lug", "tapped")),
        *(("flange_facing_entered", text, "not stated") for text in ("unknown", "?", "Not stated")),
        ("flange_facing_entered", "tongue and groove", "tongue and groove"),
        *(
            ("flange_material_entered", text, name)
            for name, said in (
                ("1.1 carbon steel", ("CS", "Carbon steel", "WCB", "A105", "A216 WCB")),
                ("2.1 stainless 304", ("304", "SS304", "CF8")),
                ("2.2 stainless 316", ("316", "F316", "CF8M")),
                ("2.3 stainless 304L or 316L", ("316L", "SS 304L")),
                ("steel", ("steel", "SS", "stainless", "Alloy steel", "LCB", "Duplex")),
            )
            for text in said
        ),
        *(("flange_material_entered", text, "cast iron") for text in ("CI", "cast iron", "Ductile Iron", "DI")),
        *(("flange_material_entered", text, "other") for text in ("bronze", "FRP", "PVC")),
        ("flange_material_entered", "iron or steel", "iron or steel"),
        *(("gasket_kind", text, "spiral wound, graphite filler") for text in ("SW", "spiral", "Spiral wound", "SWG", "spiral-wound")),
        *(
            ("gasket_kind", text, "spiral wound with inner ring, graphite filler")
            for text in ("SWG IR", "spiral wound with inner ring", "Spiral wound + inner ring", "SWG/IR")
        ),
        *(("gasket_kind", text, "flexible graphite sheet") for text in ("graphite", "Graphite sheet", "expanded graphite")),
        *(("gasket_kind", text, "elastomer sheet") for text in ("rubber", "EPDM", "Neoprene", "rubber sheet")),
        ("gasket_kind", " Our  own sheet ", "Our own sheet"),
        *(("gasket_kind", text, "compressed fibre sheet") for text in ("compressed fibre", "CNAF", "Non-asbestos")),
        *(("gasket_kind", text, "PTFE sheet, solid") for text in ("PTFE", "virgin PTFE")),
        *(("gasket_kind", text, "spiral wound with inner ring, PTFE filler") for text in ("SW PTFE", "spiral wound, PTFE filler")),
        ("gasket_kind", "filled PTFE", "PTFE sheet, filled"),
        ("gasket_kind", "grooved metal", "grooved metal, graphite faced"),
        ("gasket_kind", "cork", "cork"),
        ("flange_bolt_grade", " b7 ", "b7"),
        ("flange_lubricant", "Lubed", "Lubed"),
        ("flange_lubricant", "-", ""),
    ],
)
def test_codes(entry: str, text: str, code: str) -> None:
    """An obvious word becomes the code; any other stays as it was written."""
    assert code == choices.code(entry, text)


@pytest.mark.parametrize(
    ("text", "unit_set"),
    [
        ("mm", "metric"),
        ("Metric", "metric"),
        ("SI", "metric"),
        ("M", "metric"),
        ("in", "US"),
        ("Inches", "US"),
        ('"', "US"),
        ("us", "US"),
        ("U.S.", "US"),
        ("Imperial", "US"),
        ("USCS", "US"),
        ("", ""),
        ("cubits", "cubits"),
    ],
)
def test_unit_sets(text: str, unit_set: str) -> None:
    """Usual words for a unit set become metric or US; any other stays."""
    assert unit_set == choices.unit_set(text)


@pytest.mark.parametrize(
    ("entry", "table"),
    [
        ("packing_form_entered", "packing_forms"),
        ("cut_style_entered", "cut_styles"),
        ("section_list_entered", "section_lists"),
        ("fluid_kind_entered", "fluid_kinds"),
        ("stem_motion_entered", "stem_motions"),
        ("packing_state_entered", "packing_states"),
        ("gland_kind_entered", "gland_kinds"),
        ("gland_nut_kind_entered", "nut_kinds"),
        ("critical_entered", "yes_no"),
        ("comes_out_entered", "yes_no"),
        ("flange_studs_renewed_entered", "yes_no"),
        ("valve_actuated_entered", "yes_no"),
        ("flange_facing_entered", "flange_facings"),
        ("flange_material_entered", "flange_materials"),
        ("gasket_kind", "gasket_kinds"),
    ],
)
def test_codes_agree_with_the_tables(entry: str, table: str) -> None:
    """Each code is a name of the reference table, each name of the table is kept, in any case of letters."""
    with (TABLES / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        names = [row["name"] for row in csv.DictReader(file)]
    assert names == [choices.code(entry, name.upper()) for name in names]
    assert set(names) == set(choices.CODES[entry].values())
