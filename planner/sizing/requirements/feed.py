"""The feed screw and its dial."""

from __future__ import annotations

from math import pi

from planner.sizing.requirements.model import Requirement, major_mm, no_less, no_more

LONGEST_RING = 5.0
"""Length of the index ring over its screws' diameter, at most: so long are they sold (this design)."""

FEED: tuple[Requirement, ...] = (
    no_less(
        "too-small",
        "feed_journal_diameter",
        "feed screw's journal",
        lambda s: s.feed_journal_diameter_mm,
        lambda s: 4.0,
        "Make it thicker",
    ),
    no_more(
        "too-large",
        "feed_journal_diameter",
        "feed screw's journal",
        lambda s: s.feed_journal_diameter_mm,
        lambda s: 100.0,
        "Make it thinner",
    ),
    no_less(
        "small-stock",
        "feed_stock",
        "feed screw bar",
        lambda s: s.feed_stock.width_mm,
        lambda s: s.feed_collar_diameter_mm,
        "Use a thicker bar",
    ),
    no_less(
        "collar-shoulder",
        "feed_collar_diameter",
        "shoulder of the feed screw's collar",
        lambda s: (s.feed_collar_diameter_mm - s.feed_journal_diameter_mm) / 2,
        lambda s: 1.5,
        "Make the collar larger",
    ),
    no_less(
        "collar-shoulder",
        "feed_collar_diameter",
        "feed screw's collar over its thread",
        lambda s: (s.feed_collar_diameter_mm - major_mm(s.feed_thread)) / 2,
        lambda s: 1.0,
        "Make the collar larger",
    ),
    no_less(
        "too-small",
        "feed_collar_thickness",
        "thickness of the feed screw's collar",
        lambda s: s.feed_collar_thickness_mm,
        lambda s: 2.0,
        "Make it thicker: it takes the thrust",
    ),
    no_less(
        "dial-gap",
        "feed_collar_diameter",
        "from the feed screw's collar to the foot",
        lambda s: s.flat_offset_mm - s.feed_offset_mm - s.feed_collar_diameter_mm / 2,
        lambda s: 0.5,
        "Make the collar smaller",
    ),
    no_less(
        "dial-gap",
        "feed_collar_diameter",
        "from the feed screw's collar to the rod",
        lambda s: s.feed_offset_mm - s.feed_collar_diameter_mm / 2 - s.rod_diameter_mm / 2,
        lambda s: 0.5,
        "Make the collar smaller",
    ),
    no_less(
        "dial-gap",
        "feed_collar_diameter",
        "from the feed screw's collar to the housing",
        lambda s: s.block_thickness_mm - s.rod_from_front_mm - s.feed_collar_diameter_mm / 2,
        lambda s: 0.5,
        "Make the collar smaller",
    ),
    no_less(
        "wont-pass",
        "feed_tail_thread",
        "feed screw's journal over its tail thread",
        lambda s: s.feed_journal_diameter_mm - major_mm(s.feed_tail_thread),
        lambda s: 0.5,
        "Use a smaller thread: the dial passes over it",
    ),
    no_less(
        "small-stock",
        "dial_stock",
        "dial bar",
        lambda s: s.dial_stock.width_mm,
        lambda s: s.dial_diameter_mm,
        "Use a thicker bar",
    ),
    no_less(
        "thin-wall",
        "dial_diameter",
        "dial round its bore",
        lambda s: (s.dial_diameter_mm - s.feed_journal_diameter_mm) / 2,
        lambda s: 3.0,
        "Make the dial larger",
    ),
    no_less(
        "dial-lines",
        "dial_diameter",
        "lines apart on the rim",
        lambda s: pi * s.dial_diameter_mm / s.dial_divisions,
        lambda s: 0.4,
        "Use a larger dial or fewer divisions",
    ),
    no_less(
        "short-part",
        "dial_length",
        "room beside the dial's rim for its set screw",
        lambda s: s.dial_length_mm - s.dial_rim_mm - major_mm(s.dial_set_screw),
        lambda s: 2.0,
        "Make the dial longer or its rim narrower",
    ),
    no_less(
        "thin-wall",
        "index_ring",
        "index ring under its screws' heads",
        lambda s: s.index_ring_mm - s.index_head_mm,
        lambda s: 1.4,
        "Make it longer or its screws smaller",
    ),
    no_more(
        "too-large",
        "index_ring",
        "index ring",
        lambda s: s.index_ring_mm,
        lambda s: LONGEST_RING * major_mm(s.index_screw),
        "Make it shorter: it only carries the line, and the dial moves out by as much",
    ),
    no_more(
        "too-large",
        "index_screw",
        "heads of the index ring's screws",
        lambda s: s.index_head_across_mm,
        lambda s: (s.dial_diameter_mm - s.feed_journal_diameter_mm) / 2 - 1.5,
        "Use smaller ones or a larger dial",
    ),
    no_less(
        "thin-wall",
        "index_screw",
        "block before the index ring's screws",
        lambda s: s.rod_from_front_mm - s.index_screws_mm - major_mm(s.index_screw) / 2,
        lambda s: 1.0,
        "Use smaller ones, or a smaller dial",
    ),
    no_less(
        "thin-wall",
        "index_screw",
        "block behind the index ring's screws",
        lambda s: (
            s.block_thickness_mm
            - s.rod_from_front_mm
            - s.index_screws_mm
            - major_mm(s.index_screw) / 2
        ),
        lambda s: 1.0,
        "Use smaller ones, or a smaller dial",
    ),
    no_less(
        "thin-wall",
        "index_screw",
        "block between the feed screw and the index ring's screws",
        lambda s: s.index_screws_mm - major_mm(s.index_screw) / 2 - s.feed_journal_diameter_mm / 2,
        lambda s: 0.8,
        "Use smaller ones, or a larger dial",
    ),
    no_more(
        "too-large",
        "dial_set_screw",
        "the dial's set screw",
        lambda s: major_mm(s.dial_set_screw),
        lambda s: s.dial_diameter_mm / 3,
        "Use a smaller one",
    ),
)
