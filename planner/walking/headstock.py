"""What drives the tool where the lathe's spindle turns it: a chuck, its centre, what an end mill is in.

Imported by planner.walking.walk.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.walking.faults import Faults
from planner.walking.records import Record

BETWEEN = ("between centres", "between spindle and tailstock", "facing cutter")
"""Words of the tools that a bar between the centres carries."""

CHUCKED = ("drill", "centre drill", "long drill", "reamer", "countersink", "end mill")
"""Tools that a chuck in the spindle drives."""


LATHE_SPINDLE = ("lathe", "milling slide")
"""Machines whose spindle is the lathe's, which has a chuck on it."""

NOT_BARE = re.compile(r"\bcollet\b|\bholder\b")
"""What holds an end mill's hard shank so that the helix does not draw it out of the spindle (common
practice: it creeps out of a three-jaw chuck)."""


CLEARS = re.compile(r"by hand a full turn\b.*\bclear\b")
"""What is said before anything that sweeps round is switched on (common practice)."""

SWEEPS = {
    "slitting saw": (
        "a slitting saw in the lathe's spindle",
        "vice and clamps are wider than the work, and pass close before the chuck's jaws",
    ),
    "fly cutter": (
        "a fly cutter",
        "its bit sweeps wider than its body, and is not seen as it turns",
    ),
}
"""What the lathe's spindle sweeps round with, as it is told, and why that is tried by hand first."""


def headstock_ready(
    setup: Record, operations: Sequence[Record], faults: Faults, live: bool = True
) -> None:
    """Between a tool in the chuck and a bar on the centres stands a step that changes the one; and an
    end mill is not said to be driven by nothing but the chuck, nor a bar to turn on a dry dead centre.

    live: whether the shop has a live one.
    """
    for operation in operations if setup.get("machine") in LATHE_SPINDLE else ():
        bare = str((operation.get("tool") or {}).get("kind")) == "end mill"
        if bare and not NOT_BARE.search(str(operation.get("caution"))):
            faults.key = f"step {operation.get('number')}"
            faults.refuse(
                "route-words",
                "an end mill in the lathe's spindle",
                "it creeps out of the chuck's jaws and digs in",
                "Say the collet or the holder it is in",
            )
        kind = str((operation.get("tool") or {}).get("kind"))
        if kind in SWEEPS and not CLEARS.search(str(operation.get("caution"))):
            what, why = SWEEPS[kind]
            faults.key = f"step {operation.get('number')}"
            remedy = "Say that it is turned by hand first, and clears all round"
            faults.refuse("route-words", what, why, remedy)
    if str((setup.get("hold") or {}).get("by")) != "tool post":
        return
    _brought_across(setup, operations, faults)
    there = ""
    for operation in operations:
        kind = str((operation.get("tool") or {}).get("kind") or "")
        if kind in ("headstock centre", "headstock chuck"):
            there = kind.rpartition(" ")[2]
            continue
        need = "centre" if any(word in kind for word in BETWEEN) else ""
        need = need or ("chuck" if kind in CHUCKED else "")
        if need == "centre" and not live and "grease" not in str(setup.get("caution")):
            faults.key = f"set-up {setup.get('number')}"
            faults.refuse(
                "route-words",
                "a bar between centres",
                "it turns on a dead centre: dry, it seizes",
                "Say that it is greased",
            )
            return
        if need and there and need != there:
            faults.key = f"step {operation.get('number')}"
            faults.refuse(
                "route-order",
                f"{kind} on the {need}",
                f"the {there} is still in the headstock",
                "Change it first, as a step of its own, the work left as it is held",
            )
        there = need or there


def _brought_across(setup: Record, operations: Sequence[Record], faults: Faults) -> None:
    """What is bored where the post holds it is brought onto the bar across: the seat gives its height
    alone."""
    bored = any(one.get("kind") == "bore" for one in operations)
    said = [str(one.get("what")) for one in setup.get("align") or ()]
    if (
        bored
        and not setup.get("with_parts")
        and not any("by the cross slide" in one for one in said)
    ):
        faults.key = f"set-up {setup.get('number')}"
        faults.refuse(
            "route-not-trued",
            "bored in the tool post",
            "nothing says how it comes onto the bar across: its wall comes out thin on one side",
            "Bring it there by the cross slide, and say by what it is seen",
        )
