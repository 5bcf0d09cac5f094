"""Route records written by hand, as the contract of pommel.route/2 has them; and parts to make by them.

Common practice throughout: how a home shop with a small lathe makes such pieces.
"""

from __future__ import annotations

from typing import Any

from parts.features import Feature
from parts.frame import Axis
from parts.part import Datum, Part, Stock
from parts.standard.sections import Section

Data = dict[str, Any]

MICROMETER = ("micrometer", 0.0, 25.0, 0.001)
LARGE_MICROMETER = ("micrometer", 25.0, 50.0, 0.001)
CALIPER = ("vernier caliper", 0.0, 150.0, 0.02)
RULE = ("rule", 0.0, 300.0, 0.5)
PLUG = ("plug gauge", 5.0, 30.0, 0.005)
DEPTH = ("depth gauge, vernier caliper", 0.0, 150.0, 0.02)

HERE: Any = Axis((0.0, 0.0, 0.0), "+x")


def bar(
    name: str, section: Section, length: float, material: str, *features: Feature, **datums: Datum
) -> Part:
    """A part of one piece."""
    return Part(
        name=name,
        title=name,
        blank=Stock(section, length, material),
        features=tuple(features),
        datums={"A": Datum("blank", "axis", "axis"), "B": Datum("blank", "x-low", "end")} | datums,
        colour=(0.5, 0.5, 0.5),
    )


def along(word: str, *through: float) -> Data:
    """A line."""
    return {"along": word, "through": list(through or (0.0, 0.0, 0.0))}


def grip(surface: str, low: float, high: float, size: float, **more: Any) -> Data:
    """Where it is gripped."""
    return {
        "surface": surface,
        "other": None,
        "from_mm": low,
        "to_mm": high,
        "size_mm": size,
        "inside": False,
        "packing": None,
    } | more


def centre(end: str, hole: float = 5.0, kind: str = "live") -> Data:
    """A centre in its hole."""
    return {"kind": kind, "end": end, "hole_mm": hole}


def align(what: str, surface: str, by: str = "dial indicator", within: float = 0.02) -> Data:
    """What is set true."""
    return {"what": what, "surface": surface, "by": by, "within_mm": within}


def read(kind: str, low: float, high: float, one: str, other: str, gauge: Any) -> Data:
    """Something to measure."""
    name, least, most, resolution = gauge
    return {
        "what": f"{kind} {low:g} to {high:g}",
        "kind": kind,
        "low_mm": low,
        "high_mm": high,
        "from": one,
        "to": other,
        "with": {
            "name": name,
            "least_mm": least,
            "most_mm": most,
            "resolution_mm": resolution,
            "kind": name,
        },
        "how": "",
        "blank": True,
    }


def said(kind: str, what: str, name: str, one: str | None = None) -> Data:
    """A reading without a size."""
    gauge = {"name": name, "least_mm": None, "most_mm": None, "resolution_mm": None, "kind": name}
    return {
        "what": what,
        "kind": kind,
        "low_mm": None,
        "high_mm": None,
        "from": one,
        "to": None,
        "with": gauge,
        "how": "",
        "blank": True,
    }


def round_(kind: str, low: float, high: float, surface: str, gauge: Any = MICROMETER) -> Data:
    """A diameter."""
    return read(kind, low, high, surface, surface, gauge)


def tool(name: str, diameter: float | None = None, reach: float | None = None, **more: Any) -> Data:
    """A tool that the shop has."""
    return {
        "kind": name,
        "name": name,
        "diameter_mm": diameter,
        "width_mm": None,
        "reach_mm": reach,
        "owned": True,
        "instead": None,
    } | more


