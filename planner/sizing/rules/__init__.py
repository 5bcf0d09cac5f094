"""The rules of sizing: one a size, in the order of parts.sizes.Sizes, each with its source.

A rule is a name, the rule in words, where it comes from and a function of what is already known. They
stand by subject in the files of this folder; planner.sizing.candidates applies them.
"""

from planner.sizing.draft import Rule
from planner.sizing.rules.block import BLOCK
from planner.sizing.rules.feed import FEED, FEED_LENGTH
from planner.sizing.rules.governing import GOVERNING
from planner.sizing.rules.handle import HANDLE
from planner.sizing.rules.head import HEAD
from planner.sizing.rules.housing import HOUSING
from planner.sizing.rules.lever import LEVER
from planner.sizing.rules.pivot import PIVOT, PIVOT_NUT
from planner.sizing.rules.reach import REACH
from planner.sizing.rules.rod import ROD

RULES: tuple[Rule, ...] = (
    *GOVERNING,
    *REACH,
    *ROD,
    *PIVOT,
    *FEED,
    *PIVOT_NUT,
    *BLOCK,
    *HEAD,
    *FEED_LENGTH,
    *HANDLE,
    *LEVER,
    *HOUSING,
)
