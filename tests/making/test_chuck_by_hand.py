"""How round pieces and square bars are held in the chuck, end after end, worked out by hand.

The lathe's chuck is of 100 and grips 20 deep; a bar of 30 goes back into it as far as is said. A
millimetre is faced off each end. Common practice: three diameters out of the chuck alone, else on a
steady; gripped by 0.6 of the diameter up to one and a half out, by one past that and 10 at least; half
of it where there is a centre, and 10; a centre hole's mouth is 2.12 of its pilot (ISO 866).
"""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any, cast

import pytest

from parts import features as f
from parts.blank import Member, Stock
from parts.frame import Axis, Frame
from parts.standard.fits import Limits
from parts.standard.sections import Section
from planner.job.tables import Job
from planner.making.across import Across
from planner.making.chucked import centre_drill
from planner.making.ends import Ends
from planner.making.gauges import Gauges
from planner.making.holding import Hold, Holding
from planner.making.model import Workpiece
from planner.making.profile import Profile, Stretch
from planner.making.turned import Turning
from planner.making.workshop import Workshop
from planner.words.numbers import INCH, METRIC

JobWith = Callable[..., Job]
CHUCK: dict[str, Any] = {
    "lathe.chuck_diameter": 100, "lathe.jaw_reach": 20, "lathe.chuck_bore": 30,
    "lathe.chuck_depth": 60,
}  # fmt: skip


def piece(
    job: Job, section: Section, long: float, *features: f.Feature
) -> tuple[Workpiece, Workshop]:
    length = f.FacedLength(name="l", datum="B", length=f.general(long))
    member = Member("m", Stock(section, long, "S355"), Frame(), (length, *features))
    part = SimpleNamespace(name="p", blank=member.blank, features=features)
    return Workpiece(cast(Any, part), member), Workshop(job)


def turning(
    job_with: JobWith, bar: float, long: float, *features: f.Feature, **lathe: Any
) -> Turning:
    job = job_with(**CHUCK | {f"lathe.{key}": value for key, value in lathe.items()})
    on, shop = piece(job, Section("round", bar), long, *features)
    return Turning(on, Holding(Hold.CHUCK, 2.0, 0.0), shop, Gauges(shop))


def shape(one: Turning, *stretches: tuple[float, float, float], fine: bool = False) -> Turning:
    """The piece as it is turned so far: from, to, diameter; named s1, s2 and so on."""
    made = [Stretch(a, z, d, f"s{n}.round", fine) for n, (a, z, d) in enumerate(stretches, 1)]
    one.profile = Profile(*made)
    return one


def seat(start: float, end: float, size: float) -> f.TurnedDiameter:
    return f.TurnedDiameter(name=f"d{start:g}", datum="A", start_mm=start, end_mm=end,
                            diameter=Limits(size, 0.05, -0.05, ""))  # fmt: skip


def hole(x: float, along: Any) -> f.DrilledHole:
    return f.DrilledHole(name=f"h{along}", datum="A", axis=Axis((x, 0.0, 0.0), along), depth_mm=9.0,
                         diameter=f.general(5.0), through=False)  # fmt: skip


# ---- which side a thing is made from ----


@pytest.mark.parametrize(
    ("last", "low"),
    [
        # 70 of 100 turned: parted where the thickest begins
        (70.0, ["d0"]), (69.9, ["d0", "d30"]),
    ],
)  # fmt: skip
def test_a_piece_is_parted_where_it_is_thickest(
    job_with: JobWith, last: float, low: list[str]
) -> None:
    features = (
        seat(0, 30, 10),
        seat(30, 50, 18),
        seat(50, last, 12),
        hole(0, "+x"),
        hole(100, "-x"),
    )
    sides = turning(job_with, 20.0, 100.0, *features)._sides()
    assert [one.name for one in sides[0]] == [*low, "h+x"]
    assert [one.name for one in sides[1]] == [
        *(n for n in ("d0", "d30", "d50") if n not in low), "h-x",
    ]  # fmt: skip


