"""Every number that has a name of its own, by its literal value and where that comes from.

Common practice means: what a shop does or a workshop handbook says, typed from memory. A number that is
changed on purpose is changed here too, with its reason. Numbers that only say how long a search goes on
(barcut, nest) change no result that is not proven by its checker; they are left out by their room.
"""

from __future__ import annotations

import ast
from typing import Any

import pytest
from placing_numbers import OWN, PLACING, PRACTICE, ROUNDING
from sources import place, sources, tree

BY_HAND: dict[str, tuple[Any, str]] = {
    **PLACING,
    # ---- the parts ----
    "parts/body FEED_HOLE_PLAY_MM": (0.2, PRACTICE + ": a clearance hole by one drill size"),
    "parts/body THREAD_IN_BORE_MM": (2.0, OWN + ": two pitches of run-out, the nut against the tube"),
    "parts/drag GAP_MM": (2.0, OWN + ": the brass tip may wear so far"),
    "parts/drag HEAD_MM": (7.0, PRACTICE + ": a knurl two fingers hold"),
    "parts/drag TIP_UNDER_MM": (0.2, PRACTICE + ": under the root, so that no burr locks it"),
    "parts/drag TIP_MM": (1.5, PRACTICE + ": a dog point is a quarter to half its thread long"),
    "parts/frame ORIGIN": ((0.0, 0.0, 0.0), "zero"),
    "parts/handle HANDLE_PAST_MM": (2.0, OWN),
    "parts/handle ENGAGED": (1.25, PRACTICE + ": one to one and a half diameters"),
    "parts/handle SEAT_MM": (2.0, PRACTICE + ": a millimetre of seat all round"),
    "parts/head PLUG_LEG_MM": (2.0, PRACTICE),
    "parts/head SHOULDER_MM": (2.0, OWN),
    "parts/trueness FOOT_PLAY_MM": (0.03, PRACTICE + ": a sliding fit one scrapes or mills to"),
    "parts/head WIPER_MM": (2.5, OWN + ": a ring of 3 mm felt, pressed in"),
    "parts/head WIPER_OVER_MM": (5.0, PRACTICE + ": 2.5 mm of felt all round"),
    "parts/head TOOL_PLAY_MM": (0.1, PRACTICE + ": a bit goes in by hand"),
    "parts/head NOTCH_RADIUS_MM": (3.0, PRACTICE + ": a 6 mm file or hole"),
    "parts/housing BORE_HEIGHT_MM": (0.02, PRACTICE + ": bored in place"),
    "parts/housing OIL_HOLE_MM": (4.0, PRACTICE),
    "parts/housing NUT_PLAY_MM": (0.5, PRACTICE),
    "parts/housing MARK_MM": (0.15, PRACTICE + ": a line cut 0.1 to 0.2 deep"),
    "parts/head FELT_MM": (3.0, PRACTICE + ": sheet felt is 2, 3 and 5 mm thick"),
    "parts/head INCH_FELT_MM": (25.4 / 8, PRACTICE + ": 1/16, 1/8 and 1/4 in"),
    "parts/pivot_nut PELLET_SHEET_MM": (0.7, PRACTICE + ": thinner is pressed through"),
    "parts/pivot_nut PELLET_PLAY_MM": (0.19, PRACTICE + ": what falls through a drilled hole"),
    "parts/pivot_nut PELLET_MM": (0.25, PRACTICE + ": 0.7 of brass in half a thread's depth"),
    "parts/pivot_nut SPANNER_HOLE_DEPTH_MM": (1.8, PRACTICE),
    "parts/stop HEADS_APART": (1.85, "ISO 4762: M3's head is 5.5, 1.83 of it, M6's 10, 1.67"),
    "parts/stop MOST_BAR": (4.0, OWN),
    "parts/stop SEAT_GAP_MM": (1.0, OWN),
    "parts/stop USUAL_NECK_DEG": (159.5, "180 less the angle whose sine is 0.35: 20.49 degrees"),
    "parts/makeable TAP_LEAD_PITCHES": (3.0, PRACTICE + ": the lead of a second tap"),
    "parts/makeable WELD_GAP_MM": (0.5, PRACTICE),
    "parts/places SAME_MM": (1e-6, ROUNDING),
    "parts/screw SCREW_WALL_MM": (1.0, PRACTICE),
    "parts/trueness DIAL_READING": (0.25, PRACTICE + ": a quarter of a division"),
    "parts/screw LINE_WIDTH_MM": (0.2, PRACTICE + ": lines of 0.1 to 0.2 on rules and dials"),
    "parts/screw LINE_SPACING_MM": (1.0, PRACTICE + ": five widths"),
    "parts/standard/series COARSE_FROM": (8, PRACTICE + ": 32nds from 1/8 in up, as rules have them"),
    "parts/standard/series GRAIN": (1e-6, ROUNDING),
    "parts/screw KNURL_MM": (1.0, PRACTICE + ": a medium knurl; DIN 82 lists 0.8, 1, 1.2 (memory)"),
    "parts/screw SHORT_MM": (0.5, PRACTICE),
    "parts/screw END_FLOAT_MM": (0.05, PRACTICE),
    "parts/clamp HINGE_DEPTH_MM": (0.1, PRACTICE + ": what a saw is set to on a mill"),
    "parts/clamp ENGAGED": (1.5, PRACTICE + ": 1 to 1.5 diameters in steel"),
    "parts/lever HAND_BALL_MM": (0.5, PRACTICE + ": least to turn off a bar"),
    "parts/lever ARM": (0.65, OWN),
    "parts/lever TIGHT_DEG": ((0.0, 30.0), OWN),
    "parts/lever CLOCKED_DEG": (20.0, OWN),
    "parts/lever FACING_FOR_DEG": (30.0, "a twelfth of a turn"),
    "parts/sizes HINGE_BACK": (0.8, OWN),
    "parts/sizes HINGE_PLACE_MM": (0.1, PRACTICE + ": by an edge finder"),
    "parts/sizes HINGE_SLIT_MM": (0.2, PRACTICE + ": a slitting saw runs out so much"),
    "parts/sizes LEVER_SEAT": (0.15, OWN),
    "parts/sizes SPIGOT_SHORT_MM": (2.0, OWN),
    "parts/sizes PIVOT_PLAY_MM": (0.015, "ISO 286: between 20 H7/g6 at its tightest and at its mean"),
    "parts/sizes ROD_PLAY_MM": (0.012, "ISO 286: between 14 H7/g6 at its tightest and at its mean"),
    "parts/sizes SETBACK_MM": (4.0, OWN),
    "parts/sizes NOSE_PAST_DEG": (3.0, OWN),
    "parts/sizes STOP_GAP_MM": (3.0, OWN + ": a millimetre past the handle's end, 2 out of its pin"),
    "parts/sizes DRESSING_MM": (0.5, PRACTICE),
    "parts/standard/cutting_forces PASSIVE_SHARE": (0.5, "textbooks: 0.3 to 0.5 of the main force"),
    "parts/standard/cutting_forces FEED_SHARE": (0.4, "textbooks: 0.2 to 0.4 of the main force"),
    "parts/standard/cutting_forces BASE_RAKE_DEG": (6.0, "Kienzle's tables for steel"),
    "parts/standard/cutting_forces RAKE_RATE": (0.015, "textbooks: 1.5 % a degree"),
    "parts/standard/drills SAME_MM": (1e-5, ROUNDING),
    "parts/standard/sections MM_PER_INCH": (25.4, "exact since 1959"),
    "parts/tool PROUD_MM": (2.0, PRACTICE),
    "parts/tool INCLUDED_DEG": (38.0, "under twice asin 0.35, 41 degrees: keeps off the usual stem"),
    # ---- checking ----
    "planner/checking/budget SPINDLE_RUN_OUT_MM": (0.01, "acceptance of plain lathes, ISO 1708"),
    "planner/checking/budget CROSS_SLIDE_MM": (0.05, PRACTICE + ": a division or two of its dial"),
    "planner/checking/budget TIP_HEIGHT_MM": (0.1, PRACTICE + ": by a rule or a centre gauge"),
    "planner/checking/budget SEED": (20_240_229, "any"),
    "planner/checking/search MARGIN": (0.1, "a tenth of a deflection is not felt; " + OWN),
    "planner/checking/search LEAST_GAIN": (0.02, OWN),
    "planner/checking/search MOST_TRIED": (60, "an effort"),
    "planner/checking/search BLOCK_ROWS": (32_768, "an effort"),
    "planner/checking/strength/findings LEAST_GRIP": (2.0, PRACTICE),
    "planner/checking/strength/findings MOST_OF_PROOF": (0.8, PRACTICE + ": 0.75 to 0.9"),
    "planner/checking/strength/findings MOST_DEFLECTION_MM": (0.05, PRACTICE),
    "planner/checking/strength/findings MOST_OVERHANG": (4.0, PRACTICE + ": steel boring bars"),
    "planner/checking/strength/bit STEPS": (48, "an effort"),
    "planner/checking/strength/bit LEAST_NOSE_MM": (0.4, "the least that is ground"),
    "planner/checking/strength/bit CLEARANCE_DEG": (8.0, "the sheet of the bit: 8 degrees"),
    "planner/checking/strength/chain ON_TOP_DEG": (90.0, "the ball's equator is a quarter turn on"),
    "planner/checking/strength/report NOSE_DEG": (0.0, "where the swing is counted from"),
    "planner/checking/strength/report NECK_DEG": (150.0, "near the neck"),
    "planner/checking/strength/findings NEAR_MM": (3.0, OWN),
    "planner/checking/strength/shank MOST_KEPT": (5000, "an effort"),
    "planner/checking/strength/shank LEAST_WEB": (0.01, "an effort"),
    "planner/checking/strength/chain STEP": (1e-3, "an effort"),
    "planner/sums/bedded SHEAR": (5 / 6, "Timoshenko's coefficient, any handbook"),
    "planner/sums/bedded ROUND_SHEAR": (0.9, "the same of a round, any handbook"),
    "planner/checking/strength/shank THROAT": (0.707, "of a leg, 45 degrees"),
    "planner/checking/strength/stresses HEATED_MM": (40.0, "EN 1999-1-1: 20 to 40 mm; memory"),
    "planner/sums/bedded POISSON": (0.3, "steel, any handbook"),
    "planner/sums/bedded DOUBLINGS": (5, "an effort"),
    "planner/sums/bedded LEAST_LOG": (0.05, "an effort"),
    "planner/checking/strength/findings MOST_HAND_N": (60.0, PRACTICE + ": EN 1005-3 allows more"),
    "planner/checking/strength/stresses LEAST_SAFETY": (1.5, PRACTICE + ": 1.5 to 2 on yield"),
    "planner/checking/strength/findings MOST_LEVER_N": (60.0, PRACTICE + ": as at the knob"),
    "planner/sizing/clamping HAND_N": (40.0, PRACTICE),
    "planner/sizing/clamping ABUSE_N": (100.0, PRACTICE),
    "planner/sizing/clamping DESIGN_GRIP": (6.0, OWN),
    "planner/sizing/clamping LEAST_PRELOAD": (0.65, "a torque wrench scatters by a third"),
    "planner/sizing/requirements/clamp LEAST_LEVER_MM": (20.0, PRACTICE + ": two fingers"),
    "planner/sizing/rules/lever LEAST_LEVER_MM": (25.0, PRACTICE + ": two fingers and to spare"),
    "planner/sizing/rules/rod LEAST_STUD_MM": (4.8, "No.10 is 4.826"),
    "planner/sizing/rules/rod LEVER_BOSS": (1.8, "a nut is 1.6 to 1.8 threads across"),
    "planner/checking/sweep_findings MOST_STICK_OUT": (4.0, PRACTICE + ": 3 to 4 without a centre"),
    "planner/cli/net INTERRUPTED": (130, "128 and SIGINT's 2, as shells have it"),
    # ---- dial ----
    "parts/index_ring HEAD_PLAY_MM": (0.5, PRACTICE),
    "parts/index_ring SUNK_MM": (0.2, PRACTICE + ": heads lie under the face"),
    "parts/index_ring ENGAGED": (1.5, PRACTICE + ": thread in steel, in diameters"),
    "parts/index_ring LINE_DEG": (135.0, "halfway between the operator's side and the leaf's"),
    "parts/body INDEX_THREAD": (3.0, PRACTICE + ": deeper than any stocked screw goes"),
    "planner/dial/indexing FULL_TURN_DEG": (360, "degrees in a turn"),
    "planner/dial/indexing ARCSEC_PER_DEG": (3600, "60 times 60"),
    "planner/dial/indexing FEWEST_DIVISIONS": (2, "one is no division"),
    "planner/dial/indexing MOST_DIVISIONS": (1000, OWN),
    "planner/dial/indexing DIRECT_CIRCLES": ((24, 30, 36, 60), PRACTICE + ": plates on spindle noses"),
    "planner/dial/reading MOST_SENSIBLE": (400, "as many as a job file may ask for"),
    "planner/dial/design OFF_LINE_MM": (0.5, PRACTICE + ": a numeral off its line"),
    "planner/dial/design HEIGHTS_MM": ((2.5, 1.8), "ISO 3098-0: heights of lettering"),
    "planner/dial/sense _SLACK": (1e-9, ROUNDING),
    "planner/dial/reading SLACK": (1e-9, ROUNDING),
    # ---- drawings and geometry ----
    "planner/dxf/drawing CENTRE_MARK_MM": (3.0, PRACTICE),
    "planner/dxf/drawing OVERRUN_MM": (3.0, "ISO 128: centre lines run past by 2 to 3 mm"),
    "planner/dxf/paths SAME_MM": (0.002, ROUNDING),
    # ---- drawing ----
    "planner/drawing/model TEXT_MM": (3.5, "ISO 3098: usual on A4 to A2, " + PRACTICE),
    "planner/drawing/strokes DOT_MM": (1.5, "ASME Y14.2-2008"),
    "planner/drawing/strokes TEXT_GAP_MM": (1.0, PRACTICE + ": words stand clear of their line"),
    "planner/drawing/strokes LINE_PITCH": (1.6, "ASME Y14.2-2008: a half to one height between lines"),
    "planner/drawing/dimensioned OVERRUN_MM": (2.0, "ISO 129-1, memory: eight narrow line widths"),
    "planner/drawing/dimensioned EDGE_GAP_MM": (1.0, "ISO 129-1 allows a gap; " + PRACTICE),
    "planner/drawing/dimensioned OUTSIDE_MM": (7.0, PRACTICE + ": two arrows and a little"),
    "planner/drawing/dimensioned LOW_MM": (1.0, "below the 0.9 that letters of 3.5 hang down"),
    "planner/drawing/dimensioned LIMIT": (0.7, "one step of ISO 3098's series, root of a half"),
    "planner/drawing/dimensioned LIMIT_STEP": (1.45, "ASME Y14.2-2008: near half a height between"),
    "planner/drawing/choose HIDDEN": (4.0, OWN + ": nearly two views, so that hidden lines are rare"),
    "planner/drawing/choose SECTION": (0.6, OWN + ": less than a view more"),
    "planner/drawing/choose END_VIEW": (2.5, OWN + ": a little more than a view more"),
    "planner/drawing/choose BESIDE": (0.6, OWN + ": as a section, less than a view more"),
    "planner/drawing/choose CUT_THROUGH": (0.02, OWN + ": next to nothing"),
    "planner/drawing/joints NEAR_MM": (1e-3, "a micrometre, as datums are found"),
    "planner/drawing/joints PARTS": ((0.5, 0.3, 0.7, 0.15, 0.85), OWN + ": no corner"),
    "planner/drawing/detail LEAST_MM": (1.5, PRACTICE + ": three wide lines side by side"),
    "planner/drawing/detail CLEAR_TO_SEE_MM": (3.0, OWN + ": twice that"),
    "planner/drawing/detail ROUND_MM": (14.0, OWN),
    "planner/drawing/detail TITLE_MM": (7.0, OWN + ": a line of words and a space"),
    "planner/drawing/detail LETTER_MM": (3.5, "ISO 3098: usual on A4 to A2, " + PRACTICE),
    "planner/drawing/detail STEP": (0.01, OWN + ": a seventh of a millimetre on the paper"),
    "planner/drawing/detail AWAY_MM": (22.0, OWN + ": so that it is still by its ring"),
    "planner/drawing/pointing DRESSED_MM": (6.0, OWN + ": over the largest preparation of a weld"),
    "planner/drawing/pointing ALONG": (
        (0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95),
        OWN + ": the middle first",
    ),
    "planner/drawing/standing TEXTURE_MM": (2.5, "ISO 3098, a step under the usual 3.5"),
    "planner/drawing/standing SIGN_MM": (3.5, "ISO 3098: usual on A4 to A2, " + PRACTICE),
    "planner/drawing/standing REACHES_MM": ((5.0, 9.0, 13.0, 18.0, 24.0, 31.0), OWN + ": near first"),
    "planner/drawing/standing BEYOND_MM": ((4.0, 7.0, 11.0, 16.0, 22.0, 30.0), OWN + ": near first"),
    "planner/drawing/standing HANGS_MM": (4.0, OWN + ": the triangle, 3 mm high, and a stem"),
    "planner/drawing/standing ASIDE_MM": (5.0, OWN + ": the datum's box stays under its frame"),
    "planner/drawing/scaled WIDE_MM": (56.0, OWN + ": a third of what A4 has"),
    "planner/drawing/scaled HIGH_MM": (50.0, OWN),
    "planner/drawing/scaled CLEAR_MM": (5.0, OWN + ": past the centring marks"),
    "planner/drawing/scaled LANE_MM": (9.0, PRACTICE + ": 7 to 10 mm between dimension lines"),
    "planner/drawing/scaled WORDS_MM": (3.5, "ISO 3098: usual on A4 to A2, " + PRACTICE),
    "planner/drawing/scaled BELOW_MM": (24.0, OWN + ": words of a short line's length, upright"),
    "planner/drawing/scaled ABOVE_MM": (14.0, OWN + ": two lines of words"),
    "planner/drawing/wording SQUARE": (0.002, "ISO 2768-2 class H, memory: 0.2 up to 100"),
    "planner/drawing/wording DECIMAL_IN": (0.005, PRACTICE + ": .XXX of an inch title block"),
    "planner/drawing/wording EDGE_MM": (0.2, "ISO 13715's series of sizes, memory"),
    "planner/drawing/wording GENERAL_TEXTURE_UM": (3.2, PRACTICE + ": turned or milled"),
    "planner/drawing/frame GENERAL_MM": (1.8, "ISO 3098: the least, so that its brackets fit"),
    "planner/output/part_sheets REVISION": (6, OWN + ": a job's versions are told apart by it"),
    "planner/drawing/lanes CLEAR_MM": (1.2, PRACTICE + ": words stand clear of lines"),
    "planner/drawing/layout GAPS_MM": ((4.0, 24.0), OWN + ": the second takes two lines of words"),
    "planner/drawing/layout AWAY_MM": (3.0, OWN + ": of 11, so that 8 are left, as is usual"),
    "planner/drawing/layout OVER_MM": (2.5, "ISO 128: centre lines run past by 2 to 3 mm"),
    "planner/drawing/notice FROM_FRAME_MM": (10.0, OWN),
    "planner/drawing/leaders NOTE_MM": (2.5, "ISO 3098, a step under the usual 3.5"),
    "planner/drawing/leaders PAST_MARK_MM": (6.5, "past the 5 mm of a centring mark"),
    "planner/drawing/leaders CROSSING_MM": (12.0, OWN),
    "planner/drawing/leaders LEAST_NOTES_MM": (80.0, OWN + ": some 40 letters a line"),
    "planner/drawing/outline ON_MM": (0.02, "twice what curves are followed within"),
    "planner/drawing/room CELL_MM": (1.0, OWN + ": what words stand clear by"),
    "planner/drawing/room STEP_MM": (0.5, "half a square, so that no line slips through"),
    "planner/drawing/stations NEAR_MM": (1e-3, "a micrometre, as datums are found"),
    "planner/drawing/proof ON_SOLID_MM": (1e-3, "a micrometre, as datums are found"),
    "planner/words/numbers SLACK": (0.05, "a twentieth of the last place printed: 0.05 um"),
    "planner/drawing/arrangement CHUCK_DEEP": (0.15, OWN + ": enough to be known as a chuck"),
    "planner/drawing/arrangement_sheet GAP_MM": (5.0, OWN + ": between two views, lanes and all"),
    "planner/drawing/arrangement_sheet ROW_MM": (5.0, "two heights of 2.5"),
    "planner/drawing/balloons AGAIN": (8, OWN + ": seldom more than two"),
    "planner/drawing/balloons CLEAR_MM": (1.0, PRACTICE),
    "planner/drawing/balloons CROSSING_MM": (7.0, OWN + ": less than a call-out's, there are more"),
    "planner/drawing/balloons RADIUS_MM": (4.0, "holds two figures of 3.5: 6.1 wide"),
    "planner/drawing/balloons RING_MM": (4.9, "0.9 round the balloon, two line widths clear"),
    "planner/drawing/balloons TRIED": (40, OWN),
    "planner/drawing/cutaway BEHIND_MM": (14.0, OWN + ": a little of the shaft and the shank"),
    "planner/drawing/cutaway GAP_MM": (34.0, OWN + ": two rows of balloons and a letter"),
    "planner/drawing/cutaway MARGIN_MM": (16.0, "a balloon of 9.8 with its line"),
    "planner/drawing/cutaway TOUCH_MM": (0.4, "more than a thread in its tap drill leaves drawn"),
    "planner/drawing/exploded MARGIN_MM": (13.0, "a balloon of 9.8 and 3 mm"),
    "planner/drawing/exploded MOST": (600, OWN),
    "planner/drawing/exploded TIPS": (4, OWN),
    "planner/drawing/exploding CELL_MM": (2.0, OWN + ": 1 mm of the paper at 1:2"),
    "planner/drawing/exploding DEAR": (8.0, OWN + ": a washer's cells are worth 100 mm"),
    "planner/drawing/exploding FARTHEST_MM": (120.0, OWN),
    "planner/drawing/exploding GAP_MM": (8.0, OWN + ": 4 mm of the paper at 1:2"),
    "planner/drawing/exploding SIDE": (1000, "two metres of cells"),
    "planner/drawing/exploding STEP_MM": (4.0, "two cells"),
    "planner/drawing/isometric CELLS": (16, OWN),
    "planner/drawing/isometric CLEAR_MM": (4.0, PRACTICE),
    "planner/drawing/isometric SIDES_MM": (
        (70.0, 60.0, 50.0, 42.0, 35.0, 28.0),
        OWN + ": a third of A4's width down to where nothing is known",
    ),
    "planner/drawing/items ROW_MM": (5.0, "two heights of 2.5"),
    "planner/drawing/panel AWAY_MM": (3.0, "as on the parts' sheets"),
    "planner/drawing/panel EMPTY_MM": (4.0, "as on the parts' sheets: lanes.depth_mm"),
    "planner/drawing/panel TITLE_MM": (5.0, "two heights of 2.5"),
    "planner/drawing/setup POINT_DEG": (60.0, "ISO 866: centre drills of 60 degrees"),
    "planner/drawing/setup_tools DRILL_POINT_DEG": (118.0, PRACTICE),
    "planner/drawing/setup_tools SHANK_LONG": (4.0, OWN),
    "planner/solids/cutting_plane ON_AXIS_MM": (0.5, OWN + ": an axis is in the plane or far off"),
    "planner/solids/together MESH_MM": (0.12, "a quarter of a line's width at full size"),
    "planner/solids/together MESH_RAD": (0.45, "a small round is 14 straights"),
    "planner/solids/together NEAR_MM": (0.02, "twice what exact views follow curves within"),
    "planner/drawing/symbols FRAME_PITCH": (2.0, "ISO 1101, memory: a frame two heights high"),
    "planner/drawing/symbols DASHED_OFF_MM": (1.5, "twice the 0.7 of ISO 128's least spacing"),
    "planner/drawing/frame BAND_MM": (5.0, "ISO 5457:1999, memory"),
    "planner/drawing/frame CENTRING_MM": (5.0, "ISO 5457:1999, memory: ten in all, five inside"),
    "planner/drawing/frame INSET_MM": (1.0, OWN),
    "planner/drawing/dial_sheet RING_MM": (118.0, OWN + ": A4 less a column of words"),
    "planner/drawing/dial_sheet HEAD_MM": (44.0, OWN + ": that column"),
    "planner/drawing/dial_sheet LANE_MM": (9.0, PRACTICE + ": 7 to 10 mm between dimension lines"),
    "planner/drawing/dial_sheet NOTES_MM": (108.0, OWN),
    "planner/drawing/dial_sheet NOTE_MM": (2.5, "ISO 3098: the least on A4, " + PRACTICE),
    "planner/drawing/dial_sheet CLEAR_MM": (7.0, OWN + ": past the centring marks"),
    "planner/drawing/dial_strip PAPER_THICK_MM": (0.1, PRACTICE + ": office paper of 80 g/m2"),
    "planner/drawing/dial_strip LAP_MM": (8.0, OWN + ": holds by glue"),
    "planner/drawing/dial_strip CLEAR_MM": (6.0, OWN + ": past the centring marks"),
    "planner/drawing/dial_strip NUMERAL_CLEAR_MM": (0.5, "as a numeral off its line"),
    "planner/drawing/dial_strip DIMENSION_OFF_MM": (10.0, PRACTICE + ": first line off the outline"),
    "planner/drawing/dial_strip CUT_MM": (20.0, OWN),
    "planner/drawing/dial_strip FLOOR_MM": (62.0, "the upright bar of 50 and its clearances"),
    "planner/drawing/dial_strip BELOW_MM": (24.0, "letters, dimension and a space below a piece"),
    "planner/geometry/envelope OFF_STEM_MM": (0.05, PRACTICE + ": no more than a stem is turned to"),
    "planner/checking/work SLICES": (32, "our own: Simpson's rule over the ball's back"),
    "planner/geometry/swept ROUND": (12, "our own: a polygon outside a round, 3.5 % out at most"),
    "planner/geometry/swept _SLACK": (1e-9, ROUNDING),
    "planner/geometry/ball USUAL_STEM": (0.35, PRACTICE + ": necks of ball handles"),
    "planner/geometry/profiles LEAST_CUT_HOLE_MM": (10.0, PRACTICE + ": no plasma cuts less well"),
    "planner/geometry/profiles SAME_MM": (1e-6, ROUNDING),
    "planner/job/grammar DEEPEST": (64, "an effort: a job file goes three deep"),
    "planner/job/grammar LONGEST": (120, "an effort: a message stays under 300 signs"),
    "planner/sizing/bound MOST_WAYS": (2, "an effort: a message stays under 300 signs"),
    "planner/job/lines LONGEST_LINE": (4000, "an effort: no hand writes one"),
    "planner/job/causes MOST_ALIKE": (5, "an effort: what one reads before the eye jumps"),
    "planner/job/causes FEWEST_WRONG": (3, OWN),
    "planner/job/wording LONGEST_VALUE": (48, "an effort: a line of a terminal with the rest"),
    "planner/job/wording MOST_KEYS": (8, "an effort: a line of a terminal"),
    "parts/standard/materials MOST_KIN": (4, "an effort: a line of a terminal"),
    "planner/job/tables INCH_KERF": (5 / 64, PRACTICE + ": a hacksaw's or a band saw's"),
    "planner/words/quantities MM_PER_FOOT": (304.8, "exact since 1959"),
    "planner/words/quantities KG_PER_LB": (0.45359237, "exact since 1959"),
    "planner/words/quantities NEWTONS_PER_POUND": (4.4482216152605, "lb times 9.80665 m/s2, exact"),
    "planner/job/fields FAR_MM": (1e7, OWN),
    "planner/job/fields LONGEST_MM": (20_000.0, "no bar is longer than 12 m"),
    # ---- making ----
    "planner/making/steps/model ROUGH_MM": (0.5, PRACTICE + ": left on a diameter to finish"),
    "planner/making/holding FACING_MM": (1.0, PRACTICE + ": a saw cut cleans up in 1 mm"),
    "planner/making/holding PARTING_MM": (3.0, PRACTICE + ": parting blades are 2 to 3 wide"),
    "planner/making/machines SCREW_CUTTING_RPM": (120.0, PRACTICE + ": 60 to 150 by hand"),
    # ---- measuring ----
    "planner/measuring/correct/advice OVER_MM": (100.0, PRACTICE + ": out of square over 100 mm"),
    "planner/measuring/correct/slips SLIP": (0.2, OWN),
    "planner/measuring/correct/slips NEAR": (0.1, OWN),
    "planner/measuring/correct/slips CLOSE": (0.02, OWN),
    "planner/measuring/correct/model ANVIL_OFF_DEG": (2.0, PRACTICE + ": by eye along a protractor"),
    "planner/geometry/ball USUAL_ANVIL_MM": (6.4, "micrometer anvils: from memory"),
    "planner/measuring/log SHARED": (0.5, OWN),
    "planner/measuring/log DIGITS": (7, ROUNDING),
    "planner/measuring/correct/fit SAME_SIZE": (0.05, OWN),
    "planner/measuring/correct/fit MOST_TILT": (0.7, OWN + ": 44 degrees"),
    "planner/measuring/correct/fit ONE_ANGLE": (1e-6, ROUNDING),
    "planner/measuring/correct/model SURE": (2.0, "about 95 %, GUM"),
    # ---- pictures ----
    "planner/output/pictures/dial ACROSS": (3, "beside each other on A5"),
    "planner/output/pictures/dial HEAD_MM": (118.0, "A5, 148 wide, less margins"),
    "planner/output/pictures/dial WINDOW_MM": (20.0, OWN),
    "planner/output/pictures/dial EDGE_MM": (0.2, OWN),
    "planner/output/pictures/dial EDGE_PART": (0.97, OWN),
    "planner/output/pictures/dial LEAST_SLOPE": (0.4, OWN),
    "planner/output/pictures/dial STROKE": (0.14, OWN + ": ISO 3098 lettering B has 0.1"),
    "planner/output/pictures/dial WAVE_MM": (0.35, OWN),
    "planner/dial/digits WIDE": (0.5, "ISO 3098-0 type B, with 0.2 between: 0.7 a digit"),
    "planner/output/pictures/cut OUT_MM": (24.0, OWN),
    "planner/output/pictures/sawing LONG_MM": (170.0, "an A4 page less margins"),
    "planner/output/pictures/sawing PAGE_MM": (250.0, "an A4 page less margins"),
    "planner/output/pictures/sawing MOST_ROWS": (40, "lines on a page"),
    "planner/output/pictures/svg MARGIN_MM": (14.0, PRACTICE),
    "planner/output/pictures/tight SHOWN_GAP_MM": (10.0, OWN),
    "planner/output/pictures/tight_scene DEPTH_MM": (10.0, OWN),
    "planner/output/pictures/tight_scene _SLACK": (1e-6, ROUNDING),
    "planner/output/pictures/turning APART_MM": (1.0, OWN),
    "planner/output/pictures/turning SHOWN": (0.12, OWN),
    "planner/output/package/claim _TRIES": (100, "an effort"),
    "planner/output/package/names LONGEST": (120, "well under the 255 of every file system"),
    "planner/output/readiness LEAST_PYTHON": ((3, 11), "what the project asks for"),
    "planner/output/readiness WIDE": (100, "columns of a terminal"),
    "planner/output/readiness ROOM_MB": (50, "a package is under 10 MB"),
    "planner/job/oldkeys MINORS": (2, "an old key works on for two minor versions"),
    "planner/record/files LONGEST_WAIT_S": (10.0, OWN),
    "planner/record/judge READ_TO_MM": (1e-6, ROUNDING),
    # ---- sizing ----
    "planner/sizing/bound LEAST_BALL_MM": (4.0, PRACTICE + ": below it a form tool serves"),
    "planner/sizing/catalogue OWN_STOCK_MARGIN": (2.0, OWN),
    "planner/sizing/catalogue OWN_TAP_MARGIN": (1.5, OWN),
    "planner/sizing/requirements/head LEAST_SKIN_MM": (0.7, PRACTICE + ": a turn of M4"),
    "parts/screw FINE_DIVISIONS": (100, "this design"),
    "parts/screw FINE_SPACING_MM": (0.9, PRACTICE + ": not under 0.8"),
    "planner/sums/columns FEW_COLUMNS": (32, "measured"),
    "planner/geometry/slabs CORNER_SLABS": (4, "this design"),
    "planner/sizing/post BORING_BAR": (0.6, PRACTICE + ": bars of 0.6 to 0.8 of their bore"),
    "planner/sizing/post BORING_GAP_MM": (2.0, OWN),
    "planner/sizing/post BORING_LENGTH_MM": (40.0, PRACTICE + ": a dog and the cutter's run"),
    "planner/sizing/requirements/post KNOB_GAP_MM": (1.0, OWN),
    "planner/sizing/requirements/post LEAST_SCREWS": (2, PRACTICE + ": one lets the shank turn"),
    "planner/sizing/requirements/post POST_CLEARANCE_MM": (0.5, PRACTICE),
    "planner/sizing/requirements/feed LONGEST_RING": (5.0, OWN),
    "planner/sizing/requirements/pivot LONGEST_NUT": (2.0, PRACTICE),
    "planner/sizing/requirements/pivot WIDEST_NUT": (3.0, OWN),
    "planner/sizing/rules/handle KNOB_GAP_MM": (2.0, OWN),
    "planner/sizing/requirements/model CLEAN_UP_MM": (0.5, PRACTICE + ": least to turn off a bar"),
    "planner/sizing/requirements/housing DEEPEST_BORE": (6.0, PRACTICE + ": bores of a boring bar"),
    "planner/sizing/requirements/housing LONGEST_SHANK": (10.0, OWN),
    "planner/sizing/requirements/check MOST_STICKOUT": (5.0, PRACTICE + ": four to five widths"),
    "planner/sizing/requirements/check CLOSEST_LINES_MM": (0.8, PRACTICE + ": rules have 0.5 at least"),
    "planner/sizing/requirements/block LEAST_SPIGOT_MM": (6.0, OWN),
    "planner/sizing/requirements/block LEAST_SPIGOT": (0.35, PRACTICE + ": a third of the diameter"),
    "planner/sizing/requirements/clamp LEAST_METAL_MM": (1.0, PRACTICE),
    "planner/sizing/requirements/housing LEAST_WALL_MM": (3.0, PRACTICE),
    "planner/sizing/requirements/housing LEAST_BED_MM": (1.0, OWN),
    "planner/sizing/rules/rod SLENDERNESS": (2.75, PRACTICE + ": under the 4 at which bars chatter"),
    "planner/sizing/rules/rod LEAST_ROD_MM": (9.5, "3/8 in is 9.525"),
    # ---- solids, stock, sums ----
    "planner/solids/cutters PAST_MM": (1.0, OWN),
    "planner/solids/cutters GROOVE_MM": (0.15, PRACTICE + ": 0.1 to 0.2 deep"),
    "planner/solids/interference LEAST_MM3": (0.01, ROUNDING),
    "planner/solids/interference SWINGS_DEG": ((0.0, 90.0, 150.0), "nose, top, near the neck"),
    "planner/solids/step STEEL_GREY": ((0.62, 0.64, 0.66), "a grey"),
    "planner/solids/step PRECISION_MM": (1e-6, ROUNDING),
    "planner/solids/tidy SNAP_MM": (0.005, ROUNDING),
    "planner/solids/tidy LEAST_MM": (0.01, ROUNDING),
    "planner/solids/views TILT_RAD": (1e-5, ROUNDING),
    "planner/stock/cutlist MOST_WAYS": (128, "an effort"),
    "planner/stock/cutlist LEAST_REMNANT_MM": (20.0, PRACTICE + ": no vice holds a shorter one"),
    "planner/stock/flats THIN_MM": ((0.8, 6.0), PRACTICE),
    "planner/sums/mechanics ROOTS": (0.82, "fitted to the plane-stress model of checking/test_fem.py"),
    # ---- turning ----
    "planner/checking/behind BIT_CLEARANCE_MM": (0.2, PRACTICE + ": the bit cuts there"),
    "planner/checking/behind LEVELS": (40, "an effort: between two levels the lower counts"),
    "planner/checking/behind STEPS": (4, PRACTICE + ": few stops to set"),
    "planner/checking/behind SAME_MM": (0.3, PRACTICE + ": less is not worth a stop"),
    "planner/checking/behind LEAST_RUN_MM": (0.5, PRACTICE),
    "planner/checking/behind LEAST_RISE_MM": (1.0, PRACTICE + ": one stop of the carriage a step"),
    "planner/checking/budget SPRING_LEAVES": (0.1, PRACTICE + ": of a cut's spring, after a pass more"),
    "planner/output/sheets/turn_finish BLEND_MM": (0.01, PRACTICE + ": no fingernail finds it"),
    "planner/output/sheets/turn_finish GROOVE_MM": (2.0, OWN),
    "planner/output/sheets/turn_finish NECK_MM": (3.0, PRACTICE + ": what is left for the saw"),
    "planner/output/sheets/turn_finish RUN_OUT_MM": (0.02, PRACTICE + ": held anew and trued"),
    "planner/output/sheets/turn_setup STICKOUT_MM": (0.2, PRACTICE + ": by a packing or a depth gauge"),
    "planner/turning/ball LEAST_STEP_MM": (0.5, PRACTICE),
    "planner/turning/ball SPECK": (0.2, OWN + ": a swing for less is not worth its time"),
    "planner/turning/ball LOWERED": (3, "an effort"),
    "planner/turning/ball WIDER_MM": (0.5, "an effort"),
    "planner/turning/limits SPRING_RADII": (5, "an effort: turning/test_just_at holds what it loses"),
    "planner/turning/ball GROOVE_WIDTHS": (1.5, PRACTICE + ": room beside a blade for its chip"),
    "planner/turning/ball MOST_FLANK_DEG": (60.0, PRACTICE + ": a screw-cutting tool, ISO 68-1"),
    "planner/turning/ball TAPER_SPARE_MM": (0.1, PRACTICE + ": a finishing cut"),
    "planner/turning/ball THREAD_DEPTH": (1.5, PRACTICE + ": one and a half diameters hold in brass"),
    "planner/turning/ball TAP_RUN_OUT": (3.0, PRACTICE + ": the lead of a second tap"),
    "planner/turning/ball RING_MM": (2.0, OWN),
    "planner/turning/ball FACE_MM": (1.0, OWN),
    "planner/turning/ball CENTRE_MOUTH_MM": (4.0, "a centre drill of 1.6 to 2 mm, from memory"),
    "planner/turning/nose LEAST_STOP_MM": (0.5, OWN),
    "planner/turning/nose LEAST_RISE_MM": (0.2, OWN),
    "planner/turning/nose MOST_LEFT": (1.5, OWN),
    "planner/output/sheets/turn_centre OVERLAP_DEG": (5.0, OWN),
    "planner/output/sheets/turn_finish SIZED_MM": (0.01, OWN),
    "planner/checking/behind CLOSE_MM": (0.05, "geometry/envelope OFF_STEM_MM, the nose's own room"),
    "planner/turning/ball LEAST_GROOVE_MM": (0.5, OWN),
    "planner/turning/blanks FACING_MM": (1.0, PRACTICE),
    "planner/turning/blanks LEAST_GRIP_MM": (10.0, PRACTICE + ": and not under a diameter"),
    "planner/turning/findings HOLE_WALL_MM": (0.5, OWN),
    "planner/turning/findings MOST_QUARTER_S": (180.0, "half a degree a second, from memory"),
    "planner/turning/measured_head BEYOND_BALL_MM": (10.0, OWN),
    "planner/turning/measured_head KNOB_MM": (15.0, "a knob of 30 mm, from memory"),
    "planner/turning/measured_head TIMES": (3.0, "shank and joints: two thirds, checking/test_spring"),
    "planner/turning/second OFF_MOUTH_DEG": (5.0, OWN),
    "planner/turning/second TRY_DEG": (5.0, "an effort"),
    "planner/turning/findings PARTING_REACH": (8.0, PRACTICE + ": 8 to 10 widths of the blade"),
    "planner/turning/floors SLICES": (8, OWN),
    "planner/turning/floors _SLACK": (1e-9, ROUNDING),
    "planner/turning/hand HAND_ROOM_MM": (40.0, "from memory: room round a hand on a knob"),
    "planner/turning/limits AIR_RATE": (5.0, PRACTICE),
    "planner/turning/limits HAND_FACTOR": (2.0, PRACTICE + ": a hand goes up to twice as fast"),
    "planner/turning/limits MOST_DEG_PER_S": (18.0, PRACTICE + ": a quarter turn in five seconds"),
    "planner/turning/limits MOTOR_EFFICIENCY": (0.7, PRACTICE + ": belts, gears and a small motor"),
    "planner/turning/limits PART_OF_BIT": (0.25, PRACTICE + ": a quarter of a bit's width"),
    "planner/turning/passplan ONE_SPEED": (1.05, OWN + ": no belt is changed for less"),
    "planner/turning/second BEYOND_MM": (1.0, PRACTICE + ": enough to finish from"),
    "planner/turning/second OVER_DEG": (10.0, OWN + ": over what is finished, to blend"),
    "planner/turning/second MOUTH_PART": (0.1, PRACTICE + ": just past the middle"),
    "planner/turning/second LEAST_WALL_MM": (5.0, PRACTICE),
    "planner/turning/second THINNEST_WALL_MM": (2.0, PRACTICE),
    "planner/turning/second JAW_FORCE_N": (3000.0, "three soft jaws tightened with care, from memory"),
    "planner/turning/second JAW_FRICTION": (0.15, PRACTICE + ": clean dry soft metal"),
    "planner/checking/clearance OFF_JAWS_MM": (3.0, PRACTICE),
    "planner/turning/ball READINGS": (5, OWN),
    "planner/turning/ball OFF_STEM_DEG": (5.0, OWN),
    "planner/turning/passes _SLACK": (1e-9, ROUNDING),
    "planner/turning/roughing LEAST_STEP_MM": (0.02, PRACTICE + ": less is rubbed, not cut"),
    "planner/turning/roughing _SLACK": (1e-9, ROUNDING),
    # ---- words ----
    "planner/words/numbers MICROMETER_MM": (25.0, "outside micrometers, ISO 3611"),
    "planner/words/tables WIDEST": (48, OWN),
    "planner/words/units MM_PER_INCH": (25.4, "exact since 1959"),
    # ---- named two at a time, or as sums ----
    "parts/standard/cutting_forces LEAST_CHIP_MM": (0.005, "Kienzle's formula: not much under 0.01"),
    "parts/standard/cutting_forces MOST_CHIP_MM": (2.0, "Kienzle's formula: measured to 1 or 2"),
    "planner/cli/answer CLEAN": (0, "POSIX: success"),
    "planner/cli/answer FINDINGS": (1, OWN + ", as grep and diff have it"),
    "planner/cli/answer BAD_INPUT": (2, OWN + ", as grep and diff have it"),
    "planner/cli/net TERMINATED": (143, "128 and SIGTERM's 15, as shells have it"),
    "planner/dial/design DIGIT": (0.7, "ISO 3098-0 lettering B: digits 0.7 of their height, space in"),
    "planner/dial/design LINE_PITCH": (1.4, "ISO 3098-0: 0.4 of the height between"),
    "planner/dial/design SMALLEST_MM": (0.001, OWN),
    "planner/dial/design LARGEST_MM": (1000, OWN),
    "planner/dial/reading LEAST_SPACING_MM": (0.8, PRACTICE + ": read at arm's length"),
    "planner/dial/reading WIDTHS_APART": (5, PRACTICE + ": as on a micrometer's thimble"),
    "planner/dxf/drawing WIDE": (50, "ISO 128-2: 0.5 mm, in hundredths"),
    "planner/dxf/drawing NARROW": (25, "ISO 128-2: half of it"),
    "planner/dxf/drawing TITLE_MM": (5.0, "ISO 3098-1: 3.5, 5, 7 mm"),
    "planner/dxf/drawing TEXT_MM": (3.5, "ISO 3098-1: 2.5, 3.5, 5 mm"),
    "planner/output/pictures/sawing ROW_MM": (4.6, "text of 3.5 and a third between"),
    "planner/output/pictures/sawing BAR_MM": (8.0, OWN),
    "planner/output/pictures/sawing HEAD_MM": (22.0, OWN),
    "planner/output/pictures/svg THICK": (0.6, OWN + ": seen at arm's length"),
    "planner/output/pictures/svg MIDDLE": (0.35, "ISO 128-2: a width of its series"),
    "planner/output/pictures/svg THIN": (0.18, "ISO 128-2: a width of its series"),
    "planner/sizing/own LEAST_MM": (0.05, OWN),
    "planner/sizing/own MOST_MM": (1000.0, OWN),
    "planner/solids/tidy CHORD_MM": (0.01, ROUNDING),
    "planner/solids/tidy FINE_MM": (0.002, ROUNDING),
    "planner/stock/cutlist UNPRICED": (10**12, "dearer than any price a job may have"),
    "planner/stock/flats BRIDGE_MM": (3.0, PRACTICE + ": metal between two cuts of a torch"),
    "planner/stock/flats MARGIN_MM": (5.0, PRACTICE + ": off a sheet's sheared edge"),
    "planner/drawing/beside TITLE_MM": (8.0, OWN + ": letters of 5 and room round them"),
    "planner/drawing/beside LETTER_MM": (4.0, OWN + ": half of a letter of 5 and room"),
    "planner/drawing/beside PAST_MM": (0.5, OWN),
    "planner/drawing/beside SPARE_MM": (2.0, OWN),
    "planner/drawing/beside CORNER_MM": (2.0, OWN),
    "planner/drawing/beside NEARER_MM": (4.0, OWN + ": words stand beside their line"),
    "planner/drawing/beside LANE_PART": (0.25 / 3, OWN),
    "planner/drawing/beside MOST_LANES": (3, OWN),
    "planner/drawing/lanes STEP": (2, "an effort"),
    "planner/drawing/lanes FAR": (90, "an effort: half of A4"),
    "planner/drawing/lanes LAST_MM": (5.0, OWN + ": letters of 3.5 and their room"),
    "planner/drawing/lanes BARE_MM": (4.0, OWN),
    "planner/drawing/dial_sheet BOW_MM": (6.0, OWN + ": inside of the first dimension line"),
    "planner/drawing/dial_sheet BOW_DEG": ((195.0, 235.0), OWN + ": where no dimension stands"),
    "planner/drawing/dial_sheet BOW_WORDS_MM": (2.0, OWN),
    "planner/drawing/dial_sheet ACROSS_DEG": (-45.0, OWN),
    "planner/drawing/dial_sheet EDGE_MM": (1.0, OWN),
    "planner/drawing/dial_sheet LAST_MM": (2.0, OWN),
    "planner/drawing/dial_sheet CROSS_MM": (4.0, OWN),
    "planner/drawing/dial_sheet LEAST_INNER_MM": (24.0, OWN),
    "planner/drawing/dial_sheet LOW_LANE_MM": (13.0, OWN),
    "planner/drawing/dial_sheet OVER_MM": (14.0, OWN),
    "planner/drawing/dial_sheet PART_HIGH_MM": (48.0, OWN),
    "planner/drawing/dial_sheet PART_WIDE_MM": (46.0, OWN),
    "planner/drawing/dial_sheet UNDER_MM": (23.0, OWN),
    "planner/drawing/frame BLOCK_HEIGHT_MM": (50.0, OWN),
    "planner/drawing/frame BLOCK_WIDTH_MM": (180.0, "ISO 7200: 180 wide"),
    "planner/drawing/frame LABEL_MM": (1.8, "ISO 3098: 1.8 high"),
    "planner/drawing/frame SMALL_MM": (2.5, "ISO 3098: 2.5 high"),
    "planner/drawing/frame TITLE_MM": (5.0, "ISO 3098: 5 high"),
    "planner/drawing/frame USUAL_MM": (3.5, "ISO 3098: 3.5 high"),
    "planner/drawing/strokes ARROW_MM": (3.0, PRACTICE),
    "planner/drawing/strokes ARROW_WIDTH_MM": (1.0, PRACTICE + ": a third of its length"),
    "planner/drawing/strokes FRAME": (0.7, "ISO 5457: 0.7 wide"),
    "planner/drawing/strokes NARROW": (0.25, "ISO 128: half of the wide"),
    "planner/drawing/strokes WIDE": (0.5, "ISO 128: group 0.5"),
    "planner/output/pictures/cut BALL_MM": (30.0, OWN),
    "planner/output/pictures/cut SMALL_MM": (13.0, OWN),
    "planner/output/pictures/dial COLUMN_GAP_MM": (3.0, OWN),
    "planner/output/pictures/dial KNURL_MM": (3.0, OWN),
    "planner/output/pictures/dial LABEL": (3.2, OWN),
    "planner/output/pictures/dial NUMBER": (6.0, OWN),
    "planner/output/pictures/dial RING_MM": (4.5, OWN),
    "planner/output/pictures/dial ROW_GAP_MM": (4.0, OWN),
    "planner/output/pictures/dial SMALL": (3.2, OWN),
    "planner/output/pictures/dial TITLE": (4.0, OWN),
    "planner/output/pictures/dial WORDS_MM": (17.0, OWN),
    "planner/output/pictures/marks HEAD": (3.6, OWN),
    "planner/output/pictures/marks ROW_MM": (4.2, OWN),
    "planner/output/pictures/marks TITLE": (4.2, OWN),
    "planner/output/pictures/marks WORDS": (3.2, OWN),
    "planner/output/pictures/tight DETAIL_MM": (44.0, OWN),
    "planner/output/pictures/tight HIGH_MM": (80.0, OWN),
    "planner/output/pictures/tight MOST_TIMES": (8.0, OWN),
    "planner/output/pictures/tight WIDE_MM": (92.0, OWN),
    "planner/turning/ball STEP_PART": (1 / 12, PRACTICE + ": a twelfth of the radius"),
    "planner/drawing/beside CUT_MM": (4.0, OWN),
    "planner/drawing/beside TAIL_MM": (7.0, OWN),
    "planner/drawing/lanes FIRST_MM": (11.0, PRACTICE + ": ISO 129: 10 and more"),
    "planner/drawing/lanes PITCH_MM": (8.0, PRACTICE + ": ISO 129: 7 and more"),
    "planner/drawing/leaders TIPS": (10, OWN),
    "planner/drawing/leaders TRIED": (30, OWN),
    "planner/solids/faces SQUARE": (0.999999999, ROUNDING),
}  # fmt: skip

