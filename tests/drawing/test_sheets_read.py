"""The finished sheets read by a reader that knows nothing of the program: what they say is the part.

From the DXF of a sheet alone tests/drawing/reader builds the solid that its printed numbers say; it is
held against the part's own solid (plain, as its sheet draws it: threads as cylinders of their major
diameter outside and of their tap drill inside, no engraving) by volume and face by face. Numbers that
make no shape (limits, threads, textures, welds) are held against the part's data.
"""

from __future__ import annotations

import json
import random
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import ezdxf
import pyogrio
import pytest
from drawing.reader.changed import numbers_of
from drawing.reader.facts import Fact, facts
from drawing.reader.ink import Unreadable
from drawing.reader.likeness import by_faces, likeness
from drawing.reader.reading import Reading, reading
from jobs import ROOT, planned
from said_of_parts import REQUIRED, SIGNS, expected

from planner.drawing.dxf import write_dxf
from planner.drawing.sheets import sheets
from planner.drawing.subjects import Subject
from planner.output.plan import Plan
from planner.solids import solid
from planner.solids.build import piece
from planner.words.findings import BadInput

JOBS = 20

SHARE = 1e-4
"""Of the volume that may be in one of two solids alone: 0.01 %. In inches a size with limits of whole
thousandths, a 64th with two either way, is printed to the thousandth and drawn as the 64th (ASME Y14.5:
as many decimals as its limits): there as much as its faces lie off, which WORST_MM bounds."""

WORST_MM = {False: 0.02, True: 0.03}
"""How far a face may lie off: what the last places of sizes add up to that no decimals say exactly,
0.005 mm each, or 0.0005 in; the sides of a flat 9/16 from the axis of a round of 1-1/4 lie off 2.07
times what the flat does, 0.0127 (y = sqrt(r^2 - z^2), dy/dz = z/y)."""

NEAR = {"limits": (0.0006, 0.0011, 0.0011), "line": (0.051,), "blank": (0.006,),
        "rim pitch": (0.006,), "leaves at least": (0.006,),
        "texture": (1e-4,), "general texture": (1e-4,), "true": (0.0011,),
        "weld": (0.006, 0.5001)}  # fmt: skip
NEAR_INCH = {**NEAR, "limits": (0.0128, 0.0128, 0.0128), "line": (0.013,), "blank": (0.013,),
             "rim pitch": (0.013,), "rim line": (0.013,), "leaves at least": (0.013,),
             "true": (0.0026,), "weld": (0.013, 0.7938)}  # fmt: skip
"""How near a number in print is to the part's, mm: half its last place, and SIZE_MM where it is not
here; limits and how true a surface lies are rounded inward, a weld's run to 1 mm or 1/16 in, and half
of that is as much as it may be off."""

SIZE_MM = {False: 0.0056, True: 0.0128}
"""How near a size is: half its last place, of one that no decimals say exactly."""

WIDER_MM = 1.5e-4
"""What a limit may stand outside the part's own, no more: a twentieth of its last place."""


GDAL_KINDS = {
    "AcDbText": "TEXT",
    "AcDbLine": "LINE",
    "AcDbPolyline": "LWPOLYLINE",
    "AcDbTrace": "SOLID",
    "AcDbArc": "ARC",
    "AcDbCircle": "CIRCLE",
}
"""An entity by the class that its own part of the file names (DXF reference)."""


class Sheet(NamedTuple):
    """A finished sheet, its subject, and what was read from its file."""

    subject: Subject
    path: Path
    read: Reading

    @property
    def true(self) -> Any:
        """The solid of the part, the piece or the weldment."""
        member = self.subject.member
        return piece(member) if member else solid(self.subject.part, engraved=False)


def read_all(plan: Plan, folder: Path) -> list[Sheet]:
    """Every sheet of a job as it is drawn at home, written to its DXF and read from there."""
    found: list[Sheet] = []
    paper, projection = ("Letter", "third") if plan.job.inch else ("A4", "first")
    for number, (subject, _, sheet) in enumerate(
        sheets(plan.attachment, plan.job.numbers, plan.job.name, paper, projection), 1
    ):
        path = folder / f"{number:02d}-{subject.name}.dxf"
        write_dxf(path, sheet)
        found.append(Sheet(subject, path, reading(path, [one.read for one in found])))
    return found


@cache
def _bench(folder: Path) -> list[Sheet]:
    return read_all(planned(ROOT / "examples" / "bench-lathe.toml"), folder)


@pytest.fixture(scope="module")
def bench_sheets(tmp_path_factory: pytest.TempPathFactory) -> list[Sheet]:
    """The bench lathe's sheets, read once."""
    return _bench(tmp_path_factory.mktemp("sheets"))


def strange(sheet: Sheet, read: Reading, inch: bool) -> list[str]:
    """What a reading says that the part does not, and what the part must say and it does not."""
    near = NEAR_INCH if inch else NEAR
    own = list(expected(sheet.subject, inch))
    there = facts(read.sheet)

    def same(one: Fact, other: Any) -> bool:
        slack = near.get(one.kind, (SIZE_MM[inch],))
        return (
            (
                one[:2] == other[:2]
                or one[:2] == ("limits", other[1])
                and other[0] == "general limits"
            )
            # rounded down: a frame asks for no less than the part's data do
            and (one.kind != "true" or one.numbers[0] < other[2][0] + 1e-9)
            and len(one.numbers) == len(other[2])
            and (one.kind != "limits" or _within(one.numbers, other[2]))
            and all(
                abs(a - b) <= slack[min(k, len(slack) - 1)]
                for k, (a, b) in enumerate(zip(one.numbers, other[2], strict=True))
            )
        )

    odd = [f"{one} is nothing of the part" for one in there if not any(same(one, o) for o in own)]
    for one in {fact for fact in there if fact.kind in SIGNS}:
        if there.count(one) != sum(same(one, o) for o in own):
            odd.append(f"{one} is said {there.count(one)} times")
    odd += [
        f"{one} is not said"
        for one in own
        if one[0] in REQUIRED and not any(same(other, one) for other in there)
    ]
    return odd


