"""What the page says of a job: tables of the topics, findings, steps, balls, pictures, as plain data.

Imported by planner.output.page_files. Loads no kernel: the scene and the sheets come by themselves.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from parts.part import Datum, Joined, members
from parts.standard.fits import Limits
from planner.book.model import FILL
from planner.geometry.ball import USUAL_STEM
from planner.measuring.correct import OVER_INCH_MM, OVER_MM
from planner.measuring.readings import FIRST_BALL
from planner.output.page_steps import ASSEMBLY, steps
from planner.page import strings
from planner.words.elsewhere import american
from planner.words.short import ball_called
from planner.words.tables import Table

if TYPE_CHECKING:
    from planner.output.plan import Plan
    from planner.turning.model import SocketPlan
    from planner.words.numbers import Numbers

SHOWN = ("sizes", "check", "cutlist", "flat", "dial")
"""The topics whose tables the page has as they are; route and turning it has by steps and balls."""

LACKING = "missing"
BESIDE = ("aids", "assumed", LACKING)
"""The route's tables beside its steps; that of what the shop has not."""

TICKED = ("pieces", "cuts", "buying", "bought", "flat_pieces", "setup", "roughing", "passes")
"""Tables whose rows are done one by one: a box stands before each."""

AT_THE_DIAL = ("passes", "second_passes", "socket_passes")
"""Tables of which a row is read at the dial: what is read stands in large, the others are folded."""

READ = {"named": "pass", "read": ["dial at", "turns to go"]}
"""Of those tables the head that a row is called by, and the heads that are read."""

SET = {"pieces": "saw to"}
"""By table, the head that a machine's stop is set by: it stands out from the others."""

KNOB = "The attachment's own knob, the first ball"
"""What is turned on the stub when all else is made, as the page calls it."""

SHORTAGE = "shortage"
"""The finding of a section that no bar is listed for: told once for all of them."""

BOX = "[ ]"
"""A box as the texts have it, to be ticked with a pencil: here a row has one that is tapped. Nor has it
FILL, the line to write on: what is measured is typed."""

CAUTION = (
    "Eye protection; long hair, sleeves and gloves away from anything that turns; chuck key out before"
    " starting; sweep the head by hand, unpowered, before the first cut. Welding, electrical work and"
    " lifting by people trained for it, to local rules. Put the telephone away before the spindle runs."
)


def page_data(plan: Plan) -> dict[str, Any]:
    """All of it but pictures, scene and sheets."""
    from planner.output.part_sheets import sheet_names
    from planner.output.topics import TOPICS

    named = {one.name: one for one in TOPICS}
    route = named["route"]
    path = Path(plan.file)
    topics = [
        {
            "name": name,
            "title": named[name].answer[0].upper() + named[name].answer[1:],
            "tables": [
                in_words(table(one))
                for one in named[name].tables(plan, named[name].asked(named[name].packaged))
            ],
        }
        for name in SHOWN
    ]
    record = route.record(plan, route.asked({}))
    todo = list(steps(record, plan.attachment, plan.made.attachment, plan.job))
    turned = list(balls(plan))
    beside = [
        table(lacking(one, plan) if one.name == LACKING else one)
        for one in route.tables(plan, route.asked({}))
        if one.name in BESIDE
    ]
    said = json.dumps([topics, todo, turned, beside, strings()], ensure_ascii=False)
    return {
        "job": {
            "name": plan.job.name,
            "file": path.name,
            "inch": plan.job.inch,
            "quantity": plan.job.attachment.quantity,
            "sha256": sha256(path.read_bytes()).hexdigest(),
        },
        "caution": CAUTION,
        "names": american(plan.job.inch, said),
        "several": several(plan.job.attachment.quantity),
        "findings": findings(plan),
        "topics": topics,
        "route": beside,
        "frames": frames(plan),
        "parts": [*(part.title for part in plan.attachment.parts), ASSEMBLY],
        "sheets": sheet_names(plan),
        "steps": [one | {"sheet": sheet_of(one, plan), "many": many_of(one, plan)} for one in todo],
        "balls": turned,
        "rig": rig(plan),
    }


def lacking(one: Table, plan: Plan) -> Table:
    """The table of what the shop has not, with the tools that a step wants bought: the route's own has
    machines and means of holding alone, and said "none" beside a step that told of one."""
    from planner.output.sheets.outfit import lacked

    return replace(one, rows=tuple(row[:3] for row in lacked(plan.route, plan.outfit)))


