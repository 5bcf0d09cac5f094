"""Which way the dial turns: a right-hand screw, an arm that cannot turn and an eye, in space.

The screw is a helix of points; the nut is where that helix passes a ray from the axis that does not
turn. Nothing of the dial's own words is asked for until they are compared.
"""

from __future__ import annotations

from math import acos, cos, degrees, pi, sin
from typing import Any

import numpy as np
import pytest

from parts.attachment import Carrier, Placed
from parts.frame import vector
from parts.part import Part
from planner.dial.design import design_dial, engraving_table
from planner.dial.sense import DEEPER, NUMBERED, reading, said
from planner.output.plan import Plan

PITCH, OPERATOR = 1.25, np.array([-1.0, 0.0, 0.0])
"""Any pitch; from the work to the operator in front, tip on top or at the nose: the pivot's axis."""


def named(plan: Plan, name: str) -> Placed:
    (found,) = [
        p for p in plan.attachment.placed if isinstance(p.item, Part) and p.item.name == name
    ]
    return found


def unit(name: str) -> Any:
    return np.array(vector(name), dtype=float)


def about(axis: Any, angle: float, v: Any) -> Any:
    """Rodrigues: a vector turned about an axis by the right-hand rule."""
    return v * cos(angle) + np.cross(axis, v) * sin(angle) + axis * (axis @ v) * (1 - cos(angle))


def clockwise(from_eye: Any, angle: float, v: Any) -> Any:
    """Turned clockwise as an eye sees it that looks along a direction: up goes to the right."""
    up = np.array([1.0, 0.0, 0.0]) if abs(from_eye[0]) < 0.5 else np.array([0.0, 1.0, 0.0])
    right = np.cross(from_eye, up)  # looking north with the head up, east is to the right
    flat = np.array([up, right, from_eye]) @ v
    c, s = cos(angle), sin(angle)
    return (
        (c * flat[0] - s * flat[1]) * up + (s * flat[0] + c * flat[1]) * right + flat[2] * from_eye
    )


def test_up_goes_to_the_right() -> None:
    # on a clock face looked at along -z, twelve o'clock is y and three o'clock x
    into = np.array([0.0, 0.0, -1.0])
    assert clockwise(into, pi / 2, np.array([0.0, 1.0, 0.0])) == pytest.approx([1.0, 0.0, 0.0])


def nut_mm(axis: Any, turned: Any) -> float:
    """How far a nut moves along an axis when its screw, held endwise, is turned by a rotation.

    A right-hand helix (ISO 5408: it goes away from the eye as it turns clockwise): about an axis by the
    right-hand rule as it goes along it. The nut holds on to it on one ray, which stays.
    """
    ray = np.cross(axis, [0.3, 0.5, 0.8])
    ray /= np.linalg.norm(ray)
    t = np.linspace(-pi / 2, pi / 2, 20_001)
    radial = np.outer(np.cos(t), ray) + np.outer(np.sin(t), np.cross(axis, ray))
    along = PITCH * t / (2 * pi)
    moved = radial @ np.array([turned(v) for v in np.eye(3)])
    here = int(np.argmax(moved @ ray))
    assert moved[here] @ ray == pytest.approx(1.0, abs=1e-6)
    return float(along[here])


def test_clockwise_from_the_free_end_draws_the_tip_in(plan: Plan) -> None:
    dial, screw = named(plan, "dial"), named(plan, "feed-screw")
    free = unit(dial.frame.x)  # from the graduated edge to the free end
    # the dial is on the screw's tail, the thread at its tip end, the arm on the tip's side of the block
    assert screw.frame.x == dial.frame.x and screw.carrier is Carrier.BODY
    tip = np.array([0.0, 1.0, 0.0])
    assert free @ tip == -1.0
    quarter = nut_mm(free, lambda v: clockwise(-free, pi / 2, v))
    # along the free end's direction: away from the tip, so the tip's radius falls, by a quarter pitch
    assert quarter == pytest.approx(PITCH / 4, abs=1e-3)
    assert quarter * (free @ tip) < 0.0
    assert "clockwise, seen from the dial's free end, draws the tip in" in DEEPER


