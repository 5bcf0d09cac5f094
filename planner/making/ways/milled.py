"""Flats, slots and slits, by the machines that can: mill, milling slide, shaper, cross slide, file.

Imported by making.across, which holds the work for them.
"""

from __future__ import annotations

from functools import singledispatchmethod
from math import prod
from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts import features as f
from parts.frame import Box
from parts.part import datum_place, every_feature
from parts.standard.fits import Limits
from parts.standard.sections import MM_PER_INCH
from planner.making import bodies as b
from planner.making import cuts
from planner.making.callouts import callout
from planner.making.holds import INDICATED_MM
from planner.making.model import Align, Cut, Hold, Measure, Op, SetUp, Tool
from planner.making.near import against, face_of, in_metal, middle, moved_to, way_of, with_face
from planner.making.trueto import set_to_datum
from planner.making.ways.asked import datum_surface, open_sides, wide
from planner.making.ways.backed import backed
from planner.making.ways.elsewhere import no_mill
from planner.making.ways.holes import size_of
from planner.making.ways.touched import by_side
from planner.making.ways.travels import reaches
from planner.making.wayup import ON_SLIDE
from planner.making.workshop import LONG_FLUTES, sawing_minutes

if TYPE_CHECKING:
    from planner.making.across import Across

SAWN_OFF_MM = 5.0
"""A fly cutter takes no more off than this: the rest is sawn off first (common practice)."""

SKIM_MM = 0.5
"""A flat that takes nothing off is skimmed by so much (common practice)."""

LEFT_MM = 1.5
"""What a saw by hand leaves for the cutter (common practice)."""

MILLS = ("mill", "a shop with a mill")

OVER_SLOT_MM = 1.0
"""A slot's box stands so far over the metal: what its cutter takes is shallower."""

SCRAPED_MM, SCRAPED_BAND_MM = 0.03, 0.02
"""What is left to scrape, and how much more or less (common practice: 0.01 to 0.05)."""

PACKED_LEFT_MM, PACKED_BAND_MM = 0.08, 0.03
"""And on the lathe's cross slide, where no feed raises the work: packing sets the depth (common
practice: 0.05 to 0.1, by shims of 0.05)."""

SIDE_CUTTER_MM = 16.0
"""The cutter of the mill's work (common practice for a small one)."""

FLY_CUTTER_MM, FLY_CUTTER_IN = 50.0, 2.0
"""What a fly cutter made in the shop sweeps, in a metric shop and in an inch one (common practice)."""

DEEPEST = 4.0
"""An end mill cuts no deeper by its side, in its diameters: a long one (common practice)."""


