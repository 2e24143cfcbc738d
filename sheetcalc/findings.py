"""What can be wrong with a list, a measurement or a workbook: one class per fault.

A finding never stops the work: it says where, what stands there and what to do, and the good rows go on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Finding:
    """One fault at one place. `row` counts as the user's own file does, from 1; None means the whole list."""

    code: ClassVar[str] = ""
    title: ClassVar[str] = ""
    sentence: ClassVar[str] = ""
    remedy: ClassVar[str] = ""

    row: int | None = None
    column: str = ""
    value: str = ""
    tag: str = ""
    #: The lower, the graver; what the reader says of a row comes after what is wrong with the valve.
    rank: int = 9

    @property
    def said(self) -> str:
        """The sentence with the offending place and value filled in."""
        return self.sentence.format(row=self.row, column=self.column, value=self.value, tag=self.tag)

    @property
    def to_do(self) -> str:
        """What to do about it."""
        return self.remedy

    @property
    def kind(self) -> str:
        """The stable code that a summary counts by."""
        return self.code


@dataclass(frozen=True)
class QuantityFinding(Finding):
    """A fault quantity that spoke: its sentence is the one on the sheet, and here the value is added."""

    fault: str = ""
    fault_title: str = ""
    words: str = ""

    code: ClassVar[str] = "quantity-fault"
    title: ClassVar[str] = "A finding of the checks"
    sentence: ClassVar[str] = "{words}"
    remedy: ClassVar[str] = "Correct it in the list and run again, or correct the cell in Valves."

    @property
    def said(self) -> str:
        """The fixed sentence of the fault."""
        return self.words

    @property
    def kind(self) -> str:
        """The name of the fault quantity, as `sheetcalc explain` knows it."""
        return self.fault


class NotAskedFor(Finding):
    """A column that the answers asked for have no use for."""

    code = "not-asked-for"
    title = "Column not asked for"
    sentence = "Column {column!r} was understood as {value}, which the answers asked for have no use for: it is carried along."
    remedy = "Ask for more with --answers whole if it is to count."


class UnknownHeader(Finding):
    """A column that is not understood."""

    code = "unknown-header"
    title = "Column not understood"
    sentence = "Column {column!r} is none of the known measurements."
    remedy = "It is carried along unchanged at the right of Valves. Rename it if it holds a measurement."


class RenamedHeader(Finding):
    """A header that Excel could not use, or that is taken."""

    code = "renamed-header"
    title = "Column renamed"
    sentence = "Column {column!r} is called {value!r} in the workbook: its own name is taken or has brackets, # or '."
    remedy = "Nothing to do; the column's cells are unchanged."


class RepeatedHeader(Finding):
    """Two columns that mean the same measurement."""

    code = "repeated-header"
    title = "Measurement given twice"
    sentence = "Column {column!r} means a measurement that another column already gives."
    remedy = "The other column is used, this one is carried along. Delete or rename the wrong one."


class MissingHeader(Finding):
    """A measurement that the list does not have at all."""

    code = "missing-header"
    title = "Measurement not in the list"
    sentence = "No column of the list gives {column!r}."
    remedy = "Add the column, or type the values in Valves. Answers that need it stay blank."


class NotANumber(Finding):
    """Text where a number is needed."""

    code = "not-a-number"
    title = "Not a number"
    sentence = "Row {row}, {column}: {value!r} cannot be read as a number."
    remedy = "Measure again and type a number, a fraction such as 7/16, or a number with its unit."


class DateNotNumber(Finding):
    """A date where a measurement is needed, and no fraction of an inch rule could have become that date."""

    code = "date-not-number"
    title = "A date, not a measurement"
    sentence = "Row {row}, {column}: {value} is a date, and no fraction of an inch rule becomes that date."
    remedy = "Format the cell as text or as a fraction and type the measurement again, such as 0 7/16."


class DateWasFraction(Finding):
    """A date where a measurement is needed, which a spreadsheet makes of a fraction; the value names the fraction."""

    code = "date-was-fraction"
    title = "A date that was a fraction"
    sentence = "Row {row}, {column}: {value}; a spreadsheet makes such a date of a fraction that is typed. It was not read."
    remedy = "Format the cell as text or as a fraction and type the measurement again, such as 0 7/16."


class DateInPlan(Finding):
    """A date or a time where the plan of the outage needs a plain number."""

    code = "date-in-plan"
    title = "A date or a time, not a plain number"
    sentence = "Row {row}, {column}: {value} is a date or a time, and a plain number is wanted there. It was not read."
    remedy = "Format the cell as a number and type the number of the day, 1 for the first day of the outage, or hours such as 2.5."


