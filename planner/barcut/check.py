"""Checks a plan piece by piece, knowing nothing of how it was made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from planner.barcut.model import GAP, LEVELS, PROVEN, Bar, CutPlan, Demand, Layout


class PlanError(ValueError):
    """A plan that cannot be sawn, or whose figures are not those of its layouts."""


def remnant_of(layout: Layout, demands: Sequence[Demand], kerf: int) -> int:
    """Return what is left of a bar: nothing when the last kerf runs out of it."""
    return max(0, layout.bar.length - sum(demands[i].length + kerf for i in layout.pieces))


def count_settings(layouts: Sequence[Layout], demands: Sequence[Demand]) -> int:
    """Return how often the saw stop is set when the layouts are sawn in order: once at first and
    once for every piece whose length differs from the piece before."""
    settings, last = 0, None
    for layout in layouts:
        lengths = [demands[i].length for i in layout.pieces]
        if not lengths:
            continue
        within = sum(a != b for a, b in zip(lengths, lengths[1:], strict=False))
        settings += (lengths[0] != last) + within
        settings += (layout.count - 1) * (within + (lengths[0] != lengths[-1]))
        last = lengths[-1]
    return settings


def check_plan(demands: Sequence[Demand], bars: Sequence[Bar], kerf: int, plan: CutPlan) -> bool:
    """Return True when the plan can be sawn and its figures are right.

    demands, bars, kerf: as given to `cut_bars`, whole units of length; plan: the plan.
    Every layout is gone through piece by piece: its bar must be one of `bars`, its n pieces must
    fit (sum of length + kerf <= bar + kerf), its remnant be right; every demand must be met
    exactly and no bar used more often than it is available; cost, drawn length, longest remnant
    and stop settings must be those of the layouts. Bounds are left to `check_proof`.
    Raises PlanError that lists every fault.
    """
    faults: list[str] = []
    made: Counter[int] = Counter()
    used: Counter[Bar] = Counter()
    sound = True
    for number, layout in enumerate(plan.layouts):
        where = f"layout {number}"
        if layout.count < 1 or not layout.pieces:
            faults.append(f"{where}: count {layout.count} of {len(layout.pieces)} pieces; needs 1")
        if layout.bar not in bars:
            faults.append(f"{where}: no such bar, {layout.bar}")
        used[layout.bar] += layout.count
        unknown = [i for i in layout.pieces if not 0 <= i < len(demands)]
        if unknown:
            faults.append(f"{where}: no demand {unknown}; there are 0 to {len(demands) - 1}")
            sound = False
            continue
        room = layout.bar.length + kerf
        held = 0
        for i in layout.pieces:
            made[i] += layout.count
            held += demands[i].length + kerf
        if held > room:
            faults.append(f"{where}: pieces and kerfs take {held} of {room}")
        left = remnant_of(layout, demands, kerf)
        if layout.remnant != left:
            faults.append(f"{where}: remnant {layout.remnant}; is {left}")
    for i, demand in enumerate(demands):
        if made[i] != demand.quantity:
            faults.append(f"demand {i}: {made[i]} made of {demand.quantity}")
    for bar, count in used.items():
        alike = [b.available for b in bars if b == bar]
        available = sum(a for a in alike if a is not None)
        if None not in alike and count > available:
            faults.append(f"bar {bar}: {count} used of {available}")
    figures = {
        "cost": (plan.cost, sum(x.bar.cost * x.count for x in plan.layouts)),
        "drawn length": (plan.drawn_length, sum(x.bar.length * x.count for x in plan.layouts)),
        "longest remnant": (
            plan.longest_remnant,
            max((layout.remnant for layout in plan.layouts), default=0),
        ),
    }
    if sound:
        figures["stop settings"] = (plan.stop_settings, count_settings(plan.layouts, demands))
    for name, (claimed, right) in figures.items():
        if claimed != right:
            faults.append(f"{name}: {claimed}; the layouts make it {right}")
    faults += _status_faults(plan)
    if faults:
        raise PlanError("; ".join(faults))
    return True


def _status_faults(plan: CutPlan) -> list[str]:
    """Return what is wrong between the figures of a plan and the status of its levels."""
    if tuple(s.level for s in plan.status) != LEVELS:
        return [f"status: levels {[s.level for s in plan.status]}; must be {list(LEVELS)}"]
    faults = []
    values = (plan.cost, plan.drawn_length, plan.longest_remnant, plan.stop_settings)
    for status, value in zip(plan.status, values, strict=True):
        if status.value != value:
            faults.append(f"{status.level}: status says {status.value}, the plan {value}")
        gap = status.bound - value if status.level == LEVELS[2] else value - status.bound
        if gap < 0 or (status.status == PROVEN) != (gap == 0):
            faults.append(
                f"{status.level}: {status.status!r} with value {value} and bound {status.bound}"
            )
        if status.status not in (PROVEN, GAP):
            faults.append(f"{status.level}: {status.status!r} is neither {PROVEN!r} nor {GAP!r}")
    return faults
