"""The topics: every question the commands answer and the package holds the answer of.

A new topic is one entry of TOPICS, its functions in ``planner.output.answers`` and its sheet in
``planner.output.sheets``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.output import answers, files, page_files
from planner.output.topic import BOOK, SHEETS, Copy, Instead, OnMaking, Option, Records, Topic

if TYPE_CHECKING:
    from planner.output.plan import Plan
    from planner.words.findings import Finding


class UnknownTopic(LookupError):
    """There is no topic of that name; the message names those there are."""


def topic(name: str) -> Topic:
    """The topic of a name. Raises UnknownTopic."""
    for one in TOPICS:
        if one.name == name:
            return one
    known = ", ".join(one.name for one in TOPICS)
    raise UnknownTopic(f"no topic {name!r}; the topics are {known}")


def build_findings(plan: Plan) -> tuple[Finding, ...]:
    """What to look at first before building: the plan's findings, then those of every topic."""
    from planner.words.findings import once

    found = plan.findings
    for one in TOPICS:
        found += one.findings(plan, one.asked(one.packaged))
    return once(found)


def _keys(text: str) -> tuple[str, ...]:
    return tuple(text.split())


PASSES = (
    "ball number kind turns divisions reads radius_mm depth_mm arcs_deg removed_mm3 rev_min"
    " deg_per_turn"
    " seconds passive_N deflection_mm grip_factor held_by speed_by"
)
"""The columns of passes, of a first and of a second holding."""


SETUP_KEYS = "number part piece with_parts stage machine hold align minutes caution holding"
OPERATION_KEYS = (
    "number setup part piece kind feature stage text place note caution cut allowance_mm tool speed_rpm"
    " speed_from feed_mm_per_rev cuts depth_mm stock_mm divided eased puts_on tries coolant minutes"
    " minutes_basis measure needs makes prepares"
)
"""The keys of a set-up's and an operation's record."""


