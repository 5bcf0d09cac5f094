"""What a cut list and the flat pieces say, whole sentences, with the sums behind them by hand."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from parts.attachment import Attachment, attachment
from parts.standard.sections import Section
from planner.job.tables import Job
from planner.output.sheets.cutlist import cutlist_tables
from planner.sizing.apply import size_up
from planner.stock.bars import RackRow, same_section
from planner.stock.cutlist import cut_list
from planner.stock.flats import flat_plan
from planner.stock.pieces import Piece, pieces_of
from planner.words.findings import BadInput

JobWith = Callable[..., Job]
OWN = {"name": "spacer", "section": "round 33", "material": "S355", "length": 30}


@pytest.fixture(scope="module")
def made() -> Callable[[Job], Attachment]:
    """The attachment of a job's own sizes, worked out once for all that only change the stock."""
    known: list[Attachment] = []

    def of(job: Job) -> Attachment:
        if not known:
            known.append(attachment(size_up(job, "job.toml").sizes))
        return known[0]

    return of


Made = Callable[[Job], Attachment]


def told(job: Job, made: Made, about: str) -> list[tuple[str, str, str, str]]:
    """Code, severity, key and sentence of the findings on a section or a piece."""
    found = cut_list(made(job), job, "job.toml").findings
    return [(f.code, f.severity, f.key, f.text) for f in found if f.value.startswith(about)]


def test_a_piece_of_ones_own_is_sawn_as_long_as_it_is(job_with: JobWith, made: Made) -> None:
    # its length is as sawn: nothing is added to face it or to hold it by
    job = job_with(piece=[OWN | {"quantity": 4}], **{"attachment.quantity": 3})
    (own,) = [p for p in pieces_of(made(job), job) if p.part == "own"]
    assert own == Piece("own", "spacer", Section("round", 33.0), "S355", 4, 30.0, 0.0, 0.0)
    assert own.cut_mm == 30.0 and own.taken_from == Section("round", 33.0)
    # what is turned down from 35: pi / 4 (35^2 - 33^2) 30 mm, four of them, of 7.85 g/cm3
    thicker = Piece(
        "own", "spacer", own.section, "S355", 4, 30.0, 0.0, 0.0, stock=Section("round", 35.0)
    )
    assert thicker.swarf_kg == pytest.approx(106.81415 * 30 * 4 * 7.85e-6, rel=1e-6)


def test_what_is_on_no_list_is_told_with_the_bar_to_order(job_with: JobWith, made: Made) -> None:
    # a bar to cut 30 from is ordered in steps of 50
    job = job_with(piece=[OWN])
    assert told(job, made, "round 33") == [
        (
            "shortage",
            "note",
            "shop.buy",
            "round 33 S355: rack and buy list have no bar for 30 mm (own/spacer)."
            " Order 1 bar, 50 mm long, and list it; its price is not known",
        )
    ]
    # two of 30 take 61.6: the saw's 1.6 is between them, none after the last
    job = job_with(piece=[OWN | {"quantity": 2}])
    assert (
        "2 pieces of 30 mm (own/spacer): 61.6 mm with the kerfs between. Order 1 bar, 100 mm long"
        in (told(job, made, "round 33")[0][3])
    )
    # in steps of 50 mm: 150 exactly is not 200
    job = job_with(piece=[OWN | {"length": 150}])
    assert "Order 1 bar, 150 mm long," in told(job, made, "round 33")[0][3]
    job = job_with(piece=[OWN | {"length": 150.1}])
    assert "Order 1 bar, 200 mm long," in told(job, made, "round 33")[0][3]


def test_the_bar_to_order_is_told_with_the_pieces_that_are_sawn_of_it(
    job_with: JobWith, made: Made
) -> None:
    # a cutting that leaves the least over need not be the one laid out: what is told is laid out.
    # lengths and the saw's 3 mm between two of one bar come to what is printed (arithmetic)
    lengths = (300, 88, 68, 128, 244, 172)
    own = [OWN | {"name": f"s{mm}", "length": mm} for mm in lengths]
    rack = [{"section": "round 33", "material": "S355", "length": 656}]
    job = job_with(piece=own, **{"shop.rack": rack, "shop.kerf": 3})
    ((_, _, _, text),) = told(job, made, "round 33")
    cuts = cut_list(made(job), job, "job.toml")
    (group,) = (one for one in cuts.groups if one.section == Section("round", 33.0))
    ordered = [p for bar in group.bars if bar.origin == "not listed" for p in bar.pieces]
    said = [float(mm) for mm in re.findall(r"(\d+) mm \(own/", text)]
    assert said == [p.cut_mm for p in ordered]
    assert f": {sum(said) + 3 * (len(said) - 1):g} mm with the kerfs between" in text
    # bits that are bought to length, each its own bar: no saw goes between them
    wheel = OWN | {"section": "square 9", "material": "HSS", "quantity": 2}
    ((_, _, _, text),) = told(job_with(piece=[wheel]), made, "square 9")
    assert "2 pieces of 30 mm (own/spacer). Order 2 bars, 50 mm long each" in text


