"""The job file: what it accepts, and that every problem of a bad one is told at once."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from jobs import changed

from planner.job.reading import job_from, read_job
from planner.job.template import job_template
from planner.words.findings import BadInput


def problems(data: dict[str, Any]) -> dict[str, Any]:
    """The findings of bad data by key."""
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml")
    for finding in caught.value.findings:
        assert finding.file == "job.toml"
        assert finding.limit and finding.remedy and finding.key
    return {finding.key: finding for finding in caught.value.findings}


@pytest.mark.parametrize("inch", [False, True])
def test_a_new_job_file_is_valid_as_it_stands(inch: bool) -> None:
    job = job_from(tomllib.loads(job_template(inch)), "new.toml")
    assert job.inch is inch


def test_every_problem_is_told_at_once() -> None:
    found = problems(
        changed(
            **{
                "lathe.spindle_over_seat": "20 kg",
                "lathe.jaw_reach": -4,
                "lathe.spindle_speds": [100],
                "attachment.dial_divisions": 2,
                "attachment.max_ball_diameter": float("nan"),
                "materials.structure": "S356",
                "shop.taps": ["M6", "M7"],
                "tool_post.largest_shank": None,
            }
        )
    )
    assert set(found) == {
        "lathe.spindle_over_seat",
        "lathe.jaw_reach",
        "lathe.spindle_speds",
        "attachment.dial_divisions",
        "attachment.max_ball_diameter",
        "materials.structure",
        "shop.taps[2]",
        "tool_post.largest_shank",
    }
    assert "spindle_speeds" in found["lathe.spindle_speds"].remedy
    assert found["lathe.jaw_reach"].value == "-4"


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("lathe.spindle_over_cross_slide", 62000),
        ("lathe.spindle_over_cross_slide", 0),
        ("lathe.spindle_over_cross_slide", float("inf")),
        ("lathe.spindle_over_cross_slide", "62 mm mm"),
        ("lathe.spindle_over_cross_slide", True),
        ("lathe.spindle_over_cross_slide", []),
        ("lathe.spindle_speeds", []),
        ("lathe.spindle_speeds", [0]),
        ("lathe.spindle_speeds", [float("nan")]),
        ("attachment.dial_divisions", 50.5),
        ("attachment.dial_divisions", "fifty"),
        ("attachment.screw_pitch", "0 tpi"),
        ("attachment.screw_pitch", 40),
        ("attachment.min_ball_diameter", 80),
        ("attachment.max_blank_diameter", 30),
        ("shop.kerf", -1),
        ("shop.rack", [{"section": "round 20", "material": "S355", "length": 3, "quantity": 1}]),
        ("shop.rack", [{"section": "round 20", "material": "S355", "length": 300, "quantity": 0}]),
        ("shop.buy", [{"section": "round 20", "material": "S355", "length": 300, "price": -1}]),
        ("shop.machines", {"mil": {}}),
        ("units", "yd"),
        ("standards", "imperial"),
    ],
)
def test_absurd_values_are_refused_where_they_stand(key: str, value: Any) -> None:
    found = problems(changed(**{key: value}))
    assert any(place.startswith(key) for place in found)


def test_a_bare_number_in_a_file_without_units_is_an_error() -> None:
    found = problems(changed(units=None))
    assert list(found) == ["units"] and "lathe.spindle_over_seat first" in found["units"].limit
    assert "at the top of the file" in found["units"].remedy


def test_an_unknown_table_names_the_nearest() -> None:
    found = problems(changed(**{"lath.chuck_diameter": 100}))
    assert "lathe" in found["lath"].remedy


@pytest.mark.parametrize("content", [b"a = ", b"\xff\xfe\x00", b"[lathe"])
def test_a_file_that_is_no_toml_is_one_finding(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "x.toml"
    path.write_bytes(content)
    with pytest.raises(BadInput) as caught:
        read_job(path)
    assert len(caught.value.findings) == 1


def test_a_missing_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="no such file"):
        read_job(tmp_path / "none.toml")
    with pytest.raises(BadInput, match="folder"):
        read_job(tmp_path)


@pytest.mark.parametrize("inch", [False, True])
def test_what_the_new_file_comments_out_is_right_too(inch: bool) -> None:
    text = job_template(inch)
    start, end = text.index("# The balls"), text.index("[shop]")
    kept = [line for line in text[start:end].splitlines() if "=" in line or "[" in line]
    opened = "\n".join(line.removeprefix("# ") for line in kept)
    text = text.replace(text[start:end], opened + "\n")
    for key in ("spindle_bore", "jaw_diameter", "turn_down"):
        text = text.replace(f"# {key}", key)
    job = job_from(tomllib.loads(text), "new.toml")
    assert [ball.name for ball in job.ball] == ["knob"] and job.turning.clamp_torque
    assert round(job.turning.clamp_torque, 1) == 2.0  # 2 Nm, or 18 in-lb
    assert job.lathe.spindle_bore and job.shop.turn_down
