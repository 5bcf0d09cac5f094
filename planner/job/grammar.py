"""What breaks TOML's grammar, said as the slip of a hand that it is: the line, and the way it is meant.

Imported by job.reading alone.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass

DEEPEST = 64
"""Tables and lists in one another beyond this are nobody's job."""

LONGEST = 120
"""Signs of a limit or a remedy: a line with more is not written out again."""

_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)")
_ENDS = "(at end of document)"
_BARE = r"[A-Za-z_][\w./ -]*"


@dataclass(frozen=True)
class Broken(Exception):
    """The text is no TOML. line: from 1, where known; value: what stands there; limit and remedy."""

    line: int | None
    value: str
    limit: str
    remedy: str


def loads(text: str) -> dict[str, object]:
    """The TOML of a text, a mark of its byte order in front or not. Raises Broken."""
    text = text.removeprefix("\ufeff")
    deep = _too_deep(text)
    if deep:
        limit = f"more than {DEEPEST} brackets in one another"
        raise Broken(deep, "", limit, "Close the brackets that are open")
    try:
        return tomllib.loads(text)
    except RecursionError:
        limit = "keys or brackets too deep in one another"
        raise Broken(None, "", limit, "Write it flatter") from None
    except ValueError as error:  # of the library; a number of thousands of digits has other words
        raise _slip(text, str(error)) from None


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


def _slip(text: str, said: str) -> Broken:
    """The slip behind what the library said."""
    lines = text.split("\n")
    found = _PLACE.search(said)
    number = int(found[1]) if found else len(lines) if _ENDS in said else None
    line = lines[number - 1].strip() if number and number <= len(lines) else ""
    what = _named(line, said, lines, number)
    if what is None and number and number > 1:
        # an open bracket or quote breaks only on the line after it
        before = next((i for i in range(number - 2, -1, -1) if lines[i].strip()), None)
        if before is not None and _opens(lines[before]):
            limit = "a bracket is not closed"
            return Broken(before + 1, _short(lines[before].strip()), limit, "Close it with ]")
    if what and not all(one.isprintable() and len(one) <= LONGEST for one in what):
        what = None  # a line that no hand writes
    if what is None:
        words = _PLACE.sub("", said).replace(_ENDS, "").strip()
        limit = f"not TOML: {words[:1].lower()}{words[1:]}"
        if len(limit) > LONGEST or not limit.isprintable():
            limit = "not TOML"
        what = (limit, 'Write key = value: numbers bare, words in quotes "", lists in [ ]')
    return Broken(number, _short(line), *what)


def _opens(line: str) -> bool:
    bare = re.sub(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'|#.*', "", line)
    return bare.count("[") > bare.count("]") and not bare.lstrip().startswith("[")


def _short(line: str) -> str:
    """A line as a message quotes it."""
    text = repr(line if len(line) <= 60 else f"{line[:57]}...") if line else ""
    return text if len(text) <= 66 else f"{text[:62]}...'"


