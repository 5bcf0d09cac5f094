"""What the finished sheets of some jobs show, in short, as a tracked file: any change is noticed.

    python tests/drawn_digest.py        # makes tests/data/drawn.json anew, prints what changed: look

It says nothing of whether a sheet is right, which other tests hold against things outside. Of each it
keeps paper, scale, data fields, kinds of items, the length and the place of all strokes by style, and
each line of words where it stands, to a tenth of a millimetre. Imported by
tests/drawing/test_drawn_digest.py.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from functools import partial
from math import cos, dist, radians, sin
from pathlib import Path
from typing import Any, NamedTuple

from msgspec.structs import fields

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

import setup_scenes
from jobs import EXAMPLES, ROOT, planned
from sheets_made import Projection, by_unit, made_sheets, made_whole

from planner.drawing.apart import drawn
from planner.drawing.model import Arc, Circle, Line, Polyline, Sheet, Stroke, Text
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import subjects

TRACKED = Path(__file__).with_name("data") / "drawn.json"
KEPT = Path(__file__).parent / "benchmarks" / "accepted-jobs.json"
NEAR_MM = 0.0501
"""A stored place is rounded to 0.1."""


class Job(NamedTuple):
    """A job whose sheets are kept: an example's name, or that of a job that was taken once; the paper
    and projection of its parts' sheets, and of those of the whole; only: one sheet alone."""

    name: str
    parts: tuple[str, Projection] = ("A4", "first")
    whole: tuple[str, Projection] = ("A4", "first")
    only: str = ""


JOBS = (
    Job("bench-lathe"),
    Job("engine-lathe"),
    Job("inch-lathe", whole=("Letter", "third")),
    Job("job-511", ("Letter", "third"), ("A4", "third")),  # a cheek; inch standards, small
    Job(
        "job-434", ("Letter", "first"), ("Letter", "first")
    ),  # large; tables that find no place at first
    Job("job-319", only="housing-shank"),  # a relief that is joined by its own width
)
"""The examples as other tests draw them, and three whose sheets go other ways."""


