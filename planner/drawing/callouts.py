"""The call-outs of a sheet: which feature's words stand in which view, equal holes counted once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from msgspec.structs import replace

from parts import features as f
from parts.places import SAME_MM, surface
from parts.value import Value
from planner.drawing.choose import View, noted
from planner.drawing.marks import edge_mark, size_mark
from planner.drawing.outline import Outline
from planner.drawing.scaled import sentences
from planner.drawing.scheme import Edge, Scheme, Size
from planner.drawing.signs import Sign, signs, sized_by
from planner.drawing.subjects import Subject
from planner.drawing.wording import Saying, in_line, words
from planner.words.numbers import Numbers


class Call(Value, frozen=True):
    """Words about features in a view.

    features: whose, more than one where they are alike; marks: what the words say; held: signs that
    stand at its words; flags: the numbers of the notes that speak of its feature.
    """

    features: tuple[str, ...]
    view: View
    lines: tuple[str, ...]
    marks: tuple[str, ...]
    diameter: Size | None = None
    without: tuple[str, ...] = ()
    held: tuple[Sign, ...] = ()
    flags: tuple[str, ...] = ()

    @property
    def lone_diameter(self) -> Size | None:
        """Its diameter, if a dimension beside the view could say it."""
        return self.diameter if len(self.features) == 1 and not self.held else None

    @property
    def without_diameter(self) -> Call | None:
        """The same less its diameter; None where nothing is left."""
        assert self.diameter is not None
        gone = size_mark(self.diameter)
        left = tuple(mark for mark in self.marks if mark != gone)
        return (
            replace(self, lines=self.without, marks=left, diameter=None) if self.without else None
        )


def calls(
    scheme: Scheme, outlines: Mapping[View, Outline], where: Mapping[Any, View], numbers: Numbers
) -> list[Call]:
    """Every call-out of a sheet, in order."""
    found: list[Call] = []
    held = holders(scheme)
    for name in noted(scheme):
        call = _call(scheme, name, where[name], numbers, angled(scheme, outlines))
        if call is None:
            continue
        call = replace(call, held=held.get(name, ()))
        same = next((c for c in found if _alike(scheme, c, call)), None)
        if same is None:
            found.append(call)
        else:
            both = replace(
                same, features=same.features + call.features, marks=same.marks + call.marks
            )
            found[found.index(same)] = both
    for carrier, own in held.items():
        if not any(carrier in call.features for call in found):
            # of a piece, whose own sheet gives the size: here it stands in brackets
            radius = next(s.radius_mm for s in scheme.claims.of if s.name == f"{carrier}:axis")
            size = getattr(scheme.subject.carriers.get(carrier, (None,))[0], "diameter", None)
            words = f"(Ø{numbers.basic(size or f.general(2 * radius))})"
            found.append(Call((carrier,), where[own[0].mark], (words,), (), held=own))
    return [_counted(call) for call in found]


def holders(scheme: Scheme) -> dict[str, tuple[Sign, ...]]:
    """The signs of axes by whose call-out they stand at: datums and frames, and a hole's texture, or
    that of what has such a call-out."""
    subject = scheme.subject
    found: dict[str, tuple[Sign, ...]] = {}
    every = [sign for sign in signs(subject) if sign.round]
    for sign in every:
        if sign.what in ("datum", "true"):
            name = sized_by(subject, sign.of) or surface(sign.of)[0]
            found[name] = (*found.get(name, ()), sign)
    for sign in every:
        name = surface(sign.of)[0]
        if sign.what == "texture" and (
            name in found or isinstance(subject.carriers[name][0], f.Hole)
        ):
            found[name] = (*found.get(name, ()), sign)
    return found


def free_signs(scheme: Scheme) -> list[Sign]:
    """The signs that stand at no call-out."""
    held = {sign.mark for own in holders(scheme).values() for sign in own}
    return [sign for sign in signs(scheme.subject) if sign.mark not in held]


def _alike(scheme: Scheme, one: Call, other: Call) -> bool:
    carriers = scheme.subject.carriers
    things = [carriers.get(c.features[0], (None,))[0] for c in (one, other)]
    first, second = things
    alike = type(first) is type(second) and isinstance(first, f.Hole | f.SawnNotch)
    if isinstance(first, f.Hole) and isinstance(second, f.Hole):
        alike = alike and first.axis.along == second.axis.along
    plain = not one.held and not other.held
    return alike and plain and one.lines == other.lines and one.view == other.view


def _counted(call: Call) -> Call:
    count = len(call.features)
    if count == 1:
        return call
    return replace(call, lines=(f"{count}× {call.lines[0]}", *call.lines[1:]))


def angled(scheme: Scheme, outlines: Mapping[View, Outline]) -> dict[str, View]:
    """Index marks that a view along their axis shows end-on: their angle is drawn there."""
    found: dict[str, View] = {}
    for feature in scheme.subject.features:
        if isinstance(feature, f.IndexMark):
            along = "xyz".index(feature.axis.along[1])
            for view in outlines:
                if view.depth == along and view.at_mm is None:
                    found.setdefault(feature.name, view)
    return found


def _call(
    scheme: Scheme, name: str, view: View, numbers: Numbers, drawn: Mapping[str, View]
) -> Call | None:
    subject = scheme.subject
    sizes = [
        s for s in scheme.sizes if s.feature == name and not (s.what == "angle" and name in drawn)
    ]
    edges = [e for e in scheme.edges if e.feature == name and e.said == "noted"]
    thing: Any = next((x for x in (*subject.features, *subject.welds) if x.name == name), None)
    marks = tuple([*map(size_mark, sizes), *map(edge_mark, edges)])
    round_size = next((s for s in sizes if s.what == "diameter"), None)
    if thing is None:
        both = [s for s in sizes if s.size is not None]
        lines = tuple("Ø" + in_line(numbers, s.size) for s in both if s.size)
        if len(both) > 1:
            bore = f"bore {lines[1]}, as bought"
            return Call((name,), view, (lines[0], bore), marks)
        return Call((name,), view, (f"{lines[0]} as bought",), marks, round_size, ())
    known = {s.what: s.size for s in sizes}
    say = Saying(numbers, {_what(thing, e) for e in edges}, known, _entry(scheme, thing))
    lines = tuple(words(thing, say))
    less = {what: size for what, size in known.items() if what != "diameter"}
    without = tuple(words(thing, Saying(numbers, say.noted, less, say.entry)))
    if not lines:
        return None
    return Call((name,), view, lines, marks, round_size, without if round_size else ())


def _what(thing: Any, edge: Edge) -> str:
    if isinstance(thing, f.Hole):
        return "depth"
    return "width" if isinstance(thing, f.Removed) else "length"


def _entry(scheme: Scheme, thing: Any) -> str:
    """What a blind hole's depth is measured from where that is no face."""
    if not isinstance(thing, f.Hole) or thing.through:
        return ""
    for one in scheme.used:
        if one.one == f"{thing.name}:entry" and one.other.endswith(":axis") and not one.apart_mm:
            return f"{surface(one.other)[0].rpartition('/')[2]}'s axis"
    return ""


