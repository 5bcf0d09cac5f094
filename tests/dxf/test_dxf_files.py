"""DXF files whole or not at all, the same bytes every time, and what is refused."""

import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from dxf_cases import PLATE
from jobs import ROOT

from planner.dxf.profiles import write_profile


def test_refusals(tmp_path):
    path = tmp_path / "none.dxf"
    with pytest.raises(ValueError, match=r"R13.*R12, R2000"):
        write_profile(path, PLATE, "R13")
    with pytest.raises(OSError):
        write_profile(tmp_path / "nowhere" / "a.dxf", PLATE)
    assert list(tmp_path.iterdir()) == []


def test_a_failed_write_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch):
    path = tmp_path / "bracket.dxf"
    path.write_text("old")

    def full(*_):
        raise OSError("no space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="no space"):
        write_profile(path, PLATE)
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]
    monkeypatch.undo()
    write_profile(path, PLATE)
    assert path.read_text() != "old"
    assert list(tmp_path.iterdir()) == [path]


def test_ezdxf_options_are_put_back(tmp_path):
    for before in (False, True):
        ezdxf.options.write_fixed_meta_data_for_testing = before
        try:
            write_profile(tmp_path / "a.dxf", PLATE)
            with pytest.raises(ValueError):
                write_profile(tmp_path / "a.dxf", PLATE, "R9")
            assert ezdxf.options.write_fixed_meta_data_for_testing is before
        finally:
            ezdxf.options.write_fixed_meta_data_for_testing = False


SCRIPT = """
import hashlib, sys
from pathlib import Path
from dxf_cases import PLATE
from planner.dxf.profiles import write_layers, write_profile
layers = {"EDGE": (7, "HIDDEN", 25), "MARK": (3, "CENTER", 25)}
drawn = [("EDGE", PLATE.outline), ("MARK", PLATE.holes[0])]
folder = Path(sys.argv[1])
for version in ("R12", "R2010"):
    for turn in (1, 2):
        write_profile(folder / "profile.dxf", PLATE, version)
        write_layers(folder / "layers.dxf", layers, drawn, version)
        for name in ("profile", "layers"):
            print(hashlib.sha256((folder / f"{name}.dxf").read_bytes()).hexdigest())
"""


def test_the_same_bytes_from_every_process(tmp_path):
    runs = []
    search = os.pathsep.join(str(ROOT / place) for place in (".", "tests"))
    for seed in ("0", "1", "4711"):
        folder = tmp_path / seed
        folder.mkdir()
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT, str(folder)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": search},
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        )
        assert run.stderr == ""
        runs.append(run.stdout.split())
    assert runs[0] == runs[1] == runs[2]
    # Two writes in one process are the same too; the four kinds of file are not.
    r12, r2010 = runs[0][:4], runs[0][4:]
    assert r12[:2] == r12[2:] and r2010[:2] == r2010[2:]
    assert len({*r12, *r2010}) == 4


def test_another_hash_seed_gives_the_same_bytes(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path;"
        "from planner.geometry.curves import FlatProfile, Outline;"
        "from planner.dxf.profiles import write_profile;"
        "o = Outline(((0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (0.0, 9.0, 0.0)));"
        "write_profile(Path(sys.argv[1]), FlatProfile('p', 'P', 'S235', 3.0, o, (), ()))"
    )
    made = []
    for seed in ("1", "2", "3"):
        path = tmp_path / f"{seed}.dxf"
        env = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parents[2])}
        subprocess.run([sys.executable, "-c", code, str(path)], env=env, check=True)
        made.append(path.read_bytes())
    assert made[0] == made[1] == made[2]