def test_a_piece_that_is_turned_little_is_parted_in_its_middle(job_with: JobWith) -> None:
    for end, low in ((50.0, True), (50.1, False)):
        sides = turning(job_with, 20.0, 100.0, seat(40.0, end, 12.0))._sides()
        assert bool(sides[0]) is low and bool(sides[1]) is not low


def test_over_three_diameters_a_side_is_long(job_with: JobWith) -> None:
    for reach, is_long in ((30.0, False), (30.1, True)):
        low, high = seat(0.0, reach, 10.0), seat(100.0 - reach, 100.0, 10.0)
        one = turning(job_with, 20.0, 100.0, low, high)
        assert one._is_long([low], True) is is_long and one._is_long([high], False) is is_long
        assert one._is_long([seat(0.0, 9.0, 15.0), low], True) is is_long
    assert not one._is_long([], True) and not one._is_long([hole(0, "+x")], True)


@pytest.mark.parametrize(
    ("thread", "under", "at_end"),
    [
        ((0, 18), (0, 20), True), ((2, 18), (0, 18), True), ((0, 18), (1, 20), False),
        ((0, 18), (0, 17), False), ((5, 23.1), (0, 30), False),  # over three diameters: no die
    ],
)  # fmt: skip
def test_a_short_thread_at_an_end_is_made_before_the_centre_is_in_the_way(
    job_with: JobWith, thread: tuple[float, float], under: tuple[float, float], at_end: bool
) -> None:
    for low in (True, False):
        spans = [span if low else (80 - span[1], 80 - span[0]) for span in (thread, under)]
        own = f.Thread(name="t", datum="A", start_mm=spans[0][0], end_mm=spans[0][1], thread="M6")
        side: list[f.Feature] = [seat(*spans[1], 6.0), own, seat(*((20, 60)), 10.0)]
        found = turning(job_with, 20.0, 80.0)._at_end(side, low)
        assert found == ([side[0], own] if at_end else [])
        bare = turning(job_with, 20.0, 80.0, tailstock_die_holder=False)
        assert bare._at_end(side, low) == []


# ---- the made end in the chuck ----


def second(one: Turning) -> tuple[str, float, float, str] | None:
    """By which stretch, from and to where, packed with what."""
    found = one._second_end()
    if found is None:
        return None
    grip = found.hold.grips[0]
    return grip.surface, grip.from_mm, grip.to_mm, grip.packing


@pytest.mark.parametrize(
    ("first", "other", "by"),
    [
        # 41 long: the second is gripped to 1.5 before its end, 18.5 of it: 0.6 of 30.8
        (16.0, 30.8, "s2.round"), (16.0, 30.9, "s1.round"),
        # nothing thicker goes back through the jaws
        (30.1, 30.0, "s2.round"), (30.2, 30.0, "s1.round"),
        # 20 of the first, and 21 out: one and a half diameters of 14, else a diameter is gripped
        (14.0, 31.0, "s1.round"), (13.9, 31.0, "s1.round"),
    ],
)  # fmt: skip
def test_the_stretch_that_grips_best(
    job_with: JobWith, first: float, other: float, by: str
) -> None:
    one = turning(job_with, 32.0, 40.0, chuck_bore=31)
    shape(one, (0.0, 20.0, first), (20.0, 41.0, other))
    found = second(one)
    if by == "s1.round":
        assert found == ("s1.round", 0.0, 20.0, "copper or card")
    else:
        assert found == ("s2.round", 20.0, 38.5, "copper or card")


