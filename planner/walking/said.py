"""Whether the sizes in a step's sentence are those of its data. Imported by planner.walking.walk."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from parts import features as f
from parts.standard.sections import MM_PER_INCH
from parts.standard.threads import thread
from planner.walking.faults import Faults
from planner.walking.records import Record, rows

SIZE = r"(\d+-\d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"
"""A number as it is written: 12, 3.82, 3/64, 1-27/32."""

ROUND = re.compile(rf"S?[ØR]\s?{SIZE}")
"""A diameter or radius in a sentence."""

DRILLED = re.compile(
    rf"\b(drill|ream|bore|turn|saw|face|part)\b[^.;\[]*?(?<![\d/.-]){SIZE}\s?(mm|in)\b"
)
"""A size with its unit behind a kind of work."""

ROUNDED_MM = 0.006
"""Sentences are rounded to hundredths, inch ones to thousandths of an inch (0.0005 in is 0.013 mm)."""


BORE = re.compile(r"\bin line with the bore\b")
"""What is measured from a bore."""

RULED, RULED_MM, SAWN_IN_MM = ("saw", "part"), 0.5, MM_PER_INCH / 16
"""What is sawn or parted off is said as a rule has it, rounded up to half a millimetre or a 64th; a
saw's stop in inches to a 16th."""


FRACTION_MM = 0.2
"""A size that is said in 64ths of an inch is rounded by up to half of one."""


def _value(written: str) -> float:
    """What a written number is: "1-27/32" is 1.84375."""
    whole, _, part = written.rpartition("-")
    over, _, under = part.partition("/")
    return float(whole or 0) + (float(over) / float(under) if under else float(over))


def sizes_said(
    operation: Record,
    feature: f.Feature | None,
    inch: bool,
    faults: Faults,
    more: tuple[float, ...] = (),
) -> None:
    """Each size in the operation's sentence stands in its data, or is one of ``more``, mm."""
    sentence = str(operation.get("text") or "")
    scale, slack = (MM_PER_INCH, 0.014) if inch else (1.0, ROUNDED_MM)
    rounds = (("", one, "") for one in ROUND.findall(sentence))
    written = [*rounds, *DRILLED.findall(sentence)]
    if not written:
        return
    cut = set(_numbers(operation.get("cut")))
    told = [operation.get(key) for key in ("tool", "measure", "puts_on")]
    known = cut | set(_numbers(told))
    known |= set(_numbers(operation.get("allowance_mm")))
    known |= _of_feature(feature) | set(more)
    for kind, found, unit in written:
        size = _value(found) * ({"mm": 1.0, "in": MM_PER_INCH}.get(unit, scale))
        near = FRACTION_MM if "/" in found else slack
        over = SAWN_IN_MM if inch and kind == "saw" else RULED_MM
        if kind in RULED and any(0 <= size - one + 1e-6 < over for one in _and_between(cut)):
            continue
        if not _stands(size, known, near):
            faults.refuse(
                "route-words",
                f'"{sentence}"',
                f"{found} stands nowhere in the step's data",
                "Say the size that is worked to",
            )
            return


def lacking_said(hold: Record, holding: str, faults: Faults) -> None:
    """What serves instead of a chuck or a steady that the shop has not stands in the sentence."""
    for means in (hold, hold.get("steady") or {}):
        instead = str(means.get("instead") or "")
        if means.get("owned") is False and instead.lower() not in holding.lower():
            faults.refuse(
                "route-words",
                f'"{holding}"',
                f"the shop has none; {instead} is not said",
                "Say what serves instead where the work is held",
            )


