"""Sound routes for blocks, plates, tubes and weldments, written by hand from common practice."""

from __future__ import annotations

from typing import Any

from walk_pieces_turned import length_of
from walk_records import (
    CALIPER,
    PLUG,
    Route,
    align,
    along,
    bar,
    grip,
    hole_cut,
    read,
    round_,
    said,
    tool,
)

from parts import features as f
from parts.frame import Axis, Box, Frame
from parts.part import Agreement, Datum, Joined, Member, Part, Stock
from parts.standard.fits import limits
from parts.standard.sections import Section

ROUND_20, ROUND_16, ROUND_10 = (Section("round", size) for size in (20.0, 16.0, 10.0))

MIC = ("micrometer", 0.0, 25.0, 0.01)


def block_with_bore() -> Route:
    """Ends milled, then in the four-jaw chuck with the bore's centre set true."""
    part = bar(
        "block",
        Section("flat", 50.0, 40.0),
        32.0,
        "S355",
        length_of("block length", 32.0),
        f.Bore(
            name="cross bore",
            datum="B",
            axis=Axis((16.0, 0.0, 20.0), "-z"),
            depth_mm=40.0,
            diameter=limits(22.0, "H8"),
            locations=(f.Location("B", "+x", f.general(16.0)),),
        ),
    )
    route = Route(part).saw(-1.0, 33.0, 40.0, "blank.+z")
    y = ("blank.+y", "blank.-y")
    true = align("square to the table", "blank.+z", "square", 0.05)
    route.setup(
        "mill",
        "machine vice",
        grip(y[0], -1.0, 20.0, 50.0, other=y[1]),
        up="+x",
        rests="blank.-x",
        aligned=[true],
    )
    route.flat("+x", 32.0, (32.0, -26.0, -21.0), (33.5, 26.0, 21.0))
    route.setup(
        "mill",
        "machine vice",
        grip(y[0], 12.0, 32.0, 50.0, other=y[1]),
        up="-x",
        rests="blank.+x",
        aligned=[true],
    )
    ends = read("length", 31.7, 32.3, "blank.-x", "blank.+x", CALIPER)
    route.flat("-x", 0.0, (-1.5, -26.0, -21.0), (0.0, 26.0, 21.0), ends, makes=["block length"])
    route.setup(
        "lathe",
        "four-jaw chuck",
        grip("blank.-x", -20.0, 0.0, 32.0, other="blank.+x"),
        grip(y[0], -20.0, 0.0, 50.0, other=y[1]),
        axis=along("+z", 16.0, 0.0, 0.0),
        out_mm=20.0,
        aligned=[align("the bore's centre", "cross bore.axis")],
    )
    at = (16.0, 0.0, 0.0)
    route.do(
        "spot",
        hole_cut("-z", 20.0, 16.0, 5.0, *at),
        tool("centre drill", 5.0),
        1900.0,
        prepares=["cross bore"],
    )
    route.do(
        "drill",
        hole_cut("-z", 20.0, -20.0, 20.0, *at),
        tool("drill", 20.0),
        340.0,
        prepares=["cross bore"],
    )
    for before, after, left in ((20.0, 21.5, 0.5), (21.5, 22.016, 0.0)):
        cut = {
            "shape": "bore",
            "axis": along("-z", *at),
            "from_mm": -20.0,
            "to_mm": 20.0,
            "before_mm": before,
            "after_mm": after,
        }
        done = {"prepares": ["cross bore"]} if left else {"makes": ["cross bore"]}
        measure = () if left else (round_("inside", 22.0, 22.033, "cross bore.bore", PLUG),)
        route.do(
            "bore", cut, tool("boring bar", 14.0, 45.0), 520.0, *measure, allowance_mm=left, **done
        )
    return route