EFFORTS = ("planner/barcut/", "planner/nest/")
"""Rooms whose numbers are efforts and slacks, and whose results a checker of their own proves."""


SUMS = (ast.Constant, ast.BinOp, ast.UnaryOp, ast.Tuple, ast.operator, ast.unaryop, ast.Load)


def worked_out(expression: ast.expr | None) -> Any:
    """What a literal, or a sum of literals such as 1 << 26, comes to; None where it is neither."""
    if expression is None or not all(isinstance(one, SUMS) for one in ast.walk(expression)):
        return None
    return eval(compile(ast.Expression(expression), "", "eval"), {"__builtins__": {}})


def constants() -> dict[str, Any]:
    """Every module's named numbers, and tuples of them, by file and name; read off the source."""
    found: dict[str, Any] = {}
    for path in sources():
        for node in tree(path).body:
            target = node.targets[0] if isinstance(node, ast.Assign) else None
            target = node.target if isinstance(node, ast.AnnAssign) else target
            value = worked_out(getattr(node, "value", None)) if target else None
            named = [(target, value)]
            if isinstance(target, ast.Tuple) and isinstance(value, tuple):
                named = list(zip(target.elts, value, strict=True))
            for name, number in named:
                numbers = number if isinstance(number, tuple) and number else (number,)
                plain = all(type(one) in (int, float) for one in numbers)
                if plain and isinstance(name, ast.Name) and name.id.isupper():
                    found[f"{place(path)} {name.id}"] = number
    return found


