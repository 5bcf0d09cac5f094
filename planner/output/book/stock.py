"""Chapters of stock: what to buy, what to saw and how, what is cut from sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from planner.book.model import (
    TICK,
    Block,
    Chapter,
    Heading,
    Picture,
    Rows,
    Words,
    only,
    page_of,
    rows_of,
    ticked,
)
from planner.making.outfit import Item, bit_for, outfit
from planner.making.ways.screwed import OFFCUT
from planner.output.book.pages import Pages
from planner.output.book.pictures import picture
from planner.output.sheets.outfit import HEADS, in_rows

SIZE = re.compile(
    r"(?<![\w.#])[MØ]?(?=\d)(?:(?P<whole>\d+(?:\.\d+)?)(?![\d/.]))?-?(?P<fraction>\d+/\d+)?"
)
"""A size in a thing's name: 9.8, 5/16, 1-1/2, or a thread's."""

BARS = "Pieces whose grip is 'bar' are"
"""How the cut list calls what is turned off the bar."""

KIND = re.compile(r"#?[MØ]?\d|letter ")
"""Where the name of a thing's kind ends."""


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
        if cut:
            blocks.append(ticked(replace(every, rows=cut, title="From sheet and plate"), "there"))
    return Chapter("Shopping list", (*blocks, *_outfit(of)))


def _outfit(of: Pages) -> Iterator[Block]:
    """What of the tools is to be had first, then all that the route is made with."""
    items = outfit(of.plan.drawn_route, of.job)
    missing = [one for one in items if one.has == "no"]
    known = tuple(one.name for one in missing if one.kind != "other")
    outright = tuple(f"a {name}" for name in known)
    lacking = tuple(
        (one.name, in_rows(one.setups), _how(one.instead), TICK)
        for one in missing
        if one.kind != "other"
        or not (one.name.startswith(known) or any(each.startswith(one.name) for each in outright))
    )
    how = _bits(of)
    bits = {one.name: one for one in items if one.kind == "consumable" and one.name in how}
    lacking += tuple((name, in_rows(one.setups), how[name], TICK) for name, one in bits.items())
    if lacking:
        heads = ("what", "set-ups", "how", "there")
        yield Rows(heads, lacking, "Tools and work to be had from outside")
    yield Heading("To have at hand")
    for kind, head in HEADS.items():
        rows = tuple(
            (
                one.name + (" (made first)" if one.has == "made first" else ""),
                in_rows(one.setups),
                TICK,
            )
            for one in sorted(items, key=_by_kind_and_size)
            if one.kind == kind and one.has != "no" and one.name not in bits
        )
        if rows:
            yield Rows(("what", "set-ups", "there"), rows, head.partition(",")[0])


def _bits(of: Pages) -> dict[str, str]:
    """What aids are made of that is not sawn from bar, as the outfit names it, and how it is had."""
    return {
        bit_for(aid, of.job): "an offcut, or buy it" if aid.made.startswith(OFFCUT) else "buy it"
        for aid in of.plan.drawn_route.aids
        if not aid.sawn
    }


def _by_kind_and_size(one: Item) -> tuple[str, float, str]:
    """Things of a kind together, the small ones first."""
    kind, found = KIND.split(one.name)[0].strip(), SIZE.search(one.name)
    if found is None:
        return kind, 0.0, one.name
    whole, fraction = found["whole"] or "0", found["fraction"] or "0"
    return kind, float(Fraction(whole) + Fraction(fraction)), one.name


def _how(instead: str) -> str:
    return f"{instead[:1].lower()}{instead[1:]}" or "borrow one"


def sawing(of: Pages) -> Chapter:
    """Pieces, bars, cuts with boxes, and the bars as pictures."""
    from planner.output.pictures.sawing import sawing_pages

    tables = of.tables("cutlist")
    every = rows_of(tables["pieces"])
    pieces = only(
        every,
        ("section", "material", "part", "piece", "no.", "finished", "saw to"),
    )
    flat = page_of("Pieces from sheet")
    pages = sawing_pages(of.plan.cuts, of.job)
    drawn: list[Picture] = [
        replace(picture(svg, f"Sawing sheet, page {number} of {len(pages)}"), ordered=True)
        for number, svg in enumerate(pages, 1)
    ]
    return Chapter(
        "Cut list and sawing sheet",
        (
            Words("Goggles; clamp short ends; let the blade stop first.", "caution"),
            replace(pieces, notes=tuple(_noted(one, every, flat) for one in pieces.notes)),
            rows_of(tables["cuts"]),
            Words("The same bar by bar, drawn, on the pages behind."),
            rows_of(tables["rack_after"]),
            *drawn,
        ),
    )


def _noted(words: str, pieces: Rows, flat: str) -> str:
    """A note of the cut list as the book has it, where no column says the grip: the pieces by name."""
    rows = (dict(zip(pieces.heads, cells, strict=True)) for cells in pieces.rows)
    names = [one["piece"] for one in rows if one.get("grip") == "bar"]
    if names:
        said = f"{', '.join(names)} {'is' if len(names) == 1 else 'are'}"
        words = words.replace(BARS, said[:1].upper() + said[1:])
    return words.replace("pommel flat", flat)


def sheets(of: Pages) -> Iterator[Chapter]:
    """What is cut from sheet and plate, for the saw and for the torch, where a sheet serves for it."""
    blocks: list[Block] = []
    for process, head in (("saw", "With the saw"), ("plasma", "With the torch")):
        tables = of.tables("flat", process=process)
        laid = [one for name, one in tables.items() if name != "flat_pieces" and one.rows]
        if laid:
            blocks += [Heading(head), *map(rows_of, laid)]
    if not blocks:
        return
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
