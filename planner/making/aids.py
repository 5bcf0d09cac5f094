"""Aids made in the shop: bars, gauges, plugs, stubs, bushes, V-blocks, mandrels, sized from the set-ups
that need them and of a bar that the shop lists.

Imported by making.route and by stock.aidpieces. Each is made before the first set-up that uses it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from parts import features as f
from parts.sizes import Sizes
from parts.standard.holding import drill_out_mm
from parts.standard.materials import material
from parts.standard.sections import Section, standard_sections
from parts.standard.threads import thread
from parts.value import Value
from planner.making import tacking, veeblocks
from planner.making.chucked import BUSH_MM
from planner.making.holding import SHORTEST_GRIP_MM, SOFT_JAWS, deepest_mm, parting_mm
from planner.making.model import Grip, SetUp
from planner.making.near import below
from planner.making.plugs import plugs
from planner.making.ways import bars
from planner.making.ways.counterbored import BAR, FLAT_MADE, PILOT_LONG
from planner.making.ways.screwed import GAUGE_NUT, OFFCUT
from planner.making.ways.spotted import ROD
from planner.making.ways.sunk import FLAT
from planner.making.workshop import Workshop

NEAR_MM = 10.0
"""A listed bar so much thicker than an aid wants still serves: more is turned to chips (common
practice)."""

STEM_MM = {False: 8.0, True: 9.525}
"""Stem of a dial indicator, metric and inch: 8 mm (ISO 463), 3/8 in (common practice)."""

BIT_ROOM_MM = 2.0
"""Where a gauge sits astride the bar the hole is so much wider than a bit that comes up into it (common
practice)."""

ROD_OUT_MM = 25.0
"""A rod through two parts stands out of the thicker so far, through the other and to pull it by (common
practice)."""

LONG_CENTRE_MM = {False: 12.0, True: 12.7}
"""How thick a long centre is, metric and inch: what a small drill chuck takes (common practice)."""

IN_THE_CHUCK_MM = 25.0
"""So much of it is in the drill chuck (common practice)."""

SHORTER_MM = 1.0
"""And of what a washer draws against its shoulder it ends so far inside (common practice)."""

SLENDER = 4.0
"""A stub stands out of the chuck no more times its thickness (common practice)."""

SEAT_MM = 3.0
"""Behind what is bored, soft jaws keep a step so high all round for the work to seat on (common
practice)."""

PLUG_LONG_MM = 10.0
"""They are closed on a plug so long (common practice)."""

SUNK_MM = 1.0
"""Work that stands so much less out of a bush than it was meant to can still be faced (common practice:
1 mm is faced off, and it stands out by 2.5)."""

OFF_MM = 1.0
"""What is turned all along is of a bar so much thicker at the least (common practice)."""

HSS = "HSS"

STEELS = ("mild steel", "medium carbon steel", "alloy steel", "tool steel")
"""What a bar, a mandrel or a gauge is hard enough in, and does not seize in stainless steel."""


class Aid(Value, frozen=True):
    """One aid: what it is, its size in words, the bar it is of, before which set-up, how it is made.

    length_mm: of the aid itself; grip_mm: what is left to hold it by and parted off. sawn: whether it
    is sawn from bar; a bit of HSS is bought as it is. quantity: how many of it. deep_mm: how deep work
    goes into a bush. drill_mm: of the drill it is made with, where its size is said. size_mm: its size.
    """

    name: str
    size: str
    section: Section
    length_mm: float
    material: str
    setup: int
    made: str
    grip_mm: float = 0.0
    sawn: bool = True
    quantity: int = 1
    deep_mm: float = 0.0
    drill_mm: float = 0.0
    size_mm: float = 0.0

    @property
    def piece(self) -> str:
        """Its name in the cut list, told from others of its kind by its size."""
        return self.name if "Ø" in self.name else f"{self.name}, {self.size}"


def aids(setups: Sequence[SetUp], shop: Workshop, sizes: Sizes | None = None) -> tuple[Aid, ...]:
    """The aids of all set-ups, each once, at its first use, as long as the longest that is wanted.

    sizes: of the attachment, by which its tool post lies beside it.
    """
    found: dict[tuple[str, str], Aid] = {}
    for number, one in enumerate(setups, 1):
        for aid in _Aids(number, one, shop, sizes).all():
            known = found.setdefault((aid.name, aid.size), aid)
            if below(known.section.width_mm, aid.section.width_mm):  # for a thicker bar as well
                known = replace(known, section=aid.section, material=aid.material, made=aid.made)
            if aid.deep_mm:
                known = _bored_on(known, aid, shop)
            longest = max(known.length_mm, aid.length_mm)
            found[aid.name, aid.size] = replace(known, length_mm=longest)
    return tuple(veeblocks.one_pair(list(found.values())))


def _bored_on(bush: Aid, later: Aid, shop: Workshop) -> Aid:
    """A split bush that serves again: its step is bored deeper for what is gripped by more; what is
    gripped by less stands on a washer, or it would sink into the bush."""
    deep = shop.numbers.rule(later.deep_mm)
    if later.deep_mm > bush.deep_mm + SUNK_MM:
        made = f"{bush.made}; bored on to {deep} deep for set-up {later.setup}"
        return replace(bush, made=made, deep_mm=later.deep_mm)
    if later.deep_mm < bush.deep_mm - SUNK_MM:
        thick = shop.numbers.rule(bush.deep_mm - later.deep_mm)
        washer = f"a washer of {thick}, its faces parallel, on the step"
        return replace(bush, made=f"{bush.made}; for set-up {later.setup} {washer}")
    return bush


class _Aids:
    """The aids of one set-up."""

    def __init__(self, number: int, setup: SetUp, shop: Workshop, sizes: Sizes | None) -> None:
        self.number, self.setup, self.shop, self.numbers = number, setup, shop, shop.numbers
        self.sizes = sizes
        self.steel = shop.job.materials.shaft
        if material(self.steel).group not in STEELS:  # too soft for a bar, or it seizes on its like
            self.steel = "1018" if shop.inch else "S235"

    def all(self) -> Iterator[Aid]:
        """Those of its tools, of its grips, and of what is welded or measured in it."""
        yield from self._tools()
        yield from self._grips()
        yield from self._vees()
        yield from self._rods()
        yield from self._nuts()
        yield from self._plugs()
        yield from self._tacking()

    def _aid(self, name: str, size_mm: float, width_mm: float, long_mm: float, made: str,
             shape: str = "round", grip: bool = True, quantity: int = 1) -> Aid:  # fmt: skip
        up, spare = self.shop.job.series.up, 0.0
        if grip:
            spare = self.shop.job.series.nominal(SHORTEST_GRIP_MM) + parting_mm(
                self.shop.job.series
            )
        section, metal = bar(shape, width_mm, self.steel, self.shop)
        size = self.numbers.size(size_mm)
        return Aid(name, size, section, up(long_mm, 1.0), metal, self.number, made, spare, True,
                   quantity, size_mm=size_mm)  # fmt: skip

    def _bit(self, name: str, across_mm: float, long_mm: float, made: str) -> Aid:
        section = Section("square" if name == "bit for the fly cutter" else "round", across_mm)
        return Aid(name, self.numbers.tool(across_mm), section, long_mm, HSS, self.number, sawn=False,
                   made=made + self.shop.ground("bits made first"), size_mm=across_mm)  # fmt: skip

    def _tools(self) -> Iterator[Aid]:
        series = self.shop.job.series
        for op in self.setup.ops:
            tool = op.tool
            if tool.kind == "boring bar between centres" and tool.diameter_mm and tool.reach_mm:
                wide, name = tool.diameter_mm, tool.name.split(",")[0]
                bit = bars.bit_mm(wide, series)
                said, taken = self.numbers.size(bit), bars.CENTRED_MM + bars.CARRIER_MM
                bar_ = self._aid(
                    name, wide, wide + 2, tool.reach_mm,
                    f"centred at both ends, turned true between centres; a cross hole for a {said} bit"
                    f" {self.numbers.size(tool.bit_at_mm or 0.0)} from the carrier's end, a screw on"
                    " it; a flat for the carrier within"
                    f" {self.numbers.size(series.whole_up(taken))} of that end; the bit is set by a"
                    " micrometer over the bar: half of bar and bore",
                    grip=False,
                )  # fmt: skip
                yield replace(bar_, drill_mm=bit)
                long = bars.bit_long_mm(self.setup.ops, op, series)
                cutter = self._bit(f"bit for the {name}", bit, long,
                                   "ground to a boring tool's edge, no longer: its back stays within"
                                   " the bar, where the micrometer goes")  # fmt: skip
                yield replace(cutter, size=f"{cutter.size}, {self.numbers.size(long)} long")
                if self.shop.job.shop.measuring.dial_indicator:
                    yield self._setting_gauge(wide, bit)
            if tool.centre_out_mm:
                wide = LONG_CENTRE_MM[self.shop.inch]
                yield self._aid(
                    "long centre", wide, wide + OFF_MM, tool.centre_out_mm + IN_THE_CHUCK_MM,
                    bars.centre_made(self.shop, wide, IN_THE_CHUCK_MM), grip=False,
                )  # fmt: skip
            if tool.name.startswith(BAR) and tool.width_mm and tool.diameter_mm and tool.reach_mm:
                wide, bit = tool.width_mm, bars.bit_mm(tool.width_mm, series)
                name = tool.name.split(",")[0]
                ends = self.numbers.size(series.up(PILOT_LONG * wide, 1.0))
                bar_ = self._aid(
                    name, wide, wide + OFF_MM, tool.reach_mm + IN_THE_CHUCK_MM + PILOT_LONG * wide,
                    f"turned to slide in the hole as drilled; {ends} from its end a cross hole for a"
                    f" {self.numbers.size(bit)} bit, a screw on it"
                    + bars.down_for_chuck(self.shop, wide, IN_THE_CHUCK_MM, "its other end"),
                    grip=False)  # fmt: skip
                yield replace(bar_, drill_mm=bit)
                yield self._bit(f"bit for the {name}", bit, series.up(tool.diameter_mm + 1, 1.0),
                                f"both its edges ground square to the bar, equal, to"
                                f" {self.numbers.size(tool.diameter_mm)} across")  # fmt: skip
            if tool.kind == "facing cutter" and tool.diameter_mm and tool.width_mm and op.speed:
                far = next((o.tool for o in self.setup.ops
                            if o.kind == "deburr" and o.tool.kind == tool.kind), None)  # fmt: skip
                other, wide_mm = "", far.diameter_mm if far else None
                if wide_mm:
                    short = below(wide_mm, tool.diameter_mm)
                    other = f" and {self.numbers.size(wide_mm)} across" if short else ""
                    other = f"; a second one, ground the other way round{other}, for the far mouth"
                yield self._bit("facing cutter for the bar", bars.bit_mm(tool.width_mm, series),
                                tool.diameter_mm,
                                "a bit through the bar's cross hole, longer than the face is wide, its"
                                f" edge ground square to the bar{other}")  # fmt: skip
            if tool.name.startswith(FLAT) and tool.diameter_mm:
                across = tool.diameter_mm
                yield self._bit(tool.name, across, drill_out_mm(across), FLAT_MADE)
            if tool.kind == "fly cutter":
                yield self._aid("fly cutter", tool.diameter_mm or 0.0, 25.0, 60.0, grip=False, made=
                                "a stub held in the chuck, a cross hole for a bit at 45 degrees to its"
                                " face, a screw on it")  # fmt: skip
                yield self._bit("bit for the fly cutter", series.nominal(6.0), series.nominal(60.0),
                                "ground to a turning tool's edge")  # fmt: skip

    def _setting_gauge(self, wide_mm: float, bit_mm: float) -> Aid:
        stem, series = STEM_MM[self.shop.inch], self.shop.job.series
        mouth = ""
        if below(stem, bit_mm + OFF_MM):  # else the bit would stand in the hole's mouth
            wide = self.numbers.size(bit_mm + series.nominal(BIT_ROOM_MM))
            mouth = f", its mouth at the vee opened to {wide} for the bit"
        gauge = self._aid(
            "setting gauge for boring bars", stem, max(wide_mm, stem) + 8, 30.0,
            f"a hole of {self.numbers.size(stem)} along it for the indicator's stem{mouth}, a screw on"
            " it from the side; a vee filed across one end, square to the hole, to sit astride the bar:"
            " the indicator on the bit reads how far it is moved, half of what the bore grows",
        )  # fmt: skip
        return replace(gauge, drill_mm=stem)

    def _grips(self) -> Iterator[Aid]:
        hold = self.setup.hold
        for grip in hold.grips:
            if grip.packing == "split bush":
                deep = abs(grip.to_mm - grip.from_mm)
                bush = self._aid(
                    "split bush", grip.size_mm, grip.size_mm + BUSH_MM, deep + 4,
                    f"bored to the work in the chuck it is used in, {self.numbers.rule(deep)} deep,"
                    " with a step at the bottom for the work's end to seat on, marked at jaw one, slit"
                    " on one side",
                )  # fmt: skip
                yield replace(bush, deep_mm=deep)
            if grip.packing == SOFT_JAWS:
                plug = self.shop.job.series.down(grip.size_mm - 2 * SEAT_MM, 1.0)
                yield self._aid(
                    "soft-jaw plug", plug, plug + OFF_MM, PLUG_LONG_MM,
                    "turned true on its rim; the jaws are closed on it at their back, as hard as on the"
                    " work, and bored before it, with a step for the work's end; closed on it again"
                    " whenever they are bored",
                )  # fmt: skip
            if hold.by == "mandrel":
                yield self._stub(grip)
        if hold.by == "mandrel" and not hold.grips:
            yield self._aid(
                "mandrel", 16.0, 16.0, 80.0,
                "turned between centres to the bore as it came out, a tenth of taper over its length",
                grip=False,
            )  # fmt: skip

    def _vees(self) -> Iterator[Aid]:
        """A pair for each round that lies in V-blocks, where the shop has none."""
        for wide in () if self.shop.job.shop.measuring.v_blocks else veeblocks.rounds(self.setup):
            yield self._aid(
                veeblocks.NAME, wide, wide + veeblocks.WIDER_MM, veeblocks.LONG_MM, veeblocks.MADE,
                shape="square", grip=False, quantity=2,
            )  # fmt: skip

    def _rods(self) -> Iterator[Aid]:
        """What goes through a hole of two parts while one is spotted through the other."""
        deep = {f"{o.name}.bore": o.depth_mm for o in self.setup.on.part.features
                if isinstance(o, f.Hole)}  # fmt: skip
        for one in self.setup.align:
            if one.by == ROD:
                yield self._aid(
                    ROD, one.size_mm, one.size_mm + OFF_MM, deep[one.surface] + ROD_OUT_MM,
                    "turned to slide in both holes without shake, its end chamfered",
                )  # fmt: skip

    def _nuts(self) -> Iterator[Aid]:
        """What tries a thread that no nut of a shop has."""
        for op in self.setup.ops:
            tried = any(m.gauge.name == GAUGE_NUT for m in op.measures)
            if tried and isinstance(op.feature, f.Thread):
                size = thread(op.feature.thread)
                said = self.numbers.thread(size.designation)
                drill = f"drilled {self.numbers.drill(self.shop.named_drill(size.tap_drill_mm))}"
                there = self.shop.has_drill(size.tap_drill_mm)
                if not there:
                    bored = self.numbers.plain.worked(size.tap_drill_mm)
                    drill = f"drilled and bored to Ø{bored}"
                aid = self._aid(
                    GAUGE_NUT, size.major_mm, 1.6 * size.major_mm, size.major_mm,
                    f"{OFFCUT}: faced, {drill} and tapped {said} in one chucking, with the"
                    " tap that the mating thread wants", grip=False,
                )  # fmt: skip
                yield replace(aid, size=said, sawn=False,
                              drill_mm=size.tap_drill_mm if there else 0.0)  # fmt: skip

    def _plugs(self) -> Iterator[Aid]:
        """What tries a bore that nothing of the shop reads, one for each pair of limits."""
        for what, wide, long, made in plugs(self.setup):
            aid = self._aid("plug gauge", wide, wide + OFF_MM, long, made, grip=False)
            yield replace(aid, size=what)

    def _stub(self, grip: Grip) -> Aid:
        """What a bore is turned on: a thread for a tapped one, else a spigot."""
        holes = (o for o in self.setup.on.part.features if isinstance(o, f.TappedHole))
        tapped = next((o for o in holes if grip.surface == f"{o.name}.bore"), None)
        if tapped is None:
            deep, series = abs(grip.to_mm - grip.from_mm), self.shop.job.series
            short = self.numbers.size(series.down(deep - SHORTER_MM, 0.5))
            return self._aid(
                "stub mandrel", grip.size_mm, grip.size_mm + 8, max(40.0, deep + IN_THE_CHUCK_MM),
                f"{self._turned_in()} to the bore as it came out, {short} long, less than the work,"
                " its shoulder faced with it; its end drilled and tapped for a screw and a washer that"
                " draw the work against the shoulder", grip=False,
            )  # fmt: skip
        size, deep = thread(tapped.thread), abs(grip.to_mm - grip.from_mm)
        wide, long = size.major_mm + 8, 40.0
        made = "turned and threaded in the chuck it is used in, its shoulder faced with it"
        ball = any(isinstance(op.feature, f.TurnedBall) for op in self.setup.ops)
        if ball and (stub := self.shop.stub):
            wide = max(wide, stub.out_mm / SLENDER)
            thick = bar("round", wide, self.steel, self.shop)[0].width_mm
            long = deep + stub.out_mm + min(IN_THE_CHUCK_MM, deepest_mm(thick, self.shop.job))
            made += (
                f", turned down behind that to {self.numbers.size(stub.seat_mm)} over"
                f" {self.numbers.rule_up(stub.thin_mm)}: the tools come there; so long that"
                f" {self.numbers.rule_up(stub.out_mm)} of it is out of the jaws"
            )
        aid = self._aid("threaded stub", size.major_mm, wide, long, made, grip=False)
        return replace(aid, size=self.numbers.thread(size.designation))

    def _turned_in(self) -> str:
        """In which chuck a stub is turned: on what divides it comes with its chuck."""
        if self.setup.machine == "lathe":
            return "turned in the chuck it is used in"
        by = next((str(op.divided["by"]) for op in self.setup.ops if op.divided), "dividing head")
        return (
            f"turned in a chuck that goes over to the {by} with it, unopened, or trued there by its own"
            " rim under an indicator: turned"
        )

    def _tacking(self) -> Iterator[Aid]:
        """The plug that holds a tube's far end where it is tacked in place on the lathe."""
        if one := tacking.plug(self.setup, self.shop, self.sizes):
            long = self.shop.job.series.nominal(tacking.INSIDE_MM) + one.out_mm
            yield self._aid("tacking plug", one.inside_mm, one.shoulder_mm, long,
                            tacking.made(one, self.shop))  # fmt: skip


def bar(shape: str, width_mm: float, metal: str, shop: Workshop) -> tuple[Section, str]:
    """The bar for an aid and its material: the least that the shop lists and that is wide enough.

    Of the metal before another that the job uses; where none is listed within NEAR_MM the next standard
    one, past the table the size itself.
    """
    stock = shop.job.shop
    others = (shop.job.materials.structure, shop.job.materials.screw)
    uses = (metal, *(one for one in others if material(one).group in STEELS))
    bars = [(one.section, one.material) for one in stock.rack]
    bars += [(one.section, one.material) for one in stock.buy]
    listed = [
        (section, name) for section, name in bars
        if section.shape == shape and name in uses
        and width_mm - 1e-6 <= section.width_mm <= width_mm + NEAR_MM
    ]  # fmt: skip
    if listed:
        return min(listed, key=lambda own: (uses.index(own[1]), own[0].width_mm))
    for section in standard_sections(shape, shop.inch):
        if section.width_mm >= width_mm:
            return section, metal
    return Section(shape, shop.job.series.up(width_mm, 1.0)), metal
