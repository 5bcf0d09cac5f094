"""Up to where each number of a sound route may go: the last that is walked, the first that is refused.

    python tests/walk_edges.py          # looks for the tracked edges anew, prints what is other: look
    python tests/walk_edges.py --all    # looks for an edge at every number: some minutes

Every number of the routes written by hand is moved up and down until the walk says something. Edges
that are told alike (same number, same way, same sentences) are kept once, in tests/data/walk-edges.txt,
with what is said there, and so is what is said of every route of walk_spoiled.py. Whether a limit is
right says the table it stands in and its source (tests/test_constants.py, parts/standard); this says
that it is the one that is held to, on both sides. Imported by tests/walking/test_edges.py.
"""

from __future__ import annotations

import copy
import json
import re
import sys
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

from jobs import changed
from walk_records import Data, Route
from walk_shops import MACHINES, shop
from walk_sound import SOUND
from walk_spoiled import SPOILED, spoiled

from planner.job.reading import job_from
from planner.job.tables import Job
from planner.walking.walk import walk
from planner.words.findings import BadInput, Finding

TRACKED = Path(__file__).with_name("data") / "walk-edges.txt"
IDLE = ("number", "setup", "minutes", "stop")
FARTHEST_MM, FIRST_MM, CLOSE_MM = 60.0, 0.004, 0.0004
SHOP: dict[str, Any] = {
    "lathe.three_jaw_outside": [2, 95],
    "lathe.four_jaw_outside": [5, 95],
    "lathe.chuck_bore": 20,
    "lathe.chuck_depth": 80,
    "lathe.steady": 40,
    "shop.reamers": [6, 8, 14],
}
"""Numbers of the shop that are moved too: those a usual shop has (planner.job.usual)."""


class Edge(NamedTuple):
    """A number, and how far it may go. where: "set-up 2: hold.grips.0.from_mm", "step 5: ..." or "shop:
    ..."; good, bad: the last value without a word, the first with one; said: what is then found."""

    route: str
    where: str
    good: float
    bad: float
    said: tuple[str, ...]


@cache
def sound(name: str) -> Route:
    return SOUND[name]()


@cache
def usual() -> Job:
    return shop()


def numbers(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], float]]:
    """Every number under a record, and the way to it."""
    if isinstance(value, dict):
        for key, one in value.items():
            if key not in IDLE:
                yield from numbers(one, (*path, key))
    elif isinstance(value, list | tuple):
        for at, one in enumerate(value):
            yield from numbers(one, (*path, str(at)))
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path, float(value)


def put(record: Any, path: Sequence[str], value: float) -> Any:
    """A copy of a record with one number changed."""
    if not path:
        return value
    first, *rest = path
    if isinstance(record, dict):
        return record | {first: put(record[first], rest, value)}
    found = list(record)
    found[int(first)] = put(found[int(first)], rest, value)
    return found


def said(found: Sequence[Finding]) -> tuple[str, ...]:
    """What is found, but of parts as a whole: the route may be looked at to a step of it alone."""
    return tuple(words([one for one in found if one.key.startswith(("step ", "set-up "))]))


def words(found: Sequence[Finding]) -> list[str]:
    """Where each is found, and all that is said of it."""
    return [f"{one.key}: {one.code}: {one.value}: {one.limit}. {one.remedy}" for one in found]


def found_at(name: str, where: str, value: float) -> tuple[str, ...]:
    """What is said of a sound route with one number changed, up to the set-up or step that has it."""
    of, _, dotted = where.partition(": ")
    path, route = dotted.split("."), sound(name)
    setups, operations = route.setups, route.operations
    if of == "shop":
        key = ".".join(path[:2])
        moved = put(SHOP[key], path[2:], value)
        try:
            job = job_from(changed("bench-lathe", **(MACHINES | {key: moved})), "job.toml")
        except BadInput:
            return ()  # no shop is so
        return said(walk(route.parts, job, setups, operations))
    kind, _, number = of.partition(" ")
    at = int(number) - 1
    if kind == "set-up":
        setups = [*setups[:at], put(setups[at], path, value)]
    else:
        operations = [*operations[:at], put(operations[at], path, value)]
    last = operations[-1]["setup"] if kind == "step" else int(number)
    used: list[Data] = [one for one in operations if one["setup"] <= last]
    kept = [one for one in setups if one["number"] <= last]
    return said(walk(route.parts, usual(), kept, used))


