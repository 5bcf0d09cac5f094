"""What the bench lathe's book says in two places is one thing: read from its PDF, or from its blocks.

What it is held against is counted from the sheets, the cut list and the attachment's own things.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from bound_books import Read, read
from jobs import EXAMPLES, ROOT, planned, unwalked

from parts.features import DrilledHole, IndexMark, TurnedBall
from parts.part import Bought, Joined, every_feature, members
from planner.book.model import Chapter, Heading, Picture, Rows, SetUp, Step, Words, page_of
from planner.drawing.frame import blank
from planner.drawing.model import Dimension, Fields, Text
from planner.output.book.pages import diameter_of
from planner.output.dial_pages import dial_pages
from planner.output.part_sheets import ground
from planner.output.plan import Plan


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Read:
    return read(ROOT / "examples" / "bench-lathe.toml", tmp_path_factory.mktemp("says"))


def chapter(plan: Plan, title: str) -> Chapter:
    return next(one for one in plan.book.chapters if one.title == title)


def steps(plan: Plan, title: str) -> Iterator[tuple[str, Step]]:
    """The steps of a chapter with the title of the set-up that each stands in."""
    setup = ""
    for block in chapter(plan, title).blocks:
        if isinstance(block, SetUp):
            setup = block.title
        elif isinstance(block, Step):
            yield setup, block


def said(step: Step) -> str:
    return " ".join([step.words, *(line.words for line in step.lines)])


def test_the_bit_is_held_by_as_many_screws_as_the_attachment_has(book: Read, bench: Plan) -> None:
    screws = [
        one
        for one in bench.attachment.placed
        if isinstance(one.item, Bought) and "holds the bit" in one.item.use
    ]
    assert len(screws) == 1
    text = " ".join(book.words)
    assert "both screws tight" not in text and text.count("its screw tight") == 3


def test_what_is_turned_after_the_assembly_is_not_put_on_in_it(bench: Plan) -> None:
    gathered = [step for _, step in steps(bench, "Assembly and alignment")]
    assert not [step for step in gathered if step.words.startswith(("Knob", "the knob"))]
    (one,) = [said(step) for step in gathered if "a nut on its other end" in said(step)]
    assert "until the knob is turned" in one
    others = [said(step) for one in bench.attachment.parts for _, step in steps(bench, one.title)]
    assert sum("its passes and readings" in words for words in others) == 1


def test_the_ring_is_turned_by_its_mark_before_its_first_hole(bench: Plan) -> None:
    """The angle between line and hole as the part has it, seen from the side that is up."""
    ring = next(part for part in bench.attachment.parts if part.name == "index-ring")
    (mark,) = [o for o in ring.features if isinstance(o, IndexMark)]
    near = next(o for o in ring.features if isinstance(o, DrilledHole) and "near" in o.name)
    head = next(
        block
        for block in chapter(bench, "Index ring").blocks
        if isinstance(block, SetUp) and any("index mark" in line.words for line in block.lines)
    )
    (words,) = [line.words for line in head.lines if "index mark" in line.words]
    number = int(head.title.removeprefix("Set-up ").partition(":")[0])
    record = next(one for one in bench.route.setup_records() if one["number"] == number)
    assert record["hold"]["up"] == "+x"  # looked at against x, y to the right where z is up
    right, up = near.axis.origin[1], near.axis.origin[2]
    assert (right, up) == (
        -8.0,
        0.0,
    )  # at nine o'clock; from z by the right hand: towards -y, so 90
    on = mark.angle_deg - 90.0
    assert (
        f"{abs(on):g} ±1 degrees {'counter-clockwise' if on > 0 else 'clockwise'} of the near"
        in words
    )
    first = next(step for setup, step in steps(bench, "Index ring") if setup == head.title)
    assert first.words.startswith("spot")
    assert (
        "clockwise from the index mark, seen from the dial's side" in near.note
    )  # the other way on


def test_no_step_of_the_dial_says_a_chucking_that_it_has_not(bench: Plan) -> None:
    done = list(steps(bench, "Dial"))
    parted = next(k for k, (_, step) in enumerate(done) if step.words.startswith("part off"))
    lines = next(k for k, (_, step) in enumerate(done) if "divisions" in step.words)
    assert parted < lines  # this shop divides on its mill
    for _, step in done:
        assert "lines in one chucking" not in said(step)
    (rim,) = [step for _, step in done if step.words.startswith("turn rim")]
    assert "before it is parted off" in said(rim)


def test_a_drill_into_the_tube_is_told_of_the_bore_that_is_there(bench: Plan) -> None:
    housing = next(part for part in bench.attachment.parts if part.name == "housing")
    (tube,) = [one for one in members(housing) if one.blank.section.shape == "tube"]
    drilled = [
        said(step)
        for _, step in steps(bench, "Housing")
        if re.match(r"drill (oil|drag) hole", step.words)
    ]
    assert len(drilled) == 2 and tube.blank.section.thickness_mm < 10
    for words in drilled:
        assert "through the wall into the tube's bore" in words and "not there yet" not in words


def test_what_is_faced_off_is_what_parting_off_leaves(bench: Plan) -> None:
    for title in ("Index ring", "Dial", "Knob", "Pivot nut", "Sliding head"):
        done = [step.words for _, step in steps(bench, title)]
        (left,) = [float(m[1]) for one in done if (m := re.match(r"part off at ([\d.]+) mm", one))]
        (long, off) = next(
            (float(m[1]), float(m[2]))
            for one in done
            if (m := re.match(r"face the other end to length ([\d.]+)[^,]*, ([\d.]+) mm off", one))
        )
        assert left == pytest.approx(long + off, abs=1e-6), title


def test_the_leaf_has_its_size_and_a_line_where_the_hinge_goes_by_it(bench: Plan) -> None:
    s = bench.sizing.sizes
    leaf = s.leaf_thickness_mm
    (slit,) = [step for _, step in steps(bench, "Rotating body") if "hinge slit" in step.words[:20]]
    assert f"its size is {leaf:g} mm" in said(slit)
    (line,) = [one for one in slit.lines if "the leaf under" in one.words and one.kind != "plain"]
    low, high = map(float, re.findall(r"[\d.]+", line.words)[:2])
    assert low < leaf < high and (low + high) / 2 == pytest.approx(leaf)
    (feature,) = [o for p in bench.attachment.parts for o in p.features if o.name == "hinge slit"]
    assert f"its size is {leaf:g} mm" in feature.note  # on the sheet too


def test_a_page_that_is_named_is_the_one_its_chapter_begins_on(book: Read) -> None:
    begins = {title: page + 1 for level, title, page in book.marks if level == 0}
    text = " ".join(book.words)
    for before, title in (
        ("dial-engraving table (", "Dividing the dial"),
        ("Cut from sheet (", "Pieces from sheet"),
        ("passes and readings: ", "Ball: knob, the first"),
    ):
        found = re.findall(re.escape(before) + r"page (\d+)", text)
        assert found and {int(one) for one in found} == {begins[title]}, title
    assert "pommel flat" not in text and "table: dial" not in text


def test_every_datum_that_a_place_is_measured_from_is_named_before(bench: Plan) -> None:
    for part in bench.attachment.parts:
        named = " ".join(
            one.words for one in chapter(bench, part.title).blocks if isinstance(one, Words)
        )
        used = {
            letter
            for _, step in steps(bench, part.title)
            for line in step.lines
            if line.words.startswith("Place: ")
            for letter in re.findall(r"from ([A-Z])\b", line.words)
        }
        assert used <= set(re.findall(r"\b([A-Z]) = ", named)), part.title


def test_a_long_step_has_a_short_heading(bench: Plan) -> None:
    heads = [step.words for one in bench.attachment.parts for _, step in steps(bench, one.title)]
    assert len(heads) > 200 and max(map(len, heads)) <= 120  # two lines on A4
    saw = next(one for _, one in steps(bench, "Rotating body") if "hinge slit" in one.words[:20])
    assert saw.words == "saw the hinge slit" and saw.lines[0].words.startswith("slit 1.6")


def test_a_caution_is_said_once_in_a_setup_and_of_burrs_once_in_a_chapter(bench: Plan) -> None:
    for part in bench.attachment.parts:
        found = [
            (setup, line.words)
            for setup, step in steps(bench, part.title)
            for line in step.lines
            if line.kind == "caution"
        ]
        assert len(found) == len(set(found)), part.title
        assert sum("Burrs cut" in words for _, words in found) <= 1
    every = [one for one in bench.route.operation_records() if one["caution"]]
    assert sum("Burrs cut" in one["caution"] for one in every) > len(bench.attachment.parts)


def test_the_tools_to_have_stand_in_a_list_to_tick_and_what_is_bought_is_said_so(
    bench: Plan,
) -> None:
    tables = {b.title: b for b in chapter(bench, "Shopping list").blocks if isinstance(b, Rows)}
    tools = [row[0] for row in tables["Tools"].rows]
    drills = [float(m[1]) for one in tools if (m := re.match(r"drill ([\d.]+) mm$", one))]
    assert len(drills) > 8 and drills == sorted(drills)
    used = {
        one["tool"]["name"]
        for one in bench.route.operation_records()
        if one["tool"]["kind"] == "drill" and one["tool"]["owned"]
    }
    assert {one for one in used if re.match(r"drill [\d.]+ mm$", one)} <= set(tools)
    bought = [row[0] for row in tables["Tools and work to be had from outside"].rows]
    for aid in bench.drawn_route.aids:
        if not aid.sawn:
            assert any(f"for the {aid.name}" in one for one in bought), aid.name


# ---- balls ----


def test_the_first_ball_has_its_setting_its_passes_and_its_readings(bench: Plan) -> None:
    """The knob as its part has it: half its diameter is the set-over, and the last pass is at 0."""
    part = next(p for p in bench.attachment.parts if p.name == "knob")
    (ball,) = [o for o in part.features if isinstance(o, TurnedBall)]
    radius = ball.diameter.nominal_mm / 2
    title = "Ball: knob, the first"
    done = {step.words.partition(":")[0]: step for _, step in steps(bench, title)}
    assert f"{radius:g} mm behind the end" in done["set-over"].words
    assert "sweep" in done and "dial zero" in done and "part off" not in done and "face" not in done
    assert [int(step.number) for step in done.values()] == list(range(1, len(done) + 1))
    tables = {b.title: b for b in chapter(bench, title).blocks if isinstance(b, Rows)}
    passes = next(rows for name, rows in tables.items() if "passes" in name)
    last = dict(zip(passes.heads, passes.rows[-1], strict=True))
    assert last["dial at"] == "0" and float(last["tip radius"]) == pytest.approx(radius)
    rough = next(rows for name, rows in tables.items() if "roughing" in name)
    assert done["rough"].words == f"rough: {len(rough.rows)} steps"
    assert {row[rough.heads.index("side")] for row in rough.rows} <= {"body", "nose", "stem"}


def test_the_first_ball_that_is_turned_shows_how_spindle_and_tip_go_round(bench: Plan) -> None:
    """Before its cuts (common practice: the sense of a cut is looked up before the first): as it was,
    the picture stood with the ball turned after it, and the knob had none of its dial's readings."""
    blocks = chapter(bench, "Ball: knob, the first").blocks
    at = {one.name.partition(",")[0]: k for k, one in enumerate(blocks) if isinstance(one, Picture)}
    tables = {one.title.partition(": ")[2].split(",")[0].split(" (")[0]: k
              for k, one in enumerate(blocks) if isinstance(one, Rows)}  # fmt: skip
    assert at["The sense of the cut"] < tables["roughing"] < tables["passes"]
    assert tables["passes"] < at["Dial at each reading"]
    shown = [one.name for other in bench.book.chapters for one in other.blocks
             if isinstance(one, Picture)]  # fmt: skip
    assert shown.count("The sense of the cut") == 1


