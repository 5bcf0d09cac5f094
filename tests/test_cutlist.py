"""The cut list: every piece on a bar, the saw's arithmetic exact, never worse than first-fit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

import pytest

from parts.part import members
from planner.barcut import Bar, Demand, first_fit_decreasing
from planner.cutlist import cut_list, pieces_of
from planner.job import Job
from planner.plan import Plan
from planner.sheets.cutlist import sawn_mm


def test_every_piece_of_every_part_is_sawn_once(plan: Plan) -> None:
    wanted = Counter(
        (part.name, member.name) for part in plan.attachment.parts for member in members(part)
    )
    sawn = Counter(
        (piece.part, piece.piece)
        for group in plan.cuts.groups
        for bar in group.bars
        for piece in bar.pieces
    )
    assert sawn == wanted


def test_pieces_and_kerfs_fit_their_bars(plan: Plan) -> None:
    # n pieces fit when the sum of (length + kerf) is at most bar + kerf
    kerf = plan.cuts.kerf_mm
    for group in plan.cuts.groups:
        for bar in group.bars:
            lengths = [sawn_mm(piece, plan.job.inch) for piece in bar.pieces]
            assert sum(length + kerf for length in lengths) <= bar.length_mm + kerf + 1e-6
            rest = max(0.0, bar.length_mm - sum(length + kerf for length in lengths))
            assert bar.drop_mm == pytest.approx(rest, abs=1e-6)


def test_a_piece_is_long_enough_to_face_and_hold(plan: Plan) -> None:
    for piece in pieces_of(plan.attachment):
        assert piece.cut_mm == pytest.approx(piece.finished_mm + piece.facing_mm + piece.grip_mm)
        if piece.grip_mm:
            # a chuck holds by about a diameter or 15 mm: common practice
            assert piece.grip_mm >= min(15.0, piece.section.width_mm)


def test_rack_bars_are_not_used_more_often_than_they_are_there(plan: Plan) -> None:
    for group in plan.cuts.groups:
        used = Counter(round(bar.length_mm) for bar in group.bars if bar.origin == "rack")
        have: Counter[int] = Counter()
        for bar in plan.job.shop.rack:
            if bar.section == group.section and bar.material == group.material:
                have[round(bar.length)] += bar.quantity
        assert all(count <= have[length] + 1 for length, count in used.items())
        assert sum(used.values()) <= sum(have.values())


def test_no_plan_is_worse_than_first_fit_decreasing(plan: Plan) -> None:
    for group in plan.cuts.groups:
        demands = [
            Demand(round(sawn_mm(p, plan.job.inch) * 1000), p.quantity) for p in group.pieces
        ]
        bars = [
            Bar(round(b.length * 1000), b.quantity, round(b.cost * 100))
            for b in plan.job.shop.rack
            if (b.section, b.material) == (group.section, group.material)
        ] + [
            Bar(round(b.length * 1000), None, round(b.price * 100))
            for b in plan.job.shop.buy
            if (b.section, b.material) == (group.section, group.material)
        ]
        if not bars or any(bar.origin == "not listed" for bar in group.bars):
            continue
        greedy = first_fit_decreasing(demands, bars, round(plan.cuts.kerf_mm * 1000))
        assert (round(group.cost * 100), group.drawn_mm) <= (
            greedy.cost,
            greedy.drawn_length / 1000 + 1e-3,
        )


def test_mass_is_the_sections_times_the_length(bench: Plan) -> None:
    # round 25 steel: 3.853 kg/m (EN 10060 mass table); 108.5 mm of it
    (shaft,) = [g for g in bench.cuts.groups if g.section.label() == "round 25"]
    assert shaft.mass_kg_m == pytest.approx(3.853, abs=0.001)
    assert shaft.sawn_kg == pytest.approx(3.853 * sum(p.cut_mm for p in shaft.pieces) / 1000, 1e-3)


def test_what_is_on_no_list_is_laid_out_to_order(job_with: Callable[..., Job], bench: Plan) -> None:
    bare = job_with(**{"shop.rack": [], "shop.buy": []})
    cuts = cut_list(bench.attachment, bare, "job.toml")
    assert {bar.origin for group in cuts.groups for bar in group.bars} == {"not listed"}
    assert len(cuts.findings) == len(cuts.groups)
    assert all(finding.severity == "note" for finding in cuts.findings)