CONSTANTS = constants()


def test_every_named_number_is_written_here() -> None:
    found = {name for name in CONSTANTS if not name.startswith(EFFORTS)}
    assert found - set(BY_HAND) == set() and len(found) > 80


@pytest.mark.parametrize("name", BY_HAND)
def test_a_named_number_is_what_is_written_here(name: str) -> None:
    value, source = BY_HAND[name]
    if name not in CONSTANTS:
        pytest.skip("gone, with its file or its name; a new name is not written here")
    assert source and CONSTANTS[name] == value, source


def test_the_order_of_work_in_a_set_up() -> None:
    # saw, face, centre; outlines; turned before holes; a hole spotted, drilled, bored, reamed; threads
    # after their diameters; marks on finished rims; ground; welded; parted off, faced to length, slit
    from planner.making.sequence import RANK

    assert sorted(RANK, key=lambda kind: RANK[kind]) == [
        "saw", "face", "centre", "notch", "mill", "turn", "spot", "drill", "bore", "ream",
        "counterbore", "shoulder", "thread", "tap", "knurl", "engrave", "ball", "grind", "weld",
        "check", "part", "end", "slit",
    ]  # fmt: skip
    assert len(set(RANK.values())) == len(RANK)


def test_tables_of_numbers() -> None:
    from planner.checking.search import WIDTHS
    from planner.dial.design import INCH_MM, LENGTHS
    from planner.dial.reading import ROUND_STEPS
    from planner.drawing import choose
    from planner.dxf.drawing import LAYERS, LINETYPES
    from planner.nest.dxf import LAYERS as SHEET_LAYERS

    # lines of a dial: short, middle and long as 1 : 1.4 : 2 (common practice)
    assert LENGTHS == {"short": 0.25, "middle": 0.35, "long": 0.5}
    # steps that are counted without pencil and paper; 25.4 mm to the inch
    assert [float(step) for step in ROUND_STEPS] == [1, 2, 2.5, 4, 5, 10] and INCH_MM * 10 == 254
    # colour indices of DXF: 1 red, 3 green, 7 black or white, 8 grey; 0.5 and 0.25 mm wide (ISO 128-2)
    assert LAYERS == {
        "CUT": (7, "CONTINUOUS", 50),
        "MARK": (3, "CONTINUOUS", 25),
    }
    assert SHEET_LAYERS == {
        "CUT_INSIDE": (1, "CONTINUOUS", 50),
        "CUT_OUTSIDE": (7, "CONTINUOUS", 50),
        "MARK": (3, "CONTINUOUS", 25),
        "SHEET": (8, "CONTINUOUS", 25),
    }
    # dashes, gaps and dots: 12, 24, 3 and 3 of the narrow lines' widths (ISO 128-2)
    assert LINETYPES == {
        "HIDDEN": ("Hidden __ __ __", (3.0, -0.75)),
        "CENTER": ("Center ____ _ ____", (6.0, -0.75, 1.5, -0.75)),
        "CUTTING": ("Cutting plane, wide ____ _ ____", (12.0, -1.5, 3.0, -1.5)),
        "PHANTOM": ("Phantom ____ _ _ ____", (6.0, -0.75, 1.5, -0.75, 1.5, -0.75)),
    }
    # a view from the front is the cheapest; one more costs more than a section, and less than two
    # hidden lines (a choice of this design)
    assert choose.MAIN_COST == {"front": 2.0, "top": 2.1, "back": 2.3, "bottom": 2.4}
    beside = {"top": 2.2, "left": 2.2, "right": 2.3, "bottom": 2.4}
    assert {"": 0.0, **beside} == choose.ROLE_COST
    assert WIDTHS == {
        "rod_diameter_mm": 5, "clamp_screw": 2, "pivot_diameter_mm": 5, "feed_thread": 2,
        "block_stock": 4, "bit_stock": 2, "arm_stock": 8, "shank_stock": 5, "tube_stock": 12,
    }  # fmt: skip


