"""In an inch job every size is an inch size: a row of an inch table, a 64th, or a limit in thousandths.

The lister knows the tables, the fractions on a rule and what a drawing in inches writes behind a size,
and nothing of how the sizes came about. What follows from others by a sum is taken apart here by hand:
what is left must be an inch size again. It is tried by putting one allowance after the other back into
millimetres: each must be found.
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Iterator
from functools import cache
from math import pi, sqrt
from typing import Any

import msgspec
import pytest
from jobs import changed
from msgspec.structs import fields, replace

from parts import features as f
from parts.attachment import Attachment, attachment
from parts.part import Part, every_feature, members
from parts.sizes import Sizes
from parts.standard.drills import drills
from parts.standard.fasteners import ClearanceRow, screw_lengths_mm, set_screw
from parts.standard.fits import Limits
from parts.standard.sections import Section, standard_sections
from parts.standard.series import METRIC, Series
from parts.standard.table import load
from parts.standard.threads import thread, threads
from parts.standard.toolbox import reamers_mm, tool_bits_mm
from planner.job.reading import job_from
from planner.sizing.apply import request, size_up
from planner.sizing.bound import tried

MM = 25.4  # in an inch, exact since 1959
SAME = 1e-6
SEED, DRAWN = 20_261_130, 20

# ---- the jobs ----


@cache
def jobs() -> dict[str, Sizes]:
    """The example, one of a lathe measured in decimals, and some drawn by seed: their sizes by name."""
    decimals = {
        "lathe.spindle_over_seat": 0.9,
        "lathe.spindle_over_cross_slide": 2.8,
        "attachment.max_ball_diameter": 1.93,
        "attachment.clearance": 0.07,
        "tool_post.depth": 2.3,
    }
    found = {"example": _sized({}), "decimals": _sized(decimals)}
    chance = random.Random(SEED)
    while len(found) < DRAWN + 2:
        job = job_from(changed("inch-lathe", **_drawn(chance)), "job.toml")
        sizing, _ = tried(request(job, "job.toml"))
        if sizing is not None:
            found[f"drawn {len(found) - 1}"] = sizing.sizes
    return found


NAMES = ("example", "decimals", *(f"drawn {n}" for n in range(1, DRAWN + 1)))


def _sized(changes: dict[str, Any]) -> Sizes:
    return size_up(job_from(changed("inch-lathe", **changes), "job.toml"), "job.toml").sizes


def _drawn(chance: random.Random) -> dict[str, Any]:
    """Changes to the example that make another lathe of it, with no stock and tools of its own."""
    shank = chance.choice((3, 4, 5, 6, 8, 10)) / 8
    over = shank * chance.uniform(3.5, 5.0)
    inches = {
        "lathe.spindle_over_seat": shank * chance.uniform(1.0, 1.6),
        "lathe.spindle_over_cross_slide": over,
        "attachment.max_ball_diameter": over * chance.uniform(0.2, 0.65),
        "tool_post.largest_shank": shank,
    }
    return {
        **{name: round(value * 32) / 32 for name, value in inches.items()},
        "tool_post.depth": None,
        "tool_post.stands_out": chance.choice((None, "1/32", "1/8")),
        "attachment.screw_pitch": chance.choice(("20 tpi", "10 tpi", "16 tpi")),
        "attachment.dial_divisions": chance.choice((50, 100, 125)),
        "shop": {"dividing_head_ratio": 40},
    }


# ---- the lister ----


@cache
def rows() -> dict[str, tuple[float, ...]]:
    """The sizes of the inch tables, by kind."""
    clear = load("clearance_holes.csv", ClearanceRow, ("size", "fit"))
    shapes = ("round", "square", "flat", "tube")
    stock = {
        size for shape in shapes for one in standard_sections(shape, True) for size in _two(one)
    }
    return {
        "drill": (
            *(drill.diameter_mm for drill in drills(True)),
            *(row.hole_mm for row in clear if not row.size.startswith("M")),
        ),
        "reamer": reamers_mm(True),
        "thread": tuple(size.major_mm for size in threads("unified")),
        "stock": (*stock, *tool_bits_mm(True)),
    }


def _two(section: Section) -> tuple[float, ...]:
    return (section.width_mm, *((section.thickness_mm,) if section.thickness_mm else ()))


def is_row(kind: str, mm: float) -> bool:
    return any(abs(mm - row) < SAME for row in rows()[kind])


def is_whole(mm: float, step_in: float) -> bool:
    """Whether a length is a whole number of such parts of an inch."""
    step = MM * step_in
    return abs(mm - round(mm / step) * step) < SAME


def is_64th(mm: float) -> bool:
    return is_whole(mm, 1 / 64)


PLAYS_IN = {
    # what stands off a fraction by a play, in inches, and what it is then rounded up by at most: the
    # tool's slot is 0.004 wider than the bit, and its screw's hole ends at the slot's side (common
    # practice)
    ("tool slot", "width"): (0.004, 0.001),
    ("tool screw hole", "depth_mm"): (-0.002, -0.0005),
}

THOUSANDTHS = {
    # worked out, and with limits of their own beside them: whole thousandths, as their limits are
    ("foot flat", "location C"),
    ("foot bearing face", "location H"),
    ("hinge slit", "location D"),
    ("hinge slit", "location E"),
    ("nut relief", "location R"),
}

NO_SIZES = {
    "length_mm": "of a weld: a circumference, or the run of what is welded, told to a sixteenth",
    "least_mm": "what a slit leaves with everything at its limits",
    "included_deg": "an angle",
    "clearance_deg": "an angle",
    "angle_deg": "an angle",
    "roughness_um": "a surface",
}


@cache
def names_of(kind: type[f.Feature]) -> tuple[str, ...]:
    """The names of a feature type's fields."""
    return tuple(field.name for field in fields(kind))


