"""One operation: what it asks of the work, what it takes off, and what it leaves.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts import features as f
from parts.standard.threads import thread
from planner.walking.cuts import Cut, cloud, cut_of
from planner.walking.divided import engraved
from planner.walking.doing import Doing
from planner.walking.faults import Faults
from planner.walking.fineness import FINE_BAND_MM, fine_enough, is_fine
from planner.walking.fixed import Fixed
from planner.walking.gauging import measured
from planner.walking.held import Held
from planner.walking.knurled import wheel_comes
from planner.walking.mouths import mouth_eased, swings_clear
from planner.walking.order import before_it, work_done_here
from planner.walking.parting import parted
from planner.walking.piloted import piloted
from planner.walking.reach import reachable
from planner.walking.records import Record, text
from planner.walking.said import (
    cuts_said,
    dials_said,
    doubly_said,
    found_said,
    place_said,
    sizes_said,
    there_said,
)
from planner.walking.saws import sawn_round
from planner.walking.shape import NEAR_MM, Block, Line, Region, Ring
from planner.walking.shop import Shop
from planner.walking.state import Mark, Piece
from planner.walking.surfaces import radius_of
from planner.walking.touched import side_there
from planner.walking.travels import slides_travel

BESIDE = ("centre", "spot", "deburr", "groove", "dress", "chamfer")
"""Kinds that may take a trifle of what the part keeps: a centre hole, a chamfer, a run-out groove."""

MOST_BESIDE_MM = 2.0
"""No more than this, from any face (a run-out groove is as deep as its thread)."""

IDLE = ("check", "assemble", "rest", "deburr", "dress", "stamp", "tack", "weld")
"""Kinds that need no cut."""

LAST = ("slit", "deburr", "check", "assemble", "stamp", "rest")
"""What may still be done on work that is slit."""


def operate(
    piece: Piece,
    operation: Record,
    setup: Record,
    held: Held | Fixed | None,
    shop: Shop,
    inch: bool,
    faults: Faults,
) -> None:
    """One operation on a piece: looked at, then done. Raises Missing."""
    kind, machine = text(operation, "kind"), text(setup, "machine")
    text(operation, "text")
    feature = piece.features.get(str(operation.get("feature") or ""))
    _stage(piece, operation, kind, faults)
    makes = tuple(operation.get("makes") or ())
    prepares = tuple(operation.get("prepares") or ())
    _datums(piece, (*makes, *prepares), faults)
    idle = kind in IDLE and not operation.get("cut")
    cut = Cut("none") if idle else cut_of(piece, operation, feature)
    do = Doing(piece, operation, setup, kind, machine, cut, held, faults)
    if kind not in ("check", "rest", "assemble"):
        work_done_here(do, shop)
    slides_travel(do, shop)
    swings_clear(do)
    mouth_eased(do)
    if kind == "slit" and cut.regions:
        sawn_round(do, shop)
    if kind == "knurl":
        wheel_comes(do)
    parted(do)
    piloted(do)
    cut = do.cut
    if cut.regions or cut.shape == "thread":
        reachable(do, shop)
        before_it(do)
        side_there(do, inch)
        looked = [_Looked(do.piece, region) for region in cut.regions]
        _takes_something(do, looked)
        _spoils_nothing(do, [*looked, *(_Looked(do.piece, drop) for drop in cut.drops)])
    if kind == "engrave":
        engraved(do, feature, shop)
    _do(do)
    _remember(piece, operation, (*makes, *prepares), kind, faults)
    for name in makes:
        _made(do, name)
    measured(do, feature, makes)
    sizes_said(operation, feature, inch, faults)
    place_said(operation, feature, inch, faults, piece.metal.box)
    bored = any(isinstance(piece.features.get(o), f.Bore | f.ReamedHole) for o in piece.begun)
    there_said(operation, bored, faults)
    dials_said(operation, inch, faults)
    found_said(operation, setup, feature, faults)
    doubly_said(operation, faults)
    cuts_said(operation, inch, faults)


def _stage(piece: Piece, operation: Record, kind: str, faults: Faults) -> None:
    """Slits are last of all."""
    if "slit" in piece.kinds and kind not in LAST:
        faults.refuse(
            "route-stage",
            f"{kind} after a slit",
            "a slit springs: it is the last cut on its part",
            "Do this before",
        )
    feature = piece.features.get(str(operation.get("feature") or ""))
    if (
        feature is not None
        and feature.stage is f.Stage.LAST
        and feature.name in (operation.get("makes") or ())
    ):
        open_ones = [
            one.name
            for one in piece.features.values()
            if one.stage is not f.Stage.LAST and not piece.made.get(one.name)
        ]
        if open_ones:
            faults.refuse(
                "route-stage",
                f"{feature.name} before {open_ones[0]}",
                "it is the last cut on its part",
                "Finish the rest first",
            )


def _datums(piece: Piece, names: tuple[str, ...], faults: Faults) -> None:
    """What a feature is measured from is there before it is begun."""
    for name in names:
        feature = piece.features.get(name)
        if feature is None or name in piece.begun:
            continue
        datums = piece.member.datums if piece.member is not None else piece.part.datums
        for location in feature.locations:
            carrier = datums[location.datum].of
            known = piece.features.get(carrier)
            if known is not None and carrier != name and carrier not in piece.begun:
                faults.refuse(
                    "route-no-datum",
                    f"{name} is measured from {carrier}",
                    "which is not made yet",
                    f"Make {carrier} first",
                )


class _Looked:
    """A region that a cut takes: sample points of it, and at which of them there is metal."""

    def __init__(self, piece: Piece, region: Region) -> None:
        self.region, self.points = region, cloud(region, piece.metal)
        self.there = piece.metal.has(self.points)


def _takes_something(do: Doing, looked: Sequence[_Looked]) -> None:
    if do.kind in ("check", "engrave", "stamp", "knurl") or do.cut.shape == "thread":
        return
    if not any(one.there.any() for one in looked):
        do.faults.refuse(
            "route-cuts-nothing",
            do.kind,
            "there is no metal where it cuts",
            "Leave it out, or put it where the metal is",
        )
        return
    if do.cut.shape == "face" and do.cut.line is not None and do.kind != "part":
        _all_before(do, do.cut.line)


def _all_before(do: Doing, axis: Line) -> None:
    """A face takes off all that stands before it, or passes a journal that stays."""
    cut = do.cut
    far = (cut.low if cut.keeps > 0 else cut.high) - cut.keeps * 3 * NEAR_MM
    radii = [cut.before + 0.1, (cut.before + cut.radius) / 2, cut.radius - 0.1]
    if do.piece.metal.has(axis.cloud([far, far - cut.keeps * 0.5], radii)).any():
        do.faults.refuse(
            "route-more-there",
            "more stands before the face than is said to come off",
            f"{do.faults.mm(cut.high - cut.low)} off",
            "Say how much there is",
        )
    beyond = axis.cloud([(cut.low + cut.high) / 2], [cut.radius + 0.15, cut.radius + 1.0])
    if cut.before == 0 and do.piece.metal.has(beyond).any():
        do.faults.refuse(
            "route-more-there",
            f"the work is thicker than {do.faults.mm(2 * cut.radius)}",
            "the face is swept no farther",
            "Face all of it",
        )


def _spoils_nothing(do: Doing, looked: Sequence[_Looked]) -> None:
    """Nothing that the finished part keeps."""
    for one in looked:
        if not one.there.any():
            continue
        metal = one.points[one.there]
        gone = metal[one.region.has(metal)]
        if not len(gone):
            continue
        lost = do.piece.kept.has(gone)
        if do.kind in BESIDE and _small(do):
            continue
        if lost.mean() > 0.004 or lost.sum() > 2:
            do.faults.refuse(
                "route-spoils",
                do.kind,
                "it takes metal that the finished part keeps",
                "Cut where the part has it",
            )
            return


def _small(do: Doing) -> bool:
    """Whether a cut takes no more than a centre hole, a chamfer or a run-out groove does."""
    cut = do.cut
    if cut.shape == "turn":
        return cut.before - cut.radius <= MOST_BESIDE_MM
    if cut.shape in ("hole", "bore"):
        return do.kind in ("centre", "spot") and 2 * cut.radius <= 14.0
    return do.kind in ("deburr", "chamfer", "dress")


def _do(do: Doing) -> None:
    """Take it off, and leave the marks of it."""
    piece, cut, kind = do.piece, do.cut, do.kind
    for region in (*cut.regions, *cut.drops):
        piece.metal.cut(region)
    if kind in ("centre", "spot") and cut.line is not None:
        sign = cut.line.sign
        entry = cut.low if sign > 0 else cut.high
        piece.marks.append(Mark(kind, cut.line, entry, entry, cut.radius, False, -sign))
    if cut.shape == "face" and cut.line is not None:
        piece.faced.add((cut.line.along, -cut.keeps))
    if cut.shape == "flat":
        (block,) = cut.regions
        assert isinstance(block, Block)
        for along in range(3):
            for sign in (-1, 1):
                if _whole_end(piece, block, along, sign):
                    piece.faced.add((along, sign))
    if cut.shape == "thread" and cut.line is not None:
        piece.marks.append(Mark("thread", cut.line, cut.low, cut.high, cut.radius, cut.inside))
    if kind in ("knurl", "engrave") and cut.line is not None:
        name = "knurl" if kind == "knurl" else "engraved"
        feature = piece.features.get(str(do.operation.get("feature") or ""))
        radius = radius_of(feature) if feature is not None else cut.radius
        piece.marks.append(Mark(name, cut.line, cut.low, cut.high, radius))


def _whole_end(piece: Piece, block: Block, along: int, sign: int) -> bool:
    """Whether a box took all of an end: nothing is left on its far side."""
    end = piece.metal.end(along, sign)
    face = block.low[along] if sign > 0 else block.high[along]
    return end is not None and abs(end - face) < NEAR_MM


def _remember(
    piece: Piece, operation: Record, names: tuple[str, ...], kind: str, faults: Faults
) -> None:
    for name in names:
        if name not in piece.features:
            faults.refuse(
                "route-no-feature",
                name,
                "the work has no such feature in this state",
                "Name one of the part, on the piece that has it",
            )
            continue
        piece.begun.setdefault(name, []).append(kind)
    piece.kinds.append(kind)


def _made(do: Doing, name: str) -> None:
    """A feature that is said to be finished is there, in full, by a way that holds its limits."""
    piece, faults = do.piece, do.faults
    feature = piece.features.get(name)
    if feature is None:
        return
    piece.made[name] = piece.made.get(name, 0) + 1
    if piece.made[name] > 1:
        faults.refuse("route-twice", name, "is finished already", "Do it once")
    if isinstance(feature, f.TurnedDiameter) and is_fine(feature):
        piece.fined[name] = do.setup.get("number")
    fine_enough(do, feature)
    _within_limits(do, feature)
    for region in piece.takes(name).least:
        points = cloud(region, piece.metal, ends=True)
        if len(points) and piece.metal.has(points[region.has(points)]).any():
            faults.refuse(
                "route-not-made",
                name,
                "there is metal left where it is to be",
                "Cut it to its size and place",
            )
            break
    if isinstance(feature, f.FacedLength):
        _faced(piece, feature, faults)
    if isinstance(feature, f.Thread | f.Knurl | f.EngravedScale) and not _marked(piece, feature):
        faults.refuse("route-not-made", name, "it is not cut over its length", "Cut all of it")
    _mark_fine(piece, feature)


def _within_limits(do: Doing, feature: f.Feature) -> None:
    """The size that the finishing cut is worked to lies within the feature's limits."""
    size, cut = getattr(feature, "diameter", None), do.cut
    if (
        size is None
        or cut.shape not in ("turn", "bore", "hole")
        or isinstance(feature, f.FacedShoulder)
    ):
        return
    if float(do.operation.get("allowance_mm") or 0.0) > 0:
        do.faults.refuse(
            "route-not-made",
            feature.name,
            "something is still left on it",
            "Finish it before it is called made",
        )
    if not size.min_mm - 0.0015 <= 2 * cut.radius <= size.max_mm + 0.0015:
        do.faults.refuse(
            "route-not-made",
            f"{feature.name} cut to {do.faults.numbers.fine(2 * cut.radius)}",
            f"its limits are {do.faults.numbers.between(size)}",
            "Cut it to a size within them",
        )


