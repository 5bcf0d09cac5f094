"""Sound routes for single pieces, written by hand from common practice."""

from __future__ import annotations

from collections.abc import Callable

from records import (
    CALIPER,
    DEPTH,
    LARGE_MICROMETER,
    PLUG,
    Route,
    align,
    along,
    bar,
    centre,
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


def _length(name: str, size: float) -> f.FacedLength:
    return f.FacedLength(name=name, datum="B", length=f.general(size))


def _turned(name: str, low: float, high: float, size: f.Limits) -> f.TurnedDiameter:
    return f.TurnedDiameter(name=name, datum="A", start_mm=low, end_mm=high, diameter=size)


def stepped_shaft() -> Route:
    """Two chuckings: the journal with the tailstock, then turned about, on copper."""
    part = bar(
        "shaft", ROUND_20, 90.0, "S355",
        _length("shaft length", 90.0),
        _turned("journal", 0.0, 50.0, limits(16.0, "g6")),
        _turned("tail", 60.0, 90.0, f.general(12.0)),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 91.0, 20.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 45.0, 91.0, 20.0), axis=along("-x"), out_mm=46.0)
    route.face(0.0, "+x", 20.0, 1.0).centre(0.0, -1)
    route.setup(
        "lathe", "three-jaw chuck", grip("blank.round", 66.0, 91.0, 20.0),
        axis=along("-x"), out_mm=66.0, centre=centre("-x"),
    )  # fmt: skip
    route.turn(0.0, 50.0, 20.0, 16.5, prepares=["journal"], allowance_mm=0.5)
    route.turn(0.0, 50.0, 16.5, 15.988, round_("outside", 15.983, 15.994, "journal.round"), makes=["journal"])
    route.setup(
        "lathe", "three-jaw chuck", grip("journal.round", 5.0, 45.0, 16.0, packing="copper"),
        axis=along("+x"), out_mm=46.0,
    )  # fmt: skip
    ends = read("length", 89.7, 90.3, "blank.-x", "blank.+x", CALIPER)
    route.face(90.0, "-x", 20.0, 1.0, ends, makes=["shaft length"])
    route.turn(60.0, 90.0, 20.0, 12.0, round_("outside", 11.8, 12.2, "tail.round", CALIPER), makes=["tail"])
    return route


def screw_with_collar() -> Route:
    """The thread's side with the tailstock, then turned about in a split bush, again with it."""
    part = bar(
        "screw", ROUND_16, 80.0, "C45",
        _length("screw length", 80.0),
        _turned("screw diameter", 0.0, 40.0, f.Limits(8.0, -0.03, -0.15, "")),
        _turned("collar", 40.0, 46.0, f.general(14.0)),
        _turned("screw journal", 46.0, 80.0, limits(8.0, "h7")),
        f.Thread(name="feed thread", datum="A", start_mm=0.0, end_mm=39.0, thread="M8x1"),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 81.0, 16.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 40.0, 81.0, 16.0), axis=along("-x"), out_mm=41.0)
    route.face(0.0, "+x", 16.0, 1.0).centre(0.0, -1, 4.0)
    route.setup(
        "lathe", "three-jaw chuck", grip("blank.round", 60.0, 81.0, 16.0),
        axis=along("-x"), out_mm=60.0, centre=centre("-x", 4.0),
    )  # fmt: skip
    route.turn(0.0, 46.0, 16.0, 14.0, round_("outside", 13.8, 14.2, "collar.round", CALIPER), makes=["collar"])
    route.turn(
        0.0, 40.0, 14.0, 7.91, round_("outside", 7.85, 7.97, "screw diameter.round"), makes=["screw diameter"]
    )
    cut = {"shape": "thread", "axis": along("+x"), "from_mm": 0.0, "to_mm": 39.0, "diameter_mm": 8.0,
           "pitch_mm": 1.0, "inside": False}  # fmt: skip
    route.do("thread", cut, tool("threading tool"), 80.0, said("thread", "M8x1", "nut"), makes=["feed thread"])
    route.setup(
        "lathe", "three-jaw chuck", grip("screw diameter.round", 4.0, 38.0, 8.0, packing="split bush"),
        axis=along("+x"), out_mm=43.0,
    )  # fmt: skip
    ends = read("length", 79.7, 80.3, "blank.-x", "blank.+x", CALIPER)
    route.face(80.0, "-x", 16.0, 1.0, ends, makes=["screw length"]).centre(80.0, 1, 4.0)
    route.setup(
        "lathe", "three-jaw chuck", grip("screw diameter.round", 4.0, 38.0, 8.0, packing="split bush"),
        axis=along("+x"), out_mm=42.0, centre=centre("+x", 4.0),
    )  # fmt: skip
    route.turn(46.0, 80.0, 16.0, 8.4, prepares=["screw journal"], allowance_mm=0.4)
    route.turn(
        46.0, 80.0, 8.4, 7.993, round_("outside", 7.985, 8.0, "screw journal.round"), makes=["screw journal"]
    )
    return route


