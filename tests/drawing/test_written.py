"""Entities that are written as text, against what ezdxf itself writes of the same ones."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from ezdxf.filemanagement import new, read

from planner.dxf import written

VERSIONS = ("R2000", "R2010", "R2018")

POINTS = [(0.0, 0.0), (-12.5, 1e-06), (1234567.125, 0.1), (3.0, -0.333333)]

TEXTS = (
    ("Ø 12 h7", 3.5, 0.0),
    ("90° ± 0,5", 5, 90.0),
    ("two\nlines", 2.5, -30.5),
    ("ends in a caret^", 3.5, 0),
)


def _text(
    words: str, high: float, turned: float
) -> tuple[written.Written, Callable[[Any], object]]:
    at = {"layer": "WORDS", "style": "SHEET", "insert": POINTS[1]}
    return (
        written.text(words, POINTS[1], high, turned, "SHEET", "WORDS"),
        lambda space: space.add_text(words, height=high, rotation=turned, dxfattribs=at),
    )


SAME: dict[str, tuple[written.Written, Callable[[Any], object]]] = {
    "line": (
        written.line(POINTS[1], POINTS[2], "THIN"),
        lambda space: space.add_line(POINTS[1], POINTS[2], {"layer": "THIN"}),
    ),
    "circle": (
        written.circle(POINTS[3], 7, "VISIBLE"),
        lambda space: space.add_circle(POINTS[3], 7, {"layer": "VISIBLE"}),
    ),
    "arc": (
        written.arc(POINTS[2], 0.125, 350, 10.123456789, "THIN"),
        lambda space: space.add_arc(
            POINTS[2], 0.125, 350, 10.123456789, dxfattribs={"layer": "THIN"}
        ),
    ),
    "arc from zero": (
        written.arc(POINTS[0], 2.0, 0.0, 90.0, "THIN"),
        lambda space: space.add_arc(POINTS[0], 2.0, 0.0, 90.0, dxfattribs={"layer": "THIN"}),
    ),
    "triangle": (
        written.triangle(POINTS[0], POINTS[1], POINTS[2], "FRAME"),
        lambda space: space.add_solid(POINTS[:3], {"layer": "FRAME"}),
    ),
    "closed polyline": (
        written.polyline(POINTS, True, "FRAME"),
        lambda space: space.add_lwpolyline(POINTS, close=True, dxfattribs={"layer": "FRAME"}),
    ),
    "open polyline": (
        written.polyline(POINTS[:2], False, "FRAME"),
        lambda space: space.add_lwpolyline(POINTS[:2], dxfattribs={"layer": "FRAME"}),
    ),
    **{f"text {words!r}": _text(words, high, turned) for words, high, turned in TEXTS},
}


def section(doc: Any, block: bool) -> str:
    """The file's entities, or its blocks, as ezdxf writes them."""
    text = io.StringIO()
    doc.write(text)
    return (
        text.getvalue().split("\nBLOCKS\n" if block else "\nENTITIES\n")[1].split("\nENDSEC\n")[0]
    )


@pytest.mark.parametrize("name", SAME)
def test_an_entity_is_written_as_ezdxf_writes_it(name: str) -> None:
    ours, theirs = SAME[name]
    for version in VERSIONS:
        one, other = new(version), new(version)
        written.add(one.modelspace(), [ours])
        theirs(other.modelspace())
        found = section(one, block=False)
        assert f"\n{ours.layer}\n" in found
        assert found == section(other, block=False)


def test_all_in_a_block_and_after_it_have_handles_of_their_own() -> None:
    one, other = new("R2010"), new("R2010")
    for doc in (one, other):
        for space in (doc.blocks.new_anonymous_block(type_char="D"), doc.modelspace()):
            if doc is one:
                written.add(space, [ours for ours, _ in SAME.values()])
            else:
                for _, theirs in SAME.values():
                    theirs(space)
            space.add_line((0, 0), (1, 1))
    assert section(one, block=True) == section(other, block=True)
    assert section(one, block=False) == section(other, block=False)
    text = io.StringIO()
    one.write(text)
    again = read(io.StringIO(text.getvalue()))
    assert len(again.modelspace()) == len(SAME) + 1
    assert not again.audit().errors
