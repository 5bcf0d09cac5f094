"""Whatever a job file or a file of readings holds, the answer is one that a user can do something with.

Properties, not results: exit 0, 1 or 2, no traceback, strict JSON, every message with its place and a
remedy, nothing written, bounded time; and where a job is taken, its solids exist and none stands in
another. The draws are those of tests/hostile_jobs.py; what once failed is kept in tests/data/hostile/.
"""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest
from held_answers import COMMANDS, Answer, asked, held, memory_mb
from hostile_jobs import NASTY, job_texts, readings_texts
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from jobs import ROOT

CORPUS = sorted((ROOT / "tests" / "data" / "hostile").glob("*.toml"))
ONCE_IN = {"taken-shortage": ("cutlist",), "taken-raises-IndexError": ("cutlist", "route")}
"""Which command a kept job once failed in, where it is not the usual one."""

FEW, MANY, SOLIDS = 120, 10_000, 200
"""So many draws in CI and in the slow set, and so many of those taken whose solids are made."""

PLAIN = settings(
    deadline=None,
    database=None,
    phases=[Phase.generate],
    suppress_health_check=list(HealthCheck),
)


@pytest.mark.parametrize("path", CORPUS, ids=lambda path: path.stem)
@pytest.mark.parametrize("as_json", [False, True])
def test_what_once_failed(path: Path, as_json: bool, tmp_path: Path) -> None:
    text = path.read_bytes().decode("utf-8", "surrogateescape")
    usual = ("check", "turn") if path.stem.startswith("taken-") else ("check",)
    for command in ONCE_IN.get(path.stem, usual):
        found = asked(tmp_path, text, command, as_json)
        assert found.faults == []
        assert (found.code == 2) != path.stem.startswith("taken-")


def walk(tmp_path: Path, draws: int, number: int | None) -> Counter[str]:
    """Ask so many drawn jobs; number: of the seed, None for the same ones each time."""
    ended: Counter[str] = Counter()
    faults: list[str] = []

    @settings(PLAIN, max_examples=draws, derandomize=number is None)
    @given(job_texts(), st.sampled_from(COMMANDS), st.booleans())
    def ask(text: str, command: str, as_json: bool) -> None:
        found = asked(tmp_path, text, command, as_json)
        ended[_outcome(found)] += 1
        if found.faults and len(faults) < 20:
            faults.append(f"{command}: {found.faults}\n{text[:2000]}")

    (ask if number is None else seed(number)(ask))()
    assert not faults, "\n\n".join(faults)
    return ended


def _outcome(found: Answer) -> str:
    return "refused" if found.code == 2 else "taken"


def test_a_hundred_drawn_jobs(tmp_path: Path) -> None:
    ended = walk(tmp_path, FEW, None)
    assert ended["taken"] > FEW // 5 and ended["refused"] > FEW // 5


@pytest.mark.slow
def test_ten_thousand_drawn_jobs(tmp_path: Path) -> None:
    number = int(os.environ.get("POMMEL_SEED", "1"))
    ended = walk(tmp_path, MANY, number)
    print(f"seed {number}: {dict(ended)}, {memory_mb():.0f} MB")
    assert ended["taken"] > MANY // 5
    assert memory_mb() < 1000


def readings(tmp_path: Path, draws: int, number: int | None) -> Counter[str]:
    ended: Counter[str] = Counter()
    faults: list[str] = []
    job, file = tmp_path / "bench.toml", tmp_path / "readings.toml"
    job.write_bytes((ROOT / "examples" / "bench-lathe.toml").read_bytes())

    @settings(PLAIN, max_examples=draws, derandomize=number is None)
    @given(readings_texts(), st.booleans())
    def ask(text: str, as_json: bool) -> None:
        file.write_bytes(text.encode("utf-8", "surrogatepass"))
        command = ["correct", str(job), str(file), "--no-record"]
        found = held(tmp_path, command, file, text, as_json)
        ended[_outcome(found)] += 1
        if found.faults and len(faults) < 20:
            faults.append(f"{found.faults}\n{text[:2000]}")

    (ask if number is None else seed(number)(ask))()
    assert not faults, "\n\n".join(faults)
    return ended


