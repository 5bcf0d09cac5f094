"""What is said where nothing of the catalogue will do, and what is taken first, written by hand."""

from __future__ import annotations

import numpy as np
import pytest

from parts.standard.sections import Section
from planner.job.tables import Job
from planner.sizing.catalogue import Bars, Catalogue, NothingFits, Options

JOB = {
    "lathe": {
        **{"spindle_over_seat": 20, "spindle_over_cross_slide": 62, "chuck_diameter": 100},
        **{"jaw_reach": 26, "spindle_speeds": [100]},
    },
    "tool_post": {"largest_shank": 16},
    "attachment": {"max_ball_diameter": 50, "screw_pitch": "1 mm", "dial_divisions": 50},
    "shop": {
        **{"reamers": [9.0, 14.0], "tool_bits": [7.0], "taps": ["M5", "M10"]},
        "rack": [{"section": "round 33", "material": "S355", "length": 300}],
        "buy": [
            {"section": "round 31", "material": "S355", "length": 900, "price": 1},
            {"section": "round 30.5", "material": "C45", "length": 900, "price": 1},
        ],
    },
}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return Catalogue(Job.model_validate(JOB, context={"unit": "mm"}).shop, False)


def taken(options: Options) -> list[tuple[object, str]]:
    """The entries that will do, best first, each with where it is from."""
    fits = np.atleast_2d(options.fits)[:, 0]
    pairs = zip(options.items, options.origins, fits, strict=True)
    return [(item, origin) for item, origin, fit in pairs if fit]


def nothing(bars: Bars) -> object:
    return bars.width_mm > 1e6


def test_where_nothing_will_do_it_is_said_with_what_to_do(catalogue: Catalogue) -> None:
    for options, wanted, remedy in (
        (
            catalogue.reamer(200.0, 300.0),
            "no reamer of at least 200 mm is stocked",
            "List one you have",
        ),
        (
            catalogue.tool_bit(200.0),
            "no tool bit of at least 200 mm is stocked",
            "List one you have",
        ),
        (
            catalogue.tapped(np.array([200.0, 180.0]), "set screw"),
            "no set screw thread of at least 180 mm",
            "List a tap for one",
        ),
        (
            catalogue.tapped(200.0, "socket screw"),
            "no socket screw thread of at least 200 mm",
            "List a tap for one",
        ),
        (
            catalogue.nut_thread(0.5),
            "no thin nut has a thread of at most 0.5 mm",
            "Make the shaft thicker",
        ),
        (
            catalogue.section(("flat", "square"), "S355", "a width of a mile", nothing),
            "no flat or square section has a width of a mile",
            "List one you have",
        ),
    ):
        assert (options.wanted, options.remedy) == (wanted, remedy)
        assert taken(options) == []


def test_a_pitch_that_no_stout_thread_has_names_its_neighbours(catalogue: Catalogue) -> None:
    # from M12 up ISO 261 has 1, 1.25, 1.5, 1.75, 2 mm; the inch threads as thick 20 and 18 to the inch
    with pytest.raises(NothingFits) as caught:
        catalogue.of_pitch(1.3, 12.0, 20.0)
    assert caught.value.wanted == "no standard thread of 1.3 mm pitch is 12 mm or thicker"
    assert caught.value.remedy.startswith("Nearest that has: ")
    named = caught.value.remedy.removeprefix("Nearest that has: ").split(", ")
    assert named == [
        "1.25 mm",
        "20 tpi (1.27 mm)",
        "18 tpi (1.411 mm)",
        "1.5 mm",
    ]


def test_own_tools_come_before_the_stocked_while_they_are_near(catalogue: Catalogue) -> None:
    reamers = taken(catalogue.reamer(8.5, 12.0))
    # the shop's 9 within the bounds, its 14 not; then the stocked ones from the bound up
    assert reamers[0] == (9.0, "shop") and (14.0, "shop") not in reamers
    assert [origin for _, origin in reamers[1:]] == ["standard"] * (len(reamers) - 1)
    assert all(float(size) >= 8.5 for size, _ in reamers[1:])  # type: ignore[arg-type]
    assert [size for size, _ in reamers[1:4]] == sorted(size for size, _ in reamers[1:4])  # type: ignore[type-var]
    assert taken(catalogue.reamer(9.0, 9.0))[0] == (9.0, "shop")
    # a bit of 7 for one of 4.375 or more, 1.6 times as thick at most (rule of this planner)
    for least, own in ((4.375, True), (4.37, False), (7.0, True), (7.01, False)):
        found = taken(catalogue.tool_bit(least))
        assert ((Section("square", 7.0), "shop") in found) is own


