"""The lathe of a job and its tool post: what is measured on the machine."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planner.job.base import Table
from planner.job.fields import Span, Speed, length, power, problem


class Lathe(Table):
    """The lathe."""

    spindle_over_seat: Annotated[float, length(3, 400)] = Field(
        description="height of the spindle axis over the seat of the tool post"
    )
    spindle_over_cross_slide: Annotated[float, length(10, 800)] = Field(
        description="height of the spindle axis over the cross slide"
    )
    chuck_diameter: Annotated[float, length(20, 1000)]
    jaw_reach: Annotated[float, length(0, 300)] = Field(
        description="how far the jaws stand out of the chuck's face"
    )
    spindle_bore: Annotated[float, length(5, 300)] | None = Field(
        None, description="bar up to this diameter goes through the spindle; default: none does"
    )
    jaw_diameter: Annotated[float, length(10, 1200)] | None = Field(
        None, description="across the jaws' outsides, on the blank; default: the chuck's diameter"
    )
    spindle_speeds: list[Speed] = Field(min_length=1, description="all of them, rev/min")
    cross_slide_division: Annotated[float, length(0.001, 1)] | None = Field(
        None, description="travel of the cross slide for one division of its dial"
    )
    carriage_division: Annotated[float, length(0.001, 5)] | None = Field(
        None,
        description="travel of the carriage, or of the top slide, for one division of its dial",
    )
    post_nearest: Annotated[float, length(0, 800)] | None = Field(
        None,
        description="from the spindle axis to the tool post's middle, cross slide run right in;"
        " default: not checked",
    )
    post_farthest: Annotated[float, length(5, 1500)] | None = Field(
        None, description="the same with the cross slide run right out; default: not checked"
    )
    post_to_jaws: Annotated[float, length(0, 800)] | None = Field(
        None,
        description="from the jaws' front to the tool post's middle, the carriage run up to the chuck"
        " or the headstock; default: not checked",
    )
    tailstock_reach: Annotated[float, length(1, 500)] | None = Field(
        None,
        description="how far the tailstock's centre comes out in front of its body;"
        " default: not checked",
    )

    motor_power: Annotated[float, power(0.001, 30)] | None = Field(
        None, description="of its motor; default: not checked"
    )
    chuck_limit: Speed | None = Field(
        None, description="the fastest its chuck may turn, rev/min; default: not checked"
    )
    top_slide_travel: Annotated[float, length(5, 500)] | None = Field(
        None, description="of the top slide, for tapers; default: not checked"
    )
    soft_jaws: bool = Field(False, description="whether there are soft jaws for its chuck")
    between_centres: Annotated[float, length(50, 6000)] | None = Field(
        None, description="the longest work between its centres; default: not checked"
    )
    chuck_bore: Annotated[float, length(2, 300)] | None = Field(
        None,
        description="work up to this goes back through the jaws into the chuck; default: the spindle's"
        " bore, else a fifth of the chuck's diameter",
    )
    chuck_depth: Annotated[float, length(5, 3000)] | None = Field(
        None,
        description="how far back from the jaws' front such work goes; default: right through where"
        " the spindle has a bore, else eight tenths of the chuck's diameter",
    )
    three_jaw_outside: Span | None = Field(
        None,
        description="the least and the largest diameter its three-jaw chuck grips from outside;"
        " default: a fiftieth and nineteen twentieths of the chuck's diameter",
    )
    three_jaw_inside: Span | None = Field(
        None,
        description="the same from inside; default: a quarter and nine tenths of its diameter",
    )
    four_jaw_outside: Span | None = Field(
        None,
        description="the least and the largest that its four-jaw chuck grips from outside; default: a"
        " twentieth and nineteen twentieths of the chuck's diameter; [0, 0]: there is none",
    )
    collets: list[Annotated[float, length(0.5, 60)]] = Field(
        default_factory=list, description="the sizes of its collets; default: none"
    )
    faceplate: Annotated[float, length(0, 2000)] | None = Field(
        None,
        description="its diameter; default: one and a half times the chuck's; 0: there is none",
    )
    steady: Annotated[float, length(0, 500)] | None = Field(
        None,
        description="the thickest round that its fixed steady takes; default: four tenths of the"
        " chuck's diameter; 0: there is none",
    )
    travelling_steady: bool = Field(
        True, description="whether there is one: it follows the tool along slender work"
    )
    centres: list[Literal["live", "dead"]] = Field(
        ["live", "dead"], description="what it turns long work on"
    )
    change_gears: list[Annotated[int, Field(ge=8, le=300, strict=True)]] | None = Field(
        None, description="their teeth; default: 20 to 80 by fives, and 63"
    )
    dividing_circles: list[Annotated[int, Field(ge=2, le=1000, strict=True)]] = Field(
        default_factory=list,
        description="holes or lines of the circles of a plate behind its chuck, or of its bull gear,"
        " that a pin or a pointer stands to; default: none",
    )
    tailstock_die_holder: bool = Field(True, description="whether there is one")
    knurling_tool: bool = Field(True, description="whether there is one")

    @model_validator(mode="after")
    def _heights_in_order(self) -> Lathe:
        seat, slide = self.spindle_over_seat, self.spindle_over_cross_slide
        if seat > slide:
            limit = (
                "spindle_over_seat: larger than spindle_over_cross_slide, but the seat lies higher"
            )
            remedy = "Exchange the two heights, or mend the one that is wrong"
            raise problem("heights-reversed", limit, remedy)
        return self

    @model_validator(mode="after")
    def _travel_in_order(self) -> Lathe:
        near, far = self.post_nearest, self.post_farthest
        if near is not None and far is not None and near >= far:
            limit = "post_nearest: the tool post's middle goes no farther out than in"
            raise problem("travel-reversed", limit, "Exchange post_nearest and post_farthest")
        return self


class ToolPost(Table):
    """The tool post."""

    largest_shank: Annotated[float, length(4, 100)] = Field(
        description="the tallest shank it takes"
    )
    depth: Annotated[float, length(10, 400)] | None = Field(
        None,
        description="along the shank, from its front face to its rear; default: three largest shanks",
    )
    stands_out: Annotated[float, length(0, 200)] | None = Field(
        None,
        description="how far its jaws stand out beside the shank, toward the pivot; default: unknown",
    )
    height: Annotated[float, length(4, 400)] | None = Field(
        None,
        description="of its top, screws included, over the seat; default: higher than the spindle axis",
    )
    screws: Annotated[int, Field(ge=1, le=8, strict=True)] = Field(
        2, description="that bear on the shank, in a row along it"
    )
    first_screw: Annotated[float, length(1, 300)] | None = Field(
        None, description="from its front face to the first screw; default: evenly spread"
    )
    screw_spacing: Annotated[float, length(3, 200)] | None = Field(
        None, description="from screw to screw; default: evenly spread"
    )
    slot_to_middle: Annotated[float, length(0, 200)] | None = Field(
        None,
        description="from the wall behind the shank to the post's middle, the one it is turned about;"
        " default: half its depth less its largest shank",
    )
    holding: Literal["beside the nut", "behind the nut"] | None = Field(
        None,
        description="where the post stands: beside the pivot's nut, its front at the tube's end, or"
        " behind the nut; default: beside where it is known to clear, else behind",
    )

    @model_validator(mode="after")
    def _row_of_screws(self) -> ToolPost:
        row = (self.screws - 1) * (self.screw_spacing or 0.0) + (self.first_screw or 0.0)
        if self.depth and row >= self.depth:
            limit = "its screws stand in a row longer than the post is deep"
            raise problem("screw-row", limit, "Measure depth, first_screw and screw_spacing again")
        return self
