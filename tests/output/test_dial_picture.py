"""The picture of the dial: lines and numerals where pitch, divisions and reading put them, by hand."""

from __future__ import annotations

from math import asin, cos, degrees, radians, sin
from xml.etree import ElementTree

import pytest
from picture_boxes import box_of, named, overlapping, points_of, smallest_pt, within_paper, words_of

from planner.dial.design import Dial, design_dial, engraving_table
from planner.dial.digits import STROKES
from planner.dial.sense import Reading
from planner.output.pictures.dial import dial_readings_svg
from planner.words.numbers import INCH, METRIC, Numbers

FINE = design_dial(125, 2.0, 40.0, rim_width_mm=9.0, line_width_mm=0.2)
COARSE = design_dial(20, 1.0, 22.0, rim_width_mm=7.0, line_width_mm=0.2)
INCH_FINE = design_dial(127, 25.4 / 10, 1.625 * 25.4, rim_width_mm=9.525, line_width_mm=0.2)
INCH_COARSE = design_dial(20, 25.4 / 20, 0.875 * 25.4, rim_width_mm=9.525, line_width_mm=0.2)
MOST = design_dial(400, 4.0, 115.0, rim_width_mm=9.0, line_width_mm=0.2)
SPARSE = design_dial(13, 1.0, 22.0, rim_width_mm=7.0, line_width_mm=0.2)
LEAST = design_dial(4, 0.5, 22.0, rim_width_mm=9.0, line_width_mm=0.2)

MARKS = [
    ("first", Reading(2, 12)),
    *((f"pass {k}", Reading(1, k % 4)) for k in range(1, 20)),
    ("spring 20", Reading(0, 0)),
    ("last", Reading(0, 0)),
]


def drawn(dial: Dial, shown: Reading) -> tuple[ElementTree.Element, dict[str, float]]:
    """One dial, and how high over the index mark each named line and numeral stands, mm."""
    root = ElementTree.fromstring(dial_readings_svg("a ball", [("first", shown)], dial, METRIC))
    found = named(root)
    ((_, mark),) = [one for one in found if one[0] == "index mark"]
    at = points_of(mark)[0][1]
    heights = {}
    for name, path in found:
        box = box_of(points_of(path))
        heights[name] = (box[1] + box[3]) / 2 - at
    return root, heights


def test_a_fine_dial_at_sixty_four() -> None:
    # 125 lines: 360 / 125 = 2.88 degrees each, on a radius of 20 mm; numbers grow upward.
    # 60 stands 4 lines below: 20 sin 11.52 = 3.994 mm; 70 six above: 20 sin 17.28 = 5.941 mm
    _, heights = drawn(FINE, Reading(1, 64))
    assert heights["line 64"] == pytest.approx(0.0, abs=0.006)
    assert [heights[k] for k in ("line 60", "60")] == pytest.approx([-3.994] * 2, abs=0.011)
    assert [heights[k] for k in ("line 70", "70")] == pytest.approx([5.941] * 2, abs=0.011)
    assert heights["line 65"] == pytest.approx(20 * sin(radians(2.88)), abs=0.011)
    assert "80" not in heights  # 16 lines on, 46 degrees: 14.4 mm up, beyond what is shown


def test_a_coarse_dial_between_two_lines() -> None:
    # 20 lines: 18 degrees each, on 11 mm. At 19.5 line 0 stands half a line above: 11 sin 9 = 1.721,
    # line 19 half a line below; numeral 15 four and a half below: 81 degrees, on the edge, not seen
    _, heights = drawn(COARSE, Reading(0, 19.5))
    assert [heights[k] for k in ("line 0", "0")] == pytest.approx([1.721] * 2, abs=0.011)
    assert heights["line 19"] == pytest.approx(-1.721, abs=0.011)
    assert "15" not in heights


