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

cubic_density = assumption(
    "cubic_density", factor("g/cm**3", "kg/mm**3"), title="One gram per cubic centimetre", unit="kg/mm**3", part="units",
    source=cite("density"), sentence="Kilograms in a cubic millimetre at 1 g/cm3, for the densities on Materials.", limits=(1e-6, 1e-6),
)  # fmt: skip
metre = assumption(
    "metre", 1000.0, title="One metre", unit="mm", part="units", source=cite("definition"),
    sentence="Millimetres in a metre, for the mass of a metre of packing.", limits=(1000, 1000),
)  # fmt: skip

full_vacuum = assumption(
    "full_vacuum", -0.1014, title="Full vacuum", unit="MPa", part="limits", source=cite("vacuum"), measured_as="pressure",
    sentence="A gauge pressure below this is taken for a slip.", limits=(-0.11, 0),
)  # fmt: skip
largest_pressure = assumption(
    "largest_pressure", 100.0, title="Largest believable pressure", unit="MPa", part="limits", source=cite("believable"),
    measured_as="pressure", sentence="A pressure above this is taken for a slip, such as psi typed as bar.", limits=(1, 1000),
)  # fmt: skip
lowest_temperature = assumption(
    "lowest_temperature", -270.0, title="Lowest believable temperature", unit="degC", part="limits", source=cite("believable"),
    sentence="A temperature below this is taken for a slip.", limits=(-273.15, 0),
)  # fmt: skip
highest_temperature = assumption(
    "highest_temperature", 1000.0, title="Highest believable temperature", unit="degC", part="limits", source=cite("believable"),
    sentence="A temperature above this is taken for a slip.", limits=(100, 2000),
)  # fmt: skip
highest_ph = assumption(
    "highest_ph", 14.0, title="Highest believable pH", part="limits", source=cite("believable"),
    sentence="A pH above this is taken for a slip.", limits=(14, 14),
)  # fmt: skip
smallest_stress = assumption(
    "smallest_stress", 0.1, title="Smallest believable gland stress", unit="MPa", part="limits", source=cite("believable"),
    sentence="A gland stress below this is taken for a slip.", limits=(0.001, 1),
)  # fmt: skip
largest_stress = assumption(
    "largest_stress", 500.0, title="Largest believable gland stress", unit="MPa", part="limits", source=cite("believable"),
    sentence="A gland stress above this is taken for a slip.", limits=(50, 2000),
)  # fmt: skip
largest_factor = assumption(
    "largest_factor", 10.0, title="Largest believable pressure factor", part="limits", source=cite("believable"),
    sentence="A pressure factor above this is taken for a slip.", limits=(2, 20),
)  # fmt: skip
smallest_nut_factor = assumption(
    "smallest_nut_factor", 0.05, title="Smallest believable nut factor", part="limits", source=cite("believable"),
    sentence="A nut factor below this is taken for a slip.", limits=(0.01, 0.1),
)  # fmt: skip
largest_force = assumption(
    "largest_force", 1000000.0, title="Largest believable force", unit="N", part="limits", source=cite("believable"),
    sentence="A force above this is taken for a slip.", limits=(1000, 100000000),
)  # fmt: skip
largest_angle = assumption(
    "largest_angle", 45.0, title="Largest believable flank angle", unit="deg", part="limits", source=cite("believable"),
    sentence="Half of a thread angle above this is taken for a slip.", limits=(30, 60),
)  # fmt: skip

fluid_kind_usual = assumption(
    "fluid_kind_usual", "not stated", title="Kind of fluid, usual", part="material", source=cite("reading"),
    sentence="The kind of fluid where a valve names none.",
)  # fmt: skip
stem_motion_usual = assumption(
    "stem_motion_usual", "not stated", title="Motion of the stem, usual", part="material", source=cite("reading"),
    sentence="The motion of the stem where a valve names none.",
)  # fmt: skip
packing_state_usual = assumption(
    "packing_state_usual", "dry", title="State of the packing, usual", part="material", source=cite("practice"),
    sentence="Dry friction is the greater one: it is taken where a valve names none.",
)  # fmt: skip
gland_kind_usual = assumption(
    "gland_kind_usual", "studs", title="Kind of gland, usual", part="load", source=cite("practice"),
    sentence="The kind of gland where a valve names none.",
)  # fmt: skip
gland_nut_kind_usual = assumption(
    "gland_nut_kind_usual", "by thread", title="Kind of nut, usual", part="tools", source=cite("practice"),
    sentence="The kind of gland nut where a valve names none.",
)  # fmt: skip

