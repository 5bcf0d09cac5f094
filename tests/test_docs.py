"""The documentation is true: made pages as the program makes them, commands that exist, real output."""

from __future__ import annotations

import io
import re
import shlex
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from commands import call, known, takes
from jobs import ROOT, planned
from PIL import Image

from docs import make
from planner.output.schemas import schema_of
from planner.output.topics import TOPICS
from planner.words.register import kinds

BY_HAND = ("README.md", "DEVELOPERS.md", "docs/first-ball.md", "docs/job-file.md")


def text_of(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    """Every made page, made now."""
    return dict(make.pages(planned(make.EXAMPLE)))


def test_the_made_pages_are_as_the_program_makes_them(made: dict[str, str]) -> None:
    # to mend: python -m docs.make
    assert len(made) > 20
    stale = [name for name, text in made.items() if text_of(f"docs/{name}") != text]
    assert stale == []


@pytest.mark.build
def test_the_pictures_of_the_readme_are_as_the_program_draws_them() -> None:
    # to mend: python -m docs.make; dots may differ where another computer's last bits do
    found = dict(make.shots(planned(make.EXAMPLE)))
    assert len(found) == 2
    for name, data in found.items():
        assert f"docs/{name}" in text_of("README.md")
        now, kept = (
            np.asarray(Image.open(one).convert("RGB"), dtype=float)
            for one in (io.BytesIO(data), ROOT / "docs" / name)
        )
        assert now.shape == kept.shape and np.abs(now - kept).mean() < 0.5, name


def test_no_page_of_docs_is_neither_made_nor_written_by_hand(made: dict[str, str]) -> None:
    found = {p.relative_to(ROOT).as_posix() for p in (ROOT / "docs").rglob("*") if p.is_file()}
    pages = {name for name in found if name.endswith((".md", ".svg"))}
    assert pages == {f"docs/{name}" for name in made} | set(BY_HAND[2:])


def test_every_command_and_topic_has_its_page(made: dict[str, str]) -> None:
    for name in known():
        assert f"commands/{name}.md" in made and f"(commands/{name}.md)" in made["README.md"]
    for topic in TOPICS:
        assert f"\n## {topic.name}\n" in made["package.md"]


def test_the_help_of_a_command_is_on_its_page(made: dict[str, str]) -> None:
    def words(text: str) -> str:
        return re.sub(r"[\s|`]+", " ", text)

    for name in known():
        shown = call(name, "--help").stdout
        body, options = shown.partition("\n\n")[2].split("\nOptions:\n")
        page = words(made[f"commands/{name}.md"])
        assert words(body).strip() in page, name
        for flag in re.findall(r"--[a-z]+", options):
            assert flag in page or flag == "--help", (name, flag)


def commands_in(name: str) -> list[list[str]]:
    """The pommel commands that a page shows on lines of their own, as words."""
    lines = re.findall(r"^    (?:.* )?(?:\S*/)?pommel ((?:\w).*)$", text_of(name), re.M)
    inline = re.findall(r"`pommel (\w[^`]*)`", text_of(name))
    found = [shlex.split(line.split(" > ")[0], comments=True) for line in [*lines, *inline]]
    return [words for words in found if words]


@pytest.mark.parametrize("name", ["README.md", "docs/first-ball.md", "docs/job-file.md"])
def test_every_command_shown_by_hand_is_one_that_pommel_takes(name: str) -> None:
    found = commands_in(name)
    assert len(found) >= 2
    for command, *words in found:
        assert takes(command, *words), command  # `pommel check` alone names the command


def test_every_command_a_remedy_names_is_one() -> None:
    named = [n for k in kinds().values() for n in re.findall(r"pommel ([a-z]+)", k.remedy)]
    assert len(named) >= 6 and {"list", "ready"} <= set(named)
    assert all(takes(name) for name in named)


def test_the_commands_of_the_one_page_run_in_their_order(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    lines = re.findall(r"^    pommel (.*)$", text_of("docs/first-ball.md"), re.M)
    assert len(lines) == 10
    for line in lines:
        if not line.startswith("build"):  # that has tests of its own
            result = call(*shlex.split(line))
            assert result.exit_code in (0, 1) and result.stdout, line


def test_the_lines_of_output_in_the_readme_are_real() -> None:
    (shown,) = re.findall(r"^```\n(.*?)^```", text_of("README.md"), re.M | re.S)
    assert shown.count("\n") == 8
    assert shown in call("route", str(make.EXAMPLE)).stdout


def test_every_link_leads_somewhere() -> None:
    pages = [*BY_HAND, *(p.relative_to(ROOT).as_posix() for p in (ROOT / "docs").rglob("*.md"))]
    seen = 0
    for name in pages:
        for link in re.findall(r"\]\(([^)#]+)\)", text_of(name)):
            seen += 1
            assert ((ROOT / name).parent / link).resolve().is_file(), f"{name}: {link}"
    assert seen > 30


def test_the_picture_of_where_to_measure_names_keys_of_the_job_file(made: dict[str, str]) -> None:
    root = ElementTree.fromstring(made["pictures/measuring.svg"])
    words = {t.text for t in root.iter("{http://www.w3.org/2000/svg}text")}
    kinds = schema_of("job")["$defs"]
    keys = {*kinds["Lathe"]["properties"], *kinds["ToolPost"]["properties"]}
    named = {word for word in words if word and "_" in word}
    assert named <= keys
    needed = {*kinds["Lathe"]["required"], *kinds["ToolPost"]["required"]}
    assert {key for key in needed if "speeds" not in key} <= named


def test_the_picture_of_the_attachment_names_every_part(made: dict[str, str]) -> None:
    root = ElementTree.fromstring(made["pictures/attachment.svg"])
    words = {t.text for t in root.iter("{http://www.w3.org/2000/svg}text")}
    parts = planned(make.EXAMPLE).attachment.parts
    behind = {word for word in words if word and word.endswith(" (behind)")}
    assert behind == {"clamp lever (behind)"}  # it stands on the chuck's side of the block
    assert {str(word).removesuffix(" (behind)") for word in words} == {
        part.title.lower() for part in parts
    }
    assert len(list(root.iter("{http://www.w3.org/2000/svg}path"))) > 100


def test_the_readme_installs_for_running_first_and_for_testing_second() -> None:
    lines = [line for line in text_of("README.md").splitlines() if "pip install" in line]
    assert len(lines) == 2
    assert "install -e . &&" in lines[0] and lines[0].endswith("build examples/bench-lathe.toml")
    assert "'.[test]' &&" in lines[1] and lines[1].endswith("-m pytest -n 2")


def test_the_guide_names_every_module_of_the_walk() -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    told = guide[guide.index("### Walk a route") : guide.index("### Add a bought item")]
    files = sorted((ROOT / "planner" / "walking").glob("[a-z]*.py"))
    assert len(files) > 30
    assert [one.name for one in files if one.name not in told] == []
