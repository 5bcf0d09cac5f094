"""What the page carries packed, unpacked by its own script, against what Python's zlib packed."""

from __future__ import annotations

import random
import zlib
from base64 import b64encode

import pytest
from page_node import in_node


def packed(text: str, level: int, strategy: int) -> str:
    made = zlib.compressobj(level, zlib.DEFLATED, -15, 9, strategy)
    return b64encode(made.compress(text.encode()) + made.flush()).decode()


def texts() -> list[str]:
    rng = random.Random(11)
    found = ["", "a", "abc" * 30_000, "Ø ±0.1 ° — ✕", "x" * 70_000]
    found += ["".join(chr(rng.randrange(32, 1200)) for _ in range(40_000))]
    words = [f"M{rng.uniform(0, 300):.2f},{rng.uniform(0, 200):.2f}" for _ in range(300)]
    found += [" ".join(rng.choice(words) for _ in range(20_000))]
    return found


@pytest.mark.parametrize("level", [0, 1, 9])
@pytest.mark.parametrize("strategy", [zlib.Z_DEFAULT_STRATEGY, zlib.Z_FIXED])
def test_every_kind_of_block_is_unpacked(level: int, strategy: int) -> None:
    # stored, with the fixed codes, and with codes of their own: RFC 1951, 3.2.3
    wanted = texts()
    body = "return pommel.unpack(one)"
    found = in_node(["inflate.js"], body, [packed(one, level, strategy) for one in wanted])
    assert found == wanted


def test_what_is_cut_short_is_not_taken_for_whole() -> None:
    whole = packed("some words, " * 500 + "the end", 9, zlib.Z_DEFAULT_STRATEGY)
    body = "try { return [pommel.unpack(one)] } catch (error) { return error.message }"
    (told,) = in_node(["inflate.js"], body, [whole[: len(whole) // 8 * 4]])
    assert told == "packed data end too soon"
