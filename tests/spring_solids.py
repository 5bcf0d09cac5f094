"""How far the tip springs, by three-dimensional elements on the solids of an attachment, fused.

The outside authority for planner.checking.strength.chain, with which it shares no formula: the kernel's
solids, meshed by gmsh into second-order tetrahedra, assembled by scikit-fem, solved by scipy. Rod,
journal and bit are one with what they sit in, the welds' filler is there as designed, and the shank is
fixed where the tool post begins. The foot runs free.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from parts.attachment import attachment
from parts.features import Feature
from parts.frame import Axis, Box
from parts.part import members
from parts.sizes import Sizes
from parts.standard.materials import material
from parts.tool import nose_radius_mm
from planner.solids.build import _cut, _stock, location, placement
from planner.solids.kernel import kernel
from planner.solids.shapes import box, cylinder

POISSON = 0.3

FILLED = ("index mark", "oil hole", "tool slot", "tool screw hole", "clamp screw", "handle hole")
"""Features that are left out: marks and drilled holes, and what a screw or the bit fills."""

THRUST_GAP_MM = 0.5
"""The thrust face runs on oil and bears no pull, so it is left open."""

FAR = 1e4


def pieces(s: Sizes, tip_mm: float, swing_deg: float) -> dict[str, Any]:
    """The solids by name, in place: bit, arm, rod, block, shaft, tube, shank, cheek, welds.

    Where the tool post begins before the pivot's nuts, the shank is not relieved for them; a second
    bar on top of it is one with it.
    """
    found: dict[str, Any] = {}
    rear, post = s.thrust_x_mm - s.housing_length_mm, s.post_front_x_mm
    left_out = FILLED if rear - post > s.thread_run_mm - 1e-6 else (*FILLED, "nut relief")

    def _kept(features: Any) -> list[Feature]:
        return [one for one in features if not one.name.startswith(left_out)]

    for placed in attachment(s).placed:
        part = placed.item
        if placed.name in ("housing", "rotating-body", "sliding-head"):
            for one in members(part):
                shape = _cut(_stock(one.blank), _kept(one.features))
                shape = _cut(shape.moved(location(one.frame)), _kept(part.features))
                found[one.name] = shape.moved(placement(placed, tip_mm, swing_deg))
        elif placed.name == "tool-bit":
            shape = _cut(_stock(part.blank), part.features)
            found["bit"] = shape.moved(placement(placed, tip_mm, swing_deg))

    def behind(x: float) -> Any:
        return box(Box((-FAR, -FAR, -FAR), (x, FAR, FAR)))

    def ahead(x: float) -> Any:
        return box(Box((x, -FAR, -FAR), (FAR, FAR, FAR)))

    found["shaft"] = found["shaft"].cut(behind(rear))
    second = _second_bar_mm(s)
    if second:
        found["shank"] = found["shank"].fuse(found["shank"].translate((0.0, second, 0.0))).clean()
    found["shank"] = found["shank"].cut(behind(post))
    del found["foot"]
    found["arm"] = found["arm"].cut(found["bit"])
    found["tube"] = found["tube"].cut(ahead(s.thrust_x_mm - THRUST_GAP_MM))
    found["welds"] = _filler(s, found)
    return found


def _second_bar_mm(s: Sizes) -> float:
    """The side of a second bar on top of the shank, as wide as the shank; 0 without one."""
    bar = getattr(s, "doubling_stock", None)
    return bar.width_mm if bar else 0.0


def _filler(s: Sizes, found: dict[str, Any]) -> Any:
    """The metal of the housing's welds, over the bed's length: between the tube's round and the side
    that it lies on, a leg up and down from the flat's edges; a leg by a leg on the shank's top."""
    radius, leg = s.tube_stock.width_mm / 2, s.weld_leg_mm
    face = radius - s.shank_flat_mm
    half = (radius**2 - face**2) ** 0.5
    near, far = s.thrust_x_mm - s.housing_length_mm, s.thrust_x_mm - s.setback_mm
    side, seat = s.shank_stock.width_mm + _second_bar_mm(s), s.spindle_over_seat_mm
    plate_top = s.cheek_stock.width_mm - seat if s.cheek_stock else side - seat

    def bar(y0: float, y1: float, z0: float, z1: float) -> Any:
        return box(Box((near, y0, z0), (far, y1, z1)))

    made = []
    tops = min(half + leg, plate_top)
    if tops > half:
        made.append(bar(half, tops, 0.0, face))
    made.append(bar(max(-half - leg, -seat), -half, 0.0, face))
    if plate_top < half:  # the bed ends below the flat's upper edge: a fillet in the corner
        made.append(_fillet(near, far, plate_top, face, min(leg, half - plate_top), leg))
    if s.cheek_stock and plate_top > side - seat:
        made.append(_fillet(near, far, side - seat, s.shank_inner_z_mm, leg, leg))
    round_bar = cylinder(
        Axis((s.thrust_x_mm, 0.0, 0.0), "-x"), -1.0, s.housing_length_mm + 1.0, radius
    )
    made = [one.cut(round_bar) for one in made]
    return made[0].fuse(*made[1:]) if made[1:] else made[0]


def _fillet(near: float, far: float, y: float, z: float, up: float, out: float) -> Any:
    cq = kernel()
    wire = cq.Wire.makePolygon([(near, y, z), (near, y + up, z), (near, y, z + out)], close=True)
    return cq.Solid.extrudeLinear(wire, [], cq.Vector(far - near, 0, 0))


@dataclass(frozen=True)
class Net:
    """Second-order tetrahedra: nodes (3, n), elements (10, n) in scikit-fem's order, body of each."""

    points: np.ndarray
    corners: np.ndarray
    body: np.ndarray
    names: tuple[str, ...]


