"""The operation sequence: every feature made once, and the trade's order kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from math import pi

import pytest

from parts.features import Bore, EngravedScale, Slit, TappedHole, Weld
from parts.part import Joined, every_feature
from parts.standard.materials import material
from parts.standard.speeds import speed_rows
from planner.job.tables import Job
from planner.making.route import Operation, route
from planner.output.plan import Plan


def maker(plan: Plan, part: str, feature: str) -> Operation:
    """The one operation that makes a feature."""
    (found,) = [op for op in plan.operations if op.part == part and feature in op.makes]
    return found


def test_every_feature_is_made_by_exactly_one_operation(plan: Plan) -> None:
    made = Counter((op.part, name) for op in plan.operations for name in op.makes)
    wanted = Counter(
        (part.name, feature.name)
        for part in plan.attachment.parts
        for _, feature in every_feature(part)
    )
    assert made == wanted


def test_numbers_run_on_and_nothing_is_done_before_what_it_needs(plan: Plan) -> None:
    assert [op.number for op in plan.operations] == list(range(1, len(plan.operations) + 1))
    for op in plan.operations:
        assert all(earlier < op.number for earlier in op.after)


def test_welding_comes_before_finishing_and_boring_in_place_after(plan: Plan) -> None:
    # what is welded moves: common practice is to finish after welding
    for part in plan.attachment.parts:
        if not isinstance(part.blank, Joined):
            continue
        ops = [op for op in plan.operations if op.part == part.name]
        last_blank = max(op.number for op in ops if op.stage == "on the blank")
        welds = [op.number for op in ops if op.kind == "weld"]
        assert last_blank < min(welds)
        after = [op.number for op in ops if op.stage in ("after welding", "in place on the lathe")]
        assert max(welds) < min(after)


def test_spot_before_drill_before_ream_or_tap(plan: Plan) -> None:
    order = {"spot": 0, "drill": 1, "bore": 2, "ream": 3, "tap": 3}
    for part in plan.attachment.parts:
        for _, feature in every_feature(part):
            ops = [
                op
                for op in plan.operations
                if op.part == part.name and feature.name in (*op.makes, *op.prepares)
            ]
            ranks = [order[op.kind] for op in ops if op.kind in order]
            assert ranks == sorted(ranks), feature.name
            kinds = [op.kind for op in ops if op.kind in order]
            if kinds and kinds[-1] in ("ream", "tap"):
                assert "drill" in kinds
            # what is on one axis is begun by one spot
            assert kinds.count("spot") <= 1


def test_the_slit_is_last_and_tapping_is_before_it(plan: Plan) -> None:
    for part in plan.attachment.parts:
        slits = {f.name for _, f in every_feature(part) if isinstance(f, Slit)}
        if slits:
            ops = [op for op in plan.operations if op.part == part.name and op.stage != "assembly"]
            made = [op for op in ops if op.makes]
            assert {name for op in made[-len(slits) :] for name in op.makes} == slits
            assert any(isinstance(f, TappedHole) for _, f in every_feature(part))


def test_bores_come_before_the_shafts_that_run_in_them(plan: Plan) -> None:
    # a shaft is turned to the bore, not the other way round: common practice
    for fit in plan.attachment.fits:
        hole = maker(plan, fit.hole_part, fit.hole).number
        assert hole < maker(plan, fit.shaft_part, fit.shaft).number


def test_the_rod_bore_is_made_with_the_body_in_its_finished_housing(plan: Plan) -> None:
    housing = [op.number for op in plan.operations if op.part == "housing"]
    assert max(housing) < maker(plan, "rotating-body", "rod bore").number
    assert maker(plan, "housing", "pivot bore").stage == "in place on the lathe"


def test_the_dial_is_turned_and_bored_in_one_chucking(plan: Plan) -> None:
    # rim, bore and knurl run true to each other: common practice
    for part in plan.attachment.parts:
        scales = [f for _, f in every_feature(part) if isinstance(f, EngravedScale)]
        for scale in scales:
            ops = {name: op for op in plan.operations if op.part == part.name for name in op.makes}
            assert len({ops[name].setup for name in ("rim", "dial bore", "knurl")}) == 1
            # by the dividing head of these shops it is divided afterwards, on a mandrel in its bore
            assert ops[scale.name].setup > ops["dial bore"].setup


def test_every_step_says_machine_holding_tool_and_what_to_measure(plan: Plan) -> None:
    for op in plan.operations:
        assert op.machine and op.holding and op.tool and op.text and op.minutes > 0
        if op.makes:
            assert op.measure and op.gauge, op.text
        assert not op.gauge or op.measure or op.place, op.text


def test_speeds_are_the_machines_own_and_within_published_ranges(plan: Plan) -> None:
    # published cutting speeds scatter by a factor of two; a speed within 1/1.5 of the lowest and
    # 1.5 of the highest row of the same material group is a fair choice
    lists = {"lathe": plan.job.lathe.spindle_speeds}
    lists["lathe, on the cross slide"] = lists["milling slide"] = plan.job.lathe.spindle_speeds
    lists |= {str(name): m.speeds for name, m in plan.job.shop.machines.items()}
    for op in plan.operations:
        if op.speed_rpm is not None:
            assert op.speed_rpm in lists[op.machine] and op.speed_from
    drills = [op for op in plan.operations if op.kind == "drill" and op.tool.endswith("mm")]
    for op in drills:
        diameter = float(op.tool.split()[-2])
        part = next(p for p in plan.attachment.parts if p.name == op.part)
        name = plan.sizing.sizes.structure_material
        if not isinstance(part.blank, Joined):
            name = part.blank.material
        group = material(name).group
        rows = [r for r in speed_rows() if (r.operation, r.group) == ("drill", group)]
        surface = pi * diameter * (op.speed_rpm or 0) / 1000
        assert surface <= 1.5 * max(r.high_m_min for r in rows)
    assert drills or plan.job.inch


def test_welding_carries_its_caution(plan: Plan) -> None:
    welds = [op for op in plan.operations if op.kind == "weld"]
    assert len(welds) == sum(
        isinstance(f, Weld) for part in plan.attachment.parts for _, f in every_feature(part)
    )
    for weld in welds:
        setup = plan.route.setups[weld.setup - 1]
        assert "competent" in setup.caution and "extinguisher" in setup.caution


def test_a_tube_is_not_drilled_before_boring(bench: Plan) -> None:
    kinds = [op.kind for op in bench.operations if "pivot bore" in (*op.makes, *op.prepares)]
    assert kinds == ["bore", "bore"]
    assert any(isinstance(f, Bore) for p in bench.attachment.parts for _, f in every_feature(p))


@pytest.mark.parametrize("example", ["bench-lathe", "inch-lathe"])
def test_the_same_job_gives_the_same_route(job_with: Callable[..., Job], example: str) -> None:
    job = job_with(example)
    from parts.attachment import attachment
    from planner.sizing.apply import size_up

    made = attachment(size_up(job, "job.toml").sizes)
    assert route(made, job) == route(made, job)
