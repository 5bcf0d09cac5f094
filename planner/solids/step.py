"""STEP files of parts and of the attachment: named, coloured, the same bytes every time."""

from __future__ import annotations

import io
import itertools
import os
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from parts.attachment import Attachment
from parts.part import Part
from parts.value import Value
from planner.solids.build import bought_solid, label, placement, solid
from planner.solids.kernel import Shape, kernel

STEEL_GREY = (0.62, 0.64, 0.66)
"""Colour of everything bought."""

TIME_STAMP = "1970-01-01T00:00:00"
"""Written in place of the time, so that the same sizes give the same file."""


PRECISION_MM = 1e-6
"""The uncertainty a STEP file states of its points."""


class Product(Value, frozen=True):
    """What a STEP file names: a shape with its colour."""

    name: str
    shape: Shape
    colour: tuple[float, float, float]


def write_step(path: Path, part: Part) -> None:
    """One part as a STEP file (AP214, mm) in its own frame, named by its title, coloured.

    Whole or not at all, and byte for byte the same for the same part. Raises OSError when the
    file cannot be written.
    """
    _write(path, part.title, [Product(part.title, solid(part), part.colour)], {})


def write_assembly_step(
    path: Path, attachment: Attachment, tip_radius_mm: float, swing_deg: float
) -> None:
    """All parts and bought items in a pose, named and coloured, as one STEP file (AP214, mm).

    tip_radius_mm, swing_deg: the pose, as in ``placement``. As reproducible as ``write_step``.
    """
    products: dict[str, Product] = {}
    places: dict[str, list[Any]] = {}
    for placed in attachment.placed:
        name, item = label(placed.item), placed.item
        if name not in products:
            if isinstance(item, Part):
                products[name] = Product(name, solid(item), item.colour)
            else:
                products[name] = Product(name, bought_solid(item), STEEL_GREY)
        places.setdefault(name, []).append(placement(placed, tip_radius_mm, swing_deg))
    _write(path, "Attachment", list(products.values()), places)


def _write(
    path: Path, title: str, products: Sequence[Product], places: Mapping[str, Sequence[Any]]
) -> None:
    """A STEP file of one product by itself or, with the places of each, of an assembly of them.

    The kernel's own document is written, since cadquery's exporter wraps a single part in a
    nameless assembly; it goes to memory, is made reproducible, and only then to its place.
    """
    kernel()
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    shapes.SetAutoNaming_s(False)

    def named(entry: Any, name: str) -> Any:
        TDataStd_Name.Set_s(entry, TCollection_ExtendedString(name))
        return entry

    whole = named(shapes.NewShape(), title) if places else None
    for product in products:
        entry = named(shapes.AddShape(product.shape.wrapped, False), product.name)
        for place in places.get(product.name, ()):
            named(shapes.AddComponent(whole, entry, place.wrapped), product.name)
    if places:
        shapes.UpdateAssemblies()

    writer = STEPCAFControl_Writer()  # first, since making one resets the settings
    Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    # Stated here, else the average of the shape's tolerances, which earlier cuts may have widened.
    Interface_Static.SetIVal_s("write.precision.mode", 2)
    Interface_Static.SetRVal_s("write.precision.val", PRECISION_MM)
    writer.SetNameMode(True)
    writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
    stream = io.BytesIO()
    writer.WriteStream(stream)
    text = _reproducible(stream.getvalue().decode("ascii"), title)
    text = _coloured(text, [product.colour for product in products])
    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        unfinished.write_text(text, encoding="ascii", newline="\n")
        os.replace(unfinished, path)
    finally:
        unfinished.unlink(missing_ok=True)


def _reproducible(text: str, title: str) -> str:
    """A STEP text without what changes from run to run: the time, and what the kernel counts up."""
    quoted = title.replace("'", "''")
    header = f"FILE_NAME('{quoted}','{TIME_STAMP}',(''),(''),'Open CASCADE','pommel','')"
    text = re.sub(r"FILE_NAME\(.*?\)(?=;)", lambda _: header, text, count=1, flags=re.DOTALL)
    count = itertools.count(1)

    def occurrence(found: re.Match[str]) -> str:
        # On one line, since where the kernel breaks it depends on how long the number was.
        rest = re.sub(r"\n\s*", "", found[1])
        return f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{next(count)}'{rest};"

    pattern = r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\(\s*'\d+'(.*?);"
    return re.sub(pattern, occurrence, text, flags=re.DOTALL)


def _coloured(text: str, colours: Sequence[tuple[float, float, float]]) -> str:
    """A STEP text with a colour for each of its solids, in their order.

    Added here because the kernel writes colours in the order of memory addresses.
    """
    solids = re.findall(r"#(\d+) = (?:MANIFOLD_SOLID_BREP|BREP_WITH_VOIDS)\(", text)
    contexts = re.findall(
        r"ADVANCED_BREP_SHAPE_REPRESENTATION\('',\(.*?\),\s*#(\d+)\);", text, re.S
    )
    number = max(int(n) for n in re.findall(r"^#(\d+) = ", text, re.M))
    lines = []
    for item, context, rgb in zip(solids, contexts, colours, strict=True):
        tint = ",".join(f"{share:.4f}" for share in rgb)
        for record in (
            f"COLOUR_RGB('',{tint})",
            "FILL_AREA_STYLE_COLOUR('',#{0})",
            "FILL_AREA_STYLE('',(#{0}))",
            "SURFACE_STYLE_FILL_AREA(#{0})",
            "SURFACE_SIDE_STYLE('',(#{0}))",
            "SURFACE_STYLE_USAGE(.BOTH.,#{0})",
            "PRESENTATION_STYLE_ASSIGNMENT((#{0}))",
            f"STYLED_ITEM('colour',(#{{0}}),#{item})",
            f"MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(#{{0}}),#{context})",
        ):
            lines.append(f"#{number + 1} = {record.format(number)};\n")
            number += 1
    end = text.rindex("ENDSEC;")
    return text[:end] + "".join(lines) + text[end:]