def test_what_the_first_ball_and_the_card_lead_to_has_its_page(bench: Plan) -> None:
    """As it was: a card, and steps of a number, to be looked for among a hundred and fifty pages."""
    first = next(step for _, step in steps(bench, "First ball"))
    assert page_of("Card for each mounting") in said(first)
    card = next(b for b in chapter(bench, "Card for each mounting").blocks
                if isinstance(b, Rows) and b.heads[0] == "")  # fmt: skip
    (play,) = (row[1] for row in card.rows if row[0] == "end play")
    heads = [
        b.words for b in chapter(bench, "Assembly and alignment").blocks if isinstance(b, Heading)
    ]
    (named,) = (one for one in heads if page_of(one) in play)
    found = chapter(bench, "Assembly and alignment").blocks
    at = found.index(Heading(named))
    under = {one.number for one in found[at:] if isinstance(one, Step)}
    assert set(re.findall(r"\b\d+\b", play.partition("(")[0])) <= under


def test_a_knob_that_the_head_cannot_turn_has_no_chapter_and_no_page_is_named_for_it(
    tmp_path: Path,
) -> None:
    """Its ball is smaller than the head comes in to."""
    text = (ROOT / "examples" / "bench-lathe.toml").read_text()
    job = tmp_path / "job.toml"
    job.write_text(text.replace("[attachment]", "[attachment]\nmin_ball_diameter = 30", 1))
    plan = unwalked(job)
    (knob,) = [part for part in plan.attachment.parts if part.name == "knob"]
    (ball,) = [o for o in knob.features if isinstance(o, TurnedBall)]
    assert ball.diameter.nominal_mm < 30.0 and plan.knob is None
    assert not [one for one in plan.book.chapters if "knob" in one.title]
    turned = [
        said(step) for _, step in steps(plan, "Knob") if step.words.startswith("round the ball")
    ]
    assert turned and all("readings:" not in words for words in turned)


