"""What the shop has to work with: a machine for each kind of work, its speeds, and the gauges.

The route asks it. A machine the shop lacks is replaced by the next that will do, down to hand work.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi

from parts.standard.errors import UnknownSize
from parts.standard.fits import Limits
from parts.standard.materials import material
from parts.standard.speeds import speed_m_min
from planner.job.tables import Job

PREFERENCE: dict[str, tuple[str, ...]] = {
    "turn": ("lathe",),
    "mill": ("mill", "lathe with a milling slide", "bench: saw and file"),
    "drill": ("mill", "drill press", "lathe, work on the cross slide"),
    "slit": ("mill", "bench: hacksaw"),
    "saw": ("bandsaw", "bench: hacksaw"),
    "weld": ("welder", "a welder's shop"),
    "grind": ("grinder", "bench: oilstone"),
    "bench": ("bench",),
}
"""For each kind of work, the machines that do it, best first; the last is always to be had."""


SCREW_CUTTING_RPM = 120.0
"""Single-point threads are cut about this fast: the carriage is stopped by hand (common practice)."""


@dataclass(frozen=True)
class Speed:
    """A spindle speed from the machine's list.

    rpm: the speed to set, None for hand work; surface_m_min: what that gives; caution: when even
    the nearest listed speed lies outside the range.
    """

    rpm: float | None
    surface_m_min: float
    caution: str = ""


class Workshop:
    """The machines of one job's shop, what its turning tools are made of, its language of numbers."""

    def __init__(self, job: Job) -> None:
        self.job, self.numbers = job, job.numbers
        self.tool = job.shop.tool_material

    def machine(self, work: str) -> str:
        """The machine for a kind of work (a key of PREFERENCE)."""
        choices = PREFERENCE[work]
        owned = {str(name) for name in self.job.shop.machines} | {"lathe", "bench"}
        for name in choices[:-1]:
            if name in owned:
                return name
        return choices[-1]

    def speeds(self, machine: str) -> list[float]:
        """The machine's spindle speeds, rev/min; none for hand work."""
        if machine.startswith("lathe"):
            return sorted(self.job.lathe.spindle_speeds)
        for name, owned in self.job.shop.machines.items():
            if str(name) == machine:
                return sorted(owned.speeds)
        return []

    def speed(
        self, operation: str, tool: str, material_name: str, diameter_mm: float, machine: str
    ) -> Speed:
        """The listed speed for an operation.

        operation: as parts.standard.speeds names it; tool: "HSS" or "carbide"; diameter_mm: of the
        work when turning, of the tool when it turns. n = 1000 v / (pi d): the listed speed nearest
        the middle of the range and not over it, else the slowest listed with a caution. Screw
        cutting is kept slow enough to stop by hand.
        """
        listed = self.speeds(machine)
        if not listed or machine.startswith("bench"):
            return Speed(None, 0.0)
        try:
            surface = speed_m_min(operation, tool, material(material_name).group)
        except UnknownSize:
            return Speed(None, 0.0, f"no cutting speed known for {material_name}: start slow")
        fastest = 1000 * surface.high_m_min / (pi * diameter_mm)
        within = [rpm for rpm in listed if rpm <= fastest]
        middle = 1000 * (surface.low_m_min + surface.high_m_min) / 2 / (pi * diameter_mm)
        if operation == "thread":
            middle = min(middle, SCREW_CUTTING_RPM)
        rpm = min(within, key=lambda n: abs(log(n / middle))) if within else min(listed)
        given = pi * diameter_mm * rpm / 1000
        if not within:
            return Speed(
                rpm,
                given,
                f"slowest speed gives {self.numbers.cutting_speed(given)}, over"
                f" {self.numbers.plain.cutting_speed(surface.high_m_min)}:"
                " light cuts and plenty of oil",
            )
        return Speed(rpm, given)

    def gauge(self, size: Limits, inside: bool) -> str:
        """What to measure a diameter or width with, by its tolerance."""
        band = size.upper_mm - size.lower_mm
        if band > 0.12:
            return "vernier caliper"
        if inside:
            return "telescoping gauge and micrometer" if size.nominal_mm >= 8 else "plug gauge"
        return f"micrometer {self.numbers.micrometer_range(size.nominal_mm)}"
