"""A copy of a job file with something changed: sizes chosen, or the rack as it is after sawing.

The text keeps its comments and its order whatever form its tables have; the user's own file is never
written. Each copy is read back and compared before it is given out. The commands write it; the sheets
print sizes as it spells them. Imports tomlkit, and only while a copy is made.
"""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from parts.standard.sections import Section, inch_text
from planner.job.tables import RackBar
from planner.stock.bars import RackRow
from planner.words.short import few
from planner.words.units import UnitError, length_mm, section


class CannotCopy(Exception):
    """A job's text cannot be changed as asked; the message says why."""


def with_own_sizes(text: str, sizes: Mapping[str, Any], inch: bool) -> str:
    """A job's text with sizes of one's own added to its [attachment.sizes].

    sizes: by their name in `pommel sizes`: a length in mm, a section or a thread's name; none of them
    may be there already. inch: how the job spells lengths. Raises CannotCopy where one is there, or
    where the copy would not read back as the job with these sizes added.
    """
    if not sizes:
        return text
    spelt = {name: spelled(value, inch) for name, value in sizes.items()}
    wanted = tomllib.loads(text)
    own = wanted.setdefault("attachment", {}).setdefault("sizes", {})
    if known := set(own) & set(spelt):
        raise CannotCopy(f"attachment.sizes has {few(sorted(known))} already")
    own |= spelt
    made, said = _changed(text, lambda lines: _sizes_added(lines, spelt))
    if said != wanted:
        raise CannotCopy("attachment.sizes cannot be added to")
    return made


def with_rack(text: str, rack: Sequence[RackRow], inch: bool) -> str:
    """A job's text with another rack.

    rack: what lies on it; inch: how the job spells lengths. Bars that stay keep their lines, with
    another quantity where it changed; those that are gone leave whole lines of comment behind; new ones
    follow the last. Raises CannotCopy where the copy would not read back as the job with this rack.
    """
    made, after = _changed(text, lambda lines: _rack_changed(lines, rack, inch))
    before = tomllib.loads(text)
    found = [_bar_in(row, after) for row in _taken(after)]
    _taken(before)
    if before != after or Counter(map(_near, found)) != Counter(map(_near, rack)):
        raise CannotCopy("shop.rack cannot be changed")
    return made


def _changed(text: str, change: Callable[[str], str]) -> tuple[str, dict[str, Any]]:
    """A text changed, its lines ended as they were, and what it says now."""
    from tomlkit.exceptions import TOMLKitError

    crlf = text.count("\r\n")
    ends = "\r\n" if crlf and crlf == text.count("\n") else ""
    try:
        made = change(text.replace(ends, "\n") if ends else text)
        made = made.replace("\n", ends) if ends else made
        return made, tomllib.loads(made)
    except (TOMLKitError, tomllib.TOMLDecodeError) as error:
        raise CannotCopy(f"the text is in a form that cannot be added to ({error})") from None


DUST_MM = 1e-6
"""What inches leave of a float is less."""


def spelled(value: Any, inch: bool) -> str:
    """A size as a job file has it, so that it reads back exactly, but for what inches leave of a float.

    value: a length in mm, a section, or a name, which stays as it is. inch: lengths and sections
    that are of 64ths or short decimals of an inch are in inches.
    """
    if isinstance(value, Section):
        named = value.label(inch)
        if inch and _same_in_inches(_reads(section, named), value):
            return named
        w, t = value.width_mm, value.thickness_mm
        in_full = f"{value.shape} {w!r}x{t!r} mm" if t else f"{value.shape} {w!r} mm"
        metric = f"{value.label()} mm"
        return metric if _reads(section, metric) == value else in_full
    if isinstance(value, float):
        named = f"{inch_text(value)} in"
        if inch and abs(_reads(length_mm, named) - value) < DUST_MM:
            return named
        ways = [f"{value:.10g} mm"] + ([f"{value / 25.4:.10g} in"] if inch else [])
        return next((way for way in ways if _reads(length_mm, way) == value), f"{value!r} mm")
    return str(value)


