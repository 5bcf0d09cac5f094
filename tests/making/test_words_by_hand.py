"""What making says beside the steps themselves: reasons, what does instead, the sheet for a welder.

Each sentence is written out here as a shop is to read it; what it tells is common practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy

import pytest
from jobs import ROOT, changed, planned
from making.shops import ALUMINIUM, of, shop
from msgspec.structs import force_setattr

from parts.part import Datum, Joined
from planner.job.reading import job_from
from planner.making import fillers, sequence, welding, workshop
from planner.making import outfit as listed
from planner.making.flame import on_the_lathe
from planner.making.holding import holdings
from planner.making.leastsetups import REASONS
from planner.making.outfit import KINDS, outfit
from planner.making.pieces import Pieces
from planner.making.welding import Welding, weld_sheet
from planner.making.workshop import Workshop


def test_why_one_set_up_comes_before_another() -> None:
    assert REASONS == {
        "stage": "pieces are made before they are joined, joined before the whole is made, slit last",
        "ends": "the ends are what the rest is measured from",
        "dressed": "a weldment is dressed before it is gripped or stands on anything",
        "cleaned": "what is welded is cleaned last: oil and chips of other work would spoil it",
        "roughed": "a surface is roughed before it is finished",
        "datum": "a feature comes after the one it is measured from",
    }
    assert sequence.RULES == {
        "piece": "a piece is worked on in one order: what is gripped and measured from must be there",
        "joining": "all pieces of a weldment are made before it is joined: afterwards they are out of"
        " reach",
        "brushed": "aluminium is brushed when the other pieces are ready: its oxide grows again"
        " meanwhile",
        "fit": "a shaft is turned to the bore as it came out: bores come first",
        "with": "what is mounted in or spotted through another part waits for that part",
        "bar": "what comes off a bar through the spindle is made in one go, to its parting off: what a"
        " later set-up of it waits for comes before the bar is drawn",
        "assembly": "all parts are there before they are put together and tried",
        "ball": "what is turned with the attachment waits until that is put together and tried",
    }


def test_what_does_for_an_instrument_that_is_not_there() -> None:
    assert listed.OWNED_BY == {
        "gauge blocks": ("gauge_blocks", "feeler gauges and bits of stock measured by micrometer"),
        "indicator": (
            "dial_indicator",
            "buy or borrow one: a scriber over thin paper is too coarse for what fits",
        ),
        "height gauge": ("height_gauge", "a scriber on gauge blocks"),
        "depth micrometer": ("depth_micrometer", "a caliper's depth rod over gauge blocks"),
        "inside micrometer": ("inside_micrometer", "telescoping gauges"),
        "telescoping": ("telescoping_gauges", "inside calipers set by a micrometer"),
        "surface plate": ("surface_plate", "a piece of float glass"),
    }
    assert listed.USED_UP == {
        "ink": "marking blue",
        "scraper": "marking blue",
        "hacksaw": "hacksaw blades, 24 and 32 teeth an inch",
    }
    assert listed.NO_TOOL == ("none", "hand", "welder")
    assert listed.MADE_GAUGES == ("plug gauge turned to size", "the mating part", "gauge nut")
    assert set(listed.SENT) == {"a welder's shop", "a shop with a grinder", "a shop with a mill"}


@pytest.mark.parametrize("example", ["bench-lathe", "inch-lathe"])
def test_a_bare_shop_is_told_what_does_for_each(example: str) -> None:
    gauges = ("dial_indicator", "gauge_blocks", "v_blocks", "telescoping_gauges", "surface_plate")
    job, _, route = of(
        example, **{"shop.reamers": [], "shop.measuring": dict.fromkeys(gauges, False)}
    )
    items = outfit(route, job)
    # tools first, then gauges, what is used up, and what no tool's name says
    kinds = [one.kind for one in items]
    assert kinds == sorted(kinds, key=("tool", "gauge", "consumable", "other").index)
    assert KINDS == ("tool", "gauge", "consumable", "other")
    gauge = {one.name: one.instead for one in items if one.kind == "gauge" and one.has == "no"}
    feelers = "feeler gauges and bits of stock measured by micrometer"
    assert gauge == {
        "dial indicator": "buy or borrow one: a scriber over thin paper is too coarse for what fits",
        "gauge blocks and indicator": feelers,
        "gauge blocks": feelers,
        "dial indicator over gauge blocks": feelers,
        "surface plate": "a piece of float glass",
    }
    reamers = [one for one in items if one.name.startswith("reamer")]
    assert reamers and {(one.has, one.instead) for one in reamers} == {("no", "buy or borrow one")}
    (blocks,) = (one for one in items if one.kind == "other")
    assert (blocks.name, blocks.setups) == ("a pair of V-blocks", ())
    assert (blocks.has, blocks.instead) == ("no", "Make it first, as an aid")
    (plug,) = (one for one in items if one.name == "plug gauge turned to size")
    assert (plug.has, plug.instead) == ("made first", "")


SAFE = [
    "  May be tacked in place on the lathe, tacks only, so that the wall comes even: the tube in the"
    " chuck, its far end on a turned plug on the tailstock, the shank in the post; return clamp on the"
    " tube itself and a strap to the shank, both bright; the tube insulated from jaws and plug, else"
    " tack it off the lathe, for current must never pass a bearing. Lathe unplugged, drives and"
    " readouts disconnected, no high-frequency start; sheet metal over the ways, oil and chips cleared,"
    " extinguisher at hand, a watch kept for half an hour. Finish it off the lathe.",
    "  The shaft weld runs all round the blind spigot bore, and would shut air in, which bursts out of"
    " the weld or later: see that the vent is clear before it is welded, and leave it open.",
    "  The welder's own judgement and local rules go before this sheet.",
]
WIPED = "  Wipe the bright faces with acetone once more just before the arc, and let it dry."
BACK = "  Comes back: as its drawing has it, square within 0.2 mm, looked at for cracks"
LATER = "  Distortion: what is worked after welding has its allowance and takes it up: "


def sheets(name: str) -> dict[str, list[str]]:
    """Weld sheets by part: of some shop's attachment."""
    job, whole, _ = shop(name)
    joined = (part for part in whole.parts if isinstance(part.blank, Joined))
    return {part.name: weld_sheet(part, Workshop(job)) for part in joined}


