"""The constants of a workbook: each stands on Assumptions with unit, range, source and grade, and can be edited there."""

from __future__ import annotations

from sheetcalc.declare.quantity import assumption
from sheetcalc.reference.sources import cite
from sheetcalc.units import factor

inch_length = assumption(
    "inch_length", factor("in", "mm"), title="One inch", unit="mm", part="units", source=cite("inch"),
    sentence="Millimetres in an inch, for pitches of inch threads and for answers shown in inches.",
    limits=(25.4, 25.4),
)  # fmt: skip
inch_parts = assumption(
    "inch_parts", 16.0, title="Parts of an inch", part="units", source=cite("reading"),
    sentence="Inch answers are also shown to the nearest part of this many in an inch.", limits=(16, 16),
)  # fmt: skip
counting_digits = assumption(
    "counting_digits", 6.0, title="Counting digits", part="units", source=cite("counting"),
    sentence="Decimals kept before a quotient becomes a whole count or two worked-out values are compared.",
    limits=(4, 9),
)  # fmt: skip
measuring_tolerance = assumption(
    "measuring_tolerance", 0.25, title="Measuring tolerance", unit="mm", part="units", source=cite("measuring"),
    sentence="A ring count that would change within this much of depth is named by a check.", limits=(0, 2),
)  # fmt: skip

smallest_diameter = assumption(
    "smallest_diameter", 3.0, title="Smallest believable diameter", unit="mm", part="limits", source=cite("believable"),
    sentence="A stem or bore below this is taken for a slip.", limits=(0, 50),
)  # fmt: skip
largest_diameter = assumption(
    "largest_diameter", 1000.0, title="Largest believable diameter", unit="mm", part="limits",
    source=cite("believable"), sentence="A stem or bore above this is taken for a slip or a date.",
    limits=(100, 5000),
)  # fmt: skip
smallest_length = assumption(
    "smallest_length", 1.0, title="Smallest believable length", unit="mm", part="limits", source=cite("believable"),
    sentence="A depth, nose, height or distance below this is taken for a slip.", limits=(0, 10),
)  # fmt: skip
largest_length = assumption(
    "largest_length", 1500.0, title="Largest believable length", unit="mm", part="limits", source=cite("believable"),
    sentence="A depth, nose, height, gap or distance above this is taken for a slip or a date.", limits=(100, 10000),
)  # fmt: skip
smallest_step = assumption(
    "smallest_step", 0.1, title="Smallest believable spacer step", unit="mm", part="limits",
    source=cite("believable"), sentence="A spacer step below this is taken for a slip.", limits=(0.01, 1),
)  # fmt: skip
largest_count = assumption(
    "largest_count", 40.0, title="Largest believable ring count", part="limits", source=cite("believable"),
    sentence="A ring count above this is taken for a slip.", limits=(10, 100),
)  # fmt: skip
smallest_compression = assumption(
    "smallest_compression", 0.01, title="Smallest believable set compression", part="limits",
    source=cite("believable"), sentence="A set compression below this is taken for a slip.", limits=(0.001, 0.1),
)  # fmt: skip
largest_compression = assumption(
    "largest_compression", 0.6, title="Largest believable compression", part="limits", source=cite("believable"),
    sentence="A compression above this is taken for a slip, such as a percentage typed as a number.",
    limits=(0.3, 0.9),
)  # fmt: skip

section_tolerance = assumption(
    "section_tolerance", 0.3, title="Section tolerance", unit="mm", part="section", source=cite("section-tolerance"),
    sentence="A stocked size this near to the box width is used as it is.", limits=(0, 1),
)  # fmt: skip
greatest_roll = assumption(
    "greatest_roll", 0.8, title="Greatest roll", unit="mm", part="section", source=cite("greatest-roll"),
    sentence="How much thicker than the box width a braid may be and still be rolled flat to fit.", limits=(0, 2),
)  # fmt: skip
section_list_usual = assumption(
    "section_list_usual", "by unit set", title="Stock list, usual", part="section", source=cite("reading"),
    sentence="The stock list used where a valve names none.",
)  # fmt: skip
packing_form_usual = assumption(
    "packing_form_usual", "braid", title="Packing form, usual", part="section", source=cite("practice"),
    sentence="The packing form used where a valve names none.",
)  # fmt: skip

