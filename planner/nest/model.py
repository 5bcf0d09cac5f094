"""What nesting takes and gives: pieces, sheets, where each piece lies, the saw's cuts, the bounds."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from parts.value import Value
from planner.geometry.curves import FlatProfile
from planner.nest.outlines import bounds, moved, turned, turned_point

PROCESSES = ("plasma", "saw")

TOLERANCE_MM = 1e-3
"""How far a nest may fall short of its gap and margin: below what a saw or torch can hold."""


class Piece(Value, frozen=True):
    """A flat piece to cut: its profile, how many, and whether it may be turned in 90 degree steps.

    may_turn: False keeps its x along the sheet's length, for the rolling direction.
    """

    profile: FlatProfile
    quantity: int = 1
    may_turn: bool = True


class Sheet(Value, frozen=True):
    """A rectangle of stock: a sheet, a flat bar or a remnant of either.

    name: as the shop calls it, each once; length_mm lies along x, width_mm along y.
    available: how many there are, None for as many as needed; cost: of one, in any money, 0 for a
    remnant that is paid for; margin_mm: kept free along all four edges (0 for none).
    """

    name: str
    length_mm: float
    width_mm: float
    available: int | None = None
    cost: float = 0.0
    margin_mm: float = 0.0


class Placed(Value, frozen=True):
    """One piece on a sheet.

    piece: its number in the list of pieces, from 0; copy: 1 to its quantity.
    profile: as given; turn_deg: 0, 90, 180 or 270, anticlockwise; x_mm, y_mm: the lower left corner
    of the turned outline's bounds, from the sheet's lower left corner.
    panel: which panel of the saw's cuts the piece is; None under a torch.
    """

    piece: int
    copy: int
    profile: FlatProfile
    x_mm: float
    y_mm: float
    turn_deg: int
    panel: int | None = None

    def on_sheet(self) -> FlatProfile:
        """The profile at the sheet's coordinates."""
        left, bottom, _, _ = bounds(turned(self.profile.outline, self.turn_deg))
        dx, dy = self.x_mm - left, self.y_mm - bottom
        points = (turned_point(mark, self.turn_deg) for mark in self.profile.marks)
        return replace(
            self.profile,
            outline=moved(turned(self.profile.outline, self.turn_deg), dx, dy),
            holes=tuple(moved(turned(h, self.turn_deg), dx, dy) for h in self.profile.holes),
            marks=tuple((x + dx, y + dy) for x, y in points),
        )


class Cut(Value, frozen=True):
    """One straight cut from edge to edge of a panel.

    number: from 1, in the order of sawing; panel: the panel it divides, 0 for the whole sheet.
    along: "length" for a cut along x, "width" for one along y; length_mm: of the cut.
    position_mm: width of the near panel, from the panel's lower (left) edge to the kerf, which
    takes the next gap_mm of the panel, or what there is of them.
    near, far: the panels made; None where nothing is left.
    """

    number: int
    panel: int
    along: str
    position_mm: float
    length_mm: float
    near: int | None
    far: int | None


class NestSheet(Value, frozen=True):
    """One sheet with its pieces, and the saw's cuts in order (none under a torch).

    used_length_mm: from x = 0 to the far end of the last piece; remnant_mm: the strip of full width
    beyond it and its gap.
    """

    sheet: Sheet
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    gap_mm: float
    process: str

    @property
    def used_length_mm(self) -> float:
        """From the sheet's end to the far end of the last piece."""
        ends = []
        for placed in self.placed:
            left, bottom, right, top = bounds(placed.profile.outline)
            ends.append(
                placed.x_mm + (right - left if placed.turn_deg % 180 == 0 else top - bottom)
            )
        return max(ends)

    @property
    def remnant_mm(self) -> float:
        """Length of the strip left at full width."""
        return max(0.0, self.sheet.length_mm - self.used_length_mm - self.gap_mm)


class Nest(Value, frozen=True):
    """A whole nest, and what no nest can beat.

    cost: of the sheets drawn; least_sheets, least_cost: lower bounds from areas alone, each piece
    counted with half the gap all round. The nest is a good one found by trying; it is proven best
    only where it meets them.
    """

    sheets: tuple[NestSheet, ...]
    cost: float
    least_sheets: int
    least_cost: float


class NoSheet(ValueError):
    """Some pieces find no place.

    unplaced: (name, how many) of each piece left over; missing_mm2: their area;
    nearest: (name of the sheet it starts from, length_mm, width_mm) that would do;
    needed: how many of them, with those there are.
    """

    def __init__(
        self,
        unplaced: Sequence[tuple[str, int]],
        missing_mm2: float,
        nearest: tuple[str, float, float],
        needed: int,
    ) -> None:
        self.unplaced, self.missing_mm2 = tuple(unplaced), missing_mm2
        self.nearest, self.needed = nearest, needed
        names = ", ".join(f"{count} of '{name}'" for name, count in unplaced)
        name, length, width = nearest
        super().__init__(
            f"no sheet has room for {names}: {missing_mm2:.0f} mm2 of piece is left over."
            f" Add {needed} of {length:g} x {width:g} mm (nearest: '{name}')"
        )


class NoRoom(ValueError):
    """A torch cannot go round a piece as asked: its kerf or its lead-in is too large for a detail."""


class NestError(ValueError):
    """A nest that cannot be cut as it says; faults: what is wrong, one line each."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(faults))