def test_no_plug_goes_into_a_solid_bar() -> None:
    """A housing bored out of a round bar has no hole before it is welded."""
    path = ROOT / "tests" / "data" / "shops" / "model-engineer.toml"
    plan = planned(path)
    housing = next(part for part in plan.attachment.parts if part.name == "housing")
    assert isinstance(housing.blank, Joined)
    assert {member.blank.section.shape for member in housing.blank.members} <= {
        *("round", "square", "flat")
    }
    (said,) = (one for one in weld_sheet(housing, Workshop(plan.job)) if "tacked in place" in one)
    assert "on a turned plug" not in said and "no plug: it is solid" in said
    assert "insulated from the jaws, else" in said


def test_the_sheet_a_welder_is_handed() -> None:
    metric = "S355; filler G3Si1 (ER70S-6)"  # its welder is a MIG set
    assert sheets("no mill") == {
        "housing": [
            f"Weld sheet, Housing: {metric}",
            "  upper weld: fillet weld 4.5 mm, run 46, tube to shank; tack both ends, then short runs"
            " from side to side; keep the seat flat",
            "  lower weld: flare-bevel weld 4.5 mm, run 46, tube to shank",
            "  Axes: from the bore's axis at the front face: x to the work, y up, z away from"
            " the chuck.",
            "  Place: the shank against the +z side of the tube",
            "  Place: the +x end of the shank 4.5 -x from that of the tube",
            "  Place: the +y end of the shank 4 -y from the axis of the tube",
            WIPED,
            BACK + ".",
            LATER + "pivot bore, thrust face",
            SAFE[0],
            SAFE[2],
        ],
        "rotating-body": [
            f"Weld sheet, Rotating body: {metric}",
            "  shaft weld: bevel weld 2.5 mm, run 69, shaft to block; all round in the preparation at"
            " the block's back; let it cool slowly",
            "  Axes: from the pivot axis at the thrust face: x to the work, y to the tip, z to"
            " the flat.",
            "  Place: the shaft in the spigot bore of the block",
            "  Place: the shaft home on the bottom of the spigot bore",
            WIPED,
            BACK + ".",
            LATER
            + "body thrust face, journal, thread diameter, handle pin, pivot thread, foot flat",
            SAFE[1],
            SAFE[2],
        ],
        "sliding-head": [
            f"Weld sheet, Sliding head: {metric}",
            "  rod weld: bevel weld 2 mm, run 31, rod to arm; in the chamfer at the arm's outer face,"
            " opposite runs: the rod stays square",
            "  foot weld: fillet weld 4 mm, run 25, foot to arm; on the outside; keep spatter off the"
            " rod",
            "  Axes: from the cutting tip: x off the end of the arm, y out along the rod, z to"
            " the foot.",
            "  Place: the rod in the rod hole of the arm",
            "  Place: the +y end of the rod flush with that of the arm",
            "  Place: the foot against the -y side of the arm",
            "  Place: the foot in line with the rod",
            "  Place: the -z end of the foot 32.53 +z from the axis of the rod",
            WIPED,
            BACK + ", no spatter and no clamp's mark on the rod.",
            LATER + "foot bearing face",
            SAFE[2],
        ],
    }
    # an inch shop buys by AWS A5.18 and A5.1; aluminium is welded with other rod and another current
    inch, light = sheets("inch, no dividing head"), sheets("aluminium")
    wanted = "Weld sheet, Housing: 1018; filler ER70S-6"
    assert inch["housing"][0] == wanted
    assert inch["housing"][1] == (
        "  upper weld: fillet weld 1/8 in, run 1-23/32, tube to shank; tack both ends, then short runs"
        " from side to side; keep the seat flat"
    )
    assert light["housing"][0] == ("Weld sheet, Housing: 6082-T6; filler 4043 or 5356, TIG with AC")
    assert SAFE[0] in inch["housing"] and SAFE[0] not in light["housing"]
    assert fillers.FILLERS == {
        "mild steel": "{G3Si1 (ER70S-6), TIG W3Si1|ER70S-6, TIG ER70S-2};"
        " stick {E42 4 B (E7018)|E7018}, dry",
        "medium carbon steel": "{E42 4 B (E7018)|E7018}, dry, preheated",
        "stainless steel": "308L for 304, 316L for 316",
        "aluminium": "4043 or 5356, TIG with AC",
    }


