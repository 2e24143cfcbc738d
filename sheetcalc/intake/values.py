"""One cell of a list: what number or text stands there, and in which unit.

What can be read in more than one way is read in the way that suits a stuffing box, and the reading says so. A comma
followed by exactly three digits (`1,125`) is a decimal comma: no length, count or share of this job reaches a thousand.
A pressure, a temperature, a stress, a force or a mass may, so there nothing is guessed and the cell stays a text. `1,234.5` and
`1.234,5` are plain, and are thousands.

Two numbers in one cell (`28/44`, `28-30`) are never a number: which is meant is not guessed. A date is never read, but
the fraction that a spreadsheet makes such a date of is named.
"""

from __future__ import annotations

import datetime as dt
import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from sheetcalc.findings import (
    DateNotNumber,
    DateWasFraction,
    Finding,
    GuessedNps,
    NotANumber,
    SizeFromDn,
    TwoNumbers,
    UnclearComma,
    UnclearSize,
    UnknownUnit,
)

#: Blanks that are not the plain one: no-break, figure, thin and narrow no-break space; and two that have no width.
_SPACES: Final = str.maketrans(
    {"\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\u200b": None, "\ufeff": None},
)
_VULGAR: Final = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_SIGNS: Final = str.maketrans({"−": "-", "\u2010": "-", "\u2011": "-", "⁄": "/", "∕": "/"})
#: Text that a person puts where there is nothing to say.
_DASHES: Final = frozenset({"-", "--", "---", "–", "—"})
#: Text that says that nothing is known. An error of a spreadsheet such as #N/A is none: a formula went wrong there.
_NOT_GIVEN: Final = frozenset({
    "?", "??", "???", "(?)", "n/a", "na", "n.a.", "n.a", "n / a", "n/k", "n/m", "tbc", "tbd", "tba", "t.b.c.", "t.b.d.", "to be measured",
    "to measure", "not available", "not applicable",
})  # fmt: skip
#: The same for numbers alone: "none" or "not known" may be what a text means, such as a grade that nobody knows.
_NO_NUMBER_GIVEN: Final = _NOT_GIVEN | {
    "none", "nil", "no", "not fitted", "unknown", "not known", "not measured", "not taken", "missing", "unbekannt", "k.a.", "inconnu",
    "desconocido",
}  # fmt: skip

