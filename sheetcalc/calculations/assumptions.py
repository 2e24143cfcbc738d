"""The constants of a workbook, from constants.toml: each stands on Assumptions with unit, range, source and grade, editable there."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

from sheetcalc.declare.blocks import assumption
from sheetcalc.reference.sources import cite


def _declare(name: str, issued: float | str, *, source: str, limits: list[float] | None = None, **said: Any) -> None:
    """Declare one table of the file; a field that no assumption has is refused."""
    low_high = (limits[0], limits[1]) if limits else None
    assumption(name, issued, source=cite(source), limits=low_high, **said)


for _name, _card in tomllib.loads(files("sheetcalc.reference").joinpath("constants.toml").read_text(encoding="utf-8")).items():
    _declare(_name, **_card)
