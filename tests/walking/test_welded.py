"""Where a weld goes there is room for it, and what is turned and milled later leaves it there.

Common practice: the torch or electrode leans into a groove and needs it open as far out as the weld's
leg and 2 mm more; a fillet weld is no larger than the ledge that it stands on, less 1 mm.
"""

from __future__ import annotations

from typing import Any

import pytest
from jobs import changed
from msgspec.structs import replace
from walking.part_walk import of_parts

from parts.attachment import Attachment, attachment
from parts.features import TurnedDiameter, Weld
from parts.head import foot_ledge_mm
from parts.part import Joined, Part
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.route import whole_route
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.walking.walk import walk


def part_of(plan: Plan, name: str) -> Part:
    (one,) = [part for part in plan.attachment.parts if part.name == name]
    return one


def with_spigot(body: Part, end_mm: float) -> Part:
    """The body with its spigot turned so far."""
    assert isinstance(body.blank, Joined)
    shaft, block = body.blank.members
    features = tuple(
        replace(one, end_mm=end_mm)
        if isinstance(one, TurnedDiameter) and one.name == "spigot"
        else one
        for one in shaft.features
    )
    return replace(
        body, blank=replace(body.blank, members=(replace(shaft, features=features), block))
    )


def test_a_groove_that_the_shafts_shoulder_covers_is_refused(plan: Plan) -> None:
    """The spigot 1 mm longer than the block's bore once it is faced, 0.5 mm before: so the raw bar's
    shoulder stands half a millimetre off the block over the groove, as it did."""
    s, body = plan.sizing.sizes, part_of(plan, "rotating-body")
    setups, operations = of_parts(plan, "rotating-body", kind="weld")

    def told(end_mm: float) -> list[str]:
        shorter = [
            one | {"cut": one["cut"] | {"to_mm": end_mm}}
            if one["piece"] == "shaft" and "turn spigot" in one["text"].replace("rough ", "")
            else one
            for one in operations
        ]
        found = walk([with_spigot(body, end_mm)], plan.job, setups, shorter)
        return [str(one) for one in found if "over its groove" in str(one)]

    assert isinstance(body.blank, Joined)
    (leg,) = [one.leg_mm for one in body.blank.welds if one.name == "shaft weld"]
    bore = s.spigot_length_mm + s.dressing_mm
    assert len(told(bore + 0.5)) == 1
    for words in (
        "shaft weld: metal stands",
        "off over its groove",
        "the torch needs it open for",
        "Turn what stands there down to the spigot before it is welded",
    ):
        assert words in told(bore + 0.5)[0]
    # open as far as the leg and 2 mm, no less
    assert told(bore + leg + 2.0 + 0.1) == []
    assert len(told(bore + leg + 2.0 - 0.3)) == 1
    # and so it is made
    (spigot,) = [one for one in body.blank.members[0].features if one.name == "spigot"]  # type: ignore[union-attr]
    assert isinstance(spigot, TurnedDiameter)
    assert spigot.end_mm >= bore + max(6.0, leg + 2.0) - 0.1


@pytest.mark.parametrize(("off_mm", "kept"), [(0.5, True), (0.7, True), (0.8, False), (1.5, False)])
def test_a_weld_faced_away_is_refused(bench: Plan, off_mm: float, kept: bool) -> None:
    """A leg of 2.5 mm: its throat, 0.707 of it (ISO 2553), is 1.77, so that 0.73 may come off."""
    body = part_of(bench, "rotating-body")
    assert body.blank.welds[0].leg_mm == 2.5  # type: ignore[union-attr]
    deeper = off_mm - bench.sizing.sizes.dressing_mm
    setups, operations = of_parts(bench, "rotating-body")

    def faced(one: dict[str, Any]) -> dict[str, Any]:
        if "body thrust face, faced" in one["text"]:
            cut = one["cut"]
            to = {"at_mm": cut["at_mm"] + deeper, "off_mm": cut["off_mm"] + deeper}
            return one | {"cut": cut | to}
        return one

    found = walk([body], bench.job, setups, [faced(one) for one in operations])
    told = [str(one) for one in found if "its strength is counted on" in str(one)]
    assert (told == []) is kept, [str(one) for one in found]
    ending = "Take less off there after it is welded, or make the weld larger"
    assert all("shaft weld" in one and one.endswith(ending) for one in told)


