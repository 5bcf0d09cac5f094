"""The job: one lathe, one shop, one attachment, as tables that pydantic checks.

job.reading reads them from TOML. Everything behind the door works on the Job.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, PrivateAttr, model_validator

from parts.standard.series import Series
from planner.job.balls import Ball as Ball
from planner.job.balls import Centre as Centre
from planner.job.balls import Turning as Turning
from planner.job.base import FileTable, Table
from planner.job.fields import (
    LONGEST_MM,
    Count,
    Material,
    Named,
    Pitch,
    SectionText,
    length,
    problem,
)
from planner.job.lathe import Lathe, ToolPost
from planner.job.own_head import OwnHead, as_attachment
from planner.job.shop import BuyBar as BuyBar
from planner.job.shop import Machine as Machine
from planner.job.shop import RackBar as RackBar
from planner.job.shop import SheetStock as SheetStock
from planner.job.shop import Shop as Shop
from planner.job.shop import Torch as Torch
from planner.words.findings import Finding
from planner.words.numbers import Numbers


class AttachmentJob(Table):
    """What the attachment is to do."""

    max_ball_diameter: Annotated[float, length(4, 1000)]
    screw_pitch: Pitch
    dial_divisions: int = Field(ge=4, le=400, strict=True)
    min_ball_diameter: Annotated[float, length(2, 1000)] | None = Field(
        None, description="default: a third of the largest"
    )
    max_blank_diameter: Annotated[float, length(4, 1200)] | None = Field(
        None, description="default: the largest ball's diameter"
    )
    clearance: Annotated[float, length(0.2, 20)] | None = Field(
        None, description="kept between moving and standing things; default 2 mm or 1/16 in"
    )
    quantity: Annotated[int, Field(ge=1, le=1000, strict=True)] = Field(
        1, description="how many attachments are made, a class set say"
    )
    prefer: Literal["stiff", "light", "on-hand"] | None = Field(
        None,
        description="choose stock, reamers and threads by a search; default: the leanest that holds",
    )
    sizes: dict[str, Any] = Field(
        default_factory=dict, description="sizes of your own, by their name in `pommel sizes`"
    )


class ExtraPiece(Table):
    """A piece of the user's own, sawn along with the attachment's; its length is as sawn."""

    name: Named = Field(min_length=1, max_length=60)
    section: SectionText
    material: Material
    length: Annotated[float, length(1, LONGEST_MM)]
    quantity: Count = 1


INCH_KERF = 1 / 16
"""Of a saw in an inch shop where the job does not say, in: blade and set (common practice)."""


class Materials(Table):
    """What the parts are made of."""

    structure: Material = Field(
        "S355", description="housing, block, arm, foot: it is welded; the stop bar"
    )
    shaft: Material = Field("S355", description="pivot shaft, its nut, and rod")
    screw: Material = Field("C45", description="feed screw and handle")
    dial: Material = Field(
        "CW614N", description="dial and knob; the drag screw too, where it is brass"
    )


INCH_MATERIALS = {"structure": "1018", "shaft": "1018", "screw": "1045", "dial": "C360"}
"""What an inch shop has in their stead where the job does not say: the same kinds of metal by the names
of ASTM A29 and A108, B16."""


class Job(FileTable):
    """A whole job file."""

    _findings: tuple[Finding, ...] = PrivateAttr(())

    name: str = Field(
        "",
        max_length=60,
        pattern=r"^[\w .-]*$",
        description="names the output folder; default: the file's own name",
    )
    units: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        None, description="what a number without a unit means"
    )
    standards: Literal["metric", "inch"] | None = Field(
        None, description="which series sizes are chosen from; default by units"
    )
    lathe: Lathe
    tool_post: ToolPost
    attachment: AttachmentJob
    own_head: OwnHead | None = Field(
        None,
        description="a head that exists, by its measured sizes, for those who only turn; then no"
        " attachment and no tool_post is needed",
    )
    ball: list[Ball] = Field(default_factory=list)
    piece: list[ExtraPiece] = Field(
        default_factory=list, description="pieces of your own, sawn along with the attachment's"
    )
    turning: Turning = Turning()
    shop: Shop = Shop()
    materials: Materials = Materials()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What to look at in the file itself, though it can be read: old keys, unlikely sizes."""
        return self._findings

    @property
    def inch(self) -> bool:
        """Whether sizes are chosen and shown in inches."""
        if self.standards is not None:
            return self.standards == "inch"
        return self.units in ("in", "ft")

    @property
    def series(self) -> Series:
        """The series its design's sizes come from."""
        return Series(self.inch)

    @property
    def numbers(self) -> Numbers:
        """How its sheets write numbers."""
        return Numbers(self.inch)

    @model_validator(mode="before")
    @classmethod
    def _with_own_head(cls, data: Any) -> Any:
        """A head that exists says of itself what the attachment's table would."""
        own = data.get("own_head") if isinstance(data, dict) else None
        if own is None or (wanted := as_attachment(own)) is None:
            return data
        return {"attachment": wanted, "tool_post": {"largest_shank": "20 mm"}} | data

    @model_validator(mode="after")
    def _by_inches(self) -> Job:
        """What an inch shop takes for granted is in inches; frozen, so put in past the lock."""
        if self.inch:
            self.__dict__["turning"] = self.turning.by_inches
            if "kerf" not in self.shop.model_fields_set:
                self.__dict__["shop"] = self.shop.with_kerf(INCH_KERF * 25.4)
            said = self.materials.model_dump(exclude_unset=True)
            own = self.own_head
            if own is not None and "clearance" not in own.model_fields_set:
                clear = self.series.nominal(own.clearance)
                self.__dict__["own_head"] = own.model_copy(update={"clearance": clear})
            self.__dict__["materials"] = self.materials.model_copy(update=INCH_MATERIALS | said)
        return self

    @model_validator(mode="after")
    def _each_ball_a_name(self) -> Job:
        names = [ball.name or f"ball {number}" for number, ball in enumerate(self.ball, 1)]
        for number, name in enumerate(names):
            if name in names[:number]:
                first = names.index(name) + 1
                limit = f"ball[{number + 1}].name: {name} is the name of ball {first} too"
                raise problem("wrong-value", limit, "Give each ball a name of its own")
        return self

    @model_validator(mode="after")
    def _balls_in_order(self) -> Job:
        wanted = self.attachment
        if wanted.min_ball_diameter and wanted.min_ball_diameter > wanted.max_ball_diameter:
            raise problem(
                "balls-reversed",
                "attachment.min_ball_diameter: the smallest ball is larger than the largest",
                "Exchange them, or leave the smallest out",
            )
        if wanted.max_blank_diameter and wanted.max_blank_diameter < wanted.max_ball_diameter:
            raise problem(
                "blank-size",
                "attachment.max_blank_diameter: the blank is thinner than the ball",
                "Give at least the ball's diameter, or leave it out",
            )
        return self
