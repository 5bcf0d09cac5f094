"""Keys of a ball that its shape has nothing for: what was meant by them is not turned.

Imported by turning.plan alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.job.tables import Ball, Job
from planner.words.findings import Finding, finding

HALF = "half a ball is parted off at its equator: no stem stays on it"
HOLLOW = "a hollow has no stem, and no hole"

UNUSED = {
    # the shape, and of each key that it has nothing for why so and what may have been meant
    "ball": {
        "large_diameter": ("a ball has no handle", 'or say shape = "taper handle"'),
        "depth": ("a whole ball is no hollow", 'or say shape = "socket"'),
    },
    "hemisphere": {
        "stem_diameter": (HALF, ""),
        "stem_length": (HALF, ""),
        "large_diameter": ("half a ball has no handle", 'or say shape = "taper handle"'),
        "depth": ("half a ball is no hollow", 'or say shape = "socket"'),
    },
    "taper handle": {"depth": ("a handle is no hollow", 'or say shape = "socket"')},
    "socket": {
        key: (HOLLOW, "")
        for key in ("stem_diameter", "stem_length", "hole", "thread", "hole_depth")
    },
}


def unused(ball: Ball, key: str, job: Job, file: str) -> Iterator[Finding]:
    """A note for each key of a ball that says nothing of what it is; key: where the ball stands."""
    for name, (limit, meant) in UNUSED[ball.shape].items():
        value = getattr(ball, name)
        if value is not None:
            said = value if isinstance(value, str) else job.numbers.bought_length(value)
            remedy = f"Leave it out{f', {meant}' if meant else ''}"
            yield finding("unused-key", file, f"{key}.{name}", said, limit, remedy)
    if ball.hole_depth is not None and not (ball.hole or ball.thread) and ball.shape != "socket":
        said, limit = job.numbers.bought_length(ball.hole_depth), "the ball has no hole"
        remedy = "Give its hole or its thread, or leave it out"
        yield finding("unused-key", file, f"{key}.hole_depth", said, limit, remedy)
    if ball.second_holding is not None and not ball.stemless:
        limit = "it is finished in one holding: a second finishes the stem side of a whole ball"
        remedy = "Leave it out" + (", or its stem_length" if ball.shape == "ball" else "")
        yield finding(
            "unused-key", file, f"{key}.second_holding", ball.second_holding, limit, remedy
        )
