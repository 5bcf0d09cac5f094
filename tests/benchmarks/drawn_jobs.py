"""Jobs of the kind a user has, drawn by seed, and where those are kept that the program once took.

Lathes of 60 to 250 mm over the cross slide, metric and inch, each with what usually goes with its
size (common practice): a shank by the size of the lathe, a seat a little under the shank, a chuck of
about its swing. The first two hundred that were taken stand as TOML text in accepted-jobs.json, so that
any version of the program reads the same words. Imported by accepted.py and the walks; needs nothing of
the project.
"""

from __future__ import annotations

import json
import random
import tomllib
from collections.abc import Iterator, Sequence
from itertools import count
from math import log
from pathlib import Path
from typing import Any

SEED, JOBS = 20_261_129, 200
KEPT = Path(__file__).parent / "accepted-jobs.json"

CHUCKS_MM = (63, 80, 100, 125, 160, 200, 250, 315)
SHANKS = {"mm": (10, 12, 16, 20, 25, 32), "in": ("3/8", "1/2", "5/8", "3/4", "1", "1-1/4")}
SHANKS_IN_MM = (9.525, 12.7, 15.875, 19.05, 25.4, 31.75)
PITCHES = {
    # the feed screw's pitch, and dials that read round numbers on it
    "mm": (
        ("1 mm", (50, 100)), ("1.25 mm", (50, 125)), ("1.5 mm", (75, 60)), ("2 mm", (100, 40, 200)),
    ),
    "in": (("20 tpi", (50,)), ("18 tpi", (60,)), ("16 tpi", (125,)), ("10 tpi", (100,))),
}  # fmt: skip
REAMERS = {
    "mm": (6, 8, 10, 12, 14, 16, 18, 20, 22, 25),
    "in": ("1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "3/4", "7/8", "1"),
}
TAPS = {
    "mm": ("M4", "M5", "M6", "M8", "M10", "M8x1", "M10x1", "M12", "Tr10x2"),
    "in": ("No.10-32 UNF", "1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "1/2-20 UNF"),
}
BITS = {"mm": (5, 6, 8, 10, 12), "in": ("3/16", "1/4", "5/16", "3/8", "1/2")}
MATERIALS = {
    "mm": {
        "structure": ("S355", "S355", "S235", "S275", "E355"),
        "shaft": ("S355", "C45", "42CrMo4"),
        "screw": ("C45", "11SMn30", "42CrMo4"),
        "dial": ("CW614N", "CW614N", "6082-T6", "11SMn30"),
    },
    "in": {
        "structure": ("1018", "1018", "A36", "1018 HR"),
        "shaft": ("1018", "1045", "4140"),
        "screw": ("1045", "12L14"),
        "dial": ("C360", "C360", "6061-T6", "12L14"),
    },
}
RACK = {
    "mm": (
        "round 16", "round 20", "round 25", "round 30", "round 35", "square 12", "square 16",
        "square 20", "square 25", "flat 50x40", "flat 60x15", "flat 60x50", "flat 40x20", "flat 25x8",
        "flat 80x30", "flat 80x60", "tube 35x8", "tube 45x8",
    ),
    "in": (
        "round 1/2", "round 5/8", "round 3/4", "round 1", "round 1-1/4", "square 1/2", "square 5/8",
        "square 3/4", "square 1", "flat 2 x 1-1/2", "flat 2-1/2 x 5/8", "flat 2-1/2 x 1-1/2",
        "flat 1 x 5/16", "flat 3 x 2", "tube 1-1/4 x 5/16", "tube 1-3/4 x 5/16",
    ),
}  # fmt: skip


def shown(value: Any) -> str:
    """A value as TOML."""
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(shown(one) for one in value) + "]"
    return f"{value:g}" if isinstance(value, float) else str(value)


def table(head: str, keys: dict[str, Any]) -> str:
    """A table of the file; keys without a value are left out."""
    lines = [f"{key} = {shown(value)}" for key, value in keys.items() if value is not None]
    return "\n".join([head, *lines]) + "\n"


def drawn_text(chance: random.Random) -> str:
    """One job, as the text of its file."""
    unit = chance.choice(("mm", "mm", "mm", "in", "in"))
    inch = unit == "in"

    def length(mm: float) -> float | str:
        """A length as one would read it off: whole or half millimetres, thirty-seconds of an inch."""
        return f"{max(1, round(mm / 25.4 * 32))}/32" if inch else max(0.5, round(mm * 2) / 2)

    def some(values: Sequence[Any], least: int) -> list[Any]:
        return [v for v in values if chance.random() < 0.7][: len(values)] or list(values[:least])

    height = 60.0 * (250 / 60) ** chance.random()
    place = 5 * log(height / 60) / log(250 / 60) + chance.uniform(-1.2, 1.2)
    which = min(5, max(0, round(place)))
    shank = SHANKS_IN_MM[which] if inch else float(SHANKS["mm"][which])
    seat = min(shank * chance.uniform(1.0, 1.35), height - 8.0)
    swing = 1.7 * height * chance.uniform(0.8, 1.15)
    chuck = min(CHUCKS_MM, key=lambda size: abs(size - swing))
    ball = min(150.0, max(10.0, height * chance.uniform(0.15, 0.9)))
    pitch, dials = chance.choice(PITCHES[unit])
    blank = ball + chance.uniform(1, 5) if chance.random() < 0.3 else None
    least = ball * chance.uniform(0.25, 0.6) if chance.random() < 0.4 and ball > 16 else None
    said = [f'units = "{unit}"\n']
    if chance.random() < 0.04:
        said.append(f'standards = "{"metric" if inch else "inch"}"\n')
    said += [
        table(
            "[lathe]",
            {
                "spindle_over_seat": length(seat),
                "spindle_over_cross_slide": length(height),
                "chuck_diameter": length(chuck),
                "jaw_reach": length(chuck * chance.uniform(0.18, 0.3)),
                "spindle_speeds": [80, 140, 220, 340, 520, 800, 1250],
            },
        ),
        table(
            "[tool_post]",
            {
                "largest_shank": SHANKS[unit][which],
                "stands_out": length(chance.uniform(3, 15)) if chance.random() < 0.15 else None,
            },
        ),
        table(
            "[attachment]",
            {
                "max_ball_diameter": length(ball),
                "min_ball_diameter": length(least) if least else None,
                "max_blank_diameter": length(blank) if blank else None,
                "screw_pitch": pitch,
                "dial_divisions": chance.choice(dials),
                "clearance": length(chance.uniform(1, 4)) if chance.random() < 0.1 else None,
                "prefer": chance.choice(("stiff", "light", "on-hand"))
                if chance.random() < 0.05
                else None,
            },
        ),
    ]
    if chance.random() < 0.3:
        for number in range(chance.choice((1, 1, 2))):
            one = max(ball * chance.uniform(0.6, 1.0), 6.0)
            said.append(
                table(
                    "[[ball]]",
                    {
                        "name": f"knob {number + 1}",
                        "diameter": length(one),
                        "stem_diameter": length(one * chance.uniform(0.3, 0.5)),
                        "tolerance": length(0.1) if not inch and chance.random() < 0.3 else None,
                    },
                )
            )
    if chance.random() < 0.2:
        cut = {"depth_of_cut": round(chance.uniform(0.1, 0.4), 2), "feed": 0.08}
        said.append(table("[turning]", {key: f"{mm} mm" for key, mm in cut.items()}))
    said.append(
        table(
            "[shop]",
            {
                "dividing_head_ratio": chance.choice((40, 40, 60, None)),
                "reamers": some(REAMERS[unit], 4) if chance.random() < 0.7 else None,
                "taps": some(TAPS[unit], 3) if chance.random() < 0.7 else None,
                "tool_bits": some(BITS[unit], 2) if chance.random() < 0.7 else None,
                "tool_material": chance.choice(("HSS", "HSS", "carbide")),
            },
        )
    )
    said += [f"[shop.machines.{one}]\n" for one in ("mill", "welder") if chance.random() < 0.8]
    materials = {part: chance.choice(names) for part, names in MATERIALS[unit].items()}
    if chance.random() < 0.5:
        for section in chance.sample(RACK[unit], chance.randint(2, 8)):
            of = materials[chance.choice(("structure", "shaft", "screw"))]
            long = length(chance.uniform(80, 500))
            said.append(
                table("[[shop.rack]]", {"section": section, "material": of, "length": long})
            )
    said.append(table("[materials]", materials))
    return "\n".join(said)


def drawn() -> Iterator[tuple[str, str]]:
    """Name and text of one job after the other, without end, the same at every call."""
    chance = random.Random(SEED)
    for number in count(1):
        text = drawn_text(chance)
        tomllib.loads(text)
        yield f"job-{number:03}", text


def kept() -> dict[str, Any]:
    """What is tracked.

    "jobs": name to lines of text; "before": name to what was made of it then, and "commit" of then;
    "drawn": how many were drawn for them; "refused": how many of those by the code of each finding.
    """
    return json.loads(KEPT.read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def texts() -> dict[str, str]:
    """The text of every tracked job by its name."""
    return {name: "\n".join(lines) + "\n" for name, lines in kept()["jobs"].items()}