def test_a_piece_shorter_than_the_saw_is_wide_is_questioned(job_with: JobWith, made: Made) -> None:
    job = job_with(piece=[OWN | {"length": 1.5, "name": "shim"}, OWN | {"length": 1.6}])
    assert told(job, made, "own/") == [
        (
            "kerf",
            "warning",
            "shop.kerf",
            "own/shim 1.5 mm: shorter than the kerf, 1.6 mm. Check shop.kerf and the piece's unit",
        )
    ]


def test_more_pieces_than_can_be_laid_out_are_refused(job_with: JobWith, made: Made) -> None:
    rows = [OWN | {"name": f"s{n}", "quantity": 100_000} for n in range(51)]
    job = job_with(piece=rows)
    with pytest.raises(BadInput) as caught:
        cut_list(made(job), job, "job.toml")
    (found,) = caught.value.findings
    assert (found.code, found.key) == ("too-many-pieces", "piece")
    assert found.text == (
        "round 33 S355: cannot be laid out: demands: 5100000 pieces in all; at most 5000000. Split the"
        " job. Lower the quantities, or lay them out in several jobs"
    )


def test_a_thicker_round_is_told_with_its_swarf(job_with: JobWith, made: Made) -> None:
    buy = {"section": "round 35", "material": "S355", "length": 1000, "price": 1}
    thin = {"section": "round 33", "material": "S355", "length": 1000, "price": 90}
    # 106.81 mm2 of 1000 mm is 0.84 kg of steel
    job = job_with(piece=[OWN | {"length": 900}], **{"shop.buy": [buy, thin], "shop.turn_down": 2})
    assert told(job, made, "own/") == [
        (
            "turn-down",
            "note",
            "shop.turn_down",
            "own/spacer: round 33 is taken from round 35. Turn it down first: 0.75 kg of swarf",
        )
    ]
    # not where it may not be so much, nor where it costs more
    for changes in ({"shop.turn_down": 1.9}, {"shop.buy": [buy | {"price": 91}, thin]}):
        job = job_with(
            piece=[OWN | {"length": 900}],
            **{"shop.buy": [buy, thin], "shop.turn_down": 2} | changes,
        )
        assert told(job, made, "own/") == []


@pytest.mark.parametrize(
    "process, over, add",
    [
        (
            "plasma",
            "no room for 1 of sliding-head-arm-template: 23 cm2 over",
            "Add 1 of 68 x 70 mm (nearest: sheet 1)",
        ),
        (
            "saw",
            "no room for 1 of sliding-head-arm-template: 23 cm2 over",
            "Add 1 of 60 x 58 mm (nearest: sheet 1)",
        ),
    ],
)
def test_a_sheet_too_small_is_told_whole(
    job_with: JobWith, made: Made, process: str, over: str, add: str
) -> None:
    # a template of 58 x 40 and a jig of 60 x 30 on 60 x 40: a saw makes room for the jig alone, a
    # torch wants 5 mm at every edge, and 58 + 10 by 60 + 10 for the two
    sheet = {"thickness": 3, "width": 40, "length": 60, "material": "S235"}
    job = job_with(**{"shop.sheet": [sheet]})
    (found,) = flat_plan(made(job), job, "job.toml", process).findings
    assert (found.code, found.key) == ("sheet-shortage", "shop.sheet")
    assert found.text == f"sheet 3 mm S235: {over}. {add}"


@pytest.mark.parametrize(
    "width, thick, same",
    [
        *((16.0, 0.0, True), (16.009, 0.0, True), (16.011, 0.0, False), (15.989, 0.0, False)),
        *((16.0, 0.009, True), (16.0, 0.011, False)),
    ],
)
def test_two_sections_are_one_to_the_saw_within_a_hundredth(
    width: float, thick: float, same: bool
) -> None:
    flat = Section("flat", 16.0, 5.0)
    assert same_section(flat, Section("flat", width, 5.0 + thick)) is same
    assert same_section(Section("flat", width, 5.0 + thick), flat) is same
    assert not same_section(Section("round", 16.0), Section("square", 16.0))


