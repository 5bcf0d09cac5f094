"""Printed numbers: millimetres or inches with fractions, limits, threads and drills, all in mm."""

from __future__ import annotations

import re
from dataclasses import dataclass

NUMBER = r"(?:\d+-\d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
LIMITED = re.compile(
    rf"^(?P<sign>SØ|Ø|R)?(?P<size>{NUMBER})(?P<rest>°)?"
    r"(?: (?P<fit>[A-Z]{2}\d{1,2} \[[A-Za-z]{1,2}\d{1,2}\]|(?:ISO )?[A-Za-z]{1,2}\d{1,2}))?"
    rf"(?: ±(?P<even>{NUMBER}))?"
    rf"(?: \((?P<up>[+-]?{NUMBER})/(?P<low>[+-]?{NUMBER})\))?"
    rf"(?: ?\\S(?P<over>[+-]?{NUMBER})\^ ?(?P<under>[+-]?{NUMBER});)?$"
)

NUMBER_DRILLS_IN = dict(
    enumerate(
        (
            0.2280, 0.2210, 0.2130, 0.2090, 0.2055, 0.2040, 0.2010, 0.1990, 0.1960, 0.1935,
            0.1910, 0.1890, 0.1850, 0.1820, 0.1800, 0.1770, 0.1730, 0.1695, 0.1660, 0.1610,
            0.1590, 0.1570, 0.1540, 0.1520, 0.1495, 0.1470, 0.1440, 0.1405, 0.1360, 0.1285,
            0.1200, 0.1160, 0.1130, 0.1110, 0.1100, 0.1065, 0.1040, 0.1015, 0.0995, 0.0980,
            0.0960, 0.0935, 0.0890, 0.0860, 0.0820, 0.0810, 0.0785, 0.0760, 0.0730, 0.0700,
            0.0670, 0.0635, 0.0595, 0.0550, 0.0520, 0.0465, 0.0430, 0.0420, 0.0410, 0.0400,
        ),
        1,
    )
)  # fmt: skip
"""Number drills, in (ASME B94.11M, from memory)."""

LETTER_DRILLS_IN = dict(
    zip(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
        (
            0.234, 0.238, 0.242, 0.246, 0.250, 0.257, 0.261, 0.266, 0.272, 0.277, 0.281, 0.290,
            0.295, 0.302, 0.316, 0.323, 0.332, 0.339, 0.348, 0.358, 0.368, 0.377, 0.386, 0.397,
            0.404, 0.413,
        ),
        strict=True,
    )
)  # fmt: skip
"""Letter drills, in (ASME B94.11M, from memory)."""


@dataclass(frozen=True)
class Size:
    """A size as printed, mm or degrees. sign: "Ø", "SØ", "R" or ""; angle: in degrees."""

    sign: str
    value: float
    upper: float = 0.0
    lower: float = 0.0
    fit: str = ""
    angle: bool = False


def number(text: str) -> float:
    """A number as printed, with its sign: "1-27/64", "7/8", "33.03", "-0.05"."""
    sign = -1.0 if text.startswith("-") else 1.0
    text = text.lstrip("+-")
    whole, _, part = text.rpartition("-")
    if "/" in part:
        over, under = part.split("/")
        return sign * (float(whole or 0) + float(over) / float(under))
    return sign * float(text)


def size(text: str, unit: float) -> Size | None:
    """A size with its limits; None where the text is no size. unit: mm to its unit."""
    found = LIMITED.match(text.strip())
    if found is None:
        return None
    angle = bool(found["rest"])
    by = 1.0 if angle else unit
    even, over = found["even"], found["up"] or found["over"]
    under = found["low"] or found["under"]
    upper = number(even) if even else number(over) if over else 0.0
    lower = -number(even) if even else number(under) if under else 0.0
    return Size(
        found["sign"] or "", number(found["size"]) * by, upper * by, lower * by,
        found["fit"] or "", angle,
    )  # fmt: skip


THREAD = re.compile(
    rf"^(?P<name>M{NUMBER}(?:x{NUMBER})?(?:-6[Hg])?|Tr{NUMBER}x{NUMBER}"
    rf"|(?:No\.\d+|{NUMBER})-\d+ (?:UNC|UNF|UNEF|UNS|Acme|ACME)(?:-[123][AB])?)"
)


def major_mm(thread: str) -> float:
    """The major diameter of a designation (ISO 261, ISO 2904, ASME B1.1: No. n is 0.060 + 0.013 n)."""
    if thread[0] == "M":
        return float(thread[1:].partition("-")[0].partition("x")[0])
    if thread.startswith("Tr"):
        return float(thread[2:].partition("x")[0])
    first = thread.split(" ")[0].rpartition("-")[0]
    if first.startswith("No."):
        return 25.4 * (0.060 + 0.013 * int(first[3:]))
    return 25.4 * number(first)


def drill_mm(text: str) -> float:
    """A drill as named: "3.3 mm"; in inches with its decimal: "#21, 0.159", "letter F, 0.257".

    One by millimetres may have an inch drill behind it that serves: "(or letter J, 0.277)". Raises
    ValueError where name and decimal are not the same drill, or the other is smaller, or 0.002 in more.
    """
    if found := re.match(r"^(.* mm, [\d.]+) \(or (.*)\)$", text.strip()):
        wide = drill_mm(found[1])
        if not 0 <= drill_mm(found[2]) - wide <= 0.002 * 25.4:
            raise ValueError(f"{text!r}: the other is {drill_mm(found[2]):.3f} mm")
        return wide
    name, _, decimal = text.strip().partition(", ")
    if name.endswith(" mm"):
        wide = number(name.removesuffix(" mm"))
    elif name.startswith("#"):
        wide = 25.4 * NUMBER_DRILLS_IN[int(name[1:])]
    elif name.startswith("letter "):
        wide = 25.4 * LETTER_DRILLS_IN[name[7:]]
    else:
        wide = 25.4 * number(name)
    if decimal and abs(25.4 * number(decimal) - wide) > 25.4 * 0.000051:
        raise ValueError(f"{text!r}: {name} is {wide / 25.4:.5f}")
    return wide
