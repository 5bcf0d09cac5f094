"""Sizes read out of every step of the examples' routes, and held against each other and the features.

Nothing is taken from the planner but its sentences and the features' sizes: numbers are read from the
words as a shop reads them. What must lie over or under what is common practice.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from math import pi
from typing import Any

import pytest

from parts import features as f
from parts.features import FacedLength, Feature
from parts.part import Joined, Member, Part, every_feature, members
from parts.standard.fits import Limits
from planner.making.route import Operation
from planner.output.plan import Plan
from planner.output.sheets.cutlist import cutlist_tables
from planner.output.topics import topic

COARSE = {"vernier caliper", "drill shanks as plugs", "depth micrometer"}
"""What reads no finer than a caliper."""

NUMBER = r"\d+(?:-\d+/\d+|/\d+|\.\d+)?"
DRILLS = {
    "#7": 0.201, "#21": 0.159, "#25": 0.1495, "#29": 0.136, "#36": 0.1065, "#38": 0.1015,
    "A": 0.234, "B": 0.238, "C": 0.242, "D": 0.246, "E": 0.250, "F": 0.257, "G": 0.261, "H": 0.266,
    "I": 0.272, "J": 0.277, "K": 0.281, "L": 0.290, "M": 0.295, "N": 0.302, "O": 0.316, "P": 0.323,
    "Q": 0.332, "R": 0.339, "S": 0.348, "T": 0.358, "U": 0.368, "V": 0.377, "W": 0.386, "X": 0.397,
    "Y": 0.404, "Z": 0.413,
}  # fmt: skip
"""Inches of numbered and lettered drills, ASME B94.11M, as tool dealers' charts print them."""


def mm(words: str, inch: bool) -> float:
    """A length as said, in mm: "19.5", "3/4", "1-1/8"."""
    whole, _, part = words.rpartition("-")
    value = float(whole or 0) + float(Fraction(part))
    return value * 25.4 if inch else value


def drill_mm(tool: str, inch: bool) -> float:
    """The diameter of "drill 9.8 mm", "drill 31/64, 0.4844 in", "drill #7, 0.201 in"."""
    marked, _, beside = tool.removeprefix("long ").removeprefix("drill ").partition(", ")
    if not beside:
        number, unit = marked.split()
        assert unit in ("mm", "in")
        return mm(number, unit == "in")
    beside, _, other = beside.removesuffix(")").partition(" (or ")
    if other:  # an inch drill that serves for a metric one: no smaller, and no 0.002 in more
        name, _, decimal = other.removeprefix("letter ").partition(", ")
        assert float(decimal) == pytest.approx(DRILLS.get(name) or mm(name, False), abs=0.0006)
        assert 0 <= float(decimal) - float(beside.removesuffix(" in")) < 0.0021
    assert inch and beside.endswith(" in")
    if marked.endswith(" mm"):
        wide = mm(marked.removesuffix(" mm"), False)
    else:
        name = marked.removeprefix("letter ")
        wide = DRILLS[name] * 25.4 if name in DRILLS else mm(name, True)
    assert float(beside.removesuffix(" in")) * 25.4 == pytest.approx(wide, abs=0.00128)
    return wide


def steps_of(plan: Plan, kind: type[Feature]) -> Iterator[tuple[Feature, list[Operation]]]:
    """Every feature of a type, with its operations in order."""
    for part in plan.attachment.parts:
        for _, feature in every_feature(part):
            if isinstance(feature, kind):
                yield (
                    feature,
                    [
                        op
                        for op in plan.operations
                        if op.part == part.name and feature.name in (*op.makes, *op.prepares)
                    ],
                )


def pieces(plan: Plan) -> Iterator[tuple[Part, Member]]:
    for part in plan.attachment.parts:
        for member in members(part):
            yield part, member


def ops_of(plan: Plan, part: Part, member: Member) -> list[Operation]:
    return [op for op in plan.operations if (op.part, op.piece) == (part.name, member.name)]


def limits_said(text: str, inch: bool) -> tuple[float, float]:
    """The two readings of "19.98 to 19.993 mm"."""
    low, high = re.findall(NUMBER, text)[:2]
    return mm(low, inch), mm(high, inch)