@pytest.mark.parametrize(
    ("bore", "held", "out", "steady"),
    [
        # a rod of 12 for 30, then of 16 to 151, faced at 150; jaws of 40. The 16 goes through 16.2,
        # gripped to 1.5 before the end. Else it stands in the jaws alone, the thin end behind them: 81
        # stand out, over four diameters, so the steady stands half of 16 and a facing from the end
        (16.2, (108.5, 148.5), 2.5, None), (16.1, (30.0, 70.0), 81.0, 9.0),
    ],
)  # fmt: skip
def test_a_rod_too_thick_for_the_bore_stands_out_on_the_steady(
    job_with: JobWith, bore: float, held: tuple[float, float], out: float, steady: float | None
) -> None:
    one = turning(job_with, 20.0, 150.0, chuck_bore=bore, jaw_reach=40, steady=30)
    shape(one, (0.0, 30.0, 12.0), (30.0, 151.0, 16.0))
    found = one._second_end()
    assert found is not None
    (grip,), stands = found.hold.grips, found.hold.steady
    assert (grip.from_mm, grip.to_mm, found.hold.out_mm) == pytest.approx((*held, out))
    if steady is None:
        assert stands is None
    else:
        assert stands is not None
        assert (stands.at_mm, stands.size_mm) == pytest.approx((151.0 - steady, 16.0))
        assert found.hold.words.endswith(
            "81 mm out, 30 mm back through the jaws, the steady 9 mm from the end"
        )


@pytest.mark.parametrize(
    ("long", "size", "held"),
    [
        # a stub of 20 long, the rest thicker than the chuck: 20 / 33.3; out over 1.5 a diameter
        (40.0, 33.3, True), (40.0, 33.4, False), (50.1, 20.0, True), (51.1, 20.1, False),
    ],
)  # fmt: skip
def test_how_much_must_be_gripped(job_with: JobWith, long: float, size: float, held: bool) -> None:
    end = 20.0 + (1.5 * size if long < 50 else 1.5 * size + 0.2)
    one = shape(turning(job_with, 35.0, end - 1.0), (0.0, 20.0, size), (20.0, end, 200.0))
    one.profile.stretches[1] = Stretch(20.0, end, 200.0, "no round")
    assert (second(one) is not None) is held


def test_more_than_one_and_a_half_diameters_are_no_better(job_with: JobWith) -> None:
    """50 of 30 count as 45, less the 25.5 out: 19.5; the other way 23 less 2.5, 20.5."""
    for far, by in ((25.5, "s2.round"), (24.5, "s1.round")):
        one = turning(job_with, 32.0, 50.0 + far - 1.0, jaw_reach=60, chuck_bore=31)
        found = second(shape(one, (0.0, 50.0, 30.0), (50.0, 50.0 + far, 30.0)))
        assert found and found[0] == by


def test_ten_millimetres_are_gripped_where_it_stands_out_far(job_with: JobWith) -> None:
    for grip, held in ((10.0, True), (9.9, False)):
        one = shape(turning(job_with, 35.0, 60.0), (0.0, grip, 9.0), (grip, 61.0, 30.0))
        one.profile.stretches[1] = Stretch(grip, 61.0, 30.0, "no round")
        assert (second(one) is not None) is held


def test_a_disc_is_gripped_by_half_of_its_thickness(job_with: JobWith) -> None:
    for grip, held in ((6.1, True), (5.9, False)):
        one = shape(turning(job_with, 60.0, 11.0), (0.0, grip, 40.0), (grip, 12.0, 60.0))
        one.profile.stretches[1] = Stretch(grip, 12.0, 60.0, "no round")
        found = second(one)
        assert (found is not None) is held
        if found:  # less than ten: jaws bored to it
            assert found[3] in ("split bush", "soft jaws, bored to it")
    one = shape(turning(job_with, 10.9, 11.0), (0.0, 6.0, 40.0), (6.0, 12.0, 60.0))
    one.profile.stretches[1] = Stretch(6.0, 12.0, 60.0, "no round")
    assert second(one) is None  # longer than it is thick: no disc


