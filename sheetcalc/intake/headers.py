"""Which entry a column of a list means: trade words in, entry names out.

A header is reduced to its set of words: case, accents, punctuation, word order and units do not count. Two lists of
phrases are held against it. A *weak* phrase (such as "Valve" for the tag) counts only where no other column of the list
says the same in plainer words, since such a word often heads something else. A *weakest* one (such as "Material")
gives way to a weak one too. A header may also be spelt with a slip, head two measurements at once ("Stem/bore"), stand in
two rows, or have its unit in a heading above it. What the user says with a map goes before all of that.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from sheetcalc.intake.values import UNITS, fits, is_blank, meant, one_spelling, plain, read_value, unit_name

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

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

#: Words that mean one thing in a header, whichever is written.
_ALIKE: Final = {
    "dia": "diameter",
    "diam": "diameter",
    "dm": "diameter",
    "diameters": "diameter",
    "shaft": "stem",
    "spindle": "stem",
    "stems": "stem",
    "follower": "gland",
    "glands": "gland",
    "lip": "nose",
    "neck": "nose",
    "spigot": "nose",
    "snout": "nose",
    "len": "length",
    "lg": "length",
    "lgth": "length",
    "long": "length",
    "no": "count",
    "nos": "count",
    "nr": "count",
    "num": "count",
    "number": "count",
    "numbers": "count",
    "qty": "count",
    "quantity": "count",
    "bolt": "stud",
    "bolts": "stud",
    "studs": "stud",
    "stuffingbox": "box",
    "ring": "rings",
    "makers": "maker",
    "manufacturer": "maker",
    "manufacturers": "maker",
    "oem": "maker",
    "mfr": "maker",
    "vendor": "maker",
    "supplier": "maker",
    "preference": "preferred",
    "wanted": "preferred",
    "wish": "preferred",
    "desired": "preferred",
    "minimum": "least",
    "min": "least",
    "smallest": "least",
    "readings": "reading",
    "gaps": "gap",
    "percentage": "share",
    "fraction": "share",
    "hgt": "height",
    "ht": "height",
    "unitset": "units",
    "unit": "units",
    "centers": "centres",
    "center": "centres",
    "centre": "centres",
    "dist": "distance",
    "temp": "temperature",
    "temps": "temperature",
    "tmp": "temperature",
    "press": "pressure",
    "oper": "operating",
    "op": "operating",
    "coefficient": "factor",
    "coeff": "factor",
    "coef": "factor",
    "matl": "material",
    "mtl": "material",
    "lube": "lubricant",
    "lubricants": "lubricant",
    "wheel": "handwheel",
    "rad": "radius",
    "frict": "friction",
    "hour": "hours",
    "hr": "hours",
    "hrs": "hours",
    "manhour": "manhours",
    "manhrs": "manhours",
    "mhrs": "manhours",
    "labor": "labour",
    "estimated": "est",
    "estimate": "est",
    "flanges": "flange",
    "flanged": "flange",
    "flg": "flange",
    "flgs": "flange",
    "facings": "facing",
    "nom": "nominal",
    "legs": "leg",
    "slings": "sling",
    "weights": "weight",
    "wll": "swl",
}
#: Words that say nothing about which measurement a header means. The second try leaves them out.
_EMPTY_WORDS: Final = frozenset(
    {"the", "of", "a", "an", "at", "for", "to", "and", "as", "or"} | {"stuffing", "measured", "actual", "found", "entered", "value"},
)

#: What each entry may be headed. The first phrase of each is the plain one.
_PHRASES: Final = {
    "tag": (
        "tag, tag no, tags, tag id, valve tag, valve tag no, valve no, valve id, valve number, tag name, tagname, "
        "tagno, kks, functional location, floc, position no, valve position no, armatur nr, repere, etiqueta, "
        "kennzeichen"
    ),
    "unit_set": (
        "unit set, units, unit, unit system, system of units, units of measure, uom, measuring units, mm or in, "
        "mm in, in mm, mm inch, inch mm, mm or inch, metric or us, metric us, metric inch, metric imperial, "
        "metric or imperial, measured in, einheit, einheiten, unite, unites, unidad"
    ),
    "gland_stud_thread": (
        "gland stud thread, stud thread, stud size, stud, gland stud, gland stud size, gland stud dia, stud dia, "
        "gland thread, stud thread size, eye bolt size, eyebolt, eyebolts, eye bolt, eyebolt thread, eye bolt "
        "thread, swing bolt, swing bolt size, gland nut thread, gewinde, filetage, rosca"
    ),
    "packing_form_entered": (
        "packing form, form of packing, packing type, type of packing, packing style, packing construction, braid "
        "or die formed, packing make up"
    ),
    "cut_style_entered": (
        "cut style, cut, style of cut, ring cut, joint style, ring joint, cut type, type of cut, butt or skive, cut of rings"
    ),
    "section_list_entered": (
        "section list, list of sections, stock list, stocked sizes, sizes stocked, stocked sections, section sizes, stock sizes"
    ),
    "stem_diameter_entered": (
        "stem diameter, stem, stem size, diameter of stem, diameter stem, d stem, stem d, stem outside diameter, "
        "stem od, od stem, od of stem, stem od measured, valve stem, valve stem diameter, valve stem size, rod "
        "diameter, stem width, spindel, spindeldurchmesser, spindel durchmesser, diametre tige, tige, diametro "
        "vastago, vastago, diametro stelo, stelo"
    ),
    "box_bore_entered": (
        "box bore, bore, box id, stuffing box bore, stuffing box id, stuffing box diameter, box diameter, box "
        "inside diameter, box internal diameter, box inner diameter, bore diameter, bore id, bore of box, packing "
        "box bore, packing box id, packing chamber bore, packing chamber diameter, chamber bore, packing chamber id, "
        "chamber id, chamber diameter, packing box "
        "diameter, packing bore, box size, d box, box d, box width, bohrung, stopfbuchsbohrung, "
        "stopfbuchsdurchmesser, alesage, diametro caja"
    ),
    "box_depth_entered": (
        "box depth, depth, stuffing box depth, depth of box, depth of stuffing box, packing box depth, packing "
        "chamber depth, chamber depth, packing depth, bore depth, depth to bottom, box deep, box length, stuffing "
        "box length, depth box, stopfbuchstiefe, stopfbuchsentiefe, tiefe, profondeur, profundidad"
    ),
    "nose_length_entered": (
        "nose length, nose, gland nose, gland nose length, follower nose, follower nose length, follower length, "
        "gland length, length of nose, gland reach, nose reach, follower reach, gland projection, nose "
        "projection, gland insert length, bushing nose, gland bushing length, gland engagement, brillenlange, "
        "brille lange, longueur nez"
    ),
    "lantern_length_entered": (
        "lantern length, lantern, lantern ring, lantern ring length, lantern ring height, lantern height, lantern "
        "ring depth, lantern width, lantern ring width, lantern size"
    ),
    "made_ring_height_entered": (
        "made ring height, ring height, die formed ring height, formed ring height, height of ring, maker ring "
        "height, height of made ring, moulded ring height, molded ring height, preformed ring height"
    ),
    "gap_reading_1_entered": (
        "gap reading 1, gap 1, gap1, reading 1, gap a, gap at stud 1, gland gap 1, gap at nut 1, first gap, gap "
        "stud 1, gap one, gap reading a, gap left"
    ),
    "gap_reading_2_entered": (
        "gap reading 2, gap 2, gap2, reading 2, gap b, gap at stud 2, gland gap 2, gap at nut 2, second gap, gap "
        "stud 2, gap two, gap reading b, gap right"
    ),
    "gap_reading_distance_entered": (
        "gap reading distance, reading distance, gap distance, distance between readings, distance between gaps, "
        "distance of readings, gap reading spacing, reading spacing, gap spacing, distance apart of readings, "
        "distance between gap readings"
    ),
    "stud_spacing_entered": (
        "stud spacing, stud centres, gland stud spacing, gland stud centres, distance between studs, stud "
        "distance, bolt spacing, bolt centres, stud centre distance, centres of studs, stud centre to centre, "
        "spacing of studs, gland bolt spacing"
    ),
    "least_take_up_entered": "least take up, take up, take up left, least takeup, takeup, minimum take up",
    "least_entry_floor_entered": ("least entry floor, entry floor, least entry, minimum entry, least nose entry, least gland entry"),
    "spacer_step_entered": "spacer step, step of spacer, spacer increment, spacer steps, spacer length step",
    "maker_ring_count_entered": (
        "maker ring count, rings maker, no of rings maker, maker no of rings, ring count maker, maker rings, "
        "maker s rings, maker s no of rings, no of rings from maker, rings per maker, no rings drawing, rings on "
        "drawing, rings drawing, no of rings per drawing, maker s ring count, rings by maker, no of rings by "
        "maker, no of rings per maker, rings to maker s drawing, original rings, original no of rings"
    ),
    "preferred_ring_count_entered": (
        "preferred ring count, preferred rings, preferred no of rings, rings preferred, no of rings preferred, most rings"
    ),
    "set_compression_entered": ("set compression, compression, final compression, compression set, compression of set, compression final"),
    "seating_compression_entered": (
        "seating compression, compression seating, compression at seating, pre compression, precompression, "
        "seated compression, compression seated"
    ),
    "least_entry_share_entered": (
        "least entry share, entry share, minimum entry share, entry share of section, least entry share of section"
    ),
    "length_allowance_entered": (
        "length allowance, cut allowance, cutting allowance, ring length allowance, allowance, cut length allowance"
    ),
    "waste_share_entered": "waste share, waste, waste allowance, cutting waste, scrap, scrap share, wastage",
    "place": (
        "place, location, valve location, place of valve, location of valve, plant area, area of plant, building, room, where, "
        "p id position, pid position, position on p id, standort, aufstellort, emplacement, ubicacion"
    ),
    "fluid": "fluid, medium, process fluid, process medium, line fluid, fluid handled, fluid in line, media, fluido, fluide",
    "isolation_points": (
        "isolation points, isolation point, points of isolation, lock points, lock point, lockout points, lock out points, block "
        "valves, block valve, isolating valves, isolation valves, isolating points, locked at, lock off points"
    ),
    "fluid_kind_entered": (
        "fluid kind, fluid class, kind of fluid, class of fluid, fluid type, type of fluid, fluid group, medium kind, medium class, "
        "medium type, kind of medium, fluid category"
    ),
    "stem_motion_entered": (
        "stem motion, stem type, motion of stem, stem movement, movement of stem, type of stem, stem kind, kind of stem, stem action, "
        "stem travel type"
    ),
    "packing_material": "packing material, material of packing, new packing, new packing material, packing family, material packing",
    "packing_state_entered": (
        "packing state, state of packing, lubrication of packing, packing lubrication, packing lubricated, packing dry or "
        "lubricated, dry or lubricated, packing dry lubricated"
    ),
    "gland_kind_entered": (
        "gland kind, kind of gland, gland type, type of gland, gland style, gland construction, gland design, gland closure, studs "
        "or packing nut"
    ),
    "gland_stud_grade": (
        "gland stud grade, stud grade, stud material, bolt grade, gland stud material, grade of studs, material of studs, bolting "
        "material, bolting grade, stud class, stud strength class, stud property class, gland bolting grade, gland bolting material, "
        "grade of gland studs, material of gland studs"
    ),
    "stud_lubricant": (
        "stud lubricant, thread lubricant, grease on studs, lubricant on studs, gland stud lubricant, stud thread lubricant, "
        "lubricant of studs, stud grease, thread grease, stud lubrication, lubrication of studs, bolt lubricant, grease on gland "
        "studs, lubricant on gland studs, nut lubricant"
    ),
    "gland_nut_kind_entered": (
        "gland nut kind, nut kind, kind of nut, nut type, type of nut, gland nut type, nut hexagon, hexagon of nut, nut form, nut "
        "style, hex type, nut series"
    ),
    "line_pressure_entered": (
        "line pressure, design pressure, operating pressure, working pressure, process pressure, fluid pressure, service pressure, "
        "pressure of line, pressure in line, pressure of fluid, pressure design, pressure operating, operating pressure max, max "
        "operating pressure, maximum operating pressure, max working pressure, "
        "maximum working pressure, max line pressure, medium pressure, betriebsdruck"
    ),
    "fluid_temperature_entered": (
        "fluid temperature, operating temperature, design temperature, working temperature, process temperature, line temperature, "
        "service temperature, temperature of fluid, temperature design, temperature operating, max operating temperature, "
        "maximum operating temperature, max working temperature, maximum working temperature, medium temperature, betriebstemperatur"
    ),
    "least_gland_stress_entered": (
        "least gland stress, minimum gland stress, gland stress least, least packing stress, least stress on packing, least axial "
        "stress, least stress"
    ),
    "most_gland_stress_entered": (
        "most gland stress, greatest gland stress, max gland stress, maximum gland stress, highest gland stress, gland stress "
        "greatest, greatest packing stress, max packing stress, maximum packing stress, greatest stress on packing, greatest axial "
        "stress, max stress, maximum stress, greatest stress"
    ),
    "most_rim_pull_entered": (
        "most rim pull, greatest rim pull, max rim pull, maximum rim pull, rim pull, greatest pull at the handwheel rim, greatest "
        "pull at handwheel, greatest pull at rim, max pull at rim, pull at rim, pull at handwheel rim, pull at handwheel, handwheel "
        "pull, max handwheel pull, rim pull greatest, rim force, max rim force, maximum rim force, allowed rim pull"
    ),
    "stem_thrust_entered": (
        "stem thrust, stem thrust stated, thrust stated, thrust on stem, thrust of stem, stated stem thrust, maker stem thrust, stem "
        "thrust maker"
    ),
    "stud_thread_left_entered": (
        "stud thread left, thread left, thread left on studs, thread left on the gland studs, free thread, free thread on studs, free "
        "stud thread, thread free, thread free on studs, remaining thread, remaining stud thread, thread remaining, thread remaining "
        "on studs, spare thread, spare thread on studs"
    ),
    "stem_thread_diameter_entered": (
        "stem thread diameter, diameter of stem thread, stem thread od, stem thread outside diameter, stem thread major diameter, "
        "stem screw diameter, stem diameter on thread"
    ),
    "stem_thread_pitch_entered": "stem thread pitch, pitch of stem thread, stem pitch, stem screw pitch, thread pitch of stem",
    "collar_diameter_entered": (
        "collar diameter, thrust collar diameter, diameter of collar, diameter of thrust collar, mean collar diameter, thrust collar "
        "mean diameter, stem nut collar diameter, collar mean diameter"
    ),
    "handwheel_radius_entered": (
        "handwheel radius, hand wheel radius, radius of handwheel, radius of hand wheel, handwheel rim radius, radius to rim, rim radius"
    ),
    "gland_stud_count_entered": (
        "gland stud count, stud count, no of studs, no of gland studs, studs per gland, no of studs per gland, how many studs"
    ),
    "stem_thread_starts_entered": (
        "stem thread starts, thread starts, starts of stem thread, no of thread starts, no of stem thread starts, no of starts, starts "
        "of thread, stem starts, no of starts of stem thread"
    ),
    "least_bottom_share_entered": "least bottom share, bottom share, least share at bottom, least share at bottom ring",
    "stem_friction_factor_entered": (
        "stem friction factor, stem friction, friction on stem, friction factor on stem, friction of stem, packing friction on stem, "
        "friction packing on stem, friction stem"
    ),
    "box_friction_factor_entered": (
        "box friction factor, box friction, friction on box, friction factor on box, friction of box, packing friction on box, friction box"
    ),
    "lateral_ratio_entered": (
        "lateral ratio, lateral stress ratio, lateral pressure ratio, ratio of lateral to axial, ratio of lateral to axial stress, "
        "lateral over axial, lateral over axial stress, lateral factor"
    ),
    "stem_thread_friction_entered": (
        "stem thread friction, stem thread friction factor, friction of stem thread, friction factor of stem thread, friction in stem "
        "thread, stem nut friction"
    ),
    "collar_friction_entered": (
        "collar friction, collar friction factor, friction of collar, friction factor of collar, thrust collar friction, friction of "
        "thrust collar"
    ),
    "nut_factor_entered": "nut factor, torque factor, nut factor k, k nut factor, nut k factor, stud nut factor",
    "fluid_ph_entered": "fluid ph, ph, ph value, ph of fluid, ph of medium, medium ph",
    "pressure_factor_entered": "pressure factor, gland pressure factor, stress pressure factor, packing pressure factor",
    # A "stem thread angle" is as often the whole angle between the flanks, so only the flank angle is taken.
    "stem_thread_angle_entered": (
        "stem thread flank angle, flank angle, flank angle of stem thread, thread flank angle, half thread angle, half of thread "
        "angle, half of stem thread angle, half angle of stem thread"
    ),
    "end_ring_count_entered": (
        "end ring count, braided end rings, braided end ring count, no of end rings, no of braided end rings, end rings braided, braid "
        "end rings, end rings per set, braided end rings per set, end rings of set, no of end rings per set"
    ),
    "gasket": (
        "gasket, gasket size, gasket type, type of gasket, size of gasket, gasket diameter, gasket designation, designation of gasket, "
        "gasket spec, gasket specification, gasket code, gasket part no, gasket item no, gasket stock no, bonnet gasket, bonnet gasket "
        "size, bonnet gasket type, gasket to renew, gasket to be renewed, flachdichtung"
    ),
    "gasket_count_entered": (
        "no of gaskets, gaskets count, bonnet gaskets count, gaskets needed count, gaskets required count, gaskets per valve, no of "
        "gaskets per valve, no of gaskets needed, no of gaskets required, no of bonnet gaskets, how many gaskets, no of gaskets to "
        "order, no of gaskets to renew, no of gaskets to be renewed"
    ),
    "new_studs_entered": (
        "new studs, new gland studs, new stud count, new gland stud count, no of new studs, no of new gland studs, studs to renew, "
        "gland studs to renew, no of studs to renew, no of gland studs to renew, studs to be renewed, gland studs to be renewed, no of "
        "studs to be renewed, studs to replace, gland studs to replace, no of studs to replace, studs to be replaced, gland studs to "
        "be replaced, no of studs to be replaced, replacement studs, no of replacement studs, new studs needed, new studs required"
    ),
    "critical_entered": (
        "critical path, on critical path, is on critical path, critical path job, critical path valve, critical path yes no, critical "
        "path y n, on critical path yes no, on critical path y n, critical for outage, critical to outage, outage critical, critical "
        "job, critical yes no, critical y n, kritischer pfad, kritischer weg, chemin critique"
    ),
    # A duration is no number of man-hours: two people are done in half of it.
    "job_hours_stated_entered": (
        "job hours stated, man hours, manhours, labour hours, hours labour, hours for this valve, hours stated, stated hours, est man "
        "hours, est manhours, man hours est, manhours est, est labour hours, planned man hours, planned manhours, job man hours, job "
        "manhours, man hours of job, man hours for job, man hours stated, manhours stated, man hours per valve, manhours per valve, "
        "labour hours per valve, man hours for this valve, man hours h, manhours h, labour h, person hours, mannstunden"
    ),
    "crew_number_entered": (
        "crew no, crew, crew id, crew assigned, assigned crew, assigned to crew, crew of job, planned crew, work crew, team no, gang "
        "no, work team no, work gang no"
    ),
    "job_day_entered": (
        "job day, day of job, planned day, day planned, day of outage, outage day, outage day no, day no, day no of outage, day in "
        "outage, planned outage day, planned day of outage, planned day no, job day no, scheduled day, day scheduled, scheduled day of "
        "outage, shutdown day, day of shutdown"
    ),
    "comes_out_entered": (
        "comes out, flanged valve comes out, "
        "comes out of line, comes out of the line, valve comes out, valve comes out of line, comes out yes no, comes out y n, "
        "out of line, taken out, taken out of line, take out of line, remove from line, removed from line, to be removed from line, "
        "remove valve from line, remove valve, valve to be removed, valve removed, removal from line, off line overhaul, offline "
        "overhaul, shop overhaul, workshop overhaul, overhaul off line, overhaul in shop, overhaul in workshop"
    ),
    "flange_size": (
        "flange size, size of flange, flange nps, flange dn, flange nominal size, nominal flange size, flange size nps, flange size dn, "
        "nps, dn, nps dn, size nps, size dn, size nps dn, nps size, dn size, valve size nps, valve size dn, valve nps, valve dn, line "
        "size nps, line size dn, line nps, line dn, pipe size nps, pipe size dn, nominal size nps, nominal size dn, nominal pipe size, "
        "nominal pipe size nps, nominal diameter dn"
    ),
    "flange_class_entered": (
        "flange class, class of flange, flange rating, rating of flange, flange pressure class, flange pressure rating, flange class "
        "lb, flange class lbs, flange class #, flange rating lb, flange rating lbs, flange rating #, ansi class, asme class, ansi "
        "rating, asme rating, ansi flange class, asme flange class, ansi flange rating"
    ),
    "flange_joint_count_entered": (
        "flange joint count, flange joints, "
        "no of flange joints, no of flanged joints, flanged joints to open, how many flanged joints, no of flange "
        "joints per valve, no of flanges, flanges per valve, no of flanges per valve, no of joints to open, no of joints to be opened"
    ),
    "flange_facing_entered": (
        "flange facing, facing of flange, flange face, face of flange, flange face type, flange facing type, type of flange facing, "
        "facing type, type of facing"
    ),
    "flange_material_entered": "flange material, material of flange, flange body material, material of the flanges",
    "gasket_kind": (
        "gasket kind, kind of gasket, flange gasket kind, kind of flange gasket, flange gasket type, type of flange gasket, flange gasket "
        "style, flange gasket material, material of flange gasket"
    ),
    "flange_bolt_grade": (
        "flange bolt grade, flange stud grade, grade of flange bolts, grade of flange studs, flange bolt material, flange stud material, "
        "material of flange bolts, material of flange studs, flange bolting, flange bolting grade, flange bolting material, flange bolt "
        "class, flange bolt strength class, flange bolt property class"
    ),
    "flange_lubricant": (
        "flange lubricant, flange bolt lubricant, flange stud lubricant, lubricant on flange bolts, lubricant on flange studs, lubricant "
        "of flange bolts, grease on flange bolts, grease on flange studs, flange bolt grease, flange stud grease, flange thread "
        "lubricant, flange bolt thread lubricant"
    ),
    "flange_studs_renewed_entered": (
        "flange studs renewed, flange bolts renewed, renew flange studs, renew flange bolts, flange studs new, flange bolts new, new "
        "flange studs, new flange bolts, flange studs to be renewed, flange bolts to be renewed, flange studs to renew, replace flange "
        "studs, replace flange bolts, flange studs replaced, flange studs to be replaced, flange studs new yes no, flange bolts new y n, "
        "flange studs renewed yes no, flange studs renewed y n"
    ),
    "flange_bolt_stress_entered": (
        "flange bolt stress, flange stud stress, stress of flange bolts, stress in flange bolts, target flange bolt stress, target stress "
        "of flange bolts, flange bolt target stress, flange assembly stress, assembly stress of flange bolts, flange bolt assembly stress, "
        "flange bolt preload stress"
    ),
    "flange_nut_factor_entered": (
        "flange nut factor, flange nut factor k, nut factor of flange bolts, nut factor of flange studs, flange bolt nut factor, flange "
        "stud nut factor, flange torque factor, flange bolt torque factor"
    ),
    "valve_actuated_entered": (
        "valve actuated, actuated, actuated valve, actuated yes no, actuated y n, has actuator, with actuator, actuator fitted, valve has "
        "actuator, valve with actuator, actuator yes no, actuator y n"
    ),
    "valve_mass_entered": (
        "valve mass, valve weight, mass of valve, weight of valve, valve wt, wt of valve, valve total weight, total valve weight, weight "
        "of valve with actuator, valve weight with actuator, lifted weight, lifted mass, weight to lift, mass to lift, lift weight"
    ),
    "sling_legs_entered": (
        "sling legs, no of sling legs, no of legs, legs of sling, no of legs of sling, how many sling legs, sling leg count"
    ),
    # The angle between two legs and the one from the vertical are others, so nothing that says so is taken.
    "sling_angle_entered": (
        "sling angle from horizontal, angle of sling from horizontal, sling angle to horizontal, leg angle from horizontal, sling leg "
        "angle from horizontal, angle of legs from horizontal, horizontal sling angle, sling angle above horizontal, sling angle from "
        "the horizontal"
    ),
    "leg_length_entered": (
        "leg length, sling leg length, sling length, length of leg, length of legs, length of sling, length of sling legs, length of a "
        "sling leg"
    ),
    "hook_height_entered": (
        "hook height, height of hook, crane hook height, height of crane hook, hook height over valve, hook height above valve, height "
        "of hook above valve, height of hook over valve"
    ),
    "leg_capacity_entered": (
        "leg capacity, sling leg capacity, capacity of leg, capacity of a leg, capacity per leg, capacity of sling leg, leg rating, sling "
        "leg rating, rating of leg, rating per leg, leg swl, swl of a leg, swl per leg, sling leg swl, safe working load of a leg, safe "
        "working load per leg, working load limit of a leg, working load limit per leg, leg working load limit"
    ),
}
#: Phrases that count only where nothing plainer heads another column.
_WEAK_PHRASES: Final = {
    "tag": ("valve, valves, equipment, equipment no, equipment id, id, item no, item, asset, asset no, position, mark, valve name, name"),
    "unit_set": "system, metric, imperial, dimensions",
    "gland_stud_thread": "thread, thread size",
    "packing_form_entered": "braid, form",
    "cut_style_entered": "joint, joint type",
    "preferred_ring_count_entered": "rings, no of rings, ring count, number rings, packing rings, no of packing rings",
    "place": "area, site, plant, floor, p id",
    "fluid": "service, contents, content, product",
    "stem_motion_entered": "motion, movement",
    "packing_material": "packing",
    "gland_stud_grade": "grade, strength class, property class",
    "gland_nut_kind_entered": "hexagon, hex",
    "stud_lubricant": "lubricant, grease",
    "line_pressure_entered": "pressure, max pressure, maximum pressure",
    "fluid_temperature_entered": "temperature, max temperature, maximum temperature",
    "stem_thread_pitch_entered": "thread pitch",
    "stem_thread_starts_entered": "starts",
    "stem_thread_friction_entered": "thread friction",
    "stem_thrust_entered": "thrust",
    "handwheel_radius_entered": "handwheel rim",
    "end_ring_count_entered": "end rings, anti extrusion rings, no of anti extrusion rings",
    # The number of a gasket is how many as often as which.
    "gasket_count_entered": "gaskets, bonnet gaskets, gasket count, gaskets needed, gaskets required, gaskets to order, gaskets to renew",
    # May head a yes or no, as well as how many.
    "new_studs_entered": "renew studs, renew gland studs, replace studs, replace gland studs, studs needed, studs required",
    # Many plants call a valve critical for what it does, not for when it is done.
    "critical_entered": "critical",
    # May be the hours that pass.
    "job_hours_stated_entered": "est hours, hours est, planned hours, hours planned, job hours, hours of job, work hours, hours per valve",
    "crew_number_entered": "team, gang, work team, work gang",
    "job_day_entered": "work day, workday, day of work",
    # What is to be removed may be its packing, and a size that of the line before it is reduced.
    "comes_out_entered": "to be removed, remove, removed, removal, take out",
    "flange_size": (
        "valve size, size of valve, valve nominal size, nominal valve size, line size, size of line, nominal line size, pipe size, size "
        "of pipe, nominal size, nominal diameter, nominal width, nennweite, diametre nominal"
    ),
    "flange_class_entered": (
        "rating, pressure rating, pressure class, valve class, class of valve, valve rating, valve pressure class, line class rating, "
        "class rating, rating class, rating lb, rating lbs, rating #"
    ),
    "flange_facing_entered": "facing",
    "gasket_kind": "flange gasket",
    # Which bolts is not said.
    "flange_bolt_stress_entered": "bolt stress, target bolt stress, assembly bolt stress, bolt target stress, bolt assembly stress",
    # As often heads the make of it as whether there is one.
    "valve_actuated_entered": "actuator, valve actuator, actuation, valve operator",
    "valve_mass_entered": "weight, mass, total weight, total mass, gross weight, wt kg, wt kgs, wt lb, wt lbs",
    "sling_legs_entered": "legs",
    # May be measured from the vertical, or between two legs.
    "sling_angle_entered": "sling angle, angle of sling, leg angle, angle of legs, sling leg angle, angle of sling legs",
    # May be that of all legs together.
    "leg_capacity_entered": "sling capacity, sling rating, capacity of sling, rating of sling, sling swl, swl of sling",
}
#: Words that head something else more often than not: the material of a valve's body, say.
_WEAKEST_PHRASES: Final = {
    "packing_material": "material",
    "job_hours_stated_entered": "hours, mh",
    "job_day_entered": "day",
    "flange_class_entered": "class, class lb, class lbs, class #",
}
#: What speaks of a measurement as of any other, but of a plan as of what came of it: actual hours are none that are planned.
_CAME_OF_IT: Final = frozenset({"actual", "found", "measured"})
#: Entries whose words stand on cover sheets and in other lists too: a row of these alone is no header row.
_ANYWHERE: Final = frozenset(
    {*FREE_TEXT_COLUMNS, "line_pressure_entered", "fluid_temperature_entered", "packing_material", "fluid_kind_entered", "fluid_ph_entered"}
)

#: A longer text is a remark, not the header of a measurement.
_LONGEST: Final = 120
_BRACKETED: Final = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]")
#: Letters with points between them, as in I.D. and U.O.M.
_DOTTED: Final = re.compile(r"\b(?:[A-Za-z]\.){1,3}[A-Za-z]\b")
_CAMEL: Final = re.compile(r"(?<=[a-z])(?=[A-Z][a-z])")
_DIAMETER_SIGN: Final = re.compile("[ØøΦφ⌀∅]")
_SPLIT_UNITS: Final = re.compile(r"\s*(?:[/|,;&]|\bor\b|\boder\b|\bou\b)\s*")
#: The last word of a header, at first with strokes and hyphens inside, as in N/mm2.
_LAST_WORDS: Final = (
    re.compile(r"^(?P<front>.*?)(?P<mark>[\s,;:]+)(?P<unit>\S+)$", re.DOTALL),
    re.compile(r"^(?P<front>.*?)(?P<mark>[\s,;:/|_.-]+)(?P<unit>[^\s,;:/|_-]+|''|\")$", re.DOTALL),
)
_INCH_SIGN: Final = re.compile(r"^(?P<front>.*?\S)\s*(?:\"|″|”|'')$", re.DOTALL)
#: What a row of units has above a column without one.
_UNITLESS: Final = frozenset({"-", "\u2013", "text", "pcs", "pc", "ea", "no", "nr", "each", "1", "#", "ph", "nps", "dn", "class"})
_PERCENT_WORDS: Final = frozenset({"%", "percent", "per cent", "pct", "prozent"})


#: The entry of a map for a column that is to be carried along, not understood.
CARRY: Final = "carry"
#: Entries whose weak words mean nothing else in a list of valves, once no fuller words stand beside them.
_CLEAR_ALONE: Final = frozenset(
    {"line_pressure_entered", "fluid_temperature_entered", "stem_thread_pitch_entered", "stem_thread_starts_entered"},
)
#: The rank of a header that is spelt with a slip: each kind of phrase goes before it.
_MISSPELT: Final = 3
#: Words shorter than this are neither corrected nor corrections: too many others are like them, as steam is like stem.
_LEAST_CORRECTED: Final = 5
_ALIKE_ENOUGH: Final = 0.82
_PAIR_MARK: Final = re.compile(r"\s*(?:[/&+×]|\bx\b|\band\b)\s*", re.IGNORECASE)
#: Words of a heading that speaks of the lengths below it, such as "All dimensions in mm".
_ABOUT_LENGTHS: Final = frozenset(
    {"all", "dim", "dims", "dimension", "dimensions", "unless", "stated", "otherwise", "noted"}
    | {"size", "sizes", "length", "measurement", "measurements", "in", "units", "are", "lengths", "box", "stem"}
    | {"gland", "packing", "valve", "data"} | _EMPTY_WORDS,
)  # fmt: skip


@dataclass(frozen=True)
class Header:
    """What one header means.

    `text` is as the user wrote it, on one line. `entry` is a name of ENTRY_COLUMNS or "". `unit` is a unit of the
    entry's dimension, such as mm, bar or degC, or ""; `percent` says that the header asks for per cent. `weak` says how
    many kinds of plainer header go before this one. `second` is the other entry of a column that holds two. `mapped`
    says that the user's map decided, `from_above` that the unit stands in a heading above.
    """

    text: str
    entry: str = ""
    unit: str = ""
    percent: bool = False
    weak: int = 0
    second: str = ""
    mapped: bool = False
    from_above: bool = False

    @property
    def sure(self) -> str:
        """How sure the meaning is, in one word: plain, weak, mapped or unknown."""
        if self.mapped:
            return "mapped"
        if not self.entry:
            return "unknown"
        return "weak" if self.misspelt or self.second or (self.weak and self.entry not in _CLEAR_ALONE) else "plain"

    @property
    def misspelt(self) -> bool:
        """Whether a word had to be corrected for it."""
        return self.weak >= _MISSPELT


@dataclass(frozen=True)
class Found:
    """The header of a list: its row from 0, how many rows it has, what each column is, and how many entries it gives."""

    at: int
    lines: int
    headers: tuple[Header, ...]
    score: int


def _words(text: str) -> tuple[str, ...]:
    """The words of a header in one spelling: no case, accents or punctuation."""
    text = _CAMEL.sub(" ", _DIAMETER_SIGN.sub(" diameter ", text)).replace("#", " no ")
    text = _DOTTED.sub(lambda found: found.group().replace(".", ""), text)
    bare = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c)).casefold()
    return tuple(_ALIKE.get(word, word) for word in re.findall(r"[a-z0-9]+", bare))


def _phrases(lists: dict[str, str]) -> dict[frozenset[str], str]:
    """Word set to entry name."""
    return {frozenset(_words(phrase)): entry for entry, phrases in lists.items() for phrase in phrases.split(", ")}


_PLAIN: Final = _phrases(_PHRASES) | {frozenset(_words(name)): name for name in _PHRASES}
#: The phrases from the plain ones to the weakest.
_RANKS: Final = (_PLAIN, _phrases(_WEAK_PHRASES), _phrases(_WEAKEST_PHRASES))
#: Every word that means something in a header: what a misspelt one is corrected to.
_VOCABULARY: Final = frozenset({word for known in _RANKS for words in known for word in words} | set(_ALIKE))


def _unit_of(text: str) -> tuple[bool, str, bool]:
    """Whether a text is nothing but units, the one unit that it names (or ""), and whether it is per cent."""
    text = plain(text).casefold().removeprefix("in ").strip()
    if text in _PERCENT_WORDS:
        return True, "", True
    if unit_name(text):
        return True, unit_name(text), False
    units = [unit_name(part) for part in _SPLIT_UNITS.split(text)]
    if not all(units):
        return False, "", False
    return True, units[0] if len(set(units)) == 1 else "", False


def _split_unit(text: str) -> tuple[str, str, bool]:
    """A header without its unit, the unit ("" for none), and whether it asks for per cent."""
    text = one_spelling(text)
    for found in _BRACKETED.finditer(text):
        only_units, unit, percent = _unit_of(found.group(1))
        if only_units:
            return text[: found.start()] + " " + text[found.end() :], unit, percent
    bare = text.strip()
    if bare.endswith("%"):
        return re.sub(r"[\s,]+in\s*$", "", bare[:-1], flags=re.IGNORECASE), "", True
    sign = _INCH_SIGN.match(bare)
    if sign:
        return sign["front"], "in", False
    for pattern in _LAST_WORDS:
        last = pattern.match(bare)
        if last and unit_name(last["unit"]):
            # "Depth, mm" and "Depth in mm" are headers with a unit; so is "Depth in", where "in" itself is the unit.
            front = re.sub(r"[\s,]+in$", "", last["front"], flags=re.IGNORECASE)
            return front, unit_name(last["unit"]), False
    return bare, "", False


def _look_up(words: tuple[str, ...]) -> tuple[str, int]:
    """Entry name and how weak the match is; ("", 0) for an unknown header."""
    everything = frozenset(words)
    telling = everything - _EMPTY_WORDS
    for weak, known in enumerate(_RANKS):
        for tried in (everything, telling):
            if tried in known:
                return ("", 0) if _no_plan(known[tried], everything) else (known[tried], weak)
    return "", 0


def _no_plan(entry: str, words: frozenset[str]) -> bool:
    """Whether the words only sound like that entry of the plan: actual hours, or the number of (people of) a crew."""
    if entry == "crew_number_entered" and {"count", "of"} <= words and "the" not in words:
        return True
    return entry in PLAN_COLUMNS and bool(words & _CAME_OF_IT)


def _corrected(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words with slips of one or two letters put right; the same words where there is none."""
    return tuple(map(_put_right, words))