def test_what_must_be_measured_is_the_features_own_limits(plan: Plan) -> None:
    inch, seen = plan.job.inch, 0
    for kind in (FacedLength, f.TurnedDiameter, f.DrilledHole, f.ReamedHole, f.Bore, f.Counterbore,
                 f.TurnedBall, f.MilledFlat):  # fmt: skip
        for feature, every in steps_of(plan, kind):
            ops = [
                one for one in every if feature.name in one.makes
            ]  # by its end: no step beside it
            assert len(ops) == 1, feature.name
            size = next(
                v
                for name in ("length", "diameter", "across")
                if isinstance(v := getattr(feature, name, None), Limits)
            )
            if kind is f.MilledFlat and "half of" in ops[-1].measures[0].how:
                # from a round's own side: as wide as the feature's limits, off by half of the round
                one = ops[-1].measures[0]
                band = size.upper_mm - size.lower_mm
                assert one.high_mm - one.low_mm == pytest.approx(band)  # type: ignore[operator]
                continue
            low, high = limits_said(ops[-1].measure, inch)
            # as the gauge is read, never outside: 0.05 mm or 0.001 in, 0.005 mm or 0.0001 in
            coarse = ops[-1].measures[0].gauge.name in COARSE
            # and general limits in inches are whole thousandths, as their row says them
            coarse = coarse or inch and (size.is_general or size.upper_mm - size.lower_mm > 0.05)
            step = (0.0254 if coarse else 0.00254) if inch else (0.05 if coarse else 0.005)
            assert low < high, ops[-1].measure
            assert -1e-6 <= low - (size.nominal_mm + size.lower_mm) < step
            assert -1e-6 <= (size.nominal_mm + size.upper_mm) - high < step
            assert ops[-1].measure.split(";")[0].endswith(" in" if inch else " mm")
            seen += 1
    assert seen > 25


def test_roughing_leaves_half_a_millimetre_or_a_64th_to_finish(plan: Plan) -> None:
    seen, left = 0, 25.4 / 64 if plan.job.inch else 0.5
    for kind, over in ((f.TurnedDiameter, left), (f.Bore, -left)):
        for feature, ops in steps_of(plan, kind):
            size: Limits = feature.diameter  # type: ignore[attr-defined]
            rough = [op for op in ops if op.text.startswith("rough ")]
            for op in rough:
                found = re.search(rf" to Ø({NUMBER})(?: = (0?\.\d+|\d\.\d+))?$", op.text)
                assert found, op.text
                # a dial's decimals beside a fraction, within half of their last place
                assert bool(found[2]) == ("/" in found[1]), op.text
                assert not found[2] or abs(float(found[2]) - mm(found[1], False)) < 0.00051
                said = mm(found[1], plan.job.inch)
                assert said == pytest.approx(size.nominal_mm + over, abs=0.026), op.text
                assert said > size.max_mm if over > 0 else said < size.min_mm
                seen += 1
            assert len(rough) == (size.upper_mm - size.lower_mm < 0.1), feature.name
    assert seen > 4


