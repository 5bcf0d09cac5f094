"""The house: which floor imports which, where the kernel is loaded, and that every rule is there."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path

from jobs import ROOT, planned
from msgspec.structs import fields
from sources import nodes

from parts.features import feature_types
from parts.part import every_feature, members
from parts.sizes import Sizes
from parts.standard.sections import SHAPES
from planner.making.callouts import callout
from planner.making.kinds import WORK_OF
from planner.output.topics import TOPICS
from planner.record.judge import measured
from planner.sizing.rules import RULES

BENCH = str(ROOT / "examples" / "bench-lathe.toml")


def imports(path: Path) -> set[str]:
    """The top-level packages a file imports anywhere in it."""
    found = set()
    for node in nodes(path):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


def test_parts_import_nothing_of_the_planner() -> None:
    files = sorted((ROOT / "parts").rglob("*.py"))
    assert len(files) > 15
    assert [f for f in files if "planner" in imports(f)] == []


def test_only_the_solids_know_the_kernel() -> None:
    files = [*(ROOT / "parts").rglob("*.py"), *(ROOT / "planner").rglob("*.py")]
    knowing = {
        f.parent.relative_to(ROOT).as_posix() for f in files if imports(f) & {"cadquery", "OCP"}
    }
    assert knowing == {"planner/solids"}


def run_apart(code: str, *words: str) -> None:
    """Run Python in a process of its own, where nothing is loaded yet."""
    done = subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert done.returncode == 0, done.stderr


NO_SOLID = [
    ["--help"],
    ["schema"],
    ["new", "NEW.toml"],
    ["--version"],
    ["list", "threads"],
    ["ready"],
    ["record", BENCH],
    ["schema", "--of", "check"],
]
NO_SOLID += [[t.name, BENCH] for t in TOPICS if t.columns and t.needs != "solids"]


def test_commands_that_need_no_solid_never_load_the_kernel(tmp_path: Path) -> None:
    code = (
        "import json, sys\n"
        "from planner.cli.main import main\n"
        "for words in json.loads(sys.argv[1]):\n"
        "    try:\n        main(words)\n"
        "    except SystemExit as end:\n        assert not end.code, (words, end.code)\n"
        "    heavy = {'cadquery', 'OCP', 'ezdxf', 'vtkmodules'} & set(sys.modules)\n"
        "    assert not heavy, (words, heavy)\n"
    )
    new = str(tmp_path / "new")
    run_apart(code, json.dumps([[w.replace("NEW", new) for w in words] for words in NO_SOLID]))


def test_a_topic_loads_the_kernel_only_when_its_entry_says_so(tmp_path: Path) -> None:
    # whatever asks for the kernel is stopped there, so that the next finds it not loaded either
    code = (
        "import sys; from pathlib import Path\n"
        "from planner.output.topics import TOPICS\n"
        "class Asked(BaseException): pass\n"
        "class Watch:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name in ('cadquery', 'OCP'): raise Asked\n"
        "sys.meta_path.insert(0, Watch())\n"
        "wrong = []\n"
        "for one in TOPICS:\n"
        "    plan, asked = one.plan(Path(sys.argv[1]), one.asked({})), False\n"
        "    try:\n"
        "        one.all_findings(plan, one.asked({}))\n"
        "        if one.columns: one.printed(plan, one.asked({})), one.record(plan, one.asked({}))\n"
        "        for file in one.files(one, plan): file.write(Path(sys.argv[2]))\n"
        "    except Asked: asked = True\n"
        "    if asked != (one.needs == 'solids'): wrong.append((one.name, asked))\n"
        "assert not wrong, wrong\n"
    )
    run_apart(code, BENCH, str(tmp_path))


def test_no_test_runs_a_command_but_by_the_helper_that_sees_a_traceback() -> None:
    of_click = (
        p.name
        for p in (ROOT / "tests").rglob("*.py")
        if "click.testing" in p.read_text(encoding="utf-8") and p.name != Path(__file__).name
    )
    assert list(of_click) == ["commands.py"]


def test_every_feature_type_has_its_rules() -> None:
    types = feature_types()
    assert len(types) > 15
    assert set(WORK_OF) == set(types)
    for rule in (callout, measured):
        missing = [t.__name__ for t in types if rule.dispatch(t) is rule.dispatch(object)]
        assert missing == [], rule.__name__


def test_every_size_has_one_rule_in_the_same_order() -> None:
    series, *sizes = [field.name for field in fields(Sizes)]  # whose series they are is the job's
    assert series == "series" and sizes == [rule.name for rule in RULES]


def names_of_things() -> set[str]:
    """What parts, their pieces and features, and bought items are called in one attachment."""
    made = planned(Path(BENCH)).attachment
    found = {name for part in made.parts for name in (part.name, part.title.lower())}
    found |= {member.name for part in made.parts for member in members(part)}
    found |= {feature.name for part in made.parts for _, feature in every_feature(part)}
    found |= {item.use for item in made.bought}
    # of sections, of what is turned, of kinds of work: words of the job and of the trade
    return found - {*SHAPES, "ball", "knurl"}


def chosen_by(node: ast.AST) -> list[ast.expr]:
    """What a piece of code is compared with, or goes through: literals there choose by name."""
    if isinstance(node, ast.Compare):
        return [node.left, *node.comparators]
    if isinstance(node, ast.For | ast.comprehension):
        return [node.iter]
    return []


def test_the_planner_chooses_no_part_by_its_name() -> None:
    names, found, seen = names_of_things(), [], 0
    assert len(names) > 50 and {"rod", "tool bit", "journal", "holds the bit"} <= names
    for file in sources():
        if not file.startswith("planner/"):
            continue
        for node in nodes(ROOT / file):
            for side in chosen_by(node):
                seen += 1
                listed = side.elts if isinstance(side, ast.Tuple | ast.List | ast.Set) else [side]
                words = [x.value for x in listed if isinstance(x, ast.Constant)]
                found += [f"{file}: {word}" for word in words if word in names]
    assert seen > 1000
    assert found == []


MOST_LINES, MOST_ARGUMENTS = 400, 10


def sources() -> dict[str, str]:
    """Every Python file of the two floors by its place in the project."""
    files = [file for floor in ("parts", "planner") for file in (ROOT / floor).rglob("*.py")]
    return {f.relative_to(ROOT).as_posix(): f.read_text(encoding="utf-8") for f in sorted(files)}


def test_no_file_is_longer_than_one_reader_wants() -> None:
    found = sources()
    assert len(found) > 100
    assert {name for name, text in found.items() if text.count("\n") > MOST_LINES} == set()


def test_no_function_takes_more_arguments_than_can_be_told_apart() -> None:
    wide, seen = set(), 0
    for file in sources():
        for node in nodes(ROOT / file):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                of = node.args
                rest = [one for one in (of.vararg, of.kwarg) if one]
                number = len(of.posonlyargs + of.args + of.kwonlyargs + rest)
                seen += 1
                if number > MOST_ARGUMENTS:
                    wide.add(f"{file}: {node.name}")
    assert seen > 500
    assert wide == set()
