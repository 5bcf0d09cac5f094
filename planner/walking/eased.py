"""Whether a nut that sets a play is turned no farther at a time than the play's limits are apart; and
that no bush is told of where its seat takes the metal of a hinge.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import pi

from parts import features as f
from parts.part import Part, every_feature
from parts.standard.threads import thread
from planner.walking.faults import Faults
from planner.walking.records import Missing, Record, number, rows, table, text


def eased(parts: Mapping[str, Part], operation: Record, faults: Faults) -> None:
    """Turned farther, it goes from too little to too much. Raises Missing."""
    _bushed(parts, operation, faults)
    tool = operation.get("tool") or {}
    if operation.get("kind") != "check" or tool.get("kind") != "nut":
        return
    said = table(operation, "eased")
    part = parts.get(text(said, "part"))
    if part is None:
        return  # only some parts are walked
    own = {one.name: one for _, one in every_feature(part)}
    rim, tapped = own.get(text(said, "rim")), own.get(text(said, "thread"))
    if not isinstance(rim, f.TurnedDiameter) or not isinstance(tapped, f.TappedHole):
        raise Missing("eased.part")
    for one in rows(operation, "measure"):
        apart = number(one, "high_mm") - number(one, "low_mm")
        arc = number(said, "arc_mm")
        moved = arc / (pi * rim.diameter.nominal_mm) * thread(tapped.thread).pitch_mm
        if not 0.0 < moved <= apart + 1e-9:
            faults.refuse(
                "route-not-fine",
                f"a nut turned {faults.mm(arc)} at its rim: {faults.numbers.micrometer(moved)} of play",
                f"its limits are {faults.numbers.micrometer(apart)} apart",
                "Turn it less at a time",
            )


def _bushed(parts: Mapping[str, Part], operation: Record, faults: Faults) -> None:
    """A bore that a slit leaves a hinge beside is not bored out for a bush: the hinge would tear."""
    said = f"{text(operation, 'text')} {operation.get('note') or ''}"
    if "bush the " not in said:
        return
    for part in parts.values():
        for _, slit in every_feature(part):
            if not isinstance(slit, f.Slit) or not slit.least_mm:
                continue
            for hole in (part.datums[one.datum].of for one in slit.locations):
                if f"bush the {hole}" in said:
                    faults.refuse(
                        "route-spoils",
                        f"bush the {hole}",
                        f"its seat takes the metal beside the {slit.name}",
                        "Turn a new shaft to the bore",
                    )
