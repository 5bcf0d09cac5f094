"""The route as tables, as findings, and as a shop reads it: by part and set-up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextvars import ContextVar
from textwrap import wrap
from typing import Any

from parts.attachment import Attachment
from parts.part import Datum, Joined, Part, members
from planner.job.tables import Job
from planner.making.marks import Mark
from planner.making.model import SetUp
from planner.making.outfit import Item, outfit
from planner.making.pieced import own_axes
from planner.making.records import SENT
from planner.making.route import Operation, Route
from planner.making.ways.sunk import FLAT
from planner.making.welding import weld_sheet
from planner.making.workshop import Workshop
from planner.output.sheets.outfit import FITTED, outfit_lines, outfit_table, size_said
from planner.stock.aidpieces import aid_pieces
from planner.words.elsewhere import american
from planner.words.numbers import Numbers, counted
from planner.words.tables import Table, columns

WIDE = 100
"""Letters a line of the sheet has at most, on paper."""

_wide: ContextVar[int] = ContextVar("wide", default=WIDE)
"""And where it is printed now."""

NO_MARKS: Mapping[int, Mark] = {}

SIGNS: Mapping[Mark | None, str] = {"done": "[x] ", "again": "[!] "}
"""What stands before a step that is done, or to be done again."""


def route_tables(route: Route, job: Job, marks: Mapping[int, Mark] = NO_MARKS) -> list[Table]:
    """The route: an operation a row; the aids; what is assumed and what is missing."""
    heads = columns(
        ("number", "op"),
        ("setup", "set-up"),
        ("part", "part"),
        ("piece", "piece"),
        ("stage", "stage"),
        ("kind", "kind"),
        ("machine", "machine"),
        ("holding", "held"),
        ("datum", "datum"),
        ("text", "do"),
        ("place", "place"),
        ("tool", "tool"),
        ("speed_rpm", job.numbers.spindle_speed_unit),
        ("feed_mm", "feed, mm"),
        ("cuts", "cuts"),
        ("depth_mm", "depth, mm"),
        ("coolant", "coolant"),
        ("minutes", "minutes"),
        ("measure", "must measure"),
        ("gauge", "with"),
        ("note", "note"),
        ("caution", "caution"),
        ("makes", "makes"),
        ("prepares", "prepares"),
        ("after", "after"),
        ("done", "done"),
    )
    rows = tuple((*_row(op, job.numbers), marks.get(op.number, "")) for op in route.operations)
    pieces = {piece.piece: piece for piece in aid_pieces(route.aids, job)}
    numbers = job.numbers
    made = tuple(
        (
            aid.setup,
            aid.name,
            aid.size,
            aid.material,
            numbers.stock(aid.section),
            aid.quantity,
            sawn.sawn_mm(numbers) if (sawn := pieces.get(aid.piece)) else None,
            aid.made,
        )
        for aid in route.aids
    )
    return [
        Table("route", f"Operation sequence for {job.name}", heads, rows),
        Table(
            "aids",
            "Aids to make first",
            columns(
                *(("setup", "before set-up"), ("name", "aid"), ("size", "size")),
                *(("material", "material"), ("stock", "stock"), ("quantity", "no.")),
                *(("saw_mm", f"saw to, {job.numbers.unit}"), ("made", "made")),
            ),
            made,
            tuple(_aid_said(row, numbers) for row in made),
            heads=("before set-up", "aid", "size", "material", "stock", "no.", "saw to", "made"),
        ),
        outfit_table(outfit(route, job)),
        Table(
            "assumed",
            "Taken for granted in this shop",
            columns(("key", "key"), ("what", "what")),
            tuple(route.assumed),
        ),
        Table(
            "order",
            "Why set-ups wait for others",
            columns(("setup", "set-up"), ("after", "after"), ("reason", "reason")),
            tuple(route.order),
        ),
        Table(
            "fewest",
            "Set-ups and changes of machine, against the fewest of any order",
            columns(("what", "what"), ("found", "here"), ("least", "at least"), ("gap", "gap")),
            tuple(
                (what, found, least, found - least)
                for what, found, least in (
                    (
                        "set-ups, each piece held once in each way",
                        len(route.setups),
                        route.least_setups,
                    ),
                    ("changes of machine", route.changes, route.least_changes),
                )
            ),
        ),
        Table(
            "missing",
            "What the shop has not",
            columns(("part", "for"), ("what", "what"), ("remedy", "way out")),
            tuple((one.part, one.what, one.remedy) for one in route.missing),
        ),
    ]


def _aid_said(row: tuple[Any, ...], numbers: Numbers) -> tuple[str, ...]:
    setup, name, size, material, stock, many, saw, how = row
    return (
        *map(str, (setup, name, size_said(size, name, stock, how), material, stock, many)),
        "" if saw is None else numbers.rule(saw),
        how,
    )


def _row(op: Operation, numbers: Numbers) -> tuple[object, ...]:
    feed = op.feed_mm
    if feed and op.op.cut.get("shape") != "thread":  # whose feed is its lead
        feed = round(numbers.fed_mm(feed), 6)
    return (
        op.number,
        op.setup,
        op.part,
        op.piece,
        op.stage,
        op.kind,
        op.machine,
        op.holding,
        op.datum,
        op.text,
        op.place,
        op.tool,
        op.speed_rpm,
        feed,
        op.cuts,
        round(op.depth_mm, 3),
        op.coolant,
        op.minutes,
        op.measure,
        op.gauge,
        op.note,
        op.caution,
        "; ".join(op.makes),
        "; ".join(op.prepares),
        " ".join(map(str, op.after)),
    )


def route_text(
    route: Route, attachment: Attachment, job: Job, explain: bool,
    marks: Mapping[int, Mark] = NO_MARKS, made: Sequence[str] = (), wide: int = WIDE,
    wants: Sequence[Item] | None = None,
) -> str:  # fmt: skip
    """The route as a shop reads it: by set-up, one operation after the other.

    explain: also why each set-up waits for others. marks: of steps done, by number; made: lines on what
    was made already. wide: letters a line has at most. wants: its outfit, where that is worked out.
    """
    _wide.set(wide)
    lines = [f"Operation sequence for {job.name}", ""]
    lines += _wrapped(
        "Cautions: eye protection; long hair, sleeves and gloves away from anything that turns; chuck"
        " key"
        " out before starting; sweep the head by hand, unpowered, before the first cut. Welding,"
        " electrical"
        " work and lifting by people trained for it, to local rules."
    )
    lines += _wrapped(
        f"Places ({job.numbers.unit}): how far, which way and from which datum, limits by"
        f" {', '.join(job.numbers.general_rule())}"
        " where none stand. The axes are named under the part; on a piece before welding x runs along"
        " it"
        " from its first end, y across its width, z through its thickness. ____ is for what was"
        " measured."
    )
    lines += (line for words in american(job.inch) for line in _wrapped(words))
    lines += _preface(route, job, outfit(route, job) if wants is None else wants)
    if made:
        lines += ["", *(w for line in made for w in _wrapped(line, "    "))]
    parts = {part.name: part for part in attachment.parts}
    part, setup = "", 0
    headed: set[str] = set()
    pieces: set[tuple[str, str]] = set()
    for op in route.operations:
        if op.part not in parts and op.part != part:
            part = op.part
            lines += ["", "ASSEMBLY", "=" * 8]
        elif op.part != part:
            part = op.part
            lines += _head(parts[part], part in headed)
            headed.add(part)
        if op.setup != setup:
            setup = op.setup
            lines += _setup_head(route, job.numbers, op, parts.get(op.part), pieces)
        lines += _operation(op, job, SIGNS.get(marks.get(op.number), ""))
    shop = Workshop(job)
    for one in attachment.parts:
        if isinstance(one.blank, Joined):
            lines += ["", *(w for line in weld_sheet(one, shop) for w in _wrapped(line, "    "))]
    if explain:
        lines += ["", "ORDER, common practice", "=" * 22]
        lines += _reasons(route)
    return "\n".join(lines) + "\n"


def _reasons(route: Route) -> Iterator[str]:
    """Why set-ups wait for others, those in a row together."""
    waited: dict[tuple[int, str], list[int]] = {}
    for number, other, reason in route.order:
        waited.setdefault((number, reason), []).append(other)
    for (number, reason), others in waited.items():
        runs: list[list[int]] = []
        for one in sorted(others):
            if runs and one == runs[-1][1] + 1:
                runs[-1][1] = one
            else:
                runs.append([one, one])
        said = ", ".join(f"{a}" if a == b else f"{a} to {b}" for a, b in runs)
        yield from _wrapped(f"  set-up {number} after {said}: {reason}", "    ")


def _preface(route: Route, job: Job, wants: Sequence[Item]) -> Iterator[str]:
    """Totals, what is assumed and missing, and the aids."""
    total = sum(op.minutes for op in route.operations) + sum(one.minutes for one in route.setups)
    once = sum(one.minutes for one in route.setups)
    steps = (
        f"{counted(len(route.setups), 'set-up')}, {counted(route.changes, 'change')} of machine"
        f"{_proof(route)}, {counted(len(route.operations), 'step')},"
        f" about {job.numbers.minutes(60 * total)}"
    )
    quantity = job.attachment.quantity
    yield from _wrapped(
        f"{steps} for one"
        + (
            f"; {quantity} of each: every set-up is done for all of them, its stops set once, in all"
            f" about {job.numbers.minutes(60 * (once + quantity * (total - once)))}"
            if quantity > 1
            else ""
        )
        + "."
    )
    if quantity > 1:
        yield from _wrapped(FITTED)
    if route.assumed:
        said = "; ".join(f"{what} ({key})" for key, what in route.assumed)
        yield from _wrapped(f"Taken for granted in this shop: {said}.")
    for one in route.missing:
        where = f"{one.part}: " if one.part else ""
        yield from _wrapped(f"NOT IN THE SHOP: {where}{one.what}. {one.remedy}.")
    if route.aids:
        yield from ("", "AIDS TO MAKE FIRST", "=" * 18)
    pieces = {piece.piece: piece for piece in aid_pieces(route.aids, job)}
    for aid in route.aids:
        bar = f"of {aid.material} {job.numbers.stock(aid.section)}"
        if aid.piece in pieces:
            stop = pieces[aid.piece].sawn_mm(job.numbers)
            bar += f", sawn to {job.numbers.rule(stop)} with the cut list"
        many = f"{aid.quantity} of " if aid.quantity > 1 else ""
        stock = job.numbers.stock(aid.section)
        size = size_said(aid.size, aid.name, stock, aid.made)
        parts = (aid.name, *([size] if size else []), bar)
        what = aid.name if aid.name.startswith(FLAT) else ", ".join(parts)
        yield from _wrapped(f"  before set-up {aid.setup}: {many}{what}: {aid.made}", "    ")
    yield from ("", "TOOLS, GAUGES, CONSUMABLES", "=" * 26)
    for line in outfit_lines(wants):
        yield from _wrapped(line, "    ")


def _proof(route: Route) -> str:
    """How near the changes of machine are to the fewest."""
    gap = route.changes - route.least_changes
    if not gap:
        return " (no order has fewer)"
    return f" (any order has at least {route.least_changes}: {gap} more than that)"


def _setup_head(
    route: Route, numbers: Numbers, op: Operation, part: Part | None, pieces: set[tuple[str, str]]
) -> Iterator[str]:
    one = route.setups[op.setup - 1]
    name = "" if op.piece == op.part else f"{op.piece}, "
    others = (
        f"; with the {', the '.join(n.replace('-', ' ') for n in one.with_parts)}"
        if _few(one)
        else ""
    )
    yield ""
    took = one.minutes + sum(o.minutes for o in route.operations if o.setup == op.setup)
    about = numbers.minutes(60 * took)
    yield from _wrapped(f"Set-up {op.setup}: {name}{op.stage}; {op.machine}; about {about}", "    ")
    yield from _wrapped(f"  held: {op.holding}{others}", "    ")
    for align in one.align:
        within = numbers.within(align.within_mm)
        yield from _wrapped(f"  set: {align.what}, by {align.by}, within {within}", "    ")
    if one.caution:
        yield from _wrapped(f"  CAUTION: {one.caution}", "    ")
    if part and name and (op.part, op.piece) not in pieces:
        for line in _piece_datums(part, op.piece):
            yield from _wrapped(f"  {line}", "    ")
    pieces.add((op.part, op.piece))


def _few(one: SetUp) -> bool:
    return 0 < len(one.with_parts) < 3


def _head(part: Part, again: bool) -> list[str]:
    """What is said of a part before its operations; its name alone where it is come back to."""
    name = ["", part.title.upper(), "=" * len(part.title)]
    if again:
        return name
    return [
        *name,
        *_wrapped(f"Datums: {_datums(part.datums)}"),
        *_wrapped(f"Axes: {part.axes}"),
        *(line for note in part.notes for line in _wrapped(f"Note: {note}")),
    ]


def _piece_datums(part: Part, piece: str) -> list[str]:
    """The datums and axes of a piece that is still to be welded."""
    own = [m for m in members(part) if m.name == piece]
    datums = [f"Datums: {_datums(m.datums)}" for m in own if m.datums]
    joined = own if isinstance(part.blank, Joined) else []
    return [*datums, *(f"Axes: {own_axes(m, part)}" for m in joined)]


def _datums(datums: Mapping[str, Datum]) -> str:
    return "; ".join(f"{letter} = {datum}" for letter, datum in datums.items())


def _operation(op: Operation, job: Job, sign: str) -> Iterator[str]:
    """The lines of one operation."""
    numbers = job.numbers
    how = [op.tool] if op.tool != "none" else []
    if op.speed_rpm is not None:
        how.append(numbers.spindle_speed(op.speed_rpm))
        how += numbers.set_feed(op.feed_mm, op.op.cut.get("shape"))
    how += numbers.cuts(op.cuts, op.depth_mm)
    if op.coolant and op.coolant != "dry":
        how.append(op.coolant)
    tool = f" [{', '.join(how)}]" if how else ""
    yield from _wrapped(f"  {op.number:>3}. {sign}{op.text}{tool}", "       ")
    if not op.op.tool.owned and op.machine not in SENT:
        yield from _wrapped(
            f"       not in the shop: {op.op.tool.instead or 'borrow one'}", "         "
        )
    if op.place:
        yield from _wrapped(f"       place: {op.place}", "         ")
    for one in op.measures:
        value = " ____" if one.low_mm is not None else ""
        how_said = f" ({one.how})" if one.how else ""
        said = f"       measure {one.what} with {one.gauge.name}{how_said}{value}"
        yield from _wrapped(said, "         ")
    if op.note:
        yield from _wrapped(f"       {op.note}", "         ")
    if op.caution:
        yield from _wrapped(f"       CAUTION: {op.caution}", "         ")


def _wrapped(text: str, indent: str = "") -> list[str]:
    """A line broken at the sheet's width, the rest set in."""
    if 0 < len(text) <= _wide.get() and not text[-1].isspace():
        return [text]
    return wrap(text, _wide.get(), subsequent_indent=indent, break_long_words=False,
                break_on_hyphens=False, replace_whitespace=False)  # fmt: skip