def test_aluminium_is_tacked_on_the_lathe_by_mig_alone() -> None:
    """Alternating current starts by high frequency, which the sheet forbids beside the lathe (common
    practice: wire welds aluminium on direct current); a stick's slag and a flame make no tack there."""
    tacked = {}
    for process in ("MIG", "TIG", "stick", "gas", None):
        welder = {"process": process} if process else {}
        job, whole, _ = shop("aluminium")
        job = job_from(
            changed("bench-lathe", **ALUMINIUM, **{"shop.machines": {"welder": welder}}), "job.toml"
        )
        (housing,) = (part for part in whole.parts if part.name == "housing")
        tacked[process] = SAFE[0] in weld_sheet(housing, Workshop(job))
        assert on_the_lathe(housing, Workshop(job)) == tacked[process]
    assert tacked == {"MIG": True, "TIG": False, "stick": False, "gas": False, None: False}
    plugs = {
        name: [one.name for one in shop(name)[2].aids if one.name == "tacking plug"]
        for name in ("aluminium", "no mill")
    }
    assert plugs == {"aluminium": [], "no mill": ["tacking plug"]}  # steel


@pytest.mark.parametrize(
    ("example", "shaft", "metals", "wire"),
    [("bench-lathe", "C45", "C45, S355", "E42 4 B (E7018), dry"),
     ("inch-lathe", "1045", "1018, 1045", "ER70S-6")],
)  # fmt: skip
def test_the_steel_that_hardens_decides_how_two_are_welded(
    example: str, shaft: str, metals: str, wire: str
) -> None:
    # 0.45 % carbon to mild steel: low hydrogen, preheated (common practice), whatever their names: a
    # basic electrode, dry; the inch shop has a MIG set, whose solid wire is low in hydrogen as it is
    job, whole, _ = of(example, **{"materials.shaft": shaft})
    body = next(part for part in whole.parts if part.name == "rotating-body")
    lines = weld_sheet(body, Workshop(job))
    assert lines[0] == f"Weld sheet, Rotating body: {metals}; filler {wire}, preheated"
    made = Welding(body, whole, Workshop(job)).plan()[0]
    (weld,) = (op for op in made.ops if op.kind == "weld")
    assert weld.caution == "preheat by the steel maker's sheet, cool slowly"
    # 3 minutes and one for each 20 mm: some 69 mm of run round a spigot of 22
    assert weld.minutes == pytest.approx(3 + 69 / 20, abs=0.05)