def measured(feature: f.Feature) -> Iterator[tuple[str, float]]:
    """Every size of a feature by its field; a location by its datum."""
    for name in names_of(type(feature)):
        value = getattr(feature, name)
        if isinstance(value, Limits):
            yield name, value.nominal_mm
        elif isinstance(value, float) and name not in NO_SIZES:
            yield name, value
    if isinstance(feature, f.SawnNotch):
        yield from (("box", size) for size in feature.box.size())
    if isinstance(feature, f.ScribedLine):
        yield "long", max(feature.box.size())
    for location in feature.locations:
        yield f"location {location.datum}", location.size.nominal_mm


def limits_of(feature: f.Feature) -> Iterator[Limits]:
    """Every size of a feature that has its own limits written beside it."""
    values = [getattr(feature, name) for name in names_of(type(feature))]
    sizes = [value for value in values if isinstance(value, Limits)]
    for size in (*sizes, *(location.size for location in feature.locations)):
        if not size.designation.startswith(".X"):
            yield size


KNURLS = (14, 21, 33)
"""Teeth per inch of the wheels for straight knurls, coarse, medium and fine (common practice)."""


def is_inch_size(s: Sizes, part: Part, feature: f.Feature, field: str, mm: float) -> bool:
    """Whether a drawing in inches may have this size: by its kind, or by what it is the sum of."""
    where = (feature.name, field)
    if isinstance(feature, f.ReamedHole) and field == "diameter":
        return is_row("reamer", mm)
    if isinstance(feature, f.DrilledHole) and field == "diameter":
        return is_64th(mm) or is_row("drill", mm)
    if field == "line_width_mm":
        return is_whole(mm, 0.001)
    if isinstance(feature, f.Knurl) and field == "pitch_mm":
        return any(abs(mm * teeth - MM) < SAME for teeth in KNURLS)
    if where in THOUSANDTHS:
        return is_whole(mm, 0.001)
    if where in PLAYS_IN:
        play, more = PLAYS_IN[where]
        off = min(abs(mm / MM - play - n / 64 - more / 2) for n in range(64 * 9))
        whole = field != "width" or is_whole(mm, 0.001)
        return whole and off <= abs(more / 2) + 1e-6
    if where == ("lock screw hole", "depth_mm"):  # down to the thread's own hole
        return is_64th(mm + thread(s.pivot_thread).tap_drill_mm / 2)
    if where in (
        ("lever arm", "end_mm"),
        ("hand ball", "start_mm"),
    ):  # where the ball meets the arm
        named = {one.name: one for one in part.features}
        ball, arm = named["hand ball"], named["lever arm"]
        assert isinstance(ball, f.TurnedBall) and isinstance(arm, f.TurnedDiameter)
        radius, thin = ball.diameter.nominal_mm / 2, arm.diameter.nominal_mm / 2
        return abs(ball.end_mm - radius - sqrt(radius**2 - thin**2) - mm) < SAME
    if field == "diameter" and is_row("thread", mm):
        return True
    given = (0.0, s.spindle_over_seat_mm)  # what was measured on the lathe
    return any(is_64th(mm - own) or is_64th(mm + own) for own in given)


