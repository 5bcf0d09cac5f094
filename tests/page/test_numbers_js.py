"""Numbers as the page writes and reads them, against Python's own formatting and planner.words."""

from __future__ import annotations

import random
import struct

from page_node import in_node

from parts.standard.fits import Limits
from planner.words.numbers import INCH, METRIC
from planner.words.units import UnitError, length_mm


def doubles(count: int) -> list[float]:
    """Of every size, with exact halves among them."""
    rng = random.Random(7)
    found = [0.0, -0.0, 0.5, 1.5, 2.5, -0.5, 0.125, 0.375, 1e-7, 999999.5, 1e22, 0.00009999995]
    while len(found) < count:
        kind = rng.random()
        if kind < 0.4:
            found.append(rng.uniform(-300, 300))
        elif kind < 0.6:
            found.append(rng.randrange(-4000, 4000) / 2 ** rng.randrange(1, 8))  # ties
        elif kind < 0.8:
            found.append(round(rng.uniform(-100, 100), rng.randrange(1, 6)))
        else:
            (value,) = struct.unpack("d", rng.randbytes(8))
            if abs(value) < 1e30 and abs(value) > 1e-30:
                found.append(value)
    return found


def test_digits_are_pythons() -> None:
    values = doubles(3000)
    body = (
        "return [0,1,2,3,4,7].map((n) => pommel.fixed(one, n))"
        ".concat([1,3,6].map((n) => pommel.general(one, n)), [String(pommel.round(one, 7) === 0)])"
    )
    for value, found in zip(values, in_node(["numbers.js"], body, values), strict=True):
        wanted = [f"{value:.{n}f}" for n in (0, 1, 2, 3, 4, 7)]
        wanted += [f"{value:.{n}g}" for n in (1, 3, 6)]
        if value == 0:  # JSON has no negative zero
            found, wanted = [x.lstrip("-") for x in found], [x.lstrip("-") for x in wanted]
        assert found[:9] == wanted, value
        assert found[9] == str(round(value, 7) == 0).lower()


def test_lengths_are_written_as_the_sheets_write_them() -> None:
    rng = random.Random(3)
    values = [rng.uniform(-80, 300) for _ in range(500)]
    values += [25.4 * rng.randrange(-200, 700) / 64 for _ in range(500)]
    body = (
        "return [false, true].flatMap((inch) => { const n = new pommel.Numbers(inch);"
        "return [n.size(one), n.micrometer(one), n.error(one), n.exact(one, 4), n.plain.size(one)] })"
    )
    for mm, found in zip(values, in_node(["numbers.js"], body, values), strict=True):
        wanted = []
        for n in (METRIC, INCH):
            wanted += [n.size(mm), n.micrometer(mm), n.error(mm), n.exact(mm, 4), n.plain.size(mm)]
        assert found == wanted, mm


def test_rules_and_limits_are_written_as_the_sheets_write_them() -> None:
    rng = random.Random(5)
    values = []
    for _ in range(500):
        low = rng.uniform(0.5, 150.0)
        values.append([low, low + 10 ** rng.uniform(-4, 0.5)])
    values += [[12.0, 12.018], [11.983, 11.994], [25.4, 25.4], [12.7, 12.7254]]
    body = (
        "return [false, true].flatMap((inch) => { const n = new pommel.Numbers(inch);"
        "return [n.rule(one[1]), n.between(one[0], one[1])] })"
    )
    for (low, high), found in zip(values, in_node(["numbers.js"], body, values), strict=True):
        size = Limits(0.0, high, low, "")
        wanted = []
        for n in (METRIC, INCH):
            wanted += [n.rule(high), n.between(size)]
        assert found == wanted, (low, high)


TYPED = (
    *("12.01", "12.01 mm", "1/2 in", "3-7/8", "3 7/8 in", '1/2"', "2 cm", "0.5 ft", "-3", "1e2"),
    *("", "abc", "12 kg", "1/0", "12..3", "mm", "  7.5  ", ".5", "5.", "0x10", "12 mmm", "+4 mm"),
)


def test_what_is_typed_is_read_as_the_files_are() -> None:
    body = "return [pommel.lengthMm(one, 'mm'), pommel.lengthMm(one, 'in')]"
    for text, found in zip(TYPED, in_node(["numbers.js"], body, list(TYPED)), strict=True):
        for unit, mm in zip(("mm", "in"), found, strict=True):
            try:
                wanted = length_mm(text, unit)
            except UnitError:
                wanted = None
            assert mm == wanted, (text, unit)


def test_a_comma_is_taken_for_the_point_of_other_keyboards() -> None:
    assert in_node(["numbers.js"], "return pommel.lengthMm(one, 'mm')", ["12,01"]) == [12.01]
