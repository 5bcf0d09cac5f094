"""Chapters of the making: the set-ups in order, each part's sheets and route, welds, assembly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from parts.fitting import FITS, Fit
from parts.part import Joined, Part, every_feature, members
from parts.standard.fits import Limits
from planner.book.model import (
    FILL,
    TICK,
    Block,
    Chapter,
    Heading,
    Line,
    NewPage,
    Points,
    Rows,
    Step,
    Words,
    number_of,
    page_of,
    rows_of,
)
from planner.book.route import Held, blocks, step
from planner.making.asmade import designed
from planner.making.pieced import own_axes
from planner.output.book.pages import CARD, Pages, diameter_of
from planner.words.tables import Table

TOGETHER = "Assembly and alignment"
"""The chapter of the set-ups that are of the whole."""

CHECKS = "Putting together, checks and alignment"
"""Where in it their steps stand."""


def order(of: Pages) -> Chapter:
    """Every set-up in the order of the work, and what is to be made and known before."""
    rows = tuple(
        (
            str(one.number),
            _of_whom(one, of),
            one.piece,
            one.machine,
            _steps(one),
            number_of(_where(one)),
            TICK,
        )
        for one in of.route
    )
    heads = ("set-up", "part", "piece", "machine", "steps", "page", "done")
    more: list[Block] = []
    tables = of.tables("route")
    for name, title in (
        ("aids", "Aids to make first"),
        ("assumed", "Taken for granted in this shop"),
    ):
        if name in tables and tables[name].rows:
            more += [Heading(title), Points(tuple(_said(tables[name])))]
    return Chapter(
        "Order of the work",
        (
            Words(
                "Set-ups are done in this order: it is the one in which the parts need each other."
                " Each stands in the chapter of its part."
            ),
            Rows(heads, rows),
            *more,
        ),
    )


def _said(table: Table) -> Iterator[str]:
    """The rows of a table of the route as it prints them, each as a sentence."""
    keys = [column.key for column in table.columns]
    for row in table.rows if table.shown is None else table.shown:
        said = dict(zip(keys, map(str, row), strict=False))
        setup = said.pop("setup", "")
        said.pop("key", "")
        if said.get("saw_mm"):
            said["saw_mm"] = f"sawn to {said['saw_mm']}"
        if "quantity" in said:
            said["quantity"] = "" if said["quantity"] == "1" else f"{said['quantity']} off"
        words = ", ".join(word for word in said.values() if word)
        yield f"before set-up {setup}: {words}" if setup else words


def _of_whom(one: Held, of: Pages) -> str:
    return "Assembly" if one.of_the_whole else of.titles[one.part]


def _where(one: Held) -> str:
    """What a set-up's page is known by."""
    return TOGETHER if one.of_the_whole else f"set-up {one.number}"


def _steps(one: Held) -> str:
    numbers = [doing.number for doing in one.doings]
    if not numbers:
        return ""
    return f"{numbers[0]}" if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"


def every(of: Pages) -> Iterator[Chapter]:
    """A chapter a part: what it is, its sheets, then its set-ups."""
    many = of.job.attachment.quantity
    for part in of.plan.attachment.parts:
        own = [one for one in of.route if one.part == part.name and not one.of_the_whole]
        drawn = of.drawn(part.name)
        about = [f"{letter} = {datum}" for letter, datum in part.datums.items()]
        yield Chapter(
            part.title,
            (
                *drawn,
                NewPage(),
                Heading(f"{part.title}: route"),
                Words(f"{part.quantity * many} to make, by the sheets before this page."),
                *([Words(f"Datums: {'; '.join(about)}.")] if about else []),
                Words(f"Axes: {part.axes}."),
                *_of_pieces(part),
                *([Points(part.notes)] if part.notes else []),
                *_route(own, of),
            ),
            part.title,
        )


def _of_pieces(part: Part) -> Iterator[Words]:
    """The datums and axes that the pieces of a part have of their own, before they are joined."""
    for member in members(part) if isinstance(part.blank, Joined) else ():
        about = [f"{letter} = {datum}" for letter, datum in member.datums.items()]
        yield Words(f"Of the {member.name} alone: {'; '.join([*about, own_axes(member, part)])}.")


def _route(own: Sequence[Held], of: Pages) -> Iterator[Block]:
    """The set-ups, and where the work goes on where another part's come between."""
    every = [one.number for one in of.route]
    said: set[str] = set()
    for n, one in enumerate(own):
        done = list(blocks([one], of.shop, of.bodies, said))
        if one is of.as_bored and isinstance(last := done[-1], Step):
            before_out = f"Before it comes out of the post: the gauge is set, {page_of(CARD)}"
            done[-1] = replace(last, lines=(*last.lines, Line(before_out)))
        after = every.index(one.number) + 1
        if after < len(every) and (n + 1 == len(own) or own[n + 1].number != every[after]):
            other = of.route[after]
            *before, last = done
            yield from before
            yield replace(last, leads=True) if isinstance(last, Step) else last
            next_ = f"Next: set-up {other.number}, {_of_whom(other, of)}, {page_of(_where(other))}."
            yield Words(next_, "strong")
        else:
            yield from done


