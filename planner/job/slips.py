"""What a value that is no TOML was meant as, by the way the shop writes numbers, sizes and names.

Imported by job.grammar alone.
"""

from __future__ import annotations

import re
import tomllib
from typing import NamedTuple

NUMBER = r"[+-]?\d+(?:\.\d+)?"
WORDS = r"[^\W\d][\w./× -]*"
"""Words, as a material's name, a thread's or a section's."""

NAMES = (
    r"M\d[\d.,x×X ]*",  # a thread
    r"\d+/\d+\s*-\s*\d+(\s*UN\w*)?",
    r"(round|square|flat|tube|sheet|hex)\s.*",  # a section
    rf"{NUMBER}\s*[x×X*]\s*{NUMBER}.*",
    r"\d+-?[^\W\d_]+-?\d\w*",  # a material: 42CrMo4, 6061-T6
    WORDS,
)
NOTHING = ("none", "null", "nil", "nan", "na", "n/a", "undefined", "unknown", "tbd", "todo")
LOOKS = str.maketrans(
    "−–—‐‑⁄\u00a0\u2007\u202f\u3000，．：＝［］＂＃",
    '-----/    ,.:=[]"#',
    "\u200b\u200c\u200d\ufeff",
)
"""Signs that only look like those of a keyboard."""

ALIKE = "a sign that only looks like the keyboard's"
QUOTES = "“”„‘’«»"
"""Quotes of a word processor."""


class Slip(NamedTuple):
    """A slip in a value. what: the slip; meant: the value as TOML, "" where that cannot be told;
    rather: what else may be meant, or to be done."""

    what: str
    meant: str
    rather: str = ""


def slip(value: str) -> Slip | None:
    """The slip in one value, without its remark; None where none is seen."""
    for rule in (_number, _with_sign, _quoted, _joined, _behind):
        found = rule(value)
        if found is not None:
            return found
    return None


def valid(text: str) -> bool:
    """Whether a line is TOML."""
    try:
        tomllib.loads(text)
    except ValueError:  # of the library
        return False
    return True


def _number(value: str) -> Slip | None:
    if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+", value):
        plain = value.replace(",", "")
        point = value.replace(",", ".") if value.count(",") == 1 else ""
        rather = f", or {point} if the comma is a decimal point" if point else ""
        return Slip("a comma in a number", plain, rather)
    if re.fullmatch(r"\d{1,3}(\.\d{3})+,\d+", value):
        return Slip("a comma in a number", value.replace(".", "").replace(",", "."))
    if re.fullmatch(r"\d+\.\d+(\.\d+)+", value):
        return Slip("more than one point in a number", "", "Write it with one")
    if found := re.fullmatch(rf"({NUMBER})\s*:\s*1", value):
        return Slip("a ratio", found[1])
    if re.fullmatch(r"[+-]?\d+,\d+", value):
        return Slip("a comma in a number", value.replace(",", "."))
    if re.fullmatch(r"\d{1,3}([ '’]\d{3})+(\.\d+)?", value):
        return Slip("a blank in a number", re.sub(r"[ '’]", "", value))
    if value.lower() in ("yes", "no", "on", "off", "true", "false"):
        meant = "true" if value.lower() in ("yes", "on", "true") else "false"
        return Slip(f"{value} is no TOML", meant)
    if re.fullmatch(r"-?\.\d+|-?\d+\.", value):
        meant = f"{value}0" if value.endswith(".") else value.replace(".", "0.", 1)
        return Slip("a decimal point with no figure beside it", meant)
    if re.fullmatch(r"0\d+(\.\d+)?", value):
        return Slip("a nought in front of a number", re.sub(r"^0+(?=\d)", "", value))
    if re.fullmatch(r"[\dOolI]+(\.[\dOolI]+)?", value) and re.search(r"\d", value):
        figures = value.translate(str.maketrans("OolI", "0011"))
        return Slip("a letter for a figure in a number", figures)
    return None


def _quoted(value: str) -> Slip | None:
    if value.lower().rstrip(".") in NOTHING or re.fullmatch(r"[^\w\[\]{}\"']+|_+", value):
        return Slip(f"{value} is no value", "", "Write its value, or put # before the line")
    if re.fullmatch(r"\d+[ -]?\d*/\d+", value):
        return Slip("a fraction that is not in quotes", f'"{value}"')
    if re.fullmatch(r"\d[\d./ -]*\s*(mm|cm|m|in|inch|inches|ft|tpi|\")", value):
        inside = re.sub(r"\s*inch(es)?$", " in", value.replace('"', " in"))
        return Slip("a size with its unit that is not in quotes", f'"{inside}"')
    if any(re.fullmatch(name, value) for name in NAMES):
        return Slip("words that are not in quotes", f'"{value}"')
    if found := re.fullmatch(r"\"+([^\"'\\]+)\"{2,}|\"{2,}([^\"'\\]+)\"", value):
        inside = (found[1] or found[2]).strip()
        if re.fullmatch(r"\d+[ -]?\d*/\d+", inside) and found[1]:  # an inch mark before the quote
            return Slip("a quote too many", f'"{inside} in"')
        return Slip("a quote too many", f'"{inside}"')
    bare = value.strip("\"'")
    ends = value[:1] in "\"'", value[-1:] in "\"'"
    if any(ends) and bare and not set(bare) & set("\"'\\") and value[0] != value[-1]:
        what = "quotes of two kinds" if all(ends) else "a quote that is not closed"
        return Slip(what, f'"{bare.strip()}"')
    if re.fullmatch(r'"[^"\']*"', value) and "\\" in value:
        return Slip("a backslash in quotes", f"'{value[1:-1]}'")
    return None


def _joined(value: str) -> Slip | None:
    if re.fullmatch(r"\d+(\.\d+)?(\s*\+\s*\d+(\.\d+)?)+", value):
        total = sum(float(one) for one in value.split("+"))
        return Slip("a sum, which is not worked out here", f"{round(total, 6):.12g}")
    pair = re.fullmatch(rf"({NUMBER})\s*(?:-|\.\.+|to|/)\s*(\d+(?:\.\d+)?)", value)
    if pair:
        rather = f"Write one number, or a list: [{pair[1]}, {pair[2]}]"
        return Slip("two numbers", "", rather)
    return None


def _with_sign(value: str) -> Slip | None:
    """A number with a sign or a word before it; its unit may stand behind it."""
    found = re.fullmatch(
        rf"(~|≈|±|\+-|\+/-|ca\.?|about|approx\.?|[€$£Ø⌀<>=@])\s*({NUMBER})(.*)",
        value,
        re.IGNORECASE,
    )
    if not found:
        return None
    what, behind = f"{found[1]} before a number", found[3].strip()
    if behind in ("mm", "cm", "m", "in", "ft"):
        return Slip(what, f'"{found[2]} {behind}"')
    rather = f', or "round {found[2]}" if it is a section' if found[1] in "Ø⌀" else ""
    return None if behind else Slip(what, found[2], rather)


def _behind(value: str) -> Slip | None:
    """A number, and something behind it: a unit that the key has already, or a remark."""
    found = re.fullmatch(rf"({NUMBER})\s*([^\d\s.,=\[\]{{}}\"'#].*)", value)
    if not found or re.match(r"/\d", found[2]):
        return None
    rest = found[2]
    shown = rest if len(rest) <= 20 else f"{rest[:17]}..."
    remark = rest.lstrip("-;/(,: ").rstrip(") ")
    word = " " not in rest and rest[:1] not in "-;/(,:"
    return Slip(f"{shown} behind a number", found[1] if word else f"{found[1]} # {remark}")
