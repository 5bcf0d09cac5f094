"""Half a ball in ``pommel correct``: both anvils of a micrometer stand on it at its equator alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

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
