"""What a shaft is turned to is looked at beside the hole as it was measured.

Sizes by hand from ISO 286-2: 20 H7 is 0 to 21 um, 20 g6 is -7 to -20; 14 H7 0 to 18, 14 g6 -6 to -17;
8 H7 0 to 15, 8 h7 0 to -15.
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import msgspec
import pytest
from jobs import ROOT, planned
from msgspec.structs import replace

from parts.attachment import Attachment
from parts.part import Joined, Part
from parts.standard.fits import limits
from parts.standard.series import Series
from planner.making.asmade import mated as worked_out
from planner.making.asmade import remade
from planner.making.route import whole_route
from planner.output.plan import Plan
from planner.walking.mated import mated
from planner.words.findings import Finding

BORE, JOURNAL = ("housing", "pivot bore"), ("rotating-body", "journal")
ROD_BORE, ROD = ("rotating-body", "rod bore"), ("sliding-head", "rod")
DIAL_BORE, SCREW = ("dial", "dial bore"), ("feed-screw", "screw journal")

Steps = list[dict[str, Any]]


@cache
def bench() -> Plan:
    return planned(ROOT / "examples" / "bench-lathe.toml")


@cache
def as_drawn() -> Steps:
    return list(bench().drawn_route.operation_records())


def found(
    made: dict[tuple[str, str], float], steps: Steps, told: tuple[Any, ...] = ()
) -> tuple[Finding, ...]:
    return mated(bench().attachment, made, told, steps, bench().job, "job.toml")


def turned(part: str, feature: str, low: float, high: float) -> Steps:
    """The route as drawn, but for what one feature is measured to."""
    steps = copy.deepcopy(as_drawn())
    (one,) = (o for o in steps if o["part"] == part and feature in o["makes"])
    (read,) = (m for m in one["measure"] if m["from"] == m["to"] == f"{feature}.round")
    read["low_mm"], read["high_mm"] = low, high
    return steps


def test_nothing_measured_nothing_is_said() -> None:
    assert not found({}, as_drawn())
    assert not found({BORE: 20.03, JOURNAL: 20.02}, as_drawn())  # both made: no step is left


@pytest.mark.parametrize(
    ("hole", "mm", "shaft", "low", "high"),
    [  # at most 0.015 under the bore; 0.012; 0.003 at the least: it slides; 0 to 30 um
        (BORE, 20.030, JOURNAL, 20.015, 20.027),
        (ROD_BORE, 14.030, ROD, 14.018, 14.027),
        (DIAL_BORE, 8.020, SCREW, 7.990, 8.020),
    ],
)
def test_a_shaft_is_made_to_its_hole(
    hole: tuple[str, str], mm: float, shaft: tuple[str, str], low: float, high: float
) -> None:
    assert not found({hole: mm}, turned(*shaft, low, high))
    for a, b in ((low - 0.003, high), (low, high + 0.003)):
        (one,) = found({hole: mm}, turned(*shaft, a, b))
        assert one.code == "route-not-made" and one.value.startswith(shaft[1])


def test_as_drawn_it_is_refused_where_the_hole_came_out_wide() -> None:
    assert [one.code for one in found({BORE: 20.03}, as_drawn())] == ["route-not-made"]
    assert not found({BORE: 20.3}, as_drawn(), (JOURNAL,))  # none will do: that is said already


def test_a_hole_is_made_to_its_shaft() -> None:
    """A journal of 19.96 is 0.040 under the middle of its bore: it wants 19.963 to 19.975."""
    steps = copy.deepcopy(as_drawn())
    (one,) = (o for o in steps if "pivot bore" in o["makes"])
    (read,) = (m for m in one["measure"] if m["kind"] == "inside")
    assert found({JOURNAL: 19.96}, steps)
    read["low_mm"], read["high_mm"] = 19.963, 19.975
    assert not found({JOURNAL: 19.96}, steps)


@pytest.mark.parametrize("over", [-0.04, 0.2])
def test_the_routes_made_to_a_record_are_walked_for_it(over: float) -> None:
    """Every fit in turn, its hole or its shaft off by so much: what is planned then holds."""
    plan = bench()
    off = {}
    for fit in plan.attachment.fits:
        for key in ((fit.hole_part, fit.hole), (fit.shaft_part, fit.shaft)):
            size = next(
                getattr(one, "diameter")  # noqa: B009
                for part in plan.attachment.parts
                if part.name == key[0]
                for one in every_of(part)
                if one.name == key[1]
            )
            if key[1] not in {name for _, name in off}:
                off = {key: size.mean_mm + over}
                fits = worked_out(plan.attachment, plan.job, off)
                route = whole_route(remade(plan.attachment, fits), plan.job, plan.stub)
                told = tuple((o.fit.shaft_part, o.fit.shaft) for o in fits if o.do)
                assert not found(off, list(route.operation_records()), told)


def every_of(part: Any) -> list[Any]:
    from parts.part import every_feature

    return [one for _, one in every_feature(part)]


def test_a_plan_with_a_record_is_walked_for_it() -> None:
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    fits = worked_out(plan.attachment, plan.job, {BORE: 20.03})
    made = replace(plan.made, attachment=remade(plan.attachment, fits), fits=fits)
    kept = Plan.__new__(Plan)
    kept.__dict__.update(plan.__dict__)
    for key in ("route", "walked"):
        kept.__dict__.pop(key, None)
    kept.__dict__["made"] = made
    assert not kept.walked
    for key in ("route", "walked"):
        kept.__dict__.pop(key)
    kept.__dict__["made"] = replace(made, attachment=plan.attachment)  # the route not made to it
    assert [one.code for one in kept.walked] == ["route-not-made"]


def test_size_for_size_is_refused() -> None:
    """As it was: a rod of 24 in a bore of 24.010 was to be 23.998 to 24.010, for 12 um of play at most
    leave less than IT6 of 24, 13 (ISO 286-1). Size for size nothing slides (common practice)."""
    plan = planned(ROOT / "examples" / "engine-lathe.toml")
    steps = copy.deepcopy(list(plan.drawn_route.operation_records()))
    (one,) = (o for o in steps if o["part"] == ROD[0] and ROD[1] in o["makes"])
    (read,) = (m for m in one["measure"] if m["from"] == m["to"] == "rod.round")
    for high, codes in ((24.010, ["route-not-made"]), (24.007, [])):
        read["low_mm"], read["high_mm"] = 23.996, high
        told = mated(plan.attachment, {ROD_BORE: 24.010}, (), steps, plan.job, "job.toml")
        assert [one.code for one in told] == codes


@pytest.mark.parametrize(
    ("rod", "play"),
    [  # um: 12 to 18 mm, then as the lower limit of g5 falls: -14, -16, -20, -23 (ISO 286-2)
        (10.0, 12), (14.0, 12), (18.0, 12), (19.0, 14), (30.0, 14), (35.0, 18), (60.0, 21),
    ],
)  # fmt: skip
def test_a_thicker_rod_may_run_looser(rod: float, play: float) -> None:
    """And its window, less 3 to slide, is three quarters of IT6 (11, 13, 16, 19) at the least."""
    sizes = replace(bench().sizing.sizes, rod_diameter_mm=rod)
    assert sizes.rod_play_mm == pytest.approx(play / 1000)
    it6 = next(um for upto, um in ((10, 9), (18, 11), (30, 13), (50, 16), (80, 19)) if rod <= upto)
    assert play - 3 >= 0.75 * it6


@pytest.mark.parametrize(
    ("pivot", "play"), [(16.0, 15), (20.0, 15), (30.0, 15), (35.0, 19), (60.0, 22)]
)
def test_so_may_a_thicker_pivot(pivot: float, play: float) -> None:
    sizes = replace(bench().sizing.sizes, pivot_diameter_mm=pivot)
    assert sizes.pivot_play_mm == pytest.approx(play / 1000)
    inch = replace(
        sizes, series=Series(inch=True)
    )  # 0.015 is 0.00059 in, 0.019 0.00075, 0.022 0.00087
    tenths = {15.0: 6, 19.0: 7, 22.0: 9}[play]
    assert inch.pivot_play_mm / 25.4 == pytest.approx(tenths * 1e-4)


def test_a_window_that_none_comes_to_is_refused() -> None:
    """As it was: a rod of 35 in its bore of 35.010, 12 um of play at most and 3 at the least: 9 um for
    emery to stop in, where IT6 of 35, what turning and polishing holds, is 16 (ISO 286-1)."""
    plan, steps = bench(), copy.deepcopy(as_drawn())
    (one,) = (o for o in steps if o["part"] == ROD[0] and ROD[1] in o["makes"])
    (read,) = (m for m in one["measure"] if m["from"] == m["to"] == "rod.round")
    bigger = sized(plan.attachment, 35.0)
    for low, codes in ((34.998, ["route-not-fine"]), (34.992, [])):
        read["low_mm"], read["high_mm"] = low, 35.007
        told = mated(bigger, {ROD_BORE: 35.010}, (), steps, plan.job, "job.toml")
        assert [one.code for one in told] == codes


def sized(drawn: Attachment, rod: float) -> Attachment:
    """Drawn with a rod of another size, and its bore, for their limits alone: H7 and g6 of ISO 286."""
    placed = []
    for one in drawn.placed:
        part = one.item
        if isinstance(part, Part) and part.name in (ROD[0], ROD_BORE[0]):
            changes = {ROD: limits(rod, "g6"), ROD_BORE: limits(rod, "H7")}

            def own(features: Any, name: str = part.name, changes: Any = changes) -> Any:
                return tuple(
                    replace(f, diameter=changes[name, f.name]) if (name, f.name) in changes else f
                    for f in features
                )

            blank = part.blank
            if isinstance(blank, Joined):
                members = tuple(replace(m, features=own(m.features)) for m in blank.members)
                blank = replace(blank, members=members)
            own_part = copy.copy(part)  # past what a part refuses: only its limits are read
            msgspec.structs.force_setattr(own_part, "blank", blank)
            msgspec.structs.force_setattr(own_part, "features", own(part.features))
            part = own_part
        placed.append(replace(one, item=part))
    return replace(drawn, placed=tuple(placed), sizes=replace(drawn.sizes, rod_diameter_mm=rod))
