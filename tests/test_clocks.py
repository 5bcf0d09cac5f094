"""No result depends on a clock: what reads one stands here, with its reason."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from sources import nodes, place, sources

ALLOWED = {
    "planner/record/files": "how long it waits for another that writes; it decides nothing else",
    "planner/cli/correct": "the day noted beside a move; nothing is worked out from it",
    "planner/record/model": "the type of a TOML date, to tell it from a date with a time",
    "planner/output/readiness": "how long what is tried may hang before it is said to fail",
}
CLOCKS = {"time", "datetime", "timeit", "sched"}
"""Modules of the standard library that read a clock."""
ASKED = {
    *("utcnow", "fromtimestamp", "times", "getrusage", "clock_gettime"),
    *("stat_result", "st_mtime", "st_atime", "st_ctime", "getmtime", "getatime", "getctime"),
    *("setitimer", "alarm", "Timer"),
}
"""Names by which a clock is read otherwise."""
LIMITS = {"time_limit", "timeout"}
"""Names by which a library is given a limit of time."""


def clocks(tree: tuple[ast.AST, ...]) -> Iterator[str]:
    """Every clock that a module reads."""
    for node in tree:
        if isinstance(node, ast.Import):
            yield from (a.name for a in node.names if a.name.split(".")[0] in CLOCKS)
        elif isinstance(node, ast.ImportFrom) and node.module:
            if node.module.split(".")[0] in CLOCKS:
                yield node.module
            yield from (a.name for a in node.names if a.name in ASKED)
        elif isinstance(node, ast.Attribute) and node.attr in ASKED:
            yield node.attr
        elif isinstance(node, ast.keyword) and node.arg in LIMITS:
            yield str(node.arg)
        elif isinstance(node, ast.Constant) and node.value in LIMITS:
            yield str(node.value)


def test_no_module_reads_a_clock_but_those_with_a_reason() -> None:
    reading = {place(path): sorted(set(clocks(nodes(path)))) for path in sources()}
    assert len(reading) > 250
    assert {name for name, found in reading.items() if found} == set(ALLOWED), reading


@pytest.mark.parametrize(
    "code",
    [
        "import time",
        "from time import monotonic",
        "import os\nos.times()",
        "milp(c, options={'time_limit': 1.0})",
        "run(c, timeout=3)",
        "from resource import getrusage",
        "path.stat().st_mtime",
    ],
)
def test_a_clock_is_seen(code: str) -> None:
    assert list(clocks(tuple(ast.walk(ast.parse(code)))))
