"""What the page saves as files, and what it refuses, against the commands that read them."""

from __future__ import annotations

import json
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from commands import call
from jobs import ROOT, planned
from msgspec import to_builtins
from page_node import in_node

from parts.part import every_feature
from planner.job.reading import read_job
from planner.measuring.readings import FIRST_BALL, read_readings
from planner.output.asmade import judged_as_made
from planner.output.page_data import balls, rig
from planner.output.page_steps import steps
from planner.output.plan import Plan
from planner.output.topics import topic
from planner.record.judge import feature_sha256, measured, out_mm
from planner.record.model import SizeMade
from planner.words.findings import BadInput
from planner.words.numbers import METRIC

READINGS = ["numbers.js", "fit.js", "faults.js", "readings.js"]
RECORD = ["numbers.js", "fit.js", "faults.js", "record.js"]
ENGINE, INCH = ROOT / "examples" / "engine-lathe.toml", ROOT / "examples" / "inch-lathe.toml"

GIVEN = """
const found = pommel.given(one.typed, one.ball, one.rig, one.unit, words.readings);
return [found, found.faults.length ? "" : pommel.readingsToml(one.typed, one.ball, one.unit)];
"""

TYPED: dict[str, Any] = {
    "accuracy": "0.005",
    "anvil": "",
    "wall": "",
    "before_nose": False,
    "arrangement": "across",
    "reading": [{"angle": "90", "diameter": "60.02"}, {"angle": "45", "diameter": "60,01 mm"}],
    "pip": [{"ball_diameter": "60", "diameter": "0", "accuracy": "0.1"}],
    "size": [{"set": "60", "diameter": "60.1 mm", "accuracy": "0.01"}],
}


def asked(plan: Plan, number: int, typed: dict[str, Any]) -> dict[str, Any]:
    unit = "in" if plan.job.inch else "mm"
    ball = json.loads(json.dumps(list(balls(plan))[number]))
    return {"typed": TYPED | typed, "ball": ball, "rig": rig(plan), "unit": unit}


@pytest.mark.parametrize(
    ("path", "typed"),
    [
        (ENGINE, {}),
        (ENGINE, {"anvil": "6.35", "wall": "1 in", "before_nose": True, "arrangement": "upright"}),
        (ENGINE, {"reading": [], "size": [], "accuracy": "0.00001"}),
        (INCH, {"accuracy": "1/4096", "size": [], "pip": [], "reading": [
            {"angle": "90", "diameter": "2"}, {"angle": "60.5", "diameter": "50.8 mm"}]}),
    ],
)  # fmt: skip
def test_what_is_typed_is_worked_on_as_its_file_would_be(
    path: Path, typed: dict[str, Any], tmp_path: Path
) -> None:
    plan = planned(path)
    ((found, text),) = in_node(READINGS, GIVEN, [asked(plan, 0, typed)])
    file = tmp_path / "readings.toml"
    file.write_text(text, encoding="utf-8")
    read = read_readings(file, read_job(path))
    assert found["measured"] == json.loads(json.dumps(to_builtins(read.measured)))
    assert found["rig"] == json.loads(json.dumps(to_builtins(read.rig)))


def test_the_first_balls_readings_are_worked_on_as_its_file_would_be(tmp_path: Path) -> None:
    plan = planned(ENGINE)
    last = len(list(balls(plan))) - 1
    ((found, text),) = in_node(READINGS, GIVEN, [asked(plan, last, {"pip": [], "size": []})])
    file = tmp_path / "readings.toml"
    file.write_text(text, encoding="utf-8")
    read = read_readings(file, read_job(ENGINE), lambda: plan.own_knob)
    assert read.ball == FIRST_BALL and found["measured"]["wanted_mm"] < 60.0  # another knob
    assert found["measured"] == json.loads(json.dumps(to_builtins(read.measured)))


