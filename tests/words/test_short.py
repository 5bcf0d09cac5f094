"""What may stand in a message: signs that print (Unicode's general categories, by the Python library's
own unicodedata), long values by their beginning, the first few of many names."""

from __future__ import annotations

import json
import unicodedata
from random import Random

import pytest

from planner.words.findings import finding
from planner.words.short import LONGEST_ROW, ball_called, begun, few, path_said, printed
from planner.words.tables import as_json

STEERS = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp", "Zs")
"""Categories of signs that turn the line, steer a terminal, turn the direction or show nothing
(Unicode Standard, chapter 4.5); the blank alone may stand."""


def drawn(rng: Random) -> str:
    """A text of up to forty signs of all of Unicode, of its beginning, and of those that steer."""
    kinds = (lambda: rng.randrange(0x110000), lambda: rng.randrange(0x250), lambda: rng.choice(ODD))
    return "".join(chr(rng.choice(kinds)()) for _ in range(rng.randrange(40)))


ODD = [
    0,
    9,
    10,
    13,
    27,
    32,
    0x7F,
    0x9B,
    0xAD,
    0x200B,
    0x2028,
    0x2029,
    0x202E,
    0xD800,
    0xE000,
    0xFFFF,
]
"""Some of each of those categories."""


def test_no_sign_is_left_that_steers_a_terminal() -> None:
    rng, seen = Random(7), set()
    for text in ("", *(drawn(rng) for _ in range(300))):
        seen |= {unicodedata.category(one) for one in text}
        shown = printed(text)
        assert not [one for one in shown if unicodedata.category(one) in STEERS and one != " "]
        assert shown.encode("utf-8") or not text
        kept = printed(text, keep="\n")
        assert kept.count("\n") == text.count("\n")
        plain = [one for one in text if unicodedata.category(one) not in STEERS or one == " "]
        assert len(shown) >= len(text) and all(one in shown for one in plain)
    assert seen >= {*STEERS, "Lu", "Ll", "Lo", "Nd", "Zs", "Sm", "Mn"}


def test_what_prints_stays_as_it_is() -> None:
    for text in ("Ø20 ±0,05 µm", "3-7/8 in", "größe ⌀", ""):
        assert printed(text) == text
    assert printed("a\x1b[31m\x9b\u202e\ud800") == "a\\x1b[31m\\x9b\\u202e\\ud800"


def test_a_finding_shows_no_more_than_a_line_of_a_value() -> None:
    one = finding("unknown-name", "job.toml", "k" * 900, "v\n\x1b" * 900, "no such", "Choose one")
    assert one.message.isprintable() and len(one.message) < 300
    assert one.value.endswith("...") and one.value.startswith("v\\n\\x1bv")


def test_a_message_says_once_what_it_is_of() -> None:
    def of(key: str) -> str:
        return finding(
            "hand-room", "job.toml", key, "near", "needs room", "Move it", subject="knob 1", line=3
        ).message

    assert (
        of("ball.knob 1")
        == "warning [hand-room]: job.toml:3: ball.knob 1: near: needs room. Move it"
    )
    assert of("attachment").endswith("attachment: knob 1: near: needs room. Move it")
    name = "n" * 60
    cut = finding("hand-room", "j", f"ball.{name}", "near", "needs", "Move it", subject=name)
    assert cut.message == f"warning [hand-room]: j: ball.{name}: near: needs. Move it"


def test_of_many_names_the_first_few_and_how_many_more() -> None:
    rng, cut = Random(11), 0
    signs = [chr(n) for n in range(128) if n != 32]
    for longest, most in ((3, 3), (3, 60), (12, 30), (60, 5), (120, 20)):
        for _ in range(40):
            names = [
                "".join(rng.choices(signs, k=rng.randint(1, longest)))
                for _ in range(rng.randint(1, most))
            ]
            cut += shortened(names)
    cut += shortened(["0" * 29] * 3)
    assert 50 < cut < 150


def shortened(names: list[str]) -> bool:
    """Whether names in a row were too many, and are rightly told."""
    said = few(names, between="; ")
    assert len(said) < LONGEST_ROW + len(" and 1000 more")
    assert said.startswith(begun(names[0], 40))
    told, found, more = said.rpartition(" and ")
    left = int(more[:-5]) if found else 0
    kept = "; ".join(begun(one, 40) for one in names[: len(names) - left])
    assert (told if found else said) == kept
    return bool(found)


@pytest.mark.parametrize("count, more", [(3, ""), (9, ""), (30, " and 17 more")])
def test_names_in_a_row(count: int, more: str) -> None:
    names = [f"part {n}" for n in range(10, 10 + count)]
    assert few(names, signs=118) == ", ".join(names[: count if not more else 13]) + more


@pytest.mark.parametrize(
    ("name", "said"),
    [("knob", "knob ball"), ("lever ball", "lever ball"), ("Ball 2", "Ball 2")],
)
def test_a_ball_is_not_called_a_ball_twice(name: str, said: str) -> None:
    assert ball_called(name) == said


def test_a_long_path_in_a_remedy_is_said_otherwise() -> None:
    assert path_said("/a/b.toml", "FILE") == "/a/b.toml"
    assert path_said("x" * 500, "FILE") == "FILE"


def test_json_has_signs_that_steer_as_escapes_and_says_the_same() -> None:
    record = {"file": "a\x1b\x9b\u202e\u2028b\ud83d", "name": "Ø20"}
    text = as_json(record)
    assert text.replace("\n", "").isprintable() and "Ø20" in text
    assert json.loads(text) == record
