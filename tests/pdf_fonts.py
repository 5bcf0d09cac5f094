"""Which fonts a PDF names and which stand in it, by pypdf."""

from __future__ import annotations

import io

import pypdf


def fonts(data: bytes) -> set[tuple[str, bool]]:
    """Every font of a PDF and whether it stands in the file, wherever it is used."""
    found = set()
    for value in _objects(data):
        if isinstance(value, pypdf.generic.DictionaryObject) and value.get("/Type") == "/Font":
            parts = value.get("/DescendantFonts")
            holder = parts.get_object()[0].get_object() if parts else value
            descriptor = holder.get("/FontDescriptor")
            inside = descriptor is not None and "/FontFile2" in descriptor.get_object()
            found.add((str(value["/BaseFont"]), inside))
    return found


def _objects(data: bytes) -> list[object]:
    reader = pypdf.PdfReader(io.BytesIO(data))
    return [
        pypdf.generic.IndirectObject(number, 0, reader).get_object()
        for number in range(1, int(reader.trailer["/Size"]))
    ]
