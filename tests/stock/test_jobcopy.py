"""Copies of a job: read back by the standard library's TOML reader, whatever form the tables have.

What a copy must say is worked out here from plain data; the reader is `tomllib` and not the library
that writes the copy. The forms are those of TOML 1.0.0 (toml.io/en/v1.0.0: keys, inline table, array of
tables).
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from collections import Counter
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

import pytest
from commands import call
from jobs import ROOT

from parts.standard.sections import Section
from planner.stock.bars import RackRow
from planner.stock.jobcopy import CannotCopy, spelled, with_own_sizes, with_rack
from planner.words.units import length_mm

ROUND_16, ROUND_25, FLAT = Section("round", 16), Section("round", 25), Section("flat", 60, 15)
WRITTEN = {ROUND_16: "round 16", ROUND_25: "round 25 mm", FLAT: "flat 60x15"}

SIZES_FORMS = {
    "table": '[attachment]\nmax_ball_diameter = 40\n[attachment.sizes] # own\nrod_diameter = "16 mm"',
    "table elsewhere": '[attachment.sizes]\nrod_diameter = "16 mm"\n\n# ball\n[attachment]\n'
    "max_ball_diameter = 40",
    "no sizes": "[attachment]\nmax_ball_diameter = 40",
    "braces": '[attachment]\nsizes = {rod_diameter = "16 mm"} # own\nmax_ball_diameter = 40',
    "no sizes in braces": "[attachment]\nsizes = {}\nmax_ball_diameter = 40",
    "dotted": '[attachment]\nsizes.rod_diameter = "16 mm" # own\nmax_ball_diameter = 40',
    "spaced header": '[ attachment . "sizes" ]\n"rod_diameter" = \'16 mm\'',
    "a string like a header": '[attachment]\narrangement = """\\\n  across\\\n"""\n[attachment.sizes]',
}
"""Ways to write [attachment] under a header."""

SIZES_AT_THE_TOP = {
    "dotted keys": 'attachment.max_ball_diameter = 40\nattachment.sizes.rod_diameter = "16 mm"',
    "dotted keys apart": 'attachment.sizes.rod_diameter = "16 mm"\nname = "x"\n'
    'attachment.sizes.leaf_width = "30 mm"',
    "dotted keys, no sizes": "attachment.max_ball_diameter = 40",
    "one brace": "attachment = {max_ball_diameter = 40}",
    "braces in braces": 'attachment = { sizes = { rod_diameter = "16 mm" } } # own',
    "dotted in braces": 'attachment = {max_ball_diameter = 40, sizes.rod_diameter = "16 mm"}',
}
"""Ways to write it before the first header."""

RACK_FORMS = {
    "tables": "[shop]\nkerf = 1.6\n\n# on the rack\n{tables}",
    "tables first": "# on the rack\n{tables}\n[shop]\nkerf = 1.6",
    "tables alone": "{tables}",
    "tables apart": "{table}\n[shop]\nkerf = 1.6\n# more of it\n{rest}\n[shop.machines.mill]",
    "tables between": "[shop]\n{table}\n[[shop.buy]]\nsection = 'round 25'\nmaterial = 'S355'\n"
    "length = 1000\n{rest}",
    "one line": "[shop]\nrack = [{row}] # the rack\nkerf = 1.6",
    "many lines": "[shop]\nrack = [ # the rack\n{lines}\n]\nkerf = 1.6",
    "many lines, last comma": "[shop]\nkerf = 1.6\nrack = [\n{lines},\n  # and no more\n]",
    "nothing": "[shop]\nkerf = 1.6",
    "empty": "[shop]\nrack = []\nkerf = 1.6",
    "no shop": "",
}
RACK_AT_THE_TOP = {
    "dotted array": "shop.kerf = 1.6\nshop.rack = [{row}] # the rack",
    "dotted, no rack": "shop.kerf = 1.6",
    "braces": "shop = {{kerf = 1.6, rack = [{row}]}} # the rack",
    "braces, no rack": "shop = {{kerf = 1.6}}",
    "dotted array, lines": "shop.rack = [\n{lines}\n]",
}

REST = '[lathe]\nspindle_over_seat = 20\nspindle_over_cross_slide = 62\n"jaw_reach"=26 # reach'


def bar(row: RackRow, form: str, rng: Random) -> str:
    """A row of the rack in TOML, its keys in any order."""
    says = [
        f'section = "{WRITTEN[row.section]}"',
        f"'material' = \"{row.material}\"",
        rng.choice([f"length = {row.length_mm:g}", f'length = "{row.length_mm / 10:g} cm"']),
    ]
    says += [f"quantity = {row.quantity}"] if row.quantity > 1 or rng.random() < 0.3 else []
    says += [f"cost = {row.cost}"] if row.cost else []
    rng.shuffle(says)
    if form == "braces":
        return "{ " + ", ".join(says) + " }"
    header = rng.choice(["[[shop.rack]]", '[[ shop . "rack" ]]'])
    return "\n".join([header, *says]) + "\n"


def job_text(rng: Random, sizes: str, rack: str, rows: list[RackRow]) -> str:
    """A job in these forms, its headers in any order, with comments after and before its lines."""
    parts: dict[str, Any] = {}
    tables = [bar(row, "table", rng) for row in rows]
    braces = [bar(row, "braces", rng) for row in rows]
    parts["tables"] = "\n".join(tables)
    parts["table"], parts["rest"] = tables[0], "\n".join(tables[1:])
    parts["row"], parts["lines"] = ", ".join(braces), ",\n".join(f"    {row}" for row in braces)
    top, under = ["units = 'mm'"], [REST]
    (under if sizes in SIZES_FORMS else top).append((SIZES_FORMS | SIZES_AT_THE_TOP)[sizes])
    shop = (RACK_FORMS | RACK_AT_THE_TOP)[rack].format(**parts)
    (under if rack in RACK_FORMS else top).append(shop)
    rng.shuffle(top)
    rng.shuffle(under)
    said: list[str] = []
    for line in "\n".join(top + under).split("\n"):
        if rng.random() < 0.3 and not line.startswith("  across"):
            said.append(f"# before {len(said)}")
        plain = re.fullmatch(r"[^#\\]*[\"\w\]}']", line) and '"""' not in line
        said.append(line + (f"  # beside {len(said)}" if plain and rng.random() < 0.3 else ""))
    ending = rng.choice(["\n", "", "\n\n", "\n# the end"])
    text = "\n".join(said) + ending
    return text.replace("\n", "\r\n") if rng.random() < 0.3 else text


