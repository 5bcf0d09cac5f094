"""How work that does not turn is held, by hand: where jaws, V-blocks and clamps bear, on single bodies.

Heights and lengths are worked out beside each from what is common practice: a disc is gripped over half
its height, a round over a little more than half its diameter, a block and a clamp want 20 mm.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from parts.frame import Box
from parts.part import Part, Stock
from parts.standard.sections import Section
from planner.job.tables import Job
from planner.making.bodies import Body, Gripped, Round
from planner.making.gauges import Gauges
from planner.making.holds import Holds
from planner.making.model import Grip, Workpiece
from planner.making.workshop import Workshop

JobWith = Callable[..., Job]
BAR = Stock(Section("round", 20.0), 40.0, "S355")
PIN = Part("pin", "Pin", BAR, (), {}, (0.5, 0.5, 0.5))


@pytest.fixture
def holds(job_with: JobWith) -> Holds:
    return made(job_with())


def made(job: Job) -> Holds:
    shop = Workshop(job)
    return Holds(Workpiece(PIN, None), shop, Gauges(shop))


def round_body(*rounds: tuple[float, float, float, str]) -> Body:
    """A round along x."""
    wide = max(one[2] for one in rounds)
    low, high = min(one[0] for one in rounds), max(one[1] for one in rounds)
    box = Box((low, -wide / 2, -wide / 2), (high, wide / 2, wide / 2))
    return Body("blank", box, 0, wide, tuple(Round(*one) for one in rounds))


def box_body(name: str, low: tuple[float, float, float], high: tuple[float, float, float]) -> Body:
    return Body(name, Box(low, high), None, 0.0)


def test_a_disc_is_gripped_by_its_faces_over_half_its_height(holds: Holds) -> None:
    disc = round_body((0.0, 4.0, 30.0, "hub.round"), (4.0, 10.0, 40.0, "rim.round"))
    for up, low, high in (("+z", -20.0, 0.0), ("-z", 0.0, 20.0), ("+y", -20.0, 0.0)):
        hold, (align,) = holds.by_faces(disc, up, "mill")
        (grip,) = hold.grips
        assert (grip.surface, grip.other, grip.size_mm) == ("blank.-x", "blank.+x", 10.0)
        assert (grip.from_mm, grip.to_mm, grip.packing) == (low, high, "card")
        assert (hold.by, hold.rests, hold.up) == ("machine vice", "rim.round", up)
    assert hold.words == (
        "machine vice on the two faces, 10 mm between the jaws, 20 mm gripped, card between, on"
        " parallels"
    )
    assert (align.what, align.surface, align.by, align.within_mm) == (
        "the face square to the table", "blank.-x", "square", 0.1,
    )  # fmt: skip
    # the jaws are 35 high: of a disc of 80 no more than that
    (grip,) = holds.by_faces(round_body((0.0, 10.0, 80.0, "r")), "+z", "mill")[0].grips
    assert (grip.from_mm, grip.to_mm) == (-40.0, -5.0)


def test_v_blocks_lie_under_the_round_that_is_nearest_and_long_enough(job_with: JobWith) -> None:
    holds = made(job_with())
    body = round_body(
        (0.0, 15.0, 10.0, "pin"), (15.0, 60.0, 20.0, "body"), (60.0, 90.0, 14.0, "tail")
    )
    for near, surface, wide, low, high in (
        ((30.0,), "body", 20.0, 15.0, 55.0),  # 25 to either side, while there is metal
        ((40.0, 45.0), "body", 20.0, 15.0, 60.0),
        ((75.0,), "tail", 14.0, 60.0, 90.0),
        ((5.0,), "body", 20.0, 15.0, 60.0),  # the pin is too short; 15 to 30 is, and so all of it
        ((60.0,), "body", 20.0, 35.0, 60.0),  # where two meet the longer
        ((60.05,), "tail", 14.0, 60.0, 85.05),
    ):
        hold, (align,) = holds.v_blocks(body, [(x, 0.0, 5.0) for x in near], "+z", "mill")
        (grip,) = hold.grips
        assert (grip.surface, grip.size_mm) == (surface, wide), near
        assert (grip.from_mm, grip.to_mm) == pytest.approx((low, high)), near
        assert hold.words == (
            f"V-blocks under the Ø{wide:g}, clamped to the table, card under the clamps"
        )
        # a bar alone lies as it likes about its axis: it is set along the slide
        assert (align.what, align.by, align.within_mm) == (
            "true to the slide's travel", "dial indicator", 0.02,
        )  # fmt: skip
    assert grip.packing == "card under the clamps" and holds.shop.missing == []
    # none is as long as a block: the nearest all the same; one of just 20 is
    short = round_body((0.0, 19.0, 10.0, "a"), (19.0, 38.0, 12.0, "b"))
    assert holds.v_blocks(short, [(5.0, 0.0, 0.0)], "+z", "mill")[0].grips[0].surface == "a"
    longer = round_body((0.0, 19.0, 10.0, "a"), (19.0, 39.0, 12.0, "b"))
    assert holds.v_blocks(longer, [(5.0, 0.0, 0.0)], "+z", "mill")[0].grips[0].surface == "b"
    bare = made(job_with(**{"shop.measuring": {"v_blocks": False}}))
    bare.v_blocks(longer, [(5.0, 0.0, 0.0)], "+z", "mill")
    assert [(one.part, one.what, one.remedy) for one in bare.shop.missing] == [
        ("pin", "a pair of V-blocks", "Make it first, as an aid")
    ]


def test_a_tube_with_a_cheek_at_its_side_stands_on_what_goes_down_past_it(holds: Holds) -> None:
    """Of 35, it touches a vee 12.4 from its middle: a cheek 14.9 off, 24 down, stands on the block."""
    tube = round_body((0.0, 50.0, 35.0, "tube"))
    shank = box_body("shank", (-60.0, 24.9, -24.0), (46.0, 40.9, -8.0))
    near = [(20.0, 0.0, 17.5)]
    for off, long, by in (
        (14.9, 46.0, "clamps on the table"), (14.9, 26.0, "V-blocks"), (19.0, 46.0, "V-blocks"),
    ):  # fmt: skip
        cheek = box_body("cheek", (0.0, off, -24.0), (long, off + 10.0, 11.0))
        holds.bodies = [tube, cheek, shank]
        assert holds.v_blocks(tube, near, "+z", "drill press")[0].by == by, (off, long)
    cheek = box_body("cheek", (0.0, 14.9, -24.0), (46.0, 24.9, 11.0))
    holds.bodies = [tube, cheek, shank]
    hold, (align,) = holds.v_blocks(tube, near, "+z", "drill press")
    assert hold.words == "clamped to the table on the shank, flat, its +z side up, level on packing"
    assert hold.rests == "shank.-z" and align.surface == "shank.+y"
    # on the cross slide it is the shank that the clamps hold, not the tube
    (grip,) = holds.on_slide(tube, "+z", hold).grips
    assert (grip.surface, grip.other) == ("shank.-y", "shank.+y")


def test_a_round_in_the_vice_is_gripped_on_the_longest(holds: Holds) -> None:
    # lying, a little over half of it below its middle: 0.55 of 10
    body = round_body((0.0, 40.0, 10.0, "long"), (40.0, 60.0, 20.0, "end"))
    for up, low, high in (("+z", -5.0, 0.5), ("-z", -0.5, 5.0)):
        hold, (align,) = holds.rim_hold(body, up, "mill")
        (grip,) = hold.grips
        assert (grip.surface, grip.other, grip.size_mm) == ("long", "long", 10.0)
        assert (grip.from_mm, grip.to_mm) == pytest.approx((low, high))
        assert (grip.packing, grip.wide_mm, hold.rests) == ("card", None, "long")
    assert hold.words == "machine vice on the Ø10, on parallels, card between"
    assert (align.what, align.by, align.within_mm) == (
        "true to the slide's travel", "dial indicator", 0.02,
    )  # fmt: skip
    # between two collars the jaws do not get at it: strips a millimetre shorter than the neck
    neck = round_body((0.0, 10.0, 20.0, "a"), (10.0, 35.5, 12.0, "neck"), (35.5, 45.0, 20.0, "b"))
    hold, _ = holds.rim_hold(neck, "+z", "mill")
    assert (hold.grips[0].packing, hold.grips[0].wide_mm) == ("strips", 24.0)
    assert hold.words == (
        "machine vice on the Ø12, between two strips 24 mm wide and thicker than what stands out"
        " beside, on a packing no longer than they are wide"
    )
    # standing on its end, over six tenths of its height; of a low one 3, or eight tenths
    for long, up, low, high in ((45.0, "+x", 0.0, 27.0), (45.0, "-x", 18.0, 45.0),
                                (4.0, "+x", 0.0, 3.0),
                                (3.0, "+x", 0.0, 2.4), (10.0, "+x", 0.0, 6.0)):  # fmt: skip
        hold, _ = holds.rim_hold(round_body((0.0, long, 30.0, "r")), up, "mill")
        assert (hold.grips[0].from_mm, hold.grips[0].to_mm) == pytest.approx((low, high)), long
        assert hold.rests == ("blank.-x" if up == "+x" else "blank.+x")


@pytest.mark.parametrize(
    ("ends", "by"),
    [
        # no longer than a block, or than its diameter of 30: still a disc; longer, in the blocks
        ((20.0,), "machine vice on the two faces"),
        ((30.0,), "machine vice on the two faces"),
        ((30.1,), "V-blocks"),
        # of rounds that are each too short for a block, up to 40 by its faces, past that by its rim
        ((19.0, 38.0), "machine vice on the two faces"),
        ((13.0, 27.0, 40.0), "machine vice on the two faces"),
        ((13.0, 27.0, 40.1), "machine vice on the Ø"),
    ],
)
def test_how_a_round_is_laid(holds: Holds, ends: tuple[float, ...], by: str) -> None:
    rounds = [(a, c, 30.0 + a, f"r{a:g}") for a, c in zip((0.0, *ends), ends, strict=False)]
    body = round_body(*rounds)
    holds.bodies = [body]
    assert holds.laid(body, [(5.0, 0.0, 0.0)], "+z", "mill")[0].words.startswith(by)
    # with another body at it neither its faces nor its rim are free
    holds.bodies = [body, box_body("arm", (0.0, 0.0, 0.0), (9.0, 9.0, 9.0))]
    assert holds.laid(body, [(5.0, 0.0, 0.0)], "+z", "mill")[0].by == "V-blocks"


def test_clamped_to_the_table_on_packing_for_what_hangs_below(holds: Holds) -> None:
    bar = box_body("bar", (0.0, 0.0, 0.0), (60.0, 20.0, 10.0))
    for low, high, up, packing in ((-14.0, 5.0, "+z", " of 17 mm, the rest hanging free"),
                                   (-1.0, 5.0, "+z", ""),
                                   (3.0, 12.0, "-z", " of 5 mm, the rest hanging free"),
                                   (-14.0, 5.0, "-z", "")):  # fmt: skip
        holds.bodies = [bar, box_body("arm", (0.0, 0.0, low), (5.0, 5.0, high))]
        hold, (align,) = holds.on_table(up, bar)
        assert hold.words == (
            f"clamped to the table on the bar, flat, its {up} side up, level on packing{packing}"
        )
        top, under = ("bar.+z", "bar.-z") if up == "+z" else ("bar.-z", "bar.+z")
        (grip,) = hold.grips
        assert (grip.surface, grip.other, hold.rests, hold.by) == (
            top, under, under, "clamps on the table",
        )  # fmt: skip
        assert (grip.size_mm, grip.from_mm, grip.to_mm) == (10.0, 0.0, 10.0)
        assert (align.what, align.surface, align.within_mm) == (
            "the bar's +y side square to the table", "bar.+y", 0.1,
        )  # fmt: skip
    # on the cross slide it is clamped between its narrower sides instead
    slide = holds.on_slide(bar, "+z", hold)
    (grip,) = slide.grips
    assert (grip.surface, grip.other, grip.size_mm) == ("bar.-y", "bar.+y", 20.0)
    assert (grip.from_mm, grip.to_mm, slide.by) == (0.0, 10.0, "cross slide")
    assert slide.words == (
        "clamped to the cross slide at spindle height, on packing and against a squared block bolted"
        " down behind it, the drill in the chuck; its -z side toward the spindle"
    )
    pin = round_body((0.0, 60.0, 20.0, "pin"))
    laid = holds.on_slide(pin, "+z", holds.v_blocks(pin, [(5.0, 0.0, 0.0)], "+z", "mill")[0])
    assert laid.words == (
        "in V-blocks on the cross slide, clamped at spindle height, card under the clamps, the drill in"
        " the chuck"
    )
    assert laid.rests == "pin" and len(laid.grips) == 1
    assert holds.under(pin, "+x") == "blank.-x" and holds.under(pin, "-x") == "blank.+x"
    assert holds.under(bar, "+y") == "bar.-y" and holds.under(bar, "-y") == "bar.+y"


def test_a_vice_on_two_faces_as_each_machine_has_it(job_with: JobWith) -> None:
    bar = box_body("blank", (0.0, 0.0, 0.0), (60.0, 20.0, 16.0))
    held = gripped(Grip("blank.-y", 20.0, 0.0, 8.0, "blank.+y"), bar)
    at = (1.0, 2.0, 3.0)
    holds = made(job_with())
    parallels = "across the pin, 20 mm between the jaws, 8 mm gripped, on parallels"
    for machine, words, aligned in (
        ("mill", f"machine vice {parallels}", "dial indicator"),
        ("milling slide", f"machine vice on the milling slide {parallels}", "dial indicator"),
        ("drill press", f"machine vice {parallels}", ""),
        ("lathe, on the cross slide", "clamped to the cross slide on packing that brings the cut to"
         " spindle height, its faces 20 mm apart between stops; clamps on the pin", "dial indicator"),
    ):  # fmt: skip
        hold, align = holds.vice_hold(machine, held, "+z", at)
        assert hold.words == words and hold.grips == (held.grip,) and hold.up == "+z"
        assert hold.rests == "blank.-z"
        assert [one.by for one in align] == ([aligned] if aligned else [])
        if align:
            assert (align[0].what, align[0].within_mm) == ("true to the slide's travel", 0.02)
        line = hold.axis
        assert (line is not None) is (machine.startswith("lathe"))
        assert line is None or (line.along, line.through) == ("+z", at)
    # by a square where there is no indicator; a piece of a weldment by its own name; inch by rules
    inch = made(job_with("inch-lathe", **{"shop.measuring": {"dial_indicator": False}}))
    own = gripped(replace(held.grip, size_mm=19.05, to_mm=9.525), replace(bar, name="arm"))
    hold, (align_,) = inch.vice_hold("mill", own, "+z", at)
    assert align_.by == "square" and hold.words == (
        "machine vice across the arm, 3/4 in between the jaws, 3/8 in gripped, on parallels"
    )


def gripped(grip: Grip, body: Body) -> Gripped:
    return Gripped(grip, "blank.-z", body, 1, 0.0)
