"""What is said of a cut list: bars to order, rounds turned down, pieces shorter than the kerf.

Imported by the cut list alone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from parts.value import Value
from planner.job.tables import Job
from planner.stock.bars import ORDER, Group
from planner.stock.pieces import Piece
from planner.words.findings import Finding, finding
from planner.words.numbers import counted
from planner.words.short import few

LONGEST_PIECE = 60
"""Signs of a piece's length and name in a finding."""


class Remarks(Value, frozen=True):
    """The findings on one job's cut list. file: what they call the job."""

    job: Job
    file: str

    def all(self, groups: tuple[Group, ...]) -> tuple[Finding, ...]:
        """Everything there is to say of these groups."""
        findings = [*self.kerf(groups)]
        findings += [self.to_order(group) for group in groups if group.short]
        findings += [self.turned_down(p) for group in groups for p in group.pieces if p.stock]
        return tuple(findings)

    def to_order(self, group: Group) -> Finding:
        """What no listed bar could be found for, laid out on bars to order.

        The pieces told are those that lie on them: which of all goes on the listed bars is the
        layout's choice, and the sawing sheet has it.
        """
        assert group.short is not None
        unit_mm, demands = group.cutting.unit_mm, group.cutting.demands
        label = f"{self.job.numbers.stock(group.section)} {group.material}"
        bars = [bar for bar in group.bars if bar.origin == ORDER]
        number, length = sum(bar.count for bar in bars), self._mm(bars[0].length_mm)
        ordered = Counter[int]()
        for bar in bars:
            for piece in bar.pieces:
                ordered[group.pieces.index(piece)] += bar.count
        every = [
            f"{f'{count} pieces of ' if count > 1 else ''}{self._mm(demands[i].length * unit_mm)}"
            f" ({demands[i].name.removeprefix('aids/')})"
            for i, count in ordered.items()
        ]
        left = few(every, each=LONGEST_PIECE)
        kerfs = ordered.total() - number
        sawn = sum(demands[i].length * count for i, count in ordered.items()) * unit_mm
        between = self._mm(sawn + kerfs * group.kerf_mm)
        together = f": {between} with the kerfs between" if kerfs else ""
        each, them = ("", "it; its price") if number == 1 else (" each", "them; their price")
        order = f"Order {counted(number, 'bar')}, {length} long{each}, and list {them} is not known"
        limit = f"rack and buy list have no bar for {left}{together}"
        source = "" if group.short.proven else "not proven: a cutting may exist"
        return finding("shortage", self.file, "shop.buy", label, limit, order, source=source)

    def turned_down(self, piece: Piece) -> Finding:
        """A piece that a thicker round serves for."""
        label = f"{piece.part}/{piece.piece}"
        numbers = self.job.numbers
        limit = f"{numbers.stock(piece.section)} is taken from {numbers.stock(piece.taken_from)}"
        remedy = f"Turn it down first: {numbers.mass(piece.swarf_kg)} of swarf"
        return finding("turn-down", self.file, "shop.turn_down", label, limit, remedy)

    def kerf(self, groups: tuple[Group, ...]) -> Iterator[Finding]:
        """Pieces shorter than the saw is wide: a length in the wrong unit."""
        kerf = self.job.shop.kerf
        for group in groups:
            for piece in group.pieces:
                if piece.cut_mm < kerf:
                    value = f"{piece.part}/{piece.piece} {self._mm(piece.cut_mm)}"
                    limit = f"shorter than the kerf, {self._mm(kerf)}"
                    remedy = "Check shop.kerf and the piece's unit"
                    yield finding("kerf", self.file, "shop.kerf", value, limit, remedy)

    def _mm(self, mm: float) -> str:
        return self.job.numbers.size(mm)
