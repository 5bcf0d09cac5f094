"""Balls and hollows drawn by a seed, on the example lathes, for the trial of their plans."""

from __future__ import annotations

from functools import cache
from random import Random
from typing import Any

from jobs import changed
from turning.hollow_trial import HollowTrial
from turning.swinging import Head, head_of
from turning.trial import BallTrial

from parts.attachment import Attachment, attachment
from parts.sizes import Sizes
from parts.tool import nose_radius_mm
from parts.value import Value
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.sizing.apply import size_up
from planner.turning.model import Turned
from planner.turning.plan import turned

LATHES = ("bench-lathe", "engine-lathe", "inch-lathe")

Keys = dict[str, Any]

KNOB: Keys = {"name": "knob", "diameter": 40, "blank_diameter": 42, "stem_diameter": 14}
HANDLE: Keys = {
    "name": "handle",
    "shape": "taper handle",
    "diameter": 30,
    "blank_diameter": 32,
    "stem_diameter": 10,
    "stem_length": 90,
    "large_diameter": 13,
}
DISH: Keys = {
    "name": "dish",
    "shape": "socket",
    "diameter": 180,
    "depth": 3,
    "blank_diameter": 48,
}
CENTRE: Keys = {"turning.tailstock_centre": {"diameter": 8, "point_length": 10}}
DIALS: Keys = {"lathe.carriage_division": 0.1, "lathe.cross_slide_division": 0.025}


class Made(Value, frozen=True):
    """An attachment, and what swings of it."""

    attachment: Attachment
    head: Head

    @property
    def sizes(self) -> Sizes:
        """Of the attachment."""
        return self.attachment.sizes


@cache
def made_for(example: str) -> Made:
    """The attachment of an example job."""
    whole = attachment(size_up(job_from(changed(example), "job.toml"), "job.toml").sizes)
    return Made(whole, head_of(whole, nose_radius_mm(whole.sizes)))


class Case(Value, frozen=True):
    """A job of one ball or hollow, and its plan."""

    job: Job
    made: Made
    turned: Turned

    def trial(self) -> BallTrial:
        """Its ball, to be put on trial."""
        codes = {finding.code for finding in self.turned.findings}
        (plan,) = self.turned.balls
        return BallTrial(plan, self.job, self.made.head, self.made.sizes.clearance_mm, codes)

    def hollow(self) -> HollowTrial:
        """Its hollow, to be put on trial."""
        (plan,) = self.turned.sockets
        return HollowTrial(plan, self.job, self.made.sizes, self.made.head)

    @property
    def planned(self) -> bool:
        """Whether there is anything to put on trial."""
        return bool(self.turned.balls) or any(one.passes for one in self.turned.sockets)

    def faults(self) -> list[str]:
        """What the trial finds."""
        return self.trial().run() if self.turned.balls else self.hollow().run()


def case(example: str, ball: Keys | None, made_of: str = "", **keys: Any) -> Case:
    """The plan of one ball, or of the attachment's largest where none is given.

    made_of: the example whose attachment turns it, where that is another.
    """
    made = made_for(made_of or example)
    job = job_from(changed(example, ball=[ball] if ball else None, **keys), "job.toml")
    return Case(job, made, turned(made.attachment, job, "job.toml", made.head.nose_mm))


def mm(value: float) -> str:
    """A length as a job may give it, whatever its own units."""
    return f"{value:.6f} mm"


