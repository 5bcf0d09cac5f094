"""``python -m planner``: the same as the command pommel."""

from planner.cli import run

run()
