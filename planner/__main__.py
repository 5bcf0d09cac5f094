"""The command pommel, and ``python -m planner``: loads it so that ctrl-C is no traceback even then."""

import sys


def run() -> None:
    """The console script: planner.cli.main.run; an interrupt while it is loaded is told as it does."""
    try:
        from planner.cli.main import run as command

        command()
    except KeyboardInterrupt:
        sys.stderr.write("interrupted\n")
        sys.exit(130)


if __name__ == "__main__":
    run()
