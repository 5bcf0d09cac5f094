"""What a message may hold: signs that print, values by their beginning, the first few of many names.

Any module of the planner may import this; it imports nothing of the project.
"""

from __future__ import annotations

from collections.abc import Iterable

LONGEST_VALUE = 110
"""Signs of what a finding shows as its value, a place on the command line or a sum of figures."""

LONGEST_SUBJECT = 56
"""Signs of what a sentence begins with, a ball's name say."""

LONGEST_PATH = 120
"""Signs of a file's name inside a remedy; a longer one is said in other words."""

LONGEST_ROW = 90
"""Signs of the names in a row of which a message tells the first few."""

LONGEST_NAME = 40
"""Signs of one of them."""


def printed(text: str, keep: str = "") -> str:
    """A text with every sign that does not print written as its escape: none steers a terminal.

    keep: signs that stay all the same, a line's end say.
    """
    for sign in odd_signs(text, keep):
        text = text.replace(sign, ascii(sign)[1:-1])
    return text


def odd_signs(text: str, keep: str = "") -> list[str]:
    """The signs of a text that do not print, each once, but those of ``keep``."""
    if text.isprintable():
        return []
    return [sign for sign in sorted(set(text)) if not sign.isprintable() and sign not in keep]


def begun(text: str, signs: int = LONGEST_VALUE) -> str:
    """A text by its beginning where it is longer than so many signs."""
    return text if len(text) <= signs else f"{text[: signs - 3].rstrip()}..."


def few(
    names: Iterable[str], between: str = ", ", signs: int = LONGEST_ROW, each: int = LONGEST_NAME
) -> str:
    """Names in a row: of more than go into so many signs the first ones and how many more.

    each: signs of one of them at most.
    """
    every = [begun(name, each) for name in names]
    told: list[str] = []
    for one in every:
        if told and len(between.join([*told, one])) > signs:
            break
        told.append(one)
    more = f" and {len(every) - len(told)} more" if len(told) < len(every) else ""
    return between.join(told) + more


def ball_called(name: str) -> str:
    """A ball by its name, with the word where the name has it not: "knob ball", but "lever ball"."""
    return name if "ball" in name.lower().split() else f"{name} ball"


def path_said(path: object, otherwise: str) -> str:
    """A file's name as a remedy has it; otherwise: what is said where it is too long for one line."""
    text = str(path)
    return text if len(text) <= LONGEST_PATH else otherwise
