"""Ugly lists of invented valves, as planners keep them: what must come of each, and nothing guessed without a word.

Every figure that is expected was worked out by hand from the cells beside it.
"""

from __future__ import annotations

import datetime as dt
import math
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import openpyxl
import pytest
from told import Tell

from sheetcalc.intake.lists import ValveList, read_list

STEM, BORE, DEPTH, NOSE = "stem_diameter_entered", "box_bore_entered", "box_depth_entered", "nose_length_entered"
GAP_1, GAP_2, STUD, COUNT = "gap_reading_1_entered", "gap_reading_2_entered", "gland_stud_thread", "gland_stud_count_entered"
ENDS, GASKET, GASKETS, NEW = "end_ring_count_entered", "gasket", "gasket_count_entered", "new_studs_entered"
CRITICAL, HOURS, CREW, DAY = "critical_entered", "job_hours_stated_entered", "crew_number_entered", "job_day_entered"
PRESSURE, RINGS, PREFERRED = "line_pressure_entered", "maker_ring_count_entered", "preferred_ring_count_entered"
OUT, SIZE, CLASS, FACING = "comes_out_entered", "flange_size", "flange_class_entered", "flange_facing_entered"
METAL, KIND, BOLTS, GREASE = "flange_material_entered", "gasket_kind", "flange_bolt_grade", "flange_lubricant"
RENEWED, ACTUATED, MASS = "flange_studs_renewed_entered", "valve_actuated_entered", "valve_mass_entered"
LEGS, ANGLE, REACH, HOOK, SWL = (
    "sling_legs_entered",
    "sling_angle_entered",
    "leg_length_entered",
    "hook_height_entered",
    "leg_capacity_entered",
)
JOINTS = "flange_joint_count_entered"
#: Findings that say what was guessed; every other one says what is wrong, or what was done as the list asks.
GUESSES: Final = frozenset(
    {
        "chosen-sheet",
        "joined-headers",
        "heading-unit",
        "weak-header",
        "misspelt-header",
        "pair-header",
        "totals-row",
        "note-row",
        "tag-only",
        "not-given",
        "rough-number",
        "guessed-thousands",
        "guessed-comma",
        "guessed-percent",
        "guessed-encoding",
        "date-was-fraction",
        "unit-doubt",
        "guessed-nps",
    }
)
BLANK: Final = None


@dataclass(frozen=True)
class Ugly:
    """One list and what must come of it.

    `text` is a CSV file, or `sheets` are the sheets of a workbook: title to rows, `merged` the cells merged on the
    first. `valves` are the rows that are valves: the row in the file, and some of its entries (BLANK for none).
    `guesses` and `faults` are the kinds of finding, each with how often it stands.
    """

    valves: list[tuple[int, dict[str, Any]]]
    guesses: dict[str, int] = field(default_factory=dict)
    faults: dict[str, int] = field(default_factory=dict)
    text: str = ""
    sheets: dict[str, list[list[Any]]] = field(default_factory=dict)
    merged: tuple[str, ...] = ()
    how: dict[str, Any] = field(default_factory=dict)
    encoding: str = "utf-8"

    def read(self, folder: Path) -> ValveList:
        """The list, written to a file and read."""
        if self.text:
            path = folder / "list.csv"
            path.write_bytes(self.text.encode(self.encoding))
            return read_list(path, **self.how)
        book = openpyxl.Workbook()
        book.remove(book.worksheets[0])
        for title, rows in self.sheets.items():
            sheet = book.create_sheet(title)
            for row in rows:
                sheet.append(row)
        for cells in self.merged:
            book.worksheets[0].merge_cells(cells)
        book.save(folder / "list.xlsx")
        return read_list(folder / "list.xlsx", **self.how)


def metric(tag: str, *lengths: float | str | None) -> dict[str, Any]:
    """A metric valve: tag, then stem, bore, depth and nose as far as given."""
    return {"tag": tag, "unit_set": "metric", **dict(zip((STEM, BORE, DEPTH, NOSE), lengths, strict=False))}


def us(tag: str, *lengths: float | str | None) -> dict[str, Any]:
    """A valve in inches, as `metric`."""
    return metric(tag, *lengths) | {"unit_set": "US"}


