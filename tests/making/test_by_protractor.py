"""What is set by a protractor is told in what a protractor reads.

General tolerance of an angle with legs to 10 mm: a degree (ISO 2768-1 m; from memory). As it was, a
ring was to stand "by protractor, within 0.020 in", which no protractor shows (common practice).
"""

from __future__ import annotations

import re
from math import degrees

import pytest
from jobs import ROOT, planned


@pytest.mark.parametrize("name", ["inch-lathe", "engine-lathe", "bench-lathe"])
def test_a_protractors_limits_are_degrees(name: str) -> None:
    plan = planned(ROOT / "examples" / f"{name}.toml")
    set_so = [(s, a) for s in plan.route.setups for a in s.align if a.by == "protractor"]
    if name == "inch-lathe":
        assert set_so
    for setup, one in set_so:
        found = re.search(r"(\d+) ±(\d+) degrees (?:counter-)?clockwise of", one.what)
        assert found, one.what
        assert int(found[2]) == 1
        # and that on the rim is what the way to the mark is held to
        ring = next(part for part in plan.attachment.parts if part.name == setup.part)
        rim = max(f.diameter.nominal_mm for f in ring.features if hasattr(f, "diameter")) / 2
        assert degrees(one.within_mm / rim) == pytest.approx(1.0, abs=0.3)
