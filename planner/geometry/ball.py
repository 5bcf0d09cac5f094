"""The surface a swinging tip turns, and what a small misalignment makes of the ball.

Frame: the ball's centre is the origin, z along the spindle away from the chuck; polar angles run from
the nose (0) over the equator (90). A tip at radius R from the pivot, in a plane at a distance e along
the pivot from the spindle axis, the pivot itself passing the spindle at a skew h, sweeps
(e, h + R sin t, R cos t); turned about the spindle that is rho^2 = e^2 + (h + R sin t)^2, z = R cos t.

With h = 0 every point is root(R^2 + e^2) from the centre: a true sphere, whatever e is and whatever the
angle between the axes; e only leaves a pip. With h the distance from the centre is
root(e^2 + h^2 + R^2 + 2 h R sin t): the radius grows toward the equator by h, to first order.
Plain numbers in millimetres and degrees; numpy arrays pass through the arithmetic.
"""

from __future__ import annotations

from math import asin, atan2, cos, degrees, hypot, isfinite, radians, sin, sqrt, tan
from typing import Literal

from parts.value import Value

USUAL_STEM = 0.35
"""Stem over ball diameter when a job names none: the neck a ball handle usually has."""

USUAL_ANVIL_MM = 6.4
"""Diameter of a micrometer's flat anvils where none is named: 3.2 mm from the middle (from memory)."""

Arrangement = Literal["across", "upright"]
"""How the pivot lies: across the bed in the tool post, or upright on the cross slide."""


class Setting(Value, frozen=True):
    """Where a pivot stands: skew_mm by which it passes the spindle, offset_mm of the tip plane."""

    skew_mm: float
    offset_mm: float


def setting(
    arrangement: Arrangement, height_error_mm: float, cross_slide_error_mm: float
) -> Setting:
    """The setting that a height error and a cross-slide error make.

    Across the bed the pivot's height is its skew and the cross slide moves the tip plane; upright they
    change places: the cross slide makes the skew and the tip's height the offset.
    """
    if arrangement == "across":
        return Setting(height_error_mm, cross_slide_error_mm)
    return Setting(cross_slide_error_mm, height_error_mm)


def _sound(radius_mm: float, place: Setting) -> None:
    for name, value in (
        ("tip radius", radius_mm),
        ("skew", place.skew_mm),
        ("offset", place.offset_mm),
    ):
        if not isfinite(value):
            raise ValueError(f"{name} {value}: give a finite length")
    if radius_mm <= 0 or abs(place.skew_mm) >= radius_mm:
        raise ValueError(
            f"tip radius {radius_mm:g} mm with a skew of {place.skew_mm:g}: the tip must pass the axis"
        )


def profile(radius_mm: float, place: Setting, polar_deg: float) -> tuple[float, float]:
    """The turned profile where the tip is at a polar angle: rho from the spindle and z, mm."""
    _sound(radius_mm, place)
    t = radians(polar_deg)
    rho = hypot(place.offset_mm, place.skew_mm + radius_mm * sin(t))
    return rho, radius_mm * sin(t + radians(90.0))


def point_radius_mm(radius_mm: float, place: Setting, polar_deg: float) -> float:
    """The turned surface's distance from the centre at a polar angle of the tip."""
    return hypot(*profile(radius_mm, place, polar_deg))


def form_error_mm(radius_mm: float, place: Setting, neck_deg: float = 180.0) -> float:
    """Peak to valley of the radius from the nose to the neck: exact, |h| to first order.

    The radius is monotone in sin t, so its extremes lie where the sine is least (an end of the sweep)
    and greatest (the equator, once the sweep passes it).
    """
    ends = [point_radius_mm(radius_mm, place, t) for t in (0.0, neck_deg)]
    top = point_radius_mm(radius_mm, place, 90.0 if neck_deg >= 90.0 else neck_deg)
    return max(*ends, top) - min(*ends, top)


def diameter_mm(radius_mm: float, place: Setting, polar_deg: float) -> float:
    """Diameter across the ball at a polar angle, as a micrometer finds it, to first order in h.

    D = 2 (root(R^2 + e^2) + h sin a): what least squares of readings on the sine is fitted to.
    """
    _sound(radius_mm, place)
    base = sqrt(radius_mm**2 + place.offset_mm**2)
    return 2 * (base + place.skew_mm * sin(radians(polar_deg)))


def pip_radius_mm(place: Setting, before_nose: bool = False) -> float:
    """Radius of the pip left at the nose.

    A sweep that begins at the nose comes no nearer the spindle than root(e^2 + h^2) when h is above
    zero; when h is below, or when the sweep begins before the nose, it passes |e|.
    """
    if before_nose or place.skew_mm < 0:
        return abs(place.offset_mm)
    return hypot(place.offset_mm, place.skew_mm)


def squareness_pip_mm(radius_mm: float, out_of_square_deg: float, offset_mm: float) -> float:
    """Radius of the pip of a pivot out of square with the spindle by an angle: |R sin p - e cos p|.

    The ball stays a sphere; a cross-slide setting hides the pip for one radius only.
    """
    p = radians(out_of_square_deg)
    return abs(radius_mm * sin(p) - offset_mm * sin(p + radians(90.0)))


def anvil_off_stem_deg(ball_mm: float, stem_mm: float, anvil_mm: float) -> float:
    """How near the axis a flat anvil may stand before its edge is on the stem: degrees from the pole.

    All diameters, mm; the stem may be 0, the anvil a point, 0. The flat touches the ball of radius R at
    its angle a and reaches w, half its width, along the tangent toward the stem: its edge is
    R sin a - w cos a off the spindle, which is root(R^2 + w^2) sin(a - atan(w / R)).
    """
    wide = hypot(ball_mm, anvil_mm)
    return degrees(asin(min(1.0, stem_mm / wide)) + atan2(anvil_mm, ball_mm)) if stem_mm else 0.0


def anvil_on_wall(
    ball_mm: float, blank_mm: float, wall_mm: float, anvil_mm: float, fold_deg: float
) -> bool:
    """Whether a flat anvil, or its spindle behind it, touches the wall of the relief or the shoulder.

    Diameters, mm; wall_mm: behind the ball's centre; fold_deg: the anvil's angle from the pole toward
    the wall, 0 to 90. The edge toward the wall begins at R sin a - w cos a off the spindle and
    R cos a + w sin a behind the centre and goes outward along the normal, as thick as the anvil
    (common practice: anvil and spindle of a micrometer are of one diameter); where it passes the
    blank's radius it must still be in front of the wall.
    """
    a, radius, half = radians(fold_deg), ball_mm / 2, anvil_mm / 2
    off = radius * sin(a) - half * cos(a)
    behind = radius * cos(a) + half * sin(a)
    if off >= blank_mm / 2:
        return False
    if fold_deg <= 0:
        return True
    return behind + (blank_mm / 2 - off) / tan(a) >= wall_mm
