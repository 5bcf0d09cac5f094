"""The words of a sheet: what stands on a leader, in a dimension and in the data fields.

One rule a feature type. What a dimension already says is not said again in words.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import singledispatch
from typing import Any

from parts import features as f
from parts.standard.drills import Drill, drill_of
from parts.standard.fits import Limits
from parts.standard.series import INCH, METRIC
from parts.standard.threads import thread
from planner.drawing.stations import drilled_mm
from planner.making.callouts import callout
from planner.words.numbers import Numbers


class Saying:
    """What a call-out has to say: a feature's sizes that no dimension line gives.

    noted: lengths written in it, by what they are of ("length", "depth", "width"); sizes: the others
    by name, with their limits where they have any; entry: what a blind hole's depth is measured from.
    """

    def __init__(
        self, numbers: Numbers, noted: set[str], sizes: Mapping[str, Limits | None], entry: str = ""
    ) -> None:
        self.numbers, self.noted, self.sizes, self.entry = numbers, noted, sizes, entry

    def diameter(self, sign: str = "Ø") -> list[str]:
        """The diameter with its limits, if it is this call-out's."""
        size = self.sizes.get("diameter")
        return [sign + in_line(self.numbers, size)] if size else []


def in_line(numbers: Numbers, size: Limits) -> str:
    """A size and its limits in one line: "8 H7 (+0.015/0)"."""
    text, upper, lower = numbers.dimensioned(size)
    return f"{text} ({upper}/{lower})" if upper or lower else text


def _length(numbers: Numbers, mm: float) -> str:
    return numbers.general(mm)


@singledispatch
def words(feature: Any, say: Saying) -> list[str]:
    """The lines of a feature's call-out; none where there is nothing to say."""
    raise TypeError(f"no wording for {type(feature).__name__}")


@words.register
def _(feature: f.FacedLength, say: Saying) -> list[str]:
    return []


@words.register
def _(feature: f.TurnedDiameter, say: Saying) -> list[str]:
    return say.diameter()


@words.register
def _(feature: f.FacedShoulder, say: Saying) -> list[str]:
    if "length" not in say.noted:
        return []
    off = _length(say.numbers, feature.end_mm - feature.start_mm)
    return [f"{off} to face off last"]


@words.register
def _(feature: f.Thread, say: Saying) -> list[str]:
    text = say.numbers.thread_made(feature.thread, False)
    if "length" in say.noted:
        text += f" × {_length(say.numbers, feature.end_mm - feature.start_mm)}"
    return [*say.diameter(), text]


@words.register
def _(feature: f.Knurl, say: Saying) -> list[str]:
    text = f"straight knurl {say.numbers.plain.knurl(feature.pitch_mm)}"
    if "length" in say.noted:
        text += f" × {_length(say.numbers, feature.end_mm - feature.start_mm)}"
    return [*say.diameter(), text]


@words.register
def _(feature: f.EngravedScale, say: Saying) -> list[str]:
    return [f"{feature.divisions} divisions,", "as unrolled"]


@words.register
def _(feature: f.IndexMark, say: Saying) -> list[str]:
    width = _length(say.numbers, feature.line_width_mm)
    lines = [f"line all along, {width} wide"]
    if "angle" in say.sizes:
        lines.append(f"{say.numbers.drawn_angle(feature.angle_deg)} round from z")
    return lines


@words.register
def _(feature: f.TurnedBall, say: Saying) -> list[str]:
    return say.diameter("SØ")


def _deep(feature: f.Hole, say: Saying) -> str:
    if feature.through:
        return "through" if not feature.opens_into else f"into the {feature.opens_into}"
    text = f"{_length(say.numbers, feature.depth_mm)} deep"
    return f"{text} from the {say.entry}" if say.entry else text


@words.register
def _(feature: f.DrilledHole, say: Saying) -> list[str]:
    drill = drill_of(feature.diameter.nominal_mm, inch=True) if say.numbers.inch else None
    named = f"drill {say.numbers.plain.drill(drill)}, " if drill else ""
    return [*say.diameter(), named + _deep(feature, say)]


