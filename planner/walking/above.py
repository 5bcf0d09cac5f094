"""Whether a cutter in a spindle comes to work that stands still. Imported by planner.walking.reach."""

from __future__ import annotations

from parts.standard.holding import centre_drill_out_mm, drill_out_mm, holding_limit, tap_out_mm
from planner.walking.counterbored import TAKEN_MM, WIDE_CHUCK_MM, chuck_mm, stands_out_mm
from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.records import direction, number, table
from planner.walking.shape import Block, Line, even

CHUCK_MM = 16.0
"""Half of what a drill chuck is wide that takes drills up to 10 mm (common practice: 32 to 34)."""

WRENCH_MM = 9.0
"""And half of what a T-handled tap wrench is (common practice: 18 across for M3 to M6)."""

LARGEST_T_MM, BAR_MM = 12.7, 100.0
"""Thicker taps than the first are turned by a bar wrench, which sweeps so far from the tap's axis
(common practice: a wrench for taps of M16 is 200 to 300 mm long)."""

STEP_MM = 8.0
"""Metal beside a hole is looked for at circles no farther apart."""

NOSE_MM, CHUCK_LONG_MM, WIDE_CHUCK_LONG_MM = 35.0, 75.0, 95.0
"""Half of what a quill, or a spindle's nose, is wide, and how long a chuck of 10 mm and one of 13 mm
are (common practice: quills of 60 to 85; chucks of 70 to 75 and 90 to 95)."""

HEIGHTS_MM = (2.0, 5.0, *range(10, 70, 10), *range(80, 320, 20))
"""So far over a hole metal beside it is looked for."""

OFF_FACE_MM = 0.05
"""And so much lower: an end face is in no doubt there."""

FEED_MM = 60.0
"""A drill and its chuck come in over so long a way."""


def from_the_spindle(do: Doing, axis: Line) -> None:
    """The tool turns with the spindle, the work stands on the slide, the cut on the spindle's line."""
    cut = do.cut
    if cut.line is not None and not cut.line.same(axis):
        do.faults.refuse(
            "route-off-line",
            "the cut is about another line",
            "than the one that lies on the spindle's",
            "Set the work so that this line is in line with the spindle",
        )


def under_tool(do: Doing, held: Fixed) -> None:
    """A cutter from above: straight down a hole, onto a face that is open to it, above the jaws."""
    assert held.up is not None
    along, sign = held.up
    cut, faults, metal = do.cut, do.faults, do.piece.metal
    if cut.shape in ("hole", "bore") and cut.line is not None:
        if cut.line.along != along or (cut.shape == "hole" and cut.line.sign != -sign):
            faults.refuse(
                "route-tool-reach",
                "the hole does not run straight down",
                "the spindle comes from above",
                "Set the work with this hole upright",
            )
            return
        top = cut.high if sign > 0 else cut.low
        steps = [top + sign * s for s in (0.3, 2.0, 8.0, 20.0, FEED_MM)]
        radius = max(cut.radius - 0.3, cut.radius * 0.6)
        if metal.has(cut.line.cloud(steps, [0.05, radius], 12)).any():
            faults.refuse(
                "route-tool-reach",
                "metal stands over the hole",
                "the tool cannot come to it",
                "Drill it before, or from the other side",
            )
        else:
            _chuck_clear(do, cut.line, top, sign)
        return
    if cut.shape == "thread" and cut.inside and cut.line is not None and cut.line.along == along:
        _chuck_clear(do, cut.line, cut.high if sign > 0 else cut.low, sign)
    for region in cut.regions:
        if isinstance(region, Block):
            _box_under_tool(do, held, region)
            _flutes(do, along, region)


def _chuck_clear(do: Doing, line: Line, top: float, sign: int) -> None:
    """What stands beside a hole, the chuck or the wrench goes over: the tool is as long as that."""
    cut = do.cut
    size = 2 * cut.radius if do.kind == "tap" else number(do.tool, "diameter_mm")
    wide = WIDE_CHUCK_MM if size > TAKEN_MM + 0.01 else CHUCK_MM
    if do.kind == "tap":
        wide = BAR_MM if size > LARGEST_T_MM else WRENCH_MM
    if do.kind == "counterbore":
        wide = chuck_mm(do)
    stands = _stands(do, line, top, sign, wide)
    long = "long" in str(do.tool.get("name"))
    out = tap_out_mm(size) if do.kind == "tap" else drill_out_mm(size, long)
    if "lengthened" in str(do.tool.get("name")) and do.tool.get("owned") is False:
        out = number(do.tool, "reach_mm")  # made for this hole
    if do.tool.get("kind") == "centre drill":
        said = min(float(do.tool.get("reach_mm") or 0.0), drill_out_mm(size, long))
        out = said if long else centre_drill_out_mm(size)
    if do.kind == "tap" and long:
        out = max(out, float(do.tool.get("reach_mm") or 0.0))
    if do.kind == "counterbore":
        out = stands_out_mm(do)
    wanted = stands + cut.high - cut.low
    if do.kind != "tap":  # a wrench has no spindle over it
        long_mm = WIDE_CHUCK_LONG_MM if wide >= WIDE_CHUCK_MM else CHUCK_LONG_MM
        nose = _stands(do, line, top, sign, max(wide, NOSE_MM)) - long_mm
        if nose > 0 and nose + cut.high - cut.low > max(wanted if stands else 0.0, out) + 0.5:
            do.faults.refuse(
                "route-tool-reach",
                f"the spindle's nose comes {do.faults.mm(nose + cut.high - cut.low - out)} into what"
                " stands beside",
                f"{do.tool.get('name')} stands {do.faults.mm(out)} out of a chuck that is"
                f" {do.faults.mm(long_mm)} long",
                "Take a long one, or come from the other side",
            )
            return
    if stands and wanted > out + 0.5:
        do.faults.refuse(
            "route-tool-reach",
            f"{do.faults.mm(wanted)} from under what stands beside to the bottom",
            f"{do.tool.get('name')} stands {do.faults.mm(out)} out of its chuck or wrench",
            "Take a long one, or come from the other side",
        )


