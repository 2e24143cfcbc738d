"""Generated outages for the agreement of workbook and core: lists of valves with what a planner types around them.

Twelve are of a size that a site has. The many small ones are there for what an outage has but one of. The valves are
those of `valves.generated`, as Working fetches them; in a part of the outages many of them are alike, so that they share
lines of the order.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
from agreement import valves

from sheetcalc.calculations.outage import kit, order
from sheetcalc.calculations.outage.grouped import last_end
from sheetcalc.calculations.run import entry_names, evaluate, evaluate_outage, read_entries
from sheetcalc.declare.quantity import EVERY, Column, Constant, Derived, Per, all_quantities, get
from sheetcalc.reference import tables as reference

SEED = 20261126
LARGE, SMALL = 12, 156

Frame = pd.DataFrame
Random = np.random.Generator

#: Those that are worked out once for each row of a sheet of its own, and how many rows a large and a small outage have of them.
ROWS: dict[Per, tuple[int, int]] = {
    Per.TOOL: (1, 1), Per.DAY: (60, 60), Per.READING: (160, 24), Per.FOLLOWED: (20, 4), Per.POINT: (24, 6), Per.TROUBLE: (30, 8),
    Per.CRITICAL: (1, 1),
}  # fmt: skip
#: What nobody can mean, typed into a cell for a number.
_BAD: tuple[Any, ...] = ("see drawing", "#DIV/0!", "#DIV/0!", "#DIV/0!", 1e9, -5.0, None, "n.a.", "2,5 ?", 1e300, -1.0, -1e9, 0.5, 2e5)

#: Where a number of a believable size is not what the limits and the usual value say.
_USUAL: dict[str, tuple[float, ...]] = {
    "end_ring_count_entered": (0.0, 1.0, 2.0, 2.0, 4.0, 9.0), "gasket_count_entered": (0.0, 1.0, 1.0, 2.0, 4.0),
    "new_studs_entered": (0.0, 1.0, 2.0, 4.0, 8.0), "store_pack_entered": (0.0, 0.5, 1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 25.0),
    "store_stock_entered": (0.0, 1.0, 2.0, 2.5, 12.0, 40.0), "store_price_entered": (0.0, 0.85, 12.5, 99.0, 340.0),
    "store_lead_days_entered": (0.0, 3.0, 10.0, 28.0, 45.0, 120.0), "spare_share_entered": (0.0, 0.05, 0.1, 0.25, 0.5),
    "days_before_start_entered": (0.0, 7.0, 14.0, 21.0), "lead_days_entered": (0.0, 10.0, 28.0, 60.0),
    "people_entered": (1.0, 2.0, 4.0, 6.0, 12.0, 12.0, 30.0), "crew_size_entered": (1.0, 2.0, 2.0, 3.0), "shifts_entered": (1.0, 2.0, 3.0),
    "outage_days_entered": (1.0, 2.0, 5.0, 10.0, 21.0), "job_hours_stated_entered": (0.0, 2.0, 4.5, 12.0, 90.0),
    "crew_number_entered": (1.0, 2.0, 3.0, 4.0, 5.0, 6.0), "job_day_entered": (1.0, 1.0, 2.0, 3.0, 12.0),
    "leak_limit_own_entered": (50.0, 500.0),
}  # fmt: skip
#: What share of the cells for numbers is tried at its limits, where it is another than an eighth.
_SPOILT = {Per.STORE: 0.3, Per.READING: 0.5}
#: In what share of the rows a cell is filled, where it is another than in most.
_FILLED = {"job_day_entered": 0.25}
#: Words for a text; one that names a table's row needs none.
_WORDS: dict[str, tuple[Any, ...]] = {
    "gasket": ("DN25 PN16", "dn25 pn16", "DN25*", "DN25 PN?6", "~DN25", "1/2 in 150", "a", "A", "#"),
    "critical_entered": ("yes", "yes", "yes", "YES", "no", "y*", "~yes", "?es", "none such"),
    "outage_name": ("Spring outage", "2027"),
    "outage_unit_set": ("metric", "US", "metric", "US", "Metric", "us"),
}  # fmt: skip


@dataclass(frozen=True)
class Outage:
    """One outage: the cells that are typed, by kind of row, and what the core makes of them, whole columns included."""

    cells: Mapping[str, Sequence[Any]]
    lengths: Mapping[Per, int]
    values: Mapping[str, Any]
    #: What the core answers where the inputs are not its own answers, and the names that are not to be judged there.
    answers: Mapping[str, Any] | None = None
    left_out: frozenset[str] = frozenset()

    def answer(self, name: str) -> Any:
        """What a formula should give."""
        return self.values[name] if self.answers is None else self.answers[name]

    def typed(self, name: str) -> Sequence[Any]:
        """The cells of an entry as formulas see them: None is an empty one, "" one that fetches an empty one."""
        return self.cells.get(name, self.cells[name.removeprefix(EVERY)])


#: Assumptions that a site has changed, in one outage of eleven: two that are issued alike are not alike there.
CHANGED: dict[str, float] = {
    "container_mass_usual": 2.5, "spool_length_usual": 5000.0, "order_step": 0.02, "order_digits": 4.0, "spare_share_usual": 0.15,
    "days_before_start_usual": 9.0,
    "lead_days_usual": 33.0, "counting_digits": 5.0, "most_crews": 3.0, "hook_thickness_step": 5.0, "tool_step": 20.0, "people_usual": 7.0,
    "retorque_days": 20.0, "row_base": 20000.0,
}  # fmt: skip


def numbered(name: str) -> bool:
    """Whether an entry is no more than the number of its row."""
    return name.endswith("_number") or name in {"position", "trouble_place", "critical_place"}


@cache
def worked_out() -> tuple[Per, ...]:
    """The kinds of rows, valves aside, of which anything is worked out, always in one order: what is drawn follows it."""
    known = {q.per for q in all_quantities() if isinstance(q, Derived)}
    return tuple(per for per in Per if per in known and per is not Per.VALVE)


def _used(entered: str) -> Derived:
    """What an entry becomes where it is believed."""
    plain = entered.removesuffix("_entered")
    return get(f"{plain}_typed" if any(q.name == f"{plain}_typed" for q in all_quantities()) else plain, Derived)


@cache
def _limits(entered: str) -> tuple[float, float, bool]:
    """Between what an entry is believed, in the coherent unit, and whether it is a whole number."""
    used = _used(entered)
    named = [float(one.issued) for one in map(get, used.reads) if isinstance(one, Constant) and one.name != "counting_digits"]
    cell = f"{{{entered}}}"
    low = 0.0 if f"{cell}>=0" in used.excel else 1.0 if f"{cell}>=1" in used.excel else named[0]
    return low, 1.0 if f"{cell}<=1" in used.excel else named[-1], f"ROUND({cell},0)" in used.excel


def _believable(entered: str, rng: Random, count: int, day: float) -> Any:
    """Numbers as a planner types them, in coherent units."""
    if entered in _USUAL:
        return rng.choice(np.array(_USUAL[entered]), count)
    low, high, whole = _limits(entered)
    if get(entered).unit == "date":
        return day + rng.integers(-40, 60, count)
    usual = [float(one.issued) for one in map(get, get(entered.removesuffix("_entered")).reads) if isinstance(one, Constant)]
    top = min(high, 4 * max(usual)) if usual else min(high, max(12.0, 4 * low))
    drawn = low + (top - low) * rng.random(count)
    return np.round(drawn) if whole else np.round(drawn, 2)


@cache
def _spoils(entered: str) -> tuple[tuple[Any, bool], ...]:
    """What is put into a cell to try its limits, and whether it is in the coherent unit."""
    edges = [(value, coherent and bool(get(entered).dimension)) for value, coherent in valves._limits(entered)]
    spoils = [*edges, *((value, False) for value in _BAD)]
    rng = np.random.default_rng(sum(map(ord, entered)))
    return tuple(spoils[place] for place in rng.permutation(len(spoils)))


def _shown(entered: str, value: Any, unit_set: str) -> Any:
    dimension = get(entered).dimension
    return valves._as_typed(value, dimension, "US" if unit_set.lower() == "us" else "metric") if dimension else value


def _column(name: str, rng: Random, count: int, *, unit_sets: Sequence[str], day: float, spoilt: float, turn: int) -> list[Any]:
    """The cells of one entry: most believable, some blank, some out of any use."""
    if numbered(name):
        return [float(row) for row in range(1, count + 1)]
    if get(name).is_text:
        return _texts(name, rng, count)
    drawn = _believable(name, rng, count, day)
    out: list[Any] = []
    spoils, at = _spoils(name), turn * max(1, int(count * spoilt))
    if count == 1 and spoilt and turn % 2:
        spoil, coherent = spoils[turn // 2 % len(spoils)]
        return [_shown(name, spoil, unit_sets[0]) if coherent else spoil]
    for value, unit_set, lot in zip(drawn, unit_sets, rng.random(count), strict=True):
        if lot < spoilt:
            spoil, coherent = spoils[at % len(spoils)]
            at += 1
            out.append(_shown(name, spoil, unit_set) if coherent else spoil)
        else:
            out.append(None if lot > _FILLED.get(name, 0.75) else _shown(name, float(value), unit_set))
    return out


def _texts(name: str, rng: Random, count: int) -> list[Any]:
    words = _WORDS.get(name)
    if words is None:
        chosen = [q for q in all_quantities() if q.name == f"{name.removesuffix('_entered')}_chosen"]
        choices = [one for one in get(name.removesuffix("_entered")).reads if isinstance(get(one), Column)] if chosen else []
        held = [one for table in choices for one in reference.values()[table] if one]
        odd = (f"{held[0][0]}*", f"~{held[0]}", f"?{held[0][1:]}", "none such", "#DIV/0!") if held else ()
        words = (*held, *(one.upper() for one in held), *held, *odd) if held else ("a", "b", "B", "c d", "x*", "~y", "n?")
    return [None if lot > 0.7 else words[place] for lot, place in zip(rng.random(count), rng.integers(0, len(words), count), strict=True)]


#: Stem, bore, depth and nose in mm of boxes that a plant has many of, and the height of their made rings.
_BOXES = ((28.0, 44.0, 60.0, 40.0, 8.0), (20.0, 33.0, 52.0, 36.0, 6.5), (36.0, 61.4, 110.0, 60.0, 12.7), (50.0, 69.05, 85.0, 50.0, 9.5))


#: What like valves that come out of the line have typed of their flanges.
_OUT: dict[str, tuple[Any, ...]] = {
    "comes_out_entered": ("yes", "YES", *("yes",) * 6, "no", None), "flange_size": ("NPS 2", *("NPS 4",) * 6, "NPS 5", None),
    "flange_class_entered": (*(150.0,) * 6, 300.0, 900.0), "flange_joint_count_entered": (None, None, 1.0, 3.0),
    "flange_facing_entered": (*("raised face",) * 6, "Raised Face", "flat face", "wafer, lug or tapped"),
    "gasket_kind": (*("spiral wound, graphite filler",) * 6, "Spiral Wound, Graphite Filler", "flexible graphite sheet",
                    "shop bare", None),
    "flange_bolt_grade": ("ASTM A193 B7", "ISO 8.8", None), "flange_studs_renewed_entered": ("yes", "yes", "yes", "YES", "no", None),
    "valve_actuated_entered": ("yes", "no", None), "gland_nut_kind_entered": (None, None, "heavy hex"),
}  # fmt: skip


#: What most of them have typed besides, so that their load is judged.
_SERVICE: dict[str, Any] = {
    "fluid_kind_entered": "oil", "fluid_temperature_entered": 60.0, "line_pressure_entered": 1.0, "stem_motion_entered": "rising-rotating",
    "gland_stud_count_entered": 2.0, "gland_stud_thread": "M24", "gland_stud_grade": "ASTM A193 B7", "stud_lubricant": "machine oil",
    "flange_material_entered": "1.1 carbon steel", "flange_bolt_grade": "ASTM A193 B7", "flange_lubricant": "machine oil",
}  # fmt: skip


def _alike(frame: Frame, rng: Random) -> None:
    """Valves of few kinds, in the place of those that were there: many with the same codes."""
    materials: tuple[str | None, ...] = (
        "PTFE braid", "graphite braid", "shop rings", "shop loose", "expanded graphite rings", None, "moulded PTFE", "shop braid",
    )  # fmt: skip
    known = set(valves.own_rows()["material_names"])
    materials = tuple(one for one in materials if one is None or one in known)
    forms = ("braid", "die-formed", "die-formed", "die-formed", "loose", "loose", "loose", "moulded", None)
    flange = np.random.default_rng([SEED, len(frame)])
    for row in frame.index:
        kept = {"tag", "unit_set"}
        unit_set = "US" if str(frame.at[row, "unit_set"]).lower() == "us" else "metric"
        for name in entry_names():
            if name not in kept:
                frame.at[row, name] = None
        frame.at[row, "unit_set"] = unit_set
        stem, bore, depth, nose, height = _BOXES[int(rng.integers(0, len(_BOXES)))]
        # The same box measured a little otherwise: a hair is the same code, a tenth of a millimetre another one.
        stem += float(rng.choice([0.0, 1e-9, 0.004, 0.03, 0.005 - 1e-10], p=[0.8, 0.05, 0.05, 0.05, 0.05]))
        bore += float(rng.choice([0.0, 0.005 - 1e-10], p=[0.9, 0.1]))
        lengths = {
            "stem_diameter_entered": stem, "box_bore_entered": bore, "box_depth_entered": depth, "nose_length_entered": nose,
            "made_ring_height_entered": height if rng.random() < 0.9 else None,
        }  # fmt: skip
        for name, value in lengths.items():
            frame.at[row, name] = valves._as_typed(value, "length", unit_set)
        material = materials[int(rng.integers(0, len(materials)))]
        frame.at[row, "packing_material"] = material
        frame.at[row, "packing_form_entered"] = forms[int(rng.integers(0, len(forms)))] if material is None or rng.random() < 0.3 else None
        frame.at[row, "section_list_entered"] = "both"
        frame.at[row, "maker_ring_count_entered"] = (None, 3.0, 4.0)[int(rng.integers(0, 3))]
        frame.at[row, "gland_stud_thread"] = ("M12", "M16", "1/2-13 UNC", None)[int(rng.integers(0, 4))]
        frame.at[row, "gland_stud_grade"] = ("ISO 8.8", "ASTM A193 B7", None)[int(rng.integers(0, 3))]
        if flange.random() < 0.6:
            for name, value in _SERVICE.items():
                frame.at[row, name] = valves._as_typed(value, str(get(name).dimension), unit_set) if get(name).dimension else value
            frame.at[row, "stud_lubricant"] = ("machine oil", "anti-seize paste")[len(frame) % 2 * (row % 9 == 4)]
            frame.at[row, "flange_lubricant"] = ("machine oil", "anti-seize paste", "anti-seize paste", "none (dry)")[row % 4]
        for name, choices in _OUT.items():
            frame.at[row, name] = choices[int(flange.integers(0, len(choices)))]


@cache
def _sizes() -> tuple[int, ...]:
    """How many valves each outage has."""
    rng = np.random.default_rng(SEED)
    return tuple(int(one) for one in (*rng.integers(120, 251, LARGE), *rng.integers(8, 21, SMALL)))


#: Tags that stand twice in other letters, or that would be another's for a search that takes marks for wildcards.
_LIKE_TAGS = ["P11", "P?1", "p?1", "A~B", "a~b"]


@cache
def _all_valves() -> tuple[Frame, Mapping[str, Any]]:
    """The valves of all outages one below the other, as Working fetches them, and what the core makes of them."""
    rng = np.random.default_rng(SEED + 1)
    many = valves.as_read()
    frame = many.iloc[rng.permutation(len(many))[: sum(_sizes())]].reset_index(drop=True).astype(object)
    first = 0
    for number, size in enumerate(_sizes()):
        if number % 2 == 0:
            part = frame.iloc[first : first + size].copy()
            _alike(part, rng)
            # Some rows stay empty, as spare rows do.
            part.iloc[-2:, :] = None
            frame.iloc[first : first + size] = part
        if number % 3 == 1:
            frame.loc[first + 1 : first + len(_LIKE_TAGS), "tag"] = _LIKE_TAGS
        first += size
    frame = frame.astype(object).where(frame.notna(), None)
    return frame, _worked_out(frame)


def _valves_of(first: int, size: int) -> tuple[Frame, dict[str, Any]]:
    frame, values = _all_valves()
    there = {name: value for name, value in values.items() if isinstance(get(name), (Column, Constant))}
    there |= {name: value[first : first + size] for name, value in values.items() if name not in there}
    return frame.iloc[first : first + size].copy(), there


def _worked_out(frame: Frame) -> dict[str, Any]:
    return evaluate({**read_entries(frame), **valves.own_rows()}, len(frame))


def _codes(values: Mapping[str, Any]) -> list[str]:
    """Every code of the order, each once."""
    return sorted({str(code) for name in order.GROUPS for code in values[f"{name}_code"] if code})


def _store_codes(codes: list[str], rng: Random, count: int) -> list[Any]:
    """Codes of Stores: most of a line, in any case of letters, some unknown, some again, some none."""
    out: list[Any] = []
    for lot in rng.random(count):
        if codes and lot < 0.78:
            code = codes[int(rng.integers(0, len(codes)))]
            out.append(code.lower() if lot < 0.1 else code)
        elif out and lot < 0.86:
            out.append(out[int(rng.integers(0, len(out)))])
        else:
            out.append(("M1B800*", "G DN*", "spare", "G ~DN25", "G DN25 PN?6", None, None)[int(rng.integers(0, 7))])
    return out


def _alone(cells: dict[str, list[Any]], rng: Random, share: float = 0.12) -> None:
    """Rows in which one cell alone is typed."""
    names = [name for name in cells if not numbered(name)]
    for row in range(len(cells[names[0]])):
        if rng.random() < share:
            kept = names[int(rng.integers(0, len(names)))]
            for name in names:
                if name != kept:
                    cells[name][row] = None


def _clean(number: int) -> bool:
    """Whether nothing but what can be used is typed in an outage."""
    return number >= LARGE and number % 12 in {3, 4}


def _outage_cells(  # noqa: C901 - entry by entry, straight down
    number: int, rng: Random, day: float
) -> dict[str, list[Any]]:
    """What is typed of the outage itself: the larger ones sound but for one without a unit set and one without dates."""
    small = number >= LARGE
    out: dict[str, list[Any]] = {}
    for place, name in enumerate(entry_names(Per.OUTAGE)):
        # Two entries of five is tried at its limits, each in its turn; the others are believable, so that what needs many is there.
        tried = small and (number + place) % 5 in {0, 2} and not _clean(number)
        [unit_set] = out.get("outage_unit_set", ["metric"])
        turn = 4 * (number // 5 + place) + (number + place) % 5 + 1 if tried else 0
        out[name] = _column(name, rng, 1, unit_sets=[unit_set or "metric"], day=day, spoilt=float(tried), turn=turn)
        if name == "outage_unit_set":
            out[name] = [("metric", "US", "Metric", "us")[number % 4]]
            if small and number % 4 == 1 and not _clean(number):
                out[name] = [(None, "m*", "~US", "?S", "mm", "m?tric", "#DIV/0!", "u?")[number // 4 % 8]]
        if name == "chart_tag":
            tag = _TAGS[number % (4 if small else len(_TAGS))]
            out[name] = [(tag, tag, f" {_TAGS[0].lower()}", None, "none such", tag)[number // 3 % 6]]
    if number == 3:
        out["outage_unit_set"] = [None]
    dates = ("outage_start_entered", "status_date_entered", "next_outage_entered")
    following = 300.0 if _clean(number) else (300.0, -250.0, -300.0, -300.0, -200.0, -100.0, -200.0)[number % 7]
    held = (day, day - (42.0, 43.0, 41.0, 90.0, 5.0)[number % 5], day + following)
    for name, value in zip(dates, held, strict=True):
        if not small:
            out[name] = [None if number in {5, 9} else value]
        elif _clean(number) or number % 5 == 2 or ((number + entry_names(Per.OUTAGE).index(name)) % 5 not in {0, 2} and number % 9):
            out[name] = [value]
    for name in entry_names(Per.OUTAGE):
        if not small and number % 3 == 0 and name in {"people_entered", "crew_size_entered"}:
            out[name] = [_SOUND[name]]
        forced = _SOUND if _clean(number) else _FORCED.get(number % 13, {})
        if small and name in forced:
            out[name] = [forced[name]]
    return out


#: What is typed in a small outage in which nothing is wrong.
_SOUND: dict[str, Any] = {
    "people_entered": 12.0, "crew_size_entered": 2.0, "outage_days_entered": 30.0, "leak_limit_own_entered": None,
    "leak_limit_rule_entered": None, "confidence_entered": None,
}  # fmt: skip
#: What is typed together in one small outage of thirteen each, so that each sentence is spoken.
_FORCED: dict[int, dict[str, Any]] = {
    0: {"people_entered": 1.0, "crew_size_entered": 3.0}, 1: {"people_entered": 30.0, "crew_size_entered": 1.0},
    2: {"status_date_entered": None, "lead_days_entered": -5.0},
    3: {"leak_limit_rule_entered": "site's own", "leak_limit_own_entered": None},
    4: {"leak_limit_rule_entered": "site's own", "leak_limit_own_entered": 400.0},
    5: {"people_entered": 40.0, "crew_size_entered": 2.0, "days_before_start_entered": -5.0},
    6: {"leak_limit_rule_entered": "n*", "status_date_entered": None},
    7: {"leak_limit_own_entered": 0.5, "people_entered": 1.0, "crew_size_entered": 2.0},
    8: {"leak_limit_rule_entered": "SITE'S OWN", "leak_limit_own_entered": "n.a."}, 9: {"people_entered": 0.5, "status_date_entered": -1.0},
    10: {"people_entered": "n.a.", "status_date_entered": None, "outage_days_entered": None},
    11: {"leak_limit_rule_entered": "s*", "crew_size_entered": None, "people_entered": None},
    12: {"leak_limit_rule_entered": "site's own", "people_entered": None},
}  # fmt: skip
#: Tags of valves followed: alike but for case or a wildcard, with blanks around, a number.
_TAGS: tuple[Any, ...] = (
    "P-1", "P-2", " P-3 ", "p-4", "P-5*", "P~6", "P-?", 107.0, "P  8", "P-9", "P-10", "P-1", "P-11", "P-12", "P-13", "P-14",
)  # fmt: skip
#: What becomes of a gap: days between readings, loss of mm in a day, scatter in mm.
_WAYS = ((30, 0.02, 0.05), (30, 0.02, 0.0), (14, 0.05, 0.3), (60, 0.005, 0.02), (300, 0.0001, 0.0), (30, -0.01, 0.05), (0, 0.02, 0.1),
         (20, 0.0, 0.0), (90, 0.03, 0.1), (400, 0.0003, 0.0),
         (400, 0.00025, 0.01), (400, 0.0002, 0.0), (400, 0.0002, 0.0), (400, 0.00025, 0.0),
         (1, 0.05, 0.1),
         (400, 0.00015, 0.0))  # fmt: skip


def _follow(cells: dict[str, list[Any]], count: int, rng: Random, *, clean: bool) -> None:
    """The valves followed: most with a tag of its own."""
    tags = [None if not clean and rng.random() < 0.12 else _TAGS[at % len(_TAGS)] for at in range(count)]
    cells["followed_tag"] = tags
    if not clean and rng.random() < 0.5:
        cells["followed_tag"][-1] = cells["followed_take_up_entered"][-1] = None


def _log(  # noqa: C901, PLR0912 - what happens at a gland, in its order
    cells: dict[str, list[Any]], count: int, day: float, unit_set: str, followed: Sequence[Any], rng: Random, *, clean: bool
) -> None:
    """The log: for each valve readings of a gap that falls, repacks and adjustments between them, mostly in the order of dates."""
    rows: list[tuple[float, dict[str, Any]]] = []
    told: list[Any] = []
    tags = list(followed)
    while len(rows) < count:
        tag = tags[len(told) % len(tags)]
        told.append(tag)
        step, loss, scatter = _WAYS[int(rng.integers(0, 2 if clean else len(_WAYS)))]
        turns = max(1, count // len(tags) + int(rng.integers(-3, 6)))
        slow = step > 300
        here = day - 95 - step * (turns if clean or slow else int(rng.integers(1, 12))) - int(rng.integers(0, 60))
        gap = start = 15.0 if slow else float(rng.choice([6.0, 9.0, 15.0, 12.0, 4.0]))
        for turn in range(turns):
            row: dict[str, Any] = {"log_date_entered": here, "log_tag": tag, "log_event_entered": None}
            lot = rng.random()
            if lot < 0.04 or (turn == 0 and lot < 0.5):
                row["log_event_entered"], gap = str(rng.choice(["repack", "Repack"])), start
            elif lot > 0.88:
                row["log_event_entered"], row["log_flats_entered"] = "adjust", float(rng.integers(1, 5))
            elif lot > 0.5:
                row["log_event_entered"] = "read"
                row["log_flats_entered"] = (None, None, 0.0, None if clean else 2.0)[int(rng.integers(0, 4))]
            shown = max(0.0, gap + scatter * float(rng.normal()))
            row["log_gap_1_entered"] = round(shown, 2)
            row["log_gap_2_entered"] = (None, round(shown + 0.1, 2), round(shown + 0.5, 2), round(shown + 0.9, 2))[int(rng.integers(0, 4))]
            row["log_leak_entered"] = (None, None, 20.0, 100.0, 500.0, 10000.0)[int(rng.integers(0, 6))]
            row["log_torque_limit_entered"] = (None, None, None, "no", "yes")[int(rng.integers(0, 5))]
            rows.append((here, row))
            here += step
            gap -= loss * step
    rows.sort(key=lambda one: one[0])
    for at, (_date, row) in enumerate(rows[-count:]):
        for name, column in cells.items():
            if not numbered(name) and (clean or rng.random() < 0.94):
                value = row.get(name)
                column[at] = _shown(name, value, unit_set) if value is not None and get(name).dimension else value
    if clean:
        return
    for _swap in range(count // 20):
        one, other = rng.integers(0, count, 2)
        for name, column in cells.items():
            if not numbered(name):
                column[one], column[other] = column[other], column[one]
    for name, column in cells.items():
        if not numbered(name):
            for at in rng.integers(0, count, max(1, count // 40)):
                column[at] = None if name != "log_tag" else ("none such", None, " p-1", "P-1 ")[int(rng.integers(0, 4))]
            column[-1] = None
    _alone(cells, rng, share=0.05)
    # A row with a word for a date and nothing else, and a word that is no event though a wildcard would find one.
    for name, column in cells.items():
        if not numbered(name):
            column[-2] = "n.a." if name == "log_date_entered" else None
    cells["log_event_entered"][-3] = ("r*", "~read", "?ead")[int(rng.integers(0, 3))]


def _make(  # noqa: C901, PLR0912, PLR0915 - kind of row by kind of row, straight down
    number: int, first: int, size: int
) -> Outage:
    rng = np.random.default_rng([SEED, number])
    frame, there = _valves_of(first, size)
    small = number >= LARGE
    day = 46000.0 + float(rng.integers(0, 400))
    cells: dict[Per, dict[str, list[Any]]] = {Per.OUTAGE: _outage_cells(number, rng, day)}
    [unit_set] = cells[Per.OUTAGE]["outage_unit_set"]
    changed = {**CHANGED, "most_crews": 1.0 + 2.0 * (number % 2)} if number % 11 == 4 else {}
    lengths = {per: ROWS[per][small] for per in worked_out() if per in ROWS}
    lengths |= {Per.OUTAGE: 1, Per.LISTED: size, Per.LINE: 1, Per.STORE: 1}

    def fill(per: Per) -> None:
        of_rows = [str(one) for one in frame["unit_set"]] if per is Per.LISTED else [str(unit_set)] * lengths[per]
        cells[per] = {
            name: _column(
                name,
                rng,
                lengths[per],
                unit_sets=of_rows,
                day=day,
                spoilt=0.0 if _clean(number) else _SPOILT.get(per, 0.12),
                turn=number,
            )
            for name in entry_names(per)
        }
        if per is Per.LISTED and _clean(number):
            cells[per] |= {name: [None] * size for name in ("job_day_entered", "crew_number_entered", "job_hours_stated_entered")}
        if per is Per.FOLLOWED:
            _follow(cells[per], lengths[per], rng, clean=_clean(number))
        if per is Per.READING:
            # More is drawn at its limits in the columns of the log than a valve's own story leaves there.
            if number % 5 == 2 and small and not _clean(number):  # nothing is logged, or one gap of one stud
                first = {"log_date_entered": day + 900.0 * (number % 4 != 2) - 120, "log_tag": _TAGS[0], "log_gap_1_entered": 0.3}
                alone = number // 5 % 5 == 4
                cells[per] |= {
                    name: [first.get(name) if alone else None] + [None] * (lengths[per] - 1) for name in cells[per] if not numbered(name)
                }
                return
            _log(cells[per], lengths[per], day, str(unit_set), _TAGS[: 4 if small else 20], rng, clean=_clean(number))

    def work_out(*, but: frozenset[Per] = frozenset()) -> dict[str, Any]:
        typed = {per: read_entries(_as_read(each, lengths[per]), per) for per, each in cells.items() if per not in but}
        here = {per: length for per, length in lengths.items() if per not in but}
        return {**evaluate_outage(typed, here, there, constants=changed), **changed}

    if number % 9 == 7:  # an outage in which nothing can be ordered
        for name in set(entry_names()) - {"tag"}:
            frame[name] = None
        frame.iloc[2:, :] = None
        there = _worked_out(frame)
    for per in lengths:
        if per is not Per.OUTAGE:
            fill(per)
    before = work_out(but=frozenset(lengths) - {Per.OUTAGE, Per.LISTED})
    if number % 4 == 2:  # some tasks of the site's own, one of them a slip
        there = {**there, "task_valve_minutes": there["task_valve_minutes"].copy(), "task_ring_minutes": there["task_ring_minutes"].copy()}
        there["task_valve_minutes"][-1] = (-0.06, 0.0, 15.0, -30.0)[number // 4 % 4]
        if number % 8 == 2:
            there["task_ring_minutes"][there["task_ring_minutes"] == 0] = 0.6
            there["task_valve_minutes"][there["task_valve_minutes"] == 0] = 1.2
        there["task_ring_minutes"][-2] = (1.2, 18.0, -0.6, 18.0)[number // 8 % 4]
    if number % 5 == 1:  # boxes so narrow that a bushing has no wall, or just one
        inside, outside = there["bushing_inside"].copy(), there["bushing_outside"]
        inside[::2] = outside[::2] + rng.choice([0.0, 0.0, 1e-9, -1e-9, 0.4, -0.02, -3e-6, 1.4], len(inside[::2]))
        there = {**there, "bushing_inside": inside}
    # As many lines as there are codes, some more, or too few; stores know some of the codes.
    needed = int(before[last_end("line", order.GROUPS, before)][0])
    lengths[Per.LINE] = max(1, (needed + 3, needed + 2, needed, needed + 5, needed // 2 if small else needed + 1)[number % 5])
    for per, name in ((Per.TOOL, last_end("tool", (f"kit_{one}" for one in kit.GROUPS), before)), (Per.CRITICAL, "valves_critical")):
        if per in lengths:
            wanted = int(before[name][0])
            lengths[per] = max(1, (wanted, wanted + 3, wanted + 1, wanted // 2 if small else wanted, wanted + 2)[number % 5])
            fill(per)
    lengths[Per.STORE] = max(6, (3 * needed) // 2)
    fill(Per.LINE)
    fill(Per.STORE)
    cells[Per.STORE]["store_code"] = _store_codes(_codes(before), rng, lengths[Per.STORE])
    _alone(cells[Per.STORE], rng)
    values = work_out()
    seen: dict[str, Sequence[Any]] = {}
    for per, each in {**cells, Per.VALVE: {name: frame[name].tolist() for name in entry_names()}}.items():
        for name, column in each.items():
            if per is Per.VALVE or (per is Per.LISTED and (number % 2 == 0 or get(name).is_text)):
                seen[name] = ["" if one is None else "#" if one == "#DIV/0!" else one for one in column]
            else:
                seen[name] = column
    return Outage(seen, lengths, {**values, **{EVERY + name: value for name, value in values.items()}})


def _as_read(cells: Mapping[str, list[Any]], length: int) -> Frame:
    """Cells as the core reads them: an error value is a text that nothing accepts."""
    held = {name: np.array(["#" if one == "#DIV/0!" else one for one in column], dtype=object) for name, column in cells.items()}
    return pd.DataFrame(held, index=range(length))


@cache
def generated() -> tuple[Outage, ...]:
    """All outages, the large ones first."""
    firsts = np.cumsum([0, *_sizes()[:-1]])
    return tuple(_make(number, int(first), size) for number, (first, size) in enumerate(zip(firsts, _sizes(), strict=True)))