def block_with_bore() -> Route:
    """Ends milled, then in the four-jaw chuck with the bore's centre set true."""
    part = bar(
        "block", Section("flat", 50.0, 40.0), 32.0, "S355",
        _length("block length", 32.0),
        f.Bore(name="cross bore", datum="B", axis=Axis((16.0, 0.0, 20.0), "-z"), depth_mm=40.0,
               diameter=limits(22.0, "H8"), locations=(f.Location("B", "+x", f.general(16.0)),)),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 33.0, 40.0, "blank.+z")
    y = ("blank.+y", "blank.-y")
    true = align("square to the table", "blank.+z", "square", 0.05)
    route.setup("mill", "machine vice", grip(y[0], -1.0, 20.0, 50.0, other=y[1]), up="+x", rests="blank.-x", aligned=[true])
    route.flat("+x", 32.0, (32.0, -26.0, -21.0), (33.5, 26.0, 21.0))
    route.setup("mill", "machine vice", grip(y[0], 12.0, 32.0, 50.0, other=y[1]), up="-x", rests="blank.+x", aligned=[true])
    ends = read("length", 31.7, 32.3, "blank.-x", "blank.+x", CALIPER)
    route.flat("-x", 0.0, (-1.5, -26.0, -21.0), (0.0, 26.0, 21.0), ends, makes=["block length"])
    route.setup(
        "lathe", "four-jaw chuck",
        grip("blank.-x", -20.0, 0.0, 32.0, other="blank.+x"), grip(y[0], -20.0, 0.0, 50.0, other=y[1]),
        axis=along("+z", 16.0, 0.0, 0.0), out_mm=20.0, aligned=[align("the bore's centre", "cross bore.axis")],
    )  # fmt: skip
    at = (16.0, 0.0, 0.0)
    route.do("spot", hole_cut("-z", 20.0, 16.0, 5.0, *at), tool("centre drill", 5.0), 1900.0, prepares=["cross bore"])
    route.do("drill", hole_cut("-z", 20.0, -20.0, 20.0, *at), tool("drill", 20.0), 340.0, prepares=["cross bore"])
    for before, after, left in ((20.0, 21.5, 0.5), (21.5, 22.016, 0.0)):
        cut = {"shape": "bore", "axis": along("-z", *at), "from_mm": -20.0, "to_mm": 20.0,
               "before_mm": before, "after_mm": after}  # fmt: skip
        done = {"prepares": ["cross bore"]} if left else {"makes": ["cross bore"]}
        measure = () if left else (round_("inside", 22.0, 22.033, "cross bore.bore", PLUG),)
        route.do("bore", cut, tool("boring bar", 14.0, 45.0), 520.0, *measure, allowance_mm=left, **done)
    return route


def tube() -> Route:
    """Faced and bored in one setting, turned about and faced."""
    part = bar(
        "tube", Section("tube", 35.0, 8.0), 50.0, "S355",
        _length("tube length", 50.0),
        f.Bore(name="bore", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=50.0, diameter=limits(20.0, "H7")),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 51.0, 35.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 20.0, 50.0, 35.0), axis=along("-x"), out_mm=21.0)
    route.face(0.0, "+x", 35.0, 1.0)
    cut = {"shape": "bore", "axis": along("+x"), "from_mm": 0.0, "to_mm": 51.0, "before_mm": 19.0, "after_mm": 20.01}
    route.do("bore", cut, tool("boring bar", 14.0, 55.0), 520.0,
             round_("inside", 20.0, 20.021, "bore.bore", PLUG), makes=["bore"])  # fmt: skip
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 5.0, 30.0, 35.0), axis=along("+x"), out_mm=21.0)
    ends = read("length", 49.7, 50.3, "blank.-x", "blank.+x", CALIPER)
    route.face(50.0, "-x", 35.0, 1.0, ends, makes=["tube length"])
    return route


