"""What is made on a blank: one frozen dataclass per feature type, sizes and no behaviour.

A feature says what it is called, how big it is and within which limits, the datum it is measured
from and the stage at which it is made. How it looks as a solid, which call-out it gets, which
operation makes it and which gauge measures it are rules of the planner, kept together there by
question. Positions are in the frame of the blank (or of the weldment) the feature is made on.
"""

from __future__ import annotations

from enum import StrEnum

from parts.frame import Axis, Box, Direction, Point
from parts.places import Place, along_index, element, plane
from parts.standard.fits import Limits
from parts.standard.fits import general as general
from parts.value import Value


class Stage(StrEnum):
    """When a feature is made."""

    BLANK = "on the blank"
    JOINING = "joining"
    WELDED = "after welding"
    IN_PLACE = "in place on the lathe"
    LAST = "last of all"


class Location(Value, frozen=True):
    """How far an element of a feature lies from a datum, along one direction, within limits.

    datum: its letter; along: from the datum to the feature; size: the distance, mm, never negative.
    """

    datum: str
    along: Direction
    size: Limits
    element: str = "axis"


class Feature(Value, frozen=True, kw_only=True):
    """What every feature has.

    name: unique on its part, in shop words.
    datum: letter of the datum it is measured from, explained in the part's ``datums``.
    stage: when it is made; ``Part`` checks it against the blank.
    made_with: another part it is made with, because it is mounted in that part or spotted through
    it; "attachment" when all the other parts must be there.
    note: what the sheet must say besides the size.
    locations: where it lies, measured from datums; what is in line by design is an Agreement of the
    part instead.
    check: what to try besides measuring, and with what ("the rod still slides", "the rod itself").
    held: how it is held for this, where its kind's own way of holding will not do.
    roughness_um: Ra of the surface, 0 where it does not matter.
    """

    name: str
    datum: str
    stage: Stage = Stage.BLANK
    made_with: str = ""
    note: str = ""
    locations: tuple[Location, ...] = ()
    check: tuple[str, str] = ("", "")
    held: str = ""
    roughness_um: float = 0.0


# ---- ends and turned surfaces: about an axis, between two stations along it ----


class FacedLength(Feature, frozen=True, kw_only=True):
    """Both ends of the blank faced square to ``length``."""

    length: Limits


class Turned(Feature, frozen=True, kw_only=True):
    """What all features made about a turning axis share: the axis and two stations on it, mm."""

    start_mm: float
    end_mm: float
    axis: Axis = Axis()


class TurnedDiameter(Turned, frozen=True, kw_only=True):
    """A cylinder turned between two stations."""

    diameter: Limits


class FacedShoulder(Turned, frozen=True, kw_only=True):
    """A face turned square to the axis: material of the given diameter removed between stations."""

    diameter: Limits


class Thread(Turned, frozen=True, kw_only=True):
    """An external thread; ``thread`` is a designation in parts.standard.threads."""

    thread: str


class Knurl(Turned, frozen=True, kw_only=True):
    """A straight knurl on a cylinder of ``diameter``."""

    diameter: Limits
    pitch_mm: float


class EngravedScale(Turned, frozen=True, kw_only=True):
    """Division lines engraved parallel to the axis round a cylinder, from station ``start_mm``.

    The lines begin at ``start_mm`` (the edge beside the index mark); ``end_mm`` is the far end of
    the longest. Angles and length classes of the lines are the dial table's business, but the shorter
    classes are whole steps of ``line_step_mm`` long; 0 for any length.
    """

    diameter: Limits
    divisions: int
    line_width_mm: float
    line_step_mm: float = 0.0


class IndexMark(Turned, frozen=True, kw_only=True):
    """One line engraved parallel to the axis on a cylinder, that a dial is read against.

    angle_deg: where it stands, about the axis by the right-hand rule, from +z (from +x on an axis along
    z).
    """

    diameter: Limits
    angle_deg: float
    line_width_mm: float


class TurnedBall(Turned, frozen=True, kw_only=True):
    """A ball turned about the axis between two stations; its centre is ``diameter``/2 from the end.

    ``start_mm`` is where the ball meets its seat or stem, ``end_mm`` its nose.
    """

    diameter: Limits


# ---- holes: from an entry point along an axis to a depth ----


