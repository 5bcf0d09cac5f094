"""The tables that the commands print and the build writes: sizes, cut list, route, dial.

Takes what the planning modules return and makes planner.tables of it; works nothing out. Lengths in
rows are millimetres (keys end in _mm); shown rows use the job's unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Any

from parts.attachment import Attachment
from parts.standard.index_plates import plate_sets
from parts.standard.sections import Section
from planner.cutlist import CutList, Piece
from planner.dial import (
    Dial,
    design_dial,
    engraving_table,
    exact_mm,
    legibility,
    reading_in_other_unit,
)
from planner.envelope import lowest, stick_out_mm, swinging_edges
from planner.indexing import Setting, by_degrees, direct_indexing, index_on_plates
from planner.job import Job
from planner.route import Operation
from planner.sizing import Sizing
from planner.tables import Table, columns
from planner.units import show_length, trimmed, unit_name


WORDS = {"mm": "millimetres", "in": "inches"}


@dataclass(frozen=True)
class Show:
    """Says values in the job's unit."""

    inch: bool

    @property
    def unit(self) -> str:
        """The unit's name."""
        return unit_name(self.inch)

    def length(self, mm: float, decimals: int | None = None) -> str:
        """A length without its unit."""
        return show_length(mm, self.inch, decimals)

    def value(self, value: Any) -> str:
        """A size: a length, a section, a count or a name."""
        if isinstance(value, Section):
            return value.label(self.inch)
        if isinstance(value, float):
            return f"{self.length(value)} {self.unit}"
        return str(value)


def _plain(value: Any) -> Any:
    if isinstance(value, Section):
        return value.label()
    return round(value, 4) if isinstance(value, float) else value


def sizes_tables(sizing: Sizing, attachment: Attachment, job: Job, explain: bool) -> list[Table]:
    """Every size; with ``explain`` its rule and source too. Then what the swing reaches."""
    show = Show(job.inch)
    heads = [("size", "size"), ("value", "value"), ("origin", "from")]
    if explain:
        heads += [("rule", "rule"), ("source", "source")]
    rows, shown = [], []
    for step in sizing.steps:
        extra = (step.text, step.source) if explain else ()
        rows.append((step.name, _plain(step.value), step.origin, *extra))
        value = "" if step.value is None else show.value(step.value)
        shown.append((step.name, value, step.origin, *extra))
    main = Table(
        "sizes",
        f"Sizes for {job.name} (lengths in rows are mm)" if explain else f"Sizes for {job.name}",
        columns(*heads),
        tuple(rows),
        tuple(shown),
    )
    return [main, _reach_table(sizing, attachment, job, show)]


def _reach_table(sizing: Sizing, attachment: Attachment, job: Job, show: Show) -> Table:
    s = sizing.sizes
    edges = swinging_edges(attachment)
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    down = lowest(edges, radii, (0.0, 180.0))
    out = stick_out_mm(attachment, s, job.lathe.chuck_diameter / 2)
    entries = [
        (
            "needed over the cross slide",
            down.distance_mm + s.clearance_mm,
            f"{down.name} at swing {down.swing_deg:.0f} deg, clearance included",
        ),
        ("had over the cross slide", s.spindle_over_cross_slide_mm, "job file"),
        (
            "ball's centre from the jaws",
            out.distance_mm,
            f"{out.name} at swing {out.swing_deg:.0f} deg, largest ball, clearance included",
        ),
    ]
    return Table(
        "reach",
        "What the swing needs",
        columns(("what", "what"), ("length_mm", show.unit), ("where", "where")),
        tuple((what, round(mm, 2), where) for what, mm, where in entries),
        tuple((what, show.length(mm, 2 if show.inch else 1), where) for what, mm, where in entries),
    )


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


def route_tables(operations: tuple[Operation, ...], attachment: Attachment, job: Job) -> list[Table]:
    """The operation sequence, one table a part in the order the parts are begun."""
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
        ("speed_rpm", "rev/min"),
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
        rpm = "" if op.speed_rpm is None else f" at {op.speed_rpm:g} rev/min"
        tool = f" [{op.tool}{rpm}]" if op.tool else ""
        lines.append(f"  {op.number:>3}. {op.text}{tool}")
        if op.measure:
            lines.append(f"       measure {op.measure}" + (f" with {op.gauge}" if op.gauge else ""))
        if op.note:
            lines.append(f"       {op.note}")
        if op.caution:
            lines.append(f"       CAUTION: {op.caution}")
    return "\n".join(lines) + "\n"


def job_dial(sizing: Sizing) -> Dial:
    """The dial of a job, as the engraving table and the solid have it."""
    s = sizing.sizes
    return design_dial(
        s.dial_divisions, s.screw_pitch_mm, s.dial_diameter_mm, rim_width_mm=s.dial_rim_mm
    )


