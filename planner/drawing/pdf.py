"""Sheets as one PDF: a page a sheet, true to scale, lines as lines and texts as text.

typst sets the sheets' own SVG into its pages; it is loaded only here. It
is given no font but ours, so that no other can get into the file, and no date, so that the same sheets
make the same bytes.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence

from planner.drawing.lettering import FAMILY, FONT
from planner.drawing.model import Sheet
from planner.drawing.svg import svg

NEEDS, BOUNDS = "typst", ">=0.15,<0.16"
"""The package that pdf() needs, as pyproject.toml has it."""


class NoPdf(Exception):
    """The package that writes PDF is not installed."""


def has_pdf() -> bool:
    """Whether pdf() has what it needs."""
    return importlib.util.find_spec(NEEDS) is not None


def pdf(sheets: Sequence[Sheet], title: str, svgs: Sequence[str] = ()) -> bytes:
    """A PDF of at least one sheet, in order, with a bookmark each; title: of the document.

    svgs: the sheets as SVG without their font, where they are there already. Raises NoPdf where typst
    is not installed, ValueError for no sheet.
    """
    if not sheets:
        raise ValueError("a PDF of no sheets: give at least one")
    if not has_pdf():
        raise NoPdf
    import typst

    lines = [
        f"#set document(title: {_quoted(title)}, date: none)",
        f"#set text(font: {_quoted(FAMILY)}, fallback: false)",
        "#show heading: none",  # of headings only the bookmarks are wanted
    ]
    pictures: dict[str, str] = {}
    every = svgs or [svg(sheet, with_font=False) for sheet in sheets]
    for number, (sheet, picture) in enumerate(zip(sheets, every, strict=True), start=1):
        name = f"sheet{number}"
        pictures[name] = picture
        size = f"width: {sheet.width:.4f}mm, height: {sheet.height:.4f}mm"
        titles = (sheet.fields.title, sheet.fields.supplementary_title)
        alt = _quoted(", ".join(words for words in titles if words))
        lines.append(
            f"#page({size}, margin: 0mm)[#heading(bookmarked: true, {alt})"
            f"#image(bytes(sys.inputs.{name}), {size}, alt: {alt})]"
        )
    compiler = typst.Compiler(
        "\n".join(lines).encode("utf-8"),
        font_paths=typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(FONT.parent)],
        ),
        sys_inputs=pictures,
    )
    made = compiler.compile(format="pdf")
    if not isinstance(made, bytes):
        raise TypeError(f"typst made {type(made).__name__}, not one PDF")
    return made


def _quoted(words: str) -> str:
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'
