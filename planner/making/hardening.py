"""Holes in metal that hardens where an edge rubs: what is put on the drill, and how it is fed.

Imported by making.route.
"""

from __future__ import annotations

from parts.standard.materials import material

HARDENS = ("stainless steel",)
"""Groups that harden under an edge that rubs (austenitic stainless steels; common practice)."""

HOLES = ("spot", "drill", "counterbore", "ream", "tap")
"""Work from a hole's mouth inward, where the edge is fed by hand and soon held back."""

THICK_OIL = "sulphurised cutting oil or cutting paste"
"""Plain soluble oil runs off before the edge, and the chip welds to it (common practice)."""

KEEP_FEEDING = (
    "This steel hardens where the edge rubs: feed it firmly without a stop, never let it dwell; out to"
    " clear the chips, and straight back to the cut"
)
"""What is said of a fed edge (common practice)."""

FED = ("spot", "drill", "counterbore")
"""Of HOLES, what is fed against a bottom: it hardens there as the feed stops."""


def thick_oil(metal: str, kind: str) -> str:
    """The cutting fluid of a hole where the usual one will not do; "" where it does."""
    return THICK_OIL if material(metal).group in HARDENS and kind in HOLES else ""


def fed_firmly(metal: str, kind: str) -> list[str]:
    """The caution of such a hole, if any."""
    return [KEEP_FEEDING] if material(metal).group in HARDENS and kind in FED else []
