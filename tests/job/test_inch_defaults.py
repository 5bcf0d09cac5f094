"""What an inch job has where it does not say: metals, clearances and templates of an inch shop."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jobs import changed

from planner.job.reading import job_from
from planner.job.template import job_template, own_head_template, readings_template
from planner.making.chucked import centre_drill
from planner.making.workshop import Workshop
from planner.measuring.readings import read_readings
from planner.turning.measured_head import measured_head, own_give_mm_per_N
from planner.words.findings import BadInput
from planner.words.numbers import INCH, METRIC

PER_LBF = 4.4482216152605
"""Newtons in a pound of force: the pound of 1959 under 9.80665 m/s2."""


def test_metals_are_those_of_astm_and_what_is_said_stays() -> None:
    # mild steel, medium carbon steel, free-cutting brass: ASTM A29 and A108, B16 (common practice)
    job = job_from(changed("inch-lathe", materials=None), "job.toml")
    assert job.materials.model_dump() == {
        "structure": "1018", "shaft": "1018", "screw": "1045", "dial": "C360",
    }  # fmt: skip
    said = job_from(changed("inch-lathe", materials={"screw": "12L14"}), "job.toml")
    assert (said.materials.screw, said.materials.dial) == ("12L14", "C360")
    assert job_from(changed("bench-lathe", materials=None), "job.toml").materials.dial == "CW614N"


def own(inch: bool) -> dict[str, Any]:
    return tomllib.loads(own_head_template(inch))


def test_a_head_of_ones_own_keeps_five_sixtyfourths_clear() -> None:
    # 2 mm are 5.04 of 64
    job = job_from(own(True), "job.toml")
    assert job.own_head is not None and abs(job.own_head.clearance / 25.4 - 5 / 64) < 1e-9
    data = own(True)
    data["own_head"]["clearance"] = "1/16 in"
    given = job_from(data, "job.toml").own_head
    assert given is not None and given.clearance == 1.5875
    metric = job_from(own(False), "job.toml").own_head
    assert metric is not None and metric.clearance == 2.0


def test_a_new_inch_file_speaks_of_pounds_horsepower_and_a_quarter_inch_anvil() -> None:
    said = own_head_template(True) + readings_template(True) + job_template(True)
    assert 'grip = "55 lbf"' in said and 'motor_power = "1/2 hp"' in said
    assert 'anvil = "1/4 in"' in said and 'clamp_torque = "18 in-lb"' in said
    assert not re.search(r'"[\d.]+ (?:N|kW|Nm)"|price_per_metre', said)
    job = job_from(own(True), "job.toml")
    assert job.own_head is not None and abs(job.own_head.grip / PER_LBF - 55) < 1e-9


def test_an_inch_micrometer_has_anvils_of_a_quarter_inch(tmp_path: Path) -> None:
    file = tmp_path / "readings.toml"
    row = '[[reading]]\nangle = 90\ndiameter = "2 in"\n'
    for said, mm in (("", 6.35), ('anvil = "5/16 in"\n', 7.9375)):
        file.write_text(f'accuracy = "0.0002 in"\n{said}{row}', encoding="utf-8")
        job = job_from(changed("inch-lathe"), "job.toml")
        assert read_readings(file, job).measured.anvil_mm == mm
    file.write_text(f'accuracy = "0.005 mm"\n{row}', encoding="utf-8")
    assert read_readings(file, job_from(changed(), "job.toml")).measured.anvil_mm == 6.4


def test_how_far_the_tip_gives_is_under_twenty_pounds() -> None:
    data = own(True)
    data["own_head"]["gives"] = "0.002 in"
    job = job_from(data, "job.toml")
    assert job.own_head is not None
    wanted = 0.002 * 25.4 / (20 * PER_LBF)
    assert abs(measured_head(job.own_head, job).spring(20.0) / wanted - 1) < 1e-9
    assert abs(own_give_mm_per_N(job.own_head) / (0.002 * 25.4 / 100) - 1) < 1e-9


def test_templates_of_an_inch_shop_have_nothing_metric_but_what_may_be_written_so() -> None:
    for text in (own_head_template(True), readings_template(True)):
        tomllib.loads(text)
        assert re.findall(r"\d ?mm\b", text.replace('"45 mm"); a bare', "")) == []
        assert "kilowatt" not in text  # the plate of a motor there has horsepower (NEMA MG 1)
        assert "100 N" not in text and "M8" not in text and "CW614N" not in text
        assert not re.search(r" +$|\"#", text, re.M)


def test_centre_drills_are_sold_by_number_in_inches() -> None:
    # ASME B94.11M, plain type: No.3 has a pilot of 7/64, No.1 of 3/64 (from memory)
    assert centre_drill(100.0, INCH) == ("No.4 (1/8 in)", 3.175)
    assert centre_drill(2.12 * 7 / 64 * 25.4, INCH)[0] == "No.3 (7/64 in)"
    assert centre_drill(2.12 * 7 / 64 * 25.4 - 0.01, INCH)[0] == "No.2 (5/64 in)"
    assert centre_drill(0.1, INCH)[0] == "No.0 (1/32 in)"
    assert centre_drill(100.0, METRIC) == ("3.15 mm", 3.15)
    assert centre_drill(5.31, METRIC) == ("2.5 mm", 2.5)


def test_readings_of_one_micrometer_have_the_same_decimals_in_either_language() -> None:
    """A micrometer of tenths is read to tenths, the noughts too (common practice)."""
    for inch, places in ((True, 4), (False, 3)):
        read = tomllib.loads(readings_template(inch))["reading"]
        found = [one["diameter"].split()[0].partition(".")[2] for one in read]
        assert len(found) == 4 and {len(one) for one in found} == {places}


def test_a_carriage_dial_of_an_inch_lathe_is_of_five_thousandths() -> None:
    # five or ten thousandths, or a 64th (common practice); 0.004 in is a tenth of a millimetre
    assert 'carriage_division = "0.005 in"' in own_head_template(True)
    assert 'carriage_division = "0.1 mm"' in own_head_template(False)
    assert 'cross_slide_division = "0.001 in"' in own_head_template(True)


def test_a_saw_of_an_inch_shop_takes_a_sixteenth_where_nothing_is_said() -> None:
    """A band or hand saw's blade with its set (common practice); 5/64 in was 2 mm converted."""
    job = job_from(changed("inch-lathe", **{"shop.kerf": None}), "job.toml")
    assert job.inch and INCH.plain.size(job.shop.kerf) == "1/16"
    assert job_from(changed("bench-lathe", **{"shop.kerf": None}), "job.toml").shop.kerf == 2.0