_LENGTH_UNITS: Final = {
    "mm": "mm", "mms": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "cms": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "ins": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "“": "in", "''": "in",
    "\u2032\u2032": "in", "\u2019\u2019": "in", "zoll": "in", "pouce": "in", "pouces": "in",
    "ft": "ft", "foot": "ft", "feet": "ft",
}  # fmt: skip
#: Spellings of pressures and stresses, in one case and without spaces. What says "gauge" is read as the plain unit.
_PRESSURE_UNITS: Final = {
    "bar": "bar", "bars": "bar", "mbar": "mbar", "mbars": "mbar", "millibar": "mbar", "kpa": "kPa", "kilopascal": "kPa", "mpa": "MPa",
    "megapascal": "MPa", "psi": "psi", "psig": "psi", "barg": "bar", "mbarg": "mbar", "kpag": "kPa", "mpag": "MPa", "ksi": "ksi",
    "lb/in2": "psi", "lbf/in2": "psi", "lb/sqin": "psi", "n/mm2": "MPa", "kgf/cm2": "kgf/cm^2", "kg/cm2": "kgf/cm^2",
    "kgf/cm2g": "kgf/cm^2", "kg/cm2g": "kgf/cm^2",
}  # fmt: skip
_TEMPERATURE_UNITS: Final = {
    "°c": "degC", "c": "degC", "degc": "degC", "celsius": "degC", "°celsius": "degC", "centigrade": "degC",
    "°f": "degF", "f": "degF", "degf": "degF", "fahrenheit": "degF", "°fahrenheit": "degF",
    "k": "K", "kelvin": "K", "°k": "K", "kelvins": "K",
}  # fmt: skip
_FORCE_UNITS: Final = {
    "n": "N", "newton": "N", "newtons": "N", "kn": "kN", "kilonewton": "kN", "kilonewtons": "kN", "lbf": "lbf", "lbsf": "lbf",
    "kgf": "kgf", "kp": "kgf",
}  # fmt: skip
#: A plain ton is none of them: it may be short, long or metric.
_MASS_UNITS: Final = {
    "kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "kilogramme": "kg", "kilogrammes": "kg",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "lbm": "lb",
    "t": "t", "te": "t", "tonne": "t", "tonnes": "t", "metric ton": "t", "metric tons": "t",
}  # fmt: skip
#: A weight in a column for a force can only mean the force, and the other way.
_MEANT: Final = {("kg", "force"): "kgf", ("lb", "force"): "lbf", ("kgf", "mass"): "kg", ("lbf", "mass"): "lb"}
_ANGLE_UNITS: Final = {"°": "deg", "deg": "deg", "degs": "deg", "degree": "deg", "degrees": "deg"}
#: Hours of work. Minutes and days are not among them: a day has as many as the shift is long.
_TIME_UNITS: Final = dict.fromkeys(
    (
        "h", "hr", "hrs", "hour", "hours", "mh", "mhr", "mhrs", "manhour", "manhours", "manhrs", "man-hour", "man-hours", "man-hrs",
        "man-h", "labour hours", "labor hours", "person-hours", "stunden",
    ),
    "h",
)  # fmt: skip
_UNIT_NAMES: Final = _LENGTH_UNITS | _PRESSURE_UNITS | _TEMPERATURE_UNITS | _FORCE_UNITS | _MASS_UNITS | _ANGLE_UNITS | _TIME_UNITS
#: The units that a measurement may be given in, by dimension, under the names that `sheetcalc.units` knows.
UNITS: Final = {
    "length": frozenset(_LENGTH_UNITS.values()),
    "pressure": frozenset(_PRESSURE_UNITS.values()),
    "stress": frozenset(_PRESSURE_UNITS.values()),
    "temperature": frozenset(_TEMPERATURE_UNITS.values()),
    "force": frozenset(_FORCE_UNITS.values()),
    "mass": frozenset(_MASS_UNITS.values()),
    "angle": frozenset(_ANGLE_UNITS.values()),
    "time": frozenset(_TIME_UNITS.values()),
}
_UNIT_SETS: Final = {
    "metric": "metric", "mm": "metric", "si": "metric", "m": "metric", "millimetre": "metric", "millimetres": "metric",
    "millimeter": "metric", "millimeters": "metric", "metric mm": "metric", "mm metric": "metric", "metrisch": "metric",
    "metrique": "metric", "metric units": "metric",
    "us": "US", "in": "US", "inch": "US", "inches": "US", "ins": "US", '"': "US", "″": "US", "”": "US", "''": "US",
    "imperial": "US", "uscs": "US", "us customary": "US", "usa": "US", "usc": "US", "english": "US", "zoll": "US",
    "us units": "US", "us inch": "US", "imp": "US",
}  # fmt: skip
#: The answers to a question of yes or no.
_YES_NO: Final = {
    "yes": "yes", "y": "yes", "x": "yes", "true": "yes", "1": "yes", "ja": "yes", "j": "yes", "oui": "yes", "si": "yes", "sí": "yes",
    "✓": "yes", "✔": "yes",
    "no": "no", "n": "no", "false": "no", "0": "no", "nein": "no", "non": "no",
}  # fmt: skip
_NOT_STATED: Final = dict.fromkeys(
    ("not stated", "unstated", "not known", "unknown", "not said", "not given", "?", "n/s"),
    "not stated",
)
_CODES: Final[dict[str, dict[str, str]]] = {
    "packing_form_entered": {
        "braid": "braid", "braided": "braid", "plaited": "braid", "plait": "braid", "braided packing": "braid",
        "braid packing": "braid", "rope": "braid", "coil": "braid", "spool": "braid", "braided rope": "braid",
        "die formed": "die-formed", "dieformed": "die-formed", "die formed ring": "die-formed",
        "die formed rings": "die-formed", "preformed": "die-formed", "pre formed": "die-formed", "formed": "die-formed",
        "pressed": "die-formed", "preformed rings": "die-formed", "pre formed rings": "die-formed",
        "die moulded": "die-formed", "die molded": "die-formed",
        "moulded": "moulded", "molded": "moulded", "moulded ring": "moulded", "molded ring": "moulded", "moulded rings": "moulded",
        "molded rings": "moulded", "moulding": "moulded", "molding": "moulded",
        "loose": "loose", "loose packing": "loose", "loose fill": "loose", "loose fibre": "loose", "loose fiber": "loose",
        "shredded": "loose", "shreds": "loose", "shredded packing": "loose", "bulk": "loose", "bulk packing": "loose", "in bulk": "loose",
    },
    "cut_style_entered": {
        "butt": "butt", "butt cut": "butt", "butt joint": "butt", "square": "butt", "square cut": "butt",
        "straight": "butt", "straight cut": "butt", "90": "butt", "90°": "butt", "90 deg": "butt",
        "skive": "skive", "skived": "skive", "skive cut": "skive", "scarf": "skive", "scarfed": "skive",
        "scarf cut": "skive", "bevel": "skive", "bevelled": "skive", "beveled": "skive", "diagonal": "skive",
        "diagonal cut": "skive", "mitre": "skive", "miter": "skive", "45": "skive", "45°": "skive", "45 deg": "skive",
        "angled": "skive", "angle cut": "skive",
    },
    "section_list_entered": {
        "by unit set": "by unit set", "unit set": "by unit set", "as unit set": "by unit set", "auto": "by unit set",
        "inch": "inch", "inches": "inch", "in": "inch", '"': "inch", "imperial": "inch", "us": "inch",
        "metric": "metric", "mm": "metric", "both": "both", "either": "both", "all": "both", "metric and inch": "both",
        "inch and metric": "both",
    },
    "fluid_kind_entered": {
        "not stated": "not stated", "unstated": "not stated", "not known": "not stated", "unknown": "not stated", "not said": "not stated",
        "not given": "not stated", "?": "not stated", "n/s": "not stated",
        "water": "water", "hot water": "water", "cold water": "water", "cooling water": "water", "feed water": "water",
        "feedwater": "water", "h2o": "water", "wasser": "water", "eau": "water",
        "steam": "steam", "wet steam": "steam", "dry steam": "steam", "saturated steam": "steam", "superheated steam": "steam",
        "dampf": "steam", "vapeur": "steam",
        "oil": "oil", "oils": "oil", "mineral oil": "oil", "thermal oil": "oil", "fuel oil": "oil", "hot oil": "oil",
        "gas": "gas", "gases": "gas", "gaseous": "gas", "natural gas": "gas", "fuel gas": "gas",
        "chemical": "chemical", "chemicals": "chemical", "chem": "chemical",
        "oxygen": "oxygen", "o2": "oxygen", "liquid oxygen": "oxygen", "gaseous oxygen": "oxygen",
    },
    "stem_motion_entered": {
        "not stated": "not stated", "unstated": "not stated", "not known": "not stated", "unknown": "not stated", "not said": "not stated",
        "not given": "not stated", "?": "not stated", "n/s": "not stated",
        "rising": "rising", "rising stem": "rising", "rises": "rising", "rising only": "rising", "sliding": "rising",
        "sliding stem": "rising", "linear": "rising", "rising not rotating": "rising", "rising non rotating": "rising",
        "rising rotating": "rising-rotating", "rising and rotating": "rising-rotating", "rising & rotating": "rising-rotating",
        "rising, rotating": "rising-rotating", "rising/rotating": "rising-rotating",
        "rising + rotating": "rising-rotating", "rising rotating stem": "rising-rotating",
        "rotating rising": "rising-rotating", "rotating and rising": "rising-rotating", "rotating/rising": "rising-rotating",
        "rises and rotates": "rising-rotating", "rises and turns": "rising-rotating", "rising and turning": "rising-rotating",
        "rotating": "rotating", "rotating stem": "rotating", "rotates": "rotating", "turning": "rotating", "turns": "rotating",
        "non rising": "rotating", "nonrising": "rotating", "non rising stem": "rotating", "not rising": "rotating",
        "rotating non rising": "rotating", "rotating only": "rotating",
        "quarter turn": "quarter-turn", "quarterturn": "quarter-turn", "1/4 turn": "quarter-turn", "1/4turn": "quarter-turn",
        "¼ turn": "quarter-turn", "¼turn": "quarter-turn", "quarter": "quarter-turn", "qtr turn": "quarter-turn",
        "90° turn": "quarter-turn",
        "90 deg turn": "quarter-turn", "90°": "quarter-turn", "90 deg": "quarter-turn", "90": "quarter-turn",
    },
    "packing_state_entered": {
        "dry": "dry", "unlubricated": "dry", "un lubricated": "dry", "not lubricated": "dry", "non lubricated": "dry",
        "no lubricant": "dry",
        "without lubricant": "dry", "unlubed": "dry", "dry packing": "dry",
        "lubricated": "lubricated", "lubed": "lubricated", "lube": "lubricated", "lubricant": "lubricated", "with lubricant": "lubricated",
        "greased": "lubricated", "oiled": "lubricated", "lubricated packing": "lubricated",
    },
    "gland_kind_entered": {
        "studs": "studs", "stud": "studs", "gland studs": "studs", "studded": "studs", "stud and nut": "studs", "studs and nuts": "studs",
        "bolt": "studs", "bolts": "studs", "bolted": "studs", "bolted gland": "studs", "gland bolts": "studs", "eyebolts": "studs",
        "eye bolts": "studs", "swing bolts": "studs",
        "packing nut": "packing nut", "nut": "packing nut", "packingnut": "packing nut", "gland nut": "packing nut",
        "screwed": "packing nut", "screwed gland": "packing nut", "union nut": "packing nut",
        "live loaded": "live-loaded", "liveloaded": "live-loaded", "live load": "live-loaded", "live loading": "live-loaded",
        "live loaded studs": "live-loaded", "spring loaded": "live-loaded", "springs": "live-loaded", "disc springs": "live-loaded",
    },
    "gland_nut_kind_entered": {
        "by thread": "by thread", "by the thread": "by thread", "as thread": "by thread", "auto": "by thread",
        "heavy hex": "heavy hex", "heavy": "heavy hex", "heavy hexagon": "heavy hex", "heavy hexagonal": "heavy hex",
        "heavy hex nut": "heavy hex", "heavy hex nuts": "heavy hex", "heavy series": "heavy hex", "hvy hex": "heavy hex",
        "hvy": "heavy hex",
        "hex": "hex", "hexagon": "hex", "hexagonal": "hex", "hex nut": "hex", "hex nuts": "hex", "ordinary hex": "hex", "ordinary": "hex",
        "plain hex": "hex", "normal hex": "hex", "regular hex": "hex", "regular": "hex", "standard hex": "hex", "iso hex": "hex",
        "iso 4032": "hex",
        "old din hex": "old DIN hex", "old din": "old DIN hex", "din 934": "old DIN hex", "din934": "old DIN hex",
        "old din 934": "old DIN hex", "din hex": "old DIN hex", "din": "old DIN hex", "old din hexagon": "old DIN hex",
    },
    "critical_entered": _YES_NO | {"critical": "yes", "critical path": "yes", "not critical": "no", "non critical": "no"},
    "comes_out_entered": _YES_NO | {
        "comes out": "yes", "out": "yes", "remove": "yes", "removed": "yes", "to be removed": "yes", "take out": "yes", "taken out": "yes",
        "off line": "yes", "offline": "yes", "shop": "yes", "workshop": "yes", "to shop": "yes", "to workshop": "yes",
        "stays": "no", "stays in": "no", "stays in line": "no", "in line": "no", "inline": "no", "in situ": "no", "in place": "no",
    },
    "flange_studs_renewed_entered": _YES_NO | {
        "new": "yes", "renew": "yes", "renewed": "yes", "replace": "yes", "replaced": "yes", "to be renewed": "yes",
        "old": "no", "reuse": "no", "re use": "no", "reused": "no", "re used": "no", "keep": "no", "existing": "no",
    },
    "valve_actuated_entered": _YES_NO | {
        "actuated": "yes", "actuator": "yes", "with actuator": "yes", "motor": "yes", "motor operated": "yes", "electric": "yes",
        "electric actuator": "yes", "electric motor": "yes", "pneumatic": "yes", "pneumatic actuator": "yes", "air": "yes",
        "air operated": "yes", "hydraulic": "yes", "hydraulic actuator": "yes", "diaphragm": "yes", "diaphragm actuator": "yes",
        "piston": "yes", "solenoid": "yes", "mov": "yes", "aov": "yes", "hov": "yes",
        "none": "no", "no actuator": "no", "without": "no", "without actuator": "no", "manual": "no", "hand": "no", "by hand": "no",
        "handwheel": "no", "hand wheel": "no", "hand operated": "no", "lever": "no",
    },
    "flange_facing_entered": _NOT_STATED | {
        "raised face": "raised face", "rf": "raised face", "r.f.": "raised face", "raised": "raised face", "raised faced": "raised face",
        "raised face flange": "raised face", "raised face (rf)": "raised face", "rf raised face": "raised face",
        "flat face": "flat face", "ff": "flat face", "f.f.": "flat face", "flat": "flat face", "flat faced": "flat face",
        "full face": "flat face", "plain face": "flat face", "flat face (ff)": "flat face", "ff flat face": "flat face",
        "ring joint": "ring joint", "rtj": "ring joint", "rj": "ring joint", "r.t.j.": "ring joint", "r.j.": "ring joint",
        "ring type joint": "ring joint", "ring type": "ring joint", "ring groove": "ring joint", "ring type joint (rtj)": "ring joint",
        "lap joint": "lap joint", "lj": "lap joint", "l.j.": "lap joint", "lap": "lap joint", "lapped": "lap joint",
        "lapped joint": "lap joint", "lap joint stub end": "lap joint", "stub end": "lap joint",
        "wafer, lug or tapped": "wafer, lug or tapped", "wafer": "wafer, lug or tapped", "lug": "wafer, lug or tapped",
        "lugged": "wafer, lug or tapped", "lugs": "wafer, lug or tapped", "tapped": "wafer, lug or tapped",
        "wafer/lug": "wafer, lug or tapped", "wafer / lug": "wafer, lug or tapped", "lug/wafer": "wafer, lug or tapped",
        "wafer lug": "wafer, lug or tapped", "wafer or lug": "wafer, lug or tapped", "wafer type": "wafer, lug or tapped",
        "lug type": "wafer, lug or tapped", "lugged wafer": "wafer, lug or tapped", "tapped lug": "wafer, lug or tapped",
        "tapped lugs": "wafer, lug or tapped", "tapped holes": "wafer, lug or tapped", "threaded lug": "wafer, lug or tapped",
    },
    "flange_material_entered": _NOT_STATED | dict.fromkeys(
        (
            "steel", "cs", "c.s.", "carbon steel", "c steel", "mild steel", "cast steel", "forged steel", "wcb", "a216", "a216 wcb", "wcc",
            "lcb", "lcc", "a105", "a105n", "a350 lf2", "lf2", "ss", "s.s.", "stainless", "stainless steel", "ss304", "ss 304", "ss316",
            "ss 316", "304", "304l", "316", "316l", "cf8", "cf8m", "f304", "f316", "duplex", "duplex stainless", "duplex stainless steel",
            "alloy", "alloy steel", "low alloy steel", "as", "wc6", "wc9", "c5", "f11", "f22",
        ),
        "steel",
    ) | dict.fromkeys(
        (
            "cast iron", "ci", "c.i.", "iron", "grey iron", "gray iron", "grey cast iron", "gray cast iron", "ductile iron", "ductile",
            "ductile cast iron", "di", "d.i.", "nodular iron", "sg iron", "s.g. iron", "spheroidal graphite iron", "malleable iron",
        ),
        "cast iron",
    ) | dict.fromkeys(
        (
            "other", "bronze", "brass", "gunmetal", "gun metal", "copper alloy", "aluminium", "aluminum", "titanium", "nickel alloy", "frp",
            "grp", "fibreglass", "fiberglass", "pvc", "cpvc", "pp", "polypropylene", "pvdf", "plastic", "lined", "rubber lined",
        ),
        "other",
    ),
    "gasket_kind": dict.fromkeys(
        (
            "spiral wound", "sw", "s.w.", "spiral", "spirally wound", "spiral wound gasket", "swg", "spiral wound graphite", "sw graphite",
            "spiral wound with outer ring", "spiral wound with graphite",
        ),
        "spiral wound",
    ) | dict.fromkeys(
        (
            "spiral wound with inner ring", "spiral wound inner ring", "spiral wound ir", "spiral wound + inner ring", "sw ir", "swg ir",
            "sw+ir", "swg+ir", "sw + ir", "swg + ir", "sw/ir", "swg/ir", "swg with inner ring", "sw with inner ring",
            "spiral wound with ir", "spiral wound with inner and outer ring", "spiral wound with inner and outer rings",
            "spiral wound, inner ring", "spiral wound, with inner ring",
        ),
        "spiral wound with inner ring",
    ) | dict.fromkeys(
        (
            "flexible graphite sheet", "graphite sheet", "graphite", "flexible graphite", "expanded graphite", "exfoliated graphite",
            "sheet graphite", "graphite gasket", "flat graphite", "expanded graphite sheet",
        ),
        "flexible graphite sheet",
    ) | dict.fromkeys(
        (
            "elastomer sheet", "elastomer", "elastomeric", "rubber", "rubber sheet", "sheet rubber", "rubber gasket", "natural rubber",
            "epdm", "epdm rubber", "epdm sheet", "neoprene", "neoprene sheet", "chloroprene", "nbr", "nitrile", "nitrile rubber", "butyl",
            "sbr", "fkm",
        ),
        "elastomer sheet",
    ),
}  # fmt: skip
#: What a lone dash means where it is an answer, not a blank.
_DASH_MEANS: Final = dict.fromkeys(
    ("critical_entered", "comes_out_entered", "flange_studs_renewed_entered", "valve_actuated_entered"),
    "no",
)
#: The number of a crew or a day with the word for it: "Crew 2", "day no. 3", "2nd". A hyphen is none of it, since day -1 is one before.
_NUMBERED: Final = {
    entry: re.compile(
        rf"(?:(?:(?:{words})\b\.?\s*)?(?:no|nr)\.?|(?:{words}))?\s*[:#]?\s*(?P<number>\d{{1,4}})(?:(?:st|nd|rd|th)(?:\s+(?:{words}))?)?",
        re.IGNORECASE | re.ASCII,
    )
    for entry, words in {"crew_number_entered": "crew|team|gang", "job_day_entered": "day|d"}.items()
} | {
    # "Class 300", "ANSI 150#", "600 lb"; the comma of "1,500" parts thousands, since no class has a fraction.
    "flange_class_entered": re.compile(
        r"(?:(?:asme|ansi|b\s*16\.5|pressure|flange|class|cl|#)(?:[\s.:#-]+|(?=\d)))*(?P<number>\d{2,4}|\d,\d{3})"
        r"\s*(?:#|lbs?\.?|pounds?|class|cl\.?|ansi|asme)?",
        re.IGNORECASE | re.ASCII,
    ),
    "sling_legs_entered": re.compile(
        r"(?P<number>\d{1,2})\s*-?\s*(?:legs?|legged)(?:\s+(?:chain\s+|wire\s+rope\s+)?(?:slings?|bridles?))?", re.IGNORECASE | re.ASCII
    ),
}
#: A flange by its nominal pressure in bar, which no table of classes holds.
_PN: Final = re.compile(r"(?:din\s*|en\s*(?:1092(?:-\d)?\s*)?)?(?:pn|nd)\s*[-.:]?\s*\d{1,3}(?:[.,]\d)?", re.IGNORECASE | re.ASCII)
#: Coarse pitch in mm of the metric threads that have a key.
COARSE_PITCH: Final = {
    6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3.0, 27: 3.0, 30: 3.5,
    33: 3.5, 36: 4.0, 39: 4.0,
}  # fmt: skip
#: Threads per inch of the inch threads that have a key: coarse to 1 in, eight from there on.
INCH_THREADS: Final = {
    "1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 13, "9/16": 12, "5/8": 11, "3/4": 10, "7/8": 9, "1": 8,
    "1 1/8": 8, "1 1/4": 8, "1 3/8": 8, "1 1/2": 8, "1 5/8": 8, "1 3/4": 8, "1 7/8": 8, "2": 8, "2 1/4": 8, "2 1/2": 8,
}  # fmt: skip
#: Nominal pipe sizes in inches that have a flange in the tables.
NPS: Final = {
    0.5: "1/2", 0.75: "3/4", 1.0: "1", 1.25: "1 1/4", 1.5: "1 1/2", 2.0: "2", 2.5: "2 1/2", 3.0: "3", 3.5: "3 1/2", 4.0: "4", 5.0: "5",
    6.0: "6", 8.0: "8", 10.0: "10", 12.0: "12", 14.0: "14", 16.0: "16", 18.0: "18", 20.0: "20", 22.0: "22", 24.0: "24",
}  # fmt: skip
#: The same sizes as DN (ISO 6708), and the NPS in inches of each, as ASME B36.10M pairs them.
DN: Final[dict[float, float]] = {
    15: 0.5, 20: 0.75, 25: 1.0, 32: 1.25, 40: 1.5, 50: 2.0, 65: 2.5, 80: 3.0, 90: 3.5, 100: 4.0, 125: 5.0, 150: 6.0, 200: 8.0, 250: 10.0,
    300: 12.0, 350: 14.0, 400: 16.0, 450: 18.0, 500: 20.0, 550: 22.0, 600: 24.0,
}  # fmt: skip
#: What a word or a unit beside a size says of it.
_KIND_OF_SIZE: Final = {"NPS": "NPS", "in": "NPS", "DN": "DN", "mm": "DN"}
#: Bare numbers that are an NPS, and a DN too: among bare numbers that can only be DN they may be either.
_EITHER: Final = frozenset({6.0, 8.0, 10.0, 20.0})
_SIZE: Final = re.compile(
    r"(?:(?P<before>nps|dn|nb)[\s.:-]*)?(?P<number>[^a-z]*?(?:\s*(?:mm|in(?:s|ch(?:es)?)?\.?))?)\s*(?P<after>nps|dn|nb)?",
    re.IGNORECASE | re.ASCII,
)
#: One size said twice, as DN and in inches: DN 50 (2").
_SIZE_TWICE: Final = (
    re.compile(r"(?P<dn>dn\s*-?\s*\d{2,3})\b(?:\s*mm)?\s*[/(=,;]\s*(?P<other>[^()]+?)\s*\)?", re.IGNORECASE | re.ASCII),
    re.compile(r"(?P<other>[^()]+?)\s*[/(=,;]\s*(?P<dn>dn\s*-?\s*\d{2,3})\b(?:\s*mm)?\s*\)?", re.IGNORECASE | re.ASCII),
)

