"""Call-outs, one or more a feature type, each written by hand in millimetres and in inches.

The strings follow the drawing office's habits: Ø for a diameter and SØ for a ball's (ISO 129-1), R for
a radius, a limit behind its size (ISO 129-1, ISO 286-1), Ra in micrometres without its unit (ISO
21920-1), the depth of a hole after its diameter. Inches are the millimetres over 25.4: a fraction
where they are a 64th, else with the decimals that carry their tolerance (common practice): three; two
from 1.2 in where they say it exactly; what three do not say has three all the same, its tolerance about
those. With limits three or four, the limits with as many (ASME Y14.5, from memory) and rounded inward.
A drill has its decimal beside its name, a thread its class (ASME B1.1; a metric one in an inch shop,
ISO 965-1).
"""

from __future__ import annotations

import pytest

from parts import features as f
from parts.frame import Axis, Box
from parts.standard.fits import Limits
from planner.making.callouts import callout
from planner.words.numbers import INCH, METRIC

AXIS = Axis((0.0, 0.0, 0.0), "+x")
H7 = Limits(20.0, 0.021, 0.0, "H7")  # ISO 286-1: 20 H7 is +0.021/0
H8 = Limits(12.7, 0.027, 0.0, "H8")  # ISO 286-1: over 10 to 18, H8 is +0.027/0
G6 = Limits(20.0, -0.007, -0.02, "g6")  # ISO 286-1: 20 g6 is -0.007/-0.020
PLAIN = Limits(38.1, 0.3, -0.3, "ISO 2768-m")  # general tolerance, said once on the sheet
BAND = Limits(33.0, 0.05, -0.05, "")
ONE_WAY = Limits(8.0, -0.03, -0.15, "")
HALF = Limits(12.7, 0.2, -0.2, "ISO 2768-m")
QUARTER = Limits(6.35, 0.1, -0.1, "ISO 2768-m")
BALL = Limits(25.4, 0.1, -0.1, "")
LONG = Box((0.0, 0.0, 0.0), (0.5, 6.35, 0.5))
BOX = Box((1.0, 2.0, 3.0), (28.0, 44.0, 8.0))  # 27 by 42 by 5


def named(kind: type[f.Feature], /, **sizes: object) -> f.Feature:
    """A feature of a type with these sizes; the rest is the same for all."""
    return kind(**{"name": "x", "datum": "A"} | sizes)  # type: ignore[arg-type]


def turned(kind: type[f.Feature], start: float, end: float, /, **sizes: object) -> f.Feature:
    return named(kind, start_mm=start, end_mm=end, **sizes)


def hole(kind: type[f.Feature], **sizes: object) -> f.Feature:
    return named(kind, axis=AXIS, **sizes)


