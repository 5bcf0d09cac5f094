"""How many single faults the tests notice: one fault at a time put into a copy, by room.

    python tests/benchmarks/mutate.py --seed 7 --each 12 making checking    # else every room
    python tests/benchmarks/mutate.py --modules --built drawing    # no cells of tables
    python tests/benchmarks/mutate.py --of output/book --also book output   # some modules of a room

A fault is one change such as a slip makes: a number, a word, a comparison turned round, plus for minus,
least for most, an allowance dropped, limits swapped, a cell of a table. So many are drawn in each room
from a seed, kind by kind. The room's own tests of the default set run first; with --built those of the
build set, which load the CAD kernel; then those of the sheets and of the steps; then all the rest. The
first failure stops. What no test noticed is printed with its place and change. Results go to
mutation-results.json beside this script with seed and commit; a room run again takes the place of its
earlier figures.
"""

from __future__ import annotations

import argparse
import ast
import csv
import io
import json
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from msgspec.structs import asdict

ROOT = Path(__file__).parents[2]
RESULTS = Path(__file__).with_name("mutation-results.json")
SHEETS = [
    *("tests/test_constants.py", "tests/test_defaults.py", "tests/words/test_written_out.py"),
    *("tests/output/test_tracked.py", "tests/making", "tests/cli/test_cli.py"),
]
"""What looks at every room: its numbers and words by hand, the sheets and the steps, the commands."""
BUT: set[str] = set()
"""Test files left out, where one fails without a fault (--but)."""
ALSO: list[str] = []
"""Rooms whose tests are run with the room's own (--also)."""
COSTLY = [
    *("geometry/test_edges.py", "checking/test_strength.py", "dial/test_dial.py"),
    *("checking/test_check.py", "output/test_topics.py", "stock/test_jobcopy.py"),
    *("output/test_schemas.py", "cli/test_cli.py", "sizing/test_sizing.py"),
]
"""The test files that take longest, the worst at the end: they run after the others."""
PAIRS = "over under,first last,before after,inside outside,least most,min max,upper_mm lower_mm,\
min_mm max_mm,low_mm high_mm,low high,start_mm end_mm,low_m_min high_m_min"
OPPOSITE = {a: b for one in PAIRS.split(",") for a, b in [one.split(), one.split()[::-1]]}
FLIPS = {ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.GtE, ast.GtE: ast.LtE, ast.Eq: ast.NotEq,
         ast.NotEq: ast.Eq}  # fmt: skip
KINDS = ("words", "number", "number", "comparison", "sign", "allowance dropped",
         "least and most", "limits swapped")  # fmt: skip


IDLE = ("cacheprovider", "hypothesispytest", "xdist", "platformdirs")
"""Plug-ins that no test here uses: where they are installed, they take as long as many a room."""


@dataclass(frozen=True)
class Fault:
    """One fault: its kind, where it is, how it reads before and after, and the file with it in."""

    kind: str
    file: str
    line: int
    before: str
    after: str
    text: str


def other_number(value: float) -> float:
    """A number that is a little off: a whole one by one, else by a tenth."""
    if isinstance(value, int):
        return value + 1
    return round(value * 1.1, 9) if value else 0.1


def other_words(text: str) -> str:
    """Words with a slip in them: a number off, a word for its opposite, else the longest left out."""
    if found := re.search(r"\d+(?:\.\d+)?", text):
        number = float(found[0]) if "." in found[0] else int(found[0])
        return text[: found.start()] + f"{other_number(number)}" + text[found.end() :]
    words = re.findall(r"\w+", text)
    for word in words:
        if word in OPPOSITE:
            return re.sub(rf"\b{word}\b", OPPOSITE[word], text, count=1)
    longest = max(words, key=len, default="")
    return text.replace(longest, "", 1) if longest else text


