"""What is said of every kind of complaint that the validation library has, each sentence by hand."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import BaseModel

from planner.job.wording import complaint


class Inner(BaseModel):
    """A table."""

    size: float


class Outer(BaseModel):
    """A file."""

    part: Inner
    few: list[float]


SAID: list[tuple[str, dict[str, Any], Any, str]] = [
    ("greater_than", {"gt": 0.5}, 0, "out-of-range: 0: must be more than 0.5. Correct the number"),
    ("greater_than", {"gt": 0}, -1, "out-of-range: -1: must be more than 0. Correct the number"),
    ("greater_than_equal", {"ge": 2}, 1, "out-of-range: 1: must be 2 or more. Correct the number"),
    ("less_than", {"lt": 9}, 9, "out-of-range: 9: must be less than 9. Correct the number"),
    ("less_than_equal", {"le": 8}, 9, "out-of-range: 9: must be 8 or less. Correct the number"),
    ("finite_number", {}, float("nan"),
     "out-of-range: nan: must be a number that is finite. Correct the number"),
    ("string_too_long", {"max_length": 12}, "xxx",
     "out-of-range: 'xxx': must have at most 12 letters. Shorten it"),
    ("string_too_short", {}, "", "out-of-range: '': is empty. Give it a name"),
    ("too_short", {}, [], "out-of-range: a list: the list is empty. Write at least one in [ ]"),
    ("too_long", {"max_length": 3}, [1],
    "out-of-range: a list: the list has more than 3. Leave some out"),
    ("string_pattern_mismatch", {}, "a|b", "wrong-value: 'a|b': has signs that a name cannot have."
     " Use letters, figures, blanks, points and hyphens"),
    ("string_type", {}, 5, 'wrong-value: 5: must be words in quotes. Write it in quotes ""'),
    *((kind, {}, "x", "wrong-value: 'x': must be true or false. Write true or false, without quotes")
      for kind in ("bool_type", "bool_parsing")),
    *((kind, {}, "5", "wrong-value: '5': must be a whole number. Write 5, without quotes")
      for kind in ("int_type", "int_parsing", "int_from_float", "int_parsing_size")),
    ("int_from_float", {}, 5.5,
     "wrong-value: 5.5: must be a whole number. Write a whole number, without a point"),
    ("float_type", {}, "5", "wrong-value: '5': must be a number. Write it without quotes"),
    ("float_parsing", {}, True, "wrong-value: true: must be a number. Write a number"),
    *((kind, {}, 5, "wrong-value: 5: must be a list. Write it in brackets: [5]")
      for kind in ("list_type", "tuple_type")),
    ("list_type", {}, "x", "wrong-value: 'x': must be a list. Write it in brackets: [\"x\"]"),
    ("list_type", {}, True, "wrong-value: true: must be a list. Write it in brackets, as in [1, 2]"),
    ("list_type", {}, {},
    "wrong-value: a table: may stand there several times."
     " Write [[part.size]] for each"),
    *((kind, {}, 5, "wrong-value: 5: must be a table of its own. Write [its.name]"
      " on a line, and its keys below")
      for kind in ("dict_type", "model_type", "model_attributes_type", "dict_attributes_type")),
    ("no such kind", {}, 5, "wrong-value: 5: cannot be read here. See: pommel schema"),
    ("literal_error", {"expected": "'inch' or 'metric'"}, "imperial",
     "not-a-choice: 'imperial': must be 'inch' or 'metric'. Did you mean \"inch\"?"),
    ("enum", {"expected": "'a' or 'b'"}, 5, "not-a-choice: 5: must be 'a' or 'b'. Choose one"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "context", "value", "said"), SAID)
def test_a_complaint_in_words(kind: str, context: dict[str, Any], value: Any, said: str) -> None:
    detail = {"loc": ("part", "size"), "type": kind, "ctx": context, "input": value}
    one = complaint("j.toml", Outer, detail)
    assert (one.file, one.key) == ("j.toml", "part.size")
    assert f"{one.code}: {one.value}: {one.limit}. {one.remedy}" == said


def test_what_is_missing_or_not_known() -> None:
    def said(kind: str, *loc: str | int) -> str:
        one = complaint("j.toml", Outer, {"loc": loc, "type": kind, "input": 1})
        return f"{one.code}: {one.key}: {one.limit}. {one.remedy}"

    assert (
        said("missing", "part", "size")
        == "missing-key: part.size: missing. Write size = and its value"
    )
    assert said("missing", "part") == (
        "missing-key: part: missing. Write [part] on a line, and its keys below it"
    )
    assert said("extra_forbidden", "part", "sise") == (
        "unknown-key: part.sise: unknown key. Did you mean size?"
    )
    assert said("extra_forbidden", "size") == "unknown-key: size: unknown key. It belongs in [part]"
    assert said("float_type", "few", 2, "[key]") == (
        "wrong-value: few[3]: must be a number. Write a number"
    )
