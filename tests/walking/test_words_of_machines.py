"""What a route says of a machine is of one that has it (common practice), word by word."""

from __future__ import annotations

import pytest
from walk_asked import Told

from planner.walking.said import dials_said, machine_said


@pytest.mark.parametrize(
    ("machine", "what", "refused"),
    [
        ("milling slide", "square to the table", True),
        ("milling slide", "square to the milling slide's face", False),
        ("mill", "square to the table", False),
    ],
)
def test_a_milling_slide_has_no_table(machine: str, what: str, refused: bool) -> None:
    told = Told()
    machine_said({"machine": machine, "hold": {"by": "V-blocks"}, "align": [{"what": what}]}, told)
    assert told.codes == ["route-words"] * refused


@pytest.mark.parametrize(
    ("hold", "refused"),
    [
        ({"by": "four-jaw chuck"}, True), ({"by": "faceplate"}, False),
        ({"by": "four-jaw chuck", "owned": False, "instead": "the faceplate"}, False),
    ],
)  # fmt: skip
def test_a_counterweight_is_bolted_to_a_faceplate(hold: dict[str, object], refused: bool) -> None:
    told = Told()
    machine_said(
        {"machine": "lathe", "hold": hold, "caution": "bolt a counterweight opposite"}, told
    )
    assert told.codes == ["route-words"] * refused


@pytest.mark.parametrize(
    ("place", "text", "inch", "refused"),
    [
        ("47/64 +x from B", "spot by edge finder and dials", True, True),
        ("1-21/32 +x from B", "spot by edge finder and dials", True, True),
        ("47/64 = 0.734 +x from B", "spot by edge finder and dials", True, False),
        ("0.7340 +x from B", "spot by edge finder and dials", True, False),
        ("47/64 +x from B", "spot by scribed lines", True, False),
        ("12 +x from B", "spot by edge finder and dials", False, False),
    ],
)
def test_a_dial_reads_no_fractions(place: str, text: str, inch: bool, refused: bool) -> None:
    told = Told()
    dials_said({"place": place, "text": text}, inch, told)
    assert told.codes == ["route-words"] * refused
