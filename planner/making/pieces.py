"""A part from its pieces: each sawn and made, joined, made on as a whole; as set-ups in order.

Imported by making.route.
"""

from __future__ import annotations

from collections.abc import Mapping

from parts import features as f
from parts.attachment import Attachment
from parts.features import Feature, Stage
from parts.part import Joined, Member, Part, Stock, members
from parts.standard.materials import material
from planner.making import bodies as b
from planner.making import cuts
from planner.making.across import Across
from planner.making.ends import Ends
from planner.making.gauges import Gauges, by_eye
from planner.making.holding import Hold as Way
from planner.making.holding import Holding, facing_mm, from_sheet, is_axial
from planner.making.model import Align, Grip, Hold, Line, Op, SetUp, Tool, Workpiece
from planner.making.profile import FINE_MM
from planner.making.turned import Turning
from planner.making.ways.dividing import dividing
from planner.making.welding import Welding, prepared
from planner.making.whole import Whole
from planner.making.workshop import Workshop, sawing_minutes

EDGE_MM = 0.3
"""Edges are broken so far (common practice: 0.2 to 0.5 on small work)."""

CUTTING = ("turn", "face", "groove", "thread", "bore", "drill", "ream", "tap", "counterbore", "mill",
           "slit")  # fmt: skip
"""What leaves burrs."""

Held = Mapping[tuple[str, str], Holding]


SCRIBED = (
    "close outside its scribed lines, or its DXF stuck on (cutting/); file its sides to the"
    " lines, straight and square: by them it is held and set true"
)

BY_OUTLINE = {
    "torch table": "by its DXF (cutting/); grind the edges, a torch leaves them hard",
    "bandsaw": SCRIBED,
    "hacksaw": SCRIBED,
}
"""What each machine cuts plate by: a hand follows lines."""

SHEET_HELD = {
    "torch table": "the sheet clamped flat",
    "bandsaw": "flat on the saw's table, fed along the line by hand",
    "hacksaw": "bench vice, gripped close to the line",
}
"""And how the sheet is held on it."""

SHEET_MINDED = {
    "torch table": (
        "What burns put away, extinguisher at hand, look for fire for half an hour after; eyes shaded"
        " as its torch asks, leather, the fume drawn off; the piece hot: tongs; goggles to grind it. By"
        " people trained for it, to local rules"
    ),
    "bandsaw": "A stick, not fingers, near the blade",
}
"""What can hurt where plate is cut out (common practice: of thermal cutting, of a saw fed by hand)."""

CUT_FUME = (
    ". The fume of stainless steel has chromium(VI) and nickel in it, which cause cancer: a respirator"
    " where it is not drawn off"
)
"""Cut by an arc as welded by one (IARC Monographs 118, from memory)."""


