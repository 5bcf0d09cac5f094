"""Flat pieces on the shop's sheets: where they lie, and that none is sawn from bar as well."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pyogrio
import pytest
import shapely
from commands import call
from jobs import ROOT

from parts.attachment import attachment
from planner.job.tables import Job
from planner.making.route import route
from planner.nest import Piece, Sheet, check_nest
from planner.nest.dxf import write_piece
from planner.output.sheets.flat import flat_tables
from planner.sizing.apply import size_up
from planner.stock.flats import FlatPlan, flat_pieces, flat_plan
from planner.stock.pieces import pieces_of

JobWith = Callable[..., Job]
PLATE = {"thickness": 8, "width": 90, "length": 200, "material": "S355"}
NO_DIALS = {"shop.machines": {"drill press": {}}}
"""A shop that brings no drill to its place by dials: the jig is cut there."""
THIN = {"thickness": 3, "width": 120, "length": 180, "material": "S235"}


def planned(job: Job, process: str = "plasma") -> FlatPlan:
    return flat_plan(attachment(size_up(job, "job.toml").sizes), job, "job.toml", process)


@pytest.mark.parametrize("process", ["plasma", "saw"])
def test_a_class_set_lies_on_its_sheets_and_the_checker_agrees(
    job_with: JobWith, process: str
) -> None:
    sheets = [PLATE | {"length": 400, "quantity": 3}, THIN]
    job = job_with(**{"shop.sheet": sheets, "attachment.quantity": 12})
    plan = planned(job, process)
    (foot,) = [g for g in plan.groups if g.material == "S355"]
    assert [p.quantity for p in foot.pieces] == [12]
    for group in plan.groups:
        row = next(r for r in sheets if r["material"] == group.material)
        number = sheets.index(row) + 1
        long, wide = max(row["length"], row["width"]), min(row["length"], row["width"])
        margin = 5.0 if process == "plasma" else 0.0
        stock = Sheet(f"sheet {number}", long, wide, row.get("quantity", 1), 0.0, margin)
        check_nest([Piece(p.profile, p.quantity) for p in group.pieces], [stock], group.nest)


def test_in_an_inch_shop_a_sheet_is_laid_out_by_a_rule(job_with: JobWith) -> None:
    # an inch shop's rule reads 64ths; edge and bridge are kept in them, a sheet of 1/16 is said so
    sheet = {"thickness": "1/16", "width": 12, "length": 24, "material": "1018"}
    job = job_with("inch-lathe", **{"shop.sheet": [sheet]})
    for process in ("plasma", "saw"):
        for table in flat_tables(planned(job, process), job, process):
            for row in table.shown:
                assert not any("." in cell or "mm" in cell for cell in row), row
    (group,) = planned(job).groups
    (template,) = [one for one in group.nest.sheets[0].placed if one.copy == 1][:1]
    assert template.x_mm == pytest.approx(25.4 * 3 / 16)  # 5 mm, in 32nds


def test_what_is_cut_from_sheet_is_not_sawn_from_bar(job_with: JobWith) -> None:
    # 60 mm of flat 25x8 for the foot; with 8 mm plate in the shop it comes from that
    for sheet, sawn in (([], True), ([PLATE], False), ([PLATE | {"material": "S235"}], True)):
        job = job_with(**{"shop.sheet": sheet})
        made = attachment(size_up(job, "job.toml").sizes)
        assert ("foot" in {p.piece for p in pieces_of(made, job)}) is sawn
        first = next(op for op in route(made, job) if op.piece == "foot")
        assert ("plate" in first.text) is not sawn
        nested = {p.profile.name for g in planned(job).groups for p in g.pieces}
        assert ("sliding-head-foot" in nested) is not sawn


def test_a_template_has_the_pieces_outline_and_its_holes_as_marks(job_with: JobWith) -> None:
    job = job_with(**{"shop.sheet": [THIN]})
    pieces = {p.profile.name: p for p in flat_pieces(attachment(size_up(job, "j").sizes), job)}
    arm, template = pieces["sliding-head-arm"], pieces["sliding-head-arm-template"]
    assert not template.profile.holes
    # the template is the finished outline; the piece has a millimetre more at either end to face
    grown = {(x - 1.0 if x == 0 else x + 1.0 if x == 58 else x, y, b)
             for x, y, b in template.profile.outline.vertices}  # fmt: skip
    assert set(arm.profile.outline.vertices) == grown
    assert len(template.profile.marks) == len(arm.profile.marks) + len(arm.profile.holes)
    nested = {p.profile.name: p.profile for g in planned(job).groups for p in g.pieces}
    assert nested["sliding-head-arm-template"].thickness_mm == 3.0


def test_the_jig_marks_the_bores_where_the_block_has_them(job_with: JobWith) -> None:
    job = job_with(**NO_DIALS)
    s = size_up(job, "job.toml").sizes
    (jig,) = [p for p in flat_pieces(attachment(s), job) if "jig" in p.use]
    (rod, feed) = jig.profile.marks
    # from the block's front and from the leaf's outside, as the block's own sizes have them
    assert s.block_thickness_mm - rod[0] == pytest.approx(s.rod_from_front_mm)
    assert rod[1] == pytest.approx(s.leaf_thickness_mm + s.rod_diameter_mm / 2)
    assert feed[1] - rod[1] == pytest.approx(s.feed_offset_mm) and feed[0] == rod[0]


def test_the_jig_and_the_template_are_cut_where_a_step_uses_them(job_with: JobWith) -> None:
    """What is cut from thin sheet stands by its name in the text of a step, and in no other shop."""
    jigs = 0
    # a milling slide has dials, but beside a drill press it does not drill
    for others in (["drill press"], ["mill"], ["milling slide"], ["drill press", "milling slide"]):
        for sheet in ([PLATE, THIN], []):
            machines: dict[str, dict[str, str]] = {name: {} for name in (*others, "welder")}
            job = job_with(**{"shop.sheet": sheet, "shop.machines": machines})
            whole = attachment(size_up(job, "job.toml").sizes)
            uses = {one.use.split()[0] for one in flat_pieces(whole, job)} - {"part"}
            texts = [one.op.text for one in route(whole, job)]
            for word, said in (("template", "round the template"), ("jig", "drilling jig's")):
                stands = any(said in text for text in texts)
                assert stands is (word in uses and bool(sheet)), (others, sheet, word)
            jigs += "jig" in uses
    assert jigs == 4


def test_a_piece_is_listed_as_what_it_is_cut_from(job_with: JobWith) -> None:
    job = job_with(**{"shop.sheet": [PLATE, THIN]})
    rows = flat_tables(planned(job), job, "plasma")[0].shown or ()
    cut = [row for row in rows if row[-1].startswith("sheet")]
    assert len(cut) >= 2 and any("template" in row[0] for row in cut)
    for _, _, _, material, thick, source in cut:
        assert source == f"sheet {thick} mm {material}" or source == f"sheet {thick} {material}"


def test_a_sheet_too_small_is_told_with_one_that_would_do(job_with: JobWith) -> None:
    small = PLATE | {"width": 22, "length": 60}
    plan = planned(job_with(**{"shop.sheet": [small]}))
    (short,) = [f for f in plan.findings if f.code == "sheet-shortage"]
    assert "sliding-head-foot" in short.limit
    wide = max(float(v) for v in short.remedy.split(" mm")[0].split(" of ")[1].split(" x "))
    again = planned(job_with(**{"shop.sheet": [small, PLATE | {"width": wide, "length": wide}]}))
    assert not [f for f in again.findings if f.code == "sheet-shortage"]


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_the_templates_dxf_has_the_outlines_area(
    tmp_path: Path, job_with: JobWith, version: str
) -> None:
    job = job_with(**NO_DIALS)
    pieces = flat_pieces(attachment(size_up(job, "job.toml").sizes), job)
    jig = next(p.profile for p in pieces if "jig" in p.use)
    path = tmp_path / "jig.dxf"
    write_piece(path, jig, version)
    frame = pyogrio.raw.read(path)
    layers = list(frame[3][list(frame[0]["fields"]).index("Layer")])
    shapes = shapely.from_wkb(frame[2])
    (outline,) = [g for g, name in zip(shapes, layers, strict=True) if name == "CUT_OUTSIDE"]
    xs, ys = zip(*((x, y) for x, y, _ in jig.outline.vertices), strict=True)
    assert shapely.area(shapely.polygons(shapely.get_coordinates(outline))) == pytest.approx(
        max(xs) * max(ys)
    )
    assert layers.count("MARK") >= 2


def test_the_command_says_where_the_pieces_lie() -> None:
    job = str(ROOT / "examples" / "bench-lathe.toml")
    plasma = json.loads(call("flat", job, "--json").stdout)
    assert "flat_cuts" not in plasma["tables"]
    sawn = json.loads(call("flat", job, "--process", "saw", "--json").stdout)
    assert sawn["tables"]["flat_cuts"] and sawn["tables"]["flat_places"]
    bare = call("flat", str(ROOT / "examples" / "inch-lathe.toml"))
    assert bare.exit_code == 0 and "[[shop.sheet]]" in bare.stdout


def test_a_hole_becomes_a_mark_at_its_middle() -> None:
    from planner.geometry.curves import FlatProfile, Outline
    from planner.stock.flats import _template

    square = Outline(((0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (50.0, 40.0, 0.0), (0.0, 40.0, 0.0)))
    hole = Outline(((8.0, 15.0, 1.0), (20.0, 15.0, 1.0)))  # 12 across, about (14, 15)
    made = _template(FlatProfile("p", "P", "S235", 3.0, square, (hole,), ()))
    assert made.marks == ((14.0, 15.0),)


def test_the_saws_sheet_shows_the_centre_marks(tmp_path: Path, job_with: JobWith) -> None:
    from planner.nest.dxf import write_sheet

    (group,) = planned(job_with(**{"shop.sheet": [THIN]}, **NO_DIALS), "saw").groups
    marks = sum(len(placed.profile.marks) for placed in group.nest.sheets[0].placed)
    path = tmp_path / "saw.dxf"
    write_sheet(path, group.nest.sheets[0])
    frame = pyogrio.raw.read(path)
    layers = frame[3][list(frame[0]["fields"]).index("Layer")]
    shapes = shapely.from_wkb(frame[2])[layers == "MARK"]
    crosses = [g for g in shapes if shapely.get_num_coordinates(g) == 2]
    assert marks >= 3 and len(crosses) == 2 * marks  # a cross is two lines


@pytest.mark.parametrize(
    ("example", "left", "mm"),
    [("bench-lathe", "1 mm", 1.0), ("inch-lathe", "3/64 in", 25.4 * 3 / 64)],
)
def test_what_is_left_to_face_is_said_in_the_jobs_unit(
    job_with: JobWith, example: str, left: str, mm: float
) -> None:
    # a millimetre, or 3/64 in, on each sawn end (common practice)
    job = job_with(example)
    whole = attachment(size_up(job, "job.toml").sizes)
    (arm,) = (p.profile for p in flat_pieces(whole, job) if p.profile.name == "sliding-head-arm")
    assert arm.title.endswith(f", {left} left at each end to face")
    xs = [x for x, _, _ in arm.outline.vertices]
    assert max(xs) - min(xs) == pytest.approx(whole.sizes.arm_length_mm + 2 * mm)
