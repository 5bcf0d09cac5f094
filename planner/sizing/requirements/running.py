"""What runs on what, by the metals that the parts are made of: some tear and seize on their like.

Common practice: aluminium on aluminium galls, and stainless steel on stainless. Imported by check.
"""

from __future__ import annotations

from collections.abc import Iterator

from parts.attachment import Attachment
from parts.part import members
from parts.standard.materials import SPARES_STEEL, galls, material
from planner.job.tables import Job
from planner.words.findings import Finding, finding

RUNNING = (
    ("journal", "rotating-body/shaft", "housing/tube"),
    ("thrust faces", "rotating-body/block", "housing/tube"),
    ("rod", "sliding-head/rod", "rotating-body/block"),
    ("foot", "sliding-head/foot", "rotating-body/block"),
    ("feed thread", "feed-screw/feed-screw", "sliding-head/arm"),
    ("pivot nut", "pivot-nut/pivot-nut", "rotating-body/shaft"),
    ("drag screw's tip", "drag-screw/drag-screw", "rotating-body/shaft"),
    ("drag screw's thread", "drag-screw/drag-screw", "housing/tube"),
    ("dial on its ring", "dial/dial", "index-ring/index-ring"),
)
"""What runs, and the pieces that it does on: a part's name and its piece's."""

STEEL = "Use {S355|1018} for structure and shaft, which are welded to each other; or "
REMEDY = {
    "aluminium": STEEL
    + "have journal and rod hard anodised, the plater told their finished sizes, and"
    " grease all that runs",
    "stainless steel": STEEL + "grease all that runs with an anti-seize paste",
}
"""By group of what runs on its like (common practice)."""


def running(whole: Attachment, job: Job, file: str) -> Iterator[Finding]:
    """A finding for each metal that runs on its like and galls, and for a drag screw that scores."""
    made = {
        f"{part.name}/{m.name}": m.blank.material for part in whole.parts for m in members(part)
    }
    found: dict[tuple[str, str, str], list[str]] = {}
    for what, one, other in RUNNING:
        if galls(made[one], made[other]):
            key = "materials.dial" if one == "dial/dial" else "materials.structure"
            found.setdefault((key, made[one], made[other]), []).append(what)
    for (key, one, other), whats in found.items():
        group = material(one).group
        remedy = "Use {CW614N|C360} for the dial" if key.endswith("dial") else REMEDY[group]
        yield finding(
            "galling",
            file,
            key,
            f"{one} on {other}: {', '.join(whats)}",
            f"{group} tears and seizes where it runs on {group}",
            job.series.words(remedy),
        )
    drag = made["drag-screw/drag-screw"]
    if material(drag).group not in SPARES_STEEL:
        yield finding(
            "galling",
            file,
            "attachment.sizes.drag_stock",
            f"{drag}: the drag screw",
            "is neither brass nor bronze, and scores the journal that it bears on",
            "Make it of brass",
        )
