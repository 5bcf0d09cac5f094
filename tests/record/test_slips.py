"""Slips in a record: a decimal point, another unit, a name misspelt, a file that is no record.

The slips are common practice; 20 g6 is 19.980 to 19.993 mm (ISO 286-2:2010, over 18 up to 30 mm).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from commands import call
from jobs import ROOT

from planner.output.plan import Plan
from planner.record.judge import feature_sha256, find, judged, record_findings
from planner.record.model import SizeMade
from planner.words.findings import Finding
from planner.words.numbers import Numbers


def told(bench: Plan, inch: bool = False, **keys: str) -> list[Finding]:
    said = {"part": "rotating-body", "feature": "journal"} | keys
    entry = SizeMade.model_validate(said, context={"unit": "mm"})
    return record_findings(judged([entry], bench.attachment), "made.toml", Numbers(inch))


SMALL = "Measure again, then make it anew, or its hole to it where that is still to be made"


@pytest.mark.parametrize(
    "value, remedy",
    [
        ("199.85", "19.985 mm is likely meant: the decimal point. Record it again"),
        ("1.9985", "19.985 mm is likely meant: the decimal point. Record it again"),
        ("0.787", "19.99 mm is likely meant: inches taken for millimetres. Record it again"),
        ("507.6", "19.984 mm is likely meant: millimetres taken for inches. Record it again"),
        # turned too small, which is none: a tenth of a millimetre, a millimetre, half of it
        ("19.9", SMALL),
        ("19", SMALL),
        ("10", SMALL),
    ],
)
def test_a_size_that_is_surely_a_slip_of_the_pen_is_not_to_be_made_anew(
    bench: Plan, value: str, remedy: str
) -> None:
    (one,) = told(bench, value=value)
    assert one.code == "out-of-limits" and one.remedy == remedy


@pytest.mark.parametrize(
    ("feature", "value", "remedy"),
    [
        # 14 H7 is 14.000 to 14.018, 16 less 0.05 to 0.20 (ISO 286-2; the drawing)
        ("rod bore", "13.985", "Measure again, then work it larger by 0.015 to 0.033 mm, by a lap, or"
         " emery on a split stick, never on a finger"),
        ("rod bore", "13.95", "Measure again, then work it larger by 0.05 to 0.068 mm, by the reamer"
         " again"),
        ("rod bore", "14.1", "Measure again, then make it anew, or what runs in it to it where that is"
         " still to be made"),
        ("thread diameter", "15.98", "Measure again, then take 0.03 to 0.18 mm off its diameter by a"
         " fine file with a handle on it, then emery held by its ends"),
        ("thread diameter", "16.2", "Measure again, then take 0.25 to 0.4 mm off its diameter by"
         " another cut, the work trued by an indicator first"),
        # no hole is made to what is only threaded, and nothing to a hole that a screw clears
        ("thread diameter", "15.7", "Measure again, then make it anew"),
        ("feed screw hole", "9.3", "Measure again, then make it anew"),
        # the head's foot bears on the body's flat, and is milled to it last
        ("foot flat", "32.8", "Measure again; what bears there is milled to it, where that is still to"
         " be made; else make it anew"),
        ("foot flat", "33.2", "Measure again, then work it to size"),
        # a width is none of these
        ("clamp slit", "2.9", "Measure again, then work it to size or make it anew"),
    ],
)  # fmt: skip
def test_what_is_a_little_off_is_brought_to_size_by_what_does_it(
    bench: Plan, feature: str, value: str, remedy: str
) -> None:
    """Emery takes a thousandth of an inch, a fine file two, then a cut (common practice)."""
    (one,) = told(bench, feature=feature, value=value)
    assert one.code == "out-of-limits" and one.remedy == remedy


def test_a_name_misspelt_is_not_gone_from_the_job(bench: Plan) -> None:
    sha = feature_sha256(find(bench.attachment, "rotating-body", "journal", "", ""))
    for part, feature, hashed in (
        ("rotatingbody", "journal", sha),
        ("rotating-body", "jurnal", ""),
        ("Rotating body", "jurnal", sha[:8]),
    ):
        (one,) = told(bench, part=part, feature=feature, feature_sha256=hashed, value="19.985")
        assert one.limit == "no part or feature of that name in the job"
        assert one.remedy == "Did you mean rotating-body, journal?"
    # made to other sizes than the one of nearly that name, or of no such name at all
    for part, feature, hashed in (
        ("rotating-body", "jurnal", "0" * 16),
        ("rotating-body", "zzz", ""),
        ("zzz", "journal", ""),
    ):
        (one,) = told(bench, part=part, feature=feature, feature_sha256=hashed, value="19.985")
        assert one.limit == "made, and not in the job any more"


def test_a_file_without_a_record_in_it_is_not_merged(tmp_path: Path) -> None:
    example, job = ROOT / "examples" / "bench-lathe.toml", tmp_path / "my-lathe.toml"
    job.write_bytes(example.read_bytes())
    said = call("record", str(job), "--merge", str(example))
    assert said.exit_code == 2 and "neither [[size]] nor [[done]] in it, but lathe" in said.stderr
    assert "Name a file in the form of made.toml" in said.stderr
    file = tmp_path / "added.toml"
    file.write_text('[[sizes]]\npart = "housing"\n', encoding="utf-8")
    said = call("record", str(job), "--merge", str(file))
    assert said.exit_code == 2 and "Write [[size]]" in said.stderr
    assert not (tmp_path / "my-lathe-record").exists()
