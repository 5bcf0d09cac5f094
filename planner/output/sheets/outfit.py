"""What a route is made with as a table and as lines: tools, gauges, consumables, what is missing, and
that as findings; and how an aid's size is said.

Imported by output.sheets.route, output.answers and the book.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from planner.making.outfit import Item
from planner.making.route import Route
from planner.words.findings import Finding, finding
from planner.words.register import Severity
from planner.words.short import few
from planner.words.tables import Table, columns

HEADS = {
    "tool": "Tools",
    "gauge": "Gauges",
    "consumable": "Consumables, to be looked for",
}
"""How the kinds are headed."""

FIGURE = re.compile(
    r"(?<![\w./-])\d+(?:-\d+)?(?:[./]\d+)?(?![\w./-])|(?<=Ø)\d+(?:-\d+)?(?:[./]\d+)?"
)
"""A size as it is said, without its unit; of a thread's name none."""


FITTED = (
    "A bar has one end: where pieces come off a bar through the spindle each is made as far as its"
    " parting off, and then the next piece's end is faced, and centred where a centre holds it. Where"
    " the chuck is not opened since, or holds as before, the set-up follows at"
    " once on the same piece. What is turned to a bore as it came out, bored in its own housing or"
    " spotted through another part fits that one alone: stamp both with one number where nothing bears,"
    " before the next pair is begun."
)
"""Said where there are several of each (common practice: what is fitted is numbered)."""


def size_said(size: str, name: str, stock: str, made: str) -> str:
    """An aid's size, but for what of it its name, its stock or how its hole is made says already."""
    there = {*FIGURE.findall(name), *FIGURE.findall(stock)}
    kept = [
        one
        for one in size.split(", ")
        if not ((first := FIGURE.match(one)) and first[0] in there)
        and f"hole of {one} " not in made
    ]
    return ", ".join(kept)


def outfit_table(items: Sequence[Item]) -> Table:
    """A thing a row: whether it is there, and what does in its place."""
    return Table(
        "outfit",
        "Tools, gauges and consumables",
        columns(
            ("kind", "kind"),
            ("name", "what"),
            ("setups", "set-ups"),
            ("has", "there"),
            ("instead", "else"),
        ),
        tuple(
            (one.kind, one.name, " ".join(map(str, one.setups)), one.has, one.instead)
            for one in items
        ),
    )


def outfit_lines(items: Sequence[Item]) -> Iterator[str]:
    """The same in lines, what is missing first; what else is missing is told above."""
    for one in items:
        if one.has == "no" and one.kind != "other":
            where = f"set-up{'s' if len(one.setups) > 1 else ''} {in_rows(one.setups)}"
            yield f"  MISSING: {one.name} ({where}): {one.instead or 'borrow one'}"
    for kind, head in HEADS.items():
        names = [
            one.name + (" (made first)" if one.has == "made first" else "")
            for one in items
            if one.kind == kind and one.has != "no"
        ]
        if names:
            yield f"  {head}: {'; '.join(names)}."


def in_rows(numbers: Iterable[int]) -> str:
    """Numbers with those in a row together: "3 to 5, 9"."""
    runs: list[list[int]] = []
    for one in sorted(numbers):
        if runs and one == runs[-1][1] + 1:
            runs[-1][1] = one
        else:
            runs.append([one, one])
    return ", ".join(f"{a}" if a == b else f"{a} to {b}" for a, b in runs)


def lacked(route: Route, items: Sequence[Item]) -> Iterator[tuple[str, str, str, Severity]]:
    """What the shop has not for a step, each once: for which parts, what, and the cheapest way out;
    machines and means of holding as warnings, what is bought for it as notes."""
    for one in route.missing:
        yield few(one.part.split(", "), signs=40), one.what, one.remedy, "warning"
    said = tuple(one.what.removeprefix("a ") for one in route.missing)
    for item in items:
        if item.has == "no" and item.kind != "other" and not item.name.startswith(said):
            remedy = item.instead or "borrow one"
            parts = dict.fromkeys(route.setups[n - 1].on.part.name for n in item.setups)
            yield few(list(parts), signs=40), item.name, remedy[:1].upper() + remedy[1:], "note"


def missing_findings(route: Route, items: Sequence[Item], file: str) -> tuple[Finding, ...]:
    """A finding of each thing that the shop has not for a step."""
    return tuple(
        finding(
            "not-in-the-shop",
            file,
            "shop",
            what,
            "the shop has none",
            remedy,
            severity=severity,
            subject=parts,
        )
        for parts, what, remedy, severity in lacked(route, items)
    )