def test_tables_of_what_is_drawn() -> None:
    from planner.drawing import cutaway, exploding, isometric, wording

    # ISO 2768-1: the ranges of its table (memory)
    assert wording.GENERAL_ROWS == ((0.5, 3), (3, 6), (6, 30), (30, 120), (120, 400))
    # ISO 128-50 (memory): 45 degrees first; pieces that adjoin otherwise, or closer; no two alike, none
    # near level, upright or another
    first, *others = cutaway.HATCHINGS
    assert first == (45.0, 2.5) and others == [
        *((135.0, 2.5), (45.0, 1.6), (135.0, 1.6)),
        *((20.0, 2.5), (110.0, 2.5), (70.0, 2.5), (160.0, 2.5)),
    ]
    # seen from the tailstock, and from above: the spindle is z, the pivot x, up is y
    assert cutaway.PLANES == (
        ("A", 2, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
        ("B", 1, (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
    )
    # all four corners from above, each once, in another order for a part
    assert exploding.CORNERS == ((-1, 1, 1), (1, 1, 1), (1, 1, -1), (-1, 1, -1))
    assert isometric.CORNERS == ((1, 1, 1), (-1, 1, 1), (1, 1, -1), (-1, 1, -1))


def test_views_of_the_whole_are_square_to_each_other() -> None:
    # the spindle is z towards the tailstock, up is y; across, x is from the operator to the rear. The
    # side and the top are what one sees when one walks round, or up, by a quarter
    from numpy import cross

    from planner.drawing.arrangement import VIEWS

    for arrangement, views in VIEWS.items():
        for towards, right in views.values():
            for one in (towards, right):
                assert sorted(map(abs, one)) == [0.0, 0.0, 1.0]
            assert sum(a * b for a, b in zip(towards, right, strict=True)) == 0.0
        up = {name: tuple(cross(towards, right)) for name, (towards, right) in views.items()}
        assert views["end"][0] == (0.0, 0.0, 1.0)  # from the tailstock
        assert views["side"][1] == (0.0, 0.0, 1.0)  # the tailstock to the right
        assert up["end"] == up["side"] == views["top"][0]
        assert views["top"][1] == views["end"][1]
        assert views["end"][1] == tuple(-x for x in views["side"][0])
        assert up["end"] == {"across": (0.0, 1.0, 0.0), "upright": (1.0, 0.0, 0.0)}[arrangement]
