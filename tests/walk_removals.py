"""Every single thing that a route stands on, taken away in turn: a grip, a centre, a step, a size."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

from walk_records import Data, Route

IDLE = {
    *(
        "minutes",
        "caution",
        "holding",
        "stage",
        "number",
        "part",
        "piece",
        "with_parts",
        "how",
        "blank",
    ),
    *(
        "place",
        "needs",
        "allowance_mm",
        "inside",
        "stop",
        "instead",
        "width_mm",
        "feature",
        "prepares",
    ),
    *("kind", "owned", "open", "text"),
}
"""What tells how, not what holds: words, numbers of lines, hints. Kinds, sentences and whether a
tool is owned are taken away one by one in ``removals``."""


def _keys(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Paths to everything that is said below a record."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in IDLE or inner is None or inner == []:
                continue
            yield (*path, key)
            yield from _keys(inner, (*path, key))
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for number, inner in enumerate(value):
            yield (*path, number)
            yield from _keys(inner, (*path, number))


def without(record: Data, path: tuple[Any, ...]) -> Data:
    """A copy of a record in which one thing is gone: an entry of a list, or a value, then None."""
    found = copy.deepcopy(record)
    at: Any = found
    for step in path[:-1]:
        at = at[step]
    if isinstance(path[-1], int):
        del at[path[-1]]
    else:
        at[path[-1]] = None
    return found


def removals(route: Route) -> Iterator[tuple[str, list[Data], list[Data]]]:
    """What is taken away, and the set-ups and operations without it."""
    setups, operations = route.setups, route.operations
    for number, setup in enumerate(setups):
        rest = [*setups[:number], *setups[number + 1 :]]
        yield f"set-up {setup['number']}", rest, operations
        for path in (*_keys(setup), ("holding",)):
            one = without(setup, path)
            yield (
                f"set-up {setup['number']}: {_said(path)}",
                [*setups[:number], one, *setups[number + 1 :]],
                operations,
            )
    for number, operation in enumerate(operations):
        rest = [*operations[:number], *operations[number + 1 :]]
        yield f"step {operation['number']}", setups, rest
        named = [("kind",), ("text",), ("tool", "owned")]
        named += [("measure", n, "kind") for n in range(len(operation["measure"]))]
        for path in (*_keys(operation), *named):
            one = without(operation, path)
            yield (
                f"step {operation['number']}: {_said(path)}",
                setups,
                [*operations[:number], one, *operations[number + 1 :]],
            )


def _said(path: tuple[Any, ...]) -> str:
    return ".".join(str(step) for step in path)