_SIMPLE: Final = re.compile(r"[+-]?\d{1,15}(?:\.\d*)?", re.ASCII)
_NUMBER: Final = re.compile(
    r"""(?P<sign>[+-]?)\s*(?:[ØøΦ⌀∅]\s*)?(?:
        (?:(?P<whole>\d{1,6})(?:\s*-\s*|\s+))?(?P<top>\d{1,6})\s*/\s*(?P<bottom>\d{1,6})(?![\d.,/])
      | (?P<decimal>(?:\d|[.,](?=\d))(?:[\d.,]*\d)?\.?(?:[eE][+-]?\d{1,3}(?!\w))?)
    )\s*(?P<rest>.*)""",
    re.VERBOSE | re.DOTALL | re.ASCII,
)
_GROUPED: Final = re.compile(r"\d{1,3}(?:[\u00a0\u202f\u2009]\d{3})+(?![\d/\u00a0\u202f\u2009])")
_DATE: Final = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}(?:[ T].*)?|\d{1,2}([/.-])\d{1,2}\1\d{2,4}"
    r"|\d{1,2}[ .-]*(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?(?:[ -]\d{2,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[. -]+\d{1,4}",
    re.IGNORECASE | re.ASCII,
)
_MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
#: What marks a number as rough or doubtful, before and after it.
_ROUGH: Final = re.compile(
    r"(?P<before>(?:~|≈|≅|approx\.?|approximately|about|abt\.?|around|circa|ca\.?|c\.|roughly|say|est\.?|rund|etwa|env\.?)\s*)?(?P<number>.*?)"
    r"(?P<after>\s*(?:\?+|\(\?+\)|\*+|~|\(?(?:approx\.?|about|ca\.?|est\.?|estimated|or so|rough|roughly)\)?))?",
    re.IGNORECASE | re.DOTALL,
)
_PLAIN_NUMBER: Final = r"[Øø⌀]?\s*[+-]?\d{1,7}(?:[.,]\d{1,4})?"
#: Two numbers with something between them, and perhaps a unit after each.
_TWO: Final = re.compile(
    rf"(?P<first>{_PLAIN_NUMBER})\s*(?P<unit>(?!(?:x|to|and|or|bis)\b)[a-z°\"″]{{1,4}})?(?:\s*(?:/|-|–|x|×|\.\.+|…|;|\||&|\bto\b|\band\b|\bor\b|\bbis\b)\s*|\s+)"
    rf"(?P<second>{_PLAIN_NUMBER})\s*(?P<rest>\D*)",
    re.IGNORECASE | re.ASCII,
)
#: What parts the two numbers of a pair, from the plainest on: a stroke may belong to a fraction.
_PAIR_MARKS: Final = (r"\s*[x×;|&]\s*", r"\s+/\s+", r"\s*/\s*")
_APOSTROPHES: Final = re.compile(r"(?<![\d'])\d{1,3}(?:['’]\d{3})+(?!\d)")
_SPACED: Final = re.compile(r"(?<![\d ])\d{1,3}(?: \d{3})+(?! ?[\d/]|[.,]\d{3})")
_COUNT_WORDS: Final = frozenset(
    {"rings", "ring", "pcs", "pc", "ea", "off", "no", "nos", "x", "studs", "stud", "bolts", "bolt", "starts", "start"}
    | {"gasket", "gaskets", "end rings", "new", "new studs", "joint", "joints", "flange", "flanges", "flanged joints"}
)
#: Spellings of one unit made one: the sign for degrees, squares, and gauge pressure, with or without brackets.
_ONE_SPELLING: Final = (
    (re.compile("\u2103"), "°C"),
    (re.compile("\u2109"), "°F"),
    (re.compile("[\u00ba\u02da]"), "°"),
    (re.compile(r"²|\^\s*2"), "2"),
    (re.compile(r"(?:°|\bdeg(?:ree)?s?(?![a-z]))\.?\s*(celsius|fahrenheit|[CFK])\b(?!\w)", re.IGNORECASE), r"°\1"),
    (
        re.compile(r"\b(m?bar|psi|kpa|mpa|kgf?/cm2)(?:\s*\(\s*(?:g|ga|gauge)\s*\)|\s*(?:g|ga|gauge)(?!\w))", re.IGNORECASE),
        r"\1g",
    ),
)
#: A text that looks like a unit, known or not; absolute pressures are such, since no gauge pressure is made of them here.
_UNIT_LIKE: Final = re.compile(r"[^\W\d_]+\.?(?:\s*/\s*[^\W\d_]+2?)?(?:\s*\(?\s*a(?:bs(?:olute)?\.?)?\s*\)?)?|°\w?|'|\u2032")
_PERCENT_WORDS: Final = frozenset({"%", "percent", "per cent", "pct"})
#: A longer text is a remark, not a measurement or a code.
_LONGEST: Final = 60
#: What may be less than one and typed as a fraction.
_WITH_FRACTIONS: Final = frozenset({"length", ""})
#: What may well be a thousand and more, so that a comma before three digits says nothing.
_BEYOND_A_THOUSAND: Final = frozenset({"pressure", "stress", "temperature", "force", "mass"})
#: The finest division of an inch rule.
_FINEST: Final = 128
_METRIC_THREAD: Final = re.compile(r"M\s*(\d{1,2})(?:\s*[x×*-]\s*(\d(?:[.,]\d+)?))?", re.IGNORECASE | re.ASCII)
_INCH_THREAD: Final = re.compile(
    r"(?P<size>(?:\d(?:\s*-\s*|\s+))?\d{1,2}\s*/\s*\d{1,2}|\d)\s*(?:\"|″|”|''|in\.?|inch)?"
    r"(?:\s*[-x×]\s*(?P<pitch>\d{1,2})(?:\s*tpi)?)?[\s-]*(?P<series>UNC|8\s*-?\s*UN|UN)?(?:[\s-]*2[AB])?",
    re.IGNORECASE | re.ASCII,
)