inch_area_share = assumption(
    "inch_area_share", 0.9743, title="Share of the pitch, inch threads", part="load", source=cite("stress-area"),
    sentence="How many pitches the diameter of the tensile area is less than that of an inch thread.", limits=(0.9743, 0.9743),
)  # fmt: skip
metric_area_share = assumption(
    "metric_area_share", 0.9382, title="Share of the pitch, metric threads", part="load", source=cite("stress-area"),
    sentence="How many pitches the diameter of the tensile area is less than that of a metric thread.", limits=(0.9382, 0.9382),
)  # fmt: skip
pitch_diameter_share = assumption(
    "pitch_diameter_share", 0.649519, title="Pitch diameter, share of the pitch", part="load", source=cite("pitch-diameter"),
    sentence="How many pitches the pitch diameter is less than the outside diameter.", limits=(0.649519, 0.649519),
)  # fmt: skip
thread_flank_angle = assumption(
    "thread_flank_angle", 30.0, title="Flank angle of stud threads", unit="deg", part="load", source=cite("pitch-diameter"),
    sentence="Half of the 60 degrees of unified and metric threads.", limits=(30, 30),
)  # fmt: skip
hole_allowance = assumption(
    "hole_allowance", 1.5875, title="Hole over stud", unit="mm", part="load", source=cite("nut-bearing"),
    sentence="How much wider the hole under a gland nut is than the stud.", limits=(0, 6),
)  # fmt: skip
stud_tensile_share = assumption(
    "stud_tensile_share", 1 / 3, title="Share of the tensile strength", part="load", source=cite("stud-limit"),
    sentence="Gland studs may bear this share of their least tensile strength.", limits=(0.1, 0.6),
)  # fmt: skip
greatest_torque_gap = assumption(
    "greatest_torque_gap", 0.25, title="Greatest gap of the torque forms", part="load", source=cite("torque-gap"),
    sentence="Where long and short form differ by more than this share, a check speaks.", limits=(0.05, 1),
)  # fmt: skip
first_pass_share = assumption(
    "first_pass_share", 0.3, title="First pass", part="fitting", source=cite("passes"), sentence="Share of the torque in the first pass.",
    limits=(0.1, 0.5),
)  # fmt: skip
second_pass_share = assumption(
    "second_pass_share", 0.6, title="Second pass", part="fitting", source=cite("passes"),
    sentence="Share of the torque in the second pass.",
    limits=(0.4, 0.9),
)  # fmt: skip
retorque_strokes = assumption(
    "retorque_strokes", 5.0, title="Strokes before retorque", part="fitting", source=cite("retorque"),
    sentence="Full strokes of the stem after which the nuts are tightened to the torque again.", limits=(1, 20),
)  # fmt: skip
retorque_days = assumption(
    "retorque_days", 3.0, title="Days before the second retorque", part="fitting", source=cite("retorque"),
    sentence="Days in service after which the gland is looked at again.", limits=(1, 30),
)  # fmt: skip

least_bottom_share_usual = assumption(
    "least_bottom_share_usual", 0.5, title="Least bottom share, usual", part="stack", source=cite("bottom-share"),
    sentence="A further ring adds nothing where the bottom one feels less than this share of the gland stress.", limits=(0.05, 0.95),
)  # fmt: skip
least_pressure_ratio = assumption(
    "least_pressure_ratio", 1.0, title="Least ratio to the line pressure", part="stack", source=cite("bottom-pressure"),
    sentence="Where the bottom stress is less than this many times the line pressure, a check speaks.", limits=(0, 3),
)  # fmt: skip

