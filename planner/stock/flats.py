"""The flat pieces of a job and the sheets they are cut from: parts of plate, templates, a drilling jig.

A part's piece is cut from a sheet where one of its thickness and material lies in the shop; from bar
otherwise. Templates and the jig come from thin sheet. Imported by output.plan; needs no solid.
"""

from __future__ import annotations

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.features import FacedLength
from parts.part import Joined, members
from parts.sizes import Sizes
from parts.standard.series import Series
from parts.value import Value
from planner.geometry.curves import FlatProfile, Outline
from planner.geometry.profiles import FLAT_SHAPES, flat_profiles
from planner.job.tables import Job, SheetStock
from planner.making.holding import BY_DIALS, holding, thin_sheet
from planner.making.workshop import Workshop
from planner.nest import Nest, NoSheet, Piece, Sheet, nest
from planner.words.findings import Finding, finding
from planner.words.numbers import Numbers
from planner.words.short import few

BRIDGE_MM, MARGIN_MM = 3.0, 5.0
"""Left between pieces and along the edges under a torch (common practice)."""


class FlatPiece(Value, frozen=True):
    """A flat piece: its profile, how many, and what it is for."""

    profile: FlatProfile
    quantity: int
    use: str


class FlatGroup(Value, frozen=True):
    """The pieces of one thickness and material, and how they lie on the sheets."""

    thickness_mm: float
    material: str
    pieces: tuple[FlatPiece, ...]
    nest: Nest


class FlatPlan(Value, frozen=True):
    """All flat pieces; the groups that are cut from sheet; what found no sheet, as findings."""

    pieces: tuple[FlatPiece, ...]
    groups: tuple[FlatGroup, ...]
    findings: tuple[Finding, ...]


def flat_pieces(attachment: Attachment, job: Job) -> tuple[FlatPiece, ...]:
    """Every flat piece of a job: parts' pieces as often as they are made, one of each template, and the
    jig where what drills does not bring a drill to its place by dials."""
    s, many = attachment.sizes, job.attachment.quantity
    found = []
    for part in attachment.parts:
        flat = [m for m in members(part) if m.blank.section.shape in FLAT_SHAPES]
        for member, profile in zip(flat, flat_profiles(part), strict=True):
            faced = any(isinstance(feature, FacedLength) for feature in member.features)
            held = holding(member, isinstance(part.blank, Joined), job.series)
            left = held.facing_mm / 2 if faced else 0.0
            found.append(
                FlatPiece(_longer(profile, left, job.numbers), part.quantity * many, "part")
            )
    found += [
        FlatPiece(_template(profile), 1, "template to scribe round")
        for part in attachment.parts
        for profile in flat_profiles(part)
        if len(profile.outline.vertices) > 4
    ]
    if Workshop(job).machine("drill") not in BY_DIALS:
        found.append(FlatPiece(_jig(s), 1, "jig to spot rod bore and feed screw bore by"))
    return tuple(found)


def flat_plan(attachment: Attachment, job: Job, file: str, process: str) -> FlatPlan:
    """The flat pieces nested on the shop's sheets.

    process: "plasma" or "saw". file: what findings call the job file.
    """
    pieces = flat_pieces(attachment, job)
    groups: list[FlatGroup] = []
    findings: list[Finding] = []
    for stock, wanted in _by_stock(pieces, job).items():
        thickness, material = stock
        rows = [(i, row) for i, row in enumerate(job.shop.sheet, 1) if _key(row) == stock]
        sheets = [_sheet(i, row, process, job.series) for i, row in rows]
        gap = job.shop.kerf
        if process == "plasma":
            bridge = job.series.nominal(BRIDGE_MM)
            gap = job.shop.torch.kerf + job.shop.torch.lead_in + bridge
        try:
            made = nest([Piece(one.profile, one.quantity) for one in wanted], sheets, gap, process)
        except NoSheet as short:
            findings.append(_short(thickness, material, short, file, job.numbers))
            continue
        groups.append(FlatGroup(thickness, material, tuple(wanted), made))
    return FlatPlan(pieces, tuple(groups), tuple(findings))


