"""The walk: set-up by set-up, step by step, through the states of every piece.

``walk`` takes the parts, the job and the route's records, and returns what cannot be held, reached,
measured or made. Imported by planner.output; has only the parts and the job from what plans a route.
"""

from __future__ import annotations

from collections.abc import Sequence

from parts.part import Joined, Member, Part, every_feature, members
from parts.placed import Placed
from planner.job.tables import Job
from planner.walking.brushed import brushed_in_time
from planner.walking.cuts import Cut
from planner.walking.cutting import finished_sizes, operate
from planner.walking.doing import Doing
from planner.walking.drawn import drawn_out
from planner.walking.eased import eased
from planner.walking.faults import Faults
from planner.walking.fixed import LOOSE, Fixed, hold_still
from planner.walking.gathered import Gathered, burred
from planner.walking.gauging import measured
from planner.walking.headstock import headstock_ready
from planner.walking.held import Held
from planner.walking.jaws import scraped_free
from planner.walking.joining import join, laid, spared, tacked, weld_left, weld_on_the_plate
from planner.walking.lathe import ROUND, hold_in_lathe
from planner.walking.mouths import all_trued
from planner.walking.onslide import other_dial_said, slide_cleared
from planner.walking.order import machine_there, work_done_here
from planner.walking.records import Missing, Record, number, pair, rows, table, text
from planner.walking.said import held_said, lacking_said, machine_said, sizes_said
from planner.walking.shop import Shop, shop_of
from planner.walking.spotted import Spotting
from planner.walking.springing import springs
from planner.walking.squared import Squared
from planner.walking.state import Key, Piece, is_piece, sawn
from planner.walking.travels import far_apart
from planner.walking.wayup import WayUp
from planner.words.findings import Finding
from planner.words.register import Severity

WITH_ALL = "attachment"
"""What a feature is made with that is turned with the attachment itself."""


def walk(
    parts: Sequence[Part],
    job: Job,
    setups: Sequence[Record],
    operations: Sequence[Record],
    file: str = "",
    severity: Severity = "refused",
    placed: Sequence[Placed] = (),
) -> tuple[Finding, ...]:
    """What is wrong with a route; nothing where each step can be done.

    parts: of the attachment; setups, operations: records of format pommel.route/2, lengths in mm; file:
    named in the findings, whose key is a set-up, step or part; severity: of all; placed: in the whole.
    """
    return _Walk(parts, job, file, severity, placed).go(setups, operations)