stem_thread_friction_usual = assumption(
    "stem_thread_friction_usual", 0.15, title="Friction of the stem thread, usual", part="stem", source=cite("screw-friction"),
    sentence="Friction of the stem in its nut where a valve names none.", limits=(0.02, 0.5),
)  # fmt: skip
collar_friction_usual = assumption(
    "collar_friction_usual", 0.15, title="Friction of the thrust collar, usual", part="stem", source=cite("screw-friction"),
    sentence="Friction of the collar of the stem nut where a valve names none.", limits=(0.02, 0.5),
)  # fmt: skip
stem_thread_angle_usual = assumption(
    "stem_thread_angle_usual", 14.5, title="Flank angle of the stem thread, usual", unit="deg", part="stem", source=cite("screw-angle"),
    sentence="Half of the thread angle of an Acme thread; 15 for a trapezoidal, 0 for a square one.", limits=(0, 30),
)  # fmt: skip
stem_thread_starts_usual = assumption(
    "stem_thread_starts_usual", 1.0, title="Starts of the stem thread, usual", part="stem", source=cite("practice"),
    sentence="A stem thread has one start unless it is said to have more.", limits=(1, 6),
)  # fmt: skip
most_rim_pull_usual = assumption(
    "most_rim_pull_usual", 300.0, title="Greatest pull at the rim, usual", unit="N", part="stem", source=cite("rim-pull"),
    sentence="The pull at the rim of the handwheel that a person should need at most.", limits=(50, 1000),
)  # fmt: skip

bushing_box_clearance = assumption(
    "bushing_box_clearance", 1.0, title="Bushing under bore", unit="mm", part="tools", source=cite("bushing"),
    sentence="How much less than the bore the outside of a tamping bushing is.", limits=(0.1, 5),
)  # fmt: skip
bushing_stem_clearance = assumption(
    "bushing_stem_clearance", 1.0, title="Bushing over stem", unit="mm", part="tools", source=cite("bushing"),
    sentence="How much more than the stem the inside of a tamping bushing is.", limits=(0.1, 5),
)  # fmt: skip
tool_reach = assumption(
    "tool_reach", 30.0, title="Reach outside the box", unit="mm", part="tools", source=cite("bushing"),
    sentence="How far a bushing or a hook stands out of the box to be held.", limits=(10, 200),
)  # fmt: skip
hook_share = assumption(
    "hook_share", 0.5, title="Hook, share of the section", part="tools", source=cite("hook"),
    sentence="A packing hook is thinner than this share of the section.", limits=(0.2, 0.9),
)  # fmt: skip

first_date = assumption(
    "first_date", 36526.0, title="Earliest believable date", unit="date", part="limits", source=cite("believable"),
    sentence="A date before this is taken for a slip; dates are counted in days as a spreadsheet does (36526 is 2000-01-01).",
    limits=(1, 73050),
)  # fmt: skip
last_date = assumption(
    "last_date", 73050.0, title="Latest believable date", unit="date", part="limits", source=cite("believable"),
    sentence="A date after this is taken for a slip (73050 is 2099-12-31).", limits=(36526, 99999),
)  # fmt: skip
longest_days = assumption(
    "longest_days", 1000.0, title="Longest believable wait", unit="d", part="limits", source=cite("believable"),
    sentence="A number of days above this is taken for a slip.", limits=(100, 10000),
)  # fmt: skip
largest_amount = assumption(
    "largest_amount", 1000000.0, title="Largest believable amount", part="limits", source=cite("believable"),
    sentence="An amount or price above this is taken for a slip.", limits=(1000, 1000000000),
)  # fmt: skip
order_step = assumption(
    "order_step", 0.01, title="Fineness of sizes in the order", unit="mm", part="order", source=cite("order-practice"),
    sentence="Sizes that differ by less than this are ordered as one.", limits=(0.001, 0.5),
)  # fmt: skip
spare_share_usual = assumption(
    "spare_share_usual", 0.1, title="Spare share, usual", part="order", source=cite("order-practice"),
    sentence="What is ordered beyond what the valves need, where the outage states nothing.", limits=(0, 1),
)  # fmt: skip
days_before_start_usual = assumption(
    "days_before_start_usual", 14.0, title="Days before the start, usual", unit="d", part="order", source=cite("order-practice"),
    sentence="How long before the start everything must be on site, where the outage states nothing.", limits=(0, 200),
)  # fmt: skip
lead_days_usual = assumption(
    "lead_days_usual", 28.0, title="Lead time, usual", unit="d", part="order", source=cite("order-practice"),
    sentence="Days from order to delivery, where neither Stores nor the outage states any.", limits=(0, 400),
)  # fmt: skip
spool_length_usual = assumption(
    "spool_length_usual", 8000.0, title="Spool, usual", unit="mm", part="order", source=cite("order-practice"), measured_as="spool",
    sentence="Length of braid on a spool or in a coil, where Stores states none.", limits=(500, 200000),
)  # fmt: skip
container_mass_usual = assumption(
    "container_mass_usual", 1.0, title="Container of loose packing, usual", unit="kg", part="order", source=cite("order-practice"),
    sentence="Mass of loose packing in a container, where Stores states none.", limits=(0.1, 50),
)  # fmt: skip

