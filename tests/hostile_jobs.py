"""Job files as a hurried or a hostile hand leaves them, drawn by hypothesis from sound ones.

The sound ones are the examples and jobs that were once taken (benchmarks/accepted-jobs.json). What may
stand where is read off the project's own schema. Half of the changes are small and mostly taken; the
rest is what slips, other programs and ill will make of a file.
"""

from __future__ import annotations

import copy
import json
import tomllib
from collections.abc import Callable
from functools import cache
from typing import Any

import tomlkit
from hypothesis import strategies as st
from jobs import EXAMPLES, ROOT

from planner.job.template import readings_template

KEPT = ROOT / "tests" / "benchmarks" / "accepted-jobs.json"

NASTY: tuple[Any, ...] = (
    *(0, -1, 1, 1e-9, -0.0, 5e-324, 1e308, 10**400, -(10**25), float("inf"), float("nan")),
    *(
        "",
        " ",
        "0 mm",
        "-5 mm",
        "1e400 mm",
        "12 mm",
        "1/2 in",
        "3/0 in",
        "12 parsec",
        "12 kg",
        "inf",
    ),
    *("round 20", "tube infx3", "tube 20x15", "flat 5x5000", "square", "M8", "M8x1", "S355", "tpi"),
    *("a\x1b[31m", "\x07\x9b", "\u202eb", "=1+1", "@x", "..", "CON", "/etc/passwd", "x" * 10_000),
    *(True, False, [], {}, [[]], [0], ["", 1], {"a": 1}, [{"x": {}}]),
)
"""Values that no key expects, and some that one might."""

MOST_WHOLE = 10**15
"""A whole number beyond is left as it is: it cannot be scaled as one with a point."""

LONGEST_LIST = 1000
"""Members of a list: the writer of TOML that is used here takes the square of it."""

SECTIONS = ("round 20", "round 30", "square 16", "flat 60x15", "tube 35x8", "round 1 in", "sheet 3")
MATERIALS = ("S355", "C45", "CW614N", "6082-T6", "1018", "12L14", "42CrMo4", "EN-GJL-250", "brass")
THREADS = ("M4", "M6", "M8x1", "M10x1", "1/4-20 UNC", "Tr10x2")
LENGTHS = ("12 mm", "1/2 in", "3-7/8 in", "2.5 cm", "0.2 mm", '1/4"')


@cache
def bases() -> tuple[str, ...]:
    """The texts of sound jobs."""
    texts = [path.read_text(encoding="utf-8") for path in EXAMPLES]
    kept = json.loads(KEPT.read_text(encoding="utf-8"))["jobs"]
    return (*texts, *("\n".join(kept[name]) for name in sorted(kept)[:60]))


@cache
def schema() -> dict[str, Any]:
    """The schema of a job, as ``pommel schema`` prints it."""
    from commands import call

    found: dict[str, Any] = json.loads(call("schema").stdout)
    return found


@cache
def places() -> tuple[tuple[tuple[str, ...], dict[str, Any]], ...]:
    """Every key that a job may have, by the tables around it, with what it may hold; "*": of a list."""
    found: list[tuple[tuple[str, ...], dict[str, Any]]] = []

    def walk(part: dict[str, Any], head: tuple[str, ...]) -> None:
        if "$ref" in part:
            part = schema()["$defs"][part["$ref"].rsplit("/", 1)[-1]]
        for one in part.get("anyOf", ()):
            walk(one, head)
        if part.get("type") == "array" and isinstance(part.get("items"), dict):
            walk(part["items"], (*head, "*"))
        for key, inner in part.get("properties", {}).items():
            found.append(((*head, key), inner))
            walk(inner, (*head, key))

    walk(schema(), ())
    return tuple(found)


def fitting(part: dict[str, Any]) -> st.SearchStrategy[Any]:
    """Values of the kind that the schema has at a place."""
    if "$ref" in part:
        part = schema()["$defs"][part["$ref"].rsplit("/", 1)[-1]]
    if "enum" in part:
        return st.sampled_from(part["enum"])
    if "anyOf" in part:
        return st.one_of([fitting(one) for one in part["anyOf"]])
    low, high = part.get("minimum", 1), part.get("maximum", 400)
    match part.get("type"):
        case "integer":
            return st.integers(int(low), int(high))
        case "number":
            return st.one_of(
                st.sampled_from([0.5, 1, 2, 5, 10, 20, 50, 100, 200]),
                st.floats(0.01, 500).map(lambda x: round(x, 2)),
            )
        case "boolean":
            return st.booleans()
        case "string":
            return st.sampled_from([*SECTIONS, *MATERIALS, *THREADS, *LENGTHS, "a name"])
        case "array":
            return st.lists(fitting(part.get("items", {})), max_size=4)
        case "null":
            return st.just("")
    return st.just({})