@lru_cache(maxsize=4096)
def _put_right(word: str) -> str:
    """One word with its slip put right: the first letter and nearly the length must be the same."""
    if len(word) < _LEAST_CORRECTED or not word.isalpha() or word in _VOCABULARY or word in _EMPTY_WORDS:
        return word
    alike = [one for one in sorted(_VOCABULARY) if one[0] == word[0] and len(one) >= _LEAST_CORRECTED and abs(len(one) - len(word)) <= 1]
    near = get_close_matches(word, alike, 1, _ALIKE_ENOUGH)
    return _ALIKE.get(near[0], near[0]) if near else word


def _goes_with(entry: str, unit: str, *, percent: bool) -> bool:
    """Whether an entry can be in that unit or in per cent, so that a header with both means it."""
    if percent:
        return entry in SHARE_COLUMNS + FACTOR_COLUMNS
    if entry in MEASURED_AS:
        return not unit or fits(unit, MEASURED_AS[entry])
    # "Stud size (mm)" is a thread all the same, but "New studs (mm)" is no number of studs.
    counted = entry in COUNT_COLUMNS and entry not in PLAN_COLUMNS
    return not unit or ((entry in TEXT_COLUMNS or counted) and unit in UNITS["length"])


@lru_cache(maxsize=4096)
def understand(text: str) -> Header:
    """What one header means by itself.

    Args:
        text: the header as written.

    Returns:
        The header's entry, unit and whether it asks for per cent; entry "" where nothing is known, or where the entry
        cannot be in the unit that the header gives.
    """
    shown = plain(text)
    if len(shown) > _LONGEST:
        return Header(shown)
    # "Bore/depth" is two measurements, though the words of it are one phrase.
    pair = _pair(shown)
    if pair is not None:
        return pair
    header = _by_words(shown)
    return header if header.entry else _misspelt(shown)


