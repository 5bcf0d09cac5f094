"""How far work stands out and what it runs on, by hand: sizes just inside a limit, and just outside.

A limit that is a ratio is held twice, as the table of holding says it (common practice,
parts/standard/holding_limits.csv) and typed here once more.
"""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace
from walk_asked import (
    SHOP,
    WIDE,
    Told,
    X,
    centred,
    held,
    rod,
)

from planner.walking.centres import between, centre_stands, in_steady, on_centre
from planner.walking.gripped import grip_length
from planner.walking.lathe import _behind, _unmarked
from planner.walking.overhang import overhang
from planner.walking.shape import FAR_MM, Line, Ring
from planner.walking.state import Mark


@pytest.mark.parametrize("sign", [1, -1])
def test_what_goes_back_through_the_jaws(sign: int) -> None:
    """Ø20 gripped 130 from its end: as deep as the chuck, or a little thinner than its bore."""
    for size, through, depth, blocked in (
        (20.0, 20.1, 129.9, True), (20.0, 20.2, 129.9, False), (20.0, 20.1, 130.0, False),
    ):  # fmt: skip
        piece = rod(size, 0.0, 200.0) if sign > 0 else rod(size, -200.0, 0.0)
        faults, shop = (
            Told(),
            replace(SHOP, through_mm=through, depth_mm=depth),
        )
        # jaws from 100 to 130; two cuts make the work behind them a stretch of its own
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), *sorted((sign * 99.0, sign * 99.5)), FAR_MM, 9.0))
        _behind(piece, held(130.0, sign=sign), 100.0, 130.0, 20.0, shop, faults)
        assert faults.codes == ["route-grip-blocked"] * blocked
        if blocked:
            assert faults.last == ("130 mm back from the jaws' front", "the chuck is 129.9 mm deep")


def test_what_is_too_thick_for_the_bore_goes_in_as_deep_as_the_jaws_alone() -> None:
    """A journal of 10 gripped by jaws of 30, its end so far behind them: the bore is 10, or 10.2; a
    tail of 8 behind it goes in anyhow, and a collet has no jaws to stand out."""
    for behind, through, by, tail, blocked in (
        (1.4, 10.0, "three-jaw chuck", False, False), (2.1, 10.0, "three-jaw chuck", False, True),
        (40.0, 10.2, "four-jaw chuck", False, False), (40.0, 10.0, "four-jaw chuck", False, True),
        (40.0, 10.0, "four-jaw chuck", True, False), (40.0, 10.0, "collet", False, False),
    ):  # fmt: skip
        changes = {"through_mm": through, "depth_mm": 10_000.0, "jaws_mm": 30.0}
        piece, faults = rod(10.0, 0.0, 200.0), Told()
        if tail:
            piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, behind, FAR_MM, 4.0))
        one = held(behind + 30.0)
        one.by = by
        shop = replace(SHOP, **changes)
        _behind(piece, one, behind, behind + 30.0, 10.0, shop, faults)
        assert faults.codes == ["route-grip-blocked"] * blocked, (behind, through, by, tail)
        if blocked and behind > 3:
            assert faults.last == (
                "10 mm thick, 70 mm back from the jaws' front",
                "the jaws are 30 mm long, the bore behind them 10 mm wide",
            )


def test_nothing_thicker_than_the_grip_lies_behind_the_jaws() -> None:
    for thick, blocked in ((20.1, False), (20.3, True)):
        piece = rod(thick, 0.0, 120.0)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 58.0, 120.0, FAR_MM, 10.0))
        faults = Told()
        _behind(piece, held(90.0), 60.0, 90.0, 20.0, WIDE, faults)
        assert faults.codes == ["route-grip-blocked"] * blocked, thick
    assert faults.last == ("20.3 mm behind the jaws", "they close on 20 mm")


