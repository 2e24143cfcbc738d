"""What we raise.

SheetcalcError                base: one clear sentence for the person at the keyboard
├── DeclarationError          a quantity, source or table is declared wrongly (a fault of ours)
├── ListError                 a valve list cannot be read at all
├── TooManyRowsError          a list is longer than the stated limit
├── OutputError               a workbook cannot be written where it was asked for
└── UnknownNameError          no quantity, command column or table has that name
"""


class SheetcalcError(Exception):
    """The base of everything that this package raises on purpose."""


class DeclarationError(SheetcalcError):
    """A quantity, source or table is declared in a way that cannot hold."""


class ListError(SheetcalcError):
    """A valve list cannot be read: missing, empty, unreadable, or no known header."""


class TooManyRowsError(ListError):
    """A valve list has more rows than the workbook is meant for."""


class OutputError(SheetcalcError):
    """A workbook cannot be written: the place exists, is missing, or is full."""


class UnknownNameError(SheetcalcError):
    """A name that no quantity has."""
