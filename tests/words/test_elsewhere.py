"""An inch job's book and route say what an American shop calls the things that they name otherwise.

The American names are those of South Bend Lathe Works, How to Run a Lathe (lathe dog, compound rest,
steady rest, follow rest, vise; from memory), of ASME B18.2.2 (jam nut) and of common practice.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import cast

from jobs import ROOT, planned

from planner.book.model import Points
from planner.output.book.opening import how_to
from planner.output.book.pages import Pages
from planner.output.page_data import page_data
from planner.output.sheets.route import route_text
from planner.output.sheets.turn import turn_text
from planner.words.elsewhere import NAMES, american

AMERICAN = {
    "carrier": "lathe dog",
    "travelling steady": "follow rest",
    "fixed steady": "steady rest",
    "top slide": "compound rest",
    "spanner": "wrench",
    "vice": "vise",
    "thin nut": "jam nut",
}


@cache
def route_of(name: str) -> str:
    plan = planned(ROOT / "examples" / f"{name}.toml")
    return " ".join(route_text(plan.route, plan.attachment, plan.job, explain=False).split())


def test_the_names_are_those_of_the_trade() -> None:
    assert dict(NAMES).items() >= AMERICAN.items()


def test_an_inch_route_says_them_once_and_a_metric_one_not() -> None:
    inch, metric = route_of("inch-lathe"), route_of("bench-lathe")
    for here, there in AMERICAN.items():
        assert inch.count(f"{here} = {there}") == 1, here
        assert f"{here} = {there}" not in metric, here
    # one name a thing: what it is called elsewhere stands nowhere but there
    rest = inch.replace(american(True)[0], "")
    for there in ("lathe dog", "follow rest", "compound rest", "jam nut", "vise", "steady rest"):
        assert there not in rest, there


def test_each_is_a_name_that_sheets_have() -> None:
    said = route_of("inch-lathe").replace(american(True)[0], "")
    said += route_of("engine-lathe") + route_of("bench-lathe")
    missing = [here for here, _ in NAMES if here not in said]
    assert not missing


def test_the_books_how_to_has_them_for_an_inch_job_alone() -> None:
    for inch, paper in ((True, "Letter"), (False, "A4")):
        attachment = SimpleNamespace(quantity=1)
        of = SimpleNamespace(paper=paper, job=SimpleNamespace(inch=inch, attachment=attachment))
        points = how_to(cast(Pages, of)).blocks[0]
        assert isinstance(points, Points)
        assert any("carrier = lathe dog" in one for one in points.words) is inch


def test_the_page_of_an_inch_job_has_those_that_it_says() -> None:
    """As it was: a carrier and a top slide on the phone of who knows a dog and a compound rest."""
    (said,) = page_data(planned(ROOT / "examples" / "inch-lathe.toml"))["names"]
    for here in ("carrier", "fixed steady", "vice", "spanner"):
        assert f"{here} = {AMERICAN[here]}" in said, here
    assert page_data(planned(ROOT / "examples" / "bench-lathe.toml"))["names"] == ()


def test_only_names_that_are_said_are_told(tmp_path: Path) -> None:
    """turn.txt has few of them: a taper's top slide."""
    assert american(True, "the Top slides set over") == (
        "Names here and in an American shop: top slide = compound rest.",
    )
    assert american(True, "an advice on vices") == (
        "Names here and in an American shop: vice = vise.",
    )
    assert american(True, "advice") == () and american(False, "vice") == ()
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    handle = """
[[ball]]
shape = "taper handle"
diameter = 1
blank_diameter = "1-1/8"
stem_diameter = "3/8"
stem_length = 3
large_diameter = "5/8"
"""
    (tmp_path / "handle.toml").write_text(text + handle, encoding="utf-8")
    for path, told in (
        (tmp_path / "handle.toml", True),
        (ROOT / "examples" / "inch-lathe.toml", False),
    ):
        plan = planned(path)
        printed = turn_text(plan.turned, plan.job)
        assert printed.startswith("Names here") is told
        assert ("top slide = compound rest" in printed) is told
