"""Every word that the program can say is written out somewhere a reader looks it over.

That is: in a test, in a sheet of the tracked examples, on a page of the documentation, or, for what
no test yet makes the program say, in sentences.txt beside this file, module by module. A word that is
changed on purpose is changed there too; no sentence changes unseen. What the sentences must say when
is held by the tests of each room: here only that their words are the ones that were read.
"""

from __future__ import annotations

import ast
import html
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from jobs import ROOT
from sources import every_node, nodes, place, sources

LEDGER = Path(__file__).with_name("sentences.txt")
SHEETS = (".txt", ".csv", ".svg", ".json", ".md")


def plain(text: str) -> str:
    """A text in one line, its spaces single."""
    return re.sub(r"\s+", " ", text).strip()


def texts(path: Path) -> Iterator[str]:
    """What stands in quotes in a file of tests."""
    for node in every_node(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


@cache
def read_over() -> str:
    """All that is read over by hand, in one text; what pictures write in entities as it is read."""
    found = []
    for path in sorted((ROOT / "tests").rglob("*.py")):
        found += texts(path)
    places = (ROOT / "exports", ROOT / "docs", ROOT / "tests" / "output" / "tracked")
    more = [
        ROOT / "tests" / "job" / "keys_said.txt",
        ROOT / "tests" / "sizing" / "requirements.txt",
    ]
    for path in [*(p for one in places for p in sorted(one.rglob("*"))), ROOT / "README.md", *more]:
        if path.suffix in SHEETS:
            text = path.read_text(encoding="utf-8")
            found.append(html.unescape(text) if path.suffix == ".svg" else text)
    return plain("\n".join(found))


@cache
def said(path: Path) -> list[str]:
    """The pieces of sentences a module can say, in order: no docstrings, no errors of ours."""
    left_out, pieces, found = set(), set(), []
    for node in nodes(path):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            left_out.add(node.value)
        elif isinstance(node, ast.Raise | ast.Assert):
            left_out.update(ast.walk(node))
        elif isinstance(node, ast.JoinedStr):
            pieces.update(node.values)
    for node in nodes(path):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in left_out:
            text = plain(node.value)
            if (" " in node.value or node in pieces) and re.search(r"\w", text):
                found.append(text)
    return found


def ledger() -> dict[str, list[str]]:
    """What stands in sentences.txt, by module."""
    found: dict[str, list[str]] = {}
    module = ""
    for line in LEDGER.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            module = line[3:]
        elif line and not line.startswith("# "):
            found.setdefault(module, []).append(json.loads(line))
    return found


def test_every_word_is_written_out() -> None:
    listed, seen = ledger(), 0
    missing = {}
    for path in sources():
        mine = listed.get(place(path), [])
        pieces = said(path)
        seen += len(pieces)
        new = [piece for piece in pieces if piece not in mine and piece not in read_over()]
        if new:
            missing[place(path)] = new
    assert seen > 2500
    assert missing == {}


def test_nothing_is_listed_that_is_not_said() -> None:
    modules = {place(path): path for path in sources()}
    gone = {
        name: [piece for piece in pieces if name not in modules or piece not in said(modules[name])]
        for name, pieces in ledger().items()
    }
    assert {name: pieces for name, pieces in gone.items() if pieces} == {}