@pytest.mark.parametrize("dial", [FINE, COARSE, INCH_FINE, INCH_COARSE, MOST, SPARSE, LEAST])
def test_every_line_stands_at_its_angle_and_length_wherever_it_stands(dial: Dial) -> None:
    radius, table = dial.diameter_mm / 2, engraving_table(dial)
    for number in {
        0,
        dial.divisions // 4,
        dial.divisions // 2,
        dial.divisions * 2 // 3,
        dial.divisions - 1,
    }:
        root, heights = drawn(dial, Reading(0, number))
        numbered = 0
        for name, path in named(root):
            if not name.startswith("line "):
                continue
            line = int(name.removeprefix("line "))
            # up by the lines between, the short way round: asin of its height over the radius
            between = (line - number + dial.divisions / 2) % dial.divisions - dial.divisions / 2
            angle = degrees(asin(heights[name] / radius))
            slack = degrees(
                0.012 / radius / cos(radians(angle))
            )  # a hundredth of a mm on the paper
            assert angle == pytest.approx(360.0 * between / dial.divisions, abs=slack)
            (x0, _), (x1, _) = points_of(path)
            # the lengths as the dial is designed: long at a numeral, middle half way, else short
            if table[line].numeral:
                expected = dial.long_mm
            else:
                expected = dial.short_mm if line % dial.middle_every else dial.middle_mm
            assert x0 - x1 == pytest.approx(expected, abs=0.011)
            numbered += str(line) in heights
        assert numbered >= 1, "a reading with no numeral in sight cannot be read"


def test_the_lines_are_on_the_dial_and_the_mark_on_the_ring_right_of_it() -> None:
    # free end at the chuck, on the left (dial.sense): graduated edge and ring on the right
    root, _ = drawn(FINE, Reading(0, 30))
    found = dict(named(root))
    mark, line, numeral = (box_of(points_of(found[k])) for k in ("index mark", "line 30", "30"))
    assert mark[0] == pytest.approx(line[2]) and mark[2] > mark[0] + 2.0
    assert numeral[2] < line[0] < line[2]
    assert numeral[2] == pytest.approx(line[0] - 0.5, abs=0.2)  # half a millimetre off its line


@pytest.mark.parametrize(
    ("dial", "numbers", "division"),
    [
        (FINE, METRIC, "0.016\u00a0mm"),  # 2 mm over 125
        (COARSE, METRIC, "0.05\u00a0mm"),
        (INCH_FINE, INCH, "0.00079\u00a0in"),  # a tenth of an inch over 127
        (INCH_COARSE, INCH, "0.0025\u00a0in"),  # a twentieth of an inch over 20
        (MOST, METRIC, "0.01\u00a0mm"),
    ],
)
def test_nothing_written_lies_on_anything_else(dial: Dial, numbers: Numbers, division: str) -> None:
    text = dial_readings_svg("inch-lathe: largest, 2 in", MARKS, dial, numbers)
    root = ElementTree.fromstring(text)
    boxes = words_of(root)
    said = " ".join(words for words, _ in boxes)
    assert division in said and "2 turns" in said and "spring" in said
    boxes += [(n, box_of(points_of(p))) for n, p in named(root) if not n.startswith("line ")]
    assert overlapping(boxes) == []
    assert within_paper(root, boxes) == []
    # no wider than the book's page on A4, so that it prints at full size, and read at the lathe
    assert float(root.attrib["width"].removesuffix("mm")) <= 177.0 and smallest_pt(root) >= 12.0


def test_what_reads_the_same_in_a_row_is_drawn_once() -> None:
    root = ElementTree.fromstring(dial_readings_svg("a ball", MARKS, FINE, METRIC))
    assert [n for n, _ in named(root)].count("index mark") == len(MARKS) - 1
    said = [words for words, _ in words_of(root)]
    assert "spring 20" in said and "to last" in said


def test_the_same_number_with_another_turn_to_go_is_another_reading() -> None:
    marks = [("pass 1", Reading(2, 5)), ("pass 2", Reading(1, 5))]
    root = ElementTree.fromstring(dial_readings_svg("a ball", marks, FINE, METRIC))
    assert [n for n, _ in named(root)].count("index mark") == 2


def test_a_reading_the_dial_has_no_place_for_is_refused() -> None:
    for marks in ([], [("first", Reading(0, 125))], [("first", Reading(0, -1))]):
        with pytest.raises(ValueError, match="under 125"):
            dial_readings_svg("a ball", marks, FINE, METRIC)


def test_the_digits_are_no_wider_and_no_higher_than_the_design_gives_them() -> None:
    assert set(STROKES) == set("0123456789") and len({*STROKES.values()}) == 10
    for strokes in STROKES.values():
        left, low, right, top = box_of([p for stroke in strokes for p in stroke])
        assert 0.0 <= left < right <= 0.5 and (low, top) == (0.0, 1.0)