def test_the_knobs_stub_is_as_long_as_its_chapter_says(bench: Plan) -> None:
    """What the jaws keep off, by the clearance of the swing; and the chuck's own grip behind it."""
    (stub,) = [aid for aid in bench.drawn_route.aids if aid.name == "threaded stub"]
    (intro, *_) = [
        one.words
        for one in chapter(bench, "Ball: knob, the first").blocks
        if isinstance(one, Words)
    ]
    out = float(re.findall(r"([\d.]+) mm of it out of", intro)[0])
    (jaws,) = re.findall(
        r"Jaws at least ([\d.]+) mm",
        " ".join(said(step) for _, step in steps(bench, "Ball: knob, the first")),
    )
    part = next(p for p in bench.attachment.parts if p.name == "knob")
    (ball,) = [o for o in part.features if isinstance(o, TurnedBall)]
    behind = ball.end_mm - ball.diameter.nominal_mm / 2  # from the ball's middle to its seat
    assert out + behind == pytest.approx(float(jaws), abs=1.0) and stub.length_mm >= out + 20
    assert stub.section.width_mm * 4 >= out
    assert f"{out:g} mm of it is out of the jaws" in stub.made


def test_a_ball_explains_the_columns_and_sides_that_it_has(bench: Plan, book: Read) -> None:
    for title in ("Ball: largest", "Ball: knob, the first"):
        blocks = chapter(bench, title).blocks
        for rows in (one for one in blocks if isinstance(one, Rows)):
            notes = " ".join(rows.notes)
            assert "Held by" not in notes or "held by" in rows.heads
            assert "cm3" not in rows.title  # a volume's unit stands over its own column
            if "side" in rows.heads:
                at = rows.heads.index("side")
                sides = {row[at] for row in rows.rows}
                for side in ("body", "nose", "neck", "stem", "behind"):
                    told = re.search(rf"(?i)\b{side}\b[^.:]*:", notes)
                    assert bool(told) is (side in sides), (title, side)
        passes = next(b for b in blocks if isinstance(b, Rows) and "passes" in b.title)
        if title == "Ball: largest":
            assert f"some of the {len(passes.rows)} passes" in " ".join(book.words)