def _by_words(shown: str) -> Header:
    """What a header means by the phrases that are known."""
    entry, weak = _look_up(_words(shown))
    if entry in TEXT_COLUMNS:
        return Header(shown, entry, weak=weak)
    front, unit, percent = _split_unit(shown)
    bare_entry, bare_weak = _look_up(_words(front))
    if bare_entry and not _goes_with(bare_entry, unit, percent=percent):
        # The K of "Nut factor K" is no kelvin but part of the name; "Waste (mm)" and "Pressure (%)" are not understood.
        return Header(shown, entry, weak=weak) if _words(front) != _words(shown) else Header(shown)
    if bare_entry:
        return Header(shown, bare_entry, _own_unit(bare_entry, unit), percent, bare_weak)
    # "WT kg" means a weight by its unit: alone it may be the thickness of a wall. The hours of "Man-hours" are no unit.
    return Header(shown, entry, _own_unit(entry, unit) if DIMENSIONS.get(entry) == "mass" else "", percent, weak)


def _own_unit(entry: str, unit: str) -> str:
    """The unit that a header gives to an entry, as its dimension understands it; "" where the entry has none or cannot be in that one."""
    dimension = MEASURED_AS.get(entry, "")
    return meant(unit, dimension) if unit and dimension and fits(unit, dimension) else ""


