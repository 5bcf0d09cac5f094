"""Whether all that the attachment has is put on, in an order in which it goes on, and tried in time.

What a thing sits on is the parts' own (parts.placed.Seat); what must be on, and what must not, when a
fit is tried stands here. Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from parts.features import Counterbore, TurnedDiameter
from parts.part import Bought, Part, every_feature, members
from parts.placed import Placed
from parts.standard.materials import galls, material
from planner.walking.faults import Faults
from planner.walking.records import Missing, Record, rows, text
from planner.walking.state import Piece

BURRS = ("turn", "face", "groove", "bore", "drill", "ream", "tap", "counterbore", "mill", "slit")
"""What leaves sharp edges."""

GRAIN_MM = 0.001
"""Lengths of records are rounded."""

TRIED: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "end play": (
        ("housing", "rotating-body", "pivot-nut", "locks the pivot's nut, on a brass pellet"),
        (),
    ),
    "swing": (("housing", "rotating-body", "pivot-nut", "handle"), ("sliding-head", "stop-bar")),
    "slide": (
        ("rotating-body", "clamps the rod, set in the block"),
        ("feed-screw", "sliding-head", "clamp-lever"),
    ),
    "end float": (
        ("feed-screw", "index-ring", "dial", "feed screw tail, two locked together"),
        ("sliding-head", "holds the dial"),
    ),
    "screw play": (("feed-screw", "dial", "holds the dial", "sliding-head"), ("clamp-lever",)),
}
"""Of each trial: what is on when it is made, and what is not (common practice): a pivot is felt before
a head hangs on it and with nothing that the handle stops at, a slide before a screw is in it or a clamp
on it, a screw's play with the clamp slack. A dial that its screw holds on the journal does not move
along with the nuts that set the float; held it must be for what is read by it."""

HEAD, SCREW = "sliding-head", "feed-screw"
"""What the screw draws in, and the screw."""

RUNS_ON = {
    "rotating-body": (("shaft", "block"), "housing", ("tube",)),
    "sliding-head": (("rod", "foot"), "rotating-body", ("block",)),
    "pivot-nut": (("pivot-nut",), "rotating-body", ("shaft",)),
    "feed-screw": (("feed-screw",), "sliding-head", ("arm",)),
    "dial": (("dial",), "index-ring", ("index-ring",)),
}
"""What swings, slides or turns on what, and by which pieces: journal and thrust face, rod and foot, the
nut on the shaft's thread, the screw in its own, the dial on its ring."""

SLIDING = "slide"
"""What is tried with the head on for the trial alone."""

KEPT_APART = {"aluminium": "grease", "stainless steel": "anti-seize"}
"""What keeps such metals apart where one runs on its like (common practice): on oil they tear and
seize, and what has seized in its bore does not come out again."""

UPRIGHT = "swing"
"""What is tried with the pivot upright: level, the weight of what hangs beside it pulls more than the
pivot does (common practice)."""


