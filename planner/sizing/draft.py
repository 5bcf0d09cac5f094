"""What a rule of sizing is made of: the sizes known so far, as columns, and what to choose from.

Imported by the rules and by planner.sizing.candidates, which applies them.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter
from typing import Any

import numpy as np
from msgspec.structs import replace

from parts.sizes import Sizes
from parts.standard.fasteners import set_screw, socket_screw, thin_nut
from parts.value import Value
from planner.job.tables import Job
from planner.sizing.catalogue import Catalogue, Options
from planner.sums.columns import alike, down, up

OURS = "rule of this design"
TRADE = "common practice"


class Unknown(AttributeError):
    """A size is used before its rule."""


class Draft:
    """The sizes known so far, as columns, and the job and catalogue they are chosen with.

    A size is an attribute; so is any property of Sizes that follows from known ones. series: the job's.
    """

    def __init__(self, job: Job, shop: Catalogue) -> None:
        self.job, self.shop = job, shop
        self.series, self.step_mm = job.series, job.series.step_mm
        self.known: dict[str, Any] = {}

    def __getattr__(self, name: str) -> Any:
        known = self.__dict__.get("known", {})
        if name in known:
            return known[name]
        if name in LOOKED_UP:
            of, look_up = LOOKED_UP[name]
            known[name] = getattr(self, of).of(look_up)
            return known[name]
        derived = getattr(Sizes, name, None)
        if isinstance(derived, property) and derived.fget is not None:
            return derived.fget(self)
        raise Unknown(f"size '{name}' is used before its rule")

    def up(self, value_mm: Any, steps: float = 1) -> Any:
        """Rounded up to a whole step: 1 mm or 1/16 in, or that many of them."""
        return up(value_mm, self.step_mm * steps)

    def down(self, value_mm: Any, steps: float = 1) -> Any:
        """Rounded down to a whole step."""
        return down(value_mm, self.step_mm * steps)

    def nominal(self, mm: float) -> float:
        """An allowance, in the job's series."""
        return self.series.nominal(mm)


LOOKED_UP: dict[str, tuple[str, Callable[[Any], float]]] = {
    "cheek_mm": ("cheek_stock", lambda cheek: cheek.thickness_mm if cheek else 0.0),
    "index_head_mm": (
        "index_screw",
        lambda size: socket_screw(size.designation).head_height_mm,
    ),
    "index_head_across_mm": (
        "index_screw",
        lambda size: socket_screw(size.designation).head_diameter_mm,
    ),
    "nut_screw_mm": ("nut_screw", lambda size: set_screw(size.designation).lengths_mm[0]),
    "pivot_pitch_mm": ("pivot_thread", lambda size: size.pitch_mm),
    "stop_mm": ("stop_stock", lambda bar: bar.width_mm if bar else 0.0),
    "stop_major_mm": ("stop_thread", lambda size: size.major_mm),
    "stop_nut_mm": ("stop_thread", lambda size: thin_nut(size.designation).height_mm),
}
"""Properties of Sizes that are looked up by an entry: the size it is, and the look-up."""


class Rule(Value, frozen=True):
    """How one size is found: ``value`` returns it, or the Options it may be chosen from.

    shapes: of stock that a section may be when the user sets it; sold: what must be sold in a thread
    the user sets, as catalogue.is_sold names it; follows: the sizes to set instead where it only
    follows from them; key: of the job file, where what it says goes before what is usual.
    """

    name: str
    text: str
    source: str
    value: Callable[[Draft], Any]
    shapes: tuple[str, ...] = ()
    sold: str = "any"
    follows: tuple[str, ...] = ()
    key: str = ""

    def origin(self, job: Job) -> str:
        """Where a size that is not chosen comes from: "job", what it says, else "rule"."""
        if self.key:
            return "rule" if attrgetter(self.key)(job) is None else "job"
        return "job" if self.source == "job file" else "rule"


def public_name(name: str) -> str:
    """A size as the job file names it."""
    return name.removesuffix("_mm")


def one(value: Any) -> float:
    """A number for a sentence: the least of a column."""
    return float(np.min(value))


def round_bar(d: Draft, material: str, at_least_mm: Any) -> Options:
    """Round bars of a material from a diameter up."""
    wanted = f"a diameter of at least {d.job.numbers.size(one(at_least_mm))}"
    few, same = np.unique(np.atleast_1d(at_least_mm), return_inverse=True)
    found = d.shop.section(("round",), material, wanted, lambda s: s.width_mm >= few - 1e-6)
    return replace(found, same=same)


def flat_bar(
    d: Draft, width_mm: Any, thickness_mm: Any, shapes: tuple[str, ...] = ("flat", "square")
) -> Options:
    """Flats, else squares, of the structure's material, at least so wide and so thick."""
    keys = np.stack(np.broadcast_arrays(*map(np.atleast_1d, (width_mm, thickness_mm))), axis=1)
    first, same = alike(keys.astype(float))
    width, thick = keys[first].T
    found = d.shop.section(
        shapes,
        d.job.materials.structure,
        f"at least {d.job.numbers.plain.size(one(width_mm))} x"
        f" {d.job.numbers.size(one(thickness_mm))}",
        lambda s: (s.width_mm >= width - 1e-6) & (s.height_mm >= thick - 1e-6),
    )
    return replace(found, same=same)