def tube() -> Route:
    """Faced and bored in one setting, turned about and faced."""
    part = bar(
        "tube",
        Section("tube", 35.0, 8.0),
        50.0,
        "S355",
        length_of("tube length", 50.0),
        f.Bore(
            name="bore",
            datum="A",
            axis=Axis((0.0, 0.0, 0.0), "+x"),
            depth_mm=50.0,
            diameter=limits(20.0, "H7"),
        ),
    )
    route = Route(part).saw(-1.0, 51.0, 35.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 20.0, 50.0, 35.0),
        axis=along("-x"),
        out_mm=21.0,
    )
    route.face(0.0, "+x", 35.0, 1.0)
    cut = {
        "shape": "bore",
        "axis": along("+x"),
        "from_mm": 0.0,
        "to_mm": 51.0,
        "before_mm": 19.0,
        "after_mm": 20.01,
    }
    route.do(
        "bore",
        cut,
        tool("boring bar", 14.0, 55.0),
        520.0,
        round_("inside", 20.0, 20.021, "bore.bore", PLUG),
        makes=["bore"],
    )
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 5.0, 30.0, 35.0),
        axis=along("+x"),
        out_mm=21.0,
    )
    ends = read("length", 49.7, 50.3, "blank.-x", "blank.+x", CALIPER)
    route.face(50.0, "-x", 35.0, 1.0, ends, makes=["tube length"])
    return route


def flat_on_the_slide() -> Route:
    """Ends faced in the four-jaw chuck, the flat by an end mill with the work on the milling slide."""
    part = bar(
        "key",
        Section("square", 16.0),
        60.0,
        "S355",
        length_of("key length", 60.0),
        f.MilledFlat(
            name="seat",
            datum="C",
            box=Box((10.0, -9.0, 5.0), (61.0, 9.0, 9.0)),
            locations=(f.Location("C", "+z", f.Limits(13.0, 0.05, -0.05, ""), "z-low"),),
        ),
        C=Datum("blank", "z-low", "underside"),
    )
    route = Route(part).saw(-1.0, 61.0, 16.0, "blank.+z")
    pairs = [("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")]
    true = [align("runs true", "blank.+y", within=0.05)]
    route.setup(
        "lathe",
        "four-jaw chuck",
        *(grip(a, 25.0, 60.0, 16.0, other=b) for a, b in pairs),
        axis=along("-x"),
        out_mm=26.0,
        aligned=true,
    )
    route.face(0.0, "+x", 23.0, 1.0)
    route.setup(
        "lathe",
        "four-jaw chuck",
        *(grip(a, 0.0, 35.0, 16.0, other=b) for a, b in pairs),
        axis=along("+x"),
        out_mm=26.0,
        aligned=true,
    )
    ends = read("length", 59.7, 60.3, "blank.-x", "blank.+x", CALIPER)
    route.face(60.0, "-x", 23.0, 1.0, ends, makes=["key length"])
    route.setup(
        "milling slide",
        "machine vice",
        grip("blank.+y", -8.0, 2.0, 16.0, other="blank.-y"),
        up="+z",
        rests="blank.-z",
        aligned=[align("parallel to the bed", "blank.+y")],
    )
    high = read("outside", 12.95, 13.05, "blank.-z", "seat.-z", MIC)
    route.do(
        "mill",
        {
            "shape": "flat",
            "normal": "+z",
            "at_mm": 5.0,
            "box": [[10.0, -9.0, 5.0], [61.0, 9.0, 9.0]],
        },
        tool("end mill", 10.0),
        520.0,
        high,
        makes=["seat"],
    )
    return route


