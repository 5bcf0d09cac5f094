"""The dial's sheet and strip of one job: which paper, and what stands in their fields.

Imported by the files of the package.
"""

from __future__ import annotations

from dataclasses import replace

from planner.drawing.dial_sheet import dial_sheet
from planner.drawing.dial_strip import strip_sheets
from planner.drawing.model import Fields, Sheet
from planner.output.sheets.dial import job_dial
from planner.sizing.apply import Sizing
from planner.words.numbers import Numbers


def dial_pages(job_name: str, sizing: Sizing, numbers: Numbers) -> tuple[Sheet, ...]:
    """The sheet, then the strip's: on A4 in a metric shop, on Letter in an inch one."""
    dial, paper = job_dial(sizing), "Letter" if numbers.inch else "A4"
    sheet = Fields("Dial", "", supplementary_title=job_name, document_type="Drawing of the lines")
    strip = replace(sheet, title="Dial: strip to wrap", document_type="Template, full size")
    return (
        dial_sheet(dial, sheet, numbers, paper),
        *strip_sheets(dial, strip, numbers, paper),
    )
