"""Screw threads: metric (ISO 724), unified (ASME B1.1) and trapezoidal (ISO 2904)."""

from __future__ import annotations

import functools
import re
from math import ceil

from parts.standard.errors import unknown
from parts.standard.sections import MM_PER_INCH
from parts.standard.table import load
from parts.value import Value

LOOSENED = 0.3
"""The allowance of class 2A, of the tolerance of its pitch diameter (ASME B1.1)."""

TAP_LEAD_PITCHES = 3.0
"""A blind tapped hole is drilled deeper by the lead of a tap (common practice: three pitches)."""


class ThreadSize(Value, frozen=True):
    """A thread of the standard series; diameters are basic (maximum material), in mm.

    `minor_internal_mm` is D1, `minor_external_mm` d3 (the screw's root); the stress area is
    that of ISO 898-1 or ASME B1.1; the tap drill gives about three quarters of full depth.
    """

    designation: str
    system: str
    series: str
    major_mm: float
    pitch_mm: float
    pitch_diameter_mm: float
    minor_internal_mm: float
    minor_external_mm: float
    stress_area_mm2: float
    tap_drill_mm: float
    tap_drill_name: str
    source: str
    mark: str

    @property
    def size_name(self) -> str:
        """The diameter's name without the pitch: "M8" of M8x1, "1/4" of 1/4-20 UNC."""
        if self.system == "unified":
            return self.designation.rsplit("-", 1)[0]
        return self.designation.split("x")[0]

    @property
    def major_2a_mm(self) -> tuple[float, float]:
        """The greatest and the least outside of a unified external thread of class 2A, mm.

        Of the coarse and fine series, whose length of engagement is taken as the diameter. ASME B1.1,
        in inches: the pitch diameter's tolerance 0.0015 D^(1/3) + 0.0015 Le^(1/2) + 0.015 P^(2/3), of
        which 0.3, to six decimals, is the allowance; the major diameter's 0.060 P^(2/3); each to a
        ten-thousandth.

        >>> [round(mm / 25.4, 4) for mm in thread("1/4-20 UNC").major_2a_mm]
        [0.2489, 0.2408]
        """
        major, pitch = self.major_mm / MM_PER_INCH, self.pitch_mm / MM_PER_INCH
        of_pitch = 0.0015 * major ** (1 / 3) + 0.0015 * major**0.5 + 0.015 * pitch ** (2 / 3)
        most = major - round(round(LOOSENED * of_pitch, 6), 4)
        least = most - round(0.06 * pitch ** (2 / 3), 4)
        return most * MM_PER_INCH, least * MM_PER_INCH

    @property
    def minor_6h_mm(self) -> tuple[float, float]:
        """The least and the greatest hole of a metric internal thread of class 6H, mm.

        From D1 by the tolerance of grade 6, in micrometres with P in mm: 433 P - 190 P^1.22 under 1 mm,
        else 230 P^0.7 (ISO 965-1, from memory), which its table rounds.

        >>> [round(mm, 2) for mm in thread("M10x1").minor_6h_mm]
        [8.92, 9.15]
        """
        pitch = self.pitch_mm
        over_um = 230 * pitch**0.7 if pitch >= 1 else 433 * pitch - 190 * pitch**1.22
        return self.minor_internal_mm, self.minor_internal_mm + over_um / 1000

    @property
    def tap_lead_mm(self) -> float:
        """How much deeper than its full thread a blind hole is drilled, for the lead of the tap.

        TAP_LEAD_PITCHES; of a unified thread the next whole 64th of an inch, as a drill is set by.
        """
        lead = TAP_LEAD_PITCHES * self.pitch_mm
        if self.system != "unified":
            return lead
        step = MM_PER_INCH / 64
        return ceil(round(lead / step, 3)) * step


@functools.cache
def thread(name: str) -> ThreadSize:
    """The thread of that name.

    Arguments:
        name: as spoken in the shop: "M8", "m8x1", "M8 x 1.25", "1/4-20", "1/4-20 UNC",
            "1/4 UNF", "#10-24", "No.10-24", "10-24", "Tr10x2". Case and blanks do not matter.
    Raises UnknownSize with the nearest known thread.

    >>> thread("M8x1.25").tap_drill_name
    '6.8 mm'
    """
    spelling = _spelling(name)
    found = _by_spelling().get(spelling)
    if found is None:
        # A wrong pitch is answered with the pitches of the same diameter.
        diameter = re.split(r"[x-]|un[cf]", spelling)[0]
        same = [size for size in _all() if _spelling(size.size_name) == diameter]
        raise unknown("thread", name, [size.designation for size in same or _all()])
    return found


def threads(
    system: str | None = None, pitch_mm: float | None = None, tolerance_mm: float = 1e-4
) -> tuple[ThreadSize, ...]:
    """The threads of the tables, by diameter and then coarse before fine.

    Arguments:
        system: "metric", "unified" or "trapezoidal"; None for all.
        pitch_mm: only threads of this pitch, within `tolerance_mm` (mm); None for all.
    Raises UnknownSize when the system is none of the three.
    """
    systems = sorted({size.system for size in _all()})
    if system is not None and system not in systems:
        raise unknown("thread system", system, systems, f"one of {', '.join(systems)}")
    chosen = (
        size
        for size in _all()
        if system in (None, size.system)
        and (pitch_mm is None or abs(size.pitch_mm - pitch_mm) <= tolerance_mm)
    )
    return tuple(sorted(chosen, key=lambda size: (size.major_mm, -size.pitch_mm)))


def _all() -> tuple[ThreadSize, ...]:
    return load("threads.csv", ThreadSize, ("designation",))


@functools.cache
def _by_spelling() -> dict[str, ThreadSize]:
    """Every spelling a thread answers to, in the form `_spelling` gives."""
    spellings: dict[str, ThreadSize] = {}
    for size in _all():
        names = [size.designation]
        if size.series == "coarse":
            names.append(f"{size.designation}x{size.pitch_mm}")
        if size.system == "unified":
            names += [size.designation.split()[0], f"{size.size_name} {size.series}"]
            names += [name.removeprefix("No.") for name in names]
        spellings.update((_spelling(name), size) for name in names)
    return spellings


def _spelling(name: str) -> str:
    """One spelling for all: lower case, no blanks, "#" for number sizes, plain decimals."""
    text = re.sub(r"\s+", "", name.lower()).replace("×", "x").replace("*", "x")
    text = text.replace('"', "").replace("″", "")
    text = re.sub(r"^(no\.?|nr\.?|#)(?=\d)", "#", text)
    return re.sub(r"\d+\.\d+", lambda number: f"{float(number[0]):g}", text)
