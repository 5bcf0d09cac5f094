"""``pommel correct`` from outside: what it says, what it refuses, its exit codes and its record."""

from __future__ import annotations

import json
import shutil
import tomllib
from pathlib import Path

import numpy as np
import pytest
from commands import call
from jobs import ROOT


@pytest.fixture
def job(tmp_path: Path) -> str:
    """The bench lathe's job in a folder of its own: its record is kept beside it."""
    return str(shutil.copy(ROOT / "examples" / "bench-lathe.toml", tmp_path / "job.toml"))


def readings_file(tmp_path: Path, *rows: str, head: str = 'accuracy = "0.002 mm"') -> str:
    path = tmp_path / "readings.toml"
    path.write_text("\n".join(['units = "mm"', head, *rows]), encoding="utf-8")
    return str(path)


def reading(angle: float, diameter: float) -> str:
    return f"[[reading]]\nangle = {angle}\ndiameter = {diameter:.6f}"


def across(radius: float, skew: float, angle: float) -> float:
    """The caliper width of a swept circle about the point (0, skew), spun: by brute force."""
    a, t = np.radians(angle), np.radians(np.linspace(0, 180, 40_001))
    z, rho = radius * np.cos(t), skew + radius * np.sin(t)
    toward = z * np.cos(a) + rho * np.sin(a)
    away = -z * np.cos(a) + rho * np.sin(a)
    return float(toward.max() + away.max())


def test_a_high_pivot_is_found_and_lowered(tmp_path: Path, job: str) -> None:
    rows = [reading(a, across(25.0, 0.03, a)) for a in (30, 42, 58, 74, 90)]
    answer = call("correct", job, readings_file(tmp_path, *rows), "--json")
    assert answer.exit_code == 1, answer.output
    record = json.loads(answer.stdout)
    skew = next(row for row in record["tables"]["advice"] if row["what"] == "skew")
    assert skew["justified"] and skew["move"] == "pivot down"
    assert skew["amount_mm"] == pytest.approx(0.03, abs=1e-4)
    assert skew["error_mm"] == pytest.approx(0.03, abs=1e-4)


def test_a_large_ball_is_brought_in_by_divisions_of_radius(tmp_path: Path, job: str) -> None:
    rows = [reading(a, 50.2) for a in (30, 50, 70, 90)]
    answer = call("correct", job, readings_file(tmp_path, *rows), "--json")
    size = next(r for r in json.loads(answer.stdout)["tables"]["advice"] if r["what"] == "size")
    # 0.2 on the diameter is 0.1 on the radius: five divisions of 0.02 mm
    assert size["move"] == "tip in" and size["divisions"] == pytest.approx(5.0)


def test_readings_that_bear_nothing_out_justify_nothing(tmp_path: Path, job: str) -> None:
    rows = [reading(30, 50.001), reading(60, 49.999), reading(90, 50.0)]
    answer = call("correct", job, readings_file(tmp_path, *rows))
    assert answer.exit_code == 0, answer.output
    assert answer.stdout.count("No correction is justified") == 2
    assert "odd number of lobes" in answer.stdout


def test_a_single_reading_gives_the_size_alone(tmp_path: Path, job: str) -> None:
    file = readings_file(tmp_path, reading(90, 50.1))
    answer = call("correct", job, file, "--json")
    advice = {row["what"]: row for row in json.loads(answer.stdout)["tables"]["advice"]}
    assert not advice["skew"]["justified"] and advice["skew"]["error_mm"] is None
    assert advice["size"]["justified"]