def _same_in_inches(one: Any, other: Section) -> bool:
    """Whether a section is another but for what inches leave of a float."""
    if not isinstance(one, Section) or one.shape != other.shape:
        return False
    off = (one.width_mm - other.width_mm, one.thickness_mm - other.thickness_mm)
    return max(map(abs, off)) < DUST_MM


def _reads(reader: Callable[[Any, str | None], Any], text: str) -> Any:
    try:
        return reader(text, None)
    except UnitError:
        return None


# ---- the file, table by table ----


class _Block(Struct, dict=True):
    """A stretch of the file: the lines before the first header, or a header and what is under it.

    body: to the last line that says something; tail: the comments and blank lines after it, which
    mostly lead on to the next. A block is TOML by itself.
    """

    body: str
    tail: str

    @property
    def data(self) -> dict[str, Any]:
        """What it says."""
        return tomllib.loads(self.body)

    @property
    def header(self) -> Any:
        """Its header alone: {"shop": {"rack": [{}]}} of [[shop.rack]], {} where it has none."""
        first = next((row for row in _rows(self.body) if not _idle(row)), "")
        return tomllib.loads(first) if first.lstrip().startswith("[") else {}

    def end_line(self) -> None:
        """End the last line of the body, so that another can follow."""
        if self.body and not self.body.endswith("\n"):
            self.body += "\n"


def _rows(text: str) -> list[str]:
    return re.split(r"(?<=\n)", text)


def _idle(row: str) -> bool:
    """Whether a line is blank or a comment."""
    return not row.strip() or row.lstrip().startswith("#")


def _whole(text: str) -> bool:
    """Whether a text is TOML by itself: inside a string or an array it is none yet."""
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False
    return True


def _blocks(text: str) -> list[_Block]:
    """The text cut before each header; joined again they are the text."""
    found = [""]
    for row in _rows(text):
        if row.lstrip().startswith("[") and _whole(found[-1]):
            found.append("")
        found[-1] += row
    return [_cut(block) for block in found]


def _cut(block: str) -> _Block:
    """A block's body and tail."""
    rows = _rows(block)
    at = len(rows)
    while at and _idle(rows[at - 1]):
        at -= 1
    while not _whole("".join(rows[:at])):  # a string that ends in a line like a comment
        at += 1
    return _Block("".join(rows[:at]), "".join(rows[at:]))


def _joined(blocks: Iterable[_Block]) -> str:
    return "".join(block.body + block.tail for block in blocks)


def _added(blocks: list[_Block], body: str) -> _Block:
    """One more block at the end of the file, after a blank line."""
    text = _joined(blocks)
    if text.strip():
        blocks[-1].tail += "\n" * (2 - (text.endswith("\n") + text.endswith("\n\n")))
    blocks.append(_Block(body, ""))
    return blocks[-1]


def _inline(blocks: Sequence[_Block], table: str) -> _Block | None:
    """The block that has a table in braces on one line: no header can add to it."""
    import tomlkit
    from tomlkit.items import InlineTable

    return next(
        (b for b in blocks if isinstance(tomlkit.parse(b.body).get(table), InlineTable)), None
    )


# ---- sizes ----


def _sizes_added(text: str, spelt: Mapping[str, str]) -> str:
    import tomlkit
    from tomlkit.items import InlineTable

    blocks = _blocks(text)
    block = next((b for b in blocks if "sizes" in b.data.get("attachment", {})), None)
    if block is None and (block := _inline(blocks, "attachment")) is None:
        block = _added(blocks, "[attachment.sizes]\n")
    block.end_line()
    document: Any = tomlkit.parse(block.body)
    attachment = document["attachment"]
    if "sizes" not in attachment:
        attachment.append("sizes", tomlkit.inline_table())
    sizes = attachment["sizes"]
    put = sizes.append if isinstance(sizes, InlineTable) else sizes.__setitem__
    for name, value in spelt.items():
        put(name, value)
    block.body = tomlkit.dumps(document)
    return _joined(blocks)


# ---- the rack ----


