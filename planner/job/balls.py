"""The balls of a job and how they are turned, as tables that pydantic checks."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from parts.standard.threads import thread
from planner.job.base import Table
from planner.job.fields import Count, Material, Named, Speed, ThreadName, length, problem, torque


class Ball(Table):
    """A ball to be turned."""

    name: Named = Field("", max_length=60)
    diameter: Annotated[float, length(2, 1000)]
    tolerance: Annotated[float, length(0.001, 5)] | None = Field(
        None, description="plus or minus, on the diameter; default: none stated"
    )
    shape: Literal["ball", "hemisphere", "taper handle", "socket"] = Field(
        "ball",
        description="a whole ball on a stem, half of one, one on a taper handle, or a hollow",
    )
    blank_diameter: Annotated[float, length(2, 1200)] | None = Field(
        None, description="default: the ball's diameter"
    )
    stem_diameter: Annotated[float, length(1, 1000)] | None = Field(
        None, description="the neck it stands on; default: 0.35 of the ball"
    )
    stem_length: Annotated[float, length(0, 2000)] | None = Field(
        None,
        description="behind the ball, to the handle's other end or to where it is parted off; default:"
        " none is left, the stem side is finished in a second holding",
    )
    large_diameter: Annotated[float, length(2, 1000)] | None = Field(
        None, description="of a taper handle, at its other end"
    )
    depth: Annotated[float, length(0.5, 500)] | None = Field(
        None, description="of a socket, from the face; its diameter is the sphere's"
    )
    hole: Annotated[float, length(0.5, 500)] | None = Field(
        None, description="diameter of a hole from the nose"
    )
    thread: ThreadName | None = Field(None, description="of a tapped hole from the nose")
    hole_depth: Annotated[float, length(0.5, 1000)] | None = Field(
        None, description="default: right through the ball"
    )
    material: Material | None = Field(None, description="default: that of the dial and knob")
    quantity: Count = Field(1, description="how many are turned")
    blank_shape: Literal["round", "square", "hexagon"] = Field(
        "round", description="of the bar; blank_diameter is then across its flats"
    )
    skin: Annotated[float, length(0, 10)] = Field(
        0.0, description="scale, rust or cast skin on the blank, that no edge should run in"
    )
    second_holding: Literal["threaded stub", "soft jaws", "cup"] | None = Field(
        None,
        description="how a ball without a stem is held to finish its stem side; default: by its thread,"
        " else in soft jaws where the lathe has them, else in a split cup",
    )
    depth_of_cut: Annotated[float, length(0.01, 10)] | None = Field(
        None, description="no pass deeper than this; default: as deep as the limits let it be"
    )
    spindle_speed: Speed | None = Field(
        None, description="rev/min for every pass; default: the fastest that the limits let be"
    )
    rough_passes: Annotated[int, Field(ge=1, le=200, strict=True)] | None = Field(
        None, description="so many passes before the last cut; default: as many as are fastest"
    )

    @property
    def stemless(self) -> bool:
        """Whether nothing is left on it behind: a ball with no length of stem."""
        return self.shape == "ball" and self.stem_length is None

    @model_validator(mode="after")
    def _sound(self) -> Ball:
        if self.blank_diameter and self.blank_diameter < self.diameter and self.shape != "socket":
            limit = "blank_diameter: the blank is thinner than the ball"
            remedy = "Give at least the ball's diameter, or mend that"
            raise problem("blank-size", limit, remedy)
        if self.stem_diameter and self.stem_diameter >= self.diameter:
            thicker = self.stem_diameter > self.diameter
            remedy = (
                "Exchange diameter and stem_diameter, or mend one"
                if thicker
                else "Give a thinner stem"
            )
            limit = (
                "stem_diameter: the stem is thicker than the ball"
                if thicker
                else "stem_diameter: the stem is as thick as the ball"
            )
            raise problem("stem-size", limit, remedy)
        if self.hole and self.thread:
            raise problem("hole-size", "a hole and a thread", "Give one of them")
        if self.second_holding == "threaded stub" and not self.thread:
            limit = "second_holding: a stub needs a thread in the ball, and it has none"
            raise problem("wrong-value", limit, "Give its thread, or hold it in a cup or soft jaws")
        bore = self.hole or (thread(self.thread).major_mm if self.thread else 0.0)
        if bore >= 0.8 * self.diameter:
            limit = "the hole leaves no ball"
            raise problem("hole-size", limit, "Give one under 0.8 of the ball's diameter")
        if self.shape == "taper handle" and not (self.large_diameter and self.stem_length):
            limit = "a taper handle needs its large_diameter and its stem_length"
            raise problem("taper-handle", limit, "Give both")
        if self.shape == "taper handle" and self.large_diameter:
            thick = self.blank_diameter or self.diameter
            if self.large_diameter > thick - 2 * self.skin:
                limit = "the handle's large end is thicker than the blank"
                raise problem("taper-handle", limit, "Give a thicker blank_diameter")
            if self.stem_diameter and self.large_diameter < self.stem_diameter:
                limit = "the handle's large end is thinner than its stem at the ball"
                raise problem("taper-handle", limit, "Exchange stem_diameter and large_diameter")
        if self.shape == "socket" and not (self.depth and self.depth <= self.diameter / 2):
            limit = "a socket needs its depth, at most half its diameter"
            raise problem("socket-depth", limit, "Give depth from the face")
        return self


class Centre(Table):
    """A tailstock centre that supports the work."""

    diameter: Annotated[float, length(2, 200)] = Field(description="of its body")
    point_length: Annotated[float, length(1, 300)] = Field(
        description="from its point to where it has its full diameter"
    )


INCH_TURNING = {
    "depth_of_cut": 0.010,
    "feed": 0.003,
    "allowance": 0.020,
    "finish_depth": 0.002,
    "finish": 0.00004,
    "roughing_width": 0.125,
    "roughing_corner": 0.008,
}
"""What an inch shop's turning takes for granted, in inches: round numbers near the metric ones
(common practice)."""


class Turning(Table):
    """How the balls are turned: what the strength of the attachment is checked against."""

    depth_of_cut: Annotated[float, length(0.01, 5)] = Field(
        0.25,
        description="radial, of one pass: what the check holds the attachment against, default 0.25 mm"
        " or 0.010 in; where it is given, no pass is deeper",
    )
    feed: Annotated[float, length(0.005, 1)] = Field(
        0.08, description="per turn of the spindle; default 0.08 mm or 0.003 in"
    )
    clamp_torque: Annotated[float, torque(0.01, 200)] | None = Field(
        None,
        description="tightening torque of the clamp; default: 40 N, or 9 lbf, at the end of its lever",
    )
    tailstock_centre: Centre | None = None
    allowance: Annotated[float, length(0.05, 10)] = Field(
        0.5, description="left over the ball by roughing; default 0.5 mm or 0.020 in"
    )
    finish_depth: Annotated[float, length(0.005, 1)] = Field(
        0.05, description="of the last cut; default 0.05 mm or 0.002 in"
    )
    spring_passes: Annotated[int, Field(ge=0, le=10, strict=True)] | None = Field(
        None, description="at the last reading; default: one, two where the second still cuts"
    )
    finish: Annotated[float, length(0.0001, 0.1)] = Field(
        0.001,
        description="height of the ridges that finishing may leave; default 0.001 mm or 0.00004 in",
    )
    roughing_tool: Literal["plain", "parting"] = "parting"
    roughing_width: Annotated[float, length(0.5, 20)] = Field(
        3.0, description="of the parting tool; default 3 mm or 1/8 in"
    )
    roughing_corner: Annotated[float, length(0, 10)] = Field(
        0.2,
        description="radius of the roughing tool's corners, or of its nose; default 0.2 mm or 0.008 in",
    )
    order_blanks: bool = Field(
        False, description="whether the balls' blanks go to the cut list, round and square ones"
    )
    roughing_pitch: Annotated[float, length(0.1, 50)] | None = Field(
        None, description="carriage travel between steps; default: as few steps as will do"
    )

    @property
    def by_inches(self) -> Turning:
        """The same with what is not given as an inch shop has it; what is given stays as it is."""
        given = {key: getattr(self, key) for key in type(self).model_fields}
        assumed = {key: inches * 25.4 for key, inches in INCH_TURNING.items()}
        said = {key: given[key] for key in self.model_fields_set}
        return Turning.model_construct(self.model_fields_set, **given | assumed | said)

    @property
    def pinned_depth(self) -> float | None:
        """The depth of cut where the job gives one."""
        return self.depth_of_cut if "depth_of_cut" in self.model_fields_set else None