HEAD: Final = ["Tag", "Units", "Stem", "Bore", "Depth", "Nose"]
LINE: Final = ",".join(HEAD) + "\n"
V1: Final = ["V-1", "mm", 28, 44, 60, 25]
V2: Final = ["V-2", "mm", 20, 32, 40, 20]
TWO: Final = [(2, metric("V-1", 28, 44, 60, 25)), (3, metric("V-2", 20, 32, 40, 20))]

UGLY: Final[dict[str, Ugly]] = {
    "several sheets, the fullest is taken": Ugly(
        sheets={
            "Cover": [["Outage of the east wing"], ["Tag", "Stem"]],
            "Template": [HEAD],
            "Old": [["Tag", "Stem (mm)"], ["V-9", 30]],
            "Valves": [HEAD, V1, V2],
        },
        valves=TWO,
        guesses={"chosen-sheet": 1},
    ),
    "several sheets, one is named": Ugly(
        sheets={"Valves": [HEAD, V1, V2], "Old": [["Tag", "Stem (mm)"], ["V-9", 30]]},
        how={"sheet": "old"},
        valves=[(2, metric("V-9", 30, BLANK))],
        faults={"missing-header": 3},
    ),
    "headers in two lines": Ugly(
        text="Tag,Stem,Box,,Gland,Gland studs,\nNo.,dia (mm),bore (mm),depth (mm),nose (mm),size,number\nV-1,28,44,60,25,M12,2\n",
        valves=[(3, metric("V-1", 28, 44, 60, 25) | {STUD: "M12", COUNT: 2})],
        guesses={"joined-headers": 1},
    ),
    "merged headings with their unit": Ugly(
        sheets={
            "List": [
                ["Valve", None, "Dimensions (mm)", None, None, None, "Gap", None, "Remarks"],
                ["Tag", "Type", "Stem", "Bore", "Depth", "Nose", 1, 2, None],
                ["V-1", "gate", 28, 44, 60, 25, 9.4, 9.3, "ok"],
            ]
        },
        merged=("A1:B1", "C1:F1", "G1:H1", "I1:I2"),
        valves=[(3, metric("V-1", 28, 44, 60, 25) | {GAP_1: 9.4, GAP_2: 9.3})],
        guesses={"joined-headers": 1, "heading-unit": 4},
        faults={"unknown-header": 2},
    ),
    "a merged heading ends where the file says": Ugly(
        sheets={
            "List": [
                ["Tag", "Units", "Stem", "Stuffing box", None, None, None],
                [None, None, None, "bore", "depth", "Nose", "Length"],
                ["V-1", "mm", 28, 44, 60, 25, 310],
            ]
        },
        merged=("A1:A2", "B1:B2", "C1:C2", "D1:E1"),
        valves=[(3, metric("V-1", 28, 44, 60, 25))],
        guesses={"joined-headers": 1},
        faults={"unknown-header": 1},
    ),
    "a lantern ring's depth is not the box's": Ugly(
        text="Tag,Units,Stem,Box,Lantern ring\n,,dia,bore,depth\nV-1,mm,28,44,12\n",
        valves=[(3, metric("V-1", 28, 44, BLANK) | {"lantern_length_entered": 12})],
        guesses={"joined-headers": 1},
        faults={"missing-header": 2},
    ),
    "headers in two lines and units in a third": Ugly(
        text="Valve,Stem,Stuffing box,,Gland\nTag,diameter,bore,depth,nose\n,[in],[in],[in],[in]\nV-1,1 1/8,1 3/4,2 1/2,1\n",
        valves=[(4, us("V-1", 1.125, 1.75, 2.5, 1))],
        guesses={"joined-headers": 1},
    ),
    "title, revision, all dimensions in mm": Ugly(
        text="East wing valve survey,,,,\nRev 3,,,,\nAll dimensions in mm unless noted,,,,\n\nTag,Stem,Bore,Depth,Nose\nV-1,28,44,60,25\n",
        valves=[(6, metric("V-1", 28, 44, 60, 25))],
        guesses={"heading-unit": 4},
    ),
    "units in brackets of every kind": Ugly(
        text="Tag,Stem Ø [mm],Box bore {mm},Box depth (in mm),Nose; mm,Pressure (bar(g))\nV-1,28,44,60,25,16\n",
        valves=[(2, metric("V-1", 28, 44, 60, 25) | {PRESSURE: 16})],
    ),
    "totals, with and without a word": Ugly(
        text=f"{LINE}V-1,mm,28,44,60,25\nV-2,mm,20,32,40,20\n,,48,76,100,45\nTotal,,48,76,100,45\n"
        "TOTAL: 2 valves,,,,,\nAverage,,24,38,50,22.5\n",
        valves=TWO,
        guesses={"totals-row": 4},
    ),
    "subtotals between groups": Ugly(
        text="No.,Tag,Stem (mm),Rings (maker)\n1,V-1,28,5\n2,V-2,20,6\nSub-total,,,11\n3,V-3,30,4\nGrand total,,,15\n",
        valves=[(2, metric("V-1", 28) | {RINGS: 5}), (3, metric("V-2", 20) | {RINGS: 6}), (5, metric("V-3", 30) | {RINGS: 4})],
        guesses={"totals-row": 2},
        faults={"unknown-header": 1, "missing-header": 3},
    ),
    "a valve whose tag sounds like a total": Ugly(
        text=f"{LINE}SUM-1,mm,28,44,60,25\nTotal isolation 7,mm,20,32,40,20\n",
        valves=[(2, metric("SUM-1", 28, 44, 60, 25)), (3, metric("Total isolation 7", 20, 32, 40, 20))],
    ),
    "a valve without a tag, like the only one above": Ugly(
        text=f"{LINE}V-1,mm,28,44,60,25\nV-2,mm,,,,\n,,28,44,60,25\n",
        valves=[(2, metric("V-1", 28, 44, 60, 25)), (3, metric("V-2", BLANK)), (4, {"tag": "", STEM: 28})],
        faults={"missing-tag": 1, "missing-unit-set": 1},
    ),
    "notes, legend and signatures below": Ugly(
        text=f"{LINE}V-1,mm,28,44,60,25\nV-2,mm,20,32,40,20\n\nNotes:,,,,,\n1) depth to the bare bottom of the box,,,,,\n* worn,,,,,\n"
        "Code,Meaning,,,,\nPrepared by,A. Marsh,checked by,B. Lund,,\n",
        valves=TWO,
        guesses={"note-row": 5},
    ),
    "headings between the valves": Ugly(
        text=f"{LINE}East wing,,,,,\nV-1,mm,28,44,60,25\nHot liquor system,,,,,\nV-2,mm,20,32,40,20\nV-3,,,,,\n",
        valves=[(3, TWO[0][1]), (5, TWO[1][1]), (6, {"tag": "V-3", "unit_set": "", STEM: BLANK})],
        guesses={"note-row": 2, "tag-only": 1},
        faults={"missing-unit-set": 1},
    ),
    "numbers as text, with spaces": Ugly(
        sheets={"List": [HEAD, ["V-1", "mm", "28", " 44 ", "60.0", "'25"], ["V-2", "mm", "\u00a020", "32,0", "4e1", "20 mm"]]},
        valves=[(2, metric("V-1", 28, 44, 60, "'25")), (3, metric("V-2", 20, 32, 40, 20))],
        faults={"not-a-number": 1},
    ),
    "decimal commas and semicolons": Ugly(
        text="Tag;Units;Stem;Bore;Depth;Nose\nV-1;mm;28,5;44,25;60,0;25\nV-2;in;1,125;1,75;2,5;1\n",
        valves=[(2, metric("V-1", 28.5, 44.25, 60, 25)), (3, us("V-2", 1.125, 1.75, 2.5, 1))],
        guesses={"guessed-comma": 1},
    ),
    "marks of thousands": Ugly(
        text="Tag;Units;Stem;Pressure (kPa);Rim pull (N)\nV-1;mm;28;1 600;1'200\nV-2;mm;28;1,234.5;1.200,0\nV-3;mm;28;1,600;400\n",
        valves=[
            (2, metric("V-1", 28) | {PRESSURE: 16, "most_rim_pull_entered": 1200}),
            (3, metric("V-2", 28) | {PRESSURE: 12.345, "most_rim_pull_entered": 1200}),
            (4, metric("V-3", 28) | {PRESSURE: "1,600", "most_rim_pull_entered": 400}),
        ],
        guesses={"guessed-thousands": 2},
        faults={"missing-header": 3, "converted-unit": 2, "unclear-comma": 1},
    ),
    "nothing known, in many words": Ugly(
        text=f"{LINE}V-1,mm,28,n/a,?,TBC\nV-2,mm,20,-,unknown,none\n",
        valves=[(2, metric("V-1", 28, BLANK, BLANK, BLANK)), (3, metric("V-2", 20, BLANK, BLANK, BLANK))],
        guesses={"not-given": 5},
    ),
    "nothing known in the texts": Ugly(
        text="Tag,Units,Stem,Studs,Stud grade,Lubricant on studs\nV-1,mm,28,n/a,not known,?\n",
        valves=[(2, metric("V-1", 28) | {STUD: "", "gland_stud_grade": "not known", "stud_lubricant": ""})],
        guesses={"not-given": 2},
        faults={"missing-header": 3},
    ),
    "rough numbers": Ugly(
        text=f"{LINE}V-1,mm,~28,ca. 44,60?,approx 25 mm\nV-2,mm,20*,≈32,about 40,20 (est.)\n",
        valves=TWO,
        guesses={"rough-number": 8},
    ),
    "two numbers in one cell": Ugly(
        text=f"{LINE}V-1,mm,28/44,44,60-62,25\nV-2,mm,20 x 32,32,40 to 41 mm,20 21\n",
        valves=[(2, metric("V-1", "28/44", 44, "60-62", 25)), (3, metric("V-2", "20 x 32", 32, "40 to 41 mm", "20 21"))],
        faults={"two-numbers": 5},
    ),
    "two numbers that the header explains": Ugly(
        text="Tag,Stem/bore (mm),Depth (mm),Nose (mm)\nV-1,28/44,60,25\nV-2,20 x 32,40,20\nV-3,28/32,40,20\nV-4,28,40,20\n"
        "V-5,~20/32,40,20\n",
        valves=[
            (2, metric("V-1", 28, 44, 60, 25)),
            (3, metric("V-2", 20, 32, 40, 20)),
            (4, metric("V-3", 28, 32, 40, 20)),
            (5, metric("V-4", "28", "28", 40, 20)),
            (6, metric("V-5", 20, 32, 40, 20)),
        ],
        guesses={"pair-header": 1, "rough-number": 1},
        faults={"not-a-pair": 1},
    ),
    "two inch sizes that the header explains, the bore first": Ugly(
        text="Tag,Bore x stem (in),Depth (in),Nose (in)\nV-1,1 3/4 x 1 1/8,2 1/2,1\nV-2,5/8,2,1\nV-3,n/a,2,1\n",
        valves=[(2, us("V-1", 1.125, 1.75, 2.5, 1)), (3, us("V-2", "5/8", "5/8", 2, 1)), (4, us("V-3", BLANK, BLANK, 2, 1))],
        guesses={"pair-header": 1, "not-given": 1},
        faults={"not-a-pair": 1},
    ),
    "fractions that a spreadsheet made dates": Ugly(
        sheets={
            "List": [
                HEAD,
                ["V-1", "in", 1.125, 1.75, 2.5, dt.datetime(2026, 5, 16)],  # noqa: DTZ001 - a spreadsheet has no time zones
                ["V-2", "in", dt.datetime(2026, 8, 5), 1.25, 2, 1],  # noqa: DTZ001 - as above
                ["V-3", "in", 1, 1.5, 2, dt.datetime(2026, 10, 3)],  # noqa: DTZ001 - as above
            ]
        },
        valves=[
            (2, us("V-1", 1.125, 1.75, 2.5, "2026-05-16")),
            (3, us("V-2", "2026-08-05", 1.25, 2, 1)),
            (4, us("V-3", 1, 1.5, 2, "2026-10-03")),
        ],
        guesses={"date-was-fraction": 2},
        faults={"date-not-number": 1},
    ),
    "dates of fractions in a text file": Ugly(
        text=f"{LINE}V-1,in,1-1/8,1-3/4,2-1/2,16-May\nV-2,in,May-32,1.25,2,1/8/2026\n",
        valves=[(2, us("V-1", 1.125, 1.75, 2.5, "16-May")), (3, us("V-2", "May-32", 1.25, 2, "1/8/2026"))],
        guesses={"date-was-fraction": 3},
    ),
    "mm and inches in one column, each with its unit": Ugly(
        text='Tag,Stem,Bore,Depth,Nose\nV-1,28 mm,44 mm,60 mm,25 mm\nV-2,"1 1/8""",1.75 in,2.5 in,1 in\nV-3,28 mm,"1.75""",60 mm,25 mm\n',
        valves=[(2, metric("V-1", 28, 44, 60, 25)), (3, us("V-2", 1.125, 1.75, 2.5, 1)), (4, metric("V-3", 28, 44.45, 60, 25))],
        faults={"converted-unit": 1},
    ),
    "bare inches among millimetres": Ugly(
        text="Tag,Stem (mm),Bore (mm)\nV-1,28,44\nV-2,30,46\nV-3,1.125,44\nV-4,25,38\nV-5,26,40\n",
        valves=[(at, metric(f"V-{at - 1}", stem)) for at, stem in enumerate([28, 30, 1.125, 25, 26], 2)],
        guesses={"unit-doubt": 1},
        faults={"missing-header": 2},
    ),
    "headers with slips": Ugly(
        text="Tag,Units,Stem diamter,Stuffing box bore,Box deapth,Nose lenght,Departement\nV-1,mm,28,44,60,25,east\n",
        valves=[(2, metric("V-1", 28, 44, 60, 25))],
        guesses={"misspelt-header": 3},
        faults={"unknown-header": 1},
    ),
    "headers in other words": Ugly(
        text="FUNCTIONAL LOCATION,U.O.M.,Spindle OD,Packing chamber I.D.,Depth of stuffing-box,Follower spigot length,Rings\n"
        "V-1,Metric,28,44,60,25,5\n",
        valves=[(2, metric("V-1", 28, 44, 60, 25) | {PREFERRED: 5})],
        guesses={"weak-header": 1},
    ),
    "headers in other languages": Ugly(
        text="Armatur-Nr.;Einheit;Spindeldurchmesser;Stopfbuchsbohrung;Stopfbuchstiefe;Brillenlänge\nV-1;mm;28,0;44;60;25\n",
        encoding="cp1252",
        valves=[(2, metric("V-1", 28, 44, 60, 25))],
        guesses={"guessed-encoding": 1},
    ),
    "loose words for headers": Ugly(
        text="Item,Stem (mm),Bore (mm),Depth (mm),Nose (mm),Thread,Material\nV-1,28,44,60,25,m12,PTFE braid\n",
        valves=[(2, metric("V-1", 28, 44, 60, 25) | {STUD: "M12", "packing_material": "PTFE braid"})],
        guesses={"weak-header": 3},
    ),
    "headers that only the planner knows": Ugly(
        text="Code,A,B,C (mm),D\nV-1,28 mm,44 mm,60,25 mm\n",
        how={"wanted": {"code": "tag", "A": "stem_diameter", "b": "box_bore_entered", "C (mm)": "Box depth", "D": "nose-length"}},
        valves=[(2, metric("V-1", 28, 44, 60, 25))],
    ),
    "a map against a header's own words": Ugly(
        text="Tag,Stem (mm),True stem (mm),Bore (mm),Depth (mm),Nose (mm),Gap 1\nV-1,30,28,44,60,25,see card\n",
        how={"wanted": {"True stem (mm)": "stem_diameter", "Gap 1": "carry"}, "mapped": {"Stem (mm)": "stem_diameter", "Nice": "place"}},
        valves=[(2, metric("V-1", 28, 44, 60, 25) | {GAP_1: BLANK})],
        guesses={},
        faults={"repeated-header": 1, "map-not-used": 1},
    ),
    "the header again on each page": Ugly(
        text="Tag,Stem,Box,,Gland\n,dia (mm),bore (mm),depth (mm),nose (mm)\nV-1,28,44,60,25\n\nPage 2,,,,\nTag,Stem,Box,,Gland\n"
        ",dia (mm),bore (mm),depth (mm),nose (mm)\nV-2,20,32,40,20\n",
        valves=[(3, metric("V-1", 28, 44, 60, 25)), (8, metric("V-2", 20, 32, 40, 20))],
        guesses={"joined-headers": 1, "note-row": 1},
        faults={"repeated-header-row": 2},
    ),
    "a second table beside the first": Ugly(
        sheets={"List": [[*HEAD, None, "Stock", "Kg"], [*V1, None, "8 mm braid", 4], [*V2, None, "6 mm braid", 2]]},
        valves=TWO,
        faults={"unknown-header": 2},
    ),
    "an order and a plan beside the measurements": Ugly(
        text="Tag;Units;Stem;Bore;Depth;Nose;Braided end rings;Gasket size;Gaskets;Studs to renew;On critical path (y/n);Est. hours;Team;"
        "Planned day\n"
        "V-1;mm;28;44;60;25;2;90 x 110 x 2;1 off;2 studs;Y;3,5 h;Team 2;Day 3\n"
        "V-2;mm;20;32;40;20;-;none;;no;-;2:30;2;16-May\n"
        "V-3;mm;20;32;40;20;1-2;?;2;;perhaps;~4;1/2;3rd\n"
        ";;;;;;;;;;;7,5;3;\n"
        "Total hours;;;;;;;;;;;11;;\n"
        "\n"
        "Planned by;A. Marsh;;;;;;;;;;;1;\n",
        valves=[
            (
                2,
                metric("V-1", 28, 44, 60, 25)
                | {ENDS: 2, GASKET: "90 x 110 x 2", GASKETS: 1, NEW: 2, CRITICAL: "yes", HOURS: 3.5, CREW: 2, DAY: 3},
            ),
            (
                3,
                metric("V-2", 20, 32, 40, 20)
                | {ENDS: BLANK, GASKET: "", GASKETS: BLANK, NEW: BLANK, CRITICAL: "no", HOURS: "2:30", CREW: 2, DAY: "16-May"},
            ),
            (
                4,
                metric("V-3", 20, 32, 40, 20)
                | {ENDS: "1-2", GASKET: "", GASKETS: 2, NEW: BLANK, CRITICAL: "perhaps", HOURS: 4, CREW: "1/2", DAY: 3},
            ),
        ],
        guesses={"weak-header": 3, "not-given": 3, "rough-number": 1, "totals-row": 1, "note-row": 1},
        faults={"not-a-number": 1, "date-in-plan": 1, "two-numbers": 2, "not-a-valve": 1},
    ),
    "a plan on a sheet of its own, and one beside the valves in two lines": Ugly(
        sheets={
            "Plan": [["Tag", "Crew", "Day", "Hours", "Critical"], ["V-1", 1, 1, 4, "x"], ["V-2", 1, 2, 3, ""]],
            "Valves": [
                ["Tag", "Stem (mm)", "Bore (mm)", "Gland studs", None, None, "Outage", None, "Labour", "Actual hours"],
                [None, None, None, "size", "number", "new", "day", "critical", "hours", None],
                ["V-1", 28, 44, "M12", 2, 0, dt.datetime(2026, 5, 16), True, 4, 6],  # noqa: DTZ001 - a spreadsheet has no time zones
                ["V-2", 20, 32, "M10", 2, 2, 1, 0, dt.time(2, 30), None],
            ],
        },
        valves=[
            (
                3,
                metric("V-1", 28, 44) | {STUD: "M12", COUNT: 2, NEW: 0, DAY: "2026-05-16", CRITICAL: "yes", HOURS: 4, CREW: BLANK},
            ),
            (
                4,
                metric("V-2", 20, 32) | {STUD: "M10", COUNT: 2, NEW: 2, DAY: 1, CRITICAL: "no", HOURS: "02:30:00", CREW: BLANK},
            ),
        ],
        guesses={"chosen-sheet": 1, "joined-headers": 1},
        faults={"missing-header": 2, "unknown-header": 1, "date-in-plan": 2},
    ),
    "flanges of two kinds of sizes and a sling": Ugly(
        text="Tag;Units;Stem;Bore;Depth;Nose;To be removed;Line size;Rating;Facing;Flange matl;Gasket type;Flange bolts material;New flange"
        " bolts;Actuator;Weight (kg);Sling legs;Sling angle;Leg length (m);Hook height;Leg SWL\n"
        "INV-1;mm;28;44;60;25;x;DN 50;150#;RF;CS;SW;B7;re-use;hand;~35;2-leg;60°;1,5;1300;1 t\n"
        "INV-2;mm;20;32;40;20;-;50;PN16;FF;CI;rubber;;;-;;;;;;\n"
        "INV-3;in;1;1 1/2;2;1;no;1-1/2;CL 300;RTJ;SS;SWG IR;B7;new;MOV;110 lb;4;45 deg;6 ft;48;2000\n"
        "INV-4;mm;20;32;40;20;perhaps;20;150/300;wafer;bronze;?;;;;1,200;;;;;\n"
        "INV-5;mm;20;32;40;20;;2;Class 600;none;cast;none;;;;40-50;;30-60;;;\n"
        "Total weight;;;;;;;;;;;;;;;85;;;;;\n",
        valves=[
            (
                2,
                metric("INV-1", 28, 44, 60, 25)
                | {OUT: "yes", SIZE: "NPS 2", CLASS: 150, FACING: "raised face", METAL: "1.1 carbon steel", BOLTS: "B7"}
                | {KIND: "spiral wound, graphite filler"}
                | {RENEWED: "no", ACTUATED: "no", MASS: 35, LEGS: 2, ANGLE: 60, REACH: 1500, HOOK: 1300, SWL: 1000},
            ),
            (
                3,
                metric("INV-2", 20, 32, 40, 20)
                | {OUT: "no", SIZE: "50", CLASS: BLANK, FACING: "flat face", METAL: "cast iron", KIND: "elastomer sheet", BOLTS: ""}
                | {RENEWED: "", ACTUATED: "no", MASS: BLANK, LEGS: BLANK, ANGLE: BLANK, REACH: BLANK, HOOK: BLANK, SWL: BLANK},
            ),
            (
                4,
                us("INV-3", 1, 1.5, 2, 1)
                | {OUT: "no", SIZE: "NPS 1 1/2", CLASS: 300, FACING: "ring joint", METAL: "steel"}
                | {
                    KIND: "spiral wound with inner ring, graphite filler",
                    BOLTS: "B7",
                    RENEWED: "yes",
                    ACTUATED: "yes",
                    MASS: 110,
                    LEGS: 4,
                    ANGLE: 45,
                    REACH: 72,
                    HOOK: 48,
                    SWL: 2000,
                },
            ),
            (
                5,
                metric("INV-4", 20, 32, 40, 20)
                | {OUT: "perhaps", SIZE: "20", CLASS: "150/300", FACING: "wafer, lug or tapped", METAL: "other", KIND: "", MASS: "1,200"},
            ),
            (
                6,
                metric("INV-5", 20, 32, 40, 20)
                | {OUT: "", SIZE: "NPS 2", CLASS: 600, FACING: "none", METAL: "cast", KIND: "", MASS: "40-50", ANGLE: "30-60"},
            ),
        ],
        guesses={"weak-header": 8, "rough-number": 1, "not-given": 2, "guessed-nps": 1, "totals-row": 1},
        faults={"size-from-dn": 1, "converted-unit": 3, "pn-flange": 1, "unclear-size": 2, "two-numbers": 3, "unclear-comma": 1},
    ),
    "flanges in two lines, sizes in DN, and another list's sheet": Ugly(
        sheets={
            "Boxes": [
                ["Tag", "Stem (mm)", "Bore (mm)", "Flange", None, None, None, "Valve", None, "Gasket", None],
                [None, None, None, "DN", "class", "face", "joints", "weight", "size", "size", "type"],
                ["INV-1", 28, 44, 80, "Cl. 150", "rf", 2, 40.5, '3"', "90 x 110 x 2", "graphite"],
                ["INV-2", 20, 32, 20, 300, "R.T.J.", 1, "88 lb", None, None, "our own sheet"],
                ["INV-3", 20, 32, '1"', "150 WOG", None, "both", "heavy", None, None, None],
            ],
            "Index": [["Tag", "Flange size", "Flange class", "Facing", "Weight"], *[["INV-9", 2, 150, "RF", 20]] * 6],
        },
        valves=[
            (
                3,
                metric("INV-1", 28, 44)
                | {SIZE: "NPS 3", CLASS: 150, FACING: "raised face", JOINTS: 2, MASS: 40.5, GASKET: "90 x 110 x 2"}
                | {KIND: "flexible graphite sheet"},
            ),
            (
                4,
                metric("INV-2", 20, 32)
                # The pound is 0.453 592 37 kg exactly: NIST SP 811 (2008), appendix B.8, from memory.
                | {SIZE: "NPS 3/4", CLASS: 300, FACING: "ring joint", JOINTS: 1, MASS: 88 * 0.45359237, KIND: "our own sheet"},
            ),
            (
                5,
                metric("INV-3", 20, 32) | {SIZE: "NPS 1", CLASS: "150 WOG", FACING: "", JOINTS: "both", MASS: "heavy", KIND: ""},
            ),
        ],
        guesses={"chosen-sheet": 1, "joined-headers": 1, "weak-header": 1},
        faults={"size-from-dn": 2, "converted-unit": 1, "not-a-number": 3, "missing-header": 2, "unknown-header": 1},
    ),
    "a row that slipped by a comma": Ugly(
        text=f"{LINE}V-1,mm,28,44,60,25\nV-2,mm,20,5,32,40,20\n",
        valves=[(2, TWO[0][1]), (3, metric("V-2", 20, 5, 32, 40))],
        faults={"extra-cells": 1, "renamed-header": 1},
    ),
}