class UnknownUnit(Finding):
    """A unit that is none of those known for its measurement."""

    code = "unknown-unit"
    title = "Unit not known"
    sentence = "Row {row}, {column}: the unit of {value!r} is not known here."
    remedy = (
        "Use mm, cm, m or in for a length; bar, mbar, kPa, MPa or psi (not absolute) for a pressure; MPa, N/mm2, psi or ksi for a "
        "stress; °C, °F or K for a temperature; N, kN, lbf or kgf for a force; kg, t or lb for a mass; h for man-hours."
    )


class ConvertedUnit(Finding):
    """A cell given in another unit than its row."""

    code = "converted-unit"
    title = "Converted to the unit of its row"
    sentence = "Row {row}, {column}: {value} was converted to the unit set of its row."
    remedy = "Nothing to do; what you wrote stands on Your list."


class MissingUnitSet(Finding):
    """A row that says nowhere whether it is metric or US."""

    code = "missing-unit-set"
    title = "Unit set missing"
    sentence = "Row {row}: nothing says whether its lengths are in mm or in inches."
    remedy = "Type metric or US in the unit set column. Until then its answers stay blank."


class UnknownUnitSet(Finding):
    """A unit set that is neither metric nor US."""

    code = "unknown-unit-set"
    title = "Unit set not known"
    sentence = "Row {row}: {value!r} is no unit set."
    remedy = "Type metric (lengths in mm) or US (lengths in inches)."


class MissingTag(Finding):
    """A row with measurements and no tag."""

    code = "missing-tag"
    title = "Tag missing"
    sentence = "Row {row} has measurements and no tag."
    remedy = "Give the valve its tag, so that its card and its packing can be told apart."


class RepeatedTag(Finding):
    """A tag that stands in more than one row."""

    code = "repeated-tag"
    title = "Tag repeated"
    sentence = "Row {row}: tag {value!r} stands in an earlier row too."
    remedy = "Both rows are worked out. Correct the tag, or delete the row that is meant twice."


class DateNotText(Finding):
    """A date where a tag, a thread or another text is needed."""

    code = "date-not-text"
    title = "A date, not a text"
    sentence = "Row {row}, {column}: {value} is a date; a spreadsheet may have made it of a tag or a thread."
    remedy = "Format the cell as text and type it again."


class GuessedComma(Finding):
    """A number whose one comma may part thousands or decimals."""

    code = "guessed-comma"
    title = "Comma read as a decimal comma"
    sentence = "Row {row}, {column}: the comma of {value!r} could part thousands; it was read as a decimal comma."
    remedy = "Compare the number in Valves with the measurement, and type it with a point if it is wrong."


class UnclearComma(Finding):
    """A pressure, temperature, stress, force or mass whose one comma may part thousands or decimals."""

    code = "unclear-comma"
    title = "Comma not clear"
    sentence = "Row {row}, {column}: the comma of {value!r} may part thousands or decimals, so it is kept as text."
    remedy = "Type the number without the comma, or with a decimal point."


class PnFlange(Finding):
    """A flange by its nominal pressure, where the class of a flange is wanted."""

    code = "pn-flange"
    title = "PN flange"
    sentence = "Row {row}, {column}: {value!r} is a PN flange; the tables hold flanges of a class, not of a PN, so it was left out."
    remedy = "Take bolts, gaskets and torque of this valve from the sheets of its own flanges."


class UnclearSize(Finding):
    """A size of a flange that may be NPS or DN, or is none that the tables hold."""

    code = "unclear-size"
    title = "Size of a flange not clear"
    sentence = "Row {row}, {column}: {value!r} is no size of a flange from NPS 1/2 to NPS 24, or may be NPS or DN, so it is kept as typed."
    remedy = "Type the size with its name before it, such as NPS 2 or DN 50."


class SizeFromDn(Finding):
    """A size of a flange that was given as DN; the value names the NPS."""

    code = "size-from-dn"
    title = "DN read as NPS"
    sentence = "Row {row}, {column}: {value}, the size that goes with that DN."
    remedy = "Nothing to do if the flange is drilled to a class; what you wrote stands on Your list."


class GuessedPercent(Finding):
    """A share that may be meant in per cent or not."""

    code = "guessed-percent"
    title = "Share or per cent"
    sentence = "Row {row}, {column}: {value!r} may be a share or per cent: over 1 it was read as per cent, else not."
    remedy = "Compare the share in Valves with what was meant, and type it with its % sign if it is wrong."


