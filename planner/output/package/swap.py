"""The new package into the place of the earlier one: at every moment one of them is whole.

What is done can be read from the claim's folder alone, so that whoever comes next can mend it:
``new`` and ``waste`` may go; ``ready`` is a whole package, the new one before the exchange and the
earlier one after it; ``earlier`` is the earlier one, and without a target it belongs there.
"""

from __future__ import annotations

import os
import shutil
import sys
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

from planner.output.package.claim import Claim, beside, claimed
from planner.output.package.manifest import touched
from planner.words.findings import BadInput, Finding, finding
from planner.words.short import few

AT_ONCE = 8
"""How many files are given to the disk side by side."""


def unwritable(target: Path, error: OSError) -> BadInput:
    """What is told when a package cannot be written for want of room, permission or a place."""
    limit = f"cannot be written ({error.strerror or error})"
    return BadInput([finding("unwritable", str(target), "", "", limit, "Choose one with --out")])


def placed(target: Path) -> Path:
    """Where a target lies, links followed: a link stays one, its folder gets the package.

    Raises BadInput for a link that leads round in a circle, and for the root of the file system.
    """
    try:
        place = target.resolve()
    except (OSError, RuntimeError) as error:
        reason = error if isinstance(error, OSError) else OSError(str(error))
        raise unwritable(target, reason) from None
    if not place.name:
        raise unwritable(target, OSError("the root of the file system"))
    return place


def checked(target: Path) -> None:
    """Raise BadInput when at the target there is anything that is not an untouched package."""
    if not os.path.lexists(target):
        return
    if not target.is_dir():
        limit, remedy = "a file of that name is there", "Name another folder with --out"
        raise BadInput([finding("already-there", str(target), "", "", limit, remedy)])
    found = touched(target)
    if found:
        raise BadInput([foreign_files(target, found)])


def foreign_files(folder: Path, found: list[str]) -> Finding:
    """The finding of what in a folder is not of an untouched package."""
    listed = few(found)
    limit = f"holds files that are not an untouched earlier package: {listed}"
    remedy = "Move them away, or choose another folder with --out"
    return finding("foreign-files", str(folder), "", "", limit, remedy)


def moved_into_place(claim: Claim) -> None:
    """The whole package in ``new`` to the target, the earlier one out of it.

    The target is looked at right before and, for what may come in between, once more after the
    exchange. Raises BadInput when something of the user's is in it; OSError.
    """
    settled(claim.new)
    os.rename(claim.new, claim.ready)
    settled(claim.folder, deep=False)
    checked(claim.target)
    if not os.path.lexists(claim.target):
        os.rename(claim.ready, claim.target)
    elif not exchanged(claim.ready, claim.target):
        os.rename(claim.target, claim.earlier)
        os.rename(claim.ready, claim.target)
    settled(claim.target.parent, deep=False)
    displaced = claim.earlier if claim.earlier.exists() else claim.ready
    if displaced.exists() and (found := touched(displaced)):
        mend(claim)
        raise BadInput([foreign_files(claim.target, found)])


def mended(target: Path) -> None:
    """Put right what a build that was broken off left beside a target; nothing, where it left nothing.

    Raises BadInput when a build of it is under way.
    """
    place = placed(target)
    if os.path.lexists(beside(place)):
        try:
            with claimed(place, mend):
                pass
        except OSError as error:
            raise unwritable(target, error) from None


def mend(claim: Claim) -> None:
    """Bring the claim's folder into order: a package back to its place, or away.

    Raises OSError, and BadInput when both the target and what it was were changed by the user.
    """
    for left in (claim.earlier, claim.ready):
        if left.exists():
            _put_right(left, claim)
    for waste in (claim.new, claim.waste, claim.cache):
        shutil.rmtree(waste, ignore_errors=True)


def _put_right(left: Path, claim: Claim) -> None:
    changed = touched(left)
    if not os.path.lexists(claim.target) and (changed or left == claim.earlier):
        os.rename(left, claim.target)
        return
    if changed:  # the user wrote into the earlier package just as it was exchanged
        if touched(claim.target):
            raise BadInput([foreign_files(left, changed)])
        os.rename(claim.target, claim.waste)
        os.rename(left, claim.target)
    else:
        shutil.rmtree(claim.waste, ignore_errors=True)
        os.rename(left, claim.waste)
    shutil.rmtree(claim.waste, ignore_errors=True)


def settled(folder: Path, deep: bool = True) -> None:
    """Have the system write a folder to the disk; deep: and all that is in it. Raises OSError."""
    walked = list(os.walk(folder)) if deep else []
    files = (os.path.join(place, name) for place, _, names in walked for name in names)
    # side by side, since each waits for the disk, which writes many in one go: a twentieth of the time
    with ThreadPoolExecutor(AT_ONCE) as several:
        list(several.map(partial(_synced, how=os.O_RDWR), files))
        if sys.platform != "win32":  # which knows it of files alone
            folders = [place for place, _, _ in walked] or [str(folder)]
            list(several.map(partial(_synced, how=os.O_RDONLY), folders))


def _synced(path: str, how: int) -> None:
    number = os.open(path, how)
    try:
        os.fsync(number)
    finally:
        os.close(number)


def exchanged(one: Path, other: Path) -> bool:
    """Exchange two folders at one stroke, where the system can (Linux: renameat2); else False.

    Raises OSError for what would stop a plain rename too.
    """
    if sys.platform != "linux":
        return False
    import ctypes
    import errno

    here, exchange = (
        -100,
        2,
    )  # AT_FDCWD and RENAME_EXCHANGE (linux/fcntl.h, linux/fs.h, from memory)
    try:
        renameat2 = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    if renameat2(here, os.fsencode(one), here, os.fsencode(other), exchange) == 0:
        return True
    number = ctypes.get_errno()
    if number in (errno.ENOSYS, errno.EINVAL, errno.EOPNOTSUPP, errno.EPERM):
        return False
    raise OSError(number, os.strerror(number), str(other))
