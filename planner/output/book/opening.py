"""The first chapters: cover, how to use the book, cautions, findings, drawings of the whole."""

from __future__ import annotations

from collections.abc import Iterator

from planner.book.model import (
    Block,
    Chapter,
    Contents,
    Cover,
    Heading,
    Line,
    Points,
    Step,
    Words,
)
from planner.output.book.pages import Pages
from planner.output.sheets.outfit import FITTED
from planner.words.elsewhere import american
from planner.words.numbers import counted

GOVERNING = (
    ("max_ball_diameter_mm", "largest ball"),
    ("min_ball_diameter_mm", "smallest ball"),
    ("spindle_over_seat_mm", "spindle over the tool post's seat"),
    ("spindle_over_cross_slide_mm", "spindle over the cross slide"),
    ("pivot_diameter_mm", "pivot"),
    ("rod_diameter_mm", "rod"),
    ("screw_pitch_mm", "feed screw, advance a turn"),
    ("dial_divisions", "divisions on the dial"),
)
"""The sizes on the cover, and what they are called there."""


def cover(of: Pages, picture: str) -> Cover:
    """The first page."""
    many = of.job.attachment.quantity
    values = {step.name: step.value for step in of.plan.sizing.steps}
    named = {f"{name}_mm": name for name in values}
    sizes = []
    for key, words in GOVERNING:
        value = values.get(key, values.get(named.get(key, "")))
        if value is not None:
            told = of.numbers.value(value) if "_mm" in key else str(value)
            if key == "screw_pitch_mm":  # exact: the dial's divisions come to it
                told = of.numbers.pitch(of.plan.sizing.sizes.screw_pitch_mm)
            sizes.append((words, told))
    return Cover(
        "Build book",
        (
            f"Ball-turning attachment for the lathe of {of.job.name}.",
            *([f"{many} are made."] if many > 1 else []),
            f"Revision {of.revision}.",
        ),
        picture,
        tuple(sizes),
        ("Built by", "Begun", "First ball"),
    )


def _several(of: Pages) -> tuple[str, ...]:
    """What is minded where several are made."""
    many = of.job.attachment.quantity
    if many == 1:
        return ()
    return (
        f"{many} of each are made: every set-up is done for all of them, its stops set once; its box is"
        f" ticked when all {many} are through. What is measured is written down for each, on a sheet"
        " of its own.",
        FITTED,
    )


def how_to(of: Pages) -> Chapter:
    """How to use the book, and what is where."""
    larger = {"A4": "A3", "Letter": "Tabloid"}[of.paper]
    return Chapter(
        "How to use this book",
        (
            Points(
                (
                    f"Print it on {of.paper} at 100%, never fitted to the page. Drawings that need"
                    f" {larger} are pages of that size among the others: print those on {larger}.",
                    "Hold a rule to the bar in the corner of each drawing before a size is taken from"
                    " the paper. Work by the figures, not by the rule.",
                    "Go from front to back: buy, saw, then make the parts by the list of set-ups, in"
                    " its order. Each part has its drawings first, then its set-ups.",
                    "Tick the box when a step is done. Where a line stands behind 'is', write what"
                    " was measured, before the work is let go of.",
                    *_several(of),
                    "A sketch beside a set-up shows how the work is held and where it is cut: not to"
                    " scale, outlines only; thick lines are cut in that set-up.",
                    "The revision at the foot of each page is of the drawings. Pages of two revisions"
                    " do not go together.",
                    *american(of.job.inch),
                )
            ),
            Heading("Contents"),
            Contents(),
        ),
    )


def cautions(of: Pages) -> Chapter:
    """What holds for every page."""
    return Chapter(
        "Cautions",
        (
            Words("The lathe's own book, local rules and your own judgement go before this one."),
            Points(
                (
                    "Eye protection at every machine, at the grinder, and with compressed air.",
                    "Long hair, sleeves, cords and rings away from anything that turns; no gloves.",
                    "The chuck's key is out before the spindle is switched on, each time.",
                    "Nothing is measured, touched or brushed while the work turns.",
                    "Work that is out of balance or far out of the jaws: the slowest speed first,"
                    " turned round by hand before that.",
                    "The head is swung through its whole way by hand, the spindle switched off and"
                    " isolated, before the first cut of every setting.",
                    "From the touch on, carriage, top slide and the post's clamp stay locked; one"
                    " hand stays on the knob while the tip is near the work.",
                    "Welding, electrical work and heavy lifting by people trained for it. Screen,"
                    " mask, ventilation; an extinguisher at hand; no oil, chips or solvents near; look"
                    " for fire for half an hour after.",
                    "Burrs cut: never with the fingers. Chips are pulled with a hook, the spindle"
                    " stopped.",
                    "Never alone in the shop without someone knowing.",
                )
            ),
            Words("Each further caution stands at its step.", "strong"),
        ),
    )


def findings(of: Pages) -> Chapter:
    """What is to be decided before metal is bought or cut, then what is good to know."""
    from planner.output.topics import build_findings

    found = build_findings(of.plan)
    decide = [one for one in found if one.severity != "note"]
    unlisted = sum(one.code == "shortage" for one in found)
    know = [one.told for one in found if one.severity == "note" and one.code != "shortage"]
    if unlisted:
        know.append(
            f"{counted(unlisted, 'section')} of stock that rack and buy list have no bar for: to order,"
            " in the shopping list without a price."
        )

    def steps() -> Iterator[Block]:
        yield Heading("To decide first")
        if not decide:
            yield Words("Nothing: the plan goes as it is.")
        for number, one in enumerate(decide, 1):
            yield Step(str(number), one.told, (Line("Decided:", "blank"),))
        yield Heading("Good to know")
        if not know:
            yield Words("Nothing.")
        elif know:
            yield Points(tuple(know))

    return Chapter("Findings", tuple(steps()), follows=True)


def whole(of: Pages) -> Chapter:
    """The sheets of the whole: arrangement, section, exploded view with its parts list."""
    return Chapter("The whole", of.drawn(""))