@pytest.mark.parametrize(
    "typed",
    [
        {"accuracy": "20"},
        {"accuracy": "1e-9"},
        {"anvil": "51"},
        {"wall": "-1"},
        {"reading": [{"angle": "90", "diameter": "2001"}]},
        {"reading": [{"angle": "90", "diameter": "sixty"}]},
        {"pip": [{"ball_diameter": "0.1", "diameter": "0", "accuracy": "0.1"}]},
        {"size": [{"set": "60", "diameter": "60", "accuracy": "11"}]},
        {"size": [{"set": "1001", "diameter": "60", "accuracy": "99 in"}]},
    ],
)
def test_what_is_no_reading_is_refused_as_its_file_would_be(
    typed: dict[str, Any], tmp_path: Path
) -> None:
    ((found, _),) = in_node(READINGS, GIVEN, [asked(planned(ENGINE), 0, typed)])
    lines = [f'accuracy = "{typed.get("accuracy", "0.005")}"', 'ball = "knob"', 'units = "mm"']
    lines += [f'{key} = "{typed[key]}"' for key in ("anvil", "wall") if key in typed]
    for name in ("reading", "pip", "size"):
        for row in typed.get(name, ()):
            lines.append(f"[[{name}]]")
            lines += [f"{k} = {v}" if k == "angle" else f'{k} = "{v}"' for k, v in row.items()]
    file = tmp_path / "readings.toml"
    file.write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(BadInput) as stop:
        read_readings(file, read_job(ENGINE))
    wanted = sorted((one.code, one.limit, one.remedy) for one in stop.value.findings)
    assert sorted((one["code"], one["limit"], one["remedy"]) for one in found["faults"]) == wanted


