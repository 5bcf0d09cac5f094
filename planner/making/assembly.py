"""The attachment put together: what is put on after what, and each fit tried as soon as it can be.

Imported by making.route. Limits are common practice for slides and pivots of this size.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from math import pi

from parts.attachment import Attachment
from parts.features import Stage, TappedHole, TurnedDiameter
from parts.head import wiper_deep_mm
from parts.lever import CLOCKED_DEG, TIGHT_DEG
from parts.part import Bought, Part
from parts.pivot_nut import nut_material
from parts.placed import feed_top_mm
from parts.screw import END_FLOAT_MM
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.making.apart import OILED, apart
from planner.making.gauges import by_eye
from planner.making.model import Gauge, Hold, Measure, Op, SetUp, Tool, Workpiece
from planner.making.workshop import Workshop
from planner.words.bought import several

END_PLAY_MM = (0.01, 0.03)
"""End play of a pivot, by indicator (common practice)."""

RIM_STEP_MM = 0.5
"""So much of a turn is seen at a nut's rim, beside a line over it and what it bears on (common
practice)."""

SCREW_PLAY_MM = 0.1
"""What a feed screw may turn before it moves anything, as travel (common practice)."""


NUT, NUT_THREAD, NUT_RIM = "pivot-nut", "nut thread", "nut rim"
"""What sets the end play, as the parts name it."""

LED_MM = 1.0
"""So far in a rod is in its bore, past the edges that are broken (common practice)."""

KNOB, WITH_ALL = "knob", "attachment"
"""What the handle ends in, and what a feature is made with that is turned with the whole."""

KEYS = Tool("spanner", "hexagon keys, spanners")
"""What bought screws and nuts are turned with."""


def assembly(attachment: Attachment, shop: Workshop) -> list[SetUp]:
    """The set-up at the bench in which all is put together and tried."""
    on = Workpiece(attachment.parts[0], None)
    others = tuple(part.name for part in attachment.parts)
    hold = Hold("hand", "on the bench, the shank in soft jaws of its vice for each trial")
    setup = SetUp(on, Stage.LAST, "bench", hold, with_parts=others, after_parts=others)
    setup.together = True
    setup.add(*_Steps(attachment, shop).every())
    return [setup]


def put_on_after(setups: Iterable[SetUp], attachment: Attachment) -> None:
    """What is turned with the attachment takes its place once it is turned: a step after it."""
    for setup in setups:
        name = setup.on.part.name
        if any(op.feature is not None and op.feature.made_with == WITH_ALL for op in setup.ops):
            own = tuple(one for one in attachment.placed if one.name == name)
            text = f"the nut off the handle's end, the {name} on it, tight by hand on its shoulder"
            tool = Tool("hand", "the hand, card over the ball")
            setup.add(Op("rest", text, tool, minutes=2.0, puts_on=own))


class _Steps:
    """The steps of it, in words of the things that stand there."""

    def __init__(self, attachment: Attachment, shop: Workshop) -> None:
        self.attachment, self.shop, self.numbers = attachment, shop, shop.numbers
        self.count = Counter(one.name for one in attachment.placed)
        self.bought = {one.name: one.item for one in attachment.placed
                       if isinstance(one.item, Bought)}  # fmt: skip
        self.put: set[str] = set()
        self.wet = _wet(shop)
        self.indicator = Gauge("dial indicator", "outside", 0.0, 10.0, 0.002)

    def every(self) -> Iterator[Op]:
        """All of them."""
        yield Op(
            "assemble",
            "wash every part, blow out holes and slits, wipe the bearing surfaces dry: ink does not"
            " take on oil",
            Tool("brush", f"brush, {self.shop.lamp_oil}, clean cloth"),
            minutes=15.0,
            caution="Goggles with compressed air, never toward the skin",
        )
        yield from self._pivot()
        yield from self._swing()
        yield from self._stop()
        yield from self._slide()
        yield from self._feed()
        yield from self._head()
        yield from self._rest()

    def _put(self, text: str, *names: str, tool: Tool = KEYS, minutes: float = 5.0) -> Op:
        """A step in which all things of these names are put on."""
        self.put |= {*names}
        every = tuple(o for name in names for o in self.attachment.placed if o.name == name)
        return Op("assemble", text, tool, minutes=minutes, puts_on=every)

    def _of(self, name: str) -> str:
        """The bought items of a name, in a sentence."""
        return several(self.bought[name], self.count[name], self.numbers.plain)

    def _pivot(self) -> Iterator[Op]:
        pellet, lock = (
            "pellet under the pivot nut's lock screw",
            "locks the pivot's nut, on a brass pellet",
        )
        ink = self._put(
            "the thrust faces inked thinly, the journal slipped into the housing, pressed home and"
            " turned: ink on both all round; else dress the high side by scraper; then wiped clean,"
            f" {self.wet}, and put together again",
            *("rotating-body", "housing"),
            tool=Tool("ink", "marking blue" + ", oil can" * (self.wet == OILED)),
            minutes=15.0,
        )
        ink.measures = (by_eye("ink on three quarters of both faces", "", "eye"),)
        yield ink
        metals = self.shop.job.materials
        own = apart((nut_material(metals.shaft, metals.screw), metals.shaft))
        yield self._put(
            f"the pivot nut over the shaft's end and on its thread{own and f', {own}'}, its bearing"
            f" face to the housing; {self._of(pellet)} dropped through its tapped hole,"
            f" {self._of(lock)} on it, still slack",
            *(NUT, pellet, lock),
            tool=Tool("spanner", "pin spanner, hexagon key"),
        )
        low, high = self._end_play_mm()
        arc = self._rim_step()
        yield Op(
            "check",
            "end play of the pivot, pushed and pulled against an indicator: less, slack the nut by"
            f" {self.numbers.rule(arc)} at its rim, a pencil line over it and the housing; more, draw"
            " it up as much; lock it and try again",
            Tool("nut", "pin spanner"),
            minutes=10.0,
            measures=(
                Measure(
                    f"{self.numbers.plain.micrometer(low)} to {self.numbers.micrometer(high)}",
                    *("runout", low, high, "", ""),
                    self.indicator,
                ),
            ),
            eased={"part": NUT, "thread": NUT_THREAD, "rim": NUT_RIM, "arc_mm": arc},
            tries="end play",
        )

    def _end_play_mm(self) -> tuple[float, float]:
        """The pivot's, least and most: in inches as an indicator there is divided."""
        low, high = (self.shop.job.series.tolerance(one) for one in END_PLAY_MM)
        return low, high

    def _rim_step(self) -> float:
        """How far the nut is turned at its rim at a time, mm: no more than the limits are apart."""
        nut = next(part for part in self.attachment.parts if part.name == NUT)
        (rim,) = (o for o in nut.features if isinstance(o, TurnedDiameter) and o.name == NUT_RIM)
        (own,) = (o for o in nut.features if isinstance(o, TappedHole) and o.name == NUT_THREAD)
        low, high = self._end_play_mm()
        arc = (high - low) * pi * rim.diameter.nominal_mm / thread(own.thread).pitch_mm
        return self.shop.job.series.down(arc, RIM_STEP_MM) or arc

    def _swing(self) -> Iterator[Op]:
        knob = next(part for part in self.attachment.parts if part.name == KNOB)
        later = any(one.made_with == WITH_ALL for one in knob.features)
        ending = (
            "a nut on its other end until the knob is turned"
            if later
            else "the knob on its other end"
        )
        yield self._put(
            f"the handle into its hole through the shaft's end, tight against its shoulder; {ending}",
            *(("handle",) if later else ("handle", KNOB)),
            tool=Tool("hand", "the hand, pliers over card"),
        )
        yield self._put(
            "the drag screw into its hole, not yet down on the journal",
            "drag-screw",
            tool=Tool("hand", "the hand"),
            minutes=2.0,
        )
        yield Op(
            "check",
            "the swing by a spring balance at the handle's end, the drag screw slack: the pivot stood"
            " upright, so that no weight turns it: the shank upright in soft jaws at the vice's end,"
            " the handle on top and clear all round, the shank's end too, or that is filed back; the"
            " same all the way round; a tight place is a burr or a high spot: ink it and ease it",
            Tool("balance", "spring balance"),
            minutes=10.0,
            measures=(by_eye("even all round", "", "spring balance"),),
            tries="swing",
        )

    def _stop(self) -> Iterator[Op]:
        if not self.count["stop-bar"]:
            return
        fixing, nuts, nose, neck = (
            *("holds the stop bar", "locks the stop screws"),
            *("stops the swing at the nose", "stops the swing at the neck"),
        )
        yield self._put(
            f"the stop bar against the shank's end, held by {self._of(fixing)}; into it from above"
            f" {self._of(nose)} at the nose and {self._of(neck)} at the neck, sockets up, each with a"
            f" nut on it ({self._of(nuts)}), set by the bar's sheet on the lathe",
            *("stop-bar", fixing, nuts, nose, neck),
            minutes=10.0,
        )

    def _slide(self) -> Iterator[Op]:
        stud = "clamps the rod, set in the block"
        (placed,) = (one for one in self.attachment.placed if one.name == stud)
        assert isinstance(placed.item, Bought)
        end = placed.frame.origin[2] - placed.item.length_mm
        out = abs(end - self.attachment.sizes.leaf_z_mm)
        yield self._put(
            f"{self._of(stud)} into the block until {self.numbers.rule(out)} of it stands out of the"
            " leaf; thread-locking compound on the thread behind the slit alone; left to set, never"
            " down on the bottom of its hole",
            stud,
            tool=Tool("nuts", "two thin nuts locked on the stud, thread-locking compound"),
        )
        yield Op(
            "check",
            f"the slide before the feed screw is in it: the rod, {self.wet}, in its bore and the foot"
            " on its flat, pushed by hand over the whole travel: no tight place, no shake; tight, ease"
            f" the rod {_eased(self.shop)}; shake that the clamp, nipped for this with its washer and"
            " lever, does not take up, a new rod turned to the bore (no bush: it takes the clamp's"
            " hinge); then lever, washer and head come off again",
            Tool("hand", "the hand"),
            minutes=10.0,
            measures=(by_eye("free over the whole travel", "", "the hand"),),
            tries="slide",
        )

    def _feed(self) -> Iterator[Op]:
        ring, zero = "holds the index ring", "holds the dial"
        behind, nuts = "behind the dial", "feed screw tail, two locked together"
        metals = self.shop.job.materials
        own = apart((metals.screw, metals.structure))
        wet = f"its thread too, {own}" if own else OILED
        yield self._put(
            f"the feed screw, {wet}, through the block from the tip's side, its collar against the"
            f" block; over its journal the index ring, its mark toward the operator on the leaf's side,"
            f" held by {self._of(ring)}, drawn up while the screw still turns freely in the ring",
            *("feed-screw", "index-ring", ring),
            minutes=10.0,
        )
        own = apart((metals.dial, metals.dial))
        yield self._put(
            f"the dial over the journal, its lines toward the index ring{own and f', {own} where it'}"
            f"{own and ' turns on that'};"
            f" {self._of(behind)} and {self._of(nuts)} on the tail, the second locked on the first; the"
            " dial's screw not yet: the nuts could not move it along the journal",
            *("dial", behind, nuts),
        )
        yield Op(
            "check",
            "end float of the feed screw, pushed and pulled against an indicator, both tail nuts"
            " locked: stiff to turn, slack the inner a little; more, draw it up; lock them and try"
            " again",
            Tool("spanner", "two thin spanners"),
            minutes=5.0,
            measures=(
                Measure(
                    f"at most {self.numbers.within(END_FLOAT_MM)}",
                    *("runout", 0.0, self.shop.job.series.tolerance(END_FLOAT_MM), "", ""),
                    self.indicator,
                ),
            ),
            tries="end float",
        )
        yield self._put(
            f"{self._of(zero)} in the dial, nipped; the float must be as before",
            zero,
            tool=Tool("spanner", "hexagon key"),
            minutes=2.0,
        )

    def _head(self) -> Iterator[Op]:
        felt, stud = "wipes the feed thread, oiled", "under the clamp lever"
        yield self._put(
            f"{self._of(felt)}, oiled, in their seats at both mouths of the feed nut thread;"
            f" {self._led_in()} draws the head in, as far as the middle of its travel",
            *(felt, "sliding-head"),
            tool=Tool("hand", "oil can, the hand"),
        )
        attachment = self.shop.job.attachment
        most = max(1.0, SCREW_PLAY_MM / (attachment.screw_pitch / attachment.dial_divisions))
        yield Op(
            "check",
            f"play of the feed screw, by its dial: no more than {most:.0f} divisions before the slide"
            " moves; more, a new nut thread, or take the play up one way and note it by the dial",
            Tool("hand", "the dial"),
            minutes=5.0,
            measures=(by_eye(f"at most {most:.0f} divisions of play", "", "the dial"),),
            tries="screw play",
        )
        yield self._put(
            f"{self._of(stud)} over the stud, the clamp lever on it, the rod in its bore: tight it"
            f" leans {CLOCKED_DEG:g} to {TIGHT_DEG[1]:g} degrees from the rod's line toward the"
            " operator; sooner, rub the washer down as the lever's sheet says; later, a ring cut of"
            " shim under it",
            *(stud, "clamp-lever"),
            tool=Tool("hand", "the hand"),
        )
        yield self._put(
            "the tool bit in its slot, its rake face away from the block,"
            f" {self._of('holds the bit')} on it; how far it stands out is set on the lathe",
            *("tool-bit", "holds the bit"),
        )

    def _led_in(self) -> str:
        """How rod and screw come in: which of them is the first to find its hole."""
        s = self.attachment.sizes
        screw = feed_top_mm(s) - s.block_tip_y_mm - wiper_deep_mm(s)
        if s.rod_length_mm - screw < LED_MM:
            return (
                "the feed screw, which comes before the rod finds its bore, started in its thread"
                f" by the dial, the rod, {self.wet}, held over its bore, the foot on its flat; by the"
                " dial the screw"
            )
        return (
            f"the rod, {self.wet}, into its bore, the foot on its flat, down to the feed screw; by the"
            " dial the screw"
        )

    def _rest(self) -> Iterator[Op]:
        """What has no step of its own above, on what it sits on."""
        for one in self.attachment.placed:
            later = isinstance(one.item, Part) and any(
                feature.made_with == WITH_ALL for feature in one.item.features
            )
            if one.name in self.put or one.seat is None or later:
                continue
            said = (
                f"the {one.item.title.lower()}"
                if isinstance(one.item, Part)
                else self._of(one.name)
            )
            on = next(o.item for o in self.attachment.placed if o.name == one.seat.on)
            where = on.title.lower() if isinstance(on, Part) else on.kind
            yield self._put(f"{said} on the {where}", one.name)


def _wet(shop: Workshop) -> str:
    """What goes between the journal, the rod, the foot and what they run on."""
    metals = shop.job.materials
    pairs = ((metals.structure, metals.structure), (metals.shaft, metals.structure))
    return apart(*pairs) or OILED


def _eased(shop: Workshop) -> str:
    """What a tight rod is eased with: grit that stays in soft metal laps what runs in it."""
    metals = shop.job.materials
    if "aluminium" in (material(metals.structure).group, material(metals.shaft).group):
        return "with a fine file and wash it: no emery, its grit stays in the metal"
    return "with fine emery"
