"""The entries that a list of valves can give, by what they are and how they are measured."""

from __future__ import annotations

from typing import Final

from sheetcalc.intake.cells import plain

#: Texts about the valve for people alone: they are carried as typed, and do not make a row a valve.
FREE_TEXT_COLUMNS: Final = ("place", "fluid", "isolation_points")
#: What is typed of the ordering and planning of a valve's job, in the order of the workbook. None of it makes a row a
#: valve, and none of it is read by the calculations of one valve: `ValveList.frame` can be parted by it.
PLAN_COLUMNS: Final = (
    "end_ring_count_entered",
    "gasket",
    "gasket_count_entered",
    "new_studs_entered",
    "critical_entered",
    "job_hours_stated_entered",
    "crew_number_entered",
    "job_day_entered",
)
#: What is typed of a valve that comes out of the line: its flanges, their bolts and gaskets, and the sling that bears it.
#: As the plan, none of it makes a row a valve: a weight alone is the sum of those above.
FLANGE_COLUMNS: Final = (
    "comes_out_entered",
    "flange_size",
    "flange_class_entered",
    "flange_joint_count_entered",
    "flange_facing_entered",
    "flange_material_entered",
    "gasket_kind",
    "flange_bolt_grade",
    "flange_lubricant",
    "flange_studs_renewed_entered",
    "flange_bolt_stress_entered",
    "flange_nut_factor_entered",
    "flange_rating_entered",
    "valve_actuated_entered",
    "valve_mass_entered",
    "sling_legs_entered",
    "sling_angle_entered",
    "leg_length_entered",
    "hook_height_entered",
    "leg_capacity_entered",
)
#: The text entries, in the order of the columns.
TEXT_COLUMNS: Final = (
    "tag",
    "unit_set",
    "gland_stud_thread",
    "packing_form_entered",
    "cut_style_entered",
    "section_list_entered",
    *FREE_TEXT_COLUMNS,
    "fluid_kind_entered",
    "stem_motion_entered",
    "packing_material",
    "packing_state_entered",
    "gland_kind_entered",
    "gland_stud_grade",
    "stud_lubricant",
    "gland_nut_kind_entered",
    "gasket",
    "critical_entered",
    "comes_out_entered",
    "flange_size",
    "flange_facing_entered",
    "flange_material_entered",
    "gasket_kind",
    "flange_bolt_grade",
    "flange_lubricant",
    "flange_studs_renewed_entered",
    "valve_actuated_entered",
)
#: Lengths, in the unit of the row's unit set (mm or in).
LENGTH_COLUMNS: Final = (
    "stem_diameter_entered",
    "box_bore_entered",
    "box_depth_entered",
    "nose_length_entered",
    "lantern_length_entered",
    "port_depth_entered",
    "port_diameter_entered",
    "made_ring_height_entered",
    "gap_reading_1_entered",
    "gap_reading_2_entered",
    "gap_reading_distance_entered",
    "stud_spacing_entered",
    "least_take_up_entered",
    "least_entry_floor_entered",
    "spacer_step_entered",
    "stud_thread_left_entered",
    "stem_thread_diameter_entered",
    "stem_thread_pitch_entered",
    "collar_diameter_entered",
    "handwheel_radius_entered",
)
#: Measurements in other units of the row's unit set: name to dimension. Lengths of the lift are none of those that say
#: which unit set a row has: a hook may hang some metres over a valve that is measured in inches.
_OTHER_MEASURES: Final = {
    "line_pressure_entered": "pressure",
    "fluid_temperature_entered": "temperature",
    "least_gland_stress_entered": "stress",
    "most_gland_stress_entered": "stress",
    "most_rim_pull_entered": "force",
    "stem_thrust_entered": "force",
    "flange_bolt_stress_entered": "stress",
    "flange_rating_entered": "pressure",
    "valve_mass_entered": "mass",
    "leg_length_entered": "length",
    "hook_height_entered": "length",
    "leg_capacity_entered": "mass",
}
#: Every measurement in a unit of the row's unit set: name to dimension, as `sheetcalc.units.UNIT_SETS` names it.
DIMENSIONS: Final = dict.fromkeys(LENGTH_COLUMNS, "length") | _OTHER_MEASURES
#: Whole numbers: of rings, of studs, of thread starts, of gaskets, of a crew, of a day, of flanged joints, of legs.
COUNT_COLUMNS: Final = (
    "maker_ring_count_entered",
    "preferred_ring_count_entered",
    "gland_stud_count_entered",
    "stem_thread_starts_entered",
    "end_ring_count_entered",
    "gasket_count_entered",
    "new_studs_entered",
    "crew_number_entered",
    "job_day_entered",
    "flange_joint_count_entered",
    "sling_legs_entered",
)
#: Shares of one: 30 % is 0.30, and so is a bare 30.
SHARE_COLUMNS: Final = (
    "set_compression_entered",
    "seating_compression_entered",
    "least_entry_share_entered",
    "length_allowance_entered",
    "waste_share_entered",
    "least_bottom_share_entered",
)
#: Factors from 0 to 1. Nobody means them in per cent without saying so: a bare 1.2 stays 1.2.
FACTOR_COLUMNS: Final = (
    "stem_friction_factor_entered",
    "box_friction_factor_entered",
    "lateral_ratio_entered",
    "stem_thread_friction_entered",
    "collar_friction_entered",
    "nut_factor_entered",
    "flange_nut_factor_entered",
)
#: Numbers without a unit that follows the row's unit set; the angles are in degrees and the man-hours are in hours in every row.
NUMBER_COLUMNS: Final = (
    "fluid_ph_entered",
    "pressure_factor_entered",
    "stem_thread_angle_entered",
    "job_hours_stated_entered",
    "flange_class_entered",
    "sling_angle_entered",
)
#: The unit that each entry may be given in, by dimension: those of DIMENSIONS, the angles and the man-hours.
MEASURED_AS: Final = DIMENSIONS | {
    "stem_thread_angle_entered": "angle",
    "job_hours_stated_entered": "time",
    "sling_angle_entered": "angle",
}
#: Every column of the table that `read_list` gives, in order.
ENTRY_COLUMNS: Final = TEXT_COLUMNS + tuple(DIMENSIONS) + COUNT_COLUMNS + SHARE_COLUMNS + FACTOR_COLUMNS + NUMBER_COLUMNS

#: Entries that nearly every answer needs, with the header that a missing one is reported under.
NEEDED: Final = {
    "tag": "Tag",
    "stem_diameter_entered": "Stem diameter",
    "box_bore_entered": "Box bore",
    "box_depth_entered": "Box depth",
    "nose_length_entered": "Nose length",
}
#: The entry of a map for a column that is to be carried along, not understood.
CARRY: Final = "carry"


def entry_named(name: str) -> str:
    """The entry of a name, with or without its ending `_entered`, in any case of letters and with spaces or underscores; "" for none."""
    key = "_".join(plain(name).casefold().replace("-", " ").replace("_", " ").split())
    return next((one for one in (key, f"{key}_entered") if one in ENTRY_COLUMNS or one == CARRY), "")