class Hole(Feature, frozen=True, kw_only=True):
    """What all holes share: the entry point and direction, and how deep they go, mm.

    opens_into: the hole, slot or slit of the same part that it ends in; a through hole without one
    comes out at the far side.
    """

    axis: Axis
    depth_mm: float
    through: bool = True
    opens_into: str = ""


class DrilledHole(Hole, frozen=True, kw_only=True):
    """A drilled hole."""

    diameter: Limits


class ReamedHole(Hole, frozen=True, kw_only=True):
    """A hole spotted, drilled under size and reamed."""

    diameter: Limits


class Bore(Hole, frozen=True, kw_only=True):
    """A hole bored with a single point, so that it follows the machine and not the drill."""

    diameter: Limits


class Counterbore(Hole, frozen=True, kw_only=True):
    """A flat-bottomed enlargement for a screw head."""

    diameter: Limits


class TappedHole(Hole, frozen=True, kw_only=True):
    """A tapped hole; ``depth_mm`` is the full thread, a blind hole is drilled deeper."""

    thread: str


# ---- milled and sawn: a box of material removed ----


class Removed(Feature, frozen=True, kw_only=True):
    """What milled and sawn features share: the box of material they remove, mm."""

    box: Box


class MilledFlat(Removed, frozen=True, kw_only=True):
    """A flat; its first location is the size measured to it from the datum."""

    @property
    def across(self) -> Limits:
        """The size measured to it."""
        return self.locations[0].size


class MilledSlot(Removed, frozen=True, kw_only=True):
    """A slot of the given width."""

    width: Limits


class Slit(Removed, frozen=True, kw_only=True):
    """A saw slit of the given width: always the last cut on its part.

    least_mm: the least metal it leaves beside a bore with everything at its limits, 0 where it comes
    near none.
    """

    width: Limits
    least_mm: float = 0.0


class SawnNotch(Removed, frozen=True, kw_only=True):
    """A corner taken out of a flat bar or plate: part of its outline, right through its thickness.

    corner_radius_mm: radius left in the inner corner.
    """

    corner_radius_mm: float = 0.0


class ScribedLine(Removed, frozen=True, kw_only=True):
    """A straight line scribed on a face, for one mark to meet another."""


# ---- the rest ----


class GroundPoint(Feature, frozen=True, kw_only=True):
    """The cutting end of a tool bit, ground by hand: nose at the blank's start, on its +z face.

    nose_radius_mm, included_deg (between the two cutting sides, seen on the rake face) and
    clearance_deg (below the edge) are the grind; tip: where the nose stands.
    """

    tip: Point

    nose_radius_mm: float
    included_deg: float
    clearance_deg: float


class Weld(Feature, frozen=True, kw_only=True):
    """A weld between two members: ``kind`` is fillet, flare-bevel or bevel.

    leg_mm is the leg of a fillet or the depth of the preparation; length_mm the run. edge: of where the
    two touch, the side along which it runs, "y-high"; all_round: it comes back to where it began there.
    """

    kind: str
    leg_mm: float
    length_mm: float
    members: tuple[str, str]
    edge: str = ""
    all_round: bool = False
    stage: Stage = Stage.JOINING


@element.register
def _(carrier: Turned, name: str) -> Place:
    along = along_index(carrier.axis.along)
    if name == "axis":
        return Place("axis", along, carrier.axis.origin)
    stations = {"start": carrier.start_mm, "end": carrier.end_mm}
    return plane(along, carrier.axis.at(stations[name]))


@element.register
def _(carrier: Hole, name: str) -> Place:
    along = along_index(carrier.axis.along)
    if name == "axis":
        return Place("axis", along, carrier.axis.origin)
    depths = {"entry": 0.0, "bottom": carrier.depth_mm}
    return plane(along, carrier.axis.at(depths[name]))


@element.register
def _(carrier: Removed, name: str) -> Place:
    return element(carrier.box, name)


@element.register
def _(carrier: GroundPoint, name: str) -> Place:
    return {"tip": Place("point", 0, carrier.tip)}[name]


def feature_types() -> tuple[type[Feature], ...]:
    """Every concrete feature type, in the order of this file."""
    abstract = {Turned, Hole, Removed}
    found: list[type[Feature]] = []

    def walk(cls: type[Feature]) -> None:
        for sub in cls.__subclasses__():
            if sub not in abstract:
                found.append(sub)
            walk(sub)

    walk(Feature)
    return tuple(found)
