"""The rooms of planner/: which may use which, floor above floor, and the same rooms in the tests."""

from __future__ import annotations

import ast
from collections.abc import Iterator

from jobs import ROOT
from sources import nodes

FLOORS: tuple[dict[str, set[str]], ...] = (
    {"sums": set(), "barcut": set()},
    {"words": set(), "dial": set()},
    {"geometry": set(), "job": {"words"}},
    {
        "sizing": {"geometry", "job", "sums", "words"},
        "record": {"job", "words"},
        "solids": {"dial", "geometry"},
        "dxf": {"geometry"},
    },
    {
        "checking": {"geometry", "job", "sizing", "sums", "words"},
        "measuring": {"dial", "geometry", "job", "record", "words"},
        "nest": {"dxf", "geometry"},
        "scene": {"job", "solids"},
    },
    {
        "page": {"scene"},
        "making": {"dial", "job", "words"},
        "walking": {"job", "words"},
        "turning": {"checking", "dial", "geometry", "job", "sums", "words"},
    },
    {
        "stock": {"barcut", "geometry", "job", "making", "nest", "words"},
        "drawing": {"dial", "dxf", "geometry", "making", "solids", "words"},
    },
    {"book": {"drawing", "words"}},
    {
        "output": {
            *(
                "book",
                "checking",
                "dial",
                "drawing",
                "dxf",
                "geometry",
                "job",
                "making",
                "measuring",
            ),
            *("nest", "page", "scene"),
            *("record", "sizing", "solids", "stock", "turning", "walking", "words"),
        }
    },
    {"cli": {"job", "measuring", "output", "record", "solids", "stock", "words"}},
)
"""The floors from the lowest up: each room and the rooms it may use. All may use parts/."""

ROOMS = {room: uses for floor in FLOORS for room, uses in floor.items()}


def used(room: str) -> Iterator[tuple[str, str]]:
    """Every other room that a room's files import, and the file."""
    for file in sorted((ROOT / "planner" / room).rglob("*.py")):
        for node in nodes(file):
            names = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.module:
                names = [node.module, *(f"{node.module}.{alias.name}" for alias in node.names)]
            for name in names:
                steps = name.split(".")
                other = steps[1] if steps[0] == "planner" and len(steps) > 1 else room
                if other != room and other in ROOMS:
                    yield other, file.relative_to(ROOT).as_posix()


def test_every_folder_is_a_room_and_every_room_says_what_lives_there() -> None:
    folders = {p.parent.name for p in (ROOT / "planner").glob("*/__init__.py")}
    assert folders == set(ROOMS)
    for room in ROOMS:
        text = (ROOT / "planner" / room / "__init__.py").read_text(encoding="utf-8")
        assert ast.get_docstring(ast.parse(text)), room
    loose = {p.name for p in (ROOT / "planner").glob("*.py")}
    assert loose == {"__init__.py", "__main__.py"}


def test_a_room_uses_only_the_rooms_it_may_and_all_of_them() -> None:
    for room, uses in ROOMS.items():
        found = dict(used(room))
        assert set(found) <= uses, f"{room}: {found}"
        assert uses <= set(found), f"{room} no longer uses {uses - set(found)}: take it out"


def test_arrows_only_go_down() -> None:
    floor = {room: number for number, rooms in enumerate(FLOORS) for room in rooms}
    for room, uses in ROOMS.items():
        for below in uses:
            assert floor[below] < floor[room], f"{room} stands no higher than {below}"


def test_the_tests_have_the_same_rooms() -> None:
    found = (path.relative_to(ROOT / "tests") for path in (ROOT / "tests").rglob("test_*.py"))
    rooms = {path.parts[0] for path in found if len(path.parts) > 1} - {"parts"}
    assert rooms == set(ROOMS)
