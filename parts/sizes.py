"""Every size the parts are drawn from: the governing sizes and what was chosen for the rest.

The part files turn these into blanks and features; the planner chooses them (sizing.apply). All
lengths are millimetres. The frame they are measured in: the ball's centre O is the origin, x runs
along the pivot axis towards the rear of the lathe, y radially out to the tip, z away from the
chuck when the tip stands on top. The tip works in the plane x = 0; the body stands at x < 0.
"""

from __future__ import annotations

from math import cos, radians, sqrt, tan
from typing import Any, overload

from parts.running import PIVOT_MM, PIVOT_PLAY_MM, ROD_MM, ROD_PLAY_MM, greatest_play_mm
from parts.standard.fasteners import set_screw, socket_screw, thin_nut
from parts.standard.sections import Section
from parts.standard.series import Series
from parts.standard.threads import thread
from parts.value import Value


class Sizes(Value, frozen=True):
    """The sizes of one attachment. Each has one rule in sizing.apply, in the same order.

    series: what they are sizes of, millimetres or inches; the allowances of the parts come from it too.
    """

    series: Series

    # governing sizes: from the job
    spindle_over_seat_mm: float
    spindle_over_cross_slide_mm: float
    largest_shank_mm: float
    post_depth_mm: float
    max_ball_diameter_mm: float
    min_ball_diameter_mm: float
    max_blank_diameter_mm: float
    screw_pitch_mm: float
    dial_divisions: int
    clearance_mm: float

    # materials: names in parts.standard.materials
    structure_material: str
    shaft_material: str
    screw_material: str
    dial_material: str
    tool_material: str

    # reach of the tip
    tip_radius_max_mm: float
    tip_radius_min_mm: float
    travel_mm: float
    arm_overhang_mm: float

    # rod and its clamp
    rod_diameter_mm: float
    rod_stock: Section
    clamp_screw: str
    lever_boss_mm: float
    lever_stock: Section
    slit_width_mm: float
    hinge_mm: float

    # pivot
    pivot_diameter_mm: float
    pivot_thread: str
    spigot_diameter_mm: float
    leaf_thickness_mm: float
    shaft_stock: Section
    pin_diameter_mm: float

    # feed screw and dial
    feed_thread: str
    feed_journal_diameter_mm: float
    feed_collar_diameter_mm: float
    feed_collar_thickness_mm: float
    feed_tail_thread: str
    dial_diameter_mm: float
    dial_stock: Section
    dial_rim_mm: float
    dial_set_screw: str
    dial_length_mm: float
    index_screw: str
    index_ring_mm: float
    feed_offset_mm: float

    # the pivot's nut
    nut_screw: str
    nut_diameter_mm: float
    nut_length_mm: float
    nut_stock: Section

    # block
    clamp_screw_from_front_mm: float
    rod_from_front_mm: float
    flat_offset_mm: float
    block_stock: Section
    block_length_mm: float
    block_back_wall_mm: float

    # cutting tool, arm, foot
    bit_stock: Section
    tool_screw: str
    arm_lead_mm: float
    bit_stickout_mm: float
    arm_width_mm: float
    foot_stock: Section
    arm_stock: Section
    arm_length_mm: float
    foot_length_mm: float
    rod_length_mm: float

    # the rest of the feed screw
    feed_thread_length_mm: float
    feed_stock: Section

    # handle
    handle_thread: str
    handle_stock: Section
    handle_length_mm: float
    knob_diameter_mm: float
    knob_stock: Section

    # clamp lever
    lever_length_mm: float

    # housing, and how the tool post holds it
    shank_stock: Section
    tube_stock: Section
    shank_flat_mm: float
    cheek_stock: Section | None
    housing_length_mm: float
    drag_thread: str
    drag_stock: Section
    post_gap_mm: float
    stop_thread: str
    stop_stock: Section | None
    shank_length_mm: float
    weld_leg_mm: float

    # where the parts stand, along the pivot axis and radially

    @property
    def block_front_x_mm(self) -> float:
        """The body's front face: the arm overhangs it."""
        return -self.arm_overhang_mm

    @property
    def rod_x_mm(self) -> float:
        """The rod's axis, and the feed screw's."""
        return self.block_front_x_mm - self.rod_from_front_mm

    @property
    def block_thickness_mm(self) -> float:
        """The block along the pivot axis once its back is faced after welding."""
        return self.block_stock.height_mm - self.dressing_mm

    @property
    def thrust_x_mm(self) -> float:
        """The thrust face: the block's back against the front of the housing."""
        return self.block_front_x_mm - self.block_thickness_mm

    @property
    def block_tip_y_mm(self) -> float:
        """The block's face on the tip side; the block is centred on the pivot."""
        return self.block_length_mm / 2

    @property
    def dial_y_mm(self) -> float:
        """The dial's graduated edge: the block's tail face, and the index ring on it."""
        return -self.block_length_mm / 2 - self.index_ring_mm

    @property
    def index_screws_mm(self) -> float:
        """From the feed screw's axis to the index ring's screws: halfway between journal and rim."""
        middle = (self.feed_journal_diameter_mm + self.dial_diameter_mm) / 4
        return self.series.nearest(middle)

    @property
    def index_head_mm(self) -> float:
        """Height of the index ring's screws' heads."""
        return socket_screw(self.index_screw).head_height_mm

    @property
    def index_head_across_mm(self) -> float:
        """Diameter of the index ring's screws' heads."""
        return socket_screw(self.index_screw).head_diameter_mm

    @property
    def post_front_x_mm(self) -> float:
        """The tool post's front face: beside the pivot's nut, or behind it."""
        return self.thrust_x_mm - self.housing_length_mm - self.post_gap_mm

    @property
    def post_rear_x_mm(self) -> float:
        """The tool post's rear face."""
        return self.post_front_x_mm - self.post_depth_mm

    @property
    def beside_nut(self) -> bool:
        """Whether the post stands beside the pivot's nut, not behind it."""
        return self.post_gap_mm < self.thread_run_mm

    @property
    def shank_end_x_mm(self) -> float:
        """The shank's end: the stop bar is screwed to it."""
        return self.thrust_x_mm - self.setback_mm - self.shank_length_mm

    @property
    def leaf_z_mm(self) -> float:
        """The outer face of the clamp's leaf, on the chuck side of the rod."""
        return -(self.rod_diameter_mm / 2 + self.leaf_thickness_mm)

    @property
    def shank_inner_z_mm(self) -> float:
        """The shank's side toward the tube: on the tube's flat, or on the cheek between them."""
        return self.tube_stock.width_mm / 2 - self.shank_flat_mm + self.cheek_mm

    @property
    def shank_outer_z_mm(self) -> float:
        """The shank's side away from the tube."""
        return self.shank_inner_z_mm + self.shank_stock.width_mm

    @property
    def cheek_mm(self) -> float:
        """Thickness of the cheek; 0 without one."""
        return self.cheek_stock.thickness_mm if self.cheek_stock else 0.0

    @property
    def thread_run_mm(self) -> float:
        """The threaded part of the shaft: the nut and two turns of thread."""
        return self.series.up(self.nut_length_mm + 2 * self.pivot_pitch_mm)

    @property
    def pivot_pitch_mm(self) -> float:
        """Pitch of the pivot's thread."""
        return thread(self.pivot_thread).pitch_mm

    @property
    def nut_screw_mm(self) -> float:
        """The shortest screw sold that locks the pivot's nut."""
        return set_screw(self.nut_screw).lengths_mm[0]

    @property
    def stop_mm(self) -> float:
        """Side of the stop bar; 0 without one."""
        return self.stop_stock.width_mm if self.stop_stock else 0.0

    @property
    def stop_z_mm(self) -> float:
        """From the pivot axis to the nose's stop screw, across: beyond the shank."""
        return self.shank_outer_z_mm + self.series.nearest(1.5 * self.stop_major_mm, 0.5)

    @property
    def stop_neck_z_mm(self) -> float:
        """From the pivot axis to the neck's stop screw, toward the chuck: clear of the handle pin, and
        from the shank's outer side a whole length."""
        clear = self.pin_diameter_mm / 2 + 3.5 * self.stop_major_mm
        return self.series.up(self.shank_outer_z_mm + clear, 0.5) - self.shank_outer_z_mm

    @property
    def stop_major_mm(self) -> float:
        """Diameter of the stop screws."""
        return thread(self.stop_thread).major_mm

    @property
    def stop_nut_mm(self) -> float:
        """Height of the stop screws' lock nuts."""
        return thin_nut(self.stop_thread).height_mm

    @property
    def stop_drop_mm(self) -> float:
        """From the pivot axis down to the top of the stop bar: room for pin, lock nut and handle."""
        past = radians(NOSE_PAST_DEG)
        outer = self.stop_z_mm + self.stop_major_mm / 2
        lowest = self.handle_stock.width_mm / 2 / cos(past) + outer * tan(past) + self.stop_nut_mm
        return self.series.up(larger(self.pin_diameter_mm / 2 + STOP_GAP_MM, lowest + 0.5), 0.1)

    @property
    def lever_seat_mm(self) -> float:
        """From the axis of the clamp lever's bar down to its seat."""
        return self.series.nearest(self.lever_boss_mm / 2 - LEVER_SEAT * self.lever_boss_mm)

    @property
    def lever_height_mm(self) -> float:
        """The clamp lever's boss over its washer."""
        return self.lever_boss_mm / 2 + self.lever_seat_mm

    @property
    def hinge_behind_mm(self) -> float:
        """From the rod's axis back to the middle of the hinge slit."""
        return self.series.thousandths(HINGE_BACK * self.rod_diameter_mm / 2)

    @property
    def hinge_z_mm(self) -> float:
        """How far the hinge slit goes in toward the rod's axis plane: to a ligament off the bore.

        As deep as that leaves it, from the leaf's face, in whole thousandths of an inch.
        """
        radius = self.rod_diameter_mm / 2
        least = radius * sqrt(1 - HINGE_BACK**2) + self.hinge_mm
        deep = -self.leaf_z_mm - least
        return -(least + (deep - self.series.thousandths(deep)))

    @property
    def hinge_least_mm(self) -> float:
        """The least metal of the hinge: at the slit's near corner, the slit at its limits."""
        near = self.hinge_behind_mm - self.hinge_place_mm
        near -= (self.slit_width_mm + self.hinge_slit_mm) / 2
        ray: float = (near**2 + self.hinge_z_mm**2) ** 0.5
        return ray - self.rod_diameter_mm / 2

    @property
    def spigot_length_mm(self) -> float:
        """How far the shaft enters the block: it ends behind the rod's bore and the hinge slit, a slip
        fit: under the hinge it would leave the block no metal to hold it by."""
        bore, slit = self.rod_diameter_mm / 2, self.hinge_behind_mm + self.slit_width_mm / 2
        short = larger(bore, slit) + self.series.nominal(SPIGOT_SHORT_MM)
        return self.series.down(self.block_thickness_mm - self.rod_from_front_mm - short, 0.5)

    @property
    def arm_half_width_mm(self) -> float:
        """From the rod's axis plane to either side of the arm in front of its root."""
        return self.arm_width_mm / 2

    # what several parts allow for, below, in the series of the sizes

    @property
    def dressing_mm(self) -> float:
        """What is left on a face to be dressed true after welding."""
        return self.series.nominal(DRESSING_MM)

    @property
    def setback_mm(self) -> float:
        """How far the shank stands back from the housing's front face."""
        return self.series.nominal(SETBACK_MM)

    @property
    def hinge_place_mm(self) -> float:
        """The hinge slit's middle lies within so much of its place."""
        return self.series.tolerance(HINGE_PLACE_MM)

    @property
    def hinge_slit_mm(self) -> float:
        """The hinge slit is within so much of its width."""
        return self.series.tolerance(HINGE_SLIT_MM)

    @property
    def pivot_play_mm(self) -> float:
        """Greatest clearance of the pivot in its own bore."""
        return greatest_play_mm(PIVOT_PLAY_MM, PIVOT_MM, self.pivot_diameter_mm, self.series)

    @property
    def rod_play_mm(self) -> float:
        """Greatest clearance of the rod in its own bore."""
        return greatest_play_mm(ROD_PLAY_MM, ROD_MM, self.rod_diameter_mm, self.series)


