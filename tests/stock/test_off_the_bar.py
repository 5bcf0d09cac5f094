"""What is turned off the bar through the spindle is not sawn: the sawing sheet has it among the cuts no
more than the route has a step at the saw for it (common practice: it is drawn out, turned, parted off).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import ROOT, unwalked

from planner.book.model import Rows
from planner.output.pictures.sawing import sawing_pages
from planner.output.sheets.cutlist import cutlist_tables

BRASS = ["knob", "dial", "index-ring", "drag-screw"]


@pytest.mark.parametrize(
    ("bore", "turned"),
    [
        (None, []),
        # the rod's bar of 18 goes through, what is left of it: boring bars and stub are sawn off first
        (20, ["rod"]),
        # and the brass of 28, of which nothing is sawn
        (30, ["rod", *BRASS]),
    ],
)
def test_the_sawing_sheet_has_what_the_route_saws(
    tmp_path: Path, bore: int | None, turned: list[str]
) -> None:
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    if bore:
        text = text.replace("[lathe]\n", f"[lathe]\nspindle_bore = {bore}\n")
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    plan = unwalked(path)
    tables = {one.name: one for one in cutlist_tables(plan.cuts, plan.attachment, plan.job)}
    cuts = tables["cuts"]
    listed = [row[4].partition("/") for row in cuts.rows]
    steps = [one for one in plan.route.operation_records() if one["kind"] == "saw"]
    sawn = {(one["part"], one["piece"] or one["part"]) for one in steps}
    from_sheet = {("sliding-head", "foot")}
    own = {(part, piece) for part, _, piece in listed if part != "aids"}
    assert own == sawn - from_sheet and not {piece for _, piece in own} & set(turned)
    aids = {aid.piece for aid in plan.route.aids if aid.sawn}
    assert {piece for part, _, piece in listed if part == "aids"} == aids
    number = {row[2]: row[0] for row in tables["bars"].rows}
    names = ", ".join(
        f"{one} (bar {number['round 28' if one in BRASS else 'round 18']})" for one in turned
    )
    said = (
        "Not sawn, but turned off what is left of the bar, through the spindle, and parted off:"
        f" {names}."
    )
    bit = f"tool-bit (bar {number['square 6']})"
    hard = f"No saw cuts it, an abrasive wheel does, or it is bought to length: {bit}."
    assert list(cuts.notes[1:]) == [said] * bool(turned) + [hard]
    # the list of pieces before it says so of each too; it had "saw to 107.5" of the rod and no word
    apart = "turned off the bar after what is sawn of it, each with its own grip: rod."
    assert any(apart in one for one in tables["pieces"].notes) == ("rod" in turned)
    (listed_pieces,) = (
        one for chapter in plan.book.chapters if chapter.title.startswith("Cut list")
        for one in chapter.blocks if isinstance(one, Rows) and one.title.startswith("Pieces to saw")
    )  # fmt: skip
    assert all(any(name in note.lower() for note in listed_pieces.notes) for name in turned)
    assert "".join(sawing_pages(plan.cuts, plan.job)).count("turned off it") == len(turned)
