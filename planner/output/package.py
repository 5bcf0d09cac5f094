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

from parts.errors import NotMakeable
from planner import __version__
from planner.output.plan import Plan
from planner.output.topic import File
from planner.output.topics import TOPICS, build_findings
from planner.words.findings import BadInput, Finding, finding
from planner.words.formats import format_name
from planner.words.tables import as_json

MANIFEST = "package.json"


def build(plan: Plan, target: Path, tell: Callable[[str], None]) -> dict[str, Any]:
    """Write the package of a job into a folder and return its manifest.

    plan: the job; target: the folder, made or, when it holds an untouched earlier package,
    replaced; tell: is given a line of progress now and then. Raises BadInput when the folder cannot
    be written or holds files that are not the package's own, and when the parts stand in each other.
    """
    from planner.nest.model import NoRoom

    _check_target(target)
    _check_solids(plan, tell)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        staging = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
    except OSError as error:
        raise BadInput([_unwritable(target, error)]) from None
    try:
        staging.chmod(0o755)
        made = staging / target.name
        made.mkdir()
        described = _write_topics(plan, made, tell)
        manifest = _manifest(plan, made, described)
        File(MANIFEST, "", as_json(manifest)).write(made)
        _move_into_place(made, target, staging)
    except NoRoom as error:
        limit, remedy = str(error), "Change shop.torch"
        stop = finding("torch-room", plan.file, "shop.torch", "", limit, remedy)
        raise BadInput([stop]) from None
    except OSError as error:
        raise BadInput([_unwritable(target, error)]) from None
    finally:
        shutil.rmtree(staging, ignore_errors=True)
    return manifest


def _unwritable(target: Path, error: OSError) -> Finding:
    limit = f"cannot be written ({error.strerror or error})"
    return finding("unwritable", str(target), "", "", limit, "Choose one with --out")


def _check_target(target: Path) -> None:
    if not target.exists():
        return
    if not target.is_dir():
        limit = "a file of that name is there"
        raise BadInput([finding("already-there", str(target), "", "", limit, "Use --out")])
    if not any(target.iterdir()):
        return
    foreign = _not_ours(target)
    if foreign:
        listed = ", ".join(foreign[:5]) + (" ..." if len(foreign) > 5 else "")
        limit = f"holds files that are not an untouched earlier package: {listed}"
        remedy = "Move them away, or choose another folder with --out"
        raise BadInput([finding("foreign-files", str(target), "", "", limit, remedy)])


def _check_solids(plan: Plan, tell: Callable[[str], None]) -> None:
    """Whether every part is one solid and none stands in another; raises BadInput with all that do."""
    from planner.solids import clashes

    tell("interference")
    key, remedy = "attachment.sizes", "Change the sizes given by hand that move or thicken them"
    try:
        found = clashes(plan.attachment)
    except NotMakeable as problem:
        stops = [
            finding("not-makeable", plan.file, key, "", text, remedy) for text in problem.complaints
        ]
        raise BadInput(stops) from None
    if found:
        numbers = plan.job.numbers
        raise BadInput(
            [
                finding(
                    "interference",
                    plan.file,
                    key,
                    f"{clash.one} and {clash.other} share {numbers.chip(max(1.0, clash.volume_mm3))}",
                    f"at {numbers.angle(clash.swing_deg)} and a tip radius of"
                    f" {numbers.size(clash.tip_radius_mm)}; no two parts may",
                    remedy,
                )
                for clash in found
            ]
        )


def _not_ours(target: Path) -> list[str]:
    """The files in a folder that its own manifest does not list with their present hash."""
    present = sorted(p.relative_to(target).as_posix() for p in target.rglob("*") if not p.is_dir())
    try:
        manifest = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, json.JSONDecodeError):
        return present
    rows = manifest.get("files") if isinstance(manifest, dict) else None
    entries = [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []
    listed = {str(entry.get("path")): entry.get("sha256") for entry in entries}
    return [
        path for path in present if path != MANIFEST and listed.get(path) != _hash(target / path)
    ]


def _hash(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest() if path.is_file() else ""


def _write_topics(plan: Plan, folder: Path, tell: Callable[[str], None]) -> dict[str, str]:
    """Write what every topic brings; returns what each file is, by its path in the package."""
    described: dict[str, str] = {}
    for topic in TOPICS:
        tell(topic.name)
        for file in topic.files(topic, plan):
            if file.path in described or file.path == MANIFEST:
                raise ValueError(f"topic {topic.name}: a file {file.path} is there already")
            if topic.needs == "solids":
                tell(f"{topic.name}: {file.path}")
            file.write(folder)
            described[file.path] = file.what
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
        "format": format_name("package"),
        "job": plan.job.name,
        "made_by": f"pommel {__version__}",
        "job_file_sha256": _hash(Path(plan.file)),
        "findings": [
            finding.as_dict() | {"file": Path(plan.file).name} for finding in build_findings(plan)
        ],
        "files": files,
    }


def _move_into_place(made: Path, target: Path, staging: Path) -> None:
    earlier = staging / ".earlier"
    try:
        if target.exists():
            os.replace(target, earlier)
        os.replace(made, target)
    except BaseException:  # an interrupt too leaves the earlier one
        if earlier.exists() and not target.exists():
            os.replace(earlier, target)
        raise