def flat_on_the_slide() -> Route:
    """Ends faced in the four-jaw chuck, the flat by an end mill with the work on the milling slide."""
    part = bar(
        "key", Section("square", 16.0), 60.0, "S355",
        _length("key length", 60.0),
        f.MilledFlat(
            name="seat", datum="C", box=Box((10.0, -9.0, 5.0), (61.0, 9.0, 9.0)),
            locations=(f.Location("C", "+z", f.Limits(13.0, 0.05, -0.05, ""), "z-low"),),
        ),
        C=Datum("blank", "z-low", "underside"),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 61.0, 16.0, "blank.+z")
    pairs = [("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")]
    true = [align("runs true", "blank.+y", within=0.05)]
    route.setup("lathe", "four-jaw chuck", *(grip(a, 25.0, 60.0, 16.0, other=b) for a, b in pairs),
                axis=along("-x"), out_mm=26.0, aligned=true)  # fmt: skip
    route.face(0.0, "+x", 23.0, 1.0)
    route.setup("lathe", "four-jaw chuck", *(grip(a, 0.0, 35.0, 16.0, other=b) for a, b in pairs),
                axis=along("+x"), out_mm=26.0, aligned=true)  # fmt: skip
    ends = read("length", 59.7, 60.3, "blank.-x", "blank.+x", CALIPER)
    route.face(60.0, "-x", 23.0, 1.0, ends, makes=["key length"])
    route.setup("milling slide", "machine vice", grip("blank.+y", -8.0, 2.0, 16.0, other="blank.-y"),
                up="+z", rests="blank.-z", aligned=[align("parallel to the bed", "blank.+y")])  # fmt: skip
    high = read("outside", 12.95, 13.05, "blank.-z", "seat.-z", MIC)
    route.do("mill", {"shape": "flat", "normal": "+z", "at_mm": 5.0, "box": [[10.0, -9.0, 5.0], [61.0, 9.0, 9.0]]},
             tool("end mill", 10.0), 520.0, high, makes=["seat"])  # fmt: skip
    return route


MIC = ("micrometer", 0.0, 25.0, 0.01)


