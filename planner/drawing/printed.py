"""The size that printed words say. Imported by the model, which refuses a dimension that lies, and the
proof."""

from __future__ import annotations

import re

_NUMBER = re.compile(
    r"(?:\d+\s*[×x]\s*)?(?:[ØR⌀]|SØ|SR)?\s*(?:(\d+)[- ](\d+)/(\d+)|(\d+)/(\d+)|(\d*)(?:\.(\d+))?)(?!\d)"
)


def printed(text: str) -> tuple[float, float]:
    """The size that a dimension's text says, in its own unit, and what its last digit is worth.

    A count (2 ×) and Ø, R, SØ, SR may stand in front; the number is whole, decimal, a fraction or a
    mixed fraction (1-1/2); degrees may go on in minutes (30° 15'). Raises ValueError for no number.

    >>> printed("2× Ø 6.60 H13"), printed("1-1/2"), printed("R 4")
    ((6.6, 0.01), (1.5, 1e-06), (4.0, 1.0))
    """
    angle = re.match(r"(\d+)°\s*(\d+)['′]", text)
    if angle:
        return int(angle[1]) + int(angle[2]) / 60, 1 / 60
    found = _NUMBER.match(text)
    if found:
        whole, over, under, over2, under2, number, decimals = found.groups()
        if under:
            return int(whole) + int(over) / int(under), 1e-6
        if under2:
            return int(over2) / int(under2), 1e-6
        if number or decimals:
            value = float(f"{number or 0}.{decimals or 0}")
            return value, 10.0 ** -len(decimals or "")
    raise ValueError(f"{text!r}: no number that a dimension could print")
