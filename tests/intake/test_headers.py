"""Facts about the understanding of headers."""

from __future__ import annotations

import pytest

from sheetcalc.declare.quantity import get
from sheetcalc.intake import entries, headers, phrases

STEM, BORE = "stem_diameter_entered", "box_bore_entered"


@pytest.mark.parametrize(
    ("text", "entry", "unit"),
    [
        ("Stem dia. [mm]", "stem_diameter_entered", "mm"),
        ("Stem Ø (in)", "stem_diameter_entered", "in"),
        ("STEM DIAMETER, mm", "stem_diameter_entered", "mm"),
        ("Stem\ndia (mm)", "stem_diameter_entered", "mm"),
        ("diameter of the stem", "stem_diameter_entered", ""),
        ("StemDia", "stem_diameter_entered", ""),
        ("stem_diameter", "stem_diameter_entered", ""),
        ('Stem "', "stem_diameter_entered", "in"),
        ("Diamètre tige", "stem_diameter_entered", ""),
        ("Spindeldurchmesser (mm)", "stem_diameter_entered", "mm"),
        ("Bore", "box_bore_entered", ""),
        ("Stuffing box ID", "box_bore_entered", ""),
        ("Box depth (as found), mm", "box_depth_entered", "mm"),
        ("Depth in mm", "box_depth_entered", "mm"),
        ("Depth in", "box_depth_entered", "in"),
        ("Gland nose", "nose_length_entered", ""),
        ("Follower length", "nose_length_entered", ""),
        ("Studs", "gland_stud_thread", ""),
        ("Stud Ø", "gland_stud_thread", ""),
        ("No. of rings (maker)", "maker_ring_count_entered", ""),
        ("Maker's rings", "maker_ring_count_entered", ""),
        ("Unit", "unit_set", ""),
        ("Units (mm/in)", "unit_set", ""),
        ("mm/in", "unit_set", ""),
        ("Tag #", "tag", ""),
        ("Valve No.", "tag", ""),
        ("Gap 1 (mm)", "gap_reading_1_entered", "mm"),
        ("Stud centres", "stud_spacing_entered", ""),
        ("Stem (mm/in)", "stem_diameter_entered", ""),
        ("Valve location", "place", ""),
        ("P&ID position", "place", ""),
        ("Process fluid", "fluid", ""),
        ("Medium", "fluid", ""),
        ("Block valves", "isolation_points", ""),
        ("Lock-out points", "isolation_points", ""),
        ("Fluid class", "fluid_kind_entered", ""),
        ("Stem type", "stem_motion_entered", ""),
        ("New packing", "packing_material", ""),
        ("Packing", "packing_material", ""),
        ("Material of packing", "packing_material", ""),
        ("Lubrication of packing", "packing_state_entered", ""),
        ("Gland type", "gland_kind_entered", ""),
        ("Bolt grade", "gland_stud_grade", ""),
        ("Stud material", "gland_stud_grade", ""),
        ("Grease on studs", "stud_lubricant", ""),
        ("Thread lube", "stud_lubricant", ""),
        ("Nut kind", "gland_nut_kind_entered", ""),
        ("Hexagon", "gland_nut_kind_entered", ""),
        ("Press.", "line_pressure_entered", ""),
        ("Op. press. [barg]", "line_pressure_entered", "bar"),
        ("Pressure, bar(g)", "line_pressure_entered", "bar"),
        ("Pressure [bar (g)]", "line_pressure_entered", "bar"),
        ("Design pressure (psig)", "line_pressure_entered", "psi"),
        ("Pressure kg/cm²", "line_pressure_entered", "kgf/cm^2"),
        ("pressure_kPa", "line_pressure_entered", "kPa"),
        ("Pressure (bar/psi)", "line_pressure_entered", ""),
        ("Temp °C", "fluid_temperature_entered", "degC"),
        ("Temp (deg F)", "fluid_temperature_entered", "degF"),
        ("Operating temp., K", "fluid_temperature_entered", "K"),
        ("fluid_temp_c", "fluid_temperature_entered", "degC"),
        ("Temperature in °C", "fluid_temperature_entered", "degC"),
        ("Min gland stress (N/mm²)", "least_gland_stress_entered", "MPa"),
        ("Max. gland stress ksi", "most_gland_stress_entered", "ksi"),
        ("Greatest pull at the handwheel rim, N", "most_rim_pull_entered", "N"),
        ("Stem thrust stated (kN)", "stem_thrust_entered", "kN"),
        ("Free thread on bolts", "stud_thread_left_entered", ""),
        ("Stem thread Ø (mm)", "stem_thread_diameter_entered", "mm"),
        ("Stem thread pitch", "stem_thread_pitch_entered", ""),
        ("Thrust collar dia", "collar_diameter_entered", ""),
        ("Hand wheel radius [in]", "handwheel_radius_entered", "in"),
        ("No of studs", "gland_stud_count_entered", ""),
        ("Number of gland bolts", "gland_stud_count_entered", ""),
        ("Gland stud size", "gland_stud_thread", ""),
        ("Gland stud size (mm)", "gland_stud_thread", ""),
        ("Thread starts", "stem_thread_starts_entered", ""),
        ("Friction on stem", "stem_friction_factor_entered", ""),
        ("Coefficient of friction, box", "box_friction_factor_entered", ""),
        ("Stem thread friction", "stem_thread_friction_entered", ""),
        ("Nut factor K", "nut_factor_entered", ""),
        ("Nut factor (K)", "nut_factor_entered", ""),
        ("Bottom share", "least_bottom_share_entered", ""),
        ("pH value", "fluid_ph_entered", ""),
        ("Flank angle (°)", "stem_thread_angle_entered", "deg"),
        ("Functional location", "tag", ""),
        ("Packing type", "packing_form_entered", ""),
        ("Packing depth", "box_depth_entered", ""),
        ("Packing make-up", "packing_form_entered", ""),
        ("Packing rings", "preferred_ring_count_entered", ""),
        ("Braided end rings", "end_ring_count_entered", ""),
        ("End rings", "end_ring_count_entered", ""),
        ("No. of end rings", "end_ring_count_entered", ""),
        ("Gasket", "gasket", ""),
        ("Gasket size (mm)", "gasket", ""),
        ("Bonnet gasket type", "gasket", ""),
        ("Gaskets", "gasket_count_entered", ""),
        ("No of gaskets", "gasket_count_entered", ""),
        ("Qty gaskets", "gasket_count_entered", ""),
        ("New studs", "new_studs_entered", ""),
        ("New gland bolts", "new_studs_entered", ""),
        ("Studs to renew", "new_studs_entered", ""),
        ("Renew studs", "new_studs_entered", ""),
        ("Replacement bolts", "new_studs_entered", ""),
        ("Critical", "critical_entered", ""),
        ("Critical (Y/N)", "critical_entered", ""),
        ("On critical path?", "critical_entered", ""),
        ("Hours", "job_hours_stated_entered", ""),
        ("Hours (h)", "job_hours_stated_entered", "h"),
        ("Man-hours", "job_hours_stated_entered", ""),
        ("Est. hrs", "job_hours_stated_entered", ""),
        ("Estimated man-hours [h]", "job_hours_stated_entered", "h"),
        ("Labor hours", "job_hours_stated_entered", ""),
        ("Crew", "crew_number_entered", ""),
        ("Crew no.", "crew_number_entered", ""),
        ("Number of the crew", "crew_number_entered", ""),
        ("Team", "crew_number_entered", ""),
        ("Gang #", "crew_number_entered", ""),
        ("Day", "job_day_entered", ""),
        ("Job day", "job_day_entered", ""),
        ("Planned day", "job_day_entered", ""),
        ("Day of outage", "job_day_entered", ""),
        ("Comes out?", "comes_out_entered", ""),
        ("To be removed", "comes_out_entered", ""),
        ("Remove from line", "comes_out_entered", ""),
        ("Off-line overhaul", "comes_out_entered", ""),
        ("Flange size", "flange_size", ""),
        ("Flange NPS", "flange_size", ""),
        ("Flg. size [in]", "flange_size", ""),
        ("Line size", "flange_size", ""),
        ("Pipe size (mm)", "flange_size", ""),
        ("Valve size", "flange_size", ""),
        ("Nominal size", "flange_size", ""),
        ("Nom. pipe size", "flange_size", ""),
        ("NPS", "flange_size", ""),
        ("DN", "flange_size", ""),
        ("DN (mm)", "flange_size", ""),
        ("Size (DN)", "flange_size", ""),
        ("DN/NPS", "flange_size", ""),
        ("Flange class", "flange_class_entered", ""),
        ("Flange rating", "flange_class_entered", ""),
        ("ANSI class", "flange_class_entered", ""),
        ("Pressure class", "flange_class_entered", ""),
        ("Rating", "flange_class_entered", ""),
        ("Rating (#)", "flange_class_entered", ""),
        ("Class (lb)", "flange_class_entered", ""),
        ("Class", "flange_class_entered", ""),
        ("No. of flanges", "flange_joint_count_entered", ""),
        ("Number of flanged joints", "flange_joint_count_entered", ""),
        ("Facing", "flange_facing_entered", ""),
        ("Flange face", "flange_facing_entered", ""),
        ("Flange matl.", "flange_material_entered", ""),
        ("Flange gasket type", "gasket_kind", ""),
        ("Kind of gasket", "gasket_kind", ""),
        ("Gasket type", "gasket", ""),
        ("Flange bolt grade", "flange_bolt_grade", ""),
        ("Flange stud material", "flange_bolt_grade", ""),
        ("Flange bolt lube", "flange_lubricant", ""),
        ("Grease on flange studs", "flange_lubricant", ""),
        ("Flange studs new", "flange_studs_renewed_entered", ""),
        ("New flange bolts", "flange_studs_renewed_entered", ""),
        ("Flange bolt stress (MPa)", "flange_bolt_stress_entered", "MPa"),
        ("Target bolt stress, ksi", "flange_bolt_stress_entered", "ksi"),
        ("Flange nut factor K", "flange_nut_factor_entered", ""),
        ("Actuator", "valve_actuated_entered", ""),
        ("Actuated (Y/N)", "valve_actuated_entered", ""),
        ("Valve weight", "valve_mass_entered", ""),
        ("Weight (kg)", "valve_mass_entered", "kg"),
        ("Weight [lbs]", "valve_mass_entered", "lb"),
        ("WT kg", "valve_mass_entered", "kg"),
        ("Wt. (kg)", "valve_mass_entered", "kg"),
        ("Mass, t", "valve_mass_entered", "t"),
        ("Sling legs", "sling_legs_entered", ""),
        ("No. of legs", "sling_legs_entered", ""),
        ("Sling angle", "sling_angle_entered", ""),
        ("Sling angle from horizontal (°)", "sling_angle_entered", "deg"),
        ("Leg length (m)", "leg_length_entered", "m"),
        ("Hook height, ft", "hook_height_entered", "ft"),
        ("Sling capacity (t)", "leg_capacity_entered", "t"),
        ("SWL of a leg", "leg_capacity_entered", ""),
        ("WLL per leg (lb)", "leg_capacity_entered", "lb"),
        ("Rim pull (kg)", "most_rim_pull_entered", "kgf"),
    ],
)
def test_trade_words(text: str, entry: str, unit: str) -> None:
    """A header in the words of the trade is understood, and its unit is taken from it."""
    header = headers.understand(text)
    assert (entry, unit) == (header.entry, header.unit)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "No.",
        "Size",
        "Size (mm)",
        "Nominal bore",
        "Stem packing",
        "Stem length",
        "Kind",
        "Handwheel",
        "Handwheel dia",
        "Handwheel Ø (mm)",
        "Hand wheel diameter",
        "Stem thread",
        "Stem thread angle",
        "Thread angle (°)",
        "Body material",
        "Test pressure",
        "Min. temperature",
        "Ambient temp (°C)",
        "Friction factor",
        "Nut size",
        "Packing lubricant",
        "Stem (ells)",
        "Crew size",
        "No of crew",
        "Crew/day",
        "Days",
        "Planned date",
        "Duration (h)",
        "Running hours",
        "Actual man-hours",
        "H",
        "Criticality",
        "End ring size",
        "End rings (mm)",
        "New studs (mm)",
        "New stud grade",
        "Type",
        "Line class",
        "PN",
        "WT",
        "WT (mm)",
        "Weight (tons)",
        "Operator",
        "Flange",
        "Flange bolt size",
        "Flange gasket size",
        "Gasket material",
        "Sling angle from vertical",
        "Angle between legs",
        "SWL",
        "Joints",
        "stem " * 100_000,
    ],
)
def test_other_words(text: str) -> None:
    """A header that only sounds like a measurement is not taken for one."""
    assert headers.understand(text).entry == ""


