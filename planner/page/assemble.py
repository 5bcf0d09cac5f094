"""One HTML file of the page's plain files and a job's data: no request, the same bytes each time."""

from __future__ import annotations

import json
import zlib
from base64 import b64encode
from functools import cache
from html import escape
from pathlib import Path
from typing import Any, NamedTuple

FOLDER = Path(__file__).parent

SCRIPTS = (
    *(
        "inflate.js",
        "numbers.js",
        "fit.js",
        "faults.js",
        "advice.js",
        "readings.js",
        "record.js",
        "pose.js",
    ),
    *("viewer.js", "dom.js", "steps.js", "view.js", "sheets.js", "ball.js", "app.js"),
)
"""In the order in which they are read: the sums first, which run without a page too."""


ELSEWHERE = ("watch", "sizes")
"""Words that the page's scripts do not read: the frame's round it, and what its data are made with."""


class Blocks(NamedTuple):
    """What a page is made of: plain data for JSON. scene, sheets: None where there is none.
    sketches: of how the work is held, SVG by the set-up's number.

    All but data, which is little, stands packed in the page.
    """

    data: dict[str, Any]
    pictures: list[dict[str, str]]
    scene: dict[str, Any] | None
    sheets: dict[str, Any] | None
    sketches: dict[str, str] | None = None


def page(blocks: Blocks, font: Path, family: str) -> str:
    """The text of page.html. font: TrueType, of the drawings' letters; family: what they call it."""
    words = strings()
    own = {name: group for name, group in words.items() if name not in ELSEWHERE}
    style = (
        f"@font-face{{font-family:'{family}';src:url(data:font/ttf;base64,"
        f"{b64encode(font.read_bytes()).decode('ascii')})}}\n{_read('page.css')}"
    )
    made = "\n".join(
        f'<script type="application/json" id="{name}">{_embedded(value)}</script>'
        for name, value in (("words", own), ("data", blocks.data))
    )
    for name, more in blocks._asdict().items():
        if name != "data" and more is not None:
            made += f'\n<script type="text/plain" data-packed id="{name}">{_packed(more)}</script>'
    _, _, text = _read("page.html").partition("-->\n")  # what the frame says of itself is for us
    for name, value in (
        ("title", escape(str(blocks.data["job"]["name"]))),
        ("style", style),
        *((key, escape(words["ui"][key])) for key in ("skip", "navigation", "no_script")),
        ("blocks", made),
        ("script", "\n".join(_read(name) for name in SCRIPTS)),
    ):
        before, here, after = text.partition("{{" + name + "}}")
        if not here:
            raise ValueError(f"page.html has no place for {name}")
        text = before + value + after
    return text


@cache
def strings() -> dict[str, Any]:
    """The words of the page, as data."""
    found: dict[str, Any] = json.loads(_read("strings.json"))
    return found


def _read(name: str) -> str:
    return (FOLDER / name).read_text(encoding="utf-8")


def _embedded(value: Any) -> str:
    """JSON that ends no script, whatever is in it."""
    return _text(value).replace("<", "\\u003c")


def _packed(value: Any) -> str:
    """JSON as raw DEFLATE in base64: a third to a tenth of it, which inflate.js unpacks."""
    made = zlib.compressobj(9, zlib.DEFLATED, -15)
    return b64encode(made.compress(_text(value).encode()) + made.flush()).decode("ascii")


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
