"""What a route is made with: tools, gauges, means of holding, consumables; what of them is there.

Read off the finished route's own tools, measures and holdings. Imported by output.sheets.outfit.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from parts import features as f
from parts.features import Stage
from parts.part import members
from parts.standard.materials import material
from parts.standard.threads import thread
from parts.value import Value
from planner.job.tables import Job
from planner.making.aids import Aid
from planner.making.fillers import filler_of
from planner.making.model import Op
from planner.making.records import SENT
from planner.making.route import NOT_BARE, Operation, Route
from planner.making.ways.screwed import GAUGE_NUT
from planner.making.ways.sunk import FLAT
from planner.making.ways.wheels import BORROWED
from planner.making.workshop import Workshop

Has = Literal["yes", "no", "made first", "look"]
"""Whether it is there; what the job file says nothing of is to be looked for."""

NO_TOOL = ("none", "hand", "welder")
"""Kinds that stand for no tool."""

MADE_GAUGES = ("plug gauge turned to size", "the mating part", GAUGE_NUT)
"""What is made to measure with."""

OWNED_BY = {
    "gauge blocks": ("gauge_blocks", "feeler gauges and bits of stock measured by micrometer"),
    "indicator": (
        "dial_indicator",
        "buy or borrow one: a scriber over thin paper is too coarse for what fits",
    ),
    "height gauge": ("height_gauge", "a scriber on gauge blocks"),
    "depth micrometer": ("depth_micrometer", "a caliper's depth rod over gauge blocks"),
    "inside micrometer": ("inside_micrometer", "telescoping gauges"),
    "telescoping": ("telescoping_gauges", "inside calipers set by a micrometer"),
    "surface plate": ("surface_plate", "a piece of float glass"),
}
"""By a word of a gauge's name: the key of shop.measuring that says whether there is one, and what does
for it (common practice)."""

USED_UP = {
    "ink": "marking blue",
    "scraper": "marking blue",
    "hacksaw": "hacksaw blades, 24 and 32 teeth an inch",
}
"""What a kind of tool uses up (common practice)."""


SAID_TOOLS = {
    "edge finder": "edge finder",
    "on a wobbler": "wobbler",
    "punch": "centre punch and hammer",
    "scribe": "scriber and scribing block, or height gauge",
    "squared block": "squared block or angle plate for the cross slide, with bolts and clamps",
    "clamped to the cross slide": "bolts, clamps and stops for the cross slide",
    "card under them": "faceplate, its bolts and straps, and iron for a counterweight",
    "against an angle plate": "angle plate for the faceplate",
    "on parallels": "parallels in pairs",
    "two parallels": "parallels in pairs",
    "on a packing no longer": "short pieces of flat bar to pack with",
    "V of hardwood": "V sawn in hardwood",
    "V-blocks on the plate": "V-blocks",
    "clamped to the table": "bolts, clamps and packing for the table",
    "cat head": "cat head, for a black bar in the steady",
    "clamped to the milling slide": "bolts, clamps and packing for the milling slide",
    "driven by a carrier": "carrier, and a catch plate or a jaw to drive it",
    "the tap guided square": "tap wrench",
    "slag chipped": "chipping hammer and wire brush",
    "centre in the tap's": "tap wrench",
    "a ground rod": "ground rod: a dowel or a cutter's shank",
    "put together": "hexagon keys and spanners for the screws bought",
}
"""By words of a step, its holding or its place: what it wants besides its tool (common practice)."""

NOT_BARE_IN = "collet, or a holder with a screw on the flat, for end mills in the lathe's spindle"
"""What an end mill is held in where the lathe's own spindle drives it (common practice)."""

HELD_IN = ("machine vice", "bench vice", "saw vice", "V-blocks")
"""What work is held in that no tool's name says."""

DIVIDED_BY = {
    "plate": "pin or pointer on a bracket, for the spindle's dividing circle",
    "wheel": "change gear to go on the spindle, a pin on a bracket for its spaces",
    "wheel, two pins": "change gear to go on the spindle, two pins on brackets for its spaces",
    "dividing head": "dividing head with its plates",
    "rotary table": "rotary table that stands on its edge, a chuck on it",
    "tape": "tape, wooden disc on the spindle and a fixed pointer",
}
"""By what lines are put round, as `planner.making.ways.dividing` records it (common practice)."""

