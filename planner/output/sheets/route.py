"""The operation sequence, as a table and as a shop reads it."""

from __future__ import annotations

from collections.abc import Mapping

from parts.attachment import Attachment
from parts.part import Datum, Part, members
from planner.job.tables import Job
from planner.making.route import Operation
from planner.words.tables import Table, columns


def route_tables(operations: tuple[Operation, ...], job: Job) -> list[Table]:
    """The operation sequence, an operation a row."""
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
        ("measure", "must measure"),
        ("gauge", "with"),
        ("note", "note"),
        ("caution", "caution"),
        ("makes", "makes"),
        ("prepares", "prepares"),
        ("after", "after"),
    )
    rows = tuple(
        (
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
            op.measure,
            op.gauge,
            op.note,
            op.caution,
            "; ".join(op.makes),
            "; ".join(op.prepares),
            " ".join(map(str, op.after)),
        )
        for op in operations
    )
    return [Table("route", f"Operation sequence for {job.name}", heads, rows)]


def route_text(operations: tuple[Operation, ...], attachment: Attachment, job: Job) -> str:
    """The operation sequence as a shop reads it: by set-up, one operation a line."""
    parts = {part.name: part for part in attachment.parts}
    lines = [
        f"Operation sequence for {job.name}",
        "",
        "Cautions: eye protection; long hair, sleeves and gloves away from anything that turns;"
        " chuck key out before starting; sweep the head by hand, unpowered, before the first cut."
        " Welding, electrical work and lifting by people trained for it, to local rules.",
        f"Places, in {job.numbers.unit}: how far, which way and from which datum, limits by ISO 2768-m"
        " where none stand. The axes are named under the part; on a piece before welding x runs along"
        " it from its first end, y across its width, z through its thickness.",
    ]
    part, setup = "", 0
    pieces: set[tuple[str, str]] = set()
    for op in operations:
        if op.part != part:
            part = op.part
            lines += _head(parts[part])
        if op.setup != setup:
            setup = op.setup
            name = "" if op.piece == op.part else f"{op.piece}, "
            lines += ["", f"Set-up {setup}: {name}{op.stage}; {op.machine}; {op.holding}"]
            if name and (op.part, op.piece) not in pieces:
                lines += _piece_datums(parts[part], op.piece)
            pieces.add((op.part, op.piece))
        lines += _operation(op, job)
    return "\n".join(lines) + "\n"


def _head(part: Part) -> list[str]:
    """What is said of a part before its operations."""
    return [
        "",
        part.title.upper(),
        "=" * len(part.title),
        f"Datums: {_datums(part.datums)}",
        f"Axes: {part.axes}",
        *(f"Note: {note}" for note in part.notes),
    ]


def _piece_datums(part: Part, piece: str) -> list[str]:
    """The datums of a piece that is still to be welded."""
    return [f"Datums: {_datums(m.datums)}" for m in members(part) if m.name == piece and m.datums]


def _datums(datums: Mapping[str, Datum]) -> str:
    return "; ".join(f"{letter} = {datum}" for letter, datum in datums.items())


def _operation(op: Operation, job: Job) -> list[str]:
    """The lines of one operation."""
    rpm = "" if op.speed_rpm is None else f" at {job.numbers.spindle_speed(op.speed_rpm)}"
    tool = f" [{op.tool}{rpm}]" if op.tool else ""
    lines = [f"  {op.number:>3}. {op.text}{tool}"]
    if op.place:
        laid_out = f" by {op.gauge}" if op.gauge and not op.measure else ""
        lines.append(f"       place{laid_out}: {op.place}")
    if op.measure:
        lines.append(f"       measure {op.measure}" + (f" with {op.gauge}" if op.gauge else ""))
    if op.note:
        lines.append(f"       {op.note}")
    if op.caution:
        lines.append(f"       CAUTION: {op.caution}")
    return lines