BY_HAND = [
    # faced ends: the length alone; 38.1 mm is 1.5 in
    (named(f.FacedLength, length=PLAIN), "length 38.1", "length 1-1/2"),
    # 33 is 1.299213 in: from 1.297244 to 1.301181 is 0.00196 below 1.2992 and 0.00198 above it
    (named(f.FacedLength, length=BAND), "length 33 ±0.05", "length 1.2992 ±0.0019"),
    # a fit: the class, then its limits; from station 3 to 52.5 is 49.5 long, 1.948819 in
    (
        turned(f.TurnedDiameter, 3.0, 52.5, diameter=G6, roughness_um=0.8),
        "Ø20 g6 (-0.007/-0.020) x 49.5, Ra 0.8",
        "Ø0.7874 g6 (-0.0003/-0.0007) x 1.949, Ra 32 µin",
    ),
    # no roughness asked for, none said; 12.7 is 1/2 in
    (
        turned(f.TurnedDiameter, 10.0, 22.7, diameter=ONE_WAY),
        "Ø8 (-0.03/-0.15) x 12.7",
        "Ø0.3150 (-0.0013/-0.0059) x 1/2",
    ),
    # a shoulder: what is faced off, hundredths of either unit
    (turned(f.FacedShoulder, 1.0, 1.5, diameter=H7), "faced, 0.5 off", "faced, 0.020 off"),
    # threads keep their designation, a unified one has its class; 55 long is 2.165354 in
    (turned(f.Thread, 5.0, 60.0, thread="M8x1"), "M8x1 x 55", "M8x1-6g x 2.165"),
    (
        turned(f.Thread, 0.0, 12.7, thread="1/4-20 UNC"),
        "1/4-20 UNC-2A x 12.7",
        "1/4-20 UNC-2A x 1/2",
    ),
    # a knurl: pitch, or teeth per inch as the wheel is sold; then width, 9 mm is 0.354331 in
    (
        turned(f.Knurl, 9.0, 18.0, diameter=HALF, pitch_mm=1.0),
        "straight knurl 1 pitch x 9",
        "straight knurl 25.4 teeth per inch x 0.354",
    ),
    # divisions are counted, whatever the unit
    (
        turned(f.EngravedScale, 0.0, 6.0, diameter=HALF, divisions=50, line_width_mm=0.2),
        "50 divisions on Ø12.7",
        "50 divisions on Ø1/2",
    ),
    (turned(f.TurnedBall, 0.0, 22.0, diameter=BALL), "SØ25.4 ±0.1", "SØ1.0000 ±0.0039"),
    # holes: diameter and depth
    (hole(f.DrilledHole, depth_mm=20.0, diameter=QUARTER), "Ø6.35 through", "Ø1/4 through"),
    (
        hole(f.DrilledHole, depth_mm=19.05, through=False, diameter=QUARTER),
        "Ø6.35 19.05 deep",
        "Ø1/4 x 3/4 deep",
    ),
    (
        hole(f.ReamedHole, depth_mm=30.0, diameter=H8),
        "Ø12.7 H8 (+0.027/0) through",
        "Ø0.5000 H8 (+0.0010/0.0000) through",
    ),
    (
        hole(f.Bore, depth_mm=22.0, through=False, diameter=H7),
        "Ø20 H7 (+0.021/0) 22 deep",
        "Ø0.7874 H7 (+0.0008/0.0000) 0.866 deep",
    ),
    (
        hole(f.Counterbore, depth_mm=6.35, through=False, diameter=HALF),
        "counterbore Ø12.7 6.35 deep",
        "counterbore Ø1/2 x 1/4 deep",
    ),
    # tapping drills as handbooks list them: M6 5 mm (major less pitch), M5 4.2 mm, 1/4-20 a #7
    (
        hole(f.TappedHole, depth_mm=9.0, thread="M6"),
        "M6 through, tap drill 5 mm",
        "M6-6H through, tap drill 5 mm, 0.1969 (or #9, 0.196)",  # 5/25.4; an inch chart: #9
    ),
    (
        hole(f.TappedHole, depth_mm=12.7, through=False, thread="M5"),
        "M5 12.7 deep, tap drill 4.2 mm",
        "M5-6H 1/2 deep, tap drill 4.2 mm, 0.1654 (or #19, 0.166)",  # ASME B94.11M
    ),
    (
        hole(f.TappedHole, depth_mm=12.7, through=False, thread="1/4-20 UNC"),
        "1/4-20 UNC-2B 12.7 deep, tap drill #7, 5.11 (or 5.1 mm)",
        "1/4-20 UNC-2B 1/2 deep, tap drill #7, 0.201",
    ),
    # what is milled and sawn
    (
        named(f.MilledFlat, box=BOX, locations=(f.Location("C", "+z", BAND),)),
        "flat, 33 ±0.05 from C",
        "flat, 1.2992 ±0.0019 from C",
    ),
    (named(f.MilledSlot, box=BOX, width=H7), "slot 20 H7 (+0.021/0) wide",
     "slot 0.7874 H7 (+0.0008/0.0000) wide"),
    (named(f.Slit, box=BOX, width=Limits(1.6, 0.3, -0.3, "")), "slit 1.6 ±0.3 wide",
     "slit 0.0630 ±0.0118 wide"),
    # 27 by 42 is 1.062992 by 1.653543 in
    (named(f.SawnNotch, box=BOX), "notch 27 x 42", "notch 1.063 x 1.654"),
    (named(f.ScribedLine, box=LONG), "line 6 long", "line 1/4 long"),
    (
        turned(f.IndexMark, 0.0, 6.35, diameter=HALF, angle_deg=135.0, line_width_mm=0.2),
        "line 6.35 long on Ø12.7",
        "line 1/4 long on Ø1/2",
    ),
    # angles in degrees in both; the nose 0.4 mm is 1/64 in (0.397): to 0.003 not it, so 0.016
    (
        named(
            f.GroundPoint,
            tip=(0.0, 0.0, 0.0),
            nose_radius_mm=0.4,
            included_deg=38.0,
            clearance_deg=8.0,
        ),
        "point 38° included, 8° clearance, nose R0.4",
        "point 38° included, 8° clearance, nose R0.016",
    ),
    # a weld's units are named, for it is read with a gauge of either: 4 mm is 0.157 in, 46 1.811 in
    (
        named(f.Weld, kind="fillet", leg_mm=4.0, length_mm=45.7, members=("a", "b")),
        "fillet weld 4 mm, run 45",
        "fillet weld 0.157 in, run 1-3/4",  # 28.79 sixteenths: no longer than its joint
    ),
]  # fmt: skip


def test_every_type_has_a_call_out_by_hand() -> None:
    assert {type(feature) for feature, _, _ in BY_HAND} == set(f.feature_types())


@pytest.mark.parametrize(
    ("feature", "metric", "inch"), BY_HAND, ids=lambda x: type(x).__name__ if x != str(x) else ""
)
def test_the_call_out_is_the_one_written_by_hand(
    feature: f.Feature, metric: str, inch: str
) -> None:
    assert callout(feature, METRIC) == metric
    assert callout(feature, INCH) == inch