TOPICS: tuple[Topic, ...] = (
    Topic(
        name="sizes",
        summary="Print every size of the attachment and what its swing needs.",
        examples=(
            "pommel sizes examples/bench-lathe.toml --explain",
            "pommel sizes examples/bench-lathe.toml --largest",
        ),
        about="With --largest, bound is what stops a larger ball; null when no ball works.",
        columns={
            "sizes": _keys("size value origin rule source"),
            "fits": _keys(
                "fit hole_class shaft_class hole_least_mm hole_most_mm shaft_least_mm shaft_most_mm"
                " play_least_mm play_most_mm"
            ),
            "reach": _keys("what length_mm where"),
        },
        tables=answers.sizes_tables,
        text=answers.sizes_text,
        packaged={"explain": True},
        options=(Option("explain", "Each size's rule and source too.", default=False),),
        instead=(
            Instead(
                "largest",
                "Only the largest ball this lathe can take.",
                _keys("format job largest_ball_mm bound findings"),
                answers.largest_reply,
            ),
        ),
    ),
    Topic(
        name="check",
        first="check.txt",
        summary="Print whether it will clear and hold, how much it bends and how round the ball"
        " will be.",
        examples=(
            "pommel check examples/bench-lathe.toml",
            "pommel check examples/bench-lathe.toml --prefer light --write lighter.toml",
        ),
        about="Then what a search of all stock, reamer and thread choices would take otherwise; not for"
        " an upright pivot, whose base is your own. Exit code 1 when a finding says not to build.",
        columns={
            "clearance": _keys(
                "ball diameter_mm start_deg end_deg ends_at stick_out_mm relief_mm cross_slide_mm"
                " beside_blank_mm"
            ),
            "gaps": _keys("ball obstacle distance_mm least_mm part swing_deg tip_radius_mm"),
            "tool_post": _keys("what needed_mm lathe_mm note"),
            "forces": _keys("what value"),
            "deflection": _keys("link deflection_mm main_mm share play_mm thicken mend"),
            "work": _keys("ball stem_mm free_mm mm_per_N passive_N bends_mm"),
            "strength": _keys("part stress_MPa limit_MPa safety thicken source"),
            "clamp": _keys("what value"),
            "budget": _keys("source size_mm form_mm by"),
            "ball_errors": _keys("ball diameter_mm size_mm form_mm size_95_mm form_95_mm pip_mm"),
            "search": _keys("what value"),
            "outcome": _keys("what now best"),
            "choices": _keys("size now best origin"),
            "next_up": _keys("size now larger origin deflection_mm mass_kg"),
        },
        tables=answers.check_tables,
        findings=answers.check_findings,
        stops=("refused",),
        files=files.check_files,
        packaged={"prefer": None},
        options=(
            Option(
                "prefer",
                "What the search of all choices that fit prefers.",
                default="stiff",
                choices=("stiff", "light", "on-hand"),
            ),
            Option(
                "arrangement",
                "Pivot across the bed in the tool post, or upright on the cross slide.",
                default="across",
                choices=("across", "upright"),
                plans=True,
            ),
        ),
        copy=Copy(
            "Write a copy of the job with the sizes found; JOB itself is left alone.",
            "Add the sizes printed by hand",
            answers.check_copy,
        ),
    ),
    Topic(
        name="cutlist",
        folder="cutting",
        summary="Print the pieces to saw, the bars to saw them from, and the items to buy.",
        examples=(
            "pommel cutlist examples/bench-lathe.toml",
            "pommel cutlist examples/bench-lathe.toml --write after.toml",
        ),
        about="Least cost, then least length drawn, proven for each section: proofs[] holds what the"
        " proof needs to be gone over again without a solver (barcut.check_proof); there demands are"
        " lists of length, quantity, name, and bars of length, available, cost, name.",
        columns={
            "pieces": _keys(
                "section material taken_from part piece quantity finished_mm facing_mm grip_mm saw_mm"
                " swarf_kg"
            ),
            "bars": _keys("bar count section material origin length_mm saw_mm drop_mm price"),
            "cuts": _keys("bar cut stop_mm set_anew piece left_mm"),
            "stock": _keys("section material bars drawn_mm drop_mm sawn_kg drawn_kg price proven"),
            "buying": _keys("section material length_mm number price cutting_charge total"),
            "rack_after": _keys("section material length_mm quantity"),
            "bought": _keys(
                "quantity kind thread length_mm outside_mm inside_mm thickness_mm standard use"
            ),
        },
        tables=answers.cutlist_tables,
        records=(
            Records(
                "proofs",
                _keys("section material unit_mm kerf demands bars plan"),
                answers.cutlist_proofs,
            ),
        ),
        findings=answers.cutlist_findings,
        files=files.cutlist_files,
        copy=Copy(
            "Write a copy of the job with the rack as it is after sawing; JOB is left alone.",
            "Change the rack by hand",
            answers.cutlist_copy,
        ),
    ),
    Topic(
        name="flat",
        summary="Print the flat pieces and where they lie on the sheets of the shop.",
        examples=(
            "pommel flat examples/bench-lathe.toml",
            "pommel flat examples/bench-lathe.toml --process saw",
        ),
        about="Parts of a thickness that lies in the shop as [[shop.sheet]], a template of each shaped"
        " piece and a drilling jig from thin sheet. pommel build writes the DXF files. flat_cuts is for"
        " the saw only.",
        folder="cutting",
        columns={
            "flat_pieces": _keys("piece use quantity material thickness_mm cut_from"),
            "flat_sheets": _keys(
                "thickness_mm material number sheet length_mm width_mm pieces used_mm left_mm"
            ),
            "flat_places": _keys("thickness_mm material sheet piece copy x_mm y_mm turn_deg"),
            "flat_cuts": _keys("thickness_mm material sheet cut panel along position_mm length_mm"),
        },
        tables=answers.flat_tables,
        findings=answers.flat_findings,
        files=files.flat_files,
        options=(
            Option(
                "process",
                "A torch cuts any outline; a saw cuts straight, from edge to edge.",
                default="plasma",
                choices=("plasma", "saw"),
            ),
        ),
    ),
    Topic(
        name="route",
        summary="Print the order of operations, by set-up.",
        examples=("pommel route examples/bench-lathe.toml",),
        number=2,
        about="after holds the numbers of the operations that must be done first. setups[] and"
        " operations[] hold the same as data: how the work is held, what each cut takes away, with what"
        " and between which surfaces it is measured. aids[] are made first, those with a saw_mm as"
        ' pieces of the cut list; outfit[] is what the shop must have: has is "yes", "no", "made'
        ' first" or, where the job file says nothing of it, "look".',
        columns={
            "route": _keys(
                "number setup part piece stage kind machine holding datum text place tool speed_rpm"
                " feed_mm cuts depth_mm coolant minutes measure gauge note caution makes prepares after"
                " done"
            ),
            "aids": _keys("setup name size material stock quantity saw_mm made"),
            "outfit": _keys("kind name setups has instead"),
            "as_made": _keys(
                "hole_part hole hole_mm shaft_part shaft shaft_mm state least_mm greatest_mm"
                " play_least_mm play_greatest_mm do"
            ),
            "undone": _keys("part feature why steps"),
            "assumed": _keys("key what"),
            "fewest": _keys("what found least gap"),
            "missing": _keys("part what remedy"),
            "order": _keys("setup after reason"),
        },
        records=(
            Records("setups", tuple(SETUP_KEYS.split()), answers.route_setups),
            Records("operations", tuple(OPERATION_KEYS.split()), answers.route_operations),
        ),
        tables=answers.route_tables,
        findings=answers.route_findings,
        text=answers.route_text,
        packaged={"explain": False},
        options=(
            Option("explain", "Why each set-up waits for others, at the end.", default=False),
        ),
    ),
    Topic(
        name="dial",
        summary="Print the dial-engraving table and how to index it.",
        examples=("pommel dial examples/bench-lathe.toml",),
        columns={
            "figures": _keys("what value"),
            "dial": _keys(
                "line angle_deg angle_dms length_class line_mm numeral advance_mm diameter_change_mm"
                " arc_mm"
            ),
            "indexing": _keys(
                "plates plate ratio turns holes circle sector_holes exact error_arcsec"
                " closing_error_arcsec"
            ),
            "ways": _keys("way value"),
        },
        tables=answers.dial_tables,
        findings=answers.pdf_findings,
        files=files.dial_files,
    ),
    Topic(
        name="turn",
        summary="Print how each ball is set up, roughed, turned and measured.",
        examples=(
            "pommel turn examples/bench-lathe.toml",
            "pommel turn examples/engine-lathe.toml --ball knob",
        ),
        about="Exit code 1 when a ball of the job cannot be turned. reading_mm is null, to fill in;"
        " cross_slide_div is null when the job does not say the dial's division, held_by where a pass"
        " takes"
        " no roughing depth.",
        columns={
            "setup": _keys("ball number what value how caution"),
            "roughing": _keys(
                "ball number side tool from_mm to_mm diameter_mm infeed_mm carriage_div cross_slide_div"
            ),
            "passes": _keys(PASSES),
            "measuring": _keys("ball angle_deg meridian reading_mm"),
            "second_passes": _keys(PASSES),
            "socket": _keys("ball number what value how caution"),
            "socket_passes": _keys(
                "ball number kind to_go reads radius_mm depth_mm divisions removed_mm3 rev_min seconds"
                " passive_N deflection_mm"
            ),
            "socket_measuring": _keys("ball what wanted_mm least_mm most_mm reading_mm"),
        },
        tables=answers.turn_tables,
        text=answers.turn_text,
        findings=answers.turn_findings,
        files=files.turn_files,
        options=(Option("ball", "Only this ball of the job.", metavar="NAME", plans=True),),
    ),
    Topic(
        name="drawings",
        summary="A dimensioned sheet of each part, piece and weldment, and the flat profiles.",
        first=SHEETS,
        folder="drawings",
        needs="solids",
        made_of=files.drawings_made_of,
        on_making=OnMaking("sheet-too-small", files.drawing_findings),
        files=files.drawing_files,
    ),
    Topic(
        name="solids",
        summary="Each part and the whole attachment, as STEP.",
        folder="solids",
        needs="solids",
        made_of=files.solids_made_of,
        files=files.solid_files,
    ),
    Topic(
        name="pictures",
        summary="Pictures of the attachment alone, taken apart and on the lathe, as PNG.",
        folder="pictures",
        needs="solids",
        made_of=page_files.pictures_made_of,
        files=page_files.picture_files,
    ),
    Topic(
        name="page",
        summary="One page for the phone at the lathe: all of it, in a browser.",
        first=page_files.PAGE,
        files=page_files.page_files,
    ),
    Topic(
        name="book",
        summary="The build book: everything to build by, in the order of the work, to print.",
        first=BOOK,
        needs="solids",
        made_of=files.book_made_of,
        files=files.book_files,
    ),
)
