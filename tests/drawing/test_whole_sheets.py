"""The sheets of the whole: general arrangement, section, exploded view, and the isometrics.

Held against the attachment's own things, the answers of ``pommel check`` and ``pommel cutlist``, the
kernel's solids (distances, rays, sections, what they share), and shapely for what stands on what.
"""

from __future__ import annotations

import json
import re
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from commands import call
from jobs import EXAMPLES, ROOT, planned
from sheet_faults import overlaps
from sheets_made import by_unit, made_whole

from parts.attachment import Placed, Seat
from parts.features import Hole
from parts.frame import vector
from parts.part import Part
from planner.drawing import frame, layout
from planner.drawing.apart import drawn
from planner.drawing.arrangement_sheet import _table
from planner.drawing.arrangement_sheet import _words as _words_of
from planner.drawing.cutaway import PLANES, area, cutaways, hatchings
from planner.drawing.exploded import FULL
from planner.drawing.exploding import exploded
from planner.drawing.isometric import CAPTION, best_corner
from planner.drawing.items import number_of, numbered
from planner.drawing.lettering import box_of
from planner.drawing.model import (
    Balloon,
    Box,
    Circle,
    Dimension,
    Line,
    Polyline,
    Sheet,
    Text,
    factor,
)
from planner.drawing.room import Room
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import subjects
from planner.output.part_sheets import ground
from planner.output.plan import Plan
from planner.solids import kernel
from planner.solids.apart import GAP_MM, seats
from planner.solids.build import bought_solid, placement, solid
from planner.solids.together import flat
from planner.words.findings import BadInput

BENCH = ROOT / "examples" / "bench-lathe.toml"


def _plan(path: Path, arrangement: str = "across") -> Plan:
    return planned(path, arrangement)  # type: ignore[arg-type]


def _sheets(path: Path, arrangement: str = "across") -> dict[str, Sheet]:
    return made_whole(path, *by_unit(path), arrangement)  # type: ignore[arg-type]


def _words(sheet: Sheet) -> list[str]:
    return [item.words for item in sheet.items if isinstance(item, Text)]


def _rows(sheet: Sheet) -> list[list[str]]:
    """The words of a sheet line by line from above, each line from the left."""
    lines: dict[float, list[tuple[float, str]]] = {}
    for item in sheet.items:
        if isinstance(item, Text):
            lines.setdefault(round(item.at[1], 1), []).append((item.at[0], item.words))
    return [[words for _, words in sorted(lines[y])] for y in sorted(lines, reverse=True)]


def _listed(sheet: Sheet) -> list[list[str]]:
    """The rows of the list of items: what a cell goes on with stands under its beginning."""
    texts = [(item.at[0], item.at[1], item.words) for item in sheet.items if isinstance(item, Text)]
    left = min(x for x, _, words in texts if words == "Item")
    numbered = [(y, words) for x, y, words in texts if abs(x - left) < 1.0 and words.isdigit()]
    rows = []
    for at, _ in sorted(numbered, reverse=True):
        cells = sorted((x, words) for x, y, words in texts if abs(y - at) < 0.05 and x > left - 1.0)
        under = {
            round(x, 1): words
            for x, y, words in texts
            if 0.5 < at - y < 5.0 and all(abs(y - other) > 0.05 for other, _ in numbered)
        }
        row = [" ".join((words, under.get(round(x, 1), ""))).strip() for x, words in cells]
        rows.append(row)
    return rows


def _solid(placed: Placed) -> Any:
    item = placed.item
    return solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)


# ---- all of them ----


