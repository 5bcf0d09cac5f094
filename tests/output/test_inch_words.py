"""Nothing of an inch job speaks metric but what is bought metric: each file and page is read.

By default the texts of the worked example; of the shops, all that a package holds, in the slow set.
"""

from __future__ import annotations

import json
import re
import zlib
from base64 import b64decode
from collections.abc import Iterator
from pathlib import Path

import pytest
from jobs import ROOT, planned

from parts.standard.toolbox import fastener_standard
from planner.output.topics import TOPICS

SHOPS = ROOT / "tests" / "data" / "shops"
INCH = (
    ROOT / "examples" / "inch-lathe.toml",
    *(SHOPS / f"{name}.toml" for name in ("garage-inch", "job-shop-inch", "model-engineer")),
    ROOT / "tests" / "data" / "inch-jobs" / "mixed-stock.toml",
)

METRIC = re.compile(
    r"(?<![A-Za-z])(?:mm|cm|µm|um|mm2|mm3|cm2|cm3|Nm|N·m|MPa|GPa|kg|kW|m/min|mm/rev|°C)(?![A-Za-z\d])"
    r"|(?<![\w.])\d[\d.]* ?(?:N|kN|g)(?![\w'/-])"
    r"|\bmillimet\w+|\bnewtons?\b|\bkilogram\w*"
    r"|(?<![\w-])(?:M|Tr)\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?\b"
    r"|(?<![\w-])(?:S355|S235|C45|CW614N|E42 4 B|G3Si1|W3Si1)\b"
)
"""Metric units behind or without a number, metric threads, metal and filler by a European number."""

BOUGHT = {
    r"(?:\b|(?<=\d))(?:tap|die|thread|screw|nut|washer|stud|set screw|socket screw)? ?"
    r"(?:M|Tr)\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?(?:-6[gH])?"
    r"(?: [x×] \d+(?:\.\d+)? mm)?": "threads of metric taps in the shop, and what is bought to them",
    r"(?:tap )?drill \d+(?:\.\d+)? mm|\d+(?:\.\d+)? mm \(tap drill\)": "the drill of a metric thread,"
    " bought with its tap",
    r"\d+(?:\.\d+)? mm \([\d.]+ tpi\)|\bchart for \d+(?:\.\d+)? mm\b": "a metric thread's pitch on an"
    " inch lathe's chart, with what it is in threads per inch",
    r"[\d.]+ mm = [\d.]+ in|[\d.]+ in = [\d.]+ mm": "a dial on a metric screw, whose divisions are no"
    " round inches",
    r"[\d.]+ mm, 0\.\d+(?: in)?|drilled [\d.]+ mm,\s*$": "a metric tap's drill, with its decimal",
    r"(?:round|square|flat|tube) [\d.x]+ mm(?: \([\d.x ]+ in\)|\s*$)": "a metric bar, with its inches",
    r"[\d.]+ \([\d.]+ mm\)": "the same on a drawing",
    r"^m(?:ax|in)_\w+ +[\d.]+ mm(?= +[\d.]+ )|^[\d.]+ mm$": "a ball that the job has in millimetres,"
    " beside a column of decimals",
}
"""What may be metric in an inch job, and why."""


def is_metric(line: str, bought: bool) -> list[str]:
    """What of a line is metric; bought: in a job with metric threads what is bought is left out."""
    if bought:
        for words in BOUGHT:
            line = re.sub(words, " ", line)
    return [found.group() for found in METRIC.finditer(line)]


def has_metric_threads(path: Path) -> bool:
    """Whether a job says that its shop has metric screws or taps."""
    text = path.read_text(encoding="utf-8")
    return bool(re.search(r'"M\d|screw_pitch = "[\d.]+ mm"', text))


def words_of(name: str, text: str) -> str:
    """What a person reads of a text file."""
    if name.endswith((".svg", ".html")):
        text = re.sub(r"<(style|script)\b.*?</\1>", " ", text, flags=re.S)
        return "\n".join(re.findall(r">([^<]+)<", text))
    return text


def told(name: str, text: str, bought: bool) -> Iterator[str]:
    for line in words_of(name, text).replace("\xa0", " ").splitlines():
        for found in is_metric(line, bought):
            yield f"{name}: {found!r} in {line.strip()[:120]!r}"


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("12 mm out", ["mm"]),
        ("clears by 5 N of push", ["5 N"]),
        ("finished_mm,facing_in", ["mm"]),
        ("screw M4 x 6 mm", ["M4", "mm"]),
        ("8.3 lbf, 9.0 lbf·in, 53700 psi, 0.52 lb, Ra 63 µin, 97 ft/min, drill N", []),
        ("1/4-20 UNC x 2-1/8, No.5-40 UNC, drill #7, 0.0254 in", []),
        ("of CW614N", ["CW614N"]),
    ],
)
def test_metric_words_are_known_as_such(line: str, found: list[str]) -> None:
    assert [one.strip("_") for one in is_metric(line.replace("_", " "), False)] == found


