"""Sound routes for slender turned pieces, written by hand from common practice."""

from __future__ import annotations

from walk_records import CALIPER, Route, along, bar, centre, grip, read, round_, said, tool

from parts import features as f
from parts.standard.fits import limits
from parts.standard.sections import Section


def slender_screw() -> Route:
    """A screw 12 by 170 from a head of 20: fifteen diameters on the centre, the steady following."""
    part = bar(
        "screw",
        Section("round", 20.0),
        230.0,
        "S355",
        f.FacedLength(name="screw length", datum="B", length=f.general(230.0)),
        f.TurnedDiameter(
            name="screw diameter",
            datum="A",
            start_mm=0.0,
            end_mm=170.0,
            diameter=limits(12.0, "h11"),
        ),
        f.Thread(name="feed thread", datum="A", start_mm=0.0, end_mm=165.0, thread="M12x1"),
    )
    route = Route(part).saw(-1.0, 231.0, 20.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 171.0, 201.0, 20.0),
        axis=along("+x"),
        out_mm=30.0,
    )
    route.face(230.0, "-x", 20.0, 1.0)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 30.0, 60.0, 20.0),
        axis=along("-x"),
        out_mm=31.0,
    )
    ends = read(
        "length",
        229.5,
        230.5,
        "blank.-x",
        "blank.+x",
        ("vernier caliper to 300 mm", 0.0, 300.0, 0.05),
    )
    route.face(0.0, "+x", 20.0, 1.0, ends, makes=["screw length"]).centre(0.0, -1)
    route.setup(
        "lathe",
        "three-jaw chuck",
        grip("blank.round", 175.0, 205.0, 20.0),
        axis=along("-x"),
        centre=centre("-x"),
        steady={"at_mm": None, "diameter_mm": 12.0, "travelling": True},
        out_mm=175.0,
    )
    route.turn(
        0.0,
        170.0,
        20.0,
        11.945,
        round_("outside", 11.89, 12.0, "screw diameter.round", CALIPER),
        makes=["screw diameter"],
    )
    route.do(
        "thread",
        {"shape": "thread", "axis": along("-x"), "from_mm": 0.0, "to_mm": 165.0,
         "diameter_mm": 12.0, "pitch_mm": 1.0, "inside": False},
        tool("threading tool"),
        140.0,
        said("thread", "M12x1", "gauge nut"),
        text="screw-cut feed thread; to try the nut the tailstock is drawn back, the steady taken off",
        makes=["feed thread"],
    )  # fmt: skip
    return route
