"""Numbers by which things find their places on a sheet, by hand and with where each comes from.

Nothing outside the project says how far a balloon may stand from its item: most are a choice, which is
changed here when it is changed there. Part of what tests/test_constants.py holds the sources against.
"""

from __future__ import annotations

from typing import Any

PRACTICE = "common practice"
ROUNDING = "far below what any tool can hold, far above what floats lose"
OWN = "a choice of this design"

PLACING: dict[str, tuple[Any, str]] = {
    "planner/drawing/arrangement_sheet ANGLE_PARTS": (
        (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9),
        OWN + ": the middle first, then by turns outward",
    ),
    "planner/drawing/arrangement_sheet ANGLE_FROM_MM": (
        6.0,
        OWN + ": two arrows outside the tip's way",
    ),
    "planner/drawing/arrangement_sheet ANGLE_TO_MM": (
        90.0,
        OWN + ": beyond, nobody sees what it is of",
    ),
    "planner/drawing/arrangement_sheet ANGLE_STEP_MM": (3.0, OWN + ": near a line of words"),
    "planner/drawing/arrangement_sheet RADIUS_OFF_DEG": (
        4.0,
        OWN + ": off the lines of the swing's ends",
    ),
    "planner/drawing/arrangement_sheet RADIUS_STEP_DEG": (4.0, "an effort"),
    "planner/drawing/arrangement_sheet RADIUS_FROM_MM": (
        10.0,
        OWN + ": an arrow and as much again, twice",
    ),
    "planner/drawing/arrangement_sheet RADIUS_TO_MM": (
        100.0,
        OWN + ": beyond, nobody sees what it is of",
    ),
    "planner/drawing/arrangement_sheet RADIUS_STEP_MM": (3.0, OWN + ": near a line of words"),
    "planner/drawing/arrangement_sheet TRIED": (120, "an effort"),
    "planner/drawing/arrangement_sheet MANY": (2000, "an effort"),
    "planner/drawing/arrangement_sheet SWING_FROM_DEG": (0.5, "what is printed is whole degrees"),
    "planner/drawing/arrangement_sheet BALL_RAD": (
        (0.3, -0.3, 1.0, -1.0),
        OWN + ": off the stem, behind the tip's way",
    ),
    "planner/drawing/arrangement_sheet CHUCK_PARTS": (
        (0.04, 0.1),
        OWN + ": on its rim, near its face",
    ),
    "planner/drawing/arrangement_sheet SLIDE_MM": ((10.0, 25.0, 40.0), OWN + ": near its left end"),
    "planner/drawing/arrangement_sheet WIDE_MM": (
        (150.0, 120.0, 95.0, 75.0),
        OWN + ": some 75 letters a line down to half",
    ),
    "planner/drawing/arrangement_sheet GRID_MM": (2.0, "an effort: finer changes little"),
    "planner/drawing/arrangement_sheet OFF_MM": (4.0, OWN),
    "planner/drawing/arrangement_sheet TOP_MM": (6.0, OWN + ": past the centring mark, 5 mm"),
    "planner/drawing/arrangement_sheet FIELDS_MM": (3.0, OWN + ": as on the parts' sheets"),
    "planner/drawing/arrangement_sheet FREE_MM": (3.0, OWN + ": a height of words"),
    "planner/drawing/arrangement_sheet WORDS_MM": (0.4, OWN + ": two widths of a wide line's"),
    "planner/drawing/balloons MANY": (400, "an effort"),
    "planner/drawing/balloons GRID_MM": (2.5, "an effort"),
    "planner/drawing/balloons OFF_FRAME_MM": (1.0, OWN),
    "planner/drawing/balloons NEAREST_MM": (8.9, "a ring of 4.9 and a line of 4 that is seen"),
    "planner/drawing/balloons FARTHEST_MM": (70.0, OWN + ": farther, it is of nothing"),
    "planner/drawing/balloons BARE_MM": (2.0, OWN + ": the item's own outline"),
    "planner/drawing/balloons CROWD_MM": (25, OWN + ": five balloons across"),
    "planner/drawing/choose IN_CUT": (0.4, OWN + ": less than a section, 0.6"),
    "planner/drawing/choose CUT_FACING": (0.5, OWN + ": less than a section, 0.6"),
    "planner/drawing/choose TAKEN_FROM_END": (0.2, OWN + ": seen, but not through"),
    "planner/drawing/choose IN_SECTION": (1.0, OWN + ": more than a section, less than hidden"),
    "planner/drawing/choose CUTS": (3, "an effort"),
    "planner/drawing/choose WITHIN_MM": (0.5, OWN + ": a cut that grazes shows nothing"),
    "planner/drawing/detail LETTER_FROM_MM": (3.2, OWN + ": a letter's half and a space"),
    "planner/drawing/detail LETTER_STEP_MM": (2.0, "an effort"),
    "planner/drawing/detail LETTER_STEP_DEG": (15, "an effort"),
    "planner/drawing/detail HALF_LETTER_MM": (1.8, "half of a capital of 3.5 and its space"),
    "planner/drawing/detail ROUND_LETTER_MM": (0.4, OWN),
    "planner/drawing/detail STEM_MM": (2.0, OWN + ": shorter is a smear"),
    "planner/drawing/detail GRID_MM": (3.0, "an effort"),
    "planner/drawing/detail OFF_MM": (2.0, OWN),
    "planner/drawing/exploded GRID_MM": (4.0, "an effort"),
    "planner/drawing/exploded LEAST_FLOW_MM": (1.0, OWN + ": half a cell"),
    "planner/drawing/exploded FLOW_MM": (6.0, OWN + ": 3 mm of the paper at 1:2"),
    "planner/drawing/exploded LEAST_RUN": (4, OWN + ": two cells"),
    "planner/drawing/exploded NEAR_MM": (0.1, ROUNDING),
    "planner/drawing/exploded TIPS_APART_MM": (4.0, OWN + ": two cells"),
    "planner/drawing/exploded OTHERS": (10, "more than the eight cells round one"),
    "planner/drawing/exploding POINTS": (0.9, "less than a cell, so that none is missed"),
    "planner/drawing/exploding TOUCH_MM": (0.2, OWN + ": under any chamfer"),
    "planner/drawing/isometric GRID_MM": (4.0, "an effort"),
    "planner/drawing/isometric OFF_MM": (2.0, OWN),
    "planner/drawing/isometric CAPTION_MM": (3.0, OWN + ": a height of its words"),
    "planner/drawing/isometric COARSE": (1.2, "over 0.9 and the slant of a face"),
    "planner/drawing/layout OFF_MM": (5.0, "past the centring mark, 5 mm inside: ISO 5457"),
    "planner/drawing/layout OFF_TOP_MM": (6.0, "past the centring mark, 5 mm inside: ISO 5457"),
    "planner/drawing/layout OFF_FIELDS_MM": (3.0, OWN + ": a height of words"),
    "planner/drawing/layout OFF_NOTES_MM": (2.0, OWN),
    "planner/drawing/layout ANGLE_MM": (7.0, PRACTICE + ": the first lane of an arc, two arrows"),
    "planner/drawing/layout SECTION_MM": (5.0, "ISO 3098: a step over the usual 3.5"),
    "planner/drawing/leaders MANY": (600, "an effort: twenty times as many"),
    "planner/drawing/leaders GRID_MM": (2.0, "an effort"),
    "planner/drawing/leaders UNDER_TOP_MM": (4.0, "a line of words, 3.5"),
    "planner/drawing/leaders ASIDE_MM": (3.0, OWN + ": an arrow's length"),
    "planner/drawing/leaders STEEP": (0.25, OWN + ": 14 degrees, not taken for level"),
    "planner/drawing/leaders NEAREST_MM": (7.0, "two arrows of 3 and a little"),
    "planner/drawing/leaders FARTHEST_MM": (90.0, OWN + ": farther, it is of nothing"),
    "planner/drawing/leaders LEFT_MM": (3.0, OWN),
    "planner/drawing/leaders RIGHT_MM": (3.0, OWN),
    "planner/drawing/leaders FOOT_MM": (3.0, OWN),
    "planner/drawing/leaders OFF_FIELDS_MM": (4.0, OWN),
    "planner/drawing/leaders STANDS_IN_MM": (5.0, OWN + ": a number of two figures"),
    "planner/drawing/leaders NUMBER_MM": (8.0, "5 that lines stand in and 3 at the end"),
    "planner/drawing/leaders TOP_MM": (20.0, OWN),
    "planner/drawing/pointing ROUND_DEG": (
        (45, 135, 225, 315, 20, 160, 200, 340, 70, 110, 250, 290),
        OWN + ": the diagonals first, off the centre lines",
    ),
    "planner/drawing/pointing BALL_DEG": (
        (45, 135, 225, 315, 60, 120, 30, 150),
        OWN + ": the diagonals first",
    ),
    "planner/drawing/pointing RIM_PARTS": ((0.5, 0.25, 0.75), OWN + ": the middle first"),
    "planner/drawing/pointing EDGE_PARTS": (
        (0.5, 0.25, 0.75, 0.1, 0.9),
        OWN + ": the middle first, no corner",
    ),
    "planner/drawing/pointing SCRIBED": (0.6, OWN + ": off the middle, not at its end"),
    "planner/drawing/room ROUND_WORDS_MM": (
        0.7,
        "a frame's line; " + PRACTICE + ": words stand clear",
    ),
    "planner/drawing/room ROUND_BOX_MM": (0.6, "half a cell and a little"),
    "planner/drawing/room TIP_MM": (1.5, "half an arrow"),
    "planner/drawing/standing CROSSING_MM": (8.0, OWN + ": less than a call-out's 12"),
    "planner/drawing/standing FOOT_MM": (1.6, "over half of the triangle, 3 mm high"),
    "planner/drawing/standing MOUTH_MM": (2.0, "past the triangle"),
    "planner/drawing/standing ON_EDGE_MM": (1.2, "a cell of the room and a little"),
}
