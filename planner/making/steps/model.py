"""What a step is, what a rule may ask while it makes steps, and the question itself."""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch

from parts.features import Feature
from parts.standard.series import Series
from planner.making.callouts import callout
from planner.making.machines import Workshop
from planner.words.numbers import Numbers

ROUGH_MM = 0.5
"""What roughing leaves on a diameter to finish (common practice)."""

IN_PLACE = "in place: work on the cross slide, tool in the spindle"


@dataclass(frozen=True)
class Step:
    """One step toward a feature, before it is placed in the sequence.

    kind: a key of making.sequence.RANK; work: a key of machines.PREFERENCE; holding: how it is held,
    "" for the piece's own way; tool and text: as a shop says it; speed: (operation, diameter in mm)
    or None. gauge: what measures it; of a step with nothing to measure, what its place is laid out by.
    """

    kind: str
    work: str
    text: str
    tool: str
    holding: str = ""
    speed: tuple[str, float] | None = None
    measure: str = ""
    gauge: str = ""


@dataclass(frozen=True)
class Work:
    """What a rule may ask while it makes steps: the shop, the stock under the feature.

    diameter_mm: what swings when the feature is turned; hole_mm: the hole that is there already
    (a tube's), 0 for none; axial: on the lathe's own axis.
    """

    shop: Workshop
    diameter_mm: float
    hole_mm: float
    axial: bool

    @property
    def tool(self) -> str:
        """What the shop's turning tools are made of."""
        return self.shop.tool

    @property
    def numbers(self) -> Numbers:
        """How to write numbers."""
        return self.shop.numbers

    @property
    def series(self) -> Series:
        """The series of the design's sizes."""
        return self.shop.job.series

    @property
    def inch(self) -> bool:
        """Whether to choose among inch drills."""
        return self.shop.job.inch

    def callout(self, feature: Feature) -> str:
        """The call-out of a feature in the job's language of numbers."""
        return callout(feature, self.numbers)


@singledispatch
def steps(feature: Feature, work: Work) -> tuple[Step, ...]:
    """The steps that make a feature, in order; the last one finishes it."""
    raise TypeError(f"no operation rule for {type(feature).__name__}")