class Pieces:
    """Plans the set-ups of parts."""

    def __init__(self, attachment: Attachment, held: Held, shop: Workshop) -> None:
        self.attachment, self.held, self.shop = attachment, held, shop
        self.gauges = Gauges(shop)

    def of_part(self, part: Part) -> list[SetUp]:
        """The set-ups of a part in order."""
        setups: list[SetUp] = []
        for member in members(part):
            setups += self._piece(Workpiece(part, member))
        whole = Whole(Workpiece(part, None), self.attachment, self.shop, self.gauges)
        later: list[SetUp] = []
        if isinstance(part.blank, Joined):
            setups += Welding(part, self.attachment, self.shop).plan()
            later += whole.after_welding()
        later += whole.in_place()
        later += whole.last()
        self._edges(part, later)
        return merged(setups + later)

    def _edges(self, part: Part, setups: list[SetUp]) -> None:
        """What is cut on a whole part leaves edges too; fine surfaces are spared the file."""
        if not any(op.kind in CUTTING for one in setups for op in one.ops):
            return
        fine = [o.name for o in part.features
                if isinstance(o, f.TurnedDiameter | f.Bore | f.ReamedHole)
                and o.diameter.upper_mm - o.diameter.lower_mm < FINE_MM]  # fmt: skip
        spared = f", the {' and the '.join(fine)} itself spared" if fine else ""
        setups[-1].add(
            Op("deburr", f"break the edges {self._edge()} of all that was cut since, holes and slits"
               f" too{spared}; wash the chips out", Tool("file", "fine file, scraper"), minutes=5.0,
               caution="Burrs cut: not with the fingers")
        )  # fmt: skip

    def _edge(self) -> str:
        return self.shop.numbers.size(self.shop.job.series.nominal(EDGE_MM))

    def _piece(self, on: Workpiece) -> list[SetUp]:
        """A piece of stock, as far as it is made before it is joined, or placed."""
        assert on.member is not None
        held = self.held[on.part.name, on.member.name]
        own = [o for o in on.member.features if o.stage is Stage.BLANK]
        setups = [self._saw(on, held)] if held.hold is not Way.BAR else []
        work = Across(on, self.attachment, self.shop, self.gauges)
        work.stage = Stage.BLANK
        length = next((o for o in own if isinstance(o, f.FacedLength)), None)
        rest = [o for o in own if o is not length and not is_axial(o)]
        if length is not None and on.member.blank.round:
            turning = Turning(on, held, self.shop, self.gauges)
            setups += turning.plan()
            rest = self._scales(turning, rest, setups)
        elif length is not None:
            work.setups = setups
            near = facing_mm(self.shop.job.series)
            Ends(work, length, near, max(held.facing_mm - near, near)).plan()
            rest = [o for o in own if o is not length]
        ground = [o for o in rest if isinstance(o, f.GroundPoint)]
        across = [o for o in rest if not isinstance(o, f.GroundPoint)]
        setups += work.plan(across, Stage.BLANK)
        for one in ground:
            setups.append(self._ground(on, one))
        if not ground:
            self._deburred(on, setups)
        return setups

    def _scales(self, turning: Turning, rest: list[Feature], setups: list[SetUp]) -> list[Feature]:
        """Scales that are not divided on the lathe's spindle, on a mandrel in what divides."""
        for one in turning.ways.deferred:
            if not isinstance(one, f.EngravedScale):
                continue
            how = dividing(one.divisions, self.shop)
            words = f"on a mandrel in {how.by}, the rim set true by indicator"
            bore = next((o for o in turning.axial if isinstance(o, f.ReamedHole | f.Bore)), None)
            grips: tuple[Grip, ...] = ()
            if bore is not None:
                wide = bore.diameter.nominal_mm
                name = f"{bore.name}.bore"
                grips = (Grip(name, wide, 0.0, bore.depth_mm, name, inside=True),)
            align = (Align("the rim runs true", f"{one.name}.round", "dial indicator", 0.02),)
            hold = Hold("mandrel", words, grips, Line("+x", (0.0, 0.0, 0.0)), up="+z")
            setup = SetUp(turning.on, Stage.BLANK, "mill", hold, align=align)
            setups.append(setup.add(*turning.ways.scale(one)))
        if turning.ways.scales:
            hold = Hold("hand", "on the bench, the rim on a V of hardwood, under a guide block")
            setups.append(SetUp(turning.on, Stage.BLANK, "bench", hold).add(turning.ways.stamped()))
        return rest

    def _saw(self, on: Workpiece, held: Holding) -> SetUp:
        member = on.member
        assert member is not None
        stock, numbers = member.blank, self.shop.numbers
        low = -facing_mm(self.shop.job.series) if held.facing_mm else 0.0
        high = stock.length_mm + held.facing_mm + low + held.grip_mm
        cut = numbers.rule(numbers.sawn_to_mm(high - low, held.facing_mm + held.grip_mm))
        if from_sheet(stock, self.shop.job):
            plate = f"{numbers.size(stock.section.thickness_mm)} {stock.material} plate"
            machine = self.shop.machine("cut plate")
            hold = Hold("saw vice", SHEET_HELD[machine], (self._bar(stock, low, high),))
            setup = SetUp(on, Stage.BLANK, machine, hold)
            op = Op(
                "saw",
                f"cut the outline of the {member.name} from {plate} {BY_OUTLINE[machine]}",
                Tool("saw", machine),
                cut=cuts.saw(low, high),
                minutes=15.0,
                caution=SHEET_MINDED.get(machine, ""),
            )
            rustless = material(stock.material).group == "stainless steel"
            op.caution += CUT_FUME * (rustless and machine == "torch table")
        else:
            hard = held.hold is Way.ASIS
            ground = self.shop.owns("grinder")
            verb = "cut off with an abrasive wheel" if hard and ground else "saw"
            machine = "bench" if hard else self.shop.machine("saw")
            hold = Hold("saw vice", "saw vice", (self._bar(stock, low, high),))
            setup = SetUp(on, Stage.BLANK, machine, hold)
            minutes = 2.0 + sawing_minutes(stock.section.area_mm2, machine)
            op = Op("saw", f"{verb} {numbers.stock(stock.section)} {stock.material}, {cut}",
                    Tool("saw", "abrasive wheel" if hard else "saw"), cut=cuts.saw(low, high),
                    minutes=minutes)  # fmt: skip
            if hard and not ground:  # no saw cuts it
                instead = "buy the bit to length, or have it cut where it is ground"
                op.text = f"{numbers.stock(stock.section)} {stock.material}, {cut}: {instead}"
                op.tool = Tool("saw", "abrasive wheel", owned=False, instead=instead)
            elif hard:
                tip = "Goggles; the tip kept from the heat and never in water: it cracks"
                op.caution = tip if _tipped(stock) else "Goggles; keep it cool in water"
        op.measures = (by_eye(cut, "blank.-x", "rule"),)
        if from_sheet(stock, self.shop.job):  # a bar's sides are as bought
            wide = f"{numbers.size(stock.section.width_mm)} across"
            op.measures += (by_eye(wide, "blank.-y", "vernier caliper"),)
        return setup.add(op)

    def _bar(self, stock: Stock, low: float, high: float) -> Grip:
        """Where the saw's vice holds a bar."""
        wide = stock.section.width_mm
        if stock.round:
            return Grip("blank.round", wide, low, high, "blank.round")
        return Grip("blank.-y", wide, low, high, "blank.+y")

    def _ground(self, on: Workpiece, one: f.GroundPoint) -> SetUp:
        from planner.making.callouts import callout

        machine = self.shop.machine("grind")
        self.shop.ground(on.part.name)
        setup = SetUp(on, Stage.BLANK, machine, Hold("hand", "by hand on the rest"))
        rest = self.shop.numbers.size(self.shop.job.series.whole(2.0))
        wheel, dipped = "grinding wheel and slip stone", "dip the bit, never gloves"
        if isinstance(on.part.blank, Stock) and _tipped(on.part.blank):
            wheel = "green grit or diamond wheel, diamond hone"
            dipped = "the bit never dipped, its tip cracks; a mask against the dust; never gloves"
        return setup.add(
            Op(
                "grind",
                f"grind the {one.name}: {callout(one, self.shop.numbers)}; hone the nose",
                Tool("grinding wheel", wheel),
                one,
                True,
                minutes=15.0,
                note=one.note,
                measures=(by_eye("angles and nose", "blank.+z", "template or protractor"),),
                caution=f"Goggles; the rest at most {rest} off the wheel; {dipped}",
            )
        )

    def _deburred(self, on: Workpiece, setups: list[SetUp]) -> None:
        """The last set-up of a piece ends with its edges broken, and bright where it will be welded."""
        last = next(s for s in reversed(setups) if s.ops)
        last.add(
            Op(
                "deburr",
                f"break all edges {self._edge()}, holes too; wipe clean",
                Tool("file", "fine file, scraper"),
                minutes=3.0,
                caution="Burrs cut: not with the fingers",
            )
        )
        if clean := prepared(on, self.shop):
            hold = b.bench_hold(b.bodies_of(on.part, on.member))
            if last.machine != "bench":
                last = SetUp(on, Stage.BLANK, "bench", hold)
                setups.append(last)
            last.add(*clean)


def _tipped(stock: Stock) -> bool:
    """Whether a tool's bar is steel with a tip brazed on it, which common grit does not grind."""
    return material(stock.material).condition.startswith("tipped")


def merged(setups: list[SetUp]) -> list[SetUp]:
    """Set-ups of which the next holds the same work in the same way on the same machine, as one."""
    found: list[SetUp] = []
    for one in setups:
        last = found[-1] if found else None
        if last is not None and last.holding == one.holding and last.with_parts == one.with_parts:
            last.ops += one.ops
            last.after_parts += tuple(p for p in one.after_parts if p not in last.after_parts)
            last.caution = last.caution or one.caution
        elif one.ops:
            found.append(one)
    return found


def pieces(part: Part) -> tuple[Member, ...]:
    """The pieces of stock of a part."""
    return members(part)
