"""What was made against what the job asks: each size at its limits, each sentence, written by hand."""

from __future__ import annotations

import os
import threading
from pathlib import Path
from time import monotonic

import pytest
from msgspec.structs import replace

from parts.part import every_feature
from parts.standard.fits import Limits
from planner.output.plan import Plan
from planner.record.files import held
from planner.record.judge import (
    feature_sha256,
    find,
    judged,
    measured,
    out_mm,
    record_findings,
)
from planner.record.model import Entry, SizeMade, StepDone
from planner.words.findings import BadInput
from planner.words.numbers import Numbers

JOURNAL = Limits(20.0, -0.007, -0.020, "g6")
"""20 g6: 19.980 to 19.993 mm (ISO 286-2:2010, over 18 up to 30 mm)."""


@pytest.mark.parametrize(
    "value, out",
    [
        *((19.98, 0.0), (19.993, 0.0), (19.985, 0.0)),
        *((19.9930005, 0.0), (19.9799995, 0.0)),  # half a nanometre is no gauge's business
        *((19.99301, 0.00001), (19.994, 0.001), (21.0, 1.007)),
        *((19.97999, -0.00001), (19.979, -0.001), (19.0, -0.98)),
    ],
)
def test_a_size_is_out_by_what_its_limits_lack(value: float, out: float) -> None:
    assert out_mm(value, JOURNAL) == pytest.approx(out, abs=1e-9)
    assert (out_mm(value, JOURNAL) == 0) is (out == 0)


def made(value: float | str, feature: str = "journal", sha: str = "") -> SizeMade:
    said = {"part": "rotating-body", "feature": feature, "value": value, "feature_sha256": sha}
    return SizeMade.model_validate(said, context={"unit": "mm"})


def test_the_last_entry_of_a_feature_counts_and_each_is_judged(bench: Plan) -> None:
    entries = [made(19.99), made(13.0, "handle pin"), made(19.97), made(20.0), made(13.3, "gone")]
    found = judged(entries, bench.attachment)
    assert [one.entry for one in found] == entries
    assert [one.counts for one in found] == [False, True, False, True, True]
    assert [one.state for one in found] == ["as recorded"] * 4 + ["gone"]
    outs = [None if one.out_mm is None else round(one.out_mm, 6) for one in found]
    # over 19.993 by 0.007, under 19.980 by 0.010; the pin is 13 +-0.2
    assert outs == [0.0, 0.0, -0.01, 0.007, None]
    assert found[0].limits and found[0].limits.designation == "g6" and found[4].limits is None


def test_what_a_caliper_or_a_micrometer_is_put_to(bench: Plan) -> None:
    # a length, a diameter, a width across a flat, the width of a slot or a slit; a thread, a weld, a
    # shoulder, a notch, a point and a mark have no one size to measure (common practice)
    sizes = {
        (part.name, feature.name): None
        if (found := measured(feature)) is None
        else found.nominal_mm
        for part in bench.attachment.parts
        for _, feature in every_feature(part)
    }
    by_hand = {
        ("housing", "shank seat"): 14.9,
        ("housing", "oil hole"): 4.0,
        ("housing", "pivot bore"): 20.0,
        ("housing", "shank length"): 111.0,  # 46 of the tube, 1, 56 of post, 8 to the knob
        ("rotating-body", "journal"): 20.0,
        ("rotating-body", "rod bore"): 14.0,
        ("rotating-body", "clamp slit"): 1.6,
        ("sliding-head", "tool slot"): 6.1,
        ("dial", "knurl"): 24.0,
        ("dial", "scale"): 24.0,
        ("index-ring", "near ring counterbore"): 6.0,  # the head of an M3, 5.5 (ISO 4762), and 0.5
        ("knob", "ball"): 22.0,
        ("housing", "upper weld"): None,
        ("housing", "thrust face"): None,
        ("rotating-body", "pivot thread"): None,
        ("rotating-body", "handle hole"): None,
        ("index-ring", "index mark"): None,
        ("sliding-head", "arm notch"): None,
        ("tool-bit", "point"): None,
    }
    assert {name: sizes[name] for name in by_hand} == by_hand


