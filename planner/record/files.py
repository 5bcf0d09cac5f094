"""The folder of a record and how its files are written: whole, under a lock, no edit overwritten.

The lock is on the folder itself and goes with the process that holds it, so no file is left by a crash
to be cleared away. Where the system has no such lock (Windows, not tested), only the comparison with
what was read guards against two writers. Knows nothing of what the files say.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from time import monotonic, sleep

from planner.record.names import FOLDER_SUFFIX
from planner.words.findings import BadInput, Finding, finding

try:
    import fcntl
except ImportError:  # no such lock on this system
    fcntl = None  # type: ignore[assignment]

UNFINISHED = ".unfinished"
"""How the name ends of a file that is being written; one left by a crash goes with the next writing."""

LONGEST_WAIT_S = 10.0
"""How long another writer is waited for; one entry takes some hundredths of a second."""


def record_folder(job: Path) -> Path:
    """The folder of a job's record: my-lathe-record/ beside my-lathe.toml."""
    return job.with_name(job.stem + FOLDER_SUFFIX)


@contextmanager
def held(folder: Path, wait_s: float = LONGEST_WAIT_S) -> Iterator[None]:
    """Make a record's folder if need be and hold it alone meanwhile; nothing made is left empty.

    Raises BadInput when it cannot be made, or another holds it for longer than ``wait_s``; an OSError
    of what is written inside becomes BadInput too.
    """
    try:
        fresh = not folder.exists()
        folder.mkdir(exist_ok=True)
        handle = os.open(folder, os.O_RDONLY) if fcntl else -1
    except FileExistsError:
        limit = "a file of that name is there"
        raise BadInput(
            [finding("already-there", str(folder), "", "", limit, "Move it away")]
        ) from None
    except OSError as error:
        raise BadInput([unwritable(folder, error)]) from None
    try:
        _lock(folder, handle, wait_s)
        yield
    except OSError as error:
        raise BadInput([unwritable(folder, error)]) from None
    finally:
        if fresh:
            with suppress(OSError):  # there is something in it
                folder.rmdir()
        if handle >= 0:
            os.close(handle)


def _lock(folder: Path, handle: int, wait_s: float) -> None:
    if fcntl is None:
        return
    end = monotonic() + wait_s
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return
        except BlockingIOError:
            if monotonic() < end:
                sleep(0.02)
                continue
            limit = "another pommel has been writing here all the while"
            stop = finding("record-busy", str(folder), "", "", limit, "Wait for it, then try again")
            raise BadInput([stop]) from None


def unwritable(path: Path, error: OSError) -> Finding:
    """The finding of what cannot be written."""
    limit = f"cannot be written ({error.strerror or error})"
    return finding("unwritable", str(path), "", "", limit, "Make room, or mend its permissions")


def write_whole(path: Path, before: bytes | None, after: bytes) -> None:
    """Write a file of a folder that is held: all of it or nothing, and only if nobody edited it.

    before: what stood in it when it was read, None for no file. A link stays one. Raises BadInput
    (edited-meanwhile) when it now says something else, which then stays; OSError. Between the last
    look and the swap lie some microseconds in which an editor's saving is not seen.
    """
    path = path.resolve()
    for left in path.parent.glob(f"{path.name}-*{UNFINISHED}"):  # by a writer who is dead
        left.unlink(missing_ok=True)
    refuse_edited(path, before)
    handle, name = tempfile.mkstemp(UNFINISHED, f"{path.name}-", path.parent)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(after)
            out.flush()
            os.fsync(out.fileno())
        if before is None:
            os.chmod(name, 0o644)
        else:
            shutil.copymode(path, name)
        refuse_edited(path, before)
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    _sync(path.parent)


def refuse_edited(path: Path, before: bytes | None) -> None:
    """Raise BadInput when a file no longer says what it said when it was read."""
    try:
        now = path.read_bytes()
    except FileNotFoundError:
        now = None
    except OSError as error:
        raise BadInput([unwritable(path, error)]) from None
    if now != before:
        limit = "was changed after it was read; left as it is now, and nothing recorded"
        stop = finding("edited-meanwhile", str(path), "", "", limit, "Give the command once more")
        raise BadInput([stop])


def append_line(path: Path, line: str) -> None:
    """Append one line to a file of a folder that is held, and never touch the lines before it.

    Where the last line was not finished, by a crash, the new one still begins on its own. Raises
    OSError.
    """
    new = not path.exists()
    handle = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o644)
    try:
        size = os.fstat(handle).st_size
        if size:
            os.lseek(handle, size - 1, os.SEEK_SET)
            line = line if os.read(handle, 1) == b"\n" else "\n" + line
        left = f"{line}\n".encode()
        while left:
            left = left[os.write(handle, left) :]
        os.fsync(handle)
    finally:
        os.close(handle)
    if new:
        _sync(path.parent)


def _sync(folder: Path) -> None:
    """Have the names in a folder written to the disk too, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