@pytest.mark.parametrize(("process", "filler"), [("TIG", "309L, as stainless to mild steel asks"),
    ("gas", "309L, as stainless to mild steel asks, with its flux")])  # fmt: skip
def test_stainless_steel_is_welded_to_mild_steel_with_the_filler_for_unlike_steels(
    process: str, filler: str
) -> None:
    # 308L and mild steel melted together harden: ER309L (AWS A5.9, from memory; common practice)
    job, whole, route = of(
        "inch-lathe",
        **{"materials.shaft": "304", "shop.machines.welder": {"process": process}},
    )
    body, housing = (
        next(part for part in whole.parts if part.name == name)
        for name in ("rotating-body", "housing")
    )
    assert weld_sheet(body, Workshop(job))[0] == (
        f"Weld sheet, Rotating body: 1018, 304; filler {filler}"
    )
    assert "309" not in weld_sheet(housing, Workshop(job))[0]
    bought = {one.name for one in outfit(route, job) if one.name.startswith("filler ")}
    assert f"filler {filler}" in bought and not any("308" in one for one in bought)


def test_what_stands_on_a_piece_of_a_weldment_is_scraped_flat() -> None:
    """A face that is turned or milled later needs none; nor one from which nothing is made in place."""
    job, whole, _ = shop("no mill")
    (body,) = (part for part in whole.parts if part.name == "housing")

    def dressed(datums: Mapping[str, Datum]) -> list[str]:
        part = copy(body)
        force_setattr(part, "datums", datums)  # as no part of the design has them
        setups = Welding(part, whole, Workshop(job)).plan()
        return [op.text.split(",")[0] for op in setups[1].ops]

    borne = sorted({x.datum for o in body.features if o.stage.name == "IN_PLACE"
                    for x in o.locations})  # fmt: skip
    first, flat, *others = dressed(body.datums)
    assert first == "chip off spatter" and flat.startswith("file and scrape ") and not others
    letter = flat.removeprefix("file and scrape ")
    assert letter in borne and body.datums[letter].of in {m.name for m in body.blank.members}  # type: ignore[union-attr]
    # the same datum on what is made later, and on an edge that is no plane
    for other in (Datum("pivot bore", "x-low", "seat"), Datum("shank", "middle", "seat")):
        assert dressed({letter: other}) == ["chip off spatter"]
    # a datum that nothing made in place is measured from
    assert dressed({"Q": body.datums[letter]}) == ["chip off spatter"]


