"""Running a command in a test: through the group itself, never behind the outermost net."""

from __future__ import annotations

from click.testing import CliRunner, Result

from planner.cli.main import main


def call(*words: str) -> Result:
    """Run ``pommel`` with these words; any exception but the command's own end fails the test."""
    result = CliRunner().invoke(main, list(words), catch_exceptions=False)
    assert "Traceback" not in result.output and "[internal-error]" not in result.stderr
    return result