preferred_ring_count_usual = assumption(
    "preferred_ring_count_usual", 5.0, title="Preferred ring count, usual", part="rings", source=cite("ring-count"),
    sentence="The number of rings wanted where neither the maker nor the valve's own row says.", limits=(1, 12),
)  # fmt: skip
least_entry_floor_usual = assumption(
    "least_entry_floor_usual", 3.175, title="Least entry, floor, usual", unit="mm", part="rings",
    source=cite("first-entry"), sentence="The follower stands at least this far in the box on the free rings.",
    limits=(0, 20),
)  # fmt: skip
least_entry_share_usual = assumption(
    "least_entry_share_usual", 0.25, title="Least entry, share of the section, usual", part="rings",
    source=cite("first-entry"), sentence="The follower stands at least this share of the section in the box.",
    limits=(0, 1),
)  # fmt: skip
least_spacer = assumption(
    "least_spacer", 6.0, title="Least spacer", unit="mm", part="rings", source=cite("spacer"),
    sentence="Where less room than this is left over, no spacer is fitted.", limits=(1, 50),
)  # fmt: skip
least_rings_by_lantern = assumption(
    "least_rings_by_lantern", 3.0, title="Least rings on each side of a lantern", part="rings", source=cite("lantern"),
    sentence="Fewer rings than this above or below a lantern ring are named by a check.", limits=(1, 6),
)  # fmt: skip

set_compression_usual = assumption(
    "set_compression_usual", 0.30, title="Set compression, usual", part="gap", symbol="c",
    source=cite("set-compression-braid"), limits=(0.05, 0.6),
    sentence="By how much of its free height the whole set is shortened at the final gland stress.",
)  # fmt: skip
seating_compression_usual = assumption(
    "seating_compression_usual", 0.20, title="Seating compression, usual", part="gap", symbol="c₀",
    source=cite("seating"), limits=(0, 0.5),
    sentence="By how much of its free height each ring is shortened when it is seated on its own.",
)  # fmt: skip
least_take_up_floor = assumption(
    "least_take_up_floor", 3.0, title="Least take-up, floor", unit="mm", part="gap", source=cite("take-up"),
    sentence="The gap that must be left for later adjustment, whatever the section.", limits=(0, 25),
)  # fmt: skip
least_take_up_share = assumption(
    "least_take_up_share", 0.25, title="Least take-up, share of the section", part="gap", source=cite("take-up"),
    sentence="The gap that must be left for later adjustment, as a share of the section.", limits=(0, 1),
)  # fmt: skip

cut_style_usual = assumption(
    "cut_style_usual", "butt", title="Cut style, usual", part="cut", source=cite("practice"),
    sentence="The cut used where a valve names none.",
)  # fmt: skip
length_allowance_usual = assumption(
    "length_allowance_usual", 0.0, title="Length allowance, usual", part="cut", source=cite("allowance"),
    sentence="How much longer than the mean length a ring is cut: 0 on a mandrel, 0.03 to 0.07 when cut flat.",
    limits=(0, 0.15),
)  # fmt: skip
waste_share_usual = assumption(
    "waste_share_usual", 0.08, title="Waste, usual", part="cut", source=cite("waste"),
    sentence="What is added to the bulk length for ends and spoilt rings.", limits=(0, 0.5),
)  # fmt: skip

flats_per_turn = assumption(
    "flats_per_turn", 6.0, title="Flats of a turn", part="flats", source=cite("flats"),
    sentence="A hexagon nut has six flats.", limits=(6, 6),
)  # fmt: skip
greatest_gap_difference = assumption(
    "greatest_gap_difference", 0.5, title="Greatest gap difference at the studs", unit="mm", part="flats",
    source=cite("tilt-limit"), sentence="Above this difference the follower counts as tilted.", limits=(0.1, 2),
)  # fmt: skip
