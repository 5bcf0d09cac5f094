"""Columns: one size for many candidate attachments at once, so that rules serve one or all.

A column is a numpy array, or a ``Picked`` of catalogue entries whose attributes are arrays; one that is
the same for every candidate has one row. The rules and the requirements are plain arithmetic on them;
a single sizing is the case of one row. Imported by sizing.catalogue, sizing.rules, sizing.requirements,
checking.strength, sizing.apply and checking.search.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import reduce
from typing import Any

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


class Picked:
    """A column of catalogue entries: ``items[index[row]]`` is the entry of a row.

    An attribute of the items is an array over the rows: ``picked.width_mm``.
    """

    def __init__(
        self,
        items: Sequence[Any],
        index: NDArray[np.intp],
        looked_up: dict[str, NDArray[Any]] | None = None,
    ) -> None:
        self.items, self.index = tuple(items), index
        self._looked_up = {} if looked_up is None else looked_up
        self._seen: dict[str, Any] = {}

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        if name not in self._seen:
            if name not in self._looked_up:
                self._looked_up[name] = np.array([getattr(item, name) for item in self.items])
            self._seen[name] = self._looked_up[name][self.index]
        return self._seen[name]

    def __len__(self) -> int:
        return len(self.index)

    def of(self, function: Callable[[Any], float]) -> Numbers:
        """A number of each row's entry."""
        return np.array([function(item) for item in self.items], dtype=float)[self.index]

    def take(self, rows: Rows) -> Picked:
        """The same column for a choice of rows; what its entries have been asked is kept."""
        return Picked(self.items, self.index[rows], self._looked_up)

    def row(self, row: int) -> Any:
        """The entry of one row."""
        return self.items[self.index[row]]


Rows = NDArray[np.intp] | slice


class Chosen(dict[str, Any]):
    """Columns by name for a choice of another's rows; each is taken when it is first asked for.

    One that is the same in every row stays as it is.
    """

    def __init__(self, other: Mapping[str, Any], rows: Rows) -> None:
        super().__init__()
        self._other, self._rows = other, rows
        self._names: set[str] = set(other)
        if isinstance(other, Chosen):
            self._names |= other._names

    def __missing__(self, name: str) -> Any:
        column = self._other[name]
        if not isinstance(column, str) and len(column) > 1:
            rows = self._rows
            column = column.take(rows) if isinstance(column, Picked) else column[rows]
        self[name] = column
        return column

    def __contains__(self, name: object) -> bool:
        return super().__contains__(name) or name in self._names


def most(*values: Any) -> Any:
    """The greatest of numbers and arrays, row by row."""
    return reduce(np.maximum, values)


def least(*values: Any) -> Any:
    """The least of numbers and arrays, row by row."""
    return reduce(np.minimum, values)


def up(value: Any, step: float) -> Any:
    """Rounded up to whole steps, forgiving a millionth of one."""
    return np.ceil(np.round(value / step, 6)) * step


def down(value: Any, step: float) -> Any:
    """Rounded down to whole steps, forgiving a millionth of one."""
    return np.floor(np.round(value / step, 6)) * step


def alike(keys: Numbers) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Rows that are the first of their kind, and for each row its place among those.

    keys: up to twelve columns. Rows are told apart by one number each, their columns in proportions
    without common measure, and where that does not tell two apart every row is of its own kind. Of
    rows that follow their like only the first is looked at.
    """
    new = np.flatnonzero(np.any(keys[1:] != keys[:-1], axis=1)) + 1
    if len(keys) and 2 * len(new) < len(keys):
        starts = np.concatenate([[0], new])
        first, same = _alike(keys[starts])
        return starts[first], np.repeat(same, np.diff(np.append(starts, len(keys))))
    return _alike(keys)


def _alike(keys: Numbers) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    roots = np.sqrt([2.0, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37])
    sums = np.round(keys @ roots[: keys.shape[1]], 9)
    _, first, same = np.unique(sums, return_index=True, return_inverse=True)
    if np.any(np.abs(keys[first][same] - keys) > 1e-6):
        return np.arange(len(keys)), np.arange(len(keys))
    return first, same


FEW_COLUMNS = 32
"""Up to so many columns argmax is the quicker."""


def first_true(rows: NDArray[np.bool_]) -> NDArray[np.intp]:
    """For each column of a table of truths the first row that is true; 0 where none is.

    Row by row from the last: an upright table of many columns is gone through far quicker so than by
    argmax.
    """
    if rows.shape[1] <= FEW_COLUMNS:
        few: NDArray[np.intp] = rows.argmax(axis=0)
        return few
    found = np.zeros(rows.shape[1], dtype=np.int16)
    for at in range(len(rows) - 1, -1, -1):
        np.copyto(found, at, where=rows[at], casting="unsafe")
    return found.astype(np.intp)
