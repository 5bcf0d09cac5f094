"""The CAD kernel, loaded at the first call, and what a shape of it is called here."""

from __future__ import annotations

import functools
from typing import Any

Shape = Any
"""A ``cadquery.Shape``; named so because the kernel and its types are imported late."""


class KernelMissing(ImportError):
    """The CAD kernel cannot be loaded; the message says what to install."""


@functools.cache
def kernel() -> Any:
    """The cadquery module, imported at the first call (about two seconds).

    Raises KernelMissing when it or a system library it needs is not installed.
    """
    try:
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


def _interrupted(error: BaseException | None) -> bool:
    """Whether ctrl-C lies behind an error: a compiled module that it stops cannot be imported."""
    while error is not None:
        if isinstance(error, KeyboardInterrupt):
            return True
        error = error.__cause__ or error.__context__
    return False