def test_a_hundred_drawn_readings(tmp_path: Path) -> None:
    ended = readings(tmp_path, 100, None)
    assert ended["taken"] > 20 and ended["refused"] > 20


@pytest.mark.slow
def test_two_thousand_drawn_readings(tmp_path: Path) -> None:
    readings(tmp_path, 2_000, int(os.environ.get("POMMEL_SEED", "1")))


@pytest.mark.slow
def test_what_is_taken_can_be_made(tmp_path: Path) -> None:
    """Every part is one valid solid and none stands in another, in 200 drawn jobs that are taken."""
    from planner.output.plan import Plan
    from planner.solids import clashes
    from planner.solids.build import solid
    from planner.words.findings import BadInput

    taken = 0
    faults: list[str] = []

    @seed(int(os.environ.get("POMMEL_SEED", "1")))
    @settings(PLAIN, max_examples=20 * SOLIDS)
    @given(job_texts())
    def make(text: str) -> None:
        nonlocal taken
        if taken >= SOLIDS:
            return
        file = tmp_path / "job.toml"
        file.write_bytes(text.encode("utf-8", "surrogatepass"))
        try:
            plan = Plan(file)
            if plan.job.own_head is not None:
                return
        except BadInput:
            return
        taken += 1
        try:
            found = clashes(plan.attachment)
            broken = [one.name for one in plan.attachment.parts if not solid(one).isValid()]
        except Exception as error:
            faults.append(f"{type(error).__name__}: {error}\n{text[:2000]}")
            return
        if found or broken:
            faults.append(f"{found} {broken}\n{text[:2000]}")

    make()
    assert taken == SOLIDS and not faults, "\n\n".join(faults[:10])


WORDS: tuple[tuple[str, ...], ...] = (
    ("record", "JOB", "--made", "rotating-body", "journal", "WORD"),
    ("record", "JOB", "--made", "rotating-body", "WORD", "19.98"),
    ("record", "JOB", "--done", "WORD", "WORD"),
    ("record", "JOB", "--made", "rotating-body", "journal", "19.98", "--date", "WORD"),
    ("turn", "JOB", "--ball", "WORD"),
    ("correct", "JOB", "--moved", "--date", "WORD"),
    ("explain", "WORD"),
    ("list", "WORD"),
    ("list", "threads", "--like", "WORD"),
    ("list", "sections", "--shape", "WORD"),
)
"""What takes a word of the user's on the command line."""


def test_a_few_words_of_the_command_line(tmp_path: Path) -> None:
    """What stands for WORD is told by its beginning, steers no terminal, and is not recorded."""
    job = tmp_path / "job.toml"
    job.write_bytes((ROOT / "examples" / "bench-lathe.toml").read_bytes())
    faults: list[str] = []
    hard = [one for one in NASTY if isinstance(one, str) and "\x00" not in one and one != "12 mm"]
    words = st.one_of(st.sampled_from(hard), st.text(st.characters(codec="utf-8"), max_size=400))

    @settings(PLAIN, max_examples=FEW // 8, derandomize=True)
    @given(st.sampled_from(WORDS), words.filter(lambda one: one[:1] != "-"), st.booleans())
    def ask(command: tuple[str, ...], word: str, as_json: bool) -> None:
        given = [{"JOB": str(job), "WORD": word}.get(one, one) for one in command]
        if command[0] == "explain" and not word:
            return  # that is to ask for all of them
        found = held(tmp_path, given, job, "", as_json)
        wrong = [one for one in found.faults if one != "prints nothing"]  # no row is like that
        if wrong:
            faults.append(f"{given}: {wrong}")

    ask()
    assert not faults, "\n\n".join(faults[:10])
