"""Ways of making against facts of the trade: wheels that divide, drills, reamers, taps, gauges."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import pi

import pytest

from parts import features as f
from parts.attachment import attachment
from parts.standard.fits import Limits
from parts.standard.holding import finest_band_mm, grade_mm
from parts.standard.reaming import reaming_allowance_mm
from parts.standard.speeds import speed_rows
from planner.job.tables import Job
from planner.making.gauges import Gauges
from planner.making.route import Route, whole_route
from planner.making.ways.dividing import disc, dividing, gear_for, half_spaces
from planner.making.workshop import Workshop
from planner.output.plan import Plan
from planner.sizing.apply import size_up

JobWith = Callable[..., Job]

# sets of change gears by their teeth, as manuals and owners' pages give them
SETS = (
    (20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 63),
    (20, 20, 30, 35, 40, 40, 45, 50, 55, 57, 60, 65, 80, 80),
    (30, 35, 40, 45, 48, 50, 60, 66, 68, 70, 70, 72, 75, 80, 90, 100),
    (24, 28, 32, 36, 40, 44, 48, 52, 56, 60, 64, 127, 120),
)


@pytest.mark.parametrize(
    ("gears", "divisions"), list(product(SETS, (25, 40, 50, 60, 80, 100, 125, 127)))
)
def test_a_wheel_divides_exactly_or_not_at_all(gears: tuple[int, ...], divisions: int) -> None:
    # brute force: a pin in every k-th space of z comes back after n steps where k n = z
    whole = {(z, k) for z in gears for k in range(1, z + 1) if k * divisions == z}
    half = {(z, k) for z in gears for k in range(1, 2 * z + 1) if k * divisions == 2 * z}
    found, halves = gear_for(divisions, gears), half_spaces(divisions, gears)
    assert (found in whole) if whole else found is None
    assert (halves in half) if half else halves is None


@pytest.mark.parametrize(
    ("divisions", "inch"), list(product((40, 50, 60, 100, 125, 250), (False, True)))
)
def test_a_tape_closes_on_its_disc(divisions: int, inch: bool) -> None:
    across, step = disc(divisions, inch)
    assert pi * across == pytest.approx(divisions * step)
    unit = 25.4 / 16 if inch else 1.0
    assert step / unit == pytest.approx(round(step / unit)) and 140 <= across <= 500


def test_the_means_of_dividing_by_what_there_is(job_with: JobWith) -> None:
    def by(divisions: int = 50, **changes: object) -> str:
        return dividing(divisions, Workshop(job_with(**changes))).by

    assert by() == "the 40:1 dividing head"
    own = {"lathe.change_gears": [20, 50]}
    assert by(**own) == "a change gear of 50 teeth on the spindle"  # the rim stays in its chucking
    bare = {"shop.dividing_head_ratio": None}
    assert by(**bare).startswith("a change gear of 50 teeth")
    assert by(**bare, **{"lathe.change_gears": [25]}).endswith("two pins half a space apart")
    assert by(**bare, **{"lathe.change_gears": [32]}).startswith("a tape round a disc of 159.15 mm")
    table = {"shop.machines": {"mill": {}, "rotary table": {}}}
    assert by(**bare, **table, **{"lathe.change_gears": [32]}) == "the rotary table"
    # flat on the table its axis stands up, and the lines lie along the axis (geometry)
    flat = dividing(50, Workshop(job_with(**bare, **table, **{"lathe.change_gears": [32]})))
    assert flat.words.startswith("stood on its edge, its axis along the mill's travel")
    # a head without a mill has no table to stand on
    assert by(**{"shop.machines": {}, "lathe.change_gears": [32]}).startswith("a tape")


def test_what_is_said_of_the_spaces_of_a_wheel(job_with: JobWith) -> None:
    def words(divisions: int, *gears: int) -> str:
        job = job_with(**{"shop.dividing_head_ratio": None, "lathe.change_gears": list(gears)})
        return dividing(divisions, Workshop(job)).words

    assert words(50, 50).startswith(
        "a pin in every space of it, the play taken one way; the tool on"
    )
    assert words(25, 50).startswith("a pin in every 2 spaces of it, the play taken one way")
    assert words(50, 25).startswith("1 half space a line, the pins by turns; prove both first")
    assert words(20, 30).startswith("3 half spaces a line")
    assert "25 lines: the last step ends in the space it began in" in words(25, 50)
    # the smallest wheel that divides
    assert gear_for(25, (100, 50, 75)) == (50, 2) and half_spaces(20, (50, 30)) == (30, 3)
    # a lathe of 6 in swing, 2 in over its cross slide and that an inch over the bed: 36 lines at 9/16,
    # a disc of 6.446 in; at 1/2 in one of 5.730
    small = {"lathe.spindle_over_cross_slide": 2, "attachment.max_ball_diameter": "1-1/4"}
    bare = {"shop.dividing_head_ratio": None, "lathe.change_gears": [32], "shop.machines": {}}
    found = dividing(36, Workshop(job_with("inch-lathe", **small, **bare)))
    assert found.by == "a tape round a disc of 5.730 in on the spindle"
    assert found.words.startswith("1/2 in of the tape a line")
    assert disc(50, True) == pytest.approx((50 * 25.4 * 3 / 8 / pi, 25.4 * 3 / 8))


# trade-school table: stock on the diameter before the reamer, mm; half as much and twice are met too
@pytest.mark.parametrize(
    ("size", "low", "high"), [(4, 0.1, 0.2), (8, 0.2, 0.3), (20, 0.2, 0.3), (25, 0.3, 0.5)]
)
def test_what_is_left_for_the_reamer(size: float, low: float, high: float) -> None:
    assert reaming_allowance_mm(size) == (low, high)


@pytest.mark.parametrize(
    ("inches", "low", "high"),
    # the same table in round thousandths: 0.2 to 0.3 mm is 0.008 to 0.012
    [(3 / 16, 0.004, 0.008), (0.25, 0.008, 0.012), (0.75, 0.008, 0.012), (1, 0.012, 0.020)],
)
def test_what_is_left_for_the_reamer_in_inches(inches: float, low: float, high: float) -> None:
    left = reaming_allowance_mm(inches * 25.4, inch=True)
    assert left == pytest.approx((low * 25.4, high * 25.4))


def test_reamers_in_the_route_find_what_they_may_take(plan: Plan) -> None:
    # never over 1/32 in (an old rule), and no less than a few hundredths, or it rubs
    seen = 0
    for op in (op for op in plan.operations if op.kind == "ream"):
        size = op.op.cut["after_mm"]
        before = [
            one.op.cut["after_mm"] for one in plan.operations
            if one.setup == op.setup and one.number < op.number and one.kind in ("drill", "bore")
            and op.makes[0] in one.prepares
        ]  # fmt: skip
        assert 0.05 <= size - before[-1] <= 0.8, op.text
        seen += 1
    assert seen >= 3


def test_speeds_are_a_thousand_v_over_pi_d_and_say_whose(plan: Plan) -> None:
    # the rows of published tables, as wide as they scatter: a factor of one and a half either way
    seen = 0
    for op in plan.operations:
        if op.op.speed is None or op.speed_rpm is None or "slowest speed" in op.caution:
            continue
        operation, diameter = op.op.speed
        if operation not in ("drill", "turn", "mill") or op.kind in ("spot", "centre"):
            continue
        surface = pi * diameter * op.speed_rpm / 1000
        rows = [r.high_m_min for r in speed_rows() if r.operation == operation and r.tool == "HSS"]
        assert surface <= 1.5 * max(rows) and op.speed_from
        seen += 1
    assert seen > 30


def whole(job_with: JobWith, **changes: object) -> Route:
    job = job_with(**changes)
    return whole_route(attachment(size_up(job, "job.toml").sizes), job)


def test_threads_by_die_by_tap_or_by_a_single_point(bench: Plan) -> None:
    # common practice: short threads to M12 by a die from the tailstock, long ones and large by the tool
    seen = set()
    for part in bench.attachment.parts:
        for one in part.features:
            if isinstance(one, f.Thread):
                (op,) = [o for o in bench.operations if o.part == part.name and one.name in o.makes]
                major = float(one.thread[1:].split("x")[0])
                die = op.op.tool.kind == "die"
                assert die == (major <= 12 and one.end_mm - one.start_mm <= 3 * major), op.text
                assert (op.speed_rpm is None) == die
                seen.add(die)
    assert seen == {True, False}


def test_a_screw_cut_thread_has_room_to_run_out(bench: Plan) -> None:
    # half a pitch at the least before a shoulder, cut to the root, for a die too (common practice)
    for op in bench.operations:
        if op.kind == "groove":
            cut = op.op.cut
            thread = next(o for o in bench.operations if o.makes == op.prepares)
            pitch = thread.op.cut["pitch_mm"]
            assert abs(cut["to_mm"] - cut["from_mm"]) >= 0.5 * pitch - 1e-6
            # ISO 724: the root of the external thread lies 1.0825 pitches under the major diameter
            assert cut["after_mm"] <= thread.op.cut["diameter_mm"] - 1.08 * pitch
            assert thread.number > op.number
    # feed and pivot thread by the tool; tail, drag screw and both ends of the handle by a die
    assert sum(op.kind == "groove" for op in bench.operations) == 6


def test_grades_that_ways_of_working_hold() -> None:
    # ISO 286-1: IT7 is 0.021 at 20 mm, IT9 0.062 at 33, IT12 ten times IT7
    assert grade_mm(7, 20.0) == pytest.approx(0.021) and grade_mm(9, 33.0) == pytest.approx(0.062)
    assert grade_mm(12, 20.0) == pytest.approx(0.21)
    # common practice: a file two to five hundredths, a hacksaw half a millimetre and more
    file, saw = finest_band_mm("file", 33.0), finest_band_mm("hacksaw", 33.0)
    assert file is not None and 0.04 <= file <= 0.1
    assert saw is not None and saw >= 0.8


@pytest.mark.parametrize(
    ("low", "high", "kind", "name"),
    [
        # limits four hundredths apart and less are a micrometer's, a tenth and more a caliper's
        (19.98, 19.993, "outside", "micrometer 0 to 25 mm"),
        (32.95, 33.0, "outside", "micrometer 25 to 50 mm"),
        (19.8, 20.2, "outside", "vernier caliper"),
        (20.0, 20.021, "inside", "telescoping gauge and micrometer"),
        (4.0, 4.012, "inside", "small-hole gauge and micrometer"),
        (26.036, 26.056, "gap", "gauge blocks"),
        (6.9, 7.1, "depth", "vernier caliper"),
    ],
)
def test_the_gauge_for_a_size(
    job_with: JobWith, low: float, high: float, kind: str, name: str
) -> None:
    size = Limits(low, high - low, 0.0, "")
    found = Gauges(Workshop(job_with())).gauge(kind, size)
    assert found is not None and found.name == name


def test_a_size_that_no_gauge_of_the_shop_reads_is_told(job_with: JobWith) -> None:
    shop = Workshop(job_with(**{"shop.measuring": {"micrometers": [[0, 25]]}}))
    found = Gauges(shop).gauge("outside", Limits(33.0, 0.01, -0.01, ""))
    assert found is not None and found.name == "micrometer 25 to 50 mm"
    assert [one.what for one in shop.missing] == ["a micrometer 25 to 50 mm"]


def test_a_long_bar_is_centred_in_the_steady_or_told(job_with: JobWith) -> None:
    # a bar of 25 that does not go into the chuck stands out over four diameters: in the steady
    route = whole(job_with)
    held = [one for one in route.setups if one.hold.steady]
    assert held and all(one.hold.steady.size_mm >= 10 for one in held if one.hold.steady)
    # plain fingers bear about 60 m/min (common practice): the small drills turn slower there too
    for one in route.operations:
        if (steady := route.setups[one.setup - 1].hold.steady) and one.speed_rpm:
            assert one.speed_rpm * pi * steady.size_mm / 1000 <= 60, one.text
    without = whole(job_with, **{"lathe.steady": 0})
    told = [one.hold.steady_instead for one in without.setups if one.hold.steady]
    assert told and all("wooden steady" in one for one in told)
    assert not any(one.hold.steady_instead for one in held)
    assert any("a steady for" in one.what for one in without.missing)
    # where it goes through the spindle none is wanted for it
    through = whole(job_with, **{"lathe.steady": 0, "lathe.spindle_bore": 30})
    assert not any("a steady for" in one.what for one in through.missing)
