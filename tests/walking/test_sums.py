"""The sums of the walk against closed forms: bending, grades, metal as points, stepped work."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from parts.features import feature_types
from parts.standard.fits import limits
from parts.standard.holding import finest_band_mm, grade_mm
from planner.walking.fineness import MAKES
from planner.walking.finished import takes
from planner.walking.metal import Body, Metal
from planner.walking.overhang import _cantilever_thickness, _mean_thickness
from planner.walking.shape import Block, Line, Ring
from planner.walking.spans import Span, bored_mm, spans

X = Line(0, 1, (0.0, 0.0, 0.0))
NOTHING = {
    "FacedLength",
    "Knurl",
    "EngravedScale",
    "IndexMark",
    "ScribedLine",
    "GroundPoint",
    "Weld",
}
"""What takes off no metal that is looked at: ends by their length, lines, a grind, a weld."""


def _bend(steps: list[tuple[float, float]], force_at: float) -> float:
    """Deflection under a unit force at the end of a stepped cantilever, E = 1, by quadrature."""
    total = 0.0
    at = 0.0
    for length, thick in steps:
        grid = at + (np.arange(4000) + 0.5) * length / 4000
        total += float(((force_at - grid) ** 2).sum()) * length / 4000 / (pi * thick**4 / 64)
        at += length
    return total


@pytest.mark.parametrize(
    "steps", [[(60.0, 20.0)], [(30.0, 20.0), (30.0, 12.0)], [(10.0, 6.0), (50.0, 16.0)]]
)
def test_a_stepped_bar_bends_as_the_uniform_one_it_is_taken_for(
    steps: list[tuple[float, float]],
) -> None:
    """The cantilever of any handbook: F L^3 / 3 E I."""
    stiff, at = [], 0.0
    for length, thick in steps:
        stiff.append((at, at + length, Span(at, at + length, thick / 2, 0.0)))
        at += length
    uniform = at**3 / (3 * pi * _cantilever_thickness(stiff, 0.0, at) ** 4 / 64)
    assert uniform == pytest.approx(_bend(steps, at), rel=1e-5)


def test_a_tube_between_supports_is_as_stiff_as_its_fourth_powers() -> None:
    stiff = [(0.0, 100.0, Span(0.0, 100.0, 15.0, 10.0))]
    assert _mean_thickness(stiff, (0.0, 100.0)) == pytest.approx((30.0**4 - 20.0**4) ** 0.25)


def test_grades_are_those_of_iso_286() -> None:
    """IT7 of 18 to 30 is 21 um as in 25 H7; IT12 210, IT14 520, IT16 1300 (ISO 286-1, table 1)."""
    assert grade_mm(7, 25.0) == pytest.approx(limits(25.0, "H7").upper_mm) == pytest.approx(0.021)
    assert [grade_mm(n, 25.0) for n in (12, 14, 16)] == pytest.approx([0.21, 0.52, 1.3])
    assert finest_band_mm("file", 33.03) == pytest.approx(0.062)
    assert finest_band_mm("no such work", 33.0) is None


def test_metal_is_what_is_left_of_stock() -> None:
    """The volume of a bar with a turned end, a bore and a flat, by counting points, within 2 %."""
    bar = Body("bar", Ring(0, (0.0, 0.0, 0.0), 0.0, 60.0, 10.0))
    metal = Metal([bar])
    for cut in (
        Ring(0, (0.0, 0.0, 0.0), 40.0, 60.0, 20.0, 6.0),
        Ring(0, (0.0, 0.0, 0.0), 0.0, 20.0, 4.0),
        Block((20.0, -11.0, 0.0), (40.0, 11.0, 11.0)),
    ):
        metal.cut(cut)
    draw = np.random.default_rng(5)
    points = draw.uniform((0.0, -10.0, -10.0), (60.0, 10.0, 10.0), (60_000, 3))
    counted = metal.has(points).mean() * 60.0 * 20.0 * 20.0
    exact = pi * 20.0 * (100.0 - 16.0) + pi * 20.0 * 50.0 + pi * 20.0 * 36.0
    assert counted == pytest.approx(exact, rel=0.02)
    found = [(s.low, s.high, s.outer, s.bore) for s in spans(metal, X)]
    assert found == [(0.0, 20.0, 10.0, 4.0), (20.0, 40.0, 10.0, 0.0), (40.0, 60.0, 6.0, 0.0)]
    assert (metal.end(0, 1), metal.end(0, -1)) == (60.0, 0.0)
    assert bored_mm(metal, X, 0.0, 20.0, 5.0) == 8.0
    assert bored_mm(metal, X, 0.0, 30.0, 5.0) == 0.0


def test_every_type_of_feature_has_its_rule() -> None:
    for kind in feature_types():
        assert kind in MAKES, kind
        ruled = takes.dispatch(kind) is not takes.dispatch(object)
        assert ruled == (kind.__name__ not in NOTHING), kind