def test_soft_jaws_or_a_split_bush_on_what_is_short_or_a_thread(job_with: JobWith) -> None:
    for soft, packing in ((True, "soft jaws, bored to it"), (False, "split bush")):
        for grip, packed in ((10.0, "copper or card"), (9.9, packing)):
            one = turning(job_with, 20.0, 15.0, soft_jaws=soft)
            shape(one, (0.0, grip, 12.0), (grip, 16.0, 20.0))
            one.profile.stretches[1] = Stretch(grip, 16.0, 20.0, "no round")
            assert second(one) == ("s1.round", 0.0, grip, packed)
        for span, packed in (((0.0, 9.0), packing), ((12.0, 15.0), "copper or card")):
            thread = f.Thread(name="t", datum="A", start_mm=span[0], end_mm=span[1], thread="M12")
            one = turning(job_with, 20.0, 20.0, thread, soft_jaws=soft)
            shape(one, (0.0, 12.0, 12.0), (12.0, 21.0, 20.0))
            one.profile.stretches[1] = Stretch(12.0, 21.0, 20.0, "no round")
            assert second(one) == ("s1.round", 0.0, 12.0, packed)
    for wide, packed in ((12.0, "soft jaws, bored to it"), (11.9, "split bush")):  # a bar goes in
        one = turning(job_with, 20.0, 15.0, soft_jaws=True)
        shape(one, (0.0, 9.9, wide), (9.9, 16.0, 20.0))
        one.profile.stretches[1] = Stretch(9.9, 16.0, 20.0, "no round")
        assert second(one) == ("s1.round", 0.0, 9.9, packed)
    for wide, bushed in ((7.5, True), (7.4, False)):  # a bar of 6 goes into the bush
        one = turning(job_with, 20.0, 15.0)
        shape(one, (0.0, 9.9, wide), (9.9, 16.0, 20.0))
        one.profile.stretches[1] = Stretch(9.9, 16.0, 20.0, "no round")
        assert (second(one) is not None) is bushed
    thin = shape(turning(job_with, 20.0, 15.0), (0.0, 12.0, 1.9), (12.0, 16.0, 1.9))
    assert second(thin) is None  # the jaws close to a fiftieth of the chuck: 2


# ---- on the centre ----


@pytest.mark.parametrize(
    ("foot", "bore", "deep", "held"),
    [
        # a thin end of 30, then 16 thick to 60, then 12 to 100: what is behind goes into the chuck
        # two tenths thinner than its bore, as deep as that is; else the 16 stands in the jaws of 20,
        # the 12 behind them: 100 - 40 - 20 = 40
        (30.0, 16.2, 69.0, (31.0, "foot")), (30.0, 16.2, 68.9, (31.1, "foot")),
        (30.0, 16.1, 69.0, (40.0, "foot")), (30.0, 11.0, 69.0, (80.0, "far")),
        (49.0, 16.2, 69.0, (50.0, "foot")), (49.1, 16.2, 69.0, (61.0, "far")),
        (85.0, 11.0, 69.0, (86.0, "far")),
    ],
)  # fmt: skip
def test_where_a_slender_piece_is_gripped(
    job_with: JobWith, foot: float, bore: float, deep: float, held: tuple[float, str]
) -> None:
    one = turning(job_with, 20.0, 100.0, chuck_bore=bore, chuck_depth=deep)
    spans = ((0.0, 30.0, 8.0, "thin"), (30.0, 60.0, 16.0, "foot"), (60.0, 100.0, 12.0, "far"))
    one.profile = Profile(*(Stretch(*row) for row in spans))
    front, by = one._foot(foot, True)
    assert (front, by.name) == (pytest.approx(held[0]), held[1])
    one.profile = Profile(*(Stretch(100 - z, 100 - a, d, name) for a, z, d, name in spans))
    front, by = one._foot(foot, False)
    assert (front, by.name) == (pytest.approx(held[0]), held[1])


