"""Facts about what explains itself: commands, quantities, findings, tables, and the two pages for readers."""

from __future__ import annotations

import re
import string
from pathlib import Path
from typing import Final

import pytest
from click.testing import CliRunner

import sheetcalc.intake.guesses  # the rest of the findings
from sheetcalc.calculations.answers import whole
from sheetcalc.cli import main
from sheetcalc.declare.quantity import Column, Constant, Derived, Quantity, all_quantities
from sheetcalc.declare.source import Grade
from sheetcalc.findings import Finding, QuantityFinding
from sheetcalc.reference import tables
from sheetcalc.reference.sources import all_sources
from sheetcalc.sheets import labour, materials
from sheetcalc.sheets import tables as tables_sheet
from sheetcalc.sheets.card_page import TEXTS
from sheetcalc.sheets.edition import EDITIONS
from sheetcalc.units import registry

ROOT: Final = Path(__file__).parents[1]
COMMANDS: Final = sorted(main.commands)
#: CSV files that stand on Tables together, under the card of another name.
TOGETHER: Final = {
    "stocked_inch": "stocked_sections",
    "stocked_metric": "stocked_sections",
    "threads_inch": "threads",
    "threads_metric": "threads",
}
CSV_NAMES: Final = sorted(file.stem for file in (ROOT / "sheetcalc/reference/tables").glob("*.csv"))


def _finding_classes(base: type[Finding] = Finding) -> list[type[Finding]]:
    return [one for kind in base.__subclasses__() for one in (kind, *_finding_classes(kind))]


FINDINGS: Final = _finding_classes()


def page(name: str) -> str:
    """The text of a page for readers; the test fails where it is missing."""
    path = ROOT / name
    assert path.is_file(), f"{name} is missing"
    return path.read_text(encoding="utf-8")


# --- commands ---------------------------------------------------------------------------------------------------------


def test_the_three_verbs_are_there() -> None:
    """Plan, blank and explain are commands, so that the tests by command look at something."""
    assert {"blank", "explain", "plan"} <= set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_of_a_command_ends_with_an_example(name: str) -> None:
    """The last line of a command's help is an example that starts with the command itself."""
    result = CliRunner().invoke(main, [name, "--help"])
    last = result.output.strip().splitlines()[-1].strip()
    assert (result.exit_code, last.startswith(f"Example: sheetcalc {name} ")) == (0, True), last


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_and_its_options_say_what_they_do(name: str) -> None:
    """The command has a sentence of help, and each of its options too."""
    command = main.commands[name]
    assert (command.help or "").strip().endswith(".")
    assert [option.name for option in command.params if option.param_type_name == "option" and not getattr(option, "help", "")] == []


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize("where", ["README.md", "DEVELOPERS.md"])
def test_the_pages_name_every_command(where: str, name: str) -> None:
    """README.md and DEVELOPERS.md show each command as it is typed."""
    assert re.search(rf"\bsheetcalc {name}\b", page(where)), f"{where} does not name `sheetcalc {name}`"


# --- quantities, findings, tables -------------------------------------------------------------------------------------


@pytest.mark.parametrize("quantity", all_quantities(), ids=lambda quantity: quantity.name)
def test_a_quantity_explains_itself(quantity: Quantity) -> None:
    """Every quantity has a title, a sentence, a source that sources.toml holds, and a grade."""
    assert quantity.title
    assert re.fullmatch(r"[A-Z0-9].+[.]", quantity.sentence), quantity.sentence
    assert all_sources()[quantity.source.key] == quantity.source
    assert quantity.source.text.endswith(".")
    assert quantity.source.grade in Grade


@pytest.mark.parametrize("quantity", [q for q in all_quantities() if not q.is_text], ids=lambda quantity: quantity.name)
def test_a_number_has_a_unit(quantity: Quantity) -> None:
    """Every number has a unit that pint knows; a plain number says so with 1."""
    assert quantity.unit
    assert quantity.unit == "1" or registry.Unit(quantity.unit)


