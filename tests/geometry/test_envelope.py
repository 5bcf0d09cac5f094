"""Reach of what swings, against a brute-force sweep written here from the rotation alone."""

from __future__ import annotations

from math import degrees, pi, radians, sin, sqrt
from typing import Any

import numpy as np
import pytest

from parts.attachment import Carrier
from planner.geometry.envelope import Edge, lowest, neck_deg, swinging_edges, swinging_outlines
from planner.geometry.swept import deepest
from planner.output.plan import Plan


def swept(edge: Edge, tip_mm: float, swing: Any) -> tuple[Any, Any]:
    """Height and distance along the spindle of an edge, turned about the pivot by hand; radians.

    With the tip on top (swing 90) the edge stands at y, z. A swing of a takes the tip's direction,
    +y, to (sin a, cos a), and the direction square to it, +z, to (-cos a, sin a).
    """
    y = edge.y_mm + (tip_mm if edge.carrier is Carrier.HEAD else 0.0)
    up, along = np.sin(swing), np.cos(swing)
    return y * up - edge.z_mm * along, y * along + edge.z_mm * up


@pytest.mark.parametrize("limits", [(0.0, 180.0), (0.0, 160.0), (20.0, 75.0), (91.0, 92.0)])
def test_the_closed_form_is_never_passed_by_a_fine_sweep(
    plan: Plan, limits: tuple[float, float]
) -> None:
    s = plan.sizing.sizes
    edges = swinging_edges(plan.attachment)
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    down = lowest(edges, radii, limits).distance_mm
    found = deepest(swinging_outlines(plan.attachment), radii, limits, 1000.0)
    assert found is not None
    back = found.distance_mm
    swings = np.radians(np.linspace(*limits, 721))
    brute_down = brute_back = float("-inf")
    for edge in edges:
        for tip in np.linspace(*radii, 7):
            height, along = swept(edge, tip, swings)
            brute_down = max(brute_down, float(np.max(edge.round_mm - height)))
            brute_back = max(brute_back, float(np.max(edge.round_mm - along)))
    # a round is taken as the polygon of twelve sides outside it, 3.5 % farther out
    more = max(0.036 * edge.round_mm for edge in edges)
    assert brute_down <= down + 1e-9 and down - brute_down < 0.02
    assert brute_back <= back + 1e-9 and back - brute_back < 0.02 + more


def test_a_single_edge_reaches_its_radius_where_it_points_down() -> None:
    # (y, z) = (-3, 4) is 5 from the pivot; 3-4-5 triangle
    edge = Edge("corner", Carrier.BODY, 0.0, 1.0, -3.0, 4.0)
    reach = lowest((edge,), (0.0, 0.0), (0.0, 180.0))
    assert reach.distance_mm == pytest.approx(5.0)
    assert swept(edge, 0.0, radians(reach.swing_deg))[0] == pytest.approx(-5.0)


def test_the_neck_angle_is_the_chords() -> None:
    # a stem half as thick as the ball meets it 30 degrees from the axis: sin 30 = 1/2
    assert neck_deg(50.0, 25.0, 0.0, 0.0) == pytest.approx(150.0)


def test_the_tip_itself_stands_where_the_swing_says(bench: Plan) -> None:
    # the nose touches the ball where the tip is: its round of 0.5 stands that much farther out
    (nose,) = [e for e in swinging_edges(bench.attachment) if e.name == "tool bit" and e.round_mm]
    assert (nose.y_mm, nose.round_mm) == pytest.approx((0.5, 0.5)) and nose.z_mm == pytest.approx(0)
    y, z = swept(Edge("tip", Carrier.HEAD, 0, 0, 0, 0), 25.0, radians(30.0))
    assert (y, z) == pytest.approx((25 * sin(pi / 6), 25 * sqrt(3) / 2))
    assert degrees(pi / 6) == pytest.approx(30)
