"""What a cut on the centre does to the thin end it runs on: by hand, and in a small shop's route."""

from __future__ import annotations

import copy
from math import pi

import pytest
from jobs import ROOT, planned
from walk_asked import Told, doing, held, rod, turned

from parts import features as f
from parts.standard.cutting_forces import specific_force_MPa
from planner.making.bending import arms_mm, deepest_mm
from planner.making.profile import Stretch
from planner.walking.bending import bends
from planner.walking.cuts import Cut
from planner.walking.shape import FAR_MM, Line, Ring
from planner.walking.state import Mark
from planner.walking.walk import walk

SMALL = ROOT / "tests" / "data" / "jobs" / "small-alone.toml"

ROOT_MM = 3.141
"""Root of M4: 4 - 1.22687 x 0.7 (ISO 68-1, ISO 724)."""


def _cut(long_mm: float, depth_mm: float, feed_mm: float = 0.12) -> Told:
    """S355 of 12, a tail M4 so long at its end, cut beside it 58 from the jaws' front to its end."""
    ends = {"start_mm": 158.0 - long_mm, "end_mm": 158.0}
    round_ = turned(f.TurnedDiameter, name="tail", diameter=f.Limits(4.0, -0.03, -0.15, ""), **ends)
    piece = rod(12.0, 0.0, 158.0, round_, turned(f.Thread, thread="M4", **ends))
    axis = Line(0, 1, (0.0, 0.0, 0.0))
    piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 158.0 - long_mm, 159.0, FAR_MM, 1.95))
    piece.marks.append(Mark("thread", axis, 158.0 - long_mm, 158.0, 2.0))
    cut = Cut("turn", axis, 113.0, 158.0 - long_mm, 5.05, 6.0)
    do = doing(piece, cut, depth_mm=depth_mm, feed_mm_per_rev=feed_mm)
    on = held(100.0)
    on.tail = 158.0
    bends(do, on)
    assert isinstance(do.faults, Told)
    return do.faults


def test_a_threaded_tail_bears_only_so_much_beside_it() -> None:
    """Propped cantilever (any handbook): of F at a = 7.1 from the centre, l = 58, the centre takes
    F (l - a)² (2 l + a) / (2 l³) = 0.817 F. W = pi 3.141³ / 32 = 3.04 mm3. Unalloyed steel takes
    2000 to 3400 MPa at a chip of 0.12 (Kienzle's kc, handbooks): at 0.95 deep 230 to 390 N, with the
    passive half 1.118 times that: 480 to 830 MPa in the root, where S355 yields at 355."""
    found = _cut(7.1, 0.95)
    assert found.codes == ["route-bends"]
    value, limit = found.last
    stress = float(value.split()[0])
    assert value.split(", ")[0].endswith("MPa where it is 3.14 mm thick")
    share = (58 - 7.1) ** 2 * (2 * 58 + 7.1) / (2 * 58**3)
    section = pi * ROOT_MM**3 / 32
    least, most = (
        1.118 * share * kc * 0.95 * 0.12 * 7.1 / section for kc in (2000.0, 3400.0)
    )  # fmt: skip
    assert 470 < least < stress < most < 840
    assert limit == "S355 bears 237 MPa"  # 355 / 1.5
    assert _cut(7.1, 0.95 * 230 / stress).codes == []
    assert _cut(7.1, 0.95 * 250 / stress).codes == ["route-bends"]


def test_a_short_tail_bears_it() -> None:
    """1.6 long: under a quarter of the arm of 7.1, where the stress is under four times the limit."""
    assert _cut(1.6, 0.95).codes == []


def test_the_plan_cuts_no_deeper_than_the_tail_bears() -> None:
    """The planner's own sum: 0.95 is too deep for M4, 7.1 long, as it is by hand above."""
    tail = [Stretch(51.0, 58.0, ROOT_MM, "tail")]
    depth = deepest_mm("S355", arms_mm(tail, 58.1, 58.0, (6.0, 51.0), False))
    assert 0.2 <= depth <= 0.45
    assert deepest_mm("S355", arms_mm(tail, 58.1, 58.0, (6.0, 51.0), True)) == depth
    stout = [Stretch(51.0, 58.0, 12.0, "tail")]
    assert deepest_mm("S355", arms_mm(stout, 58.1, 58.0, (6.0, 51.0), False)) == 1.0


def test_a_tail_made_before_the_journal_is_roughed_is_refused() -> None:
    """The small shop's feed screw with its tail threaded first, out of the chuck, as a route once had
    it: the journal's heavy cuts on a centre in the end of 4 mm are refused."""
    plan = planned(SMALL)
    assert [str(o) for o in plan.walked if o.code == "route-bends"] == []
    setups = plan.route.setup_records()
    steps = [o for o in plan.route.operation_records() if o["part"] == "feed-screw"]
    names = [o["text"].split(" Ø")[0].split(" M4")[0] for o in steps]
    rough, tail = names.index("rough turn screw journal to"), names.index("turn tail diameter")
    thread = names.index("thread tail thread")
    assert rough < tail < thread
    # the two moved to the set-up that faces this end, which then stands out as far
    end = next(i for i, o in enumerate(steps) if "to length" in o["text"])
    early = copy.deepcopy([steps[tail], steps[thread]])
    for one in early:
        one["setup"] = steps[end]["setup"]
    rest = [o for i, o in enumerate(steps) if i not in (tail, thread)]
    spoiled = [*rest[: end + 1], *early, *rest[end + 1 :]]
    spoiled = [
        o | {"cut": o["cut"] | {"to_mm": 90.0}}
        if "screw journal" in o["text"] or "the collar" in o["text"]
        else o
        for o in spoiled
    ]
    parts = [p for p in plan.attachment.parts if p.name == "feed-screw"]
    used = {o["setup"] for o in spoiled}
    found = walk(parts, plan.job, [s for s in setups if s["number"] in used], spoiled)
    told = {o.key for o in found if o.code == "route-bends"}
    assert f"step {steps[rough]['number']}" in told


def test_an_inch_jobs_cut_is_held_against_inch_cuts() -> None:
    """An inch job is planned by 0.040 in at 0.0045 in per turn (parts/standard/cutting_data.csv, common
    practice): an end that bears 1.0 to 1.016 mm at that feed is to get a depth of its own. As it
    was, 1.0 mm was taken for the whole cut, and 0.040 in was left standing."""
    whole = 0.040 * 25.4
    force = specific_force_MPa("mild steel", 0.0045 * 25.4) * 0.0045 * 25.4 * (1 + 0.5**2) ** 0.5
    arm = 355 / 1.5 * pi * 4.0**3 / 32 / (force * 1.008)  # of 4 mm: it bears 1.008 mm of depth
    assert deepest_mm("S355", [(4.0, 0.9 * arm)], True) == pytest.approx(whole)
    assert deepest_mm("S355", [(4.0, arm)], True) == pytest.approx(
        1.0
    )  # less: told, and planned by
    assert deepest_mm("S355", [(4.0, 0.9 * arm)], False) == 1.0
