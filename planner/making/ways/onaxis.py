"""What is made about the axis of a round piece in the lathe: diameters, holes, threads, knurls, lines.

One rule a feature type. Imported by making.turned and making.whole.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import singledispatchmethod

from msgspec.structs import replace

from parts import features as f
from parts.features import Feature
from parts.standard.threads import thread
from planner.dial.sense import NUMBERED, UPRIGHT
from planner.making import bending, cuts
from planner.making.callouts import callout
from planner.making.gauges import Gauges, by_eye
from planner.making.model import Gauge, Line, Measure, Op, SetUp, Tool, Workpiece
from planner.making.near import below, way_of
from planner.making.profile import FINE_MM, THICKER_MM, Profile, Stretch
from planner.making.trueto import run_out
from planner.making.ways import holes, knurled, screwed
from planner.making.ways.dividing import dividing
from planner.making.workshop import Workshop

FILED = "A file near jaws: left hand on its handle, sleeves up, never a bare tang"
LOCKED = "Spindle locked, its switch off at the wall: nothing turns while lines are cut"

RUN_OUT_MM = 0.02
"""What a thrust face may run out at the most, by indicator (common practice)."""

BESIDE_MM = 0.3
"""So far beside a cut is looked at what stands there."""

COLLAR_MM = 0.2
"""What is thicker by more on both sides keeps a knife tool out."""

SHOULDER_MM = 1.0
"""What is thicker by more stands beside as a shoulder."""

INDICATOR = Gauge("dial indicator", "runout", 0.0, 1.0, 0.002)

_FIRST = (f.TurnedDiameter, f.FacedShoulder, f.TurnedBall, f.Hole, f.Thread, f.Knurl)
"""What comes before what in one chucking (common practice). What is fine is roughed with the rest and
finished last: what is still roughed, threaded or knurled warms the work, bends it and marks it."""

_LINES = (f.EngravedScale, f.IndexMark)
"""Cut last, on a finished rim (common practice)."""


class OnAxis:
    """Operations about one axis of one workpiece; ``profile`` is its outside as it is now.

    parted: where the piece ends that is parted off, and how far the parting tool goes past that.
    """

    def __init__(self, on: Workpiece, shop: Workshop, gauges: Gauges, profile: Profile,
                 material: str = "") -> None:  # fmt: skip
        self.on, self.shop, self.gauges, self.profile = on, shop, gauges, profile
        self.numbers = shop.numbers
        self.metal = material or (on.member.blank.material if on.member else "")
        self.deferred: list[Feature] = []
        self.scales: list[Feature] = []
        self.faced: list[tuple[float, float]] = []
        self.grooved: dict[str, list[Op]] = {}
        self.parted: tuple[float, float] | None = None

    def all(self, setup: SetUp, features: Iterable[Feature], axis: Line, fine_mm: float) -> None:
        """Add the operations of all features, in order; axis: headstock to tailstock."""
        self.axis, self.setup = axis, setup
        features = list(features)
        self.stays = [
            (self.span(o), o.diameter.nominal_mm)
            for o in (*features, *self.own())
            if isinstance(o, f.TurnedDiameter | f.TurnedBall)
            and way_of(o.axis.along)[0] == way_of(axis.along)[0]
        ]
        _, free = way_of(axis.along)

        def place(one: Feature) -> tuple[int, float]:
            rank = next((i for i, kind in enumerate(_FIRST) if isinstance(one, kind)), len(_FIRST))
            if isinstance(one, f.TurnedBall):
                rank = 0
            if setup.hold.centre and isinstance(one, f.TurnedDiameter):
                return rank, -one.diameter.nominal_mm  # the thickest first: the bar stays stiff
            if isinstance(one, f.Turned):
                return rank, -max(free * at for at in self.span(one))
            return rank, 0.0

        del fine_mm
        listed = sorted(features, key=place)
        shoulders = [o for o in listed if isinstance(o, f.FacedShoulder)]
        self.faced = [self.span(o) for o in shoulders]
        fine = [o for o in listed if isinstance(o, f.TurnedDiameter) and self.is_fine(o)]
        if setup.hold.centre:
            stout = max([o.diameter.nominal_mm for o in fine] or [1e3])
            for collar in [o for o in listed if isinstance(o, f.TurnedDiameter) and o not in fine]:
                if collar.diameter.nominal_mm > stout:  # while the bar beside it is stiff
                    self._down_to(collar, fine[0], free)
                    self.make(collar)
                    listed.remove(collar)
        for rough in fine:
            self._rough(rough)
        if setup.hold.centre:
            for shoulder in shoulders:  # close, before what ends at it is finished
                self._close(shoulder)
            self.faced = []
        last = [o for o in fine if not self._worked_on(o, listed)] + shoulders
        lines = [o for o in listed if isinstance(o, _LINES)]
        for item in [*(o for o in listed if o not in last and o not in lines), *last, *lines]:
            self.make(item)

    def _worked_on(self, one: f.TurnedDiameter, others: Iterable[Feature]) -> bool:
        """Whether a thread or a knurl comes on it."""
        low, high = self.span(one)
        spans = [self.span(o) for o in others if isinstance(o, f.Thread | f.Knurl)]
        return any(below(low, b) and below(a, high) for a, b in spans)

    def own(self) -> tuple[Feature, ...]:
        """What is made of the work, here or elsewhere."""
        return self.on.member.features if self.on.member else self.on.part.features

    def is_fine(self, one: f.TurnedDiameter) -> bool:
        """Whether it is roughed first."""
        return one.diameter.upper_mm - one.diameter.lower_mm < FINE_MM

    def span(self, one: f.Turned) -> tuple[float, float]:
        """Its two stations as coordinates along the axis, low and high."""
        along, _ = way_of(one.axis.along)
        low, high = sorted((one.axis.at(one.start_mm)[along], one.axis.at(one.end_mm)[along]))
        if isinstance(one, f.TurnedDiameter):  # a shoulder is faced last, and takes its own
            for a, b in self.faced:
                low = b if a <= low < b else low
                high = a if a < high <= b else high
        return low, high

    def said(self, feature: Feature) -> str:
        """The call-out in the job's numbers."""
        return callout(feature, self.numbers)

    def surface(self, feature: Feature) -> str:
        """The name of the round surface it leaves."""
        return f"{feature.name}.round"

    def from_end(self, low: float, high: float) -> str:
        """Where along the axis something lies that no shoulder marks, from the end that is a datum."""
        datums = self.on.member.datums if self.on.piece and self.on.member else self.on.part.datums
        end = next((a for a, d in datums.items() if (d.of, d.element) == ("blank", "x-low")), "")
        said = f"{self.numbers.general(low)} to {self.numbers.general(high)} +x"
        return f"{said} from {end or 'the end'}"

    @singledispatchmethod
    def make(self, feature: Feature) -> None:
        """Add the operations that make a feature. Raises TypeError for a kind that is not lathe
        work."""
        raise TypeError(f"no lathe work for {type(feature).__name__}")

    def _to_the_end(self, low: float, high: float, size: float) -> tuple[float, float]:
        """From a shoulder to the tailstock's end, where that is thicker yet: no recess is turned.

        Only where nothing that stays thicker lies on the way.
        """
        _, free = way_of(self.axis.along)
        beyond = [span for span, thick in self.stays if thick > size + THICKER_MM
                  and (below(low, span[0]) if free > 0 else below(span[1], high))]  # fmt: skip
        if not self.setup.hold.centre or beyond:
            return low, high
        thick = [s for s in self.profile.stretches if s.diameter > size + THICKER_MM]
        if free > 0:
            return low, max([high, *(s.high for s in thick)])
        return min([low, *(s.low for s in thick)]), high

    def _past_the_end(self, high: float) -> float:
        """A round that ends where the piece is parted off is turned on, past that: no shoulder is left
        for a line, a wheel or the parting tool to come up against (common practice)."""
        if self.parted is None or abs(high - self.parted[0]) > THICKER_MM:
            return high
        return min(self.parted[1], self.profile.high)

    @make.register
    def _(self, feature: f.TurnedDiameter) -> None:
        low, end = self.span(feature)
        high = self._past_the_end(end)
        size = feature.diameter
        if not self.is_fine(feature):
            low, high = self._to_the_end(low, high, size.mean_mm)
        before = self.profile.largest(low, high)
        tool = self._tool(low, high, size.mean_mm)
        after = size.mean_mm
        deepest = bending.borne_mm(self, (low, high), after)
        self.profile.turn(low, high, size.mean_mm, self.surface(feature), self.is_fine(feature))
        shoulder = high == end and self._shoulder(low, high, size.nominal_mm)
        text = f"turn {feature.name} {self.said(feature)}"
        if high > end:
            text += ", and on past where it is parted off"
        if shoulder and "round-nosed" in tool.name:
            text += ", its corners as round as the tool's nose"
        elif shoulder:
            text += ", its shoulder faced square with the tool's corner"
        rate = "finish" if self.is_fine(feature) else "turn"
        cut = cuts.turn(self.axis, (low, high), before, size.mean_mm)
        op = Op("turn", text, tool, feature, True, cut, speed=("turn", before), rate=rate,
                length_mm=high - low, stock_mm=(before - size.mean_mm) / 2,
                measures=(self.gauges.diameter(size, self.surface(feature), False),),
                note=feature.note, deepest_mm=deepest)  # fmt: skip
        self.setup.add(op)

    def _rough(self, feature: f.TurnedDiameter) -> None:
        low, end = self.span(feature)
        high, left = self._past_the_end(end), self.shop.job.series.nominal(holes.ROUGH_MM)
        after = feature.diameter.nominal_mm + left
        low, high = self._to_the_end(low, high, after)
        before = self.profile.largest(low, high)
        if before <= after + THICKER_MM:
            return
        text = (
            f"rough turn {feature.name} to"
            f" Ø{self.numbers.plain.worked(feature.diameter.nominal_mm + left)}"
        )
        cut = cuts.turn(self.axis, (low, high), before, after)
        deepest = bending.borne_mm(self, (low, high), after)
        self.setup.add(
            Op("turn", text, self._tool(low, high, after), feature, False, cut, left,
               ("turn", before), "turn", high - low, (before - after) / 2,
               deepest_mm=deepest)
        )  # fmt: skip
        self.profile.turn(low, high, after, self.surface(feature), False)

    def _down_to(self, collar: f.TurnedDiameter, beside: f.TurnedDiameter, free: int) -> None:
        """Turn what stands between a collar and the free end to the collar's size."""
        size = collar.diameter.mean_mm
        thick = [s for s in self.profile.stretches if s.diameter > size + THICKER_MM]
        a, b = self.span(collar)
        low, high = (b, max(s.high for s in thick)) if free > 0 else (min(s.low for s in thick), a)
        if not below(low, high):
            return
        before = self.profile.largest(low, high)
        cut = cuts.turn(self.axis, (low, high), before, size)
        deepest = bending.borne_mm(self, (low, high), size)
        self.setup.add(
            Op("turn", f"turn the bar from its end to the collar to Ø{self.numbers.plain.worked(size)}",
               self.shop.turning("turning", self.metal), beside, False, cut,
               size - beside.diameter.nominal_mm, ("turn", before), "turn", high - low,
               (before - size) / 2, deepest_mm=deepest)
        )  # fmt: skip
        self.profile.turn(low, high, size, self.surface(beside), False)

    def _tool(self, low: float, high: float, size: float) -> Tool:
        """A turning tool; a round-nosed one between what is thicker on both sides: no corner of a knife
        tool comes in there."""
        thick = [s for s in self.profile.stretches if s.diameter > size + COLLAR_MM]
        for at in (low - BESIDE_MM, high + BESIDE_MM):
            if not any(below(s.low, at) and below(at, s.high) for s in thick):
                return self.shop.turning("turning", self.metal)
        kind = "grooving" if self._shoulder(low, high, size) else "round-nosed"
        return replace(self.shop.turning(kind, self.metal), kind="grooving tool")

    def _shoulder(self, low: float, high: float, size: float) -> bool:
        """Whether something thicker stands beside it."""
        return any(s.diameter > size + SHOULDER_MM for s in self.profile.beside(low, high))

    def _close(self, feature: f.FacedShoulder) -> None:
        """Face a shoulder as far as the rough round in its middle."""
        low, high = self.span(feature)
        before = self.profile.largest(low, high)
        inner = self._beside(low, high)
        tail = way_of(self.axis.along)[1] > 0
        keeps = ("-" if tail else "+") + self.axis.along[1]
        cut = cuts.face(self.axis, low if tail else high, keeps, before, high - low)
        self.setup.add(
            Op("face", f"face off what stands before the {feature.name}, {self.said(feature)}, from the"
               " outside in", self.shop.turning("facing", self.metal), feature, False, cut,
               speed=("face", before), rate="face", length_mm=(before - inner) / 2, stock_mm=high - low)
        )  # fmt: skip
        self.profile.turn(low, high, inner, f"{feature.name}.round", False)

    @make.register
    def _(self, feature: f.FacedShoulder) -> None:
        low, high = self.span(feature)
        wide = self.profile.largest(low - 1.0, high + 1.0)
        usual = self.shop.job.series.tolerance(RUN_OUT_MM)
        within, words = run_out(self.on.part, feature, usual, self.numbers)
        said = f"runs true and flat by indicator, within {words}"
        true = Measure(said, "runout", 0.0, within,
                       f"{feature.name}.start", f"{feature.name}.start", INDICATOR)  # fmt: skip
        self.setup.add(
            Op(
                "face",
                f"face the {feature.name} true with a last light cut",
                self.shop.turning("facing", self.metal),
                feature,
                True,
                cuts.along((low, high)),
                speed=("face", wide),
                rate="face",
                length_mm=wide / 2,
                measures=(true,),
                note=feature.note,
            )
        )

    def _beside(self, low: float, high: float) -> float:
        """The thinner of what stands on either side."""
        return min((s.diameter for s in self.profile.beside(low, high)), default=0.0)

    @make.register
    def _(self, feature: f.TurnedBall) -> None:
        low, high = self.span(feature)
        size = feature.diameter
        before = self.profile.largest(low, high)
        tool = Tool("form tool", "HSS form tool, or steps and a file to a template")
        text = f"round the {feature.name}: {self.said(feature)}"
        centre = self.setup.hold.centre
        if centre and (
            low <= self.profile.low if centre.end[0] == "-" else high >= self.profile.high
        ):
            text += "; the small centre hole stays"
        self.setup.add(
            Op("ball", text, tool, feature, True,
               cuts.along((low, high)), speed=("part", before), rate="form", length_mm=high - low,
               stock_mm=(before - size.nominal_mm) / 2 + 1,
               measures=(self.gauges.diameter(size, self.surface(feature), False),),
               note=feature.note,
               caution=FILED)
        )  # fmt: skip
        self.profile.turn(low, high, size.nominal_mm, f"{feature.name}.round", True)

    @make.register
    def _(self, feature: f.Hole) -> None:
        made = holes.axial(feature, self)
        self.setup.add(*made)

    @make.register
    def _(self, feature: f.Thread) -> None:
        self.setup.add(*screwed.threaded(feature, self))
        self.profile.mark(*self.span(feature))
        root = thread(feature.thread).minor_external_mm
        self.profile.cores.append(Stretch(*self.span(feature), root, self.surface(feature)))

    def groove(self, later: Iterable[Feature]) -> None:
        """Turn the grooves of threads that are cut when the centre is drawn back."""
        for one in later:
            if isinstance(one, f.Thread):
                self.grooved[one.name] = screwed.run_out(one, self, *self.span(one))
                self.setup.add(*self.grooved[one.name])

    @make.register
    def _(self, feature: f.Knurl) -> None:
        self.setup.add(*knurled.knurled(feature, self))

    @make.register
    def _(self, feature: f.EngravedScale) -> None:
        if not dividing(feature.divisions, self.shop).on_spindle:
            self.deferred.append(feature)
            return
        self.setup.add(*self.scale(feature))

    def scale(self, feature: f.EngravedScale) -> tuple[Op, ...]:
        """Divide and cut the lines; the numerals are stamped afterwards."""
        how = dividing(feature.divisions, self.shop)
        low, high = self.span(feature)
        lines = Op(
            "engrave", f"divide and cut {self.said(feature)} by {how.by}: {how.words}. Lengths of the"
            " lines by the dial-engraving table",
            Tool("graver", "pointed tool, 60 degrees"), feature, True,
            cuts.along((low, high)), minutes=0.4 * feature.divisions, caution=LOCKED, note=feature.note,
            divided=how.record,
            measures=(by_eye("lines sharp, the last meets the first", self.surface(feature),
                             "eye-glass"),),
        )  # fmt: skip
        self.profile.mark(low, high)
        self.scales.append(feature)
        return (lines,)

    def stamped(self) -> Op:
        """The numerals of a scale."""
        return Op(
            "stamp", "stamp the numerals by the dial-engraving table, in a guide block."
            f" Numbered {NUMBERED}. Numerals {UPRIGHT}",
            Tool("punches", "figure punches and a guide block"), minutes=10.0,
            measures=(by_eye("every numeral by its line", "blank.-x", "eye-glass"),),
            caution="Goggles: punches chip",
        )  # fmt: skip

    @make.register
    def _(self, feature: f.IndexMark) -> None:
        low, high = self.span(feature)
        measure: tuple[Measure, ...] = (
            by_eye(feature.check[0], self.surface(feature), feature.check[1]),
        )
        self.setup.add(
            Op("engrave", f"cut the {feature.name}, {self.said(feature)}, spindle locked, the tool on"
               " its side drawn along by the top slide; ink it",
               Tool("graver", "pointed tool, 60 degrees, on its side"), feature, True,
               cuts.along((low, high)), minutes=3.0, measures=measure, note=feature.note,
               caution=LOCKED)
        )  # fmt: skip
        self.profile.mark(low, high)