@pytest.mark.parametrize(
    "text",
    [
        "Stem (bar)",
        "Pressure (mm)",
        "Pressure (bara)",
        "Pressure, psia",
        "Temp (bar)",
        "Thrust (MPa)",
        "Waste (mm)",
        "Man-hours (mm)",
        "Stem (h)",
        "pH (°C)",
        "Pressure (%)",
        "Weight (mm)",
        "Weight (kN)",
        "Hook height (kg)",
        "Flange bolt stress (kg)",
        "Sling angle (mm)",
        "Rating (bar)",
    ],
)
def test_unit_that_cannot_be(text: str) -> None:
    """A header with a unit that its measurement cannot have, or an absolute pressure, is not understood."""
    header = headers.understand(text)
    assert (header.entry, header.unit) == ("", "")


@pytest.mark.parametrize("name", entries.PLAN_COLUMNS + entries.FLANGE_COLUMNS)
def test_titles_of_the_workbook_head_themselves(name: str) -> None:
    """What the workbook itself calls a column of the plan, the flanges or the lift is understood, so that it can be read again."""
    assert headers.understand(get(name).title.removesuffix(", entered")).entry == name


@pytest.mark.parametrize("name", entries.ENTRY_COLUMNS)
def test_entry_names_head_themselves(name: str) -> None:
    """Each entry is understood under its own name, with and without the ending."""
    found = {headers.understand(name).entry, headers.understand(name.removesuffix("_entered").replace("_", " ")).entry}
    # A "stem thread angle" may be the whole angle between the flanks as well as half of it.
    # What is called a flange rating in lists is the class.
    also = {"stem_thread_angle_entered": {""}, "flange_rating_entered": {"flange_class_entered"}}
    expected = {name} | also.get(name, set())
    assert expected == found


