"""The operation sequence, as a table and as a shop reads it."""

from __future__ import annotations

from parts.attachment import Attachment
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
    titles = {part.name: part for part in attachment.parts}
    lines = [
        f"Operation sequence for {job.name}",
        "",
        "Cautions: eye protection; long hair, sleeves and gloves away from anything that turns;"
        " chuck key out before starting; sweep the head by hand, unpowered, before the first cut."
        " Welding, electrical work and lifting by people trained for it, to local rules.",
        "Positions of holes: in the axes named under the part; on a piece before welding, x along it"
        " from its datum end, y across from its middle.",
    ]
    part = ""
    setup = 0
    for op in operations:
        if op.part != part:
            part = op.part
            lines += ["", titles[part].title.upper(), "=" * len(titles[part].title)]
            letters = [f"{letter} = {meaning}" for letter, meaning in titles[part].datums.items()]
            lines += [f"Datums: {'; '.join(letters)}", f"Axes: {titles[part].axes}"]
            lines += [f"Note: {note}" for note in titles[part].notes]
        if op.setup != setup:
            setup = op.setup
            name = "" if op.piece == op.part else f"{op.piece}, "
            lines += ["", f"Set-up {setup}: {name}{op.stage}; {op.machine}; {op.holding}"]
        rpm = "" if op.speed_rpm is None else f" at {job.numbers.spindle_speed(op.speed_rpm)}"
        tool = f" [{op.tool}{rpm}]" if op.tool else ""
        lines.append(f"  {op.number:>3}. {op.text}{tool}")
        if op.measure:
            lines.append(f"       measure {op.measure}" + (f" with {op.gauge}" if op.gauge else ""))
        if op.note:
            lines.append(f"       {op.note}")
        if op.caution:
            lines.append(f"       CAUTION: {op.caution}")
    return "\n".join(lines) + "\n"