def bored_in_place() -> Route:
    """A tube welded to a shank, then bored by a bar from the spindle, the shank in the tool post."""
    shank = Member(
        "shank",
        Stock(Section("square", 16.0), 100.0, "S355"),
        Frame((-4.0, -12.0, 20.0), x="-x", z="+z"),
        (f.FacedLength(name="shank length", datum="V", length=f.general(100.0)),),
        {"V": Datum("blank", "x-low", "end")},
    )
    pipe = Member(
        "tube",
        Stock(Section("tube", 35.0, 8.0), 50.0, "S355"),
        Frame((0.0, 0.0, 0.0), x="-x", z="+z"),
        (
            f.FacedLength(name="tube length", datum="P", length=f.general(50.0)),
            f.MilledFlat(
                name="shank seat",
                datum="Q",
                box=Box((-1.0, -18.0, 12.0), (51.0, 18.0, 18.5)),
                locations=(f.Location("Q", "+z", f.general(12.0), "z-low"),),
            ),
        ),
        {"P": Datum("blank", "x-low", "end"), "Q": Datum("blank", "axis", "axis")},
    )
    part = Part(
        name="housing",
        title="housing",
        colour=(0.5, 0.5, 0.5),
        blank=Joined(
            (pipe, shank),
            (
                f.Weld(
                    name="seam",
                    datum="B",
                    kind="fillet",
                    leg_mm=4.0,
                    length_mm=46.0,
                    members=("tube", "shank"),
                ),
            ),
        ),
        features=(
            f.Bore(
                name="pivot bore",
                datum="B",
                stage=f.Stage.IN_PLACE,
                axis=Axis((0.0, 0.0, 0.0), "-x"),
                depth_mm=50.0,
                diameter=limits(20.0, "H7"),
                locations=(f.Location("B", "+y", f.Limits(20.0, 0.02, -0.02, "")),),
            ),
        ),
        datums={"B": Datum("shank", "y-low", "the seat")},
        agreements=(Agreement("coaxial", "pivot bore:axis", "tube:axis", "in the tube"),),
    )
    route = Route(part).on("housing", "shank").saw(-1.0, 101.0, 16.0, "blank.+z")
    y, z = ("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")
    true = [align("runs true", "blank.+y", within=0.1)]
    for low, high, word, at, keeps in (
        (30.0, 100.0, "-x", 0.0, "+x"),
        (0.0, 70.0, "+x", 100.0, "-x"),
    ):
        route.setup(
            "lathe",
            "four-jaw chuck",
            *(grip(a, low, high, 16.0, other=b) for a, b in (y, z)),
            axis=along(word),
            out_mm=31.0,
            aligned=true,
        )
        done = () if at == 0.0 else (read("length", 99.7, 100.3, "blank.-x", "blank.+x", CALIPER),)
        route.face(at, keeps, 23.0, 1.0, *done, makes=["shank length"] if done else [])
    route.setup("bench", "bench vice", grip(y[0], -8.0, 0.0, 16.0, other=y[1]))
    route.do("dress", None, tool("file"), None, text="clean to bright metal where the weld goes")
    route.on("housing", "tube").saw(-1.0, 51.0, 35.0)
    for low, high, word, at, keeps in (
        (20.0, 50.0, "-x", 0.0, "+x"),
        (0.0, 30.0, "+x", 50.0, "-x"),
    ):
        route.setup(
            "lathe",
            "three-jaw chuck",
            grip("blank.round", low, high, 35.0),
            axis=along(word),
            out_mm=21.0,
        )
        done = () if at == 0.0 else (read("length", 49.7, 50.3, "blank.-x", "blank.+x", CALIPER),)
        route.face(at, keeps, 35.0, 1.0, *done, makes=["tube length"] if done else [])
    route.setup(
        "mill",
        "machine vice",
        grip("blank.-x", -17.0, 0.0, 50.0, other="blank.+x"),
        up="+z",
        rests="blank.round",
        aligned=[align("upright", "blank.-x", "square", 0.05)],
    )
    over = read("outside", 29.3, 29.7, "shank seat.-z", "blank.round", CALIPER)
    route.flat("+z", 12.0, (-1.0, -18.0, 12.0), (51.0, 18.0, 18.5), over, makes=["shank seat"])
    route.setup("bench", "bench vice", grip("blank.-x", -17.0, 0.0, 50.0, other="blank.+x"))
    route.do("dress", None, tool("file"), None, text="clean to bright metal beside the seat")
    route.on("housing").setup(
        "welder",
        "flat plate",
        rests="shank.-y",
        aligned=[align("square to the tube", "shank.+y", "square", 0.1)],
    )
    route.do("tack", None, tool("welder"), None, prepares=["seam"], place="the tube on the shank")
    route.do("weld", None, tool("welder"), None, said("eye", "no undercut", "eye"), makes=["seam"])
    route.setup("bench", "bench vice", grip("shank.-y", 14.0, 28.0, 16.0, other="shank.+y"))
    route.do(
        "dress", None, tool("file"), None, text="dress the seat: it must not rock on the plate"
    )
    route.setup(
        "lathe",
        "tool post",
        grip("shank.-y", -90.0, -40.0, 16.0, other="shank.+y"),
        axis=along("-x"),
        aligned=[
            align("the tube's end square to the spindle", "tube.+x"),
            align("even about the bar by the cross slide", "tube.round", "caliper", 0.2),
        ],
    )
    for before, after, left in ((19.0, 19.6, 0.4), (19.6, 20.01, 0.0)):
        cut = {
            "shape": "bore",
            "axis": along("-x"),
            "from_mm": -50.0,
            "to_mm": 0.0,
            "before_mm": before,
            "after_mm": after,
        }
        measure = (
            ()
            if left
            else (
                round_("inside", 20.0, 20.021, "pivot bore.bore", PLUG),
                read(
                    "length",
                    19.98,
                    20.02,
                    "shank.-y",
                    "pivot bore.axis",
                    ("height gauge over a pin", 0.0, 100.0, 0.01),
                ),
            )
        )
        done: dict[str, Any] = {"prepares": ["pivot bore"]}
        if not left:
            done = {
                "makes": ["pivot bore"],
                "text": "bore to size; to measure it the bar comes out",
            }
        # the tube of 50 and a run of 2 on either side of a bit of 4; carrier and centres besides
        bar_ = tool("boring bar between centres", 14.0, 160.0, bit_at_mm=71.0, width_mm=4.0)
        route.do("bore", cut, bar_, 340.0, *measure, allowance_mm=left, **done)
    return route


