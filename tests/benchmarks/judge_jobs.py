"""Says what the program of the folder it runs in makes of each job: one line of JSON each.

Run by accepted.py with PYTHONPATH set to a version of the program, which need not be this one; so it
uses what every version has had: Plan, the findings of `check`, the parts and what they are made of. A
job comes as a line of JSON on stdin: name, text, largest (whether to look for the largest ball), search
(whether to let the check search for better sizes).
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from math import pi
from pathlib import Path
from typing import Any

from parts.part import Part, members
from parts.standard.errors import UnknownSize
from parts.standard.materials import material
from planner.job.reading import read_job
from planner.output.plan import Plan
from planner.output.topics import topic
from planner.sizing.apply import largest_ball
from planner.words.findings import BadInput, Finding


def area_mm2(section: Any) -> float:
    """The area of a section, sharp-cornered."""
    width, thick = section.width_mm, section.thickness_mm
    if section.shape == "round":
        return pi / 4 * width**2
    if section.shape == "tube":
        return pi / 4 * (width**2 - (width - 2 * thick) ** 2)
    return float(width * section.height_mm)


def density_kg_m3(name: str) -> float:
    """Of a material of the tables, or of cemented carbide, which stands in none."""
    try:
        return material(name).density_kg_m3
    except UnknownSize:
        if name != "carbide":
            raise
        return 14_500.0  # cemented carbide, 6 to 10 % cobalt (a value from memory)


def blanks_kg(parts: tuple[Part, ...]) -> float:
    """The mass of what the parts are made from, sawn to length."""
    return sum(
        area_mm2(m.blank.section) * m.blank.length_mm * density_kg_m3(m.blank.material) * 1e-9
        for part in parts
        for m in members(part)
    )


def told(found: Finding) -> dict[str, str]:
    """What is kept of a finding."""
    return {
        "severity": found.severity, "code": found.code, "key": found.key,
        "value": found.value, "limit": found.limit,
    }  # fmt: skip


def judged(path: Path, largest: bool, search: bool) -> dict[str, Any]:
    """What is made of one job; accepted: sizes are chosen and no finding of the check refuses it."""
    answer: dict[str, Any] = {"accepted": False, "refused": [], "warnings": []}
    try:
        plan = Plan(path)
        check = topic("check")
        found = plan.findings + tuple(check.findings(plan, check.asked(check.packaged)))
    except BadInput as problem:
        found = problem.findings
    else:
        placed = plan.attachment.placed
        parts = tuple(p.item for p in placed if isinstance(p.item, Part))
        answer |= {
            "accepted": not any(one.severity == "refused" for one in found),
            "deflection_mm": round(plan.strength.sprung_mm, 5),
            "mass_kg": round(blanks_kg(parts), 4),
            "pieces": sum(len(members(part)) for part in parts),
            "bought": len(placed) - len(parts),
        }
    answer["refused"] = [told(one) for one in found if one.severity == "refused"]
    answer["warnings"] = sorted({one.code for one in found if one.severity == "warning"})
    if search and answer["accepted"]:
        try:
            check.tables(plan, check.asked({"prefer": "stiff"}))
        except Exception as fault:  # the search goes through sizes that nobody would choose
            answer["search_fault"] = f"{type(fault).__name__}: {fault}"[:200]
    if largest:
        best = largest_ball(read_job(path), "job.toml")
        answer["largest_mm"] = round(best.diameter_mm, 2) if best else 0.0
    return answer


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        for line in sys.stdin:
            asked = json.loads(line)
            path.write_text(asked["text"], encoding="utf-8")
            began = time.process_time()
            try:
                answer = judged(path, asked["largest"], asked["search"])
            except Exception as fault:  # a fault of the program is one of its answers
                told_of = {"severity": "fault", "code": type(fault).__name__, "key": ""}
                told_of |= {"value": "", "limit": str(fault)[:300]}
                answer = {"accepted": False, "refused": [told_of], "warnings": []}
            answer["cpu_s"] = round(time.process_time() - began, 2)
            print(json.dumps({"name": asked["name"]} | answer), flush=True)


if __name__ == "__main__":
    main()