def test_what_cannot_stand_is_laid_flat_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no face of it will do, the walk is to refuse the flat one, not some other."""
    job, whole, _ = shop("no mill")
    body = next(part for part in whole.parts if part.name == "rotating-body")
    monkeypatch.setattr(welding.b, "stands", lambda *_: False)
    block, i, sign = Welding(body, whole, Workshop(job))._laid()
    sizes = [block.size(k) for k in range(3)]
    assert (block.name, sizes[i], sign) == ("block", min(sizes), -1)
    (laid, *_) = Welding(body, whole, Workshop(job)).plan()
    assert laid.hold.words.startswith("clamped square on a flat plate, on thin packing, a block of")


def test_the_machines_for_each_kind_of_work_best_first() -> None:
    slide, bed = "milling slide", "lathe, on the cross slide"
    assert {
        "turn": ("lathe",),
        "mill": ("mill", slide, "shaper", bed, "bench"),
        "drill": ("mill", "drill press", slide, bed),
        "slot": ("mill", slide, bed, "bench"),
        "slit": ("mill", slide, bed, "bench"),
        "saw": ("bandsaw", "hacksaw"),
        "cut plate": ("torch table", "bandsaw", "hacksaw"),
        "weld": ("welder", "a welder's shop"),
        "grind": ("grinder", "a shop with a grinder"),
        "bench": ("bench",),
    } == workshop.PREFERENCE
    assert ("lathe", slide, bed) == workshop.ON_LATHE
    assert ("lathe", slide, bed, "mill", "drill press") == workshop.SPINDLES
    assert workshop.HAND == ("bench", "hacksaw", "welder", "a welder's shop", "torch table",
                             "a shop with a grinder")  # fmt: skip
    assert workshop.WATERY == ("mild steel", "medium carbon steel", "alloy steel",
                               "stainless steel", "tool steel")  # fmt: skip


LINES = (
    "close outside its scribed lines, or its DXF stuck on (cutting/); file its sides to the"
    " lines, straight and square: by them it is held and set true"
)


@pytest.mark.parametrize(
    ("machine", "held", "by"),
    [
        ("torch table", "the sheet clamped flat",
         "by its DXF (cutting/); grind the edges, a torch leaves them hard"),
        # what is fed by hand follows a line: the sheet moves on a bandsaw, the saw in a vice
        ("bandsaw", "flat on the saw's table, fed along the line by hand", LINES),
        ("hacksaw", "bench vice, gripped close to the line", LINES),
    ],
)  # fmt: skip
def test_a_piece_of_plate_is_cut_by_its_outline(machine: str, held: str, by: str) -> None:
    # the stop bar and the foot are of flat 8 mm; a sheet of that lies in the shop
    owned = {} if machine == "hacksaw" else {machine: {}}
    job, whole, _ = of(**{"shop.machines": owned})
    sheet = Workshop(job)
    part = next(part for part in whole.parts if part.name == "sliding-head")
    setups = Pieces(whole, holdings(whole, job), sheet).of_part(part)
    (cut,) = (one for one in setups if one.hold.words == held)
    (op,) = (op for op in cut.ops if op.kind == "saw")
    assert op.text == f"cut the outline of the foot from 8 mm S355 plate {by}"
    # sawn sides are no sides of a bar: 25 wide is filed and measured before a vice grips by it
    measured = [(one.what, one.gauge.name) for one in op.measures]
    assert measured == [("63 mm", "rule"), ("25 mm across", "vernier caliper")]
    assert (cut.machine, op.tool.name, op.minutes) == (machine, machine, 15.0)
    # a torch sets on fire and blinds, a hand-fed saw takes fingers (common practice)
    minded = {"torch table": "look for fire", "bandsaw": "A stick, not fingers", "hacksaw": ""}
    assert minded[machine] in op.caution and bool(op.caution) is (machine != "hacksaw")
