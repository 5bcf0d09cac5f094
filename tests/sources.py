"""The program's own sources as syntax trees, each parsed once: for tests that walk the code."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

from jobs import ROOT

FLOORS = ("parts", "planner")


@cache
def tree(path: Path) -> ast.Module:
    """The syntax tree of one file; not to be changed."""
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def sources() -> tuple[Path, ...]:
    """Every module of the program, in order."""
    return tuple(path for floor in FLOORS for path in sorted((ROOT / floor).rglob("*.py")))


def place(path: Path) -> str:
    """Which module a file is, as in planner/job/tables; a package by its folder."""
    return path.relative_to(ROOT).with_suffix("").as_posix().removesuffix("/__init__")


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """Every node of one file's tree."""
    return tuple(every_node(tree(path)))


def every_node(top: ast.AST) -> list[ast.AST]:
    """What ``ast.walk`` goes through, in its order, in two thirds of the time."""
    found = [top]
    for node in found:  # grows as it is gone through
        for value in vars(node).values():
            if isinstance(value, ast.AST):
                found.append(value)
            elif type(value) is list:
                found += [one for one in value if isinstance(one, ast.AST)]
    return found
