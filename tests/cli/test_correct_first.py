"""The attachment's own knob is its first ball: the book has a table to measure it by, and sends one to
``pommel correct`` with what was read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

from planner.measuring.readings import FIRST_BALL

READINGS = """
format = 1
units = "mm"
ball = "{}"
accuracy = "0.002 mm"
"""


def _read(folder: Path, name: str, diameter: float) -> Path:
    across = "".join(
        f'[[reading]]\nangle = {angle}\ndiameter = "{diameter} mm"\n' for angle in (40, 55, 70, 90)
    )
    file = folder / "readings.toml"
    file.write_text(READINGS.format(name) + across, encoding="utf-8")
    return file


def _knob_mm(job: Path) -> float:
    """The diameter that the knob's own sheet has."""
    said = json.loads(call("route", str(job), "--json").stdout)
    (text,) = (one["text"] for one in said["operations"] if one["text"].startswith("turn the ball"))
    return float(text.split("SØ")[1].split()[0])


@pytest.mark.parametrize("more", ["", '\n[[ball]]\nname = "knob"\ndiameter = 40\n'])
def test_the_first_ball_is_corrected(tmp_path: Path, more: str) -> None:
    """As it was: refused, a ball that the job does not have. A knob 0.04 thicker than its drawing all
    round stands 0.02 off its radius, which is a division of 0.02 mm, 1 mm by 50; one of the job's balls
    that is called knob too is another."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job = tmp_path / "job.toml"
    job.write_text(text + more, encoding="utf-8")
    thick = _knob_mm(job) + 0.04
    done = call("correct", str(job), str(_read(tmp_path, FIRST_BALL, thick)), "--json")
    assert done.exit_code == 1, done.stderr  # a correction is justified
    found = json.loads(done.stdout)
    (size,) = (one for one in found["tables"]["advice"] if one["what"] == "size")
    assert size["error_mm"] == pytest.approx(0.02, abs=0.0005) and size["justified"]
    assert size["divisions"] == pytest.approx(1.0, abs=0.03) and size["move"] == "tip in"
    assert found["ball"] == FIRST_BALL and found["recorded"]


def test_without_a_knob_to_turn_there_is_no_such_ball(tmp_path: Path) -> None:
    """A head that exists has no knob of ours; one that comes in to 30 cannot turn its own."""
    own = tmp_path / "own.toml"
    call("new", str(own), "--own-head")
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    large = tmp_path / "large.toml"
    key = "[attachment]\nmin_ball_diameter = 30"
    large.write_text(text.replace("[attachment]", key, 1), encoding="utf-8")
    for job in (own, large):
        done = call("correct", str(job), str(_read(tmp_path, FIRST_BALL, 22.0)), "--no-record")
        assert done.exit_code == 2 and "[unknown-ball]" in done.stderr