class Route:
    """A route being written down."""

    def __init__(self, *parts: Part) -> None:
        self.parts = parts
        self.setups: list[Data] = []
        self.operations: list[Data] = []
        self.part, self.piece = parts[0].name, ""

    def on(self, part: str, piece: str = "") -> Route:
        """What the next steps are done on."""
        self.part, self.piece = part, piece
        return self

    def setup(
        self,
        machine: str,
        by: str,
        *grips: Data,
        aligned: Any = (),
        with_parts: Any = (),
        **hold: Any,
    ) -> Route:
        """A set-up."""
        keys = (
            "axis",
            "centre",
            "driver",
            "headstock_centre",
            "steady",
            "out_mm",
            "rests",
            "up",
            "stop",
        )
        toward = "toward the spindle" if machine == "milling slide" else "up"
        self.setups.append(
            {
                "number": len(self.setups) + 1,
                "part": self.part,
                "piece": self.piece,
                "with_parts": list(with_parts),
                "stage": "",
                "machine": machine,
                "hold": {"by": by, "grips": list(grips)} | dict.fromkeys(keys) | hold,
                "align": list(aligned),
                "minutes": 5.0,
                "caution": "bolted down" if machine == "drill press" else "",
                "holding": ", ".join(
                    [
                        by,
                        machine,
                        *(str(one.get("packing") or "") for one in grips),
                        f"its {hold.get('up')} side {toward}",
                        *(["a black bar in a cat head"] if hold.get("steady") else []),
                    ]
                ),
            }
        )
        return self

    def do(
        self,
        kind: str,
        cut: Data | None,
        with_: Data,
        rpm: float | None = None,
        *measure: Data,
        **more: Any,
    ) -> Route:
        """A step; more: makes, prepares, text, allowance_mm."""
        makes, prepares = list(more.pop("makes", ())), list(more.pop("prepares", ()))
        feature = (*makes, *prepares, "")[0]
        self.operations.append(
            {
                "number": len(self.operations) + 1,
                "setup": len(self.setups),
                "part": self.part,
                "piece": self.piece,
                "kind": kind,
                "feature": feature,
                "stage": "",
                "text": f"{kind} {feature}",
                "place": "",
                "cut": cut,
                "allowance_mm": 0.0,
                "tool": with_,
                "speed_rpm": rpm,
                "measure": list(measure),
                "caution": "in a collet" if with_.get("kind") == "end mill" else "",
                "needs": [],
                "makes": makes,
                "prepares": prepares,
            }
            | more
        )
        return self

    # ---- cuts that come often ----

    def saw(self, low: float, high: float, size: float, surface: str = "blank.round") -> Route:
        """Sawn off the bar by hand."""
        self.setup("hacksaw", "saw vice", grip(surface, low, high, size))
        length = high - low
        wanted = read("length", length - 0.5, length + 0.5, "blank.-x", "blank.+x", RULE)
        return self.do("saw", {"shape": "saw", "at_mm": [low, high]}, tool("hacksaw"), None, wanted)

    def face(
        self,
        at: float,
        keeps: str,
        diameter: float,
        off: float,
        *measure: Data,
        axis: Any = HERE,
        **more: Any,
    ) -> Route:
        """An end faced."""
        line = along("+x") if axis is HERE else axis
        cut = {
            "shape": "face",
            "axis": line,
            "at_mm": at,
            "keeps": keeps,
            "diameter_mm": diameter,
            "off_mm": off,
        }
        return self.do("face", cut, tool("facing tool"), 520.0, *measure, **more)

    def centre(self, at: float, sign: int, hole: float = 5.0) -> Route:
        """A centre drilled in the end at a coordinate; sign: the end, -1 the first."""
        word = "+x" if sign < 0 else "-x"
        cut = hole_cut(word, at, at - sign * hole, hole)
        return self.do("centre", cut, tool("centre drill", hole), 1900.0)

    def turn(
        self, low: float, high: float, before: float, after: float, *measure: Data, **more: Any
    ) -> Route:
        """Turned outside."""
        cut = {
            "shape": "turn",
            "axis": along("+x"),
            "from_mm": low,
            "to_mm": high,
            "before_mm": before,
            "after_mm": after,
        }
        return self.do("turn", cut, tool("turning tool"), 520.0, *measure, **more)

    def flat(
        self,
        normal: str,
        at: float,
        low: Any,
        high: Any,
        *measure: Data,
        with_: Any = None,
        **more: Any,
    ) -> Route:
        """A flat milled."""
        cut = {"shape": "flat", "normal": normal, "at_mm": at, "box": [list(low), list(high)]}
        return self.do("mill", cut, with_ or tool("end mill", 16.0), 500.0, *measure, **more)


def hole_cut(word: str, start: float, end: float, size: float, *through: float) -> Data:
    """A hole along a direction between two coordinates."""
    return {
        "shape": "hole",
        "axis": along(word, *through),
        "from_mm": start,
        "to_mm": end,
        "after_mm": size,
    }
