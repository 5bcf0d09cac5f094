"""Signs on the sheets: what they say against the budget and the solids, and where they stand.

Signs are read as the standards draw them: ISO 2553 and AWS A2.4 (welds), ISO 1101, ISO 5459,
ISO 21920-1 (from memory).
"""

from __future__ import annotations

from math import radians, tan

import pytest
from shapely.geometry import LineString, Point, Polygon
from sheet_faults import shape
from sheets_made import made_sheets

from parts import trueness
from parts.attachment import Attachment
from planner.checking.budget import tolerances_of
from planner.drawing.apart import drawn
from planner.drawing.joints import run
from planner.drawing.model import (
    DatumSymbol,
    GeometricTolerance,
    Leader,
    Line,
    Polyline,
    Sheet,
    TextureSymbol,
    WeldSymbol,
)
from planner.drawing.subjects import Subject, subjects
from planner.output.plan import Plan
from planner.solids import kernel, location
from planner.solids.build import piece

Made = dict[str, tuple[Subject, Sheet]]


@pytest.fixture
def made(plan: Plan) -> Made:
    """Every sheet of an example by its name, made once."""
    return {s.name: (s, one) for s, _, one in made_sheets(plan)}


def _frames(made: Made, name: str) -> dict[tuple[str, str], float]:
    """What each frame of a sheet says, by the surface and the characteristic, in the sheet's unit."""
    found = {}
    for item in made[name][1].items:
        if isinstance(item, GeometricTolerance):
            found[item.feature.split("|")[0], item.characteristic] = float(item.value)
    return found


def test_frames_say_what_the_error_budget_counts_on(plan: Plan, made: Made) -> None:
    """Never more, and no more than the last place less."""
    sizes = plan.sizing.sizes
    budget = tolerances_of(sizes, 0.0)
    unit, step = (25.4, 1e-4) if plan.job.inch else (1.0, 1e-3)

    def same(printed: float, mm: float) -> bool:
        return mm - step * unit < printed * unit <= mm + 0.06 * step * unit

    body = _frames(made, "rotating-body")
    # the rod's bore out of square by an angle: over the block it goes through, by its tangent
    square = tan(radians(budget.square_deg)) * sizes.block_length_mm
    assert same(body["rod bore:axis", "perpendicularity"], square)
    # a face leans by what its play lets the pivot lean over the housing's length
    lean = budget.clearance_mm / sizes.housing_length_mm
    face = lean * sizes.tube_stock.width_mm
    assert same(body["body thrust face:start", "run-out"], face)
    housing = _frames(made, "housing")
    assert same(housing["thrust face:start", "run-out"], face)
    assert same(housing["pivot bore:axis", "parallelism"], budget.skew_mm)
    nut = _frames(made, "pivot-nut")
    assert same(nut["blank:x-low", "run-out"], lean * sizes.nut_diameter_mm)
    for name, of in (("feed-screw", "collar:end"), ("dial", "blank:x-low")):
        assert same(_frames(made, name)[of, "run-out"], budget.dial_mm)


