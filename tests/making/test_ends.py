"""The ends of flat pieces, and what they are milled with."""

from __future__ import annotations

from making.shops import of

from parts.part import members


def test_an_end_thicker_than_the_shops_own_mill_cuts_is_milled_standing() -> None:
    """Flutes of twice the diameter (ISO 1641-1, the short series) go down 12 mm with a mill of 6: the
    side of an arm of 15 is more, and its end is faced from above with the same mill, none bought for
    it (common practice)."""
    _, whole, route = of("bench-lathe", **{"shop.end_mills": [6]})
    (arm,) = [one for part in whole.parts for one in members(part) if one.name == "arm"]
    assert 12.0 < arm.blank.section.height_mm < 3.9 * 6  # a long one's side would do it
    numbers = {one["number"] for one in route.setup_records() if one["piece"] == "arm"}
    ends = [
        one
        for one in route.operation_records()
        if one["setup"] in numbers and ("first end" in one["text"] or "other end to" in one["text"])
    ]
    assert len(ends) == 2
    for one in ends:
        assert one["tool"]["owned"] and "long" not in one["tool"]["name"]
        assert "standing on the other end, under the cutter's face" in one["text"]
