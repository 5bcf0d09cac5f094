"""Runs the page's JavaScript in node, apart from any browser: what it answers to many calls at once."""

from __future__ import annotations

import json
import shutil
import subprocess
from typing import Any

import pytest
from jobs import ROOT

PAGE = ROOT / "planner" / "page"

DRIVER = """
const fs = require("fs");
const files = JSON.parse(process.argv[1]);
for (const file of files) (0, eval)(fs.readFileSync(file, "utf8"));
const asked = JSON.parse(fs.readFileSync(0, "utf8"));
const words = JSON.parse(fs.readFileSync(process.argv[2], "utf8"));
const run = new Function("pommel", "words", "one", asked.body);
process.stdout.write(JSON.stringify(asked.calls.map((one) => run(globalThis.pommel, words, one))));
"""


def in_node(files: list[str], body: str, calls: list[Any]) -> list[Any]:
    """What the body of a function of (pommel, words, one) returns for each of many arguments.

    files: of planner/page, in order. Skips the test where there is no node.
    """
    node = shutil.which("node")
    if node is None:
        pytest.skip("no node on this machine: the page's JavaScript is not run")
    paths = json.dumps([str(PAGE / name) for name in files])
    done = subprocess.run(
        [node, "-e", DRIVER, paths, str(PAGE / "strings.json")],
        input=json.dumps({"body": body, "calls": calls}),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return list(json.loads(done.stdout))