@dataclass(frozen=True)
class Reading:
    """What one cell says.

    `number` is None where the cell is blank or no number; `unit` is one of UNITS, "%" or "" as the cell itself states;
    `fault` is the finding's class where it could not be read; `guessed_comma` says that a comma was taken for a decimal
    one; `bottom` is the denominator of a fraction, 1 for none; `blank` says that nothing stands there, and `not_given`
    that it says so in words. `rough` says that the number is marked as rough, `thousands` that a space or an apostrophe
    was taken for a mark of thousands. `fractions` are what a date may have been typed as, the likeliest first.
    """

    number: float | None = None
    unit: str = ""
    fault: type[Finding] | None = None
    guessed_comma: bool = False
    bottom: int = 1
    blank: bool = False
    not_given: bool = False
    rough: bool = False
    thousands: bool = False
    fractions: tuple[str, ...] = ()


_BLANK: Final = Reading(blank=True)
_NO_NUMBER: Final = Reading(fault=NotANumber)


def plain(cell: object) -> str:
    """Any cell as text on one line, with plain spaces, trimmed; "" for a blank one."""
    return " ".join(written(cell).translate(_SPACES).split())


def written(cell: object) -> str:
    """Any cell as text, as the user sees it: 101.0 is "101", a truth value TRUE or FALSE, a date its ISO form."""
    if cell is None or isinstance(cell, str):
        return cell or ""
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:  # noqa: PLR2004 - whole digits of a float
        return str(int(cell))
    if isinstance(cell, dt.datetime):
        return cell.isoformat(sep=" ").removesuffix(" 00:00:00")
    return str(cell)


