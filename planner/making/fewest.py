"""Fewest changes of machine: set-ups put in runs, each on one machine, proven least where it can be.

A search over what is done so far (A*): on a machine all that can be done is done before it is left,
since what is put off can only cost another run. Plain data; imported by making.sequence.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heappop, heappush

from parts.value import Value

MOST_STATES = 4000
"""States looked into before the best found so far is taken, with the bound it leaves."""


class Runs(Value, frozen=True):
    """Set-ups by runs, in order; what they cost, and the least that any order can cost.

    cost: the weights of all runs' machines together. It is the least where that is proven.
    """

    runs: tuple[tuple[str, tuple[int, ...]], ...]
    cost: int
    least: int


def fewest(
    machines: Sequence[str],
    before: Mapping[int, set[int]],
    weights: Mapping[str, int],
    most_states: int = MOST_STATES,
) -> Runs:
    """The runs of least weight in which everything is done after what it waits for.

    machines: of each set-up; before: for each the ones it waits for; weights: of a run on a machine, 1
    where none is given. Raises ValueError where set-ups wait for each other.
    """
    return _Search(machines, before, weights).best(most_states)


class _Search:
    """States are whole numbers: bit i is set where set-up i is done."""

    def __init__(
        self, machines: Sequence[str], before: Mapping[int, set[int]], weights: Mapping[str, int]
    ) -> None:
        self.names = list(dict.fromkeys(machines))
        self.weights = [weights.get(name, 1) for name in self.names]
        self.of = [self.names.index(name) for name in machines]
        self.count = len(machines)
        self.all = (1 << self.count) - 1
        self.needs = [sum(1 << j for j in before.get(i, ())) for i in range(self.count)]
        self.order = self._sorted()
        self.own = [[i for i in self.order if self.of[i] == m] for m in range(len(self.names))]
        self.levels = self._levels()

    def _sorted(self) -> list[int]:
        """All set-ups, each after those it waits for."""
        found: list[int] = []
        done = 0
        while len(found) < self.count:
            ready = [
                i for i in range(self.count) if not done >> i & 1 and not self.needs[i] & ~done
            ]
            if not ready:
                raise ValueError("set-ups wait for each other")
            found += ready
            for i in ready:
                done |= 1 << i
        return found

    def _levels(self) -> list[list[int]]:
        """For each machine and k from 1: the set-ups from which on at least k runs of it follow in one
        line of waiting; runs of one line are parted by what another machine does between."""
        after: list[list[int]] = [[] for _ in range(self.count)]
        for i in range(self.count):
            for j in range(self.count):
                if self.needs[i] >> j & 1:
                    after[j].append(i)
        found = []
        for m in range(len(self.names)):
            # inside: runs from here on with this machine in hand; outside: with another in hand
            runs: list[int] = [0] * self.count
            begun: list[int] = [0] * self.count
            for i in reversed(self.order):
                on = self.of[i] == m
                follow = [(runs[j], begun[j]) for j in after[i]]
                if on:  # one run begins here or goes on from before
                    begun[i] = max((b for _, b in follow), default=0)
                    runs[i] = begun[i] + 1
                else:
                    runs[i] = max((r for r, _ in follow), default=0)
                    begun[i] = runs[i]
            found.append(
                [
                    sum(1 << i for i in range(self.count) if runs[i] >= k)
                    for k in sorted({*runs} - {0})
                ]
            )
        return found

    def bound(self, done: int) -> int:
        """The least that is still to come, nothing more being possible on the machine in hand."""
        left, total = self.all & ~done, 0
        for weight, levels in zip(self.weights, self.levels, strict=True):
            for mask in levels:
                if not mask & left:
                    break
                total += weight
        return total

    def run(self, done: int, m: int) -> int:
        """What is done when everything possible on a machine has been."""
        for i in self.own[m]:  # in order, so that one pass takes what waits for others of the run
            if not done >> i & 1 and not self.needs[i] & ~done:
                done |= 1 << i
        return done

    def best(self, most_states: int) -> Runs:
        """The search itself; greedy from the last state where it is not ended."""
        came: dict[int, tuple[int, int, int]] = {0: (0, -1, -1)}  # cost, state before, machine
        waiting = [(self.bound(0), 0, 0)]
        seen: set[int] = set()
        while True:  # there is an order, so that it ends with all done
            cost, _, done = heappop(waiting)
            if done in seen:
                continue
            if done == self.all:
                return Runs(self._way(came, done), cost, cost)
            if len(seen) >= most_states:  # a run takes no more off the bound than it costs
                return self._greedy(came, done, cost)
            seen.add(done)
            spent = came[done][0]
            for m in range(len(self.names)):
                after = self.run(done, m)
                price = spent + self.weights[m]
                if after != done and (after not in came or came[after][0] > price):
                    came[after] = (price, done, m)
                    heappush(waiting, (price + self.bound(after), -after.bit_count(), after))

    def _greedy(self, came: dict[int, tuple[int, int, int]], done: int, least: int) -> Runs:
        """From a state on, always the machine that leaves the least bound."""
        while done != self.all:
            steps = [(self.run(done, m), m) for m in range(len(self.names))]
            after, m = min(
                (one for one in steps if one[0] != done),
                key=lambda one: self.weights[one[1]] + self.bound(one[0]),
            )
            came[after] = (came[done][0] + self.weights[m], done, m)
            done = after
        return Runs(self._way(came, done), came[done][0], least)

    def _way(
        self, came: dict[int, tuple[int, int, int]], done: int
    ) -> tuple[tuple[str, tuple[int, ...]], ...]:
        runs = []
        while done:
            _, before, m = came[done]
            new = done & ~before
            runs.append((self.names[m], tuple(i for i in self.own[m] if new >> i & 1)))
            done = before
        return tuple(reversed(runs))