def test_own_taps_come_first_to_half_as_thick_again(catalogue: Catalogue) -> None:
    for least, first in ((5.0, "M5"), (3.34, "M5"), (6.67, "M10"), (10.0, "M10")):
        thread, origin = taken(catalogue.tapped(least, "set screw"))[0]
        assert (thread.designation, origin) == (first, "shop")  # type: ignore[attr-defined]
    for least, first in ((3.33, "M4"), (5.1, "M6"), (6.66, "M8"), (10.1, "M12")):
        thread, origin = taken(catalogue.tapped(least, "set screw"))[0]
        assert (thread.designation, origin) == (first, "standard")  # type: ignore[attr-defined]
    thread, origin = taken(catalogue.tapped(7.0, "set screw", own_to=1.35))[0]
    assert (thread.designation, origin) == ("M8", "standard")  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("inch", "least", "first", "last"),
    [
        # M4 is 4.0 mm, No.8 0.164 in = 4.17, No.10 4.83, M6 6.0, 1/4 in 6.35 (ISO 261, ASME B1.1)
        (True, 3.81, ["No.8-32 UNC", "No.10-32 UNF"], ["M4"]),
        (False, 3.81, ["M4"], ["No.8-32 UNC", "No.10-32 UNF"]),
        (True, 5.0, ["1/4-20 UNC"], ["M6"]),
        (False, 5.0, ["M6"], ["1/4-20 UNC"]),
        (True, 6.4, ["M8"], ["M8"]),  # its own before one to be bought
    ],
)
def test_of_taps_of_both_languages_those_of_the_jobs_own_come_first(
    inch: bool, least: float, first: list[str], last: list[str]
) -> None:
    """Screws of one kind are bought and have one set of keys in the shop (common practice): an inch
    attachment had a single M4 in it, beside a tap of No.8. The other's come after those to be bought:
    a stud of M5 was proposed in place of one of No.10."""
    taps = ["M4", "No.8-32 UNC", "1/4-20 UNC", "No.10-32 UNF", "M6", "M8"]
    job = JOB | {"shop": {"taps": taps}}
    catalogue = Catalogue(Job.model_validate(job, context={"unit": "mm"}).shop, inch)
    found = taken(catalogue.tapped(least, "set screw"))
    origins = [origin for _, origin in found]
    names = [one.designation for one, _ in found]  # type: ignore[attr-defined]
    bought = origins.index("standard")
    assert names[:bought] == first
    assert names[len(names) - len(last) :] == last
    assert set(origins[bought : len(names) - len(last)]) == {"standard"}


@pytest.mark.parametrize(
    ("taps", "least", "most", "first"),
    [
        # No.6 is 0.138 in = 3.505 mm, No.5 3.175, M3 3.0 (ASME B1.1, ISO 261); 2.9 for a set screw, 2.8
        # for a socket screw, which is sold from No.6 up here
        (["M3", "No.6-32 UNC"], 2.9, 1.2, ("No.6-32 UNC", "shop")),
        (["M3", "No.6-32 UNC"], 2.8, 1.15, ("No.6-32 UNC", "shop")),
        (["M3", "No.8-32 UNC"], 2.9, 1.2, ("M3", "shop")),  # an inch screw too thick by far
        (["M3"], 2.9, 1.2, ("M3", "shop")),
        (["No.6-32 UNC"], 2.9, 1.2, ("No.5-40 UNC", "standard")),
    ],
)
def test_a_tap_of_the_other_language_is_not_taken_where_one_of_its_own_is_a_hair_too_thick(
    taps: list[str], least: float, most: float, first: tuple[str, str]
) -> None:
    """An inch attachment had screws of M3 in dial and index ring: the tap of No.6 is by a fiftieth
    of a millimetre thicker than the rule takes (common practice: one kind of screws)."""
    shop = Job.model_validate(JOB | {"shop": {"taps": taps}}, context={"unit": "mm"}).shop
    kind = "socket screw" if least == 2.8 else "set screw"
    thread, origin = taken(Catalogue(shop, True).tapped(least, kind, own_to=most))[0]
    assert (thread.designation, origin) == first  # type: ignore[attr-defined]


@pytest.mark.parametrize(("inch", "first"), [(True, 6.35), (False, 6.0)])
def test_of_bits_of_both_languages_those_of_the_jobs_own_come_first(
    inch: bool, first: float
) -> None:
    """An inch shop with bits of 6 mm and of 1/4 in was to order one of 6 mm: bits are sold there by
    sixteenths (common practice)."""
    job = JOB | {"shop": {"tool_bits": ["1/4 in", 6.0]}}
    catalogue = Catalogue(Job.model_validate(job, context={"unit": "mm"}).shop, inch)
    found = [one for one, origin in taken(catalogue.tool_bit(4.9)) if origin == "shop"]
    sides = [one.width_mm for one in found]  # type: ignore[attr-defined]
    assert sides[0] == pytest.approx(first) and len(sides) == 2


def test_a_nut_that_is_made_takes_an_own_tap_near_what_would_be_bought() -> None:
    """A nut's thread may be of any pitch where the nut is made; it wants a tap (common practice)."""
    for own, most, first, origin in (
        (["M16x1.5"], 18.0, "M16x1.5", "shop"),  # M16 would be bought
        (["M18x1.5", "M16"], 18.0, "M18x1.5", "shop"),
        (["M18x1.5", "M16"], 17.9, "M16", "shop"),
        (["M12"], 18.0, "M16", "standard"),  # three quarters of it: too slim
        (["Tr16x4"], 18.0, "M16", "standard"),  # a feed screw's thread: the nut would turn back
        (["M8x1"], 10.0, "M10", "standard"),
    ):
        shop = {**JOB["shop"], "taps": own}
        job = Job.model_validate({**JOB, "shop": shop}, context={"unit": "mm"})
        thread, where = taken(Catalogue(job.shop, False).made_nut_thread(most))[0]
        assert (thread.designation, where) == (first, origin)  # type: ignore[attr-defined]


