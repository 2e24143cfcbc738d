"""One cell as a text: how it is shown, and whether it says anything."""

from __future__ import annotations

import datetime as dt
from typing import Final

#: Blanks that are not the plain one: no-break, figure, thin and narrow no-break space; and two that have no width.
_SPACES: Final = str.maketrans(
    {"\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\u200b": None, "\ufeff": None},
)
#: Fractions of one sign, written out.
VULGAR: Final = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
#: Signs that look like a minus or a stroke.
SIGNS: Final = str.maketrans({"−": "-", "\u2010": "-", "\u2011": "-", "⁄": "/", "∕": "/"})
#: Text that a person puts where there is nothing to say.
DASHES: Final = frozenset({"-", "--", "---", "–", "—"})
#: Text that says that nothing is known. An error of a spreadsheet such as #N/A is none: a formula went wrong there.
_NOT_GIVEN: Final = frozenset(
    {"?", "??", "???", "(?)", "n/a", "na", "n.a.", "n.a", "n / a", "n/k", "n/m", "tbc", "tbd", "tba", "t.b.c.", "t.b.d."}
    | {"to be measured", "to measure", "not available", "not applicable"}
)
#: The same for numbers alone: "none" or "not known" may be what a text means, such as a grade that nobody knows.
_NO_NUMBER_GIVEN: Final = (
    _NOT_GIVEN
    | {"none", "nil", "no", "not fitted", "unknown", "not known", "not measured", "not taken", "missing"}
    | {"unbekannt", "k.a.", "inconnu", "desconocido"}
)


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


def plain(cell: object) -> str:
    """Any cell as text on one line, with plain spaces, trimmed; "" for a blank one."""
    return " ".join(written(cell).translate(_SPACES).split())


def is_blank(cell: object) -> bool:
    """Whether a cell holds nothing but spaces."""
    return cell is None or (isinstance(cell, str) and not cell.translate(_SPACES).strip())


def says_nothing(cell: object) -> bool:
    """Whether a cell is blank or holds only a dash."""
    return is_blank(cell) or (isinstance(cell, str) and not cell.strip().strip("-–—"))


def says_not_given(cell: object, *, number: bool = False) -> bool:
    """Whether a cell says in words that nothing is known; in the cell of a number "none" and "unknown" say so too."""
    return isinstance(cell, str) and plain(cell).casefold() in (_NO_NUMBER_GIVEN if number else _NOT_GIVEN)


def is_date(cell: object) -> bool:
    """Whether a spreadsheet holds a date, a time or a span of time there."""
    return isinstance(cell, (dt.date, dt.time, dt.timedelta))
