"""What the strength refuses or warns of, each with the size that would do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil
from typing import Any

from msgspec.structs import replace

from parts.lever import CLOCKED_DEG
from parts.sizes import Sizes
from parts.standard.bolts import proof_MPa
from parts.standard.errors import UnknownSize
from parts.standard.sections import Section
from parts.standard.threads import thread, threads
from parts.value import Value
from planner.checking.strength.chain import deflection_links, levers, rod_free_mm
from planner.checking.strength.model import Hold, Load, StrengthReport
from planner.checking.strength.report import HOUSING, counted
from planner.checking.strength.shank import bare_mm, waist_mm
from planner.checking.strength.stresses import (
    LEAST_SAFETY,
    SCREW_CLASS,
    clamp_hinge,
    screw_x_mm,
    strengths,
)
from planner.job.tables import Job
from planner.sizing.clamping import ABUSE_N, HAND_N, LEAST_PRELOAD
from planner.sums import mechanics as m
from planner.words.findings import Finding, finding
from planner.words.numbers import Numbers

LEAST_GRIP = 2.0
"""Grip over passive force: a clamp that may creep spoils the ball (common practice)."""

MOST_OF_PROOF = 0.8
"""Preload over proof load, at most (common practice: three quarters to nine tenths)."""

MOST_DEFLECTION_MM = 0.05
"""Radial deflection in a pass at which a spring pass no longer mends the ball (common practice)."""

MOST_OVERHANG = 4.0
"""Overhang over thickness of a steel bar above which it chatters (common practice: boring bars)."""

MOST_LEVER_N = 60.0
"""Force at the end of the clamp's lever above which a hand tires, pass after pass (common practice)."""

NEAR_MM = 3.0
"""A tool post that stands as near the tube as this cannot be brought much nearer."""

Search = Callable[[Sizes, str, Callable[[Sizes], bool]], float | str | None]
"""Finds the size by its name that a check is good with: size_that_will_do."""

MOST_HAND_N = 60.0
"""Force at the knob above which a slow swing is no longer even (common practice)."""


def strength_findings(
    found: StrengthReport, s: Sizes, job: Job, file: str, sought: bool = True
) -> list[Finding]:
    """What the strength refuses or warns of, each with the size that would do.

    sought: look for those sizes, which takes a hundred times as long as to find what is wrong.
    """
    return list(_findings(found, s, job, file, size_that_will_do if sought else _not_sought))


