"""The routes as they were shipped before they were checked, put into records as far as they say it.

tests/data/shipped/ holds what ``pommel route --json`` printed in format pommel.route/1 for the example
jobs, and for the bench lathe without its mill. Those routes say a machine and a few words of holding;
what they say is taken literally, and what they do not say stays unsaid.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from walk_records import Data, along, grip, hole_cut

from parts import features as f
from parts.part import Joined, Member, Part
from parts.part import members as members_of
from parts.standard.threads import thread

FOLDER = Path(__file__).parent / "data" / "shipped"
FACING_MM = 1.0
GAUGES = {
    "micrometer 0 to 25 mm": (0.0, 25.0, 0.001),
    "micrometer 25 to 50 mm": (25.0, 50.0, 0.001),
    "vernier caliper": (0.0, 300.0, 0.02),
    "telescoping gauge and micrometer": (8.0, 50.0, 0.01),
    "plug gauge": (1.0, 50.0, 0.005),
    "rule": (0.0, 300.0, 0.5),
}


def rows(name: str) -> list[Data]:
    """The operations of a shipped route."""
    data = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    return [dict(zip(data["columns"], row, strict=True)) for row in data["rows"]]


def records(name: str, part: Part) -> tuple[list[Data], list[Data]]:
    """The set-ups and operations of one part of a shipped metric route."""
    return _Reader(part).read([row for row in rows(name) if row["part"] == part.name])


class _Reader:
    """One part's lines, put into records."""

    def __init__(self, part: Part) -> None:
        self.part = part
        self.welded = isinstance(part.blank, Joined)
        self.members = {m.name: m for m in members_of(part)}
        self.thick: dict[tuple[str, str], float] = {}
        self.ends: dict[str, tuple[float, float]] = {}

    def read(self, lines: list[Data]) -> tuple[list[Data], list[Data]]:
        """The set-ups and the operations."""
        setups: dict[int, Data] = {}
        operations: list[Data] = []
        for line in lines:
            member = self.members.get(line["piece"])
            for operation in self._operations(line, member):
                operations.append(operation | {"number": f"{line['number']}"})
            if line["setup"] not in setups:
                setups[line["setup"]] = self._setup(line, member)
        return list(setups.values()), operations

    # ---- holding ----

    def _setup(self, line: Data, member: Member | None) -> Data:
        machine = line["machine"].removeprefix("bench: ")
        machine = {"saw and file": "bench"}.get(machine, machine)
        hold: Data = {"by": line["holding"], "grips": [], "axis": None, "rests": None, "up": None}
        piece = line["piece"] if self.welded and member is not None else ""
        if line["holding"] == "saw vice":
            section = self.members[line["piece"]].blank.section
            hold |= {"grips": [grip("blank", 0.0, 1.0, section.width_mm)]}
        elif machine == "lathe":
            hold |= self._chuck(line, member)
        return {
            "number": line["setup"],
            "part": line["part"],
            "piece": piece,
            "machine": machine,
            "hold": hold,
            "align": [],
            "holding": line["holding"],
            "with_parts": self._others(line),
        }

    def _others(self, line: Data) -> list[str]:
        """The other parts that are mounted with it, by what the holding or the step says."""
        feature = self._feature(line["makes"] or line["prepares"], None)
        said = "in place" in line["holding"] or "assembled" in line["holding"]
        return [feature.made_with] if said and feature is not None and feature.made_with else []

    def _chuck(self, line: Data, member: Member | None) -> Data:
        said = line["holding"]
        if said == "between centres":
            word = "-x" if member is None else "+x"
            hole = {"kind": "dead", "hole_mm": 5.0}
            front = "+x" if word == "-x" else "-x"
            return {
                "by": said,
                "axis": along(word),
                "centre": hole | {"end": word},
                "headstock_centre": hole | {"end": front},
            }
        if said.startswith("in place"):
            return {"by": "cross slide"}
        if member is None or not said.startswith("chuck"):
            return {}
        low, high = self.ends[member.name]
        size, length = member.blank.section.width_mm, member.blank.length_mm
        if said == "chuck, on the made end":
            made = min(
                (x for x in member.features if isinstance(x, f.TurnedDiameter)),
                key=lambda x: x.start_mm,
                default=None,
            )
            if made is None:
                return {
                    "by": "three-jaw chuck",
                    "axis": along("+x"),
                    "out_mm": length / 2,
                    "grips": [grip("blank.round", 0.0, length / 2, size)],
                }
            end = min(made.end_mm, 15.0, length - 4.0)
            return {
                "by": "three-jaw chuck",
                "axis": along("+x"),
                "out_mm": length - end,
                "grips": [grip(f"{made.name}.round", made.start_mm, end, made.diameter.nominal_mm)],
            }
        spare = re.search(r"spare ([\d.]+) mm", line["text"])
        grip_mm = float(spare[1]) if spare else (15.0 if "spare" in said else length / 2)
        return {
            "by": "three-jaw chuck",
            "axis": along("-x"),
            "out_mm": high - grip_mm - low,
            "grips": [grip("blank.round", high - grip_mm, high, size)],
        }

    # ---- steps ----

    def _operations(self, line: Data, member: Member | None) -> Iterator[Data]:
        piece = line["piece"] if self.welded and member is not None else ""
        name = line["makes"] or line["prepares"]
        kind = {"end": "face", "notch": "saw", "shoulder": "face"}.get(line["kind"], line["kind"])
        if kind == "centre" or (line["kind"] == "end" and member is not None):
            cuts = self._both_ends(kind, member)
        else:
            cuts = [(kind, self._cut(line, kind, name, member))]
        for last, (what, cut) in enumerate(cuts, 1):
            makes = [line["makes"]] if line["makes"] and last == len(cuts) else []
            yield {
                "setup": line["setup"],
                "part": line["part"],
                "piece": piece,
                "kind": what,
                "feature": name,
                "text": line["text"],
                "cut": cut,
                "tool": self._tool(line),
                "speed_rpm": line["speed_rpm"],
                "measure": self._measure(line, name, member) if last == len(cuts) else [],
                "makes": makes,
                "prepares": [line["prepares"]] if line["prepares"] else [],
                "allowance_mm": 0.5 if line["text"].startswith("rough") else 0.0,
            }

    def _both_ends(self, kind: str, member: Member | None) -> list[tuple[str, Data]]:
        assert member is not None
        low, high = self.ends[member.name]
        length, wide = member.blank.length_mm, member.blank.section.width_mm
        if kind == "centre":
            return [
                ("centre", hole_cut("+x", 0.0, 5.0, 5.0)),
                ("centre", hole_cut("-x", length, length - 5.0, 5.0)),
            ]
        faces = []
        for at, keeps, off in ((0.0, "+x", -low), (length, "-x", high - length)):
            if off > 0.01:
                faces.append(
                    (
                        "face",
                        {
                            "shape": "face",
                            "axis": along("+x"),
                            "at_mm": at,
                            "keeps": keeps,
                            "diameter_mm": wide * 1.5,
                            "off_mm": off,
                        },
                    )
                )
        self.ends[member.name] = (0.0, length)
        return faces

    def _cut(self, line: Data, kind: str, name: str, member: Member | None) -> Data:
        feature = self._feature(name, member)
        if kind == "saw" and member is not None and "prepares" in line and not name:
            long = float(line["measure"].split()[0])
            if line["holding"] == "sheet":  # cut out by its outline: what is filed off is not said
                self.ends[member.name] = (0.0, long)
                return {"shape": "saw", "at_mm": [0.0, long]}
            self.ends[member.name] = (-FACING_MM, long - FACING_MM)
            return {"shape": "saw", "at_mm": list(self.ends[member.name])}
        if kind == "face" and feature is None and member is not None:
            low, _ = self.ends[member.name]
            self.ends[member.name] = (0.0, self.ends[member.name][1])
            return {
                "shape": "face",
                "axis": along("+x"),
                "at_mm": 0.0,
                "keeps": "+x",
                "diameter_mm": member.blank.section.width_mm,
                "off_mm": -low,
            }
        if kind == "part" and member is not None:
            at = float(re.search(r"at ([\d.]+) mm", line["text"])[1])  # type: ignore[index]
            self.ends[member.name] = (0.0, at)
            return {
                "shape": "face",
                "axis": along("+x"),
                "at_mm": at,
                "keeps": "-x",
                "diameter_mm": member.blank.section.width_mm,
                "off_mm": 3.0,
            }
        if isinstance(feature, f.Turned):
            return self._turned(line, feature, member)
        if isinstance(feature, f.Hole):
            return self._hole(line, kind, feature)
        if isinstance(feature, f.Removed):
            box = [list(feature.box.low), list(feature.box.high)]
            if isinstance(feature, f.MilledFlat):
                location = feature.locations[0]
                normal = (
                    location.along if location.element.endswith("low") else _other(location.along)
                )
                at = feature.box.low if normal[0] == "+" else feature.box.high
                return {
                    "shape": "flat",
                    "normal": normal,
                    "at_mm": at["xyz".index(normal[1])],
                    "box": box,
                }
            return {"shape": "slot", "box": box}
        return {"shape": "other"}

    def _turned(self, line: Data, feature: f.Turned, member: Member | None) -> Data:
        axis = along(feature.axis.along, *feature.axis.origin)
        base = feature.axis.origin["xyz".index(feature.axis.along[1])]
        sign = 1 if feature.axis.along[0] == "+" else -1
        low, high = sorted((base + sign * feature.start_mm, base + sign * feature.end_mm))
        if isinstance(feature, f.TurnedDiameter):
            stock = (
                member or self.members[feature.name if feature.name in self.members else "shaft"]
            )
            key = (line["piece"], feature.name)
            before = self.thick.get(key, stock.blank.section.width_mm)
            rough = re.search(r"to Ø([\d.]+)", line["text"])
            after = float(rough[1]) if rough else feature.diameter.mean_mm
            self.thick[key] = after
            return {
                "shape": "turn",
                "axis": axis,
                "from_mm": low,
                "to_mm": high,
                "before_mm": before,
                "after_mm": after,
            }
        if isinstance(feature, f.FacedShoulder):
            keeps = ("-" if sign > 0 else "+") + feature.axis.along[1]
            return {
                "shape": "face",
                "axis": axis,
                "at_mm": low if keeps[0] == "-" else high,
                "keeps": keeps,
                "diameter_mm": 96.0,
                "off_mm": high - low,
            }
        if isinstance(feature, f.Thread):
            size = thread(feature.thread)
            return {
                "shape": "thread",
                "axis": axis,
                "from_mm": low,
                "to_mm": high,
                "diameter_mm": size.major_mm,
                "pitch_mm": size.pitch_mm,
                "inside": False,
            }
        return {"shape": "other", "from_mm": low, "to_mm": high}

    def _hole(self, line: Data, kind: str, feature: f.Hole) -> Data:
        index = "xyz".index(feature.axis.along[1])
        base, sign = feature.axis.origin[index], 1 if feature.axis.along[0] == "+" else -1
        start, end = base, base + sign * feature.depth_mm
        said = re.search(r" ([\d.]+) mm", line["tool"]) or re.search(r"Ø([\d.]+)", line["text"])
        size = float(said[1]) if said else 2.0
        if kind == "tap":
            assert isinstance(feature, f.TappedHole)
            size = thread(feature.thread).major_mm
        if kind == "bore":
            key = (line["piece"], feature.name)
            before, self.thick[key] = self.thick.get(key, size - 1.5), size
            return {
                "shape": "bore",
                "axis": along(feature.axis.along, *feature.axis.origin),
                "from_mm": min(start, end),
                "to_mm": max(start, end),
                "before_mm": before,
                "after_mm": size,
            }
        end = start + sign * 2.0 if kind == "spot" else end
        return hole_cut(feature.axis.along, start, end, size, *feature.axis.origin)

    def _feature(self, name: str, member: Member | None) -> f.Feature | None:
        found = {x.name: x for x in (*(member.features if member else ()), *self.part.features)}
        return found.get(name)

    def _tool(self, line: Data) -> Data:
        said = re.search(r"([\d.]+) mm", line["tool"])
        return {
            "kind": line["tool"],
            "name": line["tool"],
            "owned": True,
            "instead": None,
            "diameter_mm": float(said[1]) if said else None if "bar" in line["tool"] else 2.0,
            "reach_mm": None if "bar" in line["tool"] else 100.0,
        }

    # ---- measuring ----

    def _measure(self, line: Data, name: str, member: Member | None) -> list[Data]:
        if not line["measure"]:
            return []
        what = line["measure"]
        said = re.match(r"([\d.]+) to ([\d.]+) mm", what)
        gauge = {"name": line["gauge"], "kind": line["gauge"]}
        if said is None:
            if re.match(r"[\d.]+ mm$", what):
                size = float(what.split()[0])
                least, most, fine = GAUGES["rule"]
                gauge |= {"least_mm": least, "most_mm": most, "resolution_mm": fine}
                return [
                    {
                        "what": what,
                        "kind": "length",
                        "low_mm": size,
                        "high_mm": size,
                        "from": "blank.-x",
                        "to": "blank.+x",
                        "with": gauge,
                    }
                ]
            kind = "thread" if re.match(r"(M|Tr)\d", what) else "eye"
            return [{"what": what, "kind": kind, "with": gauge}]
        least, most, fine = GAUGES[line["gauge"]]
        gauge |= {"least_mm": least, "most_mm": most, "resolution_mm": fine}
        one, other, kind = self._from_to(line, name, member)
        return [
            {
                "what": what,
                "kind": kind,
                "low_mm": float(said[1]),
                "high_mm": float(said[2]),
                "from": one,
                "to": other,
                "with": gauge,
            }
        ]

    def _from_to(self, line: Data, name: str, member: Member | None) -> tuple[str, str, str]:
        feature = self._feature(name, member)
        if isinstance(feature, f.MilledFlat):
            owner: Any = member if member is not None and self.welded else self.part
            datum = owner.datums[line["datum"]]
            side = feature.locations[0].element
            return f"{datum.of}.{datum.element}", f"{name}.{side}", "outside"
        if isinstance(feature, f.MilledSlot | f.Slit):
            return f"{name}.z-low", f"{name}.z-high", "inside"
        if isinstance(feature, f.FacedLength):
            return "blank.-x", "blank.+x", "length"
        if isinstance(feature, f.Hole):
            return f"{name}.bore", f"{name}.bore", "inside"
        return f"{name}.round", f"{name}.round", "outside"


def _other(word: str) -> str:
    return ("-" if word[0] == "+" else "+") + word[1]
