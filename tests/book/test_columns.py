"""How wide columns are: by letters of which each is as wide as the font says, and sums by hand."""

from __future__ import annotations

import pytest

from planner.book import columns
from planner.book.columns import kept_together, wide, widths_mm
from planner.book.model import FILL, TICK, Rows, lines, only, rows_of, ticked
from planner.book.write import _cell, _entry, _q, _side
from planner.drawing.lettering import width_of_letters_mm
from planner.output.book.pictures import picture
from planner.words.tables import Column, Table


@pytest.fixture
def two_a_letter(monkeypatch: pytest.MonkeyPatch) -> None:
    """Letters two millimetres wide each, and no bold."""
    monkeypatch.setattr(columns, "width_of_letters_mm", lambda words, size: 2.0 * len(words))
    monkeypatch.setattr(columns, "BOLD_MM", 0.0)
    monkeypatch.setattr(columns, "GAP_MM", 3.0)


def rows(*cells: tuple[str, ...]) -> Rows:
    return Rows(cells[0], cells[1:])


def test_words_are_as_wide_as_their_letters_and_bold() -> None:
    assert wide("turn", 4.0) == pytest.approx(width_of_letters_mm("turn", 4.0) + 0.4)
    assert (wide(TICK, 4.0), wide(FILL, 4.0)) == pytest.approx((11.0 - 2.6, 26.0 - 2.6))


@pytest.mark.usefixtures("two_a_letter")
def test_a_table_that_fits_has_its_own_width() -> None:
    table = rows(("ab", "x"), ("abcd", "yyy"))
    assert widths_mm(table, 20.0, 4.0) == (11.0, 9.0)  # 2 x 4 + 3, 2 x 3 + 3
    # a hundredth less, and the cell would wrap, but it does not break
    assert widths_mm(table, 19.99, 4.0) is None


@pytest.mark.usefixtures("two_a_letter")
def test_what_wants_least_is_given_all_of_it() -> None:
    # wants 2 x 5 + 3 = 13 and 2 x 20 + 3 = 43; words of two letters want 7 at least
    table = rows(("aa", "bb"), ("aa bb", " ".join(["cc"] * 6) + " dd"))
    whole = (13.0, 43.0)
    assert widths_mm(table, 56.0, 4.0) == whole
    assert widths_mm(table, 40.0, 4.0) == (13.0, 27.0)
    # under both: the spare of 10 is 5 each while the first still wants 6
    assert widths_mm(table, 30.0, 4.0) == (13.0, 17.0)
    assert widths_mm(table, 24.0, 4.0) == (12.0, 12.0)
    assert widths_mm(table, 19.0, 4.0) is None  # 9.5 each: seven lines


@pytest.mark.usefixtures("two_a_letter")
def test_a_cell_of_more_than_five_lines_is_an_entry() -> None:
    # 20 letters are 40 mm; in a column of 12.0 less its gap, nine tenths of 9: 40 / 8.1 is five lines
    table = rows(("a",), (" ".join(["cc"] * 6) + " dd",))
    assert widths_mm(table, 12.0, 4.0) == (12.0,)
    assert widths_mm(table, 11.8, 4.0) is None  # 40 / 7.92 is over five


def test_figures_keep_their_unit() -> None:
    for words, kept in (
        ("Ø20 mm long", "Ø20\u00a0mm long"), ("1/2 in. deep", "1/2\u00a0in. deep"),
        ("520 rev/min", "520\u00a0rev/min"), ("3 deg 20", "3\u00a0deg 20"),
        ("7° 12' 30\"", "7°\u00a012'\u00a030\""),
        ("20 inner", "20 inner"), ("a mm", "a mm"),
    ):  # fmt: skip
        assert kept_together(words) == kept


def test_tables_as_the_book_has_them() -> None:
    table = Table("t", "Title", (Column("a", "A"), Column("b", "B"), Column("c", "C")),
                  [(1, None, "x"), (2, "", None)],
                  notes=("note",))  # fmt: skip
    found = rows_of(table)
    assert found == Rows(("A", "C"), (("1", "x"), ("2", "")), "Title", ("note",))
    assert rows_of(table, titled=False).title == ""
    assert ticked(found, "there").rows == (("1", "x", TICK), ("2", "", TICK))
    assert ticked(found).heads == ("A", "C", "done")
    assert only(found, ("C", "Z", "A")) == Rows(
        ("C", "A"), (("x", "1"), ("", "2")), "Title", ("note",)
    )
    assert [one.words for one in lines(["a", "", "b"])] == ["a", "b"]


def test_cells_and_entries_in_the_language_of_the_setter() -> None:
    assert _cell(f"{TICK} {TICK} {TICK}") == "ticks(3)"
    assert (_cell(TICK), _cell(FILL), _cell("5 mm")) == ("tick", "fill", '"5\u00a0mm"')
    assert (
        _q("set screw M4 x 20 mm at 9 lbf") == '"set screw M4\u00a0x\u00a020\u00a0mm at 9\u00a0lbf"'
    )
    assert _q('a "b" \\c') == '"a \\"b\\" \\\\c"'
    table = Rows(("n", "w"), (("1.5", "a"), ("-2", ""), ("1/2", "b")))
    assert (_side(table, 0), _side(table, 1)) == ("right", "left")
    assert _side(Rows(("n",), (("",),)), 0) == "left"
    assert _entry(("step", "is", "", "done"), ("3", FILL, "x", TICK)) == (
        '#entry("step 3", 1, reading("is"), "x")'
    )
    assert (
        _entry(("part", "long"), ("Housing", "50 mm")) == '#entry("Housing", 0, "long: 50\u00a0mm")'
    )


def test_a_picture_has_the_size_that_it_says_less_the_white_round_it() -> None:
    # a picture of the package has 14 mm of white round it for a page of its own; 2 mm are kept
    svg = '<svg xmlns="x" viewBox="-14.00 -20.00 100.00 60.50" width="100.00mm" height="60.50mm"/>'
    made = picture(svg, "A", "below")
    assert (made.width, made.height, made.name, made.words) == (76.0, 36.5, "A", "below")
    assert 'viewBox="-2.00 -8.00 76.00 36.50" width="76.00mm" height="36.50mm"/>' in made.svg
    with pytest.raises(ValueError, match="A: a picture without its size"):
        picture('<svg width="12"></svg>', "A")
    assert picture(svg, "B").words == ""