def a_rack(rng: Random) -> list[RackRow]:
    return [
        RackRow(
            rng.choice(list(WRITTEN)),
            rng.choice(["S355", "C45"]),
            float(rng.randint(50, 900)),
            rng.randint(1, 3),
            rng.choice([0.0, 0.0, 4.75]),
        )
        for _ in range(rng.randint(1, 4))
    ]


def sawn(rng: Random, rows: list[RackRow]) -> list[RackRow]:
    """A rack after sawing: bars gone or fewer, remnants laid on it."""
    after = []
    for row in rows:
        left = rng.randint(0, row.quantity)
        if left:
            after.append(RackRow(row.section, row.material, row.length_mm, left, row.cost))
    for _ in range(rng.randint(0, 2)):
        length = rng.randint(200, 3000) / 10
        after.append(RackRow(rng.choice(list(WRITTEN)), "S355", length, rng.randint(1, 2), 0.0))
    return after


def in_mm(value: Any) -> float:
    if isinstance(value, str):
        number, unit = value.split()
        return float(number) * {"mm": 1.0, "cm": 10.0}[unit]
    return float(value)


def read_back(data: dict[str, Any]) -> Counter[RackRow]:
    """The rack of parsed TOML, taken out of it."""
    rows = data.get("shop", {}).pop("rack", [])
    if data.get("shop") == {}:
        del data["shop"]
    section = {name.removesuffix(" mm"): found for found, name in WRITTEN.items()}
    return Counter(
        RackRow(
            section[row["section"].removesuffix(" mm")],
            row["material"],
            in_mm(row["length"]),
            row.get("quantity", 1),
            row.get("cost", 0.0),
        )
        for row in rows
    )


def comments(text: str) -> list[str]:
    return re.findall(r"# (?:before|beside) \d+|# [a-z ]+", text)


def within(some: list[str], all_of_them: list[str]) -> bool:
    """Whether they come in this order among the others."""
    rest = iter(all_of_them)
    return all(one in rest for one in some)


FORMS = [
    (sizes, rack)
    for sizes in SIZES_FORMS | SIZES_AT_THE_TOP
    for rack in RACK_FORMS | RACK_AT_THE_TOP
]


