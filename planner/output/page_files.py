"""What pictures, scene and page bring to the package; in the entries of planner.output.topics.

The scene and the sheets lie in data/ by themselves, so that a page of other prices is put together from
those of the earlier package, without a solid.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.output.topic import DATA, PICTURES, File, Topic
from planner.words.short import ball_called

if TYPE_CHECKING:
    from planner.output.plan import Plan
    from planner.scene import Scene, Sweep, Work

PAGE, SCENE, SHEET_DATA = "page.html", f"{DATA}/scene.json", f"{DATA}/sheets.json"

SHOTS = (
    ("attachment-alone", "the attachment by itself"),
    ("attachment-apart", "the attachment taken apart"),
    ("attachment-sweep-start", "the attachment on the lathe, the tip at the nose"),
    ("attachment-sweep-top", "the attachment on the lathe, the tip on top of the ball"),
    ("attachment-sweep-end", "the attachment on the lathe, the tip at the end of its sweep"),
)
"""The PNG pictures, known without drawing one; planner.scene.pictures draws them."""


def stands(plan: Plan) -> list[tuple[str, Work, Sweep]]:
    """The balls that are shown on the lathe: those of the job, else the largest, each by its title."""
    from planner.scene import Sweep, Work
    from planner.sizing.post import post_plan

    post = post_plan(plan.attachment.sizes, plan.job).out_mm
    own = [one for one in plan.clearances if not one.ball.bound] or list(plan.clearances[:1])
    return [
        (
            f"{ball_called(one.ball.name)}, {plan.job.numbers.size(one.ball.diameter_mm)}",
            Work(
                one.ball.diameter_mm,
                one.ball.blank_mm,
                one.ball.stem_mm,
                one.jaws_mm,
                one.relief_mm,
            ),
            Sweep(one.start_deg, one.end_deg, post),
        )
        for one in own
    ]


def scenes(plan: Plan) -> tuple[Scene, list[tuple[str, Scene]]]:
    """The attachment alone, and on the lathe with each ball's work; loads the CAD kernel."""
    from planner.scene import lathe_scene, scene
    from planner.words.bought import bought_name

    numbers = plan.job.numbers.plain  # as the parts list has them
    alone = scene(plan.attachment, lambda item: bought_name(item, numbers))
    return alone, [
        (title, lathe_scene(alone, plan.attachment, plan.job, work, sweep))
        for title, work, sweep in stands(plan)
    ]


def pictures_made_of(plan: Plan) -> Any:
    """All that the scene and its pictures are made from."""
    job = plan.job
    return plan.attachment, stands(plan), job.lathe, job.tool_post, job.inch


def picture_files(_topic: Topic, plan: Plan) -> Iterator[File]:
    """The scene as data, and the PNG pictures, each made when it is written."""
    kept: list[tuple[Scene, list[tuple[str, Scene]]]] = []

    def made() -> tuple[Scene, list[tuple[str, Scene]]]:
        if not kept:
            kept.append(scenes(plan))
        return kept[0]

    def write_scene(path: Path) -> None:
        from planner.page import packed
        from planner.words.formats import format_name

        alone, on_lathe = made()
        record = {"format": format_name("scene"), **packed(alone, on_lathe)}
        path.write_text(_small(record), encoding="utf-8", newline="\n")

    def write_shot(path: Path, name: str) -> None:
        from planner.scene.pictures import shots

        alone, on_lathe = made()
        shot = next(one for one in shots(alone, on_lathe[0][1]) if one.name == name)
        path.write_bytes(shot.draw())

    yield File(SCENE, "the attachment and the lathe as meshes, for the page", write_scene)
    for name, what in SHOTS:
        yield File(f"{PICTURES}/{name}.png", what, partial(write_shot, name=name))


def sheet_data_file(plan: Plan) -> File:
    """The sheets as SVG without their font, for the page; drawn when it is written."""

    def write(path: Path) -> None:
        from planner.words.formats import format_name

        made = plan.sheets
        sheets = [
            {"name": name, "title": sheet.fields.title, "svg": picture.strip()}
            for (name, sheet), picture in zip(made.by_name.items(), made.svgs, strict=True)
        ]
        record = {"format": format_name("sheets"), "sheets": sheets}
        path.write_text(_small(record), encoding="utf-8", newline="\n")

    return File(SHEET_DATA, "every sheet of the drawings as SVG, for the page", write)


def page_files(_topic: Topic, plan: Plan) -> Iterator[File]:
    """The page, put together from the scene and the sheets that the package has by then."""
    from planner.drawing.lettering import FAMILY, FONT
    from planner.output.page_data import page_data, pictures, sketches
    from planner.page import Blocks, page

    def write(path: Path) -> None:
        found: list[dict[str, Any] | None] = []
        for name in (SCENE, SHEET_DATA):
            file = path.parent / name
            found.append(json.loads(file.read_text(encoding="utf-8")) if file.exists() else None)
        blocks = Blocks(page_data(plan), list(pictures(plan)), found[0], found[1], sketches(plan))
        text = page(blocks, FONT, FAMILY)
        path.write_text(text, encoding="utf-8", newline="\n")

    what = "all of it for a phone or a computer: one file to open in a browser, without a network"
    yield File(PAGE, what, write)


def _small(record: dict[str, Any]) -> str:
    text = json.dumps(record, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text + "\n"
