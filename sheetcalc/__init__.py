"""Plan the repacking of valve stems, in spreadsheets that show and prove their own formulas."""


from sheetcalc.calculations.run import calculate
from sheetcalc.errors import ListError, OutputError, SheetcalcError, TooManyRowsError, UnknownNameError

__all__ = ["ListError", "OutputError", "SheetcalcError", "TooManyRowsError", "UnknownNameError", "__version__", "calculate"]

__version__ = "0.4.0"
