"""``pommel correct`` from outside: what it says, what it refuses, its exit codes and its record."""

from __future__ import annotations

import json
import re
import shutil
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from commands import call
from jobs import ROOT

from planner.job.template import readings_template


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
    rows = readings_file(tmp_path, *rows)
    assert (
        "Once that is moved" not in call("correct", job, rows).stdout
    )  # each ball has its own size


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
        if not fine:
            (far,) = (f for f in json.loads(answer.stdout)["findings"] if f["key"] == what)
            assert far["limit"].endswith("is off by 1 mm at most")


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


# The record


def ball(tmp_path: Path, name: str, size: float, skew: float, *more: str) -> str:
    """A file of readings of a swept ball of a size, to the tenth of a micrometre."""
    path = tmp_path / f"{name}.toml"
    rows = [reading(a, round(across(size / 2, skew, a), 4)) for a in (35, 50, 70, 90)]
    text = "\n".join(['units = "mm"', 'accuracy = "0.006 mm"', *rows, *more])
    path.write_text(text, encoding="utf-8")
    return str(path)


def answered(*words: str) -> dict[str, Any]:
    return dict(json.loads(call("correct", *words, "--json").stdout))


def kept(tmp_path: Path, name: str = "balls") -> list[dict[str, Any]]:
    path = tmp_path / "job-record" / f"{name}.jsonl"
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def test_balls_of_one_setting_sharpen_each_other_until_something_is_moved(
    tmp_path: Path, job: str
) -> None:
    first, second, third = (
        ball(tmp_path, name, size, 0.016) for name, size in (("a", 50.1), ("b", 50.0), ("c", 49.9))
    )
    spreads = []
    for number, path in enumerate((first, second, third), 1):
        said = answered(job, path)
        assert (said["setting"], said["balls"], said["recorded"]) == (1, number, True)
        spreads.append(next(r["uncertainty"] for r in said["tables"]["fit"] if r["what"] == "skew"))
    # one, two and three balls alike: one over the root of their number
    assert spreads == pytest.approx(
        [spreads[0], spreads[0] / 2**0.5, spreads[0] / 3**0.5], rel=1e-3
    )
    assert [line["setting"]["number"] for line in kept(tmp_path)] == [1, 1, 1]
    assert "3 balls turned at this setting" in call("correct", job, third).stdout
    (once,) = re.findall(
        r"Once that is moved, say so: pommel (.*)", call("correct", job, third).stdout
    )
    assert once.split() == ["correct", job, "--moved"]
    moved = call(*once.split(), "--date", "2026-11-28")
    assert moved.exit_code == 0 and moved.stdout.startswith("setting 2 begins")
    assert [(line["setting"], line["date"]) for line in kept(tmp_path, "moves")] == [
        (2, "2026-11-28")
    ]
    after = answered(job, ball(tmp_path, "d", 50.0, 0.0))
    assert (after["setting"], after["balls"], after["recorded"]) == (2, 1, True)
    table = json.loads(call("record", job, "--json").stdout)["tables"]["balls"]
    assert [row["setting"] for row in table] == [1, 1, 1, 2]


def test_the_same_readings_count_once(tmp_path: Path, job: str) -> None:
    path = ball(tmp_path, "a", 50.1, 0.016)
    one = answered(job, path)
    again = answered(job, path)
    assert (one["recorded"], again["recorded"], again["balls"]) == (True, False, 1)
    assert again["tables"] == one["tables"] and len(kept(tmp_path)) == 1
    assert "already, setting 1" in call("correct", job, path).stdout
    text = Path(path).read_text(encoding="utf-8")
    Path(path).write_text(f"{text}\n{reading(60, 50.13)}", encoding="utf-8")
    more = answered(job, path)  # measured on: the line before is of the same ball
    assert (more["recorded"], more["balls"]) == (True, 1) and len(kept(tmp_path)) == 2
    twin = Path(path).read_text(encoding="utf-8").replace("accuracy", 'piece = "2"\naccuracy', 1)
    Path(path).write_text(twin, encoding="utf-8")
    assert answered(job, path)["balls"] == 1  # the first has no name: it may be this one
    Path(path).write_text(twin.replace('"2"', '"3"'), encoding="utf-8")
    assert answered(job, path)["balls"] == 2


def test_readings_from_before_a_move_say_nothing_after_it(tmp_path: Path, job: str) -> None:
    path = ball(tmp_path, "a", 50.1, 0.016)
    call("correct", job, path)
    said = call("correct", job, path, "--moved")  # turned before the move, which is told alone
    assert said.exit_code == 2 and "refused [readings-before-move]" in said.stderr
    assert not (tmp_path / "job-record" / "moves.jsonl").exists()
    assert call("correct", job, "--moved").exit_code == 0
    for words in ([path], [path, "--moved"]):
        said = call("correct", job, *words)
        assert said.exit_code == 2 and "refused [readings-before-move]" in said.stderr
    assert len(kept(tmp_path)) == len(kept(tmp_path, "moves")) == 1
    alone = answered(job, path, "--no-record")
    assert (alone["setting"], alone["recorded"], alone["balls"]) == (0, False, 1)


