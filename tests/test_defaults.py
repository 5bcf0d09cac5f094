"""What is taken where a caller says nothing: every number that is a default, by hand, with its reason.

A default that no caller happens to rely on today is met by the next one, so it is held here. Between
what bounds the keys of a job lie is held by tests/job.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Any

import pytest
from sources import nodes, place, sources

NONE = "there is none of it unless it is said"
ONE = "one of a thing unless it is said how many"
FIRST = "the first number a format has"
PRACTICE = "common practice"
OWN = "a choice of this design"

BY_HAND: dict[str, tuple[Any, str]] = {
    "planner/making/assembly _put minutes": (5.0, "to put one thing on (common practice)"),
    "planner/making/aids Aid grip_mm": (0.0, NONE),
    "planner/making/aids Aid quantity": (1, ONE),
    "planner/record/model Entry number": (1, "the first, of the only one"),
    "planner/making/aids Aid size_mm": (0.0, NONE),
    "planner/walking/drawn drawn_out quantity": (1, ONE),
    "planner/walking/shop Shop quantity": (1, ONE),
    "planner/walking/shop Shop post_mm": (0.0, "not looked at"),
    "planner/walking/shop Shop post_out_mm": (0.0, "not looked at"),
    "planner/walking/shop Shop post_under_mm": (0.0, "not looked at"),
    "planner/walking/shop Shop cross_division_mm": (0.0, "not said"),
    "planner/making/aids _aid quantity": (1, ONE),
    "planner/making/route Route least_changes": (0, NONE),
    "planner/making/workshop end_mill deep_mm": (0.0, "no deeper than a short one cuts"),
    "planner/walking/cuts Cut before": (0.0, NONE),
    "planner/walking/cuts Cut high": (0.0, NONE),
    "planner/walking/cuts Cut keeps": (0, "either side"),
    "planner/walking/cuts Cut low": (0.0, NONE),
    "planner/walking/cuts Cut radius": (0.0, NONE),
    "planner/walking/cuts _steps many": (7, "an effort"),
    "planner/walking/finished ring inner": (0.0, "solid"),
    "planner/walking/overhang overhang after": (0.0, NONE),
    "planner/walking/state Piece turned_rpm": (0.0, "nothing was turned on it"),
    "planner/walking/shape Ring inner": (0.0, "solid"),
    "planner/walking/shape point radius": (0.0, "on the axis"),
    "planner/walking/shape point turn": (0.0, NONE),
    "planner/walking/metal sheet steps": (19, "an effort"),
    "planner/walking/state Mark sign": (0, "either side"),
    "planner/walking/surfaces Plane radius": (0.0, NONE),
    "planner/walking/surfaces bare off": (0.06, OWN + ": just outside what is looked at"),
    # ---- the parts ----
    "parts/bought order quantity": (1, ONE),
    "parts/bought order at_least_mm": (0.0, NONE),
    "parts/features Feature roughness_um": (0.0, NONE),
    "parts/features Slit least_mm": (0.0, NONE),
    "parts/features EngravedScale line_step_mm": (0.0, "any length"),
    "parts/features SawnNotch corner_radius_mm": (0.0, "a sharp corner"),
    "parts/makeable _hole lead_mm": (0.0, NONE),
    "parts/part Part quantity": (1, ONE),
    "parts/part Bought quantity": (1, ONE),
    "parts/part Bought length_mm": (0.0, "nuts and washers have none"),
    "parts/standard/sections Section thickness_mm": (0.0, "a round or square is solid"),
    "parts/standard/threads threads tolerance_mm": (1e-4, "a tenth of a micrometre is rounding"),
    # ---- barcut, nest: how long a search goes on; none moves a proven result ----
    "planner/barcut/holding decide tries": (12, "an effort"),
    "planner/barcut/solve cut_bars seed": (0, "any"),
    "planner/nest/tries _by_size seed": (0, "none: the order as it is"),
    "planner/nest/guillotine Filled work": (0, "nothing done yet"),
    "planner/nest/guillotine Saw names": (0, "none given yet"),
    "planner/nest/nofit Shapes work": (0, "nothing done yet"),
    "planner/nest/sawblocks Block piece": (-1, "no piece: the first has 0"),
    "planner/nest/model Piece quantity": (1, ONE),
    "planner/drawing/sheets fields many": (1, ONE),
    "planner/drawing/sheets drawn_sheet many": (1, ONE),
    "planner/drawing/whole Drawing many": (1, ONE),
    "planner/output/part_sheets Ground many": (1, ONE),
    "planner/nest/model Sheet cost": (0.0, "what lies in the shop is paid"),
    "planner/nest/model Sheet margin_mm": (0.0, NONE),
    "planner/nest/dxf write_sheet kerf_offset_mm": (0.0, NONE),
    "planner/nest/dxf write_sheet lead_in_mm": (0.0, NONE),
    "planner/nest/dxf write_piece kerf_offset_mm": (0.0, NONE),
    "planner/nest/dxf write_piece lead_in_mm": (0.0, NONE),
    # ---- checking, sums ----
    "planner/checking/budget Tolerances work_mm": (0.0, NONE),
    "planner/checking/budget budget trials": (100_000, "1/sqrt: 95 % to a third of a percent"),
    "planner/checking/strength/model Link play_mm": (0.0, NONE),
    "planner/checking/strength/model StrengthReport nose_mm": (0.0, NONE),
    "planner/checking/strength/model StrengthReport neck_mm": (0.0, NONE),
    "planner/checking/strength/shank joint_flexibility stiffer": (1.0, "as it is"),
    "planner/checking/strength/shank joint_give stiffer": (1.0, "as it is"),
    "planner/sums/mechanics stretch_mm modulus_MPa": (208_000.0, "steel, any handbook: 205 to 210"),
    "planner/sums/mechanics preload_N friction": (0.2, "K of a plated screw, Shigley table 8-15"),
    "planner/sums/mechanics slit_grip_N friction": (0.12, "steel on steel, oiled: 0.1 to 0.15"),
    "planner/sums/mechanics slit_grip_N contact": (1.0, "both halves bear, on two lines"),
    # ---- dial ----
    "planner/book/model Step boxes": (1, ONE),
    "planner/dial/design design_dial rim_width_mm": (10.0, OWN),
    "planner/dial/design design_dial line_step_mm": (0.0, "any length"),
    "planner/dial/design design_dial line_width_mm": (0.15, PRACTICE + ": 0.1 to 0.2"),
    "planner/dial/indexing direct_indexing direct_circle": (24, PRACTICE + ": the plate of 24"),
    # ---- geometry, solids, drawings ----
    "planner/geometry/ball form_error_mm neck_deg": (180.0, "the whole half turn"),
    "planner/geometry/envelope Edge round_mm": (0.0, "a sharp edge"),
    "planner/geometry/envelope Reach height_mm": (0.0, "level with the axis"),
    "planner/solids/cutters _hole deeper_mm": (0.0, NONE),
    "planner/solids/tidy _Carrier along": ((0.0, 0.0), "a circle has no direction"),
    "planner/solids/tidy _Carrier radius_mm": (0.0, "a line has no radius"),
    "planner/output/pictures/svg text size": (4.0, "mm: ISO 3098 has 3.5 and 5"),
    "planner/scene/model Thing away": ((0.0, 0.0, 0.0), "stays"),
    "planner/scene/pictures picture out": (0.0, NONE),
    "planner/scene/pictures shot out": (0.0, NONE),
    "planner/scene/png png dots_per_mm": (0.0, "not stated"),
    # ---- formats ----
    "planner/output/schemas FileFormat numbers": ((1,), FIRST),
    "planner/output/topic Instead number": (1, FIRST),
    "planner/output/topic Topic number": (1, FIRST),
    # ---- what a job, readings or a record take where a key is left out ----
    "planner/making/model Align size_mm": (0.0, NONE),
    "planner/making/model Op allowance_mm": (0.0, "finished"),
    "planner/making/model Op feed_mm": (0.0, "its rate's own"),
    "planner/making/workshop minutes feed_mm": (0.0, "its rate's own"),
    "planner/making/ways/slits _travel ends": (2, "run in and run out"),
    "planner/making/ways/saws travel_mm ends": (2, "run in and run out"),
    "planner/making/ways/travels fed_by under_mm": (0.0, "nothing hangs under the slit"),
    "planner/making/chucked _chuck beside_mm": (0.0, "no steady is beside a cut"),
    "planner/making/ways/bars Passing past_mm": (0.0, "nothing runs on beside the barrel"),
    "planner/making/ways/bars Passing centre_out_mm": (0.0, "any centre does"),
    "planner/walking/shop Shop between_mm": (0.0, NONE),
    "planner/walking/shop Shop drills_to_mm": (0.0, "not looked at"),
    "planner/making/model Op deepest_mm": (0.0, "as deep as cuts of its kind go"),
    "planner/making/workshop minutes deepest_mm": (0.0, "as deep as cuts of its kind go"),
    "planner/walking/shop Shop jaws_mm": (0.0, "not looked at"),
    "planner/walking/held Held steady_mm": (0.0, NONE),
    "planner/walking/shop Shop over_slide_mm": (0.0, NONE),
    "planner/walking/shop Shop slide_mm": (0.0, NONE),
    "planner/walking/shop Shop cross_mm": (0.0, "not looked at"),
    "planner/walking/shop Shop chuck_mm": (0.0, NONE),
    "planner/walking/shop Shop plate_mm": (0.0, NONE),
    "planner/making/model Plate packing_mm": (0.0, NONE),
    "planner/making/model Op length_mm": (0.0, NONE),
    "planner/making/ways/touched by_side side": (0, "the nearer one"),
    "planner/making/aids Aid deep_mm": (0.0, NONE),
    "planner/making/aids Aid drill_mm": (0.0, NONE),
    "planner/making/model Op stock_mm": (0.0, NONE),
    "planner/making/model Op minutes": (0.0, "worked out by its rate"),
    "planner/making/model SetUp minutes": (0.0, "worked out by how it is held"),
    "planner/job/base FileTable format": (1, FIRST),
    "planner/job/lathe ToolPost screws": (2, PRACTICE + ": a toolholder bears on two screws or more"),
    "planner/job/tables AttachmentJob quantity": (1, ONE),
    "planner/job/balls Ball skin": (0.0, "bright bar has none"),
    "planner/job/balls Turning depth_of_cut": (0.25, PRACTICE + ": a light cut of a small lathe"),
    "planner/job/balls Turning feed": (0.08, PRACTICE + ": 0.05 to 0.15 by hand"),
    "planner/job/balls Turning allowance": (0.5, PRACTICE + ": left by roughing, 0.3 to 1"),
    "planner/job/balls Turning finish_depth": (0.05, PRACTICE + ": a last cut of 0.05 to 0.1"),
    "planner/job/balls Turning finish": (0.001, "about Ra 0.25; a polish takes it off"),
    "planner/job/balls Turning roughing_width": (3.0, PRACTICE + ": parting blades are 2 to 3"),
    "planner/job/balls Turning roughing_corner": (0.2, PRACTICE + ": stoned corners"),
    "planner/job/shop BuyBar cutting_charge": (0.0, NONE),
    "planner/job/shop Torch kerf": (0.0, NONE),
    "planner/job/shop Torch lead_in": (0.0, NONE),
    # ---- jobs, stock, sizing, words ----
    "planner/job/shop RackBar quantity": (1, ONE),
    "planner/job/shop RackBar cost": (0.0, "what lies on the rack is paid"),
    "planner/job/shop SheetStock quantity": (1, ONE),
    "planner/job/shop SheetStock cost": (0.0, "what lies in the shop is paid"),
    "planner/job/tables ExtraPiece quantity": (1, ONE),
    "planner/job/shop Shop kerf": (2.0, PRACTICE + ": a band or hack saw with its set"),
    "planner/measuring/correct/model Measured stem_mm": (0.0, NONE),
    "planner/measuring/correct/model Measured anvil_mm": (0.0, NONE),
    "planner/sizing/draft up steps": (1, "a whole step"),
    "planner/sizing/draft down steps": (1, "a whole step"),
    "planner/stock/bars BarLayout count": (1, ONE),
    "planner/stock/pieces Piece shared_grip_mm": (0.0, NONE),
    "planner/words/numbers asked within_mm": (0.0, "no tolerance asked for"),
    "planner/words/numbers exact places": (6, "a nanometre"),
    "planner/words/limited between reads_mm": (0.0, "the finest there is"),
    "planner/turning/measured_head own_give_mm_per_N under_N": (100.0, "as the key says"),
    "planner/words/quantities force places": (0, "whole newtons"),
    "planner/words/quantities angle places": (0, "whole degrees"),
    "planner/checking/budget Tolerances spring_passes": (1, PRACTICE),
    "planner/cli/correct _Answer balls": (0, NONE),
    "planner/cli/correct _Answer setting": (0, NONE),
    "planner/drawing/standing Block back": (0.0, NONE),
    "planner/drawing/pointing _edges into": (0, "whichever way their outside is"),
    "planner/drawing/model Balloon radius": (4.0, OWN),
    "planner/drawing/model DatumSymbol reach": (6.0, OWN),
    "planner/drawing/model Fields number_of_sheets": (1, ONE),
    "planner/drawing/model Fields sheet_number": (1, FIRST),
    "planner/drawing/model Hatch angle_deg": (45.0, "ISO 128: 45 degrees"),
    "planner/drawing/model Hatch spacing": (3.0, PRACTICE),
    "planner/drawing/model Text rotation_deg": (0.0, NONE),
    "planner/drawing/model TextureSymbol rotation_deg": (0.0, NONE),
    "planner/drawing/arrangement _ring z": (0.0, NONE),
    "planner/drawing/items Numbered sheet": (0, NONE),
    "planner/drawing/panel Panel origin": ((0.0, 0.0), NONE),
    "planner/drawing/room places at": ((0.0, 0.0), "the lower left corner itself"),
    "planner/drawing/setup chuck deep_mm": (0.0, "a usual depth is drawn"),
    "planner/drawing/setup chuck_end jaws": (3, PRACTICE),
    "planner/drawing/setup_across tool_post screws": (2, PRACTICE),
    "planner/output/live Served port": (0, "not served yet"),
    "planner/drawing/setup table slots": (3, PRACTICE),
    "planner/drawing/setup turned_edges centres_mm": ((0.0, 0.0), NONE),
    "planner/drawing/setup vice parallels_mm": (0.0, NONE),
    "planner/drawing/sketch At scale": (1.0, "full size"),
    "planner/drawing/sketch At turn_deg": (0.0, NONE),
    "planner/drawing/sketch moved v": (0.0, NONE),
    "planner/solids/together in_place by": ((0, 0, 0), NONE),
    "planner/geometry/swept deepest beyond_mm": (0.0, NONE),
    "planner/job/balls Ball quantity": (1, ONE),
    "planner/job/own_head OwnHead clearance": (2.0, PRACTICE),
    "planner/measuring/correct/advice _advise at_tip": (1.0, "as it is"),
    "planner/measuring/correct/model Fit balls": (1, ONE),
    "planner/measuring/correct/model Measured blank_mm": (0.0, NONE),
    "planner/output/pictures/tight_scene Scene off_mm": (0.0, NONE),
    "planner/sizing/candidates __init__ struck": (0, NONE),
    "planner/sums/bedded Strip lean_y": (1.0, "flat: along y"),
    "planner/sums/bedded Strip lean_z": (0.0, NONE),
    "planner/sums/bedded Strip y_mm": (0.0, NONE),
    "planner/sums/bedded Strip z_mm": (0.0, NONE),
    "planner/sums/bedded at lean_y": (1.0, "flat: along y"),
    "planner/sums/bedded at lean_z": (0.0, NONE),
    "planner/sums/bedded round_bar y_mm": (0.0, NONE),
    "planner/sums/bedded round_bar z_mm": (0.0, NONE),
    "planner/drawing/standing texture turn": (0.0, NONE),
    "planner/drawing/beside Beside origin": ((0.0, 0.0), NONE),
    "planner/drawing/lanes Lined lane": (0, NONE),
    "planner/drawing/lanes Lined shift": (0.0, NONE),
    "planner/drawing/relations Relation apart_mm": (0.0, NONE),
    "planner/drawing/stations Surface outward": (0, NONE),
    "planner/solids/faces Face outward": (0, NONE),
    # ---- turning ----
    "planner/turning/dials Divisions carriage_mm": (0.0, "no dial: any place"),
    "planner/turning/dials Divisions cross_mm": (0.0, "no dial: any place"),
    "planner/turning/floors Floor far_mm": (0.0, "no round at its other end"),
    "planner/turning/measured_head _Measured thrust_x_mm": (0.0, "a head of one's own has no housing"),
    "planner/turning/measured_head _Measured housing_length_mm": (0.0, "nor this"),
    "planner/turning/passes Sweep start_deg": (0.0, "from the nose"),
    "planner/turning/passes Sweep end_deg": (180.0, "to the pole behind"),
    "planner/turning/passes Sweep stem_radius_mm": (0.0, NONE),
    "planner/turning/passes Sweep nose_mm": (0.0, "a sharp tip"),
    "planner/turning/passes Sweep off_stem_mm": (0.0, NONE),
    "planner/turning/passes clear_mm ahead_deg": (0.0, "at the tip's own angle"),
    "planner/turning/piece rising beyond_mm": (0.0, NONE),
    "planner/turning/roughing Work groove_mm": (0.0, NONE),
    "planner/turning/roughing Work face_mm": (0.0, NONE),
}  # fmt: skip


def given(node: ast.AST) -> Iterator[tuple[str, str, ast.expr]]:
    """Of a function or a class: whose default, what it is called, and its expression."""
    if isinstance(node, ast.FunctionDef):
        of = node.args
        named = of.posonlyargs + of.args
        pairs = [*zip(named[len(named) - len(of.defaults) :], of.defaults, strict=True)]
        pairs += [(arg, one) for arg, one in zip(of.kwonlyargs, of.kw_defaults, strict=True) if one]
        yield from ((node.name, arg.arg, one) for arg, one in pairs)
    elif isinstance(node, ast.ClassDef):
        for line in node.body:
            if isinstance(line, ast.AnnAssign) and line.value and isinstance(line.target, ast.Name):
                yield node.name, line.target.id, line.value


def defaults() -> dict[str, Any]:
    """Every default that is a number, or a tuple of them, by module, owner and name."""
    found = {}
    for path in sources():
        for owner, name, expression in (one for node in nodes(path) for one in given(node)):
            if isinstance(expression, ast.Call) and ast.unparse(expression.func) == "Field":
                expression = next(iter(expression.args), expression)
            try:
                value = ast.literal_eval(expression)
            except ValueError:
                continue
            numbers = value if isinstance(value, tuple) and value else (value,)
            if all(type(one) in (int, float) for one in numbers):
                found[f"{place(path)} {owner} {name}"] = value
    return found


DEFAULTS = defaults()


def test_every_default_that_is_a_number_is_written_here() -> None:
    assert set(DEFAULTS) - set(BY_HAND) == set() and len(DEFAULTS) > 60


@pytest.mark.parametrize("name", BY_HAND)
def test_a_default_is_what_is_written_here(name: str) -> None:
    value, reason = BY_HAND[name]
    if name not in DEFAULTS:
        pytest.skip("gone, with its file or its name; a new name is not written here")
    assert reason and DEFAULTS[name] == value
