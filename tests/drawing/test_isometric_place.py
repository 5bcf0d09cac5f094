"""The small picture of a part stands beside its views, never in the outline of one."""

from __future__ import annotations

from jobs import ROOT, planned
from shapely.geometry import LineString, Point
from shapely.ops import polygonize, unary_union

from planner.drawing.apart import drawn
from planner.drawing.isometric import CAPTION
from planner.drawing.model import Line, Text
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import subjects


def test_the_picture_of_a_plate_is_not_drawn_on_its_face() -> None:
    """The foot is a bare plate, which fills most of its sheet: the faces that its thick lines close."""
    plan = planned(ROOT / "examples" / "engine-lathe.toml")
    (foot,) = [one for one in subjects(plan.attachment) if one.name == "sliding-head-foot"]
    sheet = drawn_sheet(foot, plan.job.numbers, (1, 1), "x")
    edges = [
        LineString([one.start, one.end])
        for item in sheet.items
        for one in drawn(item).strokes
        if isinstance(one, Line) and one.style == "visible"
    ]
    faces = list(polygonize(unary_union(edges)))
    assert len(faces) == 2
    (caption,) = [one for one in sheet.items if isinstance(one, Text) and one.words == CAPTION]
    assert not any(face.contains(Point(caption.at)) for face in faces)