def test_a_line_of_the_dial_is_as_long_everywhere(bench: Plan, book: Read) -> None:
    rows = next(
        b
        for b in chapter(bench, "Dividing the dial").blocks
        if isinstance(b, Rows) and "class" in b.heads
    )
    at, long = rows.heads.index("class"), rows.heads.index("length")
    # a column has one way, 4.50 over 2.25; a sentence has 4.5
    lengths = {row[at]: f"{float(row[long]):g}" for row in rows.rows}
    assert set(lengths) == {"long", "middle", "short"}
    (words,) = {
        one for page in book.words for one in re.findall(r"Lines [\d.]+ mm wide: .*? long\.", page)
    }
    for name, length in lengths.items():
        assert f"{name} ones {length} mm" in words
    pages = dial_pages(bench.job.name, bench.sizing, bench.job.numbers, "")
    drawn = {
        one.feature: one.text
        for page in pages
        for one in page.items
        if isinstance(one, Dimension) and one.feature.endswith(" line")
    }
    assert drawn["short line"] == lengths["short"] and drawn["long line"] == lengths["long"]


def test_the_posts_table_has_a_head_to_each_column_and_the_bar_that_is_used(bench: Plan) -> None:
    rows = next(
        b
        for b in chapter(bench, "Assembly and alignment").blocks
        if isinstance(b, Rows) and "tool post" in b.title
    )
    assert all(rows.heads)
    (bar,) = [row for row in rows.rows if row[0].startswith("boring bar that passes")]
    most, least = float(bar[1]), float(bar[-1].split()[0])
    used = max(
        one["tool"]["diameter_mm"]
        for one in bench.route.operation_records()
        if one["tool"]["kind"] == "boring bar between centres"
    )
    assert least <= used <= most and "or more" in bar[-1]


