"""Facts about who may import whom: read from the source by its syntax tree, so that nothing has to be imported for it."""

from __future__ import annotations

import ast
from pathlib import Path
from typing import Final

import pytest

PACKAGE: Final = Path(__file__).parents[1] / "sheetcalc"

_BASE: Final = frozenset({"errors", "units", "findings"})
_SHEETS: Final = _BASE | {"declare", "reference", "calculations"}
#: What each part of the package may import, besides itself. The empty name is `sheetcalc/__init__.py`.
MAY_IMPORT: Final[dict[str, frozenset[str]]] = {
    "errors": frozenset(),
    "units": frozenset({"errors"}),
    "findings": frozenset({"errors", "units"}),
    "declare": _BASE,
    "reference": _BASE | {"declare"},
    "calculations": _BASE | {"declare", "reference"},
    "": frozenset({"errors", "frames"}),
    "intake": _BASE | {"declare"},
    "sheets": _SHEETS,
    "audit": _SHEETS | {"sheets"},
    "frames": _SHEETS | {"sheets", "intake"},
    "planning": _SHEETS | {"sheets", "audit", "intake"},
    "cli": _SHEETS | {"sheets", "audit", "intake", "planning", ""},
}
#: What each room of the calculations may import of the other rooms; the empty name is what all rooms share.
MAY_ENTER: Final[dict[str, frozenset[str]]] = {
    "": frozenset(),
    "valve": frozenset({""}),
    "joint": frozenset({"", "valve"}),
    "outage": frozenset({"", "valve", "joint"}),
}
#: Which files may import a library that only they should know; a folder ends in a stroke.
ONLY_IN: Final = {
    "xlsxwriter": ("sheets/write.py",),
    "openpyxl": ("intake/", "audit/"),
}
#: The files that import by name at run time: the parts of the job in their order, and the sheets, which register themselves.
IMPORTS_BY_NAME: Final = ("calculations/__init__.py", "sheets/register.py")


def part_of(module: str) -> str:
    """The part that a module such as `sheetcalc.sheets.write` belongs to; "" for the package itself."""
    return f"{module}.".split(".")[1]


def room_of(module: str) -> str:
    """The room of the calculations that a module stands in; "" for what all rooms share."""
    name = f"{module}...".split(".")[2]
    return name if name in MAY_ENTER else ""


def imported(tree: ast.AST, file: str) -> list[str]:
    """Every module that a file imports, wherever in the file, relative imports written out."""
    out: list[str] = []
    folder = ["sheetcalc", *Path(file).parts[:-1]]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            out += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            near = folder[: len(folder) - node.level + 1] if node.level else []
            module = ".".join([*near, *([node.module] if node.module else [])])
            # `from sheetcalc import units` imports a part, `from sheetcalc import calculate` the package itself.
            parts = [f"sheetcalc.{alias.name}" if alias.name in MAY_IMPORT else "sheetcalc" for alias in node.names]
            # So does `from sheetcalc.calculations import valve` a room.
            rooms = [f"{module}.{alias.name}" if alias.name in MAY_ENTER else module for alias in node.names]
            out += parts if module == "sheetcalc" else rooms if module == "sheetcalc.calculations" else [module]
    return out


def offences(file: str, text: str) -> list[str]:
    """What a file of the package imports and should not, in words that name both."""
    tree = ast.parse(text)
    here = file.split("/", maxsplit=1)[0].removesuffix(".py").replace("__init__", "")
    if here not in MAY_IMPORT:
        return [f"{file} is in no layer"]
    room = file.split("/")[1] if here == "calculations" and file.count("/") > 1 else ""
    if room not in MAY_ENTER:
        return [f"{file} is in no room"]
    out = []
    for module in imported(tree, file):
        top = module.split(".")[0]
        if top == "sheetcalc" and part_of(module) != here and part_of(module) not in MAY_IMPORT[here]:
            out.append(f"{file} imports {module}")
        if top == "sheetcalc" and part_of(module) == here == "calculations" and room_of(module) not in MAY_ENTER[room] | {room}:
            out.append(f"{file} imports {module}")
        if top in ONLY_IN and not any(file == place or (place.endswith("/") and file.startswith(place)) for place in ONLY_IN[top]):
            out.append(f"{file} imports {module}")
    called = {node.func for node in ast.walk(tree) if isinstance(node, ast.Call)}
    by_name = {call.id for call in called if isinstance(call, ast.Name)} | {call.attr for call in called if isinstance(call, ast.Attribute)}
    if by_name & {"import_module", "__import__"} and file not in IMPORTS_BY_NAME:
        out.append(f"{file} imports by name at run time")
    return out


