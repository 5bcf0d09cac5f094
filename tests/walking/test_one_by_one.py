"""Several off one bar are made one after the other: a bar has one end to face and centre.

By hand: six rods of 80 off a bar of 500 are one bar until each is parted; while the first is in it, the
end of the second is metal within the bar (common practice).
"""

from __future__ import annotations

import copy

from making.shops import of, walked_whole
from walking.part_walk import near


def test_pieces_off_one_bar_are_parted_before_the_next_is_begun() -> None:
    """As it was: the bar drawn out and its end centred "for all of them", then all turned."""
    six = {"lathe.spindle_bore": 30, "attachment.quantity": 6}
    job, whole, route = of("bench-lathe", **six)
    setups, steps = route.setup_records(), route.operation_records()
    assert walked_whole(**six) == ()
    drawn = [one["number"] for one in steps if one["text"].startswith("draw the bar")]
    assert drawn
    assert {steps[number - 1]["note"] for number in drawn} <= {
        "the 6 one after the other, each through to its parting off; only then is the bar drawn out for"
        " the next, its end faced and centred",
        "the 6 one after the other, each through to its parting off; only then is the bar drawn out for"
        " the next, its end faced",
    }
    spoiled = copy.deepcopy(list(steps))
    for number in drawn:
        spoiled[number - 1]["note"] = ""
    found = near(whole, job, setups, spoiled, *{steps[number - 1]["part"] for number in drawn})
    assert [one.key for one in found] == [f"step {number}" for number in drawn]
    assert {(one.code, one.limit) for one in found} == {
        ("route-words", "the bar has one end to work on")
    }
    # one alone has nobody to wait for
    job, whole, route = of("bench-lathe", **{"lathe.spindle_bore": 30})
    assert not any("one after the other" in one["note"] for one in route.operation_records())


def test_a_bar_is_drawn_when_all_is_there_that_its_piece_waits_for() -> None:
    """As it was: the rod's bar drawn, faced and centred first of all, and the rod turned to its body's
    bore some fifty set-ups later: none could be made through to its parting off before the next."""
    job, whole, route = of("bench-lathe", **{"lathe.spindle_bore": 30, "attachment.quantity": 6})
    setups, steps = route.setup_records(), route.operation_records()
    on_it = [one for one in setups if one["piece"] == "rod"]
    drawn = on_it[0]
    numbers = [one["number"] for one in on_it[:3]]
    assert numbers == list(range(numbers[0], numbers[0] + 3))
    (bored,) = (one for one in steps if "rod bore" in (one["makes"] or ()))
    assert bored["setup"] < drawn["number"]

    early = copy.deepcopy(list(steps))
    own = [one for one in early if one["setup"] == drawn["number"]]
    others = [one for one in early if one not in own]
    at = next(i for i, one in enumerate(others) if one["setup"] == bored["setup"])
    spoiled = [*others[:at], *own, *others[at:]]
    order = [one for one in setups if one is not drawn]
    place = next(i for i, one in enumerate(order) if one["number"] == bored["setup"])
    moved = [*order[:place], drawn, *order[place:]]
    found = near(whole, job, moved, spoiled, drawn["part"], bored["part"])
    key = f"step {own[0]['number']}"
    told = {one.limit for one in found if (one.code, one.key) == ("route-order", key)}
    assert told == {"of several off one bar the next is begun when the one before is off"}


def test_the_far_end_of_a_bar_through_the_spindle_is_spoken_of() -> None:
    """As it was: a bar of three metres drawn through a spindle at a thousand turns, and not a word of
    what stands out behind. It bends out, and flails (common practice: stock bars are guarded)."""
    job, whole, route = of("bench-lathe", **{"lathe.spindle_bore": 30})
    setups, steps = route.setup_records(), copy.deepcopy(list(route.operation_records()))
    assert walked_whole(**{"lathe.spindle_bore": 30}) == ()
    drawn = [one for one in steps if one["text"].startswith("draw the bar")]
    assert drawn
    for one in drawn:
        assert one["caution"] == (
            "What of the bar stands out behind the headstock whips: saw it so short that it ends in the"
            " spindle, or run it in a fixed tube, guarded"
        )
        one["caution"] = ""
    found = near(whole, job, setups, steps, *{one["part"] for one in drawn})
    assert [one.key for one in found] == [f"step {one['number']}" for one in drawn]
    assert {one.limit for one in found} == {"what stands out behind the headstock whips"}