def held_said(machine: str, hold: Record, holding: str, faults: Faults) -> None:
    """What goes between jaws and work, and a vice that stands on the lathe, stand in the sentence."""
    benched = hold.get("by") == "bench vice"  # its soft jaws stay in it
    grips = () if benched else rows(hold, "grips")
    wanted = {str(grip["packing"]) for grip in grips if grip.get("packing")}
    if "strap over" in holding and all(grip.get("other") for grip in grips):
        faults.refuse(
            "route-words",
            f'"{holding}"',
            "what the strap presses on is not in the data",
            "Say the round, from where to where, and what goes between",
        )
    if machine == "milling slide" and hold.get("by") == "machine vice":
        wanted.add(machine)
    for word in sorted(wanted):
        if word not in holding:
            faults.refuse(
                "route-words",
                f'"{holding}"',
                f"{word} is not said",
                "Say it where the work is held",
            )


def there_said(operation: Record, bored: bool, faults: Faults) -> None:
    """Nothing is measured in line with a bore that is not there yet; bored: whether one is."""
    for measure in rows(operation, "measure"):
        if BORE.search(str(measure.get("what") or "")) and not bored:
            faults.refuse(
                "route-words",
                f'"{measure.get("what")}"',
                "there is no bore in the work yet",
                "Name what is there",
            )


LEVEL = ("milling slide", "lathe")
"""Where the lathe's own spindle cuts: along the bed."""


TABLE, UP = r"\bthe table\b", r"\b(?:side|end|begins,) up\b|standing on|hanging free|\bjack\b"
"""What is said of a table that a tool comes down to."""


def machine_said(setup: Record, faults: Faults) -> None:
    """What is said of a machine is of one that has it: a table, a plate to bolt a counterweight to."""
    hold = setup.get("hold") or {}
    whats = " ".join(str(one.get("what")) for one in setup.get("align") or ())
    words = f"{setup.get('holding') or ''} {whats}"
    if setup.get("machine") == "milling slide" and re.search(TABLE, words):
        faults.refuse(
            "route-words",
            words.strip(),
            "a milling slide has no table",
            "Say it of the slide's face",
        )
    elif setup.get("machine") == "milling slide" and re.search(UP, words):
        faults.refuse(
            "route-words",
            words.strip(),
            "its face stands upright, and the tool comes along the bed",
            "Say what is toward the spindle",
        )
    if setup.get("machine") in LEVEL and re.search(r"seen from above|held down", whats):
        faults.refuse(
            "route-words",
            whats,
            "the face that is cut looks to the chuck, not up",
            "Say how it is seen from the spindle",
        )
    loose = (setup.get("machine"), hold.get("by")) == ("drill press", "machine vice")
    if loose and not re.search(r"against a stop|bolted", str(setup.get("caution"))):
        faults.refuse(
            "route-words",
            "a vice on the drill press",
            "a drill that catches spins it",
            "Say that it is bolted down, or against a stop",
        )
    clamped = not any(one.get("packing") for one in rows(hold, "grips"))
    up = f"its {hold.get('up')} side"
    if clamped and hold.get("up") and "a squared block" in words and up not in words:
        faults.refuse(
            "route-words",
            words.strip(),
            "which side looks to the spindle is not said",
            f"Say that {up} does",
        )
    if (hold.get("centre") or {}).get("kind") == "dead" and "greased" not in words:
        faults.refuse(
            "route-words",
            words.strip(),
            "the work turns on a dead centre: dry, it seizes",
            "Say that it is greased",
        )
    chucked = "chuck" in str(hold.get("by")) and not hold.get("instead")
    if chucked and re.search(r"bolt a counterweight opposite", str(setup.get("caution"))):
        faults.refuse(
            "route-words",
            "a counterweight bolted opposite",
            "a chuck has nowhere to bolt it",
            "Turn slowly, or hold it on the faceplate",
        )


FRACTION = r"(?<![\d/.])(?:\d+-)?\d+/\d+(?![\d/.])"
"""A size in fractions of an inch."""


WORKED = re.compile(r"^rough |\bto length\b")
"""What is worked to by dial or caliper: a roughed diameter, a length."""

BOTH = re.compile(rf"{SIZE} = (\d*\.\d+)")
"""A size twice: "57/64 = 0.891"."""

BOTH_IN = 0.00051
"""What rounding to thousandths of an inch leaves."""