def cross_hole() -> Route:
    """A hole across a bar, by drill press and reamer."""
    part = bar(
        "arm",
        Section("square", 16.0),
        40.0,
        "S355",
        length_of("arm length", 40.0),
        f.ReamedHole(
            name="pin hole",
            datum="B",
            axis=Axis((20.0, 0.0, 8.0), "-z"),
            depth_mm=16.0,
            diameter=limits(6.0, "H7"),
            locations=(f.Location("B", "+x", f.general(20.0)),),
        ),
    )
    route = Route(part).saw(-1.0, 41.0, 16.0, "blank.+z")
    pairs = [("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")]
    true = [align("runs true", "blank.+y", within=0.1)]
    route.setup(
        "lathe",
        "four-jaw chuck",
        *(grip(a, 20.0, 41.0, 16.0, other=b) for a, b in pairs),
        axis=along("-x"),
        out_mm=21.0,
        aligned=true,
    )
    route.face(0.0, "+x", 23.0, 1.0)
    route.setup(
        "lathe",
        "four-jaw chuck",
        *(grip(a, 0.0, 20.0, 16.0, other=b) for a, b in pairs),
        axis=along("+x"),
        out_mm=21.0,
        aligned=true,
    )
    ends = read("length", 39.7, 40.3, "blank.-x", "blank.+x", CALIPER)
    route.face(40.0, "-x", 23.0, 1.0, ends, makes=["arm length"])
    route.setup(
        "drill press",
        "machine vice",
        grip("blank.+y", -8.0, 2.0, 16.0, other="blank.-y"),
        up="+z",
        rests="blank.-z",
    )
    at = (20.0, 0.0, 0.0)
    route.do(
        "spot",
        hole_cut("-z", 8.0, 6.0, 3.0, *at),
        tool("centre drill", 3.0),
        1700.0,
        prepares=["pin hole"],
    )
    route.do(
        "drill",
        hole_cut("-z", 8.0, -8.0, 5.8, *at),
        tool("drill", 5.8),
        1700.0,
        prepares=["pin hole"],
    )
    route.do(
        "ream",
        hole_cut("-z", 8.0, -8.0, 6.0, *at),
        tool("reamer", 6.0),
        280.0,
        round_("inside", 6.0, 6.012, "pin hole.bore", ("plug gauge", 5.0, 30.0, 0.005)),
        makes=["pin hole"],
    )
    return route


def tapped_plate() -> Route:
    """Two tapped holes in a plate whose ends are milled."""
    part = bar(
        "plate",
        Section("flat", 25.0, 8.0),
        60.0,
        "S355",
        length_of("plate length", 60.0),
        *(
            f.TappedHole(
                name=f"hole {n}",
                datum="B",
                axis=Axis((x, 0.0, 4.0), "-z"),
                depth_mm=8.0,
                thread="M5",
                locations=(f.Location("B", "+x", f.general(x)),),
            )
            for n, x in ((1, 15.0), (2, 45.0))
        ),
    )
    route = Route(part).saw(-1.0, 61.0, 25.0, "blank.+y")
    true = [align("square to the table", "blank.+y", "square", 0.1)]
    for up, rests, box, at, low, high in (
        ("+x", "blank.-x", ((60.0, -13.0, -5.0), (61.5, 13.0, 5.0)), 60.0, -1.0, 25.0),
        ("-x", "blank.+x", ((-1.5, -13.0, -5.0), (0.0, 13.0, 5.0)), 0.0, 35.0, 60.0),
    ):
        route.setup(
            "mill",
            "machine vice",
            grip("blank.+y", low, high, 25.0, other="blank.-y"),
            up=up,
            rests=rests,
            aligned=true,
        )
        done = () if at else (read("length", 59.7, 60.3, "blank.-x", "blank.+x", CALIPER),)
        route.flat(up, at, *box, *done, makes=["plate length"] if done else [])
    route.setup(
        "drill press",
        "machine vice",
        grip("blank.+y", -4.0, 3.0, 25.0, other="blank.-y"),
        up="+z",
        rests="blank.-z",
    )
    for n, x in ((1, 15.0), (2, 45.0)):
        at = (x, 0.0, 0.0)
        name = [f"hole {n}"]
        route.do(
            "spot",
            hole_cut("-z", 4.0, 2.0, 3.0, *at),
            tool("centre drill", 3.0),
            1700.0,
            prepares=name,
        )
        route.do(
            "drill", hole_cut("-z", 4.0, -4.0, 4.2, *at), tool("drill", 4.2), 1700.0, prepares=name
        )
        route.do(
            "tap",
            hole_cut("-z", 4.0, -4.0, 5.0, *at),
            tool("tap M5", 5.0),
            None,
            said("thread", "M5", "screw"),
            makes=name,
        )
    return route


