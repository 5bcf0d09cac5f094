"""Two processes of different hash seeds make the same sheets, byte for byte."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from jobs import ROOT

SCRIPT = """
import sys
from pathlib import Path
from drawing_cases import SHEET
from planner.drawing.dxf import write_dxf
from planner.drawing.pdf import pdf
from planner.drawing.svg import svg
where = Path(sys.argv[1])
where.mkdir()
(where / "sheet.pdf").write_bytes(pdf([SHEET], "Sheets"))
(where / "sheet.svg").write_text(svg(SHEET), encoding="utf-8")
write_dxf(where / "sheet.dxf", SHEET)
"""


def test_two_processes_make_the_same_bytes(tmp_path: Path) -> None:
    path = os.pathsep.join([str(ROOT), str(ROOT / "tests")])
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": path, "TZ": f"UTC+{seed}"}
        command = [sys.executable, "-c", SCRIPT, str(tmp_path / seed)]
        subprocess.run(command, check=True, env=env, cwd=tmp_path)
    for name in ("sheet.pdf", "sheet.svg", "sheet.dxf"):
        one, other = ((tmp_path / seed / name).read_bytes() for seed in ("1", "2"))
        assert len(one) > 10_000 and one == other, name