def bored_in_place() -> Route:
    """A tube welded to a shank, then bored by a bar from the spindle, the shank in the tool post."""
    shank = Member(
        "shank", Stock(Section("square", 16.0), 100.0, "S355"), Frame((-4.0, -12.0, 20.0), x="-x", z="+z"),
        (f.FacedLength(name="shank length", datum="V", length=f.general(100.0)),),
        {"V": Datum("blank", "x-low", "end")},
    )  # fmt: skip
    pipe = Member(
        "tube", Stock(Section("tube", 35.0, 8.0), 50.0, "S355"), Frame((0.0, 0.0, 0.0), x="-x", z="+z"),
        (f.FacedLength(name="tube length", datum="P", length=f.general(50.0)),
         f.MilledFlat(name="shank seat", datum="Q", box=Box((-1.0, -18.0, 12.0), (51.0, 18.0, 18.5)),
                      locations=(f.Location("Q", "+z", f.general(12.0), "z-low"),))),
        {"P": Datum("blank", "x-low", "end"), "Q": Datum("blank", "axis", "axis")},
    )  # fmt: skip
    part = Part(
        name="housing", title="housing", colour=(0.5, 0.5, 0.5),
        blank=Joined((pipe, shank), (f.Weld(name="seam", datum="B", kind="fillet", leg_mm=4.0, length_mm=46.0,
                                            members=("tube", "shank")),)),
        features=(
            f.Bore(name="pivot bore", datum="B", stage=f.Stage.IN_PLACE, axis=Axis((0.0, 0.0, 0.0), "-x"),
                   depth_mm=50.0, diameter=limits(20.0, "H7"),
                   locations=(f.Location("B", "+y", f.Limits(20.0, 0.02, -0.02, "")),)),
        ),
        datums={"B": Datum("shank", "y-low", "the seat")},
        agreements=(Agreement("coaxial", "pivot bore:axis", "tube:axis", "in the tube"),),
    )  # fmt: skip
    route = Route(part).on("housing", "shank").saw(-1.0, 101.0, 16.0, "blank.+z")
    y, z = ("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")
    true = [align("runs true", "blank.+y", within=0.1)]
    for low, high, word, at, keeps in ((30.0, 100.0, "-x", 0.0, "+x"), (0.0, 70.0, "+x", 100.0, "-x")):
        route.setup("lathe", "four-jaw chuck", *(grip(a, low, high, 16.0, other=b) for a, b in (y, z)),
                    axis=along(word), out_mm=31.0, aligned=true)  # fmt: skip
        done = () if at == 0.0 else (read("length", 99.7, 100.3, "blank.-x", "blank.+x", CALIPER),)
        route.face(at, keeps, 23.0, 1.0, *done, makes=["shank length"] if done else [])
    route.setup("bench", "bench vice", grip(y[0], -8.0, 0.0, 16.0, other=y[1]))
    route.do("dress", None, tool("file"), None, text="clean to bright metal where the weld goes")
    route.on("housing", "tube").saw(-1.0, 51.0, 35.0)
    for low, high, word, at, keeps in ((20.0, 50.0, "-x", 0.0, "+x"), (0.0, 30.0, "+x", 50.0, "-x")):
        route.setup("lathe", "three-jaw chuck", grip("blank.round", low, high, 35.0), axis=along(word), out_mm=21.0)
        done = () if at == 0.0 else (read("length", 49.7, 50.3, "blank.-x", "blank.+x", CALIPER),)
        route.face(at, keeps, 35.0, 1.0, *done, makes=["tube length"] if done else [])
    route.setup("mill", "machine vice", grip("blank.-x", -17.0, 0.0, 50.0, other="blank.+x"),
                up="+z", rests="blank.round", aligned=[align("upright", "blank.-x", "square", 0.05)])  # fmt: skip
    over = read("outside", 29.3, 29.7, "shank seat.-z", "blank.round", CALIPER)
    route.flat("+z", 12.0, (-1.0, -18.0, 12.0), (51.0, 18.0, 18.5), over, makes=["shank seat"])
    route.setup("bench", "bench vice", grip("blank.-x", -17.0, 0.0, 50.0, other="blank.+x"), up="+z")
    route.do("dress", None, tool("file"), None, text="clean to bright metal beside the seat")
    route.on("housing").setup("welder", "flat plate", rests="shank.-y",
                              aligned=[align("square to the tube", "shank.+y", "square", 0.1)])  # fmt: skip
    route.do("tack", None, tool("welder"), None, prepares=["seam"])
    route.do("weld", None, tool("welder"), None, said("eye", "no undercut", "eye"), makes=["seam"])
    route.setup("bench", "bench vice", grip("shank.+z", -20.0, -4.0, 16.0, other="shank.-z"), up="+y")
    route.do("dress", None, tool("file"), None, text="dress the seat: it must not rock on the plate")
    route.setup(
        "lathe", "tool post", grip("shank.-y", -90.0, -40.0, 16.0, other="shank.+y"), axis=along("-x"),
        aligned=[align("the tube's end square to the spindle", "tube.+x")],
    )  # fmt: skip
    for before, after, left in ((19.0, 19.6, 0.4), (19.6, 20.01, 0.0)):
        cut = {"shape": "bore", "axis": along("-x"), "from_mm": -50.0, "to_mm": 0.0, "before_mm": before,
               "after_mm": after}  # fmt: skip
        measure = () if left else (
            round_("inside", 20.0, 20.021, "pivot bore.bore", PLUG),
            read("length", 19.98, 20.02, "shank.-y", "pivot bore.axis", ("height gauge over a pin", 0.0, 100.0, 0.01)),
        )  # fmt: skip
        done = {"prepares": ["pivot bore"]} if left else {"makes": ["pivot bore"]}
        bar_ = tool("boring bar between spindle and tailstock", 14.0, 120.0)
        route.do("bore", cut, bar_, 340.0, *measure, allowance_mm=left, **done)
    return route