def test_what_is_left_goes_back_to_the_rack_or_to_scrap(job_with: JobWith, made: Made) -> None:
    # 100 less 30 and the kerf of 1.6 leaves 68.4; 51.6 leaves 20, just worth keeping; 51.5 19.9, scrap
    for length, left in ((100.0, 68.4), (51.6, 20.0), (51.5, None)):
        rack = [
            {"section": "round 33", "material": "S355", "length": length, "quantity": 2, "cost": 3}
        ]
        job = job_with(piece=[OWN], **{"shop.rack": rack})
        after = cut_list(made(job), job, "job.toml").rack_after
        kept = [row for row in after if row.section == Section("round", 33.0)]
        section = Section("round", 33.0)
        wanted = [RackRow(section, "S355", length, 1, 3.0)]
        wanted += [RackRow(section, "S355", left, 1, 0.0)] if left else []
        assert kept == wanted


def test_the_sums_of_a_cut_list(job_with: JobWith, made: Made) -> None:
    # three of 30 from bars of 70 at 2.50: two go into one (61.6 of 70, 63.2 with the last kerf)
    buy = [{"section": "round 33", "material": "S355", "length": 70, "price": 2.5}]
    job = job_with(piece=[OWN | {"quantity": 3}], **{"shop.buy": buy})
    cuts = cut_list(made(job), job, "job.toml")
    (group,) = [g for g in cuts.groups if g.section == Section("round", 33.0)]
    assert (group.number, group.drawn_mm, group.cost, group.kerf_mm) == (2, 140.0, 5.0, 1.6)
    assert group.drop_mm == pytest.approx(70 - 63.2 + 70 - 31.6)
    assert group.mass_kg_m == pytest.approx(855.2986 * 7.85e-3, rel=1e-6)  # pi / 4 33^2 = 855.2986
    assert group.sawn_kg == pytest.approx(0.09 * group.mass_kg_m)
    assert group.proven and group.short is None
    assert [(b.origin, b.price, b.length_mm) for b in group.bars] == [("buy list", 2.5, 70.0)] * 2


def test_pieces_of_the_bar_take_their_own_grip_beside_one_that_is_not(
    job_with: JobWith, made: Made
) -> None:
    # through a bore of 30 the dial (14 + 2 to face) and the knob are turned off a bar of 28 with one
    # grip of 20 for all; beside a plug of 26 that is sawn from that bar, each has its own
    plug = {"name": "plug", "section": "round 26", "material": "CW614N", "length": 30}
    job = job_with(piece=[plug], **{"lathe.spindle_bore": 30, "shop.turn_down": 2})
    groups = cut_list(made(job), job, "job.toml").groups
    (group,) = [g for g in groups if any(p.piece == "plug" for p in g.pieces)]
    assert group.section == Section("round", 28.0) and group.kerf_mm == 1.6
    cut = {p.piece: (p.cut_mm, p.grip_mm, p.shared_grip_mm, p.from_bar) for p in group.pieces}
    assert cut["dial"] == (14 + 2 + 21.0, 21.0, 0.0, True)
    assert cut["plug"] == (30.0, 0.0, 0.0, False)


def test_what_costs_a_cent_is_saved_by_what_costs_nothing(job_with: JobWith, made: Made) -> None:
    thin = {"section": "round 33", "material": "S355", "length": 100, "price": 0.01}
    rack = [{"section": "round 35", "material": "S355", "length": 100}]
    job = job_with(piece=[OWN], **{"shop.buy": [thin], "shop.rack": rack, "shop.turn_down": 2})
    assert told(job, made, "own/")[0][0] == "turn-down"


@pytest.mark.parametrize("length, order", [("1 in", "1 in"), ("1.02 in", "2 in"), ("2 in", "2 in")])
def test_an_inch_bar_is_ordered_in_whole_inches(job_with: JobWith, length: str, order: str) -> None:
    job = job_with("inch-lathe", piece=[OWN | {"section": "round 3 in", "length": length}])
    sizes = attachment(size_up(job, "job.toml").sizes)
    (found,) = [f for f in cut_list(sizes, job, "j").findings if "own/spacer" in f.limit]
    assert f"Order 1 bar, {order} long, and list it" in found.remedy


def test_several_bars_to_order_are_so_many_of_a_length_each(job_with: JobWith) -> None:
    # ten of 4-1/32 and nine kerfs of 1/16 are 40-7/8, more than a yard: five on a bar, of which four
    # kerfs and five pieces are 20-13/32 (a yard is what dealers post, common practice)
    own = OWN | {"section": "round 3 in", "length": "4.02 in", "quantity": 10}
    job = job_with("inch-lathe", piece=[own])
    sizes = attachment(size_up(job, "job.toml").sizes)
    (found,) = [f for f in cut_list(sizes, job, "j").findings if "own/spacer" in f.limit]
    assert "no bar for 10 pieces of " in found.limit
    assert found.remedy == "Order 2 bars, 21 in long each, and list them; their price is not known"