def _pair(shown: str) -> Header | None:
    """A header of two lengths, such as "Stem/bore (mm)"; None where it is no such thing."""
    front, unit, percent = _split_unit(shown)
    parts = _PAIR_MARK.split(front.strip())
    if percent or len(parts) != 2:  # noqa: PLR2004 - a pair
        return None
    # Beside a stem, a bare "box" is its bore.
    first, second = (_look_up(_words("box bore" if part.strip().casefold() == "box" else part)) for part in parts)
    lengths = first[0] in LENGTH_COLUMNS and second[0] in LENGTH_COLUMNS and first[0] != second[0]
    if not lengths or first[1] or second[1] or (unit and not fits(unit, "length")):
        return None
    return Header(shown, first[0], unit, second=second[0])


def _misspelt(shown: str) -> Header:
    """What a header means once its slips are put right; without an entry where that does not help."""
    front, unit, percent = _split_unit(shown)
    words = _words(front)
    right = _corrected(words)
    entry, weak = _look_up(right) if right != words else ("", 0)
    # A slip in a word that means little by itself is no ground for anything.
    if not entry or weak or not _goes_with(entry, unit, percent=percent):
        return Header(shown)
    return Header(shown, entry, _own_unit(entry, unit), percent, _MISSPELT)


def fold(header: object) -> str:
    """A header as the key of a map: neither case nor spaces count."""
    return plain(header).casefold()


