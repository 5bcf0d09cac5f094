"""An inch cut list gone over with a pencil: every row and every sum comes out as printed (by hand)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from jobs import ROOT, planned

from planner.output.topics import TOPICS
from planner.words.tables import Table

JOBS = sorted((ROOT / "tests" / "data" / "inch-jobs").glob("*.toml"))


def tables(path: str) -> dict[str, Table]:
    one = next(one for one in TOPICS if one.name == "cutlist")
    plan = planned(next(job for job in JOBS if job.stem == path))
    return {table.name: table for table in one.tables(plan, one.asked(one.packaged))}


def inches(text: str) -> Fraction:
    whole, _, rest = text.rpartition("-") if "/" in text else (text, "", "0")
    return Fraction(whole or 0) + Fraction(rest)


@pytest.mark.parametrize("job", [path.stem for path in JOBS])
def test_finished_faced_and_gripped_come_to_what_is_sawn(job: str) -> None:
    pieces = tables(job)["pieces"]
    keys = [column.key for column in pieces.columns]
    seen = 0
    for shown in pieces.shown:
        row = dict(zip(keys, shown, strict=True))
        if "." in row["finished_mm"]:  # a metric length among them: all to thousandths
            continue
        grip = "0" if row["grip_mm"] == "bar" else row["grip_mm"]
        parts = [inches(one) for one in (row["finished_mm"], row["facing_mm"], grip)]
        assert sum(parts) == inches(row["saw_mm"]), row
        seen += 1
    assert seen or any("." in shown[keys.index("finished_mm")] for shown in pieces.shown)


@pytest.mark.parametrize("job", [path.stem for path in JOBS])
def test_the_mass_that_is_sawn_is_the_sum_of_its_column(job: str) -> None:
    stock = tables(job)["stock"]
    at = [column.heading for column in stock.columns].index("sawn lb")
    total = sum(Fraction(row[at]) for row in stock.shown)
    assert stock.notes[0].startswith(f"Sawn pieces {float(total):.2f} lb.")