@pytest.mark.parametrize("sizes,rack", FORMS)
def test_every_form_is_copied_and_says_the_rest_as_before(sizes: str, rack: str) -> None:
    for seed in range(4):
        rng = Random(f"{sizes}, {rack}, {seed}")
        rows = a_rack(rng)
        text = job_text(rng, sizes, rack, rows)
        before = tomllib.loads(text)

        made = with_own_sizes(text, {"leaf_thickness": 8.0, "pivot": ROUND_25}, False)
        wanted = tomllib.loads(text)
        own = wanted["attachment"].setdefault("sizes", {})
        own |= {"leaf_thickness": "8 mm", "pivot": "round 25 mm"}
        assert tomllib.loads(made) == wanted, made
        assert within(comments(text), comments(made)), made
        one_line = sizes in ("one brace", "braces in braces", "dotted in braces")
        one_line = one_line or "braces" in sizes
        lines = [row for row in text.splitlines() if not one_line or "attachment" not in row]
        lines = [row for row in lines if not one_line or "sizes" not in row]
        assert within(lines, made.splitlines()), made

        after = sawn(rng, rows)
        if rack in ("nothing", "empty", "no shop", "dotted, no rack", "braces, no rack"):
            rows = []
        copy = with_rack(made, after, False)
        said, was = tomllib.loads(copy), tomllib.loads(made)
        assert read_back(was) == sum((Counter([row]) for row in rows), Counter())
        assert read_back(said) == Counter(after), copy
        assert said == was, copy
        whole = [c for c in comments(text) if c.startswith("# before")]
        assert within(whole, comments(copy)), copy
        lines = [row for row in before["lathe"]]
        assert lines == list(said["lathe"])

        for one in (made, copy):
            assert ("\r\n" in text) == ("\r\n" in one)
            assert one.count("\r\n") in (0, one.count("\n"))


def test_bars_that_stay_keep_their_lines_and_those_gone_leave_their_comments() -> None:
    text = """# a shop
[shop]
kerf = 1.6 # blade

# What lies on the rack.
[[shop.rack]]
section = "round 25" # from the old lathe
material = "S355"
length = "31 cm"

# Bought last year.
[[shop.rack]]
# rusty
section = "flat 60x15" # gone
material = "S355"
length = 240
quantity = 2 # two

# What the dealer sells.
[[shop.buy]]
section = "round 25"
material = "S355"
length = 1000
"""
    wanted = """# a shop
[shop]
kerf = 1.6 # blade

# What lies on the rack.
[[shop.rack]]
section = "round 25" # from the old lathe
material = "S355"
length = "31 cm"

# Bought last year.
[[shop.rack]]
# rusty
section = "flat 60x15" # gone
material = "S355"
length = 240
quantity = 1 # two

[[shop.rack]]
section = "round 16 mm"
material = "C45"
length = "55.5 mm"

# What the dealer sells.
[[shop.buy]]
section = "round 25"
material = "S355"
length = 1000
"""
    units = 'units = "mm"\n'
    kept = RackRow(ROUND_25, "S355", 310.0, 1, 0.0)
    fewer = RackRow(FLAT, "S355", 240.0, 1, 0.0)
    new = RackRow(ROUND_16, "C45", 55.5, 1, 0.0)
    assert with_rack(units + text, [kept, fewer, new], False) == units + wanted
    gone = with_rack(units + text, [kept], False)
    assert "# rusty" in gone and "# Bought last year." in gone and "# gone" not in gone
    assert gone.index("# rusty") < gone.index("# What the dealer sells.")
    none = with_rack(units + text, [], False)
    assert "rack" not in tomllib.loads(none)["shop"] and "# What lies on the rack." in none


def test_a_size_that_is_there_is_not_given_twice() -> None:
    with pytest.raises(CannotCopy, match="has rod_diameter already"):
        with_own_sizes('[attachment]\nsizes.rod_diameter = "16 mm"\n', {"rod_diameter": 8.0}, False)


@pytest.mark.parametrize("inch", [False, True])
def test_lengths_read_back_but_for_what_inches_leave_of_a_float(inch: bool) -> None:
    rng = Random(5)
    text = 'units = "in"\n' if inch else 'units = "mm"\n'
    lengths = [k / 64 * 25.4 for k in range(16, 900, 7)] + [rng.uniform(6, 900) for _ in range(200)]
    rack = [RackRow(Section("round", d), "S355", d, 1, d / 3) for d in lengths]
    rows = tomllib.loads(with_rack(text, rack, inch))["shop"]["rack"]
    for row, mm in zip(rows, lengths, strict=True):
        number, unit = row["length"].split()
        whole, _, part = number.rpartition("-")
        amount = float(whole or 0) + float(Fraction(part)) if "/" in part else float(number)
        back = amount * {"mm": 1.0, "in": 25.4}[unit]
        assert back == mm or (inch and abs(back - mm) < 1e-6)
        assert row["cost"] == mm / 3
    assert spelled("M8", inch) == "M8"


@pytest.mark.parametrize(
    ("mm", "said"),
    [
        # as a rule and a reamer are marked in an inch shop (common practice); 25.4 mm are an inch
        (20.6375, "13/16 in"), (19.05, "3/4 in"), (50.8, "2 in"), (139.7, "5-1/2 in"),
        (6.9088, "0.272 in"), (16.0, "16 mm"), (12.5, "12.5 mm"),
    ],
)  # fmt: skip
def test_a_length_of_an_inch_job_is_spelled_in_inches_where_it_is_of_them(
    mm: float, said: str
) -> None:
    assert spelled(mm, True) == said
    assert spelled(mm, False) == f"{mm:g} mm"
    assert length_mm(said, None) == pytest.approx(mm, abs=1e-9)