@pytest.mark.parametrize(
    ("text", "entries", "unit"),
    [
        ("Stem/bore", (STEM, BORE), ""),
        ("Stem / Bore (mm)", (STEM, BORE), "mm"),
        ("Bore x stem [in]", (BORE, STEM), "in"),
        ("Stem dia & box bore", (STEM, BORE), ""),
        ("Stem/box", (STEM, BORE), ""),
        ("Bore/depth, mm", (BORE, "box_depth_entered"), "mm"),
        ("Gap 1 / Gap 2", ("gap_reading_1_entered", "gap_reading_2_entered"), ""),
        ("Stem/rod diameter", ("", ""), ""),
        ("Stem/Tag", ("", ""), ""),
        ("Stem (mm/in)", (STEM, ""), ""),
        ("Stem/bore (bar)", ("", ""), ""),
    ],
)
def test_headers_of_two(text: str, entries: tuple[str, str], unit: str) -> None:
    """A header of two different lengths heads both, in its order; anything else with a stroke is no such header."""
    header = headers.understand(text)
    assert (*entries, unit) == (header.entry, header.second, header.unit)


@pytest.mark.parametrize(
    ("text", "entry"),
    [
        ("Stem diamter", STEM),
        ("Stuffing box boree", ""),
        ("Box deapth (mm)", "box_depth_entered"),
        ("Nose lenght", "nose_length_entered"),
        ("Gland stud thred", "gland_stud_thread"),
        ("Steam", ""),
        ("Parking", ""),
        ("Stem strength", ""),
        ("Valve height", ""),
        ("Flange facng", "flange_facing_entered"),
        ("Line sise", ""),
    ],
)
def test_slips(text: str, entry: str) -> None:
    """A longer word with a slip or two is put right and the header is called misspelt; another word is not bent into one."""
    header = headers.understand(text)
    assert (entry, bool(entry)) == (header.entry, header.misspelt)
    assert header.sure == ("weak" if entry else "unknown")


