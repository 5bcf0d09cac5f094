"""A weldment joined: its pieces prepared, tacked, welded, cooled, dressed; and the sheet for a welder.

Defers to the welder, the filler's maker and local rules; what it says is common practice in small
shops. Imported by making.pieces and by the sheet of the route.
"""

from __future__ import annotations

from math import isclose

from parts import features as f
from parts.attachment import Attachment
from parts.features import Stage, Weld
from parts.part import Datum, Joined, Member, Part, members
from parts.standard.materials import material
from planner.making import bodies as b
from planner.making import flame
from planner.making.callouts import callout
from planner.making.fillers import filler_of
from planner.making.gauges import by_eye
from planner.making.model import Align, Hold, Op, SetUp, Tool, Workpiece
from planner.making.pieced import pieced
from planner.making.profile import FINE_MM
from planner.making.sequence import SENT
from planner.making.ways.asked import bevelled
from planner.making.workshop import Workshop

STRIP_MM = 25.0
"""Coatings and oil are taken off so far from a weld (common practice)."""

SQUARE_MM = 0.2
"""What is welded stands square within this over its length (common practice)."""

RETURN = "; return clamp on bright metal of the work itself"
"""Else the current goes through a bearing, or a clamp's screw."""

STAINLESS = "stainless steel"

FUME = (
    ". The fume of stainless steel has chromium(VI) and nickel in it, which cause cancer: drawn off at"
    " the weld, or a respirator, by local rules"
)
"""Opening a door is not enough for it (IARC Monographs 118, from memory)."""

HEATED = "preheat by the steel maker's sheet before the first tack: on cold steel that cracks"
"""A tack is small and cools at once (EN 1011-2 asks the run's own preheat for it; from memory)."""