def slit_clamp() -> Route:
    """A bored block with a slit, sawn last of all with a slitting saw on the mill, the saw lying."""
    part = bar(
        "clamp",
        Section("square", 30.0),
        25.0,
        "S355",
        length_of("clamp length", 25.0),
        f.ReamedHole(
            name="clamp bore",
            datum="A",
            axis=Axis((0.0, 0.0, 0.0), "+x"),
            depth_mm=25.0,
            diameter=limits(14.0, "H7"),
        ),
        f.Slit(
            name="slit",
            datum="A",
            stage=f.Stage.LAST,
            box=Box((-1.0, -0.8, 0.0), (26.0, 0.8, 16.0)),
            width=f.Limits(1.6, 0.2, -0.2, ""),
        ),
    )
    route = Route(part).saw(-1.0, 26.0, 30.0, "blank.+z")
    pairs = [("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")]
    true = [align("runs true", "blank.+y", within=0.05)]
    route.setup(
        "lathe",
        "four-jaw chuck",
        *(grip(a, 10.0, 25.0, 30.0, other=b) for a, b in pairs),
        axis=along("-x"),
        out_mm=11.0,
        aligned=true,
    )
    route.face(0.0, "+x", 43.0, 1.0)
    route.do(
        "spot",
        hole_cut("+x", 0.0, 4.0, 5.0),
        tool("centre drill", 5.0),
        1250.0,
        prepares=["clamp bore"],
    )
    route.do(
        "drill",
        hole_cut("+x", 0.0, 26.0, 13.5),
        tool("drill", 13.5),
        520.0,
        prepares=["clamp bore"],
    )
    route.do(
        "ream",
        hole_cut("+x", 0.0, 26.0, 14.0),
        tool("reamer", 14.0),
        140.0,
        round_("inside", 14.0, 14.018, "clamp bore.bore", PLUG),
        makes=["clamp bore"],
    )
    route.setup(
        "lathe",
        "four-jaw chuck",
        *(grip(a, 0.0, 15.0, 30.0, other=b) for a, b in pairs),
        axis=along("+x"),
        out_mm=11.0,
        aligned=true,
    )
    ends = read("length", 24.8, 25.2, "blank.-x", "blank.+x", CALIPER)
    route.face(25.0, "-x", 43.0, 1.0, ends, makes=["clamp length"])
    route.setup(
        "mill",
        "clamps on the table",
        grip("blank.+y", -15.0, 15.0, 30.0),
        up="+y",
        rests="blank.-y",
        aligned=[align("parallel to the table's travel", "blank.+z")],
    )
    wide = read("inside", 1.4, 1.8, "slit.-y", "slit.+y", ("feeler gauges", 0.05, 2.0, 0.05))
    # the saw lies: 15 to the face, 7 to the bore's wall; at 8.6 deep it runs 21.7 in and out of 25
    cut = {
        "shape": "slot",
        "box": [[-1.0, -0.8, 6.4], [26.0, 0.8, 16.0]],
        "open": ["+z", "-x", "+x"],
        "feed": "+x",
        "depth": "-z",
        "travel_mm": 74.0,
    }
    saw = tool("slitting saw", 63.0, 20.0, collar_mm=32.0, teeth=40)
    route.do(
        "slit",
        cut,
        saw,
        95.0,
        wide,
        makes=["slit"],
        feed_mm_per_rev=0.4,
        cuts=3,
        depth_mm=2.8,
        stock_mm=8.4,
    )
    return route
