"""What must hold of every answer, whatever the job file holds: looked at from outside, as a user would.

Shares no code with what it looks at but the command itself.
"""

from __future__ import annotations

import json
import re
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from commands import ended

LONGEST_S = 10.0
"""CPU of one answer."""

LONGEST_MESSAGE = 300
"""Signs of one message, the file's own name not counted."""

COMMANDS = ("sizes", "check", "cutlist", "flat", "route", "dial", "turn")

MESSAGE = re.compile(r"(refused|warning|note) \[([a-z0-9-]+)\]: (.+?)(?::(\d+))?: (.+)")
KEYS = {"severity", "file", "key", "value", "limit", "remedy", "text", "code", "source"}


@dataclass
class Answer:
    """How a command ended: its exit code, and what is wrong with how it answered."""

    code: int
    faults: list[str] = field(default_factory=list)


def asked(folder: Path, text: str, command: str, as_json: bool) -> Answer:
    """Ask a command about a job file of this text, in a folder that nothing may be written into."""
    job = folder / "job.toml"
    job.write_bytes(text.encode("utf-8", "surrogatepass"))
    return held(folder, [command, str(job)], job, text, as_json)


def held(folder: Path, command: list[str], file: Path, text: str, as_json: bool) -> Answer:
    """Run a command that reads a file of this text, and look at how it answers."""
    words = [*command, *(["--json"] if as_json else [])]
    before = sorted(path.name for path in folder.iterdir())
    begun = time.process_time()
    result = ended(*words)
    took = time.process_time() - begun
    faults: list[str] = []
    error = result.exception
    if error is not None and not isinstance(error, SystemExit):
        faults.append(f"raises {type(error).__name__}: {str(error)[:200]}")
        return Answer(result.exit_code, faults)
    if result.exit_code not in (0, 1, 2):
        faults.append(f"exit {result.exit_code}")
    if took > LONGEST_S:
        faults.append(f"took {took:.1f} s")
    if sorted(path.name for path in folder.iterdir()) != before:
        faults.append("wrote beside the job")
    faults += _printed(result.stdout, "stdout") + _printed(result.stderr, "stderr")
    for line in result.stderr.splitlines():
        faults += _message(line, file)
    if as_json:
        faults += _record(result.stdout, result.exit_code, text, file)
    elif result.exit_code == 2 and result.stdout:
        faults.append("refused, and prints an answer")
    elif result.exit_code != 2 and not result.stdout.strip():
        faults.append("prints nothing")
    if result.exit_code == 2 and not result.stderr:
        faults.append("refused without a word")
    return Answer(result.exit_code, faults)


def _printed(text: str, where: str) -> list[str]:
    odd = {sign for sign in text if sign != "\n" and not sign.isprintable()}
    return [f"{where}: signs that do not print: {sorted(map(ascii, odd))}"] if odd else []


def _message(line: str, job: Path) -> list[str]:
    found = MESSAGE.fullmatch(line)
    if not found:
        return [f"no message: {line[:120]}"]
    faults = []
    if len(line.replace(str(job), "")) > LONGEST_MESSAGE:
        faults.append(f"message of {len(line)}: {line}")
    if not re.search(r"\w[^.]*\. ?\S", found[5]):
        faults.append(f"no remedy: {line}")
    return faults


def _record(text: str, code: int, job: str, file: Path) -> list[str]:
    def never(word: str) -> Any:
        raise ValueError(f"{word} in JSON")

    try:
        record = json.loads(text, parse_constant=never)
    except ValueError as error:
        return [f"JSON: {error}"]
    faults = []
    if not re.fullmatch(r"pommel\.[a-z]+/\d+", str(record.get("format"))):
        faults.append("no format")
    for one in record["findings"]:
        if not set(one) >= KEYS or not one["limit"] or not one["remedy"] or not one["code"]:
            faults.append(f"finding {one}")
        first = re.match(r"\w*", one["key"])
        there = first and first[0] and re.search(rf"^\s*\[*{first[0]}\b", job, re.MULTILINE)
        if there and "line" not in one and one["file"] == str(file):
            faults.append(f"no line: {one['key']}")
    if code == 2 and not record["findings"]:
        faults.append("refused without a finding")
    faults += _minus_nought(record)
    return faults


def _minus_nought(value: Any) -> list[str]:
    if isinstance(value, dict):
        return [one for inner in value.values() for one in _minus_nought(inner)]
    if isinstance(value, list):
        return [one for inner in value for one in _minus_nought(inner)]
    odd = value == 0 and isinstance(value, float) and str(value).startswith("-")
    return ["-0 in JSON"] if odd else []


def memory_mb() -> float:
    """The most memory that this process has had, MB."""
    import resource

    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / (1024 * 1024 if sys.platform == "darwin" else 1024)