@words.register(f.ReamedHole)
@words.register(f.Bore)
@words.register(f.Counterbore)
def _(feature: Any, say: Saying) -> list[str]:
    how = {"ReamedHole": "reamed ", "Bore": "bored ", "Counterbore": "counterbored "}
    return [*say.diameter(), how.get(type(feature).__name__, "") + _deep(feature, say)]


@words.register
def _(feature: f.TappedHole, say: Saying) -> list[str]:
    size = thread(feature.thread)
    drill = say.numbers.plain.drill(Drill(size.tap_drill_name, size.tap_drill_mm))
    name, deep = say.numbers.thread_made(feature.thread, True), _deep(feature, say)
    long = say.entry and name != feature.thread  # with its class and where the depth begins
    lines = [name, deep] if long else [f"{name} {deep}"]
    if feature.through:
        return [*lines, f"tap drill {drill}"]
    return [*lines, f"drill {drill}, {say.numbers.drilled(drilled_mm(feature))} deep"]


@words.register(f.MilledSlot)
@words.register(f.Slit)
def _(feature: f.MilledSlot | f.Slit, say: Saying) -> list[str]:
    what = "slit" if isinstance(feature, f.Slit) else "slot"
    lines = []
    if "width" in say.noted:
        lines.append(f"{what} {in_line(say.numbers, feature.width)} wide")
    if isinstance(feature, f.Slit) and feature.least_mm:
        lines.append(f"leaves at least {say.numbers.plain.caliper(feature.least_mm)}")
    return lines


@words.register
def _(feature: f.MilledFlat, say: Saying) -> list[str]:
    return []


@words.register
def _(feature: f.SawnNotch, say: Saying) -> list[str]:
    return [f"R{_length(say.numbers, feature.corner_radius_mm)}"]


@words.register
def _(feature: f.ScribedLine, say: Saying) -> list[str]:
    return [f"line {say.numbers.plain.scribed(max(feature.box.size()))} long"]


@words.register(f.GroundPoint)
def _(feature: f.Feature, say: Saying) -> list[str]:
    return callout(feature, say.numbers).split(", ")


SQUARE = 0.002
"""Faces of a part out of square or parallel over their length, where no frame stands: 0.2 to 100, as
ISO 2768-2 had it in class H (from memory)."""

ANGLE_DEG = 0.5
"""What an angle without limits of its own may be off: the usual of an inch drawing (common practice),
and what ISO 2768-1 m has for sides of 10 to 50 mm."""


def general_tolerances(numbers: Numbers, welded: bool = False) -> tuple[str, ...]:
    """The general tolerances as a sheet states them: by the standard, or written out in inches.

    welded: of a weldment, which has its own for what is left as welded. Inches have them by the number
    of decimals; none allows more than ISO 2768-m, which the parts are laid out for.
    """
    left = (numbers.welded_rule(),) if welded else ()
    if not numbers.inch:
        square = f"square and parallel: {numbers.plain.size(100 * SQUARE)} on 100"
        return (f"{numbers.general_rule()[0]}, where no limits stand", *left, square)
    *coarse, small, large, fractions = numbers.general_rule()
    square = f"square: {SQUARE:.3f} per inch"
    if welded:  # its own line takes the room of the last
        coarse.append(square)
    return (
        ", ".join(coarse),
        f"{small}, {large}",
        f"{fractions}, angles ±{numbers.drawn_angle(ANGLE_DEG)}",
        *(left or (square,)),
    )


EDGE_MM = 0.2
"""What may be off at an outside edge, or left in an inside one (ISO 13715's series, from memory)."""

GENERAL_TEXTURE_UM = 3.2
"""Ra of cut surfaces that carry no sign (common practice: turned or milled)."""


def edge_sizes(numbers: Numbers) -> tuple[str, str]:
    """What edges that are not drawn may be: outside and inside, signed."""
    most = numbers.plain.size((INCH if numbers.inch else METRIC).nominal(EDGE_MM))
    return f"-{most}", f"+{most}"