def _named(line: str, said: str, lines: list[str], number: int | None) -> tuple[str, str] | None:
    """Limit and remedy of a slip that is known; None for any other."""
    key, equals, value = (part.strip() for part in line.partition("="))
    value = re.sub(r"\s+#.*", "", value)
    heading = line.strip("[] ")
    if line.startswith("[") and _both_ways(lines, heading):
        return f"{heading} is a table and a list of tables", f"Write [[{heading}]] for each"
    if "Cannot overwrite" in said or "declare" in said or "twice" in said:
        name = line.strip("[] ") if line.startswith("[") else key
        earlier = _earlier(lines, number, line, key)
        limit = f"{name} stands twice" + (f", first on line {earlier}" if earlier else "")
        return limit, "Keep one of them"
    if any(sign in line for sign in "“”„‘’«»"):
        return "curly quotes, of a word processor", f"Write {_straight(line)}"
    if equals and re.fullmatch(r"-?\d+,\d+", value):
        return "a comma in a number", f"Write {key} = {value.replace(',', '.')}"
    if equals and value.endswith((";", ",")):
        return f"'{value[-1]}' at the end of the line", f"Write {key} = {value[:-1].strip()}"
    if equals and value.lower() in ("yes", "no", "on", "off", "true", "false"):
        meant = "true" if value.lower() in ("yes", "on", "true") else "false"
        return f"{value} is no TOML", f"Write {key} = {meant}"
    if equals and re.fullmatch(r"-?\.\d+|-?\d+\.", value):
        meant = f"{value}0" if value.endswith(".") else value.replace(".", "0.", 1)
        return "a decimal point with no figure beside it", f"Write {key} = {meant}"
    if equals and re.fullmatch(r"\d+[ -]?\d*/\d+", value):
        return "a fraction that is not in quotes", f'Write {key} = "{value}"'
    if equals and re.fullmatch(r"0\d+(\.\d+)?", value):
        return "a nought in front of a number", f"Write {key} = {value.lstrip('0')}"
    if equals and re.fullmatch(rf"\d[\d./ -]*\s*(mm|cm|m|in|ft|tpi|{chr(34)})", value):
        inside = value.replace('"', " in")
        return "a size with its unit that is not in quotes", f'Write {key} = "{inside}"'
    if equals and not value:
        return "nothing after =", f"Write {key} = and its value, or take the line out"
    if (
        equals
        and "Unterminated string" not in said
        and re.fullmatch(rf"{_BARE}|M\d[\d.x×]*", value)
    ):
        return "words that are not in quotes", f'Write {key} = "{value}"'
    if equals and value.startswith("["):
        return _in_list(key, value)
    if equals and (value.count('"') % 2 or value.count("'") % 2):
        return "a quote that is not closed", "Close it on the same line"
    if equals and " " in key and not key.startswith(('"', "'")):
        return "a blank in a key", f"Write {key.replace(' ', '_')} = {value}"
    if not equals and line.startswith("[") and line.count("[") != line.count("]"):
        return "a table's heading that is not closed", f"Write {_closed(line)}"
    if line.startswith("{") and number == 1:
        return "JSON, not TOML", "Begin with: pommel new FILE"
    if not equals and ":" in line:
        key, _, value = (part.strip() for part in line.partition(":"))
        return "':' where TOML has '='", f"Write {key} = {value}"
    if not equals and re.fullmatch(r"[\w-]+\s+\S+", line):
        key, value = line.split(None, 1)
        return "no = between key and value", f"Write {key} = {value}"
    if not equals and line.startswith(("//", ";", "%", "--", "/*")):
        return "a remark that does not begin with #", f"Write # {line.lstrip('/;%-* ')}"
    if not equals and line[:1].isalpha() and "[" not in line:
        return "neither a table's heading nor key = value", "Put # before it if it is a remark"
    return None


def _both_ways(lines: list[str], name: str) -> bool:
    """Whether a heading stands as [name] and as [[name]]."""
    bare = [re.sub(r"\s+", "", line.partition("#")[0]) for line in lines]
    return f"[{name}]" in bare and f"[[{name}]]" in bare


def _in_list(key: str, value: str) -> tuple[str, str] | None:
    if re.search(r"\[\s*-?\d+,\d+\s*[;\]]", value) or ";" in value:
        inside = value.replace(",", ".").replace(";", ",")
        return "commas or semicolons in a list of numbers", f"Write {key} = {inside}"
    inner = value.strip("[] ")
    bare = [one.strip() for one in inner.split(",")]
    if any(re.fullmatch(rf"{_BARE}|M\d[\d.x×]*", one) for one in bare):
        quoted = ", ".join(
            f'"{one}"' if one and not one.startswith('"') and not _is_number(one) else one
            for one in bare
        )
        return "words in a list that are not in quotes", f"Write {key} = [{quoted}]"
    if re.search(r"\d\s+\d", value):
        spaced = re.sub(r"(?<=\d)\s+(?=\d)", ", ", value)
        return "no comma between two numbers of a list", f"Write {key} = {spaced}"
    if value.count("[") > value.count("]"):
        return "a bracket is not closed", f"Write {key} = {value}]"
    return None


def _is_number(text: str) -> bool:
    return re.fullmatch(r"[+-]?\d+(\.\d+)?", text) is not None


def _closed(line: str) -> str:
    double = line.startswith("[[")
    name = line.strip("[] ")
    return f"[[{name}]]" if double else f"[{name}]"


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