def numbers_in(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Where the numbers of a job stand."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data)
    found: list[tuple[Any, ...]] = []
    for key, value in pairs:
        here = (*path, key)
        if isinstance(value, dict | list):
            found += numbers_in(value, here)
        elif isinstance(value, float) or (type(value) is int and abs(value) < MOST_WHOLE):
            found.append(here)
    return found


def leaves(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Where anything stands that is no table."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data)
    found: list[tuple[Any, ...]] = []
    for key, value in pairs:
        here = (*path, key)
        inner = isinstance(value, dict) or (isinstance(value, list) and value)
        found += leaves(value, here) if inner else [here]
    return found


def at(data: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


def put(data: Any, path: tuple[Any, ...], value: Any) -> None:
    at(data, path[:-1])[path[-1]] = value


# ---- changes of what it says ----


def scaled(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """A size read off a little otherwise."""
    for path in draw(st.lists(st.sampled_from(numbers_in(data)), min_size=1, max_size=6)):
        value = at(data, path)
        factor = draw(st.sampled_from([0.9, 0.95, 0.98, 1.02, 1.05, 1.1]))
        put(data, path, max(1, round(value * factor)) if isinstance(value, int) else value * factor)


def far(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """A size out by a power of ten, an inch, or its sign."""
    path = draw(st.sampled_from(numbers_in(data)))
    put(data, path, at(data, path) * draw(st.sampled_from([10, 0.1, 25.4, 1 / 25.4, -1, 3, 0.3])))


def nasty(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """Anything in the place of anything."""
    put(data, draw(st.sampled_from(leaves(data))), copy.deepcopy(draw(st.sampled_from(NASTY))))


def left_out(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """A key or a table that is not there."""
    every = leaves(data)
    path = draw(st.sampled_from(every + [one[:-1] for one in every if len(one) > 1]))
    inside = at(data, path[:-1])
    del inside[path[-1]]


def misspelt(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """A key with a letter wrong, or another."""
    path = draw(st.sampled_from([one for one in leaves(data) if isinstance(one[-1], str)] or [()]))
    if path:
        table = at(data, path[:-1])
        word = draw(
            st.sampled_from([path[-1][::-1], path[-1] + "s", path[-1][1:], "a\x1b", "", "é"])
        )
        table[word] = table.pop(path[-1])


def exchanged(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """Two values in each other's place."""
    one, two = (draw(st.sampled_from(leaves(data))) for _ in range(2))
    first, second = at(data, one), at(data, two)
    put(data, one, second)
    put(data, two, first)


def added(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """A key that it may have, of the kind that the schema has there."""
    path, part = draw(st.sampled_from(places()))
    table: Any = data
    for step in path[:-1]:
        if step == "*":
            table = table if isinstance(table, list) else []
            if not table:
                table.append({})
            table = table[-1]
        else:
            inner: Any = table.setdefault(step, {}) if isinstance(table, dict) else {}
            table = inner
        if not isinstance(table, dict | list):
            return
    if isinstance(table, dict):
        table[path[-1]] = draw(fitting(part))


def repeated(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """A list many times as long."""
    lists = [path[:i] for path in leaves(data) for i in range(1, len(path) + 1)]
    lists = [path for path in dict.fromkeys(lists) if isinstance(at(data, path), list)]
    if lists:
        path = draw(st.sampled_from(lists))
        longer = at(data, path) * draw(st.sampled_from([2, 3, 30]))
        put(data, path, longer[:LONGEST_LIST])


def other_unit(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """The unit said otherwise, or not at all."""
    data.pop("units", None)
    word = draw(st.sampled_from(["mm", "in", "cm", "inch", "ft", "", "MM", 3, None]))
    if word is not None:
        data["units"] = word


def long_names(draw: Callable[..., Any], data: dict[str, Any]) -> None:
    """Balls and pieces called as long as they may be."""
    for table in ("ball", "piece"):
        listed = data.get(table)
        for number, one in enumerate(listed if isinstance(listed, list) else [], 1):
            if isinstance(one, dict):
                one["name"] = (
                    f"{number} the longest name that there may be for one in a shop's job"[:60]
                )


SMALL = (scaled, added, scaled, long_names)
LARGE = (scaled, far, nasty, left_out, misspelt, exchanged, added, repeated, other_unit)


# ---- changes of its letters ----

SIGNS = (
    "\x00",
    "\x1b",
    "\ufeff",
    "“",
    ";",
    ",",
    "[",
    "]",
    "{",
    '"',
    "'",
    "=",
    "#",
    "\n",
    "\r",
    "é",
    "\x7f",
)


def spoiled(draw: Callable[..., Any], text: str) -> str:
    """A text with some letters gone, added or written twice."""
    for _ in range(draw(st.integers(1, 3))):
        place = draw(st.integers(0, max(0, len(text) - 1)))
        match draw(st.integers(0, 3)):
            case 0:
                text = text[:place] + draw(st.sampled_from(SIGNS)) + text[place:]
            case 1:
                text = text[:place] + text[place + draw(st.integers(1, 40)) :]
            case 2:
                text = text[:place]
            case _:
                lines = text.split("\n")
                number = draw(st.integers(0, len(lines) - 1))
                text = "\n".join([*lines[: number + 1], *lines[number:]])
    return text


def changed_text(draw: Callable[..., Any], text: str, small: bool, more: bool = True) -> str:
    """A sound text changed; small: a little; more: keys of a job's schema may come in."""
    data = tomllib.loads(text)
    changes = [one for one in (SMALL if small else LARGE) if more or one is not added]
    for change in draw(st.lists(st.sampled_from(changes), min_size=1, max_size=3)):
        if leaves(data) and numbers_in(data):
            change(draw, data)
    try:
        text = tomlkit.dumps(data)
    except Exception:  # what TOML cannot hold is not asked
        return text
    if not small and draw(st.integers(0, 3)) == 0:
        text = spoiled(draw, text)
    return text


@st.composite
def job_texts(draw: Callable[..., Any]) -> str:
    """The text of a job file: in half of all a small change of a sound one, else anything."""
    return changed_text(draw, draw(st.sampled_from(bases())), draw(st.booleans()))


@st.composite
def readings_texts(draw: Callable[..., Any]) -> str:
    """The text of a readings file, as of a job."""
    sound = draw(st.sampled_from([readings_template(False), readings_template(True)]))
    return changed_text(draw, sound, draw(st.booleans()), more=False)