def is_blank(cell: object) -> bool:
    """Whether a cell holds nothing but spaces."""
    return cell is None or (isinstance(cell, str) and not cell.translate(_SPACES).strip())


def is_date(cell: object) -> bool:
    """Whether a spreadsheet holds a date, a time or a span of time there."""
    return isinstance(cell, (dt.date, dt.time, dt.timedelta))


def one_spelling(text: str) -> str:
    """A text with the units in it in one spelling: "deg C" and "º C" are "°C", "bar (g)" is "barg", "mm²" is "mm2"."""
    for pattern, spelling in _ONE_SPELLING:
        text = pattern.sub(spelling, text)
    return text


def unit_name(text: str) -> str:
    """The unit of any dimension that a text spells, as `sheetcalc.units` names it (mm, bar, degC), or ""."""
    key = one_spelling(plain(text)).casefold().rstrip(".")
    # Spaces and points inside, as in "lb / sq. in", are let pass but in lengths: "m m" may be anything.
    bare = key.replace(" ", "").replace(".", "")
    return _UNIT_NAMES.get(key) or ("" if bare in _LENGTH_UNITS else _UNIT_NAMES.get(bare, ""))


def fits(unit: str, dimension: str) -> bool:
    """Whether a unit is one of a dimension, a key of UNITS, or can only mean one of it: "kg" in a column for a force."""
    return meant(unit, dimension) in UNITS[dimension]


