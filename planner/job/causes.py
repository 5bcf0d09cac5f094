"""One slip, one message: where a single cause makes many findings of a file, the cause is told alone.

Imported by job.reading and job.wording alone.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from planner.words.findings import Finding, finding

UNITS = ("mm", "cm", "m", "in", "ft")
"""What a file may declare as the unit of its numbers."""

SPOKEN = {
    "inch": "in",
    "inches": "in",
    '"': "in",
    "imperial": "in",
    "metric": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "centimetre": "cm",
    "centimetres": "cm",
    "metre": "m",
    "metres": "m",
    "foot": "ft",
    "feet": "ft",
}
"""What is meant by other words for a unit: the finding is of the word alone."""

INCHES = {"in": "inches", "ft": "feet"}
"""Units whose sign is a word of another meaning."""

MOST_ALIKE = 5
"""So many findings of one sort are told one by one; of more, the first and how many there are."""

FEWEST_WRONG = 3
"""From so many lengths out of range on, a file is tried in the other unit."""


def meant_unit(given: Any) -> str | None:
    """The unit that is meant by a file's ``units``; None where it says none that could be guessed."""
    if not isinstance(given, str):
        return None
    plain = given.strip().lower()
    if plain in UNITS:
        return plain
    near = next(iter(get_close_matches(plain, [*UNITS, *SPOKEN], 1)), None)
    return SPOKEN.get(plain) or SPOKEN.get(near or "", near)


def folded(
    found: Sequence[Finding],
    data: dict[str, Any],
    file: str,
    again: Callable[[str], Sequence[Finding]],
    known: Callable[[str], Sequence[str]] = lambda table: (),
) -> list[Finding]:
    """The findings with those that follow from a cause taken out, the cause first.

    found: of the file as it is. again: the findings of the same file in another unit. known: the keys
    that a table may have.
    """
    if not data:
        limit, remedy = "the file is empty", "Fill one in: pommel new FILE"
        return [finding("missing-key", file, "", "", limit, remedy, line=1)]
    if other := _other_file(found, data, file):
        return [other]
    found = _misspelt(_without_heading(found, file, known), data)
    unit = data.get("units")
    if unit is None:
        return _without_units(found, data, file)
    if unit not in UNITS:
        # the word is a finding of its own; what its numbers are worth is not known
        guessed = SPOKEN.get(str(unit).strip().lower()) if isinstance(unit, str) else None
        if guessed is None:
            found = [one for one in found if one.code != "out-of-range" or one.key == "units"]
        return _few(found)
    return _few(_in_other_unit(found, data, file, again))


KINDS = (
    (("lathe", "attachment", "tool_post"), "a job"),
    (("reading",), "a file of readings"),
    (("done",), "a record of what was made"),
)
"""What a file is by its tables: its own have no other file."""


def _other_file(found: Sequence[Finding], data: Mapping[str, Any], file: str) -> Finding | None:
    """Told alone where the file is one of another kind; None where it is not."""
    unknown = {one.key.partition("[")[0] for one in found if one.code == "unknown-key"}
    if not any(one.code == "missing-key" for one in found):
        return None
    for tables, kind in KINDS:
        own = [one for one in tables if one in unknown and isinstance(data.get(one), dict | list)]
        if 2 * len(own) > len(tables):
            limit = f"this is {kind}, and another file is wanted here"
            remedy = "Name the files in the order of the command's --help, the job first"
            return finding("unknown-key", file, own[0], "", limit, remedy)
    return None


def _misspelt(found: Sequence[Finding], data: Mapping[str, Any]) -> list[Finding]:
    """Without what is missing because it is misspelt, or stands in another table; the slip is told."""
    missing = {one.key: one for one in found if one.code == "missing-key"}
    told = []
    for one in found:
        if one.code == "unknown-key":
            key = _meant_key(one, missing, data)
            if missing.pop(key, None) and one.remedy.startswith(NEAREST):
                remedy = f"{NEAREST}{key.rsplit('.', 1)[-1]}?"
                one = finding(one.code, one.file, one.key, one.value, one.limit, remedy)
        told.append(one)
    return [one for one in told if one.code != "missing-key" or one.key in missing]


FEWEST_LEFT = 2
"""From so many keys of a missing table on, found in another one, its heading is what is missing."""


def _without_heading(
    found: Sequence[Finding], file: str, known: Callable[[str], Sequence[str]]
) -> list[Finding]:
    """With the keys of a table whose heading is missing, and that stand in the one before, as one."""
    told = list(found)
    for gone in [one for one in found if one.code == "missing-key" and known(one.key)]:
        left = [
            one
            for one in told
            if one.code == "unknown-key"
            and one.key.rpartition(".")[2] in known(gone.key)
            and one.key.rpartition(".")[0] != gone.key
        ]
        if len(left) < FEWEST_LEFT or len({one.key.rpartition(".")[0] for one in left}) > 1:
            continue
        limit = f"a key of [{gone.key}] that has no heading; {len(left) - 1} more stand with it"
        remedy = f"Write [{gone.key}] on a line before them"
        cause = finding("missing-key", file, left[0].key, "", limit, remedy)
        told = [cause, *(one for one in told if one not in left and one != gone)]
    return told


