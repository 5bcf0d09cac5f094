"""The keys of every format, as a list that is tracked: a key once given stays.

Run it to make the tracked list anew; it refuses where a key is gone and the format's number has not
risen.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

from planner.job.oldkeys import OLD_KEYS
from planner.output.schemas import FILES, names, outputs, schema_of

TRACKED = Path(__file__).with_name("data") / "keys.json"


def keys_of(schema: dict[str, Any], root: dict[str, Any], place: str = "") -> Iterator[str]:
    """Every key a schema names, with its place: "tables.gaps[].ball"; "*" for a name of one's own."""
    if "$ref" in schema:
        schema = root["$defs"][schema["$ref"].removeprefix("#/$defs/")]
    for other in (*schema.get("anyOf", ()), *schema.get("allOf", ())):
        yield from keys_of(other, root, place)
    for key, inside in schema.get("properties", {}).items():
        full = f"{place}.{key}" if place else key
        yield full
        yield from keys_of(inside, root, full)
    if isinstance(more := schema.get("additionalProperties"), dict):
        yield f"{place}.*"
        yield from keys_of(more, root, f"{place}.*")
    if items := schema.get("items"):
        yield from keys_of(items, root, f"{place}[]")


def key_list() -> dict[str, dict[str, Any]]:
    """The number and the keys of every format as they are."""
    found = {}
    for name in names():
        schema = schema_of(name)
        number = max(FILES[name].numbers) if name in FILES else outputs()[name]
        found[name] = {"number": number, "keys": sorted(set(keys_of(schema, schema)))}
    return found


def tracked() -> dict[str, dict[str, Any]]:
    """The list as it was last made."""
    found: dict[str, dict[str, Any]] = json.loads(TRACKED.read_text(encoding="utf-8"))
    return found


def refused_changes(
    before: dict[str, Any], now: dict[str, Any], old_keys: Iterable[str] | None = None
) -> list[str]:
    """What is gone though the number of its format has not risen.

    old_keys: keys of the job that are told as renamed; by default those of the table of old keys.
    """
    told = [one.old for one in OLD_KEYS] if old_keys is None else list(old_keys)
    found = []
    for name, was in before.items():
        if name not in now:
            found.append(f"{name}: the whole format is gone")
        elif now[name]["number"] <= was["number"]:
            for key in sorted(set(was["keys"]) - set(now[name]["keys"])):
                if name != "job" or key.replace("[]", "") not in told:
                    found.append(f"{name}/{was['number']}: {key} is gone")
    return found


if __name__ == "__main__":
    made = key_list()
    wrong = refused_changes(tracked(), made) if TRACKED.exists() else []
    if wrong:
        sys.exit("\n".join([*wrong, "let the number of the format rise, or keep the key"]))
    TRACKED.write_text(json.dumps(made, indent=1) + "\n", encoding="utf-8")
