"""A head that exists, entered by its measured sizes: for those who turn with it and build nothing."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, model_validator

from planner.job.base import Table
from planner.job.fields import Pitch, force, length, problem


class OwnHead(Table):
    """A ball-turning head that exists, measured with the pivot across the bed.

    Lengths "along the pivot" count from the plane in which the tip swings, lengths "along the rod" from
    the pivot's axis.
    """

    largest_ball: Annotated[float, length(4, 1000)] = Field(
        description="diameter, with the tip as far out as it goes"
    )
    smallest_ball: Annotated[float, length(2, 1000)] = Field(
        description="diameter, with the tip as far in as it goes"
    )
    screw_pitch: Pitch
    dial_divisions: int = Field(ge=4, le=400, strict=True)
    rod_diameter: Annotated[float, length(3, 200)] = Field(
        description="of the slide or rod that carries the arm; of a square one its side"
    )
    overhang: Annotated[float, length(2, 600)] = Field(
        description="along the pivot, to the rod's axis"
    )
    beside: Annotated[float, length(2, 600)] = Field(
        description="along the pivot, to the nearest of what turns beside the work"
    )
    bit_stickout: Annotated[float, length(1, 200)] = Field(
        description="of the bit out of the arm, along the rod"
    )
    bit_width: Annotated[float, length(2, 40)] = Field(description="of the square or round bit")
    nose: Annotated[float, length(0.05, 10)] | None = Field(
        None,
        description="radius of the bit's nose; default: a twelfth of its width, 0.4 mm at least",
    )
    arm_height: Annotated[float, length(3, 200)] = Field(description="of the arm, along the rod")
    arm_width: Annotated[float, length(3, 300)] = Field(
        description="of the arm, the way it swings; half of it before the bit's middle, half behind"
    )
    tail: Annotated[float, length(5, 800)] = Field(
        description="along the rod, to the far end of rod and dial, the tip at the largest ball"
    )
    body_radius: Annotated[float, length(5, 400)] = Field(
        description="the farthest that the body which turns on the pivot reaches from its axis"
    )
    handle_length: Annotated[float, length(10, 1000)] = Field(
        description="from the pivot's axis to the middle of the knob"
    )
    knob: Annotated[float, length(2, 1500)] | None = Field(
        None, description="along the pivot, to the knob; default: the hand's room is not checked"
    )
    grip: Annotated[float, force(1, 50_000)] = Field(
        description="pull along the rod at which the tightened clamp slips, by a spring balance"
    )
    gives: Annotated[float, length(0.0005, 5)] | None = Field(
        None,
        description="how far the tip gives along the rod under 100 N, or 20 lbf in an inch job, by an"
        " indicator; default: three times what rod and arm give",
    )
    clearance: Annotated[float, length(0.2, 20)] = Field(
        2.0, description="kept between moving and standing things; default 2 mm, or 5/64 in"
    )

    @model_validator(mode="after")
    def _sound(self) -> OwnHead:
        if self.smallest_ball >= self.largest_ball:
            limit = "own_head.smallest_ball: the smallest ball is no smaller than the largest"
            raise problem("balls-reversed", limit, "Exchange them")
        return self


def as_attachment(own: Any) -> Any:
    """What a job's other tables want to know of a head that exists, where the file does not say it."""
    if not isinstance(own, dict):
        return None
    names = {
        "max_ball_diameter": "largest_ball",
        "min_ball_diameter": "smallest_ball",
        "screw_pitch": "screw_pitch",
        "dial_divisions": "dial_divisions",
    }
    return {key: own[name] for key, name in names.items() if name in own}
