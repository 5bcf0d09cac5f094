"""What an inch machinist reads of jobs: no size finer than any gauge, no finding that denies itself.

The example by default; three more jobs, a bench lathe with a milling slide, a tool-room lathe and an
inch lathe with a metric feed screw, in the slow set.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT, planned

from planner.geometry.envelope import swinging_edges, toward_post
from planner.sizing.post import post_near_mm, post_plan
from planner.sizing.requirements import POST_CLEARANCE_MM
from planner.sizing.requirements.post import post_findings

JOBS = ROOT / "tests" / "data" / "inch-jobs"
EXAMPLE = ROOT / "examples" / "inch-lathe.toml"
NAMES = ("sizes", "check", "route", "dial", "turn", "cutlist")

LONG = re.compile(r"(?<![\w.])-?\d*\.\d{5,}")

NO_SIZES = (
    # what gives under the cut is worked out one place past any gauge; a dial that is none of inches
    # has divisions that are no round ones
    r"^(tool bit|arm|rod|rod in its clamp|housing and shaft|shank on the tube|bare shank)  .*%",
    r"^(Together|At the nose|The least deflection|least deflection|deflection of the tip)\b",
    r"^[\w ]+?  +[\d./-]+  +[\d.]+  +[\d.]+  +[\d.]+  +0\.\d{5}$",
    r"^(\w+_\w+)  .*(standard|rack|buy|shop|to order).*[-+]0\.\d{5}",
    r"\b(1 div = |one division|one turn of the feed screw|twice that, |in a turn|For every )",
)


def sizes_too_long(text: str) -> list[str]:
    """Lines that say a length of an inch to five decimals and more."""
    return [
        line
        for line in text.splitlines()
        if LONG.search(line) and not any(re.search(one, line.strip()) for one in NO_SIZES)
    ]


def said(path: Path, names: tuple[str, ...] = NAMES) -> Iterator[tuple[str, str]]:
    for name in names:
        result = call(name, str(path))
        yield name, result.stdout + result.stderr


REFUSED = re.compile(r"^(?:refused|warning|note) \[[\w-]+\]: .*$", re.M)
LENGTH = re.compile(r"(?<![\w./-])([\d./-]+) in\b")


def denies_itself(text: str) -> bool:
    """Whether what is refused and what it needs read the same: "clears by 0.02 in: needs 0.02 in"."""
    words = re.search(
        r"([\d./-]+) in: (?:needs|at most|at least|more than|under|closer than|only) ([\d./-]+) in",
        text,
    )
    return bool(words) and words[1] == words[2]  # type: ignore[index]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("the pivot nut clears the tool post by 0.02 in: needs 0.02 in. A post", True),
        ("the pivot nut clears the tool post by 0.019 in: needs 0.020 in. A post", False),
    ],
)
def test_a_finding_that_denies_itself_is_known(text: str, found: bool) -> None:
    assert denies_itself(text) is found


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("  85. mill shank seat: flat, 0.328125 ±0.004000 from Q", True),
        ("  85. mill shank seat: flat, 0.328 ±0.004 from Q", False),
        ("tool bit           0.00005             -0.00024         -15%     bit_stock", False),
    ],
)
def test_a_size_too_long_is_known(line: str, found: bool) -> None:
    assert bool(sizes_too_long(line)) is found


SOFT = re.compile(
    r"by (?:dial indicator|square|caliper|drill shank), within 0\.00(?:08|04|79|39|80|40) in.*"
)
"""0.02, 0.01, 0.2 and 0.1 mm turned into inches, or with a zero behind that nobody reads."""


def look(path: Path, names: tuple[str, ...] = NAMES) -> None:
    lines = 0
    for name, text in said(path, names):
        lines += len(text.splitlines())
        assert sizes_too_long(text) == [], (path.name, name)
        told = REFUSED.findall(text)
        assert [one for one in told if denies_itself(one)] == [], (path.name, name)
        # nobody sells a drill or an end mill of a decimal size (ASME B94.11M's have a name or a
        # fraction; end mills go by sixteenths, common practice)
        assert re.findall(r"MISSING: (?:long )?(?:drill|end mill) \d*\.\d+ in.*", text) == [], name
        assert SOFT.findall(text) == [], name
    assert lines > 100


def test_the_example_is_said_in_inches_that_are_read() -> None:
    look(EXAMPLE, ("sizes", "route", "cutlist"))


@pytest.mark.slow
@pytest.mark.parametrize("path", [EXAMPLE, *sorted(JOBS.glob("*.toml"))], ids=lambda one: one.stem)
def test_a_job_is_said_in_inches_that_are_read(path: Path) -> None:
    look(path)


LENGTHS = re.compile(r"(-?[\d./-]+) (?:mm|in)\b")


@pytest.mark.parametrize("example", ["inch-lathe", "bench-lathe"])
@pytest.mark.parametrize("short_mm", [0.001, 0.004, 0.02])
def test_no_refusal_a_hair_past_its_bound_reads_as_if_it_were_within(
    example: str, short_mm: float
) -> None:
    """The post, what its slide travels and the knob: refused by less than is written, both numbers of
    the finding are other."""
    plan = planned(ROOT / "examples" / f"{example}.toml")
    s, job = plan.sizing.sizes, plan.job
    post, edges = post_plan(s, job), swinging_edges(plan.attachment)
    near = float(post_near_mm(s, job))
    by = toward_post(edges, (s.post_rear_x_mm, s.post_front_x_mm), near)
    assert by is not None
    out = (job.tool_post.stands_out or 0.0) + near - by.distance_mm - POST_CLEARANCE_MM
    seen = set()
    for table, key, value in (
        ("tool_post", "stands_out", out + short_mm),
        ("lathe", "post_farthest", post.turning_mm - short_mm),
        ("lathe", "post_nearest", post.boring_mm + short_mm),
    ):
        changed = getattr(job, table).model_copy(update={key: value})
        other = job.model_copy(update={table: changed})
        for one in post_findings(s, edges, other, "job.toml"):
            if one.severity != "note" and one.code != "boring-bar":
                is_there, needed = LENGTHS.findall(one.value)[-1], LENGTHS.findall(one.limit)[0]
                assert is_there != needed, one.text
                assert "0.000 in" not in one.limit and " 0 mm" not in one.limit, one.text
                seen.add(one.key)
    assert len(seen) == 3
