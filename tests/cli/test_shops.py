"""Ten made-up workshops, from a clock mender's to a boat yard, metric and inch: the whole chain.

What stands in them is common practice; none is a real shop. They are answered by every topic here, and
built whole in the slow set.
"""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

import pytest
from commands import call
from held_answers import COMMANDS, held
from jobs import ROOT

SHOPS = sorted((ROOT / "tests" / "data" / "shops").glob("*.toml"))


def test_there_are_ten() -> None:
    texts = [path.read_text(encoding="utf-8") for path in SHOPS]
    assert len(texts) == 10
    assert sum('units = "in"' in text for text in texts) >= 3
    assert any("[shop.machines.mill]" not in text for text in texts)
    assert any("[shop.machines.welder]" not in text for text in texts)
    assert any("quantity = 12" in text for text in texts)


SOME = [
    path if number % 4 == 0 else pytest.param(path, marks=pytest.mark.slow)
    for number, path in enumerate(SHOPS)
]
"""Three of them wherever packages are built, the others in the slow set."""


@pytest.mark.parametrize("path", SOME, ids=lambda path: path.stem)
def test_every_shop_is_answered(path: Path, tmp_path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    file = tmp_path / path.name
    file.write_text(text, encoding="utf-8")
    for command in COMMANDS:
        found = held(tmp_path, [command, str(file)], file, text, command != "flat")
        assert found.faults == [] and found.code in (0, 1), command


@pytest.mark.slow
@pytest.mark.parametrize("path", SHOPS, ids=lambda path: path.stem)
def test_every_shop_is_built_whole(path: Path, tmp_path: Path) -> None:
    folder = tmp_path / "package"
    done = call("build", str(path), "--out", str(folder))
    assert done.exit_code in (0, 1), done.stderr
    listed = json.loads((folder / "package.json").read_text(encoding="utf-8"))["files"]
    assert len(listed) > 60
    for row in listed:
        content = (folder / row["path"]).read_bytes()
        assert content and sha256(content).hexdigest() == row["sha256"]
    assert list((folder / "solids").glob("*.step")) and list((folder / "cutting").glob("*.dxf"))
