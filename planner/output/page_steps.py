"""The route's steps as the page has them, with the sizes that are measured at each.

``step`` alone knows how the route's JSON says them. Imported by planner.output.page_data.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from hashlib import sha256
from typing import Any

from parts.attachment import Attachment
from parts.features import Feature
from parts.part import every_feature
from planner.book.route import GATHERED, headed
from planner.job.tables import Job
from planner.making.asmade import made_to
from planner.record.judge import feature_sha256, measured
from planner.words.numbers import Numbers
from planner.words.units import length_mm

SAME_MM = 0.001
"""Limits no farther apart are the same: as finely as the route says them."""

ASSEMBLY = "Assembly"
"""What the steps are of in which the finished parts are put together, as in the book."""

_PAIR = re.compile(r"([\d.]+) to ([\d.]+) (mm|in)")
_WITHIN = re.compile(r".*, within ([\d.]+) (mm|in)")


def steps(
    record: Mapping[str, Any], attachment: Attachment, made: Attachment, job: Job
) -> Iterator[dict[str, Any]]:
    """Every step of a route's JSON record in order, each with a key of its own that stays the same
    while the step does. made: the attachment with the limits of the route, which follow from what is
    recorded; the record keeps a feature as it is drawn."""
    titles = {part.name: part.title for part in attachment.parts}
    features, as_made = _features(attachment), _features(made)
    mates = _mates(attachment, job)
    setups = {one["number"]: one for one in record["setups"]}
    whole = {one["setup"] for one in record["operations"] if one["kind"] == GATHERED}
    seen: Counter[str] = Counter()
    for operation in record["operations"]:
        found = step(operation, setups[operation["setup"]], job.numbers)
        name = f"{found['part']}|{found['piece']}|{found['kind']}|{found['text']}"
        seen[name] += 1
        found["key"] = sha256(f"{name}|{seen[name]}".encode()).hexdigest()[:12]
        own_title = titles.get(found["part"], found["part"].capitalize())
        found["title"] = ASSEMBLY if found["setup"] in whole else own_title
        found["makes"] = [
            {"part": found["part"], "feature": one, "sha": feature_sha256(feature)}
            for one in found.pop("made")
            if (feature := features.get((found["part"], one)))
        ]
        named = Counter[str]()
        for row in found["sizes"]:
            own = (found["part"], row["feature"])
            sha = _own(features.get(own), as_made.get(own), row)
            row |= {"part": found["part"], "title": own_title, "sha": sha}
            kind = "" if row["sha"] else f"|{row['kind']}"
            key = f"{found['part']}|{row['feature']}{kind}"
            named[key] += 1
            row["key"] = key if named[key] == 1 else f"{key}|{named[key]}"
            if sha and own in mates and features[own] == as_made[own]:
                row["mate"] = mates[own]
        yield found


def _features(attachment: Attachment) -> dict[tuple[str, str], Feature]:
    """Every feature, by its part and its own name."""
    return {
        (part.name, one.name): one for part in attachment.parts for _, one in every_feature(part)
    }


def _mates(attachment: Attachment, job: Job) -> dict[tuple[str, str], dict[str, Any]]:
    """By the shaft of each fit its hole, by the key of that one's size, and their play: what it must
    come to follows from the hole as it was typed, where that is between from_mm and to_mm."""
    found = {}
    for fit in attachment.fits:
        play, least, widest = made_to(fit, attachment, job)
        found[fit.shaft_part, fit.shaft] = {
            "key": f"{fit.hole_part}|{fit.hole}",
            "feature": fit.hole,
            "least_mm": play.least_mm,
            "most_mm": play.most_mm,
            "from_mm": least,
            "to_mm": widest,
        }
    return found


def _own(feature: Feature | None, as_made: Feature | None, row: Mapping[str, Any]) -> str:
    """The hash of the feature whose own size a row measures, which the record keeps; else ""."""
    limits = measured(as_made) if as_made else None
    if feature is None or limits is None:
        return ""
    off = max(abs(limits.min_mm - row["low_mm"]), abs(limits.max_mm - row["high_mm"]))
    return feature_sha256(feature) if off <= SAME_MM else ""


def read_limits(row: Mapping[str, Any]) -> tuple[float, float]:
    """The least and the greatest reading of a measure of the route's JSON, mm: as it is printed.

    What is printed is rounded inward to what the gauge reads, so a reading is held against that and not
    against the limits of the drawing; where no reading is printed, against those.
    """
    if pair := _PAIR.fullmatch(row["what"]):
        low, high, unit = pair.groups()
        return length_mm(low, unit), length_mm(high, unit)
    if within := _WITHIN.fullmatch(row["what"]):
        return row["low_mm"], length_mm(within[1], within[2])
    return row["low_mm"], row["high_mm"]


def step(
    operation: Mapping[str, Any], setup: Mapping[str, Any], numbers: Numbers
) -> dict[str, Any]:
    """One operation of the route's JSON, and its set-up, as the page's step.

    made: names of the features finished here. sizes: what is measured against limits. measure: what a
    gauge or the eye judges. careful: a caution of the set-up, told once where its steps stand together.
    A size's low_mm and high_mm are the drawing's, reads_mm what a reading is held against; its kind is
    "" where it is of no feature, and its step says what it is. head: so many letters of the text are
    its heading, as in the book; two letters on, the rest goes on below it, where there is any.
    """
    one, tool = operation, operation["tool"]
    piece = f"{one['piece']}, " if one["piece"] else ""
    how = [] if tool["name"] == "none" else [tool["name"]]
    if one["speed_rpm"] is not None:
        how.append(numbers.spindle_speed(one["speed_rpm"]))
        how += numbers.set_feed(one["feed_mm_per_rev"], (one["cut"] or {}).get("shape"))
    how += numbers.cuts(one["cuts"], one["depth_mm"])
    if one["coolant"] and one["coolant"] != "dry":
        how.append(one["coolant"])
    if not tool["owned"]:
        how.append(f"not in the shop: {tool['instead'] or 'borrow one'}")
    align = [
        f"{row['what']}, by {row['by']}, within {numbers.within(row['within_mm'])}"
        for row in setup["align"]
    ]
    seen = [row for row in one["measure"] if row["low_mm"] is None]
    return {
        "number": one["number"],
        "setup": one["setup"],
        "part": one["part"],
        "piece": one["piece"],
        "kind": one["kind"],
        "text": one["text"],
        "head": len(headed(one["text"])[0]),
        "held": f"{piece}{one['stage']}; {setup['machine']}; {setup['holding']}",
        "align": "; ".join(align),
        "tool": ", ".join(how),
        "place": one["place"],
        "measure": "; ".join(f"{row['what']} ({row['with']['name']})" for row in seen),
        "note": one["note"],
        "careful": setup["caution"],
        "caution": one["caution"],
        "made": list(one["makes"]),
        "sizes": [
            {
                "feature": one["feature"] or headed(one["text"])[0],
                "kind": row["kind"] if one["feature"] else "",
                "what": row["what"],
                "how": row["how"],
                "gauge": row["with"]["name"],
                "low_mm": row["low_mm"],
                "high_mm": row["high_mm"],
                "reads_mm": list(read_limits(row)),
            }
            for row in one["measure"]
            if row["low_mm"] is not None
        ],
    }
