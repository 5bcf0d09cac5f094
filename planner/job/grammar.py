"""What breaks TOML's grammar, said as the slip of a hand that it is: the line, and the way it is meant.

Imported by job.reading alone.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Collection
from dataclasses import dataclass

from planner.job import slips
from planner.job.lines import key_lines
from planner.words.short import begun, printed

DEEPEST = 64
"""Tables and lists in one another beyond this are nobody's job."""

LONGEST = 120
"""Signs of a limit or a remedy: a line with more is written out by its beginning."""

LONGEST_LINE = 1000
"""No hand writes a longer one: what was meant is not guessed."""

BY_THE_RULES = 'Write key = value: numbers bare, words in quotes "", lists in [ ]'
"""What is said where no line can be told that would do."""

_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)")
_ENDS = "(at end of document)"
_SINGLE = re.compile(r"[^=#\"']*=\s*'[^']*")
"""A line whose value begins with a quote and has no other."""

_GAPS = (("numbers", r"(?<=\d)\s+(?=[\d.-])"), ("words", r"(?<=[\"'])\s+(?=[\"'])"))
"""Where a comma may be left out of a list, between two of what."""


@dataclass(frozen=True)
class Broken(Exception):
    """The text is no TOML. line: from 1, where known; value: what stands there; limit and remedy."""

    line: int | None
    value: str
    limit: str
    remedy: str


def loads(text: str, lists: Callable[[], Collection[str]] = tuple) -> dict[str, object]:
    """The TOML of a text, a mark of its byte order in front or not. Raises Broken.

    lists: the tables that may stand several times, dotted; asked for only where the text is none.
    """
    text = text.removeprefix("\ufeff")
    deep = _too_deep(text)
    if deep:
        limit = f"more than {DEEPEST} brackets in one another"
        raise Broken(deep, "", limit, "Close the brackets that are open")
    if "\r" in text and "\n" not in text:
        limit, remedy = "lines that end in CR alone", "Save it with line ends of LF or CRLF"
        raise Broken(1, "", limit, remedy)
    try:
        return tomllib.loads(text)
    except RecursionError:
        limit = "keys or brackets too deep in one another"
        raise Broken(None, "", limit, "Write it flatter") from None
    except ValueError as error:  # of the library; a number of thousands of digits has other words
        raise _slip(text, str(error), lists) from None


