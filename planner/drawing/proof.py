"""The proof of a finished sheet: complete, and nothing twice, from what is printed on it alone.

Every station of the solid must be joined to every other in each direction by what the sheet prints and
by relations with a reason; what is printed must never join what is joined already (D. Dori,
"Dimensioning analysis", Communications of the ACM 35 (10), 1992). Each diameter, thread and other size
is printed once, and each number is the solid's own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from parts import features as f
from parts.blank import Stock
from planner.drawing.marks import SAYING, Said, read
from planner.drawing.model import MM_PER_INCH, Dimension, Item, Leader, Sheet, printed
from planner.drawing.proof_signs import letter_faults, scale_faults, sign_faults, signs_due
from planner.drawing.relations import Relation, relations
from planner.drawing.scheme import by_pieces, levels, more_sizes, nodes, position
from planner.drawing.stations import Claims, Surface, claims
from planner.drawing.subjects import Subject
from planner.words.numbers import Numbers

LOST_MM = 1.3e-3
"""What an inch size in print may be off: half of 0.0001 in, of one that no decimals say exactly."""

THREE = 1e-3
"""Of an inch: the last of three decimals, whose limits are about what they say (inch_limits)."""

ON_SOLID_MM = 1e-3
"""What is implied must hold on the solid within this, 1 um."""


def faults(subject: Subject, sheet: Sheet) -> list[str]:
    """What is missing on a sheet, said twice or said wrongly; empty for a sheet that is proven."""
    found = claims(subject)
    unsaid = _implied(subject, found)
    said = [(item, one) for item in sheet.items for one in _of(item)]
    wrong = list(_relations(subject, unsaid))
    wrong += _tree(found, unsaid, [one for _, one in said], levels(subject, found)[0])
    wrong += _sizes(subject, found, [one for _, one in said])
    inch = Numbers(sheet.fields.unit == "in")
    for item, one in said:
        wrong += _numbers(subject, item, one, inch)
        wrong += sign_faults(subject, item, one, inch)
    wrong += letter_faults(sheet)
    return wrong


def implied(subject: Subject) -> list[Relation]:
    """Every relation that a sheet may leave unsaid, with its reason."""
    return _implied(subject, claims(subject))


def _implied(subject: Subject, found: Claims) -> list[Relation]:
    return [*relations(subject, found), *by_pieces(subject, found)]


def _of(item: Item) -> tuple[Said, ...]:
    return read(item.feature) if isinstance(item, SAYING) else ()


def _relations(subject: Subject, unsaid: list[Relation]) -> Iterator[str]:
    for one in unsaid:
        there = [position(subject, ref, one.direction) for ref in (one.one, one.other)]
        if abs(there[1] - there[0] - one.apart_mm) > ON_SOLID_MM:
            yield f"{one.one} and {one.other} do not agree on the solid: {one.reason}"


def _tree(
    found: Claims, unsaid: list[Relation], said: list[Said], level: list[Relation]
) -> Iterator[str]:
    """A spanning tree in each direction, over the stations that the relations leave."""
    group: dict[tuple[int, str], int] = {}
    members: list[list[tuple[int, str]]] = []

    def number(node: tuple[int, str]) -> int:
        if node not in group:
            group[node] = len(members)
            members.append([node])
        return group[node]

    def join(one: tuple[int, str], other: tuple[int, str]) -> bool:
        a, b = number(one), number(other)
        if a == b:
            return False
        for node in members[b]:
            group[node] = a
        members[a] += members[b]
        members[b] = []
        return True

    stations = [(i, one.name) for i, one in nodes(found)]
    for node in stations:
        number(node)
    for relation in unsaid:
        if relation not in level:
            join((relation.direction, relation.one), (relation.direction, relation.other))
    for one in said:
        if one.what in ("x", "y", "z"):
            i = "xyz".index(one.what)
            if not join((i, one.one), (i, one.other)):
                yield f"{one.feature}: {one.one} to {one.other} along {one.what} is said twice"
    at = {(i, one.name): one.place.at[i] for i, one in nodes(found) if one.form == "plane"}
    for relation in level:
        ends = [(relation.direction, ref) for ref in (relation.one, relation.other)]
        if number(ends[0]) != number(ends[1]):
            own = [{round(at[n], 4) for n in members[number(end)] if n in at} for end in ends]
            if min(map(len, own)) > 1:  # both go on past the level: by how much is to be said
                yield f"how far {relation.one} and {relation.other} go past each other is not said"
            join(*ends)
    for i in range(3):
        apart = {number(node): node[1] for node in stations if node[0] == i}
        if len(apart) > 1:
            yield f"along {'xyz'[i]} nothing joins {', '.join(apart.values())}"


def _sizes(subject: Subject, found: Claims, said: list[Said]) -> Iterator[str]:
    count = Counter((one.feature, one.what) for one in said if one.what not in ("x", "y", "z"))
    due: Counter[tuple[str, str]] = Counter()
    for group in _round_faces(subject, found):
        keys = [key for one in group for key in _keys(subject, one)]
        plain = [key for key in dict.fromkeys(keys) if key[1] == "diameter"]
        given = [key for key in plain if count[key]]
        if plain and not given:
            yield f"the diameter of {group[0].carrier} is not said"
        if len(given) > 1:
            yield f"the diameter of {group[0].carrier} is said by {given}"
        due.update(dict.fromkeys(given, 1))
    due += signs_due(subject)
    for feature in subject.features:
        due.update((feature.name, what) for what in more_sizes(feature))
    for key, times in (count - due).items():
        yield f"{key[0]}: {key[1]} is said {times} times too often"
    for key in due - count:
        yield f"{key[0]}: {key[1]} is not said"


def _round_faces(subject: Subject, found: Claims) -> list[list[Surface]]:
    """The round surfaces of this sheet that lie in one face; of one surface in two faces, once."""
    groups: list[list[Surface]] = []
    own = {feature.name for feature in subject.features} | {"blank"}
    for every in found.groups():
        group = [
            one for one in every if one.form in ("cylinder", "sphere") and one.element == "axis"
        ]
        if not group or any(one.carrier not in own for one in group):
            continue
        same = next((g for g in groups if any(one in g for one in group)), None)
        if same is None:
            groups.append(group)
        else:
            same += [one for one in group if one not in same]
    return groups


def _keys(subject: Subject, one: Surface) -> tuple[tuple[str, str], ...]:
    """What may give the diameter of a round surface."""
    thing = subject.carriers[one.carrier][0]
    if isinstance(thing, Stock):
        return (("blank", "diameter"),)
    if isinstance(thing, f.Thread | f.TappedHole):
        return ((one.carrier, "thread"),)
    return ((one.carrier, "diameter"),)


def _numbers(subject: Subject, item: Item, one: Said, numbers: Numbers) -> Iterator[str]:
    """Whether what is printed is the solid's own size."""
    if isinstance(item, Dimension):
        number, last = printed(item.text)
        if one.what == "angle":
            angle: float = subject.carriers[one.feature][0].angle_deg  # type: ignore[attr-defined]
            if min((number - angle) % 90, (angle - number) % 90) > last / 2:
                yield f"{one.feature}: {item.text} is printed for an angle of {angle:g}"
            return
        unit = MM_PER_INCH if item.inch else 1.0
        if isinstance(subject.carriers[one.feature][0], f.EngravedScale):
            yield from scale_faults(subject, one, number * unit, last * unit)
            return
        true = _true_mm(subject, one)
        lost = last / 2 + ON_SOLID_MM
        if item.inch:  # three decimals stand for what is about them; others for themselves
            lost = LOST_MM if abs(last - THREE) > THREE / 2 else THREE / 2 * unit + ON_SOLID_MM
        if abs(number * unit - true) > lost:
            yield f"{one.feature}: {item.text} is printed where the solid has {true:.4f}"
    elif isinstance(item, Leader) and one.what in ("x", "y", "z"):
        size = getattr(subject.carriers[one.feature][0], "width", f.general(_true_mm(subject, one)))
        text = numbers.dimensioned(size)[0]
        if not any(_has(words, text) for words in item.words):
            yield f"{one.feature}: {text} is not in its words"


def _has(words: str, text: str) -> bool:
    """Whether a number stands in words by itself."""
    at = words.find(text)
    while at >= 0:
        before, behind = words[:at][-1:], words[at + len(text) :][:1]
        if (
            not (before.isdigit() or before in (".", "-", "/") or behind.isdigit())
            and behind != "."
        ):
            return True
        at = words.find(text, at + 1)
    return False


def _true_mm(subject: Subject, one: Said) -> float:
    if one.what in ("x", "y", "z"):
        i = "xyz".index(one.what)
        return abs(position(subject, one.other, i) - position(subject, one.one, i))
    thing = subject.carriers[one.feature][0]
    if isinstance(thing, Stock):
        return thing.section.width_mm
    size: float = thing.diameter.nominal_mm  # type: ignore[attr-defined]
    return size
