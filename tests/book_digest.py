"""What the build book and the page of some jobs are made of, in short: any change is noticed.

    python tests/book_digest.py                      # makes tests/data/books.txt anew, prints changes
    python tests/book_digest.py "engine-lathe page"  # prints the whole of one, to hold two together

That every step, size and limit stands in the book says tests/book, of the page tests/page, by what
others make of the finished files. How wide a column is, where a sketch stands, which words come first
has no truth outside the project. Imported by test_book_digest.py and test_page_digest.py.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from msgspec.structs import asdict

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

from digests import Piece, flat, make_anew
from jobs import EXAMPLES, planned

from planner.book.write import LOOK, _Source
from planner.output.page_data import page_data, pictures
from planner.output.page_files import stands
from planner.output.plan import Plan

TRACKED = Path(__file__).with_name("data") / "books.txt"
PATHS = {path.stem: path for path in EXAMPLES}
DIGESTS = [f"{name} {what}" for name in PATHS for what in ("book", "page")]


@cache
def plan_of(name: str) -> Plan:
    return planned(PATHS[name])


def book(plan: Plan) -> Iterator[Piece]:
    """The source that the book is set from, a piece a page or chapter; pictures by a sum of them."""
    made = plan.book
    source = _Source(made)
    text = "\n".join(source.lines()).replace(LOOK.read_text(encoding="utf-8"), "")
    text = text.replace(made.revision, "REVISION")  # another with every size
    for name, svg in reversed(source.pictures.items()):
        text = text.replace(f'"{name}"', sha256(svg.encode()).hexdigest()[:10])
    for number, page in enumerate(re.split(r"\n(?=#set page)", text)):
        lines = page.split("\n")
        title = next((line for line in lines if line.startswith("#set page(footer")), "before all")
        yield [f"{number} {title}", *lines]


def page(plan: Plan) -> Iterator[Piece]:
    """What the page says: its tables, findings, steps and balls; pictures by a sum of them."""
    data: dict[str, Any] = page_data(plan)
    data["job"].pop("sha256")  # of the job's file
    for key, value in data.items():
        rows = value if isinstance(value, list) else [value]
        for number, row in enumerate(rows):
            yield (
                [f"{key} {number}", *(f"{one}: {flat(row[one])}" for one in row)]
                if isinstance(row, dict)
                else [key, str(row)]
            )
    for picture in pictures(plan):
        yield [
            "picture",
            *(f"{k}: {sha256(v.encode()).hexdigest()[:10]}" for k, v in picture.items()),
        ]
    yield ["balls on the lathe", *(json.dumps(one, default=_figures) for one in stands(plan))]


def _figures(value: Any) -> str:
    return flat(asdict(value))


def made(name: str) -> Iterator[Piece]:
    """The pieces of one of DIGESTS."""
    example, what = name.split()
    return {"book": book, "page": page}[what](plan_of(example))


if __name__ == "__main__":
    make_anew(TRACKED, DIGESTS, made, sys.argv[1:])
