"""The finished sheets as they are printed: words by the PDF's own boxes, lines by the DXF's entities.

Boxes of the ink of letters come from PDFium, lines from ezdxf, what meets from shapely; GDAL counts
what is in the file. Nothing here knows the sheet's model.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import ezdxf
import pyogrio
import pypdfium2
import pytest
from drawing.reader import ink as reader
from jobs import ROOT, planned
from shapely import STRtree
from shapely.geometry import LineString, box

from planner.drawing.dxf import write_dxf
from planner.drawing.model import Sheet
from planner.drawing.pdf import pdf
from planner.drawing.sheets import sheets

MM = 25.4 / 72

TOUCH_MM = 0.1
"""Ink may come this near to other ink before it counts as standing on it."""

NEIGHBOURS = 3
"""Letters this near in one word are not held apart: boxes of letters that stand aslant overlap."""


@pytest.fixture(
    scope="module", params=["bench-lathe", pytest.param("inch-lathe", marks=pytest.mark.slow)]
)
def printed(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> list[tuple[str, Any, Path]]:
    """Of each sheet its name, its page, and its DXF."""
    plan = planned(ROOT / "examples" / f"{request.param}.toml")
    folder = tmp_path_factory.mktemp(request.param)
    made: list[tuple[str, Sheet]] = [
        (subject.name, sheet)
        for subject, _, sheet in sheets(plan.attachment, plan.job.numbers, plan.job.name)
    ]
    pages = pypdfium2.PdfDocument(pdf([sheet for _, sheet in made], "sheets"))
    out = []
    for number, (name, sheet) in enumerate(made):
        path = folder / f"{name}.dxf"
        write_dxf(path, sheet)
        out.append((name, pages[number], path))
    return out


def letters(page: Any) -> list[tuple[int, str, Any]]:
    """Every letter with its number and the box round its ink, mm from the lower left corner."""
    text = page.get_textpage()
    whole = text.get_text_range()
    found = []
    for k in range(text.count_chars()):
        left, low, right, top = (MM * x for x in text.get_charbox(k))
        if right - left > 0.05 and top - low > 0.05:
            found.append((k, whole[max(0, k - 12) : k + 12], box(left, low, right, top)))
    return found


def lines(path: Path) -> Iterator[LineString]:
    """Every straight stroke of a DXF, those of its dimensions too; no solids, no arcs."""
    opened = ezdxf.readfile(path)
    spaces = [opened.modelspace()]
    spaces += [opened.blocks[e.dxf.geometry] for e in opened.modelspace().query("DIMENSION")]
    for space in spaces:
        for e in space:
            if e.dxftype() == "LINE":
                yield LineString([e.dxf.start.xyz[:2], e.dxf.end.xyz[:2]])
            elif e.dxftype() == "LWPOLYLINE":
                points = [(p[0], p[1]) for p in e]
                yield LineString([*points, points[0]] if e.closed else points)


def test_no_words_stand_on_words_or_lines_or_off_the_paper(
    printed: list[tuple[str, Any, Path]],
) -> None:
    looked = 0
    for name, page, path in printed:
        wide, high = (MM * x for x in page.get_size())
        every = letters(page)
        inner = [area.buffer(-TOUCH_MM, join_style="mitre") for _, _, area in every]
        looked += len(inner)
        tree = STRtree(inner)
        for one, other in zip(*tree.query(inner, predicate="intersects"), strict=True):
            near = abs(every[one][0] - every[other][0]) < NEIGHBOURS
            assert near, f"{name}: {every[one][1]!r} on {every[other][1]!r}"
        drawn = list(lines(path))
        hit = STRtree(drawn).query(inner, predicate="intersects")
        assert not {every[k][1] for k in hit[0]}, f"{name}: words on a line"
        for _, text, area in every:
            left, low, right, top = area.bounds
            assert left > 0 < low and right < wide and top < high, f"{name}: {text!r}"
        for line in drawn:
            left, low, right, top = line.bounds
            assert left > 0 < low and right < wide and top < high, f"{name}: a line off the paper"
    assert looked > 3000


def test_no_leader_crosses_another(printed: list[tuple[str, Any, Path]]) -> None:
    looked = 0
    for name, _, path in printed:
        ink = reader.read(path)
        tips = [call.tip for call in ink.calls]
        leaders = [
            LineString(points[:2])
            for layer, points, closed in ink.curves
            if layer == "THIN" and not closed and points[0] in tips
        ]
        looked += len(leaders)
        for k, one in enumerate(leaders):
            for other in leaders[k + 1 :]:
                assert not one.crosses(other), name
    assert looked > 40


def test_gdal_finds_as_many_entities(printed: list[tuple[str, Any, Path]]) -> None:
    for name, _, path in printed:
        opened = ezdxf.readfile(path)
        plain = sum(e.dxftype() != "DIMENSION" for e in opened.modelspace())
        inside = sum(
            len(opened.blocks[e.dxf.geometry]) for e in opened.modelspace().query("DIMENSION")
        )
        _, _, shapes, _ = pyogrio.raw.read(path, encoding="utf-8")
        assert len(shapes) == plain + inside > 50, name