def test_a_map_goes_before_the_words() -> None:
    """What the user says of a header holds, whatever its case and spaces, with the unit that stands in it; the others stay."""
    mapped = {headers.fold("  THE  size (mm)"): STEM, headers.fold("Bore"): entries.CARRY}
    found = headers.understand_row(["Tag", "the size (mm)", "Bore", "Depth"], mapped)
    assert [(one.entry, one.unit, one.sure) for one in found] == [
        ("tag", "", "plain"),
        (STEM, "mm", "mapped"),
        ("", "", "mapped"),
        ("box_depth_entered", "", "plain"),
    ]


def test_phrases_mean_one_thing() -> None:
    """No phrase of one entry is a phrase of another, plain or weak, and each heads its own entry."""
    said = [(phrase, entry) for entry, ranks in phrases.PHRASES.items() for texts in ranks.values() for phrase in texts]
    words = {frozenset(phrases.words_of(phrase)) - phrases.EMPTY_WORDS: entry for phrase, entry in said}
    assert [
        (phrase, entry)
        for phrase, entry in said
        if headers.understand(phrase).entry != entry or words[frozenset(phrases.words_of(phrase)) - phrases.EMPTY_WORDS] != entry
    ] == []


@pytest.mark.parametrize("text", ["Set compression (%)", "Set compression, %", "Set compression in %"])
def test_per_cent_in_a_header(text: str) -> None:
    """A header can ask for per cent."""
    header = headers.understand(text)
    expected = ("set_compression_entered", True)
    assert expected == (header.entry, header.percent)