def meant(unit: str, dimension: str) -> str:
    """The unit that a word for a weight means in a column for a force, or for a force in one for a mass; any other as it is."""
    return _MEANT.get((unit, dimension), unit)


def read_value(cell: object, *, counts: bool = False, dimension: str = "length") -> Reading:
    """What number stands in a cell, and in which unit.

    Args:
        cell: a value of a spreadsheet, or the text of a CSV cell.
        counts: whether words such as "rings" and "pcs" may follow the number.
        dimension: a key of UNITS, whose units may follow the number; "" for a number that has no unit.

    Returns:
        The number in the cell's own unit; a share stays as written (30 for "30 %", unit "%"). A date is no number: its
        fault is DateWasFraction where a spreadsheet makes such a date of a fraction, else DateNotNumber. Never raises.
    """
    if cell is None or isinstance(cell, str):
        return _read_text(cell or "", counts, dimension)
    if isinstance(cell, (dt.date, dt.time, dt.timedelta)):
        return _read_date(cell)
    if isinstance(cell, bool) or not isinstance(cell, (int, float)):
        return _NO_NUMBER
    try:
        number = float(cell)
    except OverflowError:
        number = math.inf
    return Reading(number) if math.isfinite(number) else _NO_NUMBER


def _read_date(cell: dt.date | dt.time | dt.timedelta) -> Reading:
    """A date of a spreadsheet: no number, but perhaps a fraction once."""
    if not isinstance(cell, dt.date):
        return Reading(fault=DateNotNumber)
    return _was(date_fractions(cell.day, cell.month, cell.year))


def _was(fractions: tuple[str, ...]) -> Reading:
    """The reading of a date that may have been one of these fractions."""
    return Reading(fault=DateWasFraction if fractions else DateNotNumber, fractions=fractions)


def date_fractions(day: int | None, month: int, year: int | None) -> tuple[str, ...]:
    """The fractions of an inch rule that a spreadsheet makes such a date of, the likeliest first.

    What a spreadsheet does with a stroke is common practice, no source: 5/16 becomes the 16th of May where months come
    first, 1/8 the 1st of August where days do, 5/32 the month of May 1932, since no month has 32 days, and 1-5/16 the
    5th of January 2016.

    Args:
        day: the day of the month; None where a text gives month and year alone.
        month: the month from 1.
        year: the year with its four digits; None where a text gives none.

    Returns:
        Texts such as "5/16" or "1 5/16"; none where no fraction becomes that date.
    """
    out: list[str] = []
    bottom = year % 100 if year is not None else 0
    if day in {None, 1} and bottom in {32, 64} and month % 2:
        out.append(f"{month}/{bottom}")
    if day is None:
        # "May-16" in a text file is the month of 2016 or the 16th of May.
        return tuple(out) or ((f"{month}/{bottom}",) if _on_a_rule(month, bottom) else ())
    out += [f"{top}/{below}" for top, below in ((month, day), (day, month)) if _on_a_rule(top, below)]
    out += [f"{whole} {top}/{bottom}" for whole, top in ((month, day), (day, month)) if _on_a_rule(top, bottom)]
    return tuple(dict.fromkeys(out))


def _on_a_rule(top: int, bottom: int) -> bool:
    """Whether a fraction in its lowest terms stands on an inch rule: halves to 16ths, as dates can hold no finer ones."""
    return bottom in {2, 4, 8, 16} and top < bottom and top % 2 == 1


def _dated(text: str) -> tuple[str, ...]:
    """`date_fractions` of a date in words or figures."""
    parts = re.findall(r"[a-z]+|\d+", text.partition(" 00:")[0].casefold())
    named = next((at for at, part in enumerate(parts) if part[:3] in _MONTHS), None)
    if named is not None:
        month = _MONTHS.index(parts.pop(named)[:3]) + 1
        if named == 0 and len(parts) == 1:
            number = int(parts[0])
            return date_fractions(None, month, number)
        return date_fractions(int(parts[0]), month, int(parts[1]) if len(parts) > 1 else None)
    numbers = [int(part) for part in parts if part.isdigit()][:3]
    if len(numbers) < 3:  # noqa: PLR2004 - day, month and year
        return ()
    if len(re.match(r"\d+", text).group()) == 4:  # type: ignore[union-attr]  # noqa: PLR2004 - a year
        year, month, day = numbers
    else:
        day, month, year = numbers
        if month > 12 or "/" in text:  # noqa: PLR2004 - months of a year
            day, month = month, day
    return date_fractions(day, month, year) if 1 <= month <= 12 else ()  # noqa: PLR2004 - months of a year