class Welding:
    """The set-ups that make one weldment."""

    def __init__(self, part: Part, attachment: Attachment, shop: Workshop) -> None:
        assert isinstance(part.blank, Joined)
        self.part, self.blank, self.shop, self.numbers = part, part.blank, shop, shop.numbers
        self.on = Workpiece(part, None)
        self.attachment = attachment

    def plan(self) -> list[SetUp]:
        """Tack and weld, cool, dress."""
        return [self._welded(), *self._dressed()]

    def _welded(self) -> SetUp:
        machine = self.shop.machine("weld")
        body, i, sign = self._laid()
        surface = body.face(i, sign)
        thin = isclose(body.size(i), min(body.size(k) for k in range(3)))
        how = "clamped square on a flat plate, on thin packing" if thin else (
            f"the {body.name} stood on its edge on a flat plate, nothing hanging under it, clamped"
            " to a square block"
        )  # fmt: skip
        words = (
            f"{how}, a block of copper or a turned plug in what must stay open"
            f"{'' if flame.by_flame(self.shop) else RETURN}"
        )
        hold = Hold("flat plate", words, rests=surface)
        align = (Align("square before and after tacking", surface, "square", SQUARE_MM),)
        setup = SetUp(self.on, Stage.JOINING, machine, hold, align=align)
        setup.caution = (
            "Oil, chips and solvents away; screen, mask, leather, ventilation; extinguisher at hand;"
            " look"
            " for fire for half an hour after. By a competent welder to local rules"
        )
        if flame.by_flame(self.shop):
            setup.caution = flame.CAUTION
        if any(material(one.blank.material).group == STAINLESS for one in members(self.part)):
            setup.caution += FUME
        hard = _hardened(self.part)
        slag, chipped = flame.slag(self.shop)
        text = f"tack {self._pairs()} at opposite ends, try square, correct, tack between{slag}"
        setup.add(
            Op("tack", text, Tool("welder", self._process()), minutes=10.0,
               place="; ".join(pieced(self.part, self.numbers)),
               caution="; ".join(filter(None, (chipped, HEATED if hard else ""))))
        )  # fmt: skip
        for weld in self.blank.welds:
            setup.add(self._weld(weld, "xyz"[i] + ("-high" if sign > 0 else "-low")))
        setup.add(
            Op("rest", "let it cool by itself on the plate, not in water; work on another part"
                       " meanwhile",
               Tool("none", "none"), minutes=60.0, caution="Hot: chalk HOT on it")
        )  # fmt: skip
        return setup

    def _weld(self, weld: Weld, down: str) -> Op:
        metals = [m.blank.material for m in self.blank.members if m.name in weld.members]
        caution = ""
        if any(material(metal).weldable == "preheat" for metal in metals):
            caution = "preheat by the steel maker's sheet, cool slowly"
        text = f"{weld.name}: {callout(weld, self.numbers)}, {weld.members[0]} to {weld.members[1]}"
        if weld.edge == down or (weld.all_round and weld.edge[0] != down[0]):
            text += "; tacked, it is turned over for the side that looks to the plate"
        return Op(
            "weld",
            text,
            Tool("welder", self._process()),
            weld,
            True,
            minutes=3 + weld.length_mm / 20,
            note=flame.noted(weld, self.shop),
            caution=caution,
            measures=(
                by_eye(
                    "square, no cracks, no undercut",
                    f"{weld.members[0]}.+x",
                    "square and fillet gauge",
                ),
            ),
        )

    def _dressed(self) -> list[SetUp]:
        scraped = self._scraped()
        bodies = b.bodies_of(self.part, None)
        faces = [surface for _, _, surface in scraped]
        up = faces[0].rpartition(".")[2] if faces else ""
        setup = SetUp(self.on, Stage.WELDED, "bench", b.bench_hold(bodies, up=up))
        if self.shop.machine("weld") in SENT:
            body, i, sign = self._laid()
            square = self.numbers.within(SQUARE_MM)
            setup.add(
                Op("check", "it is back from the welder: look it over by its weld sheet before it is"
                   " worked on", Tool("none", "none"), minutes=5.0,
                   measures=(by_eye(f"pieces where the sheet has them, square within {square}, what is"
                                    " fine unmarked", body.face(i, sign), "rule and square"),))
            )  # fmt: skip
        setup.add(*flame.dressed(self.part, self.shop, self._dressers()))
        for letter, datum, surface in scraped:
            setup.add(
                Op("dress", f"file and scrape {letter}, the {datum}, by blue until it does not rock on"
                            " the surface plate", Tool("scraper", "file, scraper, marking blue"),
                   minutes=30.0, measures=(by_eye("does not rock; blue on three places at least",
                                                  surface, "surface plate"),))
            )  # fmt: skip
        return [setup]

    def _scraped(self) -> list[tuple[str, Datum, str]]:
        """The planes of pieces that something is made in place from, which it then stands on."""
        found = []
        for letter, datum in self.part.datums.items():
            plane = datum.element.endswith(("low", "high"))
            of_piece = any(m.name == datum.of for m in self.blank.members)
            if plane and of_piece and self._borne(letter):
                side = "-" if datum.element.endswith("low") else "+"
                found.append((letter, datum, f"{datum.of}.{side}{datum.element[0]}"))
        return found

    def _dressers(self) -> str:
        """What a weld is dressed with: aluminium clogs a wheel, which may burst on the next work."""
        light = any(material(m.blank.material).group == "aluminium" for m in self.blank.members)
        ground = self.shop.owns("grinder") and not light
        return "chisel, file, grinder" if ground else "chisel and file"

    def _borne(self, letter: str) -> bool:
        """Whether something is made in place from a datum: it then stands on it."""
        return any(
            loc.datum == letter
            for one in self.part.features
            if one.stage is Stage.IN_PLACE
            for loc in one.locations
        )

    def _laid(self) -> tuple[b.Body, int, int]:
        """The face it lies on: nothing of it hangs below, and no weld all round lies in it.

        Flat before on edge; where none is so, the flat face, for the walk to refuse.
        """
        bodies = b.bodies_of(self.part, None)
        boxes = [body for body in bodies if body.axis is None]
        ways = [(body, i, sign) for body in boxes
                for i in sorted(range(3), key=body.size) for sign in (-1, 1)]  # fmt: skip
        good = (
            way for way in ways if b.stands(way[0], bodies, way[1], -way[2]) and not self._hid(*way)
        )
        return next(good, ways[0])

    def _hid(self, body: b.Body, i: int, sign: int) -> bool:
        """Whether a weld all round lies in a face, and so on the plate."""
        edge = "xyz"[i] + ("-high" if sign > 0 else "-low")
        return any(
            weld.all_round and weld.edge == edge and body.name in weld.members
            for weld in self.blank.welds
        )

    def _pairs(self) -> str:
        pairs = dict.fromkeys(f"{w.members[0]} to {w.members[1]}" for w in self.blank.welds)
        return ", ".join(pairs)

    def _process(self) -> str:
        owned = self.shop.job.shop.machines.get("welder")
        return owned.process if owned and owned.process else "the welder's own process"


