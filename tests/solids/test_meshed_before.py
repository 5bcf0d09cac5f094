"""A mesh is the same whatever was meshed before: bytes of a package hang on it."""

from __future__ import annotations

from planner.output.plan import Plan
from planner.solids import solid
from planner.solids.mesh import _triangles


def test_a_finer_mesh_of_before_is_not_kept(bench: Plan) -> None:
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    dial = next(one for one in bench.attachment.parts if one.name == "dial")
    own = solid(
        dial, False
    ).copy()  # a mesh leaves traces in the shared one, and its file would differ
    points, triangles = _triangles(own)
    BRepMesh_IncrementalMesh(own.wrapped, 0.002, False, 0.05, False)
    again, same = _triangles(own)
    assert again.shape == points.shape and (again == points).all()
    assert (same == triangles).all() and len(triangles) > 100