# ---- sheets ----


def test_a_sheet_names_the_finished_length_as_that(bench: Plan) -> None:
    """The bar is sawn longer, by the cut list: no sheet calls the finished length a blank's."""
    sheet = blank(Fields("T", "t", stock="round 25 × 10"))
    words = {one.words: one.at for one in sheet.frame if isinstance(one, Text)}
    name, stock = words["Stock × finished length"], words["round 25 × 10"]
    assert "Blank" not in words and abs(name[0] - stock[0]) < 1.0 and 0 < name[1] - stock[1] < 9.0
    sawn = [
        (piece.finished_mm, piece.cut_mm)
        for group in bench.cuts.groups
        for piece in group.pieces
        if piece.section.shape == "round"
    ]
    assert len(sawn) > 8 and all(cut > finished for finished, cut in sawn)


def test_what_is_cut_from_plate_is_called_so_on_its_sheet(bench: Plan) -> None:
    """As the route cuts it: by the text of its step."""
    plated = {
        f"{one['part']}-{one['piece']}" if one["piece"] else one["part"]
        for one in bench.route.operation_records()
        if one["kind"] == "saw" and " plate " in one["text"]
    }
    assert plated and set(ground(bench).plates) == plated


def test_what_goes_over_the_shafts_end_is_on_before_the_handle_stands_across_it(
    bench: Plan,
) -> None:
    """What is narrower than a bar across a rod's end is long does not pass it (plain geometry)."""
    made = {part.name: part for part in bench.attachment.parts}
    words = [step.words for _, step in steps(bench, "Assembly and alignment")]
    (handle,) = [n for n, one in enumerate(words) if one.startswith("the handle into")]
    long = made["handle"].blank.length_mm
    for name, put in (("housing", "slipped into the housing"), ("pivot-nut", "the pivot nut over")):
        rounds = [one for _, feature in every_feature(made[name]) if (one := diameter_of(feature))]
        assert 0 < max(one.nominal_mm for one in rounds) < long
        (on,) = [n for n, one in enumerate(words) if put in one]
        assert on < handle, name