most_people = assumption(
    "most_people", 200.0, title="Largest believable number of people", part="limits", source=cite("believable"),
    sentence="A number of people above this is taken for a slip.", limits=(10, 1000),
)  # fmt: skip
most_shifts = assumption(
    "most_shifts", 3.0, title="Most shifts in a day", part="limits", source=cite("believable"),
    sentence="A number of shifts above this is taken for a slip.", limits=(1, 4),
)  # fmt: skip
longest_shift = assumption(
    "longest_shift", 16.0, title="Longest believable shift", unit="h", part="limits", source=cite("believable"),
    sentence="A shift above this is taken for a slip.", limits=(8, 24),
)  # fmt: skip
longest_job = assumption(
    "longest_job", 500.0, title="Longest believable job", unit="h", part="limits", source=cite("believable"),
    sentence="Man-hours of one valve above this are taken for a slip.", limits=(10, 5000),
)  # fmt: skip
longest_outage = assumption(
    "longest_outage", 60.0, title="Longest outage", unit="d", part="limits", source=cite("believable"),
    sentence="A day or a number of days above this is taken for a slip.", limits=(1, 60),
)  # fmt: skip
most_crews = assumption(
    "most_crews", 6.0, title="Most crews", part="labour", source=cite("labour-plan"),
    sentence="The kit list counts tools for this many crews at most.", limits=(1, 6),
)  # fmt: skip
people_usual = assumption(
    "people_usual", 4.0, title="People at the glands, usual", part="labour", source=cite("labour-practice"),
    sentence="How many people work at the glands in each shift, where the outage states nothing.", limits=(1, 200),
)  # fmt: skip
crew_size_usual = assumption(
    "crew_size_usual", 2.0, title="People of a crew, usual", part="labour", source=cite("labour-practice"),
    sentence="How many people work together at one valve, where the outage states nothing.", limits=(1, 10),
)  # fmt: skip
shifts_usual = assumption(
    "shifts_usual", 1.0, title="Shifts in a day, usual", part="labour", source=cite("labour-practice"),
    sentence="How many shifts a day has, where the outage states nothing.", limits=(1, 4),
)  # fmt: skip
shift_hours_usual = assumption(
    "shift_hours_usual", 10.0, title="Hours of a shift, usual", unit="h", part="labour", source=cite("labour-practice"),
    sentence="How long a shift is, where the outage states nothing.", limits=(1, 24),
)  # fmt: skip
productive_share = assumption(
    "productive_share", 0.75, title="Productive share", part="labour", source=cite("labour-practice"),
    sentence="Share of a shift that is work at the glands: the rest goes on permits, ways and breaks.", limits=(0.1, 1),
)  # fmt: skip
outage_days_usual = assumption(
    "outage_days_usual", 10.0, title="Days of the outage, usual", unit="d", part="labour", source=cite("labour-practice"),
    sentence="How many days the outage has, where none are stated.", limits=(1, 60),
)  # fmt: skip
critical_usual = assumption(
    "critical_usual", "no", title="Critical, usual", part="labour", source=cite("labour-practice"),
    sentence="Whether a job holds up the end of the outage, where a valve says nothing.",
)  # fmt: skip
tool_step = assumption(
    "tool_step", 50.0, title="Fineness of tool lengths", unit="mm", part="kit", source=cite("kit-practice"),
    sentence="Hooks and tamping bushings are rounded up to a multiple of this length.", limits=(1, 200),
)  # fmt: skip
hook_thickness_step = assumption(
    "hook_thickness_step", 1.0, title="Fineness of hooks", unit="mm", part="kit", source=cite("kit-practice"),
    sentence="The thickness of a hook is rounded down to a multiple of this.", limits=(0.1, 5),
)  # fmt: skip

