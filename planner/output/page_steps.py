"""The route's steps as the page has them, with the sizes that are measured at each.

``step`` alone knows how the route's JSON says them. Imported by planner.output.page_data.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from hashlib import sha256
from typing import Any

from parts.attachment import Attachment
from parts.part import every_feature
from planner.record.judge import feature_sha256, measured
from planner.words.numbers import Numbers


def steps(
    record: Mapping[str, Any], attachment: Attachment, numbers: Numbers
) -> Iterator[dict[str, Any]]:
    """Every step of a route's JSON record in order, each with a key of its own that stays the same
    while the step does."""
    titles = {part.name: part.title for part in attachment.parts}
    features = {
        (part.name, one.name): one for part in attachment.parts for _, one in every_feature(part)
    }
    seen: Counter[str] = Counter()
    for row in record["tables"]["route"]:
        found = step(row, numbers)
        name = f"{found['part']}|{found['piece']}|{found['kind']}|{found['text']}"
        seen[name] += 1
        digest = sha256(f"{name}|{seen[name]}".encode()).hexdigest()[:12]
        found |= {"key": digest, "title": titles[found["part"]], "sizes": [], "makes": []}
        for feature_name in found.pop("made"):
            feature = features[found["part"], feature_name]
            one = {
                "part": found["part"],
                "feature": feature_name,
                "sha": feature_sha256(feature),
            }
            found["makes"].append(one)
            limits = measured(feature)
            if limits is not None:
                low, high = round(limits.min_mm, 6), round(limits.max_mm, 6)
                more = {"title": found["title"], "low_mm": low, "high_mm": high}
                found["sizes"].append(one | more | {"gauge": found["gauge"]})
        yield found


def step(row: Mapping[str, Any], numbers: Numbers) -> dict[str, Any]:
    """One row of the route's JSON as the page's step. made: names of the features finished here."""
    speed = row["speed_rpm"]
    name = "" if row["piece"] == row["part"] else f"{row['piece']}, "
    measure = row["measure"] + (f" ({row['gauge']})" if row["measure"] and row["gauge"] else "")
    return {
        "number": row["number"],
        "setup": row["setup"],
        "part": row["part"],
        "piece": row["piece"],
        "kind": row["kind"],
        "text": row["text"],
        "held": f"{name}{row['stage']}; {row['machine']}; {row['holding']}",
        "tool": row["tool"],
        "speed": "" if speed is None else numbers.spindle_speed(speed),
        "place": row["place"],
        "measure": measure,
        "gauge": row["gauge"],
        "note": row["note"],
        "caution": row["caution"],
        "made": [one for one in row["makes"].split("; ") if one],
    }
