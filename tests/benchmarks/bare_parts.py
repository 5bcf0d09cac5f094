"""A bare CAD script for comparison: six parts like the attachment's, written as STEP, by hand.

Run by bench_commands.py with a folder to write to; it uses nothing of the project.
"""

import sys
from pathlib import Path

import cadquery as cq


def housing() -> cq.Workplane:
    tube = cq.Workplane("YZ").circle(17.5).extrude(-50)
    shank = cq.Workplane("XY").box(96, 16, 16, centered=False).translate((-100, -20, 15))
    return tube.union(shank).cut(cq.Workplane("YZ").circle(9).extrude(-50))


def body() -> cq.Workplane:
    block = cq.Workplane("XY").box(40, 32, 47, centered=(False, True, True))
    shaft = cq.Workplane("YZ").circle(9).extrude(-50).faces("<X").circle(8).extrude(35)
    whole = block.union(shaft)
    for x, z, radius in ((21.5, 0, 7), (21.5, 20, 4.1)):
        hole = cq.Workplane("XZ", origin=(x, 20, z)).circle(radius).extrude(40)
        whole = whole.cut(hole)
    slit = cq.Workplane("XY").box(30, 40, 1.6, centered=(False, True, True)).translate((20, 0, 0))
    return whole.cut(slit)


def head() -> cq.Workplane:
    arm = cq.Workplane("XZ").polyline([(0, -9), (-58, -9), (-58, 51), (-27, 51), (-27, 9), (0, 9)])
    whole = arm.close().extrude(-15)
    rod = cq.Workplane("XZ", origin=(-45, 0, 0)).circle(7).extrude(57)
    foot = cq.Workplane("XY").box(25, 51, 8).translate((-45, -25.5, 34))
    slot = cq.Workplane("XY").box(12, 40, 6.1)
    return whole.union(rod).union(foot).cut(slot)


def screw() -> cq.Workplane:
    whole = cq.Workplane("YZ").circle(4).extrude(46).faces(">X").workplane().circle(7).extrude(5)
    return whole.faces(">X").workplane().circle(4).extrude(50)


def dial() -> cq.Workplane:
    return cq.Workplane("YZ").circle(12).circle(4).extrude(18)


def handle() -> cq.Workplane:
    bar = cq.Workplane("YZ").circle(5).extrude(100)
    return bar.union(cq.Workplane("XY").sphere(11).translate((105, 0, 0)))


def main(folder: Path) -> None:
    for make in (housing, body, head, screw, dial, handle):
        cq.exporters.export(make(), str(folder / f"{make.__name__}.step"))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
