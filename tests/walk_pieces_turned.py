"""Sound routes for turned pieces, written by hand from common practice."""

from __future__ import annotations

from walk_records import (
    CALIPER,
    PLUG,
    Route,
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
from parts.frame import Axis
from parts.standard.fits import limits
from parts.standard.sections import Section

ROUND_20, ROUND_16, ROUND_10 = (Section("round", size) for size in (20.0, 16.0, 10.0))


def length_of(name: str, size: float) -> f.FacedLength:
    return f.FacedLength(name=name, datum="B", length=f.general(size))


def turned_of(name: str, low: float, high: float, size: f.Limits) -> f.TurnedDiameter:
    return f.TurnedDiameter(name=name, datum="A", start_mm=low, end_mm=high, diameter=size)


def stepped_shaft() -> Route:
    """Two chuckings: the journal with the tailstock, then turned about, on copper."""
    part = bar(
        "shaft",
        ROUND_20,
        90.0,
        "S355",
        length_of("shaft length", 90.0),
        turned_of("journal", 0.0, 50.0, limits(16.0, "g6")),
        turned_of("tail", 60.0, 90.0, f.general(12.0)),
    )
    route = Route(part).saw(-1.0, 91.0, 20.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 45.0, 91.0, 20.0),
        axis=along("-x"),
        out_mm=46.0,
    )
    route.face(0.0, "+x", 20.0, 1.0).centre(0.0, -1)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 66.0, 91.0, 20.0),
        axis=along("-x"),
        out_mm=66.0,
        centre=centre("-x"),
    )
    route.turn(0.0, 50.0, 20.0, 16.5, prepares=["journal"], allowance_mm=0.5)
    route.turn(
        0.0,
        50.0,
        16.5,
        15.988,
        round_("outside", 15.983, 15.994, "journal.round"),
        makes=["journal"],
    )
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("journal.round", 5.0, 45.0, 16.0, packing="copper"),
        axis=along("+x"),
        out_mm=46.0,
    )
    ends = read("length", 89.7, 90.3, "blank.-x", "blank.+x", CALIPER)
    route.face(90.0, "-x", 20.0, 1.0, ends, makes=["shaft length"])
    route.turn(
        60.0, 90.0, 20.0, 12.0, round_("outside", 11.8, 12.2, "tail.round", CALIPER), makes=["tail"]
    )
    return route


def screw_with_collar() -> Route:
    """The thread's side with the tailstock, then turned about in a split bush, again with it."""
    part = bar(
        "screw",
        ROUND_16,
        80.0,
        "C45",
        length_of("screw length", 80.0),
        turned_of("screw diameter", 0.0, 40.0, f.Limits(8.0, -0.03, -0.15, "")),
        turned_of("collar", 40.0, 46.0, f.general(14.0)),
        turned_of("screw journal", 46.0, 80.0, limits(8.0, "h7")),
        f.Thread(name="feed thread", datum="A", start_mm=0.0, end_mm=39.0, thread="M8x1"),
    )
    route = Route(part).saw(-1.0, 81.0, 16.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 40.0, 81.0, 16.0),
        axis=along("-x"),
        out_mm=41.0,
    )
    route.face(0.0, "+x", 16.0, 1.0).centre(0.0, -1, 4.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 60.0, 81.0, 16.0),
        axis=along("-x"),
        out_mm=60.0,
        centre=centre("-x", 4.0),
    )
    route.turn(
        0.0,
        46.0,
        16.0,
        14.0,
        round_("outside", 13.8, 14.2, "collar.round", CALIPER),
        makes=["collar"],
    )
    route.turn(
        0.0,
        40.0,
        14.0,
        7.91,
        round_("outside", 7.85, 7.97, "screw diameter.round"),
        makes=["screw diameter"],
    )
    cut = {
        "shape": "thread",
        "axis": along("+x"),
        "from_mm": 0.0,
        "to_mm": 39.0,
        "diameter_mm": 8.0,
        "pitch_mm": 1.0,
        "inside": False,
    }
    route.do(
        "thread",
        cut,
        tool("threading tool"),
        80.0,
        said("thread", "M8x1", "gauge nut"),
        text="screw-cut feed thread; the switch off before the shoulder, turn the chuck by hand to it;"
        " to try the nut the tailstock is drawn back",
        makes=["feed thread"],
    )
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("screw diameter.round", 4.0, 38.0, 8.0, packing="split bush"),
        axis=along("+x"),
        out_mm=43.0,
    )
    ends = read("length", 79.7, 80.3, "blank.-x", "blank.+x", CALIPER)
    route.face(80.0, "-x", 16.0, 1.0, ends, makes=["screw length"]).centre(80.0, 1, 4.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("screw diameter.round", 4.0, 38.0, 8.0, packing="split bush"),
        axis=along("+x"),
        out_mm=42.0,
        centre=centre("+x", 4.0),
    )
    route.turn(46.0, 80.0, 16.0, 8.4, prepares=["screw journal"], allowance_mm=0.4)
    route.turn(
        46.0,
        80.0,
        8.4,
        7.993,
        round_("outside", 7.985, 8.0, "screw journal.round"),
        makes=["screw journal"],
    )
    return route


