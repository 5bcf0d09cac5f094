"""Routes for shops that lack something: what is asked of every one of them, and of each its own.

What a toolmaker asks at each step: can it be held, is the tool there, is the size measured. Limits of
holding and of ways of working are typed here from handbooks and common practice, not read from the
planner's tables.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable

import pytest
from making.shops import SHOPS, of, shop

from parts import features as f
from parts.attachment import Attachment
from parts.part import every_feature
from planner.job.tables import Job
from planner.making.outfit import outfit
from planner.making.route import Operation, Route
from planner.output.sheets.outfit import missing_findings
from planner.output.sheets.route import route_text

JobWith = Callable[..., Job]
Made = tuple[Job, Attachment, Route]


@pytest.fixture(params=SHOPS)
def made(request: pytest.FixtureRequest) -> Made:
    return shop(request.param)


def ops(route: Route, kind: str) -> list[Operation]:
    return [op for op in route.operations if op.kind == kind]


def test_every_feature_is_made_once_whatever_the_shop(made: Made) -> None:
    _, whole, route = made
    done = Counter((op.part, name) for op in route.operations for name in op.makes)
    wanted = Counter((p.name, one.name) for p in whole.parts for _, one in every_feature(p))
    assert done == wanted


def test_no_machine_is_used_that_is_not_there(made: Made) -> None:
    job, _, route = made
    there = {"lathe", "lathe, on the cross slide", "bench", "hacksaw"}
    there |= {str(name) for name in job.shop.machines}
    away = {"a welder's shop", "a shop with a grinder"}
    for one in route.setups:
        assert one.machine in there | away, one.machine
        if one.machine in away:
            assert any("weld" in m.what or "grinder" in m.what for m in route.missing)
    # and an end mill turns in a spindle, never on the bench
    for op in route.operations:
        assert not (op.machine == "bench" and op.op.tool.kind in ("end mill", "drill", "reamer"))


def test_work_is_held_and_does_not_stand_out_too_far(made: Made) -> None:
    # a chuck alone holds work that stands out three diameters, four for light cuts; on a centre ten, in
    # a steady each free span twelve (common practice); the jaws do not reach past the work
    _, _, route = made
    chucked = 0
    for one in route.setups:
        hold = one.hold
        if hold.by not in ("hand", "flat plate", "between centres"):
            assert hold.grips, (one.on.name, hold.words)
        if hold.by in ("three-jaw chuck", "collet") and one.machine == "lathe":
            (grip,) = hold.grips
            assert grip.to_mm - grip.from_mm >= 2.5 and hold.axis and hold.out_mm is not None
            chucked += 1
            parting = any(op.kind == "part" for op in one.ops) and len(one.ops) == 1
            if hold.centre is None and hold.steady is None and not parting:
                tail = "the centre drawn back" in hold.words  # a die's holder keeps its end there
                assert hold.out_mm <= (10.0 if tail else 4.0) * grip.size_mm + 1.0, hold.words
    assert chucked > 15


def test_a_centre_stands_only_in_a_hole_that_was_drilled_there(made: Made) -> None:
    _, _, route = made
    drilled: dict[tuple[str, str], set[str]] = {}
    seen = 0
    for one in route.setups:
        if one.hold.centre and one.stage is f.Stage.BLANK:
            assert one.hold.centre.end in drilled[one.on.part.name, one.on.name], one.hold.words
            seen += 1
        for op in one.ops:
            if op.kind == "centre":
                end = "-x" if op.cut["axis"]["along"] == "+x" else "+x"
                drilled.setdefault((one.on.part.name, one.on.name), set()).add(end)
    assert seen >= 3


def test_nothing_is_drilled_parted_or_threaded_by_a_die_with_the_centre_in_the_way(
    made: Made,
) -> None:
    _, _, route = made
    for one in route.setups:
        if one.hold.centre:
            for op in one.ops:
                assert op.kind not in ("drill", "spot", "ream", "tap", "part", "centre"), op.text
                assert op.tool.kind != "die", op.text


def test_weldments_turn_by_their_block_and_not_between_centres(made: Made) -> None:
    # the shaft's inner end is buried in the block: its centre cannot be reached (a fact of the design)
    _, _, route = made
    found = [
        one for one in route.setups
        if one.stage is f.Stage.WELDED and one.machine == "lathe" and one.hold.axis
    ]  # fmt: skip
    assert found
    for one in found:
        assert one.hold.by == "four-jaw chuck" and len(one.hold.grips) == 2 and one.hold.centre
        assert one.align and "balance" in one.caution


def test_every_size_with_limits_of_its_own_is_read_by_something_fine_enough(made: Made) -> None:
    # a gauge that reads no finer than a quarter of the limits tells nothing (common practice)
    _, whole, route = made
    seen = 0
    for op in route.operations:
        for one in op.measures:
            if one.low_mm is None or one.high_mm is None or op.kind == "saw":
                continue
            band = one.high_mm - one.low_mm
            assert one.gauge.resolution_mm <= band / 4 + 1e-6, (op.text, one.gauge)
            assert one.gauge.least_mm <= one.low_mm and one.high_mm <= one.gauge.most_mm, one
            seen += 1
    assert seen > 60 and whole.parts


def test_a_micrometer_never_stands_on_an_axis(made: Made) -> None:
    # an axis has no surface: what lies from one is read from the round, more or less half of it
    _, _, route = made
    for op in route.operations:
        for one in op.measures:
            assert not one.start.endswith(("axis", "axis ")) and not one.end.endswith("axis")


def test_what_the_shop_has_not_is_a_finding_with_a_way_out(made: Made) -> None:
    job, _, route = made
    found = missing_findings(route, outfit(route, job), "job.toml")
    assert {one.code for one in found} <= {"not-in-the-shop"}
    held = [one for one in found if one.severity == "warning"]
    assert len(held) == len(route.missing) and all(one.remedy for one in found)
    text = route_text(route, made[1], job, False)
    for one in route.missing:
        assert one.what in " ".join(text.split())
    assert all(len(line) <= 100 for line in text.splitlines())


def test_without_a_mill_faces_are_faced_cut_from_the_spindle_or_filed() -> None:
    _, _, route = shop("no mill")
    machines = {one.machine for one in route.setups}
    assert "mill" not in machines
    assert {"lathe, on the cross slide", "drill press", "bench"} <= machines
    # a file holds a few hundredths (common practice): no band under 0.06 is left to it
    for op in ops(route, "file"):
        for one in op.measures:
            if one.low_mm is not None and one.high_mm is not None:
                assert one.high_mm - one.low_mm >= 0.06, op.text
    # the face that is wanted within two hundredths is scraped in, to blocks
    (fine,) = ops(route, "scrape")
    assert fine.measures[0].gauge.name == "gauge blocks"
    close = next(op for op in route.operations if fine.makes[0] in op.prepares)
    assert close.kind == "mill" and close.machine == "lathe, on the cross slide"


def test_a_milling_slide_takes_the_mills_place(job_with: JobWith) -> None:
    machines = {"milling slide": {}, "grinder": {}, "welder": {}}
    _, _, route = of(**{"shop.machines": machines})
    used = {one.machine for one in route.setups}
    assert "milling slide" in used and "mill" not in used
    lathe = job_with().lathe.spindle_speeds
    slide = [op for op in route.operations if op.machine == "milling slide" and op.speed_rpm]
    assert slide and all(op.speed_rpm in lathe for op in slide)


def test_without_a_welder_all_goes_in_as_few_journeys_as_can_be() -> None:
    # the rod is turned to a bore that is made after the first welds: one journey cannot do
    _, _, route = shop("no welder")
    journeys, away = 0, False
    for one in route.setups:
        there = one.machine == "a welder's shop"
        journeys += there and not away
        away = there
    assert journeys == 2
    (welder,) = [one for one in route.missing if one.what == "a welder"]
    assert "2 journeys" in welder.remedy


def test_brass_is_cut_dry_without_rake_and_aluminium_with_paraffin() -> None:
    # common practice: a raked tool draws into brass; aluminium sticks to a dry tool
    _, _, route = shop("no mill")
    brass = [op for op in route.operations if op.part == "dial" and op.kind in ("turn", "face")]
    assert brass and all("no top rake" in op.tool and op.coolant == "dry" for op in brass)
    # leaded bronze as brass
    job, whole, bronze = of(**{"materials.dial": "C932"})
    cut = [op for op in bronze.operations if op.part == "dial" and op.kind in ("turn", "face")]
    assert cut and all(
        "no top rake: bearing bronze" in op.tool and op.coolant == "dry" for op in cut
    )
    job, whole, light = of(**{"materials.dial": "6082-T6"})
    assert job and whole
    cut = [op for op in light.operations if op.part == "dial" and op.kind == "turn"]
    assert cut and all(op.coolant == "paraffin" and "rake" not in op.tool for op in cut)


def test_a_class_set_goes_by_set_ups() -> None:
    job, whole, route = shop("a school")
    text = " ".join(route_text(route, whole, job, False).split())
    assert "12 of each: every set-up is done for all of them" in text
    # what is fitted to one is not given another's; a chuck that stays closed is not left for later
    assert (
        "A bar has one end: where pieces come off a bar through the spindle each is made as far as its"
        " parting off, and then the next piece's end is faced, and centred where a centre holds it."
        " Where the chuck is not opened since, or holds as before, the set-up follows at once on the"
        " same piece. What is turned to a bore as it came out, bored in its own housing or spotted"
        " through another part fits that one alone: stamp both with one number where nothing bears,"
        " before the next pair is begun."
    ) in text
    held = " ".join(one.hold.words for one in route.setups)
    assert "as before" in held and "in its own housing" in held
    notes = " ".join(op.note for one in route.setups for op in one.ops)
    assert "to the bore as it came out" in notes
    one_job, one_whole, one_route = shop("inch, no dividing head")
    assert "fits that one alone" not in route_text(one_route, one_whole, one_job, False)
    # set once: twelve take less than twelve times one, and more than eleven times the cutting
    once = sum(one.minutes for one in route.setups)
    cut = sum(op.minutes for op in route.operations)
    found = re.search(r"in all about (\d+) min", text)
    assert found and 11 * cut < int(found[1]) == round(once + 12 * cut) < 12 * (once + cut)


def test_the_route_says_what_it_takes_for_granted_once(made: Made) -> None:
    job, whole, route = made
    text = " ".join(route_text(route, whole, job, False).split())
    assert route.assumed
    for key, what in route.assumed:
        assert text.count(f"{what} ({key})") == 1


def test_aids_are_made_before_they_are_used(made: Made) -> None:
    _, _, route = made
    names = {aid.name for aid in route.aids}
    assert any(name.startswith("boring bar") for name in names) and "threaded stub" in names
    for aid in route.aids:
        assert 1 <= aid.setup <= len(route.setups) and aid.section.width_mm > 0 and aid.made
    bushes = [one for one in route.setups for g in one.hold.grips if g.packing == "split bush"]
    assert bool(bushes) == ("split bush" in names)


def test_all_is_put_together_with_its_limits_before_a_ball_is_turned_with_it(made: Made) -> None:
    # end play of a pivot 0.01 to 0.03 by indicator, in inches half a thousandth to one, as it reads
    # (common practice); the screw's float as on its sheet
    job, _, route = made
    (place,) = [i for i, one in enumerate(route.setups) if one.together]
    after = route.setups[place + 1 :]
    assert [op.kind for one in after for op in one.ops] == ["ball", "rest"]
    last = route.setups[place]
    play = [m for op in last.ops for m in op.measures if m.low_mm is not None]
    most = 0.002 * 25.4 if job.inch else 0.05
    ends = (0.0005 * 25.4, 0.001 * 25.4) if job.inch else (0.01, 0.03)
    assert [(one.low_mm, one.high_mm) for one in play] == [
        pytest.approx(ends),
        (0.0, pytest.approx(most)),
    ]
    assert play[0].what == ("0.0005 to 0.0010 in" if job.inch else "0.01 to 0.03 mm")
    assert all(";" in op.text for op in last.ops if op.kind == "check")


def test_every_reason_of_the_order_is_kept(made: Made) -> None:
    # bores before shafts, pieces before their weldment, parts before what is made with them, all
    # before it is put together, that before the ball; aluminium is brushed when all pieces are made
    job, whole, route = made
    assert route.order and all(other < number for number, other, _ in route.order)
    reasons = {reason for _, _, reason in route.order}
    brushed = any("brush bright" in op.text for op in route.operations)
    assert len(reasons) == 5 + brushed
    explained = " ".join(route_text(route, whole, job, True).split())
    assert all(reason in explained for reason in reasons)
    makes = {(op.part, name): op.setup for op in route.operations for name in op.makes}
    for fit in whole.fits:
        hole, shaft = makes[fit.hole_part, fit.hole], makes[fit.shaft_part, fit.shaft]
        assert any((n, o) == (shaft, hole) for n, o, _ in route.order), fit