def test_drills_stay_under_reamers_and_bores_and_fit_their_taps(plan: Plan) -> None:
    inch, seen = plan.job.inch, 0
    for kind, least, most in ((f.ReamedHole, 0.19, 0.85), (f.Bore, 1.9, 25.0)):
        for feature, ops in steps_of(plan, kind):
            for op in [op for op in ops if op.kind == "drill"][-1:]:
                if any(op.kind == "bore" for op in ops) and kind is f.ReamedHole:
                    continue  # bored to just under the reamer
                left = feature.diameter.nominal_mm - drill_mm(op.tool, inch)  # type: ignore[attr-defined]
                assert least <= left <= most, op.text
                seen += 1
    for feature, ops in steps_of(plan, f.TappedHole):
        name = feature.thread  # type: ignore[attr-defined]
        drills = [drill_mm(op.tool, inch) for op in ops if op.kind == "drill"]
        if any(
            op.kind == "bore" for op in ops
        ):  # larger than the set of drills: bored to the tap drill
            continue
        (drill,) = drills
        if found := re.fullmatch(r"M(\d+)(?:x([\d.]+))?", name):
            # ISO 2306: the drill is the diameter less the pitch; coarse pitches of ISO 261
            coarse = {
                "3": 0.5,
                "4": 0.7,
                "5": 0.8,
                "6": 1.0,
                "8": 1.25,
                "10": 1.5,
                "12": 1.75,
                "16": 2.0,
                "20": 2.5,
                "24": 3.0,
            }
            pitch = float(found[2]) if found[2] else coarse[found[1]]
            assert drill == pytest.approx(float(found[1]) - pitch, abs=0.06)
        elif found := re.fullmatch(r"(.+)-(\d+) UN[CF]", name):
            # three quarters of the full thread: diameter less 0.75 x 1.299 of the pitch
            # (Machinery's Handbook), to the next drills either way
            size = found[1]
            numbered = 0.06 + 0.013 * int(size[3:]) if size.startswith("No.") else None
            major = 25.4 * numbered if numbered else mm(size, True)
            assert drill == pytest.approx(major - 0.97 * 25.4 / int(found[2]), abs=0.25)
        drilled = next(op for op in ops if op.kind == "drill")
        bare = drilled.tool.removeprefix("long ").removeprefix("drill ")
        named = bare.removesuffix(" in")
        assert f"tap drill {named}" in ops[-1].text
        made = f"{name}-2B" if " UN" in name else name  # ASME B1.1: 2B in a hole
        assert made in ops[-1].text and ops[-1].measure.startswith(f"{made}:")
        assert re.match(rf"tap {re.escape(name)}(?!-2)", ops[-1].tool)
        seen += 1
    assert seen > 5


def test_lengths_from_the_saw_to_the_finished_piece(plan: Plan) -> None:
    # 1 mm to face on each sawn end; to hold a piece by that is parted off at least 15 mm, and no more
    # than a diameter with the parting tool; a parting cut leaves one face still to be turned
    inch = plan.job.inch
    near = 0.013 if inch else 0.006
    cut = {
        (row["part"], row["piece"]): row
        for table in cutlist_tables(plan.cuts, plan.attachment, plan.job)
        if table.name == "pieces"
        for row in table.records()
    }
    # by a rule, and never short: to the next half millimetre or 64th; the saw's stop to a 16th
    # where the cut list's facing or grip takes up what that is over (common practice)
    parted_off, one_end, ruled = 0, *((3 * 25.4 / 64, 25.4 / 64) if inch else (1.0, 0.5))
    for part, member in pieces(plan):
        ops = ops_of(plan, part, member)
        length = member.blank.length_mm
        sawn = next((op for op in ops if op.kind == "saw"), None)
        parted = [op for op in ops if op.kind == "part"]
        for op in parted:
            found = re.match(rf"part off at ({NUMBER}) (mm|in)", op.text)
            assert found, op.text
            assert -near <= mm(found[1], inch) - (length + one_end) < ruled
            parted_off += 1
        if sawn is None or sawn.text.startswith("cut the outline"):
            continue
        found = re.search(rf"({NUMBER}) (mm|in)$", sawn.text)
        assert found and sawn.measure == found[0]
        ends = {f.name for f in member.features if isinstance(f, FacedLength)}
        sawn_row = cut[part.name, member.name]
        faced = 2 * one_end if any(ends & set(op.makes) for op in ops) else 0.0
        # the stop by a 64th where nothing is faced that takes up what is over
        lines = mm(found[1], inch) / 25.4 * (16 if faced or parted else 64)
        assert lines == pytest.approx(round(lines)) or not inch
        if faced and inch and not parted:
            assert 0 <= sawn_row["facing_mm"] - faced < 25.4 / 16
            faced = sawn_row["facing_mm"]
        grip = mm(found[1], inch) - length - faced
        most = max(16.0, member.blank.section.width_mm + 6.0) + (25.4 / 16 if inch else 0.0)
        over = 25.4 / 64 if inch and not faced else ruled  # as bought, and sawn by the stop
        assert 14.9 <= grip <= most if parted else -near <= grip < over
        # the cut list saws the same, up to the saw's own step
        assert sawn_row["saw_mm"] == pytest.approx(mm(found[1], inch), abs=near), sawn_row
        whole = sawn_row["finished_mm"] + sawn_row["facing_mm"] + sawn_row["grip_mm"]
        if inch and faced:  # what is said of a piece adds up to what is sawn
            assert whole == pytest.approx(sawn_row["saw_mm"], abs=near), sawn_row
    assert parted_off > 3


