"""The package's list of its own files, by which an untouched package is told from anything else."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from planner.words.tables import as_json

MANIFEST = "package.json"
SEAL = "manifest_sha256"
"""The manifest's key with the hash of all the rest of it, so that an edit of it shows."""


def sealed(manifest: Mapping[str, Any]) -> dict[str, Any]:
    """A manifest with the hash of itself as its last key."""
    return {**manifest, SEAL: _own_hash(manifest)}


def _own_hash(manifest: Mapping[str, Any]) -> str:
    rest = {key: value for key, value in manifest.items() if key != SEAL}
    return sha256(as_json(rest).encode()).hexdigest()


def read(folder: Path) -> dict[str, Any] | None:
    """The manifest in a folder; None when there is none, or not as a build wrote it."""
    try:
        text = (folder / MANIFEST).read_bytes().decode("utf-8")
        manifest = json.loads(text)
        rows = manifest["files"]
        sound = manifest[SEAL] == _own_hash(manifest) and as_json(manifest) == text
        listed = all(isinstance(row["path"], str) and row["sha256"] for row in rows)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
    return manifest if sound and listed and rows else None


def touched(folder: Path) -> list[str]:
    """What in a folder is not of an untouched package: files added or changed, links, folders.

    Paths relative to the folder, folders with "/" behind; all of them where it holds no package. A file
    taken away is not told: nothing is lost with it. What cannot be read counts as changed. Raises
    OSError when the folder itself cannot be listed.
    """
    manifest = read(folder)
    listed = hashes(manifest) if manifest else {}
    folders = {parent.as_posix() for path in listed for parent in Path(path).parents}
    found = []
    for path, entry in _entries(folder):
        if entry.is_dir(follow_symlinks=False):
            if path not in folders:
                found.append(f"{path}/")
        elif path == MANIFEST and manifest and not entry.is_symlink():
            pass
        elif not entry.is_file(follow_symlinks=False) or listed.get(path, "") != _hash(entry.path):
            found.append(path)
    return found


def whole(folder: Path) -> dict[str, Any] | None:
    """The manifest of an untouched package of which no file is missing; else None."""
    manifest = read(folder)
    if manifest is None or touched(folder):
        return None
    complete = all((folder / path).is_file() for path in hashes(manifest))
    return manifest if complete else None


def hashes(manifest: Mapping[str, Any]) -> dict[str, str]:
    """The hash of each file by its path in the package."""
    return {row["path"]: row["sha256"] for row in manifest["files"]}


def _entries(folder: Path) -> Iterator[tuple[str, os.DirEntry[str]]]:
    """Everything under a folder, in order, no link followed; its path with "/" between."""
    waiting = [("", str(folder))]
    while waiting:
        before, place = waiting.pop()
        with os.scandir(place) as entries:
            for entry in sorted(entries, key=lambda one: one.name):
                path = before + entry.name
                yield path, entry
                if entry.is_dir(follow_symlinks=False):
                    waiting.append((f"{path}/", entry.path))


def _hash(path: str) -> str:
    try:
        with open(path, "rb") as file:
            return sha256(file.read()).hexdigest()
    except OSError:
        return "unreadable"