def mesh(
    solids: dict[str, Any], sizes: dict[str, float], tip: np.ndarray, nose_mm: float, near_mm: float
) -> Net:
    """One mesh of all the solids, joined where they touch; sizes: of the elements of each, mm."""
    import gmsh

    gmsh.initialize(interruptible=False)
    try:
        gmsh.option.setNumber("General.Terminal", 0)
        occ, model = gmsh.model.occ, gmsh.model
        names, volumes, owner = tuple(solids), [], []
        with tempfile.TemporaryDirectory() as folder:
            for at, (name, shape) in enumerate(solids.items()):
                path = Path(folder) / f"{name}.brep"
                shape.exportBrep(str(path))
                got = [tag for tag in occ.importShapes(str(path)) if tag[0] == 3]
                volumes += got
                owner += [at] * len(got)
        came = occ.fragment(volumes, [])[1] if volumes[1:] else [volumes]
        occ.synchronize()
        body_of: dict[int, int] = {}
        for at, tags in zip(owner, came, strict=True):
            for _, tag in tags:
                body_of.setdefault(tag, at)
        for tag in model.getEntities(3):
            assert tag[1] in body_of
        fields = []
        for at, name in enumerate(names):
            field = model.mesh.field.add("Constant")
            model.mesh.field.setNumber(field, "VIn", sizes[name])
            model.mesh.field.setNumber(field, "VOut", 1e3)
            tags = [tag for tag, of in body_of.items() if of == at]
            model.mesh.field.setNumbers(field, "VolumesList", tags)
            model.mesh.field.setNumber(field, "IncludeBoundary", 1)
            fields.append(field)
        ball = model.mesh.field.add("Ball")
        for key, value in zip(("XCenter", "YCenter", "ZCenter"), tip, strict=True):
            model.mesh.field.setNumber(ball, key, float(value))
        model.mesh.field.setNumber(ball, "Radius", 2 * nose_mm)
        model.mesh.field.setNumber(ball, "VIn", near_mm)
        model.mesh.field.setNumber(ball, "VOut", 1e3)
        least = model.mesh.field.add("Min")
        model.mesh.field.setNumbers(least, "FieldsList", [*fields, ball])
        model.mesh.field.setAsBackgroundMesh(least)
        for key, value in (
            ("Mesh.MeshSizeExtendFromBoundary", 0),
            ("Mesh.MeshSizeFromPoints", 0),
            ("Mesh.Algorithm3D", 1),
            ("Mesh.ElementOrder", 2),
            ("Mesh.HighOrderOptimize", 0),
            ("General.NumThreads", 1),
            ("Mesh.RandomSeed", 1),
        ):
            gmsh.option.setNumber(key, value)
        model.mesh.generate(3)
        tags, places, _ = model.mesh.getNodes()
        number = np.full(int(tags.max()) + 1, -1)
        number[tags.astype(int)] = np.arange(len(tags))
        corners, body = [], []
        for _, tag in model.getEntities(3):
            _, _, nodes = model.mesh.getElements(3, tag)
            block = number[nodes[0].astype(int)].reshape(-1, 10)
            corners.append(block)
            body.append(np.full(len(block), body_of[tag]))
        every = np.vstack(corners).T[[0, 1, 2, 3, 4, 5, 6, 7, 9, 8]]
        used, packed = np.unique(every, return_inverse=True)
        points = places.reshape(-1, 3)[used].T
        return Net(points, packed.reshape(every.shape), np.concatenate(body), names)
    finally:
        gmsh.finalize()