def test_drills_of_the_shop_are_said_by_number_and_letter_too() -> None:
    # ASME B94.11M, from memory: #7 is 0.201 in, #36 0.1065, F 0.257, U 0.368, Z 0.413; 27/64 is 0.4219
    said = ["#7", "No.36", "F", "letter U", "z", "27/64", "1/2 in", "13.5 mm", 0.25]
    job = job_from(changed("inch-lathe", **{"shop.drills": said}), "job.toml")
    inches = [0.201, 0.1065, 0.257, 0.368, 0.413, 0.421875, 0.5, 13.5 / 25.4, 0.25]
    assert job.shop.drills == pytest.approx([25.4 * one for one in inches], abs=1e-4)
    such = 'Write a drill such as "17/64", "#7" or "F"'
    mended = {"#7 drill": 'Write "#7"', "F bit": 'Write "F"', "33 drill": 'Write "#33"'}
    mended |= {"17/64 drill": 'Write "17/64"'}
    for wrong in ("AA", "#99", "No.F", "letter 7", *mended):
        told = f"shop.drills[1]: '{wrong}': not a drill. {mended.get(wrong, such)}"
        with pytest.raises(BadInput, match=re.escape(told)):
            job_from(changed("inch-lathe", **{"shop.drills": [wrong]}), "job.toml")
    # its name on the sheets: no decimals alone
    job = job_from(
        changed("inch-lathe", **{"shop.drills": ["X"], "shop.drills_to": "3/8"}), "job.toml"
    )
    own = Workshop(job).drill(0.4 * 25.4)
    assert own is not None and (own.name, round(own.diameter_mm / 25.4, 4)) == ("X", 0.397)
