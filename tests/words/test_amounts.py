"""Forces, torques and powers as they are written in a job file, against pint's own definitions."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any

import pint
import pytest
from jobs import ROOT

from planner.job.reading import job_from, read_toml
from planner.job.tables import Job
from planner.turning.measured_head import measured_head
from planner.words.amounts import FORCE, POWER, TORQUE, Kind, amount
from planner.words.findings import BadInput
from planner.words.numbers import INCH
from planner.words.units import UnitError

JobWith = Callable[..., Job]

OUTSIDE: Any = pint.get_application_registry()
"""pint with the definitions that it comes with, which the project does not use."""

WRITTEN: tuple[tuple[Kind, str, str], ...] = (
    *((FORCE, one, one) for one in ("N", "kN", "lbf", "kgf", "ozf")),
    (FORCE, "lb", "lbf"),
    *((TORQUE, one, "N * m") for one in ("Nm", "N·m", "N m", "N-m", "N*m")),
    *((TORQUE, one, "lbf * inch") for one in ("lbf·in", "in-lb", "lb in", "in·lbf", "in lbs")),
    *((TORQUE, one, "lbf * foot") for one in ("ft-lb", "lbf·ft", "lb.ft", "ft lbf")),
    (TORQUE, "ozf·in", "ozf * inch"),
    (TORQUE, "kgf·cm", "kgf * cm"),
    *((POWER, one, one) for one in ("kW", "W", "hp")),
    (POWER, "HP", "hp"),
    (POWER, "PS", "metric_horsepower"),
    (POWER, "kgf·m/s", "kgf * m / s"),
)
BASE = {FORCE: "N", TORQUE: "N * m", POWER: "kW"}


@pytest.mark.parametrize(("kind", "unit", "of_pint"), WRITTEN)
def test_every_unit_is_worth_what_pint_says(kind: Kind, unit: str, of_pint: str) -> None:
    rng = Random(unit)
    for _ in range(20):
        many = round(rng.uniform(0.01, 900.0), 3)
        expected = (many * OUTSIDE(of_pint)).to(BASE[kind]).magnitude
        assert amount(f"{many} {unit}", None, kind) == pytest.approx(expected, rel=1e-9)
        assert amount(f"{many}{unit}", "in", kind) == pytest.approx(expected, rel=1e-9)


def test_a_fraction_and_a_bare_number() -> None:
    half = OUTSIDE.Quantity(0.5, "hp").to("kW").magnitude
    assert amount("1/2 hp", None, POWER) == amount(0.5, "in", POWER) == pytest.approx(half)
    assert amount("1-1/2 hp", "mm", POWER) == pytest.approx(3 * half)
    assert (amount(2, "mm", TORQUE), amount(2, "cm", POWER), amount("3", "m", FORCE)) == (2, 2, 3)
    inch_pound = OUTSIDE.Quantity(35, "lbf * inch").to("N * m").magnitude
    assert amount(35, "ft", TORQUE) == pytest.approx(inch_pound)


@pytest.mark.parametrize(
    ("value", "unit", "kind", "code"),
    [
        *(
            (value, "mm", FORCE, "wrong-value")
            for value in (True, None, [1], "much", "", "-3 N", "3 N/", "3 N**2")
        ),
        *((value, "mm", FORCE, "wrong-unit") for value in ("3 kg", "3 mm", "3 Nm", "3 glorps")),
        *((value, "in", TORQUE, "wrong-unit") for value in ("3 lbf", "3 lbf/in")),
        *((value, "in", POWER, "wrong-unit") for value in ("3 horses", "3 N")),
        *((value, None, POWER, "no-unit") for value in (3, "3", 0.5)),
        *((value, "in", POWER, "wrong-value") for value in (float("nan"), float("inf"), 10**400)),
    ],
)
def test_what_is_none_is_told(value: Any, unit: str | None, kind: Kind, code: str) -> None:
    with pytest.raises(UnitError) as caught:
        amount(value, unit, kind)
    assert caught.value.code == code and '"' in caught.value.remedy


def test_a_key_of_an_inch_file_takes_pounds_and_horsepower(job_with: JobWith) -> None:
    bare = {"units": "in", "lathe.motor_power": 2, "turning.clamp_torque": 18}
    said = {"units": "in", "lathe.motor_power": "2 hp", "turning.clamp_torque": "18 in-lb"}
    metric = {"lathe.motor_power": "1.4914 kW", "turning.clamp_torque": "2.0337 Nm"}
    found = []
    for changes in (bare, said, said | metric):
        data = read_toml(ROOT / "examples" / "inch-lathe.toml", "")
        data["lathe"]["motor_power"] = changes["lathe.motor_power"]
        data["turning"] = {"clamp_torque": changes["turning.clamp_torque"]}
        found.append(job_from(data, "job.toml"))
    for job in found:
        assert job.lathe.motor_power == pytest.approx(1.4914, rel=1e-4)
        assert job.turning.clamp_torque == pytest.approx(2.0337, rel=1e-4)
        assert job.findings == ()
    assert job_with(**{"lathe.motor_power": 2}).lathe.motor_power == 2


def test_a_range_is_told_in_the_units_of_the_file() -> None:
    data = read_toml(ROOT / "examples" / "inch-lathe.toml", "")
    data["lathe"]["motor_power"] = 60
    data["turning"] = {"clamp_torque": "2000 in-lb"}
    with pytest.raises(BadInput) as caught:
        job_from(data, "job.toml")
    power, torque = caught.value.findings
    assert "a power here lies between 0.0013 and 40 hp, this is 60 hp" in power.text
    assert "lbf·in, this is 2000 lbf·in" in torque.text
    assert " kW" not in power.text and "Nm" not in torque.text


def test_the_old_keys_stay_metric_in_an_inch_file() -> None:
    data = read_toml(ROOT / "examples" / "inch-lathe.toml", "")
    data["lathe"]["motor_kW"] = 0.75
    data["turning"] = {"clamp_torque_Nm": 2}
    job = job_from(data, "job.toml")
    assert (job.lathe.motor_power, job.turning.clamp_torque) == (0.75, 2.0)
    assert [one.key for one in job.findings] == ["lathe.motor_kW", "turning.clamp_torque_Nm"]
    head = read_toml(ROOT / "planner" / "job" / "new-own-head.toml", "")
    head["own_head"]["grip_N"] = 250
    del head["own_head"]["grip"]
    old = job_from(head, "job.toml")
    head["own_head"] |= {"grip": "56.2 lbf"}
    del head["own_head"]["grip_N"]
    new = job_from(head, "job.toml")
    assert old.own_head is not None and new.own_head is not None
    assert measured_head(old.own_head, old).grip_N == 250
    assert measured_head(new.own_head, new).grip_N == pytest.approx(250, rel=1e-3)


def test_a_power_goes_out_as_it_came_in() -> None:
    assert [INCH.power(amount(f"{n} hp", None, POWER)) for n in ("1/2", "2", "5")] == [
        "0.5 hp",
        "2 hp",
        "5 hp",
    ]