@lru_cache(maxsize=65536)
def _read_text(text: str, counts: bool, dimension: str) -> Reading:  # noqa: FBT001 - positional for the cache
    """`read_value` of a text."""
    if _SIMPLE.fullmatch(text):
        return Reading(float(text))
    if len(text.strip()) > _LONGEST:
        return _NO_NUMBER
    bare = plain(_GROUPED.sub(lambda found: re.sub(r"\D", "", found.group()), text)).translate(_SIGNS)
    for sign, fraction in _VULGAR.items():
        if dimension in {"time", "mass"} and bare.startswith(sign):
            # A typed 1/2 may be one hour or two, this sign is half of one.
            bare = f"0 {fraction}{bare[1:]}"
        bare = bare.replace(sign, f" {fraction}")
    bare = bare.strip()
    if not bare or bare in _DASHES:
        return _BLANK
    if says_not_given(bare, number=True):
        return Reading(blank=True, not_given=True)
    if _DATE.fullmatch(bare):
        return _was(_dated(bare))
    reading = _read_bare(bare, counts, dimension)
    return _read_marked(bare, counts, dimension, reading) if reading.fault in {NotANumber, UnknownUnit} else reading


def _read_bare(bare: str, counts: bool, dimension: str) -> Reading:  # noqa: FBT001 - as `_read_text`
    """The reading of a text in plain signs without a mark of doubt."""
    joined = _APOSTROPHES.sub(lambda found: re.sub(r"\D", "", found.group()), bare)
    if dimension in _BEYOND_A_THOUSAND:
        # Of a length nobody knows whether "28 440" is one number or two.
        joined = _SPACED.sub(lambda found: found.group().replace(" ", ""), joined)
    found = _NUMBER.fullmatch(joined)
    reading = _number(found, counts=counts, dimension=dimension) if found else _NO_NUMBER
    if reading.number is not None and joined != bare:
        return replace(reading, thousands=True)
    return reading


def _read_marked(bare: str, counts: bool, dimension: str, reading: Reading) -> Reading:  # noqa: FBT001 - as `_read_text`
    """What is no plain number: a number with a mark of doubt, or two numbers."""
    marked = _ROUGH.fullmatch(bare)
    if marked and (marked["before"] or marked["after"]):
        rough = _read_bare(marked["number"].strip(), counts, dimension)
        if rough.number is not None:
            return replace(rough, rough=True)
        bare = marked["number"].strip()
    two = _TWO.fullmatch(bare)
    if two and float(two["second"].strip("Øø⌀ ").replace(",", ".")):
        rests = [one_spelling(rest).strip() for rest in (two["unit"], two["rest"]) if rest]
        if all(unit_name(rest) or (counts and rest.casefold() in _COUNT_WORDS) for rest in rests if rest):
            return Reading(fault=TwoNumbers)
    return reading


def says_not_given(cell: object, *, number: bool = False) -> bool:
    """Whether a cell says in words that nothing is known; in the cell of a number "none" and "unknown" say so too."""
    return isinstance(cell, str) and plain(cell).casefold() in (_NO_NUMBER_GIVEN if number else _NOT_GIVEN)


def pair(cell: object, *, metric: bool) -> tuple[str, str] | None:
    """The two measurements of a cell under a header of two, as texts with their units.

    Args:
        cell: any value.
        metric: whether the column or the row is in mm, so that 28/32 cannot be a fraction of an inch.

    Returns:
        Both texts, the unit at the end given to both where the first has none; None where the cell is not plainly two
        numbers.
    """
    if not isinstance(cell, str):
        return None
    text = plain(cell).translate(_SIGNS)
    for mark in _PAIR_MARKS:
        parts = re.split(mark, text, flags=re.IGNORECASE)
        if len(parts) != 2:  # noqa: PLR2004 - a pair
            continue
        readings = [read_value(part) for part in parts]
        if any(one.number is None for one in readings):
            return None
        if mark == _PAIR_MARKS[-1] and not metric and _fraction_too(parts):
            return None
        unit = readings[1].unit
        first = f"{parts[0]} {unit}" if unit and not readings[0].unit else parts[0]
        return first, parts[1]
    return None


def _fraction_too(parts: list[str]) -> bool:
    """Whether two parts of a text with one stroke may as well be one fraction of an inch."""
    if not all(re.match(r"\d+(?![\d.,])", part) for part in parts):
        return False
    top, bottom = (int(re.match(r"\d+", part).group()) for part in parts)  # type: ignore[union-attr]
    return top < bottom <= _FINEST and bottom.bit_count() == 1 and top % 2 == 1


def _number(found: re.Match[str], *, counts: bool, dimension: str) -> Reading:
    """The reading of a number with what follows it."""
    if found["bottom"] and not found["whole"] and dimension not in _WITH_FRACTIONS:
        # A pressure of 10/16 is two pressures.
        return _NO_NUMBER
    number, guessed, bottom = _fraction(found) if found["bottom"] else (*_decimal(found["decimal"]), 1)
    if number is None or not math.isfinite(number):
        return _NO_NUMBER
    number = -number if found["sign"] == "-" else number
    unit, fault = _unit(found["rest"], counts=counts, dimension=dimension)
    if guessed and dimension in _BEYOND_A_THOUSAND:
        fault = fault or UnclearComma
    if fault:
        return Reading(fault=fault)
    return Reading(number, unit, guessed_comma=guessed, bottom=bottom)


def _fraction(found: re.Match[str]) -> tuple[float | None, bool, int]:
    """A fraction of an inch rule: halves to 128ths; others, such as 28/44, are two numbers in one cell."""
    whole, top, bottom = int(found["whole"] or 0), int(found["top"]), int(found["bottom"])
    on_a_rule = 1 < bottom <= _FINEST and bottom.bit_count() == 1
    if not on_a_rule or (found["whole"] and top >= bottom):
        return None, False, 1
    return whole + top / bottom, False, bottom


def _decimal(text: str) -> tuple[float | None, bool]:
    """A number with points, commas or both, and whether its comma was guessed to be a decimal one."""
    mantissa, mark, exponent = text.partition("e") if "e" in text else text.partition("E")
    guessed = False
    if "," in mantissa and "." in mantissa:
        decimal = max(",.", key=mantissa.rfind)
        group = "." if decimal == "," else ","
        head, _, tail = mantissa.rpartition(decimal)
        mantissa = f"{head.replace(group, '')}.{tail}" if _is_grouped(head, group) else ""
    elif mantissa.count(",") == 1:
        head, _, tail = mantissa.partition(",")
        guessed = len(tail) == 3 and re.fullmatch(r"[1-9]\d{0,2}", head) is not None  # noqa: PLR2004 - a group of thousands
        mantissa = f"{head}.{tail}"
    elif "," in mantissa or mantissa.count(".") > 1:
        group = "," if "," in mantissa else "."
        mantissa = mantissa.replace(group, "") if _is_grouped(mantissa, group) else ""
    try:
        return float(mantissa + mark + exponent), guessed
    except ValueError:
        return None, False


def _is_grouped(text: str, group: str) -> bool:
    """Whether a text is digits in groups of three."""
    return re.fullmatch(rf"\d{{1,3}}(?:{re.escape(group)}\d{{3}})+", text, re.ASCII) is not None


