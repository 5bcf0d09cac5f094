"""What sizes no machinist could make are told with. Anything may import this."""

from __future__ import annotations

from collections.abc import Sequence


class NotMakeable(Exception):
    """Sizes that make no part; complaints: each says what is wrong and the sizes involved."""

    def __init__(self, complaints: Sequence[str]) -> None:
        self.complaints: tuple[str, ...] = tuple(complaints)
        super().__init__("; ".join(self.complaints))
