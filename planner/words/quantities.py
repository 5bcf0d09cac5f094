"""How a job's language of numbers writes what is no length: forces, masses, surfaces, speeds, angles.

The other half of words.numbers, whose Numbers is made of it; nothing else imports it.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import floor

from planner.words.units import MM_PER_INCH, trimmed

NEWTONS_PER_POUND = 4.4482216152605
"""By definition: the pound of 1959 under standard gravity, 9.80665 m/s2."""

NM_PER_POUND_INCH = NEWTONS_PER_POUND * MM_PER_INCH / 1000

KW_PER_HORSEPOWER = 550 * 12 * NM_PER_POUND_INCH / 1000
"""By definition: 550 foot-pounds of force a second."""

PSI_PER_MEGAPASCAL = MM_PER_INCH**2 / NEWTONS_PER_POUND

KG_PER_LB = 0.45359237
"""By definition (international pound of 1959)."""

MM_PER_FOOT = 304.8

MICROINCHES = {0.4: 16, 0.8: 32, 1.6: 63, 3.2: 125, 6.3: 250}
"""Roughness of an inch drawing for that of a metric one, um (ASME B46.1's preferred, from memory)."""


WHOLE_LBF = 19.95
"""From here on pounds of force are written whole: a spring balance and a hand tell no more."""


ROUND_LBF = 5.0
"""Of what a force is a multiple that a thing is said to bear."""


class Quantities:
    """Needs of what is made of it: whether ``inch``, and whether to name the unit.

    inch: pounds, inches and feet, else metric. named: write the unit behind the number.
    """

    inch: bool
    named: bool

    def _said(self, number: str, unit: str) -> str:
        return f"{number} {unit}" if self.named else number

    # ---- the units, for heads of columns ----

    @property
    def force_unit(self) -> str:
        """The unit of forces."""
        return "lbf" if self.inch else "N"

    @property
    def force_step_N(self) -> float:
        """A round force that one pushes with to see how far a thing gives: 100 N, or 20 lbf."""
        return 20 * NEWTONS_PER_POUND if self.inch else 100.0

    @property
    def torque_unit(self) -> str:
        """The unit of torques."""
        return "lbf·in" if self.inch else "Nm"

    @property
    def stress_unit(self) -> str:
        """The unit of stresses."""
        return "psi" if self.inch else "MPa"

    @property
    def mass_unit(self) -> str:
        """The unit of masses."""
        return "lb" if self.inch else "kg"

    @property
    def volume_unit(self) -> str:
        """The unit of ``volume``."""
        return "cu in" if self.inch else "cm3"

    @property
    def chip_unit(self) -> str:
        """The unit of ``chip``."""
        return "cu in" if self.inch else "mm3"

    @property
    def spindle_speed_unit(self) -> str:
        """The unit of spindle speeds."""
        return "rev/min"

    @property
    def cutting_speed_unit(self) -> str:
        """The unit of cutting speeds."""
        return "ft/min" if self.inch else "m/min"

    # ---- forces, masses, surfaces ----

    def force(self, newtons: float, places: int = 0) -> str:
        """A force: to so many decimals of a newton, or to two figures and more of a pound."""
        if not self.inch:
            return self._said(f"{newtons:z.{places}f}", self.force_unit)
        pounds = newtons / NEWTONS_PER_POUND
        return self._said(trimmed(pounds, 1 if abs(pounds) < WHOLE_LBF else 0), self.force_unit)

    def borne(self, newtons: float) -> str:
        """A force that a thing was found to bear, a round one that is no more: to 5 lbf."""
        if not self.inch:
            return self.force(newtons)
        pounds = floor(newtons / NEWTONS_PER_POUND / ROUND_LBF) * ROUND_LBF
        return self.force(pounds * NEWTONS_PER_POUND)

    def cutting_force(self, newtons: float) -> str:
        """A force in a column of them: to 1 N, or a tenth of a pound in every row."""
        if not self.inch:
            return self.force(newtons)
        return self._said(f"{newtons / NEWTONS_PER_POUND:z.1f}", self.force_unit)

    def torque(self, newton_metres: float) -> str:
        """A torque to tighten to."""
        return self._torque(newton_metres, 1)

    def fine_torque(self, newton_metres: float) -> str:
        """The torque of a hand on a short lever."""
        return self._torque(newton_metres, 2)

    def _torque(self, newton_metres: float, metric: int) -> str:
        if self.inch:
            return self._said(
                trimmed(newton_metres / NM_PER_POUND_INCH, metric - 1), self.torque_unit
            )
        return self._said(f"{newton_metres:z.{metric}f}", self.torque_unit)

    def power(self, kilowatts: float) -> str:
        """The power of a motor, to two figures."""
        per, unit = (KW_PER_HORSEPOWER, "hp") if self.inch else (1.0, "kW")
        return self._said(f"{kilowatts / per:.2g}", unit)

    def stress(self, megapascals: float) -> str:
        """A stress, or what a material bears: to 1 MPa, or a hundred psi."""
        if self.inch:
            psi = megapascals * PSI_PER_MEGAPASCAL
            return self._said(f"{round(psi, -2):z.0f}", self.stress_unit)
        return self._said(f"{megapascals:z.0f}", self.stress_unit)

    def mass(self, kilograms: float) -> str:
        """A mass of stock."""
        return self._said(f"{self._mass(kilograms):z.2f}", self.mass_unit)

    def mass_together(self, kilograms: Iterable[float]) -> str:
        """The sum of a column of masses, as its cells are written: it adds up.

        >>> INCH.mass_together([0.1, 0.1, 0.1]), INCH.plain.mass(0.1), METRIC.mass_together([0.5])
        ('0.66 lb', '0.22', '0.50 kg')
        """
        cells = sum(round(self._mass(one), 2) for one in kilograms)
        return self._said(f"{cells:z.2f}", self.mass_unit)

    def _mass(self, kilograms: float) -> float:
        return kilograms / KG_PER_LB if self.inch else kilograms

    def mass_change(self, kilograms: float) -> str:
        """How much heavier or lighter, signed."""
        return self._said(f"{self._mass(kilograms):+z.2f}", self.mass_unit)

    def roughness(self, micrometres: float) -> str:
        """A surface's roughness: "Ra 1.6", its unit understood (ISO 21920-1); "Ra 63 µin" in inches.

        Without its unit as an inch drawing's sign has it, "63" (ASME Y14.36, from memory).
        """
        if not self.inch:
            return f"Ra {micrometres:g}"
        micro = f"{MICROINCHES.get(micrometres) or round(micrometres / 0.0254)}"
        return f"Ra {micro} µin" if self.named else micro

    def drawn_mass(self, kilograms: float) -> str:
        """The mass of a part on its sheet: g or kg; oz or lb in inches, to two or three figures."""
        per, small, large = (28.349523125, "oz", "lb") if self.inch else (1.0, "g", "kg")
        count, of_large = 1000 * kilograms / per, 16 if self.inch else 1000
        if count >= of_large - 0.5:
            return f"{count / of_large:z.2f} {large}"
        return f"{count:.2g} {small}" if count < 9.95 else f"{count:z.0f} {small}"

    def area(self, mm2: float) -> str:
        """An area of sheet."""
        if self.inch:
            return self._said(f"{mm2 / MM_PER_INCH**2:z.1f}", "in2")
        return self._said(f"{mm2 / 100:z.0f}", "cm2")

    def share(self, part: float) -> str:
        """A part of a whole, in percent."""
        return f"{part:z.0%}"

    # ---- cutting ----

    def cutting_speed(self, metres_per_minute: float) -> str:
        """A cutting speed."""
        if self.inch:
            return self._said(
                f"{metres_per_minute * 1000 / MM_PER_FOOT:z.0f}", self.cutting_speed_unit
            )
        return self._said(f"{metres_per_minute:z.0f}", self.cutting_speed_unit)

    def spindle_speed(self, per_minute: float) -> str:
        """A spindle speed, as the lathe's plate lists it."""
        return self._said(f"{per_minute:g}", self.spindle_speed_unit)

    def volume(self, mm3: float) -> str:
        """What a pass takes off."""
        return self._said(self._volume(mm3), self.volume_unit)

    def _volume(self, mm3: float) -> str:
        of_one = MM_PER_INCH**3 if self.inch else 1000
        return f"{mm3 / of_one:z.3f}"

    def removal_rate(self, mm3_per_minute: float) -> str:
        """How fast metal comes off."""
        return self._said(self._volume(mm3_per_minute), f"{self.volume_unit}/min")

    def chip(self, mm3: float) -> str:
        """What a pass in a hollow takes off: to 1 mm3, or 0.0001 cubic inches."""
        if self.inch:
            return self._said(f"{mm3 / MM_PER_INCH**3:z.4f}", self.chip_unit)
        return self._said(f"{mm3:z.0f}", self.chip_unit)

    # ---- angles and times ----

    def angle(self, degrees: float, places: int = 0) -> str:
        """An angle in a sentence or a table."""
        return self._said(f"{degrees:z.{places}f}", "deg")

    def swing(self, from_degrees: float, to_degrees: float) -> str:
        """A swing from one angle to another."""
        return self._said(f"{from_degrees:z.0f} to {to_degrees:z.0f}", "deg")

    def drawn_angle(self, degrees: float) -> str:
        """An angle as a drawing has it, always with its sign: "60°"."""
        return f"{degrees:g}°"

    def dms(self, degrees: int, minutes: int, seconds: int) -> str:
        """An angle in degrees, minutes and seconds of arc, as a rotary table is read."""
        return f"{degrees}° {minutes:02d}' {seconds:02d}\""

    def seconds(self, seconds: float) -> str:
        """How long one swing takes."""
        return self._said(f"{seconds:z.0f}", "s")

    def minutes(self, seconds: float) -> str:
        """How long a job takes, in minutes."""
        return self._said(f"{seconds / 60:z.0f}", "min")