def odd_sizes(s: Sizes, whole: Attachment) -> list[str]:
    """Every size of an attachment that no drawing in inches would have."""
    odd = []
    for part in whole.parts:
        for member in members(part):
            blank = member.blank
            if not is_64th(blank.length_mm):
                odd.append(f"{part.name}, {member.name}: {blank.length_mm / MM} long")
            odd += [
                f"{part.name}, {member.name}: {size / MM} thick"
                for size in _two(blank.section)
                if not is_row("stock", size)
            ]
        for _, feature in every_feature(part):
            odd += [
                f"{part.name}, {feature.name}: {field} {mm / MM} in"
                for field, mm in measured(feature)
                if not is_inch_size(s, part, feature, field, mm)
            ]
            odd += [
                f"{part.name}, {feature.name}: {size.upper_mm / MM} {size.lower_mm / MM} in"
                for size in limits_of(feature)
                # a fit's from its size, of ANSI B4.1; others end where decimals say it
                for one in (
                    size if size.designation else Limits(0.0, size.max_mm, size.min_mm, ""),
                )
                if not (is_whole(one.upper_mm, 0.00005) and is_whole(one.lower_mm, 0.00005))
            ]
            if isinstance(feature, f.Thread | f.TappedHole):
                odd += [feature.thread] * (thread(feature.thread).system != "unified")
    for item in whole.bought:
        sold = {"stud": (), "set screw": set_screw(item.thread).lengths_mm}.get(
            item.kind, screw_lengths_mm(inch=True)
        )
        if item.ring:
            odd += [
                f"{item.use}: {size / MM} in"
                for size in (item.ring.outside_mm, item.ring.thickness_mm, item.ring.pressed_mm)
                if not is_64th(size)
            ]
        long = item.length_mm
        if long and long not in sold and not (item.kind == "stud" and is_whole(long, 1 / 16)):
            odd.append(f"{item.use}: {long / MM} in")
    return odd


# ---- what is held ----


@pytest.mark.parametrize("name", NAMES)
def test_every_size_of_an_inch_job_is_an_inch_size(name: str) -> None:
    s = jobs()[name]
    assert odd_sizes(s, attachment(s)) == []


def test_the_rules_own_sizes_are_fractions() -> None:
    # but what the lathe and the ball are measured as, and half of it
    own = ("screw_pitch_mm", "spindle", "max_b", "min_b", "tip_radius_min", "travel", "post_depth")
    for name, s in jobs().items():
        for field in fields(s):
            value = getattr(s, field.name)
            if isinstance(value, float) and not field.name.startswith((*own, "clearance")):
                fine = field.name == "flat_offset_mm" and is_whole(value, 0.001)  # it has limits
                known = fine or is_64th(value) or field.name == "knob_diameter_mm"
                assert known, (name, field.name, value)


def test_jobs_differ() -> None:
    found = list(jobs().values())
    assert len({s.rod_diameter_mm for s in found}) > 4 and len({s.pivot_thread for s in found}) > 4
    assert (
        {s.stop_stock is None for s in found}
        == {s.cheek_stock is None for s in found}
        == {True, False}
    )


