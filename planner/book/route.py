"""A route read from its records (``pommel route --json``), and its set-ups as blocks of the book.

read_route alone knows the records: those that say set-ups, operations and readings apart, and the one
table of operations of before. Imported by planner.output.book.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby
from math import pi
from typing import Any

from msgspec.structs import replace

from parts.value import Value
from planner.book.bodies import Body
from planner.book.model import Block, Line, SetUp, Step, lines, page_of
from planner.book.sketch import Shop, sketched
from planner.words.numbers import Numbers

Record = Mapping[str, Any]

GATHERED = "assemble"
"""The kind of operation whose set-up is of the whole, whatever part it is listed under; a check alone
may be of one part, back from a welder."""


ENGRAVED = "dial-engraving table"
"""What a step calls the table of the dial's lines, which stands in a chapter of its own."""

FIRST = "Ball: knob, the first"
"""The chapter of the ball that is turned as a step of the route."""

AT_MOST = "at most "
"""How a measure begins that has a limit but none in mm: so many divisions."""

HEADING = 110
"""So many letters are a heading; a step of more goes on below it."""


class Reading(Value, frozen=True):
    """What is to be measured, with what; blank: a figure is written down beside it."""

    words: str
    blank: bool


class Doing(Value, frozen=True):
    """One operation. tool: it and how it cuts, in words. swung: it is turned with the attachment.
    surface_m_min: how fast its edge or the work's skin runs, m/min, None where that is not known."""

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
    swung: bool = False
    surface_m_min: float | None = None


class Held(Value, frozen=True):
    """One set-up with its operations. piece: "" for the whole part; hold, cuts: their records, None and
    nothing where they say none. with_parts: the parts it is mounted with; rods: through
    which hole of its own one of what size lines them up. before: what was cut from the same piece in
    earlier set-ups."""

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
    with_parts: tuple[str, ...] = ()
    rods: tuple[tuple[str, float], ...] = ()
    before: tuple[Record, ...] = ()

    @property
    def of_the_whole(self) -> bool:
        """Whether the finished parts are put together in it."""
        return any(one.kind == GATHERED for one in self.doings)


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
    found: list[Held] = []
    cut: dict[tuple[str, str], tuple[Record, ...]] = {}
    for one in record["setups"]:
        held = _new(one, of.get(one["number"], []), numbers)
        whose = held.part, held.piece
        found.append(replace(held, before=cut.get(whose, ())))
        cut[whose] = (*cut.get(whose, ()), *held.cuts)
    return tuple(found)


def _new(setup: Record, operations: Sequence[Record], numbers: Numbers) -> Held:
    align = tuple(
        f"{one['what']}, by {one['by']}, within {numbers.within(one['within_mm'])}"
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
        tuple(_cut(one) for one in operations if one["cut"]),
        tuple(setup["with_parts"]),
        tuple(
            (one["surface"].rpartition(".")[0], one["against"]["size_mm"])
            for one in setup["align"]
            if (one.get("against") or {}).get("size_mm")
        ),
    )


def _cut(one: Record) -> Record:
    """What an operation cuts, with its tool, its kind, its feature, the size that it comes to and the
    faces that it is measured on."""
    sizes = [(m["low_mm"], m["high_mm"]) for m in one["measure"] if m["low_mm"] is not None]
    size = sum(sizes[0]) / 2 if sizes else None
    more = {
        "tool": one["tool"],
        "op": one["kind"],
        "feature": one.get("feature", ""),
        "size_mm": size,
        "faces": [str(m.get("from", "")) for m in one["measure"]],
    }
    found: Record = one["cut"] | more
    return found


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
            bool(m["blank"]) and (m["low_mm"] is not None or m["what"].startswith(AT_MOST)),
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
        tool.get("kind") == "attachment",
        _surface_m_min(one),
    )


def _surface_m_min(one: Record) -> float | None:
    """v = pi d n, of turned work where it is widest, of a bore as it comes out, else of the tool."""
    rpm, cut = one["speed_rpm"], one["cut"] or {}
    wide = {
        "turn": cut.get("before_mm"),
        "face": cut.get("diameter_mm"),
        "thread": cut.get("diameter_mm"),
        "bore": cut.get("after_mm"),
    }.get(str(cut.get("shape")), one["tool"].get("diameter_mm"))
    return pi * wide * rpm / 1000 if rpm and wide else None


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
    setups: Sequence[Held],
    shop: Shop,
    bodies: Callable[[Held], Sequence[Body]] = lambda _: (),
    said: set[str] | None = None,
) -> Iterator[Block]:
    """The set-ups in order, with a sketch where the record says enough of how, and their steps.

    A caution stands once in a set-up; one of burrs once in all, and where it is not in said already.
    bodies: of the work of a set-up, as it is drawn.
    """
    burrs: set[str] = set() if said is None else said
    for one in setups:
        here: set[str] = set()
        title = f"Set-up {one.number}: {one.piece + ', ' if one.piece else ''}{one.machine}"
        held = lines((one.stage and f"When: {one.stage}", f"Held: {one.holding}"))
        aligned = tuple(Line(f"Set {words}", "reading") for words in one.align)
        care = (Line(one.caution, "caution"),) if one.caution else ()
        picture = (
            sketched(one.hold, one.cuts, shop, title, bodies(one), one.before) if one.hold else None
        )
        yield SetUp(title, (*held, *aligned, *care), picture)
        for doing in one.doings:
            told = burrs if doing.kind == "deburr" else here
            yield step(replace(doing, caution="") if doing.caution in told else doing)
            told.add(doing.caution)


def step(doing: Doing) -> Step:
    """One operation with its box, its tool, its place, and blanks for what is measured."""
    title, more = headed(
        doing.words.replace(ENGRAVED, f"{ENGRAVED} ({page_of('Dividing the dial')})")
    )
    under = [*lines((more, doing.tool))]
    under += lines((doing.place and f"Place: {doing.place}",))
    for one in doing.readings:
        words = f"Measure {one.words}"
        under.append(Line(words, "reading") if one.blank else Line(words))
    if doing.swung:
        under.append(Line(f"How it is set, its passes and readings: {page_of(FIRST)}"))
    under += lines((doing.note,))
    under += [Line(doing.caution, "caution")] if doing.caution else []
    return Step(str(doing.number), title, tuple(under))


def headed(words: str) -> tuple[str, str]:
    """A step's words as a heading and what goes on below it, "" where they are short enough."""
    if len(words) <= HEADING:
        return words, ""
    ends = [at for mark in (": ", "; ", ". ") if (at := words.find(mark)) >= 0]
    return (words[: min(ends)], words[min(ends) + 2 :]) if ends else (words, "")