CUT_STEPS_MM = {False: 0.005, True: MM_PER_INCH / 2000}
"""The finest that a cut is set in by a slide's dial: 0.005 mm, or half a thousandth of an inch."""


def doubly_said(operation: Record, faults: Faults) -> None:
    """A size that is said as a fraction and in decimals is one size."""
    for key in ("text", "place"):
        for fraction, decimals in BOTH.findall(str(operation.get(key) or "")):
            if abs(_value(fraction) - float(decimals)) > BOTH_IN:
                faults.refuse(
                    "route-words",
                    f"{fraction} = {decimals}",
                    f"{fraction} is {_value(fraction):.4f}",
                    "Say one size",
                )


def cuts_said(operation: Record, inch: bool, faults: Faults) -> None:
    """So many cuts of so much at most take off what there is, the last what is left, no cut nothing."""
    many, each = operation.get("cuts") or 0, operation.get("depth_mm") or 0.0
    if many < 2:
        return
    if not each:
        faults.refuse("route-record", "depth_mm", "is not said", "Say how deep each cut goes")
        return
    total, step = operation.get("stock_mm"), CUT_STEPS_MM[inch]
    said = f"{many:g} cuts of {faults.mm(each)}"
    if total is None:
        faults.refuse("route-record", "stock_mm", "is not said", "Say what is taken off in all")
        return
    cut = operation.get("cut") or {}
    before, after = float(cut.get("before_mm") or 0.0), float(cut.get("after_mm") or 0.0)
    gone = abs(before - after) / 2
    if cut.get("shape") in ("turn", "bore") and abs(gone - total) > ROUNDED_MM:
        faults.refuse(
            "route-words",
            f"{faults.mm(total)} taken off",
            f"from {faults.mm(before)} to {faults.mm(after)} it is {faults.mm(gone)}",
            "Say what is taken off in all",
        )
    if not (many - 1) * each < total <= many * each + 1e-6:
        faults.refuse(
            "route-words", said, f"{faults.mm(total)} is taken off", "Say as many as it takes"
        )
    if abs(each / step - round(each / step)) > 1e-3:
        faults.refuse("route-words", said, "no dial has it", "Say what a dial is set to")


def dials_said(operation: Record, inch: bool, faults: Faults) -> None:
    """A place that is set by dials is said in decimals too, and a size that is worked to by them."""
    text, place = str(operation.get("text") or ""), str(operation.get("place") or "")
    if not inch:
        return
    if "dials" in text and re.search(FRACTION, place) and not re.search(r"\d?\.\d{3}", place):
        faults.refuse(
            "route-words", f'"{place}"', "a dial reads thousandths", "Say the place in decimals"
        )
    first = re.search(rf"(?:Ø|\bto length ){SIZE}( = )?", text) if WORKED.search(text) else None
    if first and "/" in first[1] and not first[2]:
        faults.refuse(
            "route-words", f'"{text}"', "a dial reads thousandths", "Say the size in decimals too"
        )


GUIDED = "own hole"
"""What is spotted through another part is where that one has its hole."""

TOUCHED = ("edge finder", "cigarette paper", "indicator")
"""What finds a side of the work, so that a dial may count from it (common practice)."""


def found_said(operation: Record, setup: Record, feature: f.Feature | None, faults: Faults) -> None:
    """A place that a slide's dial sets is counted from a side of the work, and the step says how it is
    found: holes, slots and slits on a mill or a milling slide, slits on the cross slide, and what the
    spindle drills in a part mounted in another."""
    kind, machine = str(operation.get("kind")), str(setup.get("machine"))
    by = str((setup.get("hold") or {}).get("by"))
    cut = kind == "slit" or kind == "mill" and isinstance(feature, f.MilledSlot)
    dials = machine in ("mill", "milling slide") and (cut or kind == "spot")
    lathe = machine == "lathe" and (
        by == "cross slide"
        and kind == "slit"
        or by == "tool post"
        and kind == "spot"
        and bool(setup.get("with_parts"))
    )
    if not (dials or lathe):
        return
    text, place = str(operation.get("text") or ""), str(operation.get("place") or "")
    if place and not any(word in text for word in (*TOUCHED, GUIDED)):
        faults.refuse(
            "route-words",
            f'"{place}"',
            "what the dial counts from is not said",
            "Say what is touched on which side of the work, and over what",
        )


