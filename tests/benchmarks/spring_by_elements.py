"""How far the tip springs by three-dimensional elements, beside the closed form; records what came.

    python tests/benchmarks/spring_by_elements.py [NAME ...] [--write] [--swings nose,top,neck]
    python tests/benchmarks/spring_by_elements.py bench --study [--write]
    python tests/benchmarks/spring_by_elements.py --plated 14

Without names all of tests/spring_cases.py. --write: into spring-results.json, which
tests/checking/test_spring.py holds the closed form against. --study: the tip on top, at meshes from
coarse to fine. --plated: of so many lathes drawn by seed, with a plate between tube and shank, which
are told and not recorded. Some 15 s of CPU for each attachment and swing.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parent)]

from spring_cases import SEED, SWINGS_DEG, cases, fingerprint, plated  # noqa: E402
from spring_solids import spring_at  # noqa: E402

from parts.sizes import Sizes  # noqa: E402
from planner.checking.strength import Load, deflection_links  # noqa: E402

RECORD = HERE / "spring-results.json"
FINER = (1.0, 0.97, 1.03, 0.94, 1.06)
"""A mesh that comes out crossed is made a little finer or coarser."""

MESHES = (1.6, 1.3, 1.0, 0.85)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*")
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--study", action="store_true")
    parser.add_argument("--swings", default="nose,top,neck")
    parser.add_argument("--plated", type=int, default=0)
    chosen = parser.parse_args()
    if chosen.plated:
        for name, (s, load) in plated(chosen.plated).items():
            for where in chosen.swings.split(","):
                solved(s, load, name, where)
        return 0
    record = json.loads(RECORD.read_text()) if RECORD.exists() else {}
    known, studied, found = cases(), record.get("convergence", {}), record.get("cases", {})
    for name in chosen.names or list(known):
        s, load = known[name]
        if chosen.study:
            studied[name] = [
                {"mesh": fine, **solved(s, load, name, "top", fine)} for fine in MESHES
            ]
            continue
        swings = {where: solved(s, load, name, where) for where in chosen.swings.split(",")}
        found[name] = {"sizes": fingerprint(s), "mesh": 1.0, "swings": swings}
        if chosen.write:
            write(studied, {one: found[one] for one in known if one in found})
    if chosen.write:
        write(studied, {one: found[one] for one in known if one in found})
    return 0


def write(studied: dict[str, Any], found: dict[str, Any]) -> None:
    """The record, with the commit it was made with."""
    words = ["git", "rev-parse", "--short", "HEAD"]
    told = subprocess.run(words, capture_output=True, text=True, cwd=HERE, check=True).stdout
    whole = {"seed": SEED, "commit": told.strip(), "convergence": studied, "cases": found}
    RECORD.write_text(json.dumps(whole, indent=1) + "\n")


def solved(s: Sizes, load: Load, name: str, where: str, fine: float = 1.0) -> dict[str, Any]:
    """One attachment at one swing, told beside the closed form."""
    began = time.process_time()
    for finer in FINER:
        try:
            found = spring_at(s, SWINGS_DEG[where], fine * finer)
            break
        except Exception as problem:  # gmsh has no type of its own
            if "PLC" not in str(problem) and "boundary mesh" not in str(problem):
                raise
    else:
        raise RuntimeError(f"no mesh of {name} comes out sound")
    used = time.process_time() - began
    links = deflection_links(s, load, None, SWINGS_DEG[where])
    closed = {x.name: (x.mm_per_N * 1e6, x.main_mm / load.main_N * 1e6) for x in links}
    print(f"\n{name} {where}, mesh {fine:g}: {found.unknowns} unknowns, {used:.0f} s CPU;"
          " 1e-6 mm/N closed / elements, by passive and by main force")  # fmt: skip
    for key, passive in found.passive.items():
        a, b = closed[key]
        print(f"  {key:<20} {a:8.1f} {passive:8.1f}   {b:8.1f} {found.main[key]:8.1f}")
    p, f = load.passive_N * 1e-6, load.main_N * 1e-6
    one = (sum(x for x, _ in closed.values()) * p, sum(y for _, y in closed.values()) * f)
    two = (sum(found.passive.values()) * p, sum(found.main.values()) * f)
    print(f"  mm: passive {one[0]:.5f} {two[0]:.5f} {one[0] / two[0] - 1:+.1%};"
          f" main {one[1]:.5f} {two[1]:.5f};"
          f" both {sum(one):.5f} {sum(two):.5f} {sum(one) / sum(two) - 1:+.1%}")  # fmt: skip
    return {
        "unknowns": found.unknowns,
        "passive": {key: round(value, 3) for key, value in found.passive.items()},
        "main": {key: round(value, 3) for key, value in found.main.items()},
    }


if __name__ == "__main__":
    sys.exit(main())
