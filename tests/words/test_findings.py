"""The register of findings: every finding has a code of it, and every code of it a finding.

The sources themselves are walked, so that no list here has to be kept.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import get_args

import pytest
from jobs import ROOT
from msgspec.structs import replace
from sources import nodes
from sources import sources as every_source

from planner.words.findings import BadInput, finding, once
from planner.words.register import Kind, Severity, kinds, page

SEVERITIES = get_args(Severity)


@cache
def sources() -> dict[str, Path]:
    """The project's own files by their path."""
    return {path.relative_to(ROOT).as_posix(): path for path in every_source()}


def calls(path: Path) -> Iterator[tuple[str, ast.Call]]:
    """Every call of a file and the last word of what is called."""
    for node in nodes(path):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name | ast.Attribute):
            yield node.func.id if isinstance(node.func, ast.Name) else node.func.attr, node


@cache
def doors() -> dict[str, tuple[str, ...]]:
    """What takes a code, by its name: functions, and classes with such a field, and what they take."""
    found: dict[str, tuple[str, ...]] = {}
    for path in sources().values():
        for node in nodes(path):
            if isinstance(node, ast.ClassDef):
                fields = [n for n in node.body if isinstance(n, ast.AnnAssign)]
                takes = [n.target.id for n in fields if isinstance(n.target, ast.Name)]
                starts = [
                    n for n in node.body if isinstance(n, ast.FunctionDef) and n.name == "__init__"
                ]
                for start in starts:
                    takes = [one.arg for one in start.args.args[1:]]
                name = node.name
            elif isinstance(node, ast.FunctionDef) and node.name != "__init__":
                takes = [one.arg for one in [*node.args.args, *node.args.kwonlyargs]]
                takes = [one for one in takes if one != "self"]
                name = node.name
            else:
                continue
            if "code" in takes:
                assert found.setdefault(name, tuple(takes)) == tuple(takes), f"two doors {name}"
    return found


def given(call: ast.Call, takes: tuple[str, ...], name: str) -> ast.expr | None:
    """What a call gives for an argument; None when it is left out."""
    for keyword in call.keywords:
        if keyword.arg == name:
            return keyword.value
    place = takes.index(name) if name in takes else len(call.args)
    return call.args[place] if place < len(call.args) else None


def literals(value: ast.expr) -> list[str] | None:
    """The texts an expression can be; None where that cannot be read off it."""
    if isinstance(value, ast.Constant) and isinstance(value.value, str):
        return [value.value]
    if isinstance(value, ast.IfExp):
        one, other = literals(value.body), literals(value.orelse)
        return None if one is None or other is None else one + other
    return None


def written() -> Iterator[tuple[str, str, list[str]]]:
    """Every code written in the sources, where, and the severities written with it."""
    for file, path in sources().items():
        for node in nodes(path):
            if isinstance(node, ast.Assign) and [ast.unparse(one) for one in node.targets] == [
                "code"
            ]:
                for code in literals(node.value) or []:
                    yield f"{file}:{node.lineno}", code, []
        for name, call in calls(path):
            if name not in doors() or name == "Kind":
                continue
            where = f"{file}:{call.lineno}"
            value = given(call, doors()[name], "code")
            assert value is not None, f"{where}: {name} without a code"
            severity = given(call, doors()[name], "severity")
            severities = [] if severity is None else literals(severity) or []
            if literals(value) is None:  # then it is handed on under its own name
                handed = ast.unparse(value)
                assert re.fullmatch(r"(\w+\.)*code", handed), f"{where}: which code is {handed}?"
            for code in literals(value) or []:
                yield where, code, severities


def test_findings_are_made_by_the_factory_only() -> None:
    made = [
        file for file, path in sources().items() for name, call in calls(path) if name == "Finding"
    ]
    assert made == ["planner/words/findings.py"]


def test_every_code_written_is_registered_with_its_severity() -> None:
    found = list(written())
    assert len(found) > 80
    assert [(where, code) for where, code, _ in found if code not in kinds()] == []
    wrong = [
        (where, code, one)
        for where, code, severities in found
        for one in severities
        if one not in kinds()[code].severities
    ]
    assert wrong == []


def test_every_code_of_the_register_is_written_somewhere() -> None:
    used = {code for _, code, _ in written()}
    assert sorted(set(kinds()) - used) == []