def test_weak_words_give_way() -> None:
    """The word Valve is the tag only where no plainer header is."""
    alone = [header.entry for header in headers.understand_row(["Valve", "Stem"])]
    beside = [header.entry for header in headers.understand_row(["Valve", "Tag", "Stem"])]
    expected = (["tag", "stem_diameter_entered"], ["", "tag", "stem_diameter_entered"])
    assert expected == (alone, beside)


@pytest.mark.parametrize(
    ("cells", "entries"),
    [
        (["Material", "Packing", "Packing material"], ["", "", "packing_material"]),
        (["Material", "Packing"], ["", "packing_material"]),
        (["Material", "Grade"], ["packing_material", "gland_stud_grade"]),
        (["Pressure", "Design pressure"], ["", "line_pressure_entered"]),
        (["Design pressure", "Operating pressure"], ["line_pressure_entered"] * 2),
        (["Service", "Medium"], ["", "fluid"]),
        (["Area", "Building", "Position", "Tag"], ["", "place", "", "tag"]),
        (["Lubricant", "Thread lubricant"], ["", "stud_lubricant"]),
        (["Studs", "No of studs", "Stud grade"], ["gland_stud_thread", "gland_stud_count_entered", "gland_stud_grade"]),
        (["Stem dia", "Stem thread dia"], ["stem_diameter_entered", "stem_thread_diameter_entered"]),
        (["Thread", "Thread pitch"], ["gland_stud_thread", "stem_thread_pitch_entered"]),
        (["Rim pull (N)", "Handwheel dia (mm)"], ["most_rim_pull_entered", ""]),
        (
            ["Stud", "Studs to renew", "Gland stud count", "Rings"],
            ["gland_stud_thread", "new_studs_entered", "gland_stud_count_entered", "preferred_ring_count_entered"],
        ),
        (["Rings (maker)", "End rings", "Rings"], ["maker_ring_count_entered", "end_ring_count_entered", "preferred_ring_count_entered"]),
        (["Hours", "Man-hours"], ["", "job_hours_stated_entered"]),
        (["Hours", "Est hours"], ["", "job_hours_stated_entered"]),
        (["Day", "Planned day"], ["", "job_day_entered"]),
        (["Team", "Crew"], ["", "crew_number_entered"]),
        (["Critical", "Critical path"], ["", "critical_entered"]),
        (["Gasket", "Gasket no", "No of gaskets"], ["gasket", "", "gasket_count_entered"]),
        (["Renew studs", "No of new studs"], ["", "new_studs_entered"]),
        (["Line size", "Flange size"], ["", "flange_size"]),
        (["Class", "Rating", "Flange class"], ["", "", "flange_class_entered"]),
        (["Class", "Fluid class", "Strength class"], ["flange_class_entered", "fluid_kind_entered", "gland_stud_grade"]),
        (["Weight", "Valve weight"], ["", "valve_mass_entered"]),
        (["Bolt size", "Bolt grade", "Lubricant"], ["gland_stud_thread", "gland_stud_grade", "stud_lubricant"]),
        (
            ["Bolt size", "Bolt grade", "Flange bolt grade", "Lubricant", "Flange lubricant"],
            ["gland_stud_thread", "gland_stud_grade", "flange_bolt_grade", "stud_lubricant", "flange_lubricant"],
        ),
        (["Material", "Flange material"], ["packing_material", "flange_material_entered"]),
        (["New studs", "New flange studs"], ["new_studs_entered", "flange_studs_renewed_entered"]),
        (["Nut factor", "Flange nut factor"], ["nut_factor_entered", "flange_nut_factor_entered"]),
        (["Gasket", "Gasket type"], ["gasket", "gasket"]),
        (["Gasket type", "Flange size"], ["gasket_kind", "flange_size"]),
        (["Gasket", "Gasket type", "DN"], ["gasket", "gasket_kind", "flange_size"]),
        (["Gasket type", "Flange gasket type"], ["gasket", "gasket_kind"]),
        (["Bonnet gasket type", "Gasket size", "DN"], ["gasket", "gasket", "flange_size"]),
    ],
)
def test_headers_that_sound_alike(cells: list[object], entries: list[str]) -> None:
    """Of headers that sound alike each is what its words say, and the weaker one gives way."""
    assert entries == [header.entry for header in headers.understand_row(cells)]


