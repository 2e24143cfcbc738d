"""What was read in one way and could be meant in another: one class per guess."""

from __future__ import annotations

from sheetcalc.findings import Finding


class ChosenSheet(Finding):
    """A workbook with several sheets, of which nobody named one."""

    code = "chosen-sheet"
    title = "Sheet chosen"
    sentence = "Nobody named a sheet, so the one that fits best was read: {value}."
    remedy = "Name the sheet with --sheet if another one is meant."


class HiddenSheet(Finding):
    """The sheet that is read is hidden in the spreadsheet."""

    code = "hidden-sheet"
    title = "Hidden sheet"
    sentence = "The sheet {value!r} that was read is hidden in the spreadsheet."
    remedy = "Show it and look whether it is the list that is meant, or name another sheet with --sheet."


class OpenElsewhere(Finding):
    """A list that some program holds open, so that the file may be older than what its user sees."""

    code = "open-elsewhere"
    title = "List is open elsewhere"
    sentence = "A lock file {value!r} stands beside the list, so somebody may have it open and not yet saved."
    remedy = "Save and close the list, then read it again. Delete the lock file if nobody has the list open."


class JoinedHeaders(Finding):
    """Headers that stand in two rows."""

    code = "joined-headers"
    title = "Headers of two rows"
    sentence = "The headers of {value} were read together, a heading over several columns with each of them."
    remedy = "Look with --dry whether each column is understood as it is meant."


class HeadingUnit(Finding):
    """A column whose unit stands in a heading above it, or in a line above the table."""

    code = "heading-unit"
    title = "Unit of the heading above"
    sentence = "Column {column!r} has no unit of its own; {value} was taken from the heading above it."
    remedy = "Write the unit into the header itself if another one is meant."


class WeakHeader(Finding):
    """A header that often means something else, read as a measurement since no other column gives that."""

    code = "weak-header"
    title = "Header read loosely"
    sentence = "Column {column!r} was read as {value}, though such a header may mean something else."
    remedy = "Rename the header, or say what it means with --map."


class MisspeltHeader(Finding):
    """A header that is known but for one or two letters."""

    code = "misspelt-header"
    title = "Header with a slip"
    sentence = "Column {column!r} is spelt oddly and was read as {value}."
    remedy = "Correct the header, or say what it means with --map."


class PairHeader(Finding):
    """A header of two measurements, whose cells hold both."""

    code = "pair-header"
    title = "Two measurements in one column"
    sentence = "Column {column!r} heads two measurements, so each cell was read as two, in that order: {value}."
    remedy = "Compare both with the list; give each measurement a column of its own if the order is wrong."


class MapNotUsed(Finding):
    """A line of a map file whose header the list does not have."""

    code = "map-not-used"
    title = "Line of the map not used"
    sentence = "The map names a header {column!r} and the list has none such ({value})."
    remedy = "Correct the header in the map file, or leave the line out."


class TotalsRow(Finding):
    """A row that adds up the rows above it."""

    code = "totals-row"
    title = "Row of totals"
    sentence = "Row {row} looks like a row of totals and was not taken for a valve: {value!r}."
    remedy = "Give the row a tag if it is a valve; else nothing to do."


class NoteRow(Finding):
    """A row with text in the column of the tags that reads like a note or a heading."""

    code = "note-row"
    title = "Row of a note"
    sentence = "Row {row} reads like a note or a heading and was not taken for a valve: {value!r}."
    remedy = "Give the row a measurement if it is a valve; else nothing to do."


class TagOnly(Finding):
    """A row that has a tag and nothing else."""

    code = "tag-only"
    title = "Tag alone"
    sentence = "Row {row} has the tag {value!r} and nothing else; it was taken for a valve that nobody has measured yet."
    remedy = "Measure the valve, or delete the row if it is a heading."


class NotGiven(Finding):
    """A cell that says in words that nothing is known."""

    code = "not-given"
    title = "Said to be unknown"
    sentence = "Row {row}, {column}: {value!r} says that nothing is known, so the cell counts as blank."
    remedy = "Measure it, or leave the cell blank."


class RoughNumber(Finding):
    """A number that its writer marked as rough or doubtful."""

    code = "rough-number"
    title = "Rough number"
    sentence = "Row {row}, {column}: {value!r} is marked as rough or doubtful; the bare number was read."
    remedy = "Measure again before anything is ordered or cut, and type the number without the mark."


class GuessedThousands(Finding):
    """A number whose space or apostrophe was read as a mark of thousands."""

    code = "guessed-thousands"
    title = "Mark of thousands"
    sentence = "Row {row}, {column}: the space or apostrophe in {value!r} was read as a mark of thousands."
    remedy = "Compare the number in Valves with what was meant, and type it without the mark."


class GuessedNps(Finding):
    """A bare number that was taken for the nominal size of a flange in inches; the value names the NPS."""

    code = "guessed-nps"
    title = "Bare size read as NPS"
    sentence = "Row {row}, {column}: {value}, in inches; it says neither NPS nor DN."
    remedy = "Compare the size in Valves with the flange, and type DN before the number if it is one."


class TwoNumbers(Finding):
    """Two numbers in one cell."""

    code = "two-numbers"
    title = "Two numbers in one cell"
    sentence = "Row {row}, {column}: {value!r} holds two numbers, and nothing says which is meant, so none was read."
    remedy = "Type the one that is meant. A header such as Stem/bore says that a cell holds both."


class NotAPair(Finding):
    """One number, or more than two, under a header of two measurements."""

    code = "not-a-pair"
    title = "Not two numbers"
    sentence = "Row {row}, {column}: {value!r} is not plainly two numbers, as its header asks, so none was read."
    remedy = "Type both numbers, such as 28/44, or give each measurement a column of its own."


class UnitDoubt(Finding):
    """A length without a unit that suits its column only in the other unit."""

    code = "unit-doubt"
    title = "Inches among millimetres, or the other way"
    sentence = "Row {row}, {column}: {value!r} is far from the other valves and would suit them in the other unit; it was kept."
    remedy = "Type the unit into the cell, such as 28 mm or 1 1/8 in, if it is another than that of its row."
