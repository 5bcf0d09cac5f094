"""The base of the values the project is made of: what cannot change and is equal by its fields.

A class of it is declared some thirty times faster than a frozen dataclass, and several hundred are
loaded by every command. Imported by every room.
"""

from __future__ import annotations

from msgspec import Struct


class Value(Struct, frozen=True, dict=True):
    """A record that never changes; ``msgspec.structs.replace`` makes another one of it.

    Classes of it say ``frozen=True`` once more, for the type checker. Fields without a default come
    first. What a ``cached_property`` finds is kept beside the fields and counts in no comparison.
    """
