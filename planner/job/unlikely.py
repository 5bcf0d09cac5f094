"""Sizes of the lathe and its stock that are in range each, and together surely a slip of the hand.

Ten times too large may still be some lathe's; held against the other sizes of the same lathe it is
told, as a warning: what was measured so all the same is worked with. Imported by job.reading alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from planner.job.tables import Job
from planner.words.findings import Finding, finding

SWINGS = 4.0
"""No lathe swings more than so many times the height of its spindle over the cross slide."""

SEAT = 15.0
"""The cross slide lies no farther under the spindle than so many times the seat of the tool post."""

RIM_M_PER_S = 50.0
"""No chuck's rim runs faster."""

WIDE = 1.5
"""The slot of a tool post lies no farther from its middle than so many times its depth."""

AGAIN = "Look at the decimal point and the unit, or measure it again"


def unlikely(job: Job, file: str) -> Iterator[Finding]:
    """A warning for each size of a job that the others belie; file: what findings call it."""
    lathe, post, n = job.lathe, job.tool_post, job.numbers

    def told(key: str, value: str, limit: str) -> Finding:
        return finding("unlikely-size", file, key, value, limit, AGAIN)

    chuck, slide = n.size(lathe.chuck_diameter), n.size(lathe.spindle_over_cross_slide)
    swing_mm = SWINGS * lathe.spindle_over_cross_slide
    if lathe.chuck_diameter > swing_mm:
        limit = f"more than a lathe swings whose spindle lies {slide} over its cross slide"
        yield told("lathe.chuck_diameter", chuck, limit)
    elif pi * lathe.chuck_diameter * max(lathe.spindle_speeds) / 60_000 > RIM_M_PER_S:
        fastest = f"{max(lathe.spindle_speeds):g}"
        limit = f"faster than a chuck of {chuck} may turn"
        yield told("lathe.spindle_speeds", fastest, limit)
    for key in ("jaw_reach", "spindle_bore"):
        if (size := getattr(lathe, key)) and size > lathe.chuck_diameter:
            limit = f"more than the chuck's diameter, {chuck}"
            yield told(f"lathe.{key}", n.size(size), limit)
    if lathe.spindle_over_cross_slide > SEAT * lathe.spindle_over_seat:
        limit = f"more than {SEAT:g} times spindle_over_seat, {n.size(lathe.spindle_over_seat)}"
        yield told("lathe.spindle_over_cross_slide", slide, limit)
    deep = post.depth or 3 * post.largest_shank
    if post.slot_to_middle and post.slot_to_middle > WIDE * deep:
        limit = f"too far out for a tool post {n.size(deep)} deep"
        yield told("tool_post.slot_to_middle", n.size(post.slot_to_middle), limit)
    for table, sections in (
        ("rack", [bar.section for bar in job.shop.rack]),
        ("buy", [bar.section for bar in job.shop.buy]),
    ):
        for number, section in enumerate(sections, 1):
            thin = section.thickness_mm if section.shape == "flat" else section.width_mm
            if thin > swing_mm:
                key = f"shop.{table}[{number}].section"
                yield told(key, n.size(thin), "a bar thicker than anything that the lathe swings")