@pytest.mark.parametrize(
    ("bore", "jaws", "foot", "held"),
    [
        # a thread to 60, a journal of 10 to 88, a tail of 8 to 100; by hand: the tail goes on behind
        # jaws of 25 where the bore is 8.2, so they begin at 100 - 12 - 25; else at 100 - 25
        (8.2, 25.0, 60.0, (63.0, "journal")), (8.1, 25.0, 60.0, (75.0, "journal")),
        (8.2, 50.0, 60.0, (61.0, "journal")), (10.2, 25.0, 60.0, (61.0, "journal")),
        # no 10 left before the tail: that is held, right behind its shoulder or as far as it goes
        (8.2, 25.0, 77.1, (89.0, "tail")), (8.1, 22.0, 60.0, (78.0, "journal")),
        (8.1, 21.9, 60.0, (89.0, "tail")),
    ],
)  # fmt: skip
def test_what_does_not_go_into_the_bore_stands_in_the_jaws(
    job_with: JobWith, bore: float, jaws: float, foot: float, held: tuple[float, str]
) -> None:
    """A long thread is not left out by the whole journal because that is too thick for the chuck."""
    one = turning(job_with, 20.0, 100.0, chuck_bore=bore, chuck_depth=200.0, jaw_reach=jaws)
    spans = ((0.0, 60.0, 20.0, "bar"), (60.0, 88.0, 10.0, "journal"), (88.0, 100.0, 8.0, "tail"))
    one.profile = Profile(*(Stretch(*row) for row in spans))
    front, by = one._foot(foot, True)
    assert (front, by.name) == (pytest.approx(held[0]), held[1])


def test_a_thin_far_end_goes_on_behind_the_jaws(job_with: JobWith) -> None:
    """A pin of 9 at the far end and a bore of 9.2: it goes in behind the jaws, as far as the chuck is
    deep; a bore of 9.1 leaves it before them, and the jaws on what of the thick is left."""
    for bore, deep, grip in ((9.2, 60.0, (67.0, 87.0)), (9.2, 30.0, (71.0, 91.0)),
                             (9.1, 60.0, (81.0, 87.0))):  # fmt: skip
        one = turning(job_with, 20.0, 100.0, chuck_bore=bore, chuck_depth=deep, steady=30)
        shape(one, (-1.0, 87.0, 20.0), (87.0, 101.0, 9.0))
        hold = one._end_setup(True, 0.0).hold
        ends = (hold.grips[0].from_mm, min(hold.grips[0].to_mm, 87.0))
        assert ends == pytest.approx((grip[0], min(grip[1], 87.0))), (bore, deep)


def test_half_a_diameter_is_gripped_at_the_foot(job_with: JobWith) -> None:
    for thick, long, held in ((16.0, 11.0, True), (16.0, 10.9, False), (24.0, 13.0, True),
                              (24.0, 12.9, False)):  # fmt: skip
        one = turning(job_with, 24.0, 100.0, chuck_depth=90.0)
        shape(one, (0.0, 30.0, 8.0), (30.0, 30.0 + long, thick), (30.0 + long, 100.0, 10.0))
        assert (one._foot(30.0, True)[1].name == "s2.round") is held


@pytest.mark.parametrize(
    ("long", "bore", "deep", "need", "grip", "steady"),
    [
        # from -1 to 101: as far out as it does not go back; three diameters of 20 are 60. A steady on
        # steel as bought stands half a cat head of 24 from what is cut, which is more than half of 20
        (100.0, 30.0, 60.0, 0.0, (41.0, 61.0), None),
        (100.0, 30.0, 42.0, 0.0, (59.0, 79.0), None), (100.0, 30.0, 41.9, 0.0, (59.1, 79.1), 12.0),
        (100.0, 30.0, 41.9, 8.0, (59.1, 79.1), 20.0), (100.0, 19.0, 60.0, 0.0, (81.0, 101.0), 12.0),
        (100.0, 20.2, 100.0, 0.0, (9.0, 29.0), None), (100.0, 20.2, 100.0, 7.1, (9.1, 29.1), None),
        (100.0, 20.1, 100.0, 0.0, (81.0, 101.0), 12.0),
        # short: no farther out than leaves 0.6 of 20, where less than 10 would be held
        (18.0, 19.0, 60.0, 0.0, (9.0, 19.0), None), (17.9, 19.0, 60.0, 0.0, (6.9, 18.9), None),
    ],
)  # fmt: skip
def test_one_end_out_of_the_chuck(
    job_with: JobWith, long: float, bore: float, deep: float, need: float,
    grip: tuple[float, float], steady: float | None,
) -> None:  # fmt: skip
    for low in (True, False):
        one = turning(job_with, 20.0, long, chuck_bore=bore, chuck_depth=deep, steady=30)
        hold = one._end_setup(low, need).hold
        ends = grip if low else (long - grip[1], long - grip[0])
        assert (hold.grips[0].from_mm, hold.grips[0].to_mm) == pytest.approx(ends)
        at = hold.steady and hold.steady.at_mm
        assert at == (None if steady is None else pytest.approx(steady if low else long - steady))
        assert not hold.steady or hold.steady.size_mm == 20.0
        assert hold.out_mm == pytest.approx(grip[0] + 1.0) and not one.shop.missing
    bare = turning(job_with, 20.0, 100.0, chuck_bore=19.0, steady=19)
    assert (
        bare._end_setup(True, 0.0).hold.steady_instead == "Make a wooden steady with a brass bush"
    )
    (told,) = bare.shop.missing
    assert told.what == "a steady for Ø20 mm, or a chuck it goes into"
    assert told.remedy == (
        "Make a wooden steady with a brass bush, or have the ends faced and centred"
    )