def _stands(do: Doing, line: Line, top: float, sign: int, wide: float) -> float:
    """How high metal stands over a hole's mouth, nearer to its axis than ``wide``, mm, or 0."""
    near, far = do.cut.radius + 2.0, max(wide, do.cut.radius + 2.0)
    radii = list(even(near, far, max(3, int((far - near) / STEP_MM) + 2)))
    over = line.cloud([top + sign * (height - OFF_FACE_MM) for height in HEIGHTS_MM], radii, 24)
    there = do.piece.metal.has(over).reshape(len(HEIGHTS_MM), -1)
    return max((mm for mm, here in zip(HEIGHTS_MM, there, strict=True) if here.any()), default=0.0)


def _flutes(do: Doing, along: int, block: Block) -> None:
    """An end mill cuts no deeper than its flutes are long, nor than it stays stiff."""
    name = str(do.tool.get("name"))
    if "end mill" not in name:
        return
    if name.startswith("long") and do.tool.get("owned") is True:
        do.faults.refuse(
            "route-tool-missing",
            name,
            "the shop's end mills are of the short series",
            "Say that it is to be bought, or set the work so that the cut is shallow",
        )
    ends = (do.piece.metal.end(along, -1), do.piece.metal.end(along, 1))
    if ends[0] is None or ends[1] is None:
        return
    deep = min(block.high[along], ends[1]) - max(block.low[along], ends[0])
    most = holding_limit("tool", "milling cutter") * number(do.tool, "diameter_mm")
    said = do.tool.get("reach_mm")
    if said is not None:
        most = min(most, float(said))
    if deep > most + 0.1:
        do.faults.refuse(
            "route-tool-reach",
            f"{do.faults.mm(deep)} deep with {do.tool.get('name')}",
            f"its flutes are {do.faults.most(most)} long",
            "Take a longer one, or set the work so that the cut is shallow",
        )


def _box_under_tool(do: Doing, held: Fixed, block: Block) -> None:
    assert held.up is not None
    along, sign = held.up
    edges = (block.low[along], block.high[along])
    for across, jaws, _low, high in held.jaws:
        below = edges[0] < high - 0.02 if sign > 0 else edges[1] > _low + 0.02
        beyond = block.low[across] < jaws[0] - 0.05 or block.high[across] > jaws[1] + 0.05
        inside = block.high[across] > jaws[0] and block.low[across] < jaws[1]
        if below and beyond and inside:
            do.faults.refuse(
                "route-cut-in-grip",
                "the cut goes below the jaws' tops",
                f"tops at {do.faults.mm(high)}",
                "Set the work higher",
            )
    if _open(do, block, along, sign):
        return
    opened = table(do.operation, "cut").get("open") or ()
    for word in opened:
        way = direction(word, "cut.open")
        if _open(do, block, *way):
            return
    if do.cut.shape == "flat" and any(
        _open(do, block, i, s) for i in range(3) if i != along for s in (-1, 1)
    ):
        return
    do.faults.refuse(
        "route-tool-reach",
        "the cut is open to the tool from no side said",
        "metal stands before it",
        "Set the work with this face to the tool",
    )


def _open(do: Doing, block: Block, along: int, sign: int) -> bool:
    """Whether nothing stands before a box in a direction."""
    j, k = (i for i in range(3) if i != along)
    metal = do.piece.metal
    low, high = metal.box
    edge = block.high[along] if sign > 0 else block.low[along]
    end = high[along] if sign > 0 else low[along]
    if (end - edge) * sign <= 0.05:
        return True
    cloud = []
    for a in (0.1, 0.5, 0.9):
        for b in (0.1, 0.5, 0.9):
            point = [0.0, 0.0, 0.0]
            for i, s in ((j, a), (k, b)):
                lo, hi = max(block.low[i], low[i]), min(block.high[i], high[i])
                point[i] = lo + (hi - lo) * s
            for step in (0.1, 0.3, 0.6, 0.95):
                point[along] = edge + (end - edge) * step
                cloud.append((point[0], point[1], point[2]))
    return not any(metal.at(*cloud))