@dataclass(frozen=True)
class Spring:
    """The tip's movement along the rod for one newton, shared out, 1e-6 mm/N.

    passive: by one newton along the rod, each body's strain energy twice; main: by one newton toward
    the body, the energy of the one load's stress in the other's strain. The shares add up to the tip's
    movement, which those got by making one body after another rigid do not. By the names of the
    chain's links. unknowns: of the model.
    """

    passive: dict[str, float]
    main: dict[str, float]
    unknowns: int


LINKS = {
    "bit": "tool bit",
    "tip": "tool bit",
    "arm": "arm",
    "rod": "rod",
    "block": "rod in its clamp",
    "shaft": "housing and shaft",
    "tube": "housing and shaft",
    "cheek": "shank on the tube",
    "welds": "shank on the tube",
    "shank": "shank on the tube",
    "bare": "bare shank",
}
"""The link that a body's energy belongs to; bare: of the shank, behind the tube."""


def element_sizes_mm(s: Sizes, fine: float) -> dict[str, float]:
    """Edge length of the elements in each body, fine times those of the record."""
    side, thin = s.shank_stock.width_mm, min(s.shank_stock.width_mm / 5, s.weld_leg_mm)
    sizes = {
        "bit": s.bit_stock.width_mm / 4,
        "arm": s.arm_stock.height_mm / 3,
        "rod": s.rod_diameter_mm / 4,
        "block": s.block_length_mm / 7,
        "shaft": s.pivot_diameter_mm / 3.5,
        "tube": s.tube_stock.width_mm / 7,
        "shank": side / 5,
        "cheek": max(s.cheek_mm, 1.0) / 1.5,
        "welds": thin,
    }
    return {name: size * fine for name, size in sizes.items()}


def spring_at(s: Sizes, swing_deg: float, fine: float = 1.0) -> Spring:
    """The spring of an attachment at its largest ball, the tip at a swing from the ball's nose."""
    turn, radius = np.radians(swing_deg), s.max_ball_diameter_mm / 2
    along = np.array([0.0, np.sin(turn), np.cos(turn)])
    net = mesh(
        pieces(s, radius, swing_deg),
        element_sizes_mm(s, fine),
        radius * along,
        nose_radius_mm(s),
        nose_radius_mm(s) / 3 * fine,
    )
    post, top = s.post_front_x_mm, s.shank_stock.width_mm - s.spindle_over_seat_mm
    return spring(
        net, s, radius * along, along, lambda x: (x[0] < post + 1e-4) & (x[1] < top + 1e-4)
    )


def spring(
    net: Net, s: Sizes, tip: np.ndarray, along: np.ndarray, held: Callable[[np.ndarray], np.ndarray]
) -> Spring:
    """The tip's movement along the rod by one newton along it and by one toward the body."""
    import skfem as fem
    from skfem.helpers import ddot, sym_grad, trace

    whole = _sound(fem, net)
    element = fem.ElementVector(fem.ElementTetP2())
    modulus = _moduli(s)

    def work(u: Any, v: Any, w: Any) -> Any:
        a, b = sym_grad(u), sym_grad(v)
        shear = w.E / 2 / (1 + POISSON)
        return 2 * shear * (ddot(a, b) + POISSON / (1 - 2 * POISSON) * trace(a) * trace(b))

    form = fem.BilinearForm(work)
    rear = s.thrust_x_mm - s.housing_length_mm
    middle = whole.p[0][whole.t].mean(axis=0)
    groups = {name: np.flatnonzero(net.body == at) for at, name in enumerate(net.names)}
    if "shank" in groups:
        before = middle[groups["shank"]] < rear
        groups["bare"], groups["shank"] = groups["shank"][before], groups["shank"][~before]
    at_tip = along @ (whole.p[:, whole.t].mean(axis=1) - tip[:, None]) < nose_radius_mm(s)
    groups["tip"] = groups["bit"][at_tip[groups["bit"]]]
    groups["bit"] = groups["bit"][~at_tip[groups["bit"]]]
    stiff, basis = {}, fem.Basis(whole, element, intorder=2)
    for name, cells in groups.items():
        if not len(cells):
            continue
        part = fem.Basis(whole, element, elements=cells, intorder=2)
        stiff[name] = form.assemble(part, E=modulus[name])
    matrix = sum(stiff.values())
    nodes = np.concatenate([basis.nodal_dofs.T, basis.edge_dofs.T])  # x, y and z of each node
    places = basis.doflocs[:, nodes[:, 0]]
    free = nodes[~held(places)]
    assert len(nodes) - len(free) > 10, "nothing holds it"
    loaded = _loads(fem, whole, element, groups["tip"], tip, along)
    rows = free.ravel()
    moved = _solved(matrix[rows][:, rows], [load[rows] for load in loaded])
    full = np.zeros((2, basis.N))
    full[:, rows] = moved
    passive, main = dict.fromkeys(LINKS.values(), 0.0), dict.fromkeys(LINKS.values(), 0.0)
    for name, k in stiff.items():
        passive[LINKS[name]] += 1e6 * float(full[0] @ (k @ full[0]))
        main[LINKS[name]] += 1e6 * float(full[0] @ (k @ full[1]))
    assert abs(sum(passive.values()) / (1e6 * loaded[0] @ full[0]) - 1) < 1e-3
    return Spring(passive, main, len(rows))