@pytest.mark.parametrize("quantity", [q for q in all_quantities() if isinstance(q, Constant) and not q.is_text], ids=lambda q: q.name)
def test_an_assumption_is_issued_within_its_own_range(quantity: Constant) -> None:
    """An assumption that is a number says in which range it can be meant, and is issued inside it."""
    low, high = map(float, quantity.limits)
    assert low <= float(quantity.issued) <= high


def test_titles_tell_quantities_apart() -> None:
    """No two quantities that are worked out have the same title, since lists and sheets show titles."""
    titles = [q.title for q in all_quantities() if isinstance(q, Derived)]
    assert sorted(set(titles)) == sorted(titles)


def test_no_source_is_left_over() -> None:
    """Each source of sources.toml is cited by a quantity, a table, the caution of the card, or a figure of a table that names its own."""
    cited = (
        {q.source.key for q in all_quantities()}
        | {card.source.key for card in tables.cards().values()}
        | {TEXTS["gland"]["caution_source"]}
    )
    cited |= {row["source"] for name in ("gland_stud_grades", "leak_limits") for row in tables.printed(name)}
    cited |= {row[column] for row in tables.printed("gasket_kinds") for column in ("stress_source", "factor_source", "limits_source")}
    cited |= {key for row in tables.printed("packing_material_sources") for column, key in row.items() if column != "name"}
    assert set() == set(all_sources()) - cited


@pytest.mark.parametrize("kind", FINDINGS, ids=lambda kind: kind.__name__)
def test_a_finding_says_what_is_wrong_and_what_to_do(kind: type[Finding]) -> None:
    """Every finding has a code in small letters, a title, a sentence and a remedy that ends with a full stop."""
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", kind.code)
    assert re.match(r"[A-Z].*\S", kind.title)
    assert kind.sentence
    assert re.fullmatch(r"[A-Z].+[.]", kind.remedy)
    assert (kind.__doc__ or "").strip()


@pytest.mark.parametrize("kind", [one for one in FINDINGS if one is not QuantityFinding], ids=lambda kind: kind.__name__)
def test_the_sentence_of_a_finding_can_be_filled_in(kind: type[Finding]) -> None:
    """The sentence asks for nothing but row, column, value and tag, and says each that it asks for."""
    fields = {name for _, name, _, _ in string.Formatter().parse(kind.sentence) if name}
    assert fields <= {"row", "column", "value", "tag"}
    said = kind(row=4711, column="Bore", value="x7", tag="V-1").said
    shown = {"row": "4711", "column": "Bore", "value": "x7", "tag": "V-1"}
    assert [name for name in fields if shown[name] not in said] == []
    assert "{" not in said


def test_codes_tell_findings_apart() -> None:
    """No two findings share a code: a summary counts by it."""
    codes = [kind.code for kind in FINDINGS]
    assert len(codes) > 10
    assert sorted(set(codes)) == sorted(codes)


def test_codes_of_findings_and_names_of_faults_differ() -> None:
    """A code cannot be mistaken for a fault quantity, since both stand in the same summary."""
    assert set() == {kind.code for kind in FINDINGS} & {q.name for q in all_quantities()}


@pytest.mark.parametrize("name", CSV_NAMES)
def test_a_table_has_a_card_and_stands_on_the_sheet(name: str) -> None:
    """Each CSV has a card of its own or stands under another one's, and the first column of each row is on Tables, Materials or Labour."""
    card = tables.cards()[TOGETHER.get(name, name)]
    assert card.title
    assert card.note.endswith(".")
    assert card.checked_with
    held = (*tables_sheet.sheet(whole()).cells, *materials.sheet(next(iter(EDITIONS.values()))).cells, *labour.task_cells())
    texts = {cell.value for cell in held}
    assert card.title in texts
    first = [next(iter(row.values())) for row in tables.printed(name)]
    assert first
    assert [one for one in first if one not in texts and (not re.fullmatch(r"[0-9.]+", one) or float(one) not in texts)] == []


def test_every_table_column_that_formulas_read_stands_on_the_sheet() -> None:
    """Each declared column has a place on Tables, Materials or Labour and a value, and no other has."""
    declared = sorted(q.name for q in all_quantities() if isinstance(q, Column))
    assert declared == sorted({**tables_sheet.names(whole()), **labour.names()})
    assert declared == sorted(tables.values())


