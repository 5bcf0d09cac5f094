"""Half a ball in ``pommel correct``, with both anvils on it at its equator alone; and a hollow."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands import call
from jobs import ROOT, planned

from planner.measuring.readings import FIRST_BALL
from planner.output.page_data import balls

HALF = '[[ball]]\nname = "half"\nshape = "hemisphere"\ndiameter = 30\nblank_diameter = 34\n'


@pytest.mark.parametrize(
    ("angles", "refused"), [((90,), ()), ((90, 60, 45), (2, 3)), ((135,), (1,))]
)
def test_half_a_ball_is_measured_at_its_equator(
    tmp_path: Path, angles: tuple[int, ...], refused: tuple[int, ...]
) -> None:
    job, readings = tmp_path / "job.toml", tmp_path / "readings.toml"
    bench = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job.write_text(f"{bench}\n{HALF}", encoding="utf-8")
    rows = "".join(f"[[reading]]\nangle = {a}\ndiameter = 30.02\n" for a in angles)
    readings.write_text(f'units = "mm"\naccuracy = "0.005 mm"\n{rows}', encoding="utf-8")
    answer = call("correct", str(job), str(readings), "--no-record")
    told = [f"reading {n}" for n in refused]
    assert all(where in answer.stderr for where in told)
    assert answer.stderr.count("half a ball") == len(refused)
    assert answer.exit_code == (2 if refused else 1)  # 1: the tip is to come in


DISH = (
    '[[ball]]\nname = "dish"\nshape = "socket"\ndiameter = 200\ndepth = 1.5\nblank_diameter = 50\n'
)


def test_a_hollow_is_not_corrected_as_a_ball_is(tmp_path: Path) -> None:
    """Its tip cuts a larger radius farther out, a ball's farther in: a ball's advice would spoil it."""
    job, readings = tmp_path / "job.toml", tmp_path / "readings.toml"
    bench = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job.write_text(f"{bench}\n{DISH}", encoding="utf-8")
    readings.write_text(
        'units = "mm"\nball = "dish"\naccuracy = "0.02 mm"\n'
        "[[reading]]\nangle = 90\ndiameter = 200.1\n",
        encoding="utf-8",
    )
    answer = call("correct", str(job), str(readings), "--no-record")
    assert answer.exit_code == 2 and "tip in" not in answer.stdout
    assert "refused [no-ball]: " in answer.stderr
    assert "dish: a hollow: a micrometer has nothing to go across" in answer.stderr
    # nor does the page ask for readings of it
    job.write_text(f"{bench}\n{DISH}\n{HALF}", encoding="utf-8")
    told = {one["name"]: one["across"] for one in balls(planned(job))}
    # half a ball is left, and the attachment's own knob
    assert not told.pop("dish") and told == {"half": True, FIRST_BALL: True}


def test_half_a_ball_is_told_what_it_can_be_measured_by(tmp_path: Path) -> None:
    job, readings = tmp_path / "job.toml", tmp_path / "readings.toml"
    bench = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job.write_text(f"{bench}\n{HALF}", encoding="utf-8")
    row = "[[reading]]\nangle = 90\ndiameter = 30.02\n"
    readings.write_text(f'units = "mm"\naccuracy = "0.005 mm"\n{row}', encoding="utf-8")
    answer = call("correct", str(job), str(readings), "--no-record")
    # it has no stem side to measure near: its height says how far the pivot is off (the turn sheet)
    assert "or half a ball its height over nose and flat." in answer.stdout