def test_another_figure_of_the_budget_is_another_frame(
    bench: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    from parts.screw import feed_screw

    sizes = bench.sizing.sizes
    before = tolerances_of(sizes, 0.0).dial_mm
    monkeypatch.setattr(trueness, "DIAL_READING", 2 * trueness.DIAL_READING)
    assert tolerances_of(sizes, 0.0).dial_mm == pytest.approx(2 * before)
    assert feed_screw(sizes).trueness[0].value_mm == pytest.approx(2 * before)


def test_every_datum_of_a_frame_and_of_a_location_stands_on_the_sheet_once(made: Made) -> None:
    seen = 0
    for name, (subject, sheet) in made.items():
        letters = [item.letter for item in sheet.items if isinstance(item, DatumSymbol)]
        assert len(set(letters)) == len(letters), name
        wanted = {at.datum for feature in subject.features for at in feature.locations}
        for item in sheet.items:
            if isinstance(item, GeometricTolerance):
                wanted |= set(item.datums)
        assert set(letters) == wanted, name
        seen += len(letters)
    assert seen > 15


def _lines(sheet: Sheet) -> list[LineString]:
    """What is drawn of the part."""
    signs = (Leader, WeldSymbol, TextureSymbol, GeometricTolerance, DatumSymbol)
    return [
        shape(stroke)
        for item in sheet.items
        if not isinstance(item, signs)
        for stroke in drawn(item).strokes
        if stroke.style in ("visible", "hidden", "thin", "phantom")
    ]


def test_every_sign_points_at_a_drawn_line_or_hangs_under_words(made: Made) -> None:
    for name, (_, sheet) in made.items():
        lines = _lines(sheet)
        words = [
            shape(stroke)
            for item in sheet.items
            if isinstance(item, Leader | GeometricTolerance)
            for stroke in drawn(item).strokes
        ]
        for item in sheet.items:
            tip: tuple[float, float] | None = None
            if isinstance(item, WeldSymbol):
                tip = item.points[0]
            elif isinstance(item, TextureSymbol) and item.end == "arrow":
                tip = item.leader[0] if item.leader else item.at
            elif isinstance(item, GeometricTolerance) and item.leader:
                tip = item.leader[0]
            elif isinstance(item, DatumSymbol) and not item.extension:
                under = min(Point(item.at).distance(line) for line in (*words, *lines))
                assert under < 0.05, (name, item)
            if tip is not None:
                near = min(Point(tip).distance(line) for line in lines)
                assert near < 0.05, (name, item)


def test_a_weld_runs_where_both_of_its_members_are(bench: Plan) -> None:
    """Each place of it lies on both pieces as the kernel has them, before they are welded."""
    looked = 0
    for subject in subjects(bench.attachment):
        for weld in subject.welds:
            joined = subject.joined
            assert joined is not None
            both = [m for m in joined.members if m.name in weld.members]
            places = run(subject, weld)
            assert places, weld.name
            for member in both:
                solid = piece(member).moved(location(member.frame))
                for place in places:
                    assert solid.distance(kernel().Vertex.makeVertex(*place)) < 1e-3, weld.name
                    looked += 1
    assert looked > 40


def test_each_weld_has_its_own_symbol_and_size(plan: Plan, made: Made) -> None:
    inch = plan.job.inch
    for name, (subject, sheet) in made.items():
        symbols = {
            item.feature.split("|")[0]: item for item in sheet.items if isinstance(item, WeldSymbol)
        }
        assert set(symbols) == {weld.name for weld in subject.welds}, name
        for weld in subject.welds:
            one = symbols[weld.name]
            assert one.kind == weld.kind and one.all_round == weld.all_round
            assert one.system == ("B" if inch else "A")
            # a fillet by its leg, z; what is prepared by its depth, s; an inch drawing has no letter
            letter = "" if inch else {"fillet": "z"}.get(weld.kind, "s")
            assert one.size.startswith(letter) and one.size[len(letter)].isdigit()


def test_textures_stand_where_something_slides_or_is_clamped(plan: Plan, made: Made) -> None:
    """Journal, bores, seat, rod; on an inch drawing in microinches (ASME B46.1's series)."""
    wanted = {
        "housing": {"pivot bore": 1.6, "thrust face": 1.6, "shank:y-low": 3.2},
        "rotating-body": {
            "journal": 0.8,
            "rod bore": 1.6,
            "body thrust face": 1.6,
            "foot flat": 1.6,
        },
        "sliding-head": {"foot bearing face": 1.6},
        "sliding-head-rod": {"rod": 0.8},
        "feed-screw": {"screw journal": 1.6},
    }
    micro = {0.8: "32", 1.6: "63", 3.2: "125"}
    for name, textures in wanted.items():
        said = {
            item.feature.split("|")[0]: item
            for item in made[name][1].items
            if isinstance(item, TextureSymbol)
        }
        assert set(said) == set(textures), name
        for of, um in textures.items():
            assert said[of].words == (micro[um] if plan.job.inch else f"Ra {um:g}")
            assert said[of].removal == "required"


def test_system_b_has_no_dashed_line_and_the_arrows_side_below() -> None:
    points = ((0.0, 0.0), (10.0, 10.0))
    for kind in ("fillet", "bevel", "flare-bevel"):
        a = drawn(WeldSymbol(points, kind, "4"))  # type: ignore[arg-type]
        b = drawn(WeldSymbol(points, kind, "4", system="B"))  # type: ignore[arg-type]
        assert [s for s in a.strokes if s.style == "hidden"]
        assert not [s for s in b.strokes if s.style == "hidden"]
        other = drawn(WeldSymbol(points, kind, "4", side="other", system="B"))  # type: ignore[arg-type]
        for piece_, up in ((a, 1), (b, -1), (other, 1)):
            signs = [s for s in piece_.strokes[3:] if isinstance(s, Polyline)]
            ends = [y for s in signs for _, y in s.points if abs(y - 10.0) > 1e-6]
            assert ends and all((y - 10.0) * up > 0 for y in ends), kind


def test_a_flare_bevel_is_an_upright_and_a_quarter_round() -> None:
    """ISO 2553 table 1 (memory): the round leaves the line by the upright and bends away from it."""
    item = WeldSymbol(((0.0, 0.0), (10.0, 10.0)), "flare-bevel", "4")
    upright, bow = [s for s in drawn(item).strokes if isinstance(s, Polyline) and not s.filled][-2:]
    assert upright.points[0][0] == pytest.approx(upright.points[1][0])
    (x0, y0), (x1, y1) = bow.points[0], bow.points[-1]
    assert (x0, y0) == pytest.approx(upright.points[0])
    assert x1 > x0 and y1 == pytest.approx(upright.points[1][1])
    # it starts upright and ends level
    (xa, ya), (xb, yb) = bow.points[1], bow.points[-2]
    assert (xa - x0) < 0.2 * (ya - y0) and (y1 - yb) < 0.2 * (x1 - xb)


def test_the_dials_lines_stand_on_its_sheet(plan: Plan, made: Made) -> None:
    """Lines of three lengths at the rim's spacing: its girth over the divisions."""
    from math import pi

    from planner.drawing.model import Dimension

    sizes = plan.sizing.sizes
    said = {
        item.feature.split("|")[1]: item.measured
        for item in made["dial"][1].items
        if isinstance(item, Dimension) and item.feature.startswith("scale|")
    }
    apart = pi * sizes.dial_diameter_mm / sizes.dial_divisions
    assert said["spacing"] == pytest.approx(apart)
    # half, 7/20 and a quarter of the rim (common practice); of an inch dial to whole 64ths
    for kind, part in (("long", 0.5), ("middle", 0.35), ("short", 0.25)):
        long = part * sizes.dial_rim_mm
        if plan.job.inch:
            assert said[f"{kind} line"] * 64 / 25.4 == pytest.approx(round(long * 64 / 25.4))
        else:
            assert said[f"{kind} line"] == pytest.approx(long)
    lines = [x for x in made["dial"][1].items if isinstance(x, Line) and x.start[0] == x.end[0]]
    assert len({round(abs(x.end[1] - x.start[1]), 3) for x in lines}) >= 3


def test_a_weldment_says_its_pieces_and_its_mass(bench: Plan, made: Made) -> None:
    """Its mass is near that of its pieces: what is cut away after welding is little."""
    assert isinstance(bench.attachment, Attachment)
    for name, (subject, sheet) in made.items():
        of = sheet.fields
        assert of.mass and of.material and of.stock and of.quantity and of.texture, name
        if subject.joined is not None:
            first, last = of.stock.split("sheets ")[1].split(" to ")
            assert int(last) == of.sheet_number - 1
            pieces = [
                one
                for _, one in made.values()
                if one.fields.sheet_number in (int(first), int(last))
            ]
            assert all(one.fields.document_type == "Piece" for one in pieces)
            assert "as welded" in " ".join(of.tolerances)
        else:
            assert "as welded" not in " ".join(of.tolerances)


def test_no_leader_runs_through_a_frame(made: Made) -> None:
    """What is read between two lines of a frame would be cut in two by a third."""
    seen = 0
    for name, (_, sheet) in made.items():
        led = [
            (item, LineString(way))
            for item in sheet.items
            if len(way := item.points if isinstance(item, Leader) else getattr(item, "leader", ()))
            > 1
        ]
        for item in sheet.items:
            if not isinstance(item, GeometricTolerance | DatumSymbol):
                continue
            for stroke in drawn(item).strokes:
                if not isinstance(stroke, Polyline) or not stroke.closed or stroke.filled:
                    continue
                inside = Polygon(stroke.points).buffer(-0.05)
                assert not [o for o, way in led if o is not item and way.intersects(inside)], name
                seen += 1
    assert seen > 20