def knob() -> Route:
    """Turned and tapped on the end of a bar, parted off, its other side faced in soft jaws."""
    part = bar(
        "knob", Section("round", 28.0), 14.0, "CW614N",
        _length("knob length", 14.0),
        _turned("rim", 0.0, 14.0, f.general(24.0)),
        f.TappedHole(name="knob hole", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=7.5, thread="M6", through=False),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 38.0, 28.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 19.0, 38.0, 28.0), axis=along("-x"), out_mm=20.0)
    route.face(0.0, "+x", 28.0, 1.0)
    route.turn(0.0, 15.0, 28.0, 24.0, round_("outside", 23.8, 24.2, "rim.round", CALIPER), makes=["rim"])
    route.do("spot", hole_cut("+x", 0.0, 3.0, 4.0), tool("centre drill", 4.0), 1900.0, prepares=["knob hole"])
    route.do("drill", hole_cut("+x", 0.0, 10.5, 5.0), tool("drill", 5.0), 1900.0, prepares=["knob hole"])
    route.do("tap", hole_cut("+x", 0.0, 7.5, 6.0), tool("tap M6", 6.0), None, said("thread", "M6", "screw"),
             makes=["knob hole"])  # fmt: skip
    cut = {"shape": "face", "axis": along("+x"), "at_mm": 15.0, "keeps": "-x", "diameter_mm": 28.0, "off_mm": 3.0}
    route.do("part", cut, tool("parting tool", reach=16.0), 340.0)
    route.setup("lathe", "three-jaw chuck", grip("rim.round", 1.0, 11.0, 24.0),
                axis=along("+x"), out_mm=4.0)  # fmt: skip
    ends = read("length", 13.8, 14.2, "blank.-x", "blank.+x", CALIPER)
    route.face(14.0, "-x", 24.0, 1.0, ends, makes=["knob length"])
    return route


def dial() -> Route:
    """Bored by reamer, its rim turned and engraved before it is parted off."""
    part = bar(
        "dial", Section("round", 28.0), 14.0, "CW614N",
        _length("dial length", 14.0),
        _turned("rim", 0.0, 14.0, f.general(24.0)),
        f.ReamedHole(name="dial bore", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=14.0, diameter=limits(8.0, "H7")),
        f.EngravedScale(name="scale", datum="A", start_mm=0.0, end_mm=4.5, diameter=f.general(24.0), divisions=50,
                        line_width_mm=0.2),
        f.Knurl(name="knurl", datum="A", start_mm=9.0, end_mm=14.0, diameter=f.general(24.0), pitch_mm=1.0),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 38.0, 28.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 19.0, 38.0, 28.0), axis=along("-x"), out_mm=20.0)
    route.face(0.0, "+x", 28.0, 1.0)
    route.turn(0.0, 15.0, 28.0, 24.0, round_("outside", 23.8, 24.2, "rim.round", CALIPER), makes=["rim"])
    route.do("spot", hole_cut("+x", 0.0, 3.0, 4.0), tool("centre drill", 4.0), 1900.0, prepares=["dial bore"])
    route.do("drill", hole_cut("+x", 0.0, 17.0, 7.8), tool("drill", 7.8), 1900.0, prepares=["dial bore"])
    route.do("ream", hole_cut("+x", 0.0, 16.0, 8.0), tool("reamer", 8.0), 220.0,
             round_("inside", 8.0, 8.015, "dial bore.bore", PLUG), makes=["dial bore"])  # fmt: skip
    route.do("knurl", {"shape": "other", "from_mm": 9.0, "to_mm": 14.0}, tool("knurling tool"), 140.0,
             said("eye", "full form", "eye"), makes=["knurl"])  # fmt: skip
    route.do("engrave", {"shape": "other", "from_mm": 0.0, "to_mm": 4.5}, tool("pointed tool"), None,
             said("eye", "the last line meets the first", "eye-glass"), makes=["scale"])  # fmt: skip
    cut = {"shape": "face", "axis": along("+x"), "at_mm": 15.0, "keeps": "-x", "diameter_mm": 28.0, "off_mm": 3.0}
    route.do("part", cut, tool("parting tool", reach=16.0), 340.0)
    route.setup("lathe", "three-jaw chuck", grip("rim.round", 0.0, 11.0, 24.0, packing="copper"),
                axis=along("+x"), out_mm=4.0)  # fmt: skip
    ends = read("length", 13.8, 14.2, "blank.-x", "blank.+x", CALIPER)
    route.face(14.0, "-x", 24.0, 1.0, ends, makes=["dial length"])
    return route