def test_what_is_bought_metric_is_left_out_only_there() -> None:
    line = "set screw M4 x 6 mm; tap drill 3.3 mm; wheels for 1 mm (25.4 tpi); 2 mm off"
    assert is_metric(line, True) == ["mm"]
    assert len(is_metric(line, False)) == 5


def test_no_text_of_the_inch_example_speaks_metric() -> None:
    plan = planned(INCH[0])
    found, read = [], 0
    for one in TOPICS:
        if one.needs == "solids":
            continue
        for file in one.files(one, plan):
            if isinstance(file.content, str) and not file.path.endswith(".json"):
                text = re.sub(r"_(?=[a-zA-Z]+\d?(?:,|$))", " ", file.content, flags=re.M)
                found += told(file.path, f"{file.what}\n{text}", bought=False)
                read += 1
    assert read > 30 and found == []


def texts(folder: Path) -> Iterator[tuple[str, str]]:
    """Every text of a package: of PDF each page's, of DXF what is written, of JSON its words."""
    import ezdxf
    from pypdf import PdfReader

    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.suffix in (".txt", ".csv", ".svg", ".html"):
            text = path.read_text(encoding="utf-8")
            if path.suffix == ".html":
                yield f"{name}, its data", "\n".join(page_words(text))
            yield name, re.sub(r"_(?=[a-zA-Z]+\d?(?:,|$))", " ", text, flags=re.M)
        elif path.suffix == ".pdf":
            for number, page in enumerate(PdfReader(path).pages, 1):
                yield f"{name} page {number}", page.extract_text()
        elif path.suffix == ".dxf":
            space = ezdxf.readfile(path).modelspace()  # type: ignore[attr-defined]
            written = [one.dxf.text for one in space if one.dxftype() == "TEXT"]
            written += [one.text for one in space.query("MTEXT")]
            yield name, "\n".join(written)
        elif path.suffix == ".json" and name not in PACKED:
            data = json.loads(path.read_text(encoding="utf-8"))
            yield name, "\n".join(strings(data))


def page_words(page: str) -> Iterator[str]:
    """What the page's scripts put before a person: its data, and the sketches and sheets packed in it.

    Not the words of the page itself, which are the same for every job and say both units.
    """
    for marks, body in re.findall(r"<script([^>]*)>(.*?)</script>", page, flags=re.S):
        if 'id="scene"' in marks:  # meshes in base64: no words
            continue
        if "data-packed" in marks:
            data = json.loads(zlib.decompress(b64decode(body), wbits=-15))
        elif 'id="data"' in marks:
            data = json.loads(body)
        else:
            continue
        for one in strings(data):
            yield words_of("page.svg", one) if one.startswith("<svg") else one


PACKED = {"data/scene.json", "data/sheets.json"}
"""Meshes, and the sheets that stand in drawings/ too: no words of their own."""


