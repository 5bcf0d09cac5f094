"""What is left to scrape is taken off by thousandths in an inch shop, and the sizes before and after
say so: 0.08 mm is 0.00315 in, and 2.047 less 0.003 is 2.044, not 2.0439.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from jobs import ROOT

from planner.output.plan import Plan

SHAPED = '[shop.machines.shaper]\n\n[shop.machines."drill press"]\n'


def test_what_is_left_to_scrape_adds_up_in_thousandths(tmp_path: Path) -> None:
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    text = re.sub(r"\[shop\.machines\.mill\]\nspeeds = .*\n", "", text)
    text = text.replace('[shop.machines."drill press"]\n', SHAPED)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    steps = Plan(path).route.operation_records()
    left = [step for step in steps if "left to scrape" in step["text"]]
    assert "foot bearing face" in {step["feature"] for step in left}
    for step in left:
        said = re.search(r", (0\.00\d) in left to scrape", step["text"])
        assert said and step["allowance_mm"] / 25.4 == pytest.approx(float(said[1]))
        after = next(
            one for one in steps if one["kind"] == "scrape" and one["feature"] == step["feature"]
        )
        words = (str(step["place"]), after["text"])
        sizes = [re.search(r"(\d\.\d{3}) [±(]", one) for one in words]
        assert all(sizes), words
        before, final = (float(one[1]) for one in sizes if one)
        assert before - final == pytest.approx(float(said[1])) or final - before == pytest.approx(
            float(said[1])
        )
