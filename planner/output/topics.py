"""The topics: every question the commands answer and the package holds the answer of.

A new topic is one entry of TOPICS and its sheet in ``planner.output.sheets``. What an entry's functions
use they import in their bodies, so that a command loads only what answers it.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.output import files
from planner.output.topic import Asked, Copy, Instead, Option, Records, Reply, Topic

if TYPE_CHECKING:
    from planner.output.plan import Plan
    from planner.words.findings import Finding
    from planner.words.tables import Table


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


def _sizes_tables(plan: Plan, _asked: Asked) -> list[Table]:
    from planner.output.sheets.sizes import sizes_tables

    return sizes_tables(plan.sizing, plan.attachment, plan.job, explain=True)


def _sizes_text(plan: Plan, asked: Asked) -> str:
    from planner.output.sheets.sizes import sizes_tables
    from planner.words.tables import as_text

    return as_text(sizes_tables(plan.sizing, plan.attachment, plan.job, asked["explain"]))


def _largest(path: Path) -> Reply:
    from planner.job.reading import read_job
    from planner.output.sheets.largest import largest_record, largest_text
    from planner.sizing.apply import largest_ball

    job = read_job(path)
    best = largest_ball(job, str(path))
    return Reply(largest_text(best, job), largest_record(best, job), job.findings, best is not None)


def _check_tables(plan: Plan, asked: Asked) -> list[Table]:
    from planner.output.sheets.check import check_tables

    tables = check_tables(plan.clearances, plan.strength, plan.budgets, plan.job)
    if asked["prefer"] is None or plan.arrangement != "across":
        return tables
    from planner.output.sheets.choices import choices_tables

    return tables + choices_tables(plan.search(asked["prefer"]), plan.job)


def _check_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    from planner.checking.budget import budget_findings
    from planner.checking.strength import strength_findings
    from planner.checking.sweep_findings import clearance_findings

    sizes = plan.sizing.sizes
    return (
        *clearance_findings(plan.clearances, sizes, plan.job, plan.file),
        *strength_findings(plan.strength, sizes, plan.job, plan.file),
        *budget_findings(plan.budgets, plan.job, plan.file),
    )


def _check_copy(plan: Plan, asked: Asked, text: str) -> str:
    from planner.stock.jobcopy import with_own_sizes

    if plan.arrangement != "across":
        return text
    changes = plan.search(asked["prefer"]).changes
    return with_own_sizes(text, {change.name: change.after for change in changes}, plan.job.inch)


def _cutlist_tables(plan: Plan, _asked: Asked) -> list[Table]:
    from planner.output.sheets.cutlist import cutlist_tables

    return cutlist_tables(plan.cuts, plan.attachment, plan.job)


def _cutlist_proofs(plan: Plan) -> list[dict[str, Any]]:
    from planner.output.sheets.cutlist import proofs

    return proofs(plan.cuts)


def _cutlist_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    return plan.cuts.findings


def _cutlist_copy(plan: Plan, _asked: Asked, text: str) -> str:
    from planner.stock.jobcopy import with_rack

    return with_rack(text, plan.cuts.rack_after, plan.job.inch)


def _flat_tables(plan: Plan, asked: Asked) -> list[Table]:
    from planner.output.sheets.flat import flat_tables

    return flat_tables(plan.flats(asked["process"]), plan.job, asked["process"])


def _flat_findings(plan: Plan, asked: Asked) -> tuple[Finding, ...]:
    return plan.flats(asked["process"]).findings


def _route_tables(plan: Plan, _asked: Asked) -> list[Table]:
    from planner.output.sheets.route import route_tables

    return route_tables(plan.operations, plan.job)


def _route_text(plan: Plan, _asked: Asked) -> str:
    from planner.output.sheets.route import route_text

    return route_text(plan.operations, plan.attachment, plan.job)


def _dial_tables(plan: Plan, _asked: Asked) -> list[Table]:
    from planner.output.sheets.dial import dial_tables

    return dial_tables(plan.sizing, plan.job)


def _turn_tables(plan: Plan, _asked: Asked) -> list[Table]:
    from planner.output.sheets.turn import turn_tables

    return turn_tables(plan.turned, plan.sizing.sizes, plan.job)


def _turn_text(plan: Plan, _asked: Asked) -> str:
    from planner.output.sheets.turn import turn_text

    return turn_text(plan.turned, plan.sizing.sizes, plan.job)


def _turn_findings(plan: Plan, _asked: Asked) -> tuple[Finding, ...]:
    return plan.turned.findings


def _keys(text: str) -> tuple[str, ...]:
    return tuple(text.split())


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
            "reach": _keys("what length_mm where"),
        },
        tables=_sizes_tables,
        text=_sizes_text,
        packaged={"explain": True},
        options=(Option("explain", "Each size's rule and source too.", default=False),),
        instead=(
            Instead(
                "largest",
                "Only the largest ball this lathe can take.",
                _keys("format job largest_ball_mm bound findings"),
                _largest,
            ),
        ),
    ),
    Topic(
        name="check",
        first=True,
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
            "forces": _keys("what value"),
            "deflection": _keys("link deflection_mm main_mm share play_mm thicken mend"),
            "strength": _keys("part stress_MPa limit_MPa safety thicken source"),
            "clamp": _keys("what value"),
            "budget": _keys("source size_mm form_mm by"),
            "ball_errors": _keys("ball diameter_mm size_mm form_mm size_95_mm form_95_mm pip_mm"),
            "search": _keys("what value"),
            "outcome": _keys("what now best"),
            "choices": _keys("size now best origin"),
            "next_up": _keys("size now larger origin deflection_mm mass_kg"),
        },
        tables=_check_tables,
        findings=_check_findings,
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
            _check_copy,
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
            "bought": _keys("quantity kind thread length_mm standard use"),
        },
        tables=_cutlist_tables,
        records=(
            Records(
                "proofs", _keys("section material unit_mm kerf demands bars plan"), _cutlist_proofs
            ),
        ),
        findings=_cutlist_findings,
        files=files.cutlist_files,
        copy=Copy(
            "Write a copy of the job with the rack as it is after sawing; JOB is left alone.",
            "Change the rack by hand",
            _cutlist_copy,
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
        tables=_flat_tables,
        findings=_flat_findings,
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
        about="after holds the numbers of the operations that must be done first.",
        columns={
            "route": _keys(
                "number setup part piece stage kind machine holding datum text place tool speed_rpm"
                " measure gauge note caution makes prepares after"
            ),
        },
        tables=_route_tables,
        text=_route_text,
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
        tables=_dial_tables,
    ),
    Topic(
        name="turn",
        summary="Print how each ball is set up, roughed, turned and measured.",
        examples=(
            "pommel turn examples/bench-lathe.toml",
            "pommel turn examples/engine-lathe.toml --ball knob",
        ),
        about="Exit code 1 when a ball of the job cannot be turned. reading_mm is null, to fill in;"
        " cross_slide_div is null when the job does not say the dial's division.",
        columns={
            "setup": _keys("ball what value how"),
            "roughing": _keys(
                "ball number side from_mm to_mm diameter_mm infeed_mm carriage_div cross_slide_div"
            ),
            "passes": _keys(
                "ball number kind turns divisions radius_mm depth_mm arcs_deg removed_mm3 rev_min"
                " deg_per_turn seconds passive_N deflection_mm grip_factor"
            ),
            "measuring": _keys("ball angle_deg meridian reading_mm"),
            "socket": _keys("ball what value how"),
            "socket_passes": _keys(
                "ball number radius_mm depth_mm divisions removed_mm3 passive_N deflection_mm"
            ),
        },
        tables=_turn_tables,
        text=_turn_text,
        findings=_turn_findings,
        files=files.turn_files,
        options=(Option("ball", "Only this ball of the job.", metavar="NAME", plans=True),),
    ),
    Topic(
        name="drawings",
        summary="The flat profiles and the main views of each part, as DXF.",
        folder="drawings",
        needs="solids",
        made_of=files.solids_made_of,
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
)