def frames(plan: Plan) -> dict[str, list[str]]:
    """By part, or part and piece, the datums and axes that its steps are told in, as in the book."""
    from planner.making.pieced import own_axes

    found = {}
    for part in plan.attachment.parts:
        found[part.name] = [*lettered(part.datums), f"Axes: {part.axes}."]
        for piece in members(part) if isinstance(part.blank, Joined) else ():
            own = f"Axes: {own_axes(piece, part)}; the {part.title.lower()}'s {part.axes}."
            found[f"{part.name}|{piece.name}"] = [*lettered(piece.datums), own]
    return found


def lettered(datums: Mapping[str, Datum]) -> list[str]:
    """What the letters stand for, in one sentence; none where there are none."""
    said = "; ".join(f"{letter} = {datum}" for letter, datum in datums.items())
    return [f"Datums: {said}."] if said else []


def several(many: int) -> list[str]:
    """What is minded where many attachments are made, as the book has it; nothing where it is one."""
    from planner.output.sheets.outfit import FITTED

    if many == 1:
        return []
    return [
        f"{many} of each are made: every set-up is done for all of them, its stops set once. At a step"
        " each has its box and its sizes, by the number stamped on it; the step is done when all are"
        " through.",
        FITTED,
    ]


def many_of(step: Mapping[str, Any], plan: Plan) -> int:
    """How many a step is done for: of the part it is of, or of the whole."""
    own = [one.quantity for one in plan.attachment.parts if one.name == step["part"]]
    return plan.job.attachment.quantity * (own[0] if own and step["title"] != ASSEMBLY else 1)


def sheet_of(step: Mapping[str, Any], plan: Plan) -> str:
    """The name of the sheet that a step is made by: its piece's, its part's, or of putting together the
    exploded view, as in the book; "" where there is none."""
    from planner.output.part_sheets import sheet_names
    from planner.output.whole_sheets import EXPLODED

    names = list(sheet_names(plan))
    if step["title"] == ASSEMBLY:
        return next(one for one in names if one.endswith(EXPLODED))
    own = {name.partition("-")[2]: name for name in names}
    return own.get(f"{step['part']}-{step['piece']}", own.get(step["part"], ""))


def findings(plan: Plan) -> dict[str, Any]:
    """What is to be decided and what is good to know, as the book's chapter of them has it."""
    from planner.output.topics import build_findings

    found = build_findings(plan)
    notes = [one for one in found if one.severity == "note"]
    return {
        "decide": [
            {"severity": one.severity, "text": one.told} for one in found if one not in notes
        ],
        "know": [one.told for one in notes if one.code != SHORTAGE],
        "unlisted": sum(one.code == SHORTAGE for one in notes),
    }


def table(one: Table) -> dict[str, Any]:
    """A table as it is printed; cautions stand by themselves, "" where a row has none."""
    shown = one.rows if one.shown is None else one.shown
    heads = one.heads or [column.heading for column in one.columns]
    rows = [["" if cell is None else str(cell) for cell in row] for row in shown]
    cautions: list[str] = []
    if {"how", "caution"} <= {column.key for column in one.columns}:
        records = list(one.records())
        cautions = [str(record["caution"] or "") for record in records]
        how = list(heads).index("how")
        for row, record in zip(rows, records, strict=True):
            row[how] = str(record["how"])
    kept = [
        k
        for k in range(len(heads))
        if not rows or {row[k].replace(BOX, "").strip() for row in rows} - {FILL, ""}
    ]
    return {
        **({"cautions": cautions} if any(cautions) else {}),
        **({"large": READ} if one.name in AT_THE_DIAL else {}),
        **({"set": SET[one.name]} if one.name in SET else {}),
        "name": one.name,
        "title": one.title,
        "heads": [heads[k] for k in kept],
        "rows": [[row[k] for k in kept] for row in rows],
        "notes": list(one.notes),
        "ticked": one.name in TICKED,
    }


def in_words(one: dict[str, Any]) -> dict[str, Any]:
    """The table of sizes with what each is called in the shop, not in a job file; others as is."""
    if one["name"] != "sizes":
        return one
    words = strings()["sizes"]
    named = [[words.get(row[0], row[0].replace("_", " ")), *row[1:]] for row in one["rows"]]
    return one | {"rows": named}


def rig(plan: Plan) -> dict[str, Any]:
    """What moves the tip, as planner.measuring.readings has it of a job."""
    job = plan.job
    return {
        "tip_mm_per_division": job.attachment.screw_pitch / job.attachment.dial_divisions,
        "slide_mm_per_division": job.lathe.cross_slide_division,
        "other_side": False,
        "most_mm": max(job.turning.allowance, job.attachment.screw_pitch),
        "over_mm": OVER_INCH_MM if job.inch else OVER_MM,
    }