EDGES = ((0, 1), (1, 2), (0, 2), (0, 3), (1, 3), (2, 3))
"""The corners between which scikit-fem has the fifth to the tenth node of an element."""


def _sound(fem: Any, net: Net) -> Any:
    """The mesh, elements that a curved side has turned inside out made straight."""
    points, corners = net.points.copy(), np.ascontiguousarray(net.corners)
    for _ in range(6):
        whole = fem.MeshTet2(np.ascontiguousarray(points), corners)
        where = fem.Basis(whole, fem.ElementTetP2(), intorder=4).X
        size = whole.mapping().detDF(where)
        bad = np.flatnonzero(size.min(axis=1) < 0.05 * size.max(axis=1))
        if not len(bad):
            return whole
        for node, (a, b) in enumerate(EDGES, 4):
            ends = points[:, corners[a, bad]] + points[:, corners[b, bad]]
            points[:, corners[node, bad]] = ends / 2
    raise AssertionError(f"{len(bad)} elements stay inside out")


def _moduli(s: Sizes) -> dict[str, float]:
    steel, shaft, tool = (
        material(name).modulus_MPa
        for name in (s.structure_material, s.shaft_material, s.tool_material)
    )
    names = ("arm", "block", "tube", "shank", "bare", "cheek", "welds")
    return {
        **dict.fromkeys(names, steel),
        "rod": shaft,
        "shaft": shaft,
        "bit": tool,
        "tip": 1e3 * tool,
    }


def _loads(
    fem: Any, whole: Any, element: Any, cells: np.ndarray, tip: np.ndarray, along: np.ndarray
) -> list[np.ndarray]:
    """One newton along the rod and one along -x, at the tip, spread over the bit's point.

    A force for each mm3 that is even plus as much of a turn as puts its resultant at the tip.
    """
    assert len(cells) >= 4, "no elements at the tip"
    part = fem.Basis(whole, element, elements=cells, intorder=4)
    x, dx = np.asarray(part.global_coordinates()), part.dx
    volume = dx.sum()
    at = (x * dx).sum(axis=(1, 2)) / volume
    r = x - at[:, None, None]
    inertia = np.einsum("kij,ij->", r**2, dx) * np.eye(3) - np.einsum("aij,bij,ij->ab", r, r, dx)

    def load(force: np.ndarray) -> np.ndarray:
        turn = np.linalg.solve(inertia, np.cross(tip - at, force))

        def push(v: Any, w: Any) -> Any:
            off = [w.x[i] - at[i] for i in range(3)]
            spin = [
                turn[1] * off[2] - turn[2] * off[1],
                turn[2] * off[0] - turn[0] * off[2],
                turn[0] * off[1] - turn[1] * off[0],
            ]
            return sum((force[i] / volume + spin[i]) * v[i] for i in range(3))

        return np.asarray(fem.LinearForm(push).assemble(part))

    return [load(along), load(np.array([-1.0, 0.0, 0.0]))]


def _solved(matrix: Any, loads: list[np.ndarray]) -> np.ndarray:
    """Both loads by one factorization, which for a symmetric matrix need not look for pivots."""
    from scipy.sparse.linalg import splu

    factors = splu(
        matrix.tocsc(),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )
    found = np.array([factors.solve(load) for load in loads])
    for load, moved in zip(loads, found, strict=True):
        assert np.linalg.norm(matrix @ moved - load) < 1e-6 * np.linalg.norm(load)
    return found