def _too_deep(text: str) -> int | None:
    """The line on which brackets outside quotes and comments go deeper than DEEPEST."""
    for number, line in enumerate(text.split("\n"), 1):
        depth = most = 0
        for sign in re.sub(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*', "", line):
            depth += (sign in "[{") - (sign in "]}")
            most = max(most, depth)
        if most > DEEPEST or line.count(".") > 20 * DEEPEST:
            return number
    return None


def _slip(text: str, said: str, lists: Callable[[], Collection[str]]) -> Broken:
    """The slip behind what the library said."""
    lines = text.split("\n")
    found = _PLACE.search(said)
    number = int(found[1]) if found else len(lines) if _ENDS in said else None
    if _ENDS in said and "'" in said:  # a quote that is looked for to the end
        number = next((n for n, one in enumerate(lines, 1) if _SINGLE.fullmatch(one)), number)
    line = lines[number - 1].strip() if number and number <= len(lines) else ""
    name = line.partition("#")[0].strip()
    if number and re.fullmatch(r"\[[^\[\]]+\]", name) and name[1:-1].strip() in lists():
        limit = "a table that stands there several times"
        return Broken(number, _short(line), limit, f"Write [{name}] for each")
    if number and line.startswith("[[") and (single := _single(lines, name.strip("[] "))):
        number, line = single, lines[single - 1].strip()  # the one of the two that is written wrong
    what = _named(line, said, lines, number) if len(line) <= LONGEST_LINE else None
    if what is None and number and number > 1:
        # an open bracket or quote breaks only on the line after it
        before = next((i for i in range(number - 2, -1, -1) if lines[i].strip()), None)
        if before is not None and _opens(lines[before]):
            limit = "a bracket is not closed"
            return Broken(before + 1, _short(lines[before].strip()), limit, "Close it with ]")
    if what is None:
        words = _PLACE.sub("", said).replace(_ENDS, "").strip()
        limit = f"not TOML: {words[:1].lower()}{words[1:]}"
        if len(limit) > LONGEST or not limit.isprintable():
            limit = "not TOML"
        what = (limit, BY_THE_RULES)
    limit, remedy = (begun(printed(one), LONGEST) for one in what)
    return Broken(number, _short(line), limit, remedy)


def _opens(line: str) -> bool:
    bare = re.sub(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*', "", line)
    return bare.count("[") > bare.count("]") and not bare.lstrip().startswith("[")


def _short(line: str) -> str:
    """A line as a message quotes it."""
    text = repr(line if len(line) <= 60 else f"{line[:57]}...") if line else ""
    return text if len(text) <= 66 else f"{text[:62]}...'"


def _named(line: str, said: str, lines: list[str], number: int | None) -> tuple[str, str] | None:
    """Limit and remedy of a slip that is known; None for any other."""
    if line.startswith("[") and (found := _heading(line, lines)):
        return found
    key, equals, value = (part.strip() for part in line.partition("="))
    value = re.sub(r"(^|\s+)#.*", "", value)
    if "Cannot overwrite" in said or "declare" in said or "twice" in said:
        name = line.strip("[] ") if line.startswith("[") else key
        earlier = _earlier(lines, number, line, key)
        if earlier is None and (held := _held(lines, number, line)):
            limit = f"{held[0]} has a value on line {held[1]}, and is a table here"
            return limit, f"Keep the table, and take line {held[1]} out"
        limit = f"{name} stands twice" + (f", first on line {earlier}" if earlier else "")
        return limit, "Keep one of them"
    if any(sign in line for sign in slips.QUOTES):
        return "curly quotes, of a word processor", _write(_straight(line))
    plain = line.translate(slips.LOOKS).strip()
    if plain != line and slips.valid(plain):
        return slips.ALIKE, _write(plain)
    if line.startswith("{") and number == 1:
        return "JSON, not TOML", "Begin with: pommel new FILE"
    if number and _inside_list(lines, number):
        return _members(line)
    return _assigned(key, value, said) if equals else _no_equals(line)


def _write(line: str, rather: str = "") -> str:
    """The remedy that tells a line to write, where that is TOML. rather: what else may be meant."""
    line = line if line.isprintable() else line.translate(slips.LOOKS)
    good = line.isprintable() and slips.valid(line)
    return f"Write {line}{rather}" if good else BY_THE_RULES


def _heading(line: str, lines: list[str]) -> tuple[str, str] | None:
    """The slip in a table's heading."""
    name = line.strip("[] ")
    if _both_ways(lines, name):
        return f"{name} is a table and a list of tables", f"Write [[{name}]] for each"
    bare = line.partition("#")[0].strip()
    double = "[[" in bare or "]]" in bare
    if "=" not in bare and bare.count("[") != bare.count("]"):
        mended = f"[[{name}]]" if double else f"[{name}]"
        return "a table's heading that is not closed", _write(mended)
    behind = re.fullmatch(r"(\[+[^\[\]]+\]+)\s*([^\]\s].*)", bare)
    if behind and "=" in behind[2]:
        return "a heading and a key on one line", "Write each on a line of its own"
    if behind and slips.valid(behind[1]):
        remark = behind[2].lstrip("-;/:,. ")
        mended = f"{behind[1]} # {remark}" if remark else behind[1]
        return "words behind a table's heading", _write(mended)
    steps = [one.strip() for one in name.split(".")]
    if " " in name and '"' not in name and all(steps):
        quoted = ".".join(f'"{one}"' if " " in one else one for one in steps)
        if len(steps) < 3:  # names with blanks are of machines alone
            quoted = re.sub(" +", "_", ".".join(steps))
        mended = f"[[{quoted}]]" if double else f"[{quoted}]"
        return "a blank in a name that is not in quotes", _write(mended)
    return None


def _assigned(key: str, value: str, said: str) -> tuple[str, str] | None:
    """The slip in a line that has a =."""
    if not value:
        return "nothing after =", f"Write {key} = and its value, or take the line out"
    odd = re.sub(r"\s*\(.*?\)\s*|[:>=-]+$", "", key).strip()
    odd = re.sub(r"\W+", "_", odd).strip("_")
    mended = value.lstrip("=> ")
    meant = slips.slip(mended)
    if meant is None and mended.startswith("["):
        return _in_list(key, mended)
    if mended != value or (odd != key and not slips.valid(f"{key} = 1")):
        what = "a blank in a key" if " " in key else "a sign in a key that it cannot have"
        if mended != value or key.endswith((":", "-")):
            what = "more than one = between key and value"
        right = meant.meant if meant and meant.meant else mended
        return what, _write(f"{odd} = {right}")
    if re.search(r"[,;]\s*[\w-]+\s*=[^=]", value) and not value.startswith("{"):
        return "two keys on one line", "Write each on a line of its own"
    if value.startswith("{") and value.count("{") > value.count("}"):
        limit = "a { that is not closed on its line"
        return limit, f"Write [{key}] on a line, and its keys below it"
    if value.endswith((";", ",")):
        inside = value[:-1].strip()
        inner = slips.slip(inside)
        right = inner.meant if inner and inner.meant else inside
        return f"'{value[-1]}' at the end of the line", _write(f"{key} = {right}")
    if meant is not None:
        return _as_meant(key, meant)
    if value.count('"') % 2 or value.count("'") % 2:
        return "a quote that is not closed", "Close it on the same line"
    return None


def _as_meant(key: str, meant: slips.Slip) -> tuple[str, str]:
    if not meant.meant:
        return meant.what, meant.rather
    return meant.what, _write(f"{key} = {meant.meant}", meant.rather)


def _no_equals(line: str) -> tuple[str, str] | None:
    """The slip in a line that has no =."""
    if line.startswith(("//", ";", "%", "--", "/*")):
        return "a remark that does not begin with #", f"Write # {line.lstrip('/;%-* ')}"
    if round_ := re.fullmatch(r"[({<]+\s*([A-Za-z_][\w.]*)\s*[)}>]+:?", line):
        return "a table's heading in brackets of another kind", _write(f"[{round_[1]}]")
    if line.startswith("```"):
        return "a fence of Markdown", "Take the line out"
    colon = re.fullmatch(r"([\w. -]+?)\s*:\s*(.*)", line)
    if colon:
        key, value = re.sub(r"\W+", "_", colon[1]), colon[2]
        if not value:
            return "':' where TOML has [ ]", _write(f"[{key}]")
        return "':' where TOML has '='", _write(f"{key} = {_as_toml(value)}")
    pair = re.fullmatch(r"([\w-]+)\s+(\S.*)", line)
    if pair and (_as_toml(pair[2]) == pair[2] or slips.slip(pair[2]) and pair[2][0].isdigit()):
        return "no = between key and value", _write(f"{pair[1]} = {_as_toml(pair[2])}")
    if re.fullmatch(r"[\w.-]+", line):
        return (
            "neither a table's heading nor key = value",
            f"Write {line} = and its value, or [{line}] if it is a table's heading",
        )
    if line[:1].isalpha() and "[" not in line:
        return "neither a table's heading nor key = value", "Put # before it if it is a remark"
    return None


def _as_toml(value: str) -> str:
    """A value as TOML: itself where it is."""
    if slips.valid(f"a = {value}"):
        return value
    meant = slips.slip(value)
    return meant.meant if meant and meant.meant else f'"{value}"'


def _both_ways(lines: list[str], name: str) -> bool:
    """Whether a heading stands as [name] and as [[name]]."""
    return bool(_single(lines, name)) and f"[[{name}]]" in _bare(lines)


def _bare(lines: list[str]) -> list[str]:
    return [re.sub(r"\s+", "", line.partition("#")[0]) for line in lines]


def _single(lines: list[str], name: str) -> int | None:
    """The first line, from 1, on which a table stands as [name]."""
    return next((n for n, one in enumerate(_bare(lines), 1) if one == f"[{name}]"), None)


def _held(lines: list[str], number: int | None, line: str) -> tuple[str, int] | None:
    """What a heading goes on in and has a value already, and on which line."""
    if not number or not line.startswith("["):
        return None
    before = key_lines("\n".join(lines[: number - 1]))
    inside = re.sub(r"\s+", "", line.strip("[] "))
    while inside:
        at = before.get(inside)
        if at and not lines[at - 1].lstrip().startswith("["):
            return inside, at
        inside = inside.rpartition(".")[0]
    return None


def _in_list(key: str, value: str) -> tuple[str, str] | None:
    if re.search(r"\[\s*-?\d+,\d+\s*[;\]]", value) or ";" in value:
        inside = value.replace(",", ".").replace(";", ",")
        return "commas or semicolons in a list of numbers", _write(f"{key} = {inside}")
    inner = value.strip("[] ")
    if inner.strip() and (found := _members(inner, key)):
        return found
    if value.count("[") > value.count("]"):
        return "a bracket is not closed", _write(f"{key} = {value}]")
    return None


def _members(inner: str, key: str = "") -> tuple[str, str] | None:
    """The slip in members of a list; key: of a list on one line, "" for a line inside one."""

    def mended(text: str) -> str:
        return _write(f"{key} = [{text}]") if key else f"Write {text}"

    ahead, _, behind = re.sub(r"\s+#.*", "", inner).partition("]")
    if behind.strip():
        return None
    for what, gap in _GAPS:
        spaced = re.sub(gap, ", ", ahead)
        if spaced != ahead and slips.valid(f"a = [{spaced}]"):
            return f"no comma between two {what} of a list", mended(spaced.strip())
    every = [one.strip() for one in ahead.split(",")]
    found = [slips.slip(one) if one and not slips.valid(f"a = {one}") else None for one in every]
    if first := next((one for one in found if one and one.meant), None):
        text = ", ".join(
            new.meant if new and new.meant else old for old, new in zip(every, found, strict=True)
        )
        if slips.valid(f"a = [{text}]"):
            where = first.what if first.what.startswith("words") else f"{first.what}, in a list"
            return where.replace("words that", "words in a list that"), mended(text.strip())
    return None


def _inside_list(lines: list[str], number: int) -> bool:
    """Whether a line stands in a list that began on a line before and is still open."""
    for back in range(number - 2, -1, -1):
        if re.match(r"\s*\[", lines[back]):
            return False
        if "=" in lines[back]:
            bare = re.sub(
                r'"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*', "", "\n".join(lines[back : number - 1])
            )
            return bare.count("[") > bare.count("]")
    return False


def _straight(line: str) -> str:
    for curly in "“”„«»":
        line = line.replace(curly, '"')
    return line.replace("‘", '"').replace("’", '"')


def _earlier(lines: list[str], number: int | None, line: str, key: str) -> int | None:
    """The line before, in the same table, on which the same stands."""
    if not number:
        return None
    for index in range(number - 2, -1, -1):
        here = lines[index].strip()
        if line.startswith("["):
            if here == line:
                return index + 1
        elif here.startswith("["):
            return None
        elif here.partition("=")[0].strip() == key:
            return index + 1
    return None