def drawn_ball(seed: int) -> Case:
    """A ball, half a ball or a ball on a handle, in any blank and with any tools."""
    rng = Random(seed)
    example = rng.choice(LATHES)
    s = made_for(example).sizes
    least, most = s.min_ball_diameter_mm, s.max_ball_diameter_mm
    across = rng.choice([least, most, *(rng.uniform(least, most) for _ in range(4))])
    thick = rng.choice([across, across + 1, across + 3, 1.2 * across, s.max_blank_diameter_mm])
    thick = min(max(across, thick), s.max_blank_diameter_mm)
    shape = rng.choice(["ball", "ball", "ball", "hemisphere", "taper handle"])
    bar = rng.choice(["round", "round", "round", "square", "hexagon"])
    ball: Keys = {"name": "drawn", "shape": shape, "blank_shape": bar}
    ball |= {"diameter": mm(across), "blank_diameter": mm(thick)}
    stem = rng.uniform(0.2, 0.6) * across
    if rng.random() < 0.5:
        ball["stem_diameter"] = mm(stem)
    else:
        stem = 0.35 * across
    if shape == "taper handle":
        ball["stem_length"] = mm(rng.choice([30.0, 80.0, 150.0]))
        ball["large_diameter"] = mm(rng.uniform(stem + 1e-3, max(stem + 2e-3, 0.95 * across)))
    elif shape == "ball":
        ball |= _stem_side(rng)
    if shape == "ball" and rng.random() < 0.4 and "second_holding" not in ball:
        ball["thread"] = rng.choice(["M4", "M5", "M6", "M8"] if across > 14 else ["M4"])
        ball["hole_depth"] = mm(rng.uniform(0.25, 0.5) * across)
    if rng.random() < 0.2:
        ball["skin"] = mm(0.3)
    return case(example, ball, **_tools(rng))


def _stem_side(rng: Random) -> Keys:
    long = rng.choice([None, 5.0, 200.0, rng.uniform(1.0, 100.0)])
    if long is not None:
        return {"stem_length": mm(long)}
    holding = rng.choice([None, "soft jaws", "cup"])
    return {"second_holding": holding} if holding else {}


def _tools(rng: Random) -> Keys:
    keys: Keys = {
        "turning.roughing_width": mm(rng.choice([1.5, 2.0, 3.0, 4.0])),
        "turning.roughing_corner": mm(rng.choice([0.0, 0.2, 0.4, 0.8])),
        "turning.allowance": mm(rng.choice([0.2, 0.5, 1.0])),
    }
    if rng.random() < 0.25:
        keys["turning.roughing_tool"] = "plain"
    if rng.random() < 0.2:
        keys["turning.roughing_pitch"] = mm(rng.choice([1.0, 2.0, 4.0]))
    if rng.random() < 0.4:
        keys["lathe.carriage_division"] = mm(rng.choice([0.05, 0.1, 0.25]))
        keys["lathe.cross_slide_division"] = mm(rng.choice([0.02, 0.025, 0.05]))
    if rng.random() < 0.3:
        keys["turning.finish_depth"] = mm(rng.choice([0.02, 0.1, 0.2]))
    if rng.random() < 0.1:
        keys["turning.tailstock_centre"] = {"diameter": mm(8), "point_length": mm(10)}
    if rng.random() < 0.3:
        keys["lathe.jaw_diameter"] = mm(rng.uniform(40.0, 150.0))
        keys["lathe.jaw_reach"] = mm(rng.uniform(5.0, 40.0))
    return keys


def drawn_hollow(seed: int) -> Case:
    """A hollow that the head may or may not reach."""
    rng = Random(seed)
    example = rng.choice(LATHES)
    s = made_for(example).sizes
    reach = s.arm_stock.height_mm + 2 * s.bit_stickout_mm
    deepest = s.bit_stickout_mm - s.clearance_mm
    depth = rng.choice([deepest, 0.5, 2.0, rng.uniform(0.5, deepest)])
    least, most = s.tip_radius_min_mm + reach, s.tip_radius_max_mm + reach
    radius = rng.choice([most, rng.uniform(least, most), rng.uniform(least + depth, most)])
    widest = s.max_blank_diameter_mm
    # a cap no wider than the blank is no deeper than R - root(R^2 - (blank / 2)^2)
    depth = min(depth, 0.999 * (radius - (radius**2 - widest**2 / 4) ** 0.5))
    mouth = 2 * (depth * (2 * radius - depth)) ** 0.5
    ball: Keys = {"name": "drawn", "shape": "socket", "diameter": mm(2 * radius)}
    ball |= {"depth": mm(max(depth, 0.5)), "blank_diameter": mm(rng.choice([mouth + 0.1, widest]))}
    keys: Keys = {}
    if rng.random() < 0.5:
        keys["lathe.jaw_diameter"] = mm(rng.uniform(40.0, 150.0))
        keys["lathe.jaw_reach"] = mm(rng.uniform(5.0, 40.0))
    return case(example, ball, **keys)
