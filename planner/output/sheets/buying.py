"""What to buy for the cut list: stock drawn and paid, bars to buy, the rack afterwards, bought items.

For who orders; what is sawn at the saw is in output.sheets.cutlist.
"""

from __future__ import annotations

from parts.attachment import Attachment
from planner.job.tables import BuyBar, Job
from planner.stock.bars import BUY, ORDER, CutList, bars_for_sale
from planner.words.bought import bought_name
from planner.words.numbers import Numbers
from planner.words.tables import Table, columns


def buying_tables(cuts: CutList, attachment: Attachment, job: Job) -> list[Table]:
    """Totals by section, bars to buy, the rack afterwards, bought items."""
    numbers = job.numbers.plain
    return [
        _stock(cuts, job, numbers),
        _buying(cuts, job, numbers),
        _rack(cuts, numbers),
        _bought(attachment, job, numbers),
    ]


def _stock(cuts: CutList, job: Job, numbers: Numbers) -> Table:
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
            any(bar.origin == ORDER for bar in group.bars),
        )
        for group in cuts.groups
    ]
    total = sum(group.cost for group in cuts.groups)
    sawn_kg = [group.sawn_kg for group in cuts.groups]
    bars = [bar for group in cuts.groups for bar in group.bars]
    unpriced = any(bar.origin == ORDER for bar in bars)
    pay = f"{total:.2f} {money}".rstrip() + (
        " and what is to be ordered, whose price is not known" if unpriced else ""
    )
    if unpriced and not total:
        pay = "what is to be ordered, whose price is not known"
    return Table(
        "stock",
        f"Stock ({', '.join(filter(None, (numbers.unit, numbers.mass_unit, money)))})",
        columns(
            ("section", "section"),
            ("material", "material"),
            ("bars", "bars"),
            ("drawn_mm", "drawn"),
            ("drop_mm", "drop"),
            ("sawn_kg", f"sawn {numbers.mass_unit}"),
            ("drawn_kg", f"drawn {numbers.mass_unit}"),
            ("price", job.shop.price_head),
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
                None if ordered else round(cost, 2),
                proven,
            )
            for section, name, bars, drawn, drop, sawn, kg, cost, proven, ordered in rows
        ),
        tuple(
            (
                numbers.stock(section),
                name,
                str(bars),
                numbers.size(drawn),
                numbers.rule_down(drop),
                numbers.mass(sawn),
                numbers.mass(kg),
                "?" if ordered and not cost else f"{cost:.2f} and ?" if ordered else f"{cost:.2f}",
                "yes" if proven else "no",
            )
            for section, name, bars, drawn, drop, sawn, kg, cost, proven, ordered in rows
        ),
        notes=(f"Sawn pieces {job.numbers.mass_together(sawn_kg)}. Bars to pay: {pay}.",),
    )


def _buying(cuts: CutList, job: Job, numbers: Numbers) -> Table:
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
                    numbers.stock(group.section),
                    group.material,
                    numbers.bought_length(whole.length if listed and whole else length),
                    str(number),
                    f"{price:.2f}" if listed else "?",
                    f"{cutting:.2f}" if listed and cutting else "",
                    f"{price * number:.2f}" if listed else "?",
                )
            )
    money = job.shop.currency
    return Table(
        "buying",
        f"Bars to buy ({', '.join(filter(None, (numbers.unit, money)))})",
        columns(
            ("section", "section"),
            ("material", "material"),
            ("length_mm", "length"),
            ("number", "bars"),
            ("price", "each"),
            ("cutting_charge", "of it, cutting"),
            ("total", "together"),
        ),
        tuple(rows),
        tuple(shown),
    )


def _is(bar: BuyBar, length_mm: float) -> bool:
    """Whether a bar for sale is the one of a cut list, which has its length rounded down."""
    return -1e-3 < bar.length - length_mm < 0.5


def _rack(cuts: CutList, numbers: Numbers) -> Table:
    rack = cuts.rack_after
    return Table(
        "rack_after",
        f"On the rack afterwards ({numbers.unit})",
        columns(
            ("section", "section"),
            ("material", "material"),
            ("length_mm", "length"),
            ("quantity", "bars"),
        ),
        tuple((r.section.label(), r.material, round(r.length_mm, 3), r.quantity) for r in rack),
        tuple(
            (numbers.stock(r.section), r.material, numbers.rule_down(r.length_mm), str(r.quantity))
            for r in rack
        ),
        notes=("To keep it: pommel cutlist JOB --write AFTER.toml, a copy with this rack.",),
    )


def _bought(attachment: Attachment, job: Job, numbers: Numbers) -> Table:
    """What to buy besides stock."""
    rows, shown = [], []
    for item in attachment.bought:
        number = item.quantity * job.attachment.quantity
        rows.append(
            (
                *(number, item.kind, item.thread, item.length_mm or None),
                *(item.ring and round(item.ring.outside_mm, 3), item.ring and item.ring.inside_mm),
                *(item.ring and item.ring.thickness_mm, item.standard, item.use),
            )
        )
        shown.append((str(number), bought_name(item, numbers), item.standard, item.use))
    heads = columns(
        ("quantity", "no."),
        ("kind", "item"),
        ("thread", "thread"),
        ("length_mm", "length"),
        ("outside_mm", "outside"),
        ("inside_mm", "hole"),
        ("thickness_mm", "thickness"),
        ("standard", "standard"),
        ("use", "for"),
    )
    texts = ("no.", "item", "standard", "for")
    return Table("bought", "Bought items", heads, tuple(rows), tuple(shown), heads=texts)
