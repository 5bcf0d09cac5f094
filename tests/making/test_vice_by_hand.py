"""Where a vice holds flat work, worked out by hand on a block of 60 x 30 x 20; all common practice.

A vice opens 100 and is 100 wide and 35 high. A third of the work's height is gripped (0.34), no less
than 2.5 and 15 at most; a millimetre is left under the cut, 0.85 of the height gripped at most. The cut
hangs out two and a half times the gripped length at most, or 20.
"""

from __future__ import annotations

import pytest

from parts.frame import Box, Point
from planner.making import bodies as b
from planner.making.bodies import Body, Round
from planner.making.ways.beside import stands_beside, under_the_nose


def block(
    x: tuple[float, float] = (0, 60), y: tuple[float, float] = (-15, 15),
    z: tuple[float, float] = (0, 20), name: str = "block", *voids: Box,
) -> Body:  # fmt: skip
    box = Box((x[0], y[0], z[0]), (x[1], y[1], z[1]))
    return Body(name, box, None, 0.0, (), voids)


def held(
    *bodies: Body, up: str = "+z", at: Point | None = None, floor: float | None = None,
    avoid: int | None = None,
) -> tuple[str, str, float, float, float, float] | None:  # fmt: skip
    """The faces, how far apart, from and to which height; where it rests, how far the cut hangs."""
    bottom = b.FAR if up[0] == "+" else -b.FAR
    points = [] if at is None else [at]
    found = b.vice(bodies, up, points, bottom if floor is None else floor, avoid)
    if found is None:
        return None
    grip = found.grip
    return grip.surface, found.rests, grip.size_mm, grip.from_mm, grip.to_mm, found.hangs_mm


def test_a_block_is_held_on_its_nearest_faces_as_high_as_the_cut_lets() -> None:
    middle = (30.0, 0.0, 20.0)
    # 0.85 of 20
    assert held(block(), at=middle) == ("block.-y", "block.-z", 30.0, 0.0, 17.0, 0.0)
    assert held(block(), up="-z", at=middle) == ("block.-y", "block.+z", 30.0, 3.0, 20.0, 0.0)
    assert held(block(), at=middle, floor=10.0) == ("block.-y", "block.-z", 30.0, 0.0, 9.0, 0.0)
    assert held(block(), up="-z", floor=10.0) == ("block.-y", "block.+z", 30.0, 11.0, 20.0, 0.0)
    assert held(block(), avoid=1) == ("block.-x", "block.-z", 60.0, 0.0, 17.0, 0.0)
    assert held(block(z=(0, 90))) == ("block.-y", "block.-z", 30.0, 0.0, 35.0, 0.0)
    assert held(block(y=(0, 100)), avoid=0) and not held(block(y=(0, 100.1)), avoid=0)


def test_how_little_is_gripped() -> None:
    assert held(block(), floor=7.9) and not held(block(), floor=7.7)  # 0.34 of 20, and 1
    tall = block(x=(500, 560), z=(0, 99))
    assert held(block(), tall, floor=16.0, at=(30, 0, 20))  # 15 is enough however high it is
    assert not held(block(), tall, floor=15.9, at=(30, 0, 20))
    thin = block(z=(0, 5))
    assert held(thin, floor=3.5) and not held(thin, floor=3.4)


def test_how_far_a_cut_hangs_out() -> None:
    found = held(block(), at=(210.0, 0.0, 20.0))
    assert found and found[-1] == 150.0 and not held(block(), at=(210.1, 0.0, 20.0))
    short = block(x=(0, 6), y=(-3, 3))
    assert held(short, at=(26.0, 0.0, 20.0)) and not held(short, at=(26.1, 0.0, 20.0))
    for at in ((-7.0, 0.0, 20.0), (67.0, 0.0, 20.0), (30.0, 22.0, 20.0), (30.0, -22.0, 20.0)):
        found = held(block(), at=at)
        assert found and found[-1] == 7.0, at


@pytest.mark.parametrize(("wide", "name"), [(18.0, "tall"), (19.0, "block")])
def test_which_of_two_blocks_is_held(wide: float, name: str) -> None:
    """Five millimetres of hanging are worth all of the height up to 0.7; twenty of width one.

    The block: 5 x 0.7 less 30 / 20, 2.0 to the good; the tall one, 35 of 60 held, 2.92 less its width.
    """
    tall = block(x=(200, 260), y=(-wide / 2, wide / 2), z=(0, 60), name="tall")
    found = held(block(), tall)
    assert found and found[0] == f"{name}.-y"


def test_nothing_hangs_below_the_parallels() -> None:
    for low, holds in ((-1.9, True), (-2.0, False)):
        assert bool(held(block(), block(x=(300, 310), z=(low, 5)), at=(30, 0, 20))) is holds
    for high, holds in ((21.9, True), (22.0, False)):  # the other way up
        beside = block(x=(300, 310), z=(15, high))
        assert bool(held(block(), beside, at=(30, 0, 20), up="-z")) is holds


