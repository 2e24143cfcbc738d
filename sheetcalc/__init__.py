"""Plan the repacking of valve stems, in spreadsheets that show and prove their own formulas."""

from __future__ import annotations

import typing

from sheetcalc.errors import ListError, OutputError, SheetcalcError, TooManyRowsError, UnknownNameError

if typing.TYPE_CHECKING:
    from sheetcalc.frames import calculate

__all__ = ["ListError", "OutputError", "SheetcalcError", "TooManyRowsError", "UnknownNameError", "__version__", "calculate"]

__version__ = "0.8.0"


def __getattr__(name: str) -> typing.Any:
    """The core, imported when it is first asked for: the command line answers a call for help without it."""
    if name != "calculate":
        message = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(message)
    from sheetcalc.frames import calculate  # noqa: PLC0415

    return calculate
