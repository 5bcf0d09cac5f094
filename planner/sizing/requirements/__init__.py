"""What a set of sizes must satisfy before anything is drawn, on one sizing or on columns of many.

Imported by planner.sizing and planner.checking.
"""

from planner.sizing.requirements.check import (
    MOST_STICKOUT,
    REQUIREMENTS,
    check_sizes,
    tail_reach_mm,
)
from planner.sizing.requirements.post import POST_CLEARANCE_MM

__all__ = ["MOST_STICKOUT", "POST_CLEARANCE_MM", "REQUIREMENTS", "check_sizes", "tail_reach_mm"]
