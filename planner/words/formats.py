"""The formats of what is read and written: a number each, which rises when a key goes or is renamed.

A file that is read says ``format = 1``, or nothing, which means 1. Every JSON output says
``"format": "pommel.check/1"``: what it is and its number. A key more is no new format. The topics carry
their number in their entries; those of the other outputs stand here. Imports nothing of the project.
"""

from __future__ import annotations

OUTPUTS = {
    "new": 1,
    "correct": 1,
    "draw": 1,
    "build": 1,
    "package": 1,
    "explain": 1,
    "list": 1,
    "ready": 1,
    "record": 1,
    "findings": 1,
    "scene": 1,
    "sheets": 1,
}
"""The JSON outputs that are no topic's, and their numbers; "findings" is what bad input gives."""


def format_name(what: str, number: int | None = None) -> str:
    """What an output says of its format: "pommel.check/1"; number: by default that of OUTPUTS."""
    return f"pommel.{what}/{OUTPUTS[what] if number is None else number}"