@pytest.mark.parametrize(
    ("length", "order"),
    [
        # with nothing to spare it is cut by the rule: 1.02 in 1-1/32, two kerfs of 1/16 between three
        ("1.02 in", "1 bar, 4 in long"),
        # 3 x 3-15/16 and 2/16 are 11-15/16, on a foot; 3 x 4 and 2/16 are more
        ("3.93 in", "1 bar, 12 in long"),
        ("4 in", "1 bar, 13 in long"),
        # 3 x 11-15/16 and 2/16 are 35-15/16, on a yard; 3 x 12 and 2/16 are more
        ("11.93 in", "1 bar, 36 in long"),
        ("12 in", "2 bars, 25 in long each"),
    ],
)
def test_what_goes_on_a_yard_together_is_ordered_as_one_bar(
    job_with: JobWith, length: str, order: str
) -> None:
    """It was "Order 3 bars, 2 in long each": who buys three stubs of a bar for three short pieces?
    A yard is what a dealer posts (common practice)."""
    own = OWN | {"section": "round 3 in", "length": length, "quantity": 3}
    job = job_with("inch-lathe", piece=[own])
    sizes = attachment(size_up(job, "job.toml").sizes)
    (found,) = [f for f in cut_list(sizes, job, "j").findings if "own/spacer" in f.limit]
    assert found.remedy.startswith(f"Order {order}, and list ")


def test_a_class_set_is_ordered_as_bars_and_not_as_stubs(job_with: JobWith, made: Made) -> None:
    """It was "Order 12 bars, 50 mm long each" for twelve pieces of 30: 600 mm of stubs that no vice
    holds while the rest is sawn off them. By hand: 12 x 30 and 11 x 1.6 are 377.6, on 400; of 120
    pieces 31 and no more go on a metre (31 x 31.6 - 1.6 = 978), so four of thirty, 946.4 on 950."""
    told_of = told(job_with(piece=[OWN | {"quantity": 12}], **{"shop.kerf": 1.6}), made, "round 33")
    assert "Order 1 bar, 400 mm long, and list it" in told_of[0][3]
    many = job_with(piece=[OWN | {"quantity": 120}], **{"shop.kerf": 1.6})
    assert "Order 4 bars, 950 mm long each, and list them" in told(many, made, "round 33")[0][3]


def test_bits_are_bought_one_by_one_and_no_saw_cuts_them(job_with: JobWith, made: Made) -> None:
    """Hardened bits are sold singly, to 200 mm at the most (ISO 5421, from memory), and an abrasive
    wheel cuts them (common practice): they were ordered as one bar, and set out to be sawn."""
    job = job_with(**{"attachment.quantity": 4, "shop.rack": [], "shop.buy": []})
    (bits,) = [g for g in cut_list(made(job), job, "j").groups if g.material == "HSS"]
    assert [len(one.pieces) for one in bits.bars for _ in range(one.count)] == [1, 1, 1, 1]
    _, _, sheet, *_ = cutlist_tables(cut_list(made(job), job, "j"), made(job), job)
    (note,) = [one for one in sheet.notes if one.startswith("No saw cuts it")]
    assert "an abrasive wheel does" in note and re.search(r"tool-bit \(bar \d+\)", note)


def test_which_kerf_and_which_grip_is_whose_is_said(job_with: JobWith, made: Made) -> None:
    # a saw of 1/16 and a parting tool of 1/8 (common practice): which of them is not left to guess; nor
    # on which bar which grip is kept, six tenths of its thickness, the tool and a little
    def said(job: Job) -> tuple[str, str]:
        cuts = cut_list(made(job), job, "job.toml")
        pieces, bars, *_ = cutlist_tables(cuts, made(job), job)
        return bars.title, " ".join(pieces.notes)

    plain = job_with(**{"shop.kerf": 1.6})
    assert "(mm; kerf 1.6)" in said(plain)[0]
    through = job_with(**{"lathe.spindle_bore": 30, "attachment.quantity": 10, "shop.kerf": 1.6})
    title, note = said(through)
    assert "(mm; kerf 1.6; 3 where all of a bar is parted off)" in title
    grips = {
        g.section.label(): p.shared_grip_mm
        for g in cut_list(made(through), through, "job.toml").groups
        for p in g.pieces
        if p.shared_grip_mm
    }
    assert len(set(grips.values())) > 1 and " or " not in note
    for section in grips:
        assert re.search(rf"[ ,] [\d.]+ on {section}[,.]", note), (section, note)
