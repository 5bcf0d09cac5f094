"""A route read from its records (``pommel route --json``), and its set-ups as blocks of the book.

read_route alone knows the records: those that say set-ups, operations and readings apart, and the one
table of operations of before. Imported by planner.output.book.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from planner.book.bodies import Body
from planner.book.model import Block, Line, SetUp, Step, lines
from planner.book.sketch import Shop, sketched
from planner.words.numbers import Numbers

Record = Mapping[str, Any]

GATHERED = ("assemble", "check")
"""Kinds of operation that are of the whole, whatever part their set-up is listed under."""


@dataclass(frozen=True)
class Reading:
    """What is to be measured, with what; blank: a figure is written down beside it."""

    words: str
    blank: bool


@dataclass(frozen=True)
class Doing:
    """One operation. tool: it and how it cuts, in words."""

    number: int
    kind: str
    words: str
    tool: str
    place: str
    readings: tuple[Reading, ...]
    note: str
    caution: str
    speed_rpm: float | None
    tool_name: str


@dataclass(frozen=True)
class Held:
    """One set-up with its operations. piece: "" for the whole part; hold, cuts: their records, None and
    nothing where they say none."""

    number: int
    part: str
    piece: str
    stage: str
    machine: str
    holding: str
    align: tuple[str, ...]
    caution: str
    doings: tuple[Doing, ...]
    hold: Record | None = None
    cuts: tuple[Record, ...] = ()

    @property
    def of_the_whole(self) -> bool:
        """Whether the finished parts are put together in it."""
        return any(one.kind in GATHERED for one in self.doings)


def read_route(record: Record, numbers: Numbers) -> tuple[Held, ...]:
    """The set-ups of a route's record, in order."""
    if "setups" not in record:
        rows = record["tables"]["route"]
        return tuple(
            _old(tuple(of), numbers) for _, of in groupby(rows, key=lambda row: row["setup"])
        )
    of: dict[int, list[Record]] = {}
    for one in record["operations"]:
        of.setdefault(one["setup"], []).append(one)
    return tuple(_new(one, of.get(one["number"], []), numbers) for one in record["setups"])


def _new(setup: Record, operations: Sequence[Record], numbers: Numbers) -> Held:
    align = tuple(
        f"{one['what']}, by {one['by']}, within {numbers.fine(one['within_mm'])}"
        for one in setup["align"]
    )
    return Held(
        setup["number"],
        setup["part"],
        setup["piece"],
        setup["stage"],
        setup["machine"],
        setup["holding"],
        align,
        setup["caution"],
        tuple(_doing(one, numbers) for one in operations),
        setup["hold"],
        tuple(one["cut"] | {"tool": one["tool"]} for one in operations if one["cut"]),
    )


def _doing(one: Record, numbers: Numbers) -> Doing:
    tool = one["tool"]
    how = [] if tool["name"] in ("", "none") else [tool["name"]]
    speed = one["speed_rpm"]
    if speed is not None:
        how.append(numbers.spindle_speed(speed))
        how += numbers.set_feed(one["feed_mm_per_rev"], (one["cut"] or {}).get("shape"))
    how += numbers.cuts(one["cuts"], one["depth_mm"])
    if one["coolant"] not in ("", "dry"):
        how.append(one["coolant"])
    if not tool["owned"]:
        how.append(f"not in the shop: {tool['instead'] or 'borrow one'}")
    readings = tuple(
        Reading(
            f"{m['what']}, {m['with']['name']}" + (f" ({m['how']})" if m["how"] else ""),
            bool(m["blank"]) and m["low_mm"] is not None,
        )
        for m in one["measure"]
    )
    return Doing(
        one["number"],
        one["kind"],
        one["text"],
        "; ".join(how),
        one["place"],
        readings,
        one["note"],
        one["caution"],
        speed,
        tool["name"],
    )


def _old(rows: Sequence[Record], numbers: Numbers) -> Held:
    first = rows[0]
    doings = []
    for row in rows:
        speed = row["speed_rpm"]
        tool = row["tool"] + (f"; {numbers.spindle_speed(speed)}" if speed is not None else "")
        measure = f"{row['measure']}, {row['gauge']}".strip(", ") if row["measure"] else ""
        figure = ":" not in row["measure"] and any(map(str.isdigit, row["measure"]))
        doings.append(
            Doing(
                row["number"],
                row["kind"],
                row["text"],
                tool,
                row["place"],
                (Reading(measure, figure),) if measure else (),
                row["note"],
                row["caution"],
                speed,
                row["tool"],
            )
        )
    piece = "" if first["piece"] == first["part"] else first["piece"]
    return Held(
        first["setup"],
        first["part"],
        piece,
        first["stage"],
        first["machine"],
        first["holding"],
        (),
        "",
        tuple(doings),
    )


def blocks(
    setups: Sequence[Held], shop: Shop, bodies: Callable[[Held], Sequence[Body]] = lambda _: ()
) -> Iterator[Block]:
    """The set-ups in order, with a sketch where the record says enough of how, and their steps.

    bodies: of the work of a set-up, as it is drawn.
    """
    for one in setups:
        title = f"Set-up {one.number}: {one.piece + ', ' if one.piece else ''}{one.machine}"
        held = lines((one.stage and f"When: {one.stage}", f"Held: {one.holding}"))
        aligned = tuple(Line(f"Set {words}", "reading") for words in one.align)
        care = (Line(one.caution, "caution"),) if one.caution else ()
        picture = sketched(one.hold, one.cuts, shop, title, bodies(one)) if one.hold else None
        yield SetUp(title, (*held, *aligned, *care), picture)
        for doing in one.doings:
            yield step(doing)


def step(doing: Doing) -> Step:
    """One operation with its box, its tool, its place, and blanks for what is measured."""
    under = [*lines((doing.tool,))]
    under += lines((doing.place and f"Place: {doing.place}",))
    for one in doing.readings:
        words = f"Measure {one.words}"
        under.append(Line(words, "reading") if one.blank else Line(words))
    under += lines((doing.note,))
    under += [Line(doing.caution, "caution")] if doing.caution else []
    return Step(str(doing.number), doing.words, tuple(under))