def path_of(name: str, folder: Path) -> Path:
    """The file of a job; one that was taken once is written into a folder first."""
    example = ROOT / "examples" / f"{name}.toml"
    if example.exists():
        return example
    path = folder / f"{name}.toml"
    if not path.exists():
        lines = json.loads(KEPT.read_text(encoding="utf-8"))["jobs"][name]
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def _pieces(stroke: Stroke) -> Iterator[tuple[float, float, float]]:
    """Length and middle of each stretch."""
    match stroke:
        case Line(start, end):
            yield dist(start, end), (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        case Polyline(points):
            ring = [*points, points[0]] if stroke.closed or stroke.filled else points
            for one, other in zip(ring, ring[1:], strict=False):
                yield dist(one, other), (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
        case Arc((x, y), radius, start_deg, end_deg):
            half = radians((start_deg + end_deg) / 2)
            length = radius * radians(end_deg - start_deg)
            yield length, x + radius * cos(half), y + radius * sin(half)
        case Circle((x, y), radius):
            yield radius, x, y


def _written(text: Text) -> list[Any]:
    """Where words stand, the words, and how."""
    how = (text.height, text.anchor, text.rotation_deg % 360)
    more = [] if how == (3.5, "left", 0.0) else [f"{how[0]:g} {how[1]} {how[2]:.4g}"]
    return [*text.at, text.words, *more]


def digest(sheet: Sheet) -> dict[str, Any]:
    """A sheet in short, not rounded yet. strokes: by style how many, their length, and their length by
    the place of their middles, level and upright, in mm2; lines seen and hidden without their number,
    since the kernel may part one line in two."""
    items, frame = [drawn(one) for one in sheet.items], [drawn(one) for one in sheet.frame]
    sums: dict[str, list[float]] = {}
    for piece in (*items, *frame):
        for stroke in piece.strokes:
            key = stroke.style + " filled" * bool(getattr(stroke, "filled", False))
            total = sums.setdefault(key, [0, 0.0, 0.0, 0.0])
            total[0] += stroke.style not in ("visible", "hidden")
            for length, x, y in _pieces(stroke):
                total[1:] = [
                    a + b for a, b in zip(total[1:], (length, length * x, length * y), strict=True)
                ]
    data = {one.name: getattr(sheet.fields, one.name) for one in fields(sheet.fields)}
    data["revision_index"] = len(sheet.fields.revision_index)  # another with every size
    kinds = Counter(type(one).__name__ for one in sheet.items)
    texts = [text for piece in items for text in piece.texts]
    if sheet.fields.sheet_number == 1:
        texts += [text for piece in frame for text in piece.texts]
    return {
        "sheet": [sheet.paper, sheet.width, sheet.height, sheet.scale, sheet.projection],
        "fields": {k: list(v) if isinstance(v, tuple) else v for k, v in data.items() if v},
        "items": {k: n for k, n in kinds.items() if k not in ("Line", "Polyline", "Arc", "Circle")},
        "strokes": sums,
        "texts": [_written(text) for text in texts],
    }


def drawn_of(job: Job, folder: Path) -> dict[str, Sheet]:
    """Every sheet of a job by the job's name and its own. folder: for job files."""
    path = path_of(job.name, folder)
    plan = planned(path)
    if job.only:
        every = subjects(plan.attachment)
        number, one = next((n, s) for n, s in enumerate(every, 1) if s.name == job.only)
        sheet = drawn_sheet(one, plan.job.numbers, (number, len(every)), job.name, *job.parts)
        return {f"{job.name} {job.only}": sheet}
    found = {f"{job.name} {k}": one for k, one in made_whole(path, *job.whole).items()}
    for subject, _, sheet in made_sheets(plan, *job.parts):
        found[f"{job.name} {subject.name}"] = sheet
    return found


def drawn_else(folder: Path) -> dict[str, Sheet]:
    """The set-ups, and the examples' arrangements with the pivot upright."""
    found = {"set-ups": setup_scenes.sheet(), "other set-ups": setup_scenes.others()}
    for path in EXAMPLES:
        upright = made_whole(path, *by_unit(path), "upright")
        found[f"upright {path.stem}"] = upright["general-arrangement"]
    return found


DRAWN = {**{job.name: partial(drawn_of, job) for job in JOBS}, "else": drawn_else}
"""What draws the sheets of each job, and all others, given a folder for job files."""


def near(one: Any, other: Any, key: str = "") -> bool:
    """Whether a fresh value is a stored one but for its rounding, and the last places of sums."""
    if isinstance(one, list | tuple):
        return len(one) == len(other) and all(
            near(*two, key) for two in zip(one, other, strict=True)
        )
    if isinstance(one, float) or isinstance(other, float):
        part = {"": 0.0, "visible": 1e-5, "hidden": 1e-5}.get(key, 1e-7)
        return abs(one - other) <= NEAR_MM + part * abs(other)
    return bool(one == other)


def differences(was: dict[str, Any], now: dict[str, Any]) -> Iterator[str]:
    """What is drawn otherwise, sheet by sheet. was: as stored; now: digests."""
    for name in {**was, **now}:
        one, other = was.get(name), now.get(name)
        if one is None or other is None:
            yield f"{name}: {'is new' if one is None else 'is gone'}"
            continue
        for key in ("sheet", "fields", "items"):
            if not near(other[key], one[key]):
                yield f"{name}: {key} {one[key]} now {other[key]}"
        for style in {**one["strokes"], **other["strokes"]}:
            sums = [of["strokes"].get(style, []) for of in (one, other)]
            if not near(sums[1], sums[0], style):
                yield f"{name}: {style} lines {sums[0]} now {sums[1]}"
        if near(other["texts"], one["texts"]):
            continue
        gone = [text for text in one["texts"] if not any(near(t, text) for t in other["texts"])]
        new = [text for text in other["texts"] if not any(near(text, t) for t in one["texts"])]
        yield from (f"{name}: - {text}" for text in gone)
        yield from (f"{name}: + {text}" for text in new)
        if not gone and not new and len(one["texts"]) != len(other["texts"]):
            yield f"{name}: {len(one['texts'])} lines of words now {len(other['texts'])}"


def rounded(value: Any) -> Any:
    """To a tenth, down through lists and tables."""
    if isinstance(value, dict):
        return {key: rounded(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [rounded(one) for one in value]
    return round(value, 1) + 0.0 if isinstance(value, float) else value


def tracked() -> dict[str, Any]:
    """What was drawn when the file was last made."""
    found: dict[str, Any] = json.loads(TRACKED.read_text(encoding="utf-8"))
    return found


def _dumped(value: dict[str, Any]) -> str:
    """A line for every line of words, and for each other thing."""

    def flat(one: Any) -> str:
        return json.dumps(one, ensure_ascii=False, separators=(",", ":"))

    lines = []
    for name, sheet in value.items():
        rows = [f'"{key}":{flat(sheet[key])}' for key in ("sheet", "fields", "items", "strokes")]
        rows.append('"texts":[\n' + ",\n".join(flat(text) for text in sheet["texts"]) + "]")
        lines.append(f"{flat(name)}:{{" + ",\n".join(rows) + "}")
    return "{" + ",\n".join(lines) + "}\n"


def main() -> None:
    """Write the file and print how it differs."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        found = [draw(Path(folder)) for draw in DRAWN.values()]
        now = {name: digest(sheet) for sheets in found for name, sheet in sheets.items()}
    for line in differences(tracked() if TRACKED.exists() else {}, now):
        print(line)
    TRACKED.write_text(_dumped(rounded(now)), encoding="utf-8")


if __name__ == "__main__":
    main()
