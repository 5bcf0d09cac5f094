"""The clamp in three dimensions: the block alone, as its member is cut, held by the ring of its weld.

The shaft in it is left out, for it is a slip fit that no hinge can pull on. gmsh meshes half of the
kernel's solid (it is the same on both sides of the stud), scikit-fem solves it in second order: both
are general-purpose and know nothing of the project. The closed form is held against what comes out.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import scipy.sparse.linalg as linear
import skfem as fem
from msgspec.structs import replace
from skfem import helpers

from parts.body import rotating_body
from parts.frame import Box
from parts.hinge import hinge_joined_mm
from parts.running import ROD_PLAY_MM
from parts.sizes import Sizes
from parts.standard.fasteners import washer
from planner.checking.strength import clamp_hold, cutting_load
from planner.output.plan import Plan
from planner.solids.build import _cut, _member
from planner.solids.shapes import box

STEEL_MPa, POISSON = 210_000.0, 0.3


def half_block(s: Sizes, deeper_mm: float = 0.0) -> Any:
    """The block of the body with all that is cut in it, y above 0; nothing of the shaft.

    deeper_mm: by how much the spigot's bore goes deeper than it is made.
    """
    body = rotating_body(s)
    block = next(m for m in body.blank.members if m.name == "block")  # type: ignore[union-attr]
    features = tuple(
        replace(f, depth_mm=f.depth_mm + deeper_mm)  # type: ignore[call-arg]
        if f.name == "spigot bore"
        else f
        for f in block.features
    )
    block = replace(block, features=features)
    whole = _cut(_member(block), body.features)
    far = 10 * s.block_length_mm
    (half,) = whole.intersect(box(Box((-far, 0.0, -far), (far, far, far)))).Solids()
    return half


def meshed(shape: Any, s: Sizes, folder: Path, fine_mm: float) -> Any:
    """Tetrahedra with straight sides, small in and about the hinge."""
    import gmsh

    path = folder / "block.step"
    shape.exportStep(str(path))
    gmsh.initialize(interruptible=False)
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.option.setNumber("Mesh.MeshSizeExtendFromBoundary", 0)
        gmsh.option.setNumber("Mesh.MeshSizeFromPoints", 0)
        gmsh.open(str(path))
        field = gmsh.model.mesh.field
        rod_x = s.block_thickness_mm - s.rod_from_front_mm
        middle, wide = rod_x - s.hinge_behind_mm, s.slit_width_mm / 2 + 2 * s.hinge_least_mm
        field.add("Box", 1)
        for name, value in {
            "VIn": fine_mm, "VOut": s.block_thickness_mm / 7, "Thickness": s.block_thickness_mm / 3,
            "XMin": middle - wide, "XMax": middle + wide, "YMin": -1.0, "YMax": s.block_length_mm,
            "ZMin": s.hinge_z_mm - s.hinge_least_mm, "ZMax": s.hinge_z_mm + 2.5 * s.hinge_least_mm,
        }.items():  # fmt: skip
            field.setNumber(1, name, value)
        field.setAsBackgroundMesh(1)
        gmsh.model.mesh.generate(3)
        tags, places, _ = gmsh.model.mesh.getNodes()
        _, corners = gmsh.model.mesh.getElementsByType(4)
    finally:
        gmsh.finalize()
    row = np.zeros(int(tags.max()) + 1, dtype=int)
    row[tags.astype(int)] = np.arange(len(tags))
    cells = row[corners.astype(int)].reshape(-1, 4)
    used, cells = np.unique(cells, return_inverse=True)
    points = np.ascontiguousarray(places.reshape(-1, 3)[used].T)
    return fem.MeshTet(points, np.ascontiguousarray(cells.reshape(-1, 4).T))


def closing_N(s: Sizes, folder: Path, fine: float = 0.5, deeper_mm: float = 0.0) -> float:
    """Force of the stud that takes the rod's clearance out of the bore, of the block alone.

    fine: side of the tetrahedra in the hinge, in its least metal. The clearance is the bore's diameter
    where it closes most, the mean along the rod.
    """
    net = meshed(half_block(s, deeper_mm), s, folder, fine * s.hinge_least_mm)
    element = fem.ElementVector(fem.ElementTetP2())
    basis = fem.Basis(net, element, intorder=2)
    shear, lame = STEEL_MPa / 2 / (1 + POISSON), STEEL_MPa * POISSON / (1 + POISSON) / 0.4

    def work(u: Any, v: Any, _: Any) -> Any:
        a, b = helpers.sym_grad(u), helpers.sym_grad(v)
        return lame * helpers.trace(a) * helpers.trace(b) + 2 * shear * helpers.ddot(a, b)

    matrix = fem.BilinearForm(work).assemble(basis)
    spigot, stud_x = s.spigot_diameter_mm / 2, s.block_thickness_mm - s.clamp_screw_from_front_mm
    ring = washer(s.clamp_screw).outside_mm / 2

    def facets(where: Any) -> Any:
        found = net.facets_satisfying(where, boundaries_only=True)
        assert len(found)
        return found

    def under_the_stud(level: float) -> Any:
        return lambda x: (abs(x[2] - level) < 1e-4) & (np.hypot(x[0] - stud_x, x[1]) < ring)

    def pull(level: float) -> Any:
        on = fem.FacetBasis(net, element, facets=facets(under_the_stud(level)), intorder=4)
        area = fem.Functional(lambda w: 1.0 + 0 * w.x[0]).assemble(on)
        return (
            fem.LinearForm(lambda v, _: v[2]).assemble(on) / area / 2
        )  # half of it, half the block

    load = pull(s.leaf_z_mm) - pull(s.slit_width_mm / 2)
    leg = s.weld_leg_mm
    weld = facets(
        lambda x: (
            (abs(x[0]) < 1e-4)
            & (np.hypot(x[1], x[2]) > spigot - 1e-4)
            & (np.hypot(x[1], x[2]) < spigot + leg)
        )
    )
    plane = facets(lambda x: abs(x[1]) < 1e-4)
    held = np.unique(
        np.concatenate(
            [basis.get_dofs(weld).all(), basis.get_dofs(plane).all(["u^2", "u^2$0", "u^2$1"])]
        )
    )
    middle = np.setdiff1d(np.arange(basis.N), held)
    inner = matrix[middle][:, middle].tocsc()
    moved = np.zeros(basis.N)
    scale = 1 / np.sqrt(
        inner.diagonal()
    )  # conjugate gradients on the matrix with a diagonal of ones
    even = inner.multiply(scale[:, None]).multiply(scale[None, :]).tocsr()
    found, missed = linear.cg(even, load[middle] * scale, rtol=1e-6, maxiter=20_000)
    assert missed == 0
    moved[middle] = found * scale

    rod_x = s.block_thickness_mm - s.rod_from_front_mm
    bore = np.flatnonzero(abs(np.hypot(net.p[0] - rod_x, net.p[2]) - s.rod_diameter_mm / 2) < 1e-4)
    angle = np.arctan2(net.p[2, bore], net.p[0, bore] - rod_x)
    out = moved[basis.nodal_dofs[0, bore]] * np.cos(angle) + moved[
        basis.nodal_dofs[2, bore]
    ] * np.sin(angle)
    steps = np.radians(np.arange(-180, 180, 6.0))

    def mean(at: float) -> float:
        near = abs(np.angle(np.exp(1j * (angle - at)))) < np.radians(8)
        return float(out[near].mean()) if near.sum() > 3 else np.nan

    shut = [-(mean(at) + mean(at + np.pi)) for at in steps]
    return ROD_PLAY_MM / np.nanmax(shut)


@pytest.mark.slow
def test_the_block_alone_closes_with_the_force_of_the_closed_form(
    bench: Plan, tmp_path: Path
) -> None:
    # three meshes of 4.5 to 25 thousand tetrahedra came to 93.6, 97.6 and 90.7 N where the closed
    # form, which is plane stress, has 78.8: a hinge much wider than thick is stiffer (plane strain)
    s = bench.sizing.sizes
    hold = clamp_hold(s, cutting_load(0.25, 0.08, 0.5, "S355"), None)
    whole = closing_N(s, tmp_path)
    assert 0.78 <= hold.closing_N / whole <= 1.02
    assert hold.joined_mm == s.block_length_mm == hinge_joined_mm(s)
    # the check can fail: with the spigot's bore right to the rod's axis half of the hinge is gone, and
    # no closed form of the whole length is near any more
    deeper = s.block_thickness_mm - s.rod_from_front_mm - s.spigot_length_mm
    spoiled = closing_N(s, tmp_path, deeper_mm=deeper)
    assert spoiled < 0.65 * whole and hold.closing_N / spoiled > 1.2