def _faced(piece: Piece, feature: f.FacedLength, faults: Faults) -> None:
    """Both ends cut square, so far apart."""
    low, high = piece.metal.end(0, -1), piece.metal.end(0, 1)
    if low is None or high is None:
        return
    size = feature.length
    if not size.min_mm - 0.002 <= high - low <= size.max_mm + 0.002:
        faults.refuse(
            "route-not-made",
            f"{feature.name}: {faults.mm(high - low)} long",
            f"its limits are {faults.numbers.between(size)}",
            "Face it to length",
        )
    for sign, words in ((-1, "first"), (1, "other")):
        if (0, sign) not in piece.faced:
            faults.refuse(
                "route-not-made",
                f"{feature.name}: the {words} end",
                "is still as sawn",
                "Face both ends",
            )


def _marked(piece: Piece, feature: f.Turned) -> bool:
    kinds = {f.Thread: "thread", f.Knurl: "knurl", f.EngravedScale: "engraved"}
    length = feature.end_mm - feature.start_mm
    wanted = kinds[type(feature)]
    if isinstance(feature, f.Thread):
        length -= 1.5 * thread(feature.thread).pitch_mm  # as a die or a groove leaves it
    return any(m.high - m.low >= length - 0.6 for m in piece.marks if m.kind == wanted)


def _mark_fine(piece: Piece, feature: f.Feature) -> None:
    """Remember fine round surfaces, that bare jaws would mark."""
    size = getattr(feature, "diameter", None)
    if size is None or not isinstance(feature, f.TurnedDiameter | f.Bore | f.ReamedHole):
        return
    if size.upper_mm - size.lower_mm > FINE_BAND_MM:
        return
    for region in piece.takes(feature.name).least:
        if isinstance(region, Ring):
            inside = isinstance(feature, f.Hole)
            axis = Line(region.along, 1, region.centre)
            piece.marks.append(
                Mark("fine", axis, region.low, region.high, size.nominal_mm / 2, inside)
            )


def finished_sizes(piece: Piece) -> bool:
    """Whether nothing is left where some feature of the piece is to be."""
    for name in piece.features:
        for region in piece.takes(name).least:
            points = cloud(region, piece.metal)
            if len(points) and bool(np.any(piece.metal.has(points[region.has(points)]))):
                return False
    return True