def test_readings_that_contradict_each_other_move_nothing(tmp_path: Path, job: str) -> None:
    rows = [reading(90, 50.0), reading(89.9, 50.3), reading(40, 50.1), reading(30, 49.8)]
    answer = call("correct", job, readings_file(tmp_path, *rows), "--json")
    assert answer.exit_code == 1
    assert not any(r["justified"] for r in json.loads(answer.stdout)["tables"]["advice"])


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ((reading(200, 50),), "angle"),
        ((reading(10, 50), reading(90, 50)), "stem"),
        ((reading(90, 5),), "50"),
        ((), "reading"),
        (("[[reading]]\nangle = 90",), "missing"),
        (("[[reading]]\nangle = nan\ndiameter = 50",), "angle"),
        (("colour = 1",), "unknown key"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_place(
    tmp_path: Path, job: str, rows: tuple[str, ...], said: str
) -> None:
    order = sorted(rows, key=lambda row: row.startswith("[["))
    answer = call("correct", job, readings_file(tmp_path, *order))
    assert answer.exit_code == 2, answer.output
    assert said in answer.stderr and "readings.toml" in answer.stderr


def test_a_ball_must_be_named_where_there_are_several(tmp_path: Path, job: str) -> None:
    shutil.copy(ROOT / "examples" / "engine-lathe.toml", job)
    file = readings_file(tmp_path, reading(90, 60.0))
    answer = call("correct", job, file)
    assert answer.exit_code == 2 and "knob, lever, dish" in answer.stderr
    head = 'ball = "knob"\naccuracy = "0.01 mm"'
    file = readings_file(tmp_path, reading(90, 60.0), head=head)
    assert call("correct", job, file).exit_code == 0


def test_the_readings_file_that_new_writes_is_read(tmp_path: Path, job: str) -> None:
    path = tmp_path / "r.toml"
    assert call("new", str(path), "--readings").exit_code == 0
    assert call("correct", job, str(path)).exit_code in (0, 1)
    assert call("new", str(path), "--readings").exit_code == 2


# Slips, and moves too far to be any


def advised(answer: str) -> dict[str, dict[str, object]]:
    return {row["what"]: row for row in json.loads(answer)["tables"]["advice"]}


def test_radii_entered_for_diameters_move_nothing_and_are_named(tmp_path: Path, job: str) -> None:
    rows = [reading(a, 25.01) for a in (40, 60, 90)]
    answer = call("correct", job, readings_file(tmp_path, *rows), "--json")
    assert answer.exit_code == 2
    (found,) = json.loads(answer.stdout)["findings"]
    assert (found["code"], found["severity"]) == ("reading-slip", "refused")
    assert "radii entered for diameters" in found["limit"]
    assert not (tmp_path / "job-record").exists()


def test_a_slip_is_told_with_its_line_of_the_file(tmp_path: Path, job: str) -> None:
    rows = [reading(90, 50.02), reading(60, 5.002), reading(40, 50.01)]
    path = readings_file(tmp_path, *rows)
    answer = call("correct", job, path, "--json")
    assert answer.exit_code == 2
    (found,) = json.loads(answer.stdout)["findings"]
    line = found["line"]
    assert "5.002" in Path(path).read_text(encoding="utf-8").splitlines()[line - 1]
    assert f"reading 2, line {line}: 5.002 mm at 60 degrees" in answer.stderr
    # the same as a list in braces
    braces = ", ".join(
        f"\n{{angle = {a}, diameter = {d}}}" for a, d in ((90, 50), (60, 5), (40, 50))
    )
    Path(path).write_text(f'units = "mm"\naccuracy = 0.002\nreading = [{braces}]', encoding="utf-8")
    (found,) = json.loads(call("correct", job, path, "--json").stdout)["findings"]
    assert found["line"] == 5


def test_an_inch_job_is_told_its_slips_in_inches(tmp_path: Path, job: str) -> None:
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    Path(job).write_text(text.split("[[ball]]")[0], encoding="utf-8")
    path = tmp_path / "readings.toml"
    size = tomllib.loads(text)["attachment"]["max_ball_diameter"]  # in inches
    for factor, said in ((0.5, "radii entered"), (25.4, "millimetres entered as inches")):
        rows = [f"[[reading]]\nangle = {a}\ndiameter = {size * factor:.4f}" for a in (60, 90)]
        path.write_text("\n".join(['units = "in"\naccuracy = 0.0002', *rows]), encoding="utf-8")
        answer = call("correct", job, str(path))
        assert answer.exit_code == 2 and said in answer.stderr and " mm" not in answer.stderr


@pytest.mark.parametrize(
    ("radius_off", "skew", "what"),
    [(1.3, 0.0, "size"), (-1.3, 0.0, "size"), (0.0, 1.05, "skew"), (0.0, -1.05, "skew")],
)
def test_a_move_beyond_one_turn_of_the_dial_is_never_justified(
    tmp_path: Path, job: str, radius_off: float, skew: float, what: str
) -> None:
    # the job's screw has 1 mm a turn, and roughing leaves the usual 0.5 mm on the ball
    for part, fine in ((1.0, False), (0.7, True)):
        sizes = {a: across(25.0 + part * radius_off, part * skew, a) for a in (35, 50, 70, 90)}
        rows = [reading(*pair) for pair in sizes.items()]
        answer = call("correct", job, readings_file(tmp_path, *rows), "--no-record", "--json")
        assert answer.exit_code == 1
        row = advised(answer.stdout)[what]
        assert row["justified"] is fine and (row["amount_mm"] == 0) is not fine
        codes = [one["code"] for one in json.loads(answer.stdout)["findings"]]
        assert ("farther-than-likely" in codes) is not fine


# Contradictions


def pip(ball: float, diameter: float, accuracy: float = 0.01) -> str:
    return f"[[pip]]\nball_diameter = {ball}\ndiameter = {diameter}\naccuracy = {accuracy}"


def turned_to(wanted: float, diameter: float) -> str:
    return f"[[size]]\nset = {wanted}\ndiameter = {diameter}\naccuracy = 0.005"


@pytest.mark.parametrize(
    ("key", "rows"),
    [
        ("readings", [reading(90, 50.0), reading(90, 50.1), reading(60, 50.0)]),
        ("pips", [pip(50, 0.4), pip(50, 0.6)]),
        ("sizes", [turned_to(50, 50.0), turned_to(50, 50.1)]),
    ],
)
def test_contradictions_of_every_kind_end_alike(
    tmp_path: Path, job: str, key: str, rows: list[str]
) -> None:
    answer = call("correct", job, readings_file(tmp_path, *rows), "--json")
    assert answer.exit_code == 1
    (found,) = json.loads(answer.stdout)["findings"]
    assert (found["code"], found["severity"]) == ("readings-contradict", "warning")
    assert found["key"] == key and "warning [readings-contradict]" in answer.stderr
    assert not any(row["justified"] for row in advised(answer.stdout).values())
