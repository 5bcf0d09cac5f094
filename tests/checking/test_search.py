"""The search: columns against single sizings, the best against every combination by hand."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from commands import call
from jobs import ROOT, planned
from msgspec.structs import replace

from parts.attachment import attachment
from planner.checking import search as searching
from planner.checking.search import MARGIN, Found, bars_kg, search
from planner.checking.strength import Load, deflection_links, deflection_mm
from planner.geometry.envelope import lowest, swinging_edges
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import Candidates, candidates, request, size_up
from planner.sizing.candidates import in_blocks
from planner.sizing.requirements import MOST_STICKOUT, REQUIREMENTS, tail_reach_mm

JobWith = Callable[..., Job]

FEW = {
    "rod_diameter_mm": 3,
    "pivot_diameter_mm": 2,
    "arm_stock": 3,
    "shank_stock": 2,
    "tube_stock": 3,
}


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(searching, "WIDTHS", FEW)


def found_for(plan: Plan, prefer: Any = "stiff") -> Found:
    wanted = request(plan.job, plan.file)
    return search(wanted, plan.sizing, plan.strength.load, plan.nose_mm, prefer)


def test_a_quarter_of_a_million_combinations_stand_side_by_side(plan: Plan) -> None:
    assert found_for(plan).combinations >= 250_000


def test_a_row_of_the_columns_is_the_attachment_sized_alone(plan: Plan, few: None) -> None:
    rows = candidates(request(plan.job, plan.file), FEW)
    load = plan.strength.load
    bent = np.broadcast_to(deflection_mm(rows.draft, load), (rows.rows,))
    mass = np.broadcast_to(bars_kg(rows.draft), (rows.rows,))
    reach = np.broadcast_to(tail_reach_mm(rows.draft), (rows.rows,))
    for row in range(0, rows.rows, max(1, rows.rows // 12)):
        s = rows.sizing(row).sizes
        links = deflection_links(s, load)
        alone = sum(link.deflection_mm + link.main_mm for link in links)
        assert bent[row] == pytest.approx(alone, rel=1e-9)
        assert mass[row] == pytest.approx(float(bars_kg(s)), rel=1e-9)
        # the quick reach never says more than the whole one, so it strikes out nothing that fits
        edges = swinging_edges(attachment(s))
        down = lowest(edges, (s.tip_radius_min_mm, s.tip_radius_max_mm), (0.0, 180.0))
        assert reach[row] <= down.distance_mm + 1e-9


def test_blocks_are_the_rows_of_the_whole_in_order(bench: Plan, few: None) -> None:
    wanted, load = request(bench.job, bench.file), bench.strength.load
    rows = candidates(wanted, FEW)
    whole = np.broadcast_to(deflection_mm(rows.draft, load), (rows.rows,))
    blocks = list(in_blocks(wanted, FEW, 20))
    assert len(blocks) > 3 and max(block.rows for block in blocks) <= 20
    parts = [np.broadcast_to(deflection_mm(b.draft, load), (b.rows,)) for b in blocks]
    assert np.concatenate(parts) == pytest.approx(whole, rel=1e-12)
    # and a row picked by its entries alone is that row, with where each size is from
    table = searching.Table(wanted, load)
    fits = np.flatnonzero(whole_fits(rows))
    assert len(fits) == len(table.deflection_mm)
    for at in range(0, len(fits), max(1, len(fits) // 10)):
        assert table.sizing(at) == rows.sizing(int(fits[at]))


def whole_fits(rows: Candidates) -> Any:
    """The rows that meet all they must, each asked when every size of every row is known."""
    met = np.ones(rows.rows, dtype=bool)
    for asked in REQUIREMENTS:
        met &= asked.met(rows.draft)
    s = rows.draft
    met &= s.bit_stickout_mm <= MOST_STICKOUT * s.bit_stock.width_mm
    return met & (tail_reach_mm(s) + s.clearance_mm <= s.spindle_over_cross_slide_mm + 1e-6)


TIGHT: dict[str, tuple[dict[str, Any], str]] = {
    "as it is": ({}, "none"),
    "little room below": ({"lathe.spindle_over_cross_slide": 50.0}, "some"),
    "a large ball": ({"attachment.max_ball_diameter": 70.0}, "some"),
    "a thin leaf": ({"attachment.sizes": {"leaf_thickness": 6.0}}, "some"),
    "too large a ball": ({"attachment.max_ball_diameter": 80.0}, "all"),
    "a thin block": ({"attachment.sizes": {"block_stock": "flat 50x25"}}, "all"),
}
"""Changes to the bench lathe's job, and how many combinations then break a requirement."""


