"""The fastest way down to a ball in whole divisions of the dial: every depth and every speed tried.

A pass is known by where it ends and how deep it is; what it takes does not depend on how the tip came
there. So the least time is a shortest path over the divisions left to go, exact by dynamic programming:

    V(0) = 0,   V(k) = least over d of V(k - d) + t(k - d, d)

with t(e, d) the time of a pass of d divisions that ends with e to go. V is also a bound: it is the
price of standing k divisions out in the dual of that path's linear programme, and no pass is dearer
than what it is worth. Plain arrays; knows nothing of lathes.
"""

from __future__ import annotations

import numpy as np

from parts.value import Value


class Way(Value, frozen=True):
    """A way down: the depths in divisions from the outside in, and its time."""

    depths: tuple[int, ...]
    seconds: float


def least_times(seconds: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """The least time from each number of divisions to go, up to count, and the depth to take there.

    seconds: by divisions to go at a pass's end (rows, at least count) and its depth (columns, the first
    for a depth of 0 and not used), infinite where there is no such pass. Of ways as fast the one whose
    next pass is deepest.
    """
    deepest = seconds.shape[1] - 1
    best, taken = np.full(count + 1, np.inf), np.zeros(count + 1, dtype=int)
    best[0] = 0.0
    for k in range(1, count + 1):
        depth = np.arange(min(deepest, k), 0, -1)
        whole = best[k - depth] + seconds[k - depth, depth]
        number = int(np.argmin(whole))
        best[k], taken[k] = whole[number], depth[number]
    return best, taken


def fastest(seconds: np.ndarray, count: int) -> Way | None:
    """The fastest way down from count divisions, None where there is none."""
    best, taken = least_times(seconds, count)
    if not np.isfinite(best[count]):
        return None
    depths, k = [], count
    while k:
        depths.append(int(taken[k]))
        k -= int(taken[k])
    return Way(tuple(depths), float(best[count]))


def fastest_of(seconds: np.ndarray, count: int, passes: int) -> Way | None:
    """The fastest way down in so many passes, None where there is none."""
    deepest = seconds.shape[1] - 1
    best = np.full((passes + 1, count + 1), np.inf)
    taken = np.zeros((passes + 1, count + 1), dtype=int)
    best[0, 0] = 0.0
    for number in range(1, passes + 1):
        for k in range(1, count + 1):
            depth = np.arange(min(deepest, k), 0, -1)
            whole = best[number - 1, k - depth] + seconds[k - depth, depth]
            least = int(np.argmin(whole))
            best[number, k], taken[number, k] = whole[least], depth[least]
    if not np.isfinite(best[passes, count]):
        return None
    depths, k = [], count
    for number in range(passes, 0, -1):
        depths.append(int(taken[number, k]))
        k -= depths[-1]
    return Way(tuple(depths), float(best[passes, count]))