class _Walk:
    """The state of all pieces, and what was found so far."""

    def __init__(
        self, parts: Sequence[Part], job: Job, file: str, severity: Severity, placed: Sequence[Placed],
    ) -> None:  # fmt: skip
        self.parts = {part.name: part for part in parts}
        self.shop: Shop = shop_of(job)
        self.inch = job.inch
        self.faults = Faults(file, job.numbers, severity)
        self.pieces: dict[Key, Piece] = {}
        self.spotting = Spotting({one.name: one.frame for one in placed}, self.pieces)
        self.squared = Squared(self.spotting.frames, self.pieces)
        self.together, self.way_up = False, WayUp()
        self.mounted: set[tuple[str, str]] = set()
        self.gathered = Gathered(placed, self.faults, WITH_ALL)

    def go(self, setups: Sequence[Record], operations: Sequence[Record]) -> tuple[Finding, ...]:
        """Walk all of it."""
        known = {setup.get("number"): setup for setup in setups}
        by_setup: dict[object, list[Record]] = {}
        for operation in operations:
            by_setup.setdefault(operation.get("setup"), []).append(operation)
        last, held = None, None
        for operation in operations:
            number_ = operation.get("setup")
            setup = known.get(number_)
            if setup is None:
                self._at(f"step {operation.get('number')}")
                gone = "is not in the list", "Describe how the work is held"
                self.faults.refuse("route-record", f"set-up {number_}", *gone)
                continue
            if number_ != last:
                held = self._set_up(setup, by_setup[number_])
                headstock_ready(setup, by_setup[number_], self.faults, self.shop.live_centre)
                far_apart(setup, by_setup[number_], self.shop, self.faults)
                last = number_
            self._at(f"step {operation.get('number')}")
            try:
                self._operation(operation, setup, held)
            except Missing as missing:
                self.faults.refuse("route-record", missing.key, "is not said", "Say it")
        for setup in setups:
            if setup.get("number") not in by_setup:
                self._at(f"set-up {setup.get('number')}")
                idle = "a set-up without a step", "it serves nothing", "Leave it out"
                self.faults.refuse("route-record", *idle)
        brushed_in_time(setups, operations, self.parts.values(), self.faults)
        drawn_out(setups, operations, self.faults, self.shop.quantity)
        self._all_done()
        self._at("assembly")
        self.gathered.all_on()
        return tuple(self.faults.found)

    def _at(self, key: str) -> None:
        self.faults.key = key

    def _piece(self, record: Record) -> Piece | None:
        part, piece = str(record.get("part")), str(record.get("piece") or "")
        return self.pieces.get((part, piece if self._member(part, piece) else ""))

    def _member(self, part: str, piece: str) -> bool:
        return part in self.parts and is_piece(self.parts[part], piece)

    # ---- a set-up ----

    def _set_up(self, setup: Record, operations: Sequence[Record]) -> Held | Fixed | None:
        self._at(f"set-up {setup.get('number')}")
        try:
            return self._hold(setup, operations)
        except Missing as missing:
            self.faults.refuse(
                "route-record", missing.key, "is not said", "Say how the work is held"
            )
            return None

    def _hold(self, setup: Record, operations: Sequence[Record]) -> Held | Fixed | None:
        machine, hold = text(setup, "machine"), table(setup, "hold")
        by = text(hold, "by")
        lacking_said(hold, text(setup, "holding"), self.faults)
        held_said(machine, hold, text(setup, "holding"), self.faults)
        machine_said(setup, self.faults)
        self.way_up.look(setup, self.faults, self._piece(setup))
        slide_cleared(setup, self._piece(setup), self.faults)
        owned = [bool((one.get("tool") or {}).get("owned")) for one in operations]
        if not machine_there(machine, owned, self.shop):
            way_out = "the shop has none", "Take another way, or have it done"
            self.faults.refuse("route-no-machine", machine, *way_out)
        self._align(setup)
        self._with_parts(setup)
        self.gathered.drawn_home(setup, self._finished)
        kinds = {str(one.get("kind")) for one in operations}
        if kinds & {"weld", "tack"}:
            self._join(setup)
        if self._piece(setup) is None and _brings(operations[0]):
            if kinds == {"saw"}:
                self._bar(setup, hold)
                return None
            self._bring(operations[0])  # the bar, pulled out through the spindle
        piece = self._piece(setup)
        if piece is None:
            whole = not self._member(str(setup.get("part")), str(setup.get("piece") or ""))
            self.faults.refuse(
                "route-no-work",
                f"{setup.get('part')} {setup.get('piece') or ''}".strip(),
                "is not welded together yet" if whole else "is not sawn yet",
                "Do that first",
            )
            return None
        if by == "between centres" or (by in ROUND and machine == "lathe"):
            return hold_in_lathe(piece, setup, self.shop, self.faults, operations)
        if by in LOOSE and machine in ("lathe", "mill", "drill press", "milling slide", "shaper"):
            self.faults.refuse(
                "route-not-held", by, f"on the {machine} nothing is held so", "Grip it"
            )
        return hold_still(piece, setup, self.shop, self.faults)

    def _align(self, setup: Record) -> None:
        for one in rows(setup, "align"):
            _ = [text(one, key) for key in ("what", "surface", "by")]
            if number(one, "within_mm") < 0:
                raise Missing("align.within_mm")

    def _with_parts(self, setup: Record) -> None:
        for name in setup.get("with_parts") or ():
            if name in self.parts and (name, "") not in self.pieces:
                self.faults.refuse("route-no-work", str(name), "is not made yet", "Make it first")

    def _bar(self, setup: Record, hold: Record) -> None:
        """A bar in the saw: gripped by a size of its section."""
        part = self.parts.get(str(setup.get("part")))
        if part is None:
            raise Missing("part")
        name = str(setup.get("piece") or "")
        member = next((m for m in members(part) if m.name in (name, part.name)), None)
        if member is None:
            raise Missing("piece")
        section = member.blank.section
        grips = rows(hold, "grips")
        if not grips and text(hold, "by") != "hand":
            raise Missing("hold.grips")
        for grip in grips:
            size = number(grip, "size_mm")
            text(grip, "surface")
            pair(grip)
            if min(abs(size - section.width_mm), abs(size - section.height_mm)) > 0.11:
                self.faults.refuse(
                    "route-no-metal",
                    self.faults.mm(size),
                    f"the bar is {self.faults.numbers.stock(section)}",
                    "Grip it by a side it has",
                )

    def _join(self, setup: Record) -> None:
        part = self.parts.get(str(setup.get("part")))
        if part is None or (part.name, "") in self.pieces:
            return
        if (whole := join(part, self.pieces, self.faults)) is not None:
            self.pieces[part.name, ""] = whole

    # ---- a step ----

    def _operation(self, operation: Record, setup: Record, held: Held | Fixed | None) -> None:
        kind = text(operation, "kind")
        piece = self._piece(operation)
        if piece is None and _brings(operation):
            self._saw(operation, setup)
            return
        if any((operation.get(key) or "") != (setup.get(key) or "") for key in ("part", "piece")):
            raise Missing("part")
        if piece is None:
            return
        self._made_with(piece, operation, setup)
        self.spotting.look(piece, operation, setup, self.faults)
        all_trued(piece, operation, self.spotting.frames, self.parts, self.faults)
        if kind == "assemble" and not self.together:
            self._put_together()
        spared(piece, operation, self.faults)
        other_dial_said(operation, self.shop.cross_division_mm, self.inch, self.faults)
        if kind == "tack":
            laid(piece, operation, self.faults)
        elif kind == "weld":
            tacked(piece, operation, self.faults)
            weld_on_the_plate(piece, setup, operation, self.faults)
        self.gathered.look(operation)
        eased(self.parts, operation, self.faults)
        scraped_free(operation, setup, self.faults)
        operate(piece, operation, setup, held, self.shop, self.inch, self.faults)
        self.squared.look(piece, operation, setup, self.faults)
        springs(piece, operation, setup, self.faults)

    def _bring(self, operation: Record) -> Piece:
        """A piece is there: sawn off, or the bar pulled out so far. Raises Missing."""
        part = self.parts.get(str(operation.get("part")))
        if part is None:
            raise Missing("part")
        cut = table(operation, "cut")
        ends = cut.get("at_mm") if text(cut, "shape") == "saw" else None
        if not isinstance(ends, list | tuple) or len(ends) != 2:
            raise Missing("cut.at_mm")
        low, high = sorted(float(end) for end in ends)
        name = str(operation.get("piece") or "")
        piece = sawn(part, name, low, high)
        key = (part.name, name if self._member(part.name, name) else "")
        self.pieces[key] = piece
        return piece

    def _saw(self, operation: Record, setup: Record) -> None:
        """A piece comes off its bar, longer than it finishes. Raises Missing."""
        piece = self._bring(operation)
        part = piece.part
        low, high = sorted(float(end) for end in operation["cut"]["at_mm"])
        do = Doing(
            piece, operation, setup, "saw", text(setup, "machine"), Cut("saw"), None, self.faults
        )
        work_done_here(do, self.shop)
        text(operation, "text")
        length = piece.part if piece.member is None else piece.member
        finished = length.blank.length_mm if not isinstance(length.blank, Joined) else 0.0
        if low > 0.01 or high < finished - 0.01:
            self.faults.refuse(
                "route-more-there",
                f"sawn from {self.faults.mm(low)} to {self.faults.mm(high)}",
                f"finished it is {self.faults.mm(finished)} long",
                "Saw it longer than it finishes",
            )
        makes = tuple(operation.get("makes") or ())
        piece.kinds.append("saw")
        measured(do, None, makes)
        if not rows(operation, "measure"):
            raise Missing("measure")
        section = members_section(part, piece)
        sizes_said(operation, None, self.inch, self.faults, section)

    def _made_with(self, piece: Piece, operation: Record, setup: Record) -> None:
        """What is made with another part has it there, or was begun with it."""
        own = piece.part.name
        self.mounted |= {
            (own, str(name))
            for name in operation.get("prepares") or ()
            if name in piece.features
            and piece.features[name].made_with in (setup.get("with_parts") or ())
        }
        for name in operation.get("makes") or ():
            feature = piece.features.get(name)
            if feature is None or not feature.made_with:
                continue
            other = feature.made_with
            if other == WITH_ALL:
                if len(self.parts) > 1 and not self.together:
                    self.faults.refuse(
                        "route-no-work",
                        f"{name} is turned with the attachment",
                        "which is not put together yet",
                        "Put it together and try it first",
                    )
                continue
            if other not in (setup.get("with_parts") or ()) and (own, name) not in self.mounted:
                self.faults.refuse(
                    "route-no-work",
                    f"{name} is made with {other}",
                    "which is not mounted",
                    "Mount it, or spot through it",
                )

    def _put_together(self) -> None:
        """All parts are there and finished, but for what is turned with the attachment itself."""
        self.together = True
        for part in self.parts.values():
            if (whole := self.pieces.get((part.name, ""))) is not None and burred(whole):
                self.faults.refuse(
                    "route-order",
                    f"{part.name}: its edges",
                    "were cut and never broken",
                    "Deburr it before it is put together",
                )
            for owner, feature in every_feature(part):
                piece = self.pieces.get(self._key(part, owner))
                if feature.made_with == WITH_ALL or piece and piece.made.get(feature.name):
                    continue
                self.faults.refuse(
                    "route-order",
                    f"{part.name}: {feature.name}",
                    "is not made when all is put together",
                    "Make it first",
                )

    def _finished(self, part: Part) -> bool:
        """Whether all its features are made; where only some parts are walked, the others are."""
        if part.name not in self.parts:
            return True
        every = ((self.pieces.get(self._key(part, o)), one) for o, one in every_feature(part))
        return all(piece and piece.made.get(one.name) for piece, one in every)

    def _key(self, part: Part, owner: Member | None) -> Key:
        """Where a feature's piece is kept."""
        own = owner is not None and isinstance(part.blank, Joined)
        return (part.name, owner.name if owner is not None and own else "")

    # ---- the end ----

    def _all_done(self) -> None:
        """Every feature of every part is made once, and nothing is left over."""
        for part in self.parts.values():
            self._at(part.name)
            for owner, feature in every_feature(part):
                piece = self.pieces.get(self._key(part, owner))
                if piece is None or not piece.made.get(feature.name):
                    self.faults.refuse(
                        "route-left-out", feature.name, "no step finishes it", "Make it"
                    )
            whole = self.pieces.get((part.name, ""))
            weld_left(whole, self.faults)
            if whole is None:
                self.faults.refuse("route-left-out", part.name, "is never put together", "Make it")
            elif not finished_sizes(whole):
                left = "some of it is left where it is to be cut"
                self.faults.refuse("route-not-made", part.name, left, "Cut it to size")


def _brings(operation: Record) -> bool:
    """Whether an operation is the first of its piece: sawn, or the bar pulled out."""
    cut = operation.get("cut")
    return operation.get("kind") == "saw" or (isinstance(cut, dict) and cut.get("shape") == "saw")


def members_section(part: Part, piece: Piece) -> tuple[float, ...]:
    """The sizes of a piece's bar, mm."""
    blank = piece.member.blank if piece.member is not None else part.blank
    if isinstance(blank, Joined):
        return ()
    section = blank.section
    return (section.width_mm, section.height_mm, section.thickness_mm, section.width_mm / 2)