def strings(data: object) -> Iterator[str]:
    """The values of a record that are sentences: keys and lengths stay metric, for programs."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from () if key in ("lengths", "proofs", "section") else strings(value)
    elif isinstance(data, list):
        for value in data:
            yield from strings(value)
    elif isinstance(data, str):
        yield data


def test_a_list_in_inches_names_materials_by_what_they_bear_in_psi() -> None:
    # 700 MPa is 101 526 psi and 1000 MPa 145 038 psi (1 psi is 6894.757 Pa, NIST SP 811)
    from commands import call

    said = call("list", "speeds", "--inch").stdout
    assert "steel <101500 psi" in said and "steel 101500-145000 psi" in said and "MPa" not in said
    assert "steel <700MPa" in call("list", "speeds").stdout


def test_a_list_in_inches_says_how_thick_a_condition_is_in_inches() -> None:
    # EN 754-2 has T6 drawn bar to 80 mm, EN 10277 bright bar over 16 to 40: 3.150, 0.630 and 1.575 in,
    # round and no thicker
    from commands import call

    said = call("list", "materials", "--inch").stdout
    assert "T6 drawn d<=3.000 in" in said and "+C 0.625<d<=1.500 in" in said and "d<=80" not in said
    assert "T6 drawn d<=80 " in call("list", "materials").stdout


def test_what_a_list_notes_of_sizes_is_in_inches_too() -> None:
    # 0.05 and 0.2 mm are 0.0020 and 0.0079 in, 10 mm 0.3937 (the inch is 25.4 mm, NIST SP 811)
    from commands import call

    ways = call("list", "processes", "--inch").stdout
    assert "hole 0.002 to 0.008 in over" in ways and "0.020 to 0.039 in off a line" in ways
    held = call("list", "holding", "--inch").stdout
    assert "not under 0.400 in" in held and "tap, 0.400 in and over" in held
    feeds = call("list", "feeds", "--inch").stdout
    for said in (ways, held, feeds):
        assert " mm" not in said and "0.01 to 0.04" not in said
    assert "hole 0.05 to 0.2 mm over" in call("list", "processes").stdout


@pytest.mark.slow
@pytest.mark.parametrize("path", INCH, ids=lambda path: path.stem)
def test_no_file_of_an_inch_package_speaks_metric(path: Path, tmp_path: Path) -> None:
    from commands import call

    call("build", str(path), "--out", str(tmp_path / "made"))
    found, read = [], 0
    for name, text in texts(tmp_path / "made"):
        found += told(name, text, has_metric_threads(path))
        read += 1
    assert read > 150 and found == []


def _but_32nds(found: re.Match[str]) -> str:
    """Nothing for a size that is a whole number of 32nds of an inch, else what was found."""
    return "" if float(found[1]) * 32 % 1 == 0 else found[0]


def test_sentences_of_an_inch_book_say_tenths_at_the_finest_and_every_size_is_there() -> None:
    from planner.book.model import Points, Rows, Step, Words
    from planner.output.book import book

    plan = planned(INCH[0])
    made = book(plan, "pictures/attachment.svg")
    titles = [chapter.title for chapter in made.chapters]
    assert len(set(titles)) == len(titles)
    blocks = {chapter.title: chapter.blocks for chapter in made.chapters}
    said = [
        words
        for chapter in made.chapters
        for one in chapter.blocks
        for words in (
            [one.words] if isinstance(one, Words | Step)
            else one.words if isinstance(one, Points)
            else ()
        )
    ]  # fmt: skip
    assert len(said) > 300
    assert [one for one in said if re.search(r"\bin in the pass", one)] == []
    for one in said:  # a 32nd has five places, and its limits as many (ASME Y14.5, from memory)
        rest = re.sub(r"(\d*\.\d{5}) ±0?\.\d{3}00\b", _but_32nds, one)
        assert not re.search(r"\d\.\d{5}", rest), one
    # the drill is of a hole that is tapped, and what is bought has its size where it is put on
    threads = next(
        one for one in blocks[titles[-1]] if isinstance(one, Rows) and one.title == "Threads"
    )
    assert {row[0][-1]: bool(row[2]) for row in threads.rows} == {"A": False, "B": True}
    put = [one for one in blocks["Assembly and alignment"] if isinstance(one, Step)]
    on = " ".join(words for one in put for words in (one.words, *(o.words for o in one.lines)))
    assert "set screw No.6-32 UNC x 3/4" in on and "2 felt rings 29/64 x 1/4 x 1/8" in on
    # what has to be bought or borrowed for the route stands in the shopping list
    lacking = next(
        one for one in blocks["Shopping list"]
        if isinstance(one, Rows) and one.title == "Tools and work to be had from outside"
    )  # fmt: skip
    missing = {row[0] for row in lacking.rows}
    assert "long drill #7, 0.201 in" in missing


FRACTION = re.compile(r"(?:\d+-)?\d+/\d+(?: in)?")
DECIMAL = re.compile(r"-?\d*\.\d+(?: in)?")


@pytest.mark.parametrize(
    "path", [INCH[0], pytest.param(INCH[-1], marks=pytest.mark.slow)], ids=lambda path: path.stem
)
def test_a_column_of_an_inch_job_is_written_in_one_way(path: Path) -> None:
    plan = planned(path)
    mixed, fractions, decimals = [], 0, 0
    for one in TOPICS:
        if one.needs == "solids" or not one.columns:
            continue
        for table in one.tables(plan, one.asked(one.packaged)):
            if table.name in ONE_BY_ONE or table.shown is None:
                continue
            for at, cells in enumerate(zip(*table.shown, strict=True)):
                ways = [way for way in (FRACTION, DECIMAL) if any(map(way.fullmatch, cells))]
                fractions += FRACTION in ways
                decimals += DECIMAL in ways
                if len(ways) > 1:
                    mixed.append((one.name, table.name, at))
    assert fractions > 8 and decimals > 20 and mixed == []


ONE_BY_ONE = {
    "forces": "a quantity of its own in every row",
    "clamp": "a quantity of its own in every row",
    "figures": "a quantity of its own in every row",
    "setup": "a step in every row, each set by what reads it",
    "outfit": "a tool in every row",
    "aids": "an aid in every row, by what it fits",
    "route": "an operation in every row",
}
"""Tables whose rows are different things, and so no column of one kind."""


def test_what_is_cut_from_sheet_is_of_the_shops_own_sheet_whatever_the_thread() -> None:
    # the pellet under a lock screw of M3 is cut in an inch shop all the same, of its brass: C26000 is
    # cartridge brass (ASTM B36), which a European list has as CuZn37 (EN 1652); the screw is ISO's
    plan = planned(INCH[-1])
    bought = {one.kind: one for one in plan.attachment.bought}
    disc, screws = bought["brass disc"], [bought["set screw"].standard]
    assert disc.thread.startswith("M") and screws == ["ISO 4026"]
    assert disc.standard == "ASTM B36 C26000, cut from sheet"
    assert fastener_standard("brass disc", "No.6-32 UNC", inch=False).startswith("EN 1652")
