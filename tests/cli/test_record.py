"""``pommel record``: what is recorded, against the limits of the job as it is now."""

from __future__ import annotations

import json
import shlex
import tomllib
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from commands import call
from jobs import ROOT

BENCH = ROOT / "examples" / "bench-lathe.toml"
ENGINE, INCH = ROOT / "examples" / "engine-lathe.toml", ROOT / "examples" / "inch-lathe.toml"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of the bench lathe's job, its record to lie beside it."""
    path = tmp_path / "my-lathe.toml"
    path.write_bytes(BENCH.read_bytes())
    return path


def shown(job: Path, *words: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(call("record", str(job), *words, "--json").stdout)
    return found


def made(job: Path) -> dict[str, Any]:
    text = (job.parent / f"{job.stem}-record" / "made.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def test_nothing_recorded_is_said_and_nothing_is_written(job: Path) -> None:
    said = call("record", str(job))
    assert said.exit_code == 0 and "note [nothing-recorded]" in said.stderr
    assert [one.name for one in job.parent.iterdir()] == ["my-lathe.toml"]
    assert shown(job)["tables"] == {"sizes": [], "done": [], "balls": []}


def test_the_limits_are_those_of_the_standard(job: Path) -> None:
    # a journal 20 g6 in a bore 20 H7: ISO 286-2:2010, over 18 up to 30 mm: g6 -7 and -20 um, H7 +21 and
    # 0 um; also in any handbook of the trade
    words = "--made rotating-body journal 19.98 --made housing 'pivot bore' 20.021"
    said = call("record", str(job), *shlex.split(words))
    assert said.exit_code == 0 and said.stderr == ""
    journal, bore = shown(job)["tables"]["sizes"]
    assert (journal["least_mm"], journal["greatest_mm"]) == (19.980, 19.993)
    assert (bore["least_mm"], bore["greatest_mm"]) == (20.0, 20.021)


def test_a_size_is_judged_in_and_out_just_beside_its_limits(job: Path) -> None:
    row = shown(job, "--made", "rotating-body", "journal", "19.5")["tables"]["sizes"][0]
    low, high = row["least_mm"], row["greatest_mm"]
    assert low < high
    for value, verdict, out in [
        (low, "in", 0.0),
        (high, "in", 0.0),
        (low - 0.001, "out", -0.001),
        (high + 0.001, "out", 0.001),
    ]:
        said = call("record", str(job), "--made", "rotating-body", "journal", f"{value:.4f} mm")
        assert said.exit_code == (1 if verdict == "out" else 0)
        assert ("warning [out-of-limits]" in said.stderr) is (verdict == "out")
        assert verdict in said.stdout.split()
        last = shown(job)["tables"]["sizes"][-1]
        assert (last["verdict"], last["counts"]) == (verdict, True)
        assert last["out_mm"] == pytest.approx(out, abs=1e-9)
    assert [row["counts"] for row in shown(job)["tables"]["sizes"]] == [False] * 4 + [True]


def test_what_is_recorded_carries_gauge_day_and_hashes(job: Path) -> None:
    words = shlex.split('--made housing "pivot bore" 20.01 --gauge "bore gauge" --date 2026-11-28')
    call("record", str(job), *words, "--done", "housing", "oil hole")
    (size,), (done,) = made(job)["size"], made(job)["done"]
    assert (size["part"], size["feature"], size["value"]) == ("housing", "pivot bore", "20.01 mm")
    assert size["gauge"] == "bore gauge" and "gauge" not in done
    assert size["date"].isoformat() == done["date"].isoformat() == "2026-11-28"
    assert size["job_file_sha256"] == sha256(job.read_bytes()).hexdigest()
    assert len(size["feature_sha256"]) == 16 and size["feature_sha256"] != done["feature_sha256"]
    tables = shown(job)["tables"]
    assert tables["done"] == [
        {
            "part": "housing",
            "feature": "oil hole",
            "number": 1,
            "state": "as recorded",
            "counts": True,
            "date": "2026-11-28",
        }
    ]


def test_a_day_is_never_made_up(job: Path) -> None:
    call("record", str(job), "--done", "housing", "oil hole")
    assert "date" not in made(job)["done"][0]
    assert shown(job)["tables"]["done"][0]["date"] is None


def test_a_value_is_in_the_jobs_units_or_its_own(tmp_path: Path) -> None:
    job = tmp_path / "inch.toml"
    job.write_bytes(INCH.read_bytes())
    call("record", str(job), "--made", "dial", "rim", "1-1/2", "--made", "dial", "rim", "38.1 mm")
    one, other = shown(job)["tables"]["sizes"]
    assert one["value_mm"] == other["value_mm"] == 38.1  # 1.5 in of 25.4 mm
    assert [size["value"] for size in made(job)["size"]] == ["1-1/2 in", "38.1 mm"]
    assert made(job)["units"] == "in"


def test_every_slip_is_told_at_once_with_the_nearest_and_nothing_is_written(job: Path) -> None:
    said = call(
        "record",
        str(job),
        *shlex.split("--made rotating-body jornal 20 --made hosing x 20 --made dial rim much"),
        *shlex.split('--made dial knurl 0 --made housing "upper weld" 3 --made dial journal 2'),
        *shlex.split('--done housing "oil hol" --done dial rim --date today --json'),
    )
    assert said.exit_code == 2
    record = json.loads(said.stdout)
    assert record["format"] == "pommel.findings/1"
    assert [(one["code"], one["key"]) for one in record["findings"]] == [
        ("wrong-value", "--date"),
        ("unknown-feature", "--made"),
        ("unknown-part", "--made"),
        ("not-a-length", "--made"),
        ("out-of-range", "--made"),
        ("no-size", "--made"),
        ("unknown-feature", "--made"),
        ("unknown-feature", "--done"),
    ]
    for text in ("Did you mean journal?", "Did you mean housing?", "It is on: rotating-body"):
        assert text in said.stderr
    assert "Did you mean oil hole?" in said.stderr
    assert [one.name for one in job.parent.iterdir()] == ["my-lathe.toml"]


def test_gauge_or_date_alone_is_a_slip(job: Path) -> None:
    said = call("record", str(job), "--gauge", "caliper")
    assert said.exit_code == 2 and "--made or --done" in said.stderr


def test_only_what_was_added_is_printed_and_judged_after_adding(job: Path) -> None:
    call("record", str(job), "--made", "dial", "rim", "1 mm")
    said = call("record", str(job), "--done", "housing", "oil hole")
    assert said.exit_code == 0 and "rim" not in said.stdout and "oil hole" in said.stdout
    assert call("record", str(job)).exit_code == 1


def test_a_changed_job_shows_what_it_no_longer_has(job: Path) -> None:
    words = (
        '--done sliding-head "rod spigot" --made sliding-head rod 16 --done dial "dial screw hole"'
    )
    call("record", str(job), *shlex.split(words))
    states = {row["feature"]: row["state"] for row in shown(job)["tables"]["done"]}
    assert set(states.values()) == {"as recorded"}
    text = job.read_text(encoding="utf-8")
    assert "currency" in text
    job.write_text(text + "\n# a remark\n", encoding="utf-8")
    assert {row["state"] for row in shown(job)["tables"]["done"]} == {"as recorded"}
    job.write_bytes(ENGINE.read_bytes())  # another lathe, other sizes
    said = call("record", str(job))
    assert said.exit_code == 1 and said.stderr.count("warning [not-as-recorded]") >= 2
    tables = shown(job)["tables"]
    assert tables["sizes"][0]["state"] == "changed" and tables["sizes"][0]["verdict"] is None
    record = job.parent / "my-lathe-record" / "made.toml"
    renamed = record.read_text(encoding="utf-8").replace('"rod spigot"', '"rod tenon"')
    record.write_text(renamed, encoding="utf-8")
    assert shown(job)["tables"]["done"][0]["state"] == "gone"


def test_an_entry_by_hand_without_hashes_is_judged_by_the_job_as_it_is(job: Path) -> None:
    folder = job.parent / "my-lathe-record"
    folder.mkdir()
    text = 'units = "in"\n[[size]]\npart = "dial"\nfeature = "rim"\nvalue = 1\nmaker = "me"\n'
    (folder / "made.toml").write_text(text, encoding="utf-8")
    said = call("record", str(job))
    assert said.exit_code == 1 and "note [own-key]" in said.stderr
    assert shown(job)["tables"]["sizes"][0]["value_mm"] == 25.4
    call("record", str(job), "--done", "dial", "rim")
    assert (folder / "made.toml").read_text(encoding="utf-8").startswith(text)


def test_balls_turned_are_shown(job: Path) -> None:
    folder = job.parent / "my-lathe-record"
    folder.mkdir()
    ball = {
        "ball": "knob",
        "date": "2026-11-28",
        "setting": {"diameter_mm": 40},
        "readings": [{"angle_deg": a, "diameter_mm": d} for a, d in ((90, 40.01), (60, 40.03))],
        "verdict": "good",
    }
    (folder / "balls.jsonl").write_text(json.dumps(ball) + "\n{", encoding="utf-8")
    said = call("record", str(job))
    assert said.exit_code == 1 and "warning [broken-line]" in said.stderr
    (row,) = shown(job)["tables"]["balls"]
    assert (row["readings"], row["least_mm"], row["greatest_mm"]) == (2, 40.01, 40.03)
    assert (row["ball"], row["set_mm"], row["verdict"]) == ("knob", 40, "good")


def test_a_job_that_will_not_do_and_a_record_that_will_not_do_are_exit_2(job: Path) -> None:
    folder = job.parent / "my-lathe-record"
    folder.mkdir()
    (folder / "made.toml").write_text("format = 9\n", encoding="utf-8")
    said = call("record", str(job), "--done", "housing", "oil hole")
    assert said.exit_code == 2 and "refused [newer-format]" in said.stderr and said.stdout == ""
    missing = call("record", str(job.parent / "none.toml"))
    assert missing.exit_code == 2 and "pommel new" in missing.stderr


def test_the_worked_examples_run(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(job.parent)
    text = call("record", "--help").stdout
    found = [
        line.partition("pommel ")[2] for line in text.splitlines() if " pommel record " in line
    ]
    assert len(found) == 4
    saved = '[[done]]\npart = "rotating-body"\nfeature = "journal"\n'
    job.with_name("my-lathe-measured.toml").write_text(saved, encoding="utf-8")
    for line in found:
        said = call(*shlex.split(line))
        assert said.exit_code == 0 and "refused" not in said.stderr
    assert len(made(job)["size"]) == 1 and len(made(job)["done"]) == 2
