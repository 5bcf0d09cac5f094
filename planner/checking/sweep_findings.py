"""What the sweep of a ball refuses or warns of: one wording, for the check and for the turning.

The distances are checking.clearance's. Imported by checking.search, turning.findings and output.plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from planner.checking.clearance import BallClearance
from planner.job.tables import Job
from planner.words.findings import Finding, finding
from planner.words.register import Severity

GEOMETRY = "geometry of the sweep"
"""The source of every finding made here."""

MOST_STICK_OUT = 4.0
"""A blank that sticks out of the chuck by more of its diameters chatters (common practice)."""


def clearance_findings(
    found: Sequence[BallClearance], s: Takes, job: Job, file: str
) -> list[Finding]:
    """What the clearances of the check refuse or warn of."""
    told: list[Finding] = []
    for clear in found:
        ball = SweepFindings(clear, s, job, file)
        told += ball.refusals()
        told += ball.reach()
        told += ball.short_sweep()
        told += ball.stick_out()
    return told


class Takes(Protocol):
    """What a head takes: its ball sizes, and the clearance that it keeps, mm."""

    @property
    def max_ball_diameter_mm(self) -> float:
        """The largest ball."""

    @property
    def min_ball_diameter_mm(self) -> float:
        """The smallest ball."""

    @property
    def clearance_mm(self) -> float:
        """Kept between moving and standing things."""


def beside_blank(
    name: str, blank_mm: float, key: str, stands_mm: float, s: Takes, job: Job, file: str
) -> Iterator[Finding]:
    """The body that swings beside a blank, stands_mm from the plane of the swing; name: of the ball or
    hollow that is turned from it."""
    if stands_mm - blank_mm / 2 >= s.clearance_mm - 1e-6:
        return
    most = job.numbers.at_most(2 * (stands_mm - s.clearance_mm))
    yield finding(
        "beside-blank",
        file,
        key,
        f"blank {job.numbers.length(blank_mm)}",
        f"the body stands beside a blank of at most {most}",
        "Turn it down first, or raise attachment.max_blank_diameter and build for it",
        subject=name,
        source=GEOMETRY,
    )


class SweepFindings:
    """The findings on one ball's sweep; each method yields those of its kind, or nothing.

    s: what the head takes; job, file: whose findings they are.
    """

    def __init__(self, found: BallClearance, s: Takes, job: Job, file: str) -> None:
        self.found, self.s, self.job, self.file = found, s, job, file
        self.mm, self.clear = job.numbers.length, job.numbers.clearance

    def refusals(self) -> Iterator[Finding]:
        """Why the ball cannot be turned at all."""
        yield from self._size()
        yield from self._centre()
        yield from self._cross_slide()
        ball = self.found.ball
        key = "attachment.sizes.arm_overhang" if ball.bound else self._key()
        stands = self.found.beside_mm + ball.blank_mm / 2
        yield from beside_blank(ball.name, ball.blank_mm, key, stands, self.s, self.job, self.file)

    def _size(self) -> Iterator[Finding]:
        ball, s = self.found.ball, self.s
        value = f"ball {self.mm(ball.diameter_mm)}"
        if ball.diameter_mm > s.max_ball_diameter_mm + 1e-6:
            limit = f"the attachment takes {self.mm(s.max_ball_diameter_mm)}"
            remedy = "Turn a smaller ball, or raise attachment.max_ball_diameter and build for it"
            yield self._told("ball-size", self._key(), value, limit, remedy)
        if ball.diameter_mm < s.min_ball_diameter_mm - 1e-6:
            limit = f"the head comes in to {self.mm(s.min_ball_diameter_mm)}"
            remedy = "Turn a larger ball, or lower attachment.min_ball_diameter and build for it"
            yield self._told("ball-size", self._key(), value, limit, remedy)

    def _centre(self) -> Iterator[Finding]:
        if self.found.start_deg < 90.0:
            return
        centre, ball = self.job.turning.tailstock_centre, self.found.ball
        assert centre is not None  # without one the sweep begins at the nose
        yield self._told(
            "centre",
            "turning.tailstock_centre",
            f"the tailstock centre, {self.mm(centre.diameter)} thick, holds the head back past"
            " the equator",
            "the sweep must begin before it",
            "Use a slimmer centre, or none for this ball",
            severity="note" if ball.bound and ball.name == "smallest" else "refused",
        )

    def _cross_slide(self) -> Iterator[Finding]:
        found, s, key = self.found, self.s, "lathe.spindle_over_cross_slide"
        if found.cross_slide_mm >= s.clearance_mm - 1e-6:
            return
        if found.arrangement == "upright":
            high = found.cross_slide_by.distance_mm
            have = self.job.lathe.spindle_over_cross_slide
            there, need = self.job.numbers.apart(have, high + s.clearance_mm)
            yield self._told(
                "cross-slide",
                key,
                f"head, block and bearing stand {self.clear(high)} high under the spindle;"
                f" {there} is there",
                f"needs {need}",
                "Let the bearing into the slide's T-slot plate, make housing_length less, or turn a"
                " smaller ball",
            )
            return
        by = found.cross_slide_by.name
        clears, need = self.job.numbers.apart(found.cross_slide_mm, s.clearance_mm)
        value = f"{by} clears the cross slide by {clears}"
        remedy = "Turn a smaller ball"
        if self.job.own_head is None:
            remedy += ", or let pommel choose the sizes"
        yield self._told("cross-slide", key, value, f"needs {need}", remedy)

    def reach(self) -> Iterator[Finding]:
        """Whether carriage and tailstock come where this ball needs them."""
        found, lathe = self.found, self.job.lathe
        if found.arrangement != "across":
            return
        have = lathe.post_to_jaws
        if have is not None and found.post_from_jaws_mm < have - 1e-6:
            comes, must, lacks = self.job.numbers.lacking(have, found.post_from_jaws_mm)
            yield self._told(
                "carriage-reach",
                "lathe.post_to_jaws",
                f"the post's middle must come to {must} from the jaws",
                f"it comes to {comes}: {lacks} too far",
                f"Let the blank stick out {lacks} more, or move the post along its slide toward the"
                " chuck",
            )
        reach = lathe.tailstock_reach
        if reach is not None and self.job.turning.tailstock_centre and found.tailstock_mm > reach:
            reaches, must, _ = self.job.numbers.lacking(reach, found.tailstock_mm)
            yield self._told(
                "tailstock-reach",
                "lathe.tailstock_reach",
                f"the centre must reach {must} past what swings at the nose",
                f"it reaches {reaches}",
                "Use a longer centre or an extension",
            )

    def short_sweep(self) -> Iterator[Finding]:
        """A sweep that a part ends before the tip meets the stem."""
        found = self.found
        if found.end_limit in ("the stem", "the equator"):
            return
        yield self._told(
            "sweep",
            "attachment.sizes.bit_stickout" if found.ball.bound else self._key(),
            f"the {found.end_limit} ends the sweep at {self.job.numbers.angle(found.end_deg)}",
            f"the tip's nose meets the stem at {self.job.numbers.angle(found.neck_deg)}",
            self._reaching(),
        )

    def _reaching(self) -> str:
        """What reaches the neck: a bit set farther out, or a thicker stem."""
        stem = f"leave a stem of at least {self.more(self.found.least_stem_mm)}"
        out = self.found.reaching_bit_mm
        if out is None:
            return stem[0].upper() + stem[1:]
        return f"Set the bit out {self.more(out)} for this ball, or {stem}"

    def stick_out(self, severity: Severity = "warning") -> Iterator[Finding]:
        """A slender blank without a centre; a note for the attachment's own smallest ball."""
        ball = self.found.ball
        out = self.found.stick_out_mm + ball.diameter_mm / 2
        slender = out / ball.blank_mm
        if slender <= MOST_STICK_OUT or self.job.turning.tailstock_centre is not None:
            return
        if ball.bound and ball.name == "smallest":
            severity = "note"
        yield self._told(
            "stick-out",
            self._key(),
            f"the blank sticks out {self.clear(out)}",
            f"{slender:.1f} of its diameters, more than {MOST_STICK_OUT:g}",
            "Hold a thicker blank, or rough it with the tailstock up",
            severity=severity,
        )

    def more(self, mm: float) -> str:
        """A least length that does, on the safe side."""
        numbers = self.job.numbers
        return numbers.at_least(mm) if self.job.inch else numbers.clearance(mm + 0.05)

    def _key(self) -> str:
        ball = self.found.ball
        return "ball" if ball.bound else f"ball.{ball.name}"

    def _told(
        self,
        code: str,
        key: str,
        value: str,
        limit: str,
        remedy: str,
        severity: Severity | None = None,
    ) -> Finding:
        name = self.found.ball.name
        return finding(
            code, self.file, key, value, limit, remedy,
            severity=severity, subject=name, source=GEOMETRY,
        )  # fmt: skip