def changes(tree: ast.Module) -> Iterator[tuple[str, ast.stmt, tuple[ast.AST, str, object]]]:
    """Every change that can be made to a module: kind, statement, and which field of what to set."""
    inside: dict[ast.AST, ast.stmt] = {}
    skipped: set[ast.AST] = set()

    def walk(node: ast.AST, statement: ast.stmt | None) -> None:
        statement = node if isinstance(node, ast.stmt) else statement
        told = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        if told or isinstance(node, ast.Raise | ast.Assert | ast.Import | ast.ImportFrom):
            return
        if statement:
            inside[node] = statement
        for name, value in ast.iter_fields(node):
            if name in ("annotation", "returns", "decorator_list", "format_spec"):
                continue
            for child in value if isinstance(value, list) else [value]:
                if isinstance(child, ast.AST):
                    if isinstance(node, ast.JoinedStr):
                        skipped.add(child)
                    walk(child, statement)

    walk(tree, None)
    for node, statement in inside.items():
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            if (" " in node.value or node in skipped) and re.search(r"\w", node.value):
                yield "words", statement, (node, "value", other_words(node.value))
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
            yield "number", statement, (node, "value", other_number(node.value))
        elif isinstance(node, ast.Compare) and type(node.ops[0]) in FLIPS:
            yield "comparison", statement, (node, "ops", [FLIPS[type(node.ops[0])]()])
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub):
            sides = (node.left, node.right)
            lists = any(isinstance(s, ast.JoinedStr | ast.List | ast.Tuple) for s in sides)
            if lists or any(isinstance(getattr(s, "value", 0), str) for s in sides):
                continue
            other = ast.Sub() if isinstance(node.op, ast.Add) else ast.Add()
            yield "sign", statement, (node, "op", other)
            nothing = isinstance(node.right, ast.Constant) and not node.right.value
            if isinstance(node.right, ast.Name | ast.Attribute | ast.Constant) and not nothing:
                yield "allowance dropped", statement, (node, "right", ast.Constant(0))
        elif isinstance(node, ast.Name) and node.id in OPPOSITE and isinstance(node.ctx, ast.Load):
            yield "least and most", statement, (node, "id", OPPOSITE[node.id])
        elif isinstance(node, ast.Attribute) and node.attr in OPPOSITE:
            yield "limits swapped", statement, (node, "attr", OPPOSITE[node.attr])


def python_fault(path: Path, draw: random.Random, kind: str) -> Fault | None:
    """One fault of a kind in a module, or None where there is none to make."""
    source = path.read_text(encoding="utf-8")
    choices = [index for index, (k, _, _) in enumerate(changes(ast.parse(source))) if k == kind]
    if not choices:
        return None
    tree = ast.parse(source)
    _, statement, change = list(changes(tree))[draw.choice(choices)]
    before = ast.unparse(statement).splitlines()
    setattr(*change)
    after = ast.unparse(ast.fix_missing_locations(statement)).splitlines()
    one, other = next(((a, b) for a, b in zip(before, after, strict=False) if a != b), ("", ""))
    if one == other:
        return None
    at = next((i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), len(one))
    one, other = (text[max(0, at - 50) : at + 50].strip() for text in (one, other))
    file = path.relative_to(ROOT).as_posix()
    return Fault(kind, file, statement.lineno, one, other, ast.unparse(tree) + "\n")


def table_fault(path: Path, draw: random.Random) -> Fault | None:
    """One number of one row of a table a little off; None in a table without."""
    rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
    head = next(i for i, row in enumerate(rows) if not row[0].startswith("#"))
    cells = [(i, j) for i, row in enumerate(rows) if i > head for j, cell in enumerate(row)
             if re.fullmatch(r"-?\d+(\.\d+)?", cell)]  # fmt: skip
    if not cells:
        return None
    i, j = draw.choice(cells)
    before = ",".join(rows[i])
    rows[i][j] = f"{other_number(float(rows[i][j]) if '.' in rows[i][j] else int(rows[i][j]))}"
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    file = path.relative_to(ROOT).as_posix()
    return Fault(f"cell {rows[head][j]}", file, i + 1, before, ",".join(rows[i]), out.getvalue())


def draw_faults(
    room: str, number: int, seed: int, modules: bool = False, of: str = ""
) -> list[Fault]:
    """So many different faults in one room, drawn kind by kind; of its modules alone if so asked, or of
    those that have ``of`` in their path."""
    draw = random.Random(f"{seed} {room}")
    folder = ROOT / room
    files = sorted(folder.glob("*.py") if room == "parts" else folder.rglob("*.py"))
    files = [path for path in files if of in path.as_posix()]
    tables = [] if modules or of else sorted(folder.glob("*.csv"))
    found: dict[tuple[str, int, str], Fault] = {}
    for _ in range(200 * number):
        if len(found) == number:
            break
        if tables and draw.random() < 0.5:
            fault = table_fault(draw.choice(tables), draw)
        else:
            (path,) = draw.choices(files, [path.stat().st_size for path in files])
            fault = python_fault(path, draw, draw.choice(KINDS))
        if fault:
            found.setdefault((fault.file, fault.line, fault.after), fault)
    return list(found.values())


def files_of(copy: Path, *places: str) -> list[str]:
    """The test files in these places, the costly ones last."""
    found = {
        path.relative_to(copy / "tests").as_posix()
        for place in places
        for path in ([copy / place] if place.endswith(".py") else (copy / place).rglob("test_*.py"))
    }
    return sorted(
        found - BUT, key=lambda name: (COSTLY.index(name) + 1 if name in COSTLY else 0, name)
    )