def with_leg(body: Part, leg_mm: float) -> Part:
    """The body with its shaft's weld so large."""
    assert isinstance(body.blank, Joined)
    (weld,) = [one for one in body.blank.welds if one.name == "shaft weld"]
    others = tuple(one for one in body.blank.welds if one is not weld)
    return replace(body, blank=replace(body.blank, welds=(replace(weld, leg_mm=leg_mm), *others)))


def test_a_groove_that_runs_out_of_the_blocks_side_is_refused(plan: Plan) -> None:
    """A groove needs a wall to weld to all round (common practice). The block's leaf side stood 14 from
    the spigot's axis where the groove was 15.5: it came out of it by 1.5."""
    s, body = plan.sizing.sizes, part_of(plan, "rotating-body")
    setups, operations = of_parts(plan, "rotating-body", kind="weld")
    room = (
        min(s.rod_diameter_mm / 2 + s.leaf_thickness_mm, s.flat_offset_mm, s.block_length_mm / 2)
        - s.spigot_diameter_mm / 2
    )

    def told(leg_mm: float) -> list[str]:
        found = walk([with_leg(body, leg_mm)], plan.job, setups, operations)
        return [str(one) for one in found if "of metal beside it" in str(one)]

    assert told(room - 0.4) == [] and len(told(room + 1.5)) == 1
    for words in (
        "shaft weld: its groove of",
        "out of the side of the block",
        "Make the weld smaller",
    ):
        assert words in told(room + 1.5)[0]
    out = float(told(room + 1.5)[0].split("comes ")[1].split()[0])
    assert s.series.inch or out == pytest.approx(1.5, abs=0.3)


def head_of(**changes: Any) -> tuple[Attachment, Job]:
    """The attachment for the bench lathe with keys changed."""
    job = job_from(changed("bench-lathe", **changes), "job.toml")
    return attachment(size_up(job, "job.toml").sizes), job


def foot_weld(whole: Attachment) -> tuple[Part, Weld]:
    (head,) = [part for part in whole.parts if part.name == "sliding-head"]
    assert isinstance(head.blank, Joined)
    return head, next(one for one in head.blank.welds if one.name == "foot weld")


@pytest.mark.parametrize(
    ("bar", "ledge_mm", "kind"),
    [
        # from the arm's other side: half of its 18 mm, the flat at 33, the foot of 8; 0.47 more, its
        # dressing of 0.5 less its play of 0.03
        ("flat 50x15", 50 - 9 - 33 - 8 + 0.47, "bevel"),
        ("flat 60x15", 60 - 9 - 33 - 8 + 0.47, "fillet"),
    ],
)
def test_a_fillet_has_a_ledge_to_lie_on(bar: str, ledge_mm: float, kind: str) -> None:
    """Where the arm ends with the foot, its weld lies in a bevel; the fillet put back is refused."""
    whole, job = head_of(**{"attachment.sizes": {"arm_stock": bar}})
    head, weld = foot_weld(whole)
    assert foot_ledge_mm(whole.sizes) == pytest.approx(ledge_mm, abs=1e-6)
    assert weld.kind == kind and weld.leg_mm == 4.0  # half of the foot
    route = whole_route(whole, job)
    setups, operations = route.setup_records(), route.operation_records()
    bevels = [
        one["text"] for one in operations if one["kind"] == "chamfer" and one["piece"] == "foot"
    ]
    assert len(bevels) == (kind == "bevel")
    assert all("on the +z side, where the arm comes against it" in one for one in bevels)

    def told(of: Part) -> list[str]:
        found = walk([of], job, setups, operations)
        return [str(one) for one in found if "on a ledge" in str(one)]

    assert told(head) == []
    assert isinstance(head.blank, Joined)
    welds = tuple(replace(one, kind="fillet") if one is weld else one for one in head.blank.welds)
    filleted = replace(head, blank=replace(head.blank, welds=welds))
    assert [one[one.index("foot weld") :] for one in told(filleted)] == [
        "foot weld: fillet of 4 mm on a ledge of 0.47 mm: it needs 5 mm. Bevel the piece"
        " and weld it in the bevel, or use a wider bar"
    ][: kind == "bevel"]