def entry_named(name: str) -> str:
    """The entry of a name, with or without its ending `_entered`, in any case of letters and with spaces or underscores; "" for none."""
    key = "_".join(plain(name).casefold().replace("-", " ").replace("_", " ").split())
    return next((one for one in (key, f"{key}_entered") if one in ENTRY_COLUMNS or one == CARRY), "")


def _mapped(header: Header, others: Sequence[str], mapped: Mapping[str, str]) -> Header:
    """The header as the user's map has it, looked up under its own text and then under the others."""
    if not mapped:
        return header
    entry = next((mapped[key] for key in map(fold, (header.text, *others)) if key and key in mapped), "")
    if entry == CARRY:
        return Header(header.text, mapped=True)
    if not entry:
        return header
    _, unit, percent = _split_unit(header.text)
    return Header(header.text, entry, _own_unit(entry, unit), percent and _goes_with(entry, "", percent=True), mapped=True)


def understand_row(cells: Sequence[object], mapped: Mapping[str, str] | None = None) -> tuple[Header, ...]:
    """What the cells of one row mean as headers.

    Args:
        cells: one row of a file, any kinds of value.
        mapped: what the user says of some headers: text as `fold` makes it, to a name of ENTRY_COLUMNS or CARRY.

    Returns:
        One Header a cell. A weak one has no entry where a plainer one of the same entry stands in the row, or an
        earlier one as weak; any has none where the map gives its entry to another column.
    """
    headers = [understand(cell) if isinstance(cell, str) else Header(plain(cell)) for cell in cells]
    return _give_way([_mapped(header, (), mapped or {}) for header in headers])


