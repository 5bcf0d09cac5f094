"""Makes tests/words/sentences.txt anew: what the program can say and no test, sheet or page says yet.

    python tests/sentence_list.py        # prints what comes in and what goes; read it over

What stands there and is still said stays where it is; run it after words were changed on purpose.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[1])]
sys.path.insert(0, str(Path(__file__).with_name("words")))


def main() -> None:
    """Write the list and print how it differs."""
    import test_written_out as held

    listed = held.ledger()
    head = [
        line for line in held.LEDGER.read_text(encoding="utf-8").splitlines() if line[:2] == "# "
    ]
    out = [*head, ""]
    for path in held.sources():
        name, pieces = held.place(path), held.said(path)
        before = listed.get(name, [])
        kept = [piece for piece in before if piece in pieces]
        new = [p for p in dict.fromkeys(pieces) if p not in kept and p not in held.read_over()]
        for piece in new:
            print(f"+ {name}: {piece}")
        for piece in before:
            if piece not in kept:
                print(f"- {name}: {piece}")
        if kept or new:
            out += [f"## {name}", *(json.dumps(p, ensure_ascii=False) for p in [*kept, *new]), ""]
    held.LEDGER.write_text("\n".join(out).rstrip("\n") + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
