"""The frame round the page while a job is watched: live.html with its words.

Imported by planner.output.live.
"""

from __future__ import annotations

import json
from html import escape

from planner.page.assemble import FOLDER, strings


def live_page() -> str:
    """The text of the frame: the same for every job; it asks state.json what there is to show."""
    words: dict[str, str] = strings()["watch"]
    _, _, text = (FOLDER / "live.html").read_text(encoding="utf-8").partition("-->\n")
    named = {key: escape(words[key]) for key in ("title", "page")}
    named |= {"no_script": escape(strings()["ui"]["no_script"])}
    named |= {"words": json.dumps(words, ensure_ascii=False).replace("<", "\\u003c")}
    for name, value in named.items():
        if "{{" + name + "}}" not in text:
            raise ValueError(f"live.html has no place for {name}")
        text = text.replace("{{" + name + "}}", value)
    return text