@pytest.mark.parametrize("kind", kinds().values(), ids=kinds().keys())
def test_every_entry_is_in_order(kind: Kind) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", kind.code)
    assert kind.severities and list(kind.severities) == [
        one for one in SEVERITIES if one in kind.severities  # each once, worst first
    ]  # fmt: skip
    for text in (kind.meaning, kind.remedy, kind.about):
        assert text[0].isupper() and text == text.strip()
    assert kind.meaning.endswith(".") and kind.meaning.count(". ") <= 1


def test_the_page_of_findings_says_what_the_register_says() -> None:
    # made anew with: python -c "from planner.words.register import page; print(page(), end='')"
    assert (ROOT / "docs" / "findings.md").read_text(encoding="utf-8") == page()


def test_the_register_keeps_kinds_of_one_heading_together() -> None:
    headings = [kind.about for kind in kinds().values()]
    assert len({*headings}) == sum(1 for _ in groupby(headings))


def test_a_findings_sentence_is_made_of_its_pieces() -> None:
    found = finding("kerf", "job.toml", "shop.kerf", "pin 1 mm", "under the kerf", "Check it")
    assert found.text == "pin 1 mm: under the kerf. Check it"
    assert found.message == "warning [kerf]: job.toml: shop.kerf: " + found.text
    ball = finding("centre", "j", "", "", "no room", "Go", severity="note", subject="knob")
    assert ball.text == "knob: no room. Go" and str(ball) == "j: knob: no room. Go"
    assert str(BadInput([found, ball])) == f"{found}\n{ball}"


@pytest.mark.parametrize(
    ("name", "subject", "value", "told"),
    [
        ("half", "", "7/16 in", "ball half: 7/16 in: half a ball is parted off. Leave it out"),
        ("a", "", "7/16 in", "ball a: 7/16 in: half a ball is parted off. Leave it out"),
        ("half", "half", "7/16 in", "half: 7/16 in: half a ball is parted off. Leave it out"),
        ("cup", "", "ball cup", "ball cup: half a ball is parted off. Leave it out"),
        ("l" * 90, "l" * 90, "7/16 in", None),
    ],
)
def test_a_ball_is_named_where_no_key_is(
    name: str, subject: str, value: str, told: str | None
) -> None:
    """The book's "7/16 in: half a ball is parted off at its equator" named no ball: the one meant was
    called "half", and so was taken for named."""
    said = ("half a ball is parted off", "Leave it out")
    one = finding(
        "unused-key", "job.toml", f"ball.{name}.stem_diameter", value, *said, subject=subject
    )
    assert one.told == (told or one.text)


@pytest.mark.parametrize("key", ["step 273", "set-up 106", "aid threaded stub"])
def test_what_a_walk_finds_says_of_which_step_it_is(key: str) -> None:
    """The book and the page asked to decide on "1.250 in deep by 0.250 in", and said of no step."""
    said = ("at most 4 diameters", "Come from both ends, or bore it")
    one = finding("route-tool-reach", "job.toml", key, "1.250 in deep", *said, severity="warning")
    assert one.told == f"{key}: {one.text}"
    value = f"{key}, too deep"
    named = finding("route-tool-reach", "job.toml", key, value, *said, severity="warning")
    assert named.told == named.text


def test_what_two_topics_find_is_told_once_as_the_worse() -> None:
    said = ("j", "ball.x", "out 90 mm", "too far", "Rough it")
    note = finding("stick-out", *said, severity="note")
    warning = finding("stick-out", *said, severity="warning")
    other = finding("kerf", *said)
    assert once([note, other, warning, other]) == (warning, other)


def test_a_findings_line_is_told_where_it_is_known() -> None:
    found = finding("not-toml", "job.toml", "", "", "broken", "Mend it")
    assert "line" not in found.as_dict() and found.as_dict()["code"] == "not-toml"
    assert replace(found, line=3).as_dict()["line"] == 3


@pytest.mark.parametrize(
    ("code", "severity"),
    [("no-such-code", None), ("kerf", "refused"), ("grip", None)],
)
def test_a_finding_of_no_registered_kind_is_a_mistake_of_ours(
    code: str, severity: Severity | None
) -> None:
    with pytest.raises(LookupError, match=code):
        finding(code, "job.toml", "", "", "limit", "remedy", severity=severity)
