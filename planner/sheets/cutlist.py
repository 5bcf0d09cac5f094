"""The cut list: pieces, bars, stock and bought items."""

from __future__ import annotations

from math import ceil

from parts.attachment import Attachment
from planner.cutlist import CutList, Piece
from planner.job import Job
from planner.sheets.show import Show
from planner.tables import Table, columns


def bought_table(attachment: Attachment, job: Job) -> Table:
    """What to buy besides stock."""
    show = Show(job.inch)
    rows, shown = [], []
    for item in attachment.bought:
        name = f"{item.kind} {item.thread}"
        length = show.length(item.length_mm) if item.length_mm else ""
        rows.append(
            (item.quantity, item.kind, item.thread, item.length_mm or None, item.standard, item.use)
        )
        size = f"{name} x {length}" if length else name
        shown.append((str(item.quantity), size, "", "", item.standard, item.use))
    heads = columns(
        ("quantity", "no."),
        ("kind", "item"),
        ("thread", ""),
        ("length_mm", ""),
        ("standard", "standard"),
        ("use", "for"),
    )
    return Table("bought", "Bought items", heads, tuple(rows), tuple(shown))


def cutlist_tables(cuts: CutList, attachment: Attachment, job: Job) -> list[Table]:
    """Pieces by section, bars in sawing order, totals, bought items."""
    show = Show(job.inch)
    money = job.shop.currency
    piece_rows, piece_shown = [], []
    bar_rows, bar_shown = [], []
    sum_rows, sum_shown = [], []
    number = 0
    for group in cuts.groups:
        label = group.section.label(job.inch)
        for p in group.pieces:
            sawn = sawn_mm(p, job.inch)
            piece_rows.append(
                (
                    group.section.label(),
                    p.material,
                    p.part,
                    p.piece,
                    p.quantity,
                    round(p.finished_mm, 3),
                    p.facing_mm,
                    p.grip_mm,
                    sawn,
                )
            )
            piece_shown.append(
                (
                    label,
                    p.material,
                    p.part,
                    p.piece,
                    str(p.quantity),
                    show.length(p.finished_mm),
                    show.length(p.facing_mm),
                    show.length(p.grip_mm),
                    show.length(sawn),
                )
            )
        for bar in group.bars:
            number += 1
            lengths = [sawn_mm(p, job.inch) for p in bar.pieces]
            price = None if bar.origin == "not listed" else bar.price
            bar_rows.append(
                (
                    number,
                    group.section.label(),
                    group.material,
                    bar.origin,
                    round(bar.length_mm, 3),
                    " ".join(f"{mm:g}" for mm in lengths),
                    round(bar.drop_mm, 3),
                    price,
                )
            )
            cuts_shown = ", ".join(
                f"{show.length(mm)} {p.piece}" for mm, p in zip(lengths, bar.pieces, strict=True)
            )
            bar_shown.append(
                (
                    str(number),
                    label,
                    group.material,
                    bar.origin,
                    show.length(bar.length_mm),
                    cuts_shown,
                    show.length(bar.drop_mm),
                    "?" if price is None else f"{price:.2f}",
                )
            )
        drawn_kg = group.drawn_mm * group.mass_kg_m / 1000
        sum_rows.append(
            (
                group.section.label(),
                group.material,
                len(group.bars),
                round(group.drawn_mm, 3),
                round(group.drop_mm, 3),
                round(group.sawn_kg, 3),
                round(drawn_kg, 3),
                round(group.cost, 2),
                group.proven,
            )
        )
        sum_shown.append(
            (
                label,
                group.material,
                str(len(group.bars)),
                show.length(group.drawn_mm),
                show.length(group.drop_mm),
                f"{group.sawn_kg:.2f}",
                f"{drawn_kg:.2f}",
                f"{group.cost:.2f}",
                "yes" if group.proven else "no",
            )
        )
    total = sum(group.cost for group in cuts.groups)
    sawn_kg = sum(group.sawn_kg for group in cuts.groups)
    unit = show.unit
    return [
        Table(
            "pieces",
            f"Pieces to saw ({unit})",
            columns(
                ("section", "section"),
                ("material", "material"),
                ("part", "part"),
                ("piece", "piece"),
                ("quantity", "no."),
                ("finished_mm", "finished"),
                ("facing_mm", "facing"),
                ("grip_mm", "grip"),
                ("saw_mm", "saw to"),
            ),
            tuple(piece_rows),
            tuple(piece_shown),
        ),
        Table(
            "bars",
            f"Bars, in sawing order ({unit}; kerf {show.length(cuts.kerf_mm)})",
            columns(
                ("bar", "bar"),
                ("section", "section"),
                ("material", "material"),
                ("origin", "from"),
                ("length_mm", "length"),
                ("saw_mm", "saw off"),
                ("drop_mm", "drop"),
                ("price", money),
            ),
            tuple(bar_rows),
            tuple(bar_shown),
        ),
        Table(
            "stock",
            f"Stock ({unit}, kg, {money})",
            columns(
                ("section", "section"),
                ("material", "material"),
                ("bars", "bars"),
                ("drawn_mm", "drawn"),
                ("drop_mm", "drop"),
                ("sawn_kg", "sawn kg"),
                ("drawn_kg", "drawn kg"),
                ("price", money),
                ("proven", "least, proven"),
            ),
            tuple(sum_rows),
            tuple(sum_shown),
            notes=(f"Sawn pieces {sawn_kg:.2f} kg. Bars to pay: {total:.2f} {money}.",),
        ),
        bought_table(attachment, job),
    ]


def sawn_mm(piece: Piece, inch: bool) -> float:
    """The length the saw stop is set to: rounded up to 0.1 mm, or to 1/64 in."""
    unit = 25.4 / 64 if inch else 0.1
    return round(ceil(round(piece.cut_mm / unit, 4)) * unit, 6)