def test_a_fine_surface_under_the_jaws_is_packed(job_with: JobWith) -> None:
    for size, packing in ((19.1, "copper"), (18.9, "")):
        one = turning(job_with, 20.0, 100.0)
        rough, fine = Stretch(-1.0, 50.0, 20.0, "bar"), Stretch(50.0, 101.0, size, "seat", True)
        one.profile = Profile(rough, fine)
        grip = one._end_setup(True, 0.0).hold.grips[0]
        # 41 to 61 is under the jaws: of that the thickest is held, as far as it goes
        assert (grip.surface, grip.from_mm, grip.to_mm, grip.packing) == (
            "bar",
            41.0,
            50.0,
            packing,
        )
    one = turning(job_with, 20.0, 100.0)
    one.profile = Profile(Stretch(-1.0, 45.0, 20.0, "short"), Stretch(45.0, 101.0, 20.0, "long"))
    assert one._end_setup(True, 0.0).hold.grips[0].surface == "long"


def test_how_large_a_centre_hole_is(job_with: JobWith) -> None:
    rows = [(4.25, "2 mm", 2.0), (4.23, "1.6 mm", 1.6), (6.68, "3.15 mm", 3.15), (0.5, "1 mm", 1.0)]
    for most, name, pilot in rows:
        assert centre_drill(most, METRIC) == (name, pilot)
    name, pilot = centre_drill(4.3, INCH)  # No. 2: 5/64 of an inch
    assert name.startswith("No.2 (") and pilot == pytest.approx(25.4 * 5 / 64)
    assert centre_drill(0.1, INCH)[1] == pytest.approx(25.4 / 32)
    ball = f.TurnedBall(name="b", datum="A", start_mm=81.0, end_mm=100.0, diameter=f.general(20.0))
    one = turning(job_with, 20.0, 100.0, seat(0, 30, 7.1), seat(30, 60, 5.0), ball)
    assert one._pilot(True)[1] == 2.0  # 0.6 of 7.1 is 4.26, of what does not reach the end nothing
    assert one._pilot(False)[1] == 1.0  # 0.1 of a ball of 20: a mouth of 2.83
    assert turning(job_with, 20.0, 100.0, seat(0.1, 30, 7.1))._pilot(True)[1] == 3.15
    assert turning(job_with, 20.0, 100.0, seat(70.0, 100.0, 7.1))._pilot(False)[1] == 2.0
    setup = one._end_setup(True, 0.0)
    one._centre(setup, True)
    one._centre(setup, False)
    (low, high) = setup.ops
    # its mouth, and 0.9 of it deep, from either end
    assert (low.cut["from_mm"], low.cut["to_mm"]) == (-1.0, pytest.approx(-1.0 + 0.9 * 4.24))
    assert (high.cut["from_mm"], high.cut["to_mm"]) == (101.0, pytest.approx(101.0 - 0.9 * 2.12))
    assert low.cut["after_mm"] == pytest.approx(4.24)


