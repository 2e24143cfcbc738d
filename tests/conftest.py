"""How a run is dealt out to workers, and what is told at its end: the verdicts on mutants, of all shards together."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Final

import pytest
from agreement.trial import PROPERTY, Tally, told_wrong
from told import LINE, Tell

#: The lines that tests told, in the order in which they came in.
_LINES: Final[list[str]] = []

#: Fixtures that take long to make: the tests that share one are run by the same worker.
_COSTLY: Final = ("demo", "made", "packed", "planner", "typed_cells")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep the tests together that share a costly fixture."""
    for item in items:
        for name in _COSTLY:
            if name in getattr(item, "fixturenames", ()):
                item.add_marker(pytest.mark.xdist_group(name))


_TALLIES: Final[dict[tuple[str, str], Tally]] = {}


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Take the verdict of a shard, and what a test told, wherever it was tried."""
    for name, value in report.user_properties:
        if name == PROPERTY and report.when == "call":
            told = json.loads(str(value))
            tally = _TALLIES.setdefault(tuple(told["kind"]), Tally(told["shards"], told["reasons"]))
            tally.take(told)
        if name == LINE and report.when == "call":
            _LINES.append(str(value))


@pytest.fixture
def tell(record_property: Callable[[str, object], None]) -> Tell:
    """Tells a line that is shown at the end of the run."""
    return lambda line: record_property(LINE, line)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """Fail the run where the shards together are wrong."""
    if told_wrong(_TALLIES) and session.exitstatus == pytest.ExitCode.OK:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print what was told, and of mutants what was tried, killed, equivalent and left out, and what is wrong with it."""
    if _LINES:
        terminalreporter.section("told")
    for line in sorted(_LINES):
        terminalreporter.write_line(line)
    for kind, tally in sorted(_TALLIES.items()):
        terminalreporter.section(f"mutants of {', '.join(kind)}")
        for line in tally.lines():
            terminalreporter.write_line(line)
    for line in told_wrong(_TALLIES):
        terminalreporter.write_line(line, red=True)
