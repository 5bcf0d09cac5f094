"""What a shop has, said or assumed: a usual home shop fills in what its job does not say.

Imported by whatever plans the making and whatever checks the plan, so that both know one shop. Lengths
in mm. What is assumed is common practice for a home shop: a small lathe with its fittings, the usual
sets of tools, and no machine that the job does not name.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor

from parts.standard.threads import thread
from parts.value import Value
from planner.job.tables import Job
from planner.words.lengths import RULE_MM

GEARS = (*range(20, 85, 5), 63)
"""Change gears of a usual set: 20 to 80 by fives, and 63 for inch threads (common practice)."""

LARGEST_DIE_MM = 12.0
"""A usual set of dies ends here (common practice)."""


SLIDE_TRAVEL_MM = 75.0
"""A milling slide of a small lathe travels so far up and down, 3 in (common practice: 60 to 100 mm)."""

UNDER_MM = 0.1
"""What is turned to a size by name is under it by no more: a journal's fit, what a thread is cut on
(ISO 286 h11 up to 18 mm is 0.11, from memory)."""


class Range(Value, frozen=True):
    """From the least to the most, mm."""

    least_mm: float
    most_mm: float

    def takes(self, size_mm: float) -> bool:
        """Whether a size lies in it."""
        return self.least_mm - 1e-6 <= size_mm <= self.most_mm + 1e-6

    def grips(self, size_mm: float) -> bool:
        """Whether jaws of this range close on a round: it is said in sizes by name, and what is turned
        to one of them is under it by its limits (UNDER_MM)."""
        return self.takes(size_mm) or self.takes(size_mm + UNDER_MM)


THROUGH_MM = 0.2
"""What goes through a bore is thinner than it by so much at least: a drawn bar is not quite round nor
straight (common practice)."""


class Kit(Value, frozen=True):
    """The shop as it is taken to be; what it has none of is an empty tuple, None or False.

    chuck_depth_mm: how far back from the jaws' front work goes that is no thicker than chuck_bore_mm.
    drills_to_mm: the set goes to this, and ``drills`` are the larger ones. assumed: every assumption,
    in words and with the key that says otherwise. slide_travel_mm: of the milling slide, up and down;
    cross_travel_mm: of the cross slide that it stands on, None where it is not said.
    """

    three_jaw: Range
    three_jaw_inside: Range
    four_jaw: Range | None
    collets: tuple[float, ...]
    faceplate_mm: float | None
    chuck_bore_mm: float
    chuck_depth_mm: float
    between_centres_mm: float | None
    steady_mm: float | None
    travelling_steady: bool
    live_centre: bool
    dead_centre: bool
    change_gears: tuple[int, ...]
    die_holder: bool
    knurling_tool: bool
    drills_to_mm: float
    drills: tuple[float, ...]
    reamers: tuple[float, ...]
    taps: tuple[str, ...]
    dies: tuple[str, ...]
    end_mills: tuple[float, ...]
    counterbores: tuple[float, ...]
    slitting_saws: tuple[float, ...]
    boring_bars: tuple[float, ...]
    micrometers: tuple[Range, ...]
    slide_travel_mm: float
    cross_travel_mm: float | None
    assumed: tuple[tuple[str, str], ...]

    def passes(self, thick_mm: float) -> bool:
        """Whether work so thick goes on behind the jaws."""
        return thick_mm + THROUGH_MM <= self.chuck_bore_mm + 1e-6

    def steadies(self, thick_mm: float) -> bool:
        """Whether its fixed steady goes round work so thick."""
        return self.steady_mm is not None and thick_mm <= self.steady_mm + 1e-6


def kit(job: Job) -> Kit:
    """The kit of a job's shop."""
    return _Reader(job).kit()


