"""No part stands in another, at several swings and radii, but threads in their tap drills."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands import call
from jobs import ROOT
from msgspec.structs import replace

from parts.attachment import Attachment, Carrier, Placed
from parts.fitting import screwed
from parts.frame import Frame
from parts.part import Bought, Part
from planner.output.plan import Plan
from planner.solids import clashes


def test_no_two_parts_of_an_example_share_metal(plan: Plan) -> None:
    # up to the neck's stop, at 159.5: beyond it the handle stands in its screw
    assert clashes(plan.attachment, (0.0, 45.0, 90.0, 135.0, 159.0)) == ()


def test_every_thread_in_its_hole_is_there_and_is_found_when_it_is_not_left_aside(
    bench: Plan,
) -> None:
    whole = bench.attachment
    assert {type(p.item) for p in whole.placed if p.name in {o.outer for o in whole.overlaps}} == {
        Part,
        Bought,
    }
    found = clashes(replace(whole, overlaps=()))
    assert sorted(tuple(sorted((c.one, c.other))) for c in found) == sorted(
        tuple(sorted((o.outer, o.inner))) for o in whole.overlaps
    )
    assert all(c.volume_mm3 > 1.0 for c in found)


def test_only_the_same_thread_on_the_same_axis_is_a_screw_in_its_hole(bench: Plan) -> None:
    # a screw beside its hole, or of another thread, stands in the metal
    whole = bench.attachment
    (screw,) = [p for p in whole.placed if p.name == "holds the bit"]
    assert any(o.outer == screw.name for o in screwed(whole.placed))
    x, y, z = screw.frame.origin
    beside = replace(screw, frame=replace(screw.frame, origin=(x, y + 0.01, z)))
    other = replace(screw, item=replace(screw.item, thread="M8"))  # type: ignore[type-var]
    for wrong in (beside, other):
        placed = tuple(wrong if p is screw else p for p in whole.placed)
        pairs = screwed(placed)
        assert len(pairs) == len(whole.overlaps) - 1
        assert not any(o.outer == screw.name for o in pairs)
        found = clashes(replace(whole, placed=placed, overlaps=pairs))
        assert any({c.one, c.other} == {screw.name, "sliding-head"} for c in found)


def moved(attachment: Attachment, name: str, by: tuple[float, float, float]) -> Attachment:
    """The attachment with one part set off from its place."""

    def shift(p: Placed) -> Placed:
        if not (isinstance(p.item, Part) and p.item.name == name):
            return p
        x, y, z = p.frame.origin
        place = Frame((x + by[0], y + by[1], z + by[2]), p.frame.x, p.frame.z)
        return replace(p, frame=place)

    return replace(attachment, placed=tuple(shift(p) for p in attachment.placed))


@pytest.mark.parametrize(
    ("name", "by", "meets"),
    [
        ("housing", (0.5, 0.0, 0.0), "rotating-body"),
        ("sliding-head", (0.3, 0.0, 0.0), "rotating-body"),
        ("dial", (0.0, 1.0, 0.0), "index-ring"),
        ("index-ring", (0.0, 1.0, 0.0), "rotating-body"),
        ("tool-bit", (0.0, 0.0, 0.2), "sliding-head"),
    ],
)
def test_a_part_out_of_its_place_is_found(
    bench: Plan, name: str, by: tuple[float, float, float], meets: str
) -> None:
    found = clashes(moved(bench.attachment, name, by))
    assert any({c.one, c.other} == {name, meets} for c in found)


def test_what_meets_only_in_the_swing_is_found(bench: Plan) -> None:
    # the handle, moved forward along the pivot until it passes through the shank when it hangs down
    whole = bench.attachment
    for p in whole.placed:
        if isinstance(p.item, Part) and p.item.name == "handle":
            assert p.carrier is Carrier.BODY
    forward = moved(whole, "handle", (30.0, 0.0, 0.0))
    forward = replace(
        forward,
        overlaps=(*forward.overlaps, type(whole.overlaps[0])("handle", "pivot-nut")),
    )
    at_rest = {c.other for c in clashes(forward, (90.0,)) if c.one == "housing"}
    swung = {c.other for c in clashes(forward, (0.0, 45.0, 150.0)) if c.one == "housing"}
    assert "handle" in swung and "handle" not in at_rest


def test_build_refuses_parts_that_stand_in_each_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import planner.output.plan as plans

    real = plans.attachment
    monkeypatch.setattr(
        "planner.output.plan.attachment", lambda s: moved(real(s), "dial", (0.0, 1.0, 0.0))
    )
    out = tmp_path / "made"
    result = call("build", str(ROOT / "examples" / "bench-lathe.toml"), "--out", str(out))
    assert result.exit_code == 2 and not out.exists()
    assert "[interference]" in result.stderr and "index-ring and dial" in result.stderr