class FractionInMetricRow(Finding):
    """A bare inch fraction in a row whose lengths are in mm."""

    code = "fraction-in-metric-row"
    title = "A fraction in a metric row"
    sentence = "Row {row}, {column}: {value!r} is a fraction of an inch rule, and its row is metric; it was read as mm."
    remedy = "If it was measured in inches, type its unit too, such as 7/16 in."


class UnitWithoutSet(Finding):
    """A measurement with a unit in a row that has no unit set to convert it to."""

    code = "unit-without-set"
    title = "Measurement kept as text"
    sentence = "Row {row}, {column}: {value!r} has a unit and its row no unit set, so it is kept as text."
    remedy = "Type metric or US in the unit set column of the list and read it again."


class FormulaWithoutValue(Finding):
    """A formula cell of the list whose result is not stored in the file."""

    code = "formula-without-value"
    title = "Formula without its result"
    sentence = "Row {row}, {column}: the result of {value!r} is not stored in the file."
    remedy = "Open the list in a spreadsheet, let it calculate, save it, and read it again."


class NotAValve(Finding):
    """A row with something in it and no value under an understood header."""

    code = "not-a-valve"
    title = "Row is no valve"
    sentence = "Row {row} has no tag and no measurement, so it is no valve: {value!r}."
    remedy = "Nothing to do if it is a remark; it stands on Your list."


class RepeatedHeaderRow(Finding):
    """The header once more, further down."""

    code = "repeated-header-row"
    title = "Header repeated"
    sentence = "Row {row} repeats the header and was passed over."
    remedy = "Nothing to do."


class ExtraCells(Finding):
    """A row of a text file with more cells than its header: a comma inside a number may have split it."""

    code = "extra-cells"
    title = "More cells than headers"
    sentence = "Row {row} has more cells than the header row, so its values may stand one column too far right."
    remedy = "Look for a decimal comma in that row: put such a number in quotes, or save the list as .xlsx."


class GuessedEncoding(Finding):
    """A text file that is not in Unicode."""

    code = "guessed-encoding"
    title = "Characters guessed"
    sentence = "The file is not in UTF-8; it was read as {value}."
    remedy = "Check that accents and signs stand right on Your list, or save the file as CSV UTF-8."


class NotReadOn(Finding):
    """Cells beyond the part of a sheet that is read."""

    code = "not-read-on"
    title = "Cells out of reach"
    sentence = "Cells from {value} on were not read: they stand too far from the list."
    remedy = "Delete what is not part of the list, or move it next to the list."


# --- what a file beside the list brings along -------------------------------------------------------------------------


@dataclass(frozen=True)
class FileFinding(Finding):
    """A finding of a file that is read beside the list: its words, with the name of the file before them."""

    file: str = ""
    found: str = ""
    words: str = ""
    advice: str = ""

    code: ClassVar[str] = "file-beside"
    title: ClassVar[str] = "A file beside the list"
    sentence: ClassVar[str] = "Something was found in a file that was read beside the list."
    remedy: ClassVar[str] = "Correct it in the file and read it again, or correct the cell on its sheet."

    @property
    def said(self) -> str:
        """The sentence of what was found, after the name of the file."""
        return f"{self.file}: {self.words}" if self.words else self.sentence

    @property
    def to_do(self) -> str:
        """What to do about what was found."""
        return self.advice or self.remedy

    @property
    def kind(self) -> str:
        """The code of what was found."""
        return self.found or self.code


class ColumnLeftBehind(Finding):
    """A column of a file beside the list that is none of those of its sheet."""

    code = "column-left-behind"
    title = "Column left behind"
    sentence = "Column {column!r} is none of those of the sheet: it was left behind, with what stands in {value} of its cells."
    remedy = "Head it as the sheet heads that column if it belongs there; else nothing to do."


class AmbiguousDate(Finding):
    """A date whose day and month may be meant either way."""

    code = "ambiguous-date"
    title = "Day and month not clear"
    sentence = "Row {row}, {column}: in {value!r} nothing says which figure is the day and which the month; it was kept as text."
    remedy = "Type the date with its year first, such as 2027-04-12, or with the month in words."


class DateNotRead(Finding):
    """A text that is no date, or a date that no calendar has."""

    code = "date-not-read"
    title = "Not a date"
    sentence = "Row {row}, {column}: {value!r} cannot be read as a date with a year of four figures; it was kept as text."
    remedy = "Type the date with its year first, such as 2027-04-12."


class UnitNotOfOutage(Finding):
    """A cell with a unit in which the outage does not read its column."""

    code = "unit-not-of-outage"
    title = "Unit that the outage does not use"
    sentence = "Row {row}, {column}: {value!r} has another unit than the outage takes there; it was kept as text and not converted."
    remedy = "Convert it and type the bare number, in the unit set typed on Outage."