class _Reader:
    """Reads the shop and notes what it had to assume."""

    def __init__(self, job: Job) -> None:
        self.job, self.numbers = job, job.numbers
        self.assumed: list[tuple[str, str]] = []

    def kit(self) -> Kit:
        lathe, shop, inch = self.job.lathe, self.job.shop, self.job.inch
        chuck = lathe.chuck_diameter
        unit = 25.4 if inch else 25.0
        three = self.span("lathe.three_jaw_outside", lathe.three_jaw_outside, chuck / 50,
                          0.95 * chuck, "the three-jaw chuck grips")  # fmt: skip
        inside = self.span("lathe.three_jaw_inside", lathe.three_jaw_inside, chuck / 4,
                           0.9 * chuck, "the three-jaw chuck grips from inside")  # fmt: skip
        four = self.span("lathe.four_jaw_outside", lathe.four_jaw_outside, chuck / 20,
                         0.95 * chuck, "a four-jaw chuck that grips")  # fmt: skip
        bore = self.length("lathe.chuck_bore", lathe.chuck_bore, lathe.spindle_bore or chuck / 5,
                           "work that goes back through the jaws, up to")  # fmt: skip
        deep = self.length("lathe.chuck_depth", lathe.chuck_depth,
                           10_000.0 if lathe.spindle_bore else 0.8 * chuck,
                           "such work back from the jaws' front as deep as")  # fmt: skip
        steady = self.length("lathe.steady", lathe.steady, 0.4 * chuck, "a fixed steady up to")
        plate = self.length("lathe.faceplate", lathe.faceplate, 1.5 * chuck, "a faceplate of")
        if "centres" not in lathe.model_fields_set:
            self.note("lathe.centres", "a live and two dead centres")
        gears = tuple(lathe.change_gears or ()) if lathe.change_gears is not None else GEARS
        if lathe.change_gears is None:
            self.note("lathe.change_gears", "change gears of 20 to 80 teeth by fives, and 63")
        for key, words in (
            ("travelling_steady", "a travelling steady"),
            ("tailstock_die_holder", "a die holder for the tailstock"),
            ("knurling_tool", "a knurling tool"),
        ):
            if key not in lathe.model_fields_set:
                self.note(f"lathe.{key}", words)
        drills_to = self.length("shop.drills_to", shop.drills_to, 12.7 if inch else 13.0,
                                "a set of drills up to")  # fmt: skip
        ends = self.sizes("shop.end_mills", shop.end_mills, (6.0, 8.0, 10.0, 12.0, 16.0),
                          [n / 16 * 25.4 for n in (4, 5, 6, 8, 10)], "end mills of")  # fmt: skip
        bars = self.sizes("shop.boring_bars", shop.boring_bars, (6.0, 10.0, 12.0),
                          [n / 8 * 25.4 for n in (2, 3, 4)], "boring bars of")  # fmt: skip
        dies = shop.dies
        if dies is None:
            dies = [one for one in shop.taps if thread(one).major_mm <= LARGEST_DIE_MM]
            self.note("shop.dies", "dies for the threads there are taps for")
        gauges = shop.measuring
        spans = gauges.micrometers
        if spans is None:
            spans = [[0.0, unit], [unit, 2 * unit]]
            ranges = ", ".join(self.numbers.micrometer_range(low + 0.5 * unit) for low, _ in spans)
            self.note("shop.measuring.micrometers", f"micrometers {ranges}")
        for key, words in _GAUGES.items():
            if key not in gauges.model_fields_set and getattr(gauges, key):
                self.note(f"shop.measuring.{key}", words)
        return Kit(
            three_jaw=three, three_jaw_inside=inside,
            four_jaw=four if four.most_mm else None,
            collets=tuple(sorted(lathe.collets)), faceplate_mm=plate or None,
            chuck_bore_mm=bore, chuck_depth_mm=deep,
            between_centres_mm=lathe.between_centres, steady_mm=steady or None,
            travelling_steady=lathe.travelling_steady,
            live_centre="live" in lathe.centres, dead_centre="dead" in lathe.centres,
            change_gears=gears, die_holder=lathe.tailstock_die_holder,
            knurling_tool=lathe.knurling_tool,
            drills_to_mm=drills_to, drills=tuple(sorted(shop.drills)),
            reamers=tuple(sorted(shop.reamers)), taps=tuple(shop.taps), dies=tuple(dies),
            end_mills=ends, counterbores=tuple(sorted(shop.counterbores)),
            slitting_saws=tuple(sorted(shop.slitting_saws)), boring_bars=bars,
            micrometers=tuple(Range(low, high) for low, high in spans),
            slide_travel_mm=self.slide_travel(),
            cross_travel_mm=(lathe.post_farthest - lathe.post_nearest
                             if lathe.post_farthest is not None and lathe.post_nearest is not None
                             else None),
            assumed=tuple(self.assumed),
        )  # fmt: skip

    def slide_travel(self) -> float:
        """What a milling slide travels up and down, 0 where there is none."""
        owned = self.job.shop.machines.get("milling slide")
        if owned is None:
            return 0.0
        usual = 3 * 25.4 if self.job.inch else SLIDE_TRAVEL_MM
        return self.length('shop.machines."milling slide".travel', owned.travel, usual,
                           "a milling slide that travels up and down")  # fmt: skip

    def note(self, key: str, words: str) -> None:
        """Keep an assumption."""
        self.assumed.append((key, words))

    def round(self, usual: float, way: Callable[[float], int]) -> float:
        """A usual length, up or down: of an inch shop to a sixteenth, else to half a millimetre."""
        step = self.job.series.step_mm if self.job.inch else RULE_MM
        return way(round(usual / step, 6)) * step

    def length(self, key: str, said: float | None, usual: float, words: str) -> float:
        """A length that is said, or the usual one, noted."""
        if said is not None:
            return said
        if usual < 10_000:
            usual = self.round(usual, floor)
            self.note(key, f"{words} {self.numbers.size(usual)}")
        return usual

    def span(
        self, key: str, said: Sequence[float] | None, low: float, high: float, words: str
    ) -> Range:
        """A range that is said, or the usual one, noted."""
        if said is not None:
            return Range(*said)
        low, high = self.round(low, ceil), self.round(high, floor)
        self.note(key, f"{words} {self.numbers.plain.size(low)} to {self.numbers.size(high)}")
        return Range(low, high)

    def sizes(
        self, key: str, said: Sequence[float] | None, metric: Sequence[float], inch: Sequence[float],
        words: str,
    ) -> tuple[float, ...]:  # fmt: skip
        """Sizes that are said, or the usual ones, noted."""
        if said is not None:
            return tuple(sorted(said))
        usual = inch if self.job.inch else metric
        *some, last = usual
        listed = ", ".join(
            [*(self.numbers.plain.size(one) for one in some), self.numbers.size(last)]
        )
        self.note(key, f"{words} {listed}")
        return tuple(usual)


_GAUGES = {
    "telescoping_gauges": "telescoping gauges",
    "gauge_blocks": "a set of gauge blocks",
    "dial_indicator": "a dial indicator with its stand",
    "v_blocks": "a pair of V-blocks",
    "surface_plate": "a surface plate, or float glass",
}
