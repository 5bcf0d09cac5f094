"""The balls' blanks in the cut list, and metals that are not turned."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from jobs import ROOT

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.turning.blanks import blank_pieces
from planner.turning.plan import turned
from planner.words.findings import BadInput

JobWith = Callable[..., Job]
KNOB = {"name": "knob", "diameter": 40, "blank_diameter": 42, "stem_diameter": 14, "quantity": 3}


def blanks(job: Job) -> list:
    s = size_up(job, "job.toml").sizes
    return list(blank_pieces(turned(attachment(s), job, "job.toml", 0.5), job))


def test_a_blank_is_as_long_as_what_stands_out_and_what_is_gripped(job_with: JobWith) -> None:
    job = job_with(ball=[KNOB])
    (blank,) = blanks(job)
    s = size_up(job, "job.toml").sizes
    (plan,) = turned(attachment(s), job, "job.toml", 0.5).balls
    assert (blank.part, blank.piece, blank.quantity) == ("balls", "knob", 3)
    assert (blank.section.shape, blank.section.width_mm) == ("round", 42.0)
    # gripped over a diameter (common practice) or as far as the jaws stand out of the chuck, whose bore
    # takes a fifth of its 100 mm: longer, it ends on the chuck's face and stands out farther than said;
    # 1 mm faced off the end
    assert job.lathe.jaw_reach == 26.0
    assert blank.finished_mm + blank.grip_mm == pytest.approx(plan.blank_length_mm + 26.0)
    assert blank.facing_mm == 1.0 and not blank.from_bar
    # the ball, 1 mm behind its pole, and the parting tool's 3 mm are used up
    assert blank.finished_mm == pytest.approx(20.0 + 20.0 + 1.0 + 3.0)


@pytest.mark.parametrize("reach_mm, gripped_mm", [(20.0, 20.0), (30.0, 30.0), (60.0, 42.0)])
def test_a_blank_is_sawn_to_what_the_sheet_says_is_gripped(
    job_with: JobWith, reach_mm: float, gripped_mm: float
) -> None:
    """As it was: a diameter more than stands out, whatever the jaws: 22 mm too long in jaws of 20."""
    from planner.output.sheets.turn_setup import _blank

    job = job_with(**{"lathe.jaw_reach": reach_mm, "ball": [KNOB]})
    (blank,) = blanks(job)
    s = size_up(job, "job.toml").sizes
    (plan,) = turned(attachment(s), job, "job.toml", 0.5).balls
    (row,) = (one for one in _blank(plan, job) if one.what == "blank")
    assert f"gripped over {gripped_mm:g} mm in three jaws" in row.how
    assert blank.finished_mm + blank.grip_mm - plan.blank_length_mm == pytest.approx(gripped_mm)


@pytest.mark.parametrize("example, grain_mm", [("bench-lathe", 0.5), ("inch-lathe", 25.4 / 64)])
def test_a_blank_is_of_a_length_that_a_rule_shows(
    job_with: JobWith, example: str, grain_mm: float
) -> None:
    # halves of a millimetre, 64ths of an inch (common practice): the column has one way of writing then
    ball = {"name": "odd", "diameter": "33.3 mm", "stem_diameter": "12 mm"}
    job = job_with(example, ball=[ball])
    (blank,) = blanks(job)
    parts = blank.finished_mm / grain_mm
    assert parts == pytest.approx(round(parts), abs=1e-4)
    least = 2 * 33.3 / 2 + (3.175 + 25.4 * 3 / 64 if job.inch else 3.0 + 1.0)
    assert least <= blank.finished_mm + 1e-6 and blank.finished_mm < least + grain_mm + 0.03


def test_bar_that_goes_through_the_spindle_has_one_grip_for_all(job_with: JobWith) -> None:
    (blank,) = blanks(job_with(**{"lathe.spindle_bore": 45.0, "ball": [KNOB]}))
    assert blank.from_bar and blank.grip_mm == 0.0 and blank.shared_grip_mm > 42.0
    (blank,) = blanks(job_with(**{"lathe.spindle_bore": 41.0, "ball": [KNOB]}))
    assert not blank.from_bar


def test_square_blanks_are_square_bar_and_hexagons_are_on_no_list(job_with: JobWith) -> None:
    square = KNOB | {"blank_shape": "square"}
    (blank,) = blanks(job_with(**{"attachment.max_blank_diameter": 64, "ball": [square]}))
    assert blank.section.shape == "square"
    hexagon = KNOB | {"blank_shape": "hexagon"}
    assert not blanks(job_with(**{"attachment.max_blank_diameter": 64, "ball": [hexagon]}))


def test_they_go_to_the_cut_list_only_when_asked(tmp_path, monkeypatch) -> None:
    text = (ROOT / "examples" / "engine-lathe.toml").read_text()
    asked, plain = tmp_path / "asked.toml", tmp_path / "plain.toml"
    plain.write_text(text)
    asked.write_text(text + "\n[turning]\norder_blanks = true\n")
    names = {
        path: {piece.piece for group in Plan(path).cuts.groups for piece in group.pieces}
        for path in (asked, plain)
    }
    assert names[asked] - names[plain] == {"knob", "lever", "dish"} - names[plain]
    assert {"lever", "dish"} <= names[asked] and not {"lever", "dish"} & names[plain]


@pytest.mark.parametrize("name", ["magnesium", "AZ31B", "AZ91", "WE43", "Elektron 21", "AM60"])
def test_magnesium_is_refused_for_its_chips_burn(name: str) -> None:
    import tomllib

    data = tomllib.loads((ROOT / "examples" / "bench-lathe.toml").read_text())
    data["ball"] = [{"diameter": 30, "material": name}]
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml")
    (found,) = caught.value.findings
    assert "catch fire" in str(found) and "aluminium" in str(found)
