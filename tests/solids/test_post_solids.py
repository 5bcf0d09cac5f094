"""The tool post, the boring bar and the stops as solids: what touches, what clears, what collides.

The post is a block drawn here from what is measured on it: as deep as the job says, from the seat to
its height, its jaws' side as far from the shank's side as they stand out, with a slot for the shank. No
edge list and no formula of the planner's is used; where the shank lies is read off the housing's solid.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from jobs import changed

from parts.attachment import Attachment, Carrier, Placed, attachment
from parts.part import Bought, Part
from parts.sizes import Sizes
from planner.checking.clearance import BallCase, ball_cases, clearances
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.output.sheets.post import post_table
from planner.sizing.apply import size_up
from planner.solids import bought_solid, kernel, placement, solid

POSES = (0.0, 20.0, 40.0, 60.0, 80.0, 90.0, 105.0, 125.0, 145.0, 159.0)


@dataclass(frozen=True)
class Made:
    """A job worked out, and its things as solids."""

    job: Job
    whole: Attachment

    @property
    def s(self) -> Sizes:
        return self.whole.sizes

    def standing(self, swing_deg: float, *carriers: Carrier, of: str = "") -> list[tuple[str, Any]]:
        tip = self.s.max_ball_diameter_mm / 2
        return [
            (name(p), shape(p).moved(placement(p, tip, swing_deg)))
            for p in self.whole.placed
            if p.carrier in carriers and of in ("", name(p))
        ]

    def one(self, wanted: str, swing_deg: float = 90.0) -> Any:
        ((_, found),) = self.standing(swing_deg, *Carrier, of=wanted)
        return found

    def box(self, wanted: str) -> Any:
        return self.one(wanted).BoundingBox()

    @property
    def tube_end_mm(self) -> float:
        """The tube's rear end, where the nut bears."""
        return float(self.box("pivot-nut").xmax)

    def post(self, forward_mm: float = 0.0, out_mm: float = 0.0) -> Any:
        """The post as a block, from the wall of its slot on: set forward, or standing out more."""
        s, asked, housing = self.s, self.job.tool_post, self.box("housing")
        gap = 25.4 * 3 / 64 if self.job.inch else 1.0
        front = self.tube_end_mm - gap
        if asked.holding == "behind the nut":
            front = self.box("pivot-nut").xmin - 2 * s.pivot_pitch_mm - gap
        shank_side = housing.zmax - s.shank_stock.width_mm
        low = shank_side - (asked.stands_out or 0.0) - out_mm
        high = (asked.height or 3 * s.spindle_over_seat_mm) - s.spindle_over_seat_mm
        depth = asked.depth or 3 * s.largest_shank_mm
        corner = kernel().Vector(front - depth + forward_mm, housing.ymin, low)
        side, box = s.shank_stock.width_mm, kernel().Solid.makeBox
        wide = side + (asked.stands_out or 0.0) + out_mm + 40.0
        slot = box(1000, side, side, kernel().Vector(-900, housing.ymin, shank_side))
        return box(depth, high - housing.ymin, wide, corner).cut(slot)


def name(placed: Placed) -> str:
    item = placed.item
    return item.name if isinstance(item, Part) else item.use


def shape(placed: Placed) -> Any:
    item = placed.item
    made = bought_solid(item) if isinstance(item, Bought) else solid(item, False)
    return made.copy()  # what is cut here leaves the solid that others look at as it was


def made(example: str, **post: Any) -> Made:
    job = job_from(changed(example, **{f"tool_post.{k}": v for k, v in post.items()}), "job.toml")
    return Made(job, attachment(size_up(job, "job.toml").sizes))


HELD = [
    ("bench-lathe", "beside the nut"),
    ("bench-lathe", "behind the nut"),
    ("engine-lathe", "behind the nut"),
    ("inch-lathe", "beside the nut"),
]


@pytest.fixture(scope="module", params=HELD, ids=lambda one: f"{one[0]} {one[1].split()[0]}")
def held(request: pytest.FixtureRequest) -> Made:
    example, holding = request.param
    return made(example, holding=holding)