def test_both_ends_faced(job_with: JobWith) -> None:
    one = turning(job_with, 20.0, 100.0)
    shape(one, (-1.0, 10.0, 18.0), (10.0, 103.0, 20.0))
    first, last = one._facing(True, "face"), one._facing(False, "face")
    assert (first.cut["at_mm"], first.cut["keeps"], first.cut["off_mm"]) == (0.0, "+x", 1.0)
    assert (last.cut["at_mm"], last.cut["keeps"], last.cut["off_mm"]) == (100.0, "-x", 3.0)
    assert (first.length_mm, first.speed) == (9.0, ("face", 18.0)) and last.length_mm == 10.0
    assert (one.profile.low, one.profile.high) == (0.0, 100.0)


def test_the_parted_end_is_filed_where_no_chuck_holds_it(job_with: JobWith) -> None:
    one = turning(job_with, 20.0, 40.0)
    shape(one, (0.0, 39.5, 12.0), (39.5, 41.0, 16.0))
    one._filed_to_length()
    (op,) = one.setups[-1].ops
    assert op.cut["at_mm"] == 40.0 and op.cut["normal"] == "+x"
    assert op.cut["box"] == [[40.0, -8.0, -8.0], [41.0, 8.0, 8.0]]
    assert one.profile.high == 40.0 and one.profile.low == 0.0
    # a file holds some hundredths: 0.3 either way is wide enough
    assert not one.shop.missing
    member = one.on.member
    assert member is not None
    fine = turning(job_with, 20.0, 40.0)
    fine.length = f.FacedLength(name="l", datum="B", length=Limits(40.0, 0.005, 0.0, ""))
    fine._filed_to_length()
    loose = turning(job_with, 20.0, 40.0)  # 0.2 from limit to limit
    loose.length = f.FacedLength(name="l", datum="B", length=Limits(40.0, 0.005, -0.195, ""))
    loose._filed_to_length()
    assert not loose.shop.missing
    (told,) = fine.shop.missing
    assert told.what == "soft jaws or a collet for the m's second end"
    assert told.remedy == "Bore a split bush to it"


# ---- square bars, their ends faced ----


def ends(job_with: JobWith, wide: float, long: float, **changes: Any) -> Ends:
    job = job_with(**CHUCK | {"shop.machines": {}, "shop.dividing_head_ratio": None} | changes)
    on, shop = piece(job, Section("square", wide), long)
    work = Across(on, cast(Any, None), shop, Gauges(shop))
    assert on.member is not None
    length = cast(f.FacedLength, on.member.features[0])
    return Ends(work, length, 1.0, 1.0)


def test_a_square_bar_is_faced_in_the_four_jaw_chuck(job_with: JobWith) -> None:
    one = ends(job_with, 20.0, 38.0)
    assert one._four_jaw()
    # 28.3 over its corners goes into the bore of 30: 5 out
    first, last = (setup.hold for setup in one.work.setups)
    assert [(g.from_mm, g.to_mm) for g in first.grips] == [(4.0, 24.0)] * 2
    assert [(g.from_mm, g.to_mm) for g in last.grips] == [(14.0, 34.0)] * 2  # the end is at 39
    assert first.out_mm == last.out_mm == 5.0
    deep = ends(job_with, 20.0, 38.0, **{"lathe.chuck_depth": 32})
    assert deep._four_jaw() and [one.hold.out_mm for one in deep.work.setups] == [8.0, 7.0]
    near = ends(job_with, 20.0, 38.0, **{"lathe.chuck_bore": 28})  # 28.3 does not
    assert near._four_jaw()  # 40 as sawn, then 39, and 20 of it in the jaws to the chuck's face
    assert [one.hold.out_mm for one in near.work.setups] == [20.0, 19.0]
    assert [(g.from_mm, g.to_mm) for g in near.work.setups[0].hold.grips] == [(19.0, 39.0)] * 2
    assert [(g.from_mm, g.to_mm) for g in near.work.setups[1].hold.grips] == [(0.0, 20.0)] * 2