def test_a_move_that_parts_nothing_begins_nothing(tmp_path: Path, job: str) -> None:
    said = call("correct", job, "--moved")
    assert said.exit_code == 0 and "note [nothing-moved]" in said.stderr
    assert not (tmp_path / "job-record").exists()
    call("correct", job, ball(tmp_path, "a", 50.1, 0.016))
    for recorded in (True, False):
        told = answered(job, "--moved")
        assert (told["setting"], told["recorded"], told["balls"]) == (2, recorded, 0)
        assert all(rows == [] for rows in told["tables"].values()) and told["ball"] == ""
    both = answered(job, ball(tmp_path, "b", 50.0, 0.0), "--moved")
    assert (both["setting"], both["balls"]) == (2, 1)  # none was turned at the second yet
    both = answered(job, ball(tmp_path, "c", 50.0, 0.01), "--moved")
    assert (both["setting"], both["balls"]) == (3, 1)
    assert [line["setting"] for line in kept(tmp_path, "moves")] == [2, 3]


def test_a_ball_that_differs_is_told_and_not_recorded(tmp_path: Path, job: str) -> None:
    call("correct", job, ball(tmp_path, "a", 50.1, 0.1))
    path = ball(tmp_path, "b", 50.0, 0.0)
    said = call("correct", job, path)
    assert said.exit_code == 1 and "warning [setting-changed]" in said.stderr
    assert "Not recorded" in said.stdout and len(kept(tmp_path)) == 1
    told = answered(job, path, "--moved")
    assert (told["setting"], told["recorded"], told["findings"]) == (2, True, [])
    assert len(kept(tmp_path)) == 2


def test_without_the_record_nothing_is_written_or_used(tmp_path: Path, job: str) -> None:
    path = ball(tmp_path, "a", 50.1, 0.016)
    alone = answered(job, path, "--no-record")
    assert not (tmp_path / "job-record").exists() and not alone["recorded"]
    call("correct", job, ball(tmp_path, "b", 50.0, 0.016))
    assert answered(job, path, "--no-record") == alone
    assert answered(job, path)["balls"] == 2
    for words in ([], ["--no-record"], ["--moved", "--no-record"]):
        said = call("correct", job, *words)
        assert said.exit_code == 2 and "refused [missing-key]" in said.stderr
    for words in (["--date", "someday"], ["--date", "2026-11-28", "--no-record"]):
        said = call("correct", job, path, *words)
        assert said.exit_code == 2 and "correct: --date" in said.stderr


def test_what_stands_in_the_record_stays(tmp_path: Path, job: str) -> None:
    folder = tmp_path / "job-record"
    folder.mkdir()
    mine = '{"ball": "largest", "setting": {"diameter_mm": 50}, "verdict": "good", "own": 1}\n{half'
    (folder / "balls.jsonl").write_text(mine, encoding="utf-8")
    (folder / "made.toml").write_text("this is no TOML", encoding="utf-8")  # none of ours
    said = call("correct", job, ball(tmp_path, "a", 50.1, 0.016))
    assert "warning [broken-line]" in said.stderr and "note [own-key]" in said.stderr
    text = (folder / "balls.jsonl").read_text(encoding="utf-8")
    assert text.startswith(mine + "\n") and len(text.splitlines()) == 3
    assert (folder / "made.toml").read_text(encoding="utf-8") == "this is no TOML"
    (folder / "moves.jsonl").write_text('{"setting": "two"}\n', encoding="utf-8")
    said = call("correct", job, ball(tmp_path, "b", 50.1, 0.01))
    assert said.exit_code == 2 and "moves.jsonl" in said.stderr
    assert (folder / "balls.jsonl").read_text(encoding="utf-8") == text


def test_pips_of_two_balls_tell_a_pivot_out_of_square(tmp_path: Path, job: str) -> None:
    # a pip of radius R sin t - e: with e of 0.3 and t of 0.4 degrees, by hand
    sizes = {20.0: abs(10 * 0.0069813 - 0.3), 50.0: abs(25 * 0.0069813 - 0.3)}
    for n, (diameter, radius) in enumerate(sizes.items()):
        path = tmp_path / f"pip{n}.toml"
        path.write_text(f'units = "mm"\naccuracy = 0.003\n{pip(diameter, 2 * radius)}')
        said = answered(job, str(path))
    found = [r["value"] for r in said["tables"]["fit"] if r["what"] == "pivot out of square, deg"]
    assert any(value == pytest.approx(0.4, rel=0.01) for value in found)


