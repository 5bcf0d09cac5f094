"""The user's own sizes: read, ranged and held against what each may be made of.

Imported by sizing.apply.
"""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches
from typing import Any

from parts.sizes import Sizes
from parts.standard.errors import UnknownSize
from parts.standard.sections import Section
from parts.standard.threads import thread
from planner.job.tables import Job
from planner.sizing.catalogue import is_sold
from planner.sizing.draft import Rule, public_name
from planner.sizing.rules import RULES
from planner.words.findings import BadInput, Finding, finding
from planner.words.units import UnitError, length_mm, section

LEAST_MM, MOST_MM = 0.05, 1000.0
"""The range of any size of an attachment for a small lathe; each has narrower bounds of its own."""


def own_sizes(job: Job, file: str) -> dict[str, Any]:
    """The user's own sizes by field name; raises BadInput with every one that will not do."""
    own: dict[str, Any] = {}
    problems: list[Finding] = []
    for key, value in job.attachment.sizes.items():
        place = f"attachment.sizes.{key}"
        rule = _SETTABLE.get(key)
        if rule is None:
            problems.append(_not_settable(key, file, place))
            continue
        try:
            own[rule.name] = _read(rule, value, job)
        except UnitError as error:
            shown = repr(value)
            problems.append(finding(error.code, file, place, shown, error.limit, error.remedy))
    if problems:
        raise BadInput(problems)
    return own


_KINDS = dict(Sizes.__annotations__)
_RULES = {public_name(rule.name): rule for rule in RULES}
_SETTABLE = {
    key: rule for key, rule in _RULES.items() if rule.source != "job file" and not rule.follows
}


def _not_settable(key: str, file: str, place: str) -> Finding:
    """A size there is none of, or one that follows from others."""
    rule = _RULES.get(key)
    if rule is not None and rule.follows:
        limit = "follows from other sizes and cannot be set"
        return finding("unknown-size", file, place, "", limit, f"Set {' or '.join(rule.follows)}")
    near = get_close_matches(key, _SETTABLE, 1)
    hint = f"Did you mean {near[0]}?" if near else "See the names in: pommel sizes"
    return finding("unknown-size", file, place, "", "no size of that name", hint)


def _read(rule: Rule, value: Any, job: Job) -> Any:
    """One of the user's sizes as the catalogue has it; raises UnitError with what is wrong with it."""
    read = _READERS[_KINDS[rule.name]](value, job.units)
    edges = [read] if isinstance(read, float) else []
    if isinstance(read, Section):
        edges = [read.width_mm, read.thinnest_mm]
        if read.shape not in rule.shapes:
            limit = f"{public_name(rule.name)} is made of {' or '.join(rule.shapes)}"
            raise UnitError("wrong-value", limit, f"Name a {rule.shapes[0]}")
    elif not edges and not is_sold(rule.sold, read):
        kind = next(one for one in rule.sold.split(", ") if not is_sold(one, read))
        limit = f"no {kind} is sold in that thread"
        remedy = f'See those with: pommel list fasteners --like "{kind}"'
        raise UnitError("unknown-name", limit, remedy)
    if not all(LEAST_MM <= edge <= MOST_MM for edge in edges):
        least, most = job.numbers.length(LEAST_MM, 3), job.numbers.length(MOST_MM)
        raise UnitError("out-of-range", f"a size between {least} and {most}", "Correct it")
    return read


def _thread(value: Any, unit: str | None) -> Any:
    """A thread by its name; raises UnitError when there is none."""
    if not isinstance(value, str):
        raise UnitError("wrong-value", "a thread is named in quotes", 'Write its name, as in "M6"')
    try:
        return thread(value)
    except UnknownSize as error:
        nearest = f"Nearest: {error.nearest}; see" if error.nearest else "See"
        remedy = f"{nearest} them all with: pommel list threads"
        raise UnitError("unknown-name", "no thread of that name in the tables", remedy) from None


_READERS: dict[str, Callable[[Any, str | None], Any]] = {
    "float": length_mm,
    "Section": section,
    "Section | None": section,
    "str": _thread,
}
