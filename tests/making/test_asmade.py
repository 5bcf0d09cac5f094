"""Fits as made: sizes by hand from the tables of ISO 286-2, and steps marked as done."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

from parts.part import every_feature
from planner.making.asmade import Mated, mated, remade
from planner.making.marks import marks
from planner.output.plan import Plan

BORE, JOURNAL = ("housing", "pivot bore"), ("rotating-body", "journal")
ROD_BORE, ROD = ("rotating-body", "rod bore"), ("sliding-head", "rod")
DIAL_BORE, SCREW = ("dial", "dial bore"), ("feed-screw", "screw journal")
PIN_HOLE, PIN = ("sliding-head", "rod hole"), ("sliding-head", "rod spigot")

One = Callable[..., Mated]


@pytest.fixture(scope="module")
def bench() -> Plan:
    return Plan(ROOT / "examples" / "bench-lathe.toml")


@pytest.fixture
def one(bench: Plan) -> One:
    def found(*sizes: tuple[tuple[str, str], float]) -> Mated:
        (fit,) = mated(bench.attachment, bench.job, dict(sizes))
        return fit

    return found


@pytest.mark.parametrize(
    "hole, mm, low, high",
    [
        # 20 H7 0/+21, g6 -7/-20 (um); the sheet: at most 0.015 under the bore. The shaft keeps the
        # 13 um of IT6: from 15 to 2 under what the bore came to
        (BORE, 20.030, 20.015, 20.028),
        (BORE, 20.010, 19.995, 20.008),
        # 14 H7 0/+18, g6 -6/-17, at most 0.012 less: 11 um of IT6, so 12 to 1 under
        (ROD_BORE, 14.020, 14.008, 14.019),
        # 8 H7 0/+15 in h7 0/-15: play of 0 to 30
        (DIAL_BORE, 8.012, 7.982, 8.012),
        # 10 H8 0/+22 with h8 0/-22: play of 0 to 44
        (PIN_HOLE, 10.040, 9.996, 10.040),
    ],
)
def test_a_shaft_follows_its_hole(
    one: One, hole: tuple[str, str], mm: float, low: float, high: float
) -> None:
    found = one((hole, mm))
    assert found.state == "shaft to the hole" and found.limits is not None
    assert (found.limits.min_mm, found.limits.max_mm) == pytest.approx((low, high), abs=1e-6)
    assert not found.do


def test_both_made_they_fit_or_are_eased_or_made_anew(one: One) -> None:
    # 20.010 and 19.995 to 20.008 as above
    assert one((BORE, 20.010), (JOURNAL, 19.995)).state == "fits"
    assert one((BORE, 20.010), (JOURNAL, 20.008)).state == "fits"
    tight = one((BORE, 20.010), (JOURNAL, 20.009))  # 0.001 of play: 0.001 to 0.014 off
    assert tight.state == "tight" and "Take 0.001 to 0.014 mm off" in tight.do
    loose = one((BORE, 20.010), (JOURNAL, 19.994))
    assert loose.state == "loose" and loose.play_mm == pytest.approx(0.016)
    assert "new shaft, 19.995 to 20.008 mm" in loose.do
    # a bush of 2 mm wall: 24 H7 0/+21, p6 +35/+22, its bore as drawn
    for words in ("24.000 to 24.021 mm", "24.022 to 24.035 mm", "20.000 to 20.021 mm"):
        assert words in loose.do


def test_a_hole_too_small_is_worked_on_and_one_too_large_is_bushed_or_reamed(one: One) -> None:
    small = one((BORE, 19.990))
    assert small.state == "under" and "larger by 0.01 to 0.031 mm" in small.do
    assert one((BORE, 20.0)).state == "shaft to the hole"
    # half a millimetre over its greatest is the end
    assert one((BORE, 20.521)).state == "shaft to the hole"
    large = one((BORE, 20.523))
    assert large.state == "outside" and large.limits is None and large.do.startswith("Bush it")
    # the next reamer of the shop after 14.6 is 16, for a rod of round 18: 12 to 1 under it
    rod = one((ROD_BORE, 14.6))
    assert rod.state == "outside" and "Ream it to 16" in rod.do and "15.988 to 15.999 mm" in rod.do
    assert "Ream" not in one((ROD_BORE, 16.2)).do  # 18 or 20 there is, but no bar for the rod


def test_a_hole_follows_a_shaft_that_is_made_first(one: One) -> None:
    bored = one((JOURNAL, 19.970))
    assert bored.state == "hole to the shaft" and bored.limits is not None
    assert (bored.limits.min_mm, bored.limits.max_mm) == pytest.approx((19.972, 19.985), abs=1e-6)
    # a reamer makes 8.000 to 8.015: with 7.990 that is 10 to 25 of play, inside 0 to 30
    assert one((SCREW, 7.990)).do == ""
    assert "8.005 to 8.035 mm" in one((SCREW, 8.005)).do


def test_only_what_is_still_to_be_made_changes(bench: Plan) -> None:
    sizes = {BORE: 20.03, ROD_BORE: 16.9}
    found = mated(bench.attachment, bench.job, sizes)
    after = remade(bench.attachment, found)

    def every(which: object) -> dict[tuple[str, str], object]:
        return {(p.name, f.name): f for p in which.parts for _, f in every_feature(p)}  # type: ignore[attr-defined]

    was, now = every(bench.attachment), every(after)
    assert [key for key in was if was[key] != now[key]] == [JOURNAL]
    assert remade(bench.attachment, ()) is bench.attachment


def test_a_step_is_done_where_its_features_are_and_what_it_waited_for(bench: Plan) -> None:
    route = bench.drawn_route
    found = marks(route.operations, {BORE}, {("housing", "seat thread")})
    by_number = {op.number: op for op in route.operations}
    for op in route.operations:
        if op.part == "housing" and BORE[1] in (*op.makes, *op.prepares):
            assert found[op.number] == "done"
    done = [by_number[n] for n, mark in found.items() if mark == "done"]
    assert {op.part for op in done} == {"housing"}  # nothing of another part came before it
    assert any(op.kind == "saw" for op in done)  # the tube was sawn, or there were no bore
    for op in done:
        assert set(op.makes) | set(op.prepares) <= {BORE[1]}
    assert marks(route.operations, (), ()) == {}
    again = marks(route.operations, (), {BORE})
    assert {by_number[n].part for n, m in again.items() if m == "again"} == {"housing"}


def test_the_route_is_printed_as_made(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    text = (ROOT / "examples" / "bench-lathe.toml").read_text("utf-8")
    job.write_text(text, "utf-8")
    call("record", str(job), "--made", *BORE, "20.03 mm")
    shown = call("route", str(job)).output
    assert "20.015 to 20.025 mm" in shown and "19.98 to 19.993 mm" not in shown
    assert "[x] bore pivot bore" in shown and "[!]" not in shown.split("HOUSING")[1]
    # a bore with other limits is another: the step is to be done again, and the shaft is as drawn
    job.write_text(text.replace("max_ball_diameter = 50", "max_ball_diameter = 30"), "utf-8")
    record = tmp_path / "job-record" / "made.toml"
    kept = record.read_text("utf-8")
    sha = next(line for line in kept.splitlines() if line.startswith("feature_sha256"))
    record.write_text(kept.replace(sha, 'feature_sha256 = "0123456789abcdef"'), "utf-8")
    shown = call("route", str(job)).output
    assert "[!] bore pivot bore" in shown and "UNDONE: housing, pivot bore (steps " in shown
    assert "as made:" not in shown
