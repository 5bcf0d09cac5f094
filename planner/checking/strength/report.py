"""All of it put together for the largest ball of a job."""

from __future__ import annotations

from msgspec.structs import replace

from parts.sizes import Sizes
from planner.checking.strength.chain import ON_TOP_DEG, bearing_tilt_mm, deflection_links
from planner.checking.strength.load import cutting_load
from planner.checking.strength.model import Link, StrengthReport
from planner.checking.strength.stresses import clamp_hold, strengths
from planner.geometry.ball import Arrangement
from planner.job.tables import Job

HOUSING = ("tube_stock", "shank_stock", "weld_leg")
"""Sizes of what holds the pivot in the tool post; an upright pivot stands on a base of its own."""

NOSE_DEG, NECK_DEG = 0.0, 150.0
"""Where else than on top the tip's spring is told: at the nose, and not far from a common stem."""


def strength_report(
    s: Sizes, job: Job, nose_mm: float, arrangement: Arrangement = "across"
) -> StrengthReport:
    """Forces, deflection, stresses and grip of an attachment at its largest ball.

    The hardest to cut of the job's balls is taken, or the dial's material where there is none.
    nose_mm: of the ground bit. With the pivot upright, the shank is left out.
    """
    turned = [ball.material or job.materials.dial for ball in job.ball] or [job.materials.dial]
    turning = job.turning
    load = max(
        (cutting_load(turning.depth_of_cut, turning.feed, nose_mm, name) for name in turned),
        key=lambda found: found.main_N,
    )
    links, nose, neck = (
        counted(deflection_links(s, load, None, at), arrangement)
        for at in (ON_TOP_DEG, NOSE_DEG, NECK_DEG)
    )
    stresses = strengths(s, load, turning.clamp_torque)
    if arrangement == "upright":
        stresses = tuple(one for one in stresses if not one.of_housing)
    return StrengthReport(
        load=load,
        links=links,
        strengths=stresses,
        hold=clamp_hold(s, load, turning.clamp_torque),
        deflection_mm=sum(link.deflection_mm for link in links),
        tilt_mm=bearing_tilt_mm(s),
        main_mm=sum(link.main_mm for link in links),
        arrangement=arrangement,
        nose_mm=sum(link.sprung_mm for link in nose),
        neck_mm=sum(link.sprung_mm for link in neck),
    )


def counted(links: tuple[Link, ...], arrangement: Arrangement) -> tuple[Link, ...]:
    """The links of an arrangement, their shares of their own sum: upright, all but the shank's."""
    if arrangement == "across":
        return links
    kept = [link for link in links if link.thicken != "shank_stock"]
    total = sum(link.sprung_mm for link in kept)
    return tuple(replace(link, share=link.sprung_mm / total) for link in kept)
