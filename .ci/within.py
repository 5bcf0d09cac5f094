"""Run a command and hold its CPU seconds, children included, against a budget.

Usage: within.py NAME BUDGET COMMAND...; exit code: the command's, or 3 when it took longer.
"""

from __future__ import annotations

import resource
import subprocess
import sys


def main(name: str, budget: float, command: list[str]) -> int:
    """Run it; returns the exit code."""
    done = subprocess.run(command, check=False)
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = used.ru_utime + used.ru_stime
    print(f"== {name}: {seconds:.0f} CPU seconds of {budget:g}", flush=True)
    return done.returncode or (3 if seconds > budget else 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], float(sys.argv[2]), sys.argv[3:]))
