"""The commented job file that ``pommel new`` writes, metric or inch.

Imported by the command only. The text is data: planner/new-metric.toml and planner/new-inch.toml.
"""

from __future__ import annotations

from importlib.resources import files


def job_template(inch: bool) -> str:
    """The text of a new job file."""
    name = "new-inch.toml" if inch else "new-metric.toml"
    return (files("planner") / name).read_text(encoding="utf-8")