def test_a_type_of_gasket_among_flanges_is_a_guess() -> None:
    """What is read as the gasket of the flanges for the columns beside it is said to be loose; alone it is plain, and a map goes first."""
    among = headers.understand_row(["Tag", "Gasket type", "DN"])[1]
    mapped = headers.understand_row(["Tag", "Gasket type", "DN"], {"gasket type": "gasket"})[1]
    assert (among.entry, among.sure) == ("gasket_kind", "weak")
    assert (mapped.entry, mapped.sure, headers.understand("Gasket type").sure) == ("gasket", "mapped", "plain")


@pytest.mark.parametrize(
    ("text", "below", "said"),
    [
        ("DN", "", "DN"),
        ("Line size (DN)", "", "DN"),
        ("Line size (mm)", "", "DN"),
        ("Line size, mm", "", "DN"),
        ("Line size", "mm", "DN"),
        ("Line size", "DN", "DN"),
        ("NPS", "", "NPS"),
        ("Flange size NPS", "", "NPS"),
        ('Flange size "', "", "NPS"),
        ("Valve size in inches", "", "NPS"),
        ("Valve size", "[in]", "NPS"),
        ("Valve size", "in", "NPS"),
        ("Valve size", "", ""),
        ("DN/NPS", "", ""),
        ("DN", "in", ""),
        ("Flange size (mm/in)", "", ""),
    ],
)
def test_how_sizes_are_given(text: str, below: str, said: str) -> None:
    """A header, or the unit below it, says that its sizes are NPS or DN; where both are said, or none, nothing is."""
    assert said == headers.size_said(text, below)
