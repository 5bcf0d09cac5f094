"""How true surfaces lie, as a part says it: refused where it makes no sense, and by hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from parts.places import Trueness
from parts.trueness import dial_reading_mm, face_run_out_mm, foot_true_mm, rod_square_mm
from planner.output.plan import Plan


def test_a_trueness_of_nothing_or_to_no_datum_is_a_slip_of_the_author(bench: Plan) -> None:
    nut = next(part for part in bench.attachment.parts if part.name == "pivot-nut")
    for wrong in (
        Trueness("run-out", "blank:x-low", 0.0, ("A",), "no width"),
        Trueness("run-out", "blank:x-low", 0.01, ("Q",), "no such datum"),
    ):
        with pytest.raises(ValueError, match="true within"):
            replace(nut, trueness=(wrong,))
    with pytest.raises(KeyError):
        replace(nut, trueness=(Trueness("run-out", "rim:start", 0.01, ("A",), "no such carrier"),))
    with pytest.raises(KeyError):
        replace(nut, textures={"blank:top": 1.6})


def test_figures_by_hand(bench: Plan) -> None:
    """The bench lathe: rod 14 H7 (ISO 286: +0.018), 1 mm pitch over 50, foot with 0.03 of play."""
    sizes = bench.sizing.sizes
    assert sizes.rod_diameter_mm == 14.0
    assert rod_square_mm(sizes) == pytest.approx(0.018)
    assert (sizes.screw_pitch_mm, sizes.dial_divisions) == (1.0, 50)
    assert dial_reading_mm(sizes) == pytest.approx(0.25 * 0.02)
    assert foot_true_mm(sizes) == pytest.approx(0.015)
    # 0.015 of play over the housing: as much of it as the face is of the housing's length
    across = sizes.housing_length_mm / 3
    assert face_run_out_mm(sizes, across) == pytest.approx(0.005)