def test_a_feature_is_known_again_by_its_sizes_and_not_by_its_words(bench: Plan) -> None:
    pin = find(bench.attachment, "rotating-body", "handle pin", "", "")
    known = feature_sha256(pin)
    assert len(known) == 16 and set(known) <= set("0123456789abcdef")
    size: Limits = pin.diameter  # type: ignore[attr-defined]
    same = [
        replace(pin, name="peg"),
        replace(pin, note="as it comes"),
        replace(pin, diameter=replace(size, nominal_mm=13)),  # type: ignore[call-arg]
        replace(pin, diameter=replace(size, nominal_mm=13.0 + 4e-7)),  # type: ignore[call-arg]
    ]
    assert [feature_sha256(one) for one in same] == [known] * len(same)
    others = [
        replace(pin, diameter=replace(size, nominal_mm=13.000002)),  # type: ignore[call-arg]
        replace(pin, diameter=replace(size, upper_mm=0.1)),  # type: ignore[call-arg]
        replace(pin, diameter=replace(size, lower_mm=-0.1)),  # type: ignore[call-arg]
    ]
    assert len({known, *map(feature_sha256, others)}) == 4
    flat = replace(pin, diameter=replace(size, upper_mm=0.0))  # type: ignore[call-arg]
    minus = replace(pin, diameter=replace(size, upper_mm=-0.0))  # type: ignore[call-arg]
    assert feature_sha256(flat) == feature_sha256(minus)
    entries = [made(13.0, "handle pin", known[:n]) for n in (1, 8, 16)]
    assert [one.state for one in judged(entries, bench.attachment)] == ["as recorded"] * 3
    wrong = [made(13.0, "handle pin", known[:-1] + ("0" if known[-1] != "0" else "1"))]
    assert [one.state for one in judged(wrong, bench.attachment)] == ["changed"]


@pytest.mark.parametrize(
    "part, feature, says",
    [
        ("hosing", "x", "hosing: no part of that name. Did you mean housing?"),
        (
            "zzz",
            "x",
            "zzz: no part of that name. Known here: housing, rotating-body, sliding-head, index-ring,"
            " dial, feed-screw, handle, knob, clamp-lever, tool-bit, pivot-nut, drag-screw, stop-bar",
        ),
        (
            "rotating-body",
            "jornal",
            "jornal: no feature of that name on the rotating-body. Did you mean journal?",
        ),
        (
            "dial",
            "journal",
            "journal: no feature of that name on the dial. It is on: rotating-body",
        ),
        (
            "knob",
            "zzz",
            "zzz: no feature of that name on the knob. Known here: knob length, knob hole, ball",
        ),
    ],
)
def test_a_name_that_is_not_there_is_told_with_the_nearest(
    bench: Plan, part: str, feature: str, says: str
) -> None:
    with pytest.raises(BadInput) as caught:
        find(bench.attachment, part, feature, "made.toml", "size[1]")
    (found,) = caught.value.findings
    assert (found.file, found.key, found.text) == ("made.toml", "size[1]", says)


def test_what_is_told_of_sizes_out_of_limits_and_of_what_is_gone(bench: Plan) -> None:
    entries: list[Entry] = [made(19.999), made(19.97), made(20.001), made(13.1, "handle pin")]
    entries += [StepDone(part="dial", feature="rib"), made(20.0, "journal", "0" * 16)]
    told = record_findings(judged(entries[:2], bench.attachment), "made.toml", Numbers(False))
    told += record_findings(judged(entries[2:5], bench.attachment), "made.toml", Numbers(False))
    told += record_findings(judged(entries[5:], bench.attachment), "made.toml", Numbers(False))
    anew = "Change the job back, or make it anew and record that"
    small = "make it anew, or its hole to it where that is still to be made"
    emery = "by fine emery, the strip held by its ends and never wrapped round"
    assert [(one.code, one.key, one.text) for one in told] == [
        (
            "out-of-limits",
            "rotating-body, journal",
            f"19.97 mm: out by 0.01 mm under; must be 19.980 to 19.993 mm. Measure again, then {small}",
        ),
        (
            "out-of-limits",
            "rotating-body, journal",
            "20.001 mm: out by 0.008 mm over; must be 19.980 to 19.993 mm. Measure again, then take"
            f" 0.008 to 0.021 mm off its diameter {emery}",
        ),
        ("not-as-recorded", "dial, rib", f"made, and not in the job any more. {anew}"),
        (
            "not-as-recorded",
            "rotating-body, journal",
            f"made to another size or place than the job now has. {anew}",
        ),
    ]


def test_who_comes_second_waits_for_the_first(tmp_path: Path) -> None:
    # two descriptors of one folder lock each other out, in one process too (flock(2))
    fcntl = pytest.importorskip("fcntl")
    first = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(first, fcntl.LOCK_EX)
    threading.Timer(0.1, lambda: os.close(first)).start()
    before = monotonic()
    with held(tmp_path, wait_s=60.0):
        assert monotonic() - before >= 0.05