def least(post: Any, things: list[tuple[str, Any]]) -> tuple[float, str]:
    return min((post.distance(thing), called) for called, thing in things)


def test_all_that_swings_clears_the_post(held: Made) -> None:
    post = held.post()
    for swing in POSES:
        apart, what = least(post, held.standing(swing, Carrier.BODY, Carrier.HEAD))
        assert apart >= 0.5 - 1e-4, f"{what} at {swing:g}"


def test_all_that_stands_beside_it_clears_the_post(held: Made) -> None:
    still = [one for one in held.standing(90.0, Carrier.POST) if one[0] != "housing"]
    assert {"drag-screw", "stop-bar"} <= {called for called, _ in still}
    apart, what = least(held.post(), still)
    assert apart >= 0.5, what
    # of the housing the post holds the shank, and touches nothing else
    tube = held.one("housing")
    ahead = kernel().Solid.makeBox(500, 500, 500, kernel().Vector(held.tube_end_mm, -250, -250))
    assert held.post().distance(tube.intersect(ahead)) >= 1.0 - 1e-4


def test_a_post_farther_forward_or_out_collides() -> None:
    one = made("bench-lathe", holding="beside the nut", stands_out=2.4)
    swinging = one.standing(90.0, Carrier.BODY)
    apart, what = least(one.post(), swinging)
    assert (apart, what) == (pytest.approx(0.5, abs=1e-3), "pivot-nut")
    assert one.post(out_mm=1.0).intersect(one.one("pivot-nut")).Volume() > 1.0
    # forward it stands in the tube's end, in front of where it was
    ahead = kernel().Solid.makeBox(500, 500, 500, kernel().Vector(one.tube_end_mm, -250, -250))
    into = one.post(forward_mm=1.5).intersect(ahead).intersect(one.one("housing"))
    assert into.Volume() > 1.0
    # and one that stands out too far for beside goes behind, not 1.5 mm farther than it has room
    one = made("bench-lathe", holding="behind the nut", stands_out=4)
    assert least(one.post(), one.standing(90.0, Carrier.BODY))[0] >= 0.5
    run = 2 * one.s.pivot_pitch_mm + 1.0
    assert one.post(forward_mm=run + 1.5).intersect(one.one("pivot-nut")).Volume() > 1.0


@pytest.mark.parametrize("example", ["bench-lathe", "engine-lathe", "inch-lathe"])
def test_the_boring_bar_passes_the_post(example: str) -> None:
    # turned a quarter with the housing in it: the bar, 0.7 of the bore, runs along the bore's axis
    one = made(example)
    bar = kernel().Solid.makeCylinder(
        0.35 * one.s.pivot_diameter_mm, 800, kernel().Vector(-500, 0, 0), kernel().Vector(1, 0, 0)
    )
    assert one.post().distance(bar) >= 2.0 - 1e-4
    assert bar.intersect(one.one("drag-screw")).Volume() < 1e-6
    # the tightest that is not refused: 14.9 - 2 - 7
    tight = made("bench-lathe", holding="behind the nut", stands_out=5.9)
    bar = kernel().Solid.makeCylinder(7, 800, kernel().Vector(-500, 0, 0), kernel().Vector(1, 0, 0))
    assert tight.post().distance(bar) == pytest.approx(2.0, abs=1e-3)


