"""A copy of a job file with something changed: sizes chosen, or the rack as it is after sawing.

The text keeps its comments and its order; the user's own file is never written. Imported by the
commands.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from parts.standard.sections import Section
from planner.stock.bars import RackRow
from planner.words.units import UnitError, section


class CannotCopy(Exception):
    """A job's text is in a form that cannot be changed as asked; the message says which."""


HEAD = re.compile(r"^\s*\[\s*attachment\s*\.\s*sizes\s*\]\s*(#.*)?$")


def with_own_sizes(text: str, sizes: Mapping[str, Any], inch: bool) -> str:
    """A job's text with sizes of one's own added to [attachment.sizes].

    sizes: by their name in `pommel sizes`: a length in mm, a section or a thread's name; none of them
    may be there already. inch: how the job spells lengths. Raises CannotCopy where the text has the
    table in a form that cannot be added to.
    """
    lines = [f'{name} = "{spelled(value, inch)}"' for name, value in sizes.items()]
    if not lines:
        return text
    rows = text.splitlines()
    at = next((i for i, row in enumerate(rows) if HEAD.match(row)), None)
    if at is None:
        rows += ["", "[attachment.sizes]", *lines]
    else:
        rows[at + 1 : at + 1] = lines
    made = "\n".join(rows) + "\n"
    before = tomllib.loads(text).get("attachment", {}).get("sizes", {})
    try:
        after = tomllib.loads(made)["attachment"]["sizes"]
    except (tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        raise CannotCopy(f"[attachment.sizes] cannot be added to ({error})") from None
    if set(after) != set(before) | set(sizes):
        raise CannotCopy("[attachment.sizes] cannot be added to")
    return made


RACK = re.compile(r"^\s*\[\[\s*shop\s*\.\s*rack\s*\]\]\s*(#.*)?$")
TABLE = re.compile(r"^\s*\[")


def with_rack(text: str, rack: Sequence[RackRow], inch: bool) -> str:
    """A job's text with another rack: its [[shop.rack]] tables replaced where the first stood.

    rack: what lies on it; inch: how the job spells lengths. Raises CannotCopy where the text has the
    rack in another form than [[shop.rack]] tables.
    """
    kept: list[str] = []
    place, inside = None, False
    for row in text.splitlines():
        if RACK.match(row):
            inside, place = True, len(kept) if place is None else place
            continue
        if inside and not TABLE.match(row) and (not row.lstrip().startswith("#")):
            continue
        inside = False
        kept.append(row)
    made: list[str] = []
    for bar in rack:
        made += [
            "[[shop.rack]]",
            f'section = "{spelled(bar.section, inch)}"',
            f'material = "{bar.material}"',
            f'length = "{spelled(bar.length_mm, inch)}"',
        ]
        made += [f"quantity = {bar.quantity}"] if bar.quantity > 1 else []
        made += [f"cost = {bar.cost:g}"] if bar.cost else []
        made.append("")
    place = len(kept) if place is None else place
    new = "\n".join([*kept[:place], *made, *kept[place:]]).rstrip() + "\n"
    before, after = tomllib.loads(text), tomllib.loads(new)
    rows = after.get("shop", {}).pop("rack", [])
    before.get("shop", {}).pop("rack", None)
    if before.get("shop") == {} and after.get("shop") == {}:
        before.pop("shop"), after.pop("shop")
    if before != after or len(rows) != len(rack):
        raise CannotCopy("the rack is not written as [[shop.rack]] tables")
    return new


def spelled(value: Any, inch: bool) -> str:
    """A size as a job file has it, so that it reads back exactly."""
    if isinstance(value, Section):
        label = value.label(inch)
        try:
            if _same(section(label, None), value):
                return label
        except UnitError:
            pass
        return f"{value.label()} mm"
    return f"{value:.10g} mm" if isinstance(value, float) else str(value)


def _same(one: Section, other: Section) -> bool:
    apart = abs(one.width_mm - other.width_mm) + abs(one.thickness_mm - other.thickness_mm)
    return one.shape == other.shape and apart < 1e-6
