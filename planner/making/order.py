"""What must come before what: among the features of one piece, and across parts."""

from __future__ import annotations

from collections.abc import Sequence

from parts import features as f
from parts.attachment import Attachment
from parts.features import Feature, Stage
from parts.part import Part
from planner.making.holding import is_axial
from planner.making.sequence import Nodes

_STAGES = list(Stage)


def within(nodes: Nodes, features: Sequence[Feature], made: Sequence[Sequence[int]]) -> None:
    """Order among the features of one piece or weldment; made: the nodes of each."""
    for later, group in zip(features, made, strict=True):
        for earlier, others in zip(features, made, strict=True):
            if earlier is not later and comes_after(later, earlier):
                nodes.wait(group[0], others[-1])


def across(nodes: Nodes, attachment: Attachment) -> None:
    """Order across parts: a hole before its shaft, a part before what is made with it, slits last."""
    for fit in attachment.fits:
        hole = nodes.toward(fit.hole_part, fit.hole)[-1]
        nodes.wait(nodes.toward(fit.shaft_part, fit.shaft)[-1], hole)
    for part in attachment.parts:
        for feature in part.features:
            if not feature.made_with:
                continue
            others = (
                [other.name for other in attachment.parts if other.name != part.name]
                if feature.made_with == "attachment"
                else [feature.made_with]
            )
            for name in others:
                nodes.wait(nodes.toward(part.name, feature.name)[0], *nodes.of_part(name))
    for part in attachment.parts:
        _measured_from(nodes, part)
    slits = [index for index, node in enumerate(nodes.all) if node.step.kind == "slit"]
    for slit in slits:
        same = nodes.of_part(nodes[slit].on.part.name)
        nodes.wait(slit, *(index for index in same if index not in slits))


def _measured_from(nodes: Nodes, part: Part) -> None:
    """A feature of the whole waits for the features that it is measured from.

    What is measured from something made at a later stage cannot wait for it: a test finds it.
    """
    made = {feature.name: feature for feature in part.features}
    for feature in part.features:
        for location in feature.locations:
            carrier = made.get(part.datums[location.datum].of)
            if carrier and _STAGES.index(carrier.stage) <= _STAGES.index(feature.stage):
                first = nodes.toward(part.name, feature.name)[0]
                nodes.wait(first, nodes.toward(part.name, carrier.name)[-1])


def comes_after(later: Feature, earlier: Feature) -> bool:
    """Whether ``later`` must wait for ``earlier`` on the same piece: stage, then kind of feature."""
    if later.stage is not earlier.stage:
        return _STAGES.index(later.stage) > _STAGES.index(earlier.stage)
    turned = isinstance(earlier, f.Turned) and not isinstance(later, f.Turned)
    if turned and later.stage is Stage.WELDED and later.datum == earlier.datum:
        return True  # the axis it is measured from must be there first
    if isinstance(later, f.Thread | f.Knurl | f.EngravedScale | f.IndexMark) and isinstance(
        earlier, f.TurnedDiameter
    ):
        return earlier.start_mm <= later.start_mm and later.end_mm <= earlier.end_mm
    if isinstance(later, f.EngravedScale):
        return is_axial(earlier)
    if isinstance(later, f.FacedShoulder) and isinstance(earlier, f.Bore):
        return True
    return isinstance(later, f.TappedHole) and isinstance(earlier, f.MilledSlot)
