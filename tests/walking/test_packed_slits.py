"""Packing on the cross slide sets how deep a saw over it goes, and nothing lets it out again.

By hand: a spindle 48 over the slide and a saw of 25 leave 35.5 under its rim. A block of 39 slit 4.4
deep is sawn at 34.6 over what it stands on: on 0.9 of packing. On 1.0 the slit is 4.5 deep, past its
limits of 4.3 to 4.4, and the hinge tears.
"""

from __future__ import annotations

import copy
import re

import pytest
from walking.shop_files import planned, walked


@pytest.mark.parametrize(
    ("name", "drawn", "ruled"), [("watch-bench", 0.9, 1.0), ("cellar", 2.4, 2.5)]
)
def test_packing_that_saws_too_deep_is_refused(name: str, drawn: float, ruled: float) -> None:
    """As it was: the packing to the nearest half of a millimetre, and one pass on it."""
    route = planned(name).route
    setups, steps = route.setup_records(), route.operation_records()
    (step,) = [one for one in steps if one["kind"] == "slit" and "hinge slit" in one["makes"]]
    here = step["setup"] - 1
    said = re.search(r"on packing of ([\d.]+) mm at first", setups[here]["holding"])
    assert said is not None and float(said[1]) == pytest.approx(drawn - 0.2)
    key = f"step {step['number']}"

    def found(packing: float, text: str) -> list[str]:
        spoiled = copy.deepcopy(setups)
        spoiled[here]["holding"] = spoiled[here]["holding"].replace(
            said[0], f"on packing of {packing} mm"
        )
        others = [one if one is not step else step | {"text": text} for one in steps]
        return [
            f"{one.code}: {one.value}: {one.limit}. {one.remedy}"
            for one in walked(name, spoiled, others)
            if one.key == key
        ]

    assert found(drawn - 0.2, step["text"]) == found(drawn, step["text"]) == []
    assert found(ruled, step["text"]) == [
        f"route-tool-reach: packing of {ruled:g} mm: at {drawn:g} mm the saw is at the slit's bottom:"
        " on more it saws too deep. Begin on less, measure the slit, and shim the work up for the rest"
    ]
    once = "the depth by the packing, at full depth in one pass"
    assert found(drawn, re.sub("the depth by packing.*, and one more", once, step["text"])) == [
        f'route-words: "on packing of {drawn:g}": a lathe\'s heights are not known as closely as the'
        " slit's depth. Say that the slit is measured and the work shimmed up for the rest"
    ]