def cross_hole() -> Route:
    """A hole across a bar, by drill press and reamer."""
    part = bar(
        "arm", Section("square", 16.0), 40.0, "S355",
        _length("arm length", 40.0),
        f.ReamedHole(name="pin hole", datum="B", axis=Axis((20.0, 0.0, 8.0), "-z"), depth_mm=16.0, diameter=limits(6.0, "H7"),
                     locations=(f.Location("B", "+x", f.general(20.0)),)),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 41.0, 16.0, "blank.+z")
    pairs = [("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")]
    true = [align("runs true", "blank.+y", within=0.1)]
    route.setup("lathe", "four-jaw chuck", *(grip(a, 20.0, 41.0, 16.0, other=b) for a, b in pairs),
                axis=along("-x"), out_mm=21.0, aligned=true)  # fmt: skip
    route.face(0.0, "+x", 23.0, 1.0)
    route.setup("lathe", "four-jaw chuck", *(grip(a, 0.0, 20.0, 16.0, other=b) for a, b in pairs),
                axis=along("+x"), out_mm=21.0, aligned=true)  # fmt: skip
    ends = read("length", 39.7, 40.3, "blank.-x", "blank.+x", CALIPER)
    route.face(40.0, "-x", 23.0, 1.0, ends, makes=["arm length"])
    route.setup("drill press", "machine vice", grip("blank.+y", -8.0, 2.0, 16.0, other="blank.-y"), up="+z", rests="blank.-z")
    at = (20.0, 0.0, 0.0)
    route.do("spot", hole_cut("-z", 8.0, 6.0, 3.0, *at), tool("centre drill", 3.0), 1700.0, prepares=["pin hole"])
    route.do("drill", hole_cut("-z", 8.0, -8.0, 5.8, *at), tool("drill", 5.8), 1700.0, prepares=["pin hole"])
    route.do("ream", hole_cut("-z", 8.0, -8.0, 6.0, *at), tool("reamer", 6.0), 280.0,
             round_("inside", 6.0, 6.012, "pin hole.bore", ("plug gauge", 5.0, 30.0, 0.005)), makes=["pin hole"])  # fmt: skip
    return route


def tapped_plate() -> Route:
    """Two tapped holes in a plate whose ends are milled."""
    part = bar(
        "plate", Section("flat", 25.0, 8.0), 60.0, "S355",
        _length("plate length", 60.0),
        *(f.TappedHole(name=f"hole {n}", datum="B", axis=Axis((x, 0.0, 4.0), "-z"), depth_mm=8.0, thread="M5",
                       locations=(f.Location("B", "+x", f.general(x)),)) for n, x in ((1, 15.0), (2, 45.0))),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 61.0, 25.0, "blank.+y")
    true = [align("square to the table", "blank.+y", "square", 0.1)]
    for up, rests, box, at, low, high in (
        ("+x", "blank.-x", ((60.0, -13.0, -5.0), (61.5, 13.0, 5.0)), 60.0, -1.0, 25.0),
        ("-x", "blank.+x", ((-1.5, -13.0, -5.0), (0.0, 13.0, 5.0)), 0.0, 35.0, 60.0),
    ):
        route.setup("mill", "machine vice", grip("blank.+y", low, high, 25.0, other="blank.-y"), up=up,
                    rests=rests, aligned=true)  # fmt: skip
        done = () if at else (read("length", 59.7, 60.3, "blank.-x", "blank.+x", CALIPER),)
        route.flat(up, at, *box, *done, makes=["plate length"] if done else [])
    route.setup("drill press", "machine vice", grip("blank.+y", -4.0, 3.0, 25.0, other="blank.-y"), up="+z", rests="blank.-z")
    for n, x in ((1, 15.0), (2, 45.0)):
        at = (x, 0.0, 0.0)
        name = [f"hole {n}"]
        route.do("spot", hole_cut("-z", 4.0, 2.0, 3.0, *at), tool("centre drill", 3.0), 1700.0, prepares=name)
        route.do("drill", hole_cut("-z", 4.0, -4.0, 4.2, *at), tool("drill", 4.2), 1700.0, prepares=name)
        route.do("tap", hole_cut("-z", 4.0, -4.0, 5.0, *at), tool("tap M5", 5.0), None, said("thread", "M5", "screw"), makes=name)
    return route


