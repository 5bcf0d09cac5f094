"""Where libraries keep what they would put into the user's home; imported by package, draw, ready."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory


@contextmanager
def caches_in(folder: Path) -> Iterator[None]:
    """Libraries keep in this folder what they would put into the user's home, while this lasts.

    ezdxf, and the kernel that imports it, lists the machine's fonts there as it is loaded; it finds an
    empty list, as no drawing here measures a text.
    """
    before = os.environ.get("XDG_CACHE_HOME")
    listed = folder / "ezdxf" / "font_manager_cache.json"
    listed.parent.mkdir(parents=True)
    listed.write_text('{"version": 2, "font-faces": []}', encoding="utf-8")
    os.environ["XDG_CACHE_HOME"] = str(folder)
    try:
        yield
    finally:
        if before is None:
            del os.environ["XDG_CACHE_HOME"]
        else:
            os.environ["XDG_CACHE_HOME"] = before


@contextmanager
def caches_away() -> Iterator[None]:
    """The same in a folder for temporary files, gone when this ends; without one they do as they do."""
    try:
        kept = TemporaryDirectory(prefix="pommel-", ignore_cleanup_errors=True)
    except OSError:
        yield
        return
    with kept as folder, caches_in(Path(folder)):
        yield
