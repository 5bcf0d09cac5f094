"""Slits: a slitting saw on its arbor square to its spindle, or blades in a hacksaw frame.

A round saw that only goes in leaves the ends shallower than the middle: the work is fed past it.
Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts import features as f
from parts.frame import Box
from parts.value import Value
from planner.making import bodies as b
from planner.making import cuts
from planner.making.bodies import Body
from planner.making.callouts import callout
from planner.making.model import Align, Grip, Hold, Line, Op, Tool
from planner.making.near import against, below, face_of, middle, way_of, with_face
from planner.making.setby import sets_true
from planner.making.ways import travels
from planner.making.ways.asked import open_sides, wide
from planner.making.ways.beside import STRAPPED, strapped
from planner.making.ways.blades import IN_CHUCK, SLIT_CAUTION, by_hand
from planner.making.ways.saws import OVER_MM, PAST_MM, WANDERS_MM, Saw, saws, to_buy_mm
from planner.making.ways.slitted import slit_measures
from planner.making.ways.touched import DIALLED, by_side, by_slides

if TYPE_CHECKING:
    from planner.making.across import Across

SPINDLE_MM = 30.0
"""What stands up beside the work farther than this is in the spindle's way (common practice)."""

NUT_MM = 12.0
"""The arbor's screw or nut stands so far past the saw (common practice)."""

NOSE_MM = 5.0
"""The spindle's nose, or the chuck, stays so far off the work (common practice)."""

PAST_EDGE_MM = 2.0
"""What hangs down beside the table stands so far off its edge: chips lie there (common practice)."""

SEAT_MM = 12.0
"""At the table's edge at least so much of a face lies on the table (common practice)."""

SHALLOW_MM = 0.2
"""Packing is first so much under what the lathe's heights ask for: they are not as close as the slit,
and shims let a saw in deeper, nothing lets it out again (common practice)."""


class Way(Value, frozen=True):
    """A slit as a saw sees it: wide along one axis, long along the feed's, open to the saw on a side.

    wide, long: those axes; opens: the open side's axis and sign; own: the body it is in; bottom: where
    the saw's rim comes to; box: what it takes.
    """

    wide: int
    long: int
    opens: tuple[int, int]
    own: Body
    bottom: float
    box: Box

    @property
    def deep_mm(self) -> float:
        """From the open side to where the rim comes to."""
        return abs(self.own.end(*self.opens) - self.bottom)

    @property
    def up(self) -> str:
        """The open side as a direction."""
        return ("-" if self.opens[1] < 0 else "+") + "xyz"[self.opens[0]]


class Held(Value, frozen=True):
    """How a slit is held under a saw: machine, hold, what is set true, how it is fed and set, how far
    the arbor stands out; fed_by: of the lathe's slides, with a milling slide; let_in: whether a saw is
    let in at one end, not fed on to it."""

    machine: str
    hold: Hold
    align: tuple[Align, ...]
    saw: Saw
    out_mm: float
    said: str
    at_once: bool = False
    fed_by: str = ""
    let_in: bool = False