def die_in_tailstock() -> Route:
    """A threaded end, cut by a die in the tailstock's holder."""
    part = bar(
        "handle", ROUND_10, 60.0, "C45",
        _length("handle length", 60.0),
        _turned("end", 0.0, 15.0, f.Limits(6.0, -0.03, -0.15, "")),
        f.Thread(name="end thread", datum="A", start_mm=0.0, end_mm=14.0, thread="M6"),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 61.0, 10.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 20.0, 60.0, 10.0), axis=along("-x"), out_mm=21.0)
    route.face(0.0, "+x", 10.0, 1.0)
    route.turn(0.0, 15.0, 10.0, 5.91, round_("outside", 5.85, 5.97, "end.round"), makes=["end"])
    cut = {"shape": "thread", "axis": along("+x"), "from_mm": 0.0, "to_mm": 14.0, "diameter_mm": 6.0,
           "pitch_mm": 1.0, "inside": False}  # fmt: skip
    route.do("thread", cut, tool("die M6"), None, said("thread", "M6", "nut"), makes=["end thread"])
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 20.0, 45.0, 10.0), axis=along("+x"), out_mm=16.0)
    ends = read("length", 59.7, 60.3, "blank.-x", "blank.+x", CALIPER)
    route.face(60.0, "-x", 10.0, 1.0, ends, makes=["handle length"])
    return route


def between_centres() -> Route:
    """A long spindle finished between centres, the carrier on the end that stays."""
    part = bar(
        "spindle", Section("round", 25.0), 140.0, "S355",
        _length("spindle length", 140.0),
        _turned("journal", 0.0, 100.0, limits(20.0, "g6")),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 141.0, 25.0)
    for low, high, word, at, keeps, sign in ((60.0, 140.0, "-x", 0.0, "+x", -1), (0.0, 80.0, "+x", 140.0, "-x", 1)):
        route.setup("lathe", "three-jaw chuck", grip("blank.round", low, high, 25.0), axis=along(word), out_mm=61.0)
        done = () if sign < 0 else (read("length", 139.5, 140.5, "blank.-x", "blank.+x", CALIPER),)
        route.face(at, keeps, 25.0, 1.0, *done, makes=["spindle length"] if done else []).centre(at, sign)
    route.setup(
        "lathe", "between centres", axis=along("-x"), centre=centre("-x"),
        headstock_centre=centre("+x", kind="dead"), driver={"at_mm": 125.0, "size_mm": 25.0},
    )  # fmt: skip
    route.turn(0.0, 100.0, 25.0, 20.5, prepares=["journal"], allowance_mm=0.5)
    route.turn(0.0, 100.0, 20.5, 19.987, round_("outside", 19.98, 19.993, "journal.round"), makes=["journal"])
    return route