def dial_tables(sizing: Sizing, job: Job) -> list[Table]:
    """The engraving table, the dial's figures, and how to index it."""
    dial = job_dial(sizing)
    show = Show(job.inch)
    lines = engraving_table(dial)
    rows, shown = [], []
    for line in lines:
        dms = f"{line.degrees}° {line.minutes:02d}' {line.seconds:02d}\""
        rows.append(
            (
                line.number,
                round(line.angle_deg, 6),
                dms,
                line.length_class,
                round(line.length_mm, 3),
                line.numeral,
                round(float(line.advance_mm), 6),
                round(float(line.diameter_change_mm), 6),
                round(line.arc_mm, 3),
            )
        )
        shown.append(
            (
                str(line.number),
                f"{line.angle_deg:.3f}",
                dms,
                line.length_class,
                show.length(line.length_mm, 3 if job.inch else 1),
                line.numeral,
                show.length(float(line.advance_mm), 4 if job.inch else 3),
                show.length(float(line.diameter_change_mm), 4 if job.inch else 3),
                show.length(line.arc_mm, 3 if job.inch else 2),
            )
        )
    engraving = Table(
        "dial",
        f"Dial-engraving table for {job.name} ({show.unit})",
        columns(
            ("line", "line"),
            ("angle_deg", "degrees"),
            ("angle_dms", "deg min sec"),
            ("length_class", "class"),
            ("line_mm", "long"),
            ("numeral", "numeral"),
            ("advance_mm", "tip moves"),
            ("diameter_change_mm", "ball changes"),
            ("arc_mm", "along rim"),
        ),
        tuple(rows),
        tuple(shown),
    )
    return [_dial_figures(dial, show), engraving, *_indexing_tables(dial, job)]


def _dial_figures(dial: Dial, show: Show) -> Table:
    legible = legibility(dial)
    other = reading_in_other_unit(exact_mm(dial.pitch_mm), dial.divisions)
    entries: list[tuple[str, str]] = [
        ("divisions", str(dial.divisions)),
        ("rim diameter", show.value(dial.diameter_mm)),
        ("one turn", show.value(float(dial.pitch_mm))),
        (
            "one division, tip",
            f"{trimmed(float(dial.advance_mm), 5)} mm = {trimmed(float(dial.advance_in), 6)} in",
        ),
        (
            "one division, ball's diameter",
            f"{trimmed(float(dial.diameter_change_mm), 5)} mm"
            f" = {trimmed(float(dial.diameter_change_mm) / 25.4, 6)} in",
        ),
        ("lines apart on the rim", f"{trimmed(legible.arc_spacing_mm, 2)} mm"),
        ("legible at arm's length", "yes" if legible.ok else "no"),
    ]
    entries += [("to mend", text) for text in legible.findings]
    read = float(other.read_as) * (25.4 if other.other_unit == "in" else 1.0)
    residual = trimmed(float(other.residual_per_turn_mm), 6)
    entries.append(
        (
            f"read in {WORDS[other.other_unit]}",
            f"{trimmed(read if other.other_unit == 'mm' else read / 25.4, 6)} {other.other_unit}"
            f" a division is "
            + ("exact" if other.exact else f"out by {residual} mm a turn, exactly"),
        )
    )
    if other.exact_divisions and not other.exact:
        counts = ", ".join(map(str, other.exact_divisions[:6]))
        entries.append((f"exact in {WORDS[other.other_unit]} with", f"{counts} divisions"))
    return Table(
        "dial-figures",
        "The dial",
        columns(("what", "what"), ("value", "value")),
        tuple(entries),
    )


def _indexing_tables(dial: Dial, job: Job) -> list[Table]:
    rows = []
    for plates in plate_sets().values():
        for found in index_on_plates(dial.divisions, plates):
            index = found.indexing
            rows.append(
                (
                    found.set_name,
                    found.plate,
                    index.ratio,
                    *_setting(index.setting),
                    index.exact,
                    round(index.error_arcsec, 3),
                    round(index.closing_error_arcsec, 2),
                )
            )
    rows.sort(key=lambda row: (not row[7], row[2]))
    exact_ratios = {row[2] for row in rows if row[7]}
    kept = [row for row in rows if row[7] or row[2] not in exact_ratios]
    plain = Table(
        "indexing",
        "Plain indexing (worm head and plates)",
        columns(
            ("plates", "plates"),
            ("plate", "plate"),
            ("ratio", "head"),
            ("turns", "turns"),
            ("holes", "+ holes"),
            ("circle", "on circle"),
            ("sector_holes", "sector"),
            ("exact", "exact"),
            ("error_arcsec", "error a line, arc sec"),
            ("closing_error_arcsec", "at the last line"),
        ),
        tuple(kept),
        tuple(
            (r[0], r[1], f"{r[2]}:1", *(str(v) for v in r[3:7]), "yes" if r[7] else "NEAREST",
             f"{r[8]:g}", f"{r[9]:g}")
            for r in kept
        ),  # fmt: skip
        notes=("Sector: holes between the arms, both ends counted.",),
    )
    direct = direct_indexing(dial.divisions)
    table = by_degrees(dial.divisions)
    step = table.step
    own = job.shop.dividing_head_ratio
    figures = [
        (
            "direct plate, 24 holes",
            f"every {direct.step_holes} holes" if direct.step_holes else "does not go",
        ),
        (
            "direct plates that do",
            ", ".join(map(str, direct.circles_that_do)) or "none of 24, 30, 36, 60",
        ),
        (
            "rotary table, one division",
            f"{step.degrees}° {step.minutes:02d}' {step.seconds:02d}\""
            + ("" if step.residue_arcsec == 0 else f" and {float(step.residue_arcsec):+.4g} sec"),
        ),
        ("the shop's head", f"{own}:1" if own else "none listed"),
    ]
    return [
        plain,
        Table(
            "indexing-other",
            "Other ways",
            columns(("way", "way"), ("value", "setting")),
            tuple(figures),
            notes=("On a rotary table go by the degrees column, line by line: no error adds up.",),
        ),
    ]


def _setting(setting: Setting) -> tuple[int, int, int, int]:
    return setting.turns, setting.holes, setting.circle, setting.sector_holes
