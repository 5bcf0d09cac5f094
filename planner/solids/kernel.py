"""The CAD kernel, loaded at the first call, and what a shape of it is called here."""

from __future__ import annotations

import functools
import gc
import signal
import sys
import threading
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from functools import partial
from importlib import import_module
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
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
        with _put_off(), _uncollected(), not_yet("vtk", "vtkmodules", "casadi"):
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


class _Named:
    """A name of a module that is not loaded until it is called."""

    def __init__(self, module: str, name: str) -> None:
        if name.startswith("__"):
            raise AttributeError(name)
        self._of = module, name

    def __call__(self, *args: Any, **kwargs: Any) -> Any:
        module, name = self._of
        return getattr(import_module(module), name)(*args, **kwargs)


class _StandsIn(MetaPathFinder, Loader):
    """Finds the modules of some packages without loading them: each name of theirs is a ``_Named``."""

    def __init__(self, packages: Collection[str]) -> None:
        self.packages = packages
        self.found: set[str] = set()

    def find_spec(self, name: str, *_where: Any) -> ModuleSpec | None:
        """That of a stand-in."""
        mine = name.partition(".")[0] in self.packages
        return ModuleSpec(name, self, is_package=True) if mine else None

    def exec_module(self, module: ModuleType) -> None:
        """Its names."""
        self.found.add(module.__name__)
        module.__getattr__ = partial(_Named, module.__name__)  # type: ignore[method-assign]


@contextmanager
def not_yet(*packages: str) -> Iterator[None]:
    """What is imported meanwhile of packages that are not there yet is loaded when it is first called.

    The kernel imports a library for pictures and one that solves equations, a third of its own time,
    and uses neither unless it is asked to show or to solve something; nothing here asks it. What it
    makes for pictures in C++ is known in Python once ``vtkmodules`` is imported.
    """
    stand_in = _StandsIn([name for name in packages if name not in sys.modules])
    sys.meta_path.insert(0, stand_in)
    try:
        yield
    finally:
        sys.meta_path.remove(stand_in)
        for name in stand_in.found:
            sys.modules.pop(name, None)
