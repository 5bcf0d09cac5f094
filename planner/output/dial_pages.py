"""The dial's sheet and strip of one job: which paper, and what stands in their fields.

Imported by the files of the package.
"""

from __future__ import annotations

from msgspec.structs import replace

from planner.drawing.dial_sheet import dial_sheet
from planner.drawing.dial_strip import strip_sheets
from planner.drawing.frame import NoRoom
from planner.drawing.model import Fields, Sheet
from planner.output.sheets.dial import job_dial
from planner.sizing.apply import Sizing
from planner.words.numbers import Numbers

PAPERS = {False: ("A4", "A3"), True: ("Letter", "Tabloid")}
"""What is printed on, the first that has room: in a metric shop, and in an inch one (True)."""


def dial_pages(job_name: str, sizing: Sizing, numbers: Numbers, revision: str) -> tuple[Sheet, ...]:
    """The sheet, then the strip's; revision: as the parts' sheets have it.

    Raises NoRoom where no paper is large enough."""
    dial = job_dial(sizing)
    sheet = Fields(
        "Dial",
        "",
        supplementary_title=job_name,
        document_type="Drawing of the lines",
        revision_index=revision,
    )
    strip = replace(sheet, title="Dial: strip to wrap", document_type="Template, full size")
    usual, larger = PAPERS[numbers.inch]

    def on(paper: str) -> tuple[Sheet, ...]:
        return (
            dial_sheet(dial, sheet, numbers, paper),
            *strip_sheets(dial, strip, numbers, paper),
        )

    try:
        return on(usual)
    except NoRoom:
        return on(larger)
