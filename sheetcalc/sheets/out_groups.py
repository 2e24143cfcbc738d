"""What is typed and answered of a valve that comes out of the line: its flanges, bolts, gaskets and lift, in groups."""

from __future__ import annotations

from typing import Final

OUT_GROUPS: Final = (
    (
        "Flanges, bolts and gaskets",
        (
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
        ),
    ),
    (
        "Lift",
        (
            "valve_actuated_entered",
            "valve_mass_entered",
            "sling_legs_entered",
            "sling_angle_entered",
            "leg_length_entered",
            "hook_height_entered",
            "leg_capacity_entered",
        ),
    ),
    (
        "For this valve only, instead of Assumptions and Tables",
        ("flange_bolt_stress_entered", "flange_nut_factor_entered", "flange_rating_entered"),
    ),
)
OUT_ANSWERS: Final = (
    (
        "Bolts, wrench and what to order",
        (
            "flange_bolt_count",
            "flange_bolt_thread",
            "flange_bolt_length",
            "flange_wrench_words",
            "flange_tap_and_die",
            "flange_outside",
            "flange_bolt_circle",
            "flange_rating",
            "flange_gasket",
            "flange_gaskets",
            "flange_studs",
            "flange_nuts",
        ),
    ),
    ("Holes clockwise, 1 lowest on the far side", ("flange_slacken_order", "flange_kept_1", "flange_kept_2", "flange_cross_order")),
    (
        "Torque",
        (
            "flange_bolt_stress",
            "flange_bolt_yield",
            "flange_bolt_load",
            "flange_load",
            "flange_nut_factor_low",
            "flange_nut_factor",
            "flange_nut_factor_high",
            "flange_torque_first",
            "flange_torque_second",
            "flange_bolt_torque",
            "flange_bolt_load_low",
            "flange_bolt_load_high",
            "flange_yield_share",
            "flange_bolt_torque_long",
            "flange_torque_ratio",
        ),
    ),
    (
        "Gasket stress, and a second look at the bolt load",
        (
            "gasket_inner",
            "gasket_outer",
            "gasket_area",
            "gasket_least",
            "gasket_stress",
            "gasket_stress_pressed",
            "gasket_most",
            "flange_target_least",
            "flange_target_most",
            "flange_end_load",
            "flange_operating_load",
            "flange_seating_load",
            "flange_load_ratio",
        ),
    ),
    (
        "Lift",
        (
            "mass_estimate_low",
            "mass_estimate",
            "mass_estimate_high",
            "valve_mass",
            "mass_words",
            "sling_angle",
            "legs_counted",
            "leg_tension",
            "leg_capacity",
            "leg_share",
        ),
    ),
    ("Removal and refit, man-hours by a model of ours", ("joint_hours", "lift_hours", "out_hours")),
)
OUT_CHECKS: Final = ("check_flange", "check_lift")
#: The sheets on which a person types, with their groups of entries.
