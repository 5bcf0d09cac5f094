"""Metric bars and saws in an inch shop: a bar too short is not ordered anew, a kerf is in fractions.

Common practice: a dealer in inch sizes has no bar of 25 mm; a hacksaw blade cuts some 1/16 in, and its
set scatters by more than 1.6 mm is over that.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from jobs import ROOT

from planner.output.answers import cutlist_findings
from planner.output.plan import Plan
from planner.output.sheets.cutlist import cutlist_tables
from planner.stock.bars import ORDER

INCH = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
ONE_INCH = 'section = "round 1"\nmaterial = "1018"\nlength = 17'
Made = Callable[[str, str], Plan]


@pytest.fixture
def made(tmp_path: Path) -> Made:
    def of(old: str, new: str) -> Plan:
        assert old in INCH
        path = tmp_path / "job.toml"
        path.write_text(INCH.replace(old, new), encoding="utf-8")
        return Plan(path)

    return of


@pytest.mark.parametrize(("length_mm", "taken"), [(90, False), (170, False), (600, True)])
def test_a_metric_bar_is_sawn_where_it_is_long_enough_and_never_ordered(
    length_mm: int, taken: bool, made: Made
) -> None:
    # shaft 5-1/2 in, nut 1-1/4, plug 3-3/8, gauge 2: more than 170 mm, 6.7 in, and than 90
    plan = made(ONE_INCH, f'section = "round 25 mm"\nmaterial = "1018"\nlength = "{length_mm} mm"')
    groups = {g.section.width_mm: g for g in plan.cuts.groups if g.section.shape == "round"}
    assert (25.0 in groups) is taken and (25.4 in groups) is not taken
    for group in plan.cuts.groups:
        if any(bar.origin == ORDER for bar in group.bars):
            assert (group.section.width_mm / 25.4 * 16) % 1 == pytest.approx(0.0, abs=1e-6)
    told = [one for one in cutlist_findings(plan, {}) if one.code == "bar-left"]
    assert bool(told) is not taken  # a bar of the shop's own is not left without a word
    if not taken:  # and it is still there
        (note,) = told
        assert note.severity == "note" and note.key.startswith("shop.rack[")
        assert note.value == "round 25 mm (0.984 in)" and "too short" in note.text
        (left,) = [row for row in plan.cuts.rack_after if row.section.width_mm == 25.0]
        assert left.length_mm == length_mm


@pytest.mark.parametrize(
    ("kerf", "said"),
    [
        ("1.6 mm", "kerf 1/16"),  # 0.063 in
        ("1/16", "kerf 1/16"),
        ("1.8 mm", "kerf 5/64, 0.071 rounded up"),  # 4.5 64ths
        ("0.9 mm", "kerf 3/64, 0.035 rounded up"),
    ],
)
def test_a_kerf_is_said_in_the_fraction_that_it_is(kerf: str, said: str, made: Made) -> None:
    plan = made('kerf = "1/16"', f'kerf = "{kerf}"')
    (bars,) = [t for t in cutlist_tables(plan.cuts, plan.attachment, plan.job) if t.name == "bars"]
    assert bars.title == f"Bars, in sawing order (in; {said})"
