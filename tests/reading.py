"""Workbooks read as streams: what each cell holds, its formula and its stored result, without a model of the whole in memory.

Shared formulas are given as they stand in the file: the text at the first cell of a group, none at the others. `openpyxl`
spells them out, and a test holds this reader against it.
"""

from __future__ import annotations

import math
import posixpath
import re
import zipfile
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET
from xml.parsers import expat
from xml.sax.saxutils import unescape

Value = float | str | bool | None

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_DATA = re.compile(rb"<sheetData>.*</sheetData>", re.DOTALL)


@dataclass(frozen=True)
class Cell:
    """A cell of a file that holds something: its address, its value or stored result, and the text of its formula.

    An error value is NaN. The formula is None where there is none, and "" where it is shared with an earlier cell.
    """

    place: str
    value: Value
    formula: str | None

    @property
    def row(self) -> int:
        """The row, from 1."""
        return int(self.place.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))

    @property
    def column(self) -> int:
        """The column, from 1."""
        number = 0
        for letter in self.place.rstrip("0123456789"):
            number = number * 26 + ord(letter) - 64
        return number


def parsed(archive: zipfile.ZipFile, member: str) -> ET.Element:
    """A small part of a package as a tree."""
    return ET.fromstring(archive.read(member))  # noqa: S314 - written by this project or by LibreOffice


def members(archive: zipfile.ZipFile) -> dict[str, str]:
    """The part that holds each sheet, by the sheet's name, in order."""
    targets = {one.get("Id", ""): one.get("Target", "") for one in parsed(archive, "xl/_rels/workbook.xml.rels")}
    sheets = parsed(archive, "xl/workbook.xml").iter(f"{_MAIN}sheet")
    return {one.get("name", ""): posixpath.join("xl", targets[one.get(_RELATION, "")]).removeprefix("/") for one in sheets}


def sheet_names(path: Path) -> list[str]:
    """The sheets of a workbook in their order."""
    with zipfile.ZipFile(path) as archive:
        return list(members(archive))


def frames(archive: zipfile.ZipFile) -> Iterator[tuple[str, ET.Element]]:
    """Each sheet without its cells: how it prints, what is protected, hidden or validated."""
    for name, member in members(archive).items():
        yield name, ET.fromstring(_DATA.sub(b"<sheetData/>", archive.read(member)))  # noqa: S314 - written by this project


def defined_names(path: Path) -> dict[str, str]:
    """Where each defined name of a workbook points."""
    with zipfile.ZipFile(path) as archive:
        return {one.get("name", ""): one.text or "" for one in parsed(archive, "xl/workbook.xml").iter(f"{_MAIN}definedName")}


def _shared(archive: zipfile.ZipFile) -> list[str]:
    if "xl/sharedStrings.xml" not in archive.namelist():
        return []
    texts = parsed(archive, "xl/sharedStrings.xml").iter(f"{_MAIN}si")
    return ["".join(one.text or "" for one in said.iter(f"{_MAIN}t")) for said in texts]


@dataclass
class _Handler:
    """Takes the events of the parser and hands on each cell that holds something."""

    shared: list[str]
    give: Callable[[Cell], None]
    place: str = ""
    kind: str = "n"
    formula: str | None = None
    said: list[str] = field(default_factory=list)
    value: str = ""
    inline: str = ""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        if name == "c":
            self.place, self.kind = attributes["r"], attributes.get("t", "n")
            self.formula, self.value, self.inline = None, "", ""
        self.said = []

    def text(self, data: str) -> None:
        """Some text of an element, perhaps not all."""
        self.said.append(data)

    def end(self, name: str) -> None:
        """An element ends."""
        if name == "v":
            self.value = "".join(self.said)
        elif name == "f":
            self.formula = "".join(self.said)
        elif name == "t":
            self.inline += "".join(self.said)
        elif name == "c":
            held = self._held()
            if held is not None or self.formula is not None:
                self.give(Cell(self.place, held, self.formula))

    def _held(self) -> Value:
        if self.kind == "inlineStr":
            return self.inline
        if self.kind == "s":
            return self.shared[int(self.value)]
        if self.kind == "str":
            return self.value
        if self.kind == "e":
            return math.nan
        if not self.value:
            return None
        return self.value == "1" if self.kind == "b" else float(self.value)


def cells(path: Path, sheets: Collection[str] | None = None) -> Iterator[tuple[str, list[Cell]]]:
    """The cells of each sheet, or of those named, in the order of the file."""
    with zipfile.ZipFile(path) as archive:
        shared = _shared(archive)
        for sheet, member in members(archive).items():
            if sheets is not None and sheet not in sheets:
                continue
            out: list[Cell] = []
            handler, parser = _Handler(shared, out.append), expat.ParserCreate()
            parser.buffer_text = True
            parser.StartElementHandler, parser.EndElementHandler = handler.start, handler.end
            parser.CharacterDataHandler = handler.text
            with archive.open(member) as stream:
                parser.ParseFile(stream)
            yield sheet, out


@dataclass(frozen=True)
class SharedGroup:
    """A shared formula: its sheet, its text, the block that it says it is for, and the rows that refer to it, in their order."""

    sheet: str
    text: str
    block: str
    rows: list[int]


_SHARED = re.compile(rb'<c r="[A-Z]+([0-9]+)"[^>]*><f t="shared"(?: ref="([A-Z0-9:]+)")? si="([0-9]+)"(?:/>|>([^<]*)</f>)')


def shared_groups(path: Path) -> Iterator[SharedGroup]:
    """The shared formulas of a workbook that this project wrote, sheet by sheet."""
    with zipfile.ZipFile(path) as archive:
        for sheet, member in members(archive).items():
            groups: dict[bytes, SharedGroup] = {}
            for row, block, number, text in _SHARED.findall(archive.read(member)):
                if number not in groups:
                    groups[number] = SharedGroup(sheet, unescape(text.decode()), block.decode(), [])
                groups[number].rows.append(int(row))
            yield from groups.values()


class Page:
    """The values of one sheet by row and column, from 1."""

    def __init__(self, path: Path, sheet: str) -> None:
        [(self.name, held)] = cells(path, {sheet})
        self.held = {(cell.row, cell.column): cell for cell in held}
        self.last_row = max((row for row, _column in self.held), default=0)
        self.last_column = max((column for _row, column in self.held), default=0)

    def at(self, row: int, column: int) -> Any:
        """The value of a cell, None where it holds nothing."""
        cell = self.held.get((row, column))
        return None if cell is None else cell.value

    def formula(self, row: int, column: int) -> str | None:
        """The formula of a cell, None where it has none."""
        cell = self.held.get((row, column))
        return None if cell is None else cell.formula

    def row(self, row: int) -> list[Any]:
        """The values of a row."""
        return [self.at(row, column) for column in range(1, self.last_column + 1)]

    def rows(self, first: int = 1) -> Iterator[list[Any]]:
        """The values of all rows from one on."""
        return (self.row(row) for row in range(first, self.last_row + 1))
