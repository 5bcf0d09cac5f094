"""The rounds of a piece that no thread stands on: a vice crushes one. Imported by making.turned."""

from __future__ import annotations

from msgspec.structs import replace

from parts import features as f
from planner.making.bodies import Body, about, bodies_of
from planner.making.model import Workpiece
from planner.making.near import below, way_of


def unthreaded(on: Workpiece) -> list[Body]:
    """The bodies of a piece, less the rounds that are threaded; all of them where there is no other."""
    assert on.member is not None
    threads = [one for one in on.member.features if isinstance(one, f.Thread)]
    found = []
    for body in bodies_of(on.part, on.member):
        spans = []
        for one in threads:
            i = way_of(one.axis.along)[0]
            if about(body, one):
                spans.append(sorted((one.axis.at(one.start_mm)[i], one.axis.at(one.end_mm)[i])))
        plain = tuple(
            one
            for one in body.rounds
            if not any(below(one.low, high) and below(low, one.high) for low, high in spans)
        )
        found.append(replace(body, rounds=plain or body.rounds))
    return found
