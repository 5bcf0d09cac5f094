"""``pommel explain``: what a code means, from the same register that makes the findings."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

from planner.words.register import kinds


def test_a_code_on_stderr_is_explained(tmp_path: Path) -> None:
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job = tmp_path / "job.toml"
    job.write_text(re.sub(r"^chuck_diameter", "chuck_diametre", text, flags=re.M), encoding="utf-8")
    bad = call("sizes", str(job))
    assert bad.exit_code == 2
    lines = bad.stderr.splitlines()
    codes = [re.match(r"refused \[([a-z-]+)\]: .*job\.toml:\d+: ", line) for line in lines]
    assert {found.group(1) for found in codes if found} == {"unknown-key"}
    assert all(codes)
    for code in ("unknown-key",):
        told = call("explain", code)
        assert told.exit_code == 0 and told.stderr == ""
        assert kinds()[code].meaning in told.stdout and kinds()[code].remedy in told.stdout


def test_without_a_code_every_one_is_listed_with_its_meaning() -> None:
    said = call("explain")
    assert said.exit_code == 0
    for kind in kinds().values():
        assert f"  {kind.code} (" in said.stdout and kind.meaning in said.stdout


@pytest.mark.parametrize("asked", [[], ["grip"]])
def test_for_machines_the_entries_are_given_whole(asked: list[str]) -> None:
    record = json.loads(call("explain", *asked, "--json").stdout)
    assert [row["code"] for row in record["codes"]] == (asked or list(kinds()))
    for row in record["codes"]:
        kind = kinds()[row["code"]]
        assert (row["meaning"], row["remedy"]) == (kind.meaning, kind.remedy)
        assert tuple(row["severities"]) == kind.severities and row["about"] == kind.about


def test_an_unknown_code_is_told_with_the_nearest() -> None:
    said = call("explain", "thin-wal", "--json")
    assert said.exit_code == 2 and "Did you mean thin-wall?" in said.stderr
    (found,) = json.loads(said.stdout)["findings"]
    assert found["code"] == "unknown-code"
    far = call("explain", "zzz")
    assert far.exit_code == 2 and far.stdout == "" and "pommel explain" in far.stderr