class Note(NamedTuple):
    """A sentence of a sheet, and the name of the feature that it speaks of; "" of the whole."""

    words: str
    of: str = ""


def notes(scheme: Scheme, numbers: Numbers) -> list[Note]:
    """What the sheet says in sentences: of the whole, and of features by name."""
    subject = scheme.subject
    found = [Note(words) for words in (subject.part.notes if subject.member is None else ())]
    edges = dict(_far_edges(subject, numbers))
    for feature in (*subject.features, *subject.welds):
        extra = feature.note
        if isinstance(feature, f.Weld) and (edge := edges.pop(frozenset(feature.members), "")):
            extra += f"{'; ' if extra else ''}{edge}"
        if feature.made_with:
            extra += f"{'; ' if extra else ''}made with the {feature.made_with.replace('-', ' ')}"
        if extra:
            found.append(Note(f"{feature.name}: {extra}.", feature.name))
        if isinstance(feature, f.EngravedScale):
            found += [Note(words, feature.name) for words in sentences(feature, numbers)]
    return found


def _far_edges(subject: Subject, numbers: Numbers) -> Iterator[tuple[frozenset[str], str]]:
    """Of two pieces that are flush at a datum, how far the first one's other edge lies past an axis.

    The views give it by two sheets alone, and whoever tacks it measures there: it stands at the note of
    a weld of both, for a line of its own may cost the sheet its scale.
    """
    members = {one.name for one in subject.joined.members} if subject.joined else set()
    level = [(letter, subject.place(subject.datum(letter))) for letter in subject.datums]
    for one in subject.agreements:
        piece, end = surface(one.one)
        if one.kind != "flush" or piece not in members or end[1:] not in ("-low", "-high"):
            continue
        i, other = "xyz".index(end[0]), {"low": "high", "high": "low"}[end[2:]]
        near, far = (subject.place(f"{piece}:{end[0]}-{e}").at[i] for e in (end[2:], other))
        fixed = [(x, p) for x, p in level if p.fixes(i)]
        seats = [x for x, p in fixed if p.kind == "plane" and abs(p.at[i] - near) < SAME_MM]
        axes = [(x, p.at[i]) for x, p in fixed if p.kind == "axis"]
        for seat, (axis, at) in zip(seats, axes, strict=False):
            by = numbers.basic(f.general(abs(far - at)))
            past = "past" if (far - at) * (far - near) > 0 else "short of"
            if abs(far - at) >= SAME_MM:
                both = frozenset((piece, surface(one.other)[0]))
                yield both, f"the {piece}'s edge away from {seat} lies {by} {past} {axis}"