def knob() -> Route:
    """Turned and tapped on the end of a bar, parted off, its other side faced in soft jaws."""
    part = bar(
        "knob",
        Section("round", 28.0),
        14.0,
        "CW614N",
        length_of("knob length", 14.0),
        turned_of("rim", 0.0, 14.0, f.general(24.0)),
        f.TappedHole(
            name="knob hole",
            datum="A",
            axis=Axis((0.0, 0.0, 0.0), "+x"),
            depth_mm=7.5,
            thread="M6",
            through=False,
        ),
    )
    route = Route(part).saw(-1.0, 38.0, 28.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 19.0, 38.0, 28.0),
        axis=along("-x"),
        out_mm=20.0,
    )
    route.face(0.0, "+x", 28.0, 1.0)
    route.turn(
        0.0, 15.0, 28.0, 24.0, round_("outside", 23.8, 24.2, "rim.round", CALIPER), makes=["rim"]
    )
    route.do(
        "spot",
        hole_cut("+x", 0.0, 3.0, 4.0),
        tool("centre drill", 4.0),
        1900.0,
        prepares=["knob hole"],
    )
    route.do(
        "drill", hole_cut("+x", 0.0, 10.5, 5.0), tool("drill", 5.0), 1900.0, prepares=["knob hole"]
    )
    route.do(
        "tap",
        hole_cut("+x", 0.0, 7.5, 6.0),
        tool("tap M6", 6.0),
        None,
        said("thread", "M6", "screw"),
        makes=["knob hole"],
        text="tap knob hole, its mouth countersunk first",
    )
    cut = {
        "shape": "face",
        "axis": along("+x"),
        "at_mm": 15.0,
        "keeps": "-x",
        "diameter_mm": 28.0,
        "off_mm": 3.0,
    }
    route.do("part", cut, tool("parting tool", reach=16.0), 340.0)
    route.setup(
        "lathe", "three-jaw chuck", grip("rim.round", 1.0, 11.0, 24.0), axis=along("+x"), out_mm=4.0
    )
    ends = read("length", 13.8, 14.2, "blank.-x", "blank.+x", CALIPER)
    route.face(14.0, "-x", 24.0, 1.0, ends, makes=["knob length"])
    return route


