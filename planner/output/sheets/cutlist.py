"""The cut list: pieces, bars, the sawing sheet, what to buy, the rack afterwards, bought items."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Any

from parts.attachment import Attachment
from parts.part import members
from planner.job.tables import BuyBar, Job
from planner.making.holding import from_sheet
from planner.output.sheets.show import Show
from planner.stock.bars import BUY, ORDER, CutList, Group, bars_for_sale
from planner.stock.pieces import Piece
from planner.words.tables import Table, columns


def cutlist_tables(cuts: CutList, attachment: Attachment, job: Job) -> list[Table]:
    """Pieces by section, bars and cuts in sawing order, totals, what to buy, rack, bought items."""
    show = Show(job.inch)
    return [
        _pieces(cuts, attachment, job, show),
        _bars(cuts, job, show),
        _cuts(cuts, job, show),
        _stock(cuts, job, show),
        _buying(cuts, job, show),
        _rack(cuts, show),
        _bought(attachment, job, show),
    ]


def proofs(cuts: CutList) -> list[dict[str, Any]]:
    """For each section what the bar cutter was given and gave, so that its proof can be re-checked."""
    return [
        {
            "section": group.section.label(),
            "material": group.material,
            "unit_mm": group.cutting.unit_mm,
            "kerf": group.cutting.kerf,
            "demands": [[d.length, d.quantity, d.name] for d in group.cutting.demands],
            "bars": [[b.length, b.available, b.cost, b.name] for b in group.cutting.bars],
            "plan": group.cutting.plan.to_dict(),
        }
        for group in cuts.groups
    ]


def _pieces(cuts: CutList, attachment: Attachment, job: Job, show: Show) -> Table:
    pieces = [p for group in cuts.groups for p in group.pieces]
    shared = sorted({p.shared_grip_mm for p in pieces if p.from_bar})
    notes = [
        "Pieces whose grip is 'bar' are turned off the bar through the spindle and parted off: one grip"
        f" of {' or '.join(show.length(mm) for mm in shared)} is kept on each bar."
    ]
    return Table(
        "pieces",
        f"Pieces to saw ({show.unit})",
        columns(
            ("section", "section"),
            ("material", "material"),
            ("taken_from", "taken from"),
            ("part", "part"),
            ("piece", "piece"),
            ("quantity", "no."),
            ("finished_mm", "finished"),
            ("facing_mm", "facing"),
            ("grip_mm", "grip"),
            ("saw_mm", "saw to"),
            ("swarf_kg", "swarf kg"),
        ),
        tuple(
            (
                p.section.label(),
                p.material,
                p.taken_from.label(),
                p.part,
                p.piece,
                p.quantity,
                round(p.finished_mm, 3),
                p.facing_mm,
                p.grip_mm,
                sawn_mm(p, show.inch),
                round(p.swarf_kg, 3),
            )
            for p in pieces
        ),
        tuple(
            (
                p.section.label(show.inch),
                p.material,
                p.taken_from.label(show.inch) if p.stock else "",
                p.part,
                p.piece,
                str(p.quantity),
                show.length(p.finished_mm),
                show.length(p.facing_mm),
                "bar" if p.from_bar else show.length(p.grip_mm),
                show.length(sawn_mm(p, show.inch)),
                f"{p.swarf_kg:.2f}" if p.stock else "",
            )
            for p in pieces
        ),
        notes=(*(notes if shared else ()), *_from_sheet(attachment, job)),
    )


def _from_sheet(attachment: Attachment, job: Job) -> list[str]:
    """A note on the pieces that are not sawn from bar."""
    names = [
        f"{part.name}/{member.name}"
        for part in attachment.parts
        for member in members(part)
        if from_sheet(member.blank, job)
    ]
    return [f"Cut from sheet, see pommel flat: {', '.join(names)}."] if names else []


def _bars(cuts: CutList, job: Job, show: Show) -> Table:
    rows, shown = [], []
    for number, (group, bar) in enumerate(_every_bar(cuts), 1):
        lengths = [sawn_mm(p, show.inch) for p in bar.pieces]
        price = None if bar.origin == ORDER else bar.price
        rows.append(
            (
                number,
                bar.count,
                group.section.label(),
                group.material,
                bar.origin,
                round(bar.length_mm, 3),
                " ".join(f"{mm:g}" for mm in lengths),
                round(bar.drop_mm, 3),
                price,
            )
        )
        shown.append(
            (
                str(number),
                f"{bar.count} x" if bar.count > 1 else "",
                group.section.label(show.inch),
                group.material,
                bar.origin,
                show.length(bar.length_mm),
                _run(bar.pieces, lengths, show),
                show.length(bar.drop_mm),
                "?" if price is None else f"{price:.2f}",
            )
        )
    kerfs = sorted({group.kerf_mm for group in cuts.groups})
    return Table(
        "bars",
        f"Bars, in sawing order ({show.unit}; kerf {' or '.join(show.length(mm) for mm in kerfs)})",
        columns(
            ("bar", "bar"),
            ("count", ""),
            ("section", "section"),
            ("material", "material"),
            ("origin", "from"),
            ("length_mm", "length"),
            ("saw_mm", "saw off"),
            ("drop_mm", "drop"),
            ("price", job.shop.currency),
        ),
        tuple(rows),
        tuple(shown),
    )


def _every_bar(cuts: CutList) -> Iterator[tuple[Group, Any]]:
    for group in cuts.groups:
        for bar in group.bars:
            yield group, bar


def _run(pieces: tuple[Piece, ...], lengths: list[float], show: Show) -> str:
    """The pieces of a bar in order, those alike together: "3 x 40 shaft, 26 plug"."""
    runs: list[tuple[int, float, str]] = []
    for piece, mm in zip(pieces, lengths, strict=True):
        if runs and runs[-1][1:] == (mm, piece.piece):
            runs[-1] = (runs[-1][0] + 1, mm, piece.piece)
        else:
            runs.append((1, mm, piece.piece))
    return ", ".join(
        f"{f'{count} x ' if count > 1 else ''}{show.length(mm)} {name}" for count, mm, name in runs
    )


def _cuts(cuts: CutList, job: Job, show: Show) -> Table:
    """Cut by cut: where the stop stands, what comes off, what is left."""
    rows, shown = [], []
    before: float | None = None
    for number, (group, bar) in enumerate(_every_bar(cuts), 1):
        left = bar.length_mm
        for cut, piece in enumerate(bar.pieces, 1):
            stop = sawn_mm(piece, show.inch)
            left = max(0.0, left - stop - group.kerf_mm)
            name = f"{piece.part}/{piece.piece}"
            rows.append((number, cut, round(stop, 3), stop != before, name, round(left, 3)))
            first = cut == 1
            shown.append(
                (
                    f"{number}" + (f" ({bar.count} bars)" if bar.count > 1 else "")
                    if first
                    else "",
                    f"{group.section.label(show.inch)} {group.material}" if first else "",
                    show.length(stop) if stop != before else "same",
                    name,
                    show.length(left),
                    "[ ]",
                )
            )
            before = stop
    settings = sum(row[3] for row in rows)
    return Table(
        "cuts",
        f"Sawing sheet ({show.unit}): {settings} settings of the stop",
        columns(
            ("bar", "bar"),
            ("cut", "cut"),
            ("stop_mm", "stop at"),
            ("set_anew", "set anew"),
            ("piece", "piece"),
            ("left_mm", "left on the bar"),
        ),
        tuple(rows),
        tuple(shown),
        heads=("bar", "section", "stop at", "piece", "left on the bar", "done"),
        notes=("Goggles; clamp short ends; let the blade stop before the piece is taken away.",),
    )


def _stock(cuts: CutList, job: Job, show: Show) -> Table:
    money = job.shop.currency
    rows = [
        (
            group.section,
            group.material,
            group.number,
            group.drawn_mm,
            group.drop_mm,
            group.sawn_kg,
            group.drawn_mm * group.mass_kg_m / 1000,
            group.cost,
            group.proven,
        )
        for group in cuts.groups
    ]
    total = sum(group.cost for group in cuts.groups)
    sawn_kg = sum(group.sawn_kg for group in cuts.groups)
    unpriced = any(bar.origin == ORDER for _, bar in _every_bar(cuts))
    more = " and what is to be ordered, whose price is not known" if unpriced else ""
    return Table(
        "stock",
        f"Stock ({show.unit}, kg, {money})",
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
        tuple(
            (
                section.label(),
                name,
                bars,
                round(drawn, 3),
                round(drop, 3),
                round(sawn, 3),
                round(kg, 3),
                round(cost, 2),
                proven,
            )
            for section, name, bars, drawn, drop, sawn, kg, cost, proven in rows
        ),
        tuple(
            (
                section.label(show.inch),
                name,
                str(bars),
                show.length(drawn),
                show.length(drop),
                f"{sawn:.2f}",
                f"{kg:.2f}",
                f"{cost:.2f}",
                "yes" if proven else "no",
            )
            for section, name, bars, drawn, drop, sawn, kg, cost, proven in rows
        ),
        notes=(f"Sawn pieces {sawn_kg:.2f} kg. Bars to pay: {total:.2f} {money}{more}.",),
    )


def _buying(cuts: CutList, job: Job, show: Show) -> Table:
    """The bars to buy or order, by section."""
    rows, shown = [], []
    for group in cuts.groups:
        wanted: dict[tuple[str, float, float], int] = {}
        for bar in group.bars:
            if bar.origin in (BUY, ORDER):
                key = (bar.origin, round(bar.length_mm, 3), bar.price)
                wanted[key] = wanted.get(key, 0) + bar.count
        for (origin, length, price), number in wanted.items():
            listed = origin == BUY
            whole = next(
                (b for b in bars_for_sale(job, group.section, group.material) if _is(b, length)),
                None,
            )
            cutting = whole.cutting_charge if whole else 0.0
            rows.append(
                (
                    group.section.label(),
                    group.material,
                    length,
                    number,
                    price if listed else None,
                    cutting if listed else None,
                    round(price * number, 2) if listed else None,
                )
            )
            shown.append(
                (
                    group.section.label(show.inch),
                    group.material,
                    show.length(length),
                    str(number),
                    f"{price:.2f}" if listed else "?",
                    f"{cutting:.2f}" if listed and cutting else "",
                    f"{price * number:.2f}" if listed else "?",
                )
            )
    money = job.shop.currency
    return Table(
        "buying",
        f"Bars to buy ({show.unit}, {money})",
        columns(
            ("section", "section"),
            ("material", "material"),
            ("length_mm", "length"),
            ("number", "no."),
            ("price", "each"),
            ("cutting_charge", "of it, cutting"),
            ("total", "together"),
        ),
        tuple(rows),
        tuple(shown),
    )


def _is(bar: BuyBar, length_mm: float) -> bool:
    return 0 <= bar.length - length_mm < 0.5


def _rack(cuts: CutList, show: Show) -> Table:
    rack = cuts.rack_after
    return Table(
        "rack_after",
        f"On the rack afterwards ({show.unit})",
        columns(
            ("section", "section"),
            ("material", "material"),
            ("length_mm", "length"),
            ("quantity", "no."),
        ),
        tuple((r.section.label(), r.material, round(r.length_mm, 3), r.quantity) for r in rack),
        tuple(
            (r.section.label(show.inch), r.material, show.length(r.length_mm), str(r.quantity))
            for r in rack
        ),
        notes=("To keep it: pommel cutlist JOB --write AFTER.toml, a copy with this rack.",),
    )


def _bought(attachment: Attachment, job: Job, show: Show) -> Table:
    """What to buy besides stock."""
    rows, shown = [], []
    for item in attachment.bought:
        name = f"{item.kind} {item.thread}"
        length = show.length(item.length_mm) if item.length_mm else ""
        number = item.quantity * job.attachment.quantity
        rows.append(
            (number, item.kind, item.thread, item.length_mm or None, item.standard, item.use)
        )
        size = f"{name} x {length}" if length else name
        shown.append((str(number), size, item.standard, item.use))
    heads = columns(
        ("quantity", "no."),
        ("kind", "item"),
        ("thread", "thread"),
        ("length_mm", "length"),
        ("standard", "standard"),
        ("use", "for"),
    )
    texts = ("no.", "item", "standard", "for")
    return Table("bought", "Bought items", heads, tuple(rows), tuple(shown), heads=texts)


def sawn_mm(piece: Piece, inch: bool) -> float:
    """The length the saw stop is set to: rounded up to 0.1 mm, or to 1/64 in."""
    unit = 25.4 / 64 if inch else 0.1
    return round(ceil(round(piece.cut_mm / unit, 4)) * unit, 6)