def sources() -> dict[str, str]:
    """Every Python file of the package: its path from the package's folder, and its text."""
    return {file.relative_to(PACKAGE).as_posix(): file.read_text(encoding="utf-8") for file in sorted(PACKAGE.rglob("*.py"))}


def test_imports_run_one_way() -> None:
    """No module imports one of a later layer, and the two Excel libraries stay in their places."""
    found = [offence for file, text in sources().items() for offence in offences(file, text)]
    assert found == []


def test_every_layer_of_the_core_was_read() -> None:
    """The files that the check reads cover every layer that stands today, so that an empty folder cannot pass."""
    here = {file.split("/")[0].removesuffix(".py").replace("__init__", "") for file in sources()}
    assert set(MAY_IMPORT) - {"audit"} <= here
    assert set(MAY_ENTER) - {""} <= {file.split("/")[1] for file in sources() if file.startswith("calculations/")}


def test_the_writer_does_import_xlsxwriter_and_the_intake_openpyxl() -> None:
    """Each library is seen in the place where it is allowed: the check reads imports as they are written."""
    seen = {
        library: {file for file, text in sources().items() if library in {m.split(".")[0] for m in imported(ast.parse(text), file)}}
        for library in ONLY_IN
    }
    assert {"sheets/write.py"} == seen["xlsxwriter"]
    assert "intake/files.py" in seen["openpyxl"]


@pytest.mark.parametrize(
    ("file", "text", "offender"),
    [
        ("calculations/valve/section.py", "from sheetcalc.sheets import style", "sheetcalc.sheets"),
        ("calculations/valve/section.py", "from sheetcalc import cli", "sheetcalc.cli"),
        ("calculations/valve/section.py", "import sheetcalc", "sheetcalc"),
        ("calculations/valve/section.py", "from sheetcalc import calculate", "sheetcalc"),
        ("declare/formula.py", "from ..reference import tables", "sheetcalc.reference"),
        ("reference/tables.py", "def late() -> None:\n    from sheetcalc.calculations.run import order", "sheetcalc.calculations.run"),
        ("calculations/valve/load.py", "from sheetcalc.calculations.joint import bolts", "sheetcalc.calculations.joint"),
        ("calculations/valve/state.py", "from sheetcalc.calculations import outage", "sheetcalc.calculations.outage"),
        ("calculations/joint/lift.py", "from ..outage.order import sized", "sheetcalc.calculations.outage.order"),
        ("calculations/given.py", "from sheetcalc.calculations.valve.state import CHECKS", "sheetcalc.calculations.valve.state"),
        ("errors.py", "from sheetcalc.units import factor", "sheetcalc.units"),
        ("intake/lists.py", "from sheetcalc.reference import tables", "sheetcalc.reference"),
        ("sheets/common.py", "if TYPE_CHECKING:\n    from sheetcalc.intake.lists import ValveList", "sheetcalc.intake.lists"),
        ("sheets/style.py", "import xlsxwriter", "xlsxwriter"),
        ("sheets/read_first.py", "from openpyxl.utils import get_column_letter", "openpyxl.utils"),
        ("cli.py", "from xlsxwriter.workbook import Workbook", "xlsxwriter.workbook"),
    ],
)
def test_a_planted_offender_is_named(file: str, text: str, offender: str) -> None:
    """An import against the order is found wherever it is written, and both ends of it are named."""
    assert [f"{file} imports {offender}"] == offences(file, text)


@pytest.mark.parametrize(
    ("file", "text", "said"),
    [
        ("extras/new.py", "", "extras/new.py is in no layer"),
        ("calculations/extras/new.py", "", "calculations/extras/new.py is in no room"),
        ("declare/formula.py", 'import_module("sheetcalc.cli")', "declare/formula.py imports by name at run time"),
        ("declare/formula.py", 'importlib.import_module("sheetcalc.cli")', "declare/formula.py imports by name at run time"),
    ],
)
def test_a_way_round_the_check_is_named(file: str, text: str, said: str) -> None:
    """A new folder without a layer, and an import by name, do not slip through."""
    assert [said] == offences(file, text)


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("cli.py", "import sheetcalc\nfrom sheetcalc.intake.lists import read_list"),
        ("sheets/common.py", "from sheetcalc import units"),
        ("audit/read.py", "import openpyxl\nfrom sheetcalc.sheets.layout import Layout"),
        ("declare/quantity.py", "from . import formula"),
        ("calculations/joint/bolt_load.py", "from sheetcalc.calculations import given\nfrom sheetcalc.calculations.valve import studs"),
        ("calculations/outage/order.py", "from sheetcalc.calculations.joint.flange import PART\nfrom .grouped import escaped"),
    ],
)
def test_an_import_along_the_order_is_let_through(file: str, text: str) -> None:
    """The check does not cry out over what is allowed."""
    assert offences(file, text) == []