# ---- welds ----


def welds(of: Pages) -> Iterator[Chapter]:
    """Every weld of every weldment, and where it stands in the route."""
    numbers = of.numbers.plain
    found: list[Block] = []
    for part in of.plan.attachment.parts:
        if not isinstance(part.blank, Joined):
            continue
        own = [one for one in of.route if one.part == part.name]
        joining = [one for one in own if any(doing.kind == "weld" for doing in one.doings)]
        rows = tuple(
            (
                weld.name,
                " to ".join(weld.members),
                weld.kind,
                numbers.size(weld.leg_mm),
                numbers.run(weld.length_mm) + (", all round" if weld.all_round else ""),
                weld.note,
                TICK,
            )
            for weld in part.blank.welds
        )
        heads = ("weld", "joins", "kind", "size", "run", "how", "done")
        sheet = next(n for n, one in of.sheets if one.name == part.name)
        where = ", ".join(f"{one.number} ({page_of(_where(one))})" for one in joining)
        found += [
            Rows(heads, rows, f"{part.title} ({of.numbers.unit})"),
            Words(
                f"Sheet {sheet} ({page_of(f'sheet {sheet}')}) shows where each runs; set-up {where}."
            ),
        ]
    if found:
        yield Chapter(
            "Weld map",
            (
                Words(
                    "By a competent welder, to local rules, away from oil and chips; screen, mask,"
                    " ventilation; look for fire for half an hour after.",
                    "caution",
                ),
                Words(
                    "The welder's own judgement goes before this list. Size: a fillet's leg, or the"
                    " depth of the preparation."
                ),
                *found,
            ),
        )


# ---- assembly ----


def assembly(of: Pages) -> Chapter:
    """The fits to try, the order of putting together, what is checked and aligned."""
    gathered = [one for one in of.route if one.of_the_whole]
    checks: list[Block] = []
    if gathered:
        checks.append(Heading(CHECKS))
        for one in gathered:
            checks += [step(doing) for doing in one.doings]
    return Chapter(
        TOGETHER,
        (
            Words(f"Sheet 3 ({page_of('sheet 3')}) shows everything on the way that it goes on."),
            _fits(of),
            *checks,
            *_aligned(of),
        ),
    )


def _fits(of: Pages) -> Rows:
    """What runs in what, with the limits of both and blanks for what was measured.

    Not what is welded by then: that was tried before. Where the shaft is made to the hole as it came
    out, the play is that of the design, not what the limits of both leave open.
    """
    made = {part.name: part for part in of.plan.attachment.parts}
    rows = []
    for fit in FITS:
        if fit.hole_part == fit.shaft_part:
            continue
        hole, shaft = _sized(made[fit.hole_part], fit.hole), _sized(made[fit.shaft_part], fit.shaft)
        if hole is None or shaft is None:
            continue
        rows.append(
            (
                f"{fit.shaft} in {fit.hole}",
                _unbroken(of.numbers.plain.between(hole)),
                FILL,
                _unbroken(of.numbers.plain.between(shaft)),
                FILL,
                _unbroken(_play(of, fit) if fit.play else of.numbers.play(hole, shaft)),
            )
        )
    return Rows(
        ("fit", "hole", "hole is", "shaft", "shaft is", "play"),
        tuple(rows),
        f"Fits to try before anything is put together ({of.numbers.unit})",
    )


def _play(of: Pages, fit: Fit) -> str:
    """The play that a shaft is given which is made to its hole."""
    play = designed(fit, of.plan.attachment)
    said = (of.numbers.plain.micrometer(one) for one in (play.least_mm, play.most_mm))
    return " to ".join(said)


def _unbroken(words: str) -> str:
    """Words that stay on one line."""
    return words.replace(" ", "\u00a0")


def _sized(part: Part, name: str) -> Limits | None:
    """The diameter of a feature of a name, with its limits."""
    for _, feature in every_feature(part):
        if feature.name == name:
            return diameter_of(feature)
    return None


def _aligned(of: Pages) -> Iterator[Block]:
    """How it stands on the lathe: what the check asks of post and slides."""
    tables = of.tables("check", prefer=None)
    yield Heading("Standing on the lathe")
    yield Words(f"Then mount it by the card for each mounting, {page_of(CARD)}.")
    if "tool_post" in tables:
        yield rows_of(tables["tool_post"])
    yield rows_of(tables["gaps"])
