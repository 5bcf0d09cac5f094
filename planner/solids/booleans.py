"""Solids cut, joined and met: the kernel's own Boolean operations, all in one thread.

Imported by this room alone. cadquery has each run in several threads, which costs more than it saves
for solids as small as these.
"""

from __future__ import annotations

from typing import Any

from planner.solids.kernel import Shape, kernel


def cut(body: Shape, *tools: Shape) -> Shape:
    """A body less one tool at least, all at once."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut

    return _made(BRepAlgoAPI_Cut(), body, tools)


def fused(body: Shape, *others: Shape) -> Shape:
    """A body and at least one other made one."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse

    return _made(BRepAlgoAPI_Fuse(), body, others)


def shared(one: Shape, other: Shape) -> Shape:
    """What two bodies, or a face and a body, have in common."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    return _made(BRepAlgoAPI_Common(), one, (other,))


def _made(operation: Any, one: Shape, others: tuple[Shape, ...]) -> Shape:
    from OCP.BRepTools import BRepTools
    from OCP.TopTools import TopTools_ListOfShape

    arguments, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    for body in one if one.ShapeType() == "Compound" else (one,):
        arguments.Append(body.wrapped)
    for other in others:
        tools.Append(other.wrapped)
    operation.SetArguments(arguments)
    operation.SetTools(tools)
    operation.SetRunParallel(False)
    operation.SetCheckInverted(False)  # no solid made here is inside out
    operation.Build()
    made = operation.Shape()
    # where a round only touches a face, a line is left on the face
    BRepTools.RemoveInternals_s(made)
    return kernel().Shape.cast(made)
