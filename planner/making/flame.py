"""What is said of welding with a flame and not with an arc, and done after it; what is tacked in place.

Imported by making.welding, making.fillers and making.aids.
"""

from __future__ import annotations

from parts.features import Weld
from parts.part import Part, members
from parts.standard.materials import material
from planner.making.model import Op, Tool
from planner.making.workshop import Workshop

GAS = "gas"

RODS = {
    "mild steel": "{rod O III (EN 12536)|rod R60 (AWS A5.2)}, no flux",
    "medium carbon steel": "{rod O III (EN 12536)|rod R60 (AWS A5.2)}, no flux, preheated",
    "stainless steel": "308L for 304, 316L for 316, with its flux",
    "aluminium": "4043, with its flux, all of it washed off after",
}
"""Rods by group of material, in braces those of EN 12536 and of AWS A5.2 for an inch shop; of two
metals the one that stands later decides (from memory; common practice)."""

CAUTION = (
    "Oil and grease never near oxygen, they burst into flame; chips and solvents away; welding goggles,"
    " leather, ventilation; cylinders upright and chained, flashback arrestors on both hoses, joints"
    " tried with soapy water; extinguisher at hand; look for fire for half an hour after. By a"
    " competent welder to local rules"
)

WIPED = (
    "  Wipe the bright faces with acetone once more, its bottle put far away, and let it dry before the"
    " torch is lit."
)

NO_CHLORINE = "No chlorinated cleaner near a flame: it turns to poison gas"


TIG = "TIG"


def process(shop: Workshop) -> str | None:
    """By what the shop's own welder welds, where that is said."""
    owned = shop.job.shop.machines.get("welder")
    return owned.process if owned else None


def by_flame(shop: Workshop) -> bool:
    """Whether the shop's own welder is a torch."""
    return process(shop) == GAS


def spatters(shop: Workshop) -> bool:
    """Whether the weld throws drops: an electrode that melts off does, a torch and TIG do not."""
    return process(shop) not in (GAS, TIG)


STICK = "stick"


def slag(shop: Workshop) -> tuple[str, str]:
    """What is said of slag where a coated electrode leaves it, and its caution: left on, the next run
    shuts it in (common practice)."""
    if process(shop) != STICK:
        return "", ""
    said = "; slag chipped and brushed off each tack and each run before the next one meets it"
    return said, "Goggles: slag flies off hot"


BESIDE = {
    GAS: "the flame kept off the rest, which it scales, and nothing wrapped round it that burns",
    TIG: "wrap all but what is welded: where the arc is struck it scars",
}
"""What is done for bright work beside a weld that throws no drops, by the process (common practice)."""

INSTEAD = {GAS: "keep the flame off", TIG: "strike no arc on"}
"""What the note of a weld asks then, where it asks for spatter kept off something."""


def noted(weld: Weld, shop: Workshop) -> str:
    """A weld's note as its process wants it."""
    asked = "keep spatter off"
    return weld.note.replace(asked, INSTEAD.get(process(shop) or "", asked))


SCARS = {GAS: "scale", TIG: "mark of the arc"}
"""What such a weld leaves on it where nothing is minded."""


FLUXED = ("aluminium", "stainless steel")
"""Groups of metal that a torch welds with a flux (common practice)."""


def dressed(part: Part, shop: Workshop, files: str) -> list[Op]:
    """How a weld is cleaned: of its flux first, where it has one; of slag and spatter after an arc.

    files: what it is dressed with.
    """
    text = "dress the welds where another part bears; look for cracks with a glass"
    tool, ops = Tool("file", files), []
    if spatters(shop):
        text = f"chip off {'slag and ' if process(shop) == STICK else ''}spatter, {text}"
    elif by_flame(shop) and any(material(o.blank.material).group in FLUXED for o in members(part)):
        said = (
            "wash off all the flux with hot water and a stiff brush, out of every hole and from under"
            " the edges too, and dry it: what is left eats the metal"
        )
        brush = Tool("brush", "hot water and a stiff brush")
        caution = "Goggles and gloves: flux and its dust burn eyes, skin and lungs"
        ops.append(Op("dress", said, brush, minutes=15.0, caution=caution))
    return [*ops, Op("dress", text, tool, minutes=10.0, caution="Goggles")]


def on_the_lathe(part: Part, shop: Workshop) -> bool:
    """Whether a part may be tacked in place on the lathe by the shop's own welder.

    Not by a flame; and of aluminium only by MIG: alternating current starts and keeps its arc by high
    frequency (common practice), which spoils what is electronic about the lathe.
    """
    owned = shop.job.shop.machines.get("welder")
    light = any(material(o.blank.material).group == "aluminium" for o in members(part))
    return not by_flame(shop) and not (light and (owned is None or owned.process != "MIG"))