@pytest.mark.parametrize(
    ("wide", "long", "more", "fits"),
    [
        # half of it in the jaws of 20
        (20.0, 39.0, {}, True), (20.0, 39.1, {}, False),
        # two and a half widths out: 20 of 40
        (8.0, 38.0, {"lathe.chuck_bore": 9}, True), (7.9, 38.0, {"lathe.chuck_bore": 9}, False),
        (20.0, 38.0, {"lathe.four_jaw_outside": [20, 60]}, True),
        (20.0, 38.0, {"lathe.four_jaw_outside": [21, 60]}, False),
    ],
)  # fmt: skip
def test_where_the_four_jaw_chuck_will_not_do(
    job_with: JobWith, wide: float, long: float, more: dict[str, Any], fits: bool
) -> None:
    assert ends(job_with, wide, long, **more)._four_jaw() is fits


def test_ends_that_are_filed_or_told(job_with: JobWith) -> None:
    one = ends(job_with, 20.0, 60.0)
    one.plan()
    assert [s.machine for s in one.work.setups] == ["bench"] and not one.shop.missing
    fine = ends(job_with, 20.0, 60.0)
    fine.length = f.FacedLength(name="l", datum="B", length=Limits(60.0, 0.005, 0.0, ""))
    fine.plan()
    (told,) = fine.shop.missing
    assert (told.what, told.remedy) == ("a mill for the ends", "Have them milled")
    loose = ends(job_with, 20.0, 60.0)
    loose.length = f.FacedLength(name="l", datum="B", length=Limits(60.0, 0.005, -0.195, ""))
    loose.plan()
    assert not loose.shop.missing


@pytest.mark.parametrize(
    ("wide", "long", "ways"),
    [
        # a cutter of 16 mills 32 with its side; jaws 100 wide: one of more than 104 shows both ends
        (32.0, 104.0, ["+z", "+z"]), (32.0, 104.1, ["+z"]),
        # a higher one stands on its ends, up to 80 long; past 62.4 even a long cutter is too short
        (32.1, 80.0, ["-x", "+x"]), (32.1, 80.1, ["+z", "+z"]), (62.4, 80.1, ["+z", "+z"]),
        (62.5, 80.1, ["-x", "+x"]),
    ],
)  # fmt: skip
def test_ends_are_milled_lying_or_standing(
    job_with: JobWith, wide: float, long: float, ways: list[str]
) -> None:
    one = ends(job_with, wide, long, **{"shop.machines": {"mill": {}}})
    one.plan()
    assert [setup.hold.up for setup in one.work.setups] == ways
    low, high = [op for setup in one.work.setups for op in setup.ops]
    assert (low.cut["at_mm"], low.cut["normal"]) == (0.0, "-x") and not low.last
    assert (high.cut["at_mm"], high.cut["normal"]) == (long, "+x") and high.last
    assert [box[0] for box in low.cut["box"]] == [-1.0, 0.0]
    assert [box[0] for box in high.cut["box"]] == [long, long + 1.0]
    assert low.length_mm == high.length_mm == wide and low.stock_mm == 1.0
    assert low.speed == ("mill", low.tool.diameter_mm) and low.tool.diameter_mm == 16.0
    assert high.measures and not low.measures


def test_a_thick_stub_is_held_by_half_of_its_length(job_with: JobWith) -> None:
    """Round 60, 40.5 long with 1 to face off at either end: half of its diameter out would leave 12.5
    in the jaws. Work so short is held by half of its length (common practice)."""
    # out by half; by what the cut and 3 ask; by what jaws of 36, or of 20, leave in front of them
    for jaws, need, out in ((36.0, 1.0, 21.25), (36.0, 22.0, 25.0), (20.0, 1.0, 22.5)):
        hold = turning(job_with, 60.0, 40.5, jaw_reach=jaws)._end_setup(True, need).hold
        grip = hold.grips[0]
        assert hold.out_mm == pytest.approx(out)
        assert grip.to_mm - grip.from_mm == pytest.approx(min(42.5 - out, jaws))
