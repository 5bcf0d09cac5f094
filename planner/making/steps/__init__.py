"""Which steps make a feature: one rule a feature type, the last step finishes it.

making.pieces asks; it adds sawing, facing and parting off. The rules stand by what they need: features
turned about an axis, holes, what is milled or sawn, what is done by hand or by the torch.
"""

from planner.making.steps import byhand, holes, milled, turned
from planner.making.steps.model import IN_PLACE, Step, Work, steps

RULES = (turned, holes, milled, byhand)
"""The files of rules; importing one registers what is in it."""

__all__ = ["IN_PLACE", "RULES", "Step", "Work", "steps"]
