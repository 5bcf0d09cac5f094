"""Last resort: packing given bars as a flow along the bar, solved by SciPy's integer solver."""

from __future__ import annotations

from collections.abc import Sequence

from planner.barcut.counts import Rooms
from planner.barcut.effort import Effort
from planner.barcut.fill import Load, Pattern
from planner.barcut.highs import quiet
from planner.barcut.knapsack import Table

MOST_STATES = 300_000
MOST_TAKEN = 3_000_000
"""States come to, from one or another, at most;"""
STATE_STEPS = 6
"""steps for each."""
MOST_ARCS = 20_000
"""What bounds the solver's first node: its relaxation, its cuts and its guesses."""
MOST_NODES = 20
ARCS_A_STEP = 6
"""Arcs times arcs that the solver does in a step: up to three seconds for twenty thousand."""

State = tuple[int, int]  # kind of piece come to, room used
Arc = tuple[State, State]


def arcs_of(
    room: int,
    sizes: Sequence[int],
    quantities: Sequence[int],
    prices: Sequence[int],
    least: int,
    effort: Effort,
) -> list[Arc] | None:
    """Return the steps (take one more of a kind, or go on to the next kind) that lie on some
    pattern of `room` worth at least `least`; None when there are too many, or the effort is over."""
    come: list[dict[int, int]] = []  # most value come with, per kind and room used
    start = {0: 0}
    taken_on = 0
    for size, quantity, price in zip(sizes, quantities, prices, strict=True):
        here: dict[int, int] = {}
        for used, value in start.items():
            most = min(quantity, (room - used) // size)
            taken_on += 1 + most
            if taken_on > MOST_TAKEN:
                effort.spend(STATE_STEPS * taken_on)
                return None
            for n in range(most + 1):
                at = used + n * size
                here[at] = max(here.get(at, -1), value + n * price)
        come.append(here)
        start = here
        if sum(len(values) for values in come) > MOST_STATES:
            effort.spend(STATE_STEPS * taken_on)
            return None
    effort.spend(STATE_STEPS * taken_on)
    if effort.over:
        return None
    arcs: list[Arc] = []
    later = dict.fromkeys(start, 0)  # most value still to come
    for kind in range(len(sizes) - 1, -1, -1):
        size, price, here = sizes[kind], prices[kind], come[kind]
        to_come: dict[int, int] = {}
        for used in sorted(here, reverse=True):
            to_come[used] = later[used]
            if here[used] + later[used] >= least:
                arcs.append(((kind, used), (kind + 1, used)))
            if used + size in to_come:
                taken = to_come[used + size] + price
                to_come[used] = max(to_come[used], taken)
                if here[used] + taken >= least:
                    arcs.append(((kind, used), (kind, used + size)))
        later = to_come
        effort.spend(4 * STATE_STEPS * len(here))
        if len(arcs) > MOST_ARCS:
            return None
    return arcs


def pack_by_flow(
    rooms: Rooms,
    sizes: Sequence[int],
    quantities: Sequence[int],
    prices: Sequence[int],
    table: Table,
    effort: Effort,
) -> tuple[Load, ...] | None:
    """Return a packing, checked in whole numbers, or None when none was found.

    Only patterns worth, in `prices`, what `table` allows less the slack of all the bars together
    can come up, which is what keeps the network small. That none was found proves nothing.
    """
    need = sum(p * q for p, q in zip(prices, quantities, strict=True))
    slack = sum(table.best(room) * count for room, count in rooms) - need
    networks = []
    for room, _ in rooms:
        arcs = arcs_of(room, sizes, quantities, prices, table.best(room) - slack, effort)
        if arcs is None:
            return None
        networks.append(arcs)
        if sum(map(len, networks)) > MOST_ARCS:
            return None
    number = sum(map(len, networks))
    steps = number * number // ARCS_A_STEP
    if not number or steps > effort.left:
        return None
    effort.spend(steps)
    flows = _solve(rooms, quantities, networks)
    if flows is None:
        return None
    loads: list[Load] = []
    for (room, _), arcs, flow in zip(rooms, networks, flows, strict=True):
        loads += _loads(room, arcs, flow, len(sizes))
    bars = dict(rooms)
    for load in loads:
        bars[load.room] -= load.count
        if sum(s * n for s, n in zip(sizes, load.pattern, strict=True)) > load.room:
            return None
    held = [sum(load.pattern[k] * load.count for load in loads) for k in range(len(sizes))]
    return tuple(loads) if held == list(quantities) and min(bars.values()) >= 0 else None


def _solve(
    rooms: Rooms, quantities: Sequence[int], networks: Sequence[Sequence[Arc]]
) -> list[list[int]] | None:
    """Return the whole flow on every arc of every network, as the solver rounds it."""
    import numpy as np
    from scipy.optimize import (
        Bounds,
        LinearConstraint,
        milp,
    )
    from scipy.sparse import coo_matrix

    rows: dict[tuple[int, State], int] = {}
    entries: list[tuple[int, int, int]] = []
    low, high = [float(q) for q in quantities], [float(q) for q in quantities]
    column = 0
    for number, ((_, count), arcs) in enumerate(zip(rooms, networks, strict=True)):
        for start, end in arcs:
            if start[0] == end[0]:
                entries.append((start[0], column, 1))
            for state, sign in ((start, 1), (end, -1)):
                if state[0] == len(quantities):
                    continue  # the end of the bar
                if (number, state) not in rows:
                    rows[number, state] = len(low)
                    low.append(0.0)
                    high.append(float(count) if state == (0, 0) else 0.0)
                entries.append((rows[number, state], column, sign))
            column += 1
    where, which, values = zip(*entries, strict=True)
    matrix = coo_matrix((values, (where, which)), shape=(len(low), column)).tocsc()
    with quiet():
        answer = milp(
            np.zeros(column),
            constraints=LinearConstraint(matrix, low, high),
            integrality=np.ones(column),
            bounds=Bounds(0, np.inf),
            options={"node_limit": MOST_NODES},
        )
    if answer.x is None:
        return None
    whole = iter(round(float(x)) for x in answer.x)
    return [[next(whole) for _ in arcs] for arcs in networks]


def _loads(room: int, arcs: Sequence[Arc], flow: Sequence[int], kinds: int) -> list[Load]:
    """Take the flow of one network apart into patterns."""
    onward: dict[State, list[list[int]]] = {}
    for k, (start, _) in enumerate(arcs):
        if flow[k] > 0:
            onward.setdefault(start, []).append([k, flow[k]])
    loads: list[Load] = []
    while onward.get((0, 0)):
        path, state = [], (0, 0)
        while state[0] < kinds:
            if not onward.get(state):
                return loads  # the rounded flow does not hang together
            path.append(onward[state][-1])
            state = arcs[path[-1][0]][1]
        times = min(step[1] for step in path)
        counts = [0] * kinds
        for step in path:
            step[1] -= times
            start, end = arcs[step[0]]
            counts[start[0]] += start[0] == end[0]
            if not step[1]:
                onward[start].remove(step)
        pattern: Pattern = tuple(counts)
        if any(pattern):
            loads.append(Load(room, pattern, times))
    return loads
