"""What comes before what, by hand: reasons between two set-ups, the fewest set-ups, what waits, marks.

The rules are common practice; each case is a piece of work as a shop would have it, with the answer
worked out beside it.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from making.shops import shop
from msgspec.structs import replace

from parts import features as f
from parts.features import FacedLength, Feature, Location, Stage, general
from parts.fitting import Fit
from parts.frame import Box, Frame
from parts.part import Datum, Member, Part, Stock
from parts.standard.sections import Section
from planner.making import cuts, records
from planner.making.fewest import fewest
from planner.making.leastsetups import least_setups, why
from planner.making.marks import marks
from planner.making.model import (
    Align,
    At,
    Centre,
    Gauge,
    Grip,
    Hold,
    Line,
    Measure,
    Op,
    SetUp,
    Tool,
    Workpiece,
)
from planner.making.pieces import merged
from planner.making.sequence import ordered, waits

CHUCK, OTHER = Hold("chuck", "by one end"), Hold("chuck", "by the other end")
VICE, BENCH = Hold("machine vice", "in the vice"), Hold("bench vice", "soft jaws")
TOOL = Tool("turning tool", "HSS turning tool")


def round_(name: str, *of: str, **more: Any) -> f.TurnedDiameter:
    """A turned diameter that is located from these datums."""
    locations = tuple(Location(letter, "+x", general(5.0)) for letter in of)
    return f.TurnedDiameter(name=name, datum="A", start_mm=0.0, end_mm=5.0, diameter=general(10.0),
                            locations=locations, **more)  # fmt: skip


BAR = Stock(Section("round", 20.0), 40.0, "S355")
ENDS = FacedLength(name="ends", datum="A", length=general(40.0))


DATUMS = {"B": "collar", "C": "seat", "R": "rim", "S": "step"}
"""What each letter is on, of every part here."""


def named(name: str) -> Part:
    """A part of one piece, of round 20."""
    datums = {letter: Datum(of, "start", of) for letter, of in DATUMS.items()}
    return Part(name, name.title(), BAR, (), datums, (0.5, 0.5, 0.5))


@pytest.fixture(scope="module")
def part() -> Part:
    return named("knob")


def on(part: Part, hold: Hold, *features: Feature, stage: Stage = Stage.BLANK, last: bool = True,
       kind: str = "turn", machine: str = "lathe") -> SetUp:  # fmt: skip
    """A set-up that makes these features of a part, or without one an operation of its kind."""
    ops = [Op(kind, "", TOOL, one, last) for one in features] or [Op(kind, "", TOOL)]
    return SetUp(Workpiece(part, None), stage, machine, hold, ops)


def test_why_one_set_up_of_a_piece_comes_before_another(part: Part) -> None:
    collar, seat, rim = round_("collar"), round_("seat", "B"), round_("rim")
    first = on(part, CHUCK, collar)
    # made before joined, joined before the whole is worked on, in place later still, slit last; and
    # never the other way round
    stages = [Stage.BLANK, Stage.JOINING, Stage.WELDED, Stage.IN_PLACE, Stage.LAST]
    for early, late in zip(stages, stages[1:], strict=False):
        one, other = on(part, CHUCK, rim, stage=early), on(part, CHUCK, collar, stage=late)
        assert why(one, other) == "stage" and why(other, one) == ""
    # the ends are faced first; the second end is not before the first
    faced = on(part, CHUCK, ENDS)
    assert (
        why(faced, first) == "ends" and why(first, faced) == "" and why(faced, faced) == "roughed"
    )
    # a weldment is dressed first, a piece of one cleaned last
    dressed = on(part, BENCH, kind="dress", stage=Stage.WELDED)
    after = on(part, CHUCK, rim, stage=Stage.WELDED)
    assert why(dressed, after) == "dressed" and why(after, dressed) == ""
    cleaned = on(part, BENCH, kind="dress")
    assert why(first, cleaned) == "cleaned" and why(cleaned, first) == ""
    # roughed before it is finished; two cuts that rough may come either way
    rough = on(part, CHUCK, collar, last=False)
    assert why(rough, on(part, OTHER, collar)) == "roughed"
    assert why(first, rough) == "" and why(rough, on(part, OTHER, collar, last=False)) == ""
    # the seat is measured from B, the collar; not the collar from the seat
    assert why(first, on(part, OTHER, seat)) == "datum" and why(on(part, OTHER, seat), first) == ""
    assert why(on(part, CHUCK, rim), on(part, OTHER, seat)) == ""
    # by a letter that stands for nothing here nothing is measured
    assert why(first, on(part, OTHER, round_("seat", "Z"))) == ""
    assert why(first, on(part, OTHER, rim)) == "" and why(first, on(part, VICE)) == ""
    # a piece of a weldment has datums of its own, the welded whole those of the part
    own = Member("bar", BAR, Frame(), (), {"B": Datum("rim", "start", "rim")})
    piece = replace(on(part, OTHER, seat), on=Workpiece(part, own))
    assert why(first, piece) == "" and why(on(part, CHUCK, rim), piece) == "datum"
    alone = replace(piece, on=Workpiece(part, replace(own, name=part.name)))
    assert why(first, alone) == "datum" and why(on(part, CHUCK, rim), alone) == ""


def test_the_fewest_set_ups_of_a_piece(part: Part) -> None:
    collar, seat, rim = round_("collar"), round_("seat", "B"), round_("rim", "C")
    # one after the other by one end, then by the other: two
    a, b, c = on(part, CHUCK, collar), on(part, OTHER, seat), on(part, CHUCK, rim)
    assert least_setups([a, b]) == 2
    # the rim from the seat, the seat from the collar: the chuck is gone back to, three
    assert least_setups([a, b, c]) == 3
    # a rim from the collar can be turned at once: two
    early = on(part, CHUCK, round_("rim", "B"))
    assert least_setups([a, b, early]) == 2 == least_setups([a, early, b])
    # the same holding all along: one; and where what lies between is held alike, nothing parts them
    assert least_setups([a, on(part, CHUCK, seat), c]) == 1
    # gone back to twice: five
    d, e = on(part, OTHER, round_("step", "R")), on(part, CHUCK, round_("end", "S"))
    assert least_setups([a, b, c, d, e]) == 5
    # two pieces are counted apart, and two machines are two holdings
    mill = replace(a, machine="mill")
    assert least_setups([a, mill]) == 2


def test_set_ups_held_alike_are_one(part: Part) -> None:
    a, b = on(part, CHUCK, round_("collar")), on(part, CHUCK, round_("rim"))
    a.after_parts, b.after_parts, b.caution = ("dial",), ("dial", "handle"), "Goggles"
    away = on(part, OTHER, round_("seat"))
    (one, two) = merged([a, b, away])
    assert [op.feature.name for op in one.ops if op.feature] == ["collar", "rim"]
    assert one.after_parts == ("dial", "handle") and one.caution == "Goggles" and two is away
    # with another part mounted it is held otherwise; what has nothing to do is left out
    with_it = replace(on(part, CHUCK, round_("rim")), with_parts=("dial",))
    bare = replace(on(part, OTHER), ops=[])
    assert len(merged([on(part, CHUCK, round_("collar")), with_it, bare])) == 2


def test_what_waits_for_what() -> None:
    pin, ring, lid = (named(name) for name in ("pin", "ring", "lid"))
    bar, plate = (Member(name, BAR, Frame()) for name in ("bar", "plate"))
    shaft, hole = round_("shaft"), round_("hole")
    frame = named("frame")
    setups = [
        on(pin, CHUCK, shaft),  # 0: runs in the ring's hole
        on(ring, CHUCK, hole, last=False),  # 1: roughed
        on(ring, OTHER, hole),  # 2: finished
        replace(on(frame, VICE, round_("x")), on=Workpiece(frame, bar)),  # 3
        replace(on(frame, VICE, round_("y")), on=Workpiece(frame, plate)),  # 4
        on(frame, BENCH, kind="tack", stage=Stage.JOINING),  # 5
        replace(on(lid, CHUCK, round_("z")), after_parts=("pin",)),  # 6: spotted through the pin
        replace(on(pin, BENCH), together=True, after_parts=("pin", "ring")),  # 7: put together
        on(lid, BENCH, round_("ball", made_with="attachment")),  # 8: turned with all of it
    ]
    fit = Fit("ring", "hole", "pin", "shaft")
    found = waits(setups, SimpleNamespace(fits=(fit,)))  # type: ignore[arg-type]
    assert found[0] == {2: "fit"}  # for the bore as it came out, not as it was roughed
    assert found[1] == {} and found[2] == {1: "piece"}
    assert found[3] == {} and found[4] == {} and found[5] == {3: "joining", 4: "joining"}
    assert found[6] == {0: "with"} and found[8] == {6: "piece", 7: "ball"}
    assert found[7] == {i: "assembly" for i in range(7)}
    order, before, runs = ordered(setups, SimpleNamespace(fits=(fit,)))  # type: ignore[arg-type]
    assert sorted(order) == list(range(9)) and order[-2:] == [7, 8]
    place = {one: i for i, one in enumerate(order)}
    assert all(place[i] > place[j] for i, own in before.items() for j in own)
    assert runs.cost == runs.least == 1  # all on one machine
    # the ring before the pin that runs in it, and in one go
    assert order.index(1) + 1 == order.index(2)


def test_one_workpiece_after_the_other_within_a_run() -> None:
    """Two parts on one machine, neither waits: what is in hand is done before the next is taken up."""
    pin, ring = named("pin"), named("ring")
    setups = [on(one, hold, round_(f"{one.name}{i}"))
              for i, hold in enumerate((CHUCK, OTHER)) for one in (pin, ring)]  # fmt: skip
    order, _, _ = ordered(setups, SimpleNamespace(fits=()))  # type: ignore[arg-type]
    assert [setups[i].on.part.name for i in order] == ["pin", "pin", "ring", "ring"]
    # the pin's shaft to the ring's hole: the ring first
    fit = Fit("ring", "ring1", "pin", "pin0")
    order, _, _ = ordered(setups, SimpleNamespace(fits=(fit,)))  # type: ignore[arg-type]
    assert [setups[i].on.part.name for i in order] == ["ring", "ring", "pin", "pin"]


def test_the_steps_that_are_done_and_those_that_are_to_be_done_again() -> None:
    def step(number: int, part: str, makes: str = "", prepares: str = "", after: str = "") -> Any:
        return SimpleNamespace(number=number, setup=number, part=part, stage="on the blank",
                               makes=tuple(makes.split()), prepares=tuple(prepares.split()),
                               after=tuple(int(n) for n in after.split()))  # fmt: skip

    steps = [
        step(1, "pin"),  # sawn
        step(2, "pin", prepares="shaft", after="1"),
        step(3, "pin", makes="shaft collar", after="2"),
        step(4, "ring"),
        step(5, "ring", makes="hole", after="4"),
        step(6, "ring"),  # deburred: nothing waits for it
    ]
    assert marks(steps, {("pin", "shaft")}, ()) == {2: "done", 1: "done"}
    assert marks(steps, {("pin", "shaft"), ("pin", "collar")}, ()) == {
        1: "done", 2: "done", 3: "done",
    }  # fmt: skip
    assert marks(steps, {("ring", "hole")}, {("pin", "collar")}) == {
        5: "done", 4: "done", 3: "again", 1: "done",
    }  # fmt: skip
    assert marks(steps, {("ring", "shaft")}, ()) == {}


# ---- how it is written down ----


def test_a_record_of_a_set_up_says_all_that_holds_it(part: Part) -> None:
    axis = Line("+x", (0.0, 0.00004, 1.23456))
    hold = Hold(
        "chuck",
        "three-jaw chuck",
        (Grip("a.x-low", 20.0, 1.0, 16.0, "a.x-high", packing="copper", wide_mm=9.0),),
        axis,
        Centre("live", "+x", 4.25),
        Centre("dead", "-x", 3.0),
        At(5.0, 18.0),
        At(60.0, 12.0),
        out_mm=61.23456,
        rests="a.-z",
        up="+z",
        stop="a.x-low",
        steady_instead="Turn a ring",
    )
    align = (Align("runs true", "a.round", "dial indicator", 0.02),)
    one = SetUp(Workpiece(part, None), Stage.BLANK, "lathe, on the cross slide", hold, align=align,
                with_parts=("dial",), caution="Goggles")  # fmt: skip
    assert records.setup(7, one, 4.26) == {
        "number": 7,
        "part": "knob",
        "piece": "",
        "with_parts": ["dial"],
        "stage": "on the blank",
        "machine": "lathe",
        "hold": {
            "by": "chuck",
            "axis": {"along": "+x", "through": [0.0, 0.0, 1.2346]},
            "grips": [
                {"surface": "a.-x", "other": "a.+x", "from_mm": 1.0, "to_mm": 16.0, "size_mm": 20.0,
                 "inside": False, "packing": "copper", "wide_mm": 9.0}
            ],
            "centre": {"kind": "live", "end": "+x", "hole_mm": 4.25},
            "headstock_centre": {"kind": "dead", "end": "-x", "hole_mm": 3.0},
            "driver": {"at_mm": 5.0, "size_mm": 18.0},
            "steady": {"at_mm": 60.0, "diameter_mm": 12.0, "owned": False, "instead": "Turn a ring"},
            "out_mm": 61.2346,
            "rests": "a.-z",
            "up": "+z",
            "stop": "a.-x", "backed": None,
        },
        "align": [{"what": "runs true", "surface": "a.round", "by": "dial indicator",
                   "within_mm": 0.02}],
        "minutes": 4.3,
        "caution": "Goggles",
        "holding": "three-jaw chuck; the shop has no such steady: turn a ring",
    }  # fmt: skip
    # a steady that travels lies nowhere; no steady is none
    moving = records.setup(1, replace(one, hold=replace(hold, follows_mm=11.0)), 1.0)["hold"]
    assert moving["steady"] == {"at_mm": None, "diameter_mm": 11.0, "travelling": True,
                                "owned": False, "instead": "Turn a ring"}  # fmt: skip
    bare = records.setup(1, replace(one, hold=Hold("vice", "v", chuck_instead="Buy one")), 1.0)
    assert bare["hold"] == {
        "by": "vice", "owned": False, "instead": "Buy one", "axis": None, "grips": [], "centre": None,
        "driver": None, "headstock_centre": None, "steady": None, "out_mm": None, "rests": None,
        "up": None, "stop": None, "backed": None,
    }  # fmt: skip
    assert bare["holding"] == "v; the shop has no such chuck: buy one"


def test_surfaces_and_machines_by_their_plain_names() -> None:
    for said, name in (("blank.x-low", "blank.-x"), ("a b.z-high", "a b.+z"), ("low", "low"),
                       ("c.round", "c.round"), ("c.start", "c.start"),
                       ("a/b.y-low", "a/b.-y")):  # fmt: skip
        assert records.surface(said) == name
    for said, name in (("a welder's shop", "welder"), ("a shop with a grinder", "grinder"),
                       ("a shop with a mill", "mill"), ("lathe", "lathe"), ("bench", "bench"),
                       ("lathe, on the cross slide", "lathe"), ("mill", "mill")):  # fmt: skip
        assert records.machine(said) == name


def test_what_a_cut_takes_away_as_it_is_written_down() -> None:
    x = Line("+x", (0.0, 0.0, 0.0))
    along = {"along": "+x", "through": [0.0, 0.0, 0.0]}
    assert cuts.face(x, 40.0, "-x", 25.0, 1.0) == {
        "shape": "face", "axis": along, "at_mm": 40.0, "keeps": "-x", "diameter_mm": 25.0,
        "off_mm": 1.0,
    }  # fmt: skip
    span = {"axis": along, "from_mm": 2.0, "to_mm": 9.0}
    taken = {"before_mm": 25.0, "after_mm": 20.0}
    assert cuts.turn(x, (2.0, 9.0), 25.0, 20.0) == {"shape": "turn"} | span | taken
    assert cuts.bore(x, (2.0, 9.0), 25.0, 20.0) == {"shape": "bore"} | span | taken
    assert cuts.hole(x, (2.0, 9.0), 8.5) == {"shape": "hole", "after_mm": 8.5} | span
    thread = {"shape": "thread", "diameter_mm": 10.0, "pitch_mm": 1.5, "inside": True}
    assert cuts.thread(x, (2.0, 9.0), 10.0, 1.5, True) == thread | span
    box = Box((0.0, 1.0, 2.0), (3.0, 4.0, 5.0))
    corners = [[0.0, 1.0, 2.0], [3.0, 4.0, 5.0]]
    flat = {"shape": "flat", "normal": "+z", "at_mm": 2.0, "box": corners}
    assert cuts.flat("+z", 2.0, box) == flat
    assert cuts.slot(box, ("+z",)) == {"shape": "slot", "box": corners, "open": ["+z"]}
    assert cuts.saw(-1.0, 41.0) == {"shape": "saw", "at_mm": [-1.0, 41.0]}
    assert cuts.along((2.0, 9.0)) == {"shape": "other", "from_mm": 2.0, "to_mm": 9.0}


def test_what_is_sent_out_is_written_down_as_not_owned() -> None:
    _, _, route = shop("a lathe alone")
    weld, saw = (next(op for op in route.operation_records() if op["kind"] == kind)
                 for kind in ("weld", "saw"))  # fmt: skip
    assert (weld["tool"]["owned"], weld["tool"]["instead"]) == (False, "a welder's shop")
    assert (saw["tool"]["owned"], saw["tool"]["instead"]) == (True, None)
    (looked,) = weld["measure"]
    assert looked["what"] == "square, no cracks, no undercut" and looked["kind"] == "eye"
    assert looked["with"] == {"name": "square and fillet gauge", "kind": "eye", "least_mm": 0.0,
                              "most_mm": 0.0, "resolution_mm": 0.0}  # fmt: skip
    assert (looked["low_mm"], looked["from"], looked["to"]) == (None, "tube.+x", "tube.+x")


def test_a_measure_keeps_its_limits_in_their_order() -> None:
    gauge = Gauge("micrometer", "outside", 0.0, 25.0, 0.002)
    found = records._measure(Measure("w", "outside", 9.9, 10.1, "a.x-low", "", gauge, "so"))
    assert (found["low_mm"], found["high_mm"], found["from"], found["to"]) == (
        9.9,
        10.1,
        "a.-x",
        None,
    )
    assert found["with"] == {"name": "micrometer", "least_mm": 0.0, "most_mm": 25.0,
                             "resolution_mm": 0.002, "kind": "outside"}  # fmt: skip
    assert fewest("a", {}, {}).runs == (("a", (0,)),)