@pytest.mark.parametrize("name", TIGHT)
def test_what_is_struck_out_early_is_what_does_not_fit(
    job_with: JobWith, few: None, name: str
) -> None:
    # the same as all gone through to the end, and then asked: no rule of thumb strikes anything out
    changes, broken = TIGHT[name]
    job = job_with(**changes)
    wanted = request(job, "job.toml")
    load = Load("S355", 1.0, 0.1, 0.1, main_N=200.0, passive_N=100.0, feed_N=80.0)
    rows = candidates(wanted, FEW)
    fits = whole_fits(rows)
    assert broken == ("none" if fits.all() else "some" if fits.any() else "all")
    bent = np.broadcast_to(deflection_mm(rows.draft, load), (rows.rows,))[fits]
    for most in (20, 100_000):
        blocks = list(in_blocks(wanted, FEW, most, searching.MUST))
        parts = [np.broadcast_to(deflection_mm(b.draft, load), (b.rows,)) for b in blocks if b.rows]
        assert np.concatenate([np.zeros(0), *parts]) == pytest.approx(bent, rel=1e-12)
        struck = sum(block.struck for block in blocks)
        assert (struck > 0) == (broken != "none") and struck <= rows.rows - fits.sum()


def test_no_entry_more_of_the_tube_would_be_stiffer_by_much(bench: Plan) -> None:
    # four more entries than are considered take less than 3 in 100 off the least deflection
    wanted, load = request(bench.job, bench.file), bench.strength.load
    few = {"rod_diameter_mm": 2, "shank_stock": 2, "pivot_diameter_mm": 2}
    least = []
    for tubes in (searching.WIDTHS["tube_stock"], searching.WIDTHS["tube_stock"] + 4):
        rows = candidates(wanted, {**few, "tube_stock": tubes})
        bent = np.broadcast_to(deflection_mm(rows.draft, load), (rows.rows,))
        least.append(bent[whole_fits(rows)].min())
    assert 0.97 * least[0] <= least[1]


def test_the_mass_is_that_of_the_pieces(bench: Plan) -> None:
    # area by length by density, the four flat and square pieces of it written out
    s = bench.sizing.sizes
    by_hand = (
        50 * 40 * s.block_length_mm + 60 * 15 * s.arm_length_mm + 16 * 16 * s.shank_length_mm
        + s.foot_stock.width_mm * s.foot_stock.thickness_mm * s.foot_length_mm
        + np.pi / 4 * (35**2 - 19**2) * s.housing_length_mm
        + np.pi / 4 * s.rod_stock.width_mm**2 * s.rod_length_mm
    ) * 7.85e-6  # fmt: skip
    assert (s.block_stock.label(), s.arm_stock.label()) == ("flat 50x40", "flat 60x15")
    assert s.tube_stock.label() == "tube 35x8" and s.cheek_stock is None
    assert bars_kg(s) == pytest.approx(by_hand, rel=2e-3)


@pytest.mark.parametrize("prefer", ["stiff", "light", "on-hand"])
def test_the_best_is_the_best_of_all_gone_through_one_by_one(
    bench: Plan, few: None, prefer: Any
) -> None:
    rows = candidates(request(bench.job, bench.file), FEW)
    judge = searching._Judge(
        request(bench.job, bench.file), bench.sizing, bench.strength.load, bench.nose_mm
    )
    every = [rows.sizing(row) for row in range(rows.rows)]
    good = [judge.outcome(sizing) for sizing in every if judge.passes(sizing)]
    assert len(good) > 1
    found = found_for(bench, prefer)
    assert found.combinations == len(every)

    def to_get(outcome: searching.Outcome) -> tuple[int, int]:
        origins = [x.origin for x in outcome.sizing.steps if x.name in NAMES]
        return origins.count("standard"), origins.count("buy list")

    if prefer == "light":
        assert found.best.mass_kg == pytest.approx(min(one.mass_kg for one in good))
    elif prefer == "on-hand":
        assert to_get(found.best) == min(map(to_get, good))
    else:
        least = min(one.deflection_mm for one in good)
        assert found.best.deflection_mm <= least * (1 + MARGIN)
        near = [one for one in good if one.deflection_mm <= least * (1 + MARGIN)]
        assert to_get(found.best) == min(map(to_get, near))


NAMES = {name.removesuffix("_mm") for name in searching.CHOICES}


