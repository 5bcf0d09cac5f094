"""The CAD kernel, loaded at the first call, and what a shape of it is called here."""

from __future__ import annotations

import functools
import gc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

Shape = Any
"""A ``cadquery.Shape``; named so because the kernel and its types are imported late."""


class KernelMissing(ImportError):
    """The CAD kernel cannot be loaded; the message says what to install."""


@functools.cache
def kernel() -> Any:
    """The cadquery module, imported at the first call (about two seconds).

    What it brings, 400,000 objects, stays to the end: the garbage collector leaves it alone, while it is
    loaded and after. Raises KernelMissing when it or a system library it needs is not installed.
    """
    try:
        with _uncollected():
            import cadquery
    except ImportError as error:
        if _interrupted(error):
            raise KeyboardInterrupt from error
        if "libGL" in str(error):
            remedy = "Install the Debian package libgl1: apt-get install libgl1"
        else:
            remedy = "Install it: pip install cadquery"
        raise KernelMissing(f"solids: the CAD kernel does not load ({error}). {remedy}") from error
    return cadquery


@contextmanager
def _uncollected() -> Iterator[None]:
    """What is made meanwhile is not looked through for garbage, now or later."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
        gc.freeze()
    finally:
        if was_on:
            gc.enable()


def _interrupted(error: BaseException | None) -> bool:
    """Whether ctrl-C lies behind an error: a compiled module that it stops cannot be imported."""
    while error is not None:
        if isinstance(error, KeyboardInterrupt):
            return True
        error = error.__cause__ or error.__context__
    return False