def _rack_changed(text: str, rack: Sequence[RackRow], inch: bool) -> str:
    import tomlkit

    blocks = _blocks(text)
    stay, new = _matched(text, rack)
    bars = [block for block in blocks if block.header == {"shop": {"rack": [{}]}}]
    array = next((b for b in blocks if b not in bars and "rack" in b.data.get("shop", {})), None)
    if array is None and not bars and new:
        array = _inline(blocks, "shop")
    if array is not None:
        document: Any = tomlkit.parse(array.body)
        if "rack" not in document["shop"]:
            document["shop"]["rack"] = tomlkit.array()
        _change_array(document["shop"]["rack"], stay, [_row(bar, inch) for bar in new])
        array.body = tomlkit.dumps(document)
        return _joined(blocks)
    for block, row in zip(bars, stay, strict=True):
        if row is None:
            _strike(block)
        elif row.quantity != block.data["shop"]["rack"][0].get("quantity", 1):
            block.end_line()
            document = tomlkit.parse(block.body)
            document["shop"]["rack"][0]["quantity"] = row.quantity
            block.body = tomlkit.dumps(document)
    tables = [tomlkit.dumps({"shop": {"rack": [_row(bar, inch)]}}) for bar in new]
    if bars and tables:
        last = bars[-1]
        last.end_line()
        last.body = "\n".join([last.body] * bool(last.body) + tables)
    else:
        for table in tables:
            _added(blocks, table)
    return _joined(blocks)


def _matched(text: str, rack: Sequence[RackRow]) -> tuple[list[RackRow | None], list[RackRow]]:
    """The row of the rack that each bar of the text stays as, None for a bar gone; and the new."""
    data, left = tomllib.loads(text), list(rack)
    stay: list[RackRow | None] = []
    for row in _taken(data):
        bar = _bar_in(row, data)
        found = next((r for r in left if _alike(r) == _alike(bar)), None)
        if found is not None:
            left.remove(found)
        stay.append(found)
    return stay, left


def _alike(row: RackRow) -> tuple[Section, str, float, float]:
    return row.section, row.material, row.length_mm, row.cost


def _taken(data: dict[str, Any]) -> list[dict[str, Any]]:
    """The rack's rows, taken out of a job's data, with the shop where nothing else is in it."""
    rows: list[dict[str, Any]] = data.get("shop", {}).pop("rack", [])
    if not data.get("shop", True):
        del data["shop"]
    return rows


def _bar_in(row: Mapping[str, Any], data: Mapping[str, Any]) -> RackRow:
    """A row of a job's rack as the job reads it."""
    bar = RackBar.model_validate(row, context={"unit": data.get("units")})
    return RackRow(bar.section, bar.material, bar.length, bar.quantity, bar.cost)


def _near(row: RackRow) -> RackRow:
    """A row without what inches leave of a float."""
    bar, places = row.section, 6
    whole = Section(bar.shape, round(bar.width_mm, places), round(bar.thickness_mm, places))
    return replace(row, section=whole, length_mm=round(row.length_mm, places))


def _row(bar: RackRow, inch: bool) -> dict[str, Any]:
    """A row as it is written: what is one or nothing is left out."""
    row: dict[str, Any] = {
        "section": spelled(bar.section, inch),
        "material": bar.material,
        "length": spelled(bar.length_mm, inch),
    }
    if bar.quantity > 1:
        row["quantity"] = bar.quantity
    if bar.cost:
        row["cost"] = int(bar.cost) if bar.cost == int(bar.cost) else bar.cost
    return row


def _strike(block: _Block) -> None:
    """Take a bar out of the file; whole lines of comment stay."""
    rows = _rows(block.body)
    said = [
        row
        for at, row in enumerate(rows)
        if row.lstrip().startswith("#") and _whole("".join(rows[:at]))
    ]
    block.body = "".join(said)
    if not block.tail.strip():
        block.tail = "\n" * bool(said)


def _change_array(
    array: Any, stay: Sequence[RackRow | None], new: Sequence[Mapping[str, Any]]
) -> None:
    """Change a rack written as an array of tables in braces."""
    import tomlkit

    spread = "\n" in array.as_string()
    for at in reversed(range(len(stay))):
        row = stay[at]
        if row is None:
            del array[at]
        elif row.quantity != array[at].get("quantity", 1):
            array[at]["quantity"] = row.quantity
    for bar in new:
        table = tomlkit.inline_table()
        table.update(bar)
        if spread:
            array.add_line(table)
        else:
            array.append(table)
