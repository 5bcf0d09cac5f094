"""The build package: every file of a job in one folder, written whole or not at all.

Files are made in a folder beside the target and moved into place at the end. A folder that holds
anything but an earlier, untouched package is never replaced.
"""

from __future__ import annotations

import json
import os
import shutil
import tempfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

from parts.part import Stock
from planner import __version__
from planner.output.plan import TOPICS, Plan
from planner.words.findings import BadInput, refused
from planner.words.tables import as_csv, as_text

MANIFEST = "package.json"


def build(plan: Plan, target: Path, tell: Callable[[str], None]) -> dict[str, Any]:
    """Write the package of a job into a folder and return its manifest.

    plan: the job; target: the folder, made or, when it holds an untouched earlier package,
    replaced; tell: is given a line of progress now and then. Raises BadInput when the folder cannot
    be written or holds files that are not the package's own.
    """
    _check_target(target)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        staging = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
    except OSError as error:
        raise BadInput([_unwritable(target, error)]) from None
    try:
        staging.chmod(0o755)
        made = staging / target.name
        made.mkdir()
        described = _write_tables(plan, made, tell)
        described |= _write_pictures(plan, made, tell)
        described |= _write_drawings(plan, made, tell)
        described |= _write_flats(plan, made, tell)
        described |= _write_solids(plan, made, tell)
        manifest = _manifest(plan, made, described)
        _write(made / MANIFEST, _json(manifest))
        _move_into_place(made, target, staging)
    except OSError as error:
        raise BadInput([_unwritable(target, error)]) from None
    finally:
        shutil.rmtree(staging, ignore_errors=True)
    return manifest


def _unwritable(target: Path, error: OSError) -> Any:
    reason = error.strerror or str(error)
    return refused(str(target), "", "", f"cannot be written ({reason})", "Choose one with --out")


def _check_target(target: Path) -> None:
    if not target.exists():
        return
    if not target.is_dir():
        raise BadInput([refused(str(target), "", "", "a file of that name is there", "Use --out")])
    if not any(target.iterdir()):
        return
    foreign = _not_ours(target)
    if foreign:
        listed = ", ".join(foreign[:5]) + (" ..." if len(foreign) > 5 else "")
        raise BadInput(
            [
                refused(
                    str(target),
                    "",
                    "",
                    f"holds files that are not an untouched earlier package: {listed}",
                    "Move them away, or choose another folder with --out",
                )
            ]
        )


