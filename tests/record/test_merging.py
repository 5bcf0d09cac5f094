"""Merging what was measured elsewhere: what is new is added, what differs is told and left out."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from commands import call
from jobs import ROOT

BENCH = ROOT / "examples" / "bench-lathe.toml"

SIZE = '[[size]]\npart = "rotating-body"\nfeature = "journal"\nvalue = "{}"\n'
DONE = '[[done]]\npart = "housing"\nfeature = "oil hole"\n'


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "my-lathe.toml"
    path.write_bytes(BENCH.read_bytes())
    return path


def merged(job: Path, text: str) -> tuple[int, list[str], dict[str, Any]]:
    """What merging a file of this text gives: exit code, codes of findings, and what is printed."""
    file = job.with_name("added.toml")
    file.write_text(text, encoding="utf-8")
    said = call("record", str(job), "--merge", str(file), "--json")
    record = json.loads(said.stdout)
    return said.exit_code, [one["code"] for one in record["findings"]], record


def made(job: Path) -> str:
    return (job.parent / "my-lathe-record" / "made.toml").read_text(encoding="utf-8")


def test_what_is_new_is_added_and_judged_and_the_same_once(job: Path) -> None:
    code, found, record = merged(job, SIZE.format("19.985 mm") + DONE)
    assert (code, found) == (0, [])
    (row,) = record["tables"]["sizes"]
    # 20 g6 is 19.980 to 19.993: ISO 286-2:2010
    assert (row["value_mm"], row["least_mm"], row["verdict"]) == (19.985, 19.980, "in")
    before = made(job)
    code, found, record = merged(job, SIZE.format("19.985 mm") + DONE)
    assert (code, found) == (0, ["nothing-merged"]) and record["tables"]["sizes"] == []
    assert made(job) == before


def test_what_the_record_has_otherwise_stays_and_is_told(job: Path) -> None:
    words = ("--made", "rotating-body", "journal", "19.985 mm", "--date", "2026-11-28")
    call("record", str(job), *words)
    path = job.parent / "my-lathe-record" / "made.toml"
    path.write_text(f"# mine\n{made(job)}\n# mine too\n", encoding="utf-8")
    before = made(job)
    code, found, record = merged(job, SIZE.format("19.99 mm"))
    assert (code, found) == (1, ["merge-conflict"]) and made(job) == before
    (one,) = record["findings"]
    assert one["value"] == "19.99 mm" and "19.985 mm on 2026-11-28, which stays" in one["limit"]
    code, found, record = merged(job, SIZE.format("19.9853 mm"))  # finer than a micrometer reads
    (one,) = record["findings"]
    assert one["value"] == "19.9853 mm" and "19.985 mm on 2026-11-28" in one["limit"]
    code, found, record = merged(job, SIZE.format("0.7868125 in"))  # 19.9850375 mm
    (one,) = record["findings"]
    assert one["value"].startswith("19.98504") and "has 19.985" in one["limit"]
    code, found, _ = merged(job, SIZE.format("19.99 mm") + DONE)  # the rest is added all the same
    assert (code, found) == (1, ["merge-conflict"])
    assert made(job).startswith(before) and tomllib.loads(made(job))["done"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[[done]]\npart = "housing"\nfeature = "oil hol"\n', "no feature of that name"),
        ('[[done]]\npart = "house"\nfeature = "oil hole"\n', "no part of that name"),
        (f'{DONE}feature_sha256 = "0123456789abcdef"\n', "another size or place"),
        ('[[size]]\npart = "housing"\nfeature = "weld"\nvalue = "3 mm"\n', "no"),
    ],
)
def test_what_the_job_has_not_is_left_out(job: Path, text: str, told: str) -> None:
    code, found, record = merged(job, text)
    assert (code, found) == (1, ["merge-conflict"]) and told in record["findings"][0]["limit"]
    assert not (job.parent / "my-lathe-record").exists()


def test_a_size_of_a_job_since_changed_gives_way_to_a_new_one(job: Path) -> None:
    call("record", str(job), "--made", "rotating-body", "journal", "19.985 mm")
    path = job.parent / "my-lathe-record" / "made.toml"
    old = tomllib.loads(made(job))["size"][0]["feature_sha256"]
    path.write_text(made(job).replace(old, "f" * 16), encoding="utf-8")
    assert merged(job, SIZE.format("19.99 mm"))[:2] == (0, [])
    assert len(tomllib.loads(made(job))["size"]) == 2


def test_two_of_one_feature_in_a_file_are_held_against_each_other(job: Path) -> None:
    code, found, _ = merged(job, SIZE.format("19.985 mm") + SIZE.format("19.99 mm"))
    assert (code, found) == (1, ["merge-conflict"])
    assert [one["value"] for one in tomllib.loads(made(job))["size"]] == ["19.985 mm"]


def test_a_bare_number_is_in_the_units_of_its_own_file(job: Path) -> None:
    text = 'units = "in"\n' + SIZE.format("1").replace('"1"', "0.7868")
    assert merged(job, text)[:2] == (0, [])
    assert tomllib.loads(made(job))["size"][0]["value"] == "0.7868 in"
    assert merged(job, SIZE.format("5").replace('"5"', "5"))[0] == 2  # without any it is refused


def test_a_file_is_merged_by_itself_alone(job: Path) -> None:
    file = job.with_name("added.toml")
    file.write_text(DONE, encoding="utf-8")
    said = call("record", str(job), "--merge", str(file), "--done", "housing", "oil hole")
    assert said.exit_code == 2 and "[wrong-value]" in said.stderr
    assert call("record", str(job), "--merge", str(job.with_name("none.toml"))).exit_code == 2


def several(job: Path, many: int) -> None:
    text = job.read_text(encoding="utf-8")
    asked = f"[attachment]\nquantity = {many}"
    job.write_text(text.replace("[attachment]", asked), encoding="utf-8")


def test_of_several_made_alike_each_has_its_own_entry(job: Path) -> None:
    """It was one size for all of a class set: the second one's differed, and was left out."""
    several(job, 4)
    each = [SIZE.format(f"19.98{n} mm") + f"number = {n}\n" for n in (1, 2, 3, 4)]
    code, found, record = merged(job, "".join(each) + DONE + DONE + "number = 3\n")
    assert (code, found) == (0, [])
    sizes, done = record["tables"]["sizes"], record["tables"]["done"]
    assert [(one["number"], one["value_mm"]) for one in sizes] == [
        (n, 19.98 + n / 1000) for n in (1, 2, 3, 4)
    ]
    assert all(one["counts"] and one["verdict"] == "in" for one in sizes)
    assert [one["number"] for one in done] == [1, 3]
    # an entry without a number is of the first
    code, found, record = merged(job, SIZE.format("19.981 mm"))
    assert (code, found) == (0, ["nothing-merged"])
    code, found, record = merged(job, SIZE.format("19.99 mm") + "number = 2\n")
    assert (code, found) == (1, ["merge-conflict"])
    assert record["findings"][0]["key"] == "rotating-body, journal, no. 2"


