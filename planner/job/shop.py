"""The shop of a job: machines, tools, what it measures with, and its stock.

A usual home shop by default. Imported by job.tables, which shows these names to everyone else.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planner.job.base import Table
from planner.job.fields import (
    LONGEST_MM,
    Count,
    Material,
    Money,
    Named,
    SectionText,
    Span,
    Speed,
    ThreadName,
    drill_size,
    length,
    problem,
)

MachineName = Literal[
    "mill",
    "milling slide",
    "drill press",
    "bandsaw",
    "shaper",
    "grinder",
    "welder",
    "torch table",
    "rotary table",
]
"""The machines a shop may have besides the lathe; a milling slide is one for the lathe's own slide."""


class RackBar(Table):
    """A bar or remnant on the rack."""

    section: SectionText
    material: Material
    length: Annotated[float, length(5, LONGEST_MM)]
    quantity: Count = 1
    cost: Money = 0.0


class BuyBar(Table):
    """A bar one can buy."""

    section: SectionText
    material: Material
    length: Annotated[float, length(50, LONGEST_MM)]
    price: Money | None = Field(
        None, description="of one bar; or give price_per_metre, price_per_foot"
    )
    price_per_metre: Money | None = None
    price_per_foot: Money | None = None
    cutting_charge: Money = Field(0.0, description="for each bar, on top")
    available: Count | None = Field(None, description="how many there are; default: any number")

    @property
    def bar_price(self) -> float:
        """What one bar costs."""
        by_length = (self.price_per_metre or 0.0) / 1000 + (self.price_per_foot or 0.0) / 304.8
        price = self.price if self.price is not None else by_length * self.length
        return price + self.cutting_charge

    @model_validator(mode="after")
    def _priced(self) -> BuyBar:
        if [self.price, self.price_per_metre, self.price_per_foot].count(None) != 2:
            remedy = "Give price, price_per_metre or price_per_foot, one of them"
            raise problem("one-price", "one price is needed", remedy)
        return self


class SheetStock(Table):
    """A sheet or flat remnant that flat pieces are cut from."""

    thickness: Annotated[float, length(0.3, 60)]
    width: Annotated[float, length(20, LONGEST_MM)]
    length: Annotated[float, length(20, LONGEST_MM)]
    material: Material
    quantity: Count = 1
    cost: Money = 0.0


class Torch(Table):
    """What is asked of the files for a plasma table."""

    kerf: Annotated[float, length(0, 10)] = Field(
        0.0, description="outlines are drawn half of it outside, holes half inside; default: none"
    )
    lead_in: Annotated[float, length(0, 20)] = Field(
        0.0, description="length of the lead-in to each cut; default: none"
    )
    least_hole: Annotated[float, length(0, 100)] | None = Field(
        None, description="narrower holes are marked, not cut; default: the plate's thickness"
    )
    labels: bool = Field(False, description="each piece's name on the layer MARK")


class Machine(Table):
    """A machine other than the lathe."""

    speeds: list[Speed] = Field(default_factory=list, description="rev/min; empty when it has none")
    process: Literal["MIG", "TIG", "stick", "gas"] | None = Field(
        None, description="of a welder; default: not said on the weld sheet"
    )
    travel: Annotated[float, length(10, 600)] | None = Field(
        None, description="of a milling slide, up and down; default: 75 mm or 3 in"
    )


class Measuring(Table):
    """What the shop measures with; a rule, a caliper and a square are there anyway."""

    micrometers: list[Span] | None = Field(
        None, description="their ranges; default: 0 to 25 and 25 to 50 mm, or 0 to 1 and 1 to 2 in"
    )
    depth_micrometer: bool = Field(False, description="whether there is one")
    telescoping_gauges: bool = Field(True, description="whether there are any, from 8 mm up")
    inside_micrometer: bool = Field(False, description="whether there is one")
    gauge_blocks: bool = Field(True, description="whether there is a set")
    height_gauge: bool = Field(False, description="whether there is one")
    dial_indicator: bool = Field(True, description="whether there is one, with its stand")
    v_blocks: bool = Field(True, description="whether there is a pair")
    surface_plate: bool = Field(True, description="or a plate of float glass")


class Shop(Table):
    """Machines, tools and stock."""

    machines: dict[MachineName, Machine] = Field(default_factory=dict)
    dividing_head_ratio: int | None = Field(None, ge=2, le=360, strict=True)
    kerf: Annotated[float, length(0.0, 10)] = Field(2.0, description="default 2 mm or 1/16 in")
    drills_to: Annotated[float, length(3, 60)] | None = Field(
        None, description="the set of drills goes up to this; default: 13 mm or 1/2 in"
    )
    drills: list[Annotated[float, drill_size(0.3, 100)]] = Field(
        default_factory=list,
        description="larger drills, each by its size, number or letter; default: none",
    )
    reamers: list[Annotated[float, length(1, 100)]] = Field(default_factory=list)
    taps: list[ThreadName] = Field(default_factory=list)
    dies: list[ThreadName] | None = Field(None, description="default: as the taps, up to 12 mm")
    end_mills: list[Annotated[float, length(1, 60)]] | None = Field(
        None, description="default: 6, 8, 10, 12, 16 mm, or 1/4 to 5/8 in"
    )
    counterbores: list[Annotated[float, length(1, 60)]] = Field(
        default_factory=list,
        description="their diameters; default: none, a second drill is ground flat",
    )
    slitting_saws: list[Annotated[float, length(0.2, 10)]] = Field(
        default_factory=list,
        description="their widths; default: none, slits are cut with a hacksaw",
    )
    boring_bars: list[Annotated[float, length(2, 60)]] | None = Field(
        None, description="their diameters; default: 6, 10, 12 mm, or 1/4, 3/8, 1/2 in"
    )
    tool_bits: list[Annotated[float, length(2, 40)]] = Field(default_factory=list)
    tool_material: Literal["HSS", "carbide"] = "HSS"
    measuring: Measuring = Measuring()
    currency: Named = Field(
        "", max_length=12, description="what prices are in; default: not named, as the job has them"
    )
    turn_down: Annotated[float, length(0, 50)] | None = Field(
        None,
        description="a thicker round may serve, so much turned off its diameter; default: none",
    )
    rack: list[RackBar] = Field(default_factory=list)
    buy: list[BuyBar] = Field(default_factory=list)
    sheet: list[SheetStock] = Field(default_factory=list)
    torch: Torch = Torch()

    @property
    def price_head(self) -> str:
        """The head of a column of prices: the currency where the job names one."""
        return self.currency or "price"

    def with_kerf(self, mm: float) -> Shop:
        """The same shop with a saw of this kerf, taken for granted."""
        given = {key: getattr(self, key) for key in type(self).model_fields}
        return Shop.model_construct(self.model_fields_set, **given | {"kerf": mm})