def _findings(
    found: StrengthReport, s: Sizes, job: Job, file: str, size_enough: Search
) -> Iterator[Finding]:
    hold, load, torque = found.hold, found.load, job.turning.clamp_torque
    say = job.numbers

    def thicken(name: str, good: Callable[[Sizes], bool], otherwise: str) -> str:
        enough = size_enough(s, name, good)
        if enough is None:
            return otherwise[0].upper() + otherwise[1:]
        least = say.stock_at_least if name.endswith("stock") else say.at_least
        shown = enough if isinstance(enough, str) else least(enough)
        return f"Make {name} at least {shown}, or {otherwise}"

    for one in found.strengths:
        if not one.safety >= LEAST_SAFETY:
            less = "tighten less" if one.name.startswith("clamp") else "cut less"

            def holds(trial: Sizes, name: str = one.name) -> bool:
                found = next(x for x in strengths(trial, load, torque) if x.name == name)
                return found.safety >= LEAST_SAFETY

            yield finding(
                one.code,
                file,
                f"attachment.sizes.{one.thicken}",
                f"{one.name} bears {say.stress(one.stress_MPa)} of {say.stress(one.limit_MPa)}",
                f"safety {one.safety:.2f}, needs {LEAST_SAFETY:g}",
                thicken(one.thicken, holds, less),
                source=one.source,
            )
    if hold.share_of_proof > MOST_OF_PROOF:
        yield finding(
            "screw-preload",
            file,
            "turning.clamp_torque",
            f"{say.torque(hold.torque_Nm)} loads the clamp's stud to {hold.share_of_proof:.2f} of its"
            " proof",
            f"at most {MOST_OF_PROOF:g}",
            f"Tighten to {say.torque(hold.torque_Nm * MOST_OF_PROOF / hold.share_of_proof)} at most",
            source="F = T / (K d), K of Shigley 9th ed., table 8-15; proof stress of ISO 898-1",
        )
    if hold.engaged_mm < hold.needed_mm:
        yield finding(
            "thread-engagement",
            file,
            "attachment.sizes.clamp_screw",
            f"the clamp's stud is {say.length(hold.engaged_mm)} deep in its thread",
            f"at this torque it needs {say.at_least(hold.needed_mm)}",
            f"Tighten to {say.torque(hold.torque_Nm * hold.engaged_mm / hold.needed_mm)} at most, or"
            " use a larger clamp_screw",
            source="shear area of internal threads, Machinery's Handbook",
        )
    yield from _lever(hold, s, job, file)
    if hold.factor < LEAST_GRIP:
        yield finding(
            "grip",
            file,
            "attachment.sizes.clamp_screw",
            f"the clamp grips {say.force(hold.grip_N)} against a passive force of"
            f" {say.force(load.passive_N)}",
            f"{hold.factor:.1f} times, needs {LEAST_GRIP:g}",
            _more_grip(s, load, hold, torque is None, job.numbers, size_enough),
            severity="refused" if hold.factor < 1.0 else "warning",
            source="2 mu F on two lines of the rod, with the least preload",
        )
    sprung = abs(found.sprung_mm)  # off the work or, below nothing, toward it
    most = job.series.limit(MOST_DEFLECTION_MM)
    if sprung > most:
        weakest = max(found.links, key=lambda link: link.sprung_mm * found.sprung_mm)

        def stiff(trial: Sizes) -> bool:
            links = counted(deflection_links(trial, load), found.arrangement)
            return abs(sum(x.sprung_mm for x in links)) <= most

        yield finding(
            "deflection",
            file,
            f"attachment.sizes.{weakest.thicken}",
            f"the tip springs {say.fine_up(sprung)} in the pass, passive and main force together,"
            f" {say.share(weakest.sprung_mm / found.sprung_mm)} of it the {weakest.name}",
            f"more than {say.within(most)}",
            _stiffer(found, s, stiff, say, size_enough)
            or thicken(weakest.thicken, stiff, "take less depth"),
            source="beams in series, the shank on the strip that it is joined by",
        )
    if hold.hand_N > MOST_HAND_N:
        longer = say.at_least(s.handle_length_mm * hold.hand_N / MOST_HAND_N)
        yield finding(
            "hand-force",
            file,
            "attachment.sizes.handle_length",
            f"the knob needs {say.force(hold.hand_N)}",
            f"more than {say.force(MOST_HAND_N)} is not swung evenly",
            f"Make handle_length at least {longer}, or cut less",
            source="feed force times radius over handle; common practice",
        )
    for bar in overhangs(s):
        if found.arrangement == "upright" and bar.thicken in HOUSING:
            continue
        if bar.ratio > MOST_OVERHANG:
            enough = say.stock_at_least(bar.thick_mm * bar.ratio / MOST_OVERHANG)
            yield finding(
                bar.code,
                file,
                f"attachment.sizes.{bar.thicken}",
                f"the {bar.name} overhangs {bar.ratio:.1f} times its thickness",
                f"more than {MOST_OVERHANG:g}: it will chatter",
                f"Make {bar.thicken} at least {enough} thick, or shorten what overhangs",
                source="common practice",
            )


