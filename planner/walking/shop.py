"""The shop as the check needs it, read from the job alone."""

from __future__ import annotations

from collections.abc import Sequence

from parts.value import Value
from planner.job.tables import Job
from planner.job.usual import kit

HAND = ("bench", "hacksaw", "hand")
"""What every shop has."""

WORK: dict[str, tuple[str, ...]] = {
    "lathe": (
        *(
            "face",
            "centre",
            "turn",
            "bore",
            "drill",
            "spot",
            "ream",
            "counterbore",
            "tap",
            "thread",
        ),
        *("knurl", "groove", "part", "ball", "deburr", "engrave", "check", "mill", "slit", "dress"),
        *("tack", "file", "assemble", "rest", "chamfer"),
    ),
    "milling slide": (
        *("mill", "slit", "drill", "spot", "ream", "bore", "counterbore", "face", "tap", "deburr"),
        *("check", "engrave", "chamfer"),
    ),
    "mill": (
        *("mill", "slit", "drill", "spot", "ream", "bore", "counterbore", "face", "tap", "deburr"),
        *("check", "engrave", "chamfer"),
    ),
    "drill press": ("drill", "spot", "ream", "counterbore", "tap", "deburr", "check", "chamfer"),
    "bandsaw": ("saw", "mill", "slit"),
    "hacksaw": ("saw", "mill", "slit"),
    "shaper": ("mill", "face", "slit", "deburr", "check"),
    "grinder": ("grind", "deburr"),
    "welder": ("weld", "tack"),
    "torch table": ("saw", "mill"),
    "rotary table": ("engrave",),
    "bench": (
        *(
            "file",
            "deburr",
            "engrave",
            "stamp",
            "tap",
            "scrape",
            "dress",
            "assemble",
            "check",
            "saw",
        ),
        *("slit", "thread", "ream", "rest", "mill", "weld", "grind", "drill", "spot"),
        "chamfer",
    ),
}
"""What can be done on each machine; a mill's kinds on a saw or the bench are sawn or filed there."""

SPINDLE = ("lathe", "milling slide")
"""What turns with the lathe's own spindle."""


class Shop(Value, frozen=True):
    """Machines with their speeds, and what takes what, mm; an empty list of tools is not looked at.

    steady_mm: the largest the fixed steady takes, 0 without one; travelling: whether one follows the
    tool; collets: their sizes, none looked at when there are none said; between_mm: what the lathe
    takes between its centres, 0 where it is not said, over_slide_mm: its spindle over the cross slide,
    chuck_mm: its chuck's diameter, plate_mm: its faceplate's, 0 without one;
    soft_jaws: whether its chuck has such; drills_to_mm, drills: what its set of drills goes to, 0 where
    that is not looked at, and its larger ones; wheels: the change wheels that the job says, none looked
    at where it says none; inch: whether the lathe is taken for one in inches; jaws_mm: how far its
    chuck's jaws stand out, 0 where that is not looked at; gears: the wheels that may divide, said or
    usual; circles: of a divided plate on its spindle; head: whether there is a dividing head;
    slide_mm, cross_mm: how far its milling slide and its cross slide travel, 0 where not looked at;
    quantity: how many of each part are made; post_mm: how deep the tool post is, along what it holds,
    post_out_mm: how far its jaws stand out beside that, 0 where it is not said, post_under_mm: how
    far its top lies under the spindle, 0 where it is higher or not said; live_centre: whether there is
    one for its tailstock; counterbores: their diameters, none but those said;
    cross_division_mm: what a division of its cross slide's dial moves, 0 where it is not said.
    """

    machines: dict[str, tuple[float, ...]]
    three_jaw: tuple[float, float]
    three_jaw_inside: tuple[float, float]
    four_jaw: tuple[float, float]
    collets: tuple[float, ...]
    through_mm: float
    depth_mm: float
    steady_mm: float
    travelling: bool
    vice_mm: float
    reamers: tuple[float, ...]
    taps: tuple[str, ...]
    dies: tuple[str, ...]
    between_mm: float = 0.0
    over_slide_mm: float = 0.0
    chuck_mm: float = 0.0
    plate_mm: float = 0.0
    soft_jaws: bool = False
    drills_to_mm: float = 0.0
    drills: tuple[float, ...] = ()
    wheels: tuple[int, ...] = ()
    inch: bool = False
    jaws_mm: float = 0.0
    gears: tuple[int, ...] = ()
    circles: tuple[int, ...] = ()
    head: bool = False
    slide_mm: float = 0.0
    cross_mm: float = 0.0
    quantity: int = 1
    post_mm: float = 0.0
    post_out_mm: float = 0.0
    post_under_mm: float = 0.0
    live_centre: bool = True
    counterbores: tuple[float, ...] = ()
    cross_division_mm: float = 0.0

    def speeds(self, machine: str) -> Sequence[float]:
        """The spindle speeds of a machine."""
        return self.machines.get("lathe" if machine in SPINDLE else machine, ())

    def grips(self, by: str, inside: bool) -> tuple[float, float] | None:
        """What a chuck takes, from the least to the most; None where it is not known."""
        if by == "collet":
            return (min(self.collets), max(self.collets)) if self.collets else None
        if inside:
            return self.three_jaw_inside
        return self.four_jaw if by == "four-jaw chuck" else self.three_jaw


VICE_MM = 100.0
"""What a small machine vice opens to (common practice)."""


def shop_of(job: Job) -> Shop:
    """The shop of a job: what it says, and what a usual home shop has besides."""
    owned = kit(job)
    machines = {"lathe": tuple(job.lathe.spindle_speeds)}
    machines |= {str(name): tuple(one.speeds) for name, one in job.shop.machines.items()}
    four = owned.four_jaw
    return Shop(
        machines,
        (owned.three_jaw.least_mm, owned.three_jaw.most_mm),
        (owned.three_jaw_inside.least_mm, owned.three_jaw_inside.most_mm),
        (four.least_mm, four.most_mm) if four else (0.0, 0.0),
        owned.collets,
        owned.chuck_bore_mm,
        owned.chuck_depth_mm,
        owned.steady_mm or 0.0,
        owned.travelling_steady,
        VICE_MM,
        owned.reamers,
        owned.taps,
        owned.dies,
        job.lathe.between_centres or 0.0,
        job.lathe.spindle_over_cross_slide,
        job.lathe.chuck_diameter,
        owned.faceplate_mm or 0.0,
        job.lathe.soft_jaws,
        owned.drills_to_mm,
        owned.drills,
        tuple(job.lathe.change_gears or ()),
        job.inch,
        job.lathe.jaw_reach,
        owned.change_gears,
        tuple(job.lathe.dividing_circles),
        job.shop.dividing_head_ratio is not None,
        owned.slide_travel_mm,
        owned.cross_travel_mm or 0.0,
        job.attachment.quantity,
        job.tool_post.depth or 3 * job.tool_post.largest_shank,
        job.tool_post.stands_out or 0.0,
        max(
            0.0, job.lathe.spindle_over_seat - (job.tool_post.height or job.lathe.spindle_over_seat)
        ),
        owned.live_centre,
        owned.counterbores,
        job.lathe.cross_slide_division or 0.0,
    )
