"""The folder beside the target in which a package is made: one build at a time, and its own alone.

It is called ``.NAME.pommel-build`` and holds the file ``owner``, which says who builds and is locked
as long as that process lives; the system drops the lock however the process ends. So a folder whose
owner is not locked is a dead build's, and the next build takes it over.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from planner.words.findings import BadInput, Finding, finding

OWNER = "owner"
MARK = "pommel build"
"""What the owner file begins with; a folder without such a file is not ours."""

_TRIES = 100
"""How often a folder may be given up by another build just as it is taken."""


class Claim(NamedTuple):
    """The target of a build, and the folder beside it that is this build's while it lasts."""

    target: Path
    folder: Path

    @property
    def new(self) -> Path:
        """The package while it is written: worth nothing until it is whole."""
        return self.folder / "new"

    @property
    def ready(self) -> Path:
        """The new package, whole, before the exchange; the earlier one after it."""
        return self.folder / "ready"

    @property
    def earlier(self) -> Path:
        """The earlier package, where the system cannot exchange two folders at one stroke."""
        return self.folder / "earlier"

    @property
    def waste(self) -> Path:
        """What may be deleted."""
        return self.folder / "waste"

    @property
    def cache(self) -> Path:
        """Where libraries may keep what they would put into the user's home."""
        return self.folder / "cache"


def beside(target: Path) -> Path:
    """The folder in which the package of a target is made."""
    return target.with_name(f".{target.name}.pommel-build")


@contextmanager
def claimed(target: Path, mend: Callable[[Claim], None]) -> Iterator[Claim]:
    """The claim on a target, an absolute path without links, while a build of it lasts.

    mend: brings the claim's folder into order; called at the beginning, for what a dead build left, and
    at the end, however that comes. Raises BadInput when another build of the target is under way or
    the folder is not ours, OSError when it cannot be made.
    """
    claim = Claim(target, beside(target))
    number = _taken(claim)
    try:
        try:
            mend(claim)
            yield claim
        finally:
            mend(claim)
    finally:
        _given_up(claim, number)


def _taken(claim: Claim) -> int:
    """Make the folder ours; returns the number of its open, locked owner file."""
    claim.target.parent.mkdir(parents=True, exist_ok=True)
    for _ in range(_TRIES):
        claim.folder.mkdir(exist_ok=True)
        owner = claim.folder / OWNER
        try:
            if not owner.exists() and any(claim.folder.iterdir()):
                raise BadInput([_foreign(claim.folder)])
            number = os.open(owner, os.O_RDWR | os.O_CREAT, 0o644)
        except FileNotFoundError:
            continue  # given up since
        kept = False
        try:
            if not _locked(number):
                raise BadInput([_busy(claim, owner)])
            if not _still_there(number, owner):
                continue
            said = os.read(number, 1000)
            if said and not MARK.startswith(said.decode("utf-8", "replace")[: len(MARK)]):
                raise BadInput([_foreign(claim.folder)])
            _say_who(number)
            kept = True
            return number
        finally:
            if not kept:
                os.close(number)
    raise BadInput([_busy(claim, claim.folder / OWNER)])


def _say_who(number: int) -> None:
    import platform

    who = json.dumps({"pid": os.getpid(), "host": platform.node()})
    os.lseek(number, 0, os.SEEK_SET)
    os.ftruncate(number, 0)
    os.write(number, f"{MARK}\n{who}\n".encode())


def _given_up(claim: Claim, number: int) -> None:
    """Take the folder away, its owner file last, and drop the lock; what is not ours stays."""
    try:
        if sys.platform == "win32":
            os.close(number)  # there an open file cannot be taken away
        if [path.name for path in claim.folder.iterdir()] == [OWNER]:
            os.unlink(claim.folder / OWNER)
            os.rmdir(claim.folder)
    except OSError:
        pass  # the next build tries again
    finally:
        if sys.platform != "win32":
            os.close(number)


def _locked(number: int) -> bool:
    """Lock an open file for this process alone; False when another holds it."""
    if sys.platform == "win32":
        import msvcrt

        os.lseek(number, 0, os.SEEK_SET)
        try:
            msvcrt.locking(number, msvcrt.LK_NBLCK, 1)
        except PermissionError:
            return False
    else:
        import fcntl

        try:
            fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
    return True


def _still_there(number: int, owner: Path) -> bool:
    """Whether the open file is still the one of that name: the last owner may have removed it."""
    try:
        return os.path.samestat(os.fstat(number), os.stat(owner))
    except FileNotFoundError:
        return False


def _busy(claim: Claim, owner: Path) -> Finding:
    who = ""
    try:
        said = json.loads(owner.read_text(encoding="utf-8").partition("\n")[2])
        who = f" (process {said['pid']} on {said['host']})"
    except (OSError, ValueError, KeyError, TypeError):
        pass
    limit = f"another build is writing it{who}"
    remedy = "Wait for it to end, or choose another folder with --out"
    return finding("busy-folder", str(claim.target), "", "", limit, remedy)


def _foreign(folder: Path) -> Finding:
    limit = "the name of the folder to build in is taken by files that no build made"
    remedy = "Move them away, or choose another folder with --out"
    return finding("foreign-files", str(folder), "", "", limit, remedy)
