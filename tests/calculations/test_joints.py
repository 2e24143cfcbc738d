"""All flange joints that the tables have, with each kind of gasket and usual grade, in the hardest ordinary service: are they let through?

Cold water at the rating of class and material, or at what the gasket bears where that is less. That a fitter tightens such joints every
day is common practice, no source; so a stop, or no torque where the tables have the gasket, needs a reason that he would take.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

import numpy as np
import pandas as pd
import pytest
from told import Tell

from sheetcalc.calculations.run import calculate
from sheetcalc.declare.quantity import Fault, Gravity, all_quantities
from sheetcalc.reference import tables

GRADES: Final = ("ASTM A193 B7", "ASTM A193 B7M", "ASTM A193 B8 class 2", "ASTM A193 B8 class 1")
KINDS: Final = tuple(name for name in tables.values()["gasket_kind_names"] if name)
#: Group 1.1 at 50 °C in bar, by class (ASME B16.5).
RATING: Final = {"150": 19.2, "300": 50.1, "600": 100.2, "900": 150.4}
#: What all of them have in common.
_VALVE: Final = {
    "unit_set": "metric", "comes_out_entered": "yes", "flange_facing_entered": "raised face", "flange_material_entered": "1.1 carbon steel",
    "flange_lubricant": "machine oil", "fluid_kind_entered": "water", "fluid_temperature_entered": 50.0,
}  # fmt: skip


def _joints() -> pd.DataFrame:
    rows = []
    for kind in tables.printed("gasket_kinds"):
        bears, together = float(kind["pressure_high_bar"] or "inf"), float(kind["bar_celsius"] or "inf") / 50
        for key in tables.values()["flange_keys"]:
            size, class_ = key.split(" class ")
            rows += [
                {**_VALVE, "tag": f"{key}, {kind['name']}, {grade}", "flange_size": size, "flange_class_entered": float(class_),
                 "gasket_kind": kind["name"], "flange_bolt_grade": grade, "line_pressure_entered": min(RATING[class_], bears, together)}
                for grade in GRADES
            ]  # fmt: skip
    return pd.DataFrame(rows)


@cache
def worked() -> tuple[pd.DataFrame, pd.DataFrame]:
    """The joints, and what is worked out of them."""
    joints = _joints()
    return joints, calculate(joints)


def _said(gravity: Gravity) -> Any:
    """Which joints have anything of that gravity said of flange, bolts or gasket."""
    _joints, out = worked()
    names = [q.name for q in all_quantities() if isinstance(q, Fault) and q.part == "flange" and q.gravity is gravity]
    return np.any([out[name] != "" for name in names], axis=0)


def _with_gasket() -> Any:
    """Which joints have a gasket whose size is on the tables."""
    return worked()[1]["gasket_area"].notna().to_numpy()


def test_how_many_get_a_torque_and_how_many_a_look(tell: Tell) -> None:
    """The table of all of them, by kind of gasket and grade."""
    joints, out = worked()
    low, look, stop = out["flange_load_low"] != "", _said(Gravity.LOOK), _said(Gravity.STOP)
    torque = out["flange_bolt_torque_worked"].notna() & ~low
    for kind in KINDS:
        for grade in GRADES:
            here = ((joints["gasket_kind"] == kind) & (joints["flange_bolt_grade"] == grade)).to_numpy()
            sized = here & _with_gasket()
            tell(
                f"joints, {kind}, {grade}: {here.sum()}, gasket on Tables {sized.sum()}, torque {(sized & torque & ~stop).sum()}, look "
                f"{(sized & look).sum()}, below the design rules {(sized & low).sum()}, stop {(sized & stop).sum()}"
            )
    assert len(joints) == len(KINDS) * len(GRADES) * len(tables.values()["flange_keys"])


@pytest.mark.parametrize("grade", GRADES[:3])
def test_an_ordinary_joint_is_not_refused(grade: str) -> None:
    """Bolts of B7, B7M and strain-hardened B8 load each joint as its designer wants, and nothing stops it.

    But strain-hardened bolts are not made above 1 1/2 in: of those the tables have no strength.
    """
    joints, out = worked()
    here = ((joints["flange_bolt_grade"] == grade) & _with_gasket()).to_numpy()
    unmade = (out["flange_bolt_diameter"] > 38.5) & (grade == "ASTM A193 B8 class 2")
    assert here.sum() > 400
    assert (out["flange_grade_not_known"] != "").to_numpy()[here].tolist() == unmade[here].tolist()
    assert not (_said(Gravity.STOP) & here & ~unmade).any()
    assert not ((out["flange_load_low"] != "") & here).any()


def test_soft_bolts_do_not_load_a_winding() -> None:
    """B8 class 1 yields at 207 MPa: half of that is too little for half the spiral gaskets; soft sheet takes it.

    ASME B31.3 calls it low strength bolting (from memory).
    """
    joints, out = worked()
    soft = (joints["flange_bolt_grade"] == "ASTM A193 B8 class 1") & _with_gasket()
    low = (out["flange_load_low"] != "") & soft
    assert set(joints.loc[low, "gasket_kind"]) == {*KINDS[:3], "compressed fibre sheet", "flexible graphite sheet"}
    assert out.loc[low, "flange_bolt_torque"].isna().all()
    assert not (_said(Gravity.STOP) & soft).any()


def test_few_windings_of_usual_bolts_are_pressed_too_little() -> None:
    """Four of 57 spiral-wound joints with B7 get less than 10,000 psi (arithmetic of the tables: NPS 3, 8, 12 and 18, class 150)."""
    joints, out = worked()
    here = (joints["gasket_kind"] == KINDS[0]) & (joints["flange_bolt_grade"] == GRADES[0]) & _with_gasket()
    low = joints.loc[here & (out["gasket_not_seated"] != ""), ["flange_size", "flange_class_entered"]]
    assert here.sum() == 57
    assert sorted(map(tuple, low.to_numpy())) == [("NPS 12", 150), ("NPS 18", 150), ("NPS 3", 150), ("NPS 8", 150)]