def _give_way(headers: Sequence[Header]) -> tuple[Header, ...]:
    """The headers of one row, of which the weaker ones give way to the plainer of the same entry."""
    headers = _of_flanges(headers)
    plainest: dict[str, int] = {}
    for header in headers:
        plainest[header.entry] = min(header.weak, plainest.get(header.entry, header.weak))
    taken: set[str] = set()
    said = []
    for header in headers:
        if header.weak and (header.weak > plainest[header.entry] or header.entry in taken):
            said.append(Header(header.text))
            continue
        taken.add(header.entry)
        said.append(header)
    return tuple(said)


def _of_flanges(headers: Sequence[Header]) -> Sequence[Header]:
    """The headers of one row, of which a type of gasket is that of the flanges where the row speaks of flanges.

    Alone it is the gasket that is ordered. Which of the two it is stays a guess.
    """
    entries = {header.entry for header in headers}
    if not entries & set(FLANGE_COLUMNS) or "gasket_kind" in entries:
        return headers
    return [
        replace(header, entry="gasket_kind", weak=1)
        if header.entry == "gasket" and not header.mapped and frozenset(_words(header.text)) - _EMPTY_WORDS == {"gasket", "type"}
        else header
        for header in headers
    ]


def size_said(text: str, below: str = "") -> str:
    """How a header says that its sizes are given: "NPS", "DN", or "" where neither or both are said.

    Args:
        text: the header as written.
        below: what a row of units says below it.
    """
    said = set()
    for one in (text, below):
        words = set(_words(one))
        said |= {name for name in ("NPS", "DN") if name.casefold() in words}
        unit = unit_name(one) or _split_unit(plain(one))[1]
        said |= {"NPS"} if unit == "in" else {"DN"} if unit == "mm" else set()
    return next(iter(said)) if len(said) == 1 else ""