def _unit(rest: str, *, counts: bool, dimension: str) -> tuple[str, type[Finding] | None]:
    """The unit that follows a number ("" for none), or the fault where no unit is understood."""
    if not rest:
        return "", None
    if counts and rest.casefold().rstrip(".") in _COUNT_WORDS:
        return "", None
    if rest.casefold() in _PERCENT_WORDS:
        return "%", None
    unit = unit_name(rest)
    if unit and dimension and fits(unit, dimension):
        return meant(unit, dimension), None
    return "", UnknownUnit if dimension and (unit or _UNIT_LIKE.fullmatch(one_spelling(rest))) else NotANumber


def numbered(entry: str, cell: object) -> object:
    """The bare number that stands with the word for it, such as "Crew 2", "Class 150" or "4-leg"; any other cell as it is."""
    found = _NUMBERED[entry].fullmatch(plain(cell).translate(_SIGNS)) if entry in _NUMBERED and isinstance(cell, str) else None
    return found["number"].replace(",", "") if found else cell


def is_pn(cell: object) -> bool:
    """Whether a cell names a flange by its nominal pressure, such as "PN 16"."""
    return isinstance(cell, str) and _PN.fullmatch(plain(cell)) is not None


def flange_size(cell: object, *, said: str = "", among_dn: bool = False) -> tuple[str, type[Finding] | None]:
    """The nominal size of a flange, such as `NPS 2` or `NPS 1 1/2`.

    Args:
        cell: a size as people write it: with NPS, DN or an inch sign, or bare.
        said: how the header says that sizes are given: "NPS", "DN" or "".
        among_dn: whether other cells of the column hold bare numbers that can only be DN.

    Returns:
        The name and None; with SizeFromDn where a DN gave it, with GuessedNps where a bare number was taken for an NPS.
        What is none of these sizes, or may be two, comes back as written, trimmed, with UnclearSize.
    """
    text = plain(cell)
    if not text or text in _DASHES:
        return "", None
    name, finding = _one_size(text, said, among_dn=among_dn)
    if name:
        return name, finding
    for pattern in _SIZE_TWICE:
        twice = pattern.fullmatch(text)
        if twice:
            first, second = (_one_size(twice[part], "", among_dn=False)[0] for part in ("dn", "other"))
            if first and first == second:
                return first, None
    return text, UnclearSize


def _one_size(text: str, said: str, *, among_dn: bool) -> tuple[str, type[Finding] | None]:
    """The name of a size that is said once, with its finding; "" where it is none or may be two."""
    found = _SIZE.fullmatch(text)
    if not found or (found["before"] and found["after"]):
        return "", None
    # The old British way of writing: 1.1/2.
    reading = read_value(re.sub(r"^(\d)\.(?=\d/\d)", r"\1 ", found["number"]))
    if reading.number is None or reading.rough or reading.guessed_comma or reading.unit not in {"", "in", "mm"}:
        return "", None
    number, word = reading.number, (found["before"] or found["after"] or "").upper()
    as_nps, as_dn = NPS.get(number, ""), NPS.get(DN.get(number, 0.0), "")
    kinds = {_KIND_OF_SIZE[one] for one in (word, reading.unit) if one in _KIND_OF_SIZE}
    if not kinds:
        # No DN has a fraction. A nominal bore is given in mm as often as in inches, whatever the header says.
        bore = {"DN"} if as_dn and not as_nps else set()
        kinds = {"NPS"} if reading.bottom > 1 else bore if word else {said} - {""}
    if kinds == {"DN"}:
        return (f"NPS {as_dn}", SizeFromDn) if as_dn else ("", None)
    if kinds == {"NPS"}:
        return (f"NPS {as_nps}", None) if as_nps else ("", None)
    guessed = as_nps and not kinds and not word and not (among_dn and number in _EITHER)
    return (f"NPS {as_nps}", GuessedNps) if guessed else ("", None)


def only_dn(cell: object) -> bool:
    """Whether a cell holds a bare number that can be a DN and no NPS."""
    number = read_value(cell, dimension="").number
    return number in DN and number not in NPS


def unit_set(cell: object) -> str:
    """The unit set that a cell names: "metric", "US" or "" for a blank.

    Anything else comes back as it was written, trimmed, so that it can be shown.
    """
    text = plain(cell)
    key = _key(text).replace(".", "")
    return _UNIT_SETS.get(key, text)


def code(entry: str, cell: object) -> str:
    """A text entry with obvious spellings made one.

    Args:
        entry: a text entry, such as gland_stud_thread or packing_form_entered.
        cell: any value.

    Returns:
        The code where the text is an obvious spelling of it, else the text as written, trimmed; "" for a lone dash, but
        "no" for one that answers a question.
    """
    text = plain(cell)
    if text in _DASHES:
        return _DASH_MEANS.get(entry, "")
    if len(text) > _LONGEST:
        return text
    if entry == "gland_stud_thread":
        return thread(text)
    if entry == "flange_size":
        return flange_size(text)[0]
    return _CODES.get(entry, {}).get(_key(text)) or text


def _key(text: str) -> str:
    """A text as a look-up key: no case, hyphens or underscores, and no accent on the few words that may have one."""
    return " ".join(text.casefold().replace("é", "e").strip("()[]").replace("-", " ").replace("_", " ").split())


def thread(text: str) -> str:
    """The key of a thread, such as `M12`, `1/2-13 UNC` or `1 1/8-8 UN`.

    Args:
        text: a thread as people write it. A pitch must be the coarse one (inch: coarse to 1 in, eight threads over it).

    Returns:
        The key where the text plainly means one that has a key, else the text as it was written.
    """
    bare = text.translate(_SIGNS)
    metric = _METRIC_THREAD.fullmatch(bare)
    if metric:
        size, pitch = int(metric[1]), metric[2]
        known = COARSE_PITCH.get(size)
        plain_pitch = pitch is None or float(pitch.replace(",", ".")) == known
        return f"M{size}" if known and plain_pitch else text
    for sign, fraction in _VULGAR.items():
        bare = bare.replace(sign, f" {fraction}")
    inch = _INCH_THREAD.fullmatch(bare.strip())
    if not inch:
        return text
    diameter = re.sub(r"[\s-]+", " ", re.sub(r"\s*/\s*", "/", inch["size"]))
    known_pitch = INCH_THREADS.get(diameter)
    series = re.sub(r"[\s-]", "", inch["series"] or "").upper()
    right_series = series in ("", _series(diameter), f"8{_series(diameter)}")
    # Without a pitch the series must say that the coarse one is meant: a bare 1/2 may have any thread.
    right_pitch = int(inch["pitch"]) == known_pitch if inch["pitch"] else bool(series)
    if not (known_pitch and right_pitch and right_series):
        return text
    return f"{diameter}-{known_pitch} {_series(diameter)}"


def _series(size: str) -> str:
    """The series in a thread's key: UNC to 1 in, UN over it."""
    return "UNC" if "/" in size.partition(" ")[0] or size == "1" else "UN"