def _not_ours(target: Path) -> list[str]:
    """The files in a folder that its own manifest does not list with their present hash."""
    present = sorted(p.relative_to(target).as_posix() for p in target.rglob("*") if not p.is_dir())
    try:
        manifest = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
        listed = {entry["path"]: entry["sha256"] for entry in manifest["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return present
    return [
        path for path in present if path != MANIFEST and listed.get(path) != _hash(target / path)
    ]


def _hash(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def _json(record: Any) -> str:
    return json.dumps(record, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _write_tables(plan: Plan, folder: Path, tell: Callable[[str], None]) -> dict[str, str]:
    described = {}
    for topic in TOPICS:
        tell(f"{topic}: tables")
        _write(folder / f"{topic}.txt", plan.text(topic, explain=True))
        described[f"{topic}.txt"] = f"{topic}, to read and print"
        record = plan.record(topic)
        for finding in record["findings"]:
            finding["file"] = Path(plan.file).name
        _write(folder / f"{topic}.json", _json(record))
        described[f"{topic}.json"] = f"{topic}, every table, for machines"
        for table in plan.tables(topic):
            name = f"{topic}.csv" if table.name == topic else f"{topic}-{table.name}.csv"
            _write(folder / name, as_csv(table))
            described[name] = table.title
    return described


def _write_pictures(plan: Plan, folder: Path, tell: Callable[[str], None]) -> dict[str, str]:
    from parts.housing import BORE_HEIGHT_MM
    from planner.checking.budget import CROSS_SLIDE_MM
    from planner.output.pictures.check import shares_svg, sweep_svg

    tell("check: pictures")
    described = {}
    for number, found in enumerate(plan.clearances, 1):
        name = f"check-sweep-{number}.svg"
        _write(folder / name, sweep_svg(plan.attachment, plan.job, found))
        described[name] = f"the sweep of the {found.ball.name} ball, to scale"
    from planner.output.pictures.turning import error_svg, turning_svg

    for number, ball in enumerate(plan.turned.balls, 1):
        name = f"turn-ball-{number}.svg"
        _write(folder / name, turning_svg(ball, plan.job))
        described[name] = f"the {ball.ball.name} ball in its blank: steps and passes, to scale"
        name = f"turn-error-{number}.svg"
        _write(folder / name, error_svg(ball, plan.job, BORE_HEIGHT_MM, CROSS_SLIDE_MM))
        described[name] = (
            f"what the drawings' tolerances make of the {ball.ball.name} ball, magnified"
        )
    from planner.output.pictures.sawing import sawing_pages

    for number, page in enumerate(sawing_pages(plan.cuts, plan.job), 1):
        name = f"cutlist-sawing-{number}.svg"
        _write(folder / name, page)
        described[name] = f"sawing sheet, page {number}: bars to scale, boxes to tick"
    _write(folder / "check-shares.svg", shares_svg(plan.strength, plan.job))
    described["check-shares.svg"] = "deflection of the tip by links"
    return described


def _write_drawings(plan: Plan, folder: Path, tell: Callable[[str], None]) -> dict[str, str]:
    from planner.dxf.profiles import write_profile
    from planner.dxf.views import write_views
    from planner.geometry.profiles import flat_profiles
    from planner.solids import projected_edges

    described = {}
    (folder / "dxf").mkdir()
    for part in plan.attachment.parts:
        tell(f"{part.name}: DXF")
        for profile in flat_profiles(part):
            name = f"dxf/{profile.name}-profile.dxf"
            write_profile(folder / name, profile)
            described[name] = f"flat profile, {profile.title}, 1:1 in mm"
        views = {view: projected_edges(part, view) for view in ("front", "top", "left")}
        name = f"dxf/{part.name}-views.dxf"
        turned = isinstance(part.blank, Stock) and part.blank.section.shape == "round"
        write_views(folder / name, part.title, views, inch=plan.job.inch, turned=turned)
        described[name] = f"main views, {part.title}, 1:1 in mm"
    return described


def _write_flats(plan: Plan, folder: Path, tell: Callable[[str], None]) -> dict[str, str]:
    """Every flat piece alone, and each sheet for the torch and for the saw, as R2010 and R12."""
    from planner.nest.dxf import write_piece, write_sheet
    from planner.output.sheets.flat import flat_tables
    from planner.stock.flats import flat_pieces

    tell("flat pieces: DXF")
    described = {}
    (folder / "flat").mkdir()
    torch = plan.job.shop.torch
    asked: dict[str, Any] = {
        "least_hole_mm": torch.least_hole,
        "kerf_offset_mm": torch.kerf,
        "lead_in_mm": torch.lead_in,
        "labels": torch.labels,
    }
    for piece in flat_pieces(plan.attachment, plan.job):
        for version in ("R2010", "R12"):
            name = f"flat/{piece.profile.name}-{version}.dxf"
            write_piece(folder / name, piece.profile, version, **asked)
            described[name] = f"{piece.profile.title}, {piece.use}, 1:1 in mm"
    for process in ("plasma", "saw") if plan.job.shop.sheet else ():
        made = plan.flats(process)
        _write(folder / f"flat-{process}.txt", as_text(flat_tables(made, plan.job, process)))
        described[f"flat-{process}.txt"] = f"flat pieces on the sheets, for the {process}"
        number, plasma = 0, process == "plasma"
        for group in made.groups:
            for sheet in group.nest.sheets:
                number += 1
                for version in ("R2010", "R12"):
                    name = f"flat/{process}-sheet-{number}-{version}.dxf"
                    write_sheet(folder / name, sheet, version, **(asked if plasma else {}))
                    described[name] = f"sheet {number} for the {process}, 1:1 in mm"
    return described


def _write_solids(plan: Plan, folder: Path, tell: Callable[[str], None]) -> dict[str, str]:
    from planner.solids import write_assembly_step, write_step

    described = {}
    (folder / "step").mkdir()
    for part in plan.attachment.parts:
        tell(f"{part.name}: STEP")
        name = f"step/{part.name}.step"
        write_step(folder / name, part)
        described[name] = f"solid, {part.title}"
    tell("attachment: STEP")
    sizes = plan.sizing.sizes
    name = "step/attachment.step"
    write_assembly_step(
        folder / name, plan.attachment, tip_radius_mm=sizes.max_ball_diameter_mm / 2, swing_deg=90.0
    )
    described[name] = "the whole attachment, tip on top at the largest ball"
    return described


def _manifest(plan: Plan, folder: Path, described: dict[str, str]) -> dict[str, Any]:
    files = [
        {
            "path": path,
            "what": described[path],
            "bytes": (folder / path).stat().st_size,
            "sha256": _hash(folder / path),
        }
        for path in sorted(described)
    ]
    return {
        "job": plan.job.name,
        "made_by": f"pommel {__version__}",
        "job_file_sha256": _hash(Path(plan.file)),
        "findings": [
            finding.as_dict() | {"file": Path(plan.file).name} for finding in plan.findings("build")
        ],
        "files": files,
    }


def _move_into_place(made: Path, target: Path, staging: Path) -> None:
    if target.exists():
        os.replace(target, staging / ".earlier")
    try:
        os.replace(made, target)
    except OSError:
        if (staging / ".earlier").exists():
            os.replace(staging / ".earlier", target)
        raise