def _within(read: tuple[float, ...], own: tuple[float, ...]) -> bool:
    """Whether limits as printed allow no more than the part's own: size, upper and lower deviation."""
    return (
        read[0] + read[1] <= own[0] + own[1] + WIDER_MM
        and read[0] + read[2] >= own[0] + own[2] - WIDER_MM
    )


def off(sheet: Sheet, inch: bool) -> list[str]:
    """Where a sheet as read is not the part."""
    like = likeness(sheet.read.solid, sheet.true)
    wrong = strange(sheet, sheet.read, inch)
    most = SHARE
    if inch:
        most = max(most, like.worst_mm * sheet.true.Area() / sheet.true.Volume())
    if like.share >= most or like.worst_mm > WORST_MM[inch]:
        wrong.append(f"{like}")
    return [f"{sheet.subject.name}: {one}" for one in wrong]


def unnoticed(sheet: Sheet, before: list[Reading], inch: bool) -> Iterator[tuple[str, bool]]:
    """Each number of a sheet changed, and whether what is read then differs from the part."""
    opened = ezdxf.readfile(sheet.path)
    for entity, text, changed, what in list(numbers_of(opened)):
        entity.dxf.text = changed
        try:
            again = reading(opened, before, sheet.read.lie)
            seen = bool(strange(sheet, again, inch))
            seen = seen or by_faces(again.solid, sheet.true)[0] > WORST_MM[inch]
        except Unreadable:
            seen = True
        entity.dxf.text = text
        yield what, seen


def test_what_the_sheets_say_is_the_part(bench_sheets: list[Sheet]) -> None:
    assert len(bench_sheets) == 20
    assert [line for sheet in bench_sheets for line in off(sheet, inch=False)] == []


SOME = ("housing-tube", "sliding-head-arm", "feed-screw", "knob", "tool-bit", "index-ring")


def test_every_number_of_a_sheet_counts(bench_sheets: list[Sheet]) -> None:
    for sheet in bench_sheets:
        if sheet.subject.name in SOME:
            found = list(unnoticed(sheet, [s.read for s in bench_sheets], inch=False))
            assert len(found) > 4
            assert [what for what, seen in found if not seen] == [], sheet.subject.name


def test_gdal_reads_as_many_of_each_kind(bench_sheets: list[Sheet]) -> None:
    for sheet in bench_sheets:
        opened = ezdxf.readfile(sheet.path)
        there = Counter(e.dxftype() for e in opened.modelspace() if e.dxftype() != "DIMENSION")
        for dimension in opened.modelspace().query("DIMENSION"):  # GDAL reads what its block draws
            there += Counter(e.dxftype() for e in opened.blocks.get(dimension.dxf.geometry))
        meta, _, _, columns = pyogrio.raw.read(sheet.path)
        named = columns[list(meta["fields"]).index("SubClasses")]
        read = Counter(GDAL_KINDS[str(one).rpartition(":")[2]] for one in named)
        assert read == there, sheet.subject.name


@pytest.mark.slow
@pytest.mark.parametrize("example", ["engine-lathe", "inch-lathe"])
def test_the_other_examples_are_read_alike(example: str, tmp_path: Path) -> None:
    plan = planned(ROOT / "examples" / f"{example}.toml")
    found = read_all(plan, tmp_path)
    assert len(found) == 20
    assert [line for one in found for line in off(one, plan.job.inch)] == []


@pytest.mark.slow
@pytest.mark.parametrize("example", ["bench-lathe", "engine-lathe", "inch-lathe"])
def test_every_number_of_every_sheet_counts(example: str, tmp_path: Path) -> None:
    plan = planned(ROOT / "examples" / f"{example}.toml")
    found = read_all(plan, tmp_path)
    changes = [
        (one.subject.name, what, seen)
        for one in found
        for what, seen in unnoticed(one, [s.read for s in found], plan.job.inch)
    ]
    assert len(changes) > 250
    assert [(name, what) for name, what, seen in changes if not seen] == []


@pytest.mark.slow
def test_jobs_of_all_sizes_are_read_alike(tmp_path: Path) -> None:
    """Twenty of the tracked jobs, by seed."""
    jobs = json.loads((ROOT / "tests" / "benchmarks" / "accepted-jobs.json").read_text())["jobs"]
    names = sorted(jobs)
    random.Random(29).shuffle(names)
    done, wrong = 0, []
    for name in names:
        path = tmp_path / f"{name}.toml"
        path.write_text("\n".join(jobs[name]) + "\n", encoding="utf-8")
        try:
            plan = Plan(path)
            assert plan.attachment
        except BadInput:
            continue
        folder = tmp_path / name
        folder.mkdir()
        for one in read_all(plan, folder):
            wrong += [f"{name}: {line}" for line in off(one, plan.job.inch)]
        done += 1
        if done == JOBS:
            break
    assert done == JOBS
    assert wrong == []
