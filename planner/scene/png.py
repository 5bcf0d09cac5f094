"""A picture as PNG, by zlib alone: grey or colour, eight bits a channel, the same bytes each time.

Imported by planner.scene.pictures.
"""

from __future__ import annotations

import struct
import zlib

import numpy as np
from numpy.typing import NDArray


def png(pixels: NDArray[np.uint8], dots_per_mm: float = 0.0) -> bytes:
    """The bytes of a PNG file (ISO/IEC 15948): pixels (height, width, 3), rows from the top.

    dots_per_mm: stated in the file, where above zero. Raises ValueError for another shape.
    """
    if pixels.ndim != 3 or pixels.shape[2] != 3 or pixels.dtype != np.uint8:
        raise ValueError(
            f"pixels of shape {pixels.shape} and type {pixels.dtype}: not 8-bit colour"
        )
    height, width = pixels.shape[:2]
    grey = bool(
        (pixels[..., 0] == pixels[..., 1]).all() and (pixels[..., 1] == pixels[..., 2]).all()
    )
    rows = pixels[..., :1] if grey else pixels
    up = np.concatenate([np.zeros_like(rows[:1]), rows[:-1]])
    filtered = (rows - up).reshape(height, -1)  # filter 2: less the row above, modulo 256
    lines = np.concatenate([np.full((height, 1), 2, np.uint8), filtered], axis=1)
    header = struct.pack(">IIBBBBB", width, height, 8, 0 if grey else 2, 0, 0, 0)
    chunks = [(b"IHDR", header)]
    if dots_per_mm > 0:
        dots = round(1000 * dots_per_mm)
        chunks.append((b"pHYs", struct.pack(">IIB", dots, dots, 1)))
    chunks += [(b"IDAT", zlib.compress(lines.tobytes(), 6)), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(name, data) for name, data in chunks)


def _chunk(name: bytes, data: bytes) -> bytes:
    check = zlib.crc32(name + data)
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)
