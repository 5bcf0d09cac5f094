"""What a route is made with: each tool and gauge of its steps once, what is missing with a way out."""

from __future__ import annotations

from making.shops import of

from planner.making.outfit import outfit


def test_every_tool_and_gauge_of_the_steps_is_listed_once() -> None:
    job, _, route = of()
    items = outfit(route, job)
    named = [(one.kind, one.name) for one in items]
    assert len(named) == len(set(named))
    for op in route.operations:
        tool = op.op.tool
        if tool.kind not in ("none", "hand", "welder"):
            (one,) = (i for i in items if (i.kind, i.name) == ("tool", tool.name))
            assert op.setup in one.setups and (one.has != "no" or not tool.owned)
        for measure in op.measures:
            if measure.gauge.kind not in ("eye", "thread"):
                (one,) = (i for i in items if (i.kind, i.name) == ("gauge", measure.gauge.name))
                assert op.setup in one.setups
    made = {i.name for i in items if i.has == "made first"}
    assert any(name.startswith("boring bar") for name in made)
    assert "cutting oil" in {i.name for i in items if i.kind == "consumable"}


def test_what_is_missing_has_a_way_out() -> None:
    # no reamers, no indicator, no blocks: each is said with what does for it
    bare = {
        "shop.reamers": [],
        "shop.measuring": {"dial_indicator": False, "gauge_blocks": False, "v_blocks": False},
    }
    job, _, route = of(**bare)
    items = outfit(route, job)
    missing = {i.name: i for i in items if i.has == "no"}
    assert all(one.instead for one in missing.values())
    assert any(name.startswith("reamer") for name in missing)
    assert any("indicator" in name for name in missing)
    assert "a pair of V-blocks" in missing
    full, _, whole = of()
    assert not [i for i in outfit(whole, full) if i.has == "no" and "indicator" in i.name]


def test_what_is_done_elsewhere_wants_no_tools_here() -> None:
    job, _, route = of(**{"shop.machines": {}, "shop.dividing_head_ratio": None})
    sent = {op.setup for op in route.operations if op.machine.startswith("a ")}
    assert sent
    for one in outfit(route, job):
        if one.kind == "tool":
            assert not sent & set(one.setups), one