def score(headers: Sequence[Header]) -> int:
    """How many different entries a row of headers gives; 0 where it is too little to be a header row.

    One known word alone may be a title, so one is enough only where it is the stem or the bore. Place, fluid, pressure
    and the like are not enough by themselves, since a cover sheet has them too. Crew, day and the like do not count at
    all, so that a plan of the work is not taken for the list of the valves. All that is said of flanges and the lift
    counts as one entry, and only where some of it is plain: an index of valves has much of it, and no measurement of a
    box.
    """
    known = {entry for header in headers for entry in (header.entry, header.second)} - {"", *PLAN_COLUMNS, *FLANGE_COLUMNS}
    if known <= _ANYWHERE:
        return 0
    count = len(known) + any(header.entry in FLANGE_COLUMNS and header.sure in {"plain", "mapped"} for header in headers)
    if count == 1 and not known & {"stem_diameter_entered", "box_bore_entered"}:
        return 0
    return count


def find(
    rows: Sequence[Sequence[object]], mapped: Mapping[str, str] | None = None, merged: Mapping[tuple[int, int], int] | None = None,
) -> Found | None:  # fmt: skip
    """The header of a list: the first of the rows, or pairs of rows, that give most entries.

    Args:
        rows: the rows in which the header may stand.
        mapped: as for `understand_row`.
        merged: headings over several columns, where the file says so: (row, column) from 0, to the last column.

    Returns:
        The header, or None where no row is one.
    """
    best: Found | None = None
    single = [understand_row(row, mapped) for row in rows]
    scores = [score(row) for row in single]
    for at, row in enumerate(single):
        tried = [Found(at, 1, row, scores[at])]
        if at + 1 < len(rows):
            joined = _joined(rows[at], rows[at + 1], mapped or {}, {key[1]: last for key, last in (merged or {}).items() if key[0] == at})
            if joined is not None and score(joined) >= max(scores[at], scores[at + 1]) and _says_more(rows, single, at, joined):
                tried.insert(0, Found(at, 2, joined, score(joined)))
        for one in tried:
            if one.score > (best.score if best else 0):
                best = one
    return best