class Gathered:
    """What is on, step after step."""

    def __init__(self, placed: Sequence[Placed], faults: Faults, made_later: str) -> None:
        self.placed, self.faults = placed, faults
        self.due = Counter(one.name for one in placed)
        self.later = {one.name: _later(one, made_later) for one in placed}
        self.on: Counter[str] = Counter()
        self.made: set[tuple[str, str]] = set()
        self.tried: set[str] = set()

    def look(self, operation: Record) -> None:
        """A step that puts something on, or tries it. Raises Missing."""
        if not self.placed:
            return
        things = list(rows(operation, "puts_on"))
        self._put(Counter(text(one, "name") for one in things))
        self._as_bought(things)
        if any(one["name"] == HEAD for one in things):
            self._led(text(operation, "text"))
        for one in sorted({one["name"] for one in things} & {*RUNS_ON}):
            self._smeared(one, text(operation, "text"))
        if operation.get("tries") == SLIDING:
            self._smeared(HEAD, text(operation, "text"))
        if operation.get("tries"):
            self._try(text(operation, "tries"), text(operation, "text"))
        self.made.add((str(operation.get("part")), str(operation.get("feature"))))

    def drawn_home(self, setup: Record, finished: Callable[[Part], bool]) -> None:
        """Mounted in what it runs in, it stands where it will stand: its nut is made, and drawn up.

        Loose in its bore, what is drilled lies nearer to or farther from the thrust face than drawn.
        """
        own, within = str(setup.get("part")), list(setup.get("with_parts") or ())
        carrier = {one.name: one.carrier for one in self.placed}
        if setup.get("machine") != "lathe" or len(within) != 1 or own not in carrier:
            return
        for one in self.placed:
            moves = one.carrier == carrier[own] != carrier.get(within[0])
            if not moves or one.seat is None or one.seat.on != within[0]:
                continue
            if not isinstance(one.item, Part):
                continue
            words = one.name.replace("-", " ")
            if not finished(one.item):
                wrong = f"{own} in its own {within[0]}", f"the {words} is not made yet"
                self.faults.refuse("route-order", *wrong, "Make it first")
            if f"drawn home on the thrust faces by the {words}" not in text(setup, "holding"):
                wrong = f"{own} in its own {within[0]}", "loose along its axis"
                self.faults.refuse("route-not-held", *wrong, f"Draw it home by the {words}")
            for runs in {own, one.name} & {*RUNS_ON}:
                self._smeared(runs, text(setup, "holding"))

    def all_on(self) -> None:
        """When no step is left."""
        if not self.placed:
            return
        for name in self.due:
            if self.on[name] < self.due[name]:
                self.faults.refuse("route-left-out", name, "no step puts it on", "Put it on")
        for name in TRIED:
            if name not in self.tried:
                self.faults.refuse("route-left-out", name, "no step tries it", "Try it")

    def _put(self, names: Counter[str]) -> None:
        for name, count in names.items():
            self.on[name] += count
            if self.on[name] > self.due[name]:
                wrong = f"{name} is put on", f"there are {self.due[name]} to put on"
                self.faults.refuse("route-no-work", *wrong, "Put on what there is")
        for name in names:
            for feature in self.later.get(name, ()):
                if (name, feature) not in self.made:
                    wrong = f"{name} is put on", f"its {feature} is turned with all the rest first"
                    self.faults.refuse("route-order", *wrong, "Put it on when that is turned")
            for one in self.placed:
                if one.name != name or one.seat is None:
                    continue
                for under in (one.seat.on, *one.seat.past):
                    if not self.on[under]:
                        wrong = f"{name} is put on", f"{under} is to be on before"
                        self.faults.refuse("route-order", *wrong, "Put that on first")

    def _as_bought(self, things: Sequence[Record]) -> None:
        """Screws are told as long as the one that sits there."""
        for one in things:
            fit = [o.item for o in self.placed if o.name == one["name"]]
            own = [(o.thread, o.length_mm) for o in fit if isinstance(o, Bought)]
            size, long = one.get("thread"), float(one.get("length_mm") or 0.0)
            if own and not any(size == o and abs(long - mm) < GRAIN_MM for o, mm in own):
                wrong = f"{one['name']}: {size}, {self.faults.mm(long)} long"
                sits = f"{own[0][0]}, {self.faults.mm(own[0][1])} long sits there"
                self.faults.refuse(
                    "route-no-work", wrong, sits, "Say the one that is bought for it"
                )

    def _smeared(self, own: str, words: str) -> None:
        """What runs on its like, of a metal that seizes there, has more than oil between."""
        made = {o.item.name: o.item for o in self.placed if isinstance(o.item, Part)}
        pieces, other, beneath = RUNS_ON[own]
        if own not in made or other not in made:
            return
        bears = [o.blank.material for o in members(made[other]) if o.name in beneath]
        for one in (o.blank.material for o in members(made[own]) if o.name in pieces):
            for under in bears:
                wanted = KEPT_APART.get(material(one).group, "")
                if galls(one, under) and wanted not in words:
                    wrong = f"{own} on {other}: {one} on {under}", "they seize on oil alone"
                    self.faults.refuse("route-words", *wrong, f"Say the {wanted} between them")
                    return

    def _led(self, words: str) -> None:
        """The rod is in its bore before the screw meets its thread, or the screw is started first."""
        made = {o.item.name: o.item for o in self.placed if isinstance(o.item, Part)}
        by_name = {
            (name, one.name): one
            for name in (HEAD, SCREW)
            if name in made
            for _, one in every_feature(made[name])
        }
        rod, seat = by_name.get((HEAD, "rod")), by_name.get((HEAD, "inner wiper seat"))
        collar = by_name.get((SCREW, "collar"))
        if not isinstance(rod, TurnedDiameter) or not isinstance(collar, TurnedDiameter):
            return
        deep = seat.depth_mm if isinstance(seat, Counterbore) else 0.0
        past = collar.end_mm - deep - (rod.end_mm - rod.start_mm)
        if past >= 0.0 and "started in its thread" not in words:
            wrong = (
                f"the screw stands {self.faults.mm(past)} farther out than the rod",
                ("it meets its thread before the rod is in its bore"),
            )
            self.faults.refuse("route-order", *wrong, "Start the screw in its thread first")

    def _try(self, what: str, words: str) -> None:
        if what not in TRIED:
            raise Missing("tries")
        if what == UPRIGHT and "pivot stood upright" not in words:
            wrong = f"{what} is tried", "level, the weight beside the pivot is felt, not the pivot"
            self.faults.refuse("route-words", *wrong, "Say that the pivot stands upright")
        self.tried.add(what)
        there, absent = TRIED[what]
        for name in there:
            if self.on[name] < self.due[name]:
                wrong = f"{what} is tried", f"{name} is not on yet"
                self.faults.refuse("route-order", *wrong, "Put it on first")
        for name in absent:
            if self.on[name]:
                wrong = f"{what} is tried", f"{name} is on: it is not felt"
                self.faults.refuse("route-order", *wrong, "Try it before that is put on")


def _later(one: Placed, made_later: str) -> tuple[str, ...]:
    """What of it is made when all else is together: turned with the attachment itself."""
    features = one.item.features if isinstance(one.item, Part) else ()
    return tuple(feature.name for feature in features if feature.made_with == made_later)


def burred(whole: Piece) -> bool:
    """Whether something was cut on it after its edges were last broken."""
    for kind in reversed(whole.kinds):
        if kind == "deburr":
            return False
        if kind in BURRS:
            return True
    return False
