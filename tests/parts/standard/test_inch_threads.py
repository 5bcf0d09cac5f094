"""The outsides that threads are turned to in inches: published limits, and what is printed of them."""

from __future__ import annotations

import pytest

from parts.standard.series import INCH, METRIC
from parts.standard.threads import thread, threads
from planner.words.numbers import INCH as SAYS

MM = 25.4

MAJOR_2A = {
    # ASME B1.1, limits of size of class 2A, major diameter maximum and minimum: number sizes and 5/8
    # as two public pages with the standard's table have them (seen), the others from memory
    "No.4-48 UNF": (0.1113, 0.1068),
    "No.5-44 UNF": (0.1243, 0.1195),
    "No.6-40 UNF": (0.1372, 0.1321),
    "No.8-36 UNF": (0.1632, 0.1577),
    "No.12-24 UNC": (0.2150, 0.2078),
    "No.12-28 UNF": (0.2150, 0.2085),
    "No.4-40 UNC": (0.1112, 0.1061),
    "No.5-40 UNC": (0.1242, 0.1191),
    "No.6-32 UNC": (0.1372, 0.1312),
    "No.8-32 UNC": (0.1631, 0.1571),
    "No.10-24 UNC": (0.1890, 0.1818),
    "No.10-32 UNF": (0.1891, 0.1831),
    "1/4-20 UNC": (0.2489, 0.2408),
    "1/4-28 UNF": (0.2490, 0.2425),
    "5/16-18 UNC": (0.3113, 0.3026),
    "5/16-24 UNF": (0.3114, 0.3042),
    "3/8-16 UNC": (0.3737, 0.3643),
    "3/8-24 UNF": (0.3739, 0.3667),
    "7/16-14 UNC": (0.4361, 0.4258),
    "7/16-20 UNF": (0.4362, 0.4281),
    "1/2-13 UNC": (0.4985, 0.4876),
    "1/2-20 UNF": (0.4987, 0.4906),
    "9/16-12 UNC": (0.5609, 0.5495),
    "9/16-18 UNF": (0.5611, 0.5524),
    "5/8-11 UNC": (0.6234, 0.6113),
    "5/8-18 UNF": (0.6236, 0.6149),
    "3/4-10 UNC": (0.7482, 0.7353),
    "3/4-16 UNF": (0.7485, 0.7391),
    "7/8-9 UNC": (0.8731, 0.8592),
    "7/8-14 UNF": (0.8734, 0.8631),
    "1-8 UNC": (0.9980, 0.9830),
    "1-12 UNF": (0.9982, 0.9868),
}
KNOWN = {one.designation for one in threads("unified")}


@pytest.mark.parametrize("name", [name for name in MAJOR_2A if name in KNOWN])
def test_the_outside_of_a_thread_is_that_of_its_class(name: str) -> None:
    most, least = (mm / MM for mm in thread(name).major_2a_mm)
    assert (round(most, 4), round(least, 4)) == MAJOR_2A[name]


def test_most_of_the_threads_there_are_were_held_against_published_rows() -> None:
    assert len(KNOWN & set(MAJOR_2A)) >= 32


@pytest.mark.parametrize("name", sorted(KNOWN))
def test_what_is_turned_before_a_thread_is_within_its_class_in_thousandths(name: str) -> None:
    size = INCH.major(thread(name), -0.03, -0.15)
    most, least = thread(name).major_2a_mm
    assert least - 1e-9 <= size.min_mm < size.max_mm <= most + 1e-9
    # and no more than a thousandth is lost at either end
    assert most - size.max_mm < 0.0254 and size.min_mm - least < 0.0254
    text, upper, lower = SAYS.dimensioned(size)
    for end, mm in ((upper, size.max_mm), (lower, size.min_mm)):
        assert len(end.partition(".")[2]) == len(text.partition(".")[2]) == 3
        assert float(text) + float(end) == pytest.approx(mm / MM, abs=1e-6)


def test_by_hand() -> None:
    # 3/4-10: 0.7482 to 0.7353; 1/4-20: 0.2489 to 0.2408
    assert SAYS.limits(INCH.major(thread("3/4-10 UNC"), -0.05, -0.2)) == "0.750 (-0.002/-0.014)"
    assert SAYS.between(INCH.major(thread("1/4-20 UNC"), -0.03, -0.15)) == "0.241 to 0.248 in"
    # a metric thread in an inch design: M8x1 6g is 7.974 to 7.794 mm outside (ISO 965-2, from memory)
    metric = INCH.major(thread("M8x1"), -0.03, -0.15)
    assert 7.794 <= metric.min_mm < metric.max_mm <= 7.974
    assert SAYS.between(metric) == "0.308 to 0.313 in"
    # a metric design keeps what it had, whatever the thread
    for name in ("M8x1", "1/4-20 UNC"):
        size = METRIC.major(thread(name), -0.03, -0.15)
        assert (size.upper_mm, size.lower_mm) == (-0.03, -0.15)
