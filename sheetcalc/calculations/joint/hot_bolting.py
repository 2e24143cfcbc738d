"""How hot and how cold the flange bolts of a valve that comes out may be, by their grade."""

from __future__ import annotations

import numpy as np

from sheetcalc.calculations.hot_bolting import declare_hot_bolting
from sheetcalc.calculations.joint.flange import PART, READING
from sheetcalc.declare.blocks import derived
from sheetcalc.declare.quantity import Gravity, Num, Text


@derived(
    title="Row of the flange bolt grade where the valve comes out",
    unit="1",
    part=PART,
    source=READING,
    excel='IF(EXACT({comes_out},"yes"),{flange_grade_row},"")',
)
def flange_heat_row(comes_out: Text, flange_grade_row: Num) -> Num:
    """The row of the grades by which the bolts are held against the fluid's temperature; blank where the flanges stay shut."""
    return np.where(comes_out == "yes", flange_grade_row, np.nan)


declare_hot_bolting(
    "flange_bolt",
    "Flange bolts",
    part=PART,
    row="flange_heat_row",
    grade="flange_bolt_grade",
    outside=Gravity.STOP,
    words=(
        "The fluid is hotter or colder than flange bolts of this grade may be: ask the owner's engineer for a grade made for it.",
        "So hot, flange bolts of this grade weaken or relax with time: tighten anew by the site's procedure, or choose another grade.",
        "Tables do not state how hot or how cold flange bolts of this grade may be: ask their maker, or give the grade a row of its own.",
    ),
)
