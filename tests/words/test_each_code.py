"""Every code of the register comes up in a test: its name stands in one, or here with a reason."""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import ROOT, changed

from planner.job.reading import job_from, read_job
from planner.job.template import write_new
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.words.findings import BadInput, Finding
from planner.words.register import kinds

NOT_HERE = {
    "unreadable": "a file without permission: a superuser, as in a container, reads it all the same",
    "job-copy": "its sentences are tested as CannotCopy in stock/test_jobcopy.py",
    "kernel-missing": "its sentences are tested as KernelMissing in solids/test_solids.py",
    "too-many-pieces": "more demands than the bar cutter takes: barcut/test_barcut_plans.py, TooMuch",
    "fit-as-made": "what its sentences say is tested by outcome in making/test_asmade.py",
    "pass-depth": "a dial division deeper than the check allows; turning/test_turning.py by its depth",
}


def test_every_code_has_a_test_or_a_reason() -> None:
    tests = ROOT / "tests"
    texts = [p.read_text(encoding="utf-8") for p in tests.rglob("*.py") if p != Path(__file__)]
    texts.append((tests / "sizing" / "requirements.txt").read_text(encoding="utf-8"))
    texts.append(Path(__file__).read_text(encoding="utf-8").split("\ndef refused")[1])
    missing = [
        code
        for code in kinds()
        if not any(
            f'"{code}"' in text or f"[{code}]" in text or f"\n{code} " in text for text in texts
        )
    ]
    assert set(missing) <= set(NOT_HERE), sorted(set(missing) - set(NOT_HERE))


def refused(make: object, *given: object) -> Finding:
    with pytest.raises(BadInput) as caught:
        make(*given)  # type: ignore[operator]
    (one,) = caught.value.findings
    assert one.severity == "refused" and one.remedy
    return one


def test_files_that_are_none(tmp_path: Path) -> None:
    none = refused(read_job, tmp_path / "none.toml")
    assert none.code == "no-file" and "no such file" in none.text
    folder = refused(read_job, tmp_path)
    assert folder.code == "not-a-file"
    assert "a folder, not a file. Name the .toml file in it" in folder.text
    (tmp_path / "latin.toml").write_bytes(b'name = "caf\xe9"\n')
    latin = refused(read_job, tmp_path / "latin.toml")
    assert latin.code == "not-text" and "not a text file in UTF-8" in latin.text
    (tmp_path / "there.toml").write_text("x")
    there = refused(write_new, tmp_path / "there.toml", "y")
    assert there.code == "already-there"
    assert there.text == "is there already. Choose another name"
    assert (tmp_path / "there.toml").read_text() == "x"


def with_sizes(**sizes: object) -> None:
    job = job_from(changed(**{"attachment.sizes": sizes}), "job.toml")
    size_up(job, "job.toml")


def test_sizes_there_are_none_of() -> None:
    near = refused(lambda: with_sizes(rod_diametre=12))
    assert near.code == "unknown-size"
    assert "no size of that name. Did you mean rod_diameter?" in near.text
    far = refused(lambda: with_sizes(zzz=12))
    assert "no size of that name. See the names in: pommel sizes" in far.text


def test_a_ball_there_is_none_of() -> None:
    plan = Plan(ROOT / "examples" / "engine-lathe.toml", ball="nob")
    found = refused(lambda: plan.turned)
    assert found.code == "unknown-ball"
    assert "no ball of that name in the job. Name one: knob, lever, dish" in found.text


def test_a_shop_that_has_no_such_thing() -> None:
    job = job_from(changed(**{"attachment.screw_pitch": "1.33 mm"}), "job.toml")
    found = refused(size_up, job, "job.toml")
    assert found.code == "nothing-fits"
