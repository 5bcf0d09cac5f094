"""How near a slip must be to be known: guesses of keys and choices, units, long lines and values.

A guess is right where its letters are nearly those of one key (the ratio of Ratcliff and Obershelp, as
the library difflib has it: twice the letters in common over all of both); how nearly is our own.
"""

from __future__ import annotations

from collections.abc import Callable
from difflib import SequenceMatcher
from typing import Any

import pytest
from pydantic import BaseModel

from parts.standard.threads import thread
from planner.job import grammar
from planner.job.causes import folded, meant_unit
from planner.job.lines import key_lines
from planner.job.tables import Job
from planner.job.usual import GEARS, kit
from planner.job.wording import _near, key_of, known_keys, shown
from planner.words.findings import Finding, finding

JobWith = Callable[..., Job]


class Nine(BaseModel):
    """A table of nine keys."""

    alpha: int
    beta: int
    gamma: int
    delta: int
    epsilon: int
    zeta: int
    eta: int
    theta: int
    jaw_reach_mm: int


class Outer(BaseModel):
    """A table with one inside."""

    few: int
    inner: Nine


def alike(one: str, other: str) -> float:
    return SequenceMatcher(None, one, other).ratio()


def test_a_key_that_is_six_tenths_alike_is_asked_for() -> None:
    # difflib takes from 0.6 on; a letter in its place or another sign between words is less
    assert _near(Nine, ["alpah"], 1) == "Did you mean alpha?"
    assert _near(Nine, ["Jaw-Reach mm"], 1) == "Did you mean jaw_reach_mm?"
    far = _near(Nine, ["qqqq"], 1)
    assert far == "Known here are alpha, beta, delta, epsilon and others: pommel schema"


@pytest.mark.parametrize(
    ("key", "near"), [("jaw_qqq", True), ("jaw_qqqq", True), ("jaw_qqqqq", False)]
)
def test_four_tenths_alike_is_named_and_less_is_not(key: str, near: bool) -> None:
    # four letters of twelve and seven, eight or nine: 0.42, 0.40, 0.38
    assert (alike("jaw_reach_mm", key) >= 0.4) is near
    assert ("jaw_reach_mm" in _near(Nine, [key], 1)) is near


def test_what_belongs_elsewhere_and_what_is_known() -> None:
    assert _near(Outer, ["epsilon"], 1) == "It belongs in [inner]"
    assert _near(Outer, ["inner", "few"], 1) == "It belongs at the top, before any table"
    assert _near(Outer, ["qqqq"], 1) == "Known here: few, inner"
    assert known_keys(Outer, ["inner"])[:3] == ["alpha", "beta", "delta"]
    assert key_of(["rack", 0, "a b", 1]) == 'rack[1]."a b"[2]'


@pytest.mark.parametrize(
    ("long", "text"),
    [(46, "'" + "x" * 46 + "'"), (47, "'" + "x" * 43 + "...'"), (900, "'" + "x" * 43 + "...'")],
)
def test_a_value_is_shown_to_48_signs(long: int, text: str) -> None:
    assert shown("x" * long) == text and len(text) == 48


def test_numbers_are_shown_to_twenty_figures() -> None:
    assert shown(10**20 - 1) == "9" * 20
    assert shown(10**20) == shown(-(10**20)) == "a number of more than 20 figures"
    assert (shown(True), shown({}), shown([]), shown(float("inf"))) == (
        "true",
        "a table",
        "a list",
        "inf",
    )


@pytest.mark.parametrize(
    ("said", "meant"),
    [("MM", "mm"), (" in ", "in"), ("Inches", "in"), ("metrik", "mm"), ("feet", "ft"), ('"', "in"),
     ("xyzzy", None), (25.4, None), (None, None), ("imperial", "in"), ("cms", "cm")],
)  # fmt: skip
def test_what_unit_is_meant(said: Any, meant: str | None) -> None:
    assert meant_unit(said) == meant


def wrong(*keys: str, code: str = "out-of-range") -> list[Finding]:
    return [finding(code, "j", key, "1", "too large", "Correct it") for key in keys]


def lengths(many: int, first: str = "a") -> list[Finding]:
    return wrong(*(f"{first}.k{n}" for n in range(1, many + 1)))


def told(found: list[Finding], data: dict[str, Any], then: list[Finding]) -> list[str]:
    asked: list[str] = []
    out = folded(found, data, "j", lambda unit: asked.append(unit) or then)
    return [f"{one.code} {one.key}: {one.limit}" for one in out] + asked


def test_a_file_in_another_unit_from_three_lengths_that_a_quarter_would_stay_wrong() -> None:
    two = told(lengths(2), {"units": "mm"}, [])
    assert two == ["out-of-range a.k1: too large", "out-of-range a.k2: too large"]
    three = told(lengths(3), {"units": "mm"}, [])
    assert three == [
        "other-unit units: 3 lengths are out of range, a.k1 first; in in none would be", "in",
    ]  # fmt: skip
    for many, left, other in ((4, 1, True), (7, 2, False), (8, 2, True), (3, 1, False)):
        found = told(lengths(many), {"units": "in"}, lengths(left))
        assert found[-1] == "mm" and found[0].startswith("other-unit") is other, (many, left)
        if other:
            assert found[0].endswith(
                f"{many} lengths are out of range, a.k1 first; in mm {left} would be"
            )
    for unit, asked in (("ft", "mm"), ("m", "in"), ("cm", "in")):
        assert told(lengths(3), {"units": unit}, [])[-1] == asked