SAID_USED = {
    "thread-locking compound": "thread-locking compound",
    "grease": "grease",
    "anti-seize paste": "anti-seize paste",
    "ink it": "marking ink for the lines",
    "shims": "shim, or the leaves of a feeler gauge",
    "cigarette paper": "cigarette paper",
}
"""By words of a step or of the parts it puts together: what it uses up."""

READ_BY = (
    *("rule", "square", "template", "protractor", "thread gauge", "surface plate", "eye-glass"),
)
"""Words of what is read by eye that is a thing to have: of fillet gauges and squares too."""

OR_GAUGE = " or thread gauge"
"""How the name of what tries a thread ends, behind nut or screw; which, says the thread."""

NUT_FOR_IT = "a nut on the handle's end"
"""Words of a note: what is turned has its place taken by a nut of its thread."""

KINDS = ("tool", "gauge", "consumable", "other")
"""The kinds of things in the order they are listed in."""


class Item(Value, frozen=True):
    """One thing the route wants: its kind, the set-ups that use it, whether it is there, else what
    then."""

    kind: Literal["tool", "gauge", "consumable", "other"]
    name: str
    setups: tuple[int, ...]
    has: Has
    instead: str


def outfit(route: Route, job: Job) -> tuple[Item, ...]:
    """Everything a route wants, by kind and in the order of first use; each thing once."""
    found: dict[tuple[str, str], Item] = {}
    said = (*_tools(route, job), *_for_aids(route, job), *_means(route, job), *_gauges(route, job))
    for one in (*said, *_consumables(route, job), *_said_used(route)):
        key = (one.kind, one.name)
        before = found.get(key)
        if before:
            setups = tuple(dict.fromkeys((*before.setups, *one.setups)))
            worse = before if before.has == "no" else one
            one = Item(one.kind, one.name, setups, worse.has, worse.instead)
        found[key] = one
    names = {name for _, name in found}
    for lack in route.missing:  # machines, means of holding, what no tool's name says
        if lack.what not in names and lack.what.removeprefix("a ") not in names:
            found["other", lack.what] = Item("other", lack.what, (), "no", lack.remedy)
    return tuple(sorted(found.values(), key=lambda item: KINDS.index(item.kind)))


def _here(route: Route) -> Iterator[Operation]:
    """The operations done in this shop."""
    return (op for op in route.operations if op.machine not in SENT)


def _tools(route: Route, job: Job) -> Iterator[Item]:
    made = {aid.name for aid in route.aids}
    for op in _here(route):
        tool = op.op.tool
        if tool.kind in NO_TOOL:
            continue
        has: Has = "yes" if tool.owned else "no"
        own = tool.name.split(",")[0]
        if own in made or f"{tool.kind} for the bar" in made or tool.kind in made:
            has = "made first"
        instead = tool.instead if has == "no" else ""
        if instead.startswith(BORROWED):  # the tool is there, a wheel is not
            yield Item(
                "tool", instead.removeprefix(BORROWED), (op.setup,), "no", "buy or borrow one"
            )
            has, instead = "yes", ""
        yield Item("tool", tool.name, (op.setup,), has, instead)
        if isinstance(op.op.feature, f.Thread) and op.gauge == GAUGE_NUT:  # tapped before
            tap = Workshop(job, None).tap(thread(op.op.feature.thread).designation)
            yield Item("tool", tap.name, (op.setup,), "yes" if tap.owned else "no", tap.instead)


def _for_aids(route: Route, job: Job) -> Iterator[Item]:
    """The drills that the aids are made with."""
    for aid in route.aids:
        if aid.drill_mm:
            tool = Workshop(job, None).drill_to_buy(aid.drill_mm)
            yield Item("tool", tool.name, (aid.setup,), "yes" if tool.owned else "no", tool.instead)


def _words(op: Operation, route: Route) -> str:
    """All that is said of a step, and of how it is held."""
    setup = route.setups[op.setup - 1]
    set_ = (align.what for align in setup.align)
    read = (one.how for one in op.op.measures)
    return " ".join((op.text, op.place, op.note, op.holding, *set_, *read))