def test_a_ball_within_its_tolerance_is_said_to_be(tmp_path: Path, job: str) -> None:
    text = Path(job).read_text(encoding="utf-8")
    for tolerance, standing, code, verdict in (
        ("0.2 mm", "within", 0, "good"),
        ("0.03 mm", "cannot be told", 1, "unknown"),
        ("0.001 mm", "outside", 1, "rework"),
    ):
        shutil.rmtree(tmp_path / "job-record", ignore_errors=True)
        knob = f'\n[[ball]]\nname = "knob"\ndiameter = 40\ntolerance = "{tolerance}"\n'
        Path(job).write_text(text + knob, encoding="utf-8")
        path = ball(tmp_path, "a", 40.0, 0.015)
        said = call("correct", job, path, "--json")
        assert (said.exit_code, json.loads(said.stdout)["standing"]) == (code, standing)
        assert kept(tmp_path)[0]["verdict"] == verdict
        shown = call("correct", job, path).stdout
        assert f"{'within' if standing == 'within' else standing.split()[0]}" in shown.lower()
        justified = any(row["justified"] for row in advised(said.stdout).values())
        assert justified is (standing == "outside")


def test_the_sheet_says_what_an_anvil_off_its_angle_does(tmp_path: Path, job: str) -> None:
    # by the body itself: the width 2 degrees beside each angle, for the skew of 0.3 it is turned with
    angles = (35, 50, 70, 90)
    path = ball(tmp_path, "a", 50.0, 0.3)
    moved = max(
        abs(across(25.0, 0.3, a + way) - across(25.0, 0.3, a)) for a in angles for way in (2, -2)
    )
    shown = call("correct", job, path).stdout
    found = re.search(r"2 deg off its angle changes a reading of this ball by ([\d.]+) mm", shown)
    assert found and float(found[1]) == pytest.approx(moved, rel=0.02)
    said = re.search(r"the skew is uncertain by ([\d.]+) mm instead of ([\d.]+) mm", shown)
    fit = {r["what"]: r for r in answered(job, path)["tables"]["fit"]}
    off = fit["skew, anvils 2 degrees off"]
    assert said and float(said[1]) == pytest.approx(off["uncertainty"], abs=1e-4)
    assert float(said[2]) == pytest.approx(fit["skew"]["uncertainty"], abs=1e-4)
    assert off["value"] == fit["skew"]["value"] and off["uncertainty"] > fit["skew"]["uncertainty"]
    assert fit["radius, anvils 2 degrees off"]["uncertainty"] > fit["radius"]["uncertainty"]
    row = [line for line in shown.splitlines() if line.startswith("skew, anvils 2 degrees off")]
    assert row and row[0].split()[-2] == f"{off['value']:.4f}".rstrip("0")


def test_an_anvil_never_changes_a_reading_by_nothing(tmp_path: Path) -> None:
    """Where it is less than a tenth of a thousandth, that is what is told, not 0.0000 in at most."""
    job, path = tmp_path / "job.toml", tmp_path / "readings.toml"
    job.write_text((ROOT / "examples" / "inch-lathe.toml").read_text("utf-8"), "utf-8")
    path.write_text(readings_template(inch=True), "utf-8")
    shown = call("correct", str(job), str(path)).stdout
    assert "changes a reading of this ball by 0.0001 in at most" in shown


def test_what_is_far_from_any_offset_tilt_or_zero_moves_nothing(tmp_path: Path, job: str) -> None:
    # one turn of the bench lathe's screw is 1 mm: a pip of radius 1.2, a tilt that shifts the nose of
    # a ball of 50 by that, a dial whose zero is off by as much
    cases = {
        "offset": [pip(50, 2.4)],
        "squareness": [pip(10, 0.02), pip(30, 1.22), pip(50, 2.42)],
        "zero": [turned_to(50, 52.4)],
    }
    for what, rows in cases.items():
        said = call("correct", job, readings_file(tmp_path, *rows), "--no-record", "--json")
        row = advised(said.stdout)[what]
        assert not row["justified"] and row["divisions"] is None and said.exit_code == 1
        codes = [(f["code"], f["key"]) for f in json.loads(said.stdout)["findings"]]
        assert ("farther-than-likely", what) in codes
    near = [pip(50, 1.8)]
    said = call("correct", job, readings_file(tmp_path, *near), "--no-record", "--json")
    assert advised(said.stdout)["offset"]["justified"]


def test_an_answer_is_given_where_the_record_cannot_be_written(
    tmp_path: Path, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = ball(tmp_path, "a", 50.1, 0.016)
    alone = answered(job, path, "--no-record")

    def full(path: Path, line: str) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("planner.record.adding.append_line", full)
    said = call("correct", job, path)
    assert said.exit_code == 1 and "refused [unwritable]" in said.stderr
    assert "Not recorded" in said.stdout and not (tmp_path / "job-record").exists()
    told = answered(job, path)
    assert told["tables"] == alone["tables"] and not told["recorded"]
