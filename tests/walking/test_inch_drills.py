"""Metric taps in an inch shop: the number, letter or fractional drill that its charts name for each.

Charts of tap drills (a trade handbook's, from memory): M4 #30, M6 #9, M8 H, M10 Q, M10x1 T, M12x1 7/16.
What class 6H lets the hole be, by ISO 965-1 (from memory): M10x1 8.917 to 9.153, M4 3.242 to 3.422.
"""

from __future__ import annotations

import copy

import pytest
from jobs import ROOT, planned
from walking.part_walk import of_parts, walked

from parts.standard.drills import Drill
from parts.standard.threads import thread
from planner.words.numbers import INCH, METRIC

CHART = {
    **{"M3": "#39", "M4": "#30", "M5": "#19", "M6": "#9", "M8": "letter H", "M10": "letter Q"},
    **{"M8x1": "letter J", "M10x1": "letter T", "M12x1": "7/16"},
}
MOST = {"M3": 2.599, "M4": 3.422, "M6": 5.153, "M8": 6.912, "M10": 8.676, "M10x1": 9.153}


@pytest.mark.parametrize("name", CHART)
def test_a_metric_tap_drill_is_said_with_the_inch_drill_of_the_charts(name: str) -> None:
    size = thread(name)
    drill = Drill(size.tap_drill_name, size.tap_drill_mm)
    assert f"(or {CHART[name]}, " in INCH.drill(drill)
    assert METRIC.drill(drill) == size.tap_drill_name
    if name in MOST:  # the table rounds what the formula says
        assert size.minor_6h_mm[1] == pytest.approx(MOST[name], abs=0.007)


def test_the_shop_that_has_it_buys_no_other_and_the_walk_holds_it_to_the_class() -> None:
    plan = planned(ROOT / "tests" / "data" / "inch-jobs" / "mixed-stock.toml")
    setups, steps = of_parts(plan, "sliding-head")
    before = walked(plan, setups, steps)
    (tap,) = [one for one in steps if one["kind"] == "tap" and "or #30, 0.1285" in one["text"]]
    drilled = [one["tool"] for one in steps if one["kind"] == "drill" and "0.1285" in one["text"]]
    assert drilled and all(one["owned"] for one in drilled)
    # 29 is 0.136 in, 3.454: over 3.422; 31 is 0.120, 3.048: under 3.242
    for other in ("#29, 0.136", "#31, 0.12"):
        spoiled = copy.deepcopy(steps)
        text = tap["text"].replace("#30, 0.1285", other)
        spoiled = [
            one | {"text": text} if one["number"] == tap["number"] else one for one in spoiled
        ]
        told = [one for one in walked(plan, setups, spoiled) if one not in before]
        assert [one.code for one in told] == ["route-tap-drill"], other
        assert told[0].value.startswith("M4 tapped from ")
        assert told[0].limit == "its hole is 0.128 in to 0.135 in"
        assert told[0].remedy == "Name a drill within them, or none"