LONG = (0.0, 100.0)


@pytest.mark.parametrize(
    ("y", "z", "hangs"),
    [
        # it stands before one face: the jaws stay a millimetre off it, the cut at 50 hangs 11 out
        ((-25, -14), (0, 50), 11.0), ((14, 25), (0, 50), 11.0), ((-60, 60), (0, 50), 11.0),
        # no farther out than the faces, or over the jaws
        ((-15, 15), (0, 50), 0.0), ((-25, -14), (17, 50), 0.0), ((-25, -14), (16.9, 50), 11.0),
    ],
)  # fmt: skip
def test_what_stands_before_a_face(
    y: tuple[float, float], z: tuple[float, float], hangs: float
) -> None:
    found = held(block(x=LONG), block(x=(40, 60), y=y, z=z, name="post"), at=(50, 0, 20), avoid=0)
    assert found and found[0] == "block.-y" and found[-1] == hangs


@pytest.mark.parametrize(
    ("long", "post", "holds"),
    [
        # as much as the block is thick between the jaws, 30, and a millimetre off the post
        (100.0, (31.0, 100.0), True), (100.0, (30.9, 100.0), False),
        (100.0, (0.0, 69.0), True), (100.0, (0.0, 69.1), False),
        (20.0, (11.0, 20.0), False),
        # past its end nothing is in the way: half of a short face, all of it here
        (20.0, (21.0, 40.0), True),
    ],
)  # fmt: skip
def test_how_much_of_a_face_is_left(long: float, post: tuple[float, float], holds: bool) -> None:
    stands = block(x=post, y=(-25, -14), z=(0, 50), name="post")
    at = (5.0 if post[0] else 95.0, 0.0, 20.0)
    assert bool(held(block(x=(0, long)), stands, at=at, avoid=0)) is holds


@pytest.mark.parametrize(("second", "holds"), [(112.0, True), (111.9, False)])
def test_jaws_between_two_posts_go_between_them_whole(second: float, holds: bool) -> None:
    posts = [block(x=x, y=(-25, -14), z=(0, 50), name=f"post{x[0]}")
             for x in ((0.0, 10.0), (second, 120.0))]  # fmt: skip
    assert bool(held(block(x=(0, 120)), *posts, at=(60.0, 0.0, 20.0), avoid=0)) is holds
    # past one of the two there is room
    assert held(block(x=(0, 120)), posts[0], at=(60.0, 0.0, 20.0), avoid=0)
    assert held(block(x=(0, 120)), posts[1], at=(60.0, 0.0, 20.0), avoid=0)


def notched(z: tuple[float, float], y: tuple[float, float] = (-15, -5)) -> Body:
    return block((0, 60), (-15, 15), (0, 20), "block", Box((0, y[0], z[0]), (20, y[1], z[1])))


def test_a_notch_takes_a_face_away() -> None:
    at = (5.0, 0.0, 20.0)
    assert held(notched((12, 20)), at=at, avoid=0) == ("block.-y", "block.-z", 30, 0, 11, 0)
    # from 2.5 up: nothing is left there to grip, the jaws are beside it
    assert held(notched((2.5, 20)), at=at, avoid=0) == ("block.-y", "block.-z", 30, 0, 17, 15)
    assert held(notched((8.0, 20)), at=at, avoid=0) == ("block.-y", "block.-z", 30, 0, 7, 0)
    inside = held(notched((12, 20), (-10, 10)), at=at, avoid=0)
    assert inside == ("block.-y", "block.-z", 30, 0, 17, 0)
    other = held(notched((12, 20), (5, 15)), at=at, avoid=0)
    assert other == ("block.-y", "block.-z", 30, 0, 11, 0)
    below = held(notched((0, 8)), at=at, up="-z", avoid=0)
    assert below == ("block.-y", "block.+z", 30, 9, 20, 0)


def test_what_stands_up_beside_a_drill() -> None:
    own = block()
    post = block(x=(70, 80), z=(0, 50), name="post")
    corner = block(x=(63, 70), y=(19, 30), z=(0, 45), name="corner")

    def tall(*bodies: Body, at: Point, wide: float, up: str = "+z") -> float:
        return stands_beside((own, *bodies), up, at, own, wide)

    assert tall(post, at=(60, 0, 20), wide=10.1) == 30.0 and not tall(post, at=(60, 0, 20), wide=10)
    assert tall(corner, at=(60, 15, 20), wide=5.1) == 25.0
    assert tall(corner, at=(60, 15, 20), wide=5.0) == 0.0
    assert tall(post, corner, at=(60, 15, 20), wide=20.0) == 30.0
    deep = block(x=(70, 80), z=(-7, 5), name="deep")
    assert tall(deep, at=(60, 0, 0), wide=11.0, up="-z") == 7.0
    own = block((0, 60), (-15, 15), (0, 20), "block", Box((0, -15, 12), (20, 15, 20)))
    assert tall(at=(5, 0, 12), wide=15.1) == 8.0 and tall(at=(5, 0, 12), wide=15.0) == 0.0
    assert tall(at=(30, 0, 20), wide=15.1) == 0.0
    # the nearer of two walls, 5 and 9 off
    own = block((0, 60), (-15, 15), (0, 20), "block", Box((20, -15, 12), (34, 15, 20)))
    assert tall(at=(25, 0, 12), wide=5.1) == 8.0 and tall(at=(25, 0, 12), wide=5.0) == 0.0