log_event_usual = assumption(
    "log_event_usual", "read", title="Event, usual", part="log", source=cite("practice"),
    sentence="What was done at the gland where a row of the log names nothing.",
)  # fmt: skip
log_torque_limit_usual = assumption(
    "log_torque_limit_usual", "no", title="Nuts at their torque limit, usual", part="log", source=cite("practice"),
    sentence="What is taken where a row of the log says nothing of the torque limit.",
)  # fmt: skip
largest_flats = assumption(
    "largest_flats", 60.0, title="Largest believable number of flats", part="limits", source=cite("believable"),
    sentence="More flats than this in one adjustment are taken for a slip.", limits=(6, 600),
)  # fmt: skip
largest_leak = assumption(
    "largest_leak", 1000000.0, title="Largest leak reading", part="limits", source=cite("arithmetic"),
    sentence="A part is at most a million parts per million.", limits=(1000000, 1000000),
)  # fmt: skip
greatest_gap_growth = assumption(
    "greatest_gap_growth", 0.3, title="Greatest growth of a gap", unit="mm", part="log", source=cite("gap-growth"),
    sentence="A gap that grows by more than this without a repack is named by a check; less is taken for the reading.", limits=(0, 5),
)  # fmt: skip
day_base = assumption(
    "day_base", 100000.0, title="Days in a code of the log", part="log", source=cite("sorted-log"),
    sentence="What a valve's number is multiplied by before the day is added, so that rows sort by valve and day.", limits=(100000, 100000),
)  # fmt: skip
row_base = assumption(
    "row_base", 10000.0, title="Rows in a code of the log", part="log", source=cite("sorted-log"),
    sentence="What the day is multiplied by before the row is added: the log may have fewer rows than this.", limits=(10000, 10000),
)  # fmt: skip
leak_limit_usual = assumption(
    "leak_limit_usual", "no detectable emission, 500 ppm", title="Leak limit, usual", part="follow-up", source=cite("leak-limit-usual"),
    sentence="The rule for leaks where the site chooses none.",
)  # fmt: skip
confidence_usual = assumption(
    "confidence_usual", "90 percent", title="Confidence of the range, usual", part="follow-up", source=cite("forecast-practice"),
    sentence="The confidence of the range of a forecast where the site chooses none.",
)  # fmt: skip
least_readings = assumption(
    "least_readings", 3.0, title="Least readings for a forecast", part="follow-up", source=cite("forecast-practice"),
    sentence="From fewer readings since the last repack nothing is foretold.", limits=(3, 20),
)  # fmt: skip
least_reading_spread = assumption(
    "least_reading_spread", 0.1, title="Least scatter of gap readings", unit="mm", part="follow-up", source=cite("reading-spread"),
    sentence="Readings that lie on a line more closely than this are taken to do so by chance.", limits=(0, 1),
)  # fmt: skip
days_per_year = assumption(
    "days_per_year", 365.25, title="Days in a year", unit="d", part="units", source=cite("calendar"),
    sentence="Days in a mean year, for the loss of gap in a year.", limits=(365, 366),
)  # fmt: skip