Stock = tuple[float, str]


def _key(row: SheetStock) -> Stock:
    return round(row.thickness, 4), row.material


def _sheet(number: int, row: SheetStock, process: str, series: Series) -> Sheet:
    margin = series.nominal(MARGIN_MM) if process == "plasma" else 0.0
    long, wide = max(row.length, row.width), min(row.length, row.width)
    return Sheet(f"sheet {number}", long, wide, row.quantity, row.cost, margin)


def _by_stock(pieces: tuple[FlatPiece, ...], job: Job) -> dict[Stock, list[FlatPiece]]:
    """The pieces by the stock they are cut from; those for which there is none are left to bar."""
    rows = {_key(row) for row in job.shop.sheet}
    thin = thin_sheet(job)
    found: dict[Stock, list[FlatPiece]] = {}
    for piece in pieces:
        profile = piece.profile
        own = (round(profile.thickness_mm, 4), profile.material)
        if piece.use == "part":
            if own in rows:  # as making.holding.from_sheet has it, for the cut list and the route
                found.setdefault(own, []).append(piece)
        elif thin is not None:
            cut = replace(profile, thickness_mm=thin[0], material=thin[1])
            found.setdefault(thin, []).append(replace(piece, profile=cut))
    return found


def _longer(profile: FlatProfile, by_mm: float, numbers: Numbers) -> FlatProfile:
    """A piece with something left at either end, to be faced off as a sawn one is."""
    xs = [x for x, _, _ in profile.outline.vertices]
    low, high = min(xs), max(xs)

    def moved(x: float) -> float:
        return x - by_mm if x < low + 1e-6 else x + by_mm if x > high - 1e-6 else x

    vertices = tuple((moved(x), y, bulge) for x, y, bulge in profile.outline.vertices)
    left = f", {numbers.size(by_mm)} left at each end to face" if by_mm else ""
    return replace(profile, outline=Outline(vertices), title=f"{profile.title}{left}")


def _template(profile: FlatProfile) -> FlatProfile:
    """The outline of a piece, its holes as centre marks: to scribe round and punch through."""
    marks = [*profile.marks, *(_centre(hole) for hole in profile.holes)]
    return replace(
        profile,
        name=f"{profile.name}-template",
        title=f"{profile.title}: template",
        holes=(),
        marks=tuple(marks),
    )


def _centre(hole: Outline) -> tuple[float, float]:
    xs, ys = zip(*((x, y) for x, y, _ in hole.vertices), strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _jig(s: Sizes) -> FlatProfile:
    """The block's end face: flush with its front and its flat, with the two bores' centres.

    x from the block's back to its front, y from the outside of the leaf to the flat.
    """
    wide, tall = s.block_thickness_mm, s.flat_offset_mm - s.leaf_z_mm
    rod_x = s.block_thickness_mm - s.rod_from_front_mm
    corners = ((0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall))
    return FlatProfile(
        name="block-drilling-jig",
        title="Drilling jig for the block's ends",
        material=s.structure_material,
        thickness_mm=s.series.nominal(3.0),
        outline=Outline(tuple((x, y, 0.0) for x, y in corners)),
        holes=(),
        marks=((rod_x, -s.leaf_z_mm), (rod_x, s.feed_offset_mm - s.leaf_z_mm)),
    )


def _short(thickness: float, material: str, short: NoSheet, file: str, numbers: Numbers) -> Finding:
    name, length, width = short.nearest
    label = f"sheet {numbers.size(thickness)} {material}"
    left = few(f"{count} of {what}" for what, count in short.unplaced)
    limit = f"no room for {left}: {numbers.area(short.missing_mm2)} over"
    size = f"{numbers.plain.at_least(length)} x {numbers.at_least(width)}"
    remedy = f"Add {short.needed} of {size} (nearest: {name})"
    return finding("sheet-shortage", file, "shop.sheet", label, limit, remedy)