class Milled:
    """Operations that take a box of metal off, in set-ups of ``work``."""

    def __init__(self, work: Across) -> None:
        self.work, self.shop, self.numbers = work, work.shop, work.numbers

    def _reaches(self, machine: str, box: Box, spindle: int, cutter_mm: float) -> bool:
        return reaches(self.shop, machine, self.work.bodies, box, spindle, cutter_mm)

    @singledispatchmethod
    def make(self, feature: f.Feature) -> None:
        """Add the set-up and operations of a feature. Raises TypeError for another kind."""
        raise TypeError(f"no milling for {type(feature).__name__}")

    # ---- flats ----

    @make.register
    def _(self, feature: f.MilledFlat) -> None:
        where = feature.locations[0]
        letter, _, side = where.element.partition("-")
        normal = {"low": "+", "high": "-"}[side] + letter
        i, sign = way_of(normal)
        at = face_of(feature.box, i, -sign)
        inner = in_metal(moved_to(middle(feature.box), i, at), against(normal))
        own = b.owner(self.work.bodies, inner)
        size = where.size
        band = size.upper_mm - size.lower_mm
        cut = cuts.flat(normal, at, feature.box)
        hidden = b.blocked(self.work.bodies, normal, feature.box, own)
        deep = min(feature.box.size()[i], max(sign * (own.end(i, sign) - at), SKIM_MM))
        measure = self._across(feature, where, own, (i, sign, at))
        setup, way = self._held(feature, own, normal, at, hidden, band, size.nominal_mm)
        if setup.machine == "bench":
            op = Op(
                "file",
                f"saw close, then file {feature.name}: {callout(feature, self.numbers)}, flat by blue"
                " on the plate",
                Tool("file", "files, second cut and smooth"),
                feature,
                True,
                cut,
                minutes=30.0,
                measures=measure,
                note=feature.note,
            )
            setup.add(op)
        else:
            left = self._left(setup.machine, way)
            near = self._scraped_from(feature, where, normal, left)
            rough = self._across(near, near.locations[0], own, (i, sign, at + sign * left))
            self._cut_flat(setup, feature, (way, deep, band, size), cut, measure, (near, rough))
        if own.axis is None and not hidden and b.covers(feature.box, own, i):
            self.work.bodies = b.faced(self.work.bodies, own, i, sign, at)

    def _cut_flat(
        self, setup: SetUp, feature: f.MilledFlat,
        about: tuple[str, float, float, Limits], cut: Cut, measure: tuple[Measure, ...],
        scraped: tuple[f.MilledFlat, tuple[Measure, ...]],
    ) -> None:  # fmt: skip
        (way, deep, band, size), (before, rough) = about, scraped
        machine = setup.machine
        fly = machine == ON_SLIDE and way == "face"
        scrape = machine not in MILLS and not self.shop.attains("slot", band, size.nominal_mm)
        if machine == "shaper":
            tool, rate, by = Tool("shaper tool", "shaper tool, round nose"), "shape", None
        elif fly:
            wide = FLY_CUTTER_IN * MM_PER_INCH if self.shop.inch else FLY_CUTTER_MM
            tool = Tool("fly cutter", "fly cutter in the headstock chuck", wide)
            rate, by = "flycut", ("mill", wide)
        else:
            tall = feature.box.size()[way_of(setup.hold.up)[0]] if way == "side" else deep
            tool = self.shop.end_mill(SIDE_CUTTER_MM, tall)
            rate, by = "mill", ("mill", size_of(tool))
        sides = sorted(feature.box.size())
        said = callout(feature, self.numbers)
        verb = {"shape": "shape", "flycut": "fly-cut"}.get(rate, "mill")
        side = "" if way == "face" else " with the side of the cutter"
        packed = machine == ON_SLIDE and way == "side"
        allow = self._left(machine, way) if scrape else 0.0
        text = f"{verb} {feature.name}{side}: {said}"
        if scrape:
            text = f"{verb} {feature.name}{side}, {self.numbers.within(allow)} left to scrape"
        near = cut
        if scrape:  # what is left for the scraper
            near = self._short_of(feature, cut, allow)
        if fly and deep > SAWN_OFF_MM:
            self._sawn_close(feature, cut, setup)
            deep = LEFT_MM
        op = Op("mill", text, tool, before if scrape else feature, not scrape, near, allow, by, rate,
                sides[2], deep, measures=rough if scrape else measure,
                note="" if scrape else feature.note)  # fmt: skip
        setup.add(op)
        if packed:
            op.text += "; the depth by packing and shims, measured with the work held"
        elif not scrape and band < 0.1:
            op.text += "; the last cut by what is measured, with the work still held"
        if scrape:
            bench = self.work.new("bench", self.work.bench())
            bench.add(
                Op("scrape", f"scrape {feature.name} to {said} by blue, tried with gauge blocks",
                   Tool("scraper", "flat scraper and marking blue"), feature, True, cut, minutes=40.0,
                   measures=measure, note=feature.note)
            )  # fmt: skip

    def _left(self, machine: str, way: str) -> float:
        """What a cutter leaves for the scraper: the more where packing sets its depth."""
        left = PACKED_LEFT_MM if machine == ON_SLIDE and way == "side" else SCRAPED_MM
        return self.shop.job.series.limit(left)

    def _scraped_from(
        self, feature: f.MilledFlat, where: f.Location, normal: str, left: float
    ) -> f.MilledFlat:
        """A flat as it is milled where it is scraped: with what is left, and limits a mill holds."""
        _, sign = way_of(normal)
        _, out = way_of(where.along)
        band = PACKED_BAND_MM if left > SCRAPED_MM else SCRAPED_BAND_MM
        size = self.shop.job.series.within(where.size.nominal_mm + sign * out * left, band, -band)
        return replace(feature, locations=(replace(where, size=size), *feature.locations[1:]))

    def _short_of(self, feature: f.Removed, cut: Cut, left_mm: float) -> Cut:
        """A flat's cut with so much left on it."""
        i, sign = way_of(cut["normal"])
        at = cut["at_mm"] + sign * left_mm
        return cuts.flat(cut["normal"], at, with_face(feature.box, i, -sign, at))

    def _sawn_close(self, feature: f.MilledFlat | f.MilledSlot, cut: Cut, setup: SetUp) -> None:
        """What is too much for a fly cutter is sawn off first, in the bench vice."""
        i, _ = way_of(cut["normal"])
        own = b.owner(self.work.bodies, middle(feature.box))
        area = prod(own.size(j) for j in range(3) if j != i)
        left = self.numbers.size(self.shop.job.series.nominal(LEFT_MM))
        bench = self.work.new("bench", self.work.bench())
        bench.add(
            Op("saw", f"saw close to the {feature.name}, {left} left to cut", Tool("saw", "hacksaw"),
               feature, False, self._short_of(feature, cut, LEFT_MM), LEFT_MM,
               minutes=5.0 + sawing_minutes(area, "bench"))
        )  # fmt: skip
        setups = self.work.setups
        setups.remove(bench)
        setups.insert(setups.index(setup), bench)

    def _held(
        self, feature: f.Removed, own: b.Body, normal: str, at: float, hidden: bool, band: float,
        size: float,
    ) -> tuple[SetUp, str]:  # fmt: skip
        """The first machine that reaches a flat and the hold on it; "face" or "side" of the cutter."""
        from planner.making.workshop import PREFERENCE

        for machine in PREFERENCE["mill"]:
            if machine == "bench":
                break
            if not self.shop.owns(machine) or (machine == "shaper" and hidden):
                continue
            if machine == ON_SLIDE and self._filed(hidden, band, size):
                continue
            if found := self._in_vice(machine, feature, own, normal, (hidden, at)):
                return found
        if self.shop.owns("mill") or not self._filed(hidden, band, size):
            machine = "mill"
            if not self.shop.owns(machine):
                machine, ways = MILLS[1], self._ups(normal, hidden, feature.box)
                floors = [at if way == "face" else self._floor(feature.box, up) for up, way in ways]
                ups = list(zip(ways, floors, strict=True))
                no_mill(self.work, feature, ups, LONG_FLUTES * SIDE_CUTTER_MM)
                if found := self._in_vice(machine, feature, own, normal, (hidden, at)):
                    return found
            up, way, low = self._clamped(feature, own, normal, hidden)
            hold, _ = self.work.on_table(up, low)
            true = Align("true to the slide's travel", hold.grips[0].surface, "dial indicator",
                         INDICATED_MM)  # fmt: skip
            return self._new(machine, hold, (true,), feature), way
        return self.work.new("bench", self.work.bench()), "face"

    def _in_vice(
        self, machine: str, feature: f.Removed, own: b.Body, normal: str, lies: tuple[bool, float]
    ) -> tuple[SetUp, str] | None:
        """A machine's vice, the cutter from above or by its side; lies: hidden or not, and where."""
        hidden, at = lies
        point, opens = middle(feature.box), self.shop.vice_opens_mm(machine)
        for up, way in self._ups(normal, hidden, feature.box):
            deep = feature.box.size()[way_of(up)[0]]
            if way == "side" and deep > LONG_FLUTES * SIDE_CUTTER_MM and machine != "shaper":
                continue
            if own.axis is not None and len(self.work.bodies) == 1 and way == "face":
                if machine == ON_SLIDE:
                    continue
                hold, align = self.work.rim_hold(own, up, machine)
                return self._new(machine, hold, align, feature), way
            if not self._reaches(machine, feature.box, way_of(up)[0], SIDE_CUTTER_MM):
                continue
            floor = at if way == "face" else self._floor(feature.box, up)
            if held := b.vice(self.work.bodies, up, [point], floor, None, opens):
                hold, align = self.work.vice_hold(machine, held, up, point)
                return self._new(machine, hold, align, feature), way
        return None

    def _new(self, machine: str, hold: Hold, align: tuple[Align, ...], feature: f.Removed) -> SetUp:
        """A set-up for a face, set by what it must lie true to as well."""
        align = set_to_datum(self.work.on.part, feature, hold.up or "+z", align)
        return self.work.new(machine, backed(self.work, hold, feature), align)

    def _clamped(
        self, feature: f.Removed, own: b.Body, normal: str, hidden: bool
    ) -> tuple[str, str, b.Body]:
        """The way up, the cutter's side or face, and the body that is clamped to the table: it stands
        lowest, and the clamps are on another face than the one that is cut; a cutter's side reaches.
        """
        bodies = sorted(self.work.bodies, key=lambda o: -o.size(0) * o.size(1) * o.size(2))
        for ends in (False, True):  # of another body, else the end of the body itself
            for up, way in self._ups(normal, hidden, feature.box):
                i, sign = way_of(up)
                if way == "side" and feature.box.size()[i] > DEEPEST * SIDE_CUTTER_MM:
                    continue
                for low in bodies:
                    flat = low.axis is None and b.stands(low, self.work.bodies, i, sign)
                    if flat and (way == "side" if ends and low is own else low is not own):
                        return up, way, low
        return normal, "face", own

    def _filed(self, hidden: bool, band: float, size: float) -> bool:
        """Whether a file's tolerance will do."""
        early = self.work.stage is f.Stage.BLANK
        return early and not hidden and self.shop.attains("file", band, size)

    def _ups(self, normal: str, hidden: bool, box: Box) -> list[tuple[str, str]]:
        """The ways a cutter may come: straight down, else by its side, where it is shortest."""
        short = sorted("xyz", key=lambda letter: box.size()["xyz".index(letter)])
        sides = [(s + letter, "side") for letter in short if letter != normal[1] for s in "-+"]
        return sides if hidden else [(normal, "face"), *sides]

    def _floor(self, box: Box, up: str) -> float:
        """How deep a cutter goes, along ``up``."""
        i, sign = way_of(up)
        return face_of(box, i, -sign)

    def _across(
        self, feature: f.MilledFlat, where: f.Location, own: b.Body, face: tuple[int, int, float]
    ) -> tuple[Measure, ...]:
        """How far a flat lies from its datum, by what finds metal on both sides."""
        work, (i, sign, _at) = self.work, face
        member = work.on.member if work.on.piece else None
        place = datum_place(work.on.part, member, where.datum)
        datums = member.datums if member else work.on.part.datums
        datum = datums[where.datum]
        name = f"{feature.name}.{where.element}"
        if place.kind == "plane":
            start = f"{datum.of}.{datum.element}"
            return (work.gauges.length(where.size, start, name, "outside"),)
        start, size_mm = self._round(datum.of, own)
        half, facing = size_mm / 2, sign * (face[2] - place.at[i]) > 0
        half_said = work.numbers.micrometer(half)
        if not facing:
            gap = Limits(where.size.nominal_mm - half, where.size.upper_mm, where.size.lower_mm, "")
            how = (
                "the gap to the round: the distance less half of the diameter as measured,"
                f" {half_said} as drawn"
            )
            return (work.gauges.length(gap, start, name, "gap", how),)
        over = Limits(where.size.nominal_mm + half, where.size.upper_mm, where.size.lower_mm, "")
        if len(work.bodies) == 1:
            how = (
                f"over the round: the distance and half of the diameter as measured, {half_said} as"
                " drawn"
            )
            return (work.gauges.length(over, start, name, "outside", how),)
        under = Limits(where.size.nominal_mm - half, where.size.upper_mm, where.size.lower_mm, "")
        read = work.gauges.length(under, start, name, "height")
        by, against = read.gauge.name, ""
        if "indicator" in by:
            by, against = "indicator", ", against blocks"
        how = (
            f"the round in V-blocks on the plate: {by} from the round's top to the flat{against}:"
            f" the distance less half of its diameter as measured, {half_said} as drawn"
        )
        return (replace(read, how=how),)

    def _round(self, carrier: str, own: b.Body) -> tuple[str, float]:
        """The round surface that a datum's axis is the axis of, and how thick it is."""
        if carrier == "blank":
            widest = max(own.rounds, key=lambda r: (r.diameter, r.high - r.low))
            return widest.surface, widest.diameter
        name = carrier.rpartition("/")[2]
        turned = (o for _, o in every_feature(self.work.on.part) if isinstance(o, f.TurnedDiameter))
        size = next((one.diameter.mean_mm for one in turned if one.name == name), own.diameter)
        return f"{carrier}.round", size

    # ---- slots ----

    @make.register
    def _(self, feature: f.MilledSlot) -> None:
        where = feature.locations[0]
        letter, _, side = where.element.partition("-")
        up = {"low": "+", "high": "-"}[side] + letter
        i, sign = way_of(up)
        at = face_of(feature.box, i, -sign)
        band = feature.width.upper_mm - feature.width.lower_mm
        cutter = feature.width.nominal_mm
        machine = next(m for m in ("mill", "milling slide", "bench")
                       if self.shop.owns(m) and self._reaches(m, feature.box, i, cutter))  # fmt: skip
        opens = self.shop.vice_opens_mm(machine)
        held = b.vice(self.work.bodies, up, [moved_to(middle(feature.box), i, at)], at, None, opens)
        said = callout(feature, self.numbers)
        cut = cuts.slot(feature.box, open_sides(self.work, feature))
        sides = f"{feature.name}.{wide(feature.box, feature.width)}"
        read, start, how = self.work.gauges, datum_surface(self.work, where), f"from {where.datum}"
        measures = (
            read.length(feature.width, f"{sides}-low", f"{sides}-high", "inside"),
            read.length(where.size, start, f"{feature.name}.{where.element}", "depth", how, cutter),
        )
        if machine != "bench" and held:
            hold, align = self.work.vice_hold(machine, held, up, middle(feature.box))
            deep = feature.box.size()[i] - OVER_SLOT_MM
            tool = self.shop.end_mill(feature.width.nominal_mm, deep)
            setup = self.work.new(machine, hold, align)
            k = "xyz".index(wide(feature.box, feature.width))
            found = by_side(self.numbers, held.body, feature.box, k, "the cutter")
            setup.add(
                Op("mill", f"mill {feature.name}: {said}; through the middle first, then each side to"
                   f" the width; {found}", tool, feature, True, cut, speed=("mill", size_of(tool)),
                   rate="mill", length_mm=max(feature.box.size()), stock_mm=deep, measures=measures,
                   note=feature.note)
            )  # fmt: skip
            return
        if not self.shop.attains("file", band, feature.width.nominal_mm):
            self.shop.lacks(self.work.on.part.name, f"a mill for the {feature.name}",
                            "Drill and file it open, a gauge of its width turned first")  # fmt: skip
        setup = self.work.new("bench", self.work.bench())
        setup.add(
            Op("file", f"saw and file {feature.name}: {said}; a piece of the tool's own section is its"
               " gauge", Tool("file", "hacksaw, square files"), feature, True, cut, minutes=40.0,
               measures=measures, note=feature.note)
        )  # fmt: skip
