"""On which line of a TOML file a key stands, so that a finding can say where to look.

Imported by job.grammar, job.reading and the commands' answers. Reads text alone, valid TOML or not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from msgspec.structs import replace

from planner.words.findings import Finding

_NAME = r'(?:[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|\'[^\']*\')'
_DOTTED = rf"{_NAME}(?:\s*\.\s*{_NAME})*"
_TABLE = re.compile(rf"\s*\[\s*({_DOTTED})\s*\]")
_ARRAY = re.compile(rf"\s*\[\[\s*({_DOTTED})\s*\]\]")
_KEY = re.compile(rf"\s*({_DOTTED})\s*=(.*)", re.DOTALL)
_STEP = re.compile(rf"{_NAME}|\[\d+\]")

BALL = "ball["
_WORDS = re.compile(r"\s*(?:\"([^\"\\]*)\"|'([^']*)')")
"""The words of a value in quotes."""

END = ""
"""The key of a file's last line, behind which a table that is missing may be written."""

LONGEST_LINE = 4000
"""So much of a line is looked at; a longer one is no hand's."""


def key_lines(text: str) -> dict[str, int]:
    """The line, from 1, of every key and every table's heading that begins a line.

    Keys are written as findings write them: dotted, the members of an array of tables counted from 1
    ("shop.rack[2].length"); a ball by its name too ("ball.knob"), and what a record has of a feature
    by its part and its own name ("housing, pivot bore"). What stands inside an inline table or a list
    is not told apart.
    """
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    table, open_until, part = "", "", ("", "")
    for number, line in enumerate(text.split("\n"), 1):
        line = line[:LONGEST_LINE]
        if open_until:
            if open_until in line:
                open_until = ""
            continue
        if found := _ARRAY.match(line):
            name = _inside(_plain(found[1]), counts)
            counts[name] = counts.get(name, 0) + 1
            table = f"{name}[{counts[name]}]"
            lines.setdefault(name, number)
            lines[table] = number
            if table.startswith(BALL):
                lines.setdefault(f"ball.ball {counts[name]}", number)
        elif found := _TABLE.match(line):
            table = _inside(_plain(found[1]), counts)
            lines.setdefault(table, number)
        elif found := _KEY.match(line):
            key = _plain(found[1])
            lines.setdefault(f"{table}.{key}" if table else key, number)
            if said := _WORDS.match(found[2]):
                words = said[1] or said[2]
                if key == "name" and table.startswith(BALL):
                    lines.setdefault(f"ball.{words}", lines[table])
                if key == "part":
                    part = table, words
                if key == "feature" and part[0] == table:  # the last of them counts
                    lines[f"{part[1]}, {words}"] = lines.get(table, number)
            open_until = _left_open(found[2])
    return lines


def line_of(key: str, lines: dict[str, int]) -> int | None:
    """The line of a key, else of the nearest table around it; None where there is neither.

    A list's member stands on its list's line where it has none of its own.
    """
    for whole in (key, key.rpartition(".")[0]) if key.startswith("ball.") else ():
        if whole in lines:
            return lines[whole]
    if ", " in key:  # a feature as made, or one in its mate
        return lines.get(key, lines.get(key.partition(" in ")[0]))
    steps = _STEP.findall(key)
    while steps:
        here = "".join(s if s.startswith("[") else f".{s}" for s in steps).removeprefix(".")
        if here in lines:
            return lines[here]
        if here == key and (inside := next((k for k in lines if k.startswith(f"{key}.")), None)):
            return lines[inside]  # a table without a heading: its first key
        steps.pop()
    return None


def located(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings, each with the line of its key in its own file, where that can be told."""
    files: dict[str, dict[str, int]] = {}
    told = []
    for one in findings:
        if one.line is None and one.key and one.file.endswith(".toml"):
            if one.file not in files:
                files[one.file] = _lines_of(one.file)
            one = replace(one, line=line_of(one.key, files[one.file]))
            if one.line is None and one.code == "missing-key":
                one = replace(one, line=files[one.file].get(END))
        told.append(one)
    return tuple(told)


def _lines_of(file: str) -> dict[str, int]:
    try:
        text = Path(file).read_bytes().decode("utf-8", "replace")
        return key_lines(text) | {END: max(1, len(text.splitlines()))}
    except (OSError, ValueError):
        return {}


def _plain(dotted: str) -> str:
    """A dotted key as findings write it: quoted only where a name holds a blank."""
    names = re.findall(_NAME, dotted)
    bare = [name[1:-1] if name[0] in "\"'" else name for name in names]
    return ".".join(f'"{name}"' if " " in name else name for name in bare)


def _inside(name: str, counts: dict[str, int]) -> str:
    """A heading's name inside the last member of the array that it goes on in: shop.rack -> ..."""
    head, _, last = name.rpartition(".")
    while head:
        if head in counts:
            return f"{head}[{counts[head]}].{last}"
        head, _, more = head.rpartition(".")
        last = f"{more}.{last}"
    return name


def _left_open(value: str) -> str:
    """What closes a text of several lines that begins in this value; "" where none does."""
    for quotes in ('"""', "'''"):
        if value.lstrip().startswith(quotes) and value.count(quotes) == 1:
            return quotes
    return ""
