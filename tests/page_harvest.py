"""A pytest plugin: notes every ball that tests give to the correction, into the file HARVEST names."""

from __future__ import annotations

import json
import os
from typing import Any

from msgspec import to_builtins

import planner.measuring.correct as room
from planner.measuring.correct import advice
from planner.words.numbers import METRIC

_real = advice.correct
_seen: dict[str, None] = {}


def _noted(
    measured: Any, rig: Any, earlier: Any = advice.NOTHING, numbers: Any = METRIC, **more: Any
) -> Any:
    case = [*(to_builtins(one, enc_hook=float) for one in (measured, rig, earlier)), numbers.inch]
    _seen.setdefault(json.dumps(case))
    return _real(measured, rig, earlier, numbers, **more)


room.correct = advice.correct = _noted


def pytest_sessionfinish() -> None:
    with open(os.environ["HARVEST"], "w", encoding="utf-8") as file:
        file.write("[" + ",\n".join(_seen) + "]")