@pytest.mark.parametrize(
    ("a", "b", "radius", "inside", "packing", "marked"),
    [
        (0.0, 10.4, 10.0, False, None, False), (0.0, 10.6, 10.0, False, None, True),
        (29.6, 60.0, 10.0, False, None, False), (29.4, 60.0, 10.0, False, None, True),
        (0.0, 60.0, 11.4, False, None, True), (0.0, 60.0, 11.6, False, None, False),
        (0.0, 60.0, 8.6, False, None, True), (0.0, 60.0, 8.4, False, None, False),
        (0.0, 60.0, 10.0, True, None, False), (0.0, 60.0, 10.0, False, "copper", False),
    ],
)  # fmt: skip
def test_bare_jaws_mark_what_is_finished(
    a: float, b: float, radius: float, inside: bool, packing: str | None, marked: bool
) -> None:
    """A fine journal Ø20 from 10 to 30: half a millimetre of it, or of a size within 1.5 of its own."""
    for kind in ("fine", "thread", "knurl", "engraved", "spot"):
        piece, faults = rod(), Told()
        piece.marks.append(Mark(kind, X, 10.0, 30.0, 10.0))
        _unmarked(piece, X, a, b, radius, inside, {"packing": packing}, faults)
        assert faults.codes == ["route-grip-finished"] * (marked and kind != "spot")
        _unmarked(piece, Line(0, 1, (0.0, 0.06, 0.0)), 0.0, 60.0, 10.0, False, {}, faults)
        assert len(faults.codes) == (marked and kind != "spot")


@pytest.mark.parametrize(
    ("by", "kind", "rough", "most"),
    [
        ("three-jaw chuck", "turn", True, 3.0), ("three-jaw chuck", "turn", False, 4.0),
        ("collet", "turn", True, 4.0), ("three-jaw chuck", "knurl", False, 2.0),
        *(("three-jaw chuck", kind, False, 4.0)
          for kind in ("drill", "bore", "ream", "tap", "spot", "centre", "counterbore")),
    ],
)  # fmt: skip
@pytest.mark.parametrize("sign", [1, -1])
def test_how_far_round_work_stands_out(
    by: str, kind: str, rough: bool, most: float, sign: int
) -> None:
    """Ø20: so many diameters; what stands out no more than 5 mm is no question."""
    for over, refused in ((-0.1, 0), (2.0, 1)):
        out = most * 20.0 + over
        piece = rod(20.0, 0.0, 200.0) if sign > 0 else rod(20.0, -200.0, 0.0)
        faults = Told()
        overhang(piece, held(30.0, by, sign=sign), (30.0, 30.0 + out), kind, rough, faults)
        assert faults.codes == ["route-overhang"] * refused, (over, faults.found)
        if refused:
            value, limit = faults.last
            assert value.endswith(f"{out:g} mm out, 20 mm thick: {out / 20:.1f} diameters")
            assert limit == f"at most {most:g}"
    thin = rod(1.0)
    for out, refused in ((5.0, 0), (5.1, 1)):
        faults = Told()
        overhang(thin, held(30.0, by), (30.0, 30.0 + out), kind, rough, faults)
        assert len(faults.codes) == refused


def test_parting_stands_out_one_diameter_to_its_nearer_side() -> None:
    for near, refused in ((50.9, 0), (51.1, 1)):
        faults = Told()
        overhang(rod(), held(30.0), (near, near + 30.0), "part", False, faults)
        assert len(faults.codes) == refused