def test_a_section_to_be_written_by_hand_is_in_the_shops_own_unit() -> None:
    # 3 times 25.4 is not 76.2 to a float's last bit: on paper it is 3 in all the same
    flat = Section("flat", 101.6, 76.2)
    assert spelled(flat, True) == "flat 4 x 3 in"
    assert spelled(flat, False) == "flat 101.6x76.2 mm"
    odd = Section("round", 25.0, 0.0)
    assert spelled(odd, True) == "round 25 mm"


BALL = {"max_ball_diameter": "50", "screw_pitch": '"1 mm"', "dial_divisions": "50"}
"""What an attachment needs."""
JOBS = {
    "braces": (
        '[attachment]\n{ball}\nsizes = {{rod_diameter = "16 mm"}}',
        "[shop]\nrack = [{row}]",
    ),
    "dotted": (
        '{dotted}\nattachment.sizes.rod_diameter = "16 mm"',
        "shop.rack = [\n  {row}, # one\n]",
    ),
    "one brace": (
        'attachment = {{{brace}, sizes.rod_diameter = "16 mm"}}',
        "shop = {{rack = [{row}]}}",
    ),
    "tables": (
        '[attachment.sizes]\nrod_diameter = "16 mm"\n[attachment]\n{ball}',
        "[[shop.rack]]\n{lines}\n[shop]",
    ),
    "nothing": ("[attachment]\n{ball}", ""),
}


@pytest.mark.parametrize(("form", "ending"), [*((form, "\n") for form in JOBS), ("tables", "\r\n")])
def test_both_commands_copy_any_form(form: str, ending: str, tmp_path: Path) -> None:
    row = {"section": "round 25", "material": "S355", "length": "600 mm"}
    says = [f'{key} = "{value}"' for key, value in row.items()]
    needs = [f"{key} = {value}" for key, value in BALL.items()]
    sizes, shop = JOBS[form]
    shop = shop.format(row="{" + ", ".join(says) + "}", lines="\n".join(says))
    sizes = sizes.format(
        ball="\n".join(needs),
        brace=", ".join(needs),
        dotted="\n".join(f"attachment.{need}" for need in needs),
    )
    top = [part for part in (sizes, shop) if part and not part.startswith("[")]
    under = [part for part in (sizes, shop) if part.startswith("[")]
    lathe = "spindle_over_seat = 20\nspindle_over_cross_slide = 62\nchuck_diameter = 100"
    lathe += "\njaw_reach = 26\nspindle_speeds = [80, 140, 220, 340, 520, 800, 1250, 1900]"
    tool_post = "[tool_post]\nlargest_shank = 16"
    blocks = ['units = "mm" # all of it', *top, f"[lathe]\n{lathe}", tool_post, *under]
    job = tmp_path / "job.toml"
    job.write_bytes("\n".join(blocks).replace("\n", ending).encode())
    before = tomllib.loads(job.read_text(encoding="utf-8"))

    lighter = tmp_path / "lighter.toml"
    run = ["check", str(job), "--prefer", "light", "--write", str(lighter), "--json"]
    answer = call(*run)
    assert answer.exit_code in (0, 1), answer.output
    changes = json.loads(answer.stdout)["tables"]["choices"]
    own = tomllib.loads(lighter.read_text(encoding="utf-8"))["attachment"].get("sizes", {})
    assert (changes or form == "nothing") and set(own) == {
        change["size"] for change in changes
    } | set(before.get("attachment", {}).get("sizes", {}))

    after = tmp_path / "after.toml"
    answer = call("cutlist", str(job), "--write", str(after), "--json")
    assert answer.exit_code in (0, 1), answer.output
    rack = json.loads(answer.stdout)["tables"]["rack_after"]
    said = tomllib.loads(after.read_text(encoding="utf-8"))
    rows = said.get("shop", {}).get("rack", [])
    assert [in_mm(r["length"]) for r in rows] == pytest.approx([r["length_mm"] for r in rack])
    said.pop("shop", None), before.pop("shop", None)
    assert said == before

    for copy in (lighter, after):
        raw = copy.read_bytes()
        assert raw.startswith(b'units = "mm" # all of it')
        assert raw.count(b"\r\n") == (raw.count(b"\n") if ending == "\r\n" else 0)
        assert call("sizes", str(copy)).exit_code == 0


def test_only_a_copy_loads_the_library_that_writes_it() -> None:
    code = (
        "import sys, planner.stock.jobcopy\n"
        "from planner.cli.main import main\n"
        "try:\n    main(['check', 'examples/bench-lathe.toml'])\n"
        "except SystemExit:\n    pass\n"
        "assert 'tomlkit' not in sys.modules\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert done.returncode == 0, done.stderr