def test_of_more_than_five_alike_the_first_is_told() -> None:
    assert len(told(lengths(5), {"units": "xyz"}, [])) == 0  # what they are worth is not known
    five = told(wrong(*"abcde", code="wrong-value"), {"units": "xyz"}, [])
    assert len(five) == 5
    (one,) = told(wrong(*"abcdef", code="wrong-value"), {"units": "xyz"}, [])
    assert one == "wrong-value a: too large; 5 more are the same, the last f"
    assert len(told(lengths(5), {"units": "inches"}, [])) == 5
    assert len(told(wrong("units", "x.y"), {"units": "xyz"}, [])) == 1


def test_numbers_that_wait_for_a_unit() -> None:
    (one,) = told(wrong("a.b", code="no-unit"), {"a": {}}, [])
    assert one == "no-unit a.b: too large"
    (one,) = told(wrong("a.b", "a.c", code="no-unit"), {"a": {}}, [])
    assert one == "no-unit units: missing; 2 numbers wait for it, a.b first"
    for data, place in (({"Unit": "mm"}, "Unit"), ({"measure": "in"}, "measure"), ({"unti": 1}, "unti"),
                        ({"lathe": {"Units": "mm"}}, "lathe.Units")):  # fmt: skip
        (one,) = told(wrong("a.b", code="no-unit"), data, [])
        assert one.startswith(
            f"no-unit {place}: the key is units, and it stands first in the file; one"
        )
    assert told(wrong("a", code="unknown-key"), {"a": 1}, []) == ["unknown-key a: too large"]


def broken(text: str) -> grammar.Broken:
    with pytest.raises(grammar.Broken) as caught:
        grammar.loads(text)
    return caught.value


def test_a_line_is_quoted_to_sixty_signs() -> None:
    for long, whole in ((60, True), (61, False)):
        line = "a b =[" + "x" * (long - 7) + "!"
        value = broken(f"{line}\n").value
        assert value == repr(line if whole else f"{line[:57]}..."), long
    deep = "a." * 1279 + "a = [[[]"
    assert "brackets" not in broken(deep).limit.replace("a bracket is", "")
    assert broken("a." * 1281 + "a = 1 1").limit == "more than 64 brackets in one another"


def test_a_longer_line_than_4000_is_no_hands() -> None:
    key = "k" * 3990
    assert f"{key}aaaaaaa" in key_lines(f"{key}aaaaaaa = 1")
    assert key_lines(f"{key}aaaaaaaaaaa = 1") == {}
    assert key_lines("a = 1\n[t]\n[[r]]\nb = 2") == {"a": 1, "t": 2, "r": 3, "r[1]": 3, "r[1].b": 4}


def test_a_usual_shop_by_the_size_of_its_chuck(job_with: JobWith) -> None:
    """Shares of the chuck's diameter, common practice: from a fiftieth to nineteen twentieths."""
    found = kit(job_with(**{"lathe.chuck_diameter": 200}))
    assert (found.three_jaw.least_mm, found.three_jaw.most_mm) == (4, 190)
    assert (found.three_jaw_inside.least_mm, found.three_jaw_inside.most_mm) == (50, 180)
    assert found.four_jaw is not None and (found.four_jaw.least_mm, found.four_jaw.most_mm) == (
        10,
        190,
    )
    assert (found.chuck_bore_mm, found.chuck_depth_mm) == (40, 160)
    assert (found.steady_mm, found.faceplate_mm) == (80, 300)
    assert found.end_mills == (6, 8, 10, 12, 16) and found.boring_bars == (6, 10, 12)
    assert GEARS == (20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 63)
    inch = kit(job_with("inch-lathe"))
    assert [round(one / 25.4, 6) for one in inch.boring_bars] == [0.25, 0.375, 0.5]
    taps = [one for one in job_with().shop.taps if thread(one).major_mm <= 12]
    assert list(found.dies) == taps
    words = dict(found.assumed)
    assert words["lathe.three_jaw_outside"] == "the three-jaw chuck grips 4 to 190 mm"
    assert words["lathe.chuck_bore"] == "work that goes back through the jaws, up to 40 mm"
    assert words["shop.end_mills"] == "end mills of 6, 8, 10, 12, 16 mm"
    assert words["shop.boring_bars"] == "boring bars of 6, 10, 12 mm"
    assert words["lathe.change_gears"] == "change gears of 20 to 80 teeth by fives, and 63"
    assert words["shop.measuring.micrometers"] == "micrometers 0 to 25 mm, 25 to 50 mm"
