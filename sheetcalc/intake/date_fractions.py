"""Dates that a spreadsheet made of fractions of an inch: a date is never read, but what it may have been is named."""

from __future__ import annotations

import re
from typing import Final

#: A text that is a date, in figures or with the month in words.
DATE: Final = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}(?:[ T].*)?|\d{1,2}([/.-])\d{1,2}\1\d{2,4}"
    r"|\d{1,2}[ .-]*(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?(?:[ -]\d{2,4})?"
    r"|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[. -]+\d{1,4}",
    re.IGNORECASE | re.ASCII,
)
#: The months as they begin.
MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def date_fractions(day: int | None, month: int, year: int | None) -> tuple[str, ...]:
    """The fractions of an inch rule that a spreadsheet makes such a date of, the likeliest first.

    What a spreadsheet does with a stroke is common practice, no source: 7/16 becomes the 16th of July where months come
    first, 1/8 the 1st of August where days do, 5/32 the month of May 1932, since no month has 32 days, and 1-7/16 the
    7th of January 2016.

    Args:
        day: the day of the month; None where a text gives month and year alone.
        month: the month from 1.
        year: the year with its four digits; None where a text gives none.

    Returns:
        Texts such as "7/16" or "1 7/16"; none where no fraction becomes that date.
    """
    out: list[str] = []
    bottom = year % 100 if year is not None else 0
    if day in {None, 1} and bottom in {32, 64} and month % 2:
        out.append(f"{month}/{bottom}")
    if day is None:
        # "Jul-16" in a text file is the month of 2016 or the 16th of July.
        return tuple(out) or ((f"{month}/{bottom}",) if _on_a_rule(month, bottom) else ())
    out += [f"{top}/{below}" for top, below in ((month, day), (day, month)) if _on_a_rule(top, below)]
    out += [f"{whole} {top}/{bottom}" for whole, top in ((month, day), (day, month)) if _on_a_rule(top, bottom)]
    return tuple(dict.fromkeys(out))


def _on_a_rule(top: int, bottom: int) -> bool:
    """Whether a fraction in its lowest terms stands on an inch rule: halves to 16ths, as dates can hold no finer ones."""
    return bottom in {2, 4, 8, 16} and top < bottom and top % 2 == 1


def fractions_of_text(text: str) -> tuple[str, ...]:
    """`date_fractions` of a date in words or figures."""
    parts = re.findall(r"[a-z]+|\d+", text.partition(" 00:")[0].casefold())
    named = next((at for at, part in enumerate(parts) if part[:3] in MONTHS), None)
    if named is not None:
        month = MONTHS.index(parts.pop(named)[:3]) + 1
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
