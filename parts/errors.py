"""What a part raises when it cannot be made. Anything may import it; it imports nothing."""

from __future__ import annotations

from collections.abc import Iterable


class NotMakeable(Exception):
    """Sizes that make no part: each complaint is a sentence naming part, feature and sizes.

    Attributes: ``complaints``, all of them at once.
    """

    def __init__(self, complaints: Iterable[str]) -> None:
        self.complaints = tuple(complaints)
        super().__init__("; ".join(self.complaints))
