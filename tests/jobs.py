"""Example jobs for the tests, as they are and with keys changed."""

from __future__ import annotations

import copy
import tomllib
from functools import cache
from pathlib import Path
from typing import Any, Literal

from planner.output.plan import Plan

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))


@cache
def planned(path: Path, arrangement: Literal["across", "upright"] = "across") -> Plan:
    """A job worked out, once for all tests."""
    return Plan(path, arrangement)


def unwalked(path: Path) -> Plan:
    """A job worked out of which the walk is no matter: its route counts as walked without a word."""
    plan = Plan(path)
    vars(plan)["walked"] = ()
    return plan


@cache
def _data(name: str) -> dict[str, Any]:
    return tomllib.loads((ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8"))


def changed(example: str = "bench-lathe", **changes: Any) -> dict[str, Any]:
    """An example's data with dotted keys changed; a value of None removes the key."""
    data = copy.deepcopy(_data(example))
    for dotted, value in changes.items():
        *tables, key = dotted.split(".")
        table = data
        for name in tables:
            table = table.setdefault(name, {})
        if value is None:
            table.pop(key, None)
        else:
            table[key] = value
    return data
