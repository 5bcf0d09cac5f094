"""The cut list at the saw: pieces, bars, the sawing sheet; what to buy is in output.sheets.buying."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from parts.attachment import Attachment
from parts.part import members
from parts.standard.materials import material
from planner.job.tables import Job
from planner.making.holding import from_sheet
from planner.output.sheets.buying import buying_tables
from planner.stock.bars import ORDER, CutList, Group
from planner.stock.cutlist import CUT_BY_WHEEL, KERF_PART
from planner.stock.pieces import Piece
from planner.words.numbers import Numbers, counted
from planner.words.tables import Table, columns


def cutlist_tables(cuts: CutList, attachment: Attachment, job: Job) -> list[Table]:
    """Pieces by section, bars and cuts in sawing order, totals, what to buy, rack, bought items."""
    numbers = job.numbers.plain
    return [
        _pieces(cuts, attachment, job, numbers),
        _bars(cuts, job, numbers),
        _cuts(cuts, job, numbers),
        *buying_tables(cuts, attachment, job),
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


def _pieces(cuts: CutList, attachment: Attachment, job: Job, numbers: Numbers) -> Table:
    pieces = [p for group in cuts.groups for p in group.pieces]
    shared = {
        (group.section, one.shared_grip_mm): group
        for group in cuts.groups
        for one in group.pieces
        if one.shared_grip_mm
    }
    grips = sorted({numbers.rule_up(mm) for _, mm in shared})
    kept = f"of {grips[0]} is kept on each bar" if len(grips) == 1 else "is kept on each bar"
    if len(grips) > 1:
        on = (f"{numbers.rule_up(mm)} on {job.numbers.stock(section)}" for section, mm in shared)
        kept += f", {', '.join(on)}"
    notes = [
        "Pieces whose grip is 'bar' are turned off the bar through the spindle and parted off: one grip"
        f" {kept}."
    ]
    apart = [p.piece for p in pieces if p.from_bar and not p.shared_grip_mm]
    lengths = numbers.alike(*(p.finished_mm for p in pieces))
    return Table(
        "pieces",
        f"Pieces to saw ({numbers.unit})",
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
            ("swarf_kg", f"swarf {numbers.mass_unit}"),
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
                p.sawn_mm(numbers),
                round(p.swarf_kg, 3),
            )
            for p in pieces
        ),
        tuple(
            (
                numbers.stock(p.section),
                p.material,
                numbers.stock(p.taken_from) if p.stock else "",
                p.part,
                p.piece,
                str(p.quantity),
                finished,
                numbers.size(p.facing_mm),
                "bar" if p.shared_grip_mm else numbers.rule_up(p.grip_mm),
                numbers.rule(p.sawn_mm(numbers)),
                numbers.mass(p.swarf_kg) if p.stock else "",
            )
            for p, finished in zip(pieces, lengths, strict=True)
        ),
        notes=(*(notes if shared else ()), *_with_own_grip(apart), *_from_sheet(attachment, job)),
    )


def _with_own_grip(names: list[str]) -> list[str]:
    """A note on the pieces that are turned off a bar that others are sawn from."""
    note = "Not sawn, but turned off the bar after what is sawn of it, each with its own grip:"
    return [f"{note} {', '.join(dict.fromkeys(names))}."] if names else []


def _from_sheet(attachment: Attachment, job: Job) -> list[str]:
    """A note on the pieces that are not sawn from bar."""
    names = [
        f"{part.name}/{member.name}"
        for part in attachment.parts
        for member in members(part)
        if from_sheet(member.blank, job)
    ]
    return [f"Cut from sheet (pommel flat): {', '.join(names)}."] if names else []


def _bars(cuts: CutList, job: Job, numbers: Numbers) -> Table:
    rows, shown = [], []
    for number, (group, bar) in enumerate(_every_bar(cuts), 1):
        lengths = [p.sawn_mm(numbers) for p in bar.pieces]
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
                numbers.stock(group.section),
                group.material,
                bar.origin,
                numbers.size(bar.length_mm),
                _run(bar.pieces, lengths, numbers),
                numbers.rule_down(bar.drop_mm),
                "?" if price is None else f"{price:.2f}",
            )
        )
    sawn, *parted = sorted({group.kerf_mm for group in cuts.groups} or {job.shop.kerf})
    over = sawn - job.shop.kerf
    up = KERF_PART < over / numbers.bar_grain_mm < 1.0
    wide = f", {numbers.caliper(job.shop.kerf)} rounded up" if up else ""
    kerf = "; ".join(
        (
            f"kerf {numbers.size(sawn)}{wide}",
            *(f"{numbers.size(mm)} where all of a bar is parted off" for mm in parted),
        )
    )
    return Table(
        "bars",
        f"Bars, in sawing order ({numbers.unit}; {kerf})",
        columns(
            ("bar", "bar"),
            ("count", ""),
            ("section", "section"),
            ("material", "material"),
            ("origin", "from"),
            ("length_mm", "length"),
            ("saw_mm", "pieces, in order"),
            ("drop_mm", "drop"),
            ("price", job.shop.price_head),
        ),
        tuple(rows),
        tuple(shown),
    )


def _every_bar(cuts: CutList) -> Iterator[tuple[Group, Any]]:
    for group in cuts.groups:
        for bar in group.bars:
            yield group, bar


def _run(pieces: tuple[Piece, ...], lengths: list[float], numbers: Numbers) -> str:
    """The pieces of a bar in order, those alike together: "3 x 40 shaft, 26 plug"."""
    runs: list[tuple[int, float, str]] = []
    for piece, mm in zip(pieces, lengths, strict=True):
        if runs and runs[-1][1:] == (mm, piece.piece):
            runs[-1] = (runs[-1][0] + 1, mm, piece.piece)
        else:
            runs.append((1, mm, piece.piece))
    return ", ".join(
        f"{f'{count} x ' if count > 1 else ''}{numbers.rule(mm)} {name}" for count, mm, name in runs
    )


def _cuts(cuts: CutList, job: Job, numbers: Numbers) -> Table:
    """Cut by cut: where the stop stands, what comes off, what is left; nothing of what is turned off
    the bar."""
    rows, shown = [], []
    turned: list[str] = []
    hard: list[str] = []
    before: float | None = None
    for number, (group, bar) in enumerate(_every_bar(cuts), 1):
        left = bar.length_mm
        if material(group.material).group == CUT_BY_WHEEL:
            hard += [f"{one.piece} (bar {number})" for one in bar.pieces]
        turned += [f"{one.piece} (bar {number})" for one in bar.pieces if one.from_bar]
        for cut, piece in enumerate((one for one in bar.pieces if not one.from_bar), 1):
            stop = piece.sawn_mm(numbers)
            left = max(0.0, left - stop - group.kerf_mm)
            name = f"{piece.part}/{piece.piece}"
            rows.append((number, cut, round(stop, 3), stop != before, name, round(left, 3)))
            first = cut == 1
            shown.append(
                (
                    f"{number}" + (f" ({bar.count} bars)" if bar.count > 1 else "")
                    if first
                    else "",
                    f"{numbers.stock(group.section)} {group.material}" if first else "",
                    numbers.rule(stop) if stop != before else "same",
                    name,
                    numbers.rule_down(left),
                    "[ ]",
                )
            )
            before = stop
    settings = sum(row[3] for row in rows)
    return Table(
        "cuts",
        f"Sawing sheet ({numbers.unit}): {counted(settings, 'setting')} of the stop",
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
        notes=(
            "Goggles; clamp short ends; let the blade stop before the piece is taken away.",
            *_off_the_bar(turned),
            *_by_the_wheel(hard),
        ),
    )


def _by_the_wheel(hard: list[str]) -> list[str]:
    """A note on what is too hard for a saw."""
    names = ", ".join(dict.fromkeys(hard))
    return (
        [f"No saw cuts it, an abrasive wheel does, or it is bought to length: {names}."]
        if hard
        else []
    )


def _off_the_bar(turned: list[str]) -> list[str]:
    """A note on the pieces that are not sawn: what is left of their bar goes through the spindle."""
    names = ", ".join(dict.fromkeys(turned))
    note = (
        "Not sawn, but turned off what is left of the bar, through the spindle, and parted off:"
        f" {names}."
    )
    return [note] if turned else []
