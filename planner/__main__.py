"""``python -m planner``: the same as the command pommel."""

from planner.cli.main import run

run()
