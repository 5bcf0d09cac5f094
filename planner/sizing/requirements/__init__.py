"""What a set of sizes must satisfy before anything is drawn, on one sizing or on columns of many.

Imported by planner.sizing and planner.checking.
"""

from planner.sizing.requirements.check import (
    MOST_STICKOUT,
    REQUIREMENTS,
    check_sizes,
    tail_reach_mm,
)

__all__ = ["MOST_STICKOUT", "REQUIREMENTS", "check_sizes", "tail_reach_mm"]
