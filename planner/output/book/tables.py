"""The last chapters: pages for notes, and the tables of speeds, fits and threads that were used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from parts.features import TappedHole, Thread
from parts.part import every_feature
from parts.standard.drills import Drill
from parts.standard.threads import thread
from planner.book.model import Block, Chapter, NewPage, Rows, Ruled
from planner.output.book.pages import Pages, diameter_of


def notes(of: Pages) -> Chapter:
    """A page with lines, one with squares."""
    return Chapter("Notes", (Ruled(), NewPage(), Ruled(squares=True)))


def used(of: Pages) -> Iterator[Chapter]:
    """Speeds, fits and threads, of this job alone."""
    blocks: tuple[Block, ...] = (_speeds(of), _fits(of), _threads(of))
    yield Chapter("Speeds, fits and threads used", blocks)


def _speeds(of: Pages) -> Rows:
    found: dict[tuple[str, str, float], list[int]] = {}
    surface: dict[tuple[str, str, float], list[float]] = {}
    for one in of.route:
        for doing in one.doings:
            if doing.speed_rpm is not None:
                key = (one.machine, doing.tool_name, doing.speed_rpm)
                found.setdefault(key, []).append(doing.number)
                if doing.surface_m_min is not None:
                    surface.setdefault(key, []).append(doing.surface_m_min)
    rows = tuple(
        (
            *key[:2],
            of.numbers.plain.spindle_speed(key[2]),
            _span(of, surface.get(key, ())),
            ", ".join(map(str, steps)),
        )
        for key, steps in sorted(found.items())
    )
    units = of.numbers.spindle_speed_unit, of.numbers.cutting_speed_unit
    return Rows(("machine", "tool", *units, "steps"), rows, "Speeds")


def _span(of: Pages, surface: Sequence[float]) -> str:
    """The surface speeds of a row: one, or from the slowest to the fastest; "" where none is known."""
    said = [of.numbers.plain.cutting_speed(one) for one in sorted(surface)]
    return " to ".join(dict.fromkeys((said[0], said[-1]))) if said else ""


def _fits(of: Pages) -> Rows:
    rows = []
    for part in of.plan.attachment.parts:
        for _, feature in every_feature(part):
            size = diameter_of(feature)
            if size is not None and size.designation and not size.is_plain:
                said = of.numbers.limits(size)
                rows.append((part.title, feature.name, said, of.numbers.between(size)))
    return Rows(("part", "surface", "size", "limits"), tuple(rows), "Fits")


def _threads(of: Pages) -> Rows:
    found: dict[tuple[str, str], dict[str, None]] = {}
    tapped = set()
    for part in of.plan.attachment.parts:
        for _, feature in every_feature(part):
            if isinstance(feature, Thread | TappedHole):
                inside = isinstance(feature, TappedHole)
                name = of.numbers.thread_made(feature.thread, inside)
                if inside:
                    tapped.add((feature.thread, name))
                found.setdefault((feature.thread, name), {}).setdefault(
                    f"{part.title}: {feature.name}"
                )
    rows = []
    for (designation, name), where in found.items():
        one = thread(designation)
        drill = of.numbers.size(one.tap_drill_mm)
        if (designation, name) not in tapped:
            drill = ""
        elif one.tap_drill_name:
            drill = of.numbers.drill(Drill(one.tap_drill_name, one.tap_drill_mm))
        pitch = of.numbers.screw_pitch(one.pitch_mm)
        rows.append((name, pitch, drill, "; ".join(where)))
    return Rows(("thread", "pitch", "tap drill", "where"), tuple(rows), "Threads")