valve_actuated_usual = assumption(
    "valve_actuated_usual", "no", title="Valve has an actuator, usual", part="lift", source=cite("practice"),
    sentence="Whether a valve has an actuator where its row says nothing.",
)  # fmt: skip
steel_density = assumption(
    "steel_density", 7.85e-6, title="Density of steel", unit="kg/mm**3", part="lift", source=cite("steel-density"),
    sentence="Mass of a cubic millimetre of steel, for the estimate of a valve's mass.", limits=(7e-6, 8.5e-6),
)  # fmt: skip
mass_estimate_share = assumption(
    "mass_estimate_share", 0.53, title="Steel in the cube of the flange", part="lift", source=cite("mass-estimate"),
    sentence="Share of a cube as wide as the flange that the steel of a bare flanged gate valve would fill.", limits=(0.1, 2),
)  # fmt: skip
mass_estimate_low_share = assumption(
    "mass_estimate_low_share", 0.5, title="Mass estimate, low end", part="lift", source=cite("mass-estimate"),
    sentence="A light valve may weigh this many times the estimate.", limits=(0.1, 1),
)  # fmt: skip
mass_estimate_high_share = assumption(
    "mass_estimate_high_share", 2.0, title="Mass estimate, high end", part="lift", source=cite("mass-estimate"),
    sentence="A heavy valve may weigh this many times the estimate.", limits=(1, 5),
)  # fmt: skip
smallest_mass = assumption(
    "smallest_mass", 0.1, title="Smallest believable mass to lift", unit="kg", part="limits", source=cite("believable"),
    sentence="The mass of a valve or the capacity of a sling leg below this is taken for a slip.", limits=(0.01, 5),
)  # fmt: skip
largest_mass = assumption(
    "largest_mass", 20000.0, title="Largest believable mass to lift", unit="kg", part="limits", source=cite("believable"),
    sentence="The mass of a valve or the capacity of a sling leg above this is taken for a slip.", limits=(1000, 1000000),
)  # fmt: skip
largest_sling_legs = assumption(
    "largest_sling_legs", 4.0, title="Most legs of a sling", part="limits", source=cite("believable"),
    sentence="A number of sling legs above this is taken for a slip.", limits=(1, 4),
)  # fmt: skip
smallest_sling_length = assumption(
    "smallest_sling_length", 50.0, title="Smallest believable sling length", unit="mm", part="limits", source=cite("believable"),
    sentence="A sling leg or a height of the hook below this is taken for a slip.", limits=(1, 500),
)  # fmt: skip
largest_sling_length = assumption(
    "largest_sling_length", 20000.0, title="Largest believable sling length", unit="mm", part="limits", source=cite("believable"),
    sentence="A sling leg or a height of the hook above this is taken for a slip.", limits=(1000, 100000),
)  # fmt: skip
smallest_sling_angle = assumption(
    "smallest_sling_angle", 1.0, title="Smallest believable sling angle", unit="deg", part="limits", source=cite("believable"),
    sentence="A sling angle below this is taken for a slip.", limits=(0.1, 30),
)  # fmt: skip
largest_sling_angle = assumption(
    "largest_sling_angle", 90.0, title="Upright sling leg", unit="deg", part="lift", source=cite("definition"),
    sentence="The angle of an upright leg from the horizontal: no leg has a greater one.", limits=(90, 90),
)  # fmt: skip
rigid_legs = assumption(
    "rigid_legs", 2.0, title="Legs that bear a rigid load", part="lift", source=cite("rigid-legs"),
    sentence="Of three or four legs on a rigid load this many are taken to bear it.", limits=(2, 3),
)  # fmt: skip
least_sling_angle = assumption(
    "least_sling_angle", 30.0, title="Least sling angle", unit="deg", part="lift", source=cite("sling-angle"),
    sentence="Flatter legs are refused: no load of a leg is given.", limits=(30, 60),
)  # fmt: skip
warn_sling_angle = assumption(
    "warn_sling_angle", 45.0, title="Sling angle warned of", unit="deg", part="lift", source=cite("sling-angle-warned"),
    sentence="Below this angle a check speaks, though the load of a leg is given.", limits=(30, 75),
)  # fmt: skip
sling_angle_gap = assumption(
    "sling_angle_gap", 3.0, title="Greatest gap of the sling angles", unit="deg", part="lift", source=cite("sling-angle-gap"),
    sentence="Where the angle used differs by more than this from that of leg length and hook height, a check speaks.", limits=(0.5, 15),
)  # fmt: skip
actuated_handling_more = assumption(
    "actuated_handling_more", 1.25, title="More handling with an actuator", part="removal", source=cite("actuated-handling"),
    sentence="What a motor or diaphragm adds to the man-hours of handling a valve, as a share of them.", limits=(0, 5),
)  # fmt: skip
removal_share = assumption(
    "removal_share", 0.65, title="Taking out, share of new installation", part="removal", source=cite("removal-share"),
    sentence="Man-hours of taking a valve out over those of a new installation: half to four fifths.", limits=(0.1, 2),
)  # fmt: skip
flange_offset_most = assumption(
    "flange_offset_most", 1.5, title="Greatest offset of flanges", unit="mm", part="flange", source=cite("flange-alignment"),
    sentence="How far the outsides of the two flanges of a joint may be off each other before it is bolted up.", limits=(0.1, 5),
)  # fmt: skip
flange_uneven_most = assumption(
    "flange_uneven_most", 0.8, title="Greatest unevenness of the flange gap", unit="mm", part="flange", source=cite("flange-alignment"),
    sentence="By how much the gap between the flanges may differ around the joint before it is bolted up.", limits=(0.1, 5),
)  # fmt: skip
flange_holes_most = assumption(
    "flange_holes_most", 3.0, title="Greatest offset of bolt holes", unit="mm", part="flange", source=cite("flange-alignment"),
    sentence="How far the holes of the two flanges of a joint may be off each other before it is bolted up.", limits=(0.1, 10),
)  # fmt: skip