@pytest.mark.parametrize("arrangement", ["across", "upright"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_nothing_stands_on_anything_or_off_the_sheet(path: Path, arrangement: str) -> None:
    for name, sheet in _sheets(path, arrangement).items():
        assert list(overlaps(sheet)) == [], name


# ---- the list of items ----


@pytest.mark.parametrize("path", [BENCH, EXAMPLES[2]], ids=lambda path: path.stem)
def test_the_list_names_every_part_and_everything_bought(path: Path) -> None:
    """Bought items against the table of ``pommel cutlist``, counts against what is placed."""
    plan, sheet = _plan(path), _sheets(path)["exploded-view"]
    rows = _listed(sheet)
    assert [int(row[0]) for row in rows] == list(range(len(rows), 0, -1))
    made = [row for row in rows if row[4] == "made"]
    bought = [row for row in rows if row[4] == "bought"]
    assert len(made) + len(bought) == len(rows)
    parts = {part.title: str(part.quantity) for part in plan.attachment.parts}
    assert {row[2]: row[1] for row in made} == parts
    table = json.loads(call("cutlist", str(path), "--json").stdout)["tables"]["bought"]
    wanted = sorted((row["use"], str(row["quantity"]), row["standard"]) for row in table)
    assert wanted == sorted((row[2].split(": ", 1)[1], row[1], row[3]) for row in bought)
    for row in table:
        pieces = [p for p in plan.attachment.placed if p.name == row["use"]]
        assert len(pieces) == row["quantity"]
    names = [s.name for s in subjects(plan.attachment)]
    for row in made:
        part = next(p for p in plan.attachment.parts if p.title == row[2])
        assert int(row[5]) == names.index(part.name) + 4  # three sheets of the whole come first


# ---- the exploded view ----


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_there_is_one_balloon_for_each_item_and_a_ring_round_what_is_bought(path: Path) -> None:
    plan, sheet = _plan(path), _sheets(path)["exploded-view"]
    found = [item for item in sheet.items if isinstance(item, Balloon)]
    count = len(plan.attachment.parts) + len(plan.attachment.bought)
    assert sorted(int(one.number) for one in found) == list(range(1, count + 1))
    rings = {item.centre for item in sheet.items if isinstance(item, Circle)}
    ringed = {int(one.number) for one in found if one.at in rings}
    assert ringed == set(range(len(plan.attachment.parts) + 1, count + 1))


def test_a_balloon_points_at_its_own_item() -> None:
    """A ray of the kernel's from the viewer through the tip meets that item's solid first."""
    plan, sheet = _plan(BENCH), _sheets(BENCH)["exploded-view"]
    attachment, radius = plan.attachment, plan.sizing.sizes.max_ball_diameter_mm / 2
    apart = exploded(attachment, radius)
    cq = kernel()
    shapes = [
        _crossed(_solid(p).moved(cq.Location(moved) * placement(p, radius, 90.0)))
        for p, moved in zip(attachment.placed, apart.moved, strict=True)
    ]
    items = numbered(attachment, plan.job.numbers, {p.name: 0 for p in attachment.parts})
    origin, by = _origin(sheet, apart)
    towards, right = (np.array(one) / np.linalg.norm(one) for one in apart.corner)
    up = np.cross(towards, right)
    for item in (one for one in sheet.items if isinstance(one, Balloon)):
        assert item.tip is not None
        u, v = (item.tip[0] - origin[0]) / by, (item.tip[1] - origin[1]) / by
        met: set[int] = set()
        for du, dv in ((0.0, 0.0), (0.4, 0.0), (-0.4, 0.0), (0.0, 0.4), (0.0, -0.4)):
            start = (u + du) * right + (v + dv) * up + 2000.0 * towards
            first = _first(start, towards, shapes)
            met |= {number_of(items, attachment.placed[first])} if first is not None else set()
        assert met == {int(item.number)}, item.number


def _crossed(shape: Any) -> Any:
    """The kernel's own means to find where a line meets a solid."""
    from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector

    walk = IntCurvesFace_ShapeIntersector()
    walk.Load(shape.wrapped, 1e-6)
    return walk


def _first(start: Any, towards: Any, solids: list[Any]) -> int | None:
    """Which of some solids a ray from the viewer meets first."""
    from OCP.gp import gp_Dir, gp_Lin, gp_Pnt

    ray = gp_Lin(gp_Pnt(*(float(x) for x in start)), gp_Dir(*(float(-x) for x in towards)))
    found = []
    for number, walk in enumerate(solids):
        walk.PerformNearest(ray, 0.0, 4000.0)
        if walk.NbPnt():
            found.append((walk.WParameter(1), number))
    return min(found)[1] if found else None


def _origin(sheet: Sheet, apart: Any) -> tuple[tuple[float, float], float]:
    """Where the view's origin lies on the paper and what a millimetre is, from its firm lines."""
    by = FULL * float(factor(sheet.scale))
    drawn = [
        p
        for item in sheet.items
        if isinstance(item, Line | Polyline) and item.style == "visible"
        for p in ((item.start, item.end) if isinstance(item, Line) else item.points)
    ]
    paper = flat(np.concatenate(apart.points), *apart.corner)
    low = np.array(drawn).min(axis=0) - by * paper.min(axis=0)
    high = np.array(drawn).max(axis=0) - by * paper.max(axis=0)
    assert low == pytest.approx(high, abs=0.3)  # so the scale is right too
    middle = (low + high) / 2
    return (float(middle[0]), float(middle[1])), by


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_everything_leaves_along_its_own_way_and_covers_nothing(path: Path) -> None:
    """Along its seat's direction alone, at least the gap; on the paper in cells of 3 mm."""
    plan = _plan(path)
    placed = plan.attachment.placed
    apart = exploded(plan.attachment, plan.sizing.sizes.max_ball_diameter_mm / 2)
    order, on = seats(placed)
    assert sorted(order) == list(range(len(placed))) and len(on) == len(placed) - 1
    for k, below in on.items():
        seat = placed[k].seat
        assert isinstance(seat, Seat) and placed[below].name == seat.on
        way = np.array(vector(seat.off))
        by = np.array(apart.moved[k]) - np.array(apart.moved[below])
        assert by @ way >= GAP_MM and np.linalg.norm(by - (by @ way) * way) < 1e-6
    cells = [
        {(int(u), int(v)) for u, v in np.floor(flat(points, *apart.corner) / 3.0)}
        for points in apart.points
    ]
    shared = sum(len(one & other) for one, other in combinations(cells, 2))
    assert shared < 0.02 * sum(len(one) for one in cells)


def test_what_leaves_meets_nothing_that_it_sits_on() -> None:
    """Moved off its seat in steps, a thing shares no more metal with it than where it sits."""
    plan = _plan(BENCH)
    placed = plan.attachment.placed
    order, on = seats(placed)
    boxes = {k: _solid(placed[k]).moved(placement(placed[k], 10.0, 90.0)) for k in order}
    for k, below in on.items():
        seat = placed[k].seat
        assert seat is not None
        start = float(boxes[k].intersect(boxes[below]).Volume())
        for step in (1.0, 5.0, 25.0):
            by = tuple(step * w for w in vector(seat.off))
            shared = float(boxes[k].moved(kernel().Location(by)).intersect(boxes[below]).Volume())
            assert shared <= start + 0.05, f"{placed[k].name}: {shared:.3g} mm3 after {step:g} mm"


# ---- the general arrangement ----


@pytest.mark.parametrize(
    ("path", "arrangement"),
    [(BENCH, "across"), (BENCH, "upright"), (EXAMPLES[2], "across")],
    ids=lambda one: getattr(one, "stem", one),
)
def test_the_clearances_are_those_that_check_prints(path: Path, arrangement: str) -> None:
    """Every number of the tightest spots against the answer of ``pommel check --json``."""
    asked = ("check", str(path), "--arrangement", arrangement, "--json")
    tables = json.loads(call(*asked).stdout)["tables"]
    sheet, plan = _sheets(path, arrangement)["general-arrangement"], _plan(path, arrangement)
    unit = 25.4 if plan.job.inch else 1.0
    half = 0.005 if plan.job.inch else 0.05
    rows = {row[0]: row for row in _rows(sheet) if len(row) == 7 and row[0] != "obstacle"}
    assert set(rows) == {row["obstacle"] for row in tables["gaps"]}
    for obstacle, row in rows.items():
        least = min(
            (one for one in tables["gaps"] if one["obstacle"] == obstacle),
            key=lambda one: one["distance_mm"],
        )
        assert float(row[1]) == pytest.approx(least["distance_mm"] / unit, abs=half + 1e-3)
        assert row[3:5] == [least["ball"], least["part"]]
        assert float(row[5].rstrip("°")) == pytest.approx(least["swing_deg"], abs=0.51)
    dims = {i.text: i for i in sheet.items if isinstance(i, Dimension)}
    jaws = next(d for text, d in dims.items() if text.endswith("from jaws"))
    assert jaws.measured == pytest.approx(tables["clearance"][0]["stick_out_mm"], abs=0.006)
    # the check and the sheets say how far it is from the jaws in the same words
    clear = plan.job.numbers.plain.clearance(tables["clearance"][0]["stick_out_mm"])
    assert jaws.text == f"{clear} from jaws"
    angles = [i for i in sheet.items if isinstance(i, Dimension) and i.kind == "angle"]
    assert max(i.measured for i in angles) == pytest.approx(
        tables["clearance"][0]["end_deg"], abs=0.01
    )


def test_an_inch_arrangement_has_fractions_for_what_is_of_64ths() -> None:
    """One sheet, one way: 7.125 stood beside 1-1/4; decimals are for what is no 64th (common practice).

    How much is clear is in the decimals of the table beside it.
    """
    sheet = _sheets(ROOT / "examples" / "inch-lathe.toml")["general-arrangement"]
    texts = [i.text for i in sheet.items if isinstance(i, Dimension)]
    told = [text for text in texts if text.endswith(("overall", "to post", "over seat"))]
    assert len(told) == 4
    assert [text for text in told if not re.match(r"\d+(-\d+/\d+)? |\d+/\d+ ", text)] == []


def test_the_fitting_dimensions_are_the_lathes_and_lie_to_scale() -> None:
    """Against the job file's own words; on the paper by the distance of the feet."""
    sheet = _sheets(BENCH)["general-arrangement"]
    dims = [i for i in sheet.items if isinstance(i, Dimension)]
    wanted = {"over seat": 20.0, "over slide": 62.0, "square": 16.0, "post": 56.0}
    for words, mm in wanted.items():
        (one,) = [d for d in dims if d.text == f"{mm:g} {words}"]
        assert one.along_deg is not None
        way = np.array([np.cos(np.radians(one.along_deg)), np.sin(np.radians(one.along_deg))])
        paper = abs(float((np.array(one.feet[1]) - np.array(one.feet[0])) @ way))
        assert paper == pytest.approx(mm * float(factor(sheet.scale)), abs=1e-6)
    radii = sorted(d.measured for d in dims if d.kind == "radius")
    assert radii == [8.0, 38.0]  # pommel sizes: tip_radius_min, tip_radius_max


def test_the_clearances_are_so_wide_between_the_solids() -> None:
    """Distances of the kernel's solids in the pose of the tightest spot; never less than is printed,
    and at most a chamfer more."""
    plan, cq = _plan(BENCH), kernel()
    s, job, largest = plan.sizing.sizes, plan.job, plan.clearances[0]
    gaps = {gap.obstacle: gap for gap in largest.gaps}
    chuck, reach, out = job.lathe.chuck_diameter, job.lathe.jaw_reach, largest.stick_out_mm

    def drum(radius: float, low: float, high: float) -> Any:
        return cq.Solid.makeCylinder(radius, high - low, (0, 0, low), (0, 0, 1))

    near = s.shank_inner_z_mm - (job.tool_post.stands_out or 0.0)
    stands = {
        "jaws": drum(chuck / 2, -out - reach, -out),
        "cross slide": cq.Solid.makeBox(
            800, 10, 800, (-400, -s.spindle_over_cross_slide_mm - 10, -400)
        ),
        "blank": drum(largest.ball.blank_mm / 2, -20.0, largest.ball.diameter_mm / 2),
        "tool post": cq.Solid.makeBox(
            s.post_depth_mm, 40, 60, (s.post_rear_x_mm, -s.spindle_over_seat_mm, near)
        ),
    }
    for obstacle, body in stands.items():
        gap = gaps[obstacle]
        carriers = {"tool post": ("body",), "blank": ("body",)}.get(obstacle, ("body", "head"))
        far = min(
            float(_solid(p).moved(placement(p, gap.tip_radius_mm, gap.swing_deg)).distance(body))
            for p in plan.attachment.placed
            if p.carrier in carriers and isinstance(p.item, Part) and p.turn is None
        )
        assert gap.distance_mm - 0.05 <= far <= gap.distance_mm + 1.5, obstacle


@pytest.mark.parametrize("path", [BENCH, EXAMPLES[2]], ids=lambda path: path.stem)
def test_what_a_table_and_sentences_cover_is_taken(path: Path) -> None:
    """Nothing that comes after them finds room on a line or a word of them."""
    stands, numbers = ground(_plan(path)).standing, _plan(path).job.numbers
    room = Room(Box(20.0, 10.0, 410.0, 287.0))
    for part in (_table, _words_of):
        for item in part(stands, numbers, room):
            for text in drawn(item).texts:
                box = box_of(text)
                for x, y in ((box.left, box.low), (box.right, box.low), (box.left, box.top)):
                    assert not room.empty(Box(x, y, x + 0.1, y + 0.1)), text.words
            if isinstance(item, Line):
                for x, y in (item.start, item.end):
                    assert not room.empty(Box(x, y, x + 0.1, y + 0.1))
    # and no more than that: a strip beside it is free
    taken = np.argwhere(room.words > 0)
    assert len(taken) < 0.35 * room.words.size


# ---- the section ----


@pytest.mark.parametrize("path", EXAMPLES[:1], ids=lambda path: path.stem)
def test_the_section_cuts_what_the_solids_have_there(path: Path) -> None:
    """Areas against the kernel's plane through each solid; what adjoins is hatched otherwise."""
    plan = _plan(path)
    radius = plan.sizing.sizes.max_ball_diameter_mm / 2
    sections, looked = cutaways(plan.attachment, radius), 0
    given = hatchings(sections)
    for section, (_, axis, towards, _) in zip(sections, PLANES, strict=True):
        assert towards[axis] == 1.0
        plane = kernel().Face.makePlane(1e3, 1e3, (0, 0, 0), towards)
        behind = kernel().Solid.makeBox(1e3, 2e3, 2e3, (section.behind_x_mm - 1e3, -1e3, -1e3))
        areas = []
        for thing in section.things:
            placed = plan.attachment.placed[thing.of]
            if not thing.cuts:
                continue
            there = _solid(placed).moved(placement(placed, radius, 90.0)).cut(behind)
            cut = sum(area(one).area for one in thing.cuts)
            assert cut == pytest.approx(float(plane.intersect(there).Area()), rel=5e-3), placed.name
            looked += 1
            areas += [((thing.of, c.piece), area(c)) for c in thing.cuts if not c.lengthwise]
        for (one, first), (other, second) in combinations(areas, 2):
            if one != other and first.distance(second) < 0.3:
                assert given[one] != given[other], (one, other)
    assert looked >= 10
    whole = {
        plan.attachment.placed[thing.of].name
        for section in sections
        for thing in section.things
        if not thing.cuts
    }
    assert {"drag-screw", "clamps the rod, set in the block"} <= whole  # not cut lengthwise
    hatched = {
        plan.attachment.placed[thing.of].name
        for section in sections
        for thing in section.things
        if any(not one.lengthwise for one in thing.cuts)
    }
    # the nut that is made is cut, to be seen: the sheet said that no nut was
    assert "pivot-nut" in hatched and "tool-bit" in hatched
    words = " ".join(" ".join(_words(one)) for n, one in _sheets(path).items() if "section" in n)
    assert "round bars, bought screws, nuts and washers are not cut" in words
    bars = {c.piece for x in sections for thing in x.things for c in thing.cuts if c.lengthwise}
    assert bars == {"shaft", "rod"}


# ---- the isometrics, and what drawing leaves alone ----


def test_an_isometric_takes_no_place_from_anything(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paper, scale and all else of a sheet are the same without it."""
    plan = _plan(BENCH)
    every = subjects(plan.attachment)[:4]
    args = (plan.job.numbers, (1, 1), "x")
    withit = [drawn_sheet(one, *args) for one in every]
    monkeypatch.setattr(layout, "isometric", lambda subject, room: iter(()))
    without = [drawn_sheet(one, *args) for one in every]
    shown = 0
    for one, other in zip(withit, without, strict=True):
        assert (one.paper, one.scale) == (other.paper, other.scale)
        assert one.items[: len(other.items)] == other.items
        shown += CAPTION in _words(one)
    assert shown >= 3


def test_an_isometric_shows_the_end_that_the_holes_are_in() -> None:
    """The shank is alike from both ends but for two small holes in one: from that end it is shown."""
    (shank,) = [one for one in subjects(_plan(BENCH).attachment) if one.name == "housing-shank"]
    into = {one.axis.along for one in shank.features if isinstance(one, Hole)}
    assert len(into) == 1
    (along,) = into
    assert best_corner(shank)["xyz".index(along[1])] == (-1 if along[0] == "+" else 1)


def test_the_solids_are_left_as_they_were(tmp_path: Path) -> None:
    """A part's STEP file is the same, byte for byte, before and after all sheets of the whole."""
    from planner.solids.step import write_step

    plan = Plan(BENCH)
    parts = [p for p in plan.attachment.parts if p.name in ("rotating-body", "dial", "housing")]
    for when in ("before", "after"):
        for part in parts:
            write_step(tmp_path / f"{part.name}-{when}.step", part)
        if when == "before":
            made_whole.__wrapped__(BENCH, "A4", "first")
    for part in parts:
        one, other = (
            (tmp_path / f"{part.name}-{w}.step").read_bytes() for w in ("before", "after")
        )
        assert one == other, part.name


def test_the_command_draws_a_sheet_of_the_whole_by_its_name(tmp_path: Path) -> None:
    out = tmp_path / "s"
    answer = call("draw", str(BENCH), "exploded-view", "--out", str(out), "--json")
    record = json.loads(answer.stdout)
    assert [row["name"] for row in record["sheets"]] == ["exploded-view"]
    assert record["sheets"][0]["number"] == 3 and (out / "03-exploded-view.svg").exists()
    assert re.search(r"Numbers? 1|Exploded view", (out / "03-exploded-view.svg").read_text())
    with pytest.raises(BadInput):
        from planner.output.part_sheets import drawings

        drawings(_plan(BENCH), "flywheel", None, None)


def test_the_section_stands_upright_where_that_spares_the_larger_paper() -> None:
    """As it was: on A3 lying, half of it empty; a printer at home has A4 (common practice). What is
    said of it stands in a corner that is free."""
    sheet = _sheets(BENCH)["section"]
    assert (sheet.paper, sheet.scale) == ("A4", "1:1")
    said = [one for one in sheet.items if isinstance(one, Text) and "lengthwise" in one.words]
    assert len(said) == 1
    block, space = frame.block(sheet), frame.inside(sheet)
    assert space.top - space.low > space.right - space.left
    for one in sheet.items:
        for point in one.points if isinstance(one, Polyline) else ():
            assert block.top < point[1] < space.top
            assert not (said[0].at[1] - 4 < point[1] < said[0].at[1] + 3 and 25 < point[0] < 190)
