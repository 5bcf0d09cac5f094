"""The CAD kernel, loaded at the first call, and what a shape of it is called here."""

from __future__ import annotations

import functools
import gc
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from types import FrameType, ModuleType
from typing import Any

Shape = Any
"""A ``cadquery.Shape``; named so because the kernel and its types are imported late."""


class KernelMissing(ImportError):
    """The CAD kernel cannot be loaded; the message says what to install."""


@functools.cache
def kernel() -> Any:
    """The cadquery module, imported at the first call (about two seconds).

    What it brings, 400,000 objects, stays to the end: the garbage collector leaves it alone, while
    it is loaded and after. Raises KernelMissing when it or a system library it needs is not installed.
    """
    try:
        with _put_off(), _uncollected(), without_all_of("vtk"):
            import cadquery
    except ImportError as error:
        if "libGL" in str(error):
            remedy = "Install the Debian package libgl1: apt-get install libgl1"
        else:
            remedy = "Install it: pip install cadquery"
        raise KernelMissing(f"solids: the CAD kernel does not load ({error}). {remedy}") from error
    return cadquery


@contextmanager
def _put_off() -> Iterator[None]:
    """What a signal does is put off to the end: raised inside a library that starts in C++ it is
    dropped, taken for a library that is missing, or ends the process with a fault of memory."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    numbers = (signal.SIGINT, signal.SIGTERM)
    before = {n: own for n in numbers if callable(own := signal.getsignal(n))}
    heard: list[tuple[int, FrameType | None]] = []
    for number in before:
        signal.signal(number, lambda *told: heard.append(told))
    try:
        yield
    finally:
        for number, own in before.items():
            signal.signal(number, own)
        if heard:
            before[signal.Signals(heard[0][0])](*heard[0])


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


@contextmanager
def without_all_of(name: str) -> Iterator[None]:
    """A module that gathers all of a library is loaded meanwhile only if something of it is asked for.

    The kernel imports the whole of a library for pictures, a quarter of its own time, and uses none of
    it by that name; what it does use it imports by itself.
    """
    if name in sys.modules:
        yield
        return
    stand_in = ModuleType(name)

    def asked(of: str) -> Any:
        if sys.modules.get(name) is stand_in:
            del sys.modules[name]
        return getattr(import_module(name), of)

    stand_in.__getattr__ = asked  # type: ignore[method-assign]
    sys.modules[name] = stand_in
    try:
        yield
    finally:
        if sys.modules.get(name) is stand_in:
            del sys.modules[name]