class Spy(Series, frozen=True, eq=False):
    """The inch series, and what it is asked: an allowance by its millimetres, what rounds by who asks.

    back: what of that is put back into millimetres.
    """

    back: tuple[str, Any] | None = None
    asked: set[tuple[str, Any]] = msgspec.field(default_factory=set)


def _spying(name: str) -> Any:
    def asked(self: Any, *given: Any) -> Any:
        inch, metric = getattr(Series, name)(self, *given), getattr(METRIC, name)(*given)
        by = (
            given[0]
            if name in ("nominal", "limit", "tolerance", "whole")
            else sys._getframe(1).f_code.co_name
        )
        if isinstance(inch, Limits) or abs(inch - metric) > SAME:
            self.asked.add((name, by))
        return metric if self.back == (name, by) else inch

    return asked


for _name in (
    *("nominal", "limit", "tolerance", "whole", "nearest", "up", "down"),
    *("thousandths", "thousandths_up", "within", "major"),
    *("hole", "shaft", "general"),
):
    setattr(Spy, _name, _spying(_name))

ON_NO_DRAWING = {
    ("nominal", 0.15): "a scribed line's depth",
    ("limit", 0.15): "the same",
    ("limit", 0.1): "the tool's slot, rounded up to the same thousandth",
    ("limit", 0.05): "in a note",
    ("nominal", 0.25): "the pellet under the nut's lock screw: it sets which screw is bought",
    ("nominal", 0.7): "in a note",
    ("nominal", 0.05): "in a note",
    ("thousandths", "sliding_head"): "where the foot is welded: no size of a feature",
    ("thousandths", "foot_ledge_mm"): "which weld the foot has: no size of a feature",
    ("hole", "rod_square_mm"): "in a tolerance frame, in ten-thousandths",
    ("whole", 2.0): "the most that a rod may be in its arm: it is of a reamer's size",
    ("nominal", 6.0): "the spanner's hole in a nut over 2 in: none here has one",
    **{(name, 0.003): "in a note" for name in ("nominal", "limit")},
    # what a rod and a pivot may run loose, in each range of sizes
    **{
        ("limit", mm): "in a note"
        for mm in (0.012, 0.014, 0.015, 0.018, 0.019, 0.021, 0.022, 0.025, 0.026)
    },
}


def test_each_allowance_put_back_into_millimetres_is_found() -> None:
    by_nut = sorted(jobs().values(), key=lambda s: s.nut_diameter_mm)
    asked, found = set(), set()
    for s in (jobs()["example"], by_nut[0], by_nut[len(by_nut) // 2], by_nut[-1]):
        spy = Spy(True)
        attachment(replace(s, series=spy))
        asked |= spy.asked  # type: ignore[attr-defined]
        for key in spy.asked - found - set(ON_NO_DRAWING):  # type: ignore[attr-defined]
            other = replace(s, series=Spy(True, key))
            if odd_sizes(other, attachment(other)):
                found.add(key)
    assert len(asked) > 50
    assert asked - found == set(ON_NO_DRAWING)


def test_a_circumference_is_welded() -> None:
    s = jobs()["example"]
    (weld,) = [
        w for p in attachment(s).parts for _, w in every_feature(p) if w.name == "shaft weld"
    ]
    assert isinstance(weld, f.Weld) and is_64th(weld.length_mm / pi) and is_64th(weld.leg_mm)


def test_no_words_of_an_inch_design_are_in_millimetres() -> None:
    job = job_from(changed("inch-lathe"), "job.toml")
    sizing = size_up(job, "job.toml")
    said = [step.text for step in sizing.steps]
    for part in attachment(sizing.sizes).parts:
        said += [*part.notes, *(feature.note for _, feature in every_feature(part))]
    assert len(said) > 200
    assert [text for text in said if re.search(r"\d mm\b|[{}|]", text)] == []
