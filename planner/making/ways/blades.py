"""How many blades a hacksaw's frame holds for a slit of a width. Imported by ways.slits."""

from __future__ import annotations

from planner.making.model import Tool

BLADE_MM, SET_MM = 0.65, 0.3
"""A hand blade is so thick (ISO 2336, from memory), and fine teeth are set so much wider (common
practice: one of 24 or 32 teeth an inch cuts about 1 mm)."""

IN_FRAME = {1: "a fine blade", 2: "two blades side by side", 3: "three blades side by side"}
"""What a frame's pins take (common practice)."""


def by_blades(wide_mm: float) -> tuple[str, Tool]:
    """The words for how a slit is sawn by hand, and the saw; what is wider is two cuts."""
    many = max(1, round((wide_mm - SET_MM) / BLADE_MM))
    if many > max(IN_FRAME):
        return (
            "one blade in the hacksaw frame, a cut inside each of two scribed lines, what stands"
            " between them sawn and filed out",
            Tool("hacksaw", "hacksaw, a fine blade, slim file"),
        )
    fine = {1: "a fine blade", 2: "two fine blades", 3: "three fine blades"}[many]
    return f"{IN_FRAME[many]} in the hacksaw frame, along a scribed line", Tool(
        "hacksaw", f"hacksaw, {fine}"
    )
