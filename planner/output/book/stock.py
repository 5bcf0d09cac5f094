"""Chapters of stock: what to buy, what to saw and how, what is cut from sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.book.model import (
    TICK,
    Block,
    Chapter,
    Heading,
    Picture,
    Rows,
    Words,
    only,
    rows_of,
    ticked,
)
from planner.making.outfit import outfit
from planner.output.book.pages import Pages
from planner.output.book.pictures import picture
from planner.output.sheets.outfit import in_rows, outfit_lines


def shopping(of: Pages) -> Chapter:
    """Bars in the dealer's lengths, bought items, and what is sheet."""
    tables = of.tables("cutlist")
    bars, bought = rows_of(tables["buying"]), rows_of(tables["bought"])
    blocks: list[Block] = [
        ticked(bars, "bought"),
        Words(tables["stock"].notes[0] if tables["stock"].notes else ""),
        ticked(bought, "there"),
    ]
    if of.job.shop.sheet:
        every = rows_of(of.tables("flat", process="saw")["flat_pieces"])
        cut = tuple(row for row in every.rows if row[-1].startswith("sheet"))
        blocks.append(ticked(replace(every, rows=cut, title="From sheet and plate"), "there"))
    return Chapter("Shopping list", (*blocks, *_outfit(of)))


def _outfit(of: Pages) -> Iterator[Block]:
    """What of the tools is to be had first, then all that the route is made with."""
    items = outfit(of.plan.drawn_route, of.job)
    missing = [one for one in items if one.has == "no"]
    known = tuple(one.name for one in missing if one.kind != "other")
    lacking = tuple(
        (one.name, in_rows(one.setups), _how(one.instead), TICK)
        for one in missing
        if one.kind != "other" or not one.name.startswith(known)
    )
    if lacking:
        heads = ("what", "set-ups", "how", "there")
        yield Rows(heads, lacking, "Tools and work to be had from outside")
    yield Heading("To have at hand")
    yield from (Words(line.strip()) for line in outfit_lines(items) if "MISSING" not in line)


def _how(instead: str) -> str:
    return f"{instead[:1].lower()}{instead[1:]}" or "borrow one"


def sawing(of: Pages) -> Chapter:
    """Pieces, bars, cuts with boxes, and the bars as pictures."""
    from planner.output.pictures.sawing import sawing_pages

    tables = of.tables("cutlist")
    pieces = only(
        rows_of(tables["pieces"]),
        ("section", "material", "part", "piece", "no.", "finished", "saw to"),
    )
    pages = sawing_pages(of.plan.cuts, of.job)
    drawn: list[Picture] = [
        picture(svg, f"Sawing sheet, page {number} of {len(pages)}")
        for number, svg in enumerate(pages, 1)
    ]
    return Chapter(
        "Cut list and sawing sheet",
        (
            Words("Goggles; clamp short ends; let the blade stop first.", "caution"),
            pieces,
            rows_of(tables["cuts"]),
            Words("The same bar by bar, drawn, on the pages behind."),
            rows_of(tables["rack_after"]),
            *drawn,
        ),
    )


def sheets(of: Pages) -> Iterator[Chapter]:
    """What is cut from sheet and plate, for the saw and for the torch, where the shop has any."""
    if not of.job.shop.sheet:
        return
    blocks: list[Block] = []
    for process, head in (("saw", "With the saw"), ("plasma", "With the torch")):
        tables = of.tables("flat", process=process)
        blocks.append(Heading(head))
        for name, table in tables.items():
            if name != "flat_pieces" and table.rows:
                blocks.append(rows_of(table))
    yield Chapter(
        "Pieces from sheet",
        (
            Words(
                "One way or the other: by straight cuts from edge to edge, or by the torch. The"
                " outlines lie full size in cutting/ of the package (DXF)."
            ),
            *blocks,
        ),
    )