@pytest.mark.parametrize("example", ["bench-lathe", "engine-lathe", "inch-lathe"])
def test_the_handle_lies_on_its_stops(example: str) -> None:
    one = made(example)
    stops = ("stops the swing at the nose", "stops the swing at the neck")
    nose, neck = (one.one(stop) for stop in stops)
    for stop, end, clear in ((nose, -3.0, 0.0), (neck, 159.5, 159.0)):
        handle = one.one("handle", end)
        assert handle.distance(stop) <= 0.05
        assert handle.intersect(stop).Volume() < 0.01  # it lies on it, not in it
        assert one.one("handle", clear).distance(stop) > 0.05
        # past the stop it would stand in the screw
        past = one.one("handle", end + (-2.0 if end < 0 else 2.0))
        assert past.intersect(stop).Volume() > 0.1
    # nothing else stands in its way
    still = one.standing(90.0, Carrier.POST)
    for swing in POSES[::3]:
        apart, what = least(one.one("handle", swing), still)
        assert apart > 0.05, (what, swing)
    # screws, nuts and bar stay a millimetre over the seat, where the slide may lie
    for called, still in one.standing(90.0, Carrier.POST):
        if "stop" in called:
            low = still.BoundingBox().ymin + one.s.spindle_over_seat_mm
            assert low >= 1.0 - 1e-6, called
    # each screw goes a diameter into the bar at least
    bar = one.box("stop-bar")
    for stop in (nose, neck):
        inside = min(stop.BoundingBox().ymin, bar.ymax), max(stop.BoundingBox().ymin, bar.ymin)
        assert bar.ymax - inside[1] >= one.s.stop_major_mm


def points(thing: Any) -> np.ndarray:
    vertices, _ = thing.copy().tessellate(0.05, 0.1)
    return np.array([v.toTuple() for v in vertices])


def walked(one: Made, ball: BallCase, start: float, end: float) -> tuple[float, float]:
    """How far anything swings toward chuck and tailstock from the ball's centre: corners, turned."""
    toward, away = [], []
    inside = -one.job.lathe.chuck_diameter / 2  # of a chuck, and of a tailstock's body as wide
    start_mm = np.hypot(ball.diameter_mm, ball.blank_mm) / 2 + one.s.clearance_mm
    for p in one.whole.placed:
        if p.carrier is Carrier.POST:
            continue
        corners = points(shape(p).moved(placement(p, 0.0, 90.0)))
        near = corners[corners[:, 0] > inside]
        if not len(near):
            continue
        for tip in (ball.diameter_mm / 2, start_mm):
            y = near[:, 1] + (tip if p.carrier is Carrier.HEAD else 0.0)
            for swing in np.radians(np.append(np.arange(start, end, 0.25), end)):
                z = y * np.cos(swing) + near[:, 2] * np.sin(swing)
                away.append(z.max())
                toward.append(-z.min())
    return max(toward), max(away)


def test_the_table_of_the_check_is_walked_off_the_solids(held: Made) -> None:
    found = clearances(held.whole, held.job)
    rows = {what: row[0] for what, *row in post_table(found, held.s, held.job).rows}

    def needed(what: str) -> Any:
        return pytest.approx(rows[what], abs=1e-3)

    post, housing = held.post().BoundingBox(), held.box("housing")
    middle = -(post.xmin + post.xmax) / 2
    assert -post.xmax == needed("front of the post from the spindle axis, turning")
    assert middle == needed("middle of the post from the spindle axis, turning")
    assert post.zmin == needed("from the pivot axis to the post")
    asked = held.job.tool_post
    to_middle = asked.slot_to_middle
    if to_middle is None:  # half the depth less the largest shank (common practice: four-way posts)
        to_middle = (post.xmax - post.xmin) / 2 - asked.largest_shank
    boring = housing.zmax + to_middle
    assert boring == needed("the same, turned a quarter for boring the housing")
    assert middle - boring == needed("cross slide's travel from boring to turning")
    # a bar between supports: through the housing, and as far before it as after
    tube = held.tube_end_mm
    assert rows["boring bar between its supports"] >= 2 * (held.box("housing").xmax - tube)

    (largest, *_), (first, *_) = ball_cases(held.s, held.job), found
    toward, away = walked(held, largest, first.start_deg, first.end_deg)
    # edges are drawn round and square a little outside the metal, never inside
    assert -0.02 <= first.stick_out_mm - held.s.clearance_mm - toward <= 0.5
    assert first.post_from_jaws_mm == pytest.approx(first.stick_out_mm + boring, abs=1e-3)
    reach = away - largest.diameter_mm / 2 + held.s.clearance_mm
    assert -0.02 <= first.tailstock_mm - reach <= 0.5