def cells_of(valves: ValveList, expected: list[tuple[int, dict[str, Any]]]) -> list[tuple[int, dict[str, Any]]]:
    """Of each valve that was read, its row and those entries that are expected; BLANK for one that is not there."""
    out = []
    for at, number in enumerate(valves.rows):
        names = expected[at][1] if at < len(expected) else {"tag": ""}
        held = {name: valves.frame.loc[at, name] for name in names}
        out.append((number, {name: BLANK if isinstance(value, float) and math.isnan(value) else value for name, value in held.items()}))
    return out


def close(expected: dict[str, Any]) -> dict[str, Any]:
    """Numbers to be met to twelve digits: a converted one has its last bit from the conversion."""
    return {name: pytest.approx(value, rel=1e-12) if isinstance(value, (int, float)) else value for name, value in expected.items()}


@pytest.mark.parametrize("name", UGLY)
def test_ugly_list(tmp_path: Path, name: str) -> None:
    """Just the rows that are valves are read, just so, and each guess and each fault is said as often as it was made."""
    ugly = UGLY[name]
    valves = ugly.read(tmp_path)
    assert [(row, close(held)) for row, held in ugly.valves] == cells_of(valves, ugly.valves)
    kinds = Counter(finding.kind for finding in valves.findings)
    assert (ugly.guesses, ugly.faults) == (
        {kind: count for kind, count in kinds.items() if kind in GUESSES},
        {kind: count for kind, count in kinds.items() if kind not in GUESSES},
    )
    assert [finding for finding in valves.findings if not finding.said or "{" in finding.said or not finding.to_do] == []


def test_the_ugly_lists_in_one_line_each(tmp_path: Path, tell: Tell) -> None:
    """There are 25 ugly lists or more, and one line says of each how many rows were read, what was guessed and what is wrong."""
    lines = []
    for name, ugly in UGLY.items():
        valves = ugly.read(tmp_path)
        kinds = Counter(finding.kind for finding in valves.findings)
        guesses = ", ".join(f"{kind} {count}" for kind, count in kinds.items() if kind in GUESSES) or "none"
        faults = ", ".join(f"{kind} {count}" for kind, count in kinds.items() if kind not in GUESSES) or "none"
        lines.append(f"{name}: {len(valves.rows)} of {len(valves.verbatim)} rows read; guesses: {guesses}; faults: {faults}")
    for line in lines:
        tell(f"Ugly list, {line}")
    assert len(lines) >= 25
    assert all(f": {len(ugly.valves)} of " in line for line, ugly in zip(lines, UGLY.values(), strict=True))
