"""Run a command and print its CPU seconds, children included, beside what they are meant to stay under.

Usage: within.py NAME MOST COMMAND...; exit code: the command's.

MOST is in seconds of the computer it was set on. How fast this one is, is taken from loading the CAD
kernel, before and after. It is a measure, not a test: where others use the same computer, the scaled
figure of one and the same commit has been seen from 110 to 172, and no result may depend on a clock.
"""

from __future__ import annotations

import resource
import subprocess
import sys

YARDSTICK = (".venv/bin/python", "-c", "import cadquery")
"""What is timed on every computer, in the environment that the command runs in."""

ITS_SECONDS = 1.36
"""CPU of the yardstick where MOST was set."""


def cpu_s() -> float:
    """CPU seconds of all processes that this one ran until now."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def yardstick_s() -> float:
    """CPU seconds of the yardstick here, the least of three."""
    marks = [cpu_s()]
    for _ in range(3):
        subprocess.run(YARDSTICK, check=True)
        marks.append(cpu_s())
    return min(after - before for before, after in zip(marks, marks[1:], strict=False))


def main(name: str, most: float, command: list[str]) -> int:
    """Run it; returns the exit code."""
    before, start = yardstick_s(), cpu_s()
    done = subprocess.run(command, check=False)
    seconds = cpu_s() - start
    here = (before + yardstick_s()) / 2
    scaled = seconds * ITS_SECONDS / here
    told = "within" if scaled <= most else "MORE THAN"
    print(
        f"== {name}: {seconds:.0f} CPU seconds, the CAD kernel loaded in {here:.2f}:"
        f" {scaled:.0f} where it loads in {ITS_SECONDS}, {told} {most:g}",
        flush=True,
    )
    return done.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], float(sys.argv[2]), sys.argv[3:]))
