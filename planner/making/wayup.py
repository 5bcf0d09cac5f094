"""Which way up work lies and what it is set by, in words that tell one set-up from another.

Imported by making.holds and making.across.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from parts import features as f
from parts.features import FacedLength
from planner.making.bodies import Body
from planner.making.model import Align, Hold, SetUp
from planner.making.near import way_of

ON_SLIDE = "lathe, on the cross slide"

SPUN = "The vice bolted down, or its end against a stop: a drill that catches spins it"
"""On a drill press the vice is often held by hand (common practice: never)."""

RAM = (
    "Stand beside, never in line with the ram, before it or behind: its stroke set and tried by hand"
    " first; goggles and a screen for the chips it throws"
)
"""A ram comes out behind as far as it goes in front (common practice)."""

SIDED = ("machine vice", "cross slide")
"""What holds work any side up: on a table's clamps and on its end it is said anyway."""

STANDS = re.compile(r"standing on|side to be slit|[+-][xyz] side")
"""Where it is said already."""

OFF_PARALLELS = "on two short packings, clear of where it is drilled through"
"""What narrow work lies on in the vice instead of parallels."""

LIES_ON = re.compile(rf"(?:, [^,;]* gripped)?, (?:on parallels|{OFF_PARALLELS})")
"""What is said of how deep work lies in the vice and on what: of no side of it."""

LEVEL_WORDS = (
    ("seen from above", "seen from the spindle"),
    ("held down by a clamp", "held on by a clamp"),
)
"""Where the spindle lies level the tool comes along the bed: what it cuts looks to the chuck."""

TABLE_WORDS = {
    "milling slide": (
        *LEVEL_WORDS,
        ("to the table", "to the milling slide's face"),
        (", standing on its end", ", its end toward the spindle"),
        (" up, level on packing", " toward the spindle, on even packing"),
        ("the rest hanging free", "the rest free behind it"),
        ("hanging past", "clear past"),
        ("a jack under the work beside it", "a block between it and the face beside it"),
    ),
    ON_SLIDE: (
        *LEVEL_WORDS,
        ("square to the table", "parallel to the bed"),
        ("parallel to the table", "square to the spindle"),
    ),
}
"""What stands square to a table where the tool comes down does so otherwise where there is none: on the
cross slide the tool comes along the bed."""


def set_on(machine: str, align: Sequence[Align]) -> tuple[Align, ...]:
    """What is set true, by what the machine has."""
    found = tuple(align)
    for table, other in TABLE_WORDS.get(machine, ()):
        found = tuple(replace(one, what=one.what.replace(table, other)) for one in found)
    return found


def held_on(machine: str, words: str) -> str:
    """What is said of how work is held, where the machine is no table that a tool comes down to."""
    if machine == "milling slide":
        for table, other in TABLE_WORDS[machine]:
            words = words.replace(table, other)
    return words


def turned(first: str, up: str, axis: int, name: str) -> str:
    """How far work is turned on about an axis from where one side was up, seen from its far end.

    first, up: directions across the axis; name: of what was made first. "" where it is not turned.
    """
    if first == up:
        return ""
    j, k = ((axis + 1) % 3, (axis + 2) % 3)
    turns = {f"+{'xyz'[j]}": 0, f"+{'xyz'[k]}": 1, f"-{'xyz'[j]}": 2, f"-{'xyz'[k]}": 3}
    on = (turns[up] - turns[first]) % 4
    way = {1: "a quarter turn clockwise", 2: "half a turn", 3: "a quarter turn counter-clockwise"}[
        on
    ]
    seen = "" if on == 2 else ", seen from the far end"
    return f"; turned {way} from the {name}{seen}"


def turned_round(first: str, up: str, axis: int, name: str) -> str:
    """The same of a round, which has no sides: by lines on its end (common practice)."""
    said = turned(first, up, axis, name)
    if not said:
        return ""
    line = (
        "one in line with that hole, one square to it,"
        if "quarter" in said
        else "in line with that hole,"
    )
    lines = "lines" if "quarter" in said else "a line"
    across = f"{lines} scribed across its end through the middle, {line}"
    return f"{said}: by {across} set upright by a square"


class WayUp:
    """The set-ups of one workpiece that said which of its sides was up, by all their words."""

    def __init__(self) -> None:
        self.before: dict[tuple[str, ...], list[SetUp]] = {}

    def keep(self, setup: SetUp, hold: Hold) -> None:
        """Remember a set-up; hold: as it was before what is said of the way up."""
        if hold.up and setup.machine != "bench":
            self.before.setdefault(_said(setup.machine, hold, setup.align), []).append(setup)

    def other(
        self, machine: str, hold: Hold, align: tuple[Align, ...], bodies: Sequence[Body],
        made: Sequence[f.Feature] = (),
    ) -> str:  # fmt: skip
        """What is said besides of which side is up: named where the sides are told apart.

        So they are on a weldment, and on a piece that is bored across what is up. A bar alone is turned
        about its length from what was made last, where it was held by the same words with another side
        up. made: what is made of the piece.
        """
        named = f"; its {hold.up} side {_toward(machine)}"
        if hold.by in SIDED and hold.up and not STANDS.search(hold.words):
            upward = way_of(hold.up)[0]
            bores = [way_of(o.axis.along)[0] for o in made if isinstance(o, f.Bore)]
            if len(bodies) > 1 or (upward and any(along != upward for along in bores)):
                return named
        before = self.before.get(_said(machine, hold, align), [])
        if not before or hold.up == before[0].hold.up:
            return ""
        others = [one for one in before if one.hold.up != hold.up]
        last = next((one for one in reversed(others) if _made(one)), others[0])
        long = max(range(3), key=bodies[0].size)
        across = {way_of(up)[0] for up in (last.hold.up, hold.up)}
        if len(bodies) == 1 and across == {0}:  # stock runs along x
            return f"; the other end {_toward(machine)}"
        if len(bodies) == 1 and long not in across:
            return turned(last.hold.up, hold.up, long, _made(last) or "way its ends were faced")
        return named


def _toward(machine: str) -> str:
    """Where the side of the work lies that the tool comes to."""
    return "toward the spindle" if machine in TABLE_WORDS else "up"


def _made(setup: SetUp) -> str:
    """What a set-up makes first that lies on one side."""
    names = (op.feature for op in setup.ops if not isinstance(op.feature, FacedLength | None))
    return next((one.name for one in names), "")


def _said(machine: str, hold: Hold, align: tuple[Align, ...]) -> tuple[str, ...]:
    """All that is said of how work is held and set true, but what it lies on."""
    return (machine, LIES_ON.sub("", hold.words), *(one.what for one in align))