@pytest.mark.parametrize(
    ("by", "steady", "follows", "kind", "most"),
    [
        ("three-jaw chuck", None, False, "turn", 10.0), ("between centres", None, False, "turn", 12.0),
        ("three-jaw chuck", 0.5, False, "turn", 12.0), ("three-jaw chuck", None, True, "turn", 20.0),
        ("three-jaw chuck", None, True, "thread", 20.0), ("three-jaw chuck", None, True, "face", 10.0),
    ],
)  # fmt: skip
def test_how_long_work_is_between_its_supports(
    by: str, steady: float | None, follows: bool, kind: str, most: float
) -> None:
    """Ø20 on a centre: from the jaws to it, or from support to support about the cut."""
    for over, refused in ((0.0, 0), (1.5, 1)):
        long = (most * 20.0 + over) * (2 if steady else 1)
        piece = rod(20.0, 0.0, 1000.0)
        one = held(30.0, by)
        if by == "between centres":
            one.grips.clear()
            piece = rod(20.0, 30.0, 1000.0)
        one.tail, one.travelling = 30.0 + long, follows
        if steady:
            one.steady = 30.0 + long / 2
        faults, end = Told(), 30.0 + long - 5.0
        overhang(piece, one, (end - 20.0, end), kind, False, faults)
        assert faults.codes == ["route-overhang"] * refused, (over, [str(f) for f in faults.found])
    # fingers follow no shorter cut than they are wide
    if follows and kind == "turn":
        for wide, codes in ((10.0, 0), (9.9, 1)):
            one, faults = held(30.0, by), Told()
            one.tail, one.travelling = 30.0 + 300.0, True
            overhang(rod(20.0, 0.0, 400.0), one, (200.0, 200.0 + wide), kind, False, faults)
            assert len(faults.codes) == codes


def test_near_the_jaws_a_centre_is_not_wanted() -> None:
    """Three diameters roughing, four finishing, though the whole is too slender for its centre."""
    for rough, most in ((True, 60.0), (False, 80.0)):
        for out, refused in ((most, 0), (most + 1.0, 1)):
            one, faults = held(30.0), Told()
            one.tail = 330.0
            overhang(rod(20.0, 0.0, 330.0), one, (30.0, 30.0 + out), "turn", rough, faults)
            assert len(faults.codes) == refused, (rough, out)


def test_a_centre_stands_where_its_hole_is_and_it_can_be_come_to() -> None:
    piece = rod(20.0, 0.0, 100.0)
    assert centre_stands(piece, centred(100.0, 1)) and centre_stands(piece, centred(0.0, -1))
    assert not centre_stands(piece, centred(95.0, 1))  # buried
    assert not centre_stands(piece, centred(105.0, 1))  # faced off since
    assert not centre_stands(piece, Mark("centre", X, 100.0, 100.0, 2.5))
    # in a recess of 12: its point of 60 degrees wants 2.5 + depth x 0.577 of radius, 12 long at most
    for deep, wide, stands in (
        (5.0, 5.5, True),
        (5.0, 4.2, False),
        (20.0, 9.5, True),
        (20.0, 9.3, False),
    ):
        pocket = rod(24.0, 0.0, 100.0)
        pocket.metal.cut(Ring(0, (0.0, 0.0, 0.0), 100.0 - deep, 100.0, wide))
        assert centre_stands(pocket, centred(100.0 - deep, 1)) is stands, (deep, wide)


def test_a_centre_on_its_end_in_a_hole_of_its_size() -> None:
    for end, hole, outward, code in (
        ("+x", 5.0, 1, ""), ("end", 5.0, 1, ""), ("+x", 5.09, 1, ""), ("+x", 5.11, 1, "size"),
        ("+x", 4.91, 1, ""), ("+x", 4.89, 1, "size"), ("-x", 5.0, 1, "side"), ("start", 5.0, 1, "side"),
        ("+y", 5.0, 1, "side"), ("start", 5.0, -1, ""), ("-x", 5.0, -1, ""), ("+x", 5.0, -1, "side"),
    ):  # fmt: skip
        piece, faults, one = rod(20.0, 0.0, 100.0), Told(), held(30.0)
        piece.marks += [centred(100.0, 1), centred(0.0, -1)]
        on_centre(piece, one, {"kind": "live", "end": end, "hole_mm": hole}, outward, faults)
        assert faults.codes == ["route-no-centre"] * bool(code), (end, hole)
        if code == "size":
            assert faults.last[1] == "what was drilled is 5 mm"
        if code == "side":
            assert faults.last[1].endswith("tailstock" if outward > 0 else "headstock")
        elif outward > 0:
            assert one.tail == 100.0 and not one.headed
        else:
            assert one.tail is None and one.headed
    piece, faults = rod(20.0, 0.0, 100.0), Told()
    piece.marks.append(Mark("centre", Line(0, -1, (0.0, 0.06, 0.0)), 100.0, 100.0, 2.5, False, 1))
    on_centre(piece, held(30.0), {"kind": "live", "end": "+x", "hole_mm": 5.0}, 1, faults)
    assert faults.codes == ["route-no-centre"]


