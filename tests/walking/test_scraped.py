"""A face that is filed and scraped by blue is not between the jaws meanwhile.

A vice's jaws cover the two faces that they close on, so neither can be filed or tried on a plate
(common practice).
"""

from __future__ import annotations

import copy

from planner.output.plan import Plan
from planner.output.topics import topic
from planner.walking.walk import walk


def test_the_seat_is_scraped_with_the_jaws_on_other_faces(bench: Plan) -> None:
    one = topic("route")
    record = one.record(bench, one.asked(one.packaged))
    (step,) = [o for o in record["operations"] if o["tool"]["kind"] == "scraper"]
    face = step["measure"][0]["from"]
    (setup,) = [s for s in record["setups"] if s["number"] == step["setup"]]
    (grip,) = setup["hold"]["grips"]
    assert face == "shank.-y" and face not in (grip["surface"], grip["other"])
    assert setup["hold"]["up"] == "-y"  # where a file comes to it
    parts, placed = bench.attachment.parts, bench.attachment.placed

    def said(setups: list[dict[str, object]]) -> set[tuple[str, str, str]]:
        found = walk(parts, bench.job, setups, record["operations"], placed=placed)
        at = f"step {step['number']}"
        return {(one.code, one.limit, one.remedy) for one in found if one.key == at}

    refused = (
        "route-cut-in-grip",
        "the jaws close on it",
        "Grip the work by its other faces, this one up",
    )
    assert refused not in said(record["setups"])
    spoiled = copy.deepcopy(record["setups"])
    (other,) = [s for s in spoiled if s["number"] == step["setup"]]
    other["hold"]["grips"][0] |= {"surface": "shank.-y", "other": "shank.+y"}
    assert refused in said(spoiled)
