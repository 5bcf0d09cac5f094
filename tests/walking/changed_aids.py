"""The records of a route's aids with one of them changed, for a walk that is to notice it."""

from __future__ import annotations

import copy
from collections.abc import Iterable
from typing import Any

from planner.job.tables import Job
from planner.making.aids import Aid
from planner.stock.aidpieces import aid_records

Data = dict[str, Any]


def with_one_changed(aids: Iterable[Aid], job: Job, name: str, changes: Data) -> list[Data]:
    """The records, those of a name with other values; left out where ``gone`` is among these.

    name: "" for all as they are.
    """
    made = copy.deepcopy(aid_records(aids, job))
    own = [one for one in made if one["name"] == name]
    assert own or not name
    for one in own:
        one |= changes
    return [one for one in made if one not in own] if "gone" in changes else made
