"""Copies of a job whose text has strings and comments that look like each other, letter by letter."""

from __future__ import annotations

import pytest

from parts.standard.sections import Section
from planner.stock.bars import RackRow
from planner.stock.jobcopy import CannotCopy, spelled, with_own_sizes, with_rack
from planner.words.units import length_mm, section

KEPT = RackRow(Section("round", 25.0), "S355", 310.0, 2, 0.0)
BAR = '[[shop.rack]]\nsection = "round 25"\nmaterial = "S355"\nlength = 310\nquantity = 2\n'


@pytest.mark.parametrize("lines", [1, 2, 3])
def test_a_string_that_ends_like_a_comment_ends_there_and_no_later(lines: int) -> None:
    # of lines that begin with a hash the string takes so many; the last of them ends it, and what
    # follows leads on to the next table (TOML 1.0.0: a hash in a string is no comment)
    inside = "".join(f"# {n} of the string\n" for n in range(1, lines))
    top = f'[attachment]\nname = """\n{inside}# the last of it"""\n'
    rest = "\n# of the lathe\n# and its jaws\n[lathe]\njaw_reach = 26\n"
    assert with_own_sizes(top + rest, {"leaf_thickness": 8.0}, False) == (
        f'{top}{rest}\n[attachment.sizes]\nleaf_thickness = "8 mm"\n'
    )
    sized = f'{top}sizes = {{rod_diameter = "16 mm"}}\nkey = """\n{inside}# the last of it"""\n'
    wanted = sized.replace('"16 mm"}', '"16 mm", leaf_thickness = "8 mm"}')
    assert with_own_sizes(sized + rest, {"leaf_thickness": 8.0}, False) == wanted + rest


@pytest.mark.parametrize("gap", ["", "\n"])
@pytest.mark.parametrize("lines", [1, 2, 3])
def test_a_size_with_such_a_string_is_told_from_the_comments_under_it(lines: int, gap: str) -> None:
    inside = "".join(f"# {n} of the string\n" for n in range(1, lines))
    said = f"{BAR}# of the bar\n\n"
    table = f'[attachment.sizes]\nrod_diameter = """\n{inside}# x"""\n'
    under = f"{gap}# of the lathe\n# and its jaws\n[lathe]\njaw_reach = 26\n"
    text = table + under
    assert with_own_sizes(said + text, {"leaf_thickness": 8.0}, False) == (
        f'{said}{table}leaf_thickness = "8 mm"\n{under}'
    )


def test_a_bar_gone_takes_its_strings_along_and_leaves_the_comments() -> None:
    text = f'units = "mm"\n# one\n{BAR}# two\n\n# three\n[lathe]\njaw_reach = 26\n'
    assert with_rack(text, [], False) == (
        'units = "mm"\n# one\n# two\n\n# three\n[lathe]\njaw_reach = 26\n'
    )
    assert with_rack(text, [KEPT], False) == text


def test_a_new_bar_stands_behind_the_last_with_a_line_between() -> None:
    new = RackRow(Section("flat", 60.0, 15.0), "C45", 90.5, 3, 4.5)
    free = RackRow(Section("round", 16.0), "S355", 120.0, 1, 2.0)
    row = (
        '[[shop.rack]]\nsection = "flat 60x15 mm"\nmaterial = "C45"\nlength = "90.5 mm"\n'
        "quantity = 3\ncost = 4.5\n"
    )
    other = (
        '[[shop.rack]]\nsection = "round 16 mm"\nmaterial = "S355"\nlength = "120 mm"\ncost = 2\n'
    )
    text = f'units = "mm"\n\n{BAR}\n# the lathe\n[lathe]\njaw_reach = 26\n'
    wanted = f'units = "mm"\n\n{BAR}\n{row}\n{other}\n# the lathe\n[lathe]\njaw_reach = 26\n'
    assert with_rack(text, [KEPT, new, free], False) == wanted
    bare = 'units = "mm"\n[lathe]\njaw_reach = 26\n'
    assert with_rack(bare, [new, free], False) == f"{bare}\n{row}\n{other}"
    for ending in ("", "\n\n"):  # one blank line between, whatever there was
        assert with_rack(bare.rstrip("\n") + ending, [free], False) == f"{bare}\n{other}"


@pytest.mark.parametrize(
    "shop, kept, wanted",
    [
        (
            'rack = [{section = "round 25", material = "S355", length = 310}]',
            RackRow(Section("round", 25.0), "S355", 310.0, 1, 0.0),
            'rack = [{section = "round 25", material = "S355", length = 310}]',
        ),
        (
            'rack = [{section = "round 25", material = "S355", length = 310}]',
            KEPT,
            'rack = [{section = "round 25", material = "S355", length = 310, quantity = 2}]',
        ),
        (
            'rack = [{section = "round 25", material = "S355", length = 310, quantity = 5}]',
            KEPT,
            'rack = [{section = "round 25", material = "S355", length = 310, quantity = 2}]',
        ),
    ],
)
def test_a_row_in_braces_says_how_many_only_where_it_must(
    shop: str, kept: RackRow, wanted: str
) -> None:
    text = f'units = "mm"\n[shop]\n{shop} # mine\n'
    assert with_rack(text, [kept], False) == f'units = "mm"\n[shop]\n{wanted} # mine\n'


def test_sizes_that_are_there_already_are_named() -> None:
    text = '[attachment.sizes]\na = "1 mm"\nb = "2 mm"\n'
    with pytest.raises(CannotCopy, match="^attachment.sizes has a, b already$"):
        with_own_sizes(text, {"b": 3.0, "c": 5.0, "a": 4.0}, False)


@pytest.mark.parametrize("inch", [False, True])
@pytest.mark.parametrize(
    ("value", "spelt"),
    [
        (Section("round", 20.0), "round 20 mm"),
        (Section("flat", 50.0, 20.0), "flat 50x20 mm"),
        (Section("tube", 40.0, 5.0), "tube 40x5 mm"),
        # what two or three places would not read back exactly stands with every digit a float has
        (Section("round", 100 / 3), "round 33.333333333333336 mm"),
        (Section("square", 10 / 3), "square 3.3333333333333335 mm"),
        (Section("flat", 100 / 3, 10 / 3), "flat 33.333333333333336x3.3333333333333335 mm"),
        (0.1 + 0.2, "0.30000000000000004 mm"),
        (12.0, "12 mm"),
        ("M8", "M8"),
    ],
)
def test_a_size_is_spelled_so_that_it_reads_back(value: object, spelt: str, inch: bool) -> None:
    assert spelled(value, inch) == spelt or (inch and "mm" not in spelled(value, inch))
    if isinstance(value, Section):
        assert section(spelled(value, inch), None) == value
    elif isinstance(value, float):
        assert length_mm(spelled(value, inch), None) == value