def prepared(on: Workpiece, shop: Workshop) -> list[Op]:
    """What is done to a piece just before it is welded: its bevels, bright metal."""
    blank = on.part.blank
    if not isinstance(blank, Joined) or on.member is None:
        return []
    welds = [weld for weld in blank.welds if on.member.name in weld.members]
    if not welds:
        return []
    bevels = [_bevel(weld, on.member, shop) for weld in bevelled(on)]
    strip = shop.numbers.size(shop.job.series.whole(STRIP_MM))
    metal = material(on.member.blank.material)
    turned = [o for o in on.member.features if isinstance(o, f.TurnedDiameter)]
    bare = on.member.blank.length_mm - sum(o.end_mm - o.start_mm for o in turned) > STRIP_MM
    ops = []
    fumes = flame.NO_CHLORINE if flame.by_flame(shop) else NO_CHLORINE
    if turned:
        names = " and the ".join(o.name for o in turned)
        wants = "they want" if len(turned) > 1 else "it wants"
        text = f"wipe the {names} with acetone: turned bright {wants} no file and no emery"
        if not bare:
            spatter = "wrap all but what is welded, spatter sticks to it"
            text += f"; {flame.BESIDE.get(flame.process(shop) or '', spatter)}"
        ops.append(Op("dress", text, Tool("cloth", "acetone and a clean cloth"), minutes=3.0,
                      caution=fumes))  # fmt: skip
    if bare or not turned:
        where = f", only beside the {turned[0].name}" if turned else ""
        tool = Tool("file", "file, emery, acetone")
        holes = [o for o in on.member.features if isinstance(o, f.Bore | f.ReamedHole)]
        fine = " and the ".join(
            o.name for o in holes if o.diameter.upper_mm - o.diameter.lower_mm < FINE_MM
        )
        text = (
            f"clean to bright metal {strip} back from where it is welded{where}: zinc, cadmium, scale,"
            f" paint and oil off{f'; the {fine} itself spared: wiped with acetone' if fine else ''}"
        )
        if metal.group == "aluminium":
            tool = Tool("brush", "acetone, then a stainless brush kept for aluminium")
            when = "just before it is welded"
            if shop.machine("weld") in SENT:
                when = "the day it goes to be welded"
            text = (
                f"degrease, then brush bright {strip} back from where it is welded{where}, {when}: no"
                " emery, its grit stays in the metal"
            )
        ops.append(Op("dress", text, tool, minutes=8.0, caution=fumes))
    return [*bevels, *ops]


NO_CHLORINE = "No chlorinated cleaner near an arc: it turns to poison gas"


def _bevel(weld: Weld, member: Member, shop: Workshop) -> Op:
    """The preparation of a weld along an edge of a piece, its side told in the piece's own axes."""
    numbers = shop.numbers
    leg, run = numbers.size(weld.leg_mm), numbers.rule(weld.length_mm)
    i, high = "xyz".index(weld.edge[0]), weld.edge.endswith("high")
    own = next(k for k in range(3) if member.frame.turned(k) == i)
    sign = "+" if (member.frame.directions()[own][i] > 0) is high else "-"
    text = (
        f"file or grind a bevel {leg} x {numbers.drawn_angle(45)} along the edge of the"
        f" {weld.name}, {run} long: on the {sign}{'xyz'[own]} side, where the"
        f" {weld.members[1]} comes against it"
    )
    return Op("chamfer", text, Tool("file", "coarse file, or angle grinder"), minutes=10.0,
              caution="Goggles")  # fmt: skip


def closed_pockets(blank: Joined) -> list[tuple[Weld, str, str]]:
    """The welds all round the mouth of a blind bore, which would shut air in; the bore's name, and that
    of the hole that vents it, "" without one."""
    return [
        (
            weld,
            one.name,
            next(
                (
                    o.name
                    for o in member.features
                    if isinstance(o, f.Hole) and o.opens_into == one.name
                ),
                "",
            ),
        )
        for weld in blank.welds
        for member in blank.members
        if weld.all_round and member.name in weld.members
        for one in member.features
        if isinstance(one, f.Bore | f.ReamedHole | f.DrilledHole) and not one.through
    ]


