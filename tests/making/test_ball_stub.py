"""The stub that the first ball is turned on: it leaves the jaws where the swing clears them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT, planned
from making.shops import of

from planner.output.plan import Plan


@pytest.fixture(scope="module")
def plans() -> dict[str, Plan]:
    names = ("bench-lathe", "engine-lathe", "inch-lathe")
    return {name: planned(ROOT / "examples" / f"{name}.toml") for name in names}


@pytest.mark.parametrize(
    ("name", "seat", "behind"),
    # a knob of 22 seats on 8 across: its middle is the root of 121 - 16 before the seat; so of 30 on
    # 12, of 7/8 on 0.394
    [("bench-lathe", 8.0, 10.247), ("engine-lathe", 12.0, 13.748), ("inch-lathe", 10.0, 9.92)],
)
def test_it_holds_the_ball_where_a_ball_so_thick_behind_clears_the_jaws(
    plans: dict[str, Plan], name: str, seat: float, behind: float, tmp_path: Path
) -> None:
    route, stub = plans[name].route, plans[name].stub
    assert stub is not None
    assert stub.seat_mm == pytest.approx(seat, abs=0.6)
    knob = next(p for p in plans[name].attachment.parts if p.name == "knob")
    ball = next(one for one in knob.features if one.name == "ball")
    # what `check` says of such a ball in this job, from the jaws to its middle
    size = ball.diameter.nominal_mm  # type: ignore[attr-defined]
    text = (ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8")
    text += f"""
[[ball]]
name = "as the knob"
diameter = "{size} mm"
stem_diameter = "{stub.seat_mm} mm"
blank_diameter = "{size} mm"

[[ball]]
name = "as the knob in its bar"
diameter = "{size} mm"
stem_diameter = "{stub.seat_mm} mm"
blank_diameter = "{knob.blank.section.width_mm} mm"
"""  # type: ignore[union-attr]
    job = tmp_path / "job.toml"
    job.write_text(text, encoding="utf-8")
    said = json.loads(call("check", str(job), "--json").stdout)
    row, bar = [one for one in said["tables"]["clearance"] if one["ball"].startswith("as the knob")]
    assert stub.out_mm + behind == pytest.approx(bar["stick_out_mm"], abs=0.15)
    # behind its shoulder it is as thin as the stem of such a ball in a bar as thick as it is itself
    assert stub.thin_mm - 2.0 + behind == pytest.approx(min(row["relief_mm"], 1e3), abs=0.2)
    assert stub.thin_mm <= stub.out_mm
    (aid,) = [one for one in route.aids if one.name == "threaded stub"]
    assert aid.length_mm >= stub.out_mm + 25.0 and aid.section.width_mm <= size
    assert "no thicker" not in aid.made and "the tools come there" in aid.made


@pytest.mark.parametrize(("least", "turned"), [(22.0, True), (22.5, False)])
def test_a_knob_smaller_than_the_attachment_turns_is_rounded_by_hand(
    least: float, turned: bool
) -> None:
    """A knob of 22 on a head that comes in to balls of 22, and on one that comes to 22.5 alone."""
    _, _, route = of("bench-lathe", **{"attachment.min_ball_diameter": least})
    (op,) = [o for s in route.setups for o in s.ops if o.feature and o.feature.name == "ball"]
    assert op.text == (
        "turn the ball SØ22 with the attachment"
        if turned
        else "round the ball SØ22 by steps and a file to a template: it is smaller than the attachment"
        " turns"
    )
    assert (op.tool.kind == "attachment") is turned
    # nor is it said to be turned with the attachment, nor does its stub stand out as for that
    assert ("with the attachment" in op.note) is turned


def test_a_knob_rounded_by_hand_is_held_close_to_the_jaws() -> None:
    """The boat yard's knob of 30 is under what its head turns. A file passes the jaws in 15 mm; the
    stub stood 106.5 mm out, thinned over 46.5 for a head that never comes there."""
    plan = planned(ROOT / "tests" / "data" / "shops" / "boat-yard.toml")
    assert plan.stub is not None and plan.stub.out_mm == plan.stub.thin_mm == 15.0
    route = plan.route
    (setup,) = [s for s in route.setups for o in s.ops if o.feature and o.feature.name == "ball"]
    assert setup.hold.words.endswith(", 15 mm of the stub out of the jaws")
    (aid,) = [one for one in route.aids if one.name == "threaded stub"]
    assert aid.made.endswith(
        "turned down behind that to 12 mm over 15 mm: the tools come there; so long that 15 mm of it is"
        " out of the jaws"
    )


@pytest.mark.parametrize(
    "name", ["bench-lathe", "engine-lathe", "inch-lathe", "model-engineer", "tool-room", "coarse"]
)
def test_the_route_turns_it_at_the_speed_of_the_balls_own_sheet(name: str, tmp_path: Path) -> None:
    """As it was: a step at 1500 rev/min led to a page whose table has 900. The slower one is the
    sheet's: it knows how far the ball stands out."""
    path = ROOT / "examples" / f"{name}.toml"
    if name == "coarse":  # the table of speeds for that diameter alone would take 1500
        text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
        path = tmp_path / "coarse.toml"
        found = "spindle_speeds = [80, 140, 220, 340, 520, 800, 1250, 1900]"
        assert found in text
        path.write_text(
            text.replace(found, "spindle_speeds = [120, 210, 350, 560, 900, 1500, 2200]"), "utf-8"
        )
    elif not path.exists():
        path = ROOT / "tests" / "data" / "shops" / f"{name}.toml"
    plan = planned(path)
    (ball,) = [one for one in plan.route.operations if "with the attachment" in one.text]
    assert plan.knob is not None
    assert ball.speed_rpm == plan.knob.passes[0].cut.rev_min