def dial() -> Route:
    """Bored by reamer, its rim turned and engraved before it is parted off."""
    part = bar(
        "dial",
        Section("round", 28.0),
        14.0,
        "CW614N",
        length_of("dial length", 14.0),
        turned_of("rim", 0.0, 14.0, f.general(24.0)),
        f.ReamedHole(
            name="dial bore",
            datum="A",
            axis=Axis((0.0, 0.0, 0.0), "+x"),
            depth_mm=14.0,
            diameter=limits(8.0, "H7"),
        ),
        f.EngravedScale(
            name="scale",
            datum="A",
            start_mm=0.0,
            end_mm=4.5,
            diameter=f.general(24.0),
            divisions=50,
            line_width_mm=0.2,
        ),
        f.Knurl(
            name="knurl",
            datum="A",
            start_mm=9.0,
            end_mm=14.0,
            diameter=f.general(24.0),
            pitch_mm=1.0,
        ),
    )
    route = Route(part).saw(-1.0, 38.0, 28.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 19.0, 38.0, 28.0),
        axis=along("-x"),
        out_mm=20.0,
    )
    route.face(0.0, "+x", 28.0, 1.0)
    route.turn(
        0.0, 15.0, 28.0, 24.0, round_("outside", 23.8, 24.2, "rim.round", CALIPER), makes=["rim"]
    )
    route.do(
        "spot",
        hole_cut("+x", 0.0, 3.0, 4.0),
        tool("centre drill", 4.0),
        1900.0,
        prepares=["dial bore"],
    )
    route.do(
        "drill", hole_cut("+x", 0.0, 17.0, 7.8), tool("drill", 7.8), 1900.0, prepares=["dial bore"]
    )
    route.do(
        "ream",
        hole_cut("+x", 0.0, 16.0, 8.0),
        tool("reamer", 8.0),
        220.0,
        round_("inside", 8.0, 8.015, "dial bore.bore", PLUG),
        makes=["dial bore"],
    )
    route.do(
        "knurl",
        {"shape": "other", "from_mm": 9.0, "to_mm": 14.0},
        tool("knurling tool", width_mm=5.0),
        140.0,
        said("eye", "full form", "eye"),
        makes=["knurl"],
        place="9 to 14 +x from B",
    )
    route.do(
        "engrave",
        {"shape": "other", "from_mm": 0.0, "to_mm": 4.5},
        tool("pointed tool"),
        None,
        said("eye", "the last line meets the first", "eye-glass"),
        makes=["scale"],
        divided={"by": "wheel", "lines": 50, "circle": 50, "step": 1},
        text="divide and cut the scale by a change gear of 50 teeth on the spindle",
    )
    cut = {
        "shape": "face",
        "axis": along("+x"),
        "at_mm": 15.0,
        "keeps": "-x",
        "diameter_mm": 28.0,
        "off_mm": 3.0,
    }
    route.do("part", cut, tool("parting tool", reach=16.0), 340.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("rim.round", 0.0, 9.0, 24.0, packing="split bush"),
        axis=along("+x"),
        out_mm=6.0,
    )
    ends = read("length", 13.8, 14.2, "blank.-x", "blank.+x", CALIPER)
    route.face(14.0, "-x", 24.0, 1.0, ends, makes=["dial length"])
    return route


def die_in_tailstock() -> Route:
    """A threaded end, cut by a die in the tailstock's holder."""
    part = bar(
        "handle",
        ROUND_10,
        60.0,
        "C45",
        length_of("handle length", 60.0),
        turned_of("end", 0.0, 15.0, f.Limits(6.0, -0.03, -0.15, "")),
        f.Thread(name="end thread", datum="A", start_mm=0.0, end_mm=14.0, thread="M6"),
    )
    route = Route(part).saw(-1.0, 61.0, 10.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 20.0, 60.0, 10.0),
        axis=along("-x"),
        out_mm=21.0,
    )
    route.face(0.0, "+x", 10.0, 1.0)
    route.turn(0.0, 15.0, 10.0, 5.91, round_("outside", 5.85, 5.97, "end.round"), makes=["end"])
    cut = {
        "shape": "thread",
        "axis": along("+x"),
        "from_mm": 0.0,
        "to_mm": 14.0,
        "diameter_mm": 6.0,
        "pitch_mm": 1.0,
        "inside": False,
    }
    round_again = "thread it by the die; the last turns with the die the other way round"
    tried = said("thread", "M6", "nut")
    route.do("thread", cut, tool("die M6"), None, tried, makes=["end thread"], text=round_again)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 20.0, 45.0, 10.0),
        axis=along("+x"),
        out_mm=16.0,
    )
    ends = read("length", 59.7, 60.3, "blank.-x", "blank.+x", CALIPER)
    route.face(60.0, "-x", 10.0, 1.0, ends, makes=["handle length"])
    return route