def test_a_carrier_and_a_steady_stand_on_metal_of_their_size() -> None:
    both = {key: {"x": 1} for key in ("centre", "headstock_centre")}
    for at, size, good in (
        (50.0, 20.0, True), (97.9, 20.0, True), (100.1, 20.0, False), (50.0, 20.3, False),
        (50.0, 19.7, False),
    ):  # fmt: skip
        faults, one = Told(), held(30.0, sign=-1)
        between(
            rod(20.0, 0.0, 100.0), one, {**both, "driver": {"at_mm": at, "size_mm": size}}, faults
        )
        assert faults.codes == ["route-no-driver"] * (not good), (at, size)
        assert one.driver == -at
    for missing in both:
        faults = Told()
        between(rod(), held(30.0), {k: v for k, v in both.items() if k != missing}, faults)
        assert faults.codes == ["route-no-centre", "route-no-driver"]
        assert faults.found[0].value == f"no {missing.replace('_', ' ')}"
    # three fingers, 6 wide: 9 in 10 of what is under them is there; no larger than the steady takes
    for low, high, at, size, most, codes in (
        (0.0, 100.0, 50.0, 20.0, 20.0, 0), (0.0, 100.0, 50.0, 20.0, 19.9, 1),
        (0.0, 100.0, 50.0, 20.3, 40.0, 1),
        (47.4, 100.0, 50.0, 20.0, 40.0, 0), (47.6, 100.0, 50.0, 20.0, 40.0, 1),
        (0.0, 52.6, 50.0, 20.0, 40.0, 0), (0.0, 52.4, 50.0, 20.0, 40.0, 1),
    ):  # fmt: skip
        faults, one = Told(), held(-90.0, sign=-1)
        shop = replace(SHOP, steady_mm=most)
        in_steady(rod(20.0, low, high), one, {"at_mm": at, "diameter_mm": size}, shop, faults)
        assert faults.codes == ["route-steady"] * codes, (low, high, size)
        assert one.steady == -50.0
    for there in (True, False):
        faults, one = Told(), held(30.0)
        shop = replace(SHOP, travelling=there)
        in_steady(rod(), one, {"diameter_mm": 12.0, "travelling": True}, shop, faults)
        assert (faults.codes, one.travelling) == ([] if there else ["route-steady"], there)


def test_a_steady_that_goes_round_the_work_is_not_said_to_be_lacking() -> None:
    """Of 3/4 in, summed in sixteenths: 19.049999999999997 mm, and the bar 19.05. So one was made that
    the shop has."""
    shop = replace(SHOP, steady_mm=0.75 * 25.4)
    made = {"owned": False, "instead": "make one"}
    for size, says, codes in (
        (19.05, {}, []), (19.05, made, ["route-words"]), (19.1, {}, ["route-steady"]), (19.1, made, []),
    ):  # fmt: skip
        faults = Told()
        steady = {"at_mm": 50.0, "diameter_mm": size} | says
        in_steady(rod(size), held(30.0), steady, shop, faults)
        assert faults.codes == codes, (size, says)


def test_a_steady_that_is_made_first_stands_only_where_the_set_up_says_so() -> None:
    shop = replace(SHOP, travelling=False, steady_mm=0.0)
    for says, refused in (
        ({"owned": False, "instead": "make one"}, 0), ({"owned": False}, 1),
        ({"owned": True, "instead": "make one"}, 1), ({"owned": False, "instead": ""}, 1), ({}, 1),
    ):  # fmt: skip
        for steady in (
            {"diameter_mm": 12.0, "travelling": True},
            {"at_mm": 50.0, "diameter_mm": 20.0},
        ):
            faults, one = Told(), held(30.0)
            in_steady(rod(), one, steady | says, shop, faults)
            assert len(faults.codes) == refused, (says, steady)
            assert one.travelling == (bool(steady.get("travelling")) and not refused)


