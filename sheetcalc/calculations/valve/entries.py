"""What a person types about a valve and its gland, and the units of the row that it is typed in."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sheetcalc.calculations.arithmetic import pick, row_ignoring_case
from sheetcalc.calculations.given import OVERRIDE, READING, UNIT_FACTORS, given, given_code
from sheetcalc.declare.blocks import derive, derived, entry
from sheetcalc.declare.quantity import Num, Text, get
from sheetcalc.reference import tables as _tables  # noqa: F401 - declares the table columns read here
from sheetcalc.reference.sources import cite

_COHERENT_WORDS: Final = {
    "length": "Millimetres",
    "pressure": "Megapascals",
    "stress": "Megapascals",
    "force": "Newtons",
    "temperature": "Degrees Celsius",
    "mass": "Kilograms",
}

tag = entry(
    "tag",
    title="Tag",
    text=True,
    part="valve",
    source=READING,
    sentence="The name by which the valve is known on site.",
)
unit_set = entry(
    "unit_set",
    title="Unit set",
    text=True,
    part="valve",
    source=READING,
    sentence="Metric (lengths in mm) or US (lengths in inches).",
)


@derived(
    title="Row of the unit set",
    unit="1",
    part="valve",
    source=READING,
    guards=False,
    excel='IFERROR(IF(INDEX({unit_set_names},MATCH({unit_set},{unit_set_names},0))={unit_set},MATCH({unit_set},{unit_set_names},0),""),"")',
)
def unit_row(unit_set: Text, unit_set_names: list[str]) -> Num:
    """The row of the unit set in its table, whatever the case it is typed in."""
    return row_ignoring_case(unit_set, unit_set_names)


for _dimension, _name in UNIT_FACTORS.items():
    _one = f"{_COHERENT_WORDS[_dimension]} in one typed unit of {_dimension}."
    derive(
        _name,
        (f"unit_{_dimension}_factors", "unit_row"),
        lambda column, row: pick(row, column),
        _one,
        title="Length factor" if _dimension == "length" else f"Unit of {_dimension}",
        unit=get(f"unit_{_dimension}_factors").unit,
        part="valve",
        source=cite("inch"),
        excel=f"INDEX({{unit_{_dimension}_factors}},{{unit_row}})",
    )


@derived(
    title="Temperature zero",
    unit="1",
    part="valve",
    source=cite("inch"),
    excel="INDEX({unit_temperature_zeros},{unit_row})",
)
def temperature_zero(unit_temperature_zeros: Num, unit_row: Num) -> Any:
    """What a thermometer of the unit set reads at 0 degrees Celsius."""
    return pick(unit_row, unit_temperature_zeros)


@derived(
    title="Spacer step of the unit set",
    symbol="",
    unit="mm",
    part="rings",
    source=cite("spacer"),
    excel="INDEX({unit_spacer_steps},{unit_row})",
)
def spacer_step_usual(unit_spacer_steps: Num, unit_row: Num) -> Any:
    """The step to which spacers are cut where a valve names none: 1 mm or 1/16 in."""
    return pick(unit_row, unit_spacer_steps)


@derived(
    title="Minimum entry, length for this section",
    symbol="",
    unit="mm",
    part="rings",
    source=cite("small-sections"),
    excel="MIN({least_entry_floor_usual},{small_floor_share}*{packing_section})",
)
def least_entry_floor_small(least_entry_floor_usual: float, small_floor_share: float, packing_section: Num) -> Num:
    """The length of minimum entry where a valve names none: less where the section is small."""
    return np.minimum(least_entry_floor_usual, small_floor_share * packing_section)


_TYPE_IT = "measure again and type the number (a fraction as 0 7/16)."

given(
    "stem_diameter",
    title="Stem diameter",
    symbol="d",
    unit="mm",
    part="section",
    required=True,
    low="smallest_diameter",
    high="largest_diameter",
    remedy=_TYPE_IT,
    sentence="Diameter of the stem where the packing runs, not on the thread.",
)
given(
    "box_bore",
    title="Box bore",
    symbol="D",
    unit="mm",
    part="section",
    required=True,
    low="smallest_diameter",
    high="largest_diameter",
    remedy=_TYPE_IT,
    sentence="Bore of the stuffing box, worn places included.",
)
given(
    "box_depth",
    title="Box depth",
    symbol="H",
    unit="mm",
    part="rings",
    required=True,
    low="smallest_length",
    high="largest_length",
    remedy=_TYPE_IT,
    sentence="Depth of the stuffing box from its face to the bare bottom.",
)
given(
    "nose_length",
    title="Nose length",
    symbol="N",
    unit="mm",
    part="gap",
    required=True,
    low="smallest_length",
    high="largest_length",
    remedy=_TYPE_IT,
    sentence="Length of the follower nose that can enter the box, below its flange.",
)
gland_stud_thread = entry(
    "gland_stud_thread",
    title="Gland stud thread",
    text=True,
    part="flats",
    source=READING,
    sentence="Thread of the gland studs, or of a packing nut itself, written as on Tables, such as M12 or 1/2-13 UNC.",
)
given_code(
    "packing_form",
    title="Packing form",
    part="section",
    names="packing_form_names",
    usual="packing_form_default",
    remedy="choose one from the list on Tables.",
    sentence="Braid from a spool, die-formed rings, moulded rings, or loose packing.",
)
given(
    "maker_ring_count",
    title="Ring count by the maker",
    symbol="n_m",
    unit="1",
    part="rings",
    whole=True,
    low="1",
    high="largest_count",
    remedy="type a whole number of rings or clear the cell.",
    sentence="The number of rings that the valve's maker states.",
)
given(
    "lantern_length",
    title="Lantern length",
    symbol="L_l",
    unit="mm",
    part="rings",
    usual="0",
    low="0",
    high="largest_length",
    remedy="type its length or clear the cell.",
    sentence="Length of a lantern ring in the box, if there is one.",
)
given(
    "port_depth",
    title="Port depth",
    symbol="P",
    unit="mm",
    part="rings",
    low="smallest_length",
    high="largest_length",
    remedy="measure from the face of the box to the middle of the port again or clear the cell.",
    sentence="From the face of the box to the middle of the port that a lantern ring must face.",
)


@derived(
    title="Port diameter, usual",
    symbol="",
    unit="mm",
    part="rings",
    source=cite("port"),
    excel="{port_share_usual}*{lantern_length}",
)
def port_diameter_usual(port_share_usual: float, lantern_length: Num) -> Num:
    """What a port is taken for where its width is not typed."""
    return port_share_usual * lantern_length


given(
    "port_diameter",
    title="Port diameter",
    symbol="d_P",
    unit="mm",
    part="rings",
    usual="port_diameter_usual",
    low="0",
    high="largest_length",
    remedy="measure the width of the port again or clear the cell.",
    sentence="Width of the port that a lantern ring must face.",
)
given(
    "made_ring_height",
    title="Made ring height",
    symbol="h_m",
    unit="mm",
    part="section",
    low="smallest_length",
    high="largest_length",
    remedy="type the maker's free height of one ring or clear the cell.",
    sentence="Free height of one die-formed ring, as its maker states it.",
)
given_code(
    "cut_style",
    title="Cut style",
    part="cut",
    names="cut_style_names",
    usual="cut_style_usual",
    remedy="choose one from the list on Tables.",
    sentence="How the ends of a ring are cut: butt or skive.",
)
given_code(
    "section_list",
    title="Stock list",
    part="section",
    names="section_list_names",
    usual="section_list_usual",
    remedy="choose one from the list on Tables.",
    sentence="The stock list that the section is chosen from.",
)
given(
    "stud_spacing",
    title="Stud spacing",
    symbol="C",
    unit="mm",
    part="flats",
    low="smallest_length",
    high="largest_length",
    where="gland_has_studs",
    remedy="type the distance between the gland studs or clear the cell.",
    sentence="Distance between the centres of the two gland studs.",
)
given(
    "gap_reading_1",
    title="Gap reading 1",
    symbol="g₁",
    unit="mm",
    part="flats",
    low="0",
    high="largest_length",
    remedy="read the gap again at nut 1 or clear the cell.",
    sentence="Gap between gland flange and box face on the side of nut 1.",
)
given(
    "gap_reading_2",
    title="Gap reading 2",
    symbol="g₂",
    unit="mm",
    part="flats",
    low="0",
    high="largest_length",
    remedy="read the gap again at nut 2 or clear the cell.",
    sentence="Gap between gland flange and box face on the side of nut 2.",
)
given(
    "gap_reading_distance",
    title="Distance of the gap readings",
    symbol="B",
    unit="mm",
    part="flats",
    usual="stud_spacing",
    low="smallest_length",
    high="largest_length",
    remedy="type the distance between the two places where the gap was read, or clear the cell.",
    sentence="Distance between the two places where the gap was read; the stud spacing if read at the studs.",
)

given(
    "preferred_ring_count",
    title="Preferred ring count",
    symbol="n_p",
    unit="1",
    part="rings",
    whole=True,
    usual="motion_ring_count",
    low="1",
    high="largest_count",
    remedy=OVERRIDE,
    sentence="The number of rings wanted where the maker states none.",
)
given(
    "set_compression",
    title="Set compression",
    symbol="c",
    unit="1",
    part="gap",
    usual="set_compression_default",
    low="smallest_compression",
    high="largest_compression",
    remedy=OVERRIDE,
    sentence="By how much of its free height the set is shortened at the final gland stress.",
)
given(
    "seating_compression",
    title="Seating compression",
    symbol="c₀",
    unit="1",
    part="gap",
    usual="seating_compression_default",
    low="0",
    high="largest_compression",
    remedy=OVERRIDE,
    sentence="By how much of its free height each ring is shortened when it is seated.",
)
given(
    "least_entry_floor",
    title="Minimum entry, length",
    symbol="e_f",
    unit="mm",
    part="rings",
    usual="least_entry_floor_small",
    low="0",
    high="largest_length",
    remedy=OVERRIDE,
    sentence="The follower stands at least this far in the box on the free rings.",
)
given(
    "least_entry_share",
    title="Minimum entry, share of section",
    symbol="q_e",
    unit="1",
    part="rings",
    usual="least_entry_share_usual",
    low="0",
    high="1",
    remedy=OVERRIDE,
    sentence="The follower stands at least this share of the section in the box.",
)
given(
    "spacer_step",
    title="Spacer step",
    symbol="z",
    unit="mm",
    part="rings",
    usual="spacer_step_usual",
    low="smallest_step",
    high="largest_length",
    remedy=OVERRIDE,
    sentence="The step to which spacers are cut.",
)
given(
    "length_allowance",
    title="Length allowance",
    symbol="a",
    unit="1",
    part="cut",
    usual="length_allowance_usual",
    low="0",
    high="1",
    remedy=OVERRIDE,
    sentence="How much longer than its mean length a ring is cut.",
)
given(
    "waste_share",
    title="Waste",
    symbol="w",
    unit="1",
    part="cut",
    usual="waste_share_usual",
    low="0",
    high="1",
    remedy=OVERRIDE,
    sentence="What is added to the bulk length for ends and spoilt rings.",
)