def line_angles(plan: Plan) -> tuple[Any, Any, list[Any]]:
    """The dial's axis, a direction off it and where its lines point, tip on top."""
    dial = named(plan, "dial")
    s = plan.sizing.sizes
    axis, zero = unit(dial.frame.x), unit(dial.frame.z)
    table = engraving_table(design_dial(s.dial_divisions, s.screw_pitch_mm, s.dial_diameter_mm))
    # the engraving turns each line about the dial's own x by the right-hand rule (solids hold that)
    lines = [about(axis, np.radians(line.angle_deg), zero) for line in table]
    return axis, zero, lines


def test_the_number_under_the_line_grows_with_the_depth(plan: Plan) -> None:
    axis, zero, lines = line_angles(plan)
    n = plan.sizing.sizes.dial_divisions
    # clockwise from the free end by three divisions: the line that stood three on comes to the mark
    turn = 2 * pi * 3 / n
    at = [clockwise(-axis, turn, line) @ zero for line in lines]
    assert int(np.argmax(at)) == 3
    assert "counter-clockwise seen from its free end" in NUMBERED


def test_at_the_nose_the_numbers_grow_upward_on_the_operators_side(plan: Plan) -> None:
    axis, _, _ = line_angles(plan)

    def to_nose(v: Any) -> Any:
        # the tip goes from up to along the spindle, away from the chuck: y to z, z to -y
        return np.array([v[0], -v[2], v[1]])

    free = to_nose(axis)
    assert free == pytest.approx([0.0, 0.0, -1.0])  # at the chuck, to the operator's left
    # a line a little further on in number stands a little higher on his side
    next_one = about(free, 0.1, OPERATOR)
    assert next_one[1] > OPERATOR[1]
    # and turning deeper brings it down to where the first was
    assert clockwise(-free, 0.1, next_one) == pytest.approx(OPERATOR)
    assert "upward on the side toward you" in NUMBERED


@pytest.mark.parametrize("to_go_mm", [0.0, 0.02, 0.36, 0.64, 0.98, 1.0, 1.36, 7.5])
def test_the_reading_is_the_line_that_stands_there(to_go_mm: float) -> None:
    # from the finished ball, 0 under the mark, the dial is turned back by what is to go
    pitch, n = 1.0, 100
    axis = np.array([0.0, -1.0, 0.0])
    mark = np.array([0.0, 0.0, 1.0])
    back = 2 * pi * to_go_mm / pitch
    at = [clockwise(-axis, -back, about(axis, 2 * pi * k / n, mark)) @ mark for k in range(n)]
    shown = reading(round(to_go_mm / pitch * n, 6), n)
    assert shown.number == int(np.argmax(at)) and degrees(acos(min(1.0, max(at)))) < 1e-3
    assert shown.turns == int(to_go_mm // pitch)


def test_thirty_six_to_go_shows_sixty_four() -> None:
    assert said(reading(36, 100)) == "at 64"
    assert said(reading(136, 100)) == "at 64, 1 turn to go"
    assert said(reading(250.5, 50)) == "at 49.5, 5 turns to go"
    for bad in (-1, float("nan")):
        with pytest.raises(ValueError):
            reading(bad, 100)


def test_the_passes_show_what_the_screw_would(plan: Plan) -> None:
    s = plan.sizing.sizes
    for ball in plan.turned.balls:
        for one in ball.passes:
            taken = one.cut.taken
            out = (taken.radius_mm - ball.ball.radius_mm) / s.screw_pitch_mm  # turns back from zero
            missing = (-out % 1.0) * s.dial_divisions
            assert taken.reads == pytest.approx(missing % s.dial_divisions, abs=1e-6)
            assert taken.turns == int(out + 1e-9)


def test_one_sense_on_every_sheet(plan: Plan) -> None:
    from planner.measuring.correct import Measured, Reading, Rig, correct
    from planner.output.sheets.dial import dial_tables
    from planner.output.sheets.turn import turn_text

    turn = turn_text(plan.turned, plan.job)
    figures = " ".join(str(row) for row in dial_tables(plan.sizing, plan.job)[0].rows)
    route = " ".join(one.text for one in plan.operations)
    large = tuple(Reading(angle, 50.4) for angle in (40.0, 60.0, 90.0))
    moved = correct(Measured(large, 0.01, 50.0), Rig("across", 0.02, None)).advice
    (size,) = [one for one in moved if one.what == "size"]
    for text in (turn.lower(), figures.lower(), size.reason.lower()):
        assert DEEPER in " ".join(text.split())
    for text in (figures, route):
        assert NUMBERED in text
    assert "still to go; 0 + 0" not in turn and "tip at the nose" in turn