def _means(route: Route, job: Job) -> Iterator[Item]:
    """What holds the work or finds its place, and is named by no step's tool."""
    for op in _here(route):
        by = op.op.tool.name
        said = _words(op, route)
        for word, name in SAID_TOOLS.items():
            if word in said and word not in by:
                yield Item("tool", name, (op.setup,), "look", "")
        yield from _stands_in(op, route, job)
        if NOT_BARE in op.caution:
            yield Item("tool", NOT_BARE_IN, (op.setup,), "look", "")
        held = route.setups[op.setup - 1].hold.by
        if held in HELD_IN:
            yield Item("tool", held, (op.setup,), "look", "")
        if op.op.divided:
            yield Item("tool", DIVIDED_BY[str(op.op.divided["by"])], (op.setup,), "look", "")


def _said_used(route: Route) -> Iterator[Item]:
    """What is used up by what a step says, or the notes of the part it is of."""
    for op in _here(route):
        said = _words(op, route)
        for word, name in SAID_USED.items():
            if word in said:
                yield Item("consumable", name, (op.setup,), "look", "")


def _gauges(route: Route, job: Job) -> Iterator[Item]:
    lacking = {one.what.removeprefix("a "): one.remedy for one in route.missing}
    for number, setup in enumerate(route.setups, 1):
        names: list[str] = []
        if setup.machine not in SENT:  # else who does it sets it true, and measures
            names += [align.by for align in setup.align]
            names += [m.gauge.name for op in setup.ops for m in op.measures
                      if m.gauge.kind not in ("eye", "thread")
                      or any(word in m.gauge.name for word in (*READ_BY, GAUGE_NUT))
                      and not m.gauge.name.endswith(OR_GAUGE)]  # fmt: skip
            names += [name for op in setup.ops for name in _tried(op, job)]
        for name in names:
            has: Has = "made first" if name in MADE_GAUGES else "yes"
            has = "look" if name.endswith(OR_GAUGE) else has
            instead = lacking.get(name, "")
            for word, (key, other) in OWNED_BY.items():
                if not instead and word in name and not getattr(job.shop.measuring, key):
                    instead = other
            yield Item("gauge", name, (number,), "no" if instead else has, instead)


def _tried(op: Op, job: Job) -> Iterator[str]:
    """The screw or the nut of its thread that a step's thread is tried with."""
    feature = op.feature
    for one in op.measures:
        if isinstance(feature, f.Thread | f.TappedHole) and one.gauge.name.endswith(OR_GAUGE):
            mate = one.gauge.name.removesuffix(OR_GAUGE)
            yield f"{mate} {job.numbers.thread(thread(feature.thread).designation)}{OR_GAUGE}"


def _stands_in(op: Operation, route: Route, job: Job) -> Iterator[Item]:
    """The nut that stands in for what is turned and has the only thread of its size."""
    if NUT_FOR_IT in op.note:
        part = route.setups[op.setup - 1].on.part
        for one in part.features:
            if isinstance(one, f.TappedHole):
                size = job.numbers.thread(thread(one.thread).designation)
                name = f"nut {size} where the {part.name} goes, till that is turned"
                yield Item("consumable", name, (op.setup,), "look", "")


def bit_for(aid: Aid, job: Job) -> str:
    """What an aid is made of that is bought as it is, not sawn from bar."""
    if aid.name.startswith(FLAT):
        return f"a second drill of {aid.size} for the {aid.name}"
    return f"{aid.material} {job.numbers.stock(aid.section)} for the {aid.name}"


def _consumables(route: Route, job: Job) -> Iterator[Item]:
    made = {aid.name for aid in route.aids}
    shop = Workshop(job, None)
    for op in _here(route):
        setup = route.setups[op.setup - 1]
        words = [op.coolant] if op.coolant and op.coolant != "dry" else []
        words += [USED_UP[op.op.tool.kind]] if op.op.tool.kind in USED_UP else []
        words += [
            grip.packing for grip in setup.hold.grips if grip.packing and grip.packing not in made
        ]
        if op.kind == "weld" and setup.stage is Stage.JOINING:
            groups = {material(m.blank.material).group for m in members(setup.on.part)}
            words.append(f"filler {job.series.words(filler_of(groups, shop))}")
        for name in words:
            yield Item("consumable", name, (op.setup,), "look", "")
    for aid in route.aids:
        if not aid.sawn:
            yield Item("consumable", bit_for(aid, job), (aid.setup,), "look", "")