def test_spindle_speeds_are_a_thousand_v_over_pi_d(plan: Plan) -> None:
    # the least and the greatest cutting speed of handbooks for these metals, m/min: HSS turning 20 to
    # 120, drilling 18 to 75, reaming 12 to 45, milling 18 to 150, parting and knurling half of turning
    most = {"turn": 120.0, "face": 120.0, "bore": 120.0, "drill": 75.0, "ream": 45.0, "mill": 150.0}
    steel = {"turn": 45.0, "face": 45.0, "bore": 45.0, "drill": 36.6, "ream": 18.3, "mill": 35.0}
    seen = 0
    for kind, operation in (
        (f.ReamedHole, "ream"), (f.Bore, "bore"), (f.TurnedDiameter, "turn"),
        (f.DrilledHole, "drill"),
    ):  # fmt: skip
        for feature, ops in steps_of(plan, kind):
            op = ops[-1]
            part = next(p for p in plan.attachment.parts if p.name == op.part)
            brass = not isinstance(part.blank, Joined) and part.blank.material in ("CW614N", "C360")
            if op.speed_rpm is None or "slowest speed" in op.caution:
                continue
            size: Limits = feature.diameter  # type: ignore[attr-defined]
            surface = pi * size.min_mm * op.speed_rpm / 1000
            assert surface <= (most if brass else steel)[operation] + 0.5, op.text
            seen += 1
    assert seen > 10


def test_the_sheets_say_one_stick_out(plan: Plan) -> None:
    # the check says how far the ball's centre is kept from the jaws; half a ball stands in front of it.
    # The turning sheet may ask for more, where the blank is turned down or parted farther back: never
    # for less, and for no more than 3 mm over what a tool reaches (off the jaws)
    def records(name: str, table: str) -> list[dict[str, Any]]:
        one = topic(name)
        tables = one.tables(plan, one.asked({}))
        return next(t for t in tables if t.name == table).records()

    checked = {row["ball"]: row for row in records("check", "clearance")}
    reach = [row for row in records("sizes", "reach") if row["what"].startswith("ball's centre")]
    assert reach[0]["length_mm"] == pytest.approx(checked["largest"]["stick_out_mm"], abs=0.011)
    seen = 0
    for row in records("turn", "setup"):
        if row["what"] != "blank" or row["ball"] not in checked:
            continue
        check = checked[row["ball"]]
        said = re.match(
            rf"({NUMBER}) (mm|in) out of the jaws, no less and hardly more, gripped over",
            row["how"],
        )
        assert said, row
        out = mm(said[1], plan.job.inch)
        half = check["diameter_mm"] / 2
        near = 0.03
        assert out >= check["stick_out_mm"] + half - near
        stops = [
            step["to_mm"] for step in records("turn", "roughing") if step["ball"] == row["ball"]
        ]
        (off,) = [
            one for one in records("turn", "setup")
            if one["what"] == "part off" and one["ball"] == row["ball"]
        ]  # fmt: skip
        blade = re.match(rf"carriage ({NUMBER}) (mm|in)", off["value"])
        assert blade, off
        tools = max(*stops, mm(blade[1], plan.job.inch))
        wanted = max(check["stick_out_mm"] + half, tools + 3.0)
        # by a rule, and never short: to the next half millimetre or 64th (common practice)
        assert -near <= out - wanted < (25.4 / 64 if plan.job.inch else 0.5) + near
        seen += 1
    assert seen


def test_the_dials_divisions_are_as_many_everywhere(plan: Plan) -> None:
    count = plan.sizing.sizes.dial_divisions
    engraved = [ops[-1].text for _, ops in steps_of(plan, f.EngravedScale)]
    assert len(engraved) == 1 and f" {count} divisions on Ø" in engraved[0]
    assert plan.job.attachment.dial_divisions == count