def _inside(part: Part, member: Member, one: f.TurnedDiameter) -> bool:
    """Whether what is turned on a piece goes into another, all of it or an end: it is welded there."""
    long = one.end_mm - one.start_mm
    ends = [
        member.frame.place(one.axis.at(at))
        for at in (one.start_mm + long / 10, one.end_mm - long / 10)
    ]
    others = [body for body in b.bodies_of(part, None) if body.name != member.name]
    return any(
        all(body.low(i) < end[i] < body.high(i) for i in range(3))
        for body in others
        for end in ends
    )


def _hardened(part: Part) -> list[str]:
    """The metals of a weldment that harden and crack beside a weld made cold."""
    metals = sorted({one.blank.material for one in members(part)})
    return [metal for metal in metals if material(metal).weldable == "preheat"]


def weld_sheet(part: Part, shop: Workshop) -> list[str]:
    """What a welder is handed with the pieces of one weldment."""
    assert isinstance(part.blank, Joined)
    numbers = shop.numbers
    metals = sorted({m.blank.material for m in part.blank.members})
    groups = {material(m).group for m in metals}
    filler = shop.job.series.words(filler_of(groups, shop))
    lines = [f"Weld sheet, {part.title}: {', '.join(metals)}; filler {filler}"]
    for weld in part.blank.welds:
        said = f"  {weld.name}: {callout(weld, numbers)}, {weld.members[0]} to {weld.members[1]}"
        lines.append(said + (f"; {flame.noted(weld, shop)}" if weld.note else ""))
    lines += [
        f"  {metal}: preheated by the steel maker's sheet before the first tack, kept so between runs,"
        " and cooled slowly."
        for metal in _hardened(part)
    ]
    lines += [f"  Axes: {part.axes}.", *(f"  Place: {said}" for said in pieced(part, numbers))]
    if "aluminium" in groups and shop.machine("weld") in SENT:
        lines.append(
            "  It was brushed bright where it is welded: wipe it with acetone and brush it anew just"
            " before the arc, by a stainless brush kept for aluminium. Oxide grows on it again"
            " meanwhile, and does not melt with the metal."
        )
    elif flame.by_flame(shop):
        lines.append(flame.WIPED)
    else:
        lines.append(
            "  Wipe the bright faces with acetone once more just before the arc, and let it dry."
        )
    fine = [
        o.name
        for member in part.blank.members
        for o in member.features
        if isinstance(o, f.TurnedDiameter)
        and o.diameter.upper_mm - o.diameter.lower_mm < FINE_MM
        and not _inside(part, member, o)
    ]
    left = flame.SCARS.get(flame.process(shop) or "", "spatter")
    spared = f", no {left} and no clamp's mark on the {', the '.join(fine)}" if fine else ""
    lines.append(
        f"  Comes back: as its drawing has it, square within {numbers.within(SQUARE_MM)}, looked at for"
        f" cracks{spared}."
    )
    later = [o for o in part.features if isinstance(o, f.Turned | f.Bore | f.MilledFlat)]
    if later:
        lines.append("  Distortion: what is worked after welding has its allowance and takes it up: "
                     + ", ".join(dict.fromkeys(o.name for o in later)))  # fmt: skip
    in_place = any(o.stage is Stage.IN_PLACE and isinstance(o, f.Bore) for o in part.features)
    if in_place and shop.machine("weld") not in SENT and flame.on_the_lathe(part, shop):
        hollow = any(member.blank.section.shape == "tube" for member in members(part))
        far, insulated = (
            ("its far end on a turned plug on the tailstock", "jaws and plug")
            if hollow
            else ("as deep in it as the shank lets it be, no plug: it is solid", "the jaws")
        )
        lines.append(
            "  May be tacked in place on the lathe, tacks only, so that the wall comes even: the tube"
            f" in the chuck, {far}, the shank in the post; return clamp on the tube itself and a strap"
            f" to the shank, both bright; the tube insulated from {insulated}, else tack it off the"
            " lathe, for current must never pass a bearing. Lathe unplugged, drives and readouts"
            " disconnected, no high-frequency start; sheet metal over the ways, oil and chips cleared,"
            " extinguisher at hand, a watch kept for half an hour. Finish it off the lathe."
        )
    lines += [
        f"  The {weld.name} runs all round the blind {bore}, and would shut air in, which bursts out"
        " of the weld or later: "
        + (
            f"see that the {vent} is clear before it is welded, and leave it open."
            if vent
            else "it is vented first by a small hole."
        )
        for weld, bore, vent in closed_pockets(part.blank)
    ]
    lines.append("  The welder's own judgement and local rules go before this sheet.")
    return lines