def _says_more(rows: Sequence[Sequence[object]], single: Sequence[tuple[Header, ...]], at: int, joined: tuple[Header, ...]) -> bool:
    """Whether two rows read together say more than the better of the two says alone."""
    upper, lower = single[at], single[at + 1]
    alone = upper if score(upper) >= score(lower) else lower
    if score(joined) > score(alone):
        return True
    both = [(one, alone[place] if place < len(alone) else Header("")) for place, one in enumerate(joined)]
    if any(one.entry and (one.entry != other.entry or one.unit != other.unit) for one, other in both):
        return True
    # A lower line that only goes on with the words of the upper one, and so is no valve.
    below = [place for place, cell in enumerate(rows[at + 1]) if not is_blank(cell)]
    return alone is upper and bool(below) and all(place < len(joined) and joined[place].entry for place in below)


def _joined(
    above: Sequence[object], below: Sequence[object], mapped: Mapping[str, str], merged: Mapping[int, int],
) -> tuple[Header, ...] | None:  # fmt: skip
    """Two rows read as one header; None where the lower one is a row of units, of numbers, or of a valve."""
    upper = understand_row(above, mapped)
    if [plain(cell) for cell in above] == [plain(cell) for cell in below] or units_row(below, upper) or not any(map(plain, below)):
        return None
    out: list[Header] = []
    group, reach = "", -1
    for at in range(max(len(above), len(below))):
        own = plain(above[at]) if at < len(above) else ""
        cell = below[at] if at < len(below) else None
        if own:
            # Where the file does not say how far a heading reaches, it reaches to the next one.
            group, reach = own, merged.get(at, -1 if merged else max(len(above), len(below)))
        header = _one_of_two(own, group if own or at <= reach else "", plain(cell), mapped)
        alone = upper[at].entry if at < len(upper) else ""
        is_value = not is_blank(cell) and read_value(cell).number is not None
        # Below "Tag" stands a tag; below the looser "Valve" may stand the header of another column of the valve.
        is_tag = alone == "tag" and plain(cell) and (not upper[at].weak or re.search(r"\d", plain(cell)))
        if (is_value or is_tag) and (not header.entry or (alone and header.entry != alone)):
            return None
        out.append(header)
    return _give_way(out)


def _one_of_two(own: str, group: str, lower: str, mapped: Mapping[str, str]) -> Header:
    """One header of two lines: its own upper text, the heading that it stands below, and its lower text."""
    if not lower:
        return _mapped(understand(own), (), mapped)
    if not group:
        return _mapped(understand(lower), (), mapped)
    text = f"{group} {lower}"
    header = _mapped(understand(text), (lower,), mapped)
    if header.mapped or header.entry:
        return header
    alone = understand(lower)
    if not alone.entry:
        return Header(text)
    unit = heading_unit(group)
    if unit and not alone.unit and fits(unit, MEASURED_AS.get(alone.entry, "length")) and alone.entry in MEASURED_AS:
        return replace(alone, unit=unit, from_above=True)
    return alone


def heading_unit(text: str) -> str:
    """The unit that a heading over several columns, or a line above the table, gives to the lengths below it; "" for none."""
    shown = plain(text).rstrip(".:;!")
    only_units, unit, _ = _unit_of(shown)
    if not only_units:
        front, unit, _ = _split_unit(shown)
        words = re.findall(r"[^\W_]+", front.casefold())
        # The unit may stand in the middle too, as in "All dimensions in mm unless noted"; "in" is a plain word there.
        inner = {unit_name(word) for word in words if word not in _ABOUT_LENGTHS}
        unit = unit or (next(iter(inner)) if len(inner) == 1 else "")
        if inner - {unit}:
            return ""
    return unit if unit and fits(unit, "length") else ""


def units_row(cells: Sequence[object], headers: Sequence[Header]) -> tuple[tuple[str, bool], ...] | None:
    """The units that a row below the header gives.

    Args:
        cells: the row below the header.
        headers: the header row.

    Returns:
        For each header (unit, percent), or None where the row is no units row: it holds only units and blanks, at
        least one of them under a measurement that can have it, and none under a measurement that cannot.
    """
    units: list[tuple[str, bool]] = []
    speaks = False
    for at, header in enumerate(headers):
        text = plain(cells[at]) if at < len(cells) else ""
        inner = _BRACKETED.fullmatch(text)
        text = inner.group(1) if inner else text
        if not text or text.casefold().strip(".") in _UNITLESS:
            units.append(("", False))
            continue
        only_units, unit, percent = _unit_of(text)
        dimension = MEASURED_AS.get(header.entry, "")
        if not only_units or (dimension and unit and not fits(unit, dimension)):
            return None
        speaks |= bool(unit and dimension)
        units.append((meant(unit, dimension), percent))
    return tuple(units) if speaks else None
