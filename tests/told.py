"""What a test has to tell besides that it passed: counts and figures, shown together at the end of a run on any number of workers."""

from __future__ import annotations

from collections.abc import Callable

#: Tells one line.
Tell = Callable[[str], None]
#: The property under which a line travels from a worker to the end of the run.
LINE = "told"