# --- pages ------------------------------------------------------------------------------------------------------------


def section(text: str, heading: str) -> str:
    """What stands under a heading of the second level, up to the next one."""
    parts = re.split(rf"(?m)^## {re.escape(heading)}[ \t]*$", text)
    assert len(parts) == 2, f"one heading `## {heading}` is wanted, {len(parts) - 1} found"
    return re.split(r"(?m)^## ", parts[1])[0]


def fenced(text: str) -> list[str]:
    """The lines inside the fences of a text, blank ones left out."""
    blocks = re.findall(r"(?ms)^```[^\n]*\n(.*?)^```[ \t]*$", text)
    return [line for block in blocks for line in block.splitlines() if line.strip()]


@pytest.mark.parametrize("heading", ["Run it", "Test it"])
def test_the_readme_has_one_line_to_run_and_one_to_test(heading: str) -> None:
    """Under each of the two headings stands one fenced line that can be copied as it is."""
    lines = fenced(section(page("README.md"), heading))
    assert len(lines) == 1, lines
    assert not lines[0].startswith("$")


def test_the_names_that_the_readme_calls_exist() -> None:
    """Where README.md shows a call such as `sheetcalc.calculate(`, the package has that name."""
    called = set(re.findall(r"\bsheetcalc\.([A-Za-z_]\w*)\(", page("README.md")))
    assert set() == called - set(sheetcalc.__all__)


_TREE: Final = str.maketrans(dict.fromkeys("│├└─", " "))


def mapped(text: str) -> list[str]:
    """The paths of the folder map: a fenced tree in which `sheetcalc/` stands, folders ending in a stroke.

    A line is `path path   what it is`; a line indented further than a path could be continues the words above it.
    """
    blocks = [block for block in re.findall(r"(?ms)^```[^\n]*\n(.*?)^```[ \t]*$", text) if re.search(r"(?m)^\W*sheetcalc/", block)]
    assert len(blocks) == 1, f"one fenced folder map with sheetcalc/ is wanted, {len(blocks)} found"
    out: list[str] = []
    above: list[tuple[int, str]] = []
    for line in blocks[0].translate(_TREE).splitlines():
        indent = len(line) - len(line.lstrip())
        if not line.strip() or indent > (above[-1][0] if above else 0) + 6:
            continue
        while above and above[-1][0] >= indent:
            above.pop()
        folder = above[-1][1] if above else ""
        out += [folder + name.rstrip(",") for name in re.split(r"\s{2,}|\t", line.strip())[0].split()]
        if out[-1].endswith("/"):
            above.append((indent, out[-1]))
    return out


def test_every_path_of_the_folder_map_exists() -> None:
    """DEVELOPERS.md maps the folders, and everything on the map is there."""
    paths = mapped(page("DEVELOPERS.md"))
    assert len(paths) >= 10
    assert [path for path in paths if not (ROOT / path).exists()] == []


def test_the_folder_map_shows_every_part_of_the_package() -> None:
    """Each folder and module at the top of the package stands on the map."""
    parts = {
        f"sheetcalc/{one.name}" + ("/" if one.is_dir() else "")
        for one in (ROOT / "sheetcalc").iterdir()
        if one.name != "__pycache__" and (one.is_dir() or one.suffix == ".py")
    }
    assert set() == parts - set(mapped(page("DEVELOPERS.md")))


def test_the_reading_of_a_folder_map_follows_its_indents() -> None:
    """Folders in folders, several names in a line, drawn branches and continued words are read as they are meant."""
    text = (
        "```\nsheetcalc/\n  cli.py      verbs\n              and more words\n  sheets/     plans\n    write.py  writer\n"
        "README.md pyproject.toml\n```\n"
    )
    drawn = "```\nsheetcalc/\n├── cli.py   verbs\n└── sheets/  plans\n    └── write.py\nREADME.md\n```\n"
    package = ["sheetcalc/", "sheetcalc/cli.py", "sheetcalc/sheets/", "sheetcalc/sheets/write.py"]
    assert [*package, "README.md", "pyproject.toml"] == mapped(text)
    assert [*package, "README.md"] == mapped(drawn)