def test_a_groove_by_its_centre_bends_the_bar_less_than_one_in_the_middle() -> None:
    """Fixed in the chuck, on the centre: what the bar gives at the groove, by the beam's equation."""
    long, many = 300.0, 600

    # E I y'''' = F at one place; no way and slope at the jaws, no way and moment at the centre
    step = long / many
    matrix = np.zeros((many + 1, many + 1))
    for k in range(2, many - 1):
        matrix[k, k - 2 : k + 3] = (1, -4, 6, -4, 1)
    matrix[0, 0] = matrix[many, many] = 1  # no way off
    matrix[1, :4] = (-4, 7, -4, 1)  # y(-1) = y(1): no slope
    matrix[many - 1, many - 3 :] = (1, -4, 5, -2)  # y(n+1) = -y(n-1): no moment
    places = [round(long * k / 40 / step) for k in range(1, 40)]
    forces = np.zeros((many + 1, len(places)))
    for column, place in enumerate(places):
        forces[place, column] = 1 / step
    found = np.linalg.solve(matrix, forces)  # a column for each place of the force
    gives = {place: float(found[place, column]) for column, place in enumerate(places)}
    worst = max(gives.values())
    for at in (90.0, 180.0, 270.0):
        most = (
            10.0 * 20.0 / (gives[round(at / step)] / worst) ** (1 / 3)
        )  # so long a bar gives as much there
        for over, refused in ((0.98, 0), (1.03, 1)):
            one, faults = held(30.0), Told()
            scale = most * over / long
            one.tail = 30.0 + most * over
            cut = (30.0 + at * scale, 30.0 + at * scale + 0.6)
            overhang(rod(20.0, 0.0, 1e3), one, cut, "groove", False, faults)
            assert len(faults.codes) == refused, (at, over)


def test_fingers_run_on_what_is_as_thick_beside_a_short_cut() -> None:
    """A collar turned in one go with the bar beside it, a groove beside a thread: common practice."""
    for kind, after, refused in (
        ("turn", 10.0, 0), ("turn", 9.5, 1), ("groove", 10.0, 0), ("groove", 9.5, 1),
    ):  # fmt: skip
        one, faults = held(30.0), Told()
        one.tail, one.travelling = 330.0, True
        overhang(rod(20.0, 0.0, 400.0), one, (200.0, 205.0), kind, False, faults, after)
        assert len(faults.codes) == refused


@pytest.mark.parametrize(
    ("out", "beside", "least"),
    [
        # Ø20: a half where it stands out no farther than a diameter, 0.6 to 1.5, one past that
        (20.0, {}, 10.0), (20.5, {}, 12.0), (29.9, {}, 12.0), (30.5, {}, 20.0),
        # short work: 0.45 of its whole length is enough; as little as 2.5
        (8.0, {}, 0.45 / 0.55 * 8.0), (150.0, {"centre": {}}, 20.0),
        (150.0, {"centre": {"end": "+x"}}, 10.0), (150.0, {"steady": {"at_mm": 100.0}}, 10.0),
    ],
)  # fmt: skip
def test_how_much_the_jaws_grip_for_what_stands_out(
    out: float, beside: dict[str, object], least: float
) -> None:
    """Shares of the diameter typed from the table of holding (common practice)."""
    for grip, short in ((least + 0.06, False), (least - 0.11, True)):
        faults = Told()
        piece = rod(20.0, 100.0 - grip, 100.0 + out)
        grip_length(piece, held(100.0, grip=grip), beside, faults)
        assert faults.codes == ["route-grip-short"] * short, (out, beside, grip)


def test_on_a_centre_the_jaws_only_drive() -> None:
    """Ø60 on a centre: 15 in the jaws is enough (common practice: 10 to 15), 14.9 is not."""
    for grip, short in ((15.0, False), (14.9, True)):
        faults, one = Told(), held(100.0, grip=grip)
        one.grips[:] = [(100.0 - grip, 100.0, 60.0, False)]
        grip_length(rod(60.0, 85.0, 200.0), one, {"centre": {"end": "+x"}}, faults)
        assert faults.codes == ["route-grip-short"] * short
