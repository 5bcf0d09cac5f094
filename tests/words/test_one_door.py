"""Numbers go out through one door: no room but words/ formats a unit by itself."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from jobs import ROOT
from sources import nodes

PLANNER = ROOT / "planner"

FORMATTERS = {"show_length", "trimmed", "unit_name", "fraction_text"}
"""The functions of words.units that put a number in words: for words.numbers alone."""

UNITS = (
    "mm|cm|in|um|mm2|cm2|in2|mm3|cm3|in3|cu in|N|kN|lbf|Nm|lbf in|lbf ft|MPa|GPa|psi|ksi|kg|lb|oz|kW|hp"
    "|m/min|ft/min|sfm|rev/min|rpm|mm/rev|in/rev|mm/min|min|tpi|deg|°"
)
PREPOSITION = r"in (?:the|a|an|one|all|order|mm|s|this|its|any)\b|in $"
"""Where "in" behind a number is the preposition: the passes in the cut, 1:1 in mm, {this} in {that}."""

BEGINS_WITH_UNIT = re.compile(rf" ?(?!{PREPOSITION})(?:{UNITS})(?![\w/])")
LITERAL = re.compile(rf"(?<![\w.])\d[\d.]* ?(?!{PREPOSITION})(?:{UNITS})(?![\w/])")
PLACEHOLDER = re.compile(
    rf"(?:\{{[^{{}}]*\}}|%[-+.\d]*[dfgs]) ?(?!{PREPOSITION})(?:{UNITS})(?![\w/])"
)

PLAIN = {
    room: "plain numbers in and out, in mm and deg by contract; its errors speak to who calls it"
    for room in ("nest", "dial", "dxf", "geometry", "solids")
}
"""Rooms that know of no job, and so of no language of numbers."""

EXCEPTIONS = PLAIN | {
    "sizing/rules": "sizes in braces, which parts.standard.series says in the job's own words",
    "drawing/svg.py": "the size of the page, in the unit SVG gives it in",
    "book/write.py": "sizes on the page, in the unit typst gives them in",
    "drawing/pdf.py": "the size of the page, in the unit typst gives it in",
    "output/book/pictures.py": "the size of the picture, in the unit SVG gives it in",
    "output/pictures/svg.py": "the size of the picture, in the unit SVG gives it in",
    "job/slips.py": "the spelling of a job file: what is to be written in place of a slip",
    "stock/jobcopy.py": "the spelling of a job file: it must read back exactly",
    "turning/passes.py": "as the plain rooms: a planner of passes on numbers in mm",
    "turning/roughing.py": "as the plain rooms: a planner of roughing on numbers in mm",
    "checking/budget.py": "as the plain rooms: an error budget of numbers in mm",
}
"""Where a number may carry its unit by itself, and why; one that is no longer needed must go."""

SPEAKING = ("output", "making", "stock", "turning", "checking")
"""Rooms whose words the user reads: there a size written out has a unit of one language only."""


def outside_words() -> list[Path]:
    return [p for p in sorted(PLANNER.rglob("*.py")) if p.parent != PLANNER / "words"]


def name_of(path: Path) -> str:
    return path.relative_to(PLANNER).as_posix()


def excepted(path: Path, exceptions: dict[str, str]) -> str | None:
    name = name_of(path)
    return next((key for key in exceptions if name == key or name.startswith(f"{key}/")), None)


def names_a_unit(node: ast.AST) -> bool:
    """Whether an expression names a unit: ``numbers.unit``, ``mass_unit``, ``unit_name(x)``."""
    if isinstance(node, ast.Call):
        return isinstance(node.func, ast.Name) and node.func.id == "unit_name"
    name = node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
    return name == "unit" or name.endswith("_unit")


def text_of(node: ast.AST) -> str | None:
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def units_written(found: Iterable[ast.AST]) -> Iterator[tuple[int, str]]:
    """Where a number is given its unit by hand: line and the text that follows the number."""
    for node in found:
        if isinstance(node, ast.JoinedStr):
            parts = node.values
            for number, after, *more in (parts[i : i + 3] for i in range(len(parts) - 1)):
                if not isinstance(number, ast.FormattedValue):
                    continue
                text = text_of(after)
                if text is not None and BEGINS_WITH_UNIT.match(text):
                    yield node.lineno, text
                unit = after if text is None else more[0] if text == " " and more else None
                if isinstance(unit, ast.FormattedValue) and names_a_unit(unit.value):
                    yield node.lineno, ast.unparse(unit.value)
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
            last = node.right.values[0] if isinstance(node.right, ast.JoinedStr) else node.right
            text = text_of(last)
            if text is not None and BEGINS_WITH_UNIT.match(text):
                yield node.lineno, text
        elif (text := text_of(node)) and (found := PLACEHOLDER.search(text)):
            yield node.lineno, found.group()


def docstrings(path: Path) -> set[int]:
    return {id(node.value) for node in nodes(path) if isinstance(node, ast.Expr)}


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ('f"{x:.2f} mm"', True),
        ('f"{x}in"', True),
        ('f"{x:.0f} N, {y}"', True),
        ('f"{x} Nm loads the screw"', True),
        ('f"{x} rev/min"', True),
        ('f"{a} {n.unit}"', True),
        ('f"{a}{n.mass_unit}"', True),
        ('f"{a} {unit_name(inch)} off"', True),
        ('f"{x} in long"', True),
        ('say(x) + " kg"', True),
        ('say(x) + f" deg of {y}"', True),
        ('"{:.1f} mm".format(x)', True),
        ('"%.1f mm" % x', True),
        ('f"{x} in the pass"', False),
        ('f"{x} in {y}"', False),
        ('f"{x} pieces, {title} ({n.unit})"', False),
        ('f"{x} minutes"', False),
        ('f"{x} inside, 1:1 in mm"', False),
        ('f"{n.size(x)} thick"', False),
    ],
)
def test_the_walk_finds_a_unit_behind_a_number_and_nothing_else(code: str, found: bool) -> None:
    assert bool(list(units_written(ast.walk(ast.parse(code))))) is found


def test_no_room_but_words_writes_a_unit_behind_a_number() -> None:
    written, needed = [], set()
    for path in outside_words():
        hits = list(units_written(nodes(path)))
        key = excepted(path, EXCEPTIONS)
        if key is None:
            written += [f"{name_of(path)}:{line}: {text!r}" for line, text in hits]
        elif hits:
            needed.add(key)
    assert written == [], "\n".join(written)
    assert needed == set(EXCEPTIONS)


def test_only_words_has_the_formatters_of_units() -> None:
    importing = set()
    for path in outside_words():
        for node in nodes(path):
            names = {alias.name for alias in getattr(node, "names", []) if hasattr(alias, "name")}
            from_words = isinstance(node, ast.ImportFrom) and node.module == "planner.words.units"
            used = isinstance(node, ast.Attribute) and node.attr in FORMATTERS - {"trimmed"}
            if (from_words and names & FORMATTERS) or used:
                importing.add(name_of(path))
    assert importing == set()


def test_words_the_user_reads_have_no_size_of_one_unit_written_out() -> None:
    found = []
    for room in SPEAKING:
        for path in sorted((PLANNER / room).rglob("*.py")):
            documents = docstrings(path)
            found += [
                f"{name_of(path)}:{node.lineno}: {match.group()!r}"
                for node in nodes(path)
                if id(node) not in documents
                and (text := text_of(node))
                and (match := LITERAL.search(text))
            ]
    assert found == []


def test_a_tolerance_to_both_sides_has_its_own_sign() -> None:
    # ISO 129-1, ASME Y14.5: ±, in a book whose drawings have it no second way beside it
    written = [
        f"{name_of(path)}:{node.lineno}"
        for path in sorted(PLANNER.rglob("*.py"))
        for node in nodes(path)
        if (text := text_of(node)) and " +-" in text and id(node) not in docstrings(path)
    ]
    assert written == []