def test_half_a_ball_is_measured_at_its_equator_alone(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    text = ENGINE.read_text(encoding="utf-8").replace(
        'name = "knob"\n', 'name = "knob"\nshape = "hemisphere"\n'
    )
    path.write_text(text.replace('thread = "M12"\nhole_depth = "25 mm"\n', ""), encoding="utf-8")
    ((found, _),) = in_node(READINGS, GIVEN, [asked(Plan(path), 0, {})])
    file = tmp_path / "readings.toml"
    rows = "".join(f'[[reading]]\nangle = {a}\ndiameter = "60 mm"\n' for a in (90, 45))
    file.write_text(f'ball = "knob"\naccuracy = "0.005 mm"\n{rows}', encoding="utf-8")
    with pytest.raises(BadInput) as stop:
        read_readings(file, read_job(path))
    wanted = [(one.code, one.key, one.value, one.limit) for one in stop.value.findings]
    told = [(one["code"], one["where"], one["value"], one["limit"]) for one in found["faults"]]
    assert told == wanted


def test_a_size_is_judged_as_the_record_judges_it(bench: Plan) -> None:
    rows = [
        (part.name, one.name, limits)
        for part in bench.attachment.parts
        for _, one in every_feature(part)
        if (limits := measured(one)) is not None
    ]
    calls, wanted = [], []
    for _, _, limits in rows:
        ends = [limits.min_mm, limits.max_mm]
        row = {"low_mm": ends[0], "high_mm": ends[1], "reads_mm": ends, "what": "as drawn"}
        for value in (limits.min_mm - 0.0011, limits.min_mm, limits.max_mm, limits.max_mm + 0.5):
            text = f"{value:.6f}"
            calls.append({"text": text, "row": row})
            wanted.append(out_mm(float(text), limits))
    body = (
        "const n = new pommel.Numbers(false);"
        "const mm = pommel.lengthMm(one.text, 'mm');"
        "return [pommel.outMm(mm, one.row.low_mm, one.row.high_mm),"
        " pommel.judged(one.text, one.row, n, words.judge)]"
    )
    for (out, told), off, call_ in zip(in_node(RECORD, body, calls), wanted, calls, strict=True):
        assert out == off
        assert told["state"] == ("out" if off else "in")
        if off:
            way = "large" if off > 0 else "small"
            by = METRIC.micrometer(abs(off))
            assert told["said"].startswith(f"Too {way} by {by}; must be as drawn")
            assert call_["row"]["low_mm"] < call_["row"]["high_mm"]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_reading_is_judged_by_the_limits_that_are_printed(bench: Plan, unit: str) -> None:
    plan, step = (bench, 0.001) if unit == "mm" else (planned(INCH), 0.0001)
    route = topic("route")
    record = route.record(plan, route.asked({}))
    calls, wanted = [], []
    for one in steps(record, plan.attachment, plan.made.attachment, plan.job):
        for row in one["sizes"]:
            words, _, high = row["what"].rpartition(" to " if " to " in row["what"] else " within ")
            shown, found_unit = high.removeprefix("at most ").split(" ")
            assert found_unit == unit
            most = "within" in row["what"] or "at most" in row["what"]
            ends = [shown] if most else [words, shown]
            drawn = [one / (25.4 if unit == "in" else 1) for one in (row["low_mm"], row["high_mm"])]
            for end, text in enumerate(reversed(ends)):
                places = max(4, len(text.partition(".")[2]))
                past = float(text) + (-step if end else step)
                out = past < drawn[0] - 1e-6 if end else past > drawn[1] + 1e-6
                calls += [{"text": text, "row": row}, {"text": f"{past:.{places}f}", "row": row}]
                wanted += ["in", "out" if out else "doubt"]
    body = (
        f"const n = new pommel.Numbers({json.dumps(unit == 'in')});"
        " return pommel.judged(one.text, one.row, n, words.judge)"
    )
    told = in_node(RECORD, body, calls)
    for call_, found, state in zip(calls, told, wanted, strict=True):
        assert found["state"] == state, call_
        assert state == "in" or call_["row"]["what"] in found["said"]
    assert set(wanted) == {"in", "out", "doubt"} and len(wanted) > 200


SHAFTS = (("housing", "pivot bore", "rotating-body", "journal"),
          ("rotating-body", "rod bore", "sliding-head", "rod"),
          ("dial", "dial bore", "feed-screw", "screw journal"))  # fmt: skip

TO_ITS_HOLE = """
const n = new pommel.Numbers(one.inch);
const row = pommel.mated(one.row, { [one.key]: { value: one.hole } }, n);
return [row.what, pommel.judged(one.text, row, n, words.judge).state];
"""


def size_rows(plan: Plan) -> dict[str, dict[str, Any]]:
    """The page's rows to type a size into that the record keeps, by their keys."""
    route = topic("route")
    record = route.record(plan, route.asked({}))
    found = steps(record, plan.attachment, plan.made.attachment, plan.job)
    return {row["key"]: row for one in found for row in one["sizes"] if row["sha"]}


@pytest.mark.parametrize("example", [ENGINE, INCH])
def test_a_shaft_is_judged_by_its_hole_as_it_was_typed(example: Path) -> None:
    """As it was: by the limits as drawn, so that the page called good what the record calls out."""
    plan, inch = planned(example), example == INCH
    unit, places = (25.4, 5) if inch else (1.0, 4)
    rows, calls, given = size_rows(plan), [], []
    for hole_part, hole, part, shaft in SHAFTS:
        bore, row = rows[f"{hole_part}|{hole}"], rows[f"{part}|{shaft}"]
        for share in (0.0, 0.5, 0.95):
            at = (
                f"{(bore['low_mm'] + share * (bore['high_mm'] - bore['low_mm'])) / unit:.{places}f}"
            )
            ends = [row["low_mm"], sum((row["low_mm"], row["high_mm"])) / 2, row["high_mm"]]
            for mm in (*ends, ends[2] + 0.006):
                text = f"{mm / unit:.{places}f}"
                calls.append(
                    {"row": row, "key": bore["key"], "hole": at, "text": text, "inch": inch}
                )
                given.append(((bore, float(at) * unit), (row, float(text) * unit)))
    told = in_node(RECORD, TO_ITS_HOLE, calls)
    wanted = []
    for pair in given:  # as the command judges the two, the hole recorded first
        sizes = [
            SizeMade.model_construct(
                part=row["part"], feature=row["feature"], value=mm, feature_sha256=row["sha"]
            )
            for row, mm in pair
        ]
        _, found = judged_as_made(sizes, plan.attachment, plan.job)
        wanted.append("out" if found.out_mm else "in")
    assert [state for _, state in told] == wanted
    assert {"in", "out"} == set(wanted)
    # without a hole typed, or with one that no shaft is made to, the limits as drawn stand
    row = calls[0]["row"]
    for hole in ("", "no length", "1" if inch else "25"):
        ((what, _),) = in_node(RECORD, TO_ITS_HOLE, [{**calls[0], "hole": hole}])
        assert what == row["what"]


def test_a_shaft_is_saved_for_the_record_after_its_hole_was(tmp_path: Path) -> None:
    """As it was: on a page built after the bore was recorded the journal's size was no longer saved,
    since its limits there, which follow from the bore, were not those of the drawing."""
    job = tmp_path / ENGINE.name
    shutil.copy(ENGINE, job)
    bore = size_rows(Plan(job))["housing|pivot bore"]
    file = tmp_path / "measured.toml"

    def merge(row: dict[str, Any], value: str) -> str:
        kept = {name: row[name] for name in ("part", "feature", "sha", "gauge")}
        kept |= {"date": "2026-11-28", "value": value}
        given = {"job": {"file": job.name, "sha256": "ab" * 32}, "entries": [kept]}
        (text,) = in_node(RECORD, "return pommel.madeToml(one.job, one.entries)", [given])
        file.write_text(text, encoding="utf-8")
        said = call("record", str(job), "--merge", str(file))
        assert said.exit_code == 0
        return said.stdout + said.stderr

    merge(bore, f"{bore['high_mm']:.3f} mm")
    after = size_rows(Plan(job))
    journal = after["rotating-body|journal"]
    assert "mate" not in journal  # its limits are to the bore already
    assert journal["high_mm"] < bore["high_mm"] and journal["low_mm"] > bore["high_mm"] - 0.016
    said = merge(journal, f"{(journal['low_mm'] + journal['high_mm']) / 2:.3f} mm")
    assert "out-of-limits" not in said and "not-recorded" not in said
    kept = tomllib.loads((tmp_path / "engine-lathe-record" / "made.toml").read_text("utf-8"))
    assert [one["feature"] for one in kept["size"]] == ["pivot bore", "journal"]
    (bored, turned) = json.loads(call("record", str(job), "--json").stdout)["tables"]["sizes"]
    assert bored["state"] == turned["state"] == "as recorded" and turned["verdict"] == "in"


def test_what_is_saved_for_the_record_is_merged(tmp_path: Path) -> None:
    job = tmp_path / "my-lathe.toml"
    shutil.copy(ENGINE, job)
    plan = Plan(job)
    body = next(part for part in plan.attachment.parts if part.name == "rotating-body")
    sha = {one.name: feature_sha256(one) for _, one in every_feature(body)}
    name = "journal"
    entry = {"part": "rotating-body", "feature": name, "sha": sha[name], "date": "2026-11-28"}
    limits = next(m for _, one in every_feature(body) if one.name == name and (m := measured(one)))
    value = f"{(limits.min_mm + limits.max_mm) / 2:.3f} mm"
    given = {
        "job": {"file": job.name, "sha256": "ab" * 32},
        "entries": [{**entry, "value": value, "gauge": 'a "0.001" micrometer'}, entry],
    }
    (text,) = in_node(RECORD, "return pommel.madeToml(one.job, one.entries)", [given])
    file = tmp_path / "measured.toml"
    file.write_text(text, encoding="utf-8")
    said = call("record", str(job), "--merge", str(file))
    assert said.exit_code == 0 and said.stderr == ""
    kept = tomllib.loads((tmp_path / "my-lathe-record" / "made.toml").read_text(encoding="utf-8"))
    (size,), (done,) = kept["size"], kept["done"]
    assert size["value"] == value and size["gauge"] == 'a "0.001" micrometer'
    assert done["feature_sha256"] == size["feature_sha256"] == sha[name]
