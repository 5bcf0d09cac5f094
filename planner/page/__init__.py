"""The page for the phone: its style, scripts and words as plain files, made into one file.

``assemble`` puts a job's data into the frame; ``pack`` makes a scene small enough to send along;
``live`` is what stands round the page while a job is watched. Knows
nothing of plans and topics: plain data comes in. Imported by planner.output. Loads no kernel.
"""

from planner.page.assemble import Blocks, page, strings
from planner.page.live import live_page
from planner.page.pack import packed

__all__ = ["Blocks", "live_page", "packed", "page", "strings"]
"""What planner.output uses."""