def test_what_a_chuck_passes_the_spindle_s_nose_does_not() -> None:
    """A quill of 60 to 85 comes down behind a chuck of 70 (10 mm) or 90 long (13 mm, 43 across)."""
    own, post = block(), block(x=(85, 95), z=(0, 132), name="post")  # 25 off, 112 over the face

    def out(chuck: float, x: float = 60.0) -> float:
        return under_the_nose((own, post), "+z", (x, 0, 20), own, chuck)

    assert [out(chuck) for chuck in (17.0, 21.0, 26.0)] == [42.0, 22.0, 112.0]
    assert out(21.0, x=44.0) == 0.0  # 41 off


def test_what_hides_a_face_covers_it_or_towers_over_it() -> None:
    own, flat = block(), Box((10, -15, 18), (30, 15, 20))
    for x, z, hidden in (((20, 40), (20, 30), True), ((30, 40), (20, 30), False),
                         ((0, 10), (20, 30), False), ((20, 40), (5, 20), False)):  # fmt: skip
        other = block(x=x, z=z, name="other")
        assert b.blocked((own, other), "+z", flat, own) is hidden, (x, z)
    under = block(x=(20, 40), z=(-5, 0), name="under")
    assert b.blocked((own, under), "-z", flat, own) and not b.blocked((own, under), "+z", flat, own)
    assert not b.blocked((own,), "+z", flat, own)
    for x, y, whole in (((0, 60), (-15, 15), True), ((-1, 61), (-16, 16), True),
                        ((0.1, 60), (-15, 15), False), ((0, 59.9), (-15, 15), False),
                        ((0, 60), (-14.9, 15), False), ((0, 60), (-15, 14.9), False)):  # fmt: skip
        assert b.covers(Box((x[0], y[0], 18), (x[1], y[1], 20)), own, 2) is whole
    tower = block(x=(70, 80), z=(0, 50), name="tower")
    assert b.towers((own, tower), "+z", own, 29.9) and not b.towers((own, tower), "+z", own, 30)
    assert not b.towers((own, tower), "-z", own, 0.0)


def test_which_body_a_point_lies_in() -> None:
    own, other = block(), block(x=(60, 70), name="other")
    assert b.owner((own, other), (65, 0, 10)) is other and b.owner((own, other), (30, 0, 10)) is own
    assert b.owner((own, other), (90, 0, 10)) is other and b.owner((own, other), (-9, 0, 10)) is own
    assert b.owner((other, own), (60, 0, 10)) is own  # in both: the larger


def test_the_bench_vice() -> None:
    small = block(x=(80, 90), name="small")
    hold = b.bench_hold((small, block()))
    grip = hold.grips[0]
    # the two nearest faces of the stoutest, 0.6 of its height, the longest other way up
    assert (grip.surface, grip.other, grip.size_mm) == ("block.-z", "block.+z", 20.0)
    assert (grip.from_mm, grip.to_mm, hold.up) == (-15.0, 3.0, "+y")
    free = b.bench_hold((block(),), free=2)
    assert (free.grips[0].surface, free.up) == ("block.-y", "+z")
    assert (free.grips[0].from_mm, free.grips[0].to_mm) == (0.0, 12.0)
    # a face that is worked is up and free, said; the jaws are from the other end of the height
    up = b.bench_hold((block(),), up="-z")
    assert (up.grips[0].surface, up.up) == ("block.-y", "-z")
    assert up.words == "bench vice, soft jaws, the -z side up"
    assert up.grips[0].to_mm == block().high(2)
    # nor do they close on a face that something stands out of all along: a shaft from its end
    shaft = Body("shaft", Box((50.0, 5.0, -10.0), (200.0, 35.0, 10.0)), 0, 20.0)
    aside = b.bench_hold((block(x=(0, 50)), shaft), up="-z")
    assert aside.grips[0].surface == "block.-y"
    for axis, up in ((0, "+z"), (1, "+z"), (2, "+y")):
        rounds = (Round(0, 20, 16, "a.round"), Round(20, 50, 10, "b.round"))
        box = Box((0, 0, 0), (50, 50, 50))
        hold = b.bench_hold((Body("bar", box, axis, 16.0, rounds),))
        grip = hold.grips[0]
        assert (grip.surface, grip.size_mm, hold.up) == ("b.round", 10.0, up)
        assert (grip.from_mm, grip.to_mm) == (20.0, 29.0)
