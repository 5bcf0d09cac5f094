"""The pictures: sound SVG, to scale, with the figures on them, in black and white."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from msgspec.structs import replace

from parts.attachment import Carrier, Placed
from parts.frame import Frame
from parts.part import Part, Stock
from parts.standard.sections import Section
from planner.output.pictures.check import shares_svg, sweep_svg
from planner.output.plan import Plan

SVG = "{http://www.w3.org/2000/svg}"


def test_every_balls_sweep_is_drawn_with_its_figures(plan: Plan) -> None:
    for found in plan.clearances:
        text = sweep_svg(plan.attachment, plan.job, found)
        root = ElementTree.fromstring(text)
        words = " ".join(t.text or "" for t in root.iter(f"{SVG}text"))
        assert found.ball.name in words and found.cross_slide_by.name in words
        assert f"sweep {found.start_deg:.0f} to {found.end_deg:.0f} deg" in words
        assert len(list(root.iter(f"{SVG}path"))) > 20


def test_the_picture_is_to_scale_and_black_on_white(bench: Plan) -> None:
    text = sweep_svg(bench.attachment, bench.job, bench.clearances[0])
    root = ElementTree.fromstring(text)
    width = float(root.attrib["width"].removesuffix("mm"))
    assert float(root.attrib["viewBox"].split()[2]) == width
    assert set(re.findall(r"#[0-9a-f]{3,6}", text)) == {"#000", "#fff"}
    # the scale bar of a metric job is 20 mm long: by hand, the last line but one before its figure
    bars = re.findall(r'M([-\d.]+),[-\d.]+ L([-\d.]+),[-\d.]+"', text)
    assert any(abs(float(b) - float(a) - 20.0) < 0.011 for a, b in bars)


def test_what_swings_in_front_of_the_bearing_is_drawn_whatever_it_is(bench: Plan) -> None:
    def drawn(*more: Placed) -> int:
        whole = replace(bench.attachment, placed=(*bench.attachment.placed, *more))
        return sweep_svg(whole, bench.job, bench.clearances[0]).count("<path")

    def plate(x_mm: float) -> Placed:
        part = Part(
            name="plate",
            title="Plate",
            blank=Stock(Section("flat", 20.0, 4.0), 30.0, "S355"),
            features=(),
            datums={},
            colour=(0.5, 0.5, 0.5),
        )
        return Placed(part, Frame((x_mm, 0.0, 50.0), x="+y", z="+z"), Carrier.BODY)

    thrust = bench.sizing.sizes.thrust_x_mm
    assert drawn(plate(thrust + 30.0)) == drawn() + 2  # at both ends of the sweep
    assert drawn(plate(thrust - 30.0)) == drawn()


def test_bars_are_as_long_as_their_shares(bench: Plan) -> None:
    root = ElementTree.fromstring(shares_svg(bench.strength, bench.job))
    lengths = []
    for path in root.iter(f"{SVG}path"):
        found = re.match(r"M55.00,\S+ L([\d.]+),", path.attrib["d"])
        if found:
            lengths.append(float(found.group(1)) - 55.0)
    shares = [link.share for link in bench.strength.links]
    assert len(lengths) == len(shares)
    for length, share in zip(lengths, shares, strict=True):
        # what springs the other way, as bit and arm do by the main force, has no bar
        assert abs(length / max(lengths) - max(0.0, share) / max(shares)) < 0.001


def test_the_same_job_draws_the_same_picture(bench: Plan) -> None:
    first = sweep_svg(bench.attachment, bench.job, bench.clearances[0])
    assert first == sweep_svg(bench.attachment, bench.job, bench.clearances[0])


def test_the_tightest_spot_is_ringed_where_the_clearance_has_it(plan: Plan) -> None:
    # the jaws' front stands at minus the stick-out; the ring is the farthest reach in front of it
    for found in plan.clearances:
        root = ElementTree.fromstring(sweep_svg(plan.attachment, plan.job, found))
        (ring,) = root.iter(f"{SVG}circle")
        assert abs(float(ring.attrib["cx"]) + found.stick_out_by.distance_mm) < 0.01
        # and within the jaws' or the chuck's radius of the spindle, the clearance included
        assert abs(float(ring.attrib["cy"])) <= plan.job.lathe.chuck_diameter / 2 + 2.01
