"""The door out for numbers: how a job's language of numbers writes each kind of quantity.

No sheet, picture, call-out, step or finding formats a unit by itself: it asks ``job.numbers`` by what
the quantity is for, so that another language of numbers is filled in here alone. Lengths are asked for
by what reads them (a rule, a caliper, a micrometer) or by what they are (a size, a clearance, an
error). Any room may import it; quantities come in as the planner has them: mm, N, Nm, MPa, kg, deg, s.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import Any

from parts.standard.drills import Drill
from parts.standard.sections import Section
from planner.words.drilling import that_serves
from planner.words.lengths import RULE_IN, Lengths
from planner.words.limited import GRAIN, charted, in_64ths, of_inches, of_metric
from planner.words.units import MM_PER_INCH, trimmed, unit_name

STOP_MM, STOP_IN = 0.5, 1 / 16
"""What the stop of a saw is set to (common practice)."""

CUT_MM, CUT_IN = 0.05, 0.001
"""What each cut is set in by: one division of a cross slide's dial, of 0.05 mm or of a thousandth of an
inch; where that would leave nothing for the last cut, a tenth or a half of it (common practice)."""

FINE_CUT_MM, FINE_CUT_IN = 0.005, 0.0005
"""That tenth and that half."""

FINE_FEED_IN = 0.006
"""Feeds are set to half a thousandth up to here, to a thousandth over it (common practice: the coarse
feeds of a lathe's chart stand in thousandths)."""

MICROMETER_MM = 25.0
"""What one micrometer reads over, metric; an inch one reads over 1 in (common practice)."""


@dataclass(frozen=True)
class Numbers(Lengths):
    """A job's language of numbers.

    inch: inches, pounds and feet, else metric. named: write the
    unit behind the number; ``plain`` is the same language without, for a column or a call-out whose
    head names the unit once (``unit``, ``force_unit`` and the like).
    """

    inch: bool
    named: bool = True

    @property
    def plain(self) -> Numbers:
        """The same language of numbers with the unit left off."""
        return Numbers(self.inch, named=False)

    # ---- the units, for heads of columns ----

    @property
    def unit(self) -> str:
        """The unit lengths are shown in."""
        return unit_name(self.inch)

    @property
    def file_unit(self) -> str:
        """The unit of a file to cut by, in words: "in" behind a preposition is none."""
        return "inches" if self.inch else "mm"

    # ---- lengths, by what reads them or what they are ----

    def turned_length(self, mm: float) -> str:
        """How long a stretch is turned, never with a unit: as ``general``, where it has a size.

        What runs into a ball has none, and is turned to what a rule reads under it: the ball's tool
        takes the rest.

        >>> INCH.turned_length(16.94), METRIC.turned_length(13.24), METRIC.turned_length(6.25)
        ('21/32', '13', '6.25')
        """
        inches = mm / MM_PER_INCH
        grains = (mm * 20, *((inches * 1000, inches * 64) if self.inch else ()))
        sized = any(abs(one - round(one)) < 1e-3 for one in grains)
        return self.general(mm) if sized else self.plain.rule_down(mm)

    def dial(self, mm: float) -> str:
        """What a dial or a caliper is set to and no rule: to 0.01 mm or 0.001 in, no fraction."""
        return self.caliper(mm)

    def worked(self, mm: float) -> str:
        """A size that is worked to by dial or caliper: a fraction has its decimals beside it, and with
        its unit one of millimetres is said in both.

        >>> INCH.worked(12.0), INCH.worked(15.875), METRIC.worked(12.0)
        ('12 mm = 0.472 in', '5/8 = 0.625 in', '12 mm')
        >>> INCH.plain.worked(22.621875), INCH.plain.worked(14.0), METRIC.plain.worked(14.25)
        ('57/64 = 0.891', '0.551', '14.25')
        """
        if self.inch and self.named and of_metric(mm):
            return self.bought_length(mm)
        text = self.plain.size(mm)
        if self.inch and "/" in text:
            text += f" = {self.plain.dial(mm)}"
        return self._said(text, self.unit)

    def asked(self, mm: float, within_mm: float = 0.0) -> str:
        """A size that a job asks for, and how near: in inches both in decimals, as many of either.

        In an inch shop a metric one is said in both. within_mm: rounded down, left off where it is 0.

        >>> INCH.asked(40.0, 0.1), INCH.asked(31.75, 0.0762), INCH.asked(30.1625)
        ('40 mm = 1.5748 in ±0.0039', '1.250 in ±0.003', '1.1875 in')
        >>> METRIC.asked(31.75, 0.05)
        '31.75 mm ±0.05'
        """
        if not self.inch:
            near = self.plain.micrometer(within_mm)
            return f"{self.size(mm)} ±{near}" if within_mm else self.size(mm)
        metric = of_metric(mm)
        thousandths = (one / MM_PER_INCH * 1000 for one in (mm, within_mm))
        rough = all(abs(one - round(one)) < 1e-3 for one in thousandths)
        places = 4 if metric or not rough else 3
        text = f"{METRIC.size(mm)} = " if metric else ""
        text += self.length(mm, places)
        down = floor(within_mm / MM_PER_INCH * 10**places + GRAIN) / 10**places
        return f"{text} ±{down:.{places}f}" if within_mm else text

    def alike(self, *mm: float) -> tuple[str, ...]:
        """Sizes of a column, written in one way and without unit: in inches as fractions where all
        are, else all to thousandths.

        >>> INCH.alike(31.75, 12.7), INCH.alike(31.75, 40.0), METRIC.alike(31.75, 40.0)
        (('1-1/4', '1/2'), ('1.250', '1.575'), ('31.75', '40'))
        """
        texts = tuple(self.plain.size(one) for one in mm)
        if self.inch and any("." in one for one in texts):
            return tuple(self.plain.caliper(one) for one in mm)
        return texts

    def division(self, mm: float) -> str:
        """What one division of the feed dial moves: to 0.0001 mm or 0.00001 in, no zeros at the end."""
        return self.exact(mm, 5 if self.inch else 4)

    def division_of(self, mm: float, pitch_mm: float) -> str:
        """The same in both languages where the screw is not of the job's: "0.0254 mm = 0.001 in"."""
        own = self.division(mm)
        if inch_pitch(pitch_mm) == self.inch:
            return own
        return f"{own} = {(METRIC if self.inch else INCH).division(mm)}"

    def slide_division(self, mm: float) -> str:
        """What one division of the lathe's own dial moves: to 0.0001, no zeros at the end; of a metric
        screw, of which that says no inches, by both: "0.02 mm = 0.00079 in"."""
        tenths = mm / MM_PER_INCH * 10_000
        if self.inch and abs(tenths - round(tenths)) > 1e-3:
            return f"{METRIC.exact(mm, 4)} = {self.exact(mm, 5)}"
        return self.exact(mm, 4)

    def exact(self, mm: float, places: int = 6) -> str:
        """A dial's figure as exact as it is: to so many decimals, zeros at the end left off."""
        return self._said(trimmed(mm / MM_PER_INCH if self.inch else mm, places), self.unit)

    def feed(self, mm: float) -> str:
        """A feed per turn, "0.12 mm/rev": to 0.01 mm, half a thousandth, over FINE_FEED_IN a whole."""
        return self._said(self._fed(mm) if self.inch else trimmed(mm, 2), f"{self.unit}/rev")

    def set_feed(self, mm: float | None, shape: str | None) -> tuple[str, ...]:
        """The feed that a step's tool is set to, "feed 0.12 mm/rev"; shape: what it cuts.

        Nothing without one, or where it cuts a thread, whose call-out says its lead.
        """
        return (f"feed {self.feed(mm)}",) if mm and shape != "thread" else ()

    def fed_mm(self, mm: float) -> float:
        """What ``feed`` says of a feed, mm: of an inch shop half thousandths, else as it is.

        >>> round(INCH.fed_mm(0.12) / MM_PER_INCH, 6), METRIC.fed_mm(0.12)
        (0.0045, 0.12)
        """
        return float(self._fed(mm)) * MM_PER_INCH if self.inch else mm

    def cut_depth(self, mm: float) -> str:
        """The depth of each cut by the slide's dial: to 0.005 mm, or half a thousandth of an inch."""
        return self._said(self._halves(mm) if self.inch else trimmed(mm, 3), self.unit)

    def cuts(self, number: int, mm: float) -> tuple[str, ...]:
        """So many cuts, the last of what is left: "3 cuts of 0.016 in at most"; of one, nothing."""
        return (f"{number} cuts of {self.cut_depth(mm)} at most",) if number > 1 and mm else ()

    def cut_step_mm(self, total_mm: float, cuts: int) -> float:
        """What the depth of each of so many cuts of a total is made whole to, mm: CUT, or finer.

        Finer where the last cut of them would have nothing left.
        """
        step, fine = (CUT_IN, FINE_CUT_IN) if self.inch else (CUT_MM, FINE_CUT_MM)
        unit = MM_PER_INCH if self.inch else 1.0
        each = ceil(total_mm / cuts / (step * unit) - GRAIN) * step * unit
        return (step if each * (cuts - 1) < total_mm - GRAIN else fine) * unit

    def _fed(self, mm: float) -> str:
        """Inches per turn as a feed is set."""
        inches = mm / MM_PER_INCH
        return f"{inches:.3f}" if inches > FINE_FEED_IN else self._halves(mm)

    def _halves(self, mm: float) -> str:
        """Inches to half a thousandth, in thousandths where they are whole."""
        halves = round(mm / MM_PER_INCH * 2000)
        return f"{halves / 2000:.{3 + halves % 2}f}"

    def screw_pitch(self, mm: float) -> str:
        """The pitch of a screw in its own language, "18 tpi" or "1.5 mm".

        In a shop of the other it is said in that too: "1 mm (25.4 tpi)", "20 tpi (1.27 mm)".
        """
        own = inch_pitch(mm)
        metric, inch = f"{mm:.4g} mm", self.threads_per_inch(float(f"{MM_PER_INCH / mm:.4g}"))
        first, second = (inch, metric) if own else (metric, inch)
        return first if own == self.inch else f"{first} ({second})"

    def asked_pitch(self, mm: float) -> str:
        """The pitch of a screw as a job file has it: "1.5 mm", or "20 tpi" in an inch shop."""
        return self.threads_per_inch(MM_PER_INCH / mm) if self.inch else f"{mm:.4g} mm"

    def threads_per_inch(self, number: float) -> str:
        """Threads per inch as a job file has them, "20 tpi"."""
        return f"{number:g} tpi"

    def pitch(self, mm: float) -> str:
        """What a turn of a screw moves, exact: "0.050 in", "0.03125 in"; a screw of the other language
        in both, "1 mm = 0.03937 in"."""
        if inch_pitch(mm) != self.inch:
            return f"{METRIC.exact(mm, 5)} = {INCH.exact(mm)}"
        if not self.inch:
            return self.exact(mm, 5)
        exact = trimmed(mm / MM_PER_INCH, 6)
        return self.length(mm, max(3, len(exact.partition(".")[2])))

    def screw_length(self, mm: float, unified: bool, cut: bool = False) -> str:
        """A bought screw's length, without unit where the thread's own language is the job's.

        unified: whether it goes with a unified thread, and so is sold by inches. cut: to length in the
        shop, which the job's own rule is laid on: "stud M5 x 1-3/16 in".
        """
        own = INCH if (self.inch if cut else unified) else METRIC
        return (own.plain if unified == self.inch else own).size(mm)

    def knurl(self, mm: float) -> str:
        """A knurl by what its wheel is sold by: "1 mm pitch", or "21 teeth per inch"."""
        if self.inch:
            return f"{MM_PER_INCH / mm:.3g} teeth per inch"
        return f"{trimmed(mm, 2)} mm pitch" if self.named else f"{trimmed(mm, 2)} pitch"

    @property
    def saw_step_mm(self) -> float:
        """What the stop of the saw is set in by a rule, mm: half millimetres, or 16ths of an inch."""
        return STOP_IN * MM_PER_INCH if self.inch else STOP_MM

    @property
    def bar_grain_mm(self) -> float:
        """What bars, kerfs and remnants are reckoned in, mm: tenths, or 64ths of an inch."""
        return RULE_IN * MM_PER_INCH if self.inch else 0.1

    def saw_stop_mm(self, mm: float) -> float:
        """A length rounded up to a whole step of the saw's stop, mm."""
        return round(ceil(round(mm / self.saw_step_mm, 4)) * self.saw_step_mm, 6)

    def sawn_to_mm(self, mm: float, spare_mm: float) -> float:
        """The stop's length, mm; in inches the rule's where nothing is spare, to face or hold by."""
        return self.rule_up_mm(mm) if self.inch and not spare_mm else self.saw_stop_mm(mm)

    # ---- things by their names ----

    def micrometer_range(self, nominal_mm: float) -> str:
        """The micrometer that a size is measured with, by what it reads over: "25 to 50 mm"."""
        step = 1 if self.inch else 25
        low = int(nominal_mm // (MM_PER_INCH if self.inch else MICROMETER_MM)) * step
        return self._said(f"{low} to {low + step}", self.unit)

    def stock(self, section: Section) -> str:
        """A stock section by the name it is sold by, one of the other language in both.

        >>> INCH.stock(Section("round", 25.0)), METRIC.stock(Section("flat", 50.8, 12.7))
        ('round 25 mm (0.984 in)', 'flat 2 x 1/2 in (50.8x12.7)')
        """
        sizes = [mm for mm in (section.width_mm, section.thickness_mm) if mm]
        if self.inch and all(map(of_metric, sizes)):
            decimal = " x ".join(INCH.plain.caliper(mm) for mm in sizes)
            return f"{section.label()} mm ({decimal} in)"
        if not self.inch and all(map(in_64ths, sizes)) and any(map(of_inches, sizes)):
            return f"{section.label(True)} ({section.label().partition(' ')[2]})"
        return section.label(self.inch)

    def tool(self, mm: float) -> str:
        """A tool by the size that it is sold by, one of the other language in both.

        >>> INCH.tool(8.0), INCH.tool(9.525), METRIC.tool(6.35), METRIC.tool(8.0)
        ('8 mm (0.315 in)', '3/8 in', '1/4 in (6.35 mm)', '8 mm')
        """
        if self.inch and of_metric(mm):
            return f"{METRIC.size(mm)} ({charted(mm)} in)"
        if not self.inch and of_inches(mm):
            return f"{INCH.size(mm)} ({METRIC.size(mm)})"
        return self.size(mm)

    def drill(self, drill: Drill) -> str:
        """A drill as it is marked, with its size beside: "letter F, 0.257 in".

        A metric one in millimetres is marked by its size. One of an inch thread there has its size and
        the metric drill that serves behind its name: "#7, 5.11 mm (or 5.1 mm)".
        """
        if not self.inch:
            if drill.name.endswith(" mm"):
                return drill.name
            mark = drill.name if drill.name.endswith(" in") else _marked(drill.name)
            serves = self.drill_that_serves(drill)
            return (
                f"{mark}, {self.size(drill.diameter_mm)}{f' (or {serves.name})' if serves else ''}"
            )
        name = drill.name.removesuffix(" in")
        size = self._said(charted(drill.diameter_mm), self.unit)
        if "." in name and not name.endswith(" mm"):
            return size
        if name.endswith(" mm"):
            return f"{name}, {size}{self._near_drill(drill)}"
        return f"{_marked(name)}, {size}"

    def _near_drill(self, drill: Drill) -> str:
        """The inch drill that serves for a metric one, behind its name; nothing where none is near."""
        near = self.drill_that_serves(drill)
        if near is None:
            return ""
        return f" (or {_marked(near.name)}, {charted(near.diameter_mm)})"

    def drill_that_serves(self, drill: Drill) -> Drill | None:
        """The drill of the job's own system that serves for one of the other, None without one."""
        return that_serves(drill, self.inch)

    def thread(self, designation: str) -> str:
        """A thread by its designation, the same in every language of numbers."""
        return designation

    def washer(self, designation: str) -> str:
        """A washer by the screw that it goes under, as it is sold: "5/16", "No.10", "M8".

        >>> INCH.washer("5/16-24 UNF"), INCH.washer("No.10-24 UNC"), METRIC.washer("M8x1")
        ('5/16', 'No.10', 'M8')
        """
        return (
            designation.rpartition("-")[0]
            if " UN" in designation
            else designation.partition("x")[0]
        )

    def thread_made(self, designation: str, inside: bool) -> str:
        """A thread to be cut, with the class that it is made to where nothing closer is asked for.

        A unified one: 2B inside a hole and 2A outside (ASME B1.1). A metric one 6H and 6g (ISO 965-1),
        said where the others' are, in an inch shop; a metric shop cuts no other.
        """
        if " UN" in designation:
            return f"{designation}-{'2B' if inside else '2A'}"
        if self.inch and designation.startswith("M"):
            return f"{designation}-{'6H' if inside else '6g'}"
        return designation

    def value(self, value: Any) -> str:
        """One of the attachment's sizes, whatever it is: a length, a section, a count or a name."""
        if isinstance(value, Section):
            return self.stock(value)
        return self.bought_length(value) if isinstance(value, float) else str(value)


def _marked(name: str) -> str:
    """An inch drill by its mark: "letter F", "#7", "5/16"."""
    bare = name.removesuffix(" in")
    return f"letter {bare}" if bare.isalpha() else bare


def counted(number: int, thing: str) -> str:
    """So many of a thing: "1 pip", "2 pips", "0 pips"."""
    if number == 1:
        return f"1 {thing}"
    return f"{number} {thing}{'es' if thing.endswith('s') else 's'}"


def inch_pitch(mm: float) -> bool:
    """Whether a pitch is one of so many threads per inch, whole ones."""
    per_inch = MM_PER_INCH / mm
    return abs(per_inch - round(per_inch)) < 1e-4 * per_inch


METRIC, INCH = Numbers(inch=False), Numbers(inch=True)
"""The languages by themselves: for what is in one, or in both, whatever the job says."""
