"""What the shop has to work with: a machine for each kind of work, its speeds, its tools.

Every way asks it. What the shop lacks is noted here with the cheapest way out.
"""

from __future__ import annotations

from functools import cached_property
from math import ceil, floor, log, pi

from msgspec.structs import replace

from parts.standard.cutting_data import cutting_data
from parts.standard.drills import Drill, drill_at_most, drill_of, drills
from parts.standard.errors import UnknownSize
from parts.standard.holding import finest_band_mm
from parts.standard.materials import SPARES_STEEL, material
from parts.standard.speeds import speed_m_min
from parts.standard.threads import thread
from parts.value import Value
from planner.job.tables import Job
from planner.job.usual import kit
from planner.making.holding import jaws_mm
from planner.making.model import Missing, Stub, Tool

PREFERENCE: dict[str, tuple[str, ...]] = {
    "turn": ("lathe",),
    "mill": ("mill", "milling slide", "shaper", "lathe, on the cross slide", "bench"),
    "drill": ("mill", "drill press", "milling slide", "lathe, on the cross slide"),
    "slot": ("mill", "milling slide", "lathe, on the cross slide", "bench"),
    "slit": ("mill", "milling slide", "lathe, on the cross slide", "bench"),
    "saw": ("bandsaw", "hacksaw"),
    "cut plate": ("torch table", "bandsaw", "hacksaw"),
    "weld": ("welder", "a welder's shop"),
    "grind": ("grinder", "a shop with a grinder"),
    "bench": ("bench",),
}
"""For each kind of work, the machines that do it, best first; the last is always to be had."""

GRAIN = 1e-6
"""Of a cut: what a float may be off."""

VICE_OPENS_MM = 100.0
"""A small machine vice opens so far (common practice)."""

SLIDE_VICE = 1.1
"""The vice of a milling slide opens over the lathe's spindle over its cross slide: 50 to 60 mm where
that is 50 (common practice)."""

BY_HAND_MM2_MIN = 75.0
"""A hacksaw by hand goes through so much steel (common practice: a 25 mm round in six or seven
minutes)."""

FILED_MM3_MIN = 150.0
"""A bastard file takes so much off steel by hand in a minute (common practice: 1 cm3 in 6 to 8)."""

TRIED_MIN = 2.0
"""And it is tried with square and line for so long (common practice)."""

SAWN_MM2_MIN = {"bandsaw": 400.0}
"""A small bandsaw through so much (common practice: the same in a minute and a half)."""

SCREW_CUTTING_RPM = 120.0
"""Single-point threads are cut about this fast: the carriage is stopped by hand (common practice)."""

REAMING_RPM = 500.0
"""A reamer fed by hand turns no faster, or it chatters and cuts large (common practice)."""

LARGE_DRILL_MM = 10.0
"""Thicker drills run at the low end of their speeds: a small machine has no power for more (common
practice)."""

ON_LATHE = ("lathe", "milling slide", "lathe, on the cross slide")
"""The machines whose spindle is the lathe's."""

FLUTES = 2.0
"""An end mill of the short series has flutes of so many diameters (ISO 1641-1: 32 at 16)."""

LONG_FLUTES = 3.9
"""And of the long series (ISO 1641-1: 63 at 16)."""

HAND = ("bench", "hacksaw", "welder", "a welder's shop", "torch table", "a shop with a grinder")
"""What has no spindle to set."""

SPINDLES = (*ON_LATHE, "mill", "drill press")
"""What has a spindle to set."""

WATERY = ("mild steel", "medium carbon steel", "alloy steel", "stainless steel", "tool steel")
"""Steels that are cut with soluble oil, or with cutting oil by hand."""


class Speed(Value, frozen=True):
    """A spindle speed from the machine's list.

    rpm: the speed to set, None for hand work; surface_m_min: what that gives; source: of the cutting
    speed; caution: when even the slowest listed speed lies over the range.
    """

    rpm: float | None
    surface_m_min: float
    source: str = ""
    caution: str = ""


