"""Lengths as they are shown besides mm: inches, and the nearest sixteenth for what is cut or read with a rule."""

from __future__ import annotations

from typing import Any, Final

import numpy as np
import pandas as pd

from sheetcalc.calculations.arithmetic import pick, rounded, word
from sheetcalc.declare.blocks import derive
from sheetcalc.declare.quantity import get
from sheetcalc.reference.sources import cite

#: What a mechanic cuts or reads with a rule.
WITH_A_RULE: Final = ("stocked_section", "spacer_height", "cut_length", "gland_gap_start", "gland_gap_end")
#: Those that can come out below nought, where a rule reads nought; ABS, since the greater of 0 and -0 may be -0.
_SIGNED: Final = frozenset({"gland_gap_start", "gland_gap_end"})


def _sixteenths(parts: Any, inch_parts: Any, names: list[str]) -> Any:
    # A list has few different numbers of sixteenths, so each is put into words once.
    codes, different = pd.factorize(np.atleast_1d(parts))
    whole = np.floor(different / inch_parts)
    rest = pick(different - whole * inch_parts + 1, names)
    words = [f"{number:.0f} {part}".strip() for number, part in zip(whole, rest, strict=True)]
    return word(codes, [*words, ""])


def _declare(name: str) -> None:
    quantity = get(name)
    inches, parts = f"{name}_in", f"{name}_parts"
    title, source = quantity.title, cite("inch")
    derive(
        inches,
        (name, "inch_length"),
        lambda x, inch: x / inch,
        f"{title} in inches.",
        title=f"{title}, inches",
        unit="in",
        part="shown",
        source=source,
        excel=f"{{{name}}}/{{inch_length}}",
        empirical="the number of inches, shown",
    )
    excel = f"ROUND(ROUND({{{inches}}}*{{inch_parts}},{{counting_digits}}),0)"
    derive(
        parts,
        (inches, "inch_parts", "counting_digits"),
        lambda x, n, digits: np.abs(np.maximum(0, rounded(rounded(x * n, digits), 0))),
        f"{title} as a whole number of sixteenths of an inch.",
        title=f"{title}, sixteenths",
        unit="1",
        part="shown",
        source=source,
        excel=f"ABS(MAX(0,{excel}))" if name in _SIGNED else excel,
        empirical="a number of sixteenths of an inch, shown",
    )
    derive(
        f"{name}_sixteenths",
        (parts, "inch_parts", "inch_part_names"),
        _sixteenths,
        f"{title} to the nearest sixteenth of an inch, as read on a rule and as typed.",
        title=f"{title}, nearest 1/16 in",
        part="shown",
        source=source,
        text=True,
        excel=f'TRIM(INT({{{parts}}}/{{inch_parts}})&" "&INDEX({{inch_part_names}},1+MOD({{{parts}}},{{inch_parts}})))',
    )


for _name in WITH_A_RULE:
    _declare(_name)