def test_the_cards_gauge_is_set_while_the_housing_stands_as_it_was_bored(
    book: Read, bench: Plan
) -> None:
    """The post holds the housing: nothing is faced on that lathe meanwhile, and once it is out the
    gauge comes late (common practice). The step and the card name each other."""
    (number,) = [
        one["number"]
        for one in bench.route.setup_records()
        if one["stage"] == "in place on the lathe" and one["part"] == "housing"
    ]
    told = [
        (setup, step)
        for one in bench.attachment.parts
        for setup, step in steps(bench, one.title)
        if "the gauge is set" in said(step)
    ]
    ((setup, last),) = told
    assert setup.startswith(f"Set-up {number}:") and last.lines[-1].words.startswith(
        "Before it comes"
    )
    own = [step for title, step in steps(bench, "Housing") if title == setup]
    assert own[-1] == last
    words = " ".join(
        one.words
        for one in chapter(bench, "Card for each mounting").blocks
        if isinstance(one, Words)
    )
    assert (
        f"as it was bored, set-up {number}:" in words and "screwed out until it just goes" in words
    )
    assert "face a bar" not in words
    assert "hand swing from stop to stop" in " ".join(" ".join(book.words).split())
    # too low for a stop bar, a head has no stops
    low = unwalked(ROOT / "tests" / "data" / "shops" / "watch-bench.toml")
    assert "stop-bar" not in {part.name for part in low.attachment.parts}
    rows = [row for one in chapter(low, "Card for each mounting").blocks if isinstance(one, Rows)
            for row in one.rows]  # fmt: skip
    (swing,) = [row[1] for row in rows if row[0] == "hand swing"]
    assert swing.startswith("from end to end")


def test_the_clamp_is_not_tightened_before_the_rod_is_in_it(bench: Plan) -> None:
    """A split clamp that is drawn together on nothing is bent past its spring (common practice): its
    lever, which is clocked tight, goes on when the rod is there, and says so itself."""
    words = [said(step) for _, step in steps(bench, "Assembly and alignment")]
    (head,) = [n for n, one in enumerate(words) if "draws the head in" in one]
    (clocked,) = [n for n, one in enumerate(words) if "the clamp lever on it" in one]
    assert head < clocked
    (lever,) = [part for part in bench.attachment.parts if part.name == "clamp-lever"]
    assert any("the rod in its bore" in note for note in lever.notes)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_fits_to_try_are_those_that_still_come_apart_with_the_play_they_are_made_to(
    path: Path,
) -> None:
    """What is welded cannot be tried any more (common practice); a journal that is made to its bore
    has the play that the route gives it, not what the limits of both would leave."""
    plan = planned(path)
    together = chapter(plan, "Assembly and alignment")
    (table,) = (o for o in together.blocks if isinstance(o, Rows) and o.title.startswith("Fits"))
    plays = {str(row[0]): str(row[-1]) for row in table.rows}
    assert len(plays) == 3 and not any("spigot" in name for name in plays)
    for shaft, fit in (("journal", "journal in pivot bore"), ("rod", "rod in rod bore")):
        (note,) = (o.note for o in plan.operations if shaft in o.makes and "came out" in o.note)
        (said,) = re.findall(r"([\d.]+) to ([\d.]+) (?:mm|in) less", note)
        play = plays[fit].split("\u00a0to\u00a0")
        assert [float(one) for one in play] == [float(one) for one in said], (fit, play, note)


def test_a_pieces_own_axes_stand_beside_the_parts(bench: Plan) -> None:
    """A side of a piece is told in its own axes, which run another way than its part's; read in the
    part's, an edge at the seat is bevelled that lies on top. Held against the piece's own frame."""
    pieces = 0
    for part in bench.attachment.parts:
        if not isinstance(part.blank, Joined):
            continue
        told = [one.words for one in chapter(bench, part.title).blocks if isinstance(one, Words)]
        for member in part.blank.members:
            (line,) = [words for words in told if words.startswith(f"Of the {member.name} alone: ")]
            ways = re.search(rf"its own x, y, z are the {part.title.lower()}'s (.+)\.$", line)
            assert ways is not None, line
            for own, way in enumerate(ways[1].split(", ")):
                ends = [[0.0, 0.0, 0.0], [0.0, 0.0, 0.0]]
                ends[1][own] = 1.0
                low, high = (member.frame.place((x, y, z)) for x, y, z in ends)
                there = [b - a for a, b in zip(low, high, strict=True)]
                as_said = [0.0, 0.0, 0.0]
                as_said["xyz".index(way[1])] = 1.0 if way[0] == "+" else -1.0
                assert there == pytest.approx(as_said), (part.name, member.name)
            pieces += 1
    assert pieces == 7