def test_own_bars_come_first_within_twice_the_leanest(catalogue: Catalogue) -> None:
    def at_least(mm: float):  # type: ignore[no-untyped-def]
        return lambda bars: bars.width_mm >= mm - 1e-9

    # of 28 or more the leanest is round 28 (ISO 1035-1 has it); the rack's 33 is 1.39 times its area
    found = taken(catalogue.section(("round",), "S355", "x", at_least(28.0)))
    assert [(s.width_mm, origin) for s, origin in found[:3]] == [  # type: ignore[attr-defined]
        (33.0, "rack"),
        (31.0, "buy list"),
        (28.0, "standard"),
    ]
    # from 20 up, 33 and 31 are more than twice the area of 20: they wait for their turn
    found = taken(catalogue.section(("round",), "S355", "x", at_least(20.0)))
    assert found[0][1] == "standard"
    widths = [s.width_mm for s, _ in found]  # type: ignore[attr-defined]
    assert widths == sorted(widths) and {31.0, 33.0} <= set(widths)
    # in another material neither is there, and the one bar that is
    found = taken(catalogue.section(("round",), "C45", "x", at_least(28.0)))
    assert (found[0][0].width_mm, found[0][1]) == (30.5, "buy list")  # type: ignore[attr-defined]
    # the largest up to 32: the standards' 32, unless one's own is at least half as large
    found = taken(
        catalogue.section(("round",), "S355", "x", lambda bars: bars.width_mm <= 32.0, largest=True)
    )
    assert [(s.width_mm, origin) for s, origin in found[:2]] == [  # type: ignore[attr-defined]
        (31.0, "buy list"),
        (32.0, "standard"),
    ]
    lean = taken(catalogue.lean.section(("round",), "S355", "x", at_least(28.0)))
    assert lean[0][1] == "standard"


@pytest.mark.parametrize("loss", [0.0, 5e-7, -5e-7])
def test_a_size_at_its_limit_is_taken_whatever_a_float_loses(
    catalogue: Catalogue, loss: float
) -> None:
    # the shop's reamers of 9 and 14, its bit of 7, its taps of 5 and 10; M8 is 8 mm (ISO 724)
    def first(options: Options) -> object:
        return taken(options)[0]

    assert first(catalogue.reamer(9.0 + loss, 9.5)) == (9.0, "shop")
    assert first(catalogue.reamer(8.9, 9.0 + loss)) == (9.0, "shop")
    assert first(catalogue.reamer(10.0 + loss, 13.0)) == (10.0, "standard")
    assert first(catalogue.reamer(13.0, 14.0 + loss)) == (14.0, "shop")
    assert first(catalogue.tool_bit(7.0 + loss)) == (Section("square", 7.0), "shop")
    assert first(catalogue.tool_bit(8.0 + loss)) == (Section("square", 8.0), "standard")

    def named(options: Options) -> list[tuple[str, str]]:
        return [(one.designation, origin) for one, origin in taken(options)]  # type: ignore[attr-defined]

    assert named(catalogue.tapped(10.0 + loss, "socket screw"))[0] == ("M10", "shop")
    assert named(catalogue.tapped(8.0 + loss, "socket screw", 1.1))[0] == ("M8", "standard")
    # of a pitch of 1.25 there are M8 and the fine M10 and M12: the largest within the band
    assert named(catalogue.of_pitch(1.25, 8.0 + loss, 9.0))[0] == ("M8", "standard")
    assert named(catalogue.of_pitch(1.25, 7.0, 8.0 + loss))[0] == ("M8", "standard")
    assert named(catalogue.nut_thread(8.0 + loss))[0] == ("M8", "standard")
    # a thousandth short of it they are not
    assert first(catalogue.reamer(9.001, 9.5)) != (9.0, "shop")
    assert named(catalogue.nut_thread(7.999))[0] != ("M8", "standard")


def test_an_inch_shop_is_named_inch_pitches_alone() -> None:
    # from 1/4 in up ASME B1.1 has 28 and 24 threads to the inch (1/4 UNF, 5/16 UNF) above 20; 0.75 and
    # 1 mm are ISO's. A job in inches that asks for a metric pitch has a metric screw and is named both
    inch = Catalogue(Job.model_validate(JOB, context={"unit": "mm"}).shop, True)
    for pitch_mm, metric in ((25.4 / 30, False), (0.85, True)):
        with pytest.raises(NothingFits) as caught:
            inch.of_pitch(pitch_mm, 6.0, 20.0)
        named = caught.value.remedy.removeprefix("Nearest that has: ").split(", ")
        assert {"28 tpi", "24 tpi"} <= set(named)
        assert any("mm" in one for one in named) is metric