def test_a_rack_within_the_margin_is_preferred_and_beyond_it_not(job_with: JobWith) -> None:
    # a round on the rack for the tube, about as stiff as the best, is taken; a thin one is not, nor a
    # shank far too thin
    def best(section: str) -> Found:
        bar = {"section": section, "material": "S355", "length": 400}
        job = job_with(**{"shop.rack": [bar], "shop.buy": []})
        sizing = size_up(job, "job.toml")
        from planner.checking.strength import strength_report

        load = strength_report(sizing.sizes, job, 0.5).load
        return search(request(job, "job.toml"), sizing, load, 0.5, "stiff")

    near = best("round 42")
    assert near.best.sizing.sizes.tube_stock.label() == "round 42"
    assert best("round 30").best.sizing.sizes.tube_stock.label() == "round 45"
    thin = best("square 10")  # the only shank on the rack is far too thin
    assert thin.best.sizing.sizes.shank_stock.width_mm == 16.0


def test_own_sizes_stay(job_with: JobWith) -> None:
    job = job_with(**{"attachment.sizes": {"rod_diameter": "16 mm"}})
    sizing = size_up(job, "job.toml")
    from planner.checking.strength import strength_report

    load = strength_report(sizing.sizes, job, 0.5).load
    found = search(request(job, "job.toml"), sizing, load, 0.5, "light")
    assert found.best.sizing.sizes.rod_diameter_mm == 16.0
    assert "rod_diameter" not in {change.name for change in found.changes}


def test_a_next_size_up_buys_what_it_says(plan: Plan) -> None:
    found = found_for(plan, "light")
    assert found.steps
    best = found.best.sizing.sizes
    for step in found.steps:
        assert step.deflection_mm < 0
        # again, sized with the larger one and the rest of the choices by hand
        own = {c: getattr(best, c) for c in searching.CHOICES}
        name = next(c for c in own if c.removesuffix("_mm") == step.name)
        own[name] = step.larger
        own = {c: searching._entry(v) for c, v in own.items()}

        s = candidates(replace(request(plan.job, plan.file), own=own), 1).sizing(0).sizes
        bent = deflection_mm(s, plan.strength.load) - found.best.deflection_mm
        assert step.deflection_mm == pytest.approx(float(bent))


def test_the_copy_of_the_job_is_sized_as_the_search_said(tmp_path: Path) -> None:
    job, copy = ROOT / "examples" / "inch-lathe.toml", tmp_path / "lighter.toml"
    run = ["check", str(job), "--prefer", "light", "--json"]
    answer = call(*run, "--write", str(copy))
    assert answer.exit_code == 0, answer.output
    record = json.loads(answer.stdout)
    assert record["written"] == str(copy)
    best = {row["what"]: row["best"] for row in record["tables"]["outcome"]}
    again = json.loads(call("check", str(copy), "--json").stdout)
    now = {row["what"]: row["now"] for row in again["tables"]["outcome"]}
    assert now == pytest.approx(best, rel=1e-6)
    # nothing is written over, and the job's comments are still there
    refused = call(*run, "--write", str(copy))
    assert refused.exit_code == 2
    first = job.read_text(encoding="utf-8").splitlines()[0]
    assert copy.read_text(encoding="utf-8").startswith(first)


@pytest.mark.parametrize("prefer", ["stiff", "light"])
def test_a_job_that_prefers_is_sized_by_the_search_in_every_command(
    tmp_path: Path, prefer: str
) -> None:
    text = (ROOT / "examples" / "engine-lathe.toml").read_text(encoding="utf-8")
    job = tmp_path / "preferred.toml"
    job.write_text(
        text.replace("[attachment]", f'[attachment]\nprefer = "{prefer}"'), encoding="utf-8"
    )
    plain = planned(ROOT / "examples" / "engine-lathe.toml")
    found = found_for(plain, prefer)
    made = Plan(job)
    assert made.sizing.sizes == found.best.sizing.sizes != plain.sizing.sizes
    sized = json.loads(call("sizes", str(job), "--json").stdout)
    rows = {row["size"]: row["value"] for row in sized["tables"]["sizes"]}
    assert rows["tube_stock"] == found.best.sizing.sizes.tube_stock.label()
    cut = {group.section for group in made.cuts.groups}
    assert found.best.sizing.sizes.tube_stock in cut
    # and the check proposes nothing more, by the same columns where the bit is the same
    anew = found_for(made, prefer)
    assert not anew.changes and replace(made.search(prefer), table=anew.table) == anew
    assert made.sizing.sizes.bit_stock == plain.sizing.sizes.bit_stock
    assert made.search("light").table is made.search(prefer).table
