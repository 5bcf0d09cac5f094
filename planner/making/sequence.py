"""The set-ups of a job in order: what must come before what, each rule with its reason.

A set-up waits for the one before it on the same workpiece; a weldment for all its pieces; a shaft for
the bore it runs in; what is made with another part for that part. Among the orders that are left, one
with the fewest changes of machine. Imported by making.route.
"""

from __future__ import annotations

from collections.abc import Sequence

from parts.attachment import Attachment
from planner.making.fewest import Runs, fewest
from planner.making.model import SetUp, Workpiece

RULES = {
    "piece": "a piece is worked on in one order: what is gripped and measured from must be there",
    "joining": "all pieces of a weldment are made before it is joined: afterwards they are out of"
    " reach",
    "brushed": "aluminium is brushed when the other pieces are ready: its oxide grows again meanwhile",
    "fit": "a shaft is turned to the bore as it came out: bores come first",
    "with": "what is mounted in or spotted through another part waits for that part",
    "bar": "what comes off a bar through the spindle is made in one go, to its parting off: what a"
    " later set-up of it waits for comes before the bar is drawn",
    "assembly": "all parts are there before they are put together and tried",
    "ball": "what is turned with the attachment waits until that is put together and tried",
}
"""Why something comes before something else, each common practice."""


SENT = ("a welder's shop",)
"""What is done elsewhere: all that can be is taken there in one journey."""

JOURNEY = 1000
"""A journey counts as so many changes of machine: there are never as many of those in a job."""

WITH_ALL = "attachment"
"""What a feature is made with that is turned with the attachment itself."""


def waits(setups: Sequence[SetUp], attachment: Attachment) -> dict[int, dict[int, str]]:
    """For each set-up the ones it waits for, with the rule of each (a key of RULES)."""
    found: dict[int, dict[int, str]] = {i: {} for i in range(len(setups))}
    makes: dict[tuple[str, str], int] = {}
    by_part: dict[str, list[int]] = {}
    last: dict[tuple[str, str], int] = {}
    for i, one in enumerate(setups):
        if one.together:
            continue
        part, piece = one.on.part.name, one.on.piece
        alone = one.on.member is not None and not piece or one.on.member is None
        key = (part, piece)
        if key in last:
            found[i][last[key]] = "piece"
        elif alone:
            for (other, _), j in last.items():
                if other == part:
                    found[i][j] = "joining"
        last[key] = i
        by_part.setdefault(part, []).append(i)
        for op in one.ops:
            if op.feature and op.last:
                makes[part, op.feature.name] = i
    for i, one in enumerate(setups):
        for j in by_part[one.on.part.name] if _brushed(one) else ():
            if setups[j].on.piece and not _brushed(setups[j]):
                found[i].setdefault(j, "brushed")
    for fit in attachment.fits:
        hole, shaft = makes.get((fit.hole_part, fit.hole)), makes.get((fit.shaft_part, fit.shaft))
        if hole is not None and shaft is not None and hole != shaft:
            found[shaft][hole] = "fit"
    for i, one in enumerate(setups):
        for name in one.after_parts if not one.together else ():
            for j in by_part.get(name, ()):
                if j != i:
                    found[i][j] = "with"
    for i in range(len(setups)):
        run = _off_the_bar(setups, i)
        for j in run:
            for k, rule in found[j].items():
                if k not in (i, *run) and rule != "piece":
                    found[i].setdefault(k, "bar")
    turned = {i for i, one in enumerate(setups) if _turned_with_it(one)}
    for i, one in enumerate(setups):
        if one.together:
            found[i] = {j: "assembly" for j in range(len(setups)) if j != i and j not in turned}
            for j in turned:
                found[j][i] = "ball"
    return found


def _off_the_bar(setups: Sequence[SetUp], first: int) -> list[int]:
    """The set-ups of a piece after the one that draws its bar, as far as it is parted off; or none."""
    kinds = [[op.kind for op in one.ops] for one in setups]
    drawn = any(op.kind == "rest" and op.cut.get("shape") == "saw" for op in setups[first].ops)
    if not drawn or "part" in kinds[first]:
        return []
    run = [j for j in range(first + 1, len(setups)) if setups[j].on == setups[first].on]
    parted = next((n for n, j in enumerate(run) if "part" in kinds[j]), -1)
    return run[: parted + 1]


def _brushed(one: SetUp) -> bool:
    """Whether a piece is brushed for its weld in a set-up."""
    return bool(one.on.piece) and any(op.tool and op.tool.kind == "brush" for op in one.ops)


def _turned_with_it(one: SetUp) -> bool:
    """Whether a set-up is done with the attachment itself."""
    return any(op.feature is not None and op.feature.made_with == WITH_ALL for op in one.ops)


def ordered(
    setups: Sequence[SetUp], attachment: Attachment
) -> tuple[list[int], dict[int, set[int]], Runs]:
    """The set-ups in order, what each waits for, and the runs on one machine they come in.

    The fewest journeys, then the fewest changes of machine; within a run one workpiece after the other.
    Raises ValueError when set-ups wait for each other.
    """
    before = {i: set(reasons) for i, reasons in waits(setups, attachment).items()}
    machines = [one.machine for one in setups]
    runs = fewest(machines, before, {name: JOURNEY for name in SENT})
    rank = _parts(setups, before)
    done: list[int] = []
    for _, members in runs.runs:
        left = set(members)
        while left:
            ready = [i for i in left if not before[i] & left]
            now = setups[done[-1]].on if done else None

            def key(i: int, now: Workpiece | None = now) -> tuple[bool, bool, int, int]:
                on = setups[i].on
                part = now is not None and on.part is now.part
                return (on != now, not part, rank[on.part.name], i)

            best = min(ready, key=key)
            done.append(best)
            left.discard(best)
    return done, before, runs


def changes(cost: int) -> int:
    """How many changes of machine runs of a cost come to."""
    journeys, others = divmod(cost, JOURNEY)
    return journeys + others - 1


def _parts(setups: Sequence[SetUp], before: dict[int, set[int]]) -> dict[str, int]:
    """The parts in their order, but each after those it waits for."""
    needs: dict[str, list[str]] = {}
    for i, one in enumerate(setups):
        if one.together:
            continue
        own = needs.setdefault(one.on.part.name, [])
        own += [
            n
            for j in sorted(before[i])
            if not setups[j].together
            and (n := setups[j].on.part.name) not in (one.on.part.name, *own)
        ]
    done: dict[str, int] = {}

    def visit(name: str, above: tuple[str, ...]) -> None:
        if name in done or name in above:
            return
        for other in needs[name]:
            visit(other, (*above, name))
        done[name] = len(done)

    for name in needs:
        visit(name, ())
    return done