def place_said(
    operation: Record, feature: f.Feature | None, inch: bool, faults: Faults, metal: Any
) -> None:
    """What no shoulder marks says where along the work it lies: both its ends. Of a flat that stops
    within the work it is one end and how long it is; metal: the least and the most of the work, mm."""
    scale, slack = (MM_PER_INCH, 0.014) if inch else (1.0, ROUNDED_MM)
    if isinstance(feature, f.MilledFlat) and operation.get("place"):
        _long_said(str(operation["place"]), feature, (scale, slack), metal, faults)
    if not isinstance(feature, f.Knurl):
        return
    along = "xyz".index(feature.axis.along[1])
    ends = [feature.axis.at(one)[along] for one in (feature.start_mm, feature.end_mm)]
    place = f"{operation.get('text') or ''} {operation.get('place') or ''}".strip()
    said = [_value(found) * scale for found in re.findall(SIZE, place)]
    if not all(any(abs(abs(end) - one) <= slack for one in said) for end in ends):
        faults.refuse(
            "route-words",
            f'{feature.name}: "{place}"',
            f"it lies from {faults.mm(min(ends))} to {faults.mm(max(ends))}",
            "Say where along the work it begins and ends",
        )


def _long_said(
    place: str, feature: f.MilledFlat, unit: tuple[float, float], metal: Any, faults: Faults
) -> None:
    """A flat that has an edge within the work and stops short of its end says how long it is."""
    for location in feature.locations[1:]:
        i = "xyz".find(location.element[:1])
        low, high = feature.box.low[i], feature.box.high[i]
        if i < 0 or low < metal[0][i] + unit[1] or high > metal[1][i] - unit[1]:
            continue
        long = [_value(one) * unit[0] for one in re.findall(rf"{SIZE} long", place)]
        if not any(abs(one - (high - low)) <= unit[1] for one in long):
            faults.refuse(
                "route-words",
                f'{feature.name}: "{place}"',
                f"it ends within the work, {faults.mm(high - low)} on",
                "Say how long it is",
            )


def _stands(size: float, known: set[float], near: float) -> bool:
    """Whether a size is one of the data, or the difference of two of them."""
    return any(abs(size - one) <= near for one in _and_between(known))


def _and_between(known: set[float]) -> Iterator[float]:
    """Sizes, and the differences of two of them where they are not too many."""
    yield from known
    if len(known) < 60:
        yield from (abs(a - b) for a in known for b in known)


def _numbers(value: Any) -> Iterator[float]:
    if isinstance(value, bool) or value is None:
        return
    if isinstance(value, int | float):
        yield float(value)
        yield abs(float(value))
    elif isinstance(value, Mapping):
        for one in value.values():
            yield from _numbers(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _numbers(one)


def _of_feature(feature: f.Feature | None) -> set[float]:
    """The feature's own sizes."""
    found: set[float] = set()
    for key in ("diameter", "length", "width"):
        size = getattr(feature, key, None)
        if size is not None:
            found |= {size.nominal_mm, size.max_mm, size.min_mm}
    for key in ("depth_mm", "leg_mm", "length_mm", "nose_radius_mm"):
        if (value := getattr(feature, key, None)) is not None:
            found.add(float(value))
    if (name := getattr(feature, "thread", None)) is not None:
        size = thread(name)
        found |= {size.major_mm, size.pitch_mm, size.tap_drill_mm}
    if isinstance(feature, f.Turned):
        found.add(feature.end_mm - feature.start_mm)
    for location in getattr(feature, "locations", ()):
        found.add(location.size.nominal_mm)
    return found