LEVER_SEAT = 0.15
"""How deep the clamp lever's seat is milled into its boss, in diameters: it bears on 0.71 of one."""

HINGE_BACK = 0.8
"""Where the hinge slit lies behind the rod's axis, in radii of the rod."""

HINGE_PLACE_MM = 0.1
"""The hinge slit's middle lies within so much of its place: its near corner is the hinge's thinnest."""

HINGE_SLIT_MM = 0.2
"""The hinge slit is within so much of its width."""

SPIGOT_SHORT_MM = 2.0
"""The shaft's spigot ends so far behind the hinge slit, or behind the rod's bore if that is nearer."""

SETBACK_MM = 4.0
"""The shank stands back from the housing's front face, so that the face can be turned clear of it."""

DRESSING_MM = 0.5
"""What is left on a face to be dressed true after welding."""

STOP_GAP_MM = 3.0
"""Between the handle pin and the stop bar under it: the handle's own end stands 2 mm out of the pin."""

NOSE_PAST_DEG = 3.0
"""How far the nose stop lets the handle past level: the tip goes a little past the nose."""


@overload
def larger(one: float, other: float) -> float: ...
@overload
def larger(one: Any, other: Any) -> Any: ...
def larger(one: Any, other: Any) -> Any:
    """The larger of two sizes, or of two columns row by row."""
    if isinstance(one, float | int) and isinstance(other, float | int):
        return max(one, other)
    return (one + other + abs(one - other)) / 2