def between_centres() -> Route:
    """A long spindle finished between centres, the carrier on the end that stays."""
    part = bar(
        "spindle",
        Section("round", 25.0),
        140.0,
        "S355",
        length_of("spindle length", 140.0),
        turned_of("journal", 0.0, 100.0, limits(20.0, "g6")),
    )
    route = Route(part).saw(-1.0, 141.0, 25.0)
    for low, high, word, at, keeps, sign in (
        (60.0, 140.0, "-x", 0.0, "+x", -1),
        (0.0, 80.0, "+x", 140.0, "-x", 1),
    ):
        route.setup(
            "lathe",
            "three-jaw chuck",
            grip("blank.round", low, high, 25.0),
            axis=along(word),
            out_mm=61.0,
        )
        done = () if sign < 0 else (read("length", 139.5, 140.5, "blank.-x", "blank.+x", CALIPER),)
        route.face(at, keeps, 25.0, 1.0, *done, makes=["spindle length"] if done else []).centre(
            at, sign
        )
    route.setup(
        "lathe",
        "between centres",
        axis=along("-x"),
        centre=centre("-x"),
        headstock_centre=centre("+x", kind="dead"),
        driver={"at_mm": 125.0, "size_mm": 25.0},
    )
    route.turn(0.0, 100.0, 25.0, 20.5, prepares=["journal"], allowance_mm=0.5)
    route.turn(
        0.0,
        100.0,
        20.5,
        19.987,
        round_("outside", 19.98, 19.993, "journal.round"),
        makes=["journal"],
    )
    return route


def in_the_steady() -> Route:
    """A tapped hole in the end of a long bar, its end in the fixed steady."""
    part = bar(
        "pillar",
        ROUND_20,
        200.0,
        "S355",
        length_of("pillar length", 200.0),
        f.TappedHole(
            name="end hole",
            datum="A",
            axis=Axis((0.0, 0.0, 0.0), "+x"),
            depth_mm=16.0,
            thread="M8",
            through=False,
        ),
    )
    route = Route(part).saw(-1.0, 201.0, 20.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 50.0, 100.0, 20.0),
        axis=along("+x"),
        out_mm=101.0,
        steady={"at_mm": 180.0, "diameter_mm": 20.0},
    )
    route.face(200.0, "-x", 20.0, 1.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 100.0, 150.0, 20.0),
        axis=along("-x"),
        out_mm=101.0,
        steady={"at_mm": 20.0, "diameter_mm": 20.0},
    )
    ends = read(
        "length",
        199.5,
        200.5,
        "blank.-x",
        "blank.+x",
        ("vernier caliper to 300 mm", 0.0, 300.0, 0.05),
    )
    route.face(0.0, "+x", 20.0, 1.0, ends, makes=["pillar length"])
    route.do(
        "spot",
        hole_cut("+x", 0.0, 3.0, 4.0),
        tool("centre drill", 4.0),
        800.0,
        prepares=["end hole"],
    )
    route.do(
        "drill", hole_cut("+x", 0.0, 20.0, 6.8), tool("drill", 6.8), 800.0, prepares=["end hole"]
    )
    route.do(
        "tap",
        hole_cut("+x", 0.0, 16.0, 8.0),
        tool("tap M8", 8.0),
        None,
        said("thread", "M8", "screw"),
        makes=["end hole"],
    )
    return route