class Slits:
    """Slits of one workpiece, in set-ups of ``work``."""

    def __init__(self, work: Across) -> None:
        self.work, self.shop, self.numbers = work, work.shop, work.numbers

    def make(self, feature: f.Slit) -> None:
        """Add the set-up and the operation of a slit."""
        way = self._way(feature)
        depth = [loc for loc in feature.locations if not loc.element.endswith("middle")]
        owned = [w for w in self.shop.kit.slitting_saws
                 if feature.width.min_mm <= w + WANDERS_MM <= feature.width.max_mm]  # fmt: skip
        measures = slit_measures(self.work, feature, depth)
        held = next(self._holds(feature, way), None) if owned or depth else None
        if held is None and not depth:
            by_hand(self.work, feature, way, measures)
            return
        sent = held is None
        held = held or self._sent(feature, way)
        own = (
            owned and held.saw == saws(self.shop.inch)[0]
        )  # another is bought, of a width that is made
        broad = owned[0] if own else to_buy_mm(feature.width, self.shop.inch)
        tool = self._tool(held, broad, bool(owned), sent)
        setup = self.work.new(held.machine, held.hold, held.align)
        per_turn, numbers = held.saw.feed_mm, self.numbers
        travel = self._travel(way, held.saw, 1 if held.let_in else 2)
        tooth = numbers.fine(per_turn / held.saw.teeth)
        text = (
            f"saw the {feature.name}: {callout(feature, numbers)}; the saw"
            f" {numbers.rule(held.out_mm)} out on its arbor, {held.said}; the work fed"
            f" past it by hand over {numbers.rule(travel)}, against its teeth, {tooth} a tooth"
        )
        text += travels.LET_IN if held.let_in else ""
        if held.machine in DIALLED:
            axis = held.hold.axis
            _, side = way_of(against(axis.along) if axis else held.hold.up or way.up)
            placed = next((o for o in feature.locations if o.element.endswith("middle")), None)
            saw = by_side(numbers, way.own, way.box, way.wide, "the saw's side", side, placed)
            text += f"; {saw}"
        along = "+" + "xyz"[way.long]
        inward = ("+" if way.opens[1] < 0 else "-") + "xyz"[way.opens[0]]
        setup.add(
            Op("slit", text, tool, feature, True,
               cuts.slit(way.box, open_sides(self.work, feature), along, inward, travel, held.fed_by),
               speed=("mill", held.saw.diameter_mm), rate="slit", feed_mm=per_turn, length_mm=travel,
               stock_mm=0.0 if held.at_once else way.deep_mm, measures=measures, note=feature.note,
               caution=(IN_CHUCK if held.machine != "mill" else "") + SLIT_CAUTION)
        )  # fmt: skip

    def _travel(self, way: Way, saw: Saw, ends: int = 2) -> float:
        """How far the work is fed past a saw."""
        long = saw.travel_mm(way.own.size(way.long), way.deep_mm, ends)
        return self.shop.job.series.up(long, 1.0)

    def _tool(self, held: Held, broad_mm: float, owned: bool, sent: bool) -> Tool:
        """The saw with its arbor; noted as lacking where the shop has not that one."""
        saw, numbers = held.saw, self.numbers
        usual = saw == saws(self.shop.inch)[0]
        own = numbers.tool(broad_mm) == numbers.size(
            broad_mm
        )  # else its unit is not the diameter's
        across = (numbers.plain if own else numbers).size(saw.diameter_mm)
        sized = f"slitting saw {across} x {numbers.tool(broad_mm)}"
        name = (
            f"{sized}, about {saw.teeth} teeth, on its arbor, collar {numbers.size(saw.collar_mm)}"
        )
        instead = ""
        if sent:
            instead, more = "have it sawn on a mill, or on a milling slide", ""
            if self.shop.owns("milling slide"):
                more = " of more travel"
            self.shop.lacks(self.work.on.part.name, f"a mill or a milling slide{more} for a slit",
                            instead[0].upper() + instead[1:])  # fmt: skip
        elif not (owned and usual):
            instead = "buy one with an arbor"
            self.shop.lacks(self.work.on.part.name, f"a {sized}", "Buy one with an arbor")
        return Tool("slitting saw", name, saw.diameter_mm, broad_mm, held.out_mm, not instead, instead,
                    teeth=saw.teeth, collar_mm=saw.collar_mm)  # fmt: skip

    # ---- the slit as the saw sees it ----

    def _way(self, feature: f.Slit) -> Way:
        i = "xyz".index(wide(feature.box, feature.width))
        sides = open_sides(self.work, feature)
        own = b.owner(self.work.bodies, middle(feature.box))
        j = max(
            (k for k in range(3) if k != i),
            key=lambda k: (f"+{'xyz'[k]}" in sides and f"-{'xyz'[k]}" in sides, own.size(k)),
        )
        k = 3 - i - j
        sign = 1 if f"+{'xyz'[k]}" in sides else -1
        bottom = face_of(feature.box, k, -sign)
        for wall in self._walls(feature, (i, j, k), sign):
            if sign * (wall - bottom) > PAST_MM:
                bottom = wall - sign * PAST_MM
        return Way(i, j, (k, sign), own, bottom, with_face(feature.box, k, -sign, bottom))

    def _walls(self, feature: f.Slit, axes: tuple[int, int, int], sign: int) -> Iterator[float]:
        """Where the saw breaks through into a bore along its feed."""
        i, j, k = axes
        at = middle(feature.box)
        for one in self.work.on.part.features:
            if isinstance(one, f.ReamedHole | f.Bore) and way_of(one.axis.along)[0] == j:
                off = at[i] - one.axis.origin[i]
                half = one.diameter.min_mm / 2
                if abs(off) + feature.width.max_mm / 2 < half:
                    reach = sqrt(half**2 - (abs(off) + feature.width.max_mm / 2) ** 2)
                    yield one.axis.origin[k] + sign * reach

    def _others(self, way: Way) -> list[Body]:
        return [one for one in self.work.bodies if one is not way.own]

    def _fitting(self, way: Way, most_mm: float | None = None) -> Iterator[Saw]:
        """Saws whose collar clears the work and what stands beside it, the usual one first.

        most_mm: no higher than this may the saw's middle be over the bottom of its cut.
        """
        k, sign = way.opens
        stands = max([0.0, *(sign * (o.end(k, sign) - way.own.end(k, sign))
                             for o in self._others(way))])  # fmt: skip
        for saw in saws(self.shop.inch):
            low = most_mm is None or not below(most_mm, saw.diameter_mm / 2)
            if low and not below(saw.deepest_mm, way.deep_mm + stands):
                yield saw

    # ---- how it is held ----

    def _holds(self, feature: f.Slit, way: Way) -> Iterator[Held]:
        """The ways there are in this shop, the best first."""
        saw = next(self._fitting(way), None)
        if saw is not None:
            for machine in ("mill", "milling slide"):
                if self.shop.owns(machine):
                    yield from self._upright(feature, way, saw, machine)
            if self.shop.owns("mill"):
                yield from self._at_the_edge(way, saw)
            if self.shop.owns("milling slide"):
                for let_in in (False, True):
                    for one in self._fitting(way):
                        yield from self._along_the_bed(way, one, let_in)
        if not self.shop.owns("mill"):
            yield from self._on_the_slide(way)

    def _sent(self, feature: f.Slit, way: Way) -> Held:
        """Where the shop has no way: a mill elsewhere."""
        saw = next(self._fitting(way), saws(self.shop.inch)[0])
        ways = [*self._upright(feature, way, saw, "mill"), *self._at_the_edge(way, saw)]
        if ways:
            return ways[0]
        up = "+" + "xyz"[way.wide]
        hold, align = self.work.on_table(up, way.own)
        return Held("mill", hold, align, saw, self._out(way, 1), "its depth by the table's dial")

    def _out(self, way: Way, side: int) -> float:
        """How far the arbor stands out: the nose stays clear of all that is on its side of the saw."""
        i = way.wide
        ends = [side * (one.end(i, side) - middle(way.box)[i]) for one in self.work.bodies]
        return self.shop.job.series.up(max(*ends, 0.0) + NOSE_MM, 1.0)

    def _upright(self, feature: f.Slit, way: Way, saw: Saw, machine: str) -> Iterator[Held]:
        """In a vice, the slit's width along the spindle, jaws lower than the arbor's nut."""
        centre, i = middle(way.box), way.wide
        for sign in (1, -1):
            up = ("-" if sign < 0 else "+") + "xyz"[i]
            floor = face_of(feature.box, i, -sign) - sign * NUT_MM
            opens = self.shop.vice_opens_mm(machine)
            held = b.vice(self.work.bodies, up, [centre], floor, None, opens)
            if held and not b.towers(self.work.bodies, up, held.body, SPINDLE_MM):
                hold, align = self.work.vice_hold(machine, held, up, centre)
                out, said, fed = self._out(way, sign), "the depth by the table's dial", ""
                if machine != "mill":
                    hung = travels.under(self.work.bodies, way.own, centre, way.long, held.across)
                    deep = way.deep_mm + OVER_MM
                    fed = travels.fed_by(self.shop, self._travel(way, saw), deep, under_mm=hung)
                    if not fed:
                        continue
                    if fed == travels.SLIDE and held.across == way.long:
                        hold = replace(hold, words=hold.words + travels.JAW_DOWN)
                    said, half = by_slides(self.shop.job, fed), saw.diameter_mm / 2
                    below_ = travels.from_below(
                        self.shop, self._others(way), way.opens, way.bottom, half, fed
                    )
                    hold = replace(hold, words=hold.words + below_)
                yield Held(machine, hold, align, saw, out, said, fed_by=fed)

    def _at_the_edge(self, way: Way, saw: Saw) -> Iterator[Held]:
        """On the table at its edge, what is longer hanging down beside it, the slit over the edge."""
        i, (k, sign) = way.wide, way.opens
        for side in (1, -1):
            rise = [side * (o.end(i, side) - way.own.end(i, side)) for o in self._others(way)]
            if max(rise, default=0.0) > SPINDLE_MM:
                continue
            hung = [o for o in self._others(way)
                    if below(side * o.end(i, -side), side * way.own.end(i, -side))]  # fmt: skip
            beyond = [-sign * o.end(k, -sign) + PAST_EDGE_MM for o in hung]
            seat = min([-sign * way.own.end(k, -sign) - far for far in beyond]
                       or [way.own.size(k)])  # fmt: skip
            if seat < SEAT_MM:
                continue
            up = ("-" if side < 0 else "+") + "xyz"[i]
            top, under = way.own.face(i, side), way.own.face(i, -side)
            grip = Grip(top, way.own.size(i), way.own.low(i), way.own.high(i), under)
            names = " and ".join(dict.fromkeys(o.name for o in hung))
            rest = f", the {names} hanging down beside it" if names else ""
            words = (
                f"clamped to the table on the {way.own.name}'s {under.rpartition('.')[2]} face, over"
                f" the table's edge, {self.numbers.rule(self.shop.job.series.down(seat, 1.0))} of it on"
                f" the table{rest}; the side to be slit outward, its length along the edge; strap and"
                " screw clear of the arbor's way"
            )
            what, (by, mm) = "parallel to the table's long travel", sets_true(self.shop.job)
            align = (Align(what, way.own.face(k, sign), by, mm),)
            hold = Hold("clamps on the table", words, (grip,), rests=under, up=up)
            out, said = self._out(way, side), "the depth by the table's dial"
            yield Held("mill", hold, align, saw, out, said)

    def _from_the_headstock(self, way: Way) -> tuple[Line, float, str, str]:
        """The arbor in the chuck: its line to the tailstock, how far out, what points away from it; in
        words, and by name."""
        i = way.wide
        side = min((1, -1), key=lambda s: self._out(way, s))
        line = Line(("-" if side > 0 else "+") + "xyz"[i], middle(way.box))
        away = [o.name for o in self._others(way) if below(way.own.size(i), o.size(i))]
        names = " and ".join(dict.fromkeys(away))
        said = f", the {names} toward the tailstock, which is drawn back" if names else ""
        return line, self._out(way, side), said, names

    def _along_the_bed(self, way: Way, saw: Saw, let_in: bool) -> Iterator[Held]:
        """In a vice on the milling slide, which is turned with its face along the bed."""
        k, sign = way.opens
        tops = [way.bottom, *(o.end(k, -sign) for o in self._others(way))]
        floor = min(tops, key=lambda at: sign * at)
        opens = self.shop.vice_opens_mm("milling slide")
        held = b.vice(self.work.bodies, way.up, [middle(way.box)], floor, way.wide, opens)
        deep = way.deep_mm + OVER_MM
        if held is None or held.body is not way.own:
            return
        feeds = self.work.bodies, way.own
        hung = travels.under(*feeds, middle(way.box), way.long, held.across)
        fed = travels.fed_by(self.shop, self._travel(way, saw), deep, turned=True, under_mm=hung)
        if let_in:
            goes = self._travel(way, saw, 1), deep
            over = travels.stays_over(self.shop, *feeds, way.long, held.across, goes)
            fed = travels.SLIDE if over else ""
        if not fed:
            return
        line, out, away, _ = self._from_the_headstock(way)
        hold, align = self.work.vice_hold("milling slide", held, way.up, middle(way.box))
        words = hold.words.replace(
            "on the milling slide",
            "on the milling slide, its face turned along the bed,",
        )
        words += travels.JAW_DOWN if held.across == way.long else ""
        words += f"; the saw on a stub arbor in the chuck{away}"
        align = tuple(replace(one, what="true to the milling slide's travel") for one in align)
        hold = replace(hold, words=words, axis=line)
        yield Held("milling slide", hold, align, saw, out, by_slides(self.shop.job, fed), fed_by=fed,
                   let_in=let_in)  # fmt: skip

    def _on_the_slide(self, way: Way) -> Iterator[Held]:
        """On packing on the cross slide under the arbor, the open side up, where that is low enough."""
        k, sign = way.opens
        if not b.stands(way.own, self.work.bodies, k, sign):
            return
        over, goes = self.shop.job.lathe.spindle_over_cross_slide, self.shop.kit.cross_travel_mm
        under = abs(way.bottom - way.own.end(k, -sign))
        for saw in self._fitting(way, over - under - SHALLOW_MM):
            if goes is not None and below(goes, self._travel(way, saw)):
                continue
            packing = over - under - saw.diameter_mm / 2
            line, out, said_away, names = self._from_the_headstock(way)
            strap = "low clamps past the arbor's nut"
            away = [o for o in self._others(way) if o.name == names]
            straps = strapped(way.own, away, way.wide, NUT_MM)
            if names:
                card = f", {STRAPPED} above and below" if straps else ""
                strap = f"a strap over the {names}{card}, packed up under it, past the arbor's nut"
            own, j = way.own, way.long
            grip = Grip(own.face(j, -1), own.size(j), own.low(way.wide), own.high(way.wide),
                        own.face(j, 1))  # fmt: skip
            first = packing - SHALLOW_MM
            stands = "on the slide itself"
            if first > 0.05:
                stands = f"on packing of {self.numbers.caliper(first)}"
            words = (
                f"clamped to the cross slide under the arbor, the side to be slit upward, its length"
                f" across the bed, {stands} at first, between stops; {strap}; the saw on a stub"
                f" arbor in the chuck{said_away}"
            )
            hold = Hold("cross slide", words, (grip, *straps), line, rests=own.face(k, -sign),
                        up=way.up)  # fmt: skip
            align = (Align("square to the spindle", own.face(way.wide, 1), "dial indicator", 0.02),)
            said = (
                "the depth by packing and shims: one pass as packed at first, the slit measured, then"
                " shims under the work for what is left, and one more"
            )
            yield Held("lathe, on the cross slide", hold, align, saw, out, said, True)
            return