class Workshop:
    """The machines of one job's shop, what its turning tools are made of, its language of numbers."""

    def __init__(self, job: Job, stub: Stub | None = None) -> None:
        self.job, self.numbers, self.stub = job, job.numbers, stub
        self.tool = job.shop.tool_material
        self.kit = kit(job)
        self.missing: list[Missing] = []

    @property
    def inch(self) -> bool:
        """Whether to choose among inch tools."""
        return self.job.inch

    def owns(self, machine: str) -> bool:
        """Whether the shop has a machine."""
        always = ("lathe", "bench", "hacksaw", "lathe, on the cross slide")
        return machine in always or machine in {str(name) for name in self.job.shop.machines}

    def vice_opens_mm(self, machine: str) -> float:
        """How far a machine's vice opens: a milling slide's stands before the lathe's spindle."""
        if machine != "milling slide":
            return VICE_OPENS_MM
        return min(VICE_OPENS_MM, SLIDE_VICE * self.job.lathe.spindle_over_cross_slide)

    def machine(self, work: str) -> str:
        """The machine for a kind of work (a key of PREFERENCE)."""
        choices = PREFERENCE[work]
        return next((name for name in choices if self.owns(name)), choices[-1])

    def lacks(self, part: str, what: str, remedy: str) -> None:
        """Note what is missing, once for all parts that want it."""
        for i, one in enumerate(self.missing):
            if (one.what, one.remedy) == (what, remedy):
                if part not in one.part.split(", "):
                    self.missing[i] = replace(one, part=f"{one.part}, {part}")
                return
        self.missing.append(Missing(part, what, remedy))

    def ground(self, what: str) -> str:
        """What is said of a bit's grinding: nothing where there is a grinder, else who does it."""
        if self.owns("grinder"):
            return ""
        self.lacks(what, "a bench grinder", "Have the bit ground, then hone it yourself")
        return "; the shop has no grinder: have it ground, then hone it"

    # ---- speeds, feeds, times ----

    def speeds(self, machine: str) -> list[float]:
        """The machine's spindle speeds, rev/min; none for hand work."""
        if machine in ON_LATHE:
            return sorted(self.job.lathe.spindle_speeds)
        for name, owned in self.job.shop.machines.items():
            if str(name) == machine:
                return sorted(owned.speeds)
        return []

    def speed(
        self, operation: str, tool: str, material_name: str, diameter_mm: float, machine: str,
        most_rpm: float | None = None,
    ) -> Speed:  # fmt: skip
        """The listed speed for an operation.

        operation: as parts.standard.speeds names it; tool: "HSS" or "carbide"; diameter_mm: of the
        work when turning, of the tool when it turns. n = 1000 v / (pi d): the listed speed nearest
        the middle of the range and not over it, else the slowest listed with a caution; of a large
        drill nearest its low end and no faster than the middle. Screw cutting is
        kept slow enough to stop by hand; most_rpm: and nothing faster than this.
        """
        listed = self.speeds(machine)
        if machine in HAND or machine not in SPINDLES:
            return Speed(None, 0.0)
        try:
            metal = material(material_name)
            surface = speed_m_min(operation, tool, metal.group, metal.name)
        except UnknownSize:
            return Speed(None, 0.0, "", f"no cutting speed known for {material_name}: start slow")
        aimed = (surface.low_m_min + surface.high_m_min) / 2
        if operation == "drill" and diameter_mm > LARGE_DRILL_MM:
            aimed = surface.low_m_min
        middle = 1000 * aimed / (pi * diameter_mm)
        if not listed:  # of a machine whose plate is not known: about so fast
            asked = middle
            step = 10.0 ** max(len(f"{asked:.0f}") - 2, 0)
            figures = asked / step  # a drill no faster: small machines stall on a thick one
            rpm = max((figures // 1 if operation == "drill" else round(figures)) * step, 10.0)
            return Speed(rpm, pi * diameter_mm * rpm / 1000, surface.source)
        if most_rpm:  # out of balance, or driven by a carrier
            listed = [rpm for rpm in listed if rpm <= most_rpm] or [min(listed)]
        fastest = 1000 * surface.high_m_min / (pi * diameter_mm)
        if operation == "drill" and diameter_mm > LARGE_DRILL_MM:
            fastest = (fastest + middle) / 2
        within = [rpm for rpm in listed if rpm <= fastest]
        if operation == "thread":
            middle = min(middle, SCREW_CUTTING_RPM)
        if operation == "ream":  # the first under the limit, or the slowest there is
            within = [rpm for rpm in within if rpm <= REAMING_RPM] or within[:1]
        rpm = min(within, key=lambda n: abs(log(n / middle))) if within else min(listed)
        given = pi * diameter_mm * rpm / 1000
        numbers = self.numbers
        says = (
            f"{surface.source}, {numbers.plain.cutting_speed(surface.low_m_min)} to"
            f" {numbers.cutting_speed(surface.high_m_min)}"
        )
        if not within:
            slow = (
                f"slowest speed gives {numbers.cutting_speed(given)}, over"
                f" {numbers.plain.cutting_speed(surface.high_m_min)}: light cuts and plenty of oil"
            )
            return Speed(rpm, given, says, slow)
        return Speed(rpm, given, says)

    @property
    def lamp_oil(self) -> str:
        """Lamp oil by the name its country has for it: paraffin is a wax to an inch machinist."""
        return "kerosene" if self.inch else "paraffin"

    def fluid(self, material_name: str, kind: str) -> str:
        """What is put on: for a tap, die or reamer oil; brass and bronze dry; aluminium lamp oil."""
        group = material(material_name).group
        if group in SPARES_STEEL:
            return "dry"
        if group == "aluminium":
            return self.lamp_oil
        if kind in ("tap", "thread", "ream"):
            return "cutting oil"
        return "soluble oil or cutting oil" if group in WATERY else "cutting oil"

    # ---- tools ----

    def drill(self, at_most_mm: float) -> Drill | None:
        """The largest drill the shop has that is no larger; None where it has none."""
        most = min(at_most_mm, self.kit.drills_to_mm)
        best = drill_at_most(most, self.inch) if most >= 1.0 else None
        own = [one for one in self.kit.drills if one <= at_most_mm + 1e-6]
        if own and (best is None or own[-1] > best.diameter_mm):
            return self.named_drill(own[-1])
        return best

    def named_drill(self, diameter_mm: float, metric: bool = False) -> Drill:
        """The drill of a size by the name it is sold by, the shop's own system's before the other's; by
        its size where it has none.

        metric: one in millimetres, whatever the shop's own set is, as for a metric thread.
        """
        first = self.inch and not metric
        found = drill_of(diameter_mm, first) or drill_of(diameter_mm, not first)
        return found or Drill(self.numbers.size(diameter_mm), diameter_mm)

    def has_drill(self, diameter_mm: float) -> bool:
        """Whether a drill of a size is there."""
        kit = self.kit
        return diameter_mm <= kit.drills_to_mm + 1e-3 or _among(diameter_mm, kit.drills)

    def reamer(self, diameter_mm: float) -> bool:
        """Whether a reamer of a size is there."""
        return _among(diameter_mm, self.kit.reamers)

    def twist_drill(self, by: Drill) -> Tool:
        """A drill as a tool; its flutes are about nine diameters long (DIN 338)."""
        size = by.diameter_mm
        serves = by.name in self._set or self.numbers.drill_that_serves(by)
        return Tool(
            "drill",
            f"drill {self.numbers.drill(by)}",
            size,
            reach_mm=9 * size,
            owned=self.has_drill(size) if serves else _among(size, self.kit.drills),
        )

    def drill_to_buy(self, size_mm: float) -> Tool:
        """The drill of a size; one that the shop has not is bought."""
        tool = self.twist_drill(self.named_drill(size_mm))
        return tool if tool.owned else replace(tool, instead="buy one")

    @cached_property
    def jaws_mm(self) -> float:
        """How deep the chuck's jaws grip, mm."""
        return jaws_mm(self.job)

    @cached_property
    def _set(self) -> frozenset[str]:
        """The names of the drills in a set of the shop's own system."""
        return frozenset(one.name for one in drills(self.inch))

    def tap(self, designation: str) -> Tool:
        """A tap as a tool."""
        owned = designation in self.kit.taps
        name = f"tap {self.numbers.thread(designation)}"
        return Tool("tap", name, thread(designation).major_mm, owned=owned,
                    instead="" if owned else "buy or borrow one: a set costs little")  # fmt: skip

    def die(self, designation: str) -> Tool:
        """A die in its tailstock holder as a tool."""
        owned = designation in self.kit.dies
        name = f"die {self.numbers.thread(designation)} in the tailstock holder"
        return Tool("die", name, thread(designation).major_mm, owned=owned,
                    instead="" if owned else "buy or borrow one")  # fmt: skip

    def turning(self, kind: str, material_name: str) -> Tool:
        """A turning tool; in brass or bronze with no top rake, or it digs in."""
        group = material(material_name).group
        rake = f", no top rake: {group} draws a sharp one in" if group in SPARES_STEEL else ""
        return Tool("turning tool", f"{self.tool} {kind} tool{rake}")

    def stout_bar(self, depth_mm: float) -> float:
        """The least of the shop's boring bars that reaches so deep, mm; 0 without one."""
        return next((one for one in self.kit.boring_bars if depth_mm + 5 <= 4 * one), 0.0)

    def boring_bar(self, bore_mm: float, depth_mm: float) -> Tool:
        """The stoutest boring bar that leaves room for the chips: at most 0.8 of the hole."""
        fitting = [one for one in self.kit.boring_bars if one <= 0.8 * bore_mm]
        if fitting and depth_mm + 5 <= 4 * fitting[-1]:
            size = fitting[-1]
            return Tool("boring bar", f"boring bar {self.numbers.tool(size)}", size,
                        reach_mm=4 * size)  # fmt: skip
        size = self.job.series.down(0.75 * bore_mm, 1.0)
        if depth_mm > 4 * size:  # as thick as the chips allow
            size = min(max(depth_mm / 4, size), 0.8 * bore_mm)
            size = self.job.series.down(size, 0.1) if size < depth_mm / 4 else depth_mm / 4
        rod = "drill rod" if self.inch else "silver steel"  # one thing, sold by either name
        return Tool(
            "boring bar", f"boring bar {self.numbers.size(size)}", size, reach_mm=4 * size,
            owned=False, instead=f"turn one of {rod} with a cross hole for a bit",
        )  # fmt: skip

    def end_mill(self, at_most_mm: float, deep_mm: float = 0.0) -> Tool:
        """The largest end mill that is no larger, a long one where it cuts deep by its side."""
        fits = [one for one in self.kit.end_mills if one <= at_most_mm + 1e-6]
        own = [one for one in fits if deep_mm <= LONG_FLUTES * one]
        step = self.job.series.step_mm  # they are sold by 1 mm, or 1/16 in (common practice)
        size = own[-1] if own else floor(at_most_mm / step + 1e-4) * step or at_most_mm
        long = deep_mm > FLUTES * size
        name = f"{'long ' if long else ''}end mill {self.numbers.tool(size)}"
        reach = (LONG_FLUTES if long else FLUTES) * size
        owned = bool(own) and not long  # a shop's set is of the short series (common practice)
        instead = "buy one of the long series" if long else "buy one"
        return Tool("end mill", name, size, size, reach, owned, "" if owned else instead)

    # ---- accuracy and time ----

    def attains(self, process: str, band_mm: float, size_mm: float) -> bool:
        """Whether a way of working holds a band of limits at a size."""
        finest = finest_band_mm(process, max(size_mm, 1.0))
        return finest is None or band_mm >= finest - 1e-9

    def minutes(self, rate: str, rpm: float | None, diameter_mm: float, length_mm: float,
                stock_mm: float, feed_mm: float = 0.0, deepest_mm: float = 0.0
                ) -> tuple[float, float, int, float, str]:  # fmt: skip
        """Minutes, feed per turn, cuts, depth of each and the basis, of a cut with the machine.

        feed_mm: for each turn, where the row does not say it; deepest_mm: of one cut, where
        the work bears less than it says.
        """
        row = cutting_data(rate, diameter_mm, self.inch)
        feed = row.feed_mm or feed_mm
        cuts, depth = self._cuts(rate == "finish", stock_mm, deepest_mm or row.depth_mm)
        run = 0.0
        if rpm and feed:
            run = cuts * length_mm / (feed * rpm)
        total = run + row.handling_s / 60 * (1 if row.depth_mm == 0 else cuts**0.5)
        basis = "length over feed and speed, and handling" if run else "handling"
        return total, feed, cuts, depth, f"{basis} ({row.source})"

    def _cuts(self, finish: bool, stock_mm: float, most_mm: float) -> tuple[int, float]:
        """In how many cuts so much is taken off, and how deep each is at most.

        finish: two cuts, measured between. most_mm: how deep another may be, to the nearest that the
        slide's dial has; 0 for no such limit. The depth is whole on that dial, and the last cut takes
        what is left.
        """
        cuts = 2 if finish else 1
        if not stock_mm:
            return cuts, 0.0
        if most_mm and not finish:
            dial = self.numbers.cut_step_mm(most_mm, 1)
            cuts = ceil(stock_mm / (max(round(most_mm / dial), 1) * dial) - GRAIN)
        if cuts == 1:
            return 1, stock_mm
        step = self.numbers.cut_step_mm(stock_mm, cuts)
        depth = ceil(stock_mm / cuts / step - GRAIN) * step
        return ceil(stock_mm / depth - GRAIN), depth


def sawing_minutes(area_mm2: float, machine: str) -> float:
    """How long a saw takes through so much steel, in minutes; machine: "bandsaw", or by hand."""
    return area_mm2 / SAWN_MM2_MIN.get(machine, BY_HAND_MM2_MIN)


def filing_minutes(taken_mm3: float) -> float:
    """How long a file takes for so much steel, by hand, and its trying, in minutes."""
    return taken_mm3 / FILED_MM3_MIN + TRIED_MIN


def _among(size_mm: float, sizes: tuple[float, ...]) -> bool:
    return any(abs(one - size_mm) < 0.01 for one in sizes)