comes_out_usual = assumption(
    "comes_out_usual", "no", title="Flanged valve comes out, usual", part="flange", source=cite("practice"),
    sentence="Whether a valve comes out of the line where its row says nothing.",
)  # fmt: skip
largest_class = assumption(
    "largest_class", 2500.0, title="Largest believable flange class", part="limits", source=cite("believable"),
    sentence="A flange class above this is taken for a slip: it is the greatest that flanges are made in.", limits=(900, 10000),
)  # fmt: skip
flange_joint_count_usual = assumption(
    "flange_joint_count_usual", 2.0, title="Flange joints, usual", part="flange", source=cite("practice"),
    sentence="How many flange joints are opened where a valve says nothing: one at each end.", limits=(1, 4),
)  # fmt: skip
largest_joint_count = assumption(
    "largest_joint_count", 4.0, title="Most flange joints of a valve", part="limits", source=cite("believable"),
    sentence="A number of flange joints above this is taken for a slip.", limits=(2, 10),
)  # fmt: skip
flange_facing_usual = assumption(
    "flange_facing_usual", "not stated", title="Facing of the flanges, usual", part="flange", source=cite("reading"),
    sentence="The facing of the flanges where a valve names none.",
)  # fmt: skip
flange_material_usual = assumption(
    "flange_material_usual", "not stated", title="Material of the flanges, usual", part="flange", source=cite("reading"),
    sentence="The material of the flanges where a valve names none.",
)  # fmt: skip
flange_studs_renewed_usual = assumption(
    "flange_studs_renewed_usual", "no", title="New flange studs, usual", part="flange", source=cite("practice"),
    sentence="Whether flange studs are replaced where a valve says nothing.",
)  # fmt: skip
flange_stress_most = assumption(
    "flange_stress_most", 345.0, title="Greatest usual flange bolt stress", unit="MPa", part="flange", source=cite("flange-stress"),
    sentence="Without a stress of its own a valve gets no more than this, however strong its flange bolts.", limits=(100, 600),
)  # fmt: skip
flange_yield_share_usual = assumption(
    "flange_yield_share_usual", 0.5, title="Flange bolt stress, share of the yield", part="flange", source=cite("flange-stress"),
    sentence="Without a stress of its own a valve gets no more than this share of the yield of its flange bolts.", limits=(0.2, 0.8),
)  # fmt: skip
smallest_bolt_stress = assumption(
    "smallest_bolt_stress", 10.0, title="Smallest believable flange bolt stress", unit="MPa", part="limits", source=cite("believable"),
    sentence="A flange bolt stress below this is taken for a slip, such as thousands of psi typed as psi.", limits=(1, 50),
)  # fmt: skip
largest_bolt_stress = assumption(
    "largest_bolt_stress", 1000.0, title="Largest believable flange bolt stress", unit="MPa", part="limits", source=cite("believable"),
    sentence="A flange bolt stress above this is taken for a slip, such as psi typed as MPa.", limits=(300, 2000),
)  # fmt: skip
flange_first_share = assumption(
    "flange_first_share", 0.3, title="First pass on flange bolts", part="flange", source=cite("passes"),
    sentence="Share of the flange bolt torque in the first pass.", limits=(0.1, 0.5),
)  # fmt: skip
flange_second_share = assumption(
    "flange_second_share", 0.6, title="Second pass on flange bolts", part="flange", source=cite("passes"),
    sentence="Share of the flange bolt torque in the second pass.", limits=(0.4, 0.9),
)  # fmt: skip
gasket_width_limit = assumption(
    "gasket_width_limit", 6.35, title="Narrow flange gasket", unit="mm", part="flange", source=cite("flange-width"),
    sentence="Up to this basic width a flange gasket is taken to seal over all of it.", limits=(6, 7),
)  # fmt: skip
gasket_width_factor = assumption(
    "gasket_width_factor", 2.52, title="Width factor of wide flange gaskets", part="flange", source=cite("flange-width"),
    sentence="A wide flange gasket is taken to seal over this many times the root of its basic width, both in mm.", limits=(2.5, 2.53),
)  # fmt: skip
