"""``pommel ready``: whether this computer has what pommel needs."""

from __future__ import annotations

import click

from planner.cli.answer import bad_input_told, findings_record, finish, json_option, say, say_json


@click.command()
@json_option
def ready(as_json: bool) -> None:
    """Look whether this computer has all that pommel needs, and say what helps where it has not.

    \b
    Example:  pommel ready

    Python and the libraries, the CAD kernel (loaded apart), fonts, a browser, room to write, letters
    and width. Exit code 1 when something that is needed is amiss; what is only better to have is a
    note. JSON keys: looks[] (what, found, right, needed, remedy), findings[].
    """
    from planner.output.readiness import looks
    from planner.words.findings import finding
    from planner.words.formats import format_name
    from planner.words.tables import Table, as_text, columns

    with bad_input_told(as_json):
        seen = list(looks())
    found = [
        finding(
            "not-ready",
            "ready",
            one.what,
            one.found,
            "pommel needs it" if one.needed else "better to have, not needed",
            f"What helps: {one.remedy}",
            severity="refused" if one.needed else "note",
        )
        for one in seen
        if not one.right
    ]
    if as_json:
        looked = {"format": format_name("ready"), "looks": [one._asdict() for one in seen]}
        say_json(findings_record(found) | looked)
    else:
        rows = tuple(
            (one.what, one.found, "right" if one.right else "amiss" if one.needed else "not there")
            for one in seen
        )
        heads = columns(("what", "what"), ("found", "found"), ("right", "will it do"))
        say(as_text([Table("looks", "What pommel works with", heads, rows)]))
    finish(found, ("refused",))