def balls(plan: Plan) -> Iterator[dict[str, Any]]:
    """Each ball that may be measured: its own figures, its sheets, and the angles to measure at; then
    hollows that this head reaches, which are not measured across, and the attachment's own knob.

    intro: what is said before its sheets, "" for most; called: its title within a sentence.
    """
    from planner.output.book.balls import knob_sheets
    from planner.output.sheets.turn import ball_sheets

    job = plan.job
    caps = {one.ball.name: cap(one, job.numbers) for one in plan.turned.sockets}
    angles = {one.ball.name: list(one.measure_deg) for one in plan.turned.balls}
    if not job.ball:
        most = job.attachment.max_ball_diameter
        found: list[tuple[str, float, float, float, float | None, str, int]] = [
            ("largest", most, USUAL_STEM * most, most, None, "ball", 1)
        ]
    else:
        found = [
            (
                ball.name or f"ball {number}",
                ball.diameter,
                USUAL_STEM * ball.diameter if ball.stem_diameter is None else ball.stem_diameter,
                ball.blank_diameter or ball.diameter,
                ball.tolerance,
                ball.shape,
                ball.quantity,
            )
            for number, ball in enumerate(job.ball, 1)
        ]
    of_ball = dict(ball_sheets(plan.turned, job))
    for name, wanted, stem, blank, tolerance, shape, quantity in found:
        sheets, hollow = [table(one) for one in of_ball.get(name, [])], shape == "socket"
        if hollow and not sheets:
            continue
        called = f"{name}, a hollow" if hollow else ball_called(name)
        yield {
            "name": name,
            "title": f"{called}, {job.numbers.size(wanted)}",
            "called": f"the {called}, {job.numbers.size(wanted)}",
            "across": not hollow,
            "intro": "",
            "wanted_mm": wanted,
            "stem_mm": stem,
            "blank_mm": blank,
            "tolerance_mm": tolerance,
            "half": shape == "hemisphere",
            "angles_deg": angles.get(name, [90.0]),
            "many": quantity,
            "tables": sheets,
            **({"cap": caps[name]} if hollow else {}),
        }
    knob, sheeted = plan.own_knob, knob_sheets(plan)
    if plan.knob is not None and knob is not None and sheeted is not None:
        words, tables = sheeted
        yield {
            "name": FIRST_BALL,  # no ball of the job has its sheets
            "title": f"{KNOB}, {job.numbers.size(knob.diameter_mm)}",
            "called": f"{KNOB[:1].lower()}{KNOB[1:]}, {job.numbers.size(knob.diameter_mm)}",
            "across": True,
            "intro": words,
            "wanted_mm": knob.diameter_mm,
            "stem_mm": knob.stem_mm,
            "blank_mm": knob.blank_mm,
            "tolerance_mm": None,
            "half": False,
            "angles_deg": list(plan.knob.measure_deg),
            "many": job.attachment.quantity,
            "tables": [table(one) for one in tables],
        }


def cap(plan: SocketPlan, numbers: Numbers) -> dict[str, Any]:
    """What a hollow's radius, worked out of its mouth and depth, is judged by: a row as of a size; of
    one without a tolerance only what it is to be."""
    tolerance, radius = plan.ball.spec.tolerance, plan.shape.radius_mm
    off = (tolerance or 0.0) / 2  # the job's is on the diameter
    limits = Limits(radius, off, -off, "")
    ends = [limits.min_mm, limits.max_mm]
    what = numbers.between(limits) if tolerance else numbers.radius(radius)
    row = {"what": what, "low_mm": ends[0], "high_mm": ends[1], "reads_mm": ends}
    return row | {"judged": tolerance is not None}


def pictures(plan: Plan) -> Iterator[dict[str, str]]:
    """The pictures of the check, the sawing and the turning."""
    from planner.output.topics import TOPICS

    for one in TOPICS:
        if one.name not in ("check", "cutlist", "turn"):
            continue
        for file in one.files(one, plan):
            if file.path.endswith(".svg") and isinstance(file.content, str):
                what = file.what[0].upper() + file.what[1:]
                yield {"title": what, "svg": file.content[file.content.index("<svg") :]}


def sketches(plan: Plan) -> dict[str, str]:
    """How the work is held in each set-up of the route, as the book shows it: SVG by its number; none
    of putting together, as there."""
    from planner.book.sketch import sketched
    from planner.output.book.pages import Pages

    of, found = Pages(plan), {}
    for one in of.route:
        if one.hold is None or one.of_the_whole:
            continue
        name = f"Set-up {one.number}, how it is held"
        picture = sketched(one.hold, one.cuts, of.shop, name, of.bodies(one), one.before)
        if picture is not None:
            found[str(one.number)] = picture.svg[picture.svg.index("<svg") :].strip()
    return found
