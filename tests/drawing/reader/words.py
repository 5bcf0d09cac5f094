"""What the words of a call-out mean, read as a shop reads them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from . import numbers as n
from .ink import Call, Unreadable

N = n.NUMBER

HALF_LAST_MM = 0.0005 * 25.4 + 1e-6
"""A hole is printed to 0.001 in, and its drill stands beside it."""


@dataclass
class Said:
    """One call-out. count: of how many; kind: of the words; sizes in mm.

    diameter: with its limits; drill: of a tapped hole; named: a drilled
    hole's own; depth, thread_depth; length: along the axis;
    width: of a slot; reference: a diameter of another sheet; origin: what a depth is
    measured from; other: what makes no shape.
    """

    call: Call
    count: int = 1
    kind: str = ""
    diameter: n.Size | None = None
    bore: n.Size | None = None
    reference: n.Size | None = None
    radius: float | None = None
    thread: str = ""
    drill: float | None = None
    named: float | None = None
    depth: float | None = None
    thread_depth: float | None = None
    through: bool = False
    into: str = ""
    origin: str = ""
    length: float | None = None
    width: n.Size | None = None
    face_off: float | None = None
    point: dict[str, float] = field(default_factory=dict)
    other: list[tuple[str, ...]] = field(default_factory=list)

    @property
    def hole(self) -> bool:
        """Whether it is a hole's."""
        return self.through or bool(self.into) or self.depth is not None


def said(call: Call, unit: float) -> Said:
    """What a call-out says. Raises Unreadable for words that mean nothing."""
    out = Said(call)
    for number, line in enumerate(call.lines):
        counted = re.match(r"^(\d+)× (.*)$", line)
        if counted and number == 0:
            out.count, line = int(counted[1]), counted[2]
        try:
            known = _read(out, line, unit)
        except (
            ValueError,
            LookupError,
        ) as wrong:  # a drill that is none, or another than its decimal
            raise Unreadable(f"{line!r} in {call.lines}: {wrong}") from wrong
        if not known:
            raise Unreadable(f"{line!r} in {call.lines}")
    if out.named and (out.diameter is None or abs(out.diameter.value - out.named) > HALF_LAST_MM):
        raise Unreadable(f"another drill than its hole: {call.lines}")
    return out


def _read(out: Said, line: str, unit: float) -> bool:
    sized = n.size(line.removesuffix(" as bought"), unit)
    if sized is not None and sized.sign in ("Ø", "SØ"):
        out.diameter = sized
        out.kind = out.kind or ("ball" if sized.sign == "SØ" else "round")
        return True
    if found := re.match(rf"^\((Ø{N})\)$", line):
        # in brackets: a reference, that another sheet gives (ISO 129-1)
        out.reference, out.kind = n.size(found[1], unit), "reference"
        return True
    if sized is not None and sized.sign == "R":
        out.radius, out.kind = sized.value, "fillet"
        return True
    if found := re.match(rf"^bore (Ø{N}), as bought$", line):
        out.bore = n.size(found[1], unit)
        return True
    if found := n.THREAD.match(line):
        out.thread, out.kind = found["name"], "thread"
        rest = line[found.end() :].strip()
        if length := re.match(rf"^× ({N})$", rest):
            out.length = n.number(length[1]) * unit
            return True
        # of a long name the depth stands on the next line
        return not rest or _deep(out, rest, unit, thread=True)
    if found := re.match(r"^tap drill (.*)$", line):
        out.drill = n.drill_mm(found[1])
        return True
    if found := re.match(rf"^drill (.*), (through|into the .*|{N}(?: ±{N})? deep.*)$", line):
        if out.diameter is None:  # before a thread
            out.drill = n.drill_mm(found[1])
        else:
            out.named = n.drill_mm(found[1])
        return _deep(out, found[2], unit)
    if found := re.match(rf"^straight knurl ({N}) pitch(?: × ({N}))?$", line):
        out.kind = "knurl"
        out.other.append(("knurl", f"{n.number(found[1]) * unit:.4f}"))
        out.length = n.number(found[2]) * unit if found[2] else None
        return True
    if found := re.match(rf"^straight knurl (\d+) teeth per inch(?: × ({N}))?$", line):
        out.kind = "knurl"
        out.other.append(("knurl", f"{25.4 / int(found[1]):.4f}"))
        out.length = n.number(found[2]) * unit if found[2] else None
        return True
    if found := re.match(rf"^({N}) to face off last$", line):
        out.kind, out.face_off = "face", n.number(found[1]) * unit
        return True
    if found := re.match(r"^(slit|slot) (.*) wide$", line):
        out.kind, out.width = "slot", n.size(found[2], unit)
        return out.width is not None
    return (
        _grind(out, line, unit)
        or _aside(out, line, unit)
        or _deep(out, line, unit, thread=bool(out.thread))
    )


def _grind(out: Said, line: str, unit: float) -> bool:
    if found := re.match(rf"^point ({N})° included$", line):
        out.kind = "point"
        out.point["included"] = n.number(found[1])
    elif found := re.match(rf"^({N})° clearance$", line):
        out.point["clearance"] = n.number(found[1])
    elif found := re.match(rf"^nose R({N})$", line):
        out.point["nose"] = n.number(found[1]) * unit
    else:
        return False
    return True


def _aside(out: Said, line: str, unit: float) -> bool:
    """What makes no shape on the solid: kept, so that it can be held against the part."""
    patterns = (
        rf"^(Ra) ({N})$", rf"^(leaves at least) ({N})$", r"^(\d+) (divisions),$",
        r"^(as unrolled)$", rf"^(line) ({N}) long$", rf"^(line all along), ({N}) wide$",
        rf"^({N})° (round from z)$",
    )  # fmt: skip
    for pattern in patterns:
        if found := re.match(pattern, line):
            out.kind = out.kind or "aside"
            scaled = found.groups()
            if pattern[2:4] not in ("Ra", "\\d") and len(scaled) == 2 and "°" not in pattern:
                scaled = (scaled[0], f"{n.number(scaled[1]) * unit:.4f}")
            out.other.append(scaled)
            return True
    return False


def _deep(out: Said, line: str, unit: float, thread: bool = False) -> bool:
    made = re.match(r"^(reamed |bored |counterbored )?(.*)$", line)
    assert made is not None
    rest = made[2]
    if rest == "through":
        out.through = True
        return True
    if rest.startswith("into the "):
        out.into = rest[9:]
        return True
    if found := re.match(rf"^({N})(?: ±{N})? deep(?: from the (.*)'s axis)?$", rest):
        depth = n.number(found[1]) * unit
        if thread:
            out.thread_depth = depth
        else:
            out.depth = depth
        out.origin = found[2] or out.origin
        return True
    return False
