"""One build: claim the target, write every file beside it, and only then move it into its place."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.errors import NotMakeable
from planner import __version__
from planner.job.lines import located
from planner.output.caches import caches_in
from planner.output.package.claim import claimed
from planner.output.package.guide import README, Written, guide
from planner.output.package.manifest import MANIFEST, hashes, read, sealed
from planner.output.package.names import clashing, unsafe
from planner.output.package.origin import INTERFERENCE, made_from, solids_from
from planner.output.package.swap import checked, mend, moved_into_place, placed, unwritable
from planner.output.topic import File
from planner.output.topics import TOPICS, build_findings
from planner.words.findings import BadInput, Finding, finding, once, read_back
from planner.words.formats import format_name
from planner.words.tables import as_json

if TYPE_CHECKING:
    from planner.output.plan import Plan


def build(
    plan: Plan,
    target: Path,
    tell: Callable[[str], None],
    fresh: bool = False,
    origin: Mapping[str, Any] | None = None,
) -> dict[str, Any]:
    """Write the package of a job into a folder and return its manifest.

    plan: the job; target: the folder, made or, when it holds an untouched earlier package,
    replaced; tell: is given a line of progress now and then; fresh: make the solids' files too where
    those of the earlier package are the same; origin: of origin.made_from, where it was taken before
    the job was read. Raises BadInput when the folder cannot be written, is being written or holds
    files that are not the package's own, and when the parts stand in each other.
    """
    from planner.nest.model import NoRoom

    place = placed(target)
    try:
        with claimed(place, mend) as claim:
            checked(place)
            earlier = _Earlier(place, {} if fresh else read(place) or {})
            origin = origin or made_from(Path(plan.file))
            solids = solids_from(plan, origin)
            with caches_in(claim.cache):
                if not earlier.has(INTERFERENCE, solids):
                    _check_solids(plan, tell)
                os.mkdir(claim.new)
                files, found = _write_topics(plan, claim.new, earlier, solids, tell)
            manifest = _manifest(plan, claim.new, files, found, origin, solids)
            File(MANIFEST, "", as_json(manifest)).write(claim.new)
            moved_into_place(claim)
    except NoRoom as error:
        limit, remedy = str(error), "Change shop.torch"
        stop = finding("torch-room", plan.file, "shop.torch", "", limit, remedy)
        raise BadInput([stop]) from None
    except OSError as error:
        raise unwritable(target, error) from None
    return manifest


class _Earlier:
    """The package that is there already, and what may be taken over from it."""

    def __init__(self, folder: Path, manifest: Mapping[str, Any]) -> None:
        self.folder = folder
        self.solids: Mapping[str, str] = manifest.get("solids_from", {})
        self.hashes = hashes(manifest) if manifest else {}
        self.findings: Sequence[Mapping[str, Any]] = manifest.get("findings", ())

    def has(self, name: str, solids: Mapping[str, str]) -> bool:
        """Whether what is called so was made from the same."""
        return name in solids and self.solids.get(name) == solids[name]

    def found(self, code: str, file: str) -> tuple[Finding, ...]:
        """What was found of a code as it was built; file: the job's, as it is called now."""
        return tuple(read_back(one, file) for one in self.findings if one["code"] == code)

    def given(self, path: str, folder: Path) -> bool:
        """Copy one of its files, if it has it as it was written."""
        try:
            content = (self.folder / path).read_bytes()
        except OSError:
            return False
        if self.hashes.get(path) != sha256(content).hexdigest():
            return False
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
        return True


def _write_topics(
    plan: Plan,
    folder: Path,
    earlier: _Earlier,
    solids: Mapping[str, str],
    tell: Callable[[str], None],
) -> tuple[list[Written], tuple[Finding, ...]]:
    """Write what every topic brings, and the guide to it; returns what was written, and found by it."""
    files: list[Written] = []
    found: tuple[Finding, ...] = ()
    for topic in TOPICS:
        tell(topic.name)
        same = earlier.has(topic.name, solids)
        for file in topic.files(topic, plan):
            files.append(Written(topic, file.path, file.what))
            if same and earlier.given(file.path, folder):
                continue
            if topic.needs == "solids":
                tell(f"{topic.name}: {file.path}")
            file.write(folder)
        if topic.on_making:
            code, of = topic.on_making
            found += earlier.found(code, plan.file) if same else of(plan)
    _check_names([*(file.path for file in files), README, MANIFEST])
    File(README, "", guide(plan.job.name, files)).write(folder)
    return files, found


def _check_names(paths: list[str]) -> None:
    """Raise ValueError for names not safe on every system, or the same on some: slips of a topic."""
    wrong = [f"{path}: {why}" for path in paths if (why := unsafe(path))]
    wrong += [f"{path}: the same as another's" for path in clashing(paths)]
    if wrong:
        raise ValueError(f"names in the package: {'; '.join(wrong)}")


def _manifest(
    plan: Plan,
    folder: Path,
    written: list[Written],
    made_known: tuple[Finding, ...],
    origin: Mapping[str, Any],
    solids: Mapping[str, str],
) -> dict[str, Any]:
    described = {file.path: file.what for file in written}
    described[README] = "what to open first, and what is where"
    files = [
        {
            "path": path,
            "what": described[path],
            "bytes": (folder / path).stat().st_size,
            "sha256": sha256((folder / path).read_bytes()).hexdigest(),
        }
        for path in sorted(described)
    ]
    told = located(once((*build_findings(plan), *made_known)))
    found = [one.as_dict() | {"file": Path(plan.file).name} for one in told]
    return sealed(
        {
            "format": format_name("package"),
            "job": plan.job.name,
            "made_by": f"pommel {__version__}",
            **origin,
            "solids_from": dict(solids),
            "open_first": README,
            "findings": found,
            "files": files,
        }
    )


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