def value_of(name: str, where: str) -> float:
    """What the number is in the sound route."""
    of, _, dotted = where.partition(": ")
    kind, _, number = of.partition(" ")
    at: Any
    if of == "shop":
        table, key, *path = dotted.split(".")
        at = SHOP[f"{table}.{key}"]
    else:
        route, path = sound(name), dotted.split(".")
        at = (route.setups if kind == "set-up" else route.operations)[int(number) - 1]
    for one in path:
        at = at[one] if isinstance(at, dict) else at[int(one)]
    return float(at)


def edge(name: str, where: str, way: int) -> Edge | None:
    """How far a number may go up (1) or down (-1); None where nothing is ever said."""
    begin = good = value_of(name, where)
    step = FIRST_MM
    while step < FARTHEST_MM:
        bad = round(begin + way * step, 4)
        if heard := found_at(name, where, bad):
            break
        good, step = bad, step * 2.6
    else:
        return None
    while abs(bad - good) > CLOSE_MM * max(1.0, abs(bad) / 100):
        middle = round((bad + good) / 2, 4)
        if middle in (good, bad):
            break
        if told := found_at(name, where, middle):
            bad, heard = middle, told
        else:
            good = middle
    return Edge(name, where, good, bad, heard)


def places() -> Iterator[tuple[str, str]]:
    """Every number of every sound route, and of the shop."""
    for name in SOUND:
        route = sound(name)
        for kind, records in (("set-up", route.setups), ("step", route.operations)):
            for record in records:
                for path, _ in numbers(record):
                    yield name, f"{kind} {record['number']}: {'.'.join(path)}"
        for key, value in SHOP.items():
            for path, _ in numbers(value):
                yield name, "shop: " + ".".join((key, *path))


def alike(one: Edge) -> tuple[object, ...]:
    """What edges have in common that are told alike."""
    path = [step for step in re.split(r"[ .]", one.where) if not step.isdigit()]
    lines = {re.sub(r"\d+(\.\d+)?", "#", line) for line in one.said}
    return path[-1], one.bad > one.good, tuple(sorted(lines))


def tracked() -> tuple[list[Edge], dict[str, list[str]]]:
    """The edges, and what is said of each spoiled route, as they were when last looked over."""
    found = [json.loads(line) for line in TRACKED.read_text(encoding="utf-8").splitlines()]
    edges = [Edge(*one[:4], tuple(one[4])) for one in found if len(one) == 5]
    return edges, {one[0]: one[1] for one in found if len(one) == 2}


def said_of_spoiled(name: str) -> list[str]:
    """What is said of a spoiled route, the parts as a whole too."""
    route, _ = spoiled(name)
    found = walk(route.parts, usual(), copy.deepcopy(route.setups), route.operations)
    return words(found)


def main() -> None:
    """Find the edges anew, print what is other, and write them down."""
    old = tracked() if TRACKED.exists() else ([], {})
    kept: dict[tuple[object, ...], Edge] = {}
    if "--all" in sys.argv:
        wanted = [(*place, way) for place in places() for way in (-1, 1)]
    else:
        wanted = [(one.route, one.where, 1 if one.bad > one.good else -1) for one in old[0]]
    for name, where, way in wanted:
        if one := edge(name, where, way):
            kept.setdefault(alike(one), one)
    lines = [[*one[:4], list(one.said)] for one in kept.values()]
    lines += [[name, said_of_spoiled(name)] for name in SPOILED]
    new = [json.dumps(line, ensure_ascii=False) for line in lines]
    was = TRACKED.read_text(encoding="utf-8").splitlines() if TRACKED.exists() else []
    for mark, one, other in (("-", was, new), ("+", new, was)):
        for line in one:
            if line not in other:
                print(mark, line)
    TRACKED.write_text("\n".join(new) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