def test_a_number_beyond_the_last_is_left_out(job: Path) -> None:
    text = SIZE.format("19.985 mm") + "number = 2\n"
    code, found, record = merged(job, text)
    assert (code, found) == (1, ["merge-conflict"])
    assert record["findings"][0]["limit"] == "one of it is made"
    said = call("record", str(job), "--made", "housing", "oil hole", "4 mm", "--number", "2")
    assert said.exit_code != 0 and "one of it is made" in said.stderr
    several(job, 2)
    assert merged(job, text)[:2] == (0, [])


def test_a_fit_is_of_two_of_one_number(job: Path) -> None:
    """Play by ISO 286-2:2010 for 20 H7/g6: 7 to 41 um; 20.020 in 19.985 has 35, in 20.010 only 10."""
    several(job, 2)

    def bore(value: str, number: int) -> str:
        text = (
            SIZE.format(value).replace("rotating-body", "housing").replace("journal", "pivot bore")
        )
        return f"{text}number = {number}\n"

    each = [(bore("20.003 mm", 1), "19.985 mm"), (bore("20.015 mm", 2), "20.001 mm")]
    text = "".join(
        hole + SIZE.format(shaft) + f"number = {n}\n" for n, (hole, shaft) in enumerate(each, 1)
    )
    code, found, record = merged(job, text)
    verdicts = [one["verdict"] for one in record["tables"]["sizes"]]
    # the second shaft, above its drawn limit, is right for its own hole, 14 um of play
    assert verdicts[-1] == "in", record["tables"]["sizes"]