def passes(copy: Path, tests: list[str], marked: str = "") -> bool:
    """Whether these test files pass in the copy; marked: of another set than the default one."""
    words = [sys.executable, "-m", "pytest", "-x", "-q", *(["-m", marked] if marked else [])]
    words += [word for name in IDLE for word in ("-p", f"no:{name}")]
    words += [f"tests/{name}" for name in tests]
    try:
        done = subprocess.run(words, cwd=copy, capture_output=True, timeout=1200)
    except subprocess.TimeoutExpired:
        return False  # a loop that does not end is noticed
    return done.returncode in (0, 5)


def noticed_by(copy: Path, room: str, near: bool, built: bool) -> str:
    """Which tests notice what is wrong: "room", "built" (if so asked), "sheets", "rest" (not run when
    near), "" for none."""
    own = "tests/" + room.removeprefix("planner/")
    mine = files_of(copy, own, *(f"tests/{name}" for name in ALSO))
    if mine and not passes(copy, mine):
        return "room"
    if built and not passes(copy, mine, "build and not slow"):
        return "built"
    sheets = [name for name in files_of(copy, *SHEETS) if name not in mine]
    if not passes(copy, sheets):
        return "sheets"
    rest = [name for name in files_of(copy, "tests") if name not in sheets]
    return "" if near or passes(copy, rest) else "rest"


def run(copy: Path, room: str, faults: list[Fault], near: bool, built: bool) -> list[str]:
    """Which tests notice each fault of a room; raises SystemExit where they fail without one."""
    for path in (copy / room).rglob("*.py"):  # as a fault leaves them, but without it
        path.write_text(ast.unparse(ast.parse(path.read_text("utf-8"))), encoding="utf-8")
    if who := noticed_by(copy, room, near=True, built=built):
        raise SystemExit(f"{room}: tests of the {who} fail without a fault")
    found = []
    for fault in faults:
        path = copy / fault.file
        was = path.read_bytes()
        path.write_text(fault.text, encoding="utf-8")
        found.append(noticed_by(copy, room, near, built))
        path.write_bytes(was)
        print(f"    {found[-1] or '-':7}{fault.file}:{fault.line} {fault.after}", flush=True)
    if "rest" in found and noticed_by(copy, room, near=False, built=False):
        raise SystemExit(f"{room}: tests of the rest fail without a fault")
    return found


def main() -> None:
    """Draw, run, print and write down."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    asked.add_argument("rooms", nargs="*", help="names such as making; all when none is given")
    asked.add_argument("--seed", type=int, default=7)
    asked.add_argument("--each", type=int, default=8, help="faults a room")
    asked.add_argument("--near", action="store_true", help="leave the rest of the default set out")
    asked.add_argument("--built", action="store_true", help="the room's tests of the build set too")
    asked.add_argument("--modules", action="store_true", help="no cells of the room's tables")
    asked.add_argument("--also", action="append", default=[], help="a room whose tests are run too")
    asked.add_argument("--of", default="", help="modules with this in their path alone")
    asked.add_argument(
        "--but", action="append", default=[], help="a test file, as dial/test_dial.py"
    )
    given = asked.parse_args()
    BUT.update(given.but)
    ALSO.extend(given.also)
    inner = sorted(p.parent.name for p in (ROOT / "planner").glob("*/__init__.py"))
    rooms = ["parts", "parts/standard", *(f"planner/{name}" for name in inner)]
    wanted = [r for r in rooms if not given.rooms or r.split("/")[-1] in given.rooms]
    git = ["git", "-C", str(ROOT)]
    commit = subprocess.check_output([*git, "rev-parse", "--short", "HEAD"], text=True).strip()
    listed = subprocess.check_output([*git, "ls-files", "-co", "--exclude-standard"], text=True)
    results = json.loads(RESULTS.read_text(encoding="utf-8")) if RESULTS.exists() else {}
    stages = ("room", *(["built"] if given.built else []), "sheets", "rest")
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for name in filter(lambda name: (ROOT / name).is_file(), listed.splitlines()):
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, copy / name)
        for room in wanted:
            faults = draw_faults(room, given.each, given.seed, given.modules, given.of)
            by = run(copy, room, faults, given.near, given.built)
            left = [f for f, who in zip(faults, by, strict=True) if not who]
            print(f"{room}: {len(faults) - len(left)} of {len(faults)} noticed", flush=True)
            for one in left:
                print(
                    f"  {one.file}:{one.line} [{one.kind}]\n    - {one.before}\n    + {one.after}"
                )
            results[f"{room}, {given.of}" if given.of else room] = {
                **{"seed": given.seed, "commit": commit, "near": given.near},
                **({"modules": True} if given.modules else {}),
                **({"without": sorted(BUT)} if BUT else {}),
                **({"with": ALSO} if ALSO else {}),
                "faults": len(faults),
                "noticed_by": {who: by.count(who) for who in stages},
                "survivors": [{k: v for k, v in asdict(f).items() if k != "text"} for f in left],
            }
            RESULTS.write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