def in_the_steady() -> Route:
    """A tapped hole in the end of a long bar, its end in the fixed steady."""
    part = bar(
        "pillar", ROUND_20, 200.0, "S355",
        _length("pillar length", 200.0),
        f.TappedHole(name="end hole", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=16.0, thread="M8", through=False),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 201.0, 20.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 50.0, 100.0, 20.0), axis=along("+x"), out_mm=101.0,
                steady={"at_mm": 180.0, "diameter_mm": 20.0})  # fmt: skip
    route.face(200.0, "-x", 20.0, 1.0)
    route.setup("lathe", "three-jaw chuck", grip("blank.round", 100.0, 150.0, 20.0), axis=along("-x"), out_mm=101.0,
                steady={"at_mm": 20.0, "diameter_mm": 20.0})  # fmt: skip
    ends = read("length", 199.5, 200.5, "blank.-x", "blank.+x", ("vernier caliper", 0.0, 300.0, 0.05))
    route.face(0.0, "+x", 20.0, 1.0, ends, makes=["pillar length"])
    route.do("spot", hole_cut("+x", 0.0, 3.0, 4.0), tool("centre drill", 4.0), 1250.0, prepares=["end hole"])
    route.do("drill", hole_cut("+x", 0.0, 20.0, 6.8), tool("drill", 6.8), 1250.0, prepares=["end hole"])
    route.do("tap", hole_cut("+x", 0.0, 16.0, 8.0), tool("tap M8", 8.0), None, said("thread", "M8", "screw"),
             makes=["end hole"])  # fmt: skip
    return route


def slit_clamp() -> Route:
    """A bored block with a slit, sawn last of all with a slitting saw on the mill."""
    part = bar(
        "clamp", Section("square", 30.0), 25.0, "S355",
        _length("clamp length", 25.0),
        f.ReamedHole(name="clamp bore", datum="A", axis=Axis((0.0, 0.0, 0.0), "+x"), depth_mm=25.0, diameter=limits(14.0, "H7")),
        f.Slit(name="slit", datum="A", stage=f.Stage.LAST, box=Box((-1.0, -0.8, 0.0), (26.0, 0.8, 16.0)),
               width=f.Limits(1.6, 0.2, -0.2, "")),
    )  # fmt: skip
    route = Route(part).saw(-1.0, 26.0, 30.0, "blank.+z")
    pairs = [("blank.+y", "blank.-y"), ("blank.+z", "blank.-z")]
    true = [align("runs true", "blank.+y", within=0.05)]
    route.setup("lathe", "four-jaw chuck", *(grip(a, 10.0, 25.0, 30.0, other=b) for a, b in pairs),
                axis=along("-x"), out_mm=11.0, aligned=true)  # fmt: skip
    route.face(0.0, "+x", 43.0, 1.0)
    route.do("spot", hole_cut("+x", 0.0, 4.0, 5.0), tool("centre drill", 5.0), 1250.0, prepares=["clamp bore"])
    route.do("drill", hole_cut("+x", 0.0, 26.0, 13.5), tool("drill", 13.5), 520.0, prepares=["clamp bore"])
    route.do("ream", hole_cut("+x", 0.0, 26.0, 14.0), tool("reamer", 14.0), 140.0,
             round_("inside", 14.0, 14.018, "clamp bore.bore", PLUG), makes=["clamp bore"])  # fmt: skip
    route.setup("lathe", "four-jaw chuck", *(grip(a, 0.0, 15.0, 30.0, other=b) for a, b in pairs),
                axis=along("+x"), out_mm=11.0, aligned=true)  # fmt: skip
    ends = read("length", 24.8, 25.2, "blank.-x", "blank.+x", CALIPER)
    route.face(25.0, "-x", 43.0, 1.0, ends, makes=["clamp length"])
    route.setup("mill", "machine vice", grip("blank.+y", -15.0, 0.0, 30.0, other="blank.-y"), up="+z", rests="blank.-z",
                aligned=[align("parallel to the table's travel", "blank.+y")])  # fmt: skip
    wide = read("inside", 1.4, 1.8, "slit.-y", "slit.+y", ("feeler gauges", 0.05, 2.0, 0.05))
    cut = {"shape": "slot", "box": [[-1.0, -0.8, 0.0], [26.0, 0.8, 16.0]], "open": ["+z"]}
    route.do("slit", cut, tool("slitting saw", 63.0), 95.0, wide, makes=["slit"])
    return route


SOUND: dict[str, Callable[[], Route]] = {
    make.__name__: make
    for make in (
        *(stepped_shaft, screw_with_collar, block_with_bore, tube, flat_on_the_slide, bored_in_place),
        *(knob, dial, cross_hole, tapped_plate, die_in_tailstock, between_centres, in_the_steady),
        slit_clamp,
    )
}
"""Each by what it is."""

_UNUSED = (DEPTH, LARGE_MICROMETER)