NEAREST, BELONGS = "Did you mean ", "It belongs in ["
"""How a remedy begins that names another key, and one that names another table."""


def _meant_key(one: Finding, missing: Mapping[str, Finding], data: Mapping[str, Any]) -> str:
    """Which of the missing keys an unknown one was meant as; "" for none."""
    table, _, last = one.key.rpartition(".")
    head = f"{table}." if table else ""
    if one.remedy.startswith(NEAREST):
        here = [key.removeprefix(head) for key in missing if key.rpartition(".")[0] == table]
        asked = one.remedy.removeprefix(NEAREST).rstrip("?")
        near = [asked] if asked in here else get_close_matches(last.lower(), here, 1)
        return f"{head}{near[0]}" if near else ""
    if one.remedy.startswith(BELONGS):
        return f"{one.remedy.removeprefix(BELONGS).rstrip(']')}.{last}"
    if one.remedy.startswith("Write ["):
        return one.remedy.strip("Write []")
    if one.remedy.startswith("Leave "):  # a table's own name before its keys
        inside: Any = data
        for step in one.key.split("."):
            inside = inside.get(step, {}) if isinstance(inside, dict) else {}
        own = [f"{table}.{key}" for key in inside] if isinstance(inside, dict) else []
        return next((key for key in own if key in missing), "")
    return ""


def _without_units(found: Sequence[Finding], data: dict[str, Any], file: str) -> list[Finding]:
    bare = [one for one in found if one.code == "no-unit"]
    if not bare:
        return _few(found)
    rest = [one for one in found if one.code != "no-unit"]
    place, value = _stray_units(data)
    if place:
        remedy = 'Write it as units = "mm" at the top of the file, before the first table'
        if isinstance(value, str) and (known := meant_unit(value)):
            remedy = remedy.replace('"mm"', f'"{known}"')
        rest = [one for one in rest if one.key != place]
        cause = finding(
            "no-unit",
            file,
            place,
            repr(value)[:40],
            f"the key is units, and it stands first in the file; {_numbers(bare)} it",
            remedy,
        )
    elif len(bare) == 1:
        return _few(found)
    else:
        cause = finding(
            "no-unit",
            file,
            "units",
            "",
            f"missing; {_numbers(bare)} it, {bare[0].key} first",
            'Put units = "mm" or units = "in" at the top of the file, before the first table',
            line=1,
        )
    return [cause, *_few(rest)]


def _numbers(bare: Sequence[Finding]) -> str:
    return "one number waits for" if len(bare) == 1 else f"{len(bare)} numbers wait for"


def _stray_units(data: dict[str, Any]) -> tuple[str, Any]:
    """A key that is meant as ``units``, wherever it stands, and its value; "" for none."""
    for key, value in data.items():
        if key.lower() in ("unit", "units", "unite", "unti", "measure") and key != "units":
            return key, value
    for table, inside in data.items():
        if isinstance(inside, dict):
            for key, value in inside.items():
                if key.lower() in ("unit", "units"):
                    return f"{table}.{key}", value
    return "", None


def _in_other_unit(
    found: Sequence[Finding],
    data: dict[str, Any],
    file: str,
    again: Callable[[str], Sequence[Finding]],
) -> list[Finding]:
    """Told alone where lengths are out of range that nearly all would be right in the other unit."""
    wrong = [one for one in found if one.code == "out-of-range"]
    if len(wrong) < FEWEST_WRONG:
        return list(found)
    unit = str(data["units"])
    other = "mm" if unit in ("in", "ft") else "in"
    then = [one for one in again(other) if one.code == "out-of-range"]
    if 4 * len(then) > len(wrong):
        return list(found)
    rest = [one for one in found if one not in wrong]
    left = f"{len(then)} would be" if then else "none would be"
    cause = finding(
        "other-unit",
        file,
        "units",
        repr(unit),
        f"{len(wrong)} lengths are out of range, {wrong[0].key} first; in {other} {left}",
        f'The numbers look like {INCHES.get(other, other)}: write units = "{other}", or give the'
        f" numbers in {INCHES.get(unit, unit)}",
    )
    return [cause, *rest]


def _few(found: Sequence[Finding]) -> list[Finding]:
    """Of many findings of one code that say the same, the first, and how many more there are."""
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for one in found:
        groups.setdefault((one.code, one.limit, one.remedy), []).append(one)
    told: list[Finding] = []
    for (code, limit, remedy), alike in groups.items():
        if len(alike) <= MOST_ALIKE:
            told += alike
            continue
        first = alike[0]
        more = f"{limit}; {len(alike) - 1} more are the same, the last {alike[-1].key}"
        told.append(finding(code, first.file, first.key, first.value, more, remedy))
    return told