def _lever(hold: Hold, s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    """What a hand in anger breaks, and a torque asked for that no hand gives by this lever."""
    say, key = job.numbers, "attachment.sizes.lever_length"
    if hold.abuse_safety < 1.0 or hold.abuse_share > MOST_OF_PROOF:
        torn = hold.abuse_safety < 1.0
        yield finding(
            "lever-abuse",
            file,
            "attachment.sizes.hinge" if torn else "attachment.sizes.clamp_screw",
            f"{say.force(ABUSE_N)} at the end of the clamp's lever once",
            f"bends the hinge past its yield, {hold.abuse_safety:.2f} of what it needs"
            if torn
            else f"loads the stud to {hold.abuse_share:.2f} of its proof, at most {MOST_OF_PROOF:g}",
            "Make hinge thicker or lever_length less"
            if torn
            else "Use a larger clamp_screw or make lever_length less",
            source="T = K F d; the hinge as in its own check",
        )
    if hold.turn_deg > CLOCKED_DEG:
        yield finding(
            "lever-turn",
            file,
            "attachment.sizes.clamp_screw",
            f"the clamp's lever turns {say.angle(hold.turn_deg)} from slack to tight",
            f"more than {say.angle(CLOCKED_DEG)}: slack it stands out toward the blank",
            "Use a larger clamp_screw, of a coarser pitch, or tighten less",
            source="the rod's clearance by the leaf's lever, and the stud's stretch, over its pitch",
        )
    if hold.lever_N > MOST_LEVER_N:
        enough = say.at_least(s.lever_length_mm * hold.lever_N / MOST_LEVER_N)
        yield finding(
            "lever-force",
            file,
            key,
            f"{say.torque(hold.torque_Nm)} takes {say.force(hold.lever_N)} at the end of the clamp's"
            " lever",
            f"more than {say.force(MOST_LEVER_N)} at every pass tires the hand",
            f"Make lever_length at least {enough}, or tighten less",
            source="torque over length; common practice",
        )


def _stiffer(
    found: StrengthReport,
    s: Sizes,
    good: Callable[[Sizes], bool],
    say: Numbers,
    size_enough: Search,
) -> str | None:
    """What to do where the shank has more than half of the spring; None where it has not.

    Its bare length before the post tells by the third power. A larger shank is named only where the
    tool post takes it.
    """
    shank = [link for link in found.links if link.thicken == "shank_stock"]
    if sum(link.sprung_mm for link in shank) <= found.sprung_mm / 2:
        return None
    ways = []
    bare = float(bare_mm(s))
    if bare > NEAR_MM:
        ways.append(f"bring the tool post nearer to the tube, {say.length(bare)} of shank are bare")
    enough = size_enough(s, "shank_stock", good)
    if isinstance(enough, float) and enough <= s.largest_shank_mm:
        ways.append(f"make shank_stock at least {say.stock_at_least(enough)}")
    text = ", or ".join([*ways, "take less depth"])
    return text[0].upper() + text[1:]


class Overhang(Value, frozen=True):
    """What may chatter: code of its finding, how far it overhangs and how thick it is, mm.

    thicken: the size that mends it.
    """

    code: str
    name: str
    far_mm: float
    thicken: str
    thick_mm: float

    @property
    def ratio(self) -> float:
        """Overhang over thickness."""
        return self.far_mm / self.thick_mm


def overhangs(s: Sizes) -> tuple[Overhang, ...]:
    """What may chatter of an attachment."""
    at = levers(s)
    rod, waist = float(rod_free_mm(s, s.tip_radius_max_mm)), float(waist_mm(s))
    return (
        Overhang("arm-overhang", "arm", at.rod, "arm_stock", s.arm_stock.height_mm),
        Overhang("rod-overhang", "rod", rod, "rod_diameter", s.rod_diameter_mm),
        Overhang("bit-overhang", "tool bit", s.bit_stickout_mm, "bit_stock", s.bit_stock.width_mm),
        Overhang("shank-overhang", "bare shank", float(bare_mm(s)), "shank_stock", waist),
    )


def _more_grip(
    s: Sizes, load: Load, hold: Hold, by_lever: bool, numbers: Numbers, size_enough: Search
) -> str:
    """The torque that grips enough, or the lever; where the stud would not bear it, the stud that does.

    by_lever: the torque follows from the lever's length.
    """
    hinge = clamp_hinge(s)
    lever = (screw_x_mm(s) + hinge.behind_mm) / hinge.radius_mm
    each = m.slit_grip_N(1.0, 0.0, lever)
    needed = (hold.closing_N + LEAST_GRIP * load.passive_N / each) / LEAST_PRELOAD
    wanted = hold.torque_Nm * needed / hold.preload_N
    if hold.share_of_proof * needed / hold.preload_N <= MOST_OF_PROOF:
        if by_lever:
            return f"Make lever_length at least {numbers.at_least(wanted / HAND_N * 1000)}"
        return f"Tighten to {numbers.torque(ceil(wanted * 10) / 10)}"

    def bears(trial: Sizes) -> bool:
        size = thread(trial.clamp_screw)
        proof = proof_MPa(SCREW_CLASS, size.major_mm) * size.stress_area_mm2
        return needed <= MOST_OF_PROOF * proof

    larger = size_enough(s, "clamp_screw", bears)
    return f"Use clamp_screw {larger} or larger, or cut less" if larger else "Cut less"


def _not_sought(_: Sizes, __: str, ___: Callable[[Sizes], bool]) -> float | str | None:
    """No size is looked for."""
    return None


def size_that_will_do(s: Sizes, name: str, good: Callable[[Sizes], bool]) -> float | str | None:
    """The least larger size with which a check is good, the others as they are; None when none is.

    name: of a length, a section (its thickness, or the width of a round, square or tube) or a thread,
    as in a job file. Lengths and sections are tried to ten times as large.
    """
    field = name if hasattr(s, name) else f"{name}_mm"
    value = getattr(s, field)

    def works(size: Any) -> bool:
        try:
            return good(replace(s, **{field: size}))
        except (m.NotSound, UnknownSize):
            return False

    if isinstance(value, str):
        now = thread(value)
        larger = (x for x in threads(now.system) if x.series == now.series)
        names = (x.designation for x in larger if x.major_mm > now.major_mm)
        return next((designation for designation in names if works(designation)), None)
    flat = isinstance(value, Section) and value.shape == "flat"
    base = value if not isinstance(value, Section) else value.height_mm

    def sized(mm: float) -> float | Section:
        if not isinstance(value, Section):
            return mm
        return replace(value, thickness_mm=mm) if flat else replace(value, width_mm=mm)

    steps = (base * 1.05**step for step in range(1, 49))
    high = next((mm for mm in steps if works(sized(mm))), None)
    if high is None:
        return None
    low = high / 1.05
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (low, middle) if works(sized(middle)) else (middle, high)
    return high
